//! A small invented machine: enough parts and steps to try every rule of the inspection on, and a bench over it.

pub(crate) mod machine;

use asfound::domain::apply::apply;
use asfound::domain::checklist::{Signing, Takes};
use asfound::domain::decide::decide;
use asfound::domain::entry::{Act, Entry, FindingMade, Signature};
use asfound::domain::inspection::{Head, Inspection};
use asfound::domain::request::{Decision, Hand, Request};
use asfound::domain::standing::Standing;
use asfound::domain::verdict::Consequence;

pub(crate) use machine::{blocks, checklist, figure, grid, head, id, level, sheet, stamp, step};

/// A bench without a terminal: requests in, verdicts out.
#[derive(Clone)]
pub(crate) struct Rig {
    pub(crate) inspection: Inspection,
    pub(crate) hand: Hand,
}

impl Rig {
    /// Begun, nothing else.
    pub(crate) fn begun() -> Self {
        Self::with(head())
    }

    pub(crate) fn with(head: Head) -> Self {
        let hand = Hand { by: id("fitter-a"), writer: None, at: head.begun, late: None, break_hours: 4 };
        let mut rig = Self { inspection: Inspection::new(head), hand };
        rig.take(Act::Begin);
        rig
    }

    /// Made safe, the float taken, the covers off, the bush looked at.
    pub(crate) fn open() -> Self {
        let mut rig = Self::begun();
        rig.covers_off();
        rig
    }

    /// Made safe, float taken, covers off, looked at.
    pub(crate) fn covers_off(&mut self) -> &mut Self {
        self.make_safe();
        self.read("rotor/axial", "axial / pushed", "0.020").read("rotor/axial", "axial / pulled", "0.210");
        self.take(Act::Tick { step: "rotor/covers".into() });
        self.take(Act::Looked { step: "bush.ts/look".into() })
    }

    pub(crate) fn make_safe(&mut self) -> &mut Self {
        for point in ["fuel", "oil"] {
            self.take(Act::Confirm { step: "job/safe".into(), point: point.into() });
        }
        self
    }

    pub(crate) fn by(&mut self, name: &str) -> &mut Self {
        self.hand.by = id(name);
        self
    }

    /// Taken by the supervisor's own hand, so that it is no claim.
    pub(crate) fn supervised(&mut self, act: Act) -> &mut Self {
        let by = self.hand.by.to_string();
        self.by("supervisor-b").take(act).by(&by)
    }

    pub(crate) fn at(&mut self, text: &str) -> &mut Self {
        self.hand.at = stamp(text);
        self
    }

    pub(crate) fn ask(&self, request: &Request) -> Decision {
        decide(&self.inspection, request, &self.hand)
    }

    pub(crate) fn may(&self, act: Act) -> Decision {
        self.ask(&Request::Do(act))
    }

    /// The refusal's kind, or what else was answered.
    pub(crate) fn refused(&self, act: Act) -> String {
        said(self.may(act))
    }

    pub(crate) fn take(&mut self, act: Act) -> &mut Self {
        let decision = self.may(act);
        self.enter(decision)
    }

    pub(crate) fn enter(&mut self, decision: Decision) -> &mut Self {
        match decision {
            Decision::Take(entry) => {
                apply(&mut self.inspection, *entry);
            }
            other => panic!("not taken: {other:?}"),
        }
        self
    }

    pub(crate) fn typed(step: &str, place: &str, text: &str, gauge: &str, insisted: &[&str]) -> Request {
        Request::Reading {
            step: step.into(),
            place: place.into(),
            text: text.into(),
            gauge: Some(id(gauge)),
            insisted: insisted.iter().map(|word| (*word).to_owned()).collect(),
        }
    }

    pub(crate) fn read(&mut self, step: &str, place: &str, text: &str) -> &mut Self {
        let gauge = if step == "shaft/journal" { "M1" } else { "D2" };
        let decision = self.ask(&Self::typed(step, place, text, gauge, &[]));
        self.enter(decision)
    }

    /// Three lifts at both places of the bush: `[[down, up]; 3]` each.
    pub(crate) fn lifts(&mut self, step: &str, outer: [&str; 3], inner: [&str; 3]) -> &mut Self {
        for (place, ups) in [("outer 0", outer), ("inner 0", inner)] {
            for (repeat, up) in (1..).zip(ups) {
                self.read(step, &format!("{place} / {repeat} / down"), "0.020");
                self.read(step, &format!("{place} / {repeat} / up"), up);
            }
        }
        self
    }

    /// Unworn twice, then planes a and b in four directions.
    pub(crate) fn journal(&mut self, figures: [&str; 10]) -> &mut Self {
        let places = ["unworn 1", "unworn 2", "a 0", "a 45", "a 90", "a 135", "b 0", "b 45", "b 90", "b 135"];
        for (place, text) in places.into_iter().zip(figures) {
            self.read("shaft/journal", place, text);
        }
        self
    }

    /// Leaves out, with a reason, whatever is neither done nor a signature.
    pub(crate) fn leave_rest(&mut self) -> &mut Self {
        use asfound::domain::progress;
        let left: Vec<_> = progress::steps(&self.inspection)
            .filter(|step| {
                !matches!(step.takes, Takes::Sign(_)) && !progress::state(&self.inspection, step).is_settled()
            })
            .map(|step| step.id.clone())
            .collect();
        for step in left {
            self.take(Act::Skip { step, place: None, reason: "not on this job".into() });
        }
        self
    }

    pub(crate) fn sign(&mut self, what: Signing, carried: &[String]) -> &mut Self {
        let signature = Self::signature(what, carried);
        self.take(Act::Sign(signature))
    }

    pub(crate) fn signature(what: Signing, carried: &[String]) -> Signature {
        Signature {
            what,
            length: 0,
            sha256: String::new(),
            standing: vec![],
            photos: vec![],
            carried: carried.to_vec(),
        }
    }

    pub(crate) fn standing(&self) -> Standing {
        Standing::of(&self.inspection)
    }

    /// `replace [new part to check]`
    pub(crate) fn verdict(&self, part: &str) -> String {
        let standing = self.standing();
        let verdict = &standing.part(part).unwrap().verdict;
        let holds: Vec<_> = verdict.holds.iter().map(|hold| hold.word()).collect();
        format!("{} {holds:?}", verdict.disposition.word()).replace('"', "")
    }

    pub(crate) fn last(&self) -> &Entry {
        self.inspection.entries().last().unwrap()
    }
}

/// `taken`, `asked: turn`, or the refusal's kind.
pub(crate) fn said(decision: Decision) -> String {
    match decision {
        Decision::Take(_) => "taken".to_owned(),
        Decision::Ask { doubts, .. } => {
            format!("asked: {}", doubts.iter().map(|doubt| doubt.word()).collect::<Vec<_>>().join(", "))
        }
        Decision::Refuse(refusal) => refusal.kind.name(),
    }
}

/// Something seen on the turbine side's bush.
pub(crate) fn finding(kind: &str, grade: &str) -> Act {
    let (part, step) = ("bush.ts".to_owned(), "bush.ts/look".to_owned());
    Act::Finding(FindingMade { part, step, kind: kind.into(), grade: grade.into(), ..FindingMade::default() })
}

/// The maker's answer to what that entry saw there: watch it.
pub(crate) fn conceded(entry: u32) -> Act {
    Act::Concession {
        part: "bush.ts".into(),
        about: entry.to_string(),
        who: "the maker".into(),
        document: "letter 3 (invented)".into(),
        conditions: "none".into(),
        until: "the next opening".into(),
        allows: Consequence::Watch,
    }
}
