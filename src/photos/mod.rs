//! Photos: files of a folder placed on sections and rounds, whole, and without what a camera writes beside the picture.

mod jpeg;
mod name;
mod pages;
mod png;
mod scale;

pub use pages::PAGES;

use crate::diag::Finding;
use crate::study::{RoundId, SectionId, Study};
use crate::text::{NamedFile, Span};
use jiff::civil::Date;
use name::Names;

/// A photo of a section at a round.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Photo {
    /// Name of its file in the folder.
    pub name: String,
    /// The section.
    pub section: SectionId,
    /// The round.
    pub round: RoundId,
    /// How it is written.
    pub kind: Kind,
    /// Width and height as it is shown, in pixels.
    pub size: (u32, u32),
    /// The picture without metadata; made from itself it is the same again.
    pub bytes: Vec<u8>,
}

impl Photo {
    /// A copy that is no larger than a page shows it.
    pub fn copy(&self) -> Vec<u8> {
        scale::copy(self)
    }

    /// Width and height of the copy as it is shown, in pixels.
    pub fn copy_size(&self) -> (u32, u32) {
        scale::copied(self.size)
    }
}

/// How a picture is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// ISO/IEC 10918-1.
    Jpeg,
    /// ISO/IEC 15948.
    Png,
}

impl Kind {
    /// The ending of its file.
    pub fn ending(self) -> &'static str {
        match self {
            Self::Jpeg => "jpg",
            Self::Png => "png",
        }
    }
}

/// The photos of a study, by round, section and name.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Photos {
    /// Every photo that was placed.
    pub all: Vec<Photo>,
    /// Names of the files that are no photo of the study, each told by a finding.
    pub aside: Vec<String>,
}

/// A picture without metadata.
#[derive(Debug, PartialEq, Eq)]
struct Clean {
    bytes: Vec<u8>,
    size: (u32, u32),
}

/// Places the files of the folder, those of rounds after `as_of` left aside; `None` where the folder is not there.
pub fn read(study: &Study, files: Option<&[NamedFile]>, as_of: Option<Date>) -> (Photos, Vec<Finding>) {
    let Some(folder) = &study.photos else { return (Photos::default(), Vec::new()) };
    let shown = |file: &&NamedFile| !file.name.starts_with('.');
    let files: Vec<&NamedFile> = files.unwrap_or_default().iter().filter(shown).collect();
    if files.is_empty() {
        let message = format!("the folder `{}` is not there or is empty", folder.value);
        let finding = Finding::warning("photos-absent", folder.span, message)
            .help("correct the name, or put photos into a folder of that name beside the study")
            .about("photos");
        return (Photos::default(), vec![finding]);
    }
    let names = Names::of(study);
    let (mut all, mut aside, mut findings) = (Vec::new(), Vec::new(), Vec::new());
    for file in files {
        // A folder below is told and not looked into; nothing of it is published.
        if let Some(name) = file.name.strip_suffix('/') {
            let message = format!("`{name}` is a folder below `{}`, and is not looked into", folder.value);
            let finding = Finding::warning("photo-not-placed", folder.span, message)
                .help("put its photos beside the others, each named by section and round");
            findings.push(finding.about("photos"));
            continue;
        }
        match place(study, &names, file, folder.span) {
            Ok(photo) => all.push(photo),
            Err(finding) => {
                aside.push(file.name.clone());
                findings.push(*finding);
            }
        }
    }
    let later = |round: RoundId| {
        let first = study.round(round).window.map(|window| window.first);
        first.zip(as_of).is_some_and(|(first, day)| first > day)
    };
    all.retain(|photo: &Photo| !later(photo.round));
    all.sort_by(|a, b| (a.round, a.section, &a.name).cmp(&(b.round, b.section, &b.name)));
    (Photos { all, aside }, findings)
}

fn place(study: &Study, names: &Names, file: &NamedFile, at: Span) -> Result<Photo, Box<Finding>> {
    let warn = |code: &'static str, message: String, help: String| {
        Box::new(Finding::warning(code, at, message).help(help).about("photos"))
    };
    let places = names.places(&file.name);
    let [(section, round)] = places.as_slice() else {
        let example = study.sections.first().zip(study.rounds.last());
        let example = example.map_or_else(String::new, |(section, round)| {
            format!("; name it by section and round, as `{} {}.jpg`", section.code, round.name.value)
        });
        let what = if places.is_empty() { "no section and round" } else { "several sections or rounds" };
        let message = format!("`{}` fits {what}", file.name);
        return Err(warn("photo-not-placed", message, format!("it is not shown{example}")));
    };
    let (kind, clean) = clean(&file.bytes);
    let clean = clean.ok_or_else(|| {
        let message = format!("`{}` is no whole JPEG or PNG", file.name);
        let help = "copy it from the camera again, or save it as JPEG; it is not shown";
        warn("photo-broken", message, help.to_owned())
    })?;
    Ok(Photo {
        name: file.name.clone(),
        section: *section,
        round: *round,
        kind,
        size: clean.size,
        bytes: clean.bytes,
    })
}

// What a file is, is said by its first bytes; cameras and phones differ in the endings of names.
fn clean(bytes: &[u8]) -> (Kind, Option<Clean>) {
    if bytes.starts_with(&png::SIGNATURE) {
        (Kind::Png, png::clean(bytes))
    } else {
        (Kind::Jpeg, jpeg::clean(bytes))
    }
}
