//! Sections that the map leaves to chance: what is dealt, where it is written, and what is refused.

use super::Bench;
use std::collections::BTreeMap;
use std::fmt::Write;
use std::fs;

const HEAD: &str = "study \"Three mist sealants on a shed door\"\n    begins      2026-08-24\nsurface shed\n    size        840 x 840 mm\n\
    measure gloss-60\nproduct sage \"Sage spray\"\nproduct rose \"Rose spray\"\nproduct mint \"Mint spray\"\nprep\n    \
    wash        with shampoo,  1 part to 200 water,  rinse\n    dry\n    wipe        with isopropanol 15 % by volume\n";
const TAIL: &str =
    "rounds\n    baseline    gloss-60 3 times\n    week 4      gloss-60 3 times\nreadings \"shed.csv\"\n";

fn study(map: &str) -> String {
    format!("{HEAD}map  sections 140 x 140 mm  gap 24 mm\n{map}{TAIL}")
}

fn open(rows: usize, places: usize) -> String {
    format!("    |{} |\n", " ?".repeat(places)).repeat(rows)
}

/// The drawn rows of a study, word by word.
fn rows(text: &str) -> Vec<Vec<String>> {
    let rows = text.lines().map(str::trim).filter(|line| line.starts_with('|'));
    let words = |row: &str| {
        let row = row.split('#').next().unwrap_or("");
        row.split(|c: char| c == '|' || c.is_whitespace())
            .filter(|word| !word.is_empty())
            .map(str::to_owned)
            .collect()
    };
    rows.map(words).collect()
}

fn counted(rows: &[Vec<String>]) -> BTreeMap<&str, usize> {
    let mut counts = BTreeMap::new();
    rows.iter().flatten().for_each(|word| *counts.entry(word.as_str()).or_insert(0) += 1);
    counts
}

/// Four treatments on four rows of four: the layouts with none twice in a row or column are the Latin squares (Fisher 1935, The Design of
/// Experiments).
#[test]
fn a_square_is_dealt_as_a_latin_square_from_any_seed() {
    let bench = Bench::new("arrange square");
    bench.write("a.study", study(&open(4, 4)));
    for seed in ["1", "2", "77"] {
        let run = bench.run(&["arrange", "a.study", "--seed", seed]);
        assert_eq!(run.code, 0, "{}", run.err);
        let rows = rows(&run.out);
        assert_eq!(rows.len(), 4);
        let columns: Vec<Vec<String>> =
            (0..4).map(|column| rows.iter().map(|row| row[column].clone()).collect()).collect();
        for line in rows.iter().chain(&columns) {
            assert_eq!(counted(std::slice::from_ref(line)).len(), 4, "{line:?} in {}", run.out);
        }
    }
}

#[test]
fn what_is_drawn_stays_and_products_come_to_the_same_number() {
    let bench = Bench::new("arrange drawn");
    let map = "    | sage ?  .  ? |   # the top row\n    | ?    ?  ?  bare |\n\n    # a remark\n    | ? | ? | ? | ? |\n";
    bench.write("a.study", study(map));
    let shown = bench.run(&["arrange", "a.study", "--seed", "9"]);
    assert_eq!(shown.code, 0, "{}", shown.err);
    assert_eq!(fs::read_to_string(bench.folder.join("a.study")).unwrap(), study(map), "it is only shown");
    let run = bench.run(&["arrange", "a.study", "--seed", "9", "--write"]);
    assert_eq!(run.code, 0, "{}", run.err);
    let written = fs::read_to_string(bench.folder.join("a.study")).unwrap();
    let dealt = rows(&written);
    assert_eq!(dealt, rows(&shown.out));
    assert_eq!((dealt[0][0].as_str(), dealt[0][2].as_str(), dealt[1][3].as_str()), ("sage", ".", "bare"));
    // Eleven places and one that is left out: two of each product, and bare on the other five.
    let counts = BTreeMap::from([("sage", 2), ("rose", 2), ("mint", 2), ("bare", 5), (".", 1)]);
    assert_eq!(counted(&dealt), counts);
    // Nothing but the rows and one line is changed.
    let other = |text: &str| -> Vec<String> {
        text.lines().filter(|line| !line.trim_start().starts_with('|')).map(str::to_owned).collect()
    };
    let mut expected = other(&study(map));
    let at = expected.iter().position(|line| line == "rounds").unwrap();
    let placed = other(&written)[at].clone();
    assert!(placed.starts_with("    placed 20") && placed.ends_with(", seed 9"), "{placed}");
    expected.insert(at, placed);
    assert_eq!(other(&written), expected);
    assert!(written.contains("|   # the top row\n"), "{written}");
    let again = bench.run(&["arrange", "a.study"]);
    assert_eq!(again.code, 2);
    assert!(again.err.contains("the map was dealt out on"), "{}", again.err);
    let check = bench.run(&["check", "a.study"]);
    assert!(!check.out.contains("left-to-chance"), "{}", check.out);
}

#[test]
fn the_same_study_is_dealt_alike_with_other_line_ends_and_a_mark() {
    let bench = Bench::new("arrange ends");
    let text = study(&open(3, 5));
    bench.write("a.study", &text);
    bench.write("b.study", format!("\u{feff}{}", text.replace('\n', "\r\n")));
    bench.run(&["arrange", "a.study", "--seed", "3", "--write", "--as-of", "2026-08-25"]);
    bench.run(&["arrange", "b.study", "--seed", "3", "--write", "--as-of", "2026-08-25"]);
    let read = |name: &str| fs::read_to_string(bench.folder.join(name)).unwrap();
    let expected = format!("\u{feff}{}", read("a.study").replace('\n', "\r\n"));
    assert_eq!(read("b.study"), expected);
    assert!(expected.contains("    placed 2026-08-25, seed 3\r\n"), "{expected}");
}

#[test]
fn too_few_places_are_told_and_a_number_is_kept() {
    let bench = Bench::new("arrange few");
    bench.write("a.study", study(&open(1, 3)));
    let run = bench.run(&["arrange", "a.study"]);
    assert_eq!(run.code, 2);
    let told = "to give every product 1 section, with those that are drawn already, and bare one, needs 4 more sections, and 3 are left to chance";
    assert!(run.err.contains(told), "{}", run.err);
    bench.write("b.study", study(&open(4, 4)));
    let run = bench.run(&["arrange", "b.study", "--each", "3"]);
    assert_eq!(
        counted(&rows(&run.out)),
        BTreeMap::from([("sage", 3), ("rose", 3), ("mint", 3), ("bare", 7)])
    );
    let run = bench.run(&["arrange", "b.study", "--each", "6"]);
    assert!(run.err.contains("needs 18 more sections, and 16 are left to chance"), "{}", run.err);
}

#[test]
fn papers_are_printed_and_no_report_is_built_while_places_are_open() {
    let bench = Bench::new("arrange papers");
    bench.write("a.study", study(&open(3, 4)));
    let check = bench.run(&["check", "a.study"]);
    assert_eq!(check.code, 1);
    assert!(check.out.contains("error[left-to-chance]: 12 sections are left to chance"), "{}", check.out);
    let print = bench.run(&["print", "a.study", "-o", "out", "--sheet", "baseline"]);
    assert!(bench.names("out").contains(&"sheet-baseline.csv".to_owned()), "{} {}", print.out, print.err);
    let sheet = fs::read_to_string(bench.folder.join("out/sheet-baseline.csv")).unwrap();
    assert_eq!(sheet.lines().count(), 13, "{sheet}");
    let build = bench.run(&["build", "a.study", "-o", "report"]);
    assert_eq!(build.code, 1);
    assert!(bench.names("report").is_empty());
}

/// Twelve sections in order of their gloss: each run of four has every product and bare once.
#[test]
fn each_block_of_like_sections_gets_every_product() {
    let bench = Bench::new("arrange blocks");
    let map = open(3, 4) + "    blocks by gloss-60 at baseline, 3 of 4\n";
    bench.write("a.study", study(&map));
    let run = bench.run(&["arrange", "a.study"]);
    assert_eq!(run.code, 2);
    assert!(run.err.contains("have no number at the round that orders the blocks"), "{}", run.err);
    // Gloss in the order of the map: low, high and middle mixed.
    let gloss = [61, 80, 72, 63, 75, 82, 64, 71, 84, 62, 74, 83];
    let mut csv = String::from("date,round,section,measure,value,unit\n");
    for (at, gloss) in gloss.iter().enumerate() {
        let code = format!("{}{}", ["A", "B", "C"][at / 4], at % 4 + 1);
        for reading in 0..3 {
            writeln!(csv, "2026-08-24,baseline,{code},gloss-60,{gloss}.{reading},GU").unwrap();
        }
    }
    bench.write("shed.csv", csv);
    let run = bench.run(&["arrange", "a.study", "--seed", "4", "--write"]);
    assert_eq!(run.code, 0, "{}", run.err);
    let dealt: Vec<String> = rows(&fs::read_to_string(bench.folder.join("a.study")).unwrap()).concat();
    let mut ordered: Vec<(usize, &String)> = gloss.iter().copied().zip(&dealt).collect();
    ordered.sort();
    for block in ordered.chunks(4) {
        let mut carried: Vec<&str> = block.iter().map(|(_, word)| word.as_str()).collect();
        carried.sort_unstable();
        assert_eq!(carried, ["bare", "mint", "rose", "sage"], "{run:?}", run = run.out);
    }
}
