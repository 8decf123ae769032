//! Time to an event that is known to lie between two looks: the interval-censored estimate.

/// When one section met its event: after `after`, up to and with `upto`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Seen {
    /// The last look at which it had not; 0 or below where there was none.
    pub after: f64,
    /// The first look at which it had; `None` where none yet. Equal to `after` for a time known exactly.
    pub upto: Option<f64>,
}

/// A stretch of time that holds some of the events; where in it they lie cannot be told.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stretch {
    /// Its open beginning.
    pub after: f64,
    /// Its closed end; `None` for what lies beyond the last look.
    pub upto: Option<f64>,
    /// Share of the sections, 0 to 1.
    pub share: f64,
}

/// The estimate.
#[derive(Clone, Debug, PartialEq)]
pub struct Estimate {
    /// Stretches with a share above 0, in order of time.
    pub stretches: Vec<Stretch>,
    /// Logarithm of the likelihood.
    pub log_likelihood: f64,
}

/// Rounds of the self-consistent equation at most; sections of a panel need a few hundred.
const ROUNDS: usize = 200_000;
/// The likelihood is within this of its highest when the search ends.
const GAP: f64 = 1e-11;
/// Shares below this are those of stretches that hold nothing.
const NOTHING: f64 = 1e-9;

/// The estimate of most likelihood, without any assumption on its shape; `None` without sections,
/// where a time is not finite or runs backwards, or the search does not come to its end.
///
/// Turnbull (1976), Journal of the Royal Statistical Society B 38, 290-295, by his self-consistent
/// equation, until no share could rise (Gentleman and Geyer 1994, Biometrika 81, 618-623).
pub fn estimate(seen: &[Seen]) -> Option<Estimate> {
    let sound =
        |one: &Seen| one.after.is_finite() && one.upto.is_none_or(|t| t.is_finite() && t >= one.after);
    if seen.is_empty() || !seen.iter().all(sound) {
        return None;
    }
    let places = innermost(seen);
    let holds: Vec<Vec<usize>> = seen
        .iter()
        .map(|one| {
            let (from, to) = (begin(*one), end(*one));
            let inside = |place: &(Edge, Edge)| from <= place.0 && place.1 <= to;
            (0..places.len()).filter(|&at| inside(&places[at])).collect()
        })
        .collect();
    let mut shares = vec![1.0 / places.len() as f64; places.len()];
    for _ in 0..ROUNDS {
        let pull = pulls(&holds, &shares);
        let n = seen.len() as f64;
        if pull.iter().all(|pull| pull - n <= GAP * n) {
            return Some(told(&places, &holds, &shares));
        }
        shares.iter_mut().zip(&pull).for_each(|(share, pull)| *share *= pull / n);
    }
    None
}

/// For each stretch the sum over the sections that may lie in it of one over their likelihood.
fn pulls(holds: &[Vec<usize>], shares: &[f64]) -> Vec<f64> {
    let mut pulls = vec![0.0; shares.len()];
    for places in holds {
        let likelihood: f64 = places.iter().map(|&at| shares[at]).sum();
        for &at in places {
            pulls[at] += 1.0 / likelihood;
        }
    }
    pulls
}

fn told(places: &[(Edge, Edge)], holds: &[Vec<usize>], shares: &[f64]) -> Estimate {
    let likelihood = |places: &Vec<usize>| places.iter().map(|&at| shares[at]).sum::<f64>().ln();
    let stretch = |(&(from, to), &share): (&(Edge, Edge), &f64)| Stretch {
        after: from.time,
        upto: to.time.is_finite().then_some(to.time),
        share,
    };
    Estimate {
        stretches: places.iter().zip(shares).map(stretch).filter(|one| one.share > NOTHING).collect(),
        log_likelihood: holds.iter().map(likelihood).sum(),
    }
}

/// An end of an interval; ends at one time stand in the order of `side`.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
struct Edge {
    time: f64,
    /// 0 just before the time, 1 at it, 2 just after it.
    side: u8,
}

fn begin(one: Seen) -> Edge {
    Edge { time: one.after, side: if one.upto == Some(one.after) { 0 } else { 2 } }
}

fn end(one: Seen) -> Edge {
    Edge { time: one.upto.unwrap_or(f64::INFINITY), side: 1 }
}

/// The stretches that a beginning and an end enclose with no other end between them: only there can
/// the likelihood put any share.
fn innermost(seen: &[Seen]) -> Vec<(Edge, Edge)> {
    let begins = seen.iter().map(|&one| (begin(one), true));
    let mut edges: Vec<(Edge, bool)> = begins.chain(seen.iter().map(|&one| (end(one), false))).collect();
    edges.sort_by(|a, b| a.0.time.total_cmp(&b.0.time).then(a.0.side.cmp(&b.0.side)));
    let pairs = edges.windows(2).filter(|pair| pair[0].1 && !pair[1].1);
    pairs.map(|pair| (pair[0].0, pair[1].0)).collect()
}

impl Estimate {
    /// The share that has not met its event at a time; `None` inside a stretch, where it is not told.
    pub fn left_at(&self, time: f64) -> Option<f64> {
        let inside = |one: &Stretch| one.after < time && one.upto.is_none_or(|upto| time < upto);
        let later = |one: &&Stretch| one.upto.is_none_or(|upto| upto > time);
        let told = !self.stretches.iter().any(inside);
        told.then(|| self.stretches.iter().filter(later).map(|one| one.share).sum())
    }

    /// The stretch in which half of the sections have met their event.
    pub fn median(&self) -> Option<Stretch> {
        let mut met = 0.0;
        // Shares that sum to one half differ from it by what the search leaves.
        self.stretches.iter().copied().find(|one| {
            met += one.share;
            met >= 0.5 - 1e-9
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn seen(all: &[(f64, Option<f64>)]) -> Vec<Seen> {
        all.iter().map(|&(after, upto)| Seen { after, upto }).collect()
    }

    #[test]
    fn sections_of_one_stretch_lie_in_it() {
        let found = estimate(&seen(&[(3.0, Some(6.0)); 4])).unwrap();
        assert_eq!(found.stretches, [Stretch { after: 3.0, upto: Some(6.0), share: 1.0 }]);
        assert_eq!(
            (found.left_at(3.0), found.left_at(4.0), found.left_at(6.0)),
            (Some(1.0), None, Some(0.0))
        );
    }

    #[test]
    fn stretches_that_do_not_overlap_are_counted() {
        let all = seen(&[(0.0, Some(1.0)), (1.0, Some(2.0)), (1.0, Some(2.0)), (2.0, None)]);
        let found = estimate(&all).unwrap();
        let shares: Vec<f64> = found.stretches.iter().map(|one| one.share).collect();
        assert!(
            shares.iter().zip([0.25, 0.5, 0.25]).all(|(share, expected)| (share - expected).abs() < 1e-9)
        );
        assert_eq!(found.median().map(|one| (one.after, one.upto)), Some((1.0, Some(2.0))));
    }

    #[test]
    fn sections_that_all_hold_lie_beyond_the_last_look() {
        let found = estimate(&seen(&[(5.0, None), (7.0, None)])).unwrap();
        assert_eq!(found.median(), Some(Stretch { after: 7.0, upto: None, share: 1.0 }));
    }

    #[test]
    fn times_that_cannot_be_are_none() {
        assert_eq!(estimate(&[]), None);
        assert_eq!(estimate(&seen(&[(3.0, Some(2.0))])), None);
        assert_eq!(estimate(&seen(&[(f64::NAN, None)])), None);
    }
}
