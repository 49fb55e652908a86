//! What an answer means: a figure, a day, an id, or why it is none.

use chrono::NaiveDate;

use crate::domain::entitled::reasoned;
use crate::domain::figure::Figure;
use crate::domain::id::Id;
use crate::domain::refusal::{Refusal, RefusalKind};
use crate::domain::stamp;
use crate::domain::typed;
use crate::domain::unit::Unit;

use super::{Reply, Stop};

/// A refusal of what stands in a field.
pub fn refused(refusal: &Refusal) -> String {
    if refusal.kind == RefusalKind::Empty {
        // a dialogue has no list of what else
        return super::NOTHING.to_owned();
    }
    format!("{} {}", refusal.kind.what(), refusal.kind.mend())
}

/// A figure in `unit` or a like one.
pub fn figure(unit: Unit) -> impl Fn(&str) -> Result<Figure, String> {
    move |text| {
        let typed = typed::parse(text, unit).map_err(|refusal| refused(&refusal))?;
        if typed.figure.dimension() == unit.dimension() {
            return Ok(typed.figure);
        }
        let (is, wanted) = (typed.figure.dimension().word(), unit.dimension().word());
        Err(refused(&RefusalKind::OtherDimension { figure: typed.figure, is, wanted }.into()))
    }
}

/// A day.
///
/// # Errors
/// Why it is none.
pub fn day(text: &str) -> Result<NaiveDate, String> {
    stamp::day(text).map_err(|refusal| refused(&refusal))
}

/// Words that answer other questions: where lines come from a file, one too many slips into the next.
const NO_NAME: [&str; 9] = ["yes", "no", "later", "none", "not here", "not yet", "again", "insist", "leave"];

/// A name or a number that stands on something, and no word that answers another question.
///
/// # Errors
/// It is such a word.
pub fn named(text: &str) -> Result<&str, String> {
    if NO_NAME.iter().any(|word| word.eq_ignore_ascii_case(text)) {
        return Err(format!("`{text}` names nothing. It is wanted now, as it is called here."));
    }
    Ok(text)
}

/// An id.
///
/// # Errors
/// Why it is none.
pub fn id(text: &str) -> Result<Id, String> {
    named(text)?.parse::<Id>().map_err(|refusal| refused(&refusal))
}

/// What gives a reason, or that it gives none.
pub(super) fn says_why(typed: &str) -> Reply<String> {
    if reasoned(typed).is_err() {
        return Err(Stop::Wrong(format!("`{typed}` gives no reason. Say it in a few words.")));
    }
    Ok(typed.to_owned())
}
