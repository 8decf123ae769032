//! The examples as a reader gets them: every output is compared byte for byte with the file under `tests/golden`.
//!
//! `UPDATE_EXPECT=1 cargo test --test golden` writes them anew and removes what is made no more; look at the
//! difference before it is committed.

#![allow(
    clippy::unwrap_used,
    clippy::disallowed_methods,
    reason = "a test reads and writes its expectations"
)]

use jiff::civil::{Date, date};
use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use tapeline::pipeline::{self, Day, Outcome};

fn root(folder: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("examples").join(folder)
}

fn looked_at(folder: &str, day: Day) -> Outcome {
    let root = root(folder);
    let name = format!("{folder}.study");
    let text = fs::read_to_string(root.join(&name)).unwrap();
    let opened = pipeline::open(&name, &text, day);
    let files = opened.study.files().map(|name| fs::read(root.join(&name.value)).ok()).collect();
    opened.check(files)
}

fn outputs(folder: &str, today: Date) -> Vec<(String, Vec<u8>)> {
    let outcome = looked_at(folder, Day::Today(today));
    // One example has its empty sheets too; those of the others differ in their names only.
    let sheets =
        outcome.sheets_asked(&[if folder == "beginner" { "all" } else { "none" }.to_owned()]).unwrap();
    let mut made = outcome.build(None).unwrap();
    made.extend(outcome.edition().sheets(&sheets).unwrap().into_iter().flatten());
    made.into_iter().map(|artifact| (artifact.name, artifact.bytes)).collect()
}

/// Every day that a text names as 2026-04-13.
fn days(text: &str) -> BTreeSet<Date> {
    let bytes = text.as_bytes();
    let at = bytes.windows(10).enumerate().filter(|(_, ten)| ten[4] == b'-' && ten[7] == b'-');
    at.filter_map(|(at, _)| text.get(at..at + 10)?.parse().ok()).collect()
}

fn compare(folder: &str, today: Date) {
    let expected: PathBuf = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/golden").join(folder);
    let update = std::env::var("UPDATE_EXPECT").is_ok();
    if update {
        fs::create_dir_all(&expected).unwrap();
    }
    let made = outputs(folder, today);
    for stale in strangers(&expected, &made) {
        assert!(update, "{} is no output any more; see the head of this test", stale.display());
        fs::remove_file(stale).unwrap();
    }
    for (name, bytes) in made {
        let path = expected.join(&name);
        if update {
            fs::write(&path, &bytes).unwrap();
            continue;
        }
        let known = fs::read(&path)
            .unwrap_or_else(|_| panic!("{} is missing; see the head of this test", path.display()));
        assert!(
            known == bytes,
            "{folder}/{name} differs from its golden file; see the head of this test\n{}",
            first_difference(&known, &bytes)
        );
    }
}

/// Files of a golden folder that are made no more: a test that passes over them would keep them for ever.
fn strangers(folder: &Path, made: &[(String, Vec<u8>)]) -> Vec<PathBuf> {
    let files = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    let mut strangers: Vec<PathBuf> =
        files.filter(|path| !made.iter().any(|(name, _)| path.ends_with(name))).collect();
    strangers.sort();
    strangers
}

/// The first line that differs, as it was and as it is.
fn first_difference(known: &[u8], made: &[u8]) -> String {
    let (known, made) = (String::from_utf8_lossy(known), String::from_utf8_lossy(made));
    let lines = known.lines().zip(made.lines()).enumerate().find(|(_, (a, b))| a != b);
    match lines {
        Some((at, (was, is))) => format!("line {}\n  was: {was}\n  is:  {is}", at + 1),
        None => "one is longer than the other".to_owned(),
    }
}

/// As of an earlier day nothing is known of what was read, done and logged later: only what is planned lies behind it.
#[test]
fn an_earlier_day_names_no_later_day_but_those_of_the_plan() {
    for (folder, as_of) in [("coach-door", date(2025, 11, 1)), ("foredeck", date(2025, 7, 10))] {
        let outcome = looked_at(folder, Day::AsOf(as_of));
        let study = &outcome.study;
        let written = outcome.sources.iter().next().unwrap().text.lines();
        let planned = written.filter(|line| !line.starts_with("done") && !line.starts_with("log"));
        let mut planned: BTreeSet<Date> = planned.flat_map(days).collect();
        let windows = study.rounds.iter().filter_map(|round| round.window);
        planned.extend(windows.flat_map(|window| [window.date, window.first, window.last]));
        planned.extend(study.upkeep.iter().flat_map(|upkeep| study.upkeep_days(upkeep)));
        let until = study.gauges.iter().flat_map(|gauge| &gauge.certificates).map(|one| one.until);
        planned.extend(until.flat_map(|until| [until, until.yesterday().unwrap()]));
        let all = fs::read_to_string(root(folder).join("readings.csv")).unwrap();
        assert!(
            days(&all).iter().any(|day| *day > as_of && !planned.contains(day)),
            "nothing could be found"
        );
        for artifact in outcome.build(None).unwrap() {
            let text = String::from_utf8(artifact.bytes).unwrap();
            let later: Vec<Date> = days(&text).into_iter().filter(|day| *day > as_of).collect();
            let strays: Vec<_> = later.iter().filter(|day| !planned.contains(day)).collect();
            assert!(strays.is_empty(), "{folder}/{}: {strays:?}", artifact.name);
            let plan_only = ["readings.csv", "findings.json"].contains(&artifact.name.as_str());
            assert!(!plan_only || later.is_empty(), "{folder}/{}: {later:?}", artifact.name);
        }
    }
}

#[test]
fn the_coach_door() {
    compare("coach-door", date(2026, 11, 24));
}

#[test]
fn the_foredeck() {
    compare("foredeck", date(2026, 11, 24));
}

#[test]
fn the_bench_slats() {
    compare("bench-slats", date(2026, 11, 24));
}

#[test]
fn the_marked_cladding() {
    compare("marked-cladding", date(2026, 11, 24));
}

#[test]
fn the_beginner_before_any_reading() {
    compare("beginner", date(2027, 5, 1));
}

#[test]
fn every_golden_folder_is_compared_and_a_stale_file_is_found() {
    let golden = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/golden");
    let mut folders: Vec<_> =
        fs::read_dir(&golden).unwrap().map(|entry| entry.unwrap().file_name()).collect();
    folders.sort();
    assert_eq!(folders, ["beginner", "bench-slats", "coach-door", "foredeck", "marked-cladding"]);
    let made = outputs("beginner", date(2027, 5, 1));
    let folder = golden.join("beginner");
    let is_stale = |made: &[(String, Vec<u8>)]| strangers(&folder, made).contains(&folder.join("index.html"));
    assert!(!is_stale(&made));
    assert!(is_stale(&made[1..]));
}

#[test]
fn the_same_input_gives_the_same_bytes() {
    assert!(outputs("coach-door", date(2026, 11, 24)) == outputs("coach-door", date(2026, 11, 24)));
}
