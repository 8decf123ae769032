//! Cautions of the work itself, on the steps where they arise.

use crate::catalog::{Catalog, Caution, CautionWork};
use crate::study::{Outline, Product, StatedLabel, Step, Study};

/// The cautions of a step; `place` is what the study says of the place where it is done, which counts once the
/// panel is out.
pub(in crate::report) fn of_work<'a>(
    catalog: &'a Catalog,
    study: &Study,
    step: &Step,
    place: &str,
) -> Vec<&'a Caution> {
    let supply = step.with.as_ref().map(|with| study.supply(with.value));
    let class = supply.and_then(|supply| supply.kind.as_ref()).and_then(|kind| kind.class);
    let texts = [step.tool.as_deref().unwrap_or_default(), step.prose.as_str(), place];
    let hazards = hazards(supply.and_then(|supply| supply.stated.as_ref()));
    let (verb, height_mm) = (step.verb.word(), height(study));
    arising(catalog, &CautionWork { verb, class, hazards, texts: &texts, height_mm })
}

/// The cautions of applying a product.
pub(in crate::report) fn of_application<'a>(
    catalog: &'a Catalog,
    study: &Study,
    product: &Product,
) -> Vec<&'a Caution> {
    let class = product.kind.as_ref().and_then(|kind| kind.class);
    let (hazards, height_mm) = (hazards(product.stated.as_ref()), height(study));
    arising(catalog, &CautionWork { verb: "apply", class, hazards, texts: &[], height_mm })
}

fn hazards(stated: Option<&StatedLabel>) -> &[String] {
    stated.map_or(&[], |stated| &stated.hazards)
}

fn arising<'a>(catalog: &'a Catalog, work: &CautionWork<'_>) -> Vec<&'a Caution> {
    catalog.cautions().iter().filter(|caution| caution.arises(work)).collect()
}

fn height(study: &Study) -> Option<f64> {
    let (_, top, _, bottom) = study
        .surface
        .outline
        .as_ref()
        .map(|located: &crate::text::Located<Outline>| located.value.bounds())?;
    Some(bottom - top)
}
