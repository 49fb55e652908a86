//! Many changes at once: what differs between two trees is changed in a text that need not be laid out as they are.

use super::{Change, EditFault, Path, edited, same};
use crate::records::yaml::{Key, Node, What, parse};

/// More changes than any file of ours has values.
const MOST: usize = 100_000;

/// The text in which everything that differs between `was` and `now` is as in `now`, and nothing else has changed.
///
/// Items of lists are told apart by their first key, so that the text may have them in another order.
///
/// # Errors
/// As [`edited`], by the first change that cannot be made.
pub fn followed(file: &str, text: &str, was: &Node, now: &Node) -> Result<String, EditFault> {
    let mut text = text.to_owned();
    for _ in 0..MOST {
        let tree = parse(file, text.as_bytes()).map_err(EditFault::Unreadable)?;
        let Some((path, change)) = next(&Path::root(), &tree, was, now) else { return Ok(text) };
        text = edited(file, &text, &path, &change)?;
    }
    Err(EditFault::Layout)
}

/// The first thing in the text that is not as it shall be, though it shall not stay as it was.
fn next(path: &Path, text: &Node, was: &Node, now: &Node) -> Option<(Path, Change)> {
    if same(was, now) || same(text, now) {
        return None;
    }
    match (&text.what, &was.what, &now.what) {
        (What::Map(..), What::Map(_, before), What::Map(_, after)) => next_key(path, text, before, after),
        (What::List(_, items), What::List(_, before), What::List(_, after)) => match names(after, [items, before]) {
            Some(key) => next_item(path, key, (items, before, after)),
            None => Some((path.clone(), put(now))),
        },
        (What::Text(..) | What::List(..) | What::Map(..), _, _) => Some((path.clone(), put(now))),
    }
}

fn next_key(path: &Path, text: &Node, before: &[(Key, Node)], after: &[(Key, Node)]) -> Option<(Path, Change)> {
    let find = |pairs: &[(Key, Node)], key: &str| {
        pairs.iter().find(|(known, _)| known.text == key).map(|(_, node)| node.clone())
    };
    let changed = after.iter().enumerate().find_map(|(place, (key, value))| {
        let path = path.key(&key.text);
        match (text.get(&key.text), find(before, &key.text)) {
            (Some(there), Some(was)) => next(&path, there, &was, value),
            (Some(there), None) => (!same(there, value)).then(|| (path, put(value))),
            // left out in the text because it is as usual
            (None, Some(was)) if same(&was, value) => None,
            (None, _) => {
                let behind = after.iter().take(place).map(|(key, _)| key.text.clone()).collect();
                Some((path, Change::Put { value: value.clone(), behind }))
            }
        }
    });
    let gone = || before.iter().find(|(key, _)| find(after, &key.text).is_none() && text.get(&key.text).is_some());
    changed.or_else(|| Some((path.key(&gone()?.0.text), Change::Take)))
}

fn next_item(path: &Path, key: &str, (items, before, after): (&[Node], &[Node], &[Node])) -> Option<(Path, Change)> {
    let name = |item: &Node| item.get(key).and_then(Node::as_text).map(str::to_owned);
    let find = |items: &'_ [Node], like: &Node| items.iter().find(|item| name(item) == name(like)).cloned();
    // what is new comes first: a list on lines of its own is never empty
    let changed = after.iter().find_map(|now| {
        let Some(place) = items.iter().position(|item| name(item) == name(now)) else {
            return Some((path.clone(), Change::Push(now.clone())));
        };
        let there = items.get(place)?;
        match find(before, now) {
            Some(was) => next(&path.item(place), there, &was, now),
            None if same(there, now) => None,
            None => Some((path.item(place), put(now))),
        }
    });
    let gone = || items.iter().position(|item| find(before, item).is_some() && find(after, item).is_none());
    changed.or_else(|| Some((path.item(gone()?), Change::Take)))
}

fn put(value: &Node) -> Change {
    Change::Put { value: value.clone(), behind: Vec::new() }
}

/// The key that names the items of a list, when each has one: the first key of each.
fn names<'a>(items: &'a [Node], all: [&[Node]; 2]) -> Option<&'a str> {
    let What::Map(_, pairs) = &items.first()?.what else { return None };
    let key = pairs.first()?.0.text.as_str();
    let named = |item: &Node| item.get(key).is_some_and(|name| name.as_text().is_some());
    (items.iter().all(named) && all.into_iter().flatten().all(named)).then_some(key)
}
