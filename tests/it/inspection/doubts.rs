//! Typed figures at a place: taken, asked about, refused.

use crate::rig::{Rig, figure, id, said};
use asfound::domain::characteristic::Characteristic;
use asfound::domain::doubt::Doubt;
use asfound::domain::entry::{Act, Late};
use asfound::domain::progress;
use asfound::domain::request::{Decision, Request};
use asfound::domain::unit::Unit;

fn clearance(rig: &Rig, place: &str, text: &str) -> String {
    said(rig.ask(&Rig::typed("bush.ts/clearance", place, text, "D2", &[])))
}

/// The third lift at `inner 0`, all before it taken.
fn at_third_up() -> Rig {
    let mut rig = Rig::open();
    for (place, repeats) in [("outer 0", 3), ("inner 0", 2)] {
        for repeat in 1..=repeats {
            rig.read("bush.ts/clearance", &format!("{place} / {repeat} / down"), "0.020");
            rig.read("bush.ts/clearance", &format!("{place} / {repeat} / up"), "0.234");
        }
    }
    rig.read("bush.ts/clearance", "inner 0 / 3 / down", "0.018");
    rig
}

#[test]
fn a_missed_turn_is_asked_about_with_the_figure_mended() {
    // figures of the invented demonstration rotor: the counter unread gives .034, one turn more .234
    let rig = at_third_up();
    let decision = rig.ask(&Rig::typed("bush.ts/clearance", "inner 0 / 3 / up", ".034", "D2", &[]));
    let Decision::Ask { doubts, .. } = decision else { panic!("{decision:?}") };
    assert!(doubts[0].question().contains("0.234 mm"), "{}", doubts[0].question());
    // 0.034 mm as it is nearly typed in thousandths of an inch, in which a turn of 0.2 mm has no last digit: asked all the same
    for text in [".00134\"", "1.34 thou"] {
        let said = said(rig.ask(&Rig::typed("bush.ts/clearance", "inner 0 / 3 / up", text, "D2", &[])));
        assert!(said.contains("turn"), "{text}: {said}");
    }
}

#[test]
fn a_turn_put_right_stays_beside_what_was_typed_and_is_exact() {
    let mut rig = at_third_up();
    let place = "inner 0 / 3 / up";
    let counted = |rig: &Rig, text: &str| {
        let request = Rig::typed("bush.ts/clearance", place, text, "D2", &[]);
        let Decision::Ask { doubts, .. } = rig.ask(&request) else { panic!("{text} was taken") };
        let turn = doubts.iter().find_map(|doubt| if let Doubt::Turn { mended, .. } = doubt { *mended } else { None });
        let (mended, way) = turn.unwrap();
        (mended.to_string(), request.with_turn(way).unwrap())
    };
    // half a step of the gauge: no digit is lost, and the digits are asked about as without the turn
    let (mended, request) = counted(&rig, "0.0505");
    assert_eq!((mended.as_str(), said(rig.ask(&request))), ("0.2505 mm", "asked: digits".to_owned()));
    let (_, request) = counted(&rig, ".034");
    let decision = rig.ask(&request);
    rig.enter(decision);
    let Act::Reading { typed, taken, doubts, .. } = &rig.last().act else { panic!("no reading") };
    assert_eq!((typed.as_str(), taken.to_string().as_str()), (".034 + one turn", "0.234 mm"));
    assert!(doubts.is_empty(), "{doubts:?}");
}

#[test]
fn insisting_takes_the_figure_and_leaves_the_verdict_provisional() {
    let mut rig = at_third_up();
    let decision = rig.ask(&Rig::typed("bush.ts/clearance", "inner 0 / 3 / up", "0.2335", "D2", &["digits"]));
    rig.enter(decision);
    assert!(matches!(&rig.last().act, Act::Reading { doubts, .. } if doubts == &["digits"]));
    assert!(rig.verdict("bush.ts").contains("open"), "{}", rig.verdict("bush.ts"));
    assert_eq!(rig.standing().counts.provisional, 1);
    assert_eq!(rig.standing().counts.insisted, 1);
}

#[test]
fn what_looks_wrong_is_asked_once() {
    let rig = at_third_up();
    for (text, answer) in [
        ("0.232", "taken"),
        ("0.2325", "asked: digits"),
        ("0.434", "asked: turn"),
        ("0.290", "asked: far off"),
        ("232 um", "taken"),
        ("0,232", "taken"),
        ("9.2 thou", "taken"),
    ] {
        assert_eq!(clearance(&rig, "inner 0 / 3 / up", text), answer, "{text}");
    }
}

/// Once the rotor is apart a float can only be copied: asked about, unless the paper is named.
#[test]
fn an_as_found_figure_retaken_behind_the_strip_is_asked_about() {
    let mut rig = Rig::open();
    let float = |insisted: &[&str]| Rig::typed("rotor/axial", "axial / pushed", "0.020", "D2", insisted);
    let read = rig.inspection.reading("rotor/axial", "axial / pushed").unwrap().entry;
    rig.take(Act::Strike { entry: read, reason: "misread".into() });
    let Decision::Ask { doubts, .. } = rig.ask(&float(&[])) else { panic!("taken as read") };
    assert_eq!(doubts.iter().map(Doubt::word).collect::<Vec<_>>(), ["gone"]);
    assert!(doubts[0].question().contains("is done: nothing can be read here any more."), "{}", doubts[0].question());
    let Decision::Take(entry) = rig.ask(&float(&["gone"])) else { panic!("insisted on") };
    assert_eq!(entry.act.doubts(), ["gone"]);
    rig.hand.late = Some(Late { taken: "14:00".into(), sheet: None });
    let Decision::Take(entry) = rig.ask(&float(&[])) else { panic!("from paper") };
    assert!(entry.act.doubts().is_empty());
}

#[test]
fn a_dimension_has_its_article() {
    use asfound::domain::unit::Dimension;
    let (is, wanted) = (Dimension::Angle.word(), Dimension::Length.word());
    let kind = asfound::domain::refusal::RefusalKind::OtherDimension { figure: figure("59.909 deg"), is, wanted };
    assert_eq!(kind.what(), "59.909 deg is an angle, a length is wanted.");
}

#[test]
fn what_cannot_be_true_is_refused_whatever_is_insisted() {
    let rig = at_third_up();
    for (text, answer) in [
        ("0.010", "LiftReversed"),
        ("0.018", "LiftReversed"),
        ("1.2", "OutsideRange"),
        ("-0.1", "OutsideRange"),
        ("3 bar", "OtherDimension"),
        ("", "Empty"),
        ("abc", "NotAFigure"),
    ] {
        let insisted = ["digits", "turn", "factor", "far off", "half millimetre"];
        let asked = rig.ask(&Rig::typed("bush.ts/clearance", "inner 0 / 3 / up", text, "D2", &insisted));
        assert_eq!(said(asked), answer, "{text}");
    }
    let Decision::Refuse(refusal) = rig.ask(&Rig::typed("bush.ts/clearance", "inner 0 / 3 / up", "0.010", "D2", &[]))
    else {
        panic!("taken")
    };
    assert_eq!(
        refusal.to_string(),
        "up 0.010 mm is not above down 0.018 mm. (bush.ts/clearance, inner 0 / 3 / up) \
         Was a turn missed (up 0.210 mm)? Add it, type up again, or retake down."
    );
}

/// Down on one dial, up on another: their zeros have nothing to do with each other.
#[test]
fn a_difference_is_read_on_one_dial_alone() {
    let mut head = crate::rig::head();
    let other = head.instruments.iter().find(|gauge| gauge.id.as_str() == "D2").unwrap().clone();
    head.instruments.push(asfound::domain::instrument::Instrument { id: id("D9"), ..other });
    let mut rig = Rig::with(head);
    rig.covers_off().read("bush.ts/clearance", "outer 0 / 1 / down", "0.020");
    let up = |gauge: &str| rig.ask(&Rig::typed("bush.ts/clearance", "outer 0 / 1 / up", "0.230", gauge, &["far off"]));
    assert_eq!(said(up("D2")), "taken");
    let Decision::Refuse(refusal) = up("D9") else { panic!("read on two dials") };
    let what = refusal.kind.what();
    assert!(what.contains("was read on D2, and this is D9: two dials have no common zero."), "{what}");
    // another difference may be read on another dial
    let next = rig.ask(&Rig::typed("bush.ts/clearance", "outer 0 / 2 / down", "0.020", "D9", &[]));
    assert_eq!(said(next), "taken");
}

#[test]
fn a_micrometer_of_the_wrong_range_is_refused() {
    let rig = Rig::open();
    let asked = rig.ask(&Rig::typed("shaft/journal", "unworn 1", "59.93", "M3", &[]));
    let Decision::Refuse(refusal) = asked else { panic!("{asked:?}") };
    assert_eq!(refusal.kind.what(), "59.93 mm cannot be read on M3 (25 to 50 mm).");
    for (text, gauge, mend) in [
        ("59.93", "M3", "Take M1 (50 to 75 mm) (Esc, other gauge), or type the figure again."),
        ("5.993", "M1", "or type the figure again: was it 59.93 mm, a digit missed?"),
        ("2.3595", "M1", "or type the figure again: was it 2.3595 in, another unit?"),
        ("59930", "M1", "or type the figure again: was it 59930 um, another unit?"),
        ("599.3", "M1", "or type the figure again: was it 59.93 mm, a digit or a point too many?"),
        ("0", "M1", "Take a gauge of that range (Esc, other gauge), or type the figure again."),
    ] {
        let asked = rig.ask(&Rig::typed("shaft/journal", "unworn 1", text, gauge, &[]));
        let Decision::Refuse(refusal) = asked else { panic!("{text}: {asked:?}") };
        assert!(refusal.kind.mend().ends_with(mend), "{text}: {}", refusal.kind.mend());
    }
}

/// A dial that is zeroed at the first mark shows less than that too. Common practice, no source.
#[test]
fn a_dial_entered_from_nothing_on_is_told_how_it_reads_both_ways() {
    let rig = Rig::open();
    let asked = rig.ask(&Rig::typed("bush.ts/clearance", "outer 0 / 1 / down", "-2 um", "D2", &[]));
    let Decision::Refuse(refusal) = asked else { panic!("{asked:?}") };
    assert_eq!(refusal.kind.what(), "-2 um cannot be read on D2 (0 to 1 mm).");
    let mend = refusal.kind.mend();
    assert!(mend.contains("as the gauge (Esc, other gauge) type D2 -0.5 to 0.5 mm, then the figure"), "{mend}");
    // no dial shows so much on either side
    let asked = rig.ask(&Rig::typed("bush.ts/clearance", "outer 0 / 1 / down", "-0.7", "D2", &[]));
    assert!(matches!(&asked, Decision::Refuse(refusal) if !refusal.kind.mend().contains("both ways")), "{asked:?}");
}

#[test]
fn half_a_millimetre_and_other_units_are_asked_about() {
    let mut rig = Rig::open();
    rig.read("shaft/journal", "unworn 1", "59.931");
    for (text, answer) in [("59.930", "taken"), ("60.432", "asked: half millimetre"), ("2.3595 in", "taken")] {
        assert_eq!(said(rig.ask(&Rig::typed("shaft/journal", "unworn 2", text, "M1", &[]))), answer, "{text}");
    }
}

#[test]
fn a_place_holds_one_reading_until_it_is_struck_with_a_reason() {
    let mut rig = Rig::open();
    rig.read("shaft/journal", "unworn 1", "59.931");
    let number = rig.last().number;
    assert_eq!(said(rig.ask(&Rig::typed("shaft/journal", "unworn 1", "59.932", "M1", &[]))), "TakenAlready");
    assert_eq!(rig.refused(Act::Strike { entry: number, reason: " ".into() }), "NoWords");
    rig.take(Act::Strike { entry: number, reason: "gauge slipped".into() });
    assert!(rig.inspection.reading("shaft/journal", "unworn 1").is_none());
    assert_eq!(rig.refused(Act::Strike { entry: number, reason: "once more".into() }), "StruckAlready");
    assert_eq!(rig.refused(Act::Strike { entry: number + 1, reason: "a strike".into() }), "NotToStrike");
    rig.read("shaft/journal", "unworn 1", "59.932");
    assert_eq!(rig.inspection.readings_at("shaft/journal", "unworn 1").len(), 2);
    assert_eq!((rig.standing().counts.struck, rig.standing().counts.retaken), (1, 1));
}

#[test]
fn words_that_name_nothing_are_refused() {
    let rig = Rig::open();
    let journal = |place: &str, gauge: &str| said(rig.ask(&Rig::typed("shaft/journal", place, "59.931", gauge, &[])));
    assert_eq!(journal("c 0", "M1"), "NoSuchPlace");
    assert_eq!(journal("a 0", "M9"), "UnknownGauge");
    assert_eq!(said(rig.ask(&Rig::typed("shaft/none", "a 0", "59.931", "M1", &[]))), "NoSuchStep");
    assert_eq!(said(rig.ask(&Rig::typed("rotor/covers", "a 0", "59.931", "M1", &[]))), "OtherKindOfStep");
    let mut stranger = rig.clone();
    stranger.by("nobody");
    assert_eq!(said(stranger.ask(&Rig::typed("shaft/journal", "a 0", "59.931", "M1", &[]))), "UnknownPerson");
}

/// Short of the limit by less than the guard: one more repeat may decide, and the mean counts all of them.
#[test]
fn a_place_that_is_undecided_takes_one_more_repeat_and_counts_them_all() {
    let step = "bush.ts/clearance";
    let more = |place: &str| Act::Repeat { step: step.into(), place: place.into() };
    let mut rig = Rig::open();
    rig.take(Act::NotApplicable { step: "bush.ts/soak".into(), point: None, reason: "clean".into() });
    assert_eq!(rig.refused(more("outer 0")), "NotUndecided", "nothing is taken yet");
    rig.lifts(step, ["0.238"; 3], ["0.210"; 3]);
    assert_eq!(rig.verdict("bush.ts"), "watch [open]");
    assert_eq!(rig.refused(more("inner 0")), "NotUndecided", "within is within");
    assert_eq!(rig.refused(more("outer 9")), "NotUndecided", "no such place");
    rig.take(more("outer 0"));
    let entry = rig.last().number;
    // the set is open again until the repeat is taken, and what the three have said stands
    let open = progress::next_cell(&rig.inspection, rig.inspection.head().checklist.step(step).unwrap()).unwrap();
    assert_eq!(open.place(), "outer 0 / 4 / down");
    assert_eq!(rig.verdict("bush.ts"), "watch [open]");
    let mut accepted = rig.clone();
    let (supervisor, reason) = (id("supervisor-b"), "no more time".into());
    let characteristic = Characteristic::parse("bush.ts.clearance").unwrap();
    accepted.supervised(Act::Unjudged { characteristic, as_left: false, supervisor, reason });
    assert_eq!(accepted.verdict("bush.ts"), "watch [open]", "accepting it makes it no better known");
    assert_eq!(rig.refused(more("outer 0")), "NotUndecided", "one after the other");
    rig.read(step, "outer 0 / 4 / down", "0.020").read(step, "outer 0 / 4 / up", "0.234");
    let standing = rig.standing();
    let value = &standing.of_step(step).next().unwrap().judgement().unwrap().value;
    // 0.218 three times and 0.214: 0.868 / 4
    assert_eq!((value.value.as_decimal().as_deref(), value.entries.len()), (Some("0.217"), 8));
    // it is not taken back under the figures that rest on it
    let strike = || Act::Strike { entry, reason: "typed wrong".into() };
    assert_eq!(rig.refused(strike()), "NotToStrike");
    for place in ["outer 0 / 4 / down", "outer 0 / 4 / up"] {
        let number = rig.inspection.reading(step, place).unwrap().entry;
        rig.take(Act::Strike { entry: number, reason: "slipped".into() });
    }
    rig.take(strike());
    assert_eq!(rig.verdict("bush.ts"), "watch [open]", "as it was before");
}

#[test]
fn past_its_limit_no_further_repeat_takes_a_place_back() {
    let step = "bush.ts/clearance";
    let mut rig = Rig::open();
    rig.take(Act::NotApplicable { step: "bush.ts/soak".into(), point: None, reason: "clean".into() });
    rig.lifts(step, ["0.242"; 3], ["0.210"; 3]);
    assert_eq!(rig.refused(Act::Repeat { step: step.into(), place: "outer 0".into() }), "NotUndecided");
}

/// A journal wears by hundredths; a digit missed makes it another journal. Common practice, no source.
#[test]
fn what_a_gauge_has_read_that_misses_its_check_is_provisional_until_the_check_is_struck() {
    let mut rig = Rig::open();
    rig.take(Act::NotApplicable { step: "bush.ts/soak".into(), point: None, reason: "clean already".into() });
    rig.lifts("bush.ts/clearance", ["0.180"; 3], ["0.182"; 3]);
    let check = |shows: &str| Act::GaugeCheck { gauge: id("D2"), piece: figure("0.500 mm"), shows: figure(shows) };
    // U 0.003 mm and a step of 0.002 mm
    rig.take(check("0.505 mm"));
    assert_eq!(rig.standing().counts.provisional, 0);
    rig.take(check("0.506 mm"));
    assert!(rig.standing().counts.provisional > 0);
    assert!(rig.verdict("bush.ts").contains("open"), "{}", rig.verdict("bush.ts"));
    let entry = rig.last().number;
    rig.take(Act::Strike { entry, reason: "dirt under the piece".into() });
    assert_eq!(rig.standing().counts.provisional, 0);
}

#[test]
fn a_diameter_a_hundredth_part_off_the_others_is_asked_about() {
    let mut rig = Rig::open();
    rig.read("shaft/journal", "unworn 1", "59.931");
    let typed =
        |rig: &Rig, place: &str, text: &str| said(rig.ask(&Rig::typed("shaft/journal", place, text, "M1", &[])));
    assert_eq!(typed(&rig, "a 0", "50.000"), "asked: far off");
    assert_eq!(typed(&rig, "a 0", "59.309"), "asked: far off");
    assert_eq!(typed(&rig, "a 0", "59.800"), "taken");
    rig.read("shaft/journal", "a 0", "59.909");
    assert_eq!(typed(&rig, "a 45", "56.909"), "asked: far off");
}

/// After the start, against before the stop: worse by more than a fifth, a temperature by 15 K or more, is asked about,
/// better never; the load at which they compare, a twentieth off either way. Common practice, no source.
#[test]
fn what_is_worse_than_before_the_job_is_asked_about() {
    use crate::rig::{checklist, grid, head, step};
    use asfound::domain::checklist::{Against, Takes, Worse};
    use asfound::domain::inspection::Head;
    use asfound::domain::instrument::GaugeKind;
    use asfound::domain::phase::Phase;

    let reads = |id: &str, unit: Unit, against: Option<(&str, Option<Worse>)>| {
        let Takes::Readings(mut grid) = grid(GaugeKind::Other, &["hub"], 1, &[]) else { panic!("no grid") };
        grid.unit = unit;
        grid.against = against.map(|(step, _)| Against::Compared(step.to_owned()));
        grid.worse = against.and_then(|(_, worse)| worse);
        step(id, Phase::Found, Takes::Readings(grid), &[])
    };
    let (more, less, mm, warm) = (Some(Worse::More), Some(Worse::Less), Unit::Millimetre, Unit::Celsius);
    for (worse, unit, before, text, answer) in [
        (more, mm, "2.0", "2.4", "taken"),
        (more, mm, "2.0", "2.41", "asked: worse"),
        (more, mm, "2.0", "0.1", "taken"),
        (less, mm, "2.0", "1.6", "taken"),
        (less, mm, "2.0", "1.59", "asked: worse"),
        (less, mm, "2.0", "9", "taken"),
        (more, warm, "0", "14.9", "taken"),
        (more, warm, "0", "15", "asked: worse"),
        (more, warm, "400", "415", "asked: worse"),
        (more, warm, "400", "688 K", "taken"),
        (more, warm, "400", "689 K", "asked: worse"),
        (less, warm, "400", "384", "asked: worse"),
        (None, mm, "80", "84", "taken"),
        (None, mm, "80", "84.1", "asked: another load"),
        (None, mm, "80", "75.9", "asked: another load"),
    ] {
        let mut checklist = checklist();
        checklist.steps.insert(1, reads("job/before", unit, None));
        checklist.steps.insert(2, reads("job/after", unit, Some(("job/before", worse))));
        let mut rig = Rig::with(Head { checklist, ..head() });
        rig.make_safe();
        let reading = |step: &str, text: &str| Request::Reading {
            step: step.into(),
            place: "hub".into(),
            text: text.into(),
            gauge: None,
            insisted: vec![],
        };
        let decision = rig.ask(&reading("job/before", before));
        rig.enter(decision);
        assert_eq!(said(rig.ask(&reading("job/after", text))), answer, "{worse:?} {text}");
    }
}
