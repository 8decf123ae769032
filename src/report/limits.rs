//! Limits: what this comparison cannot say, from what was declared, read and left undone.

use super::blocks::Part;
use super::checklist::{only_on, title};
use super::comparison::{bias_known, shares_shown, unshown};
use super::material::Material;
use super::panel::drift_side;
use super::{as_recorded, by_piece, cautions, names};
use crate::analysis::{Basis, End, MeasureAnalysis, RoundState, Strength};
use crate::speech::{count, list, plural, say};
use crate::study::{Disclosure, Gauge, MeasureId, MeasureKind, Study, Treatment, Unit, Upkeep, Verb};
use std::collections::BTreeSet;

pub(super) fn limits(material: &Material<'_>) -> Part {
    let study = material.study;
    let mut part = Part::new(say!("What this comparison cannot say"));
    let mut items = vec![
        say!(
            "It is {what}{site}. {hands} Another ground, climate, upkeep or hand may order the products otherwise.",
            what = if study.is_on_racks() { say!("one set of specimens") } else { say!("one panel") },
            site = site(study),
            hands = as_recorded::hands(material)
        ),
        say!(
            "\"Not settled\" and \"not ahead\" are no statements that products are equal or that \
         one is worse; only \"alike\" says that a difference is small."
        )
        .to_owned(),
    ];
    items.extend(match cautions::sites_asked(material) {
        Some(sites) => Some(say!(
            "At the round that is shown in full only {read} was read.",
            read = list(&sites.read, "and")
        )),
        None => at_sites(material).map(|text| match by_piece::how_large(material) {
            Some(large) => format!("{text} {large}"),
            None => text.to_owned(),
        }),
    });
    items.extend(sections_line(material));
    items.extend(elsewhere(material));
    items.extend(as_recorded::limits(material));
    items.extend(partial_steps(study));
    items.extend(basis_lines(material));
    items.extend(at_ends(material));
    items.extend(missed_line(material));
    items.extend(unshown(material));
    items.extend(gauge_error(material));
    items.extend(material.analysis.panel.drifts.iter().filter_map(|drift| {
        let cancels = say!("In a difference between products of the same round it cancels.");
        drift_side(material, drift).map(|side| format!("{side} {cancels}"))
    }));
    items.extend(several_gauges(material));
    let given = study
        .products
        .iter()
        .filter(|p| matches!(p.disclosure, Some(Disclosure::Given | Disclosure::PaidFor)));
    let given: Vec<&str> = given.map(crate::study::Product::title).collect();
    if !given.is_empty() {
        items.push(say!(
            "Given or paid for by the maker, so perhaps not what a shop sells: {given}.",
            given = list(&given, "and")
        ));
    }
    items.extend(raters(material));
    if !only_rated(study) {
        items.push(
            say!("What a gauge reads is a number on its spot; whether a change of it matters to an owner is for the \
         owner to say.")
                .to_owned(),
        );
    }
    part.list(items);
    part
}

/// Whether all that is judged is marked by people.
pub(super) fn only_rated(study: &Study) -> bool {
    let mut judged = study.judged_measures().peekable();
    judged.peek().is_some() && judged.all(|(_, measure)| matches!(measure.kind, MeasureKind::Rating(_)))
}

/// What marks of people cannot say.
fn raters(material: &Material<'_>) -> Option<String> {
    let study = material.study;
    let rated = study.judged_measures().filter(|(_, measure)| matches!(measure.kind, MeasureKind::Rating(_)));
    let rated: Vec<&str> = rated.map(|(_, measure)| measure.name.value.as_str()).collect();
    let kappa = material
        .analysis
        .measures
        .iter()
        .filter_map(|measure| measure.rating.as_ref())
        .any(|table| !table.raters.is_empty());
    (!rated.is_empty()).then(|| {
        say!(
            "Marks ({measures}) are what people saw: each has a scale of its own{kappa}, and whoever knows what lies where may mark by it. Only where the same people marked every section alike does what they mark too high or too low cancel between sections of one round.",
            kappa = if kappa { say!(", which kappa does not take out") } else { "" },
            measures = list(&rated, "and")
        )
    })
}

/// What is read on loose specimens says of the panel only what these share with it.
fn elsewhere(material: &Material<'_>) -> Option<String> {
    let (measure, _) = material.analysis.shown()?;
    let loose = material.study.loose(measure.measure)?;
    let coated = measure.sections.iter().filter(|one| matches!(one.treatment, Treatment::Product(_))).count();
    Some(say!(
        "{measure}, which is shown in full, was read on loose specimens ({name}; {coated} of them with a product) and not on the panel: that what lies on the panel \
         does as these do is taken, and not shown. They are what is counted; more readings on one add none.",
        measure = names::capital(names::measure(material.study, measure.measure)),
        name = loose.name.value,
        coated
    ))
}

/// Steps that some sections got and others did not.
fn partial_steps(study: &Study) -> Vec<String> {
    let upkeep = study.upkeep.iter().filter_map(|upkeep| match upkeep {
        Upkeep::Every { step, .. } => Some(&**step),
        Upkeep::None(_) => None,
    });
    let steps = study.prep.iter().chain(&study.before_each_round).chain(upkeep);
    let partial = steps.filter(|step| step.verb != Verb::Read);
    let told = partial.filter_map(|step| {
        Some(say!("\"{step}\" was done {where_done}: what these sections show is of what they carry and of that step together, and the two \
             cannot be told apart.", step = title(study, step), where_done = only_on(study, step)?))
    });
    told.collect()
}

fn sections_line(material: &Material<'_>) -> Option<String> {
    let study = material.study;
    let counts: Vec<usize> = study
        .products_with_ids()
        .map(|(id, _)| study.units_of(Treatment::Product(id)))
        .filter(|&n| n > 0)
        .collect();
    let (low, high) = (counts.iter().min()?, counts.iter().max()?);
    if let Unit::Piece(grouping) = study.unit_on_panel() {
        let piece = grouping.name.value.as_str();
        let each = if low == high {
            count(*low, piece)
        } else {
            say!("{low} to {high} {pieces}", low, high, pieces = plural(2, piece))
        };
        return Some(say!(
            "Each product lies on {each}: that is what is counted. More sections cut from one {piece}, and more readings, sharpen its mean and add no \
             {piece}.",
            each,
            piece
        ));
    }
    let each = if low == high { count(*low, "section") } else { say!("{low} to {high} sections", low, high) };
    let alone = if *low == 1 {
        say!(" A single section cannot tell its product from its place on the panel.")
    } else {
        ""
    };
    Some(say!(
        "Each product lies on {each}; more readings on a section sharpen its mean and add no section.{alone}",
        each,
        alone
    ))
}

fn basis_lines(material: &Material<'_>) -> Vec<String> {
    let Some((measure, round)) = material.analysis.shown() else { return Vec::new() };
    let basis: Option<&Basis> =
        round.to_bare.as_ref().ok().map(|t| &t.basis).or(round.lead.as_ref().ok().map(|t| &t.basis));
    let Some(basis) = basis else { return Vec::new() };
    let mut lines = Vec::new();
    if basis.taken_from_uncoated {
        lines.push(
            say!("Coated sections are taken to scatter as the bare ones do, since no product has two sections. This study \
             cannot check that.")
                .to_owned(),
        );
    }
    if round.to_bare.as_ref().is_ok_and(|table| table.control.n == 1) {
        let unit = names::unit(material.study, measure.measure);
        lines.push(say!(
            "One bare {unit} carries every difference to bare: where it stands, and whatever befell it alone, is in all of them alike. It has no scatter of its own, \
             so that bare is taken to scatter as the others do, which this study cannot check.",
            unit = plural(1, unit)
        ));
    }
    if basis.strength != Strength::Full {
        lines.push(format!(
            "{}.",
            names::capital(&names::strength(basis.strength, names::unit(material.study, measure.measure)))
        ));
    }
    lines
}

/// Measures of which half of the sections or more sit at an end of the scale at their last round read.
fn at_ends(material: &Material<'_>) -> Vec<String> {
    let study = material.study;
    let shown = material.analysis.shown().map(|(measure, round)| (measure.measure, round.round));
    let of = |measure: &MeasureAnalysis| {
        let last = measure.rounds.iter().rev().find(|round| round.state == RoundState::Read)?;
        let asked = measure.rounds.iter().find(|round| shown == Some((measure.measure, round.round)));
        let round = asked.unwrap_or(last);
        let at_end = round.at_end?;
        let end = match at_end.end {
            End::Lowest => say!("at the lower end"),
            End::Highest => say!("at the upper end"),
        };
        Some(say!(
            "{measure} cannot discriminate among {n} of {sections} at {round}: they sit {end} of its scale, within their own \
             uncertainty, and what lies beyond it does not show.",
            end,
            measure = names::capital(names::measure(study, measure.measure)),
            n = at_end.n,
            sections = count(at_end.of, "section"),
            round = names::round(study, round.round)
        ))
    };
    material.analysis.measures.iter().filter_map(of).collect()
}

fn missed_line(material: &Material<'_>) -> Option<String> {
    let study = material.study;
    let missed = study.rounds_with_ids().filter(|(id, _)| {
        let states = material.analysis.measures.iter().filter_map(|measure| Some(measure.round(*id)?.state));
        let states: Vec<RoundState> = states.collect();
        states.contains(&RoundState::Missed) && !states.contains(&RoundState::Read)
    });
    let missed: Vec<_> = missed.map(|(id, _)| names::round(study, id)).collect();
    (!missed.is_empty()).then(|| {
        say!(
            "Missed as a whole: {missed}. What happened in between is not known.",
            missed = list(&missed, "and")
        )
    })
}

/// What it means that the sites are compared together.
fn at_sites(material: &Material<'_>) -> Option<&'static str> {
    let study = material.study;
    study.by_site.as_ref()?;
    Some(if study.sites_are_in_the_differences() {
        say!(
            "The sites carry products unevenly and do not link them all: what one site does otherwise than another is in the \
             differences between products, and no interval shows it."
        )
    } else if matches!(study.unit_on_panel(), Unit::Section | Unit::Piece(_)) {
        say!(
            "The sites are compared together: what one does otherwise than the other is in the scatter, and, where a product \
             stands more often at one, in its mean."
        )
    } else if by_piece::over_sites(material) {
        say!(
            "Differences are averages over the sites of this study, each counting alike. What products do otherwise at one site than at \
             another is not in their intervals: these say nothing about another site, for which more sites would be needed."
        )
    } else if by_piece::stands_out(material) == Some(false) {
        say!(
            "The sites are compared together: bare stands otherwise to products at one than at another, which is in the scatter of \
             differences to bare, and which the means by site show."
        )
    } else if by_piece::stands_out(material) == Some(true) {
        say!(
            "The sites are compared together: products do otherwise at one than at another, which is in the scatter, and which the means \
             by site show."
        )
    } else {
        say!(
            "The sites are compared together: that a product does better at one than at another is in the scatter and is not \
             told apart."
        )
    })
}

/// ` at one site, the yard`, or nothing where the study does not expose the panel.
fn site(study: &Study) -> String {
    let sites: Vec<&str> = study.exposures.iter().map(|exposure| exposure.site.as_str()).collect();
    match sites.as_slice() {
        [] => String::new(),
        [""] => say!(" at one site").to_owned(),
        [site] => say!(" at one site, {site}", site),
        several => say!(" at {n} sites, {sites}", n = several.len(), sites = list(several, "and")),
    }
}

/// The measures with a share held, and those with a time until spent: what the error of a gauge does not cancel in.
fn absolute(material: &Material<'_>) -> (Vec<MeasureId>, Vec<MeasureId>) {
    let shares = shares_shown(material).into_iter().map(|(measure, _)| measure.measure).collect();
    let timed = material
        .analysis
        .measures
        .iter()
        .filter(|measure| measure.spent.iter().flatten().any(|section| section.when.is_ok()));
    (shares, timed.map(|measure| measure.measure).collect())
}

// Where a certificate states its uncertainty, or a tile was read, the size stands beside what it concerns.
fn gauge_error(material: &Material<'_>) -> Option<String> {
    let study = material.study;
    let silent = |all: Vec<MeasureId>| -> Vec<MeasureId> {
        all.into_iter().filter(|&measure| bias_known(material, measure).is_none()).collect()
    };
    let (shares, timed) = absolute(material);
    let read = |all: Vec<MeasureId>| -> Vec<MeasureId> {
        let rated = |id: &MeasureId| matches!(material.study.measure(*id).kind, MeasureKind::Rating(_));
        all.into_iter().filter(|id| !rated(id)).collect()
    };
    let has_bare = material.study.places().any(|(_, place)| place.treatment == Treatment::Bare);
    let (shares, timed) = (silent(read(shares)), silent(read(timed)));
    let what = match (shares.is_empty(), timed.is_empty()) {
        (true, true) => return None,
        (false, true) => say!("the shares held"),
        (true, false) => say!("the times until spent"),
        (false, false) => say!("the shares held and the times until spent"),
    };
    let concerned = |gauge: &&Gauge| {
        gauge.reads.iter().any(|read| shares.contains(&read.value) || timed.contains(&read.value))
    };
    let known: Vec<String> =
        study.gauges.iter().filter(concerned).map(|gauge| gauge_words(material, gauge)).collect();
    let known =
        if known.is_empty() { say!("the study declares no gauge").to_owned() } else { known.join("; ") };
    Some(say!(
        "What the gauge itself is off by, and how far it drifted since the reference round, is not in {what}: {known}. \
         In a difference {between} of the same round it cancels.",
        what,
        known,
        between = if has_bare { say!("to bare") } else { say!("between sections") }
    ))
}

fn gauge_words(material: &Material<'_>, gauge: &Gauge) -> String {
    let study = material.study;
    let certificate = if gauge.certificates.is_empty() {
        say!("no certificate")
    } else {
        say!("a certificate, whose uncertainty the study does not state")
    };
    let tile = match gauge.tile {
        Some(tile) => {
            say!(
                "a tile of {tile}, not read both at the reference and later",
                tile = names::tile(study, gauge, tile)
            )
        }
        None => say!("no tile").to_owned(),
    };
    say!("{gauge} has {certificate}, and {tile}", certificate, tile, gauge = gauge.title())
}

// Two gauges differ by more than either of them repeats to.
fn several_gauges(material: &Material<'_>) -> Vec<String> {
    let (shares, timed) = absolute(material);
    let readings = material.readings;
    let items = material.study.measures_with_ids().filter_map(|(id, measure)| {
        let cells = readings.cells().iter().filter(|cell| cell.measure == id);
        let named: BTreeSet<&str> = cells.flat_map(|cell| readings.gauges(cell)).collect();
        let named: BTreeSet<String> = named.into_iter().map(str::to_ascii_lowercase).collect();
        let concerned = shares.contains(&id) || timed.contains(&id);
        (concerned && named.len() > 1).then(|| {
            let named: Vec<String> = named.into_iter().collect();
            say!("{measure} was read with {named}. What parts these gauges is in the shares held and the times until spent as well.", measure = names::capital(&measure.name.value), named = list(&named, "and"))
        })
    });
    items.collect()
}
