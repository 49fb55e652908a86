//! Checklists: the ones that come with the program, and every fault one can have.

use asfound::records::checklist_file::{WHOLE, built_in, built_in_names, read_whole};
use asfound::records::file;

#[test]
fn every_checklist_of_the_program_holds_together_and_is_read_back_from_a_record() {
    assert!(built_in_names().count() >= 3);
    for name in built_in_names() {
        let checklist = built_in(name).unwrap().unwrap_or_else(|problems| panic!("{problems}"));
        let text = file::write(&WHOLE, &checklist);
        assert_eq!(read_whole("a.yaml", text.as_bytes()).unwrap_or_else(|problems| panic!("{problems}")), checklist);
    }
    assert!(built_in("none").is_none());
}

#[test]
fn no_file_of_the_checklists_is_forgotten() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/checklists");
    let table = include_str!("../../../src/records/checklist_file/built_in.rs");
    for entry in std::fs::read_dir(folder).unwrap() {
        let name = entry.unwrap().file_name().into_string().unwrap();
        assert!(table.contains(&format!("checklists/{name}\"")), "{name} is not in the table");
    }
}

#[test]
fn a_reckoning_beside_a_step_names_keys_units_and_figures_that_are_there() {
    let text = file::write(&WHOLE, &built_in("overhaul").unwrap().unwrap());
    for (from, to, found, mend) in [
        (
            "reckoning: torque/1, with: {bolts: bolts",
            "reckoning: torque/2, with: {bolts: bolts",
            "torque/2",
            "`torque/1`",
        ),
        ("value: full}", "value: ful}", "`ful`", "`full`"),
        ("with: {bolts: bolts,", "with: {bolt: bolts,", "bolt", "reckon torque --help"),
        ("with: {pair: words}", "with: {pair: \"= 50 H7/f7\", hole: wards}", "`wards`", "one that is there"),
        ("\"{balance.grade}\"", "\"{balance.grad}\"", "{balance.grad}", "`balance.grade`"),
        ("mass: \"{rotor.mass}\"", "mass: \"{rotor.speed}\"", "r/min", "reckon unbalance --help"),
        ("each length", "each photo", "each photo", "one that is there"),
        ("units: {bolts: \"1\"", "units: {bolt: \"1\"", "a unit for `bolt`", "`bolts`"),
        ("rebuild/figures: full", "rebuild/figure: full", "the step `rebuild/figure`", "`rebuild/figures`"),
    ] {
        assert!(text.contains(from), "{from}");
        let problems = read_whole("a.yaml", text.replace(from, to).as_bytes()).unwrap_err().to_string();
        assert!(problems.contains(found) && problems.contains(mend), "{to}: {problems}");
    }
}
