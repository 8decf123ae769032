//! Numbers of sections and of treatments: levels, changes, retentions, and the reason where there is none.

use crate::stats::GroupMean;
use crate::study::{RoundId, SectionId, Treatment};

/// Why a number is absent.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Missing {
    /// The round is not planned to read the measure, or the study has no such round.
    NotPlanned,
    /// The round is still to come.
    ToCome,
    /// The round was missed as a whole.
    RoundMissed,
    /// The round was read, this section was not, or every entry says "not taken".
    NotRead,
    /// Some readings are below what the gauge can tell, so that a mean of the others would be too high.
    BelowGauge,
    /// Every reading of the section at this round is left out.
    AllLeftOut,
    /// The section ended before this round.
    Ended,
    /// The patch met the rule of the cycle at an earlier one.
    Stopped,
    /// The round lies before the reference.
    BeforeReference,
    /// The section has no mean at the reference round.
    NoReference,
    /// At the reference round the section lay below what the gauge can tell.
    ReferenceBelow,
    /// The mean at the reference is 0 or below, or its unit has no true zero, so that a share of it means nothing.
    NoShare,
    /// What it is divided by is not above 0.
    NoDivisor,
    /// The mean at the reference, or of what the number is a share of, lies so near to 0 that a share of it could be anything.
    NearZero,
    /// No bare section or specimen has what the number is taken against.
    NoBlank,
    /// It is the blank itself, which stands where it does by definition.
    IsBlank,
    /// The number is too large to be held.
    TooLarge,
}

/// A number, or why there is none.
pub type Known<T> = Result<T, Missing>;

/// The piece that a section was cut from, by its number, where that matters to a comparison.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Piece {
    /// The piece is the unit: its sections are averaged.
    Unit(usize),
    /// The piece carries several treatments: its sections are compared with each other.
    Block(OnPiece),
    /// The same where every treatment lies several times at each site, so that differences are averages over these sites.
    AtSites(OnPiece),
}

/// Where a section stands that is compared within pieces.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct OnPiece {
    /// Its piece.
    pub piece: usize,
    /// Its site where there are several, else its piece. An `Option` of the site beside the piece would do, but rustc 1.95, optimising,
    /// has such a choice loaded before the variant is looked at, which stops the program.
    pub place: usize,
    /// Whether there are several sites.
    pub several_sites: bool,
}

impl OnPiece {
    /// On a piece, and at its site where there are several.
    pub(in crate::analysis) fn new(piece: usize, site: Option<usize>) -> Self {
        Self { piece, place: site.unwrap_or(piece), several_sites: site.is_some() }
    }
}

/// One section over the rounds.
#[derive(Debug, Clone, PartialEq)]
pub struct SectionSeries {
    /// The section.
    pub section: SectionId,
    /// What it carries.
    pub treatment: Treatment,
    /// Its piece; `None` where pieces do not matter to the comparison.
    pub piece: Option<Piece>,
    /// In the order of [`MeasureAnalysis::rounds`].
    pub at: Vec<SectionAt>,
}

/// One section at one round.
#[derive(Debug, Clone, PartialEq)]
pub struct SectionAt {
    /// The round.
    pub round: RoundId,
    /// Readings that were planned.
    pub planned: u32,
    /// Readings that count: numbers that are not left out.
    pub n: u32,
    /// Planned readings that do not count: not taken, below the gauge or left out; 0 where the round is to come.
    pub missing: u32,
    /// Readings below what the gauge can tell.
    pub below_gauge: u32,
    /// What the mean cannot exceed where some readings are below the gauge, as if they stood at its limit; `None` without such
    /// readings, and for what is made of other measures.
    pub at_most: Option<f64>,
    /// Readings that the study leaves out.
    pub left_out: u32,
    /// The numbers without the readings that are left out.
    pub numbers: SectionNumbers,
    /// The same with them; `None` where no reading of this cell or of its reference is left out.
    pub with_left_out: Option<SectionNumbers>,
}

/// The numbers of one section at one round.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SectionNumbers {
    /// The section mean.
    pub level: Known<SectionMean>,
    /// Mean minus the section's mean at the reference.
    pub change: Known<Uncertain>,
    /// Mean as percent of the section's mean at the reference.
    pub retention: Known<Uncertain>,
}

/// A section mean.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SectionMean {
    /// Readings behind it.
    pub n: u32,
    /// Mean.
    pub mean: f64,
    /// Standard deviation of the readings; `None` for one reading.
    pub sd: Option<f64>,
    /// Standard uncertainty of the mean and what it rests on.
    pub uncertainty: Option<Uncertainty>,
}

/// Standard uncertainties that a mean must lie above 0 before a share of it is taken. With two of them as the ends of its own interval
/// the square of their part in the mean is 0.16; beyond 0.2 the interval of a ratio is neither symmetrical nor short (Finney 1978,
/// Statistical Method in Biological Assay, 3rd edition, on Fieller's g).
const CLEAR_OF_ZERO: f64 = 5.0;

/// The mean that a share is taken of.
///
/// # Errors
/// Where it is not above 0, or not clear of it.
pub(in crate::analysis) fn base_of_share(mean: f64, standard: Option<f64>) -> Known<f64> {
    if mean <= 0.0 {
        Err(Missing::NoShare)
    } else if standard.is_some_and(|standard| mean < CLEAR_OF_ZERO * standard) {
        Err(Missing::NearZero)
    } else {
        Ok(mean)
    }
}

/// Standard uncertainty of a section mean.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Uncertainty {
    /// One standard uncertainty (JCGM 100:2008, 4.2.3): spread / sqrt(n).
    pub standard: f64,
    /// Where the spread comes from.
    pub from: ScatterFrom,
}

/// Where the spread in an uncertainty comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ScatterFrom {
    /// The section's own readings.
    Readings,
    /// The gauge's declared repeatability, since the readings scatter less or there is one only.
    Gauge,
    /// The uncertainties of the measures that it is made of.
    Parts,
    /// The pooled spread within cells, since there is one reading only and the gauge declares nothing.
    WithinCells,
}

/// A number made from section means, with its standard uncertainty where one is known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Uncertain {
    /// The number.
    pub value: f64,
    /// One standard uncertainty, in the unit of the number.
    pub standard: Option<f64>,
}

/// One treatment over the rounds.
#[derive(Debug, Clone, PartialEq)]
pub struct GroupSeries {
    /// The treatment.
    pub treatment: Treatment,
    /// Its sections in map order.
    pub sections: Vec<SectionId>,
    /// In the order of [`MeasureAnalysis::rounds`].
    pub at: Vec<GroupAt>,
}

/// One treatment at one round.
#[derive(Debug, Clone, PartialEq)]
pub struct GroupAt {
    /// The round.
    pub round: RoundId,
    /// Level over its sections; `None` where no section has one.
    pub level: Option<GroupValue>,
    /// Change over its sections; `None` where no section has one.
    pub change: Option<GroupValue>,
    /// Retention over its sections, percent; `None` where no section has one.
    pub retention: Option<GroupValue>,
    /// The 95 % interval of that retention with what the gauge itself may be off by folded in; `None` where nothing of that
    /// is known, or the retention has no interval.
    pub retention_with_gauge: Option<Interval>,
    /// One standard uncertainty of that retention by what the gauge itself may be off by, in percentage points.
    pub retention_bias: Option<f64>,
    /// Sections without a level here, and why.
    pub lacking: Vec<(SectionId, Missing)>,
    /// Sections without a change here though they have a level, and why.
    pub lacking_change: Vec<(SectionId, Missing)>,
}

/// A mean over sections, the section being the unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GroupValue {
    /// Sections behind it.
    pub n: usize,
    /// Readings on these sections at the round; of a section that was stopped, those with which it counts.
    pub readings: u32,
    /// Sections among them that were stopped before the round and stand with the number of the stop: then the mean is a bound.
    pub carried: usize,
    /// Mean of the section numbers.
    pub mean: f64,
    /// Their median, which is what numbers that have an order and no equal steps are told by.
    pub median: f64,
    /// Standard deviation between the sections; `None` for one section.
    pub sd: Option<f64>,
    /// Lowest section.
    pub min: f64,
    /// Highest section.
    pub max: f64,
    /// 95 % t interval of the mean, with the spread pooled over all treatments at this round, or the treatment's own where the study
    /// says that spreads differ; `None` where there is no spread, and where a section stands with the number at which it was stopped.
    pub interval: Option<Interval>,
}

impl GroupValue {
    /// Mean and number, as comparisons take them.
    pub(in crate::analysis) fn group(self) -> GroupMean {
        GroupMean { mean: self.mean, n: self.n }
    }
}

/// An interval, lower end first.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Interval {
    /// Lower end.
    pub low: f64,
    /// Upper end.
    pub high: f64,
}

impl Interval {
    /// Whether zero lies outside of it.
    pub fn leaves_out_zero(self) -> bool {
        self.low > 0.0 || self.high < 0.0
    }

    /// Whether an end of it is not known, as that of a difference to what was stopped: then the end stands at infinity.
    pub fn is_open(self) -> bool {
        self.low.is_infinite() || self.high.is_infinite()
    }
}
