//! A new part in its place: its own checks, its mates measured anew, its papers, its number; the part found, identified
//! late. Common practice, no source; the figures are the invented demonstration's.

use asfound::domain::beside;
use asfound::domain::characteristic::Characteristic;
use asfound::domain::checklist::{Signing, Takes};
use asfound::domain::entry::{Act, Replaces};
use asfound::domain::hours;
use asfound::domain::judge::Condition;
use asfound::domain::progress::{self, StepState};
use asfound::domain::request::{Hand, Request};
use asfound::domain::rotor::Fitted;
use asfound::domain::standing::past_of;
use asfound::domain::verdict::Disposition;

use super::demo::played;
use super::holds::{held, not_held};
use super::steps::{checklist, step};
use crate::rig::{Rig, figure};

/// The present inspection of the demonstration with its decisions signed.
pub(super) fn signed() -> Rig {
    let inspection = played()[2].clone();
    let last = inspection.entries().last().unwrap();
    let hand = Hand { by: last.by.clone(), writer: None, at: last.at, late: None, break_hours: 4000 };
    let mut rig = Rig { inspection, hand };
    rig.sign(Signing::Decisions, &[]);
    rig
}

pub(super) fn fit(part: &str, serial: Option<&str>) -> Act {
    let fitted = Fitted {
        serial: serial.map(str::to_owned),
        hours: figure("0 h"),
        machine: figure("48480 h"),
        // the demonstration's spare bush, measured on the shelf, is this one
        doubts: if part == "bush.ts" { vec![Fitted::CHECKS.to_owned()] } else { Vec::new() },
    };
    Act::PartFitted { part: part.to_owned(), fitted, replaces: Replaces::Yes }
}

fn found(part: &str, hours: &str) -> Act {
    let fitted = Fitted {
        serial: Some("INV-77".to_owned()),
        hours: figure(hours),
        machine: figure("48480 h"),
        doubts: Vec::new(),
    };
    Act::PartFitted { part: part.to_owned(), fitted, replaces: Replaces::No }
}

fn state(rig: &Rig, id: &str) -> StepState {
    progress::state(&rig.inspection, step(&checklist("overhaul"), id))
}

pub(super) fn confirm(rig: &mut Rig, id: &str) {
    let Takes::Points(points) = step(&checklist("overhaul"), id).takes.clone() else { panic!("{id}: no points") };
    for point in points {
        rig.take(Act::Confirm { step: id.to_owned(), point: point.id });
    }
}

/// These figures in turn at every place of a step; `-` is no gauge.
pub(super) fn measure(rig: &mut Rig, id: &str, gauge: &str, figures: &[&str]) {
    let overhaul = checklist("overhaul");
    let cells = progress::cells(&rig.inspection, step(&overhaul, id));
    for (cell, text) in cells.iter().zip(figures.iter().cycle()) {
        let gauge = (gauge != "-").then(|| crate::rig::id(gauge));
        let (step, place, text) = (id.to_owned(), cell.place(), (*text).to_owned());
        let decision = rig.ask(&Request::Reading { step, place, text, gauge, insisted: vec![] });
        rig.enter(decision);
    }
}

fn is_within(rig: &Rig, part: &str) -> bool {
    rig.standing().part(part).unwrap().is_within()
}

/// What was measured on the part that is gone says nothing of the one in its place.
#[test]
fn a_part_within_that_is_replaced_is_measured_itself() {
    for (part, left) in
        [("collar", "collar/as-left-face"), ("labyrinth", "labyrinth/as-left"), ("casing", "casing/gas-wall.left")]
    {
        let mut rig = signed();
        let standing = rig.standing();
        let before = standing.part(part).unwrap();
        assert!(before.is_within() && before.judged.0 > 0, "{part}: {:?}", before.verdict);
        assert_eq!(state(&rig, left), StepState::NotAsked, "{part}");
        rig.take(fit(part, Some("INV-9")));
        confirm(&mut rig, "spares/identity");
        held(&rig, part, "new part to check");
        assert_eq!(state(&rig, left), StepState::ToDo, "{part}");
        let standing = rig.standing();
        assert_eq!(standing.part(part).unwrap().judged.0, 0, "{part}: judged by the old one's figures");
        // it is here: not ordered once more
        assert!(!standing.to_order(&rig.inspection).any(|one| one.part.id == part), "{part}");
    }
    let mut rig = signed();
    rig.take(fit("labyrinth", Some("INV-9")));
    confirm(&mut rig, "spares/identity");
    measure(&mut rig, "labyrinth/as-left", "F1", &["0.20", "0.25"]);
    not_held(&rig, "labyrinth", "new part to check");
    assert!(is_within(&rig, "labyrinth"), "{}", rig.verdict("labyrinth"));
    assert_eq!(rig.standing().part("labyrinth").unwrap().judged, (1, 1));
}

/// The clearance is of the pair: with another journal it is another one.
#[test]
fn a_new_shaft_asks_for_what_is_measured_on_it_and_for_the_balance() {
    let lifts = ["bush.cs/as-left", "labyrinth/as-left", "collar/as-left-face"];
    let mut rig = signed();
    for id in lifts {
        assert_eq!(state(&rig, id), StepState::NotAsked, "{id}");
    }
    rig.take(fit("shaft", Some("INV-S-9")));
    for id in lifts.into_iter().chain(["bush.ts/as-left", "shaft/new-diameter.cs", "shaft/run-out.hub.left"]) {
        assert_eq!(state(&rig, id), StepState::ToDo, "{id}");
    }
    held(&rig, "bush.cs", "clearance as left: its mate is new, not measured with it");
    held(&rig, "labyrinth", "its mate is new");
    assert!(!is_within(&rig, "bush.cs"));
    confirm(&mut rig, "spares/identity");
    measure(&mut rig, "bush.cs/as-left", "D2", &["0.020", "0.170"]);
    not_held(&rig, "bush.cs", "its mate is new");
    // with the next shaft, once more
    rig.take(fit("shaft", Some("INV-S-10")));
    assert_eq!(state(&rig, "bush.cs/as-left"), StepState::ToDo);
    held(&rig, "bush.cs", "its mate is new");
    held(&rig, "balance", "balance to do");
}

#[test]
fn papers_confirmed_before_a_part_came_say_nothing_of_it() {
    let mut rig = signed();
    rig.take(fit("bush.ts", Some("INV-B-9")));
    confirm(&mut rig, "spares/identity");
    assert_eq!(state(&rig, "spares/identity"), StepState::Done);
    rig.take(fit("labyrinth", Some("INV-L-9")));
    assert_eq!(state(&rig, "spares/identity"), StepState::ToDo);
    let last = rig.last().number;
    rig.take(Act::Strike { entry: last, reason: "another job's".to_owned() });
    assert_eq!(state(&rig, "spares/identity"), StepState::Done);
}

/// DOMAIN 5: reuse only when identified in full.
#[test]
fn a_new_part_without_a_number_is_not_identified() {
    for serial in [None, Some(" ")] {
        let mut rig = signed();
        rig.take(fit("labyrinth", serial));
        confirm(&mut rig, "spares/identity");
        measure(&mut rig, "labyrinth/as-left", "F1", &["0.20", "0.25"]);
        held(&rig, "labyrinth", "new part not identified: no serial or batch number");
        assert!(!is_within(&rig, "labyrinth"));
        let identified = Fitted {
            serial: Some("INV-L-9".to_owned()),
            hours: figure("0 h"),
            machine: figure("48480 h"),
            doubts: Vec::new(),
        };
        let part = "labyrinth".to_owned();
        rig.take(Act::PartFitted { part, fitted: identified, replaces: Replaces::No });
        assert!(is_within(&rig, "labyrinth"), "{}", rig.verdict("labyrinth"));
    }
}

#[test]
fn only_a_piece_is_fitted() {
    let rig = signed();
    for part in ["job", "safe", "balance", "spares", "event"] {
        assert_eq!(rig.refused(fit(part, Some("S1"))), "NoPiece", "{part}");
        assert_eq!(rig.refused(found(part, "10 h")), "NoPiece", "{part}");
    }
    assert_eq!(rig.refused(fit("labyrinth", None)), "taken");
}

/// The bore alone makes no clearance.
#[test]
fn the_clearance_to_come_is_that_of_the_pair_that_goes_in() {
    let said = |rig: &Rig, id: &str| {
        let lines = beside::lines(&rig.inspection, step(&checklist("overhaul"), id));
        let to_come = lines.into_iter().find(|line| line.words.starts_with("clearance to come"));
        to_come.map(|line| format!("{} {}", line.sign, line.words)).unwrap_or_default()
    };
    let pair = || {
        let mut rig = signed();
        rig.take(fit("bush.cs", Some("INV-B-9"))).take(fit("shaft", Some("INV-S-9")));
        confirm(&mut rig, "spares/identity");
        measure(&mut rig, "rotor/temperature.left", "-", &["20"]);
        rig
    };
    let mut rig = pair();
    measure(&mut rig, "bush.cs/new-bore", "B1", &["60.075"]);
    let not_yet = "? clearance to come: not known before the journal of the new shaft is measured";
    assert_eq!(said(&rig, "bush.cs/new-bore"), not_yet);
    measure(&mut rig, "shaft/new-diameter.cs", "M1", &["59.925"]);
    // 60.075 - 59.925
    assert_eq!(said(&rig, "bush.cs/new-bore"), "+ clearance to come: 0.15 to 0.15 mm, inside the new range");
    let mut rig = pair();
    measure(&mut rig, "shaft/new-diameter.cs", "M1", &["59.925"]);
    let not_yet = "? clearance to come: not known before the bore of the new bush is measured";
    assert_eq!(said(&rig, "shaft/new-diameter.cs"), not_yet);
}

/// The invented sheet's life of an impeller is 60 000 h.
#[test]
fn the_hours_of_a_part_identified_late_count_at_once() {
    let mut rig = signed();
    let hours = |rig: &Rig| hours::of_part(&rig.inspection, "impeller").unwrap().to_string();
    let (known, disposition) = (hours(&rig), |rig: &Rig| rig.standing().part("impeller").unwrap().verdict.disposition);
    assert_ne!((known.as_str(), disposition(&rig)), ("61000", Disposition::Replace));
    rig.take(found("impeller", "61000 h"));
    assert_eq!((hours(&rig).as_str(), disposition(&rig)), ("61000", Disposition::Replace));
    let kept = past_of(&rig.inspection).into_iter().find(|past| past.characteristic.id() == "impeller.life").unwrap();
    assert_eq!(kept.hours.to_string(), "61000 h");
    let last = rig.last().number;
    rig.take(Act::Strike { entry: last, reason: "another wheel".to_owned() });
    assert_eq!(hours(&rig), known);
    // what is said last counts, the answer or the part
    let said = asfound::domain::inspection::Opening {
        part_hours: [("impeller".to_owned(), figure("50000 h"))].into(),
        ..Default::default()
    };
    rig.take(Act::Opening(Box::new(said.clone())));
    assert_eq!(hours(&rig), "50000");
    rig.take(found("impeller", "61000 h"));
    assert_eq!(hours(&rig), "61000");
    rig.take(Act::Opening(Box::new(said)));
    assert_eq!(hours(&rig), "50000");
}

/// Fewer hours than the records know, or more than the machine has run.
#[test]
fn odd_hours_of_a_part_identified_late_are_asked_about() {
    let rig = signed();
    let odd = |hours: &str| {
        let fitted = Fitted { serial: None, hours: figure(hours), machine: figure("48480 h"), doubts: Vec::new() };
        hours::odd_found(&rig.inspection, "impeller", &fitted).unwrap_or_default()
    };
    assert!(odd("100 h").contains("100 h is less than the "), "{}", odd("100 h"));
    assert!(odd("61000 h").contains("more than the machine has run, 48480 h"), "{}", odd("61000 h"));
    assert_eq!(odd(&format!("{} h", hours::of_part(&rig.inspection, "impeller").unwrap())), "");
}

/// Read off the old part that lies beside the new one: with the old number a life would begin anew.
#[test]
fn a_new_part_with_the_number_of_the_one_that_was_in_is_asked_about_and_gets_no_new_life() {
    let mut rig = signed();
    let odd = |rig: &Rig, part: &str, serial: &str| hours::odd_new(&rig.inspection, part, serial).unwrap_or_default();
    let known = hours::of_part(&rig.inspection, "impeller").unwrap();
    assert!(odd(&rig, "impeller", " inv-i-001").contains(&format!("the part that was in, {known} h")));
    assert!(odd(&rig, "bush.ts", "INV-B-102").starts_with("INV-B-102 is the number of the part that was in"));
    assert_eq!(odd(&rig, "bush.ts", "INV-B-902"), "");
    assert_eq!(rig.refused(fit("impeller", Some("INV-I-001"))), "NoAnswer");
    // another bush may bear the batch's number
    assert_eq!(rig.refused(fit("bush.ts", Some("INV-B-102"))), "taken");
    let with = |hours: &str| {
        let fitted = Fitted {
            serial: Some("INV-I-001".to_owned()),
            hours: figure(hours),
            machine: figure("48480 h"),
            doubts: Vec::new(),
        };
        Act::PartFitted { part: "impeller".to_owned(), fitted, replaces: Replaces::Yes }
    };
    assert_eq!(rig.refused(with(&format!("{known} h"))), "taken");
    // nor has one that was fitted a moment ago
    rig.take(fit("impeller", Some("INV-Z-1")));
    assert!(odd(&rig, "impeller", "INV-Z-1").contains("0 h"));
    assert_eq!(rig.refused(with("100 h")), "NoAnswer");
}

/// At the next opening nobody remembers which of two bushes on the shelf was worn: the record does.
#[test]
fn a_part_taken_out_at_an_earlier_opening_is_asked_about_when_it_goes_in_again_as_new() {
    let mut rig = signed();
    let run = hours::of_part(&rig.inspection, "impeller").unwrap();
    rig.take(fit("impeller", Some("INV-I-9")))
        .take(fit("bush.ts", Some("INV-B-8")))
        .take(fit("bush.ts", Some("INV-B-9")));
    let next = Rig::with(super::answers::head("4-2026-09-12", Some(&rig.inspection), vec![]));
    let odd = |part: &str, serial: &str| hours::odd_new(&next.inspection, part, serial).unwrap_or_default();
    let was = "is the number of one taken out at DEMO-1/2024-07-12-overhaul";
    assert!(odd("bush.ts", "inv-b-102").starts_with(&format!("inv-b-102 {was}, ")), "{}", odd("bush.ts", "inv-b-102"));
    assert!(odd("bush.ts", "INV-B-8").starts_with(&format!("INV-B-8 {was}, 0 h")), "tried, and taken out again");
    assert!(odd("impeller", "INV-I-001").starts_with(&format!("INV-I-001 {was}, {run} h")));
    assert!(odd("bush.ts", "INV-B-9").contains("of the part that was in"));
    assert_eq!((odd("bush.ts", "INV-B-10"), odd("bush.cs", "INV-B-102")), (String::new(), String::new()));
    // the list goes on from record to record
    let after = asfound::domain::taken_out::taken_out_after(Vec::new(), &next.inspection);
    assert_eq!(after, next.inspection.head().taken_out);
}

/// What was measured on the part that lies in the scrap is no last time of the one in its place.
#[test]
fn a_new_part_has_no_last_time() {
    let mut rig = signed();
    let last = |rig: &Rig, condition| {
        let standing = rig.standing();
        let one = Characteristic::parse("labyrinth.clearance").unwrap();
        standing.characteristic(one, condition).unwrap().last.is_some()
    };
    assert!(last(&rig, Condition::AsFound));
    rig.take(fit("labyrinth", Some("INV-L-9")));
    confirm(&mut rig, "spares/identity");
    measure(&mut rig, "labyrinth/as-left", "F1", &["0.20", "0.25"]);
    assert!(is_within(&rig, "labyrinth") && !last(&rig, Condition::AsLeft));
}
