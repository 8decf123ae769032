//! What is there and was not made by the program stays as it is.

use super::Bench;
use std::fs;

#[test]
fn what_others_made_is_never_written_over() {
    let bench = Bench::new("others");
    let study = bench.example("foredeck");
    for (name, bytes) in [
        ("readings.csv", "date,round,section,measure,value\n2026-01-05,baseline,A1,gloss-60,88.1\n"),
        ("index.html", "<p>My own site.</p>\n"),
        ("report.md", "Notes of last year.\n"),
        ("map.svg", "<svg xmlns=\"http://www.w3.org/2000/svg\"/>\n"),
        ("findings.json", "{}\n"),
    ] {
        let out = bench.folder.join("site");
        fs::create_dir_all(&out).unwrap();
        fs::write(out.join(name), bytes).unwrap();
        let run = bench.run(&["build", &study, "-o", "site"]);
        assert_eq!(run.code, 2, "{name}: {run:?}");
        assert!(run.err.contains(name) && run.err.contains("was not made by tapeline"), "{run:?}");
        assert_eq!(bench.names("site"), [name], "nothing else is written");
        assert_eq!(fs::read_to_string(out.join(name)).unwrap(), bytes);
        fs::remove_dir_all(out).unwrap();
    }
}

#[test]
fn own_files_of_another_day_are_written_anew() {
    let bench = Bench::new("anew");
    let study = bench.example("foredeck");
    for command in ["build", "bundle", "share"] {
        let made = |day: &str| {
            let run = bench.run(&[command, &study, "-o", command, "--as-of", day]);
            assert_eq!(run.code, 0, "{command}: {run:?}");
            bench
                .names(command)
                .iter()
                .map(|name| fs::metadata(bench.folder.join(command).join(name)).unwrap().len())
                .sum::<u64>()
        };
        assert_ne!(made("2025-08-01"), made("2025-10-28"), "{command}");
    }
}
