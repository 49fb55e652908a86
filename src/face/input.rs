//! Keys as this program knows them, and how they come from the terminal library.

use crossterm::event::{Event, KeyCode, KeyEvent, KeyEventKind, KeyModifiers};

/// One key.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Key {
    /// A printable character.
    Char(char),
    /// Control and a letter.
    Ctrl(char),
    /// Enter.
    Enter,
    /// Escape.
    Esc,
    /// Tab.
    Tab,
    /// Tab backwards.
    BackTab,
    /// Arrow up.
    Up,
    /// Arrow down.
    Down,
    /// Arrow left.
    Left,
    /// Arrow right.
    Right,
    /// Deletes the last character.
    Backspace,
    /// Empties the field.
    Delete,
    /// To the first.
    Home,
    /// To the last.
    End,
    /// A page back.
    PageUp,
    /// A page on.
    PageDown,
    /// A function key.
    Function(u8),
}

impl Key {
    /// What a test or the key list calls it: `enter`, `esc`, `ctrl-q`, `f2`, `5`.
    pub fn name(self) -> String {
        match self {
            Self::Char(' ') => "space".to_owned(),
            Self::Char(letter) => letter.to_string(),
            Self::Ctrl(letter) => format!("ctrl-{letter}"),
            Self::Function(number) => format!("f{number}"),
            Self::Enter
            | Self::Esc
            | Self::Tab
            | Self::BackTab
            | Self::Up
            | Self::Down
            | Self::Left
            | Self::Right
            | Self::Backspace
            | Self::Delete
            | Self::Home
            | Self::End
            | Self::PageUp
            | Self::PageDown => format!("{self:?}").to_ascii_lowercase(),
        }
    }

    /// The key with this name.
    pub fn parse(name: &str) -> Option<Self> {
        const NAMED: [Key; 14] = [
            Key::Enter,
            Key::Esc,
            Key::Tab,
            Key::BackTab,
            Key::Up,
            Key::Down,
            Key::Left,
            Key::Right,
            Key::Backspace,
            Key::Delete,
            Key::Home,
            Key::End,
            Key::PageUp,
            Key::PageDown,
        ];
        let mut letters = name.chars();
        let single = letters.next().filter(|_| letters.next().is_none()).map(Self::Char);
        let chord = name.strip_prefix("ctrl-").and_then(|rest| rest.chars().next()).map(Self::Ctrl);
        let function = name.strip_prefix('f').and_then(|rest| rest.parse().ok()).map(Self::Function);
        let named = NAMED.into_iter().find(|key| key.name() == name);
        named.or(single).or(chord).or(function).or((name == "space").then_some(Self::Char(' ')))
    }

    /// Whether it goes into a field.
    pub fn is_printable(self) -> bool {
        matches!(self, Self::Char(_))
    }
}

/// What the terminal said, as far as it matters here.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Heard {
    /// A key.
    Key(Key),
    /// A paste in its brackets.
    Paste(String),
    /// The window has another size.
    Resized(u16, u16),
}

/// What an event of the terminal library means; `None` for what means nothing here, such as a key let go, or an Enter that
/// the terminal says is held down: one press says one thing.
#[expect(
    clippy::wildcard_enum_match_arm,
    reason = "the terminal library knows many more events and keys than a bench has"
)]
pub fn heard(event: Event) -> Option<Heard> {
    match event {
        Event::Key(key) if key.kind == KeyEventKind::Repeat && key.code == KeyCode::Enter => None,
        Event::Key(key) if key.kind != KeyEventKind::Release => key_of(key).map(Heard::Key),
        Event::Paste(text) => Some(Heard::Paste(text)),
        Event::Resize(columns, rows) => Some(Heard::Resized(columns, rows)),
        _ => None,
    }
}

#[expect(clippy::wildcard_enum_match_arm, reason = "the terminal library knows many more keys than a bench has")]
fn key_of(key: KeyEvent) -> Option<Key> {
    let control = key.modifiers.contains(KeyModifiers::CONTROL);
    Some(match key.code {
        KeyCode::Char(letter) if control => Key::Ctrl(letter.to_ascii_lowercase()),
        // escape and a letter pressed fast arrive as Alt and the letter: neither is guessed
        KeyCode::Char(_) if key.modifiers.contains(KeyModifiers::ALT) => return None,
        KeyCode::Char(letter) => Key::Char(letter),
        KeyCode::Enter => Key::Enter,
        KeyCode::Esc => Key::Esc,
        KeyCode::Tab => Key::Tab,
        KeyCode::BackTab => Key::BackTab,
        KeyCode::Up => Key::Up,
        KeyCode::Down => Key::Down,
        KeyCode::Left => Key::Left,
        KeyCode::Right => Key::Right,
        KeyCode::Backspace => Key::Backspace,
        KeyCode::Delete => Key::Delete,
        KeyCode::Home => Key::Home,
        KeyCode::End => Key::End,
        KeyCode::PageUp => Key::PageUp,
        KeyCode::PageDown => Key::PageDown,
        KeyCode::F(number) => Key::Function(number),
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_key_is_found_by_its_name() {
        let keys =
            [Key::Enter, Key::BackTab, Key::PageDown, Key::Ctrl('q'), Key::Function(2), Key::Char('f'), Key::Char(' ')];
        for key in keys {
            assert_eq!(Key::parse(&key.name()), Some(key));
        }
    }

    #[test]
    fn a_key_let_go_a_held_enter_and_a_key_with_alt_mean_nothing() {
        let mut key = KeyEvent::new(KeyCode::Char('5'), KeyModifiers::ALT);
        assert_eq!(heard(Event::Key(key)), None);
        key = KeyEvent::new(KeyCode::Char('5'), KeyModifiers::NONE);
        key.kind = KeyEventKind::Release;
        assert_eq!(heard(Event::Key(key)), None);
        key.kind = KeyEventKind::Repeat;
        assert_eq!(heard(Event::Key(key)), Some(Heard::Key(Key::Char('5'))));
        key.code = KeyCode::Enter;
        assert_eq!(heard(Event::Key(key)), None);
    }
}
