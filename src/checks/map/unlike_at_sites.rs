//! Products that do not stand at every site, so that site and product cannot be told apart.

use super::sections::{by_product, of, understood};
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity, count, list};
use crate::study::{Section, SiteId, Study, Treatment};
use crate::text::Span;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "unlike-at-sites",
        severity: Severity::Warning,
        what: "Of two sites or more, one has no specimen of a product, or fewer than another has; the same for bare.",
        why: "Sites differ in sun, rain and salt. A product that stands more often at the milder site looks better \
              than it is.",
        mend: "Put as many specimens of each product, and as many bare ones, at each site.",
        bad: "surface boards\n    material    oak, planed\n    each        300 x 90 mm\n\
              map coast   rack 1 row of 6\n    | bay    clove  bare   cumin  bay    bare  |\n\
              map inland  rack 1 row of 6\n    | clove  bare   cumin  bare   clove  cumin |\n\
              exposure coast \"Pier\"\nexposure inland \"Yard\"\n",
        good: "surface boards\n    material    oak, planed\n    each        300 x 90 mm\n\
              map coast   rack 1 row of 6\n    | bay    clove  bare   cumin  bare   .     |\n\
              map inland  rack 1 row of 6\n    | clove  bare   cumin  bare   bay    .     |\n\
              exposure coast \"Pier\"\nexposure inland \"Yard\"\n",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    if study.grids.len() < 2 || !understood(study) {
        return;
    }
    let bare = of(study, Treatment::Bare);
    let products =
        by_product(study).into_iter().map(|(product, sections)| (study.treatment_name(product), sections));
    let all = products.chain((!bare.is_empty()).then_some(("bare", bare)));
    let unlike: Vec<Unlike<'_>> = all.filter_map(|(name, sections)| unlike(study, name, &sections)).collect();
    let Some(first) = unlike.first() else { return };
    let words: Vec<&str> = unlike.iter().map(|one| one.words.as_str()).collect();
    let finding = Finding::warning(CHECK.page.code, first.span, list(&words, "and"))
        .help("put as many of each product, and as many bare ones, at every site")
        .about("map");
    findings.push(match unlike.as_slice() {
        [only] => finding.about(only.name),
        _ => finding,
    });
}

/// A product that stands more often at one site than at another.
struct Unlike<'s> {
    name: &'s str,
    words: String,
    span: Span,
}

fn unlike<'s>(study: &Study, name: &'s str, sections: &[&Section]) -> Option<Unlike<'s>> {
    let at = |site: SiteId| sections.iter().filter(|section| section.site == Some(site)).count();
    let sites = study.sites.iter().enumerate().map(|(id, site)| (at(SiteId::new(id)), site.value.as_str()));
    let (most, rich) = sites.clone().max_by_key(|&(number, _)| number)?;
    let (least, poor) = sites.min_by_key(|&(number, _)| number)?;
    let words = format!("`{name}` has {} at {rich} and {least} at {poor}", count(most, "specimen"));
    (least < most).then_some(Unlike { name, words, span: sections[0].span })
}
