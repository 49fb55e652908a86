//! A sheet's levels: every characteristic that can be judged, by part, each with new, alert and limit, filled or not.

mod cells;

use crate::domain::characteristic::{Characteristic, Given};
use crate::domain::judge::Side;
use crate::domain::sheet::{FarTwins, Which, are_far, half_judged, is_bad_both_ways, twin};
use crate::domain::sides::{ABOVE, BELOW, SIDES};
use crate::domain::typed;
use crate::domain::verdict::Consequence;
use crate::records::edit::Path;
use crate::records::yaml::{Key, Layout, Node, Quoting, What};

use super::cell::{Column, Grid, Place, Row};
use super::change::scalar;
use super::figure::{AmountTyped, from_to};
use super::{Paper, Remembered};

impl Paper {
    pub(super) fn characteristic_at(&self, one: Characteristic) -> Option<Path> {
        self.item_named("levels", "characteristic", one.id())
    }

    pub(super) fn level_at(&self, one: Characteristic, which: Which) -> Option<Path> {
        let level = self.characteristic_at(one)?.key(which.word());
        level.find(&self.root).is_some().then_some(level)
    }

    /// The bounds of a level in their short form.
    pub(super) fn bounds_said(&self, level: &Path, which: Which) -> String {
        let (lower, upper) = from_to(which);
        let figure = |word: &str| self.said(&level.key(word)).rsplit_once(' ');
        // only what is allowed is said as a range
        if which == Which::New
            && let (Some((from, one)), Some((to, other))) = (figure(lower), figure(upper))
            && one == other
        {
            return format!("{from}..{to} {one}");
        }
        let said = SIDES.iter().filter_map(|(sign, word)| {
            let amount = level.key(word).find(&self.root)?;
            Some(match amount.get("size") {
                Some(size) => format!("{sign} by {}", size_said(size.as_text().unwrap_or(""))),
                None => format!("{sign} {}", amount.as_text().unwrap_or("")),
            })
        });
        said.collect::<Vec<_>>().join(" ")
    }

    /// Puts the bounds of a level; hands back a table of bands that is to be filled in.
    pub(super) fn put_bounds(
        &mut self,
        one: Characteristic,
        which: Which,
        typed: &str,
    ) -> Result<Option<Place>, String> {
        let bounds = self.bounds(which, typed, self.bare_of(one))?;
        let there = self.level_at(one, which);
        let mut table = None;
        let mut pairs = Vec::new();
        for bound in &bounds {
            let old = there.as_ref().map(|level| level.key(bound.word)).filter(|at| at.find(&self.root).is_some());
            let bands = old.as_ref().and_then(|old| old.key("bands").find(&self.root)).cloned();
            let value = match &bound.amount {
                AmountTyped::Figure(figure) => scalar(figure, ""),
                AmountTyped::Table(size) => {
                    table = Some(bound.word);
                    let bands = bands.unwrap_or_else(|| Node::new(What::List(Layout::Flow, Vec::new())));
                    let pairs = vec![(Key::new("size"), scalar(size, "text")), (Key::new("bands"), bands)];
                    Node::new(What::Map(Layout::Flow, pairs))
                }
            };
            pairs.push((Key::new(bound.word), value));
        }
        match there {
            Some(level) => {
                let words: Vec<String> = pairs.iter().map(|(key, _)| key.text.clone()).collect();
                for (key, value) in pairs {
                    self.put(&level.key(&key.text), value)?;
                }
                for (_, word) in SIDES.iter().filter(|(_, word)| !words.iter().any(|kept| kept == word)) {
                    self.take(&level.key(word))?;
                }
            }
            None => self.new_level(one, which, Node::new(What::Map(Layout::Flow, pairs)))?,
        }
        let level = self.level_at(one, which);
        Ok(table.zip(level).map(|(word, level)| Place::Table(level.key(word).key("bands"))))
    }

    fn new_level(&mut self, one: Characteristic, which: Which, level: Node) -> Result<(), String> {
        if let Some(item) = self.characteristic_at(one) {
            return self.put(&item.key(which.word()), level);
        }
        let pairs = vec![(Key::new("characteristic"), scalar(one.id(), "text")), (Key::new(which.word()), level)];
        self.push(&Path::root().key("levels"), Node::new(What::Map(Layout::Block, pairs)))
    }

    /// Takes a level out, and its characteristic with the last one.
    pub(super) fn take_level(&mut self, one: Characteristic, which: Which) -> Result<(), String> {
        let Some(level) = self.level_at(one, which) else { return Ok(()) };
        let others = Which::ALL.into_iter().any(|other| other != which && self.level_at(one, other).is_some());
        match self.characteristic_at(one) {
            Some(item) if !others => self.take(&item),
            Some(_) | None => self.take(&level),
        }
    }

    /// Puts what failing a level leads to; the beginning of its word is enough.
    pub(super) fn put_leads_to(&mut self, one: Characteristic, which: Which, typed: &str) -> Result<(), String> {
        let all: Vec<_> = Consequence::PAST.into_iter().map(Consequence::word).collect();
        let words: Vec<_> = all.iter().filter(|word| word.starts_with(typed.trim())).collect();
        let [word] = words.as_slice() else {
            return Err(format!("`{typed}` is none of {}. Type one, or its beginning.", all.join(", ")));
        };
        let level = self.known_level(one, which)?;
        self.put(&level.key("leads to"), Node::text(**word, Quoting::Bare))?;
        self.last.insert(Remembered::LeadsTo(which), (**word).to_owned());
        Ok(())
    }

    /// Puts the rule: `simple`, or `guarded` with a factor of its own or the usual one.
    pub(super) fn put_rule(&mut self, one: Characteristic, which: Which, typed: &str) -> Result<(), String> {
        let level = self.known_level(one, which)?;
        let (word, factor) = typed.trim().split_once(' ').unwrap_or((typed.trim(), ""));
        if !word.is_empty() && "simple".starts_with(word) {
            self.take(&level.key("factor"))?;
            return self.take(&level.key("rule"));
        }
        if word.is_empty() || !"guarded".starts_with(word) {
            return Err("Type simple, or guarded and its factor, such as guarded 1.65.".to_owned());
        }
        self.put(&level.key("rule"), Node::text("guarded", Quoting::Bare))?;
        if factor.is_empty() {
            self.take(&level.key("factor"))
        } else {
            self.put(&level.key("factor"), scalar(factor, ""))
        }
    }

    pub(super) fn put_source(&mut self, one: Characteristic, which: Which, typed: &str) -> Result<(), String> {
        let level = self.known_level(one, which)?;
        let source = self.source(typed, self.bare_of(one))?;
        self.put(&level.key("source"), scalar(&source, "text"))?;
        self.last.insert(Remembered::Source, source);
        Ok(())
    }

    /// The number to order by.
    pub(super) fn put_part_number(&mut self, one: Characteristic, typed: &str) -> Result<(), String> {
        let item = self.characteristic_at(one).ok_or_else(first)?;
        self.put(&item.key("part number"), scalar(typed, "text"))
    }

    /// The side on which its limit judges nothing, as far as it is typed.
    fn unjudged_side(&self, one: Characteristic) -> Option<Side> {
        let limit = self.level_at(one, Which::Limit).filter(|_| is_bad_both_ways(one))?;
        let there = |words: [&str; 2]| words.iter().any(|word| limit.key(word).find(&self.root).is_some());
        match (there(BELOW), there(ABOVE)) {
            (false, true) => Some(Side::Lower),
            (true, false) => Some(Side::Upper),
            (true, true) | (false, false) => None,
        }
    }

    /// The first level that is far off the same one of the other side.
    fn far_twin(&self, one: Characteristic) -> Option<String> {
        let other = twin(one)?;
        Which::ALL.into_iter().find_map(|which| {
            let at = [self.level_at(one, which)?, self.level_at(other, which)?];
            let figure =
                |level: &Path, word: &str| Some(typed::parse(self.said(&level.key(word)), one.unit()).ok()?.figure);
            let [here, there] = &at;
            let sides = SIDES.iter().filter_map(|(_, word)| figure(here, word).zip(figure(there, word)));
            let figures: [_; 2] = sides.into_iter().find(|(here, there)| are_far(*here, *there))?.into();
            Some(FarTwins { both: [one, other], which, figures }.to_string())
        })
    }

    fn known_level(&self, one: Characteristic, which: Which) -> Result<Path, String> {
        self.level_at(one, which).ok_or_else(first)
    }
}

/// The first of a list and how many more there are: one line, so that what stands below it stays in sight.
fn first_of(all: &[String]) -> String {
    let more = all.len().saturating_sub(1);
    let more = if more > 0 { format!(" (+{more})") } else { String::new() };
    format!("{}{more}", all.first().map_or("", String::as_str))
}

/// A size under its plain name.
fn size_said(name: &str) -> &str {
    if let Some(given) = Given::parse(name) { given.plain() } else { name }
}

fn first() -> String {
    "First the level: from where. Go left to it.".to_owned()
}

/// Every characteristic, those of a part together.
pub(super) fn by_part() -> Vec<Characteristic> {
    let mut all: Vec<Characteristic> = Characteristic::all().collect();
    let parts: Vec<&str> = all.iter().map(|one| one.part()).collect();
    all.sort_by_key(|one| parts.iter().position(|part| *part == one.part()));
    all
}

pub(super) fn grid(paper: &Paper) -> Grid {
    let mut rows: Vec<Row> = Vec::new();
    let (mut limited, mut new, mut count, mut absent) = (0, 0, 0, 0);
    let (mut halves, mut twins) = (Vec::new(), Vec::new());
    for one in by_part() {
        if paper.is_absent(one) {
            absent += 1;
            continue;
        }
        count += 1;
        limited += usize::from(paper.level_at(one, Which::Limit).is_some());
        new += usize::from(paper.level_at(one, Which::New).is_some());
        let name = format!("{}: {}", paper.beside.part_name(one.part()), one.name());
        halves.extend(paper.unjudged_side(one).map(|side| format!("{}: {}", one.id(), half_judged(side).0)));
        twins.extend(paper.far_twin(one));
        for which in Which::ALL {
            let first = which == Which::New;
            rows.push(Row {
                label: which.word().to_owned(),
                called: format!("{name}, {}", which.word()),
                first,
                group: first.then(|| name.clone()),
                cells: cells::of(paper, one, which),
            });
        }
    }
    let half = (!halves.is_empty()).then(|| first_of(&halves));
    let column = |name: &str, width| Column { name: name.to_owned(), width };
    let nobody = paper.root.get("entered by").is_none_or(|names| names.items().is_empty());
    let whose = "entered by nobody named: Esc, then `entered by`, and your name".to_owned();
    let since = paper.said_in(&Path::root().key("changed since"));
    let by = paper.said_in(&Path::root().key("changed by")).join(", ");
    let by = if by.is_empty() { by } else { format!(", by {by}") };
    let since =
        (!since.is_empty()).then(|| format!("changed since it was entered{by}, each typed once: {}", first_of(&since)));
    let without = count - limited;
    let left = if absent > 0 { format!(", {absent} not on this machine") } else { String::new() };
    Grid {
        title: format!("{}: levels", paper.called()),
        columns: vec![
            column("from where", 24),
            column("leads to", 9),
            column("rule", 12),
            column("where in the manual", 22),
            column("order as", 12),
        ],
        rows,
        told: nobody
            .then_some(whose)
            .into_iter()
            .chain(since)
            .chain(half)
            .chain((!twins.is_empty()).then(|| first_of(&twins)))
            .chain([
                format!("{limited} of {count} have a limit; as found {without} are never called good{left}"),
                format!("{new} have a new range; as left the others are never called good"),
            ])
            .collect(),
    }
}
