//! Growth of children by a mixed model: rates of two groups, where every child has every age and where some lack ages.

use serde::Deserialize;
use tapeline::stats::components::mixed::{self, Rows, Times};
use tapeline::stats::summary::{mean, sd};
use tapeline::stats::trend::line;

use super::{near, read};

#[derive(Deserialize)]
struct Truth {
    relative: f64,
    ages: [f64; 4],
    girls: Vec<[f64; 4]>,
    boys: Vec<[f64; 4]>,
    whole: Both,
    lacking: Both,
}

#[derive(Deserialize)]
struct Both {
    lines: Rates,
    means: Rates,
}

/// Rates are value, error and degrees of freedom; the difference is that of boys less girls.
#[derive(Deserialize)]
struct Rates {
    between: f64,
    about: f64,
    girls: [f64; 3],
    boys: [f64; 3],
    difference: [f64; 3],
}

/// The rows of one group.
struct Group {
    ages: Vec<f64>,
    values: Vec<f64>,
    children: Vec<usize>,
}

fn truth() -> Truth {
    read(include_str!("growth.toml"))
}

impl Truth {
    /// Girls and boys with what is kept of them, without children of one age.
    fn groups(&self, kept: impl Fn(usize, f64) -> bool) -> [Group; 2] {
        let of = |own: &[[f64; 4]], first: usize| {
            let mut group = Group { ages: Vec::new(), values: Vec::new(), children: Vec::new() };
            for (child, values) in own.iter().enumerate() {
                let rows: Vec<(f64, f64)> = self
                    .ages
                    .iter()
                    .copied()
                    .zip(*values)
                    .filter(|(age, _)| kept(first + child, *age))
                    .collect();
                for (age, value) in rows.iter().filter(|_| rows.len() > 1) {
                    group.ages.push(*age);
                    group.values.push(*value);
                    group.children.push(child);
                }
            }
            group
        };
        [of(&self.girls, 1), of(&self.boys, 1 + self.girls.len())]
    }

    fn agrees(&self, groups: &[Group; 2], expected: &Both) {
        let line = |group: &Group| vec![group.ages.clone()];
        self.agrees_by(groups, line, &[1.0], &expected.lines);
        let means = |group: &Group| {
            let at = |age: &f64| {
                group.ages.iter().map(|own| f64::from(u8::from(own.total_cmp(age).is_eq()))).collect()
            };
            self.ages.iter().skip(1).map(at).collect()
        };
        // The least-squares slope through means at -3, -1, 1 and 3 years about the middle.
        self.agrees_by(groups, means, &[-1.0 / 20.0, 1.0 / 20.0, 3.0 / 20.0], &expected.means);
    }

    fn agrees_by(
        &self,
        groups: &[Group; 2],
        columns: impl Fn(&Group) -> Vec<Vec<f64>>,
        weights: &[f64],
        expected: &Rates,
    ) {
        let columns = [columns(&groups[0]), columns(&groups[1])];
        let part = |at: usize| {
            let Group { ages, values, children } = &groups[at];
            let times = Times { times: ages, levels: children };
            (Rows { columns: &columns[at], values, sections: children }, times)
        };
        let model = mixed::slopes(&[part(0), part(1)]).unwrap();
        let tolerance = (self.relative, 0.0);
        near("between rates", model.sections, expected.between, tolerance);
        near("about lines", model.readings, expected.about, tolerance);
        let of = |girls: f64, boys: f64| -> Vec<f64> {
            let scaled = |by: f64| weights.iter().map(move |weight| by * weight);
            scaled(girls).chain(scaled(boys)).collect()
        };
        let all = [
            ("girls", of(1.0, 0.0), expected.girls),
            ("boys", of(0.0, 1.0), expected.boys),
            ("difference", of(-1.0, 1.0), expected.difference),
        ];
        for (name, weights, [value, error, df]) in all {
            let rate = model.effect(&weights).unwrap();
            near(name, rate.value, value, tolerance);
            near(&format!("error of {name}"), rate.error, error, tolerance);
            near(&format!("degrees of freedom of {name}"), rate.df, df, tolerance);
        }
    }
}

/// On balanced data the model is the mean of the rates and their pooled spread.
#[test]
fn a_mixed_model_of_whole_lines_agrees_with_the_rates_of_children() {
    let truth = truth();
    truth.agrees(&truth.groups(|_, _| true), &truth.whole);
    let rates = |own: &[[f64; 4]]| -> Vec<f64> {
        own.iter().map(|values| line::fit(&truth.ages, values).unwrap().slope).collect()
    };
    let (girls, boys) = (rates(&truth.girls), rates(&truth.boys));
    near("rate of girls", mean(&girls).unwrap(), truth.whole.means.girls[0], (1e-12, 0.0));
    near("rate of boys", mean(&boys).unwrap(), truth.whole.means.boys[0], (1e-12, 0.0));
    let squares = |own: &[f64]| sd(own).unwrap().powi(2) * (own.len() - 1) as f64;
    let pooled = ((squares(&girls) + squares(&boys)) / 25.0).sqrt();
    near("pooled error", pooled / (girls.len() as f64).sqrt(), truth.whole.means.girls[1], (1e-9, 0.0));
}

#[test]
fn children_that_lack_ages_count_by_what_they_tell() {
    let truth = truth();
    let lacks = |child: usize, age: f64| {
        (child.is_multiple_of(4) && age > 11.0) || (child.is_multiple_of(5) && (age - 10.0).abs() < 1.0)
    };
    truth.agrees(&truth.groups(|child, age| !lacks(child, age)), &truth.lacking);
}

/// Values on their lines but for the rounding leave nothing that a rate could vary with, and as many means as values nothing at all.
#[test]
fn lines_without_scatter_or_without_a_second_child_have_no_model() {
    let times = [1.0, 2.0, 4.0].repeat(2);
    let sections = [0, 0, 0, 1, 1, 1];
    let straight: Vec<f64> =
        times.iter().zip(sections).map(|(t, at)| 30.1 + 0.2 * (at + 1) as f64 * t).collect();
    let bent = [30.0, 31.0, 30.5, 30.2, 30.4, 31.0];
    let columns = vec![times.clone()];
    let model = |values: &[f64]| {
        let of = Times { times: &times, levels: &sections };
        mixed::slopes(&[(Rows { columns: &columns, values, sections: &sections }, of)])
    };
    assert_eq!(model(&straight), None);
    assert!(model(&bent).is_some());
    // A section by itself is all that its treatment has.
    let own = vec![times[..3].to_vec()];
    let alone = |values| {
        let of = Times { times: &times[..3], levels: &sections[..3] };
        (Rows { columns: &own, values, sections: &sections[..3] }, of)
    };
    assert_eq!(mixed::slopes(&[alone(&bent[..3]), alone(&bent[3..])]), None);
    // Two looks at one time are no line.
    let (twice, level) = ([2.0, 2.0], vec![vec![0.0, 1.0]]);
    let looks = Rows { columns: &level, values: &[3.0, 4.0], sections: &[0, 0] };
    assert_eq!(mixed::slopes(&[(looks, Times { times: &twice, levels: &[0, 0] })]), None);
}
