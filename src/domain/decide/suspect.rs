//! What makes a figure look wrong. Fewer than one reading in twenty should bring a question.

mod earlier;
mod first;

use super::super::beside;
use super::super::characteristic::Given;
use super::super::checklist::{Cell, Grid, Step, Usual};
use super::super::doubt::{Doubt, OneTurn};
use super::super::exact::{Exact, Rounding};
use super::super::figure::Figure;
use super::super::inspection::{Inspection, Taken};
use super::super::instrument::{GaugeKind, Instrument};
use super::super::judge::Side;
use super::super::measured;
use super::super::misread;
use super::super::progress;
use super::super::unit::Unit;
use super::reading::{is_lift, with_turn};

/// A figure before it is taken, with all it can be compared with.
#[derive(Clone, Copy)]
pub(super) struct Suspect<'a> {
    pub(super) inspection: &'a Inspection,
    pub(super) step: &'a Step,
    pub(super) grid: &'a Grid,
    pub(super) cell: &'a Cell,
    pub(super) figure: Figure,
    pub(super) gauge: Option<&'a Instrument>,
    /// As the gauge shows it, where no unit was typed and its scale is of the other system.
    pub(super) as_shown: Option<Figure>,
}

/// Every doubt about it; the likeliest cause alone where several would be said of one difference.
pub(super) fn doubts(suspect: &Suspect<'_>) -> Vec<Doubt> {
    // fields of several units hold different things: none says anything of its neighbour
    let alike = Some(suspect).filter(|suspect| suspect.grid.units.is_empty());
    let one = alike.and_then(Suspect::beside_others);
    let own = suspect.bare().into_iter().chain(suspect.digits()).chain(suspect.unusual()).chain(suspect.apart());
    own.chain(earlier::count(suspect)).chain(earlier::worse(suspect)).chain(one).collect()
}

impl Suspect<'_> {
    /// The likeliest cause of a difference from the figures that are like it.
    fn beside_others(&self) -> Option<Doubt> {
        self.torque()
            .or_else(|| self.turn_down())
            .or_else(|| self.turn())
            .or_else(|| self.factor())
            .or_else(|| self.half_millimetre())
            .or_else(|| self.wear())
            .or_else(|| self.land())
            .or_else(|| self.turn_past())
            .or_else(|| self.far_off())
            .or_else(|| self.other_size())
    }

    /// Not what the manual has for this joint and stage.
    fn torque(&self) -> Option<Doubt> {
        let (cell, gauge) = (self.cell, self.gauge.map(|gauge| &gauge.id));
        let manual = beside::torque_missed(self.inspection, self.step, (cell, self.figure, gauge))?;
        Some(Doubt::Torque { manual: self.shown(&manual)? })
    }

    /// No unit typed, and the gauge may have shown it in inches where the step takes millimetres, or the other way round.
    fn bare(&self) -> Option<Doubt> {
        let as_shown = self.as_shown.filter(|figure| !figure.decimal().is_zero())?;
        let scale = as_shown.unit();
        // who reads inches says thousandths as well
        let others = [Unit::Inch, Unit::Thou].into_iter().filter(|unit| scale.is_of_inches() && *unit != scale);
        let meant = std::iter::once(scale).chain(others).map(|unit| Figure::new(as_shown.decimal(), unit));
        let as_shown = meant.into_iter().find(|figure| self.could_show(*figure))?;
        let that_is = as_shown.to(self.grid.unit)?.rounded(4, Rounding::Nearest).parse().ok()?;
        Some(Doubt::Bare { taken: self.figure, as_shown, that_is: Figure::new(that_is, self.grid.unit) })
    }

    /// Whether the gauge in hand could show this, a tenth of a division read by eye.
    fn could_show(&self, figure: Figure) -> bool {
        let Some(gauge) = self.gauge else { return false };
        let places = gauge.resolution.and_then(|step| places_of(step, figure.unit()));
        let fine = places.zip(usize::try_from(figure.decimal().scale()).ok());
        fine.is_none_or(|(places, typed)| typed <= places + 1) && gauge.reads(figure).is_ok()
    }

    /// More places than the gauge's own step is written with.
    fn digits(&self) -> Option<Doubt> {
        let resolution = self.gauge?.resolution?;
        let places = places_of(resolution, self.figure.unit())?;
        let typed = usize::try_from(self.figure.decimal().scale()).ok()?;
        (typed > places).then_some(Doubt::Digits { resolution })
    }

    /// Outside the checklist's window.
    fn unusual(&self) -> Option<Doubt> {
        let Usual { from, to } = self.grid.usual?;
        let unit = self.grid.unit;
        let value = self.figure.amount(unit)?;
        let (low, high) = (from.to(unit)?, to.and_then(|to| to.to(unit)));
        let usual = |value: &Exact| *value >= low && high.as_ref().is_none_or(|high| value <= high);
        let meant = || misread::meant(self.figure, |meant| meant.amount(unit).is_some_and(|value| usual(&value)));
        (!usual(&value)).then(|| Doubt::Unusual { from, to, meant: meant() })
    }

    /// Part and gauge, whose sizes are brought to 20 degC by these figures, more than 1 K apart. Common practice, no source.
    fn apart(&self) -> Option<Doubt> {
        let mut steps = self.inspection.head().checklist.steps.iter();
        steps.find(|step| step.takes.temperatures() == Some(self.step.id.as_str()))?;
        let value = self.figure.to(self.grid.unit)?;
        let others = self.others(|_| true).filter_map(|cell| self.inspection.reading(&self.step.id, &cell.place()));
        let far =
            |other: &Figure| other.to(self.grid.unit).is_some_and(|other| (&value - &other).abs() > Exact::from(1_u32));
        let beside = others.map(|taken| taken.figure).find(far)?;
        Some(Doubt::Apart { beside })
    }

    /// About one turn of the large hand off what the other places, or the last inspection, let expect.
    fn turn(&self) -> Option<Doubt> {
        let mine = self.comparable(self.cell, Some(self.figure))?;
        let Some(expected) = self.expected() else { return first::turn(self, &mine) };
        let (turn, way) = self.turned(&(&expected - &mine))?;
        let mended = self.with_turn(turn, way).filter(|_| !self.first_is_off());
        Some(Doubt::Turn { turn, beside: self.shown(&expected)?, mended })
    }

    /// The first reading of a lift about one turn off the first readings of the other lifts with this gauge.
    fn turn_down(&self) -> Option<Doubt> {
        if !is_lift(self.step) || self.cell.figure.as_ref() != self.grid.figures.first() {
            return None;
        }
        let alike =
            |taken: &Taken| taken.gauge.as_ref().is_some_and(|id| self.gauge.is_some_and(|own| own.id.same_as(id)));
        let taken = self.others(|_| true).filter_map(|cell| self.inspection.reading(&self.step.id, &cell.place()));
        let downs = taken.filter(alike).filter_map(|taken| taken.figure.to(self.grid.unit)).collect();
        let usual = median(downs)?;
        let (turn, way) = self.turned(&(&usual - &self.figure.to(self.grid.unit)?))?;
        Some(Doubt::Turn { turn, beside: self.shown(&usual)?, mended: self.with_turn(turn, way) })
    }

    /// Whether the first reading of the pair, taken already, is the one that is a turn off.
    fn first_is_off(&self) -> bool {
        let doubt = self.step.mate_of(self.cell).and_then(|first| {
            let taken = self.inspection.reading(&self.step.id, &first.place())?.figure;
            Suspect { cell: &first, figure: taken, ..*self }.turn_down()
        });
        doubt.is_some()
    }

    /// The turn of the gauge and which way it is missed, when it is `off` by about one.
    fn turned(&self, off: &Exact) -> Option<(Figure, OneTurn)> {
        let turn = self.gauge?.turn?;
        let size = turn.to(self.grid.unit)?;
        if (&off.abs() - &size).abs() > &size * &Exact::fraction(15, 100)? {
            return None;
        }
        Some((turn, if off.is_negative() { OneTurn::Less } else { OneTurn::More }))
    }

    /// The figure with it, to its last digit; none where a turn has no last digit in the unit that was typed.
    fn with_turn(&self, turn: Figure, way: OneTurn) -> Option<(Figure, OneTurn)> {
        with_turn(self.figure, turn, way).map(|figure| (figure, way))
    }

    /// Whether a lift of this size is about what the other places, or the last inspection, let expect.
    pub(super) fn may_be_lift(&self, lift: &Exact) -> bool {
        let near = || Some(&self.gauge?.turn?.to(self.grid.unit)? * &Exact::fraction(15, 100)?);
        if self.first_is_off() {
            return false;
        }
        match (self.expected(), near()) {
            (Some(expected), Some(near)) => (lift - &expected).abs() <= near,
            (None, _) | (_, None) => !lift.is_negative(),
        }
    }

    /// A size that leaves a wear clearly below nothing.
    fn wear(&self) -> Option<Doubt> {
        let (unit, mine) = (self.grid.unit, self.figure.to(self.grid.unit)?);
        let doubt = |what, beside: &Exact| Some(Doubt::BelowNothing { what, beside: self.shown(beside)? });
        let judged =
            self.step.judges.iter().find(|one| one.result.as_deref().is_none_or(|what| what == "step_wear"))?;
        let below = |wear: &Exact| {
            let wear = unit.convert(wear, judged.characteristic.unit());
            wear.is_some_and(|wear| measured::is_below_nothing(&wear, self.gauge, (judged, self.inspection)))
        };
        if self.step.is_reckoned_by("wear") {
            let new = Unit::Millimetre.convert(&self.given("bush.pin-width")?, unit)?;
            return if below(&(&new - &mine)) { doubt("Larger than when new,", &new) } else { None };
        }
        if !self.step.is_reckoned_by("journal") {
            return None;
        }
        let block = |worn: bool| {
            let cells = progress::cells(self.inspection, self.step).into_iter();
            let there = cells.filter(move |cell| (cell.block > 0) == worn && cell.place() != self.cell.place());
            there.filter_map(|cell| self.inspection.reading(&self.step.id, &cell.place())?.figure.to(unit)).max()
        };
        let (unworn, worn) = (block(false), block(true));
        if self.cell.block > 0 {
            let unworn = unworn?;
            return if below(&(&unworn - &mine)) { doubt("Larger than the unworn diameter,", &unworn) } else { None };
        }
        let (worn, largest) = (worn?, unworn.into_iter().chain([mine]).max()?);
        if below(&(&largest - &worn)) { doubt("Smaller than a worn diameter,", &worn) } else { None }
    }

    /// Taper and flat of a land: together they make the new land, each for itself no more than wear allows.
    fn land(&self) -> Option<Doubt> {
        let mate = self.step.mate_of(self.cell).filter(|_| self.step.is_reckoned_by("lands"))?;
        let unit = self.grid.unit;
        let given = |name| Unit::Millimetre.convert(&self.given(name)?, unit);
        let (taper, flat, within) = (given("thrust.taper")?, given("thrust.flat")?, given("thrust.closes-within")?);
        let (mine, new) = (self.figure.to(unit)?, &taper + &flat);
        let other = self.inspection.reading(&self.step.id, &mate.place()).and_then(|taken| taken.figure.to(unit));
        if let Some(other) = other {
            let sum = &mine + &other;
            let closes = (&sum - &new).abs() <= within;
            return if closes { None } else { Some(Doubt::Closing { sum: self.shown(&sum)?, new: self.shown(&new)? }) };
        }
        // wear makes the taper shorter and the flat longer
        let is_taper = self.cell.figure.as_ref() == self.grid.figures.first();
        let half = &taper * &Exact::fraction(1, 2)?;
        let (from, to) = if is_taper { (half, &taper + &within) } else { (&flat - &within, &new - &half) };
        if from <= mine && mine <= to {
            return None;
        }
        Some(Doubt::Unusual { from: self.shown(&from)?, to: Some(self.shown(&to)?), meant: None })
    }

    /// A turn past the dial that does not close, or a sweep that is narrower than its own marks.
    fn turn_past(&self) -> Option<Doubt> {
        if !self.step.is_reckoned_by("run-out") {
            return None;
        }
        let (unit, mine) = (self.grid.unit, self.figure.to(self.grid.unit)?);
        let division = self.resolution().unwrap_or_else(Exact::zero);
        let cells = progress::cells(self.inspection, self.step).into_iter();
        let marks: Vec<_> = cells.filter(measured::is_mark).collect();
        let read = |cell: &Cell| self.inspection.reading(&self.step.id, &cell.place())?.figure.to(unit);
        if self.cell.block == 0 {
            let first = marks.first().filter(|_| !measured::is_mark(self.cell)).and_then(read)?;
            let off = (&mine - &first).abs();
            let doubt = || Some(Doubt::Unclosed { off: self.shown(&off)?, division: self.shown(&division)? });
            return if off > division { doubt() } else { None };
        }
        let mut swept = progress::cells(self.inspection, self.step).into_iter().filter(|cell| cell.block > 0);
        let is_largest = swept.next().as_ref() == Some(self.cell);
        let all: Vec<_> = marks.iter().filter_map(read).collect();
        let (end, short) = if is_largest {
            let end = all.iter().max()?;
            (end, end - &mine)
        } else {
            let end = all.iter().min()?;
            (end, &mine - end)
        };
        if short > division { Some(Doubt::Swept { beside: self.shown(end)? }) } else { None }
    }

    fn given(&self, name: &str) -> Option<Exact> {
        self.inspection.sheet()?.given(Given::parse(name)?)
    }

    /// About 25.4 or 1000 times its neighbours, which agree among themselves.
    fn factor(&self) -> Option<Doubt> {
        let value = self.figure.to(self.grid.unit)?.abs();
        let Some(expected) = self.alike() else { return first::magnitude(self) };
        let expected = expected.abs();
        let floor = &self.resolution()? * &Exact::from(5);
        if expected < floor || value.is_zero() {
            return None;
        }
        let ratio = value.over(&expected)?;
        let ratio = if ratio < Exact::from(1) { Exact::from(1).over(&ratio)? } else { ratio };
        let between = |low: u32, high: u32| ratio >= Exact::from(low) && ratio <= Exact::from(high);
        let factor = if between(22, 29) {
            "25.4"
        } else if between(850, 1180) {
            "1000"
        } else {
            return None;
        };
        Some(Doubt::Factor { factor: factor.to_owned(), beside: self.shown(&expected)? })
    }

    /// A micrometer's sleeve has half millimetres.
    fn half_millimetre(&self) -> Option<Doubt> {
        if self.gauge?.kind != GaugeKind::Micrometer {
            return None;
        }
        let (beside, near) = self.alike().map(|alike| (alike, 6)).or_else(|| Some((first::nominal(self)?, 12)))?;
        let off = (&self.figure.to(self.grid.unit)? - &beside).abs();
        let (half, near) = (self.millimetres(5, 10)?, self.millimetres(near, 100)?);
        let beside = self.shown(&beside)?;
        ((&off - &half).abs() <= near).then_some(Doubt::HalfMillimetre { beside })
    }

    /// Far off the other repeats at the same place: ten steps of the gauge, or what its scatter never does.
    fn far_off(&self) -> Option<Doubt> {
        let mine = self.comparable(self.cell, Some(self.figure))?;
        let repeats = self.comparables(|cell| cell.spot() == self.cell.spot());
        let typical = median(repeats)?;
        let mut far = &self.resolution()? * &Exact::from(10);
        if let Some(pooled) = self.gauge?.repeatability.as_ref() {
            far = far.max(&pooled.s.to(self.grid.unit)? * &Exact::from(6));
        }
        ((&mine - &typical).abs() > far).then_some(())?;
        Some(Doubt::FarOff { beside: self.shown(&typical)? })
    }

    /// A diameter one per cent off the others of its step: no journal wears so far, a digit does. Common practice, no source.
    fn other_size(&self) -> Option<Doubt> {
        let mine = self.figure.to(self.grid.unit).filter(|_| self.step.is_reckoned_by("journal"))?;
        let cells = progress::cells(self.inspection, self.step).into_iter();
        let others = cells.filter(|cell| cell.place() != self.cell.place());
        let sizes = others.filter_map(|cell| self.inspection.reading(&self.step.id, &cell.place()));
        let typical = median(sizes.filter_map(|taken| taken.figure.to(self.grid.unit)).collect())?;
        let far = &typical * &Exact::fraction(1, 100)?;
        ((&mine - &typical).abs() > far).then_some(())?;
        Some(Doubt::FarOff { beside: self.shown(&typical)? })
    }

    /// What this figure should be near: the typical one of the step, else the last inspection's for a lift.
    fn expected(&self) -> Option<Exact> {
        median(self.comparables(|_| true)).or_else(|| {
            let judged = self.step.judges.first()?.characteristic;
            let past = self.inspection.history_of(judged).rfind(|past| past.side != Some(Side::Lower))?;
            is_lift(self.step).then(|| judged.unit().convert(&past.value, self.grid.unit))?
        })
    }

    /// The typical figure of the other places, when they agree to within half of it.
    fn alike(&self) -> Option<Exact> {
        let all: Vec<_> = self
            .others(|_| true)
            .filter_map(|cell| self.inspection.reading(&self.step.id, &cell.place())?.figure.amount(self.grid.unit))
            .collect();
        let spread = all.iter().max()? - all.iter().min()?;
        let typical = median(all)?;
        (&spread + &spread <= typical.abs()).then_some(typical)
    }

    /// Cells of the same figure in the same block, this one left out.
    fn others(&self, fits: impl Fn(&Cell) -> bool) -> impl Iterator<Item = Cell> {
        let mine = self.cell.place();
        let alike = move |cell: &Cell| cell.figure == self.cell.figure && cell.block == self.cell.block;
        progress::cells(self.inspection, self.step)
            .into_iter()
            .filter(move |cell| cell.place() != mine && alike(cell) && fits(cell))
    }

    fn comparables(&self, fits: impl Fn(&Cell) -> bool) -> Vec<Exact> {
        self.others(fits).filter_map(|cell| self.comparable(&cell, None)).collect()
    }

    /// The figure of a cell as its neighbours can be compared with it: for the second of a lift, the lift itself.
    fn comparable(&self, cell: &Cell, typed: Option<Figure>) -> Option<Exact> {
        let taken = |cell: &Cell| self.inspection.reading(&self.step.id, &cell.place())?.figure.amount(self.grid.unit);
        let value = typed.map_or_else(|| taken(cell), |figure| figure.amount(self.grid.unit))?;
        match self.grid.figures.as_slice() {
            [low, high] if is_lift(self.step) => {
                if cell.figure.as_ref() != Some(high) {
                    return None; // where the dial is set down says nothing
                }
                let low = Cell { figure: Some(low.clone()), ..cell.clone() };
                Some(&value - &taken(&low)?)
            }
            _ => Some(value),
        }
    }

    fn resolution(&self) -> Option<Exact> {
        self.gauge?.resolution?.to(self.grid.unit)
    }

    fn millimetres(&self, numerator: i128, denominator: i128) -> Option<Exact> {
        Unit::Millimetre.convert(&Exact::fraction(numerator, denominator)?, self.grid.unit)
    }

    /// A size in the grid's unit with the gauge's places, for a question.
    fn shown(&self, size: &Exact) -> Option<Figure> {
        let places = self
            .resolution()
            .and_then(|step| step.as_decimal())
            .and_then(|step| step.split_once('.').map(|(_, places)| places.len()));
        let places = u32::try_from(places.unwrap_or(3)).unwrap_or(3);
        Some(Figure::new(size.rounded(places, Rounding::Nearest).parse().ok()?, self.grid.unit))
    }
}

fn median(mut values: Vec<Exact>) -> Option<Exact> {
    values.sort();
    values.get(values.len() / 2).cloned()
}

/// Places behind the point that one step of a scale is written with in this unit.
fn places_of(step: Figure, unit: Unit) -> Option<usize> {
    let step = step.to(unit)?.as_decimal()?;
    Some(step.split_once('.').map_or(0, |(_, places)| places.len()))
}
