//! The checklists as work: every part there, gates before what they guard, readings with their places explained.

use std::collections::BTreeSet;

use asfound::domain::characteristic::Characteristic;
use asfound::domain::checklist::{Checklist, Step, Takes};
use asfound::domain::judge::Condition;
use asfound::domain::phase::Phase;
use asfound::domain::unit::{Dimension, Unit};
use asfound::records::checklist_file::{built_in, built_in_names};

pub(super) fn checklist(name: &str) -> Checklist {
    built_in(name).unwrap().unwrap_or_else(|faults| panic!("{faults}"))
}

pub(super) fn step<'a>(checklist: &'a Checklist, id: &str) -> &'a Step {
    checklist.step(id).unwrap_or_else(|| panic!("no step {id}"))
}

pub(super) fn every() -> Vec<Checklist> {
    built_in_names().map(checklist).collect()
}

/// Whether `step` needs `other`, straight or by way of other steps.
pub(super) fn needs(checklist: &Checklist, step: &Step, other: &str) -> bool {
    step.needs.iter().any(|need| need == other || needs(checklist, self::step(checklist, need), other))
}

/// What is not judged as found, and why.
const NOT_AS_FOUND: [(&str, &str); 6] = [
    ("bush.cs.bore", "judged as clearance; the bore checks the lift"),
    ("bush.ts.bore", "judged as clearance; the bore checks the lift"),
    ("shaft.cs.diameter", "judged as step wear, ovality, taper"),
    ("shaft.ts.diameter", "judged as step wear, ovality, taper"),
    ("impeller.bore", "the wheel stays on its seat until the seat is measured; a new one is judged"),
    ("turbine.bore", "the wheel stays on its seat until the seat is measured; a new one is judged"),
];
/// What is not judged as new or as left, and why.
const NOT_AS_LEFT: [(&str, &str); 2] = [
    ("shaft.cs.step", "a new or ground journal has no running track; its diameter, ovality and taper are judged"),
    ("shaft.ts.step", "a new or ground journal has no running track; its diameter, ovality and taper are judged"),
];

#[test]
fn every_characteristic_is_judged_as_found_and_as_new_or_left() {
    let overhaul = checklist("overhaul");
    let judged = |condition: Condition| -> BTreeSet<_> {
        let steps = overhaul.steps.iter().filter(|step| step.condition() == condition);
        steps.flat_map(|step| &step.judges).map(|judged| judged.characteristic.id()).collect()
    };
    for (condition, excused) in [(Condition::AsFound, &NOT_AS_FOUND[..]), (Condition::AsLeft, &NOT_AS_LEFT[..])] {
        let judged = judged(condition);
        for one in Characteristic::all().map(Characteristic::id) {
            let excused = excused.iter().any(|(id, _)| *id == one);
            assert!(judged.contains(one) != excused, "{one}, {condition:?}");
        }
    }
}

/// What a mended part is measured by again: without such a step it would be held for ever.
#[test]
fn a_part_that_can_be_reworked_has_something_to_measure_it_by_again() {
    let overhaul = checklist("overhaul");
    let measured: BTreeSet<_> =
        overhaul.steps.iter().flat_map(|step| &step.judges).map(|judged| judged.characteristic.part()).collect();
    for part in measured.into_iter().filter(|part| !["impeller", "turbine"].contains(part)) {
        let again = |step: &&Step| step.phase == Phase::Rebuild && step.part == part && !step.judges.is_empty();
        assert!(overhaul.steps.iter().any(|step| again(&step)), "{part}");
    }
}

#[test]
fn every_part_of_the_rotor_has_its_steps() {
    let overhaul = checklist("overhaul");
    for part in [
        "running",
        "safe",
        "rotor",
        "strip",
        "thrust.main",
        "thrust.counter",
        "collar",
        "oil",
        "bush.cs",
        "bush.ts",
        "shaft",
        "impeller",
        "turbine",
        "nozzle",
        "labyrinth",
        "casing",
        "seal-air",
        "filter",
        "balance",
        "event",
        "fragments",
        "spares",
        "rebuild",
        "fasteners",
        "job",
    ] {
        assert!(overhaul.part(part).is_some(), "no part {part}");
        assert!(overhaul.steps.iter().any(|step| step.part == part), "no step of {part}");
    }
    let rotating: Vec<_> = overhaul.parts.iter().filter(|part| part.rotates).map(|part| part.id.as_str()).collect();
    assert_eq!(rotating, ["collar", "shaft", "impeller", "turbine"]);
}

#[test]
fn every_phase_of_the_job_has_steps() {
    let overhaul = checklist("overhaul");
    for phase in Phase::ALL {
        assert!(overhaul.steps.iter().any(|step| step.phase == phase), "nothing in {}", phase.word());
    }
}

/// A bearing inspection leaves wheels out, a routine cleaning opens no bearing.
#[test]
fn scopes_differ() {
    let has = |name: &str, part: &str| checklist(name).part(part).is_some();
    assert!(has("bearing", "bush.ts") && has("bearing", "balance") && !has("bearing", "nozzle"));
    // of the wheels only the hours are counted
    let wheels =
        |name: &str| checklist(name).steps.into_iter().filter(|step| step.part == "turbine" && !step.on_demand);
    assert_eq!(wheels("bearing").map(|step| step.id).collect::<Vec<_>>(), ["turbine/life"]);
    assert!(has("cleaning", "filter") && has("cleaning", "washing") && !has("cleaning", "bush.ts"));
    // what the bearing inspection takes off and does not judge is named and looked at; labyrinths are its own
    assert!(has("bearing", "outside") && has("bearing", "labyrinth") && !has("overhaul", "outside"));
    for name in ["overhaul", "bearing", "cleaning"] {
        assert!(has(name, "fragments"), "{name}");
    }
}

/// Floats and wheel clearance are gone for ever once what they rest on is taken out.
#[test]
fn as_found_readings_gate_the_step_that_destroys_them() {
    for checklist in [checklist("overhaul"), checklist("bearing")] {
        let found = checklist.steps.iter().filter(|step| step.phase == Phase::Found && !step.judges.is_empty());
        for reading in found {
            let strips = checklist.steps.iter().filter(|step| step.phase == Phase::Strip);
            let gated: Vec<_> = strips.filter(|step| step.needs.contains(&reading.id)).collect();
            assert!(!gated.is_empty(), "{} gates nothing", reading.id);
        }
        for (reading, strip) in [
            ("rotor/axial-float", "strip/thrust"),
            ("rotor/radial-float.cs", "strip/bushes"),
            ("rotor/radial-float.ts", "strip/bushes"),
            ("rotor/radial-float.ts", "strip/turbine"),
            ("rotor/shroud", "strip/compressor"),
        ] {
            assert!(step(&checklist, strip).needs.iter().any(|need| need == reading), "{strip} needs {reading}");
        }
    }
}

#[test]
fn looked_at_before_cleaning_and_cleaned_before_measuring() {
    let overhaul = checklist("overhaul");
    for (before, after) in [
        ("oil/look", "oil/clean"),
        ("oil/clean", "bush.ts/look"),
        ("oil/clean", "bush.cs/clearance"),
        ("oil/clean", "thrust.main/lands"),
        ("oil/clean", "shaft/diameter.ts"),
        ("impeller/soot", "impeller/clean"),
        ("impeller/clean", "impeller/indications"),
        ("turbine/soot", "turbine/clean"),
        ("turbine/clean", "turbine/look"),
        ("nozzle/soot", "nozzle/clean"),
        ("nozzle/clean", "nozzle/edge"),
        ("seal-air/look", "seal-air/clean"),
        ("filter/soot", "filter/wash"),
        ("casing/clean", "casing/gas-wall"),
    ] {
        assert!(needs(&overhaul, step(&overhaul, after), before), "{after} comes before {before}");
    }
}

#[test]
fn every_step_says_what_why_how_and_what_goes_wrong() {
    for checklist in every() {
        for step in &checklist.steps {
            let all = [&step.doing, &step.why, &step.how, &step.mistakes];
            assert!(all.iter().all(|lines| !lines.is_empty()), "{}", step.id);
        }
    }
}

/// Places on a part say from where they are seen; places that are gauges on a board need no such words.
#[test]
fn places_on_a_part_say_where_they_are_seen_from() {
    for checklist in every() {
        for step in &checklist.steps {
            let Takes::Readings(grid) = &step.takes else { continue };
            let on_a_part = matches!(grid.unit.dimension(), Dimension::Length | Dimension::FluxDensity);
            assert!(!on_a_part || step.seen.is_some(), "{}", step.id);
        }
    }
    let overhaul = checklist("overhaul");
    assert!(
        matches!(&step(&overhaul, "shaft/run-out.mid").takes, Takes::Readings(grid) if grid.unit == Unit::Micrometre)
    );
}

/// Steps that wait for a finding must be asked for by one, or belong to a new part.
#[test]
fn a_step_on_demand_can_be_demanded() {
    for checklist in every() {
        let by_finding = checklist.parts.iter().flat_map(|part| &part.findings).flat_map(|kind| &kind.obliges);
        let by_figure = checklist.steps.iter().flat_map(|step| &step.judges).flat_map(|judged| &judged.obliges);
        let obliged: BTreeSet<_> = by_finding.chain(by_figure).collect();
        for step in checklist.steps.iter().filter(|step| step.on_demand) {
            let new = matches!(step.phase, Phase::Order | Phase::New | Phase::Rebuild | Phase::Close);
            assert!(new || obliged.contains(&step.id), "{}", step.id);
        }
    }
}
