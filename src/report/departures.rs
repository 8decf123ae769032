//! Where products that may lead departed from the plan, so that nobody reads of the lead alone.

use super::blocks::Topic;
use super::claim::Claim;
use super::material::Material;
use super::{cautions, names};
use crate::analysis::Missing;
use crate::diag::{Finding, Severity};
use crate::speech::{count, list, say};
use crate::study::{MeasureId, ProductId, SectionId, Treatment};

/// Flags that honest readings raise now and then, and what the answer tells by itself: no plan was departed from.
const NO_DEPARTURES: [&str; 3] = ["reading-far-off", "section-far-off", "goes-with-treatment"];

/// More products than this are counted and not named.
const FEW: usize = 4;

/// What was read outside of its window, or lost, at the round of the question on any other product: a departure may push a product out
/// as well as in.
pub(super) fn of_others(material: &Material<'_>, leaders: &[ProductId]) -> Option<Claim> {
    let (measure, round) = material.analysis.deciding()?;
    let study = material.study;
    let others =
        round.lead.as_ref().ok()?.rows.iter().map(|row| row.product).filter(|id| !leaders.contains(id));
    let window = study.round(round.round).window;
    let late = |id: ProductId| {
        let cells = material
            .readings
            .cells()
            .iter()
            .filter(|cell| cell.round == round.round && cell.measure == measure.measure);
        let own = cells.filter(|cell| study.section(cell.section).treatment == Treatment::Product(id));
        let outside = |(first, last)| window.is_some_and(|window| first < window.first || last > window.last);
        own.filter(|cell| cell.dates.is_some_and(outside)).count()
    };
    let told = others.filter_map(|id| {
        let (late, lost) = (late(id), lost(material, measure.measure, Treatment::Product(id)));
        let kinds = [
            (late, say!("{sections} read outside of the window", sections = count(late, "section"))),
            (lost, say!("{sections} lost", sections = count(lost, "section"))),
        ];
        let words: Vec<&str> =
            kinds.iter().filter(|(n, _)| *n > 0).map(|(_, words)| words.as_str()).collect();
        (!words.is_empty()).then(|| format!("{} ({})", names::product(study, id), words.join(", ")))
    });
    let told: Vec<String> = told.collect();
    let text = match told.len() {
        0 => return None,
        n if n > FEW => say!(
            "Departures from the plan at {round} among the others: {products}.",
            round = names::round(study, round.round),
            products = count(n, "product")
        ),
        _ => say!(
            "Departures from the plan at {round} among the others: {told}.",
            round = names::round(study, round.round),
            told = list(&told, "and")
        ),
    };
    Some(Claim::new(text, Topic::Findings))
}

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
    // A site that was not read is told as a whole.
    let sites = cautions::sites_asked(material);
    let elsewhere = |section| sites.as_ref().is_some_and(|sites| sites.lacks(section));
    let lost = |&&(section, why): &&(SectionId, Missing)| !kept(why) && !elsewhere(section);
    here.map_or(0, |here| here.lacking.iter().filter(lost).count())
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
        .filter(|finding| !NO_DEPARTURES.contains(&finding.code))
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
