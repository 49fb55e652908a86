//! A record as lines for people: how it stands, then every entry in its order.

use crate::domain::checklist::Signing;
use crate::domain::entry::{Act, Entry, Late};
use crate::domain::gate::step_name;
use crate::domain::hours;
use crate::domain::inspection::{Inspection, Scene};
use crate::domain::progress;
use crate::domain::review::{Cause, Kept, differences, key_words, lists, since, unjudged_lists};
use crate::domain::signing;
use crate::domain::stamp::long_day;
use crate::domain::standing::{Outcome, PartStanding, Standing, hold_words, plan_claimed};
use crate::domain::stranger::entered_as_supervisor;
use crate::domain::telling;
use crate::domain::watch::Watch;
use crate::domain::worked;

/// The whole record.
pub fn lines(inspection: &Inspection, standing: &Standing, kept: &Kept) -> Vec<String> {
    let mut lines = heading(inspection);
    lines.extend(opening(inspection));
    lines.extend([Signing::Decisions, Signing::Close].into_iter().flat_map(|what| signed(inspection, kept, what)));
    lines.push(String::new());
    lines.push("PARTS".to_owned());
    lines.extend(standing.job.iter().map(|hold| format!("{} the job: {}", hold.sign(), hold_words(hold))));
    lines.extend(standing.parts.iter().flat_map(part));
    for (heading, list) in lists(inspection, standing).in_words() {
        lines.push(String::new());
        lines.push(heading.to_uppercase());
        lines.extend(if list.is_empty() { vec!["nothing".to_owned()] } else { list });
    }
    for (heading, list) in unjudged_lists(inspection, standing) {
        lines.extend([String::new(), heading.to_uppercase()]);
        lines.extend(list);
    }
    lines.extend(differing(inspection));
    lines.extend(changed_since(inspection, standing));
    lines.extend(sent_back(inspection));
    lines.push(String::new());
    lines.push("CHARACTERISTICS".to_owned());
    for one in standing.characteristics.iter().filter(|one| one.outcome != Outcome::Excused) {
        let part = standing.part(one.characteristic.part()).map(|part| format!("{}, ", part.short)).unwrap_or_default();
        let left = one.condition.behind();
        lines.push(format!("{part}{}{left}: {}", one.characteristic.name(), telling::of_characteristic(one)));
    }
    lines.extend(worked(inspection));
    lines.push(String::new());
    lines.push("ENTRIES".to_owned());
    lines.extend(inspection.entries().iter().map(|entry| self::entry(inspection, entry)));
    lines
}

/// Which record, of which machine, and that it is invented where it is.
fn heading(inspection: &Inspection) -> Vec<String> {
    let head = inspection.head();
    let scene = match head.scene {
        Scene::Real => None,
        Scene::Invented => Some("INVENTED DEMONSTRATION: no such rotor exists."),
        Scene::Practice => Some("PRACTICE, INVENTED: no such rotor exists."),
    };
    let opening = inspection.opening();
    let hours = opening.machine_hours.map_or_else(|| "hours not given".to_owned(), |hours| hours.to_string());
    let last = hours::at_last_opening(inspection);
    let last = last.map(|(hours, day)| format!(" ({hours} at the last opening, {})", long_day(day)));
    let hours = format!("{hours}{}", last.unwrap_or_default());
    let [claimed, _] = plan_claimed(inspection);
    let next =
        opening.next_hours.map_or_else(|| "not planned".to_owned(), |hours| format!("planned at {hours}{claimed}"));
    let mut lines = vec![format!("{}, {}", head.id, head.checklist.title)];
    lines.extend(scene.map(str::to_owned));
    lines.push(format!("{}, serial {}, {hours}, next opening {next}", head.rotor.machine, head.rotor.serial));
    lines.push(match inspection.sheet() {
        Some(sheet) => format!("{}: {}", sheet.id, sheet.entered_words(inspection.people())),
        None => "no limits sheet: every verdict stays open".to_owned(),
    });
    lines.push(format!("{} saved", inspection.reading_count()));
    lines.extend(entered_as_supervisor(inspection).into_iter().map(|(.., what)| format!("! {what}")));
    lines
}

/// Where the record has it otherwise than it was signed, under what was the cause.
fn differing(inspection: &Inspection) -> Vec<String> {
    let found = differences(inspection);
    let (rules, outside): (Vec<_>, Vec<_>) = found.iter().partition(|one| one.cause == Cause::Rules);
    let headings = [(rules, "SIGNED OTHERWISE THAN TODAY'S RULES"), (outside, "CHANGED OUTSIDE AFTER IT WAS SIGNED")];
    let told = headings.into_iter().filter(|(found, _)| !found.is_empty()).flat_map(|(found, heading)| {
        let told = found.into_iter().map(|one| format!("{}: {}", one.part, one.sides().join("; ")));
        [String::new(), heading.to_owned()].into_iter().chain(told)
    });
    told.collect()
}

/// Remarks that wait for an answer.
fn sent_back(inspection: &Inspection) -> Vec<String> {
    let open = signing::open_remarks(inspection);
    let told = open.iter().map(|(entry, number, remark)| {
        let step = remark.step.as_ref().and_then(|step| inspection.head().checklist.step(step));
        let at = step.map(|step| format!(" at {}", step_name(inspection, step))).unwrap_or_default();
        format!("! entry {entry}, remark {number}{at}: {}", remark.text)
    });
    let heading = (!open.is_empty()).then(|| [String::new(), "SENT BACK, NOT ANSWERED".to_owned()]);
    heading.into_iter().flatten().chain(told).collect()
}

fn opening(inspection: &Inspection) -> Vec<String> {
    let opening = inspection.opening();
    let manual = opening
        .manual
        .as_ref()
        .map(|manual| format!("{}, edition {}, looked up {}", manual.title, manual.edition, manual.checked));
    let [_, claimed] = plan_claimed(inspection);
    let answers = [
        ("opened because", opening.reason.clone()),
        ("comes", opening.arrives.map(|arrives| arrives.word().to_owned())),
        ("manual", manual),
        ("service letters", opening.letters.clone()),
        ("next day", opening.next_date.map(|day| format!("{day}{claimed}"))),
    ];
    answers
        .into_iter()
        .map(|(what, answer)| format!("{what}: {}", answer.unwrap_or_else(|| "later".to_owned())))
        .collect()
}

fn signed(inspection: &Inspection, kept: &Kept, what: Signing) -> Vec<String> {
    let name = |id| telling::name_of(inspection, id);
    let Some(sign) = signing::last_signature(inspection, what) else {
        return vec![format!("{}: not signed", what.word())];
    };
    let number = sign.number;
    let by = format!("{}{}", name(&sign.by), Watch::over(inspection, &sign.by, number));
    if let Some(back) = signing::sent_back(inspection, number) {
        let (who, entry) = (name(back.doer()), back.number);
        return vec![format!("{}: signed by {by}, entry {number}, sent back by {who}, entry {entry}", what.word())];
    }
    let strange = signing::strangely_countersigned(inspection, number, &kept.strange);
    let key = |entry: u32| key_words(&kept.keyed, entry);
    let countersigned = signing::countersigned(inspection, number).map_or(signing::PENDING.to_owned(), |entry| {
        let worth = match strange {
            Some(by) => format!("{}: {}", kept.against(by), signing::PENDING),
            None => key(entry.number).to_owned(),
        };
        format!("countersigned by {}, {worth}", name(entry.doer()))
    });
    let mut lines = vec![format!(
        "{}: signed by {by} at {}, entry {number}, {}, {countersigned}",
        what.word(),
        sign.at,
        key(number)
    )];
    if what == Signing::Close && signing::gone_on(inspection) {
        lines.push(format!("! {}", signing::SIGN_AGAIN));
    }
    if signing::is_shaken(inspection, number) {
        lines.push(format!("! what entry {number} signed was changed outside since"));
    }
    lines
}

/// What entries after the last signature have changed of what was signed.
fn changed_since(inspection: &Inspection, standing: &Standing) -> Vec<String> {
    let found = since(inspection, standing);
    let told = found.iter().map(|one| format!("! {}; entries came after entry {}", one.since_words(), one.entry));
    let heading = (!found.is_empty()).then(|| [String::new(), "CHANGED SINCE IT WAS SIGNED".to_owned()]);
    heading.into_iter().flatten().chain(told).collect()
}

fn part(part: &PartStanding) -> Vec<String> {
    let (sign, word) = part.told();
    let mut lines = vec![format!("{sign} {}: {word}", part.name)];
    lines.extend(part.verdict.holds.iter().map(|hold| format!("    {} {}", hold.sign(), hold_words(hold))));
    lines.extend(part.reasons.iter().map(|reason| format!("    {reason}")));
    lines
}

/// What the steps reckoned besides, judging nothing by it.
fn worked(inspection: &Inspection) -> Vec<String> {
    let told = progress::steps(inspection).flat_map(|step| {
        let name = step_name(inspection, step);
        worked::of_step(inspection, step).into_iter().map(move |one| format!("{name}: {}", one.words()))
    });
    let told: Vec<_> = told.collect();
    let heading = (!told.is_empty()).then(|| [String::new(), "RECKONED BESIDES".to_owned()]);
    heading.into_iter().flatten().chain(told).collect()
}

/// `118 2024-07-12T14:05:31+02:00  Bush, turbine side / clearance by lift: inner 0, third up: typed 0,232 ...  fitter A`.
fn entry(inspection: &Inspection, entry: &Entry) -> String {
    let struck = telling::no_more(inspection, entry, |by| format!("  STRUCK in entry {by}"));
    let hands = telling::hands_of(inspection, entry);
    let checklist = &inspection.head().checklist;
    let step = entry.deed().step().and_then(|id| checklist.step(id));
    let part = entry.deed().part().and_then(|id| checklist.part(id));
    let at = step.map(|step| format!("{}: ", step_name(inspection, step)));
    let at = at.or_else(|| part.map(|part| format!("{}: ", part.name))).unwrap_or_default();
    let mut words = telling::of_entry(inspection, entry);
    if let (Some(step), Act::Reading { place, .. }) = (step, &entry.act)
        && let Some(cell) = progress::cells(inspection, step).into_iter().find(|cell| cell.place() == *place)
    {
        words = words.replacen(place.as_str(), &cell.spoken(), 1);
    }
    let late = entry.late.as_ref().map(|late| format!(" (late, on paper {}, {})", late.taken, sheet(late)));
    let (late, past) =
        (late.unwrap_or_default(), if inspection.past_date(entry).is_some() { ", past its date" } else { "" });
    format!("{:4} {}{late}  {at}{words}{past}  {hands}{struck}", entry.number, entry.at)
}

/// `photo of it 73010d8ff11f14f6`.
fn sheet(late: &Late) -> String {
    let short = |hash: &String| format!("photo of it {}", hash.chars().take(16).collect::<String>());
    late.sheet.as_ref().map_or_else(|| "no photo of it".to_owned(), short)
}
