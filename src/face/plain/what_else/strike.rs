//! Taking an earlier entry back, with a reason; it stays readable.

use crate::domain::entry::{Act, Entry};

use super::super::inquiry::{Answers, Reply, Stop};
use super::super::step::act;
use super::super::{Deed, Session};

/// The usual reasons, by number.
const REASONS: [&str; 6] =
    ["wrong place", "wrong gauge", "misread", "typed wrong", "gauge or part moved", "taken for another part"];

impl Session {
    pub(super) fn strike(&self, answers: &mut Answers<'_>) -> Reply<Deed> {
        let open: Vec<&Entry> = self
            .inspection
            .entries()
            .iter()
            .filter(|entry| entry.act.can_be_struck() && self.inspection.struck_by(entry.number).is_none())
            .collect();
        let Some(last) = open.last() else {
            return Ok(Deed::Say(vec!["No entry can be struck.".to_owned()]));
        };
        let mut before: Vec<_> = open.iter().rev().take(9).map(|entry| entry_in_words(entry)).collect();
        before.reverse();
        let text = answers.line(before, &format!("which entry, empty for {}?", last.number))?;
        let number = if text.is_empty() { Some(last.number) } else { text.parse().ok() };
        let number = number.ok_or_else(|| Stop::Wrong(format!("`{text}` is no entry's number.")))?;
        let reason = answers.choose_or_say(&format!("why is entry {number} struck"), &REASONS)?;
        Ok(act(Act::Strike { entry: number, reason }))
    }

    pub(super) fn last_entries(&self) -> Vec<String> {
        let entries = self.inspection.entries();
        let skip = entries.len().saturating_sub(20);
        let one = |entry: &Entry| {
            let struck = self.inspection.struck_by(entry.number);
            let struck = struck.map(|by| format!(" STRUCK in entry {by}")).unwrap_or_default();
            format!("{}{struck}", entry_in_words(entry))
        };
        entries.iter().skip(skip).map(one).collect()
    }
}

/// `118 reading, bush.ts/clearance, inner 0 / 3 / up: 0.232 mm with D2`.
pub(in super::super) fn entry_in_words(entry: &Entry) -> String {
    let about = entry.act.step().or(entry.act.part()).map(|about| format!(", {about}")).unwrap_or_default();
    format!("{} {}{about}{}", entry.number, entry.act.kind(), detail(&entry.act))
}

fn detail(act: &Act) -> String {
    if let Act::Reading { place, taken, gauge, .. } = act {
        let with = gauge.as_ref().map(|gauge| format!(" with {gauge}")).unwrap_or_default();
        return format!(", {place}: {taken}{with}");
    }
    if let Act::Finding(finding) = act {
        return format!(", {}, {}", finding.kind, finding.grade);
    }
    if let Act::Confirm { point, .. } = act {
        return format!(", {point}");
    }
    if let Act::NotApplicable { point, reason, .. } = act {
        let point = point.as_ref().map(|point| format!(", {point}")).unwrap_or_default();
        return format!("{point}: {reason}");
    }
    if let Act::Note { text, .. } | Act::Call { question: text, .. } | Act::Answer { text, .. } = act {
        return format!(": {text}");
    }
    if let Act::Skip { place, reason, .. } = act {
        let place = place.as_ref().map(|place| format!(", {place}")).unwrap_or_default();
        return format!("{place}: {reason}");
    }
    if let Act::Strike { entry, reason } = act {
        return format!(" of entry {entry}: {reason}");
    }
    String::new()
}
