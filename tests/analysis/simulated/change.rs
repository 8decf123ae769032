//! Change of gloss from the first to the last round, against bare.

use super::{LAST, SECTIONS, Tolerance, place, read, without_outlier};
use serde::Deserialize;
use std::collections::BTreeMap;
use tapeline::stats::anova::pooled_spread;
use tapeline::stats::dunnett::against_control;
use tapeline::stats::max_t::{MaxT, Sides};
use tapeline::stats::solved::Solved;
use tapeline::stats::{GroupMean, Spread, holm, summary, welch};

#[derive(Deserialize)]
struct Truth {
    #[serde(flatten)]
    tolerance: Tolerance,
    spread: [f64; 2],
    largest_t: [f64; 2],
    cover: usize,
    retention: BTreeMap<String, f64>,
    product: Vec<Product>,
}

#[derive(Deserialize)]
struct Product {
    name: String,
    difference: f64,
    true_difference: f64,
    welch: [f64; 6],
    pooled: [f64; 6],
    holm: f64,
    among_four: [f64; 7],
}

fn truth() -> Truth {
    let truth: Truth = read(include_str!("change.toml"));
    assert_eq!((truth.retention.len(), truth.product.len()), (5, 4));
    truth
}

/// The changes of the sections of every treatment.
fn changes() -> Vec<Vec<f64>> {
    let study = without_outlier();
    let change = |code: &&str| study.section("gloss", code, LAST).change.unwrap().value;
    SECTIONS.iter().map(|(_, codes)| codes.iter().map(change).collect()).collect()
}

#[test]
fn the_table_against_bare_agrees() {
    let (truth, study) = (truth(), without_outlier());
    let gloss = study.measure("gloss");
    let table = gloss.round(study.round(LAST)).unwrap().to_bare.as_ref().unwrap();
    let spread = table.basis.spread.unwrap();
    truth.tolerance.all("spread", [spread.df, spread.sd.powi(2)], truth.spread);
    truth.tolerance.near("largest t", table.critical.unwrap(), truth.largest_t[0]);
    let upper = MaxT::new(&[2; 4], 2, Sides::Upper).unwrap();
    truth.tolerance.near("largest t", upper.critical_value(0.05, spread.df).unwrap(), truth.largest_t[1]);
    let of_p = Tolerance { absolute: 0.0, ..truth.tolerance };
    for product in &truth.product {
        let name = &product.name;
        let row = table.rows.iter().find(|row| row.treatment == study.treatment(name)).unwrap();
        let (interval, [error, t, low, high, p, p_less, p_greater]) =
            (row.interval.unwrap(), product.among_four);
        truth.tolerance.near(name, row.difference, product.difference);
        truth.tolerance.all(name, [interval.low, interval.high], [low, high]);
        let both = (interval.high - interval.low) / 2.0 / table.critical.unwrap();
        truth.tolerance.all(name, [both, row.difference / both], [error, t]);
        let of = |t: f64| upper.tail(t, spread.df).unwrap();
        of_p.all(name, [row.p.unwrap(), of(-t), of(t)], [p, p_less, p_greater]);
    }
}

#[test]
fn each_product_alone_against_bare_agrees() {
    let (truth, changes) = (truth(), changes());
    let bare = &changes[place("bare")];
    let (mut found, mut cover) = (Vec::new(), 0);
    for product in &truth.product {
        let (name, own) = (&product.name, &changes[place(&product.name)]);
        let alone = welch::difference(own, bare).unwrap();
        let (low, high) = alone.interval(0.95).unwrap();
        let t = alone.difference / alone.error;
        truth.tolerance.all(name, [alone.error, alone.df, t, alone.p().unwrap(), low, high], product.welch);
        cover += usize::from((low..=high).contains(&product.true_difference));
        found.push(alone.p().unwrap());

        let spread: Spread = pooled_spread(&[own, bare]).unwrap();
        let group = |values: &[f64]| GroupMean { mean: summary::mean(values).unwrap(), n: values.len() };
        let row =
            against_control(&[group(own)], group(bare), spread, 0.95, &mut Solved::default()).unwrap()[0];
        let error = spread.of_difference(group(own), group(bare));
        truth.tolerance.all(
            name,
            [error, spread.df, row.difference / error, row.p, row.low, row.high],
            product.pooled,
        );
    }
    assert_eq!(cover, truth.cover);
    for (product, adjusted) in truth.product.iter().zip(holm::adjusted(&found).unwrap()) {
        truth.tolerance.near(&product.name, adjusted, product.holm);
    }
}

#[test]
fn the_share_that_is_left_agrees() {
    let (truth, study) = (truth(), without_outlier());
    for (name, &expected) in &truth.retention {
        let series = study.measure("gloss").group(study.treatment(name)).unwrap();
        truth.tolerance.near(name, series.at[LAST].retention.unwrap().mean, expected);
    }
}
