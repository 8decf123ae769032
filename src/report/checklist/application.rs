//! The application: the day, the climate, and a step for each product.

use super::super::numbers;
use super::super::safety::{self, Entry};
use super::amounts::{self, mix_text};
use super::climate;
use super::steps::{heads, section_list, texts};
use super::view::{Group, StepView};
use crate::catalog::Catalog;
use crate::diag::count;
use crate::study::{Product, ProductId, Study, Treatment};
use crate::units::Dimension;

pub(super) fn application(study: &Study, catalog: &Catalog) -> Group {
    let placed =
        study.products_with_ids().filter(|(id, _)| study.sections_of(Treatment::Product(*id)).count() > 0);
    let steps: Vec<StepView> = placed
        .enumerate()
        .map(|(at, (id, product))| apply_view(study, catalog, (id, product), at + 1))
        .collect();
    let climate = (!steps.is_empty()).then(|| climate::view(study, catalog));
    Group { title: "Application".into(), lines: day(study).into_iter().collect(), climate, steps }
}

fn day(study: &Study) -> Option<String> {
    let apply = study.apply.as_ref()?;
    let on = apply.on.as_ref().map(|on| format!("On {}", on.value));
    let from = apply.from.map(|from| format!("from {:02}:{:02}", from.hour(), from.minute()));
    let by = apply.by.as_ref().map(|by| format!("by {by}"));
    let when: Vec<String> = [on, from, by].into_iter().flatten().collect();
    (!when.is_empty()).then(|| format!("{}.", when.join(" ").trim_end_matches('.')))
}

fn apply_view(study: &Study, catalog: &Catalog, product: (ProductId, &Product), number: usize) -> StepView {
    let (id, product) = product;
    let codes: Vec<&str> = study.sections_of(Treatment::Product(id)).map(|(_, s)| s.code.as_str()).collect();
    let coats = product.coats.as_ref().map_or(1, |coats| coats.number);
    let coated =
        |coat: u32, code: &str| if coats == 1 { code.to_owned() } else { format!("{code}, coat {coat}") };
    // A page holds few boxes; where a product lies on many sections the list of codes stands for them.
    let boxes = if codes.len() * coats as usize <= 12 {
        (1..=coats).flat_map(|coat| codes.iter().map(move |code| coated(coat, code))).collect()
    } else {
        Vec::new()
    };
    let mut facts = product_facts(product, coats);
    facts.extend(amount_facts(study, catalog, id, product));
    facts.push(Entry::new("Climate", climate::in_short(study, catalog)));
    StepView {
        number,
        title: format!("Apply {} on {}", product.title(), section_list(&codes)),
        why: String::new(),
        facts,
        cautions: texts(&safety::of_application(catalog, study, product)),
        prose: String::new(),
        boxes,
        blanks: written(study, product),
        writing: coats.min(4) as usize,
        card: Some(safety::of_product(catalog, product)),
    }
}

// What a `done` line of the study takes, in its order, and the surface.
fn written(study: &Study, product: &Product) -> Vec<String> {
    let unit =
        product.uses.map(|uses| if uses.unit.dimension == Dimension::MassPerArea { "g" } else { "ml" });
    let used = unit.map_or_else(|| "used".to_owned(), |unit| format!("used, {unit}"));
    let degrees = climate::degrees(study);
    let mut blanks = heads(&["date", "time"]);
    blanks.extend([used, format!("air, {degrees}"), "humidity, %".into(), format!("surface, {degrees}")]);
    blanks.push("initials".into());
    blanks
}

fn product_facts(product: &Product, coats: u32) -> Vec<Entry> {
    let mut facts = Vec::new();
    let mut add = |label: &str, text: Option<String>| {
        facts.extend(text.map(|text| Entry::new(label, text)));
    };
    add("Kind", product.kind.as_ref().map(|kind| kind.words.value.clone()));
    let after = product.coats.as_ref().and_then(|coats| coats.after);
    let next =
        after.map_or_else(String::new, |after| format!(", the next after {}", numbers::amount(&after)));
    add("Coats", Some(format!("{}{next}", count(coats as usize, "coat"))));
    add(
        "Flash",
        product.flash.as_ref().map(|flash| format!("{}, then level or buff", numbers::amount(&flash.value))),
    );
    add("Dry", product.dry.as_ref().map(|dry| format!("no water for {}", numbers::amount(&dry.value))));
    add("Cure", product.cure.as_ref().map(|cure| numbers::amount(&cure.value)));
    facts
}

fn amount_facts(study: &Study, catalog: &Catalog, id: ProductId, product: &Product) -> Vec<Entry> {
    let need = amounts::need(study, id, product);
    let mut facts = Vec::new();
    if let Some(mix) = &product.mix {
        facts.push(Entry::new("Mix", mix_text(&mix.value)));
        let how = amounts::product_mixing(catalog, product, need.as_ref());
        facts.extend(how.map(|how| Entry::new("Measure", how)));
    }
    facts.extend(product.uses.map(|uses| Entry::new("Uses", format!("{uses}, a coat"))));
    match need {
        Some(need) => {
            facts.push(Entry::new("Each", format!("{} for one coat on one section", need.each())));
            facts.push(Entry::new("In all", need.in_all()));
        }
        None => facts.push(Entry::new(
            "Each",
            "not stated: as the label says, the same on each section; write down what was used",
        )),
    }
    facts
}
