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
    /// There is nothing to be signed.
    #[error("The record cannot be signed: {0}")]
    Unread(String),
    /// The signature could not be kept.
    #[error(transparent)]
    Save(#[from] super::save_fault::SaveFault),
}

/// What a signature by key is worth on this machine.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum KeyState {
    /// By a key that this machine knows as the signer's.
    Good,
    /// It was good when it was given; the key's time is over since.
    Past,
    /// Right in itself, by a key that only the record says is the signer's.
    Claimed,
    /// Right in itself, by a key that nobody here knows as the signer's.
    Unknown,
    /// Not of these bytes, or no signature at all.
    Wrong,
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
    let (done, out) = run(command, bytes).map_err(KeyFault::NoProgram)?;
    if done && !out.is_empty() { Ok(out) } else { Err(KeyFault::Refused("see its own words above.".to_owned())) }
}

/// The allowed-signers text of these people: who, for which signatures, which key.
///
/// A key may carry options of that file before its type, such as `valid-before="20311231"`.
pub fn allowed_signers(people: &[Person]) -> String {
    let mut text = String::new();
    for person in people {
        for key in &person.keys {
            let (options, key) = options_and_key(key);
            let comma = if options.is_empty() { "" } else { "," };
            let line = format!("{} namespaces=\"{NAMESPACE}\"{comma}{options} {key}\n", person.id);
            text.push_str(&line);
        }
    }
    text
}

/// Parts `valid-before="20311231" ssh-ed25519 AAAA...` before the key's type.
fn options_and_key(line: &str) -> (&str, &str) {
    let line = line.lines().next().unwrap_or_default().trim();
    let is_type = |word: &str| ["ssh-", "ecdsa-", "sk-"].iter().any(|begin| word.starts_with(begin));
    match line.split_once(' ') {
        Some((options, key)) if !is_type(options) => (options, key.trim_start()),
        Some(_) | None => ("", line),
    }
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
    /// Allowed signers of this machine, a file.
    pub known: &'a Path,
    /// Allowed signers as the record has them, a file.
    pub claimed: &'a Path,
}

/// What the signature is worth.
///
/// # Errors
/// When the program cannot be run.
pub fn state(check: &Check<'_>) -> std::io::Result<KeyState> {
    let moment = check.at.moment().with_timezone(&chrono::Utc).format("%Y%m%d%H%M%SZ");
    let then = format!("verify-time={moment}");
    if verify(check, check.known, Some(&then))? {
        let today = verify(check, check.known, None)?;
        return Ok(if today { KeyState::Good } else { KeyState::Past });
    }
    if verify(check, check.claimed, Some(&then))? {
        return Ok(KeyState::Claimed);
    }
    let mut command = Command::new(PROGRAM);
    command.args(["-q", "-Y", "check-novalidate", "-n", NAMESPACE, "-s"]).arg(check.signature);
    Ok(if quiet(command, check.bytes)? { KeyState::Unknown } else { KeyState::Wrong })
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
