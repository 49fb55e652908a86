//! The empty forms of a checklist in the order of the screens, for benches where no computer may stand.

use maud::{Markup, html};

use crate::domain::checklist::{Cell, Checklist, FindingKind, Grid, Part, Step, Takes, Usual, Works};
use crate::domain::instrument::GaugeKind;
use crate::domain::review::level_lines;
use crate::domain::rotor::Rotor;
use crate::domain::sheet::Sheet;
use crate::domain::unit::{Dimension, Unit};

use super::paper::{line, on_every_page, paper};

/// Rows where the number of places is not known without a sheet.
const SPARE_ROWS: u32 = 12;

/// What the forms are for; what is not known is written on them by hand.
#[derive(Debug, Clone, Copy, Default)]
pub struct For<'a> {
    /// The machine: every grid has its rows, the levels stand below it, and what it does not have is left out.
    pub sheet: Option<&'a Sheet>,
    /// The rotor. Its serial number is read off the part and never printed before.
    pub rotor: Option<&'a Rotor>,
}

/// The forms. `size` is `A4` or `Letter`.
pub fn html(checklist: &Checklist, For { sheet, rotor }: For<'_>, size: &str) -> String {
    let title = format!("{}, version {}", checklist.title, checklist.version);
    let sheet = sheet.cloned().map(Sheet::with_shares);
    let sheet = sheet.as_ref();
    let invented = sheet.is_some_and(|sheet| sheet.invented).then_some("INVENTED MACHINE: use no figure of it");
    let whose = rotor.map_or_else(|| line("rotor"), |rotor| html! { "rotor " b { (rotor.id) } " " });
    let top = html! { (whose) (line("serial")) (line("date")) (line("sheet")) (line("of")) };
    let steps: Vec<_> = checklist.steps.iter().filter(|step| sheet.is_none_or(|sheet| sheet.has(step))).collect();
    let body = html! {
        h1 { (title) }
        p { @if let Some(plant) = rotor.and_then(|rotor| rotor.plant.as_ref()) { (plant) " " } (line("machine hours")) }
        p { (line("opened on")) (line("by")) (line("because")) }
        p { (line("manual, edition")) (line("service letters")) (line("next planned at")) }
        @match sheet {
            Some(sheet) => p { "Limits of " (sheet.id) ", " (sheet.manual) ", edition " (sheet.edition) ". Look up the edition again today." },
            None => p { "Without a limits sheet: figures only. They are judged when they are typed in." },
        }
        p { "Write figures as the gauge shows them, with the unit behind where it is not the one that the form names, and when. What is typed in later from this paper is marked so, with the time written here. What is left out needs its reason and a name." }
        @for (place, step) in steps.iter().enumerate() {
            @let before = place.checked_sub(1).and_then(|before| steps.get(before));
            @if before.is_none_or(|before| before.phase != step.phase) { h2 { (step.phase.title()) } }
            section { (of_step(place + 1, step, checklist.part(&step.part), sheet)) }
        }
    };
    paper(&title, size, invented, &on_every_page(&top, &body))
}

fn of_step(number: usize, step: &Step, part: Option<&Part>, sheet: Option<&Sheet>) -> Markup {
    let part_name = part.map_or(step.part.as_str(), |part| part.name.as_str());
    html! {
        h3 { (number) ". " (part_name) " / " (step.title) }
        @if step.on_demand { p { "Only when a finding or a decision asks for it." } }
        @for line in &step.doing { p { (line) } }
        @if let Some(caution) = &step.caution { p.caution { "! " (caution) } }
        @if let Some(seen) = &step.seen { p { i { (seen) } } }
        @if let Some(soon) = &step.soon { p { (soon.in_words()) ", " (PRACTICE) } }
        @match &step.takes {
            Takes::Points(points) => {
                @for point in points { p { span.tick {} (point.text) " " (line("who")) } }
            }
            Takes::Tick => p { span.tick {} "done" },
            Takes::Look => (of_look(step, part)),
            Takes::Readings(grid) => (of_grid(grid, step, sheet)),
            Takes::Soak { from, to } => {
                p { "At least " (from) @match to { Some(to) => { ", at most " (to) }, None => ", longer does no harm" } ", " (PRACTICE) ". " (line("clock started at")) (line("stopped at")) }
            }
            Takes::Words => {
                @if let Some(offered) = step.offered() { p { "Of these, or your own words: " (offered) } }
                p { (line("in words")) (line("")) (line("")) }
            },
            Takes::Sign(what) => p { (line(what.word())) (line("signature")) },
        }
        @for formula in step.works.iter().filter_map(Works::formula) {
            p { (formula.purpose) ", when it is typed in: " (line("")) (line("")) }
        }
        p { (line("who")) (line("when")) }
        @if !matches!(step.takes, Takes::Sign(_)) {
            p { span.tick {} "not on this machine " span.tick {} (line("left out, because")) (line("who")) }
        }
    }
}

/// Said of every time and window that stands in a checklist.
const PRACTICE: &str = "common practice, the manual goes first";

fn of_look(step: &Step, part: Option<&Part>) -> Markup {
    let findings = part.map(|part| step.kinds_of(part)).unwrap_or_default();
    html! {
        p { span.tick {} "looked, nothing found" }
        @if !findings.is_empty() {
            table {
                thead { tr { th { "seen" } th { "how much" } th { "which, where, how large" } th { "in words" } } }
                @for finding in findings { (row_of(finding)) }
                tr { td.box {} td.box {} td.box {} td.words {} }
            }
        }
        @if let Some(months) = part.and_then(|part| part.every_months) {
            p { "Again after " (months) " months, " (PRACTICE) "." }
        }
    }
}

fn row_of(finding: &FindingKind) -> Markup {
    html! {
        tr {
            td { (finding.kind) @if finding.crack { " (stop)" } }
            td { @for grade in &finding.grades { p { span.tick {} (grade.grade) ": " (finding.leads_to_in_words(&grade.grade)) } } }
            td.box { @for ask in &finding.asks { p { (line(ask.word())) } } }
            td.words {}
        }
    }
}

fn of_grid(grid: &Grid, step: &Step, sheet: Option<&Sheet>) -> Markup {
    let spots = spots(grid, sheet);
    let columns = columns(grid);
    html! {
        p { (in_what(grid, sheet)) ". " (line("which")) (line("reads")) (line("writes")) }
        @if let Some(Usual { from, to }) = grid.usual {
            p { "Usually " (from) @match to { Some(to) => { " to " (to) }, None => " or more" } ", no limit: " (PRACTICE) "." }
        }
        table {
            thead { tr { th { "place" } @for column in &columns { th { (column) } } } }
            @for spot in &spots { tr { td { (spot) } @for _ in &columns { td.box {} } } }
        }
        @for judged in &step.judges {
            @let levels = sheet.and_then(|sheet| sheet.levels.get(&judged.characteristic));
            @let absent = sheet.and_then(|sheet| sheet.absent.get(&judged.characteristic));
            p { (judged.characteristic.name()) ":" }
            @match (levels, absent) {
                (Some(levels), _) => pre { (level_lines(levels).join("\n")) },
                (None, Some(reason)) => p { "this machine has none: " (reason) },
                (None, None) => p { "no level on this paper" },
            }
        }
    }
}

/// `In mm. Gauge: dial gauge`, `In N m or deg. Gauge: torque wrench`; pieces are counted and need no gauge. Where
/// the sheet's figures are in another unit: `In mm, or with `in` written behind each figure`.
fn in_what(grid: &Grid, sheet: Option<&Sheet>) -> String {
    if grid.counts() {
        return "Pieces, counted".to_owned();
    }
    let or = grid.or.map(|or| format!(" or {or}")).unwrap_or_default();
    let gauge = if grid.gauge == GaugeKind::Other { String::new() } else { format!(". Gauge: {}", grid.gauge.word()) };
    let own = sheet
        .map(|sheet| sheet.unit_of(grid.unit))
        .filter(|own| *own != grid.unit && own.dimension() == Dimension::Length);
    let own = own.map(|own| format!(", or with `{own}` written behind each figure")).unwrap_or_default();
    format!("In {}{or}{}{own}{gauge}", grid.unit, own_units(grid))
}

/// `, bolts as a number, stage 1 in %`.
fn own_units(grid: &Grid) -> String {
    let told = grid.units.iter().map(|(name, unit)| {
        if *unit == Unit::One { format!(", {name} as a number") } else { format!(", {name} in {unit}") }
    });
    told.collect()
}

/// Places in the hand's order, each once.
fn spots(grid: &Grid, sheet: Option<&Sheet>) -> Vec<String> {
    let mut spots: Vec<String> = Vec::new();
    for block in &grid.blocks {
        for row in &block.rows {
            let one = Grid {
                blocks: vec![crate::domain::checklist::Block { rows: vec![row.clone()], across: block.across.clone() }],
                ..grid.clone()
            };
            let cells: Vec<String> = one.cells(sheet).iter().map(Cell::spot).collect();
            if cells.is_empty() {
                let word = row
                    .split_once("..")
                    .map_or(row.as_str(), |(begin, _)| begin.trim_end_matches(|c: char| c.is_ascii_digit()));
                spots.extend((1..=SPARE_ROWS).map(|number| format!("{word}{number}")));
            }
            spots.extend(cells);
        }
    }
    let mut seen = std::collections::BTreeSet::new();
    spots.retain(|spot| seen.insert(spot.clone()));
    spots
}

/// `1 down`, `1 up`, `2 down`; one column where a place has one figure.
fn columns(grid: &Grid) -> Vec<String> {
    let repeats =
        (1..=grid.repeats.max(1)).map(|repeat| if grid.repeats > 1 { repeat.to_string() } else { String::new() });
    let each = repeats.flat_map(|repeat| {
        let figures = if grid.figures.is_empty() { vec!["figure".to_owned()] } else { grid.figures.clone() };
        figures.into_iter().map(move |figure| format!("{repeat} {figure}").trim().to_owned())
    });
    each.collect()
}
