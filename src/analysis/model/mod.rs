//! The nouns of an analysis: every number that a report may print, with its count, or the reason why there is none.
//!
//! Numbers are in the unit of their measure unless said otherwise, neither rounded nor formatted, and always finite.

mod beside;
mod by_piece;
mod climate;
mod outcome;
mod over_time;
mod panel;
mod rating;
mod section;
mod table;
mod turned;

pub use beside::{AdjustedRow, AdjustedTable, ExchangeLine, NoExchange, NotAdjusted};
pub use by_piece::{ByPiece, Interaction, LessBare, PieceBare, PieceOrder, PiecePair};
pub use climate::{ClimateStretch, ClimateSum, SiteClimate, StretchEnd, WetBy};
pub use outcome::{
    Against, Answer, CameBack, CostWithGauge, Gone, GroupSpent, Half, Moment, MonthlyCost, NoCost,
    ProductCost, Restored, SectionCost, SectionSpent, Spent, Standing, WithGauge, WithinRounds,
    WithoutFarOff,
};
pub use over_time::{
    Agreement, DecayOver, GroupOverTime, ModelRate, NoTrend, OverTime, Pace, SectionOverTime, Trend,
};
pub use panel::{
    Beside, BiasAt, Biases, ChangeScatter, Drift, Fall, GaugeStudy, Likeness, MovedByPlace, NoGaugeStudy,
    PanelAnalysis, PanelMeasure, PanelTrend, People, PlaceAt, PlaceLevel, Removed, Rise, Split, TileAt,
    TooEven, Twice, Unsaid, Way, WithoutPlace,
};
pub use rating::{Agreeing, AllRanks, Least, RatingRow, RatingTable};
pub(in crate::analysis) use section::base_of_share;
pub use section::{
    GroupAt, GroupSeries, GroupValue, Interval, Known, Missing, OnPiece, Piece, ScatterFrom, SectionAt,
    SectionMean, SectionNumbers, SectionSeries, Uncertain, Uncertainty,
};
pub use table::{
    AtEnd, Basis, ChanceRow, ChanceTable, ControlRow, ControlTable, DrawnFrom, End, Farther, LeadRow,
    LeadTable, NoTable, OddSpread, PairRow, PairTable, Productless, ScatterOf, Side, Strength, WithinPieces,
    Word,
};
pub use turned::{Turned, TurnedRow};

use crate::readings::Outliers;
use crate::stats::Spread;
use crate::study::{MeasureId, RoundId, Treatment};
use jiff::civil::Date;

/// All numbers of a study.
#[derive(Debug, Clone, PartialEq)]
pub struct Analysis {
    /// The day that "missed" and "to come" are judged by; `None` where none is known.
    pub as_of: Option<Date>,
    /// The day from which time to spent counts, where no coat is recorded for a section.
    pub applied: Option<Date>,
    /// What the headline rests on; `None` where the study has no measure that a round after its reference reads.
    pub question: Option<Question>,
    /// The headline.
    pub answer: Answer,
    /// One for each measure of the study, in its order: index with [`MeasureId::index`].
    pub measures: Vec<MeasureAnalysis>,
    /// Differences to the benchmark at the round of [`Analysis::shown`]; `None` where the study names no benchmark or
    /// no round is shown.
    pub to_benchmark: Option<Result<ControlTable, NoTable>>,
    /// Differences of the products to the carrier alone and to untouched sections at that round, where such sections have a number.
    pub to_productless: Vec<Productless>,
    /// Whether treatments do otherwise on one piece, or at one site, than on another at that round; `None` where it is not compared
    /// within pieces that carry the same more than once.
    pub by_piece: Option<ByPiece>,
    /// Differences to bare of the levels at that round, where changes are compared and both can be told.
    pub by_level: Option<ControlTable>,
    /// Differences between products, every pair, at the round that is shown in full.
    pub between: Option<Result<PairTable, NoTable>>,
    /// Pairs that are told apart at another round against that order; `None` where no other round was judged.
    pub turned: Option<Turned>,
    /// How often each product comes first, at the round that is shown in full; `None` where that round has no table of
    /// who may lead, `Err` where the spread carries no such statement.
    pub chances: Option<Result<ChanceTable, Strength>>,
    /// Differences to bare at the same baseline, at that round; `None` where the measure does not ask for it.
    pub adjusted: Option<Result<AdjustedTable, NotAdjusted>>,
    /// The test by exchange at that round; `None` where the round has no comparison.
    pub exchange: Option<Result<ExchangeLine, NoExchange>>,
    /// One for each product of the study, in its order.
    pub costs: Vec<ProductCost>,
    /// The measure whose time to spent the cost of a month rests on: that of the question, else the first with such a limit.
    pub months_by: Option<MeasureId>,
    /// The comparison of the headline once more with all left-out readings put back; `None` where none is left out.
    pub with_left_out: Option<Restored>,
    /// The same without what lies far off among the products; `None` where nothing does.
    pub without_far_off: Option<WithoutFarOff>,
    /// Readings that stand apart from the others of their cell; a marked reading counts like any other.
    pub outliers: Outliers,
    /// How many p values the adjustment after Holm covered.
    pub further_looks: usize,
    /// What the climate files tell of the time between rounds.
    pub climate: Vec<SiteClimate>,
    /// The panel itself.
    pub panel: PanelAnalysis,
}

impl Analysis {
    /// The analysis of a measure.
    pub fn measure(&self, measure: MeasureId) -> Option<&MeasureAnalysis> {
        self.measures.get(measure.index())
    }

    /// The analysis of the measure and the round that the headline rests on.
    pub fn deciding(&self) -> Option<(&MeasureAnalysis, &RoundAnalysis)> {
        let question = self.question?;
        let measure = self.measure(question.measure)?;
        Some((measure, measure.round(question.round)?))
    }

    /// The measure and the round whose comparisons are shown in full: those of [`Question::shown`].
    pub fn shown(&self) -> Option<(&MeasureAnalysis, &RoundAnalysis)> {
        self.question?.shown(&self.measures)
    }
}

/// The measure and the round that the headline rests on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Question {
    /// The measure.
    pub measure: MeasureId,
    /// The round.
    pub round: RoundId,
    /// True where `decide by` names them; else they are the first measure and its last round that was read.
    pub declared: bool,
}

impl Question {
    /// Its measure, and its round where that was read, else the last round of the measure with a comparison.
    pub fn shown(self, measures: &[MeasureAnalysis]) -> Option<(&MeasureAnalysis, &RoundAnalysis)> {
        let measure = measures.get(self.measure.index())?;
        let asked = measure.round(self.round)?;
        if asked.state == RoundState::Read {
            return Some((measure, asked));
        }
        let compared = |round: &&RoundAnalysis| round.to_bare.is_ok() || round.lead.is_ok();
        let latest =
            measure.rounds.iter().rev().filter(|round| round.state == RoundState::Read).find(compared);
        latest.map(|round| (measure, round))
    }
}

/// Whether a round has readings of a measure.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RoundState {
    /// At least one section was read.
    Read,
    /// Nothing was read, and the round is still to come.
    ToCome,
    /// Nothing was read, and a later round has readings or the window has passed.
    Missed,
}

/// A round's part in the judgement.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Role {
    /// Before the reference or the coat, or the reference itself: nothing to compare.
    UpToReference,
    /// Named by `decide by`; its p values stand alone at 5 %.
    Deciding,
    /// A further look; its p values are adjusted after Holm together with all other further looks.
    FurtherLook,
}

/// The number of a section that comparisons are made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Compared {
    /// Its change from the reference.
    Change,
    /// Its level: no round reads the measure from which a change could count.
    Level,
}

/// Everything about one measure.
#[derive(Debug, Clone, PartialEq)]
pub struct MeasureAnalysis {
    /// The measure.
    pub measure: MeasureId,
    /// The round from which its change counts; `None` where the study has no such round or it does not read the measure.
    pub reference: Option<RoundId>,
    /// What its comparisons are made of.
    pub compared: Compared,
    /// Every section in map order.
    pub sections: Vec<SectionSeries>,
    /// Every treatment that has sections: products in order of the study, then bare, carrier-only, untouched.
    pub groups: Vec<GroupSeries>,
    /// Every round that plans or has readings of the measure, by date; section and group series stand in this order.
    pub rounds: Vec<RoundAnalysis>,
    /// Time to spent of every section, in map order; `None` where the measure says nothing about spent.
    pub spent: Option<Vec<SectionSpent>>,
    /// How its levels ran from round to round, or why that is not said.
    pub over_time: Result<OverTime, NoTrend>,
    /// When half of the sections of a treatment were spent, for treatments with six sections or more.
    pub spent_together: Vec<GroupSpent>,
    /// The same at each site, in the order of the sites, for treatments with six sections or more there.
    pub spent_by_site: Vec<Vec<GroupSpent>>,
    /// Medians and tests on ranks where the measure is a rating with a round after its reference.
    pub rating: Option<RatingTable>,
    /// Spread of single readings within cells, pooled over all cells of the measure.
    pub within_cells: Option<Spread>,
    /// How finely its numbers are told; `None` where a limit of the study or the gauge says it.
    pub fineness: Option<Fineness>,
}

/// How finely the numbers of a measure are told by what was read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Fineness {
    /// Decimals in which most readings were written; of what is made of them, two figures of the least standard error.
    pub decimals: u8,
    /// The fewest that tell the levels of its treatments apart.
    pub apart: u8,
}

impl MeasureAnalysis {
    /// The analysis of one of its rounds.
    pub fn round(&self, round: RoundId) -> Option<&RoundAnalysis> {
        self.rounds.iter().find(|at| at.round == round)
    }

    /// The series of a treatment.
    pub fn group(&self, treatment: Treatment) -> Option<&GroupSeries> {
        self.groups.iter().find(|group| group.treatment == treatment)
    }
}

/// One measure at one round.
#[derive(Debug, Clone, PartialEq)]
pub struct RoundAnalysis {
    /// The round.
    pub round: RoundId,
    /// Whether it was read.
    pub state: RoundState,
    /// Its part in the judgement.
    pub role: Role,
    /// Half of the sections or more at one end of the scale; `None` where the measure has no ends or fewer sit there.
    pub at_end: Option<AtEnd>,
    /// Spread of the levels between sections with the same treatment.
    pub level_spread: Option<Spread>,
    /// The same for their retentions, in percentage points.
    pub retention_spread: Option<Spread>,
    /// Whether means of one treatment by itself, and their intervals, are of the average over the sites alike: of levels, of retentions.
    pub alone_over_sites: (bool, bool),
    /// Bare sections here, as a band: mean with its interval, lowest and highest; `None` where no bare section was read.
    pub bare_level: Option<GroupValue>,
    /// The same for the change of the bare sections.
    pub bare_change: Option<GroupValue>,
    /// Differences to bare of the change, or of the level where that is compared.
    pub to_bare: Result<ControlTable, NoTable>,
    /// Which products may lead.
    pub lead: Result<LeadTable, NoTable>,
    /// Every pair of products, at a further look at levels: nothing else in the report tells how these stand to each
    /// other. `None` at all other rounds.
    pub pairs: Option<PairTable>,
}

impl RoundAnalysis {
    /// The least standard error of a mean that is compared at this round, which says how many decimals its numbers carry.
    pub fn standard_error(&self) -> Option<f64> {
        let to_bare = self.to_bare.as_ref().ok().and_then(ControlTable::standard_error);
        let lead = self.lead.as_ref().ok().and_then(LeadTable::standard_error);
        to_bare.into_iter().chain(lead).reduce(f64::min)
    }
}
