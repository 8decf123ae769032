//! Adjustment for the baseline: differences to bare as they would be if all sections had begun alike.

use super::against_control::CONFIDENCE;
use super::frame::{Frame, reference_round};
use super::groups;
use super::model::{AdjustedRow, AdjustedTable, Interval, NotAdjusted, SectionSeries};
use super::word::word;
use crate::stats::ancova::{AdjustedDifference, Point, adjust};
use crate::stats::summary;
use crate::study::{Measure, Reference, Study, Treatment};

/// Degrees of freedom that must be left beside the slope.
const LEAST_DEGREES: f64 = 3.0;

/// A difference that owes more of its variance to the slope than this is an extrapolation.
const MOST_BY_SLOPE: f64 = 0.9;

/// The change at the round at `place` against the level at the baseline, section by section.
///
/// # Errors
/// Why there is no such table.
pub(super) fn table(
    study: &Study,
    frame: &Frame,
    series: &[SectionSeries],
    place: usize,
) -> Result<AdjustedTable, NotAdjusted> {
    let measure = study.measure(frame.measure);
    if series.iter().any(|section| section.piece.is_some()) {
        return Err(NotAdjusted::Pieces);
    }
    let baseline = reference_round(study, Reference::Baseline).and_then(|round| frame.place(round));
    let baseline = baseline.filter(|&baseline| baseline < place).ok_or(NotAdjusted::NoBaseline)?;
    let point = |section: &SectionSeries| -> Option<Point> {
        Some((groups::level(&section.at[baseline]).ok()?, groups::change(&section.at[place]).ok()?))
    };
    let treatments = groups::treatments(study, frame.measure);
    let points = |treatment| -> Vec<Point> {
        series.iter().filter(|section| section.treatment == treatment).filter_map(point).collect()
    };
    let mut read: Vec<(Treatment, Vec<Point>)> =
        treatments.into_iter().map(|treatment| (treatment, points(treatment))).collect();
    read.retain(|(_, points)| !points.is_empty());
    let bare = read.iter().position(|(treatment, _)| *treatment == Treatment::Bare);
    let bare = bare.filter(|_| read.len() > 1).ok_or(NotAdjusted::NoTable)?;
    let sections: usize = read.iter().map(|(_, points)| points.len()).sum();
    let df = sections as f64 - read.len() as f64 - 1.0;
    if df < LEAST_DEGREES {
        return Err(NotAdjusted::FewDegrees(df.max(0.0)));
    }
    let points: Vec<&[Point]> = read.iter().map(|(_, points)| points.as_slice()).collect();
    let found = adjust(&points).ok_or(NotAdjusted::NoScatter)?;
    let level = points.iter().flat_map(|points| points.iter()).map(|point| point.0.abs()).fold(0.0, f64::max);
    if found.spread.sd <= groups::ROUNDING * level {
        return Err(NotAdjusted::NoScatter);
    }
    if found.farthest(bare) > MOST_BY_SLOPE {
        return Err(NotAdjusted::TooFarApart);
    }
    let rows = found.against(bare, CONFIDENCE).ok_or(NotAdjusted::NoScatter)?;
    let slope = found.slope_interval(CONFIDENCE);
    Ok(AdjustedTable {
        slope: found.slope,
        slope_interval: slope.map(|(low, high)| Interval { low, high }),
        spread: found.spread,
        at: found.at,
        sections,
        bare: points[bare].len(),
        bare_baseline: middle(points[bare]).0,
        rows: rows.iter().map(|one| row(&read, bare, one, measure)).collect(),
    })
}

fn row(
    read: &[(Treatment, Vec<Point>)],
    bare: usize,
    found: &AdjustedDifference,
    measure: &Measure,
) -> AdjustedRow {
    let (treatment, points) = &read[found.group];
    let (own, control) = (middle(points), middle(&read[bare].1));
    let interval = Interval { low: found.low, high: found.high };
    AdjustedRow {
        treatment: *treatment,
        n: points.len(),
        baseline: own.0,
        plain: own.1 - control.1,
        difference: found.difference,
        interval,
        p: found.p,
        word: word(interval, measure),
    }
}

/// Mean of the baseline and of the change.
fn middle(points: &[Point]) -> Point {
    let (baseline, change): (Vec<f64>, Vec<f64>) = points.iter().copied().unzip();
    (summary::mean(&baseline).unwrap_or(0.0), summary::mean(&change).unwrap_or(0.0))
}
