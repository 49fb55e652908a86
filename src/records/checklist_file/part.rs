//! Parts and what may be seen on them.

use crate::domain::checklist::{FindingKind, Grade, Part};
use crate::domain::verdict::Consequence;
use crate::records::form::{Shape, Slot, keys, shape_of};
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

/// `{light: watch, deep or many: [replace, refer]}`.
fn grades(slot: &mut Slot<'_>, value: Option<&Vec<Grade>>) -> Option<Vec<Grade>> {
    let pairs = value.map(|grades| grades.iter().map(|one| (one.grade.as_str(), &one.leads_to)).collect());
    let read = slot.pairs(Layout::Flow, leads_to, pairs)?;
    Some(read.into_iter().map(|(grade, leads_to)| Grade { grade, leads_to }).collect())
}

/// One word, or several between brackets.
fn leads_to(slot: &mut Slot<'_>, value: Option<&Vec<Consequence>>) -> Option<Vec<Consequence>> {
    let list = |slot: &mut Slot<'_>, value: Option<&Vec<Consequence>>| {
        slot.list(Layout::Flow, consequence, value.map(Vec::as_slice))
    };
    if slot.tells(|| Shape::Either(vec![shape_of(|slot| consequence(slot, None)), shape_of(|slot| list(slot, None))])) {
        return None;
    }
    if slot.is_list() || value.is_some_and(|all| all.len() != 1) {
        return list(slot, value);
    }
    Some(vec![consequence(slot, value.and_then(|all| all.first()))?])
}
