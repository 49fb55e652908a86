//! Where the work goes on: the step whose question is put next.

use crate::domain::checklist::{Step, Takes};
use crate::domain::figure::Figure;
use crate::domain::gate::{self, Missing};
use crate::domain::phase::Phase;
use crate::domain::progress::{self, Soaking, StepState};
use crate::domain::signing;
use crate::domain::soak;
use crate::domain::stamp::Stamp;
use crate::domain::standing::wants_picture;
use crate::domain::unit::Unit;

use super::super::acts::is_to_do;
use super::Session;

/// What comes next.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Course<'a> {
    /// This step is open and waits.
    Step(&'a Step),
    /// The safety points are asked again before this step.
    SafeAgain(&'a Step),
    /// Steps wait, and none of them is open: each with what it waits for.
    Shut(Vec<(&'a Step, Vec<Missing>)>),
    /// Nothing waits.
    Finished,
}

/// Where a soak stands against its window.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(super) enum Soak {
    /// Too early to take out.
    Early,
    /// Within the window.
    Ready,
    /// Past its end.
    Late,
}

impl Session {
    /// The step chosen by hand, then soaks whose time has come, then the first open step in the order of the work: from
    /// the chosen one on to the next signature, then from the beginning.
    pub(super) fn course(&self, now: Stamp) -> Course<'_> {
        // what was answered already waits for nothing else
        if let Some(step) = self.until_safe.first().and_then(|request| self.step_of(request)) {
            return Course::SafeAgain(step);
        }
        let mut shut = Vec::new();
        for step in self.candidates(now) {
            if self.is_sent_back(step) || wants_picture(&self.inspection, step) {
                // a remark is answered at any time, and a picture taken while it can be
                return Course::Step(step);
            }
            let missing = gate::missing(&self.inspection, step, &self.hand(now));
            if missing.is_empty() {
                return Course::Step(step);
            }
            if missing == [Missing::SafetyAgain] {
                return Course::SafeAgain(step);
            }
            // a size that the sheet does not give will not come by itself: the fitter leaves the step out, or goes for it
            let given = |one: &Missing| matches!(one, Missing::Given(_));
            // nor will a step that was left out be done before this one, where this one is asked for
            let chosen = Some(&step.id) == self.goal.as_ref();
            let left_out = |one: &Missing| chosen && one.left_out(&self.inspection).is_some();
            if missing.iter().all(given) || missing.iter().all(left_out) {
                return Course::Shut(vec![(step, missing)]);
            }
            if !shut.iter().any(|(known, _): &(&Step, _)| known.id == step.id) {
                shut.push((step, missing));
            }
        }
        // what still soaks is waited for only when nothing else can be done
        let soaking = progress::soaking(&self.inspection);
        match soaking.first() {
            Some(soaking) => Course::Step(soaking.step),
            None if shut.is_empty() => Course::Finished,
            None => Course::Shut(shut),
        }
    }

    fn candidates(&self, now: Stamp) -> Vec<&Step> {
        let inspection = &self.inspection;
        let chosen = |step: &&Step| Some(&step.id) == self.goal.as_ref();
        let goal = progress::steps(inspection).find(chosen).filter(|step| is_to_do(inspection, step));
        let sent_back = progress::steps(inspection).filter(|step| self.is_sent_back(step));
        let sent_back = sent_back.chain(progress::steps(inspection).filter(|step| wants_picture(inspection, step)));
        let soaking = progress::soaking(inspection);
        let due = soaking.into_iter().filter(|one| soak(one, now) != Soak::Early).map(|one| one.step);
        // nobody signs before what was passed over on the way
        let unsigned = |step: &&Step| !matches!(step.takes, Takes::Sign(_));
        let behind = progress::steps(inspection).skip_while(|step| !chosen(step)).take_while(unsigned);
        let waiting = behind.chain(progress::steps(inspection)).filter(|step| self.waits(step));
        // what ran outside its times is asked about as it comes out, and again when nothing else is left
        let strayed = |step: &&Step| soak::strayed(inspection, step).is_some();
        let last = inspection.standing_entries().next_back().and_then(|entry| entry.act.step());
        let just_out = progress::steps(inspection).filter(strayed).filter(move |step| last == Some(step.id.as_str()));
        let left = progress::steps(inspection).filter(strayed);
        goal.into_iter().chain(sent_back).chain(just_out).chain(due).chain(waiting).chain(left).collect()
    }

    /// Whether nothing but the answer to a remark is wanted at a step: it was done once.
    pub(super) fn is_sent_back(&self, step: &Step) -> bool {
        progress::state(&self.inspection, step).is_settled()
            && !signing::remarks_at(&self.inspection, &step.id).is_empty()
    }

    /// Whether a step is to be done now.
    fn waits(&self, step: &Step) -> bool {
        match progress::state(&self.inspection, step) {
            StepState::ToDo | StepState::Partly { .. } => true,
            StepState::Running { .. }
            | StepState::NotAsked
            | StepState::Done
            | StepState::Skipped
            | StepState::NotApplicable => false,
        }
    }

    /// Safety steps that were confirmed, for asking again.
    pub(super) fn safety(&self) -> Vec<&Step> {
        progress::steps(&self.inspection)
            .filter(|step| step.phase == Phase::Safe && matches!(step.takes, Takes::Points(_)))
            .collect()
    }
}

/// Where a soak stands.
pub(super) fn soak(soaking: &Soaking<'_>, now: Stamp) -> Soak {
    let run = now.seconds_since(soaking.since);
    if soaking.to.and_then(seconds).is_some_and(|to| run > to) {
        Soak::Late
    } else if seconds(soaking.from).is_some_and(|from| run < from) {
        Soak::Early
    } else {
        Soak::Ready
    }
}

/// A time in whole seconds.
pub(super) fn seconds(time: Figure) -> Option<i64> {
    let seconds = time.to(Unit::Second)?;
    seconds.rounded(0, crate::domain::exact::Rounding::Nearest).parse().ok()
}
