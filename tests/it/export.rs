//! The records as tables: every row as long as its columns, what was signed counts, nothing left out unsaid.
//!
//! Page and SQL come from the one table of columns; the SQL runs against real engines in tests/outside.

use std::collections::BTreeSet;
use std::fmt::Write as _;
use std::path::Path;

use asfound::report::export::{Column, Kind, LAYOUT, TABLES, Table};
use serde_json::Value;
use tempfile::TempDir;

use crate::papers::{asfound, demo};
use crate::sources::root;

/// The demonstration as if its rotor existed, which its records then show as a change from outside.
fn fleet() -> TempDir {
    let folder = TempDir::new().unwrap();
    copy(&demo(), folder.path());
    folder
}

fn copy(from: &Path, to: &Path) {
    std::fs::create_dir_all(to).unwrap();
    for file in std::fs::read_dir(from).unwrap().map(Result::unwrap) {
        let to = to.join(file.file_name());
        match file.file_type().unwrap().is_dir() {
            true => copy(&file.path(), &to),
            false => {
                let text = String::from_utf8(std::fs::read(file.path()).unwrap()).unwrap();
                std::fs::write(to, text.replacen("\ninvented: yes\n", "\n", 1)).unwrap();
            }
        }
    }
}

fn lines(folder: &Path, words: &[&str]) -> Vec<Value> {
    let (code, out, err) = asfound(folder, words);
    assert_eq!((code, err.as_str()), (0, ""));
    out.lines().map(|line| serde_json::from_str(line).unwrap()).collect()
}

#[test]
fn every_row_has_every_column_and_its_key_once() {
    let fleet = fleet();
    let all = lines(fleet.path(), &["export"]);
    for table in TABLES {
        let mine: Vec<_> = all.iter().filter(|row| row["table"] == table.name).collect();
        assert!(mine.len() >= 3, "{}: {}", table.name, mine.len());
        let mut seen = BTreeSet::new();
        for row in &mine {
            let names: Vec<_> = row.as_object().unwrap().keys().skip(1).map(String::as_str).collect();
            let columns: Vec<_> = table.columns.iter().map(|column| column.name).collect();
            assert_eq!(names, columns);
            table.columns.iter().for_each(|column| sound(column, &row[column.name]));
            assert!(seen.insert(table.key.iter().map(|key| row[*key].to_string()).collect::<Vec<_>>()), "{row} twice");
        }
        assert_eq!(lines(fleet.path(), &["export", table.name]).len(), mine.len());
        let (code, csv, _) = asfound(fleet.path(), &["export", table.name, "--csv"]);
        let mut csv = csv::Reader::from_reader(csv.as_bytes());
        assert_eq!(csv.headers().unwrap().len(), table.columns.len());
        assert_eq!((code, csv.records().map(Result::unwrap).count()), (0, mine.len()));
    }
}

/// A value is what its column says.
fn sound(column: &Column, value: &Value) {
    let text = value.as_str();
    let sound = match column.kind {
        _ if value.is_null() => column.name != "layout",
        Kind::Text => text.is_some_and(|text| !text.is_empty()),
        Kind::Whole => value.as_i64().is_some(),
        Kind::Decimal => text.is_some_and(|text| text.parse::<rust_decimal::Decimal>().is_ok()),
        Kind::Moment => text.is_some_and(|text| chrono::DateTime::parse_from_rfc3339(text).is_ok()),
        Kind::Day => text.is_some_and(|text| text.parse::<chrono::NaiveDate>().is_ok()),
        Kind::Flag => value.is_boolean(),
    };
    assert!(sound, "{}: {value}", column.name);
    assert!(column.name != "layout" || value.as_i64() == Some(LAYOUT));
}

/// The first two records are closed, the third is not signed: DEMO.md's figures of each.
#[test]
fn what_was_signed_counts_and_what_is_not_signed_says_so() {
    let fleet = fleet();
    let rows = lines(fleet.path(), &["export", "characteristics"]);
    let clearance = |row: &&Value| row["characteristic"] == "bush.ts.clearance" && row["condition"] == "as found";
    let found: Vec<_> = rows.iter().filter(clearance).collect();
    let signed: Vec<_> = found.iter().map(|row| row["signed"].as_str().unwrap()).collect();
    assert_eq!(signed, ["close", "close", "unsigned"]);
    let third = found[2];
    assert_eq!((third["value"].as_str(), third["reached"].as_str()), (Some("0.21394"), Some("alert")), "{third:#}");
    assert_eq!((third["disposition"].as_str(), third["unit"].as_str()), (Some("replace"), Some("mm")));
    assert!(found[0]["signed_entry"].is_u64() && third["signed_entry"].is_null());
}

/// The demonstration's balancing reports, against the shares of its grade.
#[test]
fn what_a_step_reckoned_besides_is_a_row_with_its_verdict() {
    let fleet = fleet();
    let rows = lines(fleet.path(), &["export", "reckoned"]);
    let report = |row: &&Value| row["step"] == "balance/report";
    let verdicts: Vec<_> = rows.iter().filter(report).map(|row| row["verdict"].as_str().unwrap()).collect();
    assert_eq!(verdicts, ["within", "within", "past"]);
    let third = rows.iter().rfind(report).unwrap();
    assert_eq!(third["reckoning"], "unbalance/1");
    assert!(third["result"].as_str().unwrap().starts_with("84.88 g mm in all"), "{third:#}");
    assert!(third["problems"].is_null() && third["signed"] == "unsigned", "{third:#}");
}

#[test]
fn records_left_out_are_named_and_make_it_fall_short() {
    let (code, out, err) = asfound(&demo(), &["export", "readings"]);
    assert_eq!((code, out.as_str()), (3, ""), "an invented rotor is no data");
    assert_eq!(err.matches("the rotor is invented").count(), 3, "{err}");
    // a demonstration beside the records is not even looked at
    let above = demo().parent().unwrap().to_owned();
    assert_eq!(asfound(&above, &["export"]), (0, String::new(), String::new()));
    let fleet = fleet();
    let folder = fleet.path().join("rotors/DEMO-1");
    std::fs::write(folder.join("2001-01-01-overhaul.yaml"), "format: 1\ninspection: [").unwrap();
    let (code, out, err) = asfound(fleet.path(), &["export", "inspections"]);
    assert_eq!((code, out.lines().count()), (3, 3), "{err}");
    assert!(err.contains("left out") && err.contains("2001-01-01-overhaul.yaml"), "{err}");
}

#[test]
fn unknown_tables_and_csv_of_all_are_wrong_words() {
    for words in [&["export", "reading"][..], &["export", "--csv"]] {
        let (code, _, err) = asfound(&demo(), words);
        assert!(code == 2 && err.contains("Tables: inspections, entries, readings"), "{err}");
    }
}

#[test]
fn the_page_and_the_sql_kept_are_those_of_the_columns() {
    for (path, made) in [
        ("docs/export.md", page()),
        ("assets/export/duckdb.sql", duckdb()),
        ("assets/export/postgresql.sql", postgresql()),
    ] {
        let path = root().join(path);
        if std::env::var_os("REWRITE_DOCS").is_some() {
            std::fs::create_dir_all(path.parent().unwrap()).unwrap();
            std::fs::write(&path, &made).unwrap();
        }
        let kept = std::fs::read_to_string(&path).unwrap_or_default();
        assert!(kept == made, "{} differs: REWRITE_DOCS=1 cargo test --test it export::", path.display());
    }
}

fn page() -> String {
    let mut page = String::from(
        "# Records as tables\n\n\
        Records stay the files they are; many of them are analysed in an engine made for it. `asfound export` reads every record\n\
        of the data folder, one after the other, and writes rows to stdout:\n\n```\n\
        asfound export                    all tables, newline JSON, the table's name in each line\n\
        asfound export readings           one table, newline JSON\n\
        asfound export readings --csv     the same as CSV, for engines and spreadsheets\n```\n\n\
        What is judged is what was signed: the last signature that stands, and no entry behind it. Unsigned rows say so. Records\n\
        that cannot be read to their end, and rotors marked as invented or for practice, are left out and named on stderr; the exit\n\
        code is then 3. The folders `demo` and `practice` are not read at all.\n\n\
        Decimals are text in JSON, so that no digit is lost. A column is never renamed and keeps its meaning within a layout; new\n\
        ones come behind. [duckdb.sql](../assets/export/duckdb.sql) and [postgresql.sql](../assets/export/postgresql.sql) make and load the\n\
        tables; the first also writes Parquet parted by machine type. Page and SQL are written from the program's own list of\n\
        columns; a test compares them.\n",
    );
    for table in TABLES {
        let _ =
            write!(page, "\n## {}\n\nOne row for {}.\n\n| column | kind | |\n|---|---|---|\n", table.name, table.doc);
        for column in table.columns {
            let _ = writeln!(page, "| `{}` | {} | {} |", column.name, word(column.kind), column.doc);
        }
    }
    page
}

fn word(kind: Kind) -> &'static str {
    match kind {
        Kind::Text => "text",
        Kind::Whole => "whole number",
        Kind::Decimal => "decimal",
        Kind::Moment => "moment",
        Kind::Day => "day",
        Kind::Flag => "true, false",
    }
}

/// The head of both: which layout, and that the machine's folder is the working one.
const HEAD: &str = "-- Loads the tables of `asfound export`, layout 1. Written from the program's list of columns; a test compares them.\n";

fn sql_kind(kind: Kind) -> &'static str {
    match kind {
        Kind::Text => "VARCHAR",
        Kind::Whole => "BIGINT",
        Kind::Decimal => "DECIMAL(38, 12)",
        Kind::Moment => "TIMESTAMPTZ",
        Kind::Day => "DATE",
        Kind::Flag => "BOOLEAN",
    }
}

fn create(table: &Table) -> String {
    let columns = table.columns.iter().map(|column| {
        let check = if column.name == "layout" { format!(" CHECK (\"layout\" = {LAYOUT})") } else { String::new() };
        format!("  \"{}\" {}{check},\n", column.name, sql_kind(column.kind))
    });
    let key: Vec<_> = table.key.iter().map(|key| format!("\"{key}\"")).collect();
    format!("CREATE TABLE {} (\n{}  PRIMARY KEY ({})\n);\n", table.name, columns.collect::<String>(), key.join(", "))
}

fn duckdb() -> String {
    let mut sql = format!(
        "{HEAD}--   for t in {}; do asfound export $t > $t.ndjson; done\n--   duckdb fleet.duckdb < duckdb.sql\n",
        TABLES.iter().map(|table| table.name).collect::<Vec<_>>().join(" ")
    );
    for table in TABLES {
        let columns: Vec<_> =
            table.columns.iter().map(|column| format!("\"{}\": '{}'", column.name, sql_kind(column.kind))).collect();
        let _ = write!(
            sql,
            "\n{}INSERT INTO {1} SELECT * FROM read_json('{1}.ndjson', format = 'newline_delimited', columns = {{\n  {2}\n}});\n",
            create(table),
            table.name,
            columns.join(", ")
        );
    }
    sql.push_str("\n-- Parquet parted by machine type, for engines that read it from a disk or an object store\n");
    for table in TABLES {
        let select = match table.name {
            "inspections" => "SELECT * FROM inspections".to_owned(),
            name => format!("SELECT t.*, i.machine FROM {name} t JOIN inspections i USING (\"file\")"),
        };
        let _ = writeln!(
            sql,
            "COPY ({select}) TO '{}-parquet' (FORMAT parquet, PARTITION_BY (machine), OVERWRITE_OR_IGNORE);",
            table.name
        );
    }
    sql
}

fn postgresql() -> String {
    let mut sql = format!(
        "{HEAD}--   for t in {}; do asfound export $t --csv > $t.csv; done\n--   psql --set ON_ERROR_STOP=1 --single-transaction --file postgresql.sql\n",
        TABLES.iter().map(|table| table.name).collect::<Vec<_>>().join(" ")
    );
    for table in TABLES {
        let _ =
            write!(sql, "\n{}\\copy {1} FROM '{1}.csv' WITH (FORMAT csv, HEADER true)\n", create(table), table.name);
    }
    sql
}
