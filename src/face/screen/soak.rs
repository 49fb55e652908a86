//! A wait: a soak, a drying, a dye that stays on. Its clock runs on while other steps go on, and over a restart. What is done
//! as it stops, the step says: the same words serve for all of them.

use chrono::Duration;

use crate::domain::entry::{Act, TimerMark};
use crate::domain::figure::Figure;
use crate::domain::progress::{self, Soaking, StepState};
use crate::domain::request::Request;
use crate::domain::soak::{is_cut_short, shows_nothing, strayed};
use crate::domain::stamp::Stamp;
use crate::domain::unit::Unit;

use super::super::acts::Other;
use super::super::asking;
use super::super::effect::Effect;
use super::super::job::Job;
use super::super::look::Tone;
use super::super::model::Model;
use super::super::pen::{Pen, width, wrap};
use super::{asked, bench, tick};

/// Enter: starts it, or ends it.
pub fn enter(model: &mut Model) -> Vec<Effect> {
    let Some(job) = model.job() else { return Vec::new() };
    let Some(step) = job.step() else { return Vec::new() };
    let mark = match progress::state(&job.inspection, step) {
        StepState::Done | StepState::Skipped | StepState::NotApplicable | StepState::NotAsked => {
            bench::next_step(model);
            return Vec::new();
        }
        StepState::Running { .. } => TimerMark::Ended,
        StepState::ToDo | StepState::Partly { .. } => TimerMark::Started,
    };
    let running = progress::soaking(&job.inspection).into_iter().find(|one| one.step.id == step.id);
    let is_early = running.is_some_and(|one| due(&one).seconds_since(model.now.stamp) > 0);
    if job.late.is_some() || is_early {
        let title = if job.late.is_some() { Other::Soak.title() } else { "stop before its time?" };
        return asked::open(model, asked::Purpose::Other(Other::Soak), title);
    }
    let act = Act::Timer { step: step.id.clone(), mark };
    asking::ask(model, Request::Do(act))
}

/// Whole minutes of a time.
fn minutes(time: Figure) -> i64 {
    let minutes = time.to(Unit::Minute).map(|minutes| minutes.rounded(0, crate::domain::exact::Rounding::Up));
    minutes.and_then(|minutes| minutes.parse().ok()).unwrap_or(0)
}

/// The moment so long after `since`.
fn after(since: Stamp, time: Figure) -> Stamp {
    let moment = since.moment();
    moment.checked_add_signed(Duration::minutes(minutes(time))).unwrap_or(moment).into()
}

/// `1 h 35`, `12 min`.
pub fn span(seconds: i64) -> String {
    let minutes = (seconds + 59) / 60;
    if minutes >= 60 { format!("{} h {:02}", minutes / 60, minutes % 60) } else { format!("{minutes} min") }
}

/// The same of a time that has passed: the minute begun is not over.
pub fn passed(seconds: i64) -> String {
    span(seconds.max(0) - 59)
}

/// From when on its time is over.
pub fn due(soaking: &Soaking<'_>) -> Stamp {
    after(soaking.since, soaking.from)
}

/// Where a running wait stands: `time over at 15:40, 1 h 35 from now`.
pub fn said(soaking: &Soaking<'_>, now: Stamp) -> (String, Tone) {
    let due = due(soaking);
    let left = due.seconds_since(now);
    if left > 0 {
        return (format!("time over at {}, {} from now", due.clock_beside(now), span(left)), Tone::Plain);
    }
    let latest = soaking.to.map(|to| after(soaking.since, to));
    match latest {
        Some(latest) if now > latest => {
            (format!("! too long since {}: go on now", latest.clock_beside(now)), Tone::Bad)
        }
        Some(latest) => (format!("time over: go on by {}", latest.clock_beside(now)), Tone::Watch),
        None => (format!("time over since {}", due.clock_beside(now)), Tone::Watch),
    }
}

/// A wait that runs at another step, the most pressing one, where nothing else is said.
pub fn elsewhere(model: &Model, job: &Job, columns: usize) -> Option<(String, Tone)> {
    let now = model.now.stamp;
    let running = progress::soaking(&job.inspection).into_iter().filter(|one| Some(one.step) != job.step());
    let first = running.min_by_key(|one| due(one).seconds_since(now))?;
    let (words, tone) = said(&first, now);
    let part = job.inspection.head().checklist.part(&first.step.part).map_or("", |part| part.short.as_str());
    let whole = format!("{part} waits: {words}");
    // what is to be done stands before the comma
    let words = if width(&whole) > columns { whole.split(',').next().unwrap_or_default() } else { &whole };
    Some((words.to_owned(), if tone == Tone::Plain { Tone::Quiet } else { tone }))
}

/// What Enter does now.
pub fn now_line(pen: &mut Pen<'_>, y: usize, model: &Model, job: &Job) {
    let running = progress::soaking(&job.inspection).into_iter().find(|one| Some(one.step) == job.step());
    match running {
        Some(running) => {
            let (words, tone) = said(&running, model.now.stamp);
            let x = pen.put_fitting((3, y), &[&words, words.split(',').next().unwrap_or_default()], tone);
            let enter = if due(&running).seconds_since(model.now.stamp) > 0 {
                "Esc 6: meanwhile"
            } else {
                "Enter: stop the clock"
            };
            if x + 2 + width(enter) <= pen.width() {
                pen.put(x + 2, y, enter, Tone::Strong);
            }
        }
        None if job.is_step_settled() => {
            tick::put_settled(pen, y, &tick::settled(job, "done"));
        }
        None if job.step().is_some_and(|step| is_cut_short(&job.inspection, step)) => {
            let whole = "stopped too early. Enter: start the clock again, for the whole time";
            pen.put_fitting((3, y), &[whole, "too early. Enter: start it again"], Tone::Strong);
        }
        None => {
            let whole = "Enter: start the clock; other steps may go on meanwhile";
            pen.put_fitting((3, y), &[whole, "Enter: start the clock"], Tone::Strong);
        }
    }
}

/// ```text
///  waits 2 h to 3 h, common practice: the manual goes first
///  since 13:40, so far 1 h 02
/// ```
pub fn view(pen: &mut Pen<'_>, model: &Model, job: &Job, (from, to): (Figure, Option<Figure>)) {
    let range = to.map_or_else(|| format!("at least {from}"), |to| format!("{from} to {to}"));
    let mut told = vec![(format!("waits {range}, common practice: the manual goes first"), Tone::Strong)];
    let running = progress::soaking(&job.inspection).into_iter().find(|one| Some(one.step) == job.step());
    told.extend(running.map(|one| {
        let gone = passed(model.now.stamp.seconds_since(one.since));
        (format!("since {}, so far {gone}", one.since.clock()), Tone::Plain)
    }));
    if let Some((step, words)) = job.step().and_then(|step| Some((step, strayed(&job.inspection, step)?))) {
        let ways = if shows_nothing(&job.inspection, step) {
            "It shows nothing: begin it again, or strike a wrong time (Esc 1)."
        } else {
            "Strike a wrong time (Esc 1) and go on, or say in a note why it stays (Esc 7)."
        };
        told.push((format!("? {words}. The part is held."), Tone::Watch));
        told.push((ways.to_owned(), Tone::Plain));
    }
    let columns = pen.width().saturating_sub(2);
    let lines = told.iter().flat_map(|(words, tone)| wrap(words, columns).into_iter().map(|line| (line, *tone)));
    let lines: Vec<_> = lines.collect();
    for (row, (line, tone)) in lines.iter().enumerate() {
        pen.put(1, row, line, *tone);
    }
    tick::entries(pen, job, lines.len().max(3));
}
