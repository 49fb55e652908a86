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
/// The same where it was looked at too late.
const LOOK: &str = "The part is held. Do the test again, strike a wrong time, or say in a note why it is left at that.";
/// The same where there was nothing left to wait for.
const BEGIN: &str = "It shows nothing: begin again with the first of these waits, or strike a wrong time.";

/// What is to be said of a step outside its times, with what to do about it.
pub fn told(inspection: &Inspection, step: &Step) -> Option<String> {
    let mend = if step.takes == Takes::Look { LOOK } else { MEND };
    let strayed = || strayed(inspection, step).map(|words| format!("{words}. {mend}"));
    void(inspection, step).map(|words| format!("{words}. {BEGIN}")).or_else(strayed)
}

/// The last soak of a step, in words, when it ran shorter or longer than it should: `3 min, wanted 5 min to 60 min`; a look,
/// when it came later behind a wait than it should.
///
/// A note at the step after it, which says why it is left at that, settles it.
pub fn strayed(inspection: &Inspection, step: &Step) -> Option<String> {
    outside(inspection, step).filter(|(_, why)| why.is_none()).map(|(words, _)| words)
}

/// Whether it came out before its time, or was looked at too late, and nobody has said why it is left at that: it is done
/// again.
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

/// The last soak of a step, when it ran shorter or longer than it should, or a look that came too late.
struct Ran<'a> {
    words: String,
    /// It came to nothing.
    is_short: bool,
    why: Option<&'a str>,
}

/// The same, settled or not: with the note that says why it is left at that.
pub fn outside<'a>(inspection: &'a Inspection, step: &Step) -> Option<(String, Option<&'a str>)> {
    ran(inspection, step).or_else(|| late(inspection, step)).map(|ran| (ran.words, ran.why))
}

/// What has come to nothing of this wait because something came too late, whatever was said of it: it was begun too late
/// itself, or what follows it was: `penetrant 5, developer on: 3 h 05 min after the wait before was over, wanted at most
/// 30 min`.
pub fn void(inspection: &Inspection, step: &Step) -> Option<String> {
    if !matches!(step.takes, Takes::Soak { .. }) {
        return None;
    }
    let said = |step: &Step, words: String| format!("{}: {words}", step.title);
    let behind = inspection.head().checklist.steps.iter().skip_while(|one| one.id != step.id).skip(1);
    let mut follow = behind.filter(|one| one.soon.as_ref().is_some_and(|soon| soon.after == step.id));
    let own = late(inspection, step).map(|late| said(step, late.words));
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
    let mark = |entry: &&Entry| if let Act::Timer { mark, .. } = entry.act { Some(mark) } else { None };
    let last = before.find(|entry| mark(entry).is_some())?;
    if mark(&last) == Some(soon.since) {
        return Some(last.when());
    }
    // one that runs again is not over
    let mut earlier = before.filter(|_| soon.since == TimerMark::Started);
    earlier.find(|entry| mark(entry) == Some(soon.since)).map(Entry::when)
}

/// What came later behind the wait before than it should: a look, or the next wait. A look that was in time stays so when it is
/// asked for once more.
fn late<'a>(inspection: &'a Inspection, step: &Step) -> Option<Ran<'a>> {
    let soon = step.soon.as_ref()?;
    let acts: Vec<&Entry> = inspection.standing_entries_of(&step.id).collect();
    let starts = |entry: &&&Entry| matches!(&entry.act, Act::Timer { mark: TimerMark::Started, .. });
    let looks = |entry: &&&Entry| matches!(entry.act, Act::Looked { .. });
    let is_look = step.takes == Takes::Look;
    let came = if is_look { acts.iter().find(looks) } else { acts.iter().rfind(starts) };
    let came = *came?;
    let gone = came.when().seconds_since(followed(inspection, step, came.number)?).max(0);
    let noted = |entry: &&'a Entry| {
        let Act::Note { text, .. } = &entry.act else { return None };
        (entry.number > came.number && is_look).then_some(text.as_str())
    };
    let words = format!("{} {}, wanted at most {}", span(gone), soon.since_in_words(), soon.to);
    let why = acts.iter().find_map(noted);
    (gone > seconds(soon.to)?).then_some(Ran { words, is_short: true, why })
}

fn ran<'a>(inspection: &'a Inspection, step: &Step) -> Option<Ran<'a>> {
    if step.takes == Takes::Look {
        return late(inspection, step);
    }
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
