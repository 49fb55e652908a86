//! The steps, one sort after the other, as a fitter goes through them.

use asfound::domain::entry::{Act, Entry};
use asfound::domain::phase::Phase;

use super::Bench;
use super::demo;
use super::review::{add, demonstration};

/// The lift readings of the demonstration's turbine side bush, down and up in turn.
pub(super) const LIFTS: [&str; 24] = [
    "0.020", "0.228", "0.020", "0.230", "0.022", "0.230", "0.020", "0.224", "0.020", "0.224", "0.020", "0.226",
    "0.020", "0.234", "0.020", "0.234", "0.018", "0.232", "0.022", "0.230", "0.020", "0.230", "0.020", "0.230",
];

pub(super) fn lifts(mut bench: Bench, count: usize) -> Bench {
    bench = bench.keys("esc 2 2");
    for text in LIFTS.iter().take(count) {
        bench = bench.typed(text).keys("enter");
    }
    bench
}

#[test]
fn a_place_is_judged_when_its_repeats_are_complete_and_not_before() {
    let bench = lifts(Bench::at_step("bush.ts/clearance"), 5).expect_not("+ within");
    // 0.208, 0.210, 0.208: mean 0.2087, short of the alert at 0.210
    bench.typed("0.230").keys("enter").expect("0.2087 + within");
}

#[test]
fn the_last_figure_of_the_set_brings_the_verdict_and_last_time() {
    let bench = lifts(Bench::at_step("bush.ts/clearance"), 23);
    let bench = bench.keys("backtab").expect("shown when all figures are taken, not before").keys("tab");
    bench
        .typed("0.230")
        .keys("enter")
        .expect("all taken. Enter: next step")
        .expect("0.214 mm at inner 0")
        .keys("backtab")
        .expect("0.176 mm at inner 0 on 8 June 2022");
}

/// What leads on by forecast is said in a row of several with what it is today: the figure gives way.
#[test]
fn no_verdict_is_cut_in_a_row_of_several() {
    let mut inspection = demonstration();
    let is_read = |entry: &&Entry| matches!(&entry.act, Act::Reading { step, typed, .. } if step == "shaft/diameter.ts" && typed == "59.909");
    let read = inspection.entries().iter().find(is_read).unwrap().number;
    add(&mut inspection, "fitter-a", Act::Strike { entry: read, reason: "misread".to_owned() });
    let mut bench = Bench::on(inspection);
    if bench.screen().contains("Is the machine still safe?") {
        bench = bench.keys("down enter");
    }
    let bench = bench.typed("59.905").keys("enter").expect("OUT OF LIMIT").keys("enter");
    let screen = bench.screen();
    let row = screen.lines().find(|line| line.contains("by forecast")).unwrap_or_else(|| panic!("{screen}"));
    assert!(row.contains("> refer by forecast; today ") && !row.contains('…'), "{row}");
    assert!(row.contains(" 0.01 mm "), "{row}");
}

#[test]
fn the_missed_turn_is_asked_and_mended_by_arrows_and_enter() {
    let bench = lifts(Bench::at_step("bush.ts/clearance"), 17);
    let bench = bench.typed("0.034").keys("enter").expect("? 0.034 mm at inner 0, third up");
    bench.keys("down down enter").expect("inner 0, third up: 0.234 mm taken");
}

#[test]
fn what_cannot_be_is_refused_with_ways_to_mend_it() {
    let bench = lifts(Bench::at_step("bush.ts/clearance"), 1);
    let bench = bench.typed("0.010").keys("enter").expect("X this cannot be").expect("down was wrong: strike it");
    bench.keys("down down down enter").expect("struck").expect("outer 0, first down [");
}

#[test]
fn out_of_limit_is_said_at_once_and_must_be_seen() {
    let bench = Bench::at_step("bush.ts/clearance").keys("esc 2 2");
    let mut bench = bench;
    for _ in 0..3 {
        bench = bench.typed("0.020").keys("enter").typed("0.260").keys("enter");
    }
    let bench = bench.expect("X OUT OF LIMIT: clearance").expect("replace Bush, turbine side");
    let bench = bench.typed("5").expect("X OUT OF LIMIT");
    bench.keys("enter").expect_not("OUT OF LIMIT").expect("X replace");
}

#[test]
fn a_reading_is_struck_with_a_reason_by_number_and_taken_again() {
    lifts(Bench::at_step("bush.ts/clearance"), 2)
        .keys("left esc 1 enter 2 enter")
        .expect("struck: wrong place")
        .typed("0.230")
        .keys("enter")
        .expect("outer 0, first up: 0.230 mm taken")
        .expect("3 saved");
}

#[test]
fn all_repeats_of_a_place_are_struck_by_one_act_with_one_reason() {
    let bench = lifts(Bench::at_step("bush.ts/clearance"), 8).keys("up esc 1").expect("all 6 figures of this set");
    let bench = bench.typed("0").keys("enter").expect("why are all 6 figures struck").keys("5 enter");
    let record = bench.record();
    let taken = |place: &str| record.reading("bush.ts/clearance", place).is_some();
    assert!(!taken("outer 0 / 1 / down") && !taken("outer 0 / 3 / up"), "all of the place");
    assert!(taken("outer 90 / 1 / up"), "and nothing else");
}

#[test]
fn the_figure_under_the_hand_is_shown_with_all_its_digits() {
    let bench = Bench::at_step("shaft/diameter.ts").keys("esc 2 1").typed("59.931").expect("[59.931]");
    bench.keys("enter left").expect("[59.931]");
}

#[test]
fn last_time_stands_under_a_complete_set_and_not_before() {
    let bench = lifts(Bench::at_step("bush.ts/clearance"), 23).expect_not("last time 0.176");
    bench.typed("0.230").keys("enter").expect("last time 0.176 mm");
}

#[test]
fn a_wait_stopped_too_early_is_begun_again() {
    // once too often costs nothing
    let soak = Bench::at_step("turbine/soak").keys("enter").keys("enter").expect("has not so long. Stop the clock now");
    let soak = soak.keys("1 enter").expect("The clock runs on").expect("time over at").later(10).keys("enter");
    let bench = soak.keys("2 enter").expect("stopped too early");
    let bench = bench.keys("enter").expect("time over at");
    // the time begins anew
    bench.later(130).keys("enter").expect_not("stopped too early").expect("done. Enter: next step");
}

#[test]
fn a_soak_left_out_is_not_called_done() {
    let bench = Bench::at_step("turbine/soak").keys("esc 4 2 enter").typed("no bath here").keys("enter");
    bench.expect("left out with a reason: Esc 1 strikes that").expect_not("done. Enter");
}

#[test]
fn safety_points_are_confirmed_one_by_one() {
    let bench = Bench::at_step("safe/isolated").expect("make safe").keys("enter").expect("confirmed: Engine stopped");
    bench.keys("esc 4 3 enter").typed("no such tank here").keys("enter").expect("not applicable");
}

#[test]
fn a_step_that_is_shut_says_what_comes_first_and_goes_there() {
    let bench = Bench::on(demo::begun()).keys("esc 6").typed("clearance by lift turbine").keys("enter");
    bench.expect("not open yet: not made safe").keys("enter").expect("make safe, step");
}

#[test]
fn looked_nothing_found_is_an_entry_and_a_finding_has_grade_and_place() {
    let bench = Bench::at_step("bush.ts/look");
    let before = bench.entries();
    let bench = bench.keys("1").expect("how grave").keys("1 enter").typed("outer end").keys("enter enter enter enter");
    let bench = bench.expect("scoring, light: place outer end");
    assert_eq!(bench.entries(), before + 1);
}

#[test]
fn a_grave_finding_says_at_once_what_it_leads_to_and_obliges() {
    Bench::at_step("bush.ts/look")
        .keys("1 2 enter enter enter enter enter")
        .expect("It leads to: replace Bush, turbine side")
        .expect("It also obliges: Rotor shaft")
        .keys("enter")
        .expect_not("It leads to");
}

#[test]
fn skipping_takes_a_reason() {
    Bench::at_step("bush.ts/clearance").keys("esc 4 2 enter 1 enter").expect("skipped: cannot be reached");
}

#[test]
fn stop_and_call_holds_the_part_until_answered() {
    Bench::at_step("bush.ts/clearance")
        .keys("esc 5 enter")
        .typed("pin seat cracked?")
        .keys("enter")
        .expect("not open yet: stop and call: pin seat cracked?")
        .expect("Enter go there")
        .keys("enter")
        .expect("answer to a call or a finding")
        .keys("esc esc 5")
        .typed("maker, J")
        .keys("enter")
        .typed("go on")
        .keys("enter")
        .expect_not("not open yet");
}

/// What keeps it shut is said at the first key, and not behind the last answer.
#[test]
fn a_finding_at_a_step_that_is_shut_is_refused_before_anything_is_asked() {
    let shut = || Bench::at_step("bush.ts/look").keys("esc 5 enter").typed("pin seat cracked?").keys("enter");
    for keys in ["1", "esc 3"] {
        let bench = shut().keys(keys).expect("pin seat cracked?").expect_not("how grave").expect_not("what was seen");
        bench.keys("esc").expect_not("how grave");
    }
}

#[test]
fn the_gauge_beside_the_field_says_its_unit() {
    lifts(Bench::at_step("bush.ts/clearance"), 1).expect("] mm D2 resolves 0.002, turn 0.2 mm");
}

#[test]
fn an_unknown_gauge_is_entered_in_three_answers() {
    Bench::at_step("bush.ts/clearance")
        .keys("esc 2 4")
        .typed("D9")
        .keys("enter")
        .typed("0.01 mm")
        .keys("enter")
        .typed("0 to 10 mm")
        .keys("enter")
        .expect("D9 in hand. never calibrated");
}

#[test]
fn other_hands_must_say_that_the_machine_is_safe() {
    let bench = Bench::at_step("bush.ts/clearance").keys("esc 9").typed("fitter C").keys("enter enter");
    let bench =
        bench.expect("Is the machine still safe?").keys("down enter").expect("goes on, the machine is still safe");
    bench.expect("fitter C reads and writes");
}

/// Every step of making safe is seen, one after the other, before the question is put again.
#[test]
fn not_sure_that_it_is_safe_shows_every_safety_point() {
    let bench = Bench::at_step("bush.ts/clearance").keys("esc 9").typed("fitter C").keys("enter enter");
    let mut bench = bench.expect("Is the machine still safe?").keys("enter").expect("make safe");
    let steps = demo::begun();
    let safe = asfound::domain::progress::steps(&steps).filter(|step| step.phase == Phase::Safe);
    let titles: Vec<String> = safe.map(|step| step.title.clone()).collect();
    assert!(titles.len() > 1, "{titles:?}");
    for title in &titles {
        bench = bench.expect_not("Is the machine still safe?").expect(title);
        // what is in doubt does not stand as settled
        bench =
            bench.expect("? ").expect("is each still so?").expect_not("all settled").expect_not("\n + ").keys("enter");
    }
    bench.expect("Is the machine still safe?");
}

#[test]
fn everything_that_comes_before_a_step_is_named_on_it() {
    let bench = Bench::on(demo::begun()).keys("esc 6").typed("clearance by lift turbine").keys("enter");
    let named: Vec<String> = {
        let Some(job) = bench.model.job() else { panic!("no record is open") };
        job.shut.iter().map(|missing| missing.words(&job.inspection)).collect()
    };
    assert!(named.len() > 3, "{named:?}");
    let mut bench = bench.expect("what else comes first");
    for words in &named {
        bench = bench.expect(words);
    }
}

#[test]
fn hours_typed_with_a_thousands_mark_are_asked_about() {
    let bench = Bench::home().keys("7 down enter").typed("INV-0001").keys("enter").typed("fitter a").keys("enter");
    let bench = bench.typed("48,480").keys("enter").expect("48480 h is typed without a mark").expect("insist");
    bench.expect("The counter stood at 36240 h on 8 June 2022, 48.480 h is less");
}

/// What was answered on another way does not stand in a field that it never answered.
#[test]
fn an_answer_gone_back_over_waits_for_its_own_question() {
    let bench = Bench::home().keys("7 down enter").typed("INV-0001").keys("enter").typed("fitt").keys("enter");
    let bench = bench.expect("Enter fitt as a fitter").typed("enter").keys("enter").expect("hours of the machine");
    let bench = bench.keys("up up").expect("who begins").expect("[ fitt_").typed("fitter a").keys("enter");
    // what is typed takes the place of the answer there, and is not hung on it
    bench.expect("hours of the machine").expect_not("[ enter_").expect_not("fittfitter");
}

#[test]
fn hours_of_the_parts_may_be_left_for_later_and_hold_the_job() {
    let bench = Bench::home().keys("7 down enter").typed("INV-0001").keys("enter").typed("fitter a").keys("enter");
    let bench = bench.typed("48480").keys("enter 1 enter").expect("hours of parts renewed").expect("1 later");
    bench.typed("later").keys("enter").expect("why it is opened");
    let mut rig = crate::rig::Rig::begun();
    let later = asfound::domain::inspection::Opening {
        own_hours: Some(asfound::domain::inspection::OwnHours::Later),
        ..Default::default()
    };
    rig.take(Act::Opening(Box::new(later)));
    assert!(rig.standing().holds_in_words().contains(&"the job: open: later: hours of the parts".to_owned()));
    let given = asfound::domain::inspection::Opening {
        part_hours: [("bush.ts".to_owned(), crate::rig::figure("100 h"))].into(),
        ..Default::default()
    };
    rig.take(Act::Opening(Box::new(given)));
    assert!(rig.standing().job.is_empty(), "{:?}", rig.standing().job);
}

#[test]
fn a_new_inspection_needs_rotor_hours_and_a_name_and_the_serial_must_match() {
    let bench = Bench::home().keys("7").expect("which rotor").keys("down enter").typed("INV-9").keys("enter");
    // an invented rotor lies on no bench: its number is said
    let bench = bench.expect("is not the serial number of DEMO-1").expect("on the invented one: INV-0001");
    let bench = bench.keys("delete").typed("INV-0001").keys("enter").expect("who begins").typed("fitter a");
    let bench = bench.keys("enter").expect("36240 h at the last opening on 8 June 2022").typed("48480");
    let bench = bench.keys("enter 1 enter").expect("known: bush.ts 12240 h").keys("enter enter enter");
    // its title alone says no edition: that is looked up
    let bench =
        bench.expect("same: INV-420 manual (invented), edition 3, looked up today").typed("inv-420 MANUAL (invented) ");
    let bench = bench.keys("enter").expect("its edition, looked up today?").typed("3").keys("enter enter");
    let bench = bench.keys("enter enter");
    bench.expect("Begun. Every figure is saved when it is taken");
}

#[test]
fn hours_that_are_odd_beside_the_last_opening_are_asked_about_and_the_field_comes_back() {
    let begin = || Bench::home().keys("7 down enter").typed("INV-0001").keys("enter").typed("fitter a").keys("enter");
    // a digit too few
    let bench =
        begin().typed("4848").keys("enter").expect("The counter stood at 36240 h on 8 June 2022, 4848 h is less");
    // the first choice is another try: the figure is back in the field
    let bench = bench.keys("down enter").expect("Type the hours again.").expect("[ 4848_");
    let bench = bench.typed("0").keys("enter").expect("which checklist").expect_not("is less");
    drop(bench);
    // a digit too many, insisted on
    let bench = begin().typed("484800").keys("enter").expect("448560 h are more than the");
    bench.keys("down down enter").expect("which checklist");
    // a new counter leaves nothing to reckon the parts' own hours from: none are offered
    let bench = begin()
        .typed("100")
        .keys("enter down down enter")
        .keys("1 enter")
        .expect("hours of the parts, which a new counter does not tell");
    bench.expect_not("-24").expect_not("known:");
}

#[test]
fn a_soak_runs_on_and_says_when_it_is_time() {
    let bench = Bench::at_step("turbine/soak").keys("enter").expect("time over at");
    let bench = bench.later(130).expect("time over: go on by 14:05 on 13 July 2024");
    bench.later(23 * 60).expect("too long since").keys("enter down enter enter").expect("clock stopped");
}

#[test]
fn a_soak_is_in_sight_at_every_other_step_and_right_after_a_restart() {
    let bench = Bench::at_step("turbine/soak").keys("enter").later(30).keys("esc 6").typed("nozzle soak").keys("enter");
    let bench = bench.keys("up").expect("turbine wheel waits: time over at");
    let bench = Bench::on(bench.record()).later(130);
    bench.keys("esc 6").typed("nozzle soak").keys("enter up").expect("turbine wheel waits: time over: go on");
}

#[test]
fn what_cannot_be_keeps_the_figure_until_somebody_says_otherwise() {
    let bench = lifts(Bench::at_step("bush.ts/clearance"), 1).typed("0.016").keys("enter").expect("X this cannot be");
    bench.keys("enter").expect("[ 0.016_").keys("enter down down enter").expect("first up: 0.216 mm taken");
}

#[test]
fn a_set_struck_as_a_whole_is_taken_again_from_its_first_place() {
    let mut bench = Bench::at_step("rotor/axial-float").keys("esc 2 2");
    for figure in ["0.020", "0.220", "0.020", "0.220", "0.020", "0.220"] {
        bench = bench.typed(figure).keys("enter");
    }
    let bench = bench.keys("esc 1").typed("0").keys("enter 4 enter").expect("6 figures struck");
    bench.expect("> shaft end, first pushed [ _").typed("0.022").keys("enter").expect("first pushed: 0.022 mm taken");
}

/// For everybody, whatever view stood open: the verdict is what is read now.
#[test]
fn the_lower_half_turns_to_the_verdict_when_the_set_is_complete() {
    let mut bench = Bench::at_step("rotor/axial-float").keys("esc 2 2 tab tab").expect("why it is done");
    for figure in ["0.020", "0.320", "0.020", "0.320", "0.020", "0.320"] {
        bench = bench.expect("why it is done").typed(figure).keys("enter");
    }
    bench.expect_not("why it is done").expect("axial float: 0.3 mm at shaft end").expect("0.3000 ?");
}

#[test]
fn an_undecided_place_is_not_left_without_the_offer_of_one_more_repeat() {
    let mut bench = Bench::at_step("bush.ts/clearance").keys("esc 2 2");
    for (number, text) in LIFTS.iter().enumerate() {
        // inner 0: 0.219, short of 0.220 by less than D2 can tell
        let text = if (12..18).contains(&number) { ["0.020", "0.240"][number % 2] } else { text };
        bench = bench.typed(text).keys("enter");
    }
    let bench = bench.expect("? undecided").keys("enter").expect("? undecided: inner 0").keys("enter");
    let bench = bench.expect("next:").keys("esc 6").typed("turbine side clearance lift").keys("enter enter down enter");
    let bench = bench.expect("> inner 0, fourth down [ _").expect("4 down");
    let bench = bench.typed("0.020").keys("enter").typed("0.236").keys("enter").expect("all taken");
    insta::assert_snapshot!("one_repeat_more", bench.screen());
}

/// Whoever knows an id from the record types that.
#[test]
fn a_signature_takes_the_id_as_well_as_the_name() {
    let bench = Bench::at_step("job/decisions").typed("fitter-c").keys("enter");
    bench.expect("fitter C is not at the machine, fitter A is").expect("type fitter A");
    let bench = Bench::at_step("job/decisions").typed("Fitter-A").keys("enter").expect_not("not at the machine");
    let last = bench.model.job().and_then(|job| job.inspection.entries().last()).unwrap();
    assert!(matches!(last.act, Act::Sign(_)), "{last:?}\n{}", bench.screen());
}
