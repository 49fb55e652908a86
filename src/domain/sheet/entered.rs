//! Who entered a sheet, and which of its figures somebody changed since.

use std::collections::BTreeMap;

use super::super::characteristic::{Characteristic, Given};
use super::super::person::Person;
use super::{Origin, Sheet};

impl Sheet {
    /// Everybody who entered it, each once: the same person twice has checked nothing.
    pub fn enterers(&self) -> Vec<&str> {
        each_once(self.entered_by.iter().map(|name| name.trim()))
    }

    /// The same by name: an id that `people` know stands for its person, who is one by id and by name.
    fn enterer_names<'a>(&'a self, people: &'a [Person]) -> Vec<&'a str> {
        let known = |who: &str| people.iter().find(|person| person.id.as_str().eq_ignore_ascii_case(who));
        each_once(self.enterers().into_iter().map(|who| known(who).map_or(who, |person| &person.name)))
    }

    /// Whether a second person has typed every figure too.
    pub fn is_entered_twice(&self, people: &[Person]) -> bool {
        self.enterer_names(people).len() > 1 && self.changed_since.is_empty()
    }

    /// Whose limits they are, from which manual, and whether a second person typed them too.
    pub fn entered_words(&self, people: &[Person]) -> String {
        let whose = match self.origin {
            Origin::Maker => "maker's limits",
            Origin::Owner => "owner's limits",
            Origin::Interim => "interim limits",
        };
        let entered = match self.enterer_names(people).as_slice() {
            [] => "entered by nobody named".to_owned(),
            [one] => format!("entered by one person only, {one}"),
            [one, other, ..] => format!("entered by {one} and again by {other}"),
        };
        let changed: Vec<_> = self.changed_since.iter().map(|id| called(id)).collect();
        let since = if changed.is_empty() { "" } else { "; changed since and entered once: " };
        format!("{whose}, {}, edition {}, {entered}{since}{}", self.manual, self.edition, changed.join(", "))
    }

    /// Somebody types a figure anew: nobody has typed that one a second time, whoever entered the others.
    pub(in crate::domain) fn typed_anew(&mut self, id: &str, by: &str) {
        let empty = self.levels.is_empty() && self.given.is_empty();
        if empty {
            self.entered_by = vec![by.to_owned()];
        }
        let own = matches!(self.enterers().as_slice(), [one] if one.eq_ignore_ascii_case(by));
        if !own && !self.enterers().is_empty() {
            self.changed_since.insert(id.to_owned());
        }
    }

    /// It in the place of `was`: what is new, changed or gone was entered once, whoever entered the others twice; a second name
    /// comes by a second entry alone.
    #[must_use]
    pub fn in_place_of(mut self, was: Option<&Self>) -> Self {
        let Some(was) = was.filter(|was| !was.entered_by.is_empty()) else {
            self.entered_by.truncate(1);
            return self;
        };
        let levels = changed(&self.levels, &was.levels).map(Characteristic::id);
        let absent = changed(&self.absent, &was.absent).map(Characteristic::id);
        let given = changed(&self.given, &was.given).map(Given::name);
        let ids: Vec<_> = levels.chain(absent).chain(given).collect();
        self.changed_since.clone_from(&was.changed_since);
        self.changed_since.extend(ids.into_iter().map(str::to_owned));
        self.entered_by.clone_from(&was.entered_by);
        self
    }
}

/// What does not stand in both alike.
fn changed<'a, K: Copy + Ord, V: PartialEq>(
    now: &'a BTreeMap<K, V>,
    was: &'a BTreeMap<K, V>,
) -> impl Iterator<Item = K> + 'a {
    let all = now.keys().chain(was.keys().filter(|one| !now.contains_key(*one)));
    all.filter(|one| now.get(*one) != was.get(*one)).copied()
}

/// `clearance (bush.ts.clearance)`.
fn called(id: &str) -> String {
    let characteristic = || Characteristic::parse(id).map(Characteristic::name);
    let name = characteristic().or_else(|| Given::parse(id).map(Given::what));
    name.map_or_else(|| id.to_owned(), |name| format!("{name} ({id})"))
}

/// Without those that differ in case only from one before.
fn each_once<'a>(all: impl Iterator<Item = &'a str>) -> Vec<&'a str> {
    let mut names: Vec<&str> = Vec::new();
    for name in all {
        if !names.iter().any(|known| known.eq_ignore_ascii_case(name)) {
            names.push(name);
        }
    }
    names
}
