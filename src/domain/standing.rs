//! All verdicts as reckoned from the entries so far.

mod balance;
mod claimed;
mod counts;
mod further;
mod judgement;
mod left;
mod outcome;
mod overruled;
mod part;
mod past;
mod repaired;
mod ruling;
mod wanted;
mod watch;
mod work;

use std::collections::BTreeSet;

pub(in crate::domain) use claimed::is_about;
pub use counts::{
    Counts, approved_with, behind_claims, claimed_things, claimed_words, claims, plan_claimed, used_past_date,
};
pub(in crate::domain) use counts::{covers, signed_for, whose};
pub use judgement::Judgement;
pub(in crate::domain) use left::waved_off;
pub use left::{pictureless, wants_picture};
pub(in crate::domain) use outcome::has_levels;
pub use part::{Milder, PartStanding, hold_words};
pub use past::{history_after, past_of};
pub(in crate::domain) use repaired::unchecked;
pub use wanted::{Asked, ToOrder};
pub use work::Work;

use super::apply::Change;
use super::characteristic::Characteristic;
use super::checklist::{Judged, Step};
use super::crosscheck;
use super::edition;
use super::hours;
use super::inspection::{Inspection, Past};
use super::judge::{Condition, Reach};
use super::measured::{self, Measured};
use super::outlook::{self, Outlook};
use super::phase::Phase;
use super::progress;
use super::unit::Unit;
use super::verdict::{Consequence, Hold};

/// How a characteristic stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Outcome {
    /// No reading yet.
    NotTaken,
    /// Some readings; a place that is past its limit, or outside the new range, already is said at once.
    Incomplete(Option<Box<Judgement>>),
    /// Some places are void, left out or without a level, and another one is past its level all the same; and why it is
    /// open besides, none once a supervisor has accepted the rest unjudged.
    Past(Box<Judgement>, Option<String>),
    /// Readings were left out, by name and with a reason.
    LeftOut(String),
    /// The part was condemned, or the rotor came stripped: nobody waits for it.
    Excused,
    /// Complete, and cannot be judged: why.
    Open(String),
    /// A supervisor has accepted it without a judgement.
    Unjudged {
        /// Who, by name, and whether that is only claimed.
        by: String,
        /// Why.
        reason: String,
    },
    /// Judged.
    Judged(Box<Judgement>),
}

impl Outcome {
    /// Whether no figure is waited for: the last opening's may be shown beside, and nobody copies it.
    pub fn is_whole(&self, measured: &Measured) -> bool {
        match self {
            Self::Judged(_) | Self::Open(_) | Self::Unjudged { .. } => true,
            Self::Past(..) => measured.is_complete(),
            Self::NotTaken | Self::Incomplete(_) | Self::LeftOut(_) | Self::Excused => false,
        }
    }
}

/// One characteristic.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CharacteristicStanding {
    /// Which.
    pub characteristic: Characteristic,
    /// The step it is measured at.
    pub step: String,
    /// As found, or as left.
    pub condition: Condition,
    /// Its figures and their working.
    pub measured: Measured,
    /// How it stands.
    pub outcome: Outcome,
    /// Whether it will last; as found only, once it is judged.
    pub outlook: Option<Outlook>,
    /// The last opening's figure; shown only once the set is complete.
    pub last: Option<Past>,
}

impl CharacteristicStanding {
    /// The judgement, also of a set that is not judged as a whole and past a level all the same.
    pub fn judgement(&self) -> Option<&Judgement> {
        match &self.outcome {
            Outcome::Judged(judgement) | Outcome::Incomplete(Some(judgement)) | Outcome::Past(judgement, _) => {
                Some(judgement)
            }
            Outcome::NotTaken
            | Outcome::Incomplete(None)
            | Outcome::LeftOut(_)
            | Outcome::Excused
            | Outcome::Open(_)
            | Outcome::Unjudged { .. } => None,
        }
    }

    /// What a concession about it names: one about the figure as left says nothing of the one as found.
    pub fn named(&self) -> String {
        format!("{}{}", self.characteristic.id(), self.condition.behind())
    }

    /// Whether a supervisor has accepted it without a judgement, or by figures that were insisted on.
    pub fn is_accepted(&self) -> bool {
        self.is_unjudged() || matches!(&self.outcome, Outcome::Judged(judgement) if judgement.accepted.is_some())
    }

    /// Whether its figures judge it: too close to call they do not, nor where somebody else answers for them.
    fn is_judged(&self) -> bool {
        let decided = |judgement: &Judgement| {
            let open = judgement.reached.reach == Reach::Undecided || judgement.disputed.is_some();
            !open && judgement.accepted.is_none()
        };
        matches!(&self.outcome, Outcome::Judged(judgement) if decided(judgement))
    }

    /// Whether its figure is within what judges it, or a supervisor lets it go as it is.
    fn is_sound(&self) -> bool {
        let within = |judgement: &Judgement| judgement.reached.reach == Reach::Within;
        self.is_unjudged() || matches!(&self.outcome, Outcome::Judged(judgement) if within(judgement))
    }

    /// Whether a supervisor has accepted it so by marking its step as not on this machine.
    pub fn is_marked_away(&self, inspection: &Inspection) -> bool {
        let step = inspection.head().checklist.step(&self.step).filter(|_| self.is_unjudged());
        step.is_some_and(|step| left::marked_away(inspection, step).is_some())
    }

    fn is_unjudged(&self) -> bool {
        matches!(self.outcome, Outcome::Unjudged { .. })
    }

    /// Steps that it obliges besides: those its step names, once it is past its limit as found.
    pub fn obliges<'a>(&self, inspection: &'a Inspection) -> &'a [String] {
        let past = self.judgement().is_some_and(|judgement| judgement.reached.reach == Reach::Limit);
        let step =
            inspection.head().checklist.step(&self.step).filter(|_| past && self.condition == Condition::AsFound);
        let row = step.and_then(|step| step.judges.iter().find(|judged| judged.characteristic == self.characteristic));
        row.map_or(&[], |judged| &judged.obliges)
    }

    /// What it leads to: the figure now, or the forecast, whichever is graver.
    pub fn leads_to(&self) -> Consequence {
        self.leads_to_now().max(self.leads_to_ahead())
    }

    /// What the figure leads to today.
    pub fn leads_to_now(&self) -> Consequence {
        self.judgement().map_or(Consequence::Nothing, |judgement| judgement.reached.leads_to)
    }

    /// What the forecast leads to.
    pub fn leads_to_ahead(&self) -> Consequence {
        match &self.outlook {
            Some(Outlook::Told { leads_to, .. }) => *leads_to,
            Some(Outlook::None(_) | Outlook::Still(_)) | None => Consequence::Nothing,
        }
    }
}

/// All verdicts.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Standing {
    /// Every characteristic of the checklist that this machine has, in the order of the work.
    pub characteristics: Vec<CharacteristicStanding>,
    /// Every part, in the checklist's order.
    pub parts: Vec<PartStanding>,
    /// What holds the job as a whole: opening answers still to be given.
    pub job: BTreeSet<Hold>,
    /// What a supervisor looks at first.
    pub counts: Counts,
}

impl Standing {
    /// Reckons everything from the entries so far.
    pub fn of(inspection: &Inspection) -> Self {
        let steps: Vec<_> = progress::steps(inspection).collect();
        let judged = steps.iter().flat_map(|step| step.judges.iter().map(move |judged| (*step, judged)));
        let characteristics: Vec<_> = judged
            .filter(|(_, judged)| !is_absent(inspection, judged.characteristic))
            .map(|(step, judged)| characteristic(inspection, step, judged))
            .collect();
        Self::from_characteristics(inspection, characteristics)
    }

    /// The standing after one more entry: only what `change` names is reckoned anew.
    #[must_use]
    pub fn after(&self, inspection: &Inspection, change: &Change) -> Self {
        match change {
            Change::Whole => Self::of(inspection),
            Change::Step(step) => {
                let checklist = &inspection.head().checklist;
                let anew = |one: &CharacteristicStanding| {
                    let own = checklist.step(&one.step);
                    let warmed_by = own.and_then(|own| own.takes.temperatures());
                    let obliged = checklist
                        .step(step)
                        .is_some_and(|by| by.judges.iter().any(|by| by.obliges.contains(&one.step)));
                    let beside = own.is_some_and(|own| crosscheck::is_beside(inspection, own, step));
                    if one.step != *step && warmed_by != Some(step.as_str()) && !obliged && !beside {
                        return one.clone();
                    }
                    let judged = own.and_then(|step| {
                        Some((step, step.judges.iter().find(|judged| judged.characteristic == one.characteristic)?))
                    });
                    judged.map_or_else(|| one.clone(), |(step, judged)| characteristic(inspection, step, judged))
                };
                Self::from_characteristics(inspection, self.characteristics.iter().map(anew).collect())
            }
        }
    }

    /// How one part stands, nothing else reckoned: what the gates of its rebuild ask.
    pub fn of_part(inspection: &Inspection, part: &str) -> Option<PartStanding> {
        let part = inspection.head().checklist.part(part)?;
        // asked for each step of the rebuild at every key
        let one = || {
            let mut one = [part::one(inspection, part, &Self::characteristics_of(inspection, &part.id))];
            claimed::keep_of_one(inspection, &part.id, &mut one);
            one.into()
        };
        inspection.standing_of_parts().of(&part.id, one).pop()
    }

    /// Whether a characteristic, named by its id, has the part replaced.
    pub(in crate::domain) fn replaces(inspection: &Inspection, part: &str, named: &str) -> bool {
        let of_part = Self::characteristics_of(inspection, part);
        of_part.iter().any(|one| one.named() == named && one.leads_to() == Consequence::Replace)
    }

    fn characteristics_of(inspection: &Inspection, part: &str) -> Vec<CharacteristicStanding> {
        let mine = progress::steps(inspection).flat_map(|step| {
            let mine = step.judges.iter().filter(|judged| judged.characteristic.part() == part);
            mine.filter(|judged| !is_absent(inspection, judged.characteristic)).map(move |judged| (step, judged))
        });
        mine.map(|(step, judged)| characteristic(inspection, step, judged)).collect()
    }

    fn from_characteristics(inspection: &Inspection, characteristics: Vec<CharacteristicStanding>) -> Self {
        let parts = part::parts(inspection, &characteristics);
        let later = inspection.opening().missing().into_iter().map(|what| format!("later: {what}"));
        let later =
            later.chain(hours::in_doubt(inspection).map(|odd| format!("hours of the machine, provisional: {odd}")));
        let job = later.chain(edition::asked(inspection).map(|asked| asked.words)).map(Hold::Open).collect();
        let counts = Counts::of(inspection, &characteristics);
        Self { characteristics, parts, job, counts }
    }

    /// The part with this id.
    pub fn part(&self, id: &str) -> Option<&PartStanding> {
        self.parts.iter().find(|part| part.id == id)
    }

    /// A characteristic as it was found or left.
    pub fn characteristic(
        &self,
        characteristic: Characteristic,
        condition: Condition,
    ) -> Option<&CharacteristicStanding> {
        self.characteristics.iter().find(|one| one.characteristic == characteristic && one.condition == condition)
    }

    /// What a step judges.
    pub fn of_step<'a>(&'a self, step: &'a str) -> impl Iterator<Item = &'a CharacteristicStanding> {
        self.characteristics.iter().filter(move |one| one.step == step)
    }

    /// What holds the job as a whole, without the word of the hold.
    pub fn job_to_settle(&self) -> impl Iterator<Item = &str> {
        self.job.iter().filter_map(|hold| if let Hold::Open(what) = hold { Some(what.as_str()) } else { None })
    }

    /// Every hold in words, `bush, turbine: new part to check`; what the closing signature carries on by name.
    pub fn holds_in_words(&self) -> Vec<String> {
        let job = self.job.iter().map(|hold| format!("the job: {}", hold_words(hold)));
        let parts = self.parts.iter().flat_map(|part| {
            part.verdict.holds.iter().map(move |hold| format!("{}: {}", part.short, hold_words(hold)))
        });
        job.chain(parts).collect()
    }
}

fn is_absent(inspection: &Inspection, characteristic: Characteristic) -> bool {
    inspection.sheet().is_some_and(|sheet| sheet.absent.contains_key(&characteristic))
}

fn characteristic(inspection: &Inspection, step: &Step, judged: &Judged) -> CharacteristicStanding {
    let condition = step.condition();
    let measured = measured::measure(inspection, step, judged);
    let outcome = outcome::outcome(inspection, (step, judged, condition), &measured);
    let looks_ahead = condition == Condition::AsFound || judged.characteristic.unit() == Unit::Hour;
    let told = !matches!(outcome, Outcome::NotTaken | Outcome::Excused);
    let from = measured.to_look_ahead();
    let ahead = looks_ahead && told && !from.is_empty();
    let outlook = ahead.then(|| outlook::outlook(inspection, judged.characteristic, &from).0);
    // places that are void, struck, left out or accepted unjudged take nothing away of where the others go
    let grave =
        |outlook: &Outlook| matches!(outlook, Outlook::Told { leads_to, .. } if *leads_to > Consequence::Nothing);
    let outlook = outlook.filter(|outlook| matches!(outcome, Outcome::Judged(_)) || grave(outlook));
    // a new part, or a pair with a new one, has no last time
    let renewed = condition == Condition::AsLeft && past::is_renewed(inspection, judged.characteristic);
    let last =
        if outcome.is_whole(&measured) && !renewed { past::last(inspection, judged.characteristic) } else { None };
    CharacteristicStanding {
        characteristic: judged.characteristic,
        step: step.id.clone(),
        condition,
        measured,
        outcome,
        outlook,
        last,
    }
}

/// Steps that the figures of a step oblige: past a limit as found, by the places that are complete; a void place says nothing.
pub(super) fn obliged_by(inspection: &Inspection, step: &Step) -> Vec<String> {
    let condition = step.condition();
    let past = |judged: &&Judged| {
        let measured = measured::measure(inspection, step, judged);
        outcome::judgement(inspection, (judged, condition), &measured)
            .is_ok_and(|one| one.judgement.reached.reach == Reach::Limit)
    };
    let obliging = step.judges.iter().filter(|judged| condition == Condition::AsFound && !judged.obliges.is_empty());
    obliging.filter(past).flat_map(|judged| judged.obliges.iter().cloned()).collect()
}

/// What the forecasts of a step lead to on this part, as the next opening is planned now.
pub(super) fn leads_to_ahead(inspection: &Inspection, step: &Step, part: &str) -> Consequence {
    gravest_on(step, part, |judged| {
        let from = measured::measure(inspection, step, judged).to_look_ahead();
        match outlook::outlook(inspection, judged.characteristic, &from).0 {
            Outlook::Told { leads_to, .. } if !from.is_empty() => Some(leads_to),
            Outlook::Told { .. } | Outlook::None(_) | Outlook::Still(_) => None,
        }
    })
}

/// What the figures of a step lead to on this part, by the places that are complete.
pub(super) fn leads_to(inspection: &Inspection, step: &Step, part: &str) -> Consequence {
    gravest_on(step, part, |judged| {
        let measured = measured::measure(inspection, step, judged);
        let judgement = outcome::judgement(inspection, (judged, step.condition()), &measured).ok()?;
        Some(judgement.judgement.reached.leads_to)
    })
}

/// The gravest of all that a step judges on a part.
fn gravest_on(step: &Step, part: &str, leads_to: impl Fn(&Judged) -> Option<Consequence>) -> Consequence {
    let of_part = step.judges.iter().filter(|judged| judged.characteristic.part() == part);
    of_part.filter_map(leads_to).max().unwrap_or(Consequence::Nothing)
}

/// Whether a phase is over by the time the decisions are signed.
fn before_decision(phase: Phase) -> bool {
    phase <= Phase::Measure
}
