//! A record from the first question to the last.

use super::bench::Bench;

#[test]
fn the_first_questions_are_put_one_a_line() {
    let mut bench = Bench::demo();
    bench.types(&["?", "done", "16950", "!", "4", "! 4"]);
    println!("{}", bench.hears());
    bench.walks_to("safe/permit");
    println!("{}", bench.hears());
}

#[test]
fn a_lift_is_judged_when_its_set_is_complete() {
    let mut bench = Bench::demo();
    bench.walks_to("bush.ts/clearance");
    bench.hears();
    bench.types(&["D2"]);
    for figure in [".020", ".228", ".020", ".230", ".022", ".230", ".020", ".224", ".020", ".224", ".020", ".226"] {
        bench.types(&[figure]);
    }
    bench.types(&[".020", ".034", "0.24", "turn", ".020", ".234", ".018", ".232"]);
    for figure in [".022", ".230", ".020", ".230", ".020", ".230"] {
        bench.types(&[figure]);
    }
    println!("{}", bench.hears());
}
