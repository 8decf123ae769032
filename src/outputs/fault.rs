//! What may go wrong when an output is made.

use crate::diag::Finding;

/// An output that could not be made: a fault of the tool, or of a block of a page that the study changes.
#[derive(Debug, Clone, PartialEq)]
pub struct Fault {
    text: String,
    finding: Option<Box<Finding>>,
}

impl Fault {
    /// A fault of the tool.
    pub(super) fn new(text: impl Into<String>) -> Self {
        Self { text: text.into(), finding: None }
    }

    /// A block of a page that cannot be printed.
    pub(super) fn of_block(finding: Finding) -> Self {
        Self { text: finding.message.clone(), finding: Some(Box::new(finding)) }
    }

    /// What is wrong with the block, where it is one.
    pub(super) fn finding(self) -> Option<Finding> {
        self.finding.map(|finding| *finding)
    }
}

impl std::fmt::Display for Fault {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.text)
    }
}

impl std::error::Error for Fault {}
