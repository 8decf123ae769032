//! Readings nested in sections: the mixed model on all readings, and the test on section means that it must agree with.

use super::{LAST, SECTIONS, Tolerance, place, read, without_outlier};
use serde::Deserialize;
use std::collections::BTreeMap;
use tapeline::stats::anova::{OneWay, one_way};
use tapeline::stats::components::mixed;

#[derive(Deserialize)]
struct Truth {
    #[serde(flatten)]
    tolerance: Tolerance,
    measure: Vec<Measure>,
}

#[derive(Deserialize)]
struct Measure {
    name: String,
    variances: [f64; 2],
    satterthwaite: [f64; 4],
    kenward_roger: [f64; 4],
    naive: [f64; 4],
    mean: BTreeMap<String, [f64; 5]>,
    difference: BTreeMap<String, [f64; 7]>,
}

/// One for the treatment of each of a row of readings, else 0.
fn columns(readings: &[Vec<f64>]) -> Vec<Vec<f64>> {
    let own = |treatment: usize, section: usize| f64::from(u8::from(section / 2 == treatment));
    let column = |treatment: usize| {
        let values = readings.iter().enumerate();
        values.flat_map(|(section, values)| vec![own(treatment, section); values.len()]).collect()
    };
    (0..SECTIONS.len()).map(column).collect()
}

/// Weights of one treatment, less bare where that is asked for.
fn weights(name: &str, less_bare: bool) -> Vec<f64> {
    let mut weights = vec![0.0; SECTIONS.len()];
    weights[place(name)] = 1.0;
    if less_bare {
        weights[place("bare")] = -1.0;
    }
    weights
}

fn numbers(table: OneWay) -> [f64; 4] {
    [table.f, table.df_between as f64, table.df_within as f64, table.p]
}

#[test]
fn the_mixed_model_and_the_test_on_sections_agree() {
    let (truth, study) = (read::<Truth>(include_str!("nested.toml")), without_outlier());
    assert_eq!(truth.measure.len(), 2);
    for measure in &truth.measure {
        let (name, readings, tolerance) = (&measure.name, study.readings(&measure.name), truth.tolerance);
        let sections: Vec<usize> =
            readings.iter().enumerate().flat_map(|(at, own)| vec![at; own.len()]).collect();
        let model = mixed::fit(&columns(&readings), &readings.concat(), &sections).unwrap();
        tolerance.all(name, [model.sections, model.readings], measure.variances);
        let rows: Vec<Vec<f64>> = SECTIONS[..4].iter().map(|(own, _)| weights(own, true)).collect();
        let joint = model.joint(&rows).unwrap();
        tolerance.all(name, [joint.f, joint.df1, joint.df2, joint.p], measure.satterthwaite);
        // With as many readings on every section, the test on section means is the same one, and exact.
        tolerance.all(name, numbers(one_way(&study.levels(name, LAST)).unwrap()), measure.kenward_roger);
        for (treatment, &[mean, error, df, low, high]) in &measure.mean {
            let found = model.effect(&weights(treatment, false)).unwrap();
            let ends = found.interval(0.95).unwrap();
            let found = [found.value, found.error, found.df, ends.0, ends.1];
            tolerance.all(treatment, found, [mean, error, df, low, high]);
        }
        for (treatment, &expected) in &measure.difference {
            let found = model.effect(&weights(treatment, true)).unwrap();
            let (ends, t) = (found.interval(0.95).unwrap(), found.value / found.error);
            let p = found.p().unwrap();
            tolerance.all(treatment, [found.value, found.error, found.df, ends.0, ends.1, t, p], expected);
        }
        assert_eq!((measure.mean.len(), measure.difference.len()), (5, 4));
    }
}

/// What a test would say that takes every reading for a section of its own.
#[test]
fn readings_taken_for_sections_mislead_as_far() {
    let (truth, study) = (read::<Truth>(include_str!("nested.toml")), without_outlier());
    for measure in &truth.measure {
        let readings = study.readings(&measure.name);
        let groups: Vec<Vec<f64>> = readings.chunks(2).map(<[Vec<f64>]>::concat).collect();
        truth.tolerance.all(&measure.name, numbers(one_way(&groups).unwrap()), measure.naive);
        assert!(measure.naive[3] < measure.kenward_roger[3] / 1000.0);
    }
}
