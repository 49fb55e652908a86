//! Points confirmed by name, one by one, or marked not applicable by name.

use crate::domain::checklist::{Point, Takes};
use crate::domain::entry::{Act, Entry};
use crate::domain::gate;
use crate::domain::phase::Phase;
use crate::domain::progress;
use crate::domain::request::Request;

use super::super::asking;
use super::super::effect::Effect;
use super::super::job::Job;
use super::super::look::Tone;
use super::super::model::Model;
use super::super::pen::{Pen, width, wrap};
use super::{bench, tick};

/// The entry that settles a point of the present step.
fn answer<'a>(job: &'a Job, point: &str) -> Option<&'a Entry> {
    progress::settling(&job.inspection, job.step()?, point)
}

fn marked(job: &Job) -> Option<&Point> {
    let Takes::Points(points) = &job.step()?.takes else { return None };
    points.get(job.at())
}

/// Enter: confirms the marked point; goes on when all are settled.
pub fn enter(model: &mut Model) -> Vec<Effect> {
    let Some(job) = model.job() else { return Vec::new() };
    let (Some(step), Some(point)) = (job.step(), marked(job)) else { return Vec::new() };
    if job.is_step_settled() {
        bench::next_step(model);
        return Vec::new();
    }
    if answer(job, &point.id).is_some() {
        let next = "This point is settled. Arrows mark another one.";
        model.say(Tone::Watch, next);
        return Vec::new();
    }
    let act = Act::Confirm { step: step.id.clone(), point: point.id.clone() };
    asking::ask(model, Request::Do(act))
}

/// Whether what was confirmed is asked again: after a break, or of another hand.
fn in_doubt(job: &Job) -> bool {
    let is_safety = job.step().is_some_and(|step| step.phase == Phase::Safe);
    is_safety && gate::must_ask_again(&job.inspection, &job.hand(job.today()))
}

/// What Enter does now.
pub fn now_line(pen: &mut Pen<'_>, y: usize, job: &Job) {
    if job.is_step_settled() {
        let ways: &[&str] = if in_doubt(job) {
            &[
                "is each still so? Strike what is not: Esc 1. Enter goes on, and asks",
                "each still so? Enter; if not: Esc 1",
            ]
        } else {
            &["all settled. Enter: next step"]
        };
        pen.put_fitting((3, y), ways, Tone::Strong);
        return;
    }
    let end = pen.width().saturating_sub(1);
    let text = marked(job).map(|point| point.text.as_str()).unwrap_or_default();
    let enter = "Enter: ";
    let words = format!("{enter}{}", tick::stands_for_it(&job.name(&job.by), end.saturating_sub(3 + enter.len())));
    // whole it stands below; what was said has the next line
    let fits = |text: &&str| 3 + width(text) + 2 + width(&words) <= end;
    let text = [text, "the marked point"].into_iter().find(fits);
    let x = text.map_or(3, |text| pen.put(3, y, text, Tone::Strong) + 2);
    pen.put(x, y, &words, Tone::Plain);
}

/// ```text
///  + Fuel shut, tagged                                  fitter A, 07:12
///    Turning gear blocked
///  - Gravity tank drained                               not here: no gravity tank
/// ```
pub fn view(pen: &mut Pen<'_>, job: &Job, points: &[Point]) {
    let (doubted, room) = (in_doubt(job), pen.width().saturating_sub(4));
    let all: Vec<Told> = points.iter().map(|point| told(job, point, (doubted, room))).collect();
    // the marked one stands whole in sight
    let rows = |from: usize| all.iter().take(job.at() + 1).skip(from).map(|told| told.lines.len()).sum::<usize>();
    let first = (0..job.at()).find(|from| rows(*from) <= pen.height()).unwrap_or(job.at());
    let mut y = 0;
    for (number, told) in all.iter().enumerate().skip(first) {
        let here = (number == job.at()).then_some(Tone::Here);
        for line in &told.lines {
            if here.is_some() {
                pen.wash(y, Tone::Here);
            }
            pen.put(3, y, line, here.unwrap_or(Tone::Plain));
            y += 1;
        }
        pen.put(1, y.saturating_sub(told.lines.len()), &told.sign.to_string(), here.unwrap_or(told.tone));
        pen.right(1, y.saturating_sub(1), &told.beside, here.unwrap_or(told.tone));
    }
}

/// Rows that the marked point takes.
pub fn marked_rows(job: &Job, points: &[Point], columns: usize) -> usize {
    let room = columns.saturating_sub(4);
    points.get(job.at()).map_or(0, |point| told(job, point, (in_doubt(job), room)).lines.len())
}

/// A point in as many rows as it takes, and its answer.
struct Told {
    lines: Vec<String>,
    sign: char,
    tone: Tone,
    /// At the end of the last row.
    beside: String,
}

fn told(job: &Job, point: &Point, (doubted, room): (bool, usize)) -> Told {
    let mut lines = wrap(&point.text, room);
    let (sign, words, tone) = match answer(job, &point.id) {
        Some(Entry { act: Act::NotApplicable { reason, .. }, .. }) => ('-', format!("not here: {reason}"), Tone::Watch),
        Some(entry) => {
            let today = entry.at.date() == job.today().date();
            let day = if today { String::new() } else { format!("{}, ", entry.at.date()) };
            let (sign, tone) = if doubted { ('?', Tone::Watch) } else { ('+', Tone::Good) };
            (sign, format!("{}, {day}{}", job.name(&entry.by), entry.at.clock()), tone)
        }
        None => (' ', String::new(), Tone::Plain),
    };
    let used = lines.last().map_or(0, |line| width(line));
    let fits = |words: &str| used + 2 + width(words) <= room;
    // beside a long point there is room for the name alone
    let name = words.split(", ").next().unwrap_or_default();
    let beside = match sign {
        _ if fits(&words) => words,
        '-' => {
            lines.extend(wrap(&words, room));
            String::new()
        }
        _ if fits(name) => name.to_owned(),
        _ => String::new(),
    };
    Told { lines, sign, tone, beside }
}
