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

    /// Everybody who typed anything of it: those, and who changed it since.
    pub fn hands(&self) -> Vec<&str> {
        each_once(self.entered_by.iter().chain(&self.changed_by).map(|name| name.trim()))
    }

    /// Whether a second person has typed every figure too.
    pub fn is_entered_twice(&self, people: &[Person]) -> bool {
        names(&self.enterers(), people).len() > 1 && self.changed_since.is_empty()
    }

    /// Whose limits they are, from which manual, and whether a second person typed them too.
    pub fn entered_words(&self, people: &[Person]) -> String {
        let whose = match self.origin {
            Origin::Maker => "maker's limits",
            Origin::Owner => "owner's limits",
            Origin::Interim => "interim limits",
        };
        // whoever types it again types all of it, and comes last
        let entered = match names(&self.enterers(), people).as_slice() {
            [] => "entered by nobody named".to_owned(),
            [one] => format!("entered by one person only, {one}"),
            [first @ .., last] => format!("entered by {} and again by {last}", first.join(", ")),
        };
        let changed: Vec<_> = self.changed_since.iter().map(|id| called(id)).collect();
        let changers = names(&each_once(self.changed_by.iter().map(String::as_str)), people).join(", ");
        let by = if changers.is_empty() { changers } else { format!(" by {changers}") };
        let since = if changed.is_empty() { String::new() } else { format!("; changed since{by} and entered once: ") };
        format!("{whose}, {}, edition {}, {entered}{since}{}", self.manual, self.edition, changed.join(", "))
    }

    /// Whether `by` alone has entered it, and may change it without its being somebody else's.
    pub fn is_entered_by_alone(&self, by: &str) -> bool {
        matches!(self.hands().as_slice(), [one] if one.eq_ignore_ascii_case(by))
    }

    /// Somebody types a figure anew: nobody has typed that one a second time, whoever entered the others.
    pub(in crate::domain) fn typed_anew(&mut self, id: &str, by: &str) {
        let empty = self.levels.is_empty() && self.given.is_empty();
        if empty {
            self.entered_by = vec![by.to_owned()];
        }
        if !self.is_entered_by_alone(by) && !self.enterers().is_empty() {
            self.changed_since.insert(id.to_owned());
            self.changed_by_too(by);
        }
    }

    fn changed_by_too(&mut self, by: &str) {
        if !self.changed_by.iter().any(|known| known.eq_ignore_ascii_case(by)) {
            self.changed_by.push(by.to_owned());
        }
    }

    /// It in the place of `was`, as `by` brings it: what is new, changed or gone was entered once, whoever entered the others
    /// twice; a second name comes by a second entry alone. Without `by`, whoever it names itself has entered a new one.
    #[must_use]
    pub fn in_place_of(mut self, was: Option<&Self>, by: Option<&str>) -> Self {
        let Some(was) = was.filter(|was| !was.entered_by.is_empty()) else {
            self.entered_by = by.map(str::to_owned).or(self.entered_by.into_iter().next()).into_iter().collect();
            (self.changed_since, self.changed_by) = Default::default();
            return self;
        };
        let levels = changed(&self.levels, &was.levels).map(Characteristic::id);
        let absent = changed(&self.absent, &was.absent).map(Characteristic::id);
        let given = changed(&self.given, &was.given).map(Given::name);
        let ids: Vec<_> = levels.chain(absent).chain(given).collect();
        self.changed_since.clone_from(&was.changed_since);
        self.changed_by.clone_from(&was.changed_by);
        self.entered_by.clone_from(&was.entered_by);
        if !ids.is_empty() && !by.is_some_and(|by| was.is_entered_by_alone(by)) {
            self.changed_since.extend(ids.into_iter().map(str::to_owned));
            if let Some(by) = by {
                self.changed_by_too(by);
            }
        }
        self
    }
}

/// The same by name: an id that `people` know stands for its person, who is one by id and by name.
fn names<'a>(all: &[&'a str], people: &'a [Person]) -> Vec<&'a str> {
    let known = |who: &str| people.iter().find(|person| person.id.as_str().eq_ignore_ascii_case(who));
    each_once(all.iter().map(|who| known(who).map_or(*who, |person| &person.name)))
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
