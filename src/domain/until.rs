//! Until when a concession holds: in somebody's words, of which days, years and machine hours are understood.

use chrono::{Datelike, NaiveDate};

use super::exact::Exact;
use super::hours;
use super::inspection::{Inspection, Opening};
use super::refusal::{Refusal, RefusalKind};
use super::stamp::{day, last_of_month, long_day};
use super::unit::Unit;

/// What ends first of all that somebody allows for a time.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct End {
    /// The last day.
    pub day: Option<NaiveDate>,
    /// Hours of the machine.
    pub hours: Option<Exact>,
}

impl End {
    /// The end that stands in these words; of several the nearest.
    pub fn of(until: &str) -> Self {
        let Ends { days, hours, year } = ends(until);
        let of_year = year.and_then(|year| NaiveDate::from_ymd_opt(year, 12, 31));
        Self { day: days.into_iter().min().or(of_year), hours: hours.into_iter().min() }
    }

    /// The nearer of two.
    #[must_use]
    pub fn or(&self, other: &Self) -> Self {
        let hours = self.hours.iter().chain(&other.hours).min().cloned();
        Self { day: self.day.into_iter().chain(other.day).min(), hours }
    }

    /// What of it lies before the opening that is planned; all of it where nothing is planned to hold it against.
    #[must_use]
    pub fn before(&self, opening: &Opening) -> Self {
        let next = opening.next_hours.and_then(|hours| hours.to(Unit::Hour));
        Self {
            day: self.day.filter(|day| opening.next_date.is_none_or(|next| *day < next)),
            hours: self.hours.clone().filter(|hours| next.as_ref().is_none_or(|next| hours < next)),
        }
    }

    /// Whether the opening that is planned comes before it, or with it; not of what has no end.
    pub fn covers(&self, opening: &Opening) -> bool {
        let none = Self::default();
        *self != none && self.before(opening) == none
    }

    /// `38240 h of the machine`, `1 March 2026`, or both; none where nothing ends.
    pub fn in_words(&self) -> Option<String> {
        let hours = self.hours.as_ref().map(|hours| format!("{hours} {} of the machine", Unit::Hour));
        let all: Vec<_> = hours.into_iter().chain(self.day.map(long_day)).collect();
        (!all.is_empty()).then(|| all.join(" or "))
    }
}

/// The day or the hours that are over, as they stand in `until`, at the last entry of the record; none while it holds.
///
/// A day holds to its end. Hours are those of the machine, and reached is over. Of several the first counts. Words in
/// which neither is found, such as "the next opening", hold.
pub fn passed(inspection: &Inspection, until: &str) -> Option<String> {
    let now = inspection.entries().last().map_or(inspection.head().begun, |last| last.at).date();
    passed_on(until, now, hours::of_machine(inspection).as_ref())
}

/// The same on `today`, with the machine at `machine` hours.
pub fn passed_on(until: &str, today: NaiveDate, machine: Option<&Exact>) -> Option<String> {
    let Ends { days, hours, year } = ends(until);
    if let Some(over) = days.iter().filter(|day| **day < today).min() {
        return Some(over.to_string());
    }
    let over = hours.iter().filter(|hours| machine.is_some_and(|machine| *hours <= machine)).min();
    if let Some(over) = over {
        return Some(format!("{over} {}", Unit::Hour));
    }
    year.filter(|year| *year < today.year()).map(|year| year.to_string())
}

/// How an end is understood, to be said back before it is entered.
pub fn understood(until: &str) -> String {
    let Ends { days, hours, year } = ends(until);
    let day = days.iter().min().map(|day| format!("to the end of {}", long_day(*day)));
    let hours = hours.iter().min().map(|hours| format!("to {hours} {} of the machine", Unit::Hour));
    let year = year.map(|year| format!("to the end of the year {year}"));
    let all: Vec<_> = day.into_iter().chain(hours).chain(year).collect();
    if all.is_empty() {
        "no day and no hours in it, so it holds until the next opening and no longer".to_owned()
    } else {
        all.join(", or ")
    }
}

/// Whether a concession that ends so may be entered on `today`: over already it frees nothing, without an end it would free
/// for ever.
///
/// # Errors
/// `NoAnswer`, `ConcessionOver`.
pub fn checked(inspection: &Inspection, until: &str, today: NaiveDate) -> Result<(), Refusal> {
    if let Some(why) = not_understood(until) {
        let mend = "Look at the day and the month; type it such as 2031-04-17.";
        return Err(RefusalKind::NoAnswer { why, mend }.into());
    }
    if !is_named(until) {
        let why = format!("`{until}` names no end for the concession.");
        let mend = "Type a day such as 2031-04-17, hours such as 36000 h, or the next opening.";
        return Err(RefusalKind::NoAnswer { why, mend }.into());
    }
    match passed_on(until, today, hours::of_machine(inspection).as_ref()) {
        Some(over) => Err(RefusalKind::ConcessionOver(over).into()),
        None => Ok(()),
    }
}

/// Why what is meant for a day is none: no calendar has it, and the month or the year in it would run on.
fn not_understood(until: &str) -> Option<String> {
    let words = words_of(until);
    let numbers = |word: &&&str| {
        let parts: Vec<&str> = word.split(['.', '/', '-']).collect();
        parts.len() == 3 && parts.iter().all(|part| is_number(part))
    };
    let figures = words.iter().filter(numbers).find(|word| day(word).is_err() && in_figures(word).is_none());
    if let Some(word) = figures {
        let ends = day(word).err().filter(|refusal| matches!(refusal.kind, RefusalKind::NoAnswer { .. }));
        return Some(ends.map_or_else(|| format!("`{word}` is no day."), |refusal| refusal.kind.what()));
    }
    let named = months_in(&words).into_iter().find(|one| one.number.is_some() && one.day().is_none());
    if let Some(none) = named {
        let last = last_of_month(none.year, none.month).map(long_day);
        let ends = last.map(|last| format!(": that month ends with {last}")).unwrap_or_default();
        return Some(format!("`{}` is no day{ends}.", none.words));
    }
    let year = ends(until).year?;
    let runs = words.iter().flat_map(|word| word.split(|letter: char| !letter.is_ascii_digit()));
    let beside = runs.filter(|run| !run.is_empty()).find(|run| years_in(run).next().is_none())?;
    Some(format!("`{until}`: {beside} is read as no day here, and all of {year} would count."))
}

/// Whether an end is named: a day, machine hours, a year, or an opening.
fn is_named(until: &str) -> bool {
    let Ends { days, hours, year } = ends(until);
    let opening = |word: &str| ["opening", "overhaul", "inspection"].iter().any(|one| word.starts_with(one));
    let opens = until.to_lowercase().split(|letter: char| !letter.is_alphabetic()).any(opening);
    opens || !days.is_empty() || !hours.is_empty() || year.is_some()
}

/// What is found in the words.
struct Ends {
    days: Vec<NaiveDate>,
    hours: Vec<Exact>,
    /// The last year, where nothing nearer is told.
    year: Option<i32>,
}

fn ends(until: &str) -> Ends {
    let words = words_of(until);
    let (days, hours) = (days_in(&words), hours_in(&words));
    let told = days.is_empty() && hours.is_empty();
    // `spring 2019` is no day known here, but its year is
    let year = words.iter().filter(|_| told).flat_map(|word| years_in(word)).max();
    Ends { days, hours, year }
}

fn words_of(until: &str) -> Vec<&str> {
    until.split_whitespace().map(|word| word.trim_matches(edge)).collect()
}

/// `2031-04-17`, `17 April 2031`, `Apr 17, 2031`, `April 2031`, `17.04.2031`, `17/4/2031`.
///
/// A month alone ends with its last day. Where day and month may stand either way round, the earlier one counts.
fn days_in(words: &[&str]) -> Vec<NaiveDate> {
    let figures = words.iter().filter_map(|word| day(word).ok().or_else(|| in_figures(word)));
    // of an older record, which may have a day that no month has
    let named = months_in(words).into_iter().filter_map(|one| one.day().or_else(|| last_of_month(one.year, one.month)));
    figures.chain(named).collect()
}

/// A month in words with its year.
struct Named {
    /// The number beside it, which is meant for its day.
    number: Option<u32>,
    month: u32,
    year: i32,
    /// As it stands there.
    words: String,
}

impl Named {
    fn day(&self) -> Option<NaiveDate> {
        NaiveDate::from_ymd_opt(self.year, self.month, self.number?)
    }
}

fn months_in(words: &[&str]) -> Vec<Named> {
    let found = words.iter().enumerate().filter_map(|(place, word)| {
        let month = month(word)?;
        let number = |place: usize| words.get(place).and_then(|word| number_of(word));
        let year = |place: usize| words.get(place).and_then(|word| years_in(word).next());
        let (number, year) = match year(place + 1) {
            Some(year) => (place.checked_sub(1).and_then(number), year),
            None => (number(place + 1), year(place + 2)?),
        };
        let before = number.map(|number| format!("{number} ")).unwrap_or_default();
        Some(Named { number, month, year, words: format!("{before}{word} {year}") })
    });
    found.collect()
}

/// `17.04.2031`, `17/4/2031`, `2031/04/17`.
fn in_figures(word: &str) -> Option<NaiveDate> {
    let parts: Vec<u32> = word
        .split(['.', '/', '-'])
        .map(|part| part.parse().ok())
        .collect::<Option<_>>()
        .filter(|all: &Vec<u32>| all.len() == 3)?;
    let [first, middle, last] = parts.as_slice() else { return None };
    let of = |year: u32, month: u32, day: u32| {
        let year = i32::try_from(if year < 100 { year + 2000 } else { year }).ok()?;
        NaiveDate::from_ymd_opt(year, month, day)
    };
    if *first > 31 {
        return of(*first, *middle, *last);
    }
    [of(*last, *middle, *first), of(*last, *first, *middle)].into_iter().flatten().min()
}

fn month(word: &str) -> Option<u32> {
    const MONTHS: [&str; 12] = [
        "january",
        "february",
        "march",
        "april",
        "may",
        "june",
        "july",
        "august",
        "september",
        "october",
        "november",
        "december",
    ];
    let word = word.to_lowercase();
    let fits = |name: &&str| word.len() >= 3 && (name.starts_with(&word) || word == "sept" && **name == *"september");
    (1..).zip(MONTHS).find(|(_, name)| fits(name)).map(|(number, _)| number)
}

/// `17`, `1st`.
fn number_of(word: &str) -> Option<u32> {
    let digits = word.trim_end_matches(|letter: char| letter.is_ascii_lowercase());
    digits.parse().ok().filter(|_| digits.len() <= 2)
}

fn edge(letter: char) -> bool {
    !letter.is_alphanumeric()
}

/// `36000 h`, `36000h`, `36 000 hours`.
fn hours_in(words: &[&str]) -> Vec<Exact> {
    let unit = |word: &str| ["h", "hour", "hours", "hrs"].contains(&word.to_lowercase().as_str());
    let mut found = Vec::new();
    for (place, word) in words.iter().enumerate() {
        let joined = word.strip_suffix(['h', 'H']).filter(|number| is_number(number));
        let before = if unit(word) { words.get(..place).unwrap_or_default() } else { &[] };
        let groups = before.iter().rev().take_while(|word| is_number(word)).count();
        let digits = before.get(before.len() - groups..).unwrap_or_default().concat();
        found.extend(Exact::parse(joined.unwrap_or(&digits)));
    }
    found
}

fn is_number(word: &str) -> bool {
    !word.is_empty() && word.bytes().all(|byte| byte.is_ascii_digit())
}

/// Four digits that can be a year, not behind hours: `17.04.2019`, `2019`.
fn years_in(word: &str) -> impl Iterator<Item = i32> {
    let runs = word.split(|letter: char| !letter.is_ascii_digit());
    runs.filter(|run| run.len() == 4).filter_map(|run| run.parse().ok()).filter(|year| (1950..2200).contains(year))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_years_and_hours_that_are_over_are_found_in_words() {
        let today = day("2031-04-17").unwrap();
        let machine = Exact::parse("24000").unwrap();
        let over = |until: &str| passed_on(until, today, Some(&machine));
        for (until, what) in [
            ("2020-01-01", "2020-01-01"),
            ("until 2031-04-16, not longer", "2031-04-16"),
            ("2035-01-01 or 24000 h, whichever first", "24000 h"),
            ("24 000 hours", "24000 h"),
            ("23999h", "23999 h"),
            ("1 May 2030", "2030-05-01"),
            ("16 April 2031", "2031-04-16"),
            ("April 16th, 2031 at the latest", "2031-04-16"),
            ("Mar 2031", "2031-03-31"),
            ("30.12.2019", "2019-12-30"),
            ("16/4/31", "2031-04-16"),
            // either way round: the earlier day counts
            ("02/05/2031", "2031-02-05"),
            ("summer 2030", "2030"),
        ] {
            assert_eq!(over(until).as_deref(), Some(what), "{until}");
        }
        for until in [
            "2031-04-17",
            "17.04.2031",
            "17 April 2031",
            "the next opening",
            "24001 h",
            "May 2031",
            "autumn 2031",
            "2040-01-01 or 36 000 h",
            "2 openings",
        ] {
            assert_eq!(over(until), None, "{until}");
        }
    }

    #[test]
    fn how_an_end_is_understood_is_said_back_and_what_is_no_day_is_not() {
        for (until, said) in [
            ("1 March 2026", "to the end of 1 March 2026"),
            ("March 2026", "to the end of 31 March 2026"),
            ("2035-01-01 or 24 000 h", "to the end of 1 January 2035, or to 24000 h of the machine"),
            ("spring 2031", "to the end of the year 2031"),
            ("the next opening", "no day and no hours in it, so it holds until the next opening and no longer"),
        ] {
            assert_eq!(understood(until), said);
            assert!(is_named(until), "{until}");
        }
        for (until, why) in [
            ("31 feb 2027", "`31 feb 2027` is no day: that month ends with 28 February 2027."),
            ("at latest April 31st, 2031", "`31 April 2031` is no day: that month ends with 30 April 2031."),
            ("0 May 2031", "`0 May 2031` is no day: that month ends with 31 May 2031."),
            ("45 May 2031", "`45 May 2031` is no day: that month ends with 31 May 2031."),
            ("31.02.2027", "`31.02.2027` is no day."),
            ("2032-02-30", "`2032-02-30` is no day: its month ends with 2032-02-29."),
            ("week 60 2027", "`week 60 2027`: 60 is read as no day here, and all of 2027 would count."),
            ("Q3 2027", "`Q3 2027`: 3 is read as no day here, and all of 2027 would count."),
        ] {
            assert_eq!(not_understood(until).as_deref(), Some(why));
        }
        for until in ["29 Feb 2028", "Feb 2027", "spring 2031", "2040-01-01 or 36 000 h", "2 openings"] {
            assert_eq!(not_understood(until), None, "{until}");
        }
        for until in ["x", "further notice", "12", "36000", "17.04.", "May"] {
            assert!(!is_named(until), "{until}");
        }
    }
}
