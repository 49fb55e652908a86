//! The answers and the working of a ring of lands.

use super::{FORMULA, Land, NewLand, Tilt, Worst};
use crate::domain::exact::Exact;
use crate::domain::reckon::answer::Answers;
use crate::domain::reckon::quantity::{apart, degrees, millimetres, pencilled, shown};
use crate::domain::reckon::working::Working;

/// A ring and what is known of it.
pub(super) struct Ring {
    pub(super) lands: Vec<Land>,
    pub(super) worst: Worst,
    pub(super) new: Option<NewLand>,
    pub(super) limit: Option<Exact>,
    pub(super) u_edge: Option<Exact>,
    pub(super) closes_within: Option<Exact>,
}

/// What the lands of one transfer, all round the ring, say together: u of the worst, the flat at the limit, depths and tilt.
pub fn tell_ring(working: &mut Working, lands: Vec<Land>, new: NewLand, limit: Option<Exact>, u_edge: Option<Exact>) {
    let Ok(worst) = super::worst(&lands) else { return };
    let ring = Ring { lands, worst, new: Some(new), limit, u_edge, closes_within: None };
    ring.of_the_worst(working);
    ring.depths_and_tilt(working);
}

const NO_NEW: &str = "new is not given";

impl Ring {
    fn depths(&self) -> Option<Vec<Exact>> {
        let new = self.new.as_ref()?;
        self.lands.iter().map(|land| new.depth_at(&land.flat)).collect()
    }

    fn worst_land(&self) -> Option<&Land> {
        self.lands.get(self.worst.land.checked_sub(1)?)
    }

    pub(super) fn answers(&self) -> Answers {
        let land = i64::try_from(self.worst.land).unwrap_or(i64::MAX);
        let answers = Answers::new()
            .maps("lands", self.lands.iter().map(|land| self.land(land)))
            .map("worst", Answers::new().whole("land", land).exact("ratio", &self.worst.ratio));
        let u = self.u_edge.as_ref().and_then(|edge| self.worst_land()?.u_ratio(edge));
        let answers = match u {
            Some(u) => answers.exact("u_ratio", &u),
            None => answers.absent("u_ratio", "u_edge is not given"),
        };
        let answers = self.tilt(answers);
        match (&self.new, &self.limit) {
            (Some(new), Some(limit)) => match new.at_limit(limit) {
                Some(at) => answers.map("at_limit", Answers::new().exact("flat", &at.flat).exact("depth", &at.depth)),
                None => answers.absent("at_limit", "the new ring has no taper"),
            },
            (None, _) => answers.absent("at_limit", NO_NEW),
            (Some(_), None) => answers.absent("at_limit", "limit is not given"),
        }
    }

    fn land(&self, land: &Land) -> Answers {
        let answers = Answers::new().exact("ratio", &land.ratio().unwrap_or_default());
        let Some(new) = &self.new else { return answers.absent("sum_closes", NO_NEW).absent("depth", NO_NEW) };
        let answers = match &self.closes_within {
            Some(within) => answers.flag("sum_closes", new.closes(land, within)),
            None => answers.absent("sum_closes", "closes_within is not given"),
        };
        match new.depth_at(&land.flat) {
            Some(depth) => answers.exact("depth", &depth),
            None => answers.absent("depth", "the new ring has no taper"),
        }
    }

    fn tilt(&self, answers: Answers) -> Answers {
        let Some(depths) = self.depths() else { return answers.absent("tilt", NO_NEW) };
        match Tilt::of(&depths) {
            Tilt::NotShown => answers.absent("tilt", "fewer than three lands do not show it"),
            Tilt::None => {
                answers.map("tilt", Answers::new().number("amount", 0.0).absent("direction", "there is no tilt"))
            }
            Tilt::Leans(amount, direction) => {
                let tilt = Answers::new().number("amount", millimetres(amount)).angle("direction", degrees(direction));
                answers.map("tilt", tilt)
            }
        }
    }

    pub(super) fn working(&self) -> Working {
        let mut working = Working::of(&FORMULA);
        for (number, land) in (1..).zip(&self.lands) {
            let ratio = land.ratio().unwrap_or_default();
            let put_in = format!("{} mm / {} mm", land.taper, land.flat);
            working.step(format!("ratio {number}"), "Lt / Lf", put_in, self.beside_limit(&ratio));
            if let (Some(new), Some(within)) = (&self.new, &self.closes_within) {
                closing(&mut working, number, (land, new), within);
            }
        }
        self.of_the_worst(&mut working);
        self.depths_and_tilt(&mut working);
        working.resulting(format!("worst land {}, ratio {}", self.worst.land, self.beside_limit(&self.worst.ratio)))
    }

    /// Five figures, or as many as tell the ratio from its limit.
    fn beside_limit(&self, ratio: &Exact) -> String {
        apart(ratio, &self.limit.iter().collect::<Vec<_>>(), 5)
    }

    fn of_the_worst(&self, working: &mut Working) {
        let Some(land) = self.worst_land() else { return };
        if let Some((edge, u)) = self.u_edge.as_ref().and_then(|edge| Some((edge, land.u_ratio(edge)?))) {
            let put_in = format!("{edge} mm x ({} mm + {1} mm) / ({1} mm)^2", land.taper, land.flat);
            working.step("u of the worst ratio", "u_edge (Lt + Lf) / Lf^2", put_in, u.at_most(4));
        }
        let Some(new) = &self.new else { return };
        if let Some((limit, at)) = self.limit.as_ref().and_then(|limit| Some((limit, new.at_limit(limit)?))) {
            let put_in = format!("({} mm + {} mm) / (1 + {limit})", new.taper, new.flat);
            working.step("Lf at the limit", "(Lt0 + Lf0) / (1 + limit)", put_in, format!("{} mm", at.flat.at_most(4)));
            let put_in = depth_of(new, &at.flat);
            working.step("depth there", "d0 (Lf - Lf0) / Lt0", put_in, format!("{} mm", at.depth.at_most(4)));
        }
    }

    /// What has worn off each land, and the first harmonic of it.
    fn depths_and_tilt(&self, working: &mut Working) {
        let (Some(new), Some(depths)) = (&self.new, self.depths()) else { return };
        for ((number, land), depth) in (1..).zip(&self.lands).zip(&depths) {
            let shown = format!("{} mm", depth.at_most(4));
            working.step(format!("h{number}"), "d0 (Lf - Lf0) / Lt0", depth_of(new, &land.flat), shown);
        }
        match Tilt::of(&depths) {
            Tilt::NotShown => {}
            Tilt::None => working.say("tilt: none, the wear is square"),
            Tilt::Leans(amount, direction) => {
                let (n, at) = (depths.len(), degrees(direction));
                working.say(format!("angle of land k = 360 deg (k - 1) / {n}, land 1 at 0"));
                let rule = format!("length of 2 / {n} x (sum of h cos(angle), sum of h sin(angle))");
                let result = format!("{} mm toward {} deg", shown(millimetres(amount), 3), shown(at, 4));
                working.step("tilt", rule, "", result);
            }
        }
    }
}

/// `0.04 mm x (8 mm - 4 mm) / 16 mm`.
fn depth_of(new: &NewLand, flat: &Exact) -> String {
    format!("{} mm x ({} mm - {} mm) / {} mm", new.depth, pencilled(flat), new.flat, new.taper)
}

/// Whether taper and flat add up to those of the new ring.
fn closing(working: &mut Working, number: usize, (land, new): (&Land, &NewLand), within: &Exact) {
    let (sum, whole) = (&land.taper + &land.flat, &new.taper + &new.flat);
    let word = if new.closes(land, within) { "closes" } else { "does not close: read it again" };
    working.say(format!("land {number}: Lt + Lf = {sum} mm, new {whole} mm, to within {within} mm: {word}"));
}
