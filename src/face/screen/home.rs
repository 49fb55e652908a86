//! The first screen: what to go on with, what waits for somebody, what is due next and why, everything else.

use crate::records::store::HalfForm;

use super::super::action::{Action, Scope};
use super::super::effect::{Effect, HomeFacts, Query};
use super::super::form::Go;
use super::super::input::Key;
use super::super::look::Tone;
use super::super::model::{Model, Screen};
use super::super::pen::{Pen, width, wrap};
use super::super::widget::{keybar, listing};
use super::{begin, bench, registers, way};

/// So many due lines leave room for what is wrong; `asfound due` prints them all.
const MOST_DUE: usize = 3;
/// So many soaks of one inspection, the most pressing ones, stand here; the others are in it.
const MOST_SOAKS: usize = 2;

/// So many forms left half done are named; the others are counted, and stand in their lists.
const MOST_HALF_DONE: usize = 2;

/// What a line opens.
#[derive(Debug, Clone, PartialEq, Eq)]
enum Opens {
    /// A record's file, to go on with.
    Record(String),
    /// A record's file, to read.
    Reading(String),
    /// A new inspection, of this rotor where one is named.
    Begin(Option<String>),
    /// Records that wait for a decision.
    Review,
    /// People, instruments, limits sheets.
    Registers,
}

/// The first screen.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Home {
    /// What the files say.
    pub facts: HomeFacts,
    marked: usize,
}

impl Home {
    /// With its first line marked.
    pub fn new(facts: HomeFacts) -> Self {
        Self { facts, marked: 0 }
    }

    /// Marks a line; says whether there is one.
    pub fn mark(&mut self, line: usize) -> bool {
        let there = line < self.lines().len();
        if there {
            self.marked = line;
        }
        there
    }

    /// Whether beginning stands first: nothing is begun and nothing waits.
    fn begins(&self) -> bool {
        self.facts.going.is_empty() && self.facts.waiting.is_empty()
    }

    fn lines(&self) -> Vec<Opens> {
        let going = self.facts.going.iter().map(|one| Opens::Record(one.file.clone()));
        let waiting = self.facts.waiting.iter().map(|one| {
            let opens = if one.is_returned { Opens::Record } else { Opens::Reading };
            opens(one.file.clone())
        });
        let due = self.facts.due.iter().take(MOST_DUE).map(|one| Opens::Begin(Some(one.rotor.clone())));
        let mut lines: Vec<_> = going.chain(waiting).chain(due).collect();
        let at = if self.begins() { 0 } else { lines.len() };
        lines.insert(at, Opens::Begin(None));
        lines.extend([Opens::Review, Opens::Registers]);
        lines
    }
}

/// Keys of the first screen.
pub fn act(model: &mut Model, action: Action, key: Key) -> Vec<Effect> {
    let Screen::Home(home) = &mut model.screen else { return Vec::new() };
    if action == Action::Line {
        let last = home.lines().len().saturating_sub(1);
        home.marked = match way(key) {
            Go::Back => home.marked.saturating_sub(1),
            Go::On => (home.marked + 1).min(last),
        };
        return Vec::new();
    }
    if action == Action::First {
        model.say(
            Tone::Plain,
            "F1 shows the keys. Inspections are opened by their digit; everything else of one is under Esc there.",
        );
        return Vec::new();
    }
    if action != Action::Open {
        return Vec::new();
    }
    match home.lines().into_iter().nth(home.marked) {
        Some(Opens::Record(file)) => vec![Effect::Ask(Box::new(Query::Open(file)))],
        Some(Opens::Reading(file)) => vec![Effect::Ask(Box::new(Query::Read(file, None)))],
        Some(Opens::Begin(rotor)) => {
            let facts = home.facts.clone();
            begin::open(model, facts, rotor.as_deref());
            Vec::new()
        }
        Some(Opens::Review) => vec![Effect::Ask(Box::new(Query::Waiting))],
        Some(Opens::Registers) => registers::open(model),
        None => Vec::new(),
    }
}

/// ```text
///  asfound                 INVENTED DEMONSTRATION             12 July 2024, 14:05
///
///  GO ON
///  1  DEMO-1   overhaul, begun today by fitter A              step 31 of 62
///              stopped at: bush turbine side, inner 0, third UP, 0.23 in the field
///              nozzle ring soaking: time over at 15:40, 1 h 35 from now
///
///  WAITING FOR SOMEONE
///  2  DEMO-2   bearing inspection, 8 June    came back from supervisor B: 2 remarks
///
///  DUE NEXT
///  3  DEMO-3   air filter                                           16 July 2024
///              every 6 weeks, by date
///
///  4  begin an inspection
///  5  review: read a record, judge it, countersign it or send it back
///  6  people, instruments, limits sheets, rotors, own checklists
///  ! D1 is 30 days past its date
///  saved in /home/bench/asfound
///  digit, or arrows and Enter, opens        Ctrl-Q leave
/// ```
pub fn view(pen: &mut Pen<'_>, model: &Model, home: &Home) {
    begin::head(pen, "asfound", home.facts.scene, model.now.stamp);
    let end = pen.width().saturating_sub(1);
    let mut folder = folder(&home.facts, end);
    if pen.height() < LOW {
        // where the files lie can be read in a larger window too; what can be opened comes first
        folder.truncate(1);
    }
    // a row is left for what is wrong, where something is
    let room = pen.height().saturating_sub(5 + folder.len() + usize::from(!home.facts.wrong.is_empty()));
    let wide = rows(home, pen.width(), Spacing::Wide);
    let (all, gap) = if wide.len() < room { (wide, 1) } else { (rows(home, pen.width(), Spacing::Close), 0) };
    let y = 2 + gap + draw(&mut pen.rows(2, room), &all, home.marked);
    let room = pen.height().saturating_sub(3 + folder.len());
    for (row, line) in wrong(&home.facts.wrong, end, room.saturating_sub(y)).iter().enumerate() {
        pen.put(1, y + row, line, Tone::Bad);
    }
    let below = pen.height().saturating_sub(1);
    for (row, line) in folder.iter().rev().enumerate() {
        pen.put(1, below.saturating_sub(3 + row), line, Tone::Quiet);
    }
    pen.right(1, below.saturating_sub(3), &home.facts.room, Tone::Quiet);
    bench::said_line(pen, (below.saturating_sub(2), 2), model);
    keybar::draw(pen, below, Scope::Home);
}

/// Rows below which the folder is told in one.
const LOW: usize = 14;

/// Where the files lie, whole, with room beside the last line for what is free on the disk.
fn folder(facts: &HomeFacts, columns: usize) -> Vec<String> {
    let mut lines = wrap(&format!("files in {}", facts.folder), columns.saturating_sub(1));
    if lines.last().is_some_and(|last| width(last) + width(&facts.room) + 3 > columns) {
        lines.push(String::new());
    }
    lines
}

/// What is wrong, each whole; what does not fit is counted.
fn wrong(all: &[String], columns: usize, room: usize) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for (number, one) in all.iter().enumerate() {
        let rows = wrap(one, columns.saturating_sub(3));
        let marked = |(row, line): (usize, &String)| format!("{} {line}", if row == 0 { '!' } else { ' ' });
        let last = number + 1 == all.len();
        if lines.len() + rows.len() + usize::from(!last) > room {
            // of the first as much as there is room for: a number alone says nothing
            let begun = if lines.is_empty() { room.saturating_sub(1) } else { 0 };
            lines.extend(rows.iter().take(begun).enumerate().map(marked));
            let more = "asfound check lists all that is wrong";
            lines.push(match begun {
                0 => format!("! {} more: {more}", all.len() - number),
                _ => format!("  … and so on, {} in all: {more}", all.len()),
            });
            break;
        }
        lines.extend(rows.iter().enumerate().map(marked));
    }
    lines
}

/// One row of the screen.
enum Row {
    Title(&'static str),
    Blank,
    /// A line with its digit: what it opens, and what stands at the right.
    Entry(usize, String, String),
    /// More of the entry above.
    Below(String, Tone),
}

/// How much room the rows take.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Spacing {
    /// A blank row behind each heading's lines, and why something is due in a row of its own.
    Wide,
    /// Neither.
    Close,
}

/// Every row, whether there is room for it or not.
fn rows(home: &Home, columns: usize, spacing: Spacing) -> Vec<Row> {
    let mut rows = Rows { lines: Vec::new(), entries: 0, columns, spacing };
    let begin = "begin an inspection: rotor, hours and a name";
    let answered = |begun: &HalfForm| begun.answers.iter().any(|answer| !answer.is_empty());
    let half = if home.facts.begun.as_ref().is_some_and(answered) { "half answered" } else { "" };
    if home.begins() {
        rows.entry(begin, half, Tone::Plain);
        if home.facts.known.rotors.is_empty() {
            let first = "machine type, rotor and gauges may be entered before, under 3".to_owned();
            rows.lines.push(Row::Below(first, Tone::Quiet));
        }
        rows.blank();
    }
    rows.going(&home.facts);
    rows.waiting(&home.facts);
    rows.due(&home.facts);
    if !home.begins() {
        rows.entry(begin, half, Tone::Plain);
    }
    rows.entry("review: read a record, judge it, countersign it or send it back", "", Tone::Plain);
    rows.entry("people, instruments, limits sheets, rotors, own checklists", "", Tone::Plain);
    let half_done = &home.facts.half_done;
    let more = half_done.len().saturating_sub(MOST_HALF_DONE);
    let named: Vec<_> =
        half_done.iter().take(MOST_HALF_DONE).cloned().chain((more > 0).then(|| format!("{more} more"))).collect();
    if !named.is_empty() {
        rows.below(&format!("half done: {}; open it", named.join("; ")), Tone::Watch);
    }
    rows.lines
}

/// From so many rows on both ends say what is out of sight.
const FEW: usize = 6;

/// Draws the rows that fit, the marked one among them, and counts the others; says how many rows were used.
fn draw(pen: &mut Pen<'_>, rows: &[Row], marked: usize) -> usize {
    let room = pen.height();
    let is_marked = |row: &Row| matches!(row, Row::Entry(number, ..) if *number == marked);
    let at = rows.iter().position(is_marked).unwrap_or(0);
    // one row at each end says how many are out of sight; where there are few rows, the last one alone
    let few = room < FEW;
    let first = match rows.len() {
        all if all <= room => 0,
        _ if few => (at + 2).saturating_sub(room.max(2)),
        all => (at + 4).saturating_sub(room).min(all - room),
    };
    for (y, row) in rows.iter().skip(first).take(room).enumerate() {
        put(pen, y, row, marked);
    }
    let below = rows.len().saturating_sub(first + room);
    let hidden = if few {
        [(0, 0), (room.saturating_sub(1), first + below)]
    } else {
        [(0, first), (room.saturating_sub(1), below)]
    };
    for (y, hidden) in hidden.into_iter().filter(|(y, hidden)| *hidden > 0 && (*y > 0 || !few)) {
        pen.wash(y, Tone::Plain);
        pen.put(1, y, &format!("... {} rows more: arrows", hidden + 1), Tone::Quiet);
    }
    rows.len().min(room)
}

fn put(pen: &mut Pen<'_>, y: usize, row: &Row, marked: usize) {
    match row {
        Row::Title(words) => drop(pen.put(1, y, words, Tone::Strong)),
        Row::Blank => {}
        Row::Entry(number, words, right) => {
            let here = *number == marked;
            let tone = if here { Tone::Here } else { Tone::Plain };
            if here {
                pen.wash(y, Tone::Here);
            }
            let digit = listing::digit(*number).map_or(" ".to_owned(), |digit| digit.to_string());
            pen.put(1, y, &digit, if here { Tone::Here } else { Tone::Key });
            let x = pen.right(1, y, right, tone);
            pen.cut_in((4, y), words, x.saturating_sub(1), tone);
        }
        Row::Below(words, tone) => drop(pen.put(14, y, words, *tone)),
    }
}

struct Rows {
    lines: Vec<Row>,
    entries: usize,
    columns: usize,
    spacing: Spacing,
}

impl Rows {
    fn blank(&mut self) {
        if self.spacing == Spacing::Wide {
            self.lines.push(Row::Blank);
        }
    }

    /// A line with its digit, and what stands at its right; what does not fit goes on below.
    fn entry(&mut self, words: &str, right: &str, tone: Tone) {
        let columns = self.columns.saturating_sub(7);
        let beside = width(words) + width(right) + 2 <= columns;
        let fits = |at: &usize| words.get(..*at).is_some_and(|begin| width(begin) <= columns);
        let blanks = words.match_indices(' ').map(|(at, _)| at);
        let end = blanks.chain([words.len()]).filter(fits).max().unwrap_or(words.len());
        let (first, rest) = words.split_at(end);
        let at_right = if beside { right } else { "" };
        self.lines.push(Row::Entry(self.entries, first.to_owned(), at_right.to_owned()));
        self.entries += 1;
        for (rest, tone) in [(rest.trim(), Tone::Plain), (if beside { "" } else { right }, tone)] {
            if !rest.is_empty() {
                self.below(rest, tone);
            }
        }
    }

    fn below(&mut self, words: &str, tone: Tone) {
        let lines = wrap(words, self.columns.saturating_sub(15));
        self.lines.extend(lines.into_iter().map(|line| Row::Below(line, tone)));
    }

    fn going(&mut self, facts: &HomeFacts) {
        if facts.going.is_empty() {
            return;
        }
        self.lines.push(Row::Title("GO ON"));
        for one in &facts.going {
            self.entry(&format!("{:<9} {}", one.rotor, one.what), &one.step, Tone::Plain);
            if let Some(stopped) = &one.stopped {
                self.below(stopped, Tone::Strong);
            }
            for soak in one.soaks.iter().take(MOST_SOAKS) {
                self.below(soak, Tone::Watch);
            }
            let more = one.soaks.len().saturating_sub(MOST_SOAKS);
            if more > 0 {
                self.below(&format!("and {more} more: open it"), Tone::Watch);
            }
        }
        self.blank();
    }

    fn waiting(&mut self, facts: &HomeFacts) {
        if facts.waiting.is_empty() {
            return;
        }
        self.lines.push(Row::Title("WAITING FOR SOMEONE"));
        for one in &facts.waiting {
            self.entry(&format!("{:<9} {}", one.rotor, one.what), &one.whom, Tone::Watch);
        }
        self.blank();
    }

    fn due(&mut self, facts: &HomeFacts) {
        if facts.due.is_empty() {
            return;
        }
        self.lines.push(Row::Title("DUE NEXT"));
        for one in facts.due.iter().take(MOST_DUE) {
            let words = format!("{:<9} {}", one.rotor, one.what);
            let hours = if one.hours == "-" { String::new() } else { format!("{}, ", one.hours) };
            let over = one.overdue.as_ref().map(|over| format!("X overdue by {over}"));
            let because = format!("{hours}{}", one.because);
            match (self.spacing, over) {
                (Spacing::Close, over) => {
                    let date = over.as_ref().unwrap_or(&one.date);
                    self.entry(&format!("{words}, {because}"), date, Tone::Plain);
                }
                (Spacing::Wide, Some(over)) => {
                    self.entry(&words, &one.date, Tone::Plain);
                    self.below(&format!("{over}; {because}"), Tone::Bad);
                }
                (Spacing::Wide, None) => {
                    self.entry(&words, &one.date, Tone::Plain);
                    self.below(&because, Tone::Plain);
                }
            }
        }
        self.blank();
    }
}

#[cfg(test)]
mod tests;
