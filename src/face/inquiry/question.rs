//! A question with what is on offer, and an answer to it as it is kept.

use super::choices::{by_words, is_whole};

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

impl Choice {
    /// What it is, wherever it stands in the list.
    fn name(&self) -> &str {
        if self.id.is_empty() { &self.words } else { &self.id }
    }

    /// Whether its key means it in any list, as the number of an entry does, and not its place in this one.
    fn has_own_key(&self) -> bool {
        !self.key.is_empty() && self.key == self.id
    }

    /// What is typed for it.
    fn typed(&self) -> &str {
        if self.key.is_empty() { &self.words } else { &self.key }
    }
}

/// Before what was chosen from a list, where an answer is kept.
const CHOSEN: &str = "= ";

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
    pub(super) short: String,
    /// What an empty answer stands for.
    pub offered: Option<String>,
    /// What it takes.
    pub takes: Takes,
}

impl Question {
    pub(super) fn new(text: &str, takes: Takes) -> Self {
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
    pub(super) fn offer(&mut self, offered: Option<&String>) {
        if let Some(words) = offered {
            self.text = format!("{}, empty for {words}", self.text);
            self.offered = Some(words.clone());
        }
    }

    /// A line as a list takes it: the key of the choice that its words name.
    pub fn meant(&self, line: &str) -> String {
        let choice = self.chosen(line).filter(|_| !line.trim().is_empty()).and_then(|at| self.choices.get(at));
        choice.map_or_else(|| line.to_owned(), |choice| choice.typed().to_owned())
    }

    /// A given answer as it is kept: what was chosen by its id or its words, for its place in the list may be another's when
    /// the answer is read again.
    pub fn kept(&self, given: &str) -> String {
        let is_meant = |choice: &&Choice| choice.typed() == given;
        let meant = self.choices.iter().find(is_meant).or_else(|| self.offers_choice().filter(|_| given.is_empty()));
        match meant {
            Some(choice) if choice.has_own_key() => choice.key.clone(),
            Some(choice) => format!("{CHOSEN}{}", choice.name()),
            None => given.to_owned(),
        }
    }

    /// What a kept answer is typed as by now; none where what was chosen is on offer no more, or was kept by its place.
    pub fn given(&self, kept: &str) -> Option<String> {
        if let Some(name) = kept.strip_prefix(CHOSEN) {
            let mut same = self.choices.iter().filter(|choice| choice.name() == name);
            return same.next().filter(|_| same.next().is_none()).map(|choice| choice.typed().to_owned());
        }
        let by_place = self.choices.iter().any(|choice| choice.key == kept && !choice.has_own_key());
        let offered = kept.is_empty() && self.offers_choice().is_some();
        (self.takes != Takes::Choice && !by_place && !offered).then(|| kept.to_owned())
    }

    /// What is typed and not given yet, as it is kept: a number of the list stands for what it means there.
    pub fn half_kept(&self, typed: &str) -> String {
        if typed.parse::<usize>().is_ok() { self.kept(typed) } else { typed.to_owned() }
    }

    /// What a kept answer leaves in the field that was not given yet: as typed, unless it is a place in the list.
    pub fn half_given(&self, kept: &str) -> String {
        let names = kept.starts_with(CHOSEN) || kept.parse::<usize>().is_ok();
        if names { self.given(kept).unwrap_or_default() } else { kept.to_owned() }
    }

    /// The choice that an empty answer stands for.
    fn offers_choice(&self) -> Option<&Choice> {
        let offered = self.offered.as_ref()?;
        self.choices.iter().find(|choice| choice.words == *offered || choice.key == *offered)
    }

    /// The choice that an answer means. Where other words are an answer too, a beginning or a piece of a choice is words: the
    /// title of a manual does not say its edition.
    pub fn chosen(&self, typed: &str) -> Option<usize> {
        let typed = typed.trim();
        let by_key = self.choices.iter().position(|choice| !choice.key.is_empty() && choice.key == typed);
        let is_id = |choice: &Choice| !choice.id.is_empty() && choice.id.eq_ignore_ascii_case(typed);
        let by_id = || self.choices.iter().position(is_id);
        let by_words = || by_words(typed, self.choices.iter().map(|choice| choice.words.as_str()));
        by_key
            .or_else(by_id)
            .or_else(|| by_words().filter(|at| self.choices.get(*at).is_some_and(|one| self.means(typed, one))))
    }

    /// Whether words that fit a choice say all of it.
    fn means(&self, typed: &str, choice: &Choice) -> bool {
        match self.takes {
            Takes::Choice | Takes::Words => true,
            Takes::ChoiceOrWords => !choice.id.is_empty() || choice.words.to_lowercase() == typed.to_lowercase(),
            Takes::MayBeEmpty => is_whole(typed, &choice.words),
        }
    }
}

/// As a question; what ends in a remark's own question, whole or cut, asks already.
fn asking(text: &str) -> String {
    if text.ends_with(['?', '…']) { text.to_owned() } else { format!("{text}?") }
}
