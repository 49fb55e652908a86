//! The one table of units: the words people type, the dimension, the exact factor to the dimension's base unit.

use std::fmt;

use super::exact::Exact;

/// What kind of quantity a figure is. A length is no pressure, a temperature no temperature difference.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Dimension {
    /// Base: millimetre.
    Length,
    /// Base: hour.
    Time,
    /// A temperature read off a thermometer. Base: kelvin.
    Temperature,
    /// A difference of two temperatures. Base: kelvin.
    TemperatureDifference,
    /// Base: pascal.
    Pressure,
    /// Base: newton.
    Force,
    /// Base: newton metre.
    Torque,
    /// Base: kilogram.
    Mass,
    /// Mass times its distance from the axis. Base: gram millimetre.
    Unbalance,
    /// Base: revolution per minute.
    Rotation,
    /// Base: millitesla.
    FluxDensity,
    /// Base: degree.
    Angle,
    /// Base: lux.
    Illuminance,
    /// Base: millimetre per second.
    Velocity,
    /// Growth with temperature, of a length over itself. Base: one per kelvin.
    Expansion,
    /// A share or a ratio. Base: one.
    Ratio,
}

impl Dimension {
    /// What it is called in a refusal.
    pub fn word(self) -> &'static str {
        match self {
            Self::Length => "length",
            Self::Time => "time",
            Self::Temperature => "temperature",
            Self::TemperatureDifference => "temperature difference",
            Self::Pressure => "pressure",
            Self::Force => "force",
            Self::Torque => "torque",
            Self::Mass => "mass",
            Self::Unbalance => "unbalance",
            Self::Rotation => "speed of rotation",
            Self::FluxDensity => "magnetic flux density",
            Self::Angle => "angle",
            Self::Illuminance => "illuminance",
            Self::Velocity => "velocity",
            Self::Expansion => "coefficient of expansion",
            Self::Ratio => "ratio",
        }
    }

    /// The same as one of its kind: `a length`, `an unbalance`.
    pub fn one(self) -> String {
        format!("{} {}", article(self.word()), self.word())
    }
}

/// `a length`, `an angle`: the article of a word for a dimension.
pub fn article(word: &str) -> &'static str {
    if word.starts_with(['a', 'e', 'i', 'o', 'u']) { "an" } else { "a" }
}

/// One row of the table: `base = (value + offset) * numerator / denominator`.
struct Row {
    dimension: Dimension,
    words: &'static [&'static str],
    numerator: i128,
    denominator: i128,
    offset: (i128, i128),
}

macro_rules! units {
    ($($unit:ident, $doc:literal, $dimension:ident, $words:expr, $numerator:literal / $denominator:literal $(, + $plus:literal / $over:literal)?;)*) => {
        /// A unit that figures may be typed, kept or shown in.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum Unit { $(#[doc = $doc] $unit,)* }

        const ALL: &[Unit] = &[$(Unit::$unit,)*];

        impl Unit {
            fn row(self) -> &'static Row {
                match self { $(Self::$unit => {
                    const ROW: &Row = &Row {
                        dimension: Dimension::$dimension, words: &$words,
                        numerator: $numerator, denominator: $denominator, offset: units!(@offset $($plus / $over)?),
                    };
                    ROW
                })* }
            }
        }
    };
    (@offset) => { (0, 1) };
    (@offset $plus:literal / $over:literal) => { ($plus, $over) };
}

// Factors: SI brochure (9th edition), NIST SP 811:2008 appendix B, the 1959 inch and pound, the 1901 standard gravity.
// The first word is the one shown. Factors with pi (rad, rad/s) carry twenty digits and are the only inexact ones.
units! {
    Millimetre, "mm", Length, ["mm"], 1 / 1;
    Metre, "m", Length, ["m"], 1000 / 1;
    Micrometre, "um", Length, ["um", "µm", "μm", "micron", "microns"], 1 / 1000;
    Nanometre, "nm", Length, ["nm"], 1 / 1_000_000;
    Inch, "inch", Length, ["in", "\"", "inch", "inches", "”", "''"], 254 / 10;
    Thou, "thousandth of an inch", Length, ["thou"], 254 / 10_000;
    Foot, "foot", Length, ["ft"], 3048 / 10;
    Hour, "hour", Time, ["h", "hours", "hrs"], 1 / 1;
    Minute, "minute", Time, ["min"], 1 / 60;
    Second, "second", Time, ["s"], 1 / 3600;
    Day, "day", Time, ["d", "days"], 24 / 1;
    Celsius, "degree Celsius", Temperature, ["degC", "°C", "C", "Cel"], 1 / 1, + 27315 / 100;
    Fahrenheit, "degree Fahrenheit", Temperature, ["degF", "°F", "F"], 5 / 9, + 45967 / 100;
    Kelvin, "kelvin, as a temperature", Temperature, ["K"], 1 / 1;
    KelvinDifference, "kelvin, as a difference", TemperatureDifference, ["K diff"], 1 / 1;
    CelsiusDifference, "degree Celsius, as a difference", TemperatureDifference, ["degC diff"], 1 / 1;
    FahrenheitDifference, "degree Fahrenheit, as a difference", TemperatureDifference, ["degF diff"], 5 / 9;
    Pascal, "pascal", Pressure, ["Pa"], 1 / 1;
    Kilopascal, "kilopascal", Pressure, ["kPa"], 1000 / 1;
    Megapascal, "megapascal", Pressure, ["MPa"], 1_000_000 / 1;
    Bar, "bar", Pressure, ["bar"], 100_000 / 1;
    Millibar, "millibar", Pressure, ["mbar"], 100 / 1;
    Psi, "pound-force per square inch", Pressure, ["psi"], 44_482_216_152_605 / 6_451_600_000;
    KilogramForcePerSquareCentimetre, "kilogram-force per square centimetre", Pressure, ["kgf/cm2"], 980_665 / 10;
    MillimetreOfWater, "conventional millimetre of water", Pressure, ["mmH2O"], 980_665 / 100_000;
    Newton, "newton", Force, ["N"], 1 / 1;
    KilogramForce, "kilogram-force", Force, ["kgf"], 980_665 / 100_000;
    PoundForce, "pound-force", Force, ["lbf"], 44_482_216_152_605 / 10_000_000_000_000;
    NewtonMetre, "newton metre", Torque, ["N m", "Nm", "N.m", "N·m"], 1 / 1;
    KilogramForceMetre, "kilogram-force metre", Torque, ["kgf m", "kgf.m", "kgfm"], 980_665 / 100_000;
    PoundForceFoot, "pound-force foot", Torque, ["lbf ft", "lbf.ft", "ft lbf"], 13_558_179_483_314_004 / 10_000_000_000_000_000;
    PoundForceInch, "pound-force inch", Torque, ["lbf in", "lbf.in", "in lbf"], 1_129_848_290_276_167 / 10_000_000_000_000_000;
    Kilogram, "kilogram", Mass, ["kg"], 1 / 1;
    Gram, "gram", Mass, ["g"], 1 / 1000;
    Pound, "pound", Mass, ["lb"], 45_359_237 / 100_000_000;
    Ounce, "ounce", Mass, ["oz"], 28_349_523_125 / 1_000_000_000_000;
    GramMillimetre, "gram millimetre", Unbalance, ["g mm", "gmm", "g.mm", "g·mm"], 1 / 1;
    KilogramMetre, "kilogram metre", Unbalance, ["kg m", "kg.m"], 1_000_000 / 1;
    OunceInch, "ounce inch (ounce as a mass)", Unbalance, ["oz in", "oz.in"], 720_077_887_375 / 1_000_000_000;
    RevolutionPerMinute, "revolution per minute", Rotation, ["r/min", "rpm", "1/min", "/min"], 1 / 1;
    RadianPerSecond, "radian per second", Rotation, ["rad/s"], 9_549_296_585_513_720_146 / 1_000_000_000_000_000_000;
    Millitesla, "millitesla", FluxDensity, ["mT"], 1 / 1;
    Tesla, "tesla", FluxDensity, ["T"], 1000 / 1;
    Gauss, "gauss", FluxDensity, ["G", "gauss"], 1 / 10;
    Degree, "degree", Angle, ["deg", "°"], 1 / 1;
    Radian, "radian", Angle, ["rad"], 57_295_779_513_082_320_877 / 1_000_000_000_000_000_000;
    Lux, "lux", Illuminance, ["lx"], 1 / 1;
    MillimetrePerSecond, "millimetre per second", Velocity, ["mm/s"], 1 / 1;
    PerKelvin, "one per kelvin", Expansion, ["1/K", "/K"], 1 / 1;
    MicrometrePerMetreKelvin, "micrometre per metre and kelvin", Expansion, ["um/m/K", "um/(m K)"], 1 / 1_000_000;
    One, "one", Ratio, ["1"], 1 / 1;
    Percent, "percent", Ratio, ["%"], 1 / 100;
    PerMille, "per mille", Ratio, ["per mille"], 1 / 1000;
}

impl Unit {
    /// Every unit, in the table's order.
    pub fn all() -> impl Iterator<Item = Self> {
        ALL.iter().copied()
    }

    /// Whether a scale in it is one of inches.
    pub fn is_of_inches(self) -> bool {
        matches!(self, Self::Inch | Self::Thou)
    }

    /// A size as it is judged and compared: the sign of a pole tells which it is, not how strong.
    pub fn amount(self, size: Exact) -> Exact {
        if self.dimension() == Dimension::FluxDensity { size.abs() } else { size }
    }

    /// The unit a word means, as typed after a figure, read exactly: `mPa` is no `MPa`, and a thousand million times less.
    pub fn parse(word: &str) -> Option<Self> {
        let word = word.trim();
        Self::all().find(|unit| unit.row().words.contains(&word))
    }

    /// The word that one written or said otherwise was meant for: `mm` for `MM`, `lbf ft` for `ft lb`. To be said, never
    /// taken.
    pub fn meant(word: &str) -> Option<&'static str> {
        let letters = |text: &str| text.chars().filter(|c| c.is_alphanumeric()).collect::<String>().to_lowercase();
        let typed = letters(word);
        let meant = match typed.as_str() {
            "ftlb" | "ftlbf" | "lbft" => "lbfft",
            "" => return None,
            typed => typed,
        };
        let mut known = Self::all().flat_map(|unit| unit.row().words);
        known.find(|known| letters(known) == meant).copied()
    }

    /// Why a word is refused, one sentence: with the unit that was meant, where one was.
    pub fn unknown(word: &str) -> String {
        if ["mil", "mils"].contains(&word.to_lowercase().as_str()) {
            // common practice, no source: one workshop's mil is forty times another's
            return format!("`{word}` is a thousandth of an inch to some and a millimetre to others: thou or mm?");
        }
        match Self::meant(word) {
            Some(meant) => format!("`{word}` is no unit known here; `{meant}` is written so."),
            None => format!("`{word}` is no unit known here."),
        }
    }

    /// What it is the unit of.
    pub fn dimension(self) -> Dimension {
        self.row().dimension
    }

    /// Every word for it, the one shown first.
    pub fn words(self) -> impl Iterator<Item = &'static &'static str> {
        self.row().words.iter()
    }

    /// The word shown behind a figure.
    pub fn symbol(self) -> &'static str {
        self.row().words.first().copied().unwrap_or("")
    }

    /// The symbol as it stands behind a figure, with its blank; nothing for plain numbers.
    pub fn behind(self) -> String {
        if self == Self::One { String::new() } else { format!(" {self}") }
    }

    /// The unit of a difference of two figures in this one; another only for temperatures.
    #[must_use]
    pub fn as_difference(self) -> Self {
        Self::parse(&format!("{} diff", self.symbol())).unwrap_or(self)
    }

    /// Whether its factor holds pi, so that no decimal and no fraction of it is complete.
    pub fn holds_pi(self) -> bool {
        self == Self::RadianPerSecond || self == Self::Radian
    }

    /// `value` of this unit in `other`, exactly; `None` when the dimensions differ.
    pub fn convert(self, value: &Exact, other: Self) -> Option<Exact> {
        if self == other {
            // as it was written
            return Some(value.clone());
        }
        let (from, to) = (self.row(), other.row());
        if from.dimension != to.dimension {
            return None;
        }
        let factor = Exact::fraction(from.numerator * to.denominator, from.denominator * to.numerator)?;
        let plus = Exact::fraction(from.offset.0, from.offset.1)?;
        let less = Exact::fraction(to.offset.0, to.offset.1)?;
        Some(&(&(value + &plus) * &factor) - &less)
    }
}

impl fmt::Display for Unit {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(self.symbol())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_word_means_two_units() {
        let words: Vec<_> = Unit::all().flat_map(|unit| unit.row().words).collect();
        for word in &words {
            assert_eq!(words.iter().filter(|other| other == &word).count(), 1, "{word}");
        }
    }

    /// Source: SI brochure, 9th edition, 3: the case of a prefix is part of it.
    #[test]
    fn units_are_read_in_their_own_capitals_and_a_near_miss_is_named() {
        for (word, meant) in [("mPa", "MPa"), ("MT", "mT"), ("t", "T"), ("MM", "mm"), ("UM", "um"), ("nM", "nm")] {
            assert_eq!((Unit::parse(word), Unit::meant(word)), (None, Some(meant)), "{word}");
        }
        assert_eq!(Unit::meant("furlong"), None);
    }

    #[test]
    fn there_and_back_is_exact() {
        let seven = Exact::fraction(7, 3).unwrap();
        for from in Unit::all() {
            for to in Unit::all().filter(|to| to.dimension() == from.dimension()) {
                assert_eq!(to.convert(&from.convert(&seven, to).unwrap(), from).unwrap(), seven, "{from} {to}");
            }
        }
    }
}
