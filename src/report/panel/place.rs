//! Trend over the panel, and how alike neighbours were before anything went on.

use super::super::blocks::{Drawing, Part, Picture, Table};
use super::super::charts::{TrendChart, TrendWay};
use super::super::material::Material;
use super::super::names;
use super::super::numbers::{self, Figure, Style};
use super::unsaid;
use crate::analysis::{Fall, Likeness, PanelMeasure, PanelTrend, Way};
use crate::speech::{count, say};

/// A plane whose test has a p value below this is told apart from a level one.
const LEVEL: f64 = 0.05;

pub(super) fn part(material: &Material<'_>) -> Option<Part> {
    let mut part = Part::below(say!("What lay where before the products"));
    let measures = &material.analysis.panel.measures;
    let trends: Vec<(&PanelMeasure, PanelTrend)> =
        measures.iter().filter_map(|measure| Some((measure, measure.trend.ok()?))).collect();
    let alike: Vec<(&PanelMeasure, Likeness)> =
        measures.iter().filter_map(|measure| Some((measure, measure.likeness.ok()?))).collect();
    if !trends.is_empty() {
        let edges = if trends.iter().all(|(_, trend)| trend.to_edges) {
            say!("from one edge of the panel to the other")
        } else {
            say!("from the outermost section on one side to that on the other")
        };
        part.say(if trends.iter().any(|(_, trend)| trend.sites > 1) {
            say!("How much the level rises from the outermost section of a rack on one side to that on the other, on the largest rack, with \
             intervals that hold for both directions together at 95 %. One plane for all sites goes through the section means, and each \
             site has a mean of its own, so that what sites differ by is no trend.").to_owned()
        } else {
            say!("How much the level rises {edges}, by a plane through the section means, with intervals that \
             hold for both directions together at 95 %.", edges)
        });
        part.table(trend_table(material, &trends));
        let drawn = picture(material, &trends);
        let question = material.analysis.question.map(|question| question.measure);
        let shown = drawn.is_some();
        part.pictures(drawn);
        // The picture has its words as its title.
        let others = trends.iter().filter(|(measure, _)| !shown || Some(measure.measure) != question);
        part.list(others.map(|(measure, trend)| trend_words(material, measure, trend)).collect());
    }
    if !alike.is_empty() {
        part.say(
            say!("Whether neighbours are more alike than sections that lie apart: Moran's I is near the value by chance where \
             they are not, and comes near 1 where they are."),
        );
        if material.study.sites.len() > 1 {
            part.say(say!(
                "Neighbours stand at one site, and each section counts from the mean of its site."
            ));
        }
        part.table(likeness_table(material, &alike));
        part.list(
            alike.iter().map(|(measure, likeness)| likeness_words(material, measure, likeness)).collect(),
        );
    }
    let baseline = material.analysis.panel.baseline;
    for measure in trends.iter().map(|(measure, _)| measure).chain(alike.iter().map(|(measure, _)| measure)) {
        part.rests_on_levels(measure.measure, baseline);
    }
    let cannot = |what: &str, items: Vec<String>| {
        items.into_iter().map(move |item| say!("{what} of {item}", what, item)).collect::<Vec<String>>()
    };
    let mut items = cannot(say!("Trend"), unsaid(material, |measure| measure.trend.err()));
    items.extend(cannot(say!("Neighbours"), unsaid(material, |measure| measure.likeness.err())));
    part.list(items);
    (!part.blocks.is_empty()).then_some(part)
}

fn p_value(p: Option<f64>) -> Figure {
    p.map_or_else(Figure::none, |p| Figure { raw: Some(p), text: numbers::probability(p) })
}

fn trend_table(material: &Material<'_>, trends: &[(&PanelMeasure, PanelTrend)]) -> Table {
    let study = material.study;
    let mut table = Table::new(&[
        say!("Measure"),
        say!(">Sections"),
        say!(">Left to right"),
        say!(">95 % interval"),
        say!(">Top to bottom"),
        say!(">95 % interval"),
        ">p",
    ]);
    for (measure, trend) in trends {
        let style = Style::of(material, measure.measure);
        let mut row = vec![
            Figure::from(names::measure(study, measure.measure)),
            Figure::from(trend.sections.to_string()),
        ];
        for fall in [trend.across, trend.down] {
            let rise = numbers::with_unit(&style.signed(fall.rise), style.unit);
            row.push(Figure { raw: Some(fall.rise), text: rise });
            // A plane that leaves no scatter has no interval.
            row.push(trend.p.map_or_else(Figure::none, |_| {
                Figure::from(style.span(fall.interval.low, fall.interval.high))
            }));
        }
        row.push(p_value(trend.p));
        table.row(row);
    }
    table.behind(1)
}

/// Of the measure that decides; several racks are no one plane that could be drawn.
fn picture(material: &Material<'_>, trends: &[(&PanelMeasure, PanelTrend)]) -> Option<Picture> {
    let study = material.study;
    let question = material.analysis.question?.measure;
    let mut drawn = trends.iter().filter(|(_, trend)| trend.sites == 1);
    let (measure, trend) = drawn.find(|(measure, _)| measure.measure == question)?;
    let style = Style::of(material, question);
    let way = |fall: Fall, (from, to): (&str, &str), place: fn((f64, f64)) -> f64| TrendWay {
        ends: (from.to_owned(), to.to_owned()),
        words: say!(
            "{measure} from {from} to {to}: {rise} {unit}",
            from,
            to,
            measure = names::capital(names::measure(study, question)),
            rise = style.signed(fall.rise),
            unit = style.unit
        ),
        points: measure
            .places
            .iter()
            .map(|one| (names::section(study, one.section).to_owned(), place(one.middle), one.level))
            .collect(),
        line: fall.ends,
    };
    let baseline = material.analysis.panel.baseline?;
    let day = names::days_read(material.readings, baseline);
    let own = &material.analysis.measure(question)?.sections;
    let readings = own.iter().flat_map(|section| &section.at).filter(|at| at.round == baseline);
    let readings: usize = readings.map(|at| at.n as usize).sum();
    Some(Picture {
        address: "report.html#picture-trend".to_owned(),
        title: names::capital(trend_words(material, measure, trend).trim_end_matches('.')),
        note: say!(
            "Points: sections at {round}; line: the plane. {sections}, {readings}{day}.",
            round = names::round(study, baseline),
            sections = count(measure.places.len(), "section"),
            readings = count(readings, "reading"),
            day = day.map_or_else(String::new, |day| say!(", read {day}", day))
        ),
        drawing: Drawing::Trend(Box::new(TrendChart {
            unit: style.unit.to_owned(),
            ways: [
                way(trend.across, (say!("left"), say!("right")), |middle| middle.0),
                way(trend.down, (say!("top"), say!("bottom")), |middle| middle.1),
            ],
        })),
    })
}

/// What the test of the whole plane says, and by which ways it lies so: it may be tilted though neither way shows it by itself.
fn trend_words(material: &Material<'_>, measure: &PanelMeasure, trend: &PanelTrend) -> String {
    let study = material.study;
    let known = study.measure(measure.measure);
    let style = Style::of(material, measure.measure);
    let name = &known.name.value;
    // Without any scatter there is no test, and the plane is what was read.
    let Some(p) = trend.p else { return flat_words(name, style, trend) };
    if p >= LEVEL {
        return if trend.sites > 1 {
            say!("{name}: no trend over the racks is told apart from none.", name)
        } else {
            say!("{name}: no trend is told apart from a level panel.", name)
        };
    }
    let told = |fall: Fall| fall.interval.low > 0.0 || fall.interval.high < 0.0;
    let words = |fall: Fall, from: &str, to: &str| {
        let by = style.value(fall.rise.abs()).text;
        let (low, high) = (style.bare(fall.interval.low.abs()), style.bare(fall.interval.high.abs()));
        if fall.rise < 0.0 {
            say!("it falls from {from} to {to} by {by} (from {high} to {low})", from, to, by, low, high)
        } else {
            say!("it rises from {from} to {to} by {by} (from {low} to {high})", from, to, by, low, high)
        }
    };
    let all = [(trend.across, say!("left"), say!("right")), (trend.down, say!("top"), say!("bottom"))];
    let found: Vec<String> =
        all.iter().filter(|(fall, ..)| told(*fall)).map(|&(fall, from, to)| words(fall, from, to)).collect();
    if !found.is_empty() {
        return format!("{name}: {}.", found.join(say!(", and ")));
    }
    say!(
        "{name}: the plane is tilted (p {p}) and rises most {way}, by {across} from left to right and {down} from top to bottom taken \
         together; neither of the two is told apart from level by itself.",
        name,
        p = numbers::probability(p),
        way = trend.steepest.map_or("", way_words),
        across = numbers::with_unit(&style.signed(trend.across.rise), style.unit),
        down = numbers::with_unit(&style.signed(trend.down.rise), style.unit)
    )
}

fn flat_words(name: &str, style: Style<'_>, trend: &PanelTrend) -> String {
    let signed = |fall: Fall| numbers::with_unit(&style.signed(fall.rise), style.unit);
    match trend.steepest {
        None => say!("{name}: all sections have the same level.", name),
        Some(_) => say!(
            "{name}: {across} from left to right and {down} from top to bottom; all sections lie on the plane, so that it has no interval.",
            name,
            across = signed(trend.across),
            down = signed(trend.down)
        ),
    }
}

fn way_words(way: Way) -> &'static str {
    match (way.right, way.down) {
        (1, 0) => say!("to the right"),
        (-1, 0) => say!("to the left"),
        (0, 1) => say!("downwards"),
        (0, -1) => say!("upwards"),
        (1, 1) => say!("to the bottom right"),
        (1, -1) => say!("to the top right"),
        (-1, 1) => say!("to the bottom left"),
        (-1, -1) => say!("to the top left"),
        _ => "",
    }
}

fn likeness_table(material: &Material<'_>, alike: &[(&PanelMeasure, Likeness)]) -> Table {
    let mut table = Table::new(&[
        say!("Measure"),
        say!(">Sections"),
        say!(">Moran's I"),
        say!(">by chance"),
        ">p",
        say!(">Orders drawn"),
    ]);
    for (measure, likeness) in alike {
        let figure = |value: f64| Figure { raw: Some(value), text: numbers::fixed(value, 2) };
        table.row(vec![
            Figure::from(names::measure(material.study, measure.measure)),
            Figure::from(likeness.places.to_string()),
            figure(likeness.index),
            figure(likeness.expected),
            p_value(Some(likeness.p)),
            Figure::from(likeness.permutations.to_string()),
        ]);
    }
    table.behind(1)
}

fn likeness_words(material: &Material<'_>, measure: &PanelMeasure, likeness: &Likeness) -> String {
    let name = names::measure(material.study, measure.measure);
    let sections = count(likeness.places, "section");
    if likeness.p < LEVEL {
        say!(
            "{name}: neighbours are more alike than chance gives, over {sections} with neighbours. A product on few sections holds what their places \
             add, and the less of it the more they lie apart.",
            name,
            sections
        )
    } else {
        say!(
            "{name}: neighbours are not told apart from sections anywhere, over {sections} with neighbours.",
            name,
            sections
        )
    }
}
