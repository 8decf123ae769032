//! Pages of the findings that binding a study can give.

use crate::diag::Page;

/// Every code of this phase.
pub static PAGES: &[Page] = &[];
