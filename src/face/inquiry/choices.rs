//! Which choice an answer means.

use super::NOTHING;
use super::question::{Choice, Question, Takes};

/// A numbered list.
pub(super) fn list(text: &str, choices: &[String], takes: Takes) -> Question {
    let numbered = (1_usize..).zip(choices);
    let or = if takes == Takes::Choice { "" } else { ", or in words" };
    let upto = numbers_of(1..=choices.len());
    Question {
        choices: numbered
            .map(|(key, words)| Choice { key: key.to_string(), words: words.clone(), id: String::new() })
            .collect(),
        short: if choices.is_empty() { String::new() } else { format!(" ({upto}{or})") },
        ..Question::new(text, takes)
    }
}

/// Choices behind their numbers.
pub fn numbered(choices: &[String]) -> Vec<String> {
    (1_usize..).zip(choices).map(|(number, choice)| format!("{number} {choice}")).collect()
}

/// The choice meant by a number, by its words, or by their beginning when no other begins so.
pub fn chosen(typed: &str, choices: &[String]) -> Option<usize> {
    if let Ok(number) = typed.parse::<usize>() {
        return number.checked_sub(1).filter(|index| *index < choices.len());
    }
    by_words(typed, choices.iter().map(String::as_str))
}

/// By all its words, else by their beginning when no other begins so.
pub(super) fn by_words<'w>(typed: &str, choices: impl Iterator<Item = &'w str>) -> Option<usize> {
    let typed = typed.trim().to_lowercase();
    if typed.is_empty() {
        return None;
    }
    let choices: Vec<_> = choices.map(str::to_lowercase).collect();
    let only = |fits: &dyn Fn(&String) -> bool| {
        let mut like = choices.iter().enumerate().filter(|(_, choice)| fits(choice));
        like.next().filter(|_| like.next().is_none()).map(|(index, _)| index)
    };
    let exact = choices.iter().position(|choice| *choice == typed);
    // `fitter-a, fitter A` is meant by its id and by its name
    let piece = |choice: &String| choice.split([',', ':']).any(|piece| piece.trim() == typed);
    exact.or_else(|| only(&piece)).or_else(|| only(&|choice| choice.starts_with(&typed)))
}

/// A number of the list.
pub(super) fn is_digits(typed: &str) -> bool {
    typed.bytes().all(|byte| byte.is_ascii_digit())
}

/// Whether a choice is meant by its number, all its words, or what stands before its first comma or colon: a beginning, or the title
/// of a manual without its edition, would say more than was said.
pub(super) fn is_whole(typed: &str, choice: &str) -> bool {
    let first = choice.split([',', ':']).next().unwrap_or(choice);
    is_digits(typed) || [first, choice].iter().any(|words| words.trim().to_lowercase() == typed.to_lowercase())
}

pub(super) fn none_of(typed: &str, numbers: &str) -> String {
    let none = if typed.is_empty() { String::new() } else { format!("`{typed}` is none of these. ") };
    let in_a_row = numbers.contains(" to ") && !numbers.contains(',');
    let numbers = if in_a_row { format!("a number from {numbers}") } else { format!("one of {numbers}") };
    format!("{none}Type {numbers}, or the words.")
}

/// `1 to 9`, `2 to 8, 11`: what can be typed.
pub(super) fn numbers_of(numbers: impl IntoIterator<Item = usize>) -> String {
    let mut runs: Vec<(usize, usize)> = Vec::new();
    for number in numbers {
        match runs.last_mut() {
            Some((_, last)) if *last + 1 == number => *last = number,
            Some(_) | None => runs.push((number, number)),
        }
    }
    let said = |(first, last)| if first == last { format!("{first}") } else { format!("{first} to {last}") };
    runs.into_iter().map(said).collect::<Vec<_>>().join(", ")
}

/// What is answered by one of these words alone.
pub(super) fn not_among(typed: &str, list: &str) -> String {
    if typed.is_empty() {
        return format!("{NOTHING} Wanted is one of: {list}.");
    }
    format!("`{typed}` is none of: {list}. Nothing was taken.")
}
