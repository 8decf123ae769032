//! Families of comparisons whose critical values are known, so that each is solved once.

use super::max_t::{MaxT, Sides, shared};

/// A family of comparisons with one control and its critical value.
#[derive(Clone, Debug)]
pub struct Family {
    key: Key,
    /// The distribution of the largest statistic.
    pub distribution: MaxT,
    /// The value that the largest statistic exceeds with the asked probability.
    pub critical: f64,
}

/// What a critical value depends on; `shared` from the smallest, floats by their bits.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Key {
    shared: Vec<u64>,
    sides: Sides,
    alpha: u64,
    df: u64,
}

/// The families met so far. Most rounds and measures have the same numbers of sections, and solving
/// for a critical value costs far more than all else.
#[derive(Clone, Debug, Default)]
pub struct Solved {
    known: Vec<Family>,
}

impl Solved {
    /// Takes over what another has met; what both have met is the same in either.
    pub fn add(&mut self, other: Self) {
        for family in other.known {
            if self.known.iter().all(|known| known.key != family.key) {
                self.known.push(family);
            }
        }
    }

    /// The family of groups of `ns` values against `control` values, with the critical value that is
    /// exceeded with probability `alpha` on `df` degrees of freedom.
    ///
    /// `None` where [`MaxT::new`] or [`MaxT::critical_value`] has no answer.
    pub fn family(
        &mut self,
        ns: &[usize],
        control: usize,
        sides: Sides,
        alpha: f64,
        df: f64,
    ) -> Option<&Family> {
        self.sharing(&shared(ns, control), sides, alpha, df)
    }

    /// The same for comparisons of which the control adds `shared` times the variance of the group's mean.
    ///
    /// `None` where [`MaxT::sharing`] or [`MaxT::critical_value`] has no answer.
    pub fn sharing(&mut self, shared: &[f64], sides: Sides, alpha: f64, df: f64) -> Option<&Family> {
        // All of them are positive, and so in the order of their bits.
        let mut bits: Vec<u64> = shared.iter().map(|shared| shared.to_bits()).collect();
        bits.sort_unstable();
        let key = Key { shared: bits, sides, alpha: alpha.to_bits(), df: df.to_bits() };
        if let Some(at) = self.known.iter().position(|family| family.key == key) {
            return self.known.get(at);
        }
        let distribution = MaxT::sharing(shared, sides)?;
        let critical = distribution.critical_value(alpha, df)?;
        self.known.push(Family { key, distribution, critical });
        self.known.last()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_family_is_solved_once_whatever_the_order_of_its_groups() {
        let mut solved = Solved::default();
        let first = solved.family(&[2, 3, 2], 6, Sides::Two, 0.05, 9.0).unwrap().critical;
        let again = solved.family(&[3, 2, 2], 6, Sides::Two, 0.05, 9.0).unwrap().critical;
        assert_eq!((first.to_bits(), solved.known.len()), (again.to_bits(), 1));
        let fresh = MaxT::new(&[2, 2, 3], 6, Sides::Two).unwrap().critical_value(0.05, 9.0).unwrap();
        assert_eq!(first.to_bits(), fresh.to_bits());
    }

    #[test]
    fn families_that_differ_in_anything_are_kept_apart() {
        let mut solved = Solved::default();
        let all = [
            solved.family(&[2, 2], 6, Sides::Two, 0.05, 9.0).unwrap().critical,
            solved.family(&[2, 3], 6, Sides::Two, 0.05, 9.0).unwrap().critical,
            solved.family(&[2, 2], 5, Sides::Two, 0.05, 9.0).unwrap().critical,
            solved.family(&[2, 2], 6, Sides::Upper, 0.05, 9.0).unwrap().critical,
            solved.family(&[2, 2], 6, Sides::Two, 0.01, 9.0).unwrap().critical,
            solved.family(&[2, 2], 6, Sides::Two, 0.05, 8.0).unwrap().critical,
        ];
        let mut distinct = all.map(f64::to_bits).to_vec();
        distinct.sort_unstable();
        distinct.dedup();
        assert_eq!((distinct.len(), solved.known.len()), (6, 6));
        assert!(solved.family(&[], 6, Sides::Two, 0.05, 9.0).is_none());
    }
}
