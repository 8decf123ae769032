//! The panel itself: how its sections and its readings scatter, and what lies where on it.

use super::{Interval, Uncertain};
use crate::stats::Spread;
pub use crate::stats::map::moran::Likeness;
use crate::study::{MeasureId, ProductId, RoundId, SectionId, Treatment};

/// Why something cannot be said of the panel.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unsaid {
    /// The study has no baseline round that reads the measure.
    NoBaseline,
    /// The baseline has no readings of it yet.
    NotRead,
    /// At the baseline all of it lies below what the gauge can tell.
    BelowGauge,
    /// So many sections have a level, and so many are needed.
    FewSections(usize, usize),
    /// No section was read twice.
    ReadOnce,
    /// All readings are equal.
    NoScatter,
    /// All sections have the same level.
    SectionsEqual,
    /// The map gives no places in mm.
    NoPlaces,
    /// All sections lie in one line, so that no plane can be laid through them.
    OneLine,
    /// Fewer than three sections have a neighbour.
    NoNeighbours,
    /// What sections treated alike leave is too little to judge a plane by.
    FewDegrees,
}

/// One measure on the panel before anything went on.
#[derive(Debug, Clone, PartialEq)]
pub struct PanelMeasure {
    /// The measure.
    pub measure: MeasureId,
    /// The split of its scatter between sections and readings.
    pub split: Result<Split, Unsaid>,
    /// What readings add to the scatter of its changes, where it is compared by changes at the round that is shown and some cell
    /// has two readings. Levels say nothing of it: what stays with a section is in them and cancels in its change.
    pub changes: Option<ChangeScatter>,
    /// Its trend over the panel.
    pub trend: Result<PanelTrend, Unsaid>,
    /// The seed of the orders by which the likeness of neighbours is judged.
    pub seed: u64,
    /// How alike neighbours are.
    pub likeness: Result<Likeness, Unsaid>,
    /// The sections behind the trend, in map order; empty where there is none.
    pub places: Vec<PlaceLevel>,
}

/// A section with the place of its middle and its level.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PlaceLevel {
    /// The section.
    pub section: SectionId,
    /// Its middle from left and from top, mm.
    pub middle: (f64, f64),
    /// Its level.
    pub level: f64,
}

/// Scatter of single readings, split between sections and readings.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Split {
    /// Sections behind it.
    pub sections: usize,
    /// Readings behind it.
    pub readings: usize,
    /// Whether all sections have as many readings: nested analysis of variance; else restricted maximum likelihood.
    pub even: bool,
    /// Standard deviation between sections, beyond what their readings give.
    pub between: f64,
    /// Standard deviation of readings within a section.
    pub within: f64,
    /// P value of no difference between sections.
    pub p: Option<f64>,
}

/// The scatter of changes between sections treated alike, and what of it comes from readings.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ChangeScatter {
    /// The round up to which they changed.
    pub round: RoundId,
    /// Standard deviation between sections treated alike, on which the comparison rests, in the measure's unit.
    pub sd: f64,
    /// Standard deviation that the readings of both rounds give to a change, in the same unit.
    pub of_readings: f64,
}

impl ChangeScatter {
    /// Share of the variance of a change that comes from readings, 0 to 1.
    pub fn share_of_readings(&self) -> f64 {
        (self.of_readings / self.sd).powi(2).min(1.0)
    }

    /// By how much the scatter of a change shrinks with twice the readings, 0 to 0.29.
    pub fn gain_of_readings(&self) -> f64 {
        1.0 - (1.0 - self.share_of_readings() / 2.0).sqrt()
    }
}

/// A plane through the section means; of several sites each has a mean of its own, and all share the slopes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PanelTrend {
    /// Sections behind it.
    pub sections: usize,
    /// Sites on which they stand, at least 1.
    pub sites: usize,
    /// From the left edge of the panel to the right one.
    pub across: Fall,
    /// From its top edge to the bottom one.
    pub down: Fall,
    /// Where it rises most; `None` where it is level.
    pub steepest: Option<Way>,
    /// P value of no trend in either direction; `None` where the plane leaves no scatter.
    pub p: Option<f64>,
    /// Whether the edges are those of the panel; else those of the outermost sections.
    pub to_edges: bool,
}

/// One of eight ways on the panel: 1 to the right or downwards, -1 to the left or upwards, 0 for neither.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Way {
    /// To the right.
    pub right: i8,
    /// Downwards.
    pub down: i8,
}

/// How much a plane rises from one edge to the other.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fall {
    /// The rise, below zero for a fall.
    pub rise: f64,
    /// Its 95 % interval.
    pub interval: Interval,
    /// The edges from which and to which it rises, mm, each with the level of the plane there, half way along the
    /// other direction's sections.
    pub ends: [(f64, f64); 2],
}

/// Whether the place of a section acts on the number that is compared, whatever it carries, at one round.
#[derive(Debug, Clone, PartialEq)]
pub struct PlaceAt {
    /// The round.
    pub round: RoundId,
    /// Sections that tell of it: each has another that is treated alike.
    pub sections: usize,
    /// Readings on these sections at the round.
    pub readings: usize,
    /// From the middle of the leftmost sections to that of the rightmost.
    pub across: Rise,
    /// From the middle of the topmost sections to that of the lowest.
    pub down: Rise,
    /// Both against none: F on 2 degrees of freedom and those of [`PlaceAt::with`].
    pub f: f64,
    /// Its p value.
    pub p: f64,
    /// The same after Holm over the rounds that are not shown in full; `None` at the one that is.
    pub p_holm: Option<f64>,
    /// The scatter of sections treated alike.
    pub without: Spread,
    /// The same with the place taken out.
    pub with: Spread,
    /// What the plane adds to the mean of each treatment, against the mean of all sections of its site.
    pub adds: Vec<(Treatment, f64)>,
    /// Who may lead with the plane taken out, by the rule of the table; `None` at other rounds than the one that is shown in full, and where
    /// that rule is another than Hsu's on one spread.
    pub may_lead: Option<WithoutPlace>,
}

/// Who may lead with the plane taken out.
#[derive(Debug, Clone, PartialEq)]
pub struct WithoutPlace {
    /// These products.
    pub products: Vec<ProductId>,
    /// Among so many.
    pub of: usize,
    /// Sections of all of them.
    pub sections: usize,
    /// The scatter that plane and comparison leave.
    pub spread: Spread,
}

/// How much a number rises over the panel.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rise {
    /// The rise, below zero for a fall.
    pub by: f64,
    /// Its 95 % interval, which holds for all directions together.
    pub interval: Interval,
}

/// The same at every round that was read.
#[derive(Debug, Clone, PartialEq)]
pub struct MovedByPlace {
    /// The measure.
    pub measure: MeasureId,
    /// The round that is shown in full.
    pub shown: Result<PlaceAt, Unsaid>,
    /// All others of which it can be said, by date.
    pub others: Vec<PlaceAt>,
}

/// A section against those around it, each off the mean of what it carries: where it stands, and no correction.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Beside {
    /// The section.
    pub section: SectionId,
    /// What it carries.
    pub treatment: Treatment,
    /// The number that is compared.
    pub value: f64,
    /// That less the mean of sections treated alike; `None` where no other is.
    pub off: Option<f64>,
    /// Its `off` less that of the section above it, nearer the top edge.
    pub above: Option<f64>,
    /// Its `off` less the mean of that of those left and right of it.
    pub sides: Option<f64>,
}

/// All that is said of the panel itself.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct PanelAnalysis {
    /// The round before anything went on; `None` where the study has none.
    pub baseline: Option<RoundId>,
    /// One for each measure that is read on the panel, in order of the study.
    pub measures: Vec<PanelMeasure>,
    /// Every section with a number at the round that is shown in full, in map order; empty where none has a neighbour to be held against.
    pub beside: Vec<Beside>,
    /// Whether the place acts on the number that is compared; `None` where nothing is shown, or pieces are what is counted.
    pub moved: Option<MovedByPlace>,
    /// Of every measure with readings of a tile.
    pub drifts: Vec<Drift>,
    /// Of every measure whose gauge states an uncertainty or has readings of its tile at the reference and later.
    pub biases: Vec<Biases>,
    /// Of every measure that several people read on the same section at one round.
    pub people: Vec<People>,
    /// Of every measure that was read on the panel before and after preparation.
    pub removed: Vec<Removed>,
}

/// Readings of the reference tile over the rounds.
#[derive(Debug, Clone, PartialEq)]
pub struct Drift {
    /// The measure.
    pub measure: MeasureId,
    /// What the gauge declares its tile to be; `None` where it does not or where several gauges do.
    pub declared: Option<f64>,
    /// By date; the first is the one that the others are held against.
    pub at: Vec<TileAt>,
}

/// What the gauge of a measure may be off by, for all sections of a round alike.
#[derive(Debug, Clone, PartialEq)]
pub struct Biases {
    /// The measure.
    pub measure: MeasureId,
    /// One standard uncertainty that its certificate states, in the unit of the measure: an offset of all levels.
    pub certificate: Option<f64>,
    /// Rounds after the reference that were read and of which it is known.
    pub at: Vec<BiasAt>,
}

/// What the gauge may be off by at a round.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BiasAt {
    /// The round.
    pub round: RoundId,
    /// Mean of the tile less that at the reference round.
    pub drift: Option<f64>,
    /// One standard uncertainty that this drift gives, in the unit of the measure; 0 where it is not known.
    pub drifted: f64,
    /// Whether the offset that the certificate leaves open is that of the reference round too: one gauge, and no newer certificate
    /// since then.
    pub same_offset: bool,
    /// One standard uncertainty of every level, in the unit of the measure.
    pub standard: f64,
}

impl BiasAt {
    /// One standard uncertainty of a number that holds a level of this round, less `share` of a level of the reference round.
    ///
    /// The drift since the reference is in the first alone. An offset that both have cancels by that share; one that is new with a
    /// newer certificate does not, and the two are added as squares (JCGM 100:2008, 5.2.2 for inputs that are wholly correlated, 5.1.2
    /// for independent ones).
    pub fn less(&self, share: f64, certificate: Option<f64>) -> f64 {
        let kept = if self.same_offset { (1.0 - share).abs() } else { share.hypot(1.0) };
        self.drifted.hypot(certificate.unwrap_or(0.0) * kept)
    }
}

/// Readings of a tile at a round.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TileAt {
    /// The round.
    pub round: RoundId,
    /// Readings.
    pub n: usize,
    /// Their mean.
    pub mean: f64,
    /// Mean less the declared value.
    pub off: Option<f64>,
    /// Mean less that of the first round, with its standard uncertainty; `None` at the first.
    pub since: Option<Uncertain>,
}

/// Several people who read the same sections at one round.
#[derive(Debug, Clone, PartialEq)]
pub struct People {
    /// The measure.
    pub measure: MeasureId,
    /// The round.
    pub round: RoundId,
    /// Who, in order of their names.
    pub names: Vec<String>,
    /// What came of it.
    pub found: Result<GaugeStudy, NoGaugeStudy>,
}

/// Why people cannot be compared.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoGaugeStudy {
    /// So many sections were read by all of them as often; two are needed.
    FewSections(usize),
    /// All readings are equal.
    NoScatter,
}

/// A gauge in several hands, as standard deviations.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GaugeStudy {
    /// Sections that all read as often.
    pub sections: usize,
    /// Readings of each person on each of them.
    pub each: usize,
    /// One person again on the same section; with one reading each the scatter between people on a section is in it.
    pub repeatability: f64,
    /// What another person adds.
    pub between_people: f64,
    /// Both together: reproducibility (ISO 5725-1).
    pub gauge: f64,
    /// Between the sections.
    pub sections_spread: f64,
    /// P value of no difference between people.
    pub p_people: Option<f64>,
    /// P value of no difference between people that changes from section to section.
    pub p_interaction: Option<f64>,
}

/// What preparation took off, by places of the panel that were read before and after.
#[derive(Debug, Clone, PartialEq)]
pub struct Removed {
    /// The measure.
    pub measure: MeasureId,
    /// The steps, as `prep 1`, counted from 0.
    pub steps: (usize, usize),
    /// Places that were read at both, by their numbers.
    pub places: Vec<Twice>,
    /// Readings on these places at either step.
    pub readings: (usize, usize),
    /// Places that were read at one of them only.
    pub unpaired: usize,
    /// Mean of those places before and after.
    pub means: (f64, f64),
    /// Mean of what was taken off.
    pub mean: f64,
    /// Its 95 % interval; `None` from one place or without any scatter.
    pub interval: Option<Interval>,
    /// Standard deviation of what was taken off from place to place; `None` from one place.
    pub sd: Option<f64>,
    /// Standard uncertainty that the gauge alone gives that mean of losses; `None` where it declares nothing.
    pub gauge: Option<f64>,
    /// Where losses scatter far less than the gauge states: the chance that honest readings of it would give so little scatter.
    pub too_even: Option<TooEven>,
    /// The lowest that is left, of all places after the last step and of all sections at the baseline: means of their readings.
    pub lowest: f64,
    /// The section on which that is; `None` where it is one of the places.
    pub lowest_on: Option<SectionId>,
    /// What the study says must be left.
    pub leave: Option<f64>,
}

/// Losses that scatter less than the stated error of the gauge can give.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TooEven {
    /// Standard deviation of a loss that the gauge alone gives.
    pub by_gauge: f64,
    /// Degrees of freedom behind the scatter.
    pub df: f64,
    /// P value of so little scatter or less (chi-square).
    pub p: f64,
}

/// A place that was read before and after.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Twice {
    /// Its number.
    pub place: u32,
    /// Mean of its readings before.
    pub before: f64,
    /// Mean of its readings after.
    pub after: f64,
}
