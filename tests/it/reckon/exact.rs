//! Judgements on the limit, where binary numbers go wrong.

use asfound::domain::exact::Exact;
use asfound::domain::reckon::judge::{Bench, Limit, Side};
use asfound::domain::sheet::Touching;
use proptest::prelude::*;

use super::{at, exact, exact_at, reckoned, rows, tried, word};

fn words(words: &[&str]) -> Vec<String> {
    words.iter().map(|word| (*word).to_owned()).collect()
}

/// `exact.csv`, decimal arithmetic: every trap, 21 of which doubles get wrong.
#[test]
fn exact_csv() {
    let rows = rows("exact");
    assert_eq!(rows.iter().filter(|row| row["binary_wrong"] == "yes").count(), 21);
    for row in rows {
        let side = if row["limit_kind"] == "max" { "largest" } else { "smallest" };
        let touching = if row["touching_fails"] == "yes" { "fails" } else { "passes" };
        let given = [
            format!("a={} {}", row["a"], row["a_unit"]),
            format!("b={} {}", row["b"], row["b_unit"]),
            format!("limit={} {}", row["limit"], row["limit_unit"]),
            format!("side={side}"),
            format!("touching={touching}"),
        ];
        let answers = reckoned("judge", &given);
        let verdict = if row["verdict"] == "fail" { "past" } else { "within" };
        assert_eq!(at(&answers, "verdict"), verdict, "{}", row["id"]);
        assert_eq!(exact_at(&answers, "value"), exact(&row["difference_mm"]), "{}", row["id"]);
        assert_eq!(at(&answers, "unit"), "mm", "{}", row["id"]);
    }
}

/// `worst_place.csv`: a mean of three on the limit, judged as the fraction it is.
#[test]
fn worst_place_csv_judged() {
    for row in rows("worst_place") {
        let touching = if row["touching_fails"] == "yes" { Touching::Fails } else { Touching::Passes };
        let limit = Limit { at: exact(&row["limit_mm"]), side: Side::Largest, touching };
        let verdict = if row["verdict"] == "fail" { Bench::Past } else { Bench::Within };
        assert_eq!(limit.judge(&exact(&row["worst_mm"]), &Exact::zero()), verdict, "{}", row["id"]);
    }
}

/// ISO 14253-1:2017 and JCGM 106:2012 guard bands (from memory), `guard.csv`. Accepted is within; past the limit is past here,
/// where the standard leaves a band undecided on that side too.
#[test]
fn guard_csv() {
    for row in rows("guard") {
        let value = exact(&row["estimate"]);
        let mut worst = Bench::Within;
        let mut beyond = false;
        for (column, side, accept) in
            [("upper_limit", "largest", "accept_to"), ("lower_limit", "smallest", "accept_from")]
        {
            let Some(limit) = word("limit", &row[column]) else { continue };
            let mut given = words(&["touching=passes", "rule=guarded"]);
            given.extend([limit, format!("side={side}"), format!("value={}", row["estimate"])]);
            given.extend([format!("u={}", row["u"]), format!("factor={}", row["factor"])]);
            let answers = reckoned("judge", &given);
            let (limit, guard) = (exact(&row[column]), exact_at(&answers, "guard"));
            let accepted = if side == "largest" { &limit - &guard } else { &limit + &guard };
            assert_eq!(accepted, exact(&row[accept]), "{} {accept}", row["id"]);
            beyond |= if side == "largest" { value > limit } else { value < limit };
            worst = worst.max(match at(&answers, "verdict").as_str() {
                "within" => Bench::Within,
                "undecided" => Bench::Undecided,
                "past" => Bench::Past,
                other => panic!("{other}"),
            });
        }
        let expected = match row["verdict"].as_str() {
            "conforms" => Bench::Within,
            "undecided" if !beyond => Bench::Undecided,
            "undecided" | "fails" => Bench::Past,
            other => panic!("{other}"),
        };
        assert_eq!(worst, expected, "{}", row["id"]);
    }
}

#[test]
fn uncertainty_is_rounded_up_to_two_figures_before_the_guard() {
    let given = words(&["value=0.1", "limit=0.2", "side=largest", "touching=fails", "rule=guarded", "u=0.014433756"]);
    assert_eq!(at(&reckoned("judge", &given), "guard"), "0.02475");
}

#[test]
fn figures_that_do_not_go_together_are_all_named() {
    let given = words(&["a=3 bar", "b=1", "limit=0.2 mT", "side=largest", "touching=fails", "u=1 K", "rule=simple"]);
    let keys: Vec<_> = tried("judge", &given).unwrap_err().into_iter().map(|problem| problem.key).collect();
    assert_eq!(keys, ["a", "b", "u"]);
    let plain = words(&["a=59.931", "b=59.909", "limit=22 um", "side=largest", "touching=fails"]);
    assert_eq!(at(&reckoned("judge", &plain), "verdict"), "past", "plain figures beside lengths are mm");
    let zero = words(&["a=0.3 mT", "b=0", "limit=3 G", "side=largest", "touching=passes"]);
    assert_eq!(at(&reckoned("judge", &zero), "verdict"), "within", "zero needs no unit");
    for (given, key) in [
        (&["limit=1", "side=largest", "touching=fails"][..], "value"),
        (&["a=1", "limit=1", "side=largest", "touching=fails"], "b"),
        (&["b=1", "limit=1", "side=largest", "touching=fails"], "a"),
        (&["value=1", "a=1", "b=1", "limit=1", "side=largest", "touching=fails"], "value"),
        (&["value=1", "limit=1", "side=largest", "touching=fails", "rule=guarded"], "u"),
        (&["value=1", "limit=1", "side=biggest", "touching=fails"], "side"),
    ] {
        let problems = tried("judge", &words(given)).unwrap_err();
        assert_eq!(problems.iter().map(|problem| problem.key.as_str()).collect::<Vec<_>>(), [key], "{given:?}");
    }
}

#[test]
fn a_difference_of_temperatures_is_no_temperature() {
    let given = ["a=212 degF", "b=32 degF", "limit=100 K", "side=largest", "touching=fails", "u=0.5 K", "rule=simple"];
    let answers = reckoned("judge", &words(&given));
    assert_eq!((at(&answers, "value").as_str(), at(&answers, "verdict").as_str()), ("100", "past"));
}

fn decimal() -> impl Strategy<Value = Exact> {
    (-1_000_000_i128..1_000_000, 0_u32..6)
        .prop_map(|(digits, places)| Exact::fraction(digits, 10_i128.pow(places)).unwrap())
}

fn limit() -> impl Strategy<Value = Limit> {
    let side = prop_oneof![Just(Side::Largest), Just(Side::Smallest)];
    let touching = prop_oneof![Just(Touching::Fails), Just(Touching::Passes)];
    (decimal(), side, touching).prop_map(|(at, side, touching)| Limit { at, side, touching })
}

proptest! {
    #[test]
    fn more_uncertainty_is_never_greener(limit in limit(), value in decimal(), guard in decimal(), more in decimal()) {
        let (guard, more) = (guard.abs(), more.abs());
        prop_assert!(limit.judge(&value, &(&guard + &more)) >= limit.judge(&value, &guard));
    }

    #[test]
    fn wear_that_grows_is_never_greener(limit in limit(), value in decimal(), guard in decimal(), wear in decimal()) {
        let (guard, wear) = (guard.abs(), wear.abs());
        let worn = match limit.side {
            Side::Largest => &value + &wear,
            Side::Smallest => &value - &wear,
        };
        prop_assert!(limit.judge(&worn, &guard) >= limit.judge(&value, &guard));
    }

    #[test]
    fn past_is_past_whatever_the_uncertainty(limit in limit(), value in decimal(), guard in decimal()) {
        let simple = limit.judge(&value, &Exact::zero());
        let guarded = limit.judge(&value, &guard.abs());
        prop_assert_eq!(simple == Bench::Past, guarded == Bench::Past);
        prop_assert!(simple != Bench::Undecided);
    }

    #[test]
    fn touching_fails_is_never_greener(limit in limit(), value in decimal(), guard in decimal()) {
        let passes = Limit { touching: Touching::Passes, ..limit.clone() };
        let fails = Limit { touching: Touching::Fails, ..limit };
        prop_assert!(fails.judge(&value, &guard.abs()) >= passes.judge(&value, &guard.abs()));
    }
}
