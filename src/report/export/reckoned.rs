//! The table of what the steps reckoned besides what they judge.

use crate::domain::progress;
use crate::domain::reckon::Answer;
use crate::domain::worked::{Worked, of_step};

use super::{Cell, Column, Exported, Kind, LAYOUT, Table, column, count, maybe, text};

/// One row for each.
pub(super) const RECKONED: Table = Table {
    name: "reckoned",
    doc: "a reckoning at a step besides what is judged, by the signature that counts",
    columns: &ROW,
    key: &["file", "number"],
    rows,
};

const ROW: [Column; 12] = [
    column("layout", Kind::Whole, "number of this layout of tables"),
    column("inspection", Kind::Text, "id of the record"),
    column("file", Kind::Text, "its file, below the data folder"),
    column("number", Kind::Whole, "in the order of the steps, from 1"),
    column("step", Kind::Text, "step"),
    column("place", Kind::Text, "row or sentence it was reckoned for, where the step has several"),
    column("signed", Kind::Text, "the signature that counts: close, decisions or unsigned"),
    column("signed_entry", Kind::Whole, "its entry; nothing behind it is in this row"),
    column("reckoning", Kind::Text, "which one, with its number: torque/1"),
    column("result", Kind::Text, "rounded as the trade does, units in it; nothing where there is none"),
    column(
        "verdict",
        Kind::Text,
        "of a reckoning that gives one: within, undecided, past; it decides nothing by itself",
    ),
    column("problems", Kind::Text, "why there is no result, semicolons between"),
];

fn rows(record: &Exported<'_>) -> Vec<Vec<Cell>> {
    let steps = progress::steps(&record.judged);
    let all = steps.flat_map(|step| of_step(&record.judged, step).into_iter().map(|one| (step.id.as_str(), one)));
    (1..).zip(all).map(|(number, (step, one))| row(record, number, step, &one).into()).collect()
}

fn row(record: &Exported<'_>, number: usize, step: &str, one: &Worked) -> [Cell; 12] {
    let (result, verdict, problems) = match &one.outcome {
        Ok(outcome) => {
            let verdict = outcome.answers.at("verdict").filter(|verdict| **verdict != Answer::Nothing);
            (text(&outcome.working.result), maybe(verdict.map(Answer::shown)), Cell::Nothing)
        }
        Err(problems) => {
            let problems: Vec<_> = problems.iter().map(ToString::to_string).collect();
            (Cell::Nothing, Cell::Nothing, text(problems.join("; ")))
        }
    };
    [
        Cell::Whole(LAYOUT),
        record.id(),
        text(record.file),
        count(number),
        text(step),
        maybe(one.spot.as_ref()),
        text(record.signed_word()),
        record.sign_entry(),
        text(&one.reckoning),
        result,
        verdict,
        problems,
    ]
}
