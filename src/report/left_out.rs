//! What was left out of the numbers, by whom and why, and what putting it back would change.

use super::blocks::{Part, Table, Topic};
use super::comparison::Ranking;
use super::material::Material;
use super::names;
use super::numbers::{self, Figure, Style};
use super::spread;
use crate::analysis::ControlRow;
use crate::speech::{count, say};
use crate::study::LeaveOut;

// Before the first reading there is nothing to leave out.
pub(super) fn excluded(material: &Material<'_>, ranking: &Ranking) -> Option<Part> {
    let study = material.study;
    let files = study.readings.iter().enumerate();
    let all =
        files.flat_map(|(at, file)| file.leave_out.iter().enumerate().map(move |(n, out)| (at, n, out)));
    let found = all.filter(|&(file, statement, _)| material.readings.leaves_out(file, statement));
    let all: Vec<&LeaveOut> = found.map(|(_, _, out)| out).collect();
    if all.is_empty() && material.readings.is_empty() {
        return None;
    }
    let mut part = Part::new(match all.len() {
        0 => say!("No reading was left out").to_owned(),
        1 => say!("One reading was left out").to_owned(),
        n => say!("{n} readings were left out", n),
    })
    .about(Topic::LeftOut);
    let after_end = after_end(material);
    if all.is_empty() {
        let below = below_gauge(material);
        part.say(match (after_end.is_empty(), below.is_none()) {
            (true, true) => say!("Every reading that was written down counts."),
            (false, true) => say!("Every other reading that was written down counts."),
            (true, false) => {
                say!("Every reading that was written down and is a number counts, where its section has a mean.")
            }
            (false, false) => say!(
                "Every other reading that was written down and is a number counts, where its section has a mean."
            ),
        });
        part.list(below.into_iter().collect());
        part.list(after_end);
        part.pictures(spread::picture(material, ranking));
        return Some(part);
    }
    part.say(if all.len() == 1 {
        say!("With its reason, and the mean of its section without and with it.")
    } else {
        say!("Each with its reason, and the mean of its section without and with it.")
    });
    let mut table = Table::new(&[
        say!("Measure"),
        say!("Section"),
        say!("Round"),
        say!(">Reading"),
        say!(">Value"),
        say!("Why"),
        say!(">Mean without"),
        say!(">Mean with"),
    ]);
    for out in all {
        table.row(excluded_row(material, out));
        part.rests_on_levels(out.measure, [out.round]);
    }
    part.table(table);
    part.pictures(spread::picture(material, ranking));
    put_back(material, &mut part);
    part.list(after_end);
    Some(part)
}

// What lies below the gauge is known, and has no number that could enter a mean.
fn below_gauge(material: &Material<'_>) -> Option<String> {
    let cells = material.readings.cells().iter();
    let below: Vec<u32> = cells.map(|cell| cell.below_gauge).filter(|&below| below > 0).collect();
    let n: u32 = below.iter().sum();
    (n > 0).then(|| {
        say!(
            "In no mean, change or rate: {readings} below what the gauge can tell. They stand in the table of every reading, and what else was \
             read with them on the same section at that round has no mean either.",
            readings = count(n as usize, "reading")
        )
    })
}

// A section that the log has ended may have been read after it; those readings are kept and not compared.
fn after_end(material: &Material<'_>) -> Vec<String> {
    let study = material.study;
    let ended = study.places().filter_map(|(id, section)| Some((id, section, study.ended(id)?)));
    let lines = ended.filter_map(|(id, section, end)| {
        let cells = material.readings.cells().iter().filter(|cell| cell.section == id);
        let later = cells.filter(|cell| cell.dates.is_some_and(|(first, _)| first >= end));
        let n: usize = later.map(|cell| material.readings.of(cell).count()).sum();
        (n > 0).then(|| {
            say!(
                "Not compared: {readings} on {code}, which the log ended on {end}.",
                end = numbers::day(end),
                readings = count(n, "reading"),
                code = section.code
            )
        })
    });
    lines.collect()
}

// Differences of the headline that the readings left out would move; the others stay as they are.
fn put_back(material: &Material<'_>, part: &mut Part) {
    let now = material
        .analysis
        .deciding()
        .and_then(|(measure, round)| Some((measure, round, round.to_bare.as_ref().ok()?)));
    let then = material.analysis.with_left_out.as_ref().and_then(|restored| restored.to_bare.as_ref().ok());
    let (Some((measure, now_at, now)), Some(then)) = (now, then) else { return };
    part.rests_on(measure, [now_at.round]);
    let style = Style::of(material, measure.measure);
    let shown = |row: &ControlRow| {
        let interval = row.interval.map_or_else(String::new, |i| format!(" ({})", style.span(i.low, i.high)));
        let word = row.word.map_or_else(|_| String::new(), |word| format!(", {}", names::word(word)));
        format!("{} {}{interval}{word}", style.signed(row.difference), style.difference_unit())
    };
    let one = material.analysis.with_left_out.as_ref().is_some_and(|restored| restored.left_out == 1);
    let with = if one { say!("with it put back") } else { say!("with them put back") };
    let mut table = Table::new(&[
        say!("Product").to_owned(),
        say!("Difference to bare without").to_owned(),
        say!("Difference to bare {with}", with),
    ]);
    for row in &now.rows {
        let Some(other) = then.rows.iter().find(|other| other.treatment == row.treatment) else { continue };
        let (one, two) = (shown(row), shown(other));
        if one != two {
            let name = names::treatment(material.study, row.treatment);
            table.row(vec![Figure::from(name), Figure::from(one), Figure::from(two)]);
        }
    }
    let round = names::round(material.study, now_at.round);
    part.say(match table.rows.len() {
        0 => say!("The differences at {round} are the same {with}.", round, with),
        n if n == now.rows.len() => say!("What {round} would show {with}:", round, with),
        n => say!(
            "What {round} would show {with}; the other {rows} of the table are the same:",
            round,
            with,
            rows = count(now.rows.len() - n, "row")
        ),
    });
    part.table(table);
}

fn excluded_row(material: &Material<'_>, out: &LeaveOut) -> Vec<Figure> {
    let study = material.study;
    let style = Style::of(material, out.measure);
    let at = material.analysis.measure(out.measure).and_then(|measure| {
        let series = measure.sections.iter().find(|series| series.section == out.section)?;
        series.at.iter().find(|at| at.round == out.round)
    });
    let mean = |numbers: Option<&crate::analysis::SectionNumbers>| {
        numbers
            .and_then(|numbers| numbers.level.ok())
            .map_or_else(Figure::none, |level| style.value(level.mean))
    };
    vec![
        Figure::from(names::measure(study, out.measure)),
        Figure::from(names::section(study, out.section)),
        Figure::from(names::round(study, out.round)),
        out.reading.map_or_else(Figure::none, |n| Figure::from(n.to_string())),
        left_out_value(material, out).map_or_else(Figure::none, |value| Figure {
            raw: Some(value),
            text: numbers::with_unit(&numbers::decimal(value), style.unit),
        }),
        Figure::from(out.because.as_str()),
        mean(at.map(|at| &at.numbers)),
        mean(at.and_then(|at| at.with_left_out.as_ref())),
    ]
}

// A statement may name the number of the reading only; its value is that of the file.
fn left_out_value(material: &Material<'_>, out: &LeaveOut) -> Option<f64> {
    let from_file = || {
        let cell = material.readings.cell(out.section, out.round, out.measure)?;
        let mut readings = material.readings.of(cell).filter(|reading| reading.left_out.is_some());
        readings.find(|reading| out.reading.is_none_or(|number| number == reading.number))?.value.number()
    };
    out.value.or_else(from_file)
}
