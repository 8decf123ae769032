//! A costly tail probability of a normal variable, kept as polynomials on short panels of its argument.

use std::f64::consts::PI;
use std::sync::OnceLock;

/// Nodes of a panel.
const NODES: usize = 18;
/// With panels of this width the polynomial agrees with the tail to about 13 digits, for up to hundreds of comparisons; a test
/// compares the two.
pub(super) const FINE: f64 = 0.5;
/// With panels of this width it agrees to about 10 digits, where the tail itself is known to no more.
pub(super) const COARSE: f64 = 1.0;

/// A tail that falls about as exp(-`fall` u^2) for positive u, on the panels of [-`reach`, `reach`].
///
/// Every tail of a studentised statistic is an integral over the same normal tail; a report has thousands of
/// them. A panel is computed when a value on it is first asked for, by the same rule on every thread, so the
/// result depends on nothing but the argument. Interpolation at Chebyshev points by the barycentric formula:
/// Berrut and Trefethen (2004), SIAM Review 46, 501-517.
#[derive(Clone, Debug)]
pub(super) struct TabledTail {
    fall: f64,
    reach: f64,
    width: f64,
    panels: Vec<OnceLock<[f64; NODES]>>,
    points: [Point; NODES],
}

#[derive(Clone, Copy, Debug)]
struct Point {
    /// In [-1, 1].
    at: f64,
    weight: f64,
}

impl TabledTail {
    /// An empty table. `reach` and the `width` of a panel are in units of the argument; beyond its reach every value is computed.
    pub(super) fn new(fall: f64, reach: f64, width: f64) -> Self {
        let panels = vec![OnceLock::new(); whole((2.0 * reach / width).ceil())];
        Self { fall, reach, width, panels, points: std::array::from_fn(point) }
    }

    /// The tail at `u`, from `exact` where its panel is not known yet.
    pub(super) fn at(&self, u: f64, exact: impl Fn(f64) -> f64) -> f64 {
        let place = (u + self.reach) / self.width;
        let Some(panel) = self.panels.get(whole(place)).filter(|_| place >= 0.0) else {
            return exact(u);
        };
        let middle = (place.floor() + 0.5) * self.width - self.reach;
        let values = panel.get_or_init(|| {
            self.points.map(|point| {
                let u = middle + self.width / 2.0 * point.at;
                exact(u) / self.bell(u)
            })
        });
        self.between(values, 2.0 * (u - middle) / self.width) * self.bell(u)
    }

    /// What the tail is divided by to be nearly constant on a panel.
    fn bell(&self, u: f64) -> f64 {
        (-self.fall * u * u.max(0.0)).exp()
    }

    fn between(&self, values: &[f64; NODES], x: f64) -> f64 {
        let (mut above, mut below) = (0.0, 0.0);
        for (point, value) in self.points.iter().zip(values) {
            let off = x - point.at;
            if off == 0.0 {
                return *value;
            }
            above += point.weight / off * value;
            below += point.weight / off;
        }
        above / below
    }
}

#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a cast to a whole number ends at its bounds, and what lies below zero is asked for by nobody"
)]
fn whole(value: f64) -> usize {
    value as usize
}

/// A Chebyshev point of the first kind with its barycentric weight.
fn point(index: usize) -> Point {
    let angle = PI * (index as f64 + 0.5) / NODES as f64;
    Point { at: angle.cos(), weight: if index.is_multiple_of(2) { angle.sin() } else { -angle.sin() } }
}
