//! The terminal taken over and given back, whatever happens in between.

mod watch;

use std::io::{self, Stdout, Write as _};
use std::mem::ManuallyDrop;

use crossterm::cursor::{Hide, Show};
use crossterm::event::{DisableBracketedPaste, EnableBracketedPaste};
use crossterm::terminal::{
    Clear, ClearType, EnterAlternateScreen, LeaveAlternateScreen, disable_raw_mode, enable_raw_mode,
};
use crossterm::{execute, queue};
use ratatui::Terminal;
use ratatui::backend::CrosstermBackend;
use rustix::termios::{OptionalActions, SpecialCodeIndex, Termios, tcgetattr, tcsetattr};

pub(super) use watch::{Outside, stop_here, watch};

/// The screen that is drawn on. It is never dropped: the library would then print its complaint to a terminal that is
/// gone, and fail over that.
pub(super) type Screen = ManuallyDrop<Terminal<CrosstermBackend<Stdout>>>;

/// A screen that knows nothing of what stands on it, so that the next drawing paints all.
///
/// # Errors
/// What the system says when the terminal has no size.
pub(super) fn screen() -> io::Result<Screen> {
    Terminal::new(CrosstermBackend::new(io::stdout())).map(ManuallyDrop::new)
}

/// Raw mode, another screen, pastes in brackets; given back when it goes out of scope.
pub(super) struct Taken;

impl Taken {
    /// Takes the terminal over.
    ///
    /// # Errors
    /// What the system says when it is none.
    pub(super) fn take() -> io::Result<Self> {
        let taken = Self;
        Self::again()?;
        Ok(taken)
    }

    /// Takes it over once more, after the program was stopped and called back.
    ///
    /// # Errors
    /// What the system says when it is none.
    pub(super) fn again() -> io::Result<()> {
        enable_raw_mode()?;
        execute!(io::stdout(), EnterAlternateScreen, EnableBracketedPaste, Hide, Clear(ClearType::All))
    }
}

impl Drop for Taken {
    fn drop(&mut self) {
        give_back();
    }
}

/// Gives the terminal back as it was found. Nothing can be done where that fails: the terminal is gone.
pub(super) fn give_back() {
    let mut out = io::stdout();
    let told = queue!(out, DisableBracketedPaste, LeaveAlternateScreen, Show).and_then(|()| out.flush());
    drop((told, disable_raw_mode()));
}

/// On a panic gives the terminal back before the words of the panic, and says where the readings are.
pub(super) fn give_back_on_panic(record: String) {
    let before = std::panic::take_hook();
    std::panic::set_hook(Box::new(move |panic| {
        give_back();
        before(panic);
        let words = format!("\nasfound stopped through a fault of its own. Every saved reading is in {record}.\n");
        drop(io::stderr().write_all(words.as_bytes()));
    }));
}

/// The terminal as it was before another program got it, put back when this goes: that program may have ended half way.
pub(super) struct Quiet(Option<Termios>);

/// Takes the key that stops a program from the terminal, as long as the answer is kept.
pub(super) fn without_stop_key() -> Quiet {
    let before = tcgetattr(io::stdin()).ok();
    if let Some(mut modes) = before.clone() {
        // 0 is no key
        modes.special_codes[SpecialCodeIndex::VSUSP] = 0;
        set(&modes);
    }
    Quiet(before)
}

impl Drop for Quiet {
    fn drop(&mut self) {
        if let Some(before) = &self.0 {
            set(before);
        }
    }
}

fn set(modes: &Termios) {
    if tcsetattr(io::stdin(), OptionalActions::Now, modes).is_err() { /* the terminal is gone; its watcher says so */ }
}
