//! A section whose readings lie far from its own other rounds and from sections that are treated alike.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::readings::{Cell, Readings};
use crate::stats::summary;
use crate::study::{Direction, MeasureId, MeasureKind, RoundId, SectionId, SpecimensId, Study, Treatment};
use crate::units::decimal;
use std::collections::BTreeMap;

/// How many times farther from its twins than sections usually are.
const SPREADS: f64 = 5.0;
/// The median distance from the middle, times this, is the standard deviation of values that are spread normally.
const NORMAL: f64 = 1.4826;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "section-far-off",
        severity: Severity::Warning,
        what: "Every reading of a section in a round is less than half or more than double of what the same section \
               has in each of its other rounds, and of what each of the sections that are treated alike has in this \
               round. The distance to the nearest of these is also more than five times the usual one (the median \
               of all such distances, times 1.4826), the gauge's spread, and what is alike. Ratings are not \
               looked at, nor measures of which lower is better, since faults grow from nothing, nor treatments that \
               stand on one section.",
        why: "A point that was lost (8.84 for 88.4), a row that slipped or a gauge that was off the panel makes such \
              numbers, and one of them is enough to turn the mean of a product. Products that lose much lose it on \
              all of their sections, or the section stays low in later rounds; neither is told here.",
        mend: "Look on the paper sheet and correct what was typed wrong. If the section is like that, write what \
               happened to it in the log, and say so in a waiver.",
        bad: "--- date 2026-03-20\n--- readings.csv\ndate,round,section,measure,unit,1,2,3,4,5\n\
              2026-03-03,baseline,A1,gloss-20,GU,90.1,90.2,90.0,90.1,90.2\n\
              2026-03-03,baseline,B3,gloss-20,GU,90.4,90.2,90.3,90.1,90.2\n\
              2026-03-03,baseline,C2,gloss-20,GU,89.9,90.2,90.0,90.3,90.1\n\
              2026-03-11,fresh,A1,gloss-20,GU,91.1,91.2,91.0,91.1,91.2\n\
              2026-03-11,fresh,B3,gloss-20,GU,9.14,9.12,9.13,9.11,9.12\n\
              2026-03-11,fresh,C2,gloss-20,GU,90.9,91.2,91.0,91.3,91.1\n",
        good: "--- date 2026-03-20\n--- readings.csv\ndate,round,section,measure,unit,1,2,3,4,5\n\
               2026-03-03,baseline,A1,gloss-20,GU,90.1,90.2,90.0,90.1,90.2\n\
               2026-03-03,baseline,B3,gloss-20,GU,90.4,90.2,90.3,90.1,90.2\n\
               2026-03-03,baseline,C2,gloss-20,GU,89.9,90.2,90.0,90.3,90.1\n\
               2026-03-11,fresh,A1,gloss-20,GU,91.1,91.2,91.0,91.1,91.2\n\
               2026-03-11,fresh,B3,gloss-20,GU,91.4,91.2,91.3,91.1,91.2\n\
               2026-03-11,fresh,C2,gloss-20,GU,90.9,91.2,91.0,91.3,91.1\n",
        source: "Hampel (1974), JASA 69, 383-393, for the median distance as a spread; half, double and the factor 5 \
                 are common practice, no source",
    },
    run,
};

/// The means of one measure, by round and section.
type Means<'r> = BTreeMap<(RoundId, SectionId), (&'r Cell, f64)>;

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let (study, readings) = (context.study, context.readings);
    // A line that leaves readings out and could not be taken may be about these.
    if study.rounds_broken || study.readings.iter().any(|file| file.broken) {
        return;
    }
    for (id, measure) in study.measures_with_ids() {
        // Faults that grow from nothing double as a matter of course where a product fails.
        let grows = measure.direction == Direction::Lower;
        let judged = matches!(measure.kind, MeasureKind::Rating(_) | MeasureKind::Made(_));
        if !measure.broken && !grows && !judged {
            of_measure(study, readings, id, findings);
        }
    }
}

fn of_measure(study: &Study, readings: &Readings, id: MeasureId, findings: &mut Vec<Finding>) {
    let cells = readings.cells().iter().filter(|cell| cell.measure == id);
    let means: Means<'_> = cells
        .filter(|cell| study.round(cell.round).date().is_none_or(|day| !has_ended(study, cell.section, day)))
        .filter_map(|cell| Some(((cell.round, cell.section), (cell, cell.kept.mean?))))
        .collect();
    let alike = alike(study, &means);
    let twins = |cell: &Cell, mean: f64| Twins::of(alike.get(&treated(study, cell))?, mean);
    let apart: Vec<(&Cell, f64, Twins)> =
        means.values().filter_map(|&(cell, mean)| Some((cell, mean, twins(cell, mean)?))).collect();
    let distances: Vec<f64> = apart.iter().map(|(_, mean, twins)| twins.distance(*mean)).collect();
    let Some(usual) = summary::median(&distances) else { return };
    let measure = study.measure(id);
    let no_matter = measure.alike.as_ref().map_or(0.0, |alike| alike.value);
    let limit = SPREADS * (NORMAL * usual).max(study.gauge_spread(id).unwrap_or(0.0)).max(no_matter);
    // Without any scatter, gauge or limit nothing says what is usual.
    if limit <= 0.0 {
        return;
    }
    for (cell, mean, twins) in apart {
        if twins.distance(mean) > limit
            && let Some(own) = far_from_own(&means, cell, mean)
            && readings.values(cell).iter().all(|&value| twins.are_far(value))
        {
            findings.extend(told(study, readings, (cell, mean), [own, twins.ends]));
        }
    }
}

fn has_ended(study: &Study, section: SectionId, day: jiff::civil::Date) -> bool {
    study.ended(section).is_some_and(|ended| ended <= day)
}

/// Means of the sections that are treated alike in a round, from the smallest.
type Alike = BTreeMap<(RoundId, Treatment, Option<SpecimensId>), Vec<f64>>;

fn alike(study: &Study, means: &Means<'_>) -> Alike {
    let mut alike = Alike::new();
    for &(cell, mean) in means.values() {
        alike.entry(treated(study, cell)).or_default().push(mean);
    }
    for means in alike.values_mut() {
        means.sort_unstable_by(f64::total_cmp);
    }
    alike
}

fn treated(study: &Study, cell: &Cell) -> (RoundId, Treatment, Option<SpecimensId>) {
    let section = study.section(cell.section);
    (cell.round, section.treatment, section.specimen)
}

/// What the other sections that are treated alike have.
#[derive(Clone, Copy)]
struct Twins {
    /// The next smaller and the next larger value.
    near: [Option<f64>; 2],
    /// The least and the greatest.
    ends: (f64, f64),
}

impl Twins {
    /// Those of one of the values; `None` where there is no other.
    fn of(sorted: &[f64], own: f64) -> Option<Self> {
        let own_at = sorted.partition_point(|&value| value < own);
        let below = own_at.checked_sub(1).and_then(|at| sorted.get(at)).copied();
        let above = sorted.get(own_at + 1).copied();
        let least = if own_at == 0 { above } else { sorted.first().copied() };
        let greatest = if above.is_none() { below } else { sorted.last().copied() };
        Some(Self { near: [below, above], ends: (least?, greatest?) })
    }

    fn distance(self, own: f64) -> f64 {
        self.near.into_iter().flatten().map(|near| (near - own).abs()).fold(f64::INFINITY, f64::min)
    }

    fn are_far(self, value: f64) -> bool {
        self.near.into_iter().flatten().all(|near| is_far(value, near))
    }
}

/// Least and greatest mean of the section in its other rounds, where a value is far from each of them.
fn far_from_own(means: &Means<'_>, cell: &Cell, mean: f64) -> Option<(f64, f64)> {
    let others =
        means.iter().filter(|((round, section), _)| *section == cell.section && *round != cell.round);
    let mut others = others.map(|(_, &(_, other))| other).peekable();
    others.peek()?;
    others.try_fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), other| {
        is_far(mean, other).then_some((least.min(other), most.max(other)))
    })
}

/// Less than half, more than double, or on the other side of nothing.
fn is_far(value: f64, from: f64) -> bool {
    (value - from).abs() > value.abs().max(from.abs()) / 2.0
}

fn told(
    study: &Study,
    readings: &Readings,
    (cell, mean): (&Cell, f64),
    ends: [(f64, f64); 2],
) -> Option<Finding> {
    let measure = study.measure(cell.measure);
    let (name, unit) = (&measure.name.value, &measure.unit.symbol);
    let (section, round) = (&study.section(cell.section).code, &study.round(cell.round).name.value);
    let shown = |value: f64| decimal((value * 1000.0).round() / 1000.0);
    let [others, twins] = ends.map(|(least, most)| {
        let (least, most) = (shown(least), shown(most));
        if least == most { least } else { format!("{least} to {most}") }
    });
    let message = format!(
        "`{name}` on `{section}` at `{round}` is {} {unit}, its other rounds have {others} {unit}, and sections \
         treated alike {twins} {unit}",
        shown(mean)
    );
    let first = readings.of(cell).find(|reading| reading.value.number().is_some())?;
    let waiver = format!("allow section far off for {section} because \"...\"");
    Some(
        Finding::warning(CHECK.page.code, first.place, message)
            .help("look on the sheet for a lost point or a row that slipped, and type what the gauge showed")
            .help(format!(
                "if `{section}` is like that, write in the log what happened to it, and `{waiver}`"
            ))
            .about(section)
            .about(round)
            .about(name),
    )
}

#[cfg(test)]
mod tests {
    use super::Twins;

    #[test]
    fn the_others_leave_the_own_value_out_once() {
        let of = |sorted: &[f64], own| Twins::of(sorted, own).map(|twins| (twins.near, twins.ends));
        assert_eq!(of(&[3.0], 3.0), None);
        assert_eq!(of(&[1.0, 3.0], 3.0), Some(([Some(1.0), None], (1.0, 1.0))));
        assert_eq!(of(&[1.0, 3.0, 8.0], 1.0), Some(([None, Some(3.0)], (3.0, 8.0))));
        assert_eq!(of(&[1.0, 3.0, 8.0], 8.0), Some(([Some(3.0), None], (1.0, 3.0))));
        assert_eq!(of(&[1.0, 3.0, 3.0, 8.0], 3.0), Some(([Some(1.0), Some(3.0)], (1.0, 8.0))));
    }
}
