//! The command line: words in, one of the layers called, an exit code out. One file per verb.

mod begin;
mod bench;
mod bring;
mod check;
mod checklist;
mod demo;
mod desk;
mod due;
mod export;
mod fill;
mod folder;
mod out;
mod papers;
mod practise;
mod raw;
pub mod reckon;
mod resume;
mod review;
mod screen;
mod sheet;
mod show;
mod surroundings;
mod touched;
mod trend;
mod verify;

use std::ffi::OsString;
use std::io;

use clap::{CommandFactory, FromArgMatches};

pub use out::Out;
use raw::{Verb, Words};
use surroundings::Surroundings;

use crate::exit::{Exit, TABLE};
use crate::face::effect::Query;
use crate::records::clock::RealClock;

/// The words of the command line, from which help, man pages and completions come.
pub fn command() -> clap::Command {
    let width = TABLE.iter().map(|(code, _)| code.len()).max().unwrap_or(0);
    let codes = TABLE.iter().map(|(code, meaning)| format!("\n  {code:<width$}  {meaning}"));
    Words::command().after_help(format!("Exit codes:{}", codes.collect::<String>()))
}

/// Does what the words ask; `words` begins with the program's own name.
pub fn run(words: impl IntoIterator<Item = OsString>) -> Exit {
    let mut out = Out::standard();
    let read = command().try_get_matches_from(words).and_then(|read| Words::from_arg_matches(&read));
    let done = match read {
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
    let surroundings = Surroundings::of_process();
    if let Some(Verb::Reckon(words)) = &words.verb {
        return reckon::run(words, out);
    }
    let store = match folder::store(words.data.as_deref(), &surroundings) {
        Ok(store) => store,
        Err(why) => {
            out.complain(&format!("asfound: {why}"))?;
            return Ok(Exit::NotDone);
        }
    };
    let Some(verb) = words.verb else { return screen::run(store, Query::Home, out) };
    let clock = RealClock::default();
    match verb {
        Verb::Demo(words) => demo::run(&words, &store, &surroundings, out),
        Verb::Practise(words) => practise::run(&words, &store, &surroundings, out),
        Verb::Begin(words) => begin::run(("begin", &words), &store, &surroundings, out),
        Verb::Resume(words) => resume::run(&words, &store, &surroundings, out),
        Verb::Show(words) => show::show(&words, &store, out),
        Verb::Review(words) => review::run(&words, &store, (&clock, &surroundings), out),
        Verb::Check(words) => check::check(&words, &store, out),
        Verb::Where(words) => touched::run(&words, &store, out),
        Verb::Verify(words) => verify::run(&words, &store, out),
        Verb::Trend(words) => trend::run(&words, &store, &surroundings, out),
        Verb::Report(words) => papers::report(&words, &store, out),
        Verb::Refer(words) => papers::refer(&words, &store, out),
        Verb::Spares(words) => papers::spares(&words, &store, out),
        Verb::Blank(words) => papers::blank(&words, &store, out),
        Verb::Due(words) => due::run(&words, &store, out),
        Verb::Fill(words) => fill::run(&words, &store, &surroundings, out),
        Verb::Checklist(words) => checklist::run(&words, &store, out),
        Verb::Export(words) => export::run(&words, &store, out),
        Verb::Sheet(words) => sheet::run(&words, &store, out),
        Verb::Bring(words) => bring::run(&words, &store, &clock, out),
        Verb::Reckon(words) => reckon::run(&words, out),
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
