//! Which piece is meant, line by line: by a name that is no piece's, and by what was measured before a number was known; which
//! lies in the bath.

use asfound::domain::apply::apply;
use asfound::domain::entry::{Act, Entry, Replaces};
use asfound::domain::rotor::Fitted;

use super::bench::{Bench, begun, demo_head};

#[test]
fn the_rotor_as_a_whole_is_told_as_no_piece_and_half_its_name_is_asked_about() {
    let mut bench = Bench::demo();
    bench.walks_to("strip/marks").hears();
    for name in ["Rotor in its bearings", "rotor in", "balance"] {
        bench.types(&["! 12", name]);
        let heard = bench.hears();
        assert!(heard.contains(", no piece to scrap or to fit. Name the piece"), "{heard}");
        assert!(bench.question().starts_with("which part"), "{}", bench.question());
        bench.types(&["!"]);
    }
    bench.types(&["! 12", "rotor"]);
    let heard = bench.hears();
    assert!(heard.contains("Rotor in its bearings: a stretch of the pieces that turn"), "{heard}");
    assert!(heard.contains("`rotor` may be Rotor shaft: type its number, or all its words."), "{heard}");
    assert!(bench.question().starts_with("which part"), "{}", bench.question());
    bench.types(&["rotor shaft"]);
    assert!(bench.question().starts_with("a new part in its place"), "{}", bench.question());
}

/// A spare measured on the shelf before anybody wrote its number down.
fn shelf() -> Bench {
    let mut inspection = begun(demo_head());
    for (number, place) in (2..).zip(["outer 0", "outer 90", "inner 0", "inner 90"]) {
        let act = Act::Reading {
            step: "bush.cs/new-bore".to_owned(),
            place: place.to_owned(),
            typed: "60.078".to_owned(),
            taken: "60.078 mm".parse().unwrap(),
            gauge: None,
            doubts: vec![],
        };
        let first = inspection.entries()[0].clone();
        drop(apply(&mut inspection, Entry { number, act, ..first }));
    }
    Bench::over(inspection)
}

#[test]
fn whose_figures_they_were_is_asked_when_the_number_is_typed() {
    let asked = "a new one was checked before its number was known, entries 2 to 5: is it this very piece";
    let typed = |answer: &str| {
        let mut bench = shelf();
        bench.types(&["! 12", "bush.cs", "new", "INV-B-9"]);
        assert!(bench.question().starts_with(asked), "{}", bench.question());
        bench.types(&[answer, ""]);
        bench
    };
    let this = typed("this");
    let last = this.inspection().entries().last().unwrap();
    let Act::PartFitted { fitted, .. } = &last.act else { panic!("{last:?}") };
    assert_eq!((last.number, fitted.doubts.as_slice()), (6, [Fitted::CHECKS.to_owned()].as_slice()));
    let another = typed("another");
    let struck = |number: u32| another.inspection().strike_of(number).map(|(_, reason)| reason);
    assert!((2..6).all(|number| struck(number) == Some("taken on another new part")));
    let last = another.inspection().entries().last().unwrap();
    assert!(matches!(&last.act, Act::PartFitted { fitted, .. } if fitted.doubts.is_empty()), "{last:?}");
}

/// Whoever comes for a new part is offered the one that waits for it, wherever the work stands.
#[test]
fn the_part_that_waits_for_a_new_one_is_offered() {
    let mut bench = Bench::demo();
    bench.walks_to("strip/marks").types(&["! 12"]);
    assert!(!bench.question().contains("empty for Bush"), "{}", bench.question());
    bench.types(&["!", "! 19", "Bush, compressor side", "broken in two", "! 12"]);
    assert!(bench.question().starts_with("which part, empty for Bush, compressor side"), "{}", bench.question());
}

/// Gone on with at another step, as a record is that was left there: what lies in the bath is said all the same.
#[test]
fn a_soak_whose_time_is_up_is_told_at_the_step_where_somebody_left() {
    let mut bench = Bench::demo();
    bench.walks_to("turbine/soak").types(&["start"]);
    let here = bench.session.place(bench.now).unwrap().0;
    assert_ne!(here, "turbine/soak");
    for (minutes, is_up) in [(10, false), (200, true)] {
        let mut again = Bench::over(bench.inspection().clone());
        again.waits(minutes).session.begin_at(&here);
        again.types(&["! all steps", &here]);
        let hears = again.hears();
        let told = hears.lines().find(|line| line.ends_with("! 6 turbine/soak goes there."));
        assert_eq!(told.is_some(), is_up, "{minutes}: {hears}");
        assert!(told.is_none_or(|told| told.starts_with("! Turbine wheel / ")), "{hears}");
    }
}

/// The old wheel's test is still open when the new one is entered: who ends it does not scrap the new one.
#[test]
fn which_of_two_pieces_is_condemned_is_asked_where_the_old_one_still_waits() {
    let mut inspection = begun(demo_head());
    let (serial, hours, machine) = (Some("INV-I-002".to_owned()), "0 h", "48480 h");
    let [hours, machine] = [hours, machine].map(|hours| hours.parse().unwrap());
    let fitted = Fitted { serial, hours, machine, doubts: vec![] };
    let act = Act::PartFitted { part: "impeller".to_owned(), fitted, replaces: Replaces::Yes };
    let first = inspection.entries()[0].clone();
    drop(apply(&mut inspection, Entry { number: 2, act, ..first }));
    let condemned = |answers: &[&str]| {
        let mut bench = Bench::over(inspection.clone());
        bench.types(&["! condemn", "impeller"]);
        assert!(
            bench.question().starts_with("the new one in its place, INV-I-002, or the old one"),
            "{}",
            bench.question()
        );
        bench.types(answers);
        let acts = bench.inspection().entries().iter().skip(2).map(|entry| entry.act.clone());
        acts.collect::<Vec<_>>()
    };
    let old = condemned(&["old", "cracked, cut up"]);
    let is_open = |act: &Act| matches!(act, Act::Skip { step, place: None, .. } if step.starts_with("impeller/"));
    assert!(old.len() > 3 && old.iter().all(is_open), "{old:?}");
    let new = condemned(&["new", "dropped on the plate"]);
    assert!(matches!(new.as_slice(), [Act::Condemned { part, .. }] if part == "impeller"), "{new:?}");
}
