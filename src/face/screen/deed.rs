//! What a dialogue came to is done: asked of the record, of the files, or changed in the hand.

use crate::domain::entry::{Act, FindingMade, Late};
use crate::domain::gate::Missing;
use crate::domain::request::Request;

use super::super::acts::{Deed, Hands, Other};
use super::super::asking;
use super::super::effect::{Effect, Query};
use super::super::look::Tone;
use super::super::model::{Model, Overlay};
use super::asked::Asked;
use super::{elses, gauge, hands, help};

/// Does it; a refusal leaves the dialogue where it is, the last answer in the field.
pub fn perform(model: &mut Model, deed: Deed, asked: Option<Box<Asked>>) -> Vec<Effect> {
    match deed {
        Deed::Ask(requests) => taken(model, requests, asked),
        Deed::NewGauge(_, new) => {
            let id = new.id.clone();
            let effects = taken(model, vec![Request::Do(Act::Gauge(new))], asked);
            if !effects.is_empty() {
                gauge::in_hand(model, &id);
            }
            effects
        }
        Deed::Gauge(_, id) => {
            gauge::in_hand(model, &id);
            Vec::new()
        }
        Deed::Hands(change) => {
            let Hands { by, writer, new } = *change;
            let new: Vec<_> = new.into_iter().map(|person| Request::Do(Act::Person(person))).collect();
            let effects = asking::ask_all(model, new);
            hands::change(model, by, writer);
            effects
        }
        Deed::Late(late) => from_paper(model, late),
        Deed::AtPaper(moment, act) => {
            if let Some(late) = model.job_mut().and_then(|job| job.late.as_mut()) {
                late.taken = moment;
            }
            taken(model, vec![Request::Do(*act)], asked)
        }
        Deed::Photo(_, path) => picture(model, None, path, asked),
        Deed::Found(finding, path) => picture(model, Some(finding), path, asked),
        Deed::Key(entry, path) => {
            model.overlays.extend(asked.map(Overlay::Form));
            vec![Effect::HandOver(Box::new(Query::Key(entry, path)))]
        }
        Deed::Go(step) => {
            let now = model.now.stamp;
            if let Some(job) = model.job_mut() {
                job.go_to(&step, now);
            }
            Vec::new()
        }
        Deed::Open(other) => elses::begin(model, other),
        Deed::Say(lines) => {
            say(model, &lines, asked);
            Vec::new()
        }
        Deed::Sign(_, carried) => {
            if let Some(job) = model.job_mut() {
                job.carried = Some(carried);
            }
            vec![Effect::Ask(Box::new(Query::Seal))]
        }
        Deed::Leave => elses::away(model),
    }
}

fn say(model: &mut Model, lines: &[String], asked: Option<Box<Asked>>) {
    match lines {
        [] => {}
        [line] => model.say(Tone::Watch, line.clone()),
        lines => {
            let title = asked.map_or("how it stands".to_owned(), |asked| asked.talk.title);
            model.open(Overlay::Help(help::Help::text(&title, lines)));
        }
    }
}

/// What the record takes is on its way to the disk.
fn taken(model: &mut Model, requests: Vec<Request>, asked: Option<Box<Asked>>) -> Vec<Effect> {
    let set = requests.iter().filter_map(struck).count();
    let effects = asking::ask_all(model, requests);
    if set > 1 && effects.len() == set {
        if let Some(job) = model.job_mut() {
            job.go_to_first_open();
        }
        model.say(Tone::Good, format!("{set} figures struck. Take them again."));
    }
    if !effects.is_empty() {
        return effects;
    }
    match model.overlays.pop() {
        // its answer takes the request with it
        Some(Overlay::Question(question)) if question.takes_along() => model.overlays.push(Overlay::Question(question)),
        // whether the machine is safe is asked first: the answers lie under the question, and are sent by Enter once more
        Some(Overlay::Question(mut question)) => {
            if let Some(asked) = asked {
                question.goes_back();
                model.overlays.push(Overlay::Form(asked));
            }
            model.overlays.push(Overlay::Question(question));
        }
        top => model.overlays.extend(top.into_iter().chain(asked.map(Overlay::Form))),
    }
    effects
}

fn struck(request: &Request) -> Option<u32> {
    if let Request::Do(Act::Strike { entry, .. }) = request { Some(*entry) } else { None }
}

/// A picture is fetched, for a finding that waits for it or for the step; the dialogue stays until it is there.
fn picture(
    model: &mut Model,
    finding: Option<Box<FindingMade>>,
    path: Option<String>,
    asked: Option<Box<Asked>>,
) -> Vec<Effect> {
    if let Some(job) = model.job_mut() {
        job.found = finding;
    }
    model.say(Tone::Plain, "at it");
    model.overlays.extend(asked.map(Overlay::Form));
    vec![Effect::Ask(Box::new(Query::Photo(path)))]
}

fn from_paper(model: &mut Model, late: Option<Late>) -> Vec<Effect> {
    let is_late = late.is_some();
    if let Some(job) = model.job_mut() {
        job.late = late;
    }
    if !is_late {
        model.say(Tone::Good, "No longer from paper.");
        return Vec::new();
    }
    let effects = elses::begin(model, Other::Sheet);
    model.say(Tone::Watch, "What is typed now is late from paper, until Esc 7 says otherwise.");
    effects
}

/// The hands have changed: whether the machine is safe may be asked again.
pub fn ask_safe_again(model: &mut Model) {
    let again = model.job().is_some_and(|job| job.shut.contains(&Missing::SafetyAgain));
    if again {
        super::question::ask_safe(model);
    }
}
