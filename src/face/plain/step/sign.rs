//! The two signatures: every part and every hold first, then the word that signs.

use crate::domain::checklist::Signing;
use crate::domain::signing;

use super::super::super::acts::{Deed, parts_in_words};
use super::super::Session;
use super::super::inquiry::{Answers, Reply, Stop};

impl Session {
    pub(super) fn sign(&self, what: Signing, answers: &mut Answers<'_>) -> Reply<Deed> {
        let name = self.name(&self.by);
        let grown = signing::standing_signature(&self.inspection, what)
            .map(|sign| format!("Signed in entry {}, and entries came after it.", sign.number));
        let mut before: Vec<_> = grown.into_iter().collect();
        before.extend(parts_in_words(&self.standing));
        match what {
            Signing::Decisions => {
                before.push("Signing opens the rebuild; each hold stays with its part.".to_owned());
                word(answers, before, &format!("the decisions, signed by {name} (sign)"), "sign")?;
                Ok(Deed::Sign(what, Vec::new()))
            }
            Signing::Close => {
                let holds = self.standing.holds_in_words();
                let mut carried = Vec::new();
                for hold in holds {
                    let text = format!("held: {hold}. Carried on by name of {name} (carry on)");
                    word(answers, std::mem::take(&mut before), &text, "carry on")?;
                    carried.push(hold);
                }
                word(answers, before, &format!("closed, signed by {name} (sign)"), "sign")?;
                Ok(Deed::Sign(what, carried))
            }
        }
    }
}

/// One word and nothing else, or ! to settle something first.
fn word(answers: &mut Answers<'_>, before: Vec<String>, text: &str, wanted: &str) -> Reply<()> {
    let typed = answers.line(before, text)?;
    if typed.eq_ignore_ascii_case(wanted) {
        return Ok(());
    }
    Err(Stop::Wrong(format!("`{typed}` signs nothing. Type {wanted}, or ! to settle something first.")))
}
