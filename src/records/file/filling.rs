//! What a missing key may have held: filled in, so that everything else in its mapping is looked at in the same round. No value
//! can be known, so several are tried, and told is only what is wrong with all that fit.

use crate::domain::figure::Figure;
use crate::domain::unit::Unit;

use super::super::yaml::{Key, Layout, Node, Problem, Problems, Quoting, What};

/// How many values are tried.
const TRIED: usize = 16;

/// Which of the values that a missing key may have held is tried.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Filling(usize);

/// What reading with one filling came to.
pub struct Round<T> {
    /// The value; none where it could not be read.
    pub value: Option<T>,
    /// How many faults were found before anything was filled in; none where nothing was.
    pub before: Option<usize>,
    /// How many faults reading alone found.
    pub unread: usize,
    /// All faults.
    pub problems: Problems,
}

/// The value of a file without fault; of another all that is wrong whatever its missing keys held.
///
/// # Errors
/// Every fault.
pub fn steady<T>(read: impl Fn(Filling) -> Result<Round<T>, Problems>) -> Result<T, Problems> {
    let first = read(Filling(0))?;
    if first.before.is_none_or(|before| before == first.problems.clone().of_the_file().count()) {
        return first.problems.of_the_file().unless_any(first.value);
    }
    let others = (1..TRIED).filter_map(|number| read(Filling(number)).ok());
    let rounds: Vec<_> = std::iter::once(first).chain(others).collect();
    // a word with which other keys belong there than do stand there was not what is missing
    let fit = rounds.iter().map(|round| (round.value.is_none(), round.unread)).min();
    let fitting = rounds.into_iter().filter(|round| Some((round.value.is_none(), round.unread)) == fit);
    let mut all = fitting.map(|round| round.problems.of_the_file());
    let first = all.next().unwrap_or_default();
    Err(first.in_all(&all.collect::<Vec<_>>()).sorted())
}

/// The key that a fault says is missing, and what it should hold in words.
pub(super) fn missing(fault: &Problem) -> Option<(&str, &str)> {
    let (key, wanted) = fault.expected.strip_prefix('`')?.split_once(": ` ")?;
    (fault.found == format!("no key `{key}`")).then_some((key, wanted))
}

/// A mapping and the key that it lacks.
pub(super) struct Gap<'a> {
    /// The file as it is.
    pub(super) whole: &'a Node,
    /// What stands in the mapping.
    pub(super) beside: &'a [(Key, Node)],
    /// The key.
    pub(super) key: &'a str,
    /// What it should hold, in words.
    pub(super) wanted: &'a str,
    /// How many gaps were filled before.
    pub(super) number: usize,
}

impl Filling {
    /// A value: of what is wanted there, and of what stands under the same key elsewhere in the file and is not `wrong`.
    pub(super) fn of(self, gap: &Gap<'_>, wrong: impl Fn(&str) -> bool) -> What {
        let mut values = examples(gap);
        under(gap.whole, gap.key, &mut values);
        values.retain(|value| !matches!(value, What::Text(text, _) if wrong(text)));
        // two gaps do not go in step; of many values, some from everywhere
        let turn = self.0 + gap.number * (self.0 / 2);
        let place = if values.len() > TRIED { turn % TRIED * values.len() / TRIED } else { turn % values.len().max(1) };
        values.into_iter().nth(place).unwrap_or_else(|| text("unknown"))
    }
}

fn text(text: impl Into<String>) -> What {
    What::Text(text.into(), Quoting::Bare)
}

/// Values that the words for what is wanted name, or mean.
fn examples(gap: &Gap<'_>) -> Vec<What> {
    let wanted = gap.wanted;
    let values: Vec<&str> = if let Some(words) = wanted.strip_prefix("one of ") {
        words.split(", ").collect()
    } else if wanted == "keys with values" {
        return vec![What::Map(Layout::Flow, Vec::new())];
    } else if wanted == "a list" {
        return vec![What::List(Layout::Flow, Vec::new())];
    } else if wanted.starts_with("a figure with its unit") {
        return figures(gap.beside);
    } else if let Some((_, like)) = wanted.split_once(", such as ") {
        like.split(" or ").take(1).collect()
    } else if wanted.contains("number") {
        vec!["1", "2"]
    } else if wanted == "a unit" {
        vec!["mm", "h", "degC"]
    } else {
        vec!["unknown", "not known"]
    };
    values.into_iter().map(text).collect()
}

/// A small and a large figure, in the unit of those that stand beside where there are any.
fn figures(beside: &[(Key, Node)]) -> Vec<What> {
    let mut there = beside.iter().filter_map(|(_, value)| value.as_text()?.parse::<Figure>().ok());
    let units = there.next().map_or(vec![Unit::Millimetre, Unit::Hour, Unit::Celsius], |figure| vec![figure.unit()]);
    units.iter().flat_map(|unit| ["0.001", "1000"].map(|figure| text(format!("{figure}{}", unit.behind())))).collect()
}

/// What stands under a key, each once.
fn under(node: &Node, key: &str, values: &mut Vec<What>) {
    match &node.what {
        What::Text(..) => {}
        What::List(_, items) => items.iter().for_each(|item| under(item, key, values)),
        What::Map(_, pairs) => {
            for (name, value) in pairs {
                if name.text == key && !values.contains(&value.what) {
                    values.push(value.what.clone());
                }
                under(value, key, values);
            }
        }
    }
}
