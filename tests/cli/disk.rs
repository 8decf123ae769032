//! Files that cannot be read or written as they are: told, and nothing half done.

use super::{Bench, starter};
use std::fs;
use std::path::Path;

#[test]
fn a_study_of_two_bytes_a_letter_is_told() {
    let bench = Bench::new("wide");
    for order in [u16::to_be_bytes, u16::to_le_bytes] {
        let wide: Vec<u8> = "study \"Door\"\n".encode_utf16().flat_map(order).collect();
        bench.write("wide.study", wide);
        let run = bench.run(&["check", "wide.study"]);
        assert!(run.code == 2 && run.err.contains("wide.study: this is UTF-16 text"), "{run:?}");
    }
}

#[test]
fn where_one_page_cannot_be_written_none_is() {
    let bench = Bench::new("half");
    let study = bench.example("foredeck");
    fs::create_dir_all(bench.folder.join("out/safety-cards.html")).unwrap();
    let run = bench.run(&["build", &study, "-o", "out"]);
    assert!(run.code == 2 && run.err.contains("safety-cards.html cannot be read: it is a folder"), "{run:?}");
    assert_eq!(bench.names("out"), ["safety-cards.html"]);
}

#[test]
fn an_output_folder_that_cannot_be_made_exits_with_2() {
    let bench = Bench::new("disk");
    starter(&bench);
    bench.write("out", "a file, not a folder");
    let run = bench.run(&["build", "my door.study", "-o", "out", "--as-of", "2026-09-07"]);
    assert_eq!(run.code, 2, "{run:?}");
    assert_eq!(run.err, "tapeline: out cannot be made a folder: something of that name is there already\n");
    assert_eq!(fs::read_to_string(bench.folder.join("out")).unwrap(), "a file, not a folder");
    assert!(Path::new(&bench.folder.join("out")).is_file());
}
