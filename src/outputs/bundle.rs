//! The bundle: every output with the study and its readings as they are, described as an open data package.
//!
//! `datapackage.json` follows the Frictionless Data Package and Table Schema specifications, version 1.

use super::fault::Fault;
use super::{Artifact, build};
use crate::report::{Column, Material, PackageView, package};
use crate::text::{SourceFile, sha256};
use jiff::civil::Date;
use serde::Serialize;

/// The folder of the bundle that holds the inputs.
const FOLDER: &str = "study";

#[derive(Serialize)]
struct Descriptor<'a> {
    profile: &'static str,
    name: &'a str,
    title: &'a str,
    description: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    created: Option<String>,
    resources: Vec<Resource<'a>>,
}

#[derive(Serialize)]
struct Resource<'a> {
    name: String,
    path: &'a str,
    profile: &'static str,
    description: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    mediatype: Option<&'static str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    encoding: Option<&'static str>,
    bytes: usize,
    hash: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    schema: Option<Schema<'a>>,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Schema<'a> {
    fields: &'a [Column],
    missing_values: [&'static str; 1],
}

/// Makes every output and what a stranger needs to make them again, as of a day if one was asked for.
///
/// # Errors
/// An input that does not lie in the folder of the study, so that its name would lead out of the bundle;
/// or a fault of the tool.
pub fn bundle(material: &Material<'_>, as_of: Option<Date>) -> Result<Vec<Artifact>, Fault> {
    let view = package(material, as_of);
    let mut files = build(material)?;
    files.push(Artifact { name: "dictionary.csv".to_owned(), bytes: dictionary(&view)? });
    for (file, name) in inputs(material, &view) {
        if leads_out(name) {
            return Err(Fault::new(format!(
                "{name}: a bundle holds the readings beside the study; put this file into the study's folder, and name it there"
            )));
        }
        files.push(Artifact { name: format!("{FOLDER}/{name}"), bytes: file.bytes().concat() });
    }
    files.extend(photos(material)?);
    let descriptor = descriptor(material, &view, &files)?;
    files.push(Artifact { name: "datapackage.json".to_owned(), bytes: descriptor });
    Ok(files)
}

// A readings file may be named twice in a study; it is one input.
fn inputs<'a>(
    material: &'a Material<'_>,
    view: &'a PackageView,
) -> impl Iterator<Item = (&'a SourceFile, &'a str)> {
    let named = |at: usize, file: &SourceFile, name: &str| {
        if at == 0 { name == file.base_name() } else { name == file.name.replace('\\', "/") }
    };
    view.inputs.iter().enumerate().filter_map(move |(at, name)| {
        let mut files = material.sources.iter().skip(usize::from(at > 0));
        files.find(|file| named(at, file, name)).map(|file| (file, name.as_str()))
    })
}

// Without metadata, as the page shows them; what is not shown stands as an empty file, so that the same findings come
// of it. Photos that are made anew from these are the same.
fn photos(material: &Material<'_>) -> Result<Vec<Artifact>, Fault> {
    let Some(folder) = &material.study.photos else { return Ok(Vec::new()) };
    let folder = folder.value.replace('\\', "/");
    if leads_out(&folder) {
        return Err(Fault::new(format!(
            "{folder}: a bundle holds the photos beside the study; put this folder into the study's folder, and name it there"
        )));
    }
    let shown = material.photos.all.iter().map(|photo| (&photo.name, photo.bytes.clone()));
    let aside = material.photos.aside.iter().map(|name| (name, Vec::new()));
    let artifact =
        |(name, bytes): (&String, Vec<u8>)| Artifact { name: format!("{FOLDER}/{folder}/{name}"), bytes };
    Ok(shown.chain(aside).map(artifact).collect())
}

fn leads_out(name: &str) -> bool {
    name.starts_with('/') || name.contains(':') || name.split('/').any(|part| part == "..")
}

fn dictionary(view: &PackageView) -> Result<Vec<u8>, Fault> {
    let fault = |error: csv::Error| Fault::new(format!("dictionary.csv: {error}"));
    let mut writer = csv::Writer::from_writer(Vec::new());
    writer.write_record(["column of readings.csv", "name", "meaning"]).map_err(fault)?;
    for column in &view.columns {
        writer.write_record([column.name, "", column.description]).map_err(fault)?;
        for term in view.terms.iter().filter(|term| term.column == column.name) {
            writer
                .write_record([term.column, &super::readings_csv::plain(&term.name), &term.meaning])
                .map_err(fault)?;
        }
    }
    writer.into_inner().map_err(|error| Fault::new(format!("dictionary.csv: {error}")))
}

fn descriptor(material: &Material<'_>, view: &PackageView, files: &[Artifact]) -> Result<Vec<u8>, Fault> {
    let document = Descriptor {
        profile: "data-package",
        name: &view.name,
        title: &view.title,
        description: &view.description,
        created: material.date.map(|date| format!("{date}T00:00:00Z")),
        resources: files.iter().enumerate().map(|(at, file)| resource(at, file, view)).collect(),
    };
    let mut text = serde_json::to_string_pretty(&document)
        .map_err(|error| Fault::new(format!("datapackage.json: {error}")))?;
    text.push('\n');
    Ok(text.into_bytes())
}

fn resource<'a>(at: usize, file: &'a Artifact, view: &'a PackageView) -> Resource<'a> {
    let table = file.name == super::files::READINGS.name;
    let page = |name: &str| name == super::files::INDEX.name;
    let photo = is_photo(&file.name);
    let known = super::FILES.iter().chain([&super::files::PHOTOS]).find(|known| known.name == file.name);
    let description = match (known, file.name.as_str()) {
        (Some(_), name) if page(name) => "The answer, and what was built.",
        (Some(known), _) => known.what,
        (None, _) if photo => "A photo without metadata of the camera.",
        (None, "dictionary.csv") => "What each column and each name in readings.csv means.",
        (None, name) if media_type(name) == Some("text/csv") => {
            "Readings, or climate, as they were recorded, untouched."
        }
        (None, _) => "The study, or an input of it, untouched.",
    };
    Resource {
        name: format!("{}-{}", at + 1, plain_name(&file.name)),
        path: &file.name,
        profile: if table { "tabular-data-resource" } else { "data-resource" },
        description: description.to_owned(),
        mediatype: media_type(&file.name.to_lowercase()),
        encoding: (!photo).then_some("utf-8"),
        bytes: file.bytes.len(),
        hash: format!("sha256:{}", sha256(&[&file.bytes])),
        schema: table.then(|| Schema { fields: &view.columns, missing_values: [""] }),
    }
}

// Names of resources are small letters, digits, `.`, `_` and `-`; the number before it keeps them apart.
fn plain_name(path: &str) -> String {
    let plain = |c: char| match c.to_ascii_lowercase() {
        c if c.is_ascii_alphanumeric() || matches!(c, '.' | '_') => c,
        _ => '-',
    };
    path.chars().map(plain).collect()
}

/// Whether a file is a photo, by the ending of its name.
pub fn is_photo(path: &str) -> bool {
    matches!(media_type(&path.to_lowercase()), Some("image/jpeg" | "image/png"))
}

fn media_type(path: &str) -> Option<&'static str> {
    match path.rsplit('.').next()? {
        "html" => Some("text/html"),
        "csv" => Some("text/csv"),
        "ics" => Some("text/calendar"),
        "json" => Some("application/json"),
        "css" => Some("text/css"),
        "svg" => Some("image/svg+xml"),
        "md" => Some("text/markdown"),
        "study" => Some("text/plain"),
        "jpg" | "jpeg" => Some("image/jpeg"),
        "png" => Some("image/png"),
        _ => None,
    }
}
