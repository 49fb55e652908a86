//! Records as tables for an engine that analyses many of them: one layout, numbered, from which files, docs and SQL come.
//!
//! A column is never renamed and never changes its meaning within a layout; a new one is put behind the others. What is
//! judged is what was signed: the last signature that stands, and the entries before it. Where nothing is signed, the row
//! says so. Domain in, cells out; the streams are `cli/export`'s.

mod judged;
mod kept;
mod reckoned;

use std::collections::BTreeSet;

use crate::domain::apply::before;
use crate::domain::checklist::Signing;
use crate::domain::entry::{Act, SignedVerdict};
use crate::domain::exact::Exact;
use crate::domain::inspection::Inspection;
use crate::domain::signing;
use crate::domain::standing::Standing;

/// The number of the layout; it stands in every row.
pub const LAYOUT: i64 = 1;

/// A table.
#[derive(Debug)]
pub struct Table {
    /// `readings`.
    pub name: &'static str,
    /// What a row is, in a line.
    pub doc: &'static str,
    /// Its columns, in their order.
    pub columns: &'static [Column],
    /// The columns that make a row one of its kind.
    pub key: &'static [&'static str],
    /// The rows of one record, each as long as the columns.
    pub rows: fn(&Exported<'_>) -> Vec<Vec<Cell>>,
}

/// A column.
#[derive(Debug)]
pub struct Column {
    /// Its name, a plain word of SQL.
    pub name: &'static str,
    /// What stands in it.
    pub kind: Kind,
    /// What it is, with its unit, in a line.
    pub doc: &'static str,
}

/// What stands in a column.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// Words.
    Text,
    /// A whole number.
    Whole,
    /// A decimal, written as text so that no digit is lost; at most twelve behind the point.
    Decimal,
    /// A moment with its offset from UTC.
    Moment,
    /// A day.
    Day,
    /// Yes or no.
    Flag,
}

/// One value.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Cell {
    /// There is none.
    Nothing,
    /// Words, a decimal, a moment, a day.
    Text(String),
    /// A whole number.
    Whole(i64),
    /// Yes or no.
    Flag(bool),
}

/// The tables, in the order in which they are written.
pub static TABLES: &[Table] =
    &[kept::INSPECTIONS, kept::ENTRIES, kept::READINGS, judged::CHARACTERISTICS, kept::FINDINGS, reckoned::RECKONED];

/// A record to be written out.
#[derive(Debug)]
pub struct Exported<'a> {
    inspection: &'a Inspection,
    chains: &'a [String],
    trust: &'a str,
    file: &'a str,
    strange: &'a BTreeSet<u32>,
    signed: Option<(Signing, u32, Vec<SignedVerdict>)>,
    judged: Inspection,
    standing: Standing,
}

impl<'a> Exported<'a> {
    /// A record with the chain value behind each entry, whether it is as the program left it, its file's name, and the
    /// entries of people unknown here.
    pub fn of(
        inspection: &'a Inspection,
        chains: &'a [String],
        (trust, file): (&'a str, &'a str),
        strange: &'a BTreeSet<u32>,
    ) -> Self {
        let last = [Signing::Close, Signing::Decisions].into_iter();
        let signed = last.filter_map(|what| signing::standing_signature(inspection, what)).find_map(|entry| {
            let Act::Sign(signature) = &entry.act else { return None };
            Some((signature.what, entry.number, signature.standing.clone()))
        });
        let judged = signed.as_ref().map_or_else(|| inspection.clone(), |(_, sign, _)| before(inspection, *sign));
        let standing = Standing::of(&judged);
        Self { inspection, chains, trust, file, strange, signed, judged, standing }
    }

    /// `close`, `decisions` or `unsigned`.
    fn signed_word(&self) -> &'static str {
        self.signed.as_ref().map_or("unsigned", |(what, _, _)| what.word())
    }

    fn sign_entry(&self) -> Cell {
        self.signed.as_ref().map_or(Cell::Nothing, |(_, entry, _)| number(*entry))
    }

    fn id(&self) -> Cell {
        text(&self.inspection.head().id)
    }
}

/// A column.
const fn column(name: &'static str, kind: Kind, doc: &'static str) -> Column {
    Column { name, kind, doc }
}

fn text(words: impl Into<String>) -> Cell {
    Cell::Text(words.into())
}

fn maybe<T: ToString>(words: Option<T>) -> Cell {
    words.map_or(Cell::Nothing, |words| Cell::Text(words.to_string()))
}

fn number(count: u32) -> Cell {
    Cell::Whole(count.into())
}

fn count(count: usize) -> Cell {
    i64::try_from(count).map_or(Cell::Nothing, Cell::Whole)
}

fn decimal(exact: &Exact) -> Cell {
    Cell::Text(exact.at_most(12))
}
