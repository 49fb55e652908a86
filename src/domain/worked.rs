//! The reckonings that a step runs on figures of the record, besides what it judges: each with its working or, where the
//! figures do not go together, why not. Nothing here is a verdict.

use super::characteristic::Given;
use super::checklist::{Ask, Cell, Source, Step, Takes, Works};
use super::entry::{Act, FindingMade};
use super::inspection::Inspection;
use super::measured;
use super::progress;
use super::reckon::convert;
use super::reckon::formula::Outcome;
use super::reckon::problem::Problem;
use super::reckon::working::Working;

/// One reckoning.
#[derive(Debug, Clone, PartialEq)]
pub struct Worked {
    /// For which row or sentence, where it is run for several.
    pub spot: Option<String>,
    /// With its number.
    pub reckoning: String,
    /// What comes out, or everything that speaks against it.
    pub outcome: Result<Outcome, Vec<Problem>>,
}

impl Worked {
    /// The result, or why there is none: `shaft nut: 90, 135, 180 N m`.
    pub fn words(&self) -> String {
        let spot = self.spot.as_ref().map(|spot| format!("{spot}: ")).unwrap_or_default();
        match &self.outcome {
            Ok(outcome) => format!("{spot}{}", outcome.working.result),
            Err(problems) => {
                let why: Vec<_> = problems.iter().map(Problem::to_string).collect();
                format!("{spot}no {}: {}", self.reckoning, why.join("; "))
            }
        }
    }

    /// The working as text.
    pub fn lines(&self) -> Vec<String> {
        match (&self.outcome, &self.spot) {
            (Ok(outcome), Some(spot)) => outcome.working.clone().about(spot).text_lines(),
            (Ok(outcome), None) => outcome.working.text_lines(),
            (Err(_), _) => vec![format!("! {}", self.words())],
        }
    }
}

/// Every reckoning of the step whose figures are there.
pub fn of_step(inspection: &Inspection, step: &Step) -> Vec<Worked> {
    step.works.iter().flat_map(|works| runs(inspection, step, works)).collect()
}

/// What was typed in another unit than the step's, and what it is in that one.
pub fn conversions(inspection: &Inspection, step: &Step) -> Option<Working> {
    let Takes::Readings(grid) = &step.takes else { return None };
    let mut working = Working::of(&convert::FORMULA);
    for cell in progress::cells(inspection, step) {
        let Some(taken) = inspection.reading(&step.id, &cell.place()) else { continue };
        let (figure, unit) = (taken.figure, grid.unit_of(&cell));
        if figure.unit() != unit
            && let Some(size) = figure.to(unit)
        {
            working.step(cell.place(), "", figure.to_string(), format!("{} {unit}", size.at_most(20)));
        }
    }
    let count = working.lines.len();
    (count > 0).then(|| working.resulting(super::telling::counted(count, "figure")))
}

/// What one run stands for.
#[derive(Clone)]
enum Run {
    /// The whole step.
    Whole,
    /// A row of the grid.
    Row(String),
    /// A sentence.
    Sentence(String),
}

fn runs(inspection: &Inspection, step: &Step, works: &Works) -> Vec<Worked> {
    let Some(formula) = works.formula() else { return Vec::new() };
    let runs = if works.sources().any(|source| source == Source::Words) {
        sentences(inspection, step).into_iter().map(Run::Sentence).collect()
    } else {
        rows(inspection, step, works)
    };
    let worked = |run: Run| {
        let (mut ready, mut lacking) = (true, false);
        let tree = works.tree(|source| {
            let texts = take(inspection, step, works, (&run, source));
            ready &= texts.is_some();
            lacking |= matches!(source, Source::Given(_)) && texts == Some(vec![None]);
            texts.unwrap_or_default()
        });
        let spot = match run {
            Run::Whole => None,
            Run::Row(spot) | Run::Sentence(spot) => Some(spot),
        };
        let outcome = ready.then(|| formula.run(&tree))?;
        // a machine whose sheet does not give a figure has no such reckoning
        (outcome.is_ok() || !lacking).then(|| Worked { spot, reckoning: works.reckoning.clone(), outcome })
    };
    runs.into_iter().filter_map(worked).collect()
}

/// What was written at the step, as far as it can be meant for a reckoning: something with a figure in it.
fn sentences(inspection: &Inspection, step: &Step) -> Vec<String> {
    let notes = inspection.standing_entries_of(&step.id).filter_map(|entry| {
        let Act::Note { text, .. } = &entry.act else { return None };
        Some(text.split(';').map(|piece| piece.trim().to_owned()).collect::<Vec<_>>())
    });
    notes.flatten().filter(|piece| piece.chars().any(|letter| letter.is_ascii_digit())).collect()
}

/// One run for each row that has a column named; the whole where none is.
fn rows(inspection: &Inspection, step: &Step, works: &Works) -> Vec<Run> {
    let mut rows: Vec<String> = Vec::new();
    for source in works.sources() {
        let Source::Place { step: other, name } = source else { continue };
        let cells = cells_of(inspection, step, other);
        rows.extend(cells.into_iter().filter(|cell| is_column(cell, name)).map(|cell| cell.row));
    }
    let mut once = Vec::new();
    for row in rows {
        if !once.contains(&row) {
            once.push(row);
        }
    }
    if once.is_empty() { vec![Run::Whole] } else { once.into_iter().map(Run::Row).collect() }
}

fn cells_of(inspection: &Inspection, step: &Step, other: Option<&str>) -> Vec<Cell> {
    let of = other.map_or(Some(step), |id| inspection.head().checklist.step(id));
    of.map(|step| progress::cells(inspection, step)).unwrap_or_default()
}

fn is_column(cell: &Cell, name: &str) -> bool {
    [&cell.across, &cell.figure].into_iter().flatten().any(|column| column == name)
}

/// What a source gives, nothing where it was left out; `None` while it is still to be taken.
fn take(
    inspection: &Inspection,
    step: &Step,
    works: &Works,
    (run, source): (&Run, Source<'_>),
) -> Option<Vec<Option<String>>> {
    match source {
        Source::Fixed(text) => Some(vec![Some(text.to_owned())]),
        Source::Given(name) => {
            let figure = Given::parse(name).and_then(|given| Some(inspection.sheet()?.given.get(&given)?.figure));
            Some(vec![figure.map(|figure| figure.to_string())])
        }
        Source::Words => Some(vec![if let Run::Sentence(text) = run { Some(text.clone()) } else { None }]),
        Source::Each(detail) => {
            let all: Vec<_> =
                findings(inspection, step, works).iter().map(|made| made.details.get(detail).cloned()).collect();
            (!all.is_empty()).then_some(all)
        }
        Source::Place { step: other, name } => {
            let row = if let Run::Row(row) = run { Some(row) } else { None };
            let cells = cells_of(inspection, step, other);
            let in_row = |cell: &&Cell| Some(&cell.row) == row && is_column(cell, name);
            let cell = cells.iter().find(in_row).or_else(|| cells.iter().find(|cell| cell.spot() == name));
            let Some(cell) = cell else { return Some(vec![None]) };
            let (at, place) = (other.unwrap_or(&step.id), cell.place());
            match inspection.reading(at, &place) {
                Some(taken) => Some(vec![Some(measured::corrected_figure(inspection, &taken))]),
                None => inspection.is_left_out(at, &place).then(|| vec![None]),
            }
        }
    }
}

/// The findings of the step that are asked for every detail named.
fn findings<'a>(inspection: &'a Inspection, step: &Step, works: &Works) -> Vec<&'a FindingMade> {
    let named: Vec<_> = works
        .sources()
        .filter_map(|source| if let Source::Each(detail) = source { Ask::parse(detail) } else { None })
        .collect();
    let entries = inspection.standing_entries_of(&step.id);
    let made = entries.filter_map(|entry| if let Act::Finding(made) = &entry.act { Some(made) } else { None });
    let asked = |made: &&FindingMade| {
        let part = inspection.head().checklist.part(&made.part);
        part.and_then(|part| part.finding(&made.kind))
            .is_some_and(|kind| named.iter().all(|ask| kind.asks.contains(ask)))
    };
    made.filter(asked).collect()
}
