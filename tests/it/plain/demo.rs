//! The demonstration comes out as its description says: each figure and verdict of its last table.
//!
//! Expected values: the last table of the demonstration's description, reckoned there by hand and script.

use asfound::demo::{Keeper, Scenery, play, scenery};
use asfound::domain::characteristic::Characteristic;
use asfound::domain::entry::Entry;
use asfound::domain::exact::Exact;
use asfound::domain::inspection::{Head, Inspection};
use asfound::domain::judge::{Condition, Reach};
use asfound::domain::outlook::Outlook;
use asfound::domain::reckon::forecast::Basis;
use asfound::domain::reckon::told::Told;
use asfound::domain::sheet::Touching;
use asfound::domain::signing::Seal;
use asfound::domain::standing::{CharacteristicStanding, Standing};

/// Keeps nothing.
#[derive(Default)]
pub(super) struct Nowhere {
    entries: usize,
}

impl Keeper for Nowhere {
    fn begin(&mut self, _head: &Head) -> Result<(), String> {
        self.entries = 0;
        Ok(())
    }

    fn append(&mut self, entries: &[Entry]) -> Result<(), String> {
        self.entries += entries.len();
        Ok(())
    }

    fn seal(&mut self) -> Result<Seal, String> {
        Ok(Seal { length: u64::try_from(self.entries).unwrap(), sha256: "0".repeat(64), lost: Vec::new() })
    }

    fn chain(&self) -> String {
        "0123456789abcdef".to_owned()
    }
}

pub(super) fn as_written() -> Scenery {
    scenery("2024-07-12".parse().unwrap()).unwrap()
}

pub(super) fn played() -> [Inspection; 3] {
    static PLAYED: std::sync::OnceLock<[Inspection; 3]> = std::sync::OnceLock::new();
    PLAYED.get_or_init(play_all).clone()
}

fn play_all() -> [Inspection; 3] {
    let scenery = as_written();
    let [first, second, third] = &scenery.answers;
    let mut keeper = Nowhere::default();
    let play = |answers: &String, before: Option<&Inspection>, keeper: &mut Nowhere| {
        play(&scenery, answers, before.map(|before| (before, "0123456789abcdef")), keeper).unwrap()
    };
    let first = play(first, None, &mut keeper);
    let second = play(second, Some(&first), &mut keeper);
    let third = play(third, Some(&second), &mut keeper);
    [first, second, third]
}

fn as_found<'a>(standing: &'a Standing, id: &str) -> &'a CharacteristicStanding {
    standing.characteristic(Characteristic::parse(id).unwrap(), Condition::AsFound).unwrap()
}

fn told(one: &CharacteristicStanding) -> &Told {
    let Some(Outlook::Told { told, .. }) = &one.outlook else { panic!("{:?}", one.outlook) };
    told
}

fn exact(text: &str) -> Exact {
    Exact::from(text.parse::<rust_decimal::Decimal>().unwrap())
}

#[test]
fn bounds_of_the_forecasts_are_those_worked_by_hand() {
    let [_, _, present] = played();
    let standing = Standing::of(&present);
    for (id, bound, room) in [
        ("thrust.main.ratio", "12.28", "0.005"),
        ("thrust.counter.ratio", "11.08", "0.005"),
        // 0.188 as read, less the 0.00006 that bush and journal have grown apart by 22 degC
        // worked with u 0.0027, the budget has 0.00243: k times the difference nearer
        ("bush.cs.clearance", "0.18794", "0.0009"),
        // worked without the share of the gauge's resolution, which the budget counts (GUM F.2.2.1): a little nearer
        ("shaft.cs.step", "0.014", "0.0010"),
        ("nozzle.trailing-edge", "0.976", "0.004"),
        ("casing.gas.wall", "7.94", "0.03"),
    ] {
        let off = (&told(as_found(&standing, id)).bound - &exact(bound)).abs();
        assert!(off <= exact(room), "{id}: {bound}, found {:?}", told(as_found(&standing, id)).bound);
    }
    let ts = told(as_found(&standing, "bush.ts.clearance"));
    assert_eq!(ts.basis, Basis::LastRate, "{}", ts.fit);
    // worked by hand as 4.3 with another share of the gauge in u; above 3.8 either way, and the same rate follows
    assert!(ts.fit.starts_with("not straight: chi-squared") && ts.fit.contains("above 3.8"), "{}", ts.fit);
    let line = exact("0.242");
    assert!(ts.next > line, "the last rate is worse than the line: {:?}", ts.next);
    let life = told(as_found(&standing, "impeller.life"));
    assert_eq!(&life.next - &exact("60000"), exact("510"), "life ends 510 h before the next opening");
}

/// 59.931 less 59.909 is on the limit of 0.022, and touching counts; in doubles it would be 0.02199.
#[test]
fn step_wear_on_the_limit_fails() {
    let [_, _, present] = played();
    let standing = Standing::of(&present);
    let step = as_found(&standing, "shaft.ts.step").judgement().unwrap().clone();
    assert_eq!((step.value.value, step.reached.reach), (exact("0.022"), Reach::Limit));
    assert_eq!(step.reached.touching, Touching::Fails);
    let mid = as_found(&standing, "shaft.runout.mid");
    let working = format!("{}", mid.measured.working[0]);
    assert!(working.contains("0.023 mm") && working.contains("0.024 mm"), "by the marks and swept: {working}");
}

/// Lift at a journal times its lever is the float at the nose: 0.25 / 1.532 and 0.31 / 1.452.
#[test]
fn floats_and_lifts_agree_by_the_levers() {
    let [_, _, present] = played();
    let standing = Standing::of(&present);
    for (float, lift, lever) in
        [("float.radial.cs", "bush.cs.clearance", "1.532"), ("float.radial.ts", "bush.ts.clearance", "1.452")]
    {
        let value = |id| as_found(&standing, id).judgement().unwrap().value.value.clone();
        let at_journal = value(float).over(&exact(lever)).unwrap();
        assert!((&at_journal - &value(lift)).abs() < exact("0.001"), "{float}: {at_journal:?}");
    }
}

/// The answers with one place of the turbine side's clearance taken anew: three lifts from 0.02 up, by this gauge.
fn with_place(answers: &str, spot: &str, ups: [&str; 3], gauge: &str) -> String {
    let changed = answers.lines().map(|line| {
        let rest = line.strip_prefix(&format!("bush.ts/clearance | {spot} / "));
        let Some(place) = rest.and_then(|rest| rest.split(" | ").next()) else { return line.to_owned() };
        let typed = match place.split_once(" / ").unwrap() {
            (_, "down") => ".02",
            (number, _) => ups[number.parse::<usize>().unwrap() - 1],
        };
        format!("bush.ts/clearance | {spot} / {place} | {typed} | {gauge}")
    });
    changed.collect::<Vec<_>>().join("\n")
}

fn clearance_ts(answers: &str) -> (CharacteristicStanding, usize) {
    let played = play(&as_written(), answers, None, &mut Nowhere::default()).unwrap();
    let standing = Standing::of(&played);
    (as_found(&standing, "bush.ts.clearance").clone(), standing.counts.past_date)
}

/// The same clearance: good enough a gauge decides it today, a worse one leaves it undecided.
#[test]
fn the_gauge_decides_whether_a_clearance_is_decided() {
    let [_, _, present] = &as_written().answers;
    let reach = |answers: &str| {
        let (one, past_date) = clearance_ts(answers);
        (one.judgement().unwrap().reached.reach, past_date)
    };
    assert_eq!(reach(present), (Reach::Alert, 0));
    // a division of D1 apart is no reason to take them again
    assert_eq!(reach(&with_place(present, "inner 0", [".23", ".23", ".24"], "D1")), (Reach::Undecided, 1));
}

/// Each gauge of a set counts in full beside the other, after JCGM 100:2008 5.1.2: never less than with the worse one alone.
#[test]
fn a_place_of_two_gauges_is_judged_and_never_greener_than_by_the_worse_one() {
    let [_, _, present] = &as_written().answers;
    // one repeat whole on the other dial: a difference is read on one
    let with = |answers: &str, figure: &str, typed: &str| {
        let at = format!("bush.ts/clearance | inner 0 / 3 / {figure} | ");
        let line = answers.lines().find(|line| line.starts_with(&at)).unwrap();
        answers.replace(line, &format!("{at}{typed} | D1"))
    };
    let of = |answers: &str| {
        let (one, _) = clearance_ts(answers);
        let place = one.measured.values.iter().find(|value| value.spot == "inner 0").unwrap();
        (place.variance.as_ref().unwrap().variance.clone(), one.judgement().unwrap().reached.reach)
    };
    let (fine, decided) = of(present);
    let (coarse, _) = of(&with_place(present, "inner 0", [".23", ".23", ".23"], "D1"));
    let (mixed, open) = of(&with(&with(present, "down", ".02"), "up", ".23"));
    assert!(mixed > coarse && coarse > fine, "{mixed:?} {coarse:?} {fine:?}");
    assert_eq!((decided, open), (Reach::Alert, Reach::Undecided));
}

/// Six divisions of D2 apart are no more than a division of D1: each place is held against the dial that read it.
#[test]
fn a_coarser_dial_at_another_place_hides_no_scatter() {
    let [_, _, present] = &as_written().answers;
    let scattered = with_place(present, "inner 0", [".214", ".220", ".226"], "D2");
    let coarse = with_place(&scattered, "outer 0", [".22", ".22", ".22"], "D1");
    for answers in [scattered, coarse] {
        let (one, _) = clearance_ts(&answers);
        let words: Vec<_> = one.measured.values.iter().filter_map(|value| value.fault.as_ref()).collect();
        assert!(words.len() == 1 && words[0].word == "retake", "{words:?}");
        assert!(words[0].words.starts_with("inner 0: repeats 0.012 mm apart"), "{words:?}");
        assert!(one.judgement().is_none(), "{:?}", one.outcome);
    }
}

#[test]
fn a_fault_in_the_answers_names_its_line() {
    let scenery = as_written();
    let [first, ..] = &scenery.answers;
    let number = first.lines().position(|line| line == "job/papers | tick").unwrap();
    for (wrong, words) in [
        ("job/paper | tick", "there is no step `job/paper`"),
        ("job/papers | tick | x | y | z", "is no answer to a step"),
        ("bush.ts/clearance | inner 0 / 1 / up | 0.2 | D2", "This step is not open yet"),
        ("hand | nobody", "Nobody here is known as `nobody`"),
    ] {
        let mut lines: Vec<_> = first.lines().take(number + 3).collect();
        lines[number] = wrong;
        let fault = play(&scenery, &lines.join("\n"), None, &mut Nowhere::default()).unwrap_err();
        assert!(fault.to_string().contains(words), "{fault}");
        // hands are believed until they do something
        assert_eq!(fault.line, if wrong.starts_with("hand") { number + 2 } else { number + 1 }, "{fault}");
    }
}

#[test]
fn the_present_inspection_is_today() {
    let scenery = scenery("2031-04-17".parse().unwrap()).unwrap();
    assert!(scenery.answers[2].contains("clock | 2031-04-17T07:00:00+02:00"));
    let d1 = scenery.instruments.iter().find(|gauge| gauge.id.as_str() == "D1").unwrap();
    let due = d1.calibrations.last().unwrap().due.unwrap();
    assert_eq!(due.to_string(), "2031-03-18", "30 days past its date");
    assert!(d1.remark.as_ref().unwrap().contains("2031-04-17"));
}

#[test]
fn what_is_entered_behind_the_played_inspection_comes_after_it() {
    let over = |now: &str| asfound::demo::over_by(crate::rig::stamp(now)).to_string();
    assert_eq!(over("2031-04-17T09:51:00+02:00"), "2031-04-16", "in the morning it was yesterday's");
    assert_eq!(over("2031-04-17T16:59:00+02:00"), "2031-04-16");
    assert_eq!(over("2031-04-17T17:01:00+02:00"), "2031-04-17");
    let last = crate::review::shelf::played()[2].entries().last().unwrap().at;
    assert!(last < crate::rig::stamp("2024-07-12T17:00:00+02:00"), "{last:?}");
}
