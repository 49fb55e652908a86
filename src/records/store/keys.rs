//! Signatures by key beside a record, and the files that `ssh-keygen` reads.

use std::borrow::Cow;
use std::path::{Path, PathBuf};

use crate::domain::entry::Entry;
use crate::domain::id::Id;
use crate::domain::person::Person;

use super::super::durable::{Known, replace};
use super::super::inspection_file::{Opened, with_lf};
use super::super::key::{self, Check, KeyFault, KeyState, Signers, Times};
use super::super::save_fault::SaveFault;
use super::super::verify::entry_bytes;
use super::Store;

/// A signature by key that was made.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SignedByKey {
    /// Where it is kept.
    pub path: PathBuf,
    /// What it is worth on this machine; none when that cannot be checked.
    pub state: Option<KeyState>,
}

impl SignedByKey {
    /// What was done, and what is still wanted before anybody can tell whose key it is.
    pub fn words(&self) -> String {
        let name = self.path.file_name().unwrap_or_default().to_string_lossy();
        let kept = format!("Signed by key: {name}, beside the record.");
        match &self.state {
            Some(KeyState::Claimed | KeyState::Unknown | KeyState::Other | KeyState::Another(_)) => {
                format!("{kept} people.yaml has not this key as yours: enter its .pub line (first screen, people).")
            }
            Some(KeyState::Past | KeyState::Over) => format!("{kept} people.yaml says that this key's time is over."),
            Some(KeyState::Early) => format!("{kept} people.yaml says that this key's time has not begun."),
            Some(KeyState::Wrong) => {
                format!("{kept} The record was changed meanwhile: it is not of what stands there.")
            }
            Some(KeyState::Good) | None => kept,
        }
    }
}

/// Signatures of one record while they are checked.
struct Checking<'o> {
    opened: &'o Opened,
    lf: Cow<'o, [u8]>,
    people: Vec<Person>,
    signers: Result<Signers, String>,
}

impl Checking<'_> {
    /// What this signature of an entry is worth, or why that was not checked.
    fn state(&self, entry: &Entry, signature: &Path) -> Result<KeyState, String> {
        let signers = self.signers.as_ref().map_err(String::clone)?;
        let bytes = entry_bytes(self.opened, &self.lf, entry.number).unwrap_or_default();
        let check = Check { signature, bytes, signer: entry.doer().as_str(), at: entry.done_at(), signers };
        let state = key::state(&check).map_err(|fault| format!("ssh-keygen cannot be run: {fault}."))?;
        // what the record says of a key counts for nothing where this machine knows that person's own
        let strange = matches!(state, KeyState::Unknown | KeyState::Claimed);
        let other = strange && has_key(&self.people, entry.doer());
        Ok(if other { KeyState::Other } else { state })
    }

    /// What people.yaml has the key as that would be worth this, where it is not a key of whose entry it is.
    fn not_theirs(&self, entry: &Entry, state: &KeyState) -> Option<String> {
        let who = entry.doer();
        match state {
            KeyState::Another(owner) => Some(format!("{owner}'s by people.yaml, not {who}'s")),
            KeyState::Claimed | KeyState::Unknown | KeyState::Other => {
                has_key(&self.people, who).then(|| format!("none of those that people.yaml has of {who}"))
            }
            KeyState::Good | KeyState::Past | KeyState::Over | KeyState::Early | KeyState::Wrong => None,
        }
    }

    /// Takes away what was written for it.
    fn done(&self, store: &Store) {
        if let Ok(signers) = &self.signers {
            store.take_away_signers(signers);
        }
    }
}

/// `~/key` where a shell would find it: no shell stands between the field and this.
fn at_home(path: &Path) -> PathBuf {
    let rest = path.strip_prefix("~").ok();
    let home = || directories::BaseDirs::new().map(|dirs| dirs.home_dir().to_owned());
    rest.and_then(|rest| Some(home()?.join(rest))).unwrap_or_else(|| path.to_owned())
}

/// Whether a key of this person is among these.
pub fn has_key(people: &[Person], who: &Id) -> bool {
    people.iter().any(|person| person.id.same_as(who) && !person.keys.is_empty())
}

impl Store {
    /// Signs the bytes of an entry with a key, whosever it is, and keeps the signature beside the record.
    ///
    /// # Errors
    /// When a signature is there already, when `ssh-keygen` refuses or the disk does; the sign entry itself stands all
    /// the same.
    pub fn sign_by_key(&self, record: &Path, (entry, bytes): (u32, &[u8]), key: &Path) -> Result<PathBuf, KeyFault> {
        let path = self.signature_path(record, entry);
        if self.bytes_if_there(&path).is_some() {
            return Err(KeyFault::Signed { entry, path });
        }
        let signature = self.signature_with(key, bytes)?;
        self.keep_file(&path, &signature)?;
        Ok(path)
    }

    fn signature_with(&self, key: &Path, bytes: &[u8]) -> Result<Vec<u8>, KeyFault> {
        let key = &at_home(key);
        if self.bytes_if_there(key).is_none() {
            return Err(KeyFault::NoKey(key.to_owned()));
        }
        key::sign(key, bytes)
    }

    /// The same for an entry of a record on the disk. What the signature is worth is looked at before it is kept: nobody
    /// can take back one by a key that people.yaml has as another's. One that is no good gives way to a good one.
    ///
    /// # Errors
    /// When the record cannot be read or has no such entry, when the key is not that person's, when a signature is there
    /// that does not give way, when `ssh-keygen` refuses or the disk does.
    pub fn sign_entry_by_key(&self, record: &Path, entry: u32, key: &Path) -> Result<SignedByKey, KeyFault> {
        let opened = self.open(record).map_err(|problems| KeyFault::Unread(problems.to_string()))?;
        let lf = with_lf(opened.file.bytes());
        let none = || KeyFault::Unread(format!("There is no entry {entry} in it."));
        let bytes = entry_bytes(&opened, &lf, entry).ok_or_else(none)?;
        let signed = opened.inspection.entry(entry).ok_or_else(none)?;
        let path = self.signature_path(record, entry);
        let checking = self.checking(&opened);
        let before = self.bytes_if_there(&path);
        if before.is_some() && !checking.state(signed, &path).is_ok_and(|state| state.gives_way()) {
            checking.done(self);
            return Err(KeyFault::Signed { entry, path });
        }
        let made = self.signature_with(key, bytes).and_then(|signature| {
            let trial = self.root.join(format!(".trial-{}.sig", std::process::id()));
            self.keep_file(&trial, &signature)?;
            let state = checking.state(signed, &trial).ok();
            self.take_away(&trial);
            Ok((signature, state))
        });
        checking.done(self);
        let (signature, state) = made?;
        let who = signed.doer().to_string();
        if let Some(whose) = state.as_ref().and_then(|state| checking.not_theirs(signed, state)) {
            return Err(KeyFault::NotTheirs { key: key::told(key), whose, who });
        }
        if before.is_some() && !state.as_ref().is_some_and(KeyState::is_good) {
            return Err(KeyFault::NotBetter { entry, path, who });
        }
        self.put_record(&path, before.as_deref(), &signature)?;
        Ok(SignedByKey { path, state })
    }

    /// What the signature by key of each entry that has one is worth here, or why that was not checked.
    pub fn keyed<'o>(&self, record: &Path, opened: &'o Opened) -> Vec<(&'o Entry, Result<KeyState, String>)> {
        let has_key = |entry: &&Entry| {
            entry.deed().takes_key() && self.bytes_if_there(&self.signature_path(record, entry.number)).is_some()
        };
        let entries: Vec<_> = opened.inspection.entries().iter().filter(has_key).collect();
        if entries.is_empty() {
            return Vec::new();
        }
        let checking = self.checking(opened);
        let state = |entry: &Entry| checking.state(entry, &self.signature_path(record, entry.number));
        let all = entries.into_iter().map(|entry| (entry, state(entry))).collect();
        checking.done(self);
        all
    }

    fn checking<'o>(&self, opened: &'o Opened) -> Checking<'o> {
        let people = self.people().map_err(|why| format!("No key is known: the people file cannot be read. {why}"));
        let signers = people
            .as_ref()
            .map_err(String::clone)
            .and_then(|people| self.put_signers(people, opened.inspection.people()).map_err(|fault| fault.to_string()));
        Checking { opened, lf: with_lf(opened.file.bytes()), people: people.unwrap_or_default(), signers }
    }

    /// Writes the allowed-signers file of this machine's people and, to be taken away after the check, the others.
    pub(in crate::records) fn put_signers(&self, people: &[Person], claimed: &[Person]) -> Result<Signers, SaveFault> {
        let put = |name: &str, people: &[Person], times: Times| {
            let path = self.root.join(name);
            self.put(&path, &key::allowed_signers(people, times)).map(|()| path)
        };
        Ok(Signers {
            known: put("allowed_signers", people, Times::Both)?,
            unending: put(".unending_signers", people, Times::BeginOnly)?,
            timeless: put(".timeless_signers", people, Times::Neither)?,
            claimed: put(".claimed_signers", claimed, Times::Both)?,
        })
    }

    /// Takes away what was written for one check.
    pub(in crate::records) fn take_away_signers(&self, signers: &Signers) {
        for path in [&signers.unending, &signers.timeless, &signers.claimed] {
            self.take_away(path);
        }
    }

    /// Where the signature by key of an entry is kept.
    pub fn signature_path(&self, record: &Path, entry: u32) -> PathBuf {
        key::signature_path(&self.folder_of(record), entry)
    }

    /// Takes away a file that was written for one check.
    pub(in crate::records) fn take_away(&self, path: &Path) {
        // nothing rests on it: the next check writes it anew
        drop(self.disk.remove(path));
    }

    /// The bytes of a file, when it is there and can be read.
    pub(in crate::records) fn bytes_if_there(&self, path: &Path) -> Option<Vec<u8>> {
        self.disk.read(path).ok().flatten()
    }

    /// Keeps a file beside a record, whatever was there.
    pub(in crate::records) fn keep_file(&self, path: &Path, bytes: &[u8]) -> Result<(), SaveFault> {
        self.make_folder_of(path)?;
        replace(self.disk.as_ref(), path, Known::Anything, bytes)
    }

    /// Puts a record in the place of the bytes it had; nothing where it was not there.
    pub(in crate::records) fn put_record(
        &self,
        path: &Path,
        before: Option<&[u8]>,
        bytes: &[u8],
    ) -> Result<(), SaveFault> {
        self.make_folder_of(path)?;
        let known = before.map(|before| [before]);
        match &known {
            Some(known) => replace(self.disk.as_ref(), path, Known::OneOf(known), bytes),
            None => replace(self.disk.as_ref(), path, Known::Nothing, bytes),
        }
    }
}
