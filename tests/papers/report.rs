//! What the report says besides its answer: shares held, limits from the data, words for few products.

use std::fmt::Write;

use super::{HEAD, MAP, TAIL, changes, output, readings, sound, study};

fn report(text: &str, csv: &str) -> String {
    output(&sound(text, csv), "report.md")
}

/// The part of a report from a heading to the next one.
fn part<'r>(report: &'r str, heading: &str) -> &'r str {
    let start = report.find(heading).unwrap_or_else(|| panic!("no {heading:?} in\n{report}"));
    let rest = &report[start..];
    let end = rest[heading.len()..].find("\n## ").map_or(rest.len(), |at| at + heading.len());
    &rest[..end]
}

fn usual() -> String {
    report(&study(MAP, ""), &readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 3))
}

#[test]
fn the_share_held_is_printed_with_its_interval_and_its_sections() {
    let report = usual();
    // 83/85, 79/85, 78/85, 76/85 and 73/85 in percent; 0.3 GU are 0.353 points on either side.
    let part =
        part(&report, "## Gloss-60 held at month 6: products 89.4 to 97.6 % of fresh, bare sections 85.9 %");
    // s = sqrt((8 x 0.124567 + 4 x 0.124567) / 7) = 0.4621 on 4 x 1 + 3 degrees of freedom; t = 2.3646; two sections:
    // 0.77, four: 0.55.
    assert!(part.contains("0.46 percentage points, 7 degrees of freedom"), "{part}");
    assert!(part.contains("| Bay spray | 97.6 | 96.9 to 98.4 | 97.3 to 98.0 | 2 |"), "{part}");
    assert!(part.contains("| bare | 85.9 | 85.3 to 86.4 | 85.5 to 86.2 | 4 |"), "{part}");
}

#[test]
fn what_less_is_better_of_has_no_share_held() {
    let text = study(MAP, "")
        .replace("higher is better", "lower is better")
        .replace("spent       below", "spent       above");
    let csv = readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 3);
    assert!(!report(&text, &csv).contains("held (retention): the mean of a section"));
}

#[test]
fn the_error_of_the_gauge_is_among_the_limits_where_it_counts() {
    let limits = |report: &str| part(report, "## What this comparison cannot say").to_owned();
    let usual = limits(&usual());
    let said = "is not in the shares held and the times until spent: pen has a certificate, whose uncertainty the study does not \
                state, and no tile. In a difference to bare of the same round it cancels.";
    assert!(usual.contains(said), "{usual}");
    // Without a share or a time there is nothing that the error could be missing from.
    let text = format!("{HEAD}{MAP}{TAIL}")
        .replace("higher is better", "neither is better")
        .replace("    spent       below 80 % of fresh\n", "");
    let other = limits(&report(&text, &readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 3)));
    assert!(!other.contains("In a difference to bare"), "{other}");
}

#[test]
fn two_gauges_are_said_to_part_the_shares() {
    let csv = readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 3);
    let gauge = |line: &str| if line.contains("month 6") { "brush" } else { "pen" };
    let lines = csv.lines().map(|line| match line.split_once(",gloss-60,") {
        Some((before, after)) => format!("{before},gloss-60,{},{after}\n", gauge(line)),
        None => line.replace("measure,", "measure,gauge,") + "\n",
    });
    let text = study(MAP, "").replace("measure gloss-60", "gauge brush\n    reads       gloss-60\n    spot        10 x 10 mm\n    foot        100 x 40 mm\n    two readings agree within 0.4 GU\n    certified   2025-05-01 for 12 months\n\nmeasure gloss-60");
    let report = report(&text, &lines.collect::<String>());
    assert!(
        report.contains("Gloss-60 was read with brush and pen."),
        "{}",
        part(&report, "## What this comparison")
    );
    assert!(!usual().contains("was read with"));
}

#[test]
fn people_and_sites_are_those_of_the_study() {
    let first = |report: &str| {
        let part = part(report, "## What this comparison cannot say");
        part.lines().find(|line| line.starts_with("- ")).unwrap().to_owned()
    };
    let csv = readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 3);
    assert_eq!(
        first(&usual()),
        "- It is one panel. Who put the products on and who read is not said. Another ground, climate, upkeep or hand may \
         order the products otherwise."
    );
    let text = study(MAP, "\nexposure \"the quay\"\n    put out     2025-06-11\n")
        .replace("2025-06-03\n", "2025-06-03\n    by          \"Ina\"\n");
    assert!(first(&report(&text, &csv)).starts_with(
        "- It is one panel at one site, the quay. The products were put on by one person (Ina; by the plan, no record says so); who read is \
         not said."
    ));
    let by = |name: &str| {
        let lines = csv.lines().map(|line| match line.split_once(",gloss-60,") {
            Some((before, after)) => format!("{before},gloss-60,{name},{after}\n"),
            None => line.replace("measure,", "measure,by,") + "\n",
        });
        lines.collect::<String>()
    };
    assert!(first(&report(&text, &by("Ina"))).contains(
        "put on by one person (Ina; by the plan, no record says so); readings were taken by one person (Ina)."
    ));
    let two = by("Ina").replacen("Ina", "Odo", 20);
    assert!(
        first(&report(&text, &two))
            .contains("no record says so); readings were taken by 2 people (Ina and Odo).")
    );
}

#[test]
fn every_mean_of_the_appendix_has_its_uncertainty() {
    // Three readings 0.1 apart scatter by 0.1, less than the gauge's 0.4 / 2.8; that over the root of 3 is 0.082.
    let report = usual();
    assert!(report.contains("| A1 | Bay spray | 3 | 84.9 85.0 85.1 | 85.00 | 0.10 | 0.08 |"), "{report}");
}

#[test]
fn a_mean_over_fewer_sections_says_over_how_many() {
    let csv = readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 3);
    let lacks = |line: &&str| !(line.contains("month 6,A1") || line.contains("month 6,A2"));
    let csv = csv.lines().filter(lacks).collect::<Vec<&str>>().join("\n");
    let report = report(&study(MAP, ""), &csv);
    let part = part(&report, "## Gloss-60 changed up to month 6");
    assert!(part.contains("| Bay spray | on 1 of 2: −2.3 | 2 |"), "{part}");
    assert!(part.contains("| Rue spray | −9.0 | 2 |"), "{part}");
    assert!(part.contains("lowest to the highest of 3 to 4 bare sections, as read."), "{part}");
}

#[test]
fn products_that_moved_alike_and_a_product_alone_read_naturally() {
    let equal = report(&study(MAP, ""), &readings(&changes(-2.0, -2.0, -2.0, -2.0, 0.3), 3));
    assert!(
        equal.contains("## Gloss-60 changed up to month 6: products by −2.0, bare sections by −12.0 GU"),
        "{equal}"
    );
    let map = "\nmap  sections 150 x 120 mm  gap 20 mm  from left 40 mm, top 40 mm\n    | bay   bare  bay |\n    | bare  bay   bare |\n";
    let rows = [("A1", -2.0), ("A2", -12.3), ("A3", -2.2), ("B1", -12.1), ("B2", -1.9), ("B3", -12.4)];
    let sole = report(&study(map, ""), &readings(&rows, 3));
    assert!(sole.contains("changed up to month 6: Bay spray by −2.0, bare sections by −12.3 GU"), "{sole}");
    assert!(sole.contains("\n## Bay spray did better than bare at month 6\n"), "{sole}");
    assert!(
        sole.contains("\n## Gloss-60 held at month 6: Bay spray 97.6 % of fresh, bare sections 85.6 %\n"),
        "{sole}"
    );
    assert!(!sole.contains("may lead at") && !sole.contains("leads at"), "{sole}");
}

#[test]
fn the_round_that_is_shown_is_not_shown_again_as_a_further_look() {
    let csv = readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 3);
    let plain = study(MAP, "").replace("    decide by   gloss-60 at month 6\n", "");
    let usual = report(&plain, &csv);
    assert!(!usual.contains("Further looks at other rounds"), "{usual}");
    assert!(usual.contains("| Word here | Over all looks | p (Holm) |"), "{usual}");
    // With the fresh round as a look of its own, since the change counts from the baseline; no section moved by then,
    // so that only month 6 has p values.
    let more =
        report(&plain.replace("    spent       below 80 % of fresh\n", "    change from baseline\n"), &csv);
    let part = part(&more, "## Further looks at other rounds and measures");
    assert!(
        part.contains(
            "The p values of all 4 further looks of this report, those of month 6 above among them, are adjusted together"
        ),
        "{part}"
    );
    // A change of nothing but rounding has no interval, and its row has its numbers all the same.
    assert!(part.contains("| fresh | Bay spray | 0.0 | – | – | – | 2 | 6 |\n"), "{part}");
}

#[test]
fn the_product_to_beat_has_its_own_comparison() {
    let text = study(MAP, "\nbenchmark cumin\n");
    let report = report(&text, &readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 3));
    let part = part(
        &report,
        "## One of the other 3 products is measurably ahead of Cumin spray, the one to beat, at month 6",
    );
    assert!(part.contains("to that of Cumin spray (2 sections), −7.0 GU."), "{part}");
    // s = 0.393 on 7 degrees of freedom, two sections each. The 5 % point of the studentised range for four groups is
    // 4.68 (Harter 1960), so that every pair has +-4.68 / 1.414 x 0.393 = 1.3 GU.
    assert!(
        part.contains("| Bay spray | +5.0 | +3.7 to +6.3 | measurable | below 0.001 | −2.0 | 2 |"),
        "{part}"
    );
    assert!(!part.contains("| bare |") && !part.contains("| Cumin spray"), "{part}");
}

#[test]
fn the_method_says_what_a_far_off_reading_is_and_what_a_planning_figure_means() {
    let csv = readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 3);
    let usual = usual();
    assert!(usual.contains("Of 2 the pair is held against that limit alone; of 3 the farthest"), "{usual}");
    assert!(usual.contains("against 2.87 times the spread, which 5 of 100 honest sections pass"), "{usual}");
    assert!(!usual.contains("states how it repeats") && !usual.contains("plan-too-weak"), "{usual}");
    let silent = report(&study(MAP, "").replace("    two readings agree within 0.4 GU\n", ""), &csv);
    assert!(
        silent.contains("No gauge states how it repeats for gloss-60; there the spread within cells, pooled"),
        "{silent}"
    );
    let weak = report(&study(MAP, "").replace("within 0.4 GU", "within 9 GU"), &csv);
    assert!(weak.contains("section spreads (two-sided, simultaneous 5 %, 80 % power)"), "{weak}");
    assert!(
        weak.contains("- The smallest difference that a plan tells apart (plan-too-weak) is for"),
        "{weak}"
    );
}

#[test]
fn an_adjustment_that_cannot_be_made_says_why() {
    let text =
        study(MAP, "").replace("    higher is better\n", "    higher is better\n    adjust for baseline\n");
    let report = report(&text, &readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 3));
    let part = part(&report, "### Not adjusted for the baseline at month 6");
    assert!(part.contains("The study asks for it, but sections treated alike began alike"), "{part}");
}

#[test]
fn an_adjusted_comparison_shows_both_and_leaves_the_answer_alone() {
    let plain = study(MAP, "");
    let text = plain.replace("    higher is better\n", "    higher is better\n    adjust for baseline\n");
    let mut csv = String::from("date,round,section,measure,unit,1,2,3\n");
    let days = [("2025-06-02", "baseline"), ("2025-06-10", "fresh"), ("2025-12-03", "month 6")];
    for (at, (section, change)) in changes(-2.0, -6.0, -7.0, -9.0, 0.3).into_iter().enumerate() {
        // Sections that began higher lose half of that more.
        let start = 80.0 + (at * 7 % 12) as f64 / 2.0;
        for (place, (day, round)) in days.iter().enumerate() {
            let level = if place == 2 { start + change - 0.5 * (start - 80.0) } else { start };
            let (low, high) = (level - 0.1, level + 0.1);
            writeln!(csv, "{day},{round},{section},gloss-60,GU,{low:.2},{level:.2},{high:.2}").unwrap();
        }
    }
    let (with, without) = (report(&text, &csv), report(&plain, &csv));
    let part = part(&with, "### Differences to bare at month 6 as if all sections had begun alike");
    assert!(part.contains("over 12 sections") && part.contains("on 6 degrees of freedom"), "{part}");
    assert!(part.contains("| Product | Began at | As it was | Adjusted |"), "{part}");
    let headline = |report: &str| report.lines().find(|line| line.starts_with("## ")).unwrap().to_owned();
    assert_eq!(headline(&with), headline(&without));
    assert!(!without.contains("as if all sections had begun alike"));
}

#[test]
fn a_test_by_exchange_prints_the_smallest_p_that_it_could_show() {
    let report = usual();
    let part = part(&report, "### By exchange of treatments, without a bell curve: p ");
    assert!(
        part.contains("among these 12 sections")
            && (part.contains("The smallest p that this design could show is 0.0")
                || part.contains("So many draws can show no p below 0.0"))
    );
}

/// Whatever pair has a word in one table has the same in the other.
#[test]
fn the_product_to_beat_has_the_words_of_the_table_of_all_pairs() {
    let text = study(MAP, "\nbenchmark cumin\n");
    for (bay, thyme) in [(-6.2, -5.4), (-8.4, -7.6), (-7.0, -5.8)] {
        let report = report(&text, &readings(&changes(bay, thyme, -7.0, -9.0, 0.3), 3));
        let rows = |table: &str| -> Vec<(String, String)> {
            let cells = |line: &str| line.split('|').map(|cell| cell.trim().to_owned()).collect::<Vec<_>>();
            let head = cells(table.lines().find(|line| line.starts_with("| Product |")).unwrap());
            let word = head.iter().position(|head| head == "Word").unwrap();
            let lines =
                table.lines().filter(|line| line.starts_with("| ") && line.contains("spray")).map(cells);
            lines.map(|cells| (cells[1].replace(" (to beat)", ""), cells[word].clone())).collect()
        };
        let start = report.find("## Method").unwrap();
        let beat =
            report[..start].split("\n## ").find(|part| part.contains("to that of Cumin spray")).unwrap();
        let pairs = report[..start].split("\n## ").find(|part| part.contains("against every other")).unwrap();
        assert_eq!(rows(beat).len(), 3, "{beat}");
        for (product, word) in rows(beat) {
            let of_pair = |line: &&str| line.contains(&product) && line.contains("Cumin spray");
            let line = pairs.lines().find(of_pair).unwrap();
            assert!(line.contains(&format!("| {word} |")), "{product} is {word} in one table: {line}");
        }
    }
}

#[test]
fn words_under_any_line_of_the_study_are_printed() {
    let mut text = study(MAP, "");
    let lines = [
        "    begins      2025-06-02",
        "    size        900 x 700 mm",
        "    cure        1 day",
        "    | rue    bare   bay    bare   |",
        "    dry",
        "    month 6     within 1 week",
        "readings \"readings.csv\"",
    ];
    for (at, line) in lines.iter().enumerate() {
        text = text.replacen(line, &format!("{line}\n    > Hint number {at} of the author."), 1);
    }
    let report = report(&text, &readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 3));
    for at in 0..lines.len() {
        let hint = format!("> Hint number {at} of the author.");
        assert_eq!(report.matches(&hint).count(), 1, "{hint}\n{report}");
    }
    assert!(report.contains("Below \u{201c}month 6 within 1 week\u{201d}, line "), "{report}");
}

#[test]
fn a_reading_that_is_left_out_by_its_number_shows_its_value() {
    let text = study(MAP, "").replace(
        "readings \"readings.csv\"",
        "readings \"readings.csv\"\n    leave out gloss-60 of B2 at month 6, reading 2 because \"grit\"",
    );
    let report = report(&text, &readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 3));
    assert!(report.contains("| gloss-60 | B2 | month 6 | 2 | 72.7 GU | grit |"), "{report}");
}

#[test]
fn a_section_that_was_read_after_its_end_is_not_compared_and_that_is_said() {
    let text =
        study(MAP, "\nlog 2025-11-01 A1 \"chipped\" ends the section\nlog 2025-07-01 B1 \"bird lime\"\n");
    let report = report(&text, &readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 3));
    assert!(
        report.contains("- Not compared: 3 readings on A1, which the log ended on 2025-11-01."),
        "{report}"
    );
    assert!(!report.contains("Every reading that was taken counts."), "{report}");
    let incidents = part(&report, "## 2 incidents on the panel");
    assert!(incidents.find("2025-07-01") < incidents.find("2025-11-01"), "{incidents}");
}

/// A1 of bay and B2, which is bare, left in November, well within the limit of 68 GU; nobody read them in December.
#[test]
fn what_was_ended_is_named_in_the_answer_and_stands_nowhere_as_held() {
    let log =
        "\nlog 2025-11-01 A1 \"peeled\" ends the section\nlog 2025-11-20 B2 \"taken off\" ends the section\n";
    let csv = readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 3);
    let left = |line: &&str| !["month 6,A1", "month 6,B2"].iter().any(|cell| line.contains(cell));
    let csv: String = csv.lines().filter(left).fold(String::new(), |all, line| all + line + "\n");
    let priced = "a spray sealant\n    bought 20.00 EUR for 500 ml\n    uses 20 ml per m2\n";
    let study = study(MAP, log).replacen("a spray sealant\n", priced, 1);
    let outcome = sound(&study, &csv);
    let text = output(&outcome, "report.md");
    let named = "A1 ended on 2025-11-01 and is not counted. B2 ended on 2025-11-20 and is not counted.";
    let answer = text.split("\n## The panel").next().unwrap();
    let (claims, picture) = answer.split_once("\n[Picture").unwrap();
    let claim = "- [A1 ended on 2025-11-01 and is not counted](#gloss-60-changed-up-to-month-6";
    assert!(claims.contains(claim), "{answer}");
    assert!(picture.contains(named), "{answer}");
    assert!(!answer.contains("Not in this comparison"), "{answer}");
    // A leader that lost a section is not read of without it.
    assert!(answer.contains("Bay spray (1 section lost"), "{answer}");
    // Nobody knows how long A1 would have held, so that no month of it has a price.
    let cost = part(&text, "## What each product costs for its time");
    assert!(cost.contains("A1 | 0.80 EUR | – (ended on 2025-11-01, not counted) |"), "{cost}");
    let spent = part(&text, "## Within the limit of gloss-60 when last read: all 10 sections still there");
    assert!(spent.contains(named) && spent.contains("A cross: no longer there"), "{spent}");
    assert!(spent.contains("passed at fresh, 2025-06-10; ended on 2025-11-01, not counted |"), "{spent}");
    // In the picture a line of these ends in a cross, which has two strokes, and every other one in an arrow.
    let page = output(&outcome, "report.html");
    let drawn = page.split("id=\"picture-spent-1\"").nth(1).unwrap().split("</figure>").next().unwrap();
    let row = |code: &str| {
        let line = drawn.lines().find(|line| line.contains(&format!("data-of=\"{code}\""))).unwrap();
        line.split("data-of=").nth(1).unwrap().matches('L').count()
    };
    assert_eq!(["A1", "B2", "B3"].map(row), [2, 2, 3], "{drawn}");
}

/// Five treatments, each on four sections or more; the number of a section says how far it lies from its mean.
fn with_own_spreads(apart: impl Fn(&str, usize) -> f64) -> String {
    let map = "\nmap  sections 100 x 90 mm  gap 20 mm  from left 44 mm, top 44 mm\n    \
               | bay   bare  thyme cumin rue   bay   bare  |\n    \
               | bare  cumin rue   bay   thyme bare  thyme |\n    \
               | rue   bay   bare  thyme cumin rue   cumin |\n";
    let text = study(map, "").replace("    begins", "    spreads differ\n    begins");
    let drawn = map.lines().filter(|line| line.contains('|'));
    let drawn = drawn.zip(["A", "B", "C"]).flat_map(|(line, row)| {
        line.split('|')
            .nth(1)
            .unwrap_or("")
            .split_whitespace()
            .zip(1..)
            .map(move |(name, n)| (name, format!("{row}{n}")))
    });
    let mut seen = std::collections::BTreeMap::new();
    let rows: Vec<(String, f64)> = drawn
        .map(|(name, code)| {
            let n = seen.entry(name).and_modify(|n| *n += 1).or_insert(0_usize);
            let means = [("bay", -2.0), ("thyme", -5.0), ("cumin", -7.0), ("rue", -9.0), ("bare", -12.0)];
            let mean = means.iter().find(|(known, _)| *known == name).unwrap().1;
            (code, mean + apart(name, *n))
        })
        .collect();
    let rows: Vec<(&str, f64)> = rows.iter().map(|(code, change)| (code.as_str(), *change)).collect();
    report(&text, &readings(&rows, 3))
}

#[test]
fn spreads_that_differ_are_named_wherever_they_are_used() {
    let apart = |name: &str, n: usize| [-0.2, 0.1, 0.2, -0.1, 0.0][n] * if name == "rue" { 3.0 } else { 1.0 };
    let report = with_own_spreads(apart);
    assert!(report.contains("intervals (Games-Howell, each with its own spread). "), "{report}");
    assert!(!report.contains("intervals (Dunnett)"), "{report}");
    assert!(report.contains("each treatment is judged by its own."), "{report}");
    assert!(report.contains("no other is ahead of it by an interval without zero"), "{report}");
    assert!(report.contains("(Student's t, on the spread between its own sections)"), "{report}");
    assert!(report.contains("on the spread between its own sections, since the study says"), "{report}");
    assert!(!report.contains("on the spread between all sections treated alike"), "{report}");
    assert!(report.contains("## Bay spray is the one product that may lead at month 6"), "{report}");
}

/// Four equal sections say nothing of chance, and the other products' scatter is not theirs; nor is it taken from the others.
#[test]
fn a_product_without_scatter_is_not_judged_by_a_spread_of_its_own() {
    let spread = |name: &str, n: usize| if name == "bay" { 0.0 } else { [-0.2, 0.1, 0.2, -0.1, 0.0][n] };
    let report = with_own_spreads(spread);
    let answer = report.split("## The panel").next().unwrap();
    assert!(
        answer.contains("All sections of Bay spray read the same: without a spread of its own"),
        "{answer}"
    );
    assert!(!answer.contains("do not differ at all") && !answer.contains("fewer than 4"), "{answer}");
    // Not judged, bay stays among those that may lead; the other three are told apart from bare.
    assert!(answer.contains("\n## Bay spray and Thyme spray may lead at month 6\n"), "{answer}");
    assert!(answer.contains("Cumin spray and Rue spray did better than the bare sections, one"), "{answer}");
    let against = part(&report, "## 3 of 4 products differ from bare at month 6: 3 better");
    assert!(against.contains("| Bay spray | +10.0 | – | – | – | −2.0 | 4 |"), "{against}");
    assert!(
        against.contains("No word for Bay spray: there or on bare all sections read the same"),
        "{against}"
    );
    assert!(report.contains("### No chance of leading at month 6"), "{report}");
}

#[test]
fn bare_sections_without_scatter_have_no_interval_and_the_products_are_compared() {
    let spread = |name: &str, n: usize| if name == "bare" { 0.0 } else { [-0.2, 0.1, 0.2, -0.1, 0.0][n] };
    let report = with_own_spreads(spread);
    assert!(report.contains("## Bay spray is the one product that may lead at month 6"), "{report}");
    let reason = "on one side all sections read the same, so that it has no spread of its own";
    assert!(report.contains("[Against bare no word is given]") && report.contains(reason), "{report}");
    let against = part(&report, "## Differences to bare at month 6, without a judgement");
    assert!(!against.contains("Intervals hold together"), "{against}");
}

/// Where nothing scatters at all, the number of sections is not what is wanting.
#[test]
fn no_scatter_anywhere_is_not_blamed_on_the_number_of_sections() {
    let report = with_own_spreads(|_, _| 0.0);
    assert!(report.contains("## Chance cannot be judged in this study"), "{report}");
    assert!(!report.contains("fewer than 4 sections") && !report.contains("No word is given: ."), "{report}");
}

/// 68 degF and 50 % have their dew point at 48.7 degF (9.3 degC, Magnus formula): a surface of 66 degF lies 17.3 degF above it.
#[test]
fn the_margin_to_the_dew_point_is_told_in_the_degrees_of_the_record() {
    let text = format!(
        "{}\ndone 2025-06-03 09:10 coat 1 of bay at 68 degF, 50 % humidity surface 66 degF\n",
        study(MAP, "")
    );
    let report = report(&text, &readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 3));
    assert!(report.contains("surface 66 °F, 17.3 °F above the dew point"), "{report}");
}

/// Levels that decide, and marks that decide: 15 sections, five of each.
fn fifteen(measure: &str, reads: &str) -> String {
    format!(
        r#"language 1
study "Slats"
    begins 2025-03-01
    decide by grip at month 6
surface slat
    size 1200 x 700 mm
{measure}
product bay
product clove
map sections 180 x 130 mm gap 20 mm from left 40 mm, top 40 mm
    | bay   bare  clove bay   bare  |
    | clove bay   bare  clove bay   |
    | bare  clove bay   bare  clove |
apply
    on 2025-03-02
rounds
{reads}    month 6 grip once
readings "readings.csv"
"#
    )
}

const CODES: [(&str, [&str; 5]); 3] = [
    ("bay", ["A1", "A4", "B2", "B5", "C3"]),
    ("bare", ["A2", "A5", "B3", "C1", "C4"]),
    ("clove", ["A3", "B1", "B4", "C2", "C5"]),
];

fn fifteen_rows(of: impl Fn(&str, usize) -> f64) -> String {
    let mut csv = String::from("date,round,section,measure,value\n");
    for (name, codes) in CODES {
        for (at, code) in codes.iter().enumerate() {
            let _ = writeln!(csv, "2025-09-02,month 6,{code},grip,{}", of(name, at));
        }
    }
    csv
}

#[test]
fn levels_that_decide_lack_no_reference() {
    let text = fifteen("measure grip in steps\n    higher is better", "");
    let csv = fifteen_rows(|name, at| if name == "bay" { 8.0 } else { 4.0 } + 0.1 * at as f64);
    let report = report(&text, &csv);
    assert!(report.contains("By the level of grip at month 6"), "{report}");
    assert!(!report.contains("Not in this comparison"), "{report}");
    assert!(!report.contains("no reference"), "{report}");
}

/// The gauge block of the study left out.
fn without_gauge() -> String {
    let text = study(MAP, "");
    let (before, after) = text.split_once("gauge pen").unwrap();
    format!("{before}measure{}", after.split_once("\nmeasure").unwrap().1)
}

/// Spread within the 36 sections and rounds: 35 of 0.1, and 0, 83, 83.1 with 47.9; pooled 8.0, times 2.87 is 23.
#[test]
fn a_reading_far_off_is_found_without_a_gauge() {
    let csv = readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 3);
    let far = |csv: &str| {
        let found = sound(&without_gauge(), csv).findings;
        found
            .into_iter()
            .filter(|one| one.code == "reading-far-off")
            .map(|one| one.message)
            .collect::<Vec<_>>()
    };
    assert!(far(&csv).is_empty());
    let slip = csv.replace("month 6,A1,gloss-60,GU,83.2,", "month 6,A1,gloss-60,GU,0,");
    assert_ne!(csv, slip);
    let [message] = far(&slip).try_into().unwrap();
    assert!(message.contains("`A1` at `month 6`, 0 GU"), "{message}");
}

#[test]
fn a_leader_among_those_still_read_is_said_to_be_that() {
    let csv = readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 3);
    let lost = |line: &&str| !(line.contains("month 6,B1,") || line.contains("month 6,C4,"));
    let csv: String = csv.lines().filter(lost).flat_map(|line| [line, "\n"]).collect();
    let report = report(&study(MAP, ""), &csv);
    let said = "## Bay spray is the one of the 3 products compared that may lead at month 6";
    assert!(report.contains(said), "{report}");
}
