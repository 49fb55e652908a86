//! Figures in a grid of places, in the hand's order. Nothing averaged is judged before the last repeat.

use crate::domain::checklist::Grid;
use crate::domain::inspection::Doubted;
use crate::domain::judge::{self, Condition};
use crate::domain::progress;
use crate::domain::request::Request;

use super::super::asking;
use super::super::effect::Effect;
use super::super::input::Key;
use super::super::job::Job;
use super::super::look::Tone;
use super::super::model::Model;
use super::super::pen::{Pen, tail, width};
use super::super::shown;
use super::super::widget::table::{self, Horizontal, Line, Spot, Table, Vertical};
use super::{bench, gauge};

/// Columns that a table has on any screen.
const COLUMNS: usize = 78;

/// Enter: takes the figure; on an empty field says what is wanted, or goes on where nothing is.
pub fn enter(model: &mut Model) -> Vec<Effect> {
    let Some(job) = model.job() else { return Vec::new() };
    if job.field().trim().is_empty() {
        if job.is_step_settled() {
            bench::next_step(model);
        } else {
            let place = job.cell().map(|cell| cell.spoken()).unwrap_or_default();
            let unit = job.grid().map(|grid| grid.unit.symbol()).unwrap_or_default();
            let taken = job.step().and_then(|step| job.inspection.reading(&step.id, &job.place()));
            let words = match taken {
                Some(taken) => format!("{place} holds {}. To take it again, strike it first: Esc 1.", taken.figure),
                None => format!("Wanted: {place}, in {unit}. Type the figure, then Enter."),
            };
            model.say(Tone::Watch, words);
        }
        return Vec::new();
    }
    let Some(step) = job.step() else { return Vec::new() };
    let request = Request::Reading {
        step: step.id.clone(),
        place: job.place(),
        text: job.field().to_owned(),
        gauge: job.gauge().map(|gauge| gauge.id.clone()),
        insisted: Vec::new(),
    };
    asking::ask(model, request)
}

/// Arrows: to the field beside, above or below.
pub fn go(model: &mut Model, key: Key) {
    let Some(job) = model.job_mut() else { return };
    let Some(grid) = job.grid() else { return };
    let table = table::lay_out(grid, &job.cells(), COLUMNS);
    let next = match key {
        Key::Up => table.vertical(job.at(), Vertical::Up),
        Key::Down => table.vertical(job.at(), Vertical::Down),
        Key::Left => table.horizontal(job.at(), Horizontal::Left),
        _ => table.horizontal(job.at(), Horizontal::Right),
    };
    if let Some(next) = next {
        job.go_to_line(next);
    }
}

/// `inner 0, third up  [ 0.23_  ] mm     D2  0.002 mm  one turn 0.200 mm`.
pub fn now_line(pen: &mut Pen<'_>, y: usize, _model: &Model, job: &Job) {
    let Some(grid) = job.grid() else { return };
    if job.is_step_settled() && job.field().is_empty() {
        pen.put(3, y, "all taken. Enter: next step", Tone::Strong);
        return;
    }
    let place = job.cell().map(|cell| cell.spoken()).unwrap_or_default();
    let x = pen.put(3, y, &place, Tone::Strong);
    let x = bench::field(pen, (x.max(24) + 1, y), 14, job.field());
    pen.put(x + 1, y, grid.unit.symbol(), Tone::Strong);
    let words = match job.gauge() {
        Some(gauge) => {
            let resolves = gauge.resolution.map(|resolution| format!("  resolves {}", resolution.decimal()));
            let turn = gauge.turn.map(|turn| format!(", turn {}", turn.decimal()));
            format!("{}{}{}", gauge.id, resolves.unwrap_or_default(), turn.unwrap_or_default())
        }
        None => format!("{}? Esc 2", grid.gauge.word()),
    };
    let tone = if job.gauge().is_some() { Tone::Plain } else { Tone::Watch };
    pen.right(1, y, &words, tone);
}

/// What the gauge's date says, right of who is here.
pub fn fitness_line(pen: &mut Pen<'_>, y: usize, model: &Model, job: &Job) {
    let Some(gauge) = job.gauge() else { return };
    let (words, tone) = gauge::fitness(gauge, model.now.stamp);
    if let Some(words) = words {
        pen.right(1, y, &format!("{}: {words}", gauge.id), tone);
    }
}

/// ```text
///           1 down  1 up    2 down  2 up    3 down  3 up
///  outer 0   0.020   0.228   0.020   0.230   0.022   0.230   0.2087 + within
///  inner 0   0.020   0.234   0.020   0.234   0.018 [0.23_ ]
/// ```
pub fn view(pen: &mut Pen<'_>, job: &Job, grid: &Grid) {
    let cells = job.cells();
    if cells.is_empty() {
        pen.put(1, 0, "The limits sheet does not say how many places there are. Nothing can be taken here.", Tone::Watch);
        return;
    }
    let table = table::lay_out(grid, &cells, COLUMNS);
    let room = pen.height();
    let here = table.line_of(job.at());
    // a heading stays in sight with its rows
    let first = (here + 1).saturating_sub(room).min(table.lines.len().saturating_sub(room));
    let heading = (0..first).rev().find(|line| matches!(table.lines.get(*line), Some(Line::Heading(_))));
    for (row, line) in table.lines.iter().enumerate().skip(first).take(room) {
        let y = row - first;
        let pinned = heading.and_then(|heading| table.lines.get(heading)).filter(|_| y == 0 && row != here);
        draw_line(pen, y, pinned.unwrap_or(line), job, &table);
    }
    if first > 0 || table.lines.len() > first + room {
        pen.right(1, 0, &format!("rows {} to {} of {}", first + 1, (first + room).min(table.lines.len()), table.lines.len()), Tone::Quiet);
    }
}

fn draw_line(pen: &mut Pen<'_>, y: usize, line: &Line, job: &Job, table: &Table) {
    match line {
        Line::Heading(names) => {
            for (x, name) in names {
                let right = (x + table.width).saturating_sub(width(name) + 1);
                pen.put(right, y, name, Tone::Quiet);
            }
        }
        Line::Places { labels, spots, spot } => {
            for (x, label) in labels {
                let mine = spots.iter().any(|spot| spot.cell == job.at());
                pen.put(*x, y, label, if mine { Tone::Strong } else { Tone::Plain });
            }
            for spot in spots {
                draw_spot(pen, y, spot, job, table.width);
            }
            if let Some(spot) = spot {
                draw_value(pen, y, spots.last().map_or(0, |last| last.x + table.width + 1), spot, job);
            }
        }
    }
}

fn draw_spot(pen: &mut Pen<'_>, y: usize, spot: &Spot, job: &Job, columns: usize) {
    let cells = job.cells();
    let (Some(cell), Some(step), Some(grid)) = (cells.get(spot.cell), job.step(), job.grid()) else { return };
    let place = cell.place();
    let taken = job.inspection.reading(&step.id, &place);
    let here = spot.cell == job.at();
    let typed = job.typed_at(&place);
    let (text, tone) = match &taken {
        Some(taken) => {
            let figure = taken.figure;
            let text = if figure.unit() == grid.unit {
                figure.decimal().to_string()
            } else {
                figure.to(grid.unit).map(|exact| shown::figure(&exact, crate::domain::unit::Unit::One, None)).unwrap_or_default()
            };
            let doubted = if taken.doubted == Doubted::Yes { "?" } else { "" };
            let unsaved = if job.saving.has(taken.entry) { "" } else { "*" };
            (format!("{text}{doubted}{unsaved}"), if doubted.is_empty() { Tone::Plain } else { Tone::Watch })
        }
        None if job.inspection.is_left_out(&step.id, &place) => ("out".to_owned(), Tone::Watch),
        None if !typed.is_empty() => (tail(typed, columns - 3).to_owned(), Tone::Strong),
        None => ("-".to_owned(), Tone::Quiet),
    };
    let room = columns - 1;
    if here {
        let inside = tail(&text, room - 2);
        pen.put(spot.x, y, &format!("[{inside:>width$}]", width = room - 2), Tone::Here);
    } else {
        let text = tail(&text, room);
        pen.put(spot.x + room - width(text), y, text, tone);
    }
}

/// The value of a place and its verdict, once its repeats are complete.
fn draw_value(pen: &mut Pen<'_>, y: usize, x: usize, spot: &str, job: &Job) {
    let Some(step) = job.step() else { return };
    let Some(standing) = job.standing.of_step(&step.id).next() else { return };
    let measured = &standing.measured;
    let Some(value) = measured.values.iter().find(|value| value.spot == spot) else { return };
    let sheet = job.inspection.sheet();
    let levels = sheet.and_then(|sheet| sheet.levels.get(&standing.characteristic));
    let condition = if step.phase.is_as_left() { Condition::AsLeft } else { Condition::AsFound };
    let figure = judge::Judged { value: &value.value, unit: measured.unit, variance: value.variance.as_ref() };
    let reached = sheet.zip(levels).and_then(|(sheet, levels)| judge::judge(&figure, levels, condition, sheet).ok());
    let bound = reached.as_ref().and_then(|reached| reached.bound.as_ref());
    let text = shown::figure(&value.value, crate::domain::unit::Unit::One, bound);
    let x = pen.put(x, y, &format!("{text:>7}"), Tone::Strong);
    match reached {
        Some(reached) => {
            let (words, tone) = shown::reached_words(&reached);
            pen.put(x + 1, y, &words, tone);
        }
        None => {
            pen.put(x + 1, y, "? no level", Tone::Watch);
        }
    }
}
