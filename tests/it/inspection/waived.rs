//! What is scrapped, and who waves off a step that was obliged by what was found.

use asfound::domain::apply::apply;
use asfound::domain::characteristic::Characteristic;
use asfound::domain::checklist::{Part, Signing, Takes};
use asfound::domain::entry::{Act, Entry, FindingMade, TimerMark};
use asfound::domain::inspection::Head;
use asfound::domain::person::{Person, Role};
use asfound::domain::phase::Phase;
use asfound::domain::standing::claimed_things;

use crate::rig::{Rig, head, id, step};

/// A bush of which deep scoring obliges a step.
fn scored(obliges: &str) -> Rig {
    let mut head: Head = head();
    let bush = head.checklist.parts.iter_mut().find(|part| part.id == "bush.ts").unwrap();
    bush.findings.iter_mut().find(|kind| kind.kind == "scoring").unwrap().obliges = vec![obliges.into()];
    let mut rig = Rig::with(head);
    rig.covers_off();
    rig
}

fn deep() -> Act {
    Act::Finding(FindingMade {
        part: "bush.ts".into(),
        step: "bush.ts/look".into(),
        kind: "scoring".into(),
        grade: "deep".into(),
        ..FindingMade::default()
    })
}

fn not_here() -> Act {
    Act::NotApplicable { step: "bush.ts/soak".into(), point: None, reason: "never".into() }
}

fn condemned(part: &str) -> Act {
    Act::Condemned { part: part.into(), reason: "broken in two".into() }
}

fn holds(rig: &Rig) -> String {
    let standing = rig.standing();
    standing.holds_in_words().into_iter().filter(|words| words.starts_with("bush.ts")).collect::<Vec<_>>().join("; ")
}

#[test]
fn an_obliged_step_is_waved_off_by_a_supervisor_alone() {
    let mut rig = scored("bush.ts/soak");
    assert_eq!(rig.refused(not_here()), "taken", "nothing obliges it yet");
    rig.take(deep());
    assert_eq!(rig.refused(not_here()), "Obliged");
    assert!(holds(&rig).contains("scoring obliges: the bush.ts / soak"), "{}", holds(&rig));
    rig.by("supervisor-b").take(Act::Resume).take(not_here());
    assert!(!holds(&rig).contains("obliges"), "{}", holds(&rig));
}

#[test]
fn a_fitters_word_before_the_finding_does_not_do_the_step() {
    let mut rig = scored("bush.ts/soak");
    rig.take(not_here()).take(deep());
    assert!(holds(&rig).contains("scoring obliges: the bush.ts / soak, waved off by fitter-a"), "{}", holds(&rig));
    rig.by("supervisor-b").take(Act::Resume).take(not_here());
    assert!(!holds(&rig).contains("obliges"), "{}", holds(&rig));
}

#[test]
fn what_the_sheet_judges_is_on_the_machine() {
    let mut rig = Rig::open();
    let not_here = Act::NotApplicable { step: "bush.ts/clearance".into(), point: None, reason: "not fitted".into() };
    assert_eq!(rig.refused(not_here.clone()), "Obliged");
    // a record may say so all the same: then it stays open, under the name of who said it
    let last = rig.last().clone();
    drop(apply(&mut rig.inspection, Entry { number: last.number + 1, act: not_here.clone(), ..last }));
    assert!(
        holds(&rig).contains("clearance: waved off by fitter-a, and the limits sheet has levels"),
        "{}",
        holds(&rig)
    );
    rig.by("supervisor-b").take(Act::Resume).take(not_here);
    assert!(!holds(&rig).contains("clearance"), "{}", holds(&rig));
}

/// The word that ends another question is no reason; one that says something may be short.
#[test]
fn a_word_of_another_question_is_no_reason() {
    let mut rig = Rig::open();
    let skip = |why: &str| Act::Skip { step: "bush.ts/clearance".into(), place: None, reason: why.into() };
    let none = ["ok", "Later", "yes.", "n/a", "sign", "none", "ok ok", "See above", "it is ok", "all good, yes", "no"];
    for why in none {
        assert_eq!(rig.refused(skip(why)), "NoAnswer", "{why}");
    }
    for why in ["seized", "later, by order", "not ok: torn", "no good", "it is torn", "all right side blades bent"] {
        assert_eq!(rig.refused(skip(why)), "taken", "{why}");
    }
    // nor does it settle a soak that was out too early
    let soak = |mark| Act::Timer { step: "bush.ts/soak".into(), mark };
    rig.take(soak(TimerMark::Started)).take(soak(TimerMark::Ended));
    let note = |text: &str| Act::Note { step: Some("bush.ts/soak".into()), text: text.into() };
    assert_eq!(rig.refused(note("ok")), "NoAnswer");
    assert_eq!(rig.refused(note("clean after two minutes")), "taken");
}

/// Where nobody was known as a supervisor before, whoever is one at the bench decides in the own name.
#[test]
fn a_supervisors_own_word_is_no_claim() {
    let mut head = head();
    head.people.retain(|person| !person.is(Role::Supervisor));
    let mut rig = Rig::with(head);
    let boss = id("boss");
    let person = Person { id: boss.clone(), name: "boss".into(), roles: vec![Role::Supervisor], keys: vec![] };
    rig.covers_off().take(Act::Person(person));
    let unjudged = Act::Unjudged {
        characteristic: Characteristic::parse("bush.ts.clearance").unwrap(),
        as_left: false,
        supervisor: boss,
        reason: "no gauge to be had".into(),
    };
    let mut other = rig.clone();
    other.take(unjudged.clone());
    assert_eq!(claimed_things(&other.inspection).len(), 1, "by the fitter, in the name of another");
    rig.by("boss").take(unjudged);
    assert_eq!(claimed_things(&rig.inspection).len(), 0);
}

#[test]
fn only_a_piece_is_scrapped_and_what_it_obliges_elsewhere_stays() {
    let mut rig = scored("shaft/journal");
    assert_eq!(rig.refused(condemned("job")), "NoPiece");
    let mut signed = head();
    signed.checklist.parts.push(Part { id: "close".into(), ..signed.checklist.parts[0].clone() });
    signed.checklist.steps.push(step("close/sign", Phase::Close, Takes::Sign(Signing::Close), &[]));
    assert_eq!(Rig::with(signed).refused(condemned("close")), "NoPiece");
    rig.take(deep()).take(condemned("bush.ts"));
    let left = holds(&rig);
    assert!(left.contains("scoring obliges: the shaft / journal") && !left.contains("not taken"), "{left}");
}
