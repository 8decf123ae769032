//! What is taken as a share of the blank: its interval takes in that the blank scatters too.

use crate::close;
use std::fmt::Write;
use tapeline::analysis::{
    Against, Analysis, Answer, Compared, ControlTable, Interval, Role, Side, Strength, Word, analyse,
};
use tapeline::diag::has_errors;
use tapeline::pipeline::{self, Day};
use tapeline::readings::Readings;
use tapeline::stats::ratios::to_control;
use tapeline::stats::solved::Solved;
use tapeline::stats::{GroupMean, Spread};
use tapeline::study::{Study, Treatment};

/// A treatment with what its slips read under them when it was new and later.
type Slips = (&'static str, &'static [f64], &'static [f64]);

const UNDER: [Slips; 3] = [
    ("bay", &[1.62, 1.58, 1.66], &[0.40, 0.46, 0.43]),
    ("clove", &[1.60, 1.70, 1.64], &[1.02, 0.97, 1.10]),
    ("bare", &[1.62, 1.70, 1.68, 1.60], &[1.60, 1.72, 1.66, 1.58]),
];

/// Three slips of each product and four bare ones, read under a lamp of 2 mW/cm2.
fn study(rounds: &str) -> (Study, Analysis) {
    made(STOPPED, rounds, |_, now| now)
}

const STOPPED: &str = "read open, then under in mW/cm2\n    is the share stopped";

/// The same made in another way, with what each slip reads under it by its place in its row.
fn made(making: &str, rounds: &str, read_as: fn(usize, f64) -> f64) -> (Study, Analysis) {
    let (study, readings, as_of) = read(&UNDER, making, rounds, read_as);
    let analysis = analyse(&study, &readings, as_of);
    (study, analysis)
}

/// The study, its readings and the day on which they are looked at.
fn read(
    slips: &[Slips; 3],
    making: &str,
    rounds: &str,
    read_as: fn(usize, f64) -> f64,
) -> (Study, Readings, Option<jiff::civil::Date>) {
    let text = format!(
        r#"study "Blocked"
    begins 2026-03-02
    {rounds_decide}
surface door
    size 900 x 600 mm
measure haze in % on slips
    higher is better
    {making}
    against the blank
product bay
product clove
map sections 100 x 100 mm gap 20 mm from left 30 mm, top 30 mm
    | bay bare clove bare |
specimens slips
    {each} for each product and 4 for bare
apply
    on 2026-03-03
rounds
{rounds}readings "rows.csv"
"#,
        rounds_decide = "decide by haze at month 1",
        each = slips[0].1.len(),
    );
    let mut csv = String::from("date,round,section,measure,value\n");
    for &(name, then, now) in slips {
        for (n, (then, now)) in then.iter().zip(now).enumerate() {
            let now = &read_as(n, *now);
            // When fresh, a product lets half as much through as later; the blank is what it was.
            let fresh = if name == "bare" { *then } else { now / 2.0 };
            let read = [
                ("2026-03-02", "baseline", *then),
                ("2026-03-12", "fresh", fresh),
                ("2026-04-03", "month 1", *now),
                ("2026-05-03", "month 2", now * 1.05),
                ("2026-06-03", "month 3", now * 1.10),
            ];
            for (day, round, under) in read {
                if rounds.contains(round) {
                    let _ = writeln!(csv, "{day},{round},{name}-{},open,2", n + 1);
                    let _ = writeln!(csv, "{day},{round},{name}-{},under,{under}", n + 1);
                }
            }
        }
    }
    let files = [("rows.csv".to_owned(), csv.into_bytes())];
    let outcome = pipeline::check("blocked.study", &text, &files, Day::AsOf("2026-07-01".parse().unwrap()));
    assert!(!has_errors(&outcome.findings), "{:?}", outcome.findings);
    (outcome.study, outcome.readings, outcome.day.as_of())
}

/// Mean and interval of a product at the last round: of its level, or of its change.
fn value((study, analysis): &(Study, Analysis), name: &str, change: bool) -> (f64, Option<Interval>) {
    let product = study.products_with_ids().find(|(_, product)| product.name.value == name);
    let treatment = product.map_or(Treatment::Bare, |(id, _)| Treatment::Product(id));
    let at = analysis.measures[0].group(treatment).unwrap().at.last().unwrap().clone();
    let found = if change { at.change } else { at.level }.unwrap();
    (found.mean, found.interval)
}

fn assert_is(found: (f64, Option<Interval>), mean: f64, low: f64, high: f64) {
    let interval = found.1.unwrap();
    assert!(close(found.0, mean, 1e-9), "{found:?}");
    assert!(close(interval.low, low, 1e-8) && close(interval.high, high, 1e-8), "{found:?}");
}

/// 100 (1 - under / blank) with the ends at which Student's t of `under - ratio x blank` is that of 95 % on 7 degrees of
/// freedom, found by a root search with `scipy` 1.17.1 (`brentq`) on the numbers above. Fieller (1954), Journal of the Royal
/// Statistical Society B 16, 175-185. Without the blank's own scatter bay would run from 69.07 to 78.49 only.
#[test]
fn the_interval_of_a_level_is_that_of_a_ratio_of_two_means() {
    let found = study("    month 1 haze once\n");
    assert_is(
        value(&found, "bay", false),
        73.780_487_804_878_05,
        68.903_675_027_402_56,
        78.569_942_304_691_18,
    );
    assert_is(
        value(&found, "clove", false),
        37.195_121_951_219_51,
        31.724_486_813_238_05,
        42.456_503_540_381_83,
    );
    // The blank stands at its own mean by definition.
    let bare = value(&found, "bare", false);
    assert!(bare.0.abs() < 1e-9 && bare.1.is_none());
}

/// The blank against its own mean is 0 at every round, whatever was read: it has no rate, no trend and no time.
#[test]
fn the_blank_against_itself_has_no_run_over_time() {
    let rounds = ["month 1", "month 2", "month 3"].map(|round| format!("    {round} haze once\n")).concat();
    let (_, analysis) = study(&rounds);
    let over = analysis.measures[0].over_time.as_ref().unwrap();
    assert_eq!(over.fixed, Some(Treatment::Bare));
    assert!(over.groups.len() == 2 && over.groups.iter().all(|group| group.treatment != Treatment::Bare));
}

/// First-order propagation with the blanks of both rounds, by `numpy` and `scipy` 1.17.1 on the numbers above.
#[test]
fn the_interval_of_a_change_takes_the_blanks_of_both_rounds() {
    let found = study("    baseline before apply haze once\n    month 1 haze once\n");
    assert_is(
        value(&found, "bay", true),
        71.962_305_986_696_24,
        66.457_635_766_074_29,
        77.466_976_207_318_12,
    );
    assert_is(
        value(&found, "clove", true),
        36.993_101_749_199_31,
        31.660_156_277_620_956,
        42.326_047_220_777_674,
    );
}

/// Both stop less than when they were fresh, and much more than bare, which by definition stops nothing at any round: a change would
/// call them worse than bare. Their levels stand 74 and 37 points above it.
#[test]
fn what_still_stops_more_than_bare_is_not_called_worse_for_having_stopped_more() {
    let found = study("    fresh 9 days after apply haze once\n    month 1 haze once\n");
    assert!(value(&found, "bay", true).0 < -5.0 && value(&found, "clove", true).0 < -5.0);
    let (measure, round) = found.1.deciding().unwrap();
    assert_eq!(measure.compared, Compared::Level);
    let rows = &round.to_bare.as_ref().unwrap().rows;
    assert!(rows.iter().all(|row| row.side == Side::Better), "{rows:?}");
    assert!(close(rows[0].difference, 73.780_487_804_878_05, 1e-9), "{rows:?}");
    let Answer::Read { against_bare: Against::Told { better, worse, .. }, .. } = &found.1.answer else {
        panic!("{:?}", found.1.answer)
    };
    assert_eq!((better.len(), worse.len()), (2, 0));
}

/// The table against bare of the deciding round.
fn table((_, analysis): &(Study, Analysis)) -> ControlTable {
    analysis.deciding().unwrap().1.to_bare.clone().unwrap()
}

/// Worked out anew in another language from the numbers above: the pooled spread on 7 degrees of freedom, the multivariate t of two
/// comparisons with `lambda` 0.221 431 and 0.477 804 by sums over even grids (360 x 500 steps), each end by halving on
/// T(r)^2 = c^2. Dunnett's would run from 66.49 to 81.07 and from 29.91 to 44.48, with the blank's error counted whole.
#[test]
fn differences_of_levels_to_bare_are_those_of_ratios_to_the_blank() {
    let found = table(&study("    month 1 haze once\n"));
    assert!(found.of_ratios && close(found.critical.unwrap(), 2.798_378_157_795_78, 1e-8), "{found:?}");
    let expected = [
        (73.780_487_804_878_05, 67.997_573_072_341_47, 79.440_974_057_637_6, 3.709_200_24e-8),
        (37.195_121_951_219_51, 30.695_568_183_358_9, 43.401_416_802_401_88, 4.133_964_01e-6),
    ];
    assert_eq!(found.rows.len(), 2);
    for (row, (difference, low, high, p)) in found.rows.iter().zip(expected) {
        assert!(close(row.difference, difference, 1e-9) && close(row.p.unwrap() / p, 1.0, 1e-6), "{row:?}");
        let interval = row.interval.unwrap();
        assert!(close(interval.low, low, 1e-7) && close(interval.high, high, 1e-7), "{row:?}");
        assert_eq!(row.word, Ok(Word::Measurable));
    }
}

/// However a share is written, and in whatever unit it was read, the same is told.
#[test]
fn how_a_share_of_the_blank_is_written_does_not_matter() {
    let rounds = "    month 1 haze once\n";
    let stopped = table(&study(rounds));
    let ways = [
        "read under, then open in mW/cm2\n    is the ratio",
        "read open, then under in mW/cm2\n    is the gain in percent",
    ];
    for way in ways {
        for read_as in [|_: usize, now: f64| now, |_: usize, now: f64| 0.001 * now] {
            let found = table(&made(way, rounds, read_as));
            assert!(found.of_ratios && found.rows.len() == 2, "{way}");
            for (row, stopped) in found.rows.iter().zip(&stopped.rows) {
                // What gets through is turned round, to what is stopped.
                let (own, other) = (row.interval.unwrap(), stopped.interval.unwrap());
                assert!(close(-row.difference, stopped.difference, 1e-8), "{way}: {row:?}");
                assert!(
                    close(-own.low, other.high, 1e-8) && close(-own.high, other.low, 1e-8),
                    "{way}: {row:?}"
                );
                assert!(close(row.p.unwrap() / stopped.p.unwrap(), 1.0, 1e-6), "{way}: {row:?}");
            }
        }
    }
}

/// The blanks of both rounds are in a change, and no single ratio.
#[test]
fn changes_keep_the_blank_as_one_of_the_groups() {
    let found = table(&study("    baseline before apply haze once\n    month 1 haze once\n"));
    assert!(!found.of_ratios && found.rows.iter().all(|row| row.interval.is_some()), "{found:?}");
}

/// Coats that scatter so much that for both at once the mean of the blank may be 0.
#[test]
fn a_blank_that_may_be_none_bounds_no_ratio_and_the_table_says_so() {
    let wild = |n: usize, now: f64| match (now > 1.5, n) {
        (true, _) => 0.3 * now,
        (false, 0) => 1.9,
        (false, _) => 0.1 * now,
    };
    let found = table(&made(STOPPED, "    month 1 haze once\n", wild));
    assert_eq!((found.basis.strength, found.critical), (Strength::BlankUnsure, None));
    for row in &found.rows {
        assert_eq!((row.interval, row.p, row.word), (None, None, Err(Strength::BlankUnsure)));
    }
}

/// The same with a fourth slip of each, so that each has a spread of its own.
const FOUR: [Slips; 3] = [
    ("bay", &[1.62, 1.58, 1.66, 1.61], &[0.40, 0.46, 0.43, 0.47]),
    ("clove", &[1.60, 1.70, 1.64, 1.65], &[1.02, 0.97, 1.10, 1.12]),
    UNDER[2],
];

/// Where each treatment keeps its own spread no ratio shares one with the blank.
#[test]
fn own_spreads_keep_the_blank_as_one_of_the_groups() {
    let both = |differ: bool| {
        let (mut study, readings, as_of) = read(&FOUR, STOPPED, "    month 1 haze once\n", |_, now| now);
        study.spreads_differ = differ;
        let found = analyse(&study, &readings, as_of);
        found.deciding().unwrap().1.to_bare.clone().unwrap()
    };
    let (shared, own) = (both(false), both(true));
    assert!(shared.of_ratios && !own.of_ratios && own.basis.own_spreads, "{own:?}");
    let widths = |table: &ControlTable| -> Vec<f64> {
        table.rows.iter().map(|row| row.interval.map(|found| found.high - found.low).unwrap()).collect()
    };
    assert_ne!(widths(&shared), widths(&own));
}

/// A further look counts by ratios as well: *seen* over so many looks is the word of an interval of ratios at that level.
#[test]
fn a_further_look_at_shares_is_that_of_a_wider_interval_of_ratios() {
    let rounds = "    month 1 haze once\n    month 2 haze once\n    month 3 haze once\n";
    let mut words = Vec::new();
    for limit in ["20", "25", "28", "30", "32", "65", "70"] {
        let making = format!("seen from {limit} points\n    {STOPPED}");
        let (mut study, readings, as_of) = read(&UNDER, &making, rounds, |_, now| now);
        study.decide = None;
        let found = analyse(&study, &readings, as_of);
        let round = found.measures[0].rounds.last().unwrap();
        let table = round.to_bare.as_ref().unwrap();
        assert!(table.of_ratios && round.role == Role::FurtherLook, "{table:?}");
        let share = |mean: f64, n: usize| GroupMean { mean: 1.0 - mean / 100.0, n };
        let groups: Vec<(GroupMean, f64)> =
            table.rows.iter().map(|row| (share(row.change, row.n), 1.0)).collect();
        let spread = table.basis.spread.unwrap();
        let spread = Spread { sd: spread.sd / 100.0, ..spread };
        let control = share(table.control.mean, table.control.n);
        let level = 1.0 - 0.05 / found.further_looks as f64;
        let wide = to_control(&groups, control, spread, level, &mut Solved::default()).unwrap();
        for (row, wide) in table.rows.iter().zip(wide) {
            let limit: f64 = limit.parse().unwrap();
            assert_eq!(
                row.over_all == Some(Word::Seen),
                100.0 * (1.0 - wide.high) >= limit,
                "{row:?} {wide:?}"
            );
            words.push(row.over_all.unwrap());
        }
    }
    assert!(words.contains(&Word::Seen) && words.contains(&Word::Measurable), "{words:?}");
}
