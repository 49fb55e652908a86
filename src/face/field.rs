//! The one line that is typed into. It owns every printable key; nothing in it is lost by moving away.

/// Longer figures are no figures.
pub const FIGURE: usize = 40;
/// A note, a reason, a question.
pub const SENTENCE: usize = 400;

/// What stands in the field.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Field {
    text: String,
    whose: Whose,
}

/// Who put the text there.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
enum Whose {
    /// The hand.
    #[default]
    Typed,
    /// The program, on offer: the first letter typed takes its place.
    Offered,
}

/// What a paste did to the field.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Pasted {
    /// All of it stands in the field.
    Whole,
    /// Only its first line, or only so much as a field holds.
    Cut,
    /// Nothing in it can be typed.
    Nothing,
}

impl Field {
    /// A field with a text already in it.
    pub fn holding(text: &str) -> Self {
        Self { text: text.to_owned(), whose: Whose::Typed }
    }

    /// A field with a text on offer: Enter takes it, typing puts another in its place.
    pub fn offering(text: &str) -> Self {
        Self { text: text.to_owned(), whose: Whose::Offered }
    }

    /// The text as typed.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// Whether nothing but blanks is in it.
    pub fn is_empty(&self) -> bool {
        self.text.trim().is_empty()
    }

    /// Types one character; says whether there was room.
    pub fn typed(&mut self, letter: char, longest: usize) -> bool {
        if self.whose == Whose::Offered && !letter.is_control() {
            self.text.clear();
        }
        self.whose = Whose::Typed;
        let room = self.text.chars().count() < longest && !letter.is_control();
        if room {
            self.text.push(letter);
        }
        room
    }

    /// Takes the last character out.
    pub fn backspace(&mut self) {
        self.whose = Whose::Typed;
        self.text.pop();
    }

    /// Empties it and hands out what was in it.
    pub fn take(&mut self) -> String {
        std::mem::take(&mut self.text)
    }

    /// Puts a paste into the field: one line, no more than it holds. It is never taken as a figure by itself.
    pub fn paste(&mut self, text: &str, longest: usize) -> Pasted {
        let text = text.trim();
        let line = text.split(['\n', '\r']).next().unwrap_or_default();
        let mut cut = line.len() < text.len();
        let mut any = false;
        for letter in line.chars().filter(|letter| !letter.is_control()) {
            if !self.typed(letter, longest) {
                cut = true;
                break;
            }
            any = true;
        }
        match (any, cut) {
            (true, true) => Pasted::Cut,
            (true, false) => Pasted::Whole,
            (false, _) => Pasted::Nothing,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn typing_takes_the_place_of_what_is_on_offer_and_goes_on_with_what_was_typed() {
        let mut field = Field::offering("bush, turbine");
        assert!(field.typed('s', SENTENCE) && field.typed('h', SENTENCE));
        assert_eq!(field.text(), "sh");
        let mut field = Field::offering("fitter A");
        field.backspace();
        assert!(field.typed('B', SENTENCE));
        assert_eq!(field.text(), "fitter B");
        let mut field = Field::holding("0.2");
        assert!(field.typed('3', FIGURE));
        assert_eq!(field.text(), "0.23");
    }

    #[test]
    fn a_paste_is_cut_to_one_line_and_to_what_the_field_holds() {
        let mut field = Field::default();
        assert_eq!(field.paste("  0.234\r\n0.236\n", FIGURE), Pasted::Cut);
        assert_eq!(field.text(), "0.234");
        let mut field = Field::default();
        assert_eq!(field.paste(&"1".repeat(100_000), FIGURE), Pasted::Cut);
        assert_eq!(field.text().len(), FIGURE);
        assert_eq!(field.paste("\u{1b}\u{7}", FIGURE), Pasted::Nothing);
    }
}
