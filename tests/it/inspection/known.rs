//! How well a figure is known: corrections of gauges, temperatures, the budget in the working. Figures worked by hand.

use crate::rig::{Rig, figure, grid, head, id};
use asfound::domain::characteristic::{Characteristic, Given};
use asfound::domain::checklist::{Step, Takes};
use asfound::domain::inspection::Head;
use asfound::domain::instrument::{Correction, GaugeKind};
use asfound::domain::judge::Condition;
use asfound::domain::phase::Phase;
use asfound::domain::sheet::GivenFigure;
use asfound::domain::unit::Unit;

const WORN: [&str; 10] =
    ["59.931", "59.931", "59.917", "59.915", "59.916", "59.918", "59.912", "59.909", "59.911", "59.913"];

/// The figure that counts, its reach, and the working.
fn told(rig: &Rig, characteristic: &str) -> (String, String, Vec<String>) {
    let characteristic = Characteristic::parse(characteristic).unwrap();
    let standing = rig.standing();
    let one = standing.characteristic(characteristic, Condition::AsFound).unwrap();
    let judgement = one.judgement().unwrap();
    let working = one.workings(&rig.inspection).iter().flat_map(|working| working.text_lines()).collect();
    (judgement.value.value.to_string(), judgement.reached.reach.word().to_owned(), working)
}

fn corrected(rows: &[(&str, &str)]) -> Rig {
    let mut head = head();
    let gauge = head.instruments.iter_mut().find(|gauge| gauge.id == id("M1")).unwrap();
    let row = |(piece, shows): &(&str, &str)| Correction { piece: figure(piece), shows: figure(shows) };
    gauge.corrections = rows.iter().map(row).collect();
    let mut rig = Rig::with(head);
    rig.covers_off();
    rig.journal(WORN);
    rig
}

#[test]
fn an_error_of_the_zero_cancels_in_a_difference_and_is_told_first() {
    let (value, reach, working) = told(&corrected(&[("50.000 mm", "50.010 mm")]), "shaft.ts.step");
    assert_eq!((value.as_str(), reach.as_str()), ("0.022", "past limit"));
    assert_eq!(working[1], "  M1: shows 50.010 mm on 50.000 mm, add -0.01 mm");
    assert!(working.contains(&"  unworn = largest beside the wear = 59.921 mm".to_owned()), "{working:#?}");
}

#[test]
fn a_table_of_corrections_is_drawn_straight_between_its_pieces() {
    // -0.010 x 9.931 / 25 on the unworn, -0.010 x 9.909 / 25 on the worn diameter: 0.022 becomes 0.0219912
    let rows = [("50.000 mm", "50.000 mm"), ("74.990 mm", "75.000 mm")];
    let (value, reach, _) = told(&corrected(&rows), "shaft.ts.step");
    assert_eq!((value.as_str(), reach.as_str()), ("0.0219912", "undecided"));
}

#[test]
fn the_budget_of_the_place_that_counts_stands_in_the_working() {
    let mut rig = Rig::open();
    rig.take(asfound::domain::entry::Act::Skip { step: "bush.ts/soak".into(), place: None, reason: "clean".into() });
    rig.lifts("bush.ts/clearance", ["0.180"; 3], ["0.234"; 3]);
    let (value, _, working) = told(&rig, "bush.ts.clearance");
    assert_eq!(value, "0.214");
    // 0.001 / sqrt 3; 0.002 / sqrt 12 twice; 0.003 / 2 once
    for line in [
        "  how well the figure at inner 0 is known",
        "  repeats, pooled s / sqrt n = 0.0005774 mm",
        "  resolution, first reading = 0.002 mm / (2 sqrt 3) = 0.0005774 mm",
        "  resolution, second reading = 0.002 mm / (2 sqrt 3) = 0.0005774 mm",
        "  gauge, expanded = 0.003 mm / 2 = 0.0015 mm",
        "      0.0015^2) = 0.001803 mm",
    ] {
        assert!(working.iter().any(|one| one == line), "{line}\n{working:#?}");
    }
    assert!(working.iter().any(|one| one.starts_with("  k = t for 95 %")), "{working:#?}");
    assert!(working.iter().any(|one| one.starts_with("result: U 0.00353 mm, k 1.96")), "{working:#?}");
}

fn warm() -> Head {
    let mut head = head();
    let mut takes = grid(GaugeKind::Other, &["parts", "gauges"], 1, &[]);
    if let Takes::Readings(grid) = &mut takes {
        grid.unit = Unit::Celsius;
    }
    let like = head.checklist.step("bush.ts/clearance").unwrap().clone();
    let step = Step { id: "job/warm".into(), part: "job".into(), takes, judges: vec![], needs: vec![], ..like };
    head.checklist.steps.insert(1, Step { phase: Phase::Measure, ..step });
    let clearance = head.checklist.steps.iter_mut().find(|step| step.id == "bush.ts/clearance").unwrap();
    if let Takes::Readings(grid) = &mut clearance.takes {
        grid.temperatures = Some("job/warm".into());
    }
    let given = &mut head.sheet.as_mut().unwrap().given;
    for (name, size) in
        [("bush.expansion", "18 um/m/K"), ("shaft.expansion", "11.5 um/m/K"), ("journal.diameter", "60 mm")]
    {
        let figure = GivenFigure { figure: figure(size), source: "invented".into() };
        given.insert(Given::parse(name).unwrap(), figure);
    }
    head
}

#[test]
fn a_warm_clearance_is_judged_at_20_degrees_with_the_temperature_in_its_budget() {
    // 60 mm x (18 - 11.5) um/m/K x 10 K = 0.0039 mm
    let mut rig = Rig::with(warm());
    rig.covers_off();
    rig.take(asfound::domain::entry::Act::Skip { step: "bush.ts/soak".into(), place: None, reason: "clean".into() });
    rig.lifts("bush.ts/clearance", ["0.180"; 3], ["0.234"; 3]);
    assert_eq!(told(&rig, "bush.ts.clearance").0, "0.214", "no temperature yet");
    let before = rig.standing();
    rig.read("job/warm", "parts", "30").read("job/warm", "gauges", "30");
    let (value, _, working) = told(&rig, "bush.ts.clearance");
    assert_eq!(value, "0.2101", "{working:#?}");
    assert!(
        working.iter().any(|line| line.contains("temperature = |0.00039 mm| x 1 K / sqrt 3 = 0.0002252 mm")),
        "{working:#?}"
    );
    let after = before.after(&rig.inspection, &asfound::domain::apply::Change::Step("job/warm".into()));
    assert_eq!(after, rig.standing(), "a temperature taken later is reckoned in at once");
}
