//! Names as the report prints them: treatments, rounds, sections, and the reason for a missing number.

use super::numbers;
use crate::analysis::{
    Analysis, Basis, Compared, GroupSeries, MeasureAnalysis, Missing, NoTable, Strength, Word,
};
use crate::readings::Readings;
use crate::speech::{self, count, list, plural, round_name, said, say};
use crate::study::{
    Direction, Gauge, Grouping, KindOf, Measure, MeasureId, MeasureKind, ProductId, Reference, RoundId,
    SectionId, Study, Tile, Unit,
};
use crate::text::Located;
use std::borrow::Cow;

pub(super) use super::map::{compass, material_name as treatment};

pub(super) fn product(study: &Study, id: ProductId) -> String {
    study.product(id).title().to_owned()
}

pub(super) fn products(study: &Study, ids: &[ProductId]) -> Vec<String> {
    ids.iter().map(|&id| product(study, id)).collect()
}

/// The one product of a study that has no other on its panel.
pub(super) fn sole_product(study: &Study) -> Option<ProductId> {
    let placed = study.products_with_ids().filter(|(id, _)| study.is_laid_on(*id));
    let placed: Vec<ProductId> = placed.map(|(id, _)| id).collect();
    if let [one] = placed.as_slice() { Some(*one) } else { None }
}

/// The name of a round as the page says it. [`round_written`] is what a table or the name of a file has.
pub(super) fn round(study: &Study, id: RoundId) -> Cow<'_, str> {
    round_name(round_written(study, id))
}

pub(super) fn round_written(study: &Study, id: RoundId) -> &str {
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
        Reference::Baseline => say!("baseline"),
        Reference::Fresh => say!("fresh"),
    }
}

/// The day of a round: the first day of its readings, else the planned day.
pub(super) fn round_day(study: &Study, readings: &Readings, id: RoundId) -> Option<jiff::civil::Date> {
    readings.dates(id).map(|(first, _)| first).or_else(|| study.round(id).date())
}

/// The day on which a round was read, or its first and last where it took several; `None` where no reading has a day.
pub(super) fn days_read(readings: &Readings, id: RoundId) -> Option<String> {
    let (first, last) = readings.dates(id)?;
    let (from, to) = (numbers::day(first), numbers::day(last));
    Some(if first == last { from } else { say!("{from} to {to}", from, to) })
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
        Direction::Higher => say!("higher is better"),
        Direction::Lower => say!("lower is better"),
        Direction::Neither => say!("neither way is better"),
    }
}

pub(super) fn word(word: Word) -> &'static str {
    match word {
        Word::Alike => say!("alike"),
        Word::Measurable => say!("measurable"),
        Word::Seen => say!("seen"),
        Word::NotSettled => say!("not settled"),
    }
}

/// What a product or a supply is, in the language that is spoken where the catalog has the word, else as the study has it.
pub(super) fn kind(kind: &KindOf) -> String {
    said(&kind.words.value).to_owned()
}

/// What the comparisons of a measure count, as `section` or `plank`: a noun to be counted.
pub(super) fn unit(study: &Study, measure: MeasureId) -> &str {
    match study.unit(measure) {
        Unit::Piece(grouping) => &grouping.name.value,
        Unit::Section | Unit::Within(_) | Unit::Linked(_) => "section",
    }
}

/// The pieces or sites within which a measure is compared, as `boards`.
pub(super) fn pieces(study: &Study, measure: MeasureId) -> String {
    match study.unit(measure) {
        Unit::Within(grouping) | Unit::Linked(grouping) | Unit::Piece(grouping) => {
            let sites = study.by_site.as_ref().filter(|_| study.pieces_cross_sites());
            let all = std::iter::once(grouping).chain(sites);
            list(&all.map(|one| plural(2, &one.name.value)).collect::<Vec<_>>(), "and")
        }
        Unit::Section => plural(2, "section"),
    }
}

/// What is compared at a round: `the change of gloss-20 up to month 3`, `the level of grip at end`.
pub(super) fn compared(study: &Study, id: MeasureId, at: &str, by: Compared) -> String {
    let name = measure(study, id);
    match by {
        Compared::Change => say!("the change of {name} up to {at}", name, at),
        Compared::Level => say!("the level of {name} at {at}", name, at),
    }
}

/// The head of a column of what is compared.
pub(super) fn compared_head(by: Compared, unit: &str) -> String {
    match by {
        Compared::Change => say!(">Change, {unit}", unit = numbers::difference_unit(unit)),
        Compared::Level => say!(">Level, {unit}", unit),
    }
}

/// So many of them, as `2 planks`.
pub(super) fn units(study: &Study, measure: MeasureId, n: usize) -> String {
    count(n, unit(study, measure))
}

/// How many units a treatment has by plan: sections, or pieces where these are the unit.
pub(super) fn units_of(study: &Study, measure: MeasureId, group: &GroupSeries) -> usize {
    match study.unit(measure) {
        Unit::Piece(_) => study.units_of(group.treatment),
        Unit::Section | Unit::Within(_) | Unit::Linked(_) => group.sections.len(),
    }
}

/// What a number of a table is over where pieces are the unit.
pub(super) fn averaged(study: &Study, measure: MeasureId) -> Option<String> {
    let Unit::Piece(grouping) = study.unit(measure) else { return None };
    Some(say!(
        "Sections of one {piece} are averaged first, and every {piece} counts alike, however many sections it has: means, spreads and degrees of \
         freedom are those of {pieces}.",
        piece = grouping.name.value,
        pieces = plural(2, &grouping.name.value)
    ))
}

/// So many bare ones, as `1 bare plank`, `6 bare sections`.
pub(super) fn bare_units(n: usize, unit: &str) -> String {
    let units = plural(n, unit);
    if n == 1 { say!("1 bare {units}", units) } else { say!("{n} bare {units}", n, units) }
}

/// The head of a column that counts them.
pub(super) fn units_head(study: &Study, measure: MeasureId) -> String {
    format!(">{}", capital(&plural(2, unit(study, measure))))
}

/// By what the intervals against a control hold together, where all share one spread and nothing links them.
pub(super) fn together(of_ratios: bool) -> &'static str {
    if of_ratios { say!("Dilba, Bretz and Guiard, by ratios to the blank") } else { "Dunnett" }
}

/// Why a spread of units carries no word.
pub(super) fn strength(strength: Strength, unit: &str) -> String {
    let units = plural(2, unit);
    match strength {
        Strength::Full => String::new(),
        Strength::FewDegrees => say!("fewer than 3 degrees of freedom: intervals, no words").to_owned(),
        Strength::NoScatter => {
            say!("{units} treated alike do not differ at all, so that chance cannot be judged", units)
        }
        Strength::BlankUnsure => say!(
            "the blank is not told apart from 0 for all rows at once, so that no ratio to it has an interval"
        )
        .to_owned(),
        Strength::Flat => say!(
            "on one side all {units} read the same, so that it has no spread of its own and the difference no interval",
            units
        ),
        Strength::AtEnd => say!(
            "every compared section sits at the same end of the scale, where the measure cannot discriminate"
        )
        .to_owned(),
        Strength::Bound => {
            say!("a side of each difference is a bound and no value, as the tables say").to_owned()
        }
        Strength::FewLeft => {
            say!(
                "no treatment has two {units} of which none was stopped before, so that nothing of this round scatters: no intervals",
                units
            )
        }
        Strength::SectionsOnly => {
            say!("no two {units} are treated alike: this compares {units}, not products", units)
        }
    }
}

/// The treatments that have no spread of their own, where each is to be judged by its own.
pub(super) fn flat(study: &Study, basis: &Basis, unit: &str) -> Option<String> {
    let flat: Vec<String> = basis.flat.iter().map(|&one| treatment(study, one)).collect();
    (basis.own_spreads && !flat.is_empty()).then(|| {
        say!(
            "All {units} of {treatments} read the same: without a spread of its own nothing there has an interval, while the others are \
             compared with each other.",
            units = plural(2, unit),
            treatments = list(&flat, "and")
        )
    })
}

/// Why a number is absent, in a few words.
pub(super) fn missing(missing: Missing) -> &'static str {
    match missing {
        Missing::NotPlanned => say!("not planned"),
        Missing::ToCome => say!("to come"),
        Missing::RoundMissed => say!("round missed"),
        Missing::NotRead => say!("not read"),
        Missing::Stopped => say!("stopped by the rule of the cycle"),
        Missing::BelowGauge => say!("below what the gauge can tell"),
        Missing::BeforeReference => say!("before the reference"),
        Missing::TooLarge => say!("too large a number"),
        Missing::AllLeftOut => say!("all left out"),
        Missing::Ended => say!("section ended"),
        Missing::NoReference => say!("no reference"),
        Missing::ReferenceBelow => say!("reference below what the gauge can tell"),
        Missing::NoShare => say!("reference is not above 0"),
        Missing::NoDivisor => say!("what it is divided by is not above 0"),
        Missing::NearZero => say!("reference too near 0 for a share"),
        Missing::NoBlank => say!("no blank"),
        Missing::IsBlank => say!("the blank itself"),
    }
}

/// Why there is no table.
pub(super) fn no_table(reason: NoTable) -> &'static str {
    match reason {
        NoTable::UpToReference => say!("The round is the reference itself or lies before it."),
        NoTable::ToCome => say!("The round is still to come."),
        NoTable::RoundMissed => say!("The round was missed."),
        NoTable::NoChange => say!("No section has a number to compare at this round."),
        NoTable::NoBare => {
            say!(
                "The study has no bare section, so that nothing can be said about what a product adds to a bare one."
            )
        }
        NoTable::BareNotRead => say!("No bare section has a number to compare at this round."),
        NoTable::BenchmarkNotPlaced => say!("The benchmark lies on no section."),
        NoTable::BenchmarkNotRead => say!("The benchmark has no number to compare at this round."),
        NoTable::NoProducts => say!("No product has a number to compare at this round."),
        NoTable::OneProduct => {
            say!("Only one product has a number to compare at this round, so that none leads.")
        }
        NoTable::Part => say!("The measure is read only as a part of another one."),
        NoTable::Rating => say!("Marks of a rating are ranked, not averaged."),
        NoTable::NoDirection => say!("The measure has no better direction, so that no product leads by it."),
    }
}

/// The same of those in a table, where the panel carries others that could not be compared: `2 of the 3 products compared`.
pub(super) fn of_compared(n: usize, all: usize, absent: bool) -> String {
    let products = || count(all, "product");
    match (n, all) {
        _ if !absent => of_products(n, all),
        (1, 1) => say!("the one product compared").to_owned(),
        (n, all) if n == all => say!("all {products} compared", products = products()),
        (0, _) => say!("none of the {products} compared", products = products()),
        (n, _) => say!("{n} of the {products} compared", n = some(n), products = products()),
    }
}

/// `7 of 12 products`, `both products`, `all 12 products`.
pub(super) fn of_products(n: usize, all: usize) -> String {
    match (n, all) {
        (1, 1) => say!("the one product").to_owned(),
        (2, 2) => say!("both products").to_owned(),
        (n, all) if n == all => say!("all {products}", products = count(all, "product")),
        (0, all) => say!("none of {products}", products = count(all, "product")),
        (n, all) => say!("{n} of {products}", n = some(n), products = count(all, "product")),
    }
}

/// A heading with how many of those that it tells of are better than what they are held against, and how many worse.
pub(super) fn with_sides(head: &str, better: usize, worse: usize) -> String {
    match (better, worse) {
        (0, 0) => head.to_owned(),
        (n, 0) => say!("{head}: {n} better", head, n = some(n)),
        (0, n) => say!("{head}: {n} worse", head, n = some(n)),
        (better, worse) => {
            say!("{head}: {better} better, {worse} worse", head, better = some(better), worse = some(worse))
        }
    }
}

/// What stands for the readings of a section: their mean, or the median of marks.
pub(super) fn middle(measure: &Measure) -> &'static str {
    if matches!(measure.kind, MeasureKind::Rating(_)) { say!("median") } else { say!("mean") }
}

/// `one`, `2`: a small number inside a sentence.
pub(super) fn some(n: usize) -> String {
    if n == 1 { say!("one").to_owned() } else { n.to_string() }
}

/// The first letter as a capital.
pub(super) fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |first| first.to_uppercase().chain(chars).collect())
}

/// What a tile is declared to be; of one that is known by its index, with what follows for each measure of the gauge.
pub(super) fn tile(study: &Study, gauge: &Gauge, tile: Tile) -> String {
    let n = match tile {
        Tile::Reads(value) => return numbers::amount(&value),
        Tile::Index(n) => n,
    };
    let of = |read: &Located<MeasureId>| {
        let own = study.measure(read.value);
        let value = numbers::fixed(tile.value_for(own)?, 1);
        Some(say!(
            "{value} {unit} for {measure}",
            value,
            unit = speech::unit(&own.unit.symbol),
            measure = measure(study, read.value)
        ))
    };
    let follows: Vec<String> = gauge.reads.iter().filter_map(of).collect();
    say!("n {n}, which gives {follows}", n = numbers::decimal(n), follows = list(&follows, "and"))
}

/// What an interval of one row rests on where the study says that spreads differ.
pub(super) fn own_interval(unit: &str) -> String {
    say!(
        "Each interval is a 95 % t interval for that row by itself, on the spread between its own {units}, since the study says \
         that spreads differ; a row of one {unit} has none, and one whose {units} do not differ at all has none either.",
        units = plural(2, unit),
        unit = plural(1, unit)
    )
}

/// What the interval of one product by itself leaves in the scatter; what sites do in it where it is their average is told with them.
pub(super) fn alone(study: &Study, grouping: &Grouping) -> String {
    let grouping = grouping.name.value.as_str();
    let averaged = study.averages_over_sites() && study.groups.is_empty();
    let alone = if averaged {
        String::new()
    } else {
        say!(" Intervals of one product by itself leave the {grouping} in the scatter.", grouping)
    };
    alone + &say!(" Of marks their table says whether they are ranked within each {grouping}.", grouping)
}

/// What products are held against each other by at several sites.
pub(super) fn among(study: &Study) -> &'static str {
    if study.by_site.is_none() {
        return "";
    }
    say!(
        " Where a treatment lies more than once at a site, differences between products, and who may lead, rest on a spread without what \
         bare does otherwise at one site than at another."
    )
}

/// What several sites do in the mean of one product by itself, and in its interval.
pub(super) fn sites_alone(study: &Study, measure: MeasureId, over_sites: bool) -> Option<String> {
    let sites = study.by_site.as_ref().filter(|_| study.measure(measure).home.is_none())?;
    let (site, sites) = (sites.name.value.as_str(), plural(2, &sites.name.value));
    Some(if over_sites {
        say!(
            "Means count each {site} alike, and what differs between {sites} is in no interval: these rest on how sections that carry the same at \
             the same {site} scatter, and hold for the average over these {sites}, not for another {site}.",
            site,
            sites
        )
    } else {
        say!("What differs between {sites} is left in the scatter that these intervals rest on.", sites)
    })
}

/// Whether the numbers of a measure are shares of the blank.
pub(super) fn is_share_of_blank(study: &Study, id: MeasureId) -> bool {
    matches!(&study.measure(id).kind, MeasureKind::Made(made) if made.is_share_of_blank())
}

/// What a finding says, for a page: what it names stands in quotation marks instead of the backticks of a terminal.
pub(super) fn finding(message: &str) -> String {
    let mut opened = false;
    let quoted = |c: char| {
        if c != '`' {
            return c;
        }
        opened = !opened;
        if opened { '“' } else { '”' }
    };
    message.chars().map(quoted).collect()
}

/// The readings of a measure over all of its sections and rounds.
pub(super) fn read_in_all(measure: &MeasureAnalysis) -> usize {
    measure.sections.iter().flat_map(|section| &section.at).map(|at| at.n as usize).sum()
}
