//! What is to follow a wait soon: a look, or the next wait, behind one that it needs, and in a time that can be kept.

use std::collections::BTreeSet;

use crate::domain::checklist::{Checklist, Step, Takes};
use crate::domain::entry::TimerMark;
use crate::domain::exact::Exact;
use crate::domain::unit::{Dimension, Unit};

use super::{KNOWN, Spot, known};

pub(super) fn check(step: &Step, (checklist, steps): (&Checklist, &BTreeSet<&str>), spot: &mut Spot<'_>) {
    let Some(soon) = &step.soon else { return };
    let key = ("soon", None);
    known(key, &soon.after, steps, &format!("a step{KNOWN}"), spot);
    let mut fault = |found: &str, expected: &str, mend: &str| spot.fault(key, found, expected, mend);
    if !matches!(step.takes, Takes::Look | Takes::Soak { .. }) {
        let mend = "Take the line out, or put it at the look.";
        fault("a time to follow a wait, at what is neither", "a step that takes a look or a soak", mend);
    }
    if soon.to.dimension() != Dimension::Time {
        let found = format!("`{}`, {}", soon.to, soon.to.dimension().one());
        fault(&found, "a time", "Put min or h behind the number.");
    }
    let Some(first) = checklist.step(&soon.after) else { return };
    let Takes::Soak { from, .. } = &first.takes else {
        let found = format!("`{}`, which is no wait", first.id);
        fault(&found, "a step that takes a soak", "Name the wait that it follows.");
        return;
    };
    if !step.needs.contains(&first.id) {
        let found = format!("`{}`, which does not come first", first.id);
        fault(&found, "a step that stands under `needs`", "Put it there too.");
    }
    let least = match soon.since {
        TimerMark::Started => from.to(Unit::Hour),
        TimerMark::Ended => Some(Exact::zero()),
    };
    if soon.to.to(Unit::Hour).zip(least).is_some_and(|(to, least)| to <= least) {
        let found = format!("at most {}, where the wait takes at least {from}", soon.to);
        fault(&found, "a time that can be kept", "Write a longer one.");
    }
}
