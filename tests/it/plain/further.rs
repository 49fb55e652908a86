//! One more repeat, line by line, asked for when the work is at another step.

use super::bench::Bench;

/// Until it is taken its step is open again: it is asked for next, and the way back is said.
#[test]
fn one_more_repeat_asked_for_elsewhere_is_taken_next_and_the_step_left_is_named() {
    let mut bench = Bench::demo();
    bench.walks_to("bush.ts/clearance").hears();
    bench.types(&["D2"]);
    for up in [".200", ".200", ".239", ".200"] {
        bench.types(&[".020", up, ".020", up, ".020", up]);
    }
    let (left, _) = bench.session.place(bench.now).unwrap();
    assert_ne!(left, "bush.ts/clearance");
    bench.hears();
    bench.types(&["! 26", "1"]);
    let heard = bench.hears();
    assert!(heard.contains("bush.ts/clearance, inner 0: one repeat more, open until it is taken."), "{heard}");
    assert!(
        heard.contains(&format!("Left as it stood: {left}. The work goes on from here; ! 6 leads back.")),
        "{heard}"
    );
    assert!(bench.question().starts_with("inner 0, fourth down"), "{}", bench.question());
    bench.types(&[".020", ".236"]);
    assert_eq!(bench.session.place(bench.now).unwrap().0, left, "{}", bench.said_tail());
}
