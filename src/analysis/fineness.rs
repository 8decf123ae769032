//! How finely a measure is told for which the study states no limit and no gauge does: by its readings, or by its scatter.

use super::context::Context;
use super::frame::Frame;
use super::model::{ControlTable, Fineness, GroupSeries, LeadTable, RoundAnalysis};
use crate::stats::Spread;
use crate::study::MeasureKind;

/// Nobody writes a reading with more, and the last figure of one that was counted over from another unit is its rounding.
const MOST: u8 = 6;

/// Of ten readings so many say how finely all were written: the last figure of one in ten is a zero, which a number does not keep.
const OF_TEN: usize = 9;

/// What lies nearer to a whole than this share of it is whole but for the rounding of the arithmetic.
const ROUNDING: f64 = 1e-9;

/// Two levels that print alike are not told apart; that far apart, at the least, are the outermost of a round in steps of the last figure.
const STEPS: f64 = 4.0;

/// `None` where a limit says it, and for marks, whose medians lie between them at most.
pub(super) fn fineness(
    context: &Context<'_>,
    frame: &Frame,
    rounds: &[RoundAnalysis],
    groups: &[GroupSeries],
) -> Option<Fineness> {
    let study = context.study;
    let known = study.measure(frame.measure);
    let limited =
        known.alike.is_some() || study.gauges_of(frame.measure).any(|gauge| gauge.agreement.is_some());
    if limited || matches!(known.kind, MeasureKind::Rating(_)) {
        return None;
    }
    let apart = apart(groups);
    let by_readings = match known.kind {
        MeasureKind::Made(_) => None,
        _ => written(context, frame),
    };
    // Means of whole readings lie between them.
    let decimals = by_readings.or_else(|| by_scatter(rounds, groups)).unwrap_or(1).max(1);
    Some(Fineness { decimals: decimals.max(apart), apart })
}

/// The decimals in which most readings are whole; `None` without a reading, and where they were counted over from another unit.
fn written(context: &Context<'_>, frame: &Frame) -> Option<u8> {
    let cells = context.readings.cells().iter().filter(|cell| cell.measure == frame.measure);
    let mut counts = [0_usize; MOST as usize + 1];
    let mut all = 0;
    for value in cells.flat_map(|cell| context.readings.values(cell)) {
        all += 1;
        let own = (0..=MOST).find(|&decimals| is_whole(value * 10f64.powi(i32::from(decimals))));
        if let Some(count) = own.and_then(|own| counts.get_mut(usize::from(own))) {
            *count += 1;
        }
    }
    let mut sum = 0;
    let enough = |count: &usize| {
        sum += count;
        all > 0 && 10 * sum >= OF_TEN * all
    };
    counts.iter().position(enough).and_then(|decimals| u8::try_from(decimals).ok())
}

fn is_whole(value: f64) -> bool {
    (value - value.round()).abs() <= ROUNDING * value.abs().max(1.0)
}

/// Two figures of the least standard error of a mean that is shown (JCGM 100:2008, 7.2.6).
fn by_scatter(rounds: &[RoundAnalysis], groups: &[GroupSeries]) -> Option<u8> {
    let of_round = |(place, round): (usize, &RoundAnalysis)| -> Option<f64> {
        let most = groups.iter().filter_map(|group| Some(group.at.get(place)?.level?.n)).max()?;
        let level = levels(groups, place).map(f64::abs).fold(0.0, f64::max);
        let to_bare = round.to_bare.as_ref().ok().map(|table: &ControlTable| &table.basis);
        let lead = round.lead.as_ref().ok().map(|table: &LeadTable| &table.basis);
        let spreads =
            [round.level_spread, to_bare.and_then(|one| one.spread), lead.and_then(|one| one.spread)];
        let scatters = |spread: &Spread| spread.sd > ROUNDING * level;
        let least =
            spreads.into_iter().flatten().filter(scatters).map(|spread| spread.sd).reduce(f64::min)?;
        Some(least / (most as f64).sqrt())
    };
    let least = rounds.iter().enumerate().filter_map(of_round).reduce(f64::min)?;
    Some(reaching(least, 10.0))
}

/// The decimals that tell the levels of a round apart, at the round where they lie farthest apart.
fn apart(groups: &[GroupSeries]) -> u8 {
    let rounds = groups.iter().map(|group| group.at.len()).max().unwrap_or(0);
    let stretch = |place: usize| {
        let (low, high) = levels(groups, place)
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), level| (low.min(level), high.max(level)));
        // What is but the rounding of the arithmetic tells nothing apart.
        (high - low > ROUNDING * low.abs().max(high.abs())).then_some(high - low)
    };
    (0..rounds).filter_map(stretch).reduce(f64::max).map_or(0, |widest| reaching(widest, STEPS))
}

fn levels(groups: &[GroupSeries], place: usize) -> impl Iterator<Item = f64> {
    groups.iter().filter_map(move |group| Some(group.at.get(place)?.level.as_ref()?.mean))
}

/// The fewest decimals in whose last figure a number counts so many.
fn reaching(number: f64, steps: f64) -> u8 {
    (0..MOST)
        .find(|&decimals| number * 10f64.powi(i32::from(decimals)) >= steps * (1.0 - ROUNDING))
        .unwrap_or(MOST)
}

#[cfg(test)]
mod tests {
    use super::{is_whole, reaching};

    /// By hand: the second figure of 0.0123 stands in the third decimal, of 0.31 in the second, of 14 before the point.
    #[test]
    fn two_figures_are_kept() {
        assert_eq!([0.0123, 0.31, 1.0, 9.99, 14.0].map(|error| reaching(error, 10.0)), [3, 2, 1, 1, 0]);
    }

    #[test]
    fn a_number_of_so_many_decimals_is_whole_in_them() {
        assert!(is_whole(0.0143 * 1e4) && !is_whole(0.0143 * 1e3) && is_whole(-2.3 * 10.0) && is_whole(0.0));
    }
}
