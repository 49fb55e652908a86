//! Checklists: the ones that come with the program, and every fault one can have.

use asfound::domain::checklist::Checklist;
use asfound::domain::phase::Phase;
use asfound::domain::verdict::Consequence;
use asfound::records::checklist_file::{WHOLE, built_in, built_in_names, read_whole, with_new_unchecked};
use asfound::records::file;
use asfound::records::yaml::At;

#[test]
fn every_checklist_of_the_program_holds_together_and_is_read_back_from_a_record() {
    assert!(built_in_names().count() >= 3);
    for name in built_in_names() {
        let checklist = built_in(name).unwrap().unwrap_or_else(|problems| panic!("{problems}"));
        let text = file::write(&WHOLE, &checklist);
        assert_eq!(read_whole("a.yaml", text.as_bytes()).unwrap_or_else(|problems| panic!("{problems}")), checklist);
    }
    assert!(built_in("none").is_none());
}

#[test]
fn no_file_of_the_checklists_is_forgotten() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/checklists");
    let table = include_str!("../../../src/records/checklist_file/built_in.rs");
    for entry in std::fs::read_dir(folder).unwrap() {
        let name = entry.unwrap().file_name().into_string().unwrap();
        assert!(table.contains(&format!("checklists/{name}\"")), "{name} is not in the table");
    }
}

#[test]
fn a_reckoning_beside_a_step_names_keys_units_and_figures_that_are_there() {
    let text = file::write(&WHOLE, &built_in("overhaul").unwrap().unwrap());
    for (from, to, found, mend) in [
        (
            "reckoning: torque/1, with: {bolts: bolts",
            "reckoning: torque/2, with: {bolts: bolts",
            "torque/2",
            "`torque/1`",
        ),
        ("value: full}", "value: ful}", "`ful`", "`full`"),
        ("with: {bolts: bolts,", "with: {bolt: bolts,", "bolt", "reckon torque --help"),
        ("with: {pair: words}", "with: {pair: \"= 50 H7/f7\", hole: wards}", "`wards`", "one that is there"),
        ("\"{balance.grade}\"", "\"{balance.grad}\"", "{balance.grad}", "`balance.grade`"),
        ("mass: \"{rotor.mass}\"", "mass: \"{rotor.speed}\"", "r/min", "reckon unbalance --help"),
        ("each length", "each photo", "each photo", "one that is there"),
        ("units: {bolts: \"1\"", "units: {bolt: \"1\"", "a unit for `bolt`", "`bolts`"),
        ("rebuild/figures: full", "rebuild/figure: full", "the step `rebuild/figure`", "`rebuild/figures`"),
    ] {
        assert!(text.contains(from), "{from}");
        let problems = read_whole("a.yaml", text.replace(from, to).as_bytes()).unwrap_err().to_string();
        assert!(problems.contains(found) && problems.contains(mend), "{to}: {problems}");
    }
}

#[test]
fn what_is_to_follow_a_wait_soon_follows_one_that_it_needs_in_a_time_that_can_be_kept() {
    let text = file::write(&WHOLE, &built_in("overhaul").unwrap().unwrap());
    let look = "soon: {after: impeller/developer, since: started, to: 30 min}";
    for (to, found) in [
        ("soon: {after: impeller/develper, since: started, to: 30 min}", "Did you mean `impeller/developer`?"),
        ("soon: {after: impeller/penetrant-light, since: started, to: 30 min}", "which is no wait"),
        ("soon: {after: impeller/degrease, since: started, to: 30 min}", "which does not come first"),
        ("soon: {after: impeller/developer, since: started, to: 10 min}", "where the wait takes at least 10 min"),
        ("soon: {after: impeller/developer, since: ended, to: 0 min}", "a time that can be kept"),
        ("soon: {after: impeller/developer, since: started, to: 30 mm}", "a length"),
    ] {
        assert!(text.contains(look));
        let problems = read_whole("a.yaml", text.replace(look, to).as_bytes()).unwrap_err().to_string();
        assert!(problems.contains(found), "{to}: {problems}");
    }
}

#[test]
fn a_step_looks_for_kinds_of_its_own_part() {
    let text = file::write(&WHOLE, &built_in("overhaul").unwrap().unwrap());
    for (from, to, found) in [
        ("looks for: [upstream damage]", "looks for: [upstrem damage]", "Did you mean `upstream damage`?"),
        ("looks for: [upstream damage]", "looks for: [bent vane]", "a kind of its part"),
        ("  takes: tick\n", "  takes: tick\n  looks for: [fouling]\n", "at a step that takes a look"),
    ] {
        assert!(text.contains(from), "{from}");
        let problems = read_whole("a.yaml", text.replacen(from, to, 1).as_bytes()).unwrap_err().to_string();
        assert!(problems.contains(found), "{to}: {problems}");
    }
}

/// What is wrong with the full overhaul once it is changed so, each with the text of the line where it is told.
fn told_of(change: impl Fn(&mut Checklist)) -> Vec<(String, String)> {
    let mut checklist = built_in("overhaul").unwrap().unwrap();
    change(&mut checklist);
    let text = file::write(&WHOLE, &checklist);
    let problems = read_whole("a.yaml", text.as_bytes()).unwrap_err();
    let line = |at: At| text.lines().nth(usize::try_from(at.line).unwrap() - 1).unwrap().to_owned();
    problems.iter().map(|problem| (problem.to_string(), line(problem.at))).collect()
}

#[test]
fn a_hold_that_no_step_could_lift_is_told_where_it_begins() {
    let unbalanced = "measures the balance as left";
    let one = |told: &[(String, String)], found: &str, line: &str, mend: &str| {
        let fits = |(words, at): &&(String, String)| words.contains(found) && at.contains(line) && words.contains(mend);
        assert_eq!(told.iter().filter(fits).count(), 1, "{found}: {told:?}");
    };
    let gone = told_of(|checklist| checklist.steps.retain(|step| !step.is_balance_as_left()));
    one(&gone, unbalanced, "rotates: yes", "no start would ever open");
    // after the start it comes too late for the start
    let late = told_of(|checklist| {
        let balances = checklist.steps.iter_mut().filter(|step| step.is_balance_as_left());
        balances.for_each(|step| step.phase = Phase::After);
    });
    one(&late, unbalanced, "rotates: yes", "no start would ever open");
    let fixed = told_of(|checklist| {
        checklist.steps.retain(|step| !step.is_balance_as_left());
        checklist.parts.iter_mut().for_each(|part| part.rotates = false);
    });
    one(&fixed, unbalanced, "asks: [balance]", "no start would ever open");
    let stretch = told_of(|checklist| {
        let part = checklist.parts.iter_mut().find(|part| part.id == "event").unwrap();
        part.findings[0].grades[0].leads_to = vec![Consequence::Replace];
    });
    one(&stretch, "on a stretch of the job", "kind: overspeed", "Refer it");
    for late in ["rebuild/impeller", "running/first-run"] {
        let obliged = told_of(|checklist| {
            assert!(checklist.step(late).is_some(), "{late}");
            let part = checklist.parts.iter_mut().find(|part| part.id == "impeller").unwrap();
            part.findings[0].obliges = vec![late.to_owned()];
        });
        one(&obliged, &format!("obliges `{late}`"), "kind: fouling", "it waits for the part");
    }
}

/// What is fitted new without a step that looks at it is said of one's own checklist.
#[test]
fn a_checklist_without_the_phase_new_is_remarked() {
    let folder = tempfile::TempDir::new().unwrap();
    let file = folder.path().join("short.yaml");
    let sample = concat!(env!("CARGO_MANIFEST_DIR"), "/docs/files/checklists/short.yaml");
    std::fs::copy(sample, &file).unwrap();
    let check = || crate::plain::verbs::asfound(folder.path(), &["check", file.to_str().unwrap()], "");
    let (code, out, _) = check();
    let remark = "without a step of the phase `new` nothing checks a new one of these before it is fitted: Bush, turbine side (line ";
    assert!(code == 0 && out.contains(remark), "{out}");
    let mut checklist = read_whole("short.yaml", &std::fs::read(&file).unwrap()).unwrap();
    assert_eq!(with_new_unchecked(&checklist).count(), 1);
    checklist.steps[2].phase = Phase::New;
    assert_eq!(with_new_unchecked(&checklist).count(), 0);
}

/// What stands before a field leaves room for it, and a gauge reads figures of its own sort.
#[test]
fn a_title_and_a_place_fit_their_boxes_and_a_gauge_reads_what_it_is_made_for() {
    let path = format!("{}/docs/files/checklists/short.yaml", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(path).unwrap();
    let title = "title: One bush, as a sample";
    for (from, to, told) in [
        (title, format!("{title} of how a checklist of the own is written"), "at most 40 characters"),
        ("figures: [down, up]", "figures: [down, first pressed up by hand and then held]".to_owned(), "at most 46"),
        ("gauge: dial gauge", "gauge: torque wrench".to_owned(), "figures in mm by a torque wrench"),
    ] {
        assert!(text.contains(from), "{from}");
        let read = read_whole("short.yaml", text.replacen(from, &to, 1).as_bytes());
        let problems = read.err().unwrap_or_else(|| panic!("`{to}` is taken")).to_string();
        assert!(problems.contains(told), "{to}: {problems}");
    }
}
