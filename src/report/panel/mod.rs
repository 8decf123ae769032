//! The panel itself: how sections and readings scatter, what lies where, and what that is good for.

mod beside;
mod gauge;
mod moved;
mod place;
mod removed;
mod scatter;

pub(super) use gauge::drift_side;
pub(super) use moved::claim as moved_by_place;

use super::blocks::{Block, Part};
use super::material::Material;
use super::names;
use crate::analysis::{PanelMeasure, Unsaid};
use crate::speech::{list, say};

/// The parts, the first of which has the heading; none where no measure is read on the panel.
pub(super) fn parts(material: &Material<'_>) -> Vec<Part> {
    let panel = &material.analysis.panel;
    if panel.measures.is_empty() || material.readings.is_empty() {
        return Vec::new();
    }
    let mut part = Part::new(say!("The panel itself"));
    part.say(
        say!("What the readings tell of the panel and of the gauge. It describes them and serves the next plan; nothing in the comparison \
         is corrected by it."),
    );
    // A part that could only say why it says nothing is a line here.
    let (scatter, place) = (scatter::part(material), place::part(material));
    let empty = scatter
        .as_ref()
        .is_some_and(|part| is_list(part) && panel.measures.iter().all(|one| one.changes.is_none()));
    let why = if empty { lines(scatter.as_ref()) } else { Vec::new() };
    let why = why.into_iter().map(|item| say!("{what} of {item}", what = say!("Scatter"), item));
    let nowhere = place.as_ref().is_some_and(is_list);
    let why = why.chain(if nowhere { lines(place.as_ref()) } else { Vec::new() });
    part.list(why.collect());
    let below = [
        scatter.filter(|_| !empty),
        place.filter(|_| !nowhere),
        moved::part(material),
        beside::part(material),
    ];
    let mut parts = vec![part];
    parts.extend(below.into_iter().flatten());
    parts.extend(gauge::parts(material));
    parts.extend(removed::parts(material));
    parts
}

fn is_list(part: &Part) -> bool {
    part.blocks.iter().all(|block| matches!(block, Block::List { .. }))
}

fn lines(part: Option<&Part>) -> Vec<String> {
    let blocks = part.map_or(&[][..], |part| part.blocks.as_slice());
    let lines =
        blocks.iter().filter_map(|block| if let Block::List { items } = block { Some(items) } else { None });
    lines.flatten().cloned().collect()
}

/// How it is done.
pub(super) fn method(material: &Material<'_>) -> Vec<String> {
    let panel = &material.analysis.panel;
    let mut items: Vec<String> = scatter_and_place(material).into_iter().collect();
    items.extend(moved::method(material));
    if !panel.drifts.is_empty() {
        items.push(
            say!("Drift of the gauge: mean of the readings of its tile at a round less that of the first round, with the \
             scatter of tile readings of one round, pooled, not below the gauge's repeatability.")
                .to_owned(),
        );
    }
    if !panel.people.is_empty() {
        items.push(
            say!("Several hands: two-way analysis of variance of the sections that all of them read as often, sections and \
             people random (between operators and reproducibility as in ISO 5725-1:2023); a variance below zero is taken as 0.")
                .to_owned(),
        );
    }
    if !panel.removed.is_empty() {
        items.push(
            say!("Before and after preparation: mean of the differences place by place, with Student's t interval; the gauge's \
             part is its repeatability times the root of 2 over the number of places, for one reading at each step. That losses scatter less than the \
             gauge does is told below 1 % (chi-square; Snedecor and Cochran 1989).")
                .to_owned(),
        );
    }
    items
}

fn scatter_and_place(material: &Material<'_>) -> Option<String> {
    let measures = &material.analysis.panel.measures;
    let told = |measure: &PanelMeasure| measure.split.is_ok() || measure.trend.is_ok();
    if !measures.iter().any(told) {
        return None;
    }
    let orders = measures.iter().filter_map(|measure| Some((measure.likeness.as_ref().ok()?, measure.seed)));
    let orders: Vec<String> = orders
        .map(|(likeness, seed)| {
            say!("{permutations} orders from the seed {seed}", seed, permutations = likeness.permutations)
        })
        .collect();
    let drawn = if orders.is_empty() { String::new() } else { format!(" ({})", list(&orders, "and")) };
    let sites = if material.study.sites.len() > 1 {
        say!(
            " Of several sites each has a mean of its own in the plane, is no neighbour of another, and has its sections put in order by themselves."
        )
    } else {
        ""
    };
    Some(say!(
        "The panel itself: scatter at the baseline by nested analysis of variance, by restricted maximum likelihood where \
         sections have different numbers of readings. Trend: a plane through the section means by least squares, with intervals for all directions together (Scheffe 1953). \
         Neighbours: Moran's I (1950), each section against the mean of those above, below and beside it; its p value is the \
         share of random orders of the same means with an index at least as high{drawn}. Sections that are not even \
         prepared take no part.{sites}",
        drawn,
        sites
    ))
}

/// Which measures something cannot be said of, and why: a sentence for each reason.
fn unsaid(material: &Material<'_>, why: impl Fn(&PanelMeasure) -> Option<Unsaid>) -> Vec<String> {
    let mut reasons: Vec<(Unsaid, Vec<&str>)> = Vec::new();
    for measure in &material.analysis.panel.measures {
        let Some(why) = why(measure) else { continue };
        let name = names::measure(material.study, measure.measure);
        match reasons.iter_mut().find(|(known, _)| *known == why) {
            Some((_, all)) => all.push(name),
            None => reasons.push((why, vec![name])),
        }
    }
    let sentence = |(why, all): &(Unsaid, Vec<&str>)| format!("{}: {}.", list(all, "and"), reason(*why));
    reasons.iter().map(sentence).collect()
}

pub(super) fn reason(why: Unsaid) -> String {
    match why {
        Unsaid::NoBaseline => say!("cannot be said, since no baseline reads it").to_owned(),
        Unsaid::NotRead => say!("cannot be said, since the baseline has no readings of it").to_owned(),
        Unsaid::BelowGauge => {
            say!("cannot be said, since it lay below what the gauge can tell at the baseline").to_owned()
        }
        Unsaid::FewSections(have, need) => {
            say!(
                "cannot be said from {have}; {need} are needed",
                need,
                have = crate::speech::count(have, "section")
            )
        }
        Unsaid::ReadOnce => say!(
            "cannot be said, since every section was read once: sections and readings cannot be told apart"
        )
        .to_owned(),
        Unsaid::NoScatter => {
            say!("there is nothing to split, since readings of a section are all equal").to_owned()
        }
        Unsaid::SectionsEqual => say!("cannot be said, since all sections have the same mean").to_owned(),
        Unsaid::NoPlaces => say!("cannot be said, since the map gives no places in mm").to_owned(),
        Unsaid::OneLine => say!("cannot be said, since all sections lie in one line").to_owned(),
        Unsaid::FewDegrees => {
            say!("cannot be said, since sections treated alike are too few to judge it by").to_owned()
        }
        Unsaid::NoNeighbours => say!("cannot be said, since hardly a section has a neighbour").to_owned(),
    }
}
