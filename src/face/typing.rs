//! Who types: a hand, a gauge with a cable, or somebody ahead of the screen.

use super::input::Key;

/// Keys closer together than this many milliseconds come from no hand.
pub const BURST: u64 = 30;

/// An Enter behind which nothing is read for so many milliseconds is a gauge's own: the lines of a paste come in one piece.
const PIECE: u64 = 3;

/// How a key came.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Pace {
    /// By hand.
    Hand,
    /// Right behind another key: a gauge, or a paste without its brackets.
    Burst,
    /// A further line of a paste without its brackets: it goes nowhere.
    Spilled,
    /// Read before the screen showed the question that it would answer.
    Ahead,
}

/// What is known of the keys so far.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Typing {
    last_printable: Option<u64>,
    /// When the last key came, whichever.
    last: Option<u64>,
    /// When the last key came, if it was Enter.
    last_enter: Option<u64>,
    /// How long behind another Enter the present one came, with no key between.
    behind_enter: Option<u64>,
    /// A question was opened and is not on the screen yet.
    unseen: bool,
    /// When the last question came onto the screen.
    seen_at: Option<u64>,
    /// Keys dropped since the question was opened.
    dropped: usize,
    /// A digit that chooses a line, or a gauge's Enter, unless another key follows at once.
    pending: Option<(Key, u64)>,
    /// When more came behind a gauge's Enter at once, as only a paste of several lines does, and goes on coming.
    spills: Option<u64>,
}

impl Typing {
    /// Takes note of a key read at `millis` and says how it came.
    pub fn heard(&mut self, key: Key, millis: u64) -> Pace {
        let close = self.last_printable.is_some_and(|last| millis.saturating_sub(last) < BURST);
        // arrows may be held; of what an Enter right behind one would choose nothing was read
        let behind = self.last.replace(millis).is_some_and(|last| millis.saturating_sub(last) < BURST);
        let close_enter = key == Key::Enter && (close || behind);
        self.last_printable = key.is_printable().then_some(millis).or(self.last_printable.filter(|_| close));
        let enter = (key == Key::Enter).then_some(millis);
        self.behind_enter = enter.and(self.last_enter).map(|last| millis.saturating_sub(last));
        self.last_enter = enter;
        if self.unseen || self.seen_at.is_some_and(|seen| millis < seen) {
            self.dropped = self.dropped.saturating_add(1);
            return Pace::Ahead;
        }
        // the line end that some gauges send behind Enter is no further line
        let held = self.pending.filter(|(held, at)| *held == Key::Enter && millis.saturating_sub(*at) < PIECE);
        let more = held.is_some() && key != Key::Enter;
        self.spills = self.spills.or(more.then_some(millis)).filter(|_| behind);
        if self.spills.is_some() {
            self.pending = None;
            return Pace::Spilled;
        }
        if close && key.is_printable() || close_enter { Pace::Burst } else { Pace::Hand }
    }

    /// Whether the key heard last is Enter again sooner than so many milliseconds behind the last one: still held down,
    /// most likely. A held key goes on counting, however long.
    pub fn is_held(&self, rest: u64) -> bool {
        self.behind_enter.is_some_and(|gap| gap < rest)
    }

    /// A question was opened: until it is on the screen, nothing answers it.
    pub fn question_opened(&mut self) {
        self.unseen = true;
        self.dropped = 0;
        self.pending = None;
    }

    /// Whether a question waits to be shown.
    pub fn is_unseen(&self) -> bool {
        self.unseen
    }

    /// The screen shows the model; hands out how many keys were dropped, once.
    pub fn painted(&mut self, millis: u64) -> usize {
        if self.unseen {
            self.unseen = false;
            self.seen_at = Some(millis);
        }
        std::mem::take(&mut self.dropped)
    }

    /// Holds a digit back until it is sure that a hand typed it, or Enter until it is sure that a gauge did.
    pub fn hold(&mut self, key: Key, millis: u64) {
        self.pending.get_or_insert((key, millis));
    }

    /// Forgets the key held back; says whether there was one.
    pub fn forget(&mut self) -> bool {
        self.pending.take().is_some()
    }

    /// The key held back, once nothing has followed it for long enough.
    pub fn settled(&mut self, millis: u64) -> Option<Key> {
        let (key, _) = self.pending.filter(|_| self.wake_at().is_some_and(|at| millis >= at))?;
        self.pending = None;
        Some(key)
    }

    /// Whether this key only ends the line of an Enter held back once more, as some gauges do.
    pub fn ends_again(&self, key: Key) -> bool {
        key == Key::Ctrl('j') && matches!(self.pending, Some((Key::Enter, _)))
    }

    /// The key held back that nothing speaks against, now that this other key is read.
    pub fn due_before(&mut self, key: Key, millis: u64) -> Option<Key> {
        // whoever leaves has not pasted
        let leaves = key == Key::Ctrl('q') && matches!(self.pending, Some((Key::Enter, _)));
        self.settled(if leaves { u64::MAX } else { millis })
    }

    /// When `settled` should be asked.
    pub fn wake_at(&self) -> Option<u64> {
        self.pending.map(|(key, at)| at.saturating_add(if key == Key::Enter { PIECE } else { BURST }))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_gauge_is_known_by_its_speed_and_its_enter_belongs_to_it() {
        let mut typing = Typing::default();
        assert_eq!(typing.heard(Key::Char('4'), 1000), Pace::Hand);
        assert_eq!(typing.heard(Key::Char('4'), 1004), Pace::Burst);
        assert_eq!(typing.heard(Key::Enter, 1008), Pace::Burst);
        assert_eq!(typing.heard(Key::Enter, 1100), Pace::Hand);
        assert_eq!(typing.heard(Key::Down, 1110), Pace::Hand);
        assert_eq!(typing.heard(Key::Down, 1120), Pace::Hand, "a held arrow is no gauge");
        assert_eq!(typing.heard(Key::Enter, 1149), Pace::Burst, "nobody reads so fast what the arrow has marked");
        assert_eq!(typing.heard(Key::Down, 1300), Pace::Hand);
        assert_eq!(typing.heard(Key::Enter, 1300 + BURST), Pace::Hand);
    }

    #[test]
    fn a_held_enter_is_known_until_it_is_let_go() {
        let mut typing = Typing::default();
        let held = |typing: &mut Typing, key, millis| {
            typing.heard(key, millis);
            typing.is_held(700)
        };
        assert!(!held(&mut typing, Key::Enter, 1000));
        assert!(held(&mut typing, Key::Enter, 1500), "the first repeat");
        assert!(held(&mut typing, Key::Enter, 1533));
        assert!(held(&mut typing, Key::Enter, 2200), "counted from the last repeat, not from the first press");
        assert!(!held(&mut typing, Key::Enter, 2900));
        held(&mut typing, Key::Down, 2950);
        assert!(!held(&mut typing, Key::Enter, 3000), "another key between: a hand chose");
    }

    #[test]
    fn what_was_read_before_the_question_was_shown_is_dropped_and_counted() {
        let mut typing = Typing::default();
        typing.question_opened();
        assert_eq!(typing.heard(Key::Enter, 10), Pace::Ahead);
        assert_eq!(typing.painted(20), 1);
        assert_eq!(typing.heard(Key::Enter, 19), Pace::Ahead);
        assert_eq!(typing.heard(Key::Enter, 60), Pace::Hand);
    }

    #[test]
    fn a_digit_chooses_only_when_nothing_follows_at_once() {
        let mut typing = Typing::default();
        typing.hold(Key::Char('4'), 100);
        assert_eq!(typing.settled(120), None);
        assert_eq!(typing.settled(130), Some(Key::Char('4')));
        typing.hold(Key::Char('4'), 200);
        assert!(typing.forget());
        assert_eq!(typing.settled(300), None);
        // a slow machine reads the next key before it is woken
        typing.hold(Key::Char('4'), 400);
        assert_eq!(typing.due_before(Key::Down, 429), None);
        assert_eq!(typing.due_before(Key::Down, 430), Some(Key::Char('4')));
        assert_eq!(typing.due_before(Key::Down, 500), None);
    }
}
