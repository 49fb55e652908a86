//! Takes in a copy of a record that went on elsewhere: a stick that comes back, a supervisor's answer from ashore.
//!
//! A copy that continues mine is taken in whole. Where both went on, what names the entry it is about is appended as
//! `brought` entries; if anything else differs, the first such entry is named, both are kept and nothing changes.

mod along;
mod pieces;

use std::path::{Path, PathBuf};

use crate::domain::apply::apply;
use crate::domain::at_once::at_once;
use crate::domain::brought::{answered_twice, may_come_along};
use crate::domain::decide::decide;
use crate::domain::entitled::told;
use crate::domain::entry::{Act, Entry};
use crate::domain::id::Id;
use crate::domain::inspection::Inspection;
use crate::domain::request::{Decision, Hand, Request};
use crate::domain::stamp::Stamp;
use crate::domain::stranger::strangers;
use crate::domain::telling::of_entry;

use super::inspection_file::{Opened, Trust, with_lf};
use super::lock::LockFault;
use super::save_fault::SaveFault;
use super::seal::sha256;
use super::store::{Store, at_words};
use super::yaml::Problems;
use along::{come_along, lost};
use pieces::{Piece, holds, is_mine, names_the_stem, pieces};

/// What was done with a copy.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Brought {
    /// My file.
    pub record: PathBuf,
    /// What became of it.
    pub outcome: Outcome,
    /// Photos that came along.
    pub photos: usize,
    /// The copy's line ends had been turned, by mail or an editor.
    pub turned: bool,
    /// What came from somebody whom this machine does not know as a supervisor, a sentence each.
    pub strangers: Vec<String>,
    /// Photos of the record that are not here, with the entry that names each: they did not lie whole beside the copy.
    pub lost: Vec<(u32, String)>,
    /// Decisions of the record that do not count, a sentence each.
    pub passed_over: Vec<String>,
}

/// What became of my record.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Outcome {
    /// There was none here: it is kept now.
    New,
    /// Another inspection with the same id, begun elsewhere: both are kept, neither is preferred.
    Both {
        /// The one that was here.
        other: PathBuf,
    },
    /// Another inspection of the rotor, open at the same time as the one that was here: both are kept.
    AtOnce {
        /// The one that was here.
        other: PathBuf,
    },
    /// Mine cannot be read, and is no beginning of it: both are kept.
    Beside {
        /// The one that was here.
        other: PathBuf,
    },
    /// Mine broke off in it, or was emptied: mine has all of it now, and what stood there is kept beside it.
    MadeWhole {
        /// What stood there.
        kept: PathBuf,
    },
    /// It says nothing that mine does not.
    Nothing,
    /// It continues mine: mine has its entries now.
    Continued {
        /// So many came.
        entries: usize,
    },
    /// Both went on: these of its entries stand behind mine, with the numbers they have here.
    Appended {
        /// Their numbers there and here.
        entries: Vec<(u32, u32)>,
    },
}

/// Why a copy was not taken in. Both files stand as they were.
#[derive(Debug, thiserror::Error)]
pub enum BringFault {
    /// One of the two cannot be read.
    #[error("{0}")]
    Unreadable(Problems),
    /// One of the two does not hold.
    #[error("{} was changed outside {}. Verify it, and fetch an unchanged copy; or say in it under a name that this was seen: asfound resume.", path.display(), at_words(*entry))]
    Changed {
        /// Which.
        path: PathBuf,
        /// The first entry that does not hold.
        entry: u32,
    },
    /// The copy lacks what was saved, signed or named of it elsewhere.
    #[error("{} is cut short: entry {entry} was saved once and is missing in it. Fetch a whole copy; or say in it under a name that this was seen: asfound resume.", path.display())]
    Short {
        /// The copy.
        path: PathBuf,
        /// The first entry that is missing.
        entry: u32,
    },
    /// A newer program wrote it.
    #[error("{} has format {format}. Bring it in with the newer program.", path.display())]
    Newer {
        /// Which.
        path: PathBuf,
        /// Its format.
        format: u32,
    },
    /// Both went on, and this entry of the copy may not be taken over.
    #[error("both copies went on, and entry {entry} of {} is not here: {what}. {why} Both are kept, nothing is changed.", path.display())]
    Differs {
        /// The copy.
        path: PathBuf,
        /// The first such entry.
        entry: u32,
        /// What it says.
        what: String,
        /// Why it may not come along.
        why: String,
    },
    /// Two of my files are this record.
    #[error("{} and {} are two copies of the record that the copy continues; neither is preferred. Take one of them out of the folder first.", one.display(), other.display())]
    Twice {
        /// One.
        one: PathBuf,
        /// The other.
        other: PathBuf,
    },
    /// Somebody writes in the rotor's folder.
    #[error("{0}")]
    Locked(LockFault),
    /// The disk refused.
    #[error(transparent)]
    Save(#[from] SaveFault),
}

/// Who brings it in, and when.
#[derive(Debug, Clone)]
pub struct Bringer {
    /// By name; without one, who made my record's last entry.
    pub by: Option<Id>,
    /// Now.
    pub at: Stamp,
}

/// Takes in the copy at `file`, photos and signatures by key too.
///
/// # Errors
/// When anything stands in the way; both records are then as they were.
pub fn bring(store: &Store, file: &Path, bringer: &Bringer) -> Result<Brought, BringFault> {
    let (theirs, turned) = store.open_turned_back(file).map_err(BringFault::Unreadable)?;
    let theirs = sound(theirs)?;
    let lies = beside(store, file, &theirs);
    let head = theirs.inspection.head();
    // what a copy lacks would be taken for nothing that ever was, in the place of the record that has it or without it
    let (inspection, chains) = (&theirs.inspection, theirs.chains.as_slice());
    let whole = |missing: Option<u32>| {
        missing.map_or(Ok(()), |entry| {
            let (path, is_there) = (file.to_owned(), inspection.entry(entry).is_some());
            Err(if is_there { BringFault::Changed { path, entry } } else { BringFault::Short { path, entry } })
        })
    };
    whole(store.missing_from(&lies, (inspection, chains), theirs.trust))?;
    let who = bringer.by.as_ref().unwrap_or(&head.by).to_string();
    let _lock = store.lock(&head.rotor.id, &who, bringer.at).map_err(BringFault::Locked)?;
    let mut known = 0;
    let (record, outcome) = match mine(store, &theirs)? {
        Mine::Same(mine) => {
            known = mine.inspection.entries().len();
            continue_with(store, *mine, (file, &theirs), bringer)?
        }
        Mine::None => {
            whole(store.missing_to_later(&store.rotor_folder(&head.rotor.id), (inspection, chains)))?;
            (keep_new(store, &theirs)?, Outcome::New)
        }
        Mine::Broken(other, bytes) if theirs.file.bytes().starts_with(&with_lf(&bytes)) => {
            whole(store.missing_to_later(&store.rotor_folder(&head.rotor.id), (inspection, chains)))?;
            let kept = put(store, &other, &bytes, &theirs)?;
            (other, Outcome::MadeWhole { kept })
        }
        Mine::Broken(other, _) => (keep_new(store, &theirs)?, Outcome::Beside { other }),
        Mine::Other(other) => (keep_new(store, &theirs)?, Outcome::Both { other }),
        Mine::AtOnce(other) => (keep_new(store, &theirs)?, Outcome::AtOnce { other }),
    };
    let grown = store.open(&record).map_err(BringFault::Unreadable)?;
    let photos = come_along(store, &grown, (&lies, &theirs))?;
    let came = grown.inspection.entries().get(known..).unwrap_or_default();
    let strangers = strangers(&store.people().unwrap_or_default(), &grown.inspection, came);
    let strangers = strangers.into_iter().map(|(_, _, what)| what).collect();
    let passed_over = told(&grown.inspection).into_values().collect();
    let lost = lost(store, &grown);
    Ok(Brought { record, outcome, photos, turned, strangers, lost, passed_over })
}

/// A record that holds.
fn sound(opened: Opened) -> Result<Opened, BringFault> {
    let path = opened.file.path().to_owned();
    match opened.trust {
        Trust::Whole | Trust::Seen { .. } => Ok(opened),
        Trust::Changed { entry } | Trust::Cut { entry } => Err(BringFault::Changed { path, entry }),
        Trust::Newer { format } => Err(BringFault::Newer { path, format }),
    }
}

/// What is here under the same id.
enum Mine {
    None,
    /// A record of that id whose head is another.
    Other(PathBuf),
    /// A record of another id that was open at the same time.
    AtOnce(PathBuf),
    /// The same record, which cannot be read to its end, and its bytes.
    Broken(PathBuf, Vec<u8>),
    /// The same record.
    Same(Box<Opened>),
}

/// Whether the record of a copy is here already, under its id.
pub fn is_here(store: &Store, copy: &Path) -> bool {
    let theirs = store.open_turned_back(copy);
    theirs.is_ok_and(|(theirs, _)| !matches!(mine(store, &theirs), Ok(Mine::None | Mine::AtOnce(_))))
}

fn mine(store: &Store, theirs: &Opened) -> Result<Mine, BringFault> {
    let head = theirs.inspection.head();
    let (mut same, mut broken, mut other, mut meanwhile): (Option<Opened>, _, _, _) = (None, None, None, None);
    for path in store.records(&head.rotor.id).map_err(BringFault::Unreadable)? {
        let Ok(opened) = store.open(&path) else {
            // one of another id that cannot be read is not this one's business
            if store.id_in(&path).is_some_and(|id| id.eq_ignore_ascii_case(&head.id)) {
                let bytes = store.bytes_if_there(&path).unwrap_or_default();
                broken = Some(Mine::Broken(path, bytes));
            }
            continue;
        };
        if opened.inspection.head() == head && head_bytes(&opened) == head_bytes(theirs) {
            if let Some(one) = same {
                return Err(BringFault::Twice { one: one.file.path().to_owned(), other: path });
            }
            same = Some(opened);
        } else if opened.inspection.head().id == head.id {
            other = Some(path);
        } else if at_once(&opened.inspection, &theirs.inspection) {
            meanwhile = Some(path);
        }
    }
    if let Some(mine) = same {
        return sound(mine).map(|mine| Mine::Same(Box::new(mine)));
    }
    Ok(broken.or(other.map(Mine::Other)).or(meanwhile.map(Mine::AtOnce)).unwrap_or(Mine::None))
}

/// The bytes before the first entry, line ends as LF.
fn head_bytes(opened: &Opened) -> Vec<u8> {
    let lf = with_lf(opened.file.bytes());
    let end = opened.stretches.first().map_or(lf.len(), |first| first.entry.start);
    lf.get(..end).unwrap_or_default().to_vec()
}

/// The name that a record's file has from its id, whatever mail or a stick has made of it.
fn own_name(opened: &Opened) -> Option<String> {
    let name = opened.inspection.head().id.rsplit('/').next()?.parse::<Id>().ok()?;
    (!name.as_str().eq_ignore_ascii_case("rotor")).then(|| format!("{name}.yaml"))
}

/// Where the folder of a copy lies: beside it under its name, or under the name that it had.
fn beside(store: &Store, file: &Path, theirs: &Opened) -> PathBuf {
    let own = own_name(theirs).map(|name| file.with_file_name(name)).filter(|_| !store.has_folder(file));
    own.unwrap_or_else(|| file.to_owned())
}

fn keep_new(store: &Store, theirs: &Opened) -> Result<PathBuf, BringFault> {
    let head = theirs.inspection.head();
    let folder = store.rotor_folder(&head.rotor.id);
    if store.bytes_if_there(&folder.join("rotor.yaml")).is_none() {
        store.save_rotor(&head.rotor)?;
    }
    let named = own_name(theirs).map(|name| folder.join(name));
    let free = named.filter(|path| store.bytes_if_there(path).is_none());
    let path = free.unwrap_or_else(|| store.new_record(&head.rotor.id, head.begun.date(), &head.checklist.id).path);
    store.put_record(&path, None, theirs.file.bytes())?;
    note(store, &path, theirs);
    Ok(path)
}

/// The note of the last entry only helps a later check; without it the record is as good. One that names more than came
/// stays: that is still missing.
fn note(store: &Store, path: &Path, theirs: &Opened) {
    if store.missing_from(path, (&theirs.inspection, &theirs.chains), theirs.trust).is_none() {
        drop(store.note_last(path, &theirs.file.last_entry()));
    }
}

/// Puts the copy in the place of my bytes, which are kept beside it; where.
fn put(store: &Store, path: &Path, mine: &[u8], theirs: &Opened) -> Result<PathBuf, SaveFault> {
    let name = format!("before-{}.yaml", sha256(mine).get(..16).unwrap_or_default());
    let kept = store.folder_of(path).join(name);
    store.keep_file(&kept, mine)?;
    store.put_record(path, Some(mine), theirs.file.bytes())?;
    note(store, path, theirs);
    Ok(kept)
}

fn continue_with(
    store: &Store,
    mut mine: Opened,
    (file, theirs): (&Path, &Opened),
    bringer: &Bringer,
) -> Result<(PathBuf, Outcome), BringFault> {
    let path = mine.file.path().to_owned();
    let lf = with_lf(mine.file.bytes()).into_owned();
    let (my_pieces, their_pieces) = (pieces(&mine, &lf), pieces(theirs, theirs.file.bytes()));
    let same =
        my_pieces.iter().zip(&their_pieces).take_while(|(a, b)| a.bytes == b.bytes && a.chain == b.chain).count();
    let (my_rest, their_rest) =
        (my_pieces.get(same..).unwrap_or_default(), their_pieces.get(same..).unwrap_or_default());
    let news: Vec<_> = their_rest.iter().filter(|piece| !holds(my_rest, piece) && !is_mine(piece, my_rest)).collect();
    // that turned line ends were seen, or that somebody came back there, is worth nothing here by itself
    let is_idle = |act: &Act| matches!(act, Act::SeenOutside { from: None, .. } | Act::Resume);
    if news.iter().all(|piece| is_idle(&piece.entry.act)) {
        return Ok((path, Outcome::Nothing));
    }
    if my_rest.iter().all(|piece| holds(their_rest, piece)) {
        if my_rest.is_empty() {
            store.put_record(&path, Some(mine.file.bytes()), theirs.file.bytes())?;
            note(store, &path, theirs);
        } else {
            // every entry of mine stands in theirs as brought; the bytes I had are kept beside it all the same
            put(store, &path, mine.file.bytes(), theirs)?;
        }
        return Ok((path, Outcome::Continued { entries: news.len() }));
    }
    let stem = my_pieces.get(..same).unwrap_or_default();
    let (entries, numbers) = appended(&mine.inspection, (file, stem), &news, bringer)?;
    mine.file.append(&entries)?;
    drop(store.note_last(&path, &mine.file.last_entry()));
    Ok((path, Outcome::Appended { entries: numbers }))
}

/// New entries, and for each number there its number here.
type Appended = (Vec<Entry>, Vec<(u32, u32)>);

/// The entries that take over `news`, each allowed in its turn.
fn appended(
    inspection: &Inspection,
    (file, stem): (&Path, &[Piece<'_>]),
    news: &[&Piece<'_>],
    bringer: &Bringer,
) -> Result<Appended, BringFault> {
    let by = bringer.by.clone().or_else(|| inspection.entries().last().map(|last| last.by.clone()));
    let by = by.unwrap_or_else(|| inspection.head().by.clone());
    let hand = Hand { by, writer: None, at: bringer.at, late: None, break_hours: u32::MAX / 3600 };
    let mut grown = inspection.clone();
    let (mut entries, mut numbers) = (Vec::new(), Vec::new());
    for piece in news {
        let differs = |why: &str| BringFault::Differs {
            path: file.to_owned(),
            entry: piece.entry.number,
            what: of_entry(inspection, piece.entry),
            why: why.to_owned(),
        };
        if !may_come_along(&piece.entry.act) {
            return Err(differs("It names no entry that it is about."));
        }
        if !names_the_stem(&piece.entry.act, stem) {
            return Err(differs("What it is about is not in both copies."));
        }
        if let Some(why) = answered_twice(&grown, piece.entry) {
            return Err(differs(&why));
        }
        let bytes = String::from_utf8(piece.bytes.to_vec()).ok().ok_or_else(|| differs("Its bytes are no text."))?;
        let (chain, entry) = (piece.chain.to_owned(), Some(Box::new(piece.entry.clone())));
        let act = Act::Brought { bytes, chain, after: stem.last().map(|last| last.entry.number), entry };
        match decide(&grown, &Request::Do(act), &hand) {
            Decision::Take(entry) => {
                numbers.push((piece.entry.number, entry.number));
                drop(apply(&mut grown, (*entry).clone()));
                entries.push(*entry);
            }
            Decision::Refuse(refusal) => return Err(differs(&refusal.to_string())),
            Decision::Ask { .. } => return Err(differs("It asks a question.")),
        }
    }
    Ok((entries, numbers))
}
