//! Numbers that are drawn equal the numbers of the tables: coordinates are read back through the ticks of the axis.

use super::{MAP, changes, output, readings, sound, study};
use resvg::tiny_skia::Pixmap;
use std::collections::BTreeMap;

/// What a coordinate of two decimals may be off by, with its tick.
const PIXEL: f64 = 0.011;

/// The reports of all examples with readings, page and text.
const EXAMPLES: [(&str, &str, &str); 3] = [
    (
        "coach-door",
        include_str!("../golden/coach-door/report.html"),
        include_str!("../golden/coach-door/report.md"),
    ),
    (
        "foredeck",
        include_str!("../golden/foredeck/report.html"),
        include_str!("../golden/foredeck/report.md"),
    ),
    (
        "marked-cladding",
        include_str!("../golden/marked-cladding/report.html"),
        include_str!("../golden/marked-cladding/report.md"),
    ),
];

/// The value of an attribute.
fn attribute<'t>(tag: &'t str, name: &str) -> Option<&'t str> {
    let (_, rest) = tag.split_once(&format!(" {name}=\""))?;
    rest.split_once('"').map(|(value, _)| value)
}

/// A number as it is printed, after what may stand before it in its cell.
fn number(text: &str) -> Option<f64> {
    mean(text).split(' ').next_back()?.replace('−', "-").parse().ok()
}

/// A mean without the median that stands in brackets behind it.
fn mean(text: &str) -> &str {
    text.split_once(" (median ").map_or(text, |(mean, _)| mean)
}

/// Half of the last figure that is printed.
fn half_figure(text: &str) -> f64 {
    let decimals = mean(text).trim().rsplit_once('.').map_or(0, |(_, after)| after.len());
    0.5 * 10f64.powi(-i32::try_from(decimals).unwrap())
}

/// Points of a path of `M` and `L`.
fn points(path: &str) -> Vec<(f64, f64)> {
    let steps = path.split(['M', 'L']).filter(|step| !step.is_empty());
    let point = |step: &str| {
        let (x, y) = step.trim_end_matches('z').trim_end_matches("h0").split_once(' ').unwrap();
        (x.parse().unwrap(), y.parse().unwrap())
    };
    steps.map(point).collect()
}

/// A drawing: its words, ticks, and lines of data by what they are of.
struct Drawn<'p> {
    words: &'p str,
    texts: Vec<(f64, f64, &'p str, &'p str)>,
    lines: Vec<(&'p str, Vec<(f64, f64)>)>,
    paths: Vec<(&'p str, Vec<(f64, f64)>)>,
}

/// The pictures whose figure has a class.
fn drawn<'p>(page: &'p str, class: &str) -> Vec<Drawn<'p>> {
    let figures = page.split("<figure ").skip(1).map(|rest| rest.split("</figure>").next().unwrap());
    let figures = figures.filter(|figure| attribute(&format!(" {figure}"), "class") == Some(class));
    figures.flat_map(|figure| figure.split("<svg ").skip(1)).map(Drawn::read).collect()
}

impl<'p> Drawn<'p> {
    fn read(svg: &'p str) -> Self {
        let tags = || svg.split('<').skip(1);
        let paths = || tags().filter(|tag| tag.starts_with("path "));
        let path = |tag: &'p str| (attribute(tag, "class").unwrap(), attribute(tag, "d").unwrap());
        let plain = |d: &str| d.chars().all(|c| c.is_ascii_digit() || "ML. -z".contains(c));
        Self {
            words: attribute(svg, "aria-label").unwrap(),
            texts: tags()
                .filter(|tag| tag.starts_with("text "))
                .map(|tag| {
                    let at = |name: &str| attribute(tag, name).unwrap().parse().unwrap();
                    (at("x"), at("y"), attribute(tag, "class").unwrap(), tag.split_once('>').unwrap().1)
                })
                .collect(),
            lines: paths()
                .filter_map(|tag| Some((attribute(tag, "data-of")?, points(attribute(tag, "d")?))))
                .collect(),
            paths: paths().map(path).filter(|(_, d)| plain(d)).map(|(class, d)| (class, points(d))).collect(),
        }
    }

    fn ticks(&self) -> impl Iterator<Item = (f64, f64, &'p str)> {
        self.texts.iter().filter(|text| text.2 == "soft tick").map(|text| (text.0, text.1, text.3))
    }

    /// From the upright coordinate to data, by the lines of the grid and their ticks.
    fn upright(&self) -> Scale {
        let grid = self.paths.iter().filter(|(class, _)| ["hair", "zero"].contains(class));
        let places: Vec<f64> = grid.map(|(_, points)| points[0].1).collect();
        let ticks: Vec<f64> = self.ticks().map(|tick| number(tick.2).unwrap()).collect();
        assert!(ticks.len() > 1 && ticks.len() == places.len(), "{}: {ticks:?} at {places:?}", self.words);
        Scale::through(&places, &ticks)
    }

    /// The same along the picture.
    fn level(&self) -> Scale {
        let (places, ticks): (Vec<f64>, Vec<f64>) =
            self.ticks().map(|tick| (tick.0, number(tick.2).unwrap())).unzip();
        Scale::through(&places, &ticks)
    }
}

/// From a coordinate to data, through the ticks of an axis.
struct Scale {
    place: f64,
    tick: f64,
    each: f64,
}

impl Scale {
    fn through(places: &[f64], ticks: &[f64]) -> Self {
        let last = places.len() - 1;
        let each = (ticks[last] - ticks[0]) / (places[last] - places[0]);
        let scale = Self { place: places[0], tick: ticks[0], each };
        for (at, known) in places.iter().zip(ticks) {
            assert!((scale.value(*at) - known).abs() < 2.0 * scale.pixel(), "{ticks:?} at {places:?}");
        }
        scale
    }

    fn value(&self, at: f64) -> f64 {
        self.tick + (at - self.place) * self.each
    }

    /// What a value that is read back may be off by.
    fn pixel(&self) -> f64 {
        2.0 * PIXEL * self.each.abs()
    }
}

/// The heading above a table, its head, its rows.
type Table<'t> = (&'t str, Vec<&'t str>, Vec<Vec<&'t str>>);

/// Every table of a report.
fn tables(text: &str) -> Vec<Table<'_>> {
    let mut found = Vec::new();
    let mut heading = "";
    let mut lines = text.lines().peekable();
    while let Some(line) = lines.next() {
        if line.starts_with('#') {
            heading = line.trim_start_matches(['#', ' ']);
        }
        if line.starts_with('|') {
            let mut rows = Vec::new();
            while let Some(row) = lines.next_if(|line| line.starts_with('|')) {
                if !row.starts_with("| ---") {
                    rows.push(split_row(row));
                }
            }
            found.push((heading, split_row(line), rows));
        }
    }
    found
}

fn split_row(line: &str) -> Vec<&str> {
    line.trim_matches('|').split(" | ").map(str::trim).collect()
}

/// Means and sections of the pictures of change against the table of change and the tables of every reading.
fn changes_equal(page: &str, text: &str) -> (usize, usize) {
    let tables = tables(text);
    let (mut means, mut sections) = (0, 0);
    // A heading tells of a change, or that no product is told apart from bare.
    let of_change = |heading: &str| {
        heading.contains(" changed up to ")
            || heading.contains(": no product is told apart from bare; bare sections")
    };
    let shown = tables.iter().filter(|(heading, head, _)| of_change(heading) && head[0] == "Product");
    let shown: Vec<_> = shown.collect();
    let figures: Vec<&str> =
        page.split("<figure ").skip(1).filter(|f| f.contains("class=\"picture-change\"")).collect();
    assert_eq!(figures.len(), shown.len());
    for (figure, (heading, head, rows)) in figures.into_iter().zip(shown) {
        let figure = format!("<figure {figure}");
        // Rounds that have a number are drawn, after the one from which the change counts.
        let read: Vec<usize> = (1..head.len() - 1)
            .filter(|&at| head[at] != "Stopped at")
            .filter(|&at| rows.iter().any(|row| number(row[at]).is_some()))
            .collect();
        let from = figure.split(" from ").nth(1).unwrap().split([';', ' ']).next().unwrap();
        let measure = heading.split(" up to ").next().unwrap().trim_end_matches(" changed").to_lowercase();
        for panel in drawn(&figure, "picture-change") {
            let name = panel.words.split(": ").next().unwrap();
            let row = rows.iter().find(|row| row[0] == name).unwrap_or_else(|| panic!("no row of {name}"));
            let scale = panel.upright();
            let days: Vec<f64> = panel
                .paths
                .iter()
                .filter(|(class, _)| *class == "ink-line")
                .flat_map(|(_, points)| points.iter().step_by(2).map(|point| point.0))
                .collect();
            assert_eq!(days.len(), read.len() + 1, "{heading}: {read:?}");
            let round = |x: f64| days.iter().position(|day| (day - x).abs() < PIXEL).unwrap();
            for (of, line) in &panel.lines {
                for &(x, y) in line {
                    let at = round(x);
                    let drawn = scale.value(y);
                    if *of == "mean" {
                        let known = if at == 0 { "0.0" } else { row[read[at - 1]] };
                        let off = (drawn - number(known).unwrap()).abs();
                        assert!(
                            off < half_figure(known) + scale.pixel(),
                            "{name} {known} is drawn at {drawn}"
                        );
                        means += 1;
                    } else if at > 0 {
                        let mean = |round: &str| {
                            let known = tables.iter().find(|(heading, head, _)| {
                                heading.to_lowercase() == format!("{measure} at {round}")
                                    && head[0] == "Section"
                            })?;
                            let at = known.1.iter().position(|head| *head == "Mean")?;
                            Some(known.2.iter().find(|row| row[0] == *of)?[at])
                        };
                        let (Some(now), Some(start)) = (mean(head[read[at - 1]]), mean(from)) else {
                            continue;
                        };
                        let (Some(then), Some(first)) = (number(now), number(start)) else { continue };
                        let off = (drawn - (then - first)).abs();
                        let least = half_figure(now) + half_figure(start) + scale.pixel();
                        assert!(off < least, "{of}: {now} − {start} is drawn at {drawn}");
                        sections += 1;
                    }
                }
            }
        }
    }
    (means, sections)
}

/// Both ends of every interval against the table below it.
fn intervals_equal(page: &str, text: &str) -> usize {
    let tables = tables(text);
    let mut compared = 0;
    for picture in drawn(page, "picture-intervals") {
        let scale = picture.level();
        let of = |table: &&Table<'_>| {
            let (_, head, rows) = table;
            head.iter().any(|head| head.starts_with("Difference, "))
                && picture.lines.iter().all(|(name, _)| rows.iter().any(|row| row[0].starts_with(name)))
                && ends(table, picture.lines[0].0).is_some_and(|(low, _)| {
                    (scale.value(picture.lines[0].1[0].0) - number(low).unwrap()).abs() < 1.0
                })
        };
        let table = tables.iter().find(of).unwrap_or_else(|| panic!("no table of {}", picture.words));
        for (name, line) in &picture.lines {
            let (low, high) = ends(table, name).unwrap();
            for (known, at) in [(low, line[0].0), (high, line[1].0)] {
                let off = (scale.value(at) - number(known).unwrap()).abs();
                assert!(
                    off < half_figure(known) + scale.pixel(),
                    "{name}: {known} is drawn at {}",
                    scale.value(at)
                );
            }
            compared += 1;
        }
    }
    compared
}

fn ends<'t>((_, head, rows): &Table<'t>, name: &str) -> Option<(&'t str, &'t str)> {
    let at = head.iter().position(|head| *head == "95 % interval")?;
    rows.iter().find(|row| row[0].trim_end_matches(" (to beat)") == name)?[at].split_once(" to ")
}

/// Where time is counted in cycles, so is the axis: a step for each, with its name, and what was read before the first at its start.
#[test]
fn an_axis_of_cycles_has_equal_steps() {
    let page = EXAMPLES.iter().find(|(name, ..)| *name == "marked-cladding").unwrap().1;
    let wide = drawn(page, "picture-spent").into_iter().step_by(2);
    let mut seen = 0;
    for picture in wide {
        let ticks: Vec<(f64, &str)> = picture.ticks().map(|(x, _, name)| (x, name)).collect();
        let names: Vec<&str> = ticks.iter().map(|tick| tick.1).collect();
        assert_eq!(names, ["fresh", "cycle 1", "cycle 2", "cycle 3", "cycle 4", "cycle 5", "cycle 6"]);
        let steps: Vec<f64> = ticks.windows(2).map(|two| two[1].0 - two[0].0).collect();
        assert!(steps.iter().all(|step| (step - steps[0]).abs() < 2.0 * PIXEL), "{steps:?}");
        seen += 1;
    }
    assert!(seen > 3, "{seen}");
}

/// A section held up to the round that its row names.
fn times_equal(page: &str, text: &str) -> usize {
    let tables = tables(text);
    let mut compared = 0;
    for picture in drawn(page, "picture-spent") {
        let rounds: BTreeMap<&str, f64> = picture.ticks().map(|(x, _, name)| (name, x)).collect();
        for (of, line) in &picture.lines {
            let rows = tables.iter().filter(|(_, head, _)| head.get(4) == Some(&"Between the rounds"));
            let held: Vec<&str> = rows
                .flat_map(|(_, _, rows)| rows)
                .filter(|row| row[1] == *of)
                .filter_map(|row| row[4].trim_start_matches("passed at ").split(", ").next())
                .collect();
            let places: Vec<&f64> = held.iter().filter_map(|name| rounds.get(name)).collect();
            // Rounds that lie close together have one name between them, so that some cannot be found.
            if held.is_empty() || places.len() < held.len() {
                continue;
            }
            assert!(
                places.iter().any(|place| (*place - line[1].0).abs() < PIXEL),
                "{of}: {held:?}, {line:?}"
            );
            compared += 1;
        }
    }
    compared
}

/// Every reading less the mean of its section against the table of every reading.
fn readings_equal(page: &str, text: &str) -> usize {
    let tables = tables(text);
    let mut compared = 0;
    let Some((title, _)) = page.split_once("each less the mean of its section") else { return 0 };
    let heading = title.rsplit_once("Readings of ").unwrap().1.trim_end_matches(", ");
    let of = |table: &&Table<'_>| table.0 == heading && table.1[0] == "Section";
    let Some((_, head, rows)) = tables.iter().find(of) else { return 0 };
    let at = |name: &str| head.iter().position(|head| head.starts_with(name)).unwrap();
    for picture in drawn(page, "picture-spread") {
        let scale = picture.level();
        for (of, points) in &picture.lines {
            let row = rows.iter().find(|row| row[0] == *of).unwrap();
            let mean = row[at("Mean")];
            let mut known: Vec<f64> = row[at("Readings")]
                .split(' ')
                .filter_map(number)
                .map(|v| v - number(mean).unwrap())
                .collect();
            let mut drawn: Vec<f64> = points.iter().map(|(x, _)| scale.value(*x)).collect();
            known.sort_by(f64::total_cmp);
            drawn.sort_by(f64::total_cmp);
            assert_eq!(known.len(), drawn.len(), "{of}: {row:?}");
            for (known, drawn) in known.iter().zip(&drawn) {
                let off = (known - drawn).abs();
                assert!(off < half_figure(mean) + scale.pixel(), "{of}: {known} is drawn at {drawn}");
                compared += 1;
            }
        }
    }
    compared
}

#[test]
fn drawn_numbers_of_the_examples_equal_their_tables() {
    let counts = EXAMPLES.map(|(name, page, text)| {
        // Titles of pictures name a measure in an element that keeps it on one line.
        let page = &page.replace("<bdi class=\"held\">", "").replace("</bdi>", "");
        let (means, sections) = changes_equal(page, text);
        (
            name,
            means,
            sections,
            intervals_equal(page, text),
            times_equal(page, text),
            readings_equal(page, text),
        )
    });
    for (name, means, sections, intervals, times, readings) in counts {
        assert!(readings > 20 || name == "marked-cladding", "{name}: {readings} readings");
        assert!(means > 20 && intervals > 2, "{name}: {means} means, {intervals} intervals");
        assert!(sections > 20 || name == "marked-cladding", "{name}: {sections} sections");
        assert!(times > 5 || name != "coach-door", "{name}: {times} times");
    }
}

/// Levels along the panel against the table of the round before the products, the line against the table of the trend.
#[test]
fn the_trend_over_the_panel_is_drawn_as_its_table_has_it() {
    let [(_, page, text), ..] = EXAMPLES;
    let tables = tables(text);
    let (_, _, sections) = tables.iter().find(|(heading, ..)| *heading == "gloss-20 at baseline").unwrap();
    let (_, head, rows) = tables.iter().find(|(_, head, _)| head.contains(&"Left to right")).unwrap();
    let row = rows.iter().find(|row| row[0] == "gloss-20").unwrap();
    let mut compared = 0;
    for (picture, way) in drawn(page, "picture-trend").iter().zip(["Left to right", "Top to bottom"]) {
        let scale = picture.upright();
        for (of, points) in &picture.lines {
            if *of == "plane" {
                let known = row[head.iter().position(|head| *head == way).unwrap()].trim_end_matches(" GU");
                let drawn = scale.value(points[1].1) - scale.value(points[0].1);
                let off = (drawn - number(known).unwrap()).abs();
                assert!(off < half_figure(known) + scale.pixel(), "{way}: {known} is drawn as {drawn}");
            } else {
                let mean = sections.iter().find(|row| row[0] == *of).unwrap()[4];
                let off = (scale.value(points[0].1) - number(mean).unwrap()).abs();
                assert!(off < half_figure(mean) + scale.pixel(), "{of}: {mean}");
            }
            compared += 1;
        }
    }
    assert_eq!(compared, 2 * 31);
}

#[test]
fn film_before_and_after_is_drawn_as_it_was_read() {
    let page = output(
        &super::panel::made(
            "2025-06-01,prep 1,panel,film,um,Ada,118,121,116\n2025-06-01,prep 2,panel,film,um,Ada,115,119,99\n",
        ),
        "report.html",
    );
    let pictures = drawn(&page, "picture-removed");
    let [picture] = pictures.as_slice() else { panic!("{} pictures", pictures.len()) };
    assert_eq!(picture.words, "Film before and after preparation: the lowest place has 99.0 µm left");
    let scale = picture.level();
    let (before, after): (f64, f64) = (355.0 / 3.0, 333.0 / 3.0);
    // Losses of 3, 2 and 17: mean 22/3, standard deviation the root of 421/6 (70.33), t on 2 degrees of freedom 4.3027.
    let half = 4.302_65 * (211.0_f64 / 3.0 / 3.0).sqrt();
    let known: [(&str, &[f64]); 6] = [
        ("leave", &[100.0, 100.0]),
        ("place 1", &[118.0, 115.0]),
        ("place 2", &[121.0, 119.0]),
        ("place 3", &[116.0, 99.0]),
        ("mean", &[before, after]),
        ("interval", &[after - half, after + half]),
    ];
    assert_eq!(picture.lines.len(), known.len());
    for (name, values) in known {
        let (_, line) = picture.lines.iter().find(|(of, _)| *of == name).unwrap();
        for (known, (x, _)) in values.iter().zip(line) {
            assert!(
                (scale.value(*x) - known).abs() < scale.pixel(),
                "{name}: {known} is drawn at {}",
                scale.value(*x)
            );
        }
    }
}

#[test]
fn every_panel_has_the_same_scale_and_says_what_it_shows() {
    let csv = readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 3);
    let page = output(&sound(&study(MAP, ""), &csv), "report.html");
    let panels = drawn(&page, "picture-change");
    let words: Vec<&str> = panels.iter().map(|panel| panel.words).collect();
    assert_eq!(
        words,
        [
            "Bay spray: −2.0 GU at month 6, 2 sections from −2.3 to −1.7, above all bare sections",
            "Thyme spray: −6.0 GU at month 6, 2 sections from −6.3 to −5.7, above all bare sections",
            "Cumin spray: −7.0 GU at month 6, 2 sections from −7.3 to −6.7, above all bare sections",
            "Rue spray: −9.0 GU at month 6, 2 sections from −9.3 to −8.7, above all bare sections",
            "bare: −12.0 GU at month 6, 4 sections from −12.3 to −11.7",
        ]
    );
    let ticks = |panel: &Drawn<'_>| panel.ticks().map(|tick| format!("{tick:?}")).collect::<Vec<String>>();
    assert!(panels.iter().all(|panel| ticks(panel) == ticks(&panels[0])));
    assert!(
        page.contains("at month 6: products from −9.0 (Rue spray) to −2.0 (Bay spray), bare sections −12.0")
    );
}

/// Question, finding, sections, date and source stand in every file, in its size; colours are literal.
#[test]
fn pictures_to_pass_on_say_all_that_they_need() {
    let csv = readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 3);
    let text = study(MAP, "")
        .replace("    decide by", "    question    \"Which spray keeps its gloss?\"\n    decide by");
    let outcome = sound(&text, &csv);
    let files = outcome.edition().share().unwrap();
    assert_eq!(files, outcome.edition().share().unwrap());
    let (files, painted): (Vec<_>, Vec<_>) =
        files.into_iter().partition(|file| file.bytes.starts_with(b"<svg"));
    let of =
        |format: &str| files.iter().filter(|file| file.name.ends_with(&format!("-{format}.svg"))).count();
    assert_eq!([of("square"), of("tall")], [of("wide"); 2]);
    let stems = |files: &[tapeline::pipeline::Artifact], end: &str| {
        files.iter().map(|file| file.name.strip_suffix(end).unwrap().to_owned()).collect::<Vec<_>>()
    };
    assert_eq!(stems(&files, ".svg"), stems(&painted, ".png"));
    for file in &files {
        let svg = String::from_utf8(file.bytes.clone()).unwrap();
        let name = &file.name;
        let size = match format_of(name) {
            "square" => r#"width="1080" height="1080""#,
            "wide" => r#"width="1200" height="630""#,
            "tall" => r#"width="1080" height="1350""#,
            other => panic!("{other}"),
        };
        assert!(svg.contains(size), "{name}");
        assert!(!svg.contains("var(") && !svg.contains("NaN"), "{name}");
        // A line of text may break at any blank.
        let told: Vec<&str> =
            svg.split('<').filter_map(|part| Some(part.split_once('>')?.1.trim())).collect();
        let told = told.join(" ").split_whitespace().collect::<Vec<_>>().join(" ");
        for words in ["Which spray", "as of 2026-01-10", "Four sprays on a locker lid", "section"] {
            assert!(told.contains(words), "{name} lacks {words}");
        }
    }
    let names: Vec<&str> =
        files.iter().map(|file| file.name.as_str()).filter(|name| name.ends_with("-wide.svg")).collect();
    assert_eq!(
        names,
        [
            "against-bare-wide.svg",
            "map-wide.svg",
            "change-1-wide.svg",
            "panel-wide.svg",
            "spent-1-wide.svg",
            "trend-wide.svg",
            "spread-wide.svg"
        ]
    );
    let bare = files.iter().find(|file| file.name == "against-bare-square.svg").unwrap();
    let bare = String::from_utf8_lossy(&bare.bytes);
    assert!(bare.contains("<title>All 4 products differ from bare at month 6: 4 better</title>"), "{bare}");
}

/// The format in the name of a picture to pass on, before the number that the second and later of several have.
fn format_of(name: &str) -> &str {
    let stem = name.rsplit_once('.').unwrap().0;
    stem.rsplit('-').find(|part| part.parse::<usize>().is_err()).unwrap()
}

/// The picture of the same name as pixels: in its size, on paper, and with its words, which no font of the machine gave.
#[test]
fn pictures_to_pass_on_are_painted_with_their_words() {
    let outcome = sound(&study(MAP, ""), &readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 3));
    let files = outcome.edition().share().unwrap();
    let painted = files.iter().filter(|file| file.bytes.starts_with(b"\x89PNG"));
    for file in painted {
        let name = &file.name;
        let pixels = Pixmap::decode_png(&file.bytes).unwrap();
        let size = match format_of(name) {
            "square" => (1080, 1080),
            "wide" => (1200, 630),
            "tall" => (1080, 1350),
            other => panic!("{other}"),
        };
        assert_eq!((pixels.width(), pixels.height()), size, "{name}");
        let shade = |x: u32, y: u32| {
            let pixel = pixels.pixel(x, y).unwrap();
            (u32::from(pixel.red()) + u32::from(pixel.green()) + u32::from(pixel.blue())) / 3
        };
        assert_eq!((shade(0, 0), pixels.pixel(0, 0).unwrap().alpha()), (255, 255), "{name}");
        // The question stands above the drawing, the source in the last lines; without a font nothing stood there.
        let ink = |rows: std::ops::Range<u32>| {
            rows.flat_map(|y| (0..size.0).map(move |x| (x, y))).filter(|&(x, y)| shade(x, y) < 128).count()
        };
        let (above, below) = (ink(0..size.1 / 9), ink(size.1 * 19 / 20 - 20..size.1));
        assert!(above > 300 && below > 300, "{name}: {above} dark pixels above, {below} below");
    }
}
