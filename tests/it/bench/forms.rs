//! People, instruments, sheets and rotors filled in at the bench, in a folder that was empty.

use std::path::Path;

use insta::assert_snapshot;
use tempfile::TempDir;

use super::Bench;

/// Lines typed one after the other, each ended by Enter; an empty one is Enter alone.
pub(super) fn lines(bench: Bench, lines: &str) -> Bench {
    lines.lines().map(str::trim).fold(bench, |bench, line| bench.typed(line).keys("enter"))
}

/// Home, the registers, the kind with this digit.
pub(super) fn register(folder: impl AsRef<Path>, digit: &str) -> Bench {
    let home = Bench::over(folder.as_ref());
    let screen = home.screen();
    let line = screen.lines().find(|line| line.contains("people, instruments")).unwrap_or_else(|| panic!("{screen}"));
    let registers = line.split_whitespace().next().unwrap();
    home.keys(registers).expect("machine types and limits sheets").keys(digit)
}

fn read(folder: &TempDir, name: &str) -> String {
    std::fs::read_to_string(folder.path().join(name)).unwrap_or_default()
}

/// Who begins at nothing is told what else there is to begin with, until there is a rotor.
#[test]
fn an_empty_folder_says_what_may_be_entered_before_the_first_inspection() {
    let folder = TempDir::new().unwrap();
    let said = "machine type, rotor and gauges may be entered before, under 3";
    Bench::over(folder.path()).expect(said).keys("3").expect("machine types and limits sheets");
    let folder = TempDir::new().unwrap();
    demo(&folder);
    Bench::over(folder.path()).expect_not(said);
}

#[test]
fn people_are_entered_in_a_table() {
    let folder = TempDir::new().unwrap();
    let bench = register(&folder, "1").expect("none yet").keys("1");
    let bench = lines(bench, "fitter-k\nfitter K\nfi\n\nsupervisor-m\nsupervisor M").expect("DRAFT, not in use");
    assert_snapshot!("forms_people", bench.screen());
    assert!(read(&folder, "people.yaml").contains("fitter-k") && !read(&folder, "people.yaml").contains("supervisor"));
    let bench = lines(bench, "su\n").expect("saved, in use");
    assert!(read(&folder, "people.yaml").contains("roles: [supervisor]"));
    assert_eq!(read(&folder, "drafts/people/people.yaml"), "");
    bench.keys("esc").expect("everybody");
}

#[test]
fn a_form_left_half_done_is_offered_again() {
    let folder = TempDir::new().unwrap();
    let bench = register(&folder, "2").keys("1");
    let bench = lines(bench, "M7").expect("DRAFT, not in use");
    assert_snapshot!("forms_instrument", bench.screen());
    drop(bench);
    let bench = register(&folder, "2").expect("a draft left half done").keys("1").expect("M7");
    let bench = lines(bench.keys("down"), "mic").expect("saved, in use");
    drop(bench);
    assert!(read(&folder, "instruments/M7.yaml").contains("kind: micrometer"));
    assert_eq!(read(&folder, "drafts/instruments/new.yaml"), "");
}

/// Killed before Enter: the text is in its cell again, and the hand on it, in the form and in what is opened from it.
#[test]
fn a_text_half_typed_in_a_cell_is_there_again() {
    let folder = TempDir::new().unwrap();
    drop(register(&folder, "2").keys("1").typed("M"));
    let bench = register(&folder, "2").expect("a draft left half done").keys("1").expect("[ M_");
    let bench = lines(bench, "7").expect("DRAFT, not in use");
    assert_eq!(read(&folder, "drafts/instruments/new.typed"), "");
    drop(bench.typed("mic"));
    let bench = register(&folder, "2").keys("1").expect("[ mic_").keys("enter").expect("saved, in use");
    assert_eq!(read(&folder, "drafts/instruments/M7.typed"), "");
    drop(bench);
    let bench = lines(register(&folder, "3").keys("1"), "INV-9\nmaker\nINV-9 manual\n1\n\nfitter-k");
    drop(bench.keys("down down enter").typed("0.3.").expect("[ 0.3._"));
    register(&folder, "3").keys("1").expect("[ 0.3._").keys("esc").expect("levels");
}

#[test]
fn a_sheet_of_35_levels_is_entered_in_under_400_keys() {
    let folder = TempDir::new().unwrap();
    let bench = register(&folder, "3").keys("1");
    let before = bench.pressed;
    let bench = lines(bench, "INV-9\nmaker\nINV-9 manual\n1\n\nfitter-k").keys("down down enter");
    let mut bench = lines(bench, "0.3..0.5\n4\n>=.6\n\n>.7\nrep\n\n");
    // eleven more characteristics with all three, one with two: figures as the manual has them, side and page as before
    for page in 1..=10 {
        let source = if page % 3 == 0 { "5" } else { "" };
        // ratios and thickness get smaller with wear: the side is typed where it changes
        let (alert, limit) = match page {
            5 | 8 => ("<.15", "<.1"),
            6 => (".15", ".1"),
            7 | 9 => (">=.35", ">.4"),
            _ => (".35", ".4"),
        };
        bench = lines(bench, &format!(".2...3\n{source}\n{alert}\n\n{limit}\n\n\n"));
    }
    let bench = lines(bench, ".2...3\n\n.35\n\n");
    let keys = bench.pressed - before;
    assert_snapshot!("forms_levels", bench.screen());
    let text = read(&folder, "sheets/INV-9.yaml");
    let levels = ["  new:", "  alert:", "  limit:"].iter().map(|level| text.matches(level).count()).sum::<usize>();
    assert_eq!(levels, 35, "{text}");
    assert!(keys < 400, "{keys} keys");
    bench.expect("saved, in use");
}

#[test]
fn what_is_wrong_is_said_beside_its_field() {
    let folder = TempDir::new().unwrap();
    let bench = register(&folder, "3").keys("1");
    let bench = lines(bench, "INV-9\nmaker\nINV-9 manual\n1\n\nfitter-k").keys("down down enter");
    let bench = lines(bench, ".3").expect("On which side?").keys("delete");
    let bench =
        lines(bench, "\n>=0.6\n3\n>0.5\nrep\n\n").keys("up up").expect("an alert at 0.6 mm, above the limit at 0.5 mm");
    assert_snapshot!("forms_fault", bench.screen());
    assert!(!read(&folder, "sheets/INV-9.yaml").contains("0.5"), "the sheet in use stays as it was");
    lines(bench, ">=.4").expect("saved, in use");
    assert!(read(&folder, "sheets/INV-9.yaml").contains("0.4"));
}

/// Whoever comes next sees on the first screen that something lies half done, and where.
#[test]
fn what_was_left_half_done_is_told_on_the_first_screen() {
    let folder = TempDir::new().unwrap();
    drop(Bench::over(folder.path()).expect_not("half done"));
    drop(lines(register(&folder, "3").keys("1"), "INV-9\nmaker"));
    drop(Bench::over(folder.path()).expect("half done: a new limits sheet; open it"));
    drop(lines(register(&folder, "1").keys("1"), "fitter-k").typed("fitt"));
    drop(Bench::over(folder.path()).expect("half done: people file; a new limits sheet; open it"));
    let drafts = folder.path().join("drafts/sheets");
    std::fs::write(drafts.join("second-INV-7.yaml"), "format: 1\n").unwrap();
    std::fs::write(drafts.join("INV-7.older-0a1b2c3d.yaml"), "format: 1\n").unwrap();
    drop(Bench::over(folder.path()).expect("half done: people file; a new limits sheet; 1 more; open it"));
}

#[test]
fn a_sheet_is_typed_a_second_time_blind_and_compared() {
    let folder = TempDir::new().unwrap();
    let bench = lines(register(&folder, "1").keys("1"), "fitter-k\nfitter K\nfi\n\nsupervisor-m\nsupervisor M\nsu\n");
    drop(bench);
    let bench = register(&folder, "3").keys("1");
    let bench = lines(bench, "INV-9\nmaker\nINV-9 manual\n1\n\nfitter-k").keys("down down enter");
    let bench = lines(bench, ".3...5\n4").keys("esc esc").expect("typed a second time, blind");
    let bench = bench.keys("2").expect("who types it the second time?");
    let bench = bench.keys("1").expect("Somebody else types it again").keys("2").expect("second entry, blind");
    let bench = bench.expect_not("5 mm").keys("down down enter");
    let bench = lines(bench.expect_not("0.5"), ".3...6\n4").keys("esc esc").expect("the two entries differ");
    assert_snapshot!("forms_differ", bench.screen());
    let bench = lines(bench.keys("enter"), ".3...5").keys("esc esc").expect("machine types");
    assert!(read(&folder, "sheets/INV-9.yaml").contains("entered by: [fitter-k, supervisor-m]"));
    assert_eq!(read(&folder, "drafts/sheets/second-INV-9 by supervisor-m.yaml"), "");
    drop(bench);
}

/// What the second person has not typed stays blind, and Enter on a difference goes to its cell; who changes the sheet
/// afterwards is asked once.
#[test]
fn a_second_entry_shows_nothing_untyped_and_who_changes_the_sheet_is_asked_once() {
    let folder = TempDir::new().unwrap();
    drop(lines(register(&folder, "1").keys("1"), "fitter-k\nfitter K\nfi\n\nsupervisor-m\nsupervisor M\nsu\n"));
    let bench = lines(register(&folder, "3").keys("1"), "INV-9\nmaker\nINV-9 manual\n1\n\nfitter-k");
    let bench = lines(bench.keys("down down enter"), ".3...5\n4").keys("esc esc").keys("2 2 esc");
    let bench = bench.expect("(float.axial), new: in the first entry, not in the second").expect_not("0.5");
    let bench = bench.keys("enter").expect("axial float, new");
    let bench = lines(bench, ".3...5\n4").keys("esc esc").expect("machine types");
    let name = "entered by: [fitter-k, supervisor-m]";
    assert!(read(&folder, "sheets/INV-9.yaml").contains(name));
    let bench = lines(bench.keys("1 down down down down down down down down enter"), ".3...6");
    let bench = bench.expect("who types this?").keys("esc").expect("[ .3...6").keys("enter down enter");
    let bench = bench.expect("changed since it was entered, by supervisor-m");
    let changed = format!("{name}\nchanged since: [float.axial]\nchanged by: [supervisor-m]\n");
    assert!(read(&folder, "sheets/INV-9.yaml").contains(&changed), "{}", read(&folder, "sheets/INV-9.yaml"));
    let bench = lines(bench.keys("up"), ".3...7").expect_not("who types this?");
    let bench = bench.keys("esc esc 2").expect("who types it the second time?");
    bench.keys("1").expect("Somebody else types it again").keys("2").expect("Somebody else types it again");
}

#[test]
fn a_built_in_checklist_is_copied_and_every_change_is_checked() {
    let folder = TempDir::new().unwrap();
    let bench = register(&folder, "5").expect("built in: a copy of your own").keys("2");
    assert_snapshot!("forms_checklist", bench.screen());
    let bench = lines(bench, "our-own").expect("saved, in use").keys("esc").expect("our-own");
    assert!(read(&folder, "checklists/our-own.yaml").contains("checklist: our-own"));
    drop(bench);
}

/// The demonstration's sheet and rotor in a folder of their own.
fn demo(folder: &TempDir) {
    for (asset, to) in [("INV-420", "sheets/INV-420.yaml"), ("DEMO-1", "rotors/DEMO-1/rotor.yaml")] {
        let to = folder.path().join(to);
        std::fs::create_dir_all(to.parent().unwrap()).unwrap();
        std::fs::copy(format!("{}/assets/demo/{asset}.yaml", env!("CARGO_MANIFEST_DIR")), to).unwrap();
    }
}

#[test]
fn what_the_machine_does_not_have_is_marked_under_its_name() {
    let folder = TempDir::new().unwrap();
    let bench = lines(register(&folder, "3").keys("1"), "INV-9\nmaker\nINV-9 manual\n1\n\nfitter-k");
    let bench = lines(bench.keys("down down enter"), "0.3..0.5\n4").keys("esc up enter");
    // what has levels is there
    let bench = lines(bench.expect("Rotor in its bearings: axial float"), "none").expect("Take them out first");
    let bench = lines(bench.keys("delete down"), "no place for a dial").expect("no place for a dial");
    assert_snapshot!("forms_absent", bench.screen());
    let kept = read(&folder, "sheets/INV-9.yaml");
    assert!(kept.contains("absent:\n- {characteristic: float.radial.cs, reason: no place for a dial}"), "{kept}");
    let bench = bench.keys("esc").expect("1 entered").keys("down enter").expect_not("radial float, compressor side");
    let bench = bench.keys("esc up enter down").typed("-").expect("Enter takes out: float.radial.cs").keys("enter");
    bench.expect("Taken out").keys("esc").expect("none yet");
    assert!(!read(&folder, "sheets/INV-9.yaml").contains("absent"));
}

#[test]
fn a_part_of_a_rotor_is_chosen_by_its_name_and_one_that_no_checklist_has_is_said() {
    let folder = TempDir::new().unwrap();
    demo(&folder);
    let bench = register(&folder, "4").keys("1").keys(&"down ".repeat(5)).keys("enter").expect("Bush, turbine side");
    assert_snapshot!("forms_parts", bench.screen());
    let bench = lines(bench.keys("down"), "bush").expect("names none of those on offer, or more than one");
    let bench = lines(bench.keys("delete"), "turbine wh").expect("the part `turbine` a second time");
    let bench = lines(bench.keys("left"), "fastener").expect("saved, in use");
    let kept = read(&folder, "rotors/DEMO-1/rotor.yaml");
    assert!(kept.contains("part: fasteners"), "{kept}");
    // thousands as people write them
    drop(lines(bench.keys("enter"), "12 000").expect("`12 000` has a space: that makes two figures."));
    let folder = TempDir::new().unwrap();
    demo(&folder);
    let file = folder.path().join("rotors/DEMO-1/rotor.yaml");
    std::fs::write(&file, read(&folder, "rotors/DEMO-1/rotor.yaml").replace("part: collar", "part: coller")).unwrap();
    let bench = register(&folder, "4").keys("1").keys(&"down ".repeat(5)).keys("enter").expect("! coller");
    bench.keys("down down").expect("no checklist has such a part");
}

#[test]
fn a_refused_cell_is_said_at_once_and_the_page_of_what_is_wanted_leads_back_to_it() {
    let folder = TempDir::new().unwrap();
    let bench = lines(register(&folder, "2").keys("1"), "M7\nmicrometer").keys(&"pagedown ".repeat(9));
    let bench = lines(bench.expect("calibrations").keys("enter"), "10.12.2031");
    // the hand stays, and the reason stands below
    let bench = bench.expect("date").expect("! found `10.12.2031`; expected a day");
    let bench = lines(bench.keys("down"), "2031-01-10").keys("esc esc").expect("still wanted: Enter goes there");
    assert_snapshot!("forms_wanted", bench.screen());
    let bench = lines(bench.keys("1"), "2031-12-10").expect_not("10.12.2031");
    drop(bench.keys("esc esc esc").expect("M7").expect("left half done"));
    // what another figure made wrong is said where the hand is
    let bench = lines(register(&folder, "3").keys("1"), "INV-9\nmaker\nINV-9 manual\n1\n\nfitter-k");
    let bench = lines(bench.keys("down down enter"), "\n>=0.6\n3\n>0.5");
    bench.expect("axial float, alert, from where: found an alert at 0.6 mm, above the limit at 0.5 mm");
}

#[test]
fn a_row_goes_only_after_it_was_said_which() {
    let folder = TempDir::new().unwrap();
    let bench = lines(register(&folder, "1").keys("1"), "fitter-k\nfitter K\nfi\n\nsupervisor-m\nsupervisor M\nsu\n");
    let bench = bench
        .keys("left left left")
        .typed("-")
        .expect("Enter takes out: supervisor-m, supervisor M. Backspace keeps it.");
    let bench = bench.keys("backspace").expect_not("takes out:").typed("-").keys("enter");
    bench.expect("Taken out: supervisor-m, supervisor M.").expect("- remove");
    assert!(!read(&folder, "people.yaml").contains("supervisor"));
}

#[test]
fn nothing_of_the_demonstrations_sheet_is_cut_at_80_by_24() {
    let folder = TempDir::new().unwrap();
    demo(&folder);
    for (down, rows) in [(6, 30), (7, 40), (8, 110)] {
        let mut bench = register(&folder, "3").keys("1").keys(&"down ".repeat(down)).keys("enter");
        if down == 8 {
            assert_snapshot!("forms_levels_demo", bench.keys("down down down").screen());
            bench = register(&folder, "3").keys("1").keys(&"down ".repeat(down)).keys("enter");
        }
        for _ in 0..rows {
            let screen = bench.screen();
            assert!(!screen.contains('~'), "{screen}");
            bench = bench.keys("down");
        }
    }
}

/// Digits stay as typed; a bare number is in the unit of the sheet, after the form was left and in another sheet too.
#[test]
fn a_workshop_that_measures_in_inches_types_its_levels_in_inches() {
    let folder = TempDir::new().unwrap();
    let bench = lines(register(&folder, "3").keys("1"), "INV-9\nowner\nINV-9 sheet\n1\n\nfitter-k");
    let bench = lines(bench.keys("down down enter").expect("without a unit: mm;"), ".0060...0100 in\n4")
        .expect("0.0060..0.0100 in");
    drop(bench.keys("esc esc"));
    let bench =
        register(&folder, "3").keys("1").keys(&"down ".repeat(8)).keys("enter pagedown").expect("without a unit: in;");
    drop(lines(bench, "7..10 thou\n4").expect("7..10 thou").keys("esc esc"));
    let kept = read(&folder, "sheets/INV-9.yaml");
    assert!(kept.contains("{at or above: 0.0060 in, at or below: 0.0100 in"), "{kept}");
    assert!(kept.contains("{at or above: 7 thou, at or below: 10 thou"), "{kept}");
    assert!(!kept.contains("mm"), "nothing is converted: {kept}");
    let bench = lines(register(&folder, "3").keys("3"), "INV-8\nowner\nINV-8 sheet\n1\n\nfitter-k");
    let hint = bench.keys("down down enter").screen();
    assert!(hint.contains("unit: in;") || hint.contains("unit: thou;"), "{hint}");
}

#[test]
fn tab_offers_people_and_machine_types_and_says_where_nothing_is_on_offer() {
    let folder = TempDir::new().unwrap();
    demo(&folder);
    let bench = register(&folder, "3").keys("1").keys(&"down ".repeat(5)).expect("-- entered by");
    // whoever is not known there is taken as typed
    let bench = bench.keys("tab").expect_not("[ _").keys("delete").typed("fitter-z").keys("enter").expect("fitter-z");
    drop(bench);
    let bench = lines(register(&folder, "4").keys("2"), "R2");
    let bench = bench.keys("tab").expect("Nothing is on offer here: type it.");
    let bench = lines(bench, "INV-0001").keys("tab").expect("[ INV-420_").keys("enter");
    // the number stamped on another rotor of this type
    let bench = bench.keys("up up").expect("! INV-0001").expect("the rotor DEMO-1 bears it too");
    lines(bench, "INV-0002").expect_not("bears it too");
}

#[test]
fn the_list_of_instruments_says_what_each_is_and_which_are_past_their_date() {
    let folder = TempDir::new().unwrap();
    std::fs::create_dir_all(folder.path().join("instruments")).unwrap();
    let calibrated =
        |due: &str| format!("calibrations:\n- {{date: 2020-01-10, expanded: 0.001 mm, k: 2, due: {due}}}\n");
    for (id, kind, rest) in [
        ("D1", "dial gauge", format!("range: {{from: 0 mm, to: 10 mm}}\n{}", calibrated("2021-01-10"))),
        ("F1", "feelers", String::new()),
        ("M1", "micrometer", format!("range: {{from: 25 mm, to: 50 mm}}\n{}", calibrated("2999-01-10"))),
    ] {
        let text = format!("# asfound instrument\nformat: 1\ninstrument: {id}\nkind: {kind}\n{rest}");
        std::fs::write(folder.path().join(format!("instruments/{id}.yaml")), text).unwrap();
    }
    let bench = register(&folder, "2").expect("D1 dial gauge, 0 mm to 10 mm, ! ");
    let bench = bench.expect(" days past its date").expect("F1 feelers, never calibrated");
    bench.expect("M1 micrometer, 25 mm to 50 mm 4 a new one");
}

#[test]
fn a_prefix_of_digits_is_refused_at_its_field() {
    let folder = TempDir::new().unwrap();
    let bench = lines(register(&folder, "2").keys("1"), "M7\ndial").keys(&"down ".repeat(3)).expect("one turn");
    let bench = lines(bench, "\n0.05").expect("the prefix `0.05`; expected letters alone").expect("DRAFT, not in use");
    lines(bench, "N").expect("saved, in use");
    assert!(read(&folder, "instruments/M7.yaml").contains("prefix: "), "{}", read(&folder, "instruments/M7.yaml"));
}

#[test]
fn a_cell_to_be_mended_is_whole_behind_its_mark() {
    let folder = TempDir::new().unwrap();
    let bench = lines(register(&folder, "2").keys("1"), "M7\nmicrometer\n0\n25\n0.001").keys(&"pagedown ".repeat(6));
    let bench = lines(bench.expect("calibrations").keys("enter"), "2026-01-10\n0.001\n2\nINV-C-1\n2025-01-10");
    bench.expect("2026-01-10 0.001 mm 2 INV-C-1 ! 2025-01-10");
}

/// Where the grid has no room, the field in hand says what stands there.
#[test]
fn the_figure_that_stands_is_read_in_a_low_window() {
    let folder = TempDir::new().unwrap();
    let bench = register(&folder, "3").keys("1");
    let bench = lines(bench, "INV-9\nmaker\nINV-9 manual\n1\n\nfitter-k").keys("down down enter");
    let bench = lines(bench, ".3...5\n4").keys("up").expect("0.3..0.5 mm").sized(40, 10);
    bench.expect("stands, Tab takes it").expect("0.3..0.5 mm");
}
