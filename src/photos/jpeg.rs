//! JPEG without metadata: segments of the picture stay, what a camera adds goes, except which way up it was held.
//!
//! Markers are those of ISO/IEC 10918-1, annex B; Exif is CIPA DC-008, 4.5.

use super::Clean;

/// Walks the file once. Kept are the JFIF head, colour profile and colour transform, without which a picture looks
/// otherwise; gone are Exif, XMP, comments, small copies, and whatever stands behind the picture.
pub(super) fn clean(bytes: &[u8]) -> Option<Clean> {
    if !bytes.starts_with(&[0xff, 0xd8]) {
        return None;
    }
    let (mut head, mut rest) = (Vec::new(), Vec::new());
    let (mut turned, mut size, mut scans) = (None, None, 0_u32);
    let mut at = 2;
    loop {
        let (marker, after) = marker(bytes, at)?;
        at = after;
        match marker {
            0xd9 if scans == 0 => return None,
            0xd9 => break,
            0x01 | 0xd0..=0xd7 => {
                rest.extend([0xff, marker]);
                continue;
            }
            _ => {}
        }
        let length = bytes.get(at..at + 2)?;
        let length = usize::from(u16::from_be_bytes([length[0], length[1]]));
        let segment = bytes.get(at..at + length)?;
        let content = segment.get(2..)?;
        at += length;
        let stays = match marker {
            0xe0 => {
                head.extend(jfif(content));
                false
            }
            0xe1 => {
                turned = turned.or_else(|| orientation(content));
                false
            }
            0xe2 => content.starts_with(b"ICC_PROFILE\0"),
            0xee => content.starts_with(b"Adobe"),
            0xe3..=0xef | 0xfe => false,
            0xc0..=0xc3 | 0xc5..=0xc7 | 0xc9..=0xcb | 0xcd..=0xcf => {
                size = Some(dimensions(content)?);
                true
            }
            _ => true,
        };
        if stays {
            rest.extend([0xff, marker]);
            rest.extend_from_slice(segment);
        }
        if marker == 0xda {
            scans += 1;
            let end = at + scan(&bytes[at..])?;
            rest.extend_from_slice(&bytes[at..end]);
            at = end;
        }
    }
    let (width, height) = size?;
    let turned = turned.filter(|turned| (2..=8).contains(turned));
    let mut out = vec![0xff, 0xd8];
    out.extend(head);
    out.extend(turned.map(exif).unwrap_or_default());
    out.extend(rest);
    out.extend([0xff, 0xd9]);
    let upright = turned.is_none_or(|turned| turned < 5);
    Some(Clean { bytes: out, size: if upright { (width, height) } else { (height, width) } })
}

/// The marker at a place, and where it ends. Bytes 0xff may fill the room before it.
fn marker(bytes: &[u8], at: usize) -> Option<(u8, usize)> {
    if *bytes.get(at)? != 0xff {
        return None;
    }
    let filled = bytes[at..].iter().take_while(|&&byte| byte == 0xff).count();
    let marker = *bytes.get(at + filled)?;
    if marker == 0 { None } else { Some((marker, at + filled + 1)) }
}

/// Length of the coded data up to the next marker that is no restart.
fn scan(bytes: &[u8]) -> Option<usize> {
    let ends = |pair: &[u8]| pair[0] == 0xff && !matches!(pair[1], 0x00 | 0xff | 0xd0..=0xd7);
    let end = bytes.windows(2).position(ends)?;
    // Bytes that only fill belong to the marker.
    Some(bytes[..end].iter().rposition(|&byte| byte != 0xff).map_or(0, |last| last + 1))
}

/// The head of JFIF without its small copy of the picture.
fn jfif(content: &[u8]) -> Vec<u8> {
    match content.get(..12) {
        Some(known) if known.starts_with(b"JFIF\0") => {
            [&[0xff, 0xe0, 0x00, 0x10][..], known, &[0, 0]].concat()
        }
        _ => Vec::new(),
    }
}

/// Width and height of a frame.
fn dimensions(content: &[u8]) -> Option<(u32, u32)> {
    let side = |at: usize| Some(u32::from(u16::from_be_bytes([*content.get(at)?, *content.get(at + 1)?])));
    match (side(3), side(1)) {
        (Some(width), Some(height)) if width > 0 && height > 0 => Some((width, height)),
        _ => None,
    }
}

/// Which way up the camera was held, 1 to 8, of an Exif segment.
fn orientation(content: &[u8]) -> Option<u8> {
    let tiff = content.strip_prefix(b"Exif\0\0")?;
    let little = match tiff.get(..2)? {
        b"II" => true,
        b"MM" => false,
        _ => return None,
    };
    let short = |at: usize| {
        let pair = [*tiff.get(at)?, *tiff.get(at + 1)?];
        Some(if little { u16::from_le_bytes(pair) } else { u16::from_be_bytes(pair) })
    };
    let long = |at: usize| {
        let (first, second) = (u32::from(short(at)?), u32::from(short(at + 2)?));
        Some(if little { second << 16 | first } else { first << 16 | second })
    };
    let start = usize::try_from(long(4)?).ok()?;
    let entries = (0..usize::from(short(start)?)).map(|n| start + 2 + 12 * n);
    let found = entries.into_iter().find(|&at| short(at) == Some(0x0112))?;
    u8::try_from(short(found + 8)?).ok()
}

/// An Exif segment that says which way up, and nothing else.
fn exif(turned: u8) -> Vec<u8> {
    let head = [0xff, 0xe1, 0x00, 0x22];
    let tiff =
        [0x4d, 0x4d, 0x00, 0x2a, 0, 0, 0, 8, 0, 1, 0x01, 0x12, 0, 3, 0, 0, 0, 1, 0, turned, 0, 0, 0, 0, 0, 0];
    [&head[..], b"Exif\0\0", &tiff].concat()
}

#[cfg(test)]
mod tests {
    use super::{clean, exif};

    const FRAME: [u8; 13] = [0xff, 0xc0, 0, 11, 8, 0, 3, 0, 5, 1, 1, 0x11, 0];
    const SCAN: [u8; 14] = [0xff, 0xda, 0, 8, 1, 1, 0, 0, 63, 0, 0x12, 0xff, 0x00, 0x34];

    /// A file with segments before its frame; the coded data is not that of a picture.
    fn file(before: &[&[u8]], behind: &[u8]) -> Vec<u8> {
        [&[0xff, 0xd8][..], &before.concat(), &FRAME, &SCAN, &[0xff, 0xd9], behind].concat()
    }

    fn segment(marker: u8, content: &[u8]) -> Vec<u8> {
        let length = u16::try_from(content.len() + 2).unwrap().to_be_bytes();
        [&[0xff, marker][..], &length, content].concat()
    }

    #[test]
    fn what_a_camera_adds_goes_and_the_picture_stays() {
        let profile = segment(0xe2, b"ICC_PROFILE\0\x01\x01colours");
        let added = [
            segment(0xe0, b"JFIF\0\x01\x01\0\0\x01\0\x01\x01\x01abc"),
            segment(0xe1, b"XMP packet with a place"),
            segment(0xed, b"Photoshop\0name"),
            segment(0xfe, b"serial number"),
            profile.clone(),
        ];
        let known: Vec<&[u8]> = added.iter().map(Vec::as_slice).collect();
        let found = clean(&file(&known, b"a film behind it")).unwrap();
        let jfif = segment(0xe0, b"JFIF\0\x01\x01\0\0\x01\0\x01\0\0");
        assert_eq!(found.bytes, file(&[&jfif, &profile], b""));
        assert_eq!(found.size, (5, 3));
    }

    #[test]
    fn which_way_up_stays_and_nothing_else_of_exif() {
        // Little-endian, one entry before it, and a maker's note behind.
        let tiff = b"Exif\0\0II*\0\x08\0\0\0\x02\0\x0f\x01\x02\0\x04\0\0\0Cam\0\x12\x01\x03\0\x01\0\0\0\x06\0\0\0\0\0\0\0secret";
        let found = clean(&file(&[&segment(0xe1, tiff)], b"")).unwrap();
        assert_eq!(found.bytes, file(&[&exif(6)], b""));
        assert_eq!(found.size, (3, 5));
        assert_eq!(clean(&found.bytes).unwrap(), found);
    }

    #[test]
    fn a_file_that_is_cut_anywhere_is_told() {
        let whole = file(&[&segment(0xe1, b"x")], b"");
        for end in 2..whole.len() {
            assert_eq!(clean(&whole[..end]), None, "{end}");
        }
        assert_eq!(clean(b"GIF89a"), None);
        assert_eq!(clean(&[0xff, 0xd8, 0xff, 0xd9]), None);
        assert_eq!(clean(&[0xff, 0xd8, 0x00]), None);
    }
}
