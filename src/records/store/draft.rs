//! What is half done and in no record yet: the place of the hand, half-typed fields, gauges and people, the answers of an
//! open form, remarks of a review that were not sent. Kept beside the record, or beside the rotors while an inspection is
//! being begun.

use std::path::{Path, PathBuf};

use crate::domain::entry::Late;
use crate::domain::id::Id;

use super::super::file::{self, Format};
use super::super::form::keys;
use super::super::paper::Kind;
use super::super::save_fault::SaveFault;
use super::super::words::{count, id, name, text, verbatim, yes_no};
use super::super::yaml::{Problems, parse};
use super::beside::LAST;
use super::{Store, folder};

/// Everything half done of one inspection.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Draft {
    /// Belongs to a demonstration.
    pub invented: bool,
    /// The step.
    pub step: String,
    /// The place, the point or the line on it.
    pub place: Option<String>,
    /// Every half-typed field.
    pub typed: Vec<HalfTyped>,
    /// The gauge chosen at a step.
    pub gauges: Vec<GaugeChosen>,
    /// Who reads, and stands for it.
    pub reads: Option<Id>,
    /// Who writes, where somebody else.
    pub writes: Option<Id>,
    /// While entries are copied from paper.
    pub late: Option<Late>,
    /// The open form.
    pub form: Option<HalfForm>,
    /// Forms that were left half answered.
    pub aside: Vec<LaidAside>,
    /// What must be seen before going on, and was not.
    pub notice: Option<Unseen>,
}

/// A notice that stood on the screen.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unseen {
    /// The entry that brought it about.
    pub entry: u32,
    /// Its title.
    pub title: String,
    /// What it says.
    pub lines: Vec<String>,
}

/// A field that nothing has been taken from yet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct HalfTyped {
    /// The step.
    pub step: String,
    /// The place, the point or the line on it.
    pub place: String,
    /// What is typed so far.
    pub text: String,
}

/// Which gauge is in hand at a step.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct GaugeChosen {
    /// The step.
    pub step: String,
    /// The gauge.
    pub gauge: Id,
}

/// A form half answered.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct HalfForm {
    /// Lines chosen from lists on the way to it.
    pub way: Vec<String>,
    /// The line that the hand is on, from 0.
    pub at: u32,
    /// Its answers as they stand, line by line.
    pub answers: Vec<String>,
}

/// A form that was left half answered, to be found when it is opened again.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LaidAside {
    /// The step on which it was left.
    pub step: String,
    /// Its title.
    pub title: String,
    /// Its answers.
    pub form: HalfForm,
}

/// What somebody who reviews a record has not sent yet.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct ReviewDraft {
    /// Remarks for the fitter.
    pub remarks: Vec<Unsent>,
    /// The open form.
    pub form: Option<HalfForm>,
}

/// A remark that was not sent yet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unsent {
    /// The line that it starts at, in words.
    pub line: String,
    /// The step that it is about.
    pub step: Option<String>,
    /// What is asked.
    pub text: String,
}

/// What is typed into a form and was not entered yet.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct HalfPaper {
    /// The cell that the hand was on at each place, the form itself first; a place is opened from the cell before.
    pub hands: Vec<HalfHand>,
}

/// The hand on one place of a form.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct HalfHand {
    /// The row, from 0.
    pub row: u32,
    /// The cell of the row, from 0.
    pub column: u32,
    /// What the row is called; none in what was kept before that was.
    pub of: Option<String>,
    /// Every cell that is half typed.
    pub typed: Vec<HalfCell>,
}

/// A cell of a form that nothing has been taken from yet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct HalfCell {
    /// The row, from 0.
    pub row: u32,
    /// The cell of the row, from 0.
    pub column: u32,
    /// What the row is called; none in what was kept before that was.
    pub of: Option<String>,
    /// What is typed so far.
    pub text: String,
}

keys! {
    fn draft -> Draft, Block {
        invented "invented" flag yes_no,
        step "step" need name,
        place "place" may text,
        typed "typed" list half_typed,
        gauges "gauges" list gauge_chosen,
        reads "reads" may id,
        writes "writes" may id,
        late "late" may late,
        form "form" may half_form,
        aside "aside" list laid_aside,
        notice "notice" may unseen,
    }

    fn late -> Late, Flow {
        taken "taken" need verbatim,
        sheet "sheet" may verbatim,
    }

    fn unseen -> Unseen, Block {
        entry "entry" need count,
        title "title" need verbatim,
        lines "lines" list verbatim,
    }

    fn half_typed -> HalfTyped, Block {
        step "step" need name,
        place "place" need text,
        text "text" need verbatim,
    }

    fn gauge_chosen -> GaugeChosen, Block {
        step "step" need name,
        gauge "gauge" need id,
    }

    fn review_draft -> ReviewDraft, Block {
        remarks "remarks" list unsent,
        form "form" may half_form,
    }

    fn unsent -> Unsent, Block {
        line "line" need verbatim,
        step "step" may name,
        text "text" need verbatim,
    }

    fn half_form -> HalfForm, Block {
        way "way" list verbatim,
        at "at" need count,
        answers "answers" list verbatim,
    }

    fn laid_aside -> LaidAside, Block {
        step "step" need name,
        title "title" need verbatim,
        form "form" need half_form,
    }

    fn half_paper -> HalfPaper, Block {
        hands "hands" list half_hand,
    }

    fn half_hand -> HalfHand, Block {
        row "row" need count,
        column "column" need count,
        of "of" may verbatim,
        typed "typed" list half_cell,
    }

    fn half_cell -> HalfCell, Flow {
        row "row" need count,
        column "column" need count,
        of "of" may verbatim,
        text "text" need verbatim,
    }
}

const DRAFT: Format<Draft> = Format { remark: "asfound draft: what is not entered yet", body: draft };
const BEGIN: Format<HalfForm> = Format { remark: "asfound draft: an inspection being begun", body: half_form };
const REVIEW: Format<ReviewDraft> = Format { remark: "asfound draft: a review, not sent yet", body: review_draft };
pub(super) const PAPER: Format<HalfPaper> =
    Format { remark: "asfound draft: what is typed into a form", body: half_paper };

impl Store {
    /// Keeps what is half done: it survives the end of this program, perhaps not a power cut.
    ///
    /// # Errors
    /// When the disk refuses.
    pub fn keep_draft(&self, record: &Path, draft: &Draft) -> Result<(), SaveFault> {
        self.keep(&self.folder_of(record).join("draft.yaml"), &file::write(&DRAFT, draft))
    }

    /// What is half done; none when there is none that can be read.
    pub fn draft(&self, record: &Path) -> Option<Draft> {
        self.kept(&self.folder_of(record).join("draft.yaml"), &DRAFT)
    }

    /// Keeps the answers with which an inspection is being begun; none when it has begun.
    ///
    /// # Errors
    /// When the disk refuses.
    pub fn keep_begin(&self, answers: Option<&HalfForm>) -> Result<(), SaveFault> {
        self.keep_or_drop(&self.root().join("begin.draft.yaml"), answers.map(|answers| file::write(&BEGIN, answers)))
    }

    /// The answers with which an inspection was being begun.
    pub fn begin_draft(&self) -> Option<HalfForm> {
        self.kept(&self.root().join("begin.draft.yaml"), &BEGIN)
    }

    /// Keeps what a review has not sent yet; none when nothing is left of it.
    ///
    /// # Errors
    /// When the disk refuses.
    pub fn keep_review(&self, record: &Path, draft: Option<&ReviewDraft>) -> Result<(), SaveFault> {
        self.keep_or_drop(&self.review_path(record), draft.map(|draft| file::write(&REVIEW, draft)))
    }

    /// What a review has not sent yet.
    pub fn review_draft(&self, record: &Path) -> Option<ReviewDraft> {
        self.kept(&self.review_path(record), &REVIEW)
    }

    /// Sets aside what lies beside a record and cannot be read, before its work goes on; what is to be said.
    pub fn set_unreadable_aside(&self, record: &Path) -> Vec<String> {
        let folder = self.folder_of(record);
        let note = self.aside(&folder.join("last.yaml"), &LAST);
        let note = note.map(|said| format!("{said} Whether entries are missing at the end cannot be told by it."));
        let draft = self.aside(&folder.join("draft.yaml"), &DRAFT);
        let draft = draft.map(|said| format!("{said} What was half typed stands in it."));
        note.into_iter().chain(draft).collect()
    }

    /// The same of what a review had not sent.
    pub fn set_unsent_aside(&self, record: &Path) -> Option<String> {
        let said = self.aside(&self.review_path(record), &REVIEW)?;
        Some(format!("{said} Remarks that were not sent stand in it."))
    }

    /// The same of an inspection that was being begun.
    pub fn set_begun_aside(&self) -> Option<String> {
        let said = self.aside(&self.root().join("begin.draft.yaml"), &BEGIN)?;
        Some(format!("{said} Answers of an inspection being begun stand in it."))
    }

    /// All that is wrong with what lies beside a record: what was half done, and the note of its last entry.
    pub(in crate::records) fn damaged_beside(&self, record: &Path) -> Problems {
        let folder = self.folder_of(record);
        let mut problems = self.damaged(&folder.join("draft.yaml"), &DRAFT);
        problems.join(self.damaged(&self.review_path(record), &REVIEW));
        problems.join(self.damaged(&folder.join("last.yaml"), &LAST));
        problems
    }

    /// The same of an inspection being begun, and of files that are half filled in.
    pub(in crate::records) fn damaged_drafts(&self) -> Problems {
        let mut problems = self.damaged(&self.root().join("begin.draft.yaml"), &BEGIN);
        for kind in Kind::ALL {
            let folder = self.root().join("drafts").join(kind.word());
            for path in folder::files(&folder, &["typed"]).unwrap_or_default() {
                problems.join(self.damaged(&path, &PAPER));
            }
            for path in folder::files(&folder, &["yaml"]).unwrap_or_default() {
                let bytes = self.bytes_if_there(&path).filter(|bytes| !bytes.is_empty());
                let read = bytes.map(|bytes| parse(&self.name_of(&path), &bytes));
                problems.join(read.and_then(Result::err).unwrap_or_default());
            }
        }
        problems
    }

    /// Of an empty file, which a power cut may leave, nothing is lost.
    fn damaged<T>(&self, path: &Path, format: &Format<T>) -> Problems {
        let bytes = self.bytes_if_there(path).filter(|bytes| !bytes.is_empty());
        let read = bytes.map(|bytes| file::read(format, &self.name_of(path), &bytes));
        read.and_then(Result::err).unwrap_or_default()
    }

    fn review_path(&self, record: &Path) -> PathBuf {
        self.folder_of(record).join("review.draft.yaml")
    }

    fn keep_or_drop(&self, path: &Path, text: Option<String>) -> Result<(), SaveFault> {
        match text {
            Some(text) => self.keep(path, &text),
            None if matches!(self.disk.read(path), Ok(None)) => Ok(()),
            None => {
                let gone = self.disk.remove(path);
                gone.map_err(|source| SaveFault::Disk { doing: "taking away", path: path.to_owned(), source })
            }
        }
    }
}
