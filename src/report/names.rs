//! Names as the report prints them: treatments, rounds, sections, and the reason for a missing number.

use super::numbers;
use crate::analysis::{Analysis, Compared, Missing, NoTable, Strength, Word};
use crate::diag::{count, list};
use crate::readings::Readings;
use crate::study::{
    Direction, Gauge, Measure, MeasureId, MeasureKind, ProductId, Reference, RoundId, SectionId, Study, Tile,
    Treatment, Unit,
};
use crate::text::Located;

pub(super) use super::map::material_name as treatment;

pub(super) fn product(study: &Study, id: ProductId) -> String {
    study.product(id).title().to_owned()
}

pub(super) fn products(study: &Study, ids: &[ProductId]) -> Vec<String> {
    ids.iter().map(|&id| product(study, id)).collect()
}

/// The one product of a study that has no other on its panel.
pub(super) fn sole_product(study: &Study) -> Option<ProductId> {
    let placed = study
        .products_with_ids()
        .filter(|(id, _)| study.sections_of(Treatment::Product(*id)).next().is_some());
    let placed: Vec<ProductId> = placed.map(|(id, _)| id).collect();
    if let [one] = placed.as_slice() { Some(*one) } else { None }
}

pub(super) fn round(study: &Study, id: RoundId) -> &str {
    &study.round(id).name.value
}

pub(super) fn measure(study: &Study, id: MeasureId) -> &str {
    &study.measure(id).name.value
}

pub(super) fn section(study: &Study, id: SectionId) -> &str {
    &study.section(id).code
}

pub(super) fn reference(reference: Reference) -> &'static str {
    match reference {
        Reference::Baseline => "baseline",
        Reference::Fresh => "fresh",
    }
}

/// The day of a round: the first day of its readings, else the planned day.
pub(super) fn round_day(study: &Study, readings: &Readings, id: RoundId) -> Option<jiff::civil::Date> {
    readings.dates(id).map(|(first, _)| first).or_else(|| study.round(id).date())
}

/// Days from the application to a round; negative before it.
pub(super) fn round_days(
    study: &Study,
    readings: &Readings,
    analysis: &Analysis,
    id: RoundId,
) -> Option<i64> {
    let day = round_day(study, readings, id)?;
    let from = analysis.applied.or_else(|| study.begins.as_ref().map(|begins| begins.value))?;
    Some(i64::from((day - from).get_days()))
}

/// `higher is better`.
pub(super) fn direction(direction: Direction) -> &'static str {
    match direction {
        Direction::Higher => "higher is better",
        Direction::Lower => "lower is better",
        Direction::Neither => "neither way is better",
    }
}

pub(super) fn word(word: Word) -> &'static str {
    match word {
        Word::Alike => "alike",
        Word::Measurable => "measurable",
        Word::Seen => "seen",
        Word::NotSettled => "not settled",
    }
}

/// What the comparisons of a measure count, as `section` or `plank`.
pub(super) fn unit(study: &Study, measure: MeasureId) -> &str {
    match study.unit(measure) {
        Unit::Piece(grouping) => &grouping.name.value,
        Unit::Section | Unit::Within(_) => "section",
    }
}

/// What is compared at a round: `the change of gloss-20 up to month 3`, `the level of grip at end`.
pub(super) fn compared(study: &Study, id: MeasureId, at: &str, by: Compared) -> String {
    let name = measure(study, id);
    match by {
        Compared::Change => format!("the change of {name} up to {at}"),
        Compared::Level => format!("the level of {name} at {at}"),
    }
}

/// The head of a column of what is compared.
pub(super) fn compared_head(by: Compared, unit: &str) -> String {
    match by {
        Compared::Change => format!(">Change, {unit}"),
        Compared::Level => format!(">Level, {unit}"),
    }
}

/// So many of them, as `2 planks`.
pub(super) fn units(study: &Study, measure: MeasureId, n: usize) -> String {
    count(n, unit(study, measure))
}

/// The head of a column that counts them.
pub(super) fn units_head(study: &Study, measure: MeasureId) -> String {
    format!(">{}", capital(&crate::diag::plural(2, unit(study, measure))))
}

/// Why a spread of units carries no word.
pub(super) fn strength(strength: Strength, unit: &str) -> String {
    match strength {
        Strength::Full => String::new(),
        Strength::FewDegrees => "fewer than 3 degrees of freedom: intervals, no words".to_owned(),
        Strength::NoScatter => format!(
            "{unit}s treated alike do not differ at all, all of them or those of one product with a spread of its own, so that \
             chance cannot be judged"
        ),
        Strength::AtEnd => {
            "every compared section sits at the same end of the scale, where the measure cannot discriminate"
                .to_owned()
        }
        Strength::SectionsOnly => {
            format!("no two {unit}s are treated alike: this compares {unit}s, not products")
        }
    }
}

/// Why a number is absent, in a few words.
pub(super) fn missing(missing: Missing) -> &'static str {
    match missing {
        Missing::NotPlanned => "not planned",
        Missing::ToCome => "to come",
        Missing::RoundMissed => "round missed",
        Missing::NotRead => "not read",
        Missing::Stopped => "stopped by the rule of the cycle",
        Missing::BelowGauge => "below what the gauge can tell",
        Missing::BeforeReference => "before the reference",
        Missing::TooLarge => "too large a number",
        Missing::AllLeftOut => "all left out",
        Missing::Ended => "section ended",
        Missing::NoReference => "no reference",
        Missing::NoShare => "reference is not above 0",
        Missing::NoBlank => "no blank",
    }
}

/// Why there is no table.
pub(super) fn no_table(reason: NoTable) -> &'static str {
    match reason {
        NoTable::UpToReference => "The round is the reference itself or lies before it.",
        NoTable::ToCome => "The round is still to come.",
        NoTable::RoundMissed => "The round was missed.",
        NoTable::NoChange => "No section has a number to compare at this round.",
        NoTable::NoBare => {
            "The study has no bare section, so that nothing can be said about what a product adds."
        }
        NoTable::BareNotRead => "No bare section has a number to compare at this round.",
        NoTable::BenchmarkNotPlaced => "The benchmark lies on no section.",
        NoTable::BenchmarkNotRead => "The benchmark has no number to compare at this round.",
        NoTable::NoProducts => "No product has a number to compare at this round.",
        NoTable::OneProduct => "Only one product has a number to compare at this round, so that none leads.",
        NoTable::Part => "The measure is read only as a part of another one.",
        NoTable::Rating => "Marks of a rating are ranked, not averaged.",
        NoTable::NoDirection => "The measure has no better direction, so that no product leads by it.",
    }
}

/// `7 of 12 products`, `both products`, `all 12 products`.
pub(super) fn of_products(n: usize, all: usize) -> String {
    match (n, all) {
        (1, 1) => "the one product".to_owned(),
        (2, 2) => "both products".to_owned(),
        (n, all) if n == all => format!("all {}", count(all, "product")),
        (0, all) => format!("none of {}", count(all, "product")),
        (n, all) => format!("{} of {}", some(n), count(all, "product")),
    }
}

/// What stands for the readings of a section: their mean, or the median of marks.
pub(super) fn middle(measure: &Measure) -> &'static str {
    if matches!(measure.kind, MeasureKind::Rating(_)) { "median" } else { "mean" }
}

/// `one`, `2`: a small number inside a sentence.
pub(super) fn some(n: usize) -> String {
    if n == 1 { "one".to_owned() } else { n.to_string() }
}

/// The first letter as a capital.
pub(super) fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |first| first.to_uppercase().chain(chars).collect())
}

/// Weeks rounded up, for the end by which something was spent.
pub(super) fn until(days: i64) -> String {
    if days >= 56 { numbers::days(days + 6) } else { numbers::days(days) }
}

/// What a tile is declared to be; of one that is known by its index, with what follows for each measure of the gauge.
pub(super) fn tile(study: &Study, gauge: &Gauge, tile: Tile) -> String {
    let n = match tile {
        Tile::Reads(value) => return value.to_string(),
        Tile::Index(n) => n,
    };
    let of = |read: &Located<MeasureId>| {
        let own = study.measure(read.value);
        let value = numbers::fixed(tile.value_for(own)?, 1);
        Some(format!("{value} {} for {}", own.unit.symbol, measure(study, read.value)))
    };
    let follows: Vec<String> = gauge.reads.iter().filter_map(of).collect();
    format!("n {}, which gives {}", crate::units::decimal(n), list(&follows, "and"))
}
