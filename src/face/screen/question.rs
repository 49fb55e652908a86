//! A question about a figure. Answered by arrows and Enter alone; the figure stays in the field until it is answered.

use crate::domain::doubt::{Doubt, OneTurn};
use crate::domain::entry::Act;
use crate::domain::left_out;
use crate::domain::measured;
use crate::domain::refusal::{Refusal, RefusalKind};
use crate::domain::repeated;
use crate::domain::request::Request;
use crate::domain::typed::Typed;

use super::super::action::Action;
use super::super::asking;
use super::super::effect::Effect;
use super::super::form::Go;
use super::super::input::Key;
use super::super::job::Job;
use super::super::model::{Model, Overlay};
use super::super::pen::Pen;
use super::super::widget;
use super::{scrolled, tick, way};

/// What a choice does.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Then {
    /// Back to the field, the figure still in it.
    LookAgain,
    /// The field is emptied, to be typed again.
    TypeAgain,
    /// The figure with a turn put right behind it.
    Turn(OneTurn),
    /// The figure as typed, with its doubts.
    Insist(Vec<String>),
    /// The other reading of the pair is struck and taken anew; the figure stays in its field.
    Retake(u32, String),
    /// Something else is asked of the record.
    Do(Act),
    /// To another step.
    GoTo(String),
    /// To the next step that waits.
    GoOn,
}

/// A question with its choices.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Question {
    /// What it is about, large.
    pub title: String,
    /// The question, a sentence a line.
    pub lines: Vec<String>,
    /// The choices, the harmless one first.
    pub choices: Vec<(String, Then)>,
    /// The one that Enter takes.
    pub marked: usize,
    /// Rows of the text that are scrolled away, where it has no room whole.
    pub scroll: usize,
    request: Option<Request>,
}

impl Question {
    /// About a figure that may be right and looks wrong.
    pub fn doubted(job: &Job, request: Request, typed: &Typed, doubts: &[Doubt]) -> Self {
        let place = job.cell().map(|cell| cell.spoken()).unwrap_or_default();
        let mut choices = vec![
            (format!("look at the gauge again; {} stays in the field", typed.text), Then::LookAgain),
            ("type it again".to_owned(), Then::TypeAgain),
        ];
        for doubt in doubts {
            if let Doubt::Turn { mended: Some((mended, way)), .. } = doubt {
                choices.push((format!("the turn was missed: take {mended}"), Then::Turn(*way)));
            }
        }
        if doubts.iter().any(Doubt::is_of_pair) {
            choices.extend(retake_other(job));
        }
        let words = doubts.iter().map(|doubt| doubt.word().to_owned()).collect();
        let provisional = job.step().is_some_and(|step| left_out::carries_verdict(&job.inspection, step));
        let told = if provisional { "the verdict is provisional" } else { "it is told as insisted on" };
        choices.push((format!("it is right: take {} as it stands; {told}", typed.figure), Then::Insist(words)));
        Self {
            title: format!("? {} at {place}", typed.figure),
            lines: doubts.iter().map(Doubt::question).collect(),
            choices,
            marked: 0,
            scroll: 0,
            request: Some(request),
        }
    }

    /// Up is not above down: the dial stands the wrong way round, or a turn was missed.
    pub fn reversed(job: &Job, request: Request, refusal: &Refusal) -> Self {
        let kind = &refusal.kind;
        let mut choices = vec![
            ("look at the gauge again; the figure stays in the field".to_owned(), Then::LookAgain),
            ("type it again".to_owned(), Then::TypeAgain),
        ];
        if let RefusalKind::LiftReversed(lift) = kind {
            let is_high = job.cell().and_then(|cell| cell.figure).as_ref() == Some(&lift.high);
            if let (Some(turn), true) = (&lift.one_turn_more, is_high) {
                choices.push((format!("a turn was missed: take {turn}"), Then::Turn(OneTurn::More)));
            }
            choices.extend(retake_other(job));
        }
        Self {
            title: "X this cannot be".to_owned(),
            lines: vec![kind.what(), kind.mend()],
            choices,
            marked: 0,
            scroll: 0,
            request: Some(request),
        }
    }
}

/// The other reading of the lift, to be struck and taken again.
fn retake_other(job: &Job) -> Option<(String, Then)> {
    let (entry, other) = measured::other_of_lift(&job.inspection, job.step()?, &job.place())?;
    let name = other.figure.as_deref().unwrap_or_default();
    Some((format!("{name} was wrong: strike it and take it again"), Then::Retake(entry, other.place())))
}

impl Question {
    /// Whether the answer enters what it is about.
    pub fn takes_along(&self) -> bool {
        self.request.is_some()
    }

    /// Answers lie under the question: whoever is not sure goes back to them, and leads nowhere else from here.
    pub fn goes_back(&mut self) {
        if let Some(first) = self.choices.first_mut() {
            *first =
                ("not sure: back to the answers; Esc, all steps lead to the safety points".to_owned(), Then::LookAgain);
        }
    }
}

/// Asks whether the machine is still safe: after a break, or with another hand.
pub fn ask_safe(model: &mut Model) {
    let Some(job) = model.job() else { return };
    let safe =
        crate::domain::progress::steps(&job.inspection).find(|step| step.phase == crate::domain::phase::Phase::Safe);
    let mut choices = vec![("not sure: show the safety points".to_owned(), Then::LookAgain)];
    if let Some(step) = safe {
        choices = vec![("not sure: show the safety points".to_owned(), Then::GoTo(step.id.clone()))];
    }
    let yes = format!("yes, I have looked: {}", tick::stands_for_it(&job.name(&job.by), STANDS));
    choices.push((yes, Then::Do(Act::Resume)));
    let mut question = Question {
        title: "! Is the machine still safe?".to_owned(),
        lines: vec![
            "After a break, or with another hand, the safety points are asked again:".to_owned(),
            "isolated, drained, tagged, blocked, cooled; nobody has taken a tag off.".to_owned(),
        ],
        choices,
        marked: 0,
        scroll: 0,
        request: None,
    };
    if matches!(model.overlays.last(), Some(Overlay::Form(_))) {
        question.goes_back();
    }
    model.open(Overlay::Question(Box::new(question)));
}

/// Columns of a choice for who stands for it, so that it stands whole in a window as wide as it should be.
const STANDS: usize = 54;

/// Keys of a question.
pub fn act(model: &mut Model, mut question: Box<Question>, action: Action, key: Key) -> Vec<Effect> {
    if action == Action::Line {
        question.marked = match way(key) {
            Go::Back => question.marked.saturating_sub(1),
            Go::On => (question.marked + 1).min(question.choices.len().saturating_sub(1)),
        };
    }
    if action == Action::Further {
        question.scroll = scrolled(question.scroll, key, 2);
    }
    if action == Action::Choose {
        return chosen(model, *question);
    }
    if action != Action::Back {
        model.overlays.push(Overlay::Question(question));
    }
    Vec::new()
}

fn chosen(model: &mut Model, question: Question) -> Vec<Effect> {
    let Some((_, then)) = question.choices.into_iter().nth(question.marked) else { return Vec::new() };
    let now = model.now.stamp;
    match then {
        Then::LookAgain => Vec::new(),
        Then::TypeAgain => {
            if let Some(job) = model.job_mut() {
                job.field_mut().0.take();
            }
            Vec::new()
        }
        Then::Turn(way) => {
            let counted = question.request.and_then(|request| request.with_turn(way));
            counted.map_or_else(Vec::new, |request| asking::ask(model, request))
        }
        Then::Insist(words) => insist(model, question.request, words),
        Then::Retake(entry, place) => {
            let strike = Act::Strike { entry, reason: "the pair cannot be: taken again".to_owned() };
            let effects = asking::ask(model, Request::Do(strike));
            if let Some(job) = model.job_mut() {
                job.go_to_place(&place);
            }
            effects
        }
        Then::Do(act) => asking::ask(model, Request::Do(act)),
        Then::GoTo(step) => {
            if let Some(job) = model.job_mut() {
                job.go_to(&step, now);
            }
            Vec::new()
        }
        Then::GoOn => {
            super::bench::next_step(model);
            Vec::new()
        }
    }
}

/// Leaving a step with a place undecided: one more repeat may decide it. None where none may.
pub fn undecided(job: &Job) -> Option<Question> {
    let step = job.step()?;
    let places = repeated::places(&job.inspection, step);
    let more = |place: &String| {
        let words = format!("one more repeat at {place}; the mean then counts them all");
        (words, Then::Do(repeated::one_more(step, place.clone())))
    };
    let lines = vec![
        "Short of the limit by less than the gauge can tell: the part is held until it is decided.".to_owned(),
        "One more repeat may decide it. A better gauge: strike all of the place (Esc 1) and take it again.".to_owned(),
    ];
    let go_on = ("go on to the next step; it stays undecided".to_owned(), Then::GoOn);
    let choices = std::iter::once(go_on).chain(places.iter().take(5).map(more)).collect();
    let title = format!("? undecided: {}", places.join(", "));
    (!places.is_empty()).then_some(Question { title, lines, choices, marked: 0, scroll: 0, request: None })
}

fn insist(model: &mut Model, request: Option<Request>, words: Vec<String>) -> Vec<Effect> {
    let Some(Request::Reading { step, place, text, gauge, mut insisted }) = request else { return Vec::new() };
    insisted.extend(words);
    asking::ask(model, Request::Reading { step, place, text, gauge, insisted })
}

/// ```text
/// -- question ------------------------------------------------------------------
///  ? 0.034 mm at inner 0, third up
///  About one turn (0.200 mm) off 0.234 mm: 0.234 mm with the turn counter read?
///
///  > look at the gauge again; 0.034 stays in the field
///    type it again
///    the turn was missed: take 0.234 mm
///    it is right: take 0.034 mm as it stands; the verdict is provisional
/// ```
pub fn view(pen: &mut Pen<'_>, question: &Question) {
    pen.clear();
    let choices: Vec<_> = question.choices.iter().map(|(words, _)| words.as_str()).collect();
    let asked = (question.title.as_str(), question.lines.as_slice());
    widget::question::draw(pen, asked, (&choices, question.marked), question.scroll);
}
