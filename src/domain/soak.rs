//! Soaks and waits against their times: too short finds nothing or cleans nothing, too long spoils.

use chrono::Duration;

use super::checklist::{Step, Takes};
use super::entry::{Act, Entry, TimerMark};
use super::exact::Rounding;
use super::figure::Figure;
use super::inspection::Inspection;
use super::stamp::Stamp;
use super::unit::Unit;

/// What to do about it.
const MEND: &str = "The part is held. Begin it again, strike a wrong time, or say in a note why it is left at that.";
/// The same where no note helps: what was cut short shows nothing.
const AGAIN: &str =
    "It shows nothing, whatever a note says: do it again, or strike a wrong time. Left out, the part stays held.";
/// The same where there was nothing left to wait for.
const BEGIN: &str = "It shows nothing: begin again with the first of these waits, or strike a wrong time.";

/// What is to be said of a step outside its times, with what to do about it.
pub fn told(inspection: &Inspection, step: &Step) -> Option<String> {
    let mend = if shows_nothing(inspection, step) { AGAIN } else { MEND };
    let strayed = || strayed(inspection, step).map(|words| format!("{words}. {mend}"));
    void(inspection, step).map(|words| format!("{words}. {BEGIN}")).or_else(strayed)
}

/// The last soak of a step, in words, when it ran shorter or longer than it should: `3 min, wanted 5 min to 60 min`; a look,
/// when it came later behind a wait than it should, or before that was over.
///
/// A note at the step after it, which says why it is left at that, settles it; not a dwell of dye that was cut short, and not a
/// look out of its time: what was not there to be seen yet, or has run together, no note shows.
pub fn strayed(inspection: &Inspection, step: &Step) -> Option<String> {
    ran(inspection, step).or_else(|| astray(inspection, step)).filter(Ran::is_open).map(|ran| ran.words)
}

/// Whether it came out before its time, or was looked at out of it, and nobody could say why it is left at that: it is done
/// again.
pub fn is_cut_short(inspection: &Inspection, step: &Step) -> bool {
    ran(inspection, step).is_some_and(|ran| ran.came_to != CameTo::Something && ran.is_open())
}

/// No dye stays on for longer, and no bath or drying is so short. Common practice, no source.
const LONGEST_DWELL: i64 = 3600;

/// Whether the dwell of a dye was cut short, or a look came out of its time, whatever was said of it: what is to be seen by it
/// is not there. Whether a thing is clean or dry shows by itself.
pub fn shows_nothing(inspection: &Inspection, step: &Step) -> bool {
    ran(inspection, step).is_some_and(|ran| ran.came_to == CameTo::Nothing)
}

/// The last soak of a step, when it ran shorter or longer than it should, or a look that came too late.
struct Ran<'a> {
    words: String,
    came_to: CameTo,
    why: Option<&'a str>,
}

/// What it came to.
#[derive(Clone, Copy, PartialEq, Eq)]
enum CameTo {
    /// It ran too long.
    Something,
    /// A bath or a drying to nothing, unless a note says why it is left at that.
    NothingUnlessNoted,
    /// To nothing, whatever a note says.
    Nothing,
}

impl Ran<'_> {
    fn is_open(&self) -> bool {
        self.why.is_none() || self.came_to == CameTo::Nothing
    }
}

/// The same, settled or not: with the note that says why it is left at that.
pub fn outside<'a>(inspection: &'a Inspection, step: &Step) -> Option<(String, Option<&'a str>)> {
    ran(inspection, step).or_else(|| astray(inspection, step)).map(|ran| (ran.words, ran.why))
}

/// What has come to nothing of this wait because something came too late or too early, whatever was said of it: it was begun
/// so itself, or what follows it was: `penetrant 5, developer on: 3 h 05 min after the wait before was over, wanted at most
/// 30 min`.
pub fn void(inspection: &Inspection, step: &Step) -> Option<String> {
    if !matches!(step.takes, Takes::Soak { .. }) {
        return None;
    }
    let said = |step: &Step, words: String| format!("{}: {words}", step.title);
    let behind = inspection.head().checklist.steps.iter().skip_while(|one| one.id != step.id).skip(1);
    let mut follow = behind.filter(|one| one.soon.as_ref().is_some_and(|soon| soon.after == step.id));
    let own = astray(inspection, step).map(|astray| said(step, astray.words));
    own.or_else(|| {
        follow.find_map(|one| {
            void(inspection, one).or_else(|| {
                let looked = strayed(inspection, one).filter(|_| one.takes == Takes::Look);
                looked.map(|words| said(one, words))
            })
        })
    })
}

/// The last moment at which a step still follows the wait before; none where that one has not come so far.
pub fn latest(inspection: &Inspection, step: &Step) -> Option<Stamp> {
    let to = seconds(step.soon.as_ref()?.to)?;
    Some(followed(inspection, step, u32::MAX)?.moment().checked_add_signed(Duration::seconds(to))?.into())
}

/// From when on a step was to follow the wait before, as things stood at an entry.
fn followed(inspection: &Inspection, step: &Step, at: u32) -> Option<Stamp> {
    let soon = step.soon.as_ref()?;
    let mut before = inspection.standing_entries_of(&soon.after).rev().filter(|entry| entry.number < at);
    let last = before.find(|entry| mark(entry).is_some())?;
    if mark(last) == Some(soon.since) {
        return Some(last.when());
    }
    // one that runs again is not over
    let mut earlier = before.filter(|_| soon.since == TimerMark::Started);
    earlier.find(|entry| mark(entry) == Some(soon.since)).map(Entry::when)
}

fn mark(entry: &Entry) -> Option<TimerMark> {
    if let Act::Timer { mark, .. } = entry.act { Some(mark) } else { None }
}

/// When the wait before a step was over, as things stood at an entry; none where it runs.
fn over(inspection: &Inspection, step: &Step, at: u32) -> Option<Stamp> {
    let mut before = inspection.standing_entries_of(&step.soon.as_ref()?.after).rev();
    let last = before.find(|entry| entry.number < at && mark(entry).is_some())?;
    (mark(last) == Some(TimerMark::Ended)).then(|| last.when())
}

/// What came later behind the wait before than it should, or before that was over, as paper may have it: a look, or the next
/// wait. A look that was in time stays so when it is asked for once more.
fn astray<'a>(inspection: &'a Inspection, step: &Step) -> Option<Ran<'a>> {
    let soon = step.soon.as_ref()?;
    let acts: Vec<&Entry> = inspection.standing_entries_of(&step.id).collect();
    let starts = |entry: &&&Entry| mark(entry) == Some(TimerMark::Started);
    let looks = |entry: &&&Entry| matches!(entry.act, Act::Looked { .. });
    let is_look = step.takes == Takes::Look;
    let came = if is_look { acts.iter().find(looks) } else { acts.iter().rfind(starts) };
    let came = *came?;
    let gone = came.when().seconds_since(followed(inspection, step, came.number)?);
    let over = over(inspection, step, came.number).filter(|over| came.when().seconds_since(*over) < 0);
    let noted = |entry: &&'a Entry| {
        let Act::Note { text, .. } = &entry.act else { return None };
        (entry.number > came.number && is_look).then_some(text.as_str())
    };
    let words = match over {
        Some(over) => {
            let did = if is_look { "looked at" } else { "begun" };
            format!(
                "{did} {}, and the wait before it was over {}",
                came.when().clock_beside(over),
                over.clock_beside(came.when())
            )
        }
        None => format!("{} {}, wanted at most {}", span(gone.max(0)), soon.since_in_words(), soon.to),
    };
    let why = acts.iter().find_map(noted);
    let is_astray = over.is_some() || gone > seconds(soon.to)?;
    is_astray.then_some(Ran { words, came_to: CameTo::Nothing, why })
}

fn ran<'a>(inspection: &'a Inspection, step: &Step) -> Option<Ran<'a>> {
    if step.takes == Takes::Look {
        return astray(inspection, step);
    }
    let Takes::Soak { from, to } = &step.takes else { return None };
    let acts: Vec<&Entry> = inspection.standing_entries_of(&step.id).collect();
    let is = |entry: &Entry, wanted: TimerMark| mark(entry) == Some(wanted);
    let last = acts.iter().rposition(|entry| mark(entry).is_some())?;
    let (before, since) = acts.split_at_checked(last)?;
    let ended = since.first().filter(|entry| is(entry, TimerMark::Ended))?;
    let started = before.iter().rfind(|entry| is(entry, TimerMark::Started))?;
    let ran = ended.when().seconds_since(started.when()).max(0);
    let short = seconds(*from).is_some_and(|from| ran < from);
    let long = to.and_then(seconds).is_some_and(|to| ran > to);
    let wanted = to.map_or_else(|| format!("{from} or more"), |to| format!("{from} to {to}"));
    let why =
        since.iter().find_map(|entry| if let Act::Note { text, .. } = &entry.act { Some(text.as_str()) } else { None });
    let is_dwell = to.and_then(seconds).is_some_and(|to| to <= LONGEST_DWELL);
    let came_to = match (short, is_dwell) {
        (false, _) => CameTo::Something,
        (true, false) => CameTo::NothingUnlessNoted,
        (true, true) => CameTo::Nothing,
    };
    (short || long).then(|| Ran { words: format!("{}, wanted {wanted}", span(ran)), came_to, why })
}

fn seconds(time: Figure) -> Option<i64> {
    time.to(Unit::Second)?.rounded(0, Rounding::Nearest).parse().ok()
}

/// Begun minutes count for nothing: what is short by a second is short.
fn span(seconds: i64) -> String {
    let minutes = seconds / 60;
    if minutes >= 60 { format!("{} h {:02} min", minutes / 60, minutes % 60) } else { format!("{minutes} min") }
}
