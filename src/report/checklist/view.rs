//! What the checklist shows.

use super::super::blocks::Picture;
use super::super::safety::{Card, Entry, Meeting};
use serde::Serialize;

/// The whole checklist.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ChecklistView {
    /// Title of the study.
    pub study: String,
    /// Author and panel, for the head.
    pub head: Vec<Entry>,
    /// The day of the page: `as of 2026-04-13`.
    pub as_of: String,
    /// Version of the tool.
    pub version: String,
    /// Things that must never meet.
    pub meetings: Vec<Meeting>,
    /// Lines that always stand at the top.
    pub lines: Vec<String>,
    /// Supplies and products.
    pub materials: Vec<Thing>,
    /// Gauges, tools, tape.
    pub tools: Vec<Entry>,
    /// Mixes to make.
    pub mixes: Vec<Mixing>,
    /// What is bought.
    pub shopping: Shopping,
    /// What holds for every mix.
    pub mix_notes: Vec<String>,
    /// Protection, and for what.
    pub protection: Vec<Entry>,
    /// Groups of steps.
    pub groups: Vec<Group>,
    /// Labels to cut out, one for each mix.
    pub labels: Vec<BottleLabel>,
}

/// A label for the bottle of a mix.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BottleLabel {
    /// What is diluted.
    pub name: String,
    /// Parts or strength.
    pub mix: String,
    /// How long it may be used.
    pub keeps: String,
    /// Which batch it is for, where one more is made on a later day; else empty.
    pub batch: String,
    /// Whose label it is: that of the mix by its strength, or that of the stock.
    pub basis: String,
    /// Its signs and statements, with as many precautions as a label has room for.
    pub card: Card,
}

/// A supply or product to have at hand.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Thing {
    /// Its name.
    pub name: String,
    /// What it is.
    pub kind: String,
    /// How it is mixed.
    pub mix: String,
    /// What all sections need of it, of a supply with its spare as on the shopping list; empty where it cannot be told.
    pub needs: String,
    /// Its batch; empty leaves a line to write on.
    pub batch: String,
    /// Its data sheet.
    pub sheet: String,
}

/// The shopping list.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Shopping {
    /// Its rows.
    pub rows: Vec<Bought>,
    /// Whether an amount of what is used up stands in one of them, with its spare.
    pub spare: bool,
    /// What all packs with a price cost; empty where none has one.
    pub total: String,
}

/// A thing to buy.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Bought {
    /// Its name.
    pub name: String,
    /// For what.
    pub what: String,
    /// How much, with its spare.
    pub amount: String,
    /// Whole packs; empty where no pack is stated.
    pub packs: String,
    /// What these cost; empty where no price is stated.
    pub cost: String,
}

/// A mix to make.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Mixing {
    /// What is diluted.
    pub name: String,
    /// Parts or strength, as the study says it.
    pub mix: String,
    /// Strength as bought; empty where it is not stated or does not matter.
    pub stock: String,
    /// What to measure out, or why it cannot be told.
    pub how: String,
    /// The steps that use it.
    pub steps: String,
    /// How long it may be used.
    pub keeps: String,
}

/// The climate that the application asks for, and what was met.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct ClimateView {
    /// A value to write down, and its limit.
    pub limits: Vec<Entry>,
    /// The days of the coats, where these are several; each has values of its own.
    pub days: Vec<String>,
    /// When it is written down.
    pub times: Vec<String>,
    /// The coldest surface that may be coated.
    pub coldest: Coldest,
    /// Sentences below.
    pub notes: Vec<String>,
    /// Where the limits come from that the study does not give.
    pub source: String,
}

/// The coldest surface that keeps its distance from the dew point, by air and humidity.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Coldest {
    /// What the table shows.
    pub title: String,
    /// Air temperatures, the heads of the columns.
    pub air: Vec<String>,
    /// A humidity and the temperatures under each air temperature.
    pub rows: Vec<(String, Vec<String>)>,
}

/// Steps that belong together.
#[derive(Debug, Clone, Default, PartialEq, Serialize)]
pub struct Group {
    /// Its heading.
    pub title: String,
    /// Sentences below it.
    pub lines: Vec<String>,
    /// Prose of the study, Markdown.
    pub prose: String,
    /// The climate, for the application.
    pub climate: Option<ClimateView>,
    /// The map, or where on a specimen the work is done.
    pub picture: Option<Picture>,
    /// The step before which the picture stands, by its number; 0 for the head of the group.
    pub shown_before: usize,
    /// Its steps.
    pub steps: Vec<StepView>,
}

/// A step.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct StepView {
    /// Its number in the group.
    pub number: usize,
    /// What is done.
    pub title: String,
    /// What it is for.
    pub why: String,
    /// Supply, mix, dwell, rinse, tool, wait.
    pub facts: Vec<Entry>,
    /// Cautions of the work itself.
    pub cautions: Vec<String>,
    /// Prose of the study, Markdown.
    pub prose: String,
    /// Words beside further tick boxes: a section and coat, or a round.
    pub boxes: Vec<String>,
    /// True where these are planned days, each with a line behind it for the true day and initials.
    pub signed: bool,
    /// Single values to write down, each with its own words below it; those of a group stand beside each other.
    pub fields: Vec<Vec<String>>,
    /// What is written down: the heads of a line.
    pub blanks: Vec<String>,
    /// How many such lines.
    pub writing: usize,
    /// What each of the first lines is of, with a box to tick: a section, and its coat where there are several.
    pub rows: Vec<String>,
    /// Its safety boxes: that of what it is done with, and that of the dust that it makes.
    pub cards: Vec<Card>,
}
