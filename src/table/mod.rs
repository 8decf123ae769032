//! CSV files, whatever they hold: encoding, rows, fields with their places, headings with units, days and clock times.

mod day;
mod encoding;
mod header;
mod heading;
mod split;
mod telling;

pub use day::{DayFault, clock, day};
pub use encoding::text;
pub use header::{Header, header};
pub use heading::{folded, word_and_unit};
pub use split::{Field, Row, Splitter};
pub use telling::{Unknown, empty, extra, shown, without_rows};
