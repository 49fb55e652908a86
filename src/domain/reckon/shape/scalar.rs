//! From the text of a scalar to a checked value: figures with their units, counts, dates, words.

use chrono::NaiveDate;

use super::{Range, Shape};
use crate::domain::exact::Exact;
use crate::domain::reckon::given::Value;
use crate::domain::reckon::problem::Trouble;
use crate::domain::unit::Unit;

/// Figures from this power of ten up are past the largest double.
const LARGEST_ORDER: i32 = 308;

/// Longer figures have no unit behind them.
const LONGEST_FIGURE: usize = 80;

/// The value that `text` is by its shape.
pub(super) fn scalar(shape: &Shape, text: &str) -> Result<Value, Trouble> {
    match shape {
        Shape::Figure(unit, range) => {
            let (size, carried) = figure(text)?;
            let size = match carried {
                Some(carried) => in_unit(&size, carried, *unit)?,
                None => size,
            };
            if range.holds(&size) { Ok(Value::Figure(size, carried)) } else { Err(Trouble::OutOfRange) }
        }
        Shape::AnyFigure(range) => {
            let (size, unit) = figure(text)?;
            let sound = range.holds(&size) && !(*range == Range::Any && is_below_absolute_zero(&size, unit));
            if sound { Ok(Value::Figure(size, unit)) } else { Err(Trouble::OutOfRange) }
        }
        Shape::Dof => {
            let (dof, unit) = figure(text)?;
            match unit {
                None if dof >= Exact::from(1) => Ok(Value::Figure(dof, None)),
                None => Err(Trouble::OutOfRange),
                Some(_) => Err(Trouble::WrongUnit),
            }
        }
        Shape::Whole(low, high) => {
            let count = number(text).ok_or(trouble_of(text))?.as_whole().ok_or(Trouble::OutOfRange)?;
            if (*low..=*high).contains(&count) { Ok(Value::Whole(count)) } else { Err(Trouble::OutOfRange) }
        }
        Shape::Word(words) if words.contains(&text) => Ok(Value::Text(text.to_owned())),
        // words are shown again: none of them may move the cursor
        Shape::Text if text.chars().any(char::is_control) => Err(Trouble::Unreadable),
        Shape::Text => Ok(Value::Text(text.to_owned())),
        Shape::Flag => match text {
            "true" => Ok(Value::Flag(true)),
            "false" => Ok(Value::Flag(false)),
            _ => Err(Trouble::Unreadable),
        },
        Shape::Date => date(text).map(Value::Date).ok_or(Trouble::Unreadable),
        Shape::Word(_) => Err(Trouble::Unreadable),
        Shape::List(_) | Shape::Map(_) => Err(Trouble::WrongShape),
    }
}

/// Four digits, two, two: the library alone would take `+2031-4-7` as well.
fn date(text: &str) -> Option<NaiveDate> {
    let plain = text.len() == 10 && text.bytes().all(|byte| byte.is_ascii_digit() || byte == b'-');
    plain.then(|| NaiveDate::parse_from_str(text, "%Y-%m-%d").ok()).flatten()
}

/// A figure and the unit behind it, if any.
fn figure(text: &str) -> Result<(Exact, Option<Unit>), Trouble> {
    if let Some(size) = number(text) {
        return if is_endless(&size) { Err(Trouble::NotFinite) } else { Ok((size, None)) };
    }
    if trouble_of(text) == Trouble::NotFinite {
        return Err(Trouble::NotFinite);
    }
    let (size, word) = parted(text).ok_or(Trouble::Unreadable)?;
    // `1e-400` is no `1e-40` of something
    if word.chars().all(|mark| mark.is_ascii_digit() || "+-.,eE".contains(mark)) {
        return Err(Trouble::Unreadable);
    }
    let unit = Unit::parse(word).ok_or(Trouble::WrongUnit)?;
    if is_endless(&size) { Err(Trouble::NotFinite) } else { Ok((size, Some(unit))) }
}

/// The number and the word behind it.
fn parted(text: &str) -> Option<(Exact, &str)> {
    // the number is the longest beginning that is one: `11.5e-6 /K`, `47/300 mm`
    let ends = text.char_indices().map(|(end, _)| end).take(LONGEST_FIGURE).collect::<Vec<_>>();
    let mut split = ends.into_iter().rev().map(|end| text.split_at(end));
    split.find_map(|(before, word)| Some((number(before.trim_end())?, word.trim())))
}

/// The word behind the number, where there is one.
pub(super) fn unit_word(text: &str) -> Option<&str> {
    parted(text.trim()).map(|(_, word)| word)
}

/// Whether a thermometer cannot show it.
pub(in crate::domain::reckon) fn is_below_absolute_zero(size: &Exact, unit: Option<Unit>) -> bool {
    unit.and_then(|unit| unit.convert(size, Unit::Kelvin)).is_some_and(|kelvin| kelvin.is_negative())
}

/// Whether it is past the largest double, which programs would read as infinite.
fn is_endless(size: &Exact) -> bool {
    size.order().is_some_and(|order| order >= LARGEST_ORDER)
}

/// A decimal, or a fraction of two, as answers give them.
fn number(text: &str) -> Option<Exact> {
    match text.split_once('/') {
        Some((above, below)) => Exact::parse(above)?.over(&Exact::parse(below)?),
        None => Exact::parse(text),
    }
}

/// `size` in the key's unit; a plain kelvin or degree is taken as a difference where one is wanted.
fn in_unit(size: &Exact, carried: Unit, wanted: Unit) -> Result<Exact, Trouble> {
    if let Some(size) = carried.convert(size, wanted) {
        return Ok(size);
    }
    carried.as_difference().convert(size, wanted).ok_or(Trouble::WrongUnit)
}

/// `nan`, the infinities and powers of ten past all figures are refused by name, a unit behind them or not.
fn trouble_of(text: &str) -> Trouble {
    let plain = text.trim_start_matches(['+', '-', '.', '\u{2212}']).to_ascii_lowercase();
    let word = plain.split(|c: char| !c.is_ascii_alphabetic()).next().unwrap_or_default();
    let named = matches!(word, "nan" | "inf" | "infinity");
    let power = plain.split_once('e').filter(|(digits, _)| Exact::parse(digits).is_some_and(|size| !size.is_zero()));
    let power: String =
        power.map_or("", |(_, power)| power.trim_start_matches('+')).chars().take_while(char::is_ascii_digit).collect();
    let endless = !power.is_empty() && power.parse::<i32>().map_or(true, |power| power >= LARGEST_ORDER);
    if named || endless { Trouble::NotFinite } else { Trouble::Unreadable }
}
