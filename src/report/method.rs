//! Limits and method: what this comparison cannot say, and how its numbers are made.

use super::blocks::{Part, Table};
use super::comparison::rule_words;
use super::material::Material;
use super::names;
use super::numbers::{self, Figure, Style};
use crate::analysis::{Basis, RoundState, Strength};
use crate::diag::{count, list};
use crate::study::{Agreement, Disclosure, Footprint, Gauge, Measure, Study, Treatment};
use crate::text::Located;

pub(super) fn limits(material: &Material<'_>) -> Part {
    let study = material.study;
    let mut part = Part::new("What this comparison cannot say");
    let mut items = vec![
        "It is one panel, one site and one set of hands. Another paint, climate or upkeep may order the products \
         otherwise."
            .to_owned(),
        "\"Not settled\" and \"not ahead of the best of the others\" are no statements that products are equal or that \
         one is worse; only \"alike\" says that a difference is small."
            .to_owned(),
    ];
    items.extend(sections_line(study));
    items.extend(basis_lines(material));
    items.extend(missed_line(material));
    let given = study
        .products
        .iter()
        .filter(|p| matches!(p.disclosure, Some(Disclosure::Given | Disclosure::PaidFor)));
    let given: Vec<&str> = given.map(crate::study::Product::title).collect();
    if !given.is_empty() {
        items.push(format!(
            "Given or paid for by the maker, so perhaps not what a shop sells: {}.",
            list(&given, "and")
        ));
    }
    items.push(
        "A change of gloss, film or angle is what a gauge reads on its spot; whether it matters to an owner is for the \
         owner to say."
            .to_owned(),
    );
    part.list(items);
    part
}

fn sections_line(study: &Study) -> Option<String> {
    let counts: Vec<usize> = study
        .products_with_ids()
        .map(|(id, _)| study.sections_of(Treatment::Product(id)).count())
        .filter(|&n| n > 0)
        .collect();
    let (low, high) = (counts.iter().min()?, counts.iter().max()?);
    let each = if low == high { count(*low, "section") } else { format!("{low} to {high} sections") };
    let alone =
        if *low == 1 { " A single section cannot tell its product from its place on the panel." } else { "" };
    Some(format!(
        "Each product lies on {each}; more readings on a section sharpen its mean and add no section.{alone}"
    ))
}

fn basis_lines(material: &Material<'_>) -> Vec<String> {
    let Some((_, round)) = super::comparison::basis(material) else { return Vec::new() };
    let basis: Option<&Basis> =
        round.to_bare.as_ref().ok().map(|t| &t.basis).or(round.lead.as_ref().ok().map(|t| &t.basis));
    let Some(basis) = basis else { return Vec::new() };
    let mut lines = Vec::new();
    if basis.taken_from_uncoated {
        lines.push(
            "Coated sections are taken to scatter as the bare ones do, since no product has two sections. This study \
             cannot check that."
                .to_owned(),
        );
    }
    if basis.strength != Strength::Full {
        lines.push(format!("{}.", names::capital(names::strength(basis.strength))));
    }
    lines
}

fn missed_line(material: &Material<'_>) -> Option<String> {
    let study = material.study;
    let missed = study.rounds_with_ids().filter(|(id, _)| {
        let states = material.analysis.measures.iter().filter_map(|measure| Some(measure.round(*id)?.state));
        let states: Vec<RoundState> = states.collect();
        states.contains(&RoundState::Missed) && !states.contains(&RoundState::Read)
    });
    let missed: Vec<&str> = missed.map(|(_, round)| round.name.value.as_str()).collect();
    (!missed.is_empty()).then(|| {
        format!("Missed as a whole: {}. What happened in between is not known.", list(&missed, "and"))
    })
}

pub(super) fn method(material: &Material<'_>) -> Vec<Part> {
    let study = material.study;
    let mut part = Part::new("Method");
    part.list(
        [
            "The unit of every test is the section. Readings on a section are averaged first; they are no sections.",
            "Change: mean of a section at a round minus its own mean at the reference round.",
            "Difference to bare: mean change of a product minus that of the bare sections, with two-sided simultaneous 95 % intervals for all treatments of the table (Dunnett 1955, any numbers of sections). The spread is pooled over all sections treated alike, bare ones included.",
            "May lead: constrained simultaneous 95 % intervals of each product's mean minus the best mean among the others (Hsu 1984). A product may lead where the upper end is above zero. Only products compete.",
            "Words, in this order, from the simultaneous interval: alike, if all of it lies within the alike limit; seen, if all of it lies beyond the seen limit on one side; measurable, if it leaves out zero; else not settled.",
            "The measure and round that the study names to decide stand alone at 5 %. All other p values are adjusted together (Holm 1979) and called further looks.",
            "Time to spent: after the last round passed, up to the first round failed; \"at least\" where the last round read still passed. It is never a point.",
            "Uncertainty of a section mean: spread of its readings, not below the gauge's repeatability, divided by the root of their number (JCGM 100:2008).",
            "A reading is reported as standing apart where Grubbs' test (1969) at 5 % and the gauge's own limit for two readings (ISO 5725-6) both say so. None is dropped unless the study leaves it out with a reason; both results are shown.",
        ]
        .map(str::to_owned)
        .to_vec(),
    );
    let mut parts = vec![part, measures(study), gauges(study)];
    if !study.assumed.is_empty() {
        let mut part = Part::below("Taken by default");
        part.list(study.assumed.clone());
        parts.push(part);
    }
    parts.retain(|part| !part.blocks.is_empty());
    parts
}

fn measures(study: &Study) -> Part {
    let mut part = Part::below("Measures");
    let mut table =
        Table::new(&["Measure", "Unit", "Direction", "Alike", "Seen", "Spent", "Change counts from"]);
    for measure in &study.measures {
        let style = Style::of(study, measure);
        let limit = |limit: Option<f64>, word: &str| {
            limit.map_or_else(Figure::none, |value| {
                Figure::from(format!(
                    "{word} {}",
                    numbers::with_unit(&crate::units::decimal(value), style.unit)
                ))
            })
        };
        table.row(vec![
            Figure::from(measure.name.value.as_str()),
            Figure::from(style.unit),
            Figure::from(names::direction(measure.direction)),
            limit(measure.alike.as_ref().map(|alike| alike.value), "within"),
            limit(measure.seen.as_ref().map(|seen| seen.value), "from"),
            spent(measure, style),
            Figure::from(names::reference(measure.change_from)),
        ]);
    }
    part.table(table);
    part
}

fn spent(measure: &Measure, style: Style<'_>) -> Figure {
    measure.spent.map_or_else(Figure::none, |rule| Figure::from(rule_words(rule, style)))
}

fn gauges(study: &Study) -> Part {
    let mut part = Part::below("Gauges");
    let mut table = Table::new(&["Gauge", "Reads", "Spot", "Foot", "Repeats to", "Tile", "Certificates"]);
    for gauge in &study.gauges {
        let reads: Vec<&str> = gauge.reads.iter().map(|read| names::measure(study, read.value)).collect();
        let size = |covered: &Option<Located<Footprint>>| {
            covered.as_ref().map_or_else(Figure::none, |covered| Figure::from(covered.value.to_string()))
        };
        table.row(vec![
            Figure::from(gauge.name.value.as_str()),
            Figure::from(list(&reads, "and")),
            size(&gauge.spot),
            size(&gauge.foot),
            gauge.agreement.as_ref().map_or_else(Figure::none, |known| Figure::from(agreement(known.value))),
            gauge.tile.map_or_else(Figure::none, |tile| Figure::from(tile.to_string())),
            Figure::from(certificates(gauge)),
        ]);
    }
    part.table(table);
    part
}

fn agreement(agreement: Agreement) -> String {
    match agreement {
        Agreement::TwoReadings(limit) => format!("two readings within {limit} at 95 %"),
        Agreement::Spread(spread) => format!("one standard deviation {spread}"),
    }
}

fn certificates(gauge: &Gauge) -> String {
    if let Some(why) = &gauge.never_certified {
        return format!("none: {why}");
    }
    let all =
        gauge.certificates.iter().map(|certificate| format!("{} to {}", certificate.from, certificate.until));
    let all: Vec<String> = all.collect();
    if all.is_empty() { numbers::DASH.to_owned() } else { all.join("; ") }
}
