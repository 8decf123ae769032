//! A record file on the disk: printed empty, filled in, read, bundled, and never written over.

use super::Bench;
use std::fs;

#[test]
fn print_writes_an_empty_record_that_the_study_reads_and_never_over_a_filled_one() {
    let bench = Bench::new("record");
    let file = bench.example("bench-slats");
    let filled = fs::read_to_string(bench.folder.join("log.csv")).unwrap();
    fs::remove_file(bench.folder.join("log.csv")).unwrap();
    let print = || bench.run(&["print", &file, "--sheet", "none", "-o", "papers", "--as-of", "2025-03-01"]);
    let run = print();
    assert_eq!(run.code, 0, "{run:?}");
    let told =
        "Copy into log.csv what is written on the checklist, and put it beside the study, which reads it.\n";
    assert!(run.out.ends_with(told), "{run:?}");
    let empty = fs::read_to_string(bench.folder.join("papers/log.csv")).unwrap();
    // The heads of the empty record are those of the example, which was filled in from it.
    assert_eq!(
        empty.lines().next().map(|line| line.replace("used ml", "used")),
        filled.lines().next().map(|line| line.replace("used ml", "used"))
    );
    let of = |text: &str| {
        text.lines().map(|line| line.split(',').take(2).collect::<Vec<_>>().join(",")).collect::<Vec<_>>()
    };
    // The wait before each of its five rounds has a row too; on those days its crew filled in the sheets only.
    let (care, mut one): (Vec<String>, Vec<String>) = of(&empty).into_iter().partition(|row| row == ",wait");
    assert_eq!(care.len(), 5);
    let mut other = of(&filled);
    one.sort();
    other.sort();
    assert_eq!(one, other);
    // An empty record beside the study says that nothing was done yet.
    bench.write("log.csv", &empty);
    let run = bench.run(&["check", &file, "--as-of", "2025-03-01"]);
    assert!(run.code == 0 && !run.out.contains("log.csv"), "{run:?}");
    fs::remove_file(bench.folder.join("log.csv")).unwrap();
    bench.write("papers/log.csv", &filled);
    let run = print();
    assert!(run.code == 0 && !run.out.contains("log.csv"), "{run:?}");
    assert_eq!(fs::read_to_string(bench.folder.join("papers/log.csv")).unwrap(), filled);
    // Beside the study it is read, and no output goes over it.
    bench.write("log.csv", &filled);
    assert_eq!(bench.run(&["print", &file, "--sheet", "none", "-o", "."]).code, 0);
    assert_eq!(fs::read_to_string(bench.folder.join("log.csv")).unwrap(), filled);
}

#[test]
fn a_bundle_has_the_record_as_it_is_and_builds_the_same_pages_again() {
    let bench = Bench::new("record in a bundle");
    let file = bench.example("bench-slats");
    for day in [None, Some("2025-07-01")] {
        let asked: Vec<&str> = day.iter().flat_map(|day| ["--as-of", day]).collect();
        assert_eq!(bench.run(&[&["bundle", &file, "-o", "out"], asked.as_slice()].concat()).code, 0);
        let raw = fs::read(bench.folder.join("log.csv")).unwrap();
        assert_eq!(fs::read(bench.folder.join("out/study/log.csv")).unwrap(), raw);
        let package = fs::read_to_string(bench.folder.join("out/datapackage.json")).unwrap();
        assert!(package.contains("\"study/log.csv\""), "{package}");
        let study = format!("study/{file}");
        let stranger = Bench { folder: bench.folder.join("out") };
        assert_eq!(stranger.run(&[&["build", &study, "-o", "again"], asked.as_slice()].concat()).code, 0);
        let again = bench.bytes("out/again");
        assert!(again.len() > 5);
        for (name, bytes) in again {
            assert!(bytes == fs::read(bench.folder.join("out").join(&name)).unwrap(), "{name} differs");
        }
    }
}

/// What was read on paper is typed into a sheet that is printed, so a table that is not there yet hinders neither papers nor plan; a
/// report without it would look finished.
#[test]
fn papers_and_plan_are_made_before_the_table_of_readings_is_there() {
    let bench = Bench::new("no-table");
    let file = bench.example("bench-slats");
    for table in fs::read_dir(&bench.folder).unwrap() {
        let path = table.unwrap().path();
        if path.extension().is_some_and(|ending| ending == "csv") {
            fs::remove_file(path).unwrap();
        }
    }
    let day = ["--as-of", "2026-01-10"];
    let run = bench.run(&[&["print", &file, "--sheet", "fresh", "-o", "papers"][..], &day].concat());
    assert!(
        run.out.contains("readings-file-absent") && bench.folder.join("papers/sheet-fresh.csv").exists(),
        "{run:?}"
    );
    let run = bench.run(&[&["plan", &file][..], &day].concat());
    assert!(run.code == 0 && run.out.contains("This plan"), "{run:?}");
    let run = bench.run(&[&["report", &file, "-o", "report"][..], &day].concat());
    assert!(run.code == 1 && !bench.folder.join("report/report.html").exists(), "{run:?}");
}
