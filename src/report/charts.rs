//! Charts as views: what is drawn, in the units of the data, with every word that stands in the picture.

use super::map::Shape;
use serde::Serialize;

/// How one product is marked, the same in every picture: 1 to 5, or 0 for the rest.
pub type Mark = u8;

/// Change over time.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ChangeChart {
    /// Words on the vertical axis.
    pub axis: String,
    /// Decimals of its numbers.
    pub decimals: usize,
    /// Changes up to this on both sides of zero are always in view, so that noise is not magnified.
    pub least: f64,
    /// Rounds that were read: days since the products went on, and the name.
    pub rounds: Vec<(f64, String)>,
    /// Bare sections: day, lowest, highest and mean section.
    pub band: Vec<(f64, f64, f64, f64)>,
    /// Words on the band.
    pub band_word: String,
    /// Products.
    pub series: Vec<Series>,
}

/// One line.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Series {
    /// Name at its end.
    pub name: String,
    /// Its mark.
    pub mark: Mark,
    /// Day and value; a round that was not read has no point, and no line leads over it.
    pub points: Vec<Option<(f64, f64)>>,
}

/// Points and intervals.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct IntervalChart {
    /// Words below the axis.
    pub axis: String,
    /// Decimals of its numbers.
    pub decimals: usize,
    /// Within this on both sides of zero: alike.
    pub alike: Option<f64>,
    /// From this on both sides of zero: seen.
    pub seen: Option<f64>,
    /// Words at the left and right end of the axis.
    pub sides: (String, String),
    /// One row each, in the order of the page.
    pub rows: Vec<IntervalRow>,
}

/// A row.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct IntervalRow {
    /// Name.
    pub name: String,
    /// Its mark.
    pub mark: Mark,
    /// The point.
    pub value: f64,
    /// Lower and upper end.
    pub interval: Option<(f64, f64)>,
    /// The word, or nothing.
    pub word: String,
}

/// Time to spent, one line a section.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SpentChart {
    /// Last day of the axis.
    pub last: f64,
    /// Rounds that were read: day and name.
    pub rounds: Vec<(f64, String)>,
    /// One row each.
    pub rows: Vec<SpentRow>,
}

/// A row: one section.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SpentRow {
    /// What it carries.
    pub name: String,
    /// True for the first row of its treatment, which alone prints the name.
    pub first: bool,
    /// Code of the section.
    pub code: String,
    /// Its mark.
    pub mark: Mark,
    /// Held at least until this day.
    pub held: f64,
    /// Spent by this day; `None` where it still held.
    pub spent: Option<f64>,
}

/// The panel with the change of every section, once for each round.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PanelChart {
    /// Outline of the panel.
    pub panel: Option<Shape>,
    /// Left, top, right and bottom of all that is drawn, mm.
    pub bounds: (f64, f64, f64, f64),
    /// Sections that have a shape.
    pub places: Vec<PanelPlace>,
    /// Rounds that were read, by date.
    pub rounds: Vec<PanelRound>,
    /// The largest change of all, without its sign; the scale ends there.
    pub most: f64,
    /// Upper ends of the four steps of the scale, as printed.
    pub steps: [String; 4],
    /// Unit of the changes.
    pub unit: String,
}

/// A section of the panel.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PanelPlace {
    /// Its shape.
    pub shape: Shape,
    /// Its code.
    pub code: String,
}

/// One round on the panel.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PanelRound {
    /// Its name.
    pub name: String,
    /// In the order of [`PanelChart::places`]: the change and how it is printed.
    pub values: Vec<Option<(f64, String)>>,
}
