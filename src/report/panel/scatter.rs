//! Scatter split between sections and readings, and which of the two to have more of.

use super::super::blocks::{Part, Table};
use super::super::by_piece;
use super::super::material::Material;
use super::super::names;
use super::super::numbers::{self, Figure, Style};
use super::unsaid;
use crate::analysis::{ChangeScatter, PanelMeasure, Split};
use crate::speech::say;
use crate::study::{MeasureId, Study};

/// Below this share of the variance of a change, more readings hardly help.
const LITTLE: f64 = 0.2;
/// Above this share they help as much as more sections.
const MOST: f64 = 0.8;

pub(super) fn part(material: &Material<'_>) -> Option<Part> {
    let study = material.study;
    let measures = &material.analysis.panel.measures;
    let known: Vec<(&PanelMeasure, Split)> =
        measures.iter().filter_map(|measure| Some((measure, measure.split.ok()?))).collect();
    let mut part = Part::below(if measures.iter().any(|measure| measure.changes.is_some()) {
        say!("More sections or more readings")
    } else {
        say!("Scatter between sections and between readings")
    });
    if let Some(baseline) = material.analysis.panel.baseline.filter(|_| !known.is_empty()) {
        part.say(say!("Scatter of the levels at {round}, split into what differs from section to section and what differs from reading to \
             reading on one section, each as one standard deviation. What stays with a section from round to round cancels \
             in its change, so this is no interval of the comparison.", round = names::round(study, baseline)));
    }
    let heads = [
        say!("Measure"),
        say!(">Sections"),
        say!(">Readings"),
        say!(">Between sections"),
        say!(">Between readings"),
        ">p",
    ];
    let mut table = Table::new(&heads);
    for (measure, split) in &known {
        let style = Style::of(material, measure.measure);
        let spread = |sd: f64| Figure {
            raw: Some(sd),
            text: numbers::with_unit(&numbers::fixed(sd, style.decimals + 1), style.unit),
        };
        table.row(vec![
            Figure::from(names::measure(study, measure.measure)),
            Figure::from(split.sections.to_string()),
            Figure::from(split.readings.to_string()),
            spread(split.between),
            spread(split.within),
            split.p.map_or_else(Figure::none, |p| Figure { raw: Some(p), text: numbers::probability(p) }),
        ]);
    }
    part.table(table.behind(1).behind(1));
    let baseline = material.analysis.panel.baseline;
    for (measure, _) in &known {
        part.rests_on_levels(measure.measure, baseline);
    }
    let mut items: Vec<String> = measures
        .iter()
        .filter_map(|measure| {
            let (name, changes) = (names::measure(study, measure.measure), measure.changes?);
            let style = Style::of(material, measure.measure);
            let sites = site_advice(material, measure.measure);
            Some(format!("{name}: {}{sites}", advice(study, &changes, style)))
        })
        .collect();
    items.extend(unsaid(material, |measure| measure.split.err()));
    part.list(items);
    (!part.blocks.is_empty()).then_some(part)
}

/// Which of the two to have more of, in plain words; only changes tell, since what stays with a section cancels in them.
fn advice(study: &Study, changes: &ChangeScatter, style: Style<'_>) -> String {
    let share = changes.share_of_readings();
    let which = if share < LITTLE {
        say!("more sections; more readings would hardly help")
    } else if share < MOST {
        say!("more sections help most, and more readings help as well")
    } else {
        say!("more readings help about as much as more sections, and need no room")
    };
    say!(
        "{which}. Changes up to {round} scatter by {sd} between sections treated alike; readings make {share} of that variance. \
         Twice the readings narrow it by {gain_of_readings}; twice the sections narrow the mean of a product by 29 %.",
        which,
        round = names::round(study, changes.round),
        sd = numbers::with_unit(&numbers::fixed(changes.sd, style.decimals + 1), style.difference_unit()),
        share = percent(share),
        gain_of_readings = percent(changes.gain_of_readings())
    )
}

/// Where products do otherwise at one site than at another, more sections at the same sites are not what is lacking.
fn site_advice(material: &Material<'_>, measure: MeasureId) -> String {
    let shown = material.analysis.shown().is_some_and(|(shown, _)| shown.measure == measure);
    if material.study.by_site.is_none() || !shown || by_piece::stands_out(material).is_none() {
        return String::new();
    }
    if by_piece::over_sites(material) {
        say!(
            " All of that is of the average over these sites. What treatments do otherwise at one site than at another is more than sections \
             scatter: to say how they stand at other sites takes more sites, and neither sections nor readings."
        )
    } else {
        say!(
            " Most of that may be what treatments do otherwise at one site than at another, which more sections at the same sites do not \
             narrow: more sites do."
        )
    }
    .to_owned()
}

fn percent(share: f64) -> String {
    if share < 0.01 {
        say!("less than 1 %").to_owned()
    } else {
        format!("{} %", numbers::fixed(100.0 * share, 0))
    }
}
