//! `report.html`: the Markdown report in a page that needs nothing else, with its pictures drawn in.

use super::desk::Desk;
use super::engine::{Frame, page};
use super::fault::Fault;
use super::pictures::figure;
use super::report_md::made_by;
use crate::markup;
use crate::report::{ReportView, readings_heading};
use crate::speech::{decimal_mark, say, speak};

const STYLE: &str = include_str!("../../templates/report.css");
const SCRIPT: &str = include_str!("../../templates/report.js");

pub(super) fn make(desk: &Desk<'_>) -> Result<String, Fault> {
    let material = desk.material;
    let _speech = speak(material.study.language);
    let (view, text) = (desk.report(), desk.text()?);
    let body = markup::html(text, say!("Table"), &mut |address| view.picture(address).map(figure));
    let foot = say!(
        "{title} · report {as_of} · tapeline {version}",
        title = view.title,
        as_of = view.as_of,
        version = view.version
    );
    page(
        material,
        Frame { title: &view.title, foot: &foot, style: STYLE, script: &script(), photos: false, own: true },
        &dressed(&body, view),
    )
}

// The script has two texts, and reads numbers from the tables.
fn script() -> String {
    let spoken = SCRIPT
        .replace("\"Round \"", &format!("\"{} \"", say!("Round")))
        .replace("Show sections or products with", say!("Show sections or products with"));
    match decimal_mark() {
        '.' => spoken,
        mark => spoken.replace("(\"−\", \"-\")", &format!("(\"−\", \"-\").replaceAll(\"{mark}\", \".\")")),
    }
}

// The Markdown is one column; the page sets its head and its answer apart. Both are found by what the
// Markdown surely has: one first heading, and the heading of the answer right after it.
fn dressed(body: &str, view: &ReportView) -> String {
    let Some(answer) = body.find("<h2") else { return body.to_owned() };
    // What follows the first of these, or the end.
    let found = |from: usize, marks: &[&str]| {
        let next = marks.iter().filter_map(|mark| body[from..].find(mark)).min();
        next.map_or(body.len(), |at| from + at)
    };
    let end = found(answer + 1, &["<figure", "<blockquote>", "<h2"]);
    let details = found(end.max(answer + 1), &["<blockquote>", "<h2"]);
    let kind = markup::escape(&say!("Comparison report · tapeline {version}", version = view.version));
    let rest = with_readings(&body[details..], view);
    format!(
        "<header class=\"masthead\">\n<p class=\"kind\">{kind}</p>\n{}</header>\n<section class=\"answer\">\n{}</section>\n<div class=\"first\">\n{}{}</div>\n{rest}",
        &body[..answer],
        &body[answer..end],
        &body[end..details],
        contents(&rest)
    )
}

// Every part that follows, so that whoever doubts a sentence of the answer is one step from its table.
fn contents(rest: &str) -> String {
    let entry = |head: &str| {
        let (id, after) = head.split_once("\">")?;
        let (words, _) = after.split_once("</h2>")?;
        // On paper a heading is found by what it is about; what was found stands at its place.
        let (topic, found) = words.split_once(": ").unwrap_or((words, ""));
        let colon = if found.is_empty() { "" } else { ": " };
        Some(format!("<li><a href=\"#{id}\">{topic}<span class=\"found\">{colon}{found}</span></a></li>\n"))
    };
    let entries: String = rest.split("<h2 id=\"").skip(1).filter_map(entry).collect();
    if entries.is_empty() {
        entries
    } else {
        format!(
            "<nav class=\"contents\" aria-label=\"{}\">\n<ol>\n{entries}</ol>\n</nav>\n",
            say!("Contents")
        )
    }
}

// The tables of readings stand side by side where there is room, so they are held together.
fn with_readings(body: &str, view: &ReportView) -> String {
    let first = view
        .parts
        .iter()
        .position(|part| part.heading == readings_heading())
        .and_then(|at| view.parts.get(at + 1));
    let head = first.map(|part| format!(">{}</h3>", markup::escape(&part.heading)));
    let start = head.and_then(|head| body.rfind(&head)).and_then(|at| body[..at].rfind("<h3"));
    let Some(start) = start else { return body.to_owned() };
    let end = body
        .rfind(&format!("<p>{}", markup::escape(&made_by(view))))
        .filter(|&end| end > start)
        .unwrap_or(body.len());
    format!("{}<div class=\"readings\">\n{}</div>\n{}", &body[..start], &body[start..end], &body[end..])
}
