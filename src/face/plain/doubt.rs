//! A question about a figure: it takes its choice words alone, and the figure waits with it.

use crate::domain::doubt::{Doubt, OneTurn};
use crate::domain::figure::Figure;
use crate::domain::inspection::Inspection;
use crate::domain::left_out;
use crate::domain::measured;
use crate::domain::refusal::{Refusal, RefusalKind};
use crate::domain::request::Request;
use crate::domain::typed::Typed;

use super::super::acts::Deed;
use super::inquiry::{Answers, Reply};

/// A figure in doubt, with the ways out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Doubted {
    question: String,
    ways: Vec<(&'static str, String, Way)>,
}

#[derive(Debug, Clone, PartialEq, Eq)]
enum Way {
    /// This is asked instead.
    Ask(Box<Request>),
    /// The earlier reading is struck, and taken again first.
    Retake(u32),
    /// Nothing: the place is asked for again.
    Again,
}

impl Doubted {
    /// A reading that `decide` asks about.
    pub(super) fn new(request: Request, typed: &Typed, doubts: &[Doubt], inspection: &Inspection) -> Self {
        let figure = typed.figure;
        let questions: Vec<_> = doubts.iter().map(Doubt::question).collect();
        let turn = doubts.iter().find_map(|doubt| if let Doubt::Turn { mended, .. } = doubt { *mended } else { None });
        let mut ways: Vec<_> = turn.and_then(|(mended, way)| by_turn(&request, mended, way)).into_iter().collect();
        ways.push(("again", "asks the place again".to_owned(), Way::Again));
        if doubts.iter().any(Doubt::is_of_pair) {
            ways.extend(retake_other(inspection, &request));
        }
        let words = doubts.iter().map(|doubt| doubt.word().to_owned()).collect();
        let step = if let Request::Reading { step, .. } = &request { step.as_str() } else { "" };
        let step = inspection.head().checklist.step(step);
        let provisional = step.is_some_and(|step| left_out::carries_verdict(inspection, step));
        if let Some(insisted) = insisted(request, words) {
            let takes = format!(
                "takes {figure}, {}",
                if provisional { "its verdict stays provisional" } else { "told as insisted on" }
            );
            ways.push(("insist", takes, Way::Ask(Box::new(insisted))));
        }
        Self { question: format!("{figure}: {}", questions.join(" ")), ways }
    }

    /// A lift whose second figure is not above the first; nothing when the refusal is another.
    pub(super) fn reversed(request: &Request, refusal: &Refusal, inspection: &Inspection) -> Option<Self> {
        let RefusalKind::LiftReversed(lift) = &refusal.kind else { return None };
        let Request::Reading { place, .. } = request else { return None };
        let mut ways = Vec::new();
        let is_high = place.ends_with(&lift.high);
        if let (Some(turn), true) = (lift.one_turn_more, is_high) {
            ways.push(by_turn(request, turn, OneTurn::More)?);
        }
        ways.push(("again", format!("asks {} again", if is_high { &lift.high } else { &lift.low }), Way::Again));
        ways.extend(retake_other(inspection, request));
        let question = format!("{} {}", refusal.kind.what(), refusal.kind.mend());
        Some(Self { question, ways })
    }

    /// Takes one of the words and nothing else.
    pub(super) fn ask(&self, answers: &mut Answers<'_>) -> Reply<Deed> {
        let ways: Vec<_> = self.ways.iter().map(|(word, does, _)| format!("{word} {does}")).collect();
        let words: Vec<_> = self.ways.iter().map(|(word, ..)| *word).collect();
        let index = answers.word(&format!("{} {}.", self.question, ways.join("; ")), &words)?;
        Ok(match self.ways.get(index).map(|(_, _, way)| way) {
            Some(Way::Ask(request)) => Deed::Ask(vec![(**request).clone()]),
            Some(Way::Retake(entry)) => {
                let strike = crate::domain::entry::Act::Strike {
                    entry: *entry,
                    reason: "the pair cannot be: taken again".to_owned(),
                };
                Deed::Ask(vec![Request::Do(strike)])
            }
            Some(Way::Again) | None => Deed::Say(Vec::new()),
        })
    }
}

/// The other reading of the lift, to be struck and asked again.
fn retake_other(inspection: &Inspection, request: &Request) -> Option<(&'static str, String, Way)> {
    let Request::Reading { step, place, .. } = request else { return None };
    let step = inspection.head().checklist.step(step)?;
    let (entry, other) = measured::other_of_lift(inspection, step, place)?;
    let name = other.figure.unwrap_or_default();
    Some(("retake", format!("strikes {name} and asks it again"), Way::Retake(entry)))
}

/// The same reading with a turn put right, `mended` then.
fn by_turn(request: &Request, mended: Figure, way: OneTurn) -> Option<(&'static str, String, Way)> {
    let instead = request.with_turn(way)?;
    Some(("turn", format!("takes {mended}"), Way::Ask(Box::new(instead))))
}

/// The same reading, insisted on.
fn insisted(request: Request, words: Vec<String>) -> Option<Request> {
    let Request::Reading { step, place, text, gauge, mut insisted } = request else { return None };
    insisted.extend(words);
    Some(Request::Reading { step, place, text, gauge, insisted })
}
