//! A supervisor who is not known where the record was made: what is offered, what it leaves as it was signed, what comes home.

use asfound::domain::checklist::Signing;
use asfound::domain::entry::Act;
use asfound::domain::person::{Person, Role};
use asfound::domain::review::Kept;
use asfound::domain::signing;
use asfound::domain::standing::claims;
use asfound::domain::verdict::Disposition;
use asfound::face::reviewing::Reading;
use asfound::records::bring::{Bringer, Outcome, bring};
use asfound::records::verify::verify;

use super::shelf::{Shelf, copy};
use crate::rig::{Rig, id, stamp};

fn supervisor(name: &str) -> Person {
    Person { id: id(name), name: name.replace('-', " "), roles: vec![Role::Supervisor], keys: vec![] }
}

fn countersign(sign: u32) -> Act {
    Act::Countersign { sign, chain: String::new() }
}

fn reading(rig: &Rig, people: &[Person]) -> Reading {
    let chains = vec![String::new(); rig.inspection.entries().len()];
    Reading::new("a file".into(), rig.inspection.clone(), chains, Kept::default(), people)
}

#[test]
fn a_close_stays_closed_when_its_supervisor_is_introduced_behind_it() {
    let mut rig = Rig::open();
    rig.leave_rest().sign(Signing::Decisions, &[]);
    let carried = rig.standing().holds_in_words();
    rig.sign(Signing::Close, &carried);
    let close = rig.last().number;
    rig.take(Act::Person(supervisor("supervisor-z"))).by("supervisor-z").take(countersign(close));
    assert!(!signing::gone_on(&rig.inspection), "it is to be signed again");
    assert!(signing::countersigned(&rig.inspection, close).is_some());
    // what is done behind it is signed by nobody all the same
    rig.by("fitter-a").take(Act::Resume).take(Act::Note { step: None, text: "and a rag was left".into() });
    assert!(signing::gone_on(&rig.inspection));
}

#[test]
fn a_name_is_offered_only_where_no_other_can_be_meant() {
    let mut rig = Rig::open();
    rig.leave_rest().sign(Signing::Decisions, &[]);
    let only = |people: &[Person]| reading(&rig, people).only_supervisor().map(|person| person.id.to_string());
    let here = [supervisor("supervisor-y"), supervisor("supervisor-z")];
    // the record's own, one whom this machine knows before that, and nobody where this machine knows two
    assert_eq!(only(&[]).as_deref(), Some("supervisor-b"));
    assert_eq!(only(&here[1..]).as_deref(), Some("supervisor-z"));
    assert_eq!(only(&here), None);
}

#[test]
fn whoever_is_claimed_to_have_decided_can_sign_for_it_behind_anothers_countersignature() {
    let mut rig = Rig::open();
    rig.take(Act::Person(supervisor("supervisor-z")));
    super::patterns::lifts_slowly(&mut rig, [["0.250"; 3], ["0.250"; 3]], "0.020", 10);
    let reason = "for the trip home".to_owned();
    rig.take(Act::Overrule { part: "bush.ts".into(), to: Disposition::Rework, supervisor: id("supervisor-b"), reason });
    let carried = rig.leave_rest().standing().holds_in_words();
    rig.sign(Signing::Decisions, &carried);
    let sign = rig.last().number;
    rig.by("supervisor-z").take(countersign(sign));
    assert_eq!(claims(&rig.inspection).len(), 1);
    let waits = reading(&rig, &[]).to_countersign(&id("supervisor-b"));
    assert_eq!(waits.iter().map(|one| one.entry).collect::<Vec<_>>(), [sign]);
    rig.by("supervisor-b").take(countersign(sign));
    assert!(claims(&rig.inspection).is_empty());
    assert!(reading(&rig, &[]).pending().is_empty());
}

#[test]
fn an_answer_given_on_the_stick_comes_home_with_the_coming_back_before_it_which_counts_for_nothing() {
    let home = Shelf::empty();
    let mut rig = Rig::open();
    rig.take(Act::Call { part: "bush.ts".into(), question: "which way round?".into() });
    let call = rig.last().number;
    let record = home.keep(&rig.inspection, "2031-04-17-small");
    let stick = home.root().join("stick/2031-04-17-small.yaml");
    copy(&record, &stick);
    let ashore = Shelf::empty();
    let back = ashore.add(&stick, "supervisor-b", Act::Resume).number;
    let bringer = Bringer { by: Some(id("fitter-a")), at: stamp("2031-04-18T08:00:00+02:00") };
    let (who, text) = ("supervisor B".to_owned(), "the mark to the turbine".to_owned());
    home.add(&record, "fitter-a", Act::Note { step: None, text: "the work went on".into() });
    // that somebody came back there says nothing here
    assert_eq!(bring(&home.store, &stick, &bringer).unwrap().outcome, Outcome::Nothing);
    let answer = ashore.add(&stick, "supervisor-b", Act::Answer { entry: call, who, text }).number;
    let brought = bring(&home.store, &stick, &bringer).unwrap().outcome;
    let last = home.open(&record).inspection.entries().last().unwrap().number;
    assert_eq!(brought, Outcome::Appended { entries: vec![(back, last - 1), (answer, last)] });
    assert!(matches!(home.open(&record).inspection.entry(last).unwrap().deed(), Act::Answer { .. }));
    assert_eq!(bring(&home.store, &stick, &bringer).unwrap().outcome, Outcome::Nothing);
    // each original stands behind the one before it
    let verified = verify(&home.store, std::slice::from_ref(&record)).remove(0);
    assert!(verified.is_fine(), "{verified:?}");
    // and the stick goes on with what grew here
    copy(&record, &home.root().join("back.yaml"));
    let there = bring(&ashore.store, &home.root().join("back.yaml"), &bringer).map(|brought| brought.outcome);
    assert!(matches!(there, Ok(Outcome::New)), "{there:?}");
}

/// On a desktop the real program would ask in a window of its own; behind this one nobody would see it.
#[cfg(unix)]
#[test]
fn a_passphrase_is_asked_for_in_the_terminal_and_by_no_other_program() {
    use std::os::unix::fs::PermissionsExt;
    use std::process::Command;

    let (shelf, path) = Shelf::signed();
    let (key, window) = (shelf.root().join("shore-key"), shelf.root().join("window"));
    let words = ["-q", "-t", "ed25519", "-N", "open sesame", "-f"];
    assert!(Command::new("ssh-keygen").args(words).arg(&key).status().unwrap().success());
    std::fs::write(&window, format!("#!/bin/sh\ntouch '{}'\n", shelf.root().join("asked").display())).unwrap();
    std::fs::set_permissions(&window, std::fs::Permissions::from_mode(0o755)).unwrap();
    let mut command = assert_cmd::Command::cargo_bin("asfound").unwrap();
    command.arg("--data").arg(shelf.root()).arg("review").arg(&path).args(["--plain", "--as", "fitter-a"]);
    command.env("DISPLAY", ":0").env("SSH_ASKPASS", &window).env_remove("SSH_ASKPASS_REQUIRE");
    let out = command.write_stdin(format!("key\n{}\nleave\n", key.display())).output().unwrap();
    assert!(String::from_utf8(out.stdout).unwrap().contains("ssh-keygen did not sign"));
    assert!(!shelf.root().join("asked").exists());
}

/// No shell stands between the field and the file.
#[cfg(unix)]
#[test]
fn a_key_in_the_home_folder_is_named_as_a_shell_names_it_and_answers_from_a_file_are_told() {
    let (shelf, path) = Shelf::signed();
    let (_, public) = super::keys::key(shelf.root(), "bench-key");
    shelf.store.save_people(&[super::keys::person(vec![public])]).unwrap();
    let mut command = assert_cmd::Command::cargo_bin("asfound").unwrap();
    command.arg("--data").arg(shelf.root()).arg("review").arg(&path).args(["--plain", "--as", "fitter-a"]);
    let out = command.env("HOME", shelf.root()).write_stdin("key\n~/bench-key\nleave\n").output().unwrap();
    let said = String::from_utf8(out.stdout).unwrap();
    assert!(said.contains("by key too, good"), "{said}");
    assert!(said.contains("\n> key\n") && said.contains("\n> ~/bench-key\n"), "{said}");
}
