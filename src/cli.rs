//! The command line: words in, one of the layers called, an exit code out. One file per verb.

mod bring;
mod folder;
mod out;
mod raw;
pub mod reckon;
mod review;
mod screen;
mod verify;

use std::ffi::OsString;
use std::io;

use clap::Parser;

pub use out::Out;
use raw::{Verb, Words};

use crate::exit::Exit;
use crate::records::clock::RealClock;

/// Does what the words ask; `words` begins with the program's own name.
pub fn run(words: impl IntoIterator<Item = OsString>) -> Exit {
    let mut out = Out::standard();
    let done = match Words::try_parse_from(words) {
        Ok(words) => dispatch(words, &mut out),
        Err(error) => refused(&error, &mut out),
    };
    match done.and_then(|exit| out.flush().map(|()| exit)) {
        Ok(exit) => exit,
        Err(fault) if fault.kind() == io::ErrorKind::BrokenPipe => Exit::Done,
        Err(fault) => {
            // when stderr is gone as well, only the exit code is left to say it
            drop(out.complain(&format!("asfound: cannot write: {fault}")));
            Exit::NotDone
        }
    }
}

fn dispatch(words: Words, out: &mut Out) -> io::Result<Exit> {
    let Some(verb) = words.verb else { return screen::home(out) };
    let store = match (&verb, folder::store(words.data)) {
        (Verb::Reckon(words), _) => return reckon::run(words, out),
        (_, Ok(store)) => store,
        (_, Err(why)) => {
            out.complain(&why)?;
            return Ok(Exit::NotDone);
        }
    };
    let clock = RealClock::default();
    match verb {
        Verb::Reckon(words) => reckon::run(&words, out),
        Verb::Review(words) => review::run(&words, &store, &clock, out),
        Verb::Verify(words) => verify::run(&words, &store, out),
        Verb::Bring(words) => bring::run(&words, &store, &clock, out),
    }
}

/// Help and version go to stdout, all else that the words cannot mean to stderr.
fn refused(error: &clap::Error, out: &mut Out) -> io::Result<Exit> {
    let text = error.render().to_string();
    if error.use_stderr() {
        out.complain(text.trim_end())?;
        Ok(Exit::WrongWords)
    } else {
        out.say(text.trim_end())?;
        Ok(Exit::Done)
    }
}
