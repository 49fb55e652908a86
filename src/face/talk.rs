//! A dialogue on the screen: the answers so far, the question that stands, the field. The questions themselves are the
//! same as in the line mode.

use super::field::{Field, SENTENCE};
use super::form::Go;
use super::inquiry::{Answers, Question, Reply, Stop, Takes};

/// An answer that was given.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Answered {
    /// What was asked.
    pub asked: String,
    /// The answer in full; empty for none.
    pub shown: String,
    /// As it is read again.
    line: String,
    /// The same as it is kept.
    kept: String,
}

/// What came of an answer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Heard<T> {
    /// The next question stands.
    Next,
    /// Not so: what is wrong.
    Wrong(String),
    /// That was the last.
    Done(T),
}

/// A dialogue.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Talk {
    /// What it is for.
    pub title: String,
    /// The answers so far.
    pub answers: Vec<Answered>,
    /// The question that stands.
    pub question: Question,
    /// What is typed.
    pub field: Field,
    /// The choice that Enter takes, once one was marked.
    pub marked: Option<usize>,
    /// Answers gone back over with what they answered, the nearest last.
    ahead: Vec<(String, Field)>,
}

impl Talk {
    /// Puts the first question; what needs no question comes back at once.
    ///
    /// # Errors
    /// What the dialogue came to without a question, or why it cannot be held.
    pub fn open<T>(title: &str, ask: impl FnOnce(&mut Answers<'_>) -> Reply<T>) -> Result<Self, Result<T, String>> {
        match ask(&mut Answers::new(&[])) {
            Err(Stop::Ask(question)) => {
                let mut talk = Self {
                    title: title.to_owned(),
                    answers: Vec::new(),
                    question: *question,
                    field: Field::default(),
                    marked: None,
                    ahead: Vec::new(),
                };
                talk.put();
                Ok(talk)
            }
            Err(Stop::Wrong(words) | Stop::Again(words)) => Err(Err(words)),
            Ok(done) => Err(Ok(done)),
        }
    }

    /// The field is laid out for the question that stands.
    fn put(&mut self) {
        self.marked = None;
        // an answer stands in the field of its own question or nowhere: on another way there may be others
        let mine = self.ahead.iter().rposition(|(asked, _)| *asked == self.question.text);
        self.field = mine.map(|at| self.ahead.split_off(at).swap_remove(0).1).unwrap_or_default();
    }

    /// The field that is typed into.
    pub fn field_mut(&mut self) -> (&mut Field, usize) {
        (&mut self.field, SENTENCE)
    }

    /// The answers so far as they are kept, with what stands in the field behind them.
    pub fn kept(&self) -> Vec<String> {
        let field = self.question.half_kept(self.field.text());
        self.answers.iter().map(|answer| answer.kept.clone()).chain([field]).collect()
    }

    /// Choices that fit what is typed: all of them where none does, or where it names one.
    pub fn offers(&self) -> Vec<usize> {
        let typed = self.field.text().trim().to_lowercase();
        let fitting = if self.number(&typed).is_some() { Vec::new() } else { self.fitting(&typed) };
        if fitting.is_empty() { (0..self.question.choices.len()).collect() } else { fitting }
    }

    /// Choices that hold the words typed.
    fn fitting(&self, typed: &str) -> Vec<usize> {
        if typed.is_empty() {
            return Vec::new();
        }
        let fits = |choice: &super::inquiry::Choice| {
            choice.words.to_lowercase().contains(typed)
                || choice.key.to_lowercase().contains(typed)
                || choice.id == typed
        };
        self.question.choices.iter().enumerate().filter(|(_, choice)| fits(choice)).map(|(at, _)| at).collect()
    }

    /// The choice of a number in the list, or of a key.
    fn number(&self, typed: &str) -> Option<usize> {
        if typed.is_empty() {
            // a choice that only its words name has an empty key
            return None;
        }
        let by_key =
            |typed: &str| self.question.choices.iter().position(|choice| choice.key.eq_ignore_ascii_case(typed));
        // where the keys are words, a number is that of the line
        let by_words = self.question.choices.iter().all(|choice| choice.key.parse::<usize>().is_err());
        let by_line = typed.parse::<usize>().ok().filter(|_| by_words).and_then(|number| number.checked_sub(1));
        by_key(typed).or(by_line).filter(|at| *at < self.question.choices.len())
    }

    /// Marks the next choice; without any, or above the first, goes back to the answer before.
    pub fn go<T>(&mut self, by: Go, ask: impl FnMut(&mut Answers<'_>) -> Reply<T>) {
        let offers = self.offers();
        let at = self.marked.and_then(|marked| offers.iter().position(|offer| *offer == marked));
        let to = match (by, at) {
            (Go::On, None) => 0,
            (Go::On, Some(at)) => (at + 1).min(offers.len().saturating_sub(1)),
            (Go::Back, Some(at)) if at > 0 => at - 1,
            (Go::Back, _) => return self.back(ask),
        };
        self.marked = offers.get(to).copied();
    }

    /// The answer before stands in the field again.
    fn back<T>(&mut self, mut ask: impl FnMut(&mut Answers<'_>) -> Reply<T>) {
        let Some(last) = self.answers.pop() else {
            self.marked = None;
            return;
        };
        let typed = std::mem::take(&mut self.field);
        if !typed.text().is_empty() {
            self.ahead.push((self.question.text.clone(), typed));
        }
        // what was an answer once is offered: typing puts another in its place, and is not hung on it
        self.ahead.push((last.asked, Field::offering(&last.line)));
        let lines: Vec<_> = self.answers.iter().map(|answer| answer.line.clone()).collect();
        if let Err(Stop::Ask(question)) = ask(&mut Answers::new(&lines)) {
            self.question = *question;
        }
        self.put();
    }

    /// Enter: takes what is marked or typed, and puts the next question.
    pub fn enter<T>(&mut self, mut ask: impl FnMut(&mut Answers<'_>) -> Reply<T>) -> Heard<T> {
        let (line, shown) = self.answer();
        let mut lines: Vec<_> = self.answers.iter().map(|answer| answer.line.clone()).collect();
        lines.push(line.clone());
        let taken = Answered { asked: self.question.text.clone(), shown, kept: self.question.kept(&line), line };
        match ask(&mut Answers::new(&lines)) {
            Err(Stop::Ask(question)) => {
                // what was answered before to another question is not carried into this one
                self.answers.push(taken);
                self.question = *question;
                self.put();
                Heard::Next
            }
            Err(Stop::Wrong(words)) => Heard::Wrong(words),
            Err(Stop::Again(words)) => {
                self.field.take();
                self.back(ask);
                // it is to be mended where it is wrong, and goes on to be typed
                self.field = Field::holding(self.field.text());
                Heard::Wrong(words)
            }
            Ok(done) => Heard::Done(done),
        }
    }

    /// What is answered: the line for the dialogue, and the words.
    fn answer(&self) -> (String, String) {
        let typed = self.field.text().trim();
        let fitting = self.fitting(&typed.to_lowercase());
        let only = fitting.first().filter(|_| fitting.len() == 1 && self.question.takes == Takes::Choice);
        let chosen = self.marked.or_else(|| self.number(typed)).or_else(|| self.question.chosen(typed));
        let chosen = chosen.or_else(|| only.copied());
        match chosen.and_then(|at| self.question.choices.get(at)) {
            Some(choice) if choice.key.is_empty() => (choice.words.clone(), choice.words.clone()),
            Some(choice) if choice.key.parse::<usize>().is_ok() => (choice.key.clone(), choice.words.clone()),
            Some(choice) => (choice.key.clone(), format!("{}, {}", choice.key, choice.words)),
            None if typed.is_empty() => (String::new(), self.question.offered.clone().unwrap_or_default()),
            None => (typed.to_owned(), typed.to_owned()),
        }
    }

    /// Gives kept answers again, one after the other, as far as they fit; the last one stands in the field. What is on offer no
    /// more is asked again.
    pub fn replay<T>(&mut self, kept: &[String], mut ask: impl FnMut(&mut Answers<'_>) -> Reply<T>) {
        let Some((last, given)) = kept.split_last() else { return };
        for line in given {
            let Some(line) = self.question.given(line) else { return };
            self.field = Field::holding(&line);
            if !matches!(self.enter(&mut ask), Heard::Next) {
                return;
            }
        }
        self.field = Field::holding(&self.question.half_given(last));
    }
}
