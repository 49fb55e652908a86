//! The dialogue's own tests.

use super::*;

fn lines(answers: &[&str]) -> Vec<String> {
    answers.iter().map(|answer| (*answer).to_owned()).collect()
}

#[test]
fn a_dialogue_stops_at_the_first_missing_answer() {
    let dialogue = |given: &[&str]| {
        let given = lines(given);
        let mut answers = Answers::new(&given);
        let choice = answers.choose("which", &lines(&["wrong place", "wrong gauge", "slipped"]))?;
        Ok((choice, answers.sentence("why")?))
    };
    let asked = |stop: Reply<(usize, String)>| match stop {
        Err(Stop::Ask(question)) => question.line(),
        Err(Stop::Wrong(words) | Stop::Again(words)) => words,
        Ok(done) => format!("{done:?}"),
    };
    assert_eq!(asked(dialogue(&[])), "which (1 to 3)?");
    assert_eq!(asked(dialogue(&["sl"])), "why?");
    assert_eq!(asked(dialogue(&["wrong"])), "`wrong` is none of these. Type a number from 1 to 3, or the words.");
    assert_eq!(asked(dialogue(&["3", "my hand"])), "(2, \"my hand\")");
}

#[test]
fn a_doubt_takes_its_words_alone() {
    let answered = |typed: &str| Answers::new(&lines(&[typed])).word("which", &["again", "insist"]);
    for typed in ["0.234", "1", "ag"] {
        let none = format!("`{typed}` is none of: again, insist. Nothing was taken.");
        assert_eq!(answered(typed), Err(Stop::Wrong(none)));
    }
    let nothing = "Nothing is typed yet. Wanted is one of: again, insist.";
    assert_eq!(answered(""), Err(Stop::Wrong(nothing.to_owned())));
}

#[test]
fn a_beginning_never_stands_for_the_whole() {
    let choices = lines(&["same: INV-420 manual, edition 3", "periodic, by hours", "no letters"]);
    let said = |typed: &str| Answers::new(&lines(&[typed])).maybe_choose_or_say("which", "later", &choices).unwrap();
    for (typed, meant) in [("2", 1), ("same", 0), ("periodic", 1), ("no letters", 2), ("NO LETTERS", 2)] {
        assert_eq!(said(typed).as_ref(), choices.get(meant), "{typed}");
    }
    for typed in ["sam", "per", "no l", "INV-420 manual", "edition 3"] {
        assert_eq!(said(typed).as_deref(), Some(typed));
    }
    assert_eq!(said(""), None);
}

/// The question that a dialogue asks first.
fn first<T: std::fmt::Debug>(dialogue: impl FnOnce(&mut Answers<'_>) -> Reply<T>) -> Question {
    match dialogue(&mut Answers::new(&[])) {
        Err(Stop::Ask(question)) => *question,
        other => panic!("{other:?}"),
    }
}

#[test]
fn what_was_chosen_is_found_by_what_it_is_wherever_it_stands_by_then() {
    let which = |choices: &[(&str, &str)], offered| {
        let choices: Vec<_> = choices.iter().map(|(id, words)| (*id, (*words).to_owned())).collect();
        first(|answers| answers.choose_known("which", &choices, offered))
    };
    let (wheel, shaft) = (("impeller", "Impeller, reuse"), ("", "shaft: step, as found"));
    let (before, now) = (which(&[wheel, shaft], Some(0)), which(&[shaft, ("impeller", "Impeller, replace")], None));
    let again = |typed: &str| now.given(&before.kept(typed));
    assert_eq!([again("1").as_deref(), again("2").as_deref(), again("").as_deref()], [Some("2"), Some("1"), Some("2")]);
    // gone, twice the same, or kept by its place as once: it is asked again
    let (gone, twice) = (which(&[wheel], None), which(&[shaft, shaft], None));
    assert_eq!(
        [gone.given(&before.kept("2")), twice.given(&before.kept("2")), now.given("2"), now.given("")],
        [const { None }; 4]
    );
    // what is half typed is no answer yet
    assert_eq!(now.half_given(&before.half_kept("2")), "1");
    assert_eq!([gone.half_given(&before.half_kept("2")), gone.half_given("imp")], ["", "imp"]);
}

#[test]
fn an_entry_is_kept_by_its_number_and_words_as_they_are() {
    let entries = [(245, "a crack".to_owned()), (244, "a call".to_owned()), (0, "all 2, 244 to 245".to_owned())];
    let which = |entries: &[(u32, String)], offered| first(|answers| answers.entry("which", entries, offered));
    let (before, now) = (which(&entries, 245), which(&entries[1..2], 244));
    assert_eq!([before.kept("244"), before.kept(""), before.kept("12")], ["244", "245", "12"]);
    assert_eq!(
        [now.given("245").as_deref(), now.given("").as_deref(), now.given(&before.kept("0")).as_deref()],
        [Some("245"), None, None]
    );
    // a choice is no sentence, and a sentence none
    let why = first(|answers| answers.words("why"));
    assert_eq!([why.given("= impeller").as_deref(), why.given("12 cracks").as_deref()], [None, Some("12 cracks")]);
}
