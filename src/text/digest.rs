//! The SHA-256 of bytes as the pages print it.

use super::Stored;
use sha2::{Digest, Sha256};
use std::io;

/// SHA-256 (FIPS 180-4) of the parts one after another: 64 hexadecimal digits in small letters.
pub fn sha256(parts: &[&[u8]]) -> String {
    let mut hash = Sha256::new();
    for part in parts {
        hash.update(part);
    }
    printed(hash)
}

/// The same of bytes that are read piece by piece.
///
/// # Errors
/// Where they cannot be read.
pub fn sha256_stored(stored: &dyn Stored) -> io::Result<String> {
    const PIECE: usize = 1 << 17;
    let (mut hash, mut piece) = (Sha256::new(), vec![0; PIECE.min(stored.length())]);
    let mut at = 0;
    while at < stored.length() {
        let own = (stored.length() - at).min(PIECE);
        let piece = piece.get_mut(..own).unwrap_or_default();
        stored.read_at(at, piece)?;
        hash.update(&piece);
        at += own;
    }
    Ok(printed(hash))
}

fn printed(hash: Sha256) -> String {
    use std::fmt::Write;
    hash.finalize().iter().fold(String::new(), |mut text, byte| {
        let _ = write!(text, "{byte:02x}");
        text
    })
}

/// The digest of a script as the policy of a page names it (Content Security Policy Level 3): `sha256-` and
/// base64 (RFC 4648).
pub fn source_hash(script: &str) -> String {
    const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut text = "sha256-".to_owned();
    for three in Sha256::digest(script).chunks(3) {
        let bits =
            (0..3).fold(0_usize, |bits, at| bits << 8 | usize::from(three.get(at).copied().unwrap_or(0)));
        for at in 0..4 {
            let letter = LETTERS[bits >> (18 - 6 * at) & 63];
            text.push(if at <= three.len() { char::from(letter) } else { '=' });
        }
    }
    text
}

#[cfg(test)]
mod tests {
    use super::{sha256, sha256_stored, source_hash};
    use crate::text::Stored;
    use std::io;

    /// Bytes that are copied when they are asked for.
    struct Far(Vec<u8>);

    impl Stored for Far {
        fn length(&self) -> usize {
            self.0.len()
        }

        fn read_at(&self, at: usize, piece: &mut [u8]) -> io::Result<()> {
            piece.copy_from_slice(self.0.get(at..at + piece.len()).ok_or(io::ErrorKind::UnexpectedEof)?);
            Ok(())
        }
    }

    #[test]
    fn bytes_that_are_read_in_pieces_have_the_digest_of_the_whole() {
        for length in [0, 1, (1 << 17) - 1, 1 << 17, (1 << 17) + 1, 300_000] {
            let far = Far((0..length).map(|at: usize| u8::try_from(at * 7 % 251).unwrap()).collect());
            assert_eq!(sha256_stored(&far).unwrap(), sha256(&[&far.0]), "{length}");
        }
    }

    #[test]
    fn the_message_of_the_standard() {
        // FIPS 180-2, appendix B.1.
        let expected = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
        assert_eq!(sha256(&[b"abc"]), expected);
        assert_eq!(sha256(&[b"a", b"", b"bc"]), expected);
    }

    #[test]
    fn the_policy_of_a_page_names_a_script_in_base64() {
        // The same message; its digest in base64 by RFC 4648, section 4, worked from the digits above.
        assert_eq!(source_hash("abc"), "sha256-ungWv48Bz+pBQUDeXa4iI7ADYaOWF3qctBD/YfIAFa0=");
    }
}
