//! The chain through a record's entries, and the seal under it.
//!
//! An entry's bytes run from its `- entry:` up to, not including, its `chain:` line, line ends LF. Its chain value is the
//! first 16 hexadecimal digits of the SHA-256 over the chain value before and these bytes. The value before the first
//! entry is taken likewise of all bytes up to and including the line `entries:`.

use sha2::{Digest, Sha256};

/// Digits of a chain value.
const DIGITS: usize = 16;

/// SHA-256 as 64 hexadecimal digits.
pub fn sha256(bytes: &[u8]) -> String {
    hex(&Sha256::digest(bytes))
}

/// The chain value before the first entry: `head` ends with the line `entries:`.
pub fn chain_of_head(head: &[u8]) -> String {
    chain_value(&Sha256::digest(head))
}

/// The chain value behind an entry.
pub fn chain_after(before: &str, entry: &[u8]) -> String {
    chain_value(&Sha256::new().chain_update(before).chain_update(entry).finalize())
}

/// The line that carries a chain value.
pub fn chain_line(chain: &str) -> String {
    format!("  chain: \"{chain}\"\n")
}

fn chain_value(digest: &[u8]) -> String {
    let mut digits = hex(digest);
    digits.truncate(DIGITS);
    digits
}

fn hex(digest: &[u8]) -> String {
    let digits = digest.iter().flat_map(|byte| [byte >> 4, byte & 0xf]);
    digits.filter_map(|digit| char::from_digit(u32::from(digit), 16)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_hash_is_the_published_one() {
        // FIPS 180-4 example, as published with the Secure Hash Standard: the message "abc"
        assert_eq!(sha256(b"abc"), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
        assert_eq!(chain_of_head(b"abc"), "ba7816bf8f01cfea");
        assert_eq!(chain_after("a", b"bc"), "ba7816bf8f01cfea");
    }
}
