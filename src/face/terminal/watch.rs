//! Signals, and a terminal that goes away. The key reader alone would not see it: at the end of input it never returns.

use std::io;
use std::sync::mpsc::Sender;
use std::thread;

use rustix::event::{PollFd, PollFlags, poll};
use signal_hook::consts::{SIGCONT, SIGHUP, SIGINT, SIGTERM, SIGTSTP};
use signal_hook::iterator::Signals;
use signal_hook::low_level::emulate_default_handler;

/// What the outside did.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::face) enum Outside {
    /// Asked to end by this signal.
    End(i32),
    /// Ctrl-C while another program has the terminal reaches that one too; else an end as well.
    Interrupted(i32),
    /// Asked to stop until called back.
    Stop,
    /// Called back.
    Back,
    /// The terminal is gone.
    Gone,
}

/// Sends what the outside does, from threads of its own.
///
/// # Errors
/// What the system says when signals cannot be had.
pub(in crate::face) fn watch<M: Send + 'static>(sender: Sender<M>, wrap: fn(Outside) -> M) -> io::Result<()> {
    let mut signals = Signals::new([SIGTERM, SIGHUP, SIGINT, SIGTSTP, SIGCONT])?;
    let to = sender.clone();
    thread::Builder::new().name("signals".to_owned()).spawn(move || {
        for signal in signals.forever() {
            let outside = match signal {
                SIGTSTP => Outside::Stop,
                SIGCONT => Outside::Back,
                SIGINT => Outside::Interrupted(SIGINT),
                signal => Outside::End(signal),
            };
            if to.send(wrap(outside)).is_err() {
                break;
            }
        }
    })?;
    thread::Builder::new().name("terminal".to_owned()).spawn(move || {
        wait_for_hang_up();
        drop(sender.send(wrap(Outside::Gone)));
    })?;
    Ok(())
}

/// Waits until the other end of the terminal is closed; asks for no input, so that keys never wake it.
fn wait_for_hang_up() {
    let input = io::stdin();
    loop {
        let mut ends = [PollFd::new(&input, PollFlags::empty())];
        let gone = match poll(&mut ends, None) {
            Ok(_) => ends.iter().any(|end| end.revents().intersects(PollFlags::HUP | PollFlags::ERR | PollFlags::NVAL)),
            Err(error) => error != rustix::io::Errno::INTR,
        };
        if gone {
            return;
        }
    }
}

/// Stops this program until it is called back, as the shell expects it.
pub(in crate::face) fn stop_here() {
    drop(emulate_default_handler(SIGTSTP));
}
