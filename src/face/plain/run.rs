//! The loop: the only place in the line mode that reads, prints and asks the files and the clock.

use std::io::{self, BufRead, Read, Write};

use crate::domain::entry::{Entry, PhotoRef};
use crate::domain::signing::Seal;
use crate::domain::stamp::Stamp;

use super::super::effect::PaperPut;
use super::super::filling::Filling;
use super::{Come, Session, Turn, Want, fill};

/// The clock and the files, as the line mode needs them.
pub trait Desk {
    /// What the clock shows.
    fn now(&mut self) -> Stamp;

    /// Puts entries behind the record's own; coming back means: they are on the disk.
    ///
    /// # Errors
    /// Why none of them is in the record, and what can be done.
    fn save(&mut self, entries: &[Entry]) -> Result<(), String>;

    /// Writes the record with entries that could not be saved to another folder, and goes on there.
    ///
    /// # Errors
    /// Why it is not there.
    fn elsewhere(&mut self, folder: &str, entries: &[Entry]) -> Result<(), String>;

    /// Writes the same to another folder, and goes on where it was; says where the copy lies.
    ///
    /// # Errors
    /// Why it is not there.
    fn copy(&mut self, folder: &str, entries: &[Entry]) -> Result<String, String>;

    /// What a signature behind the record as it is on the disk must state.
    ///
    /// # Errors
    /// Why it cannot be had.
    fn seal(&mut self) -> Result<Seal, String>;

    /// Signs a sign entry with the key of a file; says where the signature is kept.
    ///
    /// # Errors
    /// Why there is none; the sign entry stands all the same.
    fn key(&mut self, entry: u32, path: &str) -> Result<String, String>;

    /// Takes a picture in: by its path, or the newest of the watched folder.
    ///
    /// # Errors
    /// Why there is none.
    fn photo(&mut self, path: Option<&str>) -> Result<PhotoRef, String>;

    /// Keeps where the work stands; failing does no harm, the next save meets the same disk.
    fn keep(&mut self, session: &Session, now: Stamp);
}

/// Whether typed lines are printed behind their question.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Echo {
    /// Somebody types, and sees the line.
    Typed,
    /// The lines come from a file, and the page must show them.
    Printed,
}

/// How a conversation ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ended {
    /// All that was said to be taken is on the disk.
    Kept,
    /// Entries are not on the disk.
    NotSaved,
}

/// Questions out, lines in, until somebody leaves or the input ends.
///
/// # Errors
/// When the page cannot be written or the input not be read.
pub fn converse(
    session: &mut Session,
    input: &mut dyn BufRead,
    page: &mut dyn Write,
    desk: &mut dyn Desk,
    echo: Echo,
) -> io::Result<Ended> {
    let mut come = Come::Start;
    loop {
        let now = desk.now();
        let Turn { said, want } = session.hear(come, now);
        for line in &said {
            writeln!(page, "{}", super::printable(line))?;
        }
        come = match want {
            Want::Save(entries) => match desk.save(&entries) {
                Ok(()) => Come::Saved,
                Err(why) => Come::NotSaved(why),
            },
            Want::Elsewhere(folder, entries) => match desk.elsewhere(&folder, &entries) {
                Ok(()) => Come::Saved,
                Err(why) => Come::NotSaved(why),
            },
            Want::Copy(folder, entries) => Come::Copied(desk.copy(&folder, &entries)),
            Want::Seal => Come::Sealed(desk.seal()),
            Want::Key(entry, path) => {
                page.flush()?;
                Come::Keyed(desk.key(entry, &path))
            }
            Want::Photo(path) => Come::Photo(desk.photo(path.as_deref())),
            Want::Leave => break,
            Want::Line => {
                desk.keep(session, now);
                page.flush()?;
                let Some(line) = next_line(input, page)? else { break };
                if echo == Echo::Printed {
                    writeln!(page, "> {line}")?;
                }
                Come::Line(line)
            }
        };
    }
    let now = desk.now();
    desk.keep(session, now);
    let ended = if session.waiting().is_empty() { Ended::Kept } else { Ended::NotSaved };
    let saved = session.saved();
    if session.is_unentered() {
        writeln!(page, "NOT entered: what waited for the machine to be said to be safe. Answer it again.")?;
    }
    match ended {
        Ended::Kept => writeln!(page, "\nThe record stays as it stands: {saved}.")?,
        Ended::NotSaved => writeln!(page, "\n{saved}, {} NOT.", session.waiting().len())?,
    }
    page.flush()?;
    Ok(ended)
}

/// Puts a file on the disk, or says why it is not there.
pub(super) type Keep<'a> = dyn FnMut(&PaperPut) -> Result<(), String> + 'a;

/// A file filled in line by line, until somebody leaves or the input ends; every answer is kept at once.
///
/// # Errors
/// When the page cannot be written or the input not be read.
pub fn fill_in(
    filling: &mut Filling,
    input: &mut dyn BufRead,
    page: &mut dyn Write,
    keep: &mut Keep<'_>,
    echo: Echo,
) -> io::Result<Ended> {
    let mut ended = Ended::Kept;
    writeln!(page, "One question a line: ? what is wanted, - takes out, < one row back, > to what stands beside,")?;
    writeln!(page, "! out of this table or form.")?;
    for told in filling.told_here().iter().filter(|_| filling.is_second()) {
        writeln!(page, "{told}")?;
    }
    loop {
        writeln!(page, "{}", fill::by_line(&fill::question(filling)))?;
        page.flush()?;
        let Some(line) = next_line(input, page)? else { break };
        if echo == Echo::Printed {
            writeln!(page, "> {line}")?;
        }
        let filled = fill::hear(filling, &line);
        let kept = filled.put.as_ref().map(|put| (put, keep(put)));
        if let Some((put, Err(why))) = kept {
            filling.not_saved(put);
            ended = Ended::NotSaved;
            writeln!(page, "NOT saved, kept as a draft: {why}")?;
        } else {
            ended = if kept.is_some() { Ended::Kept } else { ended };
            for said in &filled.said {
                writeln!(page, "{}", fill::by_line(said))?;
            }
        }
        if filled.left {
            break;
        }
    }
    writeln!(page, "{}", fill::by_line(&filling.state()))?;
    page.flush()?;
    Ok(ended)
}

/// A longer line was never typed.
const LONGEST: u64 = 64 * 1024;

/// The next line that can be an answer; one that cannot is printed as refused. `None` at the end of the input.
pub(super) fn next_line(input: &mut dyn BufRead, page: &mut dyn Write) -> io::Result<Option<String>> {
    loop {
        let mut bytes = Vec::new();
        let read = (&mut *input).take(LONGEST).read_until(b'\n', &mut bytes)?;
        if read == 0 {
            return Ok(None);
        }
        if bytes.last() != Some(&b'\n') && bytes.len() >= usize::try_from(LONGEST).unwrap_or(usize::MAX) {
            pass_line(input)?;
            writeln!(page, "The line is longer than {} kB and was not taken.", LONGEST / 1024)?;
            continue;
        }
        let line = String::from_utf8_lossy(&bytes);
        let line = line.trim_end_matches(['\n', '\r']).trim_start_matches('\u{feff}');
        if line.chars().any(|letter| letter.is_control() && letter != '\t') {
            writeln!(page, "The line holds control characters and was not taken.")?;
            continue;
        }
        return Ok(Some(line.to_owned()));
    }
}

/// Reads on to the end of a line that is not wanted.
fn pass_line(input: &mut dyn BufRead) -> io::Result<()> {
    loop {
        let held = input.fill_buf()?;
        let (used, ended) = match held.iter().position(|byte| *byte == b'\n') {
            Some(at) => (at + 1, true),
            None => (held.len(), held.is_empty()),
        };
        input.consume(used);
        if ended {
            return Ok(());
        }
    }
}
