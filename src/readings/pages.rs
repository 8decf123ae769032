//! The page behind each code that reading a file may raise.

use crate::diag::Page;

/// To be filled below.
pub static PAGES: &[Page] = &[];
