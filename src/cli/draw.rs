//! Draws findings for people: the user's own line with carets, what is wrong, what to write instead.

use crate::diag::{Finding, Place, Severity, count};
use crate::text::{FileId, Sources, Span};
use annotate_snippets::{AnnotationKind, Group, Level, Renderer, Snippet};
use std::fmt::Write;
use std::ops::Range;

/// At most so many findings are shown on a terminal unless all are asked for.
pub(super) const SHOWN: usize = 20;

/// How findings look.
#[derive(Debug, Clone, Copy)]
pub(super) struct Look {
    /// With colour.
    pub(super) colour: bool,
    /// Every finding.
    pub(super) all: bool,
    /// Columns of the terminal.
    pub(super) width: usize,
}

/// All findings as text, with a line that counts them.
pub(super) fn findings(findings: &[Finding], sources: &Sources, look: Look) -> String {
    let shown = choose(findings, look.all);
    let renderer = if look.colour { Renderer::styled() } else { Renderer::plain() }.term_width(look.width);
    let mut text = String::new();
    for finding in &shown {
        text.push_str(&renderer.render(&report(finding, sources)));
        text.push_str("\n\n");
    }
    text.push_str(&tally(findings, shown.len()));
    text
}

/// Above the limit the most severe are shown, in file order among themselves.
fn choose(findings: &[Finding], all: bool) -> Vec<&Finding> {
    let mut order: Vec<(usize, &Finding)> = findings.iter().enumerate().collect();
    if !all && order.len() > SHOWN {
        order.sort_by_key(|&(at, finding)| (finding.severity, at));
        order.truncate(SHOWN);
    }
    order.into_iter().map(|(_, finding)| finding).collect()
}

fn tally(findings: &[Finding], shown: usize) -> String {
    if findings.is_empty() {
        return "No findings.\n".to_owned();
    }
    let of = |severity: Severity| findings.iter().filter(|finding| finding.severity == severity).count();
    let (errors, warnings, advice) = (of(Severity::Error), of(Severity::Warning), of(Severity::Advice));
    let mut parts = Vec::new();
    if errors > 0 {
        parts.push(count(errors, "error"));
    }
    if warnings > 0 {
        parts.push(count(warnings, "warning"));
    }
    if advice > 0 {
        parts.push(format!("{advice} advice"));
    }
    let mut text = format!("{}.\n", parts.join(", "));
    if shown < findings.len() {
        let _ = writeln!(text, "{shown} of {} are shown; `--all` shows every one.", findings.len());
    }
    if let Some(first) = findings.iter().min_by_key(|finding| finding.severity) {
        let _ = writeln!(text, "`tapeline explain {}` says more about a code.", first.code);
    }
    text
}

fn report<'a>(finding: &'a Finding, sources: &'a Sources) -> Vec<Group<'a>> {
    let level = match finding.severity {
        Severity::Error => Level::ERROR,
        Severity::Warning => Level::WARNING,
        Severity::Advice => Level::NOTE.with_name("advice"),
    };
    let mut group = level
        .primary_title(finding.message.as_str())
        .id(finding.code)
        .elements([] as [Snippet<'_, annotate_snippets::Annotation<'_>>; 0]);
    for (file, places) in by_file(finding) {
        let Some(source) = sources.get(file) else { continue };
        let Some(window) = Window::around(source, &places) else { continue };
        let mut snippet = Snippet::source(window.text).path(source.name.as_str()).line_start(window.line);
        for (span, label, primary) in &places {
            let kind = if *primary { AnnotationKind::Primary } else { AnnotationKind::Context };
            let annotation = kind.span(window.place(*span));
            snippet =
                snippet.annotation(if label.is_empty() { annotation } else { annotation.label(*label) });
        }
        group = group.element(snippet);
    }
    for help in &finding.help {
        group = group.element(Level::HELP.message(help.as_str()));
    }
    vec![group]
}

type Marked<'a> = (Span, &'a str, bool);

fn by_file(finding: &Finding) -> Vec<(FileId, Vec<Marked<'_>>)> {
    let mut files: Vec<(FileId, Vec<Marked<'_>>)> = Vec::new();
    let primary = std::iter::once((finding.place, finding.label.as_str(), true));
    let related = finding.related.iter().map(|(place, label)| (*place, label.as_str(), false));
    for (Place { file, span }, label, primary) in primary.chain(related) {
        match files.iter_mut().find(|(known, _)| *known == file) {
            Some((_, places)) => places.push((span, label, primary)),
            None => files.push((file, vec![(span, label, primary)])),
        }
    }
    files
}

/// The lines that hold all places of one file, so that the drawing never scans the whole of a large file.
struct Window<'a> {
    text: &'a str,
    start: usize,
    line: usize,
}

/// A line longer than this is shown around its place only.
const LONG: usize = 400;

impl<'a> Window<'a> {
    fn around(source: &'a crate::text::SourceFile, places: &[Marked<'_>]) -> Option<Self> {
        let first = places.iter().map(|(span, ..)| span.start).min()?;
        let last = places.iter().map(|(span, ..)| span.end.max(span.start)).max()?;
        let (_, start) = source.line_at(first);
        let (end_line, end_start) = source.line_at(last.saturating_sub(1).max(first));
        let (mut start, mut end) = (start as usize, end_start as usize + end_line.len());
        let (line, _) = source.line_column(first);
        if end - start > LONG * places.len() && places.len() == 1 {
            start = floor(&source.text, (first as usize).saturating_sub(LONG / 4).max(start));
            end = floor(&source.text, (first as usize + LONG).min(end));
        }
        Some(Self { text: source.text.get(start..end)?, start, line: line as usize })
    }

    fn place(&self, span: Span) -> Range<usize> {
        let clip = |at: u32| floor(self.text, (at as usize).saturating_sub(self.start).min(self.text.len()));
        clip(span.start)..clip(span.end).max(clip(span.start))
    }
}

fn floor(text: &str, mut at: usize) -> usize {
    while at > 0 && !text.is_char_boundary(at) {
        at -= 1;
    }
    at.min(text.len())
}
