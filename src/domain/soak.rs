//! Soaks and waits against their times: too short finds nothing or cleans nothing, too long spoils.

use super::checklist::{Step, Takes};
use super::entry::{Act, Entry, TimerMark};
use super::exact::Rounding;
use super::figure::Figure;
use super::inspection::Inspection;
use super::unit::Unit;

/// What to do about it.
pub const MEND: &str =
    "The part is held. Put it in again, strike a wrong time, or say in a note why it is left at that.";

/// The last soak of a step, in words, when it ran shorter or longer than it should: `3 min, wanted 5 min to 60 min`.
///
/// A note at the step after it, which says why it is left at that, settles it.
pub fn strayed(inspection: &Inspection, step: &Step) -> Option<String> {
    outside(inspection, step).filter(|(_, why)| why.is_none()).map(|(words, _)| words)
}

/// Whether it came out before its time and nobody has said why it is left at that: it is put in again.
pub fn is_cut_short(inspection: &Inspection, step: &Step) -> bool {
    let ran = ran(inspection, step);
    ran.is_some_and(|ran| ran.is_short && ran.why.is_none())
}

/// No dye stays on for longer, and no bath or drying is so short. Common practice, no source.
const LONGEST_DWELL: i64 = 3600;

/// Whether the dwell of a dye was cut short, whatever was said of it: what is to be seen by it is not there. Whether a thing
/// is clean or dry shows by itself.
pub fn shows_nothing(inspection: &Inspection, step: &Step) -> bool {
    let Takes::Soak { to: Some(to), .. } = &step.takes else { return false };
    let is_dwell = seconds(*to).is_some_and(|to| to <= LONGEST_DWELL);
    is_dwell && ran(inspection, step).is_some_and(|ran| ran.is_short)
}

/// The last soak of a step, when it ran shorter or longer than it should.
struct Ran<'a> {
    words: String,
    is_short: bool,
    why: Option<&'a str>,
}

/// The same, settled or not: with the note that says why it is left at that.
pub fn outside<'a>(inspection: &'a Inspection, step: &Step) -> Option<(String, Option<&'a str>)> {
    ran(inspection, step).map(|ran| (ran.words, ran.why))
}

fn ran<'a>(inspection: &'a Inspection, step: &Step) -> Option<Ran<'a>> {
    let Takes::Soak { from, to } = &step.takes else { return None };
    let acts: Vec<&Entry> = inspection.standing_entries_of(&step.id).collect();
    let is = |entry: &Entry, wanted: TimerMark| matches!(&entry.act, Act::Timer { mark, .. } if *mark == wanted);
    let last = acts.iter().rposition(|entry| matches!(entry.act, Act::Timer { .. }))?;
    let (before, since) = acts.split_at_checked(last)?;
    let ended = since.first().filter(|entry| is(entry, TimerMark::Ended))?;
    let started = before.iter().rfind(|entry| is(entry, TimerMark::Started))?;
    let ran = ended.when().seconds_since(started.when()).max(0);
    let short = seconds(*from).is_some_and(|from| ran < from);
    let long = to.and_then(seconds).is_some_and(|to| ran > to);
    let wanted = to.map_or_else(|| format!("{from} or more"), |to| format!("{from} to {to}"));
    let why =
        since.iter().find_map(|entry| if let Act::Note { text, .. } = &entry.act { Some(text.as_str()) } else { None });
    (short || long).then(|| Ran { words: format!("{}, wanted {wanted}", span(ran)), is_short: short, why })
}

fn seconds(time: Figure) -> Option<i64> {
    time.to(Unit::Second)?.rounded(0, Rounding::Nearest).parse().ok()
}

/// Begun minutes count for nothing: what is short by a second is short.
fn span(seconds: i64) -> String {
    let minutes = seconds / 60;
    if minutes >= 60 { format!("{} h {:02} min", minutes / 60, minutes % 60) } else { format!("{minutes} min") }
}
