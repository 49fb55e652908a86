//! What a dialogue comes to, and its doing: asked of the inspection, or of the files first.

use std::collections::VecDeque;

use crate::domain::apply::apply;
use crate::domain::checklist::Step;
use crate::domain::decide::decide;
use crate::domain::entry::{Act, PhotoRef};
use crate::domain::gate::{self, Missing};
use crate::domain::refusal::{Refusal, RefusalKind};
use crate::domain::request::{Decision, Request};
use crate::domain::signing::Seal;
use crate::domain::stamp::Stamp;

use super::super::acts::{Deed, FROM_PAPER, Other};
use super::doubt::Doubted;
use super::{Session, Talk, Then, Want, told};

/// Said of what was answered while the machine had to be said to be safe.
const UNTIL_SAFE: &str = "Kept: it is entered as soon as the machine is said to be still safe.";

/// Said of a change of hands while something is kept.
const FIRST_SAFE: &str = "Not taken: what is kept is entered first, under the name it was answered by.";

impl Session {
    pub(super) fn perform(&mut self, deed: Deed, now: Stamp, said: &mut Vec<String>) -> Want {
        let talk = std::mem::replace(&mut self.talk, Talk::Step);
        match deed {
            Deed::Found(finding, photo) => return self.fetch(talk, Then::Found(finding), Want::Photo(photo)),
            Deed::Photo(step, path) => return self.fetch(talk, Then::Photo(step), Want::Photo(path)),
            Deed::Sign(what, carried) => return self.fetch(talk, Then::Sign(what, carried), Want::Seal),
            Deed::Ask(requests) => {
                self.answers.clear();
                return self.ask(requests, now, said);
            }
            Deed::NewGauge(_, gauge) => {
                self.answers.clear();
                self.hold(gauge.id.clone(), now);
                return self.ask(vec![Request::Do(Act::Gauge(gauge))], now, said);
            }
            Deed::Key(entry, path) => {
                self.answers.clear();
                return Want::Key(entry, path);
            }
            Deed::Leave => return Want::Leave,
            Deed::Go(step) => {
                said.extend(self.left_for(&step, now));
                self.goal = Some(step);
                self.shown = None;
            }
            Deed::Gauge(_, id) => said.extend(self.take_in_hand(id, now)),
            // what was kept is entered by whoever has answered it
            Deed::Hands(_) if self.is_unentered() => said.push(FIRST_SAFE.to_owned()),
            Deed::Hands(hands) => {
                let new: Vec<_> = hands.new.into_iter().map(|person| Request::Do(Act::Person(person))).collect();
                self.by = hands.by;
                self.writer = hands.writer;
                if !new.is_empty() {
                    self.answers.clear();
                    return self.ask(new, now, said);
                }
            }
            Deed::AtPaper(taken, act) => {
                if let Some(late) = &mut self.late {
                    late.taken = taken;
                }
                self.answers.clear();
                return self.ask(vec![Request::Do(*act)], now, said);
            }
            Deed::Late(late) => {
                self.late = late;
                if self.late.is_some() {
                    said.push(FROM_PAPER.to_owned());
                    self.talk = Talk::Other(Other::Sheet);
                }
            }
            Deed::Open(other) => {
                self.talk = Talk::Other(other);
                // what stood behind the number on the line answers what the number opens
                let behind = if talk == Talk::Other(Other::Menu) { self.answers.split_off(1) } else { Vec::new() };
                self.answers = behind;
                return self.go_on(now, said);
            }
            Deed::Say(lines) => said.extend(lines),
        }
        self.answers.clear();
        self.go_on(now, said)
    }

    /// The answers stay: a picture that cannot be had, or turns out to be lost, is asked about behind them.
    fn fetch(&mut self, talk: Talk, then: Then, want: Want) -> Want {
        self.talk = talk;
        self.then = then;
        want
    }

    /// What is said of a step that is left for another, and how to come back.
    fn left_for(&self, step: &str, now: Stamp) -> Option<String> {
        let (left, _) = self.place(now).filter(|(left, _)| left != step)?;
        Some(format!("Left as it stood: {left}. The work goes on from here; ! 6 leads back."))
    }

    /// Asks the inspection; what it takes is applied and goes to the disk.
    fn ask(&mut self, requests: Vec<Request>, now: Stamp, said: &mut Vec<String>) -> Want {
        let mut requests = VecDeque::from(requests);
        while let Some(request) = requests.pop_front() {
            match decide(&self.inspection, &request, &self.hand(now)) {
                Decision::Take(entry) => {
                    if matches!(entry.act, Act::Resume) {
                        requests.extend(std::mem::take(&mut self.until_safe));
                    }
                    if let Act::Strike { entry: struck, .. } = &entry.act
                        && let Some(Act::Skip { step, .. }) = self.inspection.entry(*struck).map(|struck| &struck.act)
                    {
                        // it was struck to be done
                        self.goal = Some(step.clone());
                    }
                    if let Act::Repeat { step, .. } = &entry.act {
                        // until it is taken the step is open again
                        said.extend(self.left_for(step, now));
                        self.goal = Some(step.clone());
                    }
                    if self.before.is_none() {
                        self.before = Some(Box::new(self.standing.clone()));
                    }
                    let change = apply(&mut self.inspection, (*entry).clone());
                    self.standing = self.standing.after(&self.inspection, &change);
                    self.waiting.push(*entry);
                }
                Decision::Ask { typed, doubts } => {
                    self.talk = Talk::Doubt(Box::new(Doubted::new(request, &typed, &doubts, &self.inspection)));
                    break;
                }
                Decision::Refuse(_) if self.waits_for_safety(&request, now) => {
                    said.push(UNTIL_SAFE.to_owned());
                    self.until_safe.extend(std::iter::once(request).chain(requests));
                    break;
                }
                Decision::Refuse(refusal) => {
                    self.refused(&request, &refusal, said);
                    break;
                }
            }
        }
        if self.waiting.is_empty() {
            return self.go_on(now, said);
        }
        Want::Save(self.waiting.clone())
    }

    /// Whether nothing but the question whether the machine is safe stands in the way.
    fn waits_for_safety(&self, request: &Request, now: Stamp) -> bool {
        let step = self.step_of(request);
        step.is_some_and(|step| gate::missing(&self.inspection, step, &self.hand(now)) == [Missing::SafetyAgain])
    }

    /// The step that a request is about.
    pub(super) fn step_of(&self, request: &Request) -> Option<&Step> {
        let id = match request {
            Request::Reading { step, .. } => Some(step.as_str()),
            Request::Do(act) => act.step(),
            Request::Sign { .. } => None,
        };
        self.inspection.head().checklist.step(id?)
    }

    fn refused(&mut self, request: &Request, refusal: &Refusal, said: &mut Vec<String>) {
        match (&refusal.kind, Doubted::reversed(request, refusal, &self.inspection)) {
            (RefusalKind::LiftReversed(_), Some(doubted)) => self.talk = Talk::Doubt(Box::new(doubted)),
            _ => said.push(told::refusal(refusal)),
        }
    }

    pub(super) fn sealed(&mut self, seal: Seal, now: Stamp, said: &mut Vec<String>) -> Want {
        let Then::Sign(what, carried) = std::mem::replace(&mut self.then, Then::Nothing) else {
            return self.go_on(now, said);
        };
        if self.files.lost != seal.lost {
            // the word that signs is asked for anew, behind them
            self.answers.pop();
            self.files.lost = seal.lost;
            return self.go_on(now, said);
        }
        self.answers.clear();
        self.ask(vec![Request::Sign { what, seal, carried }], now, said)
    }

    pub(super) fn pictured(&mut self, photo: PhotoRef, now: Stamp, said: &mut Vec<String>) -> Want {
        let of_paper = std::mem::replace(&mut self.talk, Talk::Step) == Talk::Other(Other::Sheet);
        self.answers.clear();
        let act = match std::mem::replace(&mut self.then, Then::Nothing) {
            Then::Found(mut finding) => {
                finding.photos.push(photo);
                Act::Finding(*finding)
            }
            Then::Photo(step) => {
                if let Some(late) = self.late.as_mut().filter(|_| of_paper) {
                    late.sheet = Some(photo.hash.clone());
                }
                Act::Photo { step, photo }
            }
            Then::Sign(..) | Then::Nothing => return self.go_on(now, said),
        };
        self.ask(vec![Request::Do(act)], now, said)
    }
}
