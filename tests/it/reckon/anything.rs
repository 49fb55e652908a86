//! Whatever is typed: every reckoning answers or says what is wrong, and never stops dead.

use asfound::domain::reckon::{Answer, Answers, FORMULAS, Key, Shape, Tree};
use proptest::prelude::*;
use proptest::sample::select;

use super::reckoned;

/// What people and programs have typed into a field, the wrong things included.
const TEXTS: &[&str] = &[
    "",
    "0",
    "-0",
    "1",
    "-1",
    "0.02",
    "0,02",
    "59.931",
    "50 um",
    "3 bar",
    "2 thou",
    "nan",
    "-inf",
    "1e300",
    "1e-300",
    "1e999",
    "1e308",
    "99999999999999999999",
    "abc",
    "null",
    "true",
    "false",
    "2031-04-17",
    "2031-02-30",
    "50 H7",
    "50 f7",
    "largest",
    "smallest",
    "fails",
    "passes",
    "guarded",
    "standard",
    "overhung",
    "inboard",
    "upper",
    "mm",
    "N m",
    "degF",
    "120 N m",
    "45",
    "90",
    "180",
    "360",
    "0.05",
    "2.5",
    "8",
    "\u{2212}3",
    "0x10",
    "1_000",
    "=",
    "[",
    "\u{0}",
    "µ",
];

fn text() -> BoxedStrategy<Tree> {
    prop_oneof![4 => select(TEXTS).prop_map(Tree::text), 1 => ".{0,12}".prop_map(Tree::text)].boxed()
}

/// A tree that mostly has the shape, for only such trees get past the reading.
fn like(shape: &'static Shape) -> BoxedStrategy<Tree> {
    let right = match shape {
        Shape::List(item) => prop::collection::vec(like(item), 0..5).prop_map(Tree::List).boxed(),
        Shape::Map(keys) => map(keys),
        Shape::Word(words) => select(*words).prop_map(Tree::text).boxed(),
        Shape::Whole(low, high) => {
            (*low..=(*high).min(low + 20)).prop_map(|count| Tree::text(count.to_string())).boxed()
        }
        Shape::Date => Just(Tree::text("2031-04-17")).boxed(),
        Shape::Figure(..) | Shape::AnyFigure(_) | Shape::Text | Shape::Flag | Shape::Dof => {
            select(&["0", "1", "2", "0.02", "59.931", "-3", "0.5", "120", "1e300", "1e-300"][..])
                .prop_map(Tree::text)
                .boxed()
        }
    };
    prop_oneof![30 => right, 1 => text(), 1 => Just(Tree::List(vec![])), 1 => Just(Tree::Map(vec![]))].boxed()
}

fn map(keys: &'static [Key]) -> BoxedStrategy<Tree> {
    let entries: Vec<_> = keys
        .iter()
        .map(|key| prop::option::weighted(0.85, like(&key.shape).prop_map(|tree| (key.name.to_owned(), tree))))
        .collect();
    entries.prop_map(|entries| Tree::Map(entries.into_iter().flatten().collect())).boxed()
}

/// Nothing is null without a reason beside it, and every number can be printed.
fn assert_sound(answers: &Answers) {
    for (key, answer) in answers.entries() {
        match answer {
            Answer::Nothing => {
                let why = answers.at(&format!("{key}_why"));
                assert!(matches!(why, Some(Answer::Text(why)) if !why.is_empty()), "{key} is nothing, and why?");
            }
            Answer::Number(number) => assert!(number.is_finite(), "{key}"),
            Answer::Map(map) => assert_sound(map),
            Answer::List(items) => {
                for item in items {
                    assert!(*item != Answer::Nothing, "{key} holds nothing without a reason");
                    if let Answer::Map(map) = item {
                        assert_sound(map);
                    }
                }
            }
            Answer::Flag(_) | Answer::Whole(_) | Answer::Text(_) => {}
        }
    }
}

#[test]
fn worked_examples_are_sound() {
    for formula in FORMULAS {
        assert_sound(&reckoned(
            &formula.id(),
            &formula.example.iter().map(|word| (*word).to_owned()).collect::<Vec<_>>(),
        ));
    }
}

proptest! {
    #[test]
    fn any_tree_is_answered_or_refused_with_reasons(
        trees in FORMULAS.iter().map(|formula| map(formula.keys)).collect::<Vec<_>>(),
    ) {
        for (formula, tree) in FORMULAS.iter().zip(&trees) {
            match formula.run(tree) {
                Ok(outcome) => {
                    assert_sound(&outcome.answers);
                    let lines = outcome.working.text_lines();
                    prop_assert!(lines.iter().all(|line| line.chars().count() <= 76), "{}: {lines:#?}", formula.name);
                    prop_assert!(!outcome.working.result.is_empty(), "{}", formula.name);
                }
                Err(problems) => {
                    prop_assert!(!problems.is_empty(), "{} refuses without a reason", formula.name);
                    for problem in problems {
                        prop_assert!(!problem.found.is_empty() && !problem.expected.is_empty(), "{problem:?}");
                    }
                }
            }
        }
    }
}
