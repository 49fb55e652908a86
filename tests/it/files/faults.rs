//! Every fault of a checklist, a sheet and the registers: found, expected and mend, at its line.

use asfound::records::checklist_file::read_whole;
use asfound::records::instrument_file::read_instrument;
use asfound::records::people_file::read_people;
use asfound::records::rotor_file::read_rotor;
use asfound::records::settings_file::read_settings;
use asfound::records::sheet_file::read_sheet;
use asfound::records::yaml::Problems;

use super::samples::sample;

/// A sample with one thing changed.
fn changed(name: &str, from: &str, to: &str) -> String {
    let text = String::from_utf8(sample(name)).unwrap();
    assert!(text.contains(from), "{name} has no `{from}`");
    text.replacen(from, to, 1)
}

/// Each row: what is changed into what, and what the faults must hold, all of them in one.
fn each<T>(name: &str, read: impl Fn(&str, &[u8]) -> Result<T, Problems>, rows: &[(&str, &str, [&str; 3])]) {
    for (from, to, expected) in rows {
        let text = changed(name, from, to);
        let Err(problems) = read("a.yaml", text.as_bytes()) else { panic!("`{to}` is taken") };
        let fits = problems.iter().any(|one| {
            one.found.contains(expected[0]) && one.expected.contains(expected[1]) && one.mend.contains(expected[2])
        });
        assert!(fits, "`{to}`:\n{problems}");
        assert!(problems.iter().all(|one| one.at.line > 0 && one.at.column > 0), "`{to}`:\n{problems}");
    }
}

#[test]
fn faults_of_a_checklist() {
    each(
        "checklists/short.yaml",
        read_whole,
        &[
            ("format: 1", "form: 1", ["the key `form`", "as the first key", "Did you mean `format`?"]),
            ("format: 1", "format: 2", ["format 2", "format 1 at most", "newer version"]),
            ("format: 1", "format: 0x1", ["`0x1`", "number of the format", "`format: 1`"]),
            ("version: 1", "version: 1e3", ["`1e3`", "whole number", "digits alone"]),
            ("rotates: no", "rotates: off", ["`off`", "one of yes, no", "Write `yes` or `no`."]),
            ("phase: safe", "phase: saef", ["`saef`", "one of open", "Did you mean `safe`?"]),
            (
                "  caution: Gloves",
                "  cuation: Gloves",
                ["`cuation`, not known here", "caution", "Did you mean `caution`?"],
            ),
            ("  title: soak the bush\n", "", ["no key `title`", "text", "Put `title: `"]),
            (
                "  caution: Gloves, eyes, air. No flame near the bath.\n",
                "",
                ["no caution", "what can hurt", "one line"],
            ),
            (
                "bush.ts.clearance,",
                "bush.ts.clearence,",
                ["clearence", "a characteristic", "Did you mean `bush.ts.clearance`?"],
            ),
            (
                "bush.ts.clearance,",
                "shaft.ts.step,",
                ["whose part `shaft` is not there", "part of this checklist", "Put the part"],
            ),
            ("lift/1", "lift/2", ["`lift/2`", "one of lift/1", "Did you mean `lift/1`?"]),
            (
                "reckoning: lift/1",
                "reckoning: lift/1, result: tir",
                ["the result `tir`", "no `result`", "which result"],
            ),
            ("figures: [down, up]", "figures: [down]", ["1 figures a repeat", "2 figures", "under `figures`"]),
            ("unit: mm", "unit: bar", ["in bar, a pressure", "a length", "Change the grid's unit"]),
            ("unit: mm", "unit: furlong", ["`furlong`", "a unit", "Use mm"]),
            ("repeats: 3", "repeats: 0", ["0 repeats", "1 to 50", "how often"]),
            ("places: [outer 0,", "places: [inner 0,", ["a second time", "each place once", "tell them apart"]),
            (
                "places: [outer 0,",
                "places: [\"land 1..{thrust.lamds}\",",
                ["thrust.lamds", "figure of the machine", "Did you mean"],
            ),
            (
                "needs: [bush.ts/look]",
                "needs: [bush.ts/lok]",
                ["`bush.ts/lok`", "a step", "Did you mean `bush.ts/look`?"],
            ),
            (
                "needs: [safe/points]",
                "needs: [bush.ts/clearance]",
                ["comes later", "phase `clean` or before", "two phases"],
            ),
            ("needs: [bush.ts/look]", "needs: [bush.ts/clearance]", ["a circle", "can be begun", "Take one"]),
            (
                "part: bush.ts\n  phase: clean",
                "part: bush.cs\n  phase: clean",
                ["`bush.cs`", "a part", "Did you mean `bush.ts`?"],
            ),
            (
                "step: bush.ts/look",
                "step: BUSH.ts/cleaning",
                ["a second time", "without regard to case", "another name"],
            ),
            (
                "title: soak the bush",
                "title: soak the bush and then go on to soak it longer",
                ["46 characters", "40", "Take out 6"],
            ),
            (
                "- step: bush.ts/look\n",
                "- step: bush.ts/soak-2\n  part: bush.ts\n  phase: clean\n  title: soak the bush\n  do: [Soak it.]\n  caution: Hot.\n  takes: tick\n- step: bush.ts/look\n",
                ["the title `soak the bush` of `bush.ts/cleaning` again", "a title of its own", "sets this step apart"],
            ),
            ("point: oil", "point: permit", ["the point `permit` a second time", "each point once", "another name"]),
            ("from: 20 min", "from: 20 mm", ["`20 mm`, a length", "a time", "Put min or h"]),
            (
                "obliges: [bush.ts/clearance]",
                "obliges: [bush.ts/x]",
                ["`bush.ts/x`", "under `obliges`", "Did you mean"],
            ),
            ("kind: crack", &format!("kind: crack{}", " long".repeat(9)), ["50 characters", "at most 40", "Take out"]),
            ("crack: yes", "crack: no", ["named a crack", "crack: yes", "never overruled"]),
            ("text: \"Permit", &format!("text: \"{} Permit", "x".repeat(70)), ["characters", "at most 66", "Take out"]),
            ("name: ", &format!("name: {} ", "x".repeat(40)), ["characters", "at most 42", "Take out"]),
            (
                "title: soak the bush",
                "title: \"soak the\\e[31m bush\"",
                ["a control character", "letters", "Take it out"],
            ),
            ("rotates: no", "rotates: no\n  every months: 0", ["every 0 months", "at least 1", "take"]),
            (
                "    repeats: 3",
                "    usual: {from: 10 bar}\n    repeats: 3",
                ["`10 bar`, a pressure", "a length", "unit"],
            ),
            (
                "    repeats: 3",
                "    usual: {from: 3 mm, to: 1 mm}\n    repeats: 3",
                ["from 3 mm to 1 mm", "smaller", "round"],
            ),
            ("kind: crack", "kind: scoring", ["the kind `scoring` a second time", "each kind once", "another name"]),
        ],
    );
}

#[test]
fn faults_of_a_sheet() {
    each(
        "sheets/INV-420.yaml",
        read_sheet,
        &[
            ("above: 0.220 mm", "abvoe: 0.220 mm", ["`abvoe`, not known", "at or above", "Did you mean `above`?"]),
            ("invented: yes", "invented: on", ["`on`", "one of yes, no", "Write `yes` or `no`."]),
            ("invented: yes", "invented: True", ["`True`", "one of yes, no", "Write `yes` or `no`."]),
            (
                "above: 0.220 mm",
                "above: 1,234.5 mm",
                ["`1,234.5 mm`, cut in two", "one figure", "Write 1234.5 mm, nothing"],
            ),
            ("above: 0.220 mm", "above: 0,220 mm", ["`0,220 mm`, cut in two", "one figure", "Write 0.220 mm"]),
            ("above: 0.220 mm", "above: +0,220 mm", ["`+0,220 mm`, cut in two", "one figure", "Write +0.220"]),
            ("above: 0.220 mm", "above: 1e3", ["`1e3`", "figure with its unit", "digits"]),
            ("above: 0.220 mm", "above: 0.220 bar", ["a pressure", "a length", "unit behind"]),
            ("above: 0.220 mm", "above: 0.220 mm, at or above: 0.230 mm", ["`0.230 mm`", "one bound", "Keep one"]),
            ("leads to: replace, rule", "rule", ["no key `leads to`", "one of nothing", "Put `leads to: `"]),
            ("rule: guarded, factor", "factor", ["`1.65`", "no `factor` without", "rule: guarded"]),
            (
                "at or above: 0.210 mm",
                "at or above: 0.230 mm",
                ["an alert at 0.230 mm", "comes before the limit", "wrong way round"],
            ),
            (
                "at or above: 0.210 mm",
                "above: 0.220 mm",
                ["an alert at 0.220 mm", "comes before the limit", "another figure"],
            ),
            (
                "limit: {at or above: 1.60 mm",
                "limit: {at or below: 1.60 mm",
                ["falls short alone", "too large", "grows with wear"],
            ),
            ("above: 0.220 mm", "above: 220 mm", ["clearance at 220 mm", "at most 25 mm", "Look at the unit"]),
            ("at or above: 1.20 mm, source", "source", ["bound on one side", "bound on one side", "Give `above`"]),
            (
                "limit: {at or above: 1.60 mm",
                "limit: {at or above: 12 mm",
                ["pin wear at 12 mm of the new width of the locking pin, 12.00 mm", "can be reached", "its size"],
            ),
            ("below: 0.130 mm", "below: 0 mm", ["no figure can fall below", "can be reached", "above 0"]),
            ("over: 80 mm", "over: 81 mm", ["leaves a gap", "bands that join", "smallest first"]),
            ("over: 80 mm", "over: 79 mm", ["overlaps", "bands that join", "smallest first"]),
            (
                "over: 50 mm, up to: 80 mm",
                "over: 80 mm, up to: 50 mm",
                ["ends before it begins", "bands that join", "first"],
            ),
            (
                "figure: 60 mm",
                "figure: 40 mm",
                ["leave out the journal diameter 40 mm", "can be reached", "falls into a band"],
            ),
            (
                "name: journal.diameter, figure: 60 mm",
                "name: rotor.mass, figure: 60 kg",
                ["does not give", "reached", "Give it, `journal"],
            ),
            ("figure: 12.00 mm", "figure: 12.00 h", ["a time", "a length", "unit behind"]),
            ("name: bush.pin-width", "name: thrust.lands", ["`thrust.lands` a second time", "each once", "Keep one"]),
            (
                "characteristic: bush.cs.outer-clearance",
                "characteristic: bush.ts.pin",
                ["also under `absent`", "one of the two", "out"],
            ),
            (
                "table 1 line 4\"}\n  alert",
                "table 1 line 4\", leads to: rewrok}\n  alert",
                ["`rewrok`", "one of", "`rework`?"],
            ),
        ],
    );
}

#[test]
fn faults_of_the_registers() {
    each(
        "instruments/D2.yaml",
        read_instrument,
        &[
            (
                "kind: dial gauge",
                "kind: dail gauge",
                ["`dail gauge`", "one of micrometer", "Did you mean `dial gauge`?"],
            ),
            (
                "from: 0 mm, to: 1.0 mm",
                "from: 1 mm, to: 1.0 mm",
                ["a range from", "smaller figure first", "two figures"],
            ),
            ("due: 2030-12-10", "due: 2029-12-09", ["before its day", "a later day", "two days"]),
            ("date: 2029-12-10", "date: 2029-02-30", ["`2029-02-30`", "a day", "ends with 2029-02-28"]),
            ("date: 2029-12-10", "date: 2030-12-04", ["behind a later one", "oldest first", "order"]),
            ("piece: 0.500 mm", "piece: 0.500 in", ["a piece of 0.500 in", "within 0 mm to 1.0 mm", "unit"]),
            ("shows: 0.500 mm", "shows: 0.1 mm", ["showing 0.1 mm", "nearer than a quarter", "unit"]),
            (
                "expanded: 0.003 mm, k: 2, certificate: INV-C-11",
                "expanded: 3 mm, k: 2",
                ["uncertainty of 3 mm", "a quarter", "unit"],
            ),
            ("instrument: D2", "instrument: D 2", ["`D 2`", "an id", "1 to 40"]),
            // a digit or a sign would be taken off every figure that begins with it
            ("prefix: \"A\"", "prefix: \"1\"", ["the prefix `1`", "letters alone", "before each figure"]),
            ("prefix: \"A\"", "prefix: \"-\"", ["the prefix `-`", "letters alone", "before each figure"]),
            ("prefix: \"A\"", "prefix: \"0.05\"", ["the prefix `0.05`", "letters alone", "before each figure"]),
            ("prefix: \"A\"", "prefix: \"A \"", ["the prefix `A `", "letters alone", "before each figure"]),
            ("dof: 20", "dof: 0", ["`dof: 0`", "from 1", "One less than the readings"]),
            ("turn: 0.200 mm", "turn: 3.3 mm", ["larger than the whole range", "within the range", "units"]),
        ],
    );
    each(
        "people.yaml",
        read_people,
        &[
            ("id: fitter-c", "id: FITTER-A", ["a second time", "without regard to case", "another id"]),
            ("roles: [fitter]", "roles: []", ["without a role", "at least one", "brackets"]),
            ("roles: [fitter]", "roles: fitter", ["`fitter`", "a list", "`- `"]),
        ],
    );
    each(
        "rotors/DEMO-1/rotor.yaml",
        read_rotor,
        &[
            ("hours: 0 h", "hours: 0 mm", ["`0 mm`", "hours", "` h` behind"]),
            ("hours: 0 h", "hours: -5 h", ["`-5 h`", "not below nothing", "minus out"]),
            ("serial: INV-420-0017", "serial: ", ["nothing", "text", "Write it"]),
        ],
    );
    each(
        "settings.yaml",
        read_settings,
        &[
            ("decimal mark: comma", "decimal mark: coma", ["`coma`", "one of point, comma", "Did you mean `comma`?"]),
            ("break hours: 4", "break hours: 49", ["`49`", "48 at most", "never be asked again"]),
            ("paper: A4", "papr: A4", ["`papr`", "paper", "Did you mean `paper`?"]),
        ],
    );
}

#[test]
fn all_faults_of_a_file_are_listed_in_the_order_of_its_lines() {
    let text =
        changed("sheets/INV-420.yaml", "origin: maker", "origin: makr").replace("leads to: refer", "leads to: 1");
    let problems = read_sheet("a.yaml", text.as_bytes()).unwrap_err();
    let said: Vec<_> = problems.iter().map(|one| one.found.as_str()).collect();
    assert_eq!(said, ["`makr`", "`1`"]);
    assert!(problems.to_string().starts_with(
        "a.yaml:4:9: found `makr`\n  expected: one of maker, owner, interim\n  mend: Did you mean `maker`?"
    ));
}

/// Applies changes that must all be there to a sample.
fn with(name: &str, changes: &[(&str, &str)]) -> String {
    let text = String::from_utf8(sample(name)).unwrap();
    changes.iter().fold(text, |text, (from, to)| {
        assert!(text.contains(from), "no `{from}`");
        text.replacen(from, to, 1)
    })
}

#[test]
fn what_cannot_be_read_hides_nothing_else_that_is_wrong() {
    let unread = [
        ("above: 0.220 mm, below", "above: 0.2.0 mm, below"),
        ("part number: INV-420-P04", "part nummer: INV-420-P04"),
        ("1.60 mm, leads to: replace, source", "1.60 mm, source"),
    ];
    let between = [
        ("name: thrust.lands, figure: 8,", "name: thrust.lands, figure: 8.5,"),
        ("at or above: 0.130 mm, at or below", "at or above: 0.190 mm, at or below"),
        ("absent:\n", "absent:\n- {characteristic: bush.ts.pin, reason: none}\n"),
        (
            "absent:\n",
            "absent:\n- {characteristic: bush.ts.bore, reason: none}\n- {characteristic: bush.ts.bore, reason: no}\n",
        ),
    ];
    let told = |changes: &[(&str, &str)]| -> Vec<String> {
        let problems = read_sheet("a.yaml", with("sheets/INV-420.yaml", changes).as_bytes()).unwrap_err();
        problems.iter().map(|one| one.found.clone()).collect()
    };
    let mut all = told(&[&unread[..], &between[..]].concat());
    // mended one after the other, no fault comes up that was not told the first time, and none was made up
    let mut apart = [told(&unread), told(&between)].concat();
    all.sort();
    apart.sort();
    assert_eq!(all, apart);
    assert!(all.len() >= 7, "{all:?}");
}

/// The rest of a mapping that lacks a key is looked at in the same round; what the key may have held is not guessed at.
#[test]
fn a_key_that_is_missing_hides_nothing_and_nothing_is_made_up() {
    type Told = fn(&str) -> Vec<String>;
    fn told<T>(read: Result<T, Problems>) -> Vec<String> {
        read.err().iter().flatten().map(|one| one.found.clone()).collect()
    }
    let sheet: Told = |text| told(read_sheet("a.yaml", text.as_bytes()));
    let gauge: Told = |text| told(read_instrument("a.yaml", text.as_bytes()));
    let list: Told = |text| told(read_whole("a.yaml", text.as_bytes()));
    let (inv, d2, short) = ("sheets/INV-420.yaml", "instruments/D2.yaml", "checklists/short.yaml");
    for (name, read, missing, other) in [
        (inv, sheet, "leads to: replace, ", ("above: 0.220 mm", "above: 220 mm")),
        (inv, sheet, "leads to: replace, ", ("over: 80 mm", "over: 81 mm")),
        (inv, sheet, "up to: 80 mm, ", ("at or above: 0.210 mm", "at or above: 0.230 mm")),
        (d2, gauge, "k: 2, ", ("due: 2030-12-10", "due: 2027-12-10")),
        (d2, gauge, "k: 2, ", ("piece: 0.500 mm", "piece: 0.500 in")),
        (short, list, "    unit: mm\n", ("needs: [bush.ts/look]", "needs: [bush.ts/lok]")),
        (short, list, "    unit: mm\n", ("places: [outer 0,", "places: [inner 0,")),
        (short, list, "    gauge: dial gauge\n", ("reckoning: lift/1", "reckoning: lift/2")),
        (short, list, "  takes: readings\n", ("unit: mm", "unit: bar")),
        (short, list, "  takes: soak\n", ("  caution: Gloves, eyes, air. No flame near the bath.\n", "")),
        (short, list, "  phase: look2\n", ("needs: [bush.ts/cleaning]", "needs: [bush.ts/clening]")),
        (short, list, "{any: replace}", ("kind: crack", "kind: scoring")),
        (short, list, ", text: \"Permit in hand, signed today\"", ("point: oil", "point: permit")),
    ] {
        let (missing, other) = (&[(missing, "")][..], &[other][..]);
        let mut all = read(&with(name, &[missing, other].concat()));
        let mut apart = [read(&with(name, missing)), read(&with(name, other))].concat();
        all.sort();
        apart.sort();
        assert_eq!(all, apart, "{name}: {missing:?}, {other:?}");
        assert!(all.len() >= 2, "{name}: {missing:?}, {other:?}: {all:?}");
    }
}

/// A decimal comma inside braces is one fault, told once.
#[test]
fn a_comma_inside_braces_is_told_once_and_hides_nothing() {
    for to in ["above: 0,220 mm", "above: \"0,220 mm\""] {
        let text = changed("sheets/INV-420.yaml", "above: 0.220 mm", to).replace("origin: maker", "origin: makr");
        let problems = read_sheet("a.yaml", text.as_bytes()).unwrap_err();
        let said: Vec<_> = problems.iter().map(|one| one.found.as_str()).collect();
        assert_eq!(said.len(), if to.contains('"') { 1 } else { 2 }, "in quotes it is read: {said:?}");
    }
}

#[test]
fn a_size_that_is_told_as_faulty_is_not_told_as_missing_too() {
    let text = changed("sheets/INV-420.yaml", "journal.diameter, figure: 60 mm", "journal.diameter, figure: 6o mm");
    let problems = read_sheet("a.yaml", text.as_bytes()).unwrap_err();
    assert_eq!(problems.count(), 1, "{problems}");
}

#[test]
fn a_person_without_a_name_hides_no_id_that_comes_twice() {
    let text = "# asfound people\nformat: 1\npeople:\n- {id: ann, name: \"\", roles: [fitter]}\n\
                - {id: Ann, name: fitter two, roles: []}\n";
    let problems = read_people("people.yaml", text.as_bytes()).unwrap_err();
    let said = problems.to_string();
    assert!(said.contains("the id `Ann` a second time") && said.contains("`Ann` without a role"), "{said}");
    assert_eq!(problems.count(), 3, "{said}");
}
