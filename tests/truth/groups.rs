//! Several groups: analysis of variance, comparisons with a control and with the best.

use serde::Deserialize;
use tapeline::stats::anova::{one_way, pooled_spread};
use tapeline::stats::dunnett::against_control;
use tapeline::stats::hsu::{Better, with_best};
use tapeline::stats::max_t::{MaxT, Sides};
use tapeline::stats::solved::Solved;
use tapeline::stats::{GroupMean, Spread};

use super::{group_mean, near, read, rows};

#[derive(Deserialize)]
struct Tables {
    set: Vec<Table>,
}

#[derive(Deserialize)]
struct Table {
    name: String,
    relative: f64,
    relative_of_p: f64,
    df_between: f64,
    df_within: f64,
    ss_between: f64,
    ss_within: f64,
    f: f64,
    p: f64,
    r_squared: f64,
    residual_sd: f64,
    groups: Vec<Vec<f64>>,
}

#[test]
fn analyses_of_variance_agree_with_the_certified_tables() {
    let truth: Tables = read(include_str!("anova.toml"));
    assert_eq!(truth.set.len(), 6);
    for set in &truth.set {
        let (table, tolerance) = (one_way(&set.groups).unwrap(), (set.relative, 0.0));
        near(&set.name, table.df_between as f64, set.df_between, (0.0, 0.0));
        near(&set.name, table.df_within as f64, set.df_within, (0.0, 0.0));
        near(&set.name, table.ss_between, set.ss_between, tolerance);
        near(&set.name, table.ss_within, set.ss_within, tolerance);
        near(&set.name, table.ms_between, set.ss_between / set.df_between, tolerance);
        near(&set.name, table.f, set.f, tolerance);
        near(&set.name, table.p, set.p, (set.relative_of_p, 1e-300));
        near(&set.name, table.r_squared, set.r_squared, tolerance);
        near(&set.name, pooled_spread(&set.groups).unwrap().sd, set.residual_sd, tolerance);
    }
}

#[derive(Deserialize)]
struct Controls {
    relative: f64,
    absolute: f64,
    relative_of_p: f64,
    absolute_of_p: f64,
    relative_of_critical: f64,
    relative_of_interval: f64,
    study: Vec<ControlStudy>,
    critical: Vec<Critical>,
}

#[derive(Deserialize)]
struct ControlStudy {
    df: f64,
    mean_square: f64,
    critical_two_sided: f64,
    critical_one_sided: f64,
    control: Vec<f64>,
    product: Vec<Product>,
}

#[derive(Deserialize)]
struct Product {
    name: String,
    values: Vec<f64>,
    difference: f64,
    t: f64,
    p_two_sided: f64,
    p_less: f64,
    p_greater: f64,
    low_95: f64,
    high_95: f64,
}

#[derive(Deserialize)]
struct Critical {
    groups: usize,
    df: f64,
    two_sided: f64,
    one_sided: f64,
}

#[test]
fn comparisons_with_a_control_agree_with_the_reference_integral() {
    let truth: Controls = read(include_str!("dunnett.toml"));
    assert_eq!((truth.study.len(), truth.critical.len()), (2, 4));
    for study in &truth.study {
        check_control_study(study, &truth);
    }
    for critical in &truth.critical {
        let ns = vec![5; critical.groups];
        check_criticals(&ns, 5, (critical.df, critical.two_sided, critical.one_sided), &truth);
    }
}

fn check_criticals(ns: &[usize], control: usize, row: (f64, f64, f64), truth: &Controls) {
    let (df, two_sided, one_sided) = row;
    for (sides, expected) in [(Sides::Two, two_sided), (Sides::Upper, one_sided)] {
        let value = MaxT::new(ns, control, sides).unwrap().critical_value(0.05, df).unwrap();
        near("critical value", value, expected, (truth.relative_of_critical, 0.0));
    }
}

fn check_control_study(study: &ControlStudy, truth: &Controls) {
    let mut all = vec![study.control.clone()];
    all.extend(study.product.iter().map(|product| product.values.clone()));
    let spread = pooled_spread(&all).unwrap();
    near("df", spread.df, study.df, (0.0, 0.0));
    near("mean square", spread.sd.powi(2), study.mean_square, (truth.relative, truth.absolute));
    let groups: Vec<GroupMean> = all[1..].iter().map(|values| group_mean(values)).collect();
    let ns: Vec<usize> = groups.iter().map(|group| group.n).collect();
    let criticals = (study.df, study.critical_two_sided, study.critical_one_sided);
    check_criticals(&ns, study.control.len(), criticals, truth);

    let of_p = (truth.relative_of_p, truth.absolute_of_p);
    let of_interval = (truth.relative_of_interval, truth.absolute);
    let upper = MaxT::new(&ns, study.control.len(), Sides::Upper).unwrap();
    let found =
        against_control(&groups, group_mean(&study.control), spread, 0.95, &mut Solved::default()).unwrap();
    for (found, expected) in found.iter().zip(&study.product) {
        let name = &expected.name;
        near(name, found.difference, expected.difference, (truth.relative, truth.absolute));
        near(name, found.p, expected.p_two_sided, of_p);
        near(name, found.low, expected.low_95, of_interval);
        near(name, found.high, expected.high_95, of_interval);
        near(name, upper.tail(expected.t, study.df).unwrap(), expected.p_greater, of_p);
        near(name, upper.tail(-expected.t, study.df).unwrap(), expected.p_less, of_p);
    }
}

#[derive(Deserialize)]
struct Bests {
    relative: f64,
    absolute: f64,
    study: Vec<BestStudy>,
}

#[derive(Deserialize)]
struct BestStudy {
    df: f64,
    mean_square: f64,
    group: Vec<Competitor>,
}

#[derive(Deserialize)]
struct Competitor {
    name: String,
    values: Vec<f64>,
    mean: f64,
    critical: f64,
    low: f64,
    high: f64,
    may_lead: bool,
}

#[test]
fn comparisons_with_the_best_agree_with_the_reference_integral() {
    let truth: Bests = read(include_str!("hsu.toml"));
    assert_eq!(truth.study.len(), 2);
    let tolerance = (truth.relative, truth.absolute);
    for study in &truth.study {
        let values: Vec<&[f64]> = study.group.iter().map(|group| &group.values[..]).collect();
        let spread = pooled_spread(&values).unwrap();
        near("df", spread.df, study.df, (0.0, 0.0));
        near("mean square", spread.sd.powi(2), study.mean_square, tolerance);
        let groups: Vec<GroupMean> = values.iter().map(|values| group_mean(values)).collect();
        let found = with_best(&groups, spread, Better::Higher, 0.95, &mut Solved::default()).unwrap();
        for ((found, group), expected) in found.iter().zip(&groups).zip(&study.group) {
            near(&expected.name, group.mean, expected.mean, tolerance);
            near(&expected.name, found.critical, expected.critical, tolerance);
            near(&expected.name, found.low, expected.low, tolerance);
            near(&expected.name, found.high, expected.high, tolerance);
            assert_eq!(found.may_lead, expected.may_lead, "{}", expected.name);
        }
    }
}

#[test]
fn critical_values_against_a_control_agree_with_the_table() {
    let mut checked = 0;
    for row in rows(include_str!("dunnett_critical.csv")) {
        let sides = if row[0] > 1.5 { Sides::Two } else { Sides::Upper };
        for (index, &expected) in row[3..].iter().enumerate() {
            let family = MaxT::new(&vec![4; index + 1], 4, sides).unwrap();
            let value = family.critical_value(row[1], row[2]).unwrap();
            near("critical value", value, expected, (0.0, 5.000_001e-4));
            checked += 1;
        }
    }
    assert_eq!(checked, 76 * 9);
}

#[derive(Deserialize)]
struct Worked {
    groups: Vec<Vec<f64>>,
    three: Three,
    four: Four,
}

#[derive(Deserialize)]
struct Three {
    ss_between: f64,
    ss_within: f64,
    f: f64,
    p: f64,
}

#[derive(Deserialize)]
struct Four {
    mean_square: f64,
    f: f64,
    critical_two_sided: f64,
    absolute_of_p: f64,
    t: Vec<f64>,
    p: Vec<f64>,
}

#[test]
fn the_worked_example_agrees_at_its_printed_digits() {
    let truth: Worked = read(include_str!("worked.toml"));
    let three = one_way(&truth.groups[..3]).unwrap();
    near("between", three.ss_between, truth.three.ss_between, (0.0, 5e-6));
    near("within", three.ss_within, truth.three.ss_within, (0.0, 5e-6));
    near("F", three.f, truth.three.f, (0.0, 5e-6));
    near("p", three.p, truth.three.p, (0.0, 5e-8));
    let four = one_way(&truth.groups).unwrap();
    near("mean square", four.ms_within, truth.four.mean_square, (0.0, 5e-6));
    near("F", four.f, truth.four.f, (0.0, 5e-6));
    let family = MaxT::new(&[5, 5, 5], 5, Sides::Two).unwrap();
    let critical = family.critical_value(0.05, 16.0).unwrap();
    near("critical value", critical, truth.four.critical_two_sided, (0.0, 5e-4));
    let spread = Spread { sd: four.ms_within.sqrt(), df: 16.0 };
    let groups: Vec<GroupMean> = truth.groups.iter().map(|values| group_mean(values)).collect();
    let found = against_control(&groups[1..], groups[0], spread, 0.95, &mut Solved::default()).unwrap();
    for (found, (t, p)) in found.iter().zip(truth.four.t.iter().zip(&truth.four.p)) {
        near("t", found.difference / (spread.sd * 0.4_f64.sqrt()), *t, (0.0, 5e-6));
        near("p", found.p, *p, (0.0, truth.four.absolute_of_p));
    }
}

#[derive(Deserialize)]
struct Tails {
    absolute: f64,
    absolute_below_3_df: f64,
    tail: Vec<Tail>,
}

#[derive(Deserialize)]
struct Tail {
    t: f64,
    df: f64,
    ns: Vec<usize>,
    control: usize,
    sides: u8,
    chance: f64,
}

#[test]
fn chances_of_the_largest_t_agree_with_another_method() {
    let truth: Tails = read(include_str!("max_t_tails.toml"));
    assert_eq!(truth.tail.len(), 15);
    for row in &truth.tail {
        let sides = if row.sides == 2 { Sides::Two } else { Sides::Upper };
        let family = MaxT::new(&row.ns, row.control, sides).unwrap();
        let absolute = if row.df < 3.0 { truth.absolute_below_3_df } else { truth.absolute };
        let what = format!("{:?} against {} at {} df", row.ns, row.control, row.df);
        near(&what, family.tail(row.t, row.df).unwrap(), row.chance, (0.0, absolute));
        println!("{what}: off by {:.1e}", family.tail(row.t, row.df).unwrap() - row.chance);
    }
}
