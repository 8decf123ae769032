//! Cautions of the work: where they arise, and their words.

use serde::Deserialize;

use super::class::Class;
use super::ground::Ground;
use super::packing::Packing;
use super::source::Source;
use super::words::Words;

/// A caution of the work itself, whatever product is used.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Caution {
    /// Kebab-case identifier.
    pub id: &'static str,
    /// It arises on steps of these verbs.
    #[serde(borrow)]
    pub verbs: Vec<&'static str>,
    /// It arises with what belongs to one of these reactivity groups.
    #[serde(borrow)]
    pub groups: Vec<&'static str>,
    /// It arises with what carries one of these hazard statements by its data sheet.
    #[serde(borrow, default)]
    pub hazards: Vec<&'static str>,
    /// It arises where one of these words, or several that belong together, stands in the text of a step or of its place.
    #[serde(borrow)]
    pub words: Vec<&'static str>,
    /// The same in German.
    #[serde(borrow, default)]
    pub german: Vec<&'static str>,
    /// Words that look like those and mean something else.
    #[serde(borrow, default)]
    pub not: Vec<&'static str>,
    /// It arises on grounds of these ids alone; everywhere where none is named.
    #[serde(borrow, default)]
    pub on: Vec<&'static str>,
    /// It never arises on grounds of these ids.
    #[serde(borrow, default)]
    pub not_on: Vec<&'static str>,
    /// It never arises with what belongs to one of these reactivity groups, whose own protection says more.
    #[serde(borrow, default)]
    pub unless: Vec<&'static str>,
    /// It arises on panels higher than this, mm.
    pub above_mm: Option<f64>,
    /// The sentences.
    pub text: &'static str,
    /// Source of the caution.
    pub source: Source,
}

/// A piece of work, as far as cautions ask about it.
#[derive(Debug, Clone, Copy)]
pub struct Work<'a> {
    /// The verb of the step, or `apply`.
    pub verb: &'a str,
    /// What it is done with.
    pub class: Option<&'a Class>,
    /// Codes of the hazard statements of its data sheet; `None` where the study does not state them, so that those
    /// usual for its class count.
    pub hazards: Option<&'a [String]>,
    /// Its pack, where that has a label of its own.
    pub packing: Option<&'a Packing>,
    /// Tool, prose and place.
    pub texts: &'a [&'a str],
    /// What the work touches, where the material says.
    pub ground: Option<&'a Ground>,
    /// Height of the panel, mm.
    pub height_mm: Option<f64>,
}

impl Work<'_> {
    fn carries(&self, code: &str) -> bool {
        let own = self.packing.is_some_and(|packing| packing.statements.contains(&code));
        own || match (self.hazards, self.class) {
            (Some(stated), _) => stated.iter().any(|own| own == code),
            (None, Some(class)) => class.hazards.statements.contains(&code),
            (None, None) => false,
        }
    }
}

impl Caution {
    /// Whether it arises in a piece of work.
    pub fn arises(&self, work: &Work<'_>) -> bool {
        let more = |class: &Class| self.unless.iter().any(|group| class.is_in(group));
        if !self.fits(work.ground) || work.class.is_some_and(more) {
            return false;
        }
        let high = self.above_mm.zip(work.height_mm).is_some_and(|(above, height)| height > above);
        high || self.verbs.contains(&work.verb)
            || self.groups.iter().any(|group| work.class.is_some_and(|class| class.is_in(group)))
            || self.hazards.iter().any(|code| work.carries(code))
            || work.texts.iter().any(|text| self.speaks_of(text))
    }

    fn fits(&self, ground: Option<&Ground>) -> bool {
        let is_in = |ids: &[&str]| ground.is_some_and(|ground| ids.contains(&ground.id));
        (self.on.is_empty() || is_in(&self.on)) && !is_in(&self.not_on)
    }

    /// Whether one of its words stands in a text.
    pub fn speaks_of(&self, text: &str) -> bool {
        let words = Words::of(text).without(&self.not);
        words.say(&self.words) || words.say(&self.german)
    }
}

/// The file of cautions.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, bound(deserialize = "'de: 'static"))]
pub(super) struct CautionFile {
    #[serde(rename = "caution")]
    pub(super) cautions: Vec<Caution>,
}
