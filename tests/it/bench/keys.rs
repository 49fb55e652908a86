//! Keys: the field owns them, a gauge is known by its speed, nothing answers a question that was not seen.

use asfound::face::action::Scope;
use asfound::face::input::Key;
use asfound::face::keymap;
use asfound::face::message::Message;

use super::Bench;

const CLEARANCE: &str = "bush.ts/clearance";

fn with_gauge() -> Bench {
    Bench::at_step(CLEARANCE).keys("esc 2 2").expect("D2 in hand")
}

impl Bench {
    /// Enter held down: once by hand, again half a second later, then thirty times a second; each is on the screen before
    /// the next.
    fn held(mut self, seconds: u64) -> Self {
        for gap in std::iter::once(1000).chain([500]).chain((0..seconds * 30).map(|_| 33)) {
            self.pass(gap);
            let at = self.at;
            self.tell(Message::Key(Key::Enter, at));
        }
        self
    }
}

#[test]
fn a_figure_is_taken_by_enter_and_the_hand_goes_on() {
    with_gauge()
        .typed("0,020")
        .keys("enter")
        .expect("outer 0, first down: 0.020 mm taken")
        .expect("1 saved")
        .typed("0.228")
        .keys("enter")
        .expect("2 saved")
        .expect("outer 0, second down [");
}

#[test]
fn enter_on_an_empty_field_says_what_is_wanted_and_does_nothing_else() {
    let bench = with_gauge();
    let before = bench.entries();
    let bench = bench.keys("enter").expect("Wanted: outer 0, first down, in mm. Type the figure, then Enter.");
    assert_eq!(bench.entries(), before);
}

#[test]
fn without_a_gauge_in_hand_the_figure_stays_and_the_gauge_is_asked_for() {
    Bench::at_step(CLEARANCE)
        .typed("0.020")
        .keys("enter")
        .expect("which dial gauge is in your hand?")
        .keys("2 enter")
        .expect("outer 0, first down: 0.020 mm taken");
}

#[test]
fn a_half_typed_figure_stays_with_its_place() {
    with_gauge().typed("0.0").keys("right").typed("0.2").keys("left").expect("[ 0.0_").keys("right").expect("[ 0.2_");
}

#[test]
fn a_gauge_with_a_cable_types_its_figure_into_the_field() {
    with_gauge().gauge("0.020").expect("outer 0, first down: 0.020 mm taken");
}

#[test]
fn a_gauge_never_chooses_from_a_list_nor_answers_a_question() {
    let bench = with_gauge();
    let before = bench.entries();
    let bench = bench.keys("esc").gauge("4.98").expect("nothing was chosen").expect("what else");
    let bench = bench.keys("esc").typed("0.0205").keys("enter").expect("More digits than the gauge shows");
    let bench = bench.gauge("0.020").expect("More digits than the gauge shows");
    assert_eq!(bench.entries(), before);
}

#[test]
fn keys_typed_ahead_never_answer_a_question() {
    let bench = with_gauge().typed("0.0205");
    let before = bench.entries();
    let bench = bench.ahead("enter down down enter").expect("3 keys typed ahead dropped");
    assert_eq!(bench.entries(), before);
    bench.keys("down down enter").expect("outer 0, first down: 0.0205 mm taken");
}

#[test]
fn a_held_enter_confirms_one_point_and_no_more() {
    let bench = Bench::at_step("safe/permit");
    let before = bench.entries();
    let bench = bench.held(3).expect("Enter held, or pressed again at once: nothing done.");
    assert_eq!(bench.entries(), before + 1, "one press, one point");
    let bench = bench.keys("enter enter");
    assert_eq!(bench.entries(), before + 3, "let go and pressed again, each is one more");
}

#[test]
fn a_held_enter_does_not_pass_what_is_out_of_limit() {
    let mut bench = with_gauge();
    for figure in ["0.020", "0.268", "0.020", "0.270", "0.022"] {
        bench = bench.gauge(figure);
    }
    // the one press takes the figure, the held key says nothing of what it leads to
    bench.typed("0.270").held(3).expect("OUT OF LIMIT").keys("enter").expect_not("OUT OF LIMIT");
}

#[test]
fn what_is_out_of_limit_and_was_not_passed_is_shown_again_after_a_kill() {
    let mut bench = with_gauge();
    for figure in ["0.020", "0.268", "0.020", "0.270", "0.022", "0.270"] {
        bench = bench.gauge(figure);
    }
    let again = bench.expect("OUT OF LIMIT").killed().expect("OUT OF LIMIT: clearance").expect("0.2487 mm at outer 0");
    again.keys("enter").expect_not("OUT OF LIMIT").killed().expect_not("OUT OF LIMIT");
}

/// Mean 0.23, limit 0.22: said at once; struck as a set, nothing is said of what is left of it on the way.
#[test]
fn repeats_too_far_apart_are_out_of_limit_by_their_mean_until_the_set_is_struck() {
    let mut bench = with_gauge();
    for figure in ["0.020", "0.230", "0.020", "0.250", "0.020", "0.270"] {
        bench = bench.gauge(figure);
    }
    let bench = bench.expect("OUT OF LIMIT: clearance").expect("0.23 mm at outer 0").keys("enter").keys("up esc 1");
    let bench = bench.expect("all 6 figures of this set").typed("0").keys("enter").keys("5 enter");
    bench.expect("6 figures struck").expect_not("OUT OF LIMIT");
}

/// Mean 0.216 is not past it, the two that are left when the first is struck would be.
#[test]
fn no_page_is_shown_of_what_is_left_while_a_set_is_struck() {
    let mut bench = with_gauge();
    for figure in ["0.020", "0.224", "0.020", "0.242", "0.020", "0.242"] {
        bench = bench.gauge(figure);
    }
    let bench = bench.expect_not("OUT OF LIMIT").keys("up esc 1").expect("all 6 figures of this set");
    let bench = bench.typed("0").keys("enter").keys("5 enter");
    bench.expect("6 figures struck").expect_not("OUT OF LIMIT");
}

#[test]
fn the_far_view_shows_the_last_figure_after_a_restart_too() {
    let bench = with_gauge().gauge("0.020").gauge("0.228");
    Bench::on(bench.record()).keys("f2").expect("LAST").expect("OUTER 0, FIRST UP");
}

#[test]
fn a_paste_never_becomes_a_figure_by_itself() {
    let bench = with_gauge();
    let before = bench.entries();
    let bench = bench.paste("0.020\r\n0.228\r\n").expect("Pasted into the field, cut to one line");
    assert_eq!(bench.entries(), before);
    bench.keys("enter").expect("0.020 mm taken");
}

/// A terminal that does not mark a paste sends its lines as fast as a gauge, one behind the other.
#[test]
fn a_paste_without_its_marks_enters_no_figure_and_a_gauge_that_ends_its_line_twice_enters_one() {
    let bench = with_gauge();
    let before = bench.entries();
    let bench = bench.burst("0.020\n0.228\n0.020\n").expect("Several lines at once, as a paste sends them");
    assert_eq!(bench.entries(), before);
    let bench = bench.expect("[ 0.020_").keys("enter").expect("0.020 mm taken");
    // a gauge may end its line twice, or by two letters; a line may begin with an empty cell
    let bench = bench.burst("0.228\n\n").expect("0.228 mm taken").burst("0.020\n\r").expect("0.020 mm taken");
    assert_eq!(bench.entries(), before + 3);
    for paste in ["0.228\n\r0.020\n\r", "0.228\n\t0.020\n"] {
        let bench = with_gauge().burst(paste).expect("Several lines at once");
        assert_eq!(bench.entries(), before, "{paste:?}");
    }
}

#[test]
fn the_far_view_is_of_figures_alone() {
    for (step, press) in [("safe/permit", "point"), ("job/decisions", "name"), ("impeller/look", "finding")] {
        let bench = Bench::at_step(step);
        let screen = bench.screen();
        assert!(!screen.contains("F2"), "{press}\n{screen}");
        assert_eq!(bench.keys("f2").screen(), screen, "{press}");
    }
    // and it goes where Enter would do what it does not show
    let bench = with_gauge().keys("f2").gauge("0.020").expect("LAST");
    drop(bench.keys("esc 6").typed("safe/permit").keys("enter").expect_not("LAST").keys("esc esc").expect_not("LAST"));
}

#[test]
fn the_far_view_says_whole_why_something_was_not_taken() {
    for (columns, rows) in [(80, 24), (60, 18), (40, 10)] {
        let bench = with_gauge().gauge("0.020").sized(columns, rows).keys("f2").expect("LAST");
        let bench = bench.typed("abc").expect("abc_").keys("enter").expect("`abc` is not a figure");
        drop(bench.expect("and a unit if it is not the one shown."));
    }
}

#[test]
fn a_flood_of_digits_ends_in_a_full_field() {
    with_gauge()
        .typed(&"1".repeat(60))
        .expect("The field holds 40 characters")
        .keys("enter")
        .expect("More than 18 digits");
}

#[test]
fn control_q_leaves_and_keeps_what_is_half_typed() {
    let bench = with_gauge().typed("0.2").keys("ctrl-q");
    assert_eq!(bench.status, Some(0));
    assert!(bench.kept > 2, "the draft is kept at every key");
}

#[test]
fn the_page_on_keys_is_the_table() {
    let path = format!("{}/docs/keys.md", env!("CARGO_MANIFEST_DIR"));
    let page = keymap::page();
    if std::env::var_os("REWRITE").is_some() {
        std::fs::write(&path, &page).unwrap();
    }
    let kept = std::fs::read_to_string(&path).unwrap_or_default();
    assert!(
        kept == page,
        "docs/keys.md is not what the table says; REWRITE=1 cargo test --test it keys writes it anew"
    );
    let readme = include_str!("../../../README.md");
    let table = keymap::table(Scope::Figure);
    assert!(readme.contains(&table), "the keys in README.md are not those of a step that takes figures:\n{table}");
}
