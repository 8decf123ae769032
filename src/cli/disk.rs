//! The only place that reads and writes files. Outputs are written whole or not at all.

#![allow(clippy::disallowed_methods, reason = "the one module that may touch the disk")]

use anyhow::{Context, Result, bail};
use std::fs;
use std::io::{ErrorKind, Write};
use std::path::{Path, PathBuf};

/// The bytes of a file.
pub(super) fn read(path: &Path) -> Result<Vec<u8>> {
    if path.is_dir() {
        bail!("{} is a folder; name the study file in it", path.display());
    }
    fs::read(path).with_context(|| format!("{} cannot be read", path.display()))
}

/// The bytes of a file, or nothing if there is no such file.
pub(super) fn read_if_there(path: &Path) -> Result<Option<Vec<u8>>> {
    match fs::read(path) {
        Ok(bytes) => Ok(Some(bytes)),
        Err(error) if error.kind() == ErrorKind::NotFound => Ok(None),
        Err(error) => Err(error).with_context(|| format!("{} cannot be read", path.display())),
    }
}

/// Whether two paths lead to one file that is there.
pub(super) fn is_same(one: &Path, other: &Path) -> bool {
    match (fs::canonicalize(one), fs::canonicalize(other)) {
        (Ok(one), Ok(other)) => one == other,
        _ => false,
    }
}

/// Writes a new file; one that is there already stays as it is.
pub(super) fn create(path: &Path, bytes: &[u8]) -> Result<()> {
    let mut options = fs::OpenOptions::new();
    let file = options.write(true).create_new(true).open(path);
    let mut file = match file {
        Err(error) if error.kind() == ErrorKind::AlreadyExists => {
            bail!("{} is there already; choose another name", path.display())
        }
        other => other.with_context(|| format!("{} cannot be written", path.display()))?,
    };
    file.write_all(bytes).with_context(|| format!("{} cannot be written", path.display()))
}

/// Writes all files of a folder: each beside its place first, then every one is renamed.
pub(super) fn write_all(folder: &Path, files: &[(&str, &[u8])]) -> Result<()> {
    fs::create_dir_all(folder).with_context(|| format!("folder {} cannot be made", folder.display()))?;
    let mut pending = Pending { files: Vec::new() };
    for (name, bytes) in files {
        let beside = folder.join(format!(".{name}.new"));
        let target = folder.join(name);
        pending.files.push((beside.clone(), target));
        fs::write(&beside, bytes).with_context(|| format!("{} cannot be written", beside.display()))?;
    }
    for (beside, target) in &pending.files {
        fs::rename(beside, target).with_context(|| format!("{} cannot be written", target.display()))?;
    }
    Ok(())
}

/// Files written beside their places; those that were not renamed are removed again.
struct Pending {
    files: Vec<(PathBuf, PathBuf)>,
}

impl Drop for Pending {
    fn drop(&mut self) {
        for (beside, _) in &self.files {
            // After a rename nothing is left there, which is no fault.
            let _ = fs::remove_file(beside);
        }
    }
}
