//! What cannot be although each figure is right by itself: the checks that several reckonings share.

use super::given::Given;
use super::problem::{Problem, Trouble};

/// For reckonings whose figures go together however they come.
pub(super) fn nothing(_: &Given) -> Vec<Problem> {
    Vec::new()
}

/// `key` is given, and counts for nothing because of what `why` says.
pub(super) fn idle(given: &Given, key: &str, why: &str) -> Option<Problem> {
    let problem = || Problem::impossible(given.path_of(key), format!("Given, and {why}."), "Leave it out.");
    given.is_typed(key).then(problem)
}

/// None of these keys is given, and one is needed; named under the first.
pub(super) fn none_of(given: &Given, keys: &[&str], expected: &str) -> Option<Problem> {
    let first = keys.first().filter(|_| !keys.iter().any(|key| given.is_typed(key)))?;
    Some(Problem::new(given.path_of(first), Trouble::Missing, "nothing", expected))
}

/// Limits in one unit that leave nothing between them.
pub(super) fn crossed(given: &Given, lower: &str, upper: &str) -> Option<Problem> {
    let unit = |key: &str| given.with_unit_if(key).map(|(_, unit)| unit);
    if unit(lower) == unit(upper) { not_less(given, lower, upper) } else { None }
}

/// `small` is not less than `large`, both in the unit of their keys.
pub(super) fn not_less(given: &Given, small: &str, large: &str) -> Option<Problem> {
    let (less, more) = (given.figure_if(small)?, given.figure_if(large)?);
    let problem = || {
        let expected = format!("less than `{large}`, {more}");
        Problem::new(given.path_of(small), Trouble::OutOfRange, format!("`{less}`"), expected)
    };
    (less >= more).then(problem)
}

/// Maps of the list `key` that go by one name.
pub(super) fn namesakes(given: &Given, key: &str, name: &str) -> Vec<Problem> {
    let maps = given.maps(key).unwrap_or_default();
    let mut problems = Vec::new();
    for (place, map) in maps.iter().enumerate() {
        let Some(own) = map.text_if(name) else { continue };
        if maps.iter().take(place).any(|before| before.text_if(name) == Some(own)) {
            let found = format!("Another is called `{own}`.");
            problems.push(Problem::impossible(map.path_of(name), found, "Give each its own name."));
        }
    }
    problems
}

/// Lists that hold one figure for each of the first, and do not.
pub(super) fn uneven(given: &Given, first: &str, others: &[&str]) -> Vec<Problem> {
    let Some(wanted) = given.count(first) else { return Vec::new() };
    let odd = others.iter().filter_map(|key| Some((key, given.count(key).filter(|count| *count != wanted)?)));
    odd.map(|(key, count)| {
        let found = format!("Found {count}, of {first} there are {wanted}.");
        Problem::impossible(given.path_of(key), found, "Give one for each.")
    })
    .collect()
}
