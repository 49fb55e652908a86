//! What is odd about a checklist of the owner's without being wrong.

use crate::domain::checklist::{Checklist, Part};
use crate::records::checklist_file::{holding_nothing_back, with_new_unchecked};

use super::places::Places;

/// Parts that go back whatever is found on them, and new ones that nothing checks.
pub(super) fn remarks_of_checklist(places: &Places<'_>, checklist: &Checklist) -> Vec<String> {
    let listed = |parts: Vec<&Part>, words: &str| {
        let line = |part: &Part| places.line("parts", "part", &part.id).map(|line| format!(" (line {line})"));
        let named = |part: &&Part| format!("{}{}", part.name, line(part).unwrap_or_default());
        let names: Vec<_> = parts.iter().map(named).collect();
        let first = parts.first().map(|part| places.item("parts", "part", &part.id));
        first.map(|at| format!("{at}: {words}: {}.", names.join("; ")))
    };
    let unheld = "without `holds back` nothing keeps these from being put back, whatever is found on them";
    let unchecked = "without a step of the phase `new` nothing checks a new one of these before it is fitted";
    let all = [
        listed(holding_nothing_back(checklist).collect(), unheld),
        listed(with_new_unchecked(checklist).collect(), unchecked),
    ];
    all.into_iter().flatten().collect()
}
