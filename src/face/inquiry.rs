//! Dialogues: a function reads the answers so far and stops at the first that is missing or will not do.
//!
//! Nothing is remembered between answers but the answers themselves, so a dialogue reads from top to bottom, and an
//! answer that will not do is dropped and asked for again. The line mode prints its questions, the screen draws them.

mod choices;
mod readers;
#[cfg(test)]
mod tests;

use crate::domain::entitled::worded;
use crate::domain::inspection::Doubted;

use choices::{by_words, is_digits, is_whole, list, none_of, not_among};
use readers::says_why;

pub use choices::{chosen, numbered};
pub use readers::{day, figure, id, named, refused};

/// One answer on offer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Choice {
    /// What is typed for it: its number in the list, or the number of an entry; empty where only its words count.
    pub key: String,
    /// What it says.
    pub words: String,
    /// What files call it, where the words do not say it; empty where they do.
    pub id: String,
}

/// What a question takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Takes {
    /// One of the choices.
    Choice,
    /// One of the choices, or other words.
    ChoiceOrWords,
    /// Words, a figure, a day.
    Words,
    /// The same, or nothing.
    MayBeEmpty,
}

/// A question.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Question {
    /// What must be known to answer.
    pub before: Vec<String>,
    /// What is on offer.
    pub choices: Vec<Choice>,
    /// What is asked.
    pub text: String,
    /// The choices in short, for a line that asks.
    short: String,
    /// What an empty answer stands for.
    pub offered: Option<String>,
    /// What it takes.
    pub takes: Takes,
}

impl Question {
    fn new(text: &str, takes: Takes) -> Self {
        let (before, choices, short) = (Vec::new(), Vec::new(), String::new());
        Self { before, choices, text: text.to_owned(), short, offered: None, takes }
    }

    /// What is printed before the line that asks.
    pub fn lines(&self) -> Vec<String> {
        let numbered = self.choices.iter().filter(|choice| !choice.key.is_empty());
        let numbered = numbered.map(|choice| format!("{} {}", choice.key, choice.words));
        self.before.iter().cloned().chain(numbered).collect()
    }

    /// The line that asks.
    pub fn line(&self) -> String {
        asking(&format!("{}{}", self.text, self.short))
    }

    /// What is asked, without the choices.
    pub fn asked(&self) -> String {
        asking(&self.text)
    }

    /// An empty answer stands for this.
    fn offer(&mut self, offered: Option<&String>) {
        if let Some(words) = offered {
            self.text = format!("{}, empty for {words}", self.text);
            self.offered = Some(words.clone());
        }
    }

    /// The choice that an answer means.
    pub fn chosen(&self, typed: &str) -> Option<usize> {
        let typed = typed.trim();
        let by_key = self.choices.iter().position(|choice| !choice.key.is_empty() && choice.key == typed);
        let is_id = |choice: &Choice| !choice.id.is_empty() && choice.id.eq_ignore_ascii_case(typed);
        let by_id = || self.choices.iter().position(is_id);
        by_key.or_else(by_id).or_else(|| by_words(typed, self.choices.iter().map(|choice| choice.words.as_str())))
    }
}

/// As a question; what ends in a remark's own question, whole or cut, asks already.
fn asking(text: &str) -> String {
    if text.ends_with(['?', '…']) { text.to_owned() } else { format!("{text}?") }
}

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
        let words: Vec<_> = choices.iter().map(|(_, words)| words.clone()).collect();
        let mut question = list(text, &words, Takes::Choice);
        for (choice, (id, _)) in question.choices.iter_mut().zip(choices) {
            (*id).clone_into(&mut choice.id);
        }
        question.offer(offered.and_then(|at| words.get(at)));
        let typed = self.next(|| question.clone())?;
        let chosen = if typed.is_empty() { offered } else { question.chosen(typed) };
        chosen.ok_or_else(|| Stop::Wrong(none_of(typed, choices.len())))
    }

    /// One of `choices`, with what must be known before.
    ///
    /// # Errors
    /// The question, or why the answer will not do.
    pub fn choose_after(&mut self, before: Vec<String>, text: &str, choices: &[String]) -> Reply<usize> {
        let question = Question { before, ..list(text, choices, Takes::Choice) };
        let typed = self.next(|| question.clone())?;
        question.chosen(typed).ok_or_else(|| Stop::Wrong(none_of(typed, choices.len())))
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
                .map(|(key, (_, words))| Choice { key: key.clone(), words: words.clone(), id: String::new() })
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
        let meant = question.chosen(typed).and_then(|index| choices.get(index));
        if let Some(choice) = meant.filter(|choice| is_digits(typed) || choice.to_lowercase() == typed.to_lowercase()) {
            return Ok(choice.clone());
        }
        if typed.is_empty() || (!choices.is_empty() && is_digits(typed)) {
            return Err(Stop::Wrong(none_of(typed, choices.len())));
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
        let meant = question.chosen(typed).filter(|index| choices.get(*index).is_some_and(|one| is_whole(typed, one)));
        let choice = meant.and_then(|index| choices.get(index)).cloned();
        Ok(choice.or_else(|| left_out(typed).map(str::to_owned)))
    }

    /// One of these by its key or its words, or another key; hands back the key, or what was typed.
    ///
    /// # Errors
    /// The question, or why the answer will not do.
    pub fn keyed(&mut self, text: &str, keys: &[(String, String)]) -> Reply<String> {
        let choice =
            |(key, words): &(String, String)| Choice { key: key.clone(), words: words.clone(), id: String::new() };
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
            id: String::new(),
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
