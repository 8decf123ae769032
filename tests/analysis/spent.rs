//! Time to spent, and what a month of it costs.

use crate::bench::{Bench, at, day};
use crate::close;
use tapeline::analysis::{
    CameBack, CostWithGauge, Half, Missing, Moment, MonthlyCost, NoCost, SectionSpent, Spent, WithGauge,
};
use tapeline::study::{
    Certificate, Coats, Done, DoneWhat, Gauge, Limit, Outline, Point, Price, Reference, Treatment,
};
use tapeline::text::Span;
use tapeline::units::{AnyQuantity, Money, unit};

const ROUNDS: [(&str, &str); 6] = [
    ("baseline", "2024-01-01"),
    ("fresh", "2024-01-12"),
    ("month-1", "2024-02-02"),
    ("month-3", "2024-04-02"),
    ("month-6", "2024-07-02"),
    ("month-9", "2024-10-02"),
];

/// A section that is spent below 60 GU, alike within 2, with levels from the fresh round on; NaN is a missed round.
fn spent(levels: &[f64]) -> (Bench, SectionSpent) {
    let mut bench = Bench::new(&[("A1", "hop")], &ROUNDS);
    bench.limits(2.0, 5.0);
    bench.spent_below(Limit::Value(60.0));
    bench.read("baseline", "A1", &[40.0]);
    for ((round, _), &level) in ROUNDS[1..].iter().zip(levels) {
        if !level.is_nan() {
            bench.read(round, "A1", &[level]);
        }
    }
    let found = bench.gloss().spent.unwrap()[0];
    (bench, found)
}

fn round(bench: &Bench, name: &str) -> Moment {
    let (_, date) = ROUNDS.iter().find(|(round, _)| *round == name).unwrap();
    // Days since the second of January, on which the product went on.
    let days = match name {
        "fresh" => 10,
        "month-1" => 31,
        "month-3" => 91,
        "month-6" => 182,
        _ => 274,
    };
    Moment { round: bench.round_id(name), date: Some(day(date)), days: Some(days) }
}

#[test]
fn the_interval_lies_between_the_last_pass_and_the_first_failure() {
    let (bench, found) = spent(&[80.0, 75.0, 66.0, 59.0, 50.0]);
    assert_eq!(found.when, Ok(Spent::Between(round(&bench, "month-3"), round(&bench, "month-6"))));
    assert_eq!((found.limit, found.came_back), (Ok(60.0), None));
    // The limit itself is passed: spent is below it.
    let (bench, found) = spent(&[80.0, 75.0, 66.0, 60.0, 50.0]);
    assert_eq!(found.when, Ok(Spent::Between(round(&bench, "month-6"), round(&bench, "month-9"))));
}

#[test]
fn a_missed_round_widens_it() {
    let (bench, found) = spent(&[80.0, 75.0, f64::NAN, 59.0, 50.0]);
    assert_eq!(found.when, Ok(Spent::Between(round(&bench, "month-1"), round(&bench, "month-6"))));
}

#[test]
fn at_least_and_before() {
    let (bench, found) = spent(&[80.0, 75.0, 66.0, 63.0]);
    assert_eq!(found.when, Ok(Spent::AtLeast(round(&bench, "month-6"))));
    let (bench, found) = spent(&[58.0, 55.0]);
    assert_eq!(found.when, Ok(Spent::Before(round(&bench, "fresh"))));
    let (_, found) = spent(&[]);
    assert_eq!(found.when, Err(Missing::RoundMissed));
}

#[test]
fn failed_at_the_first_round_after_the_reference_is_before() {
    let (mut bench, _) = spent(&[80.0, 63.0, 60.0]);
    // 80 % of fresh is 64.
    bench.spent_below(Limit::PercentOf(80.0, Reference::Fresh));
    let found = bench.gloss().spent.unwrap()[0];
    assert_eq!(found.limit, Ok(64.0));
    assert_eq!(found.when, Ok(Spent::Before(round(&bench, "month-1"))));
}

#[test]
fn fell_and_came_back_counts_from_the_last_failure() {
    // Back by more than alike at month 3 (62.5 > 60 + 2), and failed again at month 9.
    let (bench, found) = spent(&[80.0, 59.0, 62.5, 61.0, 55.0]);
    let came_back = CameBack { fell: round(&bench, "month-1"), back: round(&bench, "month-3") };
    assert_eq!(found.came_back, Some(came_back));
    assert_eq!(found.when, Ok(Spent::Between(round(&bench, "month-6"), round(&bench, "month-9"))));
    assert!(!found.within);
    // It never failed again: the failure that there was still counts.
    let (bench, found) = spent(&[80.0, 75.0, 59.0, 63.0, 62.0]);
    assert_eq!(found.when, Ok(Spent::Between(round(&bench, "month-1"), round(&bench, "month-3"))));
    assert!(found.came_back.is_some() && found.within);
    // 61.5 is a pass within alike: noise, and no coming back.
    let (bench, found) = spent(&[80.0, 59.0, 61.5, 58.0, 57.0]);
    assert_eq!(found.came_back, None);
    assert_eq!(found.when, Ok(Spent::Between(round(&bench, "fresh"), round(&bench, "month-1"))));
}

#[test]
fn spent_above_turns_the_limit_round() {
    let (mut bench, _) = spent(&[2.0, 4.0, 7.0, 9.0]);
    bench.spent_below(Limit::Value(8.0));
    if let Some(rule) = bench.study.measures[0].spent.as_mut() {
        rule.below = false;
    }
    let found = bench.gloss().spent.unwrap()[0];
    assert_eq!(found.when, Ok(Spent::Between(round(&bench, "month-3"), round(&bench, "month-6"))));
}

#[test]
fn days_count_from_the_last_coat_on_record() {
    let (mut bench, _) = spent(&[80.0, 75.0, 66.0, 63.0]);
    for (number, date) in [(1, "2024-01-03"), (2, "2024-01-05")] {
        bench.study.done.push(Done {
            date: at(day(date)),
            time: None,
            what: DoneWhat::Coat(number, at(bench.product_id("hop"))),
            sections: Vec::new(),
            until: None,
            step: None,
            ahead: None,
            set: None,
            upkeep: false,
            used: None,
            at: None,
            humidity: None,
            surface: None,
            by: None,
            because: None,
            place: Span::default().into(),
        });
    }
    let Ok(Spent::AtLeast(last)) = bench.gloss().spent.unwrap()[0].when else { panic!() };
    assert_eq!(last.days, Some(179));
}

#[test]
fn the_cost_of_a_month_held() {
    let (mut bench, _) = spent(&[80.0, 75.0, 66.0, 59.0]);
    let quantity = |value, symbol| AnyQuantity { value, unit: unit(symbol).unwrap() };
    assert_eq!(bench.analyse().costs[0].sections, Err(NoCost::NoPrice));
    let product = &mut bench.study.products[0];
    let money = quantity(30.0, "EUR").typed::<Money>().unwrap();
    product.price = Some(Price { money, amount: quantity(0.5, "l") });
    product.uses = Some(quantity(20.0, "ml per m2"));
    product.coats =
        Some(Coats { number: 2, after: None, own: Vec::new(), between: None, span: Span::default() });
    assert_eq!(bench.analyse().costs[0].sections, Err(NoCost::NoArea));
    let corner = Point { x: 10.0, y: 10.0 };
    bench.study.sections[0].outline = Some(Outline::Rectangle { at: corner, width: 250.0, height: 200.0 });
    let cost = bench.analyse().costs[0].sections.clone().unwrap()[0];
    // 30 EUR for 500 ml is 0.06 EUR a ml; two coats of 20 ml are 2.40 EUR a square metre; the section has 0.05 of one.
    assert!(close(cost.per_m2, 2.4, 1e-12) && close(cost.money, 0.12, 1e-12));
    // Held 91 to 182 days of 30.436875 a month: 2.40 / 5.98 to 2.40 / 2.99.
    let Some(MonthlyCost::Between(low, high)) = cost.per_m2_month else { panic!() };
    assert!(close(low, 2.4 * 30.436_875 / 182.0, 1e-12) && close(high, 2.4 * 30.436_875 / 91.0, 1e-12));
    bench.rows.retain(|row| !row.contains("month-6"));
    let cost = bench.analyse().costs[0].sections.clone().unwrap()[0];
    assert_eq!(cost.per_m2_month, Some(MonthlyCost::AtMost(high)));
    bench.study.products[0].uses = Some(quantity(20.0, "g per m2"));
    assert_eq!(bench.analyse().costs[0].sections, Err(NoCost::DifferentKinds));
}

/// Two sections of a product with a price beside two bare ones; `own` are the levels of the first.
fn priced(own: [f64; 4]) -> Bench {
    let sections = [("A1", "hop"), ("A2", "hop"), ("B1", "bare"), ("B2", "bare")];
    let mut bench = Bench::new(&sections, &ROUNDS[1..5]);
    bench.spent_below(Limit::Value(60.0));
    bench.study.measures[0].change_from = Reference::Fresh;
    let levels = [
        ("fresh", [own[0], 80.0, 80.0, 80.0]),
        ("month-1", [own[1], 75.0, 75.0, 55.0]),
        ("month-3", [own[2], 70.0, 70.0, 50.0]),
        ("month-6", [own[3], 65.0, 55.0, 45.0]),
    ];
    for (round, means) in levels {
        bench.means(round, &means);
    }
    let quantity = |value, symbol| AnyQuantity { value, unit: unit(symbol).unwrap() };
    let money = quantity(30.0, "EUR").typed::<Money>().unwrap();
    bench.study.products[0].price = Some(Price { money, amount: quantity(0.5, "l") });
    bench.study.products[0].uses = Some(quantity(20.0, "ml per m2"));
    for section in &mut bench.study.sections {
        let at = Point { x: 10.0, y: 10.0 };
        section.outline = Some(Outline::Rectangle { at, width: 250.0, height: 200.0 });
    }
    bench
}

#[test]
fn bare_sections_that_held_as_long_are_counted() {
    let mut bench = priced([80.0, 75.0, 70.0, 55.0]);
    let costs = bench.analyse().costs[0].sections.clone().unwrap();
    // A1 and B1 passed month-3 and failed month-6, A2 passed month-6, B2 failed at month-1.
    assert_eq!((costs[0].bare_as_long, costs[1].bare_as_long), (Some((1, 2)), Some((0, 2))));
    // Where A1 failed at month-1 as well, B2 held as long as it, and B1 longer.
    let failed = priced([80.0, 55.0, 50.0, 45.0]).analyse().costs[0].sections.clone().unwrap();
    assert_eq!(failed[0].bare_as_long, Some((2, 2)));
    for section in &mut bench.study.sections[2..] {
        section.treatment = Treatment::Untouched;
    }
    let costs = bench.analyse().costs[0].sections.clone().unwrap();
    assert_eq!(costs[0].bare_as_long, None);
}

/// Where every reading below the gauge stood at its limit of 0.5, the mean would be 0.5 or (70 + 70 + 0.5) / 3 = 46.8.
#[test]
fn a_mean_that_fell_below_the_gauge_is_spent_where_even_its_bound_is() {
    let (mut bench, _) = spent(&[80.0, 75.0, 66.0]);
    bench.rows.push("2024-07-02,month-6,A1,gloss,<0.5,GU".into());
    let found = bench.gloss().spent.unwrap()[0];
    assert_eq!(found.when, Ok(Spent::Between(round(&bench, "month-3"), round(&bench, "month-6"))));
    assert_eq!(bench.cell("month-6", "A1").at_most, Some(0.5));
    bench.read("month-6", "A1", &[70.0, 70.0]);
    assert_eq!(bench.gloss().spent.unwrap()[0].when, found.when);
    // With a limit of 40 the mean may lie on either side of it, so that the round is not judged.
    bench.spent_below(Limit::Value(40.0));
    let open = bench.gloss().spent.unwrap()[0];
    assert_eq!(open.when, Ok(Spent::AtLeast(round(&bench, "month-3"))));
    // Spent above 60: below the gauge is well within.
    bench.spent_below(Limit::Value(90.0));
    if let Some(rule) = bench.study.measures[0].spent.as_mut() {
        rule.below = false;
    }
    assert_eq!(bench.gloss().spent.unwrap()[0].when, Ok(Spent::AtLeast(round(&bench, "month-6"))));
}

/// Six sections of two sites, three read at 91 and 182 days, three at 181 and 274, each failing at its second look. All six
/// intervals meet only in the day from 181 to 182, where the likelihood puts everything (by hand); the middle of six times that
/// lie anywhere in their intervals may be as early as after 91 days, and is no later than 182.
#[test]
fn the_middle_of_sections_read_on_different_days_is_known_no_closer_than_their_looks() {
    let sections: Vec<(String, &str)> = (1..=6).map(|n| (format!("A{n}"), "hop")).collect();
    let sections: Vec<(&str, &str)> = sections.iter().map(|(code, name)| (code.as_str(), *name)).collect();
    let mut bench = Bench::new(&sections, &ROUNDS[1..5]);
    bench.study.measures[0].change_from = Reference::Fresh;
    bench.spent_below(Limit::Value(60.0));
    bench.means("fresh", &[80.0; 6]);
    for (n, (code, _)) in sections.iter().enumerate() {
        let days = if n < 3 { ["2024-04-02", "2024-07-02"] } else { ["2024-07-01", "2024-10-02"] };
        for (round, day, level) in [("month-3", days[0], 70), ("month-6", days[1], 50)] {
            bench.rows.push(format!("{day},{round},{code},gloss,{level},GU"));
        }
    }
    let group = bench.gloss().spent_together[0];
    assert_eq!((group.sections, group.half), (6, Half::Between(181, 182)));
    assert_eq!(group.certain, Half::Between(91, 182));
    // Where none failed, half of them are known to have held to the day of the earlier site only.
    bench.rows.iter_mut().for_each(|row| *row = row.replace(",50,", ",65,"));
    let group = bench.gloss().spent_together[0];
    assert_eq!((group.half, group.certain), (Half::AtLeast(274), Half::AtLeast(182)));
}

/// Half of the readings of a round on the next day: it had passed by the first day, and had failed by the last.
#[test]
fn a_round_over_two_days_counts_from_the_day_that_is_known() {
    let (mut bench, _) = spent(&[80.0, 75.0]);
    for (round, day, level) in [
        ("month-3", "2024-04-02", 70),
        ("month-3", "2024-04-04", 70),
        ("month-6", "2024-07-02", 50),
        ("month-6", "2024-07-05", 50),
    ] {
        bench.rows.push(format!("{day},{round},A1,gloss,{level},GU"));
    }
    let Ok(Spent::Between(from, to)) = bench.gloss().spent.unwrap()[0].when else { panic!() };
    assert_eq!((from.days, to.days), (Some(91), Some(185)));
}

/// A gauge that its certificate gives to 0.6 GU.
fn certify(bench: &mut Bench) {
    let within = Some(AnyQuantity { value: 0.6, unit: unit("GU").unwrap() });
    let certificate =
        Certificate { from: day("2023-12-01"), until: day("2024-12-01"), within, span: Span::default() };
    bench.study.gauges.push(Gauge { certificates: vec![certificate], ..crate::panel::gauge() });
}

/// 30 EUR for 500 ml, of which a square metre takes 20: 1.20 EUR.
fn price(bench: &mut Bench) {
    let quantity = |value, symbol| AnyQuantity { value, unit: unit(symbol).unwrap() };
    let product = &mut bench.study.products[0];
    let money = quantity(30.0, "EUR").typed::<Money>().unwrap();
    product.price = Some(Price { money, amount: quantity(0.5, "l") });
    product.uses = Some(quantity(20.0, "ml per m2"));
    let corner = Point { x: 10.0, y: 10.0 };
    bench.study.sections[0].outline = Some(Outline::Rectangle { at: corner, width: 250.0, height: 200.0 });
}

/// Four of six sections stand at 60.4 GU at month 3, which may be 59.8: they may have been spent since fresh, day 10, so that half of
/// them may have been by any day after it. Two stand at 70.
#[test]
fn the_middle_time_has_what_the_gauge_leaves_open_of_it() {
    let sections: Vec<(String, &str)> = (1..=6).map(|n| (format!("A{n}"), "hop")).collect();
    let sections: Vec<(&str, &str)> = sections.iter().map(|(code, name)| (code.as_str(), *name)).collect();
    let mut bench = Bench::new(&sections, &ROUNDS[1..5]);
    bench.study.measures[0].change_from = Reference::Fresh;
    bench.spent_below(Limit::Value(60.0));
    bench.means("fresh", &[80.0; 6]);
    bench.means("month-3", &[60.4, 60.4, 60.4, 60.4, 70.0, 70.0]);
    bench.means("month-6", &[50.0; 6]);
    let group = |bench: &Bench| bench.gloss().spent_together[0];
    assert_eq!((group(&bench).certain, group(&bench).with_gauge), (Half::Between(91, 182), None));
    certify(&mut bench);
    assert_eq!(group(&bench).certain, Half::Between(91, 182));
    assert_eq!(group(&bench).with_gauge, Some(Half::Between(10, 182)));
    // Where two of them may have been, the middle stands as it was.
    bench.rows.iter_mut().filter(|row| row.contains(",A1,") || row.contains(",A2,")).for_each(|row| {
        *row = row.replace(",59.9,", ",69.9,").replace(",60.9,", ",70.9,");
    });
    assert_eq!(group(&bench).with_gauge, None);
}

/// A certificate of 0.6 GU: 60.4 GU may be 59.8, so that the section may have been spent two rounds sooner than it was read to be. Of a
/// limit of 80 % of fresh, 64 GU, the offset is in both and one fifth of it is left, 0.12 GU: 64.4 GU are above it either way.
#[test]
fn what_the_gauge_may_be_off_by_widens_the_time_where_a_mean_lies_near_the_limit() {
    let (mut bench, _) = spent(&[80.0, 75.0, 60.4, 50.0]);
    bench.study.measures[0].change_from = Reference::Fresh;
    certify(&mut bench);
    let found = bench.gloss().spent.unwrap()[0];
    assert_eq!(found.when, Ok(Spent::Between(round(&bench, "month-3"), round(&bench, "month-6"))));
    let wider = Spent::Between(round(&bench, "month-1"), round(&bench, "month-6"));
    // 1.20 EUR a square metre for 31 to 182 days, in months of 30.436875.
    price(&mut bench);
    let cost = bench.analyse().costs[0].sections.clone().unwrap()[0];
    let Some(CostWithGauge::Bounds(MonthlyCost::Between(low, high))) = cost.month_with_gauge else {
        panic!("{cost:?}")
    };
    assert!(close(low, 1.2 * 30.436_875 / 182.0, 1e-12) && close(high, 1.2 * 30.436_875 / 31.0, 1e-12));
    assert_eq!(found.with_gauge, Some(WithGauge::When(wider)));
    bench.rows.iter_mut().for_each(|row| *row = row.replace(",60.4,", ",64.4,"));
    bench.spent_below(Limit::PercentOf(80.0, Reference::Fresh));
    let found = bench.gloss().spent.unwrap()[0];
    assert_eq!(found.when, Ok(Spent::Between(round(&bench, "month-3"), round(&bench, "month-6"))));
    assert_eq!(found.with_gauge, None);
    assert_eq!(bench.analyse().costs[0].sections.clone().unwrap()[0].month_with_gauge, None);
    bench.spent_below(Limit::Value(64.0));
    assert_eq!(bench.gloss().spent.unwrap()[0].with_gauge, Some(WithGauge::When(wider)));
    // By one end spent between fresh, which it passed, and month 1, by the other not yet.
    bench.rows.retain(|row| !row.contains("month-"));
    bench.read("month-1", "A1", &[64.2]);
    let wider = Spent::AtLeast(round(&bench, "fresh"));
    assert_eq!(bench.gloss().spent.unwrap()[0].with_gauge, Some(WithGauge::When(wider)));
    // Without the fresh round: spent before the first one, or not yet.
    bench.rows.retain(|row| !row.contains(",fresh,"));
    assert_eq!(bench.gloss().spent.unwrap()[0].with_gauge, Some(WithGauge::Open));
}

/// Of a share of fresh every section passes at fresh by definition; of a limit in GU that fresh round is a look like any other.
#[test]
fn a_fresh_round_that_was_passed_is_the_lower_end_where_the_limit_is_no_share_of_it() {
    let (mut bench, _) = spent(&[80.0, 50.0, 40.0]);
    bench.study.measures[0].change_from = Reference::Fresh;
    let found = |bench: &Bench| bench.gloss().spent.unwrap()[0].when;
    assert_eq!(found(&bench), Ok(Spent::Between(round(&bench, "fresh"), round(&bench, "month-1"))));
    bench.spent_below(Limit::PercentOf(75.0, Reference::Fresh));
    assert_eq!(found(&bench), Ok(Spent::Before(round(&bench, "month-1"))));
    bench.spent_below(Limit::Value(85.0));
    assert_eq!(found(&bench), Ok(Spent::Before(round(&bench, "fresh"))));
}
