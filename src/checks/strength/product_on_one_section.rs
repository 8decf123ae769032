//! Products with one section each, whose own scatter nobody sees.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity, list};
use crate::planning::Room;
use crate::study::{Study, Treatment};
use crate::text::Span;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "product-on-one-section",
        severity: Severity::Advice,
        what: "Products stand on one section each.",
        why: "What a product does and what its one place on the panel does cannot be told apart by that section \
              alone. The report takes coated sections to scatter as the replicated ones do, says so, and cannot \
              check it.",
        mend: "Give each product two or three sections, or keep it so and leave four to six sections bare.",
        bad: "map  sections 166 x 116 mm  gap 18 mm  from left 44 mm, top 44 mm\n    \
              | bay    clove  bare   cumin  |\n    | bare   bare   .      bare   |\n",
        good: "map  sections 166 x 116 mm  gap 18 mm  from left 44 mm, top 44 mm\n    \
               | bay    clove  bare   cumin  |\n    | bare   cumin  bay    clove  |\n    \
               | clove  bay    cumin  bare   |\n",
        source: "Hurlbert (1984), Ecological Monographs 54, 187-211, on replicates of a treatment",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    // With fewer degrees of freedom the graver findings say it already.
    if Room::on_panel(study).is_none_or(|room| room.df < 3) {
        return;
    }
    let single = single(study);
    let Some(&(_, place)) = single.first() else { return };
    let names: Vec<&str> = single.iter().map(|&(name, _)| name).collect();
    let all = names.len() == study.products.len();
    let (who, place) = match (all, study.grid()) {
        (true, Some(grid)) if names.len() > 1 => (String::from("every product"), grid.span),
        _ => (told(&names), place),
    };
    let verb = if names.len() == 1 || all { "stands" } else { "stand" };
    let message = format!("{who} {verb} on one section only");
    let mut finding = Finding::advice(CHECK.page.code, place, message)
        .help("give each product a second section, or leave four to six bare and say in a waiver that it is meant so")
        .about("map");
    if let [only] = names.as_slice() {
        finding = finding.about(*only);
    }
    findings.push(finding);
}

fn single(study: &Study) -> Vec<(&str, Span)> {
    let products = study.products_with_ids().filter_map(|(id, product)| {
        let mut sections = study.sections_of(Treatment::Product(id));
        let (_, first) = sections.next()?;
        sections.next().is_none().then_some((product.name.value.as_str(), first.span))
    });
    products.collect()
}

fn told(names: &[&str]) -> String {
    let mut shown: Vec<String> = names.iter().take(5).map(|&name| format!("`{name}`")).collect();
    if names.len() > 5 {
        shown.push(format!("{} more", names.len() - 5));
    }
    list(&shown, "and")
}
