//! What a file says that it is.

use std::path::Path;

use crate::records::yaml::{Node, What};

/// What a file may be.
pub(super) enum Kind {
    Record,
    Order,
    Group,
    Checklist,
    Sheet,
    Instrument,
    People,
    Rotor,
    Settings,
    Unknown,
}

/// What a file is, by its keys; the key that names it wins over those that it shares with others.
/// Settings have no such key: where no other says otherwise, they are what bears their name.
pub(super) fn kind_of(tree: &Node, path: &Path) -> Kind {
    let What::Map(_, pairs) = &tree.what else { return Kind::Unknown };
    let has = |key: &str| pairs.iter().any(|(known, _)| known.text == key);
    let first = |keys: &[&str]| keys.iter().any(|key| has(key));
    match () {
        () if first(&["inspection", "entries"]) => Kind::Record,
        () if has("group") => Kind::Group,
        () if has("checklist") && has("groups") => Kind::Order,
        () if has("checklist") => Kind::Checklist,
        () if has("sheet") => Kind::Sheet,
        () if has("instrument") => Kind::Instrument,
        () if has("rotor") => Kind::Rotor,
        () if has("people") => Kind::People,
        () if first(&["decimal mark", "break hours", "paper", "photos"]) => Kind::Settings,
        () if path.file_name().is_some_and(|name| name == "settings.yaml") => Kind::Settings,
        () => Kind::Unknown,
    }
}

/// What was found where a file says nothing of what it is, and how to mend it.
pub(super) fn unknown(tree: &Node) -> (String, &'static str) {
    match &tree.what {
        What::Map(..) => ("no key that says what the file is".to_owned(), "Put it behind `format: 1`."),
        What::List(..) | What::Text(..) => (tree.said(), "Begin with `format: 1`, then write each as `key: value`."),
    }
}
