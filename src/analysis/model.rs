//! The nouns of an analysis: every number that a report may print, with its count, or the reason why there is none.
//!
//! Numbers are in the unit of their measure unless said otherwise, neither rounded nor formatted, and always finite.

use crate::study::{MeasureId, ProductId, RoundId, SectionId, Treatment};
use crate::units::UnitRef;
use jiff::civil::Date;

/// All numbers of a study.
#[derive(Debug, Clone, PartialEq)]
pub struct Analysis {
    /// The day that "missed" and "to come" are judged by.
    pub as_of: Date,
    /// The day from which time to spent counts, where no coat is recorded for a section.
    pub applied: Option<Date>,
    /// What the headline rests on; `None` where the study has no measure that a round after its reference reads.
    pub question: Option<Question>,
    /// The headline.
    pub answer: Answer,
    /// One for each measure of the study, in its order: index with [`MeasureId::index`].
    pub measures: Vec<MeasureAnalysis>,
    /// One for each product of the study, in its order.
    pub costs: Vec<ProductCost>,
    /// The comparison of the headline once more with all left-out readings put back; `None` where none is left out.
    pub with_left_out: Option<Restored>,
    /// How many p values the adjustment after Holm covered.
    pub further_looks: usize,
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
    /// Every reading of the section at this round is left out.
    AllLeftOut,
    /// The section ended before this round.
    Ended,
    /// The section has no mean at the reference round.
    NoReference,
    /// The mean at the reference is 0 or below, so that a share of it means nothing.
    NoShare,
}

/// A number, or why there is none.
pub type Known<T> = Result<T, Missing>;

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
    /// Before the reference, or the reference itself: nothing to compare.
    UpToReference,
    /// Named by `decide by`; its p values stand alone at 5 %.
    Deciding,
    /// A further look; its p values are adjusted after Holm together with all other further looks.
    FurtherLook,
}

/// Everything about one measure.
#[derive(Debug, Clone, PartialEq)]
pub struct MeasureAnalysis {
    /// The measure.
    pub measure: MeasureId,
    /// The round from which its change counts; `None` where the study has no such round or it does not read the measure.
    pub reference: Option<RoundId>,
    /// Every section in map order.
    pub sections: Vec<SectionSeries>,
    /// Every treatment that has sections: products in order of the study, then bare, carrier-only, untouched.
    pub groups: Vec<GroupSeries>,
    /// Every round that plans or has readings of the measure, by date; section and group series stand in this order.
    pub rounds: Vec<RoundAnalysis>,
    /// Time to spent of every section, in map order; `None` where the measure says nothing about spent.
    pub spent: Option<Vec<SectionSpent>>,
    /// Spread of single readings within cells, pooled over all cells of the measure.
    pub within_cells: Option<SpreadOf>,
}

/// A standard deviation and its degrees of freedom.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SpreadOf {
    /// Standard deviation.
    pub sd: f64,
    /// Degrees of freedom.
    pub df: f64,
}

/// One section over the rounds.
#[derive(Debug, Clone, PartialEq)]
pub struct SectionSeries {
    /// The section.
    pub section: SectionId,
    /// What it carries.
    pub treatment: Treatment,
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
    /// Readings that count.
    pub n: usize,
    /// Planned readings that do not count: not taken, below the gauge or left out; 0 where the round is to come.
    pub missing: usize,
    /// Readings that the study leaves out.
    pub left_out: usize,
    /// Readings with an outlier mark.
    pub marked: usize,
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
    pub n: usize,
    /// Mean.
    pub mean: f64,
    /// Standard deviation of the readings; `None` for one reading.
    pub sd: Option<f64>,
    /// Standard uncertainty of the mean and what it rests on.
    pub uncertainty: Option<Uncertainty>,
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
    /// Mean of the section numbers.
    pub mean: f64,
    /// Standard deviation between the sections; `None` for one section.
    pub sd: Option<f64>,
    /// Lowest section.
    pub min: f64,
    /// Highest section.
    pub max: f64,
    /// 95 % t interval of the mean, with the spread pooled over all treatments at this round; `None` where there is no spread.
    pub interval: Option<Interval>,
}

/// An interval, lower end first.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Interval {
    /// Lower end.
    pub low: f64,
    /// Upper end.
    pub high: f64,
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
    /// Spread of the levels between sections with the same treatment.
    pub level_spread: Option<SpreadOf>,
    /// Bare sections here, as a band: mean with its interval, lowest and highest; `None` where no bare section was read.
    pub bare_level: Option<GroupValue>,
    /// The same for the change of the bare sections.
    pub bare_change: Option<GroupValue>,
    /// Differences to bare of the change.
    pub to_bare: Result<BareTable, NoTable>,
    /// Which products may lead.
    pub lead: Result<LeadTable, NoTable>,
}

/// Why there is no table at a round.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoTable {
    /// The round is the reference or lies before it.
    UpToReference,
    /// The round is to come.
    ToCome,
    /// The round was missed.
    RoundMissed,
    /// No section has a change here.
    NoChange,
    /// The study has no bare section.
    NoBare,
    /// Bare sections exist, none has a change here.
    BareNotRead,
    /// No product has a change here.
    NoProducts,
    /// One product only has a change here, so that none leads.
    OneProduct,
    /// The measure has no better direction.
    NoDirection,
}

/// The spread that intervals rest on, and what may be said with it.
#[derive(Debug, Clone, PartialEq)]
pub struct Basis {
    /// Spread between sections treated alike; `None` where no treatment has two sections with the number.
    pub spread: Option<SpreadOf>,
    /// The treatments with two or more sections that the spread comes from.
    pub from: Vec<Treatment>,
    /// True where no product has two sections: coated sections are taken to scatter as the others do, which cannot be checked here.
    pub taken_from_uncoated: bool,
    /// What may be said.
    pub strength: Strength,
}

/// What may be said with a spread.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Strength {
    /// Intervals, p values and words.
    Full,
    /// Intervals, no words: fewer than 3 degrees of freedom.
    FewDegrees,
    /// No intervals: sections treated alike do not differ at all, so that chance cannot be judged.
    NoScatter,
    /// Differences only: it compares sections, not products.
    SectionsOnly,
}

/// Differences to bare at one round.
#[derive(Debug, Clone, PartialEq)]
pub struct BareTable {
    /// The spread.
    pub basis: Basis,
    /// Two-sided critical value after Dunnett at 5 %, for this table's numbers of sections; `None` without an interval.
    pub critical: Option<f64>,
    /// Change of the bare sections.
    pub bare: GroupValue,
    /// One row for each other treatment that has a change here, in the order of the groups.
    pub rows: Vec<BareRow>,
    /// Treatments that have sections, none with a change here.
    pub absent: Vec<Treatment>,
}

/// One treatment against bare.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BareRow {
    /// The treatment.
    pub treatment: Treatment,
    /// Sections behind it.
    pub n: usize,
    /// Its mean change.
    pub change: f64,
    /// Its mean change minus that of bare.
    pub difference: f64,
    /// Simultaneous 95 % interval of the difference (Dunnett).
    pub interval: Option<Interval>,
    /// Two-sided p value, adjusted for all rows of this table (Dunnett).
    pub p: Option<f64>,
    /// The p value adjusted once more for all further looks (Holm); `None` at the deciding round, which stands alone.
    pub p_holm: Option<f64>,
    /// The word, or why there is none.
    pub word: Result<Word, Strength>,
    /// Which way the difference points.
    pub side: Side,
}

/// The words of comparison.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Word {
    /// The whole interval lies within the alike limit.
    Alike,
    /// The interval excludes 0.
    Measurable,
    /// The whole interval lies beyond the seen limit on one side.
    Seen,
    /// None of these.
    NotSettled,
}

/// Which way a difference points.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// In the measure's better direction.
    Better,
    /// Against it.
    Worse,
    /// No difference, or the measure has no better direction.
    Neither,
}

/// Which products may lead at one round (Hsu's comparisons with the best).
#[derive(Debug, Clone, PartialEq)]
pub struct LeadTable {
    /// The spread, the same as in the table against bare.
    pub basis: Basis,
    /// One row for each product that has a change here, in the order of the study.
    pub rows: Vec<LeadRow>,
    /// Products that may lead, in the order of the study; `Err` where the spread carries no such statement.
    pub may_lead: Result<Vec<ProductId>, Strength>,
    /// Whether every product lies within the alike limit of the leader; `None` where that cannot be said.
    pub all_alike: Option<bool>,
    /// Products that have sections, none with a change here.
    pub absent: Vec<ProductId>,
}

/// One product against the others.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LeadRow {
    /// The product.
    pub product: ProductId,
    /// Sections behind it.
    pub n: usize,
    /// Its mean change.
    pub change: f64,
    /// Its lead over the best mean among the others, positive where it is ahead in the better direction.
    pub lead: f64,
    /// Constrained simultaneous 95 % interval of that lead.
    pub interval: Option<Interval>,
}

/// Time to spent of one section.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SectionSpent {
    /// The section.
    pub section: SectionId,
    /// What it carries.
    pub treatment: Treatment,
    /// The limit for this section, in the measure's unit.
    pub limit: Known<f64>,
    /// When.
    pub when: Known<Spent>,
    /// Where it had failed before and passed again by more than the alike limit.
    pub came_back: Option<CameBack>,
}

/// When a section was spent.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Spent {
    /// After the last round passed, up to the first round failed.
    Between(Moment, Moment),
    /// It failed at the reference or at the first round read after it.
    Before(Moment),
    /// It passed at the last round read.
    AtLeast(Moment),
}

/// A round that failed, and the later one that passed again.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CameBack {
    /// The first round failed.
    pub fell: Moment,
    /// The first round that passed again by more than the alike limit.
    pub back: Moment,
}

/// A round as a moment in the life of a section.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Moment {
    /// The round.
    pub round: RoundId,
    /// The day on which the section was read, else the planned day.
    pub date: Option<Date>,
    /// Days since the section's last coat.
    pub days: Option<i64>,
}

/// What a product costs.
#[derive(Debug, Clone, PartialEq)]
pub struct ProductCost {
    /// The product.
    pub product: ProductId,
    /// Each of its sections, in map order; `Err` where the price, the amount or the area is not known.
    pub sections: Result<Vec<SectionCost>, NoCost>,
}

/// What the product on one section costs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SectionCost {
    /// The section.
    pub section: SectionId,
    /// Money for all coats on this section.
    pub money: f64,
    /// Its unit.
    pub unit: UnitRef,
    /// Money for each square metre.
    pub per_m2: f64,
    /// Money for each square metre and month held, by the measure of the question; `None` where that time is not known.
    pub per_m2_month: Option<MonthlyCost>,
}

/// Money for each square metre and month held.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum MonthlyCost {
    /// Between two figures, the lower first.
    Between(f64, f64),
    /// At most this, since the section held at least so long.
    AtMost(f64),
    /// At least this, since the section was spent before the first round.
    AtLeast(f64),
}

/// Why a cost is not known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoCost {
    /// No price.
    NoPrice,
    /// No amount on an area.
    NoAmount,
    /// The price is for a volume and the amount is a mass, or the other way round.
    DifferentKinds,
    /// A section has no shape.
    NoArea,
}

/// The tables of the headline with all left-out readings put back.
#[derive(Debug, Clone, PartialEq)]
pub struct Restored {
    /// Readings that the study leaves out, over all measures and rounds.
    pub left_out: usize,
    /// Differences to bare.
    pub to_bare: Result<BareTable, NoTable>,
    /// Which products may lead.
    pub lead: Result<LeadTable, NoTable>,
}

/// The headline, from which the report makes its sentences.
#[derive(Debug, Clone, PartialEq)]
pub enum Answer {
    /// The study has no product on any section.
    NoProducts,
    /// No measure is read at a round after its reference.
    NoQuestion,
    /// The deciding round is still to come.
    Unfinished {
        /// The last round with readings of the measure after its reference, whose tables show how things stand.
        latest: Option<RoundId>,
    },
    /// The deciding round was missed.
    Missed {
        /// The last round with readings of the measure after its reference.
        latest: Option<RoundId>,
    },
    /// The round was read, but no change can be made from it.
    NoChange,
    /// The round was read.
    Read {
        /// How the products stand among each other.
        standing: Standing,
        /// How they stand against bare.
        against_bare: AgainstBare,
    },
}

/// How the products stand among each other.
#[derive(Debug, Clone, PartialEq)]
pub enum Standing {
    /// One product may lead.
    OneLeader(ProductId),
    /// Some may lead, others are not ahead of the best of the others.
    SeveralMayLead(Vec<ProductId>),
    /// Every product lies within the alike limit of every other: an equivalence statement.
    AllAlike,
    /// Every product may lead: this study does not tell them apart.
    NoneSeparable,
    /// One product only has a change at this round.
    OneProduct(ProductId),
    /// No product has a change at this round.
    NoProductRead,
    /// The measure has no better direction.
    NoDirection,
    /// The spread carries no such statement; the reason.
    NotJudged(Strength),
}

/// How the products stand against bare.
#[derive(Debug, Clone, PartialEq)]
pub enum AgainstBare {
    /// The study has no bare section, so that nothing is said about what a product adds.
    NoBare,
    /// Bare sections exist, none has a change at this round.
    BareNotRead,
    /// No product has a change at this round.
    NoProductRead,
    /// The spread carries no word; the reason.
    NotJudged(Strength),
    /// Every product is alike to bare.
    AllAlike,
    /// No product is told apart from bare.
    NoneToldApart,
    /// Some or all products are told apart from bare; the rest are alike or not settled.
    Told {
        /// Measurably or visibly different on the better side.
        better: Vec<ProductId>,
        /// Measurably or visibly different on the worse side.
        worse: Vec<ProductId>,
        /// Measurably or visibly different, where the measure has no better direction.
        different: Vec<ProductId>,
    },
}
