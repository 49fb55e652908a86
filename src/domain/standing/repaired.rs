//! What a part that is replaced or mended still waits for: the new one in its place, measured, within the new range.

use super::super::checklist::Step;
use super::super::entry::Act;
use super::super::inspection::Inspection;
use super::super::judge::{Condition, Reach};
use super::super::left_out;
use super::super::outdated;
use super::super::phase::Phase;
use super::super::progress::{self, StepState};
use super::super::verdict::{Consequence, Disposition, Hold};
use super::left::not_taken;
use super::overruled::{About, Conceded, Reason};
use super::ruling::Ruling;
use super::{CharacteristicStanding, Outcome};

/// The hold of what is to be mended and measured.
pub(super) const REWORK: &str = "rework to do, then measured again";

impl Ruling<'_> {
    /// What is to be replaced or reworked holds the part until the new or mended one is measured and within the new range.
    pub(super) fn after_repair(&mut self, mine: &[&CharacteristicStanding]) {
        let as_left: Vec<_> = mine.iter().filter(|one| one.condition == Condition::AsLeft).collect();
        for one in &as_left {
            self.as_left(one);
        }
        let sound = |one: &&CharacteristicStanding| {
            // what is let go unjudged has no forecast
            one.is_sound() && one.leads_to_ahead() == Consequence::Nothing || self.let_go.contains(&one.characteristic)
        };
        let asked = || as_left.iter().filter(|one| one.outcome != Outcome::Excused);
        let checked = asked().count() > 0 && asked().all(|one| sound(one));
        let new_checks = unchecked(self.inspection, &self.part.id).next().is_none();
        let sound_as_new = new_checks && (checked || as_left.is_empty());
        if let Some(entry) = self.inspection.replaced_at(&self.part.id).filter(|_| self.part.stretch().is_some()) {
            // older records took it: the readings of each piece that came with it would go on
            let words =
                format!("entered as new as a whole in entry {entry}: strike that, and enter each of its pieces");
            self.hold(Hold::Open(words));
        }
        if self.inspection.is_replaced(&self.part.id) && !sound_as_new {
            // whatever the old one was: what goes in is looked at and measured, and has its papers
            self.hold(Hold::NewPart);
        }
        match self.verdict.disposition {
            Disposition::Replace if !(self.is_renewed() && sound_as_new) => self.hold(Hold::NewPart),
            Disposition::Rework if self.must_be_measured_again(mine) && !checked => {
                let hold = Hold::Open(REWORK.to_owned());
                self.to_come.insert(hold.clone());
                self.hold(hold);
            }
            Disposition::Replace | Disposition::Rework | Disposition::Watch | Disposition::Reuse => {}
        }
    }

    /// A figure outside the new range, or none after its turn, holds whatever is to be done with the part.
    fn as_left(&mut self, one: &CharacteristicStanding) {
        let name = one.characteristic.name();
        let hold = |why: &str| Hold::Open(format!("{name} as left: {why}"));
        let Some(step) = self.inspection.head().checklist.step(&one.step) else { return };
        let why = match &one.outcome {
            Outcome::Judged(judgement) | Outcome::Past(judgement, _) | Outcome::Incomplete(Some(judgement))
                if judgement.reached.reach > Reach::Within || one.leads_to_ahead() > Consequence::Nothing =>
            {
                let words = if one.leads_to_ahead() > Consequence::Nothing {
                    format!("{name} of the new one: its life ends before the next opening")
                } else {
                    format!("{name} as left: outside the new range")
                };
                let reason = Reason::of(self.inspection, one, About::Left(one.characteristic), words.clone());
                if let Outcome::Past(_, Some(why)) = &one.outcome {
                    self.hold(hold(why));
                }
                return self.outside(one, Reason { leads_to: Consequence::Rework, ..reason });
            }
            Outcome::Open(why) => why.clone(),
            // what was measured with the mate that is gone tells nothing of the pair
            Outcome::NotTaken | Outcome::Incomplete(_) | Outcome::LeftOut(_)
                if progress::has_new_mate(self.inspection, one.characteristic)
                    && !self.inspection.is_replaced(&self.part.id) =>
            {
                let why = "its mate is new, not measured with it";
                self.to_come.insert(hold(why));
                why.to_owned()
            }
            Outcome::LeftOut(why) => match left_out::whole(self.inspection, step) {
                Some(reason) => format!("left out, {reason}"),
                None => why.clone(),
            },
            Outcome::NotTaken | Outcome::Incomplete(_) if step.phase < Phase::After && self.has_run() => {
                not_taken(self.inspection, one).to_owned()
            }
            Outcome::Judged(_)
            | Outcome::Past(..)
            | Outcome::NotTaken
            | Outcome::Incomplete(_)
            | Outcome::Excused
            | Outcome::Unjudged { .. } => return,
        };
        let hold = hold(&why);
        // no start waits for what only the running machine shows
        if step.phase < Phase::After { self.hold(hold) } else { self.hold_unawaited(hold) }
    }

    /// It is mended and measured again, unless a concession about the figure as left lets it go.
    fn outside(&mut self, one: &CharacteristicStanding, reason: Reason) {
        let outside = Hold::Open(reason.words.clone());
        let conceded = self.conceded(&one.named(), Some(&reason));
        if matches!(conceded, Conceded::To(allows, ..) if allows < Consequence::Rework) {
            self.let_go.insert(one.characteristic);
        } else {
            self.outside.insert(outside.clone());
            self.hold(outside);
        }
        self.lead_to_unless(reason, conceded);
    }

    /// Whether the engine was started: what was to be measured as left has had its turn.
    fn has_run(&self) -> bool {
        let mut after = progress::steps(self.inspection).filter(|step| step.phase == Phase::After);
        let done = |act: &Act| matches!(act, Act::Looked { .. } | Act::Tick { .. } | Act::Reading { .. });
        after.any(|step| self.inspection.standing_entries_of(&step.id).any(|entry| done(&entry.act)))
    }

    /// Whether a measured figure, or somebody's word, asks for the rework; a finding's own is settled by its answer.
    fn must_be_measured_again(&self, mine: &[&CharacteristicStanding]) -> bool {
        let measured = mine.iter().any(|one| one.leads_to() >= Consequence::Rework);
        measured || !mine.is_empty() && self.overruling().is_some()
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

/// Checks of a part as a new one, and the papers asked for of every new part, that are not done; what was left out is not.
pub(in crate::domain) fn unchecked<'a>(inspection: &'a Inspection, part: &'a str) -> impl Iterator<Item = &'a Step> {
    let asked = move |step: &&Step| step.phase == Phase::New && (step.part == part || outdated::confirms_new(step));
    progress::steps(inspection).filter(asked).filter(|step| {
        let state = progress::state(inspection, step);
        !state.is_settled() || state == StepState::Skipped
    })
}
