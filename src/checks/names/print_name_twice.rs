//! Products that no reader of the report can tell apart, since their names for print are one.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::Product;
use std::collections::BTreeMap;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "print-name-twice",
        severity: Severity::Error,
        what: "Two products have one name for print, or a product is called as sections without one are.",
        why: "Tables, map, labels and pictures show the name for print. A reader cannot tell the two apart, and takes a product that is called bare for bare sections.",
        mend: "Give each product a name of its own, with its strength, batch or year where the rest is alike.",
        bad: "product moor \"Moor Wax\", a wax
product moor-new \"Moor wax\", a wax
",
        good: "product moor \"Moor Wax 2024\", a wax
product moor-new \"Moor Wax 2026\", a wax
",
        source: "a rule of the study language",
    },
    run,
};

/// What stands in the tables for sections without a product, in the languages of the pages.
const TAKEN: [&str; 8] = [
    "bare",
    "untouched",
    "carrier only",
    "carrier-only",
    "unbeschichtet",
    "unberührt",
    "nur träger",
    "nur trägermittel",
];

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let products = &context.study.products;
    let fold = |title: &str| title.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase();
    let mut firsts: BTreeMap<String, &Product> = BTreeMap::new();
    for product in products {
        let title = product.title();
        let folded = fold(title);
        let same = firsts.get(&folded).copied();
        let message = if let Some(other) = same {
            format!("`{}` and `{}` are both printed as {title}", other.name.value, product.name.value)
        } else {
            let taken = TAKEN.contains(&folded.as_str());
            firsts.insert(folded, product);
            if !taken {
                continue;
            }
            format!("`{}` is printed as {title}, as sections without a product are", product.name.value)
        };
        let mut finding = Finding::error(CHECK.page.code, product.name.span, message)
            .help(format!("give it a name for print of its own: `product {} \"...\"`", product.name.value));
        if let Some(other) = same {
            finding = finding.related(other.name.span, "the other one is here");
        }
        findings.push(finding.about(&product.name.value));
    }
}
