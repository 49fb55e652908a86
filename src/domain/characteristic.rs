//! The one table of characteristics: everything that can be judged. Sheets, the checker, the schemas and the docs use it.

use super::exact::Exact;
use super::figure::{Figure, OF_A_METAL};
use super::judge::Side;
use super::unit::{Dimension, Unit};

/// A thing judged, reckoned from readings; known by a dotted id such as `bush.ts.clearance`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Characteristic(usize);

/// One row of the table.
struct Row {
    id: &'static str,
    name: &'static str,
    part: &'static str,
    unit: Unit,
    how: How,
}

/// To which side it goes bad, none where to either, and what reckons it.
type How = (Option<Side>, &'static [By]);

/// A reckoning without its number, and which of its results.
type By = (&'static str, Option<&'static str>);

/// Between two readings of one dial, with leaves, or read straight; too tight is as bad as too wide.
const GAP: How = (None, &[("lift", None), ("feelers", None), ("repeats", None)]);
/// What is rubbed, burnt or corroded thinner.
const SHRINKS: How = (Some(Side::Lower), &[("repeats", None)]);
const GROWS: How = (Some(Side::Upper), &[("repeats", None)]);
const WEAR: How = (Some(Side::Upper), &[("wear", None)]);
/// The flat grows and the taper shrinks.
const LANDS: How = (Some(Side::Lower), &[("lands", None)]);
const STEP: How = (Some(Side::Upper), &[("journal", Some("step_wear"))]);
const OVALITY: How = (Some(Side::Upper), &[("journal", Some("ovality"))]);
const TAPER: How = (Some(Side::Upper), &[("journal", Some("taper"))]);
const TURN: How = (Some(Side::Upper), &[("run-out", None), ("run-out", Some("tir"))]);
const LIFE: How = (Some(Side::Upper), &[("life", None)]);
const UNBALANCE: How = (Some(Side::Upper), &[("unbalance", None)]);

macro_rules! characteristics {
    ($($id:literal, $part:literal, $unit:ident, $how:ident, $name:literal;)*) => {
        const ROWS: &[Row] = &[$(Row { id: $id, part: $part, unit: Unit::$unit, how: $how, name: $name },)*];
    };
}

// ts: turbine side, cs: compressor side. The unit is the one shown where a sheet gives none.
characteristics! {
    "float.axial", "rotor", Millimetre, GAP, "axial float";
    "float.radial.cs", "rotor", Millimetre, GAP, "radial float, compressor side";
    "float.radial.ts", "rotor", Millimetre, GAP, "radial float, turbine side";
    "shroud.clearance", "rotor", Millimetre, GAP, "wheel to shroud clearance";
    "tip.clearance", "rotor", Millimetre, GAP, "turbine blade tip clearance";
    "thrust.main.ratio", "thrust.main", One, LANDS, "taper to flat, worst land";
    "thrust.counter.ratio", "thrust.counter", One, LANDS, "taper to flat, worst land";
    "collar.runout", "collar", Millimetre, TURN, "face run-out";
    "collar.thickness", "collar", Millimetre, SHRINKS, "thickness";
    "bush.cs.clearance", "bush.cs", Millimetre, GAP, "clearance";
    "bush.ts.clearance", "bush.ts", Millimetre, GAP, "clearance";
    "bush.cs.outer-clearance", "bush.cs", Millimetre, GAP, "outer clearance";
    "bush.ts.outer-clearance", "bush.ts", Millimetre, GAP, "outer clearance";
    "bush.cs.pin", "bush.cs", Millimetre, WEAR, "locking pin wear";
    "bush.ts.pin", "bush.ts", Millimetre, WEAR, "locking pin wear";
    "bush.cs.bore", "bush.cs", Millimetre, GROWS, "bore";
    "bush.ts.bore", "bush.ts", Millimetre, GROWS, "bore";
    "shaft.cs.step", "shaft", Millimetre, STEP, "step wear, compressor side";
    "shaft.ts.step", "shaft", Millimetre, STEP, "step wear, turbine side";
    "shaft.cs.ovality", "shaft", Millimetre, OVALITY, "ovality, compressor side";
    "shaft.ts.ovality", "shaft", Millimetre, OVALITY, "ovality, turbine side";
    "shaft.cs.taper", "shaft", Millimetre, TAPER, "taper, compressor side";
    "shaft.ts.taper", "shaft", Millimetre, TAPER, "taper, turbine side";
    "shaft.cs.diameter", "shaft", Millimetre, SHRINKS, "journal diameter, compressor side";
    "shaft.ts.diameter", "shaft", Millimetre, SHRINKS, "journal diameter, turbine side";
    "shaft.cs.seat", "shaft", Millimetre, SHRINKS, "impeller's seat, diameter";
    "shaft.ts.seat", "shaft", Millimetre, SHRINKS, "turbine wheel's seat, diameter";
    "shaft.runout.nose", "shaft", Millimetre, TURN, "run-out, compressor nose";
    "shaft.runout.collar", "shaft", Millimetre, TURN, "run-out, thrust collar";
    "shaft.runout.cs", "shaft", Millimetre, TURN, "run-out, compressor side journal";
    "shaft.runout.mid", "shaft", Millimetre, TURN, "run-out, middle";
    "shaft.runout.ts", "shaft", Millimetre, TURN, "run-out, turbine side journal";
    "shaft.runout.hub", "shaft", Millimetre, TURN, "run-out, turbine hub";
    "shaft.flux", "shaft", Millitesla, GROWS, "residual flux density";
    "impeller.bore", "impeller", Millimetre, GROWS, "bore, on its seat";
    "turbine.bore", "turbine", Millimetre, GROWS, "bore, on its seat";
    "impeller.life", "impeller", Hour, LIFE, "hours since new";
    "turbine.life", "turbine", Hour, LIFE, "hours since new";
    "nozzle.trailing-edge", "nozzle", Millimetre, SHRINKS, "trailing edge thickness";
    "labyrinth.clearance", "labyrinth", Millimetre, GAP, "clearance all round";
    "casing.gas.wall", "casing", Millimetre, SHRINKS, "gas casing wall";
    "casing.air.wall", "casing", Millimetre, SHRINKS, "air casing wall";
    "balance.cs", "balance", GramMillimetre, UNBALANCE, "residual unbalance, compressor side";
    "balance.ts", "balance", GramMillimetre, UNBALANCE, "residual unbalance, turbine side";
}

impl Characteristic {
    /// Every characteristic in the table's order.
    pub fn all() -> impl Iterator<Item = Self> {
        (0..ROWS.len()).map(Self)
    }

    /// The characteristic with this id.
    pub fn parse(id: &str) -> Option<Self> {
        ROWS.iter().position(|row| row.id == id).map(Self)
    }

    fn row(self) -> Option<&'static Row> {
        ROWS.get(self.0)
    }

    /// The dotted id.
    pub fn id(self) -> &'static str {
        self.row().map_or("", |row| row.id)
    }

    /// What the trade calls it.
    pub fn name(self) -> &'static str {
        self.row().map_or("", |row| row.name)
    }

    /// The part whose verdict it joins.
    pub fn part(self) -> &'static str {
        self.row().map_or("", |row| row.part)
    }

    /// The same in words, where no checklist at hand names it.
    pub fn part_word(self) -> &'static str {
        match self.part() {
            "bush.cs" => "bush, compressor",
            "bush.ts" => "bush, turbine",
            "casing" => "casings",
            "collar" => "thrust collar",
            "labyrinth" => "labyrinths",
            "nozzle" => "nozzle ring",
            "rotor" => "rotor, assembled",
            "thrust.counter" => "counter thrust",
            "thrust.main" => "main thrust",
            "turbine" => "turbine wheel",
            other => other,
        }
    }

    /// The other part whose size or shape is in the figure: with a new one it is another figure. Source: geometry.
    pub fn mate(self) -> Option<&'static str> {
        let on_shaft = ["bush.cs.clearance", "bush.ts.clearance", "labyrinth.clearance", "collar.runout"];
        on_shaft.contains(&self.id()).then_some("shaft")
    }

    /// Whether what is judged of this part are gaps and weights of other pieces: it is none itself. Source: geometry.
    pub fn is_between(part: &str) -> bool {
        Self::all().any(|one| one.part() == part && !one.between().is_empty())
    }

    /// Every piece whose size, shape or weight is in the figure: its own part, its mate, what a gap of the whole rotor lies
    /// between, what turns with a balanced rotor. With another one it is another figure. Source: geometry.
    pub fn pieces(self) -> impl Iterator<Item = &'static str> {
        [self.part()].into_iter().chain(self.mate()).chain(self.between().iter().copied())
    }

    fn between(self) -> &'static [&'static str] {
        match self.id() {
            "float.axial" => &["thrust.main", "thrust.counter", "collar"],
            "float.radial.cs" => &["bush.cs", "shaft"],
            "float.radial.ts" => &["bush.ts", "shaft"],
            "shroud.clearance" => &["impeller", "casing", "thrust.main", "collar"],
            "tip.clearance" => &["turbine", "casing"],
            "balance.cs" | "balance.ts" => &["shaft", "collar", "impeller", "turbine"],
            _ => &[],
        }
    }

    /// The unit it is shown in where the sheet gives none.
    pub fn unit(self) -> Unit {
        self.row().map_or(Unit::One, |row| row.unit)
    }

    /// Whether this reckoning, such as `journal/1`, yields it with this of its results.
    pub fn is_reckoned_by(self, reckoning: &str, result: Option<&str>) -> bool {
        let name = reckoning.split('/').next().unwrap_or(reckoning);
        self.reckonings().any(|(one, of)| one == name && of == result)
    }

    /// Every reckoning that yields it, without its number, and which of its results.
    pub fn reckonings(self) -> impl Iterator<Item = (&'static str, Option<&'static str>)> {
        self.row().map_or(&[][..], |row| row.how.1).iter().copied()
    }

    /// The side to which wear takes it; none where both are bad. Source: common practice.
    pub fn worsens(self) -> Option<Side> {
        self.row().and_then(|row| row.how.0)
    }

    /// The side on which no figure is ever bad: of wear, run-out, unbalance and hours less is always better, of a wall more.
    /// Source: common practice.
    pub fn never_bad(self) -> Option<Side> {
        let counted = ["wear", "journal", "run-out", "life", "unbalance"];
        match self.id() {
            "casing.gas.wall" | "casing.air.wall" => Some(Side::Upper),
            "shaft.flux" => Some(Side::Lower),
            _ => self.reckonings().any(|(name, _)| counted.contains(&name)).then_some(Side::Lower),
        }
    }

    /// The size of the new piece from which wear takes it: it is never worn by more. Source: geometry.
    pub fn worn_from(self) -> Option<Given> {
        ["bush.cs.pin", "bush.ts.pin"].contains(&self.id()).then(|| Given::parse("bush.pin-width"))?
    }

    /// Whether it is an unbalance of the whole rotor.
    pub fn is_of_balance(self) -> bool {
        self.id().starts_with("balance.")
    }

    /// What its levels must be figures of.
    pub fn dimension(self) -> Dimension {
        self.unit().dimension()
    }
}

/// A figure of the machine that reckonings need and no level is: known to the sheet, with its source.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Given(usize);

struct GivenRow {
    name: &'static str,
    unit: Unit,
    /// `count` where only whole numbers make sense.
    holds: &'static str,
    plain: &'static str,
    what: &'static str,
}

macro_rules! givens {
    ($($name:literal, $unit:ident $($count:ident)?, $plain:literal, $what:literal;)*) => {
        const GIVEN: &[GivenRow] = &[$(GivenRow {
            name: $name, unit: Unit::$unit, holds: concat!($(stringify!($count))?), plain: $plain, what: $what,
        },)*];
    };
}

givens! {
    "thrust.lands", One count, "lands on each side", "lands on each side of the thrust bearing";
    "thrust.taper", Millimetre, "new taper length", "new taper length Lt0 along the mean diameter";
    "thrust.flat", Millimetre, "new flat length", "new flat length Lf0 along the mean diameter";
    "thrust.depth", Millimetre, "new taper depth", "depth d0 of the new taper at its deep end";
    "thrust.closes-within", Millimetre, "taper + flat, may miss by", "by how much taper + flat may miss the new ring's";
    "thrust.edge", Millimetre, "edge of the print, u", "standard uncertainty of the print's edge";
    "bush.pin-width", Millimetre, "locking pin, new width", "new width of the locking pin";
    "journal.diameter", Millimetre, "journal diameter", "nominal journal diameter";
    "bush.expansion", PerKelvin, "bush, expansion", "expansion of the bush, for sizes at 20 degC";
    "shaft.expansion", PerKelvin, "shaft, expansion", "expansion of the shaft, for sizes at 20 degC";
    "lever.cs", One, "lever, compressor nose", "radial float at the compressor nose per lift at its journal";
    "lever.ts", One, "lever, turbine nose", "radial float at the turbine nose per lift at its journal";
    "shroud.places", One count, "shroud clearance, places", "places of the clearance of each wheel to its shroud";
    "nozzle.vanes", One count, "nozzle ring, vanes", "vanes of the nozzle ring";
    "casing.fields", One count, "casing walls, fields", "fields of the wall thickness grid";
    "labyrinth.places", One count, "labyrinth, places", "places of the labyrinth clearance";
    "impeller.blades", One count, "impeller, blades", "blades of the compressor impeller";
    "turbine.blades", One count, "turbine wheel, blades", "blades of the turbine wheel";
    "rotor.mass", Kilogram, "rotor, mass", "mass of the rotor";
    "rotor.speed", RevolutionPerMinute, "rotor, largest speed", "largest service speed";
    "rotor.to-cs", Millimetre, "mass to compressor side", "centre of mass to the compressor side journal";
    "rotor.to-ts", Millimetre, "mass to turbine side", "centre of mass to the turbine side journal";
    "balance.grade", MillimetrePerSecond, "balance grade G", "balance quality grade G, where the manual gives it in place of amounts";
    "indication.gap", Millimetre, "indications, gap", "penetrant indications nearer than this, edge to edge, are one";
    "station.nose", Millimetre, "station, nose", "compressor nose from the compressor side journal, toward the turbine positive";
    "station.collar", Millimetre, "station, thrust collar", "thrust collar from the compressor side journal";
    "station.mid", Millimetre, "station, middle", "middle station from the compressor side journal";
    "station.ts", Millimetre, "station, turbine journal", "turbine side journal from the compressor side journal";
    "station.hub", Millimetre, "station, turbine hub", "turbine hub from the compressor side journal";
    "use.daily", Hour, "running hours a day", "mean running hours a day";
}

/// What sort of figure it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum GivenKind {
    /// A whole number of lands, vanes, places or blades.
    Count,
    /// Hours in a day.
    PerDay,
    /// Along the shaft, on either side of the compressor side journal.
    Place,
    /// The largest speed of a turbocharger.
    Speed,
    /// Above nothing.
    Size,
}

impl Given {
    /// What sort of figure it is.
    pub fn kind(self) -> GivenKind {
        match self.name().split_once('.') {
            _ if self.is_count() => GivenKind::Count,
            Some(("station", _)) => GivenKind::Place,
            Some(("use", "daily")) => GivenKind::PerDay,
            Some(("rotor", "speed")) => GivenKind::Speed,
            Some(_) | None => GivenKind::Size,
        }
    }

    /// What is expected in the place of a figure that no machine can have.
    pub fn expected_instead(self, figure: Figure) -> Option<&'static str> {
        let Some(size) = figure.to(self.unit()) else { return Some(self.unit().dimension().word()) };
        let between = |low: u32, high: u32| size >= Exact::from(low) && size <= Exact::from(high);
        let whole = size.as_decimal().is_some_and(|text| !text.contains('.'));
        match self.kind() {
            // a grid has as many rows
            GivenKind::Count if !whole || !between(1, 200) => Some("a whole number from 1 to 200"),
            GivenKind::PerDay if size <= Exact::zero() || !between(0, 24) => Some("above 0, and no more than 24 h"),
            // 18,000 is read as 18: no turbocharger of an engine turns so slowly, none faster; common practice, no source
            GivenKind::Speed if !between(1000, 500_000) => Some("from 1000 to 500000 r/min, typed without a mark"),
            GivenKind::Size if size <= Exact::zero() => Some("a figure above 0"),
            GivenKind::Size if figure.is_no_metals() => Some(OF_A_METAL),
            GivenKind::Count | GivenKind::PerDay | GivenKind::Speed | GivenKind::Size | GivenKind::Place => None,
        }
    }

    /// How many blades, vanes or lands a part has: what the numbers of its findings count.
    pub fn numbers_of(part: &str) -> Option<Self> {
        let piece = part.split('.').next()?;
        ["blades", "vanes", "lands"].iter().find_map(|counted| Self::parse(&format!("{piece}.{counted}")))
    }

    /// Every given in the table's order.
    pub fn all() -> impl Iterator<Item = Self> {
        (0..GIVEN.len()).map(Self)
    }

    /// The given with this name.
    pub fn parse(name: &str) -> Option<Self> {
        GIVEN.iter().position(|row| row.name == name).map(Self)
    }

    /// The dotted name.
    pub fn name(self) -> &'static str {
        GIVEN.get(self.0).map_or("", |row| row.name)
    }

    /// The unit it is shown in.
    pub fn unit(self) -> Unit {
        GIVEN.get(self.0).map_or(Unit::One, |row| row.unit)
    }

    /// Whether it says how many: whole numbers only.
    pub fn is_count(self) -> bool {
        GIVEN.get(self.0).is_some_and(|row| row.holds == "count")
    }

    /// What a form calls it: short, without a dot.
    pub fn plain(self) -> &'static str {
        GIVEN.get(self.0).map_or("", |row| row.plain)
    }

    /// What it is.
    pub fn what(self) -> &'static str {
        GIVEN.get(self.0).map_or("", |row| row.what)
    }
}
