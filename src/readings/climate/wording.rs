//! The findings of what is wrong in the rows of a climate file.

use super::model::ClimatePart;
use super::rows::ClimateWrong;
use crate::diag::{Finding, Place};

/// The finding of a fault.
pub(in super::super) fn told(wrong: ClimateWrong, place: Place, text: &str) -> Finding {
    let error = |code, message: String| Finding::error(code, place, message).binding();
    match wrong {
        ClimateWrong::Number(part) => error("not-a-number", format!("`{text}` is not a number"))
            .label(format!("{} belongs here", word(part)))
            .help("write the value with a point for decimals, or leave the field blank where there is none"),
        ClimateWrong::Range(part) => error("value-out-of-range", format!("{} cannot be {text}", word(part)))
            .help("leave the field blank where the logger failed, or correct the unit in the heading"),
        ClimateWrong::YesNo => error("climate-unit", format!("`{text}` is neither 1 nor 0"))
            .label("wet, of which the heading gives no unit")
            .help("call the column `wet min` or `wet h` if it says how long, else write 1 where it was wet and 0 where not"),
        ClimateWrong::NoTime => error("bad-date", "this row has no time".into())
            .help("write the clock time of the site, as `2026-04-13 10:20`, or take the row out"),
        ClimateWrong::Zone => error("climate-unit", format!("`{text}` is the time of another clock than that of the site"))
            .help("write the clock time of the site, by which rounds and coats go, as `2026-04-13 10:20`"),
        ClimateWrong::SameTime => {
            Finding::warning("climate-row-twice", place, format!("a row of `{text}` stands before this one"))
                .label("not counted")
                .help("keep one row of each time; where clocks are set back an hour is there twice and counts once")
                .about("climate")
        }
        ClimateWrong::TooLong(part) => {
            error("value-out-of-range", format!("{} of `{text}` is more time than the row stands for", word(part)))
                .help("correct the unit in the heading, or say `each row 1 h` under `climate`")
        }
    }
}

fn word(part: ClimatePart) -> &'static str {
    match part {
        ClimatePart::Air => "air",
        ClimatePart::Humidity => "humidity",
        ClimatePart::Surface => "surface",
        ClimatePart::Wet => "wet",
        ClimatePart::Sun => "sun",
        ClimatePart::Sunshine => "sunshine",
    }
}
