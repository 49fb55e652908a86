//! What a form and the check say of what was typed: at the cell that is wrong, by the name that it has there.

use asfound::domain::characteristic::Characteristic;
use asfound::domain::sheet::{Which, far_twins};
use asfound::domain::unit::{Dimension, article};
use asfound::records::instrument_file::read_instrument;
use asfound::records::paper::{Kind, Paper, Place, To};
use asfound::records::sheet_file::read_sheet;
use tempfile::TempDir;

use crate::plain::verbs::asfound;

#[test]
fn what_a_row_still_wants_is_called_as_its_column() {
    let rotor = "# asfound rotor\nformat: 1\nrotor: R-1\nserial: S-1\nmachine: INV-1\nparts:\n";
    let wanted = |part: &str| Paper::open(Kind::Rotor, "R-1", &format!("{rotor}- {part}\n")).unwrap().first_wanted();
    assert_eq!(wanted("{part: shaft, hours: 1 h}").as_deref(), Some("still wanted: at machine hours"));
    assert_eq!(wanted("{part: shaft, machine: 1 h}").as_deref(), Some("still wanted: hours since new"));
    let bare = Paper::open(Kind::Rotor, "R-1", &rotor.replace("machine: INV-1\nparts:\n", "")).unwrap();
    assert_eq!(bare.first_wanted().as_deref(), Some("still wanted: machine type"));
}

fn gauge(rows: &str) -> String {
    format!(
        "# asfound instrument\nformat: 1\ninstrument: M7\nkind: micrometer\nrange: {{from: 25 mm, to: 50 mm}}\n{rows}\n"
    )
}

/// The words behind each fault, up to the next comma.
fn marked(rows: &str) -> Vec<String> {
    let text = gauge(rows);
    let problems = read_instrument("M7.yaml", text.as_bytes()).unwrap_err();
    let at = |line: u32, column: u32| {
        let line = text.lines().nth(line as usize - 1).unwrap();
        line[column as usize - 1..].split([',', '}']).next().unwrap().to_owned()
    };
    problems.iter().map(|one| at(one.at.line, one.at.column)).collect()
}

#[test]
fn a_fault_of_a_row_is_marked_at_the_cell_that_is_wrong() {
    let day = |rest: &str| marked(&format!("calibrations:\n- {{date: 2026-01-10, {rest}}}"));
    assert_eq!(day("expanded: 0.001 mm, k: 2, due: 2025-01-10"), ["2025-01-10"]);
    assert_eq!(day("expanded: 9 mm, k: 20"), ["9 mm", "20"]);
    let row = |piece: &str, shows: &str| marked(&format!("corrections:\n- {{piece: {piece}, shows: {shows}}}"));
    assert_eq!(row("30 mm", "44 mm"), ["44 mm"]);
    assert_eq!(row("30 mm", "30 h"), ["30 h"]);
    assert_eq!(row("60 mm", "60 mm"), ["60 mm"]);
    let form = Paper::open(Kind::Instrument, "M7", &gauge("corrections:\n- {piece: 30 mm, shows: 44 mm}")).unwrap();
    let list = form.grid(&form.kind.first_place()).rows.into_iter().find(|row| row.called == "correction table");
    let To::Open(place) = list.unwrap().cells[0].to.clone() else { panic!("a table") };
    let row = form.grid(&place).rows.remove(0);
    let faults: Vec<_> = row.cells.iter().map(|cell| cell.fault.is_some()).collect();
    assert_eq!(faults, [false, true]);
}

/// Of two lines for one piece nobody can say which corrects.
#[test]
fn a_piece_has_one_line_in_the_correction_table() {
    let rows = "corrections:\n- {piece: 30 mm, shows: 30.001 mm}\n- {piece: 30000 um, shows: 30.002 mm}";
    assert_eq!(marked(rows), ["30000 um"]);
    let said = read_instrument("M7.yaml", gauge(rows).as_bytes()).unwrap_err().to_string();
    assert!(
        said.contains("M7.yaml:8:11: found the piece 30000 um a second time\n  expected: each piece once"),
        "{said}"
    );
    assert!(said.contains("Keep one of the two, or the mean of what both show."), "{said}");
}

#[test]
fn every_dimension_has_its_article() {
    assert_eq!(Dimension::Unbalance.one(), "an unbalance");
    assert_eq!([article("length"), article("angle")], ["a", "an"]);
    let text =
        gauge("").replace("micrometer", "balancer").replace("range: {from: 25 mm, to: 50 mm}\n", "resolution: 1 mm");
    let said = read_instrument("M7.yaml", text.as_bytes()).unwrap_err().to_string();
    assert!(said.contains("found `1 mm`, a length, of a balancer\n  expected: an unbalance"), "{said}");
}

fn sheet(limits: [&str; 2]) -> String {
    let [cs, ts] = limits;
    format!(
        "# asfound limits sheet\nformat: 1\nsheet: T-2\norigin: maker\nmanual: {{title: T, edition: \"1\"}}\nentered by: []\n\
         levels:\n- characteristic: bush.cs.clearance\n  limit: {{above: {cs}, leads to: replace, source: page 1}}\n\
         - characteristic: bush.ts.clearance\n  limit: {{above: {ts}, leads to: replace, source: page 1}}\n"
    )
}

/// Millimetres typed as inches on one side alone: both sides are right as they stand, and one of them is not.
#[test]
fn two_sides_that_are_far_apart_are_told() {
    let folder = TempDir::new().unwrap();
    std::fs::create_dir(folder.path().join("sheets")).unwrap();
    let told = |limits| {
        let text = sheet(limits);
        std::fs::write(folder.path().join("sheets/T-2.yaml"), &text).unwrap();
        let (code, out, err) = asfound(folder.path(), &["check"], "");
        assert_eq!(code, 0, "a remark and no fault: {out}{err}");
        let form = Paper::open(Kind::Sheet, "T-2", &text).unwrap().grid(&Place::Levels).told;
        (out, form.join("\n"))
    };
    let words = "limit of bush.cs.clearance at 0.0010 in, of bush.ts.clearance at 0.0254 in: 10 times apart or more";
    let (out, form) = told(["0.0010 in", "0.0254 in"]);
    assert!(out.contains(&format!("sheets/T-2.yaml:8:3: the {words}. Look whether")), "{out}");
    assert!(form.contains(words), "{form}");
    let (out, form) = told(["0.0010 in", "0.0254 mm"]);
    assert!(!out.contains("apart") && !form.contains("apart"), "{out}{form}");
    let read = |limits| read_sheet("T-2.yaml", sheet(limits).as_bytes()).unwrap();
    let far =
        |limits| far_twins(&read(limits)).map(|far| (far.both.map(Characteristic::id), far.which)).collect::<Vec<_>>();
    let clearance = ["bush.cs.clearance", "bush.ts.clearance"];
    assert_eq!(far(["0.02 mm", "0.2 mm"]), [(clearance, Which::Limit)]);
    assert_eq!(far(["0.021 mm", "0.2 mm"]), []);
}

/// The eye in one column and the hand in another.
#[test]
fn a_level_is_no_source() {
    let mut paper = Paper::open(Kind::Sheet, "T-2", &sheet(["0.2 mm", "0.2 mm"])).unwrap();
    let cell = |paper: &Paper| {
        let rows = paper.grid(&Place::Levels).rows;
        let cells = rows.into_iter().flat_map(|row| row.cells);
        cells
            .into_iter()
            .find(|cell| matches!(cell.to, To::Source(one, Which::Limit) if one.id() == "bush.ts.clearance"))
    };
    let source = cell(&paper).unwrap();
    for level in [">=0.0254 mm", "0.13..0.17", "< 5", "0.0254", "7 thou", ">0.2 <0.1", "guarded", "replace"] {
        let why = paper.enter(&source, level).unwrap_err();
        assert!(why.contains(&format!("`{level}` reads as a level")), "{why}");
        assert_eq!(cell(&paper).unwrap().text, "page 1");
        assert!(paper.enter(&source, &format!("={level}")).is_err(), "nor as it is");
    }
    // a file says it too, at the cell
    let file = sheet(["0.2 mm", "0.2 mm"]).replacen("source: page 1", "source: \"0.05\"", 1);
    let said = read_sheet("T-2.yaml", file.as_bytes()).unwrap_err().to_string();
    assert!(said.contains("T-2.yaml:9:53: found the source `0.05`, which reads as a level"), "{said}");
    assert!(said.contains("Write where it stands in the manual: a page, or a table and line."), "{said}");
    for page in ["12", "3.2", "12..14", "Table 3, line 2", "page 7, > 50 mm", "= letter, >0.2 mm"] {
        paper.enter(&source, page).unwrap();
    }
}
