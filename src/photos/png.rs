//! PNG without metadata: chunks of the picture and of its colours stay. Chunks and their check are those of ISO/IEC 15948.

use super::Clean;

/// The first bytes of every file.
pub(super) const SIGNATURE: [u8; 8] = *b"\x89PNG\r\n\x1a\n";

/// Chunks that are no part of the picture itself, and without which it looks otherwise.
const LOOKS: [&[u8]; 7] = [b"tRNS", b"gAMA", b"cHRM", b"sRGB", b"iCCP", b"sBIT", b"pHYs"];

/// Walks the file once, and holds every chunk against its check.
pub(super) fn clean(bytes: &[u8]) -> Option<Clean> {
    let mut out = SIGNATURE.to_vec();
    let mut size = None;
    let mut data = false;
    let mut at = SIGNATURE.len();
    loop {
        let length = bytes.get(at..at + 4).and_then(number)?;
        let end = usize::try_from(length).ok().and_then(|length| at.checked_add(12)?.checked_add(length));
        let chunk = end.and_then(|end| bytes.get(at..end))?;
        let (kind, content, check) = (&chunk[4..8], &chunk[8..chunk.len() - 4], &chunk[chunk.len() - 4..]);
        if number(check) != Some(crc(&chunk[4..chunk.len() - 4])) {
            return None;
        }
        match kind {
            b"IHDR" => size = sides(content),
            b"IDAT" => data = true,
            _ => {}
        }
        // A capital letter first marks what a picture cannot be shown without.
        if kind[0].is_ascii_uppercase() || LOOKS.contains(&kind) {
            out.extend_from_slice(chunk);
        }
        if kind == b"IEND" {
            break;
        }
        at += chunk.len();
    }
    let size = size.filter(|_| data)?;
    Some(Clean { bytes: out, size })
}

fn number(bytes: &[u8]) -> Option<u32> {
    Some(u32::from_be_bytes(bytes.get(..4)?.try_into().ok()?))
}

fn sides(content: &[u8]) -> Option<(u32, u32)> {
    let (width, height) = (number(content)?, number(content.get(4..)?)?);
    (width > 0 && height > 0).then_some((width, height))
}

/// The check of a chunk: ISO/IEC 15948, annex D, on one bit after the other.
fn crc(bytes: &[u8]) -> u32 {
    let step = |crc: u32, _| if crc & 1 == 1 { 0xedb8_8320 ^ (crc >> 1) } else { crc >> 1 };
    let table: Vec<u32> = (0..256).map(|byte| (0..8).fold(byte, step)).collect();
    !bytes.iter().fold(u32::MAX, |crc, &byte| table[usize::from(crc.to_le_bytes()[0] ^ byte)] ^ (crc >> 8))
}

#[cfg(test)]
mod tests {
    use super::{SIGNATURE, clean, crc};

    fn chunk(kind: &[u8], content: &[u8]) -> Vec<u8> {
        let length = u32::try_from(content.len()).unwrap().to_be_bytes();
        let checked = [kind, content].concat();
        [&length[..], &checked, &crc(&checked).to_be_bytes()].concat()
    }

    fn file(more: &[&[u8]]) -> Vec<u8> {
        let head = chunk(b"IHDR", &[0, 0, 0, 4, 0, 0, 0, 2, 8, 0, 0, 0, 0]);
        [&SIGNATURE[..], &head, &more.concat(), &chunk(b"IDAT", b"data"), &chunk(b"IEND", b"")].concat()
    }

    #[test]
    fn the_check_is_the_published_one() {
        // The usual check value of this polynomial, and the IEND chunk of every file.
        assert_eq!(crc(b"123456789"), 0xcbf4_3926);
        assert_eq!(crc(b"IEND"), 0xae42_6082);
    }

    #[test]
    fn texts_go_and_colours_stay() {
        let (text, exif, gamma) =
            (chunk(b"tEXt", b"Author\0Ada"), chunk(b"eXIf", b"MM"), chunk(b"gAMA", &[0, 0, 0xb1, 0x8f]));
        let found = clean(&[file(&[&text, &exif, &gamma]), b"behind".to_vec()].concat()).unwrap();
        assert_eq!(found.bytes, file(&[&gamma]));
        assert_eq!(found.size, (4, 2));
    }

    #[test]
    fn a_file_that_is_cut_or_damaged_is_told() {
        let whole = file(&[]);
        for end in 8..whole.len() {
            assert_eq!(clean(&whole[..end]), None, "{end}");
        }
        let mut damaged = whole.clone();
        damaged[18] ^= 1;
        assert_eq!(clean(&damaged), None);
    }
}
