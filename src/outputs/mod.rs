//! Outputs: one file each, one registry. A view goes in, the exact text of one artifact comes out.

mod bundle;
mod calendar_ics;
mod checklist_html;
mod contrast;
mod desk;
mod engine;
mod fault;
mod files;
mod findings_json;
mod index_html;
mod labels_html;
mod map_svg;
mod nesting;
mod own;
mod pages;
mod photos_html;
mod pictures;
mod plan_txt;
mod png;
mod record;
mod readings_csv;
mod report_html;
mod report_md;
mod run_sheet_html;
mod safety_cards_html;
mod share;
mod sheet;
mod signs;
mod templates;

pub use bundle::{bundle, is_photo};
pub use desk::Desk;
pub use fault::Fault;
pub use files::{FILES, File};
pub use own::read_blocks;
pub use pages::PAGES;
pub use plan_txt::plan_text;
pub use record::empty_record;
pub use share::share;
pub use sheet::sheet;
pub use templates::{TemplateBlock, template_blocks};

use crate::diag::Finding;
use crate::report::{Material, SheetOf, sheet as sheet_view};
use std::thread;

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
    pub make: fn(&Desk<'_>) -> Result<String, Fault>,
}

/// Every output, in the order of the index.
pub static OUTPUTS: &[Output] = &[
    Output { file: files::INDEX, make: index_html::make },
    Output { file: files::REPORT_HTML, make: report_html::make },
    Output { file: files::REPORT_MD, make: report_md::make },
    Output { file: files::MAP, make: map_svg::make },
    Output { file: files::CHECKLIST, make: checklist_html::make },
    Output { file: files::RUN_SHEET, make: run_sheet_html::make },
    Output { file: files::SAFETY_CARDS, make: safety_cards_html::make },
    Output { file: files::LABELS, make: labels_html::make },
    Output { file: files::CALENDAR, make: calendar_ics::make },
    Output { file: files::READINGS, make: readings_csv::make },
    Output { file: files::FINDINGS, make: findings_json::make },
];

/// Makes every output, or none; the contact sheet with its photos where the study has any.
///
/// # Errors
/// A template that does not fit its view, which is a fault of the tool.
pub fn build(material: &Material<'_>) -> Result<Vec<Artifact>, Fault> {
    let mut made = make_all(OUTPUTS.iter(), material)?;
    made.extend(photos_html::make(material)?);
    Ok(made)
}

/// Makes the outputs of these names, in the order of the registry; a name that none has gives nothing.
///
/// # Errors
/// As [`build`].
pub fn build_some(names: &[&str], material: &Material<'_>) -> Result<Vec<Artifact>, Fault> {
    make_all(OUTPUTS.iter().filter(|output| names.contains(&output.file.name)), material)
}

/// Each on a thread of its own: what two of them show is made once, and the order in which they end decides nothing.
fn make_all<'o>(
    outputs: impl Iterator<Item = &'o Output>,
    material: &Material<'_>,
) -> Result<Vec<Artifact>, Fault> {
    let desk = &Desk::new(material);
    thread::scope(|scope| {
        let started: Vec<_> = outputs.map(|output| scope.spawn(move || make(output, desk))).collect();
        started
            .into_iter()
            .map(|thread| thread.join().unwrap_or_else(|panic| std::panic::resume_unwind(panic)))
            .collect()
    })
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
        let mut sheets = material
            .study
            .rounds_with_ids()
            .map(|(round, _)| sheet(material, &sheet_view(material, SheetOf::Round(round))));
        return sheets.try_for_each(|made| made.map(drop));
    }
    if page == templates::PHOTOS.name {
        return photos_html::make(material).map(drop);
    }
    let page = if page.starts_with("frame.") { templates::INDEX.name } else { page };
    build_some(&[page], material).map(drop)
}

fn make(output: &Output, desk: &Desk<'_>) -> Result<Artifact, Fault> {
    Ok(Artifact { name: output.file.name.to_owned(), bytes: (output.make)(desk)?.into_bytes() })
}
