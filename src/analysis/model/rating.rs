//! Comparisons of ratings: medians of marks with tests on ranks, and how far the raters agree.

use super::{Role, Side};
use crate::stats::ranks::RankP;
use crate::study::{RoundId, Treatment};

/// The marks of one rating at its last round read.
#[derive(Debug, Clone, PartialEq)]
pub struct RatingTable {
    /// The round.
    pub round: RoundId,
    /// Its part in the judgement.
    pub role: Role,
    /// Sections with a mark.
    pub sections: usize,
    /// Marks behind them.
    pub readings: u32,
    /// Whether marks are ranked within pieces, that carry the treatments all or in part; else over all sections alike.
    pub within: bool,
    /// Whether the rows are ranked within pieces as well: where these are too few to tell anything apart, rows are ranked over all sections.
    pub rows_within: bool,
    /// Whether the treatments lie alike at all (Kruskal and Wallis; within pieces Skillings and Mack); `None` where that cannot be tested.
    pub all: Option<AllRanks>,
    /// Whether the pieces within which marks are ranked are the sites.
    pub by_site: bool,
    /// Every treatment with a mark, in the order of the groups.
    pub rows: Vec<RatingRow>,
    /// Of each of these rows, the median of its sections at each site with how many they are; empty where there are no sites.
    pub at_sites: Vec<Vec<Option<(f64, usize)>>>,
    /// The other products against the one to beat, where the study names it and the rating decides; p adjusted for these rows.
    pub to_benchmark: Vec<RatingRow>,
    /// The smallest p that its numbers of sections allow; `None` where no row is tested.
    pub least: Option<Least>,
    /// Of each of these rows, every mark that was given to its sections, the lowest first, and how often.
    pub marks: Vec<Vec<(f64, usize)>>,
    /// Every pair of raters with marks of the same sections and rounds, in the order of their names.
    pub raters: Vec<Agreeing>,
}

/// The smallest p that marks could reach, whatever they are.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Least {
    /// Of the row that could reach least.
    pub p: f64,
    /// The same after Holm over the rows that are tested.
    pub over_rows: f64,
    /// Whether no row of the table can come below 5 %, as it is adjusted.
    pub unable: bool,
}

/// The test of all treatments together.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AllRanks {
    /// The statistic, corrected for ties.
    pub h: f64,
    /// Treatments - 1.
    pub df: f64,
    /// Its p value.
    pub p: RankP,
}

/// One treatment by its marks.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RatingRow {
    /// The treatment.
    pub treatment: Treatment,
    /// Sections.
    pub n: usize,
    /// Median over the sections of the median mark of each.
    pub median: f64,
    /// Lowest section.
    pub lowest: f64,
    /// Highest section.
    pub highest: f64,
    /// Which way its marks lie from those of bare, by the pairs of sections in which it is ahead.
    pub side: Side,
    /// Against the bare sections (Wilcoxon, Mann and Whitney; within pieces van Elteren); `None` for bare itself, and where it cannot be tested.
    pub p: Option<RankP>,
    /// Whether so many sections could be told apart at 5 % at all, whatever their marks; a row that could not is no look.
    pub able: bool,
    /// Whether sections of it or of bare stand with the mark at which they were stopped, so that going on could have undone the
    /// difference: then it is not told, whatever its p.
    pub bound: bool,
    /// That p value adjusted after Holm: for the rows of this table where the rating decides, else for all further looks.
    pub p_holm: Option<f64>,
}

impl RatingRow {
    /// The p value that counts: 1 where going on could have undone the difference, for then nothing can be shown.
    pub fn counted(&self) -> Option<f64> {
        self.p.map(|p| if self.bound { 1.0 } else { p.p })
    }
}

/// How far two raters agree.
#[derive(Debug, Clone, PartialEq)]
pub struct Agreeing {
    /// One, as the rows name them.
    pub one: String,
    /// The other.
    pub other: String,
    /// Sections that both marked.
    pub sections: usize,
    /// Marks that both gave to the same section at the same round.
    pub pairs: usize,
    /// Share of these that are the same mark, 0 to 1.
    pub same: f64,
    /// Mean of the marks of the other less those of the one, in marks: kappa does not say which way they differ.
    pub apart: f64,
    /// Weighted kappa; `None` where chance alone would always agree.
    pub kappa: Option<f64>,
}
