//! Materials under a film: which film gauge reads there, and what attacks them bare.

use serde::Deserialize;

use super::class::Class;
use super::name::{is_called, same_name};
use super::source::Source;
use super::words::Words;

/// The principle of a film gauge.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum FilmGauge {
    /// Magnetic induction, on magnetic steel (ISO 2178).
    Magnetic,
    /// Eddy current, on metals that no magnet holds (ISO 2360).
    EddyCurrent,
    /// Ultrasonic, on gelcoat, wood and plastic (ISO 2808).
    Ultrasonic,
    /// No common gauge.
    None,
}

/// A harm that a reactivity group does to the bare material.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Harm {
    /// The reactivity group.
    pub group: &'static str,
    /// What happens.
    pub result: &'static str,
    /// Source of the harm.
    pub source: Source,
}

/// A material.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Surface {
    /// Kebab-case identifier.
    pub id: &'static str,
    /// Other words for it.
    #[serde(borrow)]
    pub aliases: Vec<&'static str>,
    /// German words for it, as [`Words::say`] reads them.
    #[serde(borrow, default)]
    pub german: Vec<&'static str>,
    /// The film gauge that fits.
    pub film_gauge: FilmGauge,
    /// Standard of that gauge; empty where there is none.
    pub standard: &'static str,
    /// Source of gauge and standard.
    pub source: Source,
    /// What attacks the bare material.
    pub harmed_by: Vec<Harm>,
}

impl Surface {
    /// The harms that a class does to the bare material.
    pub fn harms<'a>(&'a self, class: &'a Class) -> impl Iterator<Item = &'a Harm> {
        self.harmed_by.iter().filter(|harm| class.is_in(harm.group))
    }
}

/// The material in a free description such as `clearcoat on stainless steel, white`.
///
/// What stands after the last `on` is the substrate and goes first; two words go before one, so
/// that stainless steel is not taken for steel.
pub(super) fn in_description<'a>(surfaces: &'a [Surface], text: &str) -> Option<&'a Surface> {
    let words: Vec<&str> =
        text.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).collect();
    let substrate = words.iter().rposition(|word| same_name(word, "on")).map_or(0, |at| at + 1);
    let in_german = || {
        let words = Words::of(text);
        surfaces.iter().find(|surface| words.say(&surface.german))
    };
    first_in(surfaces, &words[substrate..])
        .or_else(|| first_in(surfaces, &words[..substrate]))
        .or_else(in_german)
}

fn first_in<'a>(surfaces: &'a [Surface], words: &[&str]) -> Option<&'a Surface> {
    let pairs = words.windows(2).map(|pair| pair.join(" "));
    let singles = words.iter().map(|word| (*word).to_owned());
    pairs.chain(singles).find_map(|name| find(surfaces, &name))
}

/// The material of that name.
pub(super) fn find<'a>(surfaces: &'a [Surface], name: &str) -> Option<&'a Surface> {
    surfaces.iter().find(|surface| is_called(name, surface.id, &surface.aliases))
}

/// The file of surfaces.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, bound(deserialize = "'de: 'static"))]
pub(super) struct SurfaceFile {
    #[serde(rename = "surface")]
    pub(super) surfaces: Vec<Surface>,
}
