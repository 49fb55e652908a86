//! The schemas in assets/schemas: as the readers' descriptions tell them, and of one mind with the readers.
//!
//! The schemas are judged by a validator that is not ours (the library `jsonschema`).

use asfound::domain::characteristic::{Characteristic, Given};
use asfound::domain::figure::Figure;
use asfound::domain::unit::Unit;
use asfound::records::checklist_file::{GROUP, ORDER, WHOLE};
use asfound::records::file::{Format, read};
use asfound::records::instrument_file::{INSTRUMENT, read_instrument};
use asfound::records::people_file::PEOPLE;
use asfound::records::rotor_file::ROTOR;
use asfound::records::schema::{schemas, text};
use asfound::records::settings_file::SETTINGS;
use asfound::records::sheet_file::SHEET;
use asfound::records::yaml::{Key, Layout, Node, Quoting, What, emit, parse};
use proptest::prelude::*;
use proptest::test_runner::{Config, TestRunner};
use serde_json::{Value, json};

use super::samples::{RECORD, sample};
use crate::sources;

#[test]
fn the_schemas_kept_are_those_of_the_readers() {
    for (name, schema) in schemas() {
        let path = sources::root().join(format!("assets/schemas/{name}.json"));
        let made = text(&schema);
        if std::env::var_os("REWRITE_DOCS").is_some() {
            std::fs::create_dir_all(path.parent().unwrap()).unwrap();
            std::fs::write(&path, &made).unwrap();
        }
        let kept = std::fs::read_to_string(&path).unwrap_or_default();
        assert!(kept == made, "assets/schemas/{name}.json differs: REWRITE_DOCS=1 cargo test --test it schemas_kept");
    }
}

#[test]
fn a_schema_says_each_thing_once_so_that_a_person_can_read_it() {
    for (name, schema) in schemas() {
        let page = text(&schema);
        assert_eq!(serde_json::from_str::<Value>(&page).unwrap(), schema, "{name}");
        // a sheet's names everything that can be measured, and in what
        let most = match name {
            "inspection" => 74_000,
            "sheet" => 28_000,
            _ => 20_000,
        };
        assert!(page.len() < most, "{name} has {} bytes", page.len());
        for (key, definition) in schema["definitions"].as_object().into_iter().flatten() {
            let named = page.matches(&format!("\"#/definitions/{key}\"")).count();
            assert!(named > 1, "{name}: {key} is named {named} times: {definition}");
        }
    }
}

/// Every scalar is a text, as our reader sees it.
fn value(node: &Node) -> Value {
    match &node.what {
        What::Text(text, _) => json!(text),
        What::List(_, items) => items.iter().map(value).collect(),
        What::Map(_, pairs) => Value::Object(pairs.iter().map(|(key, node)| (key.text.clone(), value(node))).collect()),
    }
}

fn schema_of(name: &str) -> jsonschema::Validator {
    let (_, schema) = schemas().into_iter().find(|(known, _)| *known == name).unwrap();
    jsonschema::draft7::new(&schema).unwrap()
}

#[test]
fn the_sample_record_is_as_its_schema_says_and_a_wrong_word_is_not() {
    let schema = schema_of("inspection");
    let bytes = sample(RECORD);
    let whole = value(&parse(RECORD, &bytes).unwrap());
    let faults: Vec<_> = schema.iter_errors(&whole).map(|fault| fault.to_string()).collect();
    assert!(faults.is_empty(), "{faults:?}");
    for (wrong, by) in [("kind: tick\n", "kind: tack\n"), ("  taken:", "  token:"), ("\nbegun:", "\nbegan:")] {
        let text = String::from_utf8(bytes.clone()).unwrap().replacen(wrong, by, 1);
        let whole = value(&parse(RECORD, text.as_bytes()).unwrap());
        assert!(!schema.is_valid(&whole), "{by} passes");
    }
}

/// Reader and schema over one changed value: both take it, or neither does.
#[test]
fn what_a_figure_a_day_and_a_name_look_like_is_of_one_mind_with_the_readers() {
    let takes = |kind: &str, name: &str, bytes: &[u8]| match kind {
        "instrument" => read_instrument(name, bytes).is_ok(),
        "sheet" => read(&SHEET, name, bytes).is_ok(),
        _ => read(&ROTOR, name, bytes).is_ok(),
    };
    let file_of = |kind: &str| match kind {
        "instrument" => "instruments/D2.yaml",
        "sheet" => "sheets/INV-420.yaml",
        _ => "rotors/DEMO-1/rotor.yaml",
    };
    let rows = [
        ("instrument", "resolution: 0.002 mm", "resolution: banana", false),
        ("instrument", "resolution: 0.002 mm", "resolution: .002 mm", true),
        ("instrument", "resolution: 0.002 mm", "resolution: 0,002 mm", true),
        ("instrument", "resolution: 0.002 mm", "resolution: about 0.002 mm", false),
        ("instrument", "date: 2029-12-10", "date: 10.12.2029", false),
        ("instrument", "date: 2029-12-10", "date: 2029-12-09", true),
        ("instrument", "instrument: D2", "instrument: D 2!", false),
        ("instrument", "instrument: D2", "instrument: d_2.b-1", true),
        ("instrument", "dof: 20", "dof: twenty", false),
        ("instrument", "dof: 20", "dof: 0", false),
        ("instrument", "dof: 20", "dof: 1", true),
        ("instrument", "prefix: \"A\"", "prefix: \"Ax\"", true),
        ("instrument", "prefix: \"A\"", "prefix: \"1\"", false),
        ("instrument", "prefix: \"A\"", "prefix: \"-\"", false),
        ("instrument", "prefix: \"A\"", "prefix: \"A,\"", false),
        ("instrument", "k: 2,", "k: two,", false),
        ("sheet", "above: 0.220 mm", "above: plenty", false),
        ("sheet", "figure: 60 mm", "figure: -60 mm", true),
        ("rotor", "machine: INV-420", "machine: INV 420", false),
        ("rotor", "hours: 0 h", "hours: many", false),
        ("rotor", "hours: 0 h", "hours: 0 mm", false),
        ("rotor", "hours: 0 h", "hours: 12 000 h", false),
        ("rotor", "hours: 0 h", "hours: 7 d", true),
        ("instrument", "resolution: 0.002 mm", "resolution: 0.002 furlong", false),
        ("instrument", "resolution: 0.002 mm", "resolution: 0.1 thou", true),
        ("sheet", "source: \"INV-420 manual (invented), edition 3, table 1 line 7\"", "source: \"  \"", false),
        ("sheet", "leads to: replace", "leads to: \"\"", false),
    ];
    for (kind, from, to, good) in rows {
        let file = file_of(kind);
        let text = String::from_utf8(sample(file)).unwrap();
        assert!(text.contains(from), "{file} has no `{from}`");
        let text = text.replacen(from, to, 1);
        assert_eq!(takes(kind, file, text.as_bytes()), good, "the reader of `{to}`");
        let whole = value(&parse(file, text.as_bytes()).unwrap());
        assert_eq!(schema_of(kind).is_valid(&whole), good, "the schema of `{to}`");
    }
}

/// How a good file is spoilt.
#[derive(Debug, Clone, Copy)]
enum Spoil {
    Drop,
    Rename,
    /// To a key with which it may not stand, or in whose place.
    Swap,
    Scalar,
    List,
    Mapping,
    Empty,
    Word,
    OtherTakes,
}

/// Keys that hold a word of a closed list, in every file kind.
const WORDS: [&str; 10] =
    ["origin", "phase", "takes", "leads to", "rule", "characteristic", "size", "decimal mark", "paper", "rotates"];

/// Keys that stand for each other or against each other, and take the same values.
const SWAPS: [(&str, &str); 6] = [
    ("above", "at or below"),
    ("at or above", "above"),
    ("below", "at or above"),
    ("at or below", "below"),
    ("new", "alert"),
    ("alert", "new"),
];

/// Spoils the value at the `at`-th key of the tree; whether both must agree on it.
fn spoil(node: &mut Node, at: &mut usize, how: Spoil) -> Option<bool> {
    match &mut node.what {
        What::Text(..) => None,
        What::List(_, items) => items.iter_mut().find_map(|item| spoil(item, at, how)),
        What::Map(_, pairs) => {
            for place in 0..pairs.len() {
                if *at == 0 {
                    return Some(spoil_pair(pairs, place, how));
                }
                *at -= 1;
                if let Some(done) = spoil(&mut pairs[place].1, at, how) {
                    return Some(done);
                }
            }
            None
        }
    }
}

fn spoil_pair(pairs: &mut Vec<(Key, Node)>, place: usize, how: Spoil) -> bool {
    let (key, node) = &mut pairs[place];
    let was_text = node.as_text().is_some();
    match how {
        Spoil::Drop => drop(pairs.remove(place)),
        Spoil::Rename => key.text.push('x'),
        Spoil::Swap => {
            let other = SWAPS.iter().find(|(one, _)| *one == key.text).map(|(_, other)| (*other).to_owned());
            key.text = other.unwrap_or_else(|| format!("x{}", key.text));
        }
        Spoil::List => *node = Node::new(What::List(Layout::Flow, vec![Node::text("zzz", Quoting::Bare)])),
        Spoil::Mapping => {
            node.what = What::Map(Layout::Flow, vec![(Key::new("zzz"), Node::text("zzz", Quoting::Bare))]);
        }
        Spoil::Empty => {
            if let What::List(_, items) = &mut node.what {
                items.clear();
            }
        }
        Spoil::OtherTakes => {
            if key.text == "takes" {
                *node = Node::text("soak", Quoting::Bare);
            }
        }
        Spoil::Scalar | Spoil::Word => {
            let enumerated = WORDS.contains(&key.text.as_str()) && was_text;
            // in place of a table by size a figure may stand
            let bound = ["above", "at or above", "below", "at or below"].contains(&key.text.as_str());
            // a scalar made a list or a mapping and then emptied is no list or mapping of the good file, which has no empty one
            let emptied = match &node.what {
                What::Text(..) => false,
                What::List(_, items) => items.is_empty(),
                What::Map(_, pairs) => pairs.is_empty(),
            };
            let spoilt_before = emptied || value(node).to_string().contains("zzz");
            *node = Node::text("zzz", Quoting::Bare);
            // what a figure or a day looks like is the reader's alone
            return enumerated || !was_text && !bound && !spoilt_before;
        }
    }
    // a list of scalars, or keys that the writer chooses, may hold what only the reader can judge
    !matches!(how, Spoil::Mapping | Spoil::List) || was_text
}

fn keys_in(node: &Node) -> usize {
    match &node.what {
        What::Text(..) => 0,
        What::List(_, items) => items.iter().map(keys_in).sum(),
        What::Map(_, pairs) => pairs.iter().map(|(_, node)| 1 + keys_in(node)).sum(),
    }
}

fn agree<T: std::fmt::Debug>(kind: &str, format: &Format<T>, bytes: &[u8]) {
    let schema = schema_of(kind);
    let good = parse(kind, bytes).unwrap();
    assert!(schema.is_valid(&value(&good)), "{kind}");
    let hows = prop_oneof![
        Just(Spoil::Drop),
        Just(Spoil::Rename),
        Just(Spoil::Swap),
        Just(Spoil::Scalar),
        Just(Spoil::List),
        Just(Spoil::Mapping),
        Just(Spoil::Empty),
        Just(Spoil::Word),
        Just(Spoil::OtherTakes),
    ];
    let mut runner = TestRunner::new(Config { cases: 600, failure_persistence: None, ..Config::default() });
    let spoils = prop::collection::vec((0..keys_in(&good), hows), 1..4);
    let run = runner.run(&spoils, |spoils| {
        let mut spoilt = good.clone();
        let both = spoils.iter().filter_map(|(at, how)| spoil(&mut spoilt, &mut at.clone(), *how)).all(|both| both);
        let text = emit(&spoilt);
        // two keys of one name are the notation's to refuse
        let Ok(tree) = parse(kind, text.as_bytes()) else { return Ok(()) };
        let reader = read(format, kind, text.as_bytes());
        let allowed = schema.is_valid(&value(&tree));
        prop_assert!(allowed || reader.is_err(), "{spoils:?}: the schema refuses, the reader takes\n{text}");
        prop_assert!(!both || reader.is_ok() || !allowed, "{spoils:?}: {}\n{text}", reader.unwrap_err());
        Ok(())
    });
    run.unwrap_or_else(|fault| panic!("{kind}: {fault}"));
}

/// Every way to give the rows of a grid and the bounds of a level: rules between keys are met and broken often.
const LEVELS: &str = "\
format: 1
sheet: INV-9
origin: owner
manual: {title: invented, edition: \"1\"}
levels:
- characteristic: bush.ts.clearance
  limit: {above: 0.220 mm, below: 0.130 mm, leads to: replace, rule: guarded, factor: 1.65, source: a}
- characteristic: shaft.ts.step
  new: {at or below: 0.1 mm, source: a}
  alert: {at or above: {size: journal.diameter, bands: [{over: 50 mm, up to: 80 mm, figure: 0.02 mm}]}, source: a}
";
const GRIDS: &str = "\
format: 1
group: a
parts:
- part: a
  name: a
  short: a
  rotates: no
  findings:
  - {kind: dent, grades: {smooth: refer, sharp: [replace, refer]}}
steps:
- step: a/b
  part: a
  phase: measure
  title: b
  takes: readings
  grid: {unit: mm, gauge: dial gauge, places: [a, b]}
  judges:
  - {characteristic: bush.ts.clearance, reckoning: lift/1}
- step: a/c
  part: a
  phase: measure
  title: c
  takes: readings
  grid: {unit: mm, gauge: dial gauge, blocks: [{rows: [a]}]}
- step: a/d
  part: a
  phase: safe
  title: d
  takes: points
  points:
  - {point: a, text: b}
- step: a/e
  part: a
  phase: clean
  title: e
  takes: soak
  soak: {from: 2 h}
";

#[test]
fn a_schema_and_its_reader_agree_on_keys_and_words() {
    agree("settings", &SETTINGS, &sample("settings.yaml"));
    agree("people", &PEOPLE, &sample("people.yaml"));
    agree("instrument", &INSTRUMENT, &sample("instruments/D2.yaml"));
    agree("sheet", &SHEET, &sample("sheets/INV-420.yaml"));
    agree("checklist", &WHOLE, &sample("checklists/short.yaml"));
    agree("checklist-group", &GROUP, &sample("groups/pin.yaml"));
    agree("checklist-order", &ORDER, &sample("groups/pin.order.yaml"));
    agree("sheet", &SHEET, LEVELS.as_bytes());
    agree("checklist-group", &GROUP, GRIDS.as_bytes());
    agree("rotor", &ROTOR, &sample("rotors/DEMO-1/rotor.yaml"));
}

/// What a characteristic or a figure of the machine measures, the schema of a sheet knows, and marks any other unit.
#[test]
fn a_figure_of_a_sheet_is_in_a_unit_of_what_it_measures() {
    let schema = schema_of("sheet");
    let head = "format: 1\nsheet: INV-9\norigin: owner\nmanual: {title: invented, edition: \"1\"}\n";
    let is_valid = |rest: &str| schema.is_valid(&value(&parse("a", format!("{head}{rest}").as_bytes()).unwrap()));
    let band =
        |figure: &str| format!("{{size: journal.diameter, bands: [{{over: 5 mm, up to: 8 mm, figure: {figure}}}]}}");
    for unit in Unit::all() {
        let figure = Figure::new(2.into(), unit).to_string();
        for one in Characteristic::all() {
            let suits = unit.dimension() == one.dimension();
            for (which, word) in
                [("new", "at or below"), ("alert", "above"), ("limit", "at or above"), ("limit", "below")]
            {
                for amount in [figure.clone(), band(&figure)] {
                    let rest = "leads to: rework, source: a";
                    let line =
                        format!("levels:\n- characteristic: {}\n  {which}: {{{word}: {amount}, {rest}}}\n", one.id());
                    assert_eq!(is_valid(&line), suits, "{line}");
                }
            }
        }
        for one in Given::all() {
            let line = format!("given:\n- {{name: {}, figure: {figure}, source: a}}\n", one.name());
            assert_eq!(is_valid(&line), unit.dimension() == one.unit().dimension(), "{line}");
        }
    }
    // what an editor takes for a number has no unit
    let typed = |figure: Value| {
        let level = json!({"characteristic": "bush.ts.clearance", "limit": {"above": figure, "leads to": "replace", "source": "a"}});
        let manual = json!({"title": "a", "edition": "1"});
        schema.is_valid(&json!({"format": 1, "sheet": "INV-9", "origin": "owner", "manual": manual, "levels": [level]}))
    };
    assert!(typed(json!("9 thou")) && !typed(json!(0.22)) && !typed(json!("0.22")) && !typed(json!("0.22 bar")));
}
