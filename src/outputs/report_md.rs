//! `report.md`: the comparison report as Markdown, the one text from which the HTML report is made.

use super::engine::{render, value};
use super::fault::Fault;
use super::templates::REPORT;
use crate::report::{Material, ReportView, report};

pub(super) fn make(material: &Material<'_>) -> Result<String, Fault> {
    markdown(material, &report(material))
}

/// The Markdown of a report, with one blank line between blocks and one line feed at the end.
pub(super) fn markdown(material: &Material<'_>, view: &ReportView) -> Result<String, Fault> {
    let text = render(material, REPORT, &minijinja::context! { view => value(view) })?;
    Ok(tidy(&text))
}

// The template ends each row of a table with a blank line, since a block tag at the end of a line takes
// the line feed with it; rows of a table and items of a list stand together again here.
fn tidy(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut blank = false;
    for line in text.lines().map(str::trim_end) {
        if line.is_empty() {
            blank = true;
            continue;
        }
        let continues = out.ends_with("|\n") && line.starts_with('|');
        if blank && !continues && !out.is_empty() {
            out.push('\n');
        }
        blank = false;
        out.push_str(line);
        out.push('\n');
    }
    out
}
