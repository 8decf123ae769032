//! Remembers what the texts of lately read fields meant, so that rows in any order are looked up quickly.

/// Texts of more bytes are not remembered: with its length and a number one takes half of what a processor fetches at once.
const LONGEST: usize = 27;

/// A text and what it meant.
#[derive(Debug, Clone, Copy)]
struct Slot<T> {
    text: [u8; LONGEST],
    /// More than the longest where nothing is remembered.
    length: u8,
    meant: T,
}

/// A table with two neighbouring places for each hash: a new text takes the place of the older of the two.
///
/// It only spares a search. Texts that share a place cost that search, so no file can make it slow
/// in the way in which texts of one hash make a growing table slow. Texts are kept, not borrowed, since
/// what is read next may lie where they lay.
#[derive(Debug)]
pub(super) struct Recent<T> {
    places: Vec<Slot<T>>,
}

impl<T: Copy> Recent<T> {
    /// Room for about so many different texts; anything stands where nothing is remembered yet.
    pub(super) fn new(texts: usize, anything: T) -> Self {
        let places = texts.clamp(16, 1 << 16).next_power_of_two() * 4;
        Self { places: vec![Slot { text: [0; LONGEST], length: u8::MAX, meant: anything }; places] }
    }

    /// What a text meant, if it is remembered.
    pub(super) fn get(&self, text: &str) -> Option<T> {
        let place = self.place(text);
        self.at(place, text).or_else(|| self.at(place ^ 1, text))
    }

    fn at(&self, place: usize, text: &str) -> Option<T> {
        let slot = self.places.get(place)?;
        let known = slot.text.get(..usize::from(slot.length))?;
        (known == text.as_bytes()).then_some(slot.meant)
    }

    /// Remembers a text that is not remembered yet.
    pub(super) fn put(&mut self, text: &str, meant: T) {
        let place = self.place(text);
        let (Ok(length), true) = (u8::try_from(text.len()), text.len() <= LONGEST) else { return };
        self.places.swap(place, place ^ 1);
        let Some(slot) = self.places.get_mut(place) else { return };
        if let Some(own) = slot.text.get_mut(..text.len()) {
            own.copy_from_slice(text.as_bytes());
            (slot.length, slot.meant) = (length, meant);
        }
    }

    fn place(&self, text: &str) -> usize {
        place(text.as_bytes(), self.places.len())
    }
}

/// A place below `places`, a power of two, from the length and the first and last eight bytes.
fn place(bytes: &[u8], places: usize) -> usize {
    let (head, tail) = match (bytes.first_chunk::<8>(), bytes.last_chunk::<8>()) {
        (Some(head), Some(tail)) => (u64::from_le_bytes(*head), u64::from_le_bytes(*tail)),
        _ => (bytes.iter().fold(0, |sum, &byte| sum << 8 | u64::from(byte)), 0),
    };
    mix(head ^ tail.rotate_left(23) ^ bytes.len() as u64, places)
}

/// Spreads a number over `places`, a power of two: multiplication by the golden section (Knuth, volume 3, 6.4).
pub(super) fn mix(number: u64, places: usize) -> usize {
    let spread = number.wrapping_mul(0x9e37_79b9_7f4a_7c15) >> 32;
    usize::try_from(spread).unwrap_or(0) & (places - 1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_long_text_and_no_text_are_not_taken_for_others() {
        let mut recent = Recent::new(16, 0);
        assert_eq!(recent.get(""), None);
        recent.put("", 1);
        assert_eq!(recent.get(""), Some(1));
        let long = "a".repeat(LONGEST + 1);
        recent.put(&long, 2);
        assert_eq!((recent.get(&long), recent.get(&long[1..])), (None, None));
        recent.put(&long[1..], 3);
        assert_eq!((recent.get(&long), recent.get(&long[1..])), (None, Some(3)));
    }

    #[test]
    fn a_text_is_remembered_until_another_takes_its_place() {
        let texts: Vec<String> = (0..500).map(|n| format!("P{n:03}-R01")).collect();
        let mut recent = Recent::new(16, 0);
        for (meant, text) in texts.iter().enumerate() {
            assert_eq!(recent.get(text), None);
            recent.put(text, meant);
            assert_eq!(recent.get(text), Some(meant));
        }
        let left = texts.iter().enumerate().filter(|(meant, text)| recent.get(text) == Some(*meant)).count();
        assert!((20..=64).contains(&left), "{left} of 64 places");
    }
}
