//! A typed text goes into a cell.

use crate::domain::id::Id;
use crate::records::edit::{Path, Step};
use crate::records::form::Shape;
use crate::records::yaml::{Key, Layout, Node, Quoting, What};

use super::bare::is_figure;
use super::cell::{Cell, Place, To};
use super::change::scalar;
use super::fields;
use super::second::known;
use super::{Kind, Paper};

/// What came of a typed text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Entered {
    /// It stands in the text of the file.
    Taken,
    /// It does, and this place is to be filled in next.
    Opens(Place),
    /// Not yet: who types it is asked first.
    Asks,
}

/// What takes a value out.
const OUT: &str = "-";

impl Paper {
    /// Puts a typed text into a cell; `-` takes out what stands there.
    ///
    /// # Errors
    /// Why it was not taken, and how to mend it; the text of the file is then as it was.
    pub fn enter(&mut self, cell: &Cell, typed: &str) -> Result<Entered, String> {
        let before = self.clone();
        let typed = typed.trim();
        let done = if typed == OUT { self.clear(&cell.to).map(|()| Entered::Taken) } else { self.fill(cell, typed) };
        match done {
            Ok(entered) => match self.entered_by_now(&before)? {
                Entered::Asks => {
                    *self = before;
                    Ok(Entered::Asks)
                }
                Entered::Taken | Entered::Opens(_) => Ok(entered),
            },
            Err(why) => {
                *self = before;
                Err(why)
            }
        }
    }

    fn fill(&mut self, cell: &Cell, typed: &str) -> Result<Entered, String> {
        match &cell.to {
            To::Value { path, expected } => {
                let text = self.in_full(cell, path, expected, typed)?;
                self.put(path, scalar(&text, expected))?;
            }
            To::Row(path) => self.put_row(cell, path, typed)?,
            To::Pairs(path) => self.put(path, pairs(typed)?)?,
            To::Item(path) => self.put(path, Node::text(typed, Quoting::Fitting))?,
            To::New(list, key) => return self.new_item(cell, list, key.as_deref(), typed),
            To::Bounds(one, which) => {
                let table = self.put_bounds(*one, *which, typed)?;
                return Ok(table.map_or(Entered::Taken, Entered::Opens));
            }
            To::LeadsTo(..)
            | To::Rule(..)
            | To::Source(..)
            | To::PartNumber(_)
            | To::Given(_)
            | To::GivenSource(_)
            | To::Absent(_) => self.fill_of_sheet(&cell.to, typed)?,
            To::Open(_) | To::Nothing => {
                return Err("Nothing is typed here: Delete takes it away, then Enter opens it.".to_owned());
            }
        }
        Ok(Entered::Taken)
    }

    /// What stands in a sheet besides the bounds of its levels.
    fn fill_of_sheet(&mut self, to: &To, typed: &str) -> Result<(), String> {
        match to {
            To::LeadsTo(one, which) => self.put_leads_to(*one, *which, typed),
            To::Rule(one, which) => self.put_rule(*one, *which, typed),
            To::Source(one, which) => self.put_source(*one, *which, typed),
            To::PartNumber(one) => self.put_part_number(*one, typed),
            To::Given(given) => self.put_given(*given, typed),
            To::GivenSource(given) => self.put_given_source(*given, typed),
            To::Absent(one) => self.put_absent(*one, typed),
            To::Value { .. }
            | To::Row(_)
            | To::Pairs(_)
            | To::Item(_)
            | To::New(..)
            | To::Bounds(..)
            | To::Open(_)
            | To::Nothing => Ok(()),
        }
    }

    /// What `-` takes out of a cell, in words; none where nothing stands.
    pub fn takes_out(&self, cell: &Cell) -> Option<String> {
        let path = match &cell.to {
            To::Value { path, .. } | To::Row(path) | To::Pairs(path) | To::Item(path) => {
                self.row_of(path).unwrap_or_else(|| path.clone())
            }
            To::Open(Place::Fields(path)) => path.clone(),
            To::Bounds(one, which) => {
                let level = self.level_at(*one, *which)?;
                return Some(format!("{}, {}: {}", one.name(), which.word(), self.bounds_said(&level, *which)));
            }
            To::Given(given) => self.given_at(*given)?,
            To::Absent(one) => self.absent_at(*one)?,
            To::New(..)
            | To::LeadsTo(..)
            | To::Rule(..)
            | To::Source(..)
            | To::PartNumber(_)
            | To::GivenSource(_)
            | To::Open(_)
            | To::Nothing => return None,
        };
        path.find(&self.root).map(texts).filter(|words| !words.is_empty())
    }

    fn clear(&mut self, to: &To) -> Result<(), String> {
        match to {
            To::Value { path, .. } | To::Row(path) | To::Pairs(path) | To::Item(path) => {
                // the first cell of a row stands for the row
                match self.row_of(path) {
                    Some(row) => self.take(&row),
                    None => self.take(path),
                }
            }
            To::Bounds(one, which) => self.take_level(*one, *which),
            To::Rule(one, which) => self.put_rule(*one, *which, "simple"),
            To::Given(given) => self.take_given(*given),
            To::Absent(one) => self.take_absent(*one),
            To::LeadsTo(..) | To::Source(..) | To::GivenSource(_) | To::PartNumber(_) => {
                Err("This one cannot be left out. Type another, or take out the whole level with - at its left."
                    .to_owned())
            }
            To::Open(Place::Fields(path)) => self.take(path),
            To::New(..) | To::Open(_) | To::Nothing => Err("There is nothing here to take out.".to_owned()),
        }
    }

    /// The item that a cell is the first of.
    fn row_of(&self, path: &Path) -> Option<Path> {
        let (item, last) = path.parent()?;
        let (_, Step::Item(_)) = item.parent()? else { return None };
        let Step::Key(key) = last else { return None };
        let What::Map(_, pairs) = &item.find(&self.root)?.what else { return None };
        pairs.first().filter(|(first, _)| first.text == *key).map(|_| item)
    }

    /// A word from its beginning, a figure with its unit.
    fn in_full(&self, cell: &Cell, path: &Path, expected: &str, typed: &str) -> Result<String, String> {
        let is_part = self.kind == Kind::Rotor && path.steps().last() == Some(&Step::Key("part".to_owned()));
        if is_part {
            return self.part_typed(cell, typed);
        }
        // of an open list anything else may be typed too
        if !cell.offers.is_empty() && expected.is_empty() {
            return word(&cell.offers, typed);
        }
        if !is_figure(expected) {
            return Ok(typed.to_owned());
        }
        // what is no figure goes on as it is: the reader says what is wrong with it
        Ok(Self::figure(typed, self.bare_at(path)).map_or_else(|_| typed.to_owned(), |figure| figure.to_string()))
    }

    /// The id of a part typed by its name, or by the id itself.
    fn part_typed(&self, cell: &Cell, typed: &str) -> Result<String, String> {
        let pieces = self.beside.pieces();
        if pieces.is_empty() || pieces.iter().any(|(id, _)| *id == typed) {
            return Ok(typed.to_owned());
        }
        let name = word(&cell.offers, typed)?;
        Ok(pieces.iter().find(|(_, known)| *known == name).map_or(name.as_str(), |(id, _)| *id).to_owned())
    }

    fn put_row(&mut self, cell: &Cell, path: &Path, typed: &str) -> Result<(), String> {
        if self.kind == Kind::Sheet && *path == Path::root().key("entered by") {
            let who = self.enterer(typed)?;
            return self.put(path, Node::new(What::List(Layout::Flow, vec![Node::text(who, Quoting::Fitting)])));
        }
        let items = typed.split(',').map(str::trim).filter(|item| !item.is_empty());
        let closed = matches!(self.shape_at(&path.item(0)), Some(Shape::Words(_)));
        let items: Result<Vec<_>, String> =
            items.map(|item| if closed { word(&cell.offers, item) } else { Ok(item.to_owned()) }).collect();
        let items = items?.into_iter().map(|item| Node::text(item, Quoting::Fitting)).collect();
        self.put(path, Node::new(What::List(Layout::Flow, items)))
    }

    /// Who enters a sheet: one of the people, where any are known.
    fn enterer(&self, typed: &str) -> Result<String, String> {
        if typed.contains(',') {
            return Err("One name: the second comes with the second entry, typed blind.".to_owned());
        }
        let people = &self.beside.people;
        if people.is_empty() { Ok(typed.trim().to_owned()) } else { known(typed, people).map(Id::to_string) }
    }

    /// A new item, made by one key of it.
    fn new_item(&mut self, cell: &Cell, list: &Path, key: Option<&str>, typed: &str) -> Result<Entered, String> {
        let Some(key) = key else {
            return self.push(list, Node::text(typed, Quoting::Fitting)).map(|()| Entered::Taken);
        };
        let item = self.items_at(list);
        let shape = self.shape_at(&list.item(0).key(key)).unwrap_or_default();
        let at = list.item(item).key(key);
        let as_it_will_be = Cell { offers: cell.offers.clone(), ..fields::cell(self, &at, &shape) };
        let value = match &as_it_will_be.to {
            To::Value { path, expected } => {
                let text = self.in_full(&as_it_will_be, &path.clone(), expected, typed)?;
                scalar(&text, expected)
            }
            To::Row(_) => {
                let items = typed.split(',').map(str::trim).map(|item| Node::text(item, Quoting::Fitting));
                Node::new(What::List(Layout::Flow, items.collect()))
            }
            To::Pairs(_)
            | To::Item(_)
            | To::New(..)
            | To::Bounds(..)
            | To::LeadsTo(..)
            | To::Rule(..)
            | To::Source(..)
            | To::PartNumber(_)
            | To::Given(_)
            | To::GivenSource(_)
            | To::Absent(_)
            | To::Open(_)
            | To::Nothing => {
                return Err("Begin the row with its first column.".to_owned());
            }
        };
        let deep = matches!(cell.to, To::New(..)) && cell.hint.starts_with("a new one");
        let layout = if deep { Layout::Block } else { Layout::Flow };
        self.push(list, Node::new(What::Map(layout, vec![(Key::new(key), value)])))?;
        Ok(if deep { Entered::Opens(Place::Fields(list.item(item))) } else { Entered::Taken })
    }

    fn items_at(&self, list: &Path) -> usize {
        list.find(&self.root).map_or(0, |node| node.items().len())
    }
}

/// The word that a typed text begins, or holds, as far as no other does; capitals do not count.
fn word(offers: &[String], typed: &str) -> Result<String, String> {
    let typed = typed.trim().to_lowercase();
    let alike = |is: &dyn Fn(&str) -> bool| {
        let mut found = offers.iter().filter(|offer| is(&offer.to_lowercase()));
        found.next().filter(|_| found.next().is_none()).cloned()
    };
    let exact = alike(&|offer| offer == typed);
    let found =
        exact.or_else(|| alike(&|offer| offer.starts_with(&typed))).or_else(|| alike(&|offer| offer.contains(&typed)));
    found.ok_or_else(|| match list_of(offers) {
        all if all.len() < 120 => {
            format!("`{typed}` is none of {all}. Type one, or its beginning; Tab turns through them.")
        }
        _ => format!(
            "`{typed}` names none of those on offer, or more than one. Type more of it; Tab turns through them."
        ),
    })
}

/// Words in a list; where they hold commas themselves, apart by semicolons.
pub fn list_of(words: &[String]) -> String {
    words.join(if words.iter().any(|word| word.contains(',')) { "; " } else { ", " })
}

/// The first few texts of a row.
fn texts(node: &Node) -> String {
    match &node.what {
        What::Text(text, _) => text.clone(),
        What::List(_, items) => items.iter().filter_map(Node::as_text).collect::<Vec<_>>().join(", "),
        What::Map(_, pairs) => {
            let texts = pairs.iter().filter_map(|(_, node)| node.as_text()).filter(|text| !text.is_empty());
            texts.take(4).collect::<Vec<_>>().join(", ")
        }
    }
}

/// `light: watch, deep: replace`.
fn pairs(typed: &str) -> Result<Node, String> {
    let text = |text: &str| Node::text(text.trim(), Quoting::Fitting);
    let pair = |pair: &str| {
        let (key, value) = pair.split_once(':')?;
        let several = value.trim().strip_prefix('[').and_then(|value| value.strip_suffix(']'));
        let list = several.map(|all| Node::new(What::List(Layout::Flow, all.split(',').map(text).collect())));
        Some((Key::new(key.trim()), list.unwrap_or_else(|| text(value))))
    };
    // a comma between brackets parts what one grade leads to
    let mut inside = false;
    let between = |letter: char| {
        inside = letter == '[' || inside && letter != ']';
        letter == ',' && !inside
    };
    let pairs: Option<Vec<_>> = typed.split(between).map(pair).collect();
    let pairs = pairs.ok_or("Write each with a colon and a value: light: watch, deep: replace.")?;
    Ok(Node::new(What::Map(Layout::Flow, pairs)))
}
