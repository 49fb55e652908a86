//! Reading a file so that all its faults are told in one round: what is faulty is cut out of the tree, a key that is missing
//! is filled in, the rest is read again, and the checks run over that.

use std::collections::BTreeSet;

use super::super::form::{self, Slot, Unknown};
use super::super::yaml::{At, Key, Node, Problem, Problems, What};
use super::filling::{Filling, Gap, Round, missing, steady};
use super::{Format, opened};

/// What could be read of a file.
pub struct Read<'a, T> {
    /// The value.
    pub value: &'a T,
    /// The tree that it was read from: faulty branches cut out, what is filled in at line 0.
    pub tree: &'a Node,
    /// The tree as the file has it.
    pub whole: &'a Node,
}

/// A file as far as it could be read, and what is wrong with it.
pub struct Gathered<T> {
    /// The value; none where nothing can stand in for what is wrong.
    pub value: Option<T>,
    /// The tree that it was read from.
    pub tree: Node,
    /// The tree as the file has it.
    pub whole: Node,
    /// What was cut out.
    pub lost: Lost,
    /// Every fault that reading found.
    pub problems: Problems,
    /// How many faults were found before keys that are missing were filled in; none where none was.
    pub before: Option<usize>,
}

/// What was cut out of a tree: what asks for it elsewhere is not at fault for that.
#[derive(Debug, Default)]
pub struct Lost {
    texts: BTreeSet<String>,
    /// Keys, with where their mapping stands.
    keys: BTreeSet<(At, String)>,
    /// The same of those that were missing and are filled in.
    filled: BTreeSet<(At, String)>,
    /// How many places outside the file are given away.
    nowhere: u32,
    /// How many faults were known before the first was filled in.
    before: Option<usize>,
}

impl Lost {
    /// Takes in what was cut out of another file.
    pub fn extend(&mut self, other: Self) {
        self.texts.extend(other.texts);
        self.keys.extend(other.keys);
    }

    /// Whether nothing was.
    pub fn is_empty(&self) -> bool {
        self.texts.is_empty() && self.keys.is_empty()
    }

    /// Whether a fault is about something that was cut out: names it, or misses the key.
    pub fn explains(&self, fault: &Problem) -> bool {
        let named = |name: &String| {
            fault.found.contains(&format!("`{name}`")) || name.contains('/') && fault.found.contains(name.as_str())
        };
        let missed = |(at, key): &(At, String)| {
            *at == fault.at && (fault.found.contains(key.as_str()) || fault.expected.contains(key.as_str()))
        };
        self.texts.iter().any(named) || self.keys.iter().any(missed)
    }
}

/// Reads a file; `check` looks at what holds together in it.
///
/// # Errors
/// Every fault of it, those that `check` finds in what could be read too.
pub fn read_checked<T>(
    format: &Format<T>,
    file: &str,
    bytes: &[u8],
    check: impl Fn(&Read<'_, T>, &mut Problems),
) -> Result<T, Problems> {
    steady(|filling| {
        let Gathered { value, tree, whole, mut problems, before, .. } = gathered(format, file, bytes, filling)?;
        let unread = problems.count();
        if let Some(value) = &value {
            check(&Read { value, tree: &tree, whole: &whole }, &mut problems);
        }
        Ok(Round { value, before, unread, problems })
    })
}

/// Reads a file as far as it goes.
///
/// # Errors
/// When it is no tree, or of a newer format.
pub fn gathered<T>(format: &Format<T>, file: &str, bytes: &[u8], filling: Filling) -> Result<Gathered<T>, Problems> {
    let (whole, mut problems) = opened(file, bytes)?;
    let mut tree = whole.clone();
    let mut lost = Lost::default();
    let body = |slot: &mut Slot<'_>| (format.body)(slot, None);
    let value = every(Some((filling, &whole)), &mut tree, (&mut problems, &mut lost), body);
    let before = lost.before;
    Ok(Gathered { value, tree, whole, lost, problems, before })
}

/// With more faults than these a hostile file is not looked at further, nor after so many rounds.
const ENOUGH: usize = 200;
const ROUNDS: usize = 50;

/// Reads a tree over and over, what is wrong mended or cut out in between, until nothing is wrong with the rest. What is
/// missing is filled in where a filling is given, with the tree as the file has it.
pub(in crate::records) fn every<T>(
    filling: Option<(Filling, &Node)>,
    tree: &mut Node,
    (problems, lost): (&mut Problems, &mut Lost),
    body: impl Fn(&mut Slot<'_>) -> Option<T>,
) -> Option<T> {
    let file = problems.file().to_owned();
    // where something was wrong already one fault is enough, and what now lacks a branch is not at fault for that
    let mut cut: BTreeSet<At> = problems.iter().map(|problem| problem.at).filter(|at| *at != tree.at).collect();
    for _ in 0..ROUNDS {
        let found = match form::read(&file, tree, Unknown::Refused, &body) {
            Ok(value) => return Some(value),
            Err(found) => found,
        };
        for problem in found.iter().filter(|problem| !cut.contains(&problem.at)) {
            if !problems.iter().any(|known| known == problem) {
                problems.take(problem.clone());
            }
        }
        let known = problems.count();
        let mut surgery = Surgery { filling, cut: &mut cut, lost };
        if found.iter().filter(|problem| surgery.mend(tree, problem).is_some()).count() == 0 {
            return None;
        }
        if !lost.filled.is_empty() {
            lost.before.get_or_insert(known);
        }
        if known > ENOUGH {
            return None;
        }
    }
    None
}

/// Words that decide which other keys there are: the nearest known one is taken to look at those.
const DECIDING: [&str; 3] = ["takes", "phase", "kind"];

struct Surgery<'a> {
    filling: Option<(Filling, &'a Node)>,
    cut: &'a mut BTreeSet<At>,
    lost: &'a mut Lost,
}

/// What was done about a fault.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Done {
    /// Nothing is missing there now.
    Mended,
    /// Something is.
    Cut,
}

impl Surgery<'_> {
    /// Mends or cuts the lowest branch that the fault is about; notes every place above a cut.
    fn mend(&mut self, node: &mut Node, fault: &Problem) -> Option<Done> {
        let at = node.at;
        let done = match &mut node.what {
            What::Map(_, pairs) => {
                let below = pairs.iter_mut().find_map(|(key, value)| {
                    guess(key, value, fault).then_some(Done::Mended).or_else(|| self.mend(value, fault))
                });
                below
                    .or_else(|| (at == fault.at && self.fill(pairs, at, fault)).then_some(Done::Mended))
                    .or_else(|| self.cut_key(pairs, at, fault).then_some(Done::Cut))
            }
            What::List(_, items) => {
                let below = items.iter_mut().find_map(|item| self.mend(item, fault));
                below.or_else(|| self.cut_item(items, fault).then_some(Done::Cut))
            }
            What::Text(..) => None,
        };
        if done == Some(Done::Cut) {
            self.cut.insert(at);
        }
        done
    }

    /// Fills in a key that is missing, once.
    fn fill(&mut self, pairs: &mut Vec<(Key, Node)>, at: At, fault: &Problem) -> bool {
        let Some(((filling, whole), (key, wanted))) = self.filling.zip(missing(fault)) else { return false };
        let number = self.lost.filled.len();
        let new = self.lost.filled.insert((at, key.to_owned()));
        if new {
            let gap = Gap { whole, beside: pairs, key, wanted, number };
            let mut value = Node::new(filling.of(&gap, |text| self.lost.texts.contains(text)));
            self.nowhere(&mut value);
            pairs.push((Key::new(key), value));
        }
        new
    }

    /// Gives everything below a place of its own, none of which is in the file.
    fn nowhere(&mut self, node: &mut Node) {
        self.lost.nowhere += 1;
        node.at = At { line: 0, column: self.lost.nowhere };
        match &mut node.what {
            What::Text(..) => {}
            What::List(_, items) => items.iter_mut().for_each(|item| self.nowhere(item)),
            What::Map(_, pairs) => pairs.iter_mut().for_each(|(key, value)| {
                self.nowhere(value);
                key.at = value.at;
            }),
        }
    }

    fn cut_key(&mut self, pairs: &mut Vec<(Key, Node)>, at: At, fault: &Problem) -> bool {
        let unknown = fault.found.starts_with("the key `");
        let place = pairs.iter().position(|(key, value)| value.at == fault.at || unknown && key.at == fault.at);
        let Some((key, value)) = place.map(|place| pairs.remove(place)) else { return false };
        value.texts(&mut self.lost.texts);
        self.lost.keys.insert((at, key.text));
        true
    }

    fn cut_item(&mut self, items: &mut Vec<Node>, fault: &Problem) -> bool {
        let place = items.iter().position(|item| item.at == fault.at);
        let Some(item) = place.map(|place| items.remove(place)) else { return false };
        item.texts(&mut self.lost.texts);
        true
    }
}

/// Takes the nearest known word for one that decides which keys there are.
fn guess(key: &Key, value: &mut Node, fault: &Problem) -> bool {
    let guessed = fault.mend.strip_prefix("Did you mean `").and_then(|rest| rest.strip_suffix("`?"));
    match (&mut value.what, guessed) {
        (What::Text(text, _), Some(guessed)) if value.at == fault.at && DECIDING.contains(&key.text.as_str()) => {
            guessed.clone_into(text);
            true
        }
        _ => false,
    }
}
