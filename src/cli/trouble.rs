//! What the system says of a file or a terminal, in plain words.

use anyhow::{Error, anyhow};
use std::io::{self, ErrorKind};

/// `readings.csv cannot be read: permission is denied`.
pub(super) fn trouble(what: impl std::fmt::Display, cannot: &str, error: &io::Error) -> Error {
    anyhow!("{what} cannot be {cannot}: {}", words(error))
}

fn words(error: &io::Error) -> String {
    let words = match error.kind() {
        ErrorKind::NotFound => "there is no such file or folder",
        ErrorKind::PermissionDenied => "permission is denied",
        ErrorKind::AlreadyExists => "something of that name is there already",
        ErrorKind::IsADirectory => "it is a folder",
        ErrorKind::NotADirectory => "a file stands where a folder should be",
        ErrorKind::StorageFull | ErrorKind::QuotaExceeded => "the disk is full",
        ErrorKind::ReadOnlyFilesystem => "the disk is read-only",
        ErrorKind::FileTooLarge => "it is too large for the disk",
        ErrorKind::InvalidFilename => "a file cannot be called so here",
        ErrorKind::ResourceBusy => "another program holds it",
        ErrorKind::TimedOut => "it does not answer",
        _ => return without_number(&error.to_string()),
    };
    words.to_owned()
}

/// The words of the system without their number, which tells a reader nothing.
fn without_number(text: &str) -> String {
    text.split(" (os error").next().unwrap_or(text).to_lowercase()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[cfg(unix)]
    #[test]
    fn numbers_of_the_system_become_words() {
        let told = |number| trouble("a.csv", "read", &io::Error::from_raw_os_error(number)).to_string();
        assert_eq!(told(2), "a.csv cannot be read: there is no such file or folder");
        assert_eq!(told(13), "a.csv cannot be read: permission is denied");
        assert_eq!(told(21), "a.csv cannot be read: it is a folder");
        assert_eq!(told(28), "a.csv cannot be read: the disk is full");
        // One that has no words here keeps those of the system.
        assert_eq!(told(5), "a.csv cannot be read: input/output error");
    }
}
