//! The keys of one mapping.

use std::collections::BTreeMap;

use crate::records::yaml::{At, Key, Layout, Node, Problems, Quoting, nearest};

use super::Unknown;
use super::shape::{Shape, ShapeField, ShapeRule, ShapeRuleWith};
use super::slot::{Slot, Way, one_of};

/// One row of a choice: the word, and the keys that go with it.
pub type Row<T> = (&'static str, fn(&mut Fields<'_>, Option<&T>) -> Option<T>);

/// A mapping whose keys are asked for one after the other.
pub struct Fields<'a> {
    way: On<'a>,
    asked: Vec<&'static str>,
    /// The word that decides which keys belong here could not be read.
    unsure: bool,
}

enum On<'a> {
    Read { at: At, pairs: &'a [(Key, Node)], problems: &'a mut Problems, unknown: Unknown },
    Write(&'a mut Vec<(Key, Node)>),
    Describe { keys: &'a mut Vec<ShapeField>, rules: &'a mut Vec<ShapeRuleWith>, only_with: Option<(String, String)> },
}

impl<'a> Fields<'a> {
    pub(super) fn reading(at: At, pairs: &'a [(Key, Node)], problems: &'a mut Problems, unknown: Unknown) -> Self {
        Self { way: On::Read { at, pairs, problems, unknown }, asked: Vec::new(), unsure: false }
    }

    pub(super) fn writing(pairs: &'a mut Vec<(Key, Node)>) -> Self {
        Self { way: On::Write(pairs), asked: Vec::new(), unsure: false }
    }

    pub(super) fn describing(keys: &'a mut Vec<ShapeField>, rules: &'a mut Vec<ShapeRuleWith>) -> Self {
        Self { way: On::Describe { keys, rules, only_with: None }, asked: Vec::new(), unsure: false }
    }

    /// Whether a file is being read and holds the key; the key is then known.
    pub fn has(&mut self, key: &'static str) -> bool {
        self.asked.push(key);
        match &self.way {
            On::Read { pairs, .. } => pairs.iter().any(|(known, _)| known.text == key),
            On::Write(_) | On::Describe { .. } => false,
        }
    }

    /// A key that must be there.
    pub fn need<T>(
        &mut self,
        key: &'static str,
        form: impl Fn(&mut Slot<'_>, Option<&T>) -> Option<T>,
        value: Option<&T>,
    ) -> Option<T> {
        if let Some(taken) = self.run(key, &form, value) {
            return taken;
        }
        if let On::Read { at, problems, .. } = &mut self.way {
            let mut shape = Shape::Nothing;
            form(&mut Slot(Way::Describe(&mut shape)), None);
            let found = format!("no key `{key}`");
            problems.add(
                *at,
                found,
                format!("`{key}: ` {}", said(&shape)),
                format!("Put `{key}: ` and its value here."),
            );
        }
        if let On::Describe { keys, .. } = &mut self.way
            && let Some(last) = keys.last_mut()
        {
            last.needed = true;
        }
        None
    }

    /// A key that may be left out; the outer option is a fault.
    pub fn may<T>(
        &mut self,
        key: &'static str,
        form: impl Fn(&mut Slot<'_>, Option<&T>) -> Option<T>,
        value: Option<&Option<T>>,
    ) -> Option<Option<T>> {
        match value {
            Some(None) => {
                self.asked.push(key);
                Some(None)
            }
            Some(Some(value)) => self.run(key, form, Some(value)).flatten().map(Some),
            None => self.run(key, form, None).map_or(Some(None), |taken| taken.map(Some)),
        }
    }

    /// A list, left out when it is empty; on lines of its own.
    pub fn list<T>(
        &mut self,
        key: &'static str,
        form: impl Fn(&mut Slot<'_>, Option<&T>) -> Option<T>,
        value: Option<&Vec<T>>,
    ) -> Option<Vec<T>> {
        self.any(key, Layout::Block, form, value)
    }

    /// A list between brackets, left out when it is empty.
    pub fn row<T>(
        &mut self,
        key: &'static str,
        form: impl Fn(&mut Slot<'_>, Option<&T>) -> Option<T>,
        value: Option<&Vec<T>>,
    ) -> Option<Vec<T>> {
        self.any(key, Layout::Flow, form, value)
    }

    fn any<T>(
        &mut self,
        key: &'static str,
        layout: Layout,
        form: impl Fn(&mut Slot<'_>, Option<&T>) -> Option<T>,
        value: Option<&Vec<T>>,
    ) -> Option<Vec<T>> {
        let whole = |slot: &mut Slot<'_>, value: Option<&Vec<T>>| slot.list(layout, &form, value.map(Vec::as_slice));
        if value.is_some_and(Vec::is_empty) {
            self.asked.push(key);
            return Some(Vec::new());
        }
        self.run(key, whole, value).unwrap_or_else(|| Some(Vec::new()))
    }

    /// Keys that the writer chooses, between brackets, left out when there are none.
    pub fn pairs<T>(
        &mut self,
        key: &'static str,
        form: impl Fn(&mut Slot<'_>, Option<&T>) -> Option<T>,
        value: Option<&BTreeMap<String, T>>,
    ) -> Option<BTreeMap<String, T>> {
        if value.is_some_and(BTreeMap::is_empty) {
            self.asked.push(key);
            return Some(BTreeMap::new());
        }
        let whole = |slot: &mut Slot<'_>, value: Option<&BTreeMap<String, T>>| {
            let pairs = value.map(|map| map.iter().map(|(key, value)| (key.as_str(), value)).collect());
            slot.pairs(Layout::Flow, &form, pairs).map(BTreeMap::from_iter)
        };
        self.run(key, whole, value).unwrap_or_else(|| Some(BTreeMap::new()))
    }

    /// A word for yes that is left out when it is no.
    pub fn flag(
        &mut self,
        key: &'static str,
        form: impl Fn(&mut Slot<'_>, Option<&bool>) -> Option<bool>,
        value: Option<&bool>,
    ) -> Option<bool> {
        if value == Some(&false) {
            self.asked.push(key);
            return Some(false);
        }
        self.run(key, form, value).unwrap_or(Some(false))
    }

    /// A word that decides which other keys there are; `word` is the one of the value that is written.
    pub fn choice<T>(&mut self, key: &'static str, rows: &[Row<T>], value: Option<(&'static str, &T)>) -> Option<T> {
        let words: Vec<_> = rows.iter().enumerate().map(|(place, (word, _))| (*word, place)).collect();
        if let On::Describe { .. } = &self.way {
            self.describe_choice(key, rows, &words);
            return None;
        }
        let place = value.and_then(|(word, _)| words.iter().find(|(known, _)| *known == word)).map(|(_, place)| *place);
        let taken = self.need(key, |slot, value| slot.word(&words, value), place.as_ref());
        let Some((_, form)) = place.or(taken).and_then(|place| rows.get(place)) else {
            self.unsure = true;
            return None;
        };
        form(self, value.map(|(_, value)| value))
    }

    fn describe_choice<T>(&mut self, key: &'static str, rows: &[Row<T>], words: &[(&'static str, usize)]) {
        self.need(key, |slot, value| slot.word(words, value), None);
        for (word, form) in rows {
            if let On::Describe { only_with, .. } = &mut self.way {
                *only_with = Some((key.to_owned(), (*word).to_owned()));
            }
            form(self, None);
        }
        if let On::Describe { only_with, .. } = &mut self.way {
            *only_with = None;
        }
    }

    /// Tells what the keys ask of each other, for schemas; the caller's own faults say it when a file is read.
    pub fn rule(&mut self, rule: ShapeRule) {
        if let On::Describe { rules, only_with, .. } = &mut self.way {
            rules.push((rule, only_with.clone()));
        }
    }

    /// Says that something is wrong with the mapping as a whole.
    pub fn fault(&mut self, found: &str, expected: &str, mend: &str) {
        if let On::Read { at, problems, .. } = &mut self.way {
            problems.add(*at, found, expected, mend);
        }
    }

    /// Says that something is wrong with the value under a key; with the whole mapping when it has none.
    pub fn fault_at(&mut self, key: &str, expected: &str, mend: &str) {
        if let On::Read { at, pairs, problems, .. } = &mut self.way {
            let node = pairs.iter().find(|(known, _)| known.text == key).map(|(_, node)| node);
            problems.add(
                node.map_or(*at, |node| node.at),
                node.map_or_else(|| format!("no key `{key}`"), Node::said),
                expected,
                mend,
            );
        }
    }

    /// Says that something is wrong with one item of the list under a key.
    pub fn fault_at_item(&mut self, spot: (&str, usize), found: &str, expected: &str, mend: &str) {
        let (key, place) = spot;
        if let On::Read { at, pairs, problems, .. } = &mut self.way {
            let list = pairs.iter().find(|(known, _)| known.text == key).map(|(_, node)| node);
            let item = list.and_then(|list| list.items().get(place)).or(list);
            problems.add(item.map_or(*at, |node| node.at), found, expected, mend);
        }
    }

    /// The value under a key as text, when a file is read and it is one; the key is not yet known by this.
    pub fn peek(&self, key: &str) -> Option<&'a str> {
        match &self.way {
            On::Read { pairs, .. } => pairs.iter().find(|(known, _)| known.text == key)?.1.as_text(),
            On::Write(_) | On::Describe { .. } => None,
        }
    }

    /// Runs the description of a key: `None` when a file is read and the key is not in it.
    #[expect(clippy::option_option, reason = "a fault is not the same as a key left out")]
    fn run<T>(
        &mut self,
        key: &'static str,
        form: impl Fn(&mut Slot<'_>, Option<&T>) -> Option<T>,
        value: Option<&T>,
    ) -> Option<Option<T>> {
        self.asked.push(key);
        match &mut self.way {
            On::Read { pairs, problems, unknown, .. } => {
                let (_, node) = pairs.iter().find(|(known, _)| known.text == key)?;
                Some(form(&mut Slot::reading(node, problems, *unknown), None))
            }
            On::Write(pairs) => {
                let mut node = None;
                form(&mut Slot::writing(&mut node), Some(value?));
                pairs.push((Key::new(key), node.unwrap_or_else(|| Node::text("", Quoting::Always))));
                Some(None)
            }
            On::Describe { keys, only_with, .. } => {
                let mut shape = Shape::Nothing;
                form(&mut Slot::describing(&mut shape), None);
                keys.push(ShapeField { key: key.to_owned(), needed: false, shape, only_with: only_with.clone() });
                None
            }
        }
    }

    /// After every key was asked for: what else stands in the file.
    pub(super) fn look_for_unknown(&mut self) {
        let On::Read { pairs, problems, unknown: Unknown::Refused, .. } = &mut self.way else { return };
        if self.unsure {
            return;
        }
        self.asked.dedup();
        for (key, _) in pairs.iter().filter(|(key, _)| !self.asked.contains(&key.text.as_str())) {
            let found = format!("the key {}, not known here", Node::text(key.text.as_str(), Quoting::Always).said());
            let mend = match nearest(&key.text, self.asked.iter().copied()) {
                Some(near) => format!("Did you mean `{near}`?"),
                None => "Take it out, or look how the key is spelt.".to_owned(),
            };
            problems.add(key.at, found, one_of(self.asked.iter().copied()), mend);
        }
    }
}

/// What belongs there, in words.
fn said(shape: &Shape) -> String {
    match shape {
        Shape::Nothing => String::new(),
        Shape::Text(expected) => expected.clone(),
        Shape::Words(words) => one_of(words.iter().map(String::as_str)),
        Shape::List(..) => "a list".to_owned(),
        Shape::Either(_) | Shape::Pairs(_) | Shape::Map(..) => "keys with values".to_owned(),
    }
}
