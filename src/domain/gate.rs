//! What must be true before a step opens.

mod rebuild;
mod start;

use super::characteristic::Given;
use super::checklist::{Signing, Step, Takes};
use super::entry::{Act, Entry};
use super::identity;
use super::inspection::Inspection;
use super::outdated;
use super::phase::Phase;
use super::progress::{self, StepState};
use super::request::Hand;
use super::signing;
use super::soak;
use super::standing::{Standing, hold_words, wants_picture};
use super::verdict::{Consequence, Disposition, Hold};

/// Why a step does not open yet, and where to go instead.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum Missing {
    /// Safety points are not all confirmed: the step that has them.
    Safety(String),
    /// After a break or with another hand, the safety points are asked again.
    SafetyAgain,
    /// A step that comes first.
    Step(String),
    /// As many more that come first.
    More(usize),
    /// The decisions are not signed.
    Decisions,
    /// What they were signed for is no longer so.
    DecisionsAgain,
    /// A part is held: its name in tables, empty for the step's own; the hold.
    Held(String, Hold),
    /// A figure of the machine that the grid needs.
    Given(Given),
    /// The engine has run since, and nothing asks anybody to reach in: a finding makes it safe again first.
    NotAsked,
}

impl Missing {
    /// The step to go to, where there is one.
    pub fn step<'a>(&'a self, inspection: &'a Inspection) -> Option<&'a str> {
        match self {
            Self::Safety(step) | Self::Step(step) => Some(step),
            Self::Decisions | Self::DecisionsAgain => {
                sign_step(inspection, Signing::Decisions).map(|step| step.id.as_str())
            }
            Self::SafetyAgain | Self::More(_) | Self::Held(..) | Self::Given(_) | Self::NotAsked => None,
        }
    }

    /// The entry by which a step that comes first was left out: it is struck, or this one is left out too.
    pub fn left_out(&self, inspection: &Inspection) -> Option<u32> {
        let Self::Step(id) = self else { return None };
        let skips = |entry: &&Entry| matches!(&entry.act, Act::Skip { place: None, .. });
        inspection.standing_entries_of(id).find(skips).map(|entry| entry.number)
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
            Self::Step(id) => {
                let left_out = self
                    .left_out(inspection)
                    .map(|entry| format!(", left out in entry {entry}: strike that, or leave this step out too"));
                let step = inspection.head().checklist.step(id);
                let nothing = step.filter(|step| soak::shows_nothing(inspection, step));
                let nothing = nothing.map(|_| ", stopped too early, so that it shows nothing: begin it again");
                let early = step.filter(|step| soak::is_cut_short(inspection, step));
                let early =
                    early.map(|_| ", stopped too early: begin it again, or a note there says why it is left at that");
                let late = step.filter(|step| soak::void(inspection, step).is_some());
                let late = late.map(|_| ", what follows it is outside its time: begin again there");
                let bare = step.filter(|step| wants_picture(inspection, step));
                let bare = bare.map(|_| ", its picture, or a note there why there is none");
                let why = left_out.as_deref().or(nothing).or(early).or(late).or(bare).unwrap_or_default();
                format!("first: {}{why}", title(id))
            }
            Self::More(1) => "and one step more".to_owned(),
            Self::More(number) => format!("and {number} steps more"),
            Self::Decisions => "the decisions are not signed".to_owned(),
            Self::DecisionsAgain => {
                "signed to be replaced, and by what came since it is not: sign the decisions again".to_owned()
            }
            Self::Held(part, hold) => {
                let part = if part.is_empty() { String::new() } else { format!("{part}: ") };
                let words = match hold {
                    Hold::NewPart => "to be replaced, and no new one is entered and checked".to_owned(),
                    Hold::StopAndCall(_) | Hold::Referred(_) | Hold::Open(_) | Hold::Balance => hold_words(hold),
                };
                format!("{part}{words}")
            }
            Self::Given(given) => format!("the limits sheet does not give: {}", given.what()),
            Self::NotAsked => {
                "not made safe since it ran: enter what is missed as a finding first, that asks for the locks again"
                    .to_owned()
            }
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
    inspection.head().checklist.steps.iter().find(|step| step.takes == Takes::Sign(what))
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
    // whatever asks for it has put the safety points out of date
    if outdated::looks_inside(step)
        && progress::state(inspection, step) == StepState::NotAsked
        && outdated::is_unlocked(inspection)
    {
        missing.push(Missing::NotAsked);
    }
    let unmet = step.needs.iter().filter(|need| !is_met(inspection, step, need));
    missing.extend(unmet.map(|need| Missing::Step(need.clone())));
    missing.extend(of_phase(inspection, step));
    if step.takes == Takes::Sign(Signing::Close) {
        // whatever is entered behind the close, nobody has signed
        let left = progress::steps(inspection).filter(|other| other.id != step.id && !step.needs.contains(&other.id));
        missing.extend(first_of(inspection, left));
    }
    if let Takes::Readings(grid) = &step.takes {
        let given = |given: &Given| inspection.sheet().and_then(|sheet| sheet.given(*given)).is_some();
        missing.extend(grid.needs().into_iter().filter(|need| !given(need)).map(Missing::Given));
    }
    missing
}

/// What the phase of a step waits for.
fn of_phase(inspection: &Inspection, step: &Step) -> Vec<Missing> {
    let decided = signing::standing_signature(inspection, Signing::Decisions).is_some();
    match step.phase {
        Phase::Rebuild | Phase::After if !decided => vec![Missing::Decisions],
        Phase::Rebuild => rebuild::missing(inspection, step),
        // the machine is made safe, and the engine stopped and locked again, whatever is asked
        Phase::After if matches!(step.takes, Takes::Points(_)) => Vec::new(),
        Phase::After => start::missing(inspection, step),
        // what is decided over a call carries it on
        Phase::Safe | Phase::Decide => Vec::new(),
        Phase::New if is_let_off(inspection, &step.part) => {
            called(inspection, step).into_iter().chain([Missing::DecisionsAgain]).collect()
        }
        Phase::New if identity::waits_for_number(inspection, step) => {
            let unknown = Missing::Held(String::new(), Hold::NewPart);
            called(inspection, step).into_iter().chain([unknown]).collect()
        }
        Phase::Open
        | Phase::Before
        | Phase::Found
        | Phase::Strip
        | Phase::Look1
        | Phase::Clean
        | Phase::Look2
        | Phase::Measure
        | Phase::Order
        | Phase::New
        | Phase::Close => called(inspection, step).into_iter().collect(),
    }
}

/// Whether a part was signed to be replaced, is not, and nothing asks for it any more: a finding struck, a concession, a
/// sooner opening.
fn is_let_off(inspection: &Inspection, part: &str) -> bool {
    let replace = signing::decided(inspection, part) == Some(Disposition::Replace);
    let asks =
        || Standing::of_part(inspection, part).is_some_and(|one| one.verdict.disposition == Disposition::Replace);
    replace && !inspection.is_replaced(part) && !asks()
}

fn called(inspection: &Inspection, step: &Step) -> Option<Missing> {
    let (_, question) = open_call(inspection, &step.part)?;
    Some(Missing::Held(String::new(), Hold::StopAndCall(question.to_owned())))
}

/// How many steps are named before the rest is counted.
const NAMED: usize = 3;

/// The first of these steps that keep somebody waiting, and how many more there are.
fn first_of<'a>(inspection: &'a Inspection, steps: impl Iterator<Item = &'a Step>) -> Vec<Missing> {
    named(steps.filter(|step| !progress::state(inspection, step).is_settled()))
}

fn named<'a>(steps: impl Iterator<Item = &'a Step>) -> Vec<Missing> {
    let waiting: Vec<_> = steps.collect();
    let named = waiting.iter().take(NAMED).map(|step| Missing::Step(step.id.clone()));
    let more = waiting.len().checked_sub(NAMED).filter(|more| *more > 0).map(Missing::More);
    named.chain(more).collect()
}

/// A hold that keeps `step` shut, with the part it is on where that is another than the step's.
fn held(inspection: &Inspection, step: &Step, part: &str, hold: Hold) -> Missing {
    let other = inspection.head().checklist.part(part).filter(|part| part.id != step.part);
    Missing::Held(other.map(|part| part.short.clone()).unwrap_or_default(), hold)
}

fn unsafe_steps(inspection: &Inspection) -> impl Iterator<Item = &Step> {
    let safe = progress::steps(inspection).filter(|step| step.phase == Phase::Safe);
    safe.filter(|step| {
        !matches!(progress::state(inspection, step), StepState::Done | StepState::NotApplicable | StepState::NotAsked)
    })
}

/// Whether a needed step is out of the way; one that the checklist does not have holds nobody. A picture that it asks for
/// cannot be taken any more once the next step has closed what it shows. A wait that was left out,
/// or the dwell of a dye cut short, leaves the next wait, and the look behind it, with nothing to show.
fn is_met(inspection: &Inspection, step: &Step, need: &str) -> bool {
    let shows = matches!(step.takes, Takes::Look | Takes::Soak { .. });
    progress::steps(inspection).find(|step| step.id == need).is_none_or(|need| {
        let state = progress::state(inspection, need);
        let left_out = state == StepState::Skipped && matches!(need.takes, Takes::Soak { .. });
        let is_bare = step.phase == Phase::Rebuild && need.phase == Phase::Rebuild && wants_picture(inspection, need);
        state.is_settled() && !is_bare && !(shows && (left_out || soak::shows_nothing(inspection, need)))
    })
}

/// Whether this hand must say again that the machine is safe: new on this job, back after a break, or after another who has
/// said so. It has said so since it came by all points that are confirmed, or by going on; by one of another hand's points,
/// not.
pub fn must_ask_again(inspection: &Inspection, hand: &Hand) -> bool {
    let longest = i64::from(hand.break_hours) * 3600;
    let (mut came, mut next, mut goes_on) = (u32::MAX, hand.at, false);
    for entry in inspection.standing_entries().rev().filter(|entry| entry.by.same_as(&hand.by)) {
        // a clock that was set as far back says no more of how long the break was
        if next.seconds_since(entry.at).abs() > longest {
            break;
        }
        (came, next) = (entry.number, entry.at);
        goes_on |= matches!(entry.act, Act::Resume);
    }
    let safe = progress::steps(inspection).filter(|step| step.phase == Phase::Safe);
    let confirms = |entry: &&Entry| matches!(entry.act, Act::Confirm { .. });
    let points: Vec<_> = safe.flat_map(|step| inspection.standing_entries_of(&step.id)).filter(confirms).collect();
    let all_mine = points.iter().all(|entry| entry.number >= came && entry.by.same_as(&hand.by));
    // whoever came between has answered for it since
    let last = points.last().map_or(0, |entry| entry.number);
    let said = |entry: &&Entry| entry.number >= last && matches!(entry.act, Act::Confirm { .. } | Act::Resume);
    let others = inspection.standing_entries().rev().find(said).is_some_and(|entry| !entry.by.same_as(&hand.by));
    others || !goes_on && (points.is_empty() || !all_mine)
}

/// Whether an entry calls somebody, by a question or by what was found.
pub fn calls(inspection: &Inspection, entry: &Entry) -> bool {
    let found =
        matches!(entry.deed(), Act::Finding(found) if inspection.consequences_of(found).contains(&Consequence::Call));
    found || matches!(entry.deed(), Act::Call { .. })
}

/// A call on this part that nobody has answered: its entry and its question.
pub fn open_call<'a>(inspection: &'a Inspection, part: &str) -> Option<(u32, &'a str)> {
    inspection.standing_entries().find_map(|entry| {
        let Act::Call { part: of, question } = &entry.act else { return None };
        (of == part && !inspection.is_answered(entry.number)).then_some((entry.number, question.as_str()))
    })
}
