//! The forms line by line: the same files as from the screen.

use tempfile::TempDir;

use super::verbs::asfound;

#[test]
fn people_instruments_and_a_sheet_are_filled_in_line_by_line() {
    let folder = TempDir::new().unwrap();
    let (code, out, err) = asfound(folder.path(), &["fill", "people"], "fitter-k\nfitter K\nfi\n\n?\n!\n");
    assert_eq!(code, 0, "{err}");
    assert!(out.contains("people, 1, id (empty: none)?") && out.trim_end().ends_with("saved, in use"), "{out}");
    assert!(std::fs::read_to_string(folder.path().join("people.yaml")).unwrap().contains("name: fitter K"));
    let answers = "D7\ndial\n0\n1 mm\n0.002\n0.2\n\n\n\n0.003\n\ny\n2031-01-10\n0.003\n2\nINV-C-1\n2032-01-10\n!\n";
    let (_, out, _) = asfound(folder.path(), &["fill", "instruments"], answers);
    let kept = std::fs::read_to_string(folder.path().join("instruments/D7.yaml")).unwrap_or_default();
    assert!(kept.contains("- {date: 2031-01-10, expanded: 0.003 mm, k: 2, certificate: INV-C-1"), "{kept}\n{out}");
    let sheet = "INV-9\nmaker\nINV-9 manual\n1\n\nfitter-k\n\n\ny\n0.3..0.5\n4\n>=0.6\n\n>0.7\nrep\n";
    let (_, out, _) = asfound(folder.path(), &["fill", "sheets"], sheet);
    assert!(
        out.contains(
            "INV-9: levels, Rotor in its bearings: axial float, limit, where in the manual (empty takes: page 4); beside it \
             rule simple: > goes there?"
        ),
        "{out}"
    );
    assert!(out.trim_end().ends_with("DRAFT, not in use: 1 thing wanted"), "{out}");
    let (_, out, _) =
        asfound(folder.path(), &["fill", "sheets", "INV-9"], "\n\n\n\n\n\n\n\ny\n\n\n\n\n\n\n8\nfitter-k\n!\n!\n");
    let kept = std::fs::read_to_string(folder.path().join("sheets/INV-9.yaml")).unwrap_or_default();
    assert!(
        kept.contains("limit: {above: 0.7 mm, leads to: replace, source: \"INV-9 manual, edition 1, page 8\"}"),
        "{kept}\n{out}"
    );
    // what Enter passes by is told and can be gone to: the rule, what a new range leads to, the number to order by
    let beside = "\n\n\n\n\n\n\n\ny\n>\nreplace\nfitter-k\n>\nA-1\n\n\n\n\n>\nguarded 1.65\n!\n!\n";
    let (_, out, _) = asfound(folder.path(), &["fill", "sheets", "INV-9"], beside);
    let kept = std::fs::read_to_string(folder.path().join("sheets/INV-9.yaml")).unwrap_or_default();
    assert!(out.contains("; beside it leads to (rework), rule simple: > goes there?"), "{out}");
    for wanted in
        ["part number: A-1", "leads to: replace, source: \"INV-9 manual, edition 1, page 4\"", "rule: guarded"]
    {
        assert!(kept.contains(wanted), "{wanted}: {kept}\n{out}");
    }
    let (code, _, err) = asfound(folder.path(), &["fill", "wheels"], "");
    assert!(code == 2 && err.contains("`wheels` is none of people, instruments, sheets, rotors, checklists."), "{err}");
}

#[test]
fn a_row_is_taken_out_only_by_a_second_dash() {
    let folder = TempDir::new().unwrap();
    let people = "fitter-k\nfitter K\nfi\n\nfitter-l\nfitter L\nfi\n\n!\n";
    asfound(folder.path(), &["fill", "people"], people);
    let kept = || std::fs::read_to_string(folder.path().join("people.yaml")).unwrap();
    let (_, out, _) = asfound(folder.path(), &["fill", "people"], "-\nfitter-m\n!\n");
    assert!(out.contains("Take out fitter-k, fitter K? - once more") && out.contains("Kept."), "{out}");
    assert!(kept().contains("fitter-k") && !kept().contains("fitter-m"));
    let (_, out, _) = asfound(folder.path(), &["fill", "people"], "-\n-\n!\n");
    assert!(out.contains("Taken out: fitter-k, fitter K."), "{out}");
    assert!(!kept().contains("fitter-k") && kept().contains("fitter-l"));
}

/// What the disk has not taken is neither told as saved nor done.
#[test]
fn a_file_that_is_not_saved_is_not_called_saved() {
    let folder = TempDir::new().unwrap();
    let gauge = "d2\nmicrometer\n0 mm\n25 mm\n!\n";
    let (code, out, _) = asfound(folder.path(), &["fill", "instruments"], gauge);
    assert!(code == 0 && out.contains("saved, in use"), "{out}");
    let before = std::fs::read_to_string(folder.path().join("instruments/d2.yaml")).unwrap();
    let (code, out, err) =
        asfound(folder.path(), &["fill", "instruments"], &gauge.replace("d2", "D2").replace("25", "50"));
    assert_eq!(code, 1, "{out}{err}");
    assert!(out.contains("NOT saved, kept as a draft: ") && !out.contains("saved, in use"), "{out}");
    assert!(out.trim_end().ends_with("complete, not in use"), "{out}");
    assert_eq!(std::fs::read_to_string(folder.path().join("instruments/d2.yaml")).unwrap(), before);
}

/// Two people, and a sheet with one level that the first of them has entered.
fn entered_once() -> TempDir {
    let folder = TempDir::new().unwrap();
    let people = "fitter-k\nfitter K\nfi\n\nfitter-l\nfitter L\nfi\n\n!\n";
    assert_eq!(asfound(folder.path(), &["fill", "people"], people).0, 0);
    let sheet = "INV-9\nmaker\nINV-9 manual\n1\n\nfitter-k\n\n\ny\n0.3..0.5\n4\n!\n!\n";
    assert_eq!(asfound(folder.path(), &["fill", "sheets"], sheet).0, 0);
    folder
}

/// Two people are two of those who are known here, however they are spelt.
#[test]
fn a_sheet_is_typed_a_second_time_by_somebody_who_is_known() {
    let folder = entered_once();
    for (by, why) in [
        ("nobody", "Nobody here is known as `nobody`. Known are: fitter-k, fitter-l"),
        ("fitterK", "Nobody here is known as `fitterK`"),
        ("Fitter-K", "fitter-k typed it, or some of it, the first time"),
    ] {
        let (code, _, err) = asfound(folder.path(), &["fill", "sheets", "INV-9", "--second", by], "!\n");
        assert!(code == 1 && err.contains(why), "{by}: {err}");
    }
    let (code, out, err) =
        asfound(folder.path(), &["fill", "sheets", "INV-9", "--second", "FITTER-L"], "\n\ny\n0.3..0.5\n4\n!\n!\n");
    assert!(code == 0 && out.contains("two people entered it"), "{out}{err}");
    let kept = std::fs::read_to_string(folder.path().join("sheets/INV-9.yaml")).unwrap();
    assert!(kept.contains("entered by: [fitter-k, fitter-l]"), "{kept}");
}

/// Who changes a sheet that is in use is asked before the first figure is taken, and once.
#[test]
fn who_changes_a_sheet_is_asked_once() {
    let folder = entered_once();
    let kept = || std::fs::read_to_string(folder.path().join("sheets/INV-9.yaml")).unwrap();
    let change = "\n\n\n\n\n\n\n\ny\n0.3..0.6\n\n0.3..0.7\nnobody\nfitter L\n<\n5\n!\n!\n";
    let (_, out, err) = asfound(folder.path(), &["fill", "sheets", "INV-9"], change);
    assert!(out.contains("Not taken.") && out.contains("Nobody here is known as `nobody`"), "{out}{err}");
    assert!(kept().contains("0.7 mm") && !kept().contains("0.6"), "{}\n{out}", kept());
    assert!(kept().contains("[fitter-k]\nchanged since: [float.axial]\nchanged by: [fitter-l]\n"), "{}", kept());
    assert_eq!(out.matches("Who types this?").count(), 3, "{out}");
}

/// The first entry too is somebody's who is known, once anybody is.
#[test]
fn a_sheet_is_entered_by_somebody_who_is_known() {
    let folder = TempDir::new().unwrap();
    let sheet = |name: &str, who: &str| format!("{name}\nmaker\n{name} manual\n1\n\n{who}\n!\n");
    let kept = |name: &str| std::fs::read_to_string(folder.path().join(format!("sheets/{name}.yaml"))).unwrap();
    let (_, out, err) = asfound(folder.path(), &["fill", "sheets"], &sheet("INV-8", "somebody"));
    assert!(kept("INV-8").contains("entered by: [somebody]"), "nobody is known: {out}{err}");
    let people = "fitter-k\nfitter K\nfi\n\n!\n";
    assert_eq!(asfound(folder.path(), &["fill", "people"], people).0, 0);
    let (_, out, err) = asfound(folder.path(), &["fill", "sheets"], &sheet("INV-9", "nobody\nFitter K"));
    assert!(out.contains("Nobody here is known as `nobody`. Known are: fitter-k."), "{out}{err}");
    assert!(kept("INV-9").contains("entered by: [fitter-k]"), "{out}{err}");
}

/// Who has no Esc and no Tab is told of what a line does; a name is as good as an id.
#[test]
fn a_form_line_by_line_names_no_key() {
    let folder = TempDir::new().unwrap();
    let people = "fitter-k\nfitter K\nfi\n\nfitter-l\nfitter L\nfi\n\n!\n";
    let (_, out, _) = asfound(folder.path(), &["fill", "people"], people);
    let sheet = "INV-9\nmaker\nINV-9 manual\n1\n\n\n\n\ny\n?\n0.3..0.5\n4\n!\n!\n";
    let (_, nobody, _) = asfound(folder.path(), &["fill", "sheets"], sheet);
    assert!(nobody.contains("entered by nobody named: ! goes out, < goes back to `entered by`"), "{nobody}");
    let (_, gauge, _) = asfound(folder.path(), &["fill", "instruments"], "d2\nwheel\n!\n");
    let to_calibrations = "D5\ndial\n?\n0\n1\n\n\n\n\n\n\n\n?\n!\n";
    let (_, dial, _) = asfound(folder.path(), &["fill", "instruments"], to_calibrations);
    assert!(dial.contains("a dial zeroed at the mark reads both ways, as -0.5 to 0.5 mm"), "{dial}");
    assert!(dial.contains("date, expanded U, k, certificate and when it is due"), "{dial}");
    assert!(gauge.contains("; ? lists them."), "{gauge}");
    let back = "\n\n\n\n\nfitter-k\n!\n";
    let (_, named, _) = asfound(folder.path(), &["fill", "sheets", "INV-9"], back);
    let (code, second, err) = asfound(folder.path(), &["fill", "sheets", "INV-9", "--second", "fitter L"], "?\n");
    assert!(code == 0 && second.contains("second entry, blind; ! compares"), "{second}{err}");
    for told in [out, nobody, gauge, named, second] {
        assert!(!told.contains("Esc") && !told.contains("Tab "), "{told}");
    }
}

#[test]
fn a_form_in_which_nothing_was_entered_says_that_it_is_empty() {
    for kind in ["people", "instruments", "sheets", "rotors", "checklists"] {
        let folder = TempDir::new().unwrap();
        let (code, out, err) = asfound(folder.path(), &["fill", kind], "!\n");
        assert_eq!(code, 0, "{err}");
        let last = out.lines().last().unwrap_or_default();
        assert!(last.starts_with("EMPTY, nothing is kept"), "{kind}: {out}");
        assert!(!out.contains("Kept as a draft") && !out.contains("complete"), "{kind}: {out}");
    }
}

/// What comes of a bare figure is said before it is typed and after: one figure in inches makes no sheet in inches.
#[test]
fn a_bare_figure_gets_the_unit_that_its_question_names() {
    let folder = TempDir::new().unwrap();
    let head = "INV-9\nmaker\nINV-9 manual\n1\n\nfitter-k\n";
    // taper 20, flat 10, then an inch, then bare again
    let given = "y\n\n20\n1\n10\n1\n0.04 in\n1\n\n\n330\n1\n!\n";
    let (_, out, _) = asfound(folder.path(), &["fill", "sheets"], &format!("{head}{given}\ny\n>0.28\n4\n!\n!\n"));
    let kept = std::fs::read_to_string(folder.path().join("sheets/INV-9.yaml")).unwrap_or_default();
    assert!(kept.contains("{name: thrust.depth, figure: 0.04 in,"), "{kept}{out}");
    assert!(kept.contains("figure: 330 mm") && kept.contains("above: 0.28 mm"), "{kept}{out}");
    for said in [
        "new taper depth, figure (empty: none; without a unit: mm)?",
        "from where (empty: none; without a unit: mm)?",
        "axial float, new, from where: above 0.28 mm",
    ] {
        assert!(out.contains(said), "{said}: {out}");
    }
    // the levels of one thing share their unit, and it is said
    let (_, out, _) =
        asfound(folder.path(), &["fill", "sheets", "INV-9"], "\n\n\n\n\n\n\n\ny\n>0.30 in\n\n>0.4\n!\n!\n");
    assert!(out.contains("alert, from where (empty: none; without a unit: in)?"), "{out}");
    assert!(out.contains("axial float, alert, from where: above 0.4 in"), "{out}");
}

#[test]
fn beside_an_invented_rotor_the_forms_say_so_line_by_line_too() {
    let folder = TempDir::new().unwrap();
    let (_, out, _) = asfound(folder.path(), &["fill", "people"], "!\n");
    assert!(!out.contains("INVENTED"), "{out}");
    std::fs::create_dir_all(folder.path().join("rotors/DEMO-1")).unwrap();
    let rotor = crate::files::samples::sample("rotors/DEMO-1/rotor.yaml");
    std::fs::write(folder.path().join("rotors/DEMO-1/rotor.yaml"), rotor).unwrap();
    let (_, out, _) = asfound(folder.path(), &["fill", "people"], "!\n");
    assert!(out.starts_with("INVENTED DEMONSTRATION. "), "{out}");
}

/// What is said of a coefficient of expansion is what can be typed.
#[test]
fn an_expansion_is_typed_in_the_unit_that_is_shown_or_per_kelvin() {
    use asfound::domain::characteristic::Given;
    use asfound::records::paper::{Kind, Paper, To};
    let given = To::Given(Given::parse("bush.expansion").unwrap());
    for (typed, kept) in [
        ("18.5", Ok("18.5 um/m/K")),
        ("0.0000185 1/K", Ok("0.0000185 1/K")),
        ("0,0000185 /K", Ok("0.0000185 1/K")),
        ("0.0000185", Err("is not one of a metal, 0.1 to 100 um/m/K, such as 17.5 um/m/K or 0.0000175 1/K.")),
        ("18.5 1/K", Err("is not one of a metal")),
    ] {
        let mut paper = Paper::new(Kind::Sheet);
        assert_eq!(paper.bare_unit(&given).map(|unit| unit.to_string()).as_deref(), Some("um/m/K"));
        let grid = paper.grid(&asfound::records::paper::Place::Given);
        let cell = grid.rows.iter().map(|row| &row.cells[0]).find(|cell| cell.to == given).unwrap();
        match (paper.enter(cell, typed), kept) {
            (Ok(_), Ok(kept)) => {
                assert!(paper.text().contains(&format!("figure: {kept}}}")), "{typed}: {}", paper.text());
                let faults = paper.problems().to_string();
                assert!(!faults.contains("expansion") && !faults.contains("figure"), "{typed}: {faults}");
            }
            (Err(why), Err(said)) => assert!(why.contains(said), "{typed}: {why}"),
            (found, _) => panic!("{typed}: {found:?}"),
        }
    }
}
