//! Air and surface at one time, and the dew point between them.

use crate::catalog::dew_point;

/// Air and surface at one time; what is not known is `None`.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Conditions {
    /// Temperature of the air, degC.
    pub air_deg_c: Option<f64>,
    /// Relative humidity, percent.
    pub humidity_percent: Option<f64>,
    /// Temperature of the surface, degC.
    pub surface_deg_c: Option<f64>,
}

impl Conditions {
    /// The dew point of the air, degC.
    pub fn dew_point_deg_c(&self) -> Option<f64> {
        dew_point(self.air_deg_c?, self.humidity_percent?)
    }

    /// How far the surface lies above the dew point, degC of difference.
    pub fn above_dew_point_deg_c(&self) -> Option<f64> {
        Some(self.surface_deg_c? - self.dew_point_deg_c()?)
    }

    /// True where water condenses on the surface: it is no warmer than the dew point.
    pub fn condenses(&self) -> Option<bool> {
        self.above_dew_point_deg_c().map(|above| above <= 0.0)
    }

    /// These, and where one is not known that of others.
    #[must_use]
    pub fn or(self, others: Self) -> Self {
        Self {
            air_deg_c: self.air_deg_c.or(others.air_deg_c),
            humidity_percent: self.humidity_percent.or(others.humidity_percent),
            surface_deg_c: self.surface_deg_c.or(others.surface_deg_c),
        }
    }
}
