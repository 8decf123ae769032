//! Steps of preparation and the order in which they make sense.

use serde::Deserialize;

use super::source::Source;

/// Whether a step names something that it is done with.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Need {
    /// It makes no sense without.
    Always,
    /// It may name one.
    Either,
    /// It takes none.
    Never,
}

/// A kind of step.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Step {
    /// The verb that a study uses.
    pub id: &'static str,
    /// Other words for it, to help a mistaken one.
    #[serde(borrow)]
    pub aliases: Vec<&'static str>,
    /// What it does, one sentence.
    pub what: &'static str,
    /// It leaves the surface wet.
    pub wets: bool,
    /// It leaves something that a wipe must take off, whatever is used.
    pub leaves_residue: bool,
    /// Whether it names a supply.
    pub needs_supply: Need,
    /// Ids of the classes that it usually uses, the most usual first.
    #[serde(borrow)]
    pub uses: Vec<&'static str>,
    /// Ids of the classes that arise in the work.
    #[serde(borrow)]
    pub raises: Vec<&'static str>,
    /// When pad, cloth or water is changed; empty where there is none.
    pub change: &'static str,
    /// Protection besides what the class asks for; empty where there is none.
    pub ppe: &'static str,
    /// Source of these facts.
    pub source: Source,
}

/// A step that must come before another one.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Order {
    /// Id of the earlier step.
    pub first: &'static str,
    /// Id of the later step.
    pub then: &'static str,
    /// Why, one sentence.
    pub because: &'static str,
    /// Ids of the grounds on which it does not hold.
    #[serde(borrow, default)]
    pub except_on: Vec<&'static str>,
    /// Source of this rule.
    pub source: Source,
}

/// The file of steps.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, bound(deserialize = "'de: 'static"))]
pub(super) struct StepFile {
    #[serde(rename = "step")]
    pub(super) steps: Vec<Step>,
    #[serde(rename = "order")]
    pub(super) orders: Vec<Order>,
}
