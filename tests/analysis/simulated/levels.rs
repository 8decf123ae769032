//! Levels of the further measures over sections, repeatability, and colour from the first to the last round.

use super::{LAST, ROUNDS, Tolerance, read, with_outlier, without_outlier};
use serde::Deserialize;
use std::collections::BTreeMap;

#[derive(Deserialize)]
#[serde(rename_all = "kebab-case")]
struct Levels {
    #[serde(flatten)]
    tolerance: Tolerance,
    contact_angle: BTreeMap<String, BTreeMap<String, [f64; 3]>>,
    uv_absorbance: BTreeMap<String, BTreeMap<String, [f64; 3]>>,
    repeatability: BTreeMap<String, [f64; 4]>,
    colour: BTreeMap<String, f64>,
}

fn truth() -> Levels {
    read(include_str!("levels.toml"))
}

#[test]
fn levels_of_treatments_agree() {
    let (truth, study) = (truth(), without_outlier());
    for (measure, rounds) in
        [("contact-angle", &truth.contact_angle), ("uv-absorbance", &truth.uv_absorbance)]
    {
        assert_eq!(rounds.len(), ROUNDS.len());
        for (at, round) in ROUNDS.iter().enumerate() {
            assert_eq!(rounds[*round].len(), 5);
            for (name, &[n, mean, error]) in &rounds[*round] {
                let level =
                    study.measure(measure).group(study.treatment(name)).unwrap().at[at].level.unwrap();
                let what = format!("{measure} of {name} at {round}");
                truth.tolerance.all(&what, [level.n as f64, level.mean], [n, mean]);
                let found = level.sd.map_or(-1.0, |sd| sd / n.sqrt());
                truth.tolerance.near(&what, found, error);
            }
        }
    }
}

#[test]
fn repeatability_agrees() {
    let (truth, without, with) = (truth(), without_outlier(), with_outlier());
    assert_eq!(truth.repeatability.len(), 3);
    for (name, &[sd, df, low, high]) in &truth.repeatability {
        let study = if name.ends_with("with-outlier") { &with } else { &without };
        let measure = name.trim_end_matches("-with-outlier");
        let spread = study.measure(measure).within_cells.unwrap();
        let (lower, upper) = spread.interval().unwrap();
        truth.tolerance.all(name, [spread.sd, spread.df, lower, upper], [sd, df, low, high]);
    }
}

#[test]
fn colour_differences_agree() {
    let (truth, study) = (truth(), without_outlier());
    assert_eq!(truth.colour.len(), 10);
    for (section, &expected) in &truth.colour {
        let found = study.section("colour", section, LAST).level.unwrap().mean;
        truth.tolerance.near(section, found, expected);
    }
}
