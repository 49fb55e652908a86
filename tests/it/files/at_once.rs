//! All faults of a file are told in one round, in its own keys and deep below them: mended one after the other, none comes up
//! that was not told the first time, and none was made up.

use asfound::records::checklist_file::{join, read_whole};
use asfound::records::instrument_file::read_instrument;
use asfound::records::people_file::read_people;
use asfound::records::rotor_file::read_rotor;
use asfound::records::settings_file::read_settings;
use asfound::records::sheet_file::read_sheet;
use asfound::records::yaml::{Key, Node, Problems, What, emit, parse};

use super::samples::{RECORD, sample};

type Changes<'a> = &'a [(&'a str, &'a str)];

fn with(name: &str, changes: Changes<'_>) -> String {
    let text = String::from_utf8(sample(name)).unwrap();
    changes.iter().fold(text, |text, (from, to)| {
        assert!(text.contains(from), "{name} has no `{from}`");
        text.replacen(from, to, 1)
    })
}

/// What is told of all changes at once is what is told of each alone.
fn each_told<T>(name: &str, read: impl Fn(&str, &[u8]) -> Result<T, Problems>, changes: Changes<'_>) {
    let told = |changes: Changes<'_>| -> Vec<String> {
        let text = with(name, changes);
        let Err(problems) = read("a.yaml", text.as_bytes()) else { panic!("{changes:?} is taken") };
        for one in &problems {
            assert!(one.at.line > 0 && one.at.column > 0, "{one}");
            assert!(![&one.found, &one.expected, &one.mend].iter().any(|words| words.is_empty()), "{one}");
        }
        problems.iter().map(|one| one.found.clone()).collect()
    };
    let mut all = told(changes);
    let mut apart: Vec<_> = changes.iter().flat_map(|one| told(std::slice::from_ref(one))).collect();
    all.sort();
    apart.sort();
    assert_eq!(all, apart, "{name}");
    assert!(all.len() >= changes.len(), "{name}: {all:?}");
}

#[test]
fn of_a_checklist() {
    each_told(
        "checklists/short.yaml",
        read_whole,
        &[
            ("checklist: short\n", ""),
            ("version: 1", "version: 1e3"),
            ("  name: Bush, turbine side\n", ""),
            ("rotates: no", "rotates: off"),
            ("obliges: [bush.ts/clearance]", "obliges: [bush.ts/clearence]"),
            ("  title: soak the bush\n", ""),
            ("soak: {from: 20 min", "soak: {from: 20 mm"),
            ("needs: [bush.ts/cleaning]", "needs: [bush.ts/cleening]"),
            ("takes: readings", "takes: redings"),
            ("repeats: 3", "repeats: 0"),
            ("reckoning: lift/1", "reckoning: lift/9"),
            ("phase: decide", "phase: decyde"),
            ("crack: yes", "crack: on"),
            ("takes: close", "takes: close\n  colour: red"),
        ],
    );
}

#[test]
fn of_an_order_and_its_groups() {
    let order = "# asfound checklist\nformat: 1\nchecklist: own\nversion: two\ngroups: [one]\n";
    let group = "# asfound checklist group\nformat: 1\nparts:\n- part: safe\n  name: Safe\n  short: safe\n  rotates: perhaps\n\
                 steps:\n- step: safe/points\n  part: sefe\n  phase: safe\n  title: points\n  takes: tick\n";
    let group = |_: &_| Some(("one.yaml".to_owned(), group.as_bytes().to_vec()));
    let problems = join(("own.order.yaml", order.as_bytes()), group).unwrap_err().to_string();
    for told in ["no key `title`", "`two`", "no key `group`", "`perhaps`", "no caution", "takes `decisions`"] {
        assert!(problems.contains(told), "{told}:\n{problems}");
    }
}

#[test]
fn of_a_sheet() {
    each_told(
        "sheets/INV-420.yaml",
        read_sheet,
        &[
            ("sheet: INV-420\n", ""),
            ("origin: maker", "origin: makr"),
            ("manual: {title: INV-420 manual (invented), edition: \"3\"}\n", ""),
            ("entered by: [fitter-a, supervisor-b]", "entered by: [fitter-a, fitter-a]"),
            ("figure: 12.00 mm", "figure: 12.00 h"),
            ("alert: {at or above: 0.210 mm", "alert: {at or above: 0.230 mm"),
            ("limit: {at or above: 1.60 mm, leads to: replace", "limit: {at or above: 1.60 mm, leads to: replase"),
            ("up to: 80 mm, figure", "up to: 79 mm, figure"),
        ],
    );
}

#[test]
fn of_an_instrument() {
    each_told(
        "instruments/D2.yaml",
        read_instrument,
        &[
            ("instrument: D2\n", ""),
            ("kind: dial gauge", "kind: dail gauge"),
            ("resolution: 0.002 mm", "resolution: 0.002 bar"),
            ("piece: 0.500 mm", "piece: 5.0 mm"),
            ("dof: 20", "dof: 2e1"),
            ("due: 2030-12-10", "due: 2029-12-09"),
            ("invented: yes", "invented: yes\nowner: nobody"),
        ],
    );
}

#[test]
fn of_people() {
    each_told(
        "people.yaml",
        read_people,
        &[
            ("format: 1\n", ""),
            ("id: fitter-c", "id: FITTER-A"),
            ("roles: [supervisor]", "roles: [supervizor]"),
            ("name: fitter A, roles: [fitter]", "name: \"\", roles: []"),
        ],
    );
}

#[test]
fn of_a_rotor() {
    let line = "- {part: bush.ts, serial: INV-B-204, hours: 0 h, machine: 24110 h}\n";
    let twice = format!("{line}{line}- {{part: nozzle, hours: 0 mm, machine: 1 h}}\n");
    each_told(
        "rotors/DEMO-1/rotor.yaml",
        read_rotor,
        &[("rotor: DEMO-1\n", ""), ("serial: INV-420-0017", "serial: "), (line, &twice)],
    );
}

#[test]
fn of_settings() {
    let changes = [("format: 1\n", ""), ("decimal mark: comma", "decimal mark: coma"), ("paper: A4", "papr: A4")];
    each_told("settings.yaml", read_settings, &changes);
}

#[test]
fn of_a_record() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("a.yaml");
    let read = |_: &str, bytes: &[u8]| {
        std::fs::write(&path, bytes).unwrap();
        asfound::records::inspection_file::open(&path).map(drop)
    };
    each_told(
        RECORD,
        read,
        &[
            ("begun: \"2031-04-17T07:02:00+02:00\"\n", ""),
            ("by: fitter-a", "by: fitter a"),
            ("serial: INV-420-0017\n", "serail: INV-420-0017\n  serial: INV-420-0017\n"),
            ("  version: 1\n", ""),
            ("invented: yes\nprevious", "invented: yes\npractice: yes\nprevious"),
            ("repeats: 3", "repeats: three"),
            ("kind: looked", "kind: loked"),
        ],
    );
}

/// Every mapping of a tree, by the numbers of its branches.
fn mappings(node: &Node, way: &mut Vec<usize>, out: &mut Vec<Vec<usize>>) {
    let below: Vec<&Node> = match &node.what {
        What::Text(..) => return,
        What::List(_, items) => items.iter().collect(),
        What::Map(_, pairs) => {
            out.push(way.clone());
            pairs.iter().map(|(_, value)| value).collect()
        }
    };
    for (number, node) in below.into_iter().enumerate() {
        way.push(number);
        mappings(node, way, out);
        way.pop();
    }
}

fn mapping<'a>(node: &'a mut Node, way: &[usize]) -> &'a mut Vec<(Key, Node)> {
    match (&mut node.what, way) {
        (What::Map(_, pairs), []) => pairs,
        (What::Map(_, pairs), [first, rest @ ..]) => mapping(&mut pairs[*first].1, rest),
        (What::List(_, items), [first, rest @ ..]) => mapping(&mut items[*first], rest),
        (What::Text(..) | What::List(..), _) => panic!("no mapping there"),
    }
}

/// Of two keys that one mapping lacks, each is told, wherever that is; how many pairs were tried.
fn both_told<T>(name: &str, read: impl Fn(&str, &[u8]) -> Result<T, Problems>) -> usize {
    let tree = parse(name, &sample(name)).unwrap();
    let told = |way: &[usize], without: &[usize]| -> Vec<String> {
        let mut tree = tree.clone();
        let pairs = mapping(&mut tree, way);
        let mut number = 0;
        pairs.retain(|_| {
            number += 1;
            !without.contains(&(number - 1))
        });
        let Err(problems) = read("a.yaml", emit(&tree).as_bytes()) else { return vec![] };
        problems.iter().map(|one| one.found.clone()).filter(|found| found.starts_with("no key")).collect()
    };
    let mut ways = Vec::new();
    mappings(&tree, &mut vec![], &mut ways);
    let mut pairs = 0;
    for way in ways {
        let keys: Vec<String> = mapping(&mut tree.clone(), &way).iter().map(|(key, _)| key.text.clone()).collect();
        let told_alone = |number: &usize| told(&way, &[*number]).contains(&format!("no key `{}`", keys[*number]));
        // a mapping that loses all it has is no mapping any more
        let is_needed = |number: &usize| keys.len() > 2 && told_alone(number);
        let needed: Vec<usize> = (0..keys.len()).filter(is_needed).collect();
        for (at, one) in needed.iter().enumerate() {
            for other in &needed[at + 1..] {
                // which keys a step has is known only by what it takes
                if keys[*one] == "takes" {
                    continue;
                }
                let both = told(&way, &[*one, *other]);
                for lost in [one, other] {
                    assert!(both.contains(&format!("no key `{}`", keys[*lost])), "{name} {way:?}: {both:?}");
                }
                pairs += 1;
            }
        }
    }
    pairs
}

#[test]
fn two_missing_keys_of_one_mapping_are_both_told() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("a.yaml");
    let read_record = |_: &str, bytes: &[u8]| {
        std::fs::write(&path, bytes).unwrap();
        asfound::records::inspection_file::open(&path).map(drop)
    };
    let pairs = [
        both_told("people.yaml", read_people),
        both_told("rotors/DEMO-1/rotor.yaml", read_rotor),
        both_told("instruments/D2.yaml", read_instrument),
        both_told("sheets/INV-420.yaml", read_sheet),
        both_told("checklists/short.yaml", read_whole),
        both_told(RECORD, read_record),
    ];
    assert!(pairs.iter().all(|pairs| *pairs > 0), "{pairs:?}");
}
