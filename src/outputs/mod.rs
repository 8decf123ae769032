//! Outputs: one file each, one registry. A view goes in, the exact text of one artifact comes out.

mod checklist_html;
mod engine;
mod map_svg;
mod pictures;

use crate::report::Material;

/// A file in memory.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Artifact {
    /// Its name in the output folder.
    pub name: &'static str,
    /// Its bytes.
    pub bytes: Vec<u8>,
}

/// An output that could not be made: a fault of the tool, never of the study.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fault(String);

impl std::fmt::Display for Fault {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.0)
    }
}

impl std::error::Error for Fault {}

/// One output.
#[derive(Debug, Clone, Copy)]
pub struct Output {
    /// Name of its file, which never changes.
    pub name: &'static str,
    /// What it is, in a few words, for the index.
    pub what: &'static str,
    /// Makes its text.
    pub make: fn(&Material<'_>) -> Result<String, Fault>,
}

/// Every output, in the order of the index.
pub static OUTPUTS: &[Output] = &[
    Output { name: "map.svg", what: "Where each section lies, to scale.", make: map_svg::make },
    Output {
        name: "checklist.html",
        what: "Every step to tick, with its safety box.",
        make: checklist_html::make,
    },
];

/// Makes every output, or none.
///
/// # Errors
/// A template that does not fit its view, which is a fault of the tool.
pub fn build(material: &Material<'_>) -> Result<Vec<Artifact>, Fault> {
    OUTPUTS.iter().map(|output| make(output, material)).collect()
}

/// Makes one output by its name; `None` where there is no output of that name.
///
/// # Errors
/// As [`build`].
pub fn build_one(name: &str, material: &Material<'_>) -> Option<Result<Artifact, Fault>> {
    OUTPUTS.iter().find(|output| output.name == name).map(|output| make(output, material))
}

fn make(output: &Output, material: &Material<'_>) -> Result<Artifact, Fault> {
    Ok(Artifact { name: output.name, bytes: (output.make)(material)?.into_bytes() })
}
