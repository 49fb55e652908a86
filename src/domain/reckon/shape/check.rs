//! From a tree as written to checked values: every fault is found, none stops the others from being found.

use super::near::nearest;
use super::scalar::{scalar, unit_word};
use super::{Key, Need, Range, Shape, names};
use crate::domain::reckon::given::{Given, Value};
use crate::domain::reckon::problem::{Problem, Trouble};
use crate::domain::reckon::tree::{Tree, short};
use crate::domain::unit::Unit;

/// The values of `tree` under `keys`, as far as they are sound, and every problem of the rest: unknown, doubled and missing
/// keys, and all that [`Trouble`] knows of single values.
pub fn check(keys: &'static [Key], tree: &Tree) -> (Given, Vec<Problem>) {
    let mut problems = Vec::new();
    let given = map(keys, tree, "", &mut problems);
    (given.unwrap_or_default(), problems)
}

fn map(keys: &'static [Key], tree: &Tree, path: &str, problems: &mut Vec<Problem>) -> Option<Given> {
    let Tree::Map(entries) = tree else {
        problems.push(Problem::new(path, Trouble::WrongShape, tree.shown(), format!("a map with {}", names(keys))));
        return None;
    };
    let mut given = Given { path: path.to_owned(), keys, values: Vec::new(), typed: Vec::new() };
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
        given.typed.extend(found.map(|_| key.name));
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
            return list(item, items, path, problems);
        }
        (Shape::List(item), Tree::Text(text)) if !matches!(item, Shape::List(_) | Shape::Map(_)) => {
            let items = several(text);
            return match items.as_slice() {
                // one figure where several may stand is a list of one
                [_] => value(item, tree, path, problems).map(|one| Value::List(vec![one])),
                items => list(item, items, path, problems),
            };
        }
        (Shape::Map(keys), Tree::Map(_)) => return map(keys, tree, path, problems).map(Value::Map),
        (Shape::List(_) | Shape::Map(_), _) | (_, Tree::List(_) | Tree::Map(_)) => Err(Trouble::WrongShape),
        (_, Tree::Text(text)) => scalar(shape, text.trim()),
    };
    match read {
        Ok(value) => Some(value),
        Err(trouble) => {
            problems.push(Problem::new(path, trouble, tree.shown(), expected(shape, tree, trouble)));
            None
        }
    }
}

/// What would do: the shape, the unit that was meant, or where temperatures begin.
fn expected(shape: &Shape, tree: &Tree, trouble: Trouble) -> String {
    match (shape, tree, trouble) {
        (Shape::AnyFigure(Range::Any), _, Trouble::OutOfRange) => {
            "a temperature from -273.15 degC up; a difference of two is in `degC diff`".to_owned()
        }
        (_, Tree::Text(text), Trouble::WrongUnit) => {
            let word = unit_word(text).unwrap_or_default();
            let hint = match (Unit::parse(word), Unit::meant(word)) {
                (Some(unit), _) => format!("; {unit} is a unit of {}", unit.dimension().word()),
                (None, Some(meant)) => format!("; did you mean `{meant}`?"),
                (None, None) if word.is_empty() => String::new(),
                (None, None) => format!("; `{}` is no unit known here", short(word)),
            };
            format!("{}{hint}", shape.words())
        }
        (_, Tree::Text(text), Trouble::Unreadable) if unit_word(text).is_some() => {
            format!("{}; it is smaller or longer than any here", shape.words())
        }
        (_, _, _) => shape.words(),
    }
}

/// The items of a list written in one text, as far as no comma in it can be a decimal one: `1, 2` or `0.1,0.2`.
fn several(text: &str) -> Vec<Tree> {
    let pieces = |mark| text.split(mark).map(|piece| Tree::text(piece.trim())).collect::<Vec<_>>();
    let pointed = text.split(',').all(|piece| piece.contains('.'));
    if text.contains(", ") && !pointed {
        pieces(", ")
    } else if text.contains(',') && pointed {
        pieces(",")
    } else {
        vec![Tree::text(text)]
    }
}

/// The list; none where an item is faulty, for one that is short says nothing of what goes together.
fn list(item: &Shape, items: &[Tree], path: &str, problems: &mut Vec<Problem>) -> Option<Value> {
    let values: Vec<_> = items
        .iter()
        .enumerate()
        .map(|(place, tree)| {
            let glue = if path.ends_with(|c: char| c.is_ascii_digit()) { "," } else { "" };
            value(item, tree, &format!("{path}{glue} {}", place + 1), problems)
        })
        .collect();
    values.into_iter().collect::<Option<_>>().map(Value::List)
}
