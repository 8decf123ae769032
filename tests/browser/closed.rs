//! Pages stand alone: nothing is asked of the network, what is put in from outside is refused, and scripts are an extra.

use super::chromium::{Browser, Scheme, View, address};
use super::examples::{PAGES, examples, pages};
use super::none;

const VIEW: View = View { width: 1280, height: 720, scheme: Scheme::Light };

#[test]
#[ignore = "needs Chromium; .ci/run installs it"]
fn no_page_asks_for_anything_but_itself() {
    let mut browser = Browser::start();
    let files: Vec<&str> = PAGES.into_iter().chain(["map.svg"]).collect();
    let mut wrong = Vec::new();
    for page in pages(&files) {
        browser.open(&page, VIEW);
        let asked = browser.requests();
        let own = address(&page.path);
        assert!(asked.contains(&own), "{}: the browser tells what it asked for: {asked:?}", page.name);
        let others = asked.iter().filter(|&other| *other != own && !other.starts_with("data:"));
        wrong.extend(others.map(|other| format!("{} asks for {other}", page.name)));
    }
    none(&wrong);
}

/// The policy of each page refuses a picture, a script and a style from elsewhere, and a request.
#[test]
#[ignore = "needs Chromium; .ci/run installs it"]
fn what_is_put_into_a_page_is_refused() {
    let mut browser = Browser::start();
    let mut wrong = Vec::new();
    for page in pages(&PAGES) {
        browser.open(&page, VIEW);
        wrong.extend(browser.faults(&page, VIEW, include_str!("refused.js")));
    }
    none(&wrong);
}

/// Without scripts a page has every heading, row, paragraph and picture that it has with them.
#[test]
#[ignore = "needs Chromium; .ci/run installs it"]
fn pages_are_whole_without_scripts() {
    let mut browser = Browser::start();
    let mut wrong = Vec::new();
    for page in pages(&PAGES) {
        let mut told = Vec::new();
        for on in [true, false] {
            browser.scripts(on);
            browser.open(&page, VIEW);
            told.push(browser.run(include_str!("parts.js")));
        }
        let without = told[1].as_array().unwrap();
        let with = told[0].as_array().unwrap();
        assert!(with.len() > 10, "{}: only {} parts", page.name, with.len());
        let lost = with.iter().filter(|part| !without.contains(part));
        wrong.extend(lost.map(|part| format!("{} lacks without scripts: {part}", page.name)));
    }
    none(&wrong);
}

/// Links of a page lead to a place that is there: another file of the folder, or an id on the page.
#[test]
#[ignore = "needs Chromium; .ci/run installs it"]
fn every_link_leads_somewhere() {
    let mut browser = Browser::start();
    let mut wrong = Vec::new();
    for example in examples() {
        for file in PAGES {
            let page = example.page(file);
            browser.open(&page, VIEW);
            wrong.extend(browser.faults(&page, VIEW, include_str!("places.js")));
            let links = browser.run("() => [...document.links].map((link) => link.getAttribute('href'))");
            for link in links.as_array().unwrap().iter().map(|link| link.as_str().unwrap()) {
                let target = link.split('#').next().unwrap();
                if !target.is_empty() && !example.page(target).path.is_file() {
                    wrong.push(format!("{} links to {link}, which is not built", page.name));
                }
            }
        }
    }
    none(&wrong);
}
