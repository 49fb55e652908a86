//! A record to read, by somebody who was not there. What stands on the pages is chosen by `domain::review`; here they are
//! turned, opened and drawn. Reading changes nothing; what changes something is under Esc.

mod asks;
mod deeds;
mod first;
mod page;

use crate::domain::checklist::Signing;
use crate::domain::review::{Item, Page};
use crate::domain::signing;
use crate::domain::telling;
use crate::records::store::{HalfForm, ReviewDraft, Unsent};

use super::super::action::{Action, Scope};
use super::super::effect::{Effect, Fault, Query, Unread, Waits};
use super::super::field::Field;
use super::super::form::{Form, Go};
use super::super::half;
use super::super::input::Key;
use super::super::look::Tone;
use super::super::model::{Model, Overlay, Screen};
use super::super::pen::{Pen, width, wrap};
use super::super::reviewing::Reading;
use super::super::widget::keybar;
use super::help::Help;
use super::list::{List, Purpose};
use super::{scrolled, way};
use deeds::{Over, What};

pub use deeds::keyed;

/// A record to read.
#[derive(Debug, Clone)]
pub struct Review {
    /// It.
    pub reading: Reading,
    /// The page: 0 is the first, then those of the domain.
    page: usize,
    marked: usize,
    /// Lines of the evidence scrolled away.
    scroll: usize,
    /// The marked line alone, with all that it rests on.
    whole: bool,
    /// Remarks that were not sent yet.
    remarks: Vec<Unsent>,
    /// A form that was left half answered.
    aside: Option<HalfForm>,
    /// What was confirmed last, with its answers.
    asked: Option<(What, Form)>,
    /// What lies over the page.
    over: Option<Over>,
}

/// A record was read: shown from its first page, or where somebody left a form half answered.
pub fn opened(model: &mut Model, reading: Reading) {
    let ReviewDraft { remarks, form } = reading.unsent.clone().unwrap_or_default();
    let (whole, aside, asked, over) = (false, None, None, None);
    let mut review = Review { reading, page: 0, marked: 0, scroll: 0, whole, remarks, aside, asked, over };
    if let Some(form) = form {
        asks::reopen(&mut review, &form);
    }
    let (over, aside) = (review.over.is_some(), review.aside.is_some());
    model.screen = Screen::Review(Box::new(review));
    if over {
        model.say(Tone::Watch, "This was left half answered the last time. Esc goes to the record.");
    } else if aside {
        model.say(Tone::Watch, "A decision was left half answered: Esc, and its digit, goes on with it.");
    }
}

/// Something was put behind the record: it is shown as it reads now, at the same place. Only what was sent is not kept.
pub fn put(model: &mut Model, reading: Reading) -> Vec<Effect> {
    let last = reading.inspection.entries().last();
    let hands = last.map(|entry| telling::hands_of(&reading.inspection, entry)).unwrap_or_default();
    let Screen::Review(review) = &mut model.screen else { return Vec::new() };
    let known = review.reading.inspection.entries().len();
    let new = reading.inspection.entries().get(known..).unwrap_or_default();
    let said: Vec<_> = new.iter().map(|entry| telling::of_entry(&reading.inspection, entry)).collect();
    let words = format!("saved: {}, {hands}", said.join("; "));
    review.reads(reading);
    asks::done(review);
    review.over = None;
    model.say(Tone::Good, words);
    half::keep(model)
}

/// Nothing was put behind the record, for somebody has gone on with it: it is shown as it reads now, what came since is
/// said, and the last question is asked again.
pub fn grown(model: &mut Model, (reading, fault): (Reading, &Fault)) -> Vec<Effect> {
    let Screen::Review(review) = &mut model.screen else { return Vec::new() };
    review.reads(reading);
    review.over = None;
    let again = review.asked.take().map(|(what, form)| asks::finish(review, what, &form));
    let why_not = again.and_then(Result::err).map(|words| format!(" {words}")).unwrap_or_default();
    model.typing.question_opened();
    model.say(Tone::Bad, format!("{fault}{why_not}"));
    Vec::new()
}

/// The records that wait, to choose one; then what is wrong with those that cannot be read.
pub fn list(model: &mut Model, (waits, wrong): (Vec<Waits>, Vec<Unread>)) -> Vec<Effect> {
    if waits.is_empty() && wrong.is_empty() {
        model.screen = Screen::Wait("No record waits for a decision.".to_owned());
        return Vec::new();
    }
    let said = |one: &Waits| format!("{}{:<30} {}", one.mark(), one.inspection, one.words);
    let told = waits.iter().map(|one| (said(one), Tone::Plain));
    let unread = wrong.iter().map(|one| (format!("! cannot be read: {}", one.file), Tone::Bad));
    let lines = told.chain(unread).collect();
    let wrong = wrong.into_iter().map(|one| Err(format!("{}: {}", one.file, one.why)));
    let files = waits.into_iter().map(|one| Ok(one.file)).chain(wrong).collect();
    model.screen = Screen::Wait(String::new());
    model.open(Overlay::List(List::new("records that wait for a decision", lines, Purpose::Records(files))));
    Vec::new()
}

/// One of them was chosen; one that cannot be read is told whole.
pub fn chosen(model: &mut Model, list: List, files: &[Result<String, String>]) -> Vec<Effect> {
    match files.get(list.marked) {
        Some(Ok(file)) => {
            model.screen = Screen::Wait("reading the record".to_owned());
            vec![Effect::Ask(Box::new(Query::Read(file.clone(), None)))]
        }
        Some(Err(fault)) => {
            let lines: Vec<_> = fault.lines().map(str::to_owned).collect();
            model.overlays.push(Overlay::List(list));
            model.open(Overlay::Help(Help::text("a record that cannot be read", &lines)));
            Vec::new()
        }
        None => Vec::new(),
    }
}

/// Asks before somebody leaves who may think that remarks were sent; says whether it had to.
pub fn keeps(model: &mut Model) -> bool {
    let Screen::Review(review) = &mut model.screen else { return false };
    let asks = !review.remarks.is_empty() && !matches!(review.over, Some(Over::Leaving(_)));
    if asks {
        review.over = Some(Over::Leaving(0));
        model.typing.question_opened();
    }
    asks
}

impl Review {
    /// The record as it reads now, at the same place.
    fn reads(&mut self, reading: Reading) {
        self.reading = reading;
        self.marked = self.marked.min(self.lines().saturating_sub(1));
    }

    /// Where a key goes.
    pub fn scope(&self) -> Scope {
        match &self.over {
            None => Scope::Review,
            Some(Over::Menu(_) | Over::Pages(_)) => Scope::List,
            Some(Over::Form(..)) => Scope::Form,
            Some(Over::Confirm(_) | Over::Leaving(_)) => Scope::Question,
        }
    }

    /// What is kept until it is sent; none when there is nothing.
    pub fn draft(&self) -> Option<ReviewDraft> {
        let open = match &self.over {
            Some(Over::Form(what, form)) => asks::half_of(self, *what, form),
            Some(Over::Menu(_) | Over::Pages(_) | Over::Confirm(_) | Over::Leaving(_)) | None => None,
        };
        let form = open.or_else(|| self.aside.clone());
        let some = form.is_some() || !self.remarks.is_empty();
        some.then(|| ReviewDraft { remarks: self.remarks.clone(), form })
    }

    /// The field that is typed into.
    pub fn field_mut(&mut self) -> Option<(&mut Field, usize)> {
        if let Some(Over::Form(_, form)) = &mut self.over { form.field_mut() } else { None }
    }

    /// Marks a line; says whether there is one.
    pub fn mark(&mut self, line: usize) -> bool {
        let lines = match &self.over {
            Some(Over::Menu(_)) => deeds::menu(self).len(),
            Some(Over::Pages(_)) => self.pages(),
            Some(Over::Form(..) | Over::Confirm(_) | Over::Leaving(_)) => 0,
            None => self.lines(),
        };
        if line >= lines {
            return false;
        }
        match &mut self.over {
            Some(Over::Menu(marked) | Over::Pages(marked)) => *marked = line,
            Some(Over::Form(..) | Over::Confirm(_) | Over::Leaving(_)) => {}
            None => self.go_to(line),
        }
        true
    }

    fn pages(&self) -> usize {
        self.reading.review.pages.len() + 1
    }

    /// The page of the domain that is shown; none on the first.
    fn shown(&self) -> Option<&Page> {
        self.reading.review.pages.get(self.page.checked_sub(1)?)
    }

    /// The line under the cursor of a further page.
    fn item(&self) -> Option<&Item> {
        self.shown()?.items.get(self.marked)
    }

    /// Lines that can be marked.
    fn lines(&self) -> usize {
        match self.shown() {
            Some(page) => page.items.len(),
            // the parts that are not within, those that are, the counts
            None => self.reading.review.lines.len() + 2,
        }
    }

    fn go_to(&mut self, line: usize) {
        self.marked = line.min(self.lines().saturating_sub(1));
        self.scroll = 0;
    }

    fn turn_to(&mut self, page: usize) {
        self.page = page % self.pages();
        self.whole = false;
        self.go_to(0);
    }

    /// Enter: a line about a part goes to the part's page, a line of that page opens.
    fn open(&mut self) {
        if self.page > 0 {
            if let Some((page, line)) = self.on_its_page() {
                self.turn_to(page);
                self.go_to(line);
                return;
            }
            self.whole = !self.whole;
            self.scroll = 0;
            return;
        }
        let lines = &self.reading.review.lines;
        match (lines.get(self.marked), self.marked == lines.len()) {
            (Some(line), _) => self.turn_to(line.page + 1),
            (None, true) => self.over = Some(Over::Pages(0)),
            (None, false) => self.turn_to(1),
        }
    }

    /// Where a line that stands on no part's page has its figures: the page, and the line of the same step.
    fn on_its_page(&self) -> Option<(usize, usize)> {
        let item = self.item().filter(|_| self.shown().is_some_and(|page| page.part.is_none()))?;
        let pages = &self.reading.review.pages;
        let page = pages.iter().position(|page| page.part.is_some() && page.part == item.part)?;
        let lines = pages.get(page).map(|page| page.items.iter()).into_iter().flatten();
        let line = lines.enumerate().find(|(_, one)| one.step.is_some() && one.step == item.step);
        Some((page + 1, line.map_or(0, |(line, _)| line)))
    }

    /// So many lines on or back; the evidence where it is alone, else the cursor.
    fn step(&mut self, go: Go, by: usize) {
        let moved = |from: usize| match go {
            Go::Back => from.saturating_sub(by),
            Go::On => from + by,
        };
        if self.whole {
            self.scroll = moved(self.scroll);
        } else {
            self.go_to(moved(self.marked));
        }
    }
}

/// Keys of the review.
pub fn act(model: &mut Model, action: Action, key: Key) -> Vec<Effect> {
    let Screen::Review(review) = &mut model.screen else { return Vec::new() };
    if let Some(over) = review.over.take() {
        return deeds::act(model, over, action, key);
    }
    let go = way(key);
    if action == Action::Line {
        review.step(go, 1);
    }
    if action == Action::Further && review.page > 0 {
        review.scroll = scrolled(review.scroll, key, 8);
    } else if action == Action::Further {
        review.step(go, 5);
    }
    if action == Action::Next {
        let pages = review.pages();
        review.turn_to(if go == Go::Back { review.page + pages - 1 } else { review.page + 1 });
    }
    if action == Action::Open {
        review.open();
    }
    if action == Action::Else && review.whole {
        review.open();
    } else if action == Action::Else {
        review.over = Some(Over::Menu(0));
    }
    Vec::new()
}

/// ```text
/// #REVIEW DEMO-1, 2024-07-12   signed by fitter A, 16:20   176 saved, page 1 of 25#
///  (the page)
///  (what was said last)
///  Enter open   up, down move   Tab page   PgUp, PgDn scroll   Esc what else
/// ```
pub fn view(pen: &mut Pen<'_>, model: &Model, review: &Review) {
    title(pen, review);
    let below = pen.height().saturating_sub(1);
    let mut body = pen.rows(1, below.saturating_sub(2));
    match review.shown() {
        None => first::view(&mut body, review),
        Some(shown) => page::view(&mut body, review, shown),
    }
    if let Some(over) = &review.over {
        let columns = pen.width().min(100);
        deeds::view(&mut pen.part(0, 2, columns, below.saturating_sub(3)), review, over);
    }
    if model.said.is_none() && !review.remarks.is_empty() {
        let words = format!("remarks, not sent yet: {}. Esc 3 sends the record back", review.remarks.len());
        pen.put(3, below.saturating_sub(1), &words, Tone::Watch);
    }
    said(pen, below, model);
    keybar::draw(pen, below, model.scope());
}

/// What was said last, right above the footer, over the page where it takes more than a row.
fn said(pen: &mut Pen<'_>, below: usize, model: &Model) {
    let Some(said) = &model.said else { return };
    let lines = wrap(&said.text, pen.width().saturating_sub(4));
    let top = below.saturating_sub(lines.len());
    let mut room = pen.rows(top, lines.len());
    room.clear();
    for (row, line) in lines.iter().enumerate() {
        if said.tone == Tone::Alarm {
            room.wash(row, Tone::Alarm);
        }
        room.put(3, row, line, said.tone);
    }
}

fn title(pen: &mut Pen<'_>, review: &Review) {
    let inspection = &review.reading.inspection;
    let head = inspection.head();
    let signed = [Signing::Close, Signing::Decisions].map(|what| signing::standing_signature(inspection, what));
    let signed = signed.into_iter().flatten().next();
    let pending = signing::pending_in_words(inspection, &review.reading.kept.strange);
    let state = match (signed, pending) {
        (None, _) if !signing::open_remarks(inspection).is_empty() => "sent back".to_owned(),
        (None, _) => "not signed".to_owned(),
        (Some(_), Some(pending)) => pending.to_owned(),
        (Some(sign), None) => match signing::grown_since(inspection, sign) {
            signing::Signed::Whole => "countersigned".to_owned(),
            signing::Signed::Grown => "countersigned, entries since".to_owned(),
        },
    };
    // a warning stands before the state, and in the place of none
    let warned = if review.reading.review.warnings.is_empty() { "" } else { "SEE PAGE 1, " };
    let id = &head.rotor.id;
    let warned = [format!("{warned}{state}"), state];
    // page 1 warns anyhow: the rotor is not pushed out by that
    let state = warned.iter().find(|state| width(state) + id.as_str().len() + 5 <= pen.width()).unwrap_or(&warned[1]);
    pen.wash(0, Tone::Title);
    let saved = format!("{} saved", inspection.reading_count());
    let page = format!("{saved}, page {} of {}", review.page + 1, review.pages());
    // in a narrow window the state stands alone
    let pages = [page, saved, String::new()];
    let page = pages
        .into_iter()
        .find(|page| width(state) + width(page) + id.as_str().len() + 7 <= pen.width())
        .unwrap_or_default();
    let end = pen.right(1, 0, &page, Tone::Title);
    // what it waits for is never cut; the day gives way to it before the rotor does
    let from = end.saturating_sub(width(state) + 2);
    let room = from.saturating_sub(2);
    let titles = [format!("REVIEW {id}, {}", head.begun.date()), format!("REVIEW {id}"), id.to_string()];
    let title = titles.iter().find(|title| width(title) <= room).unwrap_or(&titles[2]);
    let x = pen.cut_in((1, 0), title, from.saturating_sub(1), Tone::Title);
    pen.put((x + 3).min(from), 0, state, Tone::Title);
}

/// What a sign is drawn in.
fn tone_of(sign: char) -> Tone {
    match sign {
        '+' => Tone::Good,
        'X' | '/' | '!' => Tone::Bad,
        '~' | '>' | '?' => Tone::Watch,
        '-' => Tone::Quiet,
        _ => Tone::Plain,
    }
}
