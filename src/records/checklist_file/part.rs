//! Parts and what may be seen on them.

use crate::domain::checklist::{FindingKind, Grade, Part};
use crate::records::form::{Slot, keys};
use crate::records::words::{ask, consequence, count, name, name as step_id, text, yes_no};
use crate::records::yaml::Layout;

keys! {
    /// A part.
    pub fn part -> Part, Block {
        id "part" need name,
        name "name" need text,
        short "short" need text,
        stretch_of "stretch of" may text,
        rotates "rotates" need yes_no,
        every_months "every months" may count,
        holds_back "holds back" row step_id,
        findings "findings" list finding_kind,
    }

    fn finding_kind -> FindingKind, Block {
        kind "kind" need text,
        grades "grades" need grades,
        asks "asks" row ask,
        obliges "obliges" row name,
        crack "crack" flag yes_no,
    }
}

/// `{light: watch, deep or many: replace}`.
fn grades(slot: &mut Slot<'_>, value: Option<&Vec<Grade>>) -> Option<Vec<Grade>> {
    let pairs = value.map(|grades| grades.iter().map(|one| (one.grade.as_str(), &one.leads_to)).collect());
    let read = slot.pairs(Layout::Flow, consequence, pairs)?;
    Some(read.into_iter().map(|(grade, leads_to)| Grade { grade, leads_to }).collect())
}
