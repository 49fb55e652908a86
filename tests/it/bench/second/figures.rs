//! What is read off the gauges, place by place: inches as the gauges of this workshop show them.

use asfound::domain::checklist::{Cell, Step};

/// The dial set down first stands at two thousandths.
const DOWN: i32 = 20;

/// Ten-thousandths of an inch as a dial shows them: `.0112 in`.
fn dial(tenths: i32) -> String {
    let sign = if tenths < 0 { "-" } else { "" };
    format!("{sign}0.{:04} in", tenths.abs())
}

/// The lift of a step in ten-thousandths, by place.
fn lift(step: &str, spot: &str) -> Option<i32> {
    Some(match (step, spot) {
        ("rotor/axial-float" | "rotor/axial-float.left", _) => 85,
        ("rotor/radial-float.cs" | "rotor/radial-float.cs.left", _) => 80,
        // the turbine side has worn: over its alert; with the new bush as it was built
        ("rotor/radial-float.ts", _) => 141,
        ("rotor/radial-float.ts.left", _) => 100,
        ("bush.cs/clearance", "outer 0") => 58,
        ("bush.cs/clearance", _) => 56,
        // past the limit of 0.0090 in at one place
        ("bush.ts/clearance", "inner 0") => 92,
        ("bush.ts/clearance", _) => 88,
        ("bush.ts/as-left", _) => 66,
        _ => return None,
    })
}

/// A gap in thousandths: the thinnest leaf that stops.
fn gap(step: &str, spot: &str) -> Option<i32> {
    Some(match (step, spot) {
        ("rotor/shroud", "place 3") => 40,
        ("rotor/shroud" | "rotor/shroud.left", _) => 37,
        ("rotor/tips" | "rotor/tips.left", _) => 28,
        // on the limit of 0.018 in, and touching counts
        ("labyrinth/clearance", "place 3") => 18,
        ("labyrinth/clearance", _) => 14,
        ("labyrinth/as-left", _) => 11,
        _ => return None,
    })
}

/// Taper and flat of the five lands in thousandths: each sum is that of the new ring, 1.500.
fn land(step: &str, row: &str, figure: &str) -> String {
    let flat = match (step, row) {
        // 1.040 / 0.460 = 2.26: over the alert of 2.3
        ("thrust.main/lands", "land 4") => 460,
        ("thrust.main/lands", _) => 400,
        (_, "land 2") => 380,
        (_, _) => 360,
    };
    let shown = if figure == "flat" { flat } else { 1500 - flat };
    format!("{}.{:03} in", shown / 1000, shown % 1000)
}

/// A run-out in ten-thousandths: once round in eight marks, back at zero, and the sweep.
fn run_out(step: &str, cell: &Cell) -> i32 {
    // the middle of the shaft swings by 0.0010 in: on its alert, and touching counts
    let marks = if step == "shaft/run-out.mid" { [0, 1, 4, 7, 10, 9, 5, 2, 0] } else { [0, 0, 1, 2, 3, 3, 2, 1, 0] };
    let across = cell.across.as_deref().unwrap_or_default();
    match ["0", "45", "90", "135", "180", "225", "270", "315", "back"].iter().position(|mark| *mark == across) {
        Some(mark) => marks[mark],
        None if across == "largest" => *marks.iter().max().unwrap(),
        None => 0,
    }
}

/// Journals in ten-thousandths of an inch.
fn journal(step: &str, cell: &Cell) -> String {
    let tenths = match (step, cell.row.as_str(), cell.across.as_deref()) {
        (_, "unworn", _) => 24_984,
        ("shaft/diameter.cs", "c", Some("90")) => 24_980,
        ("shaft/diameter.cs", _, _) => 24_981,
        // 2.4984 - 2.4974 = 0.0010 in = 0.0254 mm: on the limit that the sheet has in mm, and touching counts
        (_, "c", Some("45")) => 24_974,
        (_, "c", _) => 24_975,
        (_, _, _) => 24_976,
    };
    format!("2.{} in", tenths - 20_000)
}

/// What is typed at a place.
pub(super) fn typed(step: &Step, cell: &Cell) -> String {
    let (id, spot) = (step.id.as_str(), cell.spot());
    if let Some(lift) = lift(id, &spot) {
        let second = matches!(cell.figure.as_deref(), Some("up" | "pulled"));
        return dial(if second { DOWN + lift } else { DOWN });
    }
    if id.ends_with("lands") {
        return land(id, &cell.row, cell.figure.as_deref().unwrap_or_default());
    }
    if id.contains("run-out") {
        return dial(run_out(id, cell));
    }
    if id.starts_with("shaft/diameter") {
        return journal(id, cell);
    }
    if let Some(gap) = gap(id, &spot) {
        // the leaf that goes is one thousandth thinner than the one that stops
        let leaf = if cell.figure.as_deref() == Some("goes") { gap - 1 } else { gap };
        return format!("0.{leaf:03} in");
    }
    let text = match (id, spot.as_str()) {
        ("running/speed" | "running/speed.after", _) => "14200",
        ("running/load" | "running/load.after", _) => "80",
        ("running/boost" | "running/boost.after", _) => "26 psi",
        ("running/filter-drop" | "running/filter-drop.after", _) => "14",
        ("running/temperatures" | "running/temperatures.after", "oil in") => "140 degF",
        ("running/temperatures" | "running/temperatures.after", "exhaust before turbine") => "830 degF",
        ("running/temperatures" | "running/temperatures.after", _) => "610 degF",
        ("running/oil" | "running/oil.after", _) => "30 psi",
        ("running/vibration" | "running/vibration.after", _) => "2.1",
        ("running/rundown", _) => "95",
        ("strip/brought" | "rebuild/tools", "tools") => "41",
        ("strip/brought" | "rebuild/tools", _) => "24",
        ("strip/covered" | "rebuild/covers", _) => "11",
        ("filter/off" | "filter/back", "elements") => "4",
        ("filter/off" | "filter/back", _) => "12",
        ("fasteners/out" | "fasteners/in", _) => "36",
        ("rotor/temperature" | "rotor/temperature.left", _) => "72 degF",
        ("bush.cs/pin", "near the tip") => "0.488 in",
        ("bush.cs/pin", _) => "0.491 in",
        // 0.500 - 0.455 = 0.045 in: on the alert, and touching counts
        ("bush.ts/pin", "near the tip") => "0.455 in",
        ("bush.ts/pin", _) => "0.466 in",
        ("bush.ts/new-pin", _) => "0.499 in",
        ("bush.cs/bore", _) => "2.5037 in",
        ("bush.ts/bore", _) => "2.5065 in",
        ("bush.ts/new-bore", _) => "2.5041 in",
        ("shaft/seat.cs", _) => "2.2496 in",
        ("shaft/flux", _) => "0.12",
        ("impeller/penetrant-surface", _) => "70 degF",
        ("impeller/penetrant-light", _) => "900",
        ("nozzle/edge", "vane 7") => "0.047 in",
        ("nozzle/edge", _) => "0.052 in",
        ("casing/gas-wall", "field 4") => "0.362 in",
        ("casing/gas-wall", _) => "0.401 in",
        ("casing/air-wall", _) => "0.344 in",
        ("balance/report", _) => "22",
        ("balance/as-left", _) => "9",
        ("balance/angles", _) => "45",
        // 1.5 in of aluminium, 0.0012 in of interference and 0.0010 in to slip: 64 K, well below what is allowed
        ("rebuild/heat", "bore") => "1.500 in",
        ("rebuild/heat", "interference") => "0.0012 in",
        ("rebuild/heat", "clearance wanted") => "0.0010 in",
        ("rebuild/heat", "expansion") => "23",
        ("rebuild/heat", "room") => "70 degF",
        ("rebuild/heat", "largest allowed") => "300 degF",
        ("rebuild/figures", "stage 1") => "33",
        ("rebuild/figures", "stage 2") => "67",
        ("rebuild/figures", _) if cell.across.as_deref() == Some("bolts") => "12",
        ("rebuild/figures", _) => "90 lbf ft",
        ("rebuild/torques.covers" | "rebuild/torques.nut" | "rebuild/torques", _) => match cell.figure.as_deref() {
            Some("stage 1") => "30 lbf ft",
            Some("stage 2") => "60 lbf ft",
            _ => "90 lbf ft",
        },
        (step, spot) => panic!("nothing is read at {step}, {spot}"),
    };
    text.to_owned()
}
