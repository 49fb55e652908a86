//! What the first page and the further pages say.

use std::collections::BTreeSet;

use crate::rig::{Rig, head, id};
use asfound::domain::checklist::Signing;
use asfound::domain::entry::{Act, FindingMade, Remark, SignedVerdict};
use asfound::domain::review::{Kept, Review, Tenor, differences, that_counts};
use asfound::domain::signing;
use asfound::domain::verdict::{Consequence, Disposition};

fn review(rig: &Rig) -> Review {
    Review::of(&rig.inspection, &rig.standing(), &Kept::default())
}

const SOUND: [&str; 10] =
    ["59.931", "59.931", "59.930", "59.930", "59.930", "59.929", "59.930", "59.930", "59.930", "59.930"];
const WORN: [&str; 10] =
    ["59.931", "59.931", "59.917", "59.915", "59.916", "59.918", "59.912", "59.909", "59.911", "59.913"];

/// Everything measured; `inner` is the bush's inner end, `journal` the shaft's.
fn measured(inner: [&str; 3], journal: [&str; 10]) -> Rig {
    let mut rig = Rig::open();
    rig.take(Act::NotApplicable { step: "bush.ts/soak".into(), point: None, reason: "clean already".into() });
    rig.lifts("bush.ts/clearance", ["0.180"; 3], inner).journal(journal);
    rig
}

#[test]
fn a_reading_of_a_gauge_past_its_date_says_so() {
    let printed = |due: &str| {
        let mut head = head();
        for one in head.instruments.iter_mut().flat_map(|gauge| &mut gauge.calibrations) {
            one.due = asfound::domain::stamp::day(due).ok();
        }
        let mut rig = Rig::with(head);
        rig.covers_off();
        let told = asfound::report::record::lines(&rig.inspection, &rig.standing(), &Kept::default()).join("\n");
        let json = asfound::report::json::of_record(&rig.inspection, &rig.standing(), &Kept::default());
        let said = json["entries"].as_array().unwrap().iter().filter(|one| one["gauge past date"] == true).count();
        (told.matches(", past its date").count(), said, rig.standing().counts.past_date)
    };
    assert_eq!([printed("2032-01-01"), printed("2031-01-01")], [(0, 0, 0), (2, 2, 1)]);
}

#[test]
fn page_one_says_whether_it_lasts_what_waits_and_whether_it_is_closed() {
    let review = review(&measured(["0.250"; 3], WORN));
    assert_eq!(review.lasts.text, "Not as it lies: 1 part to replace, 1 referred.");
    assert_eq!(review.lasts.tenor, Tenor::Bad);
    assert!(review.closed.text.starts_with("No: "), "{}", review.closed.text);
    let parts: Vec<_> = review.lines.iter().map(|line| (line.part.as_str(), line.disposition)).collect();
    assert_eq!(parts[0], ("bush.ts", Disposition::Replace));
    assert_eq!(parts[1], ("shaft", Disposition::Watch));
    assert_eq!(review.lines[0].made_so[0], "clearance 0.23 mm (inner 0), limit 0.22");
    assert_eq!(review.lines[0].holds, [('?', "new part".to_owned())]);
    assert_eq!(review.lines[1].holds, [('>', "referred".to_owned())]);
    assert!(review.decide.iter().any(|what| what == "answer by concession: shaft"), "{:?}", review.decide);
}

#[test]
fn a_record_all_within_has_no_line_and_waits_for_the_countersignature_alone() {
    let mut rig = measured(["0.182"; 3], SOUND);
    rig.take(Act::Note { step: Some("job/cause".into()), text: "dirty oil".into() });
    rig.sign(Signing::Decisions, &[]);
    let review = review(&rig);
    assert!(review.lines.is_empty(), "{:?}", review.lines);
    assert_eq!(review.lasts.text, "Not known to 36000 h: 2 of 3 figures have no forecast yet.");
    assert!(review.within.contains(&"bush.ts".to_owned()));
    assert_eq!(review.decide.len(), 1 + usize::from(!review.differences.is_empty()), "{:?}", review.decide);
    assert!(review.decide[0].starts_with("countersign or send back the decisions, signed by fitter-a"));
}

#[test]
fn what_holds_the_job_as_a_whole_is_said_to_whoever_reads_or_signs() {
    let mut head = head();
    head.opened.letters = None;
    if let Some(manual) = &mut head.opened.manual {
        manual.edition = "4".to_owned();
    }
    let rig = Rig::with(head);
    let asked = "manual edition 4, limits sheet edition 3: do its levels still hold?";
    let review = review(&rig);
    let settle = format!("settle for the job as a whole: {asked}; to be given: service letters, looked up today");
    assert!(review.decide.contains(&settle), "{:?}", review.decide);
    let items = |title: &str| {
        let pages = review.pages.iter().filter(|page| page.title == title);
        pages.flat_map(|page| &page.items).map(|item| item.text.as_str()).collect::<Vec<_>>()
    };
    let listed = format!("to measure or settle: The job: {asked}");
    assert!(items("To order, refer, measure").contains(&listed.as_str()), "{review:?}");
    assert!(items("The job").contains(&format!("hold: open: {asked}").as_str()), "{:?}", items("The job"));
    let told = asfound::face::acts::standing_in_words(&rig.standing());
    assert!(told[..2].contains(&format!("? The job: open: {asked}")), "before both signatures: {told:?}");
    let spares = asfound::report::lists::spares(&rig.inspection, &rig.standing(), &Kept::default());
    assert!(spares.iter().any(|line| line.contains(asked)), "{spares:?}");
}

#[test]
fn every_entry_of_the_record_is_on_some_page() {
    let mut rig = measured(["0.250"; 3], WORN);
    let reading = rig.inspection.reading("bush.ts/clearance", "inner 0 / 2 / up").unwrap().entry;
    rig.take(Act::Strike { entry: reading, reason: "slipped".into() });
    rig.read("bush.ts/clearance", "inner 0 / 2 / up", "0.250");
    rig.take(Act::Call { part: "shaft".into(), question: "which shaft?".into() });
    rig.sign(Signing::Decisions, &[]);
    let review = review(&rig);
    let all: String = review
        .pages
        .iter()
        .flat_map(|page| &page.items)
        .flat_map(|item| &item.evidence)
        .map(|line| format!("{line}\n"))
        .collect();
    for entry in rig.inspection.entries() {
        let strike = matches!(entry.act, Act::Strike { .. });
        let there = all.lines().any(|line| line.starts_with(&format!("{:>4}  ", entry.number)));
        assert!(there || strike, "entry {} {:?} is nowhere", entry.number, entry.act);
    }
    // struck through by sign, with the strike's reason, and still readable as typed
    let struck = all.lines().find(|line| line.starts_with(&format!("{reading:>4}  "))).unwrap();
    assert!(struck.contains("--inner 0 / 2 / up: typed 0.250, 0.250 mm, D2--"), "{struck}");
    assert!(struck.ends_with("fitter-a: slipped"), "{struck}");
}

#[test]
fn a_line_opens_to_working_level_source_and_readings_with_who_when_and_gauge() {
    let review = review(&measured(["0.250"; 3], WORN));
    let page = review.pages.iter().find(|page| page.part.as_deref() == Some("bush.ts")).unwrap();
    let item = page.items.iter().find(|item| item.text.starts_with("clearance: 0.23 mm at inner 0")).unwrap();
    assert_eq!((item.sign, item.step.as_deref()), ('X', Some("bush.ts/clearance")));
    let text = item.evidence.join("\n");
    for wanted in [
        "lift/1",
        "limit: below 0.130 mm or above 0.220 mm, leads to replace, guarded by 1.65 u; INV manual (invented), table 1",
        "new: allowed at or above 0.130 mm and at or below 0.170 mm",
        "typed 0.250, 0.250 mm, D2  fitter-a",
        "08:00",
    ] {
        assert!(text.contains(wanted), "no `{wanted}` in\n{text}");
    }
}

#[test]
fn remarks_and_their_answers_stay_on_the_second_page() {
    let mut rig = measured(["0.182"; 3], SOUND);
    rig.sign(Signing::Decisions, &[]);
    let sign = rig.last().number;
    let remarks = vec![Remark { step: Some("bush.ts/look".into()), text: "which side?".into() }];
    rig.by("supervisor-b").take(Act::Return { sign, chain: String::new(), remarks });
    let open = review(&rig);
    assert!(open.pages[0].items.iter().any(|item| item.text == "remark, not answered: which side?"));
    let waits = "1 remark waits for the fitter's answer: ";
    assert!(
        open.decide.iter().any(|one| one.starts_with(waits) && one.ends_with(": which side?")),
        "{:?}",
        open.decide
    );
    let entry = rig.last().number;
    rig.by("fitter-a").take(Act::RemarkAnswered { entry, remark: 1, text: "the loaded one".into() });
    let answered = review(&rig);
    let item = answered.pages[0].items.iter().find(|item| item.text == "remark, answered: which side?").unwrap();
    assert!(item.evidence.join("\n").contains("the loaded one"));
    // and at every line of its step, before all else; page 1 counts it
    let of_step = |review: &Review| {
        let items = review.pages.iter().filter(|page| page.part.is_some()).flat_map(|page| page.items.clone());
        items.filter(|item| item.step.as_deref() == Some("bush.ts/look")).collect::<Vec<_>>()
    };
    assert!(!of_step(&open).is_empty());
    for item in of_step(&open) {
        assert!(item.said().starts_with("(sent back) "), "{}", item.said());
        assert_eq!(item.evidence[0], format!("remark 1 of entry {entry}, not answered: which side?"));
    }
    for item in of_step(&answered) {
        assert_eq!((item.said(), item.sent_back), (item.text.clone(), 0));
        assert_eq!(item.evidence[0], format!("remark 1 of entry {entry}, answered: which side?"));
        assert!(item.evidence[1].contains("the loaded one"), "{:?}", item.evidence);
    }
    let count =
        |review: &Review| review.unusual.iter().find(|one| one.name == "remarks answered").map(|one| one.number);
    assert_eq!((count(&open), count(&answered)), (None, Some(1)));
}

#[test]
fn what_was_signed_counts_and_todays_reckoning_stands_beside_it() {
    let mut rig = measured(["0.182"; 3], SOUND);
    let standing = rig.standing();
    let mut signature = Rig::signature(Signing::Decisions, &[]);
    signature.standing = standing
        .parts
        .iter()
        .map(|part| SignedVerdict {
            part: part.id.clone(),
            disposition: Some(part.verdict.disposition),
            holds: part.verdict.holds.iter().map(asfound::domain::standing::hold_words).collect(),
        })
        .collect();
    let mut changed = rig.clone();
    rig.take(Act::Sign(signature.clone()));
    assert!(differences(&rig.inspection).is_empty());
    // an entry after the signature changes today's verdicts, not what the signature was given under
    rig.take(Act::Call { part: "bush.ts".into(), question: "which bush?".into() });
    assert!(differences(&rig.inspection).is_empty());
    // signed under a rule that had the shaft replaced
    signature.standing.iter_mut().find(|one| one.part == "shaft").unwrap().disposition = Some(Disposition::Replace);
    changed.take(Act::Sign(signature));
    let found = differences(&changed.inspection);
    assert_eq!(found.len(), 1);
    assert_eq!((found[0].signed.as_str(), found[0].today.as_str()), ("replace", "reuse"));
    assert!(review(&changed).decide.iter().any(|what| what.contains("signed otherwise")));
    // what was signed counts on the first page and for what is ordered, and says so
    let counts = that_counts(&changed.inspection);
    let shown = Review::of(&changed.inspection, &counts, &Kept::default());
    let line = shown.lines.iter().find(|line| line.part == "shaft").unwrap();
    assert_eq!(line.disposition, Disposition::Replace);
    let sign = changed.last().number;
    assert_eq!(line.made_so[0], format!("replace is what fitter-a signed, entry {sign}; by today's rules reuse"));
    // until something is entered that changes the part
    changed.take(Act::Call { part: "shaft".into(), question: "which shaft?".into() });
    let after = that_counts(&changed.inspection);
    assert_eq!(after.part("shaft").unwrap().verdict.disposition, Disposition::Reuse);
}

#[test]
fn a_part_signed_as_to_be_replaced_is_on_the_order_whatever_todays_rules_have() {
    let mut rig = measured(["0.182"; 3], SOUND);
    let mut signature = Rig::signature(Signing::Decisions, &[]);
    let holds = vec!["new part to check".to_owned(), "referred: the maker's answer".to_owned()];
    signature.standing = vec![SignedVerdict { part: "bush.ts".into(), disposition: Some(Disposition::Replace), holds }];
    rig.take(Act::Sign(signature));
    let counts = that_counts(&rig.inspection);
    let order: Vec<_> = counts.to_order(&rig.inspection).map(|one| (one.part.id.as_str(), one.number)).collect();
    assert_eq!(order, [("bush.ts", Some("INV-P03"))]);
    assert_eq!(counts.to_refer().map(|(_, what)| what).collect::<Vec<_>>(), ["the maker's answer"]);
    assert!(rig.standing().to_order(&rig.inspection).next().is_none());
}

#[test]
fn the_counts_are_those_a_supervisor_asks_for() {
    let mut rig = Rig::open();
    rig.take(Act::Skip { step: "bush.ts/soak".into(), place: None, reason: "clean already".into() });
    let turn = rig.ask(&Rig::typed("bush.ts/clearance", "outer 0 / 1 / down", "0.020", "D2", &[]));
    rig.enter(turn);
    let insisted = rig.ask(&Rig::typed("bush.ts/clearance", "outer 0 / 1 / up", "0.1805", "D2", &["digits"]));
    rig.enter(insisted);
    rig.take(Act::Condemned { part: "bush.ts".into(), reason: "broken".into() });
    rig.take(Act::Overrule {
        part: "bush.ts".into(),
        to: Disposition::Watch,
        supervisor: id("supervisor-b"),
        reason: "for the trip home".into(),
    });
    let review = review(&rig);
    let number = |name: &str| {
        let all = review.sure.iter().chain(&review.unusual);
        all.clone().find(|count| count.name == name).map(|count| (count.number, count.which.join("; "))).unwrap()
    };
    assert_eq!(number("insisted on").0, 1);
    assert!(number("insisted on").1.contains("outer 0 / 1 / up: typed 0.1805"));
    assert_eq!(number("skipped").0, 1);
    assert_eq!(number("condemned").0, 1);
    assert_eq!(number("overruled").0, 1);
    let claimed = number("claimed approval");
    assert_eq!(claimed.0, 1);
    assert!(claimed.1.ends_with("typed by fitter-a"), "{}", claimed.1);
    for name in [
        "provisional",
        "undecided",
        "gauge past date",
        "struck",
        "of those retaken",
        "accepted unjudged",
        "odd patterns",
    ] {
        assert!(number(name).0 < 2, "{name}");
    }
    assert!(signing::pending_here(&rig.inspection, &BTreeSet::new()).is_empty());
}

fn found(part: &str, step: &str, kind: &str, grade: &str) -> Act {
    Act::Finding(FindingMade {
        part: part.into(),
        step: step.into(),
        kind: kind.into(),
        grade: grade.into(),
        ..FindingMade::default()
    })
}

#[test]
fn a_finding_entered_at_another_parts_step_stands_on_its_own_parts_page_and_can_be_conceded_there() {
    let mut rig = measured(["0.182"; 3], SOUND);
    rig.take(found("shaft", "bush.ts/look", "dent", "small"));
    let number = rig.last().number;
    let review = review(&rig);
    let on = |part: &str| review.pages.iter().find(|page| page.part.as_deref() == Some(part)).unwrap();
    let item = on("shaft").items.iter().find(|item| item.text.contains("dent, small")).unwrap();
    assert_eq!((item.sign, item.part.as_deref(), item.about.clone()), ('>', Some("shaft"), Some(number.to_string())));
    assert!(item.evidence[0].starts_with(&format!("{number:>4}  ")), "{:?}", item.evidence);
    assert!(!on("bush.ts").items.iter().any(|item| item.text.contains("dent") || item.about.is_some()));
    assert!(review.referred().any(|item| item.part.as_deref() == Some("shaft")));
    rig.supervised(Act::Concession {
        part: item.part.clone().unwrap(),
        about: item.about.clone().unwrap(),
        who: "the maker".into(),
        document: "letter 1 (invented)".into(),
        conditions: "look again".into(),
        until: "2032-01-01".into(),
        allows: Consequence::Watch,
    });
    assert_eq!(rig.verdict("shaft"), "watch []");
}

#[test]
fn a_finding_at_a_step_that_measures_has_a_line_of_its_own() {
    let mut rig = measured(["0.182"; 3], SOUND);
    rig.take(found("bush.ts", "bush.ts/clearance", "dent", "small"));
    let number = rig.last().number.to_string();
    assert!(review(&rig).referred().any(|item| item.about.as_ref() == Some(&number)));
}

#[test]
fn a_remark_on_what_is_to_refer_or_measure_starts_at_its_step() {
    let mut rig = measured(["0.182"; 3], WORN);
    rig.take(found("bush.ts", "bush.ts/look", "dent", "small"));
    let review = review(&rig);
    let at = |words: &str| {
        let mut items = review.pages.iter().take(2).flat_map(|page| &page.items);
        items.find(|item| item.text.contains(words)).and_then(|item| item.step.clone())
    };
    assert_eq!(at("to refer: the shaft: step").as_deref(), Some("shaft/journal"));
    assert_eq!(at("to refer: the bush.ts: dent, small").as_deref(), Some("bush.ts/look"));
    assert_eq!(at("referred, shaft: ").as_deref(), Some("shaft/journal"));
}

#[test]
fn what_holds_a_part_stands_before_its_figures_and_both_are_said() {
    let mut rig = measured(["0.250"; 3], SOUND);
    rig.take(found("bush.ts", "bush.ts/look", "dent", "small"));
    let line = &review(&rig).lines[0];
    let made_so = &line.made_so;
    assert!(made_so[0].starts_with("dent, small") && made_so[1].starts_with("clearance 0.23"), "{made_so:?}");
    assert_eq!(line.foremost, 2);
}

#[test]
fn an_overruling_in_somebody_elses_name_is_called_claimed_on_the_first_page() {
    let mut rig = measured(["0.250"; 3], SOUND);
    rig.take(Act::Overrule {
        part: "bush.ts".into(),
        to: Disposition::Reuse,
        supervisor: id("supervisor-b"),
        reason: "no spare".into(),
    });
    let said = |rig: &Rig| review(rig).lines.iter().find(|line| line.part == "bush.ts").unwrap().made_so.join("; ");
    assert!(said(&rig).contains("overruled to reuse by supervisor-b, claimed"), "{}", said(&rig));
    rig.sign(Signing::Decisions, &[]);
    let sign = rig.last().number;
    rig.by("supervisor-b").take(Act::Countersign { sign, chain: String::new() });
    assert!(!said(&rig).contains("claimed"), "{}", said(&rig));
}

#[test]
fn an_earlier_figure_of_a_part_taken_out_since_says_so() {
    let mut head = head();
    let past = |day: &str, hours: &str, as_left: bool, value: &str| {
        let mut past = super::patterns::past(value, "inner 0");
        past.inspection = format!("INV/{day}-small");
        past.date = asfound::domain::stamp::day(day).unwrap();
        (past.hours, past.as_left) = (crate::rig::figure(hours), as_left);
        past
    };
    // the bush was renewed in 2028, when the machine stood at 12000 h
    head.history = vec![
        past("2028-03-01", "12000 h", false, "0.230"),
        past("2028-03-01", "0 h", true, "0.150"),
        past("2029-03-01", "6000 h", false, "0.160"),
    ];
    let fitted = |hours: &str, machine: &str| asfound::domain::rotor::Fitted {
        serial: None,
        hours: crate::rig::figure(hours),
        machine: crate::rig::figure(machine),
        doubts: Vec::new(),
    };
    head.parts.insert("bush.ts".into(), fitted("0 h", "12000 h"));
    let mut rig = Rig::with(head);
    rig.covers_off().lifts("bush.ts/clearance", ["0.180"; 3], ["0.182"; 3]);
    let review = review(&rig);
    let mut items = review.pages.iter().flat_map(|page| &page.items);
    let lines = &items.find(|item| item.text.starts_with("clearance: ")).unwrap().evidence;
    let last: Vec<_> = lines
        .iter()
        .filter(|line| line.starts_with("last time: "))
        .map(|line| line.ends_with("taken out since"))
        .collect();
    assert_eq!(last, [true, false, false]);
}
