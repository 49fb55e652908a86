//! When the next inspection is due: by running hours and by the calendar, whichever comes first.

use chrono::{Days, Months, NaiveDate};

use super::answer::Answers;
use super::formula::{Formula, Outcome, Output};
use super::given::Given;
use super::impossible::{idle, none_of};
use super::problem::{Problem, Trouble};
use super::shape::{Key, Range, Shape};
use super::working::Working;
use crate::domain::exact::Exact;
use crate::domain::refusal::RefusalKind;
use crate::domain::unit::Unit;

/// Which of the two counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DecidedBy {
    /// Running hours come first.
    Hours,
    /// The calendar comes first.
    Calendar,
    /// Both give the same day.
    Both,
}

impl DecidedBy {
    /// The word in files.
    pub fn word(self) -> &'static str {
        match self {
            Self::Hours => "hours",
            Self::Calendar => "calendar",
            Self::Both => "both",
        }
    }
}

/// Running hours left and what is run a day.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Hours {
    /// Below zero when it is overdue.
    pub left: Exact,
    /// Mean running hours a day; zero when it stands still.
    pub per_day: Exact,
}

/// The two days and the earlier of them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Due {
    /// `None` when hours are not asked for, or it stands still.
    pub by_hours: Option<NaiveDate>,
    /// `None` when the calendar is not asked for.
    pub by_calendar: Option<NaiveDate>,
}

impl Due {
    /// The earlier day and what decided; `None` when neither gives one.
    pub fn first(self) -> Option<(NaiveDate, DecidedBy)> {
        match (self.by_hours, self.by_calendar) {
            (Some(hours), Some(calendar)) if hours == calendar => Some((hours, DecidedBy::Both)),
            (Some(hours), Some(calendar)) if hours < calendar => Some((hours, DecidedBy::Hours)),
            (Some(hours), None) => Some((hours, DecidedBy::Hours)),
            (_, Some(calendar)) => Some((calendar, DecidedBy::Calendar)),
            (None, None) => None,
        }
    }
}

/// When it is due, counted from `from`: whole days of hours, rounded down; the same day so many months on, or that
/// month's last day. Source: proleptic Gregorian calendar, ISO 8601.
///
/// # Errors
/// `NoAnswer` for a day that no calendar reaches.
pub fn due(from: NaiveDate, hours: Option<&Hours>, months: Option<u32>) -> Result<Due, RefusalKind> {
    let beyond = || RefusalKind::NoAnswer {
        why: "That day is beyond any calendar.".to_owned(),
        mend: "Look at the hours left, the hours a day and the months again.",
    };
    let by_hours = match hours.and_then(|hours| hours.left.over(&hours.per_day)) {
        Some(days) => Some(shifted(from, days.floor()).ok_or_else(beyond)?),
        None => None,
    };
    let by_calendar = match months {
        Some(months) => Some(from.checked_add_months(Months::new(months)).ok_or_else(beyond)?),
        None => None,
    };
    Ok(Due { by_hours, by_calendar })
}

fn shifted(from: NaiveDate, days: Option<i64>) -> Option<NaiveDate> {
    let days = days?;
    let count = Days::new(days.unsigned_abs());
    if days < 0 { from.checked_sub_days(count) } else { from.checked_add_days(count) }
}

/// `due/1`.
pub const FORMULA: Formula = Formula {
    name: "due",
    number: 1,
    purpose: "next inspection, by hours or calendar",
    keys: &[
        Key::required("date", Shape::Date, "the day counted from"),
        Key::optional("hours_left", Shape::Figure(Unit::Hour, Range::Any), "running hours left"),
        Key::optional("hours_per_day", Shape::Figure(Unit::Hour, Range::Within("0", "24")), "mean running hours a day"),
        Key::optional("months", Shape::Whole(0, 1200), "interval by calendar"),
    ],
    outputs: &[
        Output::new("by_hours", "", "day by running hours"),
        Output::new("by_calendar", "", "day by the calendar"),
        Output::new("due", "", "the earlier of the two"),
        Output::new("decided_by", "", "hours, calendar or both"),
    ],
    source: "proleptic Gregorian calendar, ISO 8601",
    example: &["date=2025-03-10", "hours_left=4000", "hours_per_day=16", "months=12"],
    expected: &[
        ("by_hours", "2025-11-15"),
        ("by_calendar", "2026-03-10"),
        ("due", "2025-11-15"),
        ("decided_by", "hours"),
    ],
    impossible: |given| {
        let idle = || idle(given, "hours_per_day", "hours_left is not");
        let alone = if given.figure_if("hours_left").is_none() { idle() } else { None };
        none_of(given, &["hours_left", "months"], COUNTED).into_iter().chain(alone).collect()
    },
    reckon,
};

fn reckon(given: &Given) -> Result<Outcome, Vec<Problem>> {
    let from = given.date("date")?;
    let months = given.whole_if("months").and_then(|months| u32::try_from(months).ok());
    let hours = match (given.figure_if("hours_left"), given.figure_if("hours_per_day")) {
        (Some(left), Some(per_day)) => Some(Hours { left, per_day }),
        (Some(_), None) => return Err(missing("hours_per_day", "hours a day, which hours_left needs").into()),
        (None, _) if months.is_none() => {
            return Err(missing("hours_left", COUNTED).into());
        }
        (None, _) => None,
    };
    let due = due(from, hours.as_ref(), months)?;
    Ok(Outcome { answers: answers(due, hours.as_ref()), working: working(from, due, hours.as_ref(), months) })
}

const COUNTED: &str = "hours_left with hours_per_day, or months, or all";

fn missing(key: &str, expected: &str) -> Problem {
    Problem::new(key, Trouble::Missing, "nothing", expected)
}

const STANDS_STILL: &str = "no hours are run a day";

fn answers(due: Due, hours: Option<&Hours>) -> Answers {
    let dated = |answers: Answers, key: &str, day: Option<NaiveDate>, why: &str| match day {
        Some(day) => answers.text(key, day.to_string()),
        None => answers.absent(key, why),
    };
    let no_hours = if hours.is_some() { STANDS_STILL } else { "hours_left is not given" };
    let answers = dated(Answers::new(), "by_hours", due.by_hours, no_hours);
    let answers = dated(answers, "by_calendar", due.by_calendar, "months is not given");
    let first = due.first();
    let answers = dated(answers, "due", first.map(|(day, _)| day), STANDS_STILL);
    match first {
        Some((_, by)) => answers.text("decided_by", by.word()),
        None => answers.absent("decided_by", STANDS_STILL),
    }
}

fn working(from: NaiveDate, due: Due, hours: Option<&Hours>, months: Option<u32>) -> Working {
    let mut working = Working::of(&FORMULA);
    if let Some(Hours { left, per_day }) = hours {
        match (due.by_hours, left.over(per_day)) {
            (Some(day), Some(days)) => {
                let all = days.at_most(3);
                let days = days.rounded(0, crate::domain::exact::Rounding::Down);
                let put_in = format!("{left} h / {per_day} h");
                working.step("days", "hours left / hours a day, whole", put_in, format!("{all}, whole {days}"));
                working.step("by hours", "date + days", format!("{from} + {days} days"), day.to_string());
            }
            (_, _) => working.say(format!("by hours: no day, {STANDS_STILL}")),
        }
    }
    if let (Some(day), Some(months)) = (due.by_calendar, months) {
        working.step("by calendar", "date + months", format!("{from} + {months} months"), day.to_string());
    }
    working.resulting(match due.first() {
        Some((day, DecidedBy::Both)) => format!("due {day}, by hours and by calendar"),
        Some((day, by)) => format!("due {day}, by {}", by.word()),
        None => format!("no day: {STANDS_STILL}"),
    })
}
