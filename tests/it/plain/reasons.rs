//! Answers that say nothing, asked for again where they were given.

use asfound::domain::entry::Act;

use super::bench::Bench;
use super::verbs::asfound;

fn last(bench: &Bench) -> &Act {
    &bench.inspection().entries().last().unwrap().act
}

/// Which characteristic and who has accepted it stand; the reason alone is asked again.
#[test]
fn a_reason_that_gives_none_is_asked_for_again_behind_what_was_answered() {
    for (way, answers) in [
        ("! 18", &["1", "supervisor-b"][..]),
        ("! 17", &["bush.ts", "replace"]),
        ("! 19", &["Bush, turbine side"]),
        ("! 11", &["60000 h", ""]),
    ] {
        let mut bench = Bench::demo();
        bench.walks_to("bush.ts/look").hears();
        let taken = bench.inspection().entries().len();
        bench.types(&[way]).types(answers);
        assert!(bench.question().starts_with("why"), "{way}: {}", bench.said_tail());
        let before = (way != "! 11").then_some("as before");
        for none in ["ok", "yes", "ok ok", "see above", "it is ok.", "x"].into_iter().chain(before) {
            bench.types(&[none]);
            assert!(bench.question().starts_with("why"), "{way}, {none}: {}", bench.said_tail());
        }
        assert_eq!(bench.inspection().entries().len(), taken);
        // a plan alone may be as it was
        bench.types(&[if way == "! 11" { "as before" } else { "as the owner wishes" }]);
        assert_eq!(bench.inspection().entries().len(), taken + 1, "{way}: {}", bench.said_tail());
    }
}

#[test]
fn a_question_and_its_answer_are_words_or_asked_for_again() {
    let mut bench = Bench::demo();
    bench.walks_to("bush.ts/look").hears();
    bench.types(&["! 5", "", "."]);
    assert!(bench.question().starts_with("the question"), "{}", bench.said_tail());
    bench.types(&["is it scored?", "! 14", "1", "the maker", "."]);
    assert!(bench.question().starts_with("the answer"), "{}", bench.said_tail());
    bench.types(&["it is"]);
    assert!(matches!(last(&bench), Act::Answer { .. }), "{}", bench.said_tail());
}

#[test]
fn yes_and_no_are_no_place_of_a_crack() {
    let mut bench = Bench::demo();
    bench.walks_to("bush.ts/look").hears();
    bench.types(&["crack", "1"]);
    assert!(bench.question().contains("place: where on it"), "{}", bench.said_tail());
    for none in ["yes", "No", "ok"] {
        bench.types(&[none]);
        assert!(bench.question().contains("place: where on it"), "{none}: {}", bench.said_tail());
    }
    assert!(bench.hears().contains("`No` does not say where."));
    bench.types(&["outer edge"]);
    assert!(!bench.question().contains("place: where on it"), "{}", bench.said_tail());
}

/// A word too many in a file of answers makes no gauge, no rotor's number and no part's.
#[test]
fn a_word_that_answers_another_question_is_no_name() {
    let mut bench = Bench::demo();
    bench.walks_to("bush.ts/clearance").types(&["! 2"]);
    let asked = bench.question().to_owned();
    for none in ["yes", "No", "later", "insist"] {
        bench.types(&[none]);
        assert_eq!(bench.question(), asked, "{none}: {}", bench.said_tail());
    }
    assert!(bench.hears().contains("`No` names nothing."));
    let folder = tempfile::TempDir::new().unwrap();
    let begin = ["begin", "TRY-7", "--invented", "--later", "--hours", "1200", "--checklist", "bearing"];
    for none in ["later", "yes"] {
        let (_, out, err) = asfound(folder.path(), &begin, &format!("INV-900\n{none}\n"));
        assert!(out.contains(&format!("`{none}` names nothing.")), "{out}{err}");
        let asked = out.rsplit("its serial number, typed from the part?").count();
        assert_eq!(asked, 3, "asked again: {out}{err}");
    }
}
