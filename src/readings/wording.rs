//! Turns the faults of a file into findings.

use super::climate;
use super::faults::{Fault, Named, Wrong};
use crate::diag::{Finding, Place, count, list, nearest};
use crate::study::{Measure, MeasureId, MeasureKind, Section, Study, Treatment};
use crate::text::FileId;
use crate::units::decimal;

/// For so many unknown names of a file the nearest known one is looked for; a file with more of them
/// has another fault than slips of the finger, and the search takes time for each name of the study.
const SEARCHES: usize = 200;

/// The findings of a file's faults, in the order in which they were found.
pub(super) fn findings(study: &Study, file: FileId, faults: Vec<Fault>) -> Vec<Finding> {
    let mut searches = 0;
    let mut findings = Vec::with_capacity(faults.len());
    for fault in faults {
        searches += usize::from(matches!(fault.wrong, Wrong::Unknown(_)));
        let finding = told(study, file, &fault, searches <= SEARCHES);
        findings.push(with_places(finding, file, &fault));
    }
    findings
}

fn with_places(mut finding: Finding, file: FileId, fault: &Fault) -> Finding {
    if fault.count > 1 && fault.wrong != Wrong::CommaTaken {
        let more = fault.count - 1;
        finding.message = format!("{}; {} more like it", finding.message, count(more, "place"));
    }
    // Where nothing is wrong nobody has to look for the others.
    let more = if fault.wrong == Wrong::CommaTaken { &[][..] } else { &fault.more };
    for &span in more {
        finding = finding.related(Place { file, span }, "here as well");
    }
    finding
}

fn told(study: &Study, file: FileId, fault: &Fault, search: bool) -> Finding {
    let place = Place { file, span: fault.span };
    let text = &fault.text;
    let error = |code, message: String| Finding::error(code, place, message).binding();
    match fault.wrong {
        Wrong::Unknown(named) => unknown(study, named, place, text, search),
        Wrong::Unnamed(named) => error(code(named), format!("this row names no {}", word(named)))
            .help(format!("write the {} in its column", word(named))),
        Wrong::Unit(measure) => wrong_unit(study, measure, place, text),
        Wrong::Number => error("not-a-number", format!("`{text}` is not a number"))
            .label("a reading belongs here")
            .help("write the reading with a point for decimals, `<0.5` where it is below the gauge, or `-` where none was taken"),
        Wrong::Counter => error("not-a-number", format!("`{text}` is not the number of a reading"))
            .help("count the readings of a section from 1"),
        Wrong::Comma => error("decimal-comma", format!("`{text}` has a comma where decimals have a point"))
            .help("write points, or save the file with semicolons between columns"),
        Wrong::CommaTaken => comma_taken(place, text, fault.count),
        Wrong::Range(measure) => out_of_range(study, measure, place, text),
        Wrong::TwoWays(one, other) => error("date-two-ways", format!("`{text}` can be read as {one} or as {other}"))
            .help(format!("write `{one}` or `{other}`")),
        Wrong::Day(Some(date)) => {
            error("bad-date", format!("`{text}` does not have the year first")).help(format!("write `{date}`"))
        }
        Wrong::Day(None) => error("bad-date", format!("`{text}` is not a day"))
            .help("write year, month and day, as `2026-04-13`"),
        Wrong::ShortYear(one, other) => error("bad-date", format!("the year of `{text}` has two figures"))
            .help(match other {
                Some(other) => format!("write the year in four and first: `{one}` or `{other}`"),
                None => format!("write the year in four and first, as `{one}`"),
            }),
        Wrong::NotThere(last) => error("bad-date", format!("`{text}` is no day of the calendar"))
            .help(format!("look up the day that is meant; the last of that month is `{last}`")),
        Wrong::DayNumber(date) => error("bad-date", format!("`{text}` is the number by which a spreadsheet counts days"))
            .help(format!("give the column the format of a date before you save the file, so that it has `{date}`")),
        Wrong::Thousands => error("decimal-comma", format!("`{text}` has more marks than the one of its decimals"))
            .help(thousands(text)),
        Wrong::Nowhere => error("unknown-section", "this row names no section, round or measure of the study".into())
            .help("take it out where it is a mean, a heading or a row of units, which are no readings; else fill in what it was read on"),
        Wrong::Undated => {
            Finding::warning("reading-undated", place, "this reading has no date")
                .help("fill in the date, else nothing can tell whether the round was read in time")
                .about("study")
        }
        Wrong::TooLong(has, header) => {
            error("row-too-long", format!("this row has {}, the header {header}", count(has, "field")))
                .label("no heading stands over this")
                .help("put quotes around a text that holds the separator, and write decimals with a point")
        }
        Wrong::TooShort(has, needed) => {
            error("row-too-short", format!("this row has {} and needs {needed}", count(has, "field")))
                .help("fill the row up, or take it out")
        }
        Wrong::OpenQuote => error("unclosed-quote", "this quote is never closed".into())
            .help("close it in the same line, or take it out"),
        Wrong::Garbled => error("not-utf8", "letters were lost here when the file was saved".into())
            .label("not UTF-8 in the file it came from")
            .help("save the file again as CSV UTF-8"),
        Wrong::PanelAtRound => error("not-on-a-section", format!("`{text}` stands for the panel in its preparation, and this is a round"))
            .help("name the section that was read; `tile` is the reference tile of the gauge"),
        Wrong::PrepOffPanel => error("not-on-a-section", format!("the preparation is read on the whole panel, not on `{text}`"))
            .help("write `panel` as the section, and number the places as readings, the same at every step"),
        Wrong::Climate(wrong) => climate::told(wrong, place, text),
        Wrong::PrepOther(measure) => other_step(study, measure, place, text),
        Wrong::Time => Finding::warning("bad-time", place, format!("`{text}` is no time of day"))
            .help("write hours and minutes, as `09:30`")
            .about("study"),
    }
}

/// A row of a step of the preparation that reads another measure.
fn other_step(study: &Study, id: MeasureId, place: Place, text: &str) -> Finding {
    let name = measure_of(study, id).map_or("", |one| one.name.value.as_str());
    let steps = study.prep_readings().enumerate().filter(|(_, read)| *read == id);
    let steps: Vec<String> = steps.map(|(at, _)| format!("`prep {}`", at + 1)).collect();
    let finding = Finding::error("not-on-a-section", place, format!("`{text}` does not read {name}"))
        .about(name)
        .binding();
    finding.help(if steps.is_empty() {
        format!("say `read {name}` in the preparation, or correct the row")
    } else {
        format!("{name} is read at {}; the `read` steps are counted from the first", list(&steps, "and"))
    })
}

/// How a number with marks between thousands is written: the last of two kinds is that of decimals.
fn thousands(text: &str) -> String {
    let last = text.rfind(['.', ',']).unwrap_or(0);
    let (whole, decimals) = text.split_at(last);
    let (Some(mark), true) = (decimals.chars().next(), whole.contains(['.', ','])) else {
        return "write the number with one mark, that of its decimals".to_owned();
    };
    if whole.contains(mark) {
        return format!("write `{}` if these part thousands", text.replace(mark, ""));
    }
    format!("write `{}.{}` if that is meant", whole.replace(['.', ','], ""), &decimals[1..])
}

fn comma_taken(place: Place, text: &str, count: usize) -> Finding {
    let (words, point) = (crate::diag::count(count, "reading"), text.replace(',', "."));
    Finding::advice(
        "decimal-comma",
        place,
        format!("{words} with a decimal comma: `{text}` is read as {point}"),
    )
    .help("nothing is wrong; points are read by every program")
    .about("study")
}

fn code(named: Named) -> &'static str {
    match named {
        Named::Section => "unknown-section",
        Named::Round => "unknown-round",
        Named::Measure => "unknown-measure",
    }
}

fn word(named: Named) -> &'static str {
    match named {
        Named::Section => "section",
        Named::Round => "round",
        Named::Measure => "measure",
    }
}

fn unknown(study: &Study, named: Named, place: Place, text: &str, search: bool) -> Finding {
    let word = word(named);
    let message = format!("`{text}` is not a {word} of this study");
    // Where a line of the study could not be read, the name may stand there, and that is the fault to mend.
    let broken = match named {
        Named::Section => study.map_broken || study.specimens.iter().any(|set| set.broken),
        Named::Round => study.rounds_broken,
        Named::Measure => study.measures.iter().any(|measure| measure.broken),
    };
    if broken {
        return Finding::warning(code(named), place, message)
            .help(format!("mend the {word}s of the study first"))
            .about(text);
    }
    let finding = Finding::error(code(named), place, message).about(text).binding();
    if !search {
        return finding;
    }
    let names: Vec<&str> = match named {
        Named::Section => study.places().map(|(_, section)| section.code.as_str()).collect(),
        Named::Round => study.rounds.iter().map(|round| round.name.value.as_str()).collect(),
        Named::Measure => study.measures.iter().map(|measure| measure.name.value.as_str()).collect(),
    };
    if named == Named::Section && is_empty_place(study, text) {
        return finding.help(format!(
            "`{text}` is an empty place of the map, where nothing was applied; correct the section"
        ));
    }
    // Every patch of a section has a name near to that of any other, so the nearest one is a guess.
    if named == Named::Section
        && let Some((home, patches)) = patches(&names, text)
    {
        return finding.help(format!("the patches of {home} are {}", list(&patches, "and")));
    }
    if let Some(near) = nearest(text, names.iter().copied()) {
        return finding.help(format!("write `{near}`"));
    }
    if named == Named::Section
        && let Some(places) = treated(study, text)
    {
        return finding.help(format!("name the section; `{text}` is on {places}"));
    }
    match names.as_slice() {
        [] => finding.help(format!("the study has no {word} yet")),
        few if few.len() <= 12 => finding.help(format!("the {word}s are {}", list(few, "and"))),
        [first, .., last] => finding.help(format!("the {word}s run from {first} to {last}")),
        [one] => finding.help(format!("the only {word} is {one}")),
    }
}

/// The section that a row names before its patch, with its patches among all `places`.
fn patches<'a>(places: &[&'a str], text: &str) -> Option<(&'a str, Vec<&'a str>)> {
    let (home, _) = text.split_once('/')?;
    let on_it = |(own, _): &(&str, &str)| own.trim().eq_ignore_ascii_case(home.trim());
    let (homes, patches): (Vec<&str>, Vec<&str>) =
        places.iter().filter_map(|place| place.split_once(" / ")).filter(on_it).unzip();
    homes.first().map(|&home| (home, patches))
}

/// Whether a code lies inside a drawing, where no section is drawn.
fn is_empty_place(study: &Study, text: &str) -> bool {
    let letters = text.len() - text.trim_start_matches(|c: char| c.is_ascii_alphabetic()).len();
    let (letters, number) = text.split_at(letters);
    let same_row = |section: &&Section| {
        let own = section.code.trim_end_matches(|c: char| c.is_ascii_digit());
        section.row.is_some() && own.eq_ignore_ascii_case(letters)
    };
    let Some(row) = study.sections.iter().find(same_row).and_then(|section| section.row) else {
        return false;
    };
    let places =
        study.grids.iter().find_map(|grid| grid.places.get(row.checked_sub(grid.first_row)?).copied());
    let at = number.parse::<usize>().ok();
    at.zip(places).is_some_and(|(at, places)| (1..=places).contains(&at))
}

/// The sections of a treatment, where a row names that in place of a section.
fn treated(study: &Study, text: &str) -> Option<String> {
    let of = |treatment: Treatment| {
        treatment.is_settled() && study.treatment_name(treatment).eq_ignore_ascii_case(text)
    };
    let codes: Vec<&str> =
        study.sections.iter().filter(|one| of(one.treatment)).map(|one| one.code.as_str()).collect();
    if codes.is_empty() { None } else { Some(list(&codes, "and")) }
}

fn measure_of(study: &Study, id: MeasureId) -> Option<&Measure> {
    study.measures.get(id.index())
}

fn wrong_unit(study: &Study, id: MeasureId, place: Place, text: &str) -> Finding {
    let (name, unit) =
        measure_of(study, id).map_or(("", ""), |one| (one.name.value.as_str(), one.unit.symbol.as_str()));
    let (message, help) = if unit.is_empty() {
        let message = format!("`{text}` stands as the unit of {name}, which has none");
        (message, "leave the place of the unit empty".to_owned())
    } else {
        let message = format!("`{text}` is no unit of {name}, which is in {unit}");
        (message, format!("write the reading in {unit}"))
    };
    Finding::error("wrong-unit", place, message).help(help).about(name).binding()
}

fn out_of_range(study: &Study, id: MeasureId, place: Place, text: &str) -> Finding {
    let measure = measure_of(study, id);
    let name = measure.map_or("", |one| one.name.value.as_str());
    let finding =
        Finding::error("value-out-of-range", place, format!("{name} cannot be {text}")).about(name).binding();
    match measure.and_then(|one| Some((one.possible?, &one.unit.symbol))) {
        Some(((low, high), unit)) => {
            let range = format!("{} to {} {unit}", decimal(low), decimal(high));
            // Within the scale it is the step that is wrong.
            let steps = match measure.map(|one| &one.kind) {
                Some(MeasureKind::Rating(scale)) if scale.half => ", in whole and half marks only",
                Some(MeasureKind::Rating(_)) => ", in whole marks only",
                _ => "",
            };
            finding
                .label(format!("possible is {range}{steps}"))
                .help("look at the sheet of readings for a slip")
        }
        None => finding.help("look at the sheet of readings for a slip"),
    }
}
