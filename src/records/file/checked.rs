//! Reading a file with checks between its values, so that all its faults are told in one round: what is faulty is cut
//! out of the tree, the rest is read again, and the checks run over that.

use std::collections::BTreeSet;

use super::super::form::{self, Unknown};
use super::super::yaml::{At, Node, Problems, What};
use super::{Format, opened};

/// What could be read of a file.
pub struct Read<'a, T> {
    /// The value.
    pub value: &'a T,
    /// The tree that it was read from, faulty branches cut out.
    pub tree: &'a Node,
    /// The tree as the file has it.
    pub whole: &'a Node,
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
    let (whole, mut problems) = opened(file, bytes)?;
    let mut tree = whole.clone();
    // where something was wrong already one fault is enough, and what now lacks a branch is not at fault for that
    let mut cut: BTreeSet<At> = problems.iter().map(|problem| problem.at).collect();
    let value = loop {
        let found = match form::read(file, &tree, Unknown::Refused, |slot| (format.body)(slot, None)) {
            Ok(value) => break value,
            Err(found) => found,
        };
        for problem in found.iter().filter(|problem| !cut.contains(&problem.at)) {
            if !problems.iter().any(|known| known == problem) {
                problems.take(problem.clone());
            }
        }
        let places: Vec<_> = found.iter().map(|problem| problem.at).collect();
        if places.into_iter().filter(|at| cut_out(&mut tree, *at, &mut cut)).count() == 0 {
            return Err(problems.sorted());
        }
    };
    check(&Read { value: &value, tree: &tree, whole: &whole }, &mut problems);
    problems.unless_any(Some(value))
}

/// Cuts out the lowest branch that begins there; notes every place above it.
fn cut_out(node: &mut Node, at: At, above: &mut BTreeSet<At>) -> bool {
    let below = |child: &mut Node, above: &mut BTreeSet<At>| cut_out(child, at, above);
    let done = match &mut node.what {
        What::Map(_, pairs) => {
            pairs.iter_mut().any(|(_, value)| below(value, above))
                || remove(pairs, |(key, value)| key.at == at || value.at == at)
        }
        What::List(_, items) => items.iter_mut().any(|item| below(item, above)) || remove(items, |item| item.at == at),
        What::Text(..) => false,
    };
    if done {
        above.insert(node.at);
    }
    done
}

fn remove<T>(branches: &mut Vec<T>, is: impl Fn(&T) -> bool) -> bool {
    let place = branches.iter().position(is);
    place.map(|place| branches.remove(place)).is_some()
}
