//! What follows from the verdicts: what to order, what to refer, what is still to be measured or settled.

use super::super::entry::Act;
use super::super::inspection::Inspection;
use super::super::standing::{PartStanding, Standing};
use super::super::telling::of_finding;
use super::{Item, Page};

/// The three lists, each line with the part's name first.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Lists {
    /// Parts to order: name, and number where the sheet has one.
    pub order: Vec<(String, Option<String>)>,
    /// Questions to a maker, class or specialist: part, and what about.
    pub refer: Vec<(String, String)>,
    /// What is still to be measured or settled: part, and what.
    pub measure: Vec<(String, String)>,
}

/// The lists as they follow from all verdicts.
pub fn lists(inspection: &Inspection, standing: &Standing) -> Lists {
    Lists {
        order: standing
            .to_order(inspection)
            .map(|(part, number)| (part.name.clone(), number.map(str::to_owned)))
            .collect(),
        refer: standing.to_refer().map(|(part, what)| (part.name.clone(), what.to_owned())).collect(),
        measure: standing.to_measure().map(|(part, what)| (part.name.clone(), what.to_owned())).collect(),
    }
}

impl Lists {
    /// The three with their headings, each line in words.
    pub fn in_words(&self) -> [(&'static str, Vec<String>); 3] {
        let number = |number: &Option<String>| {
            number
                .as_ref()
                .map_or_else(|| "no part number on the sheet".to_owned(), |number| format!("part number {number}"))
        };
        let said = |(part, what): &(String, String)| format!("{part}: {what}");
        [
            ("to order", self.order.iter().map(|(part, of)| format!("{part}: {}", number(of))).collect()),
            ("to refer", self.refer.iter().map(said).collect()),
            ("to measure or settle", self.measure.iter().map(said).collect()),
        ]
    }
}

/// The step at which what holds a part was measured or seen; a remark on it starts there.
pub(super) fn step_of(
    (inspection, standing): (&Inspection, &Standing),
    part: &PartStanding,
    what: &str,
) -> Option<String> {
    let measured = standing.characteristics.iter().find(|one| {
        let rest = what.strip_prefix(one.characteristic.name());
        one.characteristic.part() == part.id && rest.is_some_and(|rest| rest.is_empty() || rest.starts_with(':'))
    });
    let found = || {
        inspection.standing_entries().find_map(|entry| {
            let Act::Finding(finding) = &entry.act else { return None };
            (finding.part == part.id && of_finding(finding) == what).then(|| finding.step.clone())
        })
    };
    measured.map(|one| one.step.clone()).or_else(found)
}

/// The third page.
pub(super) fn page(inspection: &Inspection, standing: &Standing) -> Page {
    let mut items = Vec::new();
    let order = standing.to_order(inspection).map(|(part, _)| (part, "")).collect::<Vec<_>>();
    let about = [order, standing.to_refer().collect(), standing.to_measure().collect()];
    for (((heading, lines), sign), about) in
        lists(inspection, standing).in_words().into_iter().zip(['X', '>', '?']).zip(about)
    {
        if lines.is_empty() {
            items.push(Item::plain('.', format!("{heading}: nothing"), Vec::new()));
        }
        items.extend(lines.into_iter().zip(about).map(|(line, (part, what))| Item {
            part: Some(part.id.clone()),
            step: step_of((inspection, standing), part, what),
            ..Item::plain(sign, format!("{heading}: {line}"), super::part::verdict(inspection, part).evidence)
        }));
    }
    Page { title: "To order, refer, measure".to_owned(), part: None, items }
}
