//! What is reckoned besides of a figure that is judged: how sure it is within, and a clearance over its diameter.

use super::super::characteristic::Given;
use super::super::inspection::Inspection;
use super::super::judge::{self, Condition, Side};
use super::super::outlook;
use super::super::reckon::conformity::{self, Judged};
use super::super::reckon::guard::two_figures_up;
use super::super::reckon::relative_clearance;
use super::super::reckon::working::Working;
use super::super::sheet::Rule;
use super::super::unit::Unit;
use super::CharacteristicStanding;

impl CharacteristicStanding {
    /// Everything reckoned of it, figures put in and what comes out: the characteristic itself, how well the figure that
    /// counts is known, how sure it is within, how its forecast came about. Reckoned where it is shown: no gate reads it.
    pub fn workings(&self, inspection: &Inspection) -> Vec<Working> {
        let spot = self.judgement().map(|judgement| judgement.value.spot.as_str());
        let budget = self.measured.budget_of(spot);
        let ahead = self
            .outlook
            .as_ref()
            .and_then(|_| outlook::outlook(inspection, self.characteristic, &self.measured.to_look_ahead()).1);
        let further = workings(inspection, self);
        self.measured.working.iter().cloned().chain(budget).chain(further).chain(ahead).collect()
    }
}

/// Of the place that counts.
fn workings(inspection: &Inspection, one: &CharacteristicStanding) -> Vec<Working> {
    [per_mille(inspection, one), chance(inspection, one)].into_iter().flatten().collect()
}

/// The clearance of a bush over the diameter of its journal.
fn per_mille(inspection: &Inspection, one: &CharacteristicStanding) -> Option<Working> {
    let (part, what) = one.characteristic.id().rsplit_once('.')?;
    if what != "clearance" || !part.starts_with("bush.") {
        return None;
    }
    let judgement = one.judgement()?;
    let diameter = inspection.sheet()?.given(Given::parse("journal.diameter")?)?;
    let clearance = one.measured.unit.convert(&judgement.value.value, Unit::Millimetre)?;
    let per_mille = relative_clearance::relative_clearance(&clearance, &diameter)?;
    let working = relative_clearance::working(&clearance, &diameter, &per_mille);
    Some(working.about(format!("at {}", judgement.value.place())))
}

/// How sure the figure is within its limits, as far as its uncertainty is known. Whether it is, the level says.
fn chance(inspection: &Inspection, one: &CharacteristicStanding) -> Option<Working> {
    let value = &one.judgement()?.value;
    let known = value.variance.as_ref()?;
    let sheet = inspection.sheet()?;
    let levels = sheet.levels.get(&one.characteristic)?;
    let (level, name) = match one.condition {
        Condition::AsFound => (levels.limit.as_ref()?, "limit"),
        Condition::AsLeft => (levels.new.as_ref()?, "new range"),
    };
    let on = |wanted: Side| {
        let mut mine =
            judge::bounds(level).filter(|(_, side)| *side == wanted && value.side.is_none_or(|of| of == wanted));
        judge::size_of(mine.next()?.0, one.measured.unit, sheet)
    };
    let judged = Judged {
        value: value.value.clone(),
        u: two_figures_up(&known.variance)?,
        dof: known.dof.clone(),
        lower: on(Side::Lower),
        upper: on(Side::Upper),
    };
    let factor = match level.rule() {
        Rule::Simple => super::super::exact::Exact::zero(),
        Rule::Guarded(factor) => factor.into(),
    };
    let working = conformity::chance(&judged, &factor, one.measured.unit)?;
    Some(working.about(format!("the figure at {} within its {name}", value.place())))
}
