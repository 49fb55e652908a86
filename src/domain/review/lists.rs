//! What follows from the verdicts: what to order, what to refer, what is still to be measured or settled.

use super::super::entry::Act;
use super::super::inspection::Inspection;
use super::super::standing::{Asked, PartStanding, Standing};
use super::super::telling::of_finding;
use super::{Item, Page};

/// What holds are the job's and no part's, in lists.
const THE_JOB: &str = "The job";

/// The three lists, each line with the part's name first.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Lists {
    /// Parts to order: part, and what is to be known of it.
    pub order: Vec<(String, String)>,
    /// Questions to a maker, class or specialist: part, and what about.
    pub refer: Vec<(String, String)>,
    /// What is still to be measured or settled: part or the job, and what.
    pub measure: Vec<(String, String)>,
}

/// The lists as they follow from all verdicts.
pub fn lists(inspection: &Inspection, standing: &Standing) -> Lists {
    let of_part = |(part, what): Asked<'_>| (part.name.clone(), what.to_owned());
    let job = standing.job_to_settle().map(|what| (THE_JOB.to_owned(), what.to_owned()));
    Lists {
        order: standing.to_order(inspection).map(|one| (one.part.name.clone(), one.words())).collect(),
        refer: standing.to_refer().map(of_part).collect(),
        measure: job.chain(standing.to_measure().map(of_part)).collect(),
    }
}

/// What holds the job as a whole, in one sentence: an answer to give, a book to compare. Nothing where nothing does.
pub fn job_held(standing: &Standing) -> Option<String> {
    let later: Vec<_> = standing.job_to_settle().filter_map(|what| what.strip_prefix("later: ")).collect();
    let asked = standing.job_to_settle().filter(|what| !what.starts_with("later: ")).map(str::to_owned);
    let later = (!later.is_empty()).then(|| format!("to be given: {}", later.join(", ")));
    let all: Vec<_> = asked.chain(later).collect();
    (!all.is_empty()).then(|| all.join("; "))
}

impl Lists {
    /// The three with their headings, each line in words.
    pub fn in_words(&self) -> [(&'static str, Vec<String>); 3] {
        let said = |all: &[(String, String)]| all.iter().map(|(part, what)| format!("{part}: {what}")).collect();
        [
            ("to order", said(&self.order)),
            ("to refer", said(&self.refer)),
            ("to measure or settle", said(&self.measure)),
        ]
    }
}

/// The step at which what holds a part was measured or seen; a remark on it starts there.
pub(super) fn step_of(
    (inspection, standing): (&Inspection, &Standing),
    part: &PartStanding,
    what: &str,
) -> Option<String> {
    let names =
        |name: &str| what.strip_prefix(name).is_some_and(|rest| rest.is_empty() || rest.starts_with([':', ';']));
    let measured = standing
        .characteristics
        .iter()
        .find(|one| one.characteristic.part() == part.id && names(one.characteristic.name()));
    let found = || {
        inspection.standing_entries().find_map(|entry| {
            let Act::Finding(finding) = &entry.act else { return None };
            (finding.part == part.id && names(&of_finding(finding))).then(|| finding.step.clone())
        })
    };
    measured.map(|one| one.step.clone()).or_else(found)
}

/// The third page.
pub(super) fn page(inspection: &Inspection, standing: &Standing) -> Page {
    let mut items = Vec::new();
    let of_part = |(part, what)| (Some(part), what);
    let order = standing.to_order(inspection).map(|one| (Some(one.part), "")).collect::<Vec<_>>();
    let job = standing.job_to_settle().map(|what| (None, what));
    let settle = job.chain(standing.to_measure().map(of_part)).collect();
    let about = [order, standing.to_refer().map(of_part).collect(), settle];
    for (((heading, lines), sign), about) in
        lists(inspection, standing).in_words().into_iter().zip(['X', '>', '?']).zip(about)
    {
        if lines.is_empty() {
            items.push(Item::plain('.', format!("{heading}: nothing"), Vec::new()));
        }
        items.extend(lines.into_iter().zip(about).map(|(line, (part, what))| {
            let evidence = part.map(|part| super::part::verdict(inspection, part).evidence);
            Item {
                part: part.map(|part| part.id.clone()),
                step: part.and_then(|part| step_of((inspection, standing), part, what)),
                ..Item::plain(sign, format!("{heading}: {line}"), evidence.unwrap_or_default())
            }
        }));
    }
    Page { title: "To order, refer, measure".to_owned(), part: None, items }
}
