//! Looking: nothing found, or findings with grade and details, one after the other.

use crate::domain::checklist::Step;
use crate::domain::entry::Act;

use super::super::super::acts::{Deed, act, finding};
use super::super::Session;
use super::super::inquiry::{Answers, Reply, Stop, chosen, numbered};

impl Session {
    /// The kinds that may be seen, then "nothing"; asked again until nothing more is seen.
    pub(in super::super) fn look(&self, step: &Step, answers: &mut Answers<'_>) -> Reply<Deed> {
        let Some(part) = self.inspection.head().checklist.part(&step.part) else { return Ok(Deed::Say(Vec::new())) };
        let seen = self
            .inspection
            .standing_entries()
            .any(|entry| matches!(&entry.act, Act::Finding(finding) if finding.step == step.id));
        let nothing = if seen { "nothing more" } else { "nothing" };
        let offered = step.kinds_of(part);
        let kinds: Vec<_> = offered.iter().map(|kind| kind.kind.clone()).collect();
        let text = format!("what is seen (n: {nothing}, or 1 to {})", kinds.len());
        let text = if kinds.is_empty() { format!("what is seen (n: {nothing})") } else { text };
        let typed = answers.line(numbered(&kinds), &text)?;
        // what the question promises goes before a kind that begins so
        let kind = chosen(typed, &kinds).filter(|_| !typed.eq_ignore_ascii_case("n"));
        let kind = kind.and_then(|index| offered.get(index).copied());
        // the beginning is enough, where no kind begins so
        if kind.is_none() && !typed.is_empty() && "nothing more".starts_with(&typed.to_lowercase()) {
            return Ok(act(Act::Looked { step: step.id.clone() }));
        }
        let Some(kind) = kind else {
            let wrong = format!("`{typed}` is none of these. Type its number, its words, or {nothing}.");
            return Err(Stop::Wrong(wrong));
        };
        finding(&self.inspection, step, (part, kind), answers)
    }
}
