//! Levels typed at the bench: the same door as a sheet's file, and a question where the unit may be another.

use asfound::domain::characteristic::{Characteristic, Given};
use asfound::domain::checklist::Signing;
use asfound::domain::decide::odd_level;
use asfound::domain::entry::Act;
use asfound::domain::inspection::Head;
use asfound::domain::instrument::Instrument;
use asfound::domain::person::{Person, Role};
use asfound::domain::request::Decision;
use asfound::domain::sheet::{Amount, Bound, GivenFigure, Levels, Rule, Touching, Which};
use asfound::domain::verdict::Consequence;
use asfound::records::file;
use asfound::records::sheet_file::{SHEET, read_sheet};

use crate::rig::{Rig, figure, head, id, level, sheet};

fn clearance() -> Characteristic {
    Characteristic::parse("bush.ts.clearance").unwrap()
}

/// From below to above, an empty text for none.
fn of(lower: &str, upper: &str, leads_to: Consequence) -> Option<asfound::domain::sheet::Level> {
    let bound = |text: &str| {
        (!text.is_empty()).then(|| Bound { amount: Amount::Fixed(figure(text)), touching: Touching::Passes })
    };
    level(bound(upper), bound(lower), leads_to, Rule::Simple)
}

fn limited(new: (&str, &str), alert: (&str, &str), limit: (&str, &str)) -> Levels {
    let there = |(lower, upper): (&str, &str), leads_to| {
        if lower.is_empty() && upper.is_empty() { None } else { of(lower, upper, leads_to) }
    };
    Levels {
        new: there(new, Consequence::Rework),
        alert: there(alert, Consequence::Watch),
        limit: there(limit, Consequence::Replace),
        part_number: None,
    }
}

#[test]
fn what_a_sheets_file_may_not_hold_may_not_be_typed_either() {
    let none = ("", "");
    let cases = [
        ("a limit that no figure reaches", limited(none, none, ("-1 mm", ""))),
        ("a new range upside down", limited(("0.350 mm", "0.300 mm"), none, none)),
        ("no room between the bounds", limited(none, none, ("0.25 mm", "0.2 mm"))),
        ("an alert behind the limit", limited(none, ("", "0.25 mm"), ("", "0.22 mm"))),
        ("a new range past the limit", limited(("0.130 mm", "0.230 mm"), none, ("", "0.22 mm"))),
        ("a pressure", limited(none, none, ("", "3 bar"))),
        ("nothing follows", Levels { limit: of("", "0.22 mm", Consequence::Nothing), ..Levels::default() }),
    ];
    for (what, levels) in cases {
        let mut with = sheet();
        with.levels.insert(clearance(), levels.clone());
        let text = file::write(&SHEET, &with);
        assert!(read_sheet("INV-1.yaml", text.as_bytes()).is_err(), "the file holds {what}");
        let typed = Act::Level { characteristic: clearance(), levels: Box::new(levels), doubts: vec![] };
        assert_eq!(Rig::begun().refused(typed), "BadLevel", "{what}");
    }
    let mut sound = sheet().levels[&clearance()].clone();
    sound.new = of("0.131 mm", "0.170 mm", Consequence::Rework);
    let typed = Act::Level { characteristic: clearance(), levels: Box::new(sound), doubts: vec![] };
    assert_eq!(Rig::begun().refused(typed), "taken");
}

#[test]
fn a_level_that_may_be_of_another_unit_is_asked_about() {
    let mut rig = Rig::with(Head { sheet: None, ..head() });
    rig.covers_off().lifts("bush.ts/clearance", ["0.250"; 3], ["0.250"; 3]);
    let odd = |upper: &str| {
        let levels = limited(("", ""), ("", ""), ("", upper));
        odd_level(&rig.inspection, clearance(), &levels, Which::Limit)
    };
    // 0.23 mm read: micrometres typed for millimetres, millimetres for inches
    assert_eq!(odd("220 mm").as_deref(), Some("220 mm is about 1000 times off what was read: another unit"));
    assert_eq!(odd("0.22 in").as_deref(), Some("0.22 in is about 25.4 times off what was read: another unit"));
    assert_eq!(odd("0.22 mm"), None);
    assert_eq!(odd("0.35 mm"), None);
    // nothing read, nothing known but what was typed a moment ago
    let levels = limited(("130 um", "170 um"), ("", ""), ("", "220 mm"));
    let told = odd_level(&Rig::begun().inspection, clearance(), &levels, Which::Limit);
    assert_eq!(told.as_deref(), Some("220 mm is about 1000 times off the level typed before it: another unit"));
}

/// The bush of the small machine: alert at 0.210 mm, simple; limit above 0.220 mm, guarded.
fn lifted(outer: &str, inner: &str, gauge: impl FnOnce(&mut Instrument)) -> Rig {
    let mut head = head();
    gauge(&mut head.instruments[0]);
    let mut rig = Rig::with(head);
    rig.covers_off().take(Act::NotApplicable { step: "bush.ts/soak".into(), point: None, reason: "clean".into() });
    rig.lifts("bush.ts/clearance", [outer; 3], [inner; 3]);
    rig
}

#[test]
fn what_is_undecided_keeps_what_is_certain() {
    let fine = |_: &mut Instrument| {};
    let coarse = |gauge: &mut Instrument| gauge.calibrations[0].expanded = figure("0.02 mm");
    let unknown = |gauge: &mut Instrument| gauge.calibrations.clear();
    // less the dial's 0.020 with the bush down: 0.212 and 0.190, past the alert and within
    assert_eq!(lifted("0.232", "0.210", fine).verdict("bush.ts"), "watch []");
    // the same figures of a gauge that cannot tell them from the limit are no greener
    assert_eq!(lifted("0.232", "0.210", coarse).verdict("bush.ts"), "watch [open]");
    // an undecided place hides no other, itself past the alert or not
    assert_eq!(lifted("0.238", "0.232", fine).verdict("bush.ts"), "watch [open]");
    // nothing known of the gauge: past the alert, and past the limit, are certain all the same
    assert_eq!(lifted("0.210", "0.205", unknown).verdict("bush.ts"), "reuse [open]");
    assert_eq!(lifted("0.232", "0.210", unknown).verdict("bush.ts"), "watch [open]");
    assert_eq!(lifted("0.242", "0.210", unknown).verdict("bush.ts"), "replace [new part to check]");
    let told = lifted("0.238", "0.232", fine).standing();
    let reasons = &told.part("bush.ts").unwrap().reasons;
    assert!(reasons[0].contains("undecided, at most 0.220, watch at least"), "{reasons:?}");
}

/// Asked and insisted on, a level that may be another unit's figure judges provisionally, whatever it says.
#[test]
fn what_a_doubted_level_judges_is_provisional() {
    let mut rig = lifted("0.180", "0.190", |_| {});
    assert_eq!(rig.verdict("bush.ts"), "reuse []");
    let levels = || Box::new(limited(("", ""), ("", ""), ("", "22 mm")));
    // the other way than the sheet's, by a supervisor
    rig.by("supervisor-b");
    rig.take(Act::Level { characteristic: clearance(), levels: levels(), doubts: vec!["another unit".to_owned()] });
    let entry = rig.last().number;
    assert_eq!(rig.verdict("bush.ts"), "reuse [open]");
    assert_eq!((rig.standing().counts.insisted, rig.standing().counts.provisional), (1, 1));
    rig.take(Act::Strike { entry, reason: "another unit".into() });
    assert_eq!(rig.verdict("bush.ts"), "reuse []");
}

/// Nor by another figure of the machine: a count of fewer places would take readings out of judgement.
#[test]
fn what_the_sheet_gives_is_given_otherwise_by_a_supervisor_alone_and_claimed_until_signed() {
    let given = |hours: &str| Act::Given {
        given: Given::parse("use.daily").unwrap(),
        figure: GivenFigure { figure: figure(hours), source: "counted on the part".into() },
    };
    let mut rig = Rig::begun();
    assert_eq!(rig.refused(given("16 h")), "taken");
    assert_eq!(rig.refused(given("8 h")), "NotGiven");
    rig.by("supervisor-b").take(given("8 h"));
    assert_eq!(rig.standing().counts.claimed, 1);
}

/// Out of limit is not argued away by another limit: what the sheet has is changed toward the safer side by anybody, the
/// other way by a supervisor alone.
#[test]
fn a_level_looser_than_the_sheets_takes_a_supervisor() {
    let ours = sheet().levels[&clearance()].clone();
    let with = |change: &dyn Fn(&mut Levels)| {
        let mut levels = ours.clone();
        change(&mut levels);
        Act::Level { characteristic: clearance(), levels: Box::new(levels), doubts: vec![] }
    };
    let guarded = Rule::Guarded(rust_decimal::Decimal::new(165, 2));
    let limit = |upper: &str, lower: &str, leads_to, rule| {
        let bound = |text: &str| {
            (!text.is_empty()).then(|| Bound { amount: Amount::Fixed(figure(text)), touching: Touching::Passes })
        };
        level(bound(upper), bound(lower), leads_to, rule)
    };
    let replace = Consequence::Replace;
    let looser: [&dyn Fn(&mut Levels); 6] = [
        &|levels| levels.limit = limit("0.230 mm", "0.130 mm", replace, guarded),
        &|levels| levels.limit = limit("0.220 mm", "0.120 mm", replace, guarded),
        &|levels| levels.limit = limit("0.220 mm", "", replace, guarded),
        &|levels| levels.limit = limit("0.220 mm", "0.130 mm", Consequence::Refer, guarded),
        &|levels| levels.limit = limit("0.220 mm", "0.130 mm", replace, Rule::Simple),
        &|levels| levels.alert = None,
    ];
    for (number, change) in looser.into_iter().enumerate() {
        let mut rig = Rig::begun();
        assert_eq!(rig.refused(with(change)), "LooserLevel", "case {number}");
        rig.by("supervisor-b").take(with(change));
        let claimed = |rig: &Rig| rig.standing().counts.claimed;
        assert_eq!(claimed(&rig), 1, "case {number}: whose hand it was is claimed until that one signs");
        // another's signature ends no claim, the named supervisor's does
        rig.make_safe().leave_rest();
        for (signs, left) in [("fitter-a", 1), ("supervisor-b", 0)] {
            let mut rig = rig.clone();
            rig.by(signs).take(Act::Resume).sign(Signing::Decisions, &[]);
            assert_eq!(claimed(&rig), left, "case {number}: signed by {signs}");
        }
    }
    let mut rig = Rig::begun();
    rig.by("supervisor-b").take(with(&|levels| levels.limit = limit("0.215 mm", "0.130 mm", replace, guarded)));
    assert_eq!(rig.standing().counts.claimed, 0, "toward the safer side nobody claims anything");
    assert_eq!(
        Rig::begun().refused(with(&|levels| levels.limit = limit("0.215 mm", "0.130 mm", replace, guarded))),
        "taken"
    );
}

/// Nor by the sheet's own again, once somebody has set a stricter one.
#[test]
fn what_somebody_has_made_stricter_takes_a_supervisor_to_be_undone() {
    let upper = |limit: &str| {
        let mut levels = sheet().levels[&clearance()].clone();
        let bound = |text: &str| Some(Bound { amount: Amount::Fixed(figure(text)), touching: Touching::Passes });
        let guarded = Rule::Guarded(rust_decimal::Decimal::new(165, 2));
        levels.limit = level(bound(limit), bound("0.130 mm"), Consequence::Replace, guarded);
        Act::Level { characteristic: clearance(), levels: Box::new(levels), doubts: vec![] }
    };
    let (strict, sheets) = (|| upper("0.212 mm"), || upper("0.220 mm"));
    let mut rig = Rig::begun();
    rig.by("supervisor-b").take(strict());
    let set = rig.last().number;
    let Decision::Refuse(refusal) = rig.by("fitter-a").may(sheets()) else { panic!("a fitter undoes it") };
    assert_eq!(refusal.kind.what(), format!("The limit would let pass what does not since entry {set}."));
    assert!(refusal.kind.mend().starts_with("A supervisor enters it"), "{}", refusal.kind.mend());
    assert_eq!(rig.refused(strict()), "taken");
    assert_eq!(rig.refused(upper("0.211 mm")), "taken");
    // another's hand at the bench, called a supervisor's, is claimed until that one signs; whose it was corrects it
    let boss = Person { id: id("boss"), name: "boss X".into(), roles: vec![Role::Supervisor], keys: vec![] };
    let mut other = rig.clone();
    other.take(Act::Person(boss)).by("boss").take(sheets());
    assert_eq!(other.standing().counts.claimed, 1);
    rig.by("supervisor-b").take(sheets());
    assert_eq!(rig.standing().counts.claimed, 0);
    // the own, typed wrong, is typed anew by whoever typed it
    let mut own = Rig::begun();
    own.take(strict());
    assert_eq!(own.refused(sheets()), "taken");
    assert_eq!(own.by("fitter-c").refused(sheets()), "LooserLevel");
}

/// Nor a figure of the machine that a supervisor has corrected.
#[test]
fn a_figure_that_another_has_given_otherwise_takes_a_supervisor_to_be_given_back() {
    let given = |hours: &str| Act::Given {
        given: Given::parse("use.daily").unwrap(),
        figure: GivenFigure { figure: figure(hours), source: "counted on the part".into() },
    };
    let mut rig = Rig::begun();
    rig.by("supervisor-b").take(given("8 h"));
    assert_eq!(rig.by("fitter-a").refused(given("16 h")), "NotGiven");
    assert_eq!(rig.by("supervisor-b").refused(given("16 h")), "taken");
}

/// Two dials on one bush: each place's repeats are held against the dial they were read on.
#[test]
fn repeats_are_retaken_by_the_division_of_their_own_dial() {
    let verdict = |coarse_at: &str| {
        let mut head = head();
        let mut coarse = head.instruments[0].clone();
        (coarse.id, coarse.resolution) = (id("D1"), Some(figure("0.01 mm")));
        head.instruments.push(coarse);
        let mut rig = Rig::with(head);
        rig.covers_off().take(Act::NotApplicable { step: "bush.ts/soak".into(), point: None, reason: "clean".into() });
        for place in ["outer 0", "inner 0"] {
            for (repeat, up) in (1..).zip(["0.19", "0.20", "0.20"]) {
                for (side, text) in [("down", "0.02"), ("up", up)] {
                    let gauge = if place == coarse_at { "D1" } else { "D2" };
                    let place = format!("{place} / {repeat} / {side}");
                    let asked = rig.ask(&Rig::typed("bush.ts/clearance", &place, text, gauge, &[]));
                    rig.enter(asked);
                }
            }
        }
        let standing = rig.standing();
        let one = standing.of_step("bush.ts/clearance").next().unwrap();
        one.measured.faults.iter().map(|fault| fault.split(':').next().unwrap().to_owned()).collect::<Vec<_>>()
    };
    // 0.01 mm apart: five divisions of D2, one of D1
    assert_eq!(verdict("outer 0"), ["inner 0"]);
    assert_eq!(verdict("inner 0"), ["outer 0"]);
}
