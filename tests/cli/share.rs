//! Pictures to pass on: the same bytes on every run and from every folder.

use super::Bench;
use std::fs;
use std::path::Path;

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

#[test]
fn every_picture_of_every_example_has_a_name_of_its_own() {
    let examples = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples");
    let mut shared = 0;
    for folder in fs::read_dir(examples).unwrap().map(|entry| entry.unwrap().path()) {
        if !folder.is_dir() {
            continue;
        }
        let name = folder.file_name().unwrap().to_str().unwrap();
        let bench = Bench::new(&format!("share {name}"));
        for entry in fs::read_dir(&folder).unwrap() {
            let entry = entry.unwrap();
            bench.write(entry.file_name().to_str().unwrap(), fs::read(entry.path()).unwrap());
        }
        let file = format!("{name}.study");
        let run = bench.run(&["share", &file, "-o", "out", "--as-of", "2026-11-24"]);
        assert_eq!(run.code, 0, "{name}: {run:?}");
        // Two pictures of one name would be one file fewer than the command says, or none at all.
        let written = bench.names("out").iter().filter(|name| name.contains(".svg")).count();
        assert_eq!(run.out.matches(".svg").count(), written, "{name}: {run:?}");
        assert!(written > 0, "{name}");
        shared += 1;
    }
    assert!(shared > 3, "{shared}");
}

#[test]
fn a_study_with_patches_shares_them_beside_its_map() {
    let bench = Bench::new("share patches");
    let file = bench.example("marked-cladding");
    let run = bench.run(&["share", &file, "-o", "out", "--as-of", "2026-11-24"]);
    assert_eq!(run.code, 0, "{run:?}");
    let names = bench.names("out");
    for name in ["map-square.svg", "patches-square.svg"] {
        assert!(names.iter().any(|known| known == name), "{names:?}");
    }
}
