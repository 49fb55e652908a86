//! What a step says is said whole, as it is, and of what was done.

use asfound::domain::entry::Act;

use super::Bench;
use super::review::add;
use super::steps::lifts;

/// A verdict that is longer than the rule over its scale goes on below it.
#[test]
fn the_head_of_a_scale_is_never_cut() {
    let mut inspection = lifts(Bench::at_step("bush.ts/clearance"), 24).record();
    let last = inspection.entries().last().unwrap().number;
    add(&mut inspection, "fitter-a", Act::Strike { entry: last, reason: "misread".to_owned() });
    let mut bench = Bench::on(inspection).keys("esc 6").typed("bush.ts/clearance").keys("enter");
    for columns in [60, 66, 72, 79, 80, 100] {
        bench = bench.sized(columns, 24);
        let screen = bench.screen();
        let letters: String = screen.chars().filter(|letter| !letter.is_whitespace() && *letter != '-').collect();
        assert!(letters.contains("Xreplacebyforecast;~watch,23of24taken"), "{columns}:\n{screen}");
    }
}

/// A gauge that still types when the step takes no figure any more, or a paste without its brackets, moves nothing.
#[test]
fn a_gauge_moves_no_mark_where_nothing_is_typed() {
    let at = |bench: &Bench| bench.model.job().unwrap().at();
    for text in ["3", "2.13", "0.044", "12"] {
        let bench = Bench::at_step("bush.ts/look").keys("up up");
        let before = at(&bench);
        let bench = bench.gauge(text).expect("nothing was chosen");
        assert_eq!(at(&bench), before, "{text}\n{}", bench.screen());
    }
    // by hand a digit goes to its line
    drop(Bench::at_step("bush.ts/look").keys("2").expect("Enter next answer"));
}

#[test]
fn the_far_view_of_a_step_that_judges_nothing_shows_what_was_taken() {
    let bench = Bench::at_step("running/load").typed("85").keys("enter f2");
    let bench = bench.expect("NOTHING IS JUDGED AT THIS STEP").expect("LAST ENGINE").expect("TAKEN");
    assert!(bench.screen().matches('#').count() > 20, "{}", bench.screen());
    drop(bench.sized(40, 10).expect("NOTHING IS JUDGED AT THIS STEP").expect("ENGINE 85"));
    let left =
        Bench::at_step("running/load").keys("esc 4").typed("2").keys("enter").typed("no display").keys("enter f2");
    drop(left.expect("LEFT OUT WITH A REASON").expect("NOTHING IS JUDGED AT THIS STEP"));
}

/// A wait is never said to have run for longer than it has.
#[test]
fn the_minute_begun_counts_for_nothing() {
    let mut bench = Bench::at_step("turbine/soak").keys("enter").expect("so far 0 min");
    bench.at.stamp = (bench.at.stamp.moment() + chrono::Duration::seconds(271)).into();
    let bench = bench.later(0).expect("so far 4 min");
    drop(bench.later(56).expect("so far 1 h 00"));
}

#[test]
fn a_unit_where_pieces_are_counted_is_refused_as_one() {
    for text in ["5 mil", "5 foo"] {
        let bench = Bench::at_step("strip/brought").typed(text).keys("enter");
        let bench = bench.expect("pieces are counted").expect("Type the number of pieces alone").expect_not("thou");
        assert!(bench.screen().contains(&format!("[ {text}_")), "{}", bench.screen());
    }
}
