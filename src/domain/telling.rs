//! Verdicts in words, so that screens, papers and line mode say the same. What is printed never contradicts a verdict.

mod beforehand;
mod entry;
mod obliged;
mod opening;
mod working;

pub use super::reckon::working::counted;
pub use beforehand::beforehand;
pub use entry::{hands_of, insisted, name_of, no_more, of_deed, of_entry, of_finding, out_of_date, rework_to_do};
pub use obliged::obliged;
pub use working::{besides, of_step as working_of_step};

use super::exact::{Exact, Rounding};
use super::judge::{Reach, Side};
use super::outlook::{Outlook, Trend};
use super::sheet::{Touching, half_judged};
use super::standing::{CharacteristicStanding, Judgement, Outcome};
use super::unit::Unit;
use super::verdict::Consequence;

/// `0.214 at inner 0: alert, from 0.21; 0.242 at the next opening, limit 0.22`.
pub fn of_characteristic(one: &CharacteristicStanding) -> String {
    let now = match &one.outcome {
        Outcome::NotTaken => "not taken".to_owned(),
        Outcome::Incomplete(None) => format!("{} of {} taken", one.measured.done, one.measured.of),
        Outcome::LeftOut(why) | Outcome::Open(why) => why.clone(),
        Outcome::Excused => "not asked for".to_owned(),
        Outcome::Unjudged { by, reason } => format!("accepted unjudged by {by}: {reason}"),
        Outcome::Incomplete(Some(judgement)) | Outcome::Past(judgement, _) | Outcome::Judged(judgement) => {
            of_judgement(judgement, one.measured.unit)
        }
    };
    match &one.outlook {
        Some(outlook @ Outlook::Told { leads_to, .. }) if *leads_to != Consequence::Nothing => {
            format!("{now}; {}", of_outlook(outlook))
        }
        Some(_) | None => now,
    }
}

/// `0.214 mm at inner 0: alert, from 0.21 on`.
pub fn of_judgement(judgement: &Judgement, unit: Unit) -> String {
    let reached = &judgement.reached;
    let value = beside(&judgement.value.value, reached.bound.as_ref(), 4);
    let accepted = judgement.accepted.as_ref().map(|by| format!(", accepted by {by}")).unwrap_or_default();
    let doubted = judgement.provisional == super::inspection::Doubted::Yes;
    let provisional = if doubted { format!(", provisional{accepted}") } else { String::new() };
    let disputed = judgement.disputed.as_ref().map_or("", |_| ", two ways disagree");
    // said once
    let accepted = if doubted || judgement.disputed.is_none() { "" } else { &accepted };
    let bound = reached
        .bound
        .as_ref()
        .map(|bound| format!(", {} {bound}", bound_word(reached.reach, reached.side, reached.touching)));
    let undecided = reached.reach == Reach::Undecided && reached.leads_to > Consequence::Nothing;
    let certain = if undecided { format!(", {} at least", reached.leads_to.word()) } else { String::new() };
    let half = judgement.unjudged.filter(|_| reached.reach == Reach::Within);
    let half = half.map(|side| format!("; {}", half_judged(side).0)).unwrap_or_default();
    format!(
        "{value}{} at {}: {}{}{certain}{provisional}{disputed}{accepted}{half}",
        unit.behind(),
        judgement.value.place(),
        reached.reach.word(),
        bound.unwrap_or_default()
    )
}

/// `0.242 at the next opening, limit 0.22`.
pub fn of_outlook(outlook: &Outlook) -> String {
    match outlook {
        Outlook::None(why) | Outlook::Still(why) => why.clone(),
        Outlook::Told { told, limit, unit, on_flat, .. } => {
            let what = match on_flat {
                Trend::Value | Trend::Hours => "",
                Trend::Flat => "flat ",
            };
            let places = if *unit == Unit::Hour { 0 } else { 3 };
            let next = beside(&told.next, Some(limit), places);
            let bound = beside(&told.bound, Some(limit), places);
            let limit = beside(limit, None, places);
            if *unit == Unit::Hour {
                format!("{next} h at the next opening, limit {limit} h")
            } else {
                format!("{what}{next} at the next opening, bound {bound}, limit {limit}")
            }
        }
    }
}

fn bound_word(reach: Reach, side: Side, touching: Touching) -> &'static str {
    let failed = match reach {
        Reach::Within | Reach::Undecided => false,
        Reach::Alert | Reach::NotNew | Reach::Limit => true,
    };
    match (failed, side, touching) {
        (true, Side::Upper, Touching::Fails) => "at or above",
        (true, Side::Upper, Touching::Passes) | (false, Side::Lower, Touching::Fails) => "above",
        (true, Side::Lower, Touching::Fails) => "at or below",
        (true, Side::Lower, Touching::Passes) | (false, Side::Upper, Touching::Fails) => "below",
        (false, Side::Upper, Touching::Passes) => "at most",
        (false, Side::Lower, Touching::Passes) => "at least",
    }
}

/// A figure with at most `places` places, more where rounding would put it on the other side of `bound`, or on it.
///
/// 0.0197 is not shown as 0.02 beside a limit of 0.02.
pub fn beside(value: &Exact, bound: Option<&Exact>, places: u32) -> String {
    let reads_as = |places: u32| {
        let text = value.rounded(places, Rounding::Nearest);
        let shown: Option<rust_decimal::Decimal> = text.parse().ok();
        let same = bound.zip(shown).is_none_or(|(bound, shown)| Exact::from(shown).cmp(bound) == value.cmp(bound));
        (text, same)
    };
    let exact = value.as_decimal().filter(|text| {
        text.split_once('.').map_or(0, |(_, after)| after.len()) <= usize::try_from(places).unwrap_or(0)
    });
    if let Some(exact) = exact {
        return exact;
    }
    let honest = (places..places + 12).map(reads_as).find(|(_, same)| *same);
    honest.map_or_else(|| value.to_string(), |(text, _)| text)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_shown_never_contradicts_the_verdict() {
        let exact = |text: &str| Exact::from(text.parse::<rust_decimal::Decimal>().unwrap());
        assert_eq!(beside(&exact("0.0197"), Some(&exact("0.02")), 2), "0.0197");
        assert_eq!(beside(&exact("0.0197"), Some(&exact("0.03")), 2), "0.02");
        let third = Exact::fraction(2, 3).unwrap();
        assert_eq!(beside(&third, Some(&exact("0.6667")), 4), "0.66667");
        assert_eq!(beside(&exact("0.214"), None, 4), "0.214");
    }
}
