//! The numbers of the first page, each with what it counts.

use super::super::decide::{is_waived, refers};
use super::super::entry::{Act, Entry};
use super::super::gate::{self, step_name};
use super::super::inspection::Inspection;
use super::super::judge::Reach;
use super::super::left_out;
use super::super::missed;
use super::super::pattern::Pattern;
use super::super::progress;
use super::super::soak;
use super::super::standing::{Judgement, Outcome, Standing, claimed_things, pictureless, used_past_date};
use super::super::telling::{insisted, name_of, of_characteristic, of_entry};
use super::{Count, kept, remarked, scope};

/// How sure it is; what is missing or unusual.
pub(super) fn counts(inspection: &Inspection, standing: &Standing, patterns: &[Pattern]) -> (Vec<Count>, Vec<Count>) {
    (sure(inspection, standing), unusual(inspection, standing, patterns))
}

fn counted(name: &'static str, which: Vec<String>) -> Count {
    Count { name, number: which.len(), which }
}

/// Soaks that ran too short or too long, also where a note says why they were left at that.
fn soaks(inspection: &Inspection) -> Vec<String> {
    let told = progress::steps(inspection).filter_map(|step| {
        let (words, why) = soak::outside(inspection, step)?;
        let why = why.map_or_else(|| "nobody says why".to_owned(), |why| format!("note: {why}"));
        Some(format!("{}: {words}; {why}", step_name(inspection, step)))
    });
    told.collect()
}

/// Checks of gauges that missed; what these gauges have read is provisional.
fn gauges_missed(inspection: &Inspection) -> Vec<String> {
    let missed = inspection.standing_entries().filter(|entry| missed::by(inspection, entry).is_some());
    missed.map(|entry| at_place(inspection, entry)).collect()
}

/// Calls, by a question or by what was found, and who answered them: who asked did not.
fn calls(inspection: &Inspection) -> Vec<String> {
    let called = inspection.standing_entries().filter(|entry| gate::calls(inspection, entry));
    let told = called.map(|call| {
        let (number, about) = (call.number, call.number.to_string());
        let conceded = |one: &&Entry| matches!(one.deed(), Act::Concession { about: of, .. } if *of == about);
        // a referral is ended by no sentence
        let wanted = if refers(inspection, call) { "no concession yet" } else { "no answer yet" };
        let answers = inspection.answers_to(number).chain(inspection.standing_entries().filter(conceded));
        let answered: Vec<_> = answers.map(|one| of_entry(inspection, one)).collect();
        let answered = if answered.is_empty() { wanted.to_owned() } else { answered.join("; ") };
        format!("{}; {answered}", at_place(inspection, call))
    });
    told.collect()
}

/// Entries of one kind, each at its place.
fn entries_that(inspection: &Inspection, fits: &dyn Fn(&Act) -> bool) -> Vec<String> {
    let found = inspection.standing_entries().filter(|entry| fits(entry.deed()));
    found.map(|entry| at_place(inspection, entry)).collect()
}

/// Hours that were insisted on before the first entry.
fn begun_with(inspection: &Inspection) -> Option<String> {
    let opened = &inspection.head().opened;
    let hours = opened.machine_hours.map(|hours| format!(", {hours}")).unwrap_or_default();
    (!opened.doubts.is_empty()).then(|| format!("begun with{hours}{}", insisted(&opened.doubts)))
}

fn sure(inspection: &Inspection, standing: &Standing) -> Vec<Count> {
    let counts = &standing.counts;
    let which = |fits: &dyn Fn(&Act) -> bool| entries_that(inspection, fits);
    let judged = |fits: &dyn Fn(&Judgement) -> bool| -> Vec<String> {
        let found = standing
            .characteristics
            .iter()
            .filter(|one| matches!(&one.outcome, Outcome::Judged(judgement) if fits(judgement)));
        found.map(|one| one.characteristic.name().to_owned()).collect()
    };
    let conditions = progress::steps(inspection)
        .filter(|step| left_out::provisional(inspection, step))
        .map(|step| step_name(inspection, step));
    vec![
        Count {
            name: "insisted on",
            number: counts.insisted,
            which: begun_with(inspection).into_iter().chain(which(&|act| !act.doubts().is_empty())).collect(),
        },
        Count {
            name: "provisional",
            number: counts.provisional,
            which: judged(&Judgement::is_provisional).into_iter().chain(conditions).collect(),
        },
        Count {
            name: "undecided",
            number: counts.undecided,
            which: judged(&|judgement| judgement.reached.reach == Reach::Undecided),
        },
        Count { name: "gauge past date", number: counts.past_date, which: past_date(inspection) },
        counted("gauge check missed", gauges_missed(inspection)),
        counted("waits outside their times", soaks(inspection)),
        Count {
            name: "late from paper",
            number: counts.late,
            which: inspection
                .standing_entries()
                .filter(|one| one.late.is_some())
                .map(|one| at_place(inspection, one))
                .collect(),
        },
    ]
}

fn unusual(inspection: &Inspection, standing: &Standing, patterns: &[Pattern]) -> Vec<Count> {
    let counts = &standing.counts;
    let which = |fits: &dyn Fn(&Act) -> bool| entries_that(inspection, fits);
    let sheet = inspection.sheet().filter(|sheet| !sheet.is_entered_twice(inspection.people()));
    let away = waved_off(inspection);
    let plans = which(&|act| matches!(act, Act::Plan { .. }));
    let entered_once: Vec<_> = sheet.map(|sheet| sheet.entered_words(inspection.people())).into_iter().collect();
    let marked_away = standing.characteristics.iter().filter(|one| one.is_marked_away(inspection)).map(|one| {
        let part = inspection.head().checklist.part(one.characteristic.part()).map_or("", |part| part.name.as_str());
        format!("{part}: {}, {}", one.characteristic.name(), of_characteristic(one))
    });
    let mut counts = vec![
        Count { name: "skipped", number: counts.skipped, which: which(&|act| matches!(act, Act::Skip { .. })) },
        counted("marked as not here", away),
        counted("look without picture", without_picture(inspection)),
        Count { name: "limits entered once", number: usize::from(!entered_once.is_empty()), which: entered_once },
        Count { name: "struck", number: counts.struck, which: struck(inspection) },
        Count { name: "of those retaken", number: counts.retaken, which: Vec::new() },
        Count { name: "claimed approval", number: counts.claimed, which: claimed(inspection) },
        Count {
            name: "accepted unjudged",
            number: counts.unjudged,
            which: which(&|act| matches!(act, Act::Unjudged { .. })).into_iter().chain(marked_away).collect(),
        },
        Count {
            name: "condemned",
            number: counts.condemned,
            which: which(&|act| matches!(act, Act::Condemned { .. })),
        },
        Count { name: "overruled", number: counts.overruled, which: which(&|act| matches!(act, Act::Overrule { .. })) },
        counted("stop and call", calls(inspection)),
        Count { name: "opening planned anew", number: plans.len(), which: plans },
        changed_outside(inspection),
        Count {
            name: "odd patterns",
            number: patterns.len(),
            which: patterns.iter().map(|pattern| format!("{}: {}", pattern.unusual.name(), pattern.what)).collect(),
        },
    ];
    counts.extend(Some(counted("remarks answered", answered(inspection))).filter(|count| count.number > 0));
    counts.extend(scope::unjudged_lists(inspection, standing).map(|(heading, list)| counted(heading, list)));
    counts
}

/// Remarks that were answered, each with its answers.
fn answered(inspection: &Inspection) -> Vec<String> {
    let remarks = remarked::all(inspection).into_iter().filter(|one| !one.answers.is_empty());
    let answers = |one: &remarked::Remarked<'_>| {
        one.answers.iter().map(|answer| of_entry(inspection, answer)).collect::<Vec<_>>().join("; ")
    };
    remarks.map(|one| format!("{}; {}", one.remark.text, answers(&one))).collect()
}

/// What somebody has said not to be on this machine, although every machine has it, or the sheet, or this part does.
fn waved_off(inspection: &Inspection) -> Vec<String> {
    let away = inspection.standing_entries().filter(|entry| is_waived(inspection, entry));
    away.map(|entry| at_place(inspection, entry)).collect()
}

/// Looks that ask for a picture and have none, and why.
fn without_picture(inspection: &Inspection) -> Vec<String> {
    let told = progress::steps(inspection).filter_map(|step| {
        let why = pictureless(inspection, step)?;
        Some(format!("{}: {why}", step_name(inspection, step)))
    });
    told.collect()
}

fn changed_outside(inspection: &Inspection) -> Count {
    let which: Vec<_> = inspection.entries().iter().filter_map(|entry| kept::seen(inspection, entry)).collect();
    Count { name: "outside change seen", number: which.len(), which }
}

/// `Bush, turbine side / clearance by lift: inner 0 / 3 / up: typed .234, ...`.
fn at_place(inspection: &Inspection, entry: &Entry) -> String {
    let words = of_entry(inspection, entry);
    let checklist = &inspection.head().checklist;
    let step = entry.act.step().and_then(|id| checklist.step(id)).map(|step| step_name(inspection, step));
    let part = entry.act.part().and_then(|id| checklist.part(id)).map(|part| part.name.clone());
    step.or(part).map_or(words.clone(), |at| format!("{at}: {words}"))
}

fn struck(inspection: &Inspection) -> Vec<String> {
    let told = inspection.entries().iter().filter_map(|entry| {
        let (_, why) = inspection.strike_of(entry.number)?;
        Some(format!("{}: {why}", at_place(inspection, entry)))
    });
    told.collect()
}

fn past_date(inspection: &Inspection) -> Vec<String> {
    let told = used_past_date(inspection).into_iter().map(|(gauge, day)| {
        let due = gauge.calibration(day).and_then(|one| one.due).map(super::super::stamp::long_day);
        format!("{}, due {}", gauge.id, due.unwrap_or_default())
    });
    told.collect()
}

fn claimed(inspection: &Inspection) -> Vec<String> {
    claimed_things(inspection).into_iter().map(|claim| claim_words(inspection, claim)).collect()
}

/// `Bush, turbine side: overruled to watch by supervisor B (claimed, not signed): no spare, typed by fitter A`.
pub fn claim_words(inspection: &Inspection, claim: &Entry) -> String {
    format!("{}, typed by {}", at_place(inspection, claim), name_of(inspection, &claim.by))
}
