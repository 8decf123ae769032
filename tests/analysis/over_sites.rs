//! Averages over sites where each carries every treatment twice or more; worked by hand in the comments.

use crate::bench::{Bench, at};
use crate::pieces::bench;
use tapeline::analysis::{Interval, Strength};
use tapeline::planning::Room;
use tapeline::study::{MeasureId, ReadPlan};

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

/// The mean of a product by itself counts each site alike, and its interval leaves out what differs between them.
#[test]
fn a_mean_by_itself_rests_on_the_scatter_within_sites() {
    let bench = at_sites(&TWICE);
    let analysis = bench.analyse();
    let gloss = &analysis.measures[0];
    let round = gloss.rounds.iter().find(|round| round.round == bench.round_id("month-1")).unwrap();
    assert_eq!(round.alone_over_sites, (true, true));
    let own = |bench: &Bench| bench.analyse().measures[0].groups[0].at.last().unwrap().change.unwrap();
    // Bay is at -2 and -21: -11.5, with the variance of 2 of both treatments on 4 degrees of freedom, over four sections. With the sites
    // in the scatter it would be far wider: bay alone ranges from -1 to -22.
    let bay = own(&bench);
    assert!((bay.mean + 11.5).abs() < 1e-12 && bay.n == 4);
    is(bay.interval, -11.5, 2.776_445_105 * 0.5_f64.sqrt());
    // One section fewer on the hill: -2 and -20 make -11; squares of 6 on 3 degrees of freedom, and (1/2 + 1) / 4 of that variance.
    let mut rows = TWICE;
    rows[3].2 = None;
    let bay = own(&at_sites(&rows));
    assert!((bay.mean + 11.0).abs() < 1e-12 && bay.n == 3);
    is(bay.interval, -11.0, 3.182_446_305 * (2.0_f64 * 1.5 / 4.0).sqrt());
    // Once at each site, sites are blocks: what differs between them stays in the scatter. Bay is at -1 and -20, bare at -9 twice:
    // squares of 180.5 on 2 degrees of freedom; 4.302653 is Student's t.
    let once: Vec<_> = TWICE.iter().step_by(2).copied().collect();
    let bay = own(&at_sites(&once));
    is(bay.interval, -10.5, 4.302_652_730 * (180.5_f64 / 2.0 / 2.0).sqrt());
}

/// Rates of sections at two sites that fade unlike: by 1 and 2 a month at the coast, by 11 and 12 on the hill, bare by 5 and 6 at both.
#[test]
fn a_rate_rests_on_the_scatter_within_sites() {
    let mut bench = at_sites(&TWICE);
    bench.rows.clear();
    bench.study.rounds.clear();
    let slopes = [-1.0, -2.0, -11.0, -12.0, -5.0, -6.0, -5.0, -6.0];
    let days =
        [("baseline", "2024-01-01"), ("one", "2024-02-01"), ("two", "2024-03-01"), ("three", "2024-04-01")];
    bench.study.decide = None;
    for (name, date) in days {
        let mut round = crate::bench::round(name, date);
        round.reads.push(ReadPlan { measure: at(MeasureId::new(0)), times: 2 });
        bench.study.rounds.push(round);
    }
    let start = crate::bench::day("2024-02-01");
    for (name, date) in days {
        let since = crate::bench::day(date).since(start).unwrap().get_days();
        let months = f64::from(since) / tapeline::units::DAYS_IN_MONTH;
        bench.means(name, &slopes.map(|slope| 80.0 + slope * months));
    }
    let over = bench.gloss().over_time.unwrap();
    assert_eq!(over.over_sites, (true, true));
    // Four cells of two rates that lie 1 apart: squares of 1/2 each, on 4 degrees of freedom.
    let spread = over.rate_spread.unwrap();
    assert!((spread.sd - 0.5_f64.sqrt()).abs() < 1e-9 && spread.df == 4.0, "{spread:?}");
    let bay = &over.groups[0];
    let error = (0.5_f64 / 4.0).sqrt();
    is(bay.rate.unwrap().interval, -6.5, 2.776_445_105 * error);
    // Student's t of -6.5 on that error: 18.38 on 4 degrees of freedom, 5.15e-5 (its tail is
    // 1 - x (1 + (1 - x^2) / 2) with x = t / sqrt(4 + t^2), two-sided).
    let t = 6.5 / error;
    let x = t / (4.0 + t * t).sqrt();
    let p = 1.0 - x * (1.0 + (1.0 - x * x) / 2.0);
    assert!((bay.trend.unwrap().p - p).abs() < 1e-9, "{:?} {p}", bay.trend);
}
