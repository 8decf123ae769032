//! The bytes of one readings file, held in memory or read piece by piece, cut at line ends.

use crate::text::{Piece, Stored};
use std::borrow::Cow;
use std::io;

/// Where bytes are.
#[derive(Clone, Copy)]
pub(super) enum Bytes<'a> {
    /// In memory.
    Held(&'a [u8]),
    /// Elsewhere.
    Stored(&'a dyn Stored),
}

/// A line is mostly shorter; a longer one costs a second look.
const LINE: usize = 1 << 10;

impl<'a> Bytes<'a> {
    /// How many there are.
    pub(super) fn length(self) -> usize {
        match self {
            Self::Held(bytes) => bytes.len(),
            Self::Stored(stored) => stored.length(),
        }
    }

    /// All of them.
    ///
    /// # Errors
    /// Where they cannot be read.
    pub(super) fn whole(self) -> io::Result<Cow<'a, [u8]>> {
        match self {
            Self::Held(bytes) => Ok(Cow::Borrowed(bytes)),
            Self::Stored(stored) => {
                let mut bytes = vec![0; stored.length()];
                stored.read_at(0, &mut bytes)?;
                Ok(Cow::Owned(bytes))
            }
        }
    }

    /// The whole lines that begin in a stretch, and where the first of them begins. A line begins at `origin` and behind
    /// every line feed.
    ///
    /// # Errors
    /// Where they cannot be read.
    pub(super) fn lines<'b>(
        self,
        origin: usize,
        (from, to): (usize, usize),
        buffer: &'b mut Piece,
    ) -> io::Result<(usize, &'b [u8])>
    where
        'a: 'b,
    {
        let (length, first) = (self.length(), from.saturating_sub(1).max(origin));
        let mut upto = if to < length { (to + LINE).min(length) } else { length };
        loop {
            let piece = match self {
                Self::Held(bytes) => bytes.get(first..upto).unwrap_or_default(),
                Self::Stored(stored) => {
                    let wanted = upto.saturating_sub(first);
                    stored.fill(first, wanted, buffer)?;
                    buffer.get(..wanted).unwrap_or_default()
                }
            };
            let behind = |at: usize| {
                let rest = piece.get(at..).unwrap_or_default();
                rest.iter().position(|&byte| byte == b'\n').map(|length| at + length + 1)
            };
            let start = if from <= origin { Some(0) } else { behind(0) };
            let end = if to >= length { Some(piece.len()) } else { behind(to - 1 - first) };
            // Without a line feed behind it the last line ends with the file.
            let ends = upto == length;
            let (start, end) =
                if ends { (start.or(Some(piece.len())), end.or(Some(piece.len()))) } else { (start, end) };
            match (start, end) {
                (Some(start), Some(end)) => {
                    let start = start.min(end);
                    // The borrow of the piece ends here for the compiler, so it is asked for again.
                    let all = match self {
                        Self::Held(bytes) => bytes.get(first..upto).unwrap_or_default(),
                        Self::Stored(_) => buffer.as_slice(),
                    };
                    return Ok((first + start, all.get(start..end).unwrap_or_default()));
                }
                _ => upto = (upto + (to - from).max(LINE)).min(length),
            }
        }
    }
}
