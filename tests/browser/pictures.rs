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

/// Intervals, times to spent, the map and the panel are drawn twice, and a page shows the one that it has room for without being pushed.
#[test]
#[ignore = "needs Chromium; .ci/run installs it"]
fn of_two_drawings_the_one_that_fits_is_shown() {
    let mut browser = Browser::start();
    let mut wrong = Vec::new();
    for page in pages(&["report.html"]) {
        let screens = [(360, Scheme::Light, 1), (1280, Scheme::Light, 0), (688, Scheme::Print, 0)];
        for (width, scheme, shown) in screens {
            let view = View { width, height: 740, scheme };
            browser.open(&page, view);
            let call = format!("() => ({})({shown})", include_str!("fits.js"));
            wrong.extend(browser.faults(&page, view, &call));
        }
    }
    none(&wrong);
}
