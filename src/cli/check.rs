//! `asfound check`: every file read, and all that is wrong with them.

use std::io;

use serde_json::{Value, json};

use crate::exit::Exit;
use crate::records::check::{CheckReport, check_files, check_folder};
use crate::records::store::Store;
use crate::records::yaml::{Problem, Problems};

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
    json!({
        "readings": report.readings,
        "records": report.records,
        "problem_count": report.problems.count(),
        "problems": faults(&report.problems),
        "remarks": report.remarks,
    })
}

/// Faults for programs, each with its place.
pub(super) fn faults(problems: &Problems) -> Vec<Value> {
    let place = |at: u32| (at > 0).then_some(at);
    let fault = |one: &Problem| {
        json!({
            "file": one.file,
            "line": place(one.at.line),
            "column": place(one.at.column),
            "found": one.found,
            "expected": one.expected,
            "mend": one.mend,
        })
    };
    problems.iter().map(fault).collect()
}
