//! Change over time: one part a measure, with a picture against the band of bare sections and a table.

use super::super::blocks::{Drawing, Part, Picture, Table};
use super::super::charts::{ChangeChart, Series};
use super::super::material::Material;
use super::super::names;
use super::super::numbers::{Figure, Style};
use super::ranking::Ranking;
use crate::analysis::{GroupAt, GroupSeries, MeasureAnalysis, Role, RoundAnalysis, RoundState};
use crate::diag::count;
use crate::study::{MeasureKind, Treatment};

pub(in crate::report) fn parts(material: &Material<'_>, ranking: &Ranking) -> Vec<Part> {
    let first = material.analysis.question.map(|question| question.measure);
    let mut measures: Vec<&MeasureAnalysis> = material
        .analysis
        .measures
        .iter()
        .filter(|measure| !matches!(material.study.measure(measure.measure).kind, MeasureKind::Part(_)))
        .collect();
    measures.sort_by_key(|measure| Some(measure.measure) != first);
    measures.into_iter().map(|measure| part(material, ranking, measure)).collect()
}

fn part(material: &Material<'_>, ranking: &Ranking, measure: &MeasureAnalysis) -> Part {
    let study = material.study;
    let known = study.measure(measure.measure);
    let style = Style::of(study, known);
    let rounds = read_rounds(measure);
    let after = rounds.iter().filter(|(_, round)| round.role != Role::UpToReference).count();
    let name = known.name.value.as_str();
    let (Some(reference), true) = (measure.reference, after > 0) else {
        let mut part = Part::new(format!("{}: no change can be shown yet", names::capital(name)));
        part.say(why_nothing(material, measure));
        return part;
    };
    let from = names::round(study, reference);
    let mut part = Part::new(heading(material, measure, &style));
    part.say(format!(
        "Change of {name} from {from}, in {}; {}. Each number is the mean over the sections of a product{}; where a round \
         lacks some of them, it says over how many.",
        style.unit,
        names::direction(known.direction),
        match known.kind {
            MeasureKind::Rating(_) => ", each by the median of its marks",
            _ => "",
        }
    ));
    if let Some(picture) = picture(material, ranking, measure) {
        part.picture(picture);
    }
    part.table(table(material, ranking, measure, style));
    part.list(lacking(material, measure));
    part
}

fn why_nothing(material: &Material<'_>, measure: &MeasureAnalysis) -> String {
    match measure.reference {
        None => "The study has no round from which a change could count that reads this measure.".to_owned(),
        Some(reference) => format!(
            "No round after {}, from which the change counts, has readings.",
            names::round(material.study, reference)
        ),
    }
}

/// Rounds with readings and their place in the series.
fn read_rounds(measure: &MeasureAnalysis) -> Vec<(usize, &RoundAnalysis)> {
    let rounds = measure.rounds.iter().enumerate();
    rounds.filter(|(_, round)| round.state == RoundState::Read).collect()
}

// The last round read, and how far bare sections and products came by then.
fn heading(material: &Material<'_>, measure: &MeasureAnalysis, style: &Style<'_>) -> String {
    let name = names::capital(names::measure(material.study, measure.measure));
    let Some((place, last)) = read_rounds(measure).last().copied() else { return name };
    let round = names::round(material.study, last.round);
    let products = measure.groups.iter().filter(|group| matches!(group.treatment, Treatment::Product(_)));
    let means: Vec<(Treatment, f64)> =
        products.filter_map(|group| Some((group.treatment, group.at.get(place)?.change?.mean))).collect();
    let bare = last.bare_change.map(|bare| format!("bare sections by {}", style.signed(bare.mean)));
    let coated = moved(material, &means, style);
    let parts: Vec<String> = coated.into_iter().chain(bare).collect();
    format!("{name} changed up to {round}: {} {}", parts.join(", "), style.unit)
}

/// `Sage Wax by −6.2`, `products by −9.0 to −2.0`; nothing where no product was read.
fn moved(material: &Material<'_>, means: &[(Treatment, f64)], style: &Style<'_>) -> Option<String> {
    let low = means.iter().map(|mean| mean.1).reduce(f64::min)?;
    let high = means.iter().map(|mean| mean.1).reduce(f64::max)?;
    let who = match means {
        [(treatment, _)] => names::treatment(material.study, *treatment),
        _ => "products".to_owned(),
    };
    let same = style.signed(low) == style.signed(high);
    let by = if same { style.signed(low) } else { style.span(low, high) };
    Some(format!("{who} by {by}"))
}

fn picture(material: &Material<'_>, ranking: &Ranking, measure: &MeasureAnalysis) -> Option<Picture> {
    let study = material.study;
    let style = Style::of(study, study.measure(measure.measure));
    let rounds: Vec<(usize, &RoundAnalysis)> = read_rounds(measure)
        .into_iter()
        .filter(|(_, round)| round.role != Role::UpToReference || Some(round.round) == measure.reference)
        .collect();
    let day =
        |round: &RoundAnalysis| names::round_days(study, material.readings, material.analysis, round.round);
    let dated: Vec<(usize, f64, &RoundAnalysis)> =
        rounds.iter().filter_map(|&(place, round)| Some((place, day(round)? as f64, round))).collect();
    if dated.len() < 2 {
        return None;
    }
    let groups = ranking.groups(measure);
    let products = groups.iter().filter(|group| group.treatment != Treatment::Bare);
    let series: Vec<Series> = products.map(|group| line(material, ranking, group, &dated)).collect();
    let name = &study.measure(measure.measure).name.value;
    let from = measure.reference.map_or("", |id| names::round(study, id));
    Some(Picture {
        address: format!("report.html#picture-change-{}", measure.measure.index() + 1),
        title: format!("Change of {name} from {from}, by product"),
        note: note(material, ranking, measure, &dated),
        drawing: Drawing::Change(ChangeChart {
            axis: format!("change from {from}, {}", style.unit),
            decimals: style.decimals,
            least: study.measure(measure.measure).alike.as_ref().map_or(0.0, |alike| alike.value),
            rounds: dated
                .iter()
                .map(|&(_, x, round)| (x, names::round(study, round.round).to_owned()))
                .collect(),
            band: dated
                .iter()
                .filter_map(|&(_, x, round)| round.bare_change.map(|bare| (x, bare.min, bare.max, bare.mean)))
                .collect(),
            band_word: "bare".to_owned(),
            series,
        }),
    })
}

fn line(
    material: &Material<'_>,
    ranking: &Ranking,
    group: &GroupSeries,
    dated: &[(usize, f64, &RoundAnalysis)],
) -> Series {
    let point = |&(place, x, _): &(usize, f64, &RoundAnalysis)| Some((x, group.at.get(place)?.change?.mean));
    Series {
        name: names::treatment(material.study, group.treatment),
        mark: ranking.mark(group.treatment),
        points: dated.iter().map(point).collect(),
    }
}

fn note(
    material: &Material<'_>,
    ranking: &Ranking,
    measure: &MeasureAnalysis,
    dated: &[(usize, f64, &RoundAnalysis)],
) -> String {
    let study = material.study;
    let sections = count(study.sections.len(), "section");
    let marked = marked(material, ranking, measure);
    let last = dated.last().map(|(_, _, round)| *round);
    let day = last.and_then(|round| names::round_day(study, material.readings, round.round));
    let day = day.map_or_else(String::new, |day| format!(", last read {day}"));
    format!("{}{marked}{sections}{day}.", band(dated, names::unit(study, measure.measure)))
}

// A round may lack some of the bare sections, so their number may change along the band.
fn band(dated: &[(usize, f64, &RoundAnalysis)], unit: &str) -> String {
    let numbers = dated.iter().filter_map(|(_, _, round)| round.bare_change.map(|bare| bare.n));
    let (few, many) = (numbers.clone().min().unwrap_or(0), numbers.max().unwrap_or(0));
    match (few, many) {
        (0, _) => format!("There are no bare {unit}s. "),
        (1, 1) => format!("The grey line is the one bare {unit}. "),
        (few, many) if few == many => {
            format!("The grey band reaches from the lowest to the highest of {many} bare {unit}s. ")
        }
        (few, many) => {
            format!(
                "The grey band reaches from the lowest to the highest of {few} to {many} bare {unit}s, as read. "
            )
        }
    }
}

// The marks come from the measure that decides; in the picture of another one they only carry the name.
fn marked(material: &Material<'_>, ranking: &Ranking, measure: &MeasureAnalysis) -> String {
    let Some(question) = material.analysis.question.filter(|_| !ranking.marked.is_empty()) else {
        return String::new();
    };
    let by = names::measure(material.study, question.measure);
    let own = names::measure(material.study, measure.measure);
    match ranking.marked.len() {
        _ if question.measure != measure.measure => {
            format!("Marked are the same products as for {by}; {own} has no part in who may lead. ")
        }
        5 => format!("Marked are five products that may lead by {by}. "),
        _ => format!("Marked are the products that may lead by {by}. "),
    }
}

fn table(material: &Material<'_>, ranking: &Ranking, measure: &MeasureAnalysis, style: Style<'_>) -> Table {
    let after: Vec<(usize, &RoundAnalysis)> =
        measure.rounds.iter().enumerate().filter(|(_, round)| round.role != Role::UpToReference).collect();
    let heads = after.iter().map(|(_, round)| format!(">{}", names::round(material.study, round.round)));
    let heads: Vec<String> =
        ["Product".to_owned(), ">Sections".to_owned()].into_iter().chain(heads).collect();
    let mut table = Table::new(&heads);
    for group in ranking.groups(measure) {
        let mut cells = vec![
            Figure::from(names::treatment(material.study, group.treatment)),
            Figure::from(group.sections.len().to_string()),
        ];
        let all = group.sections.len();
        cells.extend(after.iter().map(|&(place, round)| cell(group.at.get(place), round, all, style)));
        table.row(cells);
    }
    table
}

// A mean over fewer sections than the product has on the panel says over how many.
fn cell(at: Option<&GroupAt>, round: &RoundAnalysis, all: usize, style: Style<'_>) -> Figure {
    match (at.and_then(|at| at.change), round.state) {
        (Some(change), _) if change.n < all => Figure {
            raw: Some(change.mean),
            text: format!("({} of {all}) {}", change.n, style.signed(change.mean)),
        },
        (Some(change), _) => Figure { raw: Some(change.mean), text: style.signed(change.mean) },
        (None, RoundState::ToCome) => Figure::from("to come"),
        (None, RoundState::Missed) => Figure::from("missed"),
        (None, RoundState::Read) => Figure::none(),
    }
}

// Sections that lack a round which others have; a mean over fewer sections says so.
fn lacking(material: &Material<'_>, measure: &MeasureAnalysis) -> Vec<String> {
    let study = material.study;
    let mut items = Vec::new();
    for (place, round) in read_rounds(measure) {
        let at = measure.groups.iter().filter_map(|group| group.at.get(place));
        let lacking = at
            .flat_map(|at| at.lacking.iter().chain(&at.lacking_change))
            .filter(|(_, why)| !matches!(why, crate::analysis::Missing::NotPlanned));
        // Each reason once, in the order in which it is first met.
        let mut reasons: Vec<(&str, Vec<&str>)> = Vec::new();
        for &(section, why) in lacking {
            let (name, why) = (names::section(study, section), names::missing(why));
            match reasons.iter_mut().find(|(known, _)| *known == why) {
                Some((_, sections)) => sections.push(name),
                None => reasons.push((why, vec![name])),
            }
        }
        if !reasons.is_empty() {
            let one = |(why, sections): &(&str, Vec<&str>)| {
                format!("{} ({why})", crate::diag::list(sections, "and"))
            };
            let list = reasons.iter().map(one).collect::<Vec<_>>().join("; ");
            items.push(format!("At {} without a value: {list}.", names::round(study, round.round)));
        }
    }
    items
}
