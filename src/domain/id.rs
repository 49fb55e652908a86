//! Names that things are known by: short, plain, unique without case.

use std::fmt;
use std::str::FromStr;

use super::refusal::{Refusal, RefusalKind};

/// The longest id, in characters.
const LONGEST: usize = 40;

/// The id of a rotor, person, instrument, sheet or checklist: 1 to 40 of `A-Z a-z 0-9 . _ -`.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Id(String);

impl Id {
    /// The id as written.
    pub fn as_str(&self) -> &str {
        &self.0
    }

    /// Whether both name the same thing: case does not count, some disks do not keep it.
    pub fn same_as(&self, other: &Self) -> bool {
        self.0.eq_ignore_ascii_case(&other.0)
    }
}

impl FromStr for Id {
    type Err = Refusal;

    fn from_str(text: &str) -> Result<Self, Refusal> {
        let fits = (1..=LONGEST).contains(&text.len());
        let plain = text.bytes().all(|byte| byte.is_ascii_alphanumeric() || b"._-".contains(&byte));
        // `.` and `..` would name a folder
        if fits && plain && !text.bytes().all(|byte| byte == b'.') {
            Ok(Self(text.to_owned()))
        } else {
            Err(RefusalKind::BadId { text: text.chars().take(LONGEST).collect() }.into())
        }
    }
}

impl fmt::Display for Id {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(&self.0)
    }
}
