//! The shopping list: what the whole study takes of each thing with its spare, in how many packs, for how much.

use super::super::numbers::{amount, decimal, dose, measured, money};
use super::amounts::{self, SPARE};
use super::facts::mix;
use super::filters;
use super::lists::MASKS;
use super::own_tools;
use super::pulls;
use super::view::{Bought, Shopping};
use super::work::{Work, surface, work};
use crate::catalog::{Catalog, same_name};
use crate::speech::{count, list, say};
use crate::study::{
    Disclosure, Outline, Price, Product, ProductId, Section, Step, Study, Supply, SupplyId, Treatment, Verb,
};
use crate::units::Dimension;
use std::collections::BTreeMap;

/// The whole list.
pub(super) fn shopping(study: &Study, catalog: &Catalog) -> Shopping {
    let work = work(study);
    let mut bought = List { rows: Vec::new(), spent: BTreeMap::new() };
    for at in 0..study.supplies.len() {
        bought.supply(study, catalog, SupplyId::new(at), &work);
    }
    bought.products(study, catalog);
    // Amounts of what is used up, in ml or g; what is shared is counted, and has none to spare.
    let spare = bought.rows.iter().any(|row| row.amount.starts_with(|c: char| c.is_ascii_digit()));
    bought.rows.extend(shared(study, &work));
    bought.rows.extend(own_tools::rows(study, catalog, whole));
    if !study.supplies.iter().any(|supply| supply.gear.is_some_and(|id| MASKS.contains(&id))) {
        bought.rows.extend(filters::rows(study, catalog));
    }
    let total: Vec<String> = bought.spent.iter().map(|(unit, value)| money(*value, unit)).collect();
    Shopping { rows: bought.rows, spare, total: list(&total, "and") }
}

/// How much of a thing is needed, with its spare.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Need {
    /// ml or g.
    amount: f64,
    by_mass: bool,
}

impl Need {
    fn words(self) -> String {
        dose(self.amount, if self.by_mass { "g" } else { "ml" })
    }
}

/// Needs of one kind as one; `None` where one is not known, or ml and g cannot be added.
fn sum(needs: impl Iterator<Item = Option<Need>>) -> Option<Need> {
    let needs: Vec<Need> = needs.collect::<Option<_>>()?;
    let first = *needs.first()?;
    let alike = needs.iter().all(|need| need.by_mass == first.by_mass);
    let amount = needs.iter().map(|need| need.amount).sum();
    alike.then_some(Need { amount, ..first })
}

struct List {
    rows: Vec<Bought>,
    spent: BTreeMap<&'static str, f64>,
}

impl List {
    fn supply(&mut self, study: &Study, catalog: &Catalog, id: SupplyId, work: &[Work<'_>]) {
        let supply = study.supply(id);
        let used: Vec<&Work<'_>> =
            work.iter().filter(|work| work.step.with.as_ref().is_some_and(|with| with.value == id)).collect();
        let filled = filled(study, catalog, work, supply.title());
        let taken = used.iter().map(|work| taken(study, catalog, supply, work));
        let need = sum(taken.chain(filled.iter().map(|(_, need)| *need)));
        let mut places: Vec<String> = used.iter().map(|work| work.place.clone()).collect();
        places.extend(filled.iter().map(|(with, _)| say!("mixed with {with}", with)));
        places.dedup();
        let what = if places.is_empty() { say!("to have on site").to_owned() } else { places.join(", ") };
        let (packs, cost) = self.packs(need, supply.price.as_ref());
        let batches = used.iter().filter_map(|work| own_batch(study, catalog, supply, work.step));
        let assumed = batches.filter(amounts::Batch::is_assumed).map(|batch| batch.size()).max();
        let amount = match (need.filter(|need| need.amount > 0.0), assumed) {
            (Some(need), None) => need.words(),
            (Some(need), Some(size)) => {
                say!("{amount}, for {size} of mix each time", amount = need.words(), size)
            }
            _ if supply.gear.is_some() => say!("for everybody at the work").to_owned(),
            _ if used.iter().any(|work| work.occasions.is_none()) => {
                say!("as its label says, each time").to_owned()
            }
            _ => say!("as its label says").to_owned(),
        };
        let (amount, packs) = if supply.is_aerosol() { beside(need, amount, packs) } else { (amount, packs) };
        self.rows.push(Bought { name: supply.title().to_owned(), what, amount, packs, cost });
    }

    fn products(&mut self, study: &Study, catalog: &Catalog) {
        for (id, product) in study.products_with_ids() {
            if !study.is_laid_on(id) {
                continue;
            }
            let carriers = study.carriers_of(Treatment::Product(id));
            let (loose, drawn): (Vec<_>, Vec<_>) = carriers.partition(|(_, own)| own.specimen.is_some());
            let need = product_need(study, catalog, id);
            let (packs, mut cost) = self.packs(need, product.price.as_ref());
            if product.disclosure == Some(Disclosure::Given) {
                say!("given").clone_into(&mut cost);
            }
            let amount = need.map_or_else(|| say!("as its label says").to_owned(), Need::words);
            let (amount, packs) =
                if product.is_aerosol() { beside(need, amount, packs) } else { (amount, packs) };
            let all = drawn.len() + loose.len();
            let what = if study.is_on_racks() {
                amounts::carriers(0, all)
            } else {
                amounts::carriers(drawn.len(), loose.len())
            };
            self.rows.push(Bought { name: product.title().to_owned(), what, amount, packs, cost });
            self.rows.extend(other_parts(study, catalog, id));
        }
        let carried = study.carrier_to_lay_on().len();
        if carried > 0 {
            let sections = count(carried, "section");
            let of = study.carrier_of().map(|id| study.product(id).title());
            let (name, what) = match of {
                Some(product) => (
                    say!("The carrier of {product} alone", product),
                    say!(
                        "for {sections}: the liquid of {product}, without the product; has a data sheet of its own",
                        sections,
                        product
                    ),
                ),
                None => (
                    say!("The carrier alone").to_owned(),
                    say!(
                        "for {sections}: the liquid of the product that they are compared with, without the product; has a data sheet of its own",
                        sections
                    ),
                ),
            };
            self.rows.push(Bought {
                name,
                what,
                amount: say!("on each as much as of that product, and a tenth more").to_owned(),
                packs: String::new(),
                cost: String::new(),
            });
        }
    }

    // Nobody sells part of a pack, so packs are rounded up; one is bought where the need is not known.
    fn packs(&mut self, need: Option<Need>, price: Option<&Price>) -> (String, String) {
        let Some(price) = price else { return (String::new(), String::new()) };
        let by_mass = price.amount.unit.dimension == Dimension::Mass;
        let same = need.filter(|need| need.by_mass == by_mass);
        let packs = same.map_or(1.0, |need| (need.amount / price.amount.base() - 1e-9).ceil().max(1.0));
        let any = price.money.any();
        *self.spent.entry(any.unit.symbol).or_insert(0.0) += any.value * packs;
        let asked = if same.is_none() { say!(" or as needed") } else { "" };
        (
            format!("{} x {}{asked}", decimal(packs), amount(&price.amount)),
            money(any.value * packs, any.unit.symbol),
        )
    }
}

/// What leaves a can and misses its place is more than a tenth, and nobody knows how much before it was tried.
fn beside(need: Option<Need>, amount: String, packs: String) -> (String, String) {
    if need.is_none() {
        return (amount, packs);
    }
    let asked = if packs.is_empty() { "" } else { say!(" or as needed") };
    (
        say!("{amount}, and the overspray besides: weigh the can before and after the first place", amount),
        format!("{packs}{asked}"),
    )
}

/// The batch that a step mixes of a supply, as the table of mixes has it.
fn own_batch(study: &Study, catalog: &Catalog, supply: &Supply, step: &Step) -> Option<amounts::Batch> {
    amounts::batch(catalog, study, step, supply, mix(study, step)?)?.ok()
}

/// What a step takes of its supply in the whole study: as much as its batches hold, or as the surface takes of it neat.
fn taken(study: &Study, catalog: &Catalog, supply: &Supply, work: &Work<'_>) -> Option<Need> {
    let times = f64::from(work.occasions?);
    let mixed = mix(study, work.step).and_then(|mix| amounts::batch(catalog, study, work.step, supply, mix));
    if let Some(batch) = mixed {
        let batch = batch.ok()?;
        return Some(Need { amount: measured(batch.stock()) * times, by_mass: batch.unit() == "g" });
    }
    let (amount, by_mass) = amounts::taken_neat(study, work.step, supply)?;
    Some(Need { amount: amount * times, by_mass })
}

/// What goes into the mixes of others, and into which.
fn filled(study: &Study, catalog: &Catalog, work: &[Work<'_>], name: &str) -> Vec<(String, Option<Need>)> {
    let mut all = Vec::new();
    for work in work {
        let Some(supply) = work.step.with.as_ref().map(|with| study.supply(with.value)) else { continue };
        let batch = own_batch(study, catalog, supply, work.step);
        let Some(batch) = batch.filter(|batch| same_name(batch.liquid(), name)) else { continue };
        let need = work.occasions.map(|times| filling(&batch, times));
        all.push((supply.title().to_owned(), need));
    }
    for (id, product) in study.products_with_ids() {
        let own = other_part_of(study, catalog, id).into_iter().filter(|(liquid, _)| same_name(liquid, name));
        all.extend(own.map(|(_, need)| (product.title().to_owned(), need)));
    }
    all
}

fn filling(batch: &amounts::Batch, times: u32) -> Need {
    Need { amount: measured(batch.filling()) * f64::from(times), by_mass: batch.unit() == "g" }
}

/// What a product takes: its batches where it is mixed, else what its sections need with a tenth spare.
fn product_need(study: &Study, catalog: &Catalog, id: ProductId) -> Option<Need> {
    let product = study.product(id);
    let mixes = amounts::coat_mixes(catalog, study, id);
    let coats = product.each_coat().map(|coat| {
        let own =
            mixes.iter().find(|own| own.coats.contains(&coat.number)).and_then(|own| own.batch.as_ref());
        if let Some(batch) = own {
            let batch = batch.as_ref().ok().filter(|batch| !batch.is_assumed())?;
            return Some(Need { amount: measured(batch.stock()), by_mass: batch.unit() == "g" });
        }
        let (amount, by_mass) = amounts::need(study, id, std::iter::once(coat))?.in_all_amount();
        Some(Need { amount: amount * SPARE, by_mass })
    });
    sum(coats)
}

/// The other parts that a product is mixed with, as its hardener, other than water; `None` where the amount is not known.
fn other_part_of(study: &Study, catalog: &Catalog, id: ProductId) -> Vec<(String, Option<Need>)> {
    if !study.is_laid_on(id) {
        return Vec::new();
    }
    let mixes = amounts::coat_mixes(catalog, study, id).into_iter();
    let parts = mixes.filter_map(|own| {
        let batch = own.batch?.ok().filter(|batch| batch.liquid() != "water")?;
        let times = u32::try_from(own.coats.len()).ok()?;
        let need = (!batch.is_assumed()).then(|| filling(&batch, times));
        Some((batch.liquid().to_owned(), need))
    });
    parts.collect()
}

/// Rows for parts that no supply stands for.
fn other_parts(study: &Study, catalog: &Catalog, id: ProductId) -> Vec<Bought> {
    let title = study.product(id).title();
    let listed = |name: &str| study.supplies.iter().any(|supply| same_name(&supply.name.value, name));
    let parts = other_part_of(study, catalog, id).into_iter().filter(|(name, _)| !listed(name));
    parts
        .map(|(name, need)| Bought {
            name,
            what: say!("the other part of {title}; has a data sheet of its own", title),
            amount: need.map_or_else(|| say!("as its label says").to_owned(), Need::words),
            packs: String::new(),
            cost: say!("in the price of {title} if sold with it", title),
        })
        .collect()
}

/// What several steps or products share, each once.
fn shared(study: &Study, work: &[Work<'_>]) -> Vec<Bought> {
    let prepared: Vec<&Section> =
        study.sections.iter().filter(|section| section.treatment != Treatment::Untouched).collect();
    let mut rows = Vec::new();
    let mut add = |name: &str, what: String, amount: String| {
        rows.push(Bought { name: name.to_owned(), what, amount, packs: String::new(), cost: String::new() });
    };
    let has = |verb: Verb| study.prep.iter().any(|step| step.verb == verb);
    let edges: Option<f64> =
        prepared.iter().map(|section| section.outline.as_ref().map(around_mm)).sum::<Option<f64>>();
    if let Some(edges_mm) = edges.filter(|_| has(Verb::Tape)) {
        let metres = (edges_mm * SPARE / 1000.0).ceil();
        add(
            say!("Masking tape"),
            say!("around {sections}", sections = count(prepared.len(), "section")),
            say!("about {n} m", n = decimal(metres)),
        );
    }
    let loose = study.loose_specimens().count();
    if has(Verb::Label) {
        let each = if loose > 0 {
            say!("one for each section and specimen, and spare ones")
        } else if study.is_on_racks() {
            say!("one for each specimen, and spare ones")
        } else {
            say!("one for each section, and spare ones")
        };
        add(say!("Labels"), each.into(), whole((study.sections.len() + loose) as u64).to_string());
    }
    for (id, number) in pulls::dollies(study) {
        let (measure, n) = (&study.measure(id).name.value, whole(number as u64));
        add(say!("Dollies"), say!("one for each pull of {measure}, and spare ones", measure), n.to_string());
        add(
            say!("Glue for the dollies"),
            say!("for {measure}; has a data sheet of its own", measure),
            say!("for {n} dollies, as its data sheet says", n),
        );
    }
    let fresh = work.iter().filter(|work| work.step.fresh_cloth);
    let cloths: u64 = fresh
        .map(|work| {
            let each = u64::from(work.occasions.unwrap_or(1)) * u64::from(work.step.times);
            each * surface(study, work.step).places as u64
        })
        .sum();
    if cloths > 0 {
        let each = if study.patches.is_some() && study.is_on_racks() {
            say!("a fresh one for each wipe of each specimen and patch")
        } else if study.patches.is_some() {
            say!("a fresh one for each wipe of each section and patch")
        } else if study.is_on_racks() {
            say!("a fresh one for each wipe of each specimen")
        } else if loose > 0 {
            say!("a fresh one for each wipe of each section and specimen")
        } else {
            say!("a fresh one for each wipe of each section")
        };
        add(say!("Lint-free cloths"), each.to_owned(), whole(cloths).to_string());
    }
    let laid =
        || study.products_with_ids().filter(|(id, _)| study.is_laid_on(*id)).map(|(_, product)| product);
    let each = say!("one for each product and coat, never shared");
    // A tool that the study names stands among the tools.
    let by_hand = |own: &&Product| own.tool.is_none() && !own.is_aerosol();
    let applicators: u32 = laid().filter(by_hand).map(Product::coats_number).sum();
    if applicators > 0 {
        add(say!("Applicators"), each.to_owned(), whole(applicators.into()).to_string());
    }
    let wiped = laid().filter(|own| own.is_wiped()).flat_map(|own| {
        let unwiped = own.unwiped;
        own.each_coat().filter(move |coat| !unwiped || coat.off.is_some())
    });
    let cloths = wiped.count();
    if cloths > 0 {
        add(say!("Cloths to wipe off or buff"), each.to_owned(), whole(cloths as u64).to_string());
    }
    rows
}

/// What is counted, with its tenth to spare, in whole ones.
fn whole(n: u64) -> u64 {
    n + n.div_ceil(10)
}

// The smallest upright rectangle around it; tape is laid in straight lines.
fn around_mm(outline: &Outline) -> f64 {
    let (left, top, right, bottom) = outline.bounds();
    2.0 * (right - left + bottom - top)
}
