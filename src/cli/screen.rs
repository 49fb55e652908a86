//! The bench on a whole screen: where the records lie, and what the terminal can show.
#![expect(clippy::disallowed_methods, reason = "whether there are colours and boxes stands in the environment")]

use std::io::{self, IsTerminal as _};
use std::sync::Arc;

use crate::exit::Exit;
use crate::face::effect::Query;
use crate::face::glyphs::Glyphs;
use crate::face::look::{Look, Paint};
use crate::face::run::{Opening, run as run_bench};
use crate::face::shelf::RecordShelf;
use crate::records::clock::{Clock, RealClock};
use crate::records::store::Store;

use super::Out;

/// Whether a whole screen can be drawn: somebody sits at both ends, and the terminal moves its cursor.
pub(super) fn can_be_drawn() -> bool {
    let dumb = std::env::var_os("TERM").is_some_and(|term| term == "dumb");
    io::stdin().is_terminal() && io::stdout().is_terminal() && !dumb
}

/// Colours unless `NO_COLOR` says no; boxes where the locale is UTF-8.
fn look() -> Look {
    let set = |name: &str| std::env::var_os(name).filter(|value| !value.is_empty());
    let locale = ["LC_ALL", "LC_CTYPE", "LANG"].into_iter().find_map(set);
    let locale = locale.unwrap_or_default().to_string_lossy().to_lowercase();
    let utf8 = locale.contains("utf-8") || locale.contains("utf8");
    Look {
        paint: if set("NO_COLOR").is_some() { Paint::Mono } else { Paint::Colours },
        glyphs: if utf8 { Glyphs::BOX } else { Glyphs::ASCII },
    }
}

/// The bench of `store`, opened with `first`.
///
/// # Errors
/// When the reason for not opening it cannot be written.
pub(super) fn run(store: Store, first: Query, out: &mut Out) -> io::Result<Exit> {
    if !can_be_drawn() {
        out.complain(
            "asfound: this is no terminal that a screen can be drawn on. Line by line it goes here too: asfound begin \
             --plain, asfound resume --plain. asfound --help names the verbs that print.",
        )?;
        return Ok(Exit::NotDone);
    }
    let clock: Arc<dyn Clock> = Arc::new(RealClock::default());
    let folder = store.root().display().to_string();
    let scene = store.scene();
    let shelf = Box::new(RecordShelf::new(store, Arc::clone(&clock)));
    match run_bench(Opening { look: look(), scene, shelf, first, folder }, &clock) {
        Ok(0) => Ok(Exit::Done),
        Ok(code) if code > 128 => Ok(Exit::Signal(code - 128)),
        Ok(_) => Ok(Exit::NotDone),
        Err(fault) => {
            out.complain(&format!("asfound: the terminal cannot be used: {fault}. Try another one."))?;
            Ok(Exit::NotDone)
        }
    }
}
