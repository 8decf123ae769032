//! A style of the study: it may colour and set the answer otherwise, and hides it in no way.

use super::chromium::{Browser, Scheme, View};
use super::examples::{Page, folder};
use super::none;
use std::fs;
use tapeline::checks::example;
use tapeline::pipeline::{self, Day};

/// Ways to take a text from the eye, each on the answer, on what stands around it, or on the colours below it.
const HIDING: &[&str] = &[
    "display: none",
    "display: none !important",
    "display: contents; position: absolute; left: -9999px",
    "visibility: hidden",
    "opacity: 0 !important",
    "font-size: 0 !important",
    "font: 0/0 serif !important",
    "line-height: 0; max-height: 0; overflow: hidden",
    "position: fixed; top: -9999px",
    "position: absolute; clip: rect(0 0 0 0)",
    "clip-path: inset(100%)",
    "transform: translateX(-9999px)",
    "translate: -9999px",
    "scale: 0",
    "zoom: 0.01",
    "text-indent: -9999px",
    "margin-left: -9999px !important",
    "padding-left: 9999px !important",
    "filter: opacity(0)",
    "mask: linear-gradient(transparent, transparent)",
    "content-visibility: hidden",
    "color: var(--paper) !important; background: var(--paper) !important",
    "color: transparent !important",
    "-webkit-text-fill-color: transparent",
    "--ink: #fff; --soft: #fff; --sheet: #fff; --paper: #fff",
    "height: 0; overflow: hidden; width: 0",
    "mix-blend-mode: difference; writing-mode: vertical-rl",
];

const PLACES: &[&str] = &[
    "html body main .answer.answer, html body main .headline.headline, .headline ~ p.p, .headline ~ p",
    "html body main .answer *, .headline ~ p, .headline",
    "html body main",
    "body, html",
];

/// Covers that are drawn over a page.
const COVERS: &[&str] = &[
    "body::before { content: ''; position: fixed; inset: 0; background: #fff; z-index: 99 }",
    ".answer::after { content: ''; position: absolute; inset: 0; background: #000 }",
    ".masthead { position: fixed; inset: 0; background: #fff; z-index: 99 }",
    ".contents, figure, .files { position: fixed; inset: 0; background: #fff; z-index: 99 }",
];

fn pages(home: &str, style: &str) -> [Page; 2] {
    pages_with(home, "house/frame-style.css", style)
}

/// Built into a folder of its own for each test, since tests run beside each other.
fn pages_with(home: &str, file: &str, text: &str) -> [Page; 2] {
    let study = example("pages \"house\"\n").study;
    let files = [
        (file.to_owned(), text.as_bytes().to_vec()),
        (
            "readings.csv".to_owned(),
            b"date,round,section,measure,value\n2026-06-03,month 3,A1,gloss-20,88.4\n".to_vec(),
        ),
    ];
    let outcome = pipeline::check("door.study", &study, &files, Day::Today("2026-07-01".parse().unwrap()));
    assert_eq!(outcome.blocks.len(), 1, "{:?}", outcome.findings);
    let folder = folder(home);
    for artifact in outcome.build(Some(&["report.html", "index.html", "map.svg"])).unwrap() {
        fs::write(folder.join(artifact.name), &artifact.bytes).unwrap();
    }
    ["report.html", "index.html"].map(|name| Page { name: name.to_owned(), path: folder.join(name) })
}

const SEEN: &str = include_str!("seen.js");

/// Elements of a changed block that would lie over the answer, or draw it off the page.
const ELEMENTS: [&str; 4] = [
    "<div style=\"position: fixed; inset: 0; background: #fff; z-index: 99\"></div>",
    "<div style=\"margin-bottom: -3000px; background: #fff\">Ours</div>",
    "<div style=\"height: 10px; box-shadow: 0 0 0 9999px #fff; position: relative; z-index: 9\"></div>",
    "<div hidden>Ours</div><details><summary>Ours</summary>more</details>",
];

/// What a block holds stays in its own box; what it leaves open is refused, as the list of findings tells.
#[test]
#[ignore = "needs Chromium and axe-core; .ci/run installs them"]
fn no_element_of_a_changed_block_hides_the_answer() {
    let mut browser = Browser::start();
    let mut wrong = Vec::new();
    for element in ELEMENTS {
        for (file, shown) in [("house/frame-top.html", 0), ("house/index-head.html", 1)] {
            let page = &pages_with("house-elements", file, element)[shown];
            let view = View { width: 1280, height: 720, scheme: Scheme::Light };
            browser.open(page, view);
            let found = browser.faults(page, view, SEEN);
            wrong.extend(found.into_iter().map(|fault| format!("{file}: {element}\n  {fault}")));
        }
    }
    none(&wrong);
}

#[test]
#[ignore = "needs Chromium and axe-core; .ci/run installs them"]
fn no_style_of_a_study_hides_the_answer() {
    let ruled = HIDING.iter().flat_map(|how| PLACES.iter().map(move |place| format!("{place} {{ {how} }}")));
    let styles: Vec<String> = ruled.chain(COVERS.iter().map(|&cover| cover.to_owned())).collect();
    let mut browser = Browser::start();
    let mut wrong = Vec::new();
    for (at, style) in styles.iter().enumerate() {
        // Each size sees every third style of each kind; the rules of the guard are the same in all.
        let view = match at % 3 {
            0 => View { width: 360, height: 740, scheme: Scheme::Light },
            1 => View { width: 1280, height: 720, scheme: Scheme::Dark },
            _ => View { width: 688, height: 1000, scheme: Scheme::Print },
        };
        for page in pages("house-styles", style) {
            browser.open(&page, view);
            let found = browser.faults(&page, view, SEEN);
            wrong.extend(found.into_iter().map(|fault| format!("{style}\n  {fault}")));
        }
    }
    none(&wrong);
}

/// What is hidden on a page without the guard is seen by the script, so that it cannot pass everything.
#[test]
#[ignore = "needs Chromium and axe-core; .ci/run installs them"]
fn a_hidden_answer_is_seen_as_hidden() {
    let mut browser = Browser::start();
    let [page, _] = pages("house-hidden", ":root { --accent: #123456 }");
    let view = View { width: 1280, height: 720, scheme: Scheme::Light };
    let text = fs::read_to_string(&page.path).unwrap();
    for how in [
        "display: none",
        "opacity: 0",
        "font-size: 0",
        "position: fixed; left: -9999px",
        "color: #f3f3f3; background: #fff",
        "visibility: hidden",
    ] {
        // Rules that stand in the layer itself, which nothing guards.
        let guard = text.find("@layer kept").unwrap();
        let hidden = format!(
            "{}@layer kept {{ html body main section.answer.answer > h2 {{ {} !important }} }}\n{}",
            &text[..guard],
            how.replace(';', " !important;"),
            &text[guard..]
        );
        fs::write(&page.path, hidden).unwrap();
        browser.open(&page, view);
        assert!(!browser.faults(&page, view, SEEN).is_empty(), "{how}");
    }
}
