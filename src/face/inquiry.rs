//! Dialogues: a function reads the answers so far and stops at the first that is missing or will not do.
//!
//! Nothing is remembered between answers but the answers themselves, so a dialogue reads from top to bottom, and an
//! answer that will not do is dropped and asked for again. The line mode prints its questions, the screen draws them.

mod choices;
mod question;
mod readers;
#[cfg(test)]
mod tests;

use crate::domain::entitled::worded;
use crate::domain::inspection::Doubted;

use choices::{is_digits, list, none_of, not_among, numbers_of};
use readers::says_why;

pub use choices::{chosen, numbered};
pub use question::{Choice, Question, Takes};
pub use readers::{day, figure, id, named, refused};

/// Why a dialogue stops before its end.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Stop {
    /// The next answer is missing.
    Ask(Box<Question>),
    /// The last answer will not do.
    Wrong(String),
    /// A doubt was answered by another try: the answer it was about is asked again too.
    Again(String),
}

impl Stop {
    /// Drops the answers that will not do; hands back why, where there were any.
    pub fn drop_from(self, answers: &mut Vec<String>) -> Option<String> {
        let (words, dropped) = match self {
            Self::Ask(_) => return None,
            Self::Wrong(words) => (words, 1),
            Self::Again(words) => (words, 2),
        };
        let left = answers.len().checked_sub(dropped)?;
        answers.truncate(left);
        Some(words)
    }
}

/// What a dialogue comes to.
pub type Reply<T> = Result<T, Stop>;

/// The answers so far, read one by one.
pub struct Answers<'a> {
    lines: std::slice::Iter<'a, String>,
}

/// Enter on an empty field where an answer is wanted.
const NOTHING: &str = "Nothing is typed yet.";

/// Words that leave an answer for later or say that there is none.
const NONE: [&str; 4] = ["", "-", "none", "later"];

impl<'a> Answers<'a> {
    /// Before the first is read.
    pub fn new(lines: &'a [String]) -> Self {
        Self { lines: lines.iter() }
    }

    /// The first answer that nothing has asked for.
    pub fn unread(&self) -> Option<&'a str> {
        self.lines.as_slice().first().map(String::as_str)
    }

    /// The next answer as it stands, or the question that asks for it.
    fn next(&mut self, question: impl FnOnce() -> Question) -> Reply<&'a str> {
        self.lines.next().map(|line| line.trim()).ok_or_else(|| Stop::Ask(Box::new(question())))
    }

    /// One of `choices`, by its number or by its words.
    ///
    /// # Errors
    /// The question, or why the answer will not do.
    pub fn choose(&mut self, text: &str, choices: &[String]) -> Reply<usize> {
        let choices: Vec<_> = choices.iter().map(|words| ("", words.clone())).collect();
        self.choose_known(text, &choices, None)
    }

    /// One of `choices`, each with its id, by its number, its words or its id; an empty answer takes the one offered.
    ///
    /// # Errors
    /// The question, or why the answer will not do.
    pub fn choose_known(&mut self, text: &str, choices: &[(&str, String)], offered: Option<usize>) -> Reply<usize> {
        let numbered = (1_usize..).zip(choices).map(|(number, (id, words))| (number, *id, words.clone()));
        self.choose_some(text, &numbered.collect::<Vec<_>>(), offered)
    }

    /// The same of some out of a longer list, each with its number there; hands back its place among these.
    ///
    /// # Errors
    /// The question, or why the answer will not do.
    pub fn choose_some(
        &mut self,
        text: &str,
        choices: &[(usize, &str, String)],
        offered: Option<usize>,
    ) -> Reply<usize> {
        let words: Vec<_> = choices.iter().map(|(.., words)| words.clone()).collect();
        let mut question = list(text, &words, Takes::Choice);
        for (choice, (number, id, _)) in question.choices.iter_mut().zip(choices) {
            choice.key = number.to_string();
            (*id).clone_into(&mut choice.id);
        }
        let numbers = numbers_of(choices.iter().map(|(number, ..)| *number));
        question.short = if choices.is_empty() { String::new() } else { format!(" ({numbers})") };
        question.offer(offered.and_then(|at| words.get(at)));
        let typed = self.next(|| question.clone())?;
        let chosen = if typed.is_empty() { offered } else { question.chosen(typed) };
        chosen.ok_or_else(|| Stop::Wrong(none_of(typed, &numbers)))
    }

    /// One of `choices`, with what must be known before.
    ///
    /// # Errors
    /// The question, or why the answer will not do.
    pub fn choose_after(&mut self, before: Vec<String>, text: &str, choices: &[String]) -> Reply<usize> {
        let question = Question { before, ..list(text, choices, Takes::Choice) };
        let typed = self.next(|| question.clone())?;
        question.chosen(typed).ok_or_else(|| Stop::Wrong(none_of(typed, &numbers_of(1..=choices.len()))))
    }

    /// One of `choices` by its own number, which it keeps where others are not on offer, or by its words; hands back the
    /// number.
    ///
    /// # Errors
    /// The question, or why the answer will not do.
    pub fn choose_numbered(&mut self, text: &str, choices: &[(usize, String)]) -> Reply<usize> {
        let keys: Vec<_> = choices.iter().map(|(number, _)| number.to_string()).collect();
        let keyed = keys.iter().zip(choices);
        let question = Question {
            choices: keyed
                .map(|(key, (_, words))| Choice {
                    key: key.clone(),
                    words: words.clone(),
                    // the same words are about another place, another point
                    id: format!("{text}: {words}"),
                })
                .collect(),
            short: format!(" ({})", keys.join(", ")),
            ..Question::new(text, Takes::Choice)
        };
        let typed = self.next(|| question.clone())?;
        let chosen = question.chosen(typed).and_then(|at| choices.get(at)).map(|(number, _)| *number);
        chosen.ok_or_else(|| Stop::Wrong(not_among(typed, &keys.join(", "))))
    }

    /// One of `choices`, or a sentence of one's own.
    ///
    /// # Errors
    /// The question, or why the answer will not do.
    pub fn choose_or_say(&mut self, text: &str, choices: &[String]) -> Reply<String> {
        let question = list(text, choices, Takes::ChoiceOrWords);
        let typed = self.next(|| question.clone())?;
        if let Some(choice) = question.chosen(typed).and_then(|index| choices.get(index)) {
            return Ok(choice.clone());
        }
        if typed.is_empty() || (!choices.is_empty() && is_digits(typed)) {
            return Err(Stop::Wrong(none_of(typed, &numbers_of(1..=choices.len()))));
        }
        says_why(typed)
    }

    /// One of `choices`, or a sentence of one's own, or nothing, which stands for `empty`.
    ///
    /// # Errors
    /// The question, or why the answer will not do.
    pub fn maybe_choose_or_say(&mut self, text: &str, empty: &str, choices: &[String]) -> Reply<Option<String>> {
        let mut question = list(text, choices, Takes::MayBeEmpty);
        question.offer(Some(&empty.to_owned()));
        if choices.is_empty() {
            question.short.clear();
        }
        let typed = self.next(|| question.clone())?;
        let choice = question.chosen(typed).and_then(|index| choices.get(index)).cloned();
        Ok(choice.or_else(|| left_out(typed).map(str::to_owned)))
    }

    /// One of these by its key or its words, or another key; hands back the key, or what was typed.
    ///
    /// # Errors
    /// The question, or why the answer will not do.
    pub fn keyed(&mut self, text: &str, keys: &[(String, String)]) -> Reply<String> {
        let choice =
            |(key, words): &(String, String)| Choice { key: key.clone(), words: words.clone(), id: key.clone() };
        let question =
            Question { choices: keys.iter().map(choice).collect(), ..Question::new(text, Takes::ChoiceOrWords) };
        let typed = self.next(|| question)?;
        let offers = if keys.is_empty() { "" } else { " A number takes what is offered." };
        if typed.is_empty() { Err(Stop::Wrong(format!("{NOTHING}{offers}"))) } else { Ok(typed.to_owned()) }
    }

    /// One of these entries, by its number; an empty answer takes the one offered.
    ///
    /// # Errors
    /// The question, or why the answer will not do.
    pub fn entry(&mut self, text: &str, entries: &[(u32, String)], offered: u32) -> Reply<u32> {
        let choice = |(number, words): &(u32, String)| Choice {
            key: number.to_string(),
            words: words.clone(),
            // none has the number 0: it stands for what its words say
            id: if *number == 0 { String::new() } else { number.to_string() },
        };
        let question = Question {
            choices: entries.iter().map(choice).collect(),
            offered: Some(offered.to_string()),
            ..Question::new(&format!("{text}, empty for {offered}"), Takes::ChoiceOrWords)
        };
        let typed = self.next(|| question)?;
        let number = if typed.is_empty() { Some(offered) } else { typed.parse().ok() };
        number.ok_or_else(|| Stop::Wrong(format!("`{typed}` is no entry's number.")))
    }

    /// One of a few words and nothing else: no number, no beginning, no figure.
    ///
    /// # Errors
    /// The question, or why the answer will not do.
    pub fn word(&mut self, text: &str, words: &[&str]) -> Reply<usize> {
        self.word_after(Vec::new(), text, words)
    }

    /// The same, with what must be known before.
    ///
    /// # Errors
    /// The question, or why the answer will not do.
    pub fn word_after(&mut self, before: Vec<String>, text: &str, words: &[&str]) -> Reply<usize> {
        let list = words.join(", ");
        let choice = |word: &&str| Choice { key: String::new(), words: (*word).to_owned(), id: String::new() };
        let typed = self.next(|| Question {
            before,
            choices: words.iter().map(choice).collect(),
            short: format!(" ({list})"),
            ..Question::new(text, Takes::Choice)
        })?;
        let found = words.iter().position(|word| word.eq_ignore_ascii_case(typed));
        found.ok_or_else(|| Stop::Wrong(not_among(typed, &list)))
    }

    /// Asks about the answer before, where something is odd about it; another try asks for it again. Says whether it was
    /// asked and insisted on.
    ///
    /// # Errors
    /// The question, or that the answer is typed again.
    pub fn sure_of(&mut self, odd: Option<String>) -> Reply<Doubted> {
        let Some(odd) = odd else { return Ok(Doubted::No) };
        match self.word(&odd, &["again", "insist"])? {
            0 => Err(Stop::Again("Type it again.".to_owned())),
            _ => Ok(Doubted::Yes),
        }
    }

    /// A sentence.
    ///
    /// # Errors
    /// The question, or why the answer will not do.
    pub fn sentence(&mut self, text: &str) -> Reply<String> {
        let typed = self.next(|| Question::new(text, Takes::Words))?;
        if typed.is_empty() { Err(Stop::Wrong(NOTHING.to_owned())) } else { Ok(typed.to_owned()) }
    }

    /// A sentence of words: a point, a number or a single letter says nothing.
    ///
    /// # Errors
    /// The question, or why the answer will not do.
    pub fn words(&mut self, text: &str) -> Reply<String> {
        let typed = self.sentence(text)?;
        worded(&typed).map(|()| typed).map_err(|refusal| Stop::Wrong(refused(&refusal)))
    }

    /// A sentence that says why: no letter or number alone, nor a word that was meant for another question.
    ///
    /// # Errors
    /// The question, or why the answer will not do.
    pub fn reason(&mut self, text: &str) -> Reply<String> {
        self.sentence(text).and_then(|typed| says_why(&typed))
    }

    /// A sentence; an empty answer takes the one offered, where one is.
    ///
    /// # Errors
    /// The question, or why the answer will not do.
    pub fn sentence_from(&mut self, text: &str, offered: Option<&String>) -> Reply<String> {
        let Some(offered) = offered else { return self.sentence(text) };
        let mut question = Question::new(text, Takes::Words);
        question.offer(Some(offered));
        let typed = self.next(|| question)?;
        Ok(if typed.is_empty() { offered.clone() } else { typed.to_owned() })
    }

    /// A sentence that may be left out.
    ///
    /// # Errors
    /// The question.
    pub fn maybe(&mut self, text: &str) -> Reply<Option<String>> {
        self.maybe_with(&format!("{text}, empty for none"), |text| Ok(text.to_owned()))
    }

    /// Anything that `read` takes; an empty line leaves it out.
    ///
    /// # Errors
    /// The question, or why the answer will not do.
    pub fn maybe_with<T>(&mut self, text: &str, read: impl FnOnce(&str) -> Result<T, String>) -> Reply<Option<T>> {
        let typed = self.next(|| Question::new(text, Takes::MayBeEmpty))?;
        left_out(typed).map(read).transpose().map_err(Stop::Wrong)
    }

    /// Anything that `read` takes.
    ///
    /// # Errors
    /// The question, or why the answer will not do.
    pub fn with<T>(&mut self, text: &str, read: impl FnOnce(&str) -> Result<T, String>) -> Reply<T> {
        let typed = self.next(|| Question::new(text, Takes::Words))?;
        read(typed).map_err(Stop::Wrong)
    }

    /// The line of a step's own question, with what must be known before it.
    ///
    /// # Errors
    /// The question.
    pub fn line(&mut self, before: Vec<String>, text: &str) -> Reply<&'a str> {
        self.next(|| Question { before, ..Question::new(text, Takes::Words) })
    }
}

fn left_out(typed: &str) -> Option<&str> {
    if NONE.iter().any(|word| word.eq_ignore_ascii_case(typed)) { None } else { Some(typed) }
}
