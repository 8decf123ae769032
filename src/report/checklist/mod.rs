//! The checklist as a view: what must be there, what must not meet, and every step with its box.

mod lists;
mod steps;

pub(super) use steps::{facts, mix_text, section_list, title};

use super::Material;
use super::safety::{self, Card, Entry, Meeting};
use crate::catalog::Catalog;
use crate::study::Study;
use serde::Serialize;

/// The whole checklist.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ChecklistView {
    /// Title of the study.
    pub study: String,
    /// Author and panel, for the head.
    pub head: Vec<Entry>,
    /// Date of the page.
    pub date: String,
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

/// Makes the checklist.
pub fn checklist(material: &Material<'_>) -> ChecklistView {
    let (study, catalog) = (material.study, material.catalog);
    ChecklistView {
        study: study.title.value.clone(),
        head: head(study),
        date: material.date.to_string(),
        version: material.version.to_owned(),
        meetings: safety::meetings(catalog, study),
        lines: lines(study, catalog),
        materials: lists::materials(study),
        tools: lists::tools(study),
        protection: lists::protection(study, catalog),
        groups: steps::groups(study, catalog),
    }
}

fn head(study: &Study) -> Vec<Entry> {
    let surface = &study.surface;
    let panel = [Some(surface.name.value.clone()), surface.material.as_ref().map(|m| m.value.clone())];
    let panel: Vec<String> = panel.into_iter().flatten().filter(|text| !text.is_empty()).collect();
    let mut head = Vec::new();
    if let Some(author) = &study.author {
        head.push(Entry::new("By", author));
    }
    if !panel.is_empty() {
        head.push(Entry::new("Panel", panel.join(", ")));
    }
    if let Some(begins) = &study.begins {
        head.push(Entry::new("Begins", begins.value.to_string()));
    }
    head
}

// Oily rags catch fire by themselves, so their line stands at the top as well as in the boxes.
fn lines(study: &Study, catalog: &Catalog) -> Vec<String> {
    let kinds =
        study.supplies.iter().map(|s| s.kind.as_ref()).chain(study.products.iter().map(|p| p.kind.as_ref()));
    let oily = kinds.filter_map(|kind| kind?.class).any(|class| class.is_in("drying-oil"));
    let always =
        catalog.lines().iter().filter(|line| line.when == "always" || (oily && line.id == "oily-rags"));
    let mut lines: Vec<String> = always.map(|line| line.text.to_owned()).collect();
    lines.push(
        "Follow local codes and licensed practice for waste water, solvents and work at height.".to_owned(),
    );
    lines
}
