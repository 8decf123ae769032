//! Text of a study stays text on every page, and no page asks the network for anything.

use super::{MAP, changes, output, readings, sound, study};

const WILD: &str = r#"</style><script>alert("1")</script> | *x* [y](javascript:z) `c` & <b>"#;

fn wild() -> tapeline::pipeline::Outcome {
    let name = WILD.replace('"', "'");
    let more = format!(
        "\nlog 2025-08-01 A1 \"{name}\"\n\nexposure \"{name}\"\n    put out 2025-06-12\n    > <img src=x onerror=alert(1)> and ![p](http://shop.example/p.png)\n    >\n    > ```\n    > <i>left open\n"
    );
    let text = study(MAP, &more).replace("Four sprays on a locker lid", &name).replace("Bay spray", &name);
    sound(&text, &readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 3))
}

/// A page without the one script that is ours, to the letter; any other stays.
fn without_own_script(page: &str) -> String {
    page.replacen(concat!("<script>", include_str!("../../templates/report.js"), "</script>"), "", 1)
}

#[test]
fn names_and_prose_are_text_on_every_page() {
    let outcome = wild();
    for page in ["index.html", "report.html", "checklist.html", "safety-cards.html", "labels.html", "map.svg"]
    {
        let text = without_own_script(&output(&outcome, page));
        for bad in ["<script", "<img", "<b>", "<i>", "onerror=\"", "javascript:z\""] {
            assert!(!text.contains(bad), "{page} has {bad}");
        }
        assert!(text.contains("&lt;script&gt;"), "{page} does not show the name");
        assert_eq!(text.matches("</style>").count(), 1, "{page}");
    }
}

#[test]
fn rows_of_a_markdown_table_keep_their_columns() {
    let report = output(&wild(), "report.md");
    let columns = |line: &str| line.replace("\\|", "").matches('|').count();
    let mut tables = 0;
    let lines: Vec<&str> = report.lines().collect();
    for (head, rule) in lines.iter().zip(&lines[1..]) {
        tables += usize::from(rule.starts_with("| ---") || rule.starts_with("| ---:"));
        if head.starts_with('|') && rule.starts_with('|') {
            assert_eq!(columns(head), columns(rule), "{head}\n{rule}");
        }
    }
    assert!(tables > 10, "{tables} tables");
}

#[test]
fn no_page_asks_the_network_for_anything() {
    let outcome = wild();
    for page in ["index.html", "report.html", "checklist.html", "safety-cards.html", "labels.html", "map.svg"]
    {
        let text = without_own_script(&output(&outcome, page)).replace("http://www.w3.org/2000/svg", "");
        for bad in ["src=", "<link", "@import", "url(http", "url(\"http", "<iframe", "<object"] {
            let shown = text.matches(bad).count();
            // The prose of the study shows its own source text, which fetches nothing.
            let quoted = text.matches(&format!("&lt;img {bad}")).count();
            assert_eq!(shown, quoted, "{page} has {bad}");
        }
        for address in text.split("href=\"").skip(1) {
            let address = address.split('"').next().unwrap();
            let own =
                address.starts_with('#') || !address.contains(':') || address == "http://shop.example/p.png";
            assert!(own, "{page} links {address}");
        }
    }
}

#[test]
fn elements_close_in_the_order_in_which_they_open() {
    let outcome = wild();
    let svg = output(&outcome, "map.svg");
    let mut open: Vec<&str> = Vec::new();
    for tag in svg.split('<').skip(1) {
        let tag = tag.split('>').next().unwrap();
        let name = tag.trim_start_matches('/').split([' ', '/']).next().unwrap();
        if tag.starts_with('/') {
            assert_eq!(open.pop(), Some(name));
        } else if !tag.ends_with('/') {
            open.push(name);
        }
    }
    assert!(open.is_empty(), "{open:?}");
}
