//! From what was typed to a figure: decimal comma or point, a unit behind it or the grid's, nothing converted silently.

use rust_decimal::Decimal;

use super::figure::Figure;
use super::refusal::{Refusal, RefusalKind};
use super::unit::Unit;

/// Longer texts are refused unread: nobody types them, a paste or a stuck key does.
const LONGEST: usize = 40;
/// More digits than any gauge shows; also what keeps every later sum small.
const MOST_DIGITS: usize = 18;

/// The text of a field and what it was taken for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Typed {
    /// As typed, without the blanks around it.
    pub text: String,
    /// What it was taken for: the typed figure, nothing added.
    pub figure: Figure,
}

/// Takes `text` for a figure, in `unit` unless the text names one.
///
/// # Errors
/// `Empty`, `TooLong`, `NotAFigure`, `Thousands`, `Division`, `TwoFigures`, `TooManyDigits`, `UnknownUnit`.
/// The dimension is the caller's to check.
pub fn parse(text: &str, unit: Unit) -> Result<Typed, Refusal> {
    let text = text.trim();
    if text.is_empty() {
        return Err(RefusalKind::Empty.into());
    }
    if text.chars().count() > LONGEST {
        return Err(RefusalKind::TooLong { longest: LONGEST }.into());
    }
    let (number, rest) = split(text);
    let decimal = decimal(text, number, rest)?;
    let unit = match rest.trim() {
        "" => unit,
        word => unit_word(text, word)?,
    };
    Ok(Typed { text: text.to_owned(), figure: Figure::new(decimal, unit) })
}

/// The leading sign, digits, points and commas, and all behind them.
fn split(text: &str) -> (&str, &str) {
    let signed = text.strip_prefix(['+', '-', '\u{2212}']).unwrap_or(text).trim_start();
    let begin = text.len() - signed.len();
    let length = signed.find(|c: char| !(c.is_ascii_digit() || c == '.' || c == ',')).unwrap_or(signed.len());
    text.split_at(begin + length)
}

fn decimal(text: &str, number: &str, rest: &str) -> Result<Decimal, Refusal> {
    let not_a_figure = || RefusalKind::NotAFigure { text: text.to_owned() };
    let negative = number.starts_with(['-', '\u{2212}']);
    let digits = number.trim_start_matches(['+', '-', '\u{2212}', ' ']);
    let points = digits.matches(['.', ',']).count();
    if points > 1 {
        return Err(RefusalKind::Thousands { text: text.to_owned() }.into());
    }
    if rest.starts_with('/') {
        return Err(RefusalKind::Division { text: text.to_owned() }.into());
    }
    // `1e3`, `0x10`, `1_000`: a letter right behind the digits that begins no unit; `5.`: a point with nothing behind it
    let glued = rest.starts_with('_')
        || (rest.starts_with(['e', 'E', 'x', 'X']) && rest.chars().nth(1).is_some_and(|c| c.is_ascii_digit()));
    if digits.is_empty() || digits.ends_with(['.', ',']) || glued {
        return Err(not_a_figure().into());
    }
    if digits.chars().filter(char::is_ascii_digit).count() > MOST_DIGITS {
        return Err(RefusalKind::TooManyDigits { most: MOST_DIGITS }.into());
    }
    let plain = format!("{}{}", if negative { "-" } else { "" }, digits.replace(',', "."));
    let plain = plain.replacen("-.", "-0.", 1);
    let plain = if plain.starts_with('.') { format!("0{plain}") } else { plain };
    plain.parse().ok().ok_or_else(|| not_a_figure().into())
}

fn unit_word(text: &str, word: &str) -> Result<Unit, Refusal> {
    // `1/K`, `/min`: no second figure
    if let Some(unit) = Unit::parse(word).filter(|_| word.contains('/')) {
        return Ok(unit);
    }
    if word.starts_with(|c: char| c.is_ascii_digit() || ".,+-;/".contains(c)) {
        return Err(RefusalKind::TwoFigures { text: text.to_owned() }.into());
    }
    // a figure with its unit, and another one behind it
    let second = word.split_once([' ', ';']).is_some_and(|(unit, rest)| {
        let digits = rest.trim_start().trim_start_matches(['-', '+', '.', ',']);
        Unit::parse(unit).is_some() && digits.starts_with(|c: char| c.is_ascii_digit())
    });
    if second {
        return Err(RefusalKind::TwoFigures { text: text.to_owned() }.into());
    }
    Unit::parse(word).ok_or_else(|| RefusalKind::UnknownUnit { word: word.to_owned() }.into())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn taken(text: &str) -> String {
        match parse(text, Unit::Millimetre) {
            Ok(typed) => typed.figure.to_string(),
            Err(refusal) => refusal.kind.name(),
        }
    }

    #[test]
    fn people_type_figures_in_many_ways() {
        for (text, figure) in [
            ("0,05", "0.05 mm"),
            (".05", "0.05 mm"),
            ("0.05 mm", "0.05 mm"),
            ("50 um", "50 um"),
            ("50 µm", "50 um"),
            ("50um", "50 um"),
            ("2 thou", "2 thou"),
            (".002\"", "0.002 in"),
            ("0.002 in", "0.002 in"),
            (" 0.230 ", "0.230 mm"),
            ("-0,012", "-0.012 mm"),
            ("- .5", "-0.5 mm"),
            ("+3", "3 mm"),
            ("3 bar", "3 bar"),
            ("0.0000185 1/K", "0.0000185 1/K"),
            ("0,0000185 /K", "0.0000185 1/K"),
            ("18.5 um/m/K", "18.5 um/m/K"),
        ] {
            assert_eq!(taken(text), figure, "{text}");
        }
    }

    #[test]
    fn what_is_no_figure_is_refused_by_its_reason() {
        for (text, kind) in [
            ("", "Empty"),
            ("   ", "Empty"),
            ("5/100", "Division"),
            ("1,234.5", "Thousands"),
            ("1.2.3", "Thousands"),
            ("abc", "NotAFigure"),
            ("5.", "NotAFigure"),
            ("-", "NotAFigure"),
            ("1e3", "NotAFigure"),
            ("0x10", "NotAFigure"),
            ("1_000", "NotAFigure"),
            (".inf", "NotAFigure"),
            ("nan", "NotAFigure"),
            ("0.05 0.06", "TwoFigures"),
            ("0.05;0.06", "TwoFigures"),
            ("0.05 1", "TwoFigures"),
            ("0.05 mm 0.06 mm", "TwoFigures"),
            ("0.05 mm; .06", "TwoFigures"),
            ("0.05 1/2", "TwoFigures"),
            ("1/K", "Division"),
            ("0.05 furlong", "UnknownUnit"),
            ("5 mil", "UnknownUnit"),
            ("1234567890123456789", "TooManyDigits"),
        ] {
            assert_eq!(taken(text), kind, "{text}");
        }
        assert_eq!(taken(&"1".repeat(1_000_000)), "TooLong");
    }
}
