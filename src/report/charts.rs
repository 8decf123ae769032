//! Charts as views: what is drawn, in the units of the data, with every word that stands in the picture.

use super::map::Shape;
use serde::Serialize;

/// How one product is marked, the same in every picture: 1 to 5, or 0 for the rest.
pub type Mark = u8;

/// Change over time, one small panel for each treatment, all on one scale.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ChangeChart {
    /// Changes up to this on both sides of zero are always in view, so that noise is not magnified.
    pub least: f64,
    /// Rounds that were read: their place in time, which counts days since the products went on or cycles, and the name.
    pub rounds: Vec<(f64, String)>,
    /// Bare sections: place in time, lowest, highest and mean section.
    pub band: Vec<(f64, f64, f64, f64)>,
    /// One for each treatment, in the order of the page.
    pub panels: Vec<ChangePanel>,
}

/// One treatment.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ChangePanel {
    /// Its name, which stands above.
    pub name: String,
    /// Its mark; `None` for bare sections.
    pub mark: Option<Mark>,
    /// What stands below the name: the mean that is told, and over how many sections.
    pub told: String,
    /// What it shows in words, for those who do not see it.
    pub alternative: String,
    /// Place in time and mean of its sections; a round that was not read has no point, and no line leads over it.
    pub mean: Vec<Option<(f64, f64)>>,
    /// The point that is told, among those of [`Self::mean`].
    pub at: usize,
    /// Its sections, each by itself.
    pub sections: Vec<Series>,
}

/// One line.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Series {
    /// Code of the section.
    pub code: String,
    /// Place in time and value, as in [`ChangePanel::mean`].
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

/// Single readings around the mean of their section.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SpreadChart {
    /// Unit of the readings.
    pub unit: String,
    /// One row each, those of one treatment together.
    pub rows: Vec<SpreadRow>,
}

/// A row: one section.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SpreadRow {
    /// What it carries.
    pub name: String,
    /// True for the first row of its treatment, which alone prints the name.
    pub first: bool,
    /// Its mark; `None` for bare sections.
    pub mark: Option<Mark>,
    /// Code of the section.
    pub code: String,
    /// Mean of the readings that count.
    pub mean: f64,
    /// The readings that count.
    pub readings: Vec<f64>,
    /// The readings that are left out, and how they are printed.
    pub left_out: Vec<(f64, String)>,
}

/// The level of sections along one direction of the panel, with the slope of the plane through all of them.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TrendChart {
    /// Unit of the levels.
    pub unit: String,
    /// Left to right, and top to bottom.
    pub ways: [TrendWay; 2],
}

/// One direction.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TrendWay {
    /// Words at its start and its end.
    pub ends: (String, String),
    /// What it shows in words.
    pub words: String,
    /// Code, place in mm and level of each section.
    pub points: Vec<(String, f64, f64)>,
    /// Place and level at both ends of the line.
    pub line: [(f64, f64); 2],
}

/// Places of the panel before and after preparation.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RemovedChart {
    /// Words on the axis.
    pub axis: String,
    /// What must be left, and the words for it.
    pub leave: Option<(f64, String)>,
    /// One row each; the last is the mean.
    pub rows: Vec<RemovedRow>,
}

/// A row: one place.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RemovedRow {
    /// Its name.
    pub name: String,
    /// Before.
    pub before: f64,
    /// After.
    pub after: f64,
    /// Ends of the interval of what is left, where there is one.
    pub interval: Option<(f64, f64)>,
}

/// Time until spent, one line a section.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SpentChart {
    /// End of the axis, which counts days or cycles.
    pub last: f64,
    /// Rounds that were read: place on it and name.
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
    /// Held at least until this place on the axis.
    pub held: f64,
    /// What came then.
    pub until: Until,
}

/// How a line of time until spent ends.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub enum Until {
    /// Spent by this place on the axis.
    Spent(f64),
    /// It still held at the last round read.
    Open,
    /// It held when last read, and was ended or stopped before the last round.
    Gone,
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
