//! What the workshop enters before the job, form by form, key by key.

use std::path::Path;

use asfound::domain::characteristic::Given;

use super::super::Bench;
use super::super::forms::{lines, register};

/// Id, kind, smallest and largest figure, resolution, turn; then the expanded uncertainty of its calibration.
pub(super) const GAUGES: [(&str, &str); 9] = [
    ("M9\nmicrometer\n2 in\n3\n0.0001\n", "0.0001 in"),
    ("D9\ndial\n\n\n0.0001 in\n0.05", "0.0002 in"),
    ("B9\nbore\n2 in\n3\n0.0001\n", "0.0002 in"),
    ("C9\ncalliper\n0 in\n6\n0.001\n", "0.001 in"),
    ("F9\nfeelers\n\n\n0.001 in\n", "0.0005 in"),
    ("U9\nultra\n0.05 in\n4\n0.001\n", "0.002 in"),
    ("G9\ngauss\n\n\n0.01 mT\n", "0.02 mT"),
    ("W9\ntorque\n20 N m\n300\n1\n", "4 %"),
    ("X9\nbalancer\n\n\n1 g mm\n", "4 g mm"),
];

/// The name of a figure of the machine, and what is typed for it.
pub(super) const GIVEN: [(&str, &str); 16] = [
    ("thrust.lands", "5"),
    ("thrust.taper", "1.20 in"),
    ("thrust.flat", "0.30"),
    ("thrust.closes-within", "0.02"),
    ("thrust.edge", "0.01"),
    ("bush.pin-width", "0.50"),
    ("journal.diameter", "2.50"),
    ("lever.cs", "1.40"),
    ("lever.ts", "1.50"),
    ("shroud.places", "4"),
    ("nozzle.vanes", "11"),
    ("casing.fields", "6"),
    ("labyrinth.places", "4"),
    ("impeller.blades", "15"),
    ("turbine.blades", "41"),
    ("use.daily", "14"),
];

/// What the machine does not have.
const ABSENT: [(&str, &str); 5] = [
    ("Thrust collar: thickness", "the collar is one piece with the shaft"),
    ("Bush, compressor side: outer clearance", "the bushes do not float"),
    ("Bush, turbine side: outer clearance", "the bushes do not float"),
    ("Rotor shaft: turbine wheel's seat, diameter", "the turbine wheel is one piece with the shaft"),
    ("Turbine wheel: bore, on its seat", "the turbine wheel is one piece with the shaft"),
];

/// New range, alert, limit and what it leads to, part by part in the order of the form; empty for none.
///
/// Two limits of the turbine side are given in mm: readings in inches are judged by them to the last digit.
const LEVELS: [[&str; 4]; 39] = [
    // rotor: axial float, radial floats, wheel to shroud, blade tips
    ["0.006..0.010 in", ">=0.011", ">0.012 <0.005", "refer"],
    ["0.007..0.010", ">=0.0115", ">0.0125", "refer"],
    ["0.007..0.012", ">=0.014", ">0.016", "refer"],
    ["0.030..0.040", ">=0.044", ">0.048 <0.024", "refer"],
    ["0.022..0.032", ">=0.036", ">0.040 <0.018", "refer"],
    // both thrust rings
    [">=3.8", "<=2.3", "<=2.1", "replace"],
    [">=3.8", "<=2.3", "<=2.1", "replace"],
    // collar: face run-out
    ["<=0.0004 in", ">=0.0006", ">0.0008", "refer"],
    // bush, compressor side: clearance, pin, bore; the turbine side
    ["0.0045..0.0060", ">=0.0075", ">0.0080 <0.0040", "replace"],
    ["<=0.002", ">=0.045", ">=0.060", "replace"],
    ["2.5035..2.5055", "", "", ""],
    ["0.0055..0.0075", ">=0.0085", ">0.0090 <0.0050", "replace"],
    ["<=0.002", ">=0.045", ">=0.060", "replace"],
    ["2.5035..2.5055", "", "", ""],
    // shaft: step wear, ovality, taper, new diameters
    ["<=0.0001", ">=0.0007", ">=0.0010", "refer"],
    ["<=0.0001", ">=0.018 mm", ">=0.0254 mm", "refer"],
    ["<=0.0002 in", ">=0.0003", ">0.0004", "refer"],
    ["<=0.0002", ">=0.0003", ">0.0004", "refer"],
    ["<=0.0002", ">=0.0003", ">0.0004", "refer"],
    ["<=0.0002", ">=0.0003", ">0.0004", "refer"],
    ["2.4980..2.4986", "", "", ""],
    ["2.4980..2.4986", "", "", ""],
    // impeller's seat
    ["2.2494..2.2500", "<=2.2492", "<2.2490", "refer"],
    // run-out of the six stations
    ["<=0.0006", ">=0.0010", ">0.0015", "refer"],
    ["<=0.0006", ">=0.0010", ">0.0015", "refer"],
    ["<=0.0006", ">=0.0010", ">0.0015", "refer"],
    ["<=0.0006", ">=0.0010", ">0.0015", "refer"],
    ["<=0.0006", ">=0.0010", ">0.0015", "refer"],
    ["<=0.0006", ">=0.0010", ">0.0015", "refer"],
    // residual magnetism
    ["<=0.1 mT", ">=0.2", ">0.3", "rework"],
    // bore of a new impeller
    ["2.2486..2.2492 in", "", "", ""],
    // hours of impeller and turbine wheel
    ["", ">=50000 h", ">=60000", "replace"],
    ["", ">=50000", ">=60000", "replace"],
    // nozzle, labyrinth, casings
    [">=0.060 in", "<=0.044", "<0.040", "replace"],
    ["0.008..0.012", ">=0.015", ">=0.018", "rework"],
    [">=0.45", "<=0.30", "<0.27", "refer"],
    [">=0.35", "<=0.25", "<0.22", "refer"],
    // balance
    ["<=20 g mm", ">=40", ">60", "rework"],
    ["<=20", ">=40", ">60", "rework"],
];

pub(super) fn people(folder: &Path) {
    let typed = "fitter-k\nfitter K\nfi\n\nsupervisor-m\nsupervisor M\nsu\n";
    drop(lines(register(folder, "1").keys("1"), typed).expect("saved, in use"));
}

pub(super) fn gauges(folder: &Path) {
    for (number, (fields, u)) in GAUGES.into_iter().enumerate() {
        let new = format!("{}", (number + 1) % 10);
        let bench = lines(register(folder, "2").keys(&new), fields);
        // from the field behind the resolution or the turn down to the calibrations
        let down = 11 - fields.lines().count();
        let bench = bench.keys(&"pagedown ".repeat(down)).expect("calibrations").keys("enter");
        let bench = lines(bench, &format!("2024-01-10\n{u}\n2\nINV-C-{number}\n2025-01-10")).keys("esc");
        drop(lines(bench.keys("down down"), "y").expect("saved, in use"));
    }
}

pub(super) fn sheet(folder: &Path) {
    let head = "INV-X5\nowner\nINV-X5 sheet (invented)\n2\ny\nfitter-k";
    let mut bench = lines(register(folder, "3").keys("1"), head).keys("enter");
    let mut at = 0;
    for (name, typed) in GIVEN {
        // down to the row of that name; behind its source the hand is on the next
        let row = Given::all().position(|given| given.name() == name).unwrap();
        bench = lines(bench.keys(&"pagedown ".repeat(row - at)), typed).typed("3").keys("enter");
        at = row + 1;
    }
    bench = bench.keys("esc down enter");
    for (name, why) in ABSENT {
        for _ in 0..40 {
            bench = if bench.screen().contains(name) { bench } else { bench.keys("down") };
        }
        bench = lines(bench, why);
    }
    bench = bench.keys("esc down enter");
    for (page, [new, alert, limit, leads_to]) in LEVELS.into_iter().enumerate() {
        // every third begins a new page, the others stand on the page before
        let source = if page % 3 == 0 { format!("{}", page + 4) } else { String::new() };
        for level in [new, alert] {
            bench = lines(bench, level);
            bench = if level.is_empty() { bench.keys("enter") } else { lines(bench, &format!("{source}\n")) };
        }
        bench = lines(bench, limit);
        bench = if limit.is_empty() { bench.keys("enter") } else { lines(bench, &format!("{leads_to}\n{source}\n")) };
    }
    drop(bench.expect("saved, in use"));
}

pub(super) fn rotor(folder: &Path) {
    let head = "TRY-5\nX5-0007\nINV-X5\nPower house of an invented valley\ny";
    let bench = lines(register(folder, "4").keys("1"), head).keys("enter");
    let parts = "impeller\nX5-I-2\n9100 h\n9100\nturbine\nX5-T-2\n9100\n9100";
    drop(lines(bench, parts).expect("saved, in use"));
}

/// The opening answers, everything given.
pub(super) fn opening(bench: Bench) -> Bench {
    lines(bench, "\nperiodic\nin place\nINV-X5 sheet (invented)\n2\nno letters\n10000\n2026-07-01")
}
