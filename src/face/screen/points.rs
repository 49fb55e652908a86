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
use super::super::pen::Pen;
use super::bench;

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
        let words = if in_doubt(job) {
            "is each still so? Strike what is not: Esc 1. Enter goes on, and asks"
        } else {
            "all settled. Enter: next step"
        };
        pen.put(3, y, words, Tone::Strong);
        return;
    }
    let text = marked(job).map(|point| point.text.clone()).unwrap_or_default();
    let words = format!("Enter: {} stands for it", job.name(&job.by));
    let end = pen.width().saturating_sub(1);
    let x = pen.cut_in((3, y), &text, end, Tone::Strong);
    // a long point leaves the next line for it
    let (x, y) = if x + 2 + super::super::pen::width(&words) <= end { (x + 2, y) } else { (3, y + 1) };
    pen.put(x, y, &words, Tone::Plain);
}

/// ```text
///  + Fuel shut, tagged                                  fitter A, 07:12
///    Turning gear blocked
///  - Gravity tank drained                               not here: no gravity tank
/// ```
pub fn view(pen: &mut Pen<'_>, job: &Job, points: &[Point]) {
    let doubted = in_doubt(job);
    let first = (job.at() + 1).saturating_sub(pen.height());
    for (y, (number, point)) in points.iter().enumerate().skip(first).enumerate() {
        let here = number == job.at();
        if here {
            pen.wash(y, Tone::Here);
        }
        let tone = if here { Tone::Here } else { Tone::Plain };
        let end = pen.width().saturating_sub(1);
        let (sign, words, sign_tone) = match answer(job, &point.id) {
            Some(Entry { act: Act::NotApplicable { reason, .. }, .. }) => {
                ('-', format!("not here: {reason}"), Tone::Watch)
            }
            Some(entry) => {
                let today = entry.at.date() == job.today().date();
                let day = if today { String::new() } else { format!("{}, ", entry.at.date()) };
                let name = job.name(&entry.by);
                let (sign, tone) = if doubted { ('?', Tone::Watch) } else { ('+', Tone::Good) };
                (sign, format!("{name}, {day}{}", entry.at.clock()), tone)
            }
            None => (' ', String::new(), Tone::Plain),
        };
        pen.put(1, y, &sign.to_string(), if here { Tone::Here } else { sign_tone });
        let x = pen.cut_in((3, y), &point.text, end, tone);
        // beside a long point there is room for the name alone
        let fits = super::super::pen::width(&words) + x + 2 <= end;
        let words =
            if "+?".contains(sign) && !fits { words.split(", ").next().unwrap_or_default().to_owned() } else { words };
        let from = (end + 1).saturating_sub(super::super::pen::width(&words) + 1).max(x + 2);
        pen.cut_in((from, y), &words, end, if here { Tone::Here } else { sign_tone });
    }
}
