//! What a line opens to: entries as they were made, working, levels, earlier openings.

use super::super::entry::{Entry, PhotoRef};
use super::super::inspection::{Inspection, Past};
use super::super::outlook::{Outlook, Trend};
use super::super::sheet::{Amount, Bound, Level, Levels, Rule, Touching};
use super::super::stamp::long_day;
use super::super::standing::CharacteristicStanding;
use super::super::telling::{beside, hands_of, of_entry, out_of_date};
use super::super::unit::Unit;
use super::Photos;

/// `118  14:05  inner 0 / 3 / up: typed 0,232, 0.232 mm, D2  fitter A`; a struck one between dashes, with the strike.
pub(super) fn entry_line(inspection: &Inspection, entry: &Entry) -> String {
    let words = of_entry(inspection, entry);
    let mut when = entry.at.clock();
    if entry.at.date() != inspection.head().begun.date() {
        when = format!("{} {when}", entry.at.date());
    }
    if let Some(late) = &entry.late {
        when = format!("{when} (on paper {})", late.taken);
    }
    let hands = hands_of(inspection, entry);
    let number = entry.number;
    let Some((strike, why)) = inspection.strike_of(number) else {
        return format!("{number:>4}  {when}  {words}  {hands}{}", out_of_date(inspection, entry));
    };
    let (by, struck_by) = (strike.number, hands_of(inspection, strike));
    format!("{number:>4}  {when}  --{words}--  {hands}; struck by entry {by}, {struck_by}: {why}")
}

/// Lines of an entry: itself, its photos with what has become of them.
pub(super) fn entry_lines(inspection: &Inspection, entry: &Entry, photos: &Photos) -> Vec<String> {
    let mut lines = vec![entry_line(inspection, entry)];
    lines.extend(entry.deed().photos().iter().map(|photo| format!("      {}", photo_line(photo, photos))));
    let sheet = entry.late.as_ref().and_then(|late| late.sheet.as_ref());
    lines.extend(sheet.map(|hash| format!("      from the sheet {}", fate_of(hash, photos))));
    lines
}

fn photo_line(photo: &PhotoRef, photos: &Photos) -> String {
    format!("photo {}, {}", photo.name, fate_of(&photo.hash, photos))
}

/// `73010d8ff11f14f6: as taken, rotors/...`.
fn fate_of(hash: &str, photos: &Photos) -> String {
    let fate = photos.get(hash).map_or("not looked for", String::as_str);
    let short: String = hash.chars().take(16).collect();
    format!("{short}: {fate}")
}

/// Working, level with its source, forecast, readings, earlier openings.
pub(super) fn of_characteristic(inspection: &Inspection, one: &CharacteristicStanding) -> Vec<String> {
    let mut lines: Vec<String> =
        one.workings(inspection).iter().flat_map(super::super::reckon::working::Working::text_lines).collect();
    lines.extend(one.measured.faults.iter().map(|fault| format!("! {fault}")));
    if let Some(levels) = inspection.sheet().and_then(|sheet| sheet.levels.get(&one.characteristic)) {
        lines.extend(level_lines(levels));
    }
    if let Some(judgement) = one.judgement()
        && let Some(guard) = &judgement.reached.guard
    {
        lines.push(format!("guard in force: {}", beside(guard, None, 5)));
    }
    lines.extend(one.outlook.as_ref().map(outlook_line));
    lines.extend(history(inspection, one));
    lines
}

/// Every level of a characteristic, a line each: `limit: above 0.220 mm or below 0.130 mm, leads to replace; source`.
pub fn level_lines(levels: &Levels) -> Vec<String> {
    let all = [("new", &levels.new), ("alert", &levels.alert), ("limit", &levels.limit)];
    let told = all.into_iter().filter_map(|(name, level)| level.as_ref().map(|level| (name, level)));
    told.map(|(name, level)| level_line(name, level)).collect()
}

/// `limit: above 0.220 mm or below 0.130 mm, leads to replace, guarded by 1.65 u; source`.
fn level_line(name: &str, level: &Level) -> String {
    let new = name == "new";
    let side = |bound: Option<&Bound>, upper: &str, lower: &str| {
        bound.map(|bound| {
            let word = match (bound.touching, new) {
                (Touching::Fails, false) => format!("at or {upper}"),
                (Touching::Passes, false) => upper.to_owned(),
                // what is allowed, not what fails
                (Touching::Passes, true) => format!("at or {lower}"),
                (Touching::Fails, true) => lower.to_owned(),
            };
            format!("{word} {}", amount(&bound.amount))
        })
    };
    let sides: Vec<_> =
        [side(level.lower(), "below", "above"), side(level.upper(), "above", "below")].into_iter().flatten().collect();
    let rule = match level.rule() {
        Rule::Simple => String::new(),
        Rule::Guarded(factor) => format!(", guarded by {factor} u"),
    };
    let joined = sides.join(if new { " and " } else { " or " });
    let (allowed, leads_to) = if new { ("allowed ", "else") } else { ("", "leads to") };
    format!("{name}: {allowed}{joined}, {leads_to} {}{rule}; {}", level.leads_to().word(), level.source())
}

fn amount(amount: &Amount) -> String {
    match amount {
        Amount::Fixed(figure) => figure.to_string(),
        Amount::BySize { size, bands } => {
            let bands = bands.iter().map(|band| format!("{} up to {}", band.figure, band.up_to));
            format!("by {}: {}", size.what(), bands.collect::<Vec<_>>().join(", "))
        }
    }
}

fn outlook_line(outlook: &Outlook) -> String {
    match outlook {
        Outlook::None(why) | Outlook::Still(why) => format!("forecast: {why}"),
        Outlook::Told { told, limit, unit, on_flat, leads_to } => {
            let what = match on_flat {
                Trend::Value => "",
                Trend::Flat => "on the flat, ",
                Trend::Hours => "hours counted, ",
            };
            format!(
                "forecast: {what}{} at the next opening, one-sided 95 % bound {}, limit {} {unit}: {}; {}",
                beside(&told.next, Some(limit), 3),
                beside(&told.bound, Some(limit), 3),
                beside(limit, None, 3),
                leads_to.word(),
                told.fit
            )
        }
    }
}

/// Earlier openings of the same part, on its own hours.
fn history(inspection: &Inspection, one: &CharacteristicStanding) -> Vec<String> {
    let mine = inspection.history_of(one.characteristic);
    let told = |past: &Past| {
        let gone = if is_taken_out(inspection, past) { ", the part taken out since" } else { "" };
        let place = past.place.as_ref().map(|place| format!(" at {place}")).unwrap_or_default();
        let left = if past.as_left { ", as left" } else { "" };
        let unit = one.characteristic.unit().behind();
        let value = beside(&past.value, None, 4);
        format!(
            "last time: {value}{unit}{place}, {} h of the part{left}, {}{gone}",
            past.hours.decimal(),
            long_day(past.date)
        )
    };
    let mut lines: Vec<_> = inspection.another_in(one.characteristic).into_iter().chain(mine.map(told)).collect();
    // the smallest and the largest of one place read alike
    lines.dedup();
    lines
}

/// Whether the part of that opening was taken out there or later: the one fitted now came in when the machine stood as
/// high, or higher.
fn is_taken_out(inspection: &Inspection, past: &Past) -> bool {
    let head = inspection.head();
    let fitted = |past: &Past| {
        let fitted = head.parts.get(past.characteristic.part())?;
        Some((fitted.machine.to(Unit::Hour)?, fitted.hours.to(Unit::Hour)?))
    };
    let machine = |past: &Past| {
        let (machine, hours) = fitted(past)?;
        Some(&(&past.hours.to(Unit::Hour)? - &hours) + &machine)
    };
    // what a part that is gone makes of it is too high
    let then = head.history.iter().filter(|one| one.inspection == past.inspection).filter_map(machine).min();
    let since =
        fitted(past).zip(then).map(|((since, _), then)| if past.as_left { since > then } else { since >= then });
    since.unwrap_or(false)
}
