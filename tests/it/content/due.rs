//! What is due is read back over all records: a small opening between two large ones wipes nothing.

use asfound::domain::apply::apply;
use asfound::domain::checklist::{Signing, Takes};
use asfound::domain::due::{DueItem, of_rotor};
use asfound::domain::entry::{Act, Entry, Late, PhotoRef, TimerMark};
use asfound::domain::inspection::{Inspection, Opening};
use asfound::domain::phase::Phase;

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

/// What is noted, photographed or left out is not done.
#[test]
fn the_calendar_starts_again_only_at_what_was_done() {
    let filter = |last: &Inspection| find(&of_rotor(&[&played()[1], last]), "Air filter").day.unwrap();
    let before = filter(&played()[1]);
    let steps = || {
        let steps = checklist("cleaning").steps.into_iter();
        steps.filter(|step| step.part == "filter" && step.phase <= Phase::Measure)
    };
    let reason = || "no time".to_owned();
    let photo = PhotoRef { hash: "0".repeat(64), name: "a.jpg".to_owned() };
    let idle: [&dyn Fn(String) -> Act; 4] = [
        &|step| Act::Skip { step, place: None, reason: reason() },
        &|step| Act::NotApplicable { step, point: None, reason: reason() },
        &|step| Act::Note { step: Some(step), text: reason() },
        &|step| Act::Photo { step: Some(step), photo: photo.clone() },
    ];
    for act in idle {
        let mut rig = Rig::with(cleaning("48480 h").head().clone());
        steps().for_each(|step| put(&mut rig, act(step.id), None));
        assert_eq!(filter(&rig.inspection), before, "{:?}", act("filter/off".to_owned()));
    }
    let paper = Late { taken: "2024-09-10 10:00".to_owned(), sheet: None };
    for (late, day) in [(None, "2024-11-12"), (Some(paper), "2024-11-10")] {
        let mut rig = Rig::with(cleaning("48480 h").head().clone());
        for step in steps() {
            let reading = |place: String| Act::Reading {
                step: step.id.clone(),
                place,
                typed: "1".to_owned(),
                taken: figure("1"),
                gauge: None,
                doubts: vec![],
            };
            let acts: Vec<_> = match &step.takes {
                Takes::Tick => vec![Act::Tick { step: step.id.clone() }],
                Takes::Look => vec![Act::Looked { step: step.id.clone() }],
                // in and out at once, and a note why it is left at that
                Takes::Soak { .. } => [TimerMark::Started, TimerMark::Ended]
                    .map(|mark| Act::Timer { step: step.id.clone(), mark })
                    .into_iter()
                    .chain([Act::Note { step: Some(step.id.clone()), text: "no bath in this test".to_owned() }])
                    .collect(),
                Takes::Readings(grid) => grid.cells(None).iter().map(|cell| reading(cell.place())).collect(),
                Takes::Points(_) | Takes::Words | Takes::Sign(_) => panic!("{}", step.id),
            };
            assert_eq!(filter(&rig.inspection), before, "{} waits", step.id);
            acts.into_iter().for_each(|act| put(&mut rig, act, late.clone()));
        }
        assert_eq!(filter(&rig.inspection).to_string(), day);
    }
}

/// Applied as it stands, whatever may be done now.
fn put(rig: &mut Rig, act: Act, late: Option<Late>) {
    let last = rig.last().clone();
    drop(apply(&mut rig.inspection, Entry { number: last.number + 1, act, late, ..last }));
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

#[test]
fn what_the_last_close_carried_on_is_due_until_the_next_one_is_begun() {
    let mut rig = Rig::with(head("4-2024-09-12", Some(&played()[1]), vec![]));
    let carried = ["open: oil leak", "referred: dent"].map(str::to_owned);
    put(&mut rig, Act::Sign(Rig::signature(Signing::Close, &carried)), None);
    let items = of_rotor(&[&played()[1], &rig.inspection]);
    let item = find(&items, "carried on at the close");
    assert_eq!((item.because.as_str(), item.day), ("open: oil leak; and 1 more", Some(rig.hand.at.date())));
    let next = cleaning("48480 h");
    let items = of_rotor(&[&rig.inspection, &next]);
    assert!(items.iter().all(|item| item.what != "carried on at the close"), "{items:#?}");
}
