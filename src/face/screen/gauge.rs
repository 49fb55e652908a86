//! The gauge in hand: chosen from those of the kind that the step asks for; an unknown one is entered in three answers.

use chrono::NaiveDate;

use crate::domain::capability;
use crate::domain::id::Id;
use crate::domain::instrument::{GaugeKind, Instrument};
use crate::domain::stamp::{Stamp, long_day};
use crate::domain::unit::Unit;

use super::super::acts::Deed;
use super::super::effect::Effect;
use super::super::look::Tone;
use super::super::model::{Model, Overlay};
use super::asked::{self, Purpose};
use super::list::{self, List};

/// Opens the list of gauges of the kind that the step asks for.
pub fn open(model: &mut Model) {
    let day = model.now.stamp;
    let Some(job) = model.job() else { return };
    let Some(kind) = job.grid().map(|grid| grid.gauge) else {
        model.say(Tone::Watch, "This step takes no figures, so no gauge. One is checked on a piece under Esc 0.");
        return;
    };
    let last = job.last_gauge().map(|gauge| gauge.id.clone());
    let fits: Vec<&Instrument> = job.inspection.gauges().iter().filter(|gauge| gauge.kind == kind).collect();
    let fits: Vec<&Instrument> = fits.into_iter().chain(job.files.of_kind(&job.inspection, kind)).collect();
    let coarse = |gauge: &Instrument| {
        let here = job.step().is_some_and(|step| capability::is_too_coarse(&job.inspection, step, gauge));
        here.then(|| "! too coarse here".to_owned())
    };
    let mut lines: Vec<(String, Tone)> = fits.iter().map(|gauge| line(gauge, day, coarse(gauge))).collect();
    lines.push(("another one: three answers".to_owned(), Tone::Plain));
    let ids = fits.iter().map(|gauge| gauge.id.clone()).collect();
    let title = format!("{}?", kind.which_in_hand());
    let marked = fits.iter().position(|gauge| Some(&gauge.id) == last.as_ref()).unwrap_or(0);
    let list = List { marked, ..List::new(title, lines, list::Purpose::Gauge(kind, ids)) };
    model.open(Overlay::List(list));
}

/// `D2  resolves 0.002 mm, one turn 0.200 mm, 0 mm to 1.0 mm`, its date, and whether it is too coarse for the step.
fn line(gauge: &Instrument, now: Stamp, coarse: Option<String>) -> (String, Tone) {
    let resolves = gauge.resolution.map(|resolution| format!("resolves {resolution}"));
    let turn = gauge.turn.map(|turn| format!("one turn {turn}"));
    let range = gauge.range.map(|(from, to)| format!("{from} to {to}"));
    let (date, tone) = fitness(gauge, now.date());
    let calm = tone == Tone::Plain;
    let tone = if calm && coarse.is_some() { Tone::Watch } else { tone };
    // what keeps it from being taken stands first
    let parts = if calm {
        [coarse, resolves, turn, range.clone(), date]
    } else {
        [date, coarse, resolves, turn, range.clone()]
    };
    let mut parts: Vec<_> = parts.into_iter().flatten().collect();
    // the range stands on the gauge itself: it gives way first
    if let Some(range) = range.filter(|_| parts.iter().map(|part| part.len() + 2).sum::<usize>() > 68) {
        parts.retain(|part| *part != range);
    }
    (format!("{:<6} {}", gauge.id.to_string(), parts.join(", ")), tone)
}

/// Why a gauge is not simply in hand: `30 days past its date`.
pub fn unfit(gauge: &Instrument, now: Stamp) -> String {
    let (words, _) = fitness(gauge, now.date());
    words.unwrap_or_default().trim_start_matches("! ").to_owned()
}

/// What its calibration says on a day.
pub fn fitness(gauge: &Instrument, day: NaiveDate) -> (Option<String>, Tone) {
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
        let unit = model.job().and_then(|job| job.grid()).map_or(Unit::Millimetre, |grid| grid.unit);
        return asked::open(model, Purpose::Gauge(kind, unit), &format!("{} not known yet: three answers", kind.one()));
    };
    // one that only the folder's files hold goes into the record whole
    let new = model.job().and_then(|job| job.files.gauge(&job.inspection, id)).cloned();
    if let Some(new) = new {
        return super::deed::perform(model, Deed::NewGauge(kind, Box::new(new)), None);
    }
    in_hand(model, id);
    Vec::new()
}

/// The gauge is in hand from now on, for every step that asks for its kind.
pub fn in_hand(model: &mut Model, id: &Id) {
    let now = model.now.stamp;
    let Some(job) = model.job_mut() else { return };
    job.take_gauge(id.clone());
    let (words, tone) = job.inspection.gauge(id).map_or((None, Tone::Plain), |gauge| fitness(gauge, now.date()));
    let tone = if tone == Tone::Plain { Tone::Good } else { tone };
    model.say(tone, format!("{id} in hand. {}", words.unwrap_or_default()).trim().to_owned());
}
