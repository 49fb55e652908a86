//! Taken at its word by somebody who does no more and no less than it says, a step hurts nobody and spoils no reading.

use asfound::domain::checklist::Ask;
use asfound::domain::entry::{Act, TimerMark};
use asfound::domain::verdict::Consequence;

use super::behind::{degreased, timer};
use super::steps::{checklist, step};
use super::trade::{kind, words};

/// `id` says `all`, in this order, in each of these scopes.
fn says(scopes: &[&str], id: &str, all: &[&str]) {
    for scope in scopes {
        let text = words(step(&checklist(scope), id));
        let mut rest = text.as_str();
        for one in all {
            let at =
                rest.find(one).unwrap_or_else(|| panic!("{scope}, {id}: no `{one}` behind what stands before: {text}"));
            rest = &rest[at + one.len()..];
        }
    }
}

const ALL: &[&str] = &["overhaul", "bearing", "cleaning"];
const OPENED: &[&str] = &["overhaul", "bearing"];
const OVERHAUL: &[&str] = &["overhaul"];

/// What making safe has put in is taken out before anything turns, and a bearing without oil is a finding that stops it.
#[test]
fn what_was_blanked_held_and_drained_is_free_and_shut_before_the_start() {
    says(
        ALL,
        "running/prelube",
        &["rotor hold, exhaust blank", "out, drains shut", "no oil at a drain glass", "nothing turns"],
    );
    for scope in ALL {
        let dry = kind(checklist(scope).part("running").unwrap(), "no oil at the drain").clone();
        let leads = ["late", "none"].map(|grade| dry.consequences(grade));
        assert_eq!(leads, [vec![Consequence::Refer], vec![Consequence::Refer, Consequence::Call]], "{scope}");
    }
    says(&["cleaning"], "washing/turbine", &["dry running, then the drain shut, then load up"]);
}

/// Slung before it is unbolted; the wheel jumps against its nut, and not at people.
#[test]
fn what_can_fall_or_jump_is_caught_first() {
    says(
        OPENED,
        "strip/compressor",
        &["casing slung, weight taken, then bolts out", "slacken it", "leave it on", "both off"],
    );
    says(
        OPENED,
        "strip/turbine",
        &["sling the gas inlet casing, take the weight. then unbolt it", "hot-work permit", "extinguisher"],
    );
}

/// Nothing is loosened before it is read, and a line that washing takes off is noted and drawn again.
#[test]
fn marks_are_made_before_anything_is_loosened_and_outlive_the_washing() {
    says(OPENED, "strip/marks", &["nothing is loosened yet"]);
    for (scopes, id) in [
        (OPENED, "oil/clean"),
        (OVERHAUL, "impeller/clean"),
        (OVERHAUL, "impeller/degrease"),
        (OPENED, "event/crack-degrease"),
    ] {
        says(scopes, id, &["note at which tooth", "draw it again"]);
    }
}

/// The developer is never wiped off before the look, and each wait says when its clock stops.
#[test]
fn a_developer_stays_on_and_a_dye_is_timed_until_it_is_wiped() {
    for (scopes, round) in [
        (OVERHAUL, "impeller/"),
        (OVERHAUL, "impeller/dressed-"),
        (OVERHAUL, "turbine/dressed-"),
        (OPENED, "event/crack-"),
    ] {
        let id = |stage: &str| format!("{round}{stage}");
        says(scopes, &id("degrease"), &["stop it when fully dry"]);
        says(scopes, &id("penetrant"), &["stop it when you begin to wipe"]);
        says(scopes, &id("developer"), &["it stays on: time over, stop the clock and look at once"]);
        for scope in scopes {
            // the hour from the wiping, as the words say: not an hour of drying and another of waiting
            let soon = step(&checklist(scope), &id("penetrant")).soon.clone().unwrap();
            assert_eq!((soon.since, soon.to.to_string()), (TimerMark::Started, "60 min".to_owned()), "{round}");
            says(&[scope], &id("degrease"), &["penetrant on within an hour of wiping"]);
        }
    }
    let mut rig = degreased(50);
    rig.hand.at = (rig.hand.at.moment() + chrono::Duration::minutes(20)).into();
    rig.take(timer("impeller/penetrant", TimerMark::Started));
    let penetrant = step(&rig.inspection.head().checklist, "impeller/penetrant").clone();
    let late = asfound::domain::soak::void(&rig.inspection, &penetrant).expect("wiped 70 minutes ago");
    assert!(late.contains("1 h 10 min after the wait before began, wanted at most 60 min"), "{late}");
}

/// What goes on again, goes on its mark, clean, and comes off again where the rotor goes in without it.
#[test]
fn what_is_measured_on_the_shaft_is_put_there_and_taken_off_again() {
    says(
        OPENED,
        "collar/face-run-out",
        &["collar back on its mark, clamped", "off again afterwards, the rotor goes in without it"],
    );
    says(OPENED, "collar/as-left-face", &["collar on its mark, clamped", "the rotor goes in without it"]);
    says(OPENED, "rebuild/thrust", &["collar on its mark", "marking compound wiped off", "oil on every land"]);
    says(OPENED, "strip/bushes", &["labyrinth rings too", "labyrinth rings out"]);
    says(OPENED, "rebuild/bushes", &["labyrinth rings back on their marks"]);
    for scope in OPENED {
        assert_eq!(
            checklist(scope).part("labyrinth").unwrap().holds_back,
            ["rebuild/bushes"],
            "{scope}: it goes in there"
        );
    }
    says(
        OPENED,
        "rebuild/impeller",
        &["all steps (6), as-left axial float, there seen (3): taken off and put on again"],
    );
    for id in ["shaft/diameter.cs", "shaft/diameter.ts"] {
        says(OPENED, id, &["track and anvils wiped dry of oil", "oil film or grit under an anvil reads high"]);
    }
}

/// What a step calls a finding has a kind, and what is dressed has a number by which it is tested again.
#[test]
fn what_a_step_asks_for_can_be_entered() {
    for scope in ALL {
        let checklist = checklist(scope);
        for (kind_of, worst) in [("bearing still rising", "stopped for it"), ("smoke or smell", "plain")] {
            let kind = kind(checklist.part("running").unwrap(), kind_of);
            assert!(kind.consequences(worst).contains(&Consequence::Call), "{scope}: {kind_of}");
        }
    }
    says(ALL, "running/first-run", &["heat, smoke, smell", "thermometer on the bearing cover"]);
    let overhaul = checklist("overhaul");
    for part in ["nozzle", "casing"] {
        let piece = kind(overhaul.part(part).unwrap(), "piece lying there");
        let leads = ["found", "more missing"].map(|grade| piece.consequences(grade));
        assert_eq!(leads, [vec![Consequence::Refer], vec![Consequence::Refer, Consequence::Call]], "{part}");
        assert_eq!(piece.obliges, ["fragments/accounted", "event/upstream", "event/wheels"], "{part}");
    }
    let casing = overhaul.part("casing").unwrap();
    assert!(["oil on the air side", "soot"].iter().all(|one| casing.finding(one).is_some()));
    for part in ["impeller", "turbine"] {
        assert!(kind(overhaul.part(part).unwrap(), "dressed").asks.contains(&Ask::Number), "{part}");
    }
}

/// The safe side and the unsafe one are not changed about, and no line says what the next one takes back.
#[test]
fn a_mistake_says_which_way_it_errs_and_no_line_gainsays_another() {
    for side in ["bush.cs/as-left", "bush.ts/as-left"] {
        says(OPENED, side, &["reads low, and a bush too wide passes"]);
    }
    for id in ["rotor/shroud", "rotor/shroud.left"] {
        says(OPENED, id, &["longest blade", "reads wide everywhere, a rub is missed"]);
    }
    for id in ["rotor/tips", "rotor/tips.left"] {
        says(OPENED, id, &["longest blade"]);
    }
    says(OPENED, "rebuild/tools", &["the sum comes right with one inside"]);
    says(
        &["overhaul", "cleaning"],
        "filter/soak",
        &["wire mesh likewise; paper is never washed but renewed", "not applicable"],
    );
    says(&["overhaul", "cleaning"], "filter/wash", &["no brush on fibre"]);
    says(&["overhaul", "cleaning"], "filter/off", &["cover the open inlet before you count"]);
    for id in ["washing/compressor", "washing/turbine"] {
        says(&["cleaning"], id, &["mark it not applicable"]);
    }
    says(OVERHAUL, "impeller/clean", &["kerosene or neutral cleaner"]);
    for scope in ALL {
        for step in checklist(scope).steps.iter().filter(|step| !step.offers.is_empty()) {
            // a number is another cause in each list
            assert!(!words(step).contains("as 2:"), "{scope}: {}", step.id);
        }
    }
}

/// What an older record has taken for a reason excuses no picture.
#[test]
fn a_word_that_says_nothing_stands_for_no_picture() {
    let mut rig = super::holds::safe();
    super::holds::up_to(&mut rig, "rebuild/last-look");
    rig.take(Act::Note { step: Some("rebuild/last-look".to_owned()), text: "ok".to_owned() });
    rig.take(Act::Looked { step: "rebuild/last-look".to_owned() });
    super::holds::held(&rig, "rebuild", "no picture: last look inside");
}
