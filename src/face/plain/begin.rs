//! Beginning a record line by line.

use std::io::{self, BufRead, Write};

use crate::domain::stamp::Stamp;

use super::super::acts::begin::{Begun, Given, Known, beginning};
use super::inquiry::{Answers, Stop, Takes};
use super::run::{Echo, next_line};
use super::told;

/// What came of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Asked {
    /// The answers.
    Begun(Begun),
    /// Refused: why.
    Refused(String),
    /// The input ended at this question; nothing was begun.
    Ended(String),
}

/// What `?` says at a question that may wait, and at one that may not.
const LATER: &str = "An empty line or later leaves this one open; what hangs on it is held until it is given.";
const WANTED: &str =
    "This one is wanted: rotor, hours and a name are enough to begin, what comes behind them may wait.";

/// What `?` says at each of these questions.
const HELP: [&str; 2] = [
    "Where lines are numbered, the number, the words or the id will do.",
    "? says this again, ! takes the answer before back, leave goes and nothing is begun.",
];

/// Asks what is missing, one line a question.
///
/// # Errors
/// When the page cannot be written or the input not be read.
pub fn ask_beginning(
    known: &Known,
    given: &Given,
    (input, page): (&mut dyn BufRead, &mut dyn Write),
    echo: Echo,
    now: Stamp,
) -> io::Result<Asked> {
    let mut answers: Vec<String> = Vec::new();
    loop {
        match beginning(known, given, &mut Answers::new(&answers), now) {
            Ok(begun) => return Ok(Asked::Begun(begun)),
            // said of what was given before the first question, which no answer mends
            Err(Stop::Wrong(words)) if answers.is_empty() => return Ok(Asked::Refused(words)),
            Err(stop @ (Stop::Wrong(_) | Stop::Again(_))) => {
                if let Some(words) = stop.drop_from(&mut answers) {
                    writeln!(page, "{}", told::without_esc(&words))?;
                }
            }
            Err(Stop::Ask(question)) => {
                for line in &question.lines() {
                    writeln!(page, "{line}")?;
                }
                writeln!(page, "{}", question.line())?;
                page.flush()?;
                let Some(line) = next_line(input, page)? else { return Ok(Asked::Ended(question.line())) };
                if echo == Echo::Printed {
                    writeln!(page, "> {line}")?;
                }
                match line.trim() {
                    "?" => {
                        let first = if question.takes == Takes::MayBeEmpty { LATER } else { WANTED };
                        [first].iter().chain(&HELP).try_for_each(|line| writeln!(page, "{line}"))?;
                    }
                    "!" if answers.pop().is_none() => writeln!(page, "This is the first question. leave goes.")?,
                    "!" => writeln!(page, "The answer before is taken back.")?,
                    "leave" => return Ok(Asked::Refused("left; nothing was begun.".to_owned())),
                    _ => answers.push(line),
                }
            }
        }
    }
}
