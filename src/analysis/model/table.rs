//! Comparisons at one round: differences to bare, and which products may lead.

use super::section::{GroupValue, Interval};
use crate::stats::Spread;
use crate::stats::false_words::FalseWords;
use crate::stats::random::Draws;
use crate::study::{ProductId, RoundId, Treatment};

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
    /// The benchmark lies on no section.
    BenchmarkNotPlaced,
    /// The benchmark has sections, none with a change here.
    BenchmarkNotRead,
    /// No product has a change here, or none besides the benchmark.
    NoProducts,
    /// One product only has a change here, so that none leads.
    OneProduct,
    /// The measure has no better direction.
    NoDirection,
    /// The measure is read only as a part of another one.
    Part,
    /// The measure is a rating, whose marks are ranked and not averaged.
    Rating,
}

/// The spread that intervals rest on, and what may be said with it.
#[derive(Debug, Clone, PartialEq)]
pub struct Basis {
    /// Spread between sections treated alike; `None` where no treatment has two sections with the number.
    pub spread: Option<Spread>,
    /// 95 % interval of its standard deviation; `None` where there is no scatter.
    pub spread_interval: Option<Interval>,
    /// The treatments with two or more sections that the spread comes from.
    pub from: Vec<Treatment>,
    /// Treatments of which sections were stopped before the round: nothing of them is in the spread.
    pub stopped: Vec<Treatment>,
    /// How their sections scatter, each with its last value; `None` where none of them has two.
    pub stopped_spread: Option<Spread>,
    /// True where no product has two sections: coated sections are taken to scatter as the others do, which cannot be checked here.
    pub taken_from_uncoated: bool,
    /// What may be said.
    pub strength: Strength,
    /// True where the study says that spreads differ and every compared group has sections enough for its own.
    pub own_spreads: bool,
    /// Treatments whose several sections all have the same number, where each is to keep a spread of its own: they have none.
    pub flat: Vec<Treatment>,
    /// Whether the spread is that within pieces.
    pub within: WithinPieces,
    /// Whether it is that of sections that carry the same at the same site, so that differences are averages over these sites.
    pub over_sites: bool,
    /// Whose scatter it is.
    pub scatter_of: ScatterOf,
    /// A treatment whose sections scatter far more, or far less, than those of all others, which the spread that all share hides.
    pub odd: Option<OddSpread>,
}

/// One treatment that scatters otherwise than all others.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OddSpread {
    /// The treatment.
    pub treatment: Treatment,
    /// Its own standard deviation.
    pub own: Spread,
    /// The pooled one of all others.
    pub others: Spread,
}

/// Whose scatter a spread is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ScatterOf {
    /// Of all that is compared.
    All,
    /// Of products among themselves: what bare and the like do otherwise on one piece than on another is not in it.
    Products,
}

/// Whether treatments are compared within the pieces that their sections were cut from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WithinPieces {
    /// They are not.
    No,
    /// Every piece carries every treatment equally often.
    Even,
    /// Pieces carry the treatments unevenly, so that means and their differences are those of least squares, over all pieces alike,
    /// and every pair has an error of its own.
    Linked,
}

impl Basis {
    /// Whether the spread is that within pieces.
    pub fn within_pieces(&self) -> bool {
        self.within != WithinPieces::No
    }

    /// Whether these pieces carry the treatments unevenly.
    pub fn linked(&self) -> bool {
        self.within == WithinPieces::Linked
    }

    /// Whether Hsu's intervals and Dunnett's, which ask for one spread and independent means, give way to those of all pairs.
    pub fn by_pairs(&self) -> bool {
        self.own_spreads || self.linked()
    }
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
    /// Differences only: no treatment has two sections of which none was stopped before the round.
    FewLeft,
    /// Differences only: every compared section sits at the same end of the scale, where the measure cannot discriminate.
    AtEnd,
    /// No intervals: the blank that levels are shares of is not told apart from 0, so that no ratio to it is bounded.
    BlankUnsure,
    /// Of one row: all sections of a side have the same number, so that it has no spread of its own and the row no interval.
    Flat,
    /// Of one row: a side of the difference is a bound and no value, so that the interval carries no such word.
    Bound,
}

/// Which way a difference is known to lie farther, since sections on a side of it were stopped before the round and could only have gone on
/// as bad or worse.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Farther {
    /// None was stopped: it is the difference of the round.
    No,
    /// It is at least so much.
    Up,
    /// It is at most so much.
    Down,
    /// It lies anywhere.
    Either,
}

impl Farther {
    /// The same with the sides of the difference exchanged.
    #[must_use]
    pub fn turned(self) -> Self {
        match self {
            Self::Up => Self::Down,
            Self::Down => Self::Up,
            other => other,
        }
    }
}

/// An end of a scale.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum End {
    /// The lowest value that can be.
    Lowest,
    /// The highest.
    Highest,
}

/// Sections that are not told apart from an end of the scale.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct AtEnd {
    /// Which.
    pub end: End,
    /// Sections there.
    pub n: usize,
    /// Sections with a change at this round.
    pub of: usize,
}

/// Differences to one control at one round: to bare, or to the benchmark.
#[derive(Debug, Clone, PartialEq)]
pub struct ControlTable {
    /// The spread.
    pub basis: Basis,
    /// Whether the differences are of levels that are shares of the control, by the ratios to it.
    pub of_ratios: bool,
    /// Two-sided critical value after Dunnett at 5 %, or that of ratios, for this table's numbers of sections; `None` without an interval.
    pub critical: Option<f64>,
    /// Change of the control, or its level where levels are compared.
    pub control: GroupValue,
    /// One row for each other treatment that has a change here, in the order of the groups; against the benchmark,
    /// products only.
    pub rows: Vec<ControlRow>,
    /// Treatments that have sections, none with a change here.
    pub absent: Vec<Treatment>,
    /// The last round at which all sections of the control were read, where some were stopped before this one; `None` where none was.
    pub control_until: Option<RoundId>,
    /// The last round at which any section of the control was read, where some were stopped and none was read at this one.
    pub control_last: Option<RoundId>,
}

impl ControlTable {
    /// The least standard error of a mean in it; `None` where there is no scatter, or each treatment keeps its own.
    pub fn standard_error(&self) -> Option<f64> {
        let most = self.rows.iter().map(|row| row.n).max().into_iter().chain([self.control.n]).max()?;
        self.basis.standard_error(most)
    }
}

impl LeadTable {
    /// The same among products.
    pub fn standard_error(&self) -> Option<f64> {
        self.basis.standard_error(self.rows.iter().map(|row| row.n).max()?)
    }
}

impl Basis {
    fn standard_error(&self, n: usize) -> Option<f64> {
        let spread = self.spread.filter(|spread| !self.own_spreads && n > 0 && spread.sd > 0.0)?;
        Some(spread.sd / (n as f64).sqrt())
    }
}

/// The products against sections that carry none and are not bare.
#[derive(Debug, Clone, PartialEq)]
pub struct Productless {
    /// What these sections are: the carrier alone, or untouched.
    pub treatment: Treatment,
    /// Differences of the products to them.
    pub table: ControlTable,
}

/// One treatment against the control.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ControlRow {
    /// The treatment.
    pub treatment: Treatment,
    /// Sections behind it.
    pub n: usize,
    /// Readings on these sections at this round.
    pub readings: u32,
    /// Its mean change, or its mean level where levels are compared.
    pub change: f64,
    /// That mean minus that of the control.
    pub difference: f64,
    /// Simultaneous 95 % interval of the difference (Dunnett, or of the ratio), without the end on which sections that were stopped would have moved it.
    pub interval: Option<Interval>,
    /// Two-sided p value, adjusted for all rows of this table (Dunnett); `None` where there is no word. Where sections were stopped before the
    /// round every row has one, so that their number does not hang on how they came out: 1 where nothing can be shown.
    pub p: Option<f64>,
    /// The p value adjusted once more for all further looks (Holm); `None` at the deciding round, which stands
    /// alone, and in tables with left-out readings put back.
    pub p_holm: Option<f64>,
    /// The word of the interval, or why there is none.
    pub word: Result<Word, Strength>,
    /// The word that still holds when all further looks are counted; only in a table that is shown in full and does
    /// not decide.
    pub over_all: Option<Word>,
    /// Which way the difference points.
    pub side: Side,
    /// Which way it is known to lie farther.
    pub farther: Farther,
}

impl ControlRow {
    /// The word that counts: that of the interval where the round stands alone, else the one that holds over all looks.
    ///
    /// # Errors
    /// The reason where the spread carries no word.
    pub fn counted(&self) -> Result<Word, Strength> {
        self.word.map(|word| self.over_all.unwrap_or(word))
    }
}

/// Differences between products at one round, every pair.
#[derive(Debug, Clone, PartialEq)]
pub struct PairTable {
    /// The spread, the same as in the table against bare.
    pub basis: Basis,
    /// Products that have a change here.
    pub products: usize,
    /// One row for each pair, the first product in the order of the study.
    pub rows: Vec<PairRow>,
}

/// One product against another.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PairRow {
    /// The first product.
    pub one: ProductId,
    /// The second.
    pub other: ProductId,
    /// Mean change of the first minus that of the second, or of their levels where these are compared.
    pub difference: f64,
    /// Simultaneous 95 % interval of the difference (Tukey-Kramer, or Games-Howell).
    pub interval: Option<Interval>,
    /// Two-sided p value, adjusted for all pairs; `None` where there is no word. Where sections were stopped before the round every row has
    /// one, 1 where nothing can be shown.
    pub p: Option<f64>,
    /// The p value adjusted once more for all further looks (Holm); only in a table that is such a look.
    pub p_holm: Option<f64>,
    /// The word of the interval, or why there is none.
    pub word: Result<Word, Strength>,
    /// Which way the first stands to the second.
    pub side: Side,
    /// Which way the difference is known to lie farther.
    pub farther: Farther,
}

impl PairRow {
    /// The same pair seen from the other product.
    #[must_use]
    pub fn turned(self) -> Self {
        Self {
            one: self.other,
            other: self.one,
            difference: -self.difference,
            interval: self.interval.map(|interval| Interval { low: -interval.high, high: -interval.low }),
            side: match self.side {
                Side::Better => Side::Worse,
                Side::Worse => Side::Better,
                Side::Neither => Side::Neither,
            },
            farther: self.farther.turned(),
            ..self
        }
    }
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
    /// Products of which a section was stopped before the round: the mean is a bound, by which none leads and none falls short.
    pub bound: Vec<ProductId>,
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
    /// Readings on these sections at this round.
    pub readings: u32,
    /// Its mean change, or its mean level where levels are compared.
    pub change: f64,
    /// Its lead over the best mean among the others, positive where it is ahead in the better direction; over one that is a bound
    /// only where all others are.
    pub lead: f64,
    /// Constrained simultaneous 95 % interval of that lead; none for a product whose mean is a bound.
    pub interval: Option<Interval>,
}

/// How often each product comes first when its mean is drawn anew.
#[derive(Debug, Clone, PartialEq)]
pub struct ChanceTable {
    /// From what the means are drawn.
    pub from: DrawnFrom,
    /// Number of draws, and the seed.
    pub draws: Draws,
    /// How often studies with these numbers of sections are wrong though nothing differs, from as many draws; `None` where products
    /// keep spreads of their own, or uneven pieces link them.
    pub though_alike: Option<FalseWords>,
    /// One row for each row of the table of who may lead whose mean is no bound, in its order.
    pub rows: Vec<ChanceRow>,
}

/// From what the means of products are drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DrawnFrom {
    /// The sections of each product, with replacement: every product has 6 or more.
    Sections,
    /// The spread that all sections treated alike share, with the uncertainty that its degrees of freedom leave.
    SharedSpread,
    /// The spread within pieces, with the same uncertainty.
    WithinPieces,
    /// The same, of means that uneven pieces link: drawn together, with their covariance.
    LinkedPieces,
    /// The spread of each product by itself, where the study says that spreads differ.
    OwnSpreads,
}

/// The chances of one product.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ChanceRow {
    /// The product.
    pub product: ProductId,
    /// Sections behind it.
    pub n: usize,
    /// Readings on these sections at this round.
    pub readings: u32,
    /// Share of the draws in which it comes first, 0 to 1.
    pub first: f64,
    /// Share of the draws in which it is among the first three, 0 to 1.
    pub among_three: f64,
}
