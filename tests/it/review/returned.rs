//! Sent back: remarks at their steps, answers, and who may do what with a signature.

use std::collections::BTreeSet;

use crate::rig::{Rig, head};
use asfound::domain::carried::{self, Carried};
use asfound::domain::checklist::Signing;
use asfound::domain::entry::{Act, Remark};
use asfound::domain::inspection::Head;
use asfound::domain::verdict::Consequence;
use asfound::domain::{progress, signing};

fn remark(step: &str, text: &str) -> Remark {
    Remark { step: Some(step.into()), text: text.into() }
}

fn send_back(sign: u32, remarks: Vec<Remark>) -> Act {
    Act::Return { sign, chain: String::new(), remarks }
}

fn signed() -> (Rig, u32) {
    let mut rig = Rig::open();
    rig.sign(Signing::Decisions, &[]);
    let sign = rig.last().number;
    (rig, sign)
}

#[test]
fn a_remark_opens_its_step_again_until_it_is_answered() {
    let (mut rig, sign) = signed();
    assert_eq!(rig.refused(Act::Tick { step: "rotor/covers".into() }), "DoneAlready");
    rig.by("supervisor-b").take(send_back(sign, vec![remark("rotor/covers", "were the marks there?")]));
    rig.by("fitter-a");
    assert_eq!(progress::next_step(&rig.inspection).unwrap().id, "rotor/covers");
    assert_eq!(signing::remarks_at(&rig.inspection, "rotor/covers").len(), 1);
    assert_eq!(rig.refused(Act::Tick { step: "rotor/covers".into() }), "taken");
    assert_eq!(rig.refused(Act::Sign(Rig::signature(Signing::Decisions, &[]))), "RemarksOpen");
    let back = rig.last().number;
    rig.take(Act::RemarkAnswered { entry: back, remark: 1, text: "yes, photo 3".into() });
    assert_eq!(rig.refused(Act::Tick { step: "rotor/covers".into() }), "DoneAlready");
    assert_ne!(progress::next_step(&rig.inspection).unwrap().id, "rotor/covers");
    rig.sign(Signing::Decisions, &[]);
    // the remark and its answer stay
    assert!(matches!(&rig.inspection.entry(back).unwrap().act, Act::Return { remarks, .. } if remarks.len() == 1));
}

#[test]
fn only_a_supervisor_sends_back_and_only_once() {
    let (mut rig, sign) = signed();
    let act = || send_back(sign, vec![remark("bush.ts/look", "which side?")]);
    assert_eq!(rig.refused(act()), "NoSupervisor");
    rig.by("supervisor-b");
    assert_eq!(rig.refused(send_back(sign, vec![])), "NoWords");
    assert_eq!(rig.refused(send_back(sign, vec![remark("bush.ts/look", " ")])), "NoWords");
    assert_eq!(rig.refused(send_back(sign, vec![remark("bush.ts/nothing", "why?")])), "NoSuchStep");
    assert_eq!(rig.refused(send_back(sign - 1, vec![remark("bush.ts/look", "why?")])), "NoSuchEntry");
    rig.take(act());
    assert_eq!(rig.refused(act()), "SentBack");
    assert_eq!(rig.refused(Act::Countersign { sign, chain: String::new() }), "SentBack");
}

#[test]
fn a_supervisor_ashore_countersigns_a_day_later_without_making_anything_safe() {
    let (mut rig, sign) = signed();
    assert_eq!(signing::pending_here(&rig.inspection, &BTreeSet::new()).len(), 1);
    rig.by("supervisor-b").at("2031-04-19T10:00:00+02:00");
    rig.take(Act::Countersign { sign, chain: String::new() });
    assert!(signing::pending_here(&rig.inspection, &BTreeSet::new()).is_empty());
}

#[test]
fn a_pending_countersignature_blocks_neither_rebuild_nor_close() {
    let mut rig = Rig::open();
    rig.take(Act::NotApplicable { step: "bush.ts/soak".into(), point: None, reason: "clean".into() });
    rig.lifts("bush.ts/clearance", ["0.180"; 3], ["0.182"; 3]);
    rig.journal(["59.931", "59.931", "59.930", "59.930", "59.930", "59.930", "59.930", "59.930", "59.930", "59.930"]);
    rig.sign(Signing::Decisions, &[]);
    assert_eq!(signing::pending_here(&rig.inspection, &BTreeSet::new()).len(), 1);
    let as_left = Rig::typed("bush.ts/as-left", "outer 0 / 1 / down", "0.020", "D2", &[]);
    assert_eq!(crate::rig::said(rig.ask(&as_left)), "taken");
    rig.take(Act::Note { step: Some("job/cause".into()), text: "dirty oil".into() });
    rig.leave_rest();
    let holds = rig.standing().holds_in_words();
    rig.sign(Signing::Close, &holds);
    assert_eq!(signing::pending_here(&rig.inspection, &BTreeSet::new()).len(), 2);
}

fn concession() -> Act {
    Act::Concession {
        part: "shaft".into(),
        about: "shaft.ts.step".into(),
        who: "the maker (invented)".into(),
        document: "letter 7".into(),
        conditions: "measure at 500 h".into(),
        until: "the next opening".into(),
        allows: Consequence::Watch,
    }
}

#[test]
fn a_concession_comes_up_at_the_next_inspection_of_that_part() {
    let mut rig = Rig::open();
    rig.take(concession());
    let next = carried::carried_on(&rig.inspection);
    assert_eq!(next.len(), 1);
    assert_eq!((next[0].about.as_str(), next[0].conditions.as_str()), ("step wear, turbine side", "measure at 500 h"));
    // typed by a fitter it is a claim, and is told as one; a supervisor's own is none
    assert_eq!(next[0].who, "the maker (invented), only claimed");
    let mut own = Rig::open();
    own.supervised(concession());
    assert_eq!(carried::carried_on(&own.inspection)[0].who, "the maker (invented)");
    // an inspection that looks at the part has seen it; one that does not hands it on
    let seen = Rig::with(Head { carried: next.clone(), ..head() });
    assert!(carried::carried_on(&seen.inspection).is_empty());
    let elsewhere = Carried { part: "nozzle".into(), ..next[0].clone() };
    let unseen = Rig::with(Head { carried: vec![elsewhere.clone()], ..head() });
    assert_eq!(carried::carried_on(&unseen.inspection), vec![elsewhere]);
}

#[test]
fn a_struck_concession_is_not_carried_on() {
    let mut rig = Rig::open();
    rig.take(concession());
    let entry = rig.last().number;
    rig.take(Act::Strike { entry, reason: "the letter is about another rotor".into() });
    assert!(carried::carried_on(&rig.inspection).is_empty());
}
