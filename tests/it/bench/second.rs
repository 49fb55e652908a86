//! A machine that is not the demonstration: inch gauges, five lands, an axial turbine; from an empty folder, by keys alone, to a
//! closed inspection. All of it is invented.

use asfound::domain::checklist::Signing;
use asfound::domain::inspection::Inspection;
use asfound::domain::progress;
use asfound::domain::signing::standing_signature;
use asfound::face::model::Screen;
use tempfile::TempDir;

use super::Bench;
use super::forms::{lines, register};
use crate::plain::bench::Bench as Lines;

const PEOPLE: &str = "fitter-k\nfitter K\nfi\n\nsupervisor-m\nsupervisor M\nsu\n";
const SHEET: &str = "INV-X5\nowner\nINV-X5 sheet (invented)\n2\ny\nfitter-k";

/// The name of a figure of the machine, and what is typed for it.
const GIVEN: [(&str, &str); 3] = [("thrust.lands", "5"), ("journal.diameter", "2.5 in"), ("turbine.blades", "41")];

fn begun(folder: &TempDir) -> Inspection {
    drop(lines(register(folder, "1").keys("1"), PEOPLE).expect("saved, in use"));
    drop(lines(register(folder, "2").keys("1"), "M9\nmicrometer\n2 in\n3\n0.0001").expect("saved, in use"));
    drop(lines(register(folder, "2").keys("2"), "D9\ndial\n0 in\n0.2\n0.0005\n0.05").expect("saved, in use"));
    let mut bench = lines(register(folder, "3").keys("1"), SHEET).keys("enter");
    for (name, typed) in GIVEN {
        // down to the row of that name: its hint says what it is
        let row = asfound::domain::characteristic::Given::all().position(|given| given.name() == name).unwrap();
        bench = bench.keys(&"pageup ".repeat(40)).keys(&"pagedown ".repeat(row));
        bench = lines(bench, typed).typed("3").keys("enter");
    }
    let bench = bench.keys("esc down down enter").keys("pagedown");
    drop(lines(bench, "0.006..0.009 in\n4\n>=0.011\n\n>0.012\nreplace\n\n").expect("saved, in use"));
    let rotor = "TRY-5\nX5-0007\nINV-X5\nPower house of an invented valley\ny";
    drop(lines(register(folder, "4").keys("1"), rotor).expect("saved, in use"));
    let bench = Bench::over(folder.path()).keys("1").keys("1 enter").typed("X5-0007").keys("enter");
    let bench = bench.keys("1 enter").typed("9100").keys("enter 1 enter").keys(&"enter ".repeat(7));
    let Screen::Job(job) = &bench.model.screen else { panic!("no record was begun:\n{}", bench.screen()) };
    job.inspection.clone()
}

#[test]
fn a_second_machine_is_entered_by_keys_inspected_and_closed() {
    let folder = TempDir::new().unwrap();
    let inspection = begun(&folder);
    let head = inspection.head().clone();
    let sheet = head.sheet.as_ref().unwrap();
    assert_eq!((sheet.id.as_str(), sheet.given.len()), ("INV-X5", GIVEN.len()));
    assert_eq!(head.instruments.len(), 2);
    let step = head.checklist.step("thrust.main/lands").unwrap();
    let places: Vec<_> = progress::cells(&inspection, step).iter().map(|cell| cell.place()).collect();
    assert!(places.iter().any(|place| place.contains("land 5")), "{places:?}");
    assert!(!places.iter().any(|place| place.contains("land 6")), "{places:?}");
    let mut work = Lines::over(inspection);
    for _ in 0..2000 {
        if standing_signature(work.inspection(), Signing::Close).is_some() {
            break;
        }
        work.answers();
    }
    let done = work.inspection();
    assert!(standing_signature(done, Signing::Close).is_some(), "{}", work.question());
}
