//! Averages over sites where each carries every treatment twice or more; worked by hand in the comments.

use crate::bench::{Bench, at};
use crate::pieces::bench;
use tapeline::analysis::{Interval, Strength};
use tapeline::planning::Room;

/// Bay is the foremost at the coast and the last on the hill; bare fell by 10 at both.
const TWICE: [(&str, &str, Option<f64>); 8] = [
    ("bay", "coast", Some(-1.0)),
    ("bay", "coast", Some(-3.0)),
    ("bay", "hill", Some(-20.0)),
    ("bay", "hill", Some(-22.0)),
    ("bare", "coast", Some(-9.0)),
    ("bare", "coast", Some(-11.0)),
    ("bare", "hill", Some(-9.0)),
    ("bare", "hill", Some(-11.0)),
];

fn at_sites(rows: &[(&str, &str, Option<f64>)]) -> Bench {
    let mut bench = bench(rows);
    bench.study.by_site = bench.study.groups.pop();
    bench
}

fn is(found: Option<Interval>, middle: f64, half: f64) {
    let found = found.unwrap();
    assert!((found.low - (middle - half)).abs() < 1e-5, "{found:?}");
    assert!((found.high - (middle + half)).abs() < 1e-5, "{found:?}");
}

#[test]
fn what_a_product_does_otherwise_at_one_site_widens_no_interval_of_the_average() {
    let bench = at_sites(&TWICE);
    assert!(bench.study.averages_over_sites());
    let table = bench.to_bare("month-1");
    // Four cells with squares of 1 and 1: a variance of 8 / 4 on 8 - 4 degrees of freedom.
    let spread = table.basis.spread.unwrap();
    assert!(table.basis.over_sites && (spread.sd - 2.0_f64.sqrt()).abs() < 1e-12 && spread.df == 4.0);
    // Bay is at -2 and -21, bare at -10 twice; the standard error is the root of 2 (1/4 + 1/4), and 2.776445 is Student's t.
    let row = &table.rows[0];
    assert!((row.difference + 1.5).abs() < 1e-12);
    is(row.interval, -1.5, 2.776_445_105);
    // Eight of these sections say nothing of the treatments at a site of their own; the plan knows as well.
    assert_eq!(Room::on_panel(&bench.study).unwrap().df, 4);
}

#[test]
fn sites_that_lack_a_section_still_count_alike() {
    let mut rows = TWICE;
    rows[3].2 = None;
    let table = at_sites(&rows).to_bare("month-1");
    // Bay is at -2 and -20, so at -11, and not at -8 as over its three sections. Three cells leave 6 on 3 degrees of freedom.
    let row = &table.rows[0];
    assert!(table.basis.over_sites && (row.difference + 1.0).abs() < 1e-12, "{table:?}");
    // 2 ((1/2 + 1) + (1/2 + 1/2)) / 4 is 1.25, and 3.182446 is Student's t.
    is(row.interval, -1.0, 3.182_446_305 * 1.25_f64.sqrt());
}

#[test]
fn a_treatment_that_stands_once_at_a_site_is_compared_by_blocks() {
    let once: Vec<_> = TWICE.iter().step_by(2).copied().collect();
    assert!(!at_sites(&once).study.averages_over_sites());
    let mut rows = TWICE.to_vec();
    rows.remove(3);
    let bench = at_sites(&rows);
    assert!(!bench.study.averages_over_sites() && !bench.to_bare("month-1").basis.over_sites);
    // A site where bay was not read at all leaves no average over both.
    let mut rows = TWICE;
    (rows[2].2, rows[3].2) = (None, None);
    let table = at_sites(&rows).to_bare("month-1");
    assert!(!table.basis.over_sites && table.basis.strength == Strength::Full);
}

/// Planks stand at one site each and carry everything once: what a plank adds is taken out beside the site.
#[test]
fn planks_at_sites_leave_the_scatter_beside_them() {
    let planks = ["p1", "p2", "p1", "p2", "p3", "p4", "p3", "p4"];
    let sites = ["coast", "coast", "coast", "coast", "hill", "hill", "hill", "hill"];
    let carried = ["bay", "bay", "bare", "bare"];
    let changes = [-1.0, -5.0, -9.0, -11.0, -20.0, -24.0, -9.0, -11.0];
    let mut rows: Vec<(&str, &str, Option<f64>)> = Vec::new();
    let mut of_site = Vec::new();
    for at in 0..8 {
        rows.push((carried[at % 4], planks[at], Some(changes[at])));
        of_site.push(sites[at]);
    }
    for (plank, site, change) in
        [("p1", "coast", -4.0), ("p2", "coast", -7.0), ("p3", "hill", -4.0), ("p4", "hill", -7.0)]
    {
        rows.push(("clove", plank, Some(change)));
        of_site.push(site);
    }
    let mut bench = bench(&rows);
    let codes: Vec<String> = (1..=rows.len()).map(|number| format!("S{number}")).collect();
    let members =
        codes.iter().zip(&of_site).map(|(code, site)| (bench.section_id(code), at((*site).to_owned())));
    let members = members.collect();
    bench.study.by_site = Some(tapeline::study::Grouping { name: at("site".into()), members, broken: false });
    assert!(bench.study.averages_over_sites());
    let table = bench.to_bare("month-1");
    // From the first plank of a site to the second bay falls by 4, bare by 2, clove by 3: off their mean of 3 by 1, 1 and 0, which is half of
    // it on each plank: squares of 2 (1/4 + 1/4) at each site, on 12 - 6 - 2 degrees of freedom.
    let spread = table.basis.spread.unwrap();
    assert!(table.basis.over_sites && spread.df == 4.0, "{spread:?}");
    assert!((spread.sd - 0.5_f64.sqrt()).abs() < 1e-12, "{spread:?}");
    // Bay is at -3 and -22, bare at -10.
    assert!((table.rows.iter().find(|row| row.change < -12.0).unwrap().difference + 2.5).abs() < 1e-12);
}
