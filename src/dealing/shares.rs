//! How often each product is dealt among some sections; what is left over stays bare.

use super::refusal::Refusal;
use crate::study::{SectionId, Study, Treatment};

/// What is dealt to as many sections as `part` has, in the order of the products, bare last.
///
/// Products that the drawing places already are dealt less often by as much, so that all come to the same number. A block
/// is dealt whole: whatever stands elsewhere says nothing of it.
pub(super) fn of(
    study: &Study,
    part: &[SectionId],
    in_blocks: bool,
    each: Option<usize>,
) -> Result<Vec<Treatment>, Refusal> {
    let site = part.first().and_then(|&id| study.section(id).site);
    let drawn = |treatment: Treatment| {
        if in_blocks {
            return 0;
        }
        study.sections.iter().filter(|section| section.site == site && section.treatment == treatment).count()
    };
    let products: Vec<(Treatment, usize)> = study
        .products_with_ids()
        .map(|(id, _)| Treatment::Product(id))
        .map(|treatment| (treatment, drawn(treatment)))
        .collect();
    let needed = |each: usize| products.iter().map(|(_, drawn)| each.saturating_sub(*drawn)).sum::<usize>();
    let bare = drawn(Treatment::Bare);
    // Bare as often as a product: it is what each of them is held against. A block may go without, if bare stands elsewhere.
    let fits = |each: usize| needed(each) <= part.len() && bare + part.len() - needed(each) >= each;
    let drawn_most = products.iter().map(|(_, drawn)| *drawn).max().unwrap_or(0);
    let most = (1..=part.len() + drawn_most).rev().find(|&each| fits(each));
    let whole = (in_blocks && needed(1) == part.len()).then_some(1);
    let each = match each.or(most).or(whole) {
        Some(each) if needed(each) <= part.len() => each,
        other => {
            let each = other.unwrap_or(1);
            let bare = usize::from(other.is_none());
            let site = site.map(|site| study.sites[site.index()].value.clone());
            return Err(Refusal::TooFew {
                open: part.len(),
                needed: needed(each) + bare,
                each,
                bare: bare > 0,
                site: site.filter(|_| study.sites.len() > 1),
            });
        }
    };
    let mut hand: Vec<Treatment> = products
        .iter()
        .flat_map(|&(treatment, drawn)| std::iter::repeat_n(treatment, each.saturating_sub(drawn)))
        .collect();
    hand.resize(part.len(), Treatment::Bare);
    Ok(hand)
}
