//! One measure over the rounds: rates, levels held, trends, and a floor where the readings carry one.

use super::section::{GroupValue, Interval, Piece};
use crate::stats::Spread;
use crate::stats::fit::decay::NoDecay;
use crate::study::{RoundId, SectionId, Treatment};

/// What a run over time is counted in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Pace {
    /// Months of 365.2425 / 12 days.
    Month,
    /// Cycles of marking and cleaning; what was read before the first of them stands at 0.
    Cycle,
}

/// How the levels of a measure ran from its first round on the coat to its last one read.
#[derive(Debug, Clone, PartialEq)]
pub struct OverTime {
    /// What its times are counted in.
    pub pace: Pace,
    /// The treatment that stands where it does by definition, as the blank against itself: it is in none of these numbers.
    pub fixed: Option<Treatment>,
    /// The round at which all stand where they do by definition, as a change of colour at the round that it is counted from; not among
    /// the rounds.
    pub fixed_at: Option<RoundId>,
    /// The rounds that were read, by date.
    pub rounds: Vec<RoundId>,
    /// Those of them that every section with the last one has.
    pub common: Vec<RoundId>,
    /// Every section in map order.
    pub sections: Vec<SectionOverTime>,
    /// Spread of the rates between sections with the same treatment, in the measure's unit for each step of its pace.
    pub rate_spread: Option<Spread>,
    /// The same for the mean levels held, in the measure's unit.
    pub held_spread: Option<Spread>,
    /// Whether rates and levels held are averages over the sites alike, and their intervals rest on the scatter within sites.
    pub over_sites: (bool, bool),
    /// One for each treatment that has sections, in the order of the groups.
    pub groups: Vec<GroupOverTime>,
    /// Slopes of single sections agree with their robust partners where this is small: the largest distance between the
    /// two, in the unit of the rates. `None` where no section has a rate.
    pub farthest_apart: Option<f64>,
    /// How far a mixed model of all levels lies from the rates of those groups that have the same sections in both; `None` where there is
    /// no such group, or no model since no section has scatter, none is treated like another, or what they have is not linked.
    pub agrees: Option<Agreement>,
}

/// How far two ways to the same rates lie apart at most, over all groups, in the unit of the rates.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Agreement {
    /// Between the rates.
    pub rates: f64,
    /// Between the ends of their intervals; `None` where none has both.
    pub ends: Option<f64>,
    /// Whether every group with a rate is among these.
    pub all: bool,
}

/// A rate by the mixed model, of all sections with two rounds or more.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ModelRate {
    /// Sections behind it that have two rounds, or pieces where these are the unit.
    pub n: usize,
    /// Readings on them, over all rounds.
    pub readings: u32,
    /// In the measure's unit for each step of the pace.
    pub mean: f64,
    /// 95 % t interval, on degrees of freedom after Satterthwaite.
    pub interval: Option<Interval>,
    /// The last round that a section of it has.
    pub last: RoundId,
}

/// Why nothing is said about a measure over time.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoTrend {
    /// Fewer than 3 rounds were read on the coat.
    FewRounds,
    /// A round has no day, so that no time can be counted.
    Undated,
    /// The measure is a rating, whose marks have an order and no equal steps.
    Rating,
    /// The measure is read only as a part of another one.
    Part,
}

/// One section over time; no number where the section lacks the last round, since a shorter time is another question.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SectionOverTime {
    /// The section.
    pub section: SectionId,
    /// What it carries.
    pub treatment: Treatment,
    /// Its piece; `None` where pieces do not matter to the comparison.
    pub piece: Option<Piece>,
    /// Rounds on the coat at which it has a level.
    pub rounds: usize,
    /// Readings behind these levels.
    pub readings: u32,
    /// Least-squares slope of its levels, in the measure's unit a month; needs 3 rounds.
    pub rate: Option<f64>,
    /// Median of all slopes between two rounds (Theil and Sen).
    pub robust: Option<f64>,
    /// Area under its levels over the common rounds divided by their time: the mean level held.
    pub held: Option<f64>,
}

/// One treatment over time, its sections being the unit.
#[derive(Debug, Clone, PartialEq)]
pub struct GroupOverTime {
    /// The treatment.
    pub treatment: Treatment,
    /// Readings behind its numbers, over all rounds and sections that have one.
    pub readings: u32,
    /// Mean of the rates of its sections, in the measure's unit a month.
    pub rate: Option<GroupValue>,
    /// The same by a mixed model of the levels of all sections, those that lack rounds among them; `None` too where a section of it is
    /// below the gauge at the last round.
    pub by_model: Option<ModelRate>,
    /// Mean of their robust rates.
    pub robust: Option<GroupValue>,
    /// Mean of their levels held.
    pub held: Option<GroupValue>,
    /// Sections that lack the last round.
    pub lacking: Vec<SectionId>,
    /// Whether its mean rate is told apart from none; `None` where that rate has no interval, or one on fewer than 3 degrees of freedom.
    pub trend: Option<Trend>,
    /// Kendall's tau-b of its mean over the common rounds, -1 to 1 (Mann and Kendall). It describes one mean: rounds are no sections.
    pub tau: Option<f64>,
    /// An exponential run to a floor through its means at the common rounds. Unsettled too where half of the way need
    /// not have been gone by the last round, by the interval of the rate, where it is of one section, or where some were stopped.
    pub decay: Result<DecayOver, NoDecay>,
}

/// The test of a rise or fall: Student's t of the mean rate, on the spread that its interval rests on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Trend {
    /// Two-sided p value; below 0.05 where the 95 % interval of the rate holds no zero.
    pub p: f64,
    /// The p value adjusted after Holm for all treatments of the measure.
    pub p_holm: f64,
}

/// What an exponential run to a floor says.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DecayOver {
    /// Months in which half of the distance to the floor is lost.
    pub half_life: f64,
    /// Its 95 % interval, from that of the rate between sections; `None` for one section, and where it has no upper end.
    pub half_life_interval: Option<Interval>,
    /// The level that is neared, in the measure's unit. It lies beyond the last round.
    pub floor: f64,
    /// Its 95 % interval, between sections of the treatment; `None` for one section.
    pub floor_interval: Option<Interval>,
}
