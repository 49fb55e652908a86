//! Ways off the straight line: to another step, past one, out, and words that slipped into the wrong question.

use asfound::domain::apply::apply;
use asfound::domain::checklist::{Signing, StepAsk};
use asfound::domain::entry::{Act, Entry};
use asfound::domain::inspection::Head;
use asfound::records::checklist_file::read_whole;

use super::super::files::samples::sample;
use super::bench::{Bench, Ended, begun, demo_head};
use crate::bench::Bench as Screen;
use crate::rig::Rig;

/// Refused where it is named, before anybody says why.
#[test]
fn an_entry_that_cannot_be_struck_is_refused_at_its_number() {
    let mut bench = Bench::demo();
    bench.walks_to("strip/marks").hears();
    for number in ["9999", "1"] {
        bench.types(&["! 1", number]);
        assert!(bench.question().starts_with("which entry is struck"), "{}", bench.question());
        assert!(!bench.hears().contains("why is entry"));
        bench.types(&["!"]);
    }
}

/// Also where a kind of finding begins with the same letter.
#[test]
fn n_is_nothing_where_something_may_be_noise() {
    let mut short = read_whole("short", &sample("checklists/short.yaml")).unwrap();
    short.parts[1].findings[0].kind = "noise".to_owned();
    short.steps[2].needs.clear();
    let mut bench = Bench::over(begun(Head { checklist: short, ..demo_head() }));
    bench.types(&["yes", "yes", "! 6", "bush.ts/look", "n"]);
    let last = bench.inspection().entries().last().unwrap();
    assert!(matches!(last.act, Act::Looked { .. }), "{:?}", last.act);
}

#[test]
fn a_word_meant_for_another_question_is_no_reason() {
    let mut bench = Bench::demo();
    bench.walks_to("safe/isolated").hears();
    bench.types(&["yes"]);
    let taken = bench.saved.len();
    bench.types(&["not here", "yes", "x", "3", "Not here", "! 4", "not this", "1", "3", "3"]);
    assert_eq!(bench.saved.len(), taken, "{}", bench.said_tail());
    let heard = bench.hears();
    assert_eq!(heard.matches("gives no reason").count(), 5, "{heard}");
    assert!(heard.contains("\n3 not on this machine or job\n") && !heard.contains("\n2 the whole step"), "{heard}");
    bench.types(&["no turning gear on this plant"]);
    assert_eq!(bench.saved.len(), taken + 1);
    let entry = bench.inspection().entries().last().unwrap().number.to_string();
    bench.types(&["! strike", &entry, "x"]);
    assert_eq!(bench.saved.len(), taken + 1, "{}", bench.said_tail());
}

/// 2 leaves a step open, 3 says that the machine has none: at every step.
#[test]
fn what_is_left_out_has_one_number_at_every_step() {
    let mut bench = Bench::demo();
    for step in ["rotor/axial-float", "strip/marks", "bush.ts/look"] {
        bench.walks_to(step).hears();
        bench.types(&["! 4"]);
        let heard = bench.hears();
        assert!(heard.contains("\n2 the whole step; the part stays open\n3 not on this machine or job\n"), "{heard}");
        bench.types(&["2", "no time, by order"]);
        assert!(matches!(bench.inspection().entries().last().unwrap().act, Act::Skip { .. }), "{step}");
    }
}

#[test]
fn who_leaves_leaves_whatever_the_step_takes() {
    let mut bench = Bench::demo();
    for step in ["safe/permit", "rotor/axial-float", "strip/marks", "bush.ts/look"] {
        bench.walks_to(step).types(&["leave"]);
        assert_eq!(std::mem::replace(&mut bench.left, Ended::No), Ended::Left, "{step}");
    }
}

#[test]
fn a_gauge_whose_step_is_more_than_its_range_is_asked_again_and_new_is_no_number() {
    let mut bench = Bench::demo();
    bench.walks_to("bush.ts/clearance").hears();
    bench.types(&["new"]);
    assert!(bench.hears().contains("`new` is not its number"));
    bench.types(&["Q7", "10 mm", "0 to 5 mm"]);
    assert!(bench.hears().contains("A step of 10 mm is more than the whole range, 0 mm to 5 mm. Type both again."));
    assert!(bench.inspection().gauge(&"Q7".parse().unwrap()).is_none());
    bench.types(&["0.01 mm", "0 to 5 mm"]);
    assert!(bench.inspection().gauge(&"Q7".parse().unwrap()).is_some(), "{}", bench.said_tail());
}

/// A call on the job stops its steps too, that its papers were looked at among them.
#[test]
fn a_call_on_the_job_holds_its_steps_until_it_is_answered() {
    let mut bench = Bench::demo();
    let at = |bench: &Bench| bench.session.place(bench.now).unwrap().0;
    bench.walks_to("job/papers").types(&["! 5", "", "whose order is it"]);
    assert_ne!(at(&bench), "job/papers");
    bench.types(&["! answer to a call", "1", "the owner", "ours"]).walks_to("job/papers");
}

/// A number learned at one step means the same part at the next, and the answer says which part it was.
#[test]
fn the_parts_have_one_order_everywhere_and_what_is_taken_names_its_part() {
    let mut bench = Bench::demo();
    let mut offered = |step: &str| {
        bench.walks_to(step);
        ["! 12", "! 3", "! 5", "! 17", "! 19"].map(|line| {
            bench.hears();
            bench.types(&[line]);
            let heard = bench.hears();
            let list = heard.lines().filter(|line| line.starts_with(|one: char| one.is_ascii_digit()));
            let list: Vec<_> = list.map(str::to_owned).collect();
            bench.types(&["!"]);
            list.join("\n")
        })
    };
    let lists = offered("rotor/axial-float");
    let later = offered("bush.ts/look");
    assert_eq!(lists[..3], later[..3]);
    assert!(lists.iter().all(|list| list.contains("Labyrinths")), "{lists:?}");
    assert!(!lists[0].contains("Make safe"), "{}", lists[0]);
    // a part keeps its number in each of them, with gaps where others are not on offer
    let mut numbers = std::collections::BTreeMap::new();
    for (number, part) in
        lists.iter().chain(&later).flat_map(|list| list.lines()).filter_map(|line| line.split_once(' '))
    {
        let part = ["bush", "thrust"].iter().find(|one| part.to_lowercase().starts_with(*one)).map_or_else(
            || part.split(", ").next().unwrap_or_default().to_owned(),
            |_| part.split(", ").take(2).collect::<Vec<_>>().join(", "),
        );
        assert_eq!(*numbers.entry(part.clone()).or_insert(number), number, "{part}: {lists:?}");
    }
    assert_eq!(numbers.get("Compressor impeller"), Some(&"15"), "{numbers:?}");
    let mut said = |lines: &[&str]| {
        bench.types(lines);
        bench.hears()
    };
    let fitted = said(&["! 12", "labyrinth", "new", "INV-I-999", "", "48480"]);
    assert!(
        fitted.contains("part: Labyrinths and seal rings new, fitted, serial INV-I-999, 0 h since new when the machine had 48480 h, entry "),
        "{fitted}"
    );
    let odd = said(&["! 12", "impeller", "found", "INV-I-777", "100", "48480"]);
    assert!(odd.contains("Compressor impeller 100 h is less than the "), "{odd}");
    let taken = said(&["insist"]);
    assert!(
        taken.contains(
            "part: Compressor impeller as found, serial INV-I-777, 100 h since new when the machine had 48480 h, insisted: hours, entry "
        ),
        "{taken}"
    );
    let called = said(&["! 5", "collar", "which way round?"]);
    assert!(called.contains("call: Thrust collar, entry "), "{called}");
    let scrapped = said(&["! condemn", "nozzle", "broken through"]);
    assert!(scrapped.contains("condemned: Nozzle ring, entry "), "{scrapped}");
}

/// Everything done or left out, both signatures given.
fn closed() -> Rig {
    let mut rig = Rig::open();
    rig.leave_rest().sign(Signing::Decisions, &[]);
    let holds = rig.standing().holds_in_words();
    rig.sign(Signing::Close, &holds);
    rig
}

/// With every step done, line by line as on the screen.
#[test]
fn what_is_seen_late_goes_into_a_closed_record_and_it_is_told_how_to_sign_again() {
    let mut bench = Bench::over(closed().inspection);
    let heard = bench.hears();
    assert!(heard.contains("Every step is settled,") && !heard.contains("signs it again"), "{heard}");
    bench.types(&["! 6", "bush.ts/look"]);
    let said = bench.hears();
    assert!(said.contains("is done. Strike its entry first if it was wrong; what is seen late goes in as"), "{said}");
    bench.types(&["! 3", "bush.ts", "scoring", "light"]);
    let mut answers = 0;
    while !matches!(bench.inspection().entries().last().unwrap().act, Act::Finding(_)) {
        bench.types(&[if bench.question().contains("photo") || answers > 3 { "" } else { "40 deg from the pin" }]);
        answers += 1;
        assert!(answers < 9, "{}", bench.question());
    }
    let Act::Finding(found) = &bench.inspection().entries().last().unwrap().act else { panic!() };
    assert_eq!((found.part.as_str(), found.step.as_str()), ("bush.ts", "bush.ts/look"));
    let heard = bench.hears();
    assert!(heard.contains("Entries came after it was signed: ! 6 job/close signs it again."), "{heard}");
    bench.types(&["! 6", "job/close"]);
    assert!(bench.question().contains("arried on by name") || bench.question().contains("closed, signed by"));
}

#[test]
fn with_every_step_done_the_screen_shows_the_last_one() {
    drop(Screen::on(closed().inspection).expect("the job / close"));
}

/// What is printed as one line is typed as one: the number, and the first answer to what it opens.
#[test]
fn the_number_of_what_else_takes_its_first_answer_on_the_same_line() {
    let mut bench = Bench::demo();
    bench.walks_to("running/load");
    bench.types(&["! 6 bush.ts/clearance"]);
    assert!(bench.question().starts_with("bush.ts/clearance is not open yet: "), "{}", bench.question());
    let entry = bench.inspection().entries().last().unwrap().number;
    bench.types(&[&format!("! 1 {entry}")]);
    assert!(bench.question().starts_with(&format!("why is entry {entry} struck")), "{}", bench.question());
    bench.types(&["typed wrong"]);
    assert_eq!(bench.inspection().struck_by(entry), Some(entry + 1));
    // an answer that will not do is refused, the question stays; one that nothing asks for is said
    bench.hears();
    bench.types(&["! 6 nowhere at all"]);
    assert!(bench.hears().contains("`nowhere at all` is no step."));
    assert!(bench.question().starts_with("go to which step"), "{}", bench.question());
    bench.types(&["!"]);
    bench.types(&["! 24 at once"]);
    assert!(bench.hears().contains("`at once` was not taken: nothing asks for it."));
}

/// Where no step is at hand, what nobody can mean is not offered first.
#[test]
fn a_walk_round_the_machine_is_not_the_first_to_be_struck() {
    let short = read_whole("short", &sample("checklists/short.yaml")).unwrap();
    let mut bench = Bench::over(begun(Head { checklist: short, ..demo_head() }));
    bench.types(&["yes", "yes", "! 5", "", "is the pin seat cracked?", "sign"]);
    let mut inspection = bench.inspection().clone();
    let last = inspection.entries().last().unwrap().clone();
    let number = last.number + 1;
    drop(apply(&mut inspection, Entry { number, act: Act::Resume, ..last }));
    let mut bench = Bench::over(inspection);
    assert_eq!(bench.session.place(bench.now), None);
    bench.types(&["! 1"]);
    let call = bench.inspection().entries().iter().rfind(|one| matches!(one.act, Act::Call { .. })).unwrap();
    assert_eq!(bench.question(), format!("which entry is struck, empty for {}?", call.number));
}

pub(super) fn last_number(bench: &Bench) -> u32 {
    bench.inspection().entries().last().unwrap().number
}

/// What cannot be left out is not offered to be.
#[test]
fn a_refusal_at_a_safety_point_offers_no_way_that_is_not_there() {
    let mut bench = Bench::demo();
    bench.walks_to("safe/permit").types(&["not here"]);
    let said = bench.said_tail();
    assert!(said.contains("is no supervisor.") && !said.contains("leave it out"), "{said}");
}

/// A sign typed before a bare number is no weather; nobody can insist on it.
#[test]
fn a_temperature_below_absolute_zero_is_refused() {
    let mut bench = Bench::demo();
    bench.walks_to("impeller/penetrant-surface");
    let taken = bench.saved.len();
    bench.types(&["-300", "insist"]);
    assert!(bench.said_tail().contains("-300 degC is below absolute zero"), "{}", bench.said_tail());
    assert_eq!(bench.saved.len(), taken);
}

/// In whichever of its words the newest picture is asked for.
#[test]
fn the_newest_picture_is_no_file_name() {
    let mut bench = Bench::demo();
    bench.walks_to("strip/marks");
    for words in ["newest", "", "1"] {
        bench.types(&["! 8", words]);
        let last = bench.inspection().entries().last().unwrap();
        assert!(matches!(&last.act, Act::Photo { photo, .. } if photo.name == "newest.jpg"), "{words}: {:?}", last.act);
    }
}

/// A look that asks for a picture and was done without one takes it later, from wherever the work has come to.
#[test]
fn a_picture_that_a_look_asks_for_is_taken_afterwards_too() {
    let mut short = read_whole("short", &sample("checklists/short.yaml")).unwrap();
    short.steps[2].needs.clear();
    short.steps[2].asks = [StepAsk::Picture].into();
    let mut bench = Bench::over(begun(Head { checklist: short, ..demo_head() }));
    bench.types(&["yes", "yes", "! 6", "bush.ts/look", "n"]);
    assert!(bench.question().starts_with("its picture"), "{}", bench.question());
    bench.types(&["! 8", "inlet.jpg"]);
    let last = bench.inspection().entries().last().unwrap();
    let Act::Photo { step, photo } = &last.act else { panic!("{:?}", last.act) };
    assert_eq!((step.as_deref(), photo.name.as_str()), (Some("bush.ts/look"), "inlet.jpg"));
    // it is asked no more
    bench.types(&["! 8"]);
    assert!(bench.question().starts_with("which picture"), "{}", bench.question());
}

/// A dial zeroed anew in the middle of its range goes on with what it has read.
#[test]
fn a_gauge_takes_another_range_in_the_job() {
    let mut bench = Bench::demo();
    bench.walks_to("bush.ts/clearance").types(&["! other gauge", "D2 0.5 to -0.5"]);
    assert!(bench.hears().contains("is not below"), "{}", bench.said_tail());
    bench.types(&["D2 -0.5 to 0.5 mm"]);
    let d2 = bench.inspection().gauge(&"D2".parse().unwrap()).unwrap();
    let (low, high) = d2.range.unwrap();
    assert_eq!((low.to_string(), high.to_string()), ("-0.5 mm".to_owned(), "0.5 mm".to_owned()));
    assert!(!d2.calibrations.is_empty(), "all else stays");
    bench.types(&["-2 um"]);
    assert!(!bench.hears().contains("cannot be read"), "{}", bench.said_tail());
    // as long as it was; longer, it is another gauge
    bench.types(&["! other gauge", "D2 -5 to 5 mm"]);
    assert!(bench.question().contains("no scale gets longer"), "{}", bench.question());
    bench.types(&["insist"]);
    assert_eq!(bench.inspection().gauge(&"D2".parse().unwrap()).unwrap().range.unwrap().1.to_string(), "5 mm");
}

/// A picture of a part is none of the paper that is being copied.
#[test]
fn a_photo_of_a_part_is_not_taken_for_the_paper() {
    let mut bench = Bench::demo();
    bench.walks_to("strip/marks");
    let paper = bench.now.clock();
    bench.types(&["! 7", "3", &paper, "", "! 8", "part.jpg"]);
    let late = |bench: &Bench| bench.inspection().entries().last().unwrap().late.clone().expect("late");
    assert_eq!(late(&bench).sheet, None, "{}", bench.said_tail());
    bench.types(&["! 7", "4", "! 7", "3", &paper, "paper.jpg"]);
    assert_eq!(late(&bench).sheet, Some("a".repeat(64)), "{}", bench.said_tail());
}

#[test]
fn hours_of_one_part_are_given_once() {
    let mut bench = Bench::demo();
    bench.types(&["! opening", "hours of the parts", "bush.ts 5; bush.ts 6"]);
    assert!(bench.said_tail().contains("`bush.ts` stands twice, 5 h and 6 h"), "{}", bench.said_tail());
}

/// A wheel may have been renewed since the machine was new: while nobody says so, its life is not judged by the machine's.
#[test]
fn a_life_is_open_while_the_hours_of_the_parts_are_left_for_later() {
    let mut head = demo_head();
    head.parts.clear();
    head.opened.part_hours.clear();
    let outcome = |head: Head| {
        let standing = asfound::domain::standing::Standing::of(&begun(head));
        let life =
            |one: &&asfound::domain::standing::CharacteristicStanding| one.characteristic.id() == "impeller.life";
        format!("{:?}", standing.characteristics.iter().find(life).unwrap().outcome)
    };
    assert!(outcome(head.clone()).starts_with("Judged"), "{}", outcome(head));
    head.opened.own_hours = Some(asfound::domain::inspection::OwnHours::Later);
    assert_eq!(outcome(head), "Open(\"the hours of the parts are left for later\")");
}

/// What was answered while the machine has to be said to be safe is entered as soon as it is.
#[test]
fn a_crack_that_is_found_behind_a_break_is_kept_until_the_machine_is_safe() {
    let mut bench = Bench::demo();
    bench.walks_to("shaft/look").waits(60 * 60);
    let found =
        |bench: &Bench| bench.inspection().standing_entries().filter(|one| matches!(one.act, Act::Finding(_))).count();
    let before = found(&bench);
    bench.hears();
    bench.types(&["! 3", "Rotor shaft", "crack", "seen", "near the fillet", "3 mm", "seen with a lamp", ""]);
    let heard = bench.hears();
    assert!(heard.contains("Kept: it is entered as soon as"), "{heard}");
    // a second one takes the first away no more than another hand takes it over
    bench.types(&["! 3", "Rotor shaft", "rust or pitting", "1", "", "", "", ""]);
    bench.types(&["! 9", "fitter-c", ""]);
    let heard = bench.hears();
    assert!(heard.contains("Kept: it is entered") && heard.contains("what is kept is entered first"), "{heard}");
    assert!(found(&bench) == before && bench.session.is_unentered());
    for _ in 0..10 {
        if bench.session.is_unentered() {
            bench.types(&["yes"]);
        }
    }
    assert_eq!(found(&bench), before + 2, "{}", bench.said_tail());
}

#[test]
fn in_a_field_of_what_else_help_says_what_is_wanted_there() {
    let mut bench = Bench::demo();
    bench.walks_to("strip/marks").hears();
    bench.types(&["! 1", "?"]);
    let heard = bench.hears();
    assert!(heard.contains("which entry is struck") && heard.contains("Wanted: "), "{heard}");
}
