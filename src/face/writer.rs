//! The thread that writes: takes all entries that wait in one save, keeps drafts, fetches what is asked for.

use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, channel};
use std::thread;
use std::time::Duration;

use crate::domain::entry::Entry;

use super::draft::Draft;
use super::effect::{Answer, Fault, Query};

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

    /// Keeps the draft of the open record, without waiting for the disk.
    ///
    /// # Errors
    /// Why it is not kept.
    fn keep(&mut self, draft: &Draft) -> Result<(), Fault>;

    /// Puts the open record down.
    fn put_down(&mut self);
}

/// Something for the writer.
#[derive(Debug)]
pub(super) enum Order {
    Save(Vec<Entry>),
    Retry,
    Keep(Box<Draft>),
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
            Order::Keep(draft) => {
                // a draft that cannot be kept is told by the next save, which meets the same disk
                drop(self.shelf.keep(&draft));
                Vec::new()
            }
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
        let desk = Desk::new(shelf);
        thread::Builder::new().name("writer".to_owned()).spawn(move || work(desk, &queue, &sender, wrap))?;
        Ok(Self { orders })
    }

    pub(super) fn order(&self, order: Order) {
        // without its thread nothing can be written, and the screen goes on saying "NOT saved"
        drop(self.orders.send(order));
    }

    /// Waits until all that was ordered is done, but not for longer than `patience`.
    pub(super) fn finish(&self, patience: Duration) {
        let (done, wait) = channel();
        self.order(Order::End(done));
        if let Err(RecvTimeoutError::Timeout | RecvTimeoutError::Disconnected) = wait.recv_timeout(patience) {}
    }
}

/// Takes all orders that wait, keeps the last draft first, saves once, answers the rest in turn.
fn work<M>(mut desk: Desk, queue: &Receiver<Order>, sender: &Sender<M>, wrap: fn(Said) -> M) {
    while let Ok(first) = queue.recv() {
        let mut batch: Vec<Order> = std::iter::once(first).chain(queue.try_iter()).collect();
        let last_draft = batch.iter().rposition(|order| matches!(order, Order::Keep(_)));
        let mut said = last_draft.map(|at| desk.serve(batch.remove(at))).unwrap_or_default();
        batch.retain(|order| !matches!(order, Order::Keep(_)));
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
