//! A gauge study: every person reads every section several times.

use super::super::Spread;
use super::super::distributions::{chi_square_quantile, f_tail};
use super::super::summary::{mean, sorted_sum, sum_of_squares};

/// Sum of squares and degrees of freedom of one source.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Source {
    /// Sum of squares, in the squared unit.
    pub squares: f64,
    /// Degrees of freedom.
    pub df: usize,
}

impl Source {
    /// Mean square; 0 without degrees of freedom.
    pub fn mean_square(self) -> f64 {
        if self.df == 0 { 0.0 } else { self.squares / self.df as f64 }
    }

    fn with(self, other: Self) -> Self {
        Self { squares: self.squares + other.squares, df: self.df + other.df }
    }
}

/// The two-way table of a gauge study.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Crossed {
    /// Sections, people, and readings of each person on each section.
    pub shape: [usize; 3],
    /// Between sections.
    pub sections: Source,
    /// Between people.
    pub people: Source,
    /// People that differ on one section otherwise than on another.
    pub interaction: Source,
    /// Readings of one person on one section; no degrees of freedom where each read once.
    pub repeats: Source,
}

/// Variances of a gauge study, in the squared unit; below zero where an estimate is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Components {
    /// Of readings that one person repeats on one section.
    pub repeatability: f64,
    /// Of people, alike on all sections.
    pub people: f64,
    /// Of people, otherwise from section to section.
    pub interaction: f64,
    /// Of sections.
    pub sections: f64,
}

impl Components {
    /// Variance that another person adds: people and interaction, each 0 where below zero.
    pub fn between_people(&self) -> f64 {
        self.people.max(0.0) + self.interaction.max(0.0)
    }

    /// Variance of the gauge in anybody's hands: reproducibility.
    pub fn gauge(&self) -> f64 {
        self.repeatability + self.between_people()
    }

    /// Variance of a reading on any section.
    pub fn total(&self) -> f64 {
        self.gauge() + self.sections.max(0.0)
    }
}

/// The table of `values`, which stand by sections, within them by people, within them in order of
/// reading, as many as `shape` says.
///
/// `None` with fewer than two sections or people, where the number of values is another, or a value
/// is not finite. Montgomery (2013), Design and Analysis of Experiments, 13.3: two-way table with
/// random sections and people.
pub fn crossed(values: &[f64], shape: [usize; 3]) -> Option<Crossed> {
    let [sections, people, repeats] = shape;
    if sections < 2 || people < 2 || repeats == 0 || values.len() != sections * people * repeats {
        return None;
    }
    let cells: Option<Vec<f64>> = values.chunks(repeats).map(mean).collect();
    let cells = cells?;
    let grand = mean(values)?;
    let by_section: Option<Vec<f64>> = cells.chunks(people).map(mean).collect();
    let of_person =
        |person: usize| mean(&cells.iter().copied().skip(person).step_by(people).collect::<Vec<_>>());
    let by_person: Option<Vec<f64>> = (0..people).map(of_person).collect();
    let (by_section, by_person) = (by_section?, by_person?);
    let about = |means: &[f64]| sorted_sum(means.iter().map(|value| (value - grand).powi(2)).collect());
    let off =
        |(at, cell): (usize, &f64)| (cell - by_section[at / people] - by_person[at % people] + grand).powi(2);
    let within: Option<Vec<f64>> = values.chunks(repeats).map(sum_of_squares).collect();
    let source = |squares: f64, df: usize| Source { squares, df };
    Some(Crossed {
        shape,
        sections: source((people * repeats) as f64 * about(&by_section), sections - 1),
        people: source((sections * repeats) as f64 * about(&by_person), people - 1),
        interaction: source(
            repeats as f64 * sorted_sum(cells.iter().enumerate().map(off).collect()),
            (sections - 1) * (people - 1),
        ),
        repeats: source(sorted_sum(within?), sections * people * (repeats - 1)),
    })
}

impl Crossed {
    /// Variances where people may differ otherwise from section to section; `None` where each read once.
    pub fn components(&self) -> Option<Components> {
        let [sections, people, repeats] = self.shape.map(|n| n as f64);
        let error = self.repeats.mean_square();
        let interaction = self.interaction.mean_square();
        (self.repeats.df > 0).then(|| Components {
            repeatability: error,
            people: (self.people.mean_square() - interaction) / (sections * repeats),
            interaction: (interaction - error) / repeats,
            sections: (self.sections.mean_square() - interaction) / (people * repeats),
        })
    }

    /// Variances where people are taken to differ alike on all sections: interaction and repeats together
    /// are the repeatability.
    pub fn pooled_components(&self) -> Components {
        let [sections, people, repeats] = self.shape.map(|n| n as f64);
        let error = self.interaction.with(self.repeats).mean_square();
        Components {
            repeatability: error,
            people: (self.people.mean_square() - error) / (sections * repeats),
            interaction: 0.0,
            sections: (self.sections.mean_square() - error) / (people * repeats),
        }
    }

    /// P value of no difference between people, against the interaction; `None` without any scatter there.
    pub fn p_people(&self) -> Option<f64> {
        ratio(self.people, self.interaction)
    }

    /// P value of no interaction, against the repeats; `None` where each read once or without any scatter.
    pub fn p_interaction(&self) -> Option<f64> {
        ratio(self.interaction, self.repeats)
    }
}

fn ratio(one: Source, other: Source) -> Option<f64> {
    let f = one.mean_square() / other.mean_square();
    (other.df > 0 && f.is_finite()).then(|| f_tail(f, one.df as f64, other.df as f64))?
}

/// Interval of a standard deviation at a confidence such as 0.95, by chi-square.
///
/// `None` where the spread is 0 or its degrees of freedom are not known (NIST/SEMATECH e-Handbook of
/// Statistical Methods, 7.2.3).
pub fn interval_of_spread(spread: Spread, confidence: f64) -> Option<(f64, f64)> {
    let tail = (1.0 - confidence) / 2.0;
    let bound = |tail: f64| Some(spread.sd * (spread.df / chi_square_quantile(tail, spread.df)?).sqrt());
    spread.is_usable().then(|| Some((bound(tail)?, bound(1.0 - tail)?)))?
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_hand_worked_study() {
        // Two sections, two people, two readings: means 2, 4 and 8, 6, grand mean 5.
        let values = [1.0, 3.0, 4.0, 4.0, 8.0, 8.0, 5.0, 7.0];
        let table = crossed(&values, [2, 2, 2]).unwrap();
        assert_eq!((table.sections.squares, table.people.squares), (32.0, 0.0));
        assert_eq!((table.interaction.squares, table.repeats.squares), (8.0, 4.0));
        let with = table.components().unwrap();
        assert_eq!((with.repeatability, with.interaction, with.people, with.sections), (1.0, 3.5, -2.0, 6.0));
        assert_eq!((with.between_people(), with.gauge(), with.total()), (3.5, 4.5, 10.5));
        let pooled = table.pooled_components();
        assert_eq!((pooled.repeatability, pooled.people), (12.0 / 5.0, -0.6));
    }

    #[test]
    fn one_reading_each_tells_no_repeatability() {
        let table = crossed(&[1.0, 2.0, 4.0, 4.0], [2, 2, 1]).unwrap();
        assert_eq!((table.components(), table.p_interaction()), (None, None));
        assert!(table.p_people().is_some());
    }

    #[test]
    fn studies_that_cannot_be_made_are_none() {
        for shape in [[1, 2, 2], [2, 1, 2], [2, 2, 2], [2, 2, 0]] {
            assert_eq!(crossed(&[1.0, 2.0, 3.0, 4.0], shape), None);
        }
        assert_eq!(crossed(&[1.0, 2.0, 3.0, f64::INFINITY], [2, 2, 1]), None);
        let level = crossed(&[3.0; 8], [2, 2, 2]).unwrap();
        assert_eq!((level.p_people(), level.components().unwrap().total()), (None, 0.0));
        assert_eq!(interval_of_spread(Spread { sd: 0.0, df: 4.0 }, 0.95), None);
        assert_eq!(interval_of_spread(Spread { sd: 1.0, df: f64::INFINITY }, 0.95), None);
    }
}
