//! Lines that are longer than the screen is wide.

use super::*;
use crate::face::effect::{Due, Going};

#[test]
fn what_does_not_fit_its_line_goes_on_below() {
    let what = "bearing inspection, begun on 17 April 2031 by somebody with a long name, and fitter A";
    let going = Going {
        rotor: "ROTOR-WITH-A-LONG-ID".into(),
        what: what.into(),
        step: "step 31 of 62".into(),
        file: String::new(),
        stopped: None,
        soaks: Vec::new(),
    };
    let because = "at 50095 h, may reach its limit 0.32 mm then, by hours";
    let due = Due {
        rotor: "DEMO-1".into(),
        what: "Rotor in its bearings: radial float".into(),
        date: "6 March 2027".into(),
        because: because.into(),
        hours: "-".into(),
        overdue: None,
    };
    let folder = format!("/home/bench/{}", "a folder with a long name/".repeat(4));
    let facts = HomeFacts {
        going: vec![going],
        due: vec![due],
        folder: folder.clone(),
        room: "64 GB free".into(),
        ..HomeFacts::default()
    };
    let home = Home::new(facts);
    for spacing in [Spacing::Wide, Spacing::Close] {
        let said = |row: &Row| match row {
            Row::Entry(_, words, right) => {
                assert!(4 + width(words) + 1 + width(right) < 80, "{words}");
                format!("{words} {right}")
            }
            Row::Below(words, _) => {
                assert!(14 + width(words) < 80, "{words}");
                words.clone()
            }
            Row::Title(_) | Row::Blank => String::new(),
        };
        let all: Vec<_> = rows(&home, 80, spacing).iter().map(said).collect();
        let all = all.join(" ").split_whitespace().collect::<Vec<_>>().join(" ");
        for words in [what, "step 31 of 62", because, "6 March 2027"] {
            assert!(all.contains(words), "{words}: {all}");
        }
    }
    let lines = super::folder(&home.facts, 79);
    assert!(lines.iter().all(|line| width(line) < 79));
    assert_eq!(lines.join(" ").trim(), format!("files in {folder}"));
}
