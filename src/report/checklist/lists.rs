//! What must be at hand before work starts: supplies, products, tools, gauges and protection.

use super::super::names;
use super::super::numbers::{amount, day};
use super::super::safety::{self, Entry};
use super::amounts::{self, mix_text};
use super::facts::{mix, supply, verb};
use super::kit::kit;
use super::pulls::is_pulled;
use super::view::{Bought, Mixing, Thing};
use super::work::work;
use crate::catalog::{Catalog, Class};
use crate::speech::{list, said, say, within};
use crate::study::{KindOf, Mix, Opening, Product, Sheet, Step, Study, Supply, Upkeep, Verb};
use crate::text::Located;
use crate::units::{AnyQuantity, Quantity, Time};

pub(super) fn materials(study: &Study, bought: &[Bought]) -> Vec<Thing> {
    // What a supply is needed of in all is what is bought of it, where that can be told in ml or g.
    let needs = |title: &str| {
        let row = bought.iter().find(|row| row.name == title);
        let amount = row.map(|row| row.amount.clone()).unwrap_or_default();
        if amount.starts_with(|c: char| c.is_ascii_digit()) { amount } else { String::new() }
    };
    let supplies = study.supplies.iter().filter(|supply| supply.gear.is_none()).map(|supply| Thing {
        name: supply.title().to_owned(),
        kind: kind(supply.kind.as_ref()),
        mix: mixes_of(study, supply),
        needs: needs(supply.title()),
        batch: batch(supply.batch.as_ref()),
        sheet: sheet(supply.sheet.as_ref()),
    });
    let products = study.products.iter().map(|product| Thing {
        name: product.title().to_owned(),
        kind: kind(product.kind.as_ref()),
        mix: product.mix.as_ref().map_or_else(|| as_it_comes().to_owned(), |mix| mix_text(&mix.value)),
        needs: needs(product.title()),
        batch: batch(product.batch.as_ref()),
        sheet: sheet(product.sheet.as_ref()),
    });
    supplies.chain(products).collect()
}

/// The mix of a supply, else those of its steps.
fn mixes_of(study: &Study, own: &Supply) -> String {
    let used =
        steps(study).filter(|step| supply(study, step).is_some_and(|used| used.name.value == own.name.value));
    let mut words: Vec<String> = used.filter_map(|step| mix(study, step)).map(mix_text).collect();
    words.dedup();
    if words.is_empty() {
        own.mix.as_ref().map_or_else(|| as_it_comes().to_owned(), |mix| mix_text(&mix.value))
    } else {
        words.join("; ")
    }
}

/// Of what no mix is stated nothing is added to, and its amounts are counted so.
fn as_it_comes() -> &'static str {
    say!("as it comes")
}

/// Each mix once, with the steps that use it and how often it is made.
pub(super) fn mixes(study: &Study, catalog: &Catalog) -> Vec<Mixing> {
    let mut rows: Vec<(Mixing, Vec<String>)> = Vec::new();
    for work in work(study) {
        let step = work.step;
        let Some((supply, mix)) = supply(study, step).zip(mix(study, step)) else { continue };
        let Some(batch) = amounts::batch(catalog, study, step, supply, mix) else { continue };
        let how = batch.map_or_else(|why| why, |batch| amounts::batch_words(catalog, supply, &batch));
        let stock = supply.strength.filter(|_| matches!(mix, Mix::Percent(_)));
        let row = mixing(supply.title(), mix, stock, how);
        let row = Mixing { keeps: keeps(supply.keeps.as_ref()), ..row };
        let uses = |place: &str| format!("{}: {place}", within(verb(step.verb)));
        let used = uses(if work.again { say!("preparation") } else { &work.place });
        // It is made on another day, so that it has a line of its own to be written into.
        let second = work
            .again
            .then(|| (row.clone(), vec![uses(say!("once more before the first coat, a second batch"))]));
        match rows.iter_mut().find(|(known, _)| *known == row) {
            Some((_, uses)) => uses.push(used),
            None => rows.push((row, vec![used])),
        }
        rows.extend(second);
    }
    for (id, product) in study.products_with_ids() {
        for own in amounts::coat_mixes(catalog, study, id) {
            let Some(batch) = own.batch else { continue };
            let how =
                batch.map_or_else(|why| why, |batch| amounts::coat_batch_words(catalog, product, &batch));
            let row = mixing(product.title(), &own.mix, None, how);
            let coats: Vec<String> = own.coats.iter().map(u32::to_string).collect();
            let used = if coats.len() > 1 {
                say!("apply: coats {coats}, anew for each", coats = list(&coats, "and"))
            } else {
                say!("apply: coat {coat}", coat = coats.concat())
            };
            rows.push((Mixing { keeps: keeps(product.keeps.as_ref()), ..row }, vec![used]));
        }
    }
    rows.into_iter().map(|(row, uses)| Mixing { steps: uses_words(&uses), ..row }).collect()
}

/// Uses in words; a step that comes several times in one place says how often: `wash: preparation, twice`.
fn uses_words(uses: &[String]) -> String {
    let mut once: Vec<(&String, usize)> = Vec::new();
    for used in uses {
        match once.iter_mut().find(|(known, _)| *known == used) {
            Some((_, n)) => *n += 1,
            None => once.push((used, 1)),
        }
    }
    let words = once.into_iter().map(|(used, n)| match n {
        1 => used.clone(),
        n => say!("{used}, {n} batches", used, n),
    });
    words.collect::<Vec<String>>().join("; ")
}

fn mixing(name: &str, mix: &Mix, stock: Option<AnyQuantity>, how: String) -> Mixing {
    let stock = stock.map_or_else(String::new, |stock| amount(&stock));
    Mixing {
        name: name.to_owned(),
        mix: mix_text(mix),
        stock,
        how,
        steps: String::new(),
        keeps: String::new(),
    }
}

/// How long a mix may be used: `7 days`, else the day.
pub(super) fn keeps(time: Option<&Located<Quantity<Time>>>) -> String {
    time.map_or_else(|| say!("the day").to_owned(), |time| amount(&time.value))
}

fn kind(kind: Option<&KindOf>) -> String {
    kind.map_or_else(|| say!("class not stated").to_owned(), names::kind)
}

fn batch(opening: Option<&Opening>) -> String {
    match opening {
        Some(Opening { batch, opened: Some(date) }) => {
            say!("{batch}, opened {day}", batch, day = day(*date))
        }
        Some(Opening { batch, opened: None }) => batch.clone(),
        None => String::new(),
    }
}

fn sheet(sheet: Option<&Sheet>) -> String {
    sheet.map_or_else(|| say!("none named").to_owned(), |sheet| sheet.name.clone())
}

/// Gauges and tools by name, then what else the steps use.
pub(super) fn tools(study: &Study, catalog: &Catalog) -> Vec<Entry> {
    let mut tools: Vec<Entry> = study.gauges.iter().map(|gauge| gauge_entry(study, gauge)).collect();
    for step in steps(study) {
        let to_do = say!("to {work}", work = within(verb(step.verb)));
        let entry = match (&step.tool, step.verb, &step.line_width) {
            (Some(tool), ..) => Entry::new(tool, to_do),
            (None, Verb::Tape, Some(width)) => {
                Entry::new(say!("Tape, lines {width} wide", width = amount(&width.value)), to_do)
            }
            (None, Verb::Tape, None) => Entry::new(say!("Masking tape"), to_do),
            (None, Verb::Label, _) => {
                Entry::new(say!("Labels that survive outdoors, else clear tape over them"), to_do)
            }
            _ => continue,
        };
        push_once(&mut tools, entry);
    }
    if steps(study).any(|step| step.fresh_cloth) {
        push_once(
            &mut tools,
            Entry::new(
                say!("Fresh lint-free cloths"),
                if study.is_on_racks() {
                    say!("one for each wipe and specimen")
                } else {
                    say!("one for each wipe and section")
                },
            ),
        );
    }
    tools.extend(applicators(study));
    let all: Vec<&Step> = steps(study).collect();
    tools.extend(kit(study, catalog, &all));
    tools
}

/// What products are laid on with, each tool once. What is left of one product in it would go onto the next.
fn applicators(study: &Study) -> Vec<Entry> {
    let placed = study.products_with_ids().filter(|(id, _)| study.is_laid_on(*id));
    let mut tools: Vec<(&str, Vec<&str>)> = Vec::new();
    for (tool, product) in placed.filter_map(|(_, product)| Some((product.tool.as_ref()?, product))) {
        match tools.iter_mut().find(|(how, _)| *how == tool.how) {
            Some((_, products)) => products.push(product.title()),
            None => tools.push((&tool.how, vec![product.title()])),
        }
    }
    let entry = |(how, products): (&str, Vec<&str>)| match products.as_slice() {
        [product] => Entry::new(how, say!("to apply {product}", product)),
        products => Entry::new(
            how,
            say!("to apply {products}; a clean one for each", products = list(products, "and")),
        ),
    };
    tools.into_iter().map(entry).collect()
}

fn gauge_entry(study: &Study, gauge: &crate::study::Gauge) -> Entry {
    let reads: Vec<&str> =
        gauge.reads.iter().map(|read| study.measure(read.value).name.value.as_str()).collect();
    let certified = match (gauge.certificates.last(), &gauge.never_certified) {
        (Some(certificate), _) => say!(", certificate until {day}", day = day(certificate.until)),
        (None, Some(why)) => say!(", no certificate: {why}", why),
        (None, None) => say!(", no certificate named").to_owned(),
    };
    let reads = list(&reads, "and");
    Entry::new(gauge.title(), say!("reads {reads}{certified}", reads, certified))
}

fn push_once(tools: &mut Vec<Entry>, entry: Entry) {
    match tools.iter_mut().find(|known| known.label == entry.label) {
        Some(known) if !known.text.contains(&entry.text) => {
            known.text = format!("{}, {}", known.text, entry.text);
        }
        Some(_) => {}
        None => tools.push(entry),
    }
}

pub(super) fn steps(study: &Study) -> impl Iterator<Item = &Step> {
    let upkeep = study.upkeep.iter().filter_map(|upkeep| match upkeep {
        Upkeep::Every { step, .. } => Some(step.as_ref()),
        Upkeep::None(_) => None,
    });
    let loose = study.specimens.iter().flat_map(|set| &set.prep);
    study.prep.iter().chain(loose).chain(&study.before_each_round).chain(study.cycle_steps()).chain(upkeep)
}

/// Gear that carries a filter, or does without.
pub(super) const MASKS: [&str; 2] = ["filter-mask", "supplied-air"];

/// Each kind of protection once, with the things that ask for it.
pub(super) fn protection(study: &Study, catalog: &Catalog) -> Vec<Entry> {
    let used = steps(study).filter_map(|step| step.with.as_ref()).map(|with| study.supply(with.value));
    let used = used.filter(|supply| supply.gear.is_none());
    let supplies = used.map(|supply| (supply.title(), supply.kind.as_ref(), supply.is_aerosol()));
    let mist = |own: &Product| own.is_aerosol() || safety::is_sprayed(catalog, own);
    let products = study.products.iter().map(|own| (own.title(), own.kind.as_ref(), mist(own)));
    let mut needs: Vec<(String, Vec<String>)> = Vec::new();
    for (name, kind, is_can) in supplies.chain(products) {
        if let Some(pack) = catalog.aerosol().filter(|_| is_can) {
            need(&mut needs, format!("{}: {}", say!("Eyes"), said(pack.eyes)), name);
            let filter = pack.breathing_with(kind.and_then(|kind| kind.class));
            if let Some(filter) = filter {
                need(&mut needs, format!("{}: {}", say!("Breathing"), said(filter)), name);
            }
        }
        let Some(class) = kind.and_then(|kind| kind.class) else {
            need(&mut needs, say!("As the data sheet says; do not start without it").to_owned(), name);
            continue;
        };
        for text in asked(catalog, class) {
            need(&mut needs, text, name);
        }
    }
    covered(&mut needs, study);
    for step in steps(study) {
        let Some(known) = catalog.step(step.verb.word()) else { continue };
        let (ppe, name) = (said(known.ppe).trim_end_matches('.'), within(verb(step.verb)));
        if !ppe.is_empty() {
            need(&mut needs, ppe.to_owned(), &name);
        }
        if let Some(gloves) = safety::dust_of_step(catalog, step).and_then(|dust| dust.handling.gloves) {
            need(&mut needs, format!("{}: {}", say!("Gloves"), said(gloves)), &name);
        }
        let dust = catalog.classes().iter().filter(|class| known.raises.contains(&class.id));
        for mask in dust.filter_map(|class| safety::dust_mask(catalog, study, class)) {
            need(&mut needs, format!("{}: {}", say!("Breathing"), said(mask)), &name);
        }
    }
    rubbed_between(&mut needs, study, catalog);
    for (_, measure) in study.measures_with_ids().filter(|(id, _)| is_pulled(study, *id)) {
        let what =
            say!("Closed glasses, and gloves, for the glue and for what flies off when a dolly is pulled");
        need(&mut needs, what.to_owned(), &measure.name.value);
    }
    let masked = study.supplies.iter().any(|supply| supply.gear.is_some_and(|id| MASKS.contains(&id)));
    if !masked && needs.iter().any(|(text, _)| text.to_lowercase().contains("filter")) {
        need(
            &mut needs,
            say!("A half mask that these filters fit, tried on tight").to_owned(),
            say!("everybody at the work"),
        );
    }
    let own = study.supplies.iter().filter_map(|supply| Some(gear_entry(supply, catalog, supply.gear?)));
    let needs = needs.into_iter().map(|(text, names)| Entry::new(text, list(&names, "and")));
    needs.chain(own).collect()
}

/// What covers the body, for all that burns skin.
fn covered(needs: &mut Vec<(String, Vec<String>)>, study: &Study) {
    let class = |kind: Option<&KindOf>| kind.and_then(|kind| kind.class);
    let used = steps(study).filter_map(|step| step.with.as_ref()).map(|with| study.supply(with.value));
    let supplies = used.filter(|own| own.gear.is_none());
    let supplies = supplies.map(|own| (own.title(), class(own.kind.as_ref()), own.label()));
    let products = study.products.iter().map(|own| (own.title(), class(own.kind.as_ref()), own.label()));
    let all = supplies.chain(products).filter(|(_, class, label)| safety::burns_skin(*class, *label));
    for (name, class, label) in all {
        if safety::burns_beyond_its_class(class, label) {
            for entry in safety::gloves_and_eyes() {
                need(needs, format!("{}: {}", entry.label, entry.text), name);
            }
        }
        let clothing = safety::clothing();
        need(needs, format!("{}: {}", clothing.label, clothing.text), name);
    }
}

/// What the dust asks for that is made between coats; it is not what the product asks for.
fn rubbed_between(needs: &mut Vec<(String, Vec<String>)>, study: &Study, catalog: &Catalog) {
    let dusty =
        study.products.iter().filter_map(|own| Some((own, safety::dust_between(catalog, study, own)?)));
    for (product, dust) in dusty {
        let name = say!("the rubbing between coats of {product}", product = product.title());
        let mask = safety::dust_mask(catalog, study, dust);
        let asked = [(say!("Gloves"), dust.handling.gloves), (say!("Breathing"), mask)];
        for (label, text) in asked.into_iter().filter_map(|(label, text)| Some((label, text?))) {
            need(needs, format!("{label}: {}", said(text).trim_end_matches('.')), &name);
        }
        let glasses = catalog.step("dust").map_or("", |known| said(known.ppe).trim_end_matches('.'));
        need(needs, glasses.to_owned(), &name);
    }
}

/// What the study names itself: `air-line, supplied air, batch 7`, and what it is for.
fn gear_entry(supply: &Supply, catalog: &Catalog, id: &str) -> Entry {
    let known = catalog.gear().iter().find(|gear| gear.id == id);
    let kind = supply.kind.as_ref().map(names::kind);
    let batch = supply.batch.as_ref().map(|opening| say!("batch {batch}", batch = batch(Some(opening))));
    let words: Vec<String> = [Some(supply.title().to_owned()), kind, batch].into_iter().flatten().collect();
    let what = known.map_or("", |gear| said(gear.what));
    Entry::new(words.join(", "), say!("everybody at the work: {what}", what))
}

fn asked(catalog: &Catalog, class: &Class) -> Vec<String> {
    let handling = &class.handling;
    // Supplied air is a thing to bring: it has a line of its own, and no card stands below this list.
    let air = catalog.line("isocyanate-air").filter(|line| class.is_in(line.when));
    let breathing = air.map_or(handling.breathing, |line| Some(line.text));
    let all =
        [(say!("Gloves"), handling.gloves), (say!("Eyes"), handling.eyes), (say!("Breathing"), breathing)];
    let told = |text: &'static str| said(text).trim_end_matches('.');
    all.into_iter().filter_map(|(label, text)| Some(format!("{label}: {}", told(text?)))).collect()
}

fn need(needs: &mut Vec<(String, Vec<String>)>, text: String, name: &str) {
    match needs.iter_mut().find(|(known, _)| *known == text) {
        Some((_, names)) if names.iter().any(|known| known == name) => {}
        Some((_, names)) => names.push(name.to_owned()),
        None => needs.push((text, vec![name.to_owned()])),
    }
}
