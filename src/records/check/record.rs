//! A record, whether it is as it was saved, and what in it does not count.

use std::path::Path;

use crate::domain::entitled;
use crate::records::inspection_file::{Trust, line_of, line_of_entry, read_before};
use crate::records::store::{ANY, Store};
use crate::records::yaml::{At, Problems};

use super::{CheckReport, Counted};

/// Checks a record; gives it as it was counted.
pub(super) fn check_record(store: &Store, path: &Path, bytes: &[u8], report: &mut CheckReport) -> Option<Counted> {
    let name = &store.name_of(path);
    let (read, broken) = report.take(read_before(name, bytes))?;
    report.problems.join(broken.unwrap_or_default());
    report.records += 1;
    report.readings += read.inspection.reading_count();
    let pictures = store.pictures(path, &read.inspection);
    let at = |number: u32| At { line: line_of_entry(bytes, &read, number), column: 1 }.in_file(name);
    let lost = pictures.iter().filter_map(|one| Some(format!("{}: the {}.", at(one.entry), one.lost()?)));
    report.remarks.extend(lost);
    let void = entitled::told(&read.inspection);
    report.remarks.extend(void.iter().map(|(number, words)| format!("{}: {words}", at(*number))));
    let mut problems = Problems::of(name);
    if let Trust::Newer { format } = read.trust {
        let unread = read.unread;
        report.remarks.push(format!(
            "{name}: written in format {format}, read as far as this program can; {unread} entries were not."
        ));
    }
    match read.trust {
        // told with what is broken
        Trust::Whole | Trust::Cut { .. } => {}
        Trust::Seen { .. } => {
            for one in &read.breaks {
                let at = At { line: line_of(bytes, &read, one), column: 1 }.in_file(name);
                report.remarks.push(format!("{at}: {} Somebody has said that it was seen.", one.what()));
            }
        }
        Trust::Changed { .. } | Trust::Newer { .. } => {
            for one in &read.breaks {
                let at = At { line: line_of(bytes, &read, one), column: 1 };
                let mend = "Fetch an untouched copy, or open it and say under your name that you have seen it.";
                problems.add(at, one.found(), "the bytes as they were saved", mend);
            }
        }
    }
    if let Some(entry) = store.missing_from(path, (&read.inspection, &read.chains), read.trust) {
        let line = u32::try_from(bytes.split(|byte| *byte == b'\n').count()).unwrap_or(u32::MAX);
        let found = format!("{} entries", read.inspection.entries().len());
        let expected = match entry {
            ANY => "the record that was saved here once".to_owned(),
            entry => format!("entry {entry}, which was saved here once"),
        };
        problems.add(At { line, column: 1 }, found, expected, "Fetch a whole copy and bring it in.");
    }
    report.problems.join(problems);
    let (readings, inspection) = (read.inspection.reading_count(), read.inspection);
    Some(Counted { name: name.clone(), inspection, readings })
}
