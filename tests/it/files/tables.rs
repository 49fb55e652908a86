//! Limits sheets as tables: the way out and back, what spreadsheets do to them, every fault with its cell.

use std::path::Path;

use asfound::domain::characteristic::{Characteristic, Given};
use asfound::domain::figure::Figure;
use asfound::domain::judge::Side;
use asfound::domain::sheet::{Amount, Band, Bound, GivenFigure, Level, Levels, Origin, Rule, Sheet, Touching};
use asfound::domain::unit::Unit;
use asfound::domain::verdict::Consequence;
use asfound::records::settings_file::DecimalMark;
use asfound::records::sheet_file::{SHEET, read_sheet};
use asfound::records::sheet_table::{changes, read_table, write_table};
use asfound::records::store::Store;
use assert_cmd::Command;
use proptest::prelude::*;
use tempfile::TempDir;

const DEMO: &str = include_str!("../../../assets/demo/INV-420.yaml");

fn demo() -> Sheet {
    read_sheet("INV-420.yaml", DEMO.as_bytes()).unwrap()
}

/// The faults of a table, each as `line:column found | mend`.
fn faults(table: &str) -> Vec<String> {
    let problems = read_table("t.csv", table.as_bytes()).expect_err("taken");
    problems.iter().map(|one| format!("{}:{} {} | {}", one.at.line, one.at.column, one.found, one.mend)).collect()
}

fn asfound(folder: &Path, words: &[&str], typed: &str) -> (i32, String, String) {
    let mut command = Command::cargo_bin("asfound").unwrap();
    let output = command.arg("--data").arg(folder).args(words).write_stdin(typed).output().unwrap();
    let text = |bytes: &[u8]| String::from_utf8(bytes.to_vec()).unwrap();
    (output.status.code().unwrap(), text(&output.stdout), text(&output.stderr))
}

#[test]
fn the_demonstrations_sheet_comes_back_as_it_went() {
    for mark in [DecimalMark::Point, DecimalMark::Comma] {
        let table = write_table(&demo(), mark);
        assert_eq!(read_table("t.csv", table.as_bytes()).unwrap(), demo());
    }
}

#[test]
fn a_table_lists_every_level_that_can_be_judged_and_empty_rows_come_back_as_none() {
    let bare = || {
        let table = SMALL.lines().filter(|line| !line.starts_with("limit")).collect::<Vec<_>>().join("\n");
        read_table("t.csv", table.as_bytes()).unwrap()
    };
    for (mark, separator) in [(DecimalMark::Point, ','), (DecimalMark::Comma, ';')] {
        for sheet in [bare(), demo()] {
            let table = write_table(&sheet, mark);
            for one in Characteristic::all() {
                for level in ["new", "alert", "limit"] {
                    let begins = format!("{level}{separator}{}{separator}", one.id());
                    let is_there = table.lines().any(|line| line.starts_with(&begins));
                    assert_eq!(is_there, !sheet.absent.contains_key(&one), "{begins}");
                }
            }
            assert_eq!(read_table("t.csv", table.as_bytes()), Ok(sheet));
        }
        // a row filled in by hand, with that mark
        let empty = format!("limit{separator}shaft.ts.step{}", String::from(separator).repeat(13));
        let figure = if separator == ';' { "0,022 mm" } else { "0.022 mm" };
        let cells = ["limit", "shaft.ts.step", "", figure, "", "", "", "", "", "", "refer", "", "", "page 3", ""];
        let table = write_table(&bare(), mark);
        assert!(table.contains(&empty), "{table}");
        let filled = table.replace(&empty, &cells.join(&separator.to_string()));
        let limit = read_table("t.csv", filled.as_bytes()).unwrap().levels;
        let limit = limit[&Characteristic::parse("shaft.ts.step").unwrap()].limit.clone().unwrap();
        assert_eq!(limit.upper().unwrap().amount, Amount::Fixed("0.022 mm".parse().unwrap()));
    }
    let misspelt = faults(&format!("{SMALL}new;shaft.ts.stp\n"));
    assert!(
        misspelt[0].contains("`shaft.ts.stp`") && misspelt[0].contains("Did you mean `shaft.ts.step`?"),
        "{misspelt:?}"
    );
}

/// The table in docs/files.md.
fn table_of_the_docs() -> String {
    let mut table = "| characteristic | what it is | part | in | wear takes it |\n|---|---|---|---|---|\n".to_owned();
    for one in Characteristic::all() {
        let way = match one.worsens() {
            Some(Side::Upper) => "up",
            Some(Side::Lower) => "down",
            None => "either way",
        };
        table += &format!("| `{}` | {} | `{}` | {} | {way} |\n", one.id(), one.name(), one.part(), one.unit());
    }
    table += "\n| figure of the machine | what it is | in |\n|---|---|---|\n";
    for given in Given::all() {
        table += &format!("| `{}` | {} | {} |\n", given.name(), given.what(), given.unit());
    }
    table
}

#[test]
fn docs_files_lists_everything_that_can_be_judged() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("docs/files.md");
    let page = std::fs::read_to_string(&path).unwrap();
    let (begin, end) = ("<!-- characteristics -->\n", "<!-- end of characteristics -->\n");
    let (before, rest) = page.split_once(begin).unwrap();
    let (_, behind) = rest.split_once(end).unwrap();
    let made = format!("{before}{begin}{}{end}{behind}", table_of_the_docs());
    if std::env::var_os("REWRITE_DOCS").is_some() {
        std::fs::write(&path, &made).unwrap();
    }
    let kept = std::fs::read_to_string(&path).unwrap();
    assert!(kept == made, "docs/files.md differs: REWRITE_DOCS=1 cargo test --test it docs_files");
}

const SMALL: &str = "line;name;source;at or above;below;leads to;figure
sheet;INV-1
origin;owner
manual title;a book
manual edition;1
Given;journal.diameter;page 2;;;;60 mm

limit;shaft.ts.step;page 3;0,022 mm;;refer
";

#[test]
fn columns_in_another_order_semicolons_and_decimal_commas_are_taken() {
    let sheet = read_table("t.csv", SMALL.as_bytes()).unwrap();
    let limit = sheet.levels[&Characteristic::parse("shaft.ts.step").unwrap()].limit.clone().unwrap();
    assert_eq!(limit.upper().unwrap().amount, Amount::Fixed("0.022 mm".parse().unwrap()));
    let told = format!("\u{feff}sep=;\r\n{}", SMALL.replace('\n', "\r\n"));
    assert_eq!(read_table("t.csv", told.as_bytes()).unwrap(), sheet);
    let tabs = SMALL.replace(';', "\t");
    assert_eq!(read_table("t.csv", tabs.as_bytes()).unwrap(), sheet);
    let quoted = SMALL.replace("0,022 mm", "\"0,022 mm\"").replace(';', ",");
    assert_eq!(read_table("t.csv", quoted.as_bytes()).unwrap(), sheet);
}

#[test]
fn every_fault_names_its_line_and_its_cell() {
    let with = |from: &str, to: &str| faults(&SMALL.replace(from, to));
    for (found, expected) in [
        (
            with("0,022 mm", "0,022 bar"),
            "8:4 `0.022 bar`, a pressure (cell D8) | Put the unit behind the figure, one of that kind.",
        ),
        (with("0,022 mm", "about"), "8:4 `about` (cell D8) | "),
        (with("shaft.ts.step", "shaft.ts.stp"), "8:2 `shaft.ts.stp` (cell B8) | Did you mean `shaft.ts.step`?"),
        (with("page 3", "0,05"), "8:3 the source `0,05`, which reads as a level (cell C8) | Write where it stands"),
        (with("page 3", ""), "8:3 nothing in the column `source` (cell C8) | Fill the column `source` in this row."),
        (with("0,022 mm", ""), "8:4 A level needs a bound on one side at least. (cell D8) | "),
        (with(";refer", ";refr"), "8:6 `refr` (cell F8) | Did you mean `refer`?"),
        (with("limit;", "limt;"), "8:1 a row of `limt`, not known here (cell A8) | Did you mean `limit`?"),
        (with("limit;", ";"), "8:1 a row that does not say what it is (cell A8) | "),
        (with(";;60 mm", ";refer;60 mm"), "6:6 `refer` under `leads to` (cell F6) | "),
        (with("origin;owner\n", ""), "1:1 no row `origin` | "),
        (with("below", "belo"), "1:5 the column `belo` | Did you mean `below`?"),
        (with("60 mm", "60 mm;5"), "6:8 `5` in no column (cell H6) | "),
        (with("page 3", "\"page 3"), "8:1 a quote that is never closed"),
        (
            with("page 2", "page 2;;;;1\ngiven;journal.diameter;page 2"),
            "7:1 `journal.diameter` a second time (cell A7) | ",
        ),
        (faults(""), "1:1 an empty table | "),
    ] {
        assert!(found.iter().any(|one| one.starts_with(expected)), "{found:#?}\nwanted {expected}");
    }
    // of what is no table nothing more is told
    let other = faults(DEMO);
    assert!(other.len() == 1 && other[0].starts_with("1:1 no table of a limits sheet: its first row is"), "{other:?}");
    let latin = read_table("t.csv", b"line;name\nsheet;M\xfcller").expect_err("taken");
    assert!(latin.to_string().contains("Save the table as CSV in UTF-8"), "{latin}");
}

#[test]
fn rows_of_one_table_may_repeat_what_the_level_says_and_may_not_contradict_it() {
    let band = "limit;shaft.ts.step;page 3;0,022 mm;refer;journal.diameter;50 mm;80 mm\n";
    let second = band.replace("0,022 mm", "0,028 mm").replace("50 mm;80 mm", "80 mm;120 mm");
    let columns = "line;name;source;at or above;leads to;size;over;up to\n";
    let head = "sheet;INV-1\norigin;owner\nmanual title;a book\nmanual edition;1\n";
    let table = format!("{columns}{head}{band}{second}");
    let told = faults(&table);
    assert!(told[0].contains("bands by the journal diameter, which the sheet does not give"), "{told:#?}");
    let gap = faults(&table.replace("80 mm;120 mm", "90 mm;120 mm"));
    assert!(gap[0].starts_with("7:1 a band over 90 mm up to 120 mm, which leaves a gap"), "{gap:#?}");
    let other = faults(&format!("{columns}{head}{band}{}", second.replace("refer", "replace")));
    assert!(other.iter().any(|one| one.starts_with("7:5 `replace` under `leads to` (cell E7)")), "{other:#?}");
}

#[test]
fn an_import_shows_first_and_changes_after_yes_only() {
    let folder = TempDir::new().unwrap();
    let sheets = folder.path().join("sheets");
    std::fs::create_dir(&sheets).unwrap();
    let file = sheets.join("INV-420.yaml");
    std::fs::write(&file, DEMO).unwrap();
    let (code, table, _) = asfound(folder.path(), &["sheet", "export", "inv-420"], "");
    assert_eq!(code, 0);
    let path = folder.path().join("t.csv");
    let name = path.to_str().unwrap();
    std::fs::write(&path, &table).unwrap();
    let (code, told, _) = asfound(folder.path(), &["sheet", "import", name], "");
    assert_eq!((code, told.as_str()), (0, "INV-420: nothing would change.\n"));
    std::fs::write(&path, table.replace("1.20 mm", "1.25 mm")).unwrap();
    let (_, told, _) = asfound(folder.path(), &["sheet", "import", name], "no\n");
    assert!(told.contains("* limit shroud.clearance\n    was above 1.20 mm, below 0.60 mm"), "{told}");
    let entered = "Entered by fitter-a and by supervisor-b, but for what is changed since.";
    assert!(told.contains(entered) && told.contains("nobody has typed a second time"), "{told}");
    assert!(told.contains("    now above 1.25 mm") && told.ends_with("Nothing was changed.\n"), "{told}");
    assert_eq!(std::fs::read_to_string(&file).unwrap(), DEMO, "nothing is changed without a yes");
    let (code, told, _) = asfound(folder.path(), &["sheet", "import", name, "--json"], "");
    let told: serde_json::Value = serde_json::from_str(&told).unwrap();
    assert_eq!((code, told["changed"].as_bool()), (0, Some(false)));
    let what: Vec<_> = told["changes"].as_array().unwrap().iter().map(|one| one["what"].as_str().unwrap()).collect();
    assert_eq!(what, ["changed since", "limit shroud.clearance", "alert bush.cs.pin", "alert bush.ts.pin"]);
    let (code, told, _) = asfound(folder.path(), &["sheet", "import", name, "--yes"], "");
    assert!(code == 0 && told.ends_with("Saved as the sheet INV-420.\n"), "{told}");
    let now = read_sheet("INV-420.yaml", &std::fs::read(&file).unwrap()).unwrap();
    // two people had entered it; what the table changes is named, and was typed once
    let since = "[fitter-a, supervisor-b]\nchanged since: [bush.cs.pin, bush.ts.pin, shroud.clearance]";
    let wanted = DEMO.replace("1.20 mm", "1.25 mm").replace("[fitter-a, supervisor-b]", since);
    assert_eq!(std::fs::read_to_string(&file).unwrap(), wanted, "comments and all other bytes stay");
    let brought = read_table("t.csv", &std::fs::read(&path).unwrap()).unwrap();
    assert_eq!(now, brought.clone().in_place_of(Some(&read_sheet("INV-420.yaml", DEMO.as_bytes()).unwrap()), None));
    assert_eq!(brought.in_place_of(None, None).entered_by, ["fitter-a"], "a sheet that was not there was entered once");
    let (code, _, said) = asfound(folder.path(), &["sheet", "export", "INV-421"], "");
    assert!(code == 2 && said.contains("there is no sheet `INV-421`"), "{said}");
    std::fs::write(&path, "line,name\nsheet,INV-9\n").unwrap();
    let (code, _, said) = asfound(folder.path(), &["sheet", "import", name, "--yes"], "");
    assert!(code == 3 && said.contains("t.csv:1:1: found no row `origin`"), "{said}");
}

/// A program is told the same faults as `check` tells it, each with its place.
#[test]
fn a_faulty_table_is_told_to_a_program_with_line_and_column() {
    let folder = TempDir::new().unwrap();
    let path = folder.path().join("t.csv");
    let name = path.to_str().unwrap();
    std::fs::write(&path, "line,name\nsheet,INV-9\n").unwrap();
    let (code, told, said) = asfound(folder.path(), &["sheet", "import", name, "--yes", "--json"], "");
    let told: serde_json::Value = serde_json::from_str(&told).unwrap_or_else(|_| panic!("{told}{said}"));
    let first = &told["problems"][0];
    assert!(code == 3 && said.ends_with("nothing was changed.\n"), "{said}");
    assert_eq!((first["line"].as_u64(), first["found"].as_str()), (Some(1), Some("no row `origin`")), "{told}");
}

/// Where people are known, one of them stands for what a table brings: by name on the command line, or asked.
#[test]
fn who_typed_a_table_is_asked_and_kept_and_types_it_no_second_time() {
    let folder = TempDir::new().unwrap();
    let sheets = folder.path().join("sheets");
    std::fs::create_dir(&sheets).unwrap();
    std::fs::write(sheets.join("INV-420.yaml"), DEMO).unwrap();
    let person = |id: &str| format!("- {{id: {id}, name: {id} by name, roles: [fitter]}}\n");
    let people = ["fitter-a", "supervisor-b", "fitter-c"].map(person).concat();
    std::fs::write(folder.path().join("people.yaml"), format!("format: 1\npeople:\n{people}")).unwrap();
    let read = || read_sheet("INV-420.yaml", &std::fs::read(sheets.join("INV-420.yaml")).unwrap()).unwrap();
    let path = folder.path().join("t.csv");
    let name = path.to_str().unwrap();
    let table =
        |to: &str| std::fs::write(&path, write_table(&read(), DecimalMark::Point).replace("1.20 mm", to)).unwrap();
    table("1.25 mm");
    let (code, _, said) = asfound(folder.path(), &["sheet", "import", name, "--yes"], "");
    assert!(code == 2 && said.contains("say who typed the table: --by PERSON. Nothing was changed."), "{said}");
    let (code, _, said) = asfound(folder.path(), &["sheet", "import", name, "--yes", "--by", "nobody"], "");
    assert!(code == 2 && said.contains("Nobody here is known as `nobody`"), "{said}");
    assert!(read().changed_since.is_empty());
    let (code, told, said) = asfound(folder.path(), &["sheet", "import", name], "yes\nwho?\nfitter-c by name\n");
    assert!(code == 0 && told.contains("Nobody here is known as `who?`. Known are"), "{told}{said}");
    assert_eq!(told.matches("Who typed the table").count(), 2, "{told}");
    assert_eq!(read().changed_by, ["fitter-c"]);
    let words = read().entered_words(&[]);
    let since = "entered by fitter-a and again by supervisor-b; changed since by fitter-c and entered once: ";
    assert!(words.contains(since), "{words}");
    std::fs::write(&path, write_table(&read(), DecimalMark::Point).replace("1.25 mm", "1.26 mm")).unwrap();
    let (code, _, said) = asfound(folder.path(), &["sheet", "import", name, "--yes", "--by", "fitter-a"], "");
    assert!(code == 0 && read().changed_by == ["fitter-c", "fitter-a"], "{said}");
    for by in ["fitter-a", "supervisor-b", "fitter-c"] {
        let (code, _, said) = asfound(folder.path(), &["fill", "sheets", "INV-420", "--second", by], "");
        assert!(code == 1 && said.contains("or some of it, the first time"), "{by}: {said}");
    }
}

/// Texts as people type them and as somebody hostile would: formulas, quotes, separators, lines.
fn any_text() -> impl Strategy<Value = String> {
    let piece = prop::sample::select(vec![
        "=1+1", "+", "-", "@SUM(A1)", "'", "\"", ";", ",", "\n", "page 7", "\u{fc}", "p. 0,5", "|",
    ]);
    prop::collection::vec(piece, 1..5)
        .prop_map(|pieces| pieces.concat().trim().to_owned())
        .prop_filter("empty", |text| !text.is_empty())
}

fn any_figure(unit: Unit) -> impl Strategy<Value = Figure> {
    // no clearance is ever above 25 mm
    (1..250_000_i64, 4..6_u32)
        .prop_map(move |(digits, places)| Figure::new(rust_decimal::Decimal::new(digits, places), unit))
}

fn any_level(one: Characteristic) -> impl Strategy<Value = Level> {
    let touching = prop::sample::select(vec![Touching::Passes, Touching::Fails]);
    let consequence = prop::sample::select(Consequence::PAST.to_vec());
    let rule =
        prop_oneof![Just(Rule::Simple), (1..900_i64).prop_map(|f| Rule::Guarded(rust_decimal::Decimal::new(f, 2)))];
    (any_figure(one.unit()), touching, consequence, rule, any_text(), any::<bool>()).prop_map(
        move |(figure, touching, leads_to, rule, source, by_size)| {
            let mm = |text: &str| text.parse::<Figure>().unwrap();
            let amount = if by_size {
                let bands = vec![
                    Band { over: mm("10 mm"), up_to: mm("70 mm"), figure },
                    Band { over: mm("70 mm"), up_to: mm("90 mm"), figure },
                ];
                Amount::BySize { size: Given::parse("journal.diameter").unwrap(), bands }
            } else {
                Amount::Fixed(figure)
            };
            let bound = Some(Bound { amount, touching });
            let (upper, lower) = if one.worsens() == Some(Side::Lower) { (None, bound) } else { (bound, None) };
            Level::new(upper, lower, leads_to, rule, &source).unwrap()
        },
    )
}

fn any_sheet() -> impl Strategy<Value = Sheet> {
    let all: Vec<Characteristic> = Characteristic::all().collect();
    let levels = prop::sample::subsequence(all, 1..6).prop_flat_map(|ones| {
        ones.into_iter()
            .map(|one| {
                let part_number = prop::option::of(any_text());
                (Just(one), part_number, any_level(one))
            })
            .collect::<Vec<_>>()
    });
    let names = prop::collection::vec(any_text(), 0..3);
    (levels, names, any_text(), any_text(), any::<bool>()).prop_map(
        |(levels, mut entered_by, manual, edition, invented)| {
            entered_by.dedup_by_key(|name| name.to_lowercase());
            let mut sheet = Sheet::bare("INV-7".parse().unwrap());
            (sheet.origin, sheet.manual, sheet.edition) = (Origin::Owner, manual.clone(), edition);
            (sheet.invented, sheet.entered_by) = (invented, entered_by);
            sheet.changed_since.extend(levels.iter().skip(1).map(|(one, ..)| one.id().to_owned()));
            let diameter = GivenFigure { figure: "60.0 mm".parse().unwrap(), source: manual };
            sheet.given.insert(Given::parse("journal.diameter").unwrap(), diameter);
            let told = levels.into_iter().map(|(one, part_number, limit)| {
                (one, Levels { limit: Some(limit), part_number, ..Levels::default() })
            });
            sheet.levels = told.collect();
            sheet
        },
    )
}

/// The sheet's file with a comment above every line and blanks before some.
fn commented(sheet: &Sheet) -> String {
    let text = asfound::records::file::write(&SHEET, sheet);
    let lines = text.lines().enumerate().map(|(number, line)| format!("# note {number}\n{line}\n"));
    lines.collect::<Vec<_>>().join("\n")
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn a_sheet_saved_over_another_keeps_the_comments_beside_what_stays(was in any_sheet(), now in any_sheet()) {
        let folder = TempDir::new().unwrap();
        std::fs::create_dir(folder.path().join("sheets")).unwrap();
        let file = folder.path().join("sheets/INV-7.yaml");
        let before = commented(&was);
        // between the lines of one text there is no room for a comment
        prop_assume!(!before.contains("|-\n"));
        std::fs::write(&file, &before).unwrap();
        let saved = Store::at(folder.path()).save_sheet(&now);
        prop_assert!(saved.is_ok(), "{saved:?}\n{before}\n--\n{}", commented(&now));
        let text = std::fs::read_to_string(&file).unwrap();
        let back = read_sheet("INV-7.yaml", text.as_bytes());
        prop_assert_eq!(back.map_err(|problems| format!("{problems}\n{text}")), Ok(now));
        // above `format`, `sheet` and `origin`, which are the same in both
        for note in ["# note 0", "# note 1", "# note 2", "# note 3"] {
            prop_assert!(text.lines().any(|line| line == note), "{} is gone:\n{}", note, text);
        }
    }
}

proptest! {
    #[test]
    fn a_sheet_goes_out_and_comes_back_the_same(sheet in any_sheet(), comma in any::<bool>()) {
        let table = write_table(&sheet, if comma { DecimalMark::Comma } else { DecimalMark::Point });
        let back = read_table("t.csv", table.as_bytes());
        prop_assert_eq!(back.map_err(|problems| problems.to_string()), Ok(sheet.clone()));
        prop_assert_eq!(changes(Some(&sheet), &sheet), vec![]);
        let mut cells = csv::ReaderBuilder::new().delimiter(if comma { b';' } else { b',' }).from_reader(table.as_bytes());
        for row in cells.records() {
            let row = row.unwrap();
            for cell in row.iter() {
                prop_assert!(!cell.starts_with(['=', '+', '@', '-']), "a spreadsheet would reckon {cell}");
            }
        }
    }
}
