//! Figures of the demonstration taken again and typed wrongly: said at once, and never passed as well.

use asfound::domain::doubt::Doubt;
use asfound::domain::entry::{Act, Late};
use asfound::domain::exact::Exact;
use asfound::domain::judge::Reach;
use asfound::domain::measured::is_below_nothing;
use asfound::domain::refusal::RefusalKind;
use asfound::domain::request::{Decision, Hand};
use asfound::domain::standing::{CharacteristicStanding, Outcome};
use rust_decimal::Decimal;

use super::demo::played;
use crate::rig::{Rig, figure, said};

fn exact(text: &str) -> Exact {
    Exact::from(text.parse::<Decimal>().unwrap())
}

/// The present inspection of the demonstration, its figures at these places struck.
fn again(step: &str, places: &[&str]) -> Rig {
    let inspection = played()[2].clone();
    let last = inspection.entries().last().unwrap();
    let hand = Hand { by: last.by.clone(), writer: None, at: last.at, late: None, break_hours: 4000 };
    let mut rig = Rig { inspection, hand };
    for place in places {
        let entry = rig.inspection.reading(step, place).unwrap_or_else(|| panic!("{step}: {place}")).entry;
        rig.take(Act::Strike { entry, reason: "taken again".into() });
    }
    rig
}

impl Rig {
    fn type_in(&mut self, (step, place): (&str, &str), text: &str, gauge: &str, insisted: &[&str]) -> &mut Self {
        let decision = self.ask(&Rig::typed(step, place, text, gauge, insisted));
        self.enter(decision)
    }

    fn says(&self, step: &str, place: &str, text: &str, gauge: &str) -> String {
        said(self.ask(&Rig::typed(step, place, text, gauge, &[])))
    }

    fn judged_at(&self, step: &str) -> CharacteristicStanding {
        self.standing().of_step(step).next().unwrap().clone()
    }
}

/// A leaf that does not go in any more settles a smallest limit before the other one is tried, and one that goes a largest.
#[test]
fn one_leaf_alone_tells_of_the_side_that_it_settles() {
    for (step, leaf, size, told) in [
        ("rotor/shroud", FEELERS[1], "0.55", Some(Reach::Limit)),
        ("rotor/shroud", FEELERS[1], "1.30", None),
        ("rotor/shroud", FEELERS[0], "1.25", Some(Reach::Limit)),
    ] {
        let mut rig = again(step, &FEELERS);
        rig.hand.late = Some(Late { taken: "2024-09-12 08:00".to_owned(), sheet: None });
        rig.type_in((step, leaf), size, "F1", &[]);
        let standing = rig.judged_at(step);
        let here = standing.judgement().filter(|one| one.value.spot == "place 7").map(|one| one.reached.reach);
        assert_eq!(here, told, "{leaf} {size}: {:?}", standing.outcome);
    }
}

const FEELERS: [&str; 2] = ["place 7 / goes", "place 7 / stops"];

/// DOMAIN of feelers: the gap lies between the leaf that goes and the leaf that stops. Common practice, no source.
#[test]
fn a_largest_limit_is_judged_by_the_leaf_that_stops_and_a_smallest_by_the_leaf_that_goes() {
    for (step, goes, stops, reach, value, place) in [
        // above 0.45 mm: the gap may be more than the leaf that goes
        ("labyrinth/clearance", "0.45", "0.50", Reach::Limit, "0.50", "place 7, the leaf that stops"),
        ("labyrinth/clearance", "0.40", "0.45", Reach::Alert, "0.45", "place 7, the leaf that stops"),
        ("rotor/shroud", "1.20", "1.25", Reach::Limit, "1.25", "place 7, the leaf that stops"),
        // below 0.60 mm: the gap may be less than the leaf that stops
        ("rotor/shroud", "0.55", "0.60", Reach::Limit, "0.55", "place 7, the leaf that goes"),
        ("rotor/shroud", "0.60", "0.65", Reach::Alert, "0.60", "place 7, the leaf that goes"),
    ] {
        let mut rig = again(step, &FEELERS);
        // behind the strip a gap at the shroud can only be copied
        rig.hand.late = Some(Late { taken: "2024-09-12 08:00".to_owned(), sheet: None });
        rig.type_in((step, FEELERS[0]), goes, "F1", &[]).type_in((step, FEELERS[1]), stops, "F1", &[]);
        let standing = rig.judged_at(step);
        let judgement = standing.judgement().unwrap_or_else(|| panic!("{goes}: {:?}", standing.outcome));
        assert_eq!(judgement.reached.reach, reach, "{step}, {goes} goes, {stops} stops");
        assert_eq!((judgement.value.value.clone(), judgement.value.place().as_str()), (exact(value), place));
    }
}

/// The meter's sign tells which pole it is, and nothing of how strong it is: both are judged by the amount, and it is said.
#[test]
fn a_pole_is_judged_by_its_amount() {
    for (text, reach) in [("-0.55", Reach::Limit), ("0.55", Reach::Limit), ("-0.10", Reach::Within)] {
        let mut rig = again("shaft/flux", &["nose"]);
        rig.type_in(("shaft/flux", "nose"), text, "G1", &[]);
        let standing = rig.judged_at("shaft/flux");
        let here = standing.measured.values.iter().find(|value| value.spot == "nose").unwrap();
        assert_eq!(here.value, exact(text.trim_start_matches('-')), "{text}");
        assert_eq!(standing.judgement().unwrap().reached.reach, reach, "{text}");
        let told = format!("{:?}", standing.measured.working);
        assert_eq!(told.contains(&format!("amount of {text} mT")), text.starts_with('-'), "{told}");
    }
}

/// The limit by the leaf that stops, and by the one that goes: neither is lifted by striking the other.
#[test]
fn a_leaf_struck_takes_nothing_back_of_what_the_other_has_settled() {
    for (step, goes, stops, struck) in [
        ("labyrinth/clearance", "0.45", "0.50", FEELERS[0]),
        ("labyrinth/clearance", "0.40", "0.45", FEELERS[0]),
        ("rotor/shroud", "0.55", "0.60", FEELERS[1]),
    ] {
        let mut rig = again(step, &FEELERS);
        rig.hand.late = Some(Late { taken: "2024-09-12 08:00".to_owned(), sheet: None });
        rig.type_in((step, FEELERS[0]), goes, "F1", &[]).type_in((step, FEELERS[1]), stops, "F1", &[]);
        let before = rig.judged_at(step).judgement().unwrap().clone();
        let entry = rig.inspection.reading(step, struck).unwrap().entry;
        rig.take(Act::Strike { entry, reason: "bent".into() });
        let standing = rig.judged_at(step);
        let judgement = standing.judgement().unwrap_or_else(|| panic!("{struck}: {:?}", standing.outcome));
        assert_eq!(judgement.reached.reach, before.reached.reach, "{step}: {struck}");
        assert_eq!(judgement.value.place(), before.value.place());
    }
}

/// Uniform within the bracket, JCGM 100:2008 4.3.7; the leaves' own certificate, 0.01 mm at k = 2, beside it.
#[test]
fn how_well_a_gap_is_known_comes_from_its_two_leaves() {
    let mut rig = again("labyrinth/clearance", &FEELERS);
    rig.type_in(("labyrinth/clearance", FEELERS[0]), "0.25", "F1", &[]);
    rig.type_in(("labyrinth/clearance", FEELERS[1]), "0.30", "F1", &[]);
    let standing = rig.judged_at("labyrinth/clearance");
    let here = standing.measured.values.iter().find(|value| value.spot == "place 7").unwrap();
    let bracket = Exact::fraction(25 * 25, 3 * 1_000_000).unwrap();
    assert_eq!(here.variance.as_ref().unwrap().variance, &bracket + &exact("0.000025"));
}

#[test]
fn a_leaf_that_stops_is_thicker_than_the_one_that_goes() {
    let mut rig = again("labyrinth/clearance", &FEELERS);
    rig.type_in(("labyrinth/clearance", FEELERS[0]), "0.30", "F1", &[]);
    for text in ["0.30", "0.25", "-0.30"] {
        assert_eq!(rig.says("labyrinth/clearance", FEELERS[1], text, "F1"), "NoAnswer", "{text}");
    }
}

/// 59.905 beside a track of 59.909 to 59.918.
#[test]
fn a_journal_thicker_in_its_track_than_beside_it_is_asked_about_and_never_within() {
    let (step, unworn) = ("shaft/diameter.ts", ["unworn 1", "unworn 2"]);
    let mut rig = again(step, &unworn);
    assert_eq!(rig.says(step, "unworn 1", "59.905", "M1"), "asked: below nothing");
    assert_eq!(rig.says(step, "unworn 1", "59.931", "M1"), "taken");
    for place in unworn {
        rig.type_in((step, place), "59.905", "M1", &["below nothing"]);
    }
    let standing = rig.judged_at(step);
    assert_eq!(standing.characteristic.id(), "shaft.ts.step");
    let Outcome::Open(why) = &standing.outcome else { panic!("{:?}", standing.outcome) };
    assert!(why.contains("-0.004 mm is below nothing"), "{why}");
    assert!(rig.verdict("shaft").contains("open"), "{}", rig.verdict("shaft"));
    let worn = again(step, &["a 45"]);
    assert_eq!(worn.says(step, "a 45", "59.940", "M1"), "asked: below nothing");
    // two divisions are the scatter of a micrometer
    assert_eq!(worn.says(step, "a 45", "59.933", "M1"), "taken");
}

/// The invented limit is 0.022 mm, two divisions of such a gauge 0.04 mm.
#[test]
fn however_coarse_the_gauge_a_track_thicker_by_the_limit_is_misread() {
    let inspection = &played()[2];
    let step = inspection.head().checklist.steps.iter().find(|step| step.id.as_str() == "shaft/diameter.ts").unwrap();
    let judged = step.judges.iter().find(|one| one.characteristic.id() == "shaft.ts.step").unwrap();
    let mut gauge = inspection.gauge(&"M1".parse().unwrap()).unwrap().clone();
    gauge.resolution = Some(figure("0.02 mm"));
    let says = |wear: &str| is_below_nothing(&exact(wear), Some(&gauge), (judged, inspection));
    assert_eq!(["-0.021", "-0.022", "-0.041"].map(says), [false, true, true]);
}

/// 12.60 against a new width of 12.00.
#[test]
fn a_pin_wider_than_new_is_asked_about_and_never_within() {
    let (step, place) = ("bush.ts/pin", "near the root");
    let mut rig = again(step, &[place]);
    assert_eq!(rig.says(step, place, "12.60", "C2"), "asked: below nothing");
    assert_eq!(rig.says(step, place, "12.00", "C2"), "taken");
    rig.type_in((step, place), "12.60", "C2", &["below nothing"]);
    let standing = rig.judged_at(step);
    // the other place is past its alert all the same
    let Outcome::Past(_, Some(why)) = &standing.outcome else { panic!("{:?}", standing.outcome) };
    assert!(why.contains("-0.6 mm is below nothing"), "{why}");
}

/// A new land has 26.4 and 6.6 mm; taper and flat must make 33.0 within 0.5.
#[test]
fn a_land_that_does_not_close_is_said_at_the_land() {
    let (step, taper, flat) = ("thrust.main/lands", "land 1 / 1 / taper", "land 1 / 1 / flat");
    let mut rig = again(step, &[taper, flat, "land 5 / 2 / flat"]);
    assert_eq!(rig.says(step, taper, "50 um", "C1"), "asked: unusual");
    assert_eq!(rig.says(step, taper, "27.4", "C1"), "asked: unusual");
    rig.type_in((step, taper), "24.3", "C1", &[]);
    assert_eq!(rig.says(step, flat, "6.0", "C1"), "asked: closing");
    assert_eq!(rig.says(step, flat, "8.7", "C1"), "taken");
    rig.type_in((step, flat), "6.0", "C1", &["closing"]);
    let standing = rig.judged_at(step);
    assert!(!standing.measured.is_complete(), "another land is still to be taken");
    assert!(standing.measured.faults[0].contains("taper + flat is 30.3 mm"), "{:?}", standing.measured.faults);
    // a ratio of figures that cannot be is not judged meanwhile
    assert!(standing.judgement().is_none());
    rig.type_in((step, "land 5 / 2 / flat"), "9.0", "C1", &[]);
    assert!(matches!(rig.judged_at(step).outcome, Outcome::Open(_)));
}

const PAIR: [&str; 2] = ["inner 0 / 2 / down", "inner 0 / 2 / up"];

/// The other places stand at 0.020 down.
#[test]
fn a_first_reading_one_turn_off_is_asked_about_and_the_second_is_not_blamed_for_it() {
    let step = "bush.ts/clearance";
    let mut rig = again(step, &PAIR);
    let asked = rig.ask(&Rig::typed(step, PAIR[0], "0.220", "D2", &[]));
    let Decision::Ask { doubts, .. } = asked else { panic!("{asked:?}") };
    assert!(matches!(&doubts[..], [Doubt::Turn { mended: Some((mended, _)), .. }] if *mended == figure("0.020 mm")));
    assert_eq!(rig.says(step, PAIR[0], "0.024", "D2"), "taken");
    rig.type_in((step, PAIR[0]), "0.220", "D2", &["turn"]);
    // the right second reading: no second turn is offered on top of it
    let asked = rig.ask(&Rig::typed(step, PAIR[1], "0.234", "D2", &[]));
    let Decision::Ask { doubts, .. } = asked else { panic!("{asked:?}") };
    assert!(matches!(&doubts[..], [Doubt::Turn { mended: None, .. }]), "{doubts:?}");
    let asked = rig.ask(&Rig::typed(step, PAIR[1], "0.208", "D2", &[]));
    let Decision::Refuse(refusal) = asked else { panic!("{asked:?}") };
    let RefusalKind::LiftReversed(lift) = &refusal.kind else { panic!("{refusal}") };
    assert_eq!(lift.one_turn_more, None);
}

/// Repeats 0.214, 0.214 and 0.202: six divisions apart.
#[test]
fn repeats_too_far_apart_are_said_at_their_place_before_the_last_one_is_taken() {
    let step = "bush.ts/clearance";
    let mut rig = again(step, &["inner 0 / 2 / up", "inner 90 / 3 / up"]);
    rig.type_in((step, "inner 0 / 2 / up"), "0.222", "D2", &[]);
    let standing = rig.judged_at(step);
    assert!(!standing.measured.is_complete());
    let here = standing.measured.values.iter().find(|value| value.spot == "inner 0").unwrap();
    let fault = here.fault.as_ref().expect("six divisions apart");
    assert_eq!(fault.words, "inner 0: repeats 0.012 mm apart, more than two divisions: strike all and retake");
}

/// The dial D3 shows a micrometre; the first mark is at nothing, the largest at 22, the smallest at -1.
#[test]
fn a_turn_that_does_not_close_and_a_sweep_narrower_than_its_marks_are_said_where_they_are_typed() {
    let step = "shaft/run-out.mid";
    let mut rig = again(step, &["mark back", "swept largest", "swept smallest"]);
    assert_eq!(rig.says(step, "mark back", "1", "D3"), "taken");
    assert_eq!(rig.says(step, "mark back", "3", "D3"), "asked: unclosed");
    assert_eq!(rig.says(step, "swept largest", "18", "D3"), "asked: swept");
    assert_eq!(rig.says(step, "swept largest", "21", "D3"), "taken");
    assert_eq!(rig.says(step, "swept smallest", "3", "D3"), "asked: swept");
    assert_eq!(rig.says(step, "swept smallest", "-2", "D3"), "taken");
    rig.type_in((step, "mark back"), "3", "D3", &["unclosed"]);
    let standing = rig.judged_at(step);
    assert!(!standing.measured.is_complete());
    assert!(standing.measured.faults[0].starts_with("The set is void: it closes 0.003 off"), "{:?}", standing.measured);
    // whoever says it ends the sentence
    assert!(!standing.measured.faults[0].ends_with('.'), "{:?}", standing.measured.faults);
}

/// One mark less is no full turn; what the others show is past the limit all the same.
#[test]
fn a_turn_of_which_a_mark_was_struck_is_not_told_as_a_full_one() {
    let step = "shaft/run-out.mid";
    let mut rig = again(step, &["mark 90", "swept largest", "swept smallest"]);
    rig.type_in((step, "mark 90"), "90", "D3", &["repeats", "far"]);
    rig.type_in((step, "swept largest"), "90", "D3", &["far"]).type_in((step, "swept smallest"), "-2", "D3", &["far"]);
    assert_eq!(rig.judged_at(step).judgement().unwrap().value.place(), "full turn");
    for (place, told) in [("mark 45", "full turn"), ("swept smallest", "the marks so far")] {
        let entry = rig.inspection.reading(step, place).unwrap().entry;
        rig.take(Act::Strike { entry, reason: "slipped".into() });
        let standing = rig.judged_at(step);
        let judgement = standing.judgement().unwrap_or_else(|| panic!("{place}: {:?}", standing.outcome));
        assert_eq!((judgement.reached.reach, judgement.value.place().as_str()), (Reach::Limit, told));
    }
}

/// Nobody has recorded how well the micrometer repeats: what is known of a reading is its step, 0.001 mm uniform.
#[test]
fn a_repeatability_that_nobody_knows_is_said_and_no_pooled_figure_is_claimed() {
    let rig = again("shaft/diameter.ts", &[]);
    let standing = rig.judged_at("shaft/diameter.ts");
    let budget = standing.judgement().unwrap().value.variance.clone().unwrap();
    let resolution = Exact::fraction(1, 12_000_000).unwrap();
    // two readings, and the certificate, 0.003 mm at k = 2
    let expected = &(&resolution + &resolution) + &exact("0.00000225");
    assert_eq!(budget.variance, expected);
    let lines: Vec<_> = standing.workings(&rig.inspection).iter().flat_map(|working| working.text_lines()).collect();
    let lines = lines.join(" ").split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(lines.contains("repeats not known, taken as within it") && !lines.contains("pooled"), "{lines}");
}

#[test]
fn the_working_of_a_wear_starts_from_the_new_size_and_ends_in_a_result() {
    let rig = again("bush.ts/pin", &[]);
    let lines = rig.judged_at("bush.ts/pin").measured.working[0].text_lines().join("\n");
    assert!(lines.contains("12 mm - 10.72 mm = 1.28 mm"), "{lines}");
    assert!(lines.contains("largest 1.4 mm at near the tip, smallest 1.28 mm at near the root"), "{lines}");
}

/// From five repeats up, Grubbs' test is reported and drops nothing; the critical value for five, two-sided at 0.05, is
/// 1.715 in the NIST/SEMATECH e-Handbook's formula 1.3.5.17.1.
#[test]
fn five_repeats_are_tested_for_one_that_lies_apart() {
    let mut rig = again("bush.ts/clearance", &[]);
    let mut head = rig.inspection.head().clone();
    let step = head.checklist.steps.iter_mut().find(|step| step.id == "bush.ts/clearance").unwrap();
    let asfound::domain::checklist::Takes::Readings(grid) = &mut step.takes else { panic!("no grid") };
    grid.repeats = 5;
    grid.blocks[0].rows.truncate(1);
    let mut inspection = asfound::domain::inspection::Inspection::new(head);
    for entry in rig.inspection.entries().to_vec() {
        asfound::domain::apply::apply(&mut inspection, entry);
    }
    rig.inspection = inspection;
    for (repeat, up) in [("4", "0.230"), ("5", "0.230")] {
        rig.type_in(("bush.ts/clearance", &format!("outer 0 / {repeat} / down")), "0.020", "D2", &[]);
        rig.type_in(("bush.ts/clearance", &format!("outer 0 / {repeat} / up")), up, "D2", &[]);
    }
    let standing = rig.judged_at("bush.ts/clearance");
    let lines = standing.measured.working.iter().flat_map(|one| one.text_lines()).collect::<Vec<_>>().join(" ");
    let lines = lines.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(lines.contains("outer 0: Grubbs, alpha 0.05") && lines.contains("critical 1.715"), "{lines}");
}

#[test]
fn nothing_in_doubt_stands_with_the_sign_of_what_is_well() {
    let step = "bush.cs/clearance";
    let mut rig = again(step, &["inner 0 / 3 / up"]);
    let place = |rig: &Rig| {
        let standing = rig.judged_at(step);
        let value = standing.measured.values.iter().find(|value| value.spot == "inner 0").unwrap();
        asfound::face::shown::place_words(&rig.inspection, &standing, value).0
    };
    rig.type_in((step, "inner 0 / 3 / up"), "0.1805", "D2", &["digits"]);
    assert_eq!(place(&rig), "? within");
    let entry = rig.last().number;
    rig.take(Act::Strike { entry, reason: "taken again".into() });
    rig.type_in((step, "inner 0 / 3 / up"), "0.190", "D2", &[]);
    assert_eq!(place(&rig), "? retake");
}
