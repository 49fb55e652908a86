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
            Self::Text(text) if text.chars().count() > 40 => {
                format!("`{}...`", text.chars().take(40).collect::<String>())
            }
            Self::Text(text) => format!("`{text}`"),
            Self::List(items) => format!("a list of {}", items.len()),
            Self::Map(entries) => format!("a map of {} keys", entries.len()),
        }
    }
}
