//! `explain`: the page behind a code, or the list of all codes.

use super::print::print;
use crate::diag::{Page, nearest};
use crate::pipeline;
use anyhow::{Result, bail};
use std::fmt::Write;

/// Prints the page of a code, or every code with its severity.
pub(super) fn run(code: Option<&str>) -> Result<u8> {
    let Some(code) = code else {
        print(&list())?;
        return Ok(0);
    };
    let wanted = code.split_whitespace().collect::<Vec<_>>().join("-").to_lowercase();
    if let Some(words) = pipeline::words_of(&wanted) {
        print(&words)?;
        return Ok(0);
    }
    let Some(page) = pipeline::pages().find(|page| page.code == wanted) else {
        match nearest(&wanted, pipeline::pages().map(|page| page.code)) {
            Some(near) => bail!("no finding is called `{code}`; did you mean `{near}`?"),
            None => bail!(
                "no finding is called `{code}`; `tapeline explain` lists them all, and `tapeline explain kinds` the words of the catalog"
            ),
        }
    };
    print(&text(page))?;
    Ok(0)
}

fn list() -> String {
    let mut pages: Vec<&Page> = pipeline::pages().collect();
    pages.sort_by_key(|page| (page.severity, page.code));
    let mut text = String::new();
    for page in pages {
        let _ = writeln!(text, "{:<8} {}", page.severity.word(), page.code);
    }
    text
}

fn text(page: &Page) -> String {
    let mut text = format!("{} ({})\n\n{}\n\n", page.code, page.severity.word(), wrapped(page.what));
    let _ = write!(text, "Why it matters\n{}\n\n", indented(&wrapped(page.why)));
    let _ = write!(text, "How to mend it\n{}\n\n", indented(&wrapped(page.mend)));
    let _ = write!(text, "Gives this finding\n{}\n\n", indented(page.bad.trim_end()));
    let _ = write!(text, "Does not\n{}\n\n", indented(page.good.trim_end()));
    let _ = writeln!(text, "Source: {}", page.source);
    text
}

fn indented(text: &str) -> String {
    text.lines()
        .map(|line| if line.is_empty() { String::new() } else { format!("  {line}") })
        .collect::<Vec<_>>()
        .join("\n")
}

/// Breaks a paragraph at 76 columns.
fn wrapped(text: &str) -> String {
    let mut lines: Vec<String> = vec![String::new()];
    for word in text.split_whitespace() {
        let last = lines.last().map_or(0, |line| line.chars().count());
        if last > 0 && last + 1 + word.chars().count() > 76 {
            lines.push(String::new());
        }
        if let Some(line) = lines.last_mut() {
            if !line.is_empty() {
                line.push(' ');
            }
            line.push_str(word);
        }
    }
    lines.join("\n")
}
