//! What each kind of file makes of scalars and marks that other readers of the notation turn into something else: a text as
//! it was written, or a refusal; never silently something else.

use asfound::records::checklist_file::{WHOLE, read_whole};
use asfound::records::entry_file::entry_text;
use asfound::records::file::{Format, read, write};
use asfound::records::inspection_file::{head_text, open};
use asfound::records::instrument_file::{INSTRUMENT, read_instrument};
use asfound::records::people_file::{PEOPLE, read_people};
use asfound::records::rotor_file::{ROTOR, read_rotor};
use asfound::records::seal::chain_line;
use asfound::records::settings_file::{SETTINGS, read_settings};
use asfound::records::sheet_file::{SHEET, read_sheet};
use asfound::records::store::Store;
use asfound::records::yaml::{Node, Problems, What, parse};
use insta::assert_snapshot;

use super::samples::{RECORD, sample};

/// Scalars that readers of YAML 1.1 or 1.2 take for a truth, a number or nothing; then marks on a value.
const STRANGE: [&str; 11] = ["no", "on", "1e3", "0x10", "1_000", ".inf", "~", "*x", "!!str 5", "&x 5", "\"no\""];

/// What was read, as it is written back.
type Taken = Result<String, String>;

fn said(problems: &Problems) -> String {
    let first = problems.iter().next().unwrap();
    let expected: String = first.expected.chars().take(60).collect();
    format!("refused: {}; expected {expected}", first.found)
}

fn taken<T>(format: &Format<T>, bytes: &[u8], checked: Result<(), Problems>) -> Taken {
    checked.map_err(|problems| said(&problems))?;
    let value = read(format, "a.yaml", bytes).map_err(|problems| said(&problems))?;
    Ok(write(format, &value))
}

/// Every scalar of the text in its order, keys too.
fn texts(text: &str) -> Vec<String> {
    fn gather(node: &Node, out: &mut Vec<String>) {
        match &node.what {
            What::Text(text, _) => out.push(text.clone()),
            What::List(_, items) => items.iter().for_each(|item| gather(item, out)),
            What::Map(_, pairs) => {
                for (key, node) in pairs {
                    out.push(key.text.clone());
                    gather(node, out);
                }
            }
        }
    }
    let mut out = Vec::new();
    gather(&parse("a.yaml", text.as_bytes()).unwrap(), &mut out);
    out
}

/// What became of a spoilt text: refused, the same texts again, or the texts that went or came.
fn outcome(spoilt: &str, taken: &Taken) -> String {
    let written = match taken {
        Err(why) => return why.clone(),
        Ok(written) => texts(written),
    };
    let was = texts(spoilt);
    if written == was {
        return "as written".to_owned();
    }
    let left_out = |at: usize| was[at + 1] == "no" && [&was[..at], &was[at + 2..]].concat() == written;
    if (0..was.len() - 1).any(left_out) {
        return "the key left out, which says the same".to_owned();
    }
    let same = was.iter().zip(&written).take_while(|(one, other)| one == other).count();
    let around = |texts: &[String]| texts[same.saturating_sub(1)..texts.len().min(same + 2)].join(" | ");
    format!("SOMETHING ELSE: {} becomes {}", around(&was), around(&written))
}

/// `places`: a name, what stands there, and what stands there with `{}` in place of the value.
fn table(good: &str, places: &[(&str, &str, &str)], read: &dyn Fn(&str) -> Taken) -> String {
    assert_eq!(outcome(good, &read(good)), "as written");
    let mut lines = Vec::new();
    let mut tell = |what: &str, how: &str, spoilt: String| {
        assert_ne!(spoilt, good, "{what}, {how}: nothing was spoilt");
        lines.push(format!("{what:<12} {how:<10} {}", outcome(&spoilt, &read(&spoilt))));
    };
    for (what, there, with) in places {
        for strange in STRANGE {
            let spoilt = good.replacen(there, &with.replace("{}", strange), 1);
            if spoilt != good {
                tell(what, strange, spoilt);
            }
        }
    }
    let behind_format = |line: &str| good.replacen("format: 1\n", &format!("format: 1\n{line}\n"), 1);
    let own = good.lines().skip_while(|line| *line != "format: 1").nth(1).unwrap();
    tell("file", "key twice", behind_format(own));
    tell("file", "other key", behind_format("colour: blue"));
    tell("file", "<<", behind_format("<<: {colour: blue}"));
    tell("file", "tab", behind_format("\tcolour: blue"));
    tell("file", "!tag", good.replacen("format: 1\n", "format: !x 1\n", 1));
    tell("file", "format 0x1", good.replacen("format: 1\n", "format: 0x1\n", 1));
    tell("file", "two of it", format!("{good}---\n{good}"));
    for (how, spoilt) in [("BOM", format!("\u{feff}{good}")), ("CRLF", good.replace('\n', "\r\n"))] {
        // neither is part of any text: what is read is what stood there without it
        let taken = read(&spoilt);
        lines.push(format!("{:<12} {how:<10} {}", "file", outcome(good, &taken)));
    }
    for line in &lines {
        assert!(!line.contains("SOMETHING ELSE"), "{line}");
    }
    lines.join("\n")
}

fn good(name: &str) -> String {
    String::from_utf8(sample(name)).unwrap()
}

#[test]
fn a_key_twice_hides_nothing_else_that_is_wrong() {
    let spoilt = good("people.yaml").replace("format: 1\n", "format: 1\ncolour: blue\ncolour: red\n");
    let spoilt = format!("{spoilt}- {{id: \"a b\", name: [], roles: [fitter], roles: [fitter]}}\n");
    let problems = read_people("people.yaml", spoilt.as_bytes()).unwrap_err();
    let found: Vec<_> = problems.iter().map(|problem| problem.found.as_str()).collect();
    let all = ["not known here", "`colour` a second time", "a b", "a list", "`roles` a second time"];
    for (found, wanted) in found.iter().zip(all) {
        assert!(found.contains(wanted), "{wanted}: {found:?}\n{problems}");
    }
    assert_eq!(found.len(), all.len(), "{problems}");
}

#[test]
fn settings() {
    let places = [
        ("text", "photos: /home/bench/Pictures", "photos: {}"),
        ("count", "break hours: 4", "break hours: {}"),
        ("word", "decimal mark: comma", "decimal mark: {}"),
    ];
    let read = |text: &str| taken(&SETTINGS, text.as_bytes(), read_settings("a.yaml", text.as_bytes()).map(drop));
    assert_snapshot!(table(&good("settings.yaml"), &places, &read));
}

#[test]
fn people() {
    let places = [
        ("text", "name: fitter C", "name: {}"),
        ("id", "id: fitter-c", "id: {}"),
        ("word", "roles: [fitter, trainee]", "roles: [{}]"),
        ("key", "keys: [", "keys: [{}, "),
    ];
    let read = |text: &str| taken(&PEOPLE, text.as_bytes(), read_people("a.yaml", text.as_bytes()).map(drop));
    assert_snapshot!(table(&good("people.yaml"), &places, &read));
}

#[test]
fn instrument() {
    let places = [
        ("text", "remark: The small hand counts the turns.", "remark: {}"),
        ("figure", "resolution: 0.002 mm", "resolution: {}"),
        ("in figure", "turn: 0.200 mm", "turn: {} mm"),
        ("count", "dof: 20", "dof: {}"),
        ("day", "due: 2031-12-03", "due: {}"),
    ];
    let read = |text: &str| taken(&INSTRUMENT, text.as_bytes(), read_instrument("a.yaml", text.as_bytes()).map(drop));
    assert_snapshot!(table(&good("instruments/D2.yaml"), &places, &read));
}

#[test]
fn sheet() {
    let places = [
        ("text", "part number: INV-420-P03", "part number: {}"),
        ("figure", "alert: {at or above: 0.210 mm", "alert: {at or above: {}"),
        ("in figure", "alert: {at or above: 0.210 mm", "alert: {at or above: {} mm"),
        ("decimal", "factor: 1.65", "factor: {}"),
        ("word", "leads to: replace, rule", "leads to: {}, rule"),
    ];
    let read = |text: &str| taken(&SHEET, text.as_bytes(), read_sheet("a.yaml", text.as_bytes()).map(drop));
    assert_snapshot!(table(&good("sheets/INV-420.yaml"), &places, &read));
}

#[test]
fn checklist() {
    let places = [
        ("text", "title: soak the bush", "title: {}"),
        ("count", "version: 1", "version: {}"),
        ("in figure", "soak: {from: 20 min", "soak: {from: {} min"),
        ("flag", "    crack: yes", "    crack: {}"),
        ("step", "needs: [safe/points]", "needs: [{}]"),
    ];
    let read = |text: &str| taken(&WHOLE, text.as_bytes(), read_whole("a.yaml", text.as_bytes()).map(drop));
    assert_snapshot!(table(&good("checklists/short.yaml"), &places, &read));
}

#[test]
fn rotor() {
    let places = [
        ("text", "serial: INV-420-0017", "serial: {}"),
        ("id", "machine: INV-420\n", "machine: {}\n"),
        ("in figure", "hours: 0 h", "hours: {} h"),
        ("flag", "invented: yes", "invented: {}"),
    ];
    let read = |text: &str| taken(&ROTOR, text.as_bytes(), read_rotor("a.yaml", text.as_bytes()).map(drop));
    assert_snapshot!(table(&good("rotors/DEMO-1/rotor.yaml"), &places, &read));
}

#[test]
fn inspection() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("a.yaml");
    let read = |text: &str| {
        std::fs::write(&path, text).unwrap();
        let opened = open(&path).map_err(|problems| said(&problems))?;
        let inspection = &opened.inspection;
        let mut written = head_text(inspection.head());
        for (entry, chain) in inspection.entries().iter().zip(&opened.chains) {
            written.push_str(&entry_text(entry));
            written.push_str(&chain_line(chain));
        }
        Ok(written)
    };
    let places = [
        ("text", "plant: Power house of an invented island, set 2", "plant: {}"),
        ("typed", "typed: \".034\"", "typed: {}"),
        ("figure", "taken: 0.034 mm", "taken: {}"),
        ("in figure", "taken: 0.034 mm", "taken: {} mm"),
        ("number", "strikes: 12", "strikes: {}"),
        ("moment", "begun: \"2031-04-17T07:02:00+02:00\"", "begun: {}"),
        ("word", "kind: looked", "kind: {}"),
        ("reason", "reason: wrong place", "reason: {}"),
        ("place", "place: inner 90", "place: {}"),
    ];
    assert_snapshot!(table(&good(RECORD), &places, &read));
}

#[test]
fn draft() {
    const DRAFT: &str = "\
# asfound draft: what is not entered yet
format: 1
step: bush.ts/clearance
place: inner 0 / 3 / up
typed:
- step: bush.ts/clearance
  place: inner 0 / 3 / up
  text: 0.23
form:
  way: [more]
  at: 1
  answers: [first]
";
    let folder = tempfile::tempdir().unwrap();
    let (store, record) = (Store::at(folder.path()), folder.path().join("a.yaml"));
    let path = store.folder_of(&record).join("draft.yaml");
    std::fs::create_dir_all(path.parent().unwrap()).unwrap();
    let read = |text: &str| {
        std::fs::write(&path, text).unwrap();
        // a draft that cannot be read is none: the record goes on without it
        let draft = store.draft(&record).ok_or_else(|| "refused: no draft".to_owned())?;
        store.keep_draft(&record, &draft).unwrap();
        Ok(std::fs::read_to_string(&path).unwrap())
    };
    let places = [
        ("typed", "text: 0.23", "text: {}"),
        ("place", "\nplace: inner 0 / 3 / up", "\nplace: {}"),
        ("count", "at: 1", "at: {}"),
        ("answer", "answers: [first]", "answers: [{}]"),
    ];
    assert_snapshot!(table(DRAFT, &places, &read));
}

#[test]
fn a_slip_in_a_key_is_told_with_the_key_that_is_meant() {
    let problems = read_settings("settings.yaml", b"fromat: 1\ndecimal: comma\n").unwrap_err().to_string();
    for meant in ["Did you mean `format`?", "Did you mean `decimal mark`?"] {
        assert!(problems.contains(meant), "{problems}");
    }
}

/// No other key says what the settings are: their name does.
#[test]
fn a_slip_in_the_only_key_of_the_settings_is_named() {
    let folder = tempfile::TempDir::new().unwrap();
    let path = folder.path().join("settings.yaml");
    for (line, meant) in
        [("decimal marc: comma", "decimal mark"), ("brake hours: 4", "break hours"), ("foto: x", "photos")]
    {
        std::fs::write(&path, format!("format: 1\n{line}\n")).unwrap();
        let problems = asfound::records::check::check_files(std::slice::from_ref(&path)).problems.to_string();
        let slip = line.split(':').next().unwrap_or_default();
        assert!(problems.contains(&format!("the key `{slip}`, not known here")), "{problems}");
        assert!(problems.contains(meant) && !problems.contains("says what the file is"), "{problems}");
    }
}
