//! Leaving something out, going to another step.

use crate::domain::checklist::{Point, Step, Takes};
use crate::domain::decide;
use crate::domain::entry::Act;
use crate::domain::gate::{self, Missing};
use crate::domain::inspection::Inspection;
use crate::domain::measured;
use crate::domain::phase::Phase;
use crate::domain::progress::{self, StepState};
use crate::domain::signing;
use crate::domain::soak;

use super::super::inquiry::{Answers, Reply, Stop, refused};
use super::{At, Deed, Other, Way, act, only_say, owned, sentence};

/// The usual reasons for leaving something out.
const REASONS: [&str; 7] = [
    "cannot be reached",
    "part missing or broken",
    "no gauge for it here",
    "not to be had",
    "not asked for on this job",
    "destroyed before it was taken",
    "no time, by order",
];

impl At<'_> {
    /// One place of a grid, a whole step, or what this machine does not have: each by its own number, the same at every
    /// step, so that a habit never marks as absent what was to be left open.
    pub(super) fn leave_out(&self, answers: &mut Answers<'_>) -> Reply<Deed> {
        let Some(step) = self.step_or_asked(answers)? else { return Ok(only_say("No step is at hand.")) };
        let point = self.point.filter(|_| matches!(step.takes, Takes::Points(_)));
        let place = self.cell.as_ref().map(|cell| (1, format!("this place only: {}", cell.spoken())));
        let whole = point.is_none().then(|| (2, "the whole step; the part stays open".to_owned()));
        let none = Some((3, "not on this machine or job".to_owned()));
        let about = point.map(|point| format!("{}: ", point.text)).unwrap_or_default();
        let lines: Vec<_> = [place, whole, none].into_iter().flatten().collect();
        let number = answers.choose_numbered(&format!("{about}what is left out"), &lines)?;
        if number == 3 {
            self.may_be_absent(step, point)?;
            let reason = answers.reason("why does it not apply")?;
            let point = point.map(|point| point.id.clone());
            return Ok(act(Act::NotApplicable { step: step.id.clone(), point, reason }));
        }
        let place = self.cell.as_ref().filter(|_| number == 1).map(crate::domain::checklist::Cell::place);
        let reason = answers.choose_or_say("why", &owned(&REASONS))?;
        Ok(act(Act::Skip { step: step.id.clone(), place, reason }))
    }

    /// Said before anybody types a reason: whether this hand may mark it as not on this machine at all.
    ///
    /// # Errors
    /// Why it may not.
    pub fn may_be_absent(&self, step: &Step, point: Option<&Point>) -> Reply<()> {
        let may = decide::not_here(self.inspection, &step.id, point.map(|point| point.id.as_str()), &self.hand);
        may.map_err(|refusal| Stop::Wrong(refused(&refusal)))
    }

    /// Every step with its state; one is chosen by its number, its id or a few letters.
    pub(super) fn steps(&self, answers: &mut Answers<'_>) -> Reply<Deed> {
        let steps: Vec<&Step> = progress::steps(self.inspection).collect();
        let numbered = (1_usize..).zip(&steps);
        let state = |step: &Step| state_word(self.inspection, step);
        let before = numbered.map(|(number, step)| format!("{number} {}, {}", step.id, state(step))).collect();
        let text = format!("go to which step (1 to {}, its id, or a few letters)", steps.len());
        let typed = answers.line(before, &text)?;
        let by_number = typed.parse::<usize>().ok().and_then(|number| number.checked_sub(1));
        let known = by_number.and_then(|index| steps.get(index));
        let step = match (known, found(self.inspection, typed).as_slice()) {
            (Some(step), _) | (None, [step]) => *step,
            (None, []) => {
                return Err(Stop::Wrong(format!("`{typed}` is no step. Type its number, its id or a few letters.")));
            }
            (None, several) => return Err(Stop::Wrong(which_of(typed, several))),
        };
        let stands = progress::state(self.inspection, step);
        if !is_to_do(self.inspection, step) {
            let by = Missing::Step(step.id.clone()).left_out(self.inspection);
            let by = by.map_or_else(|| "its entry".to_owned(), |entry| format!("entry {entry}"));
            let comes_off = step.phase == Phase::Strip && step.takes == Takes::Tick;
            let why = if comes_off { "it was wrong, or comes off once more" } else { "it was wrong" };
            let words = format!(
                "{} is {}. Strike {by} first if {why}; what is seen late goes in as something seen.",
                step.id,
                state(step)
            );
            return Ok(Deed::Say(vec![words]));
        }
        if stands.is_settled() && stands != StepState::NotAsked {
            // sent back, to be signed or taken again: at any time
            return Ok(Deed::Go(step.id.clone()));
        }
        let missing = self.waits_for(step);
        if missing.is_empty() {
            return Ok(Deed::Go(step.id.clone()));
        }
        if missing.iter().all(|one| one.left_out(self.inspection).is_some()) {
            // nothing comes before it that would still be done: it is left out too, or that is struck
            return Ok(Deed::Go(step.id.clone()));
        }
        let mut words: Vec<_> = missing.iter().take(NAMED).map(|one| one.words(self.inspection)).collect();
        words.extend(and_more(missing.len()));
        let shut = format!("{} is not open yet: {}", step.id, sentence(&words.join("; ")));
        let way = self.way_to(step);
        let (id, to) = match &way {
            Way::Ends(other) => ("", other.title().to_owned()),
            Way::Step(id) => {
                let name = self.inspection.head().checklist.step(id).map(|step| gate::step_name(self.inspection, step));
                (id.as_str(), format!("{id}, {}", name.unwrap_or_default()))
            }
        };
        let ways = [(id, to), ("", "stay here".to_owned())];
        let index = answers.choose_known(&format!("{shut} Go where"), &ways, Some(0))?;
        Ok(if index == 0 { way.into() } else { Deed::Say(Vec::new()) })
    }

    /// The step at hand; where none is open, which of those that wait.
    pub(super) fn step_or_asked(&self, answers: &mut Answers<'_>) -> Reply<Option<&Step>> {
        let waits = |step: &&Step| !progress::state(self.inspection, step).is_settled();
        let waiting: Vec<_> = progress::steps(self.inspection).filter(waits).collect();
        if self.step.is_some() || waiting.is_empty() {
            return Ok(self.step);
        }
        let names: Vec<_> =
            waiting.iter().map(|step| (step.id.as_str(), gate::step_name(self.inspection, step))).collect();
        let index = answers.choose_known("at which step", &names, None)?;
        Ok(waiting.get(index).copied())
    }

    /// What keeps a step shut; that the machine is still safe is asked there.
    pub(super) fn waits_for(&self, step: &Step) -> Vec<Missing> {
        let missing = gate::missing(self.inspection, step, &self.hand);
        missing.into_iter().filter(|one| *one != Missing::SafetyAgain).collect()
    }

    /// Where the way to a shut step begins: at the first step that it waits for, or that one in its turn; at what ends a
    /// hold there; or, where that one comes behind a step that was left out, at that one, which says so.
    pub fn way_to(&self, shut: &Step) -> Way {
        let is_left_out = |one: &Missing| one.left_out(self.inspection).is_some();
        let waits_for = |step: &Step| -> Vec<Missing> {
            self.waits_for(step).into_iter().filter(|one| !is_left_out(one)).collect()
        };
        let (mut step, mut holds) = (shut, waits_for(shut));
        // needs go in no circle, so no way is longer than the work
        for _ in progress::steps(self.inspection) {
            let next = holds.iter().find_map(|one| one.step(self.inspection));
            let Some(next) = next.and_then(|id| self.inspection.head().checklist.step(id)) else { break };
            (step, holds) = (next, waits_for(next));
        }
        if holds.is_empty() { Way::Step(step.id.clone()) } else { self.way_out(step, &holds) }
    }
}

/// Whether there is anything to do at a step: not settled, or not asked for so far, sent back, soaked outside its times, to
/// be signed again, or with figures to be taken again.
pub fn is_to_do(inspection: &Inspection, step: &Step) -> bool {
    let state = progress::state(inspection, step);
    let once_more = soak::strayed(inspection, step).is_some() || signing::is_to_sign_again(inspection, step);
    let sent_back = || !signing::remarks_at(inspection, &step.id).is_empty();
    let to_retake = || state == StepState::Done && measured::to_retake(inspection, step).is_some();
    !state.is_settled() || state == StepState::NotAsked || once_more || sent_back() || to_retake()
}

/// How many are named before the rest is counted: steps, or what one waits for.
pub const NAMED: usize = 5;

/// `and 35 more: ! 6 tells the steps, ! 24 the holds`, behind the first that are named.
pub fn and_more(number: usize) -> Option<String> {
    let more = number.checked_sub(NAMED).filter(|more| *more > 0)?;
    let (steps, holds) = (Other::Steps.number(), Other::Stands.number());
    Some(format!("and {more} more: ! {steps} tells the steps, ! {holds} the holds"))
}

/// Letters that more steps than one have.
fn which_of(typed: &str, steps: &[&Step]) -> String {
    let named: Vec<&str> = steps.iter().take(NAMED).map(|step| step.id.as_str()).collect();
    let more = steps.len().saturating_sub(NAMED);
    let more = if more > 0 { format!(" and {more} more") } else { String::new() };
    format!("`{typed}` is more than one step: {}{more}. Type more of it, or the id.", named.join(", "))
}

/// How a step stands, in a word or two.
pub fn state_word(inspection: &Inspection, step: &Step) -> String {
    let sent_back = if signing::remarks_at(inspection, &step.id).is_empty() { "" } else { "SENT BACK, " };
    let state = match progress::state(inspection, step) {
        StepState::ToDo => "to do".to_owned(),
        StepState::Partly { done, of } => format!("{done} of {of}"),
        StepState::Running { since } => format!("waiting since {}", since.clock()),
        StepState::Done => "done".to_owned(),
        StepState::Skipped => "skipped".to_owned(),
        StepState::NotApplicable => "not on this machine or job".to_owned(),
        StepState::NotAsked => "not asked for".to_owned(),
    };
    format!("{sent_back}{state}")
}

/// The step of this id; else those whose name has every word of the search; where there are none, those whose texts have.
pub fn found<'a>(inspection: &'a Inspection, search: &str) -> Vec<&'a Step> {
    if let Some(step) = progress::steps(inspection).find(|step| step.id == search.trim()) {
        return vec![step];
    }
    let words: Vec<String> = search.split_whitespace().map(str::to_lowercase).collect();
    let holds = |text: &str| words.iter().all(|word| begins_in(text, word));
    let by = |texts: &dyn Fn(&Step) -> String| -> Vec<&'a Step> {
        progress::steps(inspection).filter(|step| holds(&texts(step).to_lowercase())).collect()
    };
    let named = by(&|step| names(inspection, step));
    if named.is_empty() { by(&|step| format!("{} {}", names(inspection, step), told(inspection, step))) } else { named }
}

/// Whether a word of `text` begins so; what holds more than letters and digits is looked for as it is.
fn begins_in(text: &str, word: &str) -> bool {
    let plain = word.chars().all(char::is_alphanumeric);
    let begins = |text: &str| text.split(|letter: char| !letter.is_alphanumeric()).any(|one| one.starts_with(word));
    // run-out is found as runout too
    if plain { begins(text) || begins(&text.replace('-', "")) } else { text.contains(word) }
}

fn names(inspection: &Inspection, step: &Step) -> String {
    let part = inspection.head().checklist.part(&step.part).map_or("", |part| part.name.as_str());
    format!("{part} {} {} {}", step.title, step.phase.title(), step.id)
}

/// What a step says: its texts, its gauge, and what may be found where it looks.
fn told(inspection: &Inspection, step: &Step) -> String {
    let texts = [&step.doing, &step.why, &step.how, &step.mistakes].into_iter().flatten().map(String::as_str);
    let gauge = if let Takes::Readings(grid) = &step.takes { grid.gauge.word() } else { "" };
    let part = inspection.head().checklist.part(&step.part).filter(|_| step.takes == Takes::Look);
    let kinds = part.into_iter().flat_map(|part| &part.findings).map(|finding| finding.kind.as_str());
    let takes = if let Takes::Soak { .. } = &step.takes { "clock timer wait soak" } else { "" };
    texts.chain([takes]).chain(step.caution.as_deref()).chain([gauge]).chain(kinds).collect::<Vec<_>>().join(" ")
}
