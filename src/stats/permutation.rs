//! A test by exchange: how often the groups would lie as far apart if the values had been dealt out otherwise.

use super::arrangements::Near;
use super::random::Generator;
use super::summary::sorted_sum;

/// Up to so many arrangements all are counted; above, some are drawn.
const COUNT_ALL: usize = 50_000;

/// Exchanges that are tried for each place between two ways of a walk, and how many ways it takes.
const STEPS: usize = 50;
const WALKS: usize = 999;

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
    /// Of these as many as can differ in the sum of squares: labels of one size may change their names without changing it.
    pub distinct: usize,
    /// Whether these are all that there are.
    pub all: bool,
    /// Whether they were reached from the real one by single exchanges, as too few of all ways are let through to draw from.
    pub walked: bool,
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

/// Exchanges the group `labels` among `values`, one label for each, in ways that put no more like labels on the places of a pair of
/// `near` than the real one does, and compares the sums of squares between groups.
///
/// `None` where the lengths differ, a value is not finite, all values are equal, or fewer than two groups exist. Pitman (1937),
/// Supplement to the Journal of the Royal Statistical Society 4, 119-130; the drawn ones as in Phipson and Smyth (2010),
/// Statistical Applications in Genetics and Molecular Biology 9, 39. Where so few ways are let through that hardly one is drawn,
/// they are searched for and counted; where they are too many for that, they are reached from the real one by single exchanges
/// (Besag and Clifford 1989, Biometrika 76, 633-642).
pub fn exchange(
    values: &[f64],
    labels: &[usize],
    near: &[(usize, usize)],
    tries: Tries,
) -> Option<Exchanged> {
    let design = Design::of(values, labels)?;
    let near = Near::of(near, labels);
    if design.arrangements() <= COUNT_ALL as f64 {
        return Some(design.count(labels, |labels| near.allows(labels)));
    }
    // Of few ways, where labels of one size stand for each other, none need be drawn.
    if design.arrangements() / design.names() as f64 <= COUNT_ALL as f64
        && let Some(found) = design.search(labels, &near)
    {
        return Some(found);
    }
    let drawn = design.draw(labels, |labels| near.allows(labels), tries);
    let found = || design.search(labels, &near);
    Some(drawn.or_else(found).unwrap_or_else(|| design.walk(labels, &near, tries)))
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
        Exchanged {
            p: share(real),
            least: share(farthest),
            arrangements: all.len(),
            // What is let through stays so under other names, and every way has as many.
            distinct: all.len() / self.names(),
            all: true,
            walked: false,
        }
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
        (drawn.len() > tries.draws / 10).then(|| self.of_drawn(drawn, real))
    }

    /// What drawn sums of squares say of the real one, which is among them.
    fn of_drawn(&self, mut drawn: Vec<f64>, real: f64) -> Exchanged {
        drawn.sort_unstable_by(|a, b| b.total_cmp(a));
        let count = drawn.len() as f64;
        let as_far = |than: f64| drawn.partition_point(|&one| one >= than * (1.0 - ROUNDING)) as f64 / count;
        // Where the same few come again and again, no others are let through, and the farthest of them is the limit.
        let distinct = drawn.chunk_by(|a, b| *b >= *a * (1.0 - ROUNDING)).count();
        let limit = if distinct * SEEN_AGAIN <= drawn.len() { as_far(drawn[0]) } else { 1.0 / count };
        let least = limit.max(self.names() as f64 / self.arrangements());
        let arrangements = drawn.len() - 1;
        Exchanged { p: as_far(real), least, arrangements, distinct: arrangements, all: false, walked: false }
    }

    /// Groups of one size may change their names without changing anything, in so many ways.
    fn names(&self) -> usize {
        let mut sizes = self.sizes.clone();
        sizes.sort_unstable();
        sizes.chunk_by(|a, b| a == b).flat_map(|same| 1..=same.len()).fold(1, usize::saturating_mul)
    }

    /// All ways that are let through, where a search comes to its end with few of them.
    fn search(&self, labels: &[usize], near: &Near) -> Option<Exchanged> {
        let mut sums = Vec::new();
        let real = self.between(labels, &mut sums);
        let mut all = Vec::new();
        near.each(&self.sizes, COUNT_ALL, |labels| all.push(self.between(labels, &mut sums)))?;
        let share = |than: f64| {
            all.iter().filter(|&&one| one >= than * (1.0 - ROUNDING)).count() as f64 / all.len() as f64
        };
        let farthest = all.iter().copied().fold(real, f64::max);
        let (distinct, arrangements) = (all.len(), all.len().saturating_mul(self.names()));
        let (p, least) = (share(real), share(farthest));
        Some(Exchanged { p, least, arrangements, distinct, all: true, walked: false })
    }

    /// Ways that single exchanges reach: so many of them lead back to a first way, and from there as many lead to each of the others, so
    /// that the real one has no other place among them than any of these.
    fn walk(&self, labels: &[usize], near: &Near, tries: Tries) -> Exchanged {
        let mut sums = Vec::new();
        let real = self.between(labels, &mut sums);
        let mut random = Generator::new(tries.seed);
        let steps = STEPS * labels.len();
        let mut first = labels.to_vec();
        near.step(&mut first, steps, &mut random);
        let mut drawn = vec![real];
        for _ in 0..tries.draws.min(WALKS) {
            let mut other = first.clone();
            near.step(&mut other, steps, &mut random);
            drawn.push(self.between(&other, &mut sums));
        }
        Exchanged { walked: true, ..self.of_drawn(drawn, real) }
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

    /// Every place beside the next one.
    fn in_a_row(places: usize) -> Vec<(usize, usize)> {
        (1..places).map(|at| (at - 1, at)).collect()
    }

    #[test]
    fn two_and_three_apart_have_the_smallest_chance() {
        let found = exchange(&[1.0, 2.0, 7.0, 8.0, 9.0], &[0, 0, 1, 1, 1], &[], TRIES).unwrap();
        assert_eq!((found.arrangements, found.all), (10, true));
        assert!((found.p - 0.1).abs() < 1e-12 && (found.least - 0.1).abs() < 1e-12);
    }

    #[test]
    fn groups_of_one_size_may_change_names() {
        let found = exchange(&[1.0, 2.0, 7.0, 8.0], &[0, 0, 1, 1], &[], TRIES).unwrap();
        assert!((found.p - 2.0 / 6.0).abs() < 1e-12 && (found.least - 2.0 / 6.0).abs() < 1e-12);
        assert_eq!((found.arrangements, found.distinct), (6, 3));
    }

    #[test]
    fn only_allowed_arrangements_count() {
        // No two neighbours in the row may carry the same: abab and baba.
        let found = exchange(&[1.0, 7.0, 2.0, 8.0], &[0, 1, 0, 1], &in_a_row(4), TRIES).unwrap();
        assert_eq!((found.arrangements, found.p.to_bits()), (2, 1.0_f64.to_bits()));
    }

    #[test]
    fn many_arrangements_are_drawn_and_agree_with_the_count_of_all() {
        let values: Vec<f64> = (0..12).map(|at| f64::from(at * at % 13) + 0.25 * f64::from(at)).collect();
        let labels = [0, 1, 2, 0, 1, 2, 0, 1, 2, 0, 1, 2];
        let design = Design::of(&values, &labels).unwrap();
        assert!((design.arrangements() - 34_650.0).abs() < 0.5);
        let any = |_: &[usize]| true;
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
    /// ones do between them; so no p below a half can come, and 2 x 6! ways are all that there are (by hand).
    #[test]
    fn the_few_ways_of_a_tight_map_are_all_counted() {
        let mut ring = in_a_row(12);
        ring.push((11, 0));
        let values: Vec<f64> = (0..12).map(|at| f64::from(at % 2 * 5) + 0.1 * f64::from(at * at)).collect();
        let labels = [0, 1, 0, 2, 0, 3, 0, 4, 0, 5, 0, 6];
        let found = exchange(&values, &labels, &ring, TRIES).unwrap();
        assert_eq!((found.arrangements, found.all), (2 * 720, true));
        assert!((found.least - 0.5).abs() < 1e-12 && found.p >= found.least, "{found:?}");
        // What a walk or draws find of them lies about that.
        let design = Design::of(&values, &labels).unwrap();
        let near = Near::of(&ring, &labels);
        let drawn =
            design.draw(&labels, |labels| near.allows(labels), Tries { draws: 400, most: 400_000, seed: 2 });
        let drawn = drawn.unwrap();
        assert!(!drawn.all && (drawn.least - 0.5).abs() < 0.1 && drawn.p >= drawn.least, "{drawn:?}");
    }

    /// Eight treatments on one section each beside four that carry the same: which of the eight is which moves nothing, so that the
    /// 495 ways to choose the four are all there is, of 19,958,400. The four closest values, which these are, are one of them.
    #[test]
    fn ways_that_differ_in_names_alone_are_counted_as_one_and_none_is_drawn() {
        let values = [-8.0, -6.0, -4.0, -2.0, 2.5, 4.0, 6.0, 8.0, 0.1, 0.2, 0.3, 0.4];
        let labels = [0, 1, 2, 3, 4, 5, 6, 7, 8, 8, 8, 8];
        let found = exchange(&values, &labels, &[], TRIES).unwrap();
        assert!(found.all && found.arrangements == 19_958_400 && found.distinct == 495, "{found:?}");
        assert!((found.p - 1.0 / 495.0).abs() < 1e-12 && (found.least - found.p).abs() < 1e-12, "{found:?}");
    }

    /// Five treatments on a board of 5 x 5 of which no two like ones may be neighbours: too few of all ways to be drawn, too many to be
    /// counted. With one treatment far off a walk finds that hardly another way parts them as far; with values that have nothing
    /// to do with the treatments its p is anywhere.
    #[test]
    fn a_walk_reaches_the_many_ways_of_a_tight_map() {
        let at = |row: usize, column: usize| row * 5 + column;
        let mut board = Vec::new();
        for row in 0..5 {
            for column in 0..5 {
                board.extend((row > 0).then(|| (at(row - 1, column), at(row, column))));
                board.extend((column > 0).then(|| (at(row, column - 1), at(row, column))));
            }
        }
        let labels: Vec<usize> = (0..25).map(|place| (place / 5 * 2 + place % 5) % 5).collect();
        let near = Near::of(&board, &labels);
        let told: Vec<f64> = labels
            .iter()
            .zip(0_u8..)
            .map(|(&l, n)| f64::from(u8::from(l == 0) * 9) + 0.1 * f64::from(n * 7 % 11))
            .collect();
        let design = Design::of(&told, &labels).unwrap();
        let few = Tries { draws: 4_000, most: 400, seed: 2 };
        assert_eq!(design.draw(&labels, |labels| near.allows(labels), few), None);
        assert_eq!(design.search(&labels, &near), None);
        let found = exchange(&told, &labels, &board, few).unwrap();
        assert!(found.walked && found.p < 0.01 && found.arrangements == 999, "{found:?}");
        // Of values dealt out by chance the share with p up to 0.2 is 0.2: four standard errors of it over 60 studies.
        let mut random = Generator::new(3);
        let low = (0..60).filter(|_| {
            let values: Vec<f64> = (0..25).map(|_| random.normal()).collect();
            let design = Design::of(&values, &labels).unwrap();
            design.walk(&labels, &near, Tries { draws: 99, most: 0, seed: 5 }).p <= 0.2
        });
        assert!((low.count() as f64 / 60.0 - 0.2).abs() < 4.0 * (0.16_f64 / 60.0).sqrt());
    }

    #[test]
    fn exchanges_that_cannot_be_made_are_none() {
        let with = |values: &[f64], labels: &[usize]| exchange(values, labels, &[], TRIES);
        assert_eq!((with(&[], &[]), with(&[1.0, 2.0], &[0, 0])), (None, None));
        assert_eq!((with(&[3.0, 3.0], &[0, 1]), with(&[1.0, f64::NAN], &[0, 1])), (None, None));
        assert_eq!((with(&[1.0, 2.0], &[0, 2]), with(&[1.0], &[0, 1])), (None, None));
    }
}
