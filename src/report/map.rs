//! The map as a view: shapes in mm from the top left corner, and every word that is printed on it.

use super::material::Material;
use super::numbers;
use crate::speech::{count, list, say, speak};
use crate::study::{Area, Exposure, Grid, Outline, Section, Study, Treatment, Verb};
use serde::Serialize;

/// A shape in mm.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(tag = "shape", rename_all = "lowercase")]
pub enum Shape {
    /// Left, top, width and height.
    Rectangle {
        /// From the left.
        x: f64,
        /// From the top.
        y: f64,
        /// Width.
        width: f64,
        /// Height.
        height: f64,
    },
    /// Centre and diameter.
    Circle {
        /// Centre from the left.
        x: f64,
        /// Centre from the top.
        y: f64,
        /// Diameter.
        across: f64,
    },
    /// Corners in order.
    Polygon {
        /// From the left and from the top.
        corners: Vec<(f64, f64)>,
    },
}

impl From<&Outline> for Shape {
    fn from(outline: &Outline) -> Self {
        match outline {
            Outline::Rectangle { at, width, height } => {
                Self::Rectangle { x: at.x, y: at.y, width: *width, height: *height }
            }
            Outline::Circle { centre, across } => Self::Circle { x: centre.x, y: centre.y, across: *across },
            Outline::Polygon(points) => {
                Self::Polygon { corners: points.iter().map(|p| (p.x, p.y)).collect() }
            }
        }
    }
}

/// What a section is, for its look.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Kind {
    /// It carries a product.
    Product,
    /// It is bare.
    Bare,
    /// Carrier only, untouched or not known.
    Other,
}

/// An avoided or curved area.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct AreaView {
    /// `avoid handle`.
    pub label: String,
    /// True where a gauge rocks, false where no section may lie.
    pub curved: bool,
    /// Why.
    pub because: Option<String>,
    /// Its shape.
    pub outline: Shape,
}

/// A section.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SectionView {
    /// Its code on the drawing.
    pub code: String,
    /// Its whole code, with the site where several racks have the same.
    pub whole: String,
    /// What it carries, as printed.
    pub label: String,
    /// Its look.
    pub kind: Kind,
    /// Its shape.
    pub outline: Shape,
}

/// The whole map.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MapView {
    /// One sentence.
    pub title: String,
    /// Outline of the panel; `None` where the study does not state it.
    pub panel: Option<Shape>,
    /// Left, top, right and bottom of all that is drawn, mm.
    pub bounds: (f64, f64, f64, f64),
    /// True where specimens stand on racks: the drawing shows their order, and its distances mean nothing.
    pub rack: bool,
    /// Names of the racks, each with its top left corner, mm.
    pub racks: Vec<(String, (f64, f64))>,
    /// Avoided and curved areas.
    pub areas: Vec<AreaView>,
    /// Sections that have a shape.
    pub sections: Vec<SectionView>,
    /// True where the panel lies flat, so that its top edge is not up.
    pub flat: bool,
    /// Lines below the map.
    pub notes: Vec<String>,
}

/// Makes the map.
pub fn map(material: &Material<'_>) -> MapView {
    let _speech = speak(material.study.language);
    let study = material.study;
    let surface = &study.surface;
    let panel = surface.outline.as_ref().map(|outline| Shape::from(&outline.value));
    let sections: Vec<SectionView> =
        study.sections.iter().filter_map(|section| drawn(study, section)).collect();
    let areas = surface.avoid.iter().map(|area| area_view(area, false));
    let areas: Vec<AreaView> = areas.chain(surface.curved.iter().map(|area| area_view(area, true))).collect();
    let (rack, racks) = (study.is_on_racks(), racks(study));
    MapView {
        flat: study.lies_flat(),
        title: title(study),
        bounds: bounds(study),
        notes: notes(study),
        rack,
        racks,
        panel,
        areas,
        sections,
    }
}

/// The racks of several sites, by their names.
fn racks(study: &Study) -> Vec<(String, (f64, f64))> {
    let named =
        study.grids.iter().filter_map(|grid| Some((grid, &study.sites.get(grid.site?.index())?.value)));
    let corner = |grid: &Grid| {
        let own = study.sections.iter().filter(|section| section.site == grid.site);
        let corners = own.filter_map(|section| section.outline.as_ref()).map(Outline::bounds);
        corners.map(|(left, top, ..)| (left, top)).reduce(|a, b| (a.0.min(b.0), a.1.min(b.1)))
    };
    named.filter_map(|(grid, name)| Some((name.clone(), corner(grid)?))).collect()
}

fn area_view(area: &Area, curved: bool) -> AreaView {
    let word = if curved { say!("curved") } else { say!("avoid") };
    AreaView {
        label: format!("{word}: {}", area.name.value),
        curved,
        because: area.because.clone(),
        outline: Shape::from(&area.outline),
    }
}

fn drawn(study: &Study, section: &Section) -> Option<SectionView> {
    let kind = match section.treatment {
        Treatment::Product(_) => Kind::Product,
        Treatment::Bare => Kind::Bare,
        Treatment::CarrierOnly | Treatment::Untouched | Treatment::Open | Treatment::Unknown => Kind::Other,
    };
    Some(SectionView {
        code: section.code.split(' ').next_back().unwrap_or(&section.code).to_owned(),
        whole: section.code.clone(),
        label: material_name(study, section.treatment),
        kind,
        outline: Shape::from(section.outline.as_ref()?),
    })
}

/// The printed name of a treatment: the product's name for print, or the word.
pub(super) fn material_name(study: &Study, treatment: Treatment) -> String {
    match treatment {
        Treatment::Product(id) => study.product(id).title().to_owned(),
        Treatment::CarrierOnly => say!("carrier only").to_owned(),
        Treatment::Open => say!("left to chance").to_owned(),
        Treatment::Unknown => say!("not known").to_owned(),
        Treatment::Bare => say!("bare").to_owned(),
        Treatment::Untouched => say!("untouched").to_owned(),
    }
}

fn title(study: &Study) -> String {
    let surface = &study.surface;
    if let Some((width, height)) = surface.each.filter(|_| study.is_on_racks()) {
        let bare = study.sections_of(Treatment::Bare).count();
        let sites = match study.grids.len() {
            0 | 1 => String::new(),
            several => say!(" at {n} sites", n = several),
        };
        let name = if surface.name.value.is_empty() { say!("specimens") } else { &surface.name.value };
        let width = numbers::decimal(width.any().value);
        return say!(
            "{sections} {name}{sites}, {width} x {height} each; {bare} of them bare",
            name,
            sites,
            width,
            bare,
            height = numbers::amount(&height),
            sections = study.sections.len()
        );
    }
    let panel = if surface.name.value.is_empty() { say!("the panel") } else { &surface.name.value };
    let size = match (surface.width, surface.height) {
        (Some(width), Some(height)) if width.any().unit == height.any().unit => {
            format!(", {} x {}", numbers::decimal(width.any().value), numbers::amount(&height))
        }
        (Some(width), Some(height)) => {
            format!(", {} x {}", numbers::amount(&width), numbers::amount(&height))
        }
        _ => String::new(),
    };
    let bare = study.sections_of(Treatment::Bare).count();
    let bare =
        if bare == 0 { say!("none of them bare").to_owned() } else { say!("{bare} of them bare", bare) };
    say!(
        "{sections} on {panel}{size}; {bare}",
        panel,
        size,
        bare,
        sections = count(study.sections.len(), "section")
    )
}

// The panel where it is known, widened by whatever lies outside of it, so that a fault can be seen.
fn bounds(study: &Study) -> (f64, f64, f64, f64) {
    let surface = &study.surface;
    let panel = surface.outline.iter().map(|outline| outline.value.bounds());
    let areas = surface.avoid.iter().chain(&surface.curved).map(|area| area.outline.bounds());
    let sections = study.sections.iter().filter_map(|section| section.outline.as_ref()).map(Outline::bounds);
    let start = (f64::INFINITY, f64::INFINITY, f64::NEG_INFINITY, f64::NEG_INFINITY);
    let all = panel.chain(areas).chain(sections);
    let (left, top, right, bottom) =
        all.fold(start, |a, b| (a.0.min(b.0), a.1.min(b.1), a.2.max(b.2), a.3.max(b.3)));
    if right > left && bottom > top { (left, top, right, bottom) } else { (0.0, 0.0, 100.0, 60.0) }
}

fn notes(study: &Study) -> Vec<String> {
    let mut notes = Vec::new();
    let undrawn: Vec<&str> =
        study.sections.iter().filter(|s| s.outline.is_none()).map(|s| s.code.as_str()).collect();
    if study.surface.outline.is_none() && !study.is_on_racks() {
        notes.push(say!("The study does not state the size of the panel.").to_owned());
    }
    if !undrawn.is_empty() {
        let shown: Vec<&str> = undrawn.iter().copied().take(12).collect();
        let more =
            if undrawn.len() > 12 { say!(" and {n} more", n = undrawn.len() - 12) } else { String::new() };
        let names = if more.is_empty() { list(&shown, "and") } else { shown.join(", ") };
        notes.push(say!("Not drawn, since their place is not stated: {names}{more}.", names, more));
    }
    if let Some(grid) = study.grid().filter(|grid| grid.rack) {
        notes.push(say!(
            "{example}: a specimen of {width} x {height}.",
            example = example(study),
            width = numbers::decimal(grid.width.any().value),
            height = numbers::amount(&grid.height)
        ));
        notes.push(say!("The drawing shows the order on the rack; distances are not to scale.").to_owned());
        notes.extend(study.exposures.iter().filter_map(|exposure| facing(study, exposure)));
        return notes;
    }
    if let Some(grid) = study.grid() {
        let gap = grid.gap.map_or_else(String::new, |gap| say!(", {gap} apart", gap = numbers::amount(&gap)));
        notes.push(say!(
            "{example}. Drawn sections are {width} x {height}{gap}.",
            gap,
            example = example(study),
            width = numbers::decimal(grid.width.any().value),
            height = numbers::amount(&grid.height)
        ));
    }
    let origin = study.surface.origin.as_deref();
    let origin = origin.map_or_else(|| say!("top left corner").to_owned(), |own| say!("“{own}”", own));
    notes.push(say!("Positions are in mm from the datum: {origin}.", origin));
    // Whoever tapes by the map has to know on which side of an edge the tape lies.
    if study.prep.iter().any(|step| step.verb == Verb::Tape) {
        notes.push(say!("Tape lies outside of a section, up to its edge.").to_owned());
    }
    notes.extend(study.exposures.iter().filter_map(|exposure| facing(study, exposure)));
    notes
}

/// How a code is read, by the last section of a row that there is.
fn example(study: &Study) -> String {
    let places = [
        say!("first"),
        say!("second"),
        say!("third"),
        say!("fourth"),
        say!("fifth"),
        say!("sixth"),
        say!("seventh"),
        say!("eighth"),
        say!("ninth"),
    ];
    let named = |section: &Section| {
        let place = places.get(section.column?)?;
        let row =
            section.code.split(' ').next_back()?.trim_end_matches(|c: char| c.is_ascii_digit()).to_owned();
        Some((section.code.split(' ').next_back()?.to_owned(), row, *place))
    };
    let third =
        study.sections.iter().filter(|section| section.column == Some(2)).filter_map(named).next_back();
    match third.or_else(|| study.sections.iter().filter_map(named).next_back()) {
        Some((code, row, place)) => say!("Section {code} is row {row}, {place} place", code, row, place),
        None => say!("Rows are lettered from the top, and places counted from the left").to_owned(),
    }
}

fn facing(study: &Study, exposure: &Exposure) -> Option<String> {
    let faces = exposure.faces.as_ref().map(|faces| say!("faces {faces}", faces = compass(faces)));
    let tilt = exposure.tilt_deg.map(|tilt| {
        if tilt.abs() < 1e-9 {
            say!("lies flat").to_owned()
        } else {
            say!("lies {tilt}° from level", tilt = numbers::decimal(tilt))
        }
    });
    // Water stands on a level panel.
    let runs = exposure.tilt_deg.is_some() && !exposure.lies_flat();
    let runs = if runs { say!("; water runs off over the lower edge") } else { "" };
    let words: Vec<String> = faces.into_iter().chain(tilt).collect();
    let what = match exposure.of.and_then(|site| study.sites.get(site.index())) {
        Some(site) => say!("At {site} the rack", site = site.value),
        None if study.is_on_racks() => say!("Outdoors the rack").to_owned(),
        None => say!("Outdoors the panel").to_owned(),
    };
    (!words.is_empty()).then(|| format!("{what} {}{runs}.", words.join(", ")))
}

/// A direction of the compass; what is none stays as the study has it.
pub(super) fn compass(word: &str) -> &str {
    match word.to_ascii_lowercase().as_str() {
        "north" => say!("north"),
        "north-north-east" => say!("north-north-east"),
        "north-east" => say!("north-east"),
        "east-north-east" => say!("east-north-east"),
        "east" => say!("east"),
        "east-south-east" => say!("east-south-east"),
        "south-east" => say!("south-east"),
        "south-south-east" => say!("south-south-east"),
        "south" => say!("south"),
        "south-south-west" => say!("south-south-west"),
        "south-west" => say!("south-west"),
        "west-south-west" => say!("west-south-west"),
        "west" => say!("west"),
        "west-north-west" => say!("west-north-west"),
        "north-west" => say!("north-west"),
        "north-north-west" => say!("north-north-west"),
        _ => word,
    }
}

/// A length for the scale bar or a step for the ruler: 1, 2 or 5 times a power of ten, mm, and its text.
pub fn round_length(about: f64) -> (f64, String) {
    let power = 10f64.powf(about.max(1e-3).log10().floor());
    let length = [5.0, 2.0, 1.0].into_iter().map(|n| n * power).find(|&n| n <= about).unwrap_or(power);
    (length, format!("{} mm", numbers::mm(length)))
}
