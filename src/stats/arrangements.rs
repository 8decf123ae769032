//! Ways to deal labels out among places of which some lie near each other.

use super::random::Generator;

/// Steps of a search at most.
const SEARCHED: usize = 2_000_000;

/// Which places lie near which, and how many near pairs may carry like labels.
pub(super) struct Near {
    /// Of each place, the others.
    places: Vec<Vec<usize>>,
    most: usize,
}

impl Near {
    /// As many like pairs as the real labels have.
    pub(super) fn of(pairs: &[(usize, usize)], labels: &[usize]) -> Self {
        let mut places = vec![Vec::new(); labels.len()];
        for &(one, other) in pairs {
            places[one].push(other);
            places[other].push(one);
        }
        let near = Self { places, most: 0 };
        Self { most: near.like(labels), ..near }
    }

    fn like(&self, labels: &[usize]) -> usize {
        let before = |(at, near): (usize, &Vec<usize>)| {
            near.iter().filter(|&&other| other < at && labels[other] == labels[at]).count()
        };
        self.places.iter().enumerate().map(before).sum()
    }

    pub(super) fn allows(&self, labels: &[usize]) -> bool {
        self.like(labels) <= self.most
    }

    /// Hands every allowed way to `take`, where labels of one size stand for each other, so that of ways that differ in such names
    /// only one comes. `None` where they are more than `few`, or the search does not come to its end.
    pub(super) fn each(&self, sizes: &[usize], few: usize, mut take: impl FnMut(&[usize])) -> Option<()> {
        let mut search =
            Search { near: self, sizes, left: sizes.to_vec(), labels: Vec::new(), steps: 0, found: 0, few };
        search.from(0, &mut take)
    }

    /// Exchanges the labels of two places drawn by chance, so many times, where that is allowed.
    pub(super) fn step(&self, labels: &mut [usize], times: usize, random: &mut Generator) {
        let mut like = self.like(labels);
        for _ in 0..times {
            let (one, other) = (random.below(labels.len()), random.below(labels.len()));
            if labels[one] == labels[other] {
                continue;
            }
            let before = self.about(labels, one, other);
            labels.swap(one, other);
            let after = self.about(labels, one, other);
            if like + after - before <= self.most {
                like = like + after - before;
            } else {
                labels.swap(one, other);
            }
        }
    }

    /// Like pairs that one of two places is part of; the pair of the two themselves has unlike labels and is none.
    fn about(&self, labels: &[usize], one: usize, other: usize) -> usize {
        let of = |at: usize| self.places[at].iter().filter(|&&near| labels[near] == labels[at]).count();
        of(one) + of(other)
    }
}

/// A search through all ways, place by place.
struct Search<'a> {
    near: &'a Near,
    sizes: &'a [usize],
    left: Vec<usize>,
    labels: Vec<usize>,
    steps: usize,
    found: usize,
    few: usize,
}

impl Search<'_> {
    fn from(&mut self, like: usize, take: &mut impl FnMut(&[usize])) -> Option<()> {
        self.steps += 1;
        if self.steps > SEARCHED || self.found > self.few {
            return None;
        }
        let at = self.labels.len();
        if at == self.near.places.len() {
            self.found += 1;
            take(&self.labels);
            return Some(());
        }
        for label in 0..self.sizes.len() {
            if self.left[label] == 0 || !self.is_next_of_its_size(label) {
                continue;
            }
            let own = self.near.places[at].iter().filter(|&&near| self.labels.get(near) == Some(&label));
            let like = like + own.count();
            if like > self.near.most {
                continue;
            }
            self.left[label] -= 1;
            self.labels.push(label);
            let done = self.from(like, take);
            self.labels.pop();
            self.left[label] += 1;
            done?;
        }
        Some(())
    }

    /// Of labels of one size that are not yet used, the first only.
    fn is_next_of_its_size(&self, label: usize) -> bool {
        let size = self.sizes[label];
        let unused = |at: usize| self.sizes[at] == size && self.left[at] == size;
        !unused(label) || !(0..label).any(unused)
    }
}
