//! What the checklist shows.

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
    /// Protection, and for what.
    pub protection: Vec<Entry>,
    /// Groups of steps.
    pub groups: Vec<Group>,
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
    /// Its batch; empty leaves a line to write on.
    pub batch: String,
    /// Its data sheet.
    pub sheet: String,
}

/// Steps that belong together.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Group {
    /// Its heading.
    pub title: String,
    /// Sentences below it.
    pub lines: Vec<String>,
    /// Values to write down.
    pub blanks: Vec<String>,
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
    /// Prose of the study, Markdown.
    pub prose: String,
    /// Words beside further tick boxes: a section and coat, or a round.
    pub boxes: Vec<String>,
    /// Lines for date, time and initials.
    pub writing: usize,
    /// Its safety box.
    pub card: Option<Card>,
}
