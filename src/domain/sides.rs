//! The bounds of a level as people type them: `>=0.21`, `at or above 0.21`, `>0.22 <0.13`, `0.13..0.17`.

use super::typed;
use super::unit::Unit;
use super::verdict::Consequence;

/// The words of a bound and their signs, longest sign first.
pub const SIDES: [(&str, &str); 4] = [(">=", "at or above"), ("<=", "at or below"), (">", "above"), ("<", "below")];

/// Their words by the side that they bound.
pub const ABOVE: [&str; 2] = ["above", "at or above"];
/// The same below.
pub const BELOW: [&str; 2] = ["below", "at or below"];

/// Both ends of `0.13..0.17` or `0.13 to 0.17`, as typed.
pub fn ends(typed: &str) -> Option<(&str, &str)> {
    typed.split_once("..").or_else(|| typed.split_once(" to "))
}

/// A typed text cut before each side: the word of the side, if any, and what follows it.
pub fn pieces(typed: &str) -> Vec<(Option<&'static str>, String)> {
    let mut found: Vec<(Option<&'static str>, String)> = Vec::new();
    let mut rest = typed.trim();
    while !rest.is_empty() {
        let words = SIDES.iter().flat_map(|(sign, word)| [(*sign, *word), (*word, *word)]);
        let side = words.into_iter().find(|(begins, _)| rest.starts_with(begins));
        let after = side.map_or(rest, |(begins, _)| rest.get(begins.len()..).unwrap_or("").trim_start());
        let next = SIDES.iter().flat_map(|(sign, word)| [*sign, *word]).filter_map(|begins| after.find(begins)).min();
        let (mine, others) = after.split_at(next.unwrap_or(after.len()));
        // `at or above` is found by its `above` too
        let (mine, others) = match mine.trim_end().strip_suffix("at or") {
            Some(short) => after.split_at(short.len()),
            None => (mine, others),
        };
        let mine = mine.trim().trim_end_matches([',', ';']).trim().to_owned();
        found.push((side.map(|(_, word)| word), mine));
        rest = others.trim_start();
    }
    found
}

/// Whether a text reads as the bounds of a level, or as a word of another of its columns: sides, both ends of a range, a
/// figure with a unit or below one, `guarded`, `replace`. A bare number is a page, and `3.2` a section.
pub fn is_level(typed: &str, bare: Unit) -> bool {
    let figure = |text: &str| typed::parse(text.trim(), bare).is_ok();
    let is_size = |text: &str| {
        let text = text.trim();
        let below_one = text.trim_start_matches('0').starts_with(['.', ',']);
        figure(text) && (below_one || text.contains(char::is_alphabetic))
    };
    let is_word = ["simple", "guarded"].contains(&typed) || Consequence::parse(typed).is_some();
    let pieces = pieces(typed);
    let is_bounds = !pieces.is_empty() && pieces.iter().all(|(side, rest)| side.is_some() && figure(rest));
    is_word || is_bounds || is_size(typed) || ends(typed).is_some_and(|(from, to)| figure(from) && is_size(to))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bounds_are_cut_at_their_sides() {
        let cut = |typed| pieces(typed).into_iter().map(|(word, rest)| (word.unwrap_or("-"), rest)).collect::<Vec<_>>();
        let wanted = |pairs: &[(&'static str, &str)]| {
            pairs.iter().map(|(word, rest)| (*word, (*rest).to_owned())).collect::<Vec<_>>()
        };
        assert_eq!(cut(".22"), wanted(&[("-", ".22")]));
        assert_eq!(cut(">0.220 mm <0.13"), wanted(&[("above", "0.220 mm"), ("below", "0.13")]));
        assert_eq!(cut("at or above 1 mm, at or below 2"), wanted(&[("at or above", "1 mm"), ("at or below", "2")]));
        assert_eq!(cut(">=table"), wanted(&[("at or above", "table")]));
    }
}
