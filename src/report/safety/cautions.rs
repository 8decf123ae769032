//! Cautions of the work itself, on the steps where they arise.

use crate::catalog::{Catalog, Caution, CautionWork, Class, Ground};
use crate::speech::say;
use crate::study::{MeasureId, Outline, PORES_DRIED_H, Product, StatedLabel, Step, Study, Verb};

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
        "oily: it heats up by itself, so it goes where the oily rags go; the bag of a suction cleaner is closed at once and goes whole \
         into their closed metal can, never emptied out"
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

/// The mask against dust that arises: that of the ground where it has one, else that of the class; of a ground that is not known
/// the stricter one.
pub(in crate::report) fn dust_mask(catalog: &Catalog, study: &Study, dust: &Class) -> Option<&'static str> {
    match ground(catalog, study) {
        Some(ground) => ground.dust_mask.or(dust.handling.breathing),
        None => catalog.unknown_dust_mask(),
    }
}

/// The class of the dust that a step makes or lifts without anything that has a card of its own.
pub(in crate::report) fn dust_of_step<'a>(catalog: &'a Catalog, step: &Step) -> Option<&'a Class> {
    let known = catalog.step(step.verb.word())?;
    let raised = |class: &&Class| known.raises.contains(&class.id);
    let is_bare = matches!(step.verb, Verb::Sand | Verb::Brush | Verb::Dust) && step.with.is_none();
    catalog.classes().iter().find(raised).filter(|_| is_bare)
}

/// What the papers must say where it is not known what the work touches.
pub(in crate::report) fn unknown_ground(catalog: &Catalog, study: &Study) -> Option<String> {
    // Who names no material is not warned of dust that nobody makes.
    let unsaid = study.surface.material.is_none() && !grips_the_ground(catalog, study);
    if unsaid || ground(catalog, study).is_some() {
        return None;
    }
    let told = match &study.surface.material {
        Some(material) => {
            say!("What the work touches is not known: “{material}”.", material = material.value)
        }
        None => say!("What the work touches is not known: the study names no material.").to_owned(),
    };
    let left_out = say!(
        "Cautions of its dust, its pores and its old coatings are left out: quartz of stone, wood that causes cancer, lead, bleach and \
         acid that meet in pores. Find out what it is before work starts and name it in the study; until then the stricter mask."
    );
    Some(format!("{told} {left_out}"))
}

/// Whether some step makes dust of the ground, or leaves bleach or acid in it.
fn grips_the_ground(catalog: &Catalog, study: &Study) -> bool {
    let steps = study.prep.iter().chain(&study.before_each_round).chain(study.cycle_steps());
    let class = |step: &Step| study.supply(step.with.as_ref()?.value).kind.as_ref()?.class;
    let stays = |step: &Step| class(step).is_some_and(|own| own.is_in("hypochlorite") || own.is_in("acid"));
    let dusts = |step: &Step| catalog.step(step.verb.word()).is_some_and(|known| !known.raises.is_empty());
    let between = study.products.iter().any(|own| dust_between(catalog, study, own).is_some());
    between || steps.into_iter().any(|step| dusts(step) || stays(step))
}

/// Whether what is put on may stay in pores; so it is held of a ground that is not known.
pub(in crate::report) fn has_pores(catalog: &Catalog, study: &Study) -> bool {
    ground(catalog, study).is_none_or(|ground| ground.porous)
}

/// What a step of bleach or acid must say where the other one is still in the pores; `before` are the steps up to it.
pub(in crate::report) fn kept_in_pores(
    catalog: &Catalog,
    study: &Study,
    before: &[&Step],
    step: &Step,
) -> Option<String> {
    let steps: Vec<&Step> = before.iter().copied().chain([step]).collect();
    // Every meeting up to here, so that the third of three says it as well.
    let (earlier, later) = (0..steps.len()).rev().find_map(|from| study.met_in_pores(&steps[from..]))?;
    if later.span != step.span || !has_pores(catalog, study) {
        return None;
    }
    let earlier = earlier.with.as_ref().map(|with| study.supply(with.value).title())?;
    Some(say!(
        "Stop: {earlier} is still in the pores, where no rinse reaches it, and what comes now makes chlorine gas of it, which can kill. \
         First let it dry for {hours} h and rinse again, or leave one of the two out.",
        earlier,
        hours = PORES_DRIED_H
    ))
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
