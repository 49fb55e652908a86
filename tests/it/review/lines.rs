//! A review line by line: what is taken for an answer, and what it comes to.

use crate::rig::{Rig, id};
use asfound::domain::checklist::Signing;
use asfound::domain::entry::Act;
use asfound::domain::review::Kept;
use asfound::domain::verdict::Disposition;
use asfound::face::plain::review::{Heard, Session, pages};
use asfound::face::reviewing::Reading;

fn reading(rig: &Rig) -> Reading {
    let chains = rig.inspection.entries().iter().map(|entry| format!("{:016x}", entry.number)).collect();
    Reading::new("record.yaml".into(), rig.inspection.clone(), chains, Kept::default(), Vec::new())
}

fn session(rig: &Rig, by: &str) -> Session {
    Session::new(reading(rig), id(by))
}

/// Hears all lines; what the last one comes to.
fn hear(session: &mut Session, lines: &[&str]) -> Heard {
    lines.iter().map(|line| session.hear(line)).last().unwrap()
}

fn signed() -> Rig {
    let mut rig = Rig::open();
    rig.sign(Signing::Decisions, &[]);
    rig
}

#[test]
fn countersigning_takes_two_words_and_nothing_else() {
    let rig = signed();
    let mut session = session(&rig, "supervisor-b");
    assert!(session.question().unwrap().contains("the decisions, signed by fitter-a on 17 April 2031"));
    assert_eq!(
        hear(&mut session, &["0.230"]),
        Heard::Said("Not taken: `0.230`. One of the words of the question.".into())
    );
    assert!(matches!(hear(&mut session, &["countersign", "1"]), Heard::Said(said) if said.starts_with("Not taken")));
    let Heard::Do(acts) = hear(&mut session, &["yes"]) else { panic!("not done") };
    let number = rig.last().number;
    assert_eq!(acts, [Act::Countersign { sign: number, chain: format!("{number:016x}") }]);
    assert_eq!(session.done(Ok(())), "Saved.");
    assert_eq!(session.question(), None);
}

#[test]
fn a_part_is_overruled_by_a_named_supervisor_with_a_reason_and_on_behalf_it_is_claimed() {
    let mut rig = Rig::open();
    super::patterns::lifts_slowly(&mut rig, [["0.250"; 3], ["0.250"; 3]], "0.020", 10);
    let mut safer = session(&rig, "fitter-a");
    drop(hear(&mut safer, &["overrule", "bush.ts", "replace"]));
    assert_eq!(safer.question().as_deref(), Some("Why?"), "toward the safer side no supervisor is asked for");
    let mut session = session(&rig, "fitter-a");
    drop(hear(&mut session, &["overrule"]));
    for (wrong, right) in
        [("the engine", "bush.ts"), ("keep", "watch"), ("fitter-a", "supervisor-b"), ("", "for the trip home")]
    {
        assert!(matches!(session.hear(wrong), Heard::Said(said) if said.starts_with("Not taken")), "{wrong}");
        assert_eq!(session.hear(right), Heard::Said(String::new()), "{right}");
    }
    assert!(session.question().unwrap().contains("claimed until supervisor-b signs or countersigns"));
    let Heard::Do(acts) = session.hear("yes") else { panic!("not done") };
    assert!(matches!(&acts[0], Act::Overrule { to: Disposition::Watch, reason, .. } if reason == "for the trip home"));
}

#[test]
fn every_line_that_a_remark_can_start_at_has_its_number() {
    let rig = signed();
    let all = pages(&reading(&rig));
    let line = all.iter().find(|line| line.contains(" look: ")).unwrap();
    let number = line.split(' ').next().unwrap();
    let mut session = session(&rig, "supervisor-b");
    let Heard::Do(acts) = hear(&mut session, &["send back", number, "which side?", "done"]) else { panic!("not done") };
    let Act::Return { remarks, .. } = &acts[0] else { panic!("{acts:?}") };
    assert_eq!((remarks[0].step.as_deref(), remarks[0].text.as_str()), (Some("bush.ts/look"), "which side?"));
}

#[test]
fn an_inner_question_says_what_it_takes_explains_itself_and_is_left_by_a_word() {
    let rig = signed();
    let mut session = session(&rig, "supervisor-b");
    let said = |heard: Heard| match heard {
        Heard::Said(said) => said,
        other => panic!("{other:?}"),
    };
    drop(session.hear("overrule"));
    assert!(said(session.hear("the engine")).contains("One of: job, rotor, bush.ts, shaft."));
    assert!(said(session.hear("?")).contains("Toward the safer side"));
    assert_eq!(said(session.hear("BUSH.TS")), "", "in small or capital letters");
    assert!(said(session.hear("")).contains("One of: reuse, watch, rework, replace."));
    assert!(said(session.hear("leave")).contains("nothing was entered"));
    for inner in [&["countersign"][..], &["concession"], &["send back"], &["send back", "1.1"]] {
        for word in inner {
            drop(session.hear(word));
        }
        let before = session.question();
        for key in ["?", "!"] {
            assert!(said(session.hear(key)).contains("leave"), "{inner:?}");
            assert_eq!(session.question(), before, "asking changes nothing");
        }
        drop(session.hear("leave"));
        if inner.len() == 2 {
            drop(session.hear("leave"));
        }
        assert!(session.question().unwrap().starts_with("Waiting: "), "{inner:?}");
    }
    assert_eq!(session.hear("verify"), Heard::Verify);
}
