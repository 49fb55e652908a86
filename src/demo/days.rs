//! Moving every day in a text by whole days, so that the invented past ends today.

use chrono::{NaiveDate, TimeDelta};

/// The text with every day such as `2024-07-12` moved by so many days; one that cannot be moved stays.
pub fn moved(text: &str, days: i64) -> String {
    let mut out = String::with_capacity(text.len());
    let mut rest = text;
    while let Some((begin, day)) = next_day(rest) {
        let (before, behind) = rest.split_at(begin);
        out.push_str(before);
        let (word, after) = behind.split_at(LENGTH);
        match TimeDelta::try_days(days).and_then(|days| day.checked_add_signed(days)) {
            Some(day) => out.push_str(&day.to_string()),
            None => out.push_str(word),
        }
        rest = after;
    }
    out.push_str(rest);
    out
}

/// Bytes of `2024-07-12`.
const LENGTH: usize = 10;

/// Where the next day stands, and which; digits right before or behind it would make it something else.
fn next_day(text: &str) -> Option<(usize, NaiveDate)> {
    let digit = |at: Option<usize>| at.and_then(|at| text.as_bytes().get(at)).is_some_and(u8::is_ascii_digit);
    text.match_indices('-').find_map(|(dash, _)| {
        let begin = dash.checked_sub(4)?;
        if digit(begin.checked_sub(1)) || digit(Some(begin + LENGTH)) {
            return None;
        }
        let word = text.get(begin..begin + LENGTH)?;
        let shaped = word.bytes().enumerate().all(|(at, byte)| match at {
            4 | 7 => byte == b'-',
            _ => byte.is_ascii_digit(),
        });
        shaped.then(|| NaiveDate::parse_from_str(word, "%Y-%m-%d").ok()).flatten().map(|day| (begin, day))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_day_moves_and_nothing_else() {
        let text = "at 2024-02-28T10:00:00+02:00, INV-420-P03, due 2025-02-01; 2024-13-01 is none, 12024-01-01 neither";
        let there =
            "at 2024-03-01T10:00:00+02:00, INV-420-P03, due 2025-02-03; 2024-13-01 is none, 12024-01-01 neither";
        assert_eq!(moved(text, 2), there);
        assert_eq!(moved(there, -2), text);
        assert_eq!(moved(text, i64::MAX), text);
        assert_eq!(moved("\u{b5}-2024-02-28", 1), "\u{b5}-2024-02-29");
    }
}
