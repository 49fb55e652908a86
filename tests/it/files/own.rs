//! One's own checklists and sheets through the command line: a copy to begin with, and every change checked.

use std::path::Path;

use asfound::records::checklist_file::{built_in, built_in_names, read_whole};
use assert_cmd::Command;
use tempfile::TempDir;

pub(super) fn asfound(folder: &Path, words: &[&str]) -> (i32, String, String) {
    let mut command = Command::cargo_bin("asfound").unwrap();
    let output = command.arg("--data").arg(folder).args(words).output().unwrap();
    let text = |bytes: &[u8]| String::from_utf8(bytes.to_vec()).unwrap();
    (output.status.code().unwrap(), text(&output.stdout), text(&output.stderr))
}

#[test]
fn every_checklist_of_the_program_is_copied_with_its_comments() {
    let folder = TempDir::new().unwrap();
    for name in built_in_names() {
        let own = format!("our-{name}");
        let (code, out, err) = asfound(folder.path(), &["checklist", "copy", name, &own]);
        assert_eq!(code, 0, "{err}");
        assert!(out.contains("is yours to change"), "{out}");
        let text = std::fs::read_to_string(folder.path().join(format!("checklists/{own}.yaml"))).unwrap();
        let copy = read_whole("a.yaml", text.as_bytes()).unwrap_or_else(|problems| panic!("{problems}"));
        let original = built_in(name).unwrap().unwrap();
        assert_eq!((copy.parts, copy.steps), (original.parts, original.steps));
        for group in original_groups(name) {
            let source = std::fs::read_to_string(root(&format!("checklists/{group}.yaml"))).unwrap();
            for comment in source.lines().skip(1).filter(|line| line.trim_start().starts_with('#')) {
                assert!(text.contains(comment), "{name} lost `{comment}` of {group}");
            }
        }
    }
    let (code, _, err) = asfound(folder.path(), &["checklist", "copy", "overhaul", "our-overhaul"]);
    assert!(code == 1 && err.contains("is there already"), "{err}");
    let (code, _, err) = asfound(folder.path(), &["checklist", "copy", "none"]);
    assert!(code == 1 && err.contains("Known are our-bearing"), "{err}");
    let (code, _, err) = asfound(folder.path(), &["checklist", "copy", "our-cleaning", "second"]);
    assert_eq!(code, 0, "{err}");
    let text = std::fs::read_to_string(folder.path().join("checklists/second.yaml")).unwrap();
    assert!(text.contains("\nchecklist: second\n") && text.contains("# Copied from `cleaning`"), "{text}");
    assert_eq!(asfound(folder.path(), &["check"]).0, 0);
}

pub(super) fn root(path: &str) -> String {
    format!("{}/{path}", env!("CARGO_MANIFEST_DIR"))
}

fn original_groups(name: &str) -> Vec<String> {
    let order = std::fs::read_to_string(root(&format!("checklists/{name}.order.yaml"))).unwrap();
    let groups = order.lines().find_map(|line| line.strip_prefix("groups: [")).unwrap();
    groups.trim_end_matches(']').split(", ").map(str::to_owned).collect()
}

/// What is changed into what, where it is then found, and words of the reason and of the mend.
type Row<'a> = (&'a str, &'a str, [&'a str; 2]);

/// Each change is found by `check` in the file, at the line where the change stands, with a reason and a mend.
fn each(sample: &str, rows: &[Row<'_>]) {
    let folder = TempDir::new().unwrap();
    let text = std::fs::read_to_string(root(&format!("docs/files/{sample}"))).unwrap();
    let file = folder.path().join("own.yaml");
    let name = file.to_str().unwrap();
    std::fs::write(&file, &text).unwrap();
    assert_eq!(asfound(folder.path(), &["check", name]).0, 0);
    for (from, to, [reason, mend]) in rows {
        assert!(text.contains(from), "{sample} has no `{from}`");
        std::fs::write(&file, text.replacen(from, to, 1)).unwrap();
        let (code, out, _) = asfound(folder.path(), &["check", name, "--json"]);
        let told: serde_json::Value = serde_json::from_str(&out).unwrap();
        let problems = told["problems"].as_array().unwrap();
        let fits = |one: &&serde_json::Value| one["found"].as_str().unwrap().contains(reason);
        let Some(one) = problems.iter().find(fits) else { panic!("`{to}`: {out}") };
        assert!(one["mend"].as_str().unwrap().contains(mend), "`{to}`: {one}");
        assert_eq!((code, one["file"].as_str()), (3, Some(name)), "`{to}`: {one}");
        assert!(one["line"].as_u64().unwrap() > 1 && one["column"].as_u64().unwrap() > 0, "`{to}`: {one}");
        let (_, out, _) = asfound(folder.path(), &["check", name]);
        let place = format!("{name}:{}:{}: found ", one["line"], one["column"]);
        assert!(out.contains(&place), "`{to}`: {out}");
    }
}

#[test]
fn whatever_is_wrong_with_a_checklist_is_found_from_outside() {
    each(
        "checklists/short.yaml",
        &[
            ("bush.ts.clearance,", "bush.ts.clearence,", ["`bush.ts.clearence`", "Did you mean `bush.ts.clearance`?"]),
            ("lift/1}", "lift/1, obliges: [bush.ts/lok]}", ["`bush.ts/lok`", "Did you mean `bush.ts/look`?"]),
            ("lift/1", "lfit/1", ["the reckoning `lfit/1`", "Did you mean `lift/1`?"]),
            ("unit: mm", "unit: bar", ["readings in bar, a pressure", "Change the grid's unit"]),
            ("needs: [bush.ts/look]", "needs: [bush.ts/lok]", ["`bush.ts/lok`", "Did you mean `bush.ts/look`?"]),
            ("needs: [bush.ts/look]", "needs: [bush.ts/clearance]", ["a circle: ", "Take one of these needs out."]),
            (
                "  caution: Gloves, eyes, air. No flame near the bath.\n",
                "",
                ["no caution, in the phase", "Put the caution"],
            ),
            (
                "title: soak the bush",
                "title: soak the bush and then go on to soak it longer",
                ["46 characters", "Take out 6"],
            ),
            (
                "step: bush.ts/look",
                "step: bush.ts/clearance",
                ["the step `bush.ts/clearance` a second time", "another name"],
            ),
            (
                "  takes: soak",
                "  on demand: yes\n  takes: soak",
                ["on demand, which nothing asks for", "under `obliges`"],
            ),
            ("from: 20 min", "from: 20 mm", ["`20 mm`, a length", "Put min or h"]),
            ("from: 20 min", "from: 0 min", ["a soak of 0 min", "how long it takes"]),
            ("from: 20 min", "from: 3 h", ["from 3 h to 2 h", "Turn the two round"]),
            // what yields no such figure would judge hours as millimetres
            (
                "{characteristic: bush.ts.clearance, reckoning: lift/1}",
                "{characteristic: bush.ts.pin, reckoning: life/1}",
                ["`life/1`, which yields no locking pin wear", "Name the reckoning that yields it"],
            ),
            ("reckoning: lift/1", "reckoning: wear/1", ["`wear/1`, which yields no clearance", "Name the reckoning"]),
            ("figures: [down, up]", "figures: [up, down]", ["`up` before `down`", "Turn them round"]),
            ("grades: {any: replace}", "grades: {any: watch}", ["a crack, `any`, that leads to watch", "refer it"]),
            ("grades: {any: replace}", "grades: {any: rework}", ["a crack, `any`, that leads to rework", "refer it"]),
            (
                "grades: {any: replace}",
                "grades: {any: [replace, watch]}",
                ["a crack, `any`, that leads to replace and watch", "refer it"],
            ),
            ("light: watch, ", "light: [watch, replace], ", ["leads to [watch, replace]", "Write each once"]),
            ("light: watch, ", "light: [nothing, refer], ", ["leads to [nothing, refer]", "Write each once"]),
            ("light: watch, ", "light: [], ", ["`light` that leads to []", "Write each once"]),
            ("  takes: decisions", "  takes: tick", ["no step that takes `decisions`", "nothing is rebuilt"]),
            ("  takes: close", "  takes: tick", ["no step that takes `close`", "nothing is ever closed"]),
            (
                "  rotates: no\n  findings:",
                "  rotates: no\n  holds back: [bush.ts/lok]\n  findings:",
                ["`bush.ts/lok`", "Did you mean `bush.ts/look`?"],
            ),
            (
                "  rotates: no\n  findings:",
                "  rotates: no\n  holds back: [bush.ts/look]\n  findings:",
                ["`bush.ts/look`, a step of the phase `look2`", "the step that puts the part back"],
            ),
            (
                "- part: close\n",
                "- part: oil\n  name: Oil\n  short: oil\n  rotates: no\n- part: close\n",
                ["`oil`, which no step is about", "take the part out"],
            ),
            (
                "- step: close/decisions\n",
                "- step: bush.ts/again\n  part: bush.ts\n  phase: measure\n  title: once more\n  takes: readings\n  grid:\n    unit: mm\n    gauge: dial gauge\n    places: [inner]\n    figures: [down, up]\n  judges:\n  - {characteristic: bush.ts.clearance, reckoning: lift/1}\n- step: close/decisions\n",
                ["which `bush.ts/clearance` judges in the same phase", "one of the two"],
            ),
        ],
    );
}

#[test]
fn whatever_is_wrong_with_a_sheet_is_found_from_outside() {
    each(
        "sheets/INV-420.yaml",
        &[
            ("bush.ts.pin\n", "bush.ts.pinn\n", ["`bush.ts.pinn`", "Did you mean `bush.ts.pin`?"]),
            ("above: 0.220 mm", "above: 0.220 bar", ["`0.220 bar`, a pressure", "unit behind"]),
            ("below: 0.130 mm", "below: 0 mm", ["a lower bound that no figure can fall below", "above 0"]),
            (
                "at or above: 0.210 mm",
                "at or above: 0.230 mm",
                ["an alert at 0.230 mm, above the limit at 0.220 mm", "wrong way round"],
            ),
            ("over: 80 mm", "over: 81 mm", ["leaves a gap", "smallest first"]),
            ("over: 80 mm", "over: 79 mm", ["overlaps", "smallest first"]),
            ("figure: 60 mm", "figure: 40 mm", ["bands that leave out", "falls into a band"]),
            ("leads to: replace", "leads to: nothing", ["a level that leads to nothing", "never called good"]),
            (
                "alert: {at or above: 0.210 mm, ",
                "alert: {at or above: 0.210 mm, leads to: nothing, ",
                ["a level that leads to nothing", "never called good"],
            ),
            // `18,000` in a table, read as a decimal comma
            (
                "- {name: thrust.lands",
                "- {name: rotor.speed, figure: 18.000 r/min, source: \"p 1\"}\n- {name: thrust.lands",
                ["largest service speed: 18.000 r/min", "in the manual"],
            ),
            (
                "- characteristic: bush.ts.pin\n",
                "- characteristic: impeller.life\n  limit: {at or above: 60.000 h, leads to: replace, source: \"p 1\"}\n- characteristic: bush.ts.pin\n",
                ["60.000 h", "Write 60000 h without a mark"],
            ),
            ("figure: 8,", "figure: 0,", ["lands on each side of the thrust bearing: 0", "in the manual"]),
            ("figure: 8,", "figure: 100000000,", ["lands on each side", "in the manual"]),
            ("figure: 8,", "figure: 8.5,", ["`8.5`", "Count them"]),
            ("figure: 12.00 mm", "figure: -12.00 mm", ["new width of the locking pin: -12.00 mm", "in the manual"]),
            ("[fitter-a, supervisor-b]", "[fitter-a, Fitter-A]", ["entered it twice", "has checked nothing"]),
            ("[fitter-a, supervisor-b]", "[\"fitter\\x07\", b]", ["a control character", "a terminal would obey it"]),
        ],
    );
}

#[test]
fn whatever_is_wrong_with_an_instrument_is_found_from_outside() {
    let again = "Write it as the certificate has it";
    each(
        "instruments/D2.yaml",
        &[
            (
                "resolution: 0.002 mm",
                "resolution: 0.002 bar",
                ["`0.002 bar`, a pressure, of a dial gauge", "unit behind"],
            ),
            ("resolution: 0.002 mm", "resolution: 0 mm", ["`resolution: 0 mm`", "take it out"]),
            ("resolution: 0.002 mm", "resolution: 2 mm", ["coarser than the whole range", "Look at the two"]),
            ("turn: 0.200 mm", "turn: 0.001 mm", ["a turn smaller than the step", "Look at the two"]),
            ("k: 2,", "k: 0,", ["k of 0", again]),
            (
                "expanded: 0.003 mm",
                "expanded: -0.003 mm",
                ["an expanded uncertainty of -0.003 mm", "as the certificate"],
            ),
            ("expanded: 0.003 mm", "expanded: 0.003 bar", ["0.003 bar, a pressure", "the unit of the gauge"]),
            // a share of the reading only where it says so
            ("expanded: 0.003 mm", "expanded: 0.003", ["0.003", "% for a share"]),
        ],
    );
}

#[test]
fn a_part_of_a_rotor_that_no_checklist_has_is_found_in_its_folder_and_alone() {
    let folder = TempDir::new().unwrap();
    let rotor = std::fs::read_to_string(root("docs/files/rotors/DEMO-1/rotor.yaml")).unwrap();
    let file = folder.path().join("rotors/DEMO-1/rotor.yaml");
    std::fs::create_dir_all(file.parent().unwrap()).unwrap();
    for words in [vec!["check"], vec!["check", file.to_str().unwrap()]] {
        std::fs::write(&file, &rotor).unwrap();
        assert_eq!(asfound(folder.path(), &words).0, 0);
        std::fs::write(&file, rotor.replacen("part: bush.ts,", "part: bush.st,", 1)).unwrap();
        let (code, out, _) = asfound(folder.path(), &words);
        assert!(code == 3 && out.contains("found the part `bush.st`"), "{code}: {out}");
        assert!(out.contains("Did you mean `bush.ts`?"), "{out}");
    }
}

#[test]
fn a_record_of_another_rotor_counts_for_nothing_and_files_that_nobody_reads_are_told() {
    let folder = TempDir::new().unwrap();
    let rotor = std::fs::read_to_string(root("docs/files/rotors/DEMO-1/rotor.yaml")).unwrap();
    let here = folder.path().join("rotors/Z");
    std::fs::create_dir_all(&here).unwrap();
    std::fs::write(here.join("rotor.yaml"), rotor.replacen("rotor: DEMO-1", "rotor: Z", 1)).unwrap();
    assert_eq!(asfound(folder.path(), &["check"]).0, 0);
    for name in
        ["instruments/D7.yml", "sheets/x.txt", "people.yml", "rotors/Z/2024-01-01-overhaul.yml", "rotors/a.yaml"]
    {
        let path = folder.path().join(name);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(path, "format: 1\n").unwrap();
        let (code, out, _) = asfound(folder.path(), &["check"]);
        assert!(code == 0 && out.contains(&format!("{name} is read by nothing here.")), "{name}: {out}");
    }
    let record = "rotors/DEMO-1/2031-04-17-short.yaml";
    std::fs::copy(root(&format!("docs/files/{record}")), here.join("2031-04-17-short.yaml")).unwrap();
    let (code, out, _) = asfound(folder.path(), &["check"]);
    assert!(code == 3 && out.contains("2031-04-17-short.yaml:6:13: found a record of DEMO-1"), "{out}");
    let (code, out, err) = asfound(folder.path(), &["due"]);
    assert_eq!((code, out.as_str()), (1, "Nothing is planned on any rotor.\n"));
    assert!(err.contains(":12:10: found a record of DEMO-1") && err.contains("into the folder of DEMO-1."), "{err}");
}

#[test]
fn a_bound_on_the_side_where_nothing_is_ever_bad_is_a_limit_that_can_never_be_right() {
    let sheet = std::fs::read_to_string(root("assets/demo/INV-420.yaml")).unwrap();
    let folder = TempDir::new().unwrap();
    let file = folder.path().join("INV-420.yaml");
    for (one, spoilt, said) in [
        ("shaft.ts.ovality", "at or below: 0.001 mm, ", "failed by less, and less is always better"),
        ("shaft.runout.mid", "below: 0.001 mm, ", "failed by less, and less is always better"),
        ("impeller.life", "below: 10 h, ", "failed by less, and less is always better"),
        ("casing.gas.wall", "above: 20 mm, ", "failed by more, and more is always better"),
    ] {
        let (before, item) = sheet.split_once(&format!("characteristic: {one}\n")).unwrap();
        let spoilt =
            format!("{before}characteristic: {one}\n{}", item.replacen("limit: {", &format!("limit: {{{spoilt}"), 1));
        std::fs::write(&file, spoilt).unwrap();
        let (code, out, _) = asfound(folder.path(), &["check", file.to_str().unwrap()]);
        assert!(code == 3 && out.contains(said) && out.contains("Take this side out."), "{one}: {out}");
    }
    std::fs::write(&file, &sheet).unwrap();
    assert_eq!(asfound(folder.path(), &["check", file.to_str().unwrap()]).0, 0);
}

#[test]
fn a_control_character_behind_a_backslash_is_refused_in_every_kind_of_file() {
    let folder = TempDir::new().unwrap();
    for (name, from, key) in [
        ("people.yaml", "name: fitter A", "name"),
        ("instruments/D2.yaml", "instrument: D2", "instrument"),
        ("rotors/DEMO-1/rotor.yaml", "serial: INV-420-0017", "serial"),
        ("settings.yaml", "photos: /home/bench/Pictures", "photos"),
        ("checklists/short.yaml", "name: Bush, turbine side", "name"),
        ("groups/pin.yaml", "name: Bush, turbine side", "name"),
    ] {
        let text = std::fs::read_to_string(root(&format!("docs/files/{name}"))).unwrap();
        let file = folder.path().join(name.replace('/', "-"));
        assert!(text.contains(from), "{name} has no `{from}`");
        std::fs::write(&file, text.replacen(from, &format!("{key}: \"a\\x07\""), 1)).unwrap();
        let (code, out, _) = asfound(folder.path(), &["check", file.to_str().unwrap()]);
        assert!(code == 3 && out.contains("found a control character"), "{name}: {out}");
    }
}

#[test]
fn a_record_is_compared_with_the_id_of_its_rotor_and_not_with_the_folders_name() {
    let folder = TempDir::new().unwrap();
    let here = folder.path().join("rotors/moved");
    std::fs::create_dir_all(&here).unwrap();
    for name in ["rotor.yaml", "2031-04-17-short.yaml"] {
        std::fs::copy(root(&format!("docs/files/rotors/DEMO-1/{name}")), here.join(name)).unwrap();
    }
    let (_, out, _) = asfound(folder.path(), &["check"]);
    assert!(!out.contains("found a record of DEMO-1"), "{out}");
    assert!(out.contains("rotors/moved/rotor.yaml:3:8: it says DEMO-1, which counts"), "{out}");
}

/// A copy of the program's checklist for bearings, with these lines changed.
fn own_bearing(folder: &TempDir, line: impl Fn(&str) -> Option<String>) -> String {
    let file = folder.path().join("checklists/ours.yaml");
    drop(std::fs::remove_file(&file));
    assert_eq!(asfound(folder.path(), &["checklist", "copy", "bearing", "ours"]).0, 0);
    let text = std::fs::read_to_string(&file).unwrap();
    let changed: Vec<String> = text.lines().filter_map(line).collect();
    assert_ne!(changed.join("\n"), text.trim_end());
    std::fs::write(&file, changed.join("\n") + "\n").unwrap();
    let (_, out, _) = asfound(folder.path(), &["check"]);
    out
}

#[test]
fn what_keeps_people_and_readings_from_harm_cannot_be_left_out_of_ones_own_checklist_unsaid() {
    let folder = TempDir::new().unwrap();
    let begin = ["begin", "R1", "--checklist", "ours"];
    // nothing asks for permit and isolation any more
    let out = own_bearing(&folder, |line| Some(line.replace("phase: safe", "phase: before")));
    assert!(out.contains("with no step before it that makes the machine safe"), "{out}");
    assert!(out.contains("1 problem\n"), "{out}");
    let (code, _, err) = asfound(folder.path(), &begin);
    assert!(code != 0 && err.contains("makes the machine safe"), "{code} {err}");
    // an as-found float that no step of the strip waits for
    let ungated = |line: &str| {
        let needs = line.trim_start().starts_with("needs: [");
        Some(if needs { line.replace("rotor/axial-float, ", "") } else { line.to_owned() })
    };
    let out = own_bearing(&folder, ungated);
    assert!(out.contains("`rotor/axial-float`, as-found figures that no step of the strip waits for"), "{out}");
    assert!(out.contains("1 problem\n") && out.contains("stripped, it is never measured again"), "{out}");
    let (code, _, err) = asfound(folder.path(), &begin);
    assert!(code != 0 && err.contains("no step of the strip waits for"), "{code} {err}");
    // nothing holds a part back: said, and left to the owner
    let out = own_bearing(&folder, |line| (!line.contains("holds back: ")).then(|| line.to_owned()));
    assert!(out.contains("0 problems") && out.contains("nothing keeps these from being put back"), "{out}");
    assert!(out.contains("Bush, turbine side"), "{out}");
    let out = own_bearing(&folder, |line| Some(line.replace("title: ", "title:  ")));
    assert!(out.contains("0 problems") && !out.contains("put back"), "{out}");
}

/// A rotor's file in a folder: its id, its serial number and one part as fitted.
fn rotor(folder: &TempDir, id: &str, serial: &str, part: &str) -> String {
    let path = folder.path().join(format!("rotors/{id}"));
    std::fs::create_dir_all(&path).unwrap();
    let parts = format!("parts:\n- {{part: {part}, hours: 0 h, machine: 0 h}}\n");
    let text = format!("# asfound rotor\nformat: 1\nrotor: {id}\nserial: {serial}\nmachine: INV-8\n{parts}");
    std::fs::write(path.join("rotor.yaml"), text).unwrap();
    asfound(folder.path(), &["check"]).1
}

#[test]
fn a_stretch_of_the_job_is_no_part_of_a_rotor_and_a_serial_number_borne_twice_is_remarked() {
    let folder = TempDir::new().unwrap();
    assert!(rotor(&folder, "R1", "INV-0001", "impeller").contains("0 problems"));
    for stretch in ["job", "safe", "strip"] {
        let out = rotor(&folder, "R1", "INV-0001", stretch);
        let wanted = format!("found the part `{stretch}`\n  expected: a piece that a checklist knows");
        assert!(out.contains("1 problem\n") && out.contains(&wanted), "{out}");
    }
    rotor(&folder, "R1", "INV-0001", "impeller");
    let out = rotor(&folder, "R2", "inv-0001", "impeller");
    assert!(out.contains("0 problems") && out.contains("rotors R1 and R2 bear one serial number"), "{out}");
    let out = rotor(&folder, "R2", "INV-0002", "impeller");
    assert!(!out.contains("one serial number"), "{out}");
}
