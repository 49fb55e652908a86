//! Questions of several lines: a function reads the answers so far and stops at the first that is missing or will not do.
//!
//! Nothing is remembered between lines but the answers themselves, so a dialogue reads from top to bottom, and an answer
//! that will not do is dropped and asked for again.

use chrono::NaiveDate;

use crate::domain::figure::Figure;
use crate::domain::id::Id;
use crate::domain::stamp;
use crate::domain::typed;
use crate::domain::unit::Unit;

/// A question: the lines before it, and the line that asks.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Question {
    /// Numbered choices, or what must be known to answer.
    pub(super) before: Vec<String>,
    /// The line that asks.
    pub(super) text: String,
}

/// Why a dialogue stops before its end.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Stop {
    /// The next answer is missing.
    Ask(Question),
    /// The last answer will not do.
    Wrong(String),
}

/// What a dialogue comes to.
pub(super) type Reply<T> = Result<T, Stop>;

/// The answers so far, read one by one.
pub(super) struct Answers<'a> {
    lines: std::slice::Iter<'a, String>,
}

/// Words that leave an answer for later or say that there is none.
const NONE: [&str; 4] = ["", "-", "none", "later"];

impl<'a> Answers<'a> {
    pub(super) fn new(lines: &'a [String]) -> Self {
        Self { lines: lines.iter() }
    }

    /// The next answer as it stands; `text` asks for it.
    fn next(&mut self, before: Vec<String>, text: &str) -> Reply<&'a str> {
        match self.lines.next() {
            Some(line) => Ok(line.trim()),
            None => Err(Stop::Ask(Question { before, text: text.to_owned() })),
        }
    }

    /// One of `choices`, by its number or by the beginning of its words; the list is printed before the question.
    pub(super) fn choose(&mut self, text: &str, choices: &[String]) -> Reply<usize> {
        let typed = self.next(numbered(choices), &format!("{text} (1 to {})?", choices.len()))?;
        chosen(typed, choices).ok_or_else(|| Stop::Wrong(none_of(typed, choices.len())))
    }

    /// One of `choices`, or a sentence of one's own.
    pub(super) fn choose_or_say(&mut self, text: &str, choices: &[&str]) -> Reply<String> {
        let choices: Vec<String> = choices.iter().map(|choice| (*choice).to_owned()).collect();
        let asked = format!("{text} (1 to {}, or in words)?", choices.len());
        let typed = self.next(numbered(&choices), &asked)?;
        if let Some(choice) = chosen(typed, &choices).and_then(|index| choices.get(index)) {
            return Ok(choice.clone());
        }
        if typed.is_empty() || typed.bytes().all(|byte| byte.is_ascii_digit()) {
            return Err(Stop::Wrong(none_of(typed, choices.len())));
        }
        Ok(typed.to_owned())
    }

    /// One of a few words and nothing else: no number, no beginning, no figure.
    pub(super) fn word(&mut self, text: &str, words: &[&str]) -> Reply<usize> {
        let list = words.join(", ");
        let typed = self.next(Vec::new(), &format!("{text} ({list})?"))?;
        let found = words.iter().position(|word| word.eq_ignore_ascii_case(typed));
        found.ok_or_else(|| Stop::Wrong(format!("`{typed}` is none of: {list}. Nothing was taken.")))
    }

    /// A sentence.
    pub(super) fn sentence(&mut self, text: &str) -> Reply<String> {
        let typed = self.next(Vec::new(), &format!("{text}?"))?;
        if typed.is_empty() { Err(Stop::Wrong("This needs words.".to_owned())) } else { Ok(typed.to_owned()) }
    }

    /// A sentence that may be left out.
    pub(super) fn maybe(&mut self, text: &str) -> Reply<Option<String>> {
        let typed = self.next(Vec::new(), &format!("{text}, empty for none?"))?;
        Ok(left_out(typed).map(str::to_owned))
    }

    /// Anything that `read` takes; an empty line leaves it out.
    pub(super) fn maybe_with<T>(
        &mut self,
        text: &str,
        read: impl FnOnce(&str) -> Result<T, String>,
    ) -> Reply<Option<T>> {
        let typed = self.next(Vec::new(), &format!("{text}?"))?;
        left_out(typed).map(read).transpose().map_err(Stop::Wrong)
    }

    /// Anything that `read` takes.
    pub(super) fn with<T>(&mut self, text: &str, read: impl FnOnce(&str) -> Result<T, String>) -> Reply<T> {
        let typed = self.next(Vec::new(), &format!("{text}?"))?;
        read(typed).map_err(Stop::Wrong)
    }

    /// The line of a step's own question, with what must be known before it.
    pub(super) fn line(&mut self, before: Vec<String>, text: &str) -> Reply<&'a str> {
        self.next(before, text)
    }
}

fn left_out(typed: &str) -> Option<&str> {
    if NONE.iter().any(|word| word.eq_ignore_ascii_case(typed)) { None } else { Some(typed) }
}

pub(super) fn numbered(choices: &[String]) -> Vec<String> {
    (1_usize..).zip(choices).map(|(number, choice)| format!("{number} {choice}")).collect()
}

/// The choice meant by a number, by its words, or by their beginning when no other begins so.
pub(super) fn chosen(typed: &str, choices: &[String]) -> Option<usize> {
    if typed.is_empty() {
        return None;
    }
    if let Ok(number) = typed.parse::<usize>() {
        return number.checked_sub(1).filter(|index| *index < choices.len());
    }
    let typed = typed.to_lowercase();
    let exact = choices.iter().position(|choice| choice.to_lowercase() == typed);
    let mut like = choices.iter().enumerate().filter(|(_, choice)| choice.to_lowercase().starts_with(&typed));
    let only = like.next().filter(|_| like.next().is_none()).map(|(index, _)| index);
    exact.or(only)
}

fn none_of(typed: &str, count: usize) -> String {
    match typed {
        "" => format!("Type a number from 1 to {count}, or the words."),
        _ => format!("`{typed}` is none of these. Type a number from 1 to {count}, or the words."),
    }
}

/// A figure in `unit` or a like one.
pub(super) fn figure(unit: Unit) -> impl Fn(&str) -> Result<Figure, String> {
    move |text| {
        let typed = typed::parse(text, unit).map_err(|refusal| super::told::refusal(&refusal))?;
        if typed.figure.dimension() == unit.dimension() {
            return Ok(typed.figure);
        }
        let (is, wanted) = (typed.figure.dimension().word(), unit.dimension().word());
        Err(format!("{} is a {is}, a {wanted} is wanted.", typed.figure))
    }
}

/// A day.
pub(super) fn day(text: &str) -> Result<NaiveDate, String> {
    stamp::day(text).map_err(|refusal| super::told::refusal(&refusal))
}

/// An id.
pub(super) fn id(text: &str) -> Result<Id, String> {
    text.parse::<Id>().map_err(|refusal| super::told::refusal(&refusal))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn lines(answers: &[&str]) -> Vec<String> {
        answers.iter().map(|answer| (*answer).to_owned()).collect()
    }

    #[test]
    fn a_dialogue_stops_at_the_first_missing_answer() {
        let dialogue = |given: &[&str]| {
            let given = lines(given);
            let mut answers = Answers::new(&given);
            let choice = answers.choose("which", &lines(&["wrong place", "wrong gauge", "slipped"]))?;
            Ok((choice, answers.sentence("why")?))
        };
        let asked = |stop: Reply<(usize, String)>| match stop {
            Err(Stop::Ask(question)) => question.text,
            Err(Stop::Wrong(words)) => words,
            Ok(done) => format!("{done:?}"),
        };
        assert_eq!(asked(dialogue(&[])), "which (1 to 3)?");
        assert_eq!(asked(dialogue(&["sl"])), "why?");
        assert_eq!(asked(dialogue(&["wrong"])), "`wrong` is none of these. Type a number from 1 to 3, or the words.");
        assert_eq!(asked(dialogue(&["3", "my hand"])), "(2, \"my hand\")");
    }

    #[test]
    fn a_doubt_takes_its_words_alone() {
        for typed in ["0.234", "1", "ag", ""] {
            let given = lines(&[typed]);
            let refused = Answers::new(&given).word("which", &["again", "insist"]);
            assert_eq!(refused, Err(Stop::Wrong(format!("`{typed}` is none of: again, insist. Nothing was taken."))));
        }
    }
}
