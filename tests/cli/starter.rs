//! The starter on today's clock, and on a day that is asked for.

use super::Bench;
use std::fs;

#[test]
fn a_fresh_starter_checks_clean_today() {
    let bench = Bench::new("fresh starter");
    let new = bench.run(&["new", "mine.study"]);
    assert_eq!(new.code, 0, "{new:?}");
    let check = bench.run(&["check", "mine.study"]);
    assert_eq!((check.code, check.out.as_str()), (0, "No findings.\n"), "{check:?}");
}

#[test]
fn its_days_are_counted_from_the_one_that_is_asked_for() {
    let bench = Bench::new("dated starter");
    assert_eq!(bench.run(&["new", "mine.study", "--begins", "2031-02-28"]).code, 0);
    let text = fs::read_to_string(bench.folder.join("mine.study")).unwrap();
    assert!(
        text.contains("begins      2031-02-28\n") && text.contains("on          2031-03-02 from 09:00\n")
    );
    assert!(!text.contains("2026-"));
    let check = bench.run(&["check", "mine.study", "--as-of", "2031-02-28"]);
    assert_eq!(check.out, "No findings.\n");
    for day in ["28.02.2031", "9999-12-31"] {
        let refused = bench.run(&["new", "other.study", "--begins", day]);
        assert_eq!(refused.code, 2, "{refused:?}");
        assert!(!bench.folder.join("other.study").exists());
    }
}
