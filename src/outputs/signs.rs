//! The pictograms of a page: each is drawn once, and the boxes refer to it by its code.

use super::pictures::{hazard_reference, hazard_symbols};
use crate::report::Card;
use minijinja::value::Value;
use std::collections::{BTreeMap, BTreeSet};

/// The symbols of all cards, and the picture of each code that refers to them.
pub(super) fn signs<'a>(cards: impl Iterator<Item = &'a Card>) -> (Value, BTreeMap<String, Value>) {
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
