//! `where` and `check --json`, from outside.

use asfound::domain::entry::Act;
use asfound::domain::id::Id;
use asfound::records::inspection_file::open;
use tempfile::TempDir;

use super::verbs::asfound;

#[test]
fn where_lists_every_record_and_entry_that_an_instrument_touched() {
    let folder = TempDir::new().unwrap();
    let (code, _, err) = asfound(folder.path(), &["demo", "--typed"], "");
    assert_eq!(code, 0, "{err}");
    let demo = folder.path().join("demo");
    // counted by another way: every entry of every record that names it
    let mut counted = Vec::new();
    let records = std::fs::read_dir(demo.join("rotors/DEMO-1")).unwrap().map(|one| one.unwrap().path());
    let mut records: Vec<_> = records.filter(|path| path.extension().is_some_and(|ending| ending == "yaml")).collect();
    records.retain(|path| !path.ends_with("rotor.yaml"));
    records.sort();
    let d2: Id = "D2".parse().unwrap();
    for path in &records {
        let names = |act: &Act| matches!(act, Act::Reading { gauge: Some(gauge), .. } | Act::GaugeCheck { gauge, .. } if *gauge == d2);
        counted.push(open(path).unwrap().inspection.entries().iter().filter(|entry| names(&entry.act)).count());
    }
    let (code, json, err) = asfound(&demo, &["where", "d2", "--json"], "");
    assert_eq!(code, 0, "{err}");
    let told: serde_json::Value = serde_json::from_str(&json).unwrap();
    let per_record = told["records"].as_array().unwrap().iter().map(|one| one["entries"].as_array().unwrap().len());
    assert_eq!(per_record.collect::<Vec<_>>(), counted);
    let rests = told["records"][2]["rests_on_it"].as_array().unwrap();
    assert!(rests.iter().any(|one| one == "bush.ts.clearance"), "{rests:?}");
    let (_, text, _) = asfound(&demo, &["where", "D2"], "");
    assert!(text.contains("bush, turbine: clearance"), "{text}");
    let (count, first) = (counted.iter().sum::<usize>(), text.lines().next().unwrap());
    assert_eq!(first, format!("D2 (dial gauge, 0 to 1.0 mm) touched {count} entries in 3 records"));
    assert!(
        text.contains(": bush, turbine side / clearance by lift, ") || text.contains("Bush, turbine side / "),
        "{text}"
    );
    assert_eq!(text.lines().filter(|line| line.starts_with("  entry ")).count(), count);
    // known and never used is no fault; a name that nobody knows is
    let (code, text, _) = asfound(&demo, &["where", "X1"], "");
    assert!(code == 0 && text.starts_with("X1 (") && text.contains(") touched "), "{text}");
    let (code, text, err) = asfound(&demo, &["where", "D9"], "");
    assert_eq!((code, text.as_str()), (2, ""));
    assert!(err.contains("no instrument `D9` is known") && err.contains("D1, D2, D3"), "{err}");
    // a record that cannot be read is left out, said, and the rest is listed
    std::fs::write(&records[0], "format: 1\ninspection: broken\n").unwrap();
    let (code, text, err) = asfound(&demo, &["where", "D2"], "");
    assert_eq!((code, text.lines().next().unwrap().contains("in 2 records")), (3, true), "{text}");
    assert!(err.contains("were left out") && err.contains(":2:"), "{err}");
}

#[test]
fn check_says_the_same_for_programs() {
    let folder = TempDir::new().unwrap();
    std::fs::write(folder.path().join("people.yaml"), "format: 1\npeople:\n- {id: a, name: A, roles: [fiter]}\n")
        .unwrap();
    let (code, text, _) = asfound(folder.path(), &["check"], "");
    assert_eq!((code, text.lines().next()), (3, Some("0 readings in 0 records, 1 problem")), "{text}");
    let (code, json, _) = asfound(folder.path(), &["check", "--json"], "");
    let told: serde_json::Value = serde_json::from_str(&json).unwrap();
    assert_eq!((code, told["problem_count"].as_u64()), (3, Some(1)));
    let one = &told["problems"][0];
    assert_eq!((one["file"].as_str(), one["line"].as_u64()), (Some("people.yaml"), Some(3)));
    assert_eq!(one["found"], "`fiter`");
    assert!(text.contains(one["mend"].as_str().unwrap()));
}

#[test]
fn late_from_paper_stays_on_from_one_sitting_to_the_next_and_every_file_beside_says_invented() {
    let folder = TempDir::new().unwrap();
    let begin = ["begin", "TRY-7", "--invented", "--later", "--hours", "1200", "--checklist", "overhaul", "--plain"];
    let typed = "INV-900\nS-42\n\nnew\nfit-1\nfitter one\nfitter\n";
    let (code, out, err) = asfound(folder.path(), &begin, &format!("{typed}! 7\n3\n2001-01-01 10:00\nyes\nlater\n"));
    assert_eq!(code, 0, "{out}{err}");
    assert!(out.contains("late from paper"), "{out}");
    let (_, out, _) = asfound(folder.path(), &["resume", "--plain"], "! 7\n1\na note\n");
    assert!(out.contains("LATE FROM PAPER, 2001-01-01"), "{out}");
    let rotor = folder.path().join("rotors/TRY-7");
    let mut files = std::fs::read_dir(&rotor).unwrap().map(|one| one.unwrap().path());
    let record = files.find(|path| path.is_dir()).unwrap();
    let text = |path: &std::path::Path| std::fs::read_to_string(path).unwrap();
    assert!(text(&record.with_extension("yaml")).contains("late: {taken: \"2001-01-01"));
    let file = record.with_extension("yaml");
    let (_, shown, _) = asfound(folder.path(), &["show", file.to_str().unwrap()], "");
    assert!(shown.contains(" (late, on paper 2001-01-01 10:00, no photo of it)  The job / "), "{shown}");
    let (_, json, _) = asfound(folder.path(), &["show", file.to_str().unwrap(), "--json"], "");
    let json: serde_json::Value = serde_json::from_str(&json).unwrap();
    let entries = json["entries"].as_array().unwrap();
    let (first, late) = (entries.first().unwrap(), entries.last().unwrap());
    assert_eq!((late["late"]["taken"].as_str(), first["late"].is_null()), (Some("2001-01-01 10:00"), true));
    for name in ["last.yaml", "draft.yaml"] {
        assert!(text(&record.join(name)).contains("\ninvented: yes\n"), "{name}");
    }
    let (_, out, _) = asfound(folder.path(), &["resume", "--plain"], "! 7\n4\n");
    assert!(out.contains("LATE FROM PAPER"), "{out}");
    let (_, out, _) = asfound(folder.path(), &["resume", "--plain"], "");
    assert!(!out.contains("LATE FROM PAPER"), "{out}");
}
