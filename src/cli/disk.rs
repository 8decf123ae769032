//! The only place that reads and writes files. Outputs are written whole or not at all.

#![allow(clippy::disallowed_methods, reason = "the one module that may touch the disk")]

use super::trouble::trouble;
use crate::pipeline::NamedFile;
use anyhow::{Result, bail};
use jiff::tz::TimeZone;
use std::fs;
use std::io::{ErrorKind, Write};
use std::path::{Path, PathBuf};

/// The bytes of a file.
pub(super) fn read(path: &Path) -> Result<Vec<u8>> {
    if path.is_dir() {
        bail!("{} is a folder; name the study file in it", path.display());
    }
    fs::read(path).map_err(|error| trouble(path.display(), "read", &error))
}

/// The bytes of a file, or nothing if there is no such file.
pub(super) fn read_if_there(path: &Path) -> Result<Option<Vec<u8>>> {
    match fs::read(path) {
        Ok(bytes) => Ok(Some(bytes)),
        Err(error) if matches!(error.kind(), ErrorKind::NotFound | ErrorKind::NotADirectory) => Ok(None),
        Err(error) => Err(trouble(path.display(), "read", &error)),
    }
}

/// The time zone of the machine, where its system keeps it as a file (RFC 8536) at the usual place.
pub(super) fn machine_zone() -> Option<TimeZone> {
    TimeZone::tzif("", &fs::read("/etc/localtime").ok()?).ok()
}

/// The files of a folder by their names, without what lies in folders below it; nothing if there is no such folder.
pub(super) fn folder(path: &Path) -> Result<Option<Vec<NamedFile>>> {
    let entries = match fs::read_dir(path) {
        Ok(entries) => entries,
        Err(error) if error.kind() == ErrorKind::NotFound => return Ok(None),
        Err(error) => return Err(trouble(path.display(), "read", &error)),
    };
    let mut files = Vec::new();
    for entry in entries {
        let place = entry.map_err(|error| trouble(path.display(), "read", &error))?.path();
        if place.is_file() {
            let name = place.file_name().map_or_else(String::new, |name| name.to_string_lossy().into_owned());
            files.push(NamedFile { name, bytes: read(&place)? });
        }
    }
    // A disk gives them in any order.
    files.sort_by(|a, b| a.name.cmp(&b.name));
    Ok(Some(files))
}

/// The names of the folders in a folder, each with `/` behind it; none if there is no such folder.
pub(super) fn folders_in(path: &Path) -> Result<Vec<NamedFile>> {
    let entries = match fs::read_dir(path) {
        Ok(entries) => entries,
        Err(error) if error.kind() == ErrorKind::NotFound => return Ok(Vec::new()),
        Err(error) => return Err(trouble(path.display(), "read", &error)),
    };
    let mut folders = Vec::new();
    for entry in entries {
        let place = entry.map_err(|error| trouble(path.display(), "read", &error))?.path();
        if place.is_dir()
            && let Some(name) = place.file_name()
        {
            folders.push(NamedFile { name: format!("{}/", name.to_string_lossy()), bytes: Vec::new() });
        }
    }
    folders.sort_by(|a, b| a.name.cmp(&b.name));
    Ok(folders)
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
        other => other.map_err(|error| trouble(path.display(), "written", &error))?,
    };
    file.write_all(bytes).map_err(|error| trouble(path.display(), "written", &error))
}

/// Writes a file anew, whole or not at all. A link stays one, and what it leads to is written.
pub(super) fn replace(path: &Path, bytes: &[u8]) -> Result<()> {
    let real = fs::canonicalize(path).map_err(|error| trouble(path.display(), "written", &error))?;
    let name = real.file_name().and_then(|name| name.to_str());
    let (Some(folder), Some(name)) = (real.parent(), name) else {
        bail!("{} has a name that is not UTF-8; give it another", path.display());
    };
    write_all(folder, &[(name, bytes)])
}

/// A path as it is typed in a shell.
pub(super) fn quoted(file: &Path) -> String {
    let name = file.display().to_string();
    if name.contains(' ') { format!("\"{name}\"") } else { name }
}

/// Writes all files of a folder: each beside its place first, then every one is renamed. A name may lead
/// into a folder of that folder.
pub(super) fn write_all(folder: &Path, files: &[(&str, &[u8])]) -> Result<()> {
    fs::create_dir_all(folder).map_err(|error| trouble(folder.display(), "made a folder", &error))?;
    let mut pending = Pending { files: Vec::new() };
    for (name, bytes) in files {
        let target = folder.join(name);
        let (into, base) = name.rsplit_once('/').unwrap_or(("", name));
        let into = folder.join(into);
        fs::create_dir_all(&into).map_err(|error| trouble(into.display(), "made a folder", &error))?;
        let beside = into.join(format!(".{base}.new"));
        pending.files.push((beside.clone(), target));
        fs::write(&beside, bytes).map_err(|error| trouble(beside.display(), "written", &error))?;
    }
    for (beside, target) in &pending.files {
        fs::rename(beside, target).map_err(|error| trouble(target.display(), "written", &error))?;
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
