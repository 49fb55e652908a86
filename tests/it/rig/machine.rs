//! The invented machine itself: its parts and steps, its levels, its gauges, the head of a record.

use std::collections::BTreeMap;

use asfound::domain::characteristic::{Characteristic, Given};
use asfound::domain::checklist::*;
use asfound::domain::figure::Figure;
use asfound::domain::id::Id;
use asfound::domain::inspection::{Arrives, Head, Manual, Opening, Scene};
use asfound::domain::instrument::{Calibration, GaugeKind, Instrument, Repeatability};
use asfound::domain::person::{Person, Role};
use asfound::domain::phase::Phase;
use asfound::domain::rotor::Rotor;
use asfound::domain::sheet::*;
use asfound::domain::stamp::{Stamp, day};
use asfound::domain::unit::Unit;
use asfound::domain::verdict::Consequence;

pub(crate) fn id(text: &str) -> Id {
    text.parse().unwrap()
}

pub(crate) fn figure(text: &str) -> Figure {
    text.parse().unwrap()
}

pub(crate) fn stamp(text: &str) -> Stamp {
    text.parse().unwrap()
}

/// `above 0.220 mm` and the like, an empty text for none.
fn bound(figure: &str, touching: Touching) -> Option<Bound> {
    (!figure.is_empty()).then(|| Bound { amount: Amount::Fixed(self::figure(figure)), touching })
}

pub(crate) fn level(upper: Option<Bound>, lower: Option<Bound>, leads_to: Consequence, rule: Rule) -> Option<Level> {
    Some(Level::new(upper, lower, leads_to, rule, "INV manual (invented), table 1").unwrap())
}

pub(crate) fn guarded() -> Rule {
    Rule::Guarded("1.65".parse().unwrap())
}

pub(crate) fn step(id: &str, phase: Phase, takes: Takes, needs: &[&str]) -> Step {
    let (part, title) = id.split_once('/').unwrap();
    Step {
        id: id.to_owned(),
        part: part.to_owned(),
        phase,
        title: title.to_owned(),
        doing: vec![],
        why: vec![],
        how: vec![],
        mistakes: vec![],
        caution: None,
        seen: None,
        needs: needs.iter().map(|need| (*need).to_owned()).collect(),
        soon: None,
        on_demand: false,
        looks_for: vec![],
        offers: vec![],
        asks: vec![],
        takes,
        judges: vec![],
        works: vec![],
    }
}

fn judging(mut step: Step, characteristic: &str, reckoning: &str, result: Option<&str>) -> Step {
    step.judges.push(Judged {
        characteristic: Characteristic::parse(characteristic).unwrap(),
        reckoning: reckoning.to_owned(),
        result: result.map(str::to_owned),
        obliges: vec![],
    });
    step
}

/// Single figures in millimetres at rows and across columns, a block each.
pub(crate) fn blocks(gauge: GaugeKind, blocks: &[(&[&str], &[&str])]) -> Grid {
    let block = |(rows, across): &(&[&str], &[&str])| Block { rows: own(rows), across: own(across) };
    Grid {
        unit: Unit::Millimetre,
        gauge,
        blocks: blocks.iter().map(block).collect(),
        repeats: 1,
        figures: vec![],
        order: Order::ByPlace,
        usual: None,
        against: None,
        worse: None,
        or: None,
        temperatures: None,
        units: Default::default(),
    }
}

fn own(texts: &[&str]) -> Vec<String> {
    texts.iter().map(|text| (*text).to_owned()).collect()
}

pub(crate) fn grid(gauge: GaugeKind, rows: &[&str], repeats: u32, figures: &[&str]) -> Takes {
    Takes::Readings(Grid { repeats, figures: own(figures), ..blocks(gauge, &[(rows, &[])]) })
}

fn part(id: &str, rotates: bool) -> Part {
    let grade = |grade: &str, leads_to| Grade { grade: grade.to_owned(), leads_to: vec![leads_to] };
    let kind = |kind: &str, grades: Vec<Grade>, crack| FindingKind {
        kind: kind.to_owned(),
        grades,
        asks: vec![Ask::Place],
        obliges: vec![],
        crack,
    };
    Part {
        id: id.to_owned(),
        name: format!("the {id}"),
        short: id.to_owned(),
        stretch_of: (id == "job").then(|| "the job".to_owned()),
        rotates,
        every_months: None,
        holds_back: vec![],
        findings: vec![
            kind("scoring", vec![grade("light", Consequence::Watch), grade("deep", Consequence::Replace)], false),
            kind("crack", vec![grade("seen", Consequence::Replace)], true),
            kind("dent", vec![grade("small", Consequence::Refer)], false),
            kind("soot", vec![grade("thin", Consequence::Nothing)], false),
            kind("odd", vec![grade("odd", Consequence::Call)], false),
        ],
    }
}

fn journal_grid() -> Takes {
    let planes: (&[_], &[_]) = (&["a", "b"], &["0", "45", "90", "135"]);
    Takes::Readings(blocks(GaugeKind::Micrometer, &[(&["unworn"], &["1", "2"]), planes]))
}

pub(crate) fn checklist() -> Checklist {
    let points =
        ["fuel", "oil"].map(|id| Point { id: id.to_owned(), text: format!("{id} shut"), optional: id == "oil" });
    let lift = || grid(GaugeKind::Dial, &["outer 0", "inner 0"], 3, &["down", "up"]);
    let float = || grid(GaugeKind::Dial, &["axial"], 1, &["pushed", "pulled"]);
    Checklist {
        id: id("small"),
        version: 1,
        title: "Small (invented)".to_owned(),
        parts: vec![part("job", false), part("rotor", true), part("bush.ts", false), part("shaft", true)],
        steps: vec![
            step("job/safe", Phase::Safe, Takes::Points(points.to_vec()), &[]),
            judging(step("rotor/axial", Phase::Found, float(), &[]), "float.axial", "lift/1", None),
            step("rotor/covers", Phase::Strip, Takes::Tick, &["rotor/axial"]),
            step("bush.ts/look", Phase::Look2, Takes::Look, &["rotor/covers"]),
            step("bush.ts/soak", Phase::Clean, Takes::Soak { from: figure("2 h"), to: Some(figure("3 h")) }, &[]),
            judging(
                step("bush.ts/clearance", Phase::Measure, lift(), &["bush.ts/look"]),
                "bush.ts.clearance",
                "lift/1",
                None,
            ),
            judging(
                step("shaft/journal", Phase::Measure, journal_grid(), &["rotor/covers"]),
                "shaft.ts.step",
                "journal/1",
                Some("step_wear"),
            ),
            step("job/decide", Phase::Decide, Takes::Sign(Signing::Decisions), &[]),
            judging(step("bush.ts/as-left", Phase::Rebuild, lift(), &[]), "bush.ts.clearance", "lift/1", None),
            step("job/cause", Phase::Close, Takes::Words, &[]),
            step("job/close", Phase::Close, Takes::Sign(Signing::Close), &[]),
        ],
    }
}

pub(crate) fn sheet() -> Sheet {
    let of = |id: &str| Characteristic::parse(id).unwrap();
    let mut sheet = Sheet::bare(id("INV-1"));
    sheet.invented = true;
    (sheet.manual, sheet.edition) = ("INV manual (invented)".to_owned(), "3".to_owned());
    sheet.given.insert(
        Given::parse("use.daily").unwrap(),
        GivenFigure { figure: figure("16 h"), source: "invented".to_owned() },
    );
    sheet.levels.insert(
        of("bush.ts.clearance"),
        Levels {
            new: level(
                bound("0.170 mm", Touching::Passes),
                bound("0.130 mm", Touching::Passes),
                Consequence::Rework,
                Rule::Simple,
            ),
            alert: level(bound("0.210 mm", Touching::Fails), None, Consequence::Watch, Rule::Simple),
            limit: level(
                bound("0.220 mm", Touching::Passes),
                bound("0.130 mm", Touching::Passes),
                Consequence::Replace,
                guarded(),
            ),
            part_number: Some("INV-P03".to_owned()),
        },
    );
    sheet.levels.insert(
        of("shaft.ts.step"),
        Levels {
            new: None,
            alert: level(bound("0.016 mm", Touching::Fails), None, Consequence::Watch, Rule::Simple),
            limit: level(bound("0.022 mm", Touching::Fails), None, Consequence::Refer, guarded()),
            part_number: None,
        },
    );
    sheet.levels.insert(
        of("float.axial"),
        Levels {
            new: None,
            alert: level(bound("0.28 mm", Touching::Fails), None, Consequence::Watch, Rule::Simple),
            limit: level(
                bound("0.30 mm", Touching::Passes),
                bound("0.12 mm", Touching::Passes),
                Consequence::Refer,
                Rule::Simple,
            ),
            part_number: None,
        },
    );
    sheet
}

pub(crate) fn gauge(name: &str, kind: GaugeKind, range: (&str, &str), resolution: &str, expanded: &str) -> Instrument {
    Instrument {
        id: id(name),
        kind,
        range: Some((figure(range.0), figure(range.1))),
        resolution: Some(figure(resolution)),
        turn: (kind == GaugeKind::Dial).then(|| figure("0.200 mm")),
        prefix: None,
        corrections: vec![],
        expansion: None,
        repeatability: Some(Repeatability { s: figure("0.001 mm"), dof: None }),
        calibrations: vec![Calibration {
            date: day("2030-01-01").unwrap(),
            expanded: figure(expanded),
            k: 2.into(),
            certificate: None,
            due: Some(day("2032-01-01").unwrap()),
        }],
        remark: None,
        invented: true,
    }
}

pub(crate) fn head() -> Head {
    let person = |name: &str, role| Person { id: id(name), name: name.to_owned(), roles: vec![role], keys: vec![] };
    Head {
        id: "INV/2031-04-17-small".to_owned(),
        begun: stamp("2031-04-17T08:00:00+02:00"),
        by: id("fitter-a"),
        scene: Scene::Invented,
        previous: None,
        rotor: Rotor {
            id: id("INV"),
            serial: "1".to_owned(),
            machine: id("INV-1"),
            plant: None,
            invented: true,
            parts: BTreeMap::new(),
        },
        opened: Opening {
            reason: Some("periodic".to_owned()),
            arrives: Some(Arrives::InPlace),
            machine_hours: Some(figure("24000 h")),
            part_hours: BTreeMap::new(),
            own_hours: None,
            manual: Some(Manual {
                title: "INV manual (invented)".to_owned(),
                edition: "3".to_owned(),
                checked: day("2031-04-17").unwrap(),
            }),
            letters: Some("none".to_owned()),
            next_hours: Some(figure("36000 h")),
            next_date: Some(day("2033-05-01").unwrap()),
            doubts: Vec::new(),
        },
        checklist: checklist(),
        sheet: Some(sheet()),
        instruments: vec![
            gauge("D2", GaugeKind::Dial, ("0 mm", "1 mm"), "0.002 mm", "0.003 mm"),
            gauge("M1", GaugeKind::Micrometer, ("50 mm", "75 mm"), "0.001 mm", "0.003 mm"),
            gauge("M3", GaugeKind::Micrometer, ("25 mm", "50 mm"), "0.01 mm", "0.006 mm"),
        ],
        people: vec![
            person("fitter-a", Role::Fitter),
            person("fitter-c", Role::Fitter),
            person("supervisor-b", Role::Supervisor),
        ],
        history: vec![],
        carried: vec![],
        taken_out: Vec::new(),
        parts: BTreeMap::new(),
    }
}
