//! The order in which a hand meets the steps, cautions where somebody can be hurt, and the cause of every wear.

use asfound::domain::checklist::{Step, StepAsk, Takes};
use asfound::domain::phase::Phase;
use asfound::domain::unit::Unit;
use asfound::domain::verdict::Consequence;

use super::steps::{checklist, every, step};

/// On the screens, in the list and on paper: what is done first stands first.
#[test]
fn a_step_stands_behind_what_it_needs_and_in_the_order_of_the_work() {
    for checklist in every() {
        let at = |id: &str| checklist.steps.iter().position(|step| step.id == id);
        for step in &checklist.steps {
            for need in &step.needs {
                assert!(at(need) < at(&step.id), "{}: {} stands before {need}", checklist.id, step.id);
            }
        }
        let order = [
            "rotor/leaks",
            "strip/brought",
            "washing/brought",
            "filter/off",
            "strip/access",
            "strip/marks",
            "turbine/dry",
            "event/found",
            "rebuild/figures",
            "rebuild/bushes",
            "rebuild/thrust",
            "rebuild/torques.covers",
            "rebuild/impeller",
            "rebuild/torques.nut",
            "rotor/axial-float.left",
            "rebuild/casings",
            "rebuild/torques",
            "rebuild/tools",
            "rebuild/covers",
            "rebuild/last-look",
            "rebuild/inlet",
            "washing/tools",
            "filter/back",
            "fasteners/in",
            "rebuild/counts",
            "running/prelube",
            "running/first-run",
            "running/load.after",
            "running/speed.after",
            "running/oil.after",
            "running/vibration.after",
            "running/stopped",
            "running/bolts.after",
            "job/causes",
            "job/next",
            "job/close",
        ];
        let places: Vec<_> = order.iter().filter_map(|id| Some((at(id)?, *id))).collect();
        assert!(places.is_sorted(), "{}: {places:?}", checklist.id);
    }
}

/// A loose cover reads as float; what is tightened behind the casings nobody reaches. Nothing is clean in a tub, and a filter
/// goes in over an inlet that is closed.
#[test]
fn a_step_waits_for_what_it_shows_or_closes_over() {
    for (names, id, wants) in [
        (&["overhaul", "bearing"][..], "rebuild/impeller", &["rebuild/torques.covers"][..]),
        (&["overhaul", "bearing"], "rotor/axial-float.left", &["rebuild/torques.covers", "rebuild/torques.nut"]),
        (&["overhaul", "bearing"], "rotor/radial-float.cs.left", &["rebuild/torques.nut"]),
        (&["overhaul", "bearing"], "rebuild/casings", &["rebuild/torques.nut"]),
        (&["overhaul", "bearing"], "rebuild/bushes", &["rebuild/threads", "rebuild/figures"]),
        (&["overhaul"], "event/found", &["impeller/clean", "turbine/dry", "nozzle/dry", "casing/clean"]),
        (&["overhaul"], "filter/back", &["rebuild/inlet"]),
        (&["cleaning"], "filter/back", &["washing/tools"]),
        (&["overhaul", "cleaning"], "fragments/inlet", &["filter/off"]),
        (&["overhaul"], "impeller/penetrant", &["impeller/degrease", "impeller/penetrant-surface"]),
        (&["overhaul"], "impeller/penetrant-surface", &["impeller/degrease"]),
        (&["overhaul", "bearing"], "event/crack-surface", &["event/crack-degrease"]),
        (&["overhaul"], "turbine/dressed-surface", &["turbine/dressed-degrease"]),
    ] {
        for checklist in names.iter().map(|name| checklist(name)) {
            for want in wants {
                assert!(super::steps::needs(&checklist, step(&checklist, id), want), "{}: {id}, {want}", checklist.id);
            }
        }
    }
}

/// What lies inside is marked where it is bared, and not before the first casing is off.
#[test]
fn each_joint_is_marked_where_it_can_be_reached() {
    for name in ["overhaul", "bearing"] {
        let checklist = checklist(name);
        let says = |id: &str| step(&checklist, id).doing.join(" ").to_lowercase();
        for inner in ["wheel", "bush", "shaft", "nut", "collar"] {
            assert!(!says("strip/marks").contains(inner), "{name}: {inner}");
        }
        for (id, mark) in [
            ("strip/compressor", "nut, wheel, shaft: one pen line across"),
            ("strip/thrust", "line across collar and shaft"),
            ("strip/turbine", "mark the nozzle ring's top"),
            ("strip/bushes", "line across bush and housing"),
        ] {
            assert!(says(id).contains(mark), "{name}, {id}: {}", says(id));
        }
    }
}

/// What a bearing inspection opens, it closes.
#[test]
fn what_is_taken_off_goes_back() {
    for name in ["overhaul", "bearing"] {
        let checklist = checklist(name);
        for (off, back) in [
            ("strip/access", "rebuild/inlet"),
            ("strip/compressor", "rebuild/impeller"),
            ("strip/thrust", "rebuild/thrust"),
            ("strip/turbine", "rebuild/casings"),
            ("strip/rotor", "rebuild/rotor"),
            ("strip/bushes", "rebuild/bushes"),
            ("strip/covered", "rebuild/covers"),
            ("fasteners/out", "fasteners/in"),
        ] {
            assert_eq!(
                (step(&checklist, off).phase, step(&checklist, back).phase > Phase::Decide),
                (off_phase(off), true)
            );
        }
    }
    let (off, back) = ("filter/off", "filter/back");
    for name in ["overhaul", "cleaning"] {
        assert!(checklist(name).step(off).is_some() && checklist(name).step(back).is_some(), "{name}");
    }
}

fn off_phase(id: &str) -> Phase {
    if id == "strip/access" { Phase::Found } else { Phase::Strip }
}

/// Blades, strips and vanes cut; soot, dye, hammers, used oil and compressed air hurt: said at the step, not before it.
#[test]
fn who_can_be_hurt_is_told_at_the_step() {
    for (word, steps) in [
        (
            "cut",
            &[
                "impeller/soot",
                "impeller/look",
                "impeller/indications",
                "impeller/life",
                "turbine/look",
                "turbine/life",
                "nozzle/look",
                "nozzle/edge",
                "nozzle/new-edge",
                "nozzle/edge.left",
                "balance/look",
                "event/found",
                "event/wheels",
                "fragments/inlet",
                "rotor/shroud",
                "rotor/shroud.left",
                "filter/silencer",
            ][..],
        ),
        ("kni", &["labyrinth/look", "labyrinth/clearance", "labyrinth/as-left"]),
        ("poison", &["turbine/soot", "nozzle/soot", "casing/soot", "casing/clean", "seal-air/look", "event/found"]),
        ("goggles", &["casing/look", "event/containment", "seal-air/clean", "seal-air/through", "rebuild/ready"]),
        ("no flame", &["oil/clean", "impeller/clean", "seal-air/clean", "impeller/degrease", "impeller/penetrant"]),
        ("no flame", &["event/containment"]),
        ("gloves", &["oil/look", "filter/look", "filter/soak", "fasteners/look", "thrust.main/lands.left"]),
        ("hot", &["running/oil", "running/vibration", "running/bolts.after", "rotor/leaks", "event/oil-supply"]),
        ("suspended", &["strip/rotor", "rebuild/rotor", "rebuild/casings", "turbine/soak"]),
        ("caustic", &["impeller/clean"]),
        ("permit", &["safe/permit", "running/prelube", "running/stopped", "event/upstream", "rebuild/counts"]),
    ] {
        for id in steps {
            let overhaul = checklist("overhaul");
            let caution = step(&overhaul, id).caution.clone().unwrap_or_default().to_lowercase();
            assert!(caution.contains(word), "{id} does not say `{word}`: {caution}");
        }
    }
    // wherever a part or the machine is in a hand; what is read off a report, counted or copied hurts nobody
    let desk =
        ["shaft/round.", "balance/angles", "rotor/temperature", "rebuild/figures", "rebuild/threads", "fasteners/in"];
    for checklist in every() {
        let at_desk = |step: &Step| desk.iter().any(|id| step.id.starts_with(id)) || step.takes == Takes::Words;
        let by_hand = checklist.steps.iter().filter(|step| {
            let inside = step.phase >= Phase::Safe && step.phase <= Phase::After && step.phase != Phase::Decide;
            inside && step.phase != Phase::Order && !at_desk(step)
        });
        for step in by_hand.filter(|step| !step.id.starts_with("running/load")) {
            assert!(step.caution.is_some(), "{}: no caution", step.id);
        }
    }
    // wherever a text sends a hand to an edge, a strip, a hammer, a dye or a jet
    let risky = ["feelers", "leading edge", "trailing edge", "hammer", "kerosene", "air at low pressure", "sling"];
    for checklist in every() {
        for step in checklist.steps.iter().filter(|step| step.phase != Phase::Close) {
            let text =
                [&step.doing, &step.how].into_iter().flatten().cloned().collect::<Vec<_>>().join(" ").to_lowercase();
            let risk = risky.iter().find(|word| text.contains(**word));
            assert!(risk.is_none() || step.caution.is_some(), "{}: {risk:?} without a caution", step.id);
        }
    }
}

/// Boost before and after a wash are figures, else nobody knows what the wash has brought.
#[test]
fn a_compressor_wash_takes_boost_before_and_after() {
    let cleaning = checklist("cleaning");
    let Takes::Readings(grid) = &step(&cleaning, "washing/compressor").takes else { panic!("no readings") };
    let places: Vec<_> = grid.cells(None).iter().map(|cell| cell.place()).collect();
    assert_eq!((grid.unit, places), (Unit::Bar, vec!["before the wash".to_owned(), "after the wash".to_owned()]));
}

/// Parts whose wear is told elsewhere, and where.
const CAUSE_ELSEWHERE: [(&str, &str); 3] = [
    ("fasteners", "one-use parts and threads: what changes from now on"),
    ("outside", "not judged in this scope"),
    ("oil", "told by the bushes and rings that ran in it"),
];

#[test]
fn each_part_that_can_wear_asks_for_its_cause() {
    for checklist in every() {
        for part in &checklist.parts {
            let judged =
                checklist.steps.iter().flat_map(|step| &step.judges).any(|one| one.characteristic.part() == part.id);
            let replaced = part
                .findings
                .iter()
                .flat_map(|kind| &kind.grades)
                .any(|one| one.leads_to.contains(&Consequence::Replace));
            let cause = checklist.step(&format!("{}/cause", part.id));
            // where of a wheel only the hours are counted, they are the cause
            let hours = checklist.step(&format!("{}/look", part.id)).is_none()
                && ["impeller", "turbine"].contains(&part.id.as_str());
            let elsewhere = hours || CAUSE_ELSEWHERE.iter().any(|(id, _)| *id == part.id);
            assert!(cause.is_some() || elsewhere || !(judged || replaced), "{}: {}", checklist.id, part.id);
            if let Some(cause) = cause {
                let offers = &cause.offers;
                assert!(offers.len() >= 4 && offers.last().unwrap() == "not known yet", "{}: {offers:?}", cause.id);
                let told = (cause.phase, cause.on_demand, &cause.takes, cause.part.as_str());
                assert_eq!(told, (Phase::Close, true, &Takes::Words, part.id.as_str()));
            }
        }
        assert_eq!(step(&checklist, "job/next").asks, [StepAsk::Plan]);
    }
}

/// A new bush is ordered by what it will leave over the journal as measured: known before the order goes out.
#[test]
fn the_clearance_to_come_stands_before_the_order() {
    for name in ["overhaul", "bearing"] {
        let checklist = checklist(name);
        let order = step(&checklist, "job/order");
        for side in ["cs", "ts"] {
            let id = format!("bush.{side}/predicted");
            let predicted = step(&checklist, &id);
            assert!(order.needs.contains(&id) && predicted.on_demand && predicted.phase == Phase::Order, "{name}");
        }
    }
}
