//! Tests on ranks and the agreement of raters against published examples.

use serde::Deserialize;
use tapeline::stats::ranks::{chosen, kruskal_wallis, two_groups, weighted_kappa};

use super::{near, read};

#[derive(Deserialize)]
struct Truth {
    kruskal: Vec<Kruskal>,
    pair: Vec<Pair>,
    kappa: Vec<Kappa>,
}

#[derive(Deserialize)]
struct Kruskal {
    name: String,
    relative: f64,
    h: f64,
    df: f64,
    p: f64,
    groups: Vec<Vec<f64>>,
}

#[derive(Deserialize)]
struct Pair {
    name: String,
    relative: f64,
    u: f64,
    exact: Option<f64>,
    normal: Option<f64>,
    one: Vec<f64>,
    other: Vec<f64>,
}

#[derive(Deserialize)]
struct Kappa {
    name: String,
    relative: f64,
    weighted: f64,
    counts: Vec<Vec<u32>>,
}

fn truth() -> Truth {
    read(include_str!("rank_tests.toml"))
}

#[test]
fn several_groups_agree_with_the_published_statistics() {
    assert_eq!(truth().kruskal.len(), 2);
    for set in truth().kruskal {
        let found = kruskal_wallis(&set.groups).unwrap();
        near(&set.name, found.h, set.h, (set.relative, 0.0));
        near(&set.name, found.df, set.df, (0.0, 0.0));
        near(&set.name, found.p_chi_square, set.p, (set.relative, 0.0));
        // Drawn exchanges are near the chi-square chance, which is itself near for ten a group: four standard errors
        // of 20,000 draws and the error of the approximation.
        near(&set.name, found.by_exchange.p, set.p, (0.0, 4.0 * (0.02_f64 * 0.98 / 20_000.0).sqrt() + 2e-3));
    }
}

#[test]
fn two_groups_agree_with_the_exact_and_the_normal_chance() {
    assert_eq!(truth().pair.len(), 4);
    for set in truth().pair {
        let found = two_groups(&set.one, &set.other).unwrap();
        near(&set.name, found.u, set.u, (0.0, 1e-9));
        let printed = chosen(found.by_exchange, found.p_normal);
        set.normal.inspect(|&normal| near(&set.name, found.p_normal, normal, (set.relative, 0.0)));
        assert_eq!(printed.exact, set.exact.is_some(), "{}", set.name);
        let expected = set.exact.or(set.normal).unwrap();
        near(&set.name, printed.p, expected, (set.relative, 0.0));
    }
}

#[test]
fn raters_agree_as_published() {
    for set in truth().kappa {
        let mut pairs = Vec::new();
        for (row, counts) in set.counts.iter().enumerate() {
            for (column, &count) in counts.iter().enumerate() {
                pairs.extend((0..count).map(|_| (row as f64, column as f64)));
            }
        }
        assert_eq!(pairs.len(), 91);
        near(&set.name, weighted_kappa(&pairs).unwrap(), set.weighted, (set.relative, 0.0));
    }
}

/// Five groups of 2, 2, 2, 2 and 4 marks, all 4 but the two of the first group: of the C(12, 2) = 66 places of the two
/// marks, the four that fall into one of the groups of two lie as far apart. The chi-square distribution would say 0.027.
#[test]
fn tiny_groups_are_judged_by_exchange_and_not_by_chi_square() {
    let groups = [vec![2.0, 2.0], vec![4.0; 2], vec![4.0; 2], vec![4.0; 2], vec![4.0; 4]];
    let found = kruskal_wallis(&groups).unwrap();
    assert!((found.p_chi_square - 0.026_6).abs() < 1e-3, "{found:?}");
    // 12! / (2!^4 4!) = 1 247 400 ways are too many to count; four standard errors of 20 000 draws.
    let exact: f64 = 4.0 / 66.0;
    assert!(!found.by_exchange.exact);
    assert!(
        (found.by_exchange.p - exact).abs() < 4.0 * (exact * (1.0 - exact) / 20_000.0).sqrt(),
        "{found:?}"
    );
}
