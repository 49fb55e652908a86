//! `asfound check`: every file read, and all that is wrong with them.

use std::io;

use serde_json::{Value, json};

use crate::exit::Exit;
use crate::records::check::{CheckReport, check_files, check_folder};
use crate::records::store::Store;

use super::out::Out;
use super::raw;

/// Reads every file of the folder, or those named, and lists all that is wrong.
///
/// # Errors
/// When stdout cannot be written.
pub(super) fn check(words: &raw::Files, store: &Store, out: &mut Out) -> io::Result<Exit> {
    let report = if words.files.is_empty() { check_folder(store) } else { check_files(&words.files) };
    out.say(&if words.json { told(&report).to_string() } else { report.text() })?;
    Ok(if report.is_fine() { Exit::Done } else { Exit::FallsShort })
}

fn told(report: &CheckReport) -> Value {
    let place = |at: u32| (at > 0).then_some(at);
    let problems = report.problems.iter().map(|one| {
        json!({
            "file": one.file,
            "line": place(one.at.line),
            "column": place(one.at.column),
            "found": one.found,
            "expected": one.expected,
            "mend": one.mend,
        })
    });
    json!({
        "readings": report.readings,
        "records": report.records,
        "problem_count": report.problems.count(),
        "problems": problems.collect::<Vec<_>>(),
        "remarks": report.remarks,
    })
}
