//! A new inspection: the questions of `acts::begin`, one after the other; what was answered stays in sight.

use crate::domain::id::Id;
use crate::domain::inspection::Scene;
use crate::domain::stamp::{Stamp, long_day};
use crate::records::store::HalfForm;

use super::super::action::{Action, Scope};
use super::super::acts::begin::{Begun, Given, beginning};
use super::super::effect::{Effect, HomeFacts, Query};
use super::super::half;
use super::super::input::Key;
use super::super::inquiry::{Answers, Reply};
use super::super::look::Tone;
use super::super::model::{Model, Screen};
use super::super::pen::{Pen, width, wrap};
use super::super::talk::{Heard, Talk};
use super::super::update::to_home;
use super::super::widget::keybar;
use super::{asked, bench, way};

/// A new inspection.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Begin {
    /// The answers.
    pub talk: Talk,
    facts: HomeFacts,
    given: Given,
    course: Course,
}

/// Whether the answers are on their way.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Course {
    /// They are asked.
    Asked,
    /// A record is being begun or opened of them.
    UnderWay,
}

fn ask(facts: &HomeFacts, given: &Given, now: Stamp, answers: &mut Answers<'_>) -> Reply<Begun> {
    beginning(&facts.known, given, answers, now)
}

impl Begin {
    /// The first question.
    ///
    /// # Errors
    /// Why nothing can be asked.
    pub fn new(facts: HomeFacts, rotor: Option<&str>, now: Stamp) -> Result<Self, String> {
        // what was half answered was of this rotor, whether it was chosen by its line or typed
        let left_of = facts.begun.as_ref().and_then(|left| left.way.first()).map(String::as_str);
        let rotor: Option<Id> = rotor.or(left_of).and_then(|rotor| rotor.parse().ok());
        let left = facts.begun.as_ref().and_then(|left| answers_of(left, rotor.as_ref()).map(<[String]>::to_vec));
        let given = Given { rotor, ..Given::default() };
        let talk = Talk::open("begin an inspection", |answers| ask(&facts, &given, now, answers));
        let mut talk = talk.map_err(|ended| ended.err().unwrap_or_default())?;
        if let Some(left) = left {
            talk.replay(&left, |answers| ask(&facts, &given, now, answers));
        }
        Ok(Self { talk, facts, given, course: Course::Asked })
    }

    /// What is half answered; none where nothing is, so that looking in takes nothing of another one away.
    pub fn half(&self) -> Option<HalfForm> {
        let way: Vec<String> = self.given.rotor.iter().map(Id::to_string).collect();
        let half = half::of_talk(&self.talk, &way);
        half.answers.iter().any(|answer| !answer.is_empty()).then_some(half)
    }
}

/// The kept answers as far as they are this rotor's, without the one that named it.
fn answers_of<'a>(left: &'a HalfForm, rotor: Option<&Id>) -> Option<&'a [String]> {
    let is_it = |named: &String| rotor.is_some_and(|rotor| named.eq_ignore_ascii_case(rotor.as_str()));
    match (left.way.first(), rotor) {
        (None, None) => Some(&left.answers),
        (Some(named), Some(_)) => is_it(named).then_some(&left.answers),
        (None, Some(_)) => left.answers.split_first().filter(|(named, _)| is_it(named)).map(|(_, rest)| rest),
        (Some(_), None) => None,
    }
}

/// Opens the screen.
pub fn open(model: &mut Model, facts: HomeFacts, rotor: Option<&str>) {
    match Begin::new(facts, rotor, model.now.stamp) {
        Ok(begin) => model.screen = Screen::Begin(Box::new(begin)),
        Err(why) => model.say(Tone::Bad, why),
    }
}

/// Keys of the dialogue.
pub fn act(model: &mut Model, action: Action, key: Key) -> Vec<Effect> {
    let now = model.now.stamp;
    let Screen::Begin(begin) = &mut model.screen else { return Vec::new() };
    if action == Action::Back {
        return to_home(model);
    }
    if begin.course == Course::UnderWay {
        // the same answers once more would ask for a second record
        model.say(Tone::Plain, BEGINNING);
        return Vec::new();
    }
    let (facts, given) = (&begin.facts, &begin.given);
    let ask = |answers: &mut Answers<'_>| ask(facts, given, now, answers);
    if matches!(action, Action::Line | Action::Other) {
        begin.talk.go(way(key), ask);
        return Vec::new();
    }
    if action != Action::Answer {
        return Vec::new();
    }
    match begin.talk.enter(ask) {
        Heard::Next => Vec::new(),
        Heard::Wrong(words) => {
            model.say(Tone::Bad, words);
            Vec::new()
        }
        Heard::Done(begun) => {
            begin.course = Course::UnderWay;
            model.say(Tone::Plain, BEGINNING);
            let query = match begun {
                Begun::New(beginning) => Query::Begin(beginning),
                Begun::GoOn(inspection) => Query::Open(inspection),
            };
            vec![Effect::Ask(Box::new(query))]
        }
    }
}

/// What stands until the record is there.
const BEGINNING: &str = "beginning";

/// Nothing came of it: the answers can be given again.
pub fn failed(model: &mut Model) {
    if let Screen::Begin(begin) = &mut model.screen {
        begin.course = Course::Asked;
    }
}

/// ```text
///  asfound, begin          INVENTED DEMONSTRATION             12 July 2024, 14:05
///  Rotor, hours and a name are enough to begin; the rest may be later.
///  -- begin an inspection ---------------------------------------------------------
///    which rotor                            DEMO-1
/// >  serial number of DEMO-1, typed from the part?
///    [ INV-0_                                                                    ]
/// ```
pub fn view(pen: &mut Pen<'_>, model: &Model, begin: &Begin) {
    head(pen, "asfound, begin", begin.facts.scene, model.now.stamp);
    let lines = wrap(ENOUGH, pen.width().saturating_sub(2));
    for (row, line) in lines.iter().enumerate() {
        pen.put(1, 1 + row, line, Tone::Plain);
    }
    let (below, top) = (pen.height().saturating_sub(1), 1 + lines.len());
    asked::view(&mut pen.rows(top, below.saturating_sub(top + 1)), &begin.talk, model.said.as_ref());
    keybar::draw(pen, below, Scope::Form);
}

/// What is said above the questions.
const ENOUGH: &str = "Rotor, hours and a name are enough to begin. What is left for later is held until it is given, on \
                      any step: Esc 0.";

/// The first line of a screen without a record: its name, whether the machines exist, day and time; what has no room says
/// less.
pub fn head(pen: &mut Pen<'_>, name: &str, scene: Scene, now: Stamp) {
    pen.wash(0, Tone::Title);
    let (x, columns) = (pen.put(1, 0, name, Tone::Title), pen.width());
    let (mark, clock) = (scene.mark().unwrap_or_default(), now.clock());
    let day = format!("{}, {clock}", long_day(now.date()));
    let fits = |(mark, when): &(&str, &str)| {
        let from = columns.saturating_sub(width(mark)) / 2;
        mark.is_empty() && x + width(when) + 2 < columns || x < from && from + width(mark) + width(when) + 2 < columns
    };
    let short = bench::first_word(mark);
    let (mark, when) =
        [(mark, day.as_str()), (short, day.as_str())].into_iter().find(fits).unwrap_or((short, clock.as_str()));
    pen.centre(0, mark, Tone::Title);
    pen.right(1, 0, when, Tone::Title);
}
