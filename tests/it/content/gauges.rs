//! How well the figures of the demonstration are known: what a gauge can pass, budgets, corrections, cross-checks.

use asfound::domain::capability::{self, Capability};
use asfound::domain::id::Id;

use super::demo::played;

fn lines(step: &str, gauge: &str) -> Vec<Capability> {
    let inspection = &played()[2];
    let step = inspection.head().checklist.step(step).unwrap();
    let gauge = inspection.gauge(&gauge.parse::<Id>().unwrap()).unwrap();
    capability::of_step(inspection, step, gauge)
}

/// Limit 0.220 less 1.67 times 0.0025, u from 0.003 / sqrt 3, twice 0.002 / sqrt 12 and 0.003 / 2, by hand.
#[test]
fn before_the_first_reading_a_gauge_says_what_it_can_pass() {
    for (step, gauge, words, warns) in [
        ("bush.ts/clearance", "D2", "D2 can pass a clearance up to 0.2158", false),
        ("bush.ts/clearance", "D1", "D1 can pass a clearance up to 0.2104", false),
        ("shaft/diameter.ts", "M1", "M1 can pass a step wear up to 0.0193", false),
        ("shaft/diameter.ts", "M2", "! M2 is too coarse: the room is 1 times its U", true),
        ("nozzle/edge", "C2", "C2 is fit: the room is 15 times its U", false),
        ("bush.ts/as-left", "D2", "D2 is fit: the room is 7 times its U", false),
        ("thrust.main/lands", "C1", "", false),
    ] {
        let told = lines(step, gauge);
        let first = told.first();
        assert_eq!(first.map_or(String::new(), Capability::words), words, "{step}");
        assert_eq!(first.is_some_and(Capability::warns), warns, "{step}");
    }
}
