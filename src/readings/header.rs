//! Recognises the columns of a readings file by their headings.

use crate::table::{folded, word_and_unit};
use crate::text::Span;

/// What a column holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Column {
    /// Day of the reading.
    Date,
    /// Name of the round.
    Round,
    /// Code of the section.
    Section,
    /// Name of the measure.
    Measure,
    /// Unit of the values.
    Unit,
    /// Name of the gauge.
    Gauge,
    /// Who read.
    By,
    /// Number of the reading in a file with one reading a line.
    Number,
    /// The reading, in a file with one reading a line.
    Value,
    /// The reading of this number, in a file with one section a line.
    Nth(u32),
    /// Time of day of the reading.
    Time,
    /// A remark, which is kept with the readings of its row.
    Note,
    /// Known, and not needed to place a reading: product.
    Aside,
}

/// Every heading that is known, the tool's own word for a column first.
const WORDS: [(Column, &[&str]); 12] = [
    (Column::Date, &["date", "day"]),
    (Column::Round, &["round", "event"]),
    (Column::Section, &["section"]),
    (Column::Measure, &["measure"]),
    (Column::Unit, &["unit", "units"]),
    (Column::Gauge, &["gauge", "instrument"]),
    (
        Column::By,
        &["by", "operator", "read by", "who", "rater", "rated by", "reader", "observer", "initials"],
    ),
    (Column::Number, &["reading", "reading number", "reading no", "number", "no", "nr"]),
    (Column::Value, &["value"]),
    (Column::Time, &["time"]),
    (Column::Note, &["note", "notes", "remark"]),
    (Column::Aside, &["product", "treatment", "control", "bare", "code"]),
];

impl Column {
    /// The column of a heading; capitals, blanks, hyphens and underscores do not count.
    pub(super) fn of(heading: &str) -> Option<Self> {
        let heading = folded(heading);
        let known = |text: &str| WORDS.iter().find(|(_, words)| words.contains(&text)).map(|one| one.0);
        // `3`, `Reading 3`, `Value 3`, `No. 3`.
        let counted = heading.trim_end_matches('.');
        let stem = counted.trim_end_matches(|c: char| c.is_ascii_digit());
        let number = &counted[stem.len()..];
        let stem = stem.trim_end_matches([' ', '.', '#']);
        let of_readings = stem.is_empty() || matches!(known(stem), Some(Self::Value | Self::Number));
        if let (true, 1..=6, Ok(number @ 1..)) = (of_readings, number.len(), number.parse()) {
            return Some(Self::Nth(number));
        }
        known(heading.trim_end_matches([':', '.']))
    }

    /// The column of a heading that may have its unit behind the word, as `value (deg)` or `Reading 1 [GU]`.
    ///
    /// What stands in brackets behind another word, as in `date (day first)`, is a note. `None` where a reading has something
    /// behind it that is no unit.
    pub(super) fn with_unit(heading: &str, is_unit: impl Fn(&str) -> bool) -> Option<(Self, Option<String>)> {
        if let Some(column) = Self::of(heading) {
            return Some((column, None));
        }
        let (column, unit) = word_and_unit(heading, Self::of);
        match (column?, unit) {
            (column @ (Self::Value | Self::Nth(_)), Some(unit)) if is_unit(&unit) => {
                Some((column, Some(unit)))
            }
            // `reading` alone counts the readings; what has a unit is one.
            (Self::Number, Some(unit)) if is_unit(&unit) => Some((Self::Value, Some(unit))),
            (Self::Value | Self::Nth(_) | Self::Number, _) => None,
            (column, _) if heading.contains(['(', '[']) => Some((column, None)),
            _ => None,
        }
    }

    /// The tool's own word for the column.
    pub(super) fn word(self) -> String {
        match self {
            Self::Nth(number) => number.to_string(),
            named => {
                WORDS.iter().find(|(column, _)| *column == named).map_or("", |(_, words)| words[0]).into()
            }
        }
    }
}

/// All known headings, for the nearest one.
pub(super) fn words() -> impl Iterator<Item = &'static str> {
    WORDS.iter().flat_map(|(_, words)| words.iter().copied())
}

/// The columns of a file by their place in a row.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(super) struct Columns {
    pub(super) date: Option<usize>,
    pub(super) time: Option<usize>,
    pub(super) round: Option<usize>,
    pub(super) section: Option<usize>,
    pub(super) measure: Option<usize>,
    pub(super) unit: Option<usize>,
    pub(super) gauge: Option<usize>,
    pub(super) by: Option<usize>,
    pub(super) number: Option<usize>,
    /// Columns of values with the number of the reading; 0 where the line holds one reading.
    pub(super) values: Vec<(u32, usize)>,
    /// The unit that the headings of readings give, and the place of the first that does.
    pub(super) said: Option<(String, Span)>,
    /// Columns of remarks, of which a file may have several.
    pub(super) notes: Vec<usize>,
    /// How many columns have a heading or stand before one that has.
    pub(super) width: usize,
}

impl Columns {
    /// True for one section a line with its readings side by side.
    pub(super) fn is_sheet(&self) -> bool {
        self.values.iter().any(|&(number, _)| number > 0)
    }

    /// Takes a column; false where the file has it already.
    pub(super) fn take(&mut self, column: Column, at: usize) -> bool {
        self.width = self.width.max(at + 1);
        let place = match column {
            Column::Date => &mut self.date,
            Column::Time => &mut self.time,
            Column::Round => &mut self.round,
            Column::Section => &mut self.section,
            Column::Measure => &mut self.measure,
            Column::Unit => &mut self.unit,
            Column::Gauge => &mut self.gauge,
            Column::By => &mut self.by,
            Column::Number => &mut self.number,
            Column::Value => return self.take_value(0, at),
            Column::Nth(number) => return self.take_value(number, at),
            Column::Note => {
                self.notes.push(at);
                return true;
            }
            Column::Aside => return true,
        };
        place.replace(at).is_none()
    }

    fn take_value(&mut self, number: u32, at: usize) -> bool {
        let new = !self.values.iter().any(|&(known, _)| known == number);
        self.values.push((number, at));
        new
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn headings_are_known_in_any_capitals_and_by_older_words() {
        assert_eq!(Column::of("Section"), Some(Column::Section));
        assert_eq!(Column::of(" EVENT "), Some(Column::Round));
        assert_eq!(Column::of("read_by"), Some(Column::By));
        assert_eq!(Column::of("Reading 3"), Some(Column::Nth(3)));
        assert_eq!(Column::of("12"), Some(Column::Nth(12)));
        assert_eq!(Column::of("reading"), Some(Column::Number));
        for heading in ["Value 3", "value_3", "No. 3", "Reading no. 3", "reading3", "3."] {
            assert_eq!(Column::of(heading), Some(Column::Nth(3)), "{heading}");
        }
        assert_eq!(Column::of("Who"), Some(Column::By));
        assert_eq!(Column::of("gloss 3"), None);
        assert_eq!(Column::of("0"), None);
        assert_eq!(Column::of("weather"), None);
    }

    #[test]
    fn a_unit_may_stand_behind_the_word_of_a_reading() {
        let of = |heading| Column::with_unit(heading, |unit| unit == "GU" || unit == "\u{b0}");
        let in_gu = |column| Some((column, Some("GU".to_owned())));
        assert_eq!(of("Value (GU)"), in_gu(Column::Value));
        assert_eq!(of("value GU"), in_gu(Column::Value));
        assert_eq!(of("reading [GU]"), in_gu(Column::Value));
        assert_eq!(of("2 (GU)"), in_gu(Column::Nth(2)));
        assert_eq!(of("Reading 1 (\u{b0})"), Some((Column::Nth(1), Some("\u{b0}".to_owned()))));
        assert_eq!(of("Date (day first)"), Some((Column::Date, None)));
        assert_eq!(of("Reading 1 (left)"), None);
        assert_eq!(of("reading no one"), None);
    }
}
