//! What somebody sees who was not there: the first page, then everything part by part. Reading changes nothing.
//!
//! Page 1 answers: will it last, what must I decide, is it closed; each part that is not within, with what made it so;
//! how sure it is, what is missing or unusual. Every further line opens to its working and its entries.

mod brief;
mod counted;
mod evidence;
mod first;
mod job;
mod kept;
mod lasts;
mod lists;
mod part;
mod remarked;
mod scope;
mod second;
mod signed;
mod waits;

use super::inspection::Inspection;
use super::pattern::{self, Pattern};
use super::standing::Standing;
use super::verdict::Disposition;

pub use counted::claim_words;
pub use evidence::level_lines;
pub use first::signature_words;
pub use kept::{Kept, Photos, key_words, warnings};
pub use lists::{Lists, job_held, lists};
pub use scope::{LEFT_OUT, NOT_JUDGED, left_out_in_words, not_judged_in_words, unjudged_lists};
pub use signed::{Cause, Changed, Difference, differences, graver, since, that_counts};
pub use waits::{Wait, awaited, unsigned_claims, waits};

/// How a sentence of the first page is meant.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Tenor {
    /// Nothing to do.
    Good,
    /// To be watched, or not known.
    Watch,
    /// Something must be done.
    Bad,
}

/// A sentence of the first page.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Said {
    /// How it is meant.
    pub tenor: Tenor,
    /// The words.
    pub text: String,
}

/// A part that is not within.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PartLine {
    /// Its id.
    pub part: String,
    /// Its name in tables.
    pub short: String,
    /// What to do with it.
    pub disposition: Disposition,
    /// The same, sign and word: what is held open is never called reuse.
    pub headline: (char, &'static str),
    /// Every hold, sign and word, the gravest first; none when it may be closed.
    pub holds: Vec<(char, String)>,
    /// What made it so, each short: decisions that stand, what holds it, then the gravest first.
    pub made_so: Vec<String>,
    /// The first so many of them are said wherever the part is, and never only counted.
    pub foremost: usize,
    /// Remarks at its steps that nobody has answered.
    pub sent_back: usize,
    /// The step of the gravest of them; a remark on the part starts there.
    pub step: Option<String>,
    /// The page that says everything about it, as an index into [`Review::pages`].
    pub page: usize,
}

/// One number of the first page, with what it counts.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Count {
    /// Its name.
    pub name: &'static str,
    /// How many.
    pub number: usize,
    /// Which, each in words.
    pub which: Vec<String>,
}

/// A line of a further page.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Item {
    /// The sign before it.
    pub sign: char,
    /// The line.
    pub text: String,
    /// The step it is about; a remark that starts here reopens that step.
    pub step: Option<String>,
    /// The part it is about.
    pub part: Option<String>,
    /// What a concession on it is about: a characteristic's id, or a finding's entry number.
    pub about: Option<String>,
    /// Remarks on it that nobody has answered.
    pub sent_back: usize,
    /// What it opens to: working, level, readings as typed, who, when. Struck ones are struck through by sign.
    pub evidence: Vec<String>,
}

impl Item {
    /// A line that is about the record as a whole.
    pub(in crate::domain::review) fn plain(sign: char, text: String, evidence: Vec<String>) -> Self {
        Self { sign, text, step: None, part: None, about: None, sent_back: 0, evidence }
    }

    /// Its words; that it was sent back stands first, where no narrow column cuts it.
    pub fn said(&self) -> String {
        let sent_back = if self.sent_back > 0 { "(sent back) " } else { "" };
        format!("{sent_back}{}", self.text)
    }
}

/// A further page.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Page {
    /// Its heading.
    pub title: String,
    /// The part, where it is one's.
    pub part: Option<String>,
    /// Its lines.
    pub items: Vec<Item>,
}

/// Everything that a review shows.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Review {
    /// What must be known before it is believed: changed outside, its end missing. Never scrolled away.
    pub warnings: Vec<String>,
    /// Will it last?
    pub lasts: Said,
    /// What must I decide? Empty when nothing waits.
    pub decide: Vec<String>,
    /// Is it closed?
    pub closed: Said,
    /// Parts that are not within, gravest first.
    pub lines: Vec<PartLine>,
    /// Parts that are within, by their names in tables.
    pub within: Vec<String>,
    /// How sure it is.
    pub sure: Vec<Count>,
    /// What is missing or unusual.
    pub unusual: Vec<Count>,
    /// Patterns worth a second look.
    pub patterns: Vec<Pattern>,
    /// Where today's reckoning differs from what was signed.
    pub differences: Vec<Difference>,
    /// Where entries after the last signature have changed what was signed.
    pub since: Vec<Difference>,
    /// What to look at first, what to order, refer and measure, then every part, then the job as a whole.
    pub pages: Vec<Page>,
}

impl Review {
    /// Everything about the inspection as it stands.
    pub fn of(inspection: &Inspection, standing: &Standing, kept: &Kept) -> Self {
        let warnings = warnings(inspection, kept);
        let photos = &kept.photos;
        let patterns = pattern::patterns(inspection, standing, kept.before.as_deref());
        let (differences, since) = (differences(inspection), since(inspection, standing));
        let (sure, unusual) = counted::counts(inspection, standing, &patterns);
        let decide = first::decide((inspection, kept), standing, (&differences, &since));
        let counts = [sure.as_slice(), unusual.as_slice()];
        let mut pages = vec![
            second::page((inspection, standing), (&warnings, &decide), (&differences, &since, &patterns), counts),
            lists::page(inspection, standing),
        ];
        pages.extend(part::pages(inspection, standing, photos));
        pages.push(job::page(inspection, standing, photos));
        Self {
            warnings,
            lasts: lasts::lasts(inspection, standing),
            closed: first::closed((inspection, kept), standing),
            lines: first::lines(inspection, standing, &pages),
            within: first::within(standing),
            decide,
            sure,
            unusual,
            patterns,
            differences,
            since,
            pages,
        }
    }

    /// What a concession can be about: lines of what was referred, or leads to more than to be watched, each once.
    pub fn referred(&self) -> impl Iterator<Item = &Item> {
        let lines = self.pages.iter().filter(|page| page.part.is_some()).flat_map(|page| &page.items);
        lines.filter(|item| item.about.is_some() && item.part.is_some())
    }
}
