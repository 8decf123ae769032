//! The empty sheet of a round, twice: `sheet-month-6.csv` to fill in as a table, `sheet-month-6.html` to write on.

use super::Artifact;
use super::engine::{Frame, page, render, value};
use super::fault::Fault;
use super::templates::SHEET;
use crate::report::{Material, SheetView};
use crate::speech::{say, speak};

const STYLE: &str = include_str!("../../templates/sheet.css");

/// The two files of a sheet, the table first.
///
/// # Errors
/// A template that does not fit its view, which is a fault of the tool.
pub fn sheet(material: &Material<'_>, view: &SheetView) -> Result<[Artifact; 2], Fault> {
    Ok([
        Artifact { name: format!("{}.csv", view.stem), bytes: table(view)?.into_bytes() },
        Artifact { name: format!("{}.html", view.stem), bytes: paper(material, view)?.into_bytes() },
    ])
}

/// One section a line with its readings side by side, as the reader of readings files takes it.
fn table(view: &SheetView) -> Result<String, Fault> {
    let fault = |error: String| Fault::new(format!("{}.csv: {error}", view.stem));
    let gauge = view.names_gauge.then_some("gauge");
    let head = ["date", "time", "round", "section", "measure", "unit", "by"].into_iter().chain(gauge);
    let numbers = (1..=view.readings).map(|number| number.to_string());
    let mut writer = csv::Writer::from_writer(Vec::new());
    let head: Vec<String> = head.map(str::to_owned).chain(numbers).collect();
    writer.write_record(&head).map_err(|error| fault(error.to_string()))?;
    for measure in &view.measures {
        // Each rater has lines of their own, told apart by who rated.
        let lines = (0..measure.raters).flat_map(|_| &measure.sections);
        for section in lines {
            let known = ["", "", &view.round, section, &measure.name, &measure.unit];
            let blank = std::iter::repeat_n("", head.len() - known.len());
            writer.write_record(known.into_iter().chain(blank)).map_err(|error| fault(error.to_string()))?;
        }
        for tile in &measure.tiles {
            let known = ["", "", &view.round, "tile", &measure.name, &measure.unit, ""];
            let known = known.into_iter().chain(gauge.map(|_| tile.as_str()));
            let blank = std::iter::repeat_n("", view.readings as usize);
            writer.write_record(known.chain(blank)).map_err(|error| fault(error.to_string()))?;
        }
    }
    let bytes = writer.into_inner().map_err(|error| fault(error.to_string()))?;
    String::from_utf8(bytes).map_err(|error| fault(error.to_string()))
}

fn paper(material: &Material<'_>, view: &SheetView) -> Result<String, Fault> {
    let _speech = speak(material.study.language);
    let title = say!("Reading sheet, {round}: {study}", round = view.round_said, study = view.study);
    let foot = say!(
        "{study} · sheet of {round} {as_of} · tapeline {version}",
        study = view.study,
        round = view.round_said,
        as_of = view.as_of,
        version = view.version
    );
    let body = render(material, SHEET, &minijinja::context! { view => value(view) })?;
    page(
        material,
        Frame { title: &title, foot: &foot, style: STYLE, script: "", photos: false, own: false },
        &body,
    )
}
