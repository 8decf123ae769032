//! Blocks of pages that a study changes: the files of its folder, what is wrong with them, and how they join a template.
//!
//! A page stays whole by itself, so a block that would load something or run a script is refused before it is printed.

use super::fault::Fault;
use super::nesting::unbalanced;
use super::templates::{FRAME_STYLE, TOKENS, Template, TemplateBlock, template_blocks};
use crate::diag::{Finding, Place, list, nearest};
use crate::report::{Material, PageBlock};
use crate::study::Study;
use crate::text::{FileId, NamedFile, SourceFile, Sources, Span};
use minijinja::value::{Value, ValueKind};
use minijinja::{Error, ErrorKind};
use std::borrow::Cow;
use std::ops::Range;

/// Takes the files of the folder that the study names; `None` where there is no such folder. Each becomes an input.
pub fn read_blocks(
    study: &Study,
    files: Option<Vec<NamedFile>>,
    sources: &mut Sources,
) -> (Vec<PageBlock>, Vec<Finding>) {
    let Some(folder) = &study.pages else { return (Vec::new(), Vec::new()) };
    let shown = |file: &NamedFile| !file.name.starts_with('.');
    let files: Vec<NamedFile> = files.unwrap_or_default().into_iter().filter(shown).collect();
    if files.is_empty() {
        let message = format!("the folder `{}` is not there or is empty", folder.value);
        let finding = Finding::error("pages-absent", folder.span, message)
            .help("correct the name, or put the blocks into a folder of that name beside the study")
            .help("`tapeline pages` lists the blocks");
        return (Vec::new(), vec![finding]);
    }
    let (mut blocks, mut findings) = (Vec::new(), Vec::new());
    for file in files {
        let name = format!("{}/{}", folder.value.replace('\\', "/"), file.name);
        let whole = String::from_utf8(file.bytes);
        let is_text = whole.is_ok();
        let text = whole.unwrap_or_else(|error| String::from_utf8_lossy(error.as_bytes()).into_owned());
        let source = sources.add(SourceFile::new(name, text));
        let Some(known) = template_blocks().find(|block| block.file() == file.name) else {
            findings.push(unknown(&file.name, source));
            continue;
        };
        if !is_text {
            let message = format!("`{}` is not UTF-8 text", file.name);
            let finding = Finding::error("page-block-broken", start_of(source), message);
            findings.push(finding.help("save it as plain text in UTF-8"));
            continue;
        }
        if let Some(file) = sources.get(source) {
            findings.extend(refused(file, source, known));
        }
        blocks.push(PageBlock { page: known.page, name: known.name, file: file.name, source });
    }
    (blocks, findings)
}

fn start_of(source: FileId) -> Place {
    Place { file: source, span: Span::new(0, 0) }
}

fn unknown(name: &str, source: FileId) -> Finding {
    let files: Vec<String> = template_blocks().map(|block| block.file()).collect();
    let message = format!("no block of a page is called `{name}`, so it changes nothing");
    let finding = Finding::warning("page-block-unknown", start_of(source), message).about("pages");
    let page =
        |block: &TemplateBlock| name.starts_with(block.page.rsplit_once('.').map_or("", |(stem, _)| stem));
    let of_page: Vec<String> = template_blocks().filter(page).map(|block| block.file()).collect();
    let finding = match (nearest(name, files.iter().map(String::as_str)), of_page.as_slice()) {
        (Some(near), _) => finding.help(format!("did you mean `{near}`?")),
        (None, []) => finding,
        (None, names) => finding.help(format!("the blocks of this page are {}", list(names, "and"))),
    };
    finding.help("`tapeline pages` lists the blocks")
}

/// What no page holds: what it stands for, and what to write instead.
const REFUSED: &[(&str, &str, &str)] = &[
    ("<script", "a script", "leave it out: a page says all without one"),
    ("javascript:", "a script", "leave it out: a page says all without one"),
    ("<link", "another file", "put rules of style into `frame-style.css`"),
    ("<iframe", "another page", "link to it with `<a href>`"),
    ("<object", "another file", "draw it as SVG, which may stand in the block itself"),
    ("<embed", "another file", "draw it as SVG, which may stand in the block itself"),
    ("<base", "another address of the page", "leave it out"),
    ("<meta", "a rule for the browser", "leave it out"),
    ("<form", "a form that is sent", "link to it with `<a href>`"),
    (" src=", "another file", "draw it as SVG, which may stand in the block itself"),
    (" srcset=", "another file", "draw it as SVG, which may stand in the block itself"),
    ("@import", "another file", "write its rules here"),
    ("@font-face", "a font", "name fonts that readers have, with `--type`"),
    ("</style", "an end of the style", "leave it out"),
    ("@layer", "what may hide the answer", "write its rules without a layer"),
    ("<style", "a style that nothing looks at", "put rules of style into `frame-style.css`"),
    ("<template", "what hides the rest of the page", "leave it out"),
    ("<textarea", "what hides the rest of the page", "leave it out"),
    ("<plaintext", "what hides the rest of the page", "leave it out"),
    ("<body", "a rule for the whole page", "leave it out"),
    ("<html", "a rule for the whole page", "leave it out"),
    ("<frameset", "another page", "leave it out"),
];

/// A page asks for nothing and runs nothing; a link that a reader may follow is no request.
fn refused(file: &SourceFile, source: FileId, block: TemplateBlock) -> Vec<Finding> {
    let text = file.text.to_ascii_lowercase();
    let mut found: Vec<(Range<usize>, &str, &str)> = Vec::new();
    for (word, what, instead) in REFUSED {
        found.extend(text.match_indices(word).map(|(at, _)| (at..at + word.len(), *what, *instead)));
    }
    for (at, _) in text.match_indices(" on") {
        let name = text[at + 1..].bytes().take_while(u8::is_ascii_lowercase).count();
        if name > 3 && text[at + 1 + name..].trim_start().starts_with('=') && block.page.ends_with("html") {
            found.push((at + 1..at + 1 + name, "a script", "leave it out: a page says all without one"));
        }
    }
    let targets = text.match_indices("url(").filter(|(at, _)| !text[at + 4..].starts_with('#'));
    found.extend(targets.map(|(at, _)| (at..at + 4, "another file", "leave it out")));
    for scheme in ["http:", "https:"] {
        let before = ["href=\"", "href='", "]("];
        let is_link = |at: usize| before.iter().any(|before| text[..at].ends_with(before));
        // The names of XML are no addresses.
        let is_name = |at: usize| text[at..].starts_with("http://www.w3.org/");
        let addresses = text
            .match_indices(scheme)
            .filter(|(at, _)| text[at + scheme.len()..].starts_with("//") && !is_link(*at) && !is_name(*at));
        found.extend(addresses.map(|(at, _)| {
            let instead = "make it a link: `<a href=\"...\">`, in Markdown `[words](address)`";
            (at..at + scheme.len() + 2, "an address on the network", instead)
        }));
    }
    let is_html = block.page.ends_with("html");
    // A value of an attribute that is important would win against what keeps the answer on the page.
    let important = text.match_indices("!important").filter(|_| is_html);
    found.extend(important.map(|(at, word)| {
        (at..at + word.len(), "what may hide the answer", "put rules of style into `frame-style.css`")
    }));
    let open = text.rfind("<!--").filter(|&at| !text[at..].contains("-->"));
    found.extend(open.map(|at| (at..at + 4, "a remark that hides the rest of the page", "close it: `-->`")));
    found.sort_by_key(|(range, ..)| range.start);
    let findings = found.into_iter().map(|(range, what, instead)| {
        let place = Place { file: source, span: Span::new(range.start, range.end) };
        let message = format!("a page is whole by itself, and this would be {what}");
        Finding::error("page-block-reaches-out", place, message).help(instead).binding()
    });
    let nested = unbalanced(&text).filter(|_| is_html).map(|(range, message, help)| {
        let place = Place { file: source, span: Span::new(range.start, range.end) };
        Finding::error("page-block-broken", place, message).help(help).binding()
    });
    findings.chain(nested).chain(colours(file, source, block)).collect()
}

/// A colour that no page has, where it looks like one that pages have: a style sheet says nothing of a slip.
fn colours(file: &SourceFile, source: FileId, block: TemplateBlock) -> Vec<Finding> {
    if block.page != FRAME_STYLE.name {
        return Vec::new();
    }
    let pale = super::contrast::too_near(file, source);
    let known: Vec<&str> = tokens(TOKENS).map(|(_, name)| name).collect();
    let strange = tokens(&file.text).filter(|(_, name)| !known.contains(name));
    let slips = strange.filter_map(|(at, name)| Some((at, name, nearest(name, known.iter().copied())?)));
    slips
        .map(|(at, name, near)| {
            let place = Place { file: source, span: Span::new(at, at + name.len()) };
            Finding::warning("page-block-unknown", place, format!("no page uses `{name}`"))
                .help(format!("did you mean `{near}`?"))
                .about("pages")
        })
        .chain(pale)
        .collect()
}

/// Every `--name:` of a style sheet, with its place.
fn tokens(text: &str) -> impl Iterator<Item = (usize, &str)> {
    text.match_indices("--").filter_map(move |(at, _)| {
        let rest = &text[at..];
        let end = rest.find(|c: char| !(c.is_ascii_alphanumeric() || c == '-'))?;
        rest[end..].trim_start().starts_with(':').then(|| (at, &rest[..end]))
    })
}

/// The blocks that say what was found, and those right beside them. What a study writes there stands below the answer of the tool, marked as its own: nobody
/// can tell by a page whose words they are.
const ANSWERS: [&str; 7] = [
    "report-head.md",
    "report-answer.md",
    "report-footing.md",
    "report-shown.md",
    "report-opening.md",
    "index-head.html",
    "index-answer.html",
];

/// Of these the blocks that stand above the answer.
const HEADS: [&str; 2] = ["report-head.md", "index-head.html"];

/// The built-in block stands above already; blanks keep the places in the text.
fn without_super(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut rest = text;
    while let Some((at, end)) = rest.find("{{").and_then(|at| Some((at, at + rest[at..].find("}}")? + 2))) {
        let inside = rest[at + 2..end - 2].trim_matches(['-', '+', ' ', '\t', '\n', '\r']);
        let asked = inside.split_whitespace().collect::<String>().starts_with("super()");
        out.push_str(&rest[..at]);
        if asked {
            out.extend(rest[at..end].chars().map(|c| if c == '\n' { c } else { ' ' }));
        } else {
            out.push_str(&rest[at..end]);
        }
        rest = &rest[end..];
    }
    out + rest
}

/// A block that takes the place of the built-in one, after those of the same page before it.
pub(super) struct Own<'a> {
    block: &'a PageBlock,
    text: Cow<'a, str>,
    before: String,
    after: &'static str,
}

/// The blocks of a template that the study changes, each the child of the one before.
pub(super) fn own_blocks<'a>(material: &'a Material<'_>, template: Template) -> Vec<Own<'a>> {
    let mut parent = template.name;
    let blocks = material.blocks.iter().filter(|block| block.page == template.name);
    let own = blocks.filter_map(|block| {
        let text = &material.sources.get(block.source)?.text;
        let answers = ANSWERS.contains(&block.file.as_str());
        if answers
            && template_blocks().any(|known| known.file() == block.file && known.text.trim() == text.trim())
        {
            return None;
        }
        // On one line with the first of the user, so that lines count as in the file.
        let above = match (answers, HEADS.contains(&block.file.as_str())) {
            (true, true) => "{{ super() }}{{ house_mark(false) }}",
            (true, false) => "{{ super() }}{{ house_mark(true) }}",
            (false, _) => "",
        };
        // In a box of its own, which nothing in it leaves.
        let boxed = ["frame.html", "index.html"].contains(&block.page);
        let (open, after) = match (boxed, answers) {
            (true, true) => ("<div class=\"house\">", "</div>{{ house_end() }}"),
            (true, false) => ("<div class=\"house\">", "</div>"),
            (false, true) => ("", "{{ house_end() }}"),
            (false, false) => ("", ""),
        };
        let before = format!("{{% extends \"{parent}\" %}}{{% block {} %}}{above}{open}", block.name);
        parent = &block.file;
        let text = if answers { Cow::Owned(without_super(text)) } else { Cow::Borrowed(text.as_str()) };
        Some(Own { block, text, before, after })
    });
    own.collect()
}

impl Own<'_> {
    /// Its name as a template.
    pub(super) fn name(&self) -> &str {
        &self.block.file
    }

    /// Its text as the user wrote it.
    pub(super) fn text(&self) -> &str {
        &self.text
    }

    /// The template.
    pub(super) fn source(&self) -> String {
        // A last line without its end would run into what the tool says next.
        let end = if self.text.ends_with('\n') { "" } else { "\n" };
        format!("{}{}{end}{}{{% endblock %}}", self.before, self.text, self.after)
    }

    /// What is wrong with its text alone.
    pub(super) fn unsound(&self, error: &Error) -> Fault {
        self.told(error, self.place(error, 0), &Value::UNDEFINED)
    }

    /// What is wrong with it in its page, where, and what to write instead.
    pub(super) fn fault(&self, error: &Error, view: &Value) -> Fault {
        let mine = error.name() == Some(self.name());
        self.told(error, if mine { self.place(error, self.before.len()) } else { 0..0 }, view)
    }

    fn told(&self, error: &Error, span: Range<usize>, view: &Value) -> Fault {
        let what = self.text.get(span.clone()).unwrap_or_default().trim();
        let place = Place { file: self.block.source, span: Span::new(span.start, span.end) };
        let finding = Finding::error("page-block-broken", place, message(self.name(), error, what));
        let beside = if error.kind() == ErrorKind::UndefinedError { beside(view, what) } else { None };
        let finding = beside.into_iter().fold(finding, Finding::help);
        Fault::of_block(
            finding.help(format!("`tapeline pages {}` prints the block as it is built in", self.name())),
        )
    }

    // What the engine marks behind so many bytes of its own, else the line that it names, or the last that has words.
    fn place(&self, error: &Error, shift: usize) -> Range<usize> {
        let marked = error
            .range()
            .and_then(|range| Some(range.start.checked_sub(shift)?..range.end.checked_sub(shift)?));
        if let Some(range) = marked.filter(|range| range.start < range.end && range.end <= self.text.len()) {
            return range;
        }
        let written = self.text.trim_end().lines().count().max(1);
        let line = error.line().unwrap_or(1).clamp(1, written);
        let above: usize = self.text.split_inclusive('\n').take(line - 1).map(str::len).sum();
        let line = self.text.get(above..).and_then(|rest| rest.lines().next()).unwrap_or_default();
        above + line.len() - line.trim_start().len()..above + line.trim_end().len()
    }
}

fn message(name: &str, error: &Error, what: &str) -> String {
    match error.kind() {
        ErrorKind::UndefinedError if !what.is_empty() => {
            format!("`{what}` has no value at this place of `{name}`")
        }
        ErrorKind::SyntaxError => {
            format!("`{name}` is no sound template: {}", error.detail().unwrap_or("it ends too early"))
        }
        ErrorKind::OutOfFuel => {
            format!("`{name}` takes too long to print: its loops turn too often")
        }
        kind => match error.detail() {
            Some(detail) => format!("`{name}` cannot be printed: {kind}: {detail}"),
            None => format!("`{name}` cannot be printed: {kind}"),
        },
    }
}

/// The nearest name beside one that is not there, or all of them: of `view.titel`, what `view` has.
fn beside(view: &Value, path: &str) -> Option<String> {
    let mut at = view.clone();
    let mut walked = String::new();
    for name in path.split('.') {
        let name = name.split(|c: char| !(c.is_alphanumeric() || c == '_')).next().unwrap_or_default();
        let next = at.get_attr(name).ok();
        if let Some(next) = next.filter(|next| !next.is_undefined()) {
            walked.push_str(name);
            walked.push('.');
            at = next;
            continue;
        }
        if at.kind() != ValueKind::Map {
            return None;
        }
        let names: Vec<String> = at.try_iter().ok()?.map(|name| name.to_string()).collect();
        if let Some(near) = nearest(name, names.iter().map(String::as_str)) {
            return Some(format!("did you mean `{walked}{near}`?"));
        }
        let names: Vec<String> = names.iter().map(|name| format!("`{walked}{name}`")).collect();
        return Some(format!("here are {}", list(&names, "and")));
    }
    None
}
