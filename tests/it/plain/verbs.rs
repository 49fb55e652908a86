//! The verbs from outside, on folders of their own: exit codes, what stands in the files, what is printed.

use std::path::Path;

use asfound::records::store::Store;
use assert_cmd::Command;
use tempfile::TempDir;

pub(crate) fn asfound(folder: &Path, words: &[&str], typed: &str) -> (i32, String, String) {
    let mut command = Command::cargo_bin("asfound").unwrap();
    let output = command.arg("--data").arg(folder).args(words).write_stdin(typed).output().unwrap();
    let text = |bytes: &[u8]| String::from_utf8(bytes.to_vec()).unwrap();
    (output.status.code().unwrap(), text(&output.stdout), text(&output.stderr))
}

#[test]
fn the_demonstration_is_made_filled_in_checked_and_shown() {
    let folder = TempDir::new().unwrap();
    let demo = folder.path().join("demo");
    let (code, out, err) = asfound(folder.path(), &["demo", "--typed"], "");
    assert_eq!(code, 0, "{err}");
    assert!(out.starts_with("INVENTED DEMONSTRATION"), "{out}");
    let (_, again, _) = asfound(folder.path(), &["demo", "--typed"], "");
    let goes_on = |out: &str| out.lines().filter(|line| line.contains("asfound re") && line.ends_with(".yaml")).count();
    assert_eq!((goes_on(&out), goes_on(&again)), (2, 2), "elsewhere than usual an id alone finds nothing: {again}");
    let (code, out, _) = asfound(&demo, &["check"], "");
    assert_eq!((code, out.lines().next().unwrap().split(" in ").nth(1).unwrap()), (0, "3 records, 0 problems"));
    let (code, out, err) = asfound(&demo, &["verify"], "");
    assert_eq!(code, 0, "{out}{err}");
    let record = std::fs::read_dir(demo.join("rotors/DEMO-1")).unwrap().map(|one| one.unwrap().path());
    let mut records: Vec<_> = record.filter(|path| path.file_name().unwrap() != "rotor.yaml").collect();
    records.retain(|path| path.extension().is_some_and(|ending| ending == "yaml"));
    records.sort();
    let present = records[2].to_str().unwrap();
    let (_, json, _) = asfound(&demo, &["show", present, "--json"], "");
    let json: serde_json::Value = serde_json::from_str(&json).unwrap();
    let part = json["parts"].as_array().unwrap().iter().find(|part| part["part"] == "bush.ts").unwrap().clone();
    assert_eq!((part["disposition"].as_str(), json["invented"].as_bool()), (Some("replace"), Some(true)));
    let (_, shown, _) = asfound(&demo, &["show", present], "");
    assert!(shown.contains("X Bush, turbine side: replace") && !shown.contains('\u{1b}'), "{shown}");
    let (_, second, _) = asfound(folder.path(), &["demo", "--typed"], "");
    assert!(second.contains("is filled in"), "{second}");
    let (_, kept, _) = asfound(folder.path(), &["demo", "--fresh", "--plain"], "no\n");
    assert!(kept.contains("stays as it is"), "{kept}");
}

#[test]
fn what_is_planned_or_typed_wrong_is_told_at_its_own_question() {
    let folder = TempDir::new().unwrap();
    let begin = ["begin", "TRY-8", "--invented", "--hours", "48480", "--checklist", "bearing", "--plain"];
    let who = "INV-900\nS-42\n\nnew\nfit-1\nfitter one\nfitter\ndone\n";
    let parts = "bush.ts 99999\nagain\nbush.ts 24370\n";
    let plan = "later\nlater\nlater\nlater\n40000\n60000\n2001-01-01\n2199-07-02\n";
    let (code, out, err) = asfound(folder.path(), &begin, &format!("{who}{parts}{plan}"));
    assert_eq!(code, 0, "{out}{err}");
    let told = |words: &str| out.find(words).unwrap_or_else(|| panic!("{words}: {out}"));
    assert!(told("bush.ts 99999 h is more than the machine has run, 48480 h") < told("why it is opened"));
    let (hours, day) = (told("The next opening, 40000 h, is not later"), told("day planned for it"));
    assert!(hours < day && day < told("The next opening, 1 January 2001, is not later"), "{out}");
    // the id alone would be looked for in the usual folder
    let again = format!("Go on with: asfound resume {}/rotors/TRY-8/", folder.path().display());
    assert!(out.contains(&again), "{out}");
}

#[test]
fn resume_names_the_record_that_cannot_be_read() {
    let folder = TempDir::new().unwrap();
    let begin = ["begin", "TRY-9", "--invented", "--later", "--hours", "1200", "--checklist", "bearing"];
    let (code, out, err) = asfound(folder.path(), &begin, "INV-900\nS-42\n\nnew\nfit-1\nfitter one\nfitter\ndone\n");
    assert_eq!(code, 0, "{out}{err}");
    let files = std::fs::read_dir(folder.path().join("rotors/TRY-9")).unwrap().map(|one| one.unwrap().path());
    let is_record =
        |path: &std::path::PathBuf| path.extension().is_some_and(|end| end == "yaml") && !path.ends_with("rotor.yaml");
    let record = files.into_iter().find(is_record).unwrap();
    let bytes = std::fs::read(&record).unwrap();
    std::fs::write(&record, &bytes[..bytes.len() - 30]).unwrap();
    let (code, _, err) = asfound(folder.path(), &["resume", "--plain"], "");
    assert_eq!(code, 1);
    let name = record.file_name().unwrap().to_str().unwrap();
    assert!(err.contains("these cannot be read") && err.contains(name) && !err.contains("Begin one"), "{err}");
}

#[test]
fn a_rotor_of_ones_own_is_begun_from_empty_folders_left_and_gone_on_with() {
    let folder = TempDir::new().unwrap();
    let begin = ["begin", "TRY-7", "--invented", "--later", "--hours", "1200", "--checklist", "bearing"];
    let answers = "INV-900\nS-42\n\nnew\nfit-1\nfitter one\nfitter\ndone\n";
    let (code, out, err) = asfound(folder.path(), &begin, answers);
    assert_eq!(code, 0, "{out}{err}");
    // the id alone would be looked for in the usual folder
    let again = format!("Go on with: asfound resume {}/rotors/TRY-7/", folder.path().display());
    assert!(out.contains(&again), "{out}");
    let (code, out, _) = asfound(folder.path(), &["resume"], "85\n3 bar\n! leave\n");
    assert!(code == 0 && out.contains("85 %, entry 3, 1 saved."), "{out}");
    assert!(out.contains("3 bar is a pressure, a speed of rotation is wanted."), "{out}");
    // what is counted on the bench is in the file, and read again
    let counted = "! figure of the machine\nlands on each side\n8\ncounted on the part\n! leave\n";
    let (code, out, _) = asfound(folder.path(), &["resume"], counted);
    assert!(code == 0 && out.contains("given: entry 4, 1 saved."), "{out}");
    let files = std::fs::read_dir(folder.path().join("rotors/TRY-7")).unwrap().map(|file| file.unwrap().path());
    let record = files.filter(|path| path.is_file() && !path.ends_with("rotor.yaml") && !path.ends_with("lock"));
    let record = record.map(|path| std::fs::read_to_string(path).unwrap()).find(|text| text.contains("entries:"));
    let record = record.unwrap();
    assert!(record.contains("given: {name: thrust.lands, figure: 8, source: counted on the part}"), "{record}");
    // nobody has said that the parts are as old as the machine
    assert!(record.contains("hours of parts: later"), "{record}");
    let (code, out, _) = asfound(folder.path(), &["check"], "");
    assert_eq!((code, out.lines().next()), (0, Some("1 reading in 1 record, 0 problems")), "{out}");
    let (code, out, _) = asfound(folder.path(), &["begin", "TRY-9", "--later"], "INV-901\ns-42\nchoose\n");
    assert!(code == 1 && out.contains("TRY-7 has this serial number already, and its history."), "{out}");
    let (code, _, err) = asfound(folder.path(), &["resume", "--by", "nobody"], "");
    assert!(code == 1 && err.contains("nobody in this record is known as `nobody`"), "{err}");
    let again = ["begin", "TRY-7", "--serial", "S-43", "--later"];
    let (code, _, err) = asfound(folder.path(), &again, "");
    assert!(code == 1 && err.contains("`S-43` is not the serial number of TRY-7."), "{err}");
    let (code, _, err) = asfound(folder.path(), &["begin", "TRY-7", "--serial", "s-42"], "go on\n");
    assert_eq!(code, 0, "{err}");
}

/// The others are offered and written into the record; which file is out is said where the work begins and on the first
/// screen.
#[test]
fn one_broken_instrument_file_leaves_the_other_gauges_in_hand() {
    let folder = TempDir::new().unwrap();
    let instruments = folder.path().join("instruments");
    std::fs::create_dir_all(&instruments).unwrap();
    let sound = concat!(env!("CARGO_MANIFEST_DIR"), "/docs/files/instruments/D2.yaml");
    std::fs::copy(sound, instruments.join("D2.yaml")).unwrap();
    std::fs::write(instruments.join("D9.yaml"), "format: 1\ninstrument: D9\nkind: dail gauge\n").unwrap();
    let begin = ["begin", "TRY-7", "--invented", "--later", "--hours", "1200", "--checklist", "bearing"];
    let out_of_use = format!("{} cannot be read and is out", Path::new("instruments").join("D9.yaml").display());
    let (code, out, err) = asfound(folder.path(), &begin, "INV-900\nS-42\n\nnew\nfit-1\nfitter one\nfitter\ndone\n");
    assert!(code == 0 && out.contains(&out_of_use), "{out}{err}");
    let (code, out, err) = asfound(folder.path(), &["resume"], "! leave\n");
    assert!(code == 0 && out.contains(&out_of_use), "{out}{err}");
    let store = Store::at(folder.path());
    let record = store.records(&"TRY-7".parse().unwrap()).unwrap().remove(0);
    let gauges = store.open(&record).unwrap().inspection.head().instruments.clone();
    assert_eq!(gauges.iter().map(|gauge| gauge.id.as_str()).collect::<Vec<_>>(), ["D2"]);
    let (code, out, _) = asfound(folder.path(), &["check"], "");
    assert!(code == 3 && out.contains("`dail gauge`"), "{out}");
    crate::bench::Bench::over(folder.path()).expect("D9.yaml");
}

/// A mistyped machine type has no limits: nobody begins so without having been asked.
#[test]
fn a_machine_type_without_a_sheet_is_asked_about_before_anything_is_begun() {
    let folder = TempDir::new().unwrap();
    std::fs::create_dir(folder.path().join("sheets")).unwrap();
    let sheet = concat!(env!("CARGO_MANIFEST_DIR"), "/assets/demo/INV-420.yaml");
    std::fs::copy(sheet, folder.path().join("sheets/INV-420.yaml")).unwrap();
    let begin = ["begin", "TRY-7", "--invented", "--later", "--hours", "1200", "--checklist", "bearing"];
    let (code, out, err) = asfound(folder.path(), &begin, "INV-402\nS-42\n\nnot yet\n");
    assert!(out.contains("No limits sheet is called INV-402, there is INV-420"), "{out}{err}");
    assert!(code == 1 && out.contains("Enter the sheet INV-402 first"), "{code} {out}{err}");
    assert!(!folder.path().join("rotors/TRY-7").exists(), "{out}");
}

/// A sheet with a fault in it is there, and says which; nobody answers ten questions first.
#[test]
fn a_sheet_that_cannot_be_read_is_told_before_anything_is_asked() {
    let folder = TempDir::new().unwrap();
    std::fs::create_dir(folder.path().join("sheets")).unwrap();
    let sheet = concat!(env!("CARGO_MANIFEST_DIR"), "/assets/demo/INV-420.yaml");
    let broken = std::fs::read_to_string(sheet).unwrap().replacen("limit:", "limmit:", 1);
    std::fs::write(folder.path().join("sheets/INV-420.yaml"), broken).unwrap();
    let begin = ["begin", "TRY-7", "--invented", "--hours", "1200", "--checklist", "bearing"];
    let (code, out, err) = asfound(folder.path(), &begin, "INV-420\n");
    let said = format!("{out}{err}");
    assert!(code == 1 && said.contains("The limits sheet of INV-420 cannot be read, mend it first."), "{said}");
    assert!(said.contains("INV-420.yaml") && !said.contains("no limits sheet here"), "{said}");
    let (_, out, err) = asfound(folder.path(), &begin, "INV-402\nS-42\n\n");
    assert!(out.contains("No limits sheet is called INV-402, there is INV-420"), "{out}{err}");
}

/// A clock set back dates every entry wrongly: asked, and the history is there all the same.
#[test]
fn a_clock_before_the_last_opening_is_asked_about_and_takes_no_history_away() {
    let folder = TempDir::new().unwrap();
    let docs = Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/docs/files"));
    let rotor = folder.path().join("rotors/DEMO-1");
    std::fs::create_dir_all(&rotor).unwrap();
    for name in ["rotors/DEMO-1/rotor.yaml", "rotors/DEMO-1/2031-04-17-short.yaml", "people.yaml"] {
        std::fs::copy(docs.join(name), folder.path().join(name)).unwrap();
    }
    let begin = ["begin", "DEMO-1", "--serial", "INV-420-0017", "--by", "fitter-a", "--hours", "60000", "--later"];
    let begin = [&begin[..], &["--checklist", "bearing", "--plain"]].concat();
    let (code, out, err) = asfound(folder.path(), &begin, "another\nnot yet\n");
    assert!(code == 1 && out.contains("The last opening was begun on 17 April 2031"), "{out}{err}");
    let (_, out, err) = asfound(folder.path(), &begin, "another\nbegin\ninsist\n");
    let record = Store::at(folder.path()).records(&"DEMO-1".parse().unwrap()).unwrap().remove(0);
    let record = std::fs::read_to_string(record).unwrap();
    assert!(record.contains("previous:") && record.contains("DEMO-1/2031-04-17-short"), "{out}{err}{record}");
}

/// A data folder whose place is taken by a file: the verb says so before its first question.
pub(super) fn asks_nothing_where_nothing_is_kept(words: &[&str], typed: &str) {
    let folder = TempDir::new().unwrap();
    let file = folder.path().join("no-folder");
    std::fs::write(&file, "a file").unwrap();
    let (code, out, err) = asfound(&file.join("data"), words, typed);
    assert!(code == 1 && err.contains("is a file, no folder") && err.contains("Nothing was asked"), "{out}{err}");
    assert!(!out.contains('?'), "{out}");
}

/// Where nothing can be kept nothing is asked.
#[test]
fn a_folder_that_takes_no_files_is_told_before_the_first_question() {
    asks_nothing_where_nothing_is_kept(&["begin", "TRY-7", "--invented"], "INV-900\n");
}

#[test]
fn more_hours_than_anything_has_run_are_asked_about() {
    let folder = TempDir::new().unwrap();
    let begin = ["begin", "TRY-7", "--invented", "--later", "--checklist", "bearing"];
    let typed = "INV-900\nS-42\n\nnew\nfit-1\nfitter one\nfitter\ndone\n99999999999\nagain\n438300\n";
    let (code, out, err) = asfound(folder.path(), &begin, typed);
    assert!(code == 0 && out.contains("99999999999 h is more than fifty years without a stop"), "{out}{err}");
    assert_eq!(out.matches("fifty years").count(), 1, "the years themselves are not more: {out}");
}

#[test]
fn a_name_looked_up_and_hours_typed_again_go_back_one_question() {
    let folder = TempDir::new().unwrap();
    let first = ["begin", "TRY-8", "--later", "--hours", "1200", "--checklist", "bearing"];
    let (code, out, err) = asfound(folder.path(), &first, "INV-900\nS-42\n\nnew\nfit-1\nfitter one\nfitter\ndone\n");
    assert_eq!(code, 0, "{out}{err}");
    let second = ["begin", "TRY-8", "--later", "--hours", "120", "--checklist", "bearing"];
    let answers = "s-42\nanother\nfitter 1\nlook\nfit-1\nagain\n1210\n";
    let (code, out, err) = asfound(folder.path(), &second, answers);
    assert_eq!(code, 0, "{out}{err}");
    for said in
        ["Nobody was entered.", "120 h is less: a new counter (again, insist)?", "hours of the machine, h, 1200 h at"]
    {
        assert!(out.contains(said), "no {said}: {out}");
    }
    assert!(!out.contains("S-42"), "the number in the files is not said of a real rotor: {out}");
}

/// What the last record tells is offered, with what was done to it outside.
#[test]
fn a_last_record_that_was_changed_outside_is_said_where_its_hours_are_offered() {
    let folder = TempDir::new().unwrap();
    drop(asfound(folder.path(), &["demo", "--plain"], ""));
    let demo = Store::at(folder.path()).demo();
    let begin = ["begin", "DEMO-1", "--serial", "INV-0001", "--by", "fitter-a", "--plain"];
    let words = "(that record was CHANGED OUTSIDE: verify says where)";
    let (_, out, _) = asfound(demo.root(), &begin, "");
    assert!(out.contains("36240 h at the last opening") && !out.contains(words), "{out}");
    let last = demo.records(&"DEMO-1".parse().unwrap()).unwrap().pop().unwrap();
    let text = std::fs::read_to_string(&last).unwrap();
    std::fs::write(&last, text.replacen("kind: looked", "kind: tick", 1)).unwrap();
    let (_, out, err) = asfound(demo.root(), &begin, "");
    assert!(out.contains(words), "{out}{err}");
}

/// Insisted on, it stays a doubt in the record, and no part's hours are read off it.
#[test]
fn hours_insisted_on_at_the_beginning_are_in_the_record_as_doubted() {
    let folder = TempDir::new().unwrap();
    drop(asfound(folder.path(), &["demo", "--plain"], ""));
    let demo = Store::at(folder.path()).demo();
    let begin = ["begin", "DEMO-1", "--serial", "INV-0001", "--by", "fitter-a", "--hours", "12240"];
    let begin = [&begin[..], &["--checklist", "overhaul", "--plain"]].concat();
    let (_, out, err) = asfound(demo.root(), &begin, "insist\n");
    let asked = "hours of the parts, which a new counter does not tell (at the last opening: ";
    assert!(out.contains(asked) && out.contains("impeller 36240 h"), "{out}{err}");
    assert!(!out.contains("12240 h;") && out.contains("empty for later"), "{out}");
    let (code, out, err) = asfound(demo.root(), &[&begin[..], &["--later"]].concat(), "insist\n");
    assert_eq!(code, 0, "{out}{err}");
    let path = demo.records(&"DEMO-1".parse().unwrap()).unwrap().pop().unwrap();
    let inspection = demo.open(&path).unwrap().inspection;
    assert_eq!(inspection.head().opened.doubts, ["new counter"]);
    let standing = asfound::domain::standing::Standing::of(&inspection);
    assert_eq!(standing.counts.insisted, 1);
    let held = standing.holds_in_words();
    assert!(
        held.iter().any(|one| one.contains("hours of the machine, provisional: 12240 h was insisted on")),
        "{held:?}"
    );
    assert!(
        held.iter()
            .any(|one| one.contains("impeller: open: ") && one.contains("the hours of the parts are left for later")),
        "{held:?}"
    );
    let (_, json, _) = asfound(demo.root(), &["show", path.to_str().unwrap(), "--json"], "");
    let json: serde_json::Value = serde_json::from_str(&json).unwrap();
    assert_eq!(json["hours insisted on"], serde_json::json!(["new counter"]));
}

#[test]
fn what_cannot_be_done_says_what_where_and_how_to_mend_it() {
    let folder = TempDir::new().unwrap();
    for (words, code, said) in [
        (vec!["resume"], 1, "is begun and not closed. Begin one with `asfound begin`."),
        (vec!["show", "nothing/here"], 2, "there is no record `nothing/here`"),
        (vec!["begin", "X", "--hours", "many"], 2, "--hours: `many` is not a figure."),
        (vec!["begin", "X", "--next-date", "soon"], 2, "--next-date: `soon` is no day or moment."),
        (vec!["begin", "X", "--manual", "M"], 2, "--manual and --edition go together."),
        (vec!["begin", "X", "--arrives", "flying"], 2, "write one of: in place, cartridge, stripped"),
        (vec!["begin", "X", "--hours", "9", "--next-hours", "8"], 1, "nothing was begun: the input ended at"),
        (vec!["begin"], 1, "nothing was begun: the input ended at"),
        (vec!["bgin"], 2, "begin"),
        (vec!["demo"], 1, "asfound demo: nothing was begun: the input ended at"),
    ] {
        let (exit, _, err) = asfound(folder.path(), &words, "");
        assert_eq!(exit, code, "{words:?}: {err}");
        assert!(err.contains(said), "{words:?}: {err}");
    }
    let (code, _, err) = asfound(folder.path(), &["check", "gone.yaml"], "");
    assert_eq!((code, err.as_str()), (3, ""), "what is wrong with a file is the answer");
}

#[test]
fn at_the_first_questions_one_may_ask_go_back_and_leave() {
    let folder = TempDir::new().unwrap();
    let begin = ["begin", "TRY-9", "--invented", "--later", "--hours", "1200", "--checklist", "bearing", "--plain"];
    let (code, out, err) = asfound(folder.path(), &begin, "?\n!\nINV-900\n!\nINV-901\nS-42\nleave\n");
    assert_eq!(code, 1, "{out}");
    assert!(
        out.contains("enough to begin") && out.contains("first question") && out.contains("is taken back"),
        "{out}"
    );
    assert_eq!(out.matches("machine type of TRY-9").count(), 4, "{out}");
    assert!(out.contains("there is no limits sheet here yet: nothing will be judged"), "{out}");
    assert!(out.contains("This one is wanted") && !out.contains("An empty line or later"), "{out}");
    assert!(err.contains("left; nothing was begun"), "{err}");
    assert!(!folder.path().join("rotors").exists());
}

/// How many files lie in a folder, each of them marked.
fn marked(folder: &Path) -> usize {
    let inside = std::fs::read_dir(folder).unwrap().map(|one| one.unwrap().path());
    let of = |path: std::path::PathBuf| {
        if path.is_dir() {
            return marked(&path);
        }
        let text = std::fs::read_to_string(&path).unwrap();
        let is = ["\ninvented: yes\n", "INVENTED", "\npractice: yes\n"].iter().any(|mark| text.contains(mark));
        assert!(is || path.extension().is_none_or(|ending| ending != "yaml"), "{}", path.display());
        usize::from(is)
    };
    inside.map(of).sum()
}

#[test]
fn a_practice_rotor_has_its_own_folder_is_marked_everywhere_and_judges_no_real_one() {
    let folder = TempDir::new().unwrap();
    let (code, bench, _) = asfound(folder.path(), &["practise", "--bench"], "");
    assert_eq!(code, 0, "{bench}");
    assert!(bench.contains("large hand 0.034 mm, small hand 1"), "{bench}");
    assert!(bench.contains("sleeve 59.5, thimble 0.4") && bench.contains("to be seen: "), "{bench}");
    // what it means is for the one who practises
    assert!(!bench.contains("replace") && !bench.contains("refer"), "{bench}");
    let (code, out, err) = asfound(folder.path(), &["practise", "--plain"], "leave\n");
    assert_eq!(code, 0, "{out}{err}");
    assert!(out.starts_with("PRACTICE, INVENTED ROTOR") && out.contains("PRACTICE-1/"), "{out}");
    let practice = folder.path().join("practice");
    assert!(marked(&practice) > 15);
    let (_, again, _) = asfound(folder.path(), &["practise", "--plain"], "leave\n");
    assert!(again.contains("PRACTICE-1/"), "{again}");
    assert_eq!(std::fs::read_dir(practice.join("rotors")).unwrap().count(), 1);
    let (_, debrief, _) = asfound(folder.path(), &["practise", "--debrief"], "");
    assert!(debrief.lines().any(|line| line.starts_with("! not in the record: impeller, ")), "{debrief}");
    assert!(debrief.contains("! Bush, turbine side: it is replace, the record says held"), "{debrief}");
    // it stands in no register of real rotors, and its limits judge none
    let (_, due, _) = asfound(folder.path(), &["due"], "");
    assert!(!due.contains("PRACTICE-1"), "{due}");
    let (code, _, err) = asfound(&practice, &["begin", "REAL-1", "--later", "--hours", "1", "--plain"], "INV-420\n");
    assert!(code == 1 && !practice.join("rotors/REAL-1").exists(), "{err}");
}
