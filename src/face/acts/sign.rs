//! What a signature carries on by name, one by one, on the screen as in the line mode: at the close each hold, which the
//! decisions leave with its part; at both each photo that is not there as it was taken.

use crate::domain::checklist::Signing;

use super::super::inquiry::{Answers, Reply};
use super::At;

impl At<'_> {
    /// Whether what was typed is who stands for what is entered, by name or id.
    pub fn signs(&self, typed: &str) -> bool {
        let by = &self.hand.by;
        self.inspection.person(by).map_or(by.as_str() == typed.trim(), |person| person.is_called(typed))
    }

    /// Why what was typed signs nothing: it is not who stands for what is entered.
    pub fn not_signed(&self, typed: &str) -> String {
        let by = self.name(&self.hand.by);
        let Some(other) = self.inspection.people().iter().find(|person| person.is_called(typed)) else {
            return format!("`{typed}` signs nothing. {by} stands for what is entered.");
        };
        let watched = if other.is_learning() { ", and signs with a fitter or supervisor who watches" } else { "" };
        let learns = if other.is_learning() { ", a trainee," } else { "" };
        format!("{}{learns} is not at the machine, {by} is: who is here changes hands{watched}.", other.name)
    }

    /// What this signature carries on, each asked for; `before` must be known first.
    ///
    /// # Errors
    /// The next question, or why the last answer will not do.
    pub fn carried(&self, what: Signing, before: &mut Vec<String>, answers: &mut Answers<'_>) -> Reply<Vec<String>> {
        let holds = match what {
            Signing::Decisions => Vec::new(),
            Signing::Close => self.standing.holds_in_words(),
        };
        let by = &self.hand.by;
        let name = self.inspection.person(by).map_or_else(|| by.to_string(), |person| person.name.clone());
        for (number, hold) in (1_usize..).zip(&holds) {
            let text = format!("hold {number} of {}, {hold}. Carried on by name of {name}", holds.len());
            answers.word_after(std::mem::take(before), &text, &["carry on"])?;
        }
        let lost = &self.files.lost;
        for photo in lost {
            let text = format!("{photo}. Signed without it by name of {name}");
            answers.word_after(std::mem::take(before), &text, &["insist"])?;
        }
        Ok(holds.into_iter().chain(lost.iter().cloned()).collect())
    }
}
