//! Entries brought in from another copy: which may come along, and what they count for.
//!
//! A brought entry holds the bytes of the original. It counts as if the original stood in its place, by the hand that
//! made it there; its own number is the one that later entries name.

use super::entry::{Act, Entry};
use super::id::Id;
use super::inspection::Inspection;
use super::stamp::Stamp;
use super::telling::name_of;

impl Entry {
    /// What it counts as: for a brought entry the original's act, where that kind may come along.
    pub fn deed(&self) -> &Act {
        self.original().map_or(&self.act, |original| &original.act)
    }

    /// Who did it: for a brought entry who made the original.
    pub fn doer(&self) -> &Id {
        self.original().map_or(&self.by, |original| &original.by)
    }

    /// When it was done: for a brought entry when the original was made.
    pub fn done_at(&self) -> Stamp {
        self.original().map_or(self.at, |original| original.at)
    }

    /// The chain value that it had where it was brought from.
    pub fn brought_chain(&self) -> Option<&str> {
        if let Act::Brought { chain, .. } = &self.act { Some(chain) } else { None }
    }

    /// The first entry that its hand had not seen: its own number, and for a brought entry what came here after the
    /// copies parted. A record of before that did not say where they parted cannot know better than the number there.
    pub fn unseen(&self) -> u32 {
        let Act::Brought { after, entry: Some(original), .. } = &self.act else { return self.number };
        after.map_or(original.number, |after| after.saturating_add(1)).min(self.number)
    }

    /// The original of a brought entry, where it counts.
    pub fn original(&self) -> Option<&Entry> {
        let Act::Brought { entry: Some(original), .. } = &self.act else { return None };
        let counts = may_come_along(&original.act);
        counts.then_some(original.as_ref())
    }
}

impl Inspection {
    /// The entry by which one of this chain value was brought here.
    pub fn brought_as(&self, chain: &str) -> Option<&Entry> {
        self.entries().iter().find(|entry| entry.brought_chain() == Some(chain))
    }
}

/// Whether an entry may be taken over where both copies went on: it names what it is about, so that nothing which
/// came between changes what it means. A person who is introduced comes along with what that person did.
pub fn may_come_along(act: &Act) -> bool {
    matches!(
        act,
        Act::Countersign { .. }
            | Act::Return { .. }
            | Act::RemarkAnswered { .. }
            | Act::Concession { .. }
            | Act::Answer { .. }
            | Act::Person(_)
            // turned line ends change nothing, and who came back there is nobody here: what was done behind them rests on
            // their entries
            | Act::SeenOutside { from: None, .. }
            | Act::Resume
    )
}

/// The highest entry that such an act is about; what it names must stand in both copies.
pub fn names(act: &Act) -> Option<u32> {
    if let Act::Countersign { sign: entry, .. }
    | Act::Return { sign: entry, .. }
    | Act::RemarkAnswered { entry, .. }
    | Act::Answer { entry, .. } = act
    {
        return Some(*entry);
    }
    if let Act::Concession { about, .. } = act {
        // a concession is about a characteristic by its id, or about a finding by its entry
        return about.parse().ok();
    }
    None
}

/// The two answers to one remark, where one of `theirs` would be the second, and who decides between them.
pub fn answered_twice(inspection: &Inspection, theirs: &Entry) -> Option<String> {
    let Act::RemarkAnswered { entry, remark, text: there } = &theirs.act else { return None };
    inspection.entries().iter().find_map(|mine| {
        let Act::RemarkAnswered { entry: of, remark: which, text: here } = mine.deed() else { return None };
        let sent = inspection.entry(*entry).filter(|_| (of, which) == (entry, remark))?;
        let [sender, my, their] = [sent, mine, theirs].map(|one| name_of(inspection, one.doer()));
        Some(format!(
            "Remark {remark} of entry {entry} has two answers: here `{here}`, by {my}, entry {}; there `{there}`, by {their}. {sender}, who sent it back, decides which of them stands: go on with that file, and write the other answer into it as a note.",
            mine.number
        ))
    })
}
