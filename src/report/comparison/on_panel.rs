//! How much each section changed at each round, on the panel: what products did, and what the place did.

use super::super::blocks::{Drawing, Part, Picture};
use super::super::charts::{PanelChart, PanelPlace, PanelRound};
use super::super::map::{Shape, map};
use super::super::material::Material;
use super::super::names;
use super::super::numbers::Style;
use crate::analysis::{MeasureAnalysis, Role, RoundState};
use crate::speech::{count, list, say};

/// More sections than this that changed alike are counted and not named.
const FEW: usize = 4;

/// The picture of the measure that is shown in full, where its sections lie on a drawn panel.
pub(in crate::report) fn part(material: &Material<'_>) -> Option<Part> {
    let study = material.study;
    let (measure, _) = material.analysis.shown()?;
    if study.measure(measure.measure).home.is_some() {
        return None;
    }
    let chart = chart(material, measure)?;
    let name = names::measure(study, measure.measure);
    let from = names::round(study, measure.reference?);
    let mut part = Part::new(say!("Where on the panel it changed"));
    part.say(say!("The change of {name} from {from} on every section, round by round. A stripe or a corner that changes more \
         than its neighbours, whatever lies on it, may speak of the place and not of the products.", name, from));
    let last = chart.rounds.last().map_or("", |round| round.name.as_str());
    part.picture(Picture {
        address: "report.html#picture-panel".to_owned(),
        title: title(&chart, name, last),
        note: say!(
            "Fuller colour: changed more, on one scale for all rounds; crossed out: no value. {sections}, {rounds}, {readings}.",
            sections = count(chart.places.len(), "section"),
            rounds = count(chart.rounds.len(), "round"),
            readings = count(names::read_in_all(measure), "reading")
        ),
        drawing: Drawing::Panel(Box::new(chart)),
    });
    Some(part)
}

// The finding stands in the title, for those who do not see the picture.
fn title(chart: &PanelChart, name: &str, last: &str) -> String {
    let values = chart.rounds.last().into_iter().flat_map(|round| round.values.iter().enumerate());
    // What is printed alike is told alike, whichever of them stands first on the map.
    let printed = |text: &str| text.trim_start_matches(['+', '\u{2212}']).to_owned();
    let values: Vec<(&str, f64, String)> = values
        .filter_map(|(place, value)| {
            let (raw, text) = value.as_ref()?;
            Some((chart.places.get(place)?.code.as_str(), raw.abs(), printed(text)))
        })
        .collect();
    let most = values.iter().max_by(|a, b| a.1.total_cmp(&b.1));
    let least = values.iter().min_by(|a, b| a.1.total_cmp(&b.1));
    let on = |text: &str| {
        let codes: Vec<&str> = values.iter().filter(|one| one.2 == text).map(|one| one.0).collect();
        if codes.len() > FEW { count(codes.len(), "section") } else { list(&codes, "and") }
    };
    match (most, least) {
        (Some((.., high)), Some((.., low))) if high != low => {
            say!(
                "Change of {name} on the panel: at {last} most on {most}, least on {least}",
                name,
                last,
                most = on(high),
                least = on(low)
            )
        }
        (Some(&(only, ..)), _) if values.len() == 1 => {
            say!("Change of {name} on the panel: at {last} known of {only} only", name, last, only)
        }
        (Some(_), _) => say!("Change of {name} on the panel: at {last} the same on all sections", name, last),
        (None, _) => say!("Change of {name} on the panel: at {last} none is known", name, last),
    }
}

fn chart(material: &Material<'_>, measure: &MeasureAnalysis) -> Option<PanelChart> {
    let study = material.study;
    let style = Style::of(material, measure.measure);
    let view = map(material);
    let drawn = measure.sections.iter().filter_map(|series| {
        let section = study.section(series.section);
        Some((series, Shape::from(section.outline.as_ref()?), section.code.clone()))
    });
    let drawn: Vec<_> = drawn.collect();
    let rounds: Vec<PanelRound> = measure
        .rounds
        .iter()
        .enumerate()
        .filter(|(_, round)| round.role != Role::UpToReference && round.state == RoundState::Read)
        .map(|(place, round)| PanelRound {
            name: names::round(study, round.round).into_owned(),
            values: drawn
                .iter()
                .map(|(series, ..)| {
                    let change = series.at.get(place)?.numbers.change.ok()?.value;
                    Some((change, style.signed(change)))
                })
                .collect(),
        })
        .collect();
    let changes = rounds.iter().flat_map(|round| round.values.iter().flatten()).map(|(raw, _)| raw.abs());
    let most = changes.fold(0.0, f64::max);
    if rounds.is_empty() || drawn.is_empty() || most <= 0.0 {
        return None;
    }
    Some(PanelChart {
        panel: view.panel,
        bounds: view.bounds,
        places: drawn.into_iter().map(|(_, shape, code)| PanelPlace { shape, code }).collect(),
        steps: [0.25, 0.5, 0.75, 1.0].map(|share| style.bare(share * most)),
        most,
        unit: style.unit.to_owned(),
        rounds,
    })
}
