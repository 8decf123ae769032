//! Bytes that lie elsewhere, as in a file on a disk, and are read piece by piece.

use std::io;

/// Bytes that can be read from any place on.
///
/// A large file need not be held as a whole: what reads it asks for pieces, perhaps from several threads.
pub trait Stored: Sync {
    /// How many bytes there are.
    fn length(&self) -> usize;

    /// Fills a piece with the bytes from a place on.
    ///
    /// # Errors
    /// Where they cannot be read, or where fewer are left.
    fn read_at(&self, at: usize, piece: &mut [u8]) -> io::Result<()>;
}
