//! Reckonings that a step runs besides what it judges: which one, and where each of its figures comes from.

use std::collections::BTreeMap;

use super::super::characteristic::Given;
use super::super::reckon::problem::Problem;
use super::super::reckon::{FORMULAS, Formula, Tree};

/// A reckoning that a step shows with its working; it judges nothing.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Works {
    /// With its number: `torque/1`.
    pub reckoning: String,
    /// Its keys, each with where the figure comes from, as [`Source::parse`] reads it; several of a list between semicolons.
    /// A key within another one stands behind a point: `measured.a`.
    pub with: BTreeMap<String, String>,
}

/// Where a figure comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Source<'a> {
    /// `full`: a column, taken for each row that has it, or a place; `rebuild/figures: full` of another step.
    Place {
        /// The other step.
        step: Option<&'a str>,
        /// Column or place.
        name: &'a str,
    },
    /// `{rotor.mass}`: a figure of the machine from its sheet.
    Given(&'a str),
    /// `= 100 %`: the same for every machine.
    Fixed(&'a str),
    /// `words`: each sentence of the step, for itself; `spares/fits: words` of another one.
    Words {
        /// The other step.
        step: Option<&'a str>,
    },
    /// `u compressor side`: the standard uncertainty of the reading at that place, from its gauge.
    Uncertainty(&'a str),
    /// `each length`: this detail of each finding of the step that is asked for all of them.
    Each(&'a str),
}

impl<'a> Source<'a> {
    /// The source that a text in a checklist means.
    pub fn parse(text: &'a str) -> Self {
        let text = text.trim();
        if let Some(fixed) = text.strip_prefix('=') {
            return Self::Fixed(fixed.trim());
        }
        if let Some(given) = text.strip_prefix('{').and_then(|rest| rest.strip_suffix('}')) {
            return Self::Given(given);
        }
        if let Some(detail) = text.strip_prefix("each ") {
            return Self::Each(detail.trim());
        }
        if let Some(place) = text.strip_prefix("u ") {
            return Self::Uncertainty(place.trim());
        }
        match text.split_once(": ") {
            None if text == "words" => Self::Words { step: None },
            Some((step, name)) if name.trim() == "words" => Self::Words { step: Some(step.trim()) },
            Some((step, name)) => Self::Place { step: Some(step.trim()), name: name.trim() },
            None => Self::Place { step: None, name: text },
        }
    }
}

impl Works {
    /// The reckoning; `None` when this program knows none of that name and number.
    pub fn formula(&self) -> Option<&'static Formula> {
        FORMULAS.iter().find(|formula| formula.id() == self.reckoning)
    }

    /// Every source in the order of the keys.
    pub fn sources(&self) -> impl Iterator<Item = Source<'_>> {
        self.with.values().flat_map(|text| text.split(';').map(Source::parse))
    }

    /// A fault as the step calls its figures: whoever typed them knows no key of a reckoning.
    pub fn in_words(&self, problem: Problem) -> Problem {
        let called = |key: &str| match self.with.get(key).map(String::as_str).map(Source::parse) {
            Some(Source::Place { name, .. }) => name.to_owned(),
            Some(Source::Given(name)) => Given::parse(name).map_or(name.to_owned(), |given| given.what().to_owned()),
            Some(Source::Fixed(_) | Source::Words { .. } | Source::Uncertainty(_) | Source::Each(_)) | None => {
                key.replace('_', " ")
            }
        };
        let expected =
            self.with.keys().fold(problem.expected, |words, key| words.replace(&format!("`{key}`"), &called(key)));
        Problem { key: called(&problem.key), expected, ..problem }
    }

    /// What the reckoning is given: each source with what `take` makes of it, nothing where it makes nothing.
    pub fn tree(&self, mut take: impl FnMut(Source<'_>) -> Vec<Option<String>>) -> Tree {
        let mut tree = Vec::new();
        for (key, text) in &self.with {
            let sources: Vec<_> = text.split(';').map(Source::parse).collect();
            let each = sources.iter().any(|source| matches!(source, Source::Each(_)));
            let texts: Vec<_> = sources.into_iter().flat_map(&mut take).collect();
            match key.split_once('.') {
                Some((outer, inner)) if each => put_each(&mut tree, (outer, inner), texts),
                Some((outer, inner)) => put_within(&mut tree, (outer, inner), value(texts)),
                None => tree.extend(value(texts).map(|value| (key.clone(), value))),
            }
        }
        Tree::Map(tree)
    }
}

/// The text, or the list of several; none of nothing.
fn value(texts: Vec<Option<String>>) -> Option<Tree> {
    let mut texts: Vec<_> = texts.into_iter().flatten().map(Tree::text).collect();
    if texts.len() > 1 { Some(Tree::List(texts)) } else { texts.pop() }
}

/// The value under a key of a map, put there when it is new.
fn under<'a>(map: &'a mut Vec<(String, Tree)>, key: &str, empty: Tree) -> Option<&'a mut Tree> {
    if !map.iter().any(|(known, _)| known == key) {
        map.push((key.to_owned(), empty));
    }
    map.iter_mut().find(|(known, _)| known == key).map(|(_, value)| value)
}

fn put_within(tree: &mut Vec<(String, Tree)>, (outer, inner): (&str, &str), value: Option<Tree>) {
    let Some(value) = value else { return };
    if let Some(Tree::Map(entries)) = under(tree, outer, Tree::Map(Vec::new())) {
        entries.push((inner.to_owned(), value));
    }
}

/// One map for each finding, its details under their keys.
fn put_each(tree: &mut Vec<(String, Tree)>, (outer, inner): (&str, &str), texts: Vec<Option<String>>) {
    let Some(Tree::List(items)) = under(tree, outer, Tree::List(Vec::new())) else { return };
    for (place, text) in texts.into_iter().enumerate() {
        if items.len() <= place {
            items.push(Tree::Map(Vec::new()));
        }
        if let (Some(Tree::Map(entries)), Some(text)) = (items.get_mut(place), text) {
            entries.push((inner.to_owned(), Tree::text(text)));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_way_to_name_a_figure_is_read_and_put_under_its_key() {
        let with = [
            ("value", "full"),
            ("stages", "one; = 100 %"),
            ("measured.a", "other/step: plane"),
            ("measured.u", "u plane"),
            ("pair", "other/step: words"),
            ("indications.length", "each length"),
            ("mass", "{rotor.mass}"),
            ("left out", "nothing"),
        ];
        let with = with.map(|(key, source)| (key.to_owned(), source.to_owned())).into();
        let works = Works { reckoning: "torque/1".to_owned(), with };
        let tree = works.tree(|source| match source {
            Source::Place { name: "nothing", .. } => vec![None],
            Source::Place { step, name } => vec![Some(format!("{}{name}", step.unwrap_or("")))],
            Source::Given(name) | Source::Fixed(name) => vec![Some(name.to_owned())],
            Source::Words { .. } => vec![],
            Source::Uncertainty(name) => vec![Some(format!("u({name})"))],
            Source::Each(detail) => vec![Some(detail.to_owned()), Some("2".to_owned())],
        });
        let text = |text: &str| Tree::text(text);
        let map = |key: &str, value: Tree| Tree::Map(vec![(key.to_owned(), value)]);
        let wanted = Tree::Map(vec![
            ("indications".into(), Tree::List(vec![map("length", text("length")), map("length", text("2"))])),
            ("mass".into(), text("rotor.mass")),
            ("measured".into(), Tree::Map(vec![("a".into(), text("other/stepplane")), ("u".into(), text("u(plane)"))])),
            ("stages".into(), Tree::List(vec![text("one"), text("100 %")])),
            ("value".into(), text("full")),
        ]);
        assert_eq!(tree, wanted);
    }
}
