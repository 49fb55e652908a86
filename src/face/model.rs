//! Everything that is shown. Changed by `update` alone, drawn by `view`.

use crate::domain::inspection::Scene;

use super::action::Scope;
use super::field::Field;
use super::job::Job;
use super::look::{Look, Tone};
use super::message::Moment;
use super::screen::asked::Asked;
use super::screen::begin::Begin;
use super::screen::help::Help;
use super::screen::home::Home;
use super::screen::list::List;
use super::screen::notice::Notice;
use super::screen::question::Question;
use super::screen::registers::Registers;
use super::screen::review::Review;
use super::screen::steps::Steps;
use super::typing::Typing;

/// What fills the screen.
#[derive(Debug, Clone)]
pub enum Screen {
    /// Something is fetched: what.
    Wait(String),
    /// The first screen.
    Home(Box<Home>),
    /// A new inspection.
    Begin(Box<Begin>),
    /// An inspection on the bench.
    Job(Box<Job>),
    /// A record to read.
    Review(Box<Review>),
    /// People, instruments, limits sheets, rotors, own checklists.
    Registers(Box<Registers>),
}

/// What lies over it; the last one gets the keys.
#[derive(Debug, Clone)]
pub enum Overlay {
    /// A numbered list.
    List(List),
    /// Answers, one a line.
    Form(Box<Asked>),
    /// A question about a figure.
    Question(Box<Question>),
    /// Something to be seen before going on.
    Notice(Box<Notice>),
    /// All steps.
    Steps(Box<Steps>),
    /// Pages of text.
    Help(Help),
    /// Far view.
    Far,
}

/// One line said to the fitter.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Said {
    /// How it looks.
    pub tone: Tone,
    /// What, where, how to mend.
    pub text: String,
}

/// Everything that is shown.
#[derive(Debug, Clone)]
pub struct Model {
    /// Colours and characters.
    pub look: Look,
    /// Columns and rows.
    pub size: (u16, u16),
    /// The last moment known.
    pub now: Moment,
    /// What the data folder is for.
    pub scene: Scene,
    /// What fills the screen.
    pub screen: Screen,
    /// What lies over it.
    pub overlays: Vec<Overlay>,
    /// Lines chosen from lists on the way to what lies on top.
    pub way: Vec<String>,
    /// What was said last.
    pub said: Option<Said>,
    /// Who types.
    pub typing: Typing,
}

impl Model {
    /// Before anything was fetched.
    pub fn new((look, scene): (Look, Scene), size: (u16, u16), now: Moment) -> Self {
        Self {
            look,
            size,
            now,
            scene,
            screen: Screen::Wait("reading the records".to_owned()),
            overlays: Vec::new(),
            way: Vec::new(),
            said: None,
            typing: Typing::default(),
        }
    }

    /// Where a key goes now.
    pub fn scope(&self) -> Scope {
        match (self.overlays.last(), &self.screen) {
            (Some(Overlay::List(_)), _) => Scope::List,
            (Some(Overlay::Form(_)), _) | (None, Screen::Begin(_)) => Scope::Form,
            (Some(Overlay::Question(_)), _) => Scope::Question,
            (Some(Overlay::Notice(_)), _) => Scope::Notice,
            (Some(Overlay::Steps(_)), _) => Scope::Steps,
            (Some(Overlay::Help(_)), _) => Scope::Help,
            (Some(Overlay::Far), _) => Scope::Far,
            (None, Screen::Home(_)) => Scope::Home,
            (None, Screen::Job(job)) => super::screen::bench::scope(job),
            (None, Screen::Review(review)) => review.scope(),
            (None, Screen::Registers(registers)) => registers.scope(),
            (None, Screen::Wait(_)) => Scope::Wait,
        }
    }

    /// The field that printable keys go into, and how much it holds.
    pub fn field_mut(&mut self) -> Option<(&mut Field, usize)> {
        match (self.overlays.last_mut(), &mut self.screen) {
            (Some(Overlay::Form(asked)), _) => Some(asked.talk.field_mut()),
            (Some(Overlay::Steps(steps)), _) => Some((&mut steps.search, super::field::FIGURE)),
            (Some(Overlay::Far) | None, Screen::Job(job)) => {
                super::screen::bench::takes_text(job).then(|| job.field_mut())
            }
            (None, Screen::Begin(begin)) => Some(begin.talk.field_mut()),
            (None, Screen::Registers(registers)) => {
                registers.filling_mut()?.field_mut().map(|field| (field, super::field::SENTENCE))
            }
            (None, Screen::Review(review)) => review.field_mut(),
            (Some(_), _) | (None, Screen::Wait(_) | Screen::Home(_)) => None,
        }
    }

    /// The inspection on the bench.
    pub fn job(&self) -> Option<&Job> {
        match &self.screen {
            Screen::Job(job) => Some(job),
            Screen::Wait(_) | Screen::Home(_) | Screen::Begin(_) | Screen::Review(_) | Screen::Registers(_) => None,
        }
    }

    /// The inspection on the bench, to be changed.
    pub fn job_mut(&mut self) -> Option<&mut Job> {
        match &mut self.screen {
            Screen::Job(job) => Some(job),
            Screen::Wait(_) | Screen::Home(_) | Screen::Begin(_) | Screen::Review(_) | Screen::Registers(_) => None,
        }
    }

    /// The far view shows figures alone: away from them Enter would do what is not on the screen.
    pub fn leave_far(&mut self) {
        let takes_figures = self.job().is_some_and(|job| super::screen::bench::scope(job) == Scope::Figure);
        self.overlays.retain(|overlay| takes_figures || !matches!(overlay, Overlay::Far));
    }

    /// Says one line, in place of the last.
    pub fn say(&mut self, tone: Tone, text: impl Into<String>) {
        let text: String = text.into();
        // a fault of several lines stands in one paragraph: a stop behind each
        let lines: Vec<_> = text.lines().map(str::trim).collect();
        let stopped =
            |line: &&str| if line.ends_with(['.', ':', '?', '!']) { (*line).to_owned() } else { format!("{line}.") };
        let text = if lines.len() > 1 { lines.iter().map(stopped).collect::<Vec<_>>().join(" ") } else { text };
        self.said = Some(Said { tone, text });
    }

    /// Lays something over the screen; what was typed ahead never answers it.
    pub fn open(&mut self, overlay: Overlay) {
        let question = matches!(overlay, Overlay::Question(_) | Overlay::Notice(_));
        self.overlays.push(overlay);
        if question {
            self.typing.question_opened();
        }
    }

    /// Milliseconds until the model wants to be woken: a digit to be settled, the next minute on the clock.
    pub fn wake_in(&self) -> u64 {
        let to_minute = 60_u64.saturating_sub(u64::from(chrono::Timelike::second(&self.now.stamp.moment()))) * 1000;
        let digit = self.typing.wake_at().map(|at| at.saturating_sub(self.now.millis).max(1));
        digit.unwrap_or(to_minute).min(to_minute)
    }
}
