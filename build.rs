//! Turns the tables of the catalog from TOML, which people edit, into JSON, which a command reads several times faster.
//!
//! What follows a hyphen in a file's name only tells the parts of one table apart, and their order: `statements.toml` and
//! `statements-more.toml` are one. A file that is not TOML stops the build with its name and line. What the values mean
//! is not known here, save that degrees get their sign: the files keep to the letters of every keyboard. The languages of the pages are read likewise: `german.toml` and `german-catalog.toml` are one.

#![allow(
    clippy::disallowed_methods,
    reason = "a build script reads tables and writes what the build includes"
)]

use std::collections::BTreeMap;
use std::error::Error;
use std::path::{Path, PathBuf};
use std::{env, fs};

use toml::{Table, Value};

const DATA: &str = "src/catalog/data";
const LANGUAGES: &str = "templates/language";

fn main() -> Result<(), Box<dyn Error>> {
    let mut tables: BTreeMap<String, Table> = BTreeMap::new();
    for folder in [DATA, LANGUAGES] {
        for path in files_of(folder)? {
            let stem = path.file_stem().unwrap_or_default().to_string_lossy();
            let name = stem.split('-').next().unwrap_or_default();
            add(tables.entry(name.to_owned()).or_default(), read(&path)?, &path)?;
        }
    }
    let out = PathBuf::from(env::var("OUT_DIR")?);
    for (name, table) in tables {
        let table = with_signs(Value::Table(table));
        fs::write(out.join(name).with_extension("json"), serde_json::to_string(&table)?)?;
    }
    Ok(())
}

/// The tables of a folder in the order of their names.
fn files_of(folder: &str) -> Result<Vec<PathBuf>, Box<dyn Error>> {
    println!("cargo::rerun-if-changed={folder}");
    let paths = fs::read_dir(folder)?.map(|entry| Ok(entry?.path()));
    let mut paths = paths.collect::<Result<Vec<_>, Box<dyn Error>>>()?;
    paths.retain(|path| path.extension().is_some_and(|end| end == "toml"));
    paths.sort();
    Ok(paths)
}

fn read(path: &Path) -> Result<Table, Box<dyn Error>> {
    toml::from_str(&fs::read_to_string(path)?).map_err(|fault| format!("{}: {fault}", path.display()).into())
}

/// `50 degC` is printed as `50 °C`, in what is said and in the keys by which it is looked up.
fn with_signs(value: Value) -> Value {
    let signs = |text: &str| text.replace(" degC", " °C").replace(" degF", " °F");
    match value {
        Value::String(text) => Value::String(signs(&text)),
        Value::Array(values) => Value::Array(values.into_iter().map(with_signs).collect()),
        Value::Table(table) => {
            Value::Table(table.into_iter().map(|(key, value)| (signs(&key), with_signs(value))).collect())
        }
        other => other,
    }
}

/// Entries of a further file come after those that are there; nothing that is there is replaced.
fn add(table: &mut Table, more: Table, path: &Path) -> Result<(), Box<dyn Error>> {
    for (key, value) in more {
        match (table.get_mut(&key), value) {
            (None, value) => drop(table.insert(key, value)),
            (Some(Value::Array(entries)), Value::Array(more)) => entries.extend(more),
            (Some(Value::Table(entries)), Value::Table(more)) => add(entries, more, path)?,
            (Some(_), _) => {
                return Err(format!("{}: `{key}` stands in another file too", path.display()).into());
            }
        }
    }
    Ok(())
}
