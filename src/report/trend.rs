//! How a part wears: its figures on its own hours, the forecast, a small plot in plain characters.

use serde_json::{Value, json};

use crate::domain::exact::Exact;
use crate::domain::inspection::Inspection;
use crate::domain::outlook::{self, Outlook, Trend};
use crate::domain::reckon::forecast::{Basis, Inspection as Point};
use crate::domain::reckon::told::Now;
use crate::domain::standing::CharacteristicStanding;
use crate::domain::telling::beside;

/// Width and height of the plot, without its frame.
const PLOT: (usize, usize) = (60, 10);

/// Whether a plot is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Drawing {
    /// Under the figures.
    Drawn,
    /// Left out: the reader is a pipe.
    LeftOut,
}

/// One characteristic for people.
pub fn lines(inspection: &Inspection, one: &CharacteristicStanding, drawing: Drawing) -> Vec<String> {
    let points = outlook::track(inspection, one.characteristic, &one.measured.to_look_ahead());
    let mut lines = vec![format!("{}, {}", one.characteristic.id(), one.characteristic.name())];
    let told = match &one.outlook {
        Some(Outlook::Told { told, limit, unit, leads_to, on_flat }) => {
            let unit_word = unit.behind();
            let what = match on_flat {
                Trend::Value => "",
                Trend::Flat => ", the flat of the worst land",
                Trend::Hours => ", hours counted",
            };
            lines.push(format!("  hours of the part   figure{what}"));
            lines.extend(points.iter().map(|point| row(point, limit, &unit_word)));
            let basis = match told.basis {
                Basis::Line => "line through the readings",
                Basis::LastRate => "last rate, the worse of the two",
            };
            lines.push(format!("  by the {basis}; {}", told.fit));
            let (next, bound) = (beside(&told.next, Some(limit), 3), beside(&told.bound, Some(limit), 3));
            let limit_word = beside(limit, None, 3);
            lines.push(format!(
                "  at the next opening {next}{unit_word}, one-sided 95 % bound {bound}, limit {limit_word}: {}",
                leads_to.word()
            ));
            lines.push(match told.now {
                Now::Past => "  now past: no hours left".to_owned(),
                Now::Within => format!(
                    "  hours left: by the line {}, by the bound {}",
                    left(told.hours_by_line.as_ref()),
                    left(told.hours_by_bound.as_ref())
                ),
            });
            Some(limit)
        }
        Some(Outlook::None(why) | Outlook::Still(why)) => {
            lines.push(format!("  {why}"));
            None
        }
        None => {
            lines.push("  not judged yet, no forecast".to_owned());
            None
        }
    };
    if let (Drawing::Drawn, Some(limit)) = (drawing, told) {
        lines.extend(plot(&points, limit));
    }
    lines
}

fn row(point: &Point, limit: &Exact, unit: &str) -> String {
    let new = if point.replaced { "  as left" } else { "" };
    let u = point.u.as_ref().map(|u| format!("  u {}", beside(u, None, 4))).unwrap_or_default();
    format!("  {:>17}   {}{unit}{u}{new}", whole(&point.hours), beside(&point.value, Some(limit), 4))
}

fn whole(hours: &Exact) -> String {
    beside(hours, None, 0)
}

/// Never nothing without a why.
fn hours_left(hours: Option<&Exact>) -> Value {
    hours.map_or_else(|| json!({"none": "it never meets the limit"}), |hours| json!(hours.to_string()))
}

fn left(hours: Option<&Exact>) -> String {
    hours.map_or_else(|| "none that it ever meets".to_owned(), |hours| format!("{} h", whole(hours)))
}

/// `*` for figures, `=` for the limit; hours to the right, from the first opening to the last.
fn plot(points: &[Point], limit: &Exact) -> Vec<String> {
    let (width, height) = PLOT;
    let values = || points.iter().map(|point| &point.value).chain([limit]);
    let (Some(low), Some(high)) = (values().min(), values().max()) else { return Vec::new() };
    let (Some(first), Some(last)) =
        (points.iter().map(|point| &point.hours).min(), points.iter().map(|point| &point.hours).max())
    else {
        return Vec::new();
    };
    let line_of = |value: &Exact| place(value, (low, high), height).map(|line| height.saturating_sub(line + 1));
    let limit_line = line_of(limit);
    let mut rows: Vec<Vec<char>> =
        (0..height).map(|line| vec![if Some(line) == limit_line { '=' } else { ' ' }; width]).collect();
    for point in points {
        let spot = line_of(&point.value).zip(place(&point.hours, (first, last), width));
        let cell = spot.and_then(|(line, column)| rows.get_mut(line)?.get_mut(column));
        if let Some(cell) = cell {
            *cell = '*';
        }
    }
    let mut lines: Vec<String> =
        rows.into_iter().map(|row| format!("  |{}", row.into_iter().collect::<String>().trim_end())).collect();
    lines.push(format!("  +{}", "-".repeat(width)));
    lines.push(format!("   {:<30}{:>30}", format!("{} h", whole(first)), format!("{} h", whole(last))));
    lines.push("   * figure at an opening   = limit".to_owned());
    lines
}

/// Which of `count` places a figure between two others falls in.
fn place(value: &Exact, (low, high): (&Exact, &Exact), count: usize) -> Option<usize> {
    let most = u32::try_from(count.checked_sub(1)?).ok()?;
    let span = high - low;
    if span.is_zero() {
        return Some(0);
    }
    let share = (value - low).over(&span)?;
    usize::try_from(
        (&share * &Exact::from(most)).rounded(0, crate::domain::exact::Rounding::Nearest).parse::<u32>().ok()?,
    )
    .ok()
}

/// One characteristic for programs: exact figures as texts, what is not known as null with its reason.
pub fn as_json(inspection: &Inspection, one: &CharacteristicStanding) -> Value {
    let points = outlook::track(inspection, one.characteristic, &one.measured.to_look_ahead());
    let point = |point: &Point| {
        json!({
            "hours": point.hours.to_string(),
            "value": point.value.to_string(),
            "u": point.u.as_ref().map(ToString::to_string),
            "as_left": point.replaced,
        })
    };
    let forecast = match &one.outlook {
        Some(Outlook::Told { told, limit, unit, leads_to, on_flat }) => json!({
            "unit": unit.to_string(),
            "runs_on": match on_flat {
                Trend::Value => "value",
                Trend::Flat => "flat",
                Trend::Hours => "hours",
            },
            "by": match told.basis {
                Basis::Line => "line",
                Basis::LastRate => "last rate",
            },
            "fit": told.fit,
            "next": told.next.to_string(),
            "bound_95": told.bound.to_string(),
            "limit": limit.to_string(),
            "leads_to": leads_to.word(),
            "now": match told.now {
                Now::Within => "within",
                Now::Past => "past",
            },
            "hours_left_by_line": hours_left(told.hours_by_line.as_ref()),
            "hours_left_by_bound": hours_left(told.hours_by_bound.as_ref()),
        }),
        Some(Outlook::None(why) | Outlook::Still(why)) => json!({"none": why}),
        None => json!({"none": "not judged yet"}),
    };
    json!({
        "characteristic": one.characteristic.id(),
        "openings": points.iter().map(point).collect::<Vec<_>>(),
        "forecast": forecast,
    })
}
