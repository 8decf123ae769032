//! Templates of every page, and their named blocks, which a study may change one by one.

/// A template and its file name, whose ending says in which language text is escaped.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Template {
    pub(super) name: &'static str,
    pub(super) source: &'static str,
}

macro_rules! templates {
    ($($constant:ident $name:literal)*) => {
        $(pub(super) const $constant: Template =
            Template { name: $name, source: include_str!(concat!("../../templates/", $name)) };)*
        /// Every template, in the order in which its blocks are listed.
        static ALL: &[Template] = &[$($constant),*];
    };
}

templates! {
    REPORT "report.md"
    INDEX "index.html"
    CHECKLIST "checklist.html"
    RUN_SHEET "run-sheet.html"
    SAFETY_CARDS "safety-cards.html"
    LABELS "labels.html"
    SHEET "sheet.html"
    PHOTOS "photos.html"
    FRAME "frame.html"
    FRAME_STYLE "frame.css"
}

/// Colour and type of every page and picture.
pub(super) const TOKENS: &str = include_str!("../../templates/tokens.css");

/// A named block of a template.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TemplateBlock {
    /// Name of the page that it belongs to, as `report.md`.
    pub page: &'static str,
    /// Its name in the template.
    pub name: &'static str,
    /// What it holds, one sentence.
    pub what: &'static str,
    /// Its text as it is built in; empty where the block is there to be filled.
    pub text: &'static str,
}

impl TemplateBlock {
    /// Name of the file that changes it: `report-end.md`.
    pub fn file(&self) -> String {
        match self.page.rsplit_once('.') {
            Some((stem, ending)) => format!("{stem}-{}.{ending}", self.name),
            None => format!("{}-{}", self.page, self.name),
        }
    }
}

/// Every block that a study may change, page by page.
pub fn template_blocks() -> impl Iterator<Item = TemplateBlock> {
    ALL.iter().flat_map(|template| blocks_of(*template))
}

// A block begins `{% block end %}{# What it holds. -#}`, and has no block inside.
fn blocks_of(template: Template) -> impl Iterator<Item = TemplateBlock> {
    template.source.split("{% block ").skip(1).filter_map(move |rest| {
        let (name, rest) = rest.split_once(" %}{# ")?;
        let (what, rest) = rest.split_once(" -#}\n")?;
        let (text, _) = rest.split_once("{% endblock %}")?;
        Some(TemplateBlock { page: template.name, name, what, text })
    })
}

#[cfg(test)]
mod tests {
    use super::{ALL, template_blocks};
    use std::collections::BTreeSet;

    #[test]
    fn every_block_says_what_it_holds_and_has_a_file_of_its_own() {
        let written: usize = ALL.iter().map(|template| template.source.matches("{% block").count()).sum();
        let files: BTreeSet<String> = template_blocks().map(|block| block.file()).collect();
        assert_eq!((files.len(), template_blocks().count()), (written, written));
        assert!(files.contains("report-end.md") && files.contains("safety-cards-head.html"), "{files:?}");
        for block in template_blocks() {
            assert!(block.what.ends_with('.') && !block.text.contains("{% block"), "{}", block.file());
        }
    }
}
