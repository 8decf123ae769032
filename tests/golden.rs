//! The examples as a reader gets them: every output is compared byte for byte with the file under `tests/golden`.
//!
//! `UPDATE_EXPECT=1 cargo test --test golden` writes them anew; look at the difference before it is committed.

#![allow(
    clippy::unwrap_used,
    clippy::disallowed_methods,
    reason = "a test reads and writes its expectations"
)]

use jiff::civil::{Date, date};
use std::fs;
use std::path::{Path, PathBuf};
use tapeline::pipeline::{self, Day};

fn outputs(folder: &str, today: Date) -> Vec<(String, Vec<u8>)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples").join(folder);
    let name = format!("{folder}.study");
    let text = fs::read_to_string(root.join(&name)).unwrap();
    let opened = pipeline::open(&name, &text);
    let files = opened.study.readings.iter().map(|file| fs::read(root.join(&file.name.value)).ok()).collect();
    let outcome = opened.check(files, Day::Today(today));
    let made = outcome.build(None).unwrap();
    made.into_iter().map(|artifact| (artifact.name.to_owned(), artifact.bytes)).collect()
}

fn compare(folder: &str, today: Date) {
    let expected: PathBuf = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/golden").join(folder);
    let update = std::env::var("UPDATE_EXPECT").is_ok();
    if update {
        fs::create_dir_all(&expected).unwrap();
    }
    for (name, bytes) in outputs(folder, today) {
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

/// The first line that differs, as it was and as it is.
fn first_difference(known: &[u8], made: &[u8]) -> String {
    let (known, made) = (String::from_utf8_lossy(known), String::from_utf8_lossy(made));
    let lines = known.lines().zip(made.lines()).enumerate().find(|(_, (a, b))| a != b);
    match lines {
        Some((at, (was, is))) => format!("line {}\n  was: {was}\n  is:  {is}", at + 1),
        None => "one is longer than the other".to_owned(),
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
fn the_beginner_before_any_reading() {
    compare("beginner", date(2027, 5, 1));
}

#[test]
fn the_same_input_gives_the_same_bytes() {
    assert!(outputs("coach-door", date(2026, 11, 24)) == outputs("coach-door", date(2026, 11, 24)));
}
