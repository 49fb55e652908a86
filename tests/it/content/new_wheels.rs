//! A new wheel, and the life of a wheel in every scope. Common practice, no source; the hours are the invented sheet's.

use asfound::domain::characteristic::Characteristic;
use asfound::domain::checklist::Takes;
use asfound::domain::entry::{Act, Entry, FindingMade, Replaces};
use asfound::domain::inspection::Opening;
use asfound::domain::progress::{self, StepState};
use asfound::domain::request::Decision;
use asfound::domain::review::{Kept, Review};
use asfound::domain::rotor::Fitted;
use asfound::domain::sheet::{Amount, Bound, Level, Levels, Rule, Touching};
use asfound::domain::verdict::{Consequence, Disposition, Hold};

use super::answers::head;
use super::holds::{held, safe};
use super::steps::{checklist, step};
use crate::rig::{Rig, figure};

fn fit(part: &str, serial: Option<&str>, hours: &str) -> Act {
    let fitted = Fitted {
        serial: serial.map(str::to_owned),
        hours: figure(hours),
        machine: figure("48480 h"),
        doubts: Vec::new(),
    };
    Act::PartFitted { part: part.to_owned(), fitted, replaces: Replaces::Yes }
}

/// At these hours, up to the next opening as planned.
fn opened(rig: &mut Rig, now: &str, next: &str) {
    rig.take(Act::Opening(Box::new(Opening {
        machine_hours: Some(figure(now)),
        next_hours: Some(figure(next)),
        ..Opening::default()
    })));
}

fn is_held(rig: &Rig, part: &str) -> bool {
    rig.standing().part(part).unwrap().verdict.holds.contains(&Hold::NewPart)
}

#[test]
fn a_new_wheel_has_a_serial_number_and_is_held_until_it_is_looked_at_and_has_its_papers() {
    let mut rig = safe();
    opened(&mut rig, "48480 h", "60510 h");
    assert_eq!(rig.refused(fit("impeller", None, "0 h")), "NoSerial");
    assert_eq!(rig.refused(fit("impeller", Some(" "), "0 h")), "NoSerial");
    rig.take(fit("impeller", Some("N-2"), "0 h"));
    assert!(is_held(&rig, "impeller"));
    let overhaul = checklist("overhaul");
    for id in ["impeller/new-look", "impeller/new-papers", "impeller/new-life"] {
        assert_eq!(progress::state(&rig.inspection, step(&overhaul, id)), StepState::ToDo, "{id}");
    }
    // a check left out is no check
    let skip = |step: &str| Act::Skip { step: step.to_owned(), place: None, reason: "no time".to_owned() };
    for id in ["impeller/new-look", "impeller/new-papers", "impeller/new-life", "spares/identity"] {
        rig.take(skip(id));
    }
    assert!(is_held(&rig, "impeller"));
    let skips = rig.inspection.standing_entries().filter(|one| matches!(one.act, Act::Skip { .. }));
    let skips: Vec<_> = skips.map(|one| one.number).collect();
    for entry in skips {
        rig.take(Act::Strike { entry, reason: "there is time".to_owned() });
    }
    for id in ["spares/identity", "impeller/new-look", "impeller/new-papers", "impeller/new-life"] {
        assert!(is_held(&rig, "impeller"), "before {id}");
        let takes = &step(&overhaul, id).takes;
        if let Takes::Points(points) = takes {
            for point in points {
                rig.take(Act::Confirm { step: id.to_owned(), point: point.id.clone() });
            }
        } else if *takes == Takes::Look {
            rig.take(Act::Looked { step: id.to_owned() });
        } else {
            rig.take(Act::Tick { step: id.to_owned() });
        }
    }
    assert!(!is_held(&rig, "impeller"));
}

/// The four places of a new wheel's bore, as if read.
fn bore(rig: &mut Rig, wheel: &str, mm: &str) {
    figures(rig, &format!("{wheel}/new-bore"), mm);
}

fn figures(rig: &mut Rig, step: &str, mm: &str) {
    let last = rig.last().clone();
    for (number, place) in (last.number + 1..).zip(["outer 0", "outer 90", "inner 0", "inner 90"]) {
        let act = Act::Reading {
            step: step.to_owned(),
            place: place.to_owned(),
            typed: mm.to_owned(),
            taken: format!("{mm} mm").parse().unwrap(),
            gauge: None,
            doubts: vec![],
        };
        drop(asfound::domain::apply::apply(&mut rig.inspection, Entry { number, act, ..last.clone() }));
    }
}

/// Judged by the new range where the sheet has one, and held against the seat it goes on. The sizes are invented.
#[test]
fn the_bore_of_a_new_wheel_is_judged_and_held_against_its_seat() {
    for (wheel, seat, name) in [("impeller", "shaft/seat.cs", "overhaul"), ("turbine", "shaft/seat.ts", "bearing")] {
        let mut head = head("4-2024-09-12", None, vec![]);
        head.checklist = checklist(name);
        let sheet = head.sheet.as_mut().unwrap();
        sheet.absent.retain(|one, _| !one.id().ends_with("seat") && !one.id().ends_with("bore"));
        let one = Characteristic::parse(&format!("{wheel}.bore")).unwrap();
        let within = |text: &str| Bound { amount: Amount::Fixed(figure(text)), touching: Touching::Passes };
        let (upper, lower) = (Some(within("40.016 mm")), Some(within("40.000 mm")));
        let new = Level::new(upper, lower, Consequence::Rework, Rule::Simple, "invented").unwrap();
        sheet.levels.insert(one, Levels { new: Some(new), ..Levels::default() });
        let mut rig = Rig::with(head);
        super::holds::make_safe(&mut rig);
        rig.take(fit(wheel, Some("N-2"), "0 h"));
        figures(&mut rig, seat, "40.030");
        for (mm, outside) in [("40.010", false), ("40.020", true)] {
            bore(&mut rig, wheel, mm);
            let hold = "bore, on its seat as left: outside the new range";
            let holds = rig.standing().part(wheel).unwrap().verdict.holds.clone();
            let is_held = holds.iter().any(|one| matches!(one, Hold::Open(what) if what == hold));
            assert_eq!(is_held, outside, "{wheel} {mm}: {holds:?}");
        }
        let step = rig.inspection.head().checklist.step(&format!("{wheel}/new-bore")).unwrap().clone();
        let lines = asfound::domain::beside::lines(&rig.inspection, &step);
        let words: Vec<_> = lines.iter().map(|line| line.words.as_str()).collect();
        // 40.030 - 40.020
        assert_eq!(words, ["seat less bore 0.01 mm: how tight it sits; the manual says how tight it may"], "{wheel}");
    }
}

/// No level, no green: the fit stays open until a supervisor accepts it so, and then it keeps no wheel out.
#[test]
fn a_bore_that_no_limit_judges_holds_the_new_wheel_until_it_is_accepted_so() {
    let mut head = head("4-2024-09-12", None, vec![]);
    head.sheet.as_mut().unwrap().absent.clear();
    let mut rig = Rig::with(head);
    super::holds::make_safe(&mut rig);
    opened(&mut rig, "48480 h", "60510 h");
    rig.take(fit("impeller", Some("N-2"), "0 h"));
    for id in ["spares/identity", "impeller/new-look", "impeller/new-papers", "impeller/new-life"] {
        let checklist = checklist("overhaul");
        match &step(&checklist, id).takes {
            Takes::Points(points) => points.iter().for_each(|point| {
                rig.take(Act::Confirm { step: id.to_owned(), point: point.id.clone() });
            }),
            Takes::Look => {
                rig.take(Act::Looked { step: id.to_owned() });
            }
            _ => {
                rig.take(Act::Tick { step: id.to_owned() });
            }
        }
    }
    assert!(is_held(&rig, "impeller"), "its bore is not measured");
    bore(&mut rig, "impeller", "40.010");
    held(&rig, "impeller", "bore, on its seat as left: no level");
    assert!(is_held(&rig, "impeller"));
    rig.by("supervisor-b").take(Act::Resume).take(Act::Unjudged {
        characteristic: Characteristic::parse("impeller.bore").unwrap(),
        as_left: true,
        supervisor: crate::rig::id("supervisor-b"),
        reason: "the maker gives no size".to_owned(),
    });
    assert!(!is_held(&rig, "impeller"));
    super::holds::not_held(&rig, "impeller", "bore, on its seat");
}

/// The invented sheet's life of an impeller is 60 000 h.
#[test]
fn the_life_of_the_wheel_that_goes_in_is_judged_up_to_the_next_opening() {
    let mut rig = safe();
    opened(&mut rig, "48480 h", "60510 h");
    rig.take(fit("impeller", Some("S2ND"), "59500 h"));
    held(&rig, "impeller", "hours since new of the new one: its life ends before the next opening");
    let entry = rig.last().number;
    rig.take(Act::Strike { entry, reason: "another wheel".to_owned() });
    rig.take(fit("impeller", Some("USED"), "40000 h"));
    // a used wheel is no new one, by the sheet's own new range
    held(&rig, "impeller", "hours since new as left: outside the new range");
    let entry = rig.last().number;
    rig.take(Act::Strike { entry, reason: "a new one".to_owned() });
    rig.take(fit("impeller", Some("N-2"), "0 h"));
    assert!(!rig.standing().holds_in_words().iter().any(|hold| hold.contains("as left")));
    assert!(!rig.standing().holds_in_words().iter().any(|hold| hold.contains("its life ends")));
}

/// Nothing is taken out in a cleaning, and the wheel's hours run on all the same.
#[test]
fn life_is_judged_in_every_scope_and_keeps_the_engine_from_starting() {
    for scope in ["cleaning", "bearing", "overhaul"] {
        let mut head = head("4-2024-09-12", None, vec![]);
        head.checklist = checklist(scope);
        head.parts.clear();
        let opening = |now: &str, next: &str| Opening {
            machine_hours: Some(figure(now)),
            next_hours: Some(figure(next)),
            ..Opening::default()
        };
        head.opened = opening("58000 h", "70510 h");
        let rig = Rig::with(head.clone());
        assert_eq!(rig.standing().part("impeller").unwrap().verdict.disposition, Disposition::Replace, "{scope}");
        head.opened = opening("20000 h", "30000 h");
        let rig = Rig::with(head);
        assert_eq!(rig.standing().part("impeller").unwrap().verdict.disposition, Disposition::Reuse, "{scope}");
    }
}

/// A wheel at the end of its life does not go back, whichever scope took it off.
#[test]
fn a_wheel_past_its_life_is_kept_out_of_the_rebuild() {
    for scope in ["bearing", "overhaul"] {
        let mut head = head("4-2024-09-12", None, vec![]);
        head.checklist = checklist(scope);
        head.parts.clear();
        head.opened = Opening {
            machine_hours: Some(figure("61000 h")),
            next_hours: Some(figure("70000 h")),
            ..Opening::default()
        };
        let mut rig = Rig::with(head);
        super::holds::make_safe(&mut rig);
        super::holds::up_to(&mut rig, "rebuild/impeller");
        let shut = |rig: &Rig| match rig.may(Act::Tick { step: "rebuild/impeller".to_owned() }) {
            Decision::Refuse(refusal) => refusal.kind.what(),
            _ => String::new(),
        };
        let awaited = "impeller: to be replaced, and no new one is entered";
        assert!(shut(&rig).contains(awaited), "{scope}: {}", shut(&rig));
        rig.take(fit("impeller", Some("N-2"), "0 h"));
        assert!(!shut(&rig).contains(awaited), "{scope}: {}", shut(&rig));
    }
    let turbine = |scope: &str| checklist(scope).part("turbine").unwrap().holds_back.clone();
    assert_eq!(turbine("bearing"), ["rebuild/rotor"]);
    assert_eq!(turbine("bearing"), turbine("overhaul"));
}

#[test]
fn what_the_sheet_has_and_the_scope_does_not_measure_is_named() {
    let told = |scope: &str| {
        let mut head = head("4-2024-09-12", None, vec![]);
        head.checklist = checklist(scope);
        let rig = Rig::with(head);
        let standing = rig.standing();
        let kept = Kept::default();
        let review = Review::of(&rig.inspection, &standing, &kept);
        let lines = asfound::report::record::lines(&rig.inspection, &standing, &kept);
        let count = review.unusual.iter().find(|count| count.name == "on the sheet, not judged");
        (count.map(|count| count.which.clone()).unwrap_or_default(), lines)
    };
    let (bearing, lines) = told("bearing");
    for what in ["nozzle ring: trailing edge thickness", "casings: smallest wall"] {
        let start = what.split(':').next().unwrap();
        assert!(bearing.iter().any(|one| one.starts_with(start)), "{what}: {bearing:?}");
    }
    assert!(!bearing.iter().any(|one| one.contains("hours since new")), "{bearing:?}");
    assert!(lines.iter().any(|line| line.starts_with("nozzle ring: trailing edge thickness")), "{lines:#?}");
    assert!(bearing.iter().all(|one| one.ends_with(", not in this scope")), "{bearing:?}");
    assert_eq!(told("overhaul").0, Vec::<String>::new());
    // a part that the scope does not have is called as where it is
    for one in Characteristic::all() {
        let part = checklist("overhaul").part(one.part()).map(|part| part.short.clone());
        assert_eq!(part.as_deref(), Some(one.part_word()), "{}", one.id());
    }
}

/// Nothing else proves that no tool and no bolt stays inside.
#[test]
fn a_rotor_that_came_stripped_is_counted_as_it_came() {
    let mut rig = safe();
    rig.take(Act::Opening(Box::new(Opening {
        arrives: Some(asfound::domain::inspection::Arrives::Stripped),
        ..Opening::default()
    })));
    let overhaul = checklist("overhaul");
    for id in ["strip/brought", "strip/covered", "fasteners/out"] {
        assert_eq!(progress::state(&rig.inspection, step(&overhaul, id)), StepState::ToDo, "{id}");
    }
    assert_eq!(progress::state(&rig.inspection, step(&overhaul, "strip/rotor")), StepState::NotApplicable);
}

#[test]
fn a_dressed_blade_is_tested_and_looked_at_again() {
    for (name, id) in [("impeller", "impeller/dressed"), ("turbine", "turbine/dressed")] {
        let overhaul = checklist("overhaul");
        let dressed = overhaul.part(name).unwrap().finding("dressed").unwrap();
        assert!(dressed.obliges.iter().any(|one| one == id), "{:?}", dressed.obliges);
        assert_eq!(step(&overhaul, id).takes, Takes::Look);
        // the waits are timed the second time too, in their order, and the look comes behind them
        let waits = ["penetrant", "developer"].map(|stage| format!("{id}-{stage}"));
        assert!(waits.iter().all(|wait| dressed.obliges.contains(wait)), "{:?}", dressed.obliges);
        assert!(waits.iter().all(|wait| matches!(step(&overhaul, wait).takes, Takes::Soak { .. })));
        assert!(step(&overhaul, id).needs.contains(&waits[1]) && step(&overhaul, &waits[1]).needs.contains(&waits[0]));
    }
}

/// Parts and gauges lie side by side until within 1 K of each other.
#[test]
fn a_part_warmer_than_its_gauge_is_asked_about() {
    let mut rig = safe();
    super::holds::up_to(&mut rig, "rotor/temperature");
    let asked = |place: &str, text: &str| asfound::domain::request::Request::Reading {
        step: "rotor/temperature".to_owned(),
        place: place.to_owned(),
        text: text.to_owned(),
        gauge: None,
        insisted: vec![],
    };
    let first = rig.ask(&asked("parts", "29"));
    rig.enter(first);
    assert_eq!(crate::rig::said(rig.ask(&asked("gauges", "20"))), "asked: apart");
    assert_eq!(crate::rig::said(rig.ask(&asked("gauges", "28"))), "taken");
}

/// What is asked about a wheel that lies in the scrap keeps the one in its place from nothing; what was found stays readable.
#[test]
fn a_referral_ends_with_the_wheel_that_it_is_about() {
    let mut rig = safe();
    opened(&mut rig, "48480 h", "60510 h");
    let crack = |rig: &mut Rig, kind: &str, grade: &str| {
        let last = rig.last().clone();
        let (part, step) = ("turbine".to_owned(), "turbine/look".to_owned());
        let (kind, grade) = (kind.to_owned(), grade.to_owned());
        let found = FindingMade { part, step, kind, grade, ..FindingMade::default() };
        let entry = Entry { number: last.number + 1, act: Act::Finding(found), ..last };
        drop(asfound::domain::apply::apply(&mut rig.inspection, entry));
    };
    let referred = |rig: &Rig| {
        let holds = rig.standing().part("turbine").unwrap().verdict.holds.clone();
        holds.into_iter().filter(|hold| matches!(hold, Hold::Referred(_))).count()
    };
    crack(&mut rig, "dent", "sharp or torn");
    assert_eq!(referred(&rig), 1);
    rig.take(fit("turbine", Some("N-2"), "0 h"));
    assert_eq!(referred(&rig), 0);
    let reasons = rig.standing().part("turbine").unwrap().reasons.join("; ");
    assert!(reasons.contains("dent, sharp or torn"), "{reasons}");
    // nor is it watched for it
    assert_eq!(rig.standing().part("turbine").unwrap().verdict.disposition, Disposition::Reuse);
    let fitted = rig.last().number;
    // what is found on the new one is asked about like any other
    crack(&mut rig, "dent", "sharp or torn");
    assert_eq!(referred(&rig), 1);
    let found = rig.last().number;
    rig.take(Act::Strike { entry: found, reason: "it was the old one's".to_owned() });
    assert_eq!(referred(&rig), 0);
    rig.take(Act::Strike { entry: fitted, reason: "the old one stays".to_owned() });
    assert_eq!(referred(&rig), 1);
}
