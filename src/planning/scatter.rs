//! What the number of a section scatters by: sections treated alike, and the readings behind it.

use crate::study::{Making, MeasureId, MeasureKind, Study};

/// The scatter of sections treated alike, in the unit of the measure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scatter {
    /// Standard deviation between sections, beyond what their readings give; 0 where it is not known.
    pub sections: f64,
    /// Standard deviation of one reading.
    pub reading: f64,
    /// How many means of readings the number of a section is made of: 2 for a change, 1 for a level.
    pub means: u8,
}

impl Scatter {
    /// Standard deviation of the number of a section with `readings` readings at every round.
    ///
    /// A change is the difference of two section means, so that the readings count twice.
    pub fn of_section(self, readings: u32) -> f64 {
        (self.sections.powi(2) + self.of_readings(readings)).sqrt()
    }

    fn of_readings(self, readings: u32) -> f64 {
        f64::from(self.means) * self.reading.powi(2) / f64::from(readings.max(1))
    }

    /// This scatter with what lies behind a measured spread of the numbers of sections, at so many readings: what the
    /// readings explain is taken off, and what remains is between sections, 0 if nothing does.
    #[must_use]
    pub fn behind(self, measured: f64, readings: u32) -> Self {
        let sections = measured.powi(2) - self.of_readings(readings);
        Self { sections: sections.max(0.0).sqrt(), ..self }
    }
}

/// The least scatter of a change that a measure can have: that of the gauge that repeats best; `None` where none is declared.
///
/// A difference of two readings has the spreads of both (JCGM 100:2008, 5.1.2). What is a share of another reading has a spread that
/// depends on both numbers, which nobody knows beforehand.
pub fn least_scatter(study: &Study, measure: MeasureId) -> Option<Scatter> {
    let unit = &study.measure(measure).unit;
    let of = |id| study.gauges_of(id).filter_map(|gauge| gauge.spread_in(unit)).min_by(f64::total_cmp);
    let of_parts = || match &study.measure(measure).kind {
        MeasureKind::Made(made)
            if matches!(made.making, Making::Difference | Making::Gain) && !made.against_blank =>
        {
            made.parts.iter().map(|&part| of(part)).try_fold(0.0, |sum: f64, spread| Some(sum.hypot(spread?)))
        }
        _ => None,
    };
    Some(Scatter { sections: 0.0, reading: of(measure).or_else(of_parts)?, means: 2 })
}

/// The fewest readings that a section gets of a measure in any round that reads it.
pub fn fewest_readings(study: &Study, measure: MeasureId) -> Option<u32> {
    let planned = study.rounds_with_ids().map(|(round, _)| study.planned_readings(round, measure));
    planned.filter(|&n| n > 0).min()
}

#[cfg(test)]
mod tests {
    use super::Scatter;

    const GAUGE: Scatter = Scatter { sections: 0.0, reading: 0.4, means: 2 };

    #[test]
    fn what_is_taken_apart_goes_together_again() {
        let scatter = GAUGE.behind(1.3, 5);
        assert!((scatter.of_section(5) - 1.3).abs() < 1e-12);
        assert!((scatter.sections - (1.69_f64 - 0.064).sqrt()).abs() < 1e-12);
        assert!(scatter.of_section(10) < 1.3 && scatter.of_section(1) > 1.3);
        let level = Scatter { means: 1, ..GAUGE }.behind(1.3, 5);
        assert!((level.sections - (1.69_f64 - 0.032).sqrt()).abs() < 1e-12);
    }

    #[test]
    fn readings_that_explain_everything_leave_nothing_between_sections() {
        assert_eq!(GAUGE.behind(0.1, 5), GAUGE);
    }
}
