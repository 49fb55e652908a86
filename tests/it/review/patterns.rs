//! Patterns worth a second look: found where they are, not where they are not, and none changes a verdict.

use crate::rig::{Rig, figure, head, id};
use asfound::domain::characteristic::Characteristic;
use asfound::domain::checklist::Signing;
use asfound::domain::entry::{Act, Late};
use asfound::domain::inspection::{Head, Past};
use asfound::domain::pattern::{Unusual, patterns};
use asfound::domain::review::{Kept, LEFT_OUT, Review};
use asfound::domain::stamp::day;
use asfound::face::acts::besides_in_words;
use asfound::report::json::of_record;
use asfound::report::record;

/// All but what one person did alone, which one pair of hands always leaves.
fn found(rig: &Rig) -> Vec<Unusual> {
    let all = patterns(&rig.inspection, &rig.standing(), None);
    all.iter().map(|pattern| pattern.unusual).filter(|one| *one != Unusual::OnePerson).collect()
}

fn alone(rig: &Rig) -> Vec<String> {
    let all = patterns(&rig.inspection, &rig.standing(), None);
    all.into_iter().filter(|one| one.unusual == Unusual::OnePerson).map(|one| one.what).collect()
}

/// The clock goes on by `seconds` before each figure, so that hands could have taken them.
pub(super) fn lifts_slowly(rig: &mut Rig, ups: [[&str; 3]; 2], downs: &str, seconds: i64) {
    for (place, ups) in ["outer 0", "inner 0"].into_iter().zip(ups) {
        for (repeat, up) in (1..).zip(ups) {
            for (figure, text) in [("down", downs), ("up", up)] {
                rig.hand.at = (rig.hand.at.moment() + chrono::Duration::seconds(seconds)).into();
                rig.read("bush.ts/clearance", &format!("{place} / {repeat} / {figure}"), text);
            }
        }
    }
}

#[test]
fn all_repeats_identical_are_remarked_and_one_odd_one_ends_it() {
    let mut rig = Rig::open();
    lifts_slowly(&mut rig, [["0.186"; 3], ["0.182"; 3]], "0.020", 10);
    assert_eq!(found(&rig), [Unusual::IdenticalRepeats]);
    let mut rig = Rig::open();
    lifts_slowly(&mut rig, [["0.186", "0.188", "0.186"], ["0.182"; 3]], "0.020", 10);
    assert!(found(&rig).is_empty(), "{:?}", found(&rig));
}

#[test]
fn figures_faster_than_hands_are_remarked_unless_they_are_late_from_paper() {
    // a lift takes ten seconds a pair: typed from the head it is quicker
    for (seconds, quick) in [(1, true), (2, true), (4, true), (5, false)] {
        let mut rig = Rig::open();
        lifts_slowly(&mut rig, [["0.186", "0.188", "0.186"], ["0.182"; 3]], "0.020", seconds);
        assert_eq!(found(&rig).contains(&Unusual::Fast), quick, "{seconds} s");
    }
    let mut rig = Rig::open();
    rig.hand.late = Some(Late { taken: "this morning".into(), sheet: None });
    lifts_slowly(&mut rig, [["0.186", "0.188", "0.186"], ["0.182"; 3]], "0.020", 0);
    assert!(found(&rig).is_empty());
}

#[test]
fn figures_that_all_end_alike_are_remarked() {
    let mut rig = Rig::open();
    lifts_slowly(&mut rig, [["0.190", "0.190", "0.180"], ["0.190", "0.180", "0.180"]], "0.020", 10);
    assert!(found(&rig).contains(&Unusual::OneEnding));
    let mut rig = Rig::open();
    lifts_slowly(&mut rig, [["0.190", "0.190", "0.180"], ["0.190", "0.180", "0.182"]], "0.020", 10);
    assert!(!found(&rig).contains(&Unusual::OneEnding));
}

#[test]
fn times_that_run_backwards_are_remarked() {
    let mut rig = Rig::open();
    rig.at("2031-04-17T07:59:00+02:00").take(Act::Note { step: None, text: "the clock was put right".into() });
    let patterns = patterns(&rig.inspection, &rig.standing(), None);
    assert_eq!(patterns[0].unusual, Unusual::Backwards);
    assert_eq!(patterns[0].entry, Some(rig.last().number));
    // the same moment in another zone is not earlier
    let mut rig = Rig::open();
    rig.at("2031-04-17T06:00:00+00:00").take(Act::Note { step: None, text: "other zone".into() });
    assert!(found(&rig).is_empty());
}

pub(super) fn past(value: &str, place: &str) -> Past {
    Past {
        inspection: "INV/2029-03-01-small".into(),
        date: day("2029-03-01").unwrap(),
        characteristic: Characteristic::parse("bush.ts.clearance").unwrap(),
        hours: figure("12000 h"),
        value: asfound::domain::exact::Exact::parse(value).unwrap(),
        u: None,
        place: Some(place.into()),
        side: None,
        as_left: false,
        vector: None,
    }
}

#[test]
fn the_figure_of_last_time_to_the_last_digit_is_remarked() {
    let rig = |value: &str, place: &str| {
        let mut rig = Rig::with(Head { history: vec![past(value, place)], ..head() });
        rig.make_safe();
        rig.take(Act::Skip { step: "rotor/axial".into(), place: None, reason: "seized".into() });
        rig.take(Act::Tick { step: "rotor/covers".into() });
        rig.take(Act::Looked { step: "bush.ts/look".into() });
        lifts_slowly(&mut rig, [["0.186", "0.188", "0.187"], ["0.182"; 3]], "0.020", 10);
        rig
    };
    // the figure that counts is the one nearest to a limit, 0.162 at inner 0
    assert!(found(&rig("0.162", "inner 0")).contains(&Unusual::SameAsLast));
    assert!(!found(&rig("0.162", "outer 0")).contains(&Unusual::SameAsLast));
    assert!(!found(&rig("0.161", "inner 0")).contains(&Unusual::SameAsLast));
}

/// Within or not: where one pair of eyes made a part within, nobody else would have seen it.
#[test]
fn parts_that_one_person_alone_judged_are_one_line_for_each_person() {
    for up in ["0.186", "0.236"] {
        let mut rig = Rig::open();
        lifts_slowly(&mut rig, [[up; 3], ["0.182"; 3]], "0.020", 10);
        assert_eq!(alone(&rig), ["all parts by fitter-a alone"]);
        // another one measures the shaft, so nobody did all
        rig.by("fitter-c").take(Act::Resume).read("shaft/journal", "unworn 1", "59.931");
        assert_eq!(alone(&rig), ["rotor, bush.ts by fitter-a alone", "shaft by fitter-c alone"]);
        rig.by("fitter-a").take(Act::Resume).read("shaft/journal", "unworn 2", "59.931");
        assert_eq!(alone(&rig), ["rotor, bush.ts by fitter-a alone"]);
    }
    let mut two = Rig::begun();
    two.hand.writer = Some(id("fitter-c"));
    two.covers_off();
    assert!(alone(&two).is_empty(), "one reads, one writes: {:?}", alone(&two));
    // with one part looked at, its name says it
    let mut one = Rig::begun();
    one.make_safe().read("rotor/axial", "axial / pushed", "0.020");
    assert_eq!(alone(&one), ["rotor by fitter-a alone"]);
}

/// Nothing holds the part for it: it is said where somebody signs, on page 2, on paper and to programs.
#[test]
fn what_the_sheet_leaves_out_is_said_with_its_reason_where_somebody_signs() {
    let clearance = Characteristic::parse("bush.ts.clearance").unwrap();
    let mut bare = head();
    let sheet = bare.sheet.as_mut().unwrap();
    sheet.levels.remove(&clearance);
    sheet.absent.insert(clearance, "not of interest".into());
    // none of the checklist's steps would judge it: the machine may have it or not
    sheet.absent.insert(Characteristic::parse("casing.gas.wall").unwrap(), "no gauge there".into());
    for (head, said) in [(head(), None), (bare, Some("(not of interest)"))] {
        let mut rig = Rig::with(head);
        rig.covers_off().leave_rest();
        let (inspection, standing, kept) = (&rig.inspection, rig.standing(), Kept::default());
        let signs =
            [Signing::Decisions, Signing::Close].map(|what| besides_in_words(inspection, &standing, what).join(" "));
        let page = Review::of(inspection, &standing, &kept).unusual;
        let page = page.iter().filter(|one| one.name == LEFT_OUT).flat_map(|one| one.which.clone()).collect();
        let shown = record::lines(inspection, &standing, &kept).join(" ");
        let json = of_record(inspection, &standing, &kept)["left out by the sheet"].to_string();
        for text in signs.into_iter().chain([page, shown, json]) {
            assert_eq!(text.contains("(not of interest)"), said.is_some(), "{text}");
            assert!(!text.contains("no gauge there"), "{text}");
        }
    }
}

#[test]
fn each_pattern_is_explained_with_an_innocent_cause() {
    for unusual in Unusual::ALL {
        let words = unusual.explained();
        assert!(words.len() > 60 && words.ends_with('.'), "{words}");
        assert!(!["false", "fraud", "cheat", "guilty", "lie"].iter().any(|word| words.contains(word)), "{words}");
    }
}
