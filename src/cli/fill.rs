//! `asfound fill`: people, instruments, limits sheets, rotors and own checklists, filled in on the screen or line by line.

use std::io;
use std::sync::Arc;

use crate::exit::Exit;
use crate::face::effect::{PaperPut, Query, Register, Wanted};
use crate::face::filling::Filling;
use crate::face::plain::{Ended, fill_in};
use crate::face::shelf::RecordShelf;
use crate::records::clock::RealClock;
use crate::records::paper::Kind;
use crate::records::store::Store;

use super::bench::{Way, echo};
use super::out::Out;
use super::surroundings::Surroundings;
use super::{raw, screen};

/// Fills in a file.
///
/// # Errors
/// When the page cannot be written or the input not be read.
pub(super) fn run(words: &raw::Fill, store: &Store, surroundings: &Surroundings, out: &mut Out) -> io::Result<Exit> {
    let Some(kind) = Kind::parse(&words.kind) else {
        let known: Vec<_> = Kind::ALL.into_iter().map(Kind::word).collect();
        out.complain(&format!("asfound fill: `{}` is none of {}.", words.kind, known.join(", ")))?;
        return Ok(Exit::WrongWords);
    };
    if let Some(why) = store.shut() {
        out.complain(&format!("asfound fill: {why}. Nothing was asked: it could not be kept."))?;
        return Ok(Exit::NotDone);
    }
    let mut shelf = RecordShelf::new(store.clone(), Arc::new(RealClock::default()));
    let register = shelf.register(kind).map_err(|fault| fault.to_string());
    let filling = register.and_then(|register| Ok((filling(kind, &register, words)?, register.scene)));
    let (mut filling, scene) = match filling {
        Ok(filling) => filling,
        Err(why) => {
            out.complain(&format!("asfound fill: {why}"))?;
            return Ok(Exit::NotDone);
        }
    };
    if surroundings.way(words.plain) == Way::Screen {
        let wanted = words.name.clone().map(|name| Wanted { name, second: words.second.clone() });
        let first = wanted.map_or(Query::Register(kind), |wanted| Query::Fill(kind, wanted));
        return screen::run(store.clone(), first, out);
    }
    if let Some(mark) = scene.mark() {
        out.say(&format!("{mark}. What is entered here is no real machine's."))?;
    }
    let mut keep = |put: &PaperPut| shelf.put_paper(put).map_err(|fault| fault.to_string());
    match fill_in(&mut filling, &mut io::stdin().lock(), out.page(), &mut keep, echo(surroundings))? {
        Ended::Kept => Ok(Exit::Done),
        Ended::NotSaved => Ok(Exit::NotDone),
    }
}

/// The file that is named, the draft of a new one, or a new one.
fn filling(kind: Kind, register: &Register, words: &raw::Fill) -> Result<Filling, String> {
    let named = |name: &str| register.leaves.iter().find(|leaf| leaf.name.eq_ignore_ascii_case(name));
    let leaf = match (&words.name, kind) {
        (_, Kind::People) => register.leaves.first(),
        (Some(name), _) => Some(named(name).ok_or_else(|| {
            let known: Vec<_> = register.leaves.iter().map(|leaf| leaf.name.as_str()).collect();
            format!(
                "there is no `{name}` among the {}. Known are: {}. Without a name a new one is begun.",
                kind.all(),
                known.join(", ")
            )
        })?),
        (None, _) => register.leaves.iter().find(|leaf| leaf.text.is_none()),
    };
    match (leaf, &words.second) {
        (Some(leaf), Some(by)) if kind == Kind::Sheet => {
            Filling::second(leaf, by, &register.people).map(|filling| filling.among(register))
        }
        (_, Some(_)) => Err("--second is for a limits sheet that is named.".to_owned()),
        (Some(leaf), None) => Filling::open(kind, leaf).map(|filling| filling.among(register)),
        (None, None) => Ok(Filling::new(kind).among(register)),
    }
}
