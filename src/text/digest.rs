//! The SHA-256 of bytes as the pages print it.

use super::stored::{Piece, Stored};
use sha2::{Digest, Sha256};
use std::collections::BTreeMap;
use std::io;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

/// SHA-256 (FIPS 180-4) of the parts one after another: 64 hexadecimal digits in small letters.
pub fn sha256(parts: &[&[u8]]) -> String {
    let mut hash = Sha256::new();
    for part in parts {
        hash.update(part);
    }
    printed(hash)
}

/// Stored bytes that are hashed while others read them, so that they are fetched once and what is hashed is what was read.
///
/// Pieces may be read in any order and by several threads. One whose turn has not come is kept until those before it were read,
/// or fetched again where many wait already; what nobody read is read by [`Hashed::sha256`].
pub struct Hashed<'a> {
    stored: &'a dyn Stored,
    state: Mutex<State>,
}

struct State {
    /// Nothing while a thread is at it.
    hash: Option<Sha256>,
    /// Where the bytes begin that are not hashed yet.
    next: usize,
    /// Pieces that begin behind it, by where they begin: how long, and the bytes where they are kept.
    waiting: BTreeMap<usize, (usize, Option<Piece>)>,
    /// Room of pieces that are not in use.
    spare: Vec<Vec<u8>>,
}

impl State {
    /// No more pieces are kept than this.
    const MOST: usize = 8;

    fn keep(&mut self, at: usize, length: usize, piece: Piece) {
        let kept = self.waiting.values().filter(|(_, bytes)| bytes.is_some()).count();
        self.waiting.insert(at, (length, Some(piece).filter(|_| kept < Self::MOST)));
    }

    /// Takes the room of a piece back, if nobody else holds it.
    fn take_back(&mut self, piece: Option<Piece>) {
        self.spare.extend(piece.and_then(|piece| Arc::try_unwrap(piece).ok()));
    }

    /// The piece that holds the next byte; those before it are let go.
    fn turn(&mut self) -> Option<(usize, usize, Option<Piece>)> {
        while let Some(first) = self.waiting.first_entry().filter(|first| *first.key() <= self.next) {
            let (at, (length, bytes)) = first.remove_entry();
            if at + length > self.next {
                return Some((at, length, bytes));
            }
            self.take_back(bytes);
        }
        None
    }
}

impl<'a> Hashed<'a> {
    /// Nothing is hashed yet.
    pub fn new(stored: &'a dyn Stored) -> Self {
        let state = State { hash: Some(Sha256::new()), next: 0, waiting: BTreeMap::new(), spare: Vec::new() };
        Self { stored, state: Mutex::new(state) }
    }

    fn state(&self) -> MutexGuard<'_, State> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Hashes a piece and those that wait for it, or leaves it, by its bytes in room that is kept, to the thread that will.
    fn follow(&self, at: usize, piece: &[u8], keep: impl FnOnce() -> Piece) -> io::Result<()> {
        let (mut hash, mut next) = {
            let mut state = self.state();
            if at + piece.len() <= state.next {
                return Ok(());
            }
            let next = state.next;
            let Some(hash) = state.hash.take_if(|_| at <= next) else {
                state.keep(at, piece.len(), keep());
                return Ok(());
            };
            (hash, next)
        };
        hash.update(piece.get(next - at..).unwrap_or_default());
        next = at + piece.len();
        let mut done = None;
        loop {
            let mut state = self.state();
            state.take_back(done.take());
            state.next = next;
            let Some((at, length, kept)) = state.turn() else {
                state.hash = Some(hash);
                return Ok(());
            };
            let is_kept = kept.is_some();
            let room = if is_kept { None } else { state.spare.pop() };
            drop(state);
            let mut bytes = kept.unwrap_or_else(|| Piece::new(room.unwrap_or_default()));
            if !is_kept {
                self.stored.fill(at, length, &mut bytes)?;
            }
            hash.update(bytes.get(next - at..length).unwrap_or_default());
            next = at + length;
            done = Some(bytes);
        }
    }

    /// SHA-256 of all bytes: 64 hexadecimal digits in small letters.
    ///
    /// # Errors
    /// Where bytes cannot be read.
    pub fn sha256(self) -> io::Result<String> {
        const PIECE: usize = 1 << 17;
        let mut piece = vec![0; PIECE.min(self.stored.length())];
        // A thread that failed while it was at it has lost the hash.
        while let Some(next) = Some(self.state()).filter(|state| state.hash.is_some()).map(|state| state.next)
        {
            let own = self.stored.length().saturating_sub(next).min(PIECE);
            if own == 0 {
                break;
            }
            self.read_at(next, piece.get_mut(..own).unwrap_or_default())?;
        }
        let state = self.state.into_inner().unwrap_or_else(PoisonError::into_inner);
        state.hash.map(printed).ok_or_else(|| io::Error::other("a piece could not be fetched again"))
    }
}

impl Stored for Hashed<'_> {
    fn length(&self) -> usize {
        self.stored.length()
    }

    fn read_at(&self, at: usize, piece: &mut [u8]) -> io::Result<()> {
        self.stored.read_at(at, piece)?;
        self.follow(at, piece, || Piece::new(piece.to_vec()))
    }

    fn fill(&self, at: usize, length: usize, piece: &mut Piece) -> io::Result<()> {
        if Arc::get_mut(piece).is_none() {
            *piece = Piece::new(self.state().spare.pop().unwrap_or_default());
        }
        self.stored.fill(at, length, piece)?;
        self.follow(at, piece.get(..length).unwrap_or_default(), || Piece::clone(piece))
    }
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
    use super::{Hashed, Piece, Stored, sha256, source_hash};
    use std::sync::atomic::{AtomicUsize, Ordering};
    use std::{io, thread};

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

    fn far(length: usize) -> Far {
        Far((0..length).map(|at: usize| u8::try_from(at * 7 % 251).unwrap()).collect())
    }

    #[test]
    fn bytes_that_nobody_read_have_the_digest_of_the_whole() {
        for length in [0, 1, (1 << 17) - 1, 1 << 17, (1 << 17) + 1, 300_000] {
            let far = far(length);
            assert_eq!(Hashed::new(&far).sha256().unwrap(), sha256(&[&far.0]), "{length}");
        }
    }

    #[test]
    fn bytes_that_are_read_in_any_order_have_the_digest_of_the_whole() {
        let far = far(50_000);
        let whole = sha256(&[&far.0]);
        let mut state = 17_u64;
        // Knuth's MMIX numbers.
        let mut below = |bound: usize| {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            usize::try_from(state >> 33).unwrap() % bound
        };
        for round in 0..200 {
            let hashed = Hashed::new(&far);
            // Pieces that overlap, leave gaps and come again; sometimes more of them than are kept.
            let mut pieces: Vec<(usize, usize)> = Vec::new();
            for nth in 0..50_usize {
                let at = (nth * 1000).saturating_sub(below(30));
                if below(50) > 0 {
                    pieces.push((at, (1010 + below(60)).min(far.0.len() - at)));
                }
            }
            for _ in 0..[0, 5, 400][round % 3] {
                let (one, other) = (below(pieces.len()), below(pieces.len()));
                pieces.swap(one, other);
            }
            let next = AtomicUsize::new(0);
            let read = || {
                let mut room = Piece::default();
                while let Some(&(at, length)) = pieces.get(next.fetch_add(1, Ordering::Relaxed)) {
                    if at % 3 == 0 {
                        hashed.read_at(at, &mut vec![0; length]).unwrap();
                    } else {
                        hashed.fill(at, length, &mut room).unwrap();
                        assert_eq!(room[..length], far.0[at..at + length]);
                    }
                }
            };
            thread::scope(|scope| {
                for _ in 0..round % 4 {
                    scope.spawn(read);
                }
                read();
            });
            assert_eq!(hashed.sha256().unwrap(), whole, "{round}");
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
