//! Cautions of the work itself, on the steps where they arise.

use crate::catalog::{Catalog, Caution, CautionWork, Class, Ground};
use crate::speech::say;
use crate::study::{MeasureId, Outline, Product, StatedLabel, Step, Study};

/// The cautions of a step; those of the place where the panel stands are told once, by [`of_place`].
pub(in crate::report) fn of_work<'a>(catalog: &'a Catalog, study: &Study, step: &Step) -> Vec<&'a Caution> {
    let supply = step.with.as_ref().map(|with| study.supply(with.value));
    let class = supply.and_then(|supply| supply.kind.as_ref()).and_then(|kind| kind.class);
    let measure = step.measure.as_ref().map_or("", |own| study.measure(own.value).name.value.as_str());
    let texts = [step.tool.as_deref().unwrap_or_default(), step.prose.as_str(), measure];
    let hazards = hazards(supply.and_then(|supply| supply.label()));
    let (verb, height_mm) = (step.verb.word(), height(study));
    let packing = supply.filter(|supply| supply.is_aerosol()).and_then(|_| catalog.aerosol());
    let ground = ground(catalog, study);
    arising(catalog, &CautionWork { verb, class, hazards, packing, texts: &texts, ground, height_mm })
}

/// The cautions of applying a product; `between` says that what is done between its coats belongs to it.
pub(in crate::report) fn of_application<'a>(
    catalog: &'a Catalog,
    study: &Study,
    product: &Product,
    between: bool,
) -> Vec<&'a Caution> {
    let class = product.kind.as_ref().and_then(|kind| kind.class);
    let (hazards, height_mm) = (hazards(product.label()), height(study));
    let packing = catalog.aerosol().filter(|_| product.is_aerosol());
    let (verb, ground) = ("apply", ground(catalog, study));
    let tool = product.tool.as_ref().map_or("", |tool| tool.how.as_str());
    let texts = [if between { done_between(product) } else { "" }, tool];
    arising(catalog, &CautionWork { verb, class, hazards, packing, texts: &texts, ground, height_mm })
}

// What is done between coats is said in words only.
fn done_between(product: &Product) -> &str {
    product.coats.as_ref().and_then(|coats| coats.between.as_deref()).unwrap_or_default()
}

/// The class of the dust that is made between the coats of a product, where that is rubbed.
pub(in crate::report) fn dust_between<'a>(
    catalog: &'a Catalog,
    study: &Study,
    product: &Product,
) -> Option<&'a Class> {
    let rubbed = of_words(catalog, study, "rub", done_between(product)).iter().any(|own| own.id == "dust");
    let of_sanding = &catalog.step("sand")?.raises;
    catalog.classes().iter().find(|class| rubbed && of_sanding.contains(&class.id))
}

/// Where dust goes that a drying oil is in.
pub(in crate::report) fn oily_dust() -> &'static str {
    say!(
        "oily: it heats up by itself, so it goes where the oily rags go, and the bag of a suction cleaner is emptied there at once"
    )
}

/// The cautions that arise by what the study says of the place where the panel stands, whatever is done there.
pub(in crate::report) fn of_place<'a>(catalog: &'a Catalog, study: &Study, place: &str) -> Vec<&'a Caution> {
    of_words(catalog, study, "put", place)
}

fn of_words<'a>(catalog: &'a Catalog, study: &Study, verb: &str, text: &str) -> Vec<&'a Caution> {
    let (texts, ground) = ([text], ground(catalog, study));
    let (class, hazards, packing, height_mm) = (None, None, None, None);
    arising(catalog, &CautionWork { verb, class, hazards, packing, texts: &texts, ground, height_mm })
}

fn hazards(stated: Option<&StatedLabel>) -> Option<&[String]> {
    stated.map(|stated| stated.hazards.as_slice())
}

/// The cautions of reading a measure, as of one that is read under a UV lamp.
pub(in crate::report) fn of_reading<'a>(
    catalog: &'a Catalog,
    study: &Study,
    measure: MeasureId,
) -> Vec<&'a Caution> {
    let texts = [study.measure(measure).name.value.as_str()];
    let (hazards, height_mm) = (None, height(study));
    let packing = None;
    let (verb, class, ground) = ("read", None, ground(catalog, study));
    arising(catalog, &CautionWork { verb, class, hazards, packing, texts: &texts, ground, height_mm })
}

fn arising<'a>(catalog: &'a Catalog, work: &CautionWork<'_>) -> Vec<&'a Caution> {
    catalog.cautions().iter().filter(|caution| caution.arises(work)).collect()
}

/// The mask against dust that arises: that of the ground where it has one, else that of the class.
pub(in crate::report) fn dust_mask(catalog: &Catalog, study: &Study, dust: &Class) -> Option<&'static str> {
    ground(catalog, study).and_then(|ground| ground.dust_mask).or(dust.handling.breathing)
}

fn ground<'a>(catalog: &'a Catalog, study: &Study) -> Option<&'a Ground> {
    catalog.ground(&study.surface.material.as_ref()?.value)
}

fn height(study: &Study) -> Option<f64> {
    let (_, top, _, bottom) = study
        .surface
        .outline
        .as_ref()
        .map(|located: &crate::text::Located<Outline>| located.value.bounds())?;
    Some(bottom - top)
}
