//! The SHA-256 of bytes as the pages print it.

use sha2::{Digest, Sha256};

/// SHA-256 (FIPS 180-4) of the parts one after another: 64 hexadecimal digits in small letters.
pub fn sha256(parts: &[&[u8]]) -> String {
    use std::fmt::Write;
    let mut hash = Sha256::new();
    for part in parts {
        hash.update(part);
    }
    hash.finalize().iter().fold(String::new(), |mut text, byte| {
        let _ = write!(text, "{byte:02x}");
        text
    })
}

#[cfg(test)]
mod tests {
    use super::sha256;

    #[test]
    fn the_message_of_the_standard() {
        // FIPS 180-2, appendix B.1.
        let expected = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
        assert_eq!(sha256(&[b"abc"]), expected);
        assert_eq!(sha256(&[b"a", b"", b"bc"]), expected);
    }
}
