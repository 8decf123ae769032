//! What the answer rests on: its unit and scatter, what it lacks, and what leaving readings out changed.

use super::asked::Place;
use super::names;
use crate::analysis::{Analysis, Basis, GroupSeries, LeadTable, Missing, Restored, RoundAnalysis};
use crate::diag::{count, list};
use crate::study::{ProductId, Unit};

/// The unit, and how far sections treated alike scatter.
pub(super) fn rests_on(at: Place<'_>, round: &RoundAnalysis) -> Option<String> {
    let basis = match (&round.to_bare, &round.lead) {
        (Ok(table), _) => &table.basis,
        (Err(_), Ok(table)) => &table.basis,
        _ => return None,
    };
    let spread = basis.spread?;
    let from: Vec<String> =
        basis.from.iter().map(|&treatment| names::treatment(at.study, treatment)).collect();
    let from = if from.len() > 4 {
        format!("{} with two or more sections", count(from.len(), "treatment"))
    } else {
        list(&from, "and")
    };
    let style = at.style();
    let mut text = format!(
        "{} by {} (one standard deviation{}, {}, from {from}).",
        unit_words(at, basis),
        super::numbers::with_unit(&super::numbers::fixed(spread.sd, style.decimals + 1), style.unit),
        basis.spread_interval.map_or_else(String::new, |interval| {
            let end = |value| super::numbers::fixed(value, style.decimals + 1);
            format!(", 95 % interval {} to {}", end(interval.low), end(interval.high))
        }),
        super::numbers::degrees(spread.df)
    );
    if basis.own_spreads {
        text += " That is over all; since the study says that spreads differ, each treatment is judged by its own.";
    }
    if basis.taken_from_uncoated {
        text += " No product has two sections, so coated sections are taken to scatter as these do, which cannot be \
                 checked here.";
    }
    Some(text)
}

/// What is compared, and what scatters.
fn unit_words(at: Place<'_>, basis: &Basis) -> String {
    match at.study.unit(at.question.measure) {
        Unit::Section => "The unit is the section. Sections treated alike scatter".to_owned(),
        Unit::Piece(grouping) => {
            let name = &grouping.name.value;
            format!(
                "The unit is the {name}: each {name} carries one product only, and its sections are averaged. {}s treated \
                 alike scatter",
                names::capital(name)
            )
        }
        Unit::Within(grouping) if basis.within_pieces => format!(
            "Each {0} carries every product equally often, so that products are compared within each {0}. Beside what \
             the {0} adds, sections scatter",
            grouping.name.value
        ),
        Unit::Within(grouping) => format!(
            "The unit is the section. Each {0} was to carry every product equally often; a section is missing here, so \
             that what one {0} adds is in the scatter. Sections treated alike scatter",
            grouping.name.value
        ),
    }
}

pub(super) fn lacking(at: Place<'_>, analysis: &Analysis, round: &RoundAnalysis) -> String {
    let Some(measure) = analysis.measure(at.question.measure) else { return String::new() };
    let groups = measure.groups.iter().filter_map(|group| group.at.iter().find(|g| g.round == round.round));
    let lacking: Vec<String> = groups
        .flat_map(|group| group.lacking.iter().chain(&group.lacking_change))
        .filter(|(_, why)| !matches!(why, Missing::Stopped))
        .map(|&(section, why)| format!("{} ({})", names::section(at.study, section), names::missing(why)))
        .collect();
    if lacking.is_empty() {
        String::new()
    } else {
        format!("Not in this comparison: {}.", list(&lacking, "and"))
    }
}

/// Patches that the rule of the cycle had stopped before the round, and how they count.
pub(super) fn stopped(at: Place<'_>, analysis: &Analysis, round: &RoundAnalysis) -> Option<String> {
    let measure = analysis.measure(at.question.measure)?;
    let of = |group: &GroupSeries| {
        let here = group.at.iter().find(|g| g.round == round.round)?;
        let n = here.lacking.iter().filter(|(_, why)| matches!(why, Missing::Stopped)).count();
        let name = names::treatment(at.study, group.treatment);
        (n > 0).then(|| format!("{n} of {} of {name}", count(group.sections.len(), "patch")))
    };
    let stopped: Vec<String> = measure.groups.iter().filter_map(of).collect();
    (!stopped.is_empty()).then(|| {
        format!(
            "Stopped by the rule of the cycle before {}: {}. They count with the value at which they were stopped; going \
             on would have left them as bad or worse.",
            at.round(),
            list(&stopped, "and")
        )
    })
}

pub(super) fn put_back(at: Place<'_>, analysis: &Analysis, restored: &Restored) -> String {
    let n = restored.left_out;
    let head =
        format!("{} {} left out, with a reason.", count(n, "reading"), if n == 1 { "is" } else { "are" });
    let now = analysis.deciding().and_then(|(_, round)| leaders(round.lead.as_ref().ok()));
    let then = leaders(restored.lead.as_ref().ok());
    let them = if n == 1 { "it" } else { "them" };
    match (now, then) {
        (Some(now), Some(then)) if now == then => {
            format!("{head} With {them} put back, the same products may lead.")
        }
        (_, Some(then)) => {
            format!(
                "{head} With {them} put back, these may lead: {}.",
                list(&names::products(at.study, &then), "and")
            )
        }
        _ => format!("{head} Both results stand below."),
    }
}

fn leaders(table: Option<&LeadTable>) -> Option<Vec<ProductId>> {
    table.and_then(|table| table.may_lead.as_ref().ok().cloned())
}
