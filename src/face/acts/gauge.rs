//! The gauge in hand: chosen from the record's, or entered in three answers.

use crate::domain::capability;
use crate::domain::checklist::{Step, Takes};
use crate::domain::entry::Act;
use crate::domain::figure::Figure;
use crate::domain::id::Id;
use crate::domain::inspection::{Inspection, Scene};
use crate::domain::instrument::{GaugeKind, Instrument};
use crate::domain::missed;
use crate::domain::typed;
use crate::domain::unit::Unit;

use super::super::inquiry::{Answers, Reply, Stop, figure, id, refused};
use super::{At, Deed, Files, act, only_say};

/// Behind a gauge or a name that the folder's files hold and the record does not.
pub(super) const FROM_FILES: &str = "not in this record yet: taken in as the files have it";

impl At<'_> {
    pub(super) fn other_gauge(&self, answers: &mut Answers<'_>) -> Reply<Deed> {
        if let Some(Takes::Readings(grid)) = self.step.map(|step| &step.takes) {
            return choose((self.inspection, self.files, self.step), (grid.gauge, grid.unit), answers);
        }
        let kind = kind_of(answers)?;
        choose((self.inspection, self.files, None), (kind, kind.unit()), answers)
    }

    pub(super) fn check_gauge(&self, answers: &mut Answers<'_>) -> Reply<Deed> {
        let gauges: Vec<_> = self.inspection.gauges().iter().map(in_words).collect();
        if gauges.is_empty() {
            return Ok(only_say("The record knows no gauge yet."));
        }
        let index = answers.choose("which gauge", &gauges)?;
        let Some(known) = self.inspection.gauges().get(index) else {
            return Ok(Deed::Say(Vec::new()));
        };
        let gauge = known.id.clone();
        // a bare figure is one of the gauge's own scale
        let unit = known.scale().unwrap_or(Unit::Millimetre);
        let size = |text: &str| {
            let size = figure(unit)(text)?;
            known.reads(size).map(|()| size).map_err(|refusal| refused(&refusal))
        };
        let piece = answers.with(&format!("the piece's size, {unit}"), size)?;
        let shows = answers.with(&format!("what the gauge shows on it, {unit}"), size)?;
        let odd = missed::odd(known, (piece, shows), self.hand.at.date());
        answers.sure_of(odd.map(|odd| format!("{odd}; what it has read is provisional then")))?;
        Ok(act(Act::GaugeCheck { gauge, piece, shows }))
    }
}

fn kind_of(answers: &mut Answers<'_>) -> Reply<GaugeKind> {
    let words: Vec<_> = GaugeKind::ALL.iter().map(|kind| kind.word().to_owned()).collect();
    let index = answers.choose("what kind of gauge", &words)?;
    GaugeKind::ALL.get(index).copied().ok_or_else(|| Stop::Wrong("There is no such kind.".to_owned()))
}

/// One of the record's gauges of this kind by its id, one of the files', which goes into the record whole, or a new one.
/// Of each stands there what it shows, and whether it is too coarse for the step.
///
/// # Errors
/// The next question, or why the last answer will not do.
pub fn choose(
    (inspection, files, step): (&Inspection, &Files, Option<&Step>),
    (kind, unit): (GaugeKind, Unit),
    answers: &mut Answers<'_>,
) -> Reply<Deed> {
    let here = |gauge: &Instrument| {
        let coarse = step.is_some_and(|step| capability::is_too_coarse(inspection, step, gauge));
        format!("{}{}", in_words(gauge), if coarse { ", ! too coarse here" } else { "" })
    };
    let of_kind = inspection.gauges().iter().filter(|gauge| gauge.kind == kind).map(here);
    let others = files.of_kind(inspection, kind).into_iter();
    let before = of_kind.chain(others.map(|gauge| format!("{}, {FROM_FILES}", here(gauge)))).collect();
    let text = format!("{} (its id, a new one too)", kind.which_in_hand());
    let typed = answers.line(before, &text)?;
    if let Some(gauge) = with_range(inspection, typed, (kind, unit)) {
        let gauge = gauge.map_err(Stop::Wrong)?;
        let wider = inspection.gauge(&gauge.id).filter(|held| gauge.is_longer_than(held));
        answers
            .sure_of(wider.map(|held| format!("So far {}, and no scale gets longer: another gauge", in_words(held))))?;
        return Ok(Deed::NewGauge(kind, Box::new(gauge)));
    }
    let known = typed.parse().ok().filter(|id| inspection.gauge(id).or_else(|| files.gauge(inspection, id)).is_some());
    let typed = known.map_or_else(|| number(typed, unit), Ok).map_err(Stop::Wrong)?;
    let held = inspection.gauge(&typed);
    if let Some(gauge) = held.or_else(|| files.gauge(inspection, &typed)) {
        if gauge.kind != kind {
            return Err(Stop::Wrong(format!(
                "{} is {}; the step asks for {}.",
                gauge.id,
                gauge.kind.one(),
                kind.one()
            )));
        }
        let new = || Deed::NewGauge(kind, Box::new(gauge.clone()));
        return Ok(if held.is_some() { Deed::Gauge(kind, gauge.id.clone()) } else { new() });
    }
    let text = typed.to_string();
    if text.chars().all(|letter| letter.is_ascii_digit()) {
        let asked = format!("`{text}` looks like a figure. Is it the number that stands on the gauge");
        if answers.word(&asked, &["no", "yes"])? == 0 {
            return Err(Stop::Again("The gauge first, then the figure.".to_owned()));
        }
    }
    entered(inspection, typed, (kind, unit), answers)
}

/// What stands on a gauge. A figure with its mark or unit was meant for the step, and names nothing.
fn number(text: &str, unit: Unit) -> Result<Id, String> {
    let bare = text.trim().chars().all(|letter| letter.is_ascii_digit());
    let begins = text.trim().trim_start_matches(['+', '-']).starts_with(|letter: char| ".,".contains(letter));
    if begins || !bare && typed::parse(text, unit).is_ok() {
        return Err(format!("`{}` is a figure. The gauge first, then the figure: what stands on it?", text.trim()));
    }
    id(text)
}

/// A gauge of the record with another range behind its id, `D2 -0.5 to 0.5 mm`: a dial is zeroed anew, and all else of it
/// stays. What it has read so far stays judged as it was.
fn with_range(
    inspection: &Inspection,
    typed: &str,
    (kind, unit): (GaugeKind, Unit),
) -> Option<Result<Instrument, String>> {
    let (known, range) = typed.trim().split_once(' ')?;
    let held = inspection.gauge(&id(known).ok()?).filter(|held| held.kind == kind)?;
    range.contains(" to ").then(|| Ok(Instrument { range: Some(range_of(range, unit)?), ..held.clone() }))
}

/// `0 to 25 mm`, the smaller figure first.
fn range_of(text: &str, unit: Unit) -> Result<(Figure, Figure), String> {
    let (from, to) =
        text.split_once(" to ").ok_or_else(|| format!("`{text}` is no range. Write it as 0 to 25 {unit}."))?;
    let to = figure(unit)(to)?;
    let from = figure(to.unit())(from)?;
    if from.decimal() < to.decimal() { Ok((from, to)) } else { Err(format!("{from} is not below {to}.")) }
}

/// An unknown gauge, in three answers.
///
/// # Errors
/// The next question, or why the last answer will not do.
pub fn enter(
    (inspection, files): (&Inspection, &Files),
    (kind, unit): (GaugeKind, Unit),
    answers: &mut Answers<'_>,
) -> Reply<Deed> {
    let typed = answers.with("what stands on it: its number or id, such as M7", |text| number(text, unit))?;
    if let Some(gauge) = inspection.gauge(&typed) {
        return Err(Stop::Wrong(format!("{} is known already, {}. Choose it.", gauge.id, gauge.kind.one())));
    }
    if let Some(gauge) = files.gauge(inspection, &typed).filter(|gauge| gauge.kind == kind) {
        return Ok(Deed::NewGauge(kind, Box::new(gauge.clone())));
    }
    entered(inspection, typed, (kind, unit), answers)
}

/// Its id was the first answer, two more and it is entered. It judges no guarded limit before its certificate is known.
fn entered(inspection: &Inspection, id: Id, (kind, unit): (GaugeKind, Unit), answers: &mut Answers<'_>) -> Reply<Deed> {
    if id.as_str().eq_ignore_ascii_case("new") {
        return Err(Stop::Wrong(format!("`{id}` is not its number. Which number or id stands on it?")));
    }
    let one = |text: &str| {
        let figure = figure(unit)(text)?;
        if figure.decimal().is_sign_negative() { Err(format!("{figure} is below nothing.")) } else { Ok(figure) }
    };
    let resolution = answers
        .maybe_with(&format!("{id} is new here: the smallest step it shows, {unit}, empty if not known"), one)?;
    let such = if kind == GaugeKind::Dial {
        format!("0 to 1 {unit}, or -0.5 to 0.5 {unit} where it is zeroed at the mark and reads both ways")
    } else {
        format!("0 to 25 {unit}")
    };
    let range =
        answers.maybe_with(&format!("{id}: its range, such as {such}, empty for none"), |text| range_of(text, unit))?;
    let gauge = Instrument {
        id,
        kind,
        range,
        resolution,
        turn: None,
        prefix: None,
        corrections: Vec::new(),
        expansion: None,
        repeatability: None,
        calibrations: Vec::new(),
        remark: Some("Entered at the bench; its certificate is still to be entered.".to_owned()),
        invented: inspection.head().scene != Scene::Real,
    };
    if let (true, Some(step), Some((from, to))) = (gauge.is_too_coarse(), gauge.resolution, gauge.range) {
        let odd = format!("A step of {step} is more than the whole range, {from} to {to}. Type both again.");
        return Err(Stop::Again(odd));
    }
    Ok(Deed::NewGauge(kind, Box::new(gauge)))
}

fn in_words(gauge: &Instrument) -> String {
    let range = gauge.range.map(|(from, to)| format!(", {} to {to}", from.decimal())).unwrap_or_default();
    let resolution = gauge.resolution.map(|step| format!(", resolves {step}")).unwrap_or_default();
    format!("{}{range}{resolution}", gauge.id)
}
