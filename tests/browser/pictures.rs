//! Pictures: every text lies inside of its picture, none lies on another, and none is too small to read.

use super::chromium::{Browser, Scheme, View};
use super::examples::{examples, pages, shared};
use super::none;

#[test]
#[ignore = "needs Chromium; .ci/run installs it"]
fn texts_of_pictures_keep_their_place() {
    let mut browser = Browser::start();
    let mut wrong = Vec::new();
    for page in pages(&["report.html", "map.svg"]) {
        for (width, height) in [(1280, 720), (360, 740)] {
            let view = View { width, height, scheme: Scheme::Light };
            browser.open(&page, view);
            wrong.extend(browser.faults(&page, view, include_str!("pictures.js")));
        }
    }
    none(&wrong);
}

#[test]
#[ignore = "needs Chromium; .ci/run installs it"]
fn texts_of_pictures_to_pass_on_keep_their_place() {
    let mut browser = Browser::start();
    let mut wrong = Vec::new();
    for page in examples().iter().flat_map(shared) {
        let view = View { width: 1200, height: 1350, scheme: Scheme::Light };
        browser.open(&page, view);
        wrong.extend(browser.faults(&page, view, include_str!("pictures.js")));
    }
    none(&wrong);
}
