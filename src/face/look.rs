//! Colours and weights: sixteen named colours on the terminal's own ground, always behind a sign and a word.

use ratatui::style::{Color, Modifier, Style};

use super::glyphs::Glyphs;

/// Whether colours may be used.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Paint {
    /// The sixteen named ones.
    Colours,
    /// None: `NO_COLOR`, or a terminal that has none.
    Mono,
}

/// What a text is, from which its look follows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Tone {
    /// Plain.
    Plain,
    /// Matters: figures, the place, what to do now.
    Strong,
    /// May be passed over: rules, units, hints.
    Quiet,
    /// The line that says where one is.
    Title,
    /// Where the hand is.
    Here,
    /// The text in the field.
    Field,
    /// Within.
    Good,
    /// Watch, undecided, provisional, a doubt.
    Watch,
    /// Past a limit, not saved, stop.
    Bad,
    /// The same, that cannot be overlooked.
    Alarm,
    /// What can hurt someone.
    Caution,
    /// A key that can be pressed.
    Key,
    /// Not a real machine.
    Invented,
}

/// How everything looks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Look {
    /// Colours or none.
    pub paint: Paint,
    /// Characters of rules and bars.
    pub glyphs: Glyphs,
}

impl Look {
    /// For tests and plain terminals.
    pub const PLAIN: Self = Self { paint: Paint::Mono, glyphs: Glyphs::ASCII };

    /// The style of a tone. In mono the weight alone speaks, behind the sign and the word.
    pub fn style(self, tone: Tone) -> Style {
        let style = Style::new();
        let (colour, weight) = match tone {
            Tone::Plain => (None, Modifier::empty()),
            Tone::Strong | Tone::Field => (None, Modifier::BOLD),
            Tone::Quiet => (None, Modifier::DIM),
            Tone::Title => (None, Modifier::BOLD.union(Modifier::REVERSED)),
            Tone::Here => (None, Modifier::REVERSED),
            Tone::Good => (Some(Color::Green), Modifier::BOLD),
            Tone::Watch => (Some(Color::Yellow), Modifier::BOLD),
            Tone::Bad => (Some(Color::Red), Modifier::BOLD),
            Tone::Alarm => (Some(Color::Red), Modifier::BOLD.union(Modifier::REVERSED)),
            Tone::Caution | Tone::Invented => (Some(Color::Magenta), Modifier::BOLD),
            Tone::Key => (Some(Color::Cyan), Modifier::BOLD),
        };
        match (colour, self.paint) {
            (Some(colour), Paint::Colours) => style.fg(colour).add_modifier(weight),
            (_, Paint::Colours | Paint::Mono) => style.add_modifier(weight),
        }
    }
}
