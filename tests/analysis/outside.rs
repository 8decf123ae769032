//! The analysis against results from outside: a simulated study analysed by other libraries, published data on change
//! against a control, and published comparisons with the best.

use crate::bench::Bench;
use crate::close;
use std::collections::BTreeMap;
use tapeline::analysis::{ControlTable, Missing, NoTable, Spent};
use tapeline::study::{Limit, Reference, Treatment};
use toml::{Table, Value};

const SECTIONS: [(&str, &str); 10] = [
    ("A5", "first"),
    ("B1", "first"),
    ("A3", "second"),
    ("B3", "second"),
    ("A4", "third"),
    ("B5", "third"),
    ("A2", "fourth"),
    ("B2", "fourth"),
    ("A1", "bare"),
    ("B4", "bare"),
];
const ROUNDS: [(&str, &str); 5] = [
    ("fresh", "2023-03-15"),
    ("month-1", "2023-04-15"),
    ("month-3", "2023-06-15"),
    ("month-6", "2023-09-15"),
    ("month-9", "2023-12-15"),
];

fn file(text: &str) -> Table {
    text.parse().unwrap()
}

fn simulated() -> Table {
    file(include_str!("simulated.toml"))
}

fn number(value: &Value) -> f64 {
    value.as_float().or(value.as_integer().map(|whole| whole as f64)).unwrap()
}

fn numbers(value: &Value) -> Vec<f64> {
    value.as_array().unwrap().iter().map(number).collect()
}

/// The simulated study with its outlier left out.
fn bench(data: &Table) -> Bench {
    let mut bench = Bench::new(&SECTIONS, &ROUNDS);
    bench.study.measures[0].change_from = Reference::Fresh;
    for (round, _) in ROUNDS {
        for (section, values) in data["readings"][round].as_table().unwrap() {
            bench.read(round, section, &numbers(values));
        }
    }
    bench.leave_out("month-3", "A5", 60.1);
    bench
}

fn treatment(bench: &Bench, name: &str) -> Treatment {
    if name == "bare" { Treatment::Bare } else { Treatment::Product(bench.product_id(name)) }
}

#[test]
fn sections_and_treatments_agree_with_the_reference_analysis() {
    let data = simulated();
    let bench = bench(&data);
    let gloss = bench.gloss();
    let within = gloss.within_cells.unwrap();
    assert!(close(within.sd, number(&data["within"]["sd"]), 1e-9) && close(within.df, 97.0, 0.0));
    for (place, (round, _)) in ROUNDS.into_iter().enumerate() {
        for (section, expected) in data["cells"][round].as_table().unwrap() {
            let id = bench.section_id(section);
            let series = gloss.sections.iter().find(|series| series.section == id).unwrap();
            let (mean, sd) = (numbers(expected)[0], numbers(expected)[1]);
            let level = series.at[place].numbers.level.unwrap();
            assert!(close(level.mean, mean, 1e-9) && close(level.sd.unwrap(), sd, 1e-9), "{section} {round}");
        }
        for (name, expected) in data["levels"][round].as_table().unwrap() {
            let level = gloss.group(treatment(&bench, name)).unwrap().at[place].level.unwrap();
            let expected = numbers(expected);
            assert!(close(level.n as f64, expected[0], 0.0) && close(level.mean, expected[1], 1e-9));
            let error = level.sd.map(|sd| sd / (level.n as f64).sqrt());
            assert_eq!(error.is_some(), expected.len() == 3, "{name} {round}");
            assert!(error.is_none_or(|error| close(error, expected[2], 1e-9)), "{name} {round}");
        }
    }
    let second = gloss.group(treatment(&bench, "second")).unwrap();
    assert_eq!(second.at[2].lacking, [(bench.section_id("A3"), Missing::NotRead)]);
}

#[test]
fn changes_and_their_differences_to_bare_agree_with_it() {
    let data = simulated();
    let bench = bench(&data);
    let gloss = bench.gloss();
    for (section, expected) in data["change"].as_table().unwrap() {
        let id = bench.section_id(section);
        let series = gloss.sections.iter().find(|series| series.section == id).unwrap();
        assert!(close(series.at[4].numbers.change.unwrap().value, number(expected), 1e-9), "{section}");
    }
    let table = bench.to_bare("month-9");
    for (name, expected) in data["difference"].as_table().unwrap() {
        let row = table.rows.iter().find(|row| row.treatment == treatment(&bench, name)).unwrap();
        assert!(close(row.difference, number(expected), 1e-9), "{name}");
    }
    let critical = number(&data["dunnett"]["critical"]);
    assert!(close(table.critical.unwrap(), critical, 1e-6), "{:?} {critical}", table.critical);
    // The outlier put back moves month 3 and not month 9.
    let restored = bench.analyse().with_left_out.unwrap().to_bare.unwrap();
    let ends = |table: &ControlTable| {
        table.rows.iter().map(|row| (row.difference, row.interval)).collect::<Vec<_>>()
    };
    assert_eq!(ends(&restored), ends(&table));
    let mut kept = bench;
    kept.study.readings[0].leave_out.clear();
    assert!(close(kept.cell("month-3", "A5").numbers.level.unwrap().mean, 72.5, 1e-12));
}

#[test]
fn levels_at_the_last_round_agree_with_the_reference_comparison_with_bare() {
    let data = simulated();
    let mut bench = Bench::new(&SECTIONS, &[("baseline", "2023-03-01"), ("month-9", "2023-12-15")]);
    // The reference compares levels; a start of 0 on every section makes a level of each change.
    for (section, values) in data["readings"]["month-9"].as_table().unwrap() {
        bench.read("baseline", section, &[0.0]);
        bench.read("month-9", section, &numbers(values));
    }
    let table = bench.to_bare("month-9");
    let (spread, dunnett) = (table.basis.spread.unwrap(), &data["dunnett"]);
    assert!(close(spread.sd.powi(2), number(&dunnett["mean_square"]), 1e-9) && close(spread.df, 5.0, 0.0));
    for expected in dunnett["row"].as_array().unwrap() {
        let name = expected["product"].as_str().unwrap();
        let row = table.rows.iter().find(|row| row.treatment == treatment(&bench, name)).unwrap();
        let interval = row.interval.unwrap();
        assert!(close(row.difference, number(&expected["difference"]), 1e-9), "{name}");
        assert!(close(interval.low, number(&expected["low"]), 1e-6), "{name} {interval:?}");
        assert!(close(interval.high, number(&expected["high"]), 1e-6), "{name} {interval:?}");
        let p = number(&expected["p"]);
        assert!((row.p.unwrap() / p - 1.0).abs() < number(&data["p_relative"]), "{name} {:?} {p}", row.p);
    }
}

#[test]
fn time_to_spent_agrees_with_the_reference_intervals() {
    let data = simulated();
    let mut bench = bench(&data);
    for (key, limit) in
        [("below_60", Limit::Value(60.0)), ("below_70_percent", Limit::PercentOf(70.0, Reference::Fresh))]
    {
        bench.spent_below(limit);
        let found = bench.gloss().spent.unwrap();
        for (section, expected) in data[key].as_table().unwrap() {
            let months: BTreeMap<_, _> =
                ROUNDS.iter().zip([0.0, 1.0, 3.0, 6.0, 9.0]).map(|(r, m)| (bench.round_id(r.0), m)).collect();
            let id = bench.section_id(section);
            let when = found.iter().find(|one| one.section == id).unwrap().when.unwrap();
            let when = match when {
                Spent::Between(after, upto) => vec![months[&after.round], months[&upto.round]],
                Spent::Before(upto) => vec![0.0, months[&upto.round]],
                Spent::AtLeast(last) => vec![months[&last.round]],
            };
            assert_eq!(when, numbers(expected), "{key} {section}");
        }
    }
}

/// Sections `P1..` and `C1..` whose changes are given.
fn changes(groups: &[(&str, Vec<f64>)]) -> Bench {
    let codes: Vec<(String, &str, f64)> = groups
        .iter()
        .flat_map(|(name, values)| values.iter().map(move |&value| (*name, value)))
        .enumerate()
        .map(|(index, (name, value))| (format!("S{index}"), name, value))
        .collect();
    let sections: Vec<(&str, &str)> = codes.iter().map(|(code, name, _)| (code.as_str(), *name)).collect();
    let mut bench = Bench::new(&sections, &[("baseline", "2024-01-01"), ("month-6", "2024-07-01")]);
    for (code, _, value) in &codes {
        bench.read("baseline", code, &[0.0]);
        bench.read("month-6", code, &[*value]);
    }
    bench
}

#[test]
fn change_and_share_of_each_section_agree_with_published_data() {
    let data = file(include_str!("../truth/changes.toml"));
    let paired = data["paired"].as_array().unwrap();
    let cases: Vec<&Value> = paired.iter().filter(|case| case.get("before").is_some()).collect();
    assert_eq!(cases.len(), 2);
    for case in cases {
        let (before, after) = (numbers(&case["before"]), numbers(&case["after"]));
        let codes: Vec<String> = (0..before.len()).map(|at| format!("S{at}")).collect();
        let sections: Vec<(&str, &str)> = codes.iter().map(|code| (code.as_str(), "treated")).collect();
        let mut bench = Bench::new(&sections, &[("baseline", "2024-01-01"), ("month-6", "2024-07-01")]);
        for ((code, before), after) in codes.iter().zip(before).zip(after) {
            bench.read("baseline", code, &[before]);
            if !after.is_nan() {
                bench.read("month-6", code, &[after]);
            }
        }
        let at = bench.gloss().group(treatment(&bench, "treated")).unwrap().at[1].clone();
        let (change, left, expected) =
            (at.change.unwrap(), at.retention.unwrap(), |key: &str| number(&case[key]));
        let interval = change.interval.unwrap();
        assert!(close(change.n as f64, expected("df") + 1.0, 0.0));
        assert!(
            close(change.mean, expected("mean"), 1e-9) && close(change.sd.unwrap(), expected("sd"), 1e-9)
        );
        assert!(
            close(interval.low, expected("low_95"), 1e-9) && close(interval.high, expected("high_95"), 1e-9)
        );
        let [mean, sd] = numbers(&case["retention"])[..] else { panic!("{case:?}") };
        assert!(close(left.mean, mean, 1e-9) && close(left.sd.unwrap(), sd, 1e-9), "{left:?}");
    }
}

#[test]
fn change_against_a_control_agrees_with_published_data() {
    let data = file(include_str!("../truth/changes.toml"));
    for case in data["against_control"].as_array().unwrap() {
        let groups = [("treated", numbers(&case["product"])), ("bare", numbers(&case["control"]))];
        let bench = changes(&groups);
        let table = bench.to_bare("month-6");
        let (row, expected) = (table.rows[0], |key: &str| number(&case[key]));
        let interval = row.interval.unwrap();
        assert!(close(row.difference, expected("difference"), 1e-9));
        assert!(close(interval.low, expected("low_95"), 1e-8), "{:?} {interval:?}", case["name"]);
        assert!(close(interval.high, expected("high_95"), 1e-8), "{:?} {interval:?}", case["name"]);
        assert!(close(row.p.unwrap() / expected("p"), 1.0, 1e-6));
    }
}

#[test]
fn who_may_lead_agrees_with_published_comparisons_with_the_best() {
    let data = file(include_str!("../truth/hsu.toml"));
    for study in data["study"].as_array().unwrap() {
        let groups = study["group"].as_array().unwrap();
        if groups.iter().any(|group| group.get("values").is_none()) {
            continue;
        }
        let named: Vec<(&str, Vec<f64>)> =
            groups.iter().map(|group| (group["name"].as_str().unwrap(), numbers(&group["values"]))).collect();
        let bench = changes(&named);
        let lead = bench.lead("month-6");
        for (row, group) in lead.rows.iter().zip(groups) {
            let interval = row.interval.unwrap();
            assert!(close(interval.low, number(&group["low"]), 1e-6), "{:?} {interval:?}", group["name"]);
            assert!(close(interval.high, number(&group["high"]), 1e-6), "{:?} {interval:?}", group["name"]);
            let may = lead.may_lead.as_ref().unwrap().contains(&row.product);
            assert_eq!(may, group["may_lead"].as_bool().unwrap(), "{:?}", group["name"]);
        }
        assert_eq!(bench.gloss().rounds[1].to_bare, Err(NoTable::NoBare));
    }
}
