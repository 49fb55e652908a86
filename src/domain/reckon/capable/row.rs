//! The row of `capable`.

use super::{Capable, Room, capable};
use crate::domain::exact::{Exact, Rounding};
use crate::domain::reckon::budget::Kind;
use crate::domain::reckon::guard::{factor, steps, two_figures_up, usual_factor};
use crate::domain::reckon::impossible::{crossed, none_of};
use crate::domain::reckon::one_unit::OneUnit;
use crate::domain::reckon::quantity::shown;
use crate::domain::reckon::repeats::Pooled;
use crate::domain::reckon::uncertainty::{Gauge, Taken};
use crate::domain::reckon::{Answers, Formula, Given, Key, Outcome, Output, Problem, Range, Shape, Trouble, Working};
use crate::domain::unit::Unit;

const FIGURE: Shape = Shape::AnyFigure(Range::Any);
const LENGTHS: &[&str] = &["new", "limit", "lower", "upper", "resolution", "U", "repeatability"];

/// `capable/1`.
pub const FORMULA: Formula = Formula {
    name: "capable",
    number: 1,
    purpose: "fitness of a gauge, and the largest figure it can pass",
    keys: &[
        Key::optional("new", FIGURE, "figure of a new part, where there is one limit"),
        Key::optional("limit", FIGURE, "the one limit, above or below the new figure"),
        Key::optional("lower", FIGURE, "smallest allowed, where there are both"),
        Key::optional("upper", FIGURE, "largest allowed, where there are both"),
        Key::required("resolution", Shape::AnyFigure(Range::Positive), "step of the gauge's display or scale"),
        Key::required("U", Shape::AnyFigure(Range::Positive), "expanded uncertainty of the gauge"),
        Key::default("k", Shape::Figure(Unit::One, Range::Positive), "2", "its coverage factor"),
        Key::required("repeatability", Shape::AnyFigure(Range::NotNegative), "pooled standard deviation of the method"),
        Key::optional("dof", Shape::Dof, "its degrees of freedom"),
        Key::default("repeats", Shape::Whole(1, 10_000), "1", "readings that are averaged"),
        Key::default(
            "difference",
            Shape::Flag,
            "false",
            "true where each is a difference of two readings, as a lift is",
        ),
        Key::optional("factor", Shape::Figure(Unit::One, Range::NotNegative), "guard over u, 1.65 unless given"),
    ],
    outputs: &[
        Output::new("resolution_ratio", "", "(limit - new) or (upper - lower), over the resolution"),
        Output::new("uncertainty_ratio", "", "(limit - new) / U, or (upper - lower) / (2 U)"),
        Output::new("passes_up_to", "as given", "the largest figure within under the guarded rule, exact"),
        Output::new("passes_down_to", "as given", "the smallest such figure, exact"),
        Output::new("u", "as given", "standard uncertainty of the figure judged"),
        Output::new("unit", "", "of these figures: mm for lengths, else the first given; left out where none was"),
    ],
    source: "guard: ISO 14253-1:2017; uncertainty: JCGM 100:2008 4; ratios: common practice, no source",
    example: &[
        "new=0.170 mm",
        "limit=0.220 mm",
        "resolution=2 um",
        "U=3 um",
        "k=2",
        "repeatability=3 um",
        "repeats=3",
        "difference=true",
    ],
    expected: &[("resolution_ratio", "25"), ("uncertainty_ratio_exact", "50/3"), ("passes_up_to", "0.215875")],
    impossible: |given| {
        let none = none_of(given, &["limit", "lower", "upper"], ROOM);
        none.into_iter().chain(crossed(given, "lower", "upper")).collect()
    },
    reckon,
};

fn reckon(given: &Given) -> Result<Outcome, Vec<Problem>> {
    let unit = OneUnit::across(given, LENGTHS);
    let room = room(given, unit)?;
    let pooled = Pooled { s: unit.take_required(given, "repeatability")?, dof: given.figure_if("dof") };
    let gauge = Gauge {
        expanded: unit.take_required(given, "U")?,
        k: given.figure("k")?,
        resolution: unit.take_required(given, "resolution")?,
        pooled: Some(pooled),
    };
    let repeats = usize::try_from(given.whole("repeats")?).unwrap_or(0);
    let taken = if given.is("difference") { Taken::Difference } else { Taken::Single };
    let asked = given.figure_if("factor").unwrap_or_else(usual_factor);
    let got = capable(&room, &gauge, repeats, (taken, None), &asked)?;
    Ok(Outcome { answers: unit.said(got.answers(), "unit"), working: got.steps(&room, &asked, unit) })
}

const ROOM: &str = "`new` and `limit`, or `lower` and `upper`";

fn room(given: &Given, unit: OneUnit) -> Result<Room, Vec<Problem>> {
    let take = |key| unit.take_if(given, key);
    let (new, limit, lower, upper) = (take("new")?, take("limit")?, take("lower")?, take("upper")?);
    let one_of = |key: &str| Problem::new(given.path_of(key), Trouble::Missing, "nothing", ROOM);
    match (new, limit, lower, upper) {
        (_, None, Some(lower), Some(upper)) => Ok(Room::Between { lower, upper }),
        (Some(new), Some(limit), None, None)
        | (Some(new), None, Some(limit), None)
        | (Some(new), None, None, Some(limit)) => Ok(Room::Wear { new, limit }),
        (None, Some(_), None, None) | (None, None, Some(_), None) | (None, None, None, Some(_)) => {
            Err(one_of("new").into())
        }
        (_, None, None, None) => Err(one_of("limit").into()),
        (_, Some(_), Some(_), _) | (_, Some(_), _, Some(_)) => {
            Err(Problem::impossible("limit", "Given beside lower or upper.", "Give one limit or both.").into())
        }
    }
}

impl Capable {
    fn answers(&self) -> Answers {
        let ratio = |answers: Answers, key: &str, ratio: &Option<Exact>| match ratio {
            Some(ratio) => answers.exact(key, ratio),
            None => answers.absent(key, "divided by nothing"),
        };
        let edge = |answers: Answers, key: &str, edge: &Option<Exact>, none: &str| match edge {
            Some(_) if self.passes_nothing() => answers.absent(key, "the guards of both limits leave nothing between"),
            Some(edge) => answers.exact(key, edge),
            None => answers.absent(key, none),
        };
        let answers = ratio(Answers::new(), "resolution_ratio", &self.resolution_ratio);
        let answers = ratio(answers, "uncertainty_ratio", &self.uncertainty_ratio);
        let answers = edge(answers, "passes_up_to", &self.up_to, "there is no upper limit");
        let answers = edge(answers, "passes_down_to", &self.down_to, "there is no lower limit");
        answers.number("u", self.budget.u())
    }

    /// The working, figures in `unit`; for the warning before the first reading.
    pub fn working(&self, room: &Room, factor: &Exact, unit: Unit) -> Working {
        self.steps(room, factor, OneUnit::fixed(unit))
    }

    fn steps(&self, room: &Room, asked: &Exact, unit: OneUnit) -> Working {
        let mut working = Working::of(&FORMULA);
        self.ratios(&mut working, room, unit);
        self.budget.steps(&mut working, unit);
        let in_force = factor(asked, self.budget.dof.as_ref());
        if let (Some(up), Some(factor)) = (two_figures_up(&self.budget.variance), in_force) {
            steps(&mut working, (unit.behind(shown(self.budget.u(), 4)), &up), &factor, unit);
        }
        let (lower, upper) = match room {
            Room::Wear { limit, .. } => (limit, limit),
            Room::Between { lower, upper } => (lower, upper),
        };
        let mut edge = |name: &str, sign: &str, limit: &Exact, edge: &Option<Exact>| {
            if let Some(edge) = edge {
                let put_in = format!("{} {sign} {}", unit.put(limit), unit.put(&self.guard));
                working.step(name, format!("limit {sign} guard"), put_in, unit.behind(edge));
            }
        };
        edge("passes down to", "+", lower, &self.down_to);
        edge("passes up to", "-", upper, &self.up_to);
        if self.passes_nothing() {
            return working.resulting("it can pass nothing between these limits");
        }
        if !self.passes_new(room) {
            return working.resulting("it can pass nothing for certain: not even a new part");
        }
        // shown to four places, toward the safe side
        let up = self.up_to.as_ref().map(|edge| format!("up to {}", unit.behind(safe(edge, Rounding::Down))));
        let down = self.down_to.as_ref().map(|edge| format!("down to {}", unit.behind(safe(edge, Rounding::Up))));
        let edges: Vec<_> = down.into_iter().chain(up).collect();
        working.resulting(format!("it can pass {}", edges.join(" and ")))
    }

    /// The way to the limit over the gauge's step and over its expanded uncertainty.
    fn ratios(&self, working: &mut Working, room: &Room, unit: OneUnit) {
        let (formula, way, twice) = match room {
            Room::Wear { new, limit } => ("|limit - new|", format!("|{} - {}|", unit.behind(limit), unit.put(new)), ""),
            Room::Between { lower, upper } => {
                ("(upper - lower)", format!("({} - {})", unit.behind(upper), unit.put(lower)), "2 ")
            }
        };
        let of = |wanted: &dyn Fn(&Kind) -> bool| {
            let found = self.budget.terms.iter().find(|(term, _)| wanted(&term.kind));
            found.map(|(term, _)| unit.behind(&term.value)).unwrap_or_default()
        };
        if let Some(ratio) = &self.resolution_ratio {
            let put_in = format!("{way} / {}", of(&|kind| *kind == Kind::Resolution));
            working.step("resolution ratio", format!("{formula} / resolution"), put_in, ratio.at_most(2));
        }
        if let Some(ratio) = &self.uncertainty_ratio {
            let expanded = of(&|kind| matches!(kind, Kind::Expanded { .. }));
            let put_in =
                if twice.is_empty() { format!("{way} / {expanded}") } else { format!("{way} / (2 x {expanded})") };
            working.step("uncertainty ratio", format!("{formula} / {twice}U"), put_in, ratio.at_most(2));
        }
    }
}

fn safe(edge: &Exact, rounding: Rounding) -> String {
    match edge.places() {
        Some(places) if places <= 4 => edge.to_string(),
        Some(_) | None => edge.rounded(4, rounding),
    }
}
