//! What is scrapped, and who waves off a step that was obliged by what was found.

use asfound::domain::entry::{Act, FindingMade};
use asfound::domain::inspection::Head;

use crate::rig::{Rig, head};

/// The bush deeply scored, which obliges the journal's diameters.
fn scored() -> Rig {
    let mut head: Head = head();
    let bush = head.checklist.parts.iter_mut().find(|part| part.id == "bush.ts").unwrap();
    bush.findings.iter_mut().find(|kind| kind.kind == "scoring").unwrap().obliges = vec!["shaft/journal".into()];
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
    Act::NotApplicable { step: "shaft/journal".into(), point: None, reason: "never".into() }
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
    let mut rig = scored();
    assert_eq!(rig.refused(not_here()), "taken", "nothing obliges it yet");
    rig.take(deep());
    assert_eq!(rig.refused(not_here()), "Obliged");
    assert!(holds(&rig).contains("scoring obliges: the shaft / journal"), "{}", holds(&rig));
    rig.by("supervisor-b").take(Act::Resume).take(not_here());
    assert!(!holds(&rig).contains("obliges"), "{}", holds(&rig));
}

#[test]
fn a_fitters_word_before_the_finding_does_not_do_the_step() {
    let mut rig = scored();
    rig.take(not_here()).take(deep());
    assert!(holds(&rig).contains("scoring obliges: the shaft / journal, waved off by fitter-a"), "{}", holds(&rig));
    rig.by("supervisor-b").take(Act::Resume).take(not_here());
    assert!(!holds(&rig).contains("obliges"), "{}", holds(&rig));
}

#[test]
fn only_a_piece_is_scrapped_and_what_it_obliges_elsewhere_stays() {
    let mut rig = scored();
    assert_eq!(rig.refused(condemned("job")), "NothingToScrap");
    rig.take(deep()).take(condemned("bush.ts"));
    let left = holds(&rig);
    assert!(left.contains("scoring obliges: the shaft / journal") && !left.contains("not taken"), "{left}");
}
