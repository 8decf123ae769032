//! Ratings: marks are ranked and never averaged, with the section as the unit.

use super::bounds;
use super::context::Context;
use super::ends::At;
use super::frame::{Frame, reference_round};
use super::groups;
use super::model::{
    Agreeing, AllRanks, Least, MeasureAnalysis, Missing, OnPiece, Piece, RatingRow, RatingTable, Role,
    RoundState, SectionSeries, Side,
};
use super::sample::Sample;
use super::word::side;
use crate::stats::blocked_ranks::{all_within, least_within, two_within};
use crate::stats::blocks::OnBlocks;
use crate::stats::ranks::RankP;
use crate::stats::{holm, ranks, summary};
use crate::study::{MeasureKind, Reference, SectionId, Treatment, Unit};
use std::collections::{BTreeMap, BTreeSet};

/// The level of all rows of a table together.
const LEVEL: f64 = 0.05;

/// Writes the table of the last round read into a measure that is a rating.
pub(super) fn add(context: &Context<'_>, frame: &Frame, analysed: &mut MeasureAnalysis) {
    if !matches!(context.study.measure(frame.measure).kind, MeasureKind::Rating(_)) {
        return;
    }
    let after = |role: Role| role != Role::UpToReference;
    let place =
        analysed.rounds.iter().rposition(|round| round.state == RoundState::Read && after(round.role));
    // A rating that decides is compared at its round, even if it was read later again.
    let deciding = analysed.rounds.iter().position(|round| round.role == Role::Deciding);
    let deciding = deciding.filter(|&at| analysed.rounds[at].state == RoundState::Read);
    analysed.rating = deciding.or(place).and_then(|place| table(context, frame, analysed, place));
}

fn table(
    context: &Context<'_>,
    frame: &Frame,
    analysed: &MeasureAnalysis,
    place: usize,
) -> Option<RatingTable> {
    let round = &analysed.rounds[place];
    let series = &analysed.sections;
    let treatments = groups::treatments(context.study, frame.measure);
    let sites = sites(context, frame);
    let samples_of = |series: &[SectionSeries]| {
        let mut samples = groups::samples_by(&treatments, series, (place, groups::level), summary::median);
        samples.retain(|sample| !sample.values.is_empty());
        samples
    };
    // Where no pieces are blocks, sites are, as far as they link what they carry.
    let at_sites = samples_of(&on_sites(series, &sites));
    let by_site = at_sites.len() > 1 && all_ranks(&at_sites).is_some();
    let samples = if by_site { at_sites } else { samples_of(series) };
    let within = samples.len() > 1 && samples.iter().all(|sample| sample.blocks.len() == sample.values.len());
    let measure = context.study.measure(frame.measure);
    // The design decides, not the marks: where pieces are too few to tell anything apart by themselves, what they add stays in the ranks.
    // It falls on all alike then, or what a piece adds would be told as a product's.
    let rows_within = within && {
        let bare = samples.iter().find(|sample| sample.treatment == Treatment::Bare);
        let others = || samples.iter().filter(|sample| sample.treatment != Treatment::Bare);
        bare.is_some_and(|bare| {
            let rows = others().count() as f64;
            !others().all(|sample| alike_on_blocks(sample, bare))
                || others().all(|sample| rows * least_within(&sample.blocks, &bare.blocks) < LEVEL)
        })
    };
    let ranked = Ranked {
        samples: &samples,
        within,
        rows_within,
        at: (measure, series.as_slice(), place, groups::level),
    };
    let mut rows: Vec<RatingRow> =
        samples.iter().filter_map(|sample| ranked.row(sample, Treatment::Bare)).collect();
    let benchmark = context.study.benchmark.map(Treatment::Product);
    let benchmark = benchmark.filter(|_| round.role == Role::Deciding);
    let rivals = samples.iter().filter(|sample| {
        matches!(sample.treatment, Treatment::Product(_)) && Some(sample.treatment) != benchmark
    });
    let mut to_benchmark: Vec<RatingRow> = benchmark.map_or_else(Vec::new, |benchmark| {
        let read = samples.iter().any(|sample| sample.treatment == benchmark);
        rivals.filter(|_| read).filter_map(|sample| ranked.row(sample, benchmark)).collect()
    });
    if round.role == Role::Deciding {
        adjust(&mut rows);
        adjust(&mut to_benchmark);
    }
    let all = ranked.all();
    let medians = |treatment: Treatment| medians_at(series, &sites, (treatment, place));
    let at_sites = rows.iter().map(|row| medians(row.treatment)).collect();
    let marks = rows.iter().map(|row| marks(context, analysed, (row.treatment, place))).collect();
    let readings = |section: &SectionSeries| {
        let at = &section.at[place];
        if groups::level(at).is_ok() { at.n } else { 0 }
    };
    (!rows.is_empty()).then(|| RatingTable {
        least: least(&rows, round.role),
        round: round.round,
        role: round.role,
        sections: rows.iter().map(|row| row.n).sum(),
        readings: series.iter().map(readings).sum(),
        within,
        rows_within,
        by_site: by_site || matches!(context.study.unit(frame.measure), Unit::Within(own) | Unit::Linked(own) if Some(own) == context.study.by_site.as_ref()),
        all,
        rows,
        at_sites,
        to_benchmark,
        marks,
        raters: raters(context, frame),
    })
}

/// The sections of each site; none where the measure is not read on the sections of several.
fn sites(context: &Context<'_>, frame: &Frame) -> Vec<Vec<SectionId>> {
    let study = context.study;
    let sites = study.by_site.as_ref().filter(|_| study.measure(frame.measure).home.is_none());
    sites.map(|sites| sites.pieces().into_iter().map(|(_, own)| own).collect()).unwrap_or_default()
}

/// The sections with their site for a piece; none where a section has a piece already, or a place at no site.
fn on_sites(series: &[SectionSeries], sites: &[Vec<SectionId>]) -> Vec<SectionSeries> {
    if series.iter().any(|section| section.piece.is_some()) {
        return Vec::new();
    }
    let site = |section: &SectionSeries| sites.iter().position(|own| own.contains(&section.section));
    let of = |section: &SectionSeries| {
        Some(SectionSeries {
            piece: Some(Piece::Block(OnPiece::new(site(section)?, None))),
            ..section.clone()
        })
    };
    series.iter().map(of).collect::<Option<Vec<_>>>().unwrap_or_default()
}

/// The median over the sections of a treatment at each site, with how many they are; `None` where none has a mark.
fn medians_at(
    series: &[SectionSeries],
    sites: &[Vec<SectionId>],
    (treatment, place): (Treatment, usize),
) -> Vec<Option<(f64, usize)>> {
    let at = |own: &Vec<SectionId>| {
        let sections = series.iter().filter(|one| one.treatment == treatment && own.contains(&one.section));
        let levels: Vec<f64> =
            sections.filter_map(|one| one.at[place].numbers.level.ok()).map(|level| level.mean).collect();
        Some((summary::median(&levels)?, levels.len()))
    };
    sites.iter().map(at).collect()
}

fn all_ranks(samples: &[Sample]) -> Option<AllRanks> {
    let groups: Vec<OnBlocks<'_>> =
        samples.iter().map(|one| (one.values.as_slice(), one.blocks.as_slice())).collect();
    let found = all_within(&groups)?;
    Some(AllRanks { h: found.statistic, df: found.df, p: found.by_exchange })
}

/// Whether both stand on the same blocks, on each as often.
fn alike_on_blocks(one: &Sample, other: &Sample) -> bool {
    let sorted = |sample: &Sample| {
        let mut blocks = sample.blocks.clone();
        blocks.sort_unstable();
        blocks
    };
    sorted(one) == sorted(other)
}

/// The p values of one table, adjusted after Holm.
fn adjust(rows: &mut [RatingRow]) {
    let found: Vec<f64> = rows.iter().filter_map(RatingRow::counted).collect();
    let mut adjusted = holm::adjusted(&found).unwrap_or_default().into_iter();
    rows.iter_mut().filter(|row| row.p.is_some()).for_each(|row| row.p_holm = adjusted.next());
}

/// What so few sections can show at all. Holm multiplies the smallest p of a table by the number of its rows; where none of them could come
/// below 5 % all that were tested count, as where the table decides.
fn least(rows: &[RatingRow], role: Role) -> Option<Least> {
    let tested = rows.iter().filter(|row| row.p.is_some());
    let p = tested.clone().filter_map(|row| row.p).map(|p| p.least).reduce(f64::min)?;
    let rows = if p >= LEVEL { tested.count() } else { tested.filter(|row| row.able).count().max(1) };
    let over_rows = (p * rows as f64).min(1.0);
    let unable = p >= LEVEL || role == Role::Deciding && over_rows >= LEVEL;
    Some(Least { p, over_rows, unable })
}

/// The marks of a round as they are ranked.
struct Ranked<'a> {
    samples: &'a [Sample],
    within: bool,
    rows_within: bool,
    at: At<'a>,
}

impl Ranked<'_> {
    /// How far a sample is ahead of another in its ranks, and the p value.
    ///
    /// Where all marks of both are equal, every way to deal them out puts them as far apart, so that p is 1.
    fn against(&self, one: &Sample, other: &Sample) -> Option<(f64, RankP)> {
        let first = one.values.first()?;
        if one.values.iter().chain(&other.values).all(|mark| mark.total_cmp(first).is_eq()) {
            return Some((0.0, RankP { p: 1.0, least: self.least(one, other)?, exact: true }));
        }
        if self.rows_within {
            let found = two_within((&one.values, &one.blocks), (&other.values, &other.blocks))?;
            return Some((found.ahead, found.p));
        }
        let found = ranks::two_groups(&one.values, &other.values)?;
        let pairs = (one.values.len() * other.values.len()) as f64;
        Some((found.u - pairs / 2.0, ranks::chosen(found.by_exchange, found.p_normal)))
    }

    /// The smallest p that so many marks could reach, whatever they are.
    fn least(&self, one: &Sample, other: &Sample) -> Option<f64> {
        if self.rows_within {
            return Some(least_within(&one.blocks, &other.blocks));
        }
        let (a, b) = (one.values.len(), other.values.len());
        let marks = |from: usize, to: usize| (from..to).map(|mark| mark as f64).collect::<Vec<f64>>();
        Some(ranks::two_groups(&marks(0, a), &marks(a, a + b))?.by_exchange.least)
    }

    fn row(&self, sample: &Sample, control: Treatment) -> Option<RatingRow> {
        let other = self.samples.iter().find(|other| other.treatment == control);
        let other = other.filter(|_| sample.treatment != control);
        let found = other.and_then(|other| self.against(sample, other));
        let side = found.map_or(Side::Neither, |(ahead, _)| side(ahead, self.at.0.direction));
        Some(RatingRow {
            treatment: sample.treatment,
            n: sample.values.len(),
            median: summary::median(&sample.values)?,
            lowest: sample.values.iter().copied().reduce(f64::min)?,
            highest: sample.values.iter().copied().reduce(f64::max)?,
            side,
            able: other.and_then(|other| self.least(sample, other)).is_some_and(|least| least < LEVEL),
            bound: other.is_some() && bounds::undoes(self.at, (sample.treatment, control), side),
            p: found.map(|(_, p)| p),
            p_holm: None,
        })
    }

    /// All treatments together.
    fn all(&self) -> Option<AllRanks> {
        if self.within {
            return all_ranks(self.samples);
        }
        let values: Vec<&[f64]> = self.samples.iter().map(|sample| sample.values.as_slice()).collect();
        let found = ranks::kruskal_wallis(&values)?;
        Some(AllRanks { h: found.h, df: found.df, p: found.by_exchange })
    }
}

/// The marks of a treatment's sections at a round, the lowest first, each with how often it was given.
fn marks(
    context: &Context<'_>,
    analysed: &MeasureAnalysis,
    (treatment, place): (Treatment, usize),
) -> Vec<(f64, usize)> {
    let own = analysed.sections.iter().filter(|section| section.treatment == treatment);
    // Of a patch that was stopped those marks count with which it was.
    let at = |section: &SectionSeries| match section.at[place].numbers.level {
        Ok(_) => Some(place),
        Err(Missing::Stopped) => section.at[..place].iter().rposition(|at| groups::level(at).is_ok()),
        Err(_) => None,
    };
    let cells = own.filter_map(|section| {
        context.cell(analysed.measure, analysed.rounds[at(section)?].round, section.section)
    });
    let given = cells.flat_map(|cell| context.readings.of(cell)).filter(|one| one.left_out.is_none());
    let mut given: Vec<f64> = given.filter_map(|one| one.value.number()).collect();
    given.sort_unstable_by(f64::total_cmp);
    given.chunk_by(|a, b| a.total_cmp(b).is_eq()).map(|same| (same[0], same.len())).collect()
}

/// A section and the marks of two raters for it at one round.
type Marked = (SectionId, f64, f64);

/// Every pair of raters over the rounds of the measure after its reference and after fresh: each pair of marks is one section at one
/// round. Before, where nothing shows yet, all give the same mark, and agree in nothing that matters.
fn raters(context: &Context<'_>, frame: &Frame) -> Vec<Agreeing> {
    let mut pairs: BTreeMap<(String, String), Vec<Marked>> = BTreeMap::new();
    let fresh = reference_round(context.study, Reference::Fresh).and_then(|round| frame.place(round));
    let counts =
        |place: usize| frame.compares(context.study, place) && fresh.is_none_or(|fresh| place > fresh);
    let of_measure = context.readings.cells().iter().filter(|cell| cell.measure == frame.measure);
    for cell in of_measure.filter(|cell| frame.place(cell.round).is_some_and(counts)) {
        let mut marks: BTreeMap<String, Vec<f64>> = BTreeMap::new();
        for reading in context.readings.of(cell).filter(|reading| reading.left_out.is_none()) {
            let Some((by, mark)) = reading.by.zip(reading.value.number()) else { continue };
            marks.entry(by.to_owned()).or_default().push(mark);
        }
        // One who marked a section twice stands with the middle of the marks.
        let middles: Vec<(String, f64)> =
            marks.into_iter().filter_map(|(by, marks)| Some((by, summary::median(&marks)?))).collect();
        for (at, one) in middles.iter().enumerate() {
            for other in &middles[at + 1..] {
                pairs.entry((one.0.clone(), other.0.clone())).or_default().push((
                    cell.section,
                    one.1,
                    other.1,
                ));
            }
        }
    }
    let agreeing = |((one, other), marked): ((String, String), Vec<Marked>)| {
        let sections: BTreeSet<SectionId> = marked.iter().map(|&(section, ..)| section).collect();
        let marks: Vec<(f64, f64)> = marked.into_iter().map(|(_, one, other)| (one, other)).collect();
        let same = marks.iter().filter(|pair| pair.0.total_cmp(&pair.1).is_eq()).count();
        Agreeing {
            one,
            other,
            sections: sections.len(),
            pairs: marks.len(),
            same: same as f64 / marks.len() as f64,
            apart: marks.iter().map(|(one, other)| other - one).sum::<f64>() / marks.len() as f64,
            kappa: ranks::weighted_kappa(&marks),
        }
    };
    pairs.into_iter().map(agreeing).collect()
}
