//! From a tree as written to checked values: every fault is found, none stops the others from being found.

use chrono::NaiveDate;

use super::{Key, Need, Shape, names};
use crate::domain::exact::Exact;
use crate::domain::reckon::given::{Given, Value};
use crate::domain::reckon::problem::{Problem, Trouble};
use crate::domain::reckon::tree::{Tree, short};
use crate::domain::unit::Unit;

/// Longer figures have no unit behind them.
const LONGEST_FIGURE: usize = 80;
/// Longer words are near to no key.
const LONGEST_WORD: usize = 60;

/// The values of `tree` under `keys`.
///
/// # Errors
/// Every problem: unknown, doubled and missing keys, and all that [`Trouble`] knows of single values.
pub fn check(keys: &'static [Key], tree: &Tree) -> Result<Given, Vec<Problem>> {
    let mut problems = Vec::new();
    let given = map(keys, tree, "", &mut problems);
    match given {
        Some(given) if problems.is_empty() => Ok(given),
        Some(_) | None => Err(problems),
    }
}

fn map(keys: &'static [Key], tree: &Tree, path: &str, problems: &mut Vec<Problem>) -> Option<Given> {
    let Tree::Map(entries) = tree else {
        problems.push(Problem::new(path, Trouble::WrongShape, tree.shown(), format!("a map with {}", names(keys))));
        return None;
    };
    let mut given = Given { path: path.to_owned(), values: Vec::new() };
    for (place, (name, _)) in entries.iter().enumerate() {
        if !keys.iter().any(|key| key.name == name) {
            problems.push(unknown(keys, name, &given));
        } else if entries.iter().take(place).any(|(before, _)| before == name) {
            problems.push(Problem::new(given.path_of(name), Trouble::Twice, "it twice", "it once"));
        }
    }
    for key in keys {
        let path = given.path_of(key.name);
        let found = entries
            .iter()
            .find(|(name, _)| name == key.name)
            .map(|(_, tree)| tree)
            .filter(|tree| !is_nothing(&key.shape, tree));
        let value = match (found, key.need) {
            (Some(tree), _) => value(&key.shape, tree, &path, problems),
            (None, Need::Default(text)) => value(&key.shape, &Tree::text(text), &path, problems),
            (None, Need::Optional) => None,
            (None, Need::Required) => {
                problems.push(Problem::new(path, Trouble::Missing, "nothing", key.shape.words()));
                None
            }
        };
        given.values.extend(value.map(|value| (key.name, value)));
    }
    Some(given)
}

/// An empty value or a `null` is no value; degrees of freedom may also be `none`.
fn is_nothing(shape: &Shape, tree: &Tree) -> bool {
    let Tree::Text(text) = tree else { return false };
    matches!(text.trim(), "" | "null" | "~") || (matches!(shape, Shape::Dof) && text.trim() == "none")
}

fn unknown(keys: &[Key], name: &str, given: &Given) -> Problem {
    let hint = match nearest(name, keys.iter().map(|key| key.name)) {
        Some(near) => format!("did you mean `{near}`?"),
        None => format!("expected {}", names(keys)),
    };
    Problem::new(given.path_of(&short(name)), Trouble::UnknownKey, format!("`{}`", short(name)), hint)
}

fn value(shape: &Shape, tree: &Tree, path: &str, problems: &mut Vec<Problem>) -> Option<Value> {
    let read = match (shape, tree) {
        (Shape::List(item), Tree::List(items)) if !items.is_empty() => {
            return Some(list(item, items, path, problems));
        }
        // one figure where several may stand is a list of one
        (Shape::List(item), Tree::Text(_)) if !matches!(item, Shape::List(_) | Shape::Map(_)) => {
            return value(item, tree, path, problems).map(|one| Value::List(vec![one]));
        }
        (Shape::Map(keys), Tree::Map(_)) => return map(keys, tree, path, problems).map(Value::Map),
        (Shape::List(_) | Shape::Map(_), _) | (_, Tree::List(_) | Tree::Map(_)) => Err(Trouble::WrongShape),
        (_, Tree::Text(text)) => scalar(shape, text.trim()),
    };
    match read {
        Ok(value) => Some(value),
        Err(trouble) => {
            problems.push(Problem::new(path, trouble, tree.shown(), shape.words()));
            None
        }
    }
}

fn list(item: &Shape, items: &[Tree], path: &str, problems: &mut Vec<Problem>) -> Value {
    let values: Vec<_> = items
        .iter()
        .enumerate()
        .filter_map(|(place, tree)| {
            let glue = if path.ends_with(|c: char| c.is_ascii_digit()) { "," } else { "" };
            value(item, tree, &format!("{path}{glue} {}", place + 1), problems)
        })
        .collect();
    Value::List(values)
}

fn scalar(shape: &Shape, text: &str) -> Result<Value, Trouble> {
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
            if range.holds(&size) { Ok(Value::Figure(size, unit)) } else { Err(Trouble::OutOfRange) }
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
        return Ok((size, None));
    }
    // the number is the longest beginning that is one: `11.5e-6 /K`, `47/300 mm`
    let ends = text.char_indices().map(|(end, _)| end).take(LONGEST_FIGURE).collect::<Vec<_>>();
    let mut split = ends.into_iter().rev().map(|end| text.split_at(end));
    let found = split.find_map(|(before, word)| Some((number(before.trim_end())?, word.trim())));
    let (size, word) = found.ok_or(trouble_of(text))?;
    let unit = Unit::parse(word).ok_or(Trouble::WrongUnit)?;
    Ok((size, Some(unit)))
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

/// `nan` and the infinities are refused by name.
fn trouble_of(text: &str) -> Trouble {
    let word = text.trim_start_matches(['+', '-', '.']).to_ascii_lowercase();
    if matches!(word.as_str(), "nan" | "inf" | "infinity") { Trouble::NotFinite } else { Trouble::Unreadable }
}

/// The candidate that `word` is most likely meant to be: at most two letters (of three, one) off.
pub fn nearest<'a>(word: &str, candidates: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    if word.len() > LONGEST_WORD {
        return None;
    }
    let allowed = if word.chars().count() <= 3 { 1 } else { 2 };
    candidates
        .map(|candidate| (letters_off(word, candidate), candidate))
        .filter(|(off, _)| *off <= allowed)
        .min_by_key(|(off, _)| *off)
        .map(|(_, candidate)| candidate)
}

/// Letters to add, drop or change to get from one word to the other.
fn letters_off(one: &str, other: &str) -> usize {
    let other: Vec<char> = other.chars().collect();
    let mut row: Vec<usize> = (0..=other.len()).collect();
    for (place, letter) in one.chars().enumerate() {
        let mut before = place + 1;
        let mut next = vec![before];
        for (pair, wanted) in row.windows(2).zip(&other) {
            if let [diagonal, above] = *pair {
                before = (diagonal + usize::from(letter != *wanted)).min(above + 1).min(before + 1);
                next.push(before);
            }
        }
        row = next;
    }
    row.last().copied().unwrap_or(0)
}
