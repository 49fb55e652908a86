//! Everything else that can be done, on the whole screen: the questions and words are those of the line mode.

use asfound::domain::checklist::Signing;
use asfound::domain::entry::{Act, Entry, Remark};
use asfound::domain::inspection::Inspection;
use asfound::domain::sheet::{Amount, Bound, Touching};
use asfound::domain::signing;
use asfound::domain::verdict::Consequence;
use insta::assert_snapshot;

use super::Bench;
use super::demo;
use crate::rig::Rig;

fn at_bush() -> Bench {
    Bench::at_step("bush.ts/clearance")
}

#[test]
fn the_rarer_lines_stand_behind_the_last_digit() {
    assert_snapshot!(at_bush().keys("esc 0").screen());
}

#[test]
fn an_opening_answer_left_for_later_is_given_and_the_hold_goes() {
    let bench = at_bush().keys("esc 0 1").expect("which answer").expect("why it is opened");
    assert_snapshot!(bench.screen());
    bench
        .typed("service")
        .keys("enter")
        .expect("service letters looked up today")
        .keys("1 enter")
        .expect("service letters no letters, before: none");
}

#[test]
fn the_next_opening_is_planned_anew_with_a_reason() {
    let bench = at_bush().keys("esc 0 2").expect("planned anew, h").typed("60000").keys("enter").typed("2027-01-31");
    // the bush would reach its limit by the plan before: a shorter interval is a supervisor's
    let bench = bench.keys("enter").expect("which supervisor decides; claimed").keys("1 enter");
    let bench = bench.expect("why?").typed("charter ends").keys("enter");
    bench.expect("planned at 60000 h on 31 January 2027, decided by supervisor B: charter ends");
}

/// The figures were within their limits to the opening as it was planned.
#[test]
fn what_a_later_opening_makes_of_figures_taken_before_is_said_at_once() {
    let bench = Bench::on(crate::review::shelf::played()[2].clone()).keys("esc 0 2").typed("99000").keys("enter enter");
    let bench = bench.expect("is it so?").keys("2 enter").expect("why?").typed("longer charter").keys("enter");
    bench.expect("planned at 99000 h").expect("By that: ").expect("X replace");
}

#[test]
fn the_manual_of_the_sheet_is_offered_for_looking_up_and_a_bare_number_is_no_title() {
    let bench = at_bush().keys("esc 0 1").typed("manual").keys("enter").expect("title of the manual");
    let bench = bench.expect("same: INV-420 manual (invented), edition 3, looked up today");
    bench.typed("7").keys("enter").expect("`7` is no title.");
}

#[test]
fn nothing_planned_is_nothing_entered() {
    let bench = at_bush();
    let before = bench.entries();
    let bench = bench.keys("esc 0 2 enter enter").expect("Nothing was planned anew.");
    assert_eq!(bench.entries(), before);
}

#[test]
fn a_new_part_is_fitted_and_its_hours_start_again() {
    let bench = at_bush().keys("esc 0 3 enter").expect("a new part in its place").keys("1 enter");
    bench.typed("N-77").keys("enter enter").expect("Bush, turbine side new, fitted, serial N-77");
}

#[test]
fn a_new_part_with_the_number_of_the_old_one_is_asked_about() {
    let fitted = |bench: Bench| bench.keys("esc 0 3 enter 1 enter").typed("N-77").keys("enter");
    let bench = fitted(at_bush()).keys("enter").expect("new, fitted, serial N-77");
    let before = bench.entries();
    let bench = fitted(bench).expect("N-77 is the number of the part that was in, 0 h");
    assert_eq!(bench.entries(), before);
}

#[test]
fn a_level_from_the_manual_judges_at_once() {
    let bench = at_bush().keys("esc 0 4").expect("a level of what").typed("bush, turbine, clea").keys("enter");
    let bench = bench.expect("where it stands").typed("invented book, page 3").keys("enter enter enter");
    let bench = bench.typed("above 0.20").keys("enter").expect("What does it lead to?");
    let bench = bench.keys("delete").typed("avobe 0.20 replace").keys("enter").expect("`avobe 0.20` is not a figure");
    let bench = bench.keys("delete").typed(">0.215, <0.13 replace guarded");
    assert_snapshot!(bench.screen());
    bench.keys("enter").expect("levels of").expect("entered");
}

#[test]
fn a_level_that_cannot_be_is_refused_at_its_answer_and_another_unit_is_asked_about() {
    let bench = at_bush().keys("esc 0 4 enter").typed("invented book, page 3").keys("enter");
    let bench = bench.typed("0.350..0.300").keys("enter").expect("nothing between the lower bound 0.35");
    let bench = bench.keys("delete").typed("130..170").keys("enter").expect("at most 25 mm");
    let bench = bench.keys("delete").typed("3.302..4.318").keys("enter").expect("times off");
    let bench = bench.typed("again").keys("enter").expect("Type it again").expect("the new range");
    let bench = bench.keys("delete").typed("0.130..0.170").keys("enter").expect("the alert").keys("enter");
    let bench = bench.typed("<=-1 replace").keys("enter").expect("no figure can fall below");
    bench.keys("delete").typed(">0.220 <0.130 replace guarded").keys("enter").expect("entered");
}

/// What, where it stands, new range, alert, limit: the first two are offered, so that the next level takes three typed answers.
#[test]
fn a_level_takes_five_answers_and_offers_what_is_at_hand_and_the_last_source() {
    let bench = at_bush().keys("esc 0 4").expect("empty for bush, turbine, clearance").keys("enter");
    let bench = bench.typed("invented book, page 3").keys("enter").typed("0.13..0.17").keys("enter");
    let bench = bench
        .typed(">= 0.21")
        .keys("enter")
        .typed("at or above 0.22, below 0.13, replace guarded")
        .keys("enter")
        .expect("entered");
    let bench =
        bench.keys("esc 0 4").typed("bush, turbine, lock").keys("enter").expect("empty for invented book, page 3");
    let bench = bench.keys("enter enter enter").typed(">=1.5 replace").keys("enter").expect("entered");
    let levels = |id: &str| {
        let one = asfound::domain::characteristic::Characteristic::parse(id).unwrap();
        bench.so_far().sheet().unwrap().levels[&one].clone()
    };
    let clearance = levels("bush.ts.clearance");
    let (new, limit) = (clearance.new.unwrap(), clearance.limit.unwrap());
    let bound = |figure: &str, touching| Some(Bound { amount: Amount::Fixed(figure.parse().unwrap()), touching });
    assert_eq!(new.lower().cloned(), bound("0.13 mm", Touching::Passes));
    assert_eq!(new.upper().cloned(), bound("0.17 mm", Touching::Passes));
    assert_eq!(limit.upper().cloned(), bound("0.22 mm", Touching::Fails));
    assert_eq!((limit.leads_to(), limit.source()), (Consequence::Replace, "invented book, page 3"));
    assert_eq!(levels("bush.ts.pin").limit.unwrap().leads_to(), Consequence::Replace);
}

#[test]
fn a_call_on_any_part_is_answered() {
    let bench = at_bush().keys("esc 5").typed("shaft").keys("enter").typed("who has the drawing?").keys("enter");
    let bench = bench.expect("stop and call: who has the drawing?").keys("esc 0 5").expect("answer to which");
    bench
        .keys("1 enter")
        .typed("maker, J")
        .keys("enter")
        .typed("sent today")
        .keys("enter")
        .expect("answer of maker, J");
}

/// The demonstration sent back with two remarks.
fn returned() -> Inspection {
    let mut inspection = demo::up_to("rebuild/ready");
    let sign = signing::last_signature(&inspection, Signing::Decisions).map(|entry| entry.number).unwrap();
    let remark = |step: Option<&str>, text: &str| Remark { step: step.map(str::to_owned), text: text.to_owned() };
    let remarks = vec![remark(Some("bush.ts/pin"), "which side was the pin?"), remark(None, "whose order?")];
    let number = inspection.entries().last().unwrap().number + 1;
    let act = Act::Return { sign, chain: "0123456789abcdef".to_owned(), remarks };
    let by = "supervisor-b".parse().unwrap();
    asfound::domain::apply::apply(
        &mut inspection,
        Entry { number, at: demo::now(), by, writer: None, late: None, act },
    );
    inspection
}

#[test]
fn a_remark_is_answered_and_stays() {
    let bench = Bench::on(returned()).keys("esc 0 6").expect("which remark").expect("which side was the pin?");
    assert_snapshot!(bench.screen());
    let bench = bench.typed("whose").keys("enter").typed("the owner's").keys("enter").expect("answer to remark 2");
    bench.keys("esc 0 6").expect_not("whose order?");
}

/// The first answered, the next is led to wherever its step stands.
#[test]
fn after_an_answer_the_next_remark_is_led_to() {
    let mut rig = Rig::open();
    rig.leave_rest().sign(Signing::Decisions, &[]);
    let sign = rig.last().number;
    let remark = |step: &str| Remark { step: Some(step.into()), text: format!("what of {step}?") };
    let remarks = vec![remark("rotor/covers"), remark("bush.ts/as-left")];
    rig.by("supervisor-b").take(Act::Return { sign, chain: String::new(), remarks });
    let bench = Bench::on(rig.inspection).expect("what of rotor/covers?").keys("enter");
    let bench = bench.keys("1 enter").typed("all there").keys("enter");
    let bench = bench.expect("what of bush.ts/as-left?").expect("; the next remark is here");
    let bench = bench.keys("enter").typed("not yet").keys("enter").expect_not("the next remark is here");
    assert!(!bench.screen().lines().next().unwrap().contains("sent back"), "{}", bench.screen());
}

fn grave() -> Bench {
    Bench::at_step("bush.ts/look").keys("1 2 enter enter enter enter enter enter")
}

#[test]
fn a_concession_names_who_document_conditions_and_until_when() {
    let bench = grave().keys("esc 0 7").expect("a concession about which").keys("1 enter").typed("maker, desk 4");
    let bench = bench.keys("enter").typed("INV-L-12").keys("enter").typed("looked at after 500 h").keys("enter");
    let bench = bench.typed("x").keys("enter").expect("`x` names no end").keys("backspace").typed("next opening");
    let bench =
        bench.keys("enter").expect("no day and no hours in it, so it holds until the next opening and no longer");
    let bench = bench.expect("what it allows at worst").keys("2 enter");
    // what is to be replaced takes a supervisor, whoever the letter came to
    bench.expect("`fitter-a` is no supervisor.").expect_not("concession of maker, desk 4");
}

#[test]
fn overruling_takes_a_named_supervisor_and_a_reason() {
    let bench = grave().keys("esc 0 8").typed("bush, turbine").keys("enter").expect("what is done with it");
    let bench = bench.keys("1 enter").expect("claimed until that person signs").keys("1 enter").typed("spare is worse");
    bench.keys("enter").expect("overruled to").expect("supervisor B");
}

#[test]
fn a_characteristic_is_accepted_unjudged_and_a_part_condemned() {
    let bench =
        at_bush().keys("esc 0 9").typed("nozzle").keys("down enter 1 enter").typed("no sheet for it").keys("enter");
    let bench = bench.expect("accepted unjudged by supervisor B: no sheet for it");
    bench.keys("esc 0 0 7 enter").typed("cracked through").keys("enter").expect("condemned, not measured: cracked");
}

#[test]
fn somebody_new_is_entered_and_a_mentor_named() {
    let bench = at_bush().keys("esc 0");
    let mut bench = bench;
    for _ in 0..10 {
        bench = bench.keys("down");
    }
    let bench = bench.keys("enter").expect("the id entries will carry").typed("sup-c").keys("enter");
    let bench = bench.typed("supervisor C").keys("enter").typed("superv").keys("enter").expect("supervisor C entered");
    let mut bench = bench.keys("esc 0");
    for _ in 0..11 {
        bench = bench.keys("down");
    }
    bench
        .keys("enter")
        .expect("who watches fitter A")
        // anybody can enter a name: who watches was known when the job began
        .expect_not("supervisor C")
        .typed("supervisor B")
        .keys("enter")
        .expect("supervisor B watches");
}

#[test]
fn an_unknown_name_at_who_is_here_is_entered_only_when_that_is_said() {
    let bench = at_bush().keys("esc 9").typed("fitter Q").keys("enter").expect("fitter Q is not known here");
    assert_snapshot!(bench.screen());
    let bench = bench.keys("1 enter").expect("who writes").keys("enter").expect("Is the machine still safe?");
    bench.keys("down enter").expect("fitter Q reads and writes");
}

#[test]
fn how_it_stands_is_a_page() {
    let mut bench = grave().keys("esc 0");
    for _ in 0..14 {
        bench = bench.keys("down");
    }
    bench.keys("enter").expect("Bush, turbine side");
}

#[test]
fn going_back_in_a_dialogue_loses_nothing() {
    let bench = at_bush().keys("esc 0 2").typed("60000").keys("enter").typed("2027-01-31").keys("up");
    let bench = bench.expect("[ 60000_").keys("enter").expect("[ 2027-01-31_").keys("esc").expect("? half answered");
    bench.keys("esc 0 2").expect("60000").expect("[ 2027-01-31_");
}

#[test]
fn a_signature_by_key_hands_the_screen_over() {
    let bench = at_bush().keys("esc 0");
    let mut bench = bench;
    for _ in 0..13 {
        bench = bench.keys("down");
    }
    bench.keys("enter").expect("Nothing is signed by this hand yet");
    let mut bench = Bench::at_step("rebuild/ready").keys("esc 0");
    for _ in 0..13 {
        bench = bench.keys("down");
    }
    let bench = bench.keys("enter").expect("The key's file").typed("/home/bench/key").keys("enter");
    let bench = bench.expect("Signed by key: ");
    assert_eq!(bench.handed_over, 1);
}

#[test]
fn a_record_changed_outside_is_gone_on_with_only_when_somebody_says_that_it_was_seen() {
    let bench = Bench::changed_outside(12).expect("changed outside this program, from entry 12 on. Seen by fitter A");
    assert_snapshot!(bench.screen());
    let bench = bench.keys("1 enter").typed("mail turned a line").keys("enter");
    bench.expect("changed outside from entry 12 on, seen: mail turned a line");
}

#[test]
fn overruling_toward_the_safer_side_takes_the_own_name_and_a_reason() {
    let bench = grave().keys("esc 0 8").typed("bush, turbine").keys("enter").typed("replace").keys("enter");
    let bench = bench.expect("why").expect_not("which supervisor").typed("a spare is here").keys("enter");
    drop(bench.expect("overruled to replace").expect_not("supervisor B"));
}

#[test]
fn a_list_of_one_takes_that_one_and_no_other_words() {
    let at = || grave().keys("esc 0 8").typed("bush, turbine").keys("enter 1 enter").expect("claimed until");
    for other in ["Miller", "no", "2"] {
        let bench = at();
        let before = bench.entries();
        let bench = bench.typed(other).keys("enter").expect("is none of these");
        assert_eq!(bench.entries(), before, "{other}");
    }
    drop(at().typed("supervisor b").keys("enter").expect("why"));
    let bench = Bench::changed_outside(12).typed("no").keys("enter").expect("`no` is none of: seen");
    drop(bench.expect_not("in words"));
}

/// What was left out with a reason is not asked for any more; and no note is offered where none helps.
#[test]
fn a_wait_cut_short_offers_what_helps_and_left_out_it_asks_for_nothing() {
    let bench = Bench::at_step("turbine/soak").keys("enter enter").keys("2 enter").expect("stopped too early");
    let bench = bench.expect("or say in a note why it stays").keys("esc 4 2 enter").typed("no bath here").keys("enter");
    bench.expect("left out with a reason: Esc 1 strikes that").expect_not("stopped too early");
    let dye = Bench::at_step("impeller/degrease").keys("enter enter").keys("2 enter");
    dye.expect("It shows nothing: begin it again, or strike a wrong time (Esc 1).").expect_not("in a note");
}
