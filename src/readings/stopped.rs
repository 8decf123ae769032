//! Patches that met the rule of the cycle and are read no more.

use super::{Cell, Readings};
use crate::stats::summary;
use crate::study::{Limit, MeasureKind, RoundId, SectionId, Stop, Study};

impl Readings {
    /// Whether a patch met the rule of the cycle at an earlier round, so that it is not read at this one.
    pub fn stopped(&self, study: &Study, section: SectionId, round: RoundId) -> bool {
        let Some((cycle, number)) = study.cycle.as_ref().zip(study.cycle_of(round)) else { return false };
        let Some(Stop { measure, rule }) = cycle.stop else { return false };
        let measure = study.measure_at(measure, section);
        let Limit::Value(limit) = rule.limit else { return false };
        cycle.rounds.iter().take(number - 1).any(|&earlier| {
            let Some(cell) = self.cell(section, earlier, measure) else { return false };
            let Some(value) = self.middle(study, cell) else { return false };
            let beyond = if rule.below { value < limit } else { value > limit };
            beyond || (rule.at_limit && (value - limit).abs() < 1e-9)
        })
    }

    /// The median of marks, since a rating has no mean; the mean of anything else.
    fn middle(&self, study: &Study, cell: &Cell) -> Option<f64> {
        if !matches!(study.measure(cell.measure).kind, MeasureKind::Rating(_)) {
            return cell.kept.mean();
        }
        let counts = self.of(cell).filter(|reading| reading.left_out.is_none());
        summary::median(&counts.filter_map(|reading| reading.value.number()).collect::<Vec<f64>>())
    }
}
