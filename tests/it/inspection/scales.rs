//! Figures in another unit than was meant: expansions that no metal has, inches at a grid in millimetres, a dial that grew.

use crate::rig::machine::gauge;
use crate::rig::{Rig, figure, head, id, said};
use asfound::domain::characteristic::{Characteristic, Given};
use asfound::domain::checklist::{Step, Takes};
use asfound::domain::entry::Act;
use asfound::domain::inspection::Head;
use asfound::domain::instrument::{GaugeKind, Instrument};
use asfound::domain::judge::Condition;
use asfound::domain::phase::Phase;
use asfound::domain::request::Decision;
use asfound::domain::review::{Kept, Review};
use asfound::domain::sheet::{GivenFigure, Levels};
use asfound::domain::standing::hold_words;
use asfound::domain::unit::Unit;
use asfound::records::instrument_file::read_instrument;
use asfound::records::sheet_file::read_sheet;

const OF_A_METAL: &str = "one of a metal, 0.1 to 100 um/m/K, such as 17.5 um/m/K or 0.0000175 1/K";

fn grows(size: &str) -> GivenFigure {
    GivenFigure { figure: figure(size), source: "front sheet (invented)".into() }
}

#[test]
fn an_expansion_that_no_metal_has_is_taken_nowhere() {
    let rig = Rig::begun();
    let given = |size: &str| Act::Given { given: Given::parse("bush.expansion").unwrap(), figure: grows(size) };
    let dial = |size: &str| {
        let like = gauge("D9", GaugeKind::Dial, ("0 mm", "1 mm"), "0.002 mm", "0.003 mm");
        Act::Gauge(Box::new(Instrument { expansion: Some(figure(size)), ..like }))
    };
    let docs =
        |name: &str| std::fs::read_to_string(format!("{}/assets/demo/{name}", env!("CARGO_MANIFEST_DIR"))).unwrap();
    let sheet = |size: &str| {
        let text = docs("INV-420.yaml")
            .replace("bush.expansion, figure: 12.0 um/m/K", &format!("bush.expansion, figure: {size}"));
        read_sheet("a.yaml", text.as_bytes()).map(drop).map_err(|problems| problems.to_string())
    };
    let instrument = |size: &str| {
        let text = docs("instruments/M1.yaml").replace("11.5 um/m/K", size);
        read_instrument("a.yaml", text.as_bytes()).map(drop).map_err(|problems| problems.to_string())
    };
    for size in ["12 1/K", "0.0000175 um/m/K", "18500 um/m/K", "0 1/K"] {
        for act in [given(size), dial(size)] {
            let Decision::Refuse(refusal) = rig.may(act) else { panic!("{size} is taken") };
            let what = refusal.kind.what();
            assert!(what.contains(OF_A_METAL) || size.starts_with('0') && what.contains("above 0"), "{size}: {what}");
        }
        for faults in [sheet(size), instrument(size)] {
            let faults = faults.unwrap_err();
            assert!(faults.contains(OF_A_METAL) || faults.contains("above 0"), "{size}: {faults}");
        }
    }
    for size in ["17.5 um/m/K", "0.0000175 1/K"] {
        assert_eq!([rig.refused(given(size)), rig.refused(dial(size))], ["taken", "taken"], "{size}");
        assert_eq!((sheet(size), instrument(size)), (Ok(()), Ok(())), "{size}");
    }
}

/// Judged by an upper limit alone, at 20 degC, with expansions that an older record took.
fn warm() -> Head {
    let mut head = head();
    let like = head.checklist.step("bush.ts/clearance").unwrap().clone();
    let mut takes = crate::rig::grid(GaugeKind::Other, &["parts", "gauges"], 1, &[]);
    if let Takes::Readings(grid) = &mut takes {
        grid.unit = Unit::Celsius;
    }
    let step = Step { id: "job/warm".into(), part: "job".into(), takes, judges: vec![], needs: vec![], ..like };
    head.checklist.steps.insert(1, Step { phase: Phase::Measure, ..step });
    let clearance = head.checklist.steps.iter_mut().find(|step| step.id == "bush.ts/clearance").unwrap();
    if let Takes::Readings(grid) = &mut clearance.takes {
        grid.temperatures = Some("job/warm".into());
    }
    let sheet = head.sheet.as_mut().unwrap();
    for (name, size) in
        [("bush.expansion", "0.36 1/K"), ("shaft.expansion", "11.5 um/m/K"), ("journal.diameter", "60 mm")]
    {
        sheet.given.insert(Given::parse(name).unwrap(), grows(size));
    }
    let one = Characteristic::parse("bush.ts.clearance").unwrap();
    let whole = sheet.levels[&one].limit.clone().unwrap();
    let upper = whole.upper().cloned();
    let limit = crate::rig::level(upper, None, whole.leads_to(), whole.rule());
    sheet.levels.insert(one, Levels { new: None, alert: None, limit, part_number: None });
    head
}

#[test]
fn a_clearance_below_nothing_at_20_degrees_is_open_and_never_within() {
    let mut rig = Rig::with(warm());
    rig.covers_off();
    rig.take(Act::Skip { step: "bush.ts/soak".into(), place: None, reason: "clean".into() });
    rig.lifts("bush.ts/clearance", ["0.180"; 3], ["0.182"; 3]);
    rig.read("job/warm", "parts", "22").read("job/warm", "gauges", "22");
    let one = Characteristic::parse("bush.ts.clearance").unwrap();
    let standing = rig.standing();
    let judged = standing.characteristic(one, Condition::AsFound).unwrap();
    // 60 mm x 0.36 x 2
    assert!(judged.measured.faults.iter().any(|fault| fault.contains("-43.") && fault.contains("below nothing")));
    assert!(judged.judgement().is_none(), "{:?}", judged.outcome);
    let part = standing.part("bush.ts").unwrap();
    assert!(!part.is_within());
    assert!(part.verdict.holds.iter().any(|hold| hold_words(hold).contains("below nothing")), "{:?}", part.verdict);
}

/// Opened, with an inch dial D8 at hand.
fn with_inches() -> Rig {
    let mut head = head();
    head.instruments
        .push(Instrument { turn: None, ..gauge("D8", GaugeKind::Dial, ("0 in", "0.2 in"), "0.0001 in", "0.0001 in") });
    let mut rig = Rig::with(head);
    rig.covers_off();
    rig
}

/// An inch dial that shows .0102 at a grid in millimetres: 0.0102 mm or 0.259 mm.
#[test]
fn a_bare_figure_of_a_gauge_in_the_other_system_is_asked_about_with_both_figures() {
    let rig = with_inches();
    let typed = |text: &str, gauge: &str, insisted: &[&str]| {
        Rig::typed("bush.ts/clearance", "outer 0 / 1 / down", text, gauge, insisted)
    };
    let Decision::Ask { doubts, .. } = rig.ask(&typed(".0102", "D8", &[])) else { panic!("taken as millimetres") };
    assert_eq!(doubts.len(), 1, "{doubts:?}");
    let question = doubts[0].question();
    assert!(
        question.contains("0.0102 mm") && question.contains("0.0102 in") && question.contains("0.2591 mm"),
        "{question}"
    );
    for (text, gauge, answer) in [
        (".0102 in", "D8", "taken"),
        (".0102 mm", "D8", "taken"),
        ("10.2 thou", "D8", "taken"),
        // a tenth of a division read by eye, and thousandths said without their word
        (".01023", "D8", "asked: bare"),
        ("1.5", "D8", "asked: bare"),
        // the dial has no 0.259 in, nor such a part of a thousandth
        ("0.259", "D8", "taken"),
        // nothing is nothing in any unit
        ("0", "D8", "taken"),
        ("0.0102", "D2", "asked: digits"),
        ("0.010", "D2", "taken"),
    ] {
        assert_eq!(said(rig.ask(&typed(text, gauge, &[]))), answer, "{text} on {gauge}");
    }
    assert_eq!(said(rig.ask(&typed(".0102", "D8", &["bare"]))), "taken");
}

/// Zeroed anew, a dial reads another range of the same length; a longer one is another gauge.
#[test]
fn a_gauge_whose_scale_got_longer_in_the_job_stands_on_page_one() {
    let mut rig = Rig::begun();
    let decide = |rig: &Rig| Review::of(&rig.inspection, &rig.standing(), &Kept::default()).decide;
    let with = |from: &str, to: &str| {
        let d2 = Rig::begun().inspection.gauge(&id("D2")).unwrap().clone();
        Act::Gauge(Box::new(Instrument { range: Some((figure(from), figure(to))), ..d2 }))
    };
    rig.take(with("-0.5 mm", "0.5 mm"));
    assert!(!decide(&rig).iter().any(|line| line.contains("gauge D2")), "{:?}", decide(&rig));
    rig.take(with("-5 mm", "5 mm"));
    let entry = rig.last().number;
    let line = format!("look at gauge D2, changed in entry {entry}: -5 mm to 5 mm, was -0.5 mm to 0.5 mm");
    assert!(decide(&rig).contains(&line), "{:?}", decide(&rig));
}

/// A piece that the gauge cannot take checks nothing, and a bare figure is one of the gauge's own scale.
#[test]
fn a_gauge_is_checked_in_the_unit_of_its_scale_on_a_piece_that_it_can_take() {
    let rig = with_inches();
    let check = |size: &str| Act::GaugeCheck { gauge: id("D8"), piece: figure(size), shows: figure(size) };
    assert_eq!(rig.refused(check("0.15 in")), "taken");
    assert_eq!(rig.refused(check("5.2 mm")), "NoAnswer");
    let mut lines = crate::plain::bench::Bench::over(rig.inspection);
    lines.types(&["! 22", "D8"]);
    assert!(lines.question().starts_with("the piece's size, in"), "{}", lines.question());
    lines.types(&["0.15", "0.15"]);
    let last = &lines.inspection().entries().last().unwrap().act;
    assert_eq!(*last, check("0.15 in"));
}
