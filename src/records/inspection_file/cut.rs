//! A record that cannot be read to its end: at which entry it breaks off, and what stands before that.

use crate::records::yaml::{At, Problems, parse};

use super::layout::with_lf;
use super::read::{Read, read};
use super::trust::Trust;

/// What every record begins with.
const RECORD: &[u8] = b"# asfound inspection record";

/// How a sealed file is mended: not at all.
const MEND: &str = "Fetch a whole copy and bring it in; a record is never mended with an editor. What can be read: asfound review FILE.";

/// The entry that holds the first fault.
struct Cut {
    entry: u32,
    /// Where it begins, line ends as LF.
    begin: usize,
}

/// Where the first fault stands; none when that is in the head.
fn first(lf: &[u8], problems: &Problems) -> Option<Cut> {
    at(lf, problems.iter().map(|problem| problem.at.line).min()?)
}

/// The entry to which a line belongs.
fn at(lf: &[u8], line: u32) -> Option<Cut> {
    let (mut place, mut cut, mut in_entries) = (0, None, false);
    for (number, text) in (1_u32..).zip(lf.split_inclusive(|byte| *byte == b'\n')) {
        if number > line {
            break;
        }
        if let Some(rest) = text.strip_prefix(b"- entry: ").filter(|_| in_entries) {
            let written = std::str::from_utf8(rest).ok().and_then(|rest| rest.trim().parse().ok());
            let follows = cut.as_ref().map_or(1, |before: &Cut| before.entry.saturating_add(1));
            cut = Some(Cut { entry: written.unwrap_or(follows), begin: place });
        }
        in_entries |= text == b"entries:\n";
        place += text.len();
    }
    cut
}

/// The same faults, said of a record: it is sealed, and nobody mends it with an editor.
pub(super) fn told(lf: &[u8], problems: &Problems) -> Problems {
    let mut said = Problems::of(problems.file());
    if !is_record(lf) && !is_begun(lf) {
        let at = parse("", lf).map_or(At { line: 1, column: 1 }, |tree| tree.at);
        let mend = "Name a record; asfound check FILE reads files of every other kind.";
        said.add(at, "a file of another kind", "an inspection record", mend);
        return said;
    }
    for problem in problems {
        let place = at(lf, problem.at.line).map(|cut| format!(", at entry {}", cut.entry));
        let sealed = place.is_some() || !has_entries(lf);
        if !sealed {
            said.take(problem.clone());
            continue;
        }
        let found = format!("{}{}", problem.found, place.as_deref().unwrap_or(", in the head; it was cut off there"));
        said.add(problem.at, found, problem.expected.clone(), MEND);
    }
    said
}

/// Whether this is a record, whole or not, and no file of another kind.
pub(in crate::records) fn is_record(bytes: &[u8]) -> bool {
    let key = |line: &[u8]| line.starts_with(b"inspection: ");
    bytes.starts_with(RECORD) || bytes.split(|byte| *byte == b'\n').any(key) || has_entries(&with_lf(bytes))
}

/// Whether these may be the first bytes of a record, or all that is left of them: none.
pub(in crate::records) fn is_begun(bytes: &[u8]) -> bool {
    bytes.starts_with(RECORD) || RECORD.starts_with(bytes)
}

/// Whether the head is there to its end.
fn has_entries(lf: &[u8]) -> bool {
    lf.split(|byte| *byte == b'\n').any(|line| line == b"entries:")
}

/// Reads a record; of one that cannot be read to its end, what stands before the entry that is broken, with what is
/// wrong there.
///
/// # Errors
/// When the head cannot be read either.
pub(in crate::records) fn read_before(name: &str, bytes: &[u8]) -> Result<(Read, Option<Problems>), Problems> {
    let problems = match read(name, bytes) {
        Ok(read) => return Ok((read, None)),
        Err(problems) => problems,
    };
    let lf = with_lf(bytes);
    let mut cut = first(&lf, &problems);
    while let Some(Cut { entry, begin }) = cut {
        let before = lf.get(..begin).unwrap_or_default();
        match read(name, before) {
            Ok(mut read) => {
                read.trust = Trust::Cut { entry };
                return Ok((read, Some(problems)));
            }
            Err(more) => cut = first(before, &more).filter(|earlier| earlier.begin < begin),
        }
    }
    Err(problems)
}
