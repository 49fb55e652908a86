//! Forms change a file in place: what is not the value stays as it is, byte for byte.

use asfound::records::edit::{Change, EditFault, Path, edited};
use asfound::records::yaml::{Layout, Node, Quoting, What, parse};
use proptest::prelude::*;

const SHEET: &str = "# a sheet, kept by hand\nformat: 1\n# who\nsheet: INV-7   # the type\n\nmanual: {title: a manual, edition: \"3\"} # looked up\nentered by: [a, b]\nlevels:\n# the bush\n- characteristic: bush.ts.clearance  # turbine side\n  limit: {above: 0.220 mm, source: p 1} # insisted\n# the pin\n- characteristic: bush.ts.pin\n  remark: |-\n    two\n    lines\n  limit: {above: 1.6 mm, source: p 2}\n# the end\n";

fn at(way: &[&str]) -> Path {
    way.iter().fold(Path::root(), |path, step| match step.parse() {
        Ok(item) => path.item(item),
        Err(_) => path.key(step),
    })
}

fn text(text: &str) -> Node {
    Node::text(text, Quoting::Fitting)
}

fn put(way: &[&str], value: Node, behind: &[&str]) -> Result<String, EditFault> {
    let behind = behind.iter().map(|&key| key.to_owned()).collect();
    edited("a.yaml", SHEET, &at(way), &Change::Put { value, behind })
}

/// The one line that differs, old and new.
fn line(new: &str) -> (Vec<&str>, Vec<&str>) {
    let (old, new): (Vec<&str>, Vec<&str>) = (SHEET.lines().collect(), new.lines().collect());
    let head = old.iter().zip(&new).take_while(|(old, new)| old == new).count();
    let tail = old.iter().rev().zip(new.iter().rev()).take_while(|(old, new)| old == new).count();
    let tail = tail.min(old.len() - head).min(new.len() - head);
    (old[head..old.len() - tail].to_vec(), new[head..new.len() - tail].to_vec())
}

#[test]
fn a_value_is_changed_and_its_comment_stays() {
    let new = put(&["sheet"], text("INV-8"), &[]).unwrap();
    assert_eq!(line(&new), (vec!["sheet: INV-7   # the type"], vec!["sheet: INV-8   # the type"]));
    let new = put(&["levels", "0", "limit", "above"], text("0.3 mm"), &[]).unwrap();
    assert_eq!(line(&new).1, ["  limit: {above: 0.3 mm, source: p 1} # insisted"]);
    let new = put(&["manual", "title"], text("one, two: three"), &[]).unwrap();
    assert_eq!(line(&new).1, ["manual: {title: \"one, two: three\", edition: \"3\"} # looked up"]);
    let new = put(&["levels", "1", "remark"], text("one"), &[]).unwrap();
    assert_eq!(line(&new), (vec!["  remark: |-", "    two", "    lines"], vec!["  remark: one"]));
}

#[test]
fn a_new_key_comes_where_its_kind_has_it() {
    let new = put(&["origin"], text("maker"), &["format", "sheet"]).unwrap();
    assert_eq!(line(&new), (vec![], vec!["origin: maker"]));
    assert!(new.contains("# the type\norigin: maker\n\nmanual"));
    let new = put(&["levels", "0", "limit", "leads to"], text("replace"), &["above"]).unwrap();
    assert_eq!(line(&new).1, ["  limit: {above: 0.220 mm, leads to: replace, source: p 1} # insisted"]);
    let new = put(&["levels", "0", "part number"], text("P-1"), &["characteristic"]).unwrap();
    assert_eq!(line(&new), (vec![], vec!["  part number: P-1"]));
    let new = put(&["levels", "1", "at"], text("x"), &[]).unwrap();
    assert!(new.contains("- at: x\n  characteristic: bush.ts.pin\n"));
}

#[test]
fn items_are_put_and_taken() {
    let block = |pairs: &[(&str, &str)]| {
        let pairs = pairs.iter().map(|(key, value)| (asfound::records::yaml::Key::new(*key), text(value)));
        Node::new(What::Map(Layout::Block, pairs.collect()))
    };
    let change = Change::Push(block(&[("characteristic", "shaft.ts.step"), ("remark", "x")]));
    let new = edited("a.yaml", SHEET, &at(&["levels"]), &change).unwrap();
    assert_eq!(line(&new), (vec![], vec!["- characteristic: shaft.ts.step", "  remark: x"]));
    let new = edited("a.yaml", SHEET, &at(&["entered by"]), &Change::Push(text("c"))).unwrap();
    assert_eq!(line(&new).1, ["entered by: [a, b, c]"]);
    let new = edited("a.yaml", SHEET, &at(&["entered by", "0"]), &Change::Take).unwrap();
    assert_eq!(line(&new).1, ["entered by: [b]"]);
    let new = edited("a.yaml", SHEET, &at(&["levels", "0"]), &Change::Take).unwrap();
    // what somebody noted at it stays, and does not stand for the next one
    let stood = "# (stood at what was taken out: bush.ts.clearance, 0.220 mm, p 1)";
    let notes = ["the bush", "turbine side", "insisted"].map(|note| format!("{stood} {note}\n")).concat();
    assert!(new.contains(&format!("levels:\n{notes}# the pin\n- characteristic: bush.ts.pin")), "{new}");
    let none = edited("a.yaml", &new, &at(&["levels", "0", "limit"]), &Change::Take).unwrap();
    assert!(none.contains(&notes), "it is said once: {none}");
    let flow = "rows:\n# above\n- {from: 45 mm, to: 60 mm, by: \"no # note\"} # behind\n- {from: 60 mm}\n";
    let new = edited("a.yaml", flow, &at(&["rows", "0"]), &Change::Take).unwrap();
    let stood = "# (stood at what was taken out: 45 mm, 60 mm, no # note)";
    assert_eq!(new, format!("rows:\n{stood} above\n{stood} behind\n- {{from: 60 mm}}\n"));
    let new = edited("a.yaml", SHEET, &at(&["levels", "1", "characteristic"]), &Change::Take).unwrap();
    assert!(new.contains("# the pin\n- remark: |-\n    two\n    lines\n  limit"), "{new}");
}

#[test]
fn a_file_from_another_system_keeps_its_line_ends() {
    let file = SHEET.replace('\n', "\r\n");
    let change = Change::Put { value: text("maker"), behind: vec!["sheet".to_owned()] };
    let new = edited("a.yaml", &file, &at(&["origin"]), &change).unwrap();
    assert_eq!(new.matches('\n').count(), new.matches("\r\n").count());
    assert_eq!(new.replace("\r\n", "\n").matches("origin: maker").count(), 1);
}

#[test]
fn an_empty_value_is_filled_and_what_is_not_there_is_refused() {
    let change = Change::Put { value: text("x"), behind: Vec::new() };
    let filled = edited("a.yaml", "format: 1\nname:   # whose\nnext: 2\n", &at(&["name"]), &change).unwrap();
    assert_eq!(filled, "format: 1\nname: x   # whose\nnext: 2\n");
    assert_eq!(put(&["nowhere", "x"], text("1"), &[]), Err(EditFault::NoPlace));
    assert_eq!(edited("a.yaml", SHEET, &at(&["levels", "7"]), &Change::Take), Err(EditFault::NoPlace));
}

proptest! {
    /// Whatever is typed: the value reads as typed, every comment stands, no other line is touched.
    #[test]
    fn an_edit_changes_nothing_else(typed in "[ -~\u{e9}\u{4e2d}]{0,30}", which in 0_usize..7) {
        let ways: [&[&str]; 7] = [
            &["sheet"], &["manual", "title"], &["entered by", "1"], &["levels", "0", "characteristic"],
            &["levels", "0", "limit", "source"], &["levels", "1", "remark"], &["levels", "1", "limit", "above"],
        ];
        let new = put(ways[which], text(&typed), &[]).unwrap();
        let tree = parse("a.yaml", new.as_bytes()).unwrap();
        prop_assert_eq!(at(ways[which]).find(&tree).and_then(Node::as_text), Some(typed.as_str()));
        for comment in ["# a sheet, kept by hand", "# who", "   # the type", " # looked up", "# the bush", "  # turbine side", " # insisted", "# the pin", "# the end"] {
            prop_assert!(new.contains(comment), "{} is gone from {}", comment, new);
        }
        prop_assert!(line(&new).1.len() <= 1);
    }
}

#[test]
fn an_item_put_to_another_place_takes_the_comments_above_it_along() {
    let text = "# head\nlist:\n# of the list\n- a\n# of b\n- b # beside\n- c\n# end\n";
    let moved = |from: usize, to: usize| edited("t", text, &Path::root().key("list").item(from), &Change::Shift(to));
    assert_eq!(moved(1, 2).unwrap(), "# head\nlist:\n# of the list\n- a\n- c\n# of b\n- b # beside\n# end\n");
    assert_eq!(moved(2, 0).unwrap(), "# head\nlist:\n# of the list\n- c\n- a\n# of b\n- b # beside\n# end\n");
    assert_eq!(moved(1, 1).unwrap(), text);
    assert!(moved(0, 3).is_err());
    let row = edited("t", "list: [a, b]\n", &Path::root().key("list").item(0), &Change::Shift(1));
    assert!(row.is_err(), "between brackets an editor does it");
}
