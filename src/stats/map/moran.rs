//! Likeness of neighbours: Moran's I with a permutation test.

use super::super::random::Generator;
use super::super::summary::{all_equal, mean};

/// Neighbour likeness of a set of places.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Likeness {
    /// Moran's I: about `expected` where values lie by chance, above it where neighbours are alike.
    pub index: f64,
    /// What chance gives on average, -1 / (places - 1).
    pub expected: f64,
    /// Share of orders, the one that is there included, with an index at least as high.
    pub p: f64,
    /// Places that have a neighbour.
    pub places: usize,
    /// Orders that were drawn.
    pub permutations: usize,
}

/// Moran's I of `values` with `neighbours`, for each value the places of those beside it, and its
/// permutation p value, one-sided towards likeness.
///
/// A place is held against the mean of its neighbours (weights that sum to 1 for each); places without
/// any take no part. `None` with fewer than three such places, where all their values are equal, or a
/// value is not finite. Moran (1950), Biometrika 37, 17-23; Cliff and Ord (1981), Spatial Processes.
/// The p value counts the order that is there as one of those drawn, so it is never 0.
pub fn likeness(
    values: &[f64],
    neighbours: &[Vec<usize>],
    permutations: usize,
    random: &mut Generator,
) -> Option<Likeness> {
    let net = Net::of(values.len(), neighbours)?;
    let inside: Vec<f64> = net.places.iter().map(|&place| values[place]).collect();
    let centre = mean(&inside)?;
    if inside.len() < 3 || all_equal(&inside) {
        return None;
    }
    let mut off: Vec<f64> = inside.iter().map(|value| value - centre).collect();
    let squares: f64 = off.iter().map(|value| value * value).sum();
    let there = net.product(&off);
    // Orders that give the same index differ by the rounding of their sum.
    let least = there - 1e-12 * squares;
    let mut as_high = 1;
    for _ in 0..permutations {
        random.shuffle(&mut off);
        as_high += usize::from(net.product(&off) >= least);
    }
    Some(Likeness {
        index: there / squares,
        expected: -1.0 / (inside.len() - 1) as f64,
        p: as_high as f64 / (permutations + 1) as f64,
        places: inside.len(),
        permutations,
    })
}

/// Places that have neighbours, numbered anew.
struct Net {
    places: Vec<usize>,
    beside: Vec<Vec<usize>>,
}

impl Net {
    fn of(values: usize, neighbours: &[Vec<usize>]) -> Option<Self> {
        let known = |place: &usize| *place < values;
        if neighbours.len() != values || !neighbours.iter().flatten().all(known) {
            return None;
        }
        let places: Vec<usize> = (0..values).filter(|&place| !neighbours[place].is_empty()).collect();
        let number = |place: &usize| places.binary_search(place).ok();
        let beside: Option<Vec<Vec<usize>>> =
            places.iter().map(|&place| neighbours[place].iter().map(number).collect()).collect();
        Some(Self { beside: beside?, places })
    }

    /// Sum over the places of the value times the mean of its neighbours.
    fn product(&self, values: &[f64]) -> f64 {
        let of_place = |(beside, value): (&Vec<usize>, &f64)| {
            value * beside.iter().map(|&other| values[other]).sum::<f64>() / beside.len() as f64
        };
        self.beside.iter().zip(values).map(of_place).sum()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn chain(length: usize) -> Vec<Vec<usize>> {
        let near = |at: usize| (0..length).filter(|&other| other.abs_diff(at) == 1).collect();
        (0..length).map(near).collect()
    }

    #[test]
    fn a_hand_worked_row_of_places() {
        // Off the mean: -2 0 2, whose neighbours' means are 0 0 0.
        let three = likeness(&[1.0, 3.0, 5.0], &chain(3), 99, &mut Generator::new(1)).unwrap();
        assert_eq!((three.index, three.expected, three.places), (0.0, -0.5, 3));
        // Off the mean: -3 -1 1 3, neighbours -1 -1 1 1: 3 + 1 + 1 + 3 of 20.
        let four = likeness(&[0.0, 2.0, 4.0, 6.0], &chain(4), 9999, &mut Generator::new(1)).unwrap();
        assert_eq!((four.index, four.places), (0.4, 4));
        // Two of the 24 orders are as even: chance gives 1 in 12, within four standard errors.
        assert!((four.p - 1.0 / 12.0).abs() < 0.012, "{}", four.p);
    }

    #[test]
    fn values_in_turn_are_unlike_their_neighbours() {
        let found =
            likeness(&[1.0, 9.0, 1.0, 9.0, 1.0, 9.0], &chain(6), 999, &mut Generator::new(3)).unwrap();
        assert!(found.index < found.expected && found.p > 0.9);
    }

    #[test]
    fn a_place_without_neighbours_takes_no_part() {
        let mut neighbours = chain(4);
        neighbours.push(Vec::new());
        let values = [0.0, 2.0, 4.0, 6.0, 1000.0];
        let found = likeness(&values, &neighbours, 9, &mut Generator::new(1)).unwrap();
        assert_eq!((found.index, found.places), (0.4, 4));
    }

    #[test]
    fn likeness_that_cannot_be_told_is_none() {
        let mut random = Generator::new(1);
        assert_eq!(likeness(&[1.0, 2.0], &chain(2), 9, &mut random), None);
        assert_eq!(likeness(&[2.0; 4], &chain(4), 9, &mut random), None);
        assert_eq!(likeness(&[1.0, 2.0, f64::NAN], &chain(3), 9, &mut random), None);
        assert_eq!(likeness(&[1.0, 2.0, 4.0], &chain(4), 9, &mut random), None);
        assert_eq!(likeness(&[1.0, 2.0, 4.0], &[vec![1], vec![7], vec![1]], 9, &mut random), None);
    }
}
