//! The appendix: every reading, the findings that are left, and the inputs with their digests.

use super::blocks::{Part, Table, Topic};
use super::checklist::section_list;
use super::material::Material;
use super::numbers::{self, Figure, Style};
use super::{as_recorded, names};
use crate::analysis::SectionMean;
use crate::diag::{Finding, Severity};
use crate::readings::{Cell, Outliers, Reading, Suspect, Value};
use crate::speech::{self, count, list, say};
use crate::study::{MeasureId, MeasureKind, RoundId, Study};
use std::collections::BTreeMap;

/// Heading of the part below which every reading stands.
pub fn readings_heading() -> &'static str {
    say!("Every reading")
}

/// A page with more rows than this is no reading matter; the file of readings holds them all.
const MOST_ROWS: usize = 3000;

pub(super) fn parts(material: &Material<'_>) -> Vec<Part> {
    let mut parts = vec![findings(material), inputs(material)];
    parts.extend(readings(material));
    parts
}

fn findings(material: &Material<'_>) -> Part {
    let n = material.findings.len();
    let mut part = Part::new(match n {
        0 => say!("No finding is left").to_owned(),
        1 => say!("One finding is left").to_owned(),
        n => say!("{n} findings are left", n),
    })
    .about(Topic::Findings);
    if n == 0 {
        part.say(say!("Every check of the study and its readings is silent."));
        if as_recorded::nothing(material) {
            part.say(say!("No check can look at work that is not on record."));
        }
        return part;
    }
    part.list(as_worded());
    let mut table = Table::new(&[say!("Severity"), say!("Finding"), say!("Where"), say!("What")]);
    for finding in material.findings.iter().take(MOST_ROWS) {
        table.row(vec![
            Figure::from(severity(finding.severity)),
            Figure::from(finding.code),
            Figure::from(place(material, finding)),
            Figure::from(names::finding(&finding.message)),
        ]);
    }
    part.table(table);
    part
}

/// Findings are worded in English; a page in another language says so.
pub(super) fn as_worded() -> Vec<String> {
    let quoted = say!("Findings are quoted as the checks word them, in English.");
    if speech::spoken() == speech::Language::English { Vec::new() } else { vec![quoted.to_owned()] }
}

fn severity(severity: Severity) -> &'static str {
    match severity {
        Severity::Error => say!("error"),
        Severity::Warning => say!("warning"),
        Severity::Advice => say!("advice"),
    }
}

fn place(material: &Material<'_>, finding: &Finding) -> String {
    material.sources.get(finding.place.file).map_or_else(String::new, |file| {
        say!(
            "{file}, line {line}",
            file = file.base_name(),
            line = file.line_column(finding.place.span.start).0
        )
    })
}

/// `2 warnings and 1 advice`, or `no finding`.
pub(super) fn finding_count(findings: &[Finding]) -> String {
    let of = |severity: Severity| findings.iter().filter(|finding| finding.severity == severity).count();
    let advice = |n: usize| {
        if n == 1 { say!("1 piece of advice").to_owned() } else { say!("{n} pieces of advice", n) }
    };
    let words = [
        (of(Severity::Error), count(of(Severity::Error), "error")),
        (of(Severity::Warning), count(of(Severity::Warning), "warning")),
        (of(Severity::Advice), advice(of(Severity::Advice))),
    ];
    let words: Vec<String> = words.into_iter().filter(|(n, _)| *n > 0).map(|(_, text)| text).collect();
    if words.is_empty() { say!("no finding").to_owned() } else { list(&words, "and") }
}

fn inputs(material: &Material<'_>) -> Part {
    let mut part = Part::new(say!("What this report was made from"));
    part.say(say!(
        "Made by tapeline {version} {as_of}. The same inputs give the same bytes. SHA-256 of each input:",
        version = material.version,
        as_of = material.as_of()
    ));
    let mut table = Table::new(&[say!("File"), "SHA-256"]);
    for input in material.inputs {
        table.row(vec![Figure::from(input.name.as_str()), Figure::from(input.sha256.as_str())]);
    }
    part.table(table);
    if !material.blocks.is_empty() {
        let files: Vec<&str> = material.blocks.iter().map(|block| block.file.as_str()).collect();
        part.say(say!("The study changes blocks of its pages: {files}.", files = list(&files, "and")));
    }
    let later = material.readings.later();
    let (rows, records) = (count(later, "row"), count(material.study.passed_over, "record"));
    if later + material.study.passed_over > 0 {
        part.say(say!("Passed over, since they are of later days: {rows} of its files, {records} of what was done or happened.", rows, records));
    }
    part
}

fn readings(material: &Material<'_>) -> Vec<Part> {
    let all = material.readings.cells().len();
    let mut part = Part::new(readings_heading());
    if all == 0 {
        part.say(say!("There are no readings yet."));
        return vec![part];
    }
    let on_panel = material.study.sections.len();
    if material.readings.cells().iter().all(|cell| cell.section.index() >= on_panel) {
        part.say(say!(
            "Every reading is in readings.csv. Its {lines} here, one for each patch or specimen and round, are not printed: they would take more \
             paper than the rest.",
            lines = count(all, "line")
        ));
        part.list(notes(material, material.readings.cells().iter()));
        return vec![part];
    }
    let mut text = vec![
        say!("A line a section and round. A reading in brackets is left out; its mean is without it. SD is the standard \
         deviation of the readings, u one standard uncertainty of their mean.")
            .to_owned(),
    ];
    let outliers = &material.analysis.outliers;
    text.extend(marks(outliers));
    if all > MOST_ROWS {
        text.push(say!(
            "The first {most} of {all} lines are printed; readings.csv has all.",
            most = MOST_ROWS,
            all
        ));
    }
    part.say(text.join(" "));
    part.list(beside(material).into_iter().collect());
    let mut parts = vec![part];
    let mut left = MOST_ROWS;
    for (measure, _) in material.study.measures_with_ids() {
        for (round, _) in material.study.rounds_with_ids() {
            if let Some(part) = round_part(material, measure, round, &mut left) {
                parts.push(part);
            }
        }
    }
    parts
}

/// Where the readings stand that no table here has: those on patches and on loose specimens, which would take more
/// paper than the rest.
fn beside(material: &Material<'_>) -> Option<String> {
    let on_panel = material.study.sections.len();
    let n = material.readings.cells().iter().filter(|cell| cell.section.index() >= on_panel).count();
    let lines = count(n, "line");
    (n > 0).then(|| {
        say!("On patches and loose specimens there are {lines} more; readings.csv has every reading of them, one by one.", lines)
    })
}

// Lines of few readings are judged by the gauge's limit, which has no rate of marks by chance.
fn marks(outliers: &Outliers) -> Option<String> {
    let tested = outliers.marks.iter().filter(|mark| mark.grubbs.is_some()).count();
    let others = outliers.marks.len() - tested;
    if outliers.tested == 0 && others == 0 {
        return None;
    }
    let mut words = vec![say!("An asterisk marks what stands apart in its line").to_owned()];
    if outliers.tested > 0 {
        words.push(say!(
            "{tested} of {lines} tested, where chance alone would mark about {by_chance}",
            tested,
            lines = count(outliers.tested, "line"),
            by_chance = numbers::fixed(outliers.by_chance, 1)
        ));
    }
    if others > 0 {
        words.push(say!(
            "{lines} with too few readings for the test, by what the gauge can give",
            lines = count(others, "line")
        ));
    }
    let (first, rest) = words.split_first()?;
    Some(format!("{first}: {}.", rest.join("; ")))
}

fn round_part(material: &Material<'_>, measure: MeasureId, round: RoundId, left: &mut usize) -> Option<Part> {
    let study = material.study;
    let style = Style::of(material, measure);
    let cells =
        study.sections_with_ids().filter_map(|(section, _)| material.readings.cell(section, round, measure));
    let all: Vec<&Cell> = cells.collect();
    let whole = all.len() <= *left;
    let cells: Vec<&Cell> = all.into_iter().take(*left).collect();
    if cells.is_empty() {
        return None;
    }
    *left -= cells.len();
    let mut part = Part::below(say!(
        "{measure} at {round}",
        measure = names::measure(study, measure),
        round = names::round(study, round)
    ));
    let mut days: Vec<_> = cells.iter().filter_map(|cell| cell.dates).map(|(first, _)| first).collect();
    days.dedup();
    // One day for all is said once; else each line has its own.
    let by_site = (days.len() > 1).then(|| day_of_each_site(study, &cells)).flatten();
    let own = days.len() > 1 && by_site.is_none();
    if let Some(sites) = by_site {
        part.say(say!("Read {sites}.", sites));
    }
    if let [day] = days.as_slice() {
        part.say(say!("Read {day}.", day = numbers::day(*day)));
    }
    part.table(if cells.iter().all(|cell| material.readings.of(cell).count() == 1) {
        single(material, &cells, own, style)
    } else {
        several(material, &cells, own, style)
    });
    part.list(notes(material, cells.iter().copied()));
    // Readings of which only some are here are pointed to in their file.
    Some(if whole { part.about(Topic::Readings(measure, round)) } else { part })
}

/// Site by site, where each was read on one day, so that no row has to repeat it; `None` where one was not, or a section is at none.
fn day_of_each_site(study: &Study, cells: &[&Cell]) -> Option<String> {
    let sites = study.by_site.as_ref()?.pieces();
    let mut told = Vec::new();
    let mut at_a_site = 0;
    for (site, sections) in &sites {
        let own = cells.iter().filter(|cell| sections.contains(&cell.section));
        let mut days: Vec<_> = own.clone().map(|cell| cell.dates.map(|(first, _)| first)).collect();
        at_a_site += days.len();
        days.dedup();
        match days.as_slice() {
            [] => {}
            [Some(day)] => told.push(say!("{site} on {day}", site, day = numbers::day(*day))),
            _ => return None,
        }
    }
    (at_a_site == cells.len()).then(|| list(&told, "and"))
}

/// What the rows of some cells remark, each remark once with its sections.
fn notes<'c>(material: &Material<'_>, cells: impl Iterator<Item = &'c Cell>) -> Vec<String> {
    let mut noted: BTreeMap<String, Vec<&str>> = BTreeMap::new();
    for cell in cells {
        for note in material.readings.notes(cell) {
            let note = note.split_whitespace().collect::<Vec<_>>().join(" ");
            let codes = noted.entry(note).or_default();
            let code = names::section(material.study, cell.section);
            if !codes.contains(&code) {
                codes.push(code);
            }
        }
    }
    let told = noted
        .iter()
        .map(|(note, codes)| say!("Noted at {sections}: {note}", sections = section_list(codes), note));
    told.collect()
}

fn several(material: &Material<'_>, cells: &[&Cell], own_days: bool, style: Style<'_>) -> Table {
    let study = material.study;
    let unit = say!("Readings, {unit}", unit = style.unit);
    let mut heads = vec![say!("Section"), say!("Product"), ">n", &unit];
    // Marks have an order and no equal steps: their median stands for them.
    let rated = cells.iter().all(|cell| is_rated(material, cell));
    if rated {
        heads.push(say!(">Median"));
    } else {
        heads.extend([say!(">Mean"), say!(">SD"), ">u"]);
    }
    if own_days {
        heads.insert(3, say!("Date"));
    }
    let mut table = Table::new(&heads);
    for cell in cells {
        let mut row = vec![
            Figure::from(names::section(study, cell.section)),
            Figure::from(names::treatment(study, study.section(cell.section).treatment)),
            Figure::from(cell.kept.n.to_string()),
            Figure::from(values(material, cell)),
        ];
        if rated {
            let median = level(material, cell).map(|level| level.mean);
            row.push(median.map_or_else(Figure::none, |median| Figure {
                raw: Some(median),
                text: numbers::decimal(median),
            }));
        } else {
            row.extend([
                cell.kept.mean().map_or_else(Figure::none, |mean| extra(mean, style)),
                cell.kept.sd().map_or_else(Figure::none, |sd| extra(sd, style)),
                uncertainty(material, cell).map_or_else(Figure::none, |one| extra(one, style)),
            ]);
        }
        if own_days {
            row.insert(3, day(cell));
        }
        table.row(row);
    }
    table
}

/// Where each place has one reading it is its own mean, and has no spread.
fn single(material: &Material<'_>, cells: &[&Cell], own_days: bool, style: Style<'_>) -> Table {
    let study = material.study;
    let sure = cells.iter().any(|cell| uncertainty(material, cell).is_some());
    let unit = say!(">Reading, {unit}", unit = style.unit);
    let mut heads = vec![say!("Section"), say!("Product"), &unit];
    heads.extend(sure.then_some(">u"));
    heads.extend(own_days.then_some(say!("Date")));
    let mut table = Table::new(&heads);
    for cell in cells {
        let mut row = vec![
            Figure::from(names::section(study, cell.section)),
            Figure::from(names::treatment(study, study.section(cell.section).treatment)),
            Figure::from(values(material, cell)),
        ];
        let known = uncertainty(material, cell).map_or_else(Figure::none, |one| extra(one, style));
        row.extend(sure.then_some(known));
        row.extend(own_days.then(|| day(cell)));
        table.row(row);
    }
    table
}

/// As the file of readings writes it, in every language: the row is found by it, and the table fits half a sheet.
fn day(cell: &Cell) -> Figure {
    cell.dates.map_or_else(Figure::none, |(first, _)| Figure::from(first.to_string()))
}

fn is_rated(material: &Material<'_>, cell: &Cell) -> bool {
    matches!(material.study.measure(cell.measure).kind, MeasureKind::Rating(_))
}

/// The level of a cell: the mean of its readings, of marks their median.
fn level(material: &Material<'_>, cell: &Cell) -> Option<SectionMean> {
    let sections = &material.analysis.measure(cell.measure)?.sections;
    let series = sections.iter().find(|series| series.section == cell.section)?;
    series.at.iter().find(|at| at.round == cell.round)?.numbers.level.ok()
}

fn uncertainty(material: &Material<'_>, cell: &Cell) -> Option<f64> {
    level(material, cell)?.uncertainty.map(|uncertainty| uncertainty.standard)
}

// Means and spreads of readings carry one decimal more than the readings' own rule.
fn extra(value: f64, style: Style<'_>) -> Figure {
    Figure { raw: Some(value), text: numbers::fixed(value, style.decimals + 1) }
}

fn values(material: &Material<'_>, cell: &Cell) -> String {
    let cells = material.readings.cells();
    let marks = material
        .analysis
        .outliers
        .marks
        .iter()
        .filter(|mark| cells.get(mark.cell).is_some_and(|at| same(at, cell)));
    let suspects: Vec<f64> = marks
        .flat_map(|mark| match mark.suspect {
            Suspect::One(value) => vec![value],
            Suspect::Pair(one, other) | Suspect::Ends(one, other) => vec![one, other],
        })
        .collect();
    let texts = material.readings.of(cell).map(|reading| {
        let text = value(material, &reading);
        let marked = reading.value.number().is_some_and(|v| suspects.iter().any(|s| (s - v).abs() < 1e-9));
        match (reading.left_out.is_some(), marked) {
            (true, _) => format!("[{text}]"),
            (false, true) => format!("{text} *"),
            (false, false) => text,
        }
    });
    texts.collect::<Vec<String>>().join("  ")
}

fn same(one: &Cell, other: &Cell) -> bool {
    (one.section, one.round, one.measure) == (other.section, other.round, other.measure)
}

/// A value as it stands in the readings file.
fn value(material: &Material<'_>, reading: &Reading<'_>) -> String {
    match reading.value {
        Value::NotTaken => say!("not taken").to_owned(),
        Value::Taken(_) | Value::BelowGauge(_) => {
            speech::marked(&material.as_typed(reading)).replace('-', "−")
        }
    }
}
