//! Kinds that carry what the head could not yet hold.

use crate::domain::entry::Act;
use crate::domain::inspection::{Manual, Opening};
use crate::domain::sheet::GivenFigure;
use crate::records::form::{Fields, keys};
use crate::records::instrument_file::instrument;
use crate::records::people_file;
use crate::records::rotor_file::hours;
use crate::records::sheet_file::{GivenLine, given_line, levels};
use crate::records::words::{arrives, day, own_hours, text, words};

keys! {
    /// Opening answers; whatever is missing is "later".
    pub(in crate::records) fn opening_answers -> Opening, Block {
        reason "reason" may words,
        arrives "arrives" may arrives,
        machine_hours "machine hours" may hours,
        part_hours "part hours" pairs hours,
        own_hours "hours of parts" may own_hours,
        manual "manual" may manual,
        letters "letters" may words,
        next_hours "next hours" may hours,
        next_date "next date" may day,
        doubts "doubts" row text,
    }

    fn manual -> Manual, Flow {
        title "title" need words,
        edition "edition" need words,
        checked "checked" need day,
    }
}

pub(super) fn opening(fields: &mut Fields<'_>, act: Option<&Act>) -> Option<Act> {
    let value = if let Some(Act::Opening(opening)) = act { Some(opening.as_ref()) } else { None };
    fields.need("opening", opening_answers, value).map(|opening| Act::Opening(Box::new(opening)))
}

pub(super) fn gauge(fields: &mut Fields<'_>, act: Option<&Act>) -> Option<Act> {
    let value = if let Some(Act::Gauge(gauge)) = act { Some(gauge.as_ref()) } else { None };
    fields.need("gauge", instrument, value).map(|gauge| Act::Gauge(Box::new(gauge)))
}

pub(super) fn person(fields: &mut Fields<'_>, act: Option<&Act>) -> Option<Act> {
    let value = if let Some(Act::Person(person)) = act { Some(person) } else { None };
    fields.need("person", people_file::person, value).map(Act::Person)
}

pub(super) fn given(fields: &mut Fields<'_>, act: Option<&Act>) -> Option<Act> {
    let value = match act {
        Some(Act::Given { given, figure: GivenFigure { figure, source } }) => {
            Some(GivenLine { name: *given, figure: *figure, source: source.clone() })
        }
        _ => None,
    };
    let GivenLine { name, figure, source } = fields.need("given", given_line, value.as_ref())?;
    Some(Act::Given { given: name, figure: GivenFigure { figure, source } })
}

pub(super) fn level(fields: &mut Fields<'_>, act: Option<&Act>) -> Option<Act> {
    let (value, insisted) = match act {
        Some(Act::Level { characteristic, levels, doubts }) => {
            (Some((*characteristic, levels.as_ref().clone())), Some(doubts))
        }
        _ => (None, None),
    };
    let taken = fields.need("level", levels, value.as_ref());
    let doubts = fields.row("doubts", text, insisted)?;
    let (characteristic, levels) = taken?;
    Some(Act::Level { characteristic, levels: Box::new(levels), doubts })
}
