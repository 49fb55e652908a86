//! Whatever is asked in whatever order: nothing panics, nothing taken is ever gone, the fold is the only truth.

use std::collections::BTreeMap;

use asfound::domain::apply::apply;
use asfound::domain::characteristic::Characteristic;
use asfound::domain::checklist::Signing;
use asfound::domain::decide::{decide, request_of};
use asfound::domain::entry::{Act, FindingMade, Remark, TimerMark};
use asfound::domain::figure::Figure;
use asfound::domain::inspection::Inspection;
use asfound::domain::judge::Reach;
use asfound::domain::progress;
use asfound::domain::request::{Decision, Request};
use asfound::domain::standing::{CharacteristicStanding, Outcome, Standing};
use asfound::domain::verdict::Disposition;
use proptest::prelude::*;
use rust_decimal::Decimal;

use crate::rig::{Rig, head, id};

fn step() -> impl Strategy<Value = String> {
    let ids: Vec<String> = head().checklist.steps.iter().map(|step| step.id.clone()).collect();
    prop::sample::select(ids)
}

fn part() -> impl Strategy<Value = String> {
    prop::sample::select(vec!["job", "rotor", "bush.ts", "shaft"]).prop_map(str::to_owned)
}

fn reading() -> impl Strategy<Value = Request> {
    let rig = Rig::begun();
    let places: Vec<(String, String)> = rig
        .inspection
        .head()
        .checklist
        .steps
        .iter()
        .flat_map(|step| progress::cells(&rig.inspection, step).into_iter().map(|cell| (step.id.clone(), cell.place())))
        .collect();
    let text = prop_oneof![
        4 => (18u32..250).prop_map(|size| format!("0.{size:03}")),
        4 => (890u32..940).prop_map(|size| format!("59.{size}")),
        1 => "[0-9.,a-z -]{0,8}",
    ];
    let gauge = prop::sample::select(vec!["D2", "D2", "M1", "M1", "M3"]);
    let insisted = prop::sample::subsequence(
        vec!["digits", "turn", "factor", "far off", "half millimetre", "below nothing"],
        0..=6,
    );
    (prop::sample::select(places), text, gauge, insisted)
        .prop_map(|((step, place), text, gauge, insisted)| Rig::typed(&step, &place, &text, gauge, &insisted))
}

fn act() -> impl Strategy<Value = Act> {
    let worded = || prop::sample::select(vec!["", "because"]).prop_map(str::to_owned);
    let finding = (
        part(),
        step(),
        prop::sample::select(vec![("scoring", "deep"), ("crack", "seen"), ("dent", "small"), ("none", "x")]),
    );
    prop_oneof![
        6 => (step(), prop::sample::select(vec!["fuel", "oil", "gas"])).prop_map(|(step, point)| Act::Confirm { step, point: point.into() }),
        3 => step().prop_map(|step| Act::Tick { step }),
        3 => step().prop_map(|step| Act::Looked { step }),
        2 => finding.prop_map(|(part, step, (kind, grade))| Act::Finding(FindingMade {
            part, step, kind: kind.into(), grade: grade.into(), ..FindingMade::default()
        })),
        2 => (step(), worded()).prop_map(|(step, reason)| Act::Skip { step, place: None, reason }),
        4 => (1u32..60, worded()).prop_map(|(entry, reason)| Act::Strike { entry, reason }),
        1 => (step(), prop::bool::ANY).prop_map(|(step, start)| Act::Timer {
            step, mark: if start { TimerMark::Started } else { TimerMark::Ended }
        }),
        1 => (part(), worded()).prop_map(|(part, question)| Act::Call { part, question }),
        1 => (1u32..60, worded()).prop_map(|(entry, text)| Act::Answer { entry, who: "maker".into(), text }),
        1 => (part(), worded()).prop_map(|(part, reason)| Act::Condemned { part, reason }),
        1 => (part(), prop::sample::select(Disposition::ALL.to_vec()), worded()).prop_map(|(part, to, reason)| Act::Overrule {
            part, to, supervisor: id("supervisor-b"), reason
        }),
        1 => worded().prop_map(|reason| Act::Unjudged {
            characteristic: Characteristic::parse("shaft.ts.step").unwrap(), as_left: false, supervisor: id("supervisor-b"), reason
        }),
        1 => Just(Act::Resume),
        1 => prop::bool::ANY.prop_map(|close| {
            Act::Sign(Rig::signature(if close { Signing::Close } else { Signing::Decisions }, &[]))
        }),
        1 => (1u32..60).prop_map(|sign| Act::Countersign { sign, chain: String::new() }),
        1 => (1u32..60, step(), worded()).prop_map(|(sign, step, text)| Act::Return {
            sign, chain: String::new(), remarks: vec![Remark { step: Some(step), text }]
        }),
        1 => (1u32..60, worded()).prop_map(|(entry, text)| Act::RemarkAnswered { entry, remark: 1, text }),
        1 => (step(), worded()).prop_map(|(step, text)| Act::Note { step: Some(step), text }),
    ]
}

fn requests() -> impl Strategy<Value = Vec<Request>> {
    prop::collection::vec(prop_oneof![3 => reading(), 2 => act().prop_map(Request::Do)], 0..70)
}

/// Asks everything in turn; now and then another hand, and time goes on.
fn play(rig: &mut Rig, requests: &[Request]) -> BTreeMap<u32, String> {
    let mut taken = BTreeMap::new();
    for (number, request) in requests.iter().enumerate() {
        let hand = ["fitter-a", "fitter-a", "fitter-a", "fitter-c", "supervisor-b"][number % 5];
        rig.by(hand);
        let before = rig.inspection.clone();
        match rig.ask(request) {
            Decision::Take(entry) => {
                taken.insert(entry.number, format!("{:?}", entry.act));
                let before = rig.standing();
                let change = apply(&mut rig.inspection, *entry);
                assert_eq!(before.after(&rig.inspection, &change), rig.standing(), "{request:?}");
            }
            Decision::Ask { doubts, .. } => {
                assert!(!doubts.is_empty());
                assert_eq!(rig.inspection, before, "a question changes nothing");
            }
            Decision::Refuse(refusal) => {
                assert!(!refusal.kind.what().is_empty() && !refusal.kind.mend().is_empty());
                assert_eq!(rig.inspection, before, "a refusal changes nothing");
            }
        }
    }
    taken
}

/// What may come next, told from the entries alone and nothing that the program makes of them: the covers come off when
/// all is safe and this hand has said so, the float is taken or left out, nobody has called a halt, and it is not done.
fn model_allows_tick(rig: &Rig, step: &str) -> bool {
    let entries = rig.inspection.entries();
    let struck: Vec<u32> = entries
        .iter()
        .filter_map(|entry| if let Act::Strike { entry, .. } = entry.act { Some(entry) } else { None })
        .collect();
    let live: Vec<_> = entries.iter().filter(|entry| !struck.contains(&entry.number)).collect();
    let any = |fits: &dyn Fn(&Act) -> bool| live.iter().any(|entry| fits(&entry.act));
    let confirmed = |point: &str| any(&|act| matches!(act, Act::Confirm { point: at, .. } if at == point));
    let sworn = live
        .iter()
        .any(|entry| entry.by.same_as(&rig.hand.by) && matches!(entry.act, Act::Confirm { .. } | Act::Resume));
    let skipped = |id: &str| any(&|act| matches!(act, Act::Skip { step, place: None, .. } if step == id));
    let read =
        |at: &str| any(&|act| matches!(act, Act::Reading { step, place, .. } if step == "rotor/axial" && place == at));
    let condemned = any(&|act| matches!(act, Act::Condemned { part, .. } if part == "rotor"));
    let float = skipped("rotor/axial") || condemned || (read("axial / pushed") && read("axial / pulled"));
    let answered = |call: u32| any(&|act| matches!(act, Act::Answer { entry, .. } if *entry == call));
    let halted = live
        .iter()
        .any(|entry| matches!(&entry.act, Act::Call { part, .. } if part == "rotor") && !answered(entry.number));
    let done = any(&|act| matches!(act, Act::Tick { step } if step == "rotor/covers")) && !skipped("rotor/covers");
    let settled = |remarks: u32| any(&|act| matches!(act, Act::RemarkAnswered { entry, .. } if *entry == remarks));
    let remarked = live.iter().any(|entry| {
        let Act::Return { remarks, .. } = &entry.act else { return false };
        remarks.iter().any(|one| one.step.as_deref() == Some("rotor/covers")) && !settled(entry.number)
    });
    let safe = confirmed("fuel") && confirmed("oil") && sworn;
    step == "rotor/covers" && safe && float && !halted && (!done || remarked)
}

/// The same entries in a record whose gauges are `times` as uncertain.
fn less_certain(rig: &Rig, times: u32) -> Standing {
    let mut head = rig.inspection.head().clone();
    for calibration in head.instruments.iter_mut().flat_map(|gauge| &mut gauge.calibrations) {
        let (amount, unit) = (calibration.expanded.decimal(), calibration.expanded.unit());
        calibration.expanded = Figure::new(amount * Decimal::from(times), unit);
    }
    let mut again = Inspection::new(head);
    for entry in rig.inspection.entries().to_vec() {
        apply(&mut again, entry);
    }
    Standing::of(&again)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 96, ..ProptestConfig::default() })]

    #[test]
    fn any_order_of_requests_keeps_every_entry_and_replays_to_the_same(requests in requests(), safe in prop::bool::ANY) {
        let mut rig = if safe { Rig::open() } else { Rig::begun() };
        let taken = play(&mut rig, &requests);
        for (number, act) in taken {
            prop_assert_eq!(format!("{:?}", rig.inspection.entry(number).unwrap().act), act);
        }
        let mut replayed = Inspection::new(rig.inspection.head().clone());
        for entry in rig.inspection.entries().to_vec() {
            // what was taken then is allowed again now: an old record brings no remark by itself
            let (request, hand) = request_of(&entry);
            let again = decide(&replayed, &request, &hand);
            prop_assert!(matches!(&again, Decision::Take(same) if **same == entry), "{:?} {:?}", entry, again);
            apply(&mut replayed, entry);
        }
        prop_assert_eq!(&replayed, &rig.inspection);
        prop_assert_eq!(Standing::of(&replayed), rig.standing());
    }

    #[test]
    fn entries_of_any_origin_are_applied_and_reckoned_without_a_panic(acts in prop::collection::vec(act(), 0..40)) {
        let mut rig = Rig::begun();
        for (number, act) in (2..).zip(acts) {
            let mut entry = rig.last().clone();
            entry.number = number;
            entry.act = act;
            apply(&mut rig.inspection, entry);
        }
        let standing = rig.standing();
        prop_assert_eq!(standing.parts.len(), 4);
        let _ = progress::next_step(&rig.inspection);
    }

    #[test]
    fn a_struck_reading_stays_readable_and_its_place_is_open(requests in requests()) {
        let mut rig = Rig::open();
        play(&mut rig, &requests);
        for entry in rig.inspection.entries().to_vec() {
            let Act::Reading { step, place, .. } = &entry.act else { continue };
            prop_assert!(rig.inspection.readings_at(step, place).iter().any(|one| one.number == entry.number));
            if rig.inspection.struck_by(entry.number).is_some() {
                let counts = rig.inspection.reading(step, place).map(|taken| taken.entry);
                prop_assert_ne!(counts, Some(entry.number));
                if counts.is_none() && !rig.inspection.is_left_out(step, place) {
                    // open: the place waits, and what rests on it is not judged as complete
                    let of = rig.inspection.head().checklist.step(step).unwrap();
                    prop_assert!(!progress::is_settled(&rig.inspection, of, place));
                    let waiting = rig.standing();
                    let is_judged = |one: &CharacteristicStanding| matches!(one.outcome, Outcome::Judged(_));
                    prop_assert!(!waiting.of_step(step).any(is_judged), "{} {}", step, place);
                }
            }
        }
    }

    #[test]
    fn nothing_is_struck_twice(requests in requests()) {
        let mut rig = Rig::open();
        play(&mut rig, &requests);
        for entry in rig.inspection.entries().to_vec() {
            let Act::Strike { entry: struck, .. } = entry.act else { continue };
            prop_assert_eq!(rig.refused(Act::Strike { entry: struck, reason: "once more".into() }), "StruckAlready");
        }
    }

    #[test]
    fn more_uncertainty_never_makes_a_part_greener(requests in requests(), size in 125u32..235, times in 2u32..40) {
        let mut rig = Rig::open();
        let lift = format!("0.{:03}", size + 20);
        rig.lifts("bush.ts/clearance", [&lift, &lift, &lift], [&lift, &lift, &lift]);
        play(&mut rig, &requests);
        let (sure, unsure) = (rig.standing(), less_certain(&rig, times));
        for (sure, unsure) in sure.parts.iter().zip(&unsure.parts) {
            prop_assert!(!unsure.is_within() || sure.is_within(), "{}: {:?} {:?}", sure.id, sure.reasons, unsure.reasons);
        }
        for (sure, unsure) in sure.characteristics.iter().zip(&unsure.characteristics) {
            let reach = |one: &CharacteristicStanding| one.judgement().map(|judgement| judgement.reached.reach);
            if reach(sure) == Some(Reach::Limit) {
                prop_assert_eq!(reach(unsure), Some(Reach::Limit), "past is past, whatever the uncertainty");
            }
        }
    }

    #[test]
    fn repeats_further_apart_never_make_a_part_greener(mean in 125u32..245, one in -30i32..30, other in -30i32..30) {
        let lifts = |off: [i32; 3]| {
            let mut rig = Rig::open();
            let insisted = ["digits", "turn", "factor", "far off", "half millimetre", "below nothing"];
            for (repeat, off) in (1..).zip(off) {
                for (way, size) in [("down", 20), ("up", 20 + mean.saturating_add_signed(off))] {
                    let place = format!("outer 0 / {repeat} / {way}");
                    let text = format!("0.{size:03}");
                    let decision = rig.ask(&Rig::typed("bush.ts/clearance", &place, &text, "D2", &insisted));
                    rig.enter(decision);
                }
            }
            rig.standing().part("bush.ts").unwrap().verdict.clone()
        };
        let (alike, apart) = (lifts([0; 3]), lifts([one, other, -(one + other)]));
        prop_assert!(apart.disposition >= alike.disposition, "{:?} {:?}", alike, apart);
        prop_assert!(alike.holds.len() <= apart.holds.len(), "{:?} {:?}", alike, apart);
    }

    #[test]
    fn a_part_is_the_worst_of_its_members_and_holds_their_union(requests in requests()) {
        let mut rig = Rig::open();
        play(&mut rig, &requests);
        let standing = rig.standing();
        for part in &standing.parts {
            for one in standing.characteristics.iter().filter(|one| one.characteristic.part() == part.id) {
                prop_assert!(part.computed.disposition >= one.leads_to_now().at_least() || one.judgement().is_none()
                    || one.condition == asfound::domain::judge::Condition::AsLeft
                    || matches!(one.outcome, Outcome::Incomplete(_)));
            }
        }
        let missing: Vec<_> = standing.holds_in_words();
        let parts: usize = standing.parts.iter().map(|part| part.verdict.holds.len()).sum();
        prop_assert_eq!(missing.len(), parts + standing.job.len());
    }

    #[test]
    fn a_model_of_what_may_come_next_agrees(requests in requests(), step in step()) {
        let mut rig = Rig::begun();
        play(&mut rig, &requests);
        let allowed = matches!(rig.may(Act::Tick { step: step.clone() }), Decision::Take(_));
        prop_assert_eq!(allowed, model_allows_tick(&rig, &step));
    }
}
