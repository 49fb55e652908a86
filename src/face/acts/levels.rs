//! Levels typed in from the manual: they judge the readings taken before, too.

use rust_decimal::Decimal;

use crate::domain::characteristic::Characteristic;
use crate::domain::entry::Act;
use crate::domain::sheet::{Amount, Bound, Level, Levels, Rule, Touching};
use crate::domain::unit::Unit;
use crate::domain::verdict::Consequence;

use super::super::inquiry::{Answers, Reply, Stop, figure, refused};
use super::{At, Deed, act, only_say};

/// Where a level begins, and on which side.
struct From {
    upper: Option<Bound>,
    lower: Option<Bound>,
}

impl At<'_> {
    pub(super) fn level(&self, answers: &mut Answers<'_>) -> Reply<Deed> {
        let all: Vec<_> = Characteristic::all().collect();
        let ids: Vec<_> = all.iter().map(|one| format!("{}: {}", one.id(), self.levels_of(*one))).collect();
        let index = answers.choose("a level of what", &ids)?;
        let Some(characteristic) = all.get(index).copied() else { return Ok(Deed::Say(Vec::new())) };
        let unit = characteristic.unit();
        let source = answers.sentence("where it stands: manual, edition, page or table")?;
        let new = bounds(answers, "the new range", unit, Side::Range)?;
        let alert = bounds(answers, "the alert", unit, Side::Failing)?;
        let limit = bounds(answers, "the limit", unit, Side::Failing)?;
        let (leads_to, rule) = match &limit {
            Some(_) => (consequence(answers)?, rule(answers)?),
            None => (Consequence::Replace, Rule::Simple),
        };
        let made = |from: Option<From>, leads_to, rule| {
            let made = from.map(|from| Level::new(from.upper, from.lower, leads_to, rule, &source));
            made.transpose().map_err(|refusal| Stop::Wrong(refused(&refusal)))
        };
        let levels = Levels {
            new: made(new, Consequence::Rework, Rule::Simple)?,
            alert: made(alert, Consequence::Watch, Rule::Simple)?,
            limit: made(limit, leads_to, rule)?,
            part_number: None,
        };
        if levels == Levels::default() {
            return Ok(only_say("No figure was given, nothing is entered."));
        }
        Ok(act(Act::Level { characteristic, levels: Box::new(levels) }))
    }

    /// Whether the sheet in force judges it.
    fn levels_of(&self, characteristic: Characteristic) -> &'static str {
        let known = self.inspection.sheet().is_some_and(|sheet| sheet.levels.contains_key(&characteristic));
        if known { "has levels, these take their place" } else { "no level yet" }
    }
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Side {
    /// The words name what is allowed.
    Range,
    /// The words name where failing begins.
    Failing,
}

fn bounds(answers: &mut Answers<'_>, what: &str, unit: Unit, side: Side) -> Reply<Option<From>> {
    let example = match side {
        Side::Range => "such as `at or above 0.130, at or below 0.170`",
        Side::Failing => "such as `above 0.220, below 0.130` or `at or above 0.022`",
    };
    let behind = if unit == Unit::One { String::new() } else { format!(", {unit}") };
    answers.maybe_with(&format!("{what}{behind}, {example}, empty for none"), |text| {
        let mut from = From { upper: None, lower: None };
        for part in text.split(", ") {
            let (is_above, touches, rest) = direction(part.trim())?;
            let amount = Amount::Fixed(figure(unit)(rest)?);
            // a range names what is allowed, so touching it passes and its `above` is a lower bound
            let (is_upper, touching) = match (side, touches) {
                (Side::Range, true) => (!is_above, Touching::Passes),
                (Side::Range, false) => (!is_above, Touching::Fails),
                (Side::Failing, true) => (is_above, Touching::Fails),
                (Side::Failing, false) => (is_above, Touching::Passes),
            };
            let place = if is_upper { &mut from.upper } else { &mut from.lower };
            if place.replace(Bound { amount, touching }).is_some() {
                return Err("Two bounds on one side. Give one for each side.".to_owned());
            }
        }
        Ok(from)
    })
}

/// The words before a bound's figure: whether above, whether touching counts, and the rest.
fn direction(text: &str) -> Result<(bool, bool, &str), String> {
    let words = [
        ("at or above ", (true, true)),
        ("at or below ", (false, true)),
        ("above ", (true, false)),
        ("below ", (false, false)),
    ];
    let found = words.iter().find_map(|(word, (above, touches))| Some((*above, *touches, text.strip_prefix(word)?)));
    found.ok_or_else(|| format!("`{text}` begins with none of: at or above, at or below, above, below."))
}

fn consequence(answers: &mut Answers<'_>) -> Reply<Consequence> {
    let all = [Consequence::Replace, Consequence::Rework, Consequence::Refer, Consequence::Watch];
    let words = all.map(|one| one.word().to_owned());
    let index = answers.choose("past the limit leads to", &words)?;
    Ok(all.get(index).copied().unwrap_or(Consequence::Replace))
}

fn rule(answers: &mut Answers<'_>) -> Reply<Rule> {
    let simple = answers.word("does the gauge's uncertainty count short of the limit", &["no", "yes"])? == 0;
    // one-sided 95 %, JCGM 106:2012
    Ok(if simple { Rule::Simple } else { Rule::Guarded(Decimal::new(165, 2)) })
}
