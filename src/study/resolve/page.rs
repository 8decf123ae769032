//! How a page of this phase is put together.

use crate::diag::{Page, Severity};

pub(super) type Words = [&'static str; 3];
pub(super) type Examples = [&'static str; 2];

pub(super) const fn page(code: &'static str, [what, why, mend]: Words, [bad, good]: Examples) -> Page {
    Page {
        code,
        severity: Severity::Error,
        what,
        why,
        mend,
        bad,
        good,
        source: "a rule of the study language",
    }
}
