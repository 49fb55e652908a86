//! The loop: waits for a message, takes all that wait, updates for each, does what is asked, draws once.

use std::io;
use std::sync::Arc;
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, channel};
use std::thread;
use std::time::Duration;

use crate::domain::inspection::Scene;
use crate::records::clock::Clock;

use super::ear::{self, Painted};
use super::effect::{Effect, Query};
use super::input::Heard;
use super::look::Look;
use super::message::{Ending, Message, Moment};
use super::model::Model;
use super::terminal::{self, Outside, Taken};
use super::update::update;
use super::view::view;
use super::writer::{Order, Said, Shelf, Writer};

/// Longest wait for the writer when the program is asked to end by a key; a slow disk gets its time.
const PATIENCE: Duration = Duration::from_secs(10);
/// The same when a signal ends it: the terminal is wanted back.
const HURRY: Duration = Duration::from_millis(300);

/// What the clock shows now, and the count that never runs back.
fn moment(clock: &dyn Clock) -> Moment {
    Moment { stamp: clock.now(), millis: u64::try_from(clock.gone().as_millis()).unwrap_or(u64::MAX) }
}

/// Everything that comes through the one queue.
enum Event {
    /// No key is read before the hold is let go: another program may have the terminal until then.
    Heard(Heard, Moment, Option<Sender<Painted>>),
    Said(Said),
    Outside(Outside),
}

/// What the bench is opened with.
pub struct Opening {
    /// Colours and characters.
    pub look: Look,
    /// What the folder is for.
    pub scene: Scene,
    /// Where the records lie.
    pub shelf: Box<dyn Shelf>,
    /// What is fetched first.
    pub first: Query,
    /// Where the readings are, for the words of a panic.
    pub folder: String,
}

/// Runs the bench until it is left; hands back the exit status.
///
/// # Errors
/// What the system says when the terminal or a thread cannot be had.
pub fn run(opening: Opening, clock: &Arc<dyn Clock>) -> io::Result<u8> {
    terminal::give_back_on_panic(opening.folder);
    let (sender, queue) = channel();
    let writer = Writer::start(opening.shelf, sender.clone(), Event::Said)?;
    let taken = Taken::take()?;
    terminal::watch(sender.clone(), Event::Outside)?;
    read_keys(sender, Arc::clone(clock))?;
    let mut screen = terminal::screen()?;
    let size = screen.size().unwrap_or_default();
    let model = Model::new((opening.look, opening.scene), (size.width, size.height), moment(clock.as_ref()));
    let mut bench = Bench {
        model,
        writer,
        queue,
        clock: Arc::clone(clock),
        status: None,
        hurry: false,
        meanwhile: Vec::new(),
        holder: Holder::Bench,
        held: None,
    };
    bench.perform(vec![Effect::Ask(Box::new(opening.first))]);
    let status = bench.until_left(&mut screen);
    drop(taken);
    status
}

/// Reads keys on a thread of its own; each gets its time where it is read.
fn read_keys(sender: Sender<Event>, clock: Arc<dyn Clock>) -> io::Result<()> {
    thread::Builder::new().name("keys".to_owned()).spawn(move || {
        let now = || moment(clock.as_ref());
        ear::listen(&mut ear::Terminal, &now, &mut |(heard, at, hold)| {
            sender.send(Event::Heard(heard, at, hold)).is_ok()
        });
    })?;
    Ok(())
}

/// Takes the terminal over once more and paints over what the shell wrote meanwhile.
fn repaint(screen: &mut terminal::Screen) {
    if let (Ok(()), Ok(fresh)) = (Taken::again(), terminal::screen()) {
        *screen = fresh;
    }
}

/// Who has the terminal.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Holder {
    /// This program.
    Bench,
    /// Another one had it: it is to be taken back.
    Other,
}

struct Bench {
    model: Model,
    writer: Writer,
    queue: Receiver<Event>,
    clock: Arc<dyn Clock>,
    /// With which status it ends, once it was asked to.
    status: Option<u8>,
    hurry: bool,
    /// What came while another program had the terminal.
    meanwhile: Vec<Event>,
    /// Who has the terminal.
    holder: Holder,
    /// Holds the reader of keys until the question that an Enter has opened is on the screen.
    held: Option<Sender<Painted>>,
}

impl Bench {
    fn until_left(&mut self, screen: &mut terminal::Screen) -> io::Result<u8> {
        loop {
            // a terminal that takes no drawing is as good as gone; the watcher says so
            let drawn = screen.draw(|frame| view(&self.model, frame)).is_ok();
            self.tell(Message::Painted(moment(self.clock.as_ref())));
            if self.held.take().is_some_and(|held| held.send(Painted).is_err()) { /* the reader is gone: nobody is to be told */
            }
            let Some(first) = self.wait() else { continue };
            let mut batch = vec![first];
            batch.extend(self.queue.try_iter());
            for event in batch {
                self.take(event, screen);
                while self.holder == Holder::Other {
                    self.holder = Holder::Bench;
                    repaint(screen);
                    for event in std::mem::take(&mut self.meanwhile) {
                        self.take(event, screen);
                    }
                }
            }
            if self.status.is_some() {
                self.writer.finish(if self.hurry { HURRY } else { PATIENCE });
            }
            if let Some(status) = self.status
                && (!drawn || self.may_end(status))
            {
                return Ok(status);
            }
        }
    }

    /// The next event; `None` when the moment has come that the model asked for.
    fn wait(&mut self) -> Option<Event> {
        let patience = Duration::from_millis(self.model.wake_in());
        match self.queue.recv_timeout(patience) {
            Ok(event) => Some(event),
            Err(RecvTimeoutError::Timeout) => {
                self.tell(Message::Woke(moment(self.clock.as_ref())));
                None
            }
            Err(RecvTimeoutError::Disconnected) => Some(Event::Outside(Outside::Gone)),
        }
    }

    fn take(&mut self, event: Event, screen: &mut terminal::Screen) {
        let message = match event {
            Event::Heard(Heard::Key(key), at, hold) => {
                self.tell(Message::Key(key, at));
                self.held = hold.filter(|_| self.model.typing.is_unseen()).or(self.held.take());
                return;
            }
            Event::Heard(Heard::Paste(text), at, _) => Message::Paste(text, at),
            Event::Heard(Heard::Resized(columns, rows), ..) => Message::Resized(columns, rows),
            Event::Said(said) => self.said(said),
            Event::Outside(Outside::End(signal) | Outside::Interrupted(signal)) => {
                self.hurry = true;
                Message::Ended(Ending::Signal(signal))
            }
            Event::Outside(Outside::Gone) => {
                self.hurry = true;
                Message::Ended(Ending::Gone)
            }
            Event::Outside(Outside::Stop) => {
                terminal::give_back();
                // comes back when the program is called back
                terminal::stop_here();
                repaint(screen);
                return;
            }
            Event::Outside(Outside::Back) => {
                repaint(screen);
                return;
            }
        };
        self.tell(message);
    }

    fn said(&self, said: Said) -> Message {
        match said {
            Said::Saved(number) => Message::Saved(number),
            Said::NotSaved(fault) => Message::NotSaved(fault),
            Said::Answered(answer) => Message::Answered(answer, moment(self.clock.as_ref())),
        }
    }

    fn tell(&mut self, message: Message) {
        let effects = update(&mut self.model, message);
        self.perform(effects);
    }

    fn perform(&mut self, effects: Vec<Effect>) {
        for effect in effects {
            match effect {
                Effect::Save(entries) => self.writer.order(Order::Save(entries)),
                Effect::Retry => self.writer.order(Order::Retry),
                Effect::Keep(half) => self.writer.keep(half),
                Effect::Ask(query) => self.writer.order(Order::Ask(query)),
                Effect::HandOver(query) => self.hand_over(query),
                Effect::PutDown => self.writer.order(Order::PutDown),
                Effect::End(status) => self.status = Some(status),
            }
        }
    }

    /// Gives the terminal to another program until it has answered; what comes meanwhile is taken afterwards.
    fn hand_over(&mut self, query: Box<Query>) {
        terminal::give_back();
        self.holder = Holder::Other;
        // Ctrl-Z there would leave nobody who could call it back, and a passphrase typed then would be seen
        let quiet = terminal::without_stop_key();
        self.writer.order(Order::Ask(query));
        while let Ok(event) = self.queue.recv() {
            // Ctrl-C ends the other program alone, which answers then
            if let Event::Outside(Outside::Interrupted(_) | Outside::Stop | Outside::Back) = event {
                continue;
            }
            let is_end =
                matches!(event, Event::Said(Said::Answered(_)) | Event::Outside(Outside::End(_) | Outside::Gone));
            self.meanwhile.push(event);
            if is_end {
                break;
            }
        }
        drop(quiet);
    }

    /// Waits for the writer, and takes back the end when it says that something could not be saved.
    fn may_end(&mut self, status: u8) -> bool {
        let rest: Vec<Event> = self.queue.try_iter().collect();
        let failed = rest.into_iter().find_map(|event| match event {
            Event::Said(Said::NotSaved(fault)) => Some(fault),
            Event::Said(_) | Event::Heard(..) | Event::Outside(_) => None,
        });
        match failed {
            Some(fault) if !self.hurry && status == 0 => {
                self.status = None;
                self.tell(Message::NotSaved(fault));
                super::screen::saving::ways_out(&mut self.model);
                false
            }
            Some(_) | None => true,
        }
    }
}
