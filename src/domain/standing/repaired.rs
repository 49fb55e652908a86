//! What a part that is replaced or mended still waits for: the new one in its place, measured, within the new range.

use super::super::judge::{Condition, Reach};
use super::super::outdated;
use super::super::phase::Phase;
use super::super::progress::{self, StepState};
use super::super::verdict::{Consequence, Disposition, Hold};
use super::overruled::{About, Reason};
use super::ruling::Ruling;
use super::{CharacteristicStanding, Outcome};

/// The hold of what is to be mended and measured.
pub(super) const REWORK: &str = "rework to do, then measured again";

impl Ruling<'_> {
    /// What is to be replaced or reworked holds the part until the new or mended one is measured and within the new range.
    pub(super) fn after_repair(&mut self, mine: &[&CharacteristicStanding]) {
        let as_left: Vec<_> = mine.iter().filter(|one| one.condition == Condition::AsLeft).collect();
        for one in &as_left {
            let name = one.characteristic.name();
            match &one.outcome {
                Outcome::Judged(judgement)
                    if judgement.reached.reach > Reach::Within || one.leads_to_ahead() > Consequence::Nothing =>
                {
                    let about = About::Left(one.characteristic);
                    let words = if one.leads_to_ahead() > Consequence::Nothing {
                        format!("{name} of the new one: its life ends before the next opening")
                    } else {
                        format!("{name} as left: outside the new range")
                    };
                    let reason = Reason::of(one, about, words.clone());
                    self.lead_to(Reason { leads_to: Consequence::Rework, ..reason });
                    let outside = Hold::Open(words);
                    self.outside.insert(outside.clone());
                    self.hold(outside);
                }
                Outcome::Open(why) => self.hold(Hold::Open(format!("{name} as left: {why}"))),
                // what was measured with the mate that is gone tells nothing of the pair
                Outcome::NotTaken | Outcome::Incomplete(_) | Outcome::LeftOut(_)
                    if progress::has_new_mate(self.inspection, one.characteristic)
                        && !self.inspection.is_replaced(&self.part.id) =>
                {
                    self.hold(Hold::Open(format!("{name} as left: its mate is new, not measured with it")));
                }
                Outcome::Judged(_)
                | Outcome::NotTaken
                | Outcome::Incomplete(_)
                | Outcome::LeftOut(_)
                | Outcome::Excused
                | Outcome::Unjudged { .. } => {}
            }
        }
        let sound = |one: &&CharacteristicStanding| {
            let ends = one.leads_to_ahead() > Consequence::Nothing;
            let accepted = matches!(one.outcome, Outcome::Unjudged { .. });
            accepted
                || matches!(&one.outcome, Outcome::Judged(judgement) if judgement.reached.reach == Reach::Within && !ends)
        };
        let asked = || as_left.iter().filter(|one| one.outcome != Outcome::Excused);
        let checked = asked().count() > 0 && asked().all(|one| sound(one));
        let new_checks = self.new_checks_done();
        let sound_as_new = new_checks && (checked || as_left.is_empty());
        if self.inspection.is_replaced(&self.part.id) && !sound_as_new {
            // whatever the old one was: what goes in is looked at and measured, and has its papers
            self.hold(Hold::NewPart);
        }
        match self.verdict.disposition {
            Disposition::Replace if !(self.is_renewed() && sound_as_new) => self.hold(Hold::NewPart),
            Disposition::Rework if self.must_be_measured_again(mine) && !checked => {
                self.hold(Hold::Open(REWORK.to_owned()));
            }
            Disposition::Replace | Disposition::Rework | Disposition::Watch | Disposition::Reuse => {}
        }
    }

    /// Whether a measured figure, or somebody's word, asks for the rework; a finding's own is settled by its answer.
    fn must_be_measured_again(&self, mine: &[&CharacteristicStanding]) -> bool {
        let measured = mine.iter().any(|one| one.leads_to() >= Consequence::Rework);
        measured || !mine.is_empty() && self.overruling().is_some()
    }

    /// Its own checks as a new one, and the papers that are asked for of every new part; what was left out is not done.
    fn new_checks_done(&self) -> bool {
        let mut steps = progress::steps(self.inspection)
            .filter(|step| step.phase == Phase::New && (step.part == self.part.id || outdated::confirms_new(step)));
        steps.all(|step| {
            let state = progress::state(self.inspection, step);
            state.is_settled() && state != StepState::Skipped
        })
    }

    /// Whether a new part is in its place, and nothing was found since that would replace that one too.
    pub(super) fn is_renewed(&self) -> bool {
        let replaced = self.inspection.replaced_at(&self.part.id);
        let grave = |reason: &Reason| match reason.about {
            About::Finding(entry) | About::Crack(entry) | About::Condemned(entry) => {
                reason.leads_to == Consequence::Replace && replaced.is_some_and(|replaced| entry > replaced)
            }
            About::Found(_) | About::Left(_) | About::Overruled(_) => false,
        };
        replaced.is_some() && !self.reasons.iter().any(grave)
    }
}
