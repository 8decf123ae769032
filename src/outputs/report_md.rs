//! `report.md`: the comparison report as Markdown, the one text from which the HTML report is made.

use super::engine::{render, value};
use super::fault::Fault;
use super::templates::REPORT;
use crate::report::{Material, ReportView, report};
use crate::speech::{say, speak};

pub(super) fn make(material: &Material<'_>) -> Result<String, Fault> {
    let _speech = speak(material.study.language);
    markdown(material, &report(material))
}

/// The Markdown of a report, with one blank line between blocks and one line feed at the end.
pub(super) fn markdown(material: &Material<'_>, view: &ReportView) -> Result<String, Fault> {
    let text = render(material, REPORT, &minijinja::context! { view => value(view) })?;
    Ok(tidy(&text))
}

/// The last line of a report.
pub(super) fn made_by(view: &ReportView) -> String {
    say!("Made by tapeline {version} {as_of}.", version = view.version, as_of = view.as_of)
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
