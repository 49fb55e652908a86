//! Figures in a grid of places, in the hand's order. Nothing averaged is judged before the last repeat.

use crate::domain::capability::{self, Capability};
use crate::domain::checklist::{Cell, Grid};
use crate::domain::inspection::Doubted;
use crate::domain::instrument::{GaugeKind, Instrument};

use crate::domain::request::Request;
use crate::domain::unit::Unit;

use super::super::asking;
use super::super::effect::Effect;
use super::super::input::Key;
use super::super::job::Job;
use super::super::look::Tone;
use super::super::model::{Model, Overlay};
use super::super::pen::{Pen, tail, width};
use super::super::shown;
use super::super::widget::table::{self, Horizontal, Line, Spot, Vertical};
use super::{bench, gauge, question, tick};

/// Columns of the widest table.
const COLUMNS: usize = 78;

/// The column of a value that stands under its figures.
const UNDER: usize = 3;

/// Columns of a table on a screen of this width.
fn columns_on(screen: usize) -> usize {
    screen.saturating_sub(2).min(COLUMNS)
}

/// Enter: takes the figure; on an empty field says what is wanted, or goes on where nothing is.
pub fn enter(model: &mut Model) -> Vec<Effect> {
    let Some(job) = model.job() else { return Vec::new() };
    if job.field().trim().is_empty() {
        if job.is_step_settled() {
            match question::undecided(job) {
                Some(question) => model.open(Overlay::Question(Box::new(question))),
                None => bench::next_step(model),
            }
        } else {
            let place = job.cell().map(|cell| cell.spoken()).unwrap_or_default();
            let unit = match job.grid() {
                Some(grid) if grid.counts() => "how many".to_owned(),
                Some(_) | None => format!("in {}", job.unit().symbol()),
            };
            let taken = job.step().and_then(|step| job.inspection.reading(&step.id, &job.place()));
            let words = match taken {
                Some(taken) => format!("{place} holds {}. To take it again, strike it first: Esc 1.", taken.figure),
                None => format!("Wanted: {place}, {unit}. Type the figure, then Enter."),
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
    let columns = columns_on(usize::from(model.size.0));
    let Some(job) = model.job_mut() else { return };
    let Some(grid) = job.grid() else { return };
    let table = table::lay_out(grid, &job.cells(), columns);
    let next = if key == Key::Up {
        table.vertical(job.at(), Vertical::Up)
    } else if key == Key::Down {
        table.vertical(job.at(), Vertical::Down)
    } else if key == Key::Left {
        table.horizontal(job.at(), Horizontal::Left)
    } else {
        table.horizontal(job.at(), Horizontal::Right)
    };
    if let Some(next) = next {
        job.go_to_line(next);
    }
}

/// Columns that a field with its unit takes at least, and a narrow one.
const FIELD: (usize, usize) = (26, 10);

/// `D2  resolves 0.002, turn 0.2 mm`; the turn gives way where there is no room for both.
fn beside_field(gauge: &Instrument, room: usize) -> String {
    let Some(resolution) = gauge.resolution else { return gauge.id.to_string() };
    let alone = format!("{}  resolves {resolution}", gauge.id);
    let turn = gauge.turn.map(|turn| match (turn.decimal().normalize(), turn.unit()) {
        (turn, unit) if unit == resolution.unit() => {
            format!("{}  resolves {}, turn {turn} {unit}", gauge.id, resolution.decimal())
        }
        (turn, unit) => format!("{alone}, turn {turn} {unit}"),
    });
    turn.filter(|both| both.len() <= room).unwrap_or(alone)
}

/// `inner 0, third up  [ 0.23_  ] mm     D2  0.002 mm  one turn 0.200 mm`.
pub fn now_line(pen: &mut Pen<'_>, y: usize, job: &Job) {
    let Some(grid) = job.grid() else { return };
    if job.is_step_settled() && job.field().is_empty() {
        tick::put_settled(pen, y, &tick::settled(job, "all taken"));
        return;
    }
    let place = job.cell().map(|cell| cell.spoken()).unwrap_or_default();
    let narrow = pen.width() < 76;
    // however long the place is called, its field stays in sight
    let end = pen.width().saturating_sub(if narrow { FIELD.1 } else { FIELD.0 });
    let x = pen.cut_in((3, y), &place, end, Tone::Strong);
    let x = if narrow { x + 1 } else { x.max(24) + 1 };
    let columns = pen.width().saturating_sub(x + 9).clamp(4, 14);
    let x = bench::field(pen, (x, y), columns, job.field());
    // pieces are counted in no unit
    let symbol = if grid.counts() { "" } else { job.unit().symbol() };
    pen.put(x + 1, y, symbol, Tone::Strong);
    if narrow {
        return;
    }
    let words = match job.gauge() {
        // figures from a log or a rule need no gauge
        None if grid.gauge == GaugeKind::Other && job.last_gauge().is_none() => return,
        Some(gauge) => beside_field(gauge, pen.width().saturating_sub(x + symbol.len() + 4)),
        None => match job.last_gauge() {
            Some(gauge) => format!("{}? {}: Esc 2", gauge.id, gauge::unfit(gauge, job.today())),
            None => format!("{}? Esc 2", grid.gauge.word()),
        },
    };
    let tone = if job.gauge().is_some() { Tone::Plain } else { Tone::Watch };
    pen.right(1, y, &words, tone);
}

/// What the gauge in hand can do here, right of who is here: past its date first, then what it can pass.
pub fn fitness_line(pen: &mut Pen<'_>, (from, y): (usize, usize), model: &Model, job: &Job) {
    let (Some(gauge), Some(step)) = (job.gauge(), job.step()) else { return };
    let (date, tone) = gauge::fitness(gauge, model.now.stamp.date());
    let date = date.map(|words| format!("{}: {words}", gauge.id));
    let can = capability::of_step(&job.inspection, step, gauge).into_iter().next();
    let can_tone = if can.as_ref().is_some_and(Capability::warns) { Tone::Watch } else { Tone::Plain };
    let is_unknown = can.as_ref().is_some_and(Capability::is_unknown);
    let can = can.map(|can| can.words());
    let room = pen.width().saturating_sub(from + 3);
    let (date, can) = ((date, tone), (can, can_tone));
    // without a certificate both say the same
    let (first, second) = if tone == Tone::Plain || is_unknown { (can, date) } else { (date, can) };
    let mut margin = 1;
    for (words, tone) in [first, second] {
        let Some(words) = words.filter(|words| margin - 1 + width(words) <= room) else { continue };
        pen.right(margin, y, &words, tone);
        margin += width(&words) + 3;
    }
}

/// Before the first reading: that a gauge past its date is too coarse besides is told where nothing else is said.
pub fn warning(model: &Model, job: &Job) -> Option<String> {
    let (gauge, step) = (job.gauge()?, job.step()?);
    if gauge::fitness(gauge, model.now.stamp.date()).1 == Tone::Plain {
        return None;
    }
    let taken = job.cells().iter().any(|cell| job.inspection.reading(&step.id, &cell.place()).is_some());
    let warning = capability::of_step(&job.inspection, step, gauge).into_iter().find(Capability::warns);
    warning.filter(|_| !taken).map(|warning| format!("{}. Another gauge: Esc 2", warning.words()))
}

/// ```text
///           1 down  1 up    2 down  2 up    3 down  3 up
///  outer 0   0.020   0.228   0.020   0.230   0.022   0.230   0.2087 + within
///  inner 0   0.020   0.234   0.020   0.234   0.018 [0.23_ ]
/// ```
pub fn view(pen: &mut Pen<'_>, job: &Job, grid: &Grid) {
    let cells = job.cells();
    if cells.is_empty() {
        pen.put(
            1,
            0,
            "The limits sheet does not say how many places there are. Nothing can be taken here.",
            Tone::Watch,
        );
        return;
    }
    let table = table::lay_out(grid, &cells, columns_on(pen.width()));
    let room = pen.height();
    let here = table.line_of(job.at());
    // a heading stays in sight with its rows
    let first = (here + 1).saturating_sub(room).min(table.lines.len().saturating_sub(room));
    let is_heading = |line: usize| matches!(table.lines.get(line), Some(Line::Heading(_)));
    // rows stand under their own names: where the next ones begin, those above give way
    let heading = (0..first).rev().find(|line| is_heading(*line)).filter(|_| !is_heading(first));
    for (row, line) in table.lines.iter().enumerate().skip(first).take(room) {
        let y = row - first;
        if y + 1 == room && is_heading(row) {
            // nothing of its rows is in sight
            break;
        }
        let pinned = heading.and_then(|heading| table.lines.get(heading)).filter(|_| y == 0 && row != here);
        draw_line(pen, y, pinned.unwrap_or(line), &Drawn { job, cells: &cells, columns: table.width });
    }
    let hidden = first > 0 || table.lines.len() > first + room;
    // never over a heading's names
    let names = match heading.or(Some(first)).and_then(|line| table.lines.get(line)) {
        Some(Line::Heading(names)) => names.last().map_or(0, |(x, _)| x + table.width),
        Some(Line::Places { .. }) | None => 0,
    };
    if hidden && pen.width() > names + 18 && pen.width() > 76 {
        pen.right(1, 0, &rows_in_sight(&table, (first, room), heading.filter(|_| first != here)), Tone::Quiet);
    }
}

/// `rows 1 to 6 of 8`: headings are none, nor is the row that gives way to one.
fn rows_in_sight(table: &table::Table, (first, room): (usize, usize), pinned: Option<usize>) -> String {
    let rows = |from: usize, to: usize| {
        let lines = table.lines.get(from..to.min(table.lines.len())).unwrap_or_default();
        lines.iter().filter(|line| matches!(line, Line::Places { spots, .. } if !spots.is_empty())).count()
    };
    let first = if pinned.is_some() { first + 1 } else { first };
    let above = rows(0, first);
    let end = first + room - usize::from(pinned.is_some());
    format!("rows {} to {} of {}", above + 1, rows(0, end), rows(0, table.lines.len()))
}

/// What a line of the table is drawn from.
struct Drawn<'a> {
    job: &'a Job,
    cells: &'a [Cell],
    columns: usize,
}

fn draw_line(pen: &mut Pen<'_>, y: usize, line: &Line, drawn: &Drawn<'_>) {
    match line {
        Line::Heading(names) => {
            for (x, name) in names {
                let right = (x + drawn.columns).saturating_sub(width(name) + 1);
                pen.put(right, y, name, Tone::Plain);
            }
        }
        Line::Places { labels, spots, spot } => {
            for (x, label) in labels {
                let mine = spots.iter().any(|spot| spot.cell == drawn.job.at());
                pen.put(*x, y, label, if mine { Tone::Strong } else { Tone::Plain });
            }
            for one in spots {
                draw_spot(pen, y, one, drawn);
                if spot.is_none() {
                    draw_sign(pen, y, one, drawn);
                }
            }
            if let Some(spot) = spot {
                let x = spots.last().map_or(UNDER, |last| last.x + drawn.columns + 1);
                draw_value(pen, y, x, spot, drawn.job);
            }
        }
    }
}

fn draw_spot(pen: &mut Pen<'_>, y: usize, spot: &Spot, drawn: &Drawn<'_>) {
    let Some(cell) = drawn.cells.get(spot.cell) else { return };
    let room = drawn.columns - 1;
    let (text, tone) = spot_text(drawn.job, cell, room);
    let end = spot.x + room;
    if spot.cell == drawn.job.at() {
        // the brackets stand around the figure, which keeps all its digits and its place under the others
        let inside = tail(&text, room);
        let wide = width(inside).max(room - 2);
        pen.put((end - wide).saturating_sub(1), y, &format!("[{inside:>wide$}]"), Tone::Here);
    } else {
        let text = tail(&text, room);
        pen.put(end - width(text), y, text, tone);
    }
}

/// The verdict's sign behind a figure that is judged by itself and has no row of its own.
fn draw_sign(pen: &mut Pen<'_>, y: usize, spot: &Spot, drawn: &Drawn<'_>) {
    let (Some(cell), Some(step)) = (drawn.cells.get(spot.cell), drawn.job.step()) else { return };
    let place = cell.spot();
    // behind the last figure of the place
    if drawn.cells.iter().skip(spot.cell + 1).any(|later| later.spot() == place) {
        return;
    }
    let Some((standing, value)) = shown::judged_at(drawn.job, &step.id, &place) else { return };
    let (words, tone) = shown::place_words(&drawn.job.inspection, standing, value);
    let sign = words.chars().take(1).collect::<String>();
    pen.put(spot.x + drawn.columns - 1, y, &sign, tone);
}

/// The figure of a place with `?` where a doubt was insisted on and `*` while it is not on the disk; or what is half typed.
fn spot_text(job: &Job, cell: &Cell, room: usize) -> (String, Tone) {
    let (Some(step), Some(grid)) = (job.step(), job.grid()) else { return (String::new(), Tone::Plain) };
    let (place, unit) = (&cell.place(), grid.unit_of(cell));
    let typed = job.typed_at(place);
    match job.inspection.reading(&step.id, place) {
        Some(taken) => {
            let figure = taken.figure;
            let converted = || figure.to(unit).map(|exact| shown::figure(&exact, Unit::One, None)).unwrap_or_default();
            let text = if figure.unit() == unit { figure.decimal().to_string() } else { converted() };
            let unsaved = if job.saving.has(taken.entry) { "" } else { "*" };
            let (doubted, tone) = match taken.doubted {
                Doubted::Yes => ("?", Tone::Watch),
                Doubted::No => ("", Tone::Plain),
            };
            // a figure keeps its digits before it keeps its marks
            let marked = [format!("{text}{doubted}{unsaved}"), format!("{text}{doubted}")];
            let fits = marked.into_iter().find(|marked| width(marked) <= room);
            (fits.unwrap_or(text), tone)
        }
        None if job.inspection.is_left_out(&step.id, place) => ("out".to_owned(), Tone::Watch),
        None if !typed.is_empty() => (tail(typed, room).to_owned(), Tone::Strong),
        None => ("-".to_owned(), Tone::Quiet),
    }
}

/// The value of a place and its verdict, once its repeats are complete.
fn draw_value(pen: &mut Pen<'_>, y: usize, x: usize, spot: &str, job: &Job) {
    let Some(step) = job.step() else { return };
    let Some((standing, value)) = shown::judged_at(job, &step.id, spot) else { return };
    let reached = shown::reached(&job.inspection, standing, value);
    let bound = reached.as_ref().and_then(|reached| reached.bound.as_ref());
    let text = shown::aligned(&value.value, bound);
    let x = pen.put(x, y, &format!("{text:>7}"), Tone::Strong);
    let (words, tone) = shown::place_words(&job.inspection, standing, value);
    // the sign before a word that is cut
    let fits = x + 1 + width(&words) < pen.width();
    let words = if fits { words } else { words.chars().take(1).collect() };
    pen.put(x + 1, y, &words, tone);
}
