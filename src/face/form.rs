//! Answers, one a line: a text, or one of a few numbered choices. What was answered stays in sight.

use super::field::{Field, SENTENCE};

/// Whether a line must be answered.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Need {
    /// Nothing goes on without it.
    Wanted,
    /// Left empty it means "later", and holds until it is given.
    Later,
    /// May stay empty.
    Free,
}

/// One line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Line {
    /// What is asked.
    pub label: String,
    /// What it should look like, or what hangs on it.
    pub hint: String,
    /// Choices on offer; none where the answer is free text.
    pub choices: Vec<String>,
    /// Whether one of the choices must be taken.
    pub strict: Strict,
    /// Whether it must be answered.
    pub need: Need,
    /// The answer so far.
    pub field: Field,
}

/// Whether only the choices count.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Strict {
    /// Any text may be typed instead.
    No,
    /// One of the choices.
    Yes,
}

impl Line {
    /// A text.
    pub fn text(label: &str, hint: &str, need: Need) -> Self {
        let (label, hint) = (label.to_owned(), hint.to_owned());
        Self { label, hint, choices: Vec::new(), strict: Strict::No, need, field: Field::default() }
    }

    /// One of `choices`.
    pub fn one_of(label: &str, choices: Vec<String>, need: Need) -> Self {
        Self { choices, strict: Strict::Yes, ..Self::text(label, "", need) }
    }

    /// A text, with some on offer.
    pub fn offered(label: &str, hint: &str, choices: Vec<String>, need: Need) -> Self {
        Self { choices, ..Self::text(label, hint, need) }
    }

    /// The choice the answer names: its number, or the beginning of its words when no other begins so.
    pub fn chosen(&self) -> Option<usize> {
        let typed = self.field.text().trim().to_lowercase();
        if typed.is_empty() {
            return None;
        }
        let by_number = typed.parse::<usize>().ok().and_then(|number| number.checked_sub(1));
        if let Some(index) = by_number.filter(|index| *index < self.choices.len()) {
            return Some(index);
        }
        let exact = self.choices.iter().position(|choice| choice.to_lowercase() == typed);
        let mut like = self.choices.iter().enumerate().filter(|(_, choice)| choice.to_lowercase().starts_with(&typed));
        let only = like.next().filter(|_| like.next().is_none()).map(|(index, _)| index);
        exact.or(only)
    }

    /// The answer in full: a number or a beginning stands for its choice.
    pub fn answer(&self) -> Option<String> {
        let typed = self.field.text().trim();
        match self.chosen() {
            Some(index) => self.choices.get(index).cloned(),
            None if typed.is_empty() || self.strict == Strict::Yes => None,
            None => Some(typed.to_owned()),
        }
    }

    /// What stands in the field, as it is kept: a number stands for its choice, for the choices may be others when it is read
    /// again.
    pub fn kept(&self) -> String {
        let typed = self.field.text();
        let chosen = self.chosen().filter(|_| typed.trim().parse::<usize>().is_ok());
        chosen.and_then(|index| self.choices.get(index)).map_or_else(|| typed.to_owned(), Clone::clone)
    }

    /// What keeps the line from being left, if anything.
    fn objection(&self) -> Option<String> {
        match (self.answer(), self.need) {
            (None, _) if !self.field.is_empty() => {
                Some(format!("`{}` is none of these. Type its number.", self.field.text().trim()))
            }
            (None, Need::Wanted) => Some(format!("{} is wanted. Type it, or Esc goes back.", self.label)),
            (Some(_), _) | (None, Need::Later | Need::Free) => None,
        }
    }
}

/// What came of Enter.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Step {
    /// On to the next line.
    Next,
    /// Not so: what is wrong.
    Wrong(String),
    /// That was the last.
    Finished,
}

/// A few answers wanted together.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Form {
    /// What it is for.
    pub title: String,
    /// Its lines.
    pub lines: Vec<Line>,
    /// The line the hand is on.
    pub at: usize,
}

impl Form {
    /// A form with its hand on the first line.
    pub fn new(title: &str, lines: Vec<Line>) -> Self {
        Self { title: title.to_owned(), lines, at: 0 }
    }

    /// The line the hand is on.
    pub fn line(&self) -> Option<&Line> {
        self.lines.get(self.at)
    }

    /// The field that is typed into.
    pub fn field_mut(&mut self) -> Option<(&mut Field, usize)> {
        self.lines.get_mut(self.at).map(|line| (&mut line.field, SENTENCE))
    }

    /// The answer of a line; `None` while it is empty.
    pub fn answer(&self, index: usize) -> Option<String> {
        self.lines.get(index).and_then(Line::answer)
    }

    /// The choice taken in a line.
    pub fn chosen(&self, index: usize) -> Option<usize> {
        self.lines.get(index).and_then(Line::chosen)
    }

    /// One line up or down.
    pub fn go(&mut self, by: Go) {
        self.at = match by {
            Go::Back => self.at.saturating_sub(1),
            Go::On => (self.at + 1).min(self.lines.len().saturating_sub(1)),
        };
    }

    /// Puts the next choice on offer into the field.
    pub fn turn(&mut self, by: Go) {
        let Some(line) = self.lines.get_mut(self.at) else { return };
        let count = line.choices.len();
        if count == 0 {
            return;
        }
        let next = match (line.chosen(), by) {
            (None, Go::On) => 0,
            (None, Go::Back) => count - 1,
            (Some(now), Go::On) => (now + 1) % count,
            (Some(now), Go::Back) => (now + count - 1) % count,
        };
        if let Some(choice) = line.choices.get(next) {
            line.field = Field::offering(choice);
        }
    }

    /// Enter on the present line.
    pub fn enter(&mut self) -> Step {
        let Some(line) = self.lines.get_mut(self.at) else { return Step::Finished };
        if let Some(wrong) = line.objection() {
            return Step::Wrong(wrong);
        }
        if let Some(answer) = line.answer() {
            line.field = if line.choices.is_empty() { Field::holding(&answer) } else { Field::offering(&answer) };
        }
        if self.at + 1 < self.lines.len() {
            self.at += 1;
            return Step::Next;
        }
        // lines passed over with the arrows are asked for before the end
        let open = self.lines.iter().position(|line| line.objection().is_some());
        match open.and_then(|at| self.lines.get(at).and_then(Line::objection).map(|wrong| (at, wrong))) {
            Some((at, wrong)) => {
                self.at = at;
                Step::Wrong(wrong)
            }
            None => Step::Finished,
        }
    }
}

/// Which way.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Go {
    /// Toward the first.
    Back,
    /// Toward the last.
    On,
}

#[cfg(test)]
mod tests {
    use super::*;

    fn reasons() -> Line {
        Line::one_of("why", vec!["wrong place".into(), "wrong gauge".into(), "slipped".into()], Need::Wanted)
    }

    #[test]
    fn a_choice_is_taken_by_number_or_by_its_beginning() {
        let mut line = reasons();
        for (typed, answer) in [("2", Some("wrong gauge")), ("sl", Some("slipped")), ("wrong", None), ("9", None)] {
            line.field = Field::holding(typed);
            assert_eq!(line.answer().as_deref(), answer, "{typed}");
        }
    }

    #[test]
    fn what_is_kept_is_the_choice_and_not_its_place() {
        let mut line = reasons();
        for (typed, kept) in [("2", "wrong gauge"), ("9", "9"), ("sl", "sl"), ("", "")] {
            line.field = Field::holding(typed);
            assert_eq!(line.kept(), kept, "{typed}");
        }
    }

    #[test]
    fn nothing_wanted_is_passed_over() {
        let mut form = Form::new("strike", vec![reasons(), Line::text("note", "", Need::Free)]);
        form.go(Go::On);
        assert!(matches!(form.enter(), Step::Wrong(_)));
        assert_eq!(form.at, 0);
        form.turn(Go::On);
        assert_eq!(form.enter(), Step::Next);
        assert_eq!(form.enter(), Step::Finished);
        assert_eq!(form.answer(0).as_deref(), Some("wrong place"));
    }
}
