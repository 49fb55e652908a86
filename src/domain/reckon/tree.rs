//! What a reckoning is given, before anything is known about it: texts, lists and maps, as words, YAML or JSON hold them.

/// A text as written, a list, or a map in its order.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Tree {
    /// A scalar, exactly as written.
    Text(String),
    /// `[a, b]`.
    List(Vec<Tree>),
    /// `{key: value}`; a key may stand twice, [`super::shape`] refuses it.
    Map(Vec<(String, Tree)>),
}

impl Tree {
    /// A scalar.
    pub fn text(text: impl Into<String>) -> Self {
        Self::Text(text.into())
    }

    /// How a refusal shows it: the text itself, or its kind.
    pub fn shown(&self) -> String {
        match self {
            Self::Text(text) if text.trim().is_empty() => "nothing".to_owned(),
            Self::Text(text) => format!("`{}`", short(text)),
            Self::List(items) => format!("a list of {}", items.len()),
            Self::Map(entries) => format!("a map of {} keys", entries.len()),
        }
    }
}

/// The text cut to what fits in a line; control characters, which would move the cursor, as escapes.
pub(super) fn short(text: &str) -> String {
    const LONGEST: usize = 40;
    let mut shown: String = text
        .chars()
        .take(LONGEST)
        .flat_map(|letter| if letter.is_control() { letter.escape_default().collect() } else { vec![letter] })
        .collect();
    if text.chars().nth(LONGEST).is_some() {
        shown.push_str("...");
    }
    shown
}
