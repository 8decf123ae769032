//! The contact sheet: its photos are shown, nothing else is let in, and it has room on every window.

use super::access::axe;
use super::chromium::{Browser, Scheme, View};
use super::examples::{Page, folder};
use super::none;
use serde_json::json;
use std::fs;
use tapeline::checks::example;
use tapeline::pipeline::{self, Day};

/// A grey picture of 4 x 3 pixels.
const GREY: &[u8] = b"\x89PNG\r\n\x1a\n\0\0\0\x0dIHDR\0\0\0\x04\0\0\0\x03\x08\0\0\0\0\x91\x9f\xf1\x1a\0\0\0\x10IDATx\x9cc\xac````b\x80\x11\0\x06\xcc\0~\xbdu2\xe2\0\0\0\0IEND\xaeB`\x82";

fn page() -> Page {
    let study = example("photos \"photos\"\n").study;
    let mut files = vec![(
        "readings.csv".to_owned(),
        b"date,round,section,measure,value\n2026-06-03,month 3,A1,gloss-20,88.4\n".to_vec(),
    )];
    for round in ["baseline", "fresh", "month 3"] {
        let named =
            ["A1", "A2", "B3", "C4"].map(|code| (format!("photos/{code} {round}.png"), GREY.to_vec()));
        files.extend(named);
    }
    let day = "2026-07-01".parse().unwrap();
    let outcome = pipeline::check("door.study", &study, &files, Day::Today(day));
    assert_eq!(outcome.photos.all.len(), 12);
    let folder = folder("photos");
    fs::create_dir_all(folder.join("photos")).unwrap();
    for artifact in outcome.build(None).unwrap() {
        fs::write(folder.join(artifact.name), &artifact.bytes).unwrap();
    }
    Page { name: "photos.html".to_owned(), path: folder.join("photos.html") }
}

#[test]
#[ignore = "needs Chromium and axe-core; .ci/run installs them"]
fn photos_are_shown_in_room_enough_and_nothing_else_is_let_in() {
    let page = page();
    let mut browser = Browser::start();
    let mut wrong = Vec::new();
    let screens = [((360, 740), Scheme::Light), ((1280, 720), Scheme::Dark), ((688, 1000), Scheme::Print)];
    for ((width, height), scheme) in screens {
        let view = View { width, height, scheme };
        browser.open(&page, view);
        let shown = browser.run(
            "async () => { const all = [...document.images]; all.forEach((image) => { image.loading = 'eager'; }); \
             await Promise.all(all.map((image) => image.decode())); \
             return all.filter((image) => image.naturalWidth === 4 && image.width > 100).length; }",
        );
        assert_eq!(shown.as_u64(), Some(12), "{view:?}");
        wrong.extend(browser.faults(&page, view, include_str!("wide.js")));
        wrong.extend(browser.faults(&page, view, include_str!("contrast.js")));
        browser.ask("Runtime.evaluate", &json!({"expression": axe()}));
        wrong.extend(browser.faults(&page, view, include_str!("axe.js")));
        wrong.extend(browser.faults(&page, view, include_str!("refused.js")));
    }
    none(&wrong);
}
