//! What follows from the verdicts: what to order, what to refer, what is still to be measured or settled.

use super::super::inspection::Inspection;
use super::super::standing::Standing;
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

/// The third page.
pub(super) fn page(inspection: &Inspection, standing: &Standing) -> Page {
    let mut items = Vec::new();
    for ((heading, lines), sign) in lists(inspection, standing).in_words().into_iter().zip(['X', '>', '?']) {
        if lines.is_empty() {
            items.push(Item::plain('.', format!("{heading}: nothing"), Vec::new()));
        }
        items.extend(lines.into_iter().map(|line| Item::plain(sign, format!("{heading}: {line}"), Vec::new())));
    }
    Page { title: "To order, refer, measure".to_owned(), part: None, items }
}
