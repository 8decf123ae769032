//! Print: on both usual papers nothing leaves the margins, nothing that belongs together is parted, and all can be read.

use super::chromium::{Browser, Scheme, View};
use super::examples::{PRINTED, Page, folder, pages};
use super::none;
use super::pdf::{Sheet, Word, sheets, sizes};
use serde_json::Value;
use std::path::PathBuf;
use std::sync::OnceLock;

/// Width and height in mm (ISO 216; ANSI/ASME Y14.1 size A).
const PAPERS: [(&str, (f64, f64)); 2] = [("a4", (210.0, 297.0)), ("letter", (215.9, 279.4))];

const MM: f64 = 72.0 / 25.4;
const SIDE: f64 = 14.0 * MM;
const BELOW: f64 = 18.0 * MM;
/// Letters reach a little over their box, and a pt is a third of a mm.
const SLACK: f64 = 1.0;

/// Takes away the names in sections, puts on the marks of both scripts, and tells what each has marked.
const MARKS: &str = concat!(
    "() => { document.querySelectorAll('.picture .name').forEach((name) => name.remove()); return [(",
    include_str!("marks.js"),
    ")(), (",
    include_str!("heads.js"),
    ")()]; }"
);

/// The number and the first word of each step.
const STEPS: &str = "() => [...document.querySelectorAll('.step h3')].map((head) => head.textContent.trim().split(/\\s+/).slice(0, 2).join(' '))";

/// A page on paper, and what a script told of it.
struct Print {
    name: String,
    file: PathBuf,
    sheets: Vec<Sheet>,
    told: Value,
}

/// The pages as they come, with the number and the first word of each step, printed once for all tests.
fn plain() -> &'static [Print] {
    static PRINTED: OnceLock<Vec<Print>> = OnceLock::new();
    PRINTED.get_or_init(|| prints("plain", STEPS))
}

/// The pages with marks on all that must stay whole and on heads of tables, told in two lists, and without the names in the
/// sections of a map, printed once for all tests.
fn marked() -> &'static [Print] {
    static PRINTED: OnceLock<Vec<Print>> = OnceLock::new();
    PRINTED.get_or_init(|| prints("marked", MARKS))
}

/// Every page to be printed on both papers, after a change of the page by a script, with what the script gives.
fn prints(test: &str, change: &str) -> Vec<Print> {
    let folder = folder(test);
    let mut browser = Browser::start();
    let mut prints = Vec::new();
    for Page { name, path } in pages(&PRINTED) {
        let page = Page { name: name.clone(), path };
        browser.open(&page, View { width: 1280, height: 720, scheme: Scheme::Light });
        let told = browser.run(change);
        for (paper, size) in PAPERS {
            let file = folder.join(format!("{}-{paper}.pdf", name.replace(['/', '.'], "-")));
            browser.print(size, &file);
            let sheets = sheets(&file);
            prints.push(Print { name: format!("{name} on {paper}"), file, sheets, told: told.clone() });
        }
    }
    prints
}

#[test]
#[ignore = "needs Chromium and poppler-utils; .ci/run installs them"]
fn text_keeps_the_margins_and_the_foot_counts_the_pages() {
    let mut wrong = Vec::new();
    for Print { name, sheets, .. } in plain() {
        let count = sheets.len();
        for (at, sheet) in sheets.iter().enumerate() {
            let place = format!("{name}, page {}", at + 1);
            let (foot, body): (Vec<&Word>, Vec<&Word>) =
                sheet.words.iter().partition(|word| word.top > sheet.height - BELOW + SLACK);
            let out = body.iter().filter(|word| {
                word.left < SIDE - SLACK
                    || word.right > sheet.width - SIDE + SLACK
                    || word.top < SIDE - SLACK
                    || word.bottom > sheet.height - BELOW + SLACK
            });
            wrong.extend(out.map(|word| format!("{place}: {word:?} lies in the margin")));
            let mut foot: Vec<&str> = foot.iter().map(|word| word.text.as_str()).collect();
            foot.sort_unstable();
            let (page, count) = ((at + 1).to_string(), count.to_string());
            for part in ["page", &page, "of", &count, "tapeline"] {
                if !foot.contains(&part) {
                    wrong.push(format!("{place}: the foot lacks {part}: {foot:?}"));
                }
            }
            if foot.len() > 30 {
                wrong.push(format!("{place}: more than a foot stands below: {foot:?}"));
            }
        }
    }
    none(&wrong);
}

/// A report of an example is no book, and no sheet but the last is left mostly empty.
#[test]
#[ignore = "needs Chromium and poppler-utils; .ci/run installs them"]
fn sheets_are_few_and_filled() {
    let mut wrong = Vec::new();
    for Print { name, sheets, .. } in plain() {
        if sheets.len() > 30 {
            wrong.push(format!("{name} takes {} pages", sheets.len()));
        }
        for (at, sheet) in sheets.iter().enumerate().rev().skip(1) {
            let body = sheet.words.iter().filter(|word| word.bottom < sheet.height - BELOW + SLACK);
            let lowest = body.map(|word| word.bottom).fold(0.0, f64::max);
            if lowest < 0.25 * sheet.height {
                wrong.push(format!("{name}, page {}: filled to {lowest:.0} pt only", at + 1));
            }
        }
    }
    none(&wrong);
}

#[test]
#[ignore = "needs Chromium and poppler-utils; .ci/run installs them"]
fn no_letter_is_smaller_than_9_pt() {
    let mut wrong = small(plain(), 0.0, 6.0);
    // Names in the sections of the map are as large as the sections let them be; every table has them too.
    // The marks are letters of 1.5 pt; what is as small without them is found above.
    wrong.extend(small(marked(), 2.0, 9.0));
    none(&wrong);
}

fn small(prints: &[Print], from: f64, least: f64) -> Vec<String> {
    let mut wrong = Vec::new();
    for Print { name, file, .. } in prints {
        let sizes = sizes(file);
        assert!(sizes.len() > 3, "{name}: only {} sizes were found", sizes.len());
        let small = sizes.iter().filter(|(size, _)| (from..least).contains(size));
        wrong.extend(small.map(|(size, text)| format!("{name}: {size:.1} pt: {text}")));
    }
    wrong
}

/// A script puts a mark on the first and on the last line of all that must stay whole: headings, steps, safety boxes,
/// rows, pictures, the answer. Both marks must come out on the same sheet.
#[test]
#[ignore = "needs Chromium and poppler-utils; .ci/run installs them"]
fn headings_steps_boxes_rows_and_pictures_are_never_parted() {
    let mut wrong = Vec::new();
    for Print { name, sheets, told, .. } in marked() {
        let text: Vec<String> =
            sheets.iter().map(|sheet| sheet.words.iter().map(|word| word.text.as_str()).collect()).collect();
        let told = told[0].as_array().unwrap();
        // The smallest run sheet has an act for each of three products.
        let least = if name.contains("run-sheet") { 3 } else { 6 };
        assert!(told.len() >= least, "{name}: only {} things to keep whole", told.len());
        for (number, thing) in told.iter().enumerate() {
            let on = |end: &str| {
                let mark = format!("q{number}{end}");
                text.iter().position(|sheet| sheet.contains(&mark))
            };
            match (on("x"), on("z")) {
                (Some(first), Some(last)) if first == last => {}
                (Some(first), Some(last)) => {
                    wrong.push(format!("{name}: {thing} goes from page {} to {}", first + 1, last + 1));
                }
                marks => wrong.push(format!("{name}: {thing} has lost its marks: {marks:?}")),
            }
        }
    }
    none(&wrong);
}

/// A table that goes over several sheets has its head on each of them, so that no column of numbers stands without a name.
#[test]
#[ignore = "needs Chromium and poppler-utils; .ci/run installs them"]
fn heads_of_tables_stand_on_each_of_their_sheets() {
    let (mut wrong, mut parted) = (Vec::new(), 0);
    for Print { name, sheets, told, .. } in marked() {
        let text: Vec<String> =
            sheets.iter().map(|sheet| sheet.words.iter().map(|word| word.text.as_str()).collect()).collect();
        for (number, table) in told[1].as_array().unwrap().iter().enumerate() {
            let on = |end: char| {
                // No page has this letter, so that no number behind a word is taken for a mark.
                let mark = format!("\u{416}{number}{end}");
                text.iter().enumerate().filter(move |(_, sheet)| sheet.contains(&mark)).map(|(at, _)| at)
            };
            let (Some(first), Some(last)) = (on('x').next(), on('z').next()) else {
                wrong.push(format!("{name}: {table} has lost its marks"));
                continue;
            };
            parted += usize::from(first < last);
            let heads: Vec<usize> = on('y').collect();
            let lacking = (first..=last).filter(|sheet| !heads.contains(sheet));
            wrong.extend(lacking.map(|sheet| format!("{name}: {table} has no head on page {}", sheet + 1)));
        }
    }
    assert!(parted > 5, "only {parted} tables go over several sheets");
    none(&wrong);
}

/// Every step is on the paper with its number, title and in the order of the page.
#[test]
#[ignore = "needs Chromium and poppler-utils; .ci/run installs them"]
fn every_step_is_printed_with_its_number() {
    let mut wrong = Vec::new();
    for Print { name, sheets, told, .. } in plain() {
        if !name.contains("checklist") {
            continue;
        }
        // By where it stands: a reader of the file may tell columns of two steps one after the other.
        let mut pairs: Vec<(usize, f64, [&str; 2])> = Vec::new();
        for (at, sheet) in sheets.iter().enumerate() {
            let own = sheet.words.windows(2);
            pairs.extend(own.map(|two| (at, two[0].top, [two[0].text.as_str(), two[1].text.as_str()])));
        }
        pairs.sort_by(|one, other| (one.0, one.1).partial_cmp(&(other.0, other.1)).unwrap());
        let told = told.as_array().unwrap();
        assert!(told.len() > 2, "{name}: only {} steps", told.len());
        let mut from = 0;
        for head in told.iter().map(|head| head.as_str().unwrap()) {
            let (number, title) = head.split_once(' ').unwrap();
            let found = pairs[from..].iter().position(|(_, _, pair)| *pair == [number, title]);
            match found {
                Some(at) => from += at + 1,
                None => wrong.push(format!("{name}: step {head} is not on the paper, or not in order")),
            }
        }
    }
    none(&wrong);
}
