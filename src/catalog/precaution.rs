//! Which precautions a label carries: one rule for every card, so that like things have like cards.
//!
//! A card has every precaution that UN GHS, Annex 3 gives to its hazard statements, those that depend on the thing itself too, and a
//! stricter one in place of a milder: CLP Regulation (EC) 1272/2008, Article 28(1) leaves out what another makes redundant; which ones
//! these are is from memory. A label of a bottle has six at most (Article 28(3)), by a rank of their own.

use super::statement::Hazard;

/// A precaution, and the milder ones that it stands in place of.
const STRICTER: &[(&str, &[&str])] = &[
    ("P234", &["P406"]),
    ("P260", &["P261"]),
    ("P264+P265", &["P264"]),
    ("P301+P316", &["P301+P317"]),
    ("P301+P330+P331", &["P330", "P331"]),
    ("P302+P361+P354", &["P302+P352", "P303+P361+P353"]),
    ("P303+P361+P353", &["P302+P352"]),
    ("P305+P354+P338", &["P305+P351+P338", "P337+P317"]),
    ("P316", &["P317", "P319"]),
    ("P317", &["P319"]),
    ("P333+P317", &["P332+P317"]),
    ("P361+P364", &["P362+P364", "P363"]),
    ("P362+P364", &["P363"]),
    ("P403+P233", &["P233", "P403"]),
];

/// The first six of these that apply stand on a label: what keeps from fire, from breathing and from touching it, first aid by the
/// gravest route, then the surroundings. From memory, follow the data sheet.
const RANK: &[&str] = &[
    "P210",
    "P260",
    "P261",
    "P284",
    "P280",
    "P301+P316",
    "P301+P330+P331",
    "P305+P354+P338",
    "P302+P361+P354",
    "P305+P351+P338",
    "P304+P340",
    "P302+P352",
    "P303+P361+P353",
    "P342+P316",
    "P220",
    "P273",
    "P301+P317",
    "P331",
    "P316",
    "P333+P317",
    "P271",
    "P264+P265",
    "P264",
    "P337+P317",
    "P501",
];

/// How many a label has at most.
const ON_LABEL: usize = 6;

/// A specific treatment is told only where there is one.
const SPECIFIC: &[&str] = &["P320", "P321"];

/// The precautions of hazard statements, in order of their codes; `specific` says that a treatment of its own exists.
pub(super) fn of<'a>(hazards: impl Iterator<Item = &'a Hazard>, specific: bool) -> Vec<&'static str> {
    let mut all: Vec<&'static str> = hazards.flat_map(|hazard| hazard.precautions.iter().copied()).collect();
    all.sort_unstable();
    all.dedup();
    let stricter =
        |code: &str| STRICTER.iter().any(|(strict, milder)| all.contains(strict) && milder.contains(&code));
    all.iter().copied().filter(|code| !stricter(code) && (specific || !SPECIFIC.contains(code))).collect()
}

/// The six that a label has room for, in order of their codes.
pub fn on_label<'a>(precautions: &[&'a str]) -> Vec<&'a str> {
    let rank = |code: &&str| RANK.iter().position(|known| known == code).unwrap_or(RANK.len());
    let mut first = precautions.to_vec();
    first.sort_by_key(rank);
    first.truncate(ON_LABEL);
    first.sort_unstable();
    first
}
