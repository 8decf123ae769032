//! What the steps use besides supplies, products and the tools that the study names: buckets, towels, timers, what helps when something
//! goes wrong. Common practice, no source, where nothing else is said.

use super::super::safety::Entry;
use super::amounts;
use super::apart::{self, Thing};
use super::steps::{mix, supply};
use super::work::work;
use crate::catalog::{Catalog, Class, Need};
use crate::diag::list;
use crate::study::{MeasureKind, Step, Study, Supply, Treatment, Verb};

/// Everything, each once, in the order in which the steps ask for it.
pub(super) fn kit(study: &Study, catalog: &Catalog, steps: &[&Step]) -> Vec<Entry> {
    let mut kit = Kit(Vec::new());
    for step in steps {
        of_step(&mut kit, study, catalog, step);
    }
    timing(&mut kit, study, steps);
    measuring(&mut kit, study, catalog);
    coating(&mut kit, study);
    for gauge in study.gauges.iter().filter(|gauge| gauge.tile.is_some()) {
        kit.add("Its tile, clean", &gauge.name.value);
    }
    if study.photos.is_some() {
        kit.add("Camera", "photos of every section");
    }
    by_eye(&mut kit, study);
    when_it_goes_wrong(&mut kit, study, catalog);
    kit.entries()
}

/// Things with what each is for.
struct Kit(Vec<(String, Vec<String>)>);

impl Kit {
    fn add(&mut self, what: &str, reason: &str) {
        match self.0.iter_mut().find(|(known, _)| known == what) {
            Some((_, reasons)) if reasons.iter().any(|own| own == reason) => {}
            Some((_, reasons)) => reasons.push(reason.to_owned()),
            None => self.0.push((what.to_owned(), vec![reason.to_owned()])),
        }
    }

    /// A thing of which each reason has one for itself.
    fn add_own(&mut self, what: &str, reason: String) {
        if !self.0.iter().any(|(known, reasons)| known == what && *reasons == [reason.as_str()]) {
            self.0.push((what.to_owned(), vec![reason]));
        }
    }

    fn entries(self) -> Vec<Entry> {
        let told = self
            .0
            .into_iter()
            .map(|(what, reasons)| Entry::new(what, format!("for {}", list(&reasons, "and"))));
        told.collect()
    }
}

fn class(study: &Study, step: &Step) -> Option<&'static Class> {
    supply(study, step)?.kind.as_ref()?.class
}

fn of_step(kit: &mut Kit, study: &Study, catalog: &Catalog, step: &Step) {
    let name = supply(study, step).map_or("", |supply| supply.name.value.as_str());
    let class = class(study, step);
    let asks = catalog.step(step.verb.word()).is_some_and(|known| known.needs_supply == Need::Always);
    if asks && step.with.is_none() {
        kit.add("What is not named yet: choose it, and name it in the study", step.verb.word());
    }
    if step.tool.is_none() {
        let own = class.is_some_and(|class| class.work.change.is_some());
        match step.verb {
            Verb::Wash | Verb::Decontaminate | Verb::Clean if own => {
                kit.add_own("A bucket, and a brush or sponge, for it alone", name.to_owned());
            }
            Verb::Mark if supply(study, step).is_some_and(Supply::is_aerosol) => {
                kit.add("Masking film with a window of the size of the patch, and waste card", name);
            }
            Verb::Wash => kit.add("Two buckets and a wash mitt", "the wash"),
            Verb::Dry => kit.add("Drying towels, clean and dry", "drying"),
            Verb::Clay => kit.add("Clay, as a bar or pad, and a spare one", "claying"),
            Verb::Compound | Verb::Polish => kit.add("Pads, one for each, and spare ones", step.verb.word()),
            Verb::Dust => kit.add("Suction and clean cloths", "the dust"),
            Verb::Brush => kit.add("A brush without steel", "brushing"),
            Verb::Seal => kit.add("A small brush", "sealing edges"),
            Verb::Wipe if !step.fresh_cloth => kit.add("Clean lint-free cloths", "wiping"),
            _ => {}
        }
    } else if matches!(step.verb, Verb::Compound | Verb::Polish) {
        kit.add("Spare clean pads", step.verb.word());
    }
    if let Some(grit) = &step.grit {
        kit.add(&format!("Abrasive, grit {}, and spare sheets", grit.value), "sanding");
    }
    if step.rinse || step.verb == Verb::Rinse {
        kit.add("Clean running water", "rinsing");
    }
    let caught =
        class.and_then(|class| class.handling.rinse_water).is_some_and(|water| water.starts_with("caught"));
    if caught && step.rinse {
        kit.add(
            "A tray or a sheet with a raised edge, and a lidded can",
            &format!("the rinse water of {name}"),
        );
    }
}

fn timing(kit: &mut Kit, study: &Study, steps: &[&Step]) {
    let timed = |step: &&Step| step.dwell.is_some() || step.wait.is_some();
    let flashes =
        study.products.iter().flat_map(crate::study::Product::each_coat).any(|coat| coat.off.is_some());
    let pulled = study.apply.as_ref().is_some_and(|apply| apply.tape_off.is_some());
    if steps.iter().any(timed) || flashes || pulled {
        kit.add("A timer, and one more for each thing that acts at the same time", "dwell and waits");
    }
}

fn measuring(kit: &mut Kit, study: &Study, catalog: &Catalog) {
    let mut small: Vec<&str> = Vec::new();
    let mut mixed = false;
    for work in work(study) {
        let Some((supply, mix)) = supply(study, work.step).zip(mix(study, work.step)) else { continue };
        if let Some(Ok(batch)) = amounts::batch(catalog, study, work.step, supply, mix) {
            mixed = true;
            small.extend(batch.small_tool());
        }
    }
    for (id, _) in study.products_with_ids() {
        let mixes = amounts::coat_mixes(catalog, study, id);
        mixed |= mixes.iter().any(|own| own.batch.is_some());
    }
    if mixed {
        kit.add("A measuring cup or cylinder, and empty bottles with labels", "the mixes");
    }
    for tool in small {
        kit.add(&format!("A {tool}"), "small amounts");
    }
    // What is left of one product in a syringe would be in the next.
    let mut dosed: Vec<(&str, Vec<&str>)> = Vec::new();
    for (id, product) in study.products_with_ids() {
        let tool = amounts::need(study, id, product.each_coat()).and_then(|need| need.small_tool());
        let Some(tool) = tool else { continue };
        if tool == amounts::SCALE {
            kit.add(&format!("A {tool}"), "small amounts");
            continue;
        }
        match dosed.iter_mut().find(|(known, _)| *known == tool) {
            Some((_, names)) => names.push(product.title()),
            None => dosed.push((tool, vec![product.title()])),
        }
    }
    for (tool, names) in dosed {
        let what = if names.len() > 1 { format!("{} x {tool}", names.len()) } else { format!("A {tool}") };
        let each = if names.len() > 1 { "one each for " } else { "" };
        kit.add_own(&what, format!("{each}{}", list(&names, "and")));
    }
}

/// Marks that ask for a loupe.
fn by_eye(kit: &mut Kit, study: &Study) {
    for measure in &study.measures {
        let MeasureKind::Rating(scale) = &measure.kind else { continue };
        let words = scale.words.iter().flat_map(|(_, words)| words.split(|c: char| !c.is_alphabetic()));
        if words.into_iter().any(|word| ["loupe", "magnifier"].contains(&word)) {
            kit.add("A loupe", &measure.name.value);
        }
    }
}

fn coating(kit: &mut Kit, study: &Study) {
    let coated = study.sections.iter().any(|section| matches!(section.treatment, Treatment::Product(_)));
    if coated {
        let between = study.products.iter().filter_map(|own| own.coats.as_ref()?.between.as_deref());
        for words in between {
            kit.add(&format!("What it takes to {words}"), "between coats");
        }
        kit.add("Applicators and buffing cloths, one of each for each product and coat", "the application");
        kit.add(
            "Thermometer and hygrometer for the air, and a thermometer for the surface",
            "the climate of the application",
        );
    } else if study.prep_surface_below.is_some() {
        kit.add("A thermometer for the surface", "each step");
    }
}

/// Eyes, spills, fire and waste, as the classes of the study ask for them.
fn when_it_goes_wrong(kit: &mut Kit, study: &Study, catalog: &Catalog) {
    let supplies = study.supplies.iter().filter(|supply| supply.gear.is_none());
    let kinds =
        supplies.map(|own| own.kind.as_ref()).chain(study.products.iter().map(|own| own.kind.as_ref()));
    let classes: Vec<Option<&Class>> = kinds.map(|kind| kind.and_then(|kind| kind.class)).collect();
    let any = |group: &str| classes.iter().flatten().any(|class| class.is_in(group));
    // What is not known counts as a chemical.
    if classes.iter().any(|class| class.is_none_or(|class| class.id != "water")) {
        kit.add("An eye rinse bottle, or running water at hand, and a telephone", "first aid");
        kit.add("Something that soaks up, and a lidded container for it", "spills and waste");
    }
    if any("fluoride") {
        kit.add("Calcium gluconate gel 2.5 %, within reach", "fluoride on skin");
    }
    let cans = apart::cans(study, catalog);
    for can in &cans {
        let names: Vec<&str> = can.iter().map(|thing: &Thing<'_>| thing.name).collect();
        kit.add_own("A closed metal can", format!("cloths with {}", list(&names, "or")));
    }
    if !cans.is_empty() {
        kit.add("The extinguisher that section 5 of the data sheets names", "fire");
    }
}
