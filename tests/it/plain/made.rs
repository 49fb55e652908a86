//! The demonstration begun by hand, and cut off while it was made.

use asfound::records::store::Store;
use tempfile::TempDir;

use super::verbs::asfound;

#[test]
fn a_demonstration_begun_by_hand_is_not_called_filled_in_nor_moved_under_an_open_record() {
    let folder = TempDir::new().unwrap();
    let typed = "INV-0001\nfitter-a\n48480\noverhaul\n";
    let (_, out, err) = asfound(folder.path(), &["demo", "--plain"], typed);
    assert!(out.contains("DEMO-1 is ready"), "{out}{err}");
    let demo = Store::at(folder.path()).demo();
    let rotor = "DEMO-1".parse().unwrap();
    assert_eq!(demo.records(&rotor).unwrap().len(), 2, "ended at a question: {out}");
    let begin = ["begin", "DEMO-1", "--serial", "INV-0001", "--by", "fitter-a", "--hours", "48480", "--later"];
    let (code, out, err) = asfound(demo.root(), &[&begin[..], &["--checklist", "overhaul", "--plain"]].concat(), "");
    assert_eq!(code, 0, "{out}{err}");
    let (code, out, err) = asfound(folder.path(), &["demo", "--typed"], "");
    assert!(code == 1 && !out.contains("filled in"), "{code}: {out}");
    assert!(err.contains("begun by hand") && err.contains("nothing was filled in"), "{err}");
    let held = demo.lock(&rotor, "fitter A", crate::rig::stamp("2031-04-17T14:05:31+02:00")).unwrap();
    let (code, out, err) = asfound(folder.path(), &["demo", "--fresh", "--plain"], "yes\n");
    assert!(code == 1 && !out.contains("set aside") && err.contains("is being written: by fitter A"), "{out}{err}");
    drop(held);
    let (code, out, err) = asfound(folder.path(), &["demo", "--fresh", "--typed"], "yes\n");
    assert!(code == 0 && out.contains("The former one is now") && out.contains("is filled in"), "{out}{err}");
}

/// Cut back to what was there when the making of it stopped: between its two earlier inspections, and in the second.
#[test]
fn a_demonstration_cut_off_in_the_making_is_made_again() {
    let folder = TempDir::new().unwrap();
    asfound(folder.path(), &["demo", "--plain"], "");
    let demo = Store::at(folder.path()).demo();
    let rotor = "DEMO-1".parse().unwrap();
    for (files, whole) in [(1, true), (2, false)] {
        let made = demo.records(&rotor).unwrap();
        assert_eq!(made.len(), 2, "{made:?}");
        made[files..].iter().for_each(|path| std::fs::remove_file(path).unwrap());
        let last = &made[files - 1];
        let bytes = std::fs::read_to_string(last).unwrap();
        if !whole {
            let begun = bytes.find("\n- entry: 20\n").unwrap() + 1;
            std::fs::write(last, &bytes[..begun]).unwrap();
        }
        let (_, out, err) = asfound(folder.path(), &["demo", "--plain"], "");
        assert!(out.contains("was cut off") && out.contains("The former one is now"), "{out}{err}");
    }
    assert_eq!(demo.records(&rotor).unwrap().len(), 2);
}
