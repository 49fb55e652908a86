//! Who watches somebody who still learns, and whether anybody but the learner says so.

use std::fmt;

use super::entitled;
use super::entry::Act;
use super::id::Id;
use super::inspection::Inspection;
use super::person::Person;
use super::standing::covers;
use super::telling::name_of;

/// Who watches whoever signs. As text it stands behind that name: ` (trainee, fitter C watches)`, or nothing.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Watch {
    /// Whoever signs has learnt it.
    NotNeeded,
    /// A trainee has named nobody.
    Nobody,
    /// A trainee has named somebody, who has neither typed it nor signed what came after it, or whom nobody knew when the job
    /// began.
    Claimed(String),
    /// Somebody has named himself or herself too, or has signed or countersigned since.
    By(String),
}

impl Watch {
    /// Over a signer, by the entries before `number`.
    pub fn over(inspection: &Inspection, signer: &Id, number: u32) -> Self {
        if !inspection.person(signer).is_some_and(Person::is_learning) {
            return Self::NotNeeded;
        }
        let before = inspection.standing_entries().filter(|entry| entry.number < number);
        let named: Vec<_> = before
            .filter_map(|entry| if let Act::Mentor { mentor } = &entry.act { Some((entry, mentor)) } else { None })
            .collect();
        let may = |mentor: &Id| !mentor.same_as(signer) && entitled::watches(inspection, mentor).is_ok();
        let last = named.iter().rev().find(|(entry, mentor)| entry.by.same_as(signer) && may(mentor));
        let Some((entry, mentor)) = last else { return Self::Nobody };
        let known = inspection.head().people.iter().any(|one| one.id.same_as(mentor));
        let typed = entry.writer.as_ref().is_some_and(|writer| writer.same_as(mentor))
            || named.iter().any(|(entry, of)| entry.by.same_as(mentor) && of.same_as(mentor));
        let signed = || inspection.counted_entries().any(|one| covers(one, entry.number) && one.doer().same_as(mentor));
        let name = name_of(inspection, mentor);
        if known && (typed || signed()) { Self::By(name) } else { Self::Claimed(name) }
    }

    /// `trainee, fitter C watches`; none where nobody needs to.
    pub fn words(&self) -> Option<String> {
        match self {
            Self::NotNeeded => None,
            Self::Nobody => Some("trainee, no mentor".to_owned()),
            Self::Claimed(name) => Some(format!("trainee, {name} watching only claimed")),
            Self::By(name) => Some(format!("trainee, {name} watches")),
        }
    }
}

impl fmt::Display for Watch {
    fn fmt(&self, page: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.words().map_or(Ok(()), |words| write!(page, " ({words})"))
    }
}
