//! Standings in the words of the bench: a sign, a word, a figure that never contradicts its verdict.

use crate::domain::characteristic::Characteristic;
use crate::domain::entry::Act;
use crate::domain::exact::{Exact, Rounding};
use crate::domain::figure::Figure;
use crate::domain::inspection::{Doubted, Inspection};
use crate::domain::judge::{self, Condition, NotJudged, Reach, Reached, Side};
use crate::domain::measured::PlaceValue;
use crate::domain::sheet::Touching;
use crate::domain::standing::{CharacteristicStanding, Judgement, Outcome, PartStanding, Standing};
use crate::domain::telling;
use crate::domain::unit::Unit;
use crate::domain::verdict::{Consequence, Disposition};

use super::job::Job;
use super::look::Tone;

/// One characteristic in words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Shown {
    /// `0.2140 mm at inner 0`; empty before a place is complete.
    pub figure: String,
    /// `+ within`, `X past limit: replace`, `17 of 24 taken`.
    pub verdict: String,
    /// Its tone.
    pub tone: Tone,
    /// `at or above 0.210 mm`, the level that decided or lies nearest.
    pub level: String,
    /// Why it cannot be judged, each in full.
    pub why: Vec<String>,
}

/// Something that has just come to be past its limit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum News {
    /// A characteristic, and what it leads to.
    Characteristic(Characteristic, Condition, Consequence),
    /// A finding's entry, and what its grade leads to.
    Finding(u32, Consequence),
}

/// Everything past its limit.
pub fn out_of_limit(inspection: &Inspection, standing: &Standing) -> Vec<News> {
    let grave = |reach: Reach| matches!(reach, Reach::Limit | Reach::NotNew);
    let judged =
        standing.characteristics.iter().filter(|one| one.judgement().is_some_and(|one| grave(one.reached.reach)));
    let judged = judged.map(|one| News::Characteristic(one.characteristic, one.condition, one.leads_to_now()));
    let findings = inspection.standing_entries().filter_map(|entry| {
        let Act::Finding(finding) = &entry.act else { return None };
        let kind = inspection.head().checklist.part(&finding.part)?.finding(&finding.kind)?;
        let leads_to = kind.consequence(&finding.grade);
        (leads_to > Consequence::Watch).then_some(News::Finding(entry.number, leads_to))
    });
    judged.chain(findings).collect()
}

/// A figure in its unit: all digits when they end, else four places, never rounded across `bound`.
pub fn figure(value: &Exact, unit: Unit, bound: Option<&Exact>) -> String {
    let number = telling::beside(value, bound, 4);
    if unit == Unit::One { number } else { format!("{number} {unit}") }
}

/// A figure of a column: four places where that many say all, so that points stand under each other.
pub fn aligned(value: &Exact, bound: Option<&Exact>) -> String {
    let all = value.as_decimal();
    let short = all.is_some_and(|all| all.split_once('.').is_none_or(|(_, places)| places.len() <= 4));
    if short { value.rounded(4, Rounding::Nearest) } else { figure(value, Unit::One, bound) }
}

/// `at or above 0.022 mm`.
fn level(reached: &Reached, unit: Unit) -> String {
    let Some(bound) = &reached.bound else { return String::new() };
    let word = match (reached.side, reached.touching) {
        (Side::Upper, Touching::Fails) => "at or above",
        (Side::Upper, Touching::Passes) => "above",
        (Side::Lower, Touching::Fails) => "at or below",
        (Side::Lower, Touching::Passes) => "below",
    };
    let name = match reached.reach {
        Reach::Limit => "Limit:",
        Reach::Alert => "Alert:",
        Reach::NotNew => "New range fails",
        Reach::Undecided if reached.is_unknown() => "The gauge's uncertainty is not known; limit:",
        Reach::Undecided => "Too close to the limit:",
        Reach::Within => "Next level:",
    };
    format!("{name} {word} {}.", figure(bound, unit, None))
}

/// Sign, word and tone of what a figure has reached.
pub fn reached_words(reached: &Reached) -> (String, Tone) {
    match reached.reach {
        Reach::Within => ("+ within".to_owned(), Tone::Good),
        Reach::Alert => ("~ watch".to_owned(), Tone::Watch),
        Reach::Undecided => ("? undecided".to_owned(), Tone::Watch),
        Reach::NotNew => ("/ not as new".to_owned(), Tone::Bad),
        Reach::Limit => (format!("{} {}", sign_of(reached.leads_to), reached.leads_to.word()), Tone::Bad),
    }
}

/// Sign, word and tone of one place; nothing in doubt and nothing that must be retaken stands with the sign of what is well.
pub fn place_words(inspection: &Inspection, standing: &CharacteristicStanding, value: &PlaceValue) -> (String, Tone) {
    if let Some(fault) = &value.fault {
        return (format!("? {}", fault.word), Tone::Watch);
    }
    let words = match judged(inspection, standing, value) {
        Ok(reached) => reached_words(&reached),
        Err(why) => (format!("? {}", why.word()), Tone::Watch),
    };
    if value.doubted == Doubted::Yes { never_green(words) } else { words }
}

/// A verdict that something is still open of.
fn never_green((words, tone): (String, Tone)) -> (String, Tone) {
    match words.strip_prefix('+') {
        Some(rest) => (format!("?{rest}"), Tone::Watch),
        None => (words, tone),
    }
}

/// What keeps it from being judged; said as soon as it is known.
fn why(standing: &CharacteristicStanding) -> Vec<String> {
    match &standing.outcome {
        Outcome::Open(why) if standing.measured.faults.is_empty() => vec![why.clone()],
        Outcome::Open(_) | Outcome::Incomplete(_) => standing.measured.faults.clone(),
        Outcome::Past(_, open) => open.iter().map(|why| format!("open besides: {why}")).collect(),
        Outcome::NotTaken | Outcome::LeftOut(_) | Outcome::Excused | Outcome::Unjudged { .. } | Outcome::Judged(_) => {
            Vec::new()
        }
    }
}

/// What one value of a step has reached; none where there is no level for it.
pub fn reached(inspection: &Inspection, standing: &CharacteristicStanding, value: &PlaceValue) -> Option<Reached> {
    judged(inspection, standing, value).ok()
}

fn judged(
    inspection: &Inspection,
    standing: &CharacteristicStanding,
    value: &PlaceValue,
) -> Result<Reached, NotJudged> {
    // what settles a set that is not whole is judged by one side alone
    if let Some(settled) = settling(standing).filter(|one| one.value == *value) {
        return Ok(settled.reached.clone());
    }
    let sheet = inspection.sheet().ok_or(NotJudged::NoLevel)?;
    let levels = sheet.levels.get(&standing.characteristic).ok_or(NotJudged::NoLevel)?;
    judge::judge(&value.judged(standing.measured.unit), levels, standing.condition, sheet)
}

/// What is certain of a set by a place that is not complete.
fn settling(standing: &CharacteristicStanding) -> Option<&Judgement> {
    standing.judgement().filter(|one| !standing.measured.values.contains(&one.value))
}

/// What a step judges by the figures of a place, with its value there; of two the graver.
pub fn judged_at<'a>(job: &'a Job, step: &'a str, spot: &str) -> Option<(&'a CharacteristicStanding, &'a PlaceValue)> {
    let at = job.standing.of_step(step).filter_map(|one| Some((one, at_spot(&job.inspection, one, spot)?)));
    at.max_by_key(|(one, value)| reached(&job.inspection, one, value).map(|reached| reached.leads_to))
}

/// The worst of the values so far: the gravest, and of those alike the one nearest to the next level.
pub fn worst<'a>(inspection: &Inspection, standing: &'a CharacteristicStanding) -> Option<&'a PlaceValue> {
    worst_of(inspection, standing, &|_| true)
}

/// The value of a place; of two leaves the one that is nearer to a level.
pub fn at_spot<'a>(
    inspection: &Inspection,
    standing: &'a CharacteristicStanding,
    spot: &str,
) -> Option<&'a PlaceValue> {
    let whole = worst_of(inspection, standing, &|value| value.spot == spot);
    whole.or_else(|| settling(standing).map(|one| &one.value).filter(|value| value.spot == spot))
}

fn worst_of<'a>(
    inspection: &Inspection,
    standing: &'a CharacteristicStanding,
    fits: &dyn Fn(&PlaceValue) -> bool,
) -> Option<&'a PlaceValue> {
    let key = |value: &PlaceValue| {
        let reached = reached(inspection, standing, value);
        let leads_to = reached.as_ref().map(|reached| reached.leads_to);
        let way = reached.and_then(|reached| reached.bound).map(|bound| (&value.value - &bound).abs());
        (leads_to, way.map(std::cmp::Reverse))
    };
    standing.measured.values.iter().filter(|value| fits(value)).max_by(|one, other| key(one).cmp(&key(other)))
}

/// The sign of a consequence.
pub fn sign_of(consequence: Consequence) -> char {
    match consequence {
        Consequence::Nothing => '+',
        Consequence::Watch => '~',
        Consequence::Refer => '>',
        Consequence::Rework => '/',
        Consequence::Replace => 'X',
        Consequence::Call => '!',
    }
}

impl Shown {
    /// How a characteristic stands.
    pub fn of(standing: &CharacteristicStanding) -> Self {
        let unit = standing.measured.unit;
        let (figure, level) = standing.judgement().map_or_else(Default::default, |judgement| {
            let bound = judgement.reached.bound.as_ref();
            let number = figure(&judgement.value.value, unit, bound);
            (format!("{number} at {}", judgement.value.place()), level(&judgement.reached, unit))
        });
        let (verdict, tone) = words(standing);
        Self { figure, verdict, tone, level, why: why(standing) }
    }
}

/// `> refer by forecast`, where that is graver than the figure of today.
fn by_forecast(standing: &CharacteristicStanding) -> Option<(String, Tone)> {
    let ahead = standing.leads_to_ahead();
    let tone = if ahead > Consequence::Watch { Tone::Bad } else { Tone::Watch };
    (ahead > standing.leads_to_now()).then(|| (format!("{} {} by forecast", sign_of(ahead), ahead.word()), tone))
}

/// How it stands today; what the forecast makes of a set that is not whole any more stands before that.
fn words(standing: &CharacteristicStanding) -> (String, Tone) {
    let (today, tone) = today(standing);
    let waits = match standing.outcome {
        // said with the whole set; once it was, a strike takes it not back
        Outcome::Judged(_) | Outcome::NotTaken => true,
        Outcome::Incomplete(_) => !standing.measured.taken_back,
        Outcome::Past(..) | Outcome::LeftOut(_) | Outcome::Open(_) | Outcome::Excused | Outcome::Unjudged { .. } => {
            false
        }
    };
    let ahead = by_forecast(standing).filter(|_| !waits);
    let Some((ahead, ahead_tone)) = ahead else { return (today, tone) };
    let (done, of) = (standing.measured.done, standing.measured.of);
    let behind = match &standing.outcome {
        Outcome::NotTaken | Outcome::Incomplete(None) => format!(", {done} of {of} taken"),
        Outcome::Incomplete(Some(_)) => format!("; {today}"),
        Outcome::Unjudged { .. } => "; ? accepted unjudged".to_owned(),
        Outcome::Past(..) | Outcome::LeftOut(_) | Outcome::Open(_) | Outcome::Excused | Outcome::Judged(_) => {
            "; ? open".to_owned()
        }
    };
    (format!("{ahead}{behind}"), ahead_tone)
}

/// What stands at the head of a list that begins with the worst: what it leads to, then what nobody can call well, then what is
/// within, and last what is not taken yet.
pub fn how_bad(standing: &CharacteristicStanding) -> (Consequence, u8) {
    let well = match &standing.outcome {
        Outcome::NotTaken | Outcome::Excused => 0,
        Outcome::Incomplete(None) if standing.measured.faults.is_empty() => 0,
        Outcome::Judged(judgement) if judgement.reached.reach == Reach::Within && !judgement.is_open() => 1,
        Outcome::Judged(_)
        | Outcome::Incomplete(_)
        | Outcome::Past(..)
        | Outcome::LeftOut(_)
        | Outcome::Open(_)
        | Outcome::Unjudged { .. } => 2,
    };
    (standing.leads_to(), well)
}

fn today(standing: &CharacteristicStanding) -> (String, Tone) {
    let measured = &standing.measured;
    match &standing.outcome {
        Outcome::Judged(judgement) => {
            let (mut words, mut tone) = reached_words(&judgement.reached);
            if judgement.reached.reach == Reach::Undecided && standing.leads_to_now() > Consequence::Nothing {
                words = format!("{words}, {} at least", standing.leads_to_now().word());
            }
            if let Some((ahead, ahead_tone)) = by_forecast(standing) {
                words = format!("{ahead}; today {}", judgement.reached.reach.word());
                tone = ahead_tone;
            }
            if judgement.provisional == Doubted::Yes {
                (words, tone) = never_green((words, tone));
                words.push_str(", provisional");
            }
            if judgement.disputed.is_some() {
                (words, tone) = never_green((words, tone));
                words.push_str(", two ways disagree");
            }
            words.extend(judgement.accepted.iter().map(|by| format!(", accepted by {by}")));
            (words, tone)
        }
        Outcome::Incomplete(None) if !measured.faults.is_empty() => {
            (format!("? open, {} of {} taken", measured.done, measured.of), Tone::Watch)
        }
        Outcome::Open(_) if !measured.faults.is_empty() => ("? open".to_owned(), Tone::Watch),
        Outcome::Incomplete(Some(judgement)) => {
            let (words, tone) = reached_words(&judgement.reached);
            (format!("{words}, {} of {} taken", measured.done, measured.of), tone)
        }
        Outcome::Past(judgement, open) => {
            let (words, tone) = reached_words(&judgement.reached);
            (if open.is_some() { format!("{words}, ? open") } else { words }, tone)
        }
        Outcome::Incomplete(None) | Outcome::NotTaken => {
            (format!("judged when complete: {} of {} taken", measured.done, measured.of), Tone::Plain)
        }
        Outcome::LeftOut(why) | Outcome::Open(why) => (format!("? open: {why}"), Tone::Watch),
        Outcome::Excused => ("- not waited for".to_owned(), Tone::Quiet),
        Outcome::Unjudged { by, .. } => (format!("? accepted unjudged, by {by}"), Tone::Watch),
    }
}

/// A part's disposition and first hold: `X replace  ? new part to check +1`.
pub fn part_words(part: &PartStanding) -> (String, String, Tone) {
    let (verdict, within) = (&part.verdict, part.is_within());
    let disposition = verdict.disposition;
    let word = match disposition {
        Disposition::Reuse if within => "+ within".to_owned(),
        Disposition::Reuse if verdict.holds.is_empty() => "-".to_owned(),
        Disposition::Reuse => String::new(),
        Disposition::Watch | Disposition::Rework | Disposition::Replace => {
            format!("{} {}", disposition.sign(), disposition.word())
        }
    };
    let first = verdict.holds.first().map(|hold| format!("{} {}", hold.sign(), hold.word()));
    let more = verdict.holds.len().saturating_sub(1);
    let hold = first.map(|first| if more > 0 { format!("{first} +{more}") } else { first }).unwrap_or_default();
    let tone = match disposition {
        Disposition::Reuse if within => Tone::Good,
        Disposition::Reuse if verdict.holds.is_empty() => Tone::Quiet,
        Disposition::Reuse | Disposition::Watch => Tone::Watch,
        Disposition::Rework | Disposition::Replace => Tone::Bad,
    };
    (word, hold, tone)
}

/// What a place has come to with the figure just taken: `0.2139 ~ watch`; none before its repeats are complete, or where
/// nothing there is judged; the verdict alone where what is judged is the figure itself.
pub fn at_once(job: &Job, (step, spot): (&str, &str), taken: Figure) -> Option<(String, Tone)> {
    let (standing, value) = judged_at(job, step, spot)?;
    let bound = reached(&job.inspection, standing, value).and_then(|reached| reached.bound);
    let (words, tone) = place_words(&job.inspection, standing, value);
    let is_it = taken.to(standing.measured.unit).as_ref() == Some(&value.value);
    let number = figure(&value.value, Unit::One, bound.as_ref());
    Some((if is_it { words } else { format!("{number} {words}") }, tone))
}

/// The verdict that the figure taken last has brought about, for the far view.
pub fn last_verdict(job: &Job) -> (String, Tone) {
    let Some(last) = &job.last else { return (String::new(), Tone::Plain) };
    let touched = job.standing.of_step(&last.step).max_by_key(|one| one.leads_to());
    touched.map_or(("taken".to_owned(), Tone::Plain), |standing| {
        let shown = Shown::of(standing);
        so_far(&job.inspection, standing, &shown.verdict).unwrap_or((shown.verdict, shown.tone))
    })
}

/// `~ watch at outer 0; judged when complete: 18 of 24 taken`, where a place is complete and not within.
fn so_far(inspection: &Inspection, standing: &CharacteristicStanding, waits: &str) -> Option<(String, Tone)> {
    let value = worst(inspection, standing).filter(|_| standing.judgement().is_none())?;
    let (words, tone) = place_words(inspection, standing, value);
    (!words.starts_with('+')).then(|| (format!("{words} at {}; {waits}", value.place()), tone))
}
