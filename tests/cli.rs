//! The binary as a user runs it: exit codes, what is written and what is left alone, and bad input of every kind.

#![allow(
    clippy::unwrap_used,
    clippy::disallowed_methods,
    reason = "a test runs the program and looks at its files"
)]

#[path = "cli/arrange.rs"]
mod arrange;
#[path = "cli/disk.rs"]
mod disk;
#[path = "cli/explain.rs"]
mod explain;
#[path = "cli/pages.rs"]
mod pages;
#[path = "cli/photos.rs"]
mod photos;
#[path = "cli/record.rs"]
mod record;
#[path = "cli/share.rs"]
mod share;
#[path = "cli/spare.rs"]
mod spare;
#[path = "cli/starter.rs"]
mod starter_dates;

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

/// A folder of its own for each test, with a blank in its name, removed at the end.
struct Bench {
    folder: PathBuf,
}

impl Bench {
    fn new(name: &str) -> Self {
        let folder = std::env::temp_dir().join(format!("tapeline {name} {}", std::process::id()));
        let _ = fs::remove_dir_all(&folder);
        fs::create_dir_all(&folder).unwrap();
        Self { folder }
    }

    fn write(&self, name: &str, bytes: impl AsRef<[u8]>) -> PathBuf {
        let path = self.folder.join(name);
        fs::write(&path, bytes).unwrap();
        path
    }

    fn run(&self, arguments: &[&str]) -> Run {
        Run::from(self.command(arguments).output().unwrap())
    }

    /// Runs where the clock shows so many hours more or less than in Greenwich, in the spelling of POSIX.
    fn run_in_zone(&self, zone: &str, arguments: &[&str]) -> Run {
        Run::from(self.command(arguments).env("TZ", zone).output().unwrap())
    }

    fn command(&self, arguments: &[&str]) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_tapeline"));
        command.args(arguments).current_dir(&self.folder);
        command
    }

    /// Copies an example, with its readings and its record if it has any.
    fn example(&self, name: &str) -> String {
        let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples").join(name);
        for file in [&format!("{name}.study"), "readings.csv", "roof.csv", "lake.csv", "log.csv"] {
            if let Ok(bytes) = fs::read(root.join(file)) {
                self.write(file, bytes);
            }
        }
        format!("{name}.study")
    }

    /// Every file of a folder with its bytes.
    fn bytes(&self, folder: &str) -> Vec<(String, Vec<u8>)> {
        let read = |name: String| (name.clone(), fs::read(self.folder.join(folder).join(name)).unwrap());
        self.names(folder).into_iter().map(read).collect()
    }

    fn names(&self, folder: &str) -> Vec<String> {
        let Ok(entries) = fs::read_dir(self.folder.join(folder)) else { return Vec::new() };
        let mut names: Vec<String> =
            entries.map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
        names.sort();
        names
    }
}

impl Drop for Bench {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.folder);
    }
}

#[derive(Debug)]
struct Run {
    code: i32,
    out: String,
    err: String,
}

impl From<Output> for Run {
    fn from(output: Output) -> Self {
        let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap();
        Self { code: output.status.code().unwrap(), out: text(output.stdout), err: text(output.stderr) }
    }
}

const DAY: &[&str] = &["--as-of", "2026-09-07"];

fn checked(bench: &Bench, file: &str) -> Run {
    bench.run(&[&["check", file], DAY].concat())
}

fn starter(bench: &Bench) -> String {
    assert_eq!(bench.run(&["new", "my door.study", "--begins", "2026-09-07"]).code, 0);
    fs::read_to_string(bench.folder.join("my door.study")).unwrap()
}

#[test]
fn the_starter_checks_clean_and_builds_every_output() {
    let bench = Bench::new("starter");
    starter(&bench);
    let check = checked(&bench, "my door.study");
    assert_eq!((check.code, check.out.as_str()), (0, "No findings.\n"), "{check:?}");
    let build = bench.run(&["build", "my door.study", "-o", "out folder", "--as-of", "2026-09-07"]);
    assert_eq!(build.code, 0, "{build:?}");
    let expected = [
        "calendar.ics",
        "checklist.html",
        "findings.json",
        "index.html",
        "labels.html",
        "map.svg",
        "readings.csv",
        "report.html",
        "report.md",
        "run-sheet.html",
        "safety-cards.html",
    ];
    assert_eq!(bench.names("out folder"), expected);
}

#[test]
fn the_readme_prints_the_true_output() {
    let bench = Bench::new("readme");
    let text = starter(&bench);
    bench.write("my.study", text.replace("slick,  rinse", "slick,  rince"));
    let run = checked(&bench, "my.study");
    let readme = include_str!("../README.md");
    let shown = readme.split("$ tapeline check my.study\n").nth(1).and_then(|rest| rest.split("```").next());
    assert_eq!(Some(run.out.as_str()), shown);
}

#[test]
fn a_file_that_is_there_is_never_overwritten_by_new() {
    let bench = Bench::new("new");
    bench.write("mine.study", "mine");
    let run = bench.run(&["new", "mine.study"]);
    assert_eq!(run.code, 2);
    assert!(run.err.contains("mine.study is there already"), "{run:?}");
    assert_eq!(fs::read_to_string(bench.folder.join("mine.study")).unwrap(), "mine");
}

#[test]
fn a_study_with_errors_writes_nothing_and_leaves_older_outputs_alone() {
    let bench = Bench::new("errors");
    let text = starter(&bench);
    bench.write("bad.study", text.replace("size        960 x 640 mm", "size        960 x 640"));
    fs::create_dir(bench.folder.join("out")).unwrap();
    bench.write("out/report.html", "older");
    bench.write("out/notes.txt", "not ours");
    let run = bench.run(&["build", "bad.study", "-o", "out", "--as-of", "2026-09-07"]);
    assert_eq!(run.code, 1, "{run:?}");
    assert!(run.out.contains("`640` has no unit") && run.out.contains("Nothing was written"), "{run:?}");
    assert_eq!(bench.names("out"), ["notes.txt", "report.html"]);
    assert_eq!(fs::read_to_string(bench.folder.join("out/report.html")).unwrap(), "older");
}

#[test]
fn a_file_that_the_study_reads_is_never_written_over() {
    let bench = Bench::new("inputs");
    starter(&bench);
    let rows = "date,round,section,measure,value,unit,gauge,by\n2026-09-08,baseline,A1,gloss-20,88.1,GU,gloss-meter,me\n";
    bench.write("readings.csv", rows);
    for command in ["build", "report"] {
        let run = bench.run(&[command, "my door.study", "-o", ".", "--as-of", "2026-09-09"]);
        assert_eq!(run.code, 2, "{run:?}");
        assert!(run.err.contains("would be written over"), "{run:?}");
    }
    assert_eq!(fs::read_to_string(bench.folder.join("readings.csv")).unwrap(), rows);
    assert_eq!(bench.names("."), ["my door.study", "readings.csv"]);
}

#[test]
fn a_study_as_of_an_earlier_day_knows_nothing_of_later_readings() {
    let bench = Bench::new("past");
    bench.example("foredeck");
    let run = bench.run(&["report", "foredeck.study", "-o", "out", "--as-of", "2025-08-01"]);
    assert_eq!(run.code, 0, "{run:?}");
    let report = fs::read_to_string(bench.folder.join("out/report.md")).unwrap();
    assert!(report.contains("## Not finished: haul-out is still to come"), "{}", &report[..800]);
}

/// Two clocks that are 48 hours apart never show the same day.
#[test]
fn outputs_are_the_same_on_two_days_of_the_clock() {
    let bench = Bench::new("days");
    let day = |run: &Run| {
        let findings: serde_json::Value = serde_json::from_str(&run.out).unwrap();
        findings["date"].as_str().unwrap().to_owned()
    };
    for name in ["beginner", "foredeck"] {
        let study = bench.example(name);
        let look = |zone: &str| bench.run_in_zone(zone, &["check", &study, "--findings", "json"]);
        assert_ne!(day(&look("EAST-24")), day(&look("WEST24")), "the clock was not moved");
        for command in ["build", "report", "print"] {
            let write = |zone: &str| {
                let folder = format!("{name} {command} {zone}");
                let run = bench.run_in_zone(zone, &[command, &study, "-o", &folder]);
                assert_eq!(run.code, 0, "{run:?}");
                bench.bytes(&folder)
            };
            assert!(write("EAST-24") == write("WEST24"), "{command} of {name} depends on the clock");
        }
    }
}

#[test]
fn a_bundle_is_described_and_builds_the_same_pages_again() {
    let bench = Bench::new("bundle");
    let file = bench.example("coach-door");
    for day in [None, Some("2026-01-20")] {
        let asked: Vec<&str> = day.iter().flat_map(|day| ["--as-of", day]).collect();
        assert_eq!(bench.run(&[&["bundle", &file, "-o", "out"], asked.as_slice()].concat()).code, 0);
        assert_eq!(
            fs::read(bench.folder.join("out/study").join(&file)).unwrap(),
            fs::read(bench.folder.join(&file)).unwrap()
        );
        let text = fs::read_to_string(bench.folder.join("out/datapackage.json")).unwrap();
        let package: serde_json::Value = serde_json::from_str(&text).unwrap();
        let resources = package["resources"].as_array().unwrap();
        assert_eq!(resources.len(), 14);
        for resource in resources {
            let bytes = fs::read(bench.folder.join("out").join(resource["path"].as_str().unwrap())).unwrap();
            assert_eq!(resource["bytes"], bytes.len());
            assert_eq!(resource["hash"], format!("sha256:{}", tapeline::text::sha256(&[&bytes])));
        }
        // The command that the description gives, run where a stranger would run it.
        let description = package["description"].as_str().unwrap();
        let command = description.split_once("tapeline build ").unwrap().1;
        let words: Vec<&str> = command.split(' ').map(|word| word.trim_matches('"')).collect();
        assert_eq!(words.contains(&"--as-of"), day.is_some(), "{command}");
        let stranger = Bench { folder: bench.folder.join("out") };
        assert_eq!(stranger.run(&[&["build"], words.as_slice()].concat()).code, 0);
        for (name, bytes) in bench.bytes("out/again") {
            assert!(bytes == fs::read(bench.folder.join("out").join(&name)).unwrap(), "{name} differs");
        }
    }
}

#[test]
fn a_bundle_never_leads_out_of_its_folder() {
    let bench = Bench::new("bundle leads out");
    let text = fs::read_to_string(bench.folder.join(bench.example("coach-door"))).unwrap();
    fs::create_dir(bench.folder.join("deep")).unwrap();
    bench.write("deep/my.study", text.replace("readings \"readings.csv\"", "readings \"../readings.csv\""));
    let run = bench.run(&["bundle", "deep/my.study", "-o", "out"]);
    assert_eq!(run.code, 2, "{run:?}");
    assert!(run.err.contains("../readings.csv: a bundle holds the readings beside the study"), "{run:?}");
    assert!(!bench.folder.join("out").exists());
}

#[test]
fn what_is_overdue_today_is_told_and_stands_in_no_file() {
    let bench = Bench::new("overdue");
    let study = bench.example("foredeck");
    // Without its later rounds the study was last read long ago.
    let text = fs::read_to_string(bench.folder.join("readings.csv")).unwrap();
    let early: Vec<&str> = text.lines().filter(|line| !line.contains("haul-out")).collect();
    bench.write("readings.csv", early.join("\n"));
    let run = bench.run(&["build", &study, "-o", "out"]);
    assert!(run.code == 0 && run.out.contains("round-missed"), "{run:?}");
    let findings = fs::read_to_string(bench.folder.join("out/findings.json")).unwrap();
    assert!(!findings.contains("round-missed"), "{findings}");
}

#[test]
fn a_readings_file_that_should_be_there_stops_the_report_and_not_the_papers() {
    let bench = Bench::new("absent");
    let study = bench.example("foredeck");
    fs::remove_file(bench.folder.join("readings.csv")).unwrap();
    for command in ["build", "report"] {
        let run = bench.run(&[command, &study, "-o", "out"]);
        assert!(run.code == 1 && run.out.contains("readings-file-absent"), "{run:?}");
        assert!(bench.names("out").is_empty(), "{run:?}");
    }
    let run = bench.run(&["print", &study, "-o", "out"]);
    assert!(run.code == 1 && run.out.contains("readings-file-absent"), "{run:?}");
    // What can be read no more has no table, and its sheet to write on.
    let names = bench.names("out");
    let sheets = names.iter().filter(|name| name.starts_with("sheet-")).count();
    assert!(names.len() == 12 && sheets == 6 && !names.iter().any(|name| name.contains(".csv")), "{names:?}");
    assert!(run.out.contains("No round is left to read, so the sheets are to write on"), "{run:?}");
}

#[test]
fn a_reading_of_a_day_to_come_is_told_by_every_command() {
    let bench = Bench::new("future");
    let study = bench.example("foredeck");
    let text = fs::read_to_string(bench.folder.join("readings.csv")).unwrap();
    bench.write("readings.csv", text.replace("2025-10-28", "2125-10-28"));
    for arguments in [vec!["check", &study], vec!["build", &study, "-o", "out"]] {
        let run = bench.run(&arguments);
        assert!(run.code == 0 && run.out.contains("warning[read-in-future]"), "{run:?}");
    }
    // A day that is asked for is on every page, whatever the file says.
    let run = bench.run(&["build", &study, "-o", "past", "--as-of", "2025-09-01"]);
    assert!(run.code == 0 && !run.out.contains("read-in-future"), "{run:?}");
    let report = fs::read_to_string(bench.folder.join("past/report.md")).unwrap();
    assert!(report.contains("as of 2025-09-01") && !report.contains("2125"), "{report}");
}

#[test]
fn print_writes_an_empty_sheet_and_never_over_a_filled_one() {
    let bench = Bench::new("sheet");
    starter(&bench);
    let print = |more: &[&str]| bench.run(&[&["print", "my door.study", "-o", "papers"], DAY, more].concat());
    let run = print(&[]);
    assert_eq!(run.code, 0, "{run:?}");
    assert!(
        run.out.ends_with(
            "Fill in sheet-baseline.csv and put it beside the study as readings.csv, which the study reads; name each later table there, as `readings \"sheet-fresh.csv\"`.\n"
        ),
        "{run:?}"
    );
    assert_eq!(
        bench.names("papers"),
        [
            "calendar.ics",
            "checklist.html",
            "labels.html",
            "map.svg",
            "run-sheet.html",
            "safety-cards.html",
            "sheet-baseline.csv",
            "sheet-baseline.html",
            "sheet-fresh.csv",
            "sheet-fresh.html",
            "sheet-month-3.csv",
            "sheet-month-3.html",
            "sheet-month-6.csv",
            "sheet-month-6.html"
        ]
    );
    let sheet = fs::read_to_string(bench.folder.join("papers/sheet-baseline.csv")).unwrap();
    assert!(sheet.starts_with("date,time,round,section,measure,unit,by,1,2,3,4,5\n"), "{sheet}");
    // The empty sheet may be written again.
    assert_eq!(print(&[]).code, 0);
    let filled = sheet.replacen(
        ",,baseline,A1,gloss-20,GU,,,,,,",
        "2026-09-08,,baseline,A1,gloss-20,GU,me,80,81,80,81,80",
        1,
    );
    assert_ne!(filled, sheet);
    bench.write("papers/sheet-baseline.csv", &filled);
    let older = "<svg class=\"picture\">older</svg>";
    bench.write("papers/map.svg", older);
    let run = print(&[]);
    assert!(run.code == 2 && run.err.contains("is there and is not the empty sheet"), "{run:?}");
    assert_eq!(fs::read_to_string(bench.folder.join("papers/sheet-baseline.csv")).unwrap(), filled);
    assert_eq!(fs::read_to_string(bench.folder.join("papers/map.svg")).unwrap(), older);
    assert_eq!(print(&["--sheet", "none"]).code, 0);
    assert_ne!(fs::read_to_string(bench.folder.join("papers/map.svg")).unwrap(), older);
    assert_eq!(print(&["--sheet", "month 6", "--sheet", "fresh"]).code, 0);
    assert!(
        bench.folder.join("papers/sheet-month-6.html").exists()
            && bench.folder.join("papers/sheet-fresh.csv").exists()
    );
    let run = print(&["--sheet", "month 7"]);
    assert!(run.code == 2 && run.err.contains("no round is called `month 7`"), "{run:?}");
    // Beside the study it is the readings file, and is read without a word.
    bench.write("readings.csv", &filled);
    let run = bench.run(&["check", "my door.study", "--as-of", "2026-09-08"]);
    assert_eq!((run.code, run.out.as_str()), (0, "No findings.\n"), "{run:?}");
}

#[test]
fn rows_that_are_passed_over_are_counted() {
    let bench = Bench::new("passed over");
    let study = bench.example("foredeck");
    let run = bench.run(&["check", &study, "--as-of", "2025-10-01"]);
    assert!(
        run.out.ends_with(
            "Passed over, since they are of days after 2025-10-01: 112 rows of its files and 0 records.\n"
        ),
        "{run:?}"
    );
    let run = bench.run(&["check", &study, "--as-of", "2025-10-28"]);
    assert!(!run.out.contains("Passed over"), "{run:?}");
}

#[test]
fn a_waived_finding_is_in_the_report_with_its_reason() {
    let bench = Bench::new("waived");
    let text = starter(&bench).replace("put out     2026-09-18", "put out     2026-09-12");
    bench.write(
        "waived.study",
        format!("{text}allow put out before cure for exposure because \"dry spell\"\n"),
    );
    let run = bench.run(&["report", "waived.study", "-o", "out", "--as-of", "2026-09-07"]);
    assert_eq!(run.code, 0, "{run:?}");
    let report = fs::read_to_string(bench.folder.join("out/report.md")).unwrap();
    assert!(report.contains("put-out-before-cure") && report.contains("dry spell"), "{run:?}");
}

#[test]
fn exit_codes_follow_the_asked_severity() {
    let bench = Bench::new("severity");
    let text = starter(&bench);
    bench.write(
        "advice.study",
        text.replace("    decide by   gloss-20 at month 6", "    # decide by   gloss-20 at month 6"),
    );
    let at =
        |level: &str| bench.run(&["check", "advice.study", "--as-of", "2026-09-07", "--fail-on", level]).code;
    assert_eq!((at("error"), at("warning"), at("advice")), (0, 0, 1));
}

#[test]
fn what_cannot_run_exits_with_2_and_says_why() {
    let bench = Bench::new("cannot");
    for (arguments, why) in [
        (vec!["check", "missing.study"], "missing.study cannot be read: there is no such file or folder"),
        (vec!["check"], "required arguments"),
        (vec!["check", "."], "is a folder"),
        (vec!["polish", "a.study"], "unrecognized subcommand"),
        (vec!["explain", "no-dwel"], "did you mean `no-dwell`?"),
    ] {
        let run = bench.run(&arguments);
        assert_eq!(run.code, 2, "{arguments:?}: {run:?}");
        assert!(run.err.contains(why), "{arguments:?}: {run:?}");
    }
    bench.write("latin.study", b"study \"Caf\xe9\"\n");
    let run = bench.run(&["check", "latin.study"]);
    assert_eq!(run.code, 2);
    assert!(run.err.contains("latin.study, line 1: this is not UTF-8 text"), "{run:?}");
}

#[test]
fn plan_says_what_the_layout_tells_apart_and_what_more_would_buy() {
    let bench = Bench::new("plan");
    bench.write("my.study", starter(&bench));
    let run = bench.run(&["plan", "my.study", "--as-of", "2026-09-07"]);
    assert_eq!(run.code, 0, "{run:?}");
    // A doubled scatter of everything doubles every figure of the first table.
    let figures = |arguments: &[&str]| -> Vec<f64> {
        let run = bench.run(&[&["plan", "my.study", "--as-of", "2026-09-07"], arguments].concat());
        let table = run.out.split("bare sections  from bare").nth(1).unwrap_or_default();
        let rows = table.lines().skip(2).take_while(|line| !line.is_empty());
        rows.filter_map(|row| row.split_whitespace().nth(1)?.parse().ok()).collect()
    };
    let once = figures(&["--section-spread", "10", "--reading-spread", "0.000001"]);
    let twice = figures(&["--section-spread", "20", "--reading-spread", "0.000001"]);
    assert!(once.len() >= 8, "{once:?}");
    assert!(once.iter().zip(&twice).all(|(one, two)| (two / one - 2.0).abs() < 0.1), "{once:?} {twice:?}");
    let refused = |spread: &&str| bench.run(&["plan", "my.study", "--section-spread", *spread]).code == 2;
    assert!(["-1", "1e308", "inf", "nan"].iter().all(refused), "{:?}", figures(&["--section-spread", "1e9"]));
}

#[test]
fn a_plan_says_by_which_spread_it_was_made_where_spreads_differ() {
    let bench = Bench::new("plan-spreads");
    bench.write("my.study", starter(&bench).replacen("    begins", "    spreads differ\n    begins", 1));
    let run = bench.run(&["plan", "my.study", "--as-of", "2026-09-07"]);
    let words = run.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        words.contains("With fewer than 4 sections to a product or to bare the report cannot"),
        "{run:?}"
    );
}

#[test]
fn findings_as_json_are_never_cut() {
    let bench = Bench::new("json");
    let text = starter(&bench);
    let broken = "    nonsense here\n".repeat(60);
    bench.write(
        "many.study",
        text.replace("\nupkeep", "")
            .replace("    put out     2026-09-18\n", &format!("    put out     2026-09-18\n{broken}")),
    );
    let run = bench.run(&["check", "many.study", "--as-of", "2026-09-07", "--findings", "json"]);
    assert_eq!(run.code, 1);
    let findings: serde_json::Value = serde_json::from_str(&run.out).unwrap();
    assert!(findings["findings"].as_array().unwrap().len() >= 60);
    assert_eq!(findings["findings"][0]["file"], "many.study");
}

#[test]
fn windows_line_ends_and_a_byte_order_mark_change_nothing() {
    let bench = Bench::new("windows");
    let text = starter(&bench);
    bench.write("crlf.study", format!("\u{feff}{}", text.replace('\n', "\r\n")));
    let run = checked(&bench, "crlf.study");
    assert_eq!((run.code, run.out.as_str()), (0, "No findings.\n"));
}

#[test]
fn bad_studies_give_a_clear_finding_and_no_panic() {
    let bench = Bench::new("bad");
    let text = starter(&bench);
    let long = format!("study \"{}\"\n", "x".repeat(1_000_000));
    let cases: [(&str, String, &str); 5] = [
        ("empty", String::new(), "the study has no `study`"),
        ("blank", "\n\n  \n".into(), "the study has no `study`"),
        ("long", format!("{long}{}", "y".repeat(1_000_000)), "opens no block"),
        ("ragged", text.replace("    | rose  mint  bare  sage |", "    | rose  mint  bare |"), "row"),
        ("binary", "\u{0}\u{1}\u{2}".into(), "opens no block"),
    ];
    for (name, study, message) in cases {
        let file = format!("{name}.study");
        bench.write(&file, study);
        let run = checked(&bench, &file);
        assert!(run.out.contains(message), "{name}: {}", &run.out[..run.out.len().min(2000)]);
        assert!(run.out.len() < 100_000, "{name} prints {} bytes", run.out.len());
        assert!(run.err.is_empty(), "{name}: {}", run.err);
    }
}

#[test]
fn ten_thousand_sections_are_checked_and_drawn() {
    let bench = Bench::new("large");
    let text = starter(&bench);
    let row = format!("    | {} |\n", "sage bare mint rose ".repeat(25));
    let (before, after) = text.split_once("map  sections").unwrap();
    let after = after.split_once("\n\n").unwrap().1;
    let map =
        format!("map  sections 185 x 125 mm  gap 26 mm  from left 62 mm, top 104 mm\n{}\n", row.repeat(100));
    bench.write(
        "large.study",
        format!("{before}{map}{after}")
            .replace("960 x 640 mm", "22000 x 17000 mm")
            .replace("    avoid ", "    # avoid "),
    );
    let run = bench.run(&["print", "large.study", "-o", "out", "--as-of", "2026-09-07"]);
    assert_eq!(run.code, 0, "{}", &run.out[..run.out.len().min(2000)]);
    assert!(fs::metadata(bench.folder.join("out/map.svg")).unwrap().len() > 100_000);
}

#[test]
fn bad_readings_name_file_line_and_remedy() {
    let bench = Bench::new("readings");
    starter(&bench);
    let head = "date,round,section,measure,value,unit,gauge,by\n";
    let cases: [(&str, Vec<u8>, &str); 6] = [
        ("header", b"when,what,where\n1,2,3\n".to_vec(), "readings.csv:1:"),
        (
            "text",
            format!("{head}2026-09-08,baseline,A1,gloss-20,shiny,GU,gloss-meter,me\n").into(),
            "readings.csv:2:",
        ),
        ("section", format!("{head}2026-09-08,baseline,Z9,gloss-20,88.1,GU,gloss-meter,me\n").into(), "Z9"),
        (
            "date",
            format!("{head}03/04/2026,baseline,A1,gloss-20,88.1,GU,gloss-meter,me\n").into(),
            "2026-04-03",
        ),
        ("utf16", "\u{feff}date,round".encode_utf16().flat_map(u16::to_le_bytes).collect(), "UTF-16"),
        ("line", format!("{head}{}\n", "x".repeat(1_000_000)).into(), "readings.csv:2:"),
    ];
    for (name, bytes, message) in cases {
        bench.write("readings.csv", bytes);
        let run = bench.run(&["check", "my door.study", "--as-of", "2026-09-12"]);
        assert!(run.out.contains(message), "{name}: {}", &run.out[..run.out.len().min(3000)]);
        assert!(run.out.len() < 100_000 && run.err.is_empty(), "{name}");
    }
    fs::remove_file(bench.folder.join("readings.csv")).unwrap();
    let late = bench.run(&["check", "my door.study", "--as-of", "2027-01-15"]);
    assert_eq!(late.code, 1, "{late:?}");
    assert!(late.out.contains("readings.csv"), "{late:?}");
}
