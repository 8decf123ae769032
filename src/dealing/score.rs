//! What a layout is held against: the penalty that the search makes small, and what is told of the result.
//!
//! No source states these weights; they order what spoils a comparison: like beside like, one row or column for all
//! sections of a product, a product that lies on one side, bare sections far from what they are compared with.

use super::ground::Ground;
use crate::study::Treatment;
use std::collections::BTreeMap;

/// Two sections with the same treatment, side by side.
const TOUCHING: f64 = 20.0;
/// The same, corner to corner.
const AT_CORNERS: f64 = 6.0;
/// Both in one row, or one above the other.
const IN_LINE: f64 = 3.0;
/// Both cut from one piece.
const ONE_PIECE: f64 = 10.0;
/// The middle of a treatment's sections off the middle of the panel: for each section, in places, squared.
const OFF_CENTRE: f64 = 2.0;
/// Sections of a treatment beside avoided areas, more or fewer than its share, squared.
const UNEVEN_BESIDE: f64 = 2.0;
/// From a section to the nearest bare one, in places.
const FAR_FROM_BARE: f64 = 0.3;

/// Named sections stand in no row: nearer than this, in places, they are side by side.
const NEAR: f64 = 1.2;
/// Nearer than this they are corner to corner.
const NEAR_CORNER: f64 = 1.6;

/// How a layout stands.
#[derive(Debug, Clone, PartialEq)]
pub struct Verdict {
    /// Products with two sections side by side.
    pub side_by_side: Vec<Treatment>,
    /// Products all of whose sections stand in one row, or one above the other.
    pub in_line: Vec<Treatment>,
    /// The farthest that the middle of a product's sections lies from the middle of its site, in places; `None` where no
    /// product has two sections.
    pub off_centre: Option<f64>,
    /// The farthest that a section with a product lies from a bare one of its site, in places; `None` without bare.
    pub from_bare: Option<f64>,
    /// How many sections with a product have no bare one at their site.
    pub without_bare: usize,
}

/// What the penalty of the sections of one treatment is made of, so that one section can be exchanged without looking at all pairs.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub(super) struct Parts {
    pairs: f64,
    across: f64,
    down: f64,
    beside: f64,
    n: f64,
}

impl Parts {
    pub(super) fn of(ground: &Ground, own: &[usize]) -> Self {
        let spots = || own.iter().map(|&at| &ground.spots[at]);
        Self {
            pairs: pairs(own).map(|(one, other)| pair(ground, one, other)).sum(),
            across: spots().map(|spot| spot.x).sum(),
            down: spots().map(|spot| spot.y).sum(),
            beside: spots().filter(|spot| spot.beside).count() as f64,
            n: own.len() as f64,
        }
    }

    /// The same with `into` in place of `out`, which is among `own`.
    pub(super) fn exchanged(self, ground: &Ground, own: &[usize], (out, into): (usize, usize)) -> Self {
        let others = || own.iter().copied().filter(|&at| at != out);
        let gained: f64 = others().map(|at| pair(ground, at, into) - pair(ground, at, out)).sum();
        let (left, come) = (&ground.spots[out], &ground.spots[into]);
        let beside = |beside: bool| f64::from(u8::from(beside));
        Self {
            pairs: self.pairs + gained,
            across: self.across + come.x - left.x,
            down: self.down + come.y - left.y,
            beside: self.beside + beside(come.beside) - beside(left.beside),
            n: self.n,
        }
    }

    /// `share` is the part of all sections that lie beside avoided areas.
    pub(super) fn penalty(self, share: f64) -> f64 {
        let off =
            if self.n > 1.0 { (self.across * self.across + self.down * self.down) / self.n } else { 0.0 };
        self.pairs + OFF_CENTRE * off + UNEVEN_BESIDE * (self.beside - self.n * share).powi(2)
    }
}

/// The part of all sections that lie beside avoided areas.
pub(super) fn share_beside(ground: &Ground) -> f64 {
    ground.spots.iter().filter(|spot| spot.beside).count() as f64 / ground.spots.len().max(1) as f64
}

/// How bare sections are spread: for each section the nearest bare one with its distance, and the distance of the second.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Cover {
    nearest: Vec<Option<(usize, f64, f64)>>,
}

impl Cover {
    pub(super) fn of(ground: &Ground, bare: &[usize]) -> Self {
        let of = |at: usize| {
            let mut two: Option<(usize, f64, f64)> = None;
            for &one in bare {
                let Some(apart) = ground.apart(at, one) else { continue };
                two = Some(match two {
                    None => (one, apart, f64::INFINITY),
                    Some((_, first, _)) if apart < first => (one, apart, first),
                    Some((nearest, first, second)) => (nearest, first, second.min(apart)),
                });
            }
            two
        };
        Self { nearest: (0..ground.spots.len()).map(of).collect() }
    }

    pub(super) fn penalty(&self) -> f64 {
        FAR_FROM_BARE * self.nearest.iter().flatten().map(|(_, apart, _)| apart).sum::<f64>()
    }

    /// The penalty with a bare section at `into` in place of `out`.
    pub(super) fn exchanged(&self, ground: &Ground, (out, into): (usize, usize)) -> f64 {
        let of = |(at, known): (usize, &Option<(usize, f64, f64)>)| {
            let left = known.map(|(nearest, first, second)| if nearest == out { second } else { first });
            let come = ground.apart(at, into);
            let least = left.into_iter().chain(come).fold(f64::INFINITY, f64::min);
            if least.is_finite() { least } else { 0.0 }
        };
        FAR_FROM_BARE * self.nearest.iter().enumerate().map(of).sum::<f64>()
    }
}

/// What is told of a layout.
pub(super) fn verdict(ground: &Ground, carried: &[Treatment]) -> Verdict {
    let mut of: BTreeMap<Treatment, Vec<usize>> = BTreeMap::new();
    for (at, &treatment) in carried.iter().enumerate() {
        of.entry(treatment).or_default().push(at);
    }
    let bare = of.get(&Treatment::Bare).cloned().unwrap_or_default();
    let products: Vec<(&Treatment, &Vec<usize>)> =
        of.iter().filter(|(treatment, _)| matches!(treatment, Treatment::Product(_))).collect();
    let several = || products.iter().filter(|(_, own)| own.len() > 1);
    let touch = |own: &[usize]| pairs(own).any(|(one, other)| touching(ground, one, other));
    let line = |own: &[usize]| {
        let all = |of: &dyn Fn(usize) -> Option<usize>| {
            of(own[0]).is_some() && own.iter().all(|&at| of(at) == of(own[0]))
        };
        let column = |at: usize| {
            ground.spots[at].column.map(|column| column * ground.spots.len() + ground.spots[at].site)
        };
        all(&|at| ground.spots[at].row) || all(&column)
    };
    let coated = products.iter().flat_map(|(_, own)| own.iter().copied());
    let nearest = |at: usize| bare.iter().filter_map(|&one| ground.apart(at, one)).reduce(f64::min);
    let nearest: Vec<Option<f64>> = coated.map(nearest).collect();
    Verdict {
        side_by_side: several().filter(|(_, own)| touch(own)).map(|(treatment, _)| **treatment).collect(),
        in_line: several().filter(|(_, own)| line(own)).map(|(treatment, _)| **treatment).collect(),
        off_centre: several().map(|(_, own)| off_centre(ground, own)).reduce(f64::max),
        from_bare: nearest.iter().copied().flatten().reduce(f64::max),
        without_bare: nearest.iter().filter(|bare| bare.is_none()).count(),
    }
}

fn pairs(own: &[usize]) -> impl Iterator<Item = (usize, usize)> {
    own.iter().enumerate().flat_map(move |(at, &one)| own[at + 1..].iter().map(move |&other| (one, other)))
}

fn pair(ground: &Ground, one: usize, other: usize) -> f64 {
    let (a, b) = (&ground.spots[one], &ground.spots[other]);
    let piece = if a.piece.is_some() && a.piece == b.piece { ONE_PIECE } else { 0.0 };
    if a.site != b.site {
        return piece;
    }
    let line = |same: bool| if same { IN_LINE } else { 0.0 };
    let near = if touching(ground, one, other) {
        TOUCHING
    } else if corner(ground, one, other) {
        AT_CORNERS
    } else {
        0.0
    };
    piece + near + line(a.row.is_some() && a.row == b.row) + line(a.column.is_some() && a.column == b.column)
}

/// Rows and columns between two places of one drawing.
fn between(ground: &Ground, one: usize, other: usize) -> Option<(usize, usize)> {
    let (a, b) = (&ground.spots[one], &ground.spots[other]);
    Some((a.row?.abs_diff(b.row?), a.column?.abs_diff(b.column?)))
}

fn touching(ground: &Ground, one: usize, other: usize) -> bool {
    ground.apart(one, other).is_some_and(|apart| match between(ground, one, other) {
        Some((rows, columns)) => rows + columns == 1,
        None => apart < NEAR,
    })
}

fn corner(ground: &Ground, one: usize, other: usize) -> bool {
    ground.apart(one, other).is_some_and(|apart| match between(ground, one, other) {
        Some(between) => between == (1, 1),
        None => apart < NEAR_CORNER,
    })
}

/// From the mean position of some sections, each counted from the middle of its site, to that middle.
fn off_centre(ground: &Ground, own: &[usize]) -> f64 {
    let n = own.len() as f64;
    let sum = |of: &dyn Fn(usize) -> f64| own.iter().map(|&at| of(at)).sum::<f64>() / n;
    sum(&|at| ground.spots[at].x).hypot(sum(&|at| ground.spots[at].y))
}
