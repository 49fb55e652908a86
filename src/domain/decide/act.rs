//! Everything but readings: may it be done?

use super::super::characteristic::Given;
use super::super::checklist::{Ask, Signing, Step, StepAsk, Takes};
use super::super::edition;
use super::super::entitled::{
    May, concedes, excuses_picture, known_person, less_safe, reasoned, reasoned_plan, strikes, supervises, watches,
    worded, words, written,
};
use super::super::entry::{Act, Entry, FindingMade, Signature, TimerMark};
use super::super::exact::Exact;
use super::super::figure::OF_A_METAL;
use super::super::gate;
use super::super::id::Id;
use super::super::inspection::{Inspection, Opening, Scene};
use super::super::instrument::Instrument;
use super::super::person::Person;
use super::super::phase::Phase;
use super::super::progress::{self, StepState};
use super::super::refusal::{Refusal, RefusalKind};
use super::super::repeated;
use super::super::request::Hand;
use super::super::sheet::GivenFigure;
use super::super::signing;
use super::super::soak;
use super::super::standing::{Standing, wants_picture};
use super::super::telling::name_of;
use super::super::unit::Unit;
use super::super::until;
use super::super::verdict::{Consequence, Disposition};
use super::super::watch::Watch;
use super::fitting::{identified, piece};
use super::level::{self, may_judge, no_looser};
use super::{at_step, countersigning, not_done, planning};

pub(super) fn may(inspection: &Inspection, act: &Act, hand: &Hand) -> May {
    match act {
        Act::Confirm { step, point } => point_of(inspection, step, Some(point), hand),
        Act::NotApplicable { step, point, reason } => {
            reasoned(reason)?;
            not_done::not_here(inspection, step, point.as_deref(), hand)
        }
        Act::Repeat { step, place } => further(inspection, step, place, hand),
        Act::Tick { step } => fresh(inspection, step, hand, &|takes| *takes == Takes::Tick),
        Act::Looked { step } => fresh(inspection, step, hand, &|takes| *takes == Takes::Look),
        Act::Timer { step, mark } => timer(inspection, step, *mark, hand),
        Act::Note { step, text } => note(inspection, step.as_deref(), text, hand),
        Act::Photo { step, .. } => step.as_deref().map_or(Ok(()), |step| open_step(inspection, step, hand).map(drop)),
        Act::Finding(finding) => finding_fits(inspection, finding, hand),
        Act::Skip { step, place, reason } => not_done::skip(inspection, step, place.as_deref(), reason),
        Act::Strike { entry, reason } => strike(inspection, *entry, reason, hand),
        Act::Call { part, question } => worded(question).and_then(|()| known_part(inspection, part)),
        Act::Condemned { part, reason } => reasoned(reason).and_then(|()| piece(inspection, part)),
        Act::Answer { entry, text, who } => {
            worded(text).and_then(|()| worded(who)).and_then(|()| answer(inspection, *entry, who))
        }
        Act::Unjudged { supervisor, reason, .. } => reasoned(reason).and_then(|()| supervises(inspection, supervisor)),
        Act::Overrule { part, to, supervisor, reason } => {
            reasoned(reason)?;
            overrule(inspection, part, *to, supervisor)
        }
        Act::Concession { part, about, who, document, conditions, until, .. } => {
            [who, conditions].into_iter().try_for_each(|text| worded(text))?;
            // a number is a document too, and an end is a day or hours
            [document, until].into_iter().try_for_each(|text| written(text))?;
            known_part(inspection, part).and_then(|()| concedes(inspection, (part, about), &hand.by))?;
            until::checked(inspection, until, hand.at.date())
        }
        Act::Mentor { mentor } => watches(inspection, mentor),
        Act::Sign(signature) => sign(inspection, signature, hand),
        Act::Return { sign, remarks, .. } => countersigning::send_back(inspection, (*sign, remarks), hand),
        Act::RemarkAnswered { entry, remark, text } => {
            worded(text).and_then(|()| open_remark(inspection, *entry, *remark))
        }
        Act::Countersign { sign, .. } => countersigning::countersign(inspection, *sign, hand),
        Act::Brought { entry, .. } => countersigning::bring(inspection, entry.as_deref()),
        Act::SeenOutside { note, .. } => worded(note),
        // a figure comes as typed, by its own door
        Act::Reading { .. } => Err(RefusalKind::OtherKindOfStep.into()),
        Act::GaugeCheck { gauge, piece, shows } => match inspection.gauge(gauge) {
            Some(gauge) => [piece, shows].into_iter().try_for_each(|size| gauge.reads(*size)),
            None => Err(RefusalKind::UnknownGauge { id: gauge.to_string() }.into()),
        },
        Act::Opening(later) => planning::opening(inspection, later, hand),
        Act::Plan { hours, date, supervisor, reason } => {
            let anew = Opening { next_hours: *hours, next_date: *date, ..Opening::default() };
            reasoned_plan(reason).and_then(|()| planning::plan(inspection, (&anew, supervisor.as_ref()), hand))
        }
        Act::Person(person) => introduced(inspection, person),
        Act::Gauge(gauge) => grows_as_metal(gauge),
        Act::Begin | Act::Resume => Ok(()),
        Act::Given { given, figure } => {
            possible(*given, figure).and_then(|()| level::no_other(inspection, *given, figure, hand))
        }
        Act::Level { characteristic, levels, .. } => may_judge(inspection, *characteristic, levels)
            .and_then(|()| no_looser(inspection, *characteristic, levels, hand)),
        Act::PartFitted { part, fitted, replaces } => identified(inspection, part, fitted, *replaces),
    }
}

/// Nobody known becomes somebody else, nor another of nearly the same id: keys alone may be added.
pub(super) fn introduced(inspection: &Inspection, person: &Person) -> May {
    let Some(known) = inspection.person(&person.id) else { return Ok(()) };
    let is_same = (&known.id, &known.name) == (&person.id, &person.name);
    let roles = known.risen(person).map_or_else(|| known.roles.clone(), |risen| risen.roles);
    if is_same && roles == person.roles {
        return Ok(());
    }
    let roles: Vec<_> = known.roles.iter().map(|role| role.word()).collect();
    let why = format!("`{}` is known here already: {}, {}.", known.id, known.name, roles.join(", "));
    let mend = "Take that person: Esc, who is here. Somebody else needs another id.";
    Err(RefusalKind::NoAnswer { why, mend }.into())
}

fn open_remark(inspection: &Inspection, entry: u32, remark: u32) -> May {
    let open = signing::open_remarks(inspection).iter().any(|(of, which, _)| *of == entry && *which == remark);
    if open { Ok(()) } else { Err(RefusalKind::NoSuchEntry { entry }.into()) }
}

/// The step, when the record has it and it may be worked on.
pub(super) fn open_step<'a>(inspection: &'a Inspection, id: &str, hand: &Hand) -> Result<&'a Step, Refusal> {
    let step = step_of(inspection, id)?;
    let missing = gate::missing(inspection, step, hand);
    if missing.is_empty() {
        return Ok(step);
    }
    let words = missing.iter().map(|one| one.words(inspection)).collect();
    Err(Refusal::from(RefusalKind::Shut { missing: words }).at(at_step(id)))
}

pub(super) fn step_of<'a>(inspection: &'a Inspection, id: &str) -> Result<&'a Step, Refusal> {
    let step = progress::steps(inspection).find(|step| step.id == id);
    step.ok_or_else(|| RefusalKind::NoSuchStep { step: id.to_owned() }.into())
}

/// A step that takes one thing, once.
fn fresh(inspection: &Inspection, id: &str, hand: &Hand, fits: &dyn Fn(&Takes) -> bool) -> May {
    let step = open_step(inspection, id, hand)?;
    if !fits(&step.takes) {
        return Err(Refusal::from(RefusalKind::OtherKindOfStep).at(at_step(id)));
    }
    match progress::state(inspection, step) {
        // a remark that waits for an answer has opened it again
        StepState::Done if !signing::remarks_at(inspection, id).is_empty() => Ok(()),
        StepState::Done => Err(Refusal::from(RefusalKind::DoneAlready).at(at_step(id))),
        StepState::ToDo
        | StepState::Partly { .. }
        | StepState::Running { .. }
        | StepState::Skipped
        | StepState::NotApplicable
        | StepState::NotAsked => Ok(()),
    }
}

pub(super) fn point_of(inspection: &Inspection, id: &str, point: Option<&str>, hand: &Hand) -> May {
    let step = open_step(inspection, id, hand)?;
    let Takes::Points(points) = &step.takes else {
        // a whole step that the machine does not have; never the safety points, they are marked one by one
        return if point.is_none() { Ok(()) } else { Err(Refusal::from(RefusalKind::OtherKindOfStep).at(at_step(id))) };
    };
    let Some(point) = point else { return Err(Refusal::from(RefusalKind::PointByPoint).at(at_step(id))) };
    if points.iter().any(|one| one.id == point) {
        Ok(())
    } else {
        Err(Refusal::from(RefusalKind::NoSuchPlace { place: point.to_owned() }).at(at_step(id)))
    }
}

fn timer(inspection: &Inspection, id: &str, mark: TimerMark, hand: &Hand) -> May {
    let step = open_step(inspection, id, hand)?;
    let running = matches!(progress::state(inspection, step), StepState::Running { .. });
    let soaking = progress::soaking(inspection).into_iter().find(|one| one.step.id == id);
    if let Some(since) = soaking.map(|one| one.since).filter(|since| hand.when().seconds_since(*since) < 0) {
        let (out, since) = (hand.when().clock(), since.clock());
        return Err(Refusal::from(RefusalKind::OutBeforeIn { out, since }).at(at_step(id)));
    }
    match (&step.takes, mark, running) {
        (Takes::Soak { .. }, TimerMark::Started, false) | (Takes::Soak { .. }, TimerMark::Ended, true) => Ok(()),
        (Takes::Soak { .. }, TimerMark::Started, true) => Err(Refusal::from(RefusalKind::DoneAlready).at(at_step(id))),
        (Takes::Soak { .. }, TimerMark::Ended, false) => Err(Refusal::from(RefusalKind::NotRunning).at(at_step(id))),
        _ => Err(Refusal::from(RefusalKind::OtherKindOfStep).at(at_step(id))),
    }
}

fn note(inspection: &Inspection, step: Option<&str>, text: &str, hand: &Hand) -> May {
    worded(text)?;
    let Some(id) = step else { return Ok(()) };
    let step = step_of(inspection, id)?;
    if soak::strayed(inspection, step).is_some() {
        // it says why it is left at that
        reasoned(text).map_err(|refusal| refusal.at(at_step(id)))?;
    }
    if wants_picture(inspection, step) {
        excuses_picture(text).map_err(|refusal| refusal.at(at_step(id)))?;
    }
    // a note may stand at any step at any time; only where it is what the step takes must the step be open
    if step.takes != Takes::Words {
        return Ok(());
    }
    open_step(inspection, id, hand)?;
    if step.phase == Phase::Close {
        reasoned(text).map_err(|refusal| refusal.at(at_step(id)))?;
    }
    if !says_something(step, text) {
        let why = format!("`{}` tells nobody anything.", text.trim());
        let mend = "Say it in two words or more, or type the number of one that is offered.";
        return Err(Refusal::from(RefusalKind::NoAnswer { why, mend }).at(at_step(id)));
    }
    let opening = inspection.opening();
    let planned = opening.next_hours.is_some() && opening.next_date.is_some();
    if step.asks.contains(&StepAsk::Plan) && !planned {
        return Err(Refusal::from(RefusalKind::NotPlanned).at(at_step(id)));
    }
    Ok(())
}

/// Whether a sentence is one that the step offers, or says something: of a cause no single word does.
fn says_something(step: &Step, text: &str) -> bool {
    let begins = text.split(':').next().unwrap_or_default().trim();
    let offered = step.offers.iter().any(|offer| offer.eq_ignore_ascii_case(begins));
    let letters = text.chars().filter(|letter| letter.is_alphanumeric()).count();
    offered || letters >= 3 && (step.offers.is_empty() || words(text) >= 2)
}

/// What is kept of a typed detail; a number of a blade, vane or land is one that the machine has.
///
/// # Errors
/// Those of [`Ask::taken`], `NotSoMany`.
pub fn detail_fits(inspection: &Inspection, part: &str, ask: Ask, text: &str) -> Result<String, Refusal> {
    let taken = ask.taken(text)?;
    if !matches!(ask, Ask::Number | Ask::Others) {
        return Ok(taken);
    }
    let given = Given::numbers_of(part).and_then(|given| inspection.sheet()?.given.get(&given));
    let Some(has) = given.map(|given| given.figure) else { return Ok(taken) };
    let numbers = text.split(|letter: char| !letter.is_ascii_digit()).filter(|digits| !digits.is_empty());
    let there = |digits: &str| {
        Exact::parse(digits).zip(has.to(Unit::One)).is_some_and(|(one, has)| {
            // the damaged one is not among the others
            if ask == Ask::Number { one <= has && !one.is_zero() } else { one < has }
        })
    };
    if numbers.into_iter().all(there) {
        return Ok(taken);
    }
    Err(RefusalKind::NotSoMany { typed: text.trim().to_owned(), has }.into())
}

fn finding_fits(inspection: &Inspection, finding: &FindingMade, hand: &Hand) -> May {
    let step = step_of(inspection, &finding.step)?;
    if step.phase > Phase::Safe {
        open_step(inspection, &finding.step, hand)?;
    }
    known_part(inspection, &finding.part)?;
    let kind = inspection.head().checklist.part(&finding.part).and_then(|part| part.finding(&finding.kind));
    let kind = kind.filter(|kind| kind.grades.iter().any(|grade| grade.grade == finding.grade));
    if let Some(kind) = kind {
        let mut details = finding.details.iter().filter_map(|(word, text)| Some((Ask::parse(word)?, text)));
        let taken = |(ask, text): (Ask, &String)| detail_fits(inspection, &finding.part, ask, text).map(drop);
        let missing = kind.not_told(|ask| finding.details.contains_key(ask.word()));
        let told = if missing.is_empty() || finding.note.as_ref().is_some_and(|note| worded(note).is_ok()) {
            Ok(())
        } else {
            Err(RefusalKind::NotTold(format!("Not told: {} of the {}.", missing.join(" and "), finding.kind)).into())
        };
        return told.and_then(|()| details.try_for_each(taken)).map_err(|refusal| refusal.at(at_step(&step.id)));
    }
    let finding = format!("{}, {}", finding.kind, finding.grade);
    Err(Refusal::from(RefusalKind::NoSuchFinding { finding }).at(at_step(&step.id)))
}

/// One repeat more: only where it may decide.
fn further(inspection: &Inspection, id: &str, place: &str, hand: &Hand) -> May {
    let step = open_step(inspection, id, hand)?;
    if repeated::places(inspection, step).iter().any(|one| one == place) {
        return Ok(());
    }
    Err(Refusal::from(RefusalKind::NotUndecided(place.to_owned())).at(at_step(id)))
}

fn strike(inspection: &Inspection, number: u32, reason: &str, hand: &Hand) -> May {
    reasoned(reason)?;
    let entry = inspection.entry(number).ok_or(RefusalKind::NoSuchEntry { entry: number })?;
    if inspection.struck_by(number).is_some() {
        return Err(RefusalKind::StruckAlready { entry: number }.into());
    }
    strikes(inspection, number, &hand.by)?;
    if let Act::Repeat { step, place } = &entry.act
        && repeated::is_taken(inspection, step_of(inspection, step)?, place)
    {
        return Err(RefusalKind::NotToStrike(number).into());
    }
    if entry.act.can_be_struck() { Ok(()) } else { Err(RefusalKind::NotToStrike(number).into()) }
}

/// Whether an entry is a finding that goes to maker, owner or class.
pub fn refers(inspection: &Inspection, entry: &Entry) -> bool {
    matches!(&entry.act, Act::Finding(found) if inspection.consequences_of(found).contains(&Consequence::Refer))
}

fn answer(inspection: &Inspection, number: u32, who: &str) -> May {
    let entry = inspection.entry(number).filter(|entry| inspection.struck_by(entry.number).is_none());
    if let Some(Entry { act: Act::Call { .. }, by, .. }) = entry
        && (by.as_str().eq_ignore_ascii_case(who.trim()) || name_of(inspection, by).eq_ignore_ascii_case(who.trim()))
    {
        let why = "Who has called does not answer the call.".to_owned();
        let mend = "Name who has answered. A call made in error is struck, with the reason: Esc, strike.";
        return Err(RefusalKind::NoAnswer { why, mend }.into());
    }
    if entry.is_some_and(|entry| refers(inspection, entry)) {
        return Err(RefusalKind::TakesConcession.into());
    }
    let asks = entry.is_some_and(|entry| matches!(entry.act, Act::Call { .. } | Act::Finding(_)))
        || edition::asked(inspection).is_some_and(|asked| asked.entry == number);
    if asks { Ok(()) } else { Err(RefusalKind::NoSuchEntry { entry: number }.into()) }
}

/// Toward the safer side: free. The other way: a named supervisor, and never for a crack.
fn overrule(inspection: &Inspection, part: &str, to: Disposition, supervisor: &Id) -> May {
    known_part(inspection, part)?;
    let standing = Standing::of(inspection);
    if standing.part(part).is_some_and(|part| !part.can_be_overruled()) {
        return Err(RefusalKind::NoSuchPart { part: part.to_owned() }.into());
    }
    if standing.part(part).is_some_and(|part| part.is_safer(to)) {
        return known_person(inspection, supervisor);
    }
    less_safe(inspection, part, supervisor)
}

/// No gauge grows as no metal does.
fn grows_as_metal(gauge: &Instrument) -> May {
    match gauge.expansion.filter(|one| one.is_no_metals()) {
        Some(one) => Err(RefusalKind::NotGiven(format!("{}: {one} is not {OF_A_METAL}.", gauge.id)).into()),
        None => Ok(()),
    }
}

/// What no machine can have is no figure of this one.
fn possible(given: Given, figure: &GivenFigure) -> May {
    worded(&figure.source)?;
    match given.expected_instead(figure.figure) {
        Some(expected) => {
            let words = format!("{}: {} is not {expected}.", given.what(), figure.figure);
            Err(RefusalKind::NotGiven(words).into())
        }
        None => Ok(()),
    }
}

fn sign(inspection: &Inspection, signature: &Signature, hand: &Hand) -> May {
    let step = gate::sign_step(inspection, signature.what).ok_or(RefusalKind::OtherKindOfStep)?;
    open_step(inspection, &step.id, hand)?;
    if let Some(standing) = signing::standing_signature(inspection, signature.what)
        && signing::grown_since(inspection, standing) == signing::Signed::Whole
    {
        return Err(Refusal::from(RefusalKind::DoneAlready).at(at_step(&step.id)));
    }
    let remarks: Vec<_> =
        signing::open_remarks(inspection).into_iter().map(|(_, _, remark)| remark.text.clone()).collect();
    if !remarks.is_empty() {
        return Err(Refusal::from(RefusalKind::RemarksOpen { remarks }).at(at_step(&step.id)));
    }
    // a rehearsal is the learner's own
    let rehearsal = inspection.head().scene == Scene::Practice;
    if !rehearsal && Watch::over(inspection, &hand.by, u32::MAX) == Watch::Nobody {
        let why = "A trainee signs with a fitter or supervisor who watches, and none is named.".to_owned();
        let mend = "Name the mentor first: Esc, more, mentor. Or have a fitter sign: Esc, who is here.";
        return Err(Refusal::from(RefusalKind::NoAnswer { why, mend }).at(at_step(&step.id)));
    }
    if signature.what == Signing::Decisions {
        return Ok(());
    }
    if signing::standing_signature(inspection, Signing::Decisions).is_none() {
        return Err(Refusal::from(RefusalKind::Shut { missing: vec!["the decisions are not signed".to_owned()] })
            .at(at_step(&step.id)));
    }
    let standing = Standing::of(inspection);
    let carried = |words: &String| signature.carried.contains(words);
    let open: Vec<_> = standing.holds_in_words().into_iter().filter(|words| !carried(words)).collect();
    if open.is_empty() {
        Ok(())
    } else {
        Err(Refusal::from(RefusalKind::HeldOpen { holds: open }).at(at_step(&step.id)))
    }
}

pub(super) fn known_part(inspection: &Inspection, part: &str) -> May {
    if inspection.head().checklist.part(part).is_some() {
        Ok(())
    } else {
        Err(RefusalKind::NoSuchPart { part: part.to_owned() }.into())
    }
}
