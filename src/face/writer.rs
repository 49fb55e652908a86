//! The thread that writes: takes all entries that wait in one save, keeps drafts, fetches what is asked for.

use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, channel};
use std::thread;
use std::time::Duration;

use crate::domain::entry::Entry;

use super::effect::{Answer, Fault, Query};
use super::half::Half;

/// The place where records lie. Everything here may be slow and may fail; nothing here is called by the drawing thread.
pub trait Shelf: Send {
    /// Answers a query; an opened record becomes the one that `append` writes to. Where the record goes elsewhere, the
    /// entries that wait go with it.
    fn fetch(&mut self, query: &Query, waiting: &[Entry]) -> Answer;

    /// Puts entries behind the record's own. Returning means: they are on the disk.
    ///
    /// # Errors
    /// Why none of them is in the record.
    fn append(&mut self, entries: &[Entry]) -> Result<(), Fault>;

    /// Who keeps what is half done: a slow save must not hold it up.
    fn keeper(&self) -> Box<dyn Keeper>;

    /// Puts the open record down.
    fn put_down(&mut self);
}

/// Keeps what is half done, on a thread of its own.
pub trait Keeper: Send {
    /// Keeps it, without waiting for the disk. What cannot be kept is told by the next save, which meets the same disk.
    fn keep(&mut self, half: &Half);
}

/// Something for the keeper.
enum Keep {
    Half(Half),
    End(Sender<()>),
}

/// Something for the writer.
#[derive(Debug)]
pub(super) enum Order {
    Save(Vec<Entry>),
    Retry,
    Ask(Box<Query>),
    PutDown,
    End(Sender<()>),
}

/// What the writer says.
#[derive(Debug)]
pub(super) enum Said {
    Saved(u32),
    NotSaved(Fault),
    Answered(Box<Answer>),
}

/// The desk of the writer: the shelf and the entries that are not on the disk yet.
pub(super) struct Desk {
    shelf: Box<dyn Shelf>,
    waiting: Vec<Entry>,
}

impl Desk {
    pub(super) fn new(shelf: Box<dyn Shelf>) -> Self {
        Self { shelf, waiting: Vec::new() }
    }

    /// Tries to save all that waits, in one save.
    pub(super) fn save(&mut self) -> Option<Said> {
        let last = self.waiting.last()?.number;
        Some(match self.shelf.append(&self.waiting) {
            Ok(()) => {
                self.waiting.clear();
                Said::Saved(last)
            }
            Err(fault) => Said::NotSaved(fault),
        })
    }

    /// Answers a query; where the record goes elsewhere, what waits goes with it.
    pub(super) fn fetch(&mut self, query: &Query) -> Vec<Said> {
        let answer = self.shelf.fetch(query, &self.waiting);
        let moved = matches!((&answer, query), (Answer::Elsewhere(Ok(_)), Query::Move(_)));
        let mut said = vec![Said::Answered(Box::new(answer))];
        if moved && let Some(last) = self.waiting.drain(..).next_back() {
            said.push(Said::Saved(last.number));
        }
        said
    }

    /// Does one order and says what came of it.
    pub(super) fn serve(&mut self, order: Order) -> Vec<Said> {
        match order {
            Order::Save(entries) => {
                self.waiting.extend(entries);
                Vec::new()
            }
            Order::Retry => self.save().into_iter().collect(),
            Order::Ask(query) => self.fetch(&query),
            Order::PutDown => {
                self.shelf.put_down();
                self.waiting.clear();
                Vec::new()
            }
            Order::End(done) => {
                if done.send(()).is_err() { /* nobody waits any more */ }
                Vec::new()
            }
        }
    }
}

/// The other end of the writer's queue.
pub(super) struct Writer {
    orders: Sender<Order>,
    halves: Sender<Keep>,
}

impl Writer {
    /// Starts the thread; what it says goes through `wrap` into the one queue of the program.
    ///
    /// # Errors
    /// What the system says when it gives no thread.
    pub(super) fn start<M: Send + 'static>(
        shelf: Box<dyn Shelf>,
        sender: Sender<M>,
        wrap: fn(Said) -> M,
    ) -> std::io::Result<Self> {
        let (orders, queue) = channel();
        let (halves, kept) = channel();
        let keeper = shelf.keeper();
        thread::Builder::new().name("keeper".to_owned()).spawn(move || keep(keeper, &kept))?;
        let desk = Desk::new(shelf);
        thread::Builder::new().name("writer".to_owned()).spawn(move || work(desk, &queue, &sender, wrap))?;
        Ok(Self { orders, halves })
    }

    pub(super) fn order(&self, order: Order) {
        // without its thread nothing can be written, and the screen goes on saying "NOT saved"
        drop(self.orders.send(order));
    }

    /// Keeps what is half done, whatever is being saved meanwhile.
    pub(super) fn keep(&self, half: Half) {
        drop(self.halves.send(Keep::Half(half)));
    }

    /// Waits until all that was ordered is done, but not for longer than `patience`.
    pub(super) fn finish(&self, patience: Duration) {
        let (kept, wait_kept) = channel();
        drop(self.halves.send(Keep::End(kept)));
        if let Err(RecvTimeoutError::Timeout | RecvTimeoutError::Disconnected) = wait_kept.recv_timeout(patience) {}
        let (done, wait) = channel();
        self.order(Order::End(done));
        if let Err(RecvTimeoutError::Timeout | RecvTimeoutError::Disconnected) = wait.recv_timeout(patience) {}
    }
}

/// Keeps the last of what waits; what lies before it is out of date already, unless it is of another record.
fn keep(mut keeper: Box<dyn Keeper>, queue: &Receiver<Keep>) {
    let same = |one: &Half, other: &Half| match (one, other) {
        (Half::Job(one, _), Half::Job(other, _)) | (Half::Review(one, _), Half::Review(other, _)) => one == other,
        (Half::Begin(_), Half::Begin(_)) => true,
        (Half::Paper(one, name, _), Half::Paper(other, named, _)) => (one, name) == (other, named),
        (Half::Job(..) | Half::Begin(_) | Half::Review(..) | Half::Paper(..), _) => false,
    };
    while let Ok(first) = queue.recv() {
        let mut ends = Vec::new();
        let mut halves: Vec<Half> = Vec::new();
        for keep in std::iter::once(first).chain(queue.try_iter()) {
            match keep {
                Keep::Half(half) => {
                    halves.retain(|before| !same(before, &half));
                    halves.push(half);
                }
                Keep::End(done) => ends.push(done),
            }
        }
        for half in &halves {
            keeper.keep(half);
        }
        for done in ends {
            if done.send(()).is_err() { /* nobody waits any more */ }
        }
    }
}

/// Takes all orders that wait, saves once, answers the rest in turn.
fn work<M>(mut desk: Desk, queue: &Receiver<Order>, sender: &Sender<M>, wrap: fn(Said) -> M) {
    while let Ok(first) = queue.recv() {
        let batch: Vec<Order> = std::iter::once(first).chain(queue.try_iter()).collect();
        let mut said = Vec::new();
        let (entries, others): (Vec<_>, Vec<_>) = batch.into_iter().partition(|order| matches!(order, Order::Save(_)));
        let any = !entries.is_empty();
        for order in entries {
            said.extend(desk.serve(order));
        }
        if any {
            said.extend(desk.save());
        }
        for order in others {
            said.extend(desk.serve(order));
        }
        for word in said {
            if sender.send(wrap(word)).is_err() {
                return;
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::entry::Act;
    use crate::records::store::Draft;

    /// A disk that takes as long for a save as the test wants.
    struct Slow {
        saving: Sender<()>,
        go_on: Receiver<()>,
        kept: Sender<String>,
    }

    impl Shelf for Slow {
        fn fetch(&mut self, _query: &Query, _waiting: &[Entry]) -> Answer {
            Answer::Elsewhere(Ok(String::new()))
        }

        fn append(&mut self, _entries: &[Entry]) -> Result<(), Fault> {
            self.saving.send(()).unwrap();
            self.go_on.recv().unwrap();
            Ok(())
        }

        fn keeper(&self) -> Box<dyn Keeper> {
            Box::new(Kept(self.kept.clone()))
        }

        fn put_down(&mut self) {}
    }

    struct Kept(Sender<String>);

    impl Keeper for Kept {
        fn keep(&mut self, half: &Half) {
            let Half::Job(_, draft) = half else { return };
            self.0.send(draft.step.clone()).unwrap();
        }
    }

    #[test]
    fn what_is_half_typed_is_kept_while_a_save_still_goes_on() {
        let (saving, begun) = channel();
        let (go_on, wait) = channel();
        let (kept, halves) = channel();
        let (sender, said) = channel();
        let writer = Writer::start(Box::new(Slow { saving, go_on: wait, kept }), sender, |said| said).unwrap();
        let at = "2024-07-12T14:05:00+02:00".parse().unwrap();
        let entry = Entry { number: 7, at, by: "fitter-a".parse().unwrap(), writer: None, late: None, act: Act::Begin };
        writer.order(Order::Save(vec![entry]));
        begun.recv().unwrap();
        let draft = Draft { step: "bush.ts/clearance".to_owned(), ..Draft::default() };
        writer.keep(Half::Job("DEMO-1/2024-07-12-overhaul".to_owned(), Box::new(draft)));
        // the save has not come back: only a thread of its own can have kept it
        assert_eq!(halves.recv_timeout(Duration::from_secs(20)).as_deref(), Ok("bush.ts/clearance"));
        assert!(said.try_recv().is_err());
        go_on.send(()).unwrap();
        writer.finish(Duration::from_secs(20));
        assert!(matches!(said.try_recv(), Ok(Said::Saved(7))));
    }
}
