//! `checklist.html`: the steps to tick, each with its safety box, made for A4 paper.

use super::engine::{Frame, Template, page, render, value};
use super::fault::Fault;
use super::pictures::{hazard_reference, hazard_symbols};
use crate::report::{ChecklistView, Material, checklist};
use minijinja::value::Value;
use std::collections::{BTreeMap, BTreeSet};

const BODY: Template =
    Template { name: "checklist.html", source: include_str!("../../templates/checklist.html") };
const STYLE: &str = include_str!("../../templates/checklist.css");

pub(super) fn make(material: &Material<'_>) -> Result<String, Fault> {
    let view = checklist(material);
    let title = format!("Prep checklist: {}", view.study);
    let foot = format!("{} · checklist {} · tapeline {}", view.study, view.as_of, view.version);
    let (symbols, signs) = pictograms(&view);
    let body = render(BODY, minijinja::context! { view => value(&view), symbols, signs })?;
    page(Frame { title: &title, foot: &foot, style: STYLE }, body)
}

// Each symbol is drawn once on the page; the boxes refer to it by its code.
fn pictograms(view: &ChecklistView) -> (Value, BTreeMap<String, Value>) {
    let cards = view.groups.iter().flat_map(|group| &group.steps).filter_map(|step| step.card.as_ref());
    let shown: BTreeSet<(&str, &str)> = cards
        .flat_map(|card| &card.pictograms)
        .map(|sign| (sign.code.as_str(), sign.text.as_str()))
        .collect();
    let codes: Vec<&str> = shown.iter().map(|(code, _)| *code).collect();
    let sign = |&(code, name): &(&str, &str)| {
        (code.to_owned(), Value::from_safe_string(hazard_reference(code, name)))
    };
    (Value::from_safe_string(hazard_symbols(&codes)), shown.iter().map(sign).collect())
}
