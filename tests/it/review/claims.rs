//! What is only claimed and what has taken its place: a good word counts and is called one, a claim behind it loosens nothing.

use std::collections::BTreeSet;

use asfound::domain::checklist::Signing;
use asfound::domain::due::of_rotor;
use asfound::domain::entry::Act;
use asfound::domain::person::{Person, Role};
use asfound::domain::review::{Kept, Review};
use asfound::domain::standing::{Standing, claimed_things};
use asfound::domain::telling::beforehand;
use asfound::domain::verdict::{Consequence, Disposition};
use asfound::face::plain::review::{Heard, Session};
use asfound::face::reviewing::Reading;
use asfound::report::json::of_record;

use super::shelf::{Shelf, sign_of};
use crate::bench::Bench;
use crate::plain::verbs::asfound;
use crate::rig::{Rig, conceded, finding, id};

/// A dent that was referred; its entry.
fn dented() -> (Rig, u32) {
    let mut rig = Rig::open();
    rig.take(finding("dent", "small"));
    let number = rig.last().number;
    (rig, number)
}

fn until(number: u32, day: &str, allows: Consequence) -> Act {
    let Act::Concession { part, about, who, document, conditions, .. } = conceded(number) else { panic!() };
    Act::Concession { part, about, who, document, conditions, until: day.into(), allows }
}

/// How many are called claimed, in the counts, in JSON and on page 1.
fn claimed(rig: &Rig) -> BTreeSet<usize> {
    let standing = rig.standing();
    let kept = Kept::default();
    let page = Review::of(&rig.inspection, &standing, &kept);
    let json = of_record(&rig.inspection, &standing, &kept)["counts"]["claimed"].as_u64().unwrap();
    let counted = page.unusual.iter().find(|count| count.name == "claimed approval").unwrap().number;
    let of_lasts = usize::from(page.lasts.text.contains("only claimed"));
    let decide = usize::from(page.decide.iter().any(|line| line.contains("only claimed")));
    assert_eq!((of_lasts, decide), (counted.min(1), counted.min(1)), "{page:?}");
    BTreeSet::from([
        standing.counts.claimed,
        usize::try_from(json).unwrap(),
        counted,
        claimed_things(&rig.inspection).len(),
    ])
}

fn ends(rig: &Rig) -> Vec<String> {
    let items = of_rotor(&[&rig.inspection]);
    items.iter().filter(|item| item.what.ends_with(": concession")).map(|item| format!("{:?}", item.day)).collect()
}

#[test]
fn a_supervisors_own_concession_in_the_place_of_a_claimed_one_leaves_nothing_claimed() {
    let (mut rig, number) = dented();
    rig.take(until(number, "2031-05-01", Consequence::Nothing));
    assert_eq!(claimed(&rig), BTreeSet::from([1]));
    rig.by("supervisor-b").take(until(number, "2033-05-01", Consequence::Nothing)).by("fitter-a");
    assert_eq!(claimed(&rig), BTreeSet::from([0]));
    assert_eq!(ends(&rig), ["Some(2033-05-01)"]);
    let standing = rig.standing();
    let bush = standing.part("bush.ts").unwrap();
    let said = format!("{bush:?}");
    assert!(!said.contains("only claimed") && !said.contains("(claimed"), "{said}");
    let page = Review::of(&rig.inspection, &standing, &Kept::default());
    let line = page.lines.iter().find(|line| line.part == "bush.ts").unwrap();
    let of: Vec<_> = line.made_so.iter().filter(|words| words.starts_with("concession of")).collect();
    assert_eq!(of.iter().filter(|words| words.ends_with(", counts no more")).count(), 1, "{of:?}");
    // taken back, the claim is one again
    let good = rig.last().number;
    rig.by("supervisor-b").take(Act::Strike { entry: good, reason: "another letter".into() });
    assert_eq!(claimed(&rig), BTreeSet::from([1]));
}

#[test]
fn a_claimed_concession_behind_a_good_one_loosens_nothing() {
    let (mut rig, number) = dented();
    let holds = |rig: &Rig| Standing::of(&rig.inspection).part("bush.ts").unwrap().verdict.clone();
    let referred = holds(&rig);
    rig.by("supervisor-b").take(until(number, "2033-05-01", Consequence::Watch));
    let good = holds(&rig);
    assert!(good != referred);
    rig.by("fitter-a").take(until(number, "2040-05-01", Consequence::Nothing));
    assert_eq!(claimed(&rig), BTreeSet::from([1]));
    assert!(holds(&rig).disposition >= good.disposition && good.holds.is_subset(&holds(&rig).holds));
    // a third in its place, by a hand that may: the last word counts, and it is no claim
    rig.by("supervisor-b").take(until(number, "2033-05-01", Consequence::Watch));
    assert_eq!((claimed(&rig), holds(&rig)), (BTreeSet::from([0]), good));
}

#[test]
fn a_supervisors_own_overruling_takes_the_place_of_a_claimed_one() {
    let mut rig = Rig::open();
    super::patterns::lifts_slowly(&mut rig, [["0.250"; 3], ["0.250"; 3]], "0.020", 10);
    let overrule = |to| Act::Overrule {
        part: "bush.ts".into(),
        to,
        supervisor: id("supervisor-b"),
        reason: "for the trip home".into(),
    };
    rig.take(overrule(Disposition::Reuse));
    assert_eq!(claimed(&rig), BTreeSet::from([1]));
    rig.by("supervisor-b").take(overrule(Disposition::Rework));
    assert_eq!(claimed(&rig), BTreeSet::from([0]));
}

/// Given again by a supervisor, the claim before it is the last that anybody looks for.
#[test]
fn a_decision_that_counts_no_more_stands_behind_the_one_that_does() {
    let mut rig = Rig::open();
    super::patterns::lifts_slowly(&mut rig, [["0.250"; 3], ["0.250"; 3]], "0.020", 10);
    let supervisor = id("supervisor-b");
    let watch = Disposition::Watch;
    let overrule = Act::Overrule { part: "bush.ts".into(), to: watch, supervisor, reason: "no spare".into() };
    let line = |rig: &Rig| {
        let page = Review::of(&rig.inspection, &rig.standing(), &Kept::default());
        page.lines.into_iter().find(|line| line.part == "bush.ts").unwrap()
    };
    rig.take(overrule.clone());
    let claimed = line(&rig);
    assert!(claimed.made_so.iter().take(claimed.foremost).any(|words| words.ends_with(", claimed")), "{claimed:?}");
    rig.by("supervisor-b").take(overrule);
    let line = line(&rig);
    assert!(line.made_so.last().unwrap().ends_with(", counts no more"), "{line:?}");
    let valid = line.made_so.iter().position(|words| words.starts_with("overruled to watch")).unwrap();
    assert!(valid < line.foremost && !line.made_so[valid].contains(','), "{line:?}");
}

/// Whoever countersigns reads what becomes good by it; another supervisor's signature approves nothing of it.
#[test]
fn a_countersignature_says_which_claims_it_approves_besides() {
    let (mut rig, number) = dented();
    super::patterns::lifts_slowly(&mut rig, [["0.250"; 3], ["0.250"; 3]], "0.020", 10);
    let supervisor = id("supervisor-b");
    let (to, reason) = (Disposition::Rework, "no spare".to_owned());
    rig.take(Act::Overrule { part: "bush.ts".into(), to, supervisor, reason });
    rig.sign(Signing::Decisions, &[]);
    // what came after the signature is not under it
    rig.take(until(number, "2031-05-01", Consequence::Nothing));
    let chains = rig.inspection.entries().iter().map(|entry| entry.number.to_string()).collect();
    let reading = Reading::new("record.yaml".into(), rig.inspection.clone(), chains, Kept::default(), &[]);
    let by = |by: &str| reading.approves(&reading.pending(), &id(by));
    let said = by("supervisor-b");
    assert!(said.len() == 1 && said[0].starts_with("! approves besides: the bush.ts: overruled to rework"), "{said:?}");
    assert!(said[0].ends_with(", typed by fitter-a"), "{said:?}");
    assert!(by("fitter-c").is_empty());
    let mut session = Session::new(reading, id("supervisor-b"));
    let Heard::Said(line) = session.hear("countersign") else { panic!("done at once") };
    assert!(line.contains(&said[0]), "{line}");
    let screen = Bench::reading(rig.inspection).keys("esc 1 enter").expect("! approves besides: the bush");
    drop(screen);
}

/// Whoever is said to have decided finds it in the list, also behind somebody else's countersignature.
#[test]
fn a_decision_that_is_only_claimed_waits_in_the_lists() {
    let shelf = Shelf::empty();
    let mut rig = Rig::open();
    let other =
        Person { id: id("supervisor-z"), name: "supervisor Z".into(), roles: vec![Role::Supervisor], keys: vec![] };
    rig.take(Act::Person(other));
    super::patterns::lifts_slowly(&mut rig, [["0.250"; 3], ["0.250"; 3]], "0.020", 10);
    let reason = "for the trip home".to_owned();
    let supervisor = id("supervisor-b");
    rig.take(Act::Overrule { part: "bush.ts".into(), to: Disposition::Rework, supervisor, reason });
    rig.leave_rest();
    let path = shelf.keep(&rig.inspection, "2031-04-17-small");
    for what in [Signing::Decisions, Signing::Close] {
        shelf.sign(&path, "fitter-a", what);
        let (sign, chain) = sign_of(&shelf.open(&path)).unwrap();
        shelf.add(&path, "supervisor-z", Act::Countersign { sign, chain });
    }
    let listed = || asfound(shelf.root(), &["review"], "").1;
    let words = "1 decision only claimed: that supervisor countersigns what is signed";
    assert!(listed().contains(words), "{}", listed());
    drop(Bench::over(shelf.root()).expect("1 decision only claimed"));
    let (sign, chain) = sign_of(&shelf.open(&path)).unwrap();
    shelf.add(&path, "supervisor-b", Act::Countersign { sign, chain });
    assert!(!listed().contains("claimed"), "{}", listed());
}

/// Whoever stands at a step of the part reads whose signature the decision waits for.
#[test]
fn a_step_says_who_must_sign_what_is_only_claimed_of_its_part() {
    let (mut rig, number) = dented();
    let told = |rig: &Rig, id: &str| {
        let step = rig.inspection.head().checklist.step(id).unwrap().clone();
        beforehand(&rig.inspection, &step).join("\n")
    };
    rig.take(until(number, "2031-05-01", Consequence::Nothing));
    let entry = rig.last().number;
    let said = format!("> concession, entry {entry}: only claimed until a supervisor signs for it");
    assert_eq!(told(&rig, "bush.ts/clearance"), said);
    assert_eq!(told(&rig, "job/cause"), "");
    let reason = "for the trip home".to_owned();
    rig.take(Act::Overrule { part: "bush.ts".into(), to: Disposition::Rework, supervisor: id("supervisor-b"), reason });
    let both = told(&rig, "bush.ts/clearance");
    assert!(both.contains(": only claimed until supervisor-b signs for it"), "{both}");
    rig.by("supervisor-b").take(until(number, "2033-05-01", Consequence::Nothing));
    assert!(!told(&rig, "bush.ts/clearance").contains("concession"), "{both}");
}
