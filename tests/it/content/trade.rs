//! Check values of the trade (common practice, no source): the checklists agree with them and never make a limit of them.

use asfound::domain::checklist::{Against, FindingKind, Grade, Part, Step, Takes};
use asfound::domain::entry::{Act, FindingMade};
use asfound::domain::figure::Figure;
use asfound::domain::phase::Phase;
use asfound::domain::verdict::{Consequence, Disposition, Hold};

use super::steps::{checklist, step};
use crate::rig::Rig;

pub(super) fn kind<'a>(part: &'a Part, kind: &str) -> &'a FindingKind {
    part.finding(kind).unwrap_or_else(|| panic!("{}: no finding `{kind}`", part.id))
}

fn worst(kind: &FindingKind) -> Consequence {
    *kind.grades.iter().flat_map(|grade| &grade.leads_to).max().unwrap()
}

fn soak(step: &Step) -> (Figure, Option<Figure>) {
    let Takes::Soak { from, to } = &step.takes else { panic!("{} is no soak", step.id) };
    (*from, *to)
}

pub(super) fn words(step: &Step) -> String {
    let all = [&step.doing, &step.why, &step.how, &step.mistakes];
    let caution = step.caution.clone().unwrap_or_default();
    format!("{} {caution}", all.into_iter().flatten().cloned().collect::<Vec<_>>().join(" ")).to_lowercase()
}

/// Deep or many scratches, a parted lining, a crack or a broken pin replace a bearing. Common practice, no source.
#[test]
fn what_replaces_a_bearing() {
    let overhaul = checklist("overhaul");
    for part in ["bush.cs", "bush.ts", "thrust.main", "thrust.counter"] {
        let part = overhaul.part(part).unwrap();
        for (name, grade) in [("scoring", "deep or many"), ("lining coming away", "seen"), ("crack", "seen")] {
            let grade = kind(part, name).grades.iter().find(|one| one.grade == grade);
            assert_eq!(grade.unwrap().leads_to, [Consequence::Replace], "{} {name}", part.id);
        }
        assert!(kind(part, "crack").crack, "{}", part.id);
    }
    for side in ["bush.cs", "bush.ts"] {
        let pin = kind(overhaul.part(side).unwrap(), "locking pin broken");
        let replaces = |grade: &Grade| pin.consequences(&grade.grade).contains(&Consequence::Replace);
        assert!(pin.grades.iter().all(replaces), "{side}");
    }
}

/// Somebody called answers for that call: what the milder grades lead to stays, and a crack stays referred.
#[test]
fn an_answered_call_never_comes_to_less_than_a_milder_grade() {
    let mut calls = 0;
    for kind in ["overhaul", "bearing", "cleaning"]
        .map(checklist)
        .iter()
        .flat_map(|all| &all.parts)
        .flat_map(|part| &part.findings)
    {
        let called = |grade: &&Grade| grade.leads_to.contains(&Consequence::Call);
        for grade in kind.grades.iter().filter(called) {
            let all = kind.consequences(&grade.grade);
            let rest = || all.iter().filter(|one| **one != Consequence::Call);
            let milder = kind.grades.iter().take_while(|one| one.grade != grade.grade).flat_map(|one| &one.leads_to);
            for one in milder {
                assert!(rest().any(|mine| mine.at_least() >= one.at_least()), "{}, {}", kind.kind, grade.grade);
                assert!(*one != Consequence::Refer || all.contains(one), "{}, {}", kind.kind, grade.grade);
            }
            assert!(!kind.crack || rest().next().is_some(), "{}, {}", kind.kind, grade.grade);
            calls += 1;
        }
    }
    assert!(calls > 20, "{calls}");
}

/// Dial gauges are never set on the shaft: it would be magnetised. Common practice, no source.
#[test]
fn no_dial_stands_on_the_rotor() {
    use asfound::domain::instrument::GaugeKind;
    for name in ["overhaul", "bearing"] {
        for step in checklist(name).steps {
            let Takes::Readings(grid) = &step.takes else { continue };
            if grid.gauge == GaugeKind::Dial {
                assert!(words(&step).contains("its magnet never touches the rotor"), "{}", step.id);
            }
        }
    }
}

/// Back face and all blades are penetrant-tested, any indication replaces; a dent of an edge is referred.
#[test]
fn the_impeller() {
    let overhaul = checklist("overhaul");
    let impeller = overhaul.part("impeller").unwrap();
    let indication = kind(impeller, "penetrant indication");
    assert!(indication.grades.iter().all(|grade| grade.leads_to == [Consequence::Replace]) && indication.crack);
    let dent = kind(impeller, "dent");
    for part in ["impeller", "turbine"] {
        let dent = kind(overhaul.part(part).unwrap(), "dent");
        assert!(dent.grades.iter().all(|grade| grade.leads_to.contains(&Consequence::Refer)), "{part}: {dent:?}");
    }
    let look = words(step(&overhaul, "impeller/look"));
    assert!(look.contains("and it is referred. a sharp or torn one ends the wheel besides."), "{look}");
    let asked: Vec<_> = dent.asks.iter().map(|ask| ask.word()).collect();
    assert_eq!(asked, ["number", "place", "length", "depth", "others", "photo"]);
    let penetrant = words(step(&overhaul, "impeller/penetrant"));
    assert!(penetrant.contains("back face and all blades"));
}

/// A sharp or torn edge scraps the wheel, and is referred besides: a new wheel answers nobody's question about the old one.
#[test]
fn a_torn_edge_replaces_the_wheel_and_is_referred_besides() {
    let mut rig = super::holds::safe();
    super::holds::up_to(&mut rig, "impeller/look");
    let detail = |(word, text): (&str, &str)| (word.to_owned(), text.to_owned());
    let size = [("number", "7"), ("place", "22 mm from the tip"), ("length", "1.8 mm"), ("depth", "0.6 mm")];
    rig.take(Act::Finding(FindingMade {
        part: "impeller".to_owned(),
        step: "impeller/look".to_owned(),
        kind: "dent".to_owned(),
        grade: "sharp or torn".to_owned(),
        details: size.into_iter().map(detail).collect(),
        ..FindingMade::default()
    }));
    let dent = rig.last().number;
    let verdict = |rig: &Rig| rig.standing().part("impeller").unwrap().verdict.clone();
    let referred =
        |rig: &Rig| verdict(rig).holds.iter().any(|hold| matches!(hold, Hold::Referred(what) if what.contains("torn")));
    let asked = |rig: &Rig| {
        let (standing, kept) = (rig.standing(), asfound::domain::review::Kept::default());
        asfound::report::lists::referral(&rig.inspection, &standing, &kept)
            .iter()
            .any(|line| line.starts_with("1. Compressor impeller: dent, sharp or torn"))
    };
    assert_eq!((verdict(&rig).disposition, referred(&rig), asked(&rig)), (Disposition::Replace, true, true));
    assert!(verdict(&rig).holds.contains(&Hold::NewPart));
    // an answer in words settles no referral; the maker's own, entered by a supervisor, does
    let answer = Act::Answer { entry: dent, who: "the maker".to_owned(), text: "scrap it".to_owned() };
    assert_eq!(rig.refused(answer), "TakesConcession");
    let conceded = Act::Concession {
        part: "impeller".to_owned(),
        about: dent.to_string(),
        allows: Consequence::Replace,
        who: "the maker".to_owned(),
        document: "letter 7".to_owned(),
        conditions: "scrap it".to_owned(),
        until: "the next opening".to_owned(),
    };
    assert_eq!(rig.refused(conceded.clone()), "NoSupervisor");
    rig.by("supervisor-b").take(Act::Resume).take(conceded);
    assert_eq!((verdict(&rig).disposition, referred(&rig)), (Disposition::Replace, false));
}

/// `penetrant.csv`: ISO 3452-1:2013 8.4.2 and 8.6 (the latter from memory), ISO 3059 (from memory). The fluorescent rows have
/// no step: the checklists use colour contrast, and no lamp of a set colour temperature is asked for.
fn window(parameter: &str) -> (String, String) {
    let rows = crate::reckon::rows("penetrant");
    let row = rows.iter().find(|row| row["parameter"] == parameter).unwrap_or_else(|| panic!("no {parameter}"));
    let unit = if row["unit"] == "Cel" { "degC" } else { &row["unit"] };
    (format!("{} {unit}", row["minimum"]), format!("{} {unit}", row["maximum"]))
}

#[test]
fn penetrant_waits_have_the_usual_windows() {
    let overhaul = checklist("overhaul");
    let rounds = ["impeller/", "event/crack-", "impeller/dressed-", "turbine/dressed-"];
    for (round, (stage, parameter)) in rounds
        .iter()
        .flat_map(|round| [(round, ("penetrant", "penetration time")), (round, ("developer", "development time"))])
    {
        let (id, (from, to)) = (format!("{round}{stage}"), window(parameter));
        assert_eq!(soak(step(&overhaul, &id)), (from.parse().unwrap(), Some(to.parse().unwrap())), "{id}");
    }
    // ISO 3452-1 and ISO 3059, from memory
    assert!(words(step(&overhaul, "impeller/penetrant-surface")).contains("10 to 50 degrees"));
    assert!(words(step(&overhaul, "impeller/penetrant-light")).contains("500 lux"));
}

/// The surface at 10 to 50 degrees (ISO 3452-1, from memory) and 500 lux or more (ISO 3059, from memory): a figure
/// outside is asked about.
#[test]
fn penetrant_surface_and_light_have_their_windows() {
    let overhaul = checklist("overhaul");
    let surface = window("surface temperature without special product test");
    let (light, _) = window("illuminance at the surface; colour contrast");
    let bearing = checklist("bearing");
    let windows = [(surface.0, Some(surface.1)), (light, None)];
    for (list, look, ids) in [
        (&overhaul, "impeller/indications", ["impeller/penetrant-surface", "impeller/penetrant-light"]),
        (&overhaul, "event/crack-look", ["event/crack-surface", "event/crack-light"]),
        (&bearing, "event/crack-look", ["event/crack-surface", "event/crack-light"]),
        (&overhaul, "impeller/dressed", ["impeller/dressed-surface", "impeller/dressed-light"]),
        (&overhaul, "turbine/dressed", ["turbine/dressed-surface", "turbine/dressed-light"]),
    ] {
        for (id, (from, to)) in ids.into_iter().zip(&windows) {
            let Takes::Readings(grid) = &step(list, id).takes else { panic!("{id} takes no readings") };
            let usual = grid.usual.unwrap();
            let wanted = (from.parse().unwrap(), to.as_ref().map(|to| to.parse().unwrap()));
            assert_eq!((usual.from, usual.to), wanted, "{id}");
            assert!(super::steps::needs(list, step(list, look), id), "{look} is looked at without {id}");
        }
    }
}

/// Counted in against counted out, after the start against before the stop.
#[test]
fn counts_must_agree_and_figures_after_stand_beside_those_before() {
    let overhaul = checklist("overhaul");
    let against = |id: &str| match &step(&overhaul, id).takes {
        Takes::Readings(grid) => grid.against.clone(),
        _ => None,
    };
    for (id, first) in [
        ("fasteners/in", "fasteners/out"),
        ("rebuild/tools", "strip/brought"),
        ("rebuild/covers", "strip/covered"),
        ("filter/back", "filter/off"),
    ] {
        assert_eq!(against(id), Some(Against::Equal(first.to_owned())), "{id}");
    }
    for after in ["speed", "load", "boost", "temperatures", "oil", "vibration", "filter-drop"] {
        let id = format!("running/{after}.after");
        assert_eq!(against(&id), Some(Against::Compared(format!("running/{after}"))), "{id}");
    }
}

/// A routine cleaning asks for no more than it needs: no bearing, no oil drained, no order lists.
#[test]
fn a_routine_cleaning_is_short() {
    let cleaning = checklist("cleaning");
    // what only a finding or a worn part asks for is not on the way
    let asked = cleaning.steps.iter().filter(|step| !step.on_demand).count();
    // with them what happened, the hours of both wheels, and tools and rags counted twice over the open inlet
    assert!(asked <= 35, "{asked}");
    for id in ["safe/drained", "job/order", "running/rundown", "fasteners/out"] {
        assert!(cleaning.step(id).is_none(), "{id}");
        assert!(checklist("overhaul").step(id).is_some(), "{id}");
    }
}

/// Two to three hours in lukewarm water with a neutral cleaner, by hand, dried in the shade, every two months.
#[test]
fn the_air_filter() {
    for name in ["overhaul", "cleaning"] {
        let checklist = checklist(name);
        let hours = |text: &str| text.parse::<Figure>().unwrap();
        assert_eq!(soak(step(&checklist, "filter/soak")), (hours("2 h"), Some(hours("3 h"))));
        assert_eq!(checklist.part("filter").unwrap().every_months, Some(2));
        let soak = words(step(&checklist, "filter/soak"));
        assert!(soak.contains("lukewarm") && soak.contains("neutral cleaner") && soak.contains("every two months"));
        assert!(words(step(&checklist, "filter/wash")).contains("gently"));
        assert!(words(step(&checklist, "filter/dry")).contains("shaded, airy place"));
        let torn = kind(checklist.part("filter").unwrap(), "torn");
        assert!(torn.grades.iter().all(|grade| grade.leads_to[0] >= Consequence::Replace));
        let gone = kind(checklist.part("filter").unwrap(), "piece missing");
        for obliged in ["fragments/inlet", "fragments/accounted"] {
            assert!(gone.obliges.iter().any(|step| step == obliged), "{name}: {obliged}");
        }
        assert_eq!(worst(gone), Consequence::Call, "{name}");
    }
}

/// Wheel and nozzle ring soak in warm water, are dried well, oiled against rust, looked at in good light.
#[test]
fn turbine_wheel_and_nozzle_ring() {
    let overhaul = checklist("overhaul");
    for part in ["turbine", "nozzle"] {
        assert!(words(step(&overhaul, &format!("{part}/soak"))).contains("warm water"), "{part}");
        let dry = step(&overhaul, &format!("{part}/dry"));
        assert!(words(dry).contains("dry all through") && words(dry).contains("rust-preventing oil"), "{part}");
        let (from, to) = soak(dry);
        assert_eq!((from.to_string(), to.unwrap().to_string()), ("30 min".to_owned(), "4 h".to_owned()), "{part}");
    }
    assert!(words(step(&overhaul, "turbine/look")).contains("good light"));
}

/// Something soft, kerosene or warm water, never a wire brush. Common practice, no source.
#[test]
fn cleaning_is_soft() {
    let overhaul = checklist("overhaul");
    for id in ["oil/clean", "impeller/clean"] {
        let words = words(step(&overhaul, id));
        assert!(
            words.contains("never wire brush") && words.contains("kerosene") && words.contains("soft brush"),
            "{id}"
        );
    }
    let wire = |step: &&Step| step.phase == Phase::Clean && words(step).contains("caustic");
    assert!(overhaul.steps.iter().any(|step| wire(&step)));
}

/// Methods by material, what is forbidden, times with their smallest and largest. Common practice, no source.
#[test]
fn each_cleaning_says_the_material_what_never_and_how_long() {
    let materials = ["steel", "iron", "alumin", "white metal", "fib", "mesh", "sheet"];
    for name in ["overhaul", "bearing", "cleaning"] {
        for step in checklist(name).steps.iter().filter(|step| step.phase == Phase::Clean) {
            let words = words(step);
            if let Takes::Soak { to, .. } = step.takes {
                let no_largest = words.contains("no largest time");
                assert!(to.is_some() != no_largest, "{}: a largest time, or why there is none", step.id);
                continue;
            }
            assert!(materials.iter().any(|material| words.contains(material)), "{}: no material", step.id);
            assert!(words.contains("never "), "{}: nothing forbidden", step.id);
        }
    }
}

/// The channel holds no oil, air fed in comes out at the turbine side; a bush is jacked out with its own bolts.
#[test]
fn seal_air_and_bushes() {
    let overhaul = checklist("overhaul");
    let through = words(step(&overhaul, "seal-air/through"));
    assert!(through.contains("comes out at the turbine side"));
    assert!(worst(kind(overhaul.part("seal-air").unwrap(), "oil in the passage")) >= Consequence::Rework);
    let bushes = words(step(&overhaul, "strip/bushes"));
    assert!(bushes.contains("own bolts") && bushes.contains("jacking threads"));
}

/// What is common practice only is marked so, and no level stands in a checklist.
#[test]
fn common_practice_is_marked_in_the_files() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/checklists");
    let mut marks = 0;
    for entry in std::fs::read_dir(folder).unwrap() {
        let text = std::fs::read_to_string(entry.unwrap().path()).unwrap();
        marks += text.matches("# common practice, no source").count();
        assert!(text.lines().all(|line| line.trim_start().starts_with('#') || !line.contains("no source")));
    }
    assert!(marks >= 15, "{marks}");
}

/// A machine that is not opened is asked what happened to it too: there is no step that looks for the harm, so that nothing
/// weighs less there than where there is one, and what is grave keeps it from its start.
#[test]
fn what_happened_is_asked_in_every_scope_and_weighs_no_less_where_nothing_is_opened() {
    for scope in ["cleaning", "bearing", "overhaul"] {
        let step = checklist(scope).step("event/log").cloned().unwrap_or_else(|| panic!("{scope}"));
        assert!(!step.on_demand && step.phase == Phase::Before, "{scope}");
    }
    let (closed, open) = (checklist("cleaning"), checklist("overhaul"));
    let (closed, open) = (closed.part("event").unwrap(), open.part("event").unwrap());
    for kind in [
        "overspeed",
        "surge",
        "fragment lost",
        "soft matter came through",
        "hard matter came through",
        "oil supply failed",
        "fire",
    ] {
        let (mine, theirs) = (closed.finding(kind).unwrap(), open.finding(kind).unwrap());
        for grade in &theirs.grades {
            let (here, there) = (mine.consequence(&grade.grade), theirs.consequence(&grade.grade));
            assert!(mine.grades.iter().any(|one| one.grade == grade.grade), "{kind}, {}", grade.grade);
            assert!(here >= there, "{kind}, {}: {here:?}, {there:?}", grade.grade);
        }
        assert!(mine.grades.iter().any(|one| one.leads_to.iter().any(|one| *one >= Consequence::Refer)), "{kind}");
    }
}
