//! The scatter that a plan's figures are made with, and where it comes from in words.

use super::super::material::Material;
use super::super::names;
use super::super::numbers::{self, Style, with_unit};
use crate::analysis::{Compared, MeasureAnalysis, Role, ScatterOf, Spread, WithinRounds, within_rounds};
use crate::diag::two_digits;
use crate::planning::{Scatter, least_scatter};
use crate::speech::{marked, plural, round_name, say};
use crate::study::{MeasureId, MeasureKind, RoundId, SectionId, Study, Unit};

/// Scatter that the user takes for granted, in the unit of the measure.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Assumed {
    /// Standard deviation between sections treated alike.
    pub sections: Option<f64>,
    /// Standard deviation of one reading.
    pub reading: Option<f64>,
}

/// The scatter that figures are made with.
pub(super) struct Known {
    pub(super) scatter: Scatter,
    pub(super) from: String,
    pub(super) ends: Option<(f64, f64)>,
    /// Whether it is that of readings alone, as if sections did not differ.
    pub(super) readings_alone: bool,
    /// What lies far off in the rounds that it was measured in.
    pub(super) far: Vec<(SectionId, RoundId)>,
    /// The scatter of products among themselves in parts of this one, and how many degrees of freedom it has less.
    pub(super) among: (f64, usize),
}

/// The scatter: what the user assumes, else what the last round showed, else what the gauge alone gives.
pub(super) fn scatter(
    material: &Material<'_>,
    id: MeasureId,
    readings: u32,
    assumed: Assumed,
) -> Option<Known> {
    let study = material.study;
    let style = Style::of(material, id);
    let analysis = material.analysis.measure(id);
    let rated = matches!(study.measure(id).kind, MeasureKind::Rating(_));
    let level = analysis.is_some_and(|analysis| analysis.compared == Compared::Level);
    let means = if rated || level { 1 } else { 2 };
    let found = analysis.and_then(|analysis| measured(analysis, rated));
    let within = within(material, id, found.map(|(round, _)| round));
    let reading = if rated { None } else { reading(material, id, assumed, within.spread) };
    let alone = Scatter {
        sections: 0.0,
        reading: of_unit(study, id, reading.as_ref().map_or(0.0, |reading| reading.0)),
        means,
    };
    let of_readings = match &reading {
        Some((_, from)) => say!("; readings of one section by {from}", from),
        None if rated => String::new(),
        None => say!("; that of readings is not known and taken as none beyond it").to_owned(),
    };
    if let Some(sections) = assumed.sections {
        let from =
            say!("assumed: sections treated alike by {sd}", sd = spread(style, sections)) + &of_readings;
        let scatter = Scatter { sections, ..alone };
        let among = (1.0, 0);
        return Some(Known { scatter, from, ends: None, readings_alone: false, far: Vec::new(), among });
    }
    let measured = || {
        let (round, measured) = found?;
        let scatter = alone.behind(measured.sd, readings);
        let explained = scatter.of_section(readings);
        let high = measured.interval().map_or(f64::INFINITY, |(_, high)| high);
        // Readings that scatter by more than chance lets changes of their means differ are not those of the changes.
        let (scatter, more) = if explained > high {
            let share = measured.sd / explained;
            let text = say!(
                "; the readings by themselves would explain {sd}, which does not fit, so that the measured spread is taken: look for a slip",
                sd = spread(style, explained)
            );
            (Scatter { reading: alone.reading * share, ..alone }, text)
        } else if explained > measured.sd * 1.005 {
            let text = say!(
                "; the readings by themselves explain {sd}, which is more, so that the larger is taken",
                sd = spread(style, explained)
            );
            (scatter, text)
        } else {
            (scatter, String::new())
        };
        let what = match (rated, means) {
            (true, _) => say!("of marks"),
            (_, 1) => say!("of levels"),
            _ => say!("of changes"),
        };
        let from = say!(
            "measured: the spread {what} between {units} treated alike at {round}, {sd}{of_readings}{more}",
            what,
            units = plural(2, names::unit(study, id)),
            round = round_name(names::round_written(study, round)),
            sd = with_interval(style, measured),
            of_readings,
            more
        );
        let ends = measured.interval().map(|(low, high)| (low / measured.sd, high / measured.sd));
        let among = analysis.filter(|_| !rated).and_then(|analysis| among(analysis, round, measured));
        let from = among.map_or_else(|| from.clone(), |(spread, _)| of_two(&from, style, spread));
        let among = among.map_or((1.0, 0), |(_, among)| among);
        Some(Known { scatter, from, ends, readings_alone: false, far: within.far.clone(), among })
    };
    let least = || {
        let from = say!(
            "the least there can be: readings alone, by {reading}, as if sections treated alike did not differ; real sections do, \
             so the true figures are larger",
            reading = reading.as_ref()?.1
        );
        let far = if assumed.reading.is_some() { Vec::new() } else { within.far.clone() };
        Some(Known { scatter: alone, from, ends: None, readings_alone: true, far, among: (1.0, 0) })
    };
    if assumed.reading.is_some() && !rated { least() } else { measured().or_else(least) }
}

/// Where the scatter is from, with that of products among themselves.
fn of_two(from: &str, style: Style<'_>, spread: Spread) -> String {
    say!(
        "{from}; of two products by {sd}, as the report holds them against each other",
        from,
        sd = with_interval(style, spread)
    )
}

/// What a reading adds to the number of a unit: that of a piece is averaged over the readings of all its sections.
fn of_unit(study: &Study, id: MeasureId, reading: f64) -> f64 {
    let Unit::Piece(grouping) = study.unit(id) else { return reading };
    let pieces = grouping.pieces();
    let sections: usize = pieces.iter().map(|(_, sections)| sections.len()).sum();
    reading / (sections.max(1) as f64 / pieces.len().max(1) as f64).sqrt()
}

/// Readings in the rounds of the change that was measured, else in those before any change.
fn within(material: &Material<'_>, id: MeasureId, measured: Option<RoundId>) -> WithinRounds {
    let analysis = material.analysis.measure(id);
    let rounds: Vec<RoundId> = match (analysis, measured) {
        (None, _) => Vec::new(),
        (Some(measure), Some(round)) => measure.reference.into_iter().chain([round]).collect(),
        (Some(measure), None) => {
            let before = measure.rounds.iter().filter(|round| round.role == Role::UpToReference);
            before.map(|round| round.round).collect()
        }
    };
    within_rounds((material.study, material.readings, &material.analysis.outliers), id, &rounds)
}

/// The spread of readings of one section, and where it comes from.
fn reading(
    material: &Material<'_>,
    id: MeasureId,
    assumed: Assumed,
    within: Option<Spread>,
) -> Option<(f64, String)> {
    let study = material.study;
    let style = Style::of(material, id);
    let assumed = assumed.reading.map(|sd| (sd, say!("{sd}, assumed", sd = spread(style, sd))));
    let measured = || {
        let within = within?;
        Some((within.sd, say!("{sd}, measured within sections", sd = with_interval(style, within))))
    };
    let declared = || {
        let sd = least_scatter(study, id)?.reading;
        Some((sd, say!("{sd}, as the gauge declares", sd = spread(style, sd))))
    };
    assumed.or_else(measured).or_else(declared)
}

pub(super) fn spread(style: Style<'_>, value: f64) -> String {
    with_unit(&digits(value), style.difference_unit())
}

/// `0.44 GU on 6 degrees of freedom (95 % interval 0.28 to 0.97)`.
fn with_interval(style: Style<'_>, measured: Spread) -> String {
    let interval = measured.interval().map_or_else(String::new, |(low, high)| {
        say!(" (95 % interval {low} to {high})", low = digits(low), high = digits(high))
    });
    let (sd, degrees) = (spread(style, measured.sd), numbers::degrees(measured.df));
    say!("{sd} on {degrees}{interval}", sd, degrees, interval)
}

/// The spread of what is compared at the round that decides, where it has one, else at the last that has one, between sections treated alike.
fn measured(measure: &MeasureAnalysis, rated: bool) -> Option<(RoundId, Spread)> {
    let decides = measure.rounds.iter().filter(|round| round.role == Role::Deciding);
    let after = measure.rounds.iter().rev().filter(|round| round.role != Role::UpToReference);
    decides.chain(after).find_map(|round| {
        let found = if rated { round.level_spread } else { round.to_bare.as_ref().ok()?.basis.spread };
        let spread = found.filter(|spread| spread.df >= 3.0 && spread.sd > 0.0)?;
        Some((round.round, spread))
    })
}

/// The scatter that products are held against each other by, where it is not that of the differences to bare; in parts of that, and
/// how many degrees of freedom it has less.
fn among(measure: &MeasureAnalysis, round: RoundId, measured: Spread) -> Option<(Spread, (f64, usize))> {
    let lead = measure.round(round)?.lead.as_ref().ok()?;
    let spread =
        lead.basis.spread.filter(|spread| lead.basis.scatter_of == ScatterOf::Products && spread.sd > 0.0)?;
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped")]
    let less = (measured.df - spread.df).round().clamp(0.0, 1e6) as usize;
    Some((spread, (spread.sd / measured.sd, less)))
}

/// A number in two figures.
pub(super) fn digits(value: f64) -> String {
    marked(&two_digits(value))
}
