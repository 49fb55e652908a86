//! What a narrow scope says of what it does not look at: never that it lasts. Common practice, no source; the figures are
//! the invented demonstration's.

use asfound::domain::apply::apply;
use asfound::domain::characteristic::Characteristic;
use asfound::domain::due::of_rotor;
use asfound::domain::entry::{Act, Entry};
use asfound::domain::inspection::{Head, Opening};
use asfound::domain::review::{Kept, Review, Tenor};
use asfound::domain::standing::{Standing, history_after};

use super::answers::head;
use super::demo::played;
use super::steps::checklist;
use crate::rig::{Rig, figure};

/// A routine cleaning long after the second inspection, every step that judges done and nothing found.
fn cleaned(head: Head) -> Review {
    let mut rig = Rig::with(head);
    for step in checklist("cleaning").steps.iter().filter(|step| !step.judges.is_empty()) {
        let last = rig.last().clone();
        let act = Act::Tick { step: step.id.clone() };
        drop(apply(&mut rig.inspection, Entry { number: last.number + 1, act, ..last }));
    }
    Review::of(&rig.inspection, &rig.standing(), &Kept::default())
}

fn cleaning() -> Head {
    let history = played()[..2].iter().fold(Vec::new(), history_after);
    let mut head = head("3-2024-07-12", Some(&played()[1]), history);
    head.checklist = checklist("cleaning");
    let (now, next) = (figure("48480 h"), figure("49000 h"));
    head.opened = Opening { machine_hours: Some(now), next_hours: Some(next), ..Opening::default() };
    // the sheet's edition is no question here
    head.opened.manual = played()[1].opening().manual.clone();
    head
}

#[test]
fn a_cleaning_does_not_say_that_the_rotor_lasts() {
    let head = cleaning();
    let on_sheet = head.sheet.as_ref().unwrap().levels.len();
    let review = cleaned(head);
    let said = &review.lasts;
    assert_eq!(said.tenor, Tenor::Watch, "{}", said.text);
    let start = format!("Not known to 49000 h: not judged in this scope: {} of {on_sheet}; last in ", on_sheet - 1);
    assert!(said.text.starts_with(&start), "{}", said.text);
    assert!(said.text.contains(&format!("last in {}", played()[1].head().id)), "{}", said.text);
    // the same that is due by those records
    let due = of_rotor(&[&played()[0], &played()[1]]);
    let wears = due.iter().filter(|item| item.because.contains("reach") || item.because.contains("bound"));
    let nearest = wears.filter(|item| !item.what.contains("hours since new")).min_by_key(|item| item.at_hours.clone());
    let nearest = nearest.and_then(|item| item.at_hours.clone()).unwrap();
    assert!(said.text.ends_with(&format!(", {nearest} h.")), "{nearest:?}: {}", said.text);
    // of the wheel nothing is judged but its hours
    assert_eq!(review.within, ["impeller (life hours)"]);
}

#[test]
fn where_nothing_is_judged_nothing_is_said_to_last() {
    let mut head = cleaning();
    let sheet = head.sheet.as_mut().unwrap();
    sheet.levels.remove(&Characteristic::parse("impeller.life").unwrap());
    sheet.absent.insert(Characteristic::parse("impeller.life").unwrap(), "not on this invented machine".to_owned());
    let review = cleaned(head.clone());
    assert_eq!(review.lasts.tenor, Tenor::Watch, "{}", review.lasts.text);
    head.sheet.as_mut().unwrap().levels.clear();
    let said = cleaned(head).lasts;
    assert_eq!(said.tenor, Tenor::Watch, "{}", said.text);
}

/// No level, no green: of a part that was looked at, and of which nothing was judged, no line has a plus.
#[test]
fn a_part_of_which_nothing_was_judged_is_called_so_and_has_no_plus() {
    let inspection = &played()[2];
    let mut standing = Standing::of(inspection);
    for (judged, words) in [((0, 1), "nothing judged here, of 1"), ((0, 0), "nothing judged here")] {
        let part = standing.parts.iter_mut().find(|part| part.id == "labyrinth").unwrap();
        part.judged = judged;
        assert_eq!(part.in_short(), ('.', "looked at"));
        assert_eq!(part.told().0, '.');
        let review = Review::of(inspection, &standing, &Kept::default());
        let page = review.pages.iter().find(|page| page.part.as_deref() == Some("labyrinth")).unwrap();
        let line = page.items.iter().find(|item| item.text.starts_with("verdict: ")).unwrap();
        assert_eq!((line.sign, line.text.as_str()), ('.', format!("verdict: {words}").as_str()));
    }
}
