//! Opening answers: asked when a record begins, and each of them later. A later one is a hold until it is given.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use crate::domain::checklist::Checklist;
use crate::domain::decide::is_sooner_for_a_limit;
use crate::domain::entitled::{reasoned_plan, supervises};
use crate::domain::entry::Act;
use crate::domain::exact::Exact;
use crate::domain::figure::Figure;
use crate::domain::hours;
use crate::domain::inspection::{Arrives, Doubted, Manual, Opening, OwnHours};
use crate::domain::rotor::Fitted;
use crate::domain::stamp::{Stamp, long_day};
use crate::domain::unit::Unit;

use super::super::inquiry::{Answers, Reply, Stop, day, figure, refused};
use super::begin::Rest;
use super::{At, Deed, act, owned};

/// What the opening questions rest on.
#[derive(Debug, Clone, Copy)]
pub struct Known<'a> {
    /// What is answered already, and is not asked.
    pub opening: &'a Opening,
    /// The manual of the last opening; offered, never taken silently.
    pub manual: Option<&'a Manual>,
    /// Hours of the parts, answered already in the words of the question.
    pub part_hours: Option<&'a str>,
    /// Parts by their ids, for hours of their own; the ids that count.
    pub parts: &'a [String],
    /// Hours of parts as they follow from the last records.
    pub hours: &'a BTreeMap<String, Exact>,
    /// Hours of the machine at the last opening, and its day.
    pub last: Option<(Figure, NaiveDate)>,
}

/// The answers that may be given later, in the order of the questions.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Answer {
    Hours,
    PartHours,
    Reason,
    Arrives,
    Manual,
    Letters,
    NextHours,
    NextDate,
}

const ALL: [Answer; 8] = [
    Answer::Hours,
    Answer::PartHours,
    Answer::Reason,
    Answer::Arrives,
    Answer::Manual,
    Answer::Letters,
    Answer::NextHours,
    Answer::NextDate,
];

/// Usual reasons for opening; any other may be typed.
const REASONS: [&str; 4] = ["periodic, by hours", "vibration or noise", "after damage", "owner's wish"];

impl Answer {
    fn is_given(self, opening: &Opening) -> bool {
        match self {
            Self::Hours => opening.machine_hours.is_some(),
            Self::PartHours => !opening.part_hours.is_empty() || opening.own_hours == Some(OwnHours::AsKnown),
            Self::Reason => opening.reason.is_some(),
            Self::Arrives => opening.arrives.is_some(),
            Self::Manual => opening.manual.is_some(),
            Self::Letters => opening.letters.is_some(),
            Self::NextHours => opening.next_hours.is_some(),
            Self::NextDate => opening.next_date.is_some(),
        }
    }

    /// `hours of the machine: 48480 h`; what is missing is held until it is given.
    fn stands(self, opening: &Opening) -> String {
        let or_later = |answer: Option<String>| answer.unwrap_or_else(|| "later, held until given".to_owned());
        match self {
            Self::Hours => format!("hours of the machine: {}", or_later(opening.machine_hours.map(|h| h.to_string()))),
            Self::PartHours => {
                let hours: Vec<_> = opening.part_hours.iter().map(|(part, hours)| format!("{part} {hours}")).collect();
                let known = opening.own_hours != Some(OwnHours::Later);
                let hours = if hours.is_empty() {
                    known.then(|| OwnHours::AsKnown.word().to_owned())
                } else {
                    Some(hours.join("; "))
                };
                format!("hours of the parts: {}", or_later(hours))
            }
            Self::Reason => format!("why it is opened: {}", or_later(opening.reason.clone())),
            Self::Arrives => format!("how it comes: {}", or_later(opening.arrives.map(|way| way.word().to_owned()))),
            Self::Manual => {
                let manual = opening.manual.as_ref();
                format!("manual looked up: {}", or_later(manual.map(|one| format!("{}, {}", one.title, one.edition))))
            }
            Self::Letters => format!("service letters: {}", or_later(opening.letters.clone())),
            Self::NextHours => format!("next opening, hours: {}", or_later(opening.next_hours.map(|h| h.to_string()))),
            Self::NextDate => format!("next opening, day: {}", or_later(opening.next_date.map(long_day))),
        }
    }

    fn ask(self, into: &mut Opening, known: Known<'_>, now: Stamp, answers: &mut Answers<'_>) -> Reply<()> {
        match self {
            Self::Hours => {
                into.machine_hours = answers.maybe_with("hours of the machine, h, empty for later", hours_of)?;
                let odd = into.machine_hours.map(|typed| hours::doubts(typed, now.date(), known.last));
                let other = other_hours(into.machine_hours, known.opening.machine_hours);
                let odd: Vec<_> = odd.into_iter().flatten().chain(other).collect();
                if answers.sure_of(Some(odd.join(". ")).filter(|odd| !odd.is_empty()))? == Doubted::Yes {
                    let doubt = into.machine_hours.map(|now| hours::doubt_of(now, known.last.map(|(hours, _)| hours)));
                    into.doubts.extend(doubt);
                }
            }
            Self::PartHours => {
                let machine = known.with(into).machine_hours.filter(|_| !known.is_new_counter(into));
                (into.part_hours, into.own_hours) = part_hours(known, into, answers)?;
                let odd = |(part, typed): (&String, &Figure)| {
                    Some((part.clone(), hours::odd_part(part, *typed, machine, known.hours.get(part))?))
                };
                let (parts, odd): (Vec<_>, Vec<_>) = into.part_hours.iter().filter_map(odd).unzip();
                match answers.sure_of(Some(odd.join("; ")).filter(|odd| !odd.is_empty())) {
                    // what was said before the first question is asked
                    Err(Stop::Again(_)) if known.part_hours.is_some() => {
                        return self.ask(into, Known { part_hours: None, ..known }, now, answers);
                    }
                    sure => {
                        if sure? == Doubted::Yes {
                            into.doubts.extend(parts);
                        }
                    }
                }
            }
            Self::Reason => {
                into.reason = answers.maybe_choose_or_say("why it is opened", "later", &owned(&REASONS))?;
            }
            Self::Arrives => into.arrives = arrives(answers)?,
            Self::Manual => into.manual = manual(known.manual, now, answers)?,
            Self::Letters => {
                let (asked, none) = ("service letters looked up today: which", "none, no letters");
                let said = answers.maybe_choose_or_say(asked, "later", &owned(&[none]))?;
                into.letters = said.map(|said| if said == none { NO_LETTERS.to_owned() } else { said });
            }
            Self::NextHours => {
                let (asked, machine) =
                    ("hours planned for the next opening, h, empty for later", known.with(into).machine_hours);
                into.next_hours = answers.maybe_with(asked, |text| later_hours(text, machine))?;
                answers.sure_of(hours::odd_plan(&known.with(into), now.date()))?;
            }
            Self::NextDate => {
                let asked = "day planned for it, such as 2031-04-17, empty for later";
                into.next_date = answers.maybe_with(asked, |text| later_day(text, now))?;
                answers.sure_of(hours::odd_plan(&known.with(into), now.date()))?;
            }
        }
        Ok(())
    }
}

impl Known<'_> {
    /// All answers so far.
    fn with(&self, given: &Opening) -> Opening {
        let mut all = self.opening.clone();
        all.take_in(given);
        all
    }

    /// Whether the counter of the machine stands lower than at the last opening.
    fn is_new_counter(&self, given: &Opening) -> bool {
        self.last.zip(self.with(given).machine_hours).is_some_and(|((last, _), now)| hours::is_fewer(now, last))
    }
}

/// They were looked up, and there are none.
const NO_LETTERS: &str = "no letters";

/// Hours, not below nothing.
pub(super) fn hours_of(text: &str) -> Result<Figure, String> {
    let hours = figure(Unit::Hour)(text)?;
    hours::possible(&[hours]).map(|()| hours).map_err(|refusal| refused(&refusal))
}

/// Hours of the next opening: after this one's, or refused where they are typed.
fn later_hours(text: &str, machine: Option<Figure>) -> Result<Figure, String> {
    let next = figure(Unit::Hour)(text)?;
    hours::planned_hours(next, machine).map(|()| next).map_err(|refusal| refused(&refusal))
}

/// The day of the next opening, after today.
fn later_day(text: &str, now: Stamp) -> Result<NaiveDate, String> {
    let next = day(text)?;
    hours::planned_day(next, now.date()).map(|()| next).map_err(|refusal| refused(&refusal))
}

/// Every opening answer that is not known, each of which may be later.
///
/// # Errors
/// The next question, or why the last answer will not do.
pub fn answers_of_opening((known, rest): (Known<'_>, Rest), now: Stamp, answers: &mut Answers<'_>) -> Reply<Opening> {
    let mut opening = known.opening.clone();
    let is_said = |answer: Answer| answer == Answer::PartHours && known.part_hours.is_some();
    let is_asked = |answer: &Answer| rest == Rest::Asked && !answer.is_given(known.opening) || is_said(*answer);
    for answer in ALL.into_iter().filter(is_asked) {
        answer.ask(&mut opening, known, now, answers)?;
    }
    if rest == Rest::Later && opening.part_hours.is_empty() && known.part_hours.is_none() {
        // nobody has said that the parts are as old as the machine
        opening.own_hours = opening.own_hours.or(Some(OwnHours::Later));
    }
    Ok(opening)
}

/// Every forecast runs on the hours of the machine: others than were given before are asked about.
fn other_hours(anew: Option<Figure>, stands: Option<Figure>) -> Option<String> {
    let (anew, stands) = (anew?, stands?);
    (anew != stands).then(|| format!("{stands} were given before, {anew} instead: is it so"))
}

fn arrives(answers: &mut Answers<'_>) -> Reply<Option<Arrives>> {
    let ways = owned(&Arrives::ALL.map(Arrives::word));
    let said = answers.maybe_choose_or_say("how it comes", "later", &ways)?;
    said.map(|said| {
        let like = Arrives::ALL.into_iter().find(|way| way.word().eq_ignore_ascii_case(&said));
        like.ok_or_else(|| Stop::Wrong(format!("`{said}` is none of: {}.", ways.join(", "))))
    })
    .transpose()
}

/// The manual as it lies on the bench today; the last one is taken by the word `same`.
fn manual(last: Option<&Manual>, now: Stamp, answers: &mut Answers<'_>) -> Reply<Option<Manual>> {
    let checked = now.date();
    let same = last.map(|last| format!("same: {}, edition {}, looked up today", last.title, last.edition));
    let offered: Vec<_> = same.clone().into_iter().collect();
    let title = answers.maybe_choose_or_say("title of the manual", "later", &offered)?;
    match (title, last) {
        (None, _) => Ok(None),
        (Some(title), Some(last)) if Some(&title) == same.as_ref() => Ok(Some(Manual { checked, ..last.clone() })),
        (Some(title), _) if !title.contains(char::is_alphabetic) => Err(Stop::Wrong(format!(
            "`{title}` is no title. Type what stands on the manual, or leave it empty for later."
        ))),
        (Some(title), _) => {
            let edition = answers.sentence("its edition, looked up today")?;
            Ok(Some(Manual { title, edition, checked }))
        }
    }
}

/// Hours of parts, or that they come later or are as known.
type PartHours = (BTreeMap<String, Figure>, Option<OwnHours>);

/// `bush.ts 12130 h; nozzle 12130 h`, or that it comes later; a part of which nothing is said runs as the records know it.
/// What was said before and will not do is asked.
fn part_hours(known: Known<'_>, given: &Opening, answers: &mut Answers<'_>) -> Reply<PartHours> {
    let is_new_counter = known.is_new_counter(given);
    let follow: Vec<_> = known.hours.iter().map(|(part, hours)| format!("{part} {hours} h")).collect();
    let (what, told) = if is_new_counter {
        ("hours of the parts, which a new counter does not tell", "at the last opening")
    } else {
        ("hours of parts renewed since the machine was new", "known")
    };
    let known_hours = if follow.is_empty() { String::new() } else { format!(" ({told}: {})", follow.join("; ")) };
    let mut asked = format!("{what}{known_hours}, such as `bush.ts 12130; nozzle 12130`");
    let (as_known, later) = (OwnHours::AsKnown.word(), OwnHours::Later.word());
    if let Some(said) = known.part_hours {
        let said = Some(said.trim()).filter(|said| !said.eq_ignore_ascii_case(as_known));
        match hours_said(known, said, given) {
            Ok(hours) => return Ok(hours),
            Err(why) => asked = format!("{why} Once more: {asked}"),
        }
    }
    let (empty, choices) = if is_new_counter { (later, Vec::new()) } else { (as_known, owned(&[later])) };
    let said = answers.maybe_choose_or_say(&asked, empty, &choices)?;
    // the word that an empty answer stands for may be typed too
    let said = said.filter(|said| !said.trim().eq_ignore_ascii_case(empty));
    hours_said(known, said.as_deref(), given).map_err(Stop::Wrong)
}

fn hours_said(known: Known<'_>, said: Option<&str>, given: &Opening) -> Result<PartHours, String> {
    let one = |pair: &str| {
        let (part, hours) =
            pair.trim().split_once(' ').ok_or_else(|| format!("`{pair}` is no part with its hours."))?;
        if !known.parts.is_empty() && !known.parts.iter().any(|id| id == part) {
            return Err(format!("`{part}` is no part of the checklist. Its parts: {}.", known.parts.join(", ")));
        }
        Ok((part.to_owned(), hours_of(hours)?))
    };
    let Some(text) = said else {
        // what was left for later is answered by these words too
        let was_later = known.opening.own_hours.map(|_| OwnHours::AsKnown);
        return Ok((BTreeMap::new(), if known.is_new_counter(given) { Some(OwnHours::Later) } else { was_later }));
    };
    if text.eq_ignore_ascii_case(OwnHours::Later.word()) {
        return Ok((BTreeMap::new(), Some(OwnHours::Later)));
    }
    let mut all = BTreeMap::new();
    for pair in text.split(';') {
        let (part, hours) = one(pair)?;
        if let Some(before) = all.insert(part.clone(), hours) {
            return Err(format!("`{part}` stands twice, {before} and {hours}: once is enough."));
        }
    }
    Ok((all, None))
}

impl At<'_> {
    /// One answer, or all that were left for later.
    pub(super) fn opening(&self, answers: &mut Answers<'_>) -> Reply<Deed> {
        let stands = self.inspection.opening();
        let missing: Vec<_> = ALL.into_iter().filter(|answer| !answer.is_given(stands)).collect();
        let mut lines: Vec<_> = ALL.iter().map(|answer| ("", answer.stands(stands))).collect();
        // what is answered behind it is of these alone
        let later: Vec<_> = missing.iter().map(|answer| answer.stands(stands)).collect();
        let later = later.join("; ");
        if missing.len() > 1 {
            lines.insert(0, (later.as_str(), "everything that is later".to_owned()));
        }
        let index = answers.choose_known("which answer", &lines, None)?;
        let one = if missing.len() > 1 { index.checked_sub(1) } else { Some(index) };
        let asked = one.and_then(|index| ALL.get(index)).map_or(missing, |one| vec![*one]);
        let parts = part_ids(&self.inspection.head().checklist);
        let hours = self.hours_known();
        let last = hours::at_last_opening(self.inspection);
        // the sheet was made from one, which is looked up afresh
        let checked = self.hand.at.date();
        let manual = self.inspection.sheet().map(|sheet| Manual {
            title: sheet.manual.clone(),
            edition: sheet.edition.clone(),
            checked,
        });
        let known =
            Known { opening: stands, manual: manual.as_ref(), part_hours: None, parts: &parts, hours: &hours, last };
        let mut given = Opening::default();
        for answer in asked {
            answer.ask(&mut given, known, self.hand.at, answers)?;
        }
        if given == Opening::default() {
            return Ok(super::only_say("Nothing was answered."));
        }
        Ok(act(Act::Opening(Box::new(given))))
    }

    /// Hours of every part that was fitted on its own.
    fn hours_known(&self) -> BTreeMap<String, Exact> {
        let last = hours::at_last_opening(self.inspection).map(|(hours, _)| hours);
        let hours = |(part, fitted): (&String, &Fitted)| {
            let told = hours::of_part(self.inspection, part).or_else(|| hours::since_new(fitted, last?))?;
            Some((part.clone(), told))
        };
        self.inspection.head().parts.iter().filter_map(hours).collect()
    }
}

/// Parts that may run hours of their own.
fn part_ids(checklist: &Checklist) -> Vec<String> {
    checklist.parts.iter().map(|part| part.id.clone()).collect()
}

impl At<'_> {
    /// The next opening, planned anew.
    pub(super) fn plan(&self, answers: &mut Answers<'_>) -> Reply<Deed> {
        let stands = self.inspection.opening();
        let now = |answer: Answer| answer.stands(stands);
        let asked = format!("{}; planned anew, h, empty to leave it", now(Answer::NextHours));
        let hours = answers.maybe_with(&asked, |text| later_hours(text, stands.machine_hours))?;
        let asked = format!("{}; planned anew, such as 2031-04-17, empty to leave it", now(Answer::NextDate));
        let date = answers.maybe_with(&asked, |text| later_day(text, self.hand.at))?;
        let mut anew = stands.clone();
        anew.take_in(&Opening { next_hours: hours, next_date: date, ..Opening::default() });
        answers.sure_of(hours::odd_plan(&anew, self.hand.at.date()))?;
        if hours.is_none() && date.is_none() {
            return Ok(super::only_say("Nothing was planned anew."));
        }
        let later = Opening { next_hours: hours, ..Opening::default() };
        let decided =
            is_sooner_for_a_limit(self.inspection, &later) && supervises(self.inspection, &self.hand.by).is_err();
        let supervisor = if decided { Some(self.supervisor(answers)?) } else { None };
        let reason = answers.with("why", |text| match reasoned_plan(text) {
            Ok(()) => Ok(text.to_owned()),
            Err(refusal) => Err(refused(&refusal)),
        })?;
        Ok(act(Act::Plan { hours, date, supervisor, reason }))
    }
}
