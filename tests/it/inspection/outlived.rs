//! What a supervisor overruled or a maker conceded covers what was known then, and nothing that came after.

use crate::content::answers::three;
use crate::rig::{Rig, figure, finding, id};
use asfound::domain::characteristic::Characteristic;
use asfound::domain::checklist::Signing;
use asfound::domain::due::of_rotor;
use asfound::domain::entry::{Act, Replaces};
use asfound::domain::review::{Kept, Review};
use asfound::domain::rotor::Fitted;
use asfound::domain::stamp::day;
use asfound::domain::verdict::{Consequence, Disposition};

fn overrule(to: Disposition) -> Act {
    Act::Overrule { part: "bush.ts".into(), to, supervisor: id("supervisor-b"), reason: "seen in the light".into() }
}

fn concession(about: &str, until: &str) -> Act {
    Act::Concession {
        part: "shaft".into(),
        about: about.into(),
        who: "the maker".into(),
        document: "letter 7 (invented)".into(),
        conditions: "measured again".into(),
        until: until.into(),
        allows: Consequence::Watch,
    }
}

fn bush(inner: &str) -> Rig {
    let mut rig = Rig::open();
    rig.take(Act::NotApplicable { step: "bush.ts/soak".into(), point: None, reason: "clean already".into() });
    rig.lifts("bush.ts/clearance", ["0.180"; 3], [inner; 3]);
    rig
}

/// A shaft whose step wear reads `smallest` below 59.931.
fn shaft(smallest: &str) -> Rig {
    let mut rig = Rig::open();
    rig.journal(["59.931", "59.931", "59.917", "59.915", "59.916", "59.918", "59.912", smallest, "59.911", "59.913"]);
    rig
}

/// Everything measured, the shaft's step wear past its limit and conceded until then; by the supervisor's own hand.
fn conceded_until(until: &str) -> Rig {
    let mut rig = bush("0.182");
    let planes = ["59.917", "59.915", "59.916", "59.918", "59.912", "59.905", "59.911", "59.913"];
    for (place, text) in ["unworn 1", "unworn 2"].into_iter().zip(["59.931"; 2]) {
        rig.read("shaft/journal", place, text);
    }
    for (place, text) in ["a 0", "a 45", "a 90", "a 135", "b 0", "b 45", "b 90", "b 135"].into_iter().zip(planes) {
        rig.read("shaft/journal", place, text);
    }
    rig.supervised(concession("shaft.ts.step", until));
    rig
}

/// 24000 h now, the next opening planned at 36000 h or on 1 May 2033.
#[test]
fn a_concession_that_ends_before_the_next_opening_ends_the_yes_the_watch_and_is_due() {
    for (until, first) in [
        ("30000 h", Some("30000 h of the machine")),
        ("2032-03-01", Some("1 March 2032")),
        ("30000 h or 2032-03-01", Some("30000 h of the machine or 1 March 2032")),
        ("36000 h", None),
        ("1 May 2033", None),
        ("the next opening", None),
    ] {
        let rig = conceded_until(until);
        let standing = rig.standing();
        assert_eq!(standing.part("shaft").unwrap().verdict.disposition, Disposition::Watch, "{until}");
        let lasts = Review::of(&rig.inspection, &standing, &Kept::default()).lasts;
        let wanted = match first {
            Some(first) => format!("Not to 36000 h, with 1 to watch. A concession on shaft ends first: {first}."),
            None => "Not known to 36000 h, with 1 to watch: 2 of 3 figures have no forecast yet.".to_owned(),
        };
        assert_eq!(lasts.text, wanted, "{until}");
        let when =
            first.map_or("at the next opening, 36000 h, 1 May 2033".to_owned(), |first| format!("before {first}"));
        assert!(reasons(&rig, "shaft").ends_with(&when), "{until}: {}", reasons(&rig, "shaft"));
        let due = of_rotor(&[&rig.inspection]);
        let due = due.iter().find(|item| item.what == "the shaft: concession");
        assert_eq!(due.is_some(), until != "the next opening", "{until}");
        let hours = due.and_then(|due| due.at_hours.as_ref()).map(ToString::to_string);
        assert_eq!(hours.is_some(), until.contains(" h"), "{until}: {due:?}");
        if until == "2032-03-01" {
            assert_eq!(due.unwrap().day, day("2032-03-01").ok());
        }
    }
    // what goes out for a new one rests on nothing
    let mut rig = conceded_until("30000 h");
    rig.take(Act::Condemned { part: "shaft".into(), reason: "bent".into() });
    assert!(of_rotor(&[&rig.inspection]).iter().all(|item| !item.what.contains("concession")));
}

/// The demonstration's impeller, conceded past the end of its life at 60000 h: the next opening is planned at 60510 h.
fn impeller(demo: &Rig, until: &str) -> Rig {
    let mut rig = demo.clone();
    for about in ["impeller.life".to_owned(), dent(&rig)] {
        let part = "impeller".into();
        let Act::Concession { who, document, conditions, until, allows, .. } = concession(&about, until) else {
            panic!()
        };
        rig.supervised(Act::Concession { part, about, who, document, conditions, until, allows });
    }
    assert_eq!(rig.verdict("impeller"), "watch []", "{}", reasons(&rig, "impeller"));
    rig
}

fn demonstration() -> Rig {
    let demo = three().pop().unwrap();
    let mut rig = Rig::with(demo.head().clone());
    rig.inspection = demo;
    rig.at(&rig.last().at.to_string());
    rig
}

fn dent(rig: &Rig) -> String {
    let dented = |act: &Act| matches!(act, Act::Finding(found) if found.part == "impeller" && found.kind == "dent");
    rig.inspection.standing_entries().find(|entry| dented(&entry.act)).unwrap().number.to_string()
}

fn plan(rig: &mut Rig, hours: &str) {
    let (supervisor, reason) = (Some(id("supervisor-b")), "the ship docks then".into());
    rig.supervised(Act::Plan { hours: Some(figure(hours)), date: None, supervisor, reason });
}

/// Without an end of its own it is for the opening that was planned, or a sooner one.
#[test]
fn a_concession_covers_each_opening_up_to_its_end_and_the_plan_that_goes_beyond_is_named() {
    let demo = demonstration();
    for (until, hours, holds) in [
        ("70000 h", "66000 h", true),
        ("62000 h", "66000 h", false),
        ("the next opening", "66000 h", false),
        ("the next opening", "60100 h", true),
    ] {
        let mut rig = impeller(&demo, until);
        plan(&mut rig, hours);
        let told = reasons(&rig, "impeller");
        assert_eq!(rig.standing().part("impeller").unwrap().verdict.disposition == Disposition::Watch, holds, "{told}");
        let planned = format!("the concession was before entry {}", rig.last().number);
        assert_eq!(told.contains(&planned), !holds, "{until}, {hours}: {told}");
        if holds {
            assert!(told.contains("watch: count the hours again, look at dent again"), "{told}");
        }
    }
}

#[test]
fn an_overruling_names_the_plan_that_goes_beyond_it() {
    let mut rig = demonstration();
    let (supervisor, reason) = (id("supervisor-b"), "seen in the light".into());
    rig.supervised(Act::Overrule { part: "thrust.main".into(), to: Disposition::Watch, supervisor, reason });
    assert_eq!(rig.verdict("thrust.main"), "watch []");
    plan(&mut rig, "66000 h");
    let told = reasons(&rig, "thrust.main");
    assert!(told.contains(&format!("overruled before entry {}, counts no more", rig.last().number)), "{told}");
}

fn reasons(rig: &Rig, part: &str) -> String {
    rig.standing().part(part).unwrap().reasons.join("; ")
}

#[test]
fn a_crack_found_after_the_overruling_counts() {
    let mut rig = bush("0.250");
    rig.supervised(overrule(Disposition::Reuse));
    assert_eq!(rig.verdict("bush.ts"), "reuse []");
    assert!(rig.standing().part("bush.ts").unwrap().overruled.is_some());
    rig.take(finding("crack", "seen"));
    let crack = rig.last().number;
    assert_eq!(rig.verdict("bush.ts"), "replace [new part to check]");
    assert_eq!(rig.standing().part("bush.ts").unwrap().overruled, None);
    let words = reasons(&rig, "bush.ts");
    assert!(words.contains(&format!("overruled before entry {crack}, counts no more")), "{words}");
    let lines = Review::of(&rig.inspection, &rig.standing(), &Kept::default()).lines;
    let bush = lines.iter().find(|line| line.part == "bush.ts").unwrap();
    let said = "overruled to reuse by supervisor-b, counts no more";
    assert!(bush.made_so.iter().any(|words| words == said), "{:?}", bush.made_so);
    // struck and looked at again, the overruling covers all there is again
    rig.take(Act::Strike { entry: crack, reason: "a scratch, wiped off".into() });
    assert_eq!(rig.verdict("bush.ts"), "reuse [open]");
    rig.take(Act::Looked { step: "bush.ts/look".into() });
    assert_eq!(rig.verdict("bush.ts"), "reuse []");
}

#[test]
fn a_later_finding_no_graver_than_the_overruling_leaves_it() {
    let mut rig = bush("0.250");
    rig.supervised(overrule(Disposition::Watch)).take(finding("scoring", "light"));
    assert_eq!(rig.verdict("bush.ts"), "watch []");
    rig.take(finding("scoring", "deep"));
    assert_eq!(rig.verdict("bush.ts"), "replace [new part to check]");
    // a supervisor who knows it may say so again
    rig.supervised(overrule(Disposition::Watch));
    assert_eq!(rig.verdict("bush.ts"), "watch []");
}

#[test]
fn an_overruling_toward_the_safer_side_gives_way_to_what_is_graver_still() {
    let mut rig = bush("0.180");
    rig.take(overrule(Disposition::Rework)).take(finding("scoring", "deep"));
    assert!(rig.verdict("bush.ts").starts_with("replace"), "{}", rig.verdict("bush.ts"));
    let mut replaced = bush("0.180");
    replaced.take(overrule(Disposition::Replace)).take(finding("scoring", "deep"));
    assert!(replaced.standing().part("bush.ts").unwrap().overruled.is_some());
}

#[test]
fn a_later_figure_that_is_worse_counts_and_one_that_is_not_does_not() {
    for (later, verdict) in [("0.250", "reuse []"), ("0.248", "reuse []"), ("0.262", "replace [new part to check]")] {
        let mut rig = bush("0.250");
        rig.supervised(overrule(Disposition::Reuse));
        for repeat in 1..=3 {
            let place = format!("inner 0 / {repeat} / up");
            let entry = rig.inspection.reading("bush.ts/clearance", &place).unwrap().entry;
            rig.take(Act::Strike { entry, reason: "slipped".into() });
            rig.read("bush.ts/clearance", &place, later);
        }
        assert_eq!(rig.verdict("bush.ts"), verdict, "{later}");
    }
}

#[test]
fn a_concession_covers_the_figure_it_was_asked_about() {
    for (later, verdict) in [("59.909", "watch []"), ("59.908", "watch [referred]")] {
        let mut rig = shaft("59.909");
        rig.supervised(concession("shaft.ts.step", "the next opening"));
        assert_eq!(rig.verdict("shaft"), "watch []");
        let entry = rig.inspection.reading("shaft/journal", "b 45").unwrap().entry;
        rig.take(Act::Strike { entry, reason: "slipped".into() }).read("shaft/journal", "b 45", later);
        assert_eq!(rig.verdict("shaft"), verdict, "{later}");
        if later == "59.908" {
            let entry = rig.last().number;
            let words = reasons(&rig, "shaft");
            assert!(words.contains(&format!("the concession was before entry {entry}")), "{words}");
        }
    }
}

#[test]
fn a_concession_from_a_copy_covers_what_stood_in_both() {
    // the number there alone tells it of a record of before, which says less
    for (stem, later, verdict) in
        [(true, "59.909", "watch []"), (true, "59.908", "watch [referred]"), (false, "59.908", "watch [referred]")]
    {
        let mut mine = shaft("59.909");
        let (after, mut theirs) = (mine.last().number, mine.clone());
        theirs.supervised(concession("shaft.ts.step", "the next opening"));
        let entry = mine.inspection.reading("shaft/journal", "b 45").unwrap().entry;
        mine.take(Act::Strike { entry, reason: "slipped".into() }).read("shaft/journal", "b 45", later);
        let (bytes, chain) = ("as they were".into(), "0123456789abcdef".into());
        let (after, entry) = (stem.then_some(after), Some(Box::new(theirs.last().clone())));
        mine.take(Act::Brought { bytes, chain, after, entry });
        assert_eq!(mine.verdict("shaft"), verdict, "{later}: {}", reasons(&mine, "shaft"));
    }
}

#[test]
fn a_concession_that_is_over_is_not_taken_and_one_that_runs_out_frees_nothing() {
    let mut rig = shaft("59.909");
    for until in ["2020-01-01", "2031-04-16", "24000 h", "1 May 2019"] {
        assert_eq!(rig.refused(concession("shaft.ts.step", until)), "ConcessionOver", "{until}");
    }
    for until in ["x", "further notice", "36000", "30/02/2032", "13/13/2032", "31.06.2032", "2032-02-30"] {
        assert_eq!(rig.refused(concession("shaft.ts.step", until)), "NoAnswer", "{until}");
    }
    rig.supervised(concession("shaft.ts.step", "2031-04-17"));
    assert_eq!(rig.verdict("shaft"), "watch []");
    rig.at("2031-04-18T08:00:00+02:00").take(Act::Resume);
    assert_eq!(rig.verdict("shaft"), "watch [referred]");
    assert!(reasons(&rig, "shaft").contains("the concession was until 2031-04-17"), "{}", reasons(&rig, "shaft"));
    let mut hours = shaft("59.909");
    hours.supervised(concession("shaft.ts.step", "24 100 h, then a new shaft"));
    let later = asfound::domain::inspection::Opening { machine_hours: Some(figure("24200 h")), ..Default::default() };
    hours.take(Act::Opening(Box::new(later)));
    assert_eq!(hours.verdict("shaft"), "watch [referred]");
}

/// Condemned unmeasured it needs no figure; let back in it goes in on figures like any other.
#[test]
fn what_was_condemned_and_is_let_back_is_measured_all_the_same() {
    let mut rig = Rig::open();
    let open = rig.verdict("bush.ts");
    rig.take(Act::Condemned { part: "bush.ts".into(), reason: "melted".into() });
    assert_eq!(rig.verdict("bush.ts"), "replace [new part to check]");
    rig.supervised(overrule(Disposition::Reuse));
    assert_eq!(rig.verdict("bush.ts"), open, "what was open is open again");
    let standing = rig.standing();
    let bush = standing.part("bush.ts").unwrap();
    assert!(bush.overruled.is_some() && bush.reasons.iter().any(|reason| reason.contains("condemned: melted")));
    let entry = rig.last().number;
    let mut again = rig.clone();
    again.take(Act::Condemned { part: "bush.ts".into(), reason: "in two pieces".into() });
    assert_eq!(again.verdict("bush.ts"), "replace [new part to check]", "nobody has let that back");
    rig.by("supervisor-b").take(Act::Strike { entry, reason: "not mine to say".into() });
    assert_eq!(rig.verdict("bush.ts"), "replace [new part to check]");
}

#[test]
fn what_is_struck_behind_an_acceptance_was_not_accepted() {
    let accept = |rig: &mut Rig| {
        let (supervisor, reason) = (id("supervisor-b"), "the gauge is broken".into());
        let clearance = Characteristic::parse("bush.ts.clearance").unwrap();
        rig.supervised(Act::Unjudged { characteristic: clearance, as_left: false, supervisor, reason });
    };
    let mut rig = bush("0.180");
    accept(&mut rig);
    let reading = rig.inspection.reading("bush.ts/clearance", "inner 0 / 2 / up").unwrap().entry;
    rig.take(Act::Strike { entry: reading, reason: "slipped".into() });
    assert_eq!(rig.verdict("bush.ts"), "reuse [open]");
    accept(&mut rig);
    assert_eq!(rig.verdict("bush.ts"), "reuse []", "accepted as it is now");
}

/// A clearance too wide was let go; that it is too tight is another thing, at whichever place.
#[test]
fn an_overruling_of_too_wide_covers_nothing_too_tight() {
    let wide = || {
        let mut rig = bush("0.250");
        rig.supervised(overrule(Disposition::Reuse));
        assert_eq!(rig.verdict("bush.ts"), "reuse []");
        rig
    };
    let retaken = |rig: &mut Rig, spot: &str, up: &str| {
        let places = || (1..=3).flat_map(|repeat| ["down", "up"].map(|side| format!("{spot} / {repeat} / {side}")));
        for place in places() {
            let entry = rig.inspection.reading("bush.ts/clearance", &place).unwrap().entry;
            rig.take(Act::Strike { entry, reason: "misread".into() });
        }
        for place in places() {
            rig.read("bush.ts/clearance", &place, if place.ends_with("up") { up } else { "0.020" });
        }
    };
    let spots: Vec<String> = {
        let rig = wide();
        let step = rig.inspection.head().checklist.step("bush.ts/clearance").unwrap();
        let cells = asfound::domain::progress::cells(&rig.inspection, step);
        let mut spots: Vec<_> = cells.iter().map(asfound::domain::checklist::Cell::spot).collect();
        spots.dedup();
        spots
    };
    for spot in &spots {
        let mut rig = wide();
        retaken(&mut rig, spot, "0.120");
        assert_eq!(rig.verdict("bush.ts"), "replace [new part to check]", "{spot} is too tight now");
        assert!(reasons(&rig, "bush.ts").contains("counts no more"), "{}", reasons(&rig, "bush.ts"));
    }
    let mut rig = wide();
    retaken(&mut rig, &spots[spots.len() - 1], "0.245");
    assert_eq!(rig.verdict("bush.ts"), "reuse []", "no wider than it was");
}

/// Said of the piece that was in then; the next one is checked like any other.
#[test]
fn an_overruling_of_one_piece_says_nothing_of_the_next() {
    let mut rig = bush("0.250");
    rig.supervised(overrule(Disposition::Reuse));
    let (serial, doubts) = (Some("new-1".into()), Vec::new());
    let fitted = Fitted { serial, hours: figure("0 h"), machine: figure("24000 h"), doubts };
    rig.take(Act::PartFitted { part: "bush.ts".into(), fitted, replaces: Replaces::Yes });
    assert_eq!(rig.verdict("bush.ts"), "replace [new part to check]");
}

/// The figure as left is conceded, and neither the one as found nor a worse one as left.
#[test]
fn a_concession_of_the_figure_as_left_says_nothing_of_the_one_as_found() {
    let conceded = |as_left: bool| {
        let mut rig = bush("0.182");
        rig.sign(Signing::Decisions, &[]).lifts("bush.ts/as-left", ["0.200"; 3], ["0.202"; 3]);
        let before = rig.verdict("bush.ts");
        let standing = rig.standing();
        let left = standing.characteristics.iter().find(|one| one.step == "bush.ts/as-left").unwrap();
        let named = if as_left { left.named() } else { left.characteristic.id().to_owned() };
        let mut act = concession(&named, "the next opening");
        if let Act::Concession { part, .. } = &mut act {
            "bush.ts".clone_into(part);
        }
        rig.supervised(act);
        (before, rig)
    };
    let (before, mut rig) = conceded(true);
    assert_eq!((before.as_str(), rig.verdict("bush.ts").as_str()), ("rework [open, open]", "watch []"));
    let words = reasons(&rig, "bush.ts");
    assert!(words.contains("clearance as left: outside the new range; by concession"), "{words}");
    assert!(words.contains("watch: measure clearance again, at the next opening"), "{words}");
    assert_eq!(rig.standing().part("bush.ts").unwrap().computed.disposition, Disposition::Rework);
    let told = asfound::domain::telling::of_entry(&rig.inspection, rig.last());
    assert!(told.contains("on clearance as left"), "{told}");
    let last = rig.inspection.reading("bush.ts/as-left", "inner 0 / 3 / up").unwrap().entry;
    rig.take(Act::Strike { entry: last, reason: "dirt".into() }).read("bush.ts/as-left", "inner 0 / 3 / up", "0.206");
    assert_eq!(rig.verdict("bush.ts"), "rework [open, open]", "another figure");
    let (before, found) = conceded(false);
    assert_eq!(found.verdict("bush.ts"), before, "said of the figure as found");
}
