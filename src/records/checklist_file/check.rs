//! Whether a checklist holds together: names that exist, needs without a circle, texts that fit their boxes.

mod against;
mod binding;
mod holds;
mod needs;
mod safe;
mod soon;
mod texts;
mod works;

use std::collections::{BTreeMap, BTreeSet};

use crate::domain::characteristic::Given;
use crate::domain::checklist::{Checklist, Grade, Part, Signing, Step, Takes, Usual};
use crate::domain::exact::Exact;
use crate::domain::figure::Figure;
use crate::domain::instrument::GaugeKind;
use crate::domain::phase::Phase;
use crate::domain::unit::Dimension;
use crate::domain::verdict::Consequence;
use crate::records::yaml::{At, Node, Problem, Problems, nearest};

pub use safe::{holding_nothing_back, with_new_unchecked};

/// Where a part or step stands.
#[derive(Clone, Copy)]
pub(super) struct Source<'a> {
    pub(super) file: &'a str,
    pub(super) node: &'a Node,
}

/// Where each part and step of a checklist stands, in its order.
#[derive(Default)]
pub(super) struct Sources<'a> {
    pub(super) whole: Option<Source<'a>>,
    pub(super) parts: Vec<Source<'a>>,
    pub(super) steps: Vec<Source<'a>>,
}

/// What is said of a part that has no step.
const IDLE: &str = ", which no step is about";
/// How faults end that a step which could not be read may be the whole reason of.
pub(super) const SHAKY: [&str; 4] = [IDLE, safe::UNSAFE, safe::UNGATED, holds::UNBALANCED];

/// What is expected of a name that something else must have.
pub(super) const KNOWN: &str = " of this checklist";

/// Says what is wrong at one key of one part or step.
struct Spot<'a> {
    source: Option<Source<'a>>,
    problems: &'a mut Problems,
}

impl Spot<'_> {
    /// A fault at `key`, or at its item `place`.
    fn fault(&mut self, key: (&str, Option<usize>), found: &str, expected: &str, mend: &str) {
        let (key, place) = key;
        let node = self.source.map(|source| {
            let value = source.node.get(key);
            let item = place.and_then(|place| value?.items().get(place));
            item.or(value).unwrap_or(source.node)
        });
        self.problems.take(Problem {
            file: self.source.map_or("", |source| source.file).to_owned(),
            at: node.map_or(At::default(), |node| node.at),
            found: found.to_owned(),
            expected: expected.to_owned(),
            mend: mend.to_owned(),
        });
    }
}

/// Every fault of a checklist.
pub(super) fn check(checklist: &Checklist, sources: &Sources<'_>, problems: &mut Problems) {
    let steps: BTreeSet<&str> = checklist.steps.iter().map(|step| step.id.as_str()).collect();
    let parts: BTreeSet<&str> = checklist.parts.iter().map(|part| part.id.as_str()).collect();
    for (place, part) in checklist.parts.iter().enumerate() {
        let mut spot = Spot { source: sources.parts.get(place).copied(), problems: &mut *problems };
        twice("part", &part.id, checklist.parts.iter().take(place).map(|part| part.id.as_str()), &mut spot);
        check_part(part, &steps, &mut spot);
        texts::check_part(part, &mut spot);
        needs::check_put_back(part, checklist, &mut spot);
        if !checklist.steps.iter().any(|step| step.part == part.id) {
            let found = format!("`{}`{IDLE}", part.id);
            spot.fault(("part", None), &found, "a part with a step", "Write a step for it, or take the part out.");
        }
    }
    for (place, step) in checklist.steps.iter().enumerate() {
        let mut spot = Spot { source: sources.steps.get(place).copied(), problems: &mut *problems };
        needs::check_temperatures(step, checklist, &mut spot);
        twice("step", &step.id, checklist.steps.iter().take(place).map(|step| step.id.as_str()), &mut spot);
        known(("part", None), &step.part, &parts, "a part of this checklist", &mut spot);
        for (place, need) in step.needs.iter().enumerate() {
            known(("needs", Some(place)), need, &steps, "a step of this checklist", &mut spot);
        }
        texts::check(step, &mut spot);
        check_caution(step, &mut spot);
        check_reach(step, checklist, &mut spot);
        check_places(step, &mut spot);
        check_looks_for(step, checklist, &mut spot);
        check_usual(step, &mut spot);
        check_gauge(step, &mut spot);
        let before = checklist.steps.get(..place).unwrap_or_default();
        check_title(step, before, &mut spot);
        for (place, judged) in step.judges.iter().enumerate() {
            for obliged in &judged.obliges {
                known(("judges", Some(place)), obliged, &steps, "a step of this checklist under `obliges`", &mut spot);
            }
        }
        binding::check(step, &parts, &mut spot);
        binding::check_once(step, before, &mut spot);
        needs::check_order(step, checklist, &mut spot);
        against::check(step, checklist, &mut spot);
        soon::check(step, (checklist, &steps), &mut spot);
        works::check(step, checklist, &mut spot);
    }
    texts::check_title(&checklist.title, &mut Spot { source: sources.whole, problems: &mut *problems });
    needs::check_circles(checklist, sources, problems);
    safe::check(checklist, sources, problems);
    holds::check(checklist, sources, problems);
    for what in [Signing::Decisions, Signing::Close] {
        if !checklist.steps.iter().any(|step| step.takes == Takes::Sign(what)) {
            let mut spot = Spot { source: sources.steps.last().copied(), problems: &mut *problems };
            let found = format!("no step that takes `{}`", what.word());
            let mend = "Put it: without the decisions nothing is rebuilt, and without both nothing is ever closed.";
            spot.fault(("takes", None), &found, &format!("a step with `takes: {}`", what.word()), mend);
        }
    }
}

fn twice<'a>(key: &str, id: &str, mut before: impl Iterator<Item = &'a str>, spot: &mut Spot<'_>) {
    if before.any(|other| other.eq_ignore_ascii_case(id)) {
        let found = format!("the {key} `{id}` a second time");
        spot.fault((key, None), &found, "each name once, without regard to case", "Give one of the two another name.");
    }
}

fn known(key: (&str, Option<usize>), name: &str, names: &BTreeSet<&str>, expected: &str, spot: &mut Spot<'_>) {
    if names.contains(name) {
        return;
    }
    let mend = match nearest(name, names.iter().copied()) {
        Some(near) => format!("Did you mean `{near}`?"),
        None => "Name one that is there, or write it.".to_owned(),
    };
    spot.fault(key, &format!("`{name}`"), expected, &mend);
}

/// A gauge reads figures of its own sort.
fn check_gauge(step: &Step, spot: &mut Spot<'_>) {
    let Takes::Readings(grid) = &step.takes else { return };
    let reads = grid.gauge.unit().dimension();
    let fits = grid.takes_a(reads) || grid.units.values().any(|unit| unit.dimension() == reads);
    if grid.gauge != GaugeKind::Other && !fits {
        let found = format!("figures in {} by a {}", grid.unit, grid.gauge.word());
        let expected = format!("a {}, as it reads", reads.word());
        spot.fault(("grid", None), &found, &expected, "Put a unit of that kind, or the gauge that reads this one.");
    }
}

/// Two steps under one heading cannot be told apart on a screen or a paper.
fn check_title(step: &Step, before: &[Step], spot: &mut Spot<'_>) {
    let same = |other: &&Step| (&other.part, other.phase, &other.title) == (&step.part, step.phase, &step.title);
    if let Some(other) = before.iter().find(same) {
        let found = format!("the title `{}` of `{}` again", step.title, other.id);
        spot.fault(("title", None), &found, "a title of its own", "Say what sets this step apart.");
    }
}

/// A window of the grid's own sort of figures, the smaller one first.
fn check_usual(step: &Step, spot: &mut Spot<'_>) {
    let Takes::Readings(grid) = &step.takes else { return };
    let Some(Usual { from, to }) = grid.usual else { return };
    let wanted = grid.unit.dimension();
    if let Some(figure) = [Some(from), to].into_iter().flatten().find(|figure| figure.dimension() != wanted) {
        let found = format!("usual: `{figure}`, {}", figure.dimension().one());
        spot.fault(("grid", None), &found, &wanted.one(), "Put the grid's unit behind it.");
    }
    if let Some(to) = to
        && from.to(grid.unit).zip(to.to(grid.unit)).is_some_and(|(from, to)| from >= to)
    {
        let found = format!("usual: from {from} to {to}");
        spot.fault(("grid", None), &found, "the smaller figure first", "Turn the two round.");
    }
}

fn check_part(part: &Part, steps: &BTreeSet<&str>, spot: &mut Spot<'_>) {
    if part.every_months == Some(0) {
        let mend = "Write how many months, or take the line out.";
        spot.fault(("every months", None), "every 0 months", "at least 1", mend);
    }
    for (place, finding) in part.findings.iter().enumerate() {
        let at = ("findings", Some(place));
        if part.findings.iter().take(place).any(|other| other.kind == finding.kind) {
            let found = format!("the kind `{}` a second time", finding.kind);
            spot.fault(at, &found, "each kind once in a part", "Give one of the two another name.");
        }
        if finding.grades.is_empty() {
            let found = format!("the kind `{}` without grades", finding.kind);
            spot.fault(
                at,
                &found,
                "at least one grade",
                "Put the grades from mild to grave, each with what it leads to.",
            );
        }
        if !finding.crack && finding.kind.split(' ').any(|word| matches!(word, "crack" | "cracks" | "cracked")) {
            let mend = "Put the line: a crack is never overruled toward the less safe side.";
            spot.fault(at, &format!("the kind `{}`, named a crack", finding.kind), "`crack: yes`", mend);
        }
        check_leads(&finding.grades, at, spot);
        let suits = |grade: &Grade| grade.leads_to.iter().all(|one| one.suits_a_crack());
        let light = finding.grades.iter().find(|grade| finding.crack && !suits(grade));
        if let Some(grade) = light {
            let found = format!("a crack, `{}`, that leads to {}", grade.grade, grade.leads_to_in_words());
            let expected = "refer, replace or call for every grade of a crack";
            spot.fault(
                at,
                &found,
                expected,
                "No crack is judged acceptable at the bench: refer it, or replace the part.",
            );
        }
        for step in &finding.obliges {
            known(at, step, steps, "a step of this checklist under `obliges`", spot);
        }
    }
}

/// What a grade leads to disposes of the part once, and holds it besides.
fn check_leads(grades: &[Grade], at: (&str, Option<usize>), spot: &mut Spot<'_>) {
    for Grade { grade, leads_to } in grades {
        let disposes = |one: &&Consequence| !matches!(one, Consequence::Refer | Consequence::Call);
        let distinct: BTreeSet<_> = leads_to.iter().collect();
        let idle = leads_to.len() > 1 && leads_to.contains(&Consequence::Nothing);
        if leads_to.is_empty()
            || distinct.len() < leads_to.len()
            || idle
            || leads_to.iter().filter(disposes).count() > 1
        {
            let words: Vec<_> = leads_to.iter().map(|one| one.word()).collect();
            let found = format!("`{grade}` that leads to [{}]", words.join(", "));
            let expected = "one of watch, rework, replace, and refer or call besides";
            spot.fault(
                at,
                &found,
                expected,
                "Write each once; `[replace, refer]` replaces the part and refers it too.",
            );
        }
    }
}

/// Where somebody can be hurt, the step says so.
fn check_caution(step: &Step, spot: &mut Spot<'_>) {
    if matches!(step.phase, Phase::Safe | Phase::Strip | Phase::Clean) && step.caution.is_none() {
        let found = format!("no caution, in the phase `{}`", step.phase.word());
        spot.fault(("step", None), &found, "`caution:` with what can hurt someone", "Put the caution, one line.");
    }
}

/// What is done on demand only, somebody can demand: a finding or a figure that obliges it, or what is decided for its
/// part.
fn check_reach(step: &Step, checklist: &Checklist, spot: &mut Spot<'_>) {
    let findings = checklist.parts.iter().flat_map(|part| &part.findings).map(|finding| &finding.obliges);
    let figures = checklist.steps.iter().flat_map(|step| &step.judges).map(|judged| &judged.obliges);
    let decided = matches!(step.phase, Phase::Order | Phase::New | Phase::Rebuild | Phase::Close);
    if step.on_demand && !decided && !findings.chain(figures).any(|obliges| obliges.contains(&step.id)) {
        let found = format!("`{}`, on demand, which nothing asks for", step.id);
        let mend = "Name it under `obliges` of a finding or a figure, or take `on demand` out.";
        spot.fault(("on demand", None), &found, "a step that can be reached", mend);
    }
}

/// What a step looks for can be said there.
fn check_looks_for(step: &Step, checklist: &Checklist, spot: &mut Spot<'_>) {
    let part = checklist.part(&step.part).filter(|_| step.takes == Takes::Look);
    let kinds = part.into_iter().flat_map(|part| &part.findings).map(|one| one.kind.as_str()).collect();
    for (place, kind) in step.looks_for.iter().enumerate() {
        known(("looks for", Some(place)), kind, &kinds, "a kind of its part, at a step that takes a look", spot);
    }
}

/// Places, figures and points have names of their own, and rows that the sheet ends name a figure of the machine.
fn check_places(step: &Step, spot: &mut Spot<'_>) {
    match &step.takes {
        Takes::Readings(grid) => {
            let key = ("grid", None);
            let mut seen = BTreeSet::new();
            for place in grid.cells(None).iter().map(crate::domain::checklist::Cell::place) {
                if !seen.insert(place.clone()) {
                    let mend = "Give rows, columns and figures names that tell them apart.";
                    spot.fault(key, &format!("the place `{place}` a second time"), "each place once", mend);
                    break;
                }
            }
            if !(1..=50).contains(&grid.repeats) {
                spot.fault(
                    key,
                    &format!("{} repeats", grid.repeats),
                    "1 to 50 repeats",
                    "Write how often at each place.",
                );
            }
            for row in grid.blocks.iter().flat_map(|block| &block.rows) {
                check_row(row, spot);
            }
        }
        Takes::Points(points) => {
            for (place, point) in points.iter().enumerate() {
                let before = points.iter().take(place).map(|point| point.id.as_str());
                if before.into_iter().any(|other| other == point.id) {
                    let found = format!("the point `{}` a second time", point.id);
                    spot.fault(("points", Some(place)), &found, "each point once", "Give one of the two another name.");
                }
            }
        }
        Takes::Soak { from, to } => {
            check_soak(*from, *to, spot);
        }
        Takes::Tick | Takes::Look | Takes::Words | Takes::Sign(_) => {}
    }
}

/// Two times, the shorter one first, and the shorter one no nothing.
fn check_soak(from: Figure, to: Option<Figure>, spot: &mut Spot<'_>) {
    let key = ("soak", None);
    for figure in [Some(from), to].into_iter().flatten() {
        if figure.dimension() != Dimension::Time {
            let found = format!("`{figure}`, {}", figure.dimension().one());
            spot.fault(key, &found, "a time", "Put min or h behind the number.");
        }
    }
    let hours = |figure: Figure| figure.to(crate::domain::unit::Unit::Hour);
    let (least, most) = (hours(from), to.and_then(hours));
    if least.as_ref().is_some_and(|least| *least <= Exact::zero()) {
        spot.fault(key, &format!("a soak of {from}"), "a time above 0", "Write how long it takes at least.");
    }
    if let (Some(to), Some(true)) = (to, least.zip(most).map(|(least, most)| most <= least)) {
        let found = format!("from {from} to {to}");
        spot.fault(key, &found, "the shorter time first", "Turn the two round, or take `to` out.");
    }
}

fn check_row(row: &str, spot: &mut Spot<'_>) {
    let Some((_, end)) = row.split_once("..") else { return };
    let name = end.strip_prefix('{').and_then(|end| end.strip_suffix('}'));
    let fine = match name {
        Some(name) => Given::parse(name).is_some(),
        None => end.parse::<u32>().is_ok(),
    };
    if !fine {
        let near = name.and_then(|name| nearest(name, Given::all().map(Given::name)));
        let mend = near.map_or_else(
            || "Write it as `land 1..{thrust.lands}` or `land 1..8`.".to_owned(),
            |near| format!("Did you mean `{{{near}}}`?"),
        );
        spot.fault(
            ("grid", None),
            &format!("the rows `{row}`"),
            "a number or a figure of the machine as their end",
            &mend,
        );
    }
}

/// Figures of the machine that grids and reckonings need, each with the step that asks first.
pub(super) fn givens_wanted(checklist: &Checklist) -> BTreeMap<Given, String> {
    let mut wanted = BTreeMap::new();
    for step in &checklist.steps {
        let rows = if let Takes::Readings(grid) = &step.takes { grid.needs() } else { Vec::new() };
        for given in rows.into_iter().chain(binding::givens(step)) {
            wanted.entry(given).or_insert_with(|| step.id.clone());
        }
    }
    wanted
}
