//! The standard output: the one place that prints.

use super::trouble::trouble;
use anyhow::Result;
use std::io::Write;

/// Prints to the standard output; a reader that went away is no fault.
pub(super) fn print(text: &str) -> Result<()> {
    match std::io::stdout().write_all(text.as_bytes()) {
        Err(error) if error.kind() == std::io::ErrorKind::BrokenPipe => Ok(()),
        other => other.map_err(|error| trouble("the terminal", "written to", &error)),
    }
}
