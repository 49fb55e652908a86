//! A sheet entered twice: the second person types it blind, and the two are compared.

use std::fmt;

use crate::domain::characteristic::{Characteristic, Given};
use crate::domain::figure::Figure;
use crate::domain::id::Id;
use crate::domain::person::Person;
use crate::domain::sheet::{Amount, Band, Bound, Level, Sheet, Touching, Which};
use crate::records::edit::{Path, same};
use crate::records::sheet_file::read_sheet;
use crate::records::yaml::{Layout, Node, What};

use super::cell::To;
use super::change::scalar;
use super::enter::Entered;
use super::{Kind, Paper};

/// One level or figure on which the two do not agree, or what but one of them says that the machine does not have.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Difference {
    /// `clearance (bush.ts.clearance), limit`.
    pub what: String,
    /// The cell of it.
    pub to: To,
    /// As entered first; none where it was not.
    pub first: Option<String>,
    /// As entered the second time; none where it was not, or not yet.
    pub second: Option<String>,
}

/// One line; what the second person has not typed yet stays blind.
impl fmt::Display for Difference {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { what, first, second, .. } = self;
        match (first, second) {
            (Some(first), Some(second)) => write!(out, "{what}: first {first}; second {second}"),
            (Some(_), None) => write!(out, "{what}: in the first entry, not in the second"),
            (None, Some(second)) => write!(out, "{what}: not in the first entry; second {second}"),
            (None, None) => write!(out, "{what}"),
        }
    }
}

/// The sheet for the second entry: machine and manual as they are, nothing that is typed from the manual, one name.
///
/// # Errors
/// When the first entry is not complete, or `by` typed any of it.
pub fn second_of(first: &str, by: &str, people: &[Person]) -> Result<String, String> {
    let mut paper = Paper::open(Kind::Sheet, "second entry", first).map_err(|problems| problems.to_string())?;
    let sheet = sheet_of(first)?;
    if typed_any(&sheet, by, people) {
        return Err(format!("{by} typed it, or some of it, the first time. Somebody else types it again."));
    }
    for key in ["levels", "given", "absent", "changed since", "changed by"] {
        paper.take(&Path::root().key(key))?;
    }
    paper.put_names("entered by", &[by.to_owned()])?;
    Ok(paper.text)
}

/// Whether a second entry that was begun is still one: whoever began it has not changed the first one since.
pub fn still_second(first: &str, second: &str, people: &[Person]) -> bool {
    let (Ok(first), Some(by)) = (sheet_of(first), entered_by(second)) else { return true };
    !typed_any(&first, &by, people)
}

/// Whether somebody, known by id or name, typed any of a sheet.
fn typed_any(sheet: &Sheet, by: &str, people: &[Person]) -> bool {
    sheet.hands().into_iter().any(|name| is_one_person(name, by, people))
}

/// Whose entry a sheet is, complete or not.
pub fn entered_by(text: &str) -> Option<String> {
    let paper = Paper::open(Kind::Sheet, "the sheet", text).ok()?;
    paper.said_in(&Path::root().key("entered by")).into_iter().next()
}

/// Whether two names, or an id and a name, are one person's.
pub fn is_one_person(one: &str, other: &str, people: &[Person]) -> bool {
    let is_both = |person: &Person| person.is_called(one) && person.is_called(other);
    one.eq_ignore_ascii_case(other) || people.iter().any(is_both)
}

/// Where two entries of a sheet differ: figures of the machine and their sources, what it does not have, figures, touching,
/// consequence, rule and source of every level, and part numbers. Why it has not is said in words, and two people never
/// choose the same.
///
/// # Errors
/// When one of them is not complete.
pub fn differences(first: &str, second: &str) -> Result<Vec<Difference>, String> {
    let (first, second) = (sheet_of(first)?, sheet_of(second)?);
    let mut found = besides(&first, &second);
    let mut all: Vec<_> = first.levels.keys().chain(second.levels.keys()).copied().collect();
    all.sort();
    all.dedup();
    for one in all {
        for which in Which::ALL {
            let [a, b] = [&first, &second].map(|sheet| sheet.levels.get(&one)?.of(which));
            if !agree(a, b) {
                let what = format!("{} ({}), {}", one.name(), one.id(), which.word());
                let [first, second] = [a, b].map(|level| level.map(|level| said(level, which)));
                found.push(Difference { what, to: To::Bounds(one, which), first, second });
            } else if let Some((a, b)) = a.zip(b) {
                let what =
                    || (format!("{} ({}), {}, source", one.name(), one.id(), which.word()), To::Source(one, which));
                found.extend(in_sources(what, [(&first, a.source()), (&second, b.source())]));
            }
        }
        let numbers = [&first, &second].map(|sheet| sheet.levels.get(&one)?.part_number.as_deref());
        let what = || (format!("{} ({}), part number", one.name(), one.id()), To::PartNumber(one));
        found.extend(in_words(what, numbers));
    }
    Ok(found)
}

/// Words that say another thing than capitals and spaces.
fn in_words(what: impl FnOnce() -> (String, To), both: [Option<&str>; 2]) -> Option<Difference> {
    let [first, second] = both.map(|text| text.map(bare));
    (first != second).then(|| differ(what(), both.map(|text| text.map(str::to_owned))))
}

fn differ((what, to): (String, To), [first, second]: [Option<String>; 2]) -> Difference {
    Difference { what, to, first, second }
}

/// The same of sources: a table may leave out the manual of the whole sheet, which a form puts before each.
fn in_sources(what: impl FnOnce() -> (String, To), both: [(&Sheet, &str); 2]) -> Option<Difference> {
    let behind_manual = |(sheet, source): (&Sheet, &str)| {
        let (manual, source) = (bare(&format!("{}, edition {},", sheet.manual, sheet.edition)), bare(source));
        source.strip_prefix(&manual).map_or_else(|| source.clone(), str::to_owned)
    };
    let [first, second] = both.map(behind_manual);
    (first != second).then(|| differ(what(), both.map(|(_, source)| Some(source.to_owned()))))
}

fn bare(text: &str) -> String {
    text.split_whitespace().collect::<String>().to_lowercase()
}

/// Differences besides the levels.
fn besides(first: &Sheet, second: &Sheet) -> Vec<Difference> {
    let sources = Given::all().filter_map(|given| {
        let (one, other) = first.given.get(&given).zip(second.given.get(&given))?;
        let what = || (format!("{} ({}), source", given.plain(), given.name()), To::GivenSource(given));
        let both = [(first, one.source.as_str()), (second, other.source.as_str())];
        is_one_size(one.figure, other.figure).then(|| in_sources(what, both)).flatten()
    });
    let given = Given::all().filter_map(|given| {
        let both = [first, second].map(|sheet| Some(sheet.given.get(&given)?.figure));
        let what = || (format!("{} ({})", given.plain(), given.name()), To::Given(given));
        let [one, other] = both;
        let is_same = one.zip(other).is_some_and(|(one, other)| is_one_size(one, other));
        (one != other && !is_same).then(|| differ(what(), both.map(|figure| figure.map(|figure| figure.to_string()))))
    });
    let absent = Characteristic::all().filter_map(|one| {
        let both = [first, second].map(|sheet| sheet.absent.contains_key(&one));
        let what = || (format!("{} ({})", one.name(), one.id()), To::Absent(one));
        let [here, there] = both;
        (here != there).then(|| differ(what(), both.map(|is| is.then(|| "not on this machine".to_owned()))))
    });
    given.chain(sources).chain(absent).collect()
}

fn agree(one: Option<&Level>, other: Option<&Level>) -> bool {
    match (one, other) {
        (None, None) => true,
        (Some(one), Some(other)) => {
            is_one_bound(one.upper(), other.upper())
                && is_one_bound(one.lower(), other.lower())
                && one.leads_to() == other.leads_to()
                && one.rule() == other.rule()
        }
        (Some(_), None) | (None, Some(_)) => false,
    }
}

/// Of one size, in whichever unit each was typed.
fn is_one_size(one: Figure, other: Figure) -> bool {
    one == other || other.dimension() == one.dimension() && other.to(one.unit()) == one.to(one.unit())
}

fn is_one_bound(one: Option<&Bound>, other: Option<&Bound>) -> bool {
    let Some((one, other)) = one.zip(other) else { return one == other };
    let is_one = match (&one.amount, &other.amount) {
        (Amount::Fixed(one), Amount::Fixed(other)) => is_one_size(*one, *other),
        (Amount::BySize { size, bands }, Amount::BySize { size: by, bands: others }) => {
            let band = |(a, b): (&Band, &Band)| {
                [(a.over, b.over), (a.up_to, b.up_to), (a.figure, b.figure)].into_iter().all(|(a, b)| is_one_size(a, b))
            };
            size == by && bands.len() == others.len() && bands.iter().zip(others).all(band)
        }
        (Amount::Fixed(_), Amount::BySize { .. }) | (Amount::BySize { .. }, Amount::Fixed(_)) => false,
    };
    is_one && one.touching == other.touching
}

/// `>= 0.3 mm <= 0.5 mm, rework`, the signs as in the form.
fn said(level: &Level, which: Which) -> String {
    let amount = |bound: &Bound| match &bound.amount {
        Amount::Fixed(figure) => figure.to_string(),
        Amount::BySize { size, bands } => format!("by {} in {} bands", size.name(), bands.len()),
    };
    // new: what is allowed; alert and limit: where failing begins
    let meets = |bound: &Bound| (bound.touching == Touching::Passes) == (which == Which::New);
    let said = |bound: &Bound, sign| format!("{sign}{} {}", if meets(bound) { "=" } else { "" }, amount(bound));
    let (above, below) = if which == Which::New { ("<", ">") } else { (">", "<") };
    let lower = level.lower().map(|bound| said(bound, below));
    let upper = level.upper().map(|bound| said(bound, above));
    let bounds: Vec<_> = [lower, upper].into_iter().flatten().collect();
    format!("{}, {}", bounds.join(" "), level.leads_to().word())
}

/// The first entry with the second name behind those of everybody who typed any of it, once the two agree.
///
/// # Errors
/// When they do not, or one is not complete.
pub fn taken_over(first: &str, second: &str) -> Result<String, String> {
    if !differences(first, second)?.is_empty() {
        return Err("The two entries do not agree yet.".to_owned());
    }
    let by = sheet_of(second)?.entered_by.into_iter().next();
    let mut paper = Paper::open(Kind::Sheet, "the sheet", first).map_err(|problems| problems.to_string())?;
    let first = sheet_of(first)?;
    let names: Vec<_> = first.hands().into_iter().map(str::to_owned).chain(by).collect();
    paper.put_names("entered by", &names)?;
    for key in ["changed since", "changed by"] {
        paper.take(&Path::root().key(key))?;
    }
    Ok(paper.text)
}

/// Whoever of `people` is meant. Two entries are worth that two people made them: a name that nobody bears, or another
/// spelling, is no second one.
///
/// # Errors
/// When nobody is; who is known, and that others are entered first.
pub fn known<'a>(by: &str, people: &'a [Person]) -> Result<&'a Id, String> {
    let found = people.iter().find(|person| person.is_called(by));
    found.map(|person| &person.id).ok_or_else(|| {
        let known: Vec<_> = people.iter().map(|person| person.id.as_str()).collect();
        format!(
            "Nobody here is known as `{by}`. Known are: {}. Others are entered first: fill people.",
            known.join(", ")
        )
    })
}

fn push_new(all: &mut Vec<String>, new: impl IntoIterator<Item = String>) {
    for one in new {
        if !all.contains(&one) {
            all.push(one);
        }
    }
}

fn sheet_of(text: &str) -> Result<Sheet, String> {
    read_sheet("the sheet", text.as_bytes()).map_err(|problems| problems.to_string())
}

impl Paper {
    fn put_names(&mut self, key: &str, names: &[String]) -> Result<(), String> {
        let names = names.iter().map(|name| scalar(name, "text")).collect();
        self.put(&Path::root().key(key), Node::new(What::List(Layout::Flow, names)))
    }

    /// A figure changed by anybody but whoever alone has entered the sheet stands under `changed since`, and the name of who
    /// changed it, which is asked once in a sitting, under `changed by`; a name typed over theirs is the name of who answers
    /// for all of it.
    pub(super) fn entered_by_now(&mut self, before: &Self) -> Result<Entered, String> {
        let [entered, since, changers] = ["entered by", "changed since", "changed by"].map(|key| Path::root().key(key));
        let names = self.said_in(&entered);
        if self.kind != Kind::Sheet {
            return Ok(Entered::Taken);
        }
        if before.said_in(&entered) != names {
            self.by = names.into_iter().next();
            self.take(&since)?;
            return self.take(&changers).map(|()| Entered::Taken);
        }
        let changed = self.changed_from(before);
        if names.is_empty() || changed.is_empty() {
            return Ok(Entered::Taken);
        }
        if self.by.is_none() && !self.beside.people.is_empty() {
            return Ok(Entered::Asks);
        }
        let mut hands = self.said_in(&changers);
        let is_own = |by: &String| {
            hands.is_empty() && matches!(names.as_slice(), [one] if is_one_person(one, by, &self.beside.people))
        };
        if self.by.as_ref().is_some_and(is_own) {
            return Ok(Entered::Taken);
        }
        let mut all = self.said_in(&since);
        let known = (all.len(), hands.len());
        push_new(&mut all, changed);
        push_new(&mut hands, self.by.clone());
        if all.len() > known.0 {
            self.put_names("changed since", &all)?;
        }
        if hands.len() > known.1 {
            self.put_names("changed by", &hands)?;
        }
        Ok(Entered::Taken)
    }

    /// Characteristics, judged or not on this machine, and figures of the machine, by id, that do not stand here as they did.
    fn changed_from(&self, before: &Self) -> Vec<String> {
        let of = |list: &str, key: &str| {
            let items = |paper: &Self| paper.root.get(list).map(|list| list.items().to_vec()).unwrap_or_default();
            let (was, now) = (items(before), items(self));
            let not_in = |one: &Node, others: &[Node]| !others.iter().any(|other| same(other, one));
            let new = now.iter().filter(|one| not_in(one, &was));
            let gone = was.iter().filter(|one| not_in(one, &now));
            let ids = new.chain(gone).filter_map(|item| Some(item.get(key)?.as_text()?.to_owned()));
            ids.collect::<Vec<_>>()
        };
        [of("levels", "characteristic"), of("given", "name"), of("absent", "characteristic")].concat()
    }

    pub(super) fn said_in(&self, path: &Path) -> Vec<String> {
        let names = path.find(&self.root).map(Node::items).unwrap_or_default().iter();
        names.filter_map(|name| name.as_text().map(str::to_owned)).collect()
    }
}
