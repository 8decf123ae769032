//! Pictures as SVG text, each drawn from its view.

mod card;
mod change;
mod frame;
mod hazard;
mod intervals;
mod key;
mod map;
mod panel;
mod plot;
mod spent;
mod removed;
mod spread;
mod trend;

pub(crate) use card::Around;
use card::LEAST;
pub(crate) use frame::{Look, stand_alone};
pub(crate) use hazard::{refer as hazard_reference, symbols as hazard_symbols};
pub(crate) use map::{Plan, draw as draw_map, size as map_size};

use crate::markup::{Attributes, Xml};
use crate::report::{Drawing, Picture};
use crate::speech::say;
use frame::{Draw, Piece};

/// A picture on a page: its sentence above, the drawing, and how to read it below.
pub(crate) fn figure(picture: &Picture) -> String {
    let id = place(picture);
    let (class, notes) = match &picture.drawing {
        Drawing::Map(view) => ("picture-map", map::all_notes(Plan::wide(view)).join(" ")),
        Drawing::Change(_) => ("picture-change", String::new()),
        Drawing::Intervals(_) => ("picture-intervals", String::new()),
        Drawing::Panel(_) => ("picture-panel", String::new()),
        Drawing::Spread(_) => ("picture-spread", String::new()),
        Drawing::Removed(_) => ("picture-removed", String::new()),
        Drawing::Trend(_) => ("picture-trend", String::new()),
        Drawing::Spent(_) => ("picture-spent", String::new()),
    };
    let narrow = narrow(picture);
    let (drawing, fits) = match &picture.drawing {
        // On a page it turns.
        Drawing::Panel(chart) => (panel::draw(chart, &picture.title), panel::has_narrow(chart)),
        _ => (pieces(picture).iter().chain(&narrow).map(Piece::inline).collect(), narrow.is_some()),
    };
    let mut xml = Xml::new();
    xml.element("figure", &[("id", &id), ("class", &class)], |xml| {
        xml.leaf("p", &[("class", &"title")], &picture.title);
        // On a phone the picture scrolls in its box, which the keyboard must reach too; small ones stand in a column, and of
        // two drawings the one that fits is shown.
        let scrolls: Attributes<'_> =
            &[("class", &"wide"), ("role", &"group"), ("tabindex", &0), ("aria-label", &say!("Picture"))];
        let attributes: Attributes<'_> = match picture.drawing {
            Drawing::Change(_) => &[("class", &"cells")],
            Drawing::Panel(_) if fits => &[("class", &"turns")],
            _ if fits => &[("class", &"fits")],
            Drawing::Spread(_) | Drawing::Removed(_) | Drawing::Trend(_) => &[("class", &"cells halves")],
            _ => scrolls,
        };
        xml.element("div", attributes, |xml| xml.markup(&drawing));
        if !notes.is_empty() {
            xml.leaf("figcaption", &[], &notes);
        }
    });
    xml.line();
    xml.finish()
}

/// A picture as files to pass on, so many pixels wide and high: one, or several where only then its letters can be read.
pub(crate) fn cards(picture: &Picture, around: Around<'_>, size: (f64, f64)) -> Vec<String> {
    let Drawing::Spent(chart) = &picture.drawing else {
        // The drawing for a phone has the same letters on half the width, so that they come out twice as large where there is height.
        let stacked = narrow(picture).filter(|_| matches!(picture.drawing, Drawing::Intervals(_)));
        let cuts: Vec<Vec<Piece<'_>>> =
            [Some(pieces(picture)), stacked.map(|one| vec![one])].into_iter().flatten().collect();
        return vec![card::card(around, &cuts, size)];
    };
    let most = chart.rows.len().max(1);
    for count in 1..=most {
        let parts = spent::parts(chart, count);
        let title = |at: usize| match parts.len() {
            0 | 1 => around.title.to_owned(),
            parts => say!("{title} ({part} of {parts})", title = around.title, parts, part = at + 1),
        };
        let columns = |part| {
            let columns =
                (1..=COLUMNS).map(|columns| spent::columns(part, columns, place(picture), &picture.title));
            columns.chain([spent::narrow(part, place(picture), &picture.title)]).collect::<Vec<_>>()
        };
        let titled: Vec<_> = parts.iter().enumerate().map(|(at, part)| (title(at), columns(part))).collect();
        let read = |(title, columns): &(String, Vec<_>)| {
            card::scale(around.under(title), columns, size) * spent::LETTERS >= LEAST
        };
        if count == most || titled.iter().all(read) {
            return titled
                .iter()
                .map(|(title, columns)| card::card(around.under(title), columns, size))
                .collect();
        }
    }
    Vec::new()
}

/// Most columns of a picture to pass on.
const COLUMNS: usize = 5;

/// The name of its place on a page.
fn place(picture: &Picture) -> &str {
    picture.address.split_once('#').map_or("map", |(_, place)| place)
}

/// What a picture is drawn of; several pieces stand beside each other as room allows.
fn pieces(picture: &Picture) -> Vec<Piece<'_>> {
    let (size, draw): (_, Draw<'_>) = match &picture.drawing {
        Drawing::Change(chart) => return change::pieces(chart),
        Drawing::Spread(chart) => return spread::pieces(chart),
        Drawing::Trend(chart) => return trend::pieces(chart),
        Drawing::Map(view) => {
            let prefix = format!("{}-", place(picture));
            let size = map_size(Plan::wide(view), Look { prefix: &prefix, titled: false });
            (
                size,
                Box::new(move |xml| draw_map(Plan::wide(view), Look { prefix: &prefix, titled: false }, xml)),
            )
        }
        Drawing::Intervals(chart) => {
            let layout = &intervals::WIDE;
            (intervals::size(chart, layout), Box::new(move |xml| intervals::draw(chart, layout, xml)))
        }
        Drawing::Panel(chart) => (
            panel::size(chart, &panel::WIDE),
            Box::new(move |xml| panel::draw_small(chart, &panel::WIDE, xml)),
        ),
        Drawing::Removed(chart) => (removed::size(chart), Box::new(move |xml| removed::draw(chart, xml))),
        Drawing::Spent(chart) => {
            let (layout, place) = (spent::Layout::wide(), place(picture).to_owned());
            (spent::size(chart, layout), Box::new(move |xml| spent::draw(chart, (layout, &place), xml)))
        }
    };
    vec![Piece { words: picture.title.clone(), size, draw }]
}

/// The same picture for the width of a phone, where it is drawn anew and not only smaller.
fn narrow(picture: &Picture) -> Option<Piece<'_>> {
    let (size, draw): (_, Draw<'_>) = match &picture.drawing {
        Drawing::Intervals(chart) => {
            let layout = &intervals::NARROW;
            (intervals::size(chart, layout), Box::new(move |xml| intervals::draw(chart, layout, xml)))
        }
        Drawing::Spent(chart) => {
            let (layout, place) = (spent::Layout::narrow(chart), format!("{}-narrow", place(picture)));
            (spent::size(chart, layout), Box::new(move |xml| spent::draw(chart, (layout, &place), xml)))
        }
        Drawing::Map(view) => {
            let (plan, prefix) = (Plan::narrow(view)?, format!("{}-narrow-", place(picture)));
            let size = map_size(plan, Look { prefix: &prefix, titled: false });
            (size, Box::new(move |xml| draw_map(plan, Look { prefix: &prefix, titled: false }, xml)))
        }
        _ => return None,
    };
    Some(Piece { words: picture.title.clone(), size, draw })
}

#[cfg(test)]
mod tests {
    use super::{Around, LEAST, cards, spent};
    use crate::report::{Drawing, Picture, SpentChart, SpentRow, Until};

    fn times(rows: usize) -> Picture {
        let row = |at: usize| SpentRow {
            name: format!("Product {}", at / 3),
            first: at.is_multiple_of(3),
            code: format!("A{at}"),
            mark: 0,
            held: 30.0,
            until: Until::Open,
        };
        let rounds = vec![(0.0, "fresh".to_owned()), (90.0, "month 3".to_owned())];
        let chart = SpentChart { last: 90.0, rounds, rows: (0..rows).map(row).collect() };
        Picture {
            address: "report.html#picture-spent-1".to_owned(),
            title: "Time until spent".to_owned(),
            note: "51 sections".to_owned(),
            drawing: Drawing::Spent(chart),
        }
    }

    /// All that is written in a file, as one line.
    fn written(svg: &str) -> String {
        let texts = svg.split('<').filter_map(|tag| tag.split_once('>')).map(|(_, text)| text.trim());
        texts.filter(|text| !text.is_empty()).collect::<Vec<_>>().join(" ")
    }

    /// However many sections there are, in whatever format: every line is drawn once, and its letters can be read.
    #[test]
    fn times_to_spent_are_cut_until_they_can_be_read() {
        let around = Around { question: "Which?", title: "Two are spent", note: "n", source: "s", style: "" };
        for size in [(1080.0, 1080.0), (1200.0, 630.0), (1080.0, 1350.0)] {
            for rows in [6, 30, 51, 200] {
                let files = cards(&times(rows), around, size);
                let of = |text: &str| files.iter().map(|svg| svg.matches(text).count()).sum::<usize>();
                assert_eq!(of("data-of="), rows, "{size:?}");
                let scales = files.iter().flat_map(|svg| svg.split(" scale(").skip(1));
                for scale in scales.map(|rest| rest.split(')').next().unwrap_or_default()) {
                    let letters = scale.parse().map_or(0.0, |scale: f64| scale * spent::LETTERS);
                    assert!(letters >= LEAST - 0.01, "{rows} rows in {size:?}: {letters} px");
                }
                let parts = files.iter().map(|svg| written(svg).matches("(1 of ").count()).sum::<usize>();
                assert_eq!(parts, 2 * usize::from(files.len() > 1), "{rows} rows in {size:?}");
            }
        }
        let (tall, wide) = ((1080.0, 1350.0), (1200.0, 630.0));
        assert_eq!(cards(&times(12), around, tall).len(), 1);
        assert!(cards(&times(200), around, wide).len() > 1);
    }
}
