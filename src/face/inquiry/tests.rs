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
