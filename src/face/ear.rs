//! Keys on their way from the terminal. What waited in the input when a question came onto the screen never answers it: the
//! reader stands still behind every Enter until the screen shows what that Enter did, and what it then finds waiting gets
//! the moment of that Enter, which is before anything was seen.

use std::io;
use std::sync::mpsc::{Sender, channel};
use std::time::Duration;

use crossterm::event::{self, Event};

use super::input::{Heard, Key, heard};
use super::message::Moment;

/// What was heard, when, and the hold that is to be let go behind an Enter: dropped once the Enter has done all that it
/// does, or told once a question that it opened is on the screen.
pub(super) type Said = (Heard, Moment, Option<Sender<Painted>>);

/// A question is on the screen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Painted;

/// Where keys come from.
pub(super) trait Input {
    /// The next event; waits for it.
    ///
    /// # Errors
    /// What the system says when there is none any more.
    fn next(&mut self) -> io::Result<Event>;

    /// Whether one waits already.
    fn waits(&mut self) -> bool;
}

/// The terminal.
pub(super) struct Terminal;

impl Input for Terminal {
    fn next(&mut self) -> io::Result<Event> {
        event::read()
    }

    fn waits(&mut self) -> bool {
        event::poll(Duration::ZERO).unwrap_or(false)
    }
}

/// Hands on everything that is heard until nobody listens.
pub(super) fn listen(input: &mut dyn Input, now: &dyn Fn() -> Moment, say: &mut dyn FnMut(Said) -> bool) {
    // the Enter behind which a question came onto the screen, while something waits that was typed before it was seen; and
    // one that came in one piece with what follows it, as a paste without its marks does
    let mut ahead: Option<Moment> = None;
    loop {
        if ahead.is_some() && !input.waits() {
            ahead = None;
        }
        let Ok(event) = input.next() else { return };
        let Some(heard) = heard(event) else { continue };
        let at = ahead.unwrap_or_else(now);
        let (hold, let_go) = channel();
        let is_enter = heard == Heard::Key(Key::Enter);
        let in_one_piece = is_enter && input.waits();
        let hold = (is_enter && ahead.is_none()).then_some(hold);
        if !say((heard, at, hold)) {
            return;
        }
        // ends when the hold is dropped, too
        if let_go.recv() == Ok(Painted) || in_one_piece {
            ahead = Some(at);
        }
    }
}

#[cfg(test)]
mod tests {
    use std::collections::VecDeque;

    use crossterm::event::{KeyCode, KeyEvent, KeyModifiers};

    use super::super::typing::{Pace, Typing};
    use super::*;

    /// Keys that wait, and keys that come only after those.
    struct Script {
        waiting: VecDeque<KeyCode>,
        later: VecDeque<KeyCode>,
    }

    impl Input for Script {
        fn next(&mut self) -> io::Result<Event> {
            let code = self.waiting.pop_front().or_else(|| self.later.pop_front());
            let code = code.ok_or_else(|| io::Error::from(io::ErrorKind::UnexpectedEof))?;
            Ok(Event::Key(KeyEvent::new(code, KeyModifiers::NONE)))
        }

        fn waits(&mut self) -> bool {
            !self.waiting.is_empty()
        }
    }

    fn script(waiting: &[KeyCode], later: &[KeyCode]) -> Script {
        Script { waiting: waiting.iter().copied().collect(), later: later.iter().copied().collect() }
    }

    /// The clock runs on by a hundred milliseconds with every look at it: no key is told from another by haste.
    fn clock() -> impl Fn() -> Moment {
        let millis = std::cell::Cell::new(1000);
        move || {
            millis.set(millis.get() + 100);
            Moment { stamp: "2031-04-17T08:00:00+02:00".parse().unwrap(), millis: millis.get() }
        }
    }

    fn paces(waiting: &[KeyCode], later: &[KeyCode]) -> Vec<(Key, Pace)> {
        let (mut input, now) = (script(waiting, later), clock());
        let (mut typing, mut told) = (Typing::default(), Vec::new());
        listen(&mut input, &now, &mut |(heard, at, hold)| {
            let Heard::Key(key) = heard else { return true };
            let pace = typing.heard(key, at.millis);
            told.push((key, pace));
            if key == Key::Enter && pace == Pace::Hand {
                // the screen is drawn before the reader is told: whatever waits now was typed before it was seen
                typing.question_opened();
                typing.painted(now().millis);
                hold.unwrap().send(Painted).unwrap();
            }
            true
        });
        told
    }

    #[test]
    fn what_waits_when_a_question_is_painted_never_answers_it() {
        use KeyCode::{Down, Enter};
        let told = paces(&[Enter, Down, Down, Enter], &[Down, Enter]);
        let ahead = |key| (key, Pace::Ahead);
        let hand = |key| (key, Pace::Hand);
        let wanted = [
            hand(Key::Enter),
            ahead(Key::Down),
            ahead(Key::Down),
            ahead(Key::Enter),
            hand(Key::Down),
            hand(Key::Enter),
        ];
        assert_eq!(told, wanted);
    }

    /// So a paste without its marks is told from a gauge, however slowly it is read.
    #[test]
    fn what_comes_in_one_piece_with_enter_comes_at_its_time() {
        use KeyCode::{Char, Enter};
        for (waiting, later, at_once) in [(&[Enter, Char('5')][..], &[][..], true), (&[Enter], &[Char('5')], false)] {
            let (mut input, now) = (script(waiting, later), clock());
            let mut heard = Vec::new();
            listen(&mut input, &now, &mut |(_, at, _)| {
                heard.push(at.millis);
                true
            });
            assert_eq!(heard[0] == heard[1], at_once, "{heard:?}");
        }
    }

    #[test]
    fn a_key_pressed_after_the_question_was_seen_answers_it() {
        use KeyCode::{Down, Enter};
        let told = paces(&[Enter], &[Down]);
        assert_eq!(told, [(Key::Enter, Pace::Hand), (Key::Down, Pace::Hand)]);
    }
}
