//! What is scrapped, and who waves off a step that was obliged by what was found.

use asfound::domain::apply::apply;
use asfound::domain::entry::{Act, Entry, FindingMade};
use asfound::domain::inspection::Head;

use crate::rig::{Rig, head};

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

#[test]
fn only_a_piece_is_scrapped_and_what_it_obliges_elsewhere_stays() {
    let mut rig = scored("shaft/journal");
    assert_eq!(rig.refused(condemned("job")), "NoPiece");
    rig.take(deep()).take(condemned("bush.ts"));
    let left = holds(&rig);
    assert!(left.contains("scoring obliges: the shaft / journal") && !left.contains("not taken"), "{left}");
}
