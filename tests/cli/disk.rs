//! Files that cannot be read or written as they are: told, and nothing half done.

use super::Bench;
use std::fs;

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
