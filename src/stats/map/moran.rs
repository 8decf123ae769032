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
/// any take no part. Every place belongs to one of several `panels`: values are taken from the mean of their panel and exchanged within
/// it, so that what panels differ by makes nobody alike. `None` with fewer than three such places, where all their values are equal, or a
/// value is not finite. Moran (1950), Biometrika 37, 17-23; Cliff and Ord (1981), Spatial Processes.
/// The p value counts the order that is there as one of those drawn, so it is never 0.
pub fn likeness(
    values: &[f64],
    (neighbours, panels): (&[Vec<usize>], &[usize]),
    permutations: usize,
    random: &mut Generator,
) -> Option<Likeness> {
    let net = Net::of(values.len(), neighbours, panels)?;
    let inside: Vec<f64> = net.places.iter().map(|&place| values[place]).collect();
    let mut off: Vec<f64> = Vec::with_capacity(inside.len());
    for panel in &net.panels {
        let own = &inside[panel.clone()];
        let centre = mean(own)?;
        let level = all_equal(own);
        off.extend(own.iter().map(|value| if level { 0.0 } else { value - centre }));
    }
    let square = |off: &[f64]| off.iter().map(|value| value * value).sum::<f64>();
    let squares = square(&off);
    if inside.len() < 3 || squares <= 0.0 {
        return None;
    }
    // The neighbours of a place are dealt out among the others of its panel, whose values sum to less its own.
    let by_chance = |panel: &std::ops::Range<usize>| square(&off[panel.clone()]) / (panel.len() - 1) as f64;
    let expected = match net.panels.as_slice() {
        [_] => -1.0 / (inside.len() - 1) as f64,
        several => -several.iter().map(by_chance).sum::<f64>() / squares,
    };
    let there = net.product(&off);
    // Orders that give the same index differ by the rounding of their sum.
    let least = there - 1e-12 * squares;
    let mut as_high = 1;
    for _ in 0..permutations {
        for panel in &net.panels {
            random.shuffle(&mut off[panel.clone()]);
        }
        as_high += usize::from(net.product(&off) >= least);
    }
    Some(Likeness {
        index: there / squares,
        expected,
        p: as_high as f64 / (permutations + 1) as f64,
        places: inside.len(),
        permutations,
    })
}

/// Places that have neighbours, numbered anew, panel by panel.
struct Net {
    places: Vec<usize>,
    beside: Vec<Vec<usize>>,
    panels: Vec<std::ops::Range<usize>>,
}

impl Net {
    /// `None` where a neighbour is no place, has no neighbour itself, or lies on another panel.
    fn of(values: usize, neighbours: &[Vec<usize>], panels: &[usize]) -> Option<Self> {
        let known = |place: &usize| *place < values;
        if neighbours.len() != values || panels.len() != values || !neighbours.iter().flatten().all(known) {
            return None;
        }
        let mut places: Vec<usize> = (0..values).filter(|&place| !neighbours[place].is_empty()).collect();
        places.sort_by_key(|&place| (panels[place], place));
        let mut number = vec![None; values];
        places.iter().enumerate().for_each(|(at, &place)| number[place] = Some(at));
        let beside_of = |&place: &usize| -> Option<Vec<usize>> {
            let own = |&other: &usize| number[other].filter(|_| panels[other] == panels[place]);
            neighbours[place].iter().map(own).collect()
        };
        let beside: Option<Vec<Vec<usize>>> = places.iter().map(beside_of).collect();
        let mut end = 0;
        let ranges = places.chunk_by(|&a, &b| panels[a] == panels[b]).map(|own| {
            end += own.len();
            end - own.len()..end
        });
        let panels = ranges.collect();
        Some(Self { beside: beside?, places, panels })
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
        let three = likeness(&[1.0, 3.0, 5.0], (&chain(3), &[0; 3]), 99, &mut Generator::new(1)).unwrap();
        assert_eq!((three.index, three.expected, three.places), (0.0, -0.5, 3));
        // Off the mean: -3 -1 1 3, neighbours -1 -1 1 1: 3 + 1 + 1 + 3 of 20.
        let four =
            likeness(&[0.0, 2.0, 4.0, 6.0], (&chain(4), &[0; 4]), 9999, &mut Generator::new(1)).unwrap();
        assert_eq!((four.index, four.places), (0.4, 4));
        // Two of the 24 orders are as even: chance gives 1 in 12, within four standard errors.
        assert!((four.p - 1.0 / 12.0).abs() < 0.012, "{}", four.p);
    }

    #[test]
    fn values_in_turn_are_unlike_their_neighbours() {
        let found =
            likeness(&[1.0, 9.0, 1.0, 9.0, 1.0, 9.0], (&chain(6), &[0; 6]), 999, &mut Generator::new(3))
                .unwrap();
        assert!(found.index < found.expected && found.p > 0.9);
    }

    #[test]
    fn a_place_without_neighbours_takes_no_part() {
        let mut neighbours = chain(4);
        neighbours.push(Vec::new());
        let values = [0.0, 2.0, 4.0, 6.0, 1000.0];
        let found = likeness(&values, (&neighbours, &[0; 5]), 9, &mut Generator::new(1)).unwrap();
        assert_eq!((found.index, found.places), (0.4, 4));
    }

    /// Two chains of four as above, the second 100 higher: off the mean of their own they are the same, so the index is 0.4 and not near 1.
    /// By chance each gives -20 / 3 of 20. An order as even has both chains rising or falling: (2 / 24)^2, or other sums as high.
    #[test]
    fn what_panels_differ_by_makes_nobody_alike() {
        let mut neighbours = chain(4);
        neighbours.extend(chain(4).into_iter().map(|own| own.into_iter().map(|at| at + 4).collect()));
        let values = [0.0, 2.0, 4.0, 6.0, 100.0, 102.0, 104.0, 106.0];
        let panels = [0, 0, 0, 0, 1, 1, 1, 1];
        let found = likeness(&values, (&neighbours, &panels), 9999, &mut Generator::new(1)).unwrap();
        assert!((found.index - 0.4).abs() < 1e-12 && (found.expected + 1.0 / 3.0).abs() < 1e-12, "{found:?}");
        // 8 / 20 is the highest index of a chain, so that only both together reach 16 / 40.
        assert!((found.p - 1.0 / 144.0).abs() < 0.004, "{}", found.p);
        // Neighbours over the border of two panels are a fault of the caller.
        assert_eq!(likeness(&[0.0, 2.0, 4.0], (&chain(3), &[0, 0, 1]), 9, &mut Generator::new(1)), None);
    }

    #[test]
    fn likeness_that_cannot_be_told_is_none() {
        let mut random = Generator::new(1);
        assert_eq!(likeness(&[1.0, 2.0], (&chain(2), &[0; 2]), 9, &mut random), None);
        assert_eq!(likeness(&[2.0; 4], (&chain(4), &[0; 4]), 9, &mut random), None);
        assert_eq!(likeness(&[1.0, 2.0, f64::NAN], (&chain(3), &[0; 3]), 9, &mut random), None);
        assert_eq!(likeness(&[1.0, 2.0, 4.0], (&chain(4), &[0; 3]), 9, &mut random), None);
        assert_eq!(likeness(&[1.0, 2.0, 4.0], (&[vec![1], vec![7], vec![1]], &[0; 3]), 9, &mut random), None);
    }
}
