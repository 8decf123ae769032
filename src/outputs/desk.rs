//! What outputs are made from: the material, and the report, which is made once whoever asks first.

use super::engine::{render, value};
use super::fault::Fault;
use super::templates::REPORT;
use crate::report::{Material, ReportView, report};
use crate::speech::speak;
use std::sync::OnceLock;

/// The material of all outputs, with what several of them show.
#[derive(Debug)]
pub struct Desk<'m> {
    /// The material.
    pub material: &'m Material<'m>,
    view: OnceLock<ReportView>,
    text: OnceLock<Result<String, Fault>>,
}

impl<'m> Desk<'m> {
    /// A desk with nothing made yet.
    pub fn new(material: &'m Material<'m>) -> Self {
        Self { material, view: OnceLock::new(), text: OnceLock::new() }
    }

    /// The report.
    pub(super) fn report(&self) -> &ReportView {
        self.view.get_or_init(|| report(self.material))
    }

    /// Its Markdown.
    pub(super) fn text(&self) -> Result<&str, Fault> {
        let made = self.text.get_or_init(|| {
            let _speech = speak(self.material.study.language);
            markdown(self.material, self.report())
        });
        made.as_deref().map_err(Clone::clone)
    }
}

// The Markdown of a report, with one blank line between blocks and one line feed at the end.
fn markdown(material: &Material<'_>, view: &ReportView) -> Result<String, Fault> {
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
