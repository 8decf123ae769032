//! The share of its reference that each product held, in percent: retention.

use super::super::blocks::{Part, Table, Topic};
use super::super::footing::bounds;
use super::super::material::Material;
use super::super::names;
use super::super::numbers::{self, Figure};
use super::super::raw;
use super::super::stopped;
use super::bias;
use super::ranking::Ranking;
use crate::analysis::{
    Compared, GroupSeries, GroupValue, Interval, MeasureAnalysis, Missing, PairRow, Role, RoundAnalysis,
    RoundState, SectionSeries, Side, Word,
};
use crate::speech::{list, plural, say};
use crate::study::{Direction, Measure, MeasureId, MeasureKind, ProductId, Reference, Study, Treatment};
use std::borrow::Cow;

/// Decimals of a share in percent.
const DECIMALS: usize = 1;

pub(in crate::report) fn parts(material: &Material<'_>, ranking: &Ranking) -> Vec<Part> {
    let shown = shown(material);
    let told: Vec<MeasureId> = shown.iter().map(|(measure, _)| measure.measure).collect();
    let mut parts: Vec<Part> =
        shown.into_iter().map(|(measure, round)| part(material, ranking, measure, round)).collect();
    let silent = material.analysis.measures.iter().filter(|measure| !told.contains(&measure.measure));
    parts.extend(silent.filter_map(|measure| without(material, measure)));
    parts
}

/// Percent of what was read before the coats, above which a coat has lifted it and not held it.
const LIFTED: f64 = 105.0;

/// A measure of which every share would be taken of next to nothing.
fn without(material: &Material<'_>, measure: &MeasureAnalysis) -> Option<Part> {
    let study = material.study;
    let round = last_read(measure).filter(|_| has_shares(study.measure(measure.measure)))?;
    let near = near_zero(study, measure, round)?;
    let mut part = Part::new(say!(
        "No share of {name} is given at {at}",
        name = names::measure(study, measure.measure),
        at = names::round(study, round.round)
    ));
    part.say(near);
    Some(part)
}

/// The sections whose mean at the reference is 0 or too near to it.
fn near_zero(study: &Study, measure: &MeasureAnalysis, round: &RoundAnalysis) -> Option<String> {
    let reference = names::round(study, measure.reference?);
    let place = measure.rounds.iter().position(|at| at.round == round.round)?;
    let near = |section: &&SectionSeries| {
        matches!(section.at[place].numbers.retention, Err(Missing::NearZero | Missing::NoShare))
    };
    let near = measure.sections.iter().filter(near);
    let near: Vec<&str> = near.map(|section| names::section(study, section.section)).collect();
    (!near.is_empty()).then(|| {
        say!(
            "Without a share: {sections}. Their mean at {reference} is not above 0 by 5 of its standard uncertainties, so that a percentage of \
             it could be anything.",
            reference,
            sections = list(&near, "and")
        )
    })
}

/// The measures whose shares are printed, each with its round: the one whose comparison is shown, else the last one read.
///
/// Where a loss is no harm, a share is nothing that a product holds, so only measures of which more is better have one.
pub(in crate::report) fn shown<'a>(material: &Material<'a>) -> Vec<(&'a MeasureAnalysis, &'a RoundAnalysis)> {
    let compared = material.analysis.shown();
    let measures = material.analysis.measures.iter();
    let higher = measures.filter(|measure| has_shares(material.study.measure(measure.measure))).filter_map(
        |measure| {
            let compared = compared.filter(|(shown, _)| shown.measure == measure.measure);
            let round = compared.map(|(_, round)| round).or_else(|| last_read(measure))?;
            Some((measure, round))
        },
    );
    // What a coat lifts above what was there before it is no share that is held of that.
    let lifted = |(measure, round): &(&MeasureAnalysis, &RoundAnalysis)| {
        let shares = measure.groups.iter().filter_map(|group| share(group, round));
        let from_bare = material.study.measure(measure.measure).change_from == Reference::Baseline;
        from_bare && shares.map(|share| share.mean).any(|mean| mean > LIFTED)
    };
    let has_share = |(measure, round): &(&MeasureAnalysis, &RoundAnalysis)| {
        let of = |group: &GroupSeries| share(group, round);
        measure
            .groups
            .iter()
            .any(|group| matches!(group.treatment, Treatment::Product(_)) && of(group).is_some())
    };
    let mut shown: Vec<_> = higher.filter(|one| has_share(one) && !lifted(one)).collect();
    shown.sort_by_key(|(measure, _)| compared.is_none_or(|(shown, _)| shown.measure != measure.measure));
    shown
}

// A mark has no share of another mark; what is made of other measures may stand at zero to begin with.
fn has_shares(measure: &Measure) -> bool {
    measure.direction == Direction::Higher && matches!(measure.kind, MeasureKind::Read)
}

fn last_read(measure: &MeasureAnalysis) -> Option<&RoundAnalysis> {
    let mut after = measure.rounds.iter().rev().filter(|round| round.role != Role::UpToReference);
    after.find(|round| round.state == RoundState::Read)
}

fn share(group: &GroupSeries, round: &RoundAnalysis) -> Option<GroupValue> {
    group.at.iter().find(|at| at.round == round.round)?.retention
}

fn part(
    material: &Material<'_>,
    ranking: &Ranking,
    measure: &MeasureAnalysis,
    round: &RoundAnalysis,
) -> Part {
    let study = material.study;
    let at = names::round(study, round.round);
    let from = measure.reference.map_or_else(Cow::default, |id| names::round(study, id));
    let rows: Vec<(Treatment, GroupValue)> = ranking
        .groups(measure)
        .into_iter()
        .filter_map(|group| Some((group.treatment, share(group, round)?)))
        .collect();
    let heading = heading(material, (measure, round), &rows, &from);
    let mut part =
        Part::new(raw::heading(study, measure, round, heading)).about(Topic::Held(measure.measure));
    part.say(say!("Share held (retention): the mean of a section at {at} in percent of its own mean at {from}, averaged over the \
         sections of a product. {interval} Who may lead and the words are judged by the change, not by this table.", at, from, interval = interval_words((study, measure.measure), round, &rows)));
    for text in [raw::beside_means(study, measure, round), raw::beside_intervals(study, measure, round)]
        .into_iter()
        .flatten()
    {
        part.say(text);
    }
    if let Some(sites) = names::sites_alone(study, measure.measure, round.alone_over_sites.1) {
        part.say(sites);
    }
    let folded = |treatment| {
        let at = measure.group(treatment)?.at.iter().find(|at| at.round == round.round)?;
        at.retention_with_gauge
    };
    part.table(table(material, (measure, round), &rows, folded));
    part.rests_on(measure, [round.round]);
    let bounds = bounds(study, measure, round.round);
    for text in bounds.into_iter().chain(near_zero(study, measure, round)) {
        part.say(text);
    }
    if let Some(bias) = bias::of_shares(material, measure, round.round) {
        part.say(bias);
    }
    part
}

/// Where one product is told to have changed for the better and yet held less of its reference than another, beyond the intervals of both
/// shares: the answer says that the two orders contradict each other.
pub(in crate::report) fn other_order(material: &Material<'_>) -> Option<String> {
    let (measure, round) = material.analysis.deciding()?;
    let shares = measure.compared == Compared::Change && has_shares(material.study.measure(measure.measure));
    let pairs = material.analysis.between.as_ref().filter(|_| shares)?.as_ref().ok()?;
    let held = |id: ProductId| share(measure.group(Treatment::Product(id))?, round);
    let contradicts = |row: &&PairRow| {
        let told = matches!(row.word, Ok(Word::Seen | Word::Measurable));
        let (one, other) = (held(row.one)?.interval?, held(row.other)?.interval?);
        let (ahead, behind) = if row.side == Side::Better { (one, other) } else { (other, one) };
        Some(told && !pairs.basis.linked() && ahead.high < behind.low)
    };
    let row = pairs.rows.iter().find(|row| contradicts(row) == Some(true))?;
    let (ahead, behind) = if row.side == Side::Better { (row.one, row.other) } else { (row.other, row.one) };
    let percent = |value: f64| numbers::fixed(value, DECIMALS);
    let words = |id: ProductId| {
        let value = held(id)?;
        let interval = value.interval?;
        Some(say!(
            "{name} held {share} % (from {low} to {high})",
            name = names::product(material.study, id),
            share = percent(value.mean),
            low = percent(interval.low),
            high = percent(interval.high)
        ))
    };
    Some(say!(
        "By the share held the order is another: {ahead}, {behind}. They began at different levels; the study is decided by the change.",
        ahead = words(ahead)?,
        behind = words(behind)?
    ))
}

/// Where a product that may lead is told to be better than bare by the change, and bare held as large a share of its reference: the whole
/// difference is then that they began at different levels.
pub(in crate::report) fn as_much_as_bare(material: &Material<'_>) -> Option<String> {
    let (measure, round) = material.analysis.deciding()?;
    let shares = measure.compared == Compared::Change && has_shares(material.study.measure(measure.measure));
    let table = round.to_bare.as_ref().ok().filter(|table| shares && !table.basis.within_pieces())?;
    let leaders = round.lead.as_ref().ok()?.may_lead.as_ref().ok()?;
    let better = table
        .rows
        .iter()
        .filter(|row| row.side == Side::Better && matches!(row.counted(), Ok(Word::Seen | Word::Measurable)));
    let mut better = better.filter_map(|row| match row.treatment {
        Treatment::Product(id) if leaders.contains(&id) => Some(id),
        _ => None,
    });
    let bare = share(measure.group(Treatment::Bare)?, round).filter(stopped::is_whole)?;
    let held = |id: &ProductId| {
        let own = share(measure.group(Treatment::Product(*id))?, round)?;
        let interval = own.interval?;
        (interval.low <= bare.mean && bare.mean <= interval.high).then_some((*id, own, interval))
    };
    let (id, own, interval) = better.find_map(|id| held(&id))?;
    let percent = |value: f64| numbers::fixed(value, DECIMALS);
    Some(say!(
        "By the share held {product} is not told apart from bare: {share} % (from {low} to {high}), bare {bare} %. They began at different \
         levels; the study is decided by the change.",
        product = names::product(material.study, id),
        share = percent(own.mean),
        low = percent(interval.low),
        high = percent(interval.high),
        bare = percent(bare.mean)
    ))
}

/// What was stopped before the round stands by itself, with the round of the stop.
fn heading(
    material: &Material<'_>,
    (measure, round): (&MeasureAnalysis, &RoundAnalysis),
    rows: &[(Treatment, GroupValue)],
    from: &str,
) -> String {
    let percent = |value: f64| numbers::fixed(value, DECIMALS);
    let at = names::round(material.study, round.round);
    let name = names::capital(names::measure(material.study, measure.measure));
    let is_product = |treatment: &Treatment| matches!(treatment, Treatment::Product(_));
    let products: Vec<_> =
        rows.iter().filter(|(treatment, value)| is_product(treatment) && stopped::is_whole(value)).collect();
    let place = measure.rounds.iter().position(|one| one.round == round.round).unwrap_or_default();
    let each = || rows.iter().map(|(treatment, value)| (*treatment, value));
    let number = |value: &GroupValue| say!("{mean} %", mean = percent(value.mean));
    let stopped = stopped::words(material.study, (measure, place), each(), number);
    if let Some(stopped) = stopped.filter(|_| products.is_empty()) {
        return say!("{name} held at {at}: {stopped}", name, at, stopped);
    }
    let means = || products.iter().map(|(_, value)| value.mean);
    let low = percent(means().fold(f64::INFINITY, f64::min));
    let high = percent(means().fold(f64::NEG_INFINITY, f64::max));
    let who = match products.as_slice() {
        [(treatment, _)] => names::treatment(material.study, *treatment),
        _ => say!("products").to_owned(),
    };
    let held = if low == high { high } else { say!("{low} to {high}", low, high) };
    let mut bare = rows.iter().filter(|(_, value)| stopped::is_whole(value));
    let bare = bare.find(|(treatment, _)| *treatment == Treatment::Bare);
    let bare = bare
        .map_or_else(String::new, |(_, value)| say!(", bare sections {mean} %", mean = percent(value.mean)));
    let head = say!("{name} held at {at}: {who} {held} % of {from}{bare}", at, who, held, from, bare, name);
    match stopped::who(material.study, each()) {
        Some(stopped) => format!("{head}; {stopped}"),
        None => head,
    }
}

fn interval_words(
    (study, measure): (&Study, MeasureId),
    round: &RoundAnalysis,
    rows: &[(Treatment, GroupValue)],
) -> String {
    let unit = names::unit(study, measure);
    if study.spreads_differ {
        return names::own_interval(unit);
    }
    let spread = round.retention_spread.filter(|_| rows.iter().any(|(_, value)| value.interval.is_some()));
    let units = plural(2, unit);
    if rows.iter().any(|(_, value)| !stopped::is_whole(value)) {
        return match round.retention_spread {
            Some(spread) => say!(
                "Each interval is a 95 % t interval for that row by itself, on the spread between {units} treated alike of which none was \
                 stopped: {sd} percentage points, {degrees}.",
                units,
                sd = numbers::fixed(spread.sd, DECIMALS + 1),
                degrees = numbers::degrees(spread.df)
            ),
            None => say!(
                "There is no interval, since no treatment has two {units} of which none was stopped.",
                units
            ),
        };
    }
    match (spread, round.retention_spread) {
        (Some(spread), _) => say!(
            "Each interval is a 95 % t interval for that row by itself, on the spread between all {units} treated alike: \
             {sd} percentage points, {degrees}.",
            units,
            sd = numbers::fixed(spread.sd, DECIMALS + 1),
            degrees = numbers::degrees(spread.df)
        ),
        (None, Some(_)) => {
            say!("There is no interval, since {units} treated alike do not differ at all.", units)
        }
        (None, None) => say!("There is no interval, since no two {units} are treated alike.", units),
    }
}

fn table(
    material: &Material<'_>,
    (measure, round): (&MeasureAnalysis, &RoundAnalysis),
    rows: &[(Treatment, GroupValue)],
    folded: impl Fn(Treatment) -> Option<Interval>,
) -> Table {
    let percent = |value: f64| Figure { raw: Some(value), text: numbers::fixed(value, DECIMALS) };
    let span = |low: f64, high: f64| {
        Figure::from(say!(
            "{low} to {high}",
            low = numbers::fixed(low, DECIMALS),
            high = numbers::fixed(high, DECIMALS)
        ))
    };
    let study = material.study;
    let lowest = say!(">Lowest to highest {unit}", unit = plural(1, names::unit(study, measure.measure)));
    // A column of its own, so that what scatters and what the gauge adds are both seen.
    let gauge = rows.iter().any(|(treatment, _)| folded(*treatment).is_some());
    let units = names::units_head(study, measure.measure);
    let mut heads = vec![say!("Product"), &units, say!(">Held, %"), say!(">95 % interval")];
    heads.extend(gauge.then(|| say!(">with the gauge's own error")));
    heads.push(&lowest);
    let any = rows.iter().any(|(_, value)| !stopped::is_whole(value));
    heads.extend(any.then(|| say!("Stopped at")));
    heads.push(say!(">Readings"));
    let mut table = Table::new(&heads);
    let place = measure.rounds.iter().position(|one| one.round == round.round).unwrap_or_default();
    let stop = |treatment, value: &GroupValue| {
        if stopped::is_whole(value) {
            numbers::DASH.to_owned()
        } else {
            stopped::at(study, measure, treatment, place)
        }
    };
    for (treatment, value) in rows {
        let interval = |of: Option<Interval>| of.map_or_else(Figure::none, |i| span(i.low, i.high));
        let mut cells = vec![
            Figure::from(names::treatment(material.study, *treatment)),
            Figure::from(value.n.to_string()),
            stopped::bound(percent(value.mean), Direction::Higher, value),
            interval(value.interval),
        ];
        cells.extend(gauge.then(|| interval(folded(*treatment))));
        cells.push(if value.n > 1 { span(value.min, value.max) } else { Figure::none() });
        cells.extend(any.then(|| Figure::from(stop(*treatment, value))));
        cells.push(Figure::from(value.readings.to_string()));
        table.row(cells);
    }
    // Sections stand before their readings, and both behind what they are of.
    let readings = table.head.len() - 1;
    let mut table = table.behind(1);
    table.head.swap(readings - 1, readings);
    table.rows.iter_mut().for_each(|row| row.swap(readings - 1, readings));
    table
}
