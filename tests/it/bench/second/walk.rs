//! The hand at the machine: for each step that stands on the screen the keys that such a step takes.

use std::path::Path;

use asfound::domain::checklist::{Step, StepAsk, Takes};
use asfound::domain::entry::{Act, Entry};
use asfound::domain::figure::Figure;
use asfound::domain::progress::{self, StepState};
use asfound::domain::unit::Unit;
use asfound::face::action::Scope;

use super::super::Bench;
use super::figures;

/// More keys than any overhaul takes.
const MOST: usize = 4000;

/// Goes on until `step` stands on the screen; `picture` is what the camera has taken.
pub(super) fn to(mut bench: Bench, step: &str, picture: &Path) -> Bench {
    for _ in 0..MOST {
        let here = bench.model.job().and_then(|job| job.step()).map(|step| step.id.clone());
        if here.as_deref() == Some(step) && bench.model.scope() != Scope::Shut && bench.model.overlays.is_empty() {
            return bench;
        }
        bench = one(bench, picture);
    }
    panic!("{step} was not reached:\n{}", bench.screen());
}

/// Types the name under the step that stands on the screen, and sees that it is signed.
pub(super) fn signed(bench: Bench) -> Bench {
    bench.typed("fitter K").keys("enter").expect("signed. Enter: next step").keys("enter")
}

/// Somebody else at the keys, who says that the machine is safe where that is asked.
pub(super) fn hand(bench: Bench, name: &str) -> Bench {
    let bench = bench.keys("esc 9").typed(name).keys("enter enter");
    if bench.model.scope() == Scope::Question { bench.keys("down enter") } else { bench }
}

/// What stands on the screen, answered.
fn one(bench: Bench, picture: &Path) -> Bench {
    match bench.model.scope() {
        // out of limit, or what a finding obliges: seen
        Scope::Notice => return bench.keys("enter"),
        Scope::Question => return bench.expect("Is the machine still safe?").keys("down enter"),
        Scope::List => return gauge(bench),
        Scope::Shut => return bench.keys("enter"),
        Scope::Form => panic!("{}", bench.screen()),
        _ => {}
    }
    let step = bench.model.job().and_then(|job| job.step()).cloned().unwrap();
    if progress::state(bench.so_far(), &step).is_settled() {
        // the last line of a look goes on
        let last = bench.model.job().is_some_and(|job| job.at() + 1 == job.lines());
        return bench.keys(if step.takes == Takes::Look && !last { "up enter" } else { "enter" });
    }
    match &step.takes {
        Takes::Points(_) | Takes::Tick => bench.keys("enter"),
        Takes::Look if step.id == "turbine/look" && !is_seen(&bench) => {
            // on blade 17 of 41 the lacing wire is worn
            bench.keys("8 1 enter").typed("17").keys("enter enter enter").expect("lacing wire, worn")
        }
        Takes::Look if step.asks.contains(&StepAsk::Picture) => {
            let bench = bench.keys("esc 8").typed(&picture.display().to_string()).keys("enter").expect("photo");
            bench.keys("up enter")
        }
        Takes::Look => bench.keys("up enter"),
        Takes::Words if step.asks.contains(&StepAsk::Plan) && bench.so_far().opening().next_date.is_none() => {
            let bench = bench.keys("esc 0 2").expect("planned anew, h").typed("9000").keys("enter");
            let bench = bench.typed("2033-05-01").keys("enter").typed("the interval of its manual").keys("enter");
            bench.expect("> next opening: at 9000 h, 2033-05-01")
        }
        Takes::Words if !step.offers.is_empty() => {
            let bench = bench.expect(&format!("1 {}", step.offers[0])).typed("1: as its marks show").keys("enter");
            bench.expect(&format!("{}: as its marks show", step.offers[0]))
        }
        Takes::Words => bench.typed("nothing out of the way").keys("enter"),
        Takes::Readings(_) => reading(bench, &step),
        Takes::Soak { from, .. } => soak(bench, &step, *from),
        Takes::Sign(_) => panic!("{} is signed by its own keys:\n{}", step.id, bench.screen()),
    }
}

fn is_seen(bench: &Bench) -> bool {
    let turbine = |entry: &Entry| matches!(&entry.act, Act::Finding(finding) if finding.step == "turbine/look");
    bench.so_far().entries().iter().any(turbine)
}

/// The gauges of this workshop end in 9, one of each kind.
fn gauge(bench: Bench) -> Bench {
    bench.expect("in your hand?").keys("1 delete")
}

/// The figure is typed and taken; a question about it would be a figure that nobody would believe.
fn reading(bench: Bench, step: &Step) -> Bench {
    let cell = bench.model.job().and_then(|job| job.cell()).unwrap();
    let typed = figures::typed(step, &cell);
    let before = bench.entries();
    let asks = bench.model.job().is_some_and(|job| job.gauge().is_none());
    let bench = bench.typed(&typed).keys("enter");
    let taken = bench.entries() == before + 1 || asks && bench.model.scope() == Scope::List;
    assert!(taken, "{}, {}: {typed}\n{}", step.id, cell.place(), bench.screen());
    bench
}

/// In, and out again when it is time.
fn soak(bench: Bench, step: &Step, from: Figure) -> Bench {
    let runs = matches!(progress::state(bench.so_far(), step), StepState::Running { .. });
    let bench = bench.keys("enter");
    let minutes: i64 = from.to(Unit::Minute).unwrap().to_string().parse().unwrap();
    if runs { bench } else { bench.later(minutes + 1) }
}
