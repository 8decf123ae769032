//! The calendar: read back by the rules of RFC 5545, and held against the checklist and the study.

use super::{DAY, Day, HEAD, MAP, TAIL, changes, check, output, readings, sound, study};
use jiff::Span;
use jiff::civil::Date;
use std::collections::BTreeSet;
use tapeline::pipeline::Outcome;

/// A property: its name, its parameters as they stand, its value.
type Property = (String, String, String);

/// Lines of the content, unfolded (RFC 5545, section 3.1), each as a property.
fn properties(text: &str) -> Vec<Property> {
    assert!(text.ends_with("\r\n"));
    let physical: Vec<&str> = text.strip_suffix("\r\n").unwrap().split("\r\n").collect();
    for line in &physical {
        assert!(line.len() <= 75, "{} octets: {line}", line.len());
        assert!(!line.contains(['\r', '\n']) && !line.is_empty(), "{line:?}");
    }
    let mut lines: Vec<String> = Vec::new();
    for line in physical {
        match line.strip_prefix(' ') {
            Some(rest) => lines.last_mut().unwrap().push_str(rest),
            None => lines.push(line.to_owned()),
        }
    }
    lines.iter().map(|line| property(line)).collect()
}

/// `contentline = name *(";" param ) ":" value`; no parameter of this file is quoted.
fn property(line: &str) -> Property {
    let (head, value) = line.split_once(':').unwrap_or_else(|| panic!("no value: {line}"));
    let (name, parameters) = head.split_once(';').unwrap_or((head, ""));
    let is_token = |text: &str| {
        !text.is_empty() && text.chars().all(|c| c.is_ascii_uppercase() || c.is_ascii_digit() || c == '-')
    };
    assert!(is_token(name), "{line}");
    for parameter in parameters.split(';').filter(|parameter| !parameter.is_empty()) {
        let (key, word) = parameter.split_once('=').unwrap_or_else(|| panic!("no value: {line}"));
        assert!(is_token(key) && is_token(word), "{line}");
    }
    (name.to_owned(), parameters.to_owned(), value.to_owned())
}

/// A text value as it was meant (section 3.3.11); what must be escaped is.
fn meant(value: &str) -> String {
    let mut out = String::new();
    let mut chars = value.chars();
    while let Some(c) = chars.next() {
        match c {
            '\\' => match chars.next() {
                Some('n' | 'N') => out.push('\n'),
                Some(c @ ('\\' | ';' | ',')) => out.push(c),
                other => panic!("\\{other:?} in {value}"),
            },
            ';' | ',' => panic!("{c} stands open in {value}"),
            c => out.push(c),
        }
    }
    out
}

/// An event as a calendar takes it.
#[derive(Debug, Clone, PartialEq)]
struct Event {
    uid: String,
    first: Date,
    last: Date,
    rule: Option<String>,
    summary: String,
    told: String,
}

fn date_of(value: &str) -> Date {
    assert!(value.len() == 8 && value.chars().all(|c| c.is_ascii_digit()), "{value}");
    Date::strptime("%Y%m%d", value).unwrap()
}

/// The one value of a property that a component has exactly once (section 3.6.1).
fn once<'p>(component: &'p [Property], name: &str) -> &'p Property {
    let found: Vec<&Property> = component.iter().filter(|property| property.0 == name).collect();
    assert_eq!(found.len(), 1, "{name} in {component:?}");
    found[0]
}

fn event(component: &[Property]) -> Event {
    let known = ["UID", "DTSTAMP", "DTSTART", "DTEND", "RRULE", "SUMMARY", "DESCRIPTION", "TRANSP"];
    assert!(component.iter().all(|property| known.contains(&property.0.as_str())), "{component:?}");
    let stamp = &once(component, "DTSTAMP").2;
    date_of(stamp.strip_suffix("T000000Z").unwrap());
    let day = |name: &str| {
        let (_, parameters, value) = once(component, name);
        assert_eq!(parameters, "VALUE=DATE");
        date_of(value)
    };
    let rule = component.iter().find(|property| property.0 == "RRULE").map(|rule| rule.2.clone());
    let (first, end) = (day("DTSTART"), day("DTEND"));
    assert!(end > first, "{component:?}");
    Event {
        uid: once(component, "UID").2.clone(),
        first,
        last: end.yesterday().unwrap(),
        rule,
        summary: meant(&once(component, "SUMMARY").2),
        told: meant(&once(component, "DESCRIPTION").2),
    }
}

/// The events of a calendar: one object with its two properties, and components that are closed in order.
fn events(text: &str) -> Vec<Event> {
    let all = properties(text);
    let is = |property: &Property, name: &str, value: &str| property.0 == name && property.2 == value;
    assert!(is(&all[0], "BEGIN", "VCALENDAR") && is(all.last().unwrap(), "END", "VCALENDAR"));
    let inside = &all[1..all.len() - 1];
    let first = inside.iter().position(|property| property.0 == "BEGIN").unwrap();
    let head = &inside[..first];
    assert_eq!(once(head, "VERSION").2, "2.0");
    assert!(once(head, "PRODID").2.starts_with("-//tapeline//"));
    let mut found = Vec::new();
    let mut rest = &inside[first..];
    while !rest.is_empty() {
        assert!(is(&rest[0], "BEGIN", "VEVENT"), "{:?}", rest[0]);
        let end = rest.iter().position(|property| property.0 == "END").unwrap();
        assert!(is(&rest[end], "END", "VEVENT"));
        found.push(event(&rest[1..end]));
        rest = &rest[end + 1..];
    }
    let names: BTreeSet<&str> = found.iter().map(|event| event.uid.as_str()).collect();
    assert_eq!(names.len(), found.len(), "an event stands twice");
    assert!(found.windows(2).all(|pair| pair[0].first <= pair[1].first));
    found
}

/// The days of a rule of this file: so many, so far apart (section 3.3.10).
fn days(event: &Event) -> Vec<Date> {
    let Some(rule) = &event.rule else { return vec![event.first] };
    let parts: Vec<&str> = rule.split(';').collect();
    assert_eq!((parts.len(), parts[0]), (3, "FREQ=DAILY"));
    let every: i64 = parts[1].strip_prefix("INTERVAL=").unwrap().parse().unwrap();
    let times: i64 = parts[2].strip_prefix("COUNT=").unwrap().parse().unwrap();
    let on = |n: i64| event.first.checked_add(Span::new().days(n * every)).unwrap();
    (0..times).map(on).collect()
}

/// Statements behind the study: upkeep by weeks and by months, and a place.
const MORE: &str = "upkeep
    every 3 weeks   wash with soap, rinse  from 14 days after apply
    every 1 month   rinse
exposure \"Yard; north, by the \\\\ wall\"
    put out     2025-06-12
    brought in  2025-12-05
";

fn outcome(head: &str) -> Outcome {
    let text = format!("{head}{MAP}{TAIL}{MORE}");
    sound(&text, &readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 3))
}

fn calendar(head: &str) -> (Outcome, Vec<Event>) {
    let outcome = outcome(head);
    let found = events(&output(&outcome, "calendar.ics"));
    (outcome, found)
}

#[test]
fn every_round_stands_once_with_the_days_of_the_checklist() {
    let (outcome, found) = calendar(HEAD);
    let checklist = output(&outcome, "checklist.html");
    for round in &outcome.study.rounds {
        let name = &round.name.value;
        let own: Vec<&Event> = found
            .iter()
            .filter(|event| event.summary.to_lowercase().starts_with(&format!("{name}: ")))
            .collect();
        assert_eq!(own.len(), 1, "{name}");
        let (first, last) = (own[0].first, own[0].last);
        let planned = round.date().unwrap();
        let line = if first == last {
            format!("{name}, {planned}: gloss-60 3 times.")
        } else {
            format!("{name}, {planned}, any day from {first} to {last}: gloss-60 3 times.")
        };
        assert!(checklist.contains(&line), "{line}");
        let stem = format!("sheet-{}.html", name.replace(' ', "-"));
        for word in [&*format!("Planned for {planned}"), "read with pen", &stem] {
            assert!(own[0].told.contains(word), "{word} in {}", own[0].told);
        }
        assert_eq!(own[0].told.contains("decides"), name == "month 6");
    }
    assert!(found.iter().any(|event| event.told.contains("Before reading: Wash with soap")));
}

#[test]
fn the_work_has_its_days() {
    let (outcome, found) = calendar(&HEAD.replace("for 12 months", "for 3 months"));
    let on = |summary: &str| -> Vec<(String, String)> {
        let own = found.iter().filter(|event| event.summary.starts_with(summary));
        own.map(|event| (event.first.to_string(), event.last.to_string())).collect()
    };
    let one = |day: &str| vec![(day.to_owned(), day.to_owned())];
    assert_eq!(on("Preparation begins · Four sprays on a locker lid"), one("2025-06-02"));
    assert_eq!(on("Application"), one("2025-06-03"));
    assert_eq!(on("Put the panel out: Yard; north, by the "), one("2025-06-12"));
    assert_eq!(on("Bring the panel in"), one("2025-12-05"));
    // Three months from 1 May end with 31 July, and month 6 is still to be read.
    assert_eq!(on("Last day of the certificate of pen"), one("2025-07-31"));
    let products = &outcome.study.products;
    let application = found.iter().find(|event| event.summary.starts_with("Application")).unwrap();
    assert!(products.iter().all(|product| application.told.contains(product.title())), "{application:?}");
    for (upkeep, title) in outcome.study.upkeep.iter().zip(["Upkeep: Wash", "Upkeep: Rinse"]) {
        let own = found.iter().filter(|event| event.summary.starts_with(title));
        let own: Vec<Date> = own.flat_map(days).collect();
        assert_eq!(own, outcome.study.upkeep_days(upkeep));
        assert!(own.len() > 4, "{title}: {own:?}");
    }
    let lapses = |head: &str| calendar(head).1.iter().any(|event| event.summary.contains("certificate"));
    let renewed = "for 3 months\n    certified   2025-07-20 for 12 months";
    assert!(!lapses(HEAD) && !lapses(&HEAD.replace("for 12 months", renewed)));
}

#[test]
fn an_entry_keeps_its_name_whatever_else_changes() {
    let of = |events: &[Event]| events.iter().map(|event| event.uid.clone()).collect::<BTreeSet<String>>();
    let (_, as_it_is) = calendar(HEAD);
    let (_, dearer) = calendar(&HEAD.replace("alike       within 2 GU", "alike       within 1 GU"));
    assert_eq!(of(&as_it_is), of(&dearer));
    let (_, other) = calendar(&HEAD.replace("Four sprays", "Five sprays"));
    assert!(of(&as_it_is).is_disjoint(&of(&other)));
    for uid in of(&as_it_is) {
        let groups: Vec<usize> = uid.split('-').map(str::len).collect();
        assert_eq!(groups, [8, 4, 4, 4, 12], "{uid}");
        let at = |n: usize| uid.as_bytes()[n];
        assert!(at(14) == b'8' && b"89ab".contains(&at(19)), "{uid}: no UUID of version 8 (RFC 9562, 5.8)");
    }
    let first = output(&outcome(HEAD), "calendar.ics");
    assert_eq!(first, output(&outcome(HEAD), "calendar.ics"));
    assert!(!first.contains("VALARM"));
}

#[test]
fn long_titles_in_any_letters_are_folded_and_come_back_whole() {
    let title = "Größe, Güte; Übermaß \\\\ ÄÖÜäöüß €€€€€€€€€€ 塗装面の保護剤の比較試験、四種類";
    let meant = title.replace("\\\\", "\\");
    for title in [title, &meant] {
        let (outcome, found) = calendar(&HEAD.replace("Four sprays on a locker lid", title));
        let own = &outcome.study.title.value;
        assert!(found.iter().all(|event| event.summary.ends_with(own.as_str())), "{own}: {found:?}");
    }
}

#[test]
fn the_calendar_speaks_the_language_of_the_study() {
    let (_, found) = calendar(&HEAD.replace("    begins", "    language german\n    begins"));
    let summary = |start: &str| found.iter().any(|event| event.summary.starts_with(start));
    assert!(summary("Monat 6: gloss-60 messen") && summary("Auftragen"), "{found:?}");
    assert!(found.iter().any(|event| event.told.contains("Vor der Messung: Waschen mit soap")));
}

/// A calendar has a component (section 3.6), so without any day there is one note, which has none.
#[test]
fn without_any_day_there_is_one_note() {
    let text = study(MAP, "")
        .replace("    begins      2025-06-02\n", "")
        .replace("apply\n    on          2025-06-03\n", "")
        .replace("on 2025-06-02", "before apply")
        .replace("    certified   2025-05-01 for 12 months\n", "");
    let outcome = check("lid.study", &text, &[], Day::AsOf(DAY));
    let all = properties(&output(&outcome, "calendar.ics"));
    let begun: Vec<&str> =
        all.iter().filter(|property| property.0 == "BEGIN").map(|property| property.2.as_str()).collect();
    assert_eq!(begun, ["VCALENDAR", "VJOURNAL"]);
    for name in ["UID", "DTSTAMP", "SUMMARY"] {
        once(&all, name);
    }
    let told = meant(&once(&all, "DESCRIPTION").2);
    for words in
        ["The preparation: “begins 2026-03-02”", "The application, and what counts from it", "month 6"]
    {
        assert!(told.contains(words), "{told}");
    }
}

/// The events of a study of which nothing is read yet.
fn planned(text: &str) -> (Outcome, Vec<Event>) {
    let outcome = check("lid.study", text, &[], Day::AsOf(DAY));
    let text = output(&outcome, "calendar.ics");
    (outcome, events(&text))
}

/// First and last day of each event whose summary begins so.
fn on(found: &[Event], summary: &str) -> Vec<(String, String)> {
    let own = found.iter().filter(|event| event.summary.starts_with(summary));
    own.map(|event| (event.first.to_string(), event.last.to_string())).collect()
}

fn one(day: &str) -> (String, String) {
    (day.to_owned(), day.to_owned())
}

/// A name says what an event is, so that a day that moves moves the event and makes no second one.
#[test]
fn a_day_that_moves_keeps_the_name_of_its_entry() {
    let of = |head: &str, tail: &str| {
        let text = format!("{head}{MAP}{tail}{MORE}").replace("readings \"readings.csv\"\n", "");
        let names: BTreeSet<String> = planned(&text).1.into_iter().map(|event| event.uid).collect();
        names
    };
    let head = HEAD.replace("2025-05-01 for 12 months", "2025-05-01 for 3 months");
    let as_it_is = of(&head, TAIL);
    assert_eq!(as_it_is, of(&head.replace("certified   2025-05-01", "certified   2025-05-04"), TAIL));
    assert_eq!(as_it_is, of(&head, &TAIL.replace("on          2025-06-03", "on          2025-06-04")));
}

/// By the record alone (RFC 5545, section 3.8.7.2): what is planned may move to and fro, and what is on record only grows.
#[test]
fn an_entry_is_as_old_as_what_is_on_record() {
    let stamps = |outcome: &Outcome| -> BTreeSet<String> {
        let all = properties(&output(outcome, "calendar.ics"));
        all.into_iter().filter(|property| property.0 == "DTSTAMP").map(|property| property.2).collect()
    };
    let only = |day: &str| BTreeSet::from([format!("{day}T000000Z")]);
    // The day that is asked for with the page.
    assert_eq!(stamps(&outcome(HEAD)), only("20260110"));
    let plan = study(MAP, "").replace("readings \"readings.csv\"\n", "");
    let open = |text: &str| check("lid.study", text, &[], Day::Today(jiff::civil::date(2025, 6, 1)));
    assert_eq!(stamps(&open(&plan)), only("19700101"));
    assert_eq!(stamps(&open(&plan.replace("2025-06-0", "2025-07-0"))), only("19700101"));
    let done = format!("{plan}done 2025-06-05 09:00  coat 1 of bay\n");
    let later = check("lid.study", &done, &[], Day::Today(jiff::civil::date(2025, 6, 6)));
    assert_eq!(stamps(&later), only("20250605"));
}

#[test]
fn what_is_on_record_stands_on_its_own_day() {
    let text = study(MAP, "done 2025-06-03  wash\ndone 2025-06-05 09:00  coat 1 of bay\n")
        .replace("readings \"readings.csv\"\n", "");
    let (_, found) = planned(&text);
    assert_eq!(on(&found, "Preparation"), [one("2025-06-03")]);
    assert_eq!(on(&found, "Application"), [one("2025-06-03"), one("2025-06-05")]);
    let of_bay = |day: &str| {
        let own =
            found.iter().find(|event| event.first.to_string() == day && event.summary.starts_with("App"));
        own.unwrap().told.contains("Bay spray")
    };
    assert!(!of_bay("2025-06-03") && of_bay("2025-06-05"), "{found:?}");
}

/// Twelve hours after nine it is nine in the evening: the run sheet has the coat on the next morning, and so have the others.
#[test]
fn the_second_coat_stands_where_the_run_sheet_has_it() {
    let head = HEAD.replace(
        "\"Bay spray\", a spray sealant\n",
        "\"Bay spray\", a spray sealant\n    coats 2 after 12 to 40 h\n",
    );
    let text = format!("{head}{MAP}{TAIL}")
        .replace("on          2025-06-03", "on          2025-06-03 from 09:00")
        .replace("readings \"readings.csv\"\n", "");
    let (outcome, found) = planned(&text);
    let second = found.iter().find(|event| event.told.contains("Coat 2 of Bay spray")).unwrap();
    assert_eq!(second.first.to_string(), "2025-06-04");
    assert!(output(&outcome, "checklist.html").contains("12 to 40 h after coat 1, planned for 2025-06-04"));
    let sheet = output(&outcome, "run-sheet.html").replace('\u{a0}', " ");
    let (before, after) = sheet.split_once(">2025-06-04</h2>").unwrap();
    assert!(!before.contains("lay on coat 2") && after.contains("lay on coat 2"), "{sheet}");
}

/// The second coat is on two days after the first, on 5 June; two weeks from there are 19 June, and not 17.
#[test]
fn upkeep_counts_from_the_last_coat() {
    let head = HEAD.replace(
        "\"Bay spray\", a spray sealant\n",
        "\"Bay spray\", a spray sealant\n    coats 2 after 2 to 3 days\n",
    );
    let text = format!("{head}{MAP}{TAIL}{MORE}").replace("readings \"readings.csv\"\n", "");
    let (outcome, found) = planned(&text);
    assert_eq!(on(&found, "Upkeep: Wash")[0], one("2025-06-19"));
    assert!(output(&outcome, "checklist.html").contains("planned from 2025-06-19 to"));
}

#[test]
fn specimens_are_prepared_on_a_day_too() {
    let slips = "specimens slips\n    each 50 x 50 mm\n    one for each product and bare\nprep slips\n    wash with soap, rinse\n";
    let (_, found) = planned(&study(MAP, slips).replace("readings \"readings.csv\"\n", ""));
    assert_eq!(on(&found, "Preparation of slips begins"), [one("2025-06-02")]);
}

/// Three months from 2 and from 4 April, a week early or late.
#[test]
fn sites_that_are_put_out_on_two_days_have_days_of_their_own() {
    let text: String = include_str!("../../examples/bench-slats/bench-slats.study")
        .lines()
        .filter(|line| {
            !line.starts_with("readings") && !line.starts_with("record") && !line.starts_with("log")
        })
        .fold(String::new(), |text, line| text + line + "\n");
    let outcome = check("slats.study", &text, &[], Day::Today(jiff::civil::date(2025, 2, 1)));
    let found = events(&output(&outcome, "calendar.ics"));
    let at = |site: &str| {
        let own = found.iter().filter(|event| event.summary.starts_with("Month 3: read"));
        let own = own.filter(|event| event.summary.contains(&format!(", at {site} · ")));
        own.map(|event| (event.first.to_string(), event.last.to_string())).collect::<Vec<_>>()
    };
    assert_eq!(at("roof"), [("2025-06-25".to_owned(), "2025-07-09".to_owned())]);
    assert_eq!(at("lake"), [("2025-06-27".to_owned(), "2025-07-11".to_owned())]);
    assert_eq!(on(&found, "Month 3: read").len(), 2);
    let line = "month 3, roof 2025-07-02 (any day from 2025-06-25 to 2025-07-09) and lake 2025-07-04 (any day from 2025-06-27 to \
                2025-07-11): ";
    assert!(output(&outcome, "checklist.html").contains(line));
}
