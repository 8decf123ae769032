//! What the work touches: the coat of a panel or its bare material, what it needs, and what a cut takes off it.

use serde::Deserialize;

use super::source::Source;
use super::words::Words;

/// A coat or a bare material.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Ground {
    /// Its name in print.
    pub id: &'static str,
    /// Words for it in the description of a surface, as [`Words::say`] reads them.
    #[serde(borrow)]
    pub words: Vec<&'static str>,
    /// German words for it: a study with German pages describes its surface in German.
    #[serde(borrow)]
    pub german: Vec<&'static str>,
    /// Words that look like those and mean something else.
    #[serde(borrow, default)]
    pub not: Vec<&'static str>,
    /// Id of the bare material that it is, which tells what attacks it; absent where its words do not say which.
    pub surface: Option<&'static str>,
    /// Ids of the steps that it needs besides tape and labels.
    #[serde(borrow)]
    pub needs: Vec<&'static str>,
    /// It draws water and what is put on it.
    pub porous: bool,
    /// It is wood.
    pub wood: bool,
    /// It is stone, brick or the like.
    pub masonry: bool,
    /// The strongest alcohol that it bears, percent by volume; absent where that is no matter.
    pub alcohol_max_percent: Option<f64>,
    /// Hours from the last water to a product; absent where wiping dry is enough.
    pub wait_after_water_h: Option<f64>,
    /// Film that trade practice takes off at most, um; absent where there is no such habit.
    pub take_max_um: Option<f64>,
    /// The mask against dust of it; absent where that against other dust does.
    pub dust_mask: Option<&'static str>,
    /// Source of these facts.
    pub source: Source,
}

impl Ground {
    /// Whether a step belongs to its usual preparation.
    pub fn needs(&self, step: &str) -> bool {
        self.needs.contains(&step)
    }
}

/// What one time of a step usually takes off.
#[derive(Debug, Clone, Copy, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Cut {
    /// Id of the step.
    pub verb: &'static str,
    /// Id of the class that it is done with.
    pub class: Option<&'static str>,
    /// From this grit on.
    pub grit: Option<u32>,
    /// Usually at least, um.
    pub least_um: f64,
    /// Usually at most, um.
    pub most_um: f64,
    /// Source of both.
    pub source: Source,
}

/// The file of grounds and cuts.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct GroundFile {
    /// Words of colours, which name a material and mean none.
    pub(super) colours: Vec<&'static str>,
    /// The mask against dust of a ground that is not known, the stricter one.
    pub(super) unknown_dust_mask: &'static str,
    #[serde(rename = "ground")]
    pub(super) grounds: Vec<Ground>,
    #[serde(rename = "cut")]
    pub(super) cuts: Vec<Cut>,
}

impl GroundFile {
    /// What is touched of a free description such as `clearcoat on steel, white`: what stands before the last `on`, or `auf`.
    pub(super) fn touched(&self, text: &str) -> Option<&Ground> {
        let outer = Words::of(text).before_last(&["on", "auf"]).without(&self.colours);
        self.grounds.iter().find(|ground| {
            let own = outer.clone().without(&ground.not);
            own.say(&ground.words) || own.say(&ground.german)
        })
    }
}

#[cfg(test)]
mod tests {
    use super::super::Catalog;

    #[test]
    fn a_surface_is_known_by_its_german_words() {
        let catalog = Catalog::built_in();
        let ground = |text: &str| catalog.ground(text).map(|ground| ground.id);
        for (text, known) in [
            ("Fichte, gehobelt", "wood"),
            ("Eiche, geölt", "oiled wood"),
            ("Stahl, lackiert", "paint"),
            ("Klarlack auf Stahl, weiß", "paint"),
            ("Aluminium, eloxiert", "bare metal"),
            ("clearcoat on steel", "paint"),
        ] {
            assert_eq!(ground(text), Some(known), "{text}");
        }
        assert_eq!(ground("Grund unbekannt"), None);
    }
}
