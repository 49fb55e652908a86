//! What must be true before a step opens.

use super::characteristic::Given;
use super::checklist::{Signing, Step};
use super::entry::Act;
use super::inspection::Inspection;
use super::phase::Phase;
use super::progress::{self, StepState};
use super::request::Hand;
use super::signing;
use super::standing::Standing;
use super::verdict::Hold;

/// Why a step does not open yet, and where to go instead.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum Missing {
    /// Safety points are not all confirmed: the step that has them.
    Safety(String),
    /// After a break or with another hand, the safety points are asked again.
    SafetyAgain,
    /// A step that comes first.
    Step(String),
    /// The decisions are not signed.
    Decisions,
    /// The part itself is held: the hold.
    Held(Hold),
    /// A figure of the machine that the grid needs.
    Given(Given),
}

impl Missing {
    /// The step to go to, where there is one.
    pub fn step<'a>(&'a self, inspection: &'a Inspection) -> Option<&'a str> {
        match self {
            Self::Safety(step) | Self::Step(step) => Some(step),
            Self::Decisions => sign_step(inspection, Signing::Decisions).map(|step| step.id.as_str()),
            Self::SafetyAgain | Self::Held(_) | Self::Given(_) => None,
        }
    }

    /// What is missing, in words.
    pub fn words(&self, inspection: &Inspection) -> String {
        let title = |id: &str| match inspection.head().checklist.step(id) {
            Some(step) => step_name(inspection, step),
            None => id.to_owned(),
        };
        match self {
            Self::Safety(step) => format!("not made safe: {}", title(step)),
            Self::SafetyAgain => "after a break or with other hands: the machine is still safe?".to_owned(),
            Self::Step(step) => format!("first: {}", title(step)),
            Self::Decisions => "the decisions are not signed".to_owned(),
            Self::Held(Hold::StopAndCall(question)) => format!("stop and call: {question}"),
            Self::Held(Hold::Referred(what)) => format!("referred: {what}"),
            Self::Held(Hold::Open(what)) => format!("open: {what}"),
            Self::Held(hold @ (Hold::NewPart | Hold::Balance)) => hold.word().to_owned(),
            Self::Given(given) => format!("the limits sheet does not give: {}", given.what()),
        }
    }
}

/// `Bush, turbine side / clearance by lift`.
pub fn step_name(inspection: &Inspection, step: &Step) -> String {
    let part = inspection.head().checklist.part(&step.part).map_or(step.part.as_str(), |part| &part.name);
    format!("{part} / {}", step.title)
}

/// The step that takes this signature.
pub fn sign_step(inspection: &Inspection, what: Signing) -> Option<&Step> {
    inspection.head().checklist.steps.iter().find(|step| step.takes == super::checklist::Takes::Sign(what))
}

/// Everything that keeps `step` shut for this hand; empty when it may be worked on.
pub fn missing(inspection: &Inspection, step: &Step, hand: &Hand) -> Vec<Missing> {
    let mut missing = Vec::new();
    if step.phase > Phase::Safe {
        missing.extend(unsafe_steps(inspection).map(|step| Missing::Safety(step.id.clone())));
        if missing.is_empty() && must_ask_again(inspection, hand) {
            missing.push(Missing::SafetyAgain);
        }
    }
    missing.extend(step.needs.iter().filter(|need| !is_met(inspection, need)).map(|need| Missing::Step(need.clone())));
    let decided = signing::standing_signature(inspection, Signing::Decisions).is_some();
    if matches!(step.phase, Phase::Rebuild | Phase::After) && !decided {
        missing.push(Missing::Decisions);
    } else if step.phase == Phase::Rebuild {
        missing.extend(own_holds(inspection, &step.part).map(Missing::Held));
    } else if step.phase > Phase::Safe && step.phase != Phase::Decide {
        missing.extend(open_call(inspection, &step.part).map(|question| Missing::Held(Hold::StopAndCall(question))));
    }
    if step.takes == super::checklist::Takes::Sign(Signing::Close) {
        // whatever is entered behind the close, nobody has signed
        let left = progress::steps(inspection)
            .filter(|other| other.id != step.id && !step.needs.contains(&other.id))
            .filter(|other| !progress::state(inspection, other).is_settled());
        missing.extend(left.map(|other| Missing::Step(other.id.clone())));
    }
    if let super::checklist::Takes::Readings(grid) = &step.takes {
        let given = |given: &Given| inspection.sheet().and_then(|sheet| sheet.given(*given)).is_some();
        missing.extend(grid.needs().into_iter().filter(|need| !given(need)).map(Missing::Given));
    }
    missing
}

/// What a part's rebuild waits for: its own questions, not the part that is still to be ordered.
fn own_holds(inspection: &Inspection, part: &str) -> impl Iterator<Item = Hold> {
    let holds = Standing::found(inspection, part).map(|found| found.holds).unwrap_or_default();
    holds.into_iter().filter(|hold| matches!(hold, Hold::Open(_) | Hold::Referred(_) | Hold::StopAndCall(_)))
}

fn unsafe_steps(inspection: &Inspection) -> impl Iterator<Item = &Step> {
    let safe = progress::steps(inspection).filter(|step| step.phase == Phase::Safe);
    safe.filter(|step| {
        !matches!(progress::state(inspection, step), StepState::Done | StepState::NotApplicable | StepState::NotAsked)
    })
}

/// Whether a needed step is out of the way; one that the checklist does not have holds nobody.
fn is_met(inspection: &Inspection, need: &str) -> bool {
    let step = progress::steps(inspection).find(|step| step.id == need);
    step.is_none_or(|step| progress::state(inspection, step).is_settled())
}

/// Whether this hand must say again that the machine is safe: new on this job, or back after a break.
pub fn must_ask_again(inspection: &Inspection, hand: &Hand) -> bool {
    let longest = i64::from(hand.break_hours) * 3600;
    let mut mine = inspection.standing_entries().filter(|entry| entry.by.same_as(&hand.by)).peekable();
    let mut sworn = false;
    let mut last = None;
    while let Some(entry) = mine.next() {
        let came_back = last.is_some_and(|last| entry.at.seconds_since(last) > longest);
        sworn = matches!(entry.act, Act::Confirm { .. } | Act::Resume) || (sworn && !came_back);
        last = Some(entry.at);
        if mine.peek().is_none() {
            sworn = sworn && hand.at.seconds_since(entry.at) <= longest;
        }
    }
    !sworn
}

/// The question of a call on this part that nobody has answered.
pub fn open_call(inspection: &Inspection, part: &str) -> Option<String> {
    let answered = |call: u32| {
        inspection.standing_entries().any(|later| matches!(later.deed(), Act::Answer { entry, .. } if *entry == call))
    };
    inspection.standing_entries().find_map(|entry| {
        let Act::Call { part: of, question } = &entry.act else { return None };
        (of == part && !answered(entry.number)).then(|| question.clone())
    })
}
