//! The gauge in hand: chosen from those of the kind that the step asks for; an unknown one is entered in three answers.

use crate::domain::entry::Act;
use crate::domain::id::Id;
use crate::domain::instrument::{GaugeKind, Instrument};
use crate::domain::refusal::Refusal;
use crate::domain::request::Request;
use crate::domain::stamp::{Stamp, long_day};
use crate::domain::typed;
use crate::domain::unit::Unit;

use super::super::effect::Effect;
use super::super::form::{Form, Line, Need};
use super::super::look::Tone;
use super::super::model::{Model, Overlay};
use super::asked::{self, Asked, Finish, Purpose};
use super::list::{self, List};

/// Opens the list of gauges of the kind that the step asks for.
pub fn open(model: &mut Model) {
    let day = model.now.stamp;
    let Some(job) = model.job() else { return };
    let Some(kind) = job.grid().map(|grid| grid.gauge) else {
        model.say(Tone::Watch, "This step takes no figures, so no gauge.");
        return;
    };
    let last = job.last_gauge().map(|gauge| gauge.id.clone());
    let fits: Vec<&Instrument> = job.inspection.gauges().iter().filter(|gauge| gauge.kind == kind).collect();
    let mut lines: Vec<(String, Tone)> = fits.iter().map(|gauge| line(gauge, day)).collect();
    lines.push(("another one: three answers".to_owned(), Tone::Plain));
    let ids = fits.iter().map(|gauge| gauge.id.clone()).collect();
    let title = format!("which {} is in your hand?", kind.word());
    let marked = fits.iter().position(|gauge| Some(&gauge.id) == last.as_ref()).unwrap_or(0);
    let list = List { marked, ..List::new(title, lines, list::Purpose::Gauge(kind, ids)) };
    model.open(Overlay::List(list));
}

/// `D2  resolves 0.002 mm, one turn 0.200 mm, 0 mm to 1.0 mm`, and its date.
fn line(gauge: &Instrument, now: Stamp) -> (String, Tone) {
    let resolves = gauge.resolution.map(|resolution| format!("resolves {resolution}"));
    let turn = gauge.turn.map(|turn| format!("one turn {turn}"));
    let range = gauge.range.map(|(from, to)| format!("{from} to {to}"));
    let (date, tone) = fitness(gauge, now);
    // what keeps it from being taken stands first
    let parts =
        if tone == Tone::Plain { [resolves, turn, range.clone(), date] } else { [date, resolves, turn, range.clone()] };
    let mut parts: Vec<_> = parts.into_iter().flatten().collect();
    // the range stands on the gauge itself: it gives way first
    if let Some(range) = range.filter(|_| parts.iter().map(|part| part.len() + 2).sum::<usize>() > 68) {
        parts.retain(|part| *part != range);
    }
    (format!("{:<6} {}", gauge.id.to_string(), parts.join(", ")), tone)
}

/// Why a gauge is not simply in hand: `30 days past its date`.
pub fn unfit(gauge: &Instrument, now: Stamp) -> String {
    let (words, _) = fitness(gauge, now);
    words.unwrap_or_default().trim_start_matches("! ").to_owned()
}

/// What its calibration says today.
pub fn fitness(gauge: &Instrument, now: Stamp) -> (Option<String>, Tone) {
    let day = now.date();
    let Some(calibration) = gauge.calibration(day) else { return (Some("never calibrated".to_owned()), Tone::Watch) };
    match calibration.due {
        Some(due) if day > due => {
            let days = (day - due).num_days();
            (Some(format!("! {days} days past its date")), Tone::Bad)
        }
        Some(due) => (Some(format!("good until {}", long_day(due))), Tone::Plain),
        None => (None, Tone::Plain),
    }
}

/// A line was chosen: that gauge, or another one.
pub fn chosen(model: &mut Model, kind: GaugeKind, id: Option<&Id>) -> Vec<Effect> {
    let Some(id) = id else {
        let lines = vec![
            Line::text("what stands on it", "its number or id, such as M7", Need::Wanted),
            Line::text("what it resolves", "such as 0.01 mm", Need::Wanted),
            Line::text("its range", "such as 0 to 25 mm; empty: none", Need::Free),
        ];
        asked::open(model, Purpose::Gauge(kind), Form::new(&format!("a {} not known yet", kind.word()), lines));
        return Vec::new();
    };
    in_hand(model, id);
    Vec::new()
}

fn in_hand(model: &mut Model, id: &Id) {
    let now = model.now.stamp;
    let Some(job) = model.job_mut() else { return };
    job.take_gauge(id.clone());
    let (words, tone) = job.inspection.gauge(id).map_or((None, Tone::Plain), |gauge| fitness(gauge, now));
    let tone = if tone == Tone::Plain { Tone::Good } else { tone };
    model.say(tone, format!("{id} in hand. {}", words.unwrap_or_default()).trim().to_owned());
}

/// The gauge as entered.
pub fn finish(model: &Model, kind: GaugeKind, form: &Form) -> Finish {
    match read(model, kind, form) {
        Ok(gauge) => Finish::Requests(vec![Request::Do(Act::Gauge(Box::new(gauge)))]),
        Err((line, words)) => Finish::Wrong(line, words),
    }
}

fn read(model: &Model, kind: GaugeKind, form: &Form) -> Result<Instrument, (usize, String)> {
    let unit = model.job().and_then(|job| job.grid()).map_or(Unit::Millimetre, |grid| grid.unit);
    let wrong = |line: usize| move |refusal: Refusal| (line, refusal.to_string());
    let id = form.answer(0).unwrap_or_default().parse::<Id>().map_err(wrong(0))?;
    let resolution = typed::parse(&form.answer(1).unwrap_or_default(), unit).map_err(wrong(1))?.figure;
    let range = match form.answer(2) {
        None => None,
        Some(text) => {
            let Some((from, to)) = text.split_once(" to ") else {
                return Err((2, format!("`{text}` is no range. Write it as 0 to 25 mm.")));
            };
            let to = typed::parse(to, unit).map_err(wrong(2))?.figure;
            Some((typed::parse(from, to.unit()).map_err(wrong(2))?.figure, to))
        }
    };
    let scene = model.job().map(|job| job.inspection.head().scene);
    Ok(Instrument {
        id,
        kind,
        range,
        resolution: Some(resolution),
        turn: None,
        prefix: None,
        corrections: Vec::new(),
        expansion: None,
        repeatability: None,
        calibrations: Vec::new(),
        remark: None,
        invented: scene.is_some_and(|scene| scene != crate::domain::inspection::Scene::Real),
    })
}

/// A gauge entered just now is the one in hand.
pub fn settle(model: &mut Model, asked: &Asked) {
    if let (Purpose::Gauge(_), Some(id)) = (&asked.purpose, asked.form.answer(0).and_then(|id| id.parse().ok())) {
        in_hand(model, &id);
    }
}
