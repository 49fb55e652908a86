//! Whom this machine, or the record's own beginning, does not know: what that leaves to be waited for, and where it is said.

use asfound::domain::apply::apply;
use asfound::domain::checklist::Signing;
use asfound::domain::entry::{Act, Entry};
use asfound::domain::inspection::Inspection;
use asfound::domain::person::{Person, Role};
use asfound::domain::request::Decision;
use asfound::domain::review::{Kept, Review};
use asfound::domain::standing::Standing;
use asfound::domain::watch::Watch;
use asfound::records::verify::verify;
use asfound::report::json::of_record;
use asfound::report::{countersign, record};

use super::shelf::{Shelf, sign_of};
use crate::bench::Bench;
use crate::plain::verbs::asfound;
use crate::rig::{Rig, head, id};

fn person(name: &str, role: Role) -> Person {
    Person { id: id(name), name: name.replace('-', " "), roles: vec![role], keys: vec![] }
}

#[test]
fn a_strangers_countersignature_leaves_the_mark_on_every_screen() {
    let (shelf, path) = Shelf::signed();
    let (sign, chain) = sign_of(&shelf.open(&path)).unwrap();
    shelf.add(&path, "supervisor-b", Act::Countersign { sign, chain });
    let file = path.to_str().unwrap();
    let known = [person("fitter-a", Role::Fitter)];
    let stranger = [known[0].clone(), person("supervisor-b", Role::Supervisor)];
    for (people, waits) in [(&known[..], true), (&stranger[..], false)] {
        shelf.store.save_people(people).unwrap();
        let (_, review, _) = asfound(shelf.root(), &["review", file, "--plain"], "");
        let title = review.lines().find(|line| line.contains("REVIEW DEMO-1")).unwrap();
        assert_eq!(title.contains("COUNTERSIGN PENDING ASHORE. "), waits, "{title}");
        let closed = review.lines().find(|line| line.starts_with("Is it closed? ")).unwrap();
        assert_eq!(closed.contains(", countersign pending ashore."), waits, "{closed}");
        let (_, show, _) = asfound(shelf.root(), &["show", file], "");
        let words = ", countersigned by supervisor B, nobody known here: countersign pending ashore";
        assert_eq!(show.contains(words), waits, "{show}");
        let (_, told, _) = asfound(shelf.root(), &["show", file, "--json"], "");
        assert!(told.contains(&format!("\"countersign pending\":{waits}")), "{told}");
        let (_, resume, _) = asfound(shelf.root(), &["resume", file, "--plain"], "! leave\n");
        assert_eq!(resume.contains("COUNTERSIGN PENDING ASHORE. "), waits, "{resume}");
        for keys in ["", "enter"] {
            let bench = Bench::over(shelf.root()).keys(keys);
            drop(if waits { bench.expect("countersign pending ashore") } else { bench.expect_not("pending ashore") });
        }
    }
}

#[test]
fn a_supervisor_who_was_entered_where_none_was_known_is_said_to_be_one_by_the_record_alone() {
    let boss = Person { name: "boss X".into(), ..person("boss", Role::Supervisor) };
    let mut nobody = head();
    nobody.people.retain(|person| !person.is(Role::Supervisor));
    for (head, is_said) in [(head(), false), (nobody, true)] {
        let mut rig = Rig::with(head);
        rig.take(Act::Person(boss.clone()));
        let number = rig.last().number;
        let said = format!("boss X was entered as one in entry {number}, by fitter-a, and counts as one");
        rig.covers_off().leave_rest().sign(Signing::Decisions, &[]);
        let (standing, kept) = (rig.standing(), Kept::default());
        let page = Review::of(&rig.inspection, &standing, &kept).warnings.join(" ");
        let show = record::lines(&rig.inspection, &standing, &kept).join(" ");
        let shelf = Shelf::empty();
        let path = shelf.keep(&rig.inspection, "2031-04-17-small");
        let unseen = verify(&shelf.store, &[path]).remove(0).unseen().join(" ");
        for told in [page, show, unseen] {
            assert_eq!(told.contains(&said), is_said, "{told}");
        }
    }
}

#[test]
fn a_trainee_signs_with_a_mentor_and_a_record_from_elsewhere_says_where_there_was_none() {
    let claimed = " (trainee, fitter-z watching only claimed)";
    let mut nobody = head();
    nobody.people.iter_mut().for_each(|person| person.roles = vec![Role::Trainee]);
    let before = [(None, " (trainee, no mentor)"), (Some("fitter-c"), " (trainee, fitter-c watching only claimed)")]
        .map(|(mentor, says)| (head(), mentor, says));
    // where nobody was known before, whoever is entered watches, and it is said
    for (head, mentor, says) in before.into_iter().chain([(nobody, Some("fitter-z"), claimed)]) {
        let known = head.people.iter().any(Person::may_watch);
        let mut rig = Rig::with(head);
        for (name, role) in [("trainee-d", Role::Trainee), ("trainee-e", Role::Trainee), ("fitter-z", Role::Fitter)] {
            rig.take(Act::Person(person(name, role)));
        }
        rig.by("trainee-d");
        rig.covers_off().leave_rest().take(Act::Resume);
        for (nobody, why) in [("trainee-e", "no fitter and no supervisor"), ("fitter-z", "not known here when")] {
            if known || nobody == "trainee-e" {
                let Decision::Refuse(refusal) = rig.may(Act::Mentor { mentor: id(nobody) }) else { panic!("{nobody}") };
                assert!(refusal.kind.what().contains(why), "{}", refusal.kind.what());
            }
        }
        if let Some(mentor) = mentor {
            rig.take(Act::Mentor { mentor: id(mentor) });
        }
        rig.take(Act::Note { step: Some("job/cause".into()), text: "dirty oil".into() });
        if mentor.is_none() {
            let sign = Act::Sign(Rig::signature(Signing::Decisions, &[]));
            let Decision::Refuse(refusal) = rig.may(sign) else { panic!("a trainee signs alone") };
            let told = format!("{} {}", refusal.kind.what(), refusal.kind.mend());
            assert!(told.starts_with("A trainee signs with a fitter or supervisor who watches"), "{told}");
            assert!(told.contains("Name the mentor first") && told.contains("have a fitter sign"), "{told}");
            let last = rig.last().clone();
            let act = Act::Sign(Rig::signature(Signing::Decisions, &[]));
            drop(apply(&mut rig.inspection, Entry { number: last.number + 1, act, ..last }));
        } else {
            rig.sign(Signing::Decisions, &[]);
        }
        let signed = format!("countersign or send back the decisions, signed by trainee d{says} on ");
        let decide = Review::of(&rig.inspection, &rig.standing(), &Kept::default()).decide;
        assert!(decide[0].starts_with(&signed.replace("fitter-z ", "fitter z ")), "{decide:?}");
    }
}

/// A small record that a trainee signs, who has named this mentor; `typed` says who writes for the trainee then.
fn learned(mentor: &str, typed: Option<&str>) -> Rig {
    let mut rig = Rig::begun();
    rig.take(Act::Person(person("trainee-d", Role::Trainee))).by("trainee-d");
    rig.covers_off().leave_rest().take(Act::Resume);
    rig.hand.writer = typed.map(id);
    rig.take(Act::Mentor { mentor: id(mentor) });
    rig.hand.writer = None;
    rig.sign(Signing::Decisions, &[]);
    rig
}

/// Anybody can name somebody: whether that one knows of it is said wherever the signature is.
#[test]
fn behind_a_trainees_name_stands_who_watches_and_whether_that_is_only_claimed() {
    let claimed = "trainee d (trainee, supervisor-b watching only claimed)";
    let watched = "trainee d (trainee, supervisor-b watches)";
    let alone = |rig: &Rig| Watch::over(&rig.inspection, &id("trainee-d"), u32::MAX).to_string();
    for (mentor, typed, says) in [
        ("supervisor-b", None, " (trainee, supervisor-b watching only claimed)"),
        ("supervisor-b", Some("fitter-c"), " (trainee, supervisor-b watching only claimed)"),
        ("fitter-c", Some("fitter-c"), " (trainee, fitter-c watches)"),
    ] {
        assert_eq!(alone(&learned(mentor, typed)), says);
    }
    let mut own = learned("fitter-c", None);
    own.by("fitter-c").take(Act::Mentor { mentor: id("fitter-c") });
    assert_eq!(alone(&own), " (trainee, fitter-c watches)");
    let shelf = Shelf::empty();
    let path = shelf.keep(&learned("supervisor-b", None).inspection, "2031-04-17-small");
    let (sign, chain) = sign_of(&shelf.open(&path)).unwrap();
    let page_one = |inspection: &Inspection| Review::of(inspection, &Standing::of(inspection), &Kept::default());
    for (by, says) in [("", claimed), ("supervisor-b", watched)] {
        if !by.is_empty() {
            shelf.add(&path, by, Act::Countersign { sign, chain: chain.clone() });
        }
        let inspection = shelf.open(&path).inspection;
        let (standing, kept) = (Standing::of(&inspection), Kept::default());
        let review = page_one(&inspection);
        let page = format!("{} {}", review.decide.join(" "), review.closed.text);
        let show = record::lines(&inspection, &standing, &kept).join(" ");
        let paper = countersign::html(&inspection, &standing, &kept, "A4");
        let verified = verify(&shelf.store, std::slice::from_ref(&path)).remove(0).holds().join(" ");
        for told in [page, show, paper] {
            assert!(told.contains(&format!("signed by {says}")), "{told}");
        }
        assert!(verified.contains(&says.replace("trainee d", "decisions signed by trainee-d")), "{verified}");
        let json = of_record(&inspection, &standing, &kept);
        let words = says.strip_prefix("trainee d (").unwrap().trim_end_matches(')');
        assert_eq!(json["signatures"][0]["trainee"], words);
        assert_eq!(json["signatures"][0]["trainee without mentor"], false);
        let (_, told, _) = asfound(shelf.root(), &["verify", path.to_str().unwrap(), "--json"], "");
        assert!(told.contains(says.strip_prefix("trainee d").unwrap()), "{told}");
    }
    let closed = page_one(&shelf.open(&path).inspection).closed.text;
    let countersigned = "; decisions countersigned, not signed by key. ";
    assert!(closed.contains(&format!("; decisions signed by {watched}{countersigned}")), "{closed}");
}

#[test]
fn the_sign_step_says_who_watches_and_takes_the_trainees_name_alone() {
    let mut rig = Rig::begun();
    rig.take(Act::Person(person("trainee-d", Role::Trainee))).by("trainee-d");
    rig.covers_off().leave_rest().take(Act::Resume).take(Act::Mentor { mentor: id("fitter-c") });
    let said = "trainee d (trainee, fitter-c watching only claimed)";
    drop(Bench::on(rig.inspection.clone()).expect(&format!("! {said} signs: claimed until")));
    let shelf = Shelf::empty();
    let path = shelf.keep(&rig.inspection, "2031-04-17-small");
    let words = ["resume", path.to_str().unwrap(), "--plain", "--by", "trainee-d"];
    let (_, out, _) = asfound(shelf.root(), &words, "yes\ntrainee d\n! leave\n");
    assert!(out.contains(&format!("the decisions, signed by {said} (sign, or the name in full)")), "{out}");
    assert!(sign_of(&shelf.open(&path)).is_some(), "{out}");
}
