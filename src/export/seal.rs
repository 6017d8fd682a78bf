//! The digest by which a file is known as one that the program made for a job, and that
//! nobody has changed since: so that it may be drawn anew.

use super::Format;
use sha2::{Digest, Sha256};
use std::fmt::Write as _;

/// How the files of a format carry the digest.
#[derive(Clone, Copy, Debug)]
pub struct Seal {
    /// The digest stands before the last of these.
    pub before: &'static [u8],
    /// The remark that holds it; as long for every digest.
    pub remark: fn(&str) -> Vec<u8>,
}

/// Bytes as hexadecimal digits.
pub(crate) fn hex(bytes: &[u8]) -> String {
    bytes.iter().fold(String::new(), |mut text, byte| {
        // Writing to a string cannot fail.
        let _ = write!(text, "{byte:02x}");
        text
    })
}

impl Format {
    /// `bytes` of a file with the SHA-256 over `owner`, the name of the job and its title, and
    /// over all of them.
    #[must_use]
    pub fn sealed(&self, mut bytes: Vec<u8>, owner: &str) -> Vec<u8> {
        let Some(at) = self.place(&bytes) else { return bytes };
        let mut hash = Sha256::new();
        hash.update(owner.len().to_le_bytes());
        hash.update(owner);
        hash.update(&bytes);
        let words = format!("strapwright-digest {}", hex(&hash.finalize()));
        bytes.splice(at..at, (self.seal.remark)(&words));
        bytes
    }

    /// Whether these are, to the byte, what [`sealed`](Self::sealed) gave for `owner`.
    pub fn is_sealed(&self, bytes: &[u8], owner: &str) -> bool {
        let Some(end) = self.place(bytes) else { return false };
        let blank = format!("strapwright-digest {:064}", 0);
        let Some(start) = end.checked_sub((self.seal.remark)(&blank).len()) else {
            return false;
        };
        let others = [&bytes[..start], &bytes[end..]].concat();
        self.sealed(others, owner) == bytes
    }

    fn place(&self, bytes: &[u8]) -> Option<usize> {
        let before = self.seal.before;
        bytes.windows(before.len()).rposition(|w| w == before)
    }
}

#[cfg(test)]
mod tests {
    use crate::export::FORMATS;

    #[test]
    fn a_file_is_known_until_a_byte_or_its_job_is_another() {
        for format in FORMATS {
            let plain = [b"one two ", format.seal.before, b" three"].concat();
            let sealed = format.sealed(plain.clone(), "belt");
            assert!(format.is_sealed(&sealed, "belt"), "{}", format.name);
            assert!(
                !format.is_sealed(&sealed, "bel") && !format.is_sealed(&plain, "belt")
            );
            for at in 0..sealed.len() {
                let mut changed = sealed.clone();
                changed[at] ^= 1;
                assert!(!format.is_sealed(&changed, "belt"), "{} {at}", format.name);
            }
            let longer = [&sealed[..], b" a remark", format.seal.before].concat();
            assert!(!format.is_sealed(&longer, "belt"), "{}", format.name);
        }
    }
}
