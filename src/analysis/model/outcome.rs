//! What follows from the numbers: time to spent, cost and the headline.

use super::section::Known;
use super::table::{ControlTable, LeadTable, NoTable, Strength};
use crate::readings::Cell;
use crate::stats::Spread;
use crate::study::{ProductId, RoundId, SectionId, Treatment};
use crate::units::UnitRef;
use jiff::civil::Date;

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
    /// Whether it was within the limit when it was read last; after a failure as well.
    pub within: bool,
    /// Why it is no longer there, where it had not failed and a later round was read without it.
    pub gone: Option<Gone>,
    /// When, with what the gauge itself may be off by: two standard uncertainties of it either way. `None` where nothing of that is
    /// known, or it changes nothing.
    pub with_gauge: Option<WithGauge>,
}

/// When a section was spent, for all that the gauge may be off by.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum WithGauge {
    /// In this longer time.
    When(Spent),
    /// At any time, or never: by one end it was spent before the first round, by the other it held to the last.
    Open,
}

/// Why a section left the study before the last round that was read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Gone {
    /// An incident ended it on this day.
    Ended(Date),
    /// The rule of the cycle stopped the patch.
    Stopped,
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
    /// Money for each square metre and month held, by [`Analysis::months_by`]; `None` where that time is not known.
    pub per_m2_month: Option<MonthlyCost>,
    /// The same for all that the gauge may be off by; `None` where that changes nothing.
    pub month_with_gauge: Option<CostWithGauge>,
    /// Why nobody knows how long it would have held; then there is no cost a month.
    pub gone: Option<Gone>,
    /// How many bare sections are known to have held as long, up to the last round that this section passed, and of
    /// how many; `None` where one of the times is not known.
    pub bare_as_long: Option<(usize, usize)>,
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

/// Money for each square metre and month held, for all that the gauge may be off by.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum CostWithGauge {
    /// In these wider bounds.
    Bounds(MonthlyCost),
    /// Any amount, since the section may have been spent at any time, or never.
    Open,
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
    /// The product is mixed before it is used, and the amount does not say how much of it is product.
    Mixed,
    /// A section has no shape.
    NoArea,
}

/// How far readings of one section lie apart in some rounds.
#[derive(Debug, Clone, PartialEq)]
pub struct WithinRounds {
    /// The spread of single readings, without sections that have any far off; `None` where nothing was read twice.
    pub spread: Option<Spread>,
    /// The sections and rounds in which something lies far off.
    pub far: Vec<(SectionId, RoundId)>,
}

/// The comparison of the headline without what lies far off in it.
#[derive(Debug, Clone, PartialEq)]
pub struct WithoutFarOff {
    /// The cells, each with the one value that stands apart; `None` where all readings of it are taken out.
    pub far: Vec<(Cell, Option<f64>)>,
    /// Which products may lead without them.
    pub lead: Result<LeadTable, NoTable>,
}

/// The tables of the headline with all left-out readings put back.
#[derive(Debug, Clone, PartialEq)]
pub struct Restored {
    /// Readings that the study leaves out, over all measures and rounds.
    pub left_out: usize,
    /// Differences to bare.
    pub to_bare: Result<ControlTable, NoTable>,
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
    /// The round was read, and its measure is a rating: its table of ranks stands for the comparisons of means.
    Rated,
    /// The round was read.
    Read {
        /// How the products stand among each other.
        standing: Standing,
        /// How they stand against bare.
        against_bare: Against,
        /// How the other products stand against the benchmark; `None` where the study names none.
        against_benchmark: Option<Against>,
    },
}

impl Answer {
    /// Whether every product lies within the alike limit of every other.
    pub fn all_alike(&self) -> bool {
        matches!(self, Self::Read { standing: Standing::AllAlike, .. })
    }
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
    OneProduct,
    /// No product has a change at this round.
    NoProductRead,
    /// The measure has no better direction.
    NoDirection,
    /// The spread carries no such statement; the reason.
    NotJudged(Strength),
}

/// How the products stand against bare, or the others against the benchmark.
#[derive(Debug, Clone, PartialEq)]
pub enum Against {
    /// The control lies on no section.
    NoControl,
    /// The control has sections, none with a change at this round.
    ControlNotRead,
    /// No product has a change at this round.
    NoProductRead,
    /// The spread carries no word; the reason.
    NotJudged(Strength),
    /// Every product is alike to the control.
    AllAlike,
    /// No product is told apart from the control.
    NoneToldApart,
    /// Some or all products are told apart from the control; the rest are alike or not settled.
    Told {
        /// Measurably or visibly different on the better side.
        better: Vec<ProductId>,
        /// Measurably or visibly different on the worse side.
        worse: Vec<ProductId>,
        /// Measurably or visibly different, where the measure has no better direction.
        different: Vec<ProductId>,
    },
}

/// When half of the sections of a treatment were spent, by the estimate that takes each section's interval as it is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GroupSpent {
    /// The treatment.
    pub treatment: Treatment,
    /// Sections behind it.
    pub sections: usize,
    /// When, by the estimate of most likelihood (Turnbull).
    pub half: Half,
    /// What the days on which each section was read leave open; it holds the estimate.
    pub certain: Half,
    /// The same with what the gauge itself may be off by; `None` where nothing of that is known, or it changes nothing.
    pub with_gauge: Option<Half>,
}

/// A time in days after the last coat that lies between two rounds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Half {
    /// After the first and up to the second.
    Between(i64, i64),
    /// Up to this.
    Before(i64),
    /// Beyond this, the last look.
    AtLeast(i64),
}
