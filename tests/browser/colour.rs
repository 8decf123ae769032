//! Contrast of every text against what it stands on, in light, dark and print (WCAG 2.2, 1.4.3 and 1.4.6).

use super::chromium::{Browser, Scheme, View};
use super::examples::{PAGES, pages};
use super::none;

#[test]
#[ignore = "needs Chromium; .ci/run installs it"]
fn every_text_stands_out_in_light_dark_and_print() {
    let mut browser = Browser::start();
    let mut wrong = Vec::new();
    for page in pages(&PAGES) {
        for scheme in [Scheme::Light, Scheme::Dark, Scheme::Print] {
            // What is asked for at a point must lie inside of the window, so the window is as high as the page.
            let low = View { width: 1280, height: 800, scheme };
            browser.open(&page, low);
            let height = browser.run("() => document.documentElement.scrollHeight").as_u64().unwrap();
            let view = View { height: u32::try_from(height).unwrap(), ..low };
            browser.open(&page, view);
            wrong.extend(browser.faults(&page, view, include_str!("contrast.js")));
        }
    }
    none(&wrong);
}

/// Dark is its own look: the paper is dark, and the window was told so by the page.
#[test]
#[ignore = "needs Chromium; .ci/run installs it"]
fn dark_pages_are_dark_and_printed_pages_are_white() {
    let mut browser = Browser::start();
    for page in pages(&PAGES) {
        for scheme in [Scheme::Light, Scheme::Dark, Scheme::Print] {
            browser.open(&page, View { width: 1280, height: 800, scheme });
            let paper = browser.run("() => getComputedStyle(document.body).backgroundColor");
            let channels =
                paper.as_str().unwrap().trim_start_matches("rgb(").trim_end_matches(')').split(", ");
            let sum: u32 = channels.map(|channel| channel.parse::<u32>().unwrap()).sum();
            let right = if scheme == Scheme::Dark { sum < 120 } else { sum == 3 * 255 };
            assert!(right, "{}: {scheme:?} paper is {paper}", page.name);
        }
    }
}
