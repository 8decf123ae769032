//! What the steps use besides supplies, products and the tools that the study names: buckets, towels, timers, what helps when something
//! goes wrong. Common practice, no source, where nothing else is said.

use super::super::safety::{self, Entry};
use super::apart::{self, Thing};
use super::cycles;
use super::doses;
use super::facts::{supply, verb};
use super::places;
use super::pulls;
use super::steps::needs_drying;
use super::tape::is_taped;
use super::work::wiped_again;
use super::zones;
use crate::catalog::{Catalog, Class, Need};
use crate::speech::{list, said, say, within};
use crate::study::{KindOf, MeasureKind, Product, Step, Study, Supply, Verb};
use crate::units::{AnyQuantity, Dimension};

/// Everything, each once, in the order in which the steps ask for it.
pub(super) fn kit(study: &Study, catalog: &Catalog, steps: &[&Step]) -> Vec<Entry> {
    let mut kit = Kit(Vec::new());
    for step in steps {
        of_step(&mut kit, study, catalog, step);
    }
    if wiped_again(study).is_some() {
        kit.add(say!("Clean film or a sheet that covers what was wiped"), say!("the night before the coats"));
    }
    timing(&mut kit, study, steps);
    measuring(&mut kit, study, catalog);
    coating(&mut kit, study, catalog);
    for gauge in study.gauges.iter().filter(|gauge| gauge.tile.is_some()) {
        kit.add(say!("Its tile, clean"), gauge.title());
    }
    if study.patches.is_some() {
        kit.add(
            say!("A template of card or film with a window for each patch"),
            say!("marking the patches out"),
        );
    }
    if study.photos.is_some() {
        kit.add(say!("Camera"), say!("photos of every section"));
    }
    without_gauge(&mut kit, study);
    by_eye(&mut kit, study, catalog);
    for (what, site) in places::gear(study, catalog) {
        kit.add(what, &site);
    }
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
            .map(|(what, reasons)| Entry::new(what, say!("for {what}", what = list(&reasons, "and"))));
        told.collect()
    }
}

fn class(study: &Study, step: &Step) -> Option<&'static Class> {
    supply(study, step)?.kind.as_ref()?.class
}

fn of_step(kit: &mut Kit, study: &Study, catalog: &Catalog, step: &Step) {
    let name = supply(study, step).map_or("", |supply| supply.title());
    let class = class(study, step);
    let asks = catalog.step(step.verb.word()).is_some_and(|known| known.needs_supply == Need::Always);
    if asks && step.with.is_none() {
        kit.add(say!("What is not named yet: choose it, and name it in the study"), &within(verb(step.verb)));
    }
    if step.tool.is_none() {
        let own = class.is_some_and(|class| class.work.change.is_some());
        match step.verb {
            // A fresh cloth each time would be wet for nothing in a bucket.
            Verb::Wash | Verb::Decontaminate | Verb::Clean if own && step.fresh_cloth => {
                kit.add_own(say!("A bowl for it alone, from which each cloth takes it up"), name.to_owned());
            }
            Verb::Wash | Verb::Decontaminate | Verb::Clean if own => {
                kit.add_own(say!("A bucket, and a brush or sponge, for it alone"), name.to_owned());
            }
            Verb::Mark if supply(study, step).is_some_and(Supply::is_aerosol) => {
                kit.add(say!("A scale that reads 1 g, to weigh the can before and after"), name);
                kit.add(say!("Masking film with a window of the size of the patch, and waste card"), name);
            }
            Verb::Wash => kit.add(say!("Two buckets and a wash mitt"), say!("the wash")),
            Verb::Dry if step.wait.is_some_and(|wait| wait.seconds() >= super::steps::LEFT_TO_DRY_S) => {}
            Verb::Dry => kit.add(say!("Drying towels, clean and dry"), say!("drying")),
            Verb::Clay => kit.add(say!("Clay, as a bar or pad, and a spare one"), say!("claying")),
            Verb::Compound | Verb::Polish => {
                kit.add(say!("Pads, one for each, and spare ones"), &within(verb(step.verb)));
            }
            Verb::Read => kit.add(say!("Clean dry cloths"), say!("each spot before it is read")),
            Verb::Dust => kit.add(say!("Clean cloths"), say!("the dust")),
            Verb::Brush => kit.add(say!("A brush without steel"), say!("brushing")),
            Verb::Seal => kit.add(say!("A small brush"), say!("sealing edges")),
            Verb::Wipe if !step.fresh_cloth => kit.add(say!("Clean lint-free cloths"), say!("wiping")),
            _ => {}
        }
    } else if matches!(step.verb, Verb::Compound | Verb::Polish) {
        kit.add(say!("Spare clean pads"), &within(verb(step.verb)));
    }
    if needs_drying(study, step) {
        kit.add(say!("Drying towels, clean and dry"), say!("drying"));
    }
    if step.verb == Verb::Clean && cycles::is_beside_others(study) {
        kit.add(
            say!("Film and tape that come off without a trace"),
            say!("covering the patches that are not cleaned"),
        );
    }
    if zones::place(study, step).is_some() {
        kit.add(
            say!("Film and tape that come off without a trace"),
            say!("masking what the map says to avoid"),
        );
    }
    if safety::dust_of_step(catalog, step).is_some() {
        draw_off(kit, &within(verb(step.verb)));
    }
    if let Some(grit) = &step.grit {
        kit.add(&say!("Abrasive, grit {grit}, and spare sheets", grit = grit.value), say!("sanding"));
    }
    if step.rinse || step.verb == Verb::Rinse {
        kit.add(say!("Clean running water"), say!("rinsing"));
    }
    let caught =
        class.and_then(|class| class.handling.rinse_water).is_some_and(|water| water.starts_with("caught"));
    if caught && step.rinse {
        kit.add(
            say!("A tray or a sheet with a raised edge, and a lidded can"),
            &say!("the rinse water of {name}", name),
        );
        if class.is_some_and(|class| !class.is_in("fluoride")) {
            kit.add(say!("Cloths to wipe up with"), &say!("{name}, before it is rinsed off", name));
        }
    }
}

/// What dust is drawn off with, and what it goes into.
fn draw_off(kit: &mut Kit, work: &str) {
    kit.add(say!("A suction cleaner for fine dust (class M or H, or HEPA), a hose and nozzle for tool or brush, and bags that close"), work);
}

fn timing(kit: &mut Kit, study: &Study, steps: &[&Step]) {
    let timed = |step: &&Step| step.dwell.is_some() || step.wait.is_some();
    let flashes =
        study.products.iter().flat_map(crate::study::Product::each_coat).any(|coat| coat.off.is_some());
    let pulled = study.apply.as_ref().is_some_and(|apply| apply.tape_off.is_some());
    if steps.iter().any(timed) || flashes || pulled {
        kit.add(
            say!("A timer, and one more for each thing that acts at the same time"),
            say!("dwell and waits"),
        );
    }
}

fn measuring(kit: &mut Kit, study: &Study, catalog: &Catalog) {
    let (mixed, small) = doses::of_mixes(study, catalog);
    if mixed {
        kit.add(say!("A measuring cup or cylinder, and empty bottles with labels"), say!("the mixes"));
    }
    for tool in small {
        kit.add(&say!("A {tool}", tool), say!("small amounts"));
    }
    for own in doses::of_products(study, catalog) {
        let (tool, n) = (own.tool, own.number);
        if own.is_scale {
            for product in own.products {
                kit.add(&say!("A {tool}", tool), product);
            }
            continue;
        }
        let products = list(&own.products, "and");
        // How many these are, with spare ones, stands on the shopping list alone, so that no two numbers stand on one paper.
        match n {
            1 => kit.add_own(&say!("A {tool}", tool), products),
            _ if own.anew => {
                kit.add_own(&say!("{tool}, a fresh one for each product and coat", tool), products);
            }
            _ => kit.add_own(&say!("{tool}, one for each", tool), products),
        }
    }
}

/// Measures that are read with a gauge, and the study names none.
fn without_gauge(kit: &mut Kit, study: &Study) {
    let read = study.rounds.iter().flat_map(|round| &round.reads).map(|plan| plan.measure.value);
    for id in read {
        let measure = study.measure(id);
        if study.gauges_of(id).next().is_none()
            && matches!(measure.kind, MeasureKind::Read | MeasureKind::Part(_))
        {
            let what = say!("A gauge for {measure}; name it in the study", measure = measure.name.value);
            kit.add(&what, say!("the readings"));
        }
    }
}

/// Marks that ask for a loupe, drops and dollies.
fn by_eye(kit: &mut Kit, study: &Study, catalog: &Catalog) {
    for (id, number) in pulls::dollies(study) {
        let what = say!(
            "{n} dollies and spare ones, glue for them with its data sheet, and a cutter round them",
            n = number
        );
        kit.add(&what, &study.measure(id).name.value);
    }
    for (_, measure) in study.measures_with_ids() {
        let name = &measure.name.value;
        if let Some(what) = catalog.measure(name).and_then(|known| known.kit) {
            kit.add(said(what), name);
        }
        let MeasureKind::Rating(scale) = &measure.kind else { continue };
        let words = scale.words.iter().flat_map(|(_, words)| words.split(|c: char| !c.is_alphabetic()));
        if words.into_iter().any(|word| ["loupe", "magnifier"].contains(&word)) {
            kit.add(say!("A loupe"), name);
        }
    }
}

fn coating(kit: &mut Kit, study: &Study, catalog: &Catalog) {
    let coated = study.products_with_ids().any(|(id, _)| study.is_laid_on(id));
    if coated {
        if is_taped(study) {
            kit.add(say!("Clean dry cloths"), say!("the lines that tape leaves"));
        }
        let between = study.products.iter().filter_map(|own| own.coats.as_ref()?.between.as_deref());
        for words in between {
            kit.add(&say!("What it takes to {words}", words), say!("between coats"));
        }
        let laid =
            || study.products_with_ids().filter(|(id, _)| study.is_laid_on(*id)).map(|(_, product)| product);
        if laid().any(|own| safety::dust_between(catalog, study, own).is_some()) {
            draw_off(kit, say!("between coats"));
        }
        let by_mist = |own: &Product| safety::goes_on_as_mist(catalog, own);
        if laid().any(|own| own.tool.is_none() && !by_mist(own)) {
            kit.add(say!("Applicators, one for each product and coat"), say!("the application"));
        }
        let sprayed = |product: &Product| {
            let class = product.kind.as_ref().and_then(|kind| kind.class);
            class.is_some_and(|class| class.id == safety::SPRAY) && !by_mist(product)
        };
        for own in laid().filter(|own| by_mist(own)) {
            kit.add(
                say!("Card or film to shield what lies beside, and a scale to weigh what was sprayed"),
                own.title(),
            );
        }
        if laid().any(sprayed) {
            kit.add(
                say!("A cup to spray into, and card or film to shield what lies beside"),
                say!("spray sealants"),
            );
        }
        let canned = |own: &&Product| own.price.as_ref().is_some_and(|pack| is_can(&pack.amount));
        let canned = laid().filter(|own| !by_mist(own) && !sprayed(own)).filter(canned);
        for own in canned {
            kit.add(
                say!("A small pot with a lid for each coat, filled from the can, which is closed at once"),
                own.title(),
            );
        }
        if laid().any(Product::is_wiped) {
            kit.add(
                say!("Cloths to wipe off or buff, one for each product and coat"),
                say!("the application"),
            );
        }
        kit.add(
            say!("Thermometer and hygrometer for the air, and a thermometer for the surface"),
            say!("the climate of the application"),
        );
    } else if study.prep_surface_below.is_some() {
        kit.add(say!("A thermometer for the surface"), say!("each step"));
    }
}

/// From how much on a pack stands open while a syringe is filled from it again and again, ml. Common practice, no source.
const CAN_ML: f64 = 500.0;

fn is_can(amount: &AnyQuantity) -> bool {
    amount.unit.dimension == Dimension::Volume && amount.base() >= CAN_ML
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
        kit.add(eye_rinse(study), say!("first aid"));
        kit.add(say!("A telephone"), say!("first aid"));
        kit.add(say!("Something that soaks up, and a lidded container for it"), say!("spills and waste"));
    }
    if any("fluoride") {
        kit.add(say!("Calcium gluconate gel 2.5 %, within reach"), say!("fluoride on skin"));
    }
    let cans = apart::cans(study, catalog);
    for can in &cans {
        // What gives off gas as it cures would burst a can, so that its cloths come into one only then.
        let (open, shut): (Vec<&Thing<'_>>, Vec<&Thing<'_>>) =
            can.iter().partition(|thing| thing.cures_in_the_open());
        let names = |of: &[&Thing<'_>]| list(&of.iter().map(|thing| thing.name).collect::<Vec<&str>>(), "or");
        if !open.is_empty() {
            let names = names(&open);
            kit.add_own(
                say!("A line or rack outdoors under a roof, out of reach and held against wind, where cloths and applicators cure"),
                wet_with(study, &names),
            );
            kit.add_own(
                say!("A closed metal can, and a lidded drum outdoors for it to be emptied into"),
                say!("cloths with {names}, once they have cured, and what else was wet with it", names),
            );
        }
        if !shut.is_empty() {
            kit.add_own(
                say!("A closed metal can, and a lidded drum outdoors for it to be emptied into"),
                wet_with(study, &names(&shut)),
            );
        }
    }
    let eats = |class: &&Class| class.is_in("alkali") || class.is_in("acid");
    let caustic: Vec<&str> = study
        .supplies
        .iter()
        .filter(|own| own.kind.as_ref().and_then(|kind| kind.class).as_ref().is_some_and(eats))
        .map(Supply::title)
        .collect();
    if !caustic.is_empty() {
        kit.add_own(
            say!("A lidded bin of plastic, never of metal, one for each, with its name on it, where cloths and brushes go until they are rinsed out where its rinse water goes"),
            list(&caustic, "and"),
        );
    }
    if !cans.is_empty() {
        kit.add(say!("The extinguisher that section 5 of the data sheets names"), say!("fire"));
    }
}

/// What eyes and skin are rinsed with: a bottle is empty long before a quarter of an hour is over.
fn eye_rinse(study: &Study) -> &'static str {
    let class = |kind: Option<&KindOf>| kind.and_then(|kind| kind.class);
    let of_supply = |own: &Supply| safety::is_rinsed_long(class(own.kind.as_ref()), own.label());
    let of_product = |own: &Product| safety::is_rinsed_long(class(own.kind.as_ref()), own.label());
    let supplies = study.supplies.iter().filter(|own| own.gear.is_none());
    if supplies.into_iter().any(of_supply) || study.products.iter().any(of_product) {
        return say!(
            "Running water that lasts for 15 minutes, or an eye shower, beside the work before anything is opened; an eye rinse bottle \
             only besides it"
        );
    }
    say!("An eye rinse bottle, or running water at hand")
}

/// All that carries what burns or gives off gas, since a glove or a tape is forgotten where only cloths are named.
fn wet_with(study: &Study, names: &str) -> String {
    if is_taped(study) {
        say!("cloths with {names}, and what else is wet with it: gloves, pulled tape, syringes", names)
    } else {
        say!("cloths with {names}, and what else is wet with it: gloves, syringes", names)
    }
}
