//! Exposure limits in air, by agency.

use serde::Deserialize;

use super::source::Source;

/// The limits of a substance.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Limit {
    /// Kebab-case identifier.
    pub id: &'static str,
    /// What is in the air.
    pub substance: &'static str,
    /// Recommended by NIOSH: the mean over a shift, and a higher limit for a short time.
    pub rel: &'static str,
    /// Permissible by OSHA.
    pub pel: &'static str,
    /// Dangerous to life or health at once, by NIOSH.
    pub idlh: &'static str,
    /// Source of the limits.
    pub source: Source,
}

/// The file of limits.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, bound(deserialize = "'de: 'static"))]
pub(super) struct ExposureFile {
    #[serde(rename = "limit")]
    pub(super) limits: Vec<Limit>,
}
