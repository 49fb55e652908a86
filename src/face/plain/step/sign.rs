//! The two signatures: every part and every hold first, then the word that signs.

use crate::domain::checklist::Signing;
use crate::domain::review;
use crate::domain::signing;
use crate::domain::stamp::Stamp;
use crate::domain::watch::Watch;

use super::super::super::acts::{Deed, besides_in_words, standing_in_words};
use super::super::Session;
use super::super::inquiry::{Answers, Reply, Stop};

impl Session {
    pub(super) fn sign(&self, what: Signing, now: Stamp, answers: &mut Answers<'_>) -> Reply<Deed> {
        let name = self.name(&self.by);
        let watch = Watch::over(&self.inspection, &self.by, u32::MAX);
        let grown = signing::standing_signature(&self.inspection, what)
            .map(|sign| format!("Signed in entry {}, and entries came after it.", sign.number));
        let changed = grown.iter().flat_map(|_| review::since(&self.inspection, &self.standing));
        let changed: Vec<_> = changed.map(|one| format!("! {}", one.since_words())).collect();
        let mut before: Vec<_> = grown.into_iter().chain(changed).collect();
        before.extend(standing_in_words(&self.standing));
        before.extend(besides_in_words(&self.inspection, &self.standing, what));
        let carried = self.at(now).carried(what, &mut before, answers)?;
        let text = match what {
            Signing::Decisions => {
                before.push("Signing opens the rebuild; each hold stays with its part.".to_owned());
                format!("the decisions, signed by {name}{watch} (sign, or the name in full)")
            }
            Signing::Close => format!("closed, signed by {name}{watch} (sign, or the name in full)"),
        };
        before.extend(self.half_answered().map(|left| format!("? {left}")));
        let typed = answers.line(before, &text)?;
        // the screen takes the name in full, or the id
        if typed.eq_ignore_ascii_case("sign") || self.at(now).signs(typed) {
            return Ok(Deed::Sign(what, carried));
        }
        let why = self.at(now).not_signed(typed);
        Err(Stop::Wrong(format!("{why} Type sign or the name in full, or ! to settle something first.")))
    }
}
