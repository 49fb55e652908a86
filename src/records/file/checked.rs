//! Reading a file so that all its faults are told in one round: what is faulty is cut out of the tree, what a check cannot
//! do without is stood in for, the rest is read again, and the checks run over that.

use std::collections::BTreeSet;

use super::super::form::{self, Slot, Unknown};
use super::super::yaml::{At, Key, Layout, Node, Problem, Problems, Quoting, What};
use super::{Format, StandIn, opened};

/// What could be read of a file.
pub struct Read<'a, T> {
    /// The value.
    pub value: &'a T,
    /// The tree that it was read from: faulty branches cut out, what stands in for them at line 0.
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
}

/// What was cut out of a tree: what asks for it elsewhere is not at fault for that.
#[derive(Debug, Default)]
pub struct Lost {
    texts: BTreeSet<String>,
    /// Keys, with where their mapping stands.
    keys: BTreeSet<(At, String)>,
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
    let Gathered { value, tree, whole, mut problems, .. } = gathered(format, file, bytes)?;
    if let Some(value) = &value {
        check(&Read { value, tree: &tree, whole: &whole }, &mut problems);
    }
    problems.of_the_file().unless_any(value)
}

/// Reads a file as far as it goes.
///
/// # Errors
/// When it is no tree, or of a newer format.
pub fn gathered<T>(format: &Format<T>, file: &str, bytes: &[u8]) -> Result<Gathered<T>, Problems> {
    let (whole, mut problems) = opened(file, bytes)?;
    let mut tree = whole.clone();
    let mut lost = Lost::default();
    let body = |slot: &mut Slot<'_>| (format.body)(slot, None);
    let value = every(format.stand_ins, &mut tree, (&mut problems, &mut lost), body);
    Ok(Gathered { value, tree, whole, lost, problems })
}

/// With more faults than these a hostile file is not looked at further, nor after so many rounds.
const ENOUGH: usize = 200;
const ROUNDS: usize = 50;

/// Reads a tree over and over, what is wrong mended or cut out in between, until nothing is wrong with the rest.
pub(in crate::records) fn every<T>(
    stand_ins: &[StandIn],
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
        let mut surgery = Surgery { stand_ins, cut: &mut cut, lost };
        if found.iter().filter(|problem| surgery.mend(tree, "", problem)).count() == 0 {
            return None;
        }
        if problems.count() > ENOUGH {
            return None;
        }
    }
    None
}

/// Words that decide which other keys there are: the nearest known one is taken to look at those.
const DECIDING: [&str; 3] = ["takes", "phase", "kind"];

struct Surgery<'a> {
    stand_ins: &'a [StandIn],
    cut: &'a mut BTreeSet<At>,
    lost: &'a mut Lost,
}

impl Surgery<'_> {
    /// Mends or cuts the lowest branch that the fault is about; notes every place above a cut. `level` is the key under
    /// which the node stands, in a list or not.
    fn mend(&mut self, node: &mut Node, level: &str, fault: &Problem) -> bool {
        let at = node.at;
        let done = match &mut node.what {
            What::Map(_, pairs) => {
                pairs.iter_mut().any(|(key, value)| guess(key, value, fault) || self.mend(value, &key.text, fault))
                    || at == fault.at && self.stand_in(pairs, level, fault)
                    || self.cut_key(pairs, at, fault)
            }
            What::List(_, items) => {
                items.iter_mut().any(|item| self.mend(item, level, fault)) || self.cut_item(items, fault)
            }
            What::Text(..) => false,
        };
        if done {
            self.cut.insert(at);
        }
        done
    }

    /// Puts a key that is missing, where the checks cannot do without it.
    fn stand_in(&self, pairs: &mut Vec<(Key, Node)>, level: &str, fault: &Problem) -> bool {
        let missing = |key: &str| fault.found == format!("no key `{key}`");
        let known = self.stand_ins.iter().find(|one| one.level == level && missing(one.key));
        if let Some(one) = known.filter(|one| !pairs.iter().any(|(key, _)| key.text == one.key)) {
            let value = match one.value {
                "{}" => Node::new(What::Map(Layout::Flow, Vec::new())),
                text => Node::text(text, Quoting::Bare),
            };
            pairs.push((Key::new(one.key), value));
            return true;
        }
        false
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
