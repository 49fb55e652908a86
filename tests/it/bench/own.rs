//! A workshop's own checklist, its levels by size, what its gauges pass: in the forms, every fault said at once.

use asfound::domain::characteristic::Characteristic;
use asfound::domain::figure::Figure;
use asfound::records::checklist_file::read_whole;
use asfound::records::sheet_file::read_sheet;
use tempfile::TempDir;

use super::Bench;
use super::forms::{lines, register};
use crate::plain::verbs::asfound;

fn read(folder: &TempDir, name: &str) -> String {
    std::fs::read_to_string(folder.path().join(name)).unwrap_or_default()
}

fn down(bench: Bench, rows: usize) -> Bench {
    bench.keys(&"down ".repeat(rows))
}

/// What the form says of the draft, `asfound check` says of the same text.
fn check_says(folder: &TempDir, words: &str) {
    let draft = folder.path().join("drafts/checklists/our-wash.yaml");
    let (code, out, _) = asfound(folder.path(), &["check", draft.to_str().unwrap()], "");
    assert!(code == 3 && out.contains(words), "{code}: {out}");
    assert_eq!(asfound(folder.path(), &["check"], "").0, 0, "what is in use stays as it was");
}

/// The program's checklist for cleaning under a name of one's own, saved.
fn copied(folder: &TempDir) -> Bench {
    let bench = register(folder, "5").keys("4").expect("Routine cleaning");
    lines(bench, "our-wash\n\nOur washing").expect("saved, in use").keys("down enter")
}

#[test]
fn texts_timers_and_needs_of_ones_own_checklist_are_changed_and_every_fault_is_said_at_once() {
    let folder = TempDir::new().unwrap();
    let bench = copied(&folder).typed("soak").keys("enter enter").expect("filter/soak");
    let bench = lines(down(bench, 3), "soak in rain water").expect("saved, in use").keys("enter");
    let long = "x".repeat(77);
    let bench = bench.keys("tab").expect("into lukewarm water").keys("delete").typed(&long).keys("enter");
    let bench = bench.expect("77 characters; expected one line of at most 76").expect("DRAFT, not in use");
    check_says(&folder, "77 characters");
    let bench = lines(bench, "Into the tub with it, all of it under water.").expect("saved, in use").keys("esc");
    // a bare number of a soak is hours; the longer time comes second
    let bench =
        lines(down(bench, 13), "1.5\n1").keys("up up").expect("expected the shorter time first").expect("DRAFT");
    check_says(&folder, "from 1.5 h to 1 h");
    let bench = lines(bench.keys("down"), "150 min").expect("saved, in use");
    let bench = lines(bench.keys("up up up up up up up up up"), "filter/sot").expect("Did you mean `filter/soot`?");
    check_says(&folder, "Did you mean `filter/soot`?");
    drop(lines(bench, "filter/off, filter/soot").expect("saved, in use"));
    let text = read(&folder, "checklists/our-wash.yaml");
    let own = read_whole("our-wash.yaml", text.as_bytes()).unwrap();
    let step = own.step("filter/soak").unwrap();
    assert_eq!((step.title.as_str(), step.needs.len()), ("soak in rain water", 2));
    assert!(step.doing.contains(&"Into the tub with it, all of it under water.".to_owned()), "{:?}", step.doing);
    assert!(text.contains("soak: {from: 1.5 h, to: 150 min}"), "{text}");
    assert!(text.contains("# Copied from `cleaning`"), "comments stay");
}

#[test]
fn a_step_is_put_in_where_the_work_has_it_and_another_is_taken_out() {
    let folder = TempDir::new().unwrap();
    let bench = copied(&folder);
    let bench = down(bench, 40).typed("filter/rinse").keys("enter").expect("DRAFT, not in use");
    let bench = lines(bench, "\nfilter\ncle\nrinse with clear water").keys("enter");
    let bench = lines(bench, "Rinse until the water runs clear.").keys("esc down");
    // in the phase clean a caution is asked for
    let bench = down(lines(bench.expect("caution"), "Gloves. Mind the wet floor."), 4);
    let bench = lines(down(lines(bench, "filter/wash"), 5), "tick").expect("saved, in use").keys("esc");
    // behind the washing
    let bench = bench.expect("35").typed("to 18").keys("enter").expect("18 filter/rinse filter");
    let bench = bench
        .typed("silencer")
        .keys("enter")
        .expect("filter/silencer")
        .typed("-")
        .expect("Enter takes out: filter/silencer")
        .keys("enter")
        .expect("Taken out: filter/silencer")
        .keys("down down");
    // another step waits for the one that is gone: said at once, and mended there
    let bench = bench.typed("filter/back").keys("enter");
    let bench = bench.expect("found `filter/silencer`; expected a step of this checklist").expect("DRAFT, not in use");
    drop(
        lines(down(bench.keys("enter").expect("filter/back"), 10), "filter/off, filter/look, filter/dry")
            .expect("saved, in use"),
    );
    let own = read_whole("our-wash.yaml", read(&folder, "checklists/our-wash.yaml").as_bytes()).unwrap();
    let ids: Vec<_> = own.steps.iter().map(|step| step.id.as_str()).collect();
    let at = ids.iter().position(|id| *id == "filter/rinse").unwrap();
    assert_eq!(ids[at - 1..=at + 1], ["filter/wash", "filter/rinse", "filter/dry"]);
    assert!(!ids.contains(&"filter/silencer"));
    assert_eq!(asfound(folder.path(), &["check"], "").0, 0);
}

/// The limit of the step wear on the compressor side, for a machine with this journal.
fn limit(folder: &TempDir) -> Option<Figure> {
    let sheet = read_sheet("INV-8.yaml", read(folder, "sheets/INV-8.yaml").as_bytes()).unwrap();
    let levels = &sheet.levels[&Characteristic::parse("shaft.cs.step").unwrap()];
    sheet.amount(&levels.limit.as_ref().unwrap().upper().unwrap().amount)
}

#[test]
fn a_limit_by_size_is_entered_band_by_band_and_gaps_and_overlaps_are_said_at_once() {
    let folder = TempDir::new().unwrap();
    let bench = register(&folder, "3").keys("1");
    let bench = lines(bench, "INV-8\nmaker\nINV-8 manual\n1\n\nfitter-k").keys("enter").keys(&"pagedown ".repeat(7));
    let bench = lines(bench, "60\n2").keys("esc down down enter").keys(&"pagedown ".repeat(17));
    let bench = lines(bench.keys("down down").expect("step wear, compressor side, limit"), ">=table");
    let bench = lines(bench.expect("up to and including"), "50\n80\n0.022\n81\n120\n0.028").keys("up");
    let bench = bench.expect("leaves a gap behind the one before").expect("DRAFT, not in use");
    let bench = lines(bench, "79").keys("left").expect("overlaps the one before");
    let bench = lines(bench, "80").keys("left").expect_not("overlaps").expect_not("gap").keys("esc");
    drop(lines(bench.keys("right"), "refer\n5").expect("saved, in use"));
    let text = read(&folder, "sheets/INV-8.yaml");
    assert!(text.contains("{over: 80 mm, up to: 120 mm, figure: 0.028 mm}"), "{text}");
    // over 50, up to and including 80: the next band begins behind it
    for (diameter, wanted) in [("50.001", "0.022 mm"), ("80", "0.022 mm"), ("80.001", "0.028 mm"), ("120", "0.028 mm")]
    {
        let bench = register(&folder, "3").keys("1").keys(&"down ".repeat(6)).keys("enter");
        drop(lines(bench.keys(&"pagedown ".repeat(7)), diameter).expect("saved, in use"));
        assert_eq!(limit(&folder).map(|figure| figure.to_string()).as_deref(), Some(wanted), "{diameter}");
    }
    let bench = register(&folder, "3").keys("1").keys(&"down ".repeat(6)).keys("enter");
    let bench = lines(bench.keys(&"pagedown ".repeat(7)), "120.001").expect("DRAFT, not in use");
    bench.expect("bands that leave out the journal diameter 120.001 mm");
}

#[test]
fn the_form_of_a_gauge_shows_what_it_passes_on_each_machine_before_any_job() {
    let folder = TempDir::new().unwrap();
    std::fs::create_dir(folder.path().join("sheets")).unwrap();
    let sheet = format!("{}/assets/demo/INV-420.yaml", env!("CARGO_MANIFEST_DIR"));
    std::fs::copy(sheet, folder.path().join("sheets/INV-420.yaml")).unwrap();
    let bench = register(&folder, "2").keys("1");
    let bench = lines(bench, "M7\nmicrometer\n50 mm\n75\n0.001").expect("saved, in use");
    let last = bench.keys(&"down ".repeat(9)).expect("passes on INV-420").expect("! nothing: it has no certificate");
    let bench = lines(last.keys("up up up enter"), "2024-01-10\n0.003\n2").keys("esc down down down");
    let bench = bench.expect("passes on INV-420 shaft: step wear, compressor side: only to").keys("enter");
    let bench = bench.expect("shaft: step wear, turbine side only to 0.0193 mm");
    bench.keys("esc").expect("passes on INV-420");
}
