//! Moments and days as values; nobody in this layer asks a clock.

use std::fmt;
use std::str::FromStr;

use chrono::{DateTime, Datelike, FixedOffset, NaiveDate, NaiveTime, SecondsFormat};

use super::refusal::{Refusal, RefusalKind};

/// A moment with its offset from UTC, to the second: `2024-07-12T14:05:31+02:00`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Stamp(DateTime<FixedOffset>);

impl Stamp {
    /// The moment as the calendar library has it.
    pub fn moment(self) -> DateTime<FixedOffset> {
        self.0
    }

    /// The day at the place where it was written.
    pub fn date(self) -> NaiveDate {
        self.0.date_naive()
    }

    /// `14:05`, as shown on screens.
    pub fn clock(self) -> String {
        self.0.format("%H:%M").to_string()
    }

    /// Whole seconds from `earlier` to this; negative when the clock ran back.
    pub fn seconds_since(self, earlier: Self) -> i64 {
        (self.0 - earlier.0).num_seconds()
    }
}

impl From<DateTime<FixedOffset>> for Stamp {
    fn from(moment: DateTime<FixedOffset>) -> Self {
        Self(moment)
    }
}

impl FromStr for Stamp {
    type Err = Refusal;

    fn from_str(text: &str) -> Result<Self, Refusal> {
        let moment = DateTime::parse_from_rfc3339(text).ok();
        moment.map(Self).ok_or_else(|| RefusalKind::BadMoment { text: text.to_owned() }.into())
    }
}

impl fmt::Display for Stamp {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(&self.0.to_rfc3339_opts(SecondsFormat::Secs, false))
    }
}

/// Reads a day, `2024-07-12`.
///
/// # Errors
/// `BadDay` when it is none; `NoAnswer` with the last day of its month when that does not exist.
pub fn day(text: &str) -> Result<NaiveDate, Refusal> {
    let day = NaiveDate::parse_from_str(text.trim(), "%Y-%m-%d").ok();
    day.ok_or_else(|| match last_instead(text) {
        Some(last) => {
            let why = format!("`{text}` is no day: its month ends with {last}.");
            RefusalKind::NoAnswer { why, mend: "Type the day that is meant." }.into()
        }
        None => RefusalKind::BadDay { text: text.to_owned() }.into(),
    })
}

/// The last day of the month, where no more than the number of the day is wrong: `2029-02-30`.
fn last_instead(text: &str) -> Option<NaiveDate> {
    let (month, number) = text.trim().rsplit_once('-')?;
    let number: u32 = number.parse().ok().filter(|number| *number > 0)?;
    let first = NaiveDate::parse_from_str(&format!("{month}-01"), "%Y-%m-%d").ok()?;
    last_of_month(first.year(), first.month()).filter(|last| number > last.day())
}

/// The last day of a month.
pub fn last_of_month(year: i32, month: u32) -> Option<NaiveDate> {
    let (year, next) = if month == 12 { (year + 1, 1) } else { (year, month + 1) };
    NaiveDate::from_ymd_opt(year, next, 1)?.pred_opt()
}

/// Reads when something was written on paper: `2024-07-11 15:20`, or `15:20` of the day of `now`, at the place of `now`.
pub fn on_paper(text: &str, now: Stamp) -> Option<Stamp> {
    let words: Vec<&str> = text.split_whitespace().collect();
    let (day, time) = match words.as_slice() {
        [time] => (now.date(), *time),
        [date, time] => (day(date).ok()?, *time),
        _ => return None,
    };
    let time = NaiveTime::parse_from_str(time, "%H:%M").ok()?;
    day.and_time(time).and_local_timezone(now.moment().timezone()).single().map(Stamp)
}

impl Stamp {
    /// `15:40`, with the day where the other moment is on another one.
    pub fn clock_beside(self, other: Self) -> String {
        if self.date() == other.date() {
            self.clock()
        } else {
            format!("{} on {}", self.clock(), long_day(self.date()))
        }
    }
}

/// `12 July 2024`, as shown to people: no order of numbers to guess.
pub fn long_day(day: NaiveDate) -> String {
    day.format("%-d %B %Y").to_string()
}
