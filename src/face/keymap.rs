//! From a key to an action, and from the table to the footer, the help screen and the page in the docs.

use super::action::{ACTIONS, Action, Row, Scope};
use super::input::Key;
use super::typing::BURST;

/// What `key` does in `scope`.
pub fn action(scope: Scope, key: Key) -> Option<Action> {
    rows(scope).find(|row| row.press.is(key)).map(|row| row.action)
}

/// The rows of the table for `scope`.
pub fn rows(scope: Scope) -> impl Iterator<Item = &'static Row> {
    ACTIONS.iter().filter(move |row| row.scopes.contains(&scope))
}

/// Key and word of everything that the footer of `scope` shows.
pub fn footer(scope: Scope) -> Vec<(&'static str, &'static str)> {
    let shown = rows(scope).filter(|row| !row.footer.is_empty());
    // "digit  digit" would say nothing: the digit stands with Enter's word
    shown.filter(|row| row.action != Action::Digit).map(|row| (row.press.name(), row.footer)).collect()
}

/// Columns of the footer with `gap` blanks between its parts, the margin included.
pub fn columns(scope: Scope, gap: usize) -> usize {
    let parts = footer(scope);
    let text: usize = parts.iter().map(|(key, word)| key.len() + word.len() + 1).sum();
    1 + text + gap * parts.len().saturating_sub(1)
}

/// The page on the keys, as kept in the docs.
pub fn page() -> String {
    let mut page = format!(
        "# Keys\n\n\
         Made from the table in `src/face/action.rs`; `cargo test` compares the two.\n\n\
         The field owns every printable key. A question is answered by arrows and Enter alone. Keys less than {BURST} ms\n\
         apart are a gauge with a cable: they and their Enter go into the field or nowhere. Enter as close behind an arrow\n\
         chooses nothing: nobody has read what it would choose.\n",
    );
    for scope in Scope::ALL {
        page.extend(["\n## ", scope.title(), "\n\n", &table(scope)]);
    }
    page
}

/// The keys of one kind of screen, as the page and the README list them.
pub fn table(scope: Scope) -> String {
    let rows = rows(scope).map(|row| format!("| {} | {} |\n", row.press.name(), row.help));
    format!("| key | does |\n|---|---|\n{}", rows.collect::<String>())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_footer_fits_in_80_columns() {
        for scope in Scope::ALL {
            let columns = columns(scope, 2);
            assert!(columns <= 80, "{scope:?}: {columns}");
        }
    }
}
