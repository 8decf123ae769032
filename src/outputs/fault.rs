//! What may go wrong when an output is made.

/// An output that could not be made: a fault of the tool, never of the study.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fault(pub(super) String);

impl std::fmt::Display for Fault {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.0)
    }
}

impl std::error::Error for Fault {}
