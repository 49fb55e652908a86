//! From the fields of an answer to what is wanted.

use crate::domain::checklist::{Ask, Signing, Step, Takes};
use crate::domain::entry::{Act, FindingMade, Replaces, TimerMark};
use crate::domain::id::Id;
use crate::domain::inspection::Inspection;
use crate::domain::request::Request;
use crate::domain::rotor::Fitted;
use crate::domain::stamp::Stamp;

use super::super::answers::pairs;

/// What an answer wants.
pub(super) enum Wish {
    Clock(Stamp),
    Hands(Id, Option<Id>),
    Ask(Vec<Request>),
    Sign(Signing, Id),
    Countersign(Signing, Id),
}

/// What the fields want; the first is a word of their own, a part, or a step.
pub(super) fn wish(inspection: &Inspection, fields: &[&str]) -> Result<Wish, String> {
    let id = |text: &str| text.parse::<Id>().map_err(|refusal| refusal.to_string());
    match fields {
        ["clock", moment] => {
            moment.parse().map(Wish::Clock).map_err(|refusal: crate::domain::refusal::Refusal| refusal.to_string())
        }
        ["hand", by] => Ok(Wish::Hands(id(by)?, None)),
        ["hand", by, writer] => Ok(Wish::Hands(id(by)?, Some(id(writer)?))),
        ["resume"] => Ok(ask(Act::Resume)),
        [part, "fitted", rest] => fitted(inspection, part, rest),
        [step, rest @ ..] => {
            let checklist = &inspection.head().checklist;
            let step = checklist.step(step).ok_or_else(|| format!("there is no step `{step}`"))?;
            at_step(step, rest)
        }
        [] => Err("the line is empty".to_owned()),
    }
}

fn ask(act: Act) -> Wish {
    Wish::Ask(vec![Request::Do(act)])
}

fn fitted(inspection: &Inspection, part: &str, rest: &str) -> Result<Wish, String> {
    let serial = pairs(rest, &["serial"]).into_iter().next().map(|(_, serial)| serial);
    let machine = inspection.opening().machine_hours.ok_or("the hours of the machine are not known")?;
    let hours = "0 h".parse().map_err(|refusal: crate::domain::refusal::Refusal| refusal.to_string())?;
    let fitted = Fitted { serial, hours, machine, doubts: Vec::new() };
    Ok(ask(Act::PartFitted { part: part.to_owned(), fitted, replaces: Replaces::Yes }))
}

fn at_step(step: &Step, rest: &[&str]) -> Result<Wish, String> {
    let id = || step.id.clone();
    let place = |text: &str| Some(text.to_owned()).filter(|text| text != "-");
    let wish = match rest {
        ["confirm"] => return confirm_all(step),
        ["confirm", point] => ask(Act::Confirm { step: id(), point: (*point).to_owned() }),
        ["not applicable", point, why] => {
            ask(Act::NotApplicable { step: id(), point: place(point), reason: (*why).to_owned() })
        }
        ["tick"] => ask(Act::Tick { step: id() }),
        ["looked"] => ask(Act::Looked { step: id() }),
        ["finding", kind, grade, details @ ..] => ask(finding(step, kind, grade, details)),
        ["in"] => ask(Act::Timer { step: id(), mark: TimerMark::Started }),
        ["out"] => ask(Act::Timer { step: id(), mark: TimerMark::Ended }),
        ["words" | "note", text] => ask(Act::Note { step: Some(id()), text: (*text).to_owned() }),
        ["skip", place_of, why] => ask(Act::Skip { step: id(), place: place(place_of), reason: (*why).to_owned() }),
        ["sign", by] => Wish::Sign(signing(step)?, person(by)?),
        ["countersign", by] => Wish::Countersign(signing(step)?, person(by)?),
        [place_of, text, gauge] => {
            let gauge = if *gauge == "-" { None } else { Some(person(gauge)?) };
            let (step, place, text) = (id(), (*place_of).to_owned(), (*text).to_owned());
            Wish::Ask(vec![Request::Reading { step, place, text, gauge, insisted: Vec::new() }])
        }
        _ => return Err(format!("`{}` is no answer to a step", rest.join(" | "))),
    };
    Ok(wish)
}

/// An id of a person or a gauge.
fn person(text: &str) -> Result<Id, String> {
    text.parse().map_err(|refusal: crate::domain::refusal::Refusal| refusal.to_string())
}

fn confirm_all(step: &Step) -> Result<Wish, String> {
    let Takes::Points(points) = &step.takes else { return Err(format!("{} has no points", step.id)) };
    let one = |point: &crate::domain::checklist::Point| {
        Request::Do(Act::Confirm { step: step.id.clone(), point: point.id.clone() })
    };
    Ok(Wish::Ask(points.iter().map(one).collect()))
}

fn finding(step: &Step, kind: &str, grade: &str, details: &[&str]) -> Act {
    let words = Ask::ALL.map(Ask::word);
    Act::Finding(FindingMade {
        part: step.part.clone(),
        step: step.id.clone(),
        kind: kind.to_owned(),
        grade: grade.to_owned(),
        details: pairs(&details.join(" "), &words).into_iter().collect(),
        note: None,
        photos: Vec::new(),
    })
}

fn signing(step: &Step) -> Result<Signing, String> {
    if let Takes::Sign(what) = &step.takes { Ok(*what) } else { Err(format!("{} takes no signature", step.id)) }
}
