//! Colour differences: CIEDE2000.

use std::f64::consts::TAU;

/// The colour difference CIEDE2000 between two colours, each L*, a*, b*; `None` where a value is not finite.
///
/// Parametric factors are 1. ISO/CIE 11664-6; the steps follow Sharma, Wu and Dalal (2005), Color Research and
/// Application 30, 21-30.
pub fn ciede2000(one: [f64; 3], other: [f64; 3]) -> Option<f64> {
    if one.iter().chain(&other).any(|value| !value.is_finite()) {
        return None;
    }
    let ([l1, a1, b1], [l2, a2, b2]) = (one, other);
    let chroma = f64::midpoint(a1.hypot(b1), a2.hypot(b2)).powi(7);
    let g = 0.5 * (1.0 - (chroma / (chroma + 25f64.powi(7))).sqrt());
    let (a1, a2) = (a1 * (1.0 + g), a2 * (1.0 + g));
    let (c1, c2) = (a1.hypot(b1), a2.hypot(b2));
    let hue =
        |a: f64, b: f64| if a == 0.0 && b == 0.0 { 0.0 } else { b.atan2(a).to_degrees().rem_euclid(360.0) };
    let (h1, h2) = (hue(a1, b1), hue(a2, b2));
    let grey = c1 * c2 == 0.0;
    let turn = match h2 - h1 {
        _ if grey => 0.0,
        turn if turn > 180.0 => turn - 360.0,
        turn if turn < -180.0 => turn + 360.0,
        turn => turn,
    };
    let (dl, dc) = (l2 - l1, c2 - c1);
    let dh = 2.0 * (c1 * c2).sqrt() * (turn / 2.0).to_radians().sin();
    let (l, c) = (f64::midpoint(l1, l2), f64::midpoint(c1, c2));
    let h = match (h1 - h2).abs() {
        _ if grey => h1 + h2,
        apart if apart <= 180.0 => f64::midpoint(h1, h2),
        _ if h1 + h2 < 360.0 => f64::midpoint(h1, h2) + 180.0,
        _ => f64::midpoint(h1, h2) - 180.0,
    };
    let cos = |degrees: f64| (degrees / 360.0 * TAU).cos();
    let t = 1.0 - 0.17 * cos(h - 30.0) + 0.24 * cos(2.0 * h) + 0.32 * cos(3.0 * h + 6.0)
        - 0.20 * cos(4.0 * h - 63.0);
    let from_fifty = (l - 50.0).powi(2);
    let sl = 1.0 + 0.015 * from_fifty / (20.0 + from_fifty).sqrt();
    let (sc, sh) = (1.0 + 0.045 * c, 1.0 + 0.015 * c * t);
    let c7 = c.powi(7);
    let rc = 2.0 * (c7 / (c7 + 25f64.powi(7))).sqrt();
    let blue = (-((h - 275.0) / 25.0).powi(2)).exp();
    let rt = -rc * (2.0 * 30.0 * blue).to_radians().sin();
    let (l, c, h) = (dl / sl, dc / sc, dh / sh);
    Some((l * l + c * c + h * h + rt * c * h).max(0.0).sqrt())
}
