//! Products by piece: whether they do otherwise on one than on another, against `numpy` (`lstsq`) and `scipy` 1.17.1 (`stats.f`).

use crate::bench::{Bench, at};
use crate::close;
use crate::pieces::bench;
use tapeline::analysis::{ByPiece, ScatterOf};
use tapeline::study::Grouping;

/// Bay and clove change places from one plank to the other; bare does not.
const CROSSED: [(&str, &str, Option<f64>); 12] = [
    ("bay", "p1", Some(-1.0)),
    ("bay", "p1", Some(-2.0)),
    ("bay", "p2", Some(-12.0)),
    ("bay", "p2", Some(-13.5)),
    ("clove", "p1", Some(-11.0)),
    ("clove", "p1", Some(-12.0)),
    ("clove", "p2", Some(-2.0)),
    ("clove", "p2", Some(-3.0)),
    ("bare", "p1", Some(-20.0)),
    ("bare", "p1", Some(-21.0)),
    ("bare", "p2", Some(-20.5)),
    ("bare", "p2", Some(-22.0)),
];

fn found(rows: &[(&str, &str, Option<f64>)]) -> ByPiece {
    bench(rows).analyse().by_piece.unwrap()
}

fn agrees(found: &ByPiece, alike: (f64, f64), all: (f64, f64, f64), products: (f64, f64, f64)) {
    assert!(close(found.alike.sd, alike.0, 1e-10) && found.alike.df == alike.1, "{found:?}");
    for (test, (f, df, p)) in [(found.all, all), (found.products.unwrap(), products)] {
        assert!(close(test.f, f, 1e-9) && close(test.df, df, 1e-9), "{test:?}");
        assert!((test.p / p - 1.0).abs() < 1e-7, "{test:?}");
    }
}

#[test]
fn products_that_change_places_stand_out() {
    let found = found(&CROSSED);
    agrees(
        &found,
        (0.841_625_411_530_173_2, 6.0),
        (144.794_117_647_058_8, 2.0, 8.363_581_956_557_16e-6),
        (289.455_882_352_941_2, 1.0, 2.637_310_047_268_861_7e-6),
    );
    assert!(found.stands_out() && found.order_differs(true) && found.order_differs(false));
    let means = |row: usize| -> Vec<(f64, usize)> {
        found.rows[row].1.iter().flatten().map(|mean| (mean.mean, mean.n)).collect()
    };
    assert_eq!(means(0), [(-1.5, 2), (-12.75, 2)]);
    assert_eq!(means(1), [(-11.5, 2), (-2.5, 2)]);
}

/// One board of bay is missing, and a third plank carries bay and bare alone.
#[test]
fn planks_that_carry_products_unevenly_are_tested_by_least_squares() {
    let mut rows = CROSSED.to_vec();
    rows.remove(3);
    rows.extend([("bay", "p3", Some(-6.0)), ("bare", "p3", Some(-19.0)), ("bare", "p3", Some(-21.0))]);
    let found = found(&rows);
    agrees(
        &found,
        (0.924_211_375_534_118, 6.0),
        (60.994_539_497_633_78, 3.0, 6.916_621_473_371_634e-5),
        (178.068_292_682_926_82, 1.0, 1.095_842_837_572_324_8e-5),
    );
    assert_eq!(found.pieces.len(), 3);
    let missing: Vec<usize> = found.rows.iter().map(|(_, means)| means.iter().flatten().count()).collect();
    assert_eq!(missing, [3, 2, 3]);
}

#[test]
fn planks_that_only_differ_as_a_whole_do_not_stand_out() {
    let mut rows = CROSSED;
    let changes = [-1.0, -2.0, -4.0, -5.5, -3.0, -4.0, -6.0, -7.0, -20.0, -21.0, -23.5, -25.0];
    rows.iter_mut().zip(changes).for_each(|(row, change)| row.2 = Some(change));
    let found = found(&rows);
    agrees(
        &found,
        (0.841_625_411_530_173_2, 6.0),
        (0.205_882_352_941_176_52, 2.0, 0.819_447_286_508_641_7),
        (0.044_117_647_058_823_525, 1.0, 0.840_585_755_602_862_7),
    );
    assert!(!found.stands_out() && !found.order_differs(true));
}

#[test]
fn without_a_plank_that_carries_the_same_twice_there_is_no_test() {
    let once: Vec<_> = CROSSED.iter().step_by(2).copied().collect();
    assert_eq!(bench(&once).analyse().by_piece, None);
}

/// The spread that products are held against each other by, and the one against bare.
fn spreads(bench: &Bench) -> ((f64, f64), (f64, f64)) {
    let of =
        |spread: Option<tapeline::analysis::Spread>| spread.map(|spread| (spread.sd, spread.df)).unwrap();
    (of(bench.lead("month-1").basis.spread), of(bench.to_bare("month-1").basis.spread))
}

fn is(found: (f64, f64), expected: (f64, f64)) {
    assert!(close(found.0, expected.0, 1e-9) && close(found.1, expected.1, 1e-12), "{found:?}");
}

/// Bare lies 25 behind at one site and 7 at the other; the products do the same at both.
const BARE_ALONE: [(&str, &str, Option<f64>); 12] = [
    ("bay", "p1", Some(-4.0)),
    ("bay", "p1", Some(-5.0)),
    ("bay", "p2", Some(-4.5)),
    ("bay", "p2", Some(-4.0)),
    ("clove", "p1", Some(-7.0)),
    ("clove", "p1", Some(-8.0)),
    ("clove", "p2", Some(-7.0)),
    ("clove", "p2", Some(-8.5)),
    ("bare", "p1", Some(-30.0)),
    ("bare", "p1", Some(-31.0)),
    ("bare", "p2", Some(-12.0)),
    ("bare", "p2", Some(-11.0)),
];

#[test]
fn what_bare_does_otherwise_is_in_no_scatter_where_each_site_carries_all_twice() {
    let bench = at_both(&BARE_ALONE);
    let found = bench.analyse().by_piece.unwrap();
    assert!(found.stands_out() && !found.products_differ() && !found.order_differs(true));
    let (among, against_bare) = spreads(&bench);
    // Squares of 0.5, 0.125, 0.5, 1.125, 0.5 and 0.5 about the mean of each treatment at each site.
    is(among, ((3.25_f64 / 6.0).sqrt(), 6.0));
    is(against_bare, among);
    // Bay stands 3.375 above clove; with what bare does otherwise in the scatter nobody would be said to lead.
    let lead = bench.lead("month-1");
    assert_eq!(lead.may_lead.unwrap().len(), 1);
    let pairs = bench.analyse().between.unwrap().unwrap();
    is(pairs.basis.spread.map(|spread| (spread.sd, spread.df)).unwrap(), among);
    // Both products are told apart from bare at both sites.
    assert!(found.against_bare.len() == 4 && found.against_bare.iter().all(|row| row.told));
}

/// The same where a product stands only once at a site, by least squares.
#[test]
fn by_least_squares_bare_moves_no_difference_between_products() {
    let mut rows = BARE_ALONE.to_vec();
    rows.remove(7);
    let bench = at_both(&rows);
    let pairs = bench.analyse().between.unwrap().unwrap();
    assert!(pairs.basis.linked() && pairs.basis.scatter_of == ScatterOf::Products);
    // Least squares of the products alone (`numpy`, `lstsq`); with bare in it the difference would be 1.73.
    let row = pairs.rows[0];
    assert!(close(row.difference, 2.9, 1e-9), "{row:?}");
}

/// Yarrow-like leaders alike on both planks, and a third that lies farther behind on one: no order was told to differ.
#[test]
fn leaders_that_are_alike_everywhere_do_not_change_places() {
    let changes = [
        ("bay", [-4.0, -5.0, -4.5, -4.0]),
        ("clove", [-4.2, -5.2, -3.8, -4.3]),
        ("cumin", [-8.0, -9.0, -20.0, -21.0]),
    ];
    let rows: Vec<(&str, &str, Option<f64>)> = changes
        .iter()
        .flat_map(|(name, changes)| {
            changes
                .iter()
                .zip(["p1", "p1", "p2", "p2"])
                .map(move |(&change, plank)| (*name, plank, Some(change)))
        })
        .collect();
    let found = found(&rows);
    let products = found.products.unwrap();
    assert!(close(products.f, 137.886_666_666_666_67, 1e-9) && found.products_differ());
    // Bay has the higher mean on one plank and clove on the other, by 0.2.
    assert!(!found.order_differs(true), "{found:?}");
    assert!(!found.order_differs(false), "{found:?}");
}

/// Sites are what is compared within.
fn at_both(rows: &[(&str, &str, Option<f64>)]) -> Bench {
    let mut bench = bench(rows);
    let Grouping { members, .. } = bench.study.groups.remove(0);
    bench.study.by_site = Some(Grouping { name: at("site".into()), members, broken: false });
    bench
}

/// Boards with the plank and the site that each stands at.
fn at_sites(rows: &[(&str, &str, &str, f64)]) -> Bench {
    let planks: Vec<(&str, &str, Option<f64>)> =
        rows.iter().map(|&(carries, plank, _, change)| (carries, plank, Some(change))).collect();
    let mut bench = bench(&planks);
    let codes = (1..).map(|number| format!("S{number}"));
    let members =
        codes.zip(rows).map(|(code, row)| (bench.section_id(&code), at(row.2.to_owned()))).collect();
    bench.study.by_site = Some(Grouping { name: at("site".into()), members, broken: false });
    bench
}

/// Each plank stands at one site and carries everything once; products change places from one site to the other.
#[test]
fn planks_at_sites_are_tested_by_site_beside_what_planks_add() {
    let changes = [
        ("c", ["p1", "p2", "p3"], [[1.0, -12.0, -20.0], [0.4, -11.2, -19.5], [3.1, -9.9, -17.6]]),
        ("i", ["q1", "q2", "q3"], [[-13.0, -2.0, -24.0], [-15.2, -3.8, -26.3], [-11.9, -1.5, -23.1]]),
    ];
    let rows: Vec<(&str, &str, &str, f64)> = changes
        .iter()
        .flat_map(|(site, planks, changes)| {
            planks.iter().zip(changes).flat_map(move |(plank, changes)| {
                ["bay", "clove", "bare"]
                    .into_iter()
                    .zip(changes)
                    .map(move |(name, &change)| (name, *plank, *site, change))
            })
        })
        .collect();
    let bench = at_sites(&rows);
    let found = bench.analyse().by_piece.unwrap();
    agrees(
        &found,
        (0.357_460_176_492_120_3, 8.0),
        (1_636.839_130_434_782_4, 2.0, 3.531_636_099_924_836e-11),
        (3_232.278_260_869_564_7, 1.0, 1.016_993_415_033_676_6e-11),
    );
    assert!(found.order_differs(true));
    assert_eq!(found.pieces.len(), 2);
    // Products less bare: (1.5 - 11.033) / 2 + 19.033 and (-13.367 - 2.433) / 2 + 24.467; t of 8 degrees of freedom at 1 - 0.05 / 4 is 2.7515,
    // and the variance 1 / 3 of bare and 1 / 4 of 1 / 3 + 1 / 3.
    for (less, expected) in found.less_bare.iter().flatten().zip([14.266_667, 16.566_667]) {
        let own = less.interval.unwrap();
        let half = 2.7515 * 0.357_460_176 * 0.5_f64.sqrt();
        assert!((less.difference - expected).abs() < 1e-6, "{less:?}");
        assert!(
            (own.high - expected - half).abs() < 1e-4 && (expected - own.low - half).abs() < 1e-4,
            "{less:?}"
        );
    }
    assert_eq!(found.less_bare.iter().flatten().count(), 2);
    let (among, against_bare) = spreads(&bench);
    // What is beside planks within each treatment at each site, and nothing of what products do otherwise there.
    is(among, (0.357_460_176_492_120_3, 8.0));
    is(against_bare, among);
}

/// Boards of one plank stand at both sites: the site is taken out beside the plank.
#[test]
fn a_site_that_planks_cross_is_taken_out_as_well() {
    let bench = at_sites(&[
        ("bay", "p1", "c", -3.0),
        ("clove", "p1", "c", -5.2),
        ("bare", "p1", "c", -9.8),
        ("bay", "p2", "c", -4.1),
        ("clove", "p2", "c", -6.0),
        ("bare", "p2", "c", -11.2),
        ("bay", "p3", "c", -2.2),
        ("bare", "p3", "c", -9.1),
        ("clove", "p3", "c", -4.6),
        ("bay", "p1", "i", -5.9),
        ("clove", "p1", "i", -8.3),
        ("bare", "p1", "i", -13.1),
        ("clove", "p2", "i", -9.4),
        ("bay", "p2", "i", -7.3),
        ("bare", "p3", "i", -12.4),
        ("clove", "p3", "i", -7.2),
        ("bare", "p2", "i", -13.8),
        ("bay", "p4", "i", -6.0),
        ("clove", "p4", "i", -8.0),
        ("bare", "p4", "i", -12.9),
    ]);
    let found = bench.analyse().by_piece.unwrap();
    agrees(
        &found,
        (0.193_569_130_453_341_23, 11.0),
        (0.067_133_236_300_545_21, 2.0, 0.935_450_708_655_708_5),
        (0.092_520_908_004_765_5, 1.0, 0.766_673_290_533_385_7),
    );
    assert!(!found.stands_out() && bench.study.pieces_cross_sites());
    let (among, against_bare) = spreads(&bench);
    is(among, (0.186_312_296_892_786_94, 12.0));
    is(against_bare, (0.179_141_096_620_817_84, 13.0));
}

/// Every plank carries everything once, and every site each treatment twice, so that means stand as they are.
#[test]
fn where_planks_and_sites_carry_all_alike_the_site_is_taken_out_of_the_scatter_alone() {
    let bench = at_sites(&[
        ("bay", "p1", "c", -3.0),
        ("clove", "p1", "i", -8.3),
        ("bare", "p1", "c", -9.8),
        ("bay", "p2", "i", -7.3),
        ("clove", "p2", "c", -6.0),
        ("bare", "p2", "i", -13.8),
        ("bay", "p3", "c", -2.2),
        ("clove", "p3", "i", -7.2),
        ("bare", "p3", "i", -12.4),
        ("bay", "p4", "i", -6.0),
        ("clove", "p4", "c", -4.9),
        ("bare", "p4", "c", -9.1),
    ]);
    let (among, against_bare) = spreads(&bench);
    is(among, (0.232_737_334_062_815_74, 4.0));
    is(against_bare, (0.235_761_178_596_76, 5.0));
    let table = bench.to_bare("month-1");
    assert!(table.basis.within_pieces() && !table.basis.linked());
    assert!(close(table.rows[0].difference, -18.5 / 4.0 + 45.1 / 4.0, 1e-12), "{table:?}");
}
