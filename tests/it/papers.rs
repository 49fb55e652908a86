//! What is read off the records: due, trend and the papers, from outside on the demonstration's three inspections.

use std::path::{Path, PathBuf};
use std::sync::OnceLock;

use assert_cmd::Command;
use serde_json::Value;
use tempfile::TempDir;

pub(super) fn asfound(folder: &Path, words: &[&str]) -> (i32, String, String) {
    let mut command = Command::cargo_bin("asfound").unwrap();
    let output = command.arg("--data").arg(folder).args(words).output().unwrap();
    let text = |bytes: &[u8]| String::from_utf8(bytes.to_vec()).unwrap();
    (output.status.code().unwrap(), text(&output.stdout), text(&output.stderr))
}

/// The demonstration's folder with its third inspection filled in, made once.
pub(super) fn demo() -> PathBuf {
    static MADE: OnceLock<TempDir> = OnceLock::new();
    let made = MADE.get_or_init(|| {
        let folder = TempDir::new().unwrap();
        let (code, _, err) = asfound(folder.path(), &["demo", "--typed"]);
        assert_eq!(code, 0, "{err}");
        folder
    });
    made.path().join("demo")
}

fn json(folder: &Path, words: &[&str]) -> Value {
    let (code, out, err) = asfound(folder, words);
    assert_eq!(code, 0, "{err}");
    serde_json::from_str(&out).unwrap()
}

#[test]
fn what_is_due_comes_with_its_reason_and_the_demonstration_stays_out() {
    let told = json(&demo(), &["due", "--json"]);
    let due = told["due"].as_array().unwrap();
    let planned = due.iter().find(|one| one["what"] == "next opening").unwrap();
    assert_eq!((planned["rotor"].as_str(), planned["because"].as_str()), (Some("DEMO-1"), Some("as planned")));
    let days: Vec<_> = due.iter().map(|one| one["day"].as_str().unwrap().to_owned()).collect();
    assert!(days.is_sorted(), "{days:?}");
    // the demonstration's bush is replaced: what it would have worn does not come due
    assert!(!due.iter().any(|one| one["what"].as_str().unwrap().contains("Bush, turbine side")), "{due:#?}");
    let (code, out, _) = asfound(&demo(), &["due"]);
    assert!(code == 0 && out.contains("DEMO-1  next opening: as planned, by hours, at "), "{out}");
    let above = demo().parent().unwrap().to_owned();
    let (code, out, _) = asfound(&above, &["due"]);
    assert_eq!((code, out.as_str()), (0, "Nothing is planned on any rotor.\n"));
}

#[test]
fn a_trend_runs_on_the_parts_own_hours_to_the_next_opening() {
    let told = json(&demo(), &["trend", "DEMO-1", "bush.ts.clearance", "--json"]);
    let trend = &told["trends"][0];
    let openings = trend["openings"].as_array().unwrap();
    // DEMO.md: fitted new at the first opening, read at the second and now
    assert_eq!(openings.len(), 3, "{trend:#}");
    assert_eq!((openings[0]["hours"].as_str(), openings[0]["as_left"].as_bool()), (Some("0"), Some(true)));
    // 0.214 as read, less the 0.00006 that bush and journal have grown apart by 22 degC
    assert_eq!((openings[2]["value"].as_str(), trend["forecast"]["limit"].as_str()), (Some("0.21394"), Some("0.220")));
    assert_eq!(trend["forecast"]["leads_to"], "replace");
    let (code, out, _) = asfound(&demo(), &["trend", "DEMO-1", "bush.ts.clearance"]);
    assert!(code == 0 && out.contains("hours left: by the line") && out.contains("lift/1"), "{out}");
    assert!(out.lines().next().unwrap().ends_with("-overhaul  (INVENTED DEMONSTRATION)"), "{out}");
    assert_eq!(told["invented"], true);
    assert!(!out.contains("= limit\n   *") && !out.contains('\u{1b}'), "a pipe gets no drawing: {out}");
    let (code, _, err) = asfound(&demo(), &["trend", "DEMO-1", "bush.ts.clearence"]);
    assert!(code == 2 && err.contains("Did you mean `bush.ts.clearance`?"), "{err}");
    let (code, _, err) = asfound(&demo(), &["trend", "DEMO-9"]);
    assert!(code == 2 && err.contains("there is no record `DEMO-9`"), "{err}");
}

/// The id of the demonstration's present record.
fn record() -> String {
    let told = json(&demo(), &["trend", "DEMO-1", "float.axial", "--json"]);
    told["inspection"].as_str().unwrap().to_owned()
}

#[test]
fn the_record_on_paper_stands_alone_and_says_what_it_is() {
    let (code, paper, err) = asfound(&demo(), &["report", &record()]);
    assert_eq!(code, 0, "{err}");
    for said in [
        "INVENTED DEMONSTRATION",
        "Will it last? </b>Not as it lies: 3 parts to replace",
        "INV-420: maker's limits, INV-420 manual (invented), edition 3, entered by fitter A and again by supervisor B",
        "locking pin wear 1.4 mm (near the tip)",
        // a reading as typed, with who and when, and its working
        "inner 0 / 3 / up: typed",
        "mean = sum of c / n = ",
        "table 1 line 3",
        "not signed in the record",
        "size:A4",
    ] {
        assert!(paper.contains(said), "no `{said}`");
    }
    for outside in ["http", "src=", "<script", "<link"] {
        assert!(!paper.contains(outside), "the paper needs `{outside}`");
    }
    let (code, _, err) = asfound(&demo(), &["report", "DEMO-1/1999-01-01-overhaul"]);
    assert!(code == 2 && err.contains("there is no record"), "{err}");
}

#[test]
fn what_is_referred_and_what_to_order_follow_from_the_record() {
    let told = json(&demo(), &["refer", &record(), "--json"]);
    let parts: Vec<_> = told["referred"].as_array().unwrap().iter().map(|one| one["part"].as_str().unwrap()).collect();
    // DEMO.md 5: float and step wear are referred by their limits, the dent by its finding
    assert_eq!(parts, ["rotor", "shaft", "impeller"]);
    let (_, letter, _) = asfound(&demo(), &["refer", &record()]);
    assert!(letter.contains("We ask for your decision, in writing, on:\n1. Rotor in its bearings"), "{letter}");
    assert!(letter.contains("number 7, others 15") && letter.starts_with("INVENTED"), "{letter}");
    let told = json(&demo(), &["spares", &record(), "--json"]);
    let numbers = told["order"].as_array().unwrap().iter().map(|one| one["part_number"].as_str().unwrap());
    assert_eq!(numbers.collect::<Vec<_>>(), ["INV-420-P07", "INV-420-P03", "INV-420-P16"]);
    let (_, list, _) = asfound(&demo(), &["spares", &record()]);
    assert!(list.contains("1 x Bush, turbine side, part number INV-420-P03"), "{list}");
}

#[test]
fn a_part_on_which_nothing_was_judged_is_never_called_reuse() {
    let told = json(&demo(), &["show", &record(), "--json"]);
    let words = |part: &str| {
        let parts = told["parts"].as_array().unwrap();
        let one = parts.iter().find(|one| one["part"] == part).unwrap();
        (one["computed"].as_str().unwrap().to_owned(), one["disposition"].as_str().unwrap().to_owned())
    };
    for (part, word) in [("turbine", "looked at"), ("fragments", "not judged"), ("rebuild", "to do")] {
        assert_eq!(words(part), (word.to_owned(), word.to_owned()), "{part}");
    }
    assert_eq!(words("bush.cs").0, "reuse");
}

/// The demonstration's sheet with another unit behind its lengths.
#[test]
fn a_form_beside_levels_in_another_unit_says_how_that_is_written() {
    let folder = TempDir::new().unwrap();
    let sheet = std::fs::read_to_string(demo().join("sheets/INV-420.yaml")).unwrap();
    std::fs::create_dir_all(folder.path().join("sheets")).unwrap();
    let sheet =
        sheet.replace("g mm", "g_mm").replace(" mm,", " thou,").replace(" mm}", " thou}").replace("g_mm", "g mm");
    std::fs::write(folder.path().join("sheets/INV-420.yaml"), sheet).unwrap();
    let (code, forms, err) = asfound(folder.path(), &["blank", "--machine", "INV-420"]);
    assert_eq!(code, 0, "{err}");
    assert!(forms.contains("In mm, or with `thou` written behind each figure. Gauge: dial gauge"), "{forms}");
    let (_, own, _) = asfound(&demo(), &["blank", "--machine", "INV-420"]);
    assert!(own.contains("In mm. Gauge: dial gauge"), "{own}");
}

#[test]
fn empty_forms_have_every_place_in_the_hands_order() {
    let (code, forms, err) = asfound(&demo(), &["blank", "--machine", "INV-420"]);
    assert_eq!(code, 0, "{err}");
    let table = forms.split("Bush, turbine side / clearance by lift").nth(1).unwrap();
    let table = table.split("</section>").next().unwrap();
    let head: Vec<_> = table.split("<th>").skip(1).map(|cell| cell.split("</th>").next().unwrap()).collect();
    assert_eq!(head, ["place", "1 down", "1 up", "2 down", "2 up", "3 down", "3 up"]);
    let places: Vec<_> =
        ["outer 0", "outer 90", "inner 0", "inner 90"].map(|place| table.find(place).unwrap()).to_vec();
    assert!(places.is_sorted(), "{table}");
    assert!(
        table.contains("limit: below 0.130 mm or above 0.220 mm, leads to replace")
            && table.contains("class=\"caution\"")
    );
    let torques = forms.split("Back together / torques as the manual has them").nth(1).unwrap();
    let torques = torques.split("</section>").next().unwrap();
    for words in [
        "In N m, bolts as a number, stage 1 in %",
        "<td>shaft nut bolts</td>",
        "order of the bolts, when it is typed in:",
    ] {
        assert!(torques.contains(words), "{words}: {torques}");
    }
    // what is counted has no unit and no gauge to be named
    assert!(forms.contains("<p>Pieces, counted. ") && !forms.contains("in 1. ") && !forms.contains("In 1"));
    assert!(forms.contains("<td>land 8</td>") && !forms.contains("<td>land 9</td>"), "eight lands on this machine");
    // by the sheet the machine's bushes have no outer film: no step to measure one, and none is counted
    assert!(!forms.contains("outer clearance"), "a step that this machine does not have");
}

#[test]
fn empty_forms_have_room_to_write_and_say_whose_they_are() {
    let (code, of_rotor, err) = asfound(&demo(), &["blank", "--rotor", "demo-1"]);
    assert_eq!(code, 0, "{err}");
    assert!(of_rotor.contains("rotor <b>DEMO-1</b>") && !of_rotor.contains("INV-420-0017"), "the serial is read off");
    let dent = of_rotor.split("<td>dent</td>").nth(1).unwrap().split("</tr>").next().unwrap();
    for ask in ["number", "place", "length"] {
        assert!(dent.contains(&format!("{ask} <span class=\"line\">")), "room for {ask}: {dent}");
    }
    let soak = of_rotor.split("soak").find(|text| text.contains("clock started at")).unwrap();
    assert!(soak.contains("common practice") && soak.contains("stopped at"), "{soak}");
    let sections = of_rotor.matches("<section>").count();
    let left_out = of_rotor.matches("left out, because <span").count();
    assert!(sections > 100 && left_out + 2 == sections, "{left_out} of {sections}: all but the two signatures");
}

#[test]
fn empty_forms_are_of_a_machine_that_is_there() {
    let (code, _, err) = asfound(&demo(), &["blank", "--rotor", "DEMO-9"]);
    assert!(code == 2 && err.contains("there is no rotor `DEMO-9`. Known are: DEMO-1."), "{err}");
    let (_, bare, _) = asfound(&demo(), &["blank"]);
    assert!(bare.contains("outer clearance"), "without a sheet nothing is left out");
    assert!(bare.contains("<td>land 12</td>") && !bare.contains("leads to replace;"), "no level without a sheet");
    let (code, _, err) = asfound(&demo(), &["blank", "nothing"]);
    assert!(code == 2 && err.contains("Known are overhaul, bearing, cleaning."), "{err}");
    let (code, _, err) = asfound(&demo(), &["blank", "--machine", "INV-421"]);
    assert!(code == 2 && err.contains("there is no sheet `INV-421`"), "{err}");
    std::fs::write(demo().parent().unwrap().join("settings.yaml"), "format: 1\npaper: Letter\n").unwrap();
    let (_, letter, _) = asfound(demo().parent().unwrap(), &["blank", "bearing"]);
    assert!(letter.contains("size:letter"));
}

/// Whoever reads a paper has no keys: reports, letters, lists and blanks speak of the work alone.
#[test]
fn no_paper_speaks_of_keys_or_lists_on_a_screen() {
    let records = std::fs::read_dir(demo().join("rotors/DEMO-1")).unwrap().map(|file| file.unwrap().path());
    let records: Vec<_> =
        records.filter(|path| path.is_file() && path.to_string_lossy().contains("overhaul")).collect();
    assert_eq!(records.len(), 3, "{records:?}");
    let mut papers: Vec<String> = Vec::new();
    for record in records {
        let id = format!("DEMO-1/{}", record.file_stem().unwrap().to_string_lossy());
        papers.extend(["report", "refer", "spares"].map(|verb| asfound(&demo(), &[verb, &id]).1));
    }
    papers.extend(["overhaul", "bearing", "cleaning"].map(|name| asfound(&demo(), &["blank", name]).1));
    for paper in papers {
        for word in ["Esc ", "Esc,", "(what else)", "(all steps)", "Ctrl", "ress Enter", "; Enter"] {
            let at = paper.find(word).map(|at| &paper[at.saturating_sub(80)..(at + 40).min(paper.len())]);
            assert!(at.is_none(), "`{word}` on a paper: {at:?}");
        }
    }
}

/// The text of a piece of HTML.
fn words_of(html: &str) -> String {
    html.split('<').map(|piece| piece.split_once('>').map_or(piece, |(_, text)| text)).collect::<Vec<_>>().join(" ")
}

/// The least that a table needs, in tenths of a mm: column by column its longest word at 1.9 mm a letter, and the boxes of
/// the stylesheet.
fn least_width(table: &str) -> usize {
    let mut columns: Vec<usize> = Vec::new();
    for row in table.split("<tr").skip(1) {
        let row = row.replace("<th>", "<td>");
        for (at, cell) in row.split("<td").skip(1).enumerate() {
            let longest = words_of(cell).split_whitespace().map(|word| word.chars().count()).max().unwrap_or(0);
            let boxed = match () {
                () if cell.starts_with(" class=\"words\"") => 700,
                () if cell.starts_with(" class=\"box\"") && cell.contains("class=\"line\"") => 250,
                () if cell.starts_with(" class=\"box\"") => 160,
                () => 0,
            };
            columns.resize(columns.len().max(at + 1), 0);
            columns[at] = columns[at].max(boxed.max(19 * longest) + 40);
        }
    }
    columns.iter().sum()
}

/// A4 less its margins is 180 mm wide; print below 6 point is not read by a hand lamp. Source: common practice.
#[test]
fn every_table_of_the_empty_forms_fits_the_page_and_nothing_is_printed_too_small() {
    for words in [&["blank"][..], &["blank", "bearing"], &["blank", "cleaning"], &["blank", "--machine", "INV-420"]] {
        let (code, page, err) = asfound(&demo(), words);
        assert_eq!(code, 0, "{err}");
        let (style, body) = page.split_once("</style>").unwrap();
        let sizes = style.split("pt").filter_map(|before| {
            let digits = before.rsplit(|letter: char| !letter.is_ascii_digit()).next()?;
            digits.parse::<u32>().ok()
        });
        assert!(sizes.clone().count() > 3 && sizes.clone().all(|size| size >= 6), "{:?}", sizes.collect::<Vec<_>>());
        assert!(style.contains("size:A4;margin:15mm") && style.contains("break-inside:avoid"), "{style}");
        let tables: Vec<_> = body.split("<table>").skip(1).map(|rest| rest.split("</table>").next().unwrap()).collect();
        assert!(tables.len() > 5, "{words:?}: {} tables", tables.len());
        for table in tables {
            let least = least_width(table);
            assert!(least <= 1800, "{words:?}: {least} tenths of a mm\n{table}");
        }
    }
}

/// Elements that have no end.
const VOID: [&str; 3] = ["meta", "br", "hr"];
/// What cannot stand within a paragraph: a reader of HTML would end it there.
const BLOCKS: [&str; 9] = ["p", "table", "section", "pre", "ul", "ol", "h1", "h2", "h3"];

/// What a strict reader finds wrong: a tag closed out of turn, a cell outside of a row, a name given twice, a table whose
/// first row names no column, a bare sign. Source: the HTML standard, from memory.
fn faults(html: &str) -> Vec<String> {
    let Some(mut rest) = html.strip_prefix("<!DOCTYPE html>") else { return vec!["no doctype".to_owned()] };
    let (mut open, mut ids, mut faults): (Vec<&str>, Vec<String>, Vec<String>) = (vec![], vec![], vec![]);
    let mut headless = 0;
    while let Some((text, after)) = rest.split_once('<') {
        let (tag, behind) = after.split_once('>').unwrap_or((after, ""));
        rest = behind;
        let loose = matches!(open.last(), Some(&("table" | "tr" | "thead" | "tbody" | "html" | "head")) | None);
        let bare = text.split('&').skip(1).any(|sign| !sign.split(' ').next().unwrap_or_default().contains(';'));
        if text.contains('>') || bare || loose && !text.trim().is_empty() {
            faults.push(format!("text out of place: {text}"));
        }
        if let Some(name) = tag.strip_prefix('/') {
            if open.pop() != Some(name) {
                faults.push(format!("</{name}> closes something else"));
            }
            if name == "tr" && headless > 0 {
                headless = 0;
                faults.push("a table without headings".to_owned());
            }
            continue;
        }
        let (name, attributes) = tag.split_once(' ').unwrap_or((tag, ""));
        let within = |names: &[&str]| open.last().is_some_and(|last| names.contains(last));
        let placed = match name {
            "tr" => within(&["table", "thead", "tbody"]),
            "td" | "th" => within(&["tr"]),
            "thead" | "tbody" => within(&["table"]),
            name => !BLOCKS.contains(&name) || !open.contains(&"p"),
        };
        if !placed || attributes.matches('"').count() % 2 != 0 || attributes.contains('\'') {
            faults.push(format!("<{tag}> within {open:?}"));
        }
        if let Some((_, id)) = format!(" {attributes}").split_once(" id=\"") {
            let id = id.split('"').next().unwrap_or_default().to_owned();
            if ids.contains(&id) {
                faults.push(format!("the id {id} twice"));
            }
            ids.push(id);
        }
        match name {
            "table" => headless = 1,
            "th" => headless = 0,
            _ => {}
        }
        if !VOID.contains(&name) {
            open.push(name);
        }
        if name == "style" {
            rest = rest.find("</style>").map_or("", |end| &rest[end..]);
        }
    }
    if !open.is_empty() {
        faults.push(format!("never closed: {open:?}"));
    }
    faults
}

#[test]
fn a_paper_is_sound_html_that_no_page_cuts_off() {
    for (bad, fault) in [
        ("<p>a<table></table></p>", "within"),
        ("<p>a</b></p>", "closes something else"),
        ("<p>a", "never closed"),
        ("<p>a & b</p>", "out of place"),
        ("<table><tr><td>1</td></tr></table>", "without headings"),
        ("<table><td>1</td></table>", "within"),
        ("<b id=\"a\"></b><b id=\"a\"></b>", "twice"),
    ] {
        let found = faults(&format!("<!DOCTYPE html><html><body>{bad}</body></html>"));
        assert!(found.iter().any(|one| one.contains(fault)), "{bad}: {found:?}");
    }
    let record = record();
    for words in [&["blank"][..], &["blank", "cleaning"], &["blank", "--rotor", "DEMO-1"], &["report", &record]] {
        let (code, page, err) = asfound(&demo(), words);
        assert_eq!((code, faults(&page)), (0, vec![]), "{words:?}: {err}");
        let start: String = page.chars().take(1024).collect();
        assert!(start.contains("<meta charset=\"utf-8\">"), "{start}");
        let (style, body) = page.split_once("</style>").unwrap();
        assert!(style.contains("@media print") && style.contains("@page{size:A4;margin:15mm"), "{style}");
        let widths = style.split("width:").skip(1).filter_map(|rest| rest.split_once("mm")?.0.parse::<u32>().ok());
        assert!(widths.clone().count() > 5 && widths.clone().all(|width| width <= 180), "wider than the page");
        // the whole body is one row of the table that repeats its head: kept together it would begin on the second page
        assert!(!body.contains("class=\"pages\"") || style.contains("table.pages>tbody>tr{break-inside:auto}"));
    }
}
