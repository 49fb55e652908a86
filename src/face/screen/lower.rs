//! The lower half of a step, turned by Tab: judged on a scale, the working, why, how, the usual mistakes, last time.

mod text;

use std::cmp::Reverse;

use crate::domain::beside::{self, Beside};
use crate::domain::capability::{self, Capability};
use crate::domain::checklist::Step;
use crate::domain::exact::Exact;
use crate::domain::judge::{Condition, Reach};
use crate::domain::measured::PlaceValue;
use crate::domain::outlook::Outlook;
use crate::domain::sheet::{Level, Levels};
use crate::domain::stamp::long_day;
use crate::domain::standing::{CharacteristicStanding, Outcome};
use crate::domain::telling;
use crate::domain::unit::{Dimension, Unit};

use super::super::action::Scope;
use super::super::job::{Job, Lower};
use super::super::look::Tone;
use super::super::model::Model;
use super::super::pen::{Pen, hang, width, wrap};
use super::super::shown::{self, Shown};
use super::super::widget::scale::{Pointer, Scale};
use super::{bench, small};
pub use text::prose;
use text::{last_time, text};

/// So many reasons stand under the figures; the rest is in the working.
const WHYS: usize = 2;

/// ```text
/// -- judged ---------------------------------------------------------------------
///        0.130                      0.170                     0.210  0.220
///  XXXXXXX|==========================|.........................|~~~~~~|XXXXXXXXXX
///  replace            new             largest 0.2087, outer 0 ^ watch   replace
/// ```
pub fn view(pen: &mut Pen<'_>, model: &Model, job: &Job) {
    let Some(step) = job.step() else { return };
    match page(model, (job, step), pen.width()) {
        Some((title, lines)) => text(pen, job, title, &lines),
        None => judged(pen, job, step),
    }
}

/// Heading and lines of a view that is text.
fn page(model: &Model, (job, step): (&Job, &Step), columns: usize) -> Option<(&'static str, Vec<String>)> {
    match job.lower {
        Lower::Judged if bench::scope(job) == Scope::Shut => {
            let below: Vec<_> = bench::shut_below(job, columns).collect();
            let title = if below.len() < job.shut.len() { "what else comes first" } else { "what comes first" };
            Some(if below.is_empty() { ("why it is done", step.why.clone()) } else { (title, below) })
        }
        Lower::Judged => None,
        Lower::Before => Some(("to know before", telling::beforehand(&job.inspection, step))),
        Lower::Working => Some(("working", working(job, step))),
        Lower::Why if job.is_learning() => {
            let between = if step.why.is_empty() || step.how.is_empty() { None } else { Some(String::new()) };
            let lines = step.why.iter().cloned().chain(between).chain(step.how.iter().cloned());
            Some(("why it is done, and how to hold it", lines.collect()))
        }
        Lower::Why => Some(("why it is done", prose(&step.why, columns))),
        Lower::How => {
            let doing = small::doing(model, step);
            let title = if doing.is_empty() { "how to hold it" } else { "what to do, how to hold it" };
            Some((title, [doing, &step.how].map(|lines| prose(lines, columns)).concat()))
        }
        Lower::Mistakes => Some(("the usual mistakes, and which way each errs", step.mistakes.clone())),
        Lower::LastTime => Some(("last time", last_time(job, step))),
    }
}

/// Rows that a view of text needs, its heading too.
pub fn text_rows(model: &Model, job: &Job, columns: usize) -> usize {
    let lines =
        job.step().and_then(|step| page(model, (job, step), columns)).map(|(_, lines)| lines).unwrap_or_default();
    1 + lines.iter().map(|line| hang(line, columns.saturating_sub(2)).len()).sum::<usize>()
}

/// Whether text stands there, and no scale.
pub fn is_text(job: &Job) -> bool {
    job.lower != Lower::Judged || bench::scope(job) == Scope::Shut
}

/// What the step judges, the worst first.
pub fn by_weight(job: &Job) -> Vec<&CharacteristicStanding> {
    let mut all: Vec<_> = job.step().into_iter().flat_map(|step| job.standing.of_step(&step.id)).collect();
    all.sort_by_key(|one| Reverse(shown::how_bad(one)));
    all
}

/// How many rows the judged view asks for.
pub fn judged_rows(job: &Job, columns: usize) -> usize {
    let beside = job.step().map_or(0, |step| beside_rows(job, step, columns).len());
    first_row(job, columns) + beside
}

/// Rows above what stands beside the figures.
fn first_row(job: &Job, columns: usize) -> usize {
    let more = only(job).map_or(0, |only| head(only, columns).2.len().saturating_sub(1));
    more + why_open(job, columns).len() + usize::from(last_time_row(job).is_some()) + scale_rows(job)
}

/// What stands beside the figures, whole: a line that is too long goes on below, under its sign.
fn beside_rows(job: &Job, step: &Step, columns: usize) -> Vec<(char, String)> {
    let rows = |line: Beside| {
        let rows = wrap(&line.words, columns.saturating_sub(4)).into_iter().enumerate();
        let row = move |(row, words)| {
            (line.sign, if row == 0 { format!("{} {words}", line.sign) } else { format!("  {words}") })
        };
        rows.map(row).collect::<Vec<_>>()
    };
    beside::lines(&job.inspection, step).into_iter().flat_map(rows).collect()
}

/// What the step judges, where that is one figure.
fn only(job: &Job) -> Option<&CharacteristicStanding> {
    let mut all = job.step().into_iter().flat_map(|step| job.standing.of_step(&step.id));
    all.next().filter(|_| all.next().is_none())
}

/// `last time 0.176 mm at inner 0, 8 June 2022`, where one figure is judged and its set is complete.
fn last_time_row(job: &Job) -> Option<String> {
    let only = only(job)?;
    let past = only.last.as_ref().filter(|_| matches!(only.outcome, Outcome::Judged(_)))?;
    let what = flat(only);
    let unit = if what.is_empty() { only.measured.unit } else { Unit::Millimetre };
    let place = past.place.as_ref().map(|place| format!(" at {place}")).unwrap_or_default();
    Some(format!("last time {what}{}{place}, {}", shown::figure(&past.value, unit, None), long_day(past.date)))
}

/// Why something cannot be judged yet, in full; more than two reasons are counted.
fn why_open(job: &Job, columns: usize) -> Vec<String> {
    let of_step = job.step().into_iter().flat_map(|step| job.standing.of_step(&step.id));
    let mut all: Vec<String> = Vec::new();
    for why in of_step.flat_map(|one| Shown::of(one).why) {
        if !all.contains(&why) {
            all.push(why);
        }
    }
    let more = all.len().saturating_sub(WHYS);
    all.truncate(WHYS);
    all.extend((more > 0).then(|| format!("and {more} more: Tab, working")));
    all.iter().flat_map(|why| wrap(&format!("? {why}"), columns.saturating_sub(2))).collect()
}

/// Rows of that without what stands beside the figures.
fn scale_rows(job: &Job) -> usize {
    let count = job.step().map_or(0, |step| job.standing.of_step(&step.id).count());
    match count {
        0 => 2,
        1 => 4,
        more => more + 4,
    }
}

fn judged(pen: &mut Pen<'_>, job: &Job, step: &Step) {
    let beside = beside_rows(job, step, pen.width());
    let whys = why_open(job, pen.width());
    let first = first_row(job, pen.width());
    for (row, (sign, words)) in beside.iter().enumerate() {
        let tone = match sign {
            '+' => Tone::Good,
            'X' => Tone::Bad,
            '?' => Tone::Watch,
            _ => Tone::Plain,
        };
        pen.put(1, first + row, words, tone);
    }
    let all = by_weight(job);
    // the scale that is drawn has a figure, where one has
    let judged = all.iter().find(|one| one.judgement().is_some());
    let Some(gravest) = judged.or(all.first()).copied() else {
        pen.rule(0, "");
        pen.put(1, 1, "Nothing is judged here. Tab shows why, how and the usual mistakes.", Tone::Quiet);
        return;
    };
    if let [only] = all.as_slice() {
        let (name, figure, verdict) = head(only, pen.width());
        let tone = Shown::of(only).tone;
        let x = heading(pen, 0, &name);
        let x = if figure.is_empty() { x } else { pen.put(x, 0, &format!(" {figure} "), Tone::Strong) };
        let (first, rest) = verdict.split_first().map_or(("", &[][..]), |(first, rest)| (first.as_str(), rest));
        pen.put(x, 0, &format!(" {first} "), tone);
        for (row, line) in rest.iter().enumerate() {
            pen.put(3, 1 + row, line, tone);
        }
        let last = last_time_row(job);
        pen.put(1, 1 + rest.len(), last.as_deref().unwrap_or_default(), Tone::Plain);
        let first = 1 + rest.len() + usize::from(last.is_some());
        put_whys(pen, first, &whys);
        scale(pen, first + whys.len(), job, only);
        return;
    }
    let order = if gravest.judgement().is_some() { ", worst first" } else { "" };
    pen.rule(0, &format!("judged{order}; scale: {}", gravest.characteristic.name()));
    for (row, one) in all.iter().enumerate() {
        line(pen, row + 1, one);
    }
    put_whys(pen, all.len() + 1, &whys);
    scale(pen, all.len() + 1 + whys.len(), job, gravest);
}

/// What stands over the scale of one figure: its name, the figure, the verdict. Where that is too long the place gives way
/// first, which stands at the pointer too, then the temperature and the figure; then the verdict goes on below.
fn head(only: &CharacteristicStanding, columns: usize) -> (String, String, Vec<String>) {
    let shown = Shown::of(only);
    // a mean taken at another temperature differs from the figure judged by what the working says
    let warm = only.measured.values.iter().any(|value| value.value != value.as_read && value.trend.is_none());
    let at_20 = if warm && only.measured.unit.dimension() == Dimension::Length { ", at 20 degC" } else { "" };
    let bare = only.characteristic.name();
    let (name, short) = (format!("{bare}{at_20}"), shown.figure.split(" at ").next().unwrap_or_default());
    let ways = [(name.as_str(), shown.figure.as_str()), (&name, short), (bare, short), (bare, "")];
    let room = |(name, figure): &(&str, &str)| columns.saturating_sub(width(name) + width(figure) + 11);
    let fits = ways.iter().find(|way| width(&shown.verdict) <= room(way)).unwrap_or(&ways[3]);
    (fits.0.to_owned(), fits.1.to_owned(), wrap(&shown.verdict, room(fits)))
}

fn put_whys(pen: &mut Pen<'_>, first: usize, whys: &[String]) {
    for (row, why) in whys.iter().enumerate() {
        pen.put(1, first + row, why, Tone::Watch);
    }
}

fn heading(pen: &mut Pen<'_>, y: usize, name: &str) -> usize {
    pen.rule(y, "");
    pen.put(3, y, &format!(" {name}: "), Tone::Plain)
}

/// One characteristic in one line.
pub fn line(pen: &mut Pen<'_>, y: usize, standing: &CharacteristicStanding) {
    let shown = Shown::of(standing);
    let end = pen.width().saturating_sub(1);
    let name = name_in(standing.characteristic.name(), 31);
    pen.cut(1, y, &name, 32);
    if shown.figure.is_empty() {
        // why it is open stands whole below
        let fits = 33 + width(&shown.verdict) <= end || shown.why.is_empty();
        let verdict = if fits { Some(shown.verdict.as_str()) } else { shown.verdict.split(": ").next() };
        pen.cut_in((33, y), verdict.unwrap_or_default(), end, shown.tone);
        return;
    }
    // the verdict stands whole: the figure goes without its place, and beside the name, where it takes more room
    let room = end.saturating_sub(width(&shown.verdict));
    let fits = room >= 56;
    let whole = fits && 33 + width(&shown.figure) <= 55;
    let figure = if whole { shown.figure.as_str() } else { shown.figure.split(" at ").next().unwrap_or_default() };
    let at = 33.min(room.saturating_sub(width(figure) + 1));
    if at < 33 {
        pen.put(1, y, &" ".repeat(31), Tone::Plain);
        let room = at.saturating_sub(2);
        pen.cut_in((1, y), &name_in(standing.characteristic.name(), room), at.saturating_sub(1), Tone::Plain);
    }
    let x = pen.cut_in((at, y), figure, room.min(55), Tone::Strong);
    let x = pen.cut_in((if fits { 56 } else { x + 1 }, y), &shown.verdict, end, shown.tone);
    if let Some(last) = last_beside(standing).filter(|last| x + width(last) + 1 < end) {
        pen.right(1, y, &last, Tone::Quiet);
    }
}

/// A name that does not fit says its side in one word: `journal diameter, compressor`.
fn name_in(name: &str, room: usize) -> String {
    if width(name) > room { name.replace(" side", "") } else { name.to_owned() }
}

/// The history of a land is its flat, which the trend runs on, and not the ratio that is judged.
fn flat(standing: &CharacteristicStanding) -> &'static str {
    if standing.measured.values.iter().any(|value| value.trend.is_some()) { "flat " } else { "" }
}

/// `last time 0.176`, once the set is complete and not before, so that nobody copies it.
fn last_beside(standing: &CharacteristicStanding) -> Option<String> {
    let past = standing.last.as_ref().filter(|_| matches!(standing.outcome, Outcome::Judged(_)))?;
    Some(format!("last time {}{}", flat(standing), shown::figure(&past.value, Unit::One, None)))
}

/// The scale of one characteristic: its extreme figures and the one that counts.
fn scale(pen: &mut Pen<'_>, y: usize, job: &Job, standing: &CharacteristicStanding) {
    let sheet = job.inspection.sheet();
    let levels = sheet.and_then(|sheet| sheet.levels.get(&standing.characteristic));
    let (Some(sheet), Some(levels)) = (sheet, levels) else {
        pen.put(1, y, "? open: the limits sheet has no level for it; nothing is green without one", Tone::Watch);
        return;
    };
    // as left the new range alone judges; a life has none, and runs to the same end
    let as_left = standing.condition == Condition::AsLeft && standing.measured.unit != Unit::Hour;
    let new = levels.new.clone();
    let by_new = Levels { alert: None, limit: new.clone(), new, part_number: None };
    let levels = if as_left { &by_new } else { levels };
    // repeats of the present place may still be open: only complete places are shown
    let values = standing.measured.values.iter().chain(standing.judgement().map(|judgement| &judgement.value));
    let values: Vec<&Exact> = values.map(|value| &value.value).collect();
    let unit = standing.measured.unit;
    let Some(scale) = Scale::new(levels, unit, sheet, &values) else { return };
    let shown = Shown::of(standing);
    let counts = standing.judgement().map(|judgement| &judgement.value);
    let complete = matches!(
        standing.outcome,
        Outcome::Judged(_) | Outcome::Incomplete(Some(_)) | Outcome::Past(..) | Outcome::Open(_)
    );
    let marked = counts.filter(|_| complete).or_else(|| shown::worst(&job.inspection, standing));
    let past = levels.limit.as_ref().map_or("", |limit| limit.leads_to().word());
    let past = if as_left { Reach::NotNew.word() } else { past };
    let pointers = marked.map(|value| {
        let number = shown::figure(&value.value, Unit::One, None);
        let word = if complete { "" } else { "worst so far " };
        let tone = if complete { shown.tone } else { Tone::Strong };
        Pointer { figure: &value.value, words: format!("{word}{number}, {}", value.spot), tone }
    });
    let other = marked.and_then(|marked| other_end(standing, levels, marked));
    let other = other.map(|value| {
        let number = shown::figure(&value.value, Unit::One, None);
        Pointer { figure: &value.value, words: format!("{number}, {}", value.spot), tone: Tone::Plain }
    });
    let pointers: Vec<Pointer<'_>> = pointers.into_iter().chain(other).collect();
    scale.draw(pen, y, &pointers, past);
}

/// Where levels stand on both sides, the place farthest from the one that counts: it is short of the other side.
fn other_end<'a>(standing: &'a CharacteristicStanding, levels: &Levels, counts: &PlaceValue) -> Option<&'a PlaceValue> {
    let sides =
        |level: &Option<Level>| level.as_ref().is_some_and(|level| level.upper().is_some() && level.lower().is_some());
    let values = standing.measured.values.iter().filter(|value| value.value != counts.value);
    let far = values.max_by_key(|value| (&value.value - &counts.value).abs());
    far.filter(|_| sides(&levels.limit) || sides(&levels.alert))
}

/// The working of everything that the step judges, with level, source and forecast.
pub fn working(job: &Job, step: &Step) -> Vec<String> {
    let mut lines = Vec::new();
    for standing in job.standing.of_step(&step.id) {
        let shown = Shown::of(standing);
        lines.push(format!("{}: {} {}", standing.characteristic.name(), shown.figure, shown.verdict));
        for fault in &standing.measured.faults {
            lines.push(format!("  ! {fault}"));
        }
        for working in standing.workings(&job.inspection) {
            lines.extend(working.text_lines().into_iter().map(|line| format!("  {line}")));
        }
        if let Some(judgement) = standing.judgement() {
            let reached = &judgement.reached;
            let guard = reached
                .guard
                .as_ref()
                .map(|guard| format!(" Guard {}.", shown::figure(guard, standing.measured.unit, None)));
            lines.push(format!("  {}{} Source: {}", shown.level, guard.unwrap_or_default(), reached.source));
        }
        lines.extend(outlook(standing));
    }
    lines.extend(telling::besides(&job.inspection, step));
    if let Some(gauge) = job.gauge() {
        lines.extend(capability::of_step(&job.inspection, step, gauge).iter().map(Capability::told));
        lines.extend(capability::lacks(&job.inspection, step, gauge));
        for working in capability::workings(&job.inspection, step, gauge) {
            lines.extend(working.text_lines().into_iter().map(|line| format!("  {line}")));
        }
    }
    if lines.is_empty() {
        lines.push("Nothing is judged at this step.".to_owned());
    }
    lines
}

/// Whether it will last, in one line.
fn outlook(standing: &CharacteristicStanding) -> Option<String> {
    match standing.outlook.as_ref()? {
        Outlook::Told { leads_to, .. } => Some(format!("  forecast to the next opening: {}", leads_to.word())),
        Outlook::None(why) | Outlook::Still(why) => Some(format!("  no forecast: {why}")),
    }
}
