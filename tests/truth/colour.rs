//! Colour differences against the published test pairs.

use crate::rows;
use tapeline::stats::colour::ciede2000;

#[test]
fn ciede2000_agrees_with_the_published_pairs_in_either_order() {
    let mut count = 0;
    for row in rows(include_str!("ciede2000.csv")) {
        let &[l1, a1, b1, l2, a2, b2, printed, exact] = row.as_slice() else { panic!("{row:?}") };
        let (one, other) = ([l1, a1, b1], [l2, a2, b2]);
        for found in [ciede2000(one, other), ciede2000(other, one)] {
            // Half of the last printed digit.
            assert!((found.unwrap() - printed).abs() <= 5e-5, "{row:?}: {found:?}");
            assert!((found.unwrap() - exact).abs() <= 1e-9, "{row:?}: {found:?}");
        }
        count += 1;
    }
    assert_eq!(count, 17);
}

/// Pairs of ordinary colours, invented; the difference by the same formula in a program of its own.
#[test]
fn ciede2000_of_ordinary_colours_keeps_its_digits() {
    for (one, other, exact) in [
        ([92.5, -1.2, 3.4], [88.1, -0.8, 9.7], 5.683_636_728_560_492),
        ([35.2, 48.1, 22.0], [38.9, 41.5, 19.3], 3.835_240_293_325_132),
    ] {
        assert!((ciede2000(one, other).unwrap() - exact).abs() <= 1e-9, "{one:?}");
        assert!((ciede2000(other, one).unwrap() - exact).abs() <= 1e-9, "{one:?}");
    }
}

#[test]
fn equal_colours_do_not_differ_and_what_is_no_number_has_no_difference() {
    assert_eq!(ciede2000([50.0, 0.0, 0.0], [50.0, 0.0, 0.0]), Some(0.0));
    assert_eq!(ciede2000([f64::NAN, 0.0, 0.0], [50.0, 0.0, 0.0]), None);
}
