//! Outputs: one file each, one registry. A view goes in, the exact text of one artifact comes out.

mod bundle;
mod checklist_html;
mod engine;
mod fault;
mod files;
mod findings_json;
mod index_html;
mod map_svg;
mod own;
mod pages;
mod photos_html;
mod pictures;
mod plan_txt;
mod readings_csv;
mod report_html;
mod report_md;
mod safety_cards_html;
mod share;
mod sheet;
mod signs;
mod templates;

pub use bundle::{bundle, is_photo};
pub use fault::Fault;
pub use files::{FILES, File};
pub use own::read_blocks;
pub use pages::PAGES;
pub use plan_txt::plan_text;
pub use share::share;
pub use sheet::sheet;
pub use templates::{TemplateBlock, template_blocks};

use crate::diag::Finding;
use crate::report::{Material, sheet as sheet_view};

/// A file in memory.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Artifact {
    /// Its name in the output folder.
    pub name: String,
    /// Its bytes.
    pub bytes: Vec<u8>,
}

/// One output.
#[derive(Debug, Clone, Copy)]
pub struct Output {
    /// Its file.
    pub file: File,
    /// Makes its text.
    pub make: fn(&Material<'_>) -> Result<String, Fault>,
}

/// Every output, in the order of the index.
pub static OUTPUTS: &[Output] = &[
    Output { file: files::INDEX, make: index_html::make },
    Output { file: files::REPORT_HTML, make: report_html::make },
    Output { file: files::REPORT_MD, make: report_md::make },
    Output { file: files::MAP, make: map_svg::make },
    Output { file: files::CHECKLIST, make: checklist_html::make },
    Output { file: files::SAFETY_CARDS, make: safety_cards_html::make },
    Output { file: files::READINGS, make: readings_csv::make },
    Output { file: files::FINDINGS, make: findings_json::make },
];

/// Makes every output, or none; the contact sheet with its photos where the study has any.
///
/// # Errors
/// A template that does not fit its view, which is a fault of the tool.
pub fn build(material: &Material<'_>) -> Result<Vec<Artifact>, Fault> {
    let mut made: Vec<Artifact> =
        OUTPUTS.iter().map(|output| make(output, material)).collect::<Result<_, _>>()?;
    made.extend(photos_html::make(material)?);
    Ok(made)
}

/// Makes one output by its name; `None` where there is no output of that name.
///
/// # Errors
/// As [`build`].
pub fn build_one(name: &str, material: &Material<'_>) -> Option<Result<Artifact, Fault>> {
    OUTPUTS.iter().find(|output| output.file.name == name).map(|output| make(output, material))
}

/// Prints each block that the study changes in its page, by itself, so that one mistake does not hide the next.
pub fn try_blocks(material: &Material<'_>) -> Vec<Finding> {
    let tried = material.blocks.iter().filter_map(|block| {
        let material = Material { blocks: std::slice::from_ref(block), ..*material };
        try_block(&material, block.page).err()?.finding()
    });
    tried.collect()
}

// What every page has is tried on the shortest.
fn try_block(material: &Material<'_>, page: &str) -> Result<(), Fault> {
    if page == templates::SHEET.name {
        let mut sheets =
            material.study.rounds_with_ids().map(|(round, _)| sheet(material, &sheet_view(material, round)));
        return sheets.try_for_each(|made| made.map(drop));
    }
    if page == templates::PHOTOS.name {
        return photos_html::make(material).map(drop);
    }
    let page = if page.starts_with("frame.") { templates::INDEX.name } else { page };
    build_one(page, material).map_or(Ok(()), |made| made.map(drop))
}

fn make(output: &Output, material: &Material<'_>) -> Result<Artifact, Fault> {
    Ok(Artifact { name: output.file.name.to_owned(), bytes: (output.make)(material)?.into_bytes() })
}
