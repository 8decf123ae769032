//! Help, and what a finding or a word of the catalog means.

use super::Bench;

#[test]
fn help_version_and_explain_print_and_exit_with_0() {
    let bench = Bench::new("help");
    let version = bench.run(&["--version"]);
    assert_eq!((version.code, version.out), (0, format!("tapeline {}\n", env!("CARGO_PKG_VERSION"))));
    let help = bench.run(&["--help"]);
    for word in ["new", "check", "plan", "print", "report", "build", "explain"] {
        assert!(help.code == 0 && help.out.contains(word), "{help:?}");
    }
    let page = bench.run(&["explain", "no dwell"]);
    assert!(page.code == 0 && page.out.starts_with("no-dwell ("), "{page:?}");
}

/// What a user has to choose from stands nowhere else in the program.
#[test]
fn explain_lists_the_words_of_the_catalog() {
    let bench = Bench::new("explain-words");
    for (list, words) in [
        ("kinds", ["iron remover", "spray sealant"]),
        ("steps", ["decontaminate", "wipe"]),
        ("measures", ["gloss-60: GU", "contact-angle"]),
        ("materials", ["paint", "masonry"]),
    ] {
        let run = bench.run(&["explain", list]);
        assert!(run.code == 0 && words.iter().all(|word| run.out.contains(word)), "{list}: {run:?}");
        assert!(run.out.lines().all(|line| line.chars().count() <= 112), "{list}");
    }
}
