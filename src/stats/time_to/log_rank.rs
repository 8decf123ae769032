//! Whether two groups meet their event at the same pace.

use super::super::distributions::chi_square_tail;

/// A comparison of two groups.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LogRank {
    /// Events of either group.
    pub observed: [usize; 2],
    /// Events expected of either, if both go at one pace.
    pub expected: [f64; 2],
    /// Chi-square on one degree of freedom.
    pub chi_square: f64,
    /// P(chi-square > that).
    pub p: f64,
}

/// What an event counts for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Weight {
    /// The same at any time.
    Even,
    /// As many as are watched when it comes, so that early events count for more (Gehan 1965).
    Watched,
}

/// The test of two groups, each of times watched and whether the event was met then.
///
/// With the variance of the hypergeometric distribution (Mantel 1966, Cancer Chemotherapy Reports 50,
/// 163-170). `None` where no event tells the groups apart or a time is not finite.
pub fn log_rank(groups: [&[(f64, bool)]; 2], weight: Weight) -> Option<LogRank> {
    let all = || groups.iter().flat_map(|group| group.iter().copied());
    if !all().all(|(time, _)| time.is_finite()) {
        return None;
    }
    let mut times: Vec<f64> = all().filter(|(_, met)| *met).map(|(time, _)| time).collect();
    times.sort_by(f64::total_cmp);
    times.dedup();
    let mut found = LogRank { observed: [0; 2], expected: [0.0; 2], chi_square: 0.0, p: 1.0 };
    let (mut difference, mut variance) = (0.0, 0.0);
    for &time in &times {
        let watched = groups.map(|group| group.iter().filter(|one| one.0 >= time).count());
        let met =
            groups.map(|group| group.iter().filter(|one| one.1 && one.0.total_cmp(&time).is_eq()).count());
        let [events, n] = [met, watched].map(|pair| (pair[0] + pair[1]) as f64);
        let share = watched[0] as f64 / n;
        let of = match weight {
            Weight::Even => 1.0,
            Weight::Watched => n,
        };
        found.observed = [found.observed[0] + met[0], found.observed[1] + met[1]];
        found.expected[0] += events * share;
        found.expected[1] += events * (1.0 - share);
        difference += of * (met[0] as f64 - events * share);
        if n > 1.0 {
            variance += of * of * events * share * (1.0 - share) * (n - events) / (n - 1.0);
        }
    }
    found.chi_square = difference * difference / variance;
    found.p = if variance > 0.0 { chi_square_tail(found.chi_square, 1.0)? } else { return None };
    Some(found)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn equal_groups_go_at_one_pace() {
        let one = [(1.0, true), (2.0, false), (3.0, true)];
        let found = log_rank([&one, &one], Weight::Even).unwrap();
        assert_eq!((found.chi_square, found.p), (0.0, 1.0));
        assert_eq!(found.observed, [2, 2]);
    }

    #[test]
    fn groups_without_events_are_not_told_apart() {
        assert_eq!(log_rank([&[(1.0, false)], &[(2.0, false)]], Weight::Even), None);
        assert_eq!(log_rank([&[], &[(2.0, true)]], Weight::Even), None);
        assert_eq!(log_rank([&[(f64::NAN, true)], &[(2.0, true)]], Weight::Even), None);
    }
}
