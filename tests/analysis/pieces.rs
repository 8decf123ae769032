//! Specimens cut from pieces: the piece as the unit, and products compared within pieces; worked by hand in the comments.

use super::bench::{Bench, at};
use tapeline::analysis::{ControlTable, DrawnFrom, NoExchange, NotAdjusted, Piece};
use tapeline::study::{Grouping, Unit};

const ROUNDS: [(&str, &str); 2] = [("baseline", "2024-01-01"), ("month-1", "2024-02-01")];

/// A bench whose sections S1, S2 and on carry these, each with its plank, and fell so far from 80 GU.
pub(super) fn bench(sections: &[(&str, &str, Option<f64>)]) -> Bench {
    let codes: Vec<String> = (1..=sections.len()).map(|number| format!("S{number}")).collect();
    let carried: Vec<(&str, &str)> =
        codes.iter().zip(sections).map(|(code, (carries, ..))| (code.as_str(), *carries)).collect();
    let mut bench = Bench::new(&carried, &ROUNDS);
    let cut = codes.iter().zip(sections);
    let members =
        cut.map(|(code, (_, piece, _))| (bench.section_id(code), at((*piece).to_owned()))).collect();
    bench.study.groups = vec![Grouping { name: at("plank".into()), members, broken: false }];
    for (code, (.., change)) in codes.iter().zip(sections) {
        bench.read("baseline", code, &[79.5, 80.5]);
        if let Some(change) = change {
            bench.read("month-1", code, &[79.5 + change, 80.5 + change]);
        }
    }
    bench.decide("month-1");
    bench
}

fn near(found: f64, expected: f64) {
    assert!((found - expected).abs() < 1e-9, "{found} is not {expected}");
}

fn spread(table: &ControlTable) -> (f64, f64) {
    table.basis.spread.map(|spread| (spread.sd, spread.df)).unwrap()
}

/// Each plank carries one product, on two boards.
const WHOLE: [(&str, &str, Option<f64>); 12] = [
    ("bay", "p1", Some(-1.0)),
    ("bay", "p1", Some(-3.0)),
    ("bay", "p2", Some(-3.0)),
    ("bay", "P2", Some(-5.0)),
    ("bay", "p3", Some(-5.0)),
    ("bay", "p3", Some(-7.0)),
    ("bare", "p4", Some(-8.0)),
    ("bare", "p4", Some(-10.0)),
    ("bare", "p5", Some(-10.0)),
    ("bare", "p5", Some(-12.0)),
    ("bare", "p6", Some(-12.0)),
    ("bare", "p6", Some(-14.0)),
];

#[test]
fn where_every_plank_carries_one_product_the_plank_is_the_unit() {
    let bench = bench(&WHOLE);
    let table = bench.to_bare("month-1");
    // Planks with bay fell by 2, 4 and 6, bare ones by 9, 11 and 13: each has a spread of 2, on 2 degrees of freedom.
    let (sd, df) = spread(&table);
    near(sd, 2.0);
    near(df, 4.0);
    assert!(!table.basis.within_pieces());
    let row = &table.rows[0];
    assert_eq!((row.n, table.control.n), (3, 3));
    near(row.change, -4.0);
    near(table.control.mean, -11.0);
    near(row.difference, 7.0);
    // 2.776445 is Student's t at 0.975 on 4 degrees of freedom, and the standard error is 2 sqrt(2 / 3).
    let half = 2.776_445_105 * 2.0 * (2.0_f64 / 3.0).sqrt();
    let interval = row.interval.unwrap();
    assert!((interval.low - (7.0 - half)).abs() < 1e-4 && (interval.high - (7.0 + half)).abs() < 1e-4);
    // Counted board by board there would be ten degrees of freedom, and an interval that is too narrow.
    let analysis = bench.analyse();
    assert!(analysis.measures[0].sections.iter().all(|one| matches!(one.piece, Some(Piece::Unit(_)))));
    assert_eq!(analysis.exchange, Some(Err(NoExchange::Pieces)));
    assert_eq!(
        analysis.measures[0].groups[0].at[1].level.map(|level| (level.n, level.mean)),
        Some((3, 76.0))
    );
}

#[test]
fn a_plank_that_lacks_a_board_is_averaged_over_the_others() {
    let mut rows = WHOLE;
    rows[1].2 = None;
    rows[6].2 = None;
    rows[7].2 = None;
    let table = bench(&rows).to_bare("month-1");
    // Bay: 1, 4 and 6, mean 11/3; squares 7.1111 + 0.1111 + 5.4444. Bare: 11 and 13, squares 2.
    let (sd, df) = spread(&table);
    near(df, 3.0);
    near(sd, ((38.0 / 3.0 + 2.0) / 3.0_f64).sqrt());
    assert_eq!((table.rows[0].n, table.control.n), (3, 2));
    near(table.rows[0].change, -11.0 / 3.0);
}

/// Each plank carries every product once. Planks add 0, -4 and -8; products have -2, -5 and bare -9; what is left are
/// 1 -1 0, -1 0 1 and 0 1 -1.
const EVEN: [(&str, &str, Option<f64>); 9] = [
    ("bay", "p1", Some(-1.0)),
    ("bay", "p2", Some(-7.0)),
    ("bay", "p3", Some(-10.0)),
    ("clove", "p1", Some(-6.0)),
    ("clove", "p2", Some(-9.0)),
    ("clove", "p3", Some(-12.0)),
    ("bare", "p1", Some(-9.0)),
    ("bare", "p2", Some(-12.0)),
    ("bare", "p3", Some(-18.0)),
];

#[test]
fn where_every_plank_carries_everything_products_are_compared_within_planks() {
    let mut bench = bench(&EVEN);
    let table = bench.to_bare("month-1");
    // Six squares of 1 are left, on 9 - 3 - 3 + 1 degrees of freedom.
    let (sd, df) = spread(&table);
    near(sd, 1.5_f64.sqrt());
    near(df, 4.0);
    assert!(table.basis.within_pieces() && !table.basis.taken_from_uncoated);
    let found: Vec<(usize, f64)> = table.rows.iter().map(|row| (row.n, row.difference)).collect();
    assert_eq!(found.iter().map(|row| row.0).collect::<Vec<_>>(), [3, 3]);
    near(found[0].1, 7.0);
    near(found[1].1, 4.0);
    // The standard error is sqrt(1.5 x 2 / 3) = 1, so that half of the interval is the critical value: between Student's
    // t for one comparison and for two of them after Bonferroni, on 4 degrees of freedom.
    for row in &table.rows {
        let interval = row.interval.unwrap();
        let half = f64::midpoint(interval.high, -interval.low);
        assert!((2.776..3.496).contains(&half), "{half}");
    }
    assert_eq!(bench.lead("month-1").basis.spread, table.basis.spread);
    // By itself a product keeps what planks add: 4.58 GU is the spread of -1, -7 and -10.
    let gloss = bench.gloss();
    let bare = gloss.rounds[1].bare_change.unwrap();
    near(bare.mean, -13.0);
    assert!(bare.interval.unwrap().high - bare.mean > 5.0);
    bench.study.measures[0].adjust_for_baseline = true;
    assert_eq!(bench.analyse().adjusted, Some(Err(NotAdjusted::Pieces)));
}

/// By `numpy` (`lstsq` and `pinv` of treatments and planks) and `scipy` 1.17.1 (`studentized_range` of three): a residual spread of
/// sqrt(2) on 8 - 3 - 3 + 1 degrees of freedom, and means over all planks alike of -6, -9 and -13.
#[test]
fn where_a_board_of_an_even_layout_is_missing_products_are_compared_by_least_squares() {
    let mut rows = EVEN;
    rows[4].2 = None;
    let bench = bench(&rows);
    let table = bench.to_bare("month-1");
    assert!(table.basis.within_pieces() && table.basis.linked());
    let (sd, df) = spread(&table);
    near(sd, 2.0_f64.sqrt());
    near(df, 3.0);
    near(table.control.mean, -13.0);
    let expected = [
        (7.0, 2.174_833_068_148_457, 11.825_166_931_851_546, 0.018_310_235_765_609_64),
        (4.0, -1.658_009_755_233_844, 9.658_009_755_233_845, 0.116_780_582_035_426_96),
    ];
    for (row, (difference, low, high, p)) in table.rows.iter().zip(expected) {
        let interval = row.interval.unwrap();
        near(row.difference, difference);
        assert!((interval.low - low).abs() < 1e-6 && (interval.high - high).abs() < 1e-6, "{row:?}");
        assert!((row.p.unwrap() - p).abs() < 1e-7, "{row:?}");
    }
    assert_eq!(bench.analyse().chances.unwrap().unwrap().from, DrawnFrom::LinkedPieces);
}

/// Planks of which none carries everything; the figures of the same solver, those between products by the range of two.
#[test]
fn where_planks_carry_products_unevenly_these_are_compared_within_planks() {
    let rows = [
        ("bay", "p1", Some(-1.0)),
        ("bay", "p1", Some(-1.6)),
        ("bare", "p1", Some(-6.0)),
        ("fig", "p2", Some(-3.1)),
        ("bare", "p2", Some(-9.2)),
        ("bare", "p2", Some(-8.6)),
        ("bay", "p3", Some(-4.0)),
        ("fig", "p3", Some(-4.9)),
        ("bay", "p3", Some(-3.4)),
        ("fig", "p4", Some(-2.2)),
        ("bare", "p4", Some(-8.1)),
        ("fig", "p4", Some(-2.9)),
    ];
    let mut bench = bench(&rows);
    assert!(matches!(bench.study.unit(tapeline::study::MeasureId::new(0)), Unit::Linked(_)));
    let table = bench.to_bare("month-1");
    let (sd, df) = spread(&table);
    near(sd, 0.586_988_548_061_676_9);
    near(df, 6.0);
    let bay = table.rows[0];
    let interval = bay.interval.unwrap();
    near(bay.difference, 5.57);
    near(bay.change, -2.616_666_666_666_665);
    assert!((interval.low - 3.861_381_515_579_165).abs() < 1e-6, "{bay:?}");
    assert!((interval.high - 7.278_618_484_420_832).abs() < 1e-6, "{bay:?}");
    assert!((bay.p.unwrap() - 0.000_142_521_068_376_089_13).abs() < 1e-8, "{bay:?}");
    let pairs = bench.analyse().between.unwrap().unwrap();
    let [pair] = pairs.rows.as_slice() else { panic!("{pairs:?}") };
    let interval = pair.interval.unwrap();
    assert!(
        (interval.low + 1.032_602_581_832_122).abs() < 1e-6
            && (interval.high - 1.692_602_581_832_118).abs() < 1e-6
    );
    assert!((pair.p.unwrap() - 0.575_085_741_945_517_4).abs() < 1e-7);
    // Two means drawn together come first as often as the t statistic of their difference, of which this p is both tails.
    let chances = bench.analyse().chances.unwrap().unwrap();
    assert_eq!((chances.from, chances.though_alike), (DrawnFrom::LinkedPieces, None));
    let first = 1.0 - pair.p.unwrap() / 2.0;
    assert!(
        (chances.rows[0].first - first).abs() < 4.0 * (first * (1.0 - first) / 20_000.0).sqrt(),
        "{chances:?}"
    );
    // Without zero in no interval of the pairs, both may lead, though the plain means lie 0.8 GU apart.
    assert_eq!(bench.lead("month-1").may_lead.unwrap().len(), 2);
    // What one plank adds to all its boards changes nothing.
    for row in bench
        .rows
        .iter_mut()
        .filter(|row| row.contains("month-1") && [",S7,", ",S8,", ",S9,"].iter().any(|s| row.contains(s)))
    {
        let (head, tail) = row.split_once(",gloss,").unwrap();
        let (value, unit) = tail.split_once(',').unwrap();
        *row = format!("{head},gloss,{},{unit}", value.parse::<f64>().unwrap() - 20.0);
    }
    let moved = bench.to_bare("month-1");
    near(spread(&moved).0, sd);
    near(moved.rows[0].difference, 5.57);
    near(moved.rows[1].difference, 5.24);
}

#[test]
fn other_layouts_count_sections() {
    let unit_of = |rows: &[(&str, &str, Option<f64>)]| {
        let bench = bench(rows);
        match bench.study.unit(tapeline::study::MeasureId::new(0)) {
            Unit::Section => "section",
            Unit::Piece(_) => "piece",
            Unit::Within(_) => "within",
            Unit::Linked(_) => "linked",
        }
    };
    assert_eq!((unit_of(&WHOLE), unit_of(&EVEN)), ("piece", "within"));
    // One board to a plank; one plank; planks that are neither whole nor even.
    let single = [("bay", "p1", None), ("bay", "p2", None), ("bare", "p3", None), ("bare", "p4", None)];
    let one = [("bay", "p1", None), ("bay", "p1", None), ("bare", "p1", None), ("bare", "p1", None)];
    let mixed = [("bay", "p1", None), ("bay", "p1", None), ("bare", "p1", None), ("bare", "p2", None)];
    assert_eq!([unit_of(&single), unit_of(&one), unit_of(&mixed)], ["section"; 3]);
    let carried = ["bay", "bare", "bare"];
    let even: Vec<_> =
        ["p1", "p2"].into_iter().flat_map(|piece| carried.map(|one| (one, piece, None))).collect();
    assert_eq!(unit_of(&even), "within");
}

/// The same bench with its planks for sites.
fn at_sites(mut bench: Bench) -> Bench {
    bench.study.by_site = bench.study.groups.pop();
    bench
}

#[test]
fn sites_are_compared_within_as_planks_are_and_are_never_the_unit() {
    let (planks, sites) = (bench(&EVEN), at_sites(bench(&EVEN)));
    assert!(matches!(sites.study.unit_on_panel(), Unit::Within(_)));
    assert_eq!(sites.to_bare("month-1"), planks.to_bare("month-1"));
    // One product stands at the milder site alone, the other at the harsher: both fell by what their site takes, 2 or 8 GU,
    // and 4 more than bare there.
    let uneven = at_sites(bench(&[
        ("bay", "roof", Some(-5.9)),
        ("bay", "roof", Some(-6.1)),
        ("bare", "roof", Some(-1.9)),
        ("bare", "roof", Some(-2.1)),
        ("fig", "lake", Some(-11.9)),
        ("fig", "lake", Some(-12.1)),
        ("bare", "lake", Some(-7.9)),
        ("bare", "lake", Some(-8.1)),
    ]));
    assert!(matches!(uneven.study.unit_on_panel(), Unit::Linked(_)));
    assert!(!uneven.study.sites_are_in_the_differences());
    let table = uneven.to_bare("month-1");
    table.rows.iter().for_each(|row| near(row.difference, -4.0));
    // Without bare sections at both, nothing tells site and product apart.
    let whole = at_sites(bench(&WHOLE));
    assert_eq!(whole.study.unit_on_panel(), Unit::Section);
    assert!(whole.study.sites_are_in_the_differences());
}
