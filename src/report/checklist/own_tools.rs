//! Tools on the shopping list: what measures, lays on and rubs. How many follows from products and coats, since none is shared.

use super::super::safety;
use super::doses;
use super::view::Bought;
use crate::catalog::Catalog;
use crate::speech::{list, say};
use crate::study::{Product, Study, Verb};

/// The rows; `whole` adds what is to spare.
pub(super) fn rows(study: &Study, catalog: &Catalog, whole: fn(u64) -> u64) -> Vec<Bought> {
    let mut all: Vec<Bought> = gloves(study, whole).into_iter().collect();
    all.extend(laying_on(study, catalog, whole));
    all.extend(rubbing(study, catalog, whole));
    all.extend(measuring(study, catalog, whole));
    all
}

fn bought(name: &str, what: String, amount: String) -> Bought {
    Bought { name: name.to_owned(), what, amount, packs: String::new(), cost: String::new() }
}

fn laid(study: &Study) -> impl Iterator<Item = &Product> {
    study.products_with_ids().filter(|(id, _)| study.is_laid_on(*id)).map(|(_, product)| product)
}

/// Gloves are changed with the product, so that they are many.
fn gloves(study: &Study, whole: fn(u64) -> u64) -> Option<Bought> {
    // Two pairs are worn one over the other where the catalog asks for it: for what gives off ammonia as it cures.
    let worn = |own: &Product| {
        let class = own.kind.as_ref().and_then(|kind| kind.class);
        1 + u64::from(class.is_some_and(|class| class.is_in("silazane")))
    };
    let coats: u64 = laid(study).map(|own| u64::from(own.coats_number()) * worn(own)).sum();
    let pairs = say!("{n} pairs", n = whole(coats));
    let what = say!(
        "of the kinds under “{protection}”: a fresh pair for each product and coat, others as they are wet",
        protection = say!("Protection")
    );
    (coats > 0).then(|| bought(say!("Gloves"), what, pairs))
}

/// Brushes, rollers and guns that the study names. What dries in one would be in the next coat.
fn laying_on(study: &Study, catalog: &Catalog, whole: fn(u64) -> u64) -> Vec<Bought> {
    let mut tools: Vec<(&str, bool, Vec<&str>, u64)> = Vec::new();
    for (tool, own) in laid(study).filter_map(|own| Some((own.tool.as_ref()?, own))) {
        let coats = u64::from(own.coats_number());
        match tools.iter_mut().find(|(how, ..)| *how == tool.how) {
            Some((.., products, number)) => {
                products.push(own.title());
                *number += coats;
            }
            None => tools.push((&tool.how, safety::is_sprayed(catalog, own), vec![own.title()], coats)),
        }
    }
    let row = |(how, is_gun, products, number): (&str, bool, Vec<&str>, u64)| {
        let products = list(&products, "and");
        if is_gun {
            let what =
                say!("for {products}: cleaned after each coat with what its data sheet names", products);
            return bought(how, what, "1".to_owned());
        }
        let what = say!(
            "for {products}: a clean one for each product and coat, or one for each product, cleaned between coats as its data sheet says",
            products
        );
        bought(how, what, whole(number).to_string())
    };
    tools.into_iter().map(row).collect()
}

/// Abrasive for sanding and between coats, and what it is held with.
fn rubbing(study: &Study, catalog: &Catalog, whole: fn(u64) -> u64) -> Vec<Bought> {
    let mut rows: Vec<Bought> = Vec::new();
    let sanding: Vec<_> = study.prep.iter().filter(|step| step.verb == Verb::Sand).collect();
    for grit in sanding.iter().filter_map(|step| step.grit.as_ref()) {
        rows.push(bought(
            &say!("Abrasive sheets, grit {grit}", grit = grit.value),
            say!("sanding: a fresh one when it loads or stops cutting").to_owned(),
            say!("as many as load: try it on a spare piece").to_owned(),
        ));
    }
    let mut between: Vec<(String, Vec<&str>, u64)> = Vec::new();
    for own in laid(study).filter(|own| safety::dust_between(catalog, study, own).is_some()) {
        let Some(words) = own.coats.as_ref().and_then(|coats| coats.between.as_deref()) else { continue };
        let name = match grit_of(words) {
            Some(grit) => say!("Abrasive sheets, grit {grit}", grit),
            None => say!("Abrasive for “{words}”", words),
        };
        let times = u64::from(own.coats_number().saturating_sub(1));
        match between.iter_mut().find(|(known, ..)| *known == name) {
            Some((_, products, number)) => {
                products.push(own.title());
                *number += times;
            }
            None => between.push((name, vec![own.title()], times)),
        }
    }
    // What the study names for sanding holds the sheets between coats too.
    let named = sanding.iter().any(|step| step.tool.is_some());
    let by_hand = !named && (!between.is_empty() || !sanding.is_empty());
    rows.extend(between.into_iter().map(|(name, products, number)| {
        let what = say!(
            "between coats of {products}: a fresh one for each product and coat, never shared",
            products = list(&products, "and")
        );
        bought(&name, what, whole(number).to_string())
    }));
    if by_hand {
        rows.push(bought(
            say!("Sanding block for the hand, with a connection for the suction hose"),
            say!("or any block, and the nozzle held beside it").to_owned(),
            "1".to_owned(),
        ));
    }
    rows
}

/// The grit that words name: `180 grit`, `Grit 180`, `P180`.
fn grit_of(words: &str) -> Option<u32> {
    let tokens: Vec<&str> =
        words.split(|c: char| !c.is_alphanumeric()).filter(|token| !token.is_empty()).collect();
    let named = |token: &&str| ["grit", "korn", "k\u{f6}rnung"].contains(&token.to_lowercase().as_str());
    tokens.iter().enumerate().find_map(|(at, token)| {
        let digits = token.strip_prefix(['P', 'p']);
        let number = digits.unwrap_or(token).parse().ok()?;
        let before = at.checked_sub(1).and_then(|at| tokens.get(at));
        (digits.is_some() || before.is_some_and(named) || tokens.get(at + 1).is_some_and(named))
            .then_some(number)
    })
}

/// Syringes, cylinders and scales.
fn measuring(study: &Study, catalog: &Catalog, whole: fn(u64) -> u64) -> Vec<Bought> {
    let small = doses::of_mixes(study, catalog).1;
    let small = small
        .into_iter()
        .map(|tool| bought(tool, say!("for {what}", what = say!("small amounts")), "1".to_owned()));
    let own = doses::of_products(study, catalog).into_iter().map(|own| {
        let products = list(&own.products, "and");
        if own.is_scale {
            return bought(own.tool, say!("for {what}", what = products), "1".to_owned());
        }
        let what = say!("for {products}: one for each product and coat, never shared", products);
        bought(own.tool, what, whole(own.number.into()).to_string())
    });
    small.chain(own).collect()
}

#[cfg(test)]
mod tests {
    use super::grit_of;

    #[test]
    fn a_grit_is_read_beside_its_word_only() {
        assert_eq!(grit_of("rub with 180 grit, dust off"), Some(180));
        assert_eq!(grit_of("rub 2 times with grit 240"), Some(240));
        assert_eq!(grit_of("rub lightly with P320"), Some(320));
        assert_eq!(grit_of("rub with a fine pad for 2 min"), None);
    }
}
