//! What goes with published readings: the meaning of every column and of every name that stands in one.

use super::material::Material;
use super::names;
use super::table::{ReadingRow, reading_cells};
use crate::diag::list;
use crate::study::{Gauge, MeasureKind, Study, Treatment};
use jiff::civil::Date;
use serde::Serialize;

/// The study as a package of data.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct PackageView {
    /// Name of the package: small letters, digits and hyphens.
    pub name: String,
    /// Title of the study.
    pub title: String,
    /// What the package holds, and how the report is made from it again.
    pub description: String,
    /// Columns of the table of readings, in its order.
    pub columns: Vec<Column>,
    /// Every name that stands in a column.
    pub terms: Vec<Term>,
    /// The study file and the readings files as the study names them, with `/` between folders.
    pub inputs: Vec<String>,
}

/// A column of the table of readings.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct Column {
    /// Its head.
    pub name: &'static str,
    /// Its type in the words of Table Schema (Frictionless Data).
    #[serde(rename = "type")]
    pub kind: &'static str,
    /// What it holds.
    pub description: &'static str,
}

/// A name and what it means.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Term {
    /// The column in which it stands.
    pub column: &'static str,
    /// The name.
    pub name: String,
    /// What it means.
    pub meaning: String,
}

/// Columns of the table of readings, in its order.
pub const COLUMNS: [Column; 12] = [
    Column { name: "date", kind: "date", description: "Day of the reading." },
    Column { name: "round", kind: "string", description: "Round of readings." },
    Column { name: "section", kind: "string", description: "Section of the panel, or another specimen." },
    Column {
        name: "treatment",
        kind: "string",
        description: "Product on the section by its name in the study, or what stands there instead of one.",
    },
    Column { name: "measure", kind: "string", description: "What was measured." },
    Column {
        name: "reading",
        kind: "integer",
        description: "Number of the reading among those of its section, round and measure, from 1.",
    },
    Column {
        name: "value",
        kind: "number",
        description: "Value in the unit of the row; empty where none was taken.",
    },
    Column { name: "unit", kind: "string", description: "Unit of the value." },
    Column { name: "gauge", kind: "string", description: "Gauge as the readings file names it." },
    Column { name: "by", kind: "string", description: "Who read." },
    Column {
        name: "left out",
        kind: "string",
        description: "Why the reading is left out of every mean; empty where it counts.",
    },
    Column { name: "note", kind: "string", description: "What the readings file remarks on the row." },
];

/// Makes the description of a study as a package of data, as of a day if one was asked for.
pub fn package(material: &Material<'_>, as_of: Option<Date>) -> PackageView {
    let study = material.study;
    let files = material.sources.iter().map(|file| file.name.replace('\\', "/"));
    let mut inputs: Vec<String> = Vec::new();
    for (at, name) in files.enumerate() {
        let name = if at == 0 { name.rsplit('/').next().unwrap_or_default().to_owned() } else { name };
        if !inputs.contains(&name) {
            inputs.push(name);
        }
    }
    PackageView {
        name: slug(&study.title.value),
        title: study.title.value.clone(),
        description: description(material, as_of, inputs.first().map_or("", String::as_str)),
        columns: columns(material),
        terms: terms(study),
        inputs,
    }
}

fn description(material: &Material<'_>, as_of: Option<Date>, study_file: &str) -> String {
    let question = material.study.question.iter().map(|question| format!("{question} "));
    let day = as_of.map_or_else(String::new, |date| format!(" --as-of {date}"));
    let rest = format!(
        "Readings {} with what they were made from. The report is made again, byte for byte, by tapeline {}: \
         tapeline build \"study/{study_file}\"{day} -o again",
        material.as_of(),
        material.version
    );
    question.chain([rest]).collect()
}

// A gauge at the end of its scale gives "<0.5", which is no number to Table Schema.
fn columns(material: &Material<'_>) -> Vec<Column> {
    let is_limit = |row: ReadingRow<'_>| row.value.starts_with('<');
    let limits = reading_cells(material).any(|cell| cell.readings(material).any(is_limit));
    let texts = |column: Column| match column.name {
        "value" if limits => Column {
            kind: "string",
            description: "Value in the unit of the row; `<` stands before a limit of the gauge; empty where none was taken.",
            ..column
        },
        _ => column,
    };
    COLUMNS.map(texts).to_vec()
}

fn terms(study: &Study) -> Vec<Term> {
    let rounds = study.rounds_with_ids().map(|(id, round)| Term {
        column: "round",
        name: names::round_written(study, id).to_owned(),
        meaning: round.date().map_or_else(|| "no day planned".to_owned(), |day| format!("planned for {day}")),
    });
    let sections = study.places().map(|(_, section)| Term {
        column: "section",
        name: section.code.clone(),
        meaning: names::treatment(study, section.treatment),
    });
    let mut treatments: Vec<Treatment> = Vec::new();
    for (_, section) in study.places() {
        if !treatments.contains(&section.treatment) {
            treatments.push(section.treatment);
        }
    }
    let treatments = treatments.into_iter().map(|treatment| Term {
        column: "treatment",
        name: study.treatment_name(treatment).to_owned(),
        meaning: meaning(study, treatment),
    });
    let measures = study.measures_with_ids().map(|(id, measure)| {
        let gauges: Vec<&str> = study.gauges_of(id).map(Gauge::title).collect();
        let mut words =
            vec![format!("in {}", measure.unit.symbol), names::direction(measure.direction).to_owned()];
        match &measure.kind {
            MeasureKind::Rating(_) => words.push("rated by eye".to_owned()),
            MeasureKind::Made(_) => words.push("made of other measures, never read".to_owned()),
            MeasureKind::Read | MeasureKind::Part(_) if !gauges.is_empty() => {
                words.push(format!("read with {}", list(&gauges, "or")));
            }
            MeasureKind::Read | MeasureKind::Part(_) => {}
        }
        Term { column: "measure", name: measure.name.value.clone(), meaning: words.join("; ") }
    });
    rounds.chain(sections).chain(treatments).chain(measures).collect()
}

fn meaning(study: &Study, treatment: Treatment) -> String {
    match treatment {
        Treatment::Product(id) => study.product(id).title().to_owned(),
        Treatment::Bare => "prepared like the others, nothing applied".to_owned(),
        Treatment::CarrierOnly => "only the carrier of a product applied".to_owned(),
        Treatment::Untouched => "neither prepared nor coated".to_owned(),
        // A study with such a name has an error and builds nothing.
        Treatment::Open | Treatment::Unknown => "not known".to_owned(),
    }
}

/// A name for machines: what is neither letter nor digit of ASCII becomes one hyphen.
fn slug(title: &str) -> String {
    let words = title.split(|c: char| !c.is_ascii_alphanumeric()).filter(|word| !word.is_empty());
    let name = words.map(str::to_ascii_lowercase).collect::<Vec<String>>().join("-");
    if name.is_empty() { "study".to_owned() } else { name }
}

#[cfg(test)]
mod tests {
    use super::slug;

    #[test]
    fn names_of_packages_are_plain() {
        assert_eq!(slug("Six oils, 2 sites – larch & ash"), "six-oils-2-sites-larch-ash");
        assert_eq!(slug("Öl"), "l");
        assert_eq!(slug("?"), "study");
    }
}
