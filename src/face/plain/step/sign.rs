//! The two signatures: every part and every hold first, then the word that signs.

use crate::domain::checklist::Signing;
use crate::domain::signing;
use crate::domain::standing::{PartStanding, hold_words};
use crate::domain::verdict::{Disposition, Hold};

use super::super::inquiry::{Answers, Reply, Stop};
use super::super::{Deed, Session};

impl Session {
    pub(super) fn sign(&self, what: Signing, answers: &mut Answers<'_>) -> Reply<Deed> {
        let name = self.name(&self.by);
        let grown = signing::standing_signature(&self.inspection, what)
            .map(|sign| format!("Signed in entry {}, and entries came after it.", sign.number));
        let mut before: Vec<_> = grown.into_iter().collect();
        before.extend(self.parts_in_words());
        match what {
            Signing::Decisions => {
                before.push("Signing opens the rebuild; each hold stays with its part.".to_owned());
                word(answers, before, &format!("the decisions, signed by {name} (sign)?"), "sign")?;
                Ok(Deed::Sign(what, Vec::new()))
            }
            Signing::Close => {
                let holds = self.standing.holds_in_words();
                let mut carried = Vec::new();
                for hold in holds {
                    let text = format!("held: {hold}. Carried on by name of {name} (carry on)?");
                    word(answers, std::mem::take(&mut before), &text, "carry on")?;
                    carried.push(hold);
                }
                word(answers, before, &format!("closed, signed by {name} (sign)?"), "sign")?;
                Ok(Deed::Sign(what, carried))
            }
        }
    }

    /// Every part with its disposition, its holds, and what made it so.
    pub(in super::super) fn parts_in_words(&self) -> Vec<String> {
        self.standing.parts.iter().filter(|part| part.judged.1 > 0 || !is_quiet(part)).map(part_in_words).collect()
    }
}

fn is_quiet(part: &PartStanding) -> bool {
    part.reasons.is_empty() && part.verdict.holds.is_empty()
}

/// `X Bush, turbine side: replace; new part to check. clearance: 0.214 mm ...`; what is open is never called reuse.
fn part_in_words(part: &PartStanding) -> String {
    let disposition = part.verdict.disposition;
    let held = part.verdict.holds.first().filter(|_| disposition == Disposition::Reuse);
    let sign = held.map_or(disposition.sign(), Hold::sign);
    let words = held.is_none().then(|| disposition.word().to_owned());
    let words: Vec<_> = words.into_iter().chain(part.verdict.holds.iter().map(hold_words)).collect();
    let why = if part.reasons.is_empty() { String::new() } else { format!(" {}.", part.reasons.join(". ")) };
    format!("{sign} {}: {}.{why}", part.name, words.join("; "))
}

/// One word and nothing else, or ! to settle something first.
fn word(answers: &mut Answers<'_>, before: Vec<String>, text: &str, wanted: &str) -> Reply<()> {
    let typed = answers.line(before, text)?;
    if typed.eq_ignore_ascii_case(wanted) {
        return Ok(());
    }
    Err(Stop::Wrong(format!("`{typed}` signs nothing. Type {wanted}, or ! to settle something first.")))
}
