//! Printed pages as poppler reads them back: words with their boxes, and the sizes of letters.

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

/// Every size of letters in pt, rounded down to a third, with one of the texts that have it; smallest first.
pub(crate) fn sizes(file: &Path) -> Vec<(f64, String)> {
    // Sizes are told in whole units, three of which make a point at the highest magnification there is.
    let told = run("pdftohtml", &["-xml", "-zoom", "3", "-i", "-hidden", "-q", "-stdout"], file);
    let mut sizes = Vec::new();
    for line in told.lines().map(str::trim).filter(|line| line.starts_with("<fontspec ")) {
        let id = line.split('"').nth(1).unwrap();
        let font = format!(" font=\"{id}\">");
        let text = told.lines().find_map(|line| Some(line.split_once(&font)?.1.replace("</text>", "")));
        sizes.push((number(line, "size") / 3.0, text.unwrap_or_default()));
    }
    sizes.sort_by(|a, b| a.0.total_cmp(&b.0));
    sizes
}
