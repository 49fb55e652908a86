//! A review line by line: what is taken for an answer, and what it comes to.

use crate::rig::{Rig, id};
use asfound::domain::checklist::Signing;
use asfound::domain::entry::Act;
use asfound::domain::review::Kept;
use asfound::domain::verdict::Disposition;
use asfound::face::plain::review::{Heard, Left, Session, pages, shortly};
use asfound::face::reviewing::Reading;

fn reading(rig: &Rig) -> Reading {
    let chains = rig.inspection.entries().iter().map(|entry| format!("{:016x}", entry.number)).collect();
    Reading::new("record.yaml".into(), rig.inspection.clone(), chains, Kept::default(), &[])
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

/// Signed, and something asks for a concession.
fn dented() -> Rig {
    let mut rig = Rig::open();
    rig.take(crate::rig::finding("dent", "small")).sign(Signing::Decisions, &[]);
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
    let mut grown = rig.clone();
    grown.by("supervisor-b").take(acts[0].clone());
    assert_eq!(session.done(Ok(reading(&grown))), "Saved.");
    // the next thing is asked for, until somebody leaves
    assert!(session.question().unwrap().starts_with("No signature waits for a countersignature: "));
    assert_eq!(
        (hear(&mut session, &["leave"]), session.question()),
        (Heard::Said("Nothing else was entered.".into()), None)
    );
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
        let heard = answer(session.hear(right));
        assert!(heard.is_empty() || heard.starts_with("now: ") || heard == "At: the bush.ts", "{right}: {heard}");
    }
    assert!(session.question().unwrap().contains("claimed until supervisor-b countersigns what is signed after it"));
    let Heard::Do(acts) = session.hear("yes") else { panic!("not done") };
    assert!(matches!(&acts[0], Act::Overrule { to: Disposition::Watch, reason, .. } if reason == "for the trip home"));
}

/// Numbers of lines that a concession can be about stand in what is said of any other.
fn concession(session: &mut Session) -> String {
    drop(session.hear("concession"));
    let Heard::Said(said) = session.hear("0.0") else { panic!("taken") };
    said.split(|letter: char| !(letter.is_ascii_digit() || letter == '.'))
        .find(|word| word.split('.').filter(|part| !part.is_empty()).count() == 2 && *word != "0.0")
        .unwrap_or_else(|| panic!("{said}"))
        .to_owned()
}

#[test]
fn what_a_concession_lacks_is_asked_at_once_and_answers_that_were_not_taken_are_kept() {
    let mut rig = Rig::open();
    rig.take(crate::rig::finding("dent", "small")).sign(Signing::Decisions, &[]);
    let mut session = session(&rig, "supervisor-b");
    let line = concession(&mut session);
    drop(session.hear(&line));
    for (short, right) in [("x", "the maker (invented)"), ("", "7"), ("-", "look again"), ("31 feb 2032", "36000 h")] {
        let said = answer(session.hear(short));
        assert!(said.starts_with("Not taken") || said.contains("`31 feb 2032` is no day: "), "{short}: {said}");
        drop(session.hear(right));
    }
    drop(session.hear("watch"));
    let Heard::Do(acts) = session.hear("yes") else { panic!("not done") };
    assert!(matches!(&acts[0], Act::Concession { conditions, .. } if conditions == "look again"), "{acts:?}");
    // the disk refuses: nothing that was answered is lost
    assert_eq!(session.done(Err("the disk is full".into())), "the disk is full");
    drop(session.hear("concession"));
    let asked = session.question().unwrap();
    assert!(asked.contains("the maker (invented); 7; look again; 36000 h; watch. go on, or again?"), "{asked}");
    drop(session.hear("go on"));
    assert!(matches!(session.hear("yes"), Heard::Do(again) if again == acts));
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
    let rig = dented();
    let mut session = session(&rig, "supervisor-b");
    let said = |heard: Heard| match heard {
        Heard::Said(said) => said,
        other => panic!("{other:?}"),
    };
    drop(session.hear("overrule"));
    assert!(said(session.hear("the engine")).contains("bush.ts, shaft."));
    assert!(said(session.hear("?")).contains("Toward the safer side"));
    assert_eq!(said(session.hear("BUSH.TS")), "At: the bush.ts", "in small or capital letters");
    assert!(said(session.hear("")).contains("One of: reuse, watch, rework, replace."));
    assert!(said(session.hear("leave")).contains("nothing was entered"));
    for inner in [&["countersign"][..], &["concession"], &["send back"], &["send back", "2.1"]] {
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

fn answer(heard: Heard) -> String {
    match heard {
        Heard::Said(said) => said,
        other => panic!("{other:?}"),
    }
}

/// A record with something referred, its decisions signed; the number of the line that was referred.
fn referred() -> (Rig, String) {
    let mut rig = Rig::open();
    let journal = ["59.931", "59.931", "59.917", "59.915", "59.916", "59.918", "59.912", "59.909", "59.911", "59.913"];
    rig.journal(journal).sign(Signing::Decisions, &[]);
    let all = pages(&reading(&rig));
    let line = all.iter().find(|line| line.contains(" > step wear")).unwrap_or_else(|| panic!("{all:#?}"));
    let number = line.split(' ').next().unwrap().to_owned();
    (rig, number)
}

#[test]
fn a_decision_left_half_answered_is_kept_and_taken_up_again_at_its_line() {
    let (rig, number) = referred();
    let mut first = session(&rig, "supervisor-b");
    drop(hear(&mut first, &["concession", &number, "the maker", "letter 7"]));
    assert_eq!(first.left(), Left::NotDone);
    // as a kill leaves it
    let kept = first.draft();
    let again = || Session::new(Reading { unsent: kept.clone(), ..reading(&rig) }, id("supervisor-b"));
    let mut session = again();
    drop(session.hear("concession"));
    let offer = session.question().unwrap();
    assert!(offer.starts_with("Left half answered: ") && offer.contains("the maker; letter 7"), "{offer}");
    // no line typed for another question counts as one
    assert!(answer(session.hear("yes")).starts_with("Not taken: "));
    drop(session.hear("go on"));
    assert_eq!(session.question().as_deref(), Some("under which conditions?"));
    drop(hear(&mut session, &["again"]));
    assert!(session.question().unwrap().starts_with("A concession about which line?"));
    let mut session = again();
    drop(hear(&mut session, &["concession", "go on", "none", "2035-01-01 or 1 March 2034", "reuse"]));
    assert_eq!(session.question().as_deref(), Some("Is that right? yes, no"));
    assert!(matches!(hear(&mut session, &["yes"]), Heard::Do(acts) if matches!(acts[0], Act::Concession { .. })));
}

#[test]
fn before_a_decision_is_entered_what_comes_of_it_and_how_its_end_is_understood_is_said() {
    let (rig, number) = referred();
    let mut session = session(&rig, "supervisor-b");
    let said =
        answer(hear(&mut session, &["concession", &number, "the maker", "letter 7", "none", "36 000 h", "reuse"]));
    let lines: Vec<_> = said.lines().collect();
    assert_eq!(lines[0], "until 36 000 h: to 36000 h of the machine");
    assert!(lines[1].starts_with("now:  > shaft: ") || lines[1].starts_with("now:  ~ shaft: "), "{said}");
    assert!(lines[1].contains("referred") && !lines[2].contains("; referred"), "{said}");
    assert!(lines[2].starts_with("then: "), "{said}");
}

#[test]
fn a_change_from_outside_is_seen_by_its_own_word_and_no_other_line_is_taken_for_it() {
    let rig = signed();
    let mut session = Session::new(Reading { outside: Some(3), ..reading(&rig) }, id("supervisor-b"));
    for line in ["countersign", "yes", "somebody looked", ""] {
        assert!(answer(session.hear(line)).starts_with("Not taken: "), "{line}");
    }
    assert_eq!(session.left(), Left::NotDone);
    drop(hear(&mut session, &["seen", "a digit, typed by mistake"]));
    assert_eq!(session.question().as_deref(), Some("Enter that under this name: yes, no?"));
    assert!(answer(session.hear("countersign")).starts_with("Not taken: "));
    assert!(
        matches!(session.hear("yes"), Heard::Do(acts) if matches!(&acts[0], Act::SeenOutside { note, .. } if note == "a digit, typed by mistake"))
    );
}

#[test]
fn remarks_that_a_countersignature_would_drop_are_said_before() {
    let rig = signed();
    let mut session = session(&rig, "supervisor-b");
    drop(hear(&mut session, &["send back", "4.1", "which side?", "leave"]));
    assert!(answer(session.hear("countersign")).starts_with("! 1 remark not sent: dropped with this."));
    assert_eq!(answer(session.hear("no")), "");
    assert_eq!(session.draft().map(|draft| draft.remarks.len()), Some(1));
}

#[test]
fn how_a_review_ends_tells_whether_all_that_was_asked_for_is_done() {
    let rig = dented();
    for (lines, left) in [
        (&["verify"][..], Left::Done),
        (&["countersigned"], Left::NotDone),
        (&["countersigned", "verify"], Left::NotDone),
        (&["countersigned", "yes", "leave"], Left::NotDone),
        (&["concession", "99.9", "leave", "countersign", "no"], Left::NotDone),
        (&["countersign"], Left::NotDone),
        (&["countersign", "no"], Left::Done),
        (&["concession", "99.9"], Left::NotDone),
        (&["concession", "99.9", "leave", "leave"], Left::NotDone),
        (&["concession", "leave", "leave"], Left::Done),
        (&["leave"], Left::Done),
    ] {
        let mut session = session(&rig, "supervisor-b");
        drop(hear(&mut session, lines));
        assert_eq!(session.left(), left, "{lines:?}");
    }
    let mut session = session(&rig, "supervisor-b");
    drop(hear(&mut session, &["countersign", "yes"]));
    assert_eq!(session.done(Err("the disk is full".into())), "the disk is full");
    drop(session.hear("leave"));
    assert_eq!(session.left(), Left::NotDone, "what was refused stays not done");
}

#[test]
fn a_concession_that_would_be_refused_is_refused_at_the_first_question() {
    let mut rig = Rig::open();
    assert_eq!(
        answer(session(&rig, "fitter-a").hear("concession")),
        "Not taken: `concession`. Nothing here asks for one."
    );
    rig.take(crate::rig::finding("crack", "seen"));
    for (by, refused) in [("fitter-a", "no supervisor"), ("somebody", "somebody"), ("supervisor-b", "")] {
        let mut session = session(&rig, by);
        let line = concession(&mut session);
        let said = answer(session.hear(&line));
        assert_eq!(said.starts_with("At: "), refused.is_empty(), "{by}: {said}");
        assert!(said.contains(refused), "{by}: {said}");
        let asked = session.question().unwrap();
        assert_eq!(asked.starts_with("A concession about which line?"), !refused.is_empty(), "{asked}");
    }
    // on the screen too, where who enters it is asked last
    let mut nobody = rig.clone();
    nobody.inspection = Rig::with({
        let mut head = rig.inspection.head().clone();
        head.people.retain(|person| !person.is(asfound::domain::person::Role::Supervisor));
        head
    })
    .inspection;
    for entry in rig.inspection.entries().iter().skip(1) {
        drop(asfound::domain::apply::apply(&mut nobody.inspection, entry.clone()));
    }
    let bench = crate::bench::Bench::reading(nobody.inspection).keys("esc 4 1 enter");
    drop(bench.expect("no supervisor").expect("> about").expect_not("Enter the concession"));
}

#[test]
fn who_answers_reads_the_first_page_and_what_to_look_at_and_calls_for_the_rest() {
    let reading = reading(&dented());
    let (all, short) = (pages(&reading), shortly(&reading));
    let [first @ .., _, more] = short.as_slice() else { panic!() };
    assert!(first.iter().all(|line| all.contains(line)) && first.len() < all.len() / 2, "{first:?}");
    assert!(first.iter().any(|line| line == "2. To look at."), "{first:?}");
    for (number, page) in (2..).zip(&reading.review.pages).skip(1) {
        assert!(more.contains(&format!("{number}. {}", page.title)), "{more}");
    }
    let mut session = Session::new(reading, id("supervisor-b"));
    let rest = answer(session.hear("all"));
    let read = |line: &String| first.contains(line) || rest.lines().any(|other| other == line);
    assert!(all.iter().all(read), "{rest}");
    let page = answer(session.hear("4"));
    assert!(page.lines().nth(1).is_some_and(|line| line.starts_with("4. ")) && rest.contains(&page), "{page}");
    assert_eq!(session.left(), Left::Done);
    assert!(answer(session.hear("99")).starts_with("Not taken: `99`"));
    // the answers that a file holds are taken as they were
    assert!(matches!(hear(&mut session, &["countersign", "yes"]), Heard::Do(_)));
}

#[test]
fn a_page_has_the_number_that_it_has_on_the_screen_and_a_part_is_overruled_by_its_name_alone() {
    let rig = signed();
    let mut session = session(&rig, "supervisor-b");
    assert!(answer(session.hear("1")).contains("Will it last?"));
    for (number, page) in (2..).zip(&reading(&rig).review.pages) {
        let said = answer(session.hear(&number.to_string()));
        assert!(said.contains(&format!("\n{number}. {}.", page.title)), "{said}");
        let bench = crate::bench::Bench::reading(rig.inspection.clone()).keys(&"tab ".repeat(number - 1));
        drop(bench.expect(&format!("page {number} of ")).expect(&page.title));
    }
    drop(session.hear("overrule"));
    for number in ["1", "2", "4", "5", "2.1", "4.1"] {
        let said = answer(session.hear(number));
        assert!(said.starts_with(&format!("Not taken: `{number}`. One of: rotor, bush.ts, ")), "{said}");
    }
    assert_eq!(answer(session.hear("shaft")), "At: the shaft");
}

#[test]
fn a_remark_says_what_is_sent_back_and_what_it_is_asked_of() {
    let rig = signed();
    let mut session = session(&rig, "supervisor-b");
    let back = "the decisions, signed by fitter-a on 17 April 2031";
    drop(session.hear("send back"));
    assert!(session.question().unwrap().starts_with(&format!("To send back {back}")), "{:?}", session.question());
    let said = answer(session.hear("2.1"));
    assert!(
        said.contains(&format!("That is no step: it is asked of {back}")) && said.ends_with(" as a whole."),
        "{said}"
    );
    drop(session.hear("why so late?"));
    let asked = session.question().unwrap();
    assert!(asked.contains(&format!("done, which sends back {back}")), "{asked}");
    // a verdict is asked at the step that made it so, as on the screen
    let all = pages(&reading(&rig));
    let line = all.iter().find(|line| line.contains(" verdict: ")).and_then(|line| line.split(' ').next()).unwrap();
    assert!(!answer(session.hear(line)).contains("no step"), "{line}");
    let Heard::Do(acts) = hear(&mut session, &["how?", "done"]) else { panic!("not done") };
    let Act::Return { remarks, .. } = &acts[0] else { panic!("{acts:?}") };
    assert_eq!(remarks.iter().map(|one| one.step.is_some()).collect::<Vec<_>>(), [false, true]);
    // the screen says the same
    let bench = crate::bench::Bench::reading(rig.inspection.clone())
        .keys("tab esc 2")
        .expect("at no step: of all that is sent back");
    let bench = bench.typed("why so late?").keys("enter esc 3 enter");
    drop(bench.expect(&format!("what is sent back: {back}")));
}
