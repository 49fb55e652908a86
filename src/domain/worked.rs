//! The reckonings that a step runs on figures of the record, besides what it judges: each with its working or, where the
//! figures do not go together, why not. Nothing here is a verdict.

use super::characteristic::Given;
use super::checklist::{Ask, Cell, Judged, Source, Step, Takes, Works};
use super::entry::{Act, FindingMade};
use super::inspection::Inspection;
use super::measured;
use super::progress;
use super::reckon::convert;
use super::reckon::formula::Outcome;
use super::reckon::problem::{Problem, Trouble};
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
                format!("{spot}not reckoned: {}", why.join("; "))
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
    let words = works.sources().find_map(|source| if let Source::Words { step } = source { Some(step) } else { None });
    let runs = match words {
        Some(other) => sentences(inspection, step, other).into_iter().map(Run::Sentence).collect(),
        None => rows(inspection, step, works),
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
        let missing = |problems: &[Problem]| problems.iter().all(|problem| problem.trouble == Trouble::Missing);
        let outcome = match outcome {
            // a machine whose sheet has the levels themselves needs no such reckoning
            Err(problems) if lacking && missing(&problems) && is_judged_without(inspection, step) => return None,
            Err(problems) if lacking && missing(&problems) => Err(not_given(inspection, works)),
            Err(problems) => Err(problems.into_iter().map(|problem| works.in_words(problem)).collect()),
            outcome => outcome,
        };
        Some(Worked { spot, reckoning: works.reckoning.clone(), outcome })
    };
    runs.into_iter().filter_map(worked).collect()
}

/// Whether everything that the step judges has a level of its own.
fn is_judged_without(inspection: &Inspection, step: &Step) -> bool {
    let levels = inspection.sheet().map(|sheet| &sheet.levels);
    let has = |judged: &Judged| levels.is_some_and(|levels| levels.contains_key(&judged.characteristic));
    !step.judges.is_empty() && step.judges.iter().all(has)
}

/// What the sheet lacks, by name.
fn not_given(inspection: &Inspection, works: &Works) -> Vec<Problem> {
    let names =
        works.sources().filter_map(|source| if let Source::Given(name) = source { Given::parse(name) } else { None });
    let known = |given: &Given| inspection.sheet().is_some_and(|sheet| sheet.given.contains_key(given));
    let lacking: Vec<_> = names.filter(|given| !known(given)).map(Given::what).collect();
    let found = format!("The sheet does not give: {}.", lacking.join(", "));
    Problem::impossible("", found, "The manual has it.").into()
}

/// What was written, as far as it can be meant for a reckoning: something with a figure in it. Of another step it is shown
/// beside what is measured here, not before.
fn sentences(inspection: &Inspection, step: &Step, other: Option<&str>) -> Vec<String> {
    let taken = |cell: &Cell| inspection.reading(&step.id, &cell.place()).is_some();
    if other.is_some() && !progress::cells(inspection, step).iter().any(taken) {
        return Vec::new();
    }
    let notes = inspection.standing_entries_of(other.unwrap_or(&step.id)).filter_map(|entry| {
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
    // of the rows of another step, those that are done here, where any is
    let here: Vec<String> = progress::cells(inspection, step).into_iter().map(|cell| cell.row).collect();
    let any = rows.iter().any(|row| here.contains(row));
    let mut once = Vec::new();
    for row in rows {
        if !once.contains(&row) && (!any || here.contains(&row)) {
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
        Source::Words { .. } => Some(vec![if let Run::Sentence(text) = run { Some(text.clone()) } else { None }]),
        Source::Uncertainty(name) => {
            let cell = progress::cells(inspection, step).into_iter().find(|cell| cell.spot() == name)?;
            let taken = inspection.reading(&step.id, &cell.place());
            let left_out = || inspection.is_left_out(&step.id, &cell.place()).then(|| vec![None]);
            taken.map_or_else(left_out, |taken| Some(vec![measured::u_of(inspection, &taken)]))
        }
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
