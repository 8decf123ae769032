//! Turns the header of a file into columns, or says which are missing, double or unknown.

use super::header::{Column, Columns, words};
use crate::diag::{Finding, Place, list, nearest};
use crate::study::{ReadingsFile, Study};
use crate::table::{Field, Header, Unknown, extra, folded, shown, word_and_unit};
use crate::text::{FileId, Span};
use crate::units::unit as unit_of;

/// What a sheet's header looks like, for help.
const SHEET: &str = "date,time,round,section,measure,unit,by,1,2,3";
/// What the header of one reading a line looks like, for help.
const LONG: &str = "date,round,section,measure,value,unit,gauge,by";

/// One heading of the file.
struct Heading {
    text: String,
    place: Place,
    column: Option<Column>,
    /// Behind the word of a reading, as in `value (deg)`.
    unit: Option<String>,
}

/// The columns of a file; `None` where its rows cannot be read, which a finding says.
pub(super) fn columns(
    study: &Study,
    declared: &ReadingsFile,
    (file, text): (FileId, &str),
    header: &Header,
    findings: &mut Vec<Finding>,
) -> Option<Columns> {
    let headings = headings(study, declared, (file, text), header, findings);
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
    sound &= unit(&headings, &mut columns, findings);
    columns.width =
        columns.width.max(headings.iter().rposition(|one| !one.text.is_empty()).map_or(0, |at| at + 1));
    let missing = missing(study, &columns);
    for word in &missing {
        findings.push(missing_column(study, line, word, &headings));
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
        findings.extend(extra(&unknown, ("study", "readings"), &words().collect::<Vec<_>>(), |text| {
            meant_by(text).or(Some("by").filter(|_| columns.by.is_none()))
        }));
    }
    (missing.is_empty() && sound).then_some(columns)
}

fn trimmed(text: &str, span: Span) -> Span {
    let line = text.get(span.range()).unwrap_or("").trim_end();
    Span::new(span.start as usize, span.start as usize + line.len())
}

fn headings(
    study: &Study,
    declared: &ReadingsFile,
    (file, text): (FileId, &str),
    header: &Header,
    findings: &mut Vec<Finding>,
) -> Vec<Heading> {
    let heading = |field: &Field| {
        let text_of = field.text(text).into_owned();
        let known = Column::with_unit(&text_of, |unit| is_unit(study, unit));
        let (column, unit) = known.map_or((None, None), |(column, unit)| (Some(column), unit));
        Heading { text: text_of, place: Place { file, span: field.span(text) }, column, unit }
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
            // `column "Gloss (GU)" is value` has its unit as well.
            let (_, unit) = word_and_unit(&heading.text, |_| Some(()));
            let of_value = matches!(column, Column::Value | Column::Nth(_));
            heading.unit = unit.filter(|unit| of_value && is_unit(study, unit));
        } else {
            let message = format!("`{}` has no column `{}`", declared.name.value, shown(&called.value));
            let finding = Finding::error("column-missing", called.span, message);
            let have: Vec<String> = headings.iter().map(|one| format!("`{}`", shown(&one.text))).collect();
            findings.push(finding.help(format!("its columns are {}", list(&have, "and"))).binding());
        }
    }
    headings
}

fn is_unit(study: &Study, text: &str) -> bool {
    unit_of(text).is_some() || study.measures.iter().any(|one| one.unit.symbol.eq_ignore_ascii_case(text))
}

/// Takes the unit that headings of readings give; false where it is said in two ways.
fn unit(headings: &[Heading], columns: &mut Columns, findings: &mut Vec<Finding>) -> bool {
    let mut said = headings.iter().filter_map(|one| Some((one, one.unit.as_deref()?)));
    let Some((first, unit)) = said.next() else { return true };
    columns.said = Some((unit.to_owned(), first.place.span));
    if columns.unit.is_some() {
        let message = "the unit stands in this heading, and the file has a column `unit` as well";
        let help = "take it out of the heading; the column tells it for each row";
        findings.push(Finding::error("column-twice", first.place, message).help(help).binding());
        return false;
    }
    let same = |other: &str| {
        other.eq_ignore_ascii_case(unit) || unit_of(other).is_some_and(|one| unit_of(unit) == Some(one))
    };
    let Some((other, second)) = said.find(|(_, other)| !same(other)) else { return true };
    let message =
        format!("the headings of readings give two units, `{}` and `{}`", shown(unit), shown(second));
    let help =
        "give each measure rows of its own, and take the units out of the headings into a column `unit`";
    findings.push(Finding::error("wrong-unit", other.place, message).help(help).binding());
    false
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

/// Words that people have over a column, in English and German, and what they most likely mean. None is taken unasked.
const MEANT: &[(&str, &[&str])] = &[
    ("round", &["when", "visit", "stage", "inspection", "months", "runde", "termin", "zeitpunkt"]),
    (
        "section",
        &[
            "field",
            "patch",
            "spot",
            "place",
            "position",
            "pos",
            "area",
            "plot",
            "sample",
            "specimen",
            "feld",
            "abschnitt",
            "stelle",
        ],
    ),
    ("measure", &["property", "quantity", "parameter", "messgröße", "größe"]),
    ("value", &["mark", "score", "rating", "result", "wert", "messwert", "note"]),
    ("date", &["datum", "tag"]),
    ("time", &["uhrzeit", "zeit"]),
    ("unit", &["einheit"]),
    ("gauge", &["device", "meter", "gerät", "messgerät"]),
    ("by", &["inspector", "tester", "person", "name", "wer", "prüfer", "kürzel"]),
];

/// The column that a heading most likely means.
fn meant_by(heading: &str) -> Option<&'static str> {
    let heading = folded(heading);
    MEANT.iter().find(|(_, words)| words.contains(&heading.as_str())).map(|&(word, _)| word)
}

fn missing_column(study: &Study, line: Place, word: &'static str, headings: &[Heading]) -> Finding {
    let finding =
        Finding::error("column-missing", line, format!("the file has no column `{word}`")).binding();
    let unknown: Vec<&str> = headings
        .iter()
        .filter(|heading| heading.column.is_none() && !heading.text.is_empty())
        .map(|heading| heading.text.trim())
        .collect();
    let say = |own: &str| {
        format!(
            "write `column \"{}\" is {word}` under `readings`, or call it `{word}` in the file",
            shown(own)
        )
    };
    if let Some(own) = unknown.iter().find(|text| meant_by(text) == Some(word)) {
        return finding.help(say(own));
    }
    // Readings of each measure in a column of its own.
    let measures = study.measures.iter().map(|one| folded(&one.name.value));
    let measures: Vec<String> = measures.collect();
    let is_measure = |text: &&&str| measures.contains(&folded(text));
    if let (true, Some(own)) = (matches!(word, "measure" | "value"), unknown.iter().find(is_measure)) {
        let own = shown(own);
        return finding.help(format!(
            "give each measure rows of its own: `{own}` in a column `measure`, and what stands below it in a column `value`"
        ));
    }
    if word == "value" {
        return finding.help(match numbered(&unknown) {
            Some((first, last, numbers)) => format!(
                "call the columns `{}` to `{}` {}, which are readings side by side",
                shown(first),
                shown(last),
                list(&numbers, "and")
            ),
            None => readings_of(&unknown),
        });
    }
    if let Some(meant) = unknown.iter().find(|text| nearest(text, [word]).is_some()) {
        return finding.help(format!("call `{}` `{word}`", shown(meant)));
    }
    finding.help(match unknown.as_slice() {
        [] => format!("add a column `{word}`"),
        [own] => format!("add a column `{word}`; where `{0}` is that, write `column \"{0}\" is {word}` under `readings`", shown(own)),
        several => format!(
            "add a column `{word}`; where one of {} is that, say so under `readings`, as `column \"{}\" is {word}`",
            list(&several.iter().take(6).map(|own| format!("`{}`", shown(own))).collect::<Vec<_>>(), "and"),
            shown(several[0])
        ),
    })
}

/// What to write where no column holds readings.
fn readings_of(unknown: &[&str]) -> String {
    // `Reading 1 (left)`: a reading by its first words.
    let counted = |text: &&str| match Column::of(text.split(['(', '[', ',']).next().unwrap_or(text)) {
        Some(column @ (Column::Value | Column::Nth(_))) => Some((shown(text), column.word())),
        _ => None,
    };
    if let Some((own, word)) = unknown.iter().find_map(counted) {
        return format!("call `{own}` `{word}`; only a unit may stand behind the word, as in `value (GU)`");
    }
    if let Some(meant) = unknown.iter().find(|text| nearest(text, ["value"]).is_some()) {
        return format!("call `{}` `value`", shown(meant));
    }
    match unknown.first() {
        Some(own) => format!(
            "add a column `value`, or columns `1`, `2` and on for readings side by side; where `{0}` holds them, write `column \"{0}\" is value` under `readings`",
            shown(own)
        ),
        None => "add a column `value`, or columns `1`, `2` and on for readings side by side".to_owned(),
    }
}

/// The first and the last of columns that count up behind one word, as `R1` to `R5`, with their numbers.
fn numbered<'t>(unknown: &[&'t str]) -> Option<(&'t str, &'t str, Vec<String>)> {
    let stem = |text: &str| text.trim_end_matches(|c: char| c.is_ascii_digit()).len();
    let first = unknown.iter().find(|text| text.ends_with('1') && stem(text) > 0)?;
    let own = &first[..stem(first)];
    let counted = |text: &&&str| text.get(..stem(text)) == Some(own) && text.len() > own.len();
    let all: Vec<&&str> = unknown.iter().filter(counted).collect();
    let numbers = all.iter().map(|text| format!("`{}`", &text[own.len()..])).collect();
    (all.len() > 1).then(|| (*first, **all.last().unwrap_or(&first), numbers))
}
