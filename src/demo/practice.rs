//! A rotor to practise on: the demonstration's machine under a number of its own. What its gauges show and what can be seen
//! on it is told step by step; what it means, nobody says before the debrief.

use chrono::NaiveDate;

use crate::domain::entry::{Act, Entry, FindingMade};
use crate::domain::figure::Figure;
use crate::domain::gate;
use crate::domain::inspection::{Head, Inspection};
use crate::domain::instrument::{GaugeKind, Instrument};
use crate::domain::progress;
use crate::domain::signing::Seal;
use crate::domain::standing::{PartStanding, Standing};
use crate::records::yaml::Problems;

use super::player::{Keeper, PlayFault, play};
use super::scene::{Scenery, scenery};

/// The rotor's id.
pub const ROTOR: &str = "PRACTICE-1";

/// The demonstration's files with the practice rotor in them, as of that day.
///
/// # Errors
/// Every fault of a file; a test holds that there is none.
pub fn practice(today: NaiveDate) -> Result<Scenery, Problems> {
    let mut scenery = scenery(today)?;
    if let Ok(id) = ROTOR.parse() {
        scenery.rotor.id = id;
    }
    "INV-P-001".clone_into(&mut scenery.rotor.serial);
    scenery.rotor.plant = Some("none: invented, to practise on".to_owned());
    Ok(scenery)
}

/// The rotor with all that is hidden in it found and measured.
///
/// # Errors
/// As [`play`].
pub fn hidden(scenery: &Scenery) -> Result<Inspection, PlayFault> {
    let [.., present] = &scenery.answers;
    play(scenery, present, None, &mut Nowhere)
}

/// Nothing of it is written anywhere.
struct Nowhere;

impl Keeper for Nowhere {
    fn begin(&mut self, _: &Head) -> Result<(), String> {
        Ok(())
    }

    fn append(&mut self, _: &[Entry]) -> Result<(), String> {
        Ok(())
    }

    fn seal(&mut self) -> Result<Seal, String> {
        Err("nothing is signed here".to_owned())
    }

    fn chain(&self) -> String {
        String::new()
    }
}

/// What lies on the bench: what each gauge shows, as its scale has it, and what the eye sees; a line each.
pub fn on_the_bench(hidden: &Inspection) -> Vec<String> {
    let mut lines = Vec::new();
    let mut at = None;
    for entry in hidden.standing_entries() {
        let Some(step) = entry.act.step().and_then(|id| hidden.head().checklist.step(id)) else { continue };
        let Some(told) = told(hidden, entry) else { continue };
        if at != Some(&step.id) {
            at = Some(&step.id);
            lines.push(format!("{} ({})", gate::step_name(hidden, step), step.id));
        }
        lines.push(format!("  {told}"));
    }
    lines
}

/// What is told of an entry; nothing of what was only done.
fn told(hidden: &Inspection, entry: &Entry) -> Option<String> {
    if let Act::Finding(found) = &entry.act {
        return Some(seen(found));
    }
    if let Act::Skip { reason, .. } = &entry.act {
        return Some(format!("cannot be had: {reason}"));
    }
    if let Act::Note { text, .. } = &entry.act {
        return Some(text.clone());
    }
    let Act::Reading { step, place, taken, gauge, .. } = &entry.act else { return None };
    let step = hidden.head().checklist.step(step)?;
    let cell = progress::cells(hidden, step).into_iter().find(|cell| cell.place() == *place)?;
    let gauge = gauge.as_ref().and_then(|gauge| hidden.gauge(gauge));
    let with = gauge.map(|gauge| format!("{}: ", gauge.id)).unwrap_or_default();
    Some(format!("{}: {with}{}", cell.spoken(), shows(*taken, gauge)))
}

/// The kind and where; how grave it is, is for the one who looks.
fn seen(found: &FindingMade) -> String {
    let details = found.details.iter().map(|(detail, text)| format!(", {detail} {text}"));
    format!("to be seen: {}{}", found.kind, details.collect::<String>())
}

/// A dial shows what is past its last whole turn and counts the turns on the small hand; a micrometer's sleeve shows halves of
/// a millimetre, its thimble the rest.
fn shows(figure: Figure, gauge: Option<&Instrument>) -> String {
    let parts = |size: Figure| {
        let size = size.to(figure.unit())?.decimal()?;
        let whole = figure.decimal().checked_div(size)?.floor();
        let below = whole.checked_mul(size)?;
        Some((whole, below, figure.decimal().checked_sub(below)?))
    };
    let half = || "0.5 mm".parse::<Figure>().ok();
    let scale = |gauge: &Instrument| {
        if gauge.kind == GaugeKind::Micrometer {
            let (_, sleeve, thimble) = parts(half()?)?;
            return Some(format!("sleeve {}, thimble {thimble} {}", sleeve.normalize(), figure.unit()));
        }
        let (turns, _, rest) = parts(gauge.turn?)?;
        Some(format!("large hand {rest} {}, small hand {turns}", figure.unit()))
    };
    gauge.and_then(scale).unwrap_or_else(|| figure.to_string())
}

/// What was hidden beside what was found: a line for each part, then each finding that one of the two lacks.
pub fn debrief(hidden: &Inspection, mine: &Inspection) -> Vec<String> {
    let (theirs, ours) = (Standing::of(hidden), Standing::of(mine));
    let tells = |part: &&PartStanding| !matches!(part.in_short().1, "to do" | "done" | "not judged");
    let parts = theirs.parts.iter().filter(tells).filter_map(|part| {
        let found = ours.parts.iter().find(|other| other.id == part.id)?;
        let (should, is) = (part.in_short().1, found.in_short().1);
        Some(if should == is {
            format!("+ {}: {is}, as it is", part.name)
        } else {
            format!("! {}: it is {should}, the record says {is}", part.name)
        })
    });
    let findings = |of: &Inspection| {
        let made = of.standing_entries().filter_map(|entry| {
            let Act::Finding(found) = &entry.act else { return None };
            Some((found.part.clone(), found.kind.clone(), found.grade.clone()))
        });
        made.collect::<Vec<_>>()
    };
    let (there, entered) = (findings(hidden), findings(mine));
    let missed = there.iter().filter(|one| !entered.contains(one));
    let missed = missed.map(|(part, kind, grade)| format!("! not in the record: {part}, {kind}, {grade}"));
    let more = entered.iter().filter(|one| !there.contains(one));
    let more = more.map(|(part, kind, grade)| format!("? in the record, and not so hidden: {part}, {kind}, {grade}"));
    parts.chain(missed).chain(more).collect()
}
