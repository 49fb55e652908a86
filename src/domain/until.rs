//! Until when a concession holds: in somebody's words, of which days, years and machine hours are understood.

use chrono::{Datelike, NaiveDate};

use super::exact::Exact;
use super::hours;
use super::inspection::Inspection;
use super::stamp::day;
use super::unit::Unit;

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
    let words: Vec<&str> = until.split_whitespace().map(|word| word.trim_matches(edge)).collect();
    let days: Vec<NaiveDate> = words.iter().filter_map(|word| day(word).ok()).collect();
    if let Some(over) = days.iter().filter(|day| **day < today).min() {
        return Some(over.to_string());
    }
    let hours = hours_in(&words);
    let over = hours.iter().filter(|hours| machine.is_some_and(|machine| *hours <= machine)).min();
    if let Some(over) = over {
        return Some(format!("{over} {}", Unit::Hour));
    }
    // `1 May 2019` is no day known here, but its year is
    let told = days.is_empty() && hours.is_empty();
    let last = words.iter().filter(|_| told).flat_map(|word| years_in(word)).max()?;
    (last < today.year()).then(|| last.to_string())
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
            ("1 May 2030", "2030"),
            ("30.12.2019", "2019"),
        ] {
            assert_eq!(over(until).as_deref(), Some(what), "{until}");
        }
        for until in ["2031-04-17", "the next opening", "24001 h", "May 2031", "2040-01-01 or 36 000 h", "2 openings"] {
            assert_eq!(over(until), None, "{until}");
        }
    }
}
