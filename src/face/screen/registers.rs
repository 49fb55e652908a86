//! People, instruments, limits sheets, rotors, own checklists: which there are, and each filled in.

mod form;
mod hand;

use chrono::NaiveDate;

use crate::domain::inspection::Scene;
use crate::domain::person::Person;
use crate::records::checklist_file::built_in_names;
use crate::records::instrument_file::read_instrument;
use crate::records::paper::Kind;
use crate::records::store::Leaf;

use super::super::action::{Action, Scope};
use super::super::effect::{Effect, Fault, PaperPut, Query, Register};
use super::super::filling::{Filling, Wanted};
use super::super::form::Go;
use super::super::input::Key;
use super::super::look::Tone;
use super::super::model::{Model, Screen};
use super::super::pen::{Pen, wrap};
use super::super::update::to_home;
use super::super::widget::{keybar, listing};
use super::bench::first_word;
use super::gauge::fitness;
use super::{bench, way};

/// The registers.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Registers {
    register: Register,
    view: View,
    marked: usize,
}

/// What of them is shown.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
enum View {
    /// The five kinds.
    #[default]
    Kinds,
    /// The files of a kind.
    Files(Kind),
    /// Who types a sheet the second time: the sheet's place among the files.
    Who(usize),
    /// Whether the draft of one of them is thrown away: its place among the files.
    Discard(usize),
    /// One of them.
    Filling(Box<Filling>),
    /// Who types what stands in the field of a sheet.
    Hand(Box<Filling>),
    /// Where two entries of a sheet differ.
    Differ(Box<Filling>, Vec<Wanted>),
    /// What a form left half done still wants.
    Wanted(Box<Filling>, Vec<Wanted>),
}

/// What a line of the files opens.
enum Opens {
    Leaf(usize),
    Second(usize),
    /// The draft goes.
    Discard(usize),
    New,
    /// A copy of one of the program's own.
    Copy(&'static str),
}

impl Registers {
    /// Printable keys go into a field.
    pub fn has_field(&self) -> bool {
        matches!(self.view, View::Filling(_))
    }

    /// The field, when one is open.
    pub fn filling_mut(&mut self) -> Option<&mut Filling> {
        if let View::Filling(filling) = &mut self.view { Some(filling) } else { None }
    }

    /// The file that is filled in.
    pub fn filling(&self) -> Option<&Filling> {
        if let View::Filling(filling) = &self.view { Some(filling) } else { None }
    }

    fn files(&self, kind: Kind) -> Vec<(String, Tone, Opens)> {
        let mut lines = Vec::new();
        for (number, leaf) in self.register.leaves.iter().enumerate() {
            let (words, tone) = said(kind, leaf, self.register.day);
            lines.push((words, tone, Opens::Leaf(number)));
            if leaf.draft.is_some() || leaf.typed.is_some() {
                let words = format!("{:<14} throw what is half done away", name_of(kind, leaf));
                lines.push((words, Tone::Plain, Opens::Discard(number)));
            }
            if kind == Kind::Sheet && leaf.text.is_some() {
                let begun = Filling::begun_by(leaf, &self.register.people).join(", ");
                let who = if begun.is_empty() { ", by somebody else" } else { &format!("; begun by {begun}") };
                let words = format!("{:<14} typed a second time, blind{who}", leaf.name);
                lines.push((words, Tone::Plain, Opens::Second(number)));
            }
        }
        if kind != Kind::People && !self.register.leaves.iter().any(|leaf| leaf.text.is_none()) {
            lines.push(("a new one".to_owned(), Tone::Plain, Opens::New));
        }
        let copy = |name| (format!("{name:<14} built in: a copy of your own"), Tone::Plain, Opens::Copy(name));
        lines.extend(built_in_names().filter(|_| kind == Kind::Checklist).map(copy));
        lines
    }

    fn lines(&self) -> Vec<(String, Tone)> {
        match &self.view {
            View::Kinds => Kind::ALL.into_iter().map(|kind| (kind.all().to_owned(), Tone::Plain)).collect(),
            View::Files(kind) => self.files(*kind).into_iter().map(|(words, tone, _)| (words, tone)).collect(),
            View::Who(sheet) => self.people(&self.begun_by(*sheet)),
            View::Hand(_) => self.people(&[]),
            View::Discard(_) => DISCARD.iter().map(|words| ((*words).to_owned(), Tone::Plain)).collect(),
            View::Differ(_, wanted) | View::Wanted(_, wanted) => {
                wanted.iter().map(|one| (one.words.clone(), Tone::Watch)).collect()
            }
            View::Filling(_) => Vec::new(),
        }
    }

    /// Everybody; whoever has begun goes on.
    fn people(&self, begun: &[&str]) -> Vec<(String, Tone)> {
        let line = |person: &Person| {
            let goes_on = if begun.iter().any(|by| person.is_called(by)) { ": goes on with what is begun" } else { "" };
            (format!("{:<14} {}{goes_on}", person.id.to_string(), person.name), Tone::Plain)
        };
        self.register.people.iter().map(line).collect()
    }

    /// Whoever has begun to type a sheet again.
    fn begun_by(&self, sheet: usize) -> Vec<&str> {
        let leaf = self.register.leaves.get(sheet);
        leaf.map(|leaf| Filling::begun_by(leaf, &self.register.people)).unwrap_or_default()
    }

    fn title(&self) -> String {
        match &self.view {
            View::Kinds => "people, instruments, limits sheets".to_owned(),
            View::Files(kind) => kind.all().to_owned(),
            View::Who(_) => "who types it the second time?".to_owned(),
            View::Discard(_) => "what is half done: throw it away?".to_owned(),
            View::Hand(_) => "who types this? asked once; it is kept in the sheet".to_owned(),
            View::Differ(..) => "the two entries differ: Enter goes there; Esc leaves, all is kept".to_owned(),
            View::Wanted(..) => "still wanted: Enter goes there; Esc leaves it as a draft, not in use".to_owned(),
            View::Filling(filling) => filling.grid().title,
        }
    }

    /// Marks a line; says whether there is one.
    pub fn mark(&mut self, line: usize) -> bool {
        let there = line < self.lines().len();
        if there {
            self.marked = line;
        }
        there
    }

    /// Where a key goes.
    pub fn scope(&self) -> Scope {
        if self.has_field() { Scope::Paper } else { Scope::Register }
    }
}

/// Nothing that was typed goes by a slip.
const DISCARD: [&str; 2] = ["keep it", "throw it away: what was typed there is gone, the file in use stays"];

/// What the lines of a file begin with.
fn name_of(kind: Kind, leaf: &Leaf) -> &str {
    if kind == Kind::People { "everybody" } else { &leaf.name }
}

/// A file in one line.
fn said(kind: Kind, leaf: &Leaf, day: NaiveDate) -> (String, Tone) {
    let name = name_of(kind, leaf);
    match (&leaf.text, leaf.draft.as_ref().or(leaf.typed.as_ref().map(|_| &leaf.name))) {
        (None, Some(_)) => (format!("{name:<14} ~ a draft left half done: go on with it"), Tone::Watch),
        (Some(_), Some(_)) => (format!("{name:<14} ~ in use as it was; a change is left half done"), Tone::Watch),
        (Some(text), None) => {
            let faults = kind.problems(&leaf.name, text).count();
            match faults {
                0 if leaf.older => (format!("{name:<14} ~ in use; an older change was left half done"), Tone::Watch),
                0 if kind == Kind::Instrument => of_a_gauge(name, text, day),
                0 => (name.to_owned(), Tone::Plain),
                _ => (format!("{name:<14} ! {faults} faults: cannot be used"), Tone::Bad),
            }
        }
        (None, None) => (format!("{name:<14} none yet"), Tone::Plain),
    }
}

/// `D1             dial gauge, 0 mm to 10 mm, ! 30 days past its date`.
fn of_a_gauge(name: &str, text: &str, day: NaiveDate) -> (String, Tone) {
    let Ok(gauge) = read_instrument(name, text.as_bytes()) else { return (name.to_owned(), Tone::Plain) };
    let (date, tone) = fitness(&gauge, day);
    let range = gauge.range.map(|(from, to)| format!("{from} to {to}"));
    let date = date.filter(|_| tone != Tone::Plain);
    let words: Vec<_> = [Some(gauge.kind.word().to_owned()), range, date].into_iter().flatten().collect();
    (format!("{name:<14} {}", words.join(", ")), tone)
}

/// Opens the registers.
pub fn open(model: &mut Model) -> Vec<Effect> {
    model.overlays.clear();
    let scene = if let Screen::Home(home) = &model.screen { home.facts.scene } else { Scene::Real };
    let register = Register { scene, ..Register::default() };
    model.screen = Screen::Registers(Box::new(Registers { register, ..Registers::default() }));
    Vec::new()
}

/// A kind's files have come.
pub fn came(model: &mut Model, register: Register) {
    if !matches!(model.screen, Screen::Registers(_)) {
        model.screen = Screen::Registers(Box::default());
    }
    let Screen::Registers(registers) = &mut model.screen else { return };
    registers.view = View::Files(register.kind);
    let (kind, wanted) = (register.kind, register.wanted.clone());
    registers.register = register;
    registers.marked = registers.marked.min(registers.lines().len().saturating_sub(1));
    let Some(wanted) = wanted else { return };
    let register = &registers.register;
    let named = register.leaves.iter().find(|leaf| leaf.name.eq_ignore_ascii_case(&wanted.name));
    let filling = named.map(|leaf| {
        let filling = match &wanted.second {
            Some(by) => Filling::second(leaf, by, &register.people),
            None => Filling::open(kind, leaf),
        };
        filling.map(|filling| filling.among(register))
    });
    fill(model, filling);
}

/// A file is on the disk, or is not.
pub fn put(model: &mut Model, put: &PaperPut, done: Result<(), Fault>) {
    let Err(fault) = done else { return };
    if let Screen::Registers(registers) = &mut model.screen
        && let Some(filling) = registers.filling_mut()
    {
        filling.not_saved(put);
    }
    model.say(Tone::Bad, format!("NOT saved, kept as a draft: {fault}"));
}

fn ask(kind: Kind) -> Vec<Effect> {
    vec![Effect::Ask(Box::new(Query::Register(kind)))]
}

/// Keys of the registers.
pub fn act(model: &mut Model, action: Action, key: Key) -> Vec<Effect> {
    let Screen::Registers(registers) = &mut model.screen else { return Vec::new() };
    if action == Action::Line && !registers.has_field() {
        let last = registers.lines().len().saturating_sub(1);
        registers.marked = match way(key) {
            Go::Back => registers.marked.saturating_sub(1),
            Go::On => (registers.marked + 1).min(last),
        };
        return Vec::new();
    }
    match (registers.view.clone(), action) {
        (View::Kinds, Action::Open) => {
            let kind = Kind::ALL.get(registers.marked).copied();
            registers.marked = 0;
            kind.map(ask).unwrap_or_default()
        }
        (View::Kinds, Action::Back) => to_home(model),
        (View::Files(_), Action::Back) => {
            registers.view = View::Kinds;
            registers.marked = 0;
            Vec::new()
        }
        (View::Files(kind), Action::Open) => chosen(model, kind),
        (View::Who(sheet), Action::Open) => {
            let by = registers.register.people.get(registers.marked).map(|person| person.id.to_string());
            second(model, sheet, &by.unwrap_or_default());
            Vec::new()
        }
        (View::Who(_), Action::Back) => ask(Kind::Sheet),
        (View::Discard(number), Action::Open | Action::Back) => {
            let kind = registers.register.kind;
            let goes = action == Action::Open && registers.marked > 0;
            let leaf = registers.register.leaves.get(number).filter(|_| goes);
            registers.marked = 0;
            let draft = leaf.map(|leaf| leaf.name.clone());
            draft.map_or_else(|| ask(kind), |draft| vec![Effect::Ask(Box::new(Query::Discard(kind, draft)))])
        }
        (View::Hand(filling), Action::Open | Action::Back) => {
            let who = registers.register.people.get(registers.marked).filter(|_| action == Action::Open);
            let who = who.map(|person| person.id.to_string());
            registers.view = View::Filling(filling);
            hand::typed_by(model, who.as_deref())
        }
        (View::Differ(mut filling, wanted) | View::Wanted(mut filling, wanted), Action::Open) => {
            if let Some(wanted) = wanted.get(registers.marked) {
                filling.go_to(wanted);
            }
            registers.view = View::Filling(filling);
            Vec::new()
        }
        (View::Differ(filling, _) | View::Wanted(filling, _), Action::Back) => ask(filling.paper.kind),
        (View::Filling(_), _) => hand::on_form(model, action, key),
        (_, _) => Vec::new(),
    }
}

fn chosen(model: &mut Model, kind: Kind) -> Vec<Effect> {
    let Screen::Registers(registers) = &mut model.screen else { return Vec::new() };
    let register = &registers.register;
    let filling = match registers.files(kind).into_iter().nth(registers.marked).map(|(_, _, opens)| opens) {
        Some(Opens::Leaf(number)) => register.leaves.get(number).map(|leaf| Filling::open(kind, leaf)),
        Some(Opens::New) => Some(Ok(Filling::new(kind))),
        Some(Opens::Copy(name)) => Some(Filling::copy(name)),
        Some(Opens::Discard(number)) => {
            registers.view = View::Discard(number);
            registers.marked = 0;
            return Vec::new();
        }
        Some(Opens::Second(number)) => {
            // asked each time: whoever sits here now need not be the one who began
            registers.view = View::Who(number);
            registers.marked = 0;
            return Vec::new();
        }
        None => None,
    };
    let filling = filling.map(|filling| filling.map(|filling| filling.among(register)));
    fill(model, filling);
    Vec::new()
}

fn second(model: &mut Model, sheet: usize, by: &str) {
    let Screen::Registers(registers) = &model.screen else { return };
    let register = &registers.register;
    let filling = register.leaves.get(sheet).map(|leaf| Filling::second(leaf, by, &register.people));
    let filling = filling.map(|filling| filling.map(|filling| filling.among(register)));
    fill(model, filling);
}

fn fill(model: &mut Model, filling: Option<Result<Filling, String>>) {
    match (filling, &mut model.screen) {
        (Some(Ok(filling)), Screen::Registers(registers)) => registers.view = View::Filling(Box::new(filling)),
        (Some(Err(why)), _) => model.say(Tone::Bad, why),
        (_, _) => {}
    }
}

/// ```text
///  instruments
///
///  1  D2             dial gauge, 0 mm to 1.0 mm
///  2  M7             ~ a draft left half done: go on with it
///  3  a new one
///
///  Enter open   Esc back   Ctrl-Q leave
/// ```
pub fn view(pen: &mut Pen<'_>, model: &Model, registers: &Registers) {
    let below = pen.height().saturating_sub(1);
    pen.wash(0, Tone::Title);
    let title = registers.title();
    let scene = registers.register.scene.mark();
    if let Some(filling) = registers.filling() {
        let state = filling.state();
        let x = pen.right(1, 0, &state, Tone::Title);
        let x =
            scene.map_or(x, |words| pen.right(pen.width().saturating_sub(x) + 2, 0, first_word(words), Tone::Invented));
        pen.cut_in((1, 0), &title, x.saturating_sub(1), Tone::Title);
        form::view(&mut pen.rows(1, below.saturating_sub(1)), model, filling);
    } else {
        let end = scene.map_or(pen.width(), |words| pen.right(1, 0, first_word(words), Tone::Invented));
        pen.cut_in((1, 0), &title, end.saturating_sub(1), Tone::Title);
        let lines = registers.lines();
        let marked = lines.get(registers.marked).map(|(words, _)| words.as_str()).unwrap_or_default();
        let whole = listing::whole(pen, marked);
        let room = below.saturating_sub(4 + whole.len());
        listing::draw(&mut pen.rows(2, room), 0, &lines, registers.marked);
        for (row, line) in whole.iter().enumerate() {
            pen.put(5, 2 + room + row, line, Tone::Strong);
        }
        if let View::Kinds = registers.view {
            let words = "Each is a plain file too, read by the same reader: what is typed here stands there, with every \
                    comment that somebody wrote in it.";
            for (row, line) in wrap(words, pen.width().saturating_sub(4)).iter().enumerate() {
                pen.put(3, 9 + row, line, Tone::Quiet);
            }
        }
        bench::said_line(pen, (below.saturating_sub(2), 2), model);
    }
    keybar::draw(pen, below, registers.scope());
}
