//! The gauge in hand: chosen from the record's, or entered in three answers.

use rust_decimal::Decimal;

use crate::domain::checklist::Takes;
use crate::domain::entry::Act;
use crate::domain::id::Id;
use crate::domain::instrument::{Calibration, GaugeKind, Instrument};
use crate::domain::stamp::Stamp;
use crate::domain::unit::Unit;

use super::super::inquiry::{Answers, Reply, Stop, figure, id};
use super::super::step::act;
use super::super::{Deed, Session};

impl Session {
    pub(super) fn other_gauge(&self, now: Stamp, answers: &mut Answers<'_>) -> Reply<Deed> {
        let kind = match self.at(now).map(|step| &step.takes) {
            Some(Takes::Readings(grid)) => Some(grid.gauge),
            Some(Takes::Points(_) | Takes::Tick | Takes::Look | Takes::Soak { .. } | Takes::Words | Takes::Sign(_))
            | None => None,
        };
        let kind = match kind {
            Some(kind) => kind,
            None => kind_of(answers)?,
        };
        choose(self, kind, now, answers)
    }

    pub(super) fn check_gauge(&self, answers: &mut Answers<'_>) -> Reply<Deed> {
        let gauges: Vec<_> = self.inspection.gauges().iter().map(|gauge| gauge.id.to_string()).collect();
        if gauges.is_empty() {
            return Ok(Deed::Say(vec!["The record knows no gauge yet.".to_owned()]));
        }
        let index = answers.choose("which gauge", &gauges)?;
        let Some(gauge) = self.inspection.gauges().get(index).map(|gauge| gauge.id.clone()) else {
            return Ok(Deed::Say(Vec::new()));
        };
        let piece = answers.with("the piece's size, mm", figure(Unit::Millimetre))?;
        let shows = answers.with("what the gauge shows on it, mm", figure(Unit::Millimetre))?;
        Ok(act(Act::GaugeCheck { gauge, piece, shows }))
    }
}

fn kind_of(answers: &mut Answers<'_>) -> Reply<GaugeKind> {
    let words: Vec<_> = GaugeKind::ALL.iter().map(|kind| kind.word().to_owned()).collect();
    let index = answers.choose("what kind of gauge", &words)?;
    GaugeKind::ALL.get(index).copied().ok_or_else(|| Stop::Wrong("There is no such kind.".to_owned()))
}

/// One of the record's gauges of this kind by its id, or a new one.
pub(in super::super) fn choose(
    session: &Session,
    kind: GaugeKind,
    now: Stamp,
    answers: &mut Answers<'_>,
) -> Reply<Deed> {
    let of_kind: Vec<&Instrument> = session.inspection.gauges().iter().filter(|gauge| gauge.kind == kind).collect();
    let before = of_kind.iter().map(|gauge| in_words(gauge)).collect();
    let text = format!("which {} is in your hand (its id, a new one too)?", kind.word());
    let typed = answers.line(before, &text)?;
    let typed = id(typed).map_err(Stop::Wrong)?;
    if let Some(gauge) = session.inspection.gauge(&typed) {
        let of = gauge.kind.word();
        if gauge.kind != kind {
            return Err(Stop::Wrong(format!("{} is a {of}; the step asks for a {}.", gauge.id, kind.word())));
        }
        return Ok(Deed::Gauge(kind, gauge.id.clone()));
    }
    enter(typed, kind, now, answers)
}

/// An unknown gauge: its id was the first answer, two more and it is entered.
fn enter(id: Id, kind: GaugeKind, now: Stamp, answers: &mut Answers<'_>) -> Reply<Deed> {
    let unit = if kind == GaugeKind::Gaussmeter { Unit::Millitesla } else { Unit::Millimetre };
    let known = |text: &str| figure_of_gauge(unit, text);
    let resolution = answers
        .maybe_with(&format!("{id} is new here: the smallest step it shows, {unit}, empty if not known"), known)?;
    let asked = format!("{id}: expanded uncertainty on its certificate (k = 2), {unit}, empty if not known");
    let expanded = answers.maybe_with(&asked, known)?;
    let day = now.date();
    let calibration =
        expanded.map(|expanded| Calibration { date: day, expanded, k: Decimal::TWO, certificate: None, due: None });
    let gauge = Instrument {
        id,
        kind,
        range: None,
        resolution,
        turn: None,
        prefix: None,
        corrections: Vec::new(),
        expansion: None,
        repeatability: None,
        calibrations: calibration.into_iter().collect(),
        remark: Some("Entered at the bench; range and certificate to be entered.".to_owned()),
        invented: false,
    };
    Ok(Deed::NewGauge(kind, Box::new(gauge)))
}

/// A figure of the kind's unit, or of another that the gauge is made in.
fn figure_of_gauge(unit: Unit, text: &str) -> Result<crate::domain::figure::Figure, String> {
    let typed = crate::domain::typed::parse(text, unit).map_err(|refusal| super::super::told::refusal(&refusal))?;
    if typed.figure.decimal().is_sign_negative() {
        return Err(format!("{} is below nothing.", typed.figure));
    }
    Ok(typed.figure)
}

fn in_words(gauge: &Instrument) -> String {
    let range = gauge.range.map(|(from, to)| format!(", {} to {to}", from.decimal())).unwrap_or_default();
    let resolution = gauge.resolution.map(|step| format!(", resolves {step}")).unwrap_or_default();
    format!("{}{range}{resolution}", gauge.id)
}
