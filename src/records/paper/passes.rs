//! What a gauge can pass by each limits sheet of the workshop: told in its form, before any job begins.

use crate::domain::capability::{self, Capability};
use crate::domain::checklist::{Checklist, Takes};
use crate::domain::instrument::Instrument;
use crate::domain::judge::Condition;
use crate::domain::person::Person;
use crate::domain::rotor::Rotor;
use crate::domain::sheet::Sheet;
use crate::records::instrument_file::read_instrument;

use super::Paper;
use super::cell::{Cell, Column, Grid, Place, Row, To};
use super::kind::Kind;

/// What lies in the workshop beside a file that is filled in.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Beside {
    /// Every limits sheet.
    pub sheets: Vec<Sheet>,
    /// Every checklist, one's own and the program's.
    pub checklists: Vec<Checklist>,
    /// Every rotor.
    pub rotors: Vec<Rotor>,
    /// Everybody.
    pub people: Vec<Person>,
}

impl Beside {
    /// Every piece that the checklists know: its id, and what it is called.
    pub(super) fn pieces(&self) -> Vec<(&str, &str)> {
        let mut pieces: Vec<(&str, &str)> = Vec::new();
        for part in self.checklists.iter().flat_map(|checklist| &checklist.parts) {
            if part.stretch().is_none() && !pieces.iter().any(|(id, _)| *id == part.id) {
                pieces.push((&part.id, &part.name));
            }
        }
        pieces
    }

    /// What a part is called; its id where no checklist has it.
    pub(super) fn part_name<'a>(&'a self, id: &'a str) -> &'a str {
        let mut known = self.checklists.iter().filter_map(|checklist| checklist.part(id));
        known.next().map_or(id, |part| &part.name)
    }
}

/// A row for each sheet that says something of the gauge; none before the gauge's own file is complete.
pub(super) fn rows(paper: &Paper) -> Vec<Row> {
    let Some(gauge) = gauge(paper) else { return Vec::new() };
    let row = |sheet: &Sheet| {
        let all = of_sheet(paper, sheet, &gauge);
        let first = all.first()?;
        let name = called(paper, first);
        let more = if all.len() > 1 { format!(", {} more", all.len() - 1) } else { String::new() };
        let cell = Cell {
            hint: "what it can pass on this machine, before any reading".to_owned(),
            ..Cell::new(&format!("{name}: {}{more}", first.said()), To::Open(Place::Passes(sheet.id.clone())))
        };
        Some(Row::named(&format!("passes on {}", sheet.id), vec![cell]))
    };
    paper.beside.sheets.iter().filter_map(row).collect()
}

/// Everything that the gauge is asked for on one machine.
pub(super) fn grid(paper: &Paper, machine: &crate::domain::id::Id) -> Grid {
    let sheet = paper.beside.sheets.iter().find(|sheet| sheet.id == *machine);
    let all = sheet.zip(gauge(paper)).map(|(sheet, gauge)| of_sheet(paper, sheet, &gauge)).unwrap_or_default();
    let row = |one: &Capability| {
        let cell = Cell::new(&one.said(), To::Nothing);
        Row::named(&called(paper, one), vec![cell])
    };
    Grid {
        title: format!("{}: what it can pass on {machine}", paper.called()),
        columns: vec![Column { name: String::new(), width: 50 }],
        rows: all.iter().map(row).collect(),
        told: vec![
            "By its last calibration, part and gauge at one temperature. A job counts the temperatures it takes."
                .to_owned(),
        ],
    }
}

/// `bush, turbine: clearance`; what is judged on two parts is told apart.
fn called(paper: &Paper, one: &Capability) -> String {
    let id = one.characteristic.part();
    let known = paper.beside.checklists.iter().find_map(|checklist| checklist.part(id));
    format!("{}: {}", known.map_or(id, |part| &part.short), one.characteristic.name())
}

fn gauge(paper: &Paper) -> Option<Instrument> {
    let is_gauge = paper.kind == Kind::Instrument && paper.is_complete();
    is_gauge.then(|| read_instrument(&paper.name, paper.text.as_bytes()).ok())?
}

/// As found, each characteristic once, warnings first.
fn of_sheet(paper: &Paper, sheet: &Sheet, gauge: &Instrument) -> Vec<Capability> {
    // without a certificate any day does
    let Some(day) = gauge.calibrations.iter().map(|one| one.date).max().or(chrono::NaiveDate::from_ymd_opt(2000, 1, 1))
    else {
        return Vec::new();
    };
    let steps = paper.beside.checklists.iter().flat_map(|checklist| &checklist.steps);
    let asks = steps.filter(|step| {
        let kind = if let Takes::Readings(grid) = &step.takes { Some(grid.gauge) } else { None };
        kind == Some(gauge.kind) && step.condition() == Condition::AsFound
    });
    let mut all: Vec<Capability> = Vec::new();
    for one in asks.flat_map(|step| capability::by_sheet((sheet, day), step, gauge)) {
        if !all.iter().any(|known| known.characteristic == one.characteristic) {
            all.push(one);
        }
    }
    all.sort_by_key(|one| !one.warns());
    all
}
