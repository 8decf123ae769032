//! The map, drawn to scale in mm: panel, areas, sections, datum, scale bar and the arrow for up, or for the top edge.

use super::frame::{BOLD, Look, cut, lines, text_width, two_lines};
use super::key::{self, Key};
use crate::markup::{Coordinate, Xml, coordinate};
use crate::report::{AreaView, Kind, MapView, SectionView, Shape, round_length};
use crate::speech::say;

/// Letters of ticks, areas and notes, in units: 9 pt where the map is printed as wide as the paper.
const SMALL: f64 = 2.0;
/// From one line of notes to the next, in units.
const LEADING: f64 = 2.8;
/// Letters of other fonts may be a tenth wider.
const WIDER: f64 = 1.1;
/// A section that is so many times as wide as it is high has its writing on one line.
const FLAT: f64 = 2.6;

/// Width of the map on the screen of a phone, and how large its letters then are, px.
const PHONE: (f64, f64) = (328.0, 11.5);
/// Names in sections are at least so large where a map is drawn for a phone, in units: 9 px.
const NAME: f64 = 1.6;

/// A map, and how large it is written.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Plan<'a> {
    view: &'a MapView,
    /// What lines and letters are measured in, mm.
    unit: f64,
    /// Whether sections carry the names of what is on them; else those stand below the map.
    named: bool,
}

impl<'a> Plan<'a> {
    /// For paper and wide screens. A unit is a hundredth of the longer side: lines and letters grow with the panel, so that
    /// the map of a slip and that of a hull side look alike.
    pub(crate) fn wide(view: &'a MapView) -> Self {
        let (left, top, right, bottom) = view.bounds;
        Self { view, unit: (right - left).max(bottom - top) / 100.0, named: true }
    }

    /// For the screen of a phone, with letters that are large enough there; `None` where a section has no room for its code.
    pub(crate) fn narrow(view: &'a MapView) -> Option<Self> {
        let wide = Self::wide(view);
        let (left, _, right, _) = view.bounds;
        let (width, letters) = PHONE;
        // Units beside the panel grow with the letters: its width is what they leave of the screen.
        let (before, behind) = beside_panel(wide);
        let beside = (before + behind) * letters / SMALL;
        let unit = (letters / SMALL * (right - left) / (width - beside).max(1.0)).max(wide.unit);
        let outlines = || view.sections.iter().map(|section| (section, room(&section.outline)));
        let named =
            outlines().all(|(section, (_, _, w, h))| Letters::of(section, (w, h)).name >= NAME * unit);
        let coded = outlines().all(|(section, (_, _, w, h))| code_alone(section, (w, h)) >= SMALL * unit);
        (named || coded).then_some(Self { unit, named, ..wide })
    }
}

/// Left, top, width and height of the whole drawing in mm.
pub(crate) fn size(map: Plan<'_>, look: Look<'_>) -> (f64, f64, f64, f64) {
    let (left, top, right, bottom) = map.view.bounds;
    let u = map.unit;
    let (above, under) = room_beside(map);
    let head = if look.titled { above + 4.5 } else { above };
    let below = if map.named { 0.0 } else { key_of(map).height() };
    let foot = under + if look.titled { 1.0 + LEADING * notes(map).len() as f64 } else { below };
    let (before, behind) = beside_panel(map);
    (
        left - before * u,
        top - head * u,
        right - left + (before + behind) * u,
        bottom - top + (head + foot) * u,
    )
}

/// What stands above and below the sections, in units: the tape rule, and the scale bar. A rack has its name above at most.
fn room_beside(map: Plan<'_>) -> (f64, f64) {
    match (map.view.rack, map.view.racks.is_empty() || !map.named) {
        (false, _) => (6.5, 6.0),
        (true, false) => (4.0, 2.0),
        (true, true) => (1.0, 2.0),
    }
}

/// Draws the map into an element.
pub(crate) fn draw(map: Plan<'_>, look: Look<'_>, xml: &mut Xml) {
    patterns(map, look, xml);
    if look.titled {
        let (left, top, ..) = map.view.bounds;
        let (width, size) = (map.view.bounds.2 - left, 2.2 * map.unit);
        words(
            xml,
            "code",
            (left, top - (room_beside(map).0 + 1.3) * map.unit),
            size,
            &cut(&map.view.title, (width + 4.0 * size) / size),
        );
    }
    if let Some(panel) = &map.view.panel {
        shape(xml, panel, "panel", 0.25 * map.unit, None);
    }
    for area in &map.view.areas {
        hatched(xml, area, look, map.unit);
    }
    for section in &map.view.sections {
        draw_section(xml, section, (map, look));
    }
    for area in &map.view.areas {
        name_area(xml, area, map);
    }
    // Where names have no room, each section has its whole code.
    for (name, (x, y)) in map.view.racks.iter().filter(|_| map.named) {
        words(xml, "code", (*x, y - 1.2 * map.unit), 2.2 * map.unit, name);
    }
    // A rack is an order of places; nothing is measured on it.
    if !map.view.rack {
        ruler(map, xml);
        datum(map, xml);
        up(map, xml);
        scale(map, xml);
    }
    // On a page the notes are text below the picture, in the size of the page.
    if look.titled {
        draw_notes(map, xml);
    }
    if !map.named {
        let (left, _, _, bottom) = map.view.bounds;
        let at = (left - (beside_panel(map).0 - 0.4) * map.unit, bottom + room_beside(map).1 * map.unit);
        for (x, y, line) in key_of(map).places() {
            words(xml, "soft", (at.0 + x * map.unit, at.1 + y * map.unit), key::SIZE * map.unit, line);
        }
    }
}

/// What the sections carry, and the areas that only a larger map has room to name.
fn key_of(map: Plan<'_>) -> Key {
    let (left, _, right, _) = map.view.bounds;
    let (before, behind) = beside_panel(map);
    let width = (right - left) / map.unit + before + behind;
    let wide = Plan::wide(map.view);
    let only_there = |area: &&AreaView| spot(area, map).is_none() && spot(area, wide).is_some();
    let unnamed: Vec<&str> =
        map.view.areas.iter().filter(only_there).map(|area| area.label.as_str()).collect();
    Key::new(&map.view.sections, not_named(&unnamed).as_deref(), width)
}

fn patterns(map: Plan<'_>, look: Look<'_>, xml: &mut Xml) {
    let u = map.unit;
    xml.element("defs", &[], |xml| {
        hatch(xml, (look.prefix, "bare"), 1.1 * u, "rotate(-45)", ("bare-ground", "bare-line", 0.16 * u));
        hatch(xml, (look.prefix, "avoid"), 0.9 * u, "rotate(45)", ("paper", "area-line", 0.22 * u));
        hatch(xml, (look.prefix, "curved"), 0.9 * u, "rotate(90)", ("paper", "area-line", 0.12 * u));
        let id = format!("{}other", look.prefix);
        let step = coordinate(1.2 * u);
        let attributes: crate::markup::Attributes<'_> =
            &[("id", &id), ("width", &step), ("height", &step), ("patternUnits", &"userSpaceOnUse")];
        xml.element("pattern", attributes, |xml| {
            xml.empty("rect", &[("width", &step), ("height", &step), ("class", &"other-ground")]);
            let middle = coordinate(0.6 * u);
            let r = coordinate(0.16 * u);
            xml.empty("circle", &[("cx", &middle), ("cy", &middle), ("r", &r), ("class", &"other-line")]);
        });
    });
    xml.line();
}

fn hatch(xml: &mut Xml, name: (&str, &str), step: f64, turn: &str, look: (&str, &str, f64)) {
    let id = format!("{}{}", name.0, name.1);
    let (ground, line, width) = look;
    let (step, middle, width) = (coordinate(step), coordinate(step / 2.0), coordinate(width));
    let attributes: crate::markup::Attributes<'_> = &[
        ("id", &id),
        ("width", &step),
        ("height", &step),
        ("patternUnits", &"userSpaceOnUse"),
        ("patternTransform", &turn),
    ];
    xml.element("pattern", attributes, |xml| {
        xml.empty("rect", &[("width", &step), ("height", &step), ("class", &ground)]);
        let d = format!("M{middle} 0V{step}");
        xml.empty("path", &[("d", &d), ("class", &line), ("stroke-width", &width)]);
    });
}

fn hatched(xml: &mut Xml, area: &AreaView, look: Look<'_>, u: f64) {
    let name = if area.curved { "curved" } else { "avoid" };
    shape(xml, &area.outline, "area", 0.2 * u, Some(&format!("url(#{}{name})", look.prefix)));
}

fn draw_section(xml: &mut Xml, section: &SectionView, (map, look): (Plan<'_>, Look<'_>)) {
    let (class, name) = match section.kind {
        Kind::Product => ("section", None),
        Kind::Bare => ("bare", Some("bare")),
        Kind::Other => ("bare", Some("other")),
    };
    let fill = name.map(|name| format!("url(#{}{name})", look.prefix));
    shape(xml, &section.outline, class, 0.18 * map.unit, fill.as_deref());
    if map.named {
        label_section(xml, section);
    } else {
        let (x, y, ..) = room(&section.outline);
        // On all sections alike, as far as the smallest of them allows.
        let sizes = map.view.sections.iter().map(|section| {
            let (_, _, width, height) = room(&section.outline);
            code_alone(section, (width, height))
        });
        let size = sizes.fold(1.4 * SMALL * map.unit, f64::min);
        centred(xml, "code halo", (x, y + 0.36 * size), size, &section.whole);
    }
    xml.line();
}

/// What is written on a section, and how large.
struct Letters<'a> {
    /// Whether code and name stand beside each other.
    flat: bool,
    code: f64,
    /// Size at which the name has room, in one line or two.
    name: f64,
    lines: Vec<&'a str>,
}

impl<'a> Letters<'a> {
    /// The code takes a third of the height, the product a fifth, less where the section is narrow. On a board the name
    /// stands beside the code, since both below each other would be too small to read.
    fn of(section: &'a SectionView, (width, height): (f64, f64)) -> Self {
        let flat = width > FLAT * height;
        let wide = text_width(&section.code).max(0.5);
        let (code, along, across) = if flat {
            let (beside, rest) = (0.2 * width, 0.62 * width);
            ((0.5 * height).min(0.9 * beside / wide), rest, 0.36 * height)
        } else {
            ((0.32 * height).min(0.86 * width / wide).min(0.4 * width), 0.88 * width, 0.2 * height)
        };
        let one = along / text_width(&section.label).max(0.5);
        let lines = if one < across { two_lines(&section.label) } else { vec![section.label.as_str()] };
        let longest = lines.iter().map(|line| text_width(line)).fold(0.5, f64::max);
        // Every bare section has the same word: it keeps its margin where letters are wide, and the hatch shows beside it.
        let margin = if section.kind == Kind::Product { 1.0 } else { WIDER };
        let name = (along / longest / margin).min(across);
        Self { flat, code, name: if flat { name } else { name.min(0.6 * code) }, lines }
    }
}

/// Size of the code of a section that carries nothing else.
fn code_alone(section: &SectionView, (width, height): (f64, f64)) -> f64 {
    (0.7 * height).min(0.86 * width / text_width(&section.whole).max(0.5) / BOLD)
}

fn label_section(xml: &mut Xml, section: &SectionView) {
    let (x, y, width, height) = room(&section.outline);
    let letters = Letters::of(section, (width, height));
    let (code, lines) = (letters.code, &letters.lines);
    if letters.flat {
        let small = letters.name;
        centred(xml, "code halo", (x - width / 2.0 + 0.13 * width, y + 0.35 * code), code, &section.code);
        let first = y - 0.55 * small * (lines.len() as f64 - 1.0) + 0.35 * small;
        for (at, line) in lines.iter().enumerate() {
            let below = first + 1.1 * small * at as f64;
            centred(xml, "name halo", (x + 0.14 * width, below), small, &cut(line, 0.64 * width / small));
        }
        return;
    }
    let small = letters.name.max(0.1 * height.min(width));
    let block = code + 1.25 * small * lines.len() as f64;
    let first = y - block / 2.0 + 0.84 * code;
    centred(xml, "code halo", (x, first), code, &section.code);
    for (at, line) in lines.iter().enumerate() {
        let below = first + 1.25 * small * (at as f64 + 1.0) + 0.1 * code;
        centred(xml, "name halo", (x, below), small, &cut(line, 0.9 * width / small));
    }
}

fn name_area(xml: &mut Xml, area: &AreaView, map: Plan<'_>) {
    match spot(area, map) {
        Some(Spot::Within(at)) => centred(xml, "halo wide-halo", at, SMALL * map.unit, &area.label),
        Some(Spot::Beside(at)) => centred(xml, "halo", at, SMALL * map.unit, &area.label),
        None => {}
    }
}

/// Where the name of an area stands.
enum Spot {
    /// In its hatch.
    Within((f64, f64)),
    /// Beside it: small areas are named there, so that the hatch stays visible.
    Beside((f64, f64)),
}

/// `None` where every place would cover what is written on a section.
fn spot(area: &AreaView, map: Plan<'_>) -> Option<Spot> {
    let (x, y, width, height) = room(&area.outline);
    let size = SMALL * map.unit;
    let wide = text_width(&area.label) * size;
    let fits = wide < 0.96 * width && height > 1.6 * size;
    let free = if fits { within(map, (x, y, width, height), (wide, size)) } else { None };
    if !map.named {
        return free.map(Spot::Within);
    }
    let spot =
        free.map_or_else(|| Spot::Beside(beside(map, (x, y, width, height), (wide, size))), Spot::Within);
    let (Spot::Within(at) | Spot::Beside(at)) = spot;
    // A corner of the writing is given up for a name, not a word of it.
    (covered(map, at, (wide, size), WRITING) <= 0.1 * wide * size).then_some(spot)
}

/// The share of a section that its writing takes, from the middle to either side.
const WRITING: f64 = 0.4;

/// The place in an area, nearest to its middle, at which a name lies on no section.
fn within(
    map: Plan<'_>,
    (x, y, width, height): (f64, f64, f64, f64),
    (wide, size): (f64, f64),
) -> Option<(f64, f64)> {
    let (aside, along) = ((0.98 * width - wide) / 2.0, (height - 1.4 * size).max(0.0) / 2.0);
    let steps = |most: f64| (-6..=6).map(move |step| f64::from(step) / 6.0 * most);
    let spots = steps(along).flat_map(|dy| steps(aside).map(move |dx| (dx, dy)));
    let mut spots: Vec<(f64, f64)> = spots.collect();
    spots.sort_by(|a, b| a.0.hypot(a.1).total_cmp(&b.0.hypot(b.1)));
    let places = spots.into_iter().map(|(dx, dy)| (x + dx, y + 0.35 * size + dy));
    places.into_iter().find(|&at| covered(map, at, (wide, size), 0.5) <= 0.0)
}

/// How much of the sections a name covers at a place, mm2; of each so large a share to either side of its middle.
fn covered(map: Plan<'_>, (x, y): (f64, f64), (wide, size): (f64, f64), share: f64) -> f64 {
    let sections = map.view.sections.iter().map(|section| room(&section.outline));
    let covers = sections.map(|(sx, sy, w, h)| {
        let across = (x + wide / 2.0).min(sx + share * w) - (x - wide / 2.0).max(sx - share * w);
        let along = (y + 0.25 * size).min(sy + share * h) - (y - size).max(sy - share * h);
        across.max(0.0) * along.max(0.0)
    });
    covers.sum()
}

/// The lines below the map, with the areas that have no room for their name.
pub(crate) fn all_notes(map: Plan<'_>) -> Vec<String> {
    let unnamed = map.view.areas.iter().filter(|area| spot(area, map).is_none());
    let unnamed: Vec<&str> = unnamed.map(|area| area.label.as_str()).collect();
    map.view.notes.iter().cloned().chain(not_named(&unnamed)).collect()
}

fn not_named(areas: &[&str]) -> Option<String> {
    (!areas.is_empty())
        .then(|| say!("Not named on the map for want of room: {names}.", names = areas.join(", ")))
}

/// Where a name so wide and high stands beside an area: below it, above it, to its right or left, wherever it covers
/// least of what is written on the sections.
fn beside(
    map: Plan<'_>,
    (x, y, width, height): (f64, f64, f64, f64),
    (wide, size): (f64, f64),
) -> (f64, f64) {
    let (left, top, right, bottom) = map.view.bounds;
    let (level, aside) = (y + 0.35 * size, width / 2.0 + wide / 2.0 + 0.4 * size);
    let spots = [
        (x, y + height / 2.0 + 1.1 * size),
        (x, y - height / 2.0 - 0.4 * size),
        (x + aside, level),
        (x - aside, level),
    ];
    let inside = spots.map(|(x, y)| {
        let x = x.clamp(left + wide / 2.0, (right - wide / 2.0).max(left + wide / 2.0));
        (x, y.clamp(top + size, (bottom - 0.3 * size).max(top + size)))
    });
    let covered = |at| covered(map, at, (wide, size), WRITING);
    // The first of those that cover as little.
    inside.into_iter().min_by(|&a, &b| covered(a).total_cmp(&covered(b))).unwrap_or((x, level))
}

/// Centre of the writing and the width and height that it may take.
fn room(shape: &Shape) -> (f64, f64, f64, f64) {
    match shape {
        Shape::Rectangle { x, y, width, height } => (x + width / 2.0, y + height / 2.0, *width, *height),
        // The square inside of the circle.
        Shape::Circle { x, y, across } => (*x, *y, 0.72 * across, 0.72 * across),
        Shape::Polygon { corners } => polygon_room(corners),
    }
}

// The centroid of the area, with a share of the bounds that stays inside of most quadrilaterals.
fn polygon_room(corners: &[(f64, f64)]) -> (f64, f64, f64, f64) {
    let next = corners.iter().cycle().skip(1);
    let mut sums = (0.0, 0.0, 0.0);
    for (a, b) in corners.iter().zip(next) {
        let cross = a.0 * b.1 - b.0 * a.1;
        sums = (sums.0 + cross, sums.1 + (a.0 + b.0) * cross, sums.2 + (a.1 + b.1) * cross);
    }
    let start = (f64::INFINITY, f64::INFINITY, f64::NEG_INFINITY, f64::NEG_INFINITY);
    let (left, top, right, bottom) =
        corners.iter().fold(start, |a, p| (a.0.min(p.0), a.1.min(p.1), a.2.max(p.0), a.3.max(p.1)));
    let centre = if sums.0.abs() > 1e-9 {
        (sums.1 / (3.0 * sums.0), sums.2 / (3.0 * sums.0))
    } else {
        (f64::midpoint(left, right), f64::midpoint(top, bottom))
    };
    (centre.0, centre.1, 0.7 * (right - left), 0.7 * (bottom - top))
}

fn shape(xml: &mut Xml, shape: &Shape, class: &str, line: f64, fill: Option<&str>) {
    let line = coordinate(line);
    let fill = fill.unwrap_or_default();
    let style = if fill.is_empty() { String::new() } else { format!("fill:{fill}") };
    match shape {
        Shape::Rectangle { x, y, width, height } => {
            let (x, y, w, h) = (coordinate(*x), coordinate(*y), coordinate(*width), coordinate(*height));
            with_fill(
                xml,
                "rect",
                &style,
                &[
                    ("x", &x),
                    ("y", &y),
                    ("width", &w),
                    ("height", &h),
                    ("class", &class),
                    ("stroke-width", &line),
                ],
            );
        }
        Shape::Circle { x, y, across } => {
            let (x, y, r) = (coordinate(*x), coordinate(*y), coordinate(across / 2.0));
            with_fill(
                xml,
                "circle",
                &style,
                &[("cx", &x), ("cy", &y), ("r", &r), ("class", &class), ("stroke-width", &line)],
            );
        }
        Shape::Polygon { corners } => {
            let points: Vec<String> =
                corners.iter().map(|&(x, y)| format!("{},{}", coordinate(x), coordinate(y))).collect();
            let points = points.join(" ");
            with_fill(
                xml,
                "polygon",
                &style,
                &[("points", &points), ("class", &class), ("stroke-width", &line)],
            );
        }
    }
}

fn with_fill(xml: &mut Xml, name: &'static str, style: &str, attributes: crate::markup::Attributes<'_>) {
    if style.is_empty() {
        xml.empty(name, attributes);
    } else {
        let mut all = attributes.to_vec();
        all.push(("style", &style));
        xml.empty(name, &all);
    }
}

fn centred(xml: &mut Xml, class: &str, at: (f64, f64), size: f64, text: &str) {
    let halo = coordinate(if class.ends_with("wide-halo") { 0.6 } else { 0.25 } * size);
    let (x, y, size) = (coordinate(at.0), coordinate(at.1), coordinate(size));
    let attributes: crate::markup::Attributes<'_> = &[
        ("x", &x),
        ("y", &y),
        ("font-size", &size),
        ("text-anchor", &"middle"),
        ("stroke-width", &halo),
        ("class", &class),
    ];
    xml.leaf("text", attributes, &text);
}

fn words(xml: &mut Xml, class: &str, at: (f64, f64), size: f64, text: &str) {
    let (x, y, size) = (coordinate(at.0), coordinate(at.1), coordinate(size));
    xml.leaf("text", &[("x", &x), ("y", &y), ("font-size", &size), ("class", &class)], &text);
}

fn path(xml: &mut Xml, class: &str, width: f64, d: &str) {
    let width = coordinate(width);
    xml.empty("path", &[("d", &d), ("class", &class), ("stroke-width", &width)]);
}

// Ticks in mm from the datum along the upper and the left edge: where the tape rule is laid.
fn ruler(map: Plan<'_>, xml: &mut Xml) {
    let (left, top, right, bottom) = map.view.bounds;
    let u = map.unit;
    for x in ticks(map, left, right) {
        path(
            xml,
            "ink-line",
            0.14 * u,
            &format!("M{} {}v{}", coordinate(x), coordinate(top - 1.6 * u), coordinate(0.9 * u)),
        );
        centred(xml, "soft", (x, top - 2.2 * u), SMALL * u, &coordinate(x).to_string());
    }
    for y in ticks(map, top, bottom) {
        path(
            xml,
            "ink-line",
            0.14 * u,
            &format!("M{} {}h{}", coordinate(left - 1.6 * u), coordinate(y), coordinate(0.9 * u)),
        );
        let (x, at): (Coordinate, Coordinate) =
            (coordinate(left - 2.1 * u), coordinate(y + 0.35 * SMALL * u));
        let size = coordinate(SMALL * u);
        xml.leaf(
            "text",
            &[("x", &x), ("y", &at), ("font-size", &size), ("text-anchor", &"end"), ("class", &"soft")],
            &coordinate(y),
        );
    }
    xml.line();
}

fn ticks(map: Plan<'_>, from: f64, to: f64) -> impl Iterator<Item = f64> {
    let (step, _) = round_length(100.0 * map.unit / 8.0);
    let first = (from / step).ceil();
    let count = ((to - first * step) / step).floor().max(0.0);
    (0..=60_u8).map(f64::from).take_while(move |&n| n <= count).map(move |n| (first + n) * step)
}

// What stands beside the panel, in units: to the left its longest tick, or the word beside the datum; to the right the
// arrow. A rack has neither.
fn beside_panel(map: Plan<'_>) -> (f64, f64) {
    if map.view.rack {
        return (0.5, 0.5);
    }
    let (_, top, _, bottom) = map.view.bounds;
    let widths = ticks(map, top, bottom).map(|y| text_width(&coordinate(y).to_string()));
    ((2.6 + SMALL * widths.fold(0.0, f64::max)).max(7.0), 6.0)
}

fn datum(map: Plan<'_>, xml: &mut Xml) {
    let u = map.unit;
    let (x, y, r) = (coordinate(0.0), coordinate(0.0), coordinate(0.9 * u));
    let line = coordinate(0.2 * u);
    xml.empty(
        "circle",
        &[("cx", &x), ("cy", &y), ("r", &r), ("class", &"paper ink-line"), ("stroke-width", &line)],
    );
    let arm = coordinate(1.5 * u);
    let back = coordinate(-1.5 * u);
    path(xml, "ink-line", 0.2 * u, &format!("M{back} 0H{arm}M0 {back}V{arm}"));
    words(xml, "soft", (-6.8 * u, -4.1 * u), SMALL * u, say!("datum"));
}

fn up(map: Plan<'_>, xml: &mut Xml) {
    let (_, top, right, _) = map.view.bounds;
    let u = map.unit;
    let x = right + 3.0 * u;
    let d = format!("M{} {}V{}", coordinate(x), coordinate(top + 9.0 * u), coordinate(top + 1.2 * u));
    path(xml, "ink-line", 0.3 * u, &d);
    let tip = format!(
        "M{} {}l{} {}h{}z",
        coordinate(x),
        coordinate(top),
        coordinate(-0.9 * u),
        coordinate(2.2 * u),
        coordinate(1.8 * u)
    );
    path(xml, "ink", 0.0, &tip);
    let top_edge = if map.view.flat { say!("top") } else { say!("up") };
    centred(xml, "soft", (x, top + 11.0 * u), SMALL * u, top_edge);
}

fn scale(map: Plan<'_>, xml: &mut Xml) {
    let (left, _, right, bottom) = map.view.bounds;
    let u = map.unit;
    let (length, text) = round_length((right - left) / 4.0);
    let y = bottom + 4.0 * u;
    let d = format!(
        "M{} {}v{}h{}v{}",
        coordinate(left),
        coordinate(y - 0.8 * u),
        coordinate(0.8 * u),
        coordinate(length),
        coordinate(-0.8 * u)
    );
    path(xml, "ink-line", 0.25 * u, &d);
    words(xml, "soft", (left + length + 1.2 * u, y + 0.2 * u), SMALL * u, &text);
    xml.line();
}

fn draw_notes(map: Plan<'_>, xml: &mut Xml) {
    let (left, _, _, bottom) = map.view.bounds;
    let (u, (_, under)) = (map.unit, room_beside(map));
    for (at, note) in notes(map).iter().enumerate() {
        words(xml, "soft", (left, bottom + (under + 1.6 + LEADING * at as f64) * u), SMALL * u, note);
    }
    xml.line();
}

// The notes in lines that fit below the map.
fn notes(map: Plan<'_>) -> Vec<String> {
    let (left, _, right, _) = map.view.bounds;
    let width = ((right - left) / map.unit + beside_panel(map).1 - 1.0) / SMALL / WIDER;
    all_notes(map).iter().flat_map(|note| lines(note, width)).collect()
}
