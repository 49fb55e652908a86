//! What somebody decides against the rules: never green, never by a sentence, never by whoever happens to be there.

use asfound::domain::apply::apply;
use asfound::domain::checklist::Signing;
use asfound::domain::entitled;
use asfound::domain::entry::{Act, Entry};
use asfound::domain::person::{Person, Role};
use asfound::domain::request::Decision;
use asfound::domain::review::{Kept, Review, Tenor, lists};
use asfound::domain::signing;
use asfound::domain::standing::hold_words;
use asfound::domain::verdict::{Consequence, Disposition};
use asfound::records::entry_file::{entry_of, entry_text};
use asfound::report::json::of_record;

use super::patterns::lifts_slowly;
use crate::rig::{Rig, finding, head, id};

fn conceded(about: u32) -> Act {
    Act::Concession {
        part: "bush.ts".into(),
        about: about.to_string(),
        who: "the maker (invented)".into(),
        document: "letter 7".into(),
        conditions: "look again".into(),
        until: "the next opening".into(),
        allows: Consequence::Watch,
    }
}

/// Enters it as a copy that continues the record would: nobody here is asked.
fn enters(rig: &mut Rig, by: &str, act: Act) {
    let last = rig.last().clone();
    let entry = Entry { number: last.number + 1, by: id(by), act, ..last };
    drop(apply(&mut rig.inspection, entry));
}

/// A bush with a finding of this kind, and the finding's entry.
fn with(kind: &str, grade: &str) -> (Rig, u32) {
    let mut rig = Rig::begun();
    rig.make_safe();
    rig.read("rotor/axial", "axial / pushed", "0.020").read("rotor/axial", "axial / pulled", "0.210");
    rig.take(Act::Tick { step: "rotor/covers".into() }).take(finding(kind, grade));
    let number = rig.last().number;
    (rig, number)
}

/// A bush to be replaced that the fitter has overruled in the supervisor's name.
fn overruled() -> Rig {
    let mut rig = Rig::open();
    lifts_slowly(&mut rig, [["0.250"; 3], ["0.250"; 3]], "0.020", 10);
    rig.take(Act::NotApplicable { step: "bush.ts/soak".into(), point: None, reason: "clean already".into() });
    let (to, supervisor) = (Disposition::Reuse, id("supervisor-b"));
    rig.take(Act::Overrule { part: "bush.ts".into(), to, supervisor, reason: "for the trip home".into() });
    rig
}

#[test]
fn what_is_overruled_stands_under_the_sign_of_the_rules_and_is_not_called_within() {
    let mut rig = overruled();
    let standing = rig.standing();
    let lasts = Review::of(&rig.inspection, &standing, &Kept::default()).lasts;
    let says = "Not by the rules: 1 to replace; 1 part decided more mildly, 1 decision only claimed.";
    assert_eq!((lasts.text.as_str(), lasts.tenor), (says, Tenor::Bad), "no decision makes a part last");
    let part = standing.part("bush.ts").unwrap();
    assert_eq!((part.verdict.disposition, part.computed.disposition), (Disposition::Reuse, Disposition::Replace));
    assert_eq!(part.told(), ('X', "reuse, overruled; replace by the rules".to_owned()));
    let review = Review::of(&rig.inspection, &standing, &Kept::default());
    let line = review.lines.iter().find(|line| line.part == "bush.ts").unwrap();
    assert_eq!(line.headline, ('X', "overruled"));
    assert_eq!(line.made_so[0], "reuse, overruled; replace by the rules");
    let page = review.pages.iter().find(|page| page.part.as_deref() == Some("bush.ts")).unwrap();
    assert_eq!(page.items[0].sign, 'X');
    assert!(page.items[0].text.starts_with("verdict: reuse, overruled; replace by the rules; 1 of 1"), "{page:?}");
    assert!(!review.within.contains(&"bush.ts".to_owned()));
    // what others lead to does not hide it
    rig.take(Act::Condemned { part: "shaft".into(), reason: "bent".into() });
    let lasts = Review::of(&rig.inspection, &rig.standing(), &Kept::default()).lasts;
    let says = "Not as it lies: 1 part to replace; by the rules 1 to replace besides, decided more mildly, 1 decision \
                only claimed.";
    assert_eq!(lasts.text, says);
}

#[test]
fn a_claimed_overruling_is_said_as_one_by_name_and_leaves_the_part_on_the_order() {
    let rig = overruled();
    let standing = rig.standing();
    assert_eq!(
        standing.part("bush.ts").unwrap().reasons[0],
        "overruled to reuse by supervisor-b (claimed, not signed): for the trip home"
    );
    let order = |rig: &Rig| lists(&rig.inspection, &rig.standing()).in_words()[0].1.clone();
    let number = rig.last().number;
    let held = format!("new part to check; only claimed settled, entry {number}");
    assert!(standing.part("bush.ts").unwrap().reasons.contains(&held), "{:?}", standing.part("bush.ts"));
    let review = Review::of(&rig.inspection, &standing, &Kept::default());
    let line = review.lines.iter().find(|line| line.part == "bush.ts").unwrap();
    assert!(line.made_so.contains(&held), "page 1 says it beside the hold: {line:?}");
    let claimed = format!("part number INV-P03; claimed not needed in entry {number}, not signed for");
    assert!(order(&rig)[0].ends_with(&claimed), "{:?}", order(&rig));
    let told = of_record(&rig.inspection, &standing, &Kept::default());
    assert_eq!(told["to order"][0]["claimed not needed in entry"], number);
    assert_eq!(told["entries"].as_array().unwrap().last().unwrap()["claimed"], true);
    let mut signed = rig.clone();
    signed.leave_rest().sign(Signing::Decisions, &[]);
    let sign = signed.last().number;
    signed.by("supervisor-b").take(Act::Countersign { sign, chain: String::new() });
    assert!(order(&signed).is_empty(), "{:?}", order(&signed));
    let reasons = signed.standing().part("bush.ts").unwrap().reasons.clone();
    assert_eq!(reasons[0], "overruled to reuse by supervisor-b: for the trip home");
}

#[test]
fn a_crack_and_what_is_to_be_replaced_take_a_supervisor_to_be_conceded() {
    for (kind, grade) in [("crack", "seen"), ("scoring", "deep")] {
        let (mut rig, number) = with(kind, grade);
        let before = rig.verdict("bush.ts");
        assert!(before.starts_with("replace"), "{before}");
        assert_eq!(rig.refused(conceded(number)), "NoSupervisor");
        // a copy may bring it all the same: it stands there and frees nothing
        enters(&mut rig, "fitter-a", conceded(number));
        assert_eq!(rig.verdict("bush.ts"), before);
        let told = entitled::told(&rig.inspection);
        assert!(told.values().any(|one| one.contains("does not count: concession")), "{told:?}");
        rig.by("supervisor-b").take(conceded(number));
        assert!(rig.verdict("bush.ts").starts_with("watch"), "{}", rig.verdict("bush.ts"));
        assert_eq!(rig.standing().part("bush.ts").unwrap().in_short(), ('X', "conceded"));
    }
}

#[test]
fn a_crack_taken_back_waits_on_the_first_page() {
    let (mut rig, number) = with("crack", "seen");
    rig.take(Act::Strike { entry: number, reason: "a hair on the lens".into() });
    let decide = Review::of(&rig.inspection, &rig.standing(), &Kept::default()).decide;
    let wanted = "look at it again, bush.ts: crack was taken back by fitter-a: a hair on the lens";
    assert!(decide.iter().any(|one| one == wanted), "{decide:?}");
}

/// Each a decision of one hand that makes the bush worse, or stops the work on it.
#[test]
fn what_another_has_decided_is_taken_back_by_that_one_or_a_known_supervisor() {
    let levels = head().sheet.unwrap().levels.into_iter().find(|(of, _)| of.id() == "bush.ts.clearance").unwrap();
    let supervisor = || id("supervisor-b");
    let (part, reason) = (|| "bush.ts".to_owned(), || "heat colour, I saw it".to_owned());
    let acts = [
        Act::Overrule { part: part(), to: Disposition::Replace, supervisor: supervisor(), reason: reason() },
        Act::Condemned { part: part(), reason: reason() },
        Act::Call { part: part(), question: "is this a crack?".into() },
        Act::Level { characteristic: levels.0, levels: Box::new(levels.1), doubts: vec![] },
    ];
    for act in acts {
        let mut rig = Rig::open();
        rig.by("supervisor-b").take(act.clone());
        let (number, stands) = (rig.last().number, rig.verdict("bush.ts"));
        let strike = || Act::Strike { entry: number, reason: "typed wrong".into() };
        assert_eq!(rig.by("fitter-a").refused(strike()), "NoAnswer", "{act:?}");
        let Decision::Refuse(refusal) = rig.may(strike()) else { panic!("{act:?}") };
        assert_eq!(refusal.kind.what(), format!("Entry {number} is supervisor-b's to take back."));
        assert!(refusal.kind.mend().contains("that person strike it, or a supervisor"), "{}", refusal.kind.mend());
        // a copy may bring it all the same: it stands there and takes nothing back
        let mut brought = rig.clone();
        enters(&mut brought, "fitter-a", strike());
        assert_eq!((brought.verdict("bush.ts"), brought.inspection.struck_by(number)), (stands.clone(), None));
        let told = entitled::told(&brought.inspection);
        assert!(told.values().any(|one| one.contains("does not count: ") && one.contains("struck")), "{told:?}");
        assert!(brought.by("supervisor-b").refused(strike()).starts_with("taken"), "who may, still can");
        // nobody knew this one before the job began
        let boss = Person { id: id("boss"), name: "boss X".into(), roles: vec![Role::Supervisor], keys: vec![] };
        assert_eq!(rig.clone().take(Act::Person(boss)).by("boss").refused(strike()), "NoAnswer");
        assert_eq!(rig.by("supervisor-b").refused(strike()), "taken");
    }
}

#[test]
fn nobody_known_becomes_somebody_else_by_being_entered_again() {
    let mut rig = Rig::begun();
    let person = |of: &str, name: &str, role| {
        let keys = vec!["ssh-ed25519 AAAA invented".into()];
        Act::Person(Person { id: id(of), name: name.into(), roles: vec![role], keys })
    };
    for (of, name, role) in [
        ("fitter-c", "fitter-c", Role::Supervisor),
        ("Fitter-C", "fitter-c", Role::Fitter),
        ("fitter-c", "Charles", Role::Fitter),
    ] {
        let Decision::Refuse(refusal) = rig.may(person(of, name, role)) else { panic!("{of} {name}") };
        assert_eq!(refusal.kind.what(), "`fitter-c` is known here already: fitter-c, fitter.");
        assert!(refusal.kind.mend().contains("who is here"), "{}", refusal.kind.mend());
    }
    // a key may be added, and somebody new is new
    rig.take(person("fitter-c", "fitter-c", Role::Fitter)).take(person("fitter-e", "fitter E", Role::Fitter));
}

#[test]
fn a_verdict_that_a_change_from_outside_has_moved_is_not_laid_on_the_rules() {
    let mut rig = Rig::open();
    rig.sign(Signing::Decisions, &[]);
    let decide = |rig: &Rig| Review::of(&rig.inspection, &rig.standing(), &Kept::default()).decide.join("; ");
    assert!(decide(&rig).contains("signed otherwise than today's rules have it"), "{}", decide(&rig));
    rig.take(Act::seen(3, "opened with an editor".into()));
    let said = "changed outside from entry 3 on, after entry 8 signed it: the job: signed as nothing, now not judged; ";
    assert!(decide(&rig).contains(said) && !decide(&rig).contains("today's rules"), "{}", decide(&rig));
}

#[test]
fn what_another_has_read_or_ticked_is_anybodys_to_strike() {
    let mut rig = Rig::open();
    rig.read("shaft/journal", "unworn 1", "59.931");
    let entry = rig.last().number;
    rig.by("fitter-c").take(Act::Resume);
    for entry in [entry, entry - 1, entry - 2] {
        assert_eq!(rig.refused(Act::Strike { entry, reason: "slipped".into() }), "taken");
    }
}

#[test]
fn a_referral_answered_after_the_signature_is_named() {
    let (mut rig, number) = with("dent", "small");
    rig.leave_rest();
    let seal = signing::Seal { length: 0, sha256: String::new(), lost: vec![] };
    let signature = signing::signature(&rig.inspection, Signing::Decisions, (&seal, &[]));
    rig.take(Act::Sign(signature)).by("supervisor-b").take(conceded(number));
    let decide = Review::of(&rig.inspection, &rig.standing(), &Kept::default()).decide;
    let told = decide.iter().find(|one| one.starts_with("not as entry")).unwrap();
    assert!(told.ends_with("bush.ts: watch as signed, now without referred: dent, small"), "{told}");
}

#[test]
fn a_concession_by_somebody_else_is_a_claim_until_a_supervisor_signs_for_it() {
    let (mut rig, number) = with("dent", "small");
    assert!(rig.verdict("bush.ts").contains("referred"));
    rig.take(conceded(number));
    assert!(rig.verdict("bush.ts").contains("referred"), "a claim frees nothing");
    let standing = rig.standing();
    let reasons = &standing.part("bush.ts").unwrap().reasons;
    assert!(reasons[0].ends_with("by concession (claimed, not signed)"), "{reasons:?}");
    assert_eq!(standing.counts.claimed, 1);
    let lasts = Review::of(&rig.inspection, &standing, &Kept::default()).lasts;
    assert_eq!(
        (lasts.text.as_str(), lasts.tenor),
        ("Not as it lies: 1 referred, 1 decision only claimed.", Tenor::Bad)
    );
    // a call that nobody has signed for takes no question from the maker
    let refer = lists(&rig.inspection, &standing).refer;
    assert_eq!(refer.len(), 1);
    assert!(refer[0].1.contains("only claimed settled, entry") && refer[0].1.starts_with("dent"), "{refer:?}");
    rig.leave_rest().sign(Signing::Decisions, &[]);
    assert_eq!(rig.standing().counts.claimed, 1, "who entered it signs for nothing");
    let sign = rig.last().number;
    rig.by("supervisor-b").take(Act::Countersign { sign, chain: String::new() });
    assert_eq!(rig.standing().counts.claimed, 0);
    assert!(!rig.verdict("bush.ts").contains("referred"));
}

#[test]
fn a_supervisor_entered_at_the_bench_ends_no_claim() {
    let (mut rig, number) = with("dent", "small");
    let person = Person { id: id("boss"), name: "boss X".into(), roles: vec![Role::Supervisor], keys: vec![] };
    rig.take(conceded(number)).leave_rest().take(Act::Person(person)).by("boss").take(Act::Resume);
    rig.sign(Signing::Decisions, &[]);
    assert_eq!(rig.standing().counts.claimed, 1, "nobody knew this supervisor before the job began");
    rig.by("fitter-a")
        .take(Act::Resume)
        .take(Act::Note { step: None, text: "dirty oil".into() })
        .sign(Signing::Decisions, &[]);
    let sign = rig.last().number;
    rig.by("boss").take(Act::Countersign { sign, chain: String::new() });
    assert_eq!(rig.standing().counts.claimed, 1);
    rig.by("supervisor-b").take(Act::Countersign { sign, chain: String::new() });
    assert_eq!(rig.standing().counts.claimed, 0);
}

#[test]
fn a_sentence_does_not_free_what_was_referred() {
    let (mut rig, number) = with("dent", "small");
    let answer = Act::Answer { entry: number, who: "the maker".into(), text: "let it run".into() };
    assert_eq!(rig.refused(answer.clone()), "TakesConcession");
    enters(&mut rig, "fitter-a", answer);
    assert!(rig.verdict("bush.ts").contains("referred"), "{}", rig.verdict("bush.ts"));
    // what stops the work is answered by whoever was called
    let (mut rig, number) = with("odd", "odd");
    assert!(rig.verdict("bush.ts").contains("stop and call"));
    let answer = Act::Answer { entry: number, who: "the maker".into(), text: "go on".into() };
    rig.take(answer.clone());
    let claimed = rig.last().number;
    let hold = format!("stop and call: odd, odd; only claimed settled, entry {claimed}");
    let holds: Vec<_> = rig.standing().part("bush.ts").unwrap().verdict.holds.iter().map(hold_words).collect();
    assert!(holds.contains(&hold), "a fitter says what somebody has said: {holds:?}");
    rig.by("supervisor-b").take(answer);
    assert!(!rig.verdict("bush.ts").contains("stop and call"));
    let words = rig.standing().part("bush.ts").unwrap().told().1;
    assert!(!words.contains("nothing found"), "{words}");
}

/// A crack that calls is referred too: no sentence ends either.
#[test]
fn a_call_that_only_a_concession_ends_asks_for_one_and_not_for_an_answer() {
    let decide = |rig: &Rig| Review::of(&rig.inspection, &rig.standing(), &Kept::default());
    let mut head = head();
    let bush = head.checklist.parts.iter_mut().find(|part| part.id == "bush.ts").unwrap();
    bush.findings.iter_mut().find(|kind| kind.crack).unwrap().grades[0].leads_to = vec![Consequence::Call];
    let mut rig = Rig::with(head);
    rig.covers_off().take(finding("crack", "seen"));
    let number = rig.last().number;
    let page = decide(&rig);
    assert_eq!(page.decide[0], "enter a concession, bush.ts: stop and call: crack, seen", "{:?}", page.decide);
    let calls = |page: &Review| page.unusual.iter().find(|one| one.name == "stop and call").unwrap().which.join("; ");
    assert!(calls(&page).ends_with("crack, seen; no concession yet"), "{}", calls(&page));
    rig.supervised(conceded(number));
    assert!(calls(&decide(&rig)).contains("crack, seen; concession of the maker"), "{}", calls(&decide(&rig)));
    // what anybody may have answered is answered; a question too
    let (mut odd, _) = with("odd", "odd");
    assert_eq!(decide(&odd).decide[0], "answer, bush.ts: stop and call: odd, odd");
    odd.take(Act::Call { part: "shaft".into(), question: "is it bent?".into() });
    assert_eq!(decide(&odd).decide[1], "answer, shaft: stop and call: is it bent?");
    assert!(calls(&decide(&odd)).ends_with("is it bent?; no answer yet"), "{}", calls(&decide(&odd)));
}

/// Whoever typed it has given it out of hand.
#[test]
fn what_a_supervisor_has_signed_for_is_that_supervisors_to_take_back() {
    let mut rig = overruled();
    let number = rig.last().number;
    let strike = || Act::Strike { entry: number, reason: "not so meant".into() };
    assert_eq!(rig.refused(strike()), "taken", "a claim is whose hand typed it");
    rig.leave_rest().sign(Signing::Decisions, &[]);
    let sign = rig.last().number;
    assert_eq!(rig.refused(strike()), "taken");
    rig.by("supervisor-b").take(Act::Countersign { sign, chain: String::new() }).by("fitter-a");
    let Decision::Refuse(refusal) = rig.may(strike()) else { panic!("the fitter takes it back") };
    assert_eq!(refusal.kind.what(), format!("Entry {number} is supervisor-b's to take back."));
    assert_eq!(rig.by("supervisor-b").refused(strike()), "taken");
    // a copy may bring it all the same
    enters(&mut rig, "fitter-a", strike());
    assert_eq!(rig.inspection.struck_by(number), None);
}

#[test]
fn the_same_claimed_twice_is_one_claim_and_neither_frees_anything() {
    let mut rig = overruled();
    let again = |part: &str, to| Act::Overrule {
        part: part.into(),
        to,
        supervisor: id("supervisor-b"),
        reason: "said again".into(),
    };
    let claimed = |rig: &Rig| {
        let page = Review::of(&rig.inspection, &rig.standing(), &Kept::default());
        let which = page.unusual.into_iter().find(|one| one.name == "claimed approval").unwrap();
        (rig.standing().counts.claimed, which.number, which.which.len())
    };
    rig.take(again("bush.ts", Disposition::Watch));
    assert_eq!(claimed(&rig), (1, 1, 1));
    assert_eq!(rig.standing().part("bush.ts").unwrap().computed.disposition, Disposition::Replace);
    assert!(rig.verdict("bush.ts").contains("new part"), "{}", rig.verdict("bush.ts"));
    rig.take(Act::Condemned { part: "shaft".into(), reason: "bent".into() }).take(again("shaft", Disposition::Watch));
    assert_eq!(claimed(&rig), (2, 2, 2));
}

#[test]
fn a_concession_that_lets_a_part_be_used_again_says_so_in_the_file_and_an_older_word_is_read() {
    let reuse = Act::Concession {
        part: "bush.ts".into(),
        about: "7".into(),
        who: "the maker (invented)".into(),
        document: "letter 7".into(),
        conditions: "look again".into(),
        until: "the next opening".into(),
        allows: Consequence::Nothing,
    };
    let entry = Entry { act: reuse, ..Rig::begun().last().clone() };
    let text = entry_text(&entry);
    assert!(text.contains("\n  allows: reuse\n"), "{text}");
    assert_eq!(entry_of(&text).unwrap(), entry);
    assert_eq!(entry_of(&text.replace("allows: reuse", "allows: nothing")).unwrap(), entry);
}

/// Page 1 has room for a few: what runs on the milder decision is the one that must be seen.
#[test]
fn what_has_become_milder_since_it_was_signed_is_named_first() {
    let (mut rig, number) = with("dent", "small");
    rig.leave_rest();
    let overrule = |rig: &mut Rig, part: &str, to| {
        let act =
            Act::Overrule { part: part.into(), to, supervisor: id("supervisor-b"), reason: "by its papers".into() };
        enters(rig, "supervisor-b", act);
    };
    overrule(&mut rig, "shaft", Disposition::Replace);
    let seal = signing::Seal { length: 0, sha256: String::new(), lost: vec![] };
    let signature = signing::signature(&rig.inspection, Signing::Decisions, (&seal, &[]));
    enters(&mut rig, "fitter-a", Act::Sign(signature));
    enters(&mut rig, "supervisor-b", conceded(number));
    overrule(&mut rig, "rotor", Disposition::Replace);
    overrule(&mut rig, "shaft", Disposition::Watch);
    let decide = Review::of(&rig.inspection, &rig.standing(), &Kept::default()).decide;
    let told = decide.iter().find(|one| one.starts_with("not as entry")).unwrap();
    assert!(told.contains("entries came after: shaft: signed as replace"), "{told}");
}
