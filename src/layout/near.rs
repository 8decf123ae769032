//! Which outlines of many lie near each other, without asking every pair.

use crate::study::Outline;

/// Pairs that are kept for each outline. A map without overlaps has at most four neighbours of
/// lower index to a section, so this is only reached where dozens lie on one spot.
const PAIRS_EACH: usize = 16;

/// Pairs of places in the list whose bounds come within `reach` mm of each other, the lower place
/// first, in order. Places without an outline are left out.
///
/// Sorted along the longer side of the layout and swept once. Ten thousand sections of a square map
/// take about a million comparisons of bounds. Stops at 16 pairs for each outline.
pub fn near_pairs(outlines: &[Option<&Outline>], reach: f64) -> Vec<(usize, usize)> {
    let mut boxes = boxes(outlines);
    boxes.sort_by(|a, b| a.along.0.total_cmp(&b.along.0).then(a.place.cmp(&b.place)));
    let most = PAIRS_EACH * boxes.len();
    let mut open: Vec<&Bounds> = Vec::new();
    let mut pairs = Vec::new();
    for next in &boxes {
        open.retain(|earlier| earlier.along.1 + reach >= next.along.0);
        let near = open.iter().filter(|earlier| earlier.is_within(reach, next));
        pairs.extend(near.map(|earlier| (earlier.place.min(next.place), earlier.place.max(next.place))));
        if pairs.len() > most {
            break;
        }
        open.push(next);
    }
    pairs.sort_unstable();
    pairs
}

struct Bounds {
    place: usize,
    along: (f64, f64),
    across: (f64, f64),
}

impl Bounds {
    fn is_within(&self, reach: f64, other: &Self) -> bool {
        self.across.0 - reach <= other.across.1 && other.across.0 - reach <= self.across.1
    }
}

fn boxes(outlines: &[Option<&Outline>]) -> Vec<Bounds> {
    let present = outlines.iter().enumerate().filter_map(|(place, outline)| Some((place, (*outline)?)));
    let mut boxes: Vec<Bounds> = present
        .map(|(place, outline)| {
            let (left, top, right, bottom) = outline.bounds();
            Bounds { place, along: (left, right), across: (top, bottom) }
        })
        .collect();
    // The sweep keeps few outlines open when it runs along the longer side.
    if extent(boxes.iter().map(|b| b.across)) > extent(boxes.iter().map(|b| b.along)) {
        for bounds in &mut boxes {
            std::mem::swap(&mut bounds.along, &mut bounds.across);
        }
    }
    boxes
}

fn extent(sides: impl Iterator<Item = (f64, f64)>) -> f64 {
    let (low, high) = sides
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), (from, to)| (low.min(from), high.max(to)));
    high - low
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::study::Point;

    fn squares(corners: &[(f64, f64)]) -> Vec<Outline> {
        let square =
            |&(x, y): &(f64, f64)| Outline::Rectangle { at: Point { x, y }, width: 8.0, height: 8.0 };
        corners.iter().map(square).collect()
    }

    fn pairs(outlines: &[Outline], reach: f64) -> Vec<(usize, usize)> {
        let present: Vec<Option<&Outline>> = outlines.iter().map(Some).collect();
        near_pairs(&present, reach)
    }

    #[test]
    fn pairs_are_those_that_asking_every_pair_gives() {
        let corners: Vec<(f64, f64)> =
            (0..60_u32).map(|n| (f64::from(n * 37 % 101), f64::from(n * 53 % 89))).collect();
        let outlines = squares(&corners);
        let mut expected = Vec::new();
        for i in 0..corners.len() {
            for j in i + 1..corners.len() {
                let (dx, dy) = (corners[i].0 - corners[j].0, corners[i].1 - corners[j].1);
                if dx.abs() <= 11.0 && dy.abs() <= 11.0 {
                    expected.push((i, j));
                }
            }
        }
        assert!(expected.len() > 20);
        assert_eq!(pairs(&outlines, 3.0), expected);
    }

    #[test]
    fn a_map_of_ten_thousand_has_its_neighbours_only() {
        let row = |n: u32| (f64::from(n % 100) * 10.0, f64::from(n / 100) * 10.0);
        let corners: Vec<(f64, f64)> = (0..10_000).map(row).collect();
        let outlines = squares(&corners);
        assert!(pairs(&outlines, 1.0).is_empty());
        // Right, below, and two diagonals.
        assert_eq!(pairs(&outlines, 2.0).len(), 2 * 99 * 100 + 2 * 99 * 99);
    }

    #[test]
    fn many_on_one_spot_come_to_an_end() {
        let outlines = squares(&vec![(0.0, 0.0); 2000]);
        let found = pairs(&outlines, 0.0).len();
        assert!(found > 2000 && found <= 17 * 2000 + 2000, "{found}");
    }
}
