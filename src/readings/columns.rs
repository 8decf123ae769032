//! Turns the header of a file into columns, or says which are missing, double or unknown.

use super::header::{Column, Columns, words};
use crate::diag::{Finding, Place, list, nearest};
use crate::study::{ReadingsFile, Study};
use crate::table::{Field, Header, Unknown, extra, shown};
use crate::text::{FileId, Span};

/// What a sheet's header looks like, for help.
const SHEET: &str = "date,time,round,section,measure,unit,by,1,2,3";
/// What the header of one reading a line looks like, for help.
const LONG: &str = "date,round,section,measure,value,unit,gauge,by";

/// One heading of the file.
struct Heading {
    text: String,
    place: Place,
    column: Option<Column>,
}

/// The columns of a file; `None` where its rows cannot be read, which a finding says.
pub(super) fn columns(
    study: &Study,
    declared: &ReadingsFile,
    (file, text): (FileId, &str),
    header: &Header,
    findings: &mut Vec<Finding>,
) -> Option<Columns> {
    let headings = headings(declared, (file, text), header, findings);
    let whole = Place { file, span: Span::new(header.row.start, header.row.end) };
    let line = Place { span: trimmed(text, whole.span), ..whole };
    let needed = |heading: &&Heading| {
        !matches!(heading.column, None | Some(Column::Aside | Column::Note | Column::Time))
    };
    if headings.iter().filter(needed).count() < 2 {
        let message = "the first line does not name the columns";
        let finding = Finding::error("header-not-known", line, message).label("this should be the header");
        findings.push(finding.help(format!("begin the file with `{SHEET}` or `{LONG}`")).binding());
        return None;
    }
    let mut columns = Columns::default();
    let mut sound = true;
    for (at, heading) in headings.iter().enumerate() {
        let Some(column) = heading.column else { continue };
        if !columns.take(column, at) {
            sound = false;
            findings.push(twice(heading, column));
        }
    }
    columns.width =
        columns.width.max(headings.iter().rposition(|one| !one.text.is_empty()).map_or(0, |at| at + 1));
    let missing = missing(study, &columns);
    for word in &missing {
        findings.push(missing_column(line, word, &headings));
    }
    if columns.is_sheet() && columns.values.iter().any(|&(number, _)| number == 0) {
        sound = false;
        let message = "the file has a column `value` and numbered columns beside it";
        let finding = Finding::error("column-twice", line, message);
        findings.push(finding.help("keep one reading a line, or one section a line").binding());
    }
    if missing.is_empty() && sound {
        let unknown = headings.iter().filter(|one| one.column.is_none() && !one.text.is_empty());
        let unknown: Vec<Unknown<'_>> =
            unknown.map(|one| Unknown { text: &one.text, place: one.place }).collect();
        findings.extend(extra(&unknown, "study", &words().collect::<Vec<_>>()));
    }
    (missing.is_empty() && sound).then_some(columns)
}

fn trimmed(text: &str, span: Span) -> Span {
    let line = text.get(span.range()).unwrap_or("").trim_end();
    Span::new(span.start as usize, span.start as usize + line.len())
}

fn headings(
    declared: &ReadingsFile,
    (file, text): (FileId, &str),
    header: &Header,
    findings: &mut Vec<Finding>,
) -> Vec<Heading> {
    let heading = |field: &Field| {
        let text_of = field.text(text).into_owned();
        let column = Column::of(&text_of);
        Heading { text: text_of, place: Place { file, span: field.span(text) }, column }
    };
    let mut headings: Vec<Heading> = header.fields.iter().map(heading).collect();
    for (called, word) in &declared.columns {
        let Some(column) = Column::of(word) else {
            let message = format!("`{}` is not a column that readings have", shown(word));
            let known = nearest(word, words()).map_or_else(
                || format!("the columns are those of `{LONG}`"),
                |near| format!("write `{near}`"),
            );
            findings.push(Finding::error("column-missing", called.span, message).help(known).binding());
            continue;
        };
        let same = |one: &&mut Heading| one.text.to_lowercase() == called.value.trim().to_lowercase();
        if let Some(heading) = headings.iter_mut().find(same) {
            heading.column = Some(column);
        } else {
            let message = format!("`{}` has no column `{}`", declared.name.value, shown(&called.value));
            let finding = Finding::error("column-missing", called.span, message);
            let have: Vec<String> = headings.iter().map(|one| format!("`{}`", shown(&one.text))).collect();
            findings.push(finding.help(format!("its columns are {}", list(&have, "and"))).binding());
        }
    }
    headings
}

fn twice(heading: &Heading, column: Column) -> Finding {
    let message = format!("the file has two columns `{}`", column.word());
    Finding::error("column-twice", heading.place, message)
        .label("the second")
        .help("keep one of them, or give the other another heading")
        .binding()
}

/// The words of the columns without which no row can be placed.
fn missing(study: &Study, columns: &Columns) -> Vec<&'static str> {
    let mut missing = Vec::new();
    if columns.round.is_none() {
        missing.push("round");
    }
    if columns.section.is_none() {
        missing.push("section");
    }
    if columns.measure.is_none() && study.measures.len() != 1 {
        missing.push("measure");
    }
    if columns.values.is_empty() {
        missing.push("value");
    }
    missing
}

/// Headings of tables that were kept in German, which say as well what they are.
const GERMAN: &[(&str, &str)] = &[
    ("runde", "round"),
    ("feld", "section"),
    ("abschnitt", "section"),
    ("messgröße", "measure"),
    ("größe", "measure"),
    ("wert", "value"),
    ("messwert", "value"),
];

fn missing_column(line: Place, word: &'static str, headings: &[Heading]) -> Finding {
    let finding = Finding::error("column-missing", line, format!("the file has no column `{word}`"));
    let unknown = headings.iter().filter(|heading| heading.column.is_none());
    let meant = unknown.map(|heading| heading.text.as_str()).find(|text| nearest(text, [word]).is_some());
    let foreign = headings.iter().filter(|heading| heading.column.is_none()).find(|heading| {
        let text = heading.text.trim().to_lowercase();
        GERMAN.iter().any(|(german, known)| *known == word && *german == text)
    });
    if let Some(heading) = foreign {
        let own = shown(&heading.text);
        let help =
            format!("write `column \"{own}\" is {word}` under `readings`, or call it `{word}` in the file");
        return finding.help(help).binding();
    }
    let finding = match meant {
        Some(meant) => finding.help(format!("call `{}` `{word}`", shown(meant))),
        None if word == "value" => {
            finding.help("add a column `value`, or columns `1`, `2` and on for readings side by side")
        }
        None => finding.help(format!("add a column `{word}`")),
    };
    finding.binding()
}
