//! Patches that met the rule of the cycle and are read no more.

use super::Readings;
use crate::study::{Limit, RoundId, SectionId, Stop, Study};

impl Readings {
    /// Whether a patch met the rule of the cycle at an earlier round, so that it is not read at this one.
    pub fn stopped(&self, study: &Study, section: SectionId, round: RoundId) -> bool {
        let Some((cycle, number)) = study.cycle.as_ref().zip(study.cycle_of(round)) else { return false };
        let Some(Stop { measure, rule }) = cycle.stop else { return false };
        let measure = study.measure_at(measure, section);
        let Limit::Value(limit) = rule.limit else { return false };
        cycle.rounds.iter().take(number - 1).any(|&earlier| {
            let Some(cell) = self.cell(section, earlier, measure) else { return false };
            let Some(mean) = cell.kept.mean else { return false };
            let beyond = if rule.below { mean < limit } else { mean > limit };
            beyond || (rule.at_limit && (mean - limit).abs() < 1e-9)
        })
    }
}
