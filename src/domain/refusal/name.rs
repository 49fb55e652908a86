//! What each kind of refusal is called by programs and tests.

use super::RefusalKind;

impl RefusalKind {
    /// The kind's name, for programs and tests.
    pub fn name(&self) -> String {
        let written = format!("{self:?}");
        written.chars().take_while(char::is_ascii_alphanumeric).collect()
    }
}
