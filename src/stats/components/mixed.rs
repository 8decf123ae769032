//! The linear mixed model: fixed effects, and a random section behind its readings, by its level or by its slope.

use super::super::distributions::{f_tail, t_quantile, t_tail};
use super::super::fit::linear::{Regression, regress};
use super::super::roots::root;
use super::symmetric::{Matrix, add_square, axes, between, product, trace_of_product, zeros};

/// Ratios of the two variances between which the restricted likelihood is searched; below the first
/// the sections add nothing that shows, above the last the readings do not.
const RATIOS: (f64, f64) = (1e-7, 1e9);
/// Scatter below this share of the largest value is that of the arithmetic.
const ROUNDING: f64 = 1e-14;
/// Steps of that search.
const STEPS: i32 = 40;

/// A fitted model.
#[derive(Clone, Debug, PartialEq)]
pub struct Mixed {
    /// Variance between sections, of their levels or of their slopes, in the squared unit; 0 where the likelihood is highest there.
    pub sections: f64,
    /// Variance of readings within sections, beside their slopes where these are random, in the squared unit.
    pub readings: f64,
    /// The fixed effects, in parts that share no section.
    parts: Vec<Fixed>,
    /// Covariance of the variance of the readings and that of the sections, in this order.
    uncertainty: [[f64; 2]; 2],
}

/// Fixed effects of one part.
#[derive(Clone, Debug, PartialEq)]
struct Fixed {
    coefficients: Vec<f64>,
    /// Covariance of the coefficients.
    covariance: Matrix,
    /// How that covariance moves with the variance of the readings and with that of the sections.
    slopes: [Matrix; 2],
}

/// A sum of fixed effects.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Effect {
    /// Its value.
    pub value: f64,
    /// Its standard error.
    pub error: f64,
    /// Degrees of freedom of the error, after Satterthwaite.
    pub df: f64,
}

impl Effect {
    /// Two-sided p value of no effect.
    pub fn p(&self) -> Option<f64> {
        Some(2.0 * t_tail((self.value / self.error).abs(), self.df)?)
    }

    /// Interval at a confidence such as 0.95.
    pub fn interval(&self, confidence: f64) -> Option<(f64, f64)> {
        let half = t_quantile(f64::midpoint(1.0, confidence), self.df)? * self.error;
        Some((self.value - half, self.value + half))
    }
}

/// A test of several sums of fixed effects at once.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Joint {
    /// The ratio.
    pub f: f64,
    /// Degrees of freedom of the sums.
    pub df1: f64,
    /// Degrees of freedom of the error.
    pub df2: f64,
    /// P(F > f).
    pub p: f64,
}

/// Fits `values` to fixed `columns`, each with one number for every value, and a random part that all
/// values of one of `sections` share.
///
/// By restricted maximum likelihood (Patterson and Thompson 1971, Biometrika 58, 545-554), solved on
/// its derivative. `None` where the columns depend on each other, the lengths differ, a number is not
/// finite, the sections are as many as the effects between them, or the readings of every section
/// agree.
pub fn fit(columns: &[Vec<f64>], values: &[f64], sections: &[usize]) -> Option<Mixed> {
    let part = Part::of(&Rows { columns, values, sections }, None)?;
    Model { parts: vec![part] }.found(largest(values))
}

/// Values with what is known of each: fixed columns with a number for every value, and its section.
#[derive(Clone, Copy)]
pub struct Rows<'a> {
    /// Fixed columns.
    pub columns: &'a [Vec<f64>],
    /// The values.
    pub values: &'a [f64],
    /// The section of each.
    pub sections: &'a [usize],
}

/// When values were read, and what keeps a level of its own: a section, or several that share their slope.
#[derive(Clone, Copy)]
pub struct Times<'a> {
    /// The time of each value.
    pub times: &'a [f64],
    /// What of its section it was read on.
    pub levels: &'a [usize],
}

/// Fits values over time: a section keeps levels of its own, and its slope differs at random from what the columns give.
///
/// `parts` have their own columns and sections each, with the times of their rows, and share both variances: of the result,
/// `sections` is that of the slopes, in the squared unit of a slope, and `readings` that of values about what columns, level and slope
/// give. By the same likelihood as [`fit`], and `None` as there; no column may be constant, and a section needs two times.
pub fn slopes(parts: &[(Rows<'_>, Times<'_>)]) -> Option<Mixed> {
    let model: Option<Vec<Part>> = parts.iter().map(|(rows, times)| Part::of(rows, Some(times))).collect();
    let most = parts.iter().map(|(rows, _)| largest(rows.values)).fold(0.0, f64::max);
    Model { parts: model? }.found(most)
}

/// Whether the columns of a part can be told from each other and from the levels.
pub fn stands(rows: &Rows<'_>, times: &Times<'_>) -> bool {
    Part::of(rows, Some(times)).and_then(|part| part.at(0.0)).is_some()
}

fn largest(values: &[f64]) -> f64 {
    values.iter().fold(0.0_f64, |largest, value| largest.max(value.abs()))
}

/// The rows of a model, turned so that they are independent.
struct Model {
    parts: Vec<Part>,
}

/// For each section what its values have along its random part, and what they leave of that: of a random level the mean, of a random
/// slope the slope, the mean being taken out before.
struct Part {
    effects: usize,
    /// Rows that are independent.
    values: usize,
    /// For each section the square of its random part (number of values, or squares of the times), the same of its columns, and of its
    /// values.
    along: Vec<(f64, Vec<f64>, f64)>,
    /// Differences from that, by columns; empty where no column moves within sections.
    columns: Vec<Vec<f64>>,
    /// The same of the values.
    within: Vec<f64>,
    /// Sum of squares within sections where `columns` is empty, else 0.
    squares: f64,
}

/// A model at one ratio of the variances.
struct At {
    regressions: Vec<Regression>,
    rest: f64,
    /// Derivative of the criterion that is made least.
    slope: f64,
}

impl Part {
    fn of(rows: &Rows<'_>, times: Option<&Times<'_>>) -> Option<Self> {
        let Rows { columns, values, sections } = *rows;
        let fits = columns.iter().all(|column| column.len() == values.len());
        let timed =
            times.is_none_or(|own| [own.times.len(), own.levels.len()].iter().all(|&n| n == values.len()));
        if !fits || !timed || sections.len() != values.len() || values.len() <= columns.len() {
            return None;
        }
        let mut order: Vec<usize> = (0..values.len()).collect();
        let level = |at: usize| times.map_or(0, |own| own.levels[at]);
        let time = |at: usize| times.map_or(0.0, |own| own.times[at]);
        order.sort_by(|&a, &b| {
            let first = (sections[a], level(a)).cmp(&(sections[b], level(b)));
            first.then(values[a].total_cmp(&values[b])).then(time(a).total_cmp(&time(b))).then_with(|| {
                let row = |at: usize| columns.iter().map(move |column| column[at]);
                row(a).partial_cmp(row(b)).unwrap_or(std::cmp::Ordering::Equal)
            })
        });
        let mut part = Self {
            effects: columns.len(),
            values: 0,
            along: Vec::new(),
            columns: vec![Vec::with_capacity(values.len()); columns.len()],
            within: Vec::with_capacity(values.len()),
            squares: 0.0,
        };
        for rows in order.chunk_by(|&a, &b| sections[a] == sections[b]) {
            let turn = Turn::of(rows, times)?;
            let mut of_columns = Vec::with_capacity(columns.len());
            for (turned, column) in part.columns.iter_mut().zip(columns) {
                of_columns.push(turn.split(rows, column, turned));
            }
            let of_values = turn.split(rows, values, &mut part.within);
            part.values += rows.len() - turn.levels();
            part.along.push((turn.square, of_columns, of_values));
        }
        if part.columns.iter().flatten().all(|&value| value == 0.0) {
            part.squares = part.within.iter().map(|value| value * value).sum();
            part.columns.iter_mut().for_each(Vec::clear);
            part.within.clear();
        }
        Some(part)
    }

    fn at(&self, ratio: f64) -> Option<Regression> {
        let roots: Vec<f64> = self.along.iter().map(|(n, ..)| (n / (1.0 + n * ratio)).sqrt()).collect();
        let column = |effect: usize| {
            let along = self.along.iter().zip(&roots).map(|((_, x, _), root)| root * x[effect]);
            self.columns[effect].iter().copied().chain(along).collect()
        };
        let columns: Vec<Vec<f64>> = (0..self.effects).map(column).collect();
        let along = self.along.iter().zip(&roots).map(|((.., y), root)| root * y);
        let values: Vec<f64> = self.within.iter().copied().chain(along).collect();
        regress(&columns, &values)
    }

    /// Its share of the two sums of the derivative.
    fn pull(&self, regression: &Regression, ratio: f64) -> (f64, f64) {
        let (mut determinants, mut pulls) = (0.0, 0.0);
        for (n, x, y) in &self.along {
            let weight = n / (1.0 + n * ratio);
            let off = y - x.iter().zip(&regression.coefficients).map(|(x, b)| x * b).sum::<f64>();
            determinants += weight - weight * weight * between(x, regression.inverse(), x);
            pulls += (weight * off).powi(2);
        }
        (determinants, pulls)
    }

    fn fixed(&self, regression: Regression, readings: f64, ratio: f64) -> Fixed {
        let covariance: Matrix = regression
            .inverse()
            .iter()
            .map(|row| row.iter().map(|entry| entry * readings).collect())
            .collect();
        let slope = |kind: usize| {
            let inner = self.weighted(readings, ratio, [kind, 2]);
            product(&product(&covariance, &inner), &covariance)
        };
        Fixed { slopes: [slope(0), slope(1)], coefficients: regression.coefficients, covariance }
    }

    // In the turned rows the covariance is diagonal: `readings` for what is within sections, and
    // `readings` (1 + n ratio) for what lies along the random part of a section times the root of its square n. Its
    // derivative by the variance of the readings is 1 everywhere (kind 0), by that of the sections n along the random
    // part (kind 1); kind 2 stands for no further derivative.

    /// Its share of an entry of the expected information of the two variances.
    fn information(&self, fixed: &Fixed, (readings, ratio): (f64, f64), [one, other]: [usize; 2]) -> f64 {
        let both = self.weighted(readings, ratio, [one, other]);
        let across = trace_of_product(&fixed.slopes[one], &self.weighted(readings, ratio, [other, 2]));
        let own = self.trace(readings, ratio, [one, other]);
        0.5 * (own - 2.0 * trace_of_product(&fixed.covariance, &both) + across)
    }

    /// Sum over the turned rows of x x' times derivatives over powers of the variance.
    fn weighted(&self, readings: f64, ratio: f64, kinds: [usize; 2]) -> Matrix {
        let mut sum = zeros(self.effects);
        let power = kinds.iter().filter(|&&kind| kind < 2).count() + 1;
        for (n, x, _) in &self.along {
            let variance = readings * (1.0 + n * ratio);
            add_square(
                &mut sum,
                n * derivative(*n, kinds) / variance.powi(i32::try_from(power).unwrap_or(3)),
                x,
            );
        }
        if !kinds.contains(&1) {
            let weight = readings.powi(-i32::try_from(power).unwrap_or(3));
            for at in 0..self.within.len() {
                let row: Vec<f64> = self.columns.iter().map(|column| column[at]).collect();
                add_square(&mut sum, weight, &row);
            }
        }
        sum
    }

    /// Sum over the turned rows of the derivatives over the squared variance.
    fn trace(&self, readings: f64, ratio: f64, kinds: [usize; 2]) -> f64 {
        let of_mean =
            |(n, ..): &(f64, Vec<f64>, f64)| derivative(*n, kinds) / (readings * (1.0 + n * ratio)).powi(2);
        let within = (self.values - self.along.len()) as f64 / (readings * readings);
        let inside = if kinds.contains(&1) { 0.0 } else { within };
        inside + self.along.iter().map(of_mean).sum::<f64>()
    }
}

fn derivative(n: f64, kinds: [usize; 2]) -> f64 {
    kinds.iter().map(|&kind| if kind == 1 { n } else { 1.0 }).product()
}

/// How the rows of one section are split into what lies along its random part and the rest.
struct Turn {
    slope: Option<Slope>,
    square: f64,
}

/// A random slope.
struct Slope {
    /// Times less the mean of their level.
    times: Vec<f64>,
    /// Where each level ends among the rows.
    ends: Vec<usize>,
}

impl Turn {
    fn of(rows: &[usize], times: Option<&Times<'_>>) -> Option<Self> {
        let Some(own) = times else { return Some(Self { slope: None, square: rows.len() as f64 }) };
        let mut slope = Slope { times: Vec::with_capacity(rows.len()), ends: Vec::new() };
        for level in rows.chunk_by(|&a, &b| own.levels[a] == own.levels[b]) {
            slope.times.extend(off(level, own.times));
            slope.ends.push(slope.times.len());
        }
        let square: f64 = slope.times.iter().map(|time| time * time).sum();
        (square > 0.0).then_some(Self { slope: Some(slope), square })
    }

    /// How many means are taken out before.
    fn levels(&self) -> usize {
        self.slope.as_ref().map_or(0, |slope| slope.ends.len())
    }

    /// What `all` has along the random part at `rows`; the rest goes to `rests`.
    fn split(&self, rows: &[usize], all: &[f64], rests: &mut Vec<f64>) -> f64 {
        let Some(own) = &self.slope else {
            rests.extend(off(rows, all));
            return centre(rows, all);
        };
        let mut from = 0;
        let mut less = Vec::with_capacity(rows.len());
        for &end in &own.ends {
            less.extend(off(&rows[from..end], all));
            from = end;
        }
        let slope = less.iter().zip(&own.times).map(|(off, time)| off * time).sum::<f64>() / self.square;
        rests.extend(less.iter().zip(&own.times).map(|(off, time)| off - slope * time));
        slope
    }
}

/// What `all` has at `rows` less its mean there.
fn off<'a>(rows: &'a [usize], all: &'a [f64]) -> impl Iterator<Item = f64> + 'a {
    let middle = centre(rows, all);
    rows.iter().map(move |&at| all[at] - middle)
}

/// The mean of `all` at `rows`.
fn centre(rows: &[usize], all: &[f64]) -> f64 {
    let first = all[rows[0]];
    first + rows.iter().map(|&at| all[at] - first).sum::<f64>() / rows.len() as f64
}

impl Model {
    /// The fit, unless scatter is but the rounding of values up to `largest`.
    fn found(&self, largest: f64) -> Option<Mixed> {
        if self.left() <= 0.0 {
            return None;
        }
        self.finish(self.ratio()?).filter(|found| found.readings > (ROUNDING * largest).powi(2))
    }

    /// Rows beyond the fixed effects.
    fn left(&self) -> f64 {
        self.parts.iter().map(|part| part.values as f64 - part.effects as f64).sum()
    }

    fn at(&self, ratio: f64) -> Option<At> {
        let regressions: Option<Vec<Regression>> = self.parts.iter().map(|part| part.at(ratio)).collect();
        let regressions = regressions?;
        let (mut rest, mut determinants, mut pulls) = (0.0, 0.0, 0.0);
        for (part, regression) in self.parts.iter().zip(&regressions) {
            rest += part.squares + regression.residuals.iter().map(|value| value * value).sum::<f64>();
            let (determinant, pull) = part.pull(regression, ratio);
            determinants += determinant;
            pulls += pull;
        }
        let slope = determinants - self.left() * pulls / rest;
        slope.is_finite().then_some(At { regressions, rest, slope })
    }

    /// The ratio of the variances at which the restricted likelihood is highest.
    fn ratio(&self) -> Option<f64> {
        let step = (RATIOS.1 / RATIOS.0).powf(1.0 / f64::from(STEPS));
        let grid: Vec<f64> =
            std::iter::once(0.0).chain((0..=STEPS).map(|k| RATIOS.0 * step.powi(k))).collect();
        let slopes: Option<Vec<f64>> = grid.iter().map(|&ratio| Some(self.at(ratio)?.slope)).collect();
        let slopes = slopes?;
        let slope = |ratio: f64| self.at(ratio).map_or(f64::NAN, |at| at.slope);
        let mut found: Vec<f64> = Vec::new();
        if slopes[0] >= 0.0 {
            found.push(0.0);
        }
        for at in 1..grid.len() {
            if slopes[at - 1] < 0.0 && slopes[at] >= 0.0 {
                found.push(root(slope, grid[at - 1], grid[at])?);
            }
        }
        // Several dips are rare; the lowest is the estimate.
        let depth = |ratio: f64| self.criterion(ratio).unwrap_or(f64::INFINITY);
        found.into_iter().min_by(|&a, &b| depth(a).total_cmp(&depth(b)))
    }

    /// Minus twice the restricted log-likelihood at its best spread, but for a constant.
    fn criterion(&self, ratio: f64) -> Option<f64> {
        let at = self.at(ratio)?;
        let of_inverse = |regression: &Regression| -> f64 {
            axes(&regression.inverse().to_vec()).iter().map(|(value, _)| value.ln()).sum()
        };
        let inverse: f64 = at.regressions.iter().map(of_inverse).sum();
        let along = self.parts.iter().flat_map(|part| &part.along);
        let sections: f64 = along.map(|(n, ..)| (n * ratio).ln_1p()).sum();
        Some(self.left() * at.rest.ln() + sections - inverse)
    }

    fn finish(&self, ratio: f64) -> Option<Mixed> {
        let At { regressions, rest, .. } = self.at(ratio)?;
        let readings = rest / self.left();
        let both = self.parts.iter().zip(regressions);
        let fixed: Vec<Fixed> =
            both.map(|(part, regression)| part.fixed(regression, readings, ratio)).collect();
        let information = |kinds: [usize; 2]| -> f64 {
            let both = self.parts.iter().zip(&fixed);
            both.map(|(part, fixed)| part.information(fixed, (readings, ratio), kinds)).sum()
        };
        let (rr, rs, ss) = (information([0, 0]), information([0, 1]), information([1, 1]));
        let determinant = rr * ss - rs * rs;
        let all: f64 = self.parts.iter().map(|part| part.trace(readings, ratio, [1, 1])).sum();
        // Without sections beyond the effects between them nothing is known of their variance but the rounding of the sum.
        let known = ss > 1e-10 * all && determinant > 1e-10 * rr * ss;
        known.then(|| Mixed {
            sections: ratio * readings,
            readings,
            parts: fixed,
            uncertainty: [[ss / determinant, -rs / determinant], [-rs / determinant, rr / determinant]],
        })
    }
}

impl Mixed {
    /// The fixed effects, those of one part after those of another.
    pub fn coefficients(&self) -> impl Iterator<Item = f64> {
        self.parts.iter().flat_map(|part| part.coefficients.iter().copied())
    }

    /// The sum of `weights` times fixed effects, one weight for each.
    ///
    /// Degrees of freedom after Satterthwaite (1946), Biometrics Bulletin 2, 110-114, with the
    /// expected information of the variances (Giesbrecht and Burns 1985, Biometrics 41, 477-486).
    pub fn effect(&self, weights: &[f64]) -> Option<Effect> {
        if weights.len() != self.coefficients().count() {
            return None;
        }
        let value = weights.iter().zip(self.coefficients()).map(|(weight, b)| weight * b).sum();
        let variance = self.covariance(weights, weights);
        let [r, s] = [0, 1].map(|kind| self.sum_over_parts(weights, weights, |part| &part.slopes[kind]));
        let [[rr, rs], [_, ss]] = self.uncertainty;
        let df = 2.0 * variance * variance / (r * r * rr + 2.0 * r * s * rs + s * s * ss);
        (variance > 0.0 && df.is_finite()).then(|| Effect { value, error: variance.sqrt(), df })
    }

    /// Tests whether all of several sums of fixed effects are 0; each of `rows` has a weight for every
    /// effect.
    ///
    /// Degrees of freedom after Fai and Cornelius (1996), Journal of Statistical Computation and
    /// Simulation 54, 363-378. `None` where the sums depend on each other or the degrees of freedom
    /// are 2 or below.
    pub fn joint(&self, rows: &[Vec<f64>]) -> Option<Joint> {
        let effects = self.coefficients().count();
        if rows.is_empty() || rows.iter().any(|row| row.len() != effects) {
            return None;
        }
        let entry = |one: &Vec<f64>| rows.iter().map(|other| self.covariance(one, other)).collect();
        let (mut sum, mut excess) = (0.0, 0.0);
        for (_, vector) in axes(&rows.iter().map(entry).collect()) {
            let weights: Vec<f64> = (0..effects)
                .map(|at| rows.iter().zip(&vector).map(|(row, share)| share * row[at]).sum())
                .collect();
            let effect = self.effect(&weights)?;
            sum += (effect.value / effect.error).powi(2);
            excess += (effect.df > 2.0).then(|| effect.df / (effect.df - 2.0))?;
        }
        let df1 = rows.len() as f64;
        let df2 = 2.0 * excess / (excess - df1);
        Some(Joint { f: sum / df1, df1, df2, p: f_tail(sum / df1, df1, df2)? })
    }

    /// Covariance of two sums of fixed effects.
    fn covariance(&self, one: &[f64], other: &[f64]) -> f64 {
        self.sum_over_parts(one, other, |part| &part.covariance)
    }

    fn sum_over_parts(&self, one: &[f64], other: &[f64], matrix: impl Fn(&Fixed) -> &Matrix) -> f64 {
        let mut first = 0;
        let of_part = |part: &Fixed| {
            let own = first..first + part.coefficients.len();
            first = own.end;
            between(&one[own.clone()], matrix(part), &other[own])
        };
        self.parts.iter().map(of_part).sum()
    }
}

#[cfg(test)]
mod tests {
    use super::super::super::random::Generator;
    use super::super::super::summary::{mean, standard_error};
    use super::super::nested::nested;
    use super::*;

    /// Six sections of four readings, two groups of three.
    fn balanced() -> (Vec<f64>, Vec<usize>) {
        let mut random = Generator::new(12);
        let off: Vec<f64> = (0..6).map(|_| 3.0 * random.normal()).collect();
        let values = (0..24).map(|at| 50.0 + off[at / 4] + random.normal()).collect();
        (values, (0..24).map(|at| at / 4).collect())
    }

    #[test]
    fn balanced_components_are_those_of_the_nested_table() {
        let (values, sections) = balanced();
        let table = nested(&values, &[6, 4]).unwrap();
        let model = fit(&[vec![1.0; 24]], &values, &sections).unwrap();
        assert!((model.sections / table.levels[0].component - 1.0).abs() < 1e-9);
        assert!((model.readings / table.levels[1].component - 1.0).abs() < 1e-9);
        let effect = model.effect(&[1.0]).unwrap();
        assert!((effect.error / table.error - 1.0).abs() < 1e-9 && (effect.df - 5.0).abs() < 1e-7);
    }

    /// On balanced data a slope over time, with a random section, is the mean of the sections' slopes
    /// for what is between groups, and a group's effect is the t test on section means.
    #[test]
    fn balanced_effects_are_those_of_the_section_means() {
        let (values, sections) = balanced();
        let group: Vec<f64> = (0..24).map(|at| if at < 12 { 0.0 } else { 1.0 }).collect();
        let time: Vec<f64> = [-1.5, -0.5, 0.5, 1.5].repeat(6);
        let model = fit(&[vec![1.0; 24], group, time], &values, &sections).unwrap();
        let means: Vec<f64> = values.chunks(4).map(|chunk| mean(chunk).unwrap()).collect();
        let difference = mean(&means[3..]).unwrap() - mean(&means[..3]).unwrap();
        let error = standard_error(&means[..3]).unwrap().hypot(standard_error(&means[3..]).unwrap());
        let effect = model.effect(&[0.0, 1.0, 0.0]).unwrap();
        assert!((effect.value - difference).abs() < 1e-11);
        assert!((effect.error / error - 1.0).abs() < 1e-9 && (effect.df - 4.0).abs() < 1e-7, "{effect:?}");
        // A trend is seen within sections: 24 values less 6 sections less the trend itself.
        assert!((model.effect(&[0.0, 0.0, 1.0]).unwrap().df - 17.0).abs() < 1e-7);
    }

    #[test]
    fn rows_may_stand_in_any_order() {
        let (mut values, mut sections) = balanced();
        values.truncate(21);
        sections.truncate(21);
        let before = fit(&[vec![1.0; 21]], &values, &sections).unwrap();
        values.reverse();
        sections.reverse();
        assert_eq!(fit(&[vec![1.0; 21]], &values, &sections), Some(before));
    }

    #[test]
    fn sections_that_do_not_differ_have_no_variance() {
        let model = fit(&[vec![1.0; 4]], &[1.0, 9.0, 2.0, 8.0], &[0, 0, 1, 1]).unwrap();
        assert_eq!((model.sections, model.readings > 0.0), (0.0, true));
        assert!(model.effect(&[1.0]).unwrap().interval(0.95).is_some());
    }

    #[test]
    fn models_that_cannot_be_made_are_none() {
        let level = vec![1.0; 4];
        let one = std::slice::from_ref(&level);
        let sections = [0, 0, 1, 1];
        assert_eq!(fit(one, &[5.0; 4], &sections), None);
        assert_eq!(fit(one, &[1.0, 1.0, 2.0, 2.0], &sections), None);
        assert_eq!(fit(one, &[1.0, 2.0, 3.0, f64::NAN], &sections), None);
        assert_eq!(fit(one, &[1.0, 2.0, 3.0, 4.0], &[0, 0, 0, 0]), None);
        assert_eq!(fit(&[level.clone(), level.clone()], &[1.0, 2.0, 3.0, 4.0], &sections), None);
        let own = vec![0.0, 0.0, 1.0, 1.0];
        assert_eq!(fit(&[level.clone(), own], &[1.0, 2.0, 4.0, 4.5], &sections), None);
    }
}
