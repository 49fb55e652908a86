//! What follows from all verdicts for others: what to order, to refer, to measure.

use std::borrow::Cow;

use super::super::entry::Act;
use super::super::inspection::Inspection;
use super::super::verdict::Hold;
use super::{PartStanding, Standing, claims};

/// A part, and what is asked about it.
pub type Asked<'a> = (&'a PartStanding, Cow<'a, str>);

impl Standing {
    /// Parts to order: to be replaced and not yet replaced; also what somebody is only claimed to have taken off the list.
    pub fn to_order<'a>(&'a self, inspection: &'a Inspection) -> impl Iterator<Item = ToOrder<'a>> {
        let claims = claims(inspection);
        self.parts.iter().filter_map(move |part| {
            let claimed_not = part.claimed_not_needed(&claims);
            let wanted = part.verdict.holds.contains(&Hold::NewPart) || claimed_not.is_some();
            wanted.then(|| ToOrder { part, number: number_of(inspection, part), claimed_not })
        })
    }

    /// Questions to a maker, class or specialist; also what is only claimed to be answered.
    pub fn to_refer<'a>(&'a self, inspection: &Inspection) -> impl Iterator<Item = Asked<'a>> {
        self.asked(inspection, |hold| match hold {
            Hold::Referred(what) => Some(what),
            Hold::StopAndCall(_) | Hold::Open(_) | Hold::NewPart | Hold::Balance => None,
        })
    }

    /// What is still to be measured or settled; also what is only claimed to be.
    pub fn to_measure<'a>(&'a self, inspection: &Inspection) -> impl Iterator<Item = Asked<'a>> {
        self.asked(inspection, |hold| match hold {
            Hold::Open(what) => Some(what),
            Hold::StopAndCall(_) | Hold::Referred(_) | Hold::NewPart | Hold::Balance => None,
        })
    }

    fn asked<'a>(
        &'a self,
        inspection: &Inspection,
        of: impl Fn(&'a Hold) -> Option<&'a String>,
    ) -> impl Iterator<Item = Asked<'a>> {
        let claims = claims(inspection);
        self.parts.iter().flat_map(move |part| {
            let claim = claims.iter().rev().find(|claim| {
                matches!(claim.deed(), Act::Concession { part: of, .. } | Act::Overrule { part: of, .. } if *of == part.id)
            });
            let stands = part.verdict.holds.iter().filter_map(&of).map(move |what| (part, Cow::from(what)));
            let claimed = claim.into_iter().flat_map(|claim| {
                let off = part.computed.holds.iter().filter(|hold| !part.verdict.holds.contains(*hold));
                let number = claim.number;
                let words = move |what: &String| format!("{what}; claimed settled in entry {number}, not signed for");
                off.filter_map(&of).map(move |what| (part, Cow::from(words(what))))
            });
            stands.chain(claimed).collect::<Vec<_>>()
        })
    }
}

/// A part to order.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ToOrder<'a> {
    /// Which.
    pub part: &'a PartStanding,
    /// Its part number, where the sheet has one.
    pub number: Option<&'a str>,
    /// The entry by which it is not needed, while nobody who may say so has signed for that.
    pub claimed_not: Option<u32>,
}

impl ToOrder<'_> {
    /// `part number INV-7; claimed not needed in entry 440, not signed for`.
    pub fn words(&self) -> String {
        let number = self.number.map(|number| format!("part number {number}"));
        let number = number.unwrap_or_else(|| "no part number on the sheet".to_owned());
        let claimed = self.claimed_not.map(|entry| format!("; claimed not needed in entry {entry}, not signed for"));
        format!("{number}{}", claimed.unwrap_or_default())
    }
}

fn number_of<'a>(inspection: &'a Inspection, part: &PartStanding) -> Option<&'a str> {
    let levels = &inspection.sheet()?.levels;
    levels.iter().find(|(one, _)| one.part() == part.id).and_then(|(_, levels)| levels.part_number.as_deref())
}
