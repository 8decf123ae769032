//! Remembers what the texts of lately read fields meant, so that rows in any order are looked up quickly.

/// Names of more bytes are not remembered: with what else stands in its slot one takes half of what a processor fetches at once.
const NAME: usize = 26;

/// So many texts of one hash are remembered.
const WAYS: usize = 4;

/// A text and what it meant.
#[derive(Debug, Clone, Copy)]
struct Slot<T, const LONGEST: usize> {
    text: [u8; LONGEST],
    /// More than the longest where nothing is remembered.
    length: u8,
    /// Bits of the hash that the place does not tell.
    tag: u8,
    meant: T,
}

/// A table with some neighbouring places for each hash: a new text takes the place of the oldest of them. Texts of more than
/// `LONGEST` bytes are not remembered.
///
/// It only spares a search. Texts that share their places cost that search, so no file can make it slow
/// in the way in which texts of one hash make a growing table slow. Texts are kept, not borrowed, since
/// what is read next may lie where they lay.
#[derive(Debug)]
pub(super) struct Recent<T, const LONGEST: usize = NAME> {
    /// None until something is remembered.
    places: Vec<[Slot<T, LONGEST>; WAYS]>,
    room: usize,
    /// What stands where nothing is remembered.
    anything: T,
}

impl<T: Copy, const LONGEST: usize> Recent<T, LONGEST> {
    /// Room for about so many different texts; anything stands where nothing is remembered yet.
    pub(super) fn new(texts: usize, anything: T) -> Self {
        Self { places: Vec::new(), room: texts.clamp(16, 1 << 16).next_power_of_two(), anything }
    }

    /// What a text meant, if it is remembered.
    pub(super) fn get(&self, text: &[u8]) -> Option<T> {
        let hash = hash(text);
        let slots = self.places.get(place(hash, self.room))?;
        let is_it = |slot: &&Slot<T, LONGEST>| {
            slot.tag == tag(hash) && slot.text.get(..usize::from(slot.length)) == Some(text)
        };
        slots.iter().find(is_it).map(|slot| slot.meant)
    }

    /// Remembers a text that is not remembered yet.
    pub(super) fn put(&mut self, text: &[u8], meant: T) {
        let (Ok(length), true) = (u8::try_from(text.len()), text.len() <= LONGEST) else { return };
        let empty = Slot { text: [0; LONGEST], length: u8::MAX, tag: 0, meant: self.anything };
        if self.places.is_empty() {
            self.places = vec![[empty; WAYS]; self.room];
        }
        let hash = hash(text);
        let Some(slots) = self.places.get_mut(place(hash, self.room)) else { return };
        slots.rotate_right(1);
        let mut own = Slot { length, tag: tag(hash), meant, ..empty };
        if let Some(bytes) = own.text.get_mut(..text.len()) {
            bytes.copy_from_slice(text);
        }
        slots[0] = own;
    }
}

/// Of the length and all bytes, eight at a time; the last eight may count twice.
fn hash(bytes: &[u8]) -> u64 {
    let Some(tail) = bytes.last_chunk::<8>() else {
        let own = bytes.iter().fold(0, |sum, &byte| sum << 8 | u64::from(byte));
        return spread(own ^ (bytes.len() as u64) << 56);
    };
    let (chunks, _) = bytes.as_chunks::<8>();
    let whole = chunks.iter().fold(0, |sum: u64, chunk| sum.rotate_left(23) ^ u64::from_le_bytes(*chunk));
    spread(whole ^ u64::from_le_bytes(*tail).rotate_left(11) ^ bytes.len() as u64)
}

fn tag(hash: u64) -> u8 {
    (hash >> 24).to_le_bytes()[0]
}

/// A place below `places`, a power of two from 2 on: the topmost bits, on which every bit of what was spread bears.
fn place(hash: u64, places: usize) -> usize {
    usize::try_from(hash >> (64 - places.trailing_zeros())).unwrap_or(0)
}

/// Spreads a number by its product with the golden section (Knuth, volume 3, 6.4).
fn spread(number: u64) -> u64 {
    number.wrapping_mul(0x9e37_79b9_7f4a_7c15)
}

/// Spreads a number over `places`, a power of two from 2 on.
pub(super) fn mix(number: u64, places: usize) -> usize {
    place(spread(number), places)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_long_text_and_no_text_are_not_taken_for_others() {
        let mut recent: Recent<i32> = Recent::new(16, 0);
        assert_eq!(recent.get(b""), None);
        recent.put(b"", 1);
        assert_eq!(recent.get(b""), Some(1));
        let long = b"a".repeat(NAME + 1);
        recent.put(&long, 2);
        assert_eq!((recent.get(&long), recent.get(&long[1..])), (None, None));
        recent.put(&long[1..], 3);
        assert_eq!((recent.get(&long), recent.get(&long[1..])), (None, Some(3)));
    }

    #[test]
    fn a_text_is_remembered_until_another_takes_its_place() {
        let texts: Vec<Vec<u8>> = (0..500).map(|n| format!("P{n:03}-R01").into_bytes()).collect();
        let mut recent: Recent<usize> = Recent::new(16, 0);
        for (meant, text) in texts.iter().enumerate() {
            assert_eq!(recent.get(text), None);
            recent.put(text, meant);
            assert_eq!(recent.get(text), Some(meant));
        }
        let left = texts.iter().enumerate().filter(|(meant, text)| recent.get(text) == Some(*meant)).count();
        assert!((48..=64).contains(&left), "{left} of 64 places");
    }
}
