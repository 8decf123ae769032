//! The panel itself: split of scatter, trend, neighbours, and what cannot be said.

use crate::bench::Bench;
use crate::bench::at;
use tapeline::analysis::{Analysis, NoGaugeStudy, PanelMeasure, Unsaid, Way};
use tapeline::study::{
    Agreement, Certificate, Gauge, MeasureId, Outline, Point, SectionId, SiteId, Step, Tile, Treatment, Verb,
};
use tapeline::text::Span;
use tapeline::units::{AnyQuantity, unit};

const SECTIONS: [(&str, &str); 8] = [
    ("A1", "bay"),
    ("A2", "bare"),
    ("A3", "fig"),
    ("A4", "bare"),
    ("B1", "fig"),
    ("B2", "bay"),
    ("B3", "bare"),
    ("B4", "bay"),
];

/// Two rows of four sections of 100 x 80 mm, 10 mm apart.
fn laid_out(rounds: &[(&str, &str)]) -> Bench {
    let mut bench = Bench::new(&SECTIONS, rounds);
    for (at, section) in bench.study.sections.iter_mut().enumerate() {
        let corner = Point { x: 110.0 * (at % 4) as f64, y: 90.0 * (at / 4) as f64 };
        section.outline = Some(Outline::Rectangle { at: corner, width: 100.0, height: 80.0 });
    }
    bench
}

fn gloss(analysis: &Analysis) -> &PanelMeasure {
    &analysis.panel.measures[0]
}

const BASELINE: [(&str, &str); 1] = [("baseline", "2024-01-01")];

#[test]
fn scatter_is_split_between_sections_and_readings() {
    let mut bench = laid_out(&BASELINE);
    bench.means("baseline", &[80.0, 82.0, 84.0, 86.0, 80.0, 82.0, 84.0, 86.0]);
    let split = gloss(&bench.analyse()).split.unwrap();
    // Readings 1 GU apart: mean square 0.5. Means: sum of squares 40 on 7, twice that for two readings each.
    assert_eq!((split.sections, split.readings, split.even), (8, 16, true));
    assert!((split.within.powi(2) - 0.5).abs() < 1e-12);
    assert!((split.between.powi(2) - (80.0 / 7.0 - 0.5) / 2.0).abs() < 1e-12);
}

/// Sections begin 20 GU apart, which cancels in their changes: what readings add is told from these.
#[test]
fn what_more_readings_would_help_is_told_from_changes() {
    let mut bench = laid_out(&[("baseline", "2024-01-01"), ("month 6", "2024-07-01")]);
    let levels = [80.0, 60.0, 75.0, 70.0, 65.0, 72.0, 79.0, 61.0];
    bench.means("baseline", &levels);
    assert_eq!(gloss(&bench.analyse()).changes, None);
    // Bay -5, -6, -7, bare -10, -12, -11, fig -8, -8: squares 2, 2 and 0 on five degrees of freedom.
    let changes = [-5.0, -10.0, -8.0, -12.0, -8.0, -6.0, -11.0, -7.0];
    let mut after = levels;
    after.iter_mut().zip(changes).for_each(|(level, change)| *level += change);
    bench.means("month 6", &after);
    let found = gloss(&bench.analyse()).changes.unwrap();
    assert!((found.sd.powi(2) - 0.8).abs() < 1e-12, "{found:?}");
    // Readings 1 GU apart have a variance of 0.5; two of them at either round.
    assert!((found.of_readings.powi(2) - 0.5).abs() < 1e-12, "{found:?}");
    assert!((found.share_of_readings() - 0.625).abs() < 1e-12);
    assert!((found.gain_of_readings() - (1.0 - 0.6875_f64.sqrt())).abs() < 1e-12);
}

#[test]
fn uneven_readings_are_split_by_likelihood() {
    let mut bench = laid_out(&BASELINE);
    bench.means("baseline", &[80.0, 82.0, 84.0, 86.0, 80.0, 82.0, 84.0]);
    bench.read("baseline", "B4", &[85.5, 86.0, 86.5]);
    let split = gloss(&bench.analyse()).split.unwrap();
    assert_eq!((split.sections, split.readings, split.even), (8, 17, false));
    // About what the even data give.
    assert!((split.between - 2.34).abs() < 0.1 && (split.within - 0.68).abs() < 0.05, "{split:?}");
}

#[test]
fn a_slope_from_left_to_right_is_found_and_none_from_top_to_bottom() {
    let mut bench = laid_out(&BASELINE);
    bench.means("baseline", &[80.0, 82.1, 83.9, 86.0, 80.1, 81.9, 84.1, 85.9]);
    let analysis = bench.analyse();
    let trend = gloss(&analysis).trend.unwrap();
    // Columns of 80.05, 82.0, 84.0 and 85.95 GU rise by 1.97 GU each 110 mm; the sections span 430 mm.
    assert!((trend.across.rise - 1.97 / 110.0 * 430.0).abs() < 1e-9, "{trend:?}");
    assert!(
        trend.across.interval.low > 0.0 && trend.down.interval.low < 0.0 && trend.down.interval.high > 0.0
    );
    assert!(!trend.to_edges && trend.p.unwrap() < 0.001);
    let likeness = gloss(&analysis).likeness.unwrap();
    assert!(likeness.index > likeness.expected && likeness.p < 0.05 && likeness.places == 8, "{likeness:?}");
    assert_eq!(gloss(&bench.analyse()).likeness, gloss(&analysis).likeness);
}

/// Off the mean of what they carry, worked out by hand: bay -1, -6 and -8 about -5, bare -2, -4 and -7 about -13/3, fig -3 and -5 about -4.
/// A product that did 100 GU better than another is in none of it.
#[test]
fn each_section_off_its_treatment_stands_beside_its_neighbours() {
    let mut bench = laid_out(&[("baseline", "2024-01-01"), ("month-1", "2024-02-01")]);
    bench.means("baseline", &[180.0; 8]);
    let changes = [-1.0, -2.0, -3.0, -4.0, -5.0, -6.0, -7.0, -8.0];
    for far in [0.0, 100.0] {
        let mut bench = laid_out(&[("baseline", "2024-01-01"), ("month-1", "2024-02-01")]);
        bench.means("baseline", &[180.0; 8]);
        let bay = |at: usize| if SECTIONS[at].1 == "bay" { far } else { 0.0 };
        let after: Vec<f64> = changes.iter().enumerate().map(|(at, by)| 180.0 + by + bay(at)).collect();
        bench.means("month-1", &after);
        let beside = bench.analyse().panel.beside;
        let third = 1.0 / 3.0;
        let off = [4.0, 7.0 * third, 1.0, third, -1.0, -1.0, -8.0 * third, -3.0];
        let above = [
            None,
            None,
            None,
            None,
            Some(-5.0),
            Some(-10.0 * third),
            Some(-11.0 * third),
            Some(-10.0 * third),
        ];
        // A1 beside A2; A2 between A1 and A3; and so on in either row.
        let sides = [
            4.0 - 7.0 * third,
            7.0 * third - 2.5,
            1.0 - 4.0 * third,
            third - 1.0,
            0.0,
            -1.0 + 11.0 / 6.0,
            -8.0 * third + 2.0,
            -3.0 + 8.0 * third,
        ];
        for (at, row) in beside.iter().enumerate() {
            let near = |found: Option<f64>, known: f64| (found.unwrap() - known).abs() < 1e-9;
            assert!(near(row.off, off[at]) && near(row.sides, sides[at]), "{row:?}");
            assert!(above[at].map_or(row.above.is_none(), |known| near(row.above, known)), "{row:?}");
        }
    }
    // Where sections treated alike do not scatter there is nothing to judge a plane by.
    bench.means("month-1", &[179.0; 8]);
    assert_eq!(bench.analyse().panel.moved, None);
}

/// Bare on two rows of four: changes of -11, -11, -12 and -16 at the corners of one half, the same at those of the other, where a product
/// lies that does 50 GU more: the hand-worked plane of `stats::map::plane`, turned. F of 6.5 on 2 and 4 degrees of freedom, p (1 + 2 F / 4)^-2.
#[test]
fn the_place_acts_on_the_change_whatever_a_section_carries() {
    let rounds = [("baseline", "2024-01-01"), ("month-1", "2024-02-01"), ("month-2", "2024-03-01")];
    let mut bench = laid_out(&rounds);
    let bay = bench.study.sections[0].treatment;
    for (at, section) in bench.study.sections.iter_mut().enumerate() {
        section.treatment = if at % 4 < 2 { Treatment::Bare } else { bay };
    }
    bench.means("baseline", &[180.0; 8]);
    bench.means("month-1", &[169.0, 169.0, 219.0, 219.0, 168.0, 164.0, 218.0, 214.0]);
    bench.means("month-2", &[169.0, 169.0, 219.0, 219.0, 168.0, 164.0, 218.0, 214.0]);
    bench.decide("month-2");
    let found = bench.analyse().panel.moved.unwrap();
    let p = (1.0 + 6.5 / 2.0_f64).powi(-2);
    let shown = found.shown.unwrap();
    assert!((shown.f - 6.5).abs() < 1e-9 && (shown.p - p).abs() < 1e-9, "{shown:?}");
    assert_eq!((shown.sections, shown.with.df, shown.p_holm), (8, 4.0, None));
    // -2 over 110 mm, of which the middles span 330; -3 over the 90 mm between the rows.
    assert!((shown.across.by + 6.0).abs() < 1e-9 && (shown.down.by + 3.0).abs() < 1e-9, "{shown:?}");
    // Bare lies 110 mm left of the middle of all, the product as far right of it: 2 GU either way.
    let by: Vec<f64> = shown.adds.iter().map(|(_, by)| *by).collect();
    assert!((by[0] + 2.0).abs() < 1e-9 && (by[1] - 2.0).abs() < 1e-9, "{shown:?}");
    // One other round: Holm multiplies by 1.
    let [other] = found.others.as_slice() else { panic!("{:?}", found.others) };
    assert!((other.p_holm.unwrap() - p).abs() < 1e-9);
}

/// Bay does 1 GU more than fig, under a slope of 3 GU a column that hides it: with the slope taken out bay alone may lead. Without a slope the
/// plane changes nothing.
#[test]
fn who_may_lead_is_told_with_the_plane_taken_out() {
    let rounds = [("baseline", "2024-01-01"), ("month-1", "2024-02-01")];
    let noise = [0.05, -0.05, 0.03, 0.02, -0.04, 0.01, -0.02, 0.04];
    let sets = |slope: f64| {
        let mut bench = laid_out(&rounds);
        bench.means("baseline", &[180.0; 8]);
        let level = |at: usize| {
            let own = match SECTIONS[at].1 {
                "bay" => 0.0,
                "fig" => -1.0,
                _ => -20.0,
            };
            170.0 + own + slope * (at % 4) as f64 + noise[at]
        };
        bench.means("month-1", &[0, 1, 2, 3, 4, 5, 6, 7].map(level));
        bench.decide("month-1");
        let analysis = bench.analyse();
        let lead = analysis.deciding().unwrap().1.lead.as_ref().unwrap().may_lead.clone().unwrap();
        let without = analysis.panel.moved.unwrap().shown.unwrap().may_lead.unwrap();
        assert_eq!((without.of, without.sections, without.spread.df), (2, 5, 3.0));
        assert!(without.spread.sd < 0.1, "{without:?}");
        (lead.len(), lead, without.products)
    };
    let (with, all, without) = sets(3.0);
    assert_eq!((with, without.len()), (2, 1));
    let (_, lead, same) = sets(0.0);
    assert_eq!((&lead, &without), (&same, &same));
    assert!(all.contains(&same[0]));
}

/// Columns 1 and 2 stand at one site, 3 and 4 at another.
fn at_two_sites(rounds: &[(&str, &str)]) -> Bench {
    let mut bench = laid_out(rounds);
    bench.study.sites = vec![at("coast".into()), at("hill".into())];
    for (place, section) in bench.study.sections.iter_mut().enumerate() {
        section.site = Some(SiteId::new(place % 4 / 2));
    }
    bench
}

/// Four corners 11, 11, 12, 16 at the coast and the same 50 higher on the hill: 2 from left to right and 3 from top to bottom at both,
/// worked out by hand beside the plane itself. As one panel it would rise by some 50 GU from left to right.
#[test]
fn what_sites_differ_by_is_no_slope_and_no_likeness_of_neighbours() {
    let mut bench = at_two_sites(&BASELINE);
    bench.means("baseline", &[11.0, 11.0, 61.0, 61.0, 12.0, 16.0, 62.0, 66.0]);
    let analysis = bench.analyse();
    let trend = gloss(&analysis).trend.unwrap();
    // Middles lie 110 and 90 mm apart; two sections span 210 and 170 mm.
    assert!((trend.across.rise - 2.0 / 110.0 * 210.0).abs() < 1e-9, "{trend:?}");
    assert!((trend.down.rise - 3.0 / 90.0 * 170.0).abs() < 1e-9, "{trend:?}");
    // F of 26 / 2 on 8 / 4: p = (1 + 2 x 6.5 / 4)^-2.
    assert!((trend.p.unwrap() - 4.25_f64.powi(-2)).abs() < 1e-9, "{trend:?}");
    assert_eq!((trend.sites, trend.sections, trend.steepest), (2, 8, Some(Way { right: 1, down: 1 })));
    // Off 12.5: -1.5, -1.5, -0.5, 3.5, of squares 17. Neighbours' means are -1, 1, 1, -1: 1.5 - 1.5 - 0.5 - 3.5 of 17 at both sites.
    let likeness = gloss(&analysis).likeness.unwrap();
    assert!((likeness.index + 4.0 / 17.0).abs() < 1e-9, "{likeness:?}");
    assert!((likeness.expected + 1.0 / 3.0).abs() < 1e-9 && likeness.p > 0.1, "{likeness:?}");
}

#[test]
fn sections_of_two_sites_are_no_neighbours() {
    let mut bench = at_two_sites(&[("baseline", "2024-01-01"), ("month-1", "2024-02-01")]);
    bench.means("baseline", &[80.0; 8]);
    bench.means("month-1", &[79.0, 78.0, 27.0, 26.0, 75.0, 74.0, 23.0, 22.0]);
    let beside = bench.analyse().panel.beside;
    let of = |at: usize| (beside[at].value, beside[at].above.is_some(), beside[at].sides.is_some());
    // A2 lies beside A1 at the coast; A3 next to it in the drawing stands on the hill, with what no other carries there.
    assert_eq!(of(1), (-2.0, false, true));
    assert!(beside.iter().all(|one| one.above.is_none_or(f64::is_finite)), "{beside:?}");
    let sides = |at: usize| beside[at].sides.unwrap();
    assert!((sides(0) + sides(1)).abs() < 1e-9, "{beside:?}");
}

/// A plane may be told apart as a whole though neither of its ways is by itself. Columns and rows are at right angles, so that each slope
/// is its own sum of products over its squares; worked out by a script of that formula: p 1/32, rises 0.977 +- 1.055 and 0.756 +- 1.140.
#[test]
fn a_tilt_along_the_diagonal_is_told_by_the_whole_plane() {
    let mut bench = laid_out(&BASELINE);
    bench.means("baseline", &[79.4, 80.2, 79.8, 80.2, 79.8, 80.3, 80.3, 80.8]);
    let trend = gloss(&bench.analyse()).trend.unwrap();
    assert!((trend.p.unwrap() - 0.03125).abs() < 1e-9, "{trend:?}");
    assert_eq!(trend.steepest, Some(Way { right: 1, down: 1 }));
    for (fall, rise, half) in [
        (trend.across, 0.977_272_727_272_727, 1.055_492_923_253_247),
        (trend.down, 0.755_555_555_555_556, 1.140_436_134_540_77),
    ] {
        assert!(
            (fall.rise - rise).abs() < 1e-9 && (fall.interval.high - rise - half).abs() < 1e-6,
            "{trend:?}"
        );
        assert!(fall.interval.low < 0.0 && fall.interval.high > 0.0, "{trend:?}");
    }
}

#[test]
fn what_cannot_be_said_has_its_reason() {
    let mut bench = Bench::new(&SECTIONS, &BASELINE);
    assert_eq!(gloss(&bench.analyse()).split, Err(Unsaid::NotRead));
    bench.read("baseline", "A1", &[80.0, 81.0]);
    bench.read("baseline", "A2", &[80.0, 81.0]);
    let analysis = bench.analyse();
    assert_eq!(gloss(&analysis).split, Err(Unsaid::FewSections(2, 3)));
    assert_eq!(gloss(&analysis).trend, Err(Unsaid::NoPlaces));
    assert_eq!(gloss(&analysis).likeness, Err(Unsaid::NoNeighbours));

    let mut bench = laid_out(&BASELINE);
    for (code, _) in SECTIONS {
        bench.read("baseline", code, &[80.0]);
    }
    let analysis = bench.analyse();
    assert_eq!(gloss(&analysis).split, Err(Unsaid::ReadOnce));
    assert_eq!(gloss(&analysis).likeness, Err(Unsaid::SectionsEqual));
    assert_eq!(gloss(&analysis).trend.unwrap().p, None);

    let mut bench = laid_out(&BASELINE);
    for (code, _) in SECTIONS {
        bench.read("baseline", code, &[80.0, 80.0]);
    }
    assert_eq!(gloss(&bench.analyse()).split, Err(Unsaid::NoScatter));

    let mut bench = laid_out(&[("month-1", "2024-02-01")]);
    bench.means("month-1", &[80.0; 8]);
    assert_eq!(gloss(&bench.analyse()).split, Err(Unsaid::NoBaseline));
}

/// A gauge of the first measure whose readings scatter by 0.2 GU, with a tile of 90 GU.
pub(crate) fn gauge() -> Gauge {
    let gu = |value: f64| AnyQuantity { value, unit: unit("GU").unwrap() };
    Gauge {
        name: at("glossy".into()),
        label: None,
        reads: vec![at(MeasureId::new(0))],
        spot: None,
        foot: None,
        agreement: Some(at(Agreement::Spread(gu(0.2)))),
        tile: Some(Tile::Reads(gu(90.0))),
        certificates: Vec::new(),
        never_certified: None,
        cost: None,
        broken: false,
    }
}

fn read_step() -> Step {
    Step {
        verb: Verb::Read,
        with: None,
        measure: Some(at(MeasureId::new(0))),
        mix: None,
        grit: None,
        dwell: None,
        rinse: false,
        tool: None,
        times: 1,
        fresh_cloth: false,
        wait: None,
        places: Some(4),
        line_width: None,
        only: None,
        span: Span::default(),
        prose: String::new(),
        broken: false,
    }
}

#[test]
fn a_gauge_drifts_against_its_first_tile_readings() {
    let mut bench = laid_out(&[("baseline", "2024-01-01"), ("month-1", "2024-02-01")]);
    bench.study.gauges.push(gauge());
    bench.read("month-1", "tile", &[91.0, 91.2]);
    bench.read("baseline", "tile", &[90.1, 90.3, 90.2]);
    let drifts = bench.analyse().panel.drifts;
    let at = &drifts[0].at;
    assert_eq!((drifts.len(), drifts[0].declared, at.len()), (1, Some(90.0), 2));
    assert!((at[0].off.unwrap() - 0.2).abs() < 1e-9 && at[0].since.is_none());
    let since = at[1].since.unwrap();
    // The readings scatter less than the gauge states, so that its 0.2 GU counts.
    assert!((since.value - 0.9).abs() < 1e-9);
    assert!((since.standard.unwrap() - 0.2 * (0.5 + 1.0 / 3.0_f64).sqrt()).abs() < 1e-9);
}

#[test]
fn what_the_gauge_is_off_by_counts_once_for_levels_and_shares() {
    let mut bench = laid_out(&[("baseline", "2024-01-01"), ("month-1", "2024-02-01")]);
    let within = Some(AnyQuantity { value: 0.6, unit: unit("GU").unwrap() });
    let day = |text: &str| text.parse().unwrap();
    let certificate =
        Certificate { from: day("2023-12-01"), until: day("2024-12-01"), within, span: Span::default() };
    bench.study.gauges.push(Gauge { certificates: vec![certificate], ..gauge() });
    bench.means("baseline", &[80.0; 8]);
    bench.means("month-1", &[76.0; 8]);
    bench.read("baseline", "tile", &[90.1, 90.3]);
    bench.read("month-1", "tile", &[91.0, 91.2]);
    let found = bench.analyse().panel.biases;
    let [one] = found.as_slice() else { panic!("{found:?}") };
    let [at] = one.at.as_slice() else { panic!("{one:?}") };
    // A drift of 0.9 GU as a bound, 0.9^2 / 3 = 0.27, and half of the 0.6 GU, 0.3^2 = 0.09: the root of 0.36.
    assert!((at.drift.unwrap() - 0.9).abs() < 1e-9 && (one.certificate.unwrap() - 0.3).abs() < 1e-12);
    assert!((at.standard - 0.6).abs() < 1e-9);
    // In a share the drift is whole, 0.519 615 of 80 GU, and an offset as far as it does not cancel: of 0.3 GU the 5 of 100 that
    // the share lacks. The offset by itself, worked out on the numbers: 76.3 of 80.3 less 76 of 80.
    let offset = 100.0 * (76.3 / 80.3 - 76.0 / 80.0);
    assert!((at.less(0.95, Some(0.3)) / 0.8 - (0.519_615_f64 / 0.8).hypot(offset)).abs() < 1e-4);
    // Equal sections have no interval into which it could go; scattered ones do. Shares of 95, 96 and 95 %, and so on, have a
    // pooled spread of 1.197 219 points on 5 degrees of freedom, so that 3 sections have 2.570 582 x 1.197 219 / 1.732 051 =
    // 1.776 824 (`scipy` 1.17.1). The share of bay is 95.33 %, so that of 0.3 GU 0.014 are left: with two times the root of 0.519 615
    // and 0.014 as squares, of 80 GU, which is 2 x 0.649 754 points, 2.201 322.
    let share = |bench: &Bench| {
        let group = bench.gloss().group(Treatment::Product(bench.product_id("bay"))).unwrap().clone();
        (group.at[1].retention.unwrap(), group.at[1].retention_with_gauge)
    };
    assert_eq!(share(&bench).1, None);
    bench.rows.retain(|row| !row.contains(",month-1,") || row.contains(",tile,"));
    bench.means("month-1", &[76.0, 75.2, 77.2, 76.4, 75.6, 76.8, 77.6, 76.0]);
    let (held, folded) = share(&bench);
    let (own, folded) = (held.interval.unwrap(), folded.unwrap());
    assert!((held.mean - 286.0 / 3.0).abs() < 1e-9 && (own.high - held.mean - 1.776_824).abs() < 1e-6);
    assert!((folded.high - held.mean - 2.201_322).abs() < 5e-6, "{folded:?}");
    assert!((held.mean - folded.low - 2.201_322).abs() < 5e-6);
    // A newer certificate before the second round brings an offset of its own: 0.3 GU by itself and 0.3 x 0.953 333 from before.
    let newer = Certificate { from: day("2024-01-15"), ..bench.study.gauges[0].certificates[0] };
    bench.study.gauges[0].certificates.push(newer);
    let folded = share(&bench).1.unwrap();
    let bias = 2.0 / 0.8 * (0.27_f64 + 0.09 * (1.0 + 0.953_333_333_f64.powi(2))).sqrt();
    assert!((folded.high - held.mean - 1.776_824_f64.hypot(bias)).abs() < 1e-4, "{folded:?}");
    bench.study.gauges[0].certificates.pop();
    // With neither of both nothing is said.
    bench.study.gauges[0].certificates.clear();
    assert!((bench.analyse().panel.biases[0].at[0].standard - 0.27_f64.sqrt()).abs() < 1e-9);
    let mut bare = laid_out(&[("baseline", "2024-01-01"), ("month-1", "2024-02-01")]);
    bare.means("baseline", &[80.0; 8]);
    bare.means("month-1", &[76.0; 8]);
    assert!(bare.analyse().panel.biases.is_empty());
}

/// Glass of index 1.54 has 92.667 GU at 20 degrees: its share of 0.045479 over that of black glass, 0.049078 (ISO 2813:2014).
#[test]
fn a_tile_known_by_its_index_is_held_against_its_gloss_at_the_angle_of_the_measure() {
    let mut bench = laid_out(&[("baseline", "2024-01-01")]);
    bench.study.gauges.push(Gauge { tile: Some(Tile::Index(1.54)), ..gauge() });
    bench.study.measures[0].name = at("gloss-20".into());
    bench.read_as("gloss-20", "baseline", "tile", &[93.0, 93.2]);
    let drift = &bench.analyse().panel.drifts[0];
    assert!((drift.declared.unwrap() - 92.667).abs() < 0.001, "{:?}", drift.declared);
    assert!((drift.at[0].off.unwrap() - (93.1 - 92.667)).abs() < 0.001);
    // Of a measure without an angle nothing follows, though its unit is the same.
    let mut bench = laid_out(&[("baseline", "2024-01-01")]);
    bench.study.gauges.push(Gauge { tile: Some(Tile::Index(1.54)), ..gauge() });
    bench.read("baseline", "tile", &[93.0, 93.2]);
    assert_eq!(bench.analyse().panel.drifts[0].declared, None);
}

#[test]
fn hands_are_compared_where_they_read_the_same_sections_as_often() {
    let mut bench = laid_out(&BASELINE);
    let mut rows = |section: &str, by: &str, values: &[f64]| {
        bench.rows.extend(
            values.iter().map(|value| format!("2024-01-01,baseline,{section},gloss,{value},GU,{by}")),
        );
    };
    for (section, one, other) in [("A1", [1.0, 3.0], [4.0, 4.0]), ("A2", [8.0, 8.0], [5.0, 7.0])] {
        rows(section, "Ada", &one);
        rows(section, "Ben", &other);
    }
    rows("A3", "Ada", &[5.0, 5.5, 6.0]);
    rows("A3", "Ben", &[5.0]);
    rows("A4", "Ada", &[7.0, 7.5]);
    let people = bench.analyse().panel.people.remove(0);
    let found = people.found.unwrap();
    assert_eq!((people.names, found.sections, found.each), (vec!["Ada".to_owned(), "Ben".to_owned()], 2, 2));
    // The table that stands worked out beside the two-way analysis itself.
    assert!(
        (found.repeatability - 1.0).abs() < 1e-12 && (found.between_people - 3.5_f64.sqrt()).abs() < 1e-12
    );
}

#[test]
fn hands_that_share_one_section_cannot_be_compared() {
    let mut bench = laid_out(&BASELINE);
    for by in ["Ada", "Ben"] {
        bench.rows.push(format!("2024-01-01,baseline,A1,gloss,80,GU,{by}"));
    }
    let people = bench.analyse().panel.people;
    assert_eq!(people[0].found, Err(NoGaugeStudy::FewSections(1)));
}

#[test]
fn what_preparation_took_off_is_told_place_by_place() {
    let mut bench = laid_out(&BASELINE);
    bench.study.prep = vec![read_step(), read_step()];
    bench.study.gauges.push(gauge());
    let mut rows = |step: &str, values: &[f64]| {
        bench.rows.extend(values.iter().map(|value| format!("2024-01-01,{step},panel,gloss,{value},GU")));
    };
    rows("prep 1", &[80.0, 82.0, 84.0, 90.0]);
    rows("prep 2", &[79.0, 80.0, 81.0]);
    let removed = bench.analyse().panel.removed.remove(0);
    assert_eq!((removed.places.len(), removed.unpaired, removed.mean, removed.lowest), (3, 1, 2.0, 79.0));
    // Differences 1, 2, 3: standard error 1 / sqrt 3, t of 4.302652730 on two degrees of freedom.
    let interval = removed.interval.unwrap();
    assert!((interval.high - 2.0 - 4.302_652_729_911_275 / 3.0_f64.sqrt()).abs() < 1e-9);
    assert!((removed.gauge.unwrap() - 0.2 * (2.0 / 3.0_f64).sqrt()).abs() < 1e-12);
    // Losses scatter by 1 GU, where a gauge of 0.2 GU gives 0.28: nothing is too even. The lowest is a place until a section lies lower.
    assert_eq!((removed.too_even, removed.lowest_on), (None, None));
    bench.means("baseline", &[80.0, 80.0, 78.5, 80.0, 80.0, 80.0, 80.0, 80.0]);
    let removed = bench.analyse().panel.removed.remove(0);
    assert_eq!((removed.lowest, removed.lowest_on), (78.5, Some(SectionId::new(2))));
    bench.rows.retain(|row| !row.contains("prep 2"));
    assert!(bench.analyse().panel.removed.is_empty());
}

/// Ten losses of 2.14 um that scatter by 0.25 um, read with a gauge whose readings scatter by 0.2 x 5 = 1 um: chi-square of
/// 9 x 0.0604 / 2 on 9 degrees of freedom, of which `scipy` 1.17.1 has so little or less with this p (`chi2.cdf`).
#[test]
fn losses_that_scatter_less_than_the_gauge_can_are_told() {
    let mut bench = laid_out(&BASELINE);
    bench.study.prep = vec![read_step(), read_step()];
    let gu = |value: f64| AnyQuantity { value, unit: unit("GU").unwrap() };
    bench.study.gauges.push(Gauge { agreement: Some(at(Agreement::Spread(gu(1.0)))), ..gauge() });
    let losses = [2.2, 1.7, 2.4, 1.9, 2.1, 2.1, 2.4, 2.3, 2.4, 1.9];
    for (step, less) in [("prep 1", 0.0), ("prep 2", 1.0)] {
        bench.rows.extend(losses.iter().enumerate().map(|(at, loss)| {
            format!("2024-01-01,{step},panel,gloss,{:.1},GU", 90.0 + at as f64 - less * loss)
        }));
    }
    let removed = bench.analyse().panel.removed.remove(0);
    let found = removed.too_even.unwrap();
    assert!((found.by_gauge - 2.0_f64.sqrt()).abs() < 1e-9 && (found.df - 9.0).abs() < 1e-12, "{found:?}");
    assert!((found.p / 2.156_928_848_275_261e-6 - 1.0).abs() < 1e-6, "{found:?}");
    assert!((removed.gauge.unwrap() - 0.2_f64.sqrt()).abs() < 1e-9);
}
