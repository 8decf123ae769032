//! Bytes that lie elsewhere, as in a file on a disk, and are read piece by piece.

use std::io;
use std::sync::Arc;

/// Bytes of a piece, and room behind them; what reads them and what it reads from may both hold on to it.
pub type Piece = Arc<Vec<u8>>;

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

    /// Fills the first bytes of a piece with so many from a place on. Its room is used again unless somebody else holds it.
    ///
    /// # Errors
    /// Where they cannot be read, or where fewer are left.
    fn fill(&self, at: usize, length: usize, piece: &mut Piece) -> io::Result<()> {
        if Arc::get_mut(piece).is_none() {
            *piece = Piece::default();
        }
        let Some(room) = Arc::get_mut(piece) else { return Ok(()) };
        // What is longer than any piece before is zeroed once and then used again.
        if room.len() < length {
            room.resize(length, 0);
        }
        self.read_at(at, room.get_mut(..length).unwrap_or_default())
    }
}
