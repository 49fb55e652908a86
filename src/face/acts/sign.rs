//! What a signature carries on. The decisions leave each hold with its part; at the close each is carried on by name, one
//! by one, on the screen as in the line mode.

use crate::domain::checklist::Signing;

use super::super::inquiry::{Answers, Reply};
use super::At;

impl At<'_> {
    /// The holds that this signature carries on, each asked for; `before` must be known first.
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
        Ok(holds)
    }
}
