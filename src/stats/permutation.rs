//! A test by exchange: how often the groups would lie as far apart if the values had been dealt out otherwise.

use super::random::Generator;
use super::summary::sorted_sum;

/// Up to so many arrangements all are counted; above, some are drawn.
const COUNT_ALL: f64 = 50_000.0;

/// Sums that differ by less than this share differ by rounding.
const ROUNDING: f64 = 1e-10;

/// Draws for each distinct sum of squares from which on all of them count as seen.
const SEEN_AGAIN: usize = 10;

/// What an exchange of the groups among the values gives.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Exchanged {
    /// Share of the arrangements with groups at least as far apart as the real one, which is among them.
    pub p: f64,
    /// The smallest p that values could reach in this design.
    pub least: f64,
    /// Arrangements that were counted.
    pub arrangements: usize,
    /// Whether these are all that there are.
    pub all: bool,
}

/// Draws for an arrangement of many: how many, how often at most one is tried, and the seed.
#[derive(Clone, Copy, Debug)]
pub struct Tries {
    /// Arrangements to draw.
    pub draws: usize,
    /// Arrangements to try, since those that are not allowed are passed over.
    pub most: usize,
    /// Seed of the generator.
    pub seed: u64,
}

/// Exchanges the group `labels` among `values`, one label for each, within what `allowed` lets through, and compares
/// the sums of squares between groups.
///
/// `None` where the lengths differ, a value is not finite, all values are equal, fewer than two groups exist, the real
/// arrangement is not allowed, or too few arrangements were found to draw from. Pitman (1937), Supplement to the Journal
/// of the Royal Statistical Society 4, 119-130; the drawn ones as in Phipson and Smyth (2010), Statistical Applications
/// in Genetics and Molecular Biology 9, 39.
pub fn exchange(
    values: &[f64],
    labels: &[usize],
    allowed: impl Fn(&[usize]) -> bool,
    tries: Tries,
) -> Option<Exchanged> {
    let design = Design::of(values, labels)?;
    if !allowed(labels) {
        return None;
    }
    if design.arrangements() <= COUNT_ALL {
        Some(design.count(labels, allowed))
    } else {
        design.draw(labels, allowed, tries)
    }
}

struct Design {
    /// Values less their mean.
    values: Vec<f64>,
    /// Number of values of each label.
    sizes: Vec<usize>,
}

impl Design {
    fn of(values: &[f64], labels: &[usize]) -> Option<Self> {
        let groups = labels.iter().max()? + 1;
        let sizes: Vec<usize> =
            (0..groups).map(|group| labels.iter().filter(|&&label| label == group).count()).collect();
        let finite = values.iter().all(|value| value.is_finite());
        let varied = values.windows(2).any(|pair| pair[0].total_cmp(&pair[1]).is_ne());
        if values.len() != labels.len() || !finite || !varied || groups < 2 || sizes.contains(&0) {
            return None;
        }
        let mean = sorted_sum(values.to_vec()) / values.len() as f64;
        Some(Self { values: values.iter().map(|value| value - mean).collect(), sizes })
    }

    /// All arrangements of the labels: the multinomial coefficient.
    fn arrangements(&self) -> f64 {
        let factorial = |n: usize| (1..=n).map(|k| (k as f64).ln()).sum::<f64>();
        let log = factorial(self.values.len()) - self.sizes.iter().map(|&n| factorial(n)).sum::<f64>();
        log.exp().round()
    }

    /// Sum of squares between groups.
    fn between(&self, labels: &[usize], sums: &mut Vec<f64>) -> f64 {
        sums.clear();
        sums.resize(self.sizes.len(), 0.0);
        labels.iter().zip(&self.values).for_each(|(&label, value)| sums[label] += value);
        sums.iter().zip(&self.sizes).map(|(sum, &n)| sum * sum / n as f64).sum()
    }

    fn count(&self, labels: &[usize], allowed: impl Fn(&[usize]) -> bool) -> Exchanged {
        let mut sums = Vec::new();
        let real = self.between(labels, &mut sums);
        let mut arrangement = labels.to_vec();
        arrangement.sort_unstable();
        let mut all = Vec::new();
        loop {
            if allowed(&arrangement) {
                all.push(self.between(&arrangement, &mut sums));
            }
            if !next_arrangement(&mut arrangement) {
                break;
            }
        }
        let share = |than: f64| {
            all.iter().filter(|&&one| one >= than * (1.0 - ROUNDING)).count() as f64 / all.len() as f64
        };
        let farthest = all.iter().copied().fold(real, f64::max);
        Exchanged { p: share(real), least: share(farthest), arrangements: all.len(), all: true }
    }

    fn draw(&self, labels: &[usize], allowed: impl Fn(&[usize]) -> bool, tries: Tries) -> Option<Exchanged> {
        let mut sums = Vec::new();
        let real = self.between(labels, &mut sums);
        let mut random = Generator::new(tries.seed);
        let mut arrangement = labels.to_vec();
        let mut drawn = vec![real];
        for _ in 0..tries.most {
            if drawn.len() > tries.draws {
                break;
            }
            random.shuffle(&mut arrangement);
            if allowed(&arrangement) {
                drawn.push(self.between(&arrangement, &mut sums));
            }
        }
        drawn.sort_unstable_by(|a, b| b.total_cmp(a));
        // Groups of one size may change their names without changing anything.
        let mut sizes = self.sizes.clone();
        sizes.sort_unstable();
        let names: f64 =
            sizes.chunk_by(|a, b| a == b).flat_map(|same| 1..=same.len()).map(|n| n as f64).product();
        let count = drawn.len() as f64;
        let as_far = |than: f64| drawn.partition_point(|&one| one >= than * (1.0 - ROUNDING)) as f64 / count;
        // Where the same few come again and again, no others are let through, and the farthest of them is the limit.
        let distinct = drawn.chunk_by(|a, b| *b >= *a * (1.0 - ROUNDING)).count();
        let limit = if distinct * SEEN_AGAIN <= drawn.len() { as_far(drawn[0]) } else { 1.0 / count };
        let least = limit.max(names / self.arrangements());
        let arrangements = drawn.len() - 1;
        let found = Exchanged { p: as_far(real), least, arrangements, all: false };
        (arrangements >= tries.draws / 10).then_some(found)
    }
}

/// The next arrangement in the order of a dictionary (Knuth 2011, The Art of Computer Programming 4A, 7.2.1.2,
/// algorithm L); false after the last.
fn next_arrangement(labels: &mut [usize]) -> bool {
    let Some(at) = labels.windows(2).rposition(|pair| pair[0] < pair[1]) else { return false };
    let Some(larger) = labels.iter().rposition(|&label| label > labels[at]) else { return false };
    labels.swap(at, larger);
    labels[at + 1..].reverse();
    true
}

#[cfg(test)]
mod tests {
    use super::*;

    const TRIES: Tries = Tries { draws: 4_000, most: 40_000, seed: 2 };

    fn any(_: &[usize]) -> bool {
        true
    }

    #[test]
    fn two_and_three_apart_have_the_smallest_chance() {
        let found = exchange(&[1.0, 2.0, 7.0, 8.0, 9.0], &[0, 0, 1, 1, 1], any, TRIES).unwrap();
        assert_eq!((found.arrangements, found.all), (10, true));
        assert!((found.p - 0.1).abs() < 1e-12 && (found.least - 0.1).abs() < 1e-12);
    }

    #[test]
    fn groups_of_one_size_may_change_names() {
        let found = exchange(&[1.0, 2.0, 7.0, 8.0], &[0, 0, 1, 1], any, TRIES).unwrap();
        assert!((found.p - 2.0 / 6.0).abs() < 1e-12 && (found.least - 2.0 / 6.0).abs() < 1e-12);
    }

    #[test]
    fn only_allowed_arrangements_count() {
        // No two neighbours in the row may carry the same: abab and baba.
        let apart = |labels: &[usize]| labels.windows(2).all(|pair| pair[0] != pair[1]);
        let found = exchange(&[1.0, 7.0, 2.0, 8.0], &[0, 1, 0, 1], apart, TRIES).unwrap();
        assert_eq!((found.arrangements, found.p.to_bits()), (2, 1.0_f64.to_bits()));
        assert_eq!(exchange(&[1.0, 7.0, 2.0, 8.0], &[0, 0, 1, 1], apart, TRIES), None);
    }

    #[test]
    fn many_arrangements_are_drawn_and_agree_with_the_count_of_all() {
        let values: Vec<f64> = (0..12).map(|at| f64::from(at * at % 13) + 0.25 * f64::from(at)).collect();
        let labels = [0, 1, 2, 0, 1, 2, 0, 1, 2, 0, 1, 2];
        let design = Design::of(&values, &labels).unwrap();
        assert!((design.arrangements() - 34_650.0).abs() < 0.5);
        let all = design.count(&labels, any);
        let drawn = design.draw(&labels, any, TRIES).unwrap();
        // Four standard errors of the drawn share.
        assert!(
            (all.p - drawn.p).abs() < 4.0 * (all.p * (1.0 - all.p) / 4_000.0).sqrt(),
            "{all:?} {drawn:?}"
        );
        assert!((drawn.least - 6.0 / 34_650.0).abs() < 2e-4);
        assert_eq!(design.draw(&labels, any, TRIES), Some(drawn));
    }

    /// Six of one treatment of which no two may be neighbours in a ring of twelve lie in two ways, whatever the six single
    /// ones do between them; so no p below a half can come (by hand).
    #[test]
    fn a_tight_map_limits_the_smallest_p_of_what_is_drawn() {
        let apart = |labels: &[usize]| (0..12).all(|at| labels[at] + labels[(at + 1) % 12] > 0);
        let values: Vec<f64> = (0..12).map(|at| f64::from(at % 2 * 5) + 0.1 * f64::from(at * at)).collect();
        let found = exchange(&values, &[0, 1, 0, 2, 0, 3, 0, 4, 0, 5, 0, 6], apart, TRIES);
        let few = Tries { draws: 400, most: 400_000, seed: 2 };
        let many = exchange(&values, &[0, 1, 0, 2, 0, 3, 0, 4, 0, 5, 0, 6], apart, few).unwrap();
        assert_eq!(found, None);
        assert!(!many.all && (many.least - 0.5).abs() < 0.1 && many.p >= many.least, "{many:?}");
    }

    #[test]
    fn exchanges_that_cannot_be_made_are_none() {
        let with = |values: &[f64], labels: &[usize]| exchange(values, labels, any, TRIES);
        assert_eq!((with(&[], &[]), with(&[1.0, 2.0], &[0, 0])), (None, None));
        assert_eq!((with(&[3.0, 3.0], &[0, 1]), with(&[1.0, f64::NAN], &[0, 1])), (None, None));
        assert_eq!((with(&[1.0, 2.0], &[0, 2]), with(&[1.0], &[0, 1])), (None, None));
    }
}
