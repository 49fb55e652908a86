//! What is due is read back over all records: a small opening between two large ones wipes nothing.

use asfound::domain::due::{DueItem, of_rotor};
use asfound::domain::inspection::{Inspection, Opening};

use super::answers::head;
use super::demo::played;
use super::steps::checklist;
use crate::rig::{Rig, figure};

/// A routine cleaning begun at these hours, without a plan of its own.
fn cleaning(hours: &str) -> Inspection {
    let mut head = head("4-2024-09-12", Some(&played()[1]), vec![]);
    head.checklist = checklist("cleaning");
    head.opened = Opening { machine_hours: Some(figure(hours)), ..Opening::default() };
    Rig::with(head).inspection
}

fn find<'a>(items: &'a [DueItem], what: &str) -> &'a DueItem {
    items.iter().find(|item| item.what.contains(what)).unwrap_or_else(|| panic!("{what} is not in {items:#?}"))
}

#[test]
fn a_cleaning_between_leaves_forecasts_and_the_planned_opening_and_says_what_is_passed() {
    let (first, second, cleaning) = (&played()[0], &played()[1], cleaning("48480 h"));
    let before = of_rotor(&[first, second]);
    let after = of_rotor(&[first, second, &cleaning]);
    let forecasts = |items: &[DueItem]| {
        let of_life = |item: &&DueItem| item.because.contains("reach") || item.because.contains("bound");
        items.iter().filter(of_life).map(|item| item.what.clone()).collect::<std::collections::BTreeSet<_>>()
    };
    assert!(!forecasts(&before).is_empty(), "{before:#?}");
    assert_eq!(forecasts(&before), forecasts(&after));
    assert_eq!(find(&before, "next opening").at_hours, find(&after, "next opening").at_hours);
    let now = figure("48480 h").to(asfound::domain::unit::Unit::Hour).unwrap();
    for item in after.iter().filter(|item| item.at_hours.is_some()) {
        let past = item.at_hours.as_ref().is_some_and(|at| *at < now);
        assert_eq!(item.because.ends_with(", passed"), past, "{item:?}");
    }
    assert!(after.iter().any(|item| item.because.ends_with(", passed")), "{after:#?}");
}

#[test]
fn a_plan_of_its_own_takes_the_place_of_the_one_before() {
    let mut cleaning = cleaning("48480 h");
    let mut head = cleaning.head().clone();
    head.opened.next_hours = Some(figure("50000 h"));
    cleaning = Rig::with(head).inspection;
    let items = of_rotor(&[&played()[1], &cleaning]);
    assert_eq!(find(&items, "next opening").at_hours, figure("50000 h").to(asfound::domain::unit::Unit::Hour));
}
