//! A built-in table that is read once, when it is first asked for.

use std::fmt;
use std::sync::OnceLock;

use serde::Deserialize;

/// A built-in table that does not load.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fault {
    /// Name of the table's file.
    pub file: &'static str,
    /// What is wrong with it.
    pub message: String,
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}", self.file, self.message)
    }
}

impl std::error::Error for Fault {}

/// A file of the catalog with its text, and its value once somebody asked for it.
#[derive(Debug)]
pub(super) struct Table<T> {
    file: &'static str,
    text: &'static str,
    value: OnceLock<Result<T, Fault>>,
}

impl<T: Deserialize<'static>> Table<T> {
    /// `text` is JSON whose strings hold no escapes, so that they are borrowed and never copied.
    pub(super) const fn new(file: &'static str, text: &'static str) -> Self {
        Self { file, text, value: OnceLock::new() }
    }

    /// The value, or `None` when the table is broken.
    pub(super) fn get(&self) -> Option<&T> {
        self.load().as_ref().ok()
    }

    /// What is wrong with the table.
    pub(super) fn fault(&self) -> Option<Fault> {
        self.load().as_ref().err().cloned()
    }

    fn load(&self) -> &Result<T, Fault> {
        self.value.get_or_init(|| {
            serde_json::from_str(self.text)
                .map_err(|error| Fault { file: self.file, message: error.to_string() })
        })
    }
}

#[cfg(test)]
mod tests {
    use super::Table;
    use crate::catalog::surface::SurfaceFile;

    #[test]
    fn a_broken_table_is_a_fault_and_no_panic() {
        let table: Table<SurfaceFile> = Table::new("broken.toml", r#"{"surface": [{"id": 3}]}"#);
        assert!(table.get().is_none());
        assert_eq!(table.fault().expect("a fault").file, "broken.toml");
    }

    #[test]
    fn a_source_of_another_form_is_a_fault() {
        let text = r#"{"surface": [{"id": "x", "aliases": [], "film_gauge": "none", "standard": "", "source": "somebody said so", "harmed_by": []}]}"#;
        let table: Table<SurfaceFile> = Table::new("x.toml", text);
        assert!(table.fault().expect("a fault").message.contains("not a source"));
    }
}
