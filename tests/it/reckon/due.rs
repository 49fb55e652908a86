//! When the next inspection is due.

use super::{at, reckoned, rows, tried, word};

/// proleptic Gregorian calendar, ISO 8601, `due.csv`: leap days, month ends, tenths that binary loses.
#[test]
fn due_csv() {
    for row in rows("due") {
        let months = word("months", &row["months"]);
        let hours = word("hours_left", &row["hours_left"]);
        let daily = hours.as_ref().and_then(|_| word("hours_per_day", &row["mean_daily_hours"]));
        let given: Vec<_> =
            [Some(format!("date={}", row["from_date"])), hours, daily, months].into_iter().flatten().collect();
        let answers = reckoned("due", &given);
        for (key, column) in [("by_hours", "due_by_hours"), ("by_calendar", "due_by_calendar"), ("due", "due")] {
            let expected = if row[column].is_empty() { "none" } else { &row[column] };
            assert_eq!(at(&answers, key), expected, "{} {key}", row["id"]);
        }
        assert_eq!(at(&answers, "decided_by"), row["decided_by"], "{}", row["id"]);
    }
}

#[test]
fn what_gives_no_day_says_why() {
    let words = |words: &[&str]| words.iter().map(|word| (*word).to_owned()).collect::<Vec<_>>();
    let still = reckoned("due", &words(&["date=2031-04-17", "hours_left=10", "hours_per_day=0"]));
    assert_eq!((at(&still, "due").as_str(), at(&still, "due_why").as_str()), ("none", "no hours are run a day"));
    let overdue = reckoned("due", &words(&["date=2031-04-17", "hours_left=-1", "hours_per_day=16"]));
    assert_eq!(at(&overdue, "due"), "2031-04-16", "rounded down is earlier");
    for (given, key) in [
        (&["date=2031-04-17"][..], "hours_left"),
        (&["date=2031-04-17", "hours_left=10"], "hours_per_day"),
        (&["date=2031-02-29", "months=1"], "date"),
        (&["date=17.04.2031", "months=1"], "date"),
        (&["date=2031-04-17", "months=1.5"], "months"),
        (&["date=2031-04-17", "hours_left=1", "hours_per_day=25"], "hours_per_day"),
        (&["date=2031-04-17", "hours_left=1e300", "hours_per_day=0.1"], ""),
    ] {
        let problems = tried("due", &words(given)).unwrap_err();
        assert_eq!(problems.iter().map(|problem| problem.key.as_str()).collect::<Vec<_>>(), [key], "{given:?}");
    }
}
