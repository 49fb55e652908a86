//! What the first run shows: figures beside those of before, told to whoever was not there.

use asfound::domain::entry::Act;
use asfound::domain::left_out::carries_verdict;
use asfound::domain::review::{Kept, Review};
use asfound::domain::verdict::Consequence;

use super::again::{RUN, again, all, done, enter, stands};
use super::behind::{found, shut};
use super::holds::make_safe;
use super::steps::{checklist, step};
use super::trade::words;
use crate::rig::Rig;

fn read(rig: &mut Rig, step: &str, place: &str, text: &str) {
    let (typed, taken) = (text.to_owned(), text.parse().unwrap());
    enter(rig, Act::Reading { step: step.into(), place: place.into(), typed, taken, gauge: None, doubts: vec![] });
}

/// By step, figure before, figure now and what was said of it; better ones are passed over, and figures that nobody judges
/// stand with the sign of what is neither good nor bad.
#[test]
fn what_runs_worse_than_before_is_named_on_page_one() {
    let mut rig = all(&RUN);
    for (step, place, before, now) in [
        ("running/load", "engine", "85 %", "70 %"),
        ("running/speed", "turbocharger", "14000 r/min", "14100 r/min"),
        ("running/temperatures", "oil in", "60 degC", "76 degC"),
        ("running/boost", "behind compressor", "2.0 bar", "2.2 bar"),
        ("running/vibration", "compressor side", "3.2 mm/s", "2.9 mm/s"),
        ("running/vibration", "turbine side", "3.2 mm/s", "7.1 mm/s"),
    ] {
        read(&mut rig, step, place, before);
        read(&mut rig, &format!("{step}.after"), place, now);
    }
    let said = |step: &str, text: &str| Act::Note { step: Some(step.to_owned()), text: text.to_owned() };
    enter(&mut rig, said("running/vibration.after", "a bolt of the bracket was loose"));
    let review = Review::of(&rig.inspection, &rig.standing(), &Kept::default());
    let asked: Vec<_> = review.decide.iter().filter(|line| line.starts_with("ask why: ")).collect();
    assert_eq!(
        asked,
        [
            "ask why: Running figures / engine load after the start, engine: 85 % before, 70 % now, 15 % less; no note says why",
            "ask why: Running figures / temperatures after the start, oil in: 60 degC before, 76 degC now, 16 degC more; no \
             note says why",
            "ask why: Running figures / vibration after the start, turbine side: 3.2 mm/s before, 7.1 mm/s now, 3.9 mm/s \
             more; note: a bolt of the bracket was loose",
        ]
    );
    let items: Vec<_> = review.pages.iter().flat_map(|page| &page.items).collect();
    let sign = |id: &str| items.iter().find(|item| item.step.as_deref() == Some(id)).unwrap().sign;
    let signs =
        ["running/speed.after", "running/boost.after", "running/vibration.after", "running/vibration"].map(sign);
    assert_eq!(signs, ['.', '.', '?', '.']);
}

/// Nothing is called a verdict where none can be: not of the running machine, nor where the sheet has no level.
#[test]
fn a_figure_that_nothing_judges_has_no_verdict_to_be_provisional() {
    let mut rig = all(&[]);
    let carries = |rig: &Rig, id: &str| carries_verdict(&rig.inspection, step(&checklist("overhaul"), id));
    assert!(!carries(&rig, "running/oil") && !carries(&rig, "running/vibration.after"));
    assert!(
        carries(&rig, "bush.ts/clearance")
            && carries(&rig, "impeller/penetrant-light")
            && !carries(&rig, "fasteners/in")
    );
    rig.inspection = {
        let mut head = rig.inspection.head().clone();
        head.sheet = None;
        asfound::domain::inspection::Inspection::new(head)
    };
    assert!(!carries(&rig, "bush.ts/clearance"));
}

/// What stands before the run is of the opening before: found, taken off and put together once more, in the same order. What is
/// done since then stands, whatever is found next.
#[test]
fn a_rub_in_the_first_run_has_the_floats_taken_again_before_it_is_stripped_again() {
    let floats =
        ["rotor/leaks", "rotor/turning", "rotor/axial-float", "rotor/radial-float.cs", "rotor/shroud", "rotor/tips"];
    let off = [
        "strip/access",
        "strip/marks",
        "strip/compressor",
        "strip/thrust",
        "strip/turbine",
        "strip/rotor",
        "strip/bushes",
    ];
    let on =
        ["rebuild/ready", "rebuild/threads", "rebuild/figures", "rebuild/bushes", "rebuild/rotor", "rotor/shroud.left"];
    let mut rig = all(&[]);
    for id in floats.iter().chain(&off).chain(&on).chain(&RUN) {
        done(&mut rig, id);
    }
    enter(&mut rig, found("running", "running/first-run", "rubbing noise", "rubbing or knocking"));
    assert!(again(&rig, &floats) && again(&rig, &off) && again(&rig, &on) && again(&rig, &RUN));
    assert!(!rig.standing().part("rotor").unwrap().is_within());
    make_safe(&mut rig);
    ["strip/brought"].iter().chain(&off[..2]).for_each(|id| assert!(done(&mut rig, id) > 0));
    let refused = shut(&rig, Act::Tick { step: "strip/compressor".to_owned() });
    assert!(refused.contains("axial float"), "{refused}");
    floats.iter().chain(&off).for_each(|id| assert!(done(&mut rig, id) > 0));
    enter(&mut rig, found("turbine", "turbine/look", "crack", "seen"));
    assert!(stands(&rig, &floats) && stands(&rig, &off), "it lies open");
}

/// The machine runs: what is warm or smells is looked at again now, and not at the next opening.
#[test]
fn what_stays_warm_or_smokes_in_the_first_run_is_asked_about_at_once() {
    for name in ["overhaul", "bearing", "cleaning"] {
        let list = checklist(name);
        let kinds: Vec<_> = list.parts.iter().flat_map(|part| &part.findings).collect();
        for kind in ["bearing hot", "smoke or smell"] {
            let kind = kinds.iter().find(|one| one.kind == kind).unwrap();
            let leads =
                kind.grades.iter().map(|grade| (grade.grade.split_once(' ').unwrap_or(("", "")).0, grade.leads_to[0]));
            let leads: Vec<_> = leads.filter(|(first, _)| *first != "gone").map(|(_, leads_to)| leads_to).collect();
            assert_eq!(leads.first(), Some(&Consequence::Refer), "{name}");
        }
        // its lining may be wiped: it is opened again, or another job is
        let rising = kinds.iter().find(|one| one.kind == "bearing still rising").unwrap();
        let opens = if name == "cleaning" { "event/opening" } else { "bush.ts/clearance" };
        assert!(rising.obliges.iter().any(|id| id == opens), "{name}");
        assert!(words(step(&list, "running/first-run")).contains("look again ten minutes on"), "{name}");
    }
}
