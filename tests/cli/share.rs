//! Pictures to pass on: the same bytes on every run and from every folder.

use super::Bench;

#[test]
fn pictures_to_pass_on_are_the_same_on_every_run() {
    let bench = Bench::new("share");
    let file = bench.example("foredeck");
    let run = |out: &str| {
        let run = bench.run(&["share", &file, "-o", out, "--as-of", "2026-11-24"]);
        assert_eq!(run.code, 0, "{run:?}");
        bench.bytes(out)
    };
    let first = run("first");
    assert_eq!(first, run("another folder"));
    assert!(
        first.len() > 30
            && first
                .iter()
                .all(|(name, _)| name.rsplit_once('.').is_some_and(|(_, end)| end == "svg" || end == "png")),
        "{}",
        first.len()
    );
}

#[test]
fn a_study_with_errors_has_no_pictures_to_pass_on() {
    let bench = Bench::new("share nothing");
    bench.write("odd.study", "study \"Odd\"\nmap sections 10 mm\n");
    let run = bench.run(&["share", "odd.study", "-o", "out"]);
    assert_eq!(run.code, 1, "{run:?}");
    assert!(run.out.contains("Nothing was written") && bench.names("out").is_empty(), "{run:?}");
}
