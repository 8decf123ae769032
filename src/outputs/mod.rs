//! Outputs: one file each, one registry. A view goes in, the exact text of one artifact comes out.

mod checklist_html;
mod engine;
mod findings_json;
mod index_html;
mod map_svg;
mod pictures;
mod readings_csv;
mod report_html;
mod report_md;

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
    Output { name: "index.html", what: "This page.", make: index_html::make },
    Output {
        name: "report.html",
        what: "The comparison: answer, pictures, tables, record, method and every reading, in one page.",
        make: report_html::make,
    },
    Output {
        name: "report.md",
        what: "The same comparison as text, for pasting elsewhere.",
        make: report_md::make,
    },
    Output { name: "map.svg", what: "The panel and its sections, to scale.", make: map_svg::make },
    Output {
        name: "checklist.html",
        what: "Every step to tick at the panel, with its safety box; made for paper.",
        make: checklist_html::make,
    },
    Output {
        name: "readings.csv",
        what: "Every reading as it was placed, one a row.",
        make: readings_csv::make,
    },
    Output {
        name: "findings.json",
        what: "What the checks have left to say, for machines.",
        make: findings_json::make,
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
