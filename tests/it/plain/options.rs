//! What stands on the command line is not asked, and what cannot be kept is not either.

use tempfile::TempDir;

use super::verbs::{asfound, asks_nothing_where_nothing_is_kept};

const ALL: [&str; 23] = [
    "begin",
    "TRY-7",
    "--invented",
    "--serial",
    "S-1",
    "--hours",
    "1200",
    "--checklist",
    "bearing",
    "--reason",
    "periodic",
    "--arrives",
    "in place",
    "--manual",
    "INV manual",
    "--edition",
    "3",
    "--letters",
    "no letters",
    "--next-hours",
    "9000",
    "--next-date",
    "2099-01-01",
];

#[test]
fn with_all_options_given_nothing_of_the_opening_is_asked() {
    let typed = "INV-900\n\nnew\nfit-1\nfitter one\nfitter\ndone\n";
    for (hours, kept) in [("as known", ""), ("later", "hours of parts: later"), ("bush.ts 900; bush.cs 800 h", "900 h")]
    {
        let folder = TempDir::new().unwrap();
        let words: Vec<_> = ALL.iter().copied().chain(["--part-hours", hours]).collect();
        let (code, out, err) = asfound(folder.path(), &words, typed);
        assert!(code == 0 && !out.contains("hours of parts renewed"), "{out}{err}");
        let rotor = folder.path().join("rotors/TRY-7");
        let mut record = std::fs::read_dir(rotor).unwrap().map(|one| one.unwrap().path());
        let record = record.find(|path| path.to_string_lossy().ends_with("-bearing.yaml")).unwrap();
        let text = std::fs::read_to_string(record).unwrap();
        assert!(text.contains(kept) || out.contains(kept), "{hours}: {text}{out}");
    }
    // the word that an empty answer stands for is one
    let folder = TempDir::new().unwrap();
    let (code, out, err) = asfound(folder.path(), &ALL, &format!("{typed}As known\n"));
    assert!(code == 0 && out.contains("hours of parts renewed") && !out.contains("is no part of"), "{out}{err}");
    // nothing is begun without a checklist, and that is said
    let folder = TempDir::new().unwrap();
    let asked = ["begin", "TRY-7", "--invented", "--serial", "S-1", "--hours", "1200"];
    let (_, out, _) = asfound(folder.path(), &asked, "INV-900\n\nnew\nfit-1\nfitter one\nfitter\ndone\nlater\n");
    assert!(out.contains("Needed to begin, it cannot wait."), "{out}");
    // rotor, hours and a name are enough: the checklist that leaves nothing out
    let folder = TempDir::new().unwrap();
    let few = ["begin", "TRY-7", "--invented", "--serial", "S-1", "--hours", "1200", "--later"];
    let (code, out, err) = asfound(folder.path(), &few, "INV-900\n\nnew\nfit-1\nfitter one\nfitter\ndone\n");
    assert!(code == 0 && !out.contains("which checklist"), "{out}{err}");
    let mut record = std::fs::read_dir(folder.path().join("rotors/TRY-7")).unwrap();
    assert!(record.any(|one| one.unwrap().path().to_string_lossy().ends_with("-overhaul.yaml")));
    // what is odd is asked about, and what will not do is asked again; nothing else is lost
    let folder = TempDir::new().unwrap();
    let words: Vec<_> = ALL.iter().copied().chain(["--part-hours", "bush.ts 1300"]).collect();
    let (code, out, err) = asfound(folder.path(), &words, &format!("{typed}again\nbush.ts 1100\n"));
    assert!(code == 0 && out.contains("(again, insist)?"), "{code} {out}{err}");
    let folder = TempDir::new().unwrap();
    let words: Vec<_> = ALL.iter().copied().chain(["--later", "--part-hours", "nose 7"]).collect();
    let (code, out, err) = asfound(folder.path(), &words, &format!("{typed}later\n"));
    assert!(code == 0 && out.contains("`nose` is no part of the checklist"), "{code} {out}{err}");
}

/// Where nothing can be kept nothing is asked.
#[test]
fn a_form_for_a_folder_that_takes_no_files_is_refused_before_its_first_question() {
    asks_nothing_where_nothing_is_kept(&["fill", "people", "--plain"], "fit-1\n");
}
