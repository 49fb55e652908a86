//! Signatures, returns and countersignatures: which of them stand.

use std::collections::BTreeSet;

use super::checklist::{Signing, Step, Takes};
use super::entry::{Act, Entry, Remark, Signature, SignedVerdict};
use super::gate::sign_step;
use super::id::Id;
use super::inspection::Inspection;
use super::standing::{Standing, hold_words};
use super::telling::{counted, hands_of};
use super::verdict::Disposition;

/// A signature that waits for its countersignature.
pub const PENDING: &str = "countersign pending ashore";

/// A close behind which somebody has gone on.
pub const GONE_ON: &str = "went on after the close: to look at, and to be signed again";

/// The same of its papers.
pub const SIGN_AGAIN: &str = "entries came after the close: they count for papers once it is signed again";

/// Whether what was signed is still all there is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Signed {
    /// Nothing of weight came after it.
    Whole,
    /// Entries came after it: they count for papers only when signed again.
    Grown,
}

/// What the files say of the record up to here.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Seal {
    /// Bytes of the record before the signature.
    pub length: u64,
    /// SHA-256 of those bytes, hexadecimal.
    pub sha256: String,
    /// Photos that are not there as they were taken, in words each.
    pub lost: Vec<String>,
}

impl SignedVerdict {
    /// What becomes of the part by it: one on which nothing was judged is left as it is.
    pub fn decided(&self) -> Disposition {
        self.disposition.unwrap_or(Disposition::Reuse)
    }
}

/// The signature that `what` asks for: every part as it stands, every picture, and what is carried on by name.
pub fn signature(inspection: &Inspection, what: Signing, (seal, carried): (&Seal, &[String])) -> Signature {
    let standing = Standing::of(inspection);
    let verdicts = standing.parts.iter().map(|part| SignedVerdict {
        part: part.id.clone(),
        disposition: part.decided(),
        holds: part.verdict.holds.iter().map(hold_words).collect(),
    });
    let photos = inspection.standing_entries().flat_map(|entry| entry.deed().photos());
    Signature {
        what,
        length: seal.length,
        sha256: seal.sha256.clone(),
        standing: verdicts.collect(),
        photos: photos.map(|photo| photo.hash.clone()).collect(),
        carried: carried.to_vec(),
    }
}

/// The last signature of this sort that was not sent back since.
pub fn standing_signature(inspection: &Inspection, what: Signing) -> Option<&Entry> {
    let entry = last_signature(inspection, what)?;
    sent_back(inspection, entry.number).is_none().then_some(entry)
}

/// The signatures that stand, the decisions before the close.
pub fn standing_signatures(inspection: &Inspection) -> impl Iterator<Item = &Entry> {
    let both = [Signing::Decisions, Signing::Close].into_iter();
    both.filter_map(|what| standing_signature(inspection, what))
}

/// What the decisions that stand say is done with a part; none before they are signed, or where they do not name it.
pub fn decided(inspection: &Inspection, part: &str) -> Option<Disposition> {
    let Act::Sign(signature) = &standing_signature(inspection, Signing::Decisions)?.act else { return None };
    signature.standing.iter().find(|signed| signed.part == part).map(SignedVerdict::decided)
}

/// The entry that sent a signature back.
pub fn sent_back(inspection: &Inspection, sign: u32) -> Option<&Entry> {
    inspection.entries_of_signatures().find(|later| matches!(later.deed(), Act::Return { sign: of, .. } if *of == sign))
}

/// What every screen of the record says while a countersignature is awaited; it blocks nothing.
pub fn pending_in_words(inspection: &Inspection, strange: &BTreeSet<u32>) -> Option<&'static str> {
    (!pending_here(inspection, strange).is_empty()).then_some(PENDING)
}

/// The same, and that it was sent back while a remark has no answer.
pub fn state_in_words(inspection: &Inspection, strange: &BTreeSet<u32>) -> Option<&'static str> {
    match (open_remarks(inspection).is_empty(), pending_in_words(inspection, strange)) {
        (true, pending) => pending,
        (false, None) => Some("sent back"),
        // the countersignature that is awaited is of the other signature
        (false, Some(_)) => Some("sent back, countersign pending ashore"),
    }
}

/// Remarks at a step that nobody has answered: they open it again.
pub fn remarks_at<'a>(inspection: &'a Inspection, step: &str) -> Vec<(u32, u32, &'a Remark)> {
    let mut open = open_remarks(inspection);
    open.retain(|(_, _, remark)| remark.step.as_deref() == Some(step));
    open
}

/// Remarks on the record as a whole that nobody has answered, as far as `what` was sent back with them.
pub fn remarks_on_all(inspection: &Inspection, what: Option<Signing>) -> Vec<(u32, &Remark)> {
    let open = open_remarks(inspection).into_iter().filter(|(_, _, remark)| remark.step.is_none());
    let open = open.filter(|(entry, ..)| what.is_none() || returned(inspection, *entry) == what);
    open.map(|(entry, _, remark)| (entry, remark)).collect()
}

/// Which of the two signatures a return sent back.
fn returned(inspection: &Inspection, entry: u32) -> Option<Signing> {
    let Act::Return { sign, .. } = inspection.entry(entry)?.deed() else { return None };
    let Act::Sign(signature) = &inspection.entry(*sign)?.act else { return None };
    Some(signature.what)
}

/// The first step, in the order of the remarks, that a remark without an answer names.
pub fn remarked_step(inspection: &Inspection) -> Option<&str> {
    open_remarks(inspection).into_iter().find_map(|(_, _, remark)| remark.step.as_deref())
}

/// The step of the signature that was sent back last, while remarks on it have no answer.
pub fn returned_step(inspection: &Inspection) -> Option<&str> {
    let (entry, ..) = open_remarks(inspection).pop()?;
    sign_step(inspection, returned(inspection, entry)?).map(|step| step.id.as_str())
}

/// `came back from supervisor B: 2 remarks`; none when every remark is answered.
pub fn came_back(inspection: &Inspection) -> Option<String> {
    let open = open_remarks(inspection);
    let (entry, ..) = open.last()?;
    let who = inspection.entry(*entry).map(|entry| hands_of(inspection, entry)).unwrap_or_default();
    Some(format!("came back from {who}: {} to answer", counted(open.len(), "remark")))
}

/// The last signature of this sort, sent back or not.
pub fn last_signature(inspection: &Inspection, what: Signing) -> Option<&Entry> {
    let of_it = |entry: &&Entry| matches!(&entry.act, Act::Sign(signature) if signature.what == what);
    inspection.entries_of_signatures().rev().find(of_it)
}

/// Whether a step is a signature behind which entries came: it is signed again there.
pub fn is_to_sign_again(inspection: &Inspection, step: &Step) -> bool {
    let Takes::Sign(what) = step.takes else { return false };
    standing_signature(inspection, what).is_some_and(|sign| grown_since(inspection, sign) == Signed::Grown)
}

/// Whether it is about a signature, or about what stands under one.
pub(super) fn is_about(deed: &Act) -> bool {
    matches!(
        deed,
        Act::Sign(_)
            | Act::Return { .. }
            | Act::RemarkAnswered { .. }
            | Act::Countersign { .. }
            | Act::SeenOutside { .. }
    )
}

/// Whether entries that change the standing came after this signature.
pub fn grown_since(inspection: &Inspection, sign: &Entry) -> Signed {
    let later = inspection.entries().iter().rev().take_while(|entry| entry.number > sign.number);
    // who comes back, or is introduced, has changed nothing yet
    let weighs = |entry: &&Entry| !is_about(entry.deed()) && !matches!(entry.deed(), Act::Resume | Act::Person(_));
    let mut weighty = later.filter(weighs);
    let grown = weighty.next().is_some() || is_shaken(inspection, sign.number);
    if grown { Signed::Grown } else { Signed::Whole }
}

/// Whether a record was closed, and somebody has gone on with it since.
pub fn gone_on(inspection: &Inspection) -> bool {
    let close = standing_signature(inspection, Signing::Close);
    close.is_some_and(|close| grown_since(inspection, close) == Signed::Grown)
}

/// The entry in which somebody says that bytes under this signature were changed after it was given: what stands there
/// now is not what was signed. Line ends alone change nothing that was signed.
pub fn shaken(inspection: &Inspection, sign: u32) -> Option<&Entry> {
    let under = |later: &&Entry| matches!(&later.act, Act::SeenOutside { from: Some(from), .. } if *from <= sign);
    inspection.entries_of_signatures().filter(|later| later.number > sign).find(under)
}

/// From which entry on the bytes under this signature were changed, its own at the latest, and the entry that says so; none
/// where so far only the file shows it.
pub fn shaken_from(inspection: &Inspection, sign: u32) -> Option<(u32, Option<u32>)> {
    let seen = inspection.entries_of_signatures().filter_map(|entry| {
        let Act::SeenOutside { from: Some(from), .. } = &entry.act else { return None };
        Some((*from, entry.number))
    });
    let seen: Vec<_> = seen.collect();
    // whoever signs after somebody has said it signs what stands there now
    let known = |changed: u32| seen.iter().any(|(from, by)| (*from..*by).contains(&changed) && *by < sign);
    let after = seen.iter().filter(|(from, by)| *from <= sign && *by > sign).min();
    let shown = || inspection.ledger().changed.range(..=sign).copied().find(|changed| !known(*changed));
    after.map(|(from, by)| (*from, Some(*by))).or_else(|| Some((shown()?, None)))
}

/// Whether the bytes under this signature were changed after it was given: nothing good rests on it.
pub fn is_shaken(inspection: &Inspection, sign: u32) -> bool {
    shaken_from(inspection, sign).is_some()
}

/// Whether anything but its line ends was changed outside, seen by somebody since or not.
pub fn is_changed_outside(inspection: &Inspection) -> bool {
    let said = |entry: &Entry| matches!(entry.act, Act::SeenOutside { from: Some(_), .. });
    !inspection.ledger().changed.is_empty() || inspection.entries_of_signatures().any(said)
}

/// The countersignature of a sign entry.
pub fn countersigned(inspection: &Inspection, sign: u32) -> Option<&Entry> {
    countersignatures(inspection, sign).next()
}

fn countersignatures(inspection: &Inspection, sign: u32) -> impl Iterator<Item = &Entry> {
    let of_it = move |entry: &&Entry| matches!(entry.deed(), Act::Countersign { sign: of, .. } if *of == sign);
    inspection.entries_of_signatures().filter(of_it)
}

/// Whether this supervisor has countersigned it; another one may do so besides.
pub fn has_countersigned(inspection: &Inspection, sign: u32, by: &Id) -> bool {
    countersignatures(inspection, sign).any(|entry| entry.doer().same_as(by))
}

/// The countersignature of a sign entry that only somebody whom this machine does not know has given: it still waits.
/// `strange` are the entries of such people.
pub fn strangely_countersigned<'a>(
    inspection: &'a Inspection,
    sign: u32,
    strange: &BTreeSet<u32>,
) -> Option<&'a Entry> {
    let first = countersigned(inspection, sign)?;
    countersignatures(inspection, sign).all(|entry| strange.contains(&entry.number)).then_some(first)
}

/// Signatures that stand and wait for a countersignature here: those that have none, those that only a stranger has given one,
/// and those under which the record was changed since. They block nothing, and every screen shows them.
pub fn pending_here<'a>(inspection: &'a Inspection, strange: &BTreeSet<u32>) -> Vec<&'a Entry> {
    let waits = |entry: &&Entry| {
        countersigned(inspection, entry.number).is_none()
            || strangely_countersigned(inspection, entry.number, strange).is_some()
            || is_shaken(inspection, entry.number)
    };
    standing_signatures(inspection).filter(waits).collect()
}

/// Remarks of returns that nobody has answered: the return's entry, the remark's number from 1, the remark.
/// They stay in the record when they are answered.
pub fn open_remarks(inspection: &Inspection) -> Vec<(u32, u32, &Remark)> {
    let answered = |entry: u32, remark: u32| {
        inspection.entries_of_signatures().any(|later| {
            matches!(later.deed(), Act::RemarkAnswered { entry: of, remark: which, .. } if *of == entry && *which == remark)
        })
    };
    let mut open = Vec::new();
    for entry in inspection.entries_of_signatures() {
        let Act::Return { remarks, .. } = entry.deed() else { continue };
        let numbered = (1_u32..).zip(remarks);
        open.extend(
            numbered
                .filter(|(number, _)| !answered(entry.number, *number))
                .map(|(number, remark)| (entry.number, number, remark)),
        );
    }
    open
}
