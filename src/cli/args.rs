//! Arguments of the command, one type per subcommand.

use clap::{Args, Parser, Subcommand, ValueEnum};
use std::path::PathBuf;

/// Compiles a study of surface-protection products: findings, papers and the comparison report.
#[derive(Debug, Parser)]
#[command(name = "tapeline", version, about, disable_help_subcommand = true)]
pub(super) struct Arguments {
    #[command(subcommand)]
    pub(super) command: Command,
}

/// What to do.
#[derive(Debug, Subcommand)]
pub(super) enum Command {
    /// Write a commented starter study
    New {
        /// The file to write; a file that exists is never overwritten
        file: PathBuf,
        /// The day on which the work begins, as 2026-04-13; every day of the study is counted from it [default: today]
        #[arg(long, value_name = "DATE", value_parser = day)]
        begins: Option<jiff::civil::Date>,
    },
    /// Check a study and its readings
    Check {
        #[command(flatten)]
        study: StudyArgs,
        #[command(flatten)]
        show: ShowArgs,
    },
    /// Tell what the layout of a study can tell apart, and what more sections or readings would buy
    Plan {
        #[command(flatten)]
        study: StudyArgs,
        #[command(flatten)]
        show: ShowArgs,
        #[command(flatten)]
        scatter: ScatterArgs,
    },
    /// Deal products and bare out by chance among the sections that the map draws as `?`
    ///
    /// Many layouts are drawn by chance and bettered by exchanges; the one is taken in which sections of a product lie
    /// apart, in other rows and columns, around the middle, and bare ones near to all. It is shown; with `--write` it is
    /// put into the study.
    Arrange {
        #[command(flatten)]
        study: StudyArgs,
        #[command(flatten)]
        show: ShowArgs,
        /// Where chance begins; the same study and the same seed are dealt alike [default: from the study's text]
        #[arg(long, value_name = "NUMBER")]
        seed: Option<u32>,
        /// Sections for each product [default: as many as leave bare as often]
        #[arg(long, value_name = "NUMBER", value_parser = clap::value_parser!(u16).range(1..=1000))]
        each: Option<u16>,
        /// Put the layout into the study file, in place of each `?`, with a line that says when and from which seed
        #[arg(long)]
        write: bool,
    },
    /// Write the papers for the panel: map, checklist, and empty sheets for the readings of each round
    Print {
        #[command(flatten)]
        study: StudyArgs,
        #[command(flatten)]
        show: ShowArgs,
        #[command(flatten)]
        to: OutArgs,
        #[command(flatten)]
        sheets: SheetArgs,
    },
    /// Write the comparison report
    Report {
        #[command(flatten)]
        study: StudyArgs,
        #[command(flatten)]
        show: ShowArgs,
        #[command(flatten)]
        to: OutArgs,
    },
    /// Write everything, with an index page
    Build {
        #[command(flatten)]
        study: StudyArgs,
        #[command(flatten)]
        show: ShowArgs,
        #[command(flatten)]
        to: OutArgs,
    },
    /// Write everything with the study and its readings as they are, for publishing: an open data package
    /// from which anybody makes the report again
    Bundle {
        #[command(flatten)]
        study: StudyArgs,
        #[command(flatten)]
        show: ShowArgs,
        #[command(flatten)]
        to: OutArgs,
    },
    /// Write each picture of the report as files to pass on, SVG and PNG, square, wide and tall
    Share {
        #[command(flatten)]
        study: StudyArgs,
        #[command(flatten)]
        show: ShowArgs,
        #[command(flatten)]
        to: OutArgs,
    },
    /// List the blocks of the pages that a study may change, or print one of them
    Pages {
        /// The file of a block, as `report-end.md`; without it, all blocks are listed
        block: Option<String>,
    },
    /// Tell what a finding means and how to mend it
    Explain {
        /// The code of a finding; without it, all codes are listed
        code: Option<String>,
    },
}

/// The study and the day on which it is looked at.
#[derive(Debug, Args)]
pub(super) struct StudyArgs {
    /// The study file
    pub(super) file: PathBuf,
    /// Look at the study as of this day, as 2026-04-13: what was read, done and logged later is passed over
    #[arg(long, value_name = "DATE", value_parser = day)]
    pub(super) as_of: Option<jiff::civil::Date>,
}

/// A day as an option gives it.
fn day(text: &str) -> Result<jiff::civil::Date, String> {
    text.parse().map_err(|_| "write the day as year, month and day, as 2026-04-13".to_owned())
}

/// How findings are shown.
#[derive(Debug, Args)]
pub(super) struct ShowArgs {
    /// The least severe finding that makes the command exit with 1
    #[arg(long, value_enum, default_value = "error", value_name = "SEVERITY")]
    pub(super) fail_on: Level,
    /// Show every finding, not only the first 20
    #[arg(long)]
    pub(super) all: bool,
    /// How findings are written
    #[arg(long, value_enum, default_value = "text", value_name = "FORM")]
    pub(super) findings: Form,
}

/// Scatter that is taken for granted, in the unit of the deciding measure.
#[derive(Debug, Args)]
pub(super) struct ScatterArgs {
    /// Standard deviation between sections treated alike, beyond that of their readings
    #[arg(long, value_name = "NUMBER", value_parser = spread, allow_negative_numbers = true)]
    pub(super) section_spread: Option<f64>,
    /// Standard deviation of one reading
    #[arg(long, value_name = "NUMBER", value_parser = spread, allow_negative_numbers = true)]
    pub(super) reading_spread: Option<f64>,
}

/// A spread as an option gives it.
fn spread(text: &str) -> Result<f64, String> {
    const MOST: f64 = 1e9;
    let value = text.parse().ok().filter(|value: &f64| *value > 0.0 && *value <= MOST);
    value.ok_or_else(|| "write a number above 0 and not beyond 1000000000, as 0.8".to_owned())
}

/// Where outputs go.
#[derive(Debug, Args)]
pub(super) struct OutArgs {
    /// The folder for the outputs; it is made if it is not there
    #[arg(short, long, value_name = "DIR")]
    pub(super) out: PathBuf,
}

/// Which rounds get an empty sheet.
#[derive(Debug, Args)]
pub(super) struct SheetArgs {
    /// The round to write an empty sheet for, as "month 6", or "prep 1" for the first reading of the preparation, or
    /// `next` for what is due, `left` for what can still be read, `all` or `none`; may be given several times
    /// [default: all to write on, and the tables of what is left]
    ///
    /// A sheet is two files: `sheet-month-6.csv` to fill in, with every section, measure and unit and a
    /// column for each reading, and `sheet-month-6.html` to write on. Put the filled table beside the
    /// study and name it there: `readings "sheet-month-6.csv"`. A table that was filled in is never
    /// written over.
    #[arg(long, value_name = "ROUND")]
    pub(super) sheet: Vec<String>,
}

/// Severities, as an option names them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum Level {
    /// Errors only
    Error,
    /// Errors and warnings
    Warning,
    /// Everything
    Advice,
}

/// Forms of findings.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum Form {
    /// For people
    Text,
    /// For machines; never cut
    Json,
}
