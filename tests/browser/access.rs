//! Accessibility: axe-core finds nothing of any impact, on a phone and a wide screen, light and dark.

use super::chromium::{Browser, Scheme, View};
use super::examples::{PAGES, pages};
use super::none;
use serde_json::json;
use std::fs;

/// The checker itself. `.ci/run` fetches the version that it pins.
pub(crate) fn axe() -> String {
    let path = std::env::var("AXE_CORE").expect("AXE_CORE names the file axe.min.js; .ci/run sets it");
    fs::read_to_string(&path).unwrap_or_else(|fault| panic!("{path}: {fault}"))
}

/// Every rule but the ones that are marked experimental, as axe-core has it by default.
const TAGS: [&str; 7] = ["wcag2a", "wcag2aa", "wcag2aaa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];

/// The script that runs the rules with these tags, of which at least so many must find something to look at.
fn checks(tags: &[&str], least: usize) -> String {
    format!("() => ({})({}, {least})", include_str!("axe.js"), json!(tags))
}

#[test]
#[ignore = "needs Chromium and axe-core; .ci/run installs them"]
fn the_checker_finds_nothing() {
    let axe = axe();
    let mut browser = Browser::start();
    let mut wrong = Vec::new();
    let (wide, phone) = ((1280, 720), (360, 740));
    for page in pages(&PAGES) {
        for ((width, height), scheme) in [(wide, Scheme::Light), (wide, Scheme::Dark), (phone, Scheme::Light)]
        {
            let view = View { width, height, scheme };
            browser.open(&page, view);
            browser.ask("Runtime.evaluate", &json!({"expression": axe}));
            // Dark and light are one document: only colours differ.
            let checks = if scheme == Scheme::Dark { checks(&["cat.color"], 1) } else { checks(&TAGS, 10) };
            wrong.extend(browser.faults(&page, view, &checks));
        }
    }
    none(&wrong);
}

/// The checker is at work: it finds a picture without a text, which every version of it must find.
#[test]
#[ignore = "needs Chromium and axe-core; .ci/run installs them"]
fn the_checker_finds_what_is_wrong() {
    let mut browser = Browser::start();
    let page = &pages(&["index.html"])[0];
    let view = View { width: 1280, height: 720, scheme: Scheme::Light };
    browser.open(page, view);
    browser.run("() => document.querySelector('main').append(document.createElement('img'))");
    browser.ask("Runtime.evaluate", &json!({"expression": axe()}));
    let found = browser.faults(page, view, &checks(&TAGS, 10));
    assert!(found.iter().any(|line| line.contains("image-alt")), "{found:?}");
}
