//! What follows from all verdicts for others: what to order, to refer, to measure.

use super::super::inspection::Inspection;
use super::super::verdict::Hold;
use super::{PartStanding, Standing};

/// A part, and what is asked about it.
pub type Asked<'a> = (&'a PartStanding, &'a str);

impl Standing {
    /// Parts that have come to something graver than before: `bush turbine side X replace, ...`.
    pub fn graver_than(&self, before: &Self) -> Option<String> {
        let was = |part: &PartStanding| before.part(&part.id).map(|part| part.verdict.disposition);
        let graver = self.parts.iter().filter(|part| was(part).is_some_and(|was| part.verdict.disposition > was));
        let told: Vec<_> = graver
            .map(|part| {
                let now = part.verdict.disposition;
                format!("{} {} {}", part.short, now.sign(), now.word())
            })
            .collect();
        (!told.is_empty()).then(|| told.join(", "))
    }

    /// Parts to order: to be replaced and not yet replaced.
    pub fn to_order<'a>(&'a self, inspection: &'a Inspection) -> impl Iterator<Item = ToOrder<'a>> {
        // one that is in its place already waits for its checks, not for the store, unless it failed one
        let wanted = self.parts.iter().filter(|part| part.verdict.holds.contains(&Hold::NewPart) && !part.renewed);
        wanted.map(|part| ToOrder { part, number: number_of(inspection, part) })
    }

    /// Questions to a maker, class or specialist.
    pub fn to_refer(&self) -> impl Iterator<Item = Asked<'_>> {
        self.asked(|hold| match hold {
            Hold::Referred(what) => Some(what),
            Hold::StopAndCall(_) | Hold::Open(_) | Hold::NewPart | Hold::Balance => None,
        })
    }

    /// What is still to be measured or settled.
    pub fn to_measure(&self) -> impl Iterator<Item = Asked<'_>> {
        self.asked(|hold| match hold {
            Hold::Open(what) => Some(what),
            Hold::StopAndCall(_) | Hold::Referred(_) | Hold::NewPart | Hold::Balance => None,
        })
    }

    fn asked<'a>(&'a self, of: impl Fn(&'a Hold) -> Option<&'a String>) -> impl Iterator<Item = Asked<'a>> {
        let asked = move |part: &'a PartStanding| {
            let all: Vec<_> = part.verdict.holds.iter().filter_map(&of).map(|what| (part, what.as_str())).collect();
            all
        };
        self.parts.iter().flat_map(asked)
    }
}

/// A part to order.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ToOrder<'a> {
    /// Which.
    pub part: &'a PartStanding,
    /// Its part number, where the sheet has one.
    pub number: Option<&'a str>,
}

impl ToOrder<'_> {
    /// `part number INV-7; claimed not needed in entry 440, not signed for`.
    pub fn words(&self) -> String {
        let number = self.number.map(|number| format!("part number {number}"));
        let number = number.unwrap_or_else(|| "no part number on the sheet".to_owned());
        let claimed = self.part.claimed_not_needed;
        let claimed = claimed.map(|entry| format!("; claimed not needed in entry {entry}, not signed for"));
        format!("{number}{}", claimed.unwrap_or_default())
    }
}

fn number_of<'a>(inspection: &'a Inspection, part: &PartStanding) -> Option<&'a str> {
    let levels = &inspection.sheet()?.levels;
    levels.iter().find(|(one, _)| one.part() == part.id).and_then(|(_, levels)| levels.part_number.as_deref())
}
