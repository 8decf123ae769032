//! Products by piece: whether they do otherwise on one than on another, against `numpy` (`lstsq`) and `scipy` 1.17.1 (`stats.f`).

use crate::close;
use crate::pieces::bench;
use tapeline::analysis::ByPiece;

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
