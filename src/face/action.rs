//! The one table of actions: it drives the keys, the footer, the help screen and the key list in the docs.

use super::input::Key;

/// Where a key is pressed; the top of what is on the screen decides, nothing else.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Scope {
    /// The first screen.
    Home,
    /// A step that takes figures.
    Figure,
    /// Points confirmed by name.
    Points,
    /// A step that is done or not.
    Tick,
    /// A step at which something may be seen.
    Look,
    /// A soak.
    Soak,
    /// A step that takes a sentence.
    Words,
    /// A signature.
    Sign,
    /// A numbered list.
    List,
    /// Answers, one a line.
    Form,
    /// A question about a figure.
    Question,
    /// Something that must be seen before going on.
    Notice,
    /// All steps, with a search.
    Steps,
    /// Far view.
    Far,
    /// A finished record, to read.
    Review,
    /// The files of a kind.
    Register,
    /// A file filled in.
    Paper,
    /// Pages of text.
    Help,
    /// A step that does not open yet.
    Shut,
    /// Something is fetched.
    Wait,
}

impl Scope {
    /// Every scope in the order of the docs.
    pub const ALL: [Self; 20] = [
        Self::Home,
        Self::Figure,
        Self::Points,
        Self::Tick,
        Self::Look,
        Self::Soak,
        Self::Words,
        Self::Sign,
        Self::List,
        Self::Form,
        Self::Question,
        Self::Notice,
        Self::Steps,
        Self::Far,
        Self::Review,
        Self::Register,
        Self::Paper,
        Self::Shut,
        Self::Wait,
        Self::Help,
    ];

    /// What the docs call it.
    pub fn title(self) -> &'static str {
        match self {
            Self::Home => "Home",
            Self::Figure => "Step that takes figures",
            Self::Points => "Step with points to confirm",
            Self::Tick => "Step that is done or not",
            Self::Look => "Step at which something may be seen",
            Self::Soak => "Wait",
            Self::Words => "Step that takes a sentence",
            Self::Sign => "Decide and sign, close",
            Self::List => "Numbered list",
            Self::Form => "Answers, one a line",
            Self::Question => "Question about a figure",
            Self::Notice => "Notice",
            Self::Steps => "All steps",
            Self::Far => "Far view",
            Self::Review => "Review",
            Self::Register => "People, instruments, limits sheets",
            Self::Paper => "A file filled in",
            Self::Help => "Pages of text",
            Self::Shut => "Step that does not open yet",
            Self::Wait => "Waiting for the files",
        }
    }

    /// Whether printable keys go into a field there.
    pub fn has_field(self) -> bool {
        matches!(self, Self::Figure | Self::Words | Self::Form | Self::Steps | Self::Sign | Self::Far | Self::Paper)
    }

    /// Whether a digit chooses a line there.
    pub fn takes_digit(self) -> bool {
        matches!(self, Self::Home | Self::Look | Self::List | Self::Review | Self::Register)
    }

    /// How many milliseconds must lie between two Enters there: who says that something stands has read it, and a held key
    /// reads nothing. Where figures are typed a gauge may be as fast as it likes.
    pub fn rest(self) -> u64 {
        match self {
            Self::Points | Self::Tick | Self::Look | Self::Soak | Self::Sign | Self::Question | Self::Notice => 700,
            Self::Words | Self::Form | Self::Shut | Self::List => 100,
            Self::Home
            | Self::Figure
            | Self::Steps
            | Self::Far
            | Self::Review
            | Self::Register
            | Self::Paper
            | Self::Help
            | Self::Wait => 0,
        }
    }

    /// Whether it is a step of the inspection.
    pub fn is_step(self) -> bool {
        matches!(
            self,
            Self::Figure | Self::Points | Self::Tick | Self::Look | Self::Soak | Self::Words | Self::Sign | Self::Shut
        )
    }
}

/// Keys that mean the same thing together.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Press {
    /// One key.
    One(Key),
    /// The four arrows.
    Arrows,
    /// Up and down.
    UpDown,
    /// Tab and Tab backwards.
    Tabs,
    /// Page up and page down.
    Pages,
    /// One digit.
    Digit,
    /// Backspace and Delete.
    Rubber,
    /// A dash typed alone; the field holds it.
    Dash,
}

impl Press {
    /// What the footer and the docs call it.
    pub fn name(self) -> &'static str {
        match self {
            Self::One(Key::Enter) => "Enter",
            Self::One(Key::Esc) => "Esc",
            Self::One(Key::Function(1)) => "F1",
            Self::One(Key::Function(_)) => "F2",
            Self::One(Key::Ctrl('q')) => "Ctrl-Q",
            Self::One(_) => "key",
            Self::Arrows => "arrows",
            Self::UpDown => "up, down",
            Self::Tabs => "Tab",
            Self::Pages => "PgUp, PgDn",
            Self::Digit => "digit",
            Self::Rubber => "Backspace",
            Self::Dash => "-",
        }
    }

    /// Whether `key` is one of them.
    pub fn is(self, key: Key) -> bool {
        match self {
            Self::One(one) => one == key,
            Self::Arrows => matches!(key, Key::Up | Key::Down | Key::Left | Key::Right),
            Self::UpDown => matches!(key, Key::Up | Key::Down),
            Self::Tabs => matches!(key, Key::Tab | Key::BackTab),
            Self::Pages => matches!(key, Key::PageUp | Key::PageDown),
            Self::Digit => matches!(key, Key::Char('0'..='9')),
            Self::Rubber => matches!(key, Key::Backspace | Key::Delete),
            Self::Dash => key == Key::Char('-'),
        }
    }
}

/// One row of the table.
#[derive(Debug, Clone, Copy)]
pub struct Row {
    /// What it does.
    pub action: Action,
    /// By which keys.
    pub press: Press,
    /// Its word in the footer; empty when the footer does not show it.
    pub footer: &'static str,
    /// Its line in the help and the docs.
    pub help: &'static str,
    /// Where.
    pub scopes: &'static [Scope],
}

macro_rules! actions {
    ($($action:ident, $press:expr, $footer:literal, $help:literal, $scopes:expr;)*) => {
        /// What a key can do.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum Action { $(#[doc = $help] $action,)* }

        /// Every action.
        pub const ACTIONS: &[Row] = &[$(Row {
            action: Action::$action, press: $press, footer: $footer, help: $help, scopes: $scopes,
        },)*];
    };
}

const STEP: &[Scope] =
    &[Scope::Figure, Scope::Points, Scope::Tick, Scope::Look, Scope::Soak, Scope::Words, Scope::Sign, Scope::Shut];
/// Everywhere but on the pages of help themselves.
const HELPED: &[Scope] = Scope::ALL.split_at(Scope::ALL.len() - 1).0;
const ENTER: Press = Press::One(Key::Enter);
const ESC: Press = Press::One(Key::Esc);

actions! {
    // id,   keys,           footer,          help line,                                                   where
    FarTake, ENTER,          "take",          "Takes the figure in the field", &[Scope::Far];
    Take,    ENTER,          "take",          "Takes the figure in the field; on an empty field says what is wanted", &[Scope::Figure];
    Confirm, ENTER,          "confirm",       "Confirms the marked point by name", &[Scope::Points];
    Done,    ENTER,          "done",          "Says that the step is done; once more goes on", &[Scope::Tick];
    Soak,    ENTER,          "start, stop",   "Starts the clock of a wait, or stops it", &[Scope::Soak];
    Keep,    ENTER,          "keep",          "Keeps the sentence", &[Scope::Words];
    Sign,    ENTER,          "sign",          "Signs, when the name stands in the field", &[Scope::Sign];
    Open,    ENTER,          "open",          "Opens the marked line", &[Scope::Home, Scope::Steps, Scope::Review, Scope::Register];
    PutIn,   ENTER,          "take",          "Takes what is typed, or what is offered, and goes on; opens what is opened", &[Scope::Paper];
    Choose,  ENTER,          "choose",        "Chooses the marked line", &[Scope::Look, Scope::List, Scope::Question];
    Answer,  ENTER,          "next answer",   "Takes the answer and goes to the next; after the last, finishes", &[Scope::Form];
    GoThere, ENTER,          "go there",      "Goes to the step that comes first, or to what ends the hold", &[Scope::Shut];
    Seen,    ENTER,          "seen, go on",   "Says that it was seen, and goes on", &[Scope::Notice];
    Digit,   Press::Digit,   "digit",         "Chooses the line with that number", &[Scope::Home, Scope::Look, Scope::List, Scope::Review, Scope::Register];
    Cell,    Press::Arrows,  "move",          "Goes to another field; a half-typed text stays with its field", &[Scope::Paper];
    Leap,    Press::Pages,   "",              "Goes to the next row with a name of its own, or back", &[Scope::Paper];
    TakeOut, Press::Dash,    "remove",        "Typed alone: says what would be taken out; Enter takes it out, Backspace keeps it", &[Scope::Paper];
    Place,   Press::Arrows,  "move",   "Goes to another place; a half-typed figure stays with its place", &[Scope::Figure, Scope::Far];
    Line,    Press::UpDown,  "move",    "Marks another line",
        &[Scope::Home, Scope::Points, Scope::Look, Scope::List, Scope::Form, Scope::Question, Scope::Steps, Scope::Review, Scope::Sign, Scope::Register];
    Rub,     Press::Rubber,  "",              "Takes the last character out; Delete empties the field",
        &[Scope::Figure, Scope::Words, Scope::Form, Scope::Steps, Scope::Sign, Scope::Far, Scope::Paper];
    Lower,   Press::Tabs,    "more",     "Turns the lower half: judged, working, why, how, mistakes, last time", STEP;
    Next,    Press::Tabs,    "page",     "Turns the page", &[Scope::Review];
    Other,   Press::Tabs,    "offers", "Turns to the next answer on offer; where none is, takes what stands into the field", &[Scope::Form, Scope::Paper];
    Page,    Press::Pages,   "",              "Scrolls what does not fit", STEP;
    Further, Press::Pages,   "",              "Scrolls what does not fit", &[Scope::Review, Scope::Question, Scope::Notice];
    Scroll,  Press::Pages,   "scroll",        "Scrolls", &[Scope::Steps, Scope::Help];
    Else,    ESC,            "what else",     "Opens the numbered list of everything else; never leaves, never loses",
        &[Scope::Figure, Scope::Points, Scope::Tick, Scope::Look, Scope::Soak, Scope::Words, Scope::Sign, Scope::Far, Scope::Shut, Scope::Review];
    First,   ESC,            "",              "Nothing lies behind it; everything else of an inspection is under Esc there", &[Scope::Home];
    Back,    ESC,            "back",          "Back to where one was; nothing is lost",
        &[Scope::List, Scope::Form, Scope::Question, Scope::Steps, Scope::Notice, Scope::Help, Scope::Register, Scope::Paper, Scope::Wait];
    Far,     Press::One(Key::Function(2)), "far", "Last figure five rows high, with its place and verdict, for two metres off; again goes back",
        &[Scope::Figure, Scope::Far];
    Leave,   Press::One(Key::Ctrl('q')), "leave", "Leaves for now; everything is kept, half-typed figures too", Scope::ALL.as_slice();
    Help,    Press::One(Key::Function(1)), "help", "Shows the keys of this screen", HELPED;
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_key_means_two_things_on_one_screen() {
        let keys = [Key::Enter, Key::Esc, Key::Tab, Key::Up, Key::Left, Key::PageUp, Key::Backspace, Key::Char('1')];
        for scope in Scope::ALL {
            for key in keys {
                let rows = ACTIONS.iter().filter(|row| row.scopes.contains(&scope) && row.press.is(key));
                assert!(rows.count() < 2, "{key:?} twice in {scope:?}");
            }
        }
    }

    #[test]
    fn every_action_is_reachable_and_every_screen_can_be_left() {
        for row in ACTIONS {
            assert!(!row.scopes.is_empty() && !row.help.is_empty(), "{:?}", row.action);
        }
        for scope in Scope::ALL {
            let out = ACTIONS.iter().filter(|row| row.scopes.contains(&scope));
            assert!(out.clone().any(|row| row.action == Action::Leave), "{scope:?}");
            assert!(out.clone().any(|row| row.press.is(Key::Esc)), "{scope:?}");
        }
    }
}
