//! Taking an earlier entry back, with a reason; it stays readable.

use crate::domain::checklist::Step;
use crate::domain::decide::decide;
use crate::domain::entry::{Act, Entry};
use crate::domain::gate;
use crate::domain::progress;
use crate::domain::repeated;
use crate::domain::request::{Decision, Request};
use crate::domain::telling;

use super::super::inquiry::{Answers, Reply, Stop, refused};
use super::{At, Deed, act, only_say, owned};

/// The usual reasons, by number.
const REASONS: [&str; 7] = [
    "typed wrong",
    "wrong place",
    "wrong gauge",
    "slipped or not seated",
    "misread",
    "part not clean",
    "taken for another part",
];

/// So many entries are on offer; any other is named by its number.
const ON_OFFER: usize = 9;

/// No entry has this number: it stands for the whole set.
const WHOLE_SET: u32 = 0;

impl At<'_> {
    /// On offer are the entry under the hand, the last ones of this step, and the last ones before it.
    pub(super) fn strike(&self, answers: &mut Answers<'_>) -> Reply<Deed> {
        let step = self.step.map(|step| step.id.as_str());
        let place = self.cell.as_ref().map(crate::domain::checklist::Cell::place);
        // what is about nothing on the machine, such as a walk round it, comes last
        let far = |entry: &&Entry| match (&entry.act, entry.act.step().or(entry.act.part())) {
            (_, None) => 3,
            // where no step is open, it is what was left out that keeps the others shut
            (Act::Skip { .. }, Some(_)) if step.is_none() => 0,
            (Act::Reading { place: at, .. }, about) if about == step && Some(at) == place.as_ref() => 0,
            (_, about) if about == step => 1,
            (_, Some(_)) => 2,
        };
        let mut open: Vec<&Entry> =
            self.inspection.standing_entries().rev().filter(|entry| entry.act.can_be_struck()).collect();
        open.sort_by_key(far);
        let Some(first) = open.first().map(|entry| entry.number) else {
            return Ok(only_say("No entry can be struck."));
        };
        let words = |entry: &&Entry| {
            let told = self.said(entry);
            match entry.act.step().or(entry.act.part()) {
                Some(about) if Some(about) != step => (entry.number, format!("{about}: {told}")),
                Some(_) | None => (entry.number, told),
            }
        };
        let offered: Vec<_> = open.iter().take(ON_OFFER).map(words).collect();
        let set = self.set_under_hand();
        // by its numbers the same set is known again
        let numbers = set.iter().min().zip(set.iter().max()).filter(|(first, last)| first < last);
        let whole =
            |(first, last)| (WHOLE_SET, format!("all {} figures of this set, entries {first} to {last}", set.len()));
        let whole = numbers.map(whole);
        let offered: Vec<_> = offered.into_iter().chain(whole).collect();
        let entry = answers.entry("which entry is struck", &offered, first)?;
        if entry == WHOLE_SET && set.len() > 1 {
            let why = format!("why are all {} figures struck", set.len());
            let reason = answers.choose_or_say(&why, &owned(&REASONS))?;
            let strike = |entry| Request::Do(Act::Strike { entry, reason: reason.clone() });
            return Ok(Deed::Ask(set.into_iter().map(strike).collect()));
        }
        // what may not be struck is refused before anybody says why
        let try_it = Request::Do(Act::Strike { entry, reason: REASONS.concat() });
        if let Decision::Refuse(refusal) = decide(self.inspection, &try_it, &self.hand) {
            return Err(Stop::Wrong(refused(&refusal)));
        }
        let reason = answers.choose_or_say(&format!("why is entry {entry} struck"), &owned(&REASONS))?;
        Ok(act(Act::Strike { entry, reason }))
    }

    /// The readings that are retaken together with the one under the hand: all of its place where it has repeats, else
    /// all of the step.
    fn set_under_hand(&self) -> Vec<u32> {
        let (Some(step), Some(here)) = (self.step, &self.cell) else { return Vec::new() };
        let cells = progress::cells(self.inspection, step);
        let of_place = cells.iter().any(|cell| cell.repeat.is_some());
        let mine = cells.iter().filter(|cell| !of_place || cell.spot() == here.spot());
        mine.filter_map(|cell| Some(self.inspection.reading(&step.id, &cell.place())?.entry)).collect()
    }

    /// One repeat more at an undecided place of this step; the one under the hand stands first.
    pub(super) fn one_more(&self, answers: &mut Answers<'_>) -> Reply<Deed> {
        let here = self.cell.as_ref().map(crate::domain::checklist::Cell::spot);
        let undecided = |step: &Step| repeated::places(self.inspection, step);
        let mut places: Vec<(&Step, String)> = self
            .step
            .into_iter()
            .flat_map(|step| undecided(step).into_iter().map(move |place| (step, place)))
            .collect();
        places.sort_by_key(|(_, place)| Some(place) != here.as_ref());
        if let [(step, only)] = places.as_slice() {
            return Ok(act(repeated::one_more(step, only.clone())));
        }
        if places.is_empty() {
            // the last place of a step is undecided when the work is at the next one
            let all = progress::steps(self.inspection);
            places = all.flat_map(|step| undecided(step).into_iter().map(move |place| (step, place))).collect();
        }
        if places.is_empty() {
            let none = "No place is undecided with all its repeats taken, by a gauge whose uncertainty is known.";
            return Ok(only_say(none));
        }
        let name = |(step, place): &(&Step, String)| format!("{}: {place}", gate::step_name(self.inspection, step));
        let index = answers.choose("one more repeat at which place", &places.iter().map(name).collect::<Vec<_>>())?;
        let chosen = places.into_iter().nth(index);
        Ok(chosen
            .map_or_else(|| only_say("Nothing was asked for."), |(step, place)| act(repeated::one_more(step, place))))
    }

    /// `outer 0, first up: 0.228 mm with D2`.
    fn said(&self, entry: &Entry) -> String {
        let Act::Reading { step, place, taken, gauge, .. } = &entry.act else {
            return telling::of_entry(self.inspection, entry);
        };
        let step = self.inspection.head().checklist.step(step);
        let cells = step.map(|step| progress::cells(self.inspection, step)).unwrap_or_default();
        let cell = cells.into_iter().find(|cell| cell.place() == *place);
        let gauge = gauge.as_ref().map(|gauge| format!(" with {gauge}")).unwrap_or_default();
        format!("{}: {taken}{gauge}", cell.map_or_else(|| place.clone(), |cell| cell.spoken()))
    }

    pub(super) fn last_entries(&self) -> Vec<String> {
        let entries = self.inspection.entries();
        let skip = entries.len().saturating_sub(20);
        let one = |entry: &Entry| {
            let struck = telling::no_more(self.inspection, entry, |by| format!(" STRUCK in entry {by}"));
            format!("{}{struck}", entry_in_words(entry))
        };
        entries.iter().skip(skip).map(one).collect()
    }
}

/// `118 reading, bush.ts/clearance, inner 0 / 3 / up: 0.232 mm with D2`.
pub fn entry_in_words(entry: &Entry) -> String {
    let about = entry.act.step().or(entry.act.part()).map(|about| format!(", {about}")).unwrap_or_default();
    format!("{} {}{about}{}", entry.number, entry.act.kind(), detail(&entry.act))
}

fn detail(act: &Act) -> String {
    if let Act::Reading { place, taken, gauge, .. } = act {
        let with = gauge.as_ref().map(|gauge| format!(" with {gauge}")).unwrap_or_default();
        return format!(", {place}: {taken}{with}");
    }
    if let Act::Finding(finding) = act {
        return format!(", {}: {}, {}", finding.part, finding.kind, finding.grade);
    }
    if let Act::Confirm { point, .. } = act {
        return format!(", {point}");
    }
    if let Act::NotApplicable { point, reason, .. } = act {
        let point = point.as_ref().map(|point| format!(", {point}")).unwrap_or_default();
        return format!("{point}: {reason}");
    }
    if let Act::Note { text, .. } | Act::Call { question: text, .. } | Act::Answer { text, .. } = act {
        return format!(": {text}");
    }
    if let Act::Skip { place, reason, .. } = act {
        let place = place.as_ref().map(|place| format!(", {place}")).unwrap_or_default();
        return format!("{place}: {reason}");
    }
    if let Act::Strike { entry, reason } = act {
        return format!(" of entry {entry}: {reason}");
    }
    String::new()
}
