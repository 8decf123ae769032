//! The panel: its outline, the areas to avoid, and the sections on it. All positions are in mm from the top left corner.

use super::{ProductId, SectionId, SiteId, SpecimensId, Step, Study, Treated};
use crate::text::{Located, Span};
use crate::units::{Length, Quantity, Range};

/// A point on the panel, mm from the left edge and mm from the top edge.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    /// From the left, mm.
    pub x: f64,
    /// From the top, mm.
    pub y: f64,
}

/// The shape of an area, in mm.
#[derive(Debug, Clone, PartialEq)]
pub enum Outline {
    /// Left, top, width, height.
    Rectangle {
        /// Top left corner.
        at: Point,
        /// Width, mm.
        width: f64,
        /// Height, mm.
        height: f64,
    },
    /// Centre and diameter.
    Circle {
        /// Centre.
        centre: Point,
        /// Diameter, mm.
        across: f64,
    },
    /// Corners in order; closed by itself.
    Polygon(Vec<Point>),
}

impl Outline {
    /// Smallest upright rectangle around it: left, top, right, bottom in mm.
    pub fn bounds(&self) -> (f64, f64, f64, f64) {
        match self {
            Self::Rectangle { at, width, height } => (at.x, at.y, at.x + width, at.y + height),
            Self::Circle { centre, across } => {
                let r = across / 2.0;
                (centre.x - r, centre.y - r, centre.x + r, centre.y + r)
            }
            Self::Polygon(points) => points.iter().fold(
                (f64::INFINITY, f64::INFINITY, f64::NEG_INFINITY, f64::NEG_INFINITY),
                |(left, top, right, bottom), p| {
                    (left.min(p.x), top.min(p.y), right.max(p.x), bottom.max(p.y))
                },
            ),
        }
    }

    /// Its area, m2.
    pub fn area_m2(&self) -> f64 {
        let mm2 = match self {
            Self::Rectangle { width, height, .. } => width * height,
            Self::Circle { across, .. } => std::f64::consts::PI * across * across / 4.0,
            Self::Polygon(points) => polygon_mm2(points),
        };
        mm2 / 1e6
    }
}

/// Half the sum of the cross products of neighbouring corners.
fn polygon_mm2(points: &[Point]) -> f64 {
    let next = points.iter().cycle().skip(1);
    let doubled: f64 = points.iter().zip(next).map(|(a, b)| a.x * b.y - b.x * a.y).sum();
    doubled.abs() / 2.0
}

/// A named area of the panel with the reason that makes it special.
#[derive(Debug, Clone, PartialEq)]
pub struct Area {
    /// Its name.
    pub name: Located<String>,
    /// Its shape.
    pub outline: Outline,
    /// Why.
    pub because: Option<String>,
    /// Place of the statement.
    pub span: Span,
}

/// The panel.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Surface {
    /// Its name; empty where the study has no surface block.
    pub name: Located<String>,
    /// Place of the head.
    pub span: Option<Span>,
    /// What it is made of.
    pub material: Option<Located<String>>,
    /// Its outline; `None` where it is missing or could not be read.
    pub outline: Option<Located<Outline>>,
    /// Width as written.
    pub width: Option<Quantity<Length>>,
    /// Height as written.
    pub height: Option<Quantity<Length>>,
    /// Width and height of each of many specimens, where the study has those in place of one panel.
    pub each: Option<(Quantity<Length>, Quantity<Length>)>,
    /// Where the datum is, in the user's words.
    pub origin: Option<String>,
    /// Thickness of the film at the start.
    pub film: Option<Range<Length>>,
    /// The least film to leave.
    pub leave: Option<Quantity<Length>>,
    /// Areas that no section may touch.
    pub avoid: Vec<Area>,
    /// Areas where a gauge rocks.
    pub curved: Vec<Area>,
    /// True where a line of the block could not be read.
    pub broken: bool,
    /// Markdown prose under the head.
    pub prose: String,
}

/// Loose specimens beside the panel, such as clear slips; each carries what a section could carry.
#[derive(Debug, Clone, PartialEq)]
pub struct Specimens {
    /// Their name.
    pub name: Located<String>,
    /// What they are made of.
    pub material: Option<String>,
    /// Width and height of each.
    pub size: Option<(Quantity<Length>, Quantity<Length>)>,
    /// Spare ones, kept dark.
    pub spare: Option<u32>,
    /// Their preparation, in order.
    pub prep: Vec<Step>,
    /// True where they are patches of the specimens on the map, and not loose.
    pub patch: bool,
    /// What treats each of them in a cycle.
    pub treated: Option<Treated>,
    /// True where a line could not be read.
    pub broken: bool,
}

/// What a section carries.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Treatment {
    /// A product.
    Product(ProductId),
    /// Prepared and left.
    Bare,
    /// The product's carrier without the product.
    CarrierOnly,
    /// Not even prepared.
    Untouched,
    /// Left to chance, and not dealt out yet.
    Open,
    /// The name could not be bound; a finding says so.
    Unknown,
}

impl Treatment {
    /// Whether it is known what the section carries.
    pub fn is_settled(self) -> bool {
        !matches!(self, Self::Open | Self::Unknown)
    }
}

/// One section.
#[derive(Debug, Clone, PartialEq)]
pub struct Section {
    /// Its code on the panel: `C3`, or its own name.
    pub code: String,
    /// What it carries.
    pub treatment: Treatment,
    /// The set of specimens that it belongs to; `None` for a section of the panel.
    pub specimen: Option<SpecimensId>,
    /// Where it stands, if the study has several sites.
    pub site: Option<SiteId>,
    /// Row of the drawing from 0, if it stands there. The maps of several sites are one drawing, one below the other.
    pub row: Option<usize>,
    /// Place in the row from 0.
    pub column: Option<usize>,
    /// Its shape; `None` where the map's measures are missing or broken.
    pub outline: Option<Outline>,
    /// Its word in the drawing, or its statement.
    pub span: Span,
}

impl Study {
    /// All that gets a treatment: the sections of the panel, then the loose specimens. Patches get it with the specimen
    /// that they are drawn in.
    pub fn carriers_of(&self, treatment: Treatment) -> impl Iterator<Item = (SectionId, &Section)> {
        let is_patch =
            |section: &Section| section.specimen.is_some_and(|set| self.specimens[set.index()].patch);
        self.places().filter(move |(_, section)| section.treatment == treatment && !is_patch(section))
    }

    /// The sections that get the carrier alone on the day of the coats: none where a step of the preparation that is done on
    /// them only puts it on.
    pub fn carrier_to_lay_on(&self) -> Vec<SectionId> {
        let all = || self.carriers_of(Treatment::CarrierOnly).map(|(id, _)| id);
        let on_these = |step: &Step| {
            step.with.is_some()
                && step.only.as_ref().is_some_and(|only| {
                    only.sections.iter().all(|&id| self.section(id).treatment == Treatment::CarrierOnly)
                })
        };
        if self.prep.iter().any(on_these) { Vec::new() } else { all().collect() }
    }

    /// The product whose carrier it is, where one product alone is put on anything: of several the study does not say which.
    pub fn carrier_of(&self) -> Option<ProductId> {
        let mut laid = self.products_with_ids().map(|(id, _)| id).filter(|id| self.is_laid_on(*id));
        let first = laid.next()?;
        laid.next().is_none().then_some(first)
    }

    /// Every loose specimen of every set; patches are none.
    pub fn loose_specimens(&self) -> impl Iterator<Item = (SectionId, &Section)> {
        self.places()
            .filter(|(_, section)| section.specimen.is_some_and(|set| !self.specimens[set.index()].patch))
    }

    /// Whether a product is put on anything, on the panel or beside it.
    pub fn is_laid_on(&self, product: ProductId) -> bool {
        self.carriers_of(Treatment::Product(product)).next().is_some()
    }

    /// The loose specimens of a set.
    pub fn specimens_in(&self, set: SpecimensId) -> impl Iterator<Item = (SectionId, &Section)> {
        self.places().filter(move |(_, section)| section.specimen == Some(set))
    }

    /// The area of a section or of a loose specimen, m2; `None` where its shape is not stated.
    pub fn area_m2(&self, section: &Section) -> Option<f64> {
        let drawn = section.outline.as_ref().map(Outline::area_m2);
        drawn.or_else(|| {
            let (width, height) = self.specimens[section.specimen?.index()].size?;
            Some(width.mm() * height.mm() / 1e6)
        })
    }
}

/// The measures of the drawn map.
#[derive(Debug, Clone, PartialEq)]
pub struct Grid {
    /// Width of a section.
    pub width: Quantity<Length>,
    /// Height of a section.
    pub height: Quantity<Length>,
    /// Gap between sections; `None` where it was not said.
    pub gap: Option<Quantity<Length>>,
    /// True where each section is a specimen by itself, on a rack; their distances are not measured.
    pub rack: bool,
    /// The site, if the study has several.
    pub site: Option<SiteId>,
    /// The first of its rows in the whole drawing.
    pub first_row: usize,
    /// Number of places in each drawn row.
    pub places: Vec<usize>,
    /// Place of the map's head.
    pub span: Span,
}

impl Grid {
    /// The number of places that most rows have; the larger one where two are as common.
    pub fn usual_places(&self) -> usize {
        let rows = |places: usize| self.places.iter().filter(|&&other| other == places).count();
        self.places.iter().copied().max_by_key(|&places| (rows(places), places)).unwrap_or(0)
    }

    /// Whether a row has more places than most: one of its names is one too many, and nobody knows which.
    pub fn has_long_row(&self) -> bool {
        let usual = self.usual_places();
        self.places.iter().any(|&places| places > usual)
    }
}

/// Specimens by the piece that they were cut from, as boards by their plank.
#[derive(Debug, Clone, PartialEq)]
pub struct Grouping {
    /// What a piece is called: `plank`.
    pub name: Located<String>,
    /// Each specimen and its piece, in order of the drawings.
    pub members: Vec<(SectionId, Located<String>)>,
    /// True where a line of it could not be taken.
    pub broken: bool,
}

impl Grouping {
    /// The pieces in the order in which they are drawn, each with its specimens. Capitals make no difference.
    pub fn pieces(&self) -> Vec<(&str, Vec<SectionId>)> {
        let mut pieces: Vec<(&str, Vec<SectionId>)> = Vec::new();
        for (section, piece) in &self.members {
            match pieces.iter_mut().find(|(known, _)| known.eq_ignore_ascii_case(&piece.value)) {
                Some((_, sections)) => sections.push(*section),
                None => pieces.push((&piece.value, vec![*section])),
            }
        }
        pieces
    }

    /// The piece that a section of the map was cut from.
    pub fn of<'s>(&'s self, study: &Study, section: &Section) -> Option<&'s str> {
        let cut = |(_, sections): &(&str, Vec<SectionId>)| {
            sections.iter().any(|id| study.section(*id).span == section.span)
        };
        self.pieces().into_iter().find(cut).map(|(piece, _)| piece)
    }
}
