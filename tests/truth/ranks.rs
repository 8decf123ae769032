//! Chances of ranks: seeded draws against a full count of all choices.

use serde::Deserialize;
use tapeline::stats::hsu::Better;
use tapeline::stats::random::Draws;
use tapeline::stats::rank_chances::{Apart, resampled};

use super::{near, read};

#[derive(Deserialize)]
struct Ranks {
    absolute: f64,
    product: Vec<Product>,
}

#[derive(Deserialize)]
struct Product {
    name: String,
    sections: Vec<f64>,
    ranks: Vec<f64>,
}

#[test]
fn chances_of_leading_agree_with_the_count_of_all_choices() {
    let truth: Ranks = read(include_str!("ranks.toml"));
    assert_eq!(truth.product.len(), 3);
    let sections: Vec<&[f64]> = truth.product.iter().map(|product| product.sections.as_slice()).collect();
    for seed in [1, 20] {
        let draws = Draws { count: 10_000, seed };
        let first = resampled(&sections, Apart::AsDrawn, Better::Higher, draws).unwrap();
        let last = resampled(&sections, Apart::AsDrawn, Better::Lower, draws).unwrap();
        assert_eq!(resampled(&sections, Apart::AsDrawn, Better::Higher, draws).unwrap(), first);
        for (at, product) in truth.product.iter().enumerate() {
            near(&product.name, first[at].first, product.ranks[0], (0.0, truth.absolute));
            near(&product.name, last[at].first, product.ranks[2], (0.0, truth.absolute));
            // Those last among three are not among the first two, so the middle rank is what is left.
            let middle = 1.0 - first[at].first - last[at].first;
            near(&product.name, middle, product.ranks[1], (0.0, 2.0 * truth.absolute));
        }
    }
}

/// With a fourth product far behind, the first three are always those three.
#[test]
fn a_product_far_behind_is_never_among_the_first_three() {
    let truth: Ranks = read(include_str!("ranks.toml"));
    let mut sections: Vec<Vec<f64>> = truth.product.into_iter().map(|product| product.sections).collect();
    sections.push(vec![10.0, 12.0, 11.0]);
    let found =
        resampled(&sections, Apart::AsDrawn, Better::Higher, Draws { count: 2_000, seed: 3 }).unwrap();
    for chance in &found[..3] {
        near("among the first three", chance.among_three, 1.0, (0.0, 1e-12));
    }
    near("far behind", found[3].among_three, 0.0, (0.0, 0.0));
}
