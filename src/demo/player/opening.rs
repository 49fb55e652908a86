//! The opening answers of a file, which stand before everything else.

use std::collections::BTreeMap;

use crate::domain::checklist::Checklist;
use crate::domain::figure::Figure;
use crate::domain::id::Id;
use crate::domain::inspection::{Arrives, Manual, Opening};
use crate::domain::refusal::Refusal;
use crate::domain::stamp::{self, Stamp};
use crate::records::checklist_file::built_in;

use super::super::answers::Line;
use super::PlayFault;

/// What a record begins with.
pub(super) struct Opened {
    pub(super) line: usize,
    pub(super) by: Id,
    pub(super) begun: Stamp,
    pub(super) checklist: Checklist,
    pub(super) opening: Opening,
}

impl Opened {
    pub(super) fn read(lines: &[Line]) -> Result<Self, PlayFault> {
        let answers: BTreeMap<&str, (&str, usize)> = lines
            .iter()
            .filter_map(|line| match line.fields.as_slice() {
                [word, what, answer] if word == "opening" => Some((what.as_str(), (answer.as_str(), line.number))),
                _ => None,
            })
            .collect();
        let last = answers.values().map(|(_, number)| *number).max().unwrap_or(1);
        let fault = |what: &str| PlayFault { line: last, what: what.to_owned() };
        let begun = lines.iter().find_map(|line| match line.fields.as_slice() {
            [word, moment] if word == "clock" => moment.parse().ok(),
            _ => None,
        });
        let name = answers.get("checklist").map_or("overhaul", |(name, _)| *name);
        let checklist = built_in(name).and_then(Result::ok).ok_or_else(|| fault("there is no such checklist"))?;
        Ok(Self {
            line: last,
            by: one(&answers, "by", str::parse)?.ok_or_else(|| fault("`opening | by` is missing"))?,
            begun: begun.ok_or_else(|| fault("`clock` is missing"))?,
            checklist,
            opening: opening(&answers)?,
        })
    }
}

type Answers<'a> = BTreeMap<&'a str, (&'a str, usize)>;

fn one<T>(
    answers: &Answers<'_>,
    what: &str,
    read: impl FnOnce(&str) -> Result<T, Refusal>,
) -> Result<Option<T>, PlayFault> {
    let Some((answer, line)) = answers.get(what) else { return Ok(None) };
    read(answer).map(Some).map_err(|refusal| PlayFault { line: *line, what: refusal.to_string() })
}

fn opening(answers: &Answers<'_>) -> Result<Opening, PlayFault> {
    let text = |what: &str| answers.get(what).map(|(answer, _)| (*answer).to_owned());
    let checked = one(answers, "checked", stamp::day)?;
    let manual = text("manual").zip(text("edition")).zip(checked);
    Ok(Opening {
        reason: text("reason"),
        arrives: text("arrives").and_then(|word| Arrives::parse(&word)),
        machine_hours: one(answers, "machine hours", str::parse::<Figure>)?,
        part_hours: BTreeMap::new(),
        doubts: Vec::new(),
        own_hours: None,
        manual: manual.map(|((title, edition), checked)| Manual { title, edition, checked }),
        letters: text("letters"),
        next_hours: one(answers, "next hours", str::parse::<Figure>)?,
        next_date: one(answers, "next date", stamp::day)?,
    })
}
