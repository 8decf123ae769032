//! Room: nothing is wider than the window, and the first screen holds what a reader came for.

use super::chromium::{Browser, Scheme, View};
use super::examples::{PAGES, Page, examples, german, pages};
use super::none;
use serde_json::json;

const PHONE: (u32, u32) = (360, 740);
const LAPTOP: (u32, u32) = (1280, 720);
/// What the margins leave of the narrower paper, at 96 px to the inch.
const A4: (u32, u32) = (688, 1000);

#[test]
#[ignore = "needs Chromium; .ci/run installs it"]
fn no_page_is_wider_than_its_window() {
    let mut browser = Browser::start();
    let mut wrong = Vec::new();
    let light = |size| (size, Scheme::Light);
    let all = [light(PHONE), light((768, 1024)), light(LAPTOP), (A4, Scheme::Print)];
    let mut see = |page: &Page, screens: &[((u32, u32), Scheme)]| {
        for &((width, height), scheme) in screens {
            let view = View { width, height, scheme };
            browser.open(page, view);
            wrong.extend(browser.faults(page, view, include_str!("wide.js")));
        }
    };
    for page in pages(&PAGES) {
        see(&page, &all);
    }
    // Longer words are too wide where there is least room.
    for example in german() {
        see(&example.page("index.html"), &[all[0], all[3]]);
        see(&example.page("report.html"), &[all[0], all[3]]);
    }
    none(&wrong);
}

/// Question, answer, what may lead, sections and date, each by its box, in both languages.
#[test]
#[ignore = "needs Chromium; .ci/run installs it"]
fn the_first_screen_holds_question_answer_sections_and_date() {
    let mut browser = Browser::start();
    let mut wrong = Vec::new();
    for example in examples().iter().chain(german()) {
        let read = !example.name.starts_with("beginner");
        for (page, (width, height)) in
            ["report.html", "index.html"].iter().flat_map(|page| [(page, PHONE), (page, LAPTOP)])
        {
            let page = example.page(page);
            let view = View { width, height, scheme: Scheme::Light };
            browser.open(&page, view);
            let wanted = json!({"question": example.question, "read": read});
            let call = format!("() => ({})({wanted})", include_str!("first.js"));
            wrong.extend(browser.faults(&page, view, &call));
        }
    }
    none(&wrong);
}

/// Difference, interval and word are seen without pushing a table, and whoever pushes it still sees whose row it is.
#[test]
#[ignore = "needs Chromium; .ci/run installs it"]
fn a_phone_shows_what_a_table_decides_by() {
    let mut browser = Browser::start();
    let mut wrong = Vec::new();
    for example in examples() {
        let page = example.page("report.html");
        let view = View { width: PHONE.0, height: PHONE.1, scheme: Scheme::Light };
        browser.open(&page, view);
        let call = format!("() => ({})({})", include_str!("decides.js"), example.name != "beginner");
        wrong.extend(browser.faults(&page, view, &call));
    }
    none(&wrong);
}
