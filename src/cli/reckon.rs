//! `asfound reckon`: any reckoning from the command line or a script.

mod json;
pub mod page;
pub mod words;

use std::io;

use super::out::Out;
use super::raw;
use crate::domain::reckon::{FORMULAS, Formula, Problem, shape};
use crate::exit::Exit;
use words::WordFault;

/// Lists, explains or does a reckoning.
///
/// # Errors
/// When stdout cannot be written.
pub fn run(words: &raw::Reckon, out: &mut Out) -> io::Result<Exit> {
    let Some(name) = &words.name else {
        let list = match (words.help, words.json) {
            (true, _) => page::usage(),
            (false, true) => json::list(),
            (false, false) => page::list(),
        };
        out.say(list.trim_end())?;
        return Ok(Exit::Done);
    };
    let Some(formula) = Formula::find(name) else {
        out.complain(&unknown(name))?;
        return Ok(Exit::WrongWords);
    };
    if words.help {
        out.say(page::help(formula).trim_end())?;
        return Ok(Exit::Done);
    }
    match words::tree(&words.given) {
        Ok(tree) => match formula.run(&tree) {
            Ok(outcome) if words.json => out.say(&json::outcome(formula, &outcome)).map(|()| Exit::Done),
            Ok(outcome) => out.say(outcome.working.to_string().trim_end()).map(|()| Exit::Done),
            Err(problems) => refuse(formula, &problems, out),
        },
        Err(fault) => {
            out.complain(&format!("asfound reckon {name}: {fault}"))?;
            Ok(if let WordFault::Words(_) = fault { Exit::WrongWords } else { Exit::NotDone })
        }
    }
}

/// All problems; wrong words weigh more than wrong figures.
fn refuse(formula: &Formula, problems: &[Problem], out: &mut Out) -> io::Result<Exit> {
    for problem in problems {
        out.complain(&format!("asfound reckon {}: {problem}", formula.name))?;
    }
    out.complain(&format!("asfound reckon {} --help says what it takes.", formula.name))?;
    let wrong_words = problems.iter().any(Problem::is_wrong_word);
    Ok(if wrong_words { Exit::WrongWords } else { Exit::NotDone })
}

fn unknown(name: &str) -> String {
    let near = shape::nearest(name, FORMULAS.iter().map(|formula| formula.name));
    let hint = near.map_or_else(
        || "`asfound reckon` lists them.".to_owned(),
        |near| format!("Did you mean `{near}`? `asfound reckon` lists them."),
    );
    format!("asfound reckon: no reckoning is called `{name}`. {hint}")
}
