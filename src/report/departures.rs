//! Where products that may lead departed from the plan, so that nobody reads of the lead alone.

use super::blocks::Topic;
use super::claim::Claim;
use super::material::Material;
use super::names;
use crate::analysis::Missing;
use crate::diag::{Finding, Severity};
use crate::speech::{count, list, say};
use crate::study::{MeasureId, ProductId, Treatment};

/// Sections lost, readings left out, findings waived and findings left, product by product; `None` where there are none.
pub(super) fn of_leaders(
    material: &Material<'_>,
    measure: MeasureId,
    leaders: &[ProductId],
) -> Option<Claim> {
    let told: Vec<(Topic, String)> =
        leaders.iter().filter_map(|&id| of_product(material, measure, id)).collect();
    let (topic, _) = told.first()?;
    let words: Vec<&str> = told.iter().map(|(_, words)| words.as_str()).collect();
    let told = list(&words, "and");
    Some(Claim::new(say!("Departures from the plan among those that may lead: {told}.", told), *topic))
}

/// Sections of a treatment that were to be read at the round of the question and have no number there; of one that the rule of the cycle
/// stopped the plan is kept.
fn lost(material: &Material<'_>, measure: MeasureId, treatment: Treatment) -> usize {
    let Some(question) = material.analysis.question.filter(|question| question.measure == measure) else {
        return 0;
    };
    let group = material.analysis.measure(measure).and_then(|measure| measure.group(treatment));
    let here = group.and_then(|group| group.at.iter().find(|at| at.round == question.round));
    let kept = |why: Missing| matches!(why, Missing::Stopped | Missing::NotPlanned | Missing::BelowGauge);
    here.map_or(0, |here| here.lacking.iter().filter(|(_, why)| !kept(*why)).count())
}

fn of_product(material: &Material<'_>, measure: MeasureId, id: ProductId) -> Option<(Topic, String)> {
    let study = material.study;
    let product = Treatment::Product(id);
    let own = |code: &str| study.places().any(|(_, place)| place.code == code && place.treatment == product);
    let name = study.treatment_name(product);
    let is_about = |finding: &Finding| finding.about.iter().any(|about| about == name || own(about));
    let left_out = study.readings.iter().flat_map(|file| &file.leave_out);
    let left_out =
        left_out.filter(|out| out.measure == measure && study.section(out.section).treatment == product);
    let waived = material.waived.iter().filter(|waived| is_about(&waived.finding)).count();
    let left = material
        .findings
        .iter()
        .filter(|finding| finding.severity != Severity::Advice && is_about(finding))
        .count();
    let readings = left_out.count();
    let lost = lost(material, measure, product);
    let kinds = [
        (lost, say!("{sections} lost", sections = count(lost, "section")), Topic::Change),
        (readings, say!("{readings} left out", readings = count(readings, "reading")), Topic::LeftOut),
        (waived, say!("{findings} waived", findings = count(waived, "finding")), Topic::Waived),
        (left, say!("{findings} left", findings = count(left, "finding")), Topic::Findings),
    ];
    let there = || kinds.iter().filter(|(n, ..)| *n > 0);
    let (.., topic) = there().next()?;
    let parts: Vec<&str> = there().map(|(_, words, _)| words.as_str()).collect();
    Some((*topic, format!("{} ({})", names::product(study, id), parts.join(", "))))
}
