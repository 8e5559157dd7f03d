//! SHA-256 digests (FIPS 180-4) as hexadecimal digits.

use sha2::{Digest as _, Sha256};

/// That of some bytes.
#[must_use]
pub fn digest(bytes: &[u8]) -> String {
    hex(&Sha256::digest(bytes))
}

/// That of several parts; each goes in with its length, so that none can run into the next.
#[must_use]
pub fn digest_of(parts: &[&[u8]]) -> String {
    let mut hasher = Sha256::new();
    for part in parts {
        hasher.update((part.len() as u64).to_le_bytes());
        hasher.update(part);
    }
    hex(&hasher.finalize())
}

fn hex(bytes: &[u8]) -> String {
    const DIGITS: &[u8; 16] = b"0123456789abcdef";
    let digit = |n: u8| char::from(DIGITS[usize::from(n & 15)]);
    bytes.iter().flat_map(|b| [digit(b >> 4), digit(*b)]).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Check values: FIPS 180-2, appendix B.1 ("abc"); the empty text is known from the examples published with it.
    #[test]
    fn digests_are_sha_256() {
        assert_eq!(digest(b"abc"), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
        assert_eq!(digest(b""), "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
        assert_ne!(digest_of(&[b"ab", b"c"]), digest_of(&[b"a", b"bc"]));
    }
}
