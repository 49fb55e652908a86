//! A record under review, by keys: read, countersigned, sent back, conceded, overruled.

use std::sync::OnceLock;

use asfound::domain::apply::apply;
use asfound::domain::carried::Carried;
use asfound::domain::checklist::Signing;
use asfound::domain::decide::decide;
use asfound::domain::entry::{Act, Entry, Remark};
use asfound::domain::inspection::{Head, Inspection};
use asfound::domain::request::{Decision, Hand, Request};
use asfound::domain::signing;
use asfound::domain::verdict::Disposition;
use asfound::face::model::Screen;
use asfound::face::reviewing::Reading;
use insta::assert_snapshot;

use super::Bench;
use crate::content::answers::three;
use crate::rig::{Rig, id};

/// The demonstration's present inspection as it is filled in.
pub(super) fn demonstration() -> Inspection {
    static PLAYED: OnceLock<Inspection> = OnceLock::new();
    PLAYED.get_or_init(|| three().pop().unwrap()).clone()
}

pub(super) fn add(inspection: &mut Inspection, by: &str, act: Act) {
    let at = inspection.entries().last().unwrap().at;
    let hand = Hand { by: id(by), writer: None, at, late: None, break_hours: 10_000 };
    match decide(inspection, &Request::Do(act), &hand) {
        Decision::Take(entry) => drop(apply(inspection, *entry)),
        other @ (Decision::Ask { .. } | Decision::Refuse(_)) => panic!("not taken: {other:?}"),
    }
}

/// The decisions signed, as they stand.
pub(super) fn sign(inspection: &mut Inspection, by: &str) {
    let signature = signing::signature(inspection, Signing::Decisions, (&super::demo::seal(), &[]));
    add(inspection, by, Act::Resume);
    add(inspection, by, Act::Sign(signature));
}

/// The demonstration with its decisions signed.
pub(super) fn signed() -> Inspection {
    let mut inspection = demonstration();
    sign(&mut inspection, "fitter-a");
    inspection
}

pub(super) fn review_of(bench: &Bench) -> &Reading {
    let Screen::Review(review) = &bench.model.screen else { panic!("no review") };
    &review.reading
}

/// A small record, all within, its decisions signed by `by`.
fn sound(by: &str) -> Inspection {
    let mut rig = Rig::open();
    rig.take(Act::NotApplicable { step: "bush.ts/soak".into(), point: None, reason: "clean already".into() });
    rig.lifts("bush.ts/clearance", ["0.180"; 3], ["0.182"; 3]);
    rig.journal(["59.931", "59.931", "59.930", "59.930", "59.930", "59.929", "59.930", "59.930", "59.930", "59.930"]);
    rig.take(Act::Note { step: Some("job/cause".into()), text: "dirty oil".into() });
    let mut inspection = rig.inspection;
    sign(&mut inspection, by);
    inspection
}

impl Bench {
    /// The bench on a record, its half-typed field at `step`.
    fn at_part(inspection: &Inspection, step: &str) -> Self {
        let mut bench = Self::on(inspection.clone());
        let now = bench.model.now.stamp;
        bench.model.job_mut().unwrap().go_to(step, now);
        bench
    }

    fn last(&self) -> Entry {
        let Screen::Review(review) = &self.model.screen else {
            panic!("no record is under review:\n{}", self.screen())
        };
        review.reading.inspection.entries().last().unwrap().clone()
    }
}

#[test]
fn a_record_all_within_is_countersigned_in_four_keys() {
    let bench = Bench::reading(sound("fitter-a"))
        .expect("WILL IT LAST? ~ Not known to 36000 h: 2 of 3 figures")
        .expect("! countersign");
    let keys = ["esc", "1", "enter", "enter"];
    let bench = bench.keys(&keys.join(" ")).expect("countersigned").expect("saved");
    assert_eq!(keys.len(), 4);
    let last = bench.last();
    assert!(matches!(last.act, Act::Countersign { .. }), "{last:?}");
    assert_eq!(last.by.as_str(), "supervisor-b");
    assert!(bench.screen().lines().next().unwrap().contains("countersigned"), "{}", bench.screen());
}

#[test]
fn who_signed_does_not_countersign_and_nobody_but_a_supervisor_does() {
    let own = Bench::reading(sound("supervisor-b")).keys("esc 1 delete").typed("supervisor-b").keys("enter enter");
    assert!(matches!(own.last().act, Act::Sign(_)), "{}", own.screen());
    drop(own.expect("Who signed may not countersign."));
    let fitter = Bench::reading(sound("fitter-a")).keys("esc 1 delete").typed("fitter-c").keys("enter enter");
    assert!(matches!(fitter.last().act, Act::Sign(_)));
    drop(fitter.expect("supervisor"));
    let nobody = Bench::reading(sound("fitter-a")).keys("esc 1 delete").typed("nobody").keys("enter");
    drop(nobody.expect(
        "Nobody here is known as `nobody`: not in the record, not here. Enter that person: first screen, people.",
    ));
}

#[test]
fn nothing_is_countersigned_or_sent_back_before_something_is_signed() {
    let bench = Bench::reading(demonstration())
        .keys("esc 1")
        .expect("Not now: countersign (not signed: the fitter signs first)");
    drop(bench.keys("2").expect("Not now: a remark"));
}

#[test]
fn a_remark_starts_at_the_line_under_the_cursor_and_stays_when_it_is_answered() {
    // the bush's page, its third line: the locking pin
    let bench = Bench::reading(signed()).keys("3 down down").expect("locking pin wear");
    let bench = bench.keys("esc 2").typed("which side of the tip?").keys("enter").expect("remarks, not sent yet: 1");
    let bench = bench.expect("* remark, not sent yet: which side of the tip?");
    // leaving asks, lest somebody think that it was sent
    let bench = bench.keys("ctrl-q").expect("Remarks that were not sent: 1.").keys("enter");
    assert_eq!(bench.status, None);
    assert_snapshot!("review_remark", bench.screen());
    let bench = bench.keys("esc 3 enter").expect("* Bush, turbine side / locking pin, width: ");
    assert_snapshot!("review_send_back", bench.screen());
    let bench = bench.keys("enter").expect("sent back: 1. which side of the tip?");
    let Act::Return { remarks, .. } = bench.last().act else { panic!("not sent back:\n{}", bench.screen()) };
    let step = remarks[0].step.clone().unwrap();
    assert!(step.starts_with("bush.ts/"), "{step}");
    // nothing is signed now: one remark more waits for the next signature, and that is said
    let no_more = "a remark (sent back already: add it when the fitter has signed again)";
    let bench = bench.keys("esc 2").expect(no_more).keys("esc");
    // page 1 says so, and to whom it falls
    let bench = bench.keys("esc 6 1").expect("1 remark waits for the fitter's answer");
    let Screen::Review(review) = &bench.model.screen else { panic!("no review") };
    let mut inspection = review.reading.inspection.clone();
    let entry = bench.last().number;
    // at its step the fitter sees it
    drop(Bench::on(inspection.clone()).expect("which side of the tip?"));
    add(&mut inspection, "fitter-a", Act::RemarkAnswered { entry, remark: 1, text: "the loaded one".into() });
    let bench = Bench::reading(inspection).keys("tab").expect("remark, answered: which side of the tip?");
    drop(bench);
}

#[test]
fn a_concession_leaves_the_computed_verdict_beside_it() {
    let bench = Bench::reading(demonstration()).keys("esc 4 1 enter");
    let mut bench = bench;
    for answer in ["the maker (invented)", "letter 7 (invented)", "measure at 500 h", "the next opening"] {
        bench = bench.typed(answer).keys("enter");
    }
    let bench =
        bench.typed("2").keys("enter").typed("supervisor B").keys("enter").expect("conditions: measure at 500 h");
    let bench = bench.keys("enter").expect("concession of the maker (invented)");
    let Act::Concession { part, .. } = bench.last().act else { panic!("{}", bench.screen()) };
    let Screen::Review(review) = &bench.model.screen else { panic!("no review") };
    let lines: Vec<_> = review.reading.review.pages.iter().filter(|page| page.part.as_ref() == Some(&part)).collect();
    let verdict = &lines[0].items[0];
    assert!(verdict.evidence.iter().any(|line| line.starts_with("computed by the rules: ")), "{verdict:?}");
}

#[test]
fn conditions_of_an_earlier_concession_stand_at_every_step_of_that_part() {
    let long = "radial float measured again by two people on the same day, both figures sent to the office with a \
                picture of the gauge, the oil looked at for metal each week, and the bearing opened by 500 h at the latest";
    let inspection = conceded_before(long);
    // three rows of it, and the whole behind Tab
    let bench = Bench::at_part(&inspection, "bush.ts/clearance").expect("more: Tab").expect_not("500 h at the latest");
    let whole = bench.keys("tab").expect("to know before").screen();
    let words = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words(&whole).contains(&words(long)), "{whole}");
    let inspection = conceded_before("measure at four places");
    drop(Bench::at_part(&inspection, "bush.ts/clearance").expect("> condition of the maker (invented), clearance"));
    drop(Bench::at_part(&inspection, "bush.cs/clearance").expect_not("> condition of"));
    drop(Bench::reading(inspection).keys("tab").expect("condition of an earlier concession"));
}

/// The demonstration, with a concession of the inspection before it.
fn conceded_before(conditions: &str) -> Inspection {
    let carried = Carried {
        inspection: "DEMO-1/2022-06-08-overhaul".into(),
        part: "bush.ts".into(),
        about: "clearance".into(),
        who: "the maker (invented)".into(),
        document: "letter 7".into(),
        conditions: conditions.into(),
        until: "the next overhaul".into(),
    };
    let head = Head { carried: vec![carried], ..super::demo::head() };
    let mut inspection = Inspection::new(head);
    for entry in demonstration().entries() {
        drop(apply(&mut inspection, entry.clone()));
    }
    inspection
}

#[test]
fn overruling_names_a_supervisor_and_a_reason_and_is_claimed_until_that_person_signs() {
    let bench =
        Bench::reading(demonstration()).keys("3 esc 5 enter").typed("watch").keys("enter").typed("1").keys("enter");
    let bench = bench.keys("enter").expect("why is wanted");
    let bench = bench.typed("for the trip home").keys("enter").typed("fitter A").keys("enter");
    let bench = bench.expect("claimed until supervisor B countersigns what is signed").keys("enter");
    assert!(matches!(bench.last().act, Act::Overrule { .. }), "{}", bench.screen());
    drop(bench.keys("esc 6 1").expect("claimed approval 1").expect("overruled 1"));
}

#[test]
fn page_one_a_part_its_evidence_and_the_last_question() {
    assert_snapshot!("review_first", Bench::reading(signed()).screen());
    assert_snapshot!("review_first_120x40", Bench::reading(signed()).sized(120, 40).screen());
    assert_snapshot!("review_part", Bench::reading(signed()).keys("3").screen());
    assert_snapshot!("review_evidence", Bench::reading(signed()).keys("3 down down down enter pagedown").screen());
    assert_snapshot!("review_what_else", Bench::reading(signed()).keys("esc").screen());
    assert_snapshot!("review_countersign", Bench::reading(signed()).keys("esc 1 enter").screen());
}

/// Neither hides the other, at the size a bench has.
#[test]
fn the_title_shows_a_warning_and_what_is_awaited() {
    let mut rig = Rig::open();
    rig.leave_rest().sign(Signing::Decisions, &[]).take(Act::seen(9, "the stick was in another hand".into()));
    for keys in ["", "tab", "tab tab esc"] {
        let screen = Bench::reading(rig.inspection.clone()).keys(keys).screen();
        let title = screen.lines().next().unwrap();
        assert!(title.contains("REVIEW INV") && title.contains(" saved, page "), "{title}");
        assert!(title.contains("SEE PAGE 1, countersign pending ashore "), "{title}");
    }
    let narrow = Bench::reading(rig.inspection.clone()).sized(60, 20).screen();
    assert!(narrow.lines().next().unwrap().contains("SEE PAGE 1, countersign pending ashore"), "{narrow}");
    let mut sound = Rig::open();
    sound.leave_rest().sign(Signing::Decisions, &[]);
    let screen = Bench::reading(sound.inspection).screen();
    assert!(screen.lines().next().unwrap().contains("REVIEW INV, 2031-"), "{screen}");
    assert!(screen.lines().next().unwrap().contains("  countersign pending ashore  "), "{screen}");
}

/// It may reach every part: page 1 has room for their figures all the same.
#[test]
fn a_sooner_opening_that_is_only_claimed_is_one_line_of_page_one() {
    let mut inspection = signed();
    let (hours, supervisor) = (Some("49500 h".parse().unwrap()), Some(id("supervisor-b")));
    let plan = Act::Plan { hours, date: None, supervisor, reason: "the owner wants it sooner".into() };
    add(&mut inspection, "fitter-a", plan);
    let entry = inspection.entries().last().unwrap().number;
    let bench = Bench::reading(inspection);
    let reading = review_of(&bench);
    let page = &reading.review;
    let stand = reading.standing.parts.iter().filter(|part| part.before_plan == Some(entry)).count();
    assert!(stand > 3, "{stand}");
    let said: Vec<_> = page.decide.iter().filter(|one| one.contains(&format!("entry {entry}"))).collect();
    assert_eq!(said, [&format!("sooner opening, entry {entry}, only claimed: {stand} parts as before it")]);
    assert!(page.since.is_empty(), "it lifts nothing, and so changes nothing: {:?}", page.since);
    for line in &page.lines {
        assert!(!line.made_so.join("; ").contains("only claimed settled"), "{line:?}");
    }
    let replaced = page.lines.iter().filter(|line| line.disposition == Disposition::Replace).count();
    assert_eq!(replaced, 3, "{:?}", page.lines);
    // three parts in sight without a key
    let bench = bench.expect("48480 h, next, claimed, at 49500 h");
    let due = asfound::domain::due::of_rotor(&[&review_of(&bench).inspection]);
    assert!(due.iter().any(|item| item.because.starts_with("as planned, only claimed")), "{due:?}");
    drop(bench.expect(" 3 bush, turbine").expect(&format!("sooner opening, entry {entry}, only claimed: ")));
}

#[test]
fn tab_goes_through_all_pages_and_round() {
    let mut bench = Bench::reading(demonstration());
    let Screen::Review(review) = &bench.model.screen else { panic!("no review") };
    let titles: Vec<_> = review.reading.review.pages.iter().map(|page| page.title.clone()).collect();
    for title in titles {
        bench = bench.keys("tab").expect(&title);
    }
    drop(bench.keys("tab").expect("WILL IT LAST?"));
}

/// On every page, over what was opened, and in the questions.
#[test]
fn every_screen_of_a_review_says_how_many_readings_are_saved() {
    let saved = format!("{} saved, page ", demonstration().reading_count());
    let mut bench = Bench::reading(demonstration());
    let Screen::Review(review) = &bench.model.screen else { panic!("no review") };
    for _ in 0..=review.reading.review.pages.len() {
        bench = bench.expect(&saved).expect("REVIEW DEMO-1, ").keys("tab");
    }
    for keys in ["3", "3 down down down enter", "esc", "esc 1", "esc 4"] {
        drop(Bench::reading(signed()).keys(keys).expect(" saved, page "));
    }
}

#[test]
fn no_size_breaks_a_review() {
    for keys in ["", "3", "3 down down enter", "esc", "esc 1", "esc 1 enter", "esc 4", "esc 6"] {
        let mut bench = Bench::reading(signed()).keys(keys);
        for (columns, rows) in [(1, 1), (2, 1), (1, 50), (40, 10), (60, 20), (79, 23), (80, 24), (250, 80)] {
            bench = bench.sized(columns, rows);
            assert!(!bench.screen().is_empty() || columns < 3);
        }
    }
}

/// The demonstration sent back with a remark at a step that was done.
fn came_back() -> Inspection {
    let mut inspection = signed();
    let sign = inspection.entries().last().unwrap().number;
    let remark = Remark { step: Some("rotor/radial-float.cs".into()), text: "which side was loaded?".into() };
    add(&mut inspection, "supervisor-b", Act::Return { sign, chain: String::new(), remarks: vec![remark] });
    inspection
}

#[test]
fn a_returned_record_opens_at_its_remark_and_enter_answers_it() {
    let bench = Bench::on(came_back());
    let bench = bench.expect("which side was loaded?").expect("sent back. Enter: answer the remark");
    let bench = bench.expect("Sent back by supervisor B: 1 remark, here (Esc, more, remark).");
    let steps = Bench::on(came_back()).keys("esc 6").expect("! rotor, assembled / radial float");
    drop(steps.expect("sent back"));
    let bench = bench.keys("enter 1 enter").typed("the turbine side").keys("enter");
    let last = bench.model.job().unwrap().inspection.entries().last().unwrap().clone();
    assert!(matches!(last.act, Act::RemarkAnswered { .. }), "{last:?}\n{}", bench.screen());
    drop(bench.expect_not("sent back. Enter"));
}

#[test]
fn everything_that_is_referred_or_to_be_replaced_can_be_conceded_on_the_screen() {
    let bench = Bench::reading(signed());
    let Screen::Review(review) = &bench.model.screen else { panic!("no review") };
    let about: Vec<_> = review.reading.review.referred().filter_map(|item| item.about.clone()).collect();
    let dent = review.reading.inspection.standing_entries().find_map(|entry| {
        let Act::Finding(finding) = &entry.act else { return None };
        (finding.part == "impeller" && finding.kind.contains("dent")).then(|| entry.number.to_string())
    });
    assert!(about.contains(&dent.unwrap()), "{about:?}");
    for part in ["shaft.ts.step", "float.radial.ts"] {
        assert!(about.iter().any(|one| one == part), "{part}: {about:?}");
    }
    drop(bench.keys("esc 4").expect("impeller, dent"));
}

#[test]
fn a_long_message_of_the_review_stands_whole_above_the_keys() {
    let remark = |text: &str| Remark { step: None, text: text.into() };
    let mut inspection = signed();
    let sign = inspection.entries().last().unwrap().number;
    let remarks = vec![remark("which side of the journal was loaded in service?"), remark("where is the photo of it?")];
    let returned = Act::Return { sign, chain: String::new(), remarks };
    add(&mut inspection, "supervisor-b", returned);
    let mut bench = Bench::reading(signed());
    let reading = super::demo::reading(inspection);
    let answer = asfound::face::effect::Answer::Deed(Ok(Box::new(reading)));
    bench.tell(asfound::face::message::Message::Answered(Box::new(answer), bench.at));
    let bench = bench.expect("saved: signature").expect("where is the photo of it?, supervisor B").expect("Enter open");
    drop(bench);
}

#[test]
fn an_answer_as_wide_as_its_column_loses_no_letter() {
    let mut rig = Rig::open();
    // page 1 has 63 columns for an answer at 80
    let full = |letter: &str| format!("{}Z", letter.repeat(62));
    let question = ["a", "b"].map(full).join(" ");
    rig.take(Act::Call { part: "bush.ts".into(), question: question.clone() });
    let screen = Bench::reading(rig.inspection).screen();
    for line in question.split(' ') {
        assert!(screen.lines().any(|row| row.trim_end().ends_with(line)), "{screen}");
    }
}

/// The first line of a part's page is the part itself: its remark is asked there.
#[test]
fn a_remark_on_a_parts_verdict_keeps_its_part() {
    let bench = Bench::reading(signed()).keys("3 esc 2").typed("why all the same?").keys("enter esc 3 enter");
    let bench = bench.expect("* Bush, turbine side / ").keys("enter");
    let Act::Return { remarks, .. } = bench.last().act else { panic!("not sent back:\n{}", bench.screen()) };
    assert!(remarks[0].step.as_ref().unwrap().starts_with("bush.ts/"), "{remarks:?}");
}
