//! A typed figure: read, compared with what the gauge can show and with its neighbours, then taken, asked about or refused.

use super::super::checklist::{Grid, Step, Takes};
use super::super::doubt::{Doubt, OneTurn};
use super::super::entry::Act;
use super::super::figure::Figure;
use super::super::gate::step_name;
use super::super::id::Id;
use super::super::inspection::Inspection;
use super::super::instrument::{GaugeKind, Instrument, is_prefix, lies_in};
use super::super::misread;
use super::super::phase::Phase;
use super::super::progress::{self, StepState};
use super::super::reckon::feelers;
use super::super::refusal::{self, Refusal, RefusalKind, Reversed, Unfit};
use super::super::request::{Decision, Hand};
use super::super::typed::{self, Typed};
use super::super::unit::Unit;
use super::suspect::{self, Suspect};
use super::{act, at_step, take};

/// What stands in the field, and where.
pub(super) struct Field<'a> {
    pub(super) step: &'a str,
    pub(super) place: &'a str,
    pub(super) text: &'a str,
    pub(super) gauge: Option<&'a Id>,
    pub(super) insisted: &'a [String],
}

pub(super) fn decide(inspection: &Inspection, field: &Field<'_>, hand: &Hand) -> Decision {
    match look(inspection, field, hand) {
        Err(refusal) => Decision::Refuse(refusal),
        Ok((typed, doubts)) => {
            let open: Vec<_> = doubts
                .iter()
                .filter(|doubt| !field.insisted.iter().any(|word| word == doubt.word()))
                .cloned()
                .collect();
            if !open.is_empty() {
                return Decision::Ask { typed, doubts: open };
            }
            let act = Act::Reading {
                step: field.step.to_owned(),
                place: field.place.to_owned(),
                typed: typed.text,
                taken: typed.figure,
                gauge: field.gauge.cloned(),
                doubts: doubts.iter().map(|doubt| doubt.word().to_owned()).collect(),
            };
            take(inspection, act, hand)
        }
    }
}

fn look(inspection: &Inspection, field: &Field<'_>, hand: &Hand) -> Result<(Typed, Vec<Doubt>), Refusal> {
    let step = act::open_step(inspection, field.step, hand)?;
    let said = |refusal: Refusal| refusal.at(at_step(&format!("{}, {}", field.step, field.place)));
    let Takes::Readings(grid) = &step.takes else { return Err(said(RefusalKind::OtherKindOfStep.into())) };
    let cell = progress::cells(inspection, step).into_iter().find(|cell| cell.place() == field.place);
    let Some(cell) = cell else { return Err(said(RefusalKind::NoSuchPlace { place: field.place.to_owned() }.into())) };
    if inspection.reading(field.step, field.place).is_some() {
        return Err(said(RefusalKind::TakenAlready { place: field.place.to_owned() }.into()));
    }
    let gauge = gauge_in_hand(inspection, grid, field.gauge).map_err(said)?;
    let grid = &grid.as_at(&cell);
    let (text, turn) = OneTurn::split(field.text.trim());
    let text = without_prefix(text, gauge);
    let typed = typed::parse(text, grid.unit).map_err(|refusal| said(of_pieces(grid, refusal)))?;
    let as_shown = as_shown(text, (grid.unit, gauge));
    let counted = turn.and_then(|way| with_turn(typed.figure, gauge?.turn?, way));
    if turn.is_some() && counted.is_none() {
        return Err(said(RefusalKind::NotAFigure { text: field.text.to_owned() }.into()));
    }
    let typed = Typed { text: field.text.trim().to_owned(), figure: counted.unwrap_or(typed.figure) };
    let suspect = Suspect { inspection, step, grid, cell: &cell, figure: typed.figure, gauge, as_shown };
    possible(&suspect).map_err(said)?;
    let mut doubts = suspect::doubts(&suspect);
    doubts.extend(gone(inspection, step).filter(|_| hand.late.is_none()));
    Ok((typed, doubts))
}

/// Where pieces are counted no unit is wanted, whichever was meant.
fn of_pieces(grid: &Grid, refusal: Refusal) -> Refusal {
    let RefusalKind::UnknownUnit { word } = &refusal.kind else { return refusal };
    if !grid.counts() {
        return refusal;
    }
    let why = format!("`{word}` stands behind the number, and pieces are counted.");
    RefusalKind::NoAnswer { why, mend: "Type the number of pieces alone." }.into()
}

/// An as-found figure behind the strip step that destroys it can only be a copy.
fn gone(inspection: &Inspection, step: &Step) -> Option<Doubt> {
    let destroys = |strip: &&Step| strip.phase == Phase::Strip && strip.needs.contains(&step.id);
    let mut done = progress::steps(inspection).filter(destroys);
    let by = done.find(|strip| progress::state(inspection, strip) == StepState::Done)?;
    (step.phase == Phase::Found).then(|| Doubt::Gone { by: step_name(inspection, by) })
}

fn gauge_in_hand<'a>(
    inspection: &'a Inspection,
    grid: &Grid,
    id: Option<&Id>,
) -> Result<Option<&'a Instrument>, Refusal> {
    match id {
        Some(id) => match inspection.gauge(id) {
            Some(gauge) => Ok(Some(gauge)),
            None => Err(RefusalKind::UnknownGauge { id: id.to_string() }.into()),
        },
        None if grid.gauge == GaugeKind::Other => Ok(None),
        None => Err(RefusalKind::NoGauge { kind: grid.gauge.one() }.into()),
    }
}

/// A gauge with a cable may type letters of its own before the figure.
fn without_prefix<'a>(text: &'a str, gauge: Option<&Instrument>) -> &'a str {
    let prefix = gauge.and_then(|gauge| gauge.prefix.as_deref()).filter(|text| is_prefix(text)).unwrap_or("");
    let text = text.trim();
    text.strip_prefix(prefix).unwrap_or(text)
}

/// A figure typed without a unit as its gauge's scale has it, where one of grid and scale is in inches and the other is not.
fn as_shown(text: &str, (unit, gauge): (Unit, Option<&Instrument>)) -> Option<Figure> {
    let scale = gauge.and_then(Instrument::scale)?;
    let differ = scale.dimension() == unit.dimension() && scale.is_of_inches() != unit.is_of_inches();
    let figure = typed::parse(text, scale).ok().filter(|_| differ)?.figure;
    // with a unit behind it, it is the same whatever the scale
    typed::parse(text, unit).ok().filter(|typed| typed.figure != figure).map(|_| figure)
}

/// What cannot be true is refused, with what may be wrong instead.
fn possible(suspect: &Suspect<'_>) -> Result<(), Refusal> {
    let Suspect { grid, figure, gauge, .. } = *suspect;
    if !grid.takes_a(figure.dimension()) {
        let is = figure.dimension().word();
        let wanted = if grid.counts() { "number of pieces" } else { grid.unit.dimension().word() };
        return Err(RefusalKind::OtherDimension { figure, is, wanted }.into());
    }
    if grid.counts() && !figure.is_count() {
        return Err(RefusalKind::NotWhole(figure.to_string()).into());
    }
    if figure.to(Unit::Kelvin).is_some_and(|kelvin| kelvin.is_negative()) {
        let (why, mend) = (format!("{figure} is below absolute zero."), "Read the thermometer again.");
        return Err(RefusalKind::NoAnswer { why, mend }.into());
    }
    if let Some(gauge) = gauge
        && let Some((low, high)) = gauge.range
        && figure.dimension() == low.dimension()
        && !shows((low, high), figure)
    {
        return Err(RefusalKind::OutsideRange(Box::new(unfit(suspect, gauge, (low, high)))).into());
    }
    brackets(suspect)?;
    one_zero(suspect)?;
    not_reversed(suspect)
}

/// Another gauge of the record that shows the figure, or what the figure was meant to be.
fn unfit(suspect: &Suspect<'_>, gauge: &Instrument, (low, high): (Figure, Figure)) -> Unfit {
    let figure = suspect.figure;
    let others = suspect.inspection.gauges().iter().filter(|other| other.kind == gauge.kind && other.id != gauge.id);
    let fitting = others.filter_map(|other| Some((other, other.range?))).find(|(_, range)| shows(*range, figure));
    Unfit {
        figure,
        gauge: gauge.id.to_string(),
        low,
        high,
        other: fitting.map(|(other, (low, high))| refusal::range(other.id.as_str(), low, high)),
        meant: misread::meant(figure, |meant| shows((low, high), meant)),
        both_ways: both_ways(gauge, (low, high))
            .filter(|range| shows(*range, figure))
            .map(|(low, high)| format!("{} {} to {high}", gauge.id, low.decimal())),
    }
}

/// The range of a dial from nothing on, once it is zeroed in the middle of it.
fn both_ways(gauge: &Instrument, (low, high): (Figure, Figure)) -> Option<(Figure, Figure)> {
    let half = high.decimal().checked_div(2.into()).map(|half| half.normalize())?;
    let from_nothing = gauge.kind == GaugeKind::Dial && low.decimal().is_zero();
    from_nothing.then(|| (Figure::new(-half, high.unit()), Figure::new(half, high.unit())))
}

/// Whether a figure lies within a gauge's range.
fn shows(range: (Figure, Figure), figure: Figure) -> bool {
    lies_in(range, figure) == Some(true)
}

/// The leaf that stops is the thicker one, and a gap is never less than nothing.
fn brackets(suspect: &Suspect<'_>) -> Result<(), Refusal> {
    let Suspect { inspection, step, grid, cell, figure, .. } = *suspect;
    let (true, Some(other)) = (step.is_reckoned_by("feelers"), step.mate_of(cell)) else { return Ok(()) };
    let Some(mine) = figure.to(grid.unit) else { return Ok(()) };
    if mine.is_negative() {
        let why = format!("A gap of {figure} is less than nothing.");
        return Err(RefusalKind::NoAnswer { why, mend: "Type the thickness that is marked on the leaf." }.into());
    }
    let is_first = cell.figure.as_ref() == grid.figures.first();
    let other = inspection.reading(&step.id, &other.place()).and_then(|taken| taken.figure.to(grid.unit));
    let Some(other) = other else { return Ok(()) };
    let (goes, stops) = if is_first { (mine, other) } else { (other, mine) };
    feelers::feelers(&goes, &stops)?;
    Ok(())
}

/// A difference holds on one dial alone: two have no common zero.
fn one_zero(suspect: &Suspect<'_>) -> Result<(), Refusal> {
    let Suspect { inspection, step, cell, gauge, .. } = *suspect;
    let Some(gauge) = gauge else { return Ok(()) };
    let others = if step.is_reckoned_by("run-out") {
        // one turn, and back to where it began
        progress::cells(inspection, step).into_iter().filter(|other| other.repeat == cell.repeat).collect()
    } else {
        step.mate_of(cell).filter(|_| is_lift(step)).into_iter().collect::<Vec<_>>()
    };
    let on_another = |other: &crate::domain::checklist::Cell| {
        let taken = inspection.reading(&step.id, &other.place()).and_then(|taken| taken.gauge);
        taken.filter(|first| !first.same_as(&gauge.id))
    };
    let first = others.iter().find_map(|other| Some((other, on_another(other)?)));
    let Some((other, first)) = first else { return Ok(()) };
    let why =
        format!("`{}` was read on {first}, and this is {}: two dials have no common zero.", other.spoken(), gauge.id);
    let mend = "Go on with the first one, or strike what it read and read all of it on this one.";
    Err(RefusalKind::NoAnswer { why, mend }.into())
}

/// A clearance below nothing: the dial stands the wrong way, or a turn was missed.
fn not_reversed(suspect: &Suspect<'_>) -> Result<(), Refusal> {
    let Suspect { inspection, step, grid, cell, figure, gauge, .. } = *suspect;
    let (true, [low, high], Some(other)) = (is_lift(step), grid.figures.as_slice(), step.mate_of(cell)) else {
        return Ok(());
    };
    let is_low = cell.figure.as_ref() == Some(low);
    let Some(other) = inspection.reading(&step.id, &other.place()) else { return Ok(()) };
    let (down, up) = if is_low { (figure, other.figure) } else { (other.figure, figure) };
    let (Some(down_is), Some(up_is)) = (down.to(grid.unit), up.to(grid.unit)) else { return Ok(()) };
    if up_is > down_is {
        return Ok(());
    }
    let turn = gauge.and_then(|gauge| gauge.turn);
    let one_turn_more = turn.and_then(|turn| {
        let more = with_turn(up, turn, OneTurn::More)?;
        // never a figure that would be asked about itself: then it is the other reading that is off
        suspect.may_be_lift(&(&more.to(grid.unit)? - &down_is)).then_some(more)
    });
    let reversed = Reversed { low: low.clone(), high: high.clone(), down, up, one_turn_more };
    Err(RefusalKind::LiftReversed(Box::new(reversed)).into())
}

/// A figure and one turn of its gauge, exact; none where the turn has no decimal in the figure's unit.
pub(super) fn with_turn(figure: Figure, turn: Figure, way: OneTurn) -> Option<Figure> {
    let turn = turn.to(figure.unit())?.decimal()?;
    let counted = match way {
        OneTurn::More => figure.decimal().checked_add(turn),
        OneTurn::Less => figure.decimal().checked_sub(turn),
    };
    Some(Figure::new(counted?, figure.unit()))
}

/// Whether the step's figures are the two readings of a lift.
pub(super) fn is_lift(step: &Step) -> bool {
    step.is_reckoned_by("lift")
}
