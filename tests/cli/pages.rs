//! Blocks of pages that a study changes: one is changed, the rest stays, and what does not fit is told with its place.

use super::{Bench, Run};
use std::fs;
use tapeline::checks::example;
use tapeline::pipeline::{TemplateBlock, template_blocks};

const DAY: &str = "2026-07-01";

fn bench(name: &str, blocks: &[(&str, &str)]) -> Bench {
    let bench = Bench::new(name);
    bench.write("door.study", example("pages \"house\"\n").study);
    bench.write("plain.study", example("").study);
    let days = [("2026-03-02", "baseline"), ("2026-03-11", "fresh"), ("2026-06-03", "month 3")];
    let rows = days.map(|(day, round)| format!("{day},{round},A1,gloss-20,88.4\n"));
    bench.write("readings.csv", format!("date,round,section,measure,value\n{}", rows.concat()));
    fs::create_dir(bench.folder.join("house")).unwrap();
    for (name, text) in blocks {
        bench.write(&format!("house/{name}"), text);
    }
    bench
}

fn built(bench: &Bench, command: &str, study: &str, out: &str) -> Run {
    let run = bench.run(&[command, study, "-o", out, "--as-of", DAY]);
    assert_eq!(run.code, 0, "{run:?}");
    run
}

fn text(bench: &Bench, file: &str) -> String {
    fs::read_to_string(bench.folder.join(file)).unwrap()
}

#[test]
fn one_block_is_changed_and_the_rest_stays() {
    let blocks = [
        ("report-end.md", "Printed for *{{ view.title }}*.\n{{ super() }}"),
        ("frame-bottom.html", "<p>{{ \"<b>bold</b>\" }}</p>\n"),
        (
            "frame-style.css",
            ":root { --accent: #123456; --type: Georgia, serif; } @media (prefers-color-scheme: dark) { :root { --accent: #7fd0df; } }\n",
        ),
    ];
    let bench = bench("pages", &blocks);
    built(&bench, "build", "door.study", "out");
    built(&bench, "build", "plain.study", "plain");
    let (own, plain) = (text(&bench, "out/report.md"), text(&bench, "plain/report.md"));
    let last: Vec<&str> = own.lines().rev().take(2).collect();
    assert!(last[0].starts_with("Made by tapeline") && last[1].starts_with("Printed for *"), "{last:?}");
    // But for what the page says of its inputs, all other lines are those of the tool.
    let said = "The study changes blocks of its pages: frame-bottom.html, frame-style.css and report-end.md.";
    let strange =
        |line: &&str| !plain.contains(*line) && !line.contains("| `") && !line.contains("| door.study");
    let strange: Vec<&str> = own.lines().filter(strange).collect();
    assert!(strange.contains(&said) && strange.contains(&last[1]), "{strange:?}");
    assert!(
        strange.iter().all(|line| *line == said
            || *line == last[1]
            || line.contains(".md |")
            || line.contains(".html |")
            || line.contains(".css |")),
        "{strange:?}"
    );
    // What people work by takes nothing of the study's looks.
    for page in ["checklist.html", "run-sheet.html", "safety-cards.html", "labels.html"] {
        assert_eq!(text(&bench, &format!("out/{page}")), text(&bench, &format!("plain/{page}")), "{page}");
    }
    let page = text(&bench, "out/index.html");
    assert!(
        page.contains("<p>&lt;b&gt;bold&lt;/b&gt;</p>") && page.contains("--type: Georgia, serif;"),
        "{page}"
    );
    assert!(text(&bench, "out/map.svg").contains("font-family: Georgia, serif"));
}

#[test]
fn every_block_may_be_given_as_it_is_built_in() {
    let files: Vec<(String, &str)> = template_blocks().map(|block| (block.file(), block.text)).collect();
    let files: Vec<(&str, &str)> = files.iter().map(|(name, text)| (name.as_str(), *text)).collect();
    let bench = bench("pages as they are", &files);
    let run = built(&bench, "build", "door.study", "out");
    assert!(!run.out.contains("page-block"), "{run:?}");
    built(&bench, "build", "plain.study", "plain");
    for page in ["checklist.html", "run-sheet.html", "safety-cards.html", "labels.html", "map.svg"] {
        assert_eq!(text(&bench, &format!("out/{page}")), text(&bench, &format!("plain/{page}")), "{page}");
    }
}

/// Whatever a study writes for the answer, that of the tool stays, and a line parts the two.
#[test]
fn a_false_answer_of_the_house_stands_below_the_true_one_and_is_marked() {
    let lie = "## {{ view.title }}: Bay wins\n\nBay beats all.\n{% if false %}{{ super() }}{% endif %}\n";
    let index = "<h2>Bay wins</h2>\n<!-- {{ super() }} -->\n";
    let bench = bench("pages that lie", &[("report-answer.md", lie), ("index-answer.html", index)]);
    built(&bench, "build", "door.study", "out");
    built(&bench, "build", "plain.study", "plain");
    let mark = "House text: the lines below are the study";
    for (file, false_one) in
        [("report.md", "Bay beats all."), ("report.html", "Bay beats all."), ("index.html", "Bay wins")]
    {
        let (own, plain) = (text(&bench, &format!("out/{file}")), text(&bench, &format!("plain/{file}")));
        let head = if file == "report.md" { "\n## " } else { "<h2" };
        let told = plain[plain.find(head).unwrap()..].lines().find(|line| !line.trim().is_empty()).unwrap();
        let places = [own.find(told), own.find(mark), own.find(false_one)].map(Option::unwrap);
        assert!(places.is_sorted(), "{file}: {places:?}");
        assert_eq!((own.matches(told).count(), plain.contains(mark)), (1, false), "{file}");
    }
}

/// Words of the house right above and below the answer are marked as its own too, and what is built in stays.
#[test]
fn words_of_the_house_beside_the_answer_are_marked() {
    let files = [
        ("report-head.md", "# Bay wins\n\nSo say we.\n"),
        ("report-opening.md", "Bay is what everybody should buy.\n"),
        ("index-head.html", "<h1>Bay wins</h1>\n"),
    ];
    let bench = bench("pages beside the answer", &files);
    built(&bench, "build", "door.study", "out");
    built(&bench, "build", "plain.study", "plain");
    let mark = "House text: the lines below are the study";
    let report = text(&bench, "out/report.md");
    let title = text(&bench, "plain/report.md").lines().next().unwrap().to_owned();
    let places = [title.as_str(), mark, "So say we.", "\n## "].map(|words| report.find(words).unwrap());
    assert!(places.is_sorted(), "{places:?}");
    assert_eq!(report.matches(mark).count(), 2);
    let last = [report.rfind(mark), report.find("everybody should buy")].map(Option::unwrap);
    assert!(last.is_sorted(), "{last:?}");
    let index = text(&bench, "out/index.html");
    let places = [title.trim_start_matches("# "), mark, "<h1>Bay wins</h1>", "class=\"headline\""];
    let places = places.map(|words| index.find(words).unwrap());
    assert!(places.is_sorted(), "{places:?}");
}

/// The guard of the answer stands first, and only where there is a style to guard it from.
#[test]
fn a_style_of_the_house_stands_behind_what_keeps_the_answer_in_sight() {
    let bench = bench("pages with a style", &[("frame-style.css", ".answer { display: none !important }\n")]);
    built(&bench, "build", "door.study", "out");
    built(&bench, "build", "plain.study", "plain");
    for page in ["report.html", "index.html"] {
        let own = text(&bench, &format!("out/{page}"));
        assert!(own.find("@layer kept").unwrap() < own.find("display: none !important").unwrap(), "{page}");
        assert!(!text(&bench, &format!("plain/{page}")).contains("@layer"), "{page}");
    }
}

#[test]
fn a_bundle_makes_the_same_pages_again() {
    let bench = bench("pages in a bundle", &[("report-end.md", "Printed by the workshop.\n")]);
    built(&bench, "bundle", "door.study", "first");
    built(&bench, "bundle", "first/study/door.study", "second");
    for folder in ["", "study", "study/house"] {
        let files = |bundle: &str| {
            let inside = bench.folder.join(bundle).join(folder);
            let names = bench.names(&format!("{bundle}/{folder}"));
            let files = names.into_iter().filter(|name| inside.join(name).is_file());
            files.map(|name| (name.clone(), fs::read(inside.join(name)).unwrap())).collect::<Vec<_>>()
        };
        assert!(!files("first").is_empty());
        assert_eq!(files("first"), files("second"), "{folder}");
    }
}

/// Each slip with the place that is marked and what is said.
#[test]
fn what_does_not_fit_is_told_with_file_line_and_remedy() {
    let cases = [
        (
            "report-end.md",
            "Fine.\n{{ view.titel }}\n",
            "house/report-end.md:2:4",
            "did you mean `view.title`?",
        ),
        ("report-end.md", "Fine.\n\n{% if view.title %}open\n", "house/report-end.md:3", "no sound template"),
        (
            "report-table.md",
            "{% for row in block.rows %}\n{{ row.txt }}\n{% endfor %}\n",
            "house/report-table.md:2:4",
            "`row.txt` has no value",
        ),
        ("index-end.html", "<p>{{ view.title|shout }}</p>\n", "house/index-end.html:1", "shout"),
        ("index-end.html", "<p>{{ view.title|safe }}</p>\n", "house/index-end.html:1", "safe"),
        (
            "index-end.html",
            "<p>\n<SCRIPT>x</SCRIPT></p>\n",
            "house/index-end.html:2:1",
            "a page says all without one",
        ),
        (
            "index-end.html",
            "<p onclick = \"x\">a</p>\n",
            "house/index-end.html:1:4",
            "this would be a script",
        ),
        ("frame-top.html", "<p>a</p>\n<div hidden>\n", "house/frame-top.html:2:1", "close it: `</div>`"),
        (
            "index-end.html",
            "<p style=\"top: 0 !important\">a</p>\n",
            "house/index-end.html:1:18",
            "put rules of style into",
        ),
        ("frame-top.html", "<img src=\"mark.png\">\n", "house/frame-top.html:1:5", "draw it as SVG"),
        (
            "frame-style.css",
            "@media print { p { background: url(https://a.example/b.png) } }",
            "house/frame-style.css:1",
            "this would be another file",
        ),
        (
            "report-end.md",
            "![a](b.png) http://a.example/\n",
            "house/report-end.md:1:13",
            "an address on the network",
        ),
    ];
    for (file, content, place, help) in cases {
        let bench = bench("pages with slips", &[(file, content)]);
        let run = bench.run(&["build", "door.study", "-o", "out", "--as-of", DAY]);
        assert_eq!(run.code, 1, "{content}: {run:?}");
        assert!(run.out.contains(place) && run.out.contains(help), "{content}\n{}", run.out);
        assert!(bench.names("out").is_empty(), "{content}");
    }
}

#[test]
fn what_changes_nothing_is_told() {
    let blocks =
        [("report-ent.md", "a\n"), ("notes.txt", "b\n"), ("frame-style.css", ":root { --acent: red }\n")];
    let bench = bench("pages that change nothing", &blocks);
    let run = built(&bench, "build", "door.study", "out");
    for told in [
        "did you mean `report-end.md`?",
        "no block of a page is called `notes.txt`",
        "did you mean `--accent`?",
    ] {
        assert!(run.out.contains(told), "{told}: {}", run.out);
    }
}

#[test]
fn a_block_is_never_written_over() {
    let bench = bench("pages beside outputs", &[("report-end.md", "a\n")]);
    let run = bench.run(&["bundle", "door.study", "-o", ".", "--as-of", DAY]);
    assert_eq!(run.code, 2, "{run:?}");
    assert_eq!(text(&bench, "house/report-end.md"), "a\n");
}

#[test]
fn blocks_are_listed_and_printed() {
    let bench = Bench::new("pages listed");
    let list = bench.run(&["pages"]);
    assert_eq!(list.code, 0);
    for block in template_blocks() {
        let TemplateBlock { what, .. } = block;
        assert!(list.out.contains(&block.file()) && list.out.contains(what), "{}", list.out);
        assert_eq!(bench.run(&["pages", &block.file()]).out, block.text);
    }
    let slip = bench.run(&["pages", "report-ends.md"]);
    assert!(slip.code == 2 && slip.err.contains("did you mean `report-end.md`?"), "{slip:?}");
}

#[test]
fn a_style_of_the_study_hides_no_hazard_and_no_step() {
    let rule = ".never, .hazards, li { display: none }";
    let blocks =
        [("frame-style.css", format!("{rule}\n")), ("frame-top.html", "<div hidden></div>\n".to_owned())];
    let blocks: Vec<(&str, &str)> = blocks.iter().map(|(name, text)| (*name, text.as_str())).collect();
    let bench = bench("pages that hide", &blocks);
    built(&bench, "build", "door.study", "out");
    built(&bench, "print", "door.study", "sheets");
    assert!(text(&bench, "out/report.html").contains(rule));
    let sheets: Vec<String> = bench.names("sheets").iter().map(|name| format!("sheets/{name}")).collect();
    assert!(sheets.iter().any(|name| name.contains(".html")), "{sheets:?}");
    let worked_by = ["out/checklist.html", "out/run-sheet.html", "out/safety-cards.html", "out/labels.html"]
        .map(str::to_owned);
    for page in worked_by.into_iter().chain(sheets) {
        let page_text = text(&bench, &page);
        assert!(!page_text.contains(rule) && !page_text.contains("<div hidden>"), "{page}");
    }
}

/// The tool speaks again below a line of its own, and no last line of the house runs into it.
#[test]
fn words_of_the_house_end_where_they_end() {
    let blocks =
        [("report-answer.md", "## All products are equal"), ("index-answer.html", "<p>All are equal.</p>")];
    let bench = bench("pages without a line end", &blocks);
    built(&bench, "build", "door.study", "out");
    for (file, words) in
        [("report.md", "\n## All products are equal\n"), ("index.html", "<p>All are equal.</p>\n")]
    {
        let page = text(&bench, &format!("out/{file}"));
        let places = [words, "End of the house text."].map(|words| page.find(words));
        assert!(places[0].is_some() && places.is_sorted(), "{file}: {places:?}");
        assert_eq!(page.matches("End of the house text.").count(), 1, "{file}");
    }
}

#[test]
fn a_block_that_never_ends_is_told_and_not_waited_for() {
    let turn = "{% for one in range(100000) %}{% for other in range(100000) %}{% endfor %}{% endfor %}\n";
    let bench = bench("pages that turn", &[("report-end.md", turn)]);
    let run = bench.run(&["build", "door.study", "-o", "out", "--as-of", DAY]);
    assert_eq!(run.code, 1, "{run:?}");
    assert!(run.out.contains("`report-end.md` takes too long to print"), "{}", run.out);
}
