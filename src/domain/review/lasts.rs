//! Will it last to the next opening? What verdicts, concessions and forecasts say of that, and what nobody knows.

use super::super::edition;
use super::super::inspection::Inspection;
use super::super::outlook::Outlook;
use super::super::standing::{PartStanding, Standing};
use super::super::telling::counted;
use super::super::until::End;
use super::super::verdict::{Disposition, Hold};
use super::{Said, Tenor, scope};

/// Nothing speaks against it.
const YES: &str = "Yes";

/// Will it last to the next planned opening? What somebody allows for less than that ends it before.
pub(super) fn lasts(inspection: &Inspection, standing: &Standing) -> Said {
    let opening = inspection.opening();
    let resting = standing.parts.iter().map(|part| (part.short.as_str(), part.ends.before(opening)));
    let resting: Vec<_> = resting.filter(|(_, end)| *end != End::default()).collect();
    let nearest = resting.iter().fold(End::default(), |nearest, (_, end)| nearest.or(end));
    let Some(when) = nearest.in_words() else { return to_next(inspection, standing, YES) };
    let said = to_next(inspection, standing, "Not");
    let parts = resting.iter().map(|(part, _)| *part).collect::<Vec<_>>().join(", ");
    Said { text: format!("{} A concession on {parts} ends first: {when}.", said.text), ..said }
}

/// What verdicts and forecasts say of that, `yes` where nothing speaks against it.
fn to_next(inspection: &Inspection, standing: &Standing, yes: &str) -> Said {
    if let Some(text) = against(standing) {
        return Said { tenor: Tenor::Bad, text };
    }
    let watch = |text| Said { tenor: Tenor::Watch, text };
    if let Some(text) = not_known(standing) {
        return watch(text);
    }
    if let Some(asked) = edition::asked(inspection) {
        return watch(format!("Not known: {}", asked.words));
    }
    let Some(next) = inspection.opening().next_hours else {
        return watch("Not known: the next opening is not planned.".to_owned());
    };
    let renewed = match count(standing, |part| is_replaced(part) && !part.verdict.holds.contains(&Hold::NewPart)) {
        0 => String::new(),
        renewed => format!(", {renewed} renewed"),
    };
    let watched = count(standing, |part| part.verdict.disposition == Disposition::Watch);
    let with = numbered([(watched, "to watch"), (milder(standing), "milder than by the rules")]);
    // what nobody looked at today is not said to last
    if let Some(unseen) = scope::unseen(inspection, standing.counts.characteristics) {
        let with = if with.is_empty() { String::new() } else { format!(" Of the rest: {with}{renewed}.") };
        return watch(format!("Not known to {next}: {unseen}.{with}"));
    }
    if let Some(text) = not_looked_at(standing) {
        return watch(text);
    }
    let behind = if with.is_empty() { String::new() } else { format!(", with {with}") };
    match without_forecast(standing).filter(|_| yes == YES) {
        Some(none) => watch(format!("Not known to {next}{behind}{renewed}: {none}.")),
        None if !with.is_empty() => watch(format!("{yes} to {next}{behind}{renewed}.")),
        None => {
            let text = format!("{yes} to {next}{renewed}, as far as limits and forecasts say.");
            Said { tenor: Tenor::Good, text }
        }
    }
}

fn count(standing: &Standing, fits: impl Fn(&PartStanding) -> bool) -> usize {
    standing.parts.iter().filter(|part| fits(part)).count()
}

/// `1 to replace, 2 to rework`: what is not nothing.
fn numbered(all: [(usize, &str); 2]) -> String {
    let some = all.into_iter().filter(|(number, _)| *number > 0);
    some.map(|(number, what)| format!("{number} {what}")).collect::<Vec<_>>().join(", ")
}

fn milder(standing: &Standing) -> usize {
    count(standing, |part| part.milder().is_some())
}

fn is_replaced(part: &PartStanding) -> bool {
    part.verdict.disposition == Disposition::Replace
}

/// What is to be done first, or is decided more mildly than by the rules, or is only claimed.
fn against(standing: &Standing) -> Option<String> {
    let replace = count(standing, |part| is_replaced(part) && part.verdict.holds.contains(&Hold::NewPart));
    let is_rework = |part: &PartStanding| part.verdict.disposition == Disposition::Rework;
    let rework = count(standing, |part| is_rework(part) && !part.verdict.holds.is_empty());
    let is_referred = |hold: &&Hold| matches!(hold, Hold::Referred(_));
    let referred: usize = standing.parts.iter().map(|part| part.verdict.holds.iter().filter(is_referred).count()).sum();
    let mut words = Vec::new();
    for (number, what) in [(replace, "to replace"), (rework, "to rework")] {
        let parts = match (words.is_empty(), number) {
            (false, _) => "",
            (true, 1) => "part ",
            (true, _) => "parts ",
        };
        words.extend((number > 0).then(|| format!("{number} {parts}{what}")));
    }
    words.extend((referred > 0).then(|| format!("{referred} referred")));
    let rules = by_the_rules(standing);
    // who decides answers for it, but no decision makes a part last, and what is only claimed decides nothing
    let claimed = standing.counts.claimed;
    let claimed = (claimed > 0).then(|| format!("{} only claimed", counted(claimed, "decision")));
    let behind = claimed.as_ref().map(|claimed| format!(", {claimed}")).unwrap_or_default();
    if !words.is_empty() {
        let besides =
            if rules.is_empty() { rules } else { format!("; by the rules {rules} besides, decided more mildly") };
        return Some(format!("Not as it lies: {}{besides}{behind}.", words.join(", ")));
    }
    if !rules.is_empty() {
        let milder = counted(milder(standing), "part");
        return Some(format!("Not by the rules: {rules}; {milder} decided more mildly{behind}."));
    }
    claimed.map(|claimed| format!("Not yet: {claimed}."))
}

/// How many characteristics nobody knows enough of; who accepts one unjudged answers for it, and does not know it either.
fn not_known(standing: &Standing) -> Option<String> {
    let counts = &standing.counts;
    let unknown = counts.characteristics.saturating_sub(counts.judged);
    let accepted = match standing.characteristics.iter().filter(|one| one.is_accepted()).count() {
        0 => String::new(),
        accepted => format!(", {accepted} of them accepted unjudged"),
    };
    let (of, are) = (counted(counts.characteristics, "characteristic"), if unknown == 1 { "is" } else { "are" });
    (unknown > 0).then(|| format!("Not known: {unknown} of {of} {are} open{accepted}."))
}

/// How many parts have something that nobody has looked at or settled yet.
fn not_looked_at(standing: &Standing) -> Option<String> {
    let open = count(standing, |part| part.verdict.holds.iter().any(|hold| matches!(hold, Hold::Open(_))));
    let are = if open == 1 { "is" } else { "are" };
    (open > 0).then(|| format!("Not known: {} {are} not done with.", counted(open, "part")))
}

/// How many are within today and have no forecast: it takes two openings, or what the part was when it was new.
fn without_forecast(standing: &Standing) -> Option<String> {
    let found: Vec<_> = standing.characteristics.iter().filter(|one| one.outlook.is_some()).collect();
    let none = found.iter().filter(|one| matches!(one.outlook, Some(Outlook::None(_)))).count();
    let of = counted(found.len(), "figure");
    (none > 0).then(|| format!("{none} of {of} have no forecast yet"))
}

/// What the rules say of parts that somebody decided more mildly, `1 to replace, 2 to rework`.
fn by_the_rules(standing: &Standing) -> String {
    let by_them = |to| count(standing, |part| part.milder().is_some() && part.computed.disposition == to);
    numbered([(by_them(Disposition::Replace), "to replace"), (by_them(Disposition::Rework), "to rework")])
}
