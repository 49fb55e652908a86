//! The harness: a model, a pretended clock and disk, keys by name.

use asfound::domain::apply::apply;
use asfound::domain::decide::decide;
use asfound::domain::entry::Act;
use asfound::domain::id::Id;
use asfound::domain::inspection::{Inspection, Scene};
use asfound::domain::request::{Decision, Hand, Request};
use asfound::domain::stamp::Stamp;
use asfound::face::effect::{Answer, Effect, Fault, HomeFacts, Opened, Query};
use asfound::face::half::Half;
use asfound::face::input::Key;
use asfound::face::look::Look;
use asfound::face::message::{Message, Moment};
use asfound::face::model::{Model, Screen};
use asfound::face::reviewing::Reading;
use asfound::face::shelf::RecordShelf;
use asfound::face::update::update;
use asfound::face::writer::Shelf as _;
use asfound::records::clock::PretendedClock;
use asfound::records::store::{Draft, HalfForm, ReviewDraft, Store};

use super::demo;

/// Whether the pretended disk takes anything.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Disk {
    Works,
    Full,
}

pub(crate) struct Bench {
    pub(super) model: Model,
    pub(super) at: Moment,
    disk: Disk,
    waiting: Vec<u32>,
    pub(super) kept: usize,
    /// What was kept last, as it lies in the file.
    draft: Option<Draft>,
    begun: Option<HalfForm>,
    /// What a review has not sent.
    unsent: Option<Box<ReviewDraft>>,
    pub(super) status: Option<u8>,
    /// Keys pressed so far.
    pub(super) pressed: usize,
    /// A real folder in the place of the pretended answers.
    shelf: Option<RecordShelf>,
    pub(super) handed_over: usize,
}

impl Bench {
    fn new() -> Self {
        let at = Moment { stamp: demo::now(), millis: 1_000_000 };
        let model = Model::new((Look::PLAIN, Scene::Real), (80, 24), at);
        Self {
            model,
            at,
            disk: Disk::Works,
            waiting: Vec::new(),
            kept: 0,
            draft: None,
            begun: None,
            unsent: None,
            status: None,
            pressed: 0,
            shelf: None,
            handed_over: 0,
        }
    }

    /// The first screen.
    pub(super) fn home() -> Self {
        let mut bench = Self::new();
        bench.tell(Message::Answered(Box::new(Answer::Home(Ok(Box::new(demo::facts())))), bench.at));
        bench
    }

    /// The first screen over a folder, its own clock going with the keys'.
    pub(crate) fn over(folder: &std::path::Path) -> Self {
        let mut bench = Self::new();
        bench.model.scene = Store::at(folder).scene();
        let clock = std::sync::Arc::new(PretendedClock::at(demo::now()));
        bench.shelf = Some(RecordShelf::new(Store::at(folder), clock));
        bench.fetch(Query::Home);
        bench
    }

    /// The records of a folder that wait for a decision.
    pub(crate) fn reviewing(folder: &std::path::Path) -> Self {
        let mut bench = Self::over(folder);
        bench.fetch(Query::Waiting);
        bench
    }

    /// A record opened where its draft left it.
    pub(super) fn opened(opened: Opened) -> Self {
        Self::new().open(opened)
    }

    fn open(mut self, opened: Opened) -> Self {
        self.hear(Answer::Opened(Ok(Box::new(opened))));
        self.painted();
        self
    }

    /// The demonstration, at the first thing to be done in `step`.
    pub(super) fn at_step(step: &str) -> Self {
        Self::on(demo::up_to(step))
    }

    pub(crate) fn on(inspection: Inspection) -> Self {
        Self::opened(demo::fresh(inspection))
    }

    /// A record that was changed outside, from this entry on.
    pub(super) fn changed_outside(entry: u32) -> Self {
        let inspection = demo::up_to("bush.ts/clearance");
        Self::opened(Opened { outside: Some(entry), ..demo::fresh(inspection) })
    }

    /// Killed and started again: the record and the draft as they lie on the disk.
    pub(super) fn killed(self) -> Self {
        let Screen::Job(job) = self.model.screen else { panic!("no record is open") };
        let opened = Opened { draft: self.draft.clone().map(Box::new), ..demo::fresh(job.inspection) };
        Self { at: self.at, draft: self.draft, ..Self::new() }.open(opened)
    }

    /// Killed while an inspection was being begun, and started again.
    pub(super) fn killed_before_it_began(self) -> Self {
        let mut bench = Self::new();
        bench.begun = self.begun;
        bench.fetch(Query::Home);
        bench
    }

    /// Another size of the window.
    pub(super) fn sized(mut self, columns: u16, rows: u16) -> Self {
        self.tell(Message::Resized(columns, rows));
        self
    }

    /// From here on the disk takes nothing, or takes everything again.
    pub(super) fn disk(mut self, disk: Disk) -> Self {
        self.disk = disk;
        self
    }

    /// So many minutes later.
    pub(super) fn later(mut self, minutes: i64) -> Self {
        let stamp: Stamp = (self.at.stamp.moment() + chrono::Duration::minutes(minutes)).into();
        self.at = Moment { stamp, millis: self.at.millis + u64::try_from(minutes).unwrap() * 60_000 };
        self.tell(Message::Woke(self.at));
        self
    }

    /// Keys by hand: names apart by blanks, a tenth of a second between them, each on the screen before the next; a second
    /// before Enter, to read what it says.
    pub(crate) fn keys(mut self, names: &str) -> Self {
        for name in names.split_whitespace() {
            let key = Key::parse(name).unwrap_or_else(|| panic!("no key is called {name}"));
            self.pass(if key == Key::Enter { 1000 } else { 0 });
            self.key(key);
            self.pass(60);
            self.tell(Message::Woke(self.at));
        }
        self
    }

    /// Letters by hand.
    pub(crate) fn typed(mut self, text: &str) -> Self {
        for letter in text.chars() {
            self.pass(60);
            self.key(Key::Char(letter));
        }
        self
    }

    /// What a gauge with a cable types: a figure and Enter.
    pub(super) fn gauge(self, text: &str) -> Self {
        self.burst(&format!("{text}\n"))
    }

    /// Letters and Enters two milliseconds after one another.
    pub(super) fn burst(mut self, text: &str) -> Self {
        self.pass(500);
        let key = |letter| match letter {
            '\n' => Key::Enter,
            '\r' => Key::Ctrl('j'),
            '\t' => Key::Tab,
            letter => Key::Char(letter),
        };
        for key in text.chars().map(key) {
            let at = self.at;
            self.effects(Message::Key(key, at));
            // what comes in one piece with Enter has its time
            self.pass(if matches!(key, Key::Enter | Key::Ctrl(_)) { 0 } else { 2 });
        }
        self.painted();
        self.pass(30);
        self.tell(Message::Woke(self.at));
        self.pass(500);
        self
    }

    /// Keys read before the screen was drawn again.
    pub(super) fn ahead(mut self, names: &str) -> Self {
        for name in names.split_whitespace() {
            self.pass(60);
            let at = self.at;
            self.effects(Message::Key(Key::parse(name).unwrap(), at));
        }
        self.painted();
        self
    }

    pub(super) fn paste(mut self, text: &str) -> Self {
        let at = self.at;
        self.tell(Message::Paste(text.to_owned(), at));
        self
    }

    fn key(&mut self, key: Key) {
        self.pressed += 1;
        self.pass(60);
        let at = self.at;
        self.tell(Message::Key(key, at));
    }

    pub(super) fn pass(&mut self, millis: u64) {
        self.at.millis += millis;
    }

    /// The clock never stands before what a record holds already.
    fn hear(&mut self, answer: Answer) {
        if let Answer::Opened(Ok(opened)) = &answer {
            self.at.stamp = opened.inspection.entries().last().map_or(self.at.stamp, |last| last.at.max(self.at.stamp));
        }
        self.effects(Message::Answered(Box::new(answer), self.at));
    }

    pub(super) fn tell(&mut self, message: Message) {
        self.effects(message);
        self.painted();
    }

    fn painted(&mut self) {
        drop(self.screen());
        self.effects(Message::Painted(self.at));
    }

    fn effects(&mut self, message: Message) {
        for effect in update(&mut self.model, message) {
            self.perform(effect);
        }
    }

    fn perform(&mut self, effect: Effect) {
        match effect {
            Effect::Save(entries) => {
                if let Some(fault) = self.shelf.as_mut().and_then(|shelf| shelf.append(&entries).err()) {
                    return self.effects(Message::NotSaved(fault));
                }
                self.waiting.extend(entries.iter().map(|entry| entry.number));
                self.save();
            }
            Effect::Retry => self.save(),
            Effect::Keep(half) => {
                self.kept += 1;
                let shelf = self.shelf.as_ref().filter(|_| matches!(half, Half::Review(..) | Half::Paper(..)));
                if let Some(shelf) = shelf {
                    shelf.keeper().keep(&half);
                }
                match half {
                    Half::Job(_, draft) => self.draft = Some(*draft),
                    Half::Begin(answers) => self.begun = answers,
                    Half::Review(_, draft) => self.unsent = draft,
                    Half::Paper(..) => {}
                }
            }
            Effect::Ask(query) => self.fetch(*query),
            Effect::HandOver(query) => {
                self.handed_over += 1;
                self.fetch(*query);
            }
            Effect::PutDown => {
                if let Some(shelf) = &mut self.shelf {
                    shelf.put_down();
                }
            }
            Effect::End(status) => self.status = Some(status),
        }
    }

    fn save(&mut self) {
        let Some(last) = self.waiting.last().copied() else { return };
        let message = match self.disk {
            Disk::Works => {
                self.waiting.clear();
                Message::Saved(last)
            }
            Disk::Full => {
                let what = "No space is left where the records lie.".to_owned();
                Message::NotSaved(Fault { what, mend: "Make room, or go on in another folder.".to_owned() })
            }
        };
        self.effects(message);
    }

    fn fetch(&mut self, query: Query) {
        if let Some(shelf) = &mut self.shelf {
            let answer = shelf.fetch(&query, &[]);
            return self.hear(answer);
        }
        let answer = match query {
            Query::Home => Answer::Home(Ok(Box::new(HomeFacts { begun: self.begun.clone(), ..demo::facts() }))),
            Query::Open(_) | Query::OpenAs(..) => Answer::Opened(Ok(Box::new(demo::fresh(demo::begun())))),
            Query::Read(..) => Answer::Read(Ok(Box::new(demo::reading(demo::begun())))),
            Query::Verify(_) => Answer::Verified(vec!["+ The chain holds through all 424 entries.".to_owned()]),
            Query::Waiting => Answer::Waiting(Ok((Vec::new(), Vec::new()))),
            Query::Deed { by, acts, .. } => Answer::Deed(self.put(&by, acts)),
            Query::Begin(_) => Answer::Opened(Ok(Box::new(demo::fresh(Inspection::new(demo::head()))))),
            Query::Move(folder) | Query::Copy(folder) => {
                self.disk = Disk::Works;
                Answer::Elsewhere(Ok(folder))
            }
            Query::Photo(_) => Answer::Photo(Err(Fault { what: "No picture.".into(), mend: "Type its path.".into() })),
            Query::Register(_) | Query::Fill(..) | Query::Discard(..) | Query::Put(_) | Query::KeyOf(..) => {
                panic!("over a folder: Bench::over")
            }
            Query::Key(entry, _) => Answer::Key(Ok(format!("Signed by key: {entry}.sig, beside the record."))),
            Query::Seal => Answer::Seal(Ok(demo::seal())),
        };
        let moved = matches!(answer, Answer::Elsewhere(_));
        self.hear(answer);
        if moved {
            self.save();
        }
    }

    /// What is done with a record under review, as the shelf does it.
    fn put(&self, by: &Id, acts: Vec<Act>) -> Result<Box<Reading>, Fault> {
        let Screen::Review(review) = &self.model.screen else { panic!("no record is under review") };
        let mut inspection = review.reading.inspection.clone();
        let hand = Hand { by: by.clone(), writer: None, at: self.at.stamp, late: None, break_hours: 10_000 };
        for act in acts {
            match decide(&inspection, &Request::Do(act), &hand) {
                Decision::Take(entry) => drop(apply(&mut inspection, *entry)),
                Decision::Refuse(refusal) => {
                    return Err(Fault { what: refusal.kind.what(), mend: refusal.kind.mend() });
                }
                Decision::Ask { .. } => panic!("no review answers a question"),
            }
        }
        Ok(Box::new(demo::reading(inspection)))
    }

    /// A record to read, from its first page.
    pub(crate) fn reading(inspection: Inspection) -> Self {
        let mut bench = Self::new();
        let reading = Box::new(demo::reading(inspection));
        bench.tell(Message::Answered(Box::new(Answer::Read(Ok(reading))), bench.at));
        bench
    }

    /// Killed in the middle of a review, and started again on the same record.
    pub(super) fn killed_in_review(self) -> Self {
        let Screen::Review(review) = self.model.screen else { panic!("no record is under review") };
        let mut bench = Self::new();
        let reading = Reading { unsent: self.unsent.map(|draft| *draft), ..demo::reading(review.reading.inspection) };
        bench.tell(Message::Answered(Box::new(Answer::Read(Ok(Box::new(reading)))), bench.at));
        bench
    }
}
