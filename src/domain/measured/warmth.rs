//! Sizes and clearances brought to 20 degC, where the step names the temperatures and the sheet the expansions.

use super::super::characteristic::Given;
use super::super::checklist::Step;
use super::super::exact::Exact;
use super::super::progress;
use super::super::reckon::to_20::{Body, to_20};
use super::super::reckon::uncertainty::Warmth;
use super::super::reckon::working::Working;
use super::super::unit::Unit;
use super::places::shown;
use super::{Field, PlaceValue};

/// Parts and gauges lie side by side until within so many kelvin. Common practice, no source.
const WITHIN: u32 = 1;

/// How warm it was, and what grows by how much.
pub(super) struct Warm {
    part: Body,
    gauge: Body,
    /// Length and growth against each other of bush and shaft.
    pair: Option<(Exact, Exact)>,
}

impl Warm {
    /// For sizes of a part.
    ///
    /// # Errors
    /// Why they stay as read.
    pub(super) fn of_size_at(field: &Field<'_>) -> Result<Self, &'static str> {
        let (part, gauge) = temperatures(field)?;
        let expansion = gauge_expansion(field).ok_or("the expansion of the gauge is not entered")?;
        let part = Body { temperature: part, expansion: expansion_of(field)? };
        Ok(Self { part, gauge: Body { temperature: gauge, expansion }, pair: None })
    }

    /// For the clearance of a bush on its journal: the gauge's own growth cancels.
    ///
    /// # Errors
    /// Why it stays as read.
    pub(super) fn of_lift(field: &Field<'_>) -> Result<Self, &'static str> {
        let (part, gauge) = temperatures(field)?;
        let bush = expansion_of(field)?;
        let against = &bush - &expansion(field, "shaft.expansion").ok_or(NO_EXPANSION)?;
        let length = field.given("journal.diameter").ok_or("the sheet gives no diameter of the journal")?;
        let body = |temperature, expansion| Body { temperature, expansion };
        Ok(Self { part: body(part, bush), gauge: body(gauge, Exact::zero()), pair: Some((length, against)) })
    }

    /// A size at 20 degC; as it is where nothing would be left.
    pub(super) fn size_20(&self, size: &Exact) -> Exact {
        to_20(size, &self.part, Some(&self.gauge)).unwrap_or_else(|_| size.clone())
    }

    /// A clearance at 20 degC: less what bush and shaft have grown apart.
    pub(super) fn clearance_20(&self, clearance: &Exact) -> Exact {
        clearance - &self.apart().unwrap_or_else(Exact::zero)
    }

    fn apart(&self) -> Option<Exact> {
        let (length, against) = self.pair.as_ref()?;
        Some(&(length * against) * &(&self.part.temperature - &Exact::from(20)))
    }

    /// What is left unknown of the temperature of a size.
    pub(super) fn of_size(&self, size: &Exact) -> Warmth {
        let expansion = self.part.expansion.clone();
        Warmth { length: size.clone(), expansion, half_width: Exact::from(WITHIN) }
    }

    /// What is left unknown of the temperature of a clearance.
    pub(super) fn of_clearance(&self) -> Option<Warmth> {
        let (length, expansion) = self.pair.clone()?;
        Some(Warmth { length, expansion: expansion.abs(), half_width: Exact::from(WITHIN) })
    }

    /// The working; `values` are those at 20 degC.
    pub(super) fn working(&self, values: &[PlaceValue], unit: Unit) -> Working {
        let mut working = Working {
            rule: "to-20/1".to_owned(),
            purpose: "what is judged is the size at 20 degC",
            source: "ISO 1, definition of the coefficient of expansion",
            lines: Vec::new(),
            result: String::new(),
        };
        working.say(format!("part at {} degC", shown(&self.part.temperature)));
        if let (Some((length, against)), Some(apart)) = (&self.pair, self.apart()) {
            let put_in = format!("{} x {} x ({} - 20)", shown(length), against, shown(&self.part.temperature));
            working.step(
                "grown apart",
                "d (a_bush - a_shaft) (t - 20)",
                put_in,
                format!("{} {unit}", apart.at_most(5)),
            );
        } else {
            working.say(format!("gauge at {} degC", shown(&self.gauge.temperature)));
            working.say(format!("expansion: part {}, gauge {} 1/K", self.part.expansion, self.gauge.expansion));
            working.say("reading (1 + a_gauge (t_gauge - 20)) / (1 + a_part (t_part - 20))");
        }
        for value in values {
            working.step(value.spot.clone(), "at 20 degC", "", format!("{} {unit}", value.value.at_most(5)));
        }
        working.resulting("judged at 20 degC")
    }
}

/// Lengths as read are told to be so, and why; nothing is said of what is no length.
pub(super) fn tell_as_read(warm: Result<&Warm, &'static str>, unit: Unit, working: &mut Working) {
    if let (Err(why), Unit::Millimetre) = (warm, unit) {
        working.say(format!("not corrected for temperature: {why}"));
    }
}

const NO_EXPANSION: &str = "the sheet gives no expansion";

/// Of the part, then of the gauge, in degC, from the step that the grid names.
fn temperatures(field: &Field<'_>) -> Result<(Exact, Exact), &'static str> {
    let named = field.step.takes.temperatures().ok_or("none is taken for it")?;
    let step = field.inspection.head().checklist.step(named);
    let read = |step: &Step| {
        let mut read = progress::cells(field.inspection, step).into_iter().map(|cell| {
            field.inspection.reading(&step.id, &cell.place()).and_then(|taken| taken.figure.to(Unit::Celsius))
        });
        Some((read.next()??, read.next()??))
    };
    step.and_then(read).ok_or("none was taken")
}

/// Of the part judged: bushes and the shaft are known to the sheet.
fn expansion_of(field: &Field<'_>) -> Result<Exact, &'static str> {
    let part = field.judged.characteristic.part();
    expansion(field, &format!("{}.expansion", part.split('.').next().unwrap_or(part))).ok_or(NO_EXPANSION)
}

fn gauge_expansion(field: &Field<'_>) -> Option<Exact> {
    let first = field.cells.first().filter(|_| field.judged.characteristic.unit() == Unit::Millimetre)?;
    let taken = field.inspection.reading(&field.step.id, &first.place())?.gauge?;
    field.inspection.gauge(&taken)?.expansion?.to(Unit::PerKelvin)
}

fn expansion(field: &Field<'_>, name: &str) -> Option<Exact> {
    field.inspection.sheet()?.given(Given::parse(name)?)
}
