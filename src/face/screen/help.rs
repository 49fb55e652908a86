//! Pages of text: the keys of a screen, the signs and the words.

use super::super::action::{Action, Scope};
use super::super::effect::Effect;
use super::super::form::Go;
use super::super::input::Key;
use super::super::keymap;
use super::super::look::Tone;
use super::super::model::{Model, Overlay};
use super::super::pen::{Pen, hang, wrap};
use super::way;

/// Lines with their tone, and how many are scrolled away.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Help {
    title: String,
    lines: Vec<(String, String)>,
    scroll: usize,
}

/// Signs and words, as they stand on every screen and paper.
const WORDS: &[(&str, &str)] = &[
    ("+ within", "short of every level; not a release for service"),
    ("~ watch", "alert reached, or forecast close to the limit: what, how, by when"),
    ("/ rework", "to be mended, or not as new after the rebuild"),
    ("X replace", "past the limit"),
    ("> referred", "maker, class or owner must answer"),
    ("? open", "something is missing, undecided or provisional; never green"),
    ("! call", "work on the part stops until somebody has answered"),
    ("", ""),
    ("new, alert, limit", "the three levels of the limits sheet, each with its source"),
    ("undecided", "short of the limit by less than the guard: a better gauge, else the limit counts"),
    ("provisional", "a doubt was asked and insisted on"),
    ("strike", "an entry taken back with a reason; it stays readable"),
    ("hold", "what keeps a part out of the rebuild until somebody has settled it"),
    ("condemned", "to be replaced without being measured"),
    ("overruled", "decided otherwise than by the rules, by name and with a reason"),
    ("concession", "the answer of maker, owner or class to what was referred; it ends one day"),
    ("claimed", "typed on somebody's behalf: it settles nothing until that person signs"),
    ("countersign", "a supervisor who did not sign puts the own name under a signature"),
    ("sent back", "returned to the fitter, with remarks at the lines they are about"),
    ("chain", "each entry carries a sum over all before it: a byte changed later shows"),
    ("seal", "what a signature states: length and SHA-256 of all bytes before it"),
    ("key", "proves who signed; without one the name is only written there"),
    ("seen", "somebody says, by name, that the file was changed outside this program"),
    ("brought", "taken in from another copy of the record, as it was entered there"),
    ("as found, as left", "before taking apart; after putting together"),
    ("TIR", "total indicator reading: largest less smallest over a full turn"),
    ("float", "play of the shaft along or across its axis"),
    ("lift", "up less down on the dial: the clearance"),
    ("step wear", "unworn diameter less the smallest worn one"),
    ("land", "one taper with its flat on a thrust ring"),
    ("saved", "on the disk; the figure in the head counts readings, struck ones too"),
];

impl Help {
    /// The keys of a screen.
    pub fn keys(scope: Scope) -> Self {
        let lines = keymap::rows(scope).map(|row| (row.press.name().to_owned(), row.help.to_owned()));
        Self { title: format!("keys: {}", scope.title().to_lowercase()), lines: lines.collect(), scroll: 0 }
    }

    /// Plain lines.
    pub fn text(title: &str, lines: &[String]) -> Self {
        let lines = lines.iter().map(|line| (String::new(), line.clone()));
        Self { title: title.to_owned(), lines: lines.collect(), scroll: 0 }
    }

    /// Signs and words.
    pub fn words() -> Self {
        let lines = WORDS.iter().map(|(word, meaning)| ((*word).to_owned(), (*meaning).to_owned()));
        Self { title: "signs and words; F1 shows the keys".to_owned(), lines: lines.collect(), scroll: 0 }
    }
}

/// Keys of the page.
pub fn act(model: &mut Model, mut help: Help, action: Action, key: Key) -> Vec<Effect> {
    if action == Action::Scroll {
        help.scroll = match way(key) {
            Go::Back => help.scroll.saturating_sub(5),
            Go::On => (help.scroll + 5).min(help.lines.len().saturating_sub(5)),
        };
    }
    if action != Action::Back {
        model.overlays.push(Overlay::Help(help));
    }
    Vec::new()
}

/// ```text
/// -- keys: step that takes figures -------------------------------------------
///  Enter        Takes the figure in the field; ...
/// ```
pub fn view(pen: &mut Pen<'_>, help: &Help) {
    pen.clear();
    pen.rule(0, &help.title);
    let room = pen.height();
    let mut row = 1;
    for (word, meaning) in help.lines.iter().skip(help.scroll) {
        pen.put(2, row, word, Tone::Key);
        let x = if word.is_empty() { 2 } else { 20 };
        let columns = pen.width().saturating_sub(x + 1);
        let lines = if word.is_empty() { hang(meaning, columns) } else { wrap(meaning, columns) };
        for line in lines {
            pen.put(x, row, &line, Tone::Plain);
            row += 1;
        }
    }
    if row > room {
        pen.right(1, 0, " PgDn: more ", Tone::Key);
    }
}
