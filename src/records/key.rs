//! Signatures by key: `ssh-keygen -Y` run on the bytes of a sign entry. A key is known only from this machine's people
//! file; one that a record brings is claimed. Passphrase, agent and hardware keys are the business of `ssh-keygen`, which
//! asks at the terminal.

use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use crate::domain::person::Person;
use crate::domain::stamp::Stamp;

/// What the signature is for; another program's signatures do not count.
pub const NAMESPACE: &str = "asfound-record";

/// The program that signs and checks.
const PROGRAM: &str = "ssh-keygen";

/// Why a key did not sign.
#[derive(Debug, thiserror::Error)]
pub enum KeyFault {
    /// The program could not be run.
    #[error("{PROGRAM} cannot be run: {0}. Install it, or sign without a key.")]
    NoProgram(std::io::Error),
    /// It refused.
    #[error("{PROGRAM} did not sign: {0} Look at the key's path and passphrase, or sign without a key.")]
    Refused(String),
    /// A signature by key lies there already.
    #[error(
        "Entry {entry} is signed by key already: {}. Nothing was written. Move that file away first to sign anew.",
        path.display()
    )]
    Signed {
        /// The sign entry.
        entry: u32,
        /// The signature's file.
        path: PathBuf,
    },
    /// A signature lies there that a good one may replace, and this one would be no good one.
    #[error(
        "Entry {entry} is signed by key already: {}. Nothing was written. Only a key that people.yaml has as {who}'s takes its place: give that key's file, or enter its .pub line there first (first screen, people).",
        path.display()
    )]
    NotBetter {
        /// The sign entry.
        entry: u32,
        /// The signature's file.
        path: PathBuf,
        /// Whose entry it is.
        who: String,
    },
    /// By people.yaml it is not the key of whose entry it is.
    #[error(
        "The key {key} is {whose}. Nothing was written. Give the file of {who}'s own key; a new key of {who} is entered in people.yaml first, its .pub line (first screen, people)."
    )]
    NotTheirs {
        /// Its file, and its fingerprint where that can be had.
        key: String,
        /// What people.yaml has it as.
        whose: String,
        /// Whose entry it is.
        who: String,
    },
    /// There is no such key.
    #[error("There is no key file {}. Type its path again, or sign without a key.", .0.display())]
    NoKey(PathBuf),
    /// There is nothing to be signed.
    #[error("The record cannot be signed: {0}")]
    Unread(String),
    /// The signature could not be kept.
    #[error(transparent)]
    Save(#[from] super::save_fault::SaveFault),
}

/// What a signature by key is worth on this machine.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum KeyState {
    /// By a key that this machine knows as the signer's.
    Good,
    /// It was good when it was given; the key's time is over since.
    Past,
    /// By a key of the signer whose time was over already when it was given.
    Over,
    /// By a key of the signer whose time had not begun when it was given.
    Early,
    /// Right in itself, by a key that only the record says is the signer's.
    Claimed,
    /// Right in itself, by a key that is known here as this other person's.
    Another(String),
    /// Right in itself, by a key that nobody here knows.
    Unknown,
    /// The same, of a signer of whom this machine knows another key.
    Other,
    /// Not of these bytes, or no signature at all.
    Wrong,
}

impl KeyState {
    /// Whether it speaks against who is said to have signed.
    pub fn is_fault(&self) -> bool {
        self.against("").is_some()
    }

    /// Whether it holds as the signer's own.
    pub fn is_good(&self) -> bool {
        matches!(self, Self::Good | Self::Past)
    }

    /// Whether a good signature may take its place. One that is not of the entry's bytes may tell of a change: it stays.
    pub fn gives_way(&self) -> bool {
        !self.is_good() && *self != Self::Wrong
    }

    /// In a few words, behind `signed by fitter A`.
    pub fn words(&self) -> String {
        match self {
            Self::Good | Self::Past => "by key too, good".to_owned(),
            Self::Over | Self::Early => "X by a key out of its time".to_owned(),
            Self::Claimed => "by a key that only the record claims".to_owned(),
            Self::Another(owner) => format!("X by the key of {owner}"),
            Self::Unknown => "by a key not known here".to_owned(),
            Self::Other => "X by another key than people.yaml has of that person".to_owned(),
            Self::Wrong => "X its signature by key is not of this entry".to_owned(),
        }
    }

    /// What speaks against `who` having signed, behind that name; none where nothing does.
    pub fn against(&self, who: &str) -> Option<String> {
        match self {
            Self::Over | Self::Early => Some("but with a key out of its time".to_owned()),
            Self::Another(_) | Self::Other => Some(format!("but not with {who}'s key")),
            Self::Wrong => Some("but its signature by key is not of this entry".to_owned()),
            Self::Good | Self::Past | Self::Claimed | Self::Unknown => None,
        }
    }
}

/// Signs `bytes` with the key at `key`: a private key's file, or a public one whose private half an agent holds.
///
/// # Errors
/// When the program is not there or refuses.
pub fn sign(key: &Path, bytes: &[u8]) -> Result<Vec<u8>, KeyFault> {
    let mut command = Command::new(PROGRAM);
    command.args(["-q", "-Y", "sign", "-n", NAMESPACE, "-f"]).arg(key);
    // stderr stays the terminal's: a hardware key says there that it wants to be touched
    command.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::inherit());
    // on a desktop it would ask for a passphrase in a window, or nowhere: the terminal was handed over for this
    command.env("SSH_ASKPASS_REQUIRE", "never");
    let (done, out) = run(command, bytes).map_err(KeyFault::NoProgram)?;
    if done && !out.is_empty() {
        return Ok(out);
    }
    let why = "broken off, a wrong passphrase or PIN, or no key in that file; its own words stand on the screen behind \
               this one.";
    Err(KeyFault::Refused(why.to_owned()))
}

/// The key's file with its fingerprint, where that can be had without asking for a passphrase.
pub(super) fn told(key: &Path) -> String {
    let mut command = Command::new(PROGRAM);
    command.args(["-l", "-f"]).arg(key).stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::null());
    let out = run(command, &[]).map(|(_, out)| String::from_utf8_lossy(&out).into_owned()).unwrap_or_default();
    let print = out.split_whitespace().find(|word| word.starts_with("SHA256:"));
    let print = print.map(|print| format!(" ({print})")).unwrap_or_default();
    format!("{}{print}", key.display())
}

/// Which limits of a key's time are written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Times {
    Both,
    BeginOnly,
    Neither,
}

/// The allowed-signers text of these people: who, for which signatures, which key.
///
/// A key may carry options of that file before its type, such as `valid-before="20311231"`.
pub(super) fn allowed_signers(people: &[Person], times: Times) -> String {
    let mut text = String::new();
    for person in people {
        for key in &person.keys {
            let (options, key) = options_and_key(key);
            let options = within(options, times);
            let comma = if options.is_empty() { "" } else { "," };
            let line = format!("{} namespaces=\"{NAMESPACE}\"{comma}{options} {key}\n", person.id);
            text.push_str(&line);
        }
    }
    text
}

/// The options without the limits of time that are not wanted.
fn within(options: &str, times: Times) -> String {
    let dropped: &[&str] = match times {
        Times::Both => &[],
        Times::BeginOnly => &["valid-before"],
        Times::Neither => &["valid-after", "valid-before"],
    };
    let stays = |option: &&str| !dropped.iter().any(|name| option.to_ascii_lowercase().starts_with(name));
    options.split(',').filter(stays).collect::<Vec<_>>().join(",")
}

/// Whether a line may be a public key: the kind that `ssh-keygen` names, then the key itself.
pub(super) fn is_public_key(line: &str) -> bool {
    let (_, key) = options_and_key(line);
    let mut words = key.split_whitespace();
    let (Some(kind), Some(body)) = (words.next(), words.next()) else { return false };
    let letters = body.trim_end_matches('=').bytes().all(|one| one.is_ascii_alphanumeric() || b"+/".contains(&one));
    // every such key begins with the length of its kind's name, four bytes of which three are nothing
    is_kind(kind) && body.starts_with("AAAA") && body.len() >= 40 && letters
}

fn is_kind(word: &str) -> bool {
    ["ssh-", "ecdsa-", "sk-"].iter().any(|begin| word.starts_with(begin))
}

/// Parts `valid-before="20311231" ssh-ed25519 AAAA...` before the key's type.
fn options_and_key(line: &str) -> (&str, &str) {
    let line = line.lines().next().unwrap_or_default().trim();
    match line.split_once(' ') {
        Some((options, key)) if !is_kind(options) => (options, key.trim_start()),
        Some(_) | None => ("", line),
    }
}

/// Allowed signers for one check, a file each.
#[derive(Debug, Clone)]
pub struct Signers {
    /// Those of this machine.
    pub known: PathBuf,
    /// The same, no key's time ever over.
    pub unending: PathBuf,
    /// The same, at any time.
    pub timeless: PathBuf,
    /// Those of the record.
    pub claimed: PathBuf,
}

/// A signature to be checked.
#[derive(Debug, Clone, Copy)]
pub struct Check<'a> {
    /// The signature's file.
    pub signature: &'a Path,
    /// What was signed.
    pub bytes: &'a [u8],
    /// Who is said to have signed.
    pub signer: &'a str,
    /// When.
    pub at: Stamp,
    /// Whose keys are whose.
    pub signers: &'a Signers,
}

/// What the signature is worth.
///
/// # Errors
/// When the program cannot be run.
pub fn state(check: &Check<'_>) -> std::io::Result<KeyState> {
    let moment = check.at.moment().with_timezone(&chrono::Utc).format("%Y%m%d%H%M%SZ");
    let then = format!("verify-time={moment}");
    let Signers { known, unending, timeless, claimed } = check.signers;
    if verify(check, known, Some(&then))? {
        let today = verify(check, known, None)?;
        return Ok(if today { KeyState::Good } else { KeyState::Past });
    }
    if verify(check, timeless, None)? {
        let over = verify(check, unending, Some(&then))?;
        return Ok(if over { KeyState::Over } else { KeyState::Early });
    }
    let mut command = Command::new(PROGRAM);
    command.args(["-q", "-Y", "check-novalidate", "-n", NAMESPACE, "-s"]).arg(check.signature);
    if !quiet(command, check.bytes)? {
        // whose key it is says nothing of a signature that is of other bytes
        return Ok(KeyState::Wrong);
    }
    if let Some(owner) = owner(check)? {
        return Ok(KeyState::Another(owner));
    }
    Ok(if verify(check, claimed, Some(&then))? { KeyState::Claimed } else { KeyState::Unknown })
}

/// Whose key it is that signed, by the people of this machine.
fn owner(check: &Check<'_>) -> std::io::Result<Option<String>> {
    let mut command = Command::new(PROGRAM);
    command.args(["-q", "-Y", "find-principals", "-f"]).arg(&check.signers.timeless).arg("-s").arg(check.signature);
    command.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::null());
    let (done, out) = run(command, &[])?;
    let first = String::from_utf8_lossy(&out).lines().next().unwrap_or_default().trim().to_owned();
    Ok((done && !first.is_empty()).then_some(first))
}

fn verify(check: &Check<'_>, allowed: &Path, option: Option<&str>) -> std::io::Result<bool> {
    let mut command = Command::new(PROGRAM);
    command.args(["-q", "-Y", "verify", "-n", NAMESPACE, "-I", check.signer, "-f"]).arg(allowed);
    command.arg("-s").arg(check.signature);
    if let Some(option) = option {
        command.args(["-O", option]);
    }
    quiet(command, check.bytes)
}

fn quiet(mut command: Command, bytes: &[u8]) -> std::io::Result<bool> {
    command.stdin(Stdio::piped()).stdout(Stdio::null()).stderr(Stdio::null());
    run(command, bytes).map(|(done, _)| done)
}

fn run(mut command: Command, bytes: &[u8]) -> std::io::Result<(bool, Vec<u8>)> {
    let mut child = command.spawn()?;
    if let Some(mut stdin) = child.stdin.take() {
        // it may have refused before reading; its exit says so
        drop(stdin.write_all(bytes));
    }
    let output = child.wait_with_output()?;
    Ok((output.status.success(), output.stdout))
}

/// Where the signature by key of an entry is kept.
pub fn signature_path(folder: &Path, entry: u32) -> PathBuf {
    folder.join(format!("{entry}.sig"))
}
