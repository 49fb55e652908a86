//! Which piece a figure is of: the checks of a new part and its number, a rotor entered as a whole, the cause of what was
//! replaced late. Common practice, no source; the demonstration is invented.

use asfound::domain::apply::apply;
use asfound::domain::entry::{Act, Entry};
use asfound::domain::gate;
use asfound::domain::hours;
use asfound::domain::identity;
use asfound::domain::inspection::Doubted;
use asfound::domain::progress::{self, StepState};
use asfound::domain::request::Request;
use asfound::domain::rotor::Fitted;
use asfound::domain::telling;

use super::holds::{held, not_held};
use super::new_parts::{confirm, fit, measure, signed};
use super::steps::{checklist, step};
use crate::rig::{Rig, id, said};

fn state(rig: &Rig, id: &str) -> StepState {
    progress::state(&rig.inspection, step(&checklist("overhaul"), id))
}

/// Entered without a word about what was checked before.
fn entered(part: &str, serial: &str) -> Act {
    let Act::PartFitted { part, fitted, replaces } = fit(part, Some(serial)) else { panic!("a part fitted") };
    Act::PartFitted { part, fitted: Fitted { doubts: Vec::new(), ..fitted }, replaces }
}

fn strike(rig: &mut Rig, entry: u32) {
    rig.take(Act::Strike { entry, reason: "another one".to_owned() });
}

/// The demonstration's spare bush is measured on the shelf: four figures, and no number yet.
#[test]
fn figures_of_a_spare_are_nobodys_until_somebody_says_which_piece_it_was() {
    let mut rig = signed();
    let before = |rig: &Rig| -> Vec<u32> {
        identity::before_number(&rig.inspection, "bush.ts").iter().map(|entry| entry.number).collect()
    };
    assert_eq!(before(&rig).len(), 4);
    assert_eq!(rig.refused(entered("bush.ts", "INV-B-Q")), "NoAnswer");
    // another piece goes in: it is measured itself
    let mut other = rig.clone();
    for entry in before(&rig) {
        strike(&mut other, entry);
    }
    other.take(entered("bush.ts", "INV-B-Q"));
    assert_eq!(state(&other, "bush.ts/new-bore"), StepState::ToDo);
    held(&other, "bush.ts", "new part to check");
    // this very piece goes in, and somebody says so
    rig.take(fit("bush.ts", Some("INV-B-P")));
    assert_eq!((state(&rig, "bush.ts/new-bore"), before(&rig)), (StepState::Done, Vec::new()));
    let told = telling::of_entry(&rig.inspection, rig.last());
    assert!(told.contains("insisted: checked before its number was known"), "{told}");
    // that says nothing against its hours
    let next = hours::carried_parts(&[&rig.inspection]);
    assert!(hours::known_of(&next, "48490 h".parse().unwrap(), None).contains_key("bush.ts"));
    // the entry is struck, and what was measured is nobody's again
    let last = rig.last().number;
    strike(&mut rig, last);
    assert_eq!((before(&rig).len(), rig.refused(entered("bush.ts", "INV-B-R"))), (4, "NoAnswer".to_owned()));
}

#[test]
fn hours_insisted_on_stay_in_doubt() {
    let mut rig = signed();
    let Act::PartFitted { part, fitted, .. } = entered("bush.cs", "INV-B-7") else { panic!("a part fitted") };
    let doubts = vec![Fitted::HOURS.to_owned()];
    let replaces = asfound::domain::entry::Replaces::No;
    rig.take(Act::PartFitted { part, fitted: Fitted { doubts, ..fitted }, replaces });
    assert_eq!(hours::doubted(&rig.inspection, "bush.cs"), Doubted::Yes);
}

/// A dent found before the number was known would be one of the wheel that is gone.
#[test]
fn a_new_part_is_looked_at_and_measured_once_it_is_entered() {
    let mut rig = signed();
    confirm(&mut rig, "spares/identity");
    let reading = Request::Reading {
        step: "thrust.main/new-lands".to_owned(),
        place: "land 1 / taper".to_owned(),
        text: "8".to_owned(),
        gauge: Some(id("C1")),
        insisted: vec![],
    };
    assert_eq!(said(rig.ask(&reading)), "Shut");
    let looked = |wheel: &str| Act::Looked { step: format!("{wheel}/new-look") };
    assert_eq!(
        (rig.refused(looked("impeller")), rig.refused(looked("turbine"))),
        ("Shut".to_owned(), "Shut".to_owned())
    );
    rig.take(entered("thrust.main", "INV-T-9")).take(entered("impeller", "INV-I-9"));
    confirm(&mut rig, "spares/identity");
    assert_ne!(said(rig.ask(&reading)), "Shut");
    assert_eq!(rig.refused(looked("impeller")), "taken");
    // the spare on the shelf is measured before anybody has ordered one
    measure(&mut rig, "bush.cs/new-bore", "B1", &["60.078"]);
    assert_eq!(state(&rig, "bush.cs/new-bore"), StepState::Done);
}

/// Nobody has signed for it as worn, and it goes out all the same.
#[test]
fn the_close_asks_for_the_cause_of_what_was_replaced_behind_the_decisions() {
    let mut rig = signed();
    for part in ["labyrinth", "collar"] {
        let cause = format!("{part}/cause");
        assert_eq!(state(&rig, &cause), StepState::NotAsked);
        rig.take(entered(part, "INV-9"));
        assert_eq!(state(&rig, &cause), StepState::ToDo);
        let overhaul = checklist("overhaul");
        let close = gate::missing(&rig.inspection, step(&overhaul, "job/close"), &rig.hand);
        assert!(!close.is_empty());
        let last = rig.last().number;
        strike(&mut rig, last);
        assert_eq!(state(&rig, &cause), StepState::NotAsked);
    }
}

/// Checklists before the fourteenth did not say that the rotor is a stretch of other pieces.
#[test]
fn another_rotor_as_a_whole_is_refused_by_an_older_checklist_too_and_held_where_it_was_taken() {
    let mut head = signed().inspection.head().clone();
    for part in head.checklist.parts.iter_mut().filter(|part| ["rotor", "balance"].contains(&part.id.as_str())) {
        part.stretch_of = None;
    }
    let mut rig = Rig::with(head);
    super::holds::make_safe(&mut rig);
    assert_eq!(rig.refused(entered("rotor", "INV-R-2")), "NoPiece");
    assert_eq!(rig.refused(Act::Condemned { part: "rotor".to_owned(), reason: "burst".to_owned() }), "NoPiece");
    not_held(&rig, "rotor", "as a whole");
    let last = rig.last().clone();
    let entry = Entry { number: last.number + 1, act: entered("rotor", "INV-R-2"), ..last };
    drop(apply(&mut rig.inspection, entry));
    held(&rig, "rotor", "entered as new as a whole");
    let last = rig.last().number;
    strike(&mut rig, last);
    not_held(&rig, "rotor", "as a whole");
}
