//! Deals products and bare out among the sections that a drawing leaves to chance.
//!
//! Chance alone may put both sections of a product side by side, or all bare ones into one corner. So many arrangements
//! are drawn by chance, each is bettered by exchanges until none helps, and the one with the least penalty is taken.
//! What counts, and how much, stands in `score`. The same study and the same seed deal the same.

mod drawing;
mod ground;
mod refusal;
mod score;
mod search;
mod shares;

pub use drawing::{Drawing, drawn};
pub use refusal::Refusal;
pub use score::Verdict;

use crate::readings::Readings;
use crate::study::{Blocks, SectionId, SiteId, Study, Treatment};
use ground::Ground;
use search::{Found, search};

/// What is asked of the dealer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Order {
    /// Seed of the generator.
    pub seed: u64,
    /// Sections for each product; where it is not said, as many as leave bare as often.
    pub each: Option<usize>,
}

/// Sections with what they are to carry.
#[derive(Debug, Clone, PartialEq)]
pub struct Deal {
    /// The sections that were open, in the order of the map.
    pub dealt: Vec<(SectionId, Treatment)>,
    /// How the whole drawing stands now.
    pub verdict: Verdict,
    /// How many arrangements were looked at.
    pub tried: usize,
    /// How many blocks they were dealt in; one where nothing divides them.
    pub blocks: usize,
}

/// Deals out the open sections of a study.
///
/// # Errors
/// Why they cannot be dealt out, with what to do.
pub fn deal(study: &Study, readings: &Readings, order: Order) -> Result<Deal, Refusal> {
    if let Some(placed) = study.dealing.placed {
        return Err(Refusal::Placed(placed.date));
    }
    let open: Vec<SectionId> = study.sections_of(Treatment::Open).map(|(id, _)| id).collect();
    if open.is_empty() {
        return Err(Refusal::NothingOpen);
    }
    if study.products.is_empty() {
        return Err(Refusal::NoProducts);
    }
    let ground = Ground::of(study).ok_or(Refusal::NoPlaces)?;
    let parts = match study.dealing.blocks {
        Some(blocks) => by_level(study, readings, &open, blocks)?,
        None => by_site(study, &open),
    };
    let mut hands = Vec::with_capacity(parts.len());
    for part in &parts {
        hands.push(shares::of(study, part, study.dealing.blocks.is_some(), order.each)?);
    }
    let Found { carried, tried } = search(&ground, &parts, &hands, order.seed);
    let dealt = open.iter().map(|&id| (id, carried[id.index()])).collect();
    let verdict = score::verdict(&ground, &carried);
    Ok(Deal { dealt, verdict, tried, blocks: parts.len() })
}

/// Sections in order of what was read on them, cut into the blocks that the study states.
fn by_level(
    study: &Study,
    readings: &Readings,
    open: &[SectionId],
    blocks: Blocks,
) -> Result<Vec<Vec<SectionId>>, Refusal> {
    if blocks.number * blocks.each != open.len() {
        return Err(Refusal::OtherNumber { open: open.len(), blocks });
    }
    let level = |id: SectionId| {
        let cell = readings.cell(id, blocks.round, blocks.measure)?;
        cell.kept.mean()
    };
    let unread: Vec<SectionId> = open.iter().copied().filter(|&id| level(id).is_none()).collect();
    if !unread.is_empty() {
        return Err(Refusal::NotRead(unread.iter().map(|&id| study.section(id).code.clone()).collect()));
    }
    let mut ordered: Vec<(f64, SectionId)> = open.iter().filter_map(|&id| Some((level(id)?, id))).collect();
    ordered.sort_by(|one, other| one.0.total_cmp(&other.0).then(one.1.cmp(&other.1)));
    Ok(ordered.chunks(blocks.each).map(|block| block.iter().map(|&(_, id)| id).collect()).collect())
}

/// Each site gets its own share of every product.
fn by_site(study: &Study, open: &[SectionId]) -> Vec<Vec<SectionId>> {
    let mut parts: Vec<Vec<SectionId>> = vec![Vec::new(); study.sites.len().max(1)];
    for &id in open {
        let site = study.section(id).site.map_or(0, SiteId::index);
        parts[site].push(id);
    }
    parts.retain(|part| !part.is_empty());
    parts
}
