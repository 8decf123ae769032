//! The shopping list: what the whole study takes of each thing with its spare, in how many packs, for how much.

use super::super::numbers::{amount, dose, money};
use super::amounts::{self, SPARE, stock_share};
use super::steps::mix;
use super::view::{Bought, Shopping};
use crate::catalog::Catalog;
use crate::diag::count;
use crate::study::{
    Anchor, Disclosure, Outline, Placing, Price, Section, Step, Study, SupplyId, Treatment, Upkeep, Verb,
};
use crate::units::{AnyQuantity, Dimension, decimal};
use std::collections::BTreeMap;

/// The whole list.
pub(super) fn shopping(study: &Study, catalog: &Catalog) -> Shopping {
    let work = work(study);
    let mut list = List { rows: Vec::new(), spent: BTreeMap::new() };
    for at in 0..study.supplies.len() {
        list.supply(study, catalog, SupplyId::new(at), &work);
    }
    list.products(study, catalog);
    list.rows.extend(shared(study, &work));
    let total: Vec<String> = list.spent.iter().map(|(unit, value)| money(*value, unit)).collect();
    Shopping { rows: list.rows, total: total.join(" and ") }
}

/// A step, and how often the whole study does it.
struct Work<'a> {
    step: &'a Step,
    times: u32,
    place: String,
}

fn work(study: &Study) -> Vec<Work<'_>> {
    let once = study.prep.iter().map(|step| Work { step, times: step.times, place: "preparation".into() });
    let washed = study.rounds.iter().filter(|round| !matches!(round.placing, Placing::At(Anchor::Step(_))));
    let rounds = u32::try_from(washed.count()).unwrap_or(u32::MAX);
    let before = study.before_each_round.iter().map(|step| Work {
        step,
        times: step.times.saturating_mul(rounds),
        place: count(rounds as usize, "round"),
    });
    let upkeep = study.upkeep.iter().filter_map(|upkeep| {
        let Upkeep::Every { step, .. } = upkeep else { return None };
        let times = upkeep_times(study, upkeep)?;
        let place = format!("upkeep {}", count(times as usize, "time"));
        Some(Work { step, times: step.times.saturating_mul(times), place })
    });
    once.chain(before).chain(upkeep).filter(|work| work.times > 0).collect()
}

// From its first time to the last round; `None` where the days of that are not known.
fn upkeep_times(study: &Study, upkeep: &Upkeep) -> Option<u32> {
    let Upkeep::Every { every, from, .. } = upkeep else { return None };
    let first = study.apply.as_ref()?.on.as_ref()?.value;
    let last = study.round(study.last_round()?).date()?;
    let days = f64::from((last - first).get_days());
    let (every, from) = (every.seconds() / DAY_S, from.unwrap_or(*every).seconds() / DAY_S);
    let due = (0..MOST_TIMES).take_while(|n| every > 0.0 && from + f64::from(*n) * every <= days);
    u32::try_from(due.count()).ok().filter(|times| *times > 0)
}

const DAY_S: f64 = 86_400.0;

/// Daily work for a quarter of a century; more is a slip.
const MOST_TIMES: u32 = 10_000;

struct List {
    rows: Vec<Bought>,
    spent: BTreeMap<&'static str, f64>,
}

impl List {
    fn supply(&mut self, study: &Study, catalog: &Catalog, id: SupplyId, work: &[Work<'_>]) {
        let supply = study.supply(id);
        let used: Vec<&Work<'_>> =
            work.iter().filter(|work| work.step.with.as_ref().is_some_and(|with| with.value == id)).collect();
        let need = supply.uses.and_then(|uses| {
            let one = |work: &&Work<'_>| {
                let share = stock_share(catalog, supply, mix(study, work.step))?;
                Some(amounts::area_m2(study, work.step)? * uses.base() * share * f64::from(work.times))
            };
            let all: Option<Vec<f64>> = used.iter().map(one).collect();
            all.map(|all| (all.iter().sum::<f64>(), uses))
        });
        let mut places: Vec<&str> = used.iter().map(|work| work.place.as_str()).collect();
        places.dedup();
        let what = if used.is_empty() { "to have on site".to_owned() } else { places.join(", ") };
        let (packs, cost) = self.packs(need, supply.price.as_ref());
        let amount = match need {
            Some((need, uses)) if need > 0.0 => dose(need * SPARE, unit_of(uses)),
            _ if supply.gear.is_some() => "for everybody at the work".to_owned(),
            _ => "as its label says".to_owned(),
        };
        self.rows.push(Bought { name: supply.name.value.clone(), what, amount, packs, cost });
    }

    fn products(&mut self, study: &Study, catalog: &Catalog) {
        for (id, product) in study.products_with_ids() {
            let sections = study.sections_of(Treatment::Product(id)).count();
            if sections == 0 {
                continue;
            }
            let coats = product.each_coat().map(|coat| {
                let share = amounts::product_share(catalog, product, coat.mix.as_ref())?;
                let uses = coat.uses?;
                Some((amounts::need(study, id, std::iter::once(coat))?.in_all_amount() * share, uses))
            });
            let coats: Option<Vec<(f64, AnyQuantity)>> = coats.collect();
            let need = coats.and_then(|coats| {
                let uses = coats.first()?.1;
                let alike = coats.iter().all(|(_, other)| other.unit.dimension == uses.unit.dimension);
                alike.then(|| (coats.iter().map(|(need, _)| need).sum::<f64>(), uses))
            });
            let (packs, mut cost) = self.packs(need, product.price.as_ref());
            if product.disclosure == Some(Disclosure::Given) {
                "given".clone_into(&mut cost);
            }
            let amount = need.map_or_else(
                || "as its label says".to_owned(),
                |(need, uses)| dose(need * SPARE, unit_of(uses)),
            );
            let what = count(sections, "section");
            self.rows.push(Bought { name: product.title().to_owned(), what, amount, packs, cost });
        }
    }

    // Nobody sells part of a pack, so packs are rounded up; one is bought where the need is not known.
    fn packs(&mut self, need: Option<(f64, AnyQuantity)>, price: Option<&Price>) -> (String, String) {
        let Some(price) = price else { return (String::new(), String::new()) };
        let by_mass = |any: AnyQuantity| any.unit.dimension == Dimension::Mass;
        let same =
            need.filter(|(_, uses)| (uses.unit.dimension == Dimension::MassPerArea) == by_mass(price.amount));
        let packs = same.map_or(1.0, |(need, _)| (need * SPARE / price.amount.base() - 1e-9).ceil().max(1.0));
        let any = price.money.any();
        *self.spent.entry(any.unit.symbol).or_insert(0.0) += any.value * packs;
        let asked = if same.is_none() { " or as needed" } else { "" };
        (
            format!("{} x {}{asked}", decimal(packs), amount(&price.amount)),
            money(any.value * packs, any.unit.symbol),
        )
    }
}

fn unit_of(uses: AnyQuantity) -> &'static str {
    if uses.unit.dimension == Dimension::MassPerArea { "g" } else { "ml" }
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
            "Tape",
            format!("around {}", count(prepared.len(), "section")),
            format!("about {} m", decimal(metres)),
        );
    }
    if has(Verb::Label) {
        add(
            "Labels",
            "one for each section, and spare ones".into(),
            decimal(as_f64(study.sections.len() + 2)),
        );
    }
    let cloths: u64 = work
        .iter()
        .filter(|work| work.step.fresh_cloth)
        .map(|work| u64::from(work.times) * prepared.len() as u64)
        .sum();
    if cloths > 0 {
        add("Lint-free cloths", "a fresh one for each wipe of each section".into(), cloths.to_string());
    }
    let coats: Vec<u32> = study
        .products_with_ids()
        .filter(|(id, _)| study.sections_of(Treatment::Product(*id)).next().is_some())
        .map(|(_, product)| product.coats_number())
        .collect();
    if !coats.is_empty() {
        let all = coats.iter().sum::<u32>();
        add("Applicators", "one for each product and coat, never shared".into(), all.to_string());
        add("Buffing cloths", "one for each product and coat, never shared".into(), all.to_string());
    }
    rows
}

fn as_f64(n: usize) -> f64 {
    u32::try_from(n).map_or(f64::INFINITY, f64::from)
}

// The smallest upright rectangle around it; tape is laid in straight lines.
fn around_mm(outline: &Outline) -> f64 {
    let (left, top, right, bottom) = outline.bounds();
    2.0 * (right - left + bottom - top)
}
