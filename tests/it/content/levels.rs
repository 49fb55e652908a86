//! Numbers of machines stand in sheets, never in a checklist; the trade's check values serve here as levels of a test machine.

use asfound::domain::apply::apply;
use asfound::domain::characteristic::Characteristic;
use asfound::domain::entry::Act;
use asfound::domain::figure::Figure;
use asfound::domain::inspection::{Head, Inspection};
use asfound::domain::judge::Condition;
use asfound::domain::sheet::{Amount, Bound, Level, Rule, Touching};
use asfound::domain::standing::Standing;
use asfound::domain::verdict::{Consequence, Disposition, Hold};

use super::demo::played;
use super::steps::every;
use super::trade::words;
use crate::rig::figure;

/// Figures with a unit of length, field or unbalance that stand in a text, and what they are when they are no level.
const NO_LEVELS: [(&str, &str); 6] = [
    ("60 mm", "an example of how steel grows with warmth"),
    ("7 thousandths of a millimetre", "the same example"),
    ("half a millimetre", "a turn of the micrometer's sleeve"),
    ("thousandths of a millimetre, minus", "the unit to type in"),
    ("30 cm", "how far a spray can is held"),
    ("by a millimetre", "how far a probe was lifted by mistake"),
];

/// Two to one, two millimetres, two hundredths: whoever reads a text must find no figure to judge a part by.
#[test]
fn no_level_stands_in_a_text() {
    let units =
        ["mm", "um", "cm", "millimetre", "millimetres", "hundredth", "hundredths", "thousandth", "thousandths", "mt"];
    let counts = |word: &str| {
        word.starts_with(|first: char| first.is_ascii_digit())
            || ["half", "one", "two", "three", "a", "by"].contains(&word)
    };
    for checklist in every() {
        for step in &checklist.steps {
            let mut text = words(step);
            for (known, _) in NO_LEVELS {
                text = text.replace(known, "");
            }
            let ratio =
                ["two", "three", "four", "2", "3", "4"].iter().any(|first| text.contains(&format!("{first} to one")));
            assert!(!ratio, "{}: a ratio", step.id);
            let bare = |word: &str| word.trim_matches(|c: char| !c.is_alphanumeric()).to_owned();
            let all: Vec<_> = text.split_whitespace().map(bare).collect();
            for pair in all.windows(2) {
                assert!(!(counts(&pair[0]) && units.contains(&pair[1].as_str())), "{}: {}", step.id, pair.join(" "));
            }
        }
    }
}

/// The demonstration's readings before other levels; `typed` puts other figures in place of some.
fn judged_by(levels: &[(&str, Level)], typed: &[(&str, &str, &str)]) -> Standing {
    let right = &played()[2];
    let mut sheet = right.head().sheet.clone().unwrap();
    for (id, level) in levels {
        let levels = sheet.levels.get_mut(&Characteristic::parse(id).unwrap()).unwrap();
        levels.alert = None;
        levels.limit = Some(level.clone());
    }
    let history = if typed.is_empty() { right.head().history.clone() } else { vec![] };
    let mut inspection = Inspection::new(Head { sheet: Some(sheet), history, ..right.head().clone() });
    for entry in right.entries() {
        let mut entry = entry.clone();
        if let Act::Reading { step, place, taken, .. } = &mut entry.act
            && let Some((.., text)) = typed.iter().find(|(of, at, _)| of == step && place.starts_with(at))
        {
            *taken = figure(text);
        }
        apply(&mut inspection, entry);
    }
    Standing::of(&inspection)
}

fn limit(upper: &str, lower: &str, leads_to: Consequence) -> Level {
    let bound = |text: &str| {
        (!text.is_empty())
            .then(|| Bound { amount: Amount::Fixed(text.parse::<Figure>().unwrap()), touching: Touching::Fails })
    };
    Level::new(bound(upper), bound(lower), leads_to, Rule::Simple, "the trade, no source; levels of a test machine")
        .unwrap()
}

#[track_caller]
fn leads(standing: &Standing, id: &str, now: Consequence, ahead: Consequence) {
    let one = standing.characteristic(Characteristic::parse(id).unwrap(), Condition::AsFound).unwrap();
    assert_eq!((one.leads_to_now(), one.leads_to_ahead()), (now, ahead), "{id}: {:?}", one.outcome);
}

/// A thrust bearing is due at 2 : 1, also when it will get there before the next opening; a bush when its pin has lost
/// 2 mm; a journal 0.02 mm smaller than beside it goes to the maker. Common practice, no source.
#[test]
fn the_trades_check_values_as_levels_of_a_test_machine() {
    use Consequence::{Nothing, Refer, Replace};
    let ratio = limit("", "2", Replace);
    let pin = limit("2 mm", "", Replace);
    let step = limit("0.02 mm", "", Refer);
    let all = [
        ("thrust.main.ratio", ratio.clone()),
        ("bush.ts.pin", pin.clone()),
        ("shaft.ts.step", step.clone()),
        ("bush.cs.pin", pin.clone()),
        ("shaft.cs.step", step.clone()),
    ];
    let found = judged_by(&all, &[]);
    // 2.37 now and 1.90 at the next opening; 1.40 now and 2.09 then; 59.931 - 59.909 = 0.022
    leads(&found, "thrust.main.ratio", Nothing, Replace);
    leads(&found, "bush.ts.pin", Nothing, Replace);
    leads(&found, "shaft.ts.step", Refer, Refer);
    leads(&found, "bush.cs.pin", Nothing, Nothing);
    leads(&found, "shaft.cs.step", Nothing, Nothing);
    // exactly on each: 22.0 / 11.0, 12.00 - 10.00, 59.929 - 59.909
    let on = [
        ("thrust.main/lands", "land 3 / 1 / taper", "22.0 mm"),
        ("thrust.main/lands", "land 3 / 1 / flat", "11.0 mm"),
        ("bush.ts/pin", "near the tip", "10.00 mm"),
        ("shaft/diameter.ts", "unworn", "59.929 mm"),
    ];
    let on = judged_by(&all, &on);
    leads(&on, "thrust.main.ratio", Replace, Replace);
    leads(&on, "bush.ts.pin", Replace, Replace);
    leads(&on, "shaft.ts.step", Refer, Refer);
    // just short of each, and expected to get there: from the new flat, and from no wear
    let short = [
        ("thrust.main/lands", "land 3 / 1 / taper", "22.1 mm"),
        ("thrust.main/lands", "land 3 / 1 / flat", "10.9 mm"),
        ("bush.ts/pin", "near the tip", "10.01 mm"),
        ("shaft/diameter.ts", "unworn", "59.928 mm"),
    ];
    let short = judged_by(&all, &short);
    leads(&short, "thrust.main.ratio", Nothing, Replace);
    leads(&short, "bush.ts.pin", Nothing, Replace);
    leads(&short, "shaft.ts.step", Nothing, Refer);
}

/// In doubt it is due too: a ratio that the gauge cannot tell from 2 : 1 is no reason to put the bearing back. Common practice,
/// no source.
#[test]
fn a_thrust_bearing_in_doubt_does_not_go_back() {
    let from = Bound { amount: Amount::Fixed("2".parse::<Figure>().unwrap()), touching: Touching::Fails };
    let rule = Rule::Guarded(rust_decimal::Decimal::new(165, 2));
    let source = "the trade, no source; levels of a test machine";
    let level = Level::new(None, Some(from), Consequence::Replace, rule, source).unwrap();
    let part = |taper: &str, flat: &str| {
        let typed =
            [("thrust.main/lands", "land 3 / 1 / taper", taper), ("thrust.main/lands", "land 3 / 1 / flat", flat)];
        judged_by(&[("thrust.main.ratio", level.clone())], &typed).part("thrust.main").unwrap().clone()
    };
    let in_doubt = part("22.01 mm", "11.0 mm");
    let open = |hold: &Hold| matches!(hold, Hold::Open(why) if why.contains("undecided"));
    assert!(in_doubt.verdict.holds.iter().any(open) && !in_doubt.is_within(), "{:?}", in_doubt.verdict);
    let due = part("22.0 mm", "11.0 mm");
    assert_eq!(due.verdict.disposition, Disposition::Replace, "{:?}", due.verdict);
    assert!(!due.verdict.holds.iter().any(open), "{:?}", due.verdict);
}
