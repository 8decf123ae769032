//! Runs a command: reads the inputs, calls the pipeline, writes what it returns, and gives the exit code.

use super::args::{Arguments, Command, Form, Level, OutArgs, ScatterArgs, ShowArgs, StudyArgs};
use super::print::print;
use super::starter::starter;
use super::{arrange, disk, draw, explain, pages, spare};
use crate::diag::{Finding, Severity, count, has_errors, json, list};
use crate::pipeline::{self, Artifact, Assumed, Day, Edition, Outcome};
use anyhow::{Error, Result, bail};
use clap::Parser;
use jiff::Timestamp;
use jiff::civil::Date;
use jiff::tz::TimeZone;
use std::ffi::OsString;
use std::io::{IsTerminal, Write};
use std::path::Path;

/// Runs the command with these arguments and returns its exit code: 0 nothing at or above the asked
/// severity, 1 something, 2 could not run.
pub fn main(arguments: impl IntoIterator<Item = OsString>) -> u8 {
    let arguments = match Arguments::try_parse_from(arguments) {
        Ok(arguments) => arguments,
        Err(error) => {
            // Help and version are no faults; clap knows where each kind is printed.
            let code = if error.use_stderr() { 2 } else { 0 };
            let _ = error.print();
            return code;
        }
    };
    match run(arguments.command) {
        Ok(code) => code,
        Err(error) => {
            let _ = writeln!(std::io::stderr(), "tapeline: {error:#}");
            2
        }
    }
}

fn run(command: Command) -> Result<u8> {
    match command {
        Command::Check { study, show } => say(&check(&study)?, &show),
        Command::Plan { study, show, scatter } => plan(&study, &show, &scatter),
        Command::Arrange { study, show, seed, each, write } => {
            let outcome = check(&study)?;
            if hindered(&outcome.findings) {
                let code = say(&outcome, &show)?;
                print("Nothing was dealt out: mend the other errors first.\n")?;
                return Ok(code.max(1));
            }
            arrange::run(&study, &outcome, (seed, each), write)
        }
        Command::Explain { code } => explain::run(code.as_deref()),
        Command::Pages { block } => pages::run(block.as_deref()),
        Command::New { file, begins } => new(&file, begins.unwrap_or_else(today)),
        Command::Print { study, show, to, sheets } => {
            write(&study, &show, &to, Wanted::Papers(&sheets.sheet))
        }
        Command::Report { study, show, to } => write(&study, &show, &to, Wanted::Report),
        Command::Build { study, show, to } => write(&study, &show, &to, Wanted::All),
        Command::Share { study, show, to } => write(&study, &show, &to, Wanted::Share),
        Command::Bundle { study, show, to } => write(&study, &show, &to, Wanted::Bundle),
    }
}

/// Writes the starter study.
fn new(file: &Path, begins: Date) -> Result<u8> {
    let Some(text) = starter(begins) else {
        bail!("a study that begins on {begins} would outlast the calendar; choose an earlier day");
    };
    disk::create(file, text.as_bytes())?;
    print(&format!(
        "{} is written. Change it to what you do, then run `tapeline check {}`.\n",
        file.display(),
        disk::quoted(file)
    ))?;
    Ok(0)
}

/// Says what the layout can tell apart. A study with errors is told its errors instead.
fn plan(arguments: &StudyArgs, show: &ShowArgs, scatter: &ScatterArgs) -> Result<u8> {
    let outcome = check(arguments)?;
    if hindered(&outcome.findings) {
        return say(&outcome, show);
    }
    let assumed = Assumed { sections: scatter.section_spread, reading: scatter.reading_spread };
    print(&outcome.edition().plan(assumed))?;
    Ok(0)
}

/// Whether a study has an error beside those that work at the panel mends: a table of readings that is not there yet, since what
/// was read on paper is typed into a sheet that is printed first; and sections that are dealt out once they were read.
fn hindered(findings: &[Finding]) -> bool {
    const MENDED_LATER: [&str; 2] = ["readings-file-absent", "left-to-chance"];
    findings
        .iter()
        .any(|finding| finding.severity == Severity::Error && !MENDED_LATER.contains(&finding.code))
}

/// What a command writes.
#[derive(Clone, Copy)]
enum Wanted<'a> {
    All,
    Bundle,
    Share,
    Report,
    /// The papers for the panel, with the sheets of these rounds.
    Papers(&'a [String]),
}

/// Checks, and writes the outputs if there is no error. They are written whole or not at all.
fn write(arguments: &StudyArgs, show: &ShowArgs, to: &OutArgs, wanted: Wanted<'_>) -> Result<u8> {
    let outcome = check(arguments)?;
    let code = say(&outcome, show)?;
    let edition = outcome.edition();
    // Papers may be wanted although readings are overdue; a report without them would look finished.
    let stopped = if matches!(wanted, Wanted::Papers(_)) {
        hindered(&edition.findings)
    } else {
        has_errors(&outcome.findings) || has_errors(&edition.findings)
    };
    if stopped {
        print("Nothing was written: a study with errors builds no outputs.\n")?;
        return Ok(code.max(1));
    }
    let artifacts = match wanted {
        Wanted::All => edition.build(None)?,
        Wanted::Bundle => edition.bundle()?,
        Wanted::Share => edition.share()?,
        Wanted::Report => edition.build(Some(pipeline::REPORT))?,
        Wanted::Papers(sheets) => papers(&outcome, &edition, to, sheets)?,
    };
    let files: Vec<(&str, &[u8])> =
        artifacts.iter().map(|artifact| (artifact.name.as_str(), artifact.bytes.as_slice())).collect();
    spare::inputs(arguments, &outcome, to, &files)?;
    spare::others(&to.out, &files)?;
    disk::write_all(&to.out, &files)?;
    if show.findings == Form::Text {
        let names: Vec<&str> = files.iter().map(|(name, _)| *name).collect();
        print(&format!("Written to {}: {}.\n", to.out.display(), list(&shown(&names), "and")))?;
        if let Wanted::Papers(sheets) = wanted {
            print(&about_sheets(&outcome, sheets, &names))?;
        }
    }
    Ok(code)
}

/// Names for the terminal: photos are counted.
fn shown(names: &[&str]) -> Vec<String> {
    let is_photo = |name: &str| name.contains('/') && pipeline::is_photo(name);
    let photos = names.iter().filter(|name| is_photo(name)).count();
    let others = names.iter().filter(|name| !is_photo(name)).map(|&name| name.to_owned());
    others.chain((photos > 0).then(|| count(photos, "photo"))).collect()
}

/// Map, checklist, sheets, and the empty record. A table in which somebody has written is never written over.
fn papers(
    outcome: &Outcome,
    edition: &Edition<'_>,
    to: &OutArgs,
    sheets: &[String],
) -> Result<Vec<Artifact>> {
    let word = |word: &str| outcome.sheets_asked(&[word.to_owned()]).map_err(Error::msg);
    // Whoever asks for none by name has every sheet to write on, and a table of whatever can still be read.
    let (sheets, tables) = if sheets.is_empty() {
        (word("all")?, word("left")?)
    } else {
        let asked = outcome.sheets_asked(sheets).map_err(Error::msg)?;
        (asked.clone(), asked)
    };
    let mut papers = edition.build(Some(pipeline::PAPERS))?;
    for (of, [table, page]) in sheets.iter().zip(edition.sheets(&sheets)?) {
        if !tables.contains(of) {
            papers.push(page);
            continue;
        }
        let place = to.out.join(&table.name);
        if disk::read_if_there(&place)?.is_some_and(|known| known != table.bytes) {
            bail!(
                "{} is there and is not the empty sheet; put it beside the study, choose another folder with `-o`, or \
                 print without it: `--sheet none`",
                place.display()
            );
        }
        papers.extend([table, page]);
    }
    // A record in which somebody has written stays as it is; the checklist can be printed again beside it.
    for record in edition.empty_records()? {
        let there = disk::read_if_there(&to.out.join(&record.name))?;
        papers.extend(there.is_none_or(|known| known == record.bytes).then_some(record));
    }
    Ok(papers)
}

/// What to do with the tables that were written, or why there is none.
fn about_sheets(outcome: &Outcome, asked: &[String], names: &[&str]) -> String {
    let records: Vec<&str> =
        outcome.study.records.iter().map(|record| crate::text::base_name(&record.name.value)).collect();
    let (records, tables): (Vec<&str>, Vec<&str>) = names
        .iter()
        .copied()
        .filter(|name| name.strip_suffix(".csv").is_some())
        .partition(|name| records.contains(name));
    let record = |name: &&str| {
        format!(
            "Copy into {name} what is written on the checklist, and put it beside the study, which reads it.\n"
        )
    };
    let about_records: String = records.iter().map(record).collect();
    about_records + &about_tables(outcome, asked, &tables)
}

fn about_tables(outcome: &Outcome, asked: &[String], tables: &[&str]) -> String {
    match tables {
        [] if asked.is_empty() => {
            "No round is left to read, so the sheets are to write on; `--sheet \"NAME OF THE ROUND\"` writes its table too.\n"
                .to_owned()
        }
        [] if asked.iter().any(|word| word == "next" || word == "left") => {
            "No round is left to read, so there is no sheet; `--sheet \"NAME OF THE ROUND\"` writes one.\n"
                .to_owned()
        }
        [] => String::new(),
        [one] => match outcome.readings_file() {
            Some((name, false)) => {
                format!("Fill in {one} and put it beside the study as {name}, which the study reads.\n")
            }
            Some((name, true)) => format!(
                "Fill in {one} and add its rows to {name}, or put it beside the study and name it there: `readings \"{one}\"`.\n"
            ),
            None => {
                format!("Fill in {one}, put it beside the study, and name it there: `readings \"{one}\"`.\n")
            }
        },
        [first, second, ..] if matches!(outcome.readings_file(), Some((_, false))) => format!(
            "Fill in {first} and put it beside the study as {name}, which the study reads; name each later table there, as `readings \"{second}\"`.\n",
            name = outcome.readings_file().map_or("", |(name, _)| name)
        ),
        [first, ..] => format!(
            "Fill the tables in, put them beside the study, and name each of them there, as `readings \"{first}\"`.\n"
        ),
    }
}

/// Reads the study and the files that it names, beside it, and checks them.
fn check(arguments: &StudyArgs) -> Result<Outcome> {
    let bytes = disk::read(&arguments.file)?;
    let name = arguments.file.display().to_string();
    // Of two bytes a letter in UTF-16, where every second one is nought in the letters of the language.
    let letters = bytes.iter().filter(|byte| **byte != 0);
    if letters.count() * 3 < bytes.len() * 2 {
        bail!("{name}: this is UTF-16 text; save the file as plain text in UTF-8");
    }
    let text = match String::from_utf8(bytes) {
        Ok(text) => text,
        Err(error) => {
            let at = error.utf8_error().valid_up_to();
            let line = error.as_bytes()[..at].split(|&byte| byte == b'\n').count();
            bail!("{name}, line {line}: this is not UTF-8 text; save the file as plain text in UTF-8");
        }
    };
    let opened = pipeline::open(&name, &text, day(arguments));
    let folder = arguments.file.parent().unwrap_or(Path::new(""));
    let mut files = Vec::new();
    for name in opened.study.files() {
        // A path that was written on another system is taken with either kind of slash.
        let path = folder.join(name.value.replace('\\', "/"));
        files.push(disk::read_if_there(&path)?);
    }
    let photos = match &opened.study.photos {
        Some(photos) => {
            let place = folder.join(photos.value.replace('\\', "/"));
            let below = disk::folders_in(&place)?;
            disk::folder(&place)?.map(|files| files.into_iter().chain(below).collect())
        }
        None => None,
    };
    let opened = match photos {
        Some(photos) => opened.with_photos(photos),
        None => opened,
    };
    let pages = match &opened.study.pages {
        Some(pages) => disk::folder(&folder.join(pages.value.replace('\\', "/")))?,
        None => None,
    };
    let opened = match pages {
        Some(pages) => opened.with_pages(pages),
        None => opened,
    };
    Ok(opened.check(files))
}

/// The day on which the study is looked at.
fn day(arguments: &StudyArgs) -> Day {
    arguments.as_of.map_or_else(|| Day::Today(today()), Day::AsOf)
}

/// Today; the clock is read here and nowhere else.
#[allow(clippy::disallowed_methods, reason = "the one place that reads the clock")]
fn today() -> Date {
    // The zone of the machine lies in one file, which is read faster than the list of all zones of the world.
    let zone = if std::env::var_os("TZ").is_none() { disk::machine_zone() } else { None };
    Timestamp::now().to_zoned_datetime(zone.unwrap_or_else(TimeZone::system)).date()
}

/// Says the findings and returns the exit code.
fn say(outcome: &Outcome, show: &ShowArgs) -> Result<u8> {
    let text = match show.findings {
        Form::Text => draw::findings(&outcome.findings, &outcome.sources, look(show)) + &passed_over(outcome),
        Form::Json => json(&outcome.findings, &outcome.sources, pipeline::VERSION, Some(outcome.day.date()))?,
    };
    print(&text)?;
    let level = match show.fail_on {
        Level::Error => Severity::Error,
        Level::Warning => Severity::Warning,
        Level::Advice => Severity::Advice,
    };
    Ok(u8::from(outcome.findings.iter().any(|finding| finding.severity <= level)))
}

/// Says what was left aside for a day that was asked for.
fn passed_over(outcome: &Outcome) -> String {
    let (rows, records) = outcome.passed_over();
    if rows + records == 0 {
        return String::new();
    }
    let (rows, records) = (count(rows, "row"), count(records, "record"));
    let day = outcome.day.date();
    format!("Passed over, since they are of days after {day}: {rows} of its files and {records}.\n")
}

#[allow(clippy::disallowed_methods, reason = "NO_COLOR and COLUMNS are asked for at the command line only")]
fn look(show: &ShowArgs) -> draw::Look {
    let plain = std::env::var("NO_COLOR").is_ok_and(|value| !value.is_empty());
    let terminal = std::io::stdout().is_terminal();
    let width = std::env::var("COLUMNS").ok().and_then(|columns| columns.parse().ok()).unwrap_or(100);
    // Output that goes into a file or a pipe is never cut.
    draw::Look { colour: terminal && !plain, all: show.all || !terminal, width }
}
