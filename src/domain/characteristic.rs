//! The one table of characteristics: everything that can be judged. Sheets, the checker, the schemas and the docs use it.

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
}

macro_rules! characteristics {
    ($($id:literal, $part:literal, $unit:ident, $name:literal;)*) => {
        const ROWS: &[Row] = &[$(Row { id: $id, part: $part, unit: Unit::$unit, name: $name },)*];
    };
}

// ts: turbine side, cs: compressor side. The unit is the one shown where a sheet gives none.
characteristics! {
    "float.axial", "rotor", Millimetre, "axial float";
    "float.radial.cs", "rotor", Millimetre, "radial float, compressor side";
    "float.radial.ts", "rotor", Millimetre, "radial float, turbine side";
    "shroud.clearance", "rotor", Millimetre, "wheel to shroud clearance";
    "thrust.main.ratio", "thrust.main", One, "taper to flat, worst land";
    "thrust.counter.ratio", "thrust.counter", One, "taper to flat, worst land";
    "collar.runout", "collar", Millimetre, "face run-out";
    "collar.thickness", "collar", Millimetre, "thickness";
    "bush.cs.clearance", "bush.cs", Millimetre, "clearance";
    "bush.ts.clearance", "bush.ts", Millimetre, "clearance";
    "bush.cs.outer-clearance", "bush.cs", Millimetre, "outer clearance";
    "bush.ts.outer-clearance", "bush.ts", Millimetre, "outer clearance";
    "bush.cs.pin", "bush.cs", Millimetre, "locking pin wear";
    "bush.ts.pin", "bush.ts", Millimetre, "locking pin wear";
    "bush.cs.bore", "bush.cs", Millimetre, "bore";
    "bush.ts.bore", "bush.ts", Millimetre, "bore";
    "shaft.cs.step", "shaft", Millimetre, "step wear, compressor side";
    "shaft.ts.step", "shaft", Millimetre, "step wear, turbine side";
    "shaft.cs.ovality", "shaft", Millimetre, "ovality, compressor side";
    "shaft.ts.ovality", "shaft", Millimetre, "ovality, turbine side";
    "shaft.cs.taper", "shaft", Millimetre, "taper, compressor side";
    "shaft.ts.taper", "shaft", Millimetre, "taper, turbine side";
    "shaft.cs.diameter", "shaft", Millimetre, "journal diameter, compressor side";
    "shaft.ts.diameter", "shaft", Millimetre, "journal diameter, turbine side";
    "shaft.runout.nose", "shaft", Millimetre, "run-out, compressor nose";
    "shaft.runout.collar", "shaft", Millimetre, "run-out, thrust collar";
    "shaft.runout.cs", "shaft", Millimetre, "run-out, compressor side journal";
    "shaft.runout.mid", "shaft", Millimetre, "run-out, middle";
    "shaft.runout.ts", "shaft", Millimetre, "run-out, turbine side journal";
    "shaft.runout.hub", "shaft", Millimetre, "run-out, turbine hub";
    "shaft.flux", "shaft", Millitesla, "residual flux density";
    "impeller.life", "impeller", Hour, "hours since new";
    "turbine.life", "turbine", Hour, "hours since new";
    "nozzle.trailing-edge", "nozzle", Millimetre, "trailing edge thickness";
    "labyrinth.clearance", "labyrinth", Millimetre, "clearance all round";
    "casing.gas.wall", "casing", Millimetre, "gas casing wall";
    "casing.air.wall", "casing", Millimetre, "air casing wall";
    "balance.cs", "balance", GramMillimetre, "residual unbalance, compressor side";
    "balance.ts", "balance", GramMillimetre, "residual unbalance, turbine side";
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

    /// The unit it is shown in where the sheet gives none.
    pub fn unit(self) -> Unit {
        self.row().map_or(Unit::One, |row| row.unit)
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
    what: &'static str,
}

macro_rules! givens {
    ($($name:literal, $unit:ident $($count:ident)?, $what:literal;)*) => {
        const GIVEN: &[GivenRow] = &[$(GivenRow {
            name: $name, unit: Unit::$unit, holds: concat!($(stringify!($count))?), what: $what,
        },)*];
    };
}

givens! {
    "thrust.lands", One count, "lands on each side of the thrust bearing";
    "thrust.taper", Millimetre, "new taper length Lt0 along the mean diameter";
    "thrust.flat", Millimetre, "new flat length Lf0 along the mean diameter";
    "thrust.depth", Millimetre, "depth d0 of the new taper at its deep end";
    "thrust.closes-within", Millimetre, "by how much taper + flat may miss the new ring's";
    "thrust.edge", Millimetre, "standard uncertainty of the print's edge";
    "bush.pin-width", Millimetre, "new width of the locking pin";
    "journal.diameter", Millimetre, "nominal journal diameter";
    "bush.expansion", PerKelvin, "expansion of the bush, for sizes at 20 degC";
    "shaft.expansion", PerKelvin, "expansion of the shaft, for sizes at 20 degC";
    "lever.cs", One, "radial float at the compressor nose per lift at its journal";
    "lever.ts", One, "radial float at the turbine nose per lift at its journal";
    "shroud.places", One count, "places of the wheel to shroud clearance";
    "nozzle.vanes", One count, "vanes of the nozzle ring";
    "casing.fields", One count, "fields of the wall thickness grid";
    "labyrinth.places", One count, "places of the labyrinth clearance";
    "impeller.blades", One count, "blades of the compressor impeller";
    "turbine.blades", One count, "blades of the turbine wheel";
    "rotor.mass", Kilogram, "mass of the rotor";
    "rotor.speed", RevolutionPerMinute, "largest service speed";
    "rotor.to-cs", Millimetre, "centre of mass to the compressor side journal";
    "rotor.to-ts", Millimetre, "centre of mass to the turbine side journal";
    "station.nose", Millimetre, "compressor nose from the compressor side journal, toward the turbine positive";
    "station.collar", Millimetre, "thrust collar from the compressor side journal";
    "station.mid", Millimetre, "middle station from the compressor side journal";
    "station.ts", Millimetre, "turbine side journal from the compressor side journal";
    "station.hub", Millimetre, "turbine hub from the compressor side journal";
    "use.daily", Hour, "mean running hours a day";
}

impl Given {
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

    /// What it is.
    pub fn what(self) -> &'static str {
        GIVEN.get(self.0).map_or("", |row| row.what)
    }
}
