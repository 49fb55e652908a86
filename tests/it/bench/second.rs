//! A machine that is not the demonstration: inch gauges, five lands, an axial turbine of 41 blades; from an empty folder, by
//! keys alone, to a closed inspection with every figure typed and judged. All of it is invented.

mod entered;
mod figures;
mod walk;

use std::path::Path;

use asfound::domain::checklist::Signing;
use asfound::domain::entry::Act;
use asfound::domain::inspection::Inspection;
use asfound::domain::judge::{Condition, Reach};
use asfound::domain::progress;
use asfound::domain::review::not_judged_in_words;
use asfound::domain::signing::standing_signature;
use asfound::domain::standing::{Outcome, Standing};
use asfound::domain::unit::Unit;
use asfound::domain::verdict::{Disposition, Verdict};
use tempfile::TempDir;

use super::Bench;
use super::findings::PICTURE;
use crate::plain::verbs::asfound;

fn begun(folder: &Path) -> Bench {
    entered::people(folder);
    entered::gauges(folder);
    entered::sheet(folder);
    entered::rotor(folder);
    let bench = Bench::over(folder).keys("1").keys("1 enter").typed("X5-0007").keys("enter");
    let bench = bench.keys("1 enter").typed("9100").keys("enter 1 enter");
    entered::opening(bench)
}

/// How far the worst figure of a characteristic went, as found.
fn reach(inspection: &Inspection, standing: &Standing, id: &str, condition: Condition) -> Reach {
    let one = standing.characteristics.iter().find(|one| one.characteristic.id() == id && one.condition == condition);
    let one = one.unwrap_or_else(|| panic!("{id} is not asked for in {}", inspection.head().id));
    one.judgement().unwrap_or_else(|| panic!("{id}: {:?}", one.outcome)).reached.reach
}

#[test]
fn a_second_machine_is_entered_by_keys_inspected_judged_and_closed() {
    let folder = TempDir::new().unwrap();
    let bench = begun(folder.path());
    let inspection = bench.so_far();
    let sheet = inspection.head().sheet.as_ref().unwrap();
    assert_eq!((sheet.id.as_str(), sheet.given.len()), ("INV-X5", entered::GIVEN.len()));
    assert_eq!(inspection.head().instruments.len(), entered::GAUGES.len());
    let step = inspection.head().checklist.step("thrust.main/lands").unwrap();
    let lands: Vec<_> = progress::cells(inspection, step).iter().map(|cell| cell.row.clone()).collect();
    assert!(lands.contains(&"land 5".to_owned()) && !lands.contains(&"land 6".to_owned()), "{lands:?}");

    let picture = folder.path().join("inside.png");
    std::fs::write(&picture, PICTURE).unwrap();
    let bench = walk::to(bench, "job/decisions", &picture);
    found(bench.so_far());
    let bench = walk::signed(bench);
    // the maker's answer about the shaft, which a supervisor signs for, and the new bush
    let bench = walk::hand(bench, "supervisor M");
    let bench =
        bench.keys("esc 0 7").typed("shaft: step wear, turbine").keys("enter").typed("maker, desk 4").keys("enter");
    let bench = bench.typed("INV-L-12").keys("enter").typed("looked at after 500 h").keys("enter");
    let bench = bench.typed("the next opening").keys("enter").typed("watch").keys("enter").expect("concession");
    let bench = walk::hand(bench, "fitter K");
    let bench = bench.keys("esc 0 3").typed("Bush, turbine").keys("enter 1 enter").typed("X5-B-9").keys("enter enter");
    let bench = walk::to(bench.expect("serial X5-B-9"), "job/close", &picture);
    left(bench.so_far());
    let closed = walk::signed(bench).record();
    let Some(Act::Sign(close)) = standing_signature(&closed, Signing::Close).map(|entry| &entry.act) else {
        panic!("not closed")
    };
    assert!(close.carried.is_empty(), "{:?}", close.carried);
    checked(folder.path());
}

/// As found: everything is judged, each verdict as the figures have it.
fn found(inspection: &Inspection) {
    let standing = Standing::of(inspection);
    let as_found = standing.characteristics.iter().filter(|one| one.condition == Condition::AsFound);
    for one in as_found {
        assert!(matches!(one.outcome, Outcome::Judged(_)), "{}: {:?}", one.characteristic.id(), one.outcome);
    }
    let reach = |id| reach(inspection, &standing, id, Condition::AsFound);
    // 2.4984 - 2.4974 in against 0.0254 mm, 0.018 in against 0.018 in, 0.0010 in swept against 0.0010 in: on them
    assert_eq!(reach("shaft.ts.step"), Reach::Limit);
    assert_eq!(reach("labyrinth.clearance"), Reach::Limit);
    assert_eq!(reach("shaft.runout.mid"), Reach::Alert);
    assert_eq!(reach("bush.ts.pin"), Reach::Alert);
    assert_eq!(reach("bush.ts.clearance"), Reach::Limit);
    assert_eq!(reach("thrust.main.ratio"), Reach::Alert);
    assert_eq!(reach("float.radial.ts"), Reach::Alert);
    for within in ["shaft.cs.step", "thrust.counter.ratio", "float.axial", "nozzle.trailing-edge", "casing.gas.wall"] {
        assert_eq!(reach(within), Reach::Within, "{within}");
    }
    let parts = standing.parts.iter().filter(|part| part.verdict != Verdict::default());
    let parts: Vec<_> = parts.map(|part| (part.id.as_str(), part.verdict.disposition)).collect();
    let wanted = [
        ("rotor", Disposition::Watch),
        ("thrust.main", Disposition::Watch),
        ("bush.ts", Disposition::Replace),
        ("shaft", Disposition::Watch),
        ("labyrinth", Disposition::Rework),
        ("turbine", Disposition::Watch),
        ("balance", Disposition::Reuse),
    ];
    assert_eq!(parts, wanted);
    let holds = [
        "bush, turbine: new part to check",
        "shaft: referred: step wear, turbine side",
        "labyrinths: open: rework to do, then measured again",
        "balance: balance to do",
    ];
    assert_eq!(standing.holds_in_words(), holds);
}

/// As left: what was asked for is judged as new, nothing is left over and nothing unjudged.
fn left(inspection: &Inspection) {
    let standing = Standing::of(inspection);
    for one in &standing.characteristics {
        let settled = matches!(one.outcome, Outcome::Judged(_) | Outcome::Excused);
        assert!(settled, "{} at {}: {:?}", one.characteristic.id(), one.step, one.outcome);
    }
    for id in ["bush.ts.bore", "bush.ts.clearance", "labyrinth.clearance", "float.radial.ts", "balance.ts"] {
        assert_eq!(reach(inspection, &standing, id, Condition::AsLeft), Reach::Within, "{id}");
    }
    assert_eq!(standing.holds_in_words(), Vec::<String>::new());
    let away = |act: &Act| matches!(act, Act::Skip { .. } | Act::NotApplicable { .. } | Act::Unjudged { .. });
    let away = inspection.standing_entries().filter(|entry| away(&entry.act)).count();
    assert_eq!(away, 0, "every step was done, and nothing that is there was marked away");
    assert_eq!(not_judged_in_words(inspection, &standing), Vec::<String>::new());
    let typed = inspection.standing_entries().filter(|entry| match &entry.act {
        Act::Reading { typed, taken, .. } => typed.ends_with("in") && taken.unit() == Unit::Inch,
        _ => false,
    });
    assert!(typed.count() > 200, "figures were typed in inches");
}

/// The files as another start of the program finds them.
fn checked(folder: &Path) {
    let report = asfound(folder, &["check"], "");
    assert_eq!((report.0, report.1.lines().next().unwrap().split(" in ").nth(1)), (0, Some("1 record, 0 problems")));
    let (code, out, err) = asfound(folder, &["verify"], "");
    assert_eq!(code, 0, "{out}{err}");
    Bench::over(folder).expect("begin an inspection");
}
