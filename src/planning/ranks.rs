//! What a layout can tell apart by the ranks of marks, as the report tests them.

use super::Room;
use crate::stats::random::{Draws, Generator};
use crate::stats::ranks::{chosen, two_groups};

/// Simulated studies behind each figure, and their seed.
pub const DRAWS: Draws = Draws { count: 10_000, seed: 23 };

/// The level of all rows together.
const LEVEL: f64 = 0.05;

/// The smallest difference to bare that the ranks of marks tell apart with 80 % power for the product with the fewest
/// sections, in spreads of a section's mark.
///
/// The test is that of the report: Wilcoxon, Mann and Whitney, two-sided, its smallest p times the number of rows (Holm 1979,
/// whose first step it is). Marks are drawn from a normal distribution, so that no two are equal; equal marks ask for more.
/// One product is shifted: it is told apart as soon as the shift exceeds so many of the differences between a bare section
/// and one of its own as the test needs, so that the figure is a quantile of one of these differences. `None` where even
/// marks that lie wholly apart do not reach 5 %, or nothing is bare.
pub fn smallest_by_ranks(room: &Room) -> Option<f64> {
    let (own, bare) = (room.fewest()?, room.bare);
    let pairs = pairs_needed(own, bare, LEVEL / room.compared().len() as f64)?;
    let mut generator = Generator::new(DRAWS.seed);
    let mut shifts: Vec<f64> = (0..DRAWS.count)
        .map(|_| {
            let mut draw = |n: usize| (0..n).map(|_| generator.normal()).collect::<Vec<f64>>();
            let (own, bare) = (draw(own), draw(bare));
            let mut apart: Vec<f64> =
                own.iter().flat_map(|one| bare.iter().map(move |other| other - one)).collect();
            *apart.select_nth_unstable_by(pairs - 1, f64::total_cmp).1
        })
        .collect();
    // Four of five studies have a shift up to this one.
    let place = shifts.len() * 4 / 5;
    Some(*shifts.select_nth_unstable_by(place.checked_sub(1)?, f64::total_cmp).1)
}

/// The smallest p that marks of the product with the fewest sections can reach against bare, over all rows; `None` where
/// nothing is bare.
pub fn least_p(room: &Room) -> Option<f64> {
    least_p_of(room, room.fewest()?)
}

/// The fewest sections of a product of the layout whose marks can be told from bare, and the smallest p that they reach over all
/// rows; `None` where nobody's can.
pub fn fewest_told(room: &Room) -> Option<(usize, f64)> {
    let mut numbers = room.compared();
    numbers.sort_unstable();
    numbers.into_iter().find_map(|own| Some((own, least_p_of(room, own).filter(|&p| p < LEVEL)?)))
}

fn least_p_of(room: &Room, own: usize) -> Option<f64> {
    let bare = room.bare;
    Some((p_of(own, bare, own * bare)? * room.compared().len() as f64).min(1.0))
}

/// The fewest pairs in which the product must be ahead so that p stays below `level`.
fn pairs_needed(own: usize, bare: usize, level: f64) -> Option<usize> {
    let told = |&pairs: &usize| p_of(own, bare, pairs).is_some_and(|p| p < level);
    (own * bare / 2..=own * bare).rev().take_while(told).last().filter(|&pairs| pairs > 0)
}

/// The p value of the report where the product is ahead in so many pairs and no two marks are equal.
fn p_of(own: usize, bare: usize, pairs: usize) -> Option<f64> {
    let ahead = |at: usize| pairs.saturating_sub(at * bare).min(bare) as f64;
    // Half a step above the bare marks that it is ahead of, and a little apart from the others of its kind.
    let marks: Vec<f64> = (0..own).map(|at| ahead(at) + 0.5 + 1e-6 * at as f64).collect();
    let others: Vec<f64> = (1..=bare).map(|at| at as f64).collect();
    let found = two_groups(&marks, &others)?;
    Some(chosen(found.by_exchange, found.p_normal).p)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Exact critical values and 400 000 simulated studies each by `scipy` 1.17.1 (`mannwhitneyu`) and `numpy`: sections of
    /// the product, bare ones, rows, pairs that the test needs, and the shift that 80 % of the studies tell apart.
    const SIMULATED: [(usize, usize, usize, usize, f64); 6] = [
        (4, 4, 1, 16, 2.884),
        (6, 6, 1, 31, 1.928),
        (6, 6, 3, 33, 2.312),
        (8, 8, 1, 51, 1.555),
        (3, 8, 2, 23, 2.614),
        (5, 10, 4, 46, 2.336),
    ];

    #[test]
    fn figures_agree_with_studies_simulated_elsewhere() {
        for (own, bare, rows, pairs, shift) in SIMULATED {
            assert_eq!(pairs_needed(own, bare, LEVEL / rows as f64), Some(pairs), "{own} on {bare}");
            let found = smallest_by_ranks(&Room::even(rows, own, bare)).unwrap();
            // A share of 0.80 of 10 000 has a standard error of 0.004; the density there is above 0.25 a spread.
            assert!((found - shift).abs() < 0.05, "{own} on {bare}: {found} and not {shift}");
        }
    }

    #[test]
    fn too_few_sections_tell_nothing_apart_however_far() {
        // Of 28 ways to deal 2 marks among 8 the outermost two are 7.1 %.
        assert_eq!(smallest_by_ranks(&Room::even(1, 2, 6)), None);
        assert!((least_p(&Room::even(1, 2, 6)).unwrap() - 2.0 / 28.0).abs() < 1e-12);
        assert_eq!((smallest_by_ranks(&Room::even(3, 4, 0)), least_p(&Room::even(3, 4, 0))), (None, None));
    }

    #[test]
    fn a_product_with_few_sections_does_not_speak_for_those_with_more() {
        // Of 84 ways to deal 3 marks among 9 the outermost two, times 4 rows, are 9.5 %; of 210 ways to deal 4 among 10, 3.8 %.
        let room = Room { products: vec![4, 3, 5, 6], ..Room::even(4, 3, 6) };
        assert!((least_p(&room).unwrap() - 8.0 / 84.0).abs() < 1e-12);
        let (fewest, p) = fewest_told(&room).unwrap();
        assert!(fewest == 4 && (p - 8.0 / 210.0).abs() < 1e-12, "{fewest} {p}");
        assert_eq!(fewest_told(&Room::even(4, 3, 6)), None);
    }

    /// Against the t test of the same two groups, 1.325 spreads for ten sections each, ranks ask for little more: their
    /// efficiency for normal values is 3 / pi (Hodges and Lehmann 1956), which is 1.356 without end.
    #[test]
    fn ranks_ask_for_a_little_more_than_means() {
        let room = Room::even(1, 10, 10);
        let (ranks, means) = (smallest_by_ranks(&room).unwrap(), room.smallest().unwrap());
        assert!(ranks > means && ranks < 1.1 * means, "{ranks} {means}");
    }
}
