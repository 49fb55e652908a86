//! `asfound review`: what waits for a decision; one record line by line, to judge, countersign or send back.

use std::io::{self, BufRead};
use std::path::{Path, PathBuf};

use super::{Out, raw};
use crate::domain::checklist::Signing;
use crate::domain::decide::decide;
use crate::domain::entry::{Act, PhotoRef};
use crate::domain::id::Id;
use crate::domain::request::{Decision, Hand, Request};
use crate::domain::review::{Photos, Review};
use crate::domain::signing;
use crate::domain::standing::Standing;
use crate::exit::Exit;
use crate::face::plain::review::{Heard, Session, pages};
use crate::records::clock::Clock;
use crate::records::inspection_file::{Opened, Trust};
use crate::records::store::{LastEntry, PhotoKept, Store};
use crate::records::verify::all_records;

/// Lists, or reviews the file named.
pub(super) fn run(words: &raw::Review, store: &Store, clock: &dyn Clock, out: &mut Out) -> io::Result<Exit> {
    match &words.file {
        None => list(store, out),
        Some(file) => one(words, file, (store, clock), out),
    }
}

/// What waits, the most pressing first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Wait {
    CameBack,
    Countersign,
    NotSure,
    NotClosed,
}

impl Wait {
    fn words(self) -> &'static str {
        match self {
            Self::CameBack => "came back, remarks wait for an answer",
            Self::Countersign => "countersign pending ashore",
            Self::NotSure => "provisional or undecided",
            Self::NotClosed => "not closed",
        }
    }
}

fn list(store: &Store, out: &mut Out) -> io::Result<Exit> {
    let files = match all_records(store) {
        Ok(files) => files,
        Err(problems) => {
            out.complain(&problems.to_string())?;
            return Ok(Exit::NotDone);
        }
    };
    let mut waiting: Vec<(Wait, PathBuf, String)> = Vec::new();
    for file in files {
        match store.open(&file) {
            Ok(opened) => {
                let id = opened.inspection.head().id.clone();
                waiting.extend(wait_of(&opened).map(|wait| (wait, file, id)));
            }
            Err(problems) => out.complain(&problems.to_string())?,
        }
    }
    waiting.sort();
    for (wait, file, id) in &waiting {
        out.say(&format!("{}: {}; {}", id, wait.words(), store.name_of(file)))?;
    }
    out.say(&format!("{} records wait for a decision.", waiting.len()))?;
    Ok(Exit::Done)
}

fn wait_of(opened: &Opened) -> Option<Wait> {
    let inspection = &opened.inspection;
    if !signing::open_remarks(inspection).is_empty() {
        return Some(Wait::CameBack);
    }
    if !signing::countersign_pending(inspection).is_empty() {
        return Some(Wait::Countersign);
    }
    let counts = Standing::of(inspection).counts;
    if counts.provisional + counts.undecided > 0 {
        return Some(Wait::NotSure);
    }
    signing::standing_signature(inspection, Signing::Close).is_none().then_some(Wait::NotClosed)
}

fn one(words: &raw::Review, file: &Path, (store, clock): (&Store, &dyn Clock), out: &mut Out) -> io::Result<Exit> {
    let by = match words.by.as_deref().map(str::parse::<Id>).transpose() {
        Ok(by) => by,
        Err(refusal) => {
            out.complain(&refusal.to_string())?;
            return Ok(Exit::WrongWords);
        }
    };
    let mut opened = match store.open(file) {
        Ok(opened) => opened,
        Err(problems) => {
            out.complain(&problems.to_string())?;
            return Ok(Exit::NotDone);
        }
    };
    let standing = Standing::of(&opened.inspection);
    let review = Review::of(&opened.inspection, &standing, &photos(store, file, &opened));
    if let Trust::Changed { entry } = opened.trust {
        out.say(&format!("! CHANGED OUTSIDE at entry {entry}: verify says what was changed."))?;
    }
    for line in pages(&opened.inspection, &review) {
        out.say(&line)?;
    }
    let Some(by) = by.filter(|_| words.plain) else {
        out.say("Reading changes nothing. To countersign or send back: --plain --as ID.")?;
        return Ok(Exit::Done);
    };
    let session = Session::new(&opened.inspection, &review, &opened.chains);
    converse(session, (&mut opened, by), (store, clock), out)
}

/// What has become of each photo, with its path.
fn photos(store: &Store, file: &Path, opened: &Opened) -> Photos {
    let all = opened.inspection.entries().iter().flat_map(|entry| photos_of(&entry.act));
    let told = all.map(|photo| {
        let path = store.photo_path(file, photo).display().to_string();
        let fate = match store.photo_kept(file, photo) {
            PhotoKept::Whole => format!("as taken, {path}"),
            PhotoKept::Changed => format!("CHANGED since, {path}"),
            PhotoKept::Missing => format!("NOT THERE, {path}"),
        };
        (photo.hash.clone(), fate)
    });
    told.collect()
}

fn photos_of(act: &Act) -> &[PhotoRef] {
    if let Act::Photo { photo, .. } = act {
        return std::slice::from_ref(photo);
    }
    if let Act::Finding(finding) = act { &finding.photos } else { &[] }
}

/// Questions and answers until something is saved or the input ends.
fn converse(
    mut session: Session,
    (opened, by): (&mut Opened, Id),
    (store, clock): (&Store, &dyn Clock),
    out: &mut Out,
) -> io::Result<Exit> {
    let mut lines = io::stdin().lock().lines();
    while let Some(question) = session.question() {
        out.say(&question)?;
        out.flush()?;
        let Some(line) = lines.next().transpose()? else {
            out.say("The record stays as it stands.")?;
            return Ok(Exit::Done);
        };
        match session.hear(&line) {
            Heard::Said(said) if said.is_empty() => {}
            Heard::Said(said) => out.say(&said)?,
            Heard::Do(act) => {
                let done = save(*act, opened, &by, (store, clock));
                out.say(&session.done(done))?;
            }
        }
    }
    Ok(Exit::Done)
}

fn save(act: Act, opened: &mut Opened, by: &Id, (store, clock): (&Store, &dyn Clock)) -> Result<(), String> {
    let hand = Hand { by: by.clone(), writer: None, at: clock.now(), late: None, break_hours: u32::MAX / 3600 };
    let rotor = &opened.inspection.head().rotor.id;
    let in_folder = opened.file.path().starts_with(store.root());
    let _lock = if in_folder {
        Some(store.lock(rotor, by.as_str(), hand.at).map_err(|fault| fault.to_string())?)
    } else {
        None
    };
    match decide(&opened.inspection, &Request::Do(act), &hand) {
        Decision::Take(entry) => {
            opened.file.append(std::slice::from_ref(&entry)).map_err(|fault| fault.to_string())?;
            let last = LastEntry { entry: entry.number, chain: opened.file.chain().to_owned() };
            // without the note the record is as good, only a tail cut off later is harder to see
            drop(store.note_last(opened.file.path(), &last));
            Ok(())
        }
        Decision::Refuse(refusal) => Err(refusal.to_string()),
        Decision::Ask { .. } => Err("It asks a question that no review answers.".to_owned()),
    }
}
