//! Two outlines: how much they overlap, whether one holds the other, how far apart they are.

use super::SLACK_MM;
use crate::study::{Outline, Point};
use geo::{Area, BooleanOps, Coord, Distance, Euclidean, LineString, MultiPolygon, Polygon};

/// Corners of the polygon around a circle.
const CORNERS: u32 = 96;

/// Overlaps of other shapes than rectangles below this are taken for touching, mm². It is what
/// [`SLACK_MM`] makes along an edge of 100 mm.
const SLACK_MM2: f64 = 0.1;

/// The outline as a polygon, mm. A circle becomes the polygon of 96 corners drawn around it.
pub fn polygon(outline: &Outline) -> Polygon<f64> {
    let corners = match outline {
        Outline::Rectangle { .. } => {
            let (left, top, right, bottom) = outline.bounds();
            [(left, top), (right, top), (right, bottom), (left, bottom)].map(Coord::from).to_vec()
        }
        Outline::Circle { centre, across } => around(*centre, across / 2.0),
        Outline::Polygon(points) => points.iter().map(|p| Coord { x: p.x, y: p.y }).collect(),
    };
    Polygon::new(LineString::new(corners), Vec::new())
}

fn around(centre: Point, radius: f64) -> Vec<Coord<f64>> {
    let step = std::f64::consts::TAU / f64::from(CORNERS);
    let reach = radius / (step / 2.0).cos();
    let corner = |n: u32| {
        let (sin, cos) = (step * f64::from(n)).sin_cos();
        Coord { x: centre.x + reach * cos, y: centre.y + reach * sin }
    };
    (0..CORNERS).map(corner).collect()
}

/// The area that two outlines share, mm²; 0 where they only touch.
pub fn overlap(a: &Outline, b: &Outline) -> f64 {
    let (width, height) = shared(a, b);
    if width <= SLACK_MM || height <= SLACK_MM {
        return 0.0;
    }
    if is_rectangle(a) && is_rectangle(b) {
        return width * height;
    }
    let area = if is_plain(a) && is_plain(b) { both(a, b) } else { 0.0 };
    if area > SLACK_MM2 { area } else { 0.0 }
}

/// Whether `outer` holds `inner`; a shared edge is inside.
pub fn contains(outer: &Outline, inner: &Outline) -> bool {
    let (left, top, right, bottom) = outer.bounds();
    let (l, t, r, b) = inner.bounds();
    let bounded =
        l >= left - SLACK_MM && t >= top - SLACK_MM && r <= right + SLACK_MM && b <= bottom + SLACK_MM;
    if !bounded || is_rectangle(outer) {
        return bounded;
    }
    is_plain(outer)
        && is_plain(inner)
        && polygon(inner).difference(&polygon(outer)).unsigned_area() <= SLACK_MM2
}

/// The shortest way from one outline to the other, mm; 0 where they touch or overlap.
pub fn distance(a: &Outline, b: &Outline) -> f64 {
    if is_rectangle(a) && is_rectangle(b) {
        let (width, height) = shared(a, b);
        return (-width).max(0.0).hypot((-height).max(0.0));
    }
    Euclidean.distance(&polygon(a), &polygon(b))
}

/// Whether an upright rectangle fits into an outline, lying or standing, mm.
///
/// For a polygon with free corners its bounds are asked, so "yes" is not certain there.
pub fn holds(outline: &Outline, width: f64, height: f64) -> bool {
    if let Outline::Circle { across, .. } = outline {
        return width.hypot(height) <= across + SLACK_MM;
    }
    let (left, top, right, bottom) = outline.bounds();
    let fits = |w: f64, h: f64| w <= right - left + SLACK_MM && h <= bottom - top + SLACK_MM;
    fits(width, height) || fits(height, width)
}

/// Width and height that the bounds share, mm; negative where there is a gap between them.
fn shared(a: &Outline, b: &Outline) -> (f64, f64) {
    let (a_left, a_top, a_right, a_bottom) = a.bounds();
    let (b_left, b_top, b_right, b_bottom) = b.bounds();
    (a_right.min(b_right) - a_left.max(b_left), a_bottom.min(b_bottom) - a_top.max(b_top))
}

fn both(a: &Outline, b: &Outline) -> f64 {
    let shared: MultiPolygon<f64> = polygon(a).intersection(&polygon(b));
    shared.unsigned_area()
}

fn is_rectangle(outline: &Outline) -> bool {
    matches!(outline, Outline::Rectangle { .. })
}

/// Whether clipping can work on it: a length of many kilometres is a slip that is reported elsewhere.
fn is_plain(outline: &Outline) -> bool {
    let (left, top, right, bottom) = outline.bounds();
    [left, top, right, bottom].iter().all(|edge| edge.is_finite() && edge.abs() < 1e9)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::{PI, SQRT_2};

    fn rectangle(x: f64, y: f64, width: f64, height: f64) -> Outline {
        Outline::Rectangle { at: Point { x, y }, width, height }
    }

    fn circle(x: f64, y: f64, across: f64) -> Outline {
        Outline::Circle { centre: Point { x, y }, across }
    }

    fn triangle() -> Outline {
        Outline::Polygon([(0.0, 0.0), (100.0, 0.0), (0.0, 100.0)].map(|(x, y)| Point { x, y }).to_vec())
    }

    #[test]
    fn rectangles_share_the_product_of_their_overlaps() {
        let a = rectangle(0.0, 0.0, 100.0, 50.0);
        assert!((overlap(&a, &rectangle(90.0, 40.0, 100.0, 50.0)) - 100.0).abs() < 1e-9);
        assert!(overlap(&a, &rectangle(100.0, 0.0, 10.0, 50.0)) == 0.0);
        assert!(overlap(&a, &rectangle(0.0, 0.0, 100.0, 50.0)) > 4999.0);
    }

    #[test]
    fn the_polygon_way_agrees_with_the_direct_way() {
        let corners = [(0.0, 0.0), (100.0, 0.0), (100.0, 50.0), (0.0, 50.0)];
        let drawn = Outline::Polygon(corners.map(|(x, y)| Point { x, y }).to_vec());
        let direct = rectangle(0.0, 0.0, 100.0, 50.0);
        for other in [rectangle(90.0, 40.0, 30.0, 30.0), rectangle(-5.0, 10.0, 20.0, 5.0)] {
            assert!((overlap(&drawn, &other) - overlap(&direct, &other)).abs() < 1e-6);
            assert!((distance(&drawn, &other) - distance(&direct, &other)).abs() < 1e-9);
        }
    }

    #[test]
    fn a_circle_is_never_drawn_too_small() {
        let area = overlap(&circle(50.0, 50.0, 40.0), &rectangle(0.0, 0.0, 100.0, 100.0));
        let exact = PI * 400.0;
        assert!(area >= exact && area < exact * 1.001, "{area}");
        assert!(overlap(&circle(0.0, 0.0, 10.0), &rectangle(4.0, -10.0, 20.0, 20.0)) > 0.0);
        assert!(overlap(&circle(0.0, 0.0, 10.0), &rectangle(5.01, -10.0, 20.0, 20.0)) == 0.0);
        // The corner of the bounds is outside the circle.
        assert!(overlap(&circle(0.0, 0.0, 10.0), &rectangle(4.5, 4.5, 1.0, 1.0)) == 0.0);
    }

    #[test]
    fn containment_takes_a_shared_edge_and_sees_a_slanted_one() {
        let panel = rectangle(0.0, 0.0, 100.0, 100.0);
        assert!(contains(&panel, &rectangle(0.0, 0.0, 100.0, 100.0)));
        assert!(!contains(&panel, &rectangle(50.0, 50.0, 51.0, 10.0)));
        assert!(contains(&triangle(), &rectangle(0.0, 0.0, 50.0, 50.0)));
        assert!(!contains(&triangle(), &rectangle(40.0, 40.0, 30.0, 30.0)));
    }

    #[test]
    fn distance_is_straight_and_zero_where_they_touch() {
        let a = rectangle(0.0, 0.0, 10.0, 10.0);
        assert!((distance(&a, &rectangle(13.0, 14.0, 5.0, 5.0)) - 5.0).abs() < 1e-9);
        assert!(distance(&a, &rectangle(10.0, 0.0, 5.0, 5.0)) == 0.0);
        let slant = distance(&triangle(), &rectangle(100.0, 100.0, 5.0, 5.0));
        assert!((slant - 50.0 * SQRT_2).abs() < 1e-9);
    }

    #[test]
    fn a_foot_fits_lying_or_standing() {
        let section = rectangle(0.0, 0.0, 60.0, 120.0);
        assert!(holds(&section, 120.0, 55.0));
        assert!(!holds(&section, 121.0, 55.0));
        assert!(holds(&circle(0.0, 0.0, 50.0), 30.0, 40.0));
        assert!(!holds(&circle(0.0, 0.0, 49.0), 30.0, 40.0));
    }

    #[test]
    fn strange_outlines_do_no_harm() {
        let empty = Outline::Polygon(Vec::new());
        let line = Outline::Polygon(vec![Point { x: 0.0, y: 0.0 }, Point { x: 9.0, y: 9.0 }]);
        let huge = rectangle(0.0, 0.0, f64::INFINITY, 10.0);
        for odd in [&empty, &line, &huge] {
            assert!(overlap(odd, &circle(5.0, 5.0, 10.0)) == 0.0);
        }
        let bow = [(0.0, 0.0), (100.0, 100.0), (100.0, 0.0), (0.0, 100.0)];
        let bow = Outline::Polygon(bow.map(|(x, y)| Point { x, y }).to_vec());
        let area = overlap(&bow, &rectangle(0.0, 0.0, 100.0, 100.0));
        assert!((area - 5000.0).abs() < 1e-3, "{area}");
    }
}
