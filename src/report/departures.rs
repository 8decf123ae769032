//! Where products that may lead departed from the plan, so that nobody reads of the lead alone.

use super::blocks::Topic;
use super::claim::Claim;
use super::material::Material;
use super::{as_recorded, cautions, names};
use crate::analysis::Missing;
use crate::diag::{Finding, Severity};
use crate::readings::Cell;
use crate::speech::{count, list, say};
use crate::study::{Disclosure, MeasureId, ProductId, Reach, SectionId, Treatment};
use jiff::civil::Date;
use std::collections::BTreeSet;

/// Flags that honest readings raise now and then, and what the answer tells by itself: no plan was departed from.
const NO_DEPARTURES: [&str; 3] = ["reading-far-off", "section-far-off", "goes-with-treatment"];

/// More products than this are counted and not named.
const FEW: usize = 4;

/// What was put on or read outside of its window, or lost, up to the round of the question on any other product: a departure may push a
/// product out as well as in.
fn of_others(material: &Material<'_>, leaders: &[ProductId]) -> Option<Claim> {
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
        let kinds = kinds.into_iter().filter(|(n, _)| *n > 0).map(|(_, words)| words);
        let words: Vec<String> = as_recorded::coats_outside(study, id).into_iter().chain(kinds).collect();
        (!words.is_empty()).then(|| format!("{} ({})", names::product(study, id), words.join(", ")))
    });
    let told: Vec<String> = told.collect();
    let text = match told.len() {
        0 => return None,
        n if n > FEW => say!(
            "Departures from the plan up to {round} among the others: {products}.",
            round = names::round(study, round.round),
            products = count(n, "product")
        ),
        _ => say!(
            "Departures from the plan up to {round} among the others: {told}.",
            round = names::round(study, round.round),
            told = list(&told, "and")
        ),
    };
    Some(Claim::new(text, Topic::Findings))
}

/// What went otherwise than planned: of those that may lead, of the others, of makers who gave, and what happened on single sections.
pub(super) fn all(material: &Material<'_>, measure: MeasureId, leaders: &[ProductId]) -> Vec<Claim> {
    let told = [
        of_leaders(material, measure, leaders),
        of_others(material, leaders),
        of_makers(material, leaders),
        incidents(material),
    ];
    told.into_iter().flatten().collect()
}

/// Sections lost, readings left out, findings waived and findings left, product by product; `None` where there are none.
fn of_leaders(material: &Material<'_>, measure: MeasureId, leaders: &[ProductId]) -> Option<Claim> {
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
    let left = material.findings.iter().filter(|one| one.severity != Severity::Advice && is_about(one));
    let left = left.filter(|finding| !NO_DEPARTURES.contains(&finding.code));
    let codes: BTreeSet<&str> = left.clone().map(|finding| finding.code).collect();
    let (left, codes) = (left.count(), codes.into_iter().collect::<Vec<_>>().join(", "));
    let readings = left_out.count();
    let lost = lost(material, measure, product);
    let kinds = [
        (lost, say!("{sections} lost", sections = count(lost, "section")), Topic::Change),
        (readings, say!("{readings} left out", readings = count(readings, "reading")), Topic::LeftOut),
        (waived, say!("{findings} waived", findings = count(waived, "finding")), Topic::Waived),
        (left, say!("{findings} left: {codes}", codes, findings = count(left, "finding")), Topic::Findings),
    ];
    let there = || kinds.iter().filter(|(n, ..)| *n > 0);
    // A coat outside its window is a finding as well, left or waived.
    let (.., topic) = there().next()?;
    let parts = there().map(|(_, words, _)| words.clone());
    let parts: Vec<String> = as_recorded::coats_outside(study, id).into_iter().chain(parts).collect();
    Some((*topic, format!("{} ({})", names::product(study, id), parts.join(", "))))
}

/// Products that may lead and were given by their makers, or whose makers paid for the test.
fn of_makers(material: &Material<'_>, leaders: &[ProductId]) -> Option<Claim> {
    let study = material.study;
    let given = |id: &&ProductId| {
        matches!(study.product(**id).disclosure, Some(Disclosure::Given | Disclosure::PaidFor))
    };
    let given: Vec<ProductId> = leaders.iter().filter(given).copied().collect();
    let given = (!given.is_empty()).then(|| list(&names::products(study, &given), "and"))?;
    let text = say!("Given or paid for by the maker, so perhaps not what a shop sells: {given}.", given);
    Some(Claim::new(text, Topic::Products))
}

/// Incidents on single sections that count at the round of the question: the answer is told with them.
fn incidents(material: &Material<'_>) -> Option<Claim> {
    let (_, round) = material.analysis.deciding()?;
    let study = material.study;
    let read = |section: SectionId, day: Date| {
        let own = |cell: &&Cell| cell.section == section && cell.round == round.round;
        let cells = material.readings.cells().iter().filter(own);
        cells.filter_map(|cell| cell.dates).any(|(_, last)| day <= last)
    };
    let mut told: Vec<String> = Vec::new();
    for entry in study.log.iter().filter(|entry| !entry.ends) {
        let Reach::Sections(sections) = &entry.reach else { continue };
        for &section in sections.iter().filter(|&&section| read(section, entry.date.value)) {
            let treatment = names::treatment(study, study.section(section).treatment);
            let code = names::section(study, section);
            let one = say!("{code} of {treatment}", code, treatment);
            if !told.contains(&one) {
                told.push(one);
            }
        }
    }
    let text = match told.len() {
        0 => return None,
        n if n > FEW => say!("Incidents touched {sections} that count here.", sections = count(n, "section")),
        _ => say!("Touched by an incident and counted here: {sections}.", sections = list(&told, "and")),
    };
    Some(Claim::new(text, Topic::Incidents))
}
