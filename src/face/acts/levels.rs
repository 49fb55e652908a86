//! Levels typed in from the manual: they judge the readings taken before, too. Five answers, two of them Enter alone.

use rust_decimal::Decimal;

use crate::domain::characteristic::{Characteristic, Given};
use crate::domain::decide::{may_judge, odd_level};
use crate::domain::doubt::Doubt;
use crate::domain::entry::Act;
use crate::domain::gate::{self, Missing};
use crate::domain::inspection::Doubted;
use crate::domain::sheet::{Amount, Bound, GivenFigure, Level, Levels, Rule, Touching, Which};
use crate::domain::sides;
use crate::domain::unit::Unit;
use crate::domain::verdict::Consequence;

use super::super::inquiry::{Answers, Reply, figure, refused};
use super::{At, Deed, act, only_say, owned};

/// From where a figure of the machine is usually known; a manual is named with its page.
const FROM: [&str; 2] = ["counted on the part", "measured on the part"];

/// Takes a level away.
const TAKEN_AWAY: &str = "no level";

/// Where a level begins, and on which side.
#[derive(Default)]
struct From {
    upper: Option<Bound>,
    lower: Option<Bound>,
}

impl At<'_> {
    pub(super) fn level(&self, answers: &mut Answers<'_>) -> Reply<Deed> {
        let mut all: Vec<_> = Characteristic::all().collect();
        // what the step at hand judges stands first, what has no level yet before what has one
        all.sort_by_key(|one| (!self.is_judged_here(*one), self.has_levels(*one)));
        let levels = |one: &Characteristic| {
            if self.has_levels(*one) { "has levels" } else { "no level yet" }
        };
        let part = |id| self.inspection.head().checklist.part(id).map_or(id, |part| part.short.as_str());
        let words = |one: &Characteristic| format!("{}, {}: {}", part(one.part()), one.name(), levels(one));
        let words: Vec<_> = all.iter().map(|one| ("", words(one))).collect();
        let index = answers.choose_known("a level of what", &words, Some(0))?;
        let Some(characteristic) = all.get(index).copied() else { return Ok(Deed::Say(Vec::new())) };
        let unit = self.unit_of(characteristic);
        let source =
            answers.sentence_from("where it stands: manual, edition, page or table", self.last_source().as_ref())?;
        let behind = if unit == Unit::One { String::new() } else { format!(", {unit}") };
        let asked = [
            format!("the new range{behind}, such as 0.130..0.170"),
            format!("the alert{behind}, from where it is watched, such as >=0.210"),
            format!(
                "the limit{behind}, and what it leads to, such as >0.220 <0.130 replace; guarded behind it where the \
                 gauge's uncertainty counts"
            ),
        ];
        let old = self.inspection.sheet().and_then(|sheet| sheet.levels.get(&characteristic));
        let old = old.cloned().unwrap_or_default();
        // what is not typed stays as it is
        let (mut levels, mut typed) = (old.clone(), Levels::default());
        let mut doubts = Vec::new();
        for (which, asked) in Which::ALL.into_iter().zip(asked) {
            let stays = if old.of(which).is_some() { "as it is, `no level` takes it away" } else { "none" };
            let asked = format!("{asked}, empty for {stays}");
            let said = self.with_level((characteristic, which, &source), &typed, &asked, answers)?;
            let Some((with, doubted)) = said else { continue };
            typed = with;
            levels = levels.with(which, typed.of(which).cloned());
            if doubted == Doubted::Yes {
                doubts = vec![Doubt::ANOTHER_UNIT.to_owned()];
            }
        }
        if levels == old {
            return Ok(only_say("No figure was given, nothing is entered."));
        }
        Ok(act(Act::Level { characteristic, levels: Box::new(levels), doubts }))
    }

    /// What the grid at hand waits for stands first: the number of lands is counted on the bench where no sheet says it.
    pub(super) fn given(&self, answers: &mut Answers<'_>) -> Reply<Deed> {
        let wanted = self.step.map(|step| gate::missing(self.inspection, step, &self.hand)).unwrap_or_default();
        let is_known = |given: Given| self.inspection.sheet().is_some_and(|sheet| sheet.given(given).is_some());
        let mut all: Vec<Given> = Given::all().collect();
        all.sort_by_key(|given| (!wanted.contains(&Missing::Given(*given)), is_known(*given)));
        let known = |given: Given| if is_known(given) { "known, this takes its place" } else { "not given" };
        let words: Vec<_> = all.iter().map(|one| (one.name(), format!("{}: {}", one.what(), known(*one)))).collect();
        let index = answers.choose_known("which figure of the machine", &words, Some(0))?;
        let Some(given) = all.get(index).copied() else { return Ok(Deed::Say(Vec::new())) };
        let unit = given.unit();
        let behind = if unit == Unit::One { String::new() } else { format!(", {unit}") };
        let figure = answers.with(&format!("{}{behind}", given.what()), |text| {
            let figure = figure(unit)(text)?;
            let expected = given.expected_instead(figure).map(|expected| format!("{figure} is not {expected}."));
            expected.map_or(Ok(figure), Err)
        })?;
        let source = answers.choose_or_say("from where it is known", &owned(&FROM))?;
        Ok(act(Act::Given { given, figure: GivenFigure { figure, source } }))
    }

    /// One level more; none where it stays as it is. What a sheet's file could not hold is refused at its own answer; what may be another unit's
    /// figure is asked about once.
    fn with_level(
        &self,
        (one, which, source): (Characteristic, Which, &str),
        levels: &Levels,
        asked: &str,
        answers: &mut Answers<'_>,
    ) -> Reply<Option<(Levels, Doubted)>> {
        let read = |text: &str| {
            let (from, leads_to, rule) = typed(text, self.unit_of(one), which)?;
            let level = Level::new(from.upper, from.lower, leads_to, rule, source).map_err(|fault| refused(&fault))?;
            let levels = levels.clone().with(which, Some(level));
            may_judge(self.inspection, one, &levels).map_err(|refusal| refused(&refusal))?;
            Ok(levels)
        };
        let read = |text: &str| if text == TAKEN_AWAY { Ok(levels.clone()) } else { read(text) };
        let Some(with) = answers.maybe_with(asked, read)? else { return Ok(None) };
        let doubted = answers.sure_of(odd_level(self.inspection, one, &with, which))?;
        Ok(Some((with, doubted)))
    }

    /// The unit that a bare number means: that of the sheet in force.
    fn unit_of(&self, one: Characteristic) -> Unit {
        self.inspection.sheet().map_or(one.unit(), |sheet| sheet.unit_of(one.unit()))
    }

    fn is_judged_here(&self, one: Characteristic) -> bool {
        self.step.is_some_and(|step| step.judges.iter().any(|judged| judged.characteristic == one))
    }

    /// Whether the sheet in force judges it.
    fn has_levels(&self, one: Characteristic) -> bool {
        self.inspection.sheet().is_some_and(|sheet| sheet.levels.contains_key(&one))
    }

    /// The source of the level typed last.
    fn last_source(&self) -> Option<String> {
        self.inspection.standing_entries().rev().find_map(|entry| {
            let Act::Level { levels, .. } = &entry.act else { return None };
            let level = [&levels.limit, &levels.alert, &levels.new].into_iter().flatten().next()?;
            Some(level.source().to_owned())
        })
    }
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Side {
    /// The words name what is allowed.
    Range,
    /// The words name where failing begins.
    Failing,
}

/// `>0.220 <0.130`, `at or above 0.130, at or below 0.170`, `0.130..0.170`.
fn bounds(text: &str, unit: Unit, side: Side) -> Result<From, String> {
    let mut from = From::default();
    if let Some((low, high)) = sides::ends(text) {
        let high = figure(unit)(high)?;
        let low = figure(high.unit())(low)?;
        let bound = |figure| Some(Bound { amount: Amount::Fixed(figure), touching: Touching::Passes });
        return Ok(From { upper: bound(high), lower: bound(low) });
    }
    for (word, rest) in sides::pieces(text) {
        let amount = Amount::Fixed(figure(unit)(&rest)?);
        // a range names what is allowed, so touching it passes and its `above` is a lower bound
        let (is_above, touches) = match word {
            Some("at or above") => (true, true),
            Some("above") => (true, false),
            Some("at or below") => (false, true),
            Some("below") => (false, false),
            Some(_) | None => return Err(format!("On which side of {rest}? Put >=, >, <= or < before it.")),
        };
        let is_upper = is_above == (side == Side::Failing);
        let touching = if touches == (side == Side::Failing) { Touching::Fails } else { Touching::Passes };
        let place = if is_upper { &mut from.upper } else { &mut from.lower };
        if place.replace(Bound { amount, touching }).is_some() {
            return Err("Two bounds on one side. Give one for each side.".to_owned());
        }
    }
    Ok(from)
}

/// Bounds, what failing them leads to, by which rule.
fn typed(text: &str, unit: Unit, which: Which) -> Result<(From, Consequence, Rule), String> {
    Ok(match which {
        Which::New => (bounds(text, unit, Side::Range)?, Consequence::Rework, Rule::Simple),
        Which::Alert => (bounds(text, unit, Side::Failing)?, Consequence::Watch, Rule::Simple),
        Which::Limit => limit_of(text, unit)?,
    })
}

/// Bounds, then what failing them leads to, then `guarded` where it is.
fn limit_of(text: &str, unit: Unit) -> Result<(From, Consequence, Rule), String> {
    let (text, rule) = match text.trim().strip_suffix("guarded") {
        // one-sided 95 %, JCGM 106:2012
        Some(rest) => (rest.trim_end(), Rule::Guarded(Decimal::new(165, 2))),
        None => (text.trim(), Rule::Simple),
    };
    let all = [Consequence::Replace, Consequence::Rework, Consequence::Refer, Consequence::Watch];
    let (bounds_text, word) = text.rsplit_once([' ', ',']).unwrap_or((text, ""));
    let Some(leads_to) = all.into_iter().find(|one| one.word() == word) else {
        let words = all.map(Consequence::word).join(", ");
        return Err(format!("What does it lead to? Put one behind it: {words}."));
    };
    Ok((bounds(bounds_text.trim_end_matches([' ', ',']), unit, Side::Failing)?, leads_to, rule))
}
