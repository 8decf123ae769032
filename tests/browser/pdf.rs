//! Printed pages as poppler reads them back: words with their boxes, and the sizes of letters.

use std::collections::BTreeMap;
use std::path::Path;
use std::process::Command;

/// A word and its box in pt from the upper left corner.
#[derive(Debug, Clone)]
pub(crate) struct Word {
    pub(crate) left: f64,
    pub(crate) top: f64,
    pub(crate) right: f64,
    pub(crate) bottom: f64,
    pub(crate) text: String,
}

/// A sheet of paper in pt.
#[derive(Debug)]
pub(crate) struct Sheet {
    pub(crate) width: f64,
    pub(crate) height: f64,
    pub(crate) words: Vec<Word>,
}

fn run(program: &str, arguments: &[&str], file: &Path) -> String {
    let output = Command::new(program).args(arguments).arg(file).arg("-").output();
    let output = output.unwrap_or_else(|fault| panic!("{program}, of poppler-utils: {fault}"));
    assert!(output.status.success(), "{program}: {}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8(output.stdout).unwrap()
}

/// The sheets of a file.
pub(crate) fn sheets(file: &Path) -> Vec<Sheet> {
    let mut sheets: Vec<Sheet> = Vec::new();
    for line in run("pdftotext", &["-bbox"], file).lines().map(str::trim) {
        if line.starts_with("<page ") {
            sheets.push(Sheet {
                width: number(line, "width"),
                height: number(line, "height"),
                words: Vec::new(),
            });
        } else if let Some(rest) = line.strip_prefix("<word ") {
            let text = rest.split_once('>').unwrap().1.trim_end_matches("</word>");
            let word = Word {
                left: number(line, "xMin"),
                top: number(line, "yMin"),
                right: number(line, "xMax"),
                bottom: number(line, "yMax"),
                text: text
                    .replace("&lt;", "<")
                    .replace("&gt;", ">")
                    .replace("&quot;", "\"")
                    .replace("&amp;", "&"),
            };
            sheets.last_mut().expect("a word stands on a page").words.push(word);
        }
    }
    sheets
}

fn number(tag: &str, name: &str) -> f64 {
    let rest = tag.split_once(&format!("{name}=\"")).expect("the attribute is there").1;
    rest.split('"').next().unwrap().parse().unwrap()
}

/// Every size of letters in pt, rounded down to a third, with one of the texts that have it; smallest first. Marks that a test
/// has put on, which end in x, y or z, are no letters of the page.
pub(crate) fn sizes(file: &Path) -> Vec<(f64, String)> {
    // Sizes are told in whole units, three of which make a point at the highest magnification there is.
    let told = run("pdftohtml", &["-xml", "-zoom", "3", "-i", "-hidden", "-q", "-stdout"], file);
    let mut texts: BTreeMap<&str, &str> = BTreeMap::new();
    for line in told.lines().map(str::trim).filter(|line| line.starts_with("<text ")) {
        let (_, font) = line.split_once(" font=\"").unwrap();
        let (font, text) = font.split_once("\">").unwrap();
        let text = text.trim_end_matches("</text>");
        if !is_of_marks(text) {
            texts.entry(font).or_insert(text);
        }
    }
    let mut sizes = Vec::new();
    for line in told.lines().map(str::trim).filter(|line| line.starts_with("<fontspec ")) {
        if let Some(text) = texts.get(line.split('"').nth(1).unwrap()) {
            sizes.push((number(line, "size") / 3.0, (*text).to_owned()));
        }
    }
    sizes.sort_by(|a, b| a.0.total_cmp(&b.0));
    sizes
}

/// True for `q12x`, `h3y` and several of them in a row.
fn is_of_marks(text: &str) -> bool {
    let mut rest = text.trim();
    while let Some(behind) = rest.strip_prefix(['q', 'h']) {
        let number = behind.trim_start_matches(|c: char| c.is_ascii_digit());
        match number.strip_prefix(['x', 'y', 'z']) {
            Some(next) if number.len() < behind.len() => rest = next.trim_start(),
            _ => return false,
        }
    }
    rest.is_empty()
}

#[test]
fn marks_are_told_from_letters() {
    assert!(["q12x", "h3y", "q1xh2z", "q1x q2x"].into_iter().all(is_of_marks));
    assert!(!["q12", "hx", "q1x and", "3 h"].into_iter().any(is_of_marks));
}
