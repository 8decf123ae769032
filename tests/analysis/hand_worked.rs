//! Small studies whose numbers are worked by hand in the comments.

use crate::bench::{Bench, at};
use crate::close;
use tapeline::analysis::{Missing, Role, ScatterFrom, Side, Strength, Word};
use tapeline::study::{Agreement, Direction, Gauge, MeasureId, Treatment};
use tapeline::units::{AnyQuantity, unit};

/// One product on two sections and three bare ones; changes are -4, -6 and -10, -12, -14.
fn one_product() -> Bench {
    let sections = [("A1", "hop"), ("A2", "hop"), ("B1", "bare"), ("B2", "bare"), ("B3", "bare")];
    let mut bench = Bench::new(&sections, &[("baseline", "2024-01-01"), ("month-6", "2024-07-01")]);
    bench.means("baseline", &[80.0, 82.0, 80.0, 81.0, 79.0]);
    bench.means("month-6", &[76.0, 76.0, 70.0, 69.0, 65.0]);
    bench
}

#[test]
fn a_section_mean_a_change_and_a_retention() {
    let mut bench = one_product();
    bench.rows.clear();
    bench.read("baseline", "A1", &[79.0, 80.0, 81.0]);
    bench.read("month-6", "A1", &[70.0, 74.0]);
    let fresh = bench.cell("baseline", "A1").numbers.level.unwrap();
    // Deviations -1, 0, 1: sd = sqrt(2 / 2) = 1; uncertainty 1 / sqrt(3).
    assert_eq!((fresh.n, fresh.mean, fresh.sd), (3, 80.0, Some(1.0)));
    assert!(close(fresh.uncertainty.unwrap().standard, 3.0_f64.sqrt().recip(), 1e-14));
    let cell = bench.cell("month-6", "A1");
    // Deviations -2, 2: sd = sqrt(8); uncertainty sqrt(8) / sqrt(2) = 2. One of three planned readings is missing.
    let level = cell.numbers.level.unwrap();
    assert_eq!((cell.n, cell.missing, level.mean), (2, 1, 72.0));
    assert!(close(level.uncertainty.unwrap().standard, 2.0, 1e-14));
    // 72 - 80 = -8 with sqrt(4 + 1/3); 72 of 80 is 90 % with 100 / 80 x sqrt(4 + 0.81 / 3).
    let (change, retention) = (cell.numbers.change.unwrap(), cell.numbers.retention.unwrap());
    assert_eq!((change.value, retention.value), (-8.0, 90.0));
    assert!(close(change.standard.unwrap(), (4.0_f64 + 1.0 / 3.0).sqrt(), 1e-14));
    assert!(close(retention.standard.unwrap(), 1.25 * 4.27_f64.sqrt(), 1e-14));
    assert_eq!(bench.cell("month-6", "A2").numbers.level, Err(Missing::NotRead));
}

#[test]
fn a_share_held_has_the_t_interval_of_the_spread_pooled_over_treatments() {
    let bench = one_product();
    let gloss = bench.gloss();
    let place = 1;
    let of = |treatment| gloss.group(treatment).unwrap().at[place].retention.unwrap();
    let (hop, bare) = (of(Treatment::Product(bench.product_id("hop"))), of(Treatment::Bare));
    // Shares: 76/80 = 95 and 76/82; bare 70/80 = 87.5, 69/81 and 65/79.
    let (a, b) = ([95.0, 7600.0 / 82.0], [87.5, 6900.0 / 81.0, 6500.0 / 79.0]);
    let mean = |values: &[f64]| values.iter().sum::<f64>() / values.len() as f64;
    let squares = |values: &[f64]| values.iter().map(|v| (v - mean(values)).powi(2)).sum::<f64>();
    let sd = ((squares(&a) + squares(&b)) / 3.0).sqrt();
    let spread = gloss.rounds[place].retention_spread.unwrap();
    assert!(close(spread.sd, sd, 1e-12) && spread.df == 3.0);
    assert_eq!((hop.n, bare.n), (2, 3));
    // The 97.5 % point of t with 3 degrees of freedom is 3.182446 (NIST/SEMATECH e-Handbook, 1.3.6.7.2: 3.182).
    for (value, shares) in [(hop, &a[..]), (bare, &b[..])] {
        let half = 3.182_446_305_284_263 * sd / (shares.len() as f64).sqrt();
        let interval = value.interval.unwrap();
        assert!(close(value.mean, mean(shares), 1e-12));
        assert!(close(interval.low, mean(shares) - half, 1e-9));
        assert!(close(interval.high, mean(shares) + half, 1e-9));
    }
}

#[test]
fn equal_shares_have_no_interval_and_a_temperature_has_no_share() {
    let mut bench = one_product();
    bench.rows.clear();
    bench.means("baseline", &[80.0, 83.0, 71.0, 79.0, 90.0]);
    bench.means("month-6", &[80.0 * 0.7, 83.0 * 0.7, 71.0 * 0.6, 79.0 * 0.6, 90.0 * 0.6]);
    let group = &bench.gloss().groups[0].at[1];
    assert!(close(group.retention.unwrap().mean, 70.0, 1e-12));
    assert_eq!(group.retention.unwrap().interval, None);
    bench.study.measures[0].unit.known = unit("degC");
    bench.rows.iter_mut().for_each(|row| *row = row.replace("GU", "degC"));
    let numbers = bench.cell("month-6", "A1").numbers;
    assert_eq!(numbers.retention, Err(Missing::NoShare));
    assert!(numbers.change.is_ok());
}

#[test]
fn the_gauge_is_a_floor_of_the_scatter_and_is_never_added() {
    let mut bench = one_product();
    bench.rows.clear();
    bench.read("baseline", "A1", &[80.0, 80.0, 80.0, 80.0]);
    bench.read("baseline", "A2", &[80.0]);
    bench.read("baseline", "B1", &[78.0, 82.0]);
    // Without a gauge: no scatter in A1; A2 has the pooled spread sqrt((0 + 8) / (3 + 1)).
    let of = |bench: &Bench, section| {
        let found = bench.cell("baseline", section).numbers.level.unwrap().uncertainty.unwrap();
        (found.standard, found.from)
    };
    assert_eq!(of(&bench, "A1"), (0.0, ScatterFrom::Readings));
    assert_eq!(of(&bench, "A2"), (2.0_f64.sqrt(), ScatterFrom::WithinCells));
    // With two readings within 1.4 GU, the spread of one is 0.5: 0.5 / sqrt(4), 0.5, and B1 keeps its own 8^0.5 / 2^0.5.
    bench.study.gauges.push(Gauge {
        label: None,
        name: at("meter".into()),
        reads: vec![at(MeasureId::new(0))],
        spot: None,
        foot: None,
        agreement: Some(at(Agreement::TwoReadings(AnyQuantity { value: 1.4, unit: unit("GU").unwrap() }))),
        tile: None,
        certificates: Vec::new(),
        never_certified: None,
        cost: None,
        broken: false,
    });
    let found = [of(&bench, "A1"), of(&bench, "A2"), of(&bench, "B1")];
    assert!(close(found[0].0, 0.25, 1e-14) && close(found[1].0, 0.5, 1e-14) && close(found[2].0, 2.0, 1e-14));
    assert_eq!(found.map(|one| one.1), [ScatterFrom::Gauge, ScatterFrom::Gauge, ScatterFrom::Readings]);
}

#[test]
fn one_product_against_bare_is_a_t_interval() {
    let table = one_product().to_bare("month-6");
    // Squares: hop 1 + 1, bare 4 + 0 + 4; 10 on 1 + 2 degrees of freedom.
    let spread = table.basis.spread.unwrap();
    assert!(close(spread.sd, (10.0_f64 / 3.0).sqrt(), 1e-12) && close(spread.df, 3.0, 0.0));
    assert_eq!((table.basis.strength, table.basis.taken_from_uncoated), (Strength::Full, false));
    // -5 - -12 = 7; error sqrt(10/3 x (1/2 + 1/3)) = 5/3; t(0.975, 3) = 3.182446305284263 (printed tables: 3.182).
    let row = table.rows[0];
    let half = 3.182_446_305_284_263 * 5.0 / 3.0;
    let interval = row.interval.unwrap();
    assert!(close(row.difference, 7.0, 1e-12));
    assert!(close(interval.low, 7.0 - half, 1e-9) && close(interval.high, 7.0 + half, 1e-9));
    // With 3 degrees of freedom P(|T| > t) = 1 - 2/pi x (atan(x) + x / (1 + x^2)), x = t / sqrt(3), t = 7 / (5/3) = 4.2.
    let x = 4.2 / 3.0_f64.sqrt();
    let p = 1.0 - 2.0 / std::f64::consts::PI * (x.atan() + x / (1.0 + x * x));
    assert!(close(row.p.unwrap(), p, 1e-9));
    assert_eq!((row.n, row.side), (2, Side::Better));
    // 1.7 to 12.3: beyond 1.5 altogether, not beyond 5, not within 2, and within 13.
    let word = |alike: f64, seen: f64| {
        let mut bench = one_product();
        bench.limits(alike, seen);
        bench.to_bare("month-6").rows[0].word
    };
    assert_eq!(word(1.0, 1.5), Ok(Word::Seen));
    assert_eq!(word(2.0, 5.0), Ok(Word::Measurable));
    assert_eq!(word(13.0, 20.0), Ok(Word::Alike));
}

#[test]
fn lower_is_better_turns_the_side_and_not_the_difference() {
    let mut bench = one_product();
    bench.study.measures[0].direction = Direction::Lower;
    let row = bench.to_bare("month-6").rows[0];
    assert!(row.difference > 0.0);
    assert_eq!(row.side, Side::Worse);
    bench.study.measures[0].direction = Direction::Neither;
    assert_eq!(bench.to_bare("month-6").rows[0].side, Side::Neither);
}

#[test]
fn one_section_a_product_is_judged_by_the_scatter_of_the_bare_ones() {
    let sections =
        [("A1", "hop"), ("A2", "fig"), ("B1", "bare"), ("B2", "bare"), ("B3", "bare"), ("B4", "bare")];
    let mut bench = Bench::new(&sections, &[("baseline", "2024-01-01"), ("month-6", "2024-07-01")]);
    bench.means("baseline", &[80.0; 6]);
    // Changes of bare: -9, -11, -10, -10; squares 1 + 1 on 3 degrees of freedom.
    bench.means("month-6", &[77.0, 70.5, 71.0, 69.0, 70.0, 70.0]);
    let table = bench.to_bare("month-6");
    assert!(close(table.basis.spread.unwrap().sd, (2.0_f64 / 3.0).sqrt(), 1e-12));
    assert!(table.basis.taken_from_uncoated && table.basis.strength == Strength::Full);
    assert_eq!(table.basis.from, [Treatment::Bare]);
    // Product - bare: s sqrt(1 + 1/4) each side, times the critical value that the table names.
    let half = table.critical.unwrap() * (2.0_f64 / 3.0 * 1.25).sqrt();
    for (row, difference) in table.rows.iter().zip([7.0, 0.5]) {
        let interval = row.interval.unwrap();
        assert!(close(row.difference, difference, 1e-12));
        assert!(close(interval.high - row.difference, half, 1e-12));
    }
    // Product - product: s sqrt 2 and, with one other, Hsu's one-sided value is t(0.95, 3) = 2.353363434801825.
    let lead = bench.lead("month-6").rows[0];
    let half = 2.353_363_434_801_825 * (4.0_f64 / 3.0).sqrt();
    assert!(close(lead.lead, 6.5, 1e-12) && close(lead.interval.unwrap().high, 6.5 + half, 1e-9));
}

#[test]
fn fewer_bare_sections_take_the_words_and_then_the_intervals_away() {
    let of = |bare: &[f64]| {
        let mut sections = vec![("A1", "hop"), ("A2", "fig")];
        sections.extend([("B1", "bare"), ("B2", "bare"), ("B3", "bare")].iter().take(bare.len()));
        let mut bench = Bench::new(&sections, &[("baseline", "2024-01-01"), ("month-6", "2024-07-01")]);
        bench.means("baseline", &[80.0; 5]);
        bench.means("month-6", &[&[77.0, 70.0][..], bare].concat());
        (bench.to_bare("month-6"), bench.lead("month-6"))
    };
    let (two, lead) = of(&[69.0, 71.0, 70.0]);
    let row = two.rows[0];
    assert_eq!(two.basis.strength, Strength::FewDegrees);
    assert!(row.interval.is_some() && row.p.is_none() && row.word == Err(Strength::FewDegrees));
    assert!(lead.rows[0].interval.is_some() && lead.may_lead == Err(Strength::FewDegrees));
    let (none, lead) = of(&[69.0]);
    let row = none.rows[0];
    assert_eq!((row.difference, row.interval, row.p), (8.0, None, None));
    assert_eq!((row.word, none.critical), (Err(Strength::SectionsOnly), None));
    assert_eq!((lead.rows[0].interval, lead.may_lead), (None, Err(Strength::SectionsOnly)));
    let (equal, _) = of(&[70.0, 70.0, 70.0]);
    assert_eq!((equal.rows[0].interval, equal.rows[0].word), (None, Err(Strength::NoScatter)));
}

#[test]
fn further_looks_are_adjusted_together_and_the_deciding_round_stands_alone() {
    let mut bench = one_product();
    let thickness = bench.measure("film");
    for (section, change) in [("A1", 4.0), ("A2", 3.0), ("B1", 1.0), ("B2", 3.0), ("B3", 2.0)] {
        bench.read_as("film", "baseline", section, &[10.0]);
        bench.read_as("film", "month-6", section, &[10.0 + change]);
    }
    let all = bench.analyse();
    let p = |index: usize| all.measures[index].rounds[1].to_bare.as_ref().unwrap().rows[0];
    // Two p values: the smaller one is doubled, the larger one stays.
    let (gloss, film) = (p(0), p(1));
    assert!(gloss.p < film.p);
    assert_eq!(gloss.p_holm, gloss.p.map(|p| 2.0 * p));
    assert_eq!((film.p_holm, all.further_looks), (film.p, 2));
    bench.decide("month-6");
    let all = bench.analyse();
    let round = |index: usize| &all.measures[index].rounds[1];
    assert_eq!((round(0).role, round(1).role), (Role::Deciding, Role::FurtherLook));
    let film = round(thickness.index()).to_bare.as_ref().unwrap().rows[0];
    assert_eq!(round(0).to_bare.as_ref().unwrap().rows[0].p_holm, None);
    assert_eq!((film.p_holm, all.further_looks), (film.p, 1));
}

#[test]
fn a_left_out_reading_shows_both_results() {
    let mut bench = one_product();
    bench.decide("month-6");
    assert_eq!(bench.analyse().with_left_out, None);
    // A1 at month 6 reads 75.5, 76.5 and 70: its mean is 76 without the last and 74 with it.
    bench.read("month-6", "A1", &[70.0]);
    bench.leave_out("month-6", "A1", 70.0);
    let cell = bench.cell("month-6", "A1");
    assert_eq!((cell.n, cell.left_out, cell.missing), (2, 1, 1));
    assert_eq!(cell.numbers.change.unwrap().value, -4.0);
    assert_eq!(cell.with_left_out.unwrap().change.unwrap().value, -6.0);
    assert_eq!(bench.cell("month-6", "A2").with_left_out, None);
    let restored = bench.analyse().with_left_out.unwrap();
    // Without it the difference is (-4 - 6) / 2 + 12 = 7, with it (-6 - 6) / 2 + 12 = 6.
    assert!(close(bench.to_bare("month-6").rows[0].difference, 7.0, 1e-12));
    assert!(close(restored.to_bare.unwrap().rows[0].difference, 6.0, 1e-12));
    assert_eq!(restored.left_out, 1);
}

#[test]
fn the_band_of_bare_sections() {
    let gloss = one_product().gloss();
    let band = gloss.rounds[1].bare_change.unwrap();
    // Mean -12 with t(0.975, 3) x sqrt(10/3) / sqrt(3); from -14 to -10.
    let half = 3.182_446_305_284_263 * (10.0_f64 / 9.0).sqrt();
    assert_eq!((band.n, band.mean, band.min, band.max), (3, -12.0, -14.0, -10.0));
    assert!(close(band.interval.unwrap().low, -12.0 - half, 1e-9));
    assert_eq!(band.sd, Some(2.0));
}
