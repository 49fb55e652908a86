//! Leaving in any way comes back to the same field with the same half-typed figure.

use asfound::domain::checklist::Signing;
use asfound::domain::person::{Person, Role};
use asfound::face::effect::{Answer, Effect, Fault, Opened};
use asfound::face::input::Key;
use asfound::face::message::Message;
use asfound::face::update::update;
use asfound::records::store::{Draft, HalfForm, LaidAside};

use super::Bench;
use super::demo;
use super::steps::lifts;
use crate::review::shelf::Shelf;
use crate::rig::Rig;

#[test]
fn every_half_typed_figure_is_there_again_and_the_hand_on_the_last() {
    let bench = lifts(Bench::at_step("bush.ts/clearance"), 2).typed("0.02").keys("down").typed("0.0");
    let bench = bench.expect("outer 90, second down [ 0.0_").killed().expect("outer 90, second down [ 0.0_");
    bench.keys("up").expect("outer 0, second down [ 0.02_").expect("D2 resolves 0.002");
}

#[test]
fn who_reads_and_who_writes_is_there_again() {
    let bench = Bench::at_step("bush.ts/clearance").keys("esc 9 enter").typed("fitter C").keys("enter");
    bench.expect("fitter A reads, fitter C writes").killed().expect("fitter A reads, fitter C writes");
}

#[test]
fn an_open_form_is_open_again_with_its_answers() {
    let bench = Bench::at_step("bush.ts/clearance").keys("esc 5 enter").typed("is it sc").expect("[ is it sc_");
    bench.killed().expect("[ is it sc_").typed("ored").keys("enter").expect("is it scored");
    let finding = Bench::at_step("bush.ts/look").keys("1 1 enter").typed("outer e").expect("[ outer e_");
    finding.killed().expect("[ outer e_").keys("esc esc").expect("strike an entry");
    let late = Bench::at_step("bush.ts/clearance").keys("esc 7 2 enter").typed("2024-07-1");
    late.expect("2024-07-1_").killed().expect("2024-07-1_");
    let gauge = Bench::at_step("bush.ts/clearance").typed("0.02").keys("enter").expect("Which gauge").keys("4");
    gauge.typed("D").expect("[ D_").killed().expect("[ D_").keys("esc esc").expect("[ 0.02_");
}

#[test]
fn a_finding_of_any_kind_comes_back_as_that_kind() {
    let crack = |keys: &str| Bench::at_step("bush.ts/look").keys(keys).typed("outer e").expect("crack: what was seen");
    for keys in ["3 1 enter", "down down enter 1 enter", "esc 3 3 1 enter"] {
        let back = crack(keys).killed().expect("crack: what was seen").expect("[ outer e_");
        back.typed("nd").keys("enter").expect("outer end").expect_not("scoring: what was seen");
    }
}

#[test]
fn a_half_answered_finding_lies_under_the_question_whether_it_is_safe() {
    let left = || Bench::at_step("bush.ts/look").keys("3 1 enter").typed("outer e").later(9 * 60);
    for keys in ["down enter", "enter", "esc"] {
        let asked = left().killed().expect("Is the machine still safe?").expect("back to the answers");
        // and once more before it is answered
        asked
            .killed()
            .expect("Is the machine still safe?")
            .keys(keys)
            .expect("crack: what was seen")
            .expect("[ outer e_");
    }
}

#[test]
fn a_form_left_with_esc_is_found_again_half_answered() {
    let bench = Bench::at_step("bush.ts/clearance").keys("esc 5 enter").typed("is it sc").keys("esc");
    let bench = bench.expect_not("is it sc").keys("esc 5").expect("[ is it sc_");
    // also when the program ended in between, in any way; taken up again it is laid aside no more
    let again = bench.keys("esc").killed().expect_not("is it sc").keys("esc 5").expect("[ is it sc_");
    again.typed("ored").keys("enter").killed().keys("esc 5").expect_not("is it sc_");
    let finding = Bench::at_step("bush.ts/look").keys("1 1 enter").typed("outer e").keys("esc");
    finding.killed().expect_not("outer e").keys("1").expect("[ outer e_");
}

/// What was chosen stays chosen when the list has moved meanwhile, and is asked again when it is there no more.
#[test]
fn a_form_laid_aside_is_about_the_same_when_it_is_taken_up() {
    let call = |bench: Bench, part: &str, asked: &str| {
        bench.keys("esc 5").typed(part).keys("enter").typed(asked).keys("enter").expect(asked)
    };
    let before = demo::up_to("bush.ts/clearance").entries().len();
    let left = || {
        let bench = call(Bench::at_step("bush.ts/clearance"), "rotor shaft", "is the shaft bent");
        let bench = call(bench, "", "is it scored").keys("esc 0 5 2 enter").expect("who answered");
        bench.typed("maker desk").keys("enter esc")
    };
    let struck = |bench: Bench, entry: usize| {
        bench.keys("esc 1").typed(&entry.to_string()).keys("enter 1 enter").expect("struck").keys("esc 0 5")
    };
    let other = struck(left(), before + 1).expect("is it scored").expect("maker desk").expect("the answer?");
    other.expect_not("is the shaft bent").killed().expect("is it scored").expect("maker desk");
    let gone = struck(left(), before + 2).expect("answer to which?").expect("is the shaft bent");
    gone.expect_not("maker desk").expect_not("is it scored");
}

#[test]
fn an_inspection_half_begun_is_found_again() {
    let bench = Bench::home().keys("7 down enter").typed("INV-0001").keys("enter").typed("484");
    let bench = bench.killed_before_it_began().expect("half answered");
    bench.keys("7").expect("INV-0001").expect("[ 484_");
}

#[test]
fn one_half_begun_by_the_line_of_its_rotor_is_found_again_by_either_line() {
    let left = || Bench::home().keys("6").typed("INV-0001").keys("enter").typed("fitter").expect("[ fitter_");
    for line in ["6", "7"] {
        let back = left().killed_before_it_began().keys(line).expect("[ fitter_");
        back.expect_not("which rotor  ");
    }
    // begun by typing it, its line finds it too; looking in at another one takes nothing away
    let typed = || Bench::home().keys("7 down enter").typed("INV-0001").keys("enter").typed("484");
    typed().killed_before_it_began().keys("6").expect("[ 484_");
    let other = typed().killed_before_it_began().keys("5").expect_not("[ 484_");
    other.killed_before_it_began().keys("7").expect("[ 484_");
}

#[test]
fn a_gauge_used_before_is_in_hand_again_and_named() {
    // without its draft: what was used stands in the record
    let used = lifts(Bench::at_step("bush.ts/clearance"), 4).record();
    Bench::on(used)
        .expect("D2 resolves 0.002")
        .typed("0.022")
        .keys("enter")
        .expect("outer 0, third down: 0.022 mm taken");
    // the other side takes the same; a run-out asks
    let both = lifts(Bench::at_step("bush.cs/clearance"), 24).keys("esc 6").typed("turb lift").keys("enter");
    both.expect("D2 resolves 0.002");
}

#[test]
fn a_gauge_past_its_date_is_asked_for_once_in_each_session() {
    let bench = Bench::at_step("bush.ts/clearance").keys("esc 2 1").expect("D1 in hand. ! 30 days past its date");
    let bench = bench.typed("0.02").keys("enter").expect("outer 0, first down: 0.02 mm taken");
    let bench = Bench::on(bench.record()).expect("D1? 30 days past its date: Esc 2").typed("0.23").keys("enter");
    bench.expect("which dial gauge is in your hand?").keys("1 enter").expect("outer 0, first up: 0.23 mm taken");
}

#[test]
fn nothing_is_in_hand_that_was_never_chosen() {
    Bench::on(demo::up_to("bush.ts/clearance")).expect("dial gauge? Esc 2");
}

/// What is half answered is in no record: it stands right above the name that signs over it.
#[test]
fn what_is_half_answered_is_named_above_the_name_that_signs() {
    let left = |step: &str, title: &str, answer: &str| LaidAside {
        step: step.to_owned(),
        title: title.to_owned(),
        form: HalfForm { way: Vec::new(), at: 0, answers: vec![answer.to_owned()] },
    };
    let scoring = left("bush.ts/look", "scoring: what was seen", "outer e");
    let aside = vec![scoring, left("shaft/look", "crack: what was seen", "end")];
    let draft = Draft { step: "job/decisions".to_owned(), aside, ..Draft::default() };
    let opened = Opened { draft: Some(Box::new(draft)), ..demo::fresh(demo::up_to("job/decisions")) };
    let bench = Bench::opened(opened);
    let screen = bench.screen();
    let name = screen.lines().position(|line| line.contains("type the name to sign")).unwrap();
    let above = screen.lines().nth(name - 1).unwrap();
    assert_eq!(above.trim_end(), " ? half answered, and 1 more: bush, turbine: scoring: what was seen", "{screen}");
    let bench = bench.expect("Half answered, in no record: Bush, turbine side / ").expect("Esc 6 leads there");
    // in a small window too; a form that was only looked into is not half answered
    let bench = bench.sized(60, 18).expect("? half answered, and 1 more: bush, turbine").sized(80, 24);
    let looked = bench.keys("esc 7 esc").expect("half answered, and 1 more");
    looked.expect_not("and 2 more");
}

/// The step at which it was laid aside says so, until it is gone on with.
#[test]
fn a_finding_half_answered_is_told_at_its_step() {
    let bench = Bench::at_step("bush.ts/look").keys("1 enter").expect("what was seen").typed("2").keys("enter esc");
    let bench = bench.expect("? half answered: ").expect("opens as it was left");
    let bench = bench.sized(40, 10).expect("? half answered").sized(80, 24);
    bench.keys("esc 6").typed("bush.cs/look").keys("enter down").expect_not("half answered");
}

/// The same answers once more would begin a second record, which finds the first one being written.
#[test]
fn enter_once_more_while_a_record_is_being_begun_does_nothing() {
    let bench = Bench::home().keys("7 down enter").typed("INV-0001").keys("enter").typed("fitter a").keys("enter");
    let mut bench = bench.typed("48480").keys("enter 1 enter");
    let mut asked = 0;
    for _ in 0..20 {
        bench.pass(1000);
        let at = bench.at;
        let effects = update(&mut bench.model, Message::Key(Key::Enter, at));
        asked += effects.iter().filter(|effect| matches!(effect, Effect::Ask(_))).count();
    }
    assert_eq!(asked, 1, "{}", bench.screen());
    let mut bench = bench.expect("beginning");
    // where nothing came of it the answers are there, and Enter asks again
    let fault = Fault { what: "No space is left.".into(), mend: "Make room.".into() };
    bench.tell(Message::Answered(Box::new(Answer::Opened(Err(fault))), bench.at));
    bench.pass(1000);
    let again = update(&mut bench.model, Message::Key(Key::Enter, bench.at));
    assert!(again.iter().any(|effect| matches!(effect, Effect::Ask(_))), "{}", bench.screen());
}

/// Nobody else's name waits under a signature for the next hand.
#[test]
fn a_name_left_in_the_question_of_a_countersignature_is_not_the_next_hands() {
    let shelf = Shelf::empty();
    let path = shelf.keep(&Rig::open().inspection, "2031-04-17-small");
    shelf.sign(&path, "fitter-a", Signing::Decisions);
    let people = ["supervisor-b", "supervisor-d"].map(|id| Person {
        id: crate::rig::id(id),
        name: id.replace('-', " "),
        roles: vec![Role::Supervisor],
        keys: vec![],
    });
    shelf.store.save_people(&people).unwrap();
    let open = || Bench::reviewing(shelf.root()).keys("1").expect("WILL IT LAST?");
    let left = open().keys("esc 1 delete").typed("supervisor d").expect("[ supervisor d_");
    drop(left.keys("enter").expect("countersign, as supervisor d?").keys("down enter esc ctrl-q"));
    assert_eq!(shelf.store.review_draft(&path), None);
    drop(open().keys("esc 1").expect("who does it [ _"));
}
