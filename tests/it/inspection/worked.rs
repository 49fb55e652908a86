//! What a step reckons besides: from its own figures, from another step's, from words, findings and the sheet.

use std::collections::BTreeMap;

use asfound::domain::beside;
use asfound::domain::characteristic::{Characteristic, Given};
use asfound::domain::checklist::{Ask, Grid, Step, Takes, Works};
use asfound::domain::entry::{Act, FindingMade};
use asfound::domain::inspection::Head;
use asfound::domain::instrument::GaugeKind;
use asfound::domain::judge::{Condition, Reach};
use asfound::domain::phase::Phase;
use asfound::domain::reckon::Answer;
use asfound::domain::request::{Decision, Request};
use asfound::domain::sheet::{GivenFigure, Sheet};
use asfound::domain::standing::Standing;
use asfound::domain::telling;
use asfound::domain::unit::Unit;
use asfound::domain::worked::{Worked, of_step};

use crate::rig::{Rig, blocks, figure, head, said, step};

fn grid(unit: Unit, rows: &[(&[&str], &[&str])], units: &[(&str, Unit)]) -> Takes {
    let units = units.iter().map(|(name, unit)| ((*name).to_owned(), *unit)).collect();
    Takes::Readings(Grid { unit, units, ..blocks(GaugeKind::Other, rows) })
}

fn works(reckoning: &str, with: &[(&str, &str)]) -> Works {
    let with: BTreeMap<_, _> = with.iter().map(|(key, source)| ((*key).to_owned(), (*source).to_owned())).collect();
    Works { reckoning: reckoning.to_owned(), with }
}

/// The machine with one more step, of the first phase, so that it is open at once.
fn with(id: &str, takes: Takes, works: Works) -> Head {
    let mut head = head();
    let step = Step { works: vec![works], ..step(id, Phase::Open, takes, &[]) };
    head.checklist.steps.insert(0, step);
    head
}

fn typed(rig: &mut Rig, step: &str, place: &str, text: &str) {
    let (step, place, text) = (step.to_owned(), place.to_owned(), text.to_owned());
    let decision = rig.ask(&Request::Reading { step, place, text, gauge: None, insisted: vec![] });
    rig.enter(decision);
}

fn worked(rig: &Rig, step: &str) -> Vec<Worked> {
    of_step(&rig.inspection, rig.inspection.head().checklist.step(step).unwrap())
}

fn told(rig: &Rig, step: &str) -> Vec<String> {
    worked(rig, step).iter().map(Worked::words).collect()
}

fn joints() -> Head {
    let takes = grid(
        Unit::NewtonMetre,
        &[(&["cover", "nut"], &["full", "bolts"]), (&["stage 1"], &[])],
        &[("bolts", Unit::One), ("stage 1", Unit::Percent)],
    );
    let plan = works("torque/1", &[("value", "full"), ("stages", "stage 1; = 100 %"), ("bolts", "bolts")]);
    let mut head = with("job/figures", takes, plan);
    let there =
        [("value", "job/figures: full"), ("stages", "job/figures: stage 1; = 100 %"), ("bolts", "job/figures: bolts")];
    let set = grid(Unit::NewtonMetre, &[(&["cover", "nut"], &["first", "last"])], &[]);
    let tighten = Step { works: vec![works("torque/1", &there)], ..step("job/tighten", Phase::Open, set, &[]) };
    head.checklist.steps.insert(1, tighten);
    head
}

#[test]
fn a_torque_is_shown_in_stages_joint_by_joint_where_it_is_typed_and_where_it_is_tightened() {
    let mut rig = Rig::with(joints());
    typed(&mut rig, "job/figures", "cover full", "120");
    typed(&mut rig, "job/figures", "cover bolts", "8");
    assert!(told(&rig, "job/figures").is_empty(), "the stages are still to come");
    typed(&mut rig, "job/figures", "stage 1", "30");
    // shares of 120 N m; 1 lbf ft = 1.3558179483314004 N m (NIST SP 811:2008, appendix B); the order: common practice, no source
    let cover = "cover: 36, 120 N m (26.6, 88.5 lbf ft), order 1 5 3 7 2 6 4 8";
    assert_eq!(told(&rig, "job/figures"), [cover], "the nut is still to come");
    assert_eq!(told(&rig, "job/tighten"), [cover], "before anything is tightened");
    let tighten = rig.inspection.head().checklist.step("job/tighten").unwrap();
    assert_eq!(beside::lines(&rig.inspection, tighten)[0].words, cover);
    let working = telling::working_of_step(&rig.inspection, &rig.standing(), tighten);
    assert!(working.iter().any(|line| line.contains("share x torque = 30 / 100 x 120 N m")), "{working:#?}");
}

#[test]
fn a_figure_keeps_the_unit_it_was_typed_in_and_a_place_left_out_is_no_figure() {
    let mut rig = Rig::with(joints());
    typed(&mut rig, "job/figures", "stage 1", "50");
    typed(&mut rig, "job/figures", "nut full", "100 lbf ft");
    let skip =
        |place: &str| Act::Skip { step: "job/figures".into(), place: Some(place.into()), reason: "by angle".into() };
    rig.take(skip("nut bolts"));
    // 100 lbf ft = 135.58179483314004 N m
    assert_eq!(told(&rig, "job/figures"), ["nut: 67.8, 135.6 N m (50, 100 lbf ft)"]);
    let step = rig.inspection.head().checklist.step("job/figures").unwrap();
    let working = telling::besides(&rig.inspection, step);
    assert!(working.iter().any(|line| line.contains("nut full = 100 lbf ft = 135.58179483314004 N m")), "{working:#?}");
}

#[test]
fn each_field_has_its_own_unit_and_says_nothing_of_its_neighbour() {
    let mut rig = Rig::with(joints());
    typed(&mut rig, "job/figures", "cover full", "2500");
    // a thousandth of the one above, and in another unit
    typed(&mut rig, "job/figures", "nut full", "2.5");
    let ask = |place: &str, text: &str| {
        let (step, place, text) = ("job/figures".to_owned(), place.to_owned(), text.to_owned());
        said(rig.ask(&Request::Reading { step, place, text, gauge: None, insisted: vec![] }))
    };
    assert_eq!(ask("stage 1", "30 N m"), "OtherDimension");
    assert_eq!(ask("nut bolts", "2.5"), "NotWhole");
    let taken = rig.ask(&Request::Reading {
        step: "job/figures".into(),
        place: "stage 1".into(),
        text: "30".into(),
        gauge: None,
        insisted: vec![],
    });
    let Decision::Take(entry) = taken else { panic!("{taken:?}") };
    assert!(matches!(&entry.act, Act::Reading { taken, .. } if taken.to_string() == "30 %"), "{entry:?}");
}

#[test]
fn what_would_get_too_hot_is_refused_and_without_the_largest_temperature_nothing_is_said() {
    let places = ["bore", "interference", "clearance", "expansion", "room", "largest"];
    let units = [("expansion", Unit::MicrometrePerMetreKelvin), ("room", Unit::Celsius), ("largest", Unit::Celsius)];
    let keys = [
        ("bore", "bore"),
        ("interference", "interference"),
        ("clearance", "clearance"),
        ("expansion", "expansion"),
        ("room", "room"),
        ("largest_allowed", "largest"),
    ];
    let takes = grid(Unit::Millimetre, &[(&places, &[])], &units);
    let mut rig = Rig::with(with("job/heat", takes, works("shrink/1", &keys)));
    // 20 + (0.045 + 0.060) / (11.5e-6 x 60) = 172.17 degC, the definition of expansion
    for (place, text) in places.iter().zip(["60", "45 um", "60 um", "11.5", "20"]) {
        typed(&mut rig, "job/heat", place, text);
    }
    assert!(told(&rig, "job/heat").is_empty(), "without the largest temperature");
    typed(&mut rig, "job/heat", "largest", "250");
    assert_eq!(told(&rig, "job/heat"), ["heat to 172.2 degC"]);
    let entry = rig.last().number;
    rig.take(Act::Strike { entry, reason: "wrong line".into() });
    assert!(told(&rig, "job/heat").is_empty(), "struck is not there");
    typed(&mut rig, "job/heat", "largest", "150");
    assert_eq!(told(&rig, "job/heat"), ["refused: it takes 172.2 degC, the material may get 150 degC"]);
    let entry = rig.last().number;
    rig.take(Act::Strike { entry, reason: "wrong line".into() });
    typed(&mut rig, "job/heat", "largest", "20");
    // in the words of the step, not of the reckoning
    assert_eq!(told(&rig, "job/heat"), ["not reckoned: room: found `20`, expected less than largest, 20"]);
}

#[test]
fn a_pair_written_in_words_shows_its_clearance_and_what_is_no_pair_says_why() {
    let fit = works("fit/1", &[("pair", "words")]);
    let mut rig = Rig::with(with("job/fits", Takes::Words, fit));
    let note = |text: &str| Act::Note { step: Some("job/fits".into()), text: text.into() };
    rig.take(note("none of the covers; 50 H7/f7"));
    // 50 H7 0 +25 um, 50 f7 -25 -50 um: ISO 286-2:2010
    let told_of = told(&rig, "job/fits");
    assert_eq!(told_of, ["50 H7/f7: clearance 0.025 to 0.075 mm"]);
    let step = rig.inspection.head().checklist.step("job/fits").unwrap();
    let working = telling::besides(&rig.inspection, step).join("\n");
    assert!(working.contains("= 50.025 mm") && working.contains("= 49.950 mm"), "{working}");
    rig.take(note("50 Q9/f7"));
    assert!(
        told(&rig, "job/fits")[1].starts_with("50 Q9/f7: not reckoned: hole: found"),
        "{:?}",
        told(&rig, "job/fits")
    );
}

#[test]
fn indications_are_told_linear_or_rounded_and_grouped_where_the_sheet_says_how_near() {
    let details =
        [("length", "length"), ("width", "width"), ("x", "along"), ("y", "across"), ("direction", "direction")];
    let each = details.map(|(key, detail)| (format!("indications.{key}"), format!("each {detail}")));
    let mut keys: Vec<(&str, &str)> = each.iter().map(|(key, source)| (key.as_str(), source.as_str())).collect();
    keys.push(("gap", "{indication.gap}"));
    let looked = with("rotor/dye", Takes::Look, works("indication/1", &keys));
    let gap = |mut head: Head| {
        let kind = &mut head.checklist.parts.iter_mut().find(|part| part.id == "rotor").unwrap().findings[1];
        kind.asks = vec![Ask::Length, Ask::Width, Ask::Along, Ask::Across, Ask::Direction];
        head
    };
    let mut with_gap = gap(looked.clone());
    let given = &mut with_gap.sheet.as_mut().unwrap().given;
    given.insert(
        Given::parse("indication.gap").unwrap(),
        GivenFigure { figure: figure("2 mm"), source: "invented".into() },
    );
    for (head, wanted) in [(gap(looked), "1 linear, 1 rounded"), (with_gap, "1 linear, 1 rounded, in 1 group")] {
        let mut rig = Rig::with(head);
        assert!(told(&rig, "rotor/dye").is_empty(), "nothing found");
        // linear: longer than three times its width (ISO 23277:2015, from memory)
        for (length, x) in [("3.1 mm", "0 mm"), ("2 mm", "3.5 mm")] {
            let details =
                [("length", length), ("width", "1 mm"), ("along", x), ("across", "0 mm"), ("direction", "0 deg")];
            rig.take(Act::Finding(FindingMade {
                part: "rotor".into(),
                step: "rotor/dye".into(),
                kind: "crack".into(),
                grade: "seen".into(),
                details: details.map(|(word, text)| (word.to_owned(), text.to_owned())).into(),
                ..FindingMade::default()
            }));
        }
        assert_eq!(told(&rig, "rotor/dye"), [wanted]);
        assert!(rig.verdict("rotor").starts_with("replace"), "a class is no acceptance: {}", rig.verdict("rotor"));
    }
}

/// The rotor of ISO 21940-11 as the sheet describes it: grade 2.5, 64 kg, 18 000 r/min, 207 and 103 mm.
fn graded(mut sheet: Sheet) -> Sheet {
    let all = [
        ("balance.grade", "2.5 mm/s"),
        ("rotor.mass", "64 kg"),
        ("rotor.speed", "18000 r/min"),
        ("rotor.to-cs", "207 mm"),
        ("rotor.to-ts", "103 mm"),
    ];
    for (name, size) in all {
        sheet.given.insert(Given::parse(name).unwrap(), GivenFigure { figure: figure(size), source: "page 3".into() });
    }
    sheet
}

fn report_head() -> Head {
    let keys = [
        ("grade", "{balance.grade}"),
        ("mass", "{rotor.mass}"),
        ("speed", "{rotor.speed}"),
        ("a", "{rotor.to-cs}"),
        ("b", "{rotor.to-ts}"),
        ("measured.a", "cs"),
        ("measured.b", "ts"),
        ("measured.u", "u cs"),
    ];
    let takes = grid(Unit::GramMillimetre, &[(&["cs", "ts"], &[])], &[]);
    let mut head = with("rotor/report", takes, works("unbalance/1", &keys));
    let report = &mut head.checklist.steps[0];
    report.judges = ["balance.cs", "balance.ts"]
        .map(|id| asfound::domain::checklist::Judged {
            characteristic: Characteristic::parse(id).unwrap(),
            reckoning: "unbalance/1".into(),
            result: None,
            obliges: vec![],
        })
        .to_vec();
    head
}

#[test]
fn a_grade_in_place_of_amounts_judges_the_balancing_report_and_holds_the_balance() {
    let mut head = report_head();
    let bare = head.clone();
    head.sheet = head.sheet.map(graded);
    let rig = reported(head, "2 g mm");
    let standing = Standing::of(&rig.inspection);
    let of = |id: &str| standing.characteristic(Characteristic::parse(id).unwrap(), Condition::AsFound).unwrap();
    // U = 1000 G m / omega = 1000 x 2.5 x 64 / (2 pi 18000 / 60) = 84.88 g mm; shares by the lever 103 : 207 of 310
    let (cs, ts) = (of("balance.cs").judgement().unwrap(), of("balance.ts").judgement().unwrap());
    assert_eq!(cs.reached.bound.as_ref().unwrap().to_string(), "28.2");
    assert_eq!(cs.reached.reach, Reach::Within);
    // u of the report: 2 g mm over k = 2; with the guard 15 + 1.65 is still within 28.29
    assert_eq!(ts.reached.bound.as_ref().unwrap().to_string(), "56.67");
    assert_eq!(ts.reached.reach, Reach::Limit);
    assert!(
        ts.reached.source.contains("grade 2.5 mm/s") && ts.reached.source.contains("page 3"),
        "{}",
        ts.reached.source
    );
    let all = worked(&rig, "rotor/report");
    let answers = &all[0].outcome.as_ref().unwrap().answers;
    assert_eq!(answers.at("verdict"), Some(&Answer::Text("past".into())));
    let working = all[0].lines().join("\n");
    assert!(
        working.contains("1 g mm") && working.contains("guard = factor x u = 1.65 x 1 g mm = 1.65 g mm"),
        "{working}"
    );
    let holds: Vec<_> = standing.parts.iter().flat_map(|part| &part.verdict.holds).map(|hold| hold.word()).collect();
    assert!(holds.contains(&"balance to do"), "{holds:?}");
    // a sheet without a grade judges nothing, and the step says what is missing; levels of its own need no grade
    let rig = reported(bare.clone(), "2 g mm");
    let lacks = "not reckoned: The sheet does not give: ";
    assert!(told(&rig, "rotor/report")[0].starts_with(lacks), "{:?}", told(&rig, "rotor/report"));
    let open = |rig: &Rig| rig.standing().characteristic(cs_of(), Condition::AsFound).unwrap().judgement().is_none();
    assert!(open(&rig), "no limit, no green");
    // what the balancing machine may be off is not known: nothing is called within
    let mut unknown = bare;
    unknown.sheet = unknown.sheet.map(graded);
    unknown.instruments.retain(|gauge| gauge.id.as_str() != "X1");
    let mut rig = Rig::with(unknown);
    typed(&mut rig, "rotor/report", "cs", "15");
    typed(&mut rig, "rotor/report", "ts", "16");
    assert!(open(&rig), "{:?}", rig.standing().characteristic(cs_of(), Condition::AsFound));
}

fn cs_of() -> Characteristic {
    Characteristic::parse("balance.cs").unwrap()
}

/// The report of a balancing machine that may be so far off, k = 2.
fn reported(mut head: Head, off: &str) -> Rig {
    let mut machine = head.instruments.iter().find(|gauge| gauge.id.as_str() == "D2").unwrap().clone();
    machine.id = crate::rig::id("X1");
    (machine.range, machine.resolution, machine.repeatability) = (None, None, None);
    (machine.turn, machine.corrections, machine.kind) = (None, vec![], GaugeKind::Other);
    for calibration in &mut machine.calibrations {
        (calibration.expanded, calibration.k) = (figure(off), 2.into());
    }
    head.instruments.push(machine);
    let mut rig = Rig::with(head);
    for (place, text) in [("cs", "15"), ("ts", "84")] {
        let decision = rig.ask(&Rig::typed("rotor/report", place, text, "X1", &[]));
        rig.enter(decision);
    }
    rig
}

#[test]
fn figures_of_the_machine_typed_later_bring_their_shares_into_force_and_are_reckoned_anew() {
    let mut rig = reported(report_head(), "2 g mm");
    let bound = |rig: &Rig| {
        let standing = rig.standing();
        let one = standing.characteristic(cs_of(), Condition::AsFound).unwrap();
        one.judgement().map(|one| one.reached.bound.as_ref().unwrap().to_string())
    };
    let give = |rig: &mut Rig, name: &str, size: &str| {
        let figure = GivenFigure { figure: figure(size), source: "page 3".into() };
        rig.take(Act::Given { given: Given::parse(name).unwrap(), figure });
    };
    for (name, size) in [
        ("balance.grade", "2.5 mm/s"),
        ("rotor.mass", "64 kg"),
        ("rotor.speed", "18000 r/min"),
        ("rotor.to-cs", "207 mm"),
    ] {
        give(&mut rig, name, size);
        assert_eq!(bound(&rig), None, "{name}");
    }
    give(&mut rig, "rotor.to-ts", "103 mm");
    // 84.88 g mm by the lever 103 / 310
    assert_eq!(bound(&rig).as_deref(), Some("28.2"));
    // half the mass, half the share; struck, the first one stands again
    give(&mut rig, "rotor.mass", "32 kg");
    assert_eq!(bound(&rig).as_deref(), Some("14.1"));
    let entry = rig.last().number;
    rig.take(Act::Strike { entry, reason: "of another rotor".into() });
    assert_eq!(bound(&rig).as_deref(), Some("28.2"));
}
