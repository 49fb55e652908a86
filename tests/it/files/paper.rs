//! Forms: what is typed goes through the file's own reader; what is half done is no file yet.

use asfound::records::paper::{Entered, Grid, Kind, Paper, Place, differences, second_of, taken_over};

/// Types texts one after the other where Enter goes; `.` passes a cell as it is.
fn fill(paper: &mut Paper, place: &Place, from: (usize, usize), typed: &[&str]) {
    let mut at = Some(from);
    for text in typed {
        let here = at.unwrap_or_else(|| panic!("nowhere to type {text}:\n{}", shown(&paper.grid(place))));
        let cell = paper.grid(place).cell(here).unwrap().clone();
        if *text == "." {
            let offer = cell.offer.clone().filter(|_| cell.text.is_empty());
            if cell.text.is_empty() && offer.is_none() && here.1 == 0 {
                at = paper.grid(place).below(here.0);
                continue;
            }
            if let Some(offer) = offer {
                assert_eq!(paper.enter(&cell, &offer), Ok(Entered::Taken), "{offer}");
            }
        } else {
            paper.enter(&cell, text).unwrap_or_else(|why| panic!("{text}: {why}\n{}", paper.text()));
        }
        at = paper.grid(place).next(here);
    }
}

fn shown(grid: &Grid) -> String {
    let row = |row: &asfound::records::paper::Row| {
        let cells = row.cells.iter().map(|cell| cell.text.as_str()).collect::<Vec<_>>().join(" | ");
        format!("{} | {cells}\n", row.label)
    };
    grid.rows.iter().map(row).collect()
}

fn row(grid: &Grid, label: &str) -> usize {
    grid.rows
        .iter()
        .position(|row| row.label.contains(label) || row.called.contains(label))
        .unwrap_or_else(|| panic!("{label}\n{}", shown(grid)))
}

#[test]
fn people_are_a_table() {
    let mut paper = Paper::new(Kind::People);
    let place = Kind::People.first_place();
    fill(
        &mut paper,
        &place,
        (0, 0),
        &["fitter-a", "fitter A", "fi", ".", "supervisor-b", "supervisor B", "sup, fit", "."],
    );
    assert_eq!(
        paper.text(),
        "# asfound people\nformat: 1\npeople:\n- {id: fitter-a, name: fitter A, roles: [fitter]}\n- {id: supervisor-b, name: supervisor B, roles: [supervisor, fitter]}\n"
    );
    assert!(paper.is_complete(), "{}", paper.problems());
    fill(&mut paper, &place, (2, 0), &["Fitter-A"]);
    assert!(!paper.is_complete());
    assert!(
        paper.grid(&place).rows[2].cells[0].fault.is_some()
            || paper.grid(&place).rows[2].cells[1].need == asfound::records::paper::Need::Wanted
    );
    fill(&mut paper, &place, (2, 0), &["-"]);
    assert!(paper.is_complete(), "{}", paper.text());
}

#[test]
fn an_instrument_is_filled_in_key_by_key() {
    let mut paper = Paper::new(Kind::Instrument);
    let place = Kind::Instrument.first_place();
    fill(&mut paper, &place, (0, 0), &["M7", "mic", "0 in", "1", "0.0001", "."]);
    assert!(paper.is_complete(), "{}", paper.problems());
    assert!(paper.text().contains("range: {from: 0 in, to: 1 in}\nresolution: 0.0001 in\n"), "{}", paper.text());
    let grid = paper.grid(&place);
    let calibrations = grid.rows[row(&grid, "calibrations")].cells[0].to.clone();
    let asfound::records::paper::To::Open(table) = calibrations else { panic!("{}", shown(&grid)) };
    fill(&mut paper, &table, (0, 0), &["2031-01-10", "0.0001", "2", "INV-C-3", "2032-01-10"]);
    assert!(paper.is_complete(), "{}", paper.problems());
    let again = "  - {date: 2031-01-10, expanded: 0.0001 in, k: 2, certificate: INV-C-3, due: 2032-01-10}";
    assert!(paper.text().contains(again.trim()), "{}", paper.text());
}

fn sheet() -> Paper {
    let mut paper = Paper::new(Kind::Sheet);
    let place = Kind::Sheet.first_place();
    fill(&mut paper, &place, (0, 0), &["INV-77", "maker", "INV-77 manual (invented)", "2", "yes", "fitter-a"]);
    fill(&mut paper, &Place::Given, (0, 0), &["5", "3"]);
    paper
}

#[test]
fn levels_are_typed_short_and_stand_in_full() {
    let mut paper = sheet();
    assert!(paper.is_complete(), "{}", paper.problems());
    let place = Place::Levels;
    let at = row(&paper.grid(&place), "float");
    fill(&mut paper, &place, (at, 0), &["0.13..0.17 mm", "12"]);
    assert!(paper.is_complete(), "{}", paper.problems());
    fill(&mut paper, &place, (at + 1, 0), &[">=.21"]);
    assert!(!paper.is_complete(), "a level without a source is refused");
    fill(&mut paper, &place, (at + 1, 3), &[".", "> 0.22 <.13", "replace", ".", ".", ".21", "."]);
    assert!(paper.is_complete() || paper.text().contains("axial"), "{}", paper.problems());
    let said = "  new: {at or above: 0.13 mm, at or below: 0.17 mm, source: \"INV-77 manual (invented), edition 2, page 12\"}\n  alert: {at or above: 0.21 mm, source: \"INV-77 manual (invented), edition 2, page 12\"}\n  limit: {below: 0.13 mm, above: 0.22 mm, leads to: replace, source:";
    assert!(paper.text().contains(said.split("limit").next().unwrap()), "{}", paper.text());
    assert!(paper.text().contains("leads to: replace"), "{}", paper.text());
}

#[test]
fn a_sheet_entered_twice_says_so_and_only_while_it_stands() {
    let mut first = sheet();
    fill(&mut first, &Place::Levels, (0, 0), &["0.3..0.5", "7"]);
    let second = second_of(first.text(), "supervisor-b", &[]).unwrap();
    assert!(second_of(first.text(), "fitter-a", &[]).is_err());
    let mut second = Paper::open(Kind::Sheet, "second", &second).unwrap().same_hand();
    assert!(!second.text().contains("0.5") && !second.text().contains("given"), "blind: {}", second.text());
    fill(&mut second, &Place::Given, (0, 0), &["5", "3"]);
    fill(&mut second, &Place::Levels, (0, 0), &["0.3..0.55", "7"]);
    assert_eq!(differences(first.text(), second.text()).unwrap().len(), 1);
    assert!(taken_over(first.text(), second.text()).is_err());
    fill(&mut second, &Place::Levels, (0, 0), &["0.3..0.5"]);
    let both = taken_over(first.text(), second.text()).unwrap();
    assert!(both.contains("entered by: [fitter-a, supervisor-b]"), "{both}");
    let mut both = Paper::open(Kind::Sheet, "both", &both).unwrap();
    // somebody changes a figure: that one was typed once, the others were typed twice
    fill(&mut both, &Place::Levels, (0, 0), &["0.3..0.6"]);
    let id = both.grid(&Place::Levels).told[0].rsplit(' ').next().unwrap().to_owned();
    let said = format!("entered by: [fitter-a, supervisor-b]\nchanged since: [{id}]\n");
    assert!(both.text().contains(&said) && both.is_complete(), "{}{}", both.text(), both.problems());
    assert_eq!(both.grid(&Place::Levels).told[0], format!("changed since it was entered, each typed once: {id}"));
    assert!(asfound::domain::characteristic::Characteristic::parse(&id).is_some(), "{id}");
    // one line, however many: the others below it stay in sight
    let (once, more) = (format!("changed since: [{id}]"), format!("changed since: [{id}, bush.ts.pin, shaft.ts.step]"));
    let many = Paper::open(Kind::Sheet, "many", &both.text().replace(&once, &more)).unwrap();
    assert_eq!(many.grid(&Place::Levels).told[0], format!("changed since it was entered, each typed once: {id} (+2)"));
    fill(&mut both, &Place::Levels, (0, 0), &["0.3..0.65"]);
    assert!(both.text().contains(&said), "named once: {}", both.text());
    // typed blind by a third, all of it is entered a second time
    let again = second_of(both.text(), "supervisor-d", &[]).unwrap();
    let mut again = Paper::open(Kind::Sheet, "second", &again).unwrap().same_hand();
    assert!(!again.text().contains("changed since"), "{}", again.text());
    fill(&mut again, &Place::Given, (0, 0), &["5", "3"]);
    fill(&mut again, &Place::Levels, (0, 0), &["0.3..0.65", "7"]);
    assert!(!taken_over(both.text(), again.text()).unwrap().contains("changed since"));
    // a name typed over theirs answers for all of it, and changes what it has typed itself
    let place = Kind::Sheet.first_place();
    let by = row(&both.grid(&place), "entered by");
    fill(&mut both, &place, (by, 0), &["fitter-c"]);
    fill(&mut both, &Place::Levels, (0, 0), &["0.3..0.7"]);
    assert!(both.text().contains("entered by: [fitter-c]\n") && !both.text().contains("since"), "{}", both.text());
}

/// Whoever changes a sheet is asked, kept, and no second person; the names are of those who typed the present figures.
#[test]
fn who_changed_a_sheet_is_asked_once_and_is_no_second_person() {
    let mut first = sheet();
    fill(&mut first, &Place::Levels, (0, 0), &["0.3..0.5", "7"]);
    let again = |first: &Paper, by: &str, upper: &str| {
        let second = second_of(first.text(), by, &people()).unwrap();
        let mut second = Paper::open(Kind::Sheet, "second", &second).unwrap().same_hand();
        fill(&mut second, &Place::Given, (0, 0), &["5", "3"]);
        fill(&mut second, &Place::Levels, (0, 0), &[&format!("0.3..{upper}"), "7"]);
        taken_over(first.text(), second.text())
    };
    let beside = || std::sync::Arc::new(asfound::records::paper::Beside { people: people(), ..Default::default() });
    let both = again(&first, "supervisor-b", "0.5").unwrap();
    let mut both = Paper::open(Kind::Sheet, "both", &both).unwrap().beside(beside());
    let before = both.text().to_owned();
    let cell = both.grid(&Place::Levels).rows[0].cells[0].clone();
    assert_eq!(both.enter(&cell, "0.3..0.6"), Ok(Entered::Asks));
    assert_eq!(both.text(), before, "nothing is taken before it is said who types");
    assert!(both.typed_by("nobody").is_err());
    both.typed_by("supervisor B").unwrap();
    fill(&mut both, &Place::Levels, (0, 0), &["0.3..0.6"]);
    let said = "entered by: [fitter-a, supervisor-b]\nchanged since: [float.axial]\nchanged by: [supervisor-b]\n";
    assert!(both.text().contains(said) && both.is_complete(), "{}{}", both.text(), both.problems());
    for by in ["fitter-a", "supervisor-b"] {
        assert!(second_of(both.text(), by, &people()).is_err(), "{by}");
    }
    let text = again(&both, "fitter-c", "0.6").unwrap();
    assert!(text.contains("entered by: [fitter-a, supervisor-b, fitter-c]\n") && !text.contains("changed"), "{text}");
    let read = asfound::records::sheet_file::read_sheet("INV", text.as_bytes()).unwrap();
    let words = read.entered_words(&people());
    assert!(words.ends_with("entered by fitter A, supervisor B and again by fitter C"), "{words}");
    // whoever changes the first entry while a second one lies half done is no second person any more
    let second = second_of(both.text(), "fitter-c", &people()).unwrap();
    assert!(asfound::records::paper::still_second(both.text(), &second, &people()));
    both.typed_by("fitter-c").unwrap();
    fill(&mut both, &Place::Levels, (0, 0), &["0.3..0.7"]);
    assert!(!asfound::records::paper::still_second(both.text(), &second, &people()));
    // whoever alone has entered it changes it as their own
    let mut own = Paper::open(Kind::Sheet, "own", first.text()).unwrap().beside(beside());
    own.typed_by("fitter A").unwrap();
    fill(&mut own, &Place::Levels, (0, 0), &["0.3..0.6"]);
    assert!(!own.text().contains("changed"), "{}", own.text());
}

fn people() -> Vec<asfound::domain::person::Person> {
    let lines = ["fitter-a, name: fitter A", "supervisor-b, name: supervisor B", "fitter-c, name: fitter C"];
    let lines = lines.map(|line| format!("- {{id: {line}, roles: [fitter]}}\n")).concat();
    let text = format!("format: 1\npeople:\n{lines}");
    asfound::records::people_file::read_people("people.yaml", text.as_bytes()).unwrap()
}

/// One size is one size in whichever unit, and a page is one page, with the manual before it or in a table without.
#[test]
fn what_is_typed_in_another_unit_or_behind_another_wording_of_the_source_agrees() {
    let mut first = sheet();
    fill(&mut first, &Place::Levels, (0, 0), &["0.3..0.5 mm", "7"]);
    let table = first.text().replace("0.5 mm", "500 um").replace("INV-77 manual (invented), edition 2, page", "page");
    assert!(table.contains("500 um") && table.contains("source: \"page 7\""), "{table}");
    assert_eq!(differences(&table, first.text()), Ok(Vec::new()));
    for (from, to) in [("500 um", "501 um"), ("500 um", "5 mm"), ("page 7", "page 8")] {
        assert_eq!(differences(&table.replace(from, to), first.text()).map(|all| all.len()), Ok(1), "{to}");
    }
}

/// Nobody has typed twice what only one has typed: figures of the machine, and what it does not have, as the levels.
/// A slip in the unit of the first entry is none that the second one makes by itself.
#[test]
fn who_types_it_a_second_time_gets_no_unit_from_the_first() {
    let mut first = sheet();
    fill(&mut first, &Place::Levels, (0, 0), &["300..500 um", "7"]);
    assert!(first.is_complete(), "{}", first.problems());
    let known = asfound::records::sheet_file::read_sheet("INV-77.yaml", first.text().as_bytes()).unwrap();
    let beside = |sheets| std::sync::Arc::new(asfound::records::paper::Beside { sheets, ..Default::default() });
    let second = second_of(first.text(), "supervisor-b", &[]).unwrap();
    let second = Paper::open(Kind::Sheet, "second", &second).unwrap().same_hand();
    let cell = |paper: &Paper| paper.grid(&Place::Levels).rows[0].cells[0].to.clone();
    let blind = second.clone().beside(beside(vec![known.clone()]));
    assert_eq!(blind.bare_unit(&cell(&blind)), Some(asfound::domain::unit::Unit::Millimetre));
    // another machine's sheet tells what this workshop types in
    let other = asfound::domain::sheet::Sheet { id: "INV-78".parse().unwrap(), ..known };
    let told = second.beside(beside(vec![other]));
    assert_eq!(told.bare_unit(&cell(&told)), Some(asfound::domain::unit::Unit::Micrometre));
}

#[test]
fn two_bounds_on_one_side_are_refused_with_why() {
    let mut paper = sheet();
    let place = Place::Levels;
    fill(&mut paper, &place, (0, 0), &["0.3..0.5 mm", "7"]);
    for typed in ["<0.3 mm <0.2 >0.5", ">0.5 mm >0.4", ">=0.5 mm >0.4", "<=0.3 mm <0.2"] {
        for at in [0, 2] {
            let before = paper.text().to_owned();
            let cell = paper.grid(&place).rows[at].cells[0].clone();
            let why = paper.enter(&cell, typed).unwrap_err();
            assert!(why.starts_with("Two bounds are typed for the side"), "{typed}: {why}");
            assert_eq!(paper.text(), before);
        }
    }
}

#[test]
fn figures_of_the_machine_and_what_it_lacks_are_typed_twice_too() {
    let mut first = sheet();
    let lacks = row(&first.grid(&Place::Absent), "run-out, middle");
    fill(&mut first, &Place::Absent, (lacks, 0), &["no such station"]);
    let second = second_of(first.text(), "supervisor-b", &[]).unwrap();
    let mut second = Paper::open(Kind::Sheet, "second", &second).unwrap().same_hand();
    let again: Vec<_> = second.grid(&Place::Again).rows.into_iter().map(|row| row.label).collect();
    assert_eq!(again, ["figures of the machine", "not on this machine", "levels"]);
    let said = |second: &Paper| {
        let all = differences(first.text(), second.text()).unwrap();
        all.iter().map(ToString::to_string).collect::<Vec<_>>()
    };
    // what the second has not typed yet is named without its figure
    let missing = "run-out, middle (shaft.runout.mid): in the first entry, not in the second";
    let lands = "lands on each side (thrust.lands): in the first entry, not in the second";
    assert_eq!(said(&second), [lands, missing]);
    assert!(taken_over(first.text(), second.text()).is_err(), "not typed again");
    fill(&mut second, &Place::Given, (0, 0), &["6", "3"]);
    fill(&mut second, &Place::Absent, (lacks, 0), &["none, in other words"]);
    assert_eq!(said(&second), ["lands on each side (thrust.lands): first 5; second 6"]);
    fill(&mut second, &Place::Given, (0, 0), &["5"]);
    let both = taken_over(first.text(), second.text()).unwrap();
    assert!(both.contains("entered by: [fitter-a, supervisor-b]") && both.contains("no such station"), "{both}");
    // what one changes behind the two has been typed by that one only
    let mut both = Paper::open(Kind::Sheet, "both", &both).unwrap();
    let float = row(&both.grid(&Place::Absent), "axial float");
    fill(&mut both, &Place::Absent, (float, 0), &["a bearing of another sort"]);
    fill(&mut both, &Place::Absent, (lacks, 0), &["it was taken away"]);
    assert!(both.text().contains("changed since: [float.axial, shaft.runout.mid]\n"), "{}", both.text());
    assert!(both.is_complete(), "{}", both.problems());
    // and so is what is taken out
    fill(&mut both, &Place::Absent, (lacks, 0), &["-"]);
    let taken_over = taken_over(first.text(), second.text()).unwrap();
    let mut both = Paper::open(Kind::Sheet, "both", &taken_over).unwrap();
    fill(&mut both, &Place::Absent, (lacks, 0), &["-"]);
    assert!(both.text().contains("changed since: [shaft.runout.mid]\n"), "{}", both.text());
    let read = |text: &str| asfound::records::sheet_file::read_sheet("INV", text.as_bytes()).unwrap();
    let mut less = read(&taken_over);
    less.absent.clear();
    less.given.clear();
    let since: Vec<_> = less.in_place_of(Some(&read(&taken_over)), None).changed_since.into_iter().collect();
    assert!(since.contains(&"shaft.runout.mid".to_owned()) && since.contains(&"thrust.lands".to_owned()), "{since:?}");
}

/// Two who read one page write one source, whatever their capitals; another page is another level.
#[test]
fn sources_and_part_numbers_are_typed_twice_too() {
    let text =
        std::fs::read_to_string(format!("{}/docs/files/sheets/INV-420.yaml", env!("CARGO_MANIFEST_DIR"))).unwrap();
    let said = |from: &str, to: &str| {
        assert!(text.contains(from), "{from}");
        let all = differences(&text, &text.replacen(from, to, 1)).unwrap();
        all.into_iter().map(|one| one.what).collect::<Vec<_>>()
    };
    let source = text.split("source: ").nth(1).unwrap().split(['}', '\n']).next().unwrap();
    assert!(said(source, &source.to_uppercase()).is_empty());
    let other = said(&format!("source: {source}"), "source: page 99");
    assert!(other.len() == 1 && other[0].ends_with(", source"), "{other:?}");
    let number = text.split("part number: ").nth(1).unwrap().split('\n').next().unwrap();
    let other = said(&format!("part number: {number}"), "part number: INV-9999");
    assert!(other.len() == 1 && other[0].ends_with(", part number"), "{other:?}");
}

/// What a gauge passes is told of what its range reaches alone.
#[test]
fn a_gauge_passes_nothing_that_it_cannot_show() {
    use asfound::records::checklist_file::built_in;
    use asfound::records::paper::Beside;
    let text =
        std::fs::read_to_string(format!("{}/docs/files/sheets/INV-420.yaml", env!("CARGO_MANIFEST_DIR"))).unwrap();
    // a limit on the thickness of the collar, which is 20 mm, and on a journal of 60 mm
    let text = format!(
        "{text}- characteristic: collar.thickness\n  new: {{at or above: 20.0 mm, source: x}}\n  limit: {{below: 19.8 mm, leads to: replace, rule: guarded, source: x}}\n- characteristic: shaft.ts.ovality\n  new: {{at or below: 0.01 mm, source: x}}\n  limit: {{above: 0.03 mm, leads to: replace, rule: guarded, source: x}}\n"
    );
    let sheet = asfound::records::sheet_file::read_sheet("INV-420", text.as_bytes()).unwrap();
    let machine = sheet.id.clone();
    let checklist = built_in("overhaul").unwrap().unwrap();
    let beside = std::sync::Arc::new(Beside { sheets: vec![sheet], checklists: vec![checklist], ..Beside::default() });
    let told = |range: &str| {
        let gauge = format!(
            "format: 1\ninstrument: M1\nkind: micrometer\nrange: {{{range}}}\nresolution: 0.001 mm\ncalibrations:\n- {{date: 2031-01-10, expanded: 0.002 mm, k: 2}}\n"
        );
        let paper = Paper::open(Kind::Instrument, "M1", &gauge).unwrap().beside(beside.clone());
        assert!(paper.is_complete(), "{}", paper.problems());
        shown(&paper.grid(&Place::Passes(machine.clone())))
    };
    let (small, large) = (told("from: 0 mm, to: 25 mm"), told("from: 50 mm, to: 75 mm"));
    assert!(small.contains("thickness") && !small.contains("ovality"), "{small}");
    assert!(large.contains("ovality") && !large.contains("thickness"), "{large}");
}

#[test]
fn comments_stay_whatever_a_form_writes() {
    let text =
        std::fs::read_to_string(format!("{}/docs/files/sheets/INV-420.yaml", env!("CARGO_MANIFEST_DIR"))).unwrap();
    let text = text
        .replace("levels:\n", "levels:\n# typed from the paper copy\n")
        .replace("mm}\nabsent", "mm} # checked\nabsent");
    let mut paper = Paper::open(Kind::Sheet, "INV-420", &text).unwrap();
    let at = row(&paper.grid(&Place::Levels), "step wear, turbine");
    fill(&mut paper, &Place::Levels, (at + 2, 0), &[">=table"]);
    assert_eq!(paper.text(), text, "the table of bands stays");
    fill(&mut paper, &Place::Levels, (at, 0), &["<=0.002", "t1 l5"]);
    assert!(paper.text().contains("# typed from the paper copy"));
    let both = "entered by: [fitter-a, supervisor-b]\n";
    assert!(
        paper.text().contains(both) && paper.text().contains("changed since: [shaft.ts.step]\n"),
        "{}",
        paper.text()
    );
}

#[test]
fn what_a_grade_leads_to_is_one_word_or_several_between_brackets() {
    use asfound::records::checklist_file::read_whole;
    use asfound::records::edit::Path;
    let short = std::fs::read_to_string(format!("{}/docs/files/checklists/short.yaml", env!("CARGO_MANIFEST_DIR")));
    let mut paper = Paper::open(Kind::Checklist, "short", &short.unwrap()).unwrap();
    let scoring = Path::root().key("parts").item(1).key("findings").item(0);
    let place = Place::Fields(scoring);
    let at = row(&paper.grid(&place), "grades");
    for typed in ["light: watch, deep or many: [replace, refer]", "light: [watch, call], deep or many: replace"] {
        fill(&mut paper, &place, (at, 0), &[typed]);
        assert_eq!(paper.grid(&place).rows[at].cells[0].text, typed, "shown as it is typed");
        assert!(paper.text().contains(&format!("grades: {{{typed}}}")) && paper.is_complete(), "{}", paper.text());
        let part = read_whole("short", paper.text().as_bytes()).unwrap().part("bush.ts").unwrap().clone();
        let words = part.findings[0].grades.iter().map(asfound::domain::checklist::Grade::leads_to_in_words);
        let words: Vec<_> = words.collect();
        assert!(words.iter().any(|words| words.contains(" and ")), "{words:?}");
    }
}
