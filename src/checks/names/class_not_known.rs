//! Kinds that the catalog does not know.

use crate::catalog::same_name;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity, nearest};
use crate::study::KindOf;
use crate::text::Located;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "class-not-known",
        severity: Severity::Warning,
        what: "The kind of a supply or product is none that the catalog knows. Advice where a data sheet is named, else a warning.",
        why: "Its cautions, dwell and the pairs it must not meet cannot be printed or checked. The papers say: class not stated, follow the data sheet.",
        mend: "Use a kind of the catalog, as in `an iron remover`, where one fits.",
        bad: "product bay \"Bay seal\", a spray seelant
    bought      20.00 EUR for 500 ml
    batch       \"A1\"  opened 2026-03-02
    flash       2 to 4 min
    dry         12 h
    cure        7 days
",
        good: "product bay \"Bay seal\", a spray sealant
    bought      20.00 EUR for 500 ml
    batch       \"A1\"  opened 2026-03-02
    flash       2 to 4 min
    dry         12 h
    cure        7 days
    sheet       \"bay-sheet.pdf\" dated 2025-10-01
",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let supplies = context.study.supplies.iter().filter(|supply| supply.gear.is_none());
    let supplies = supplies.map(|own| (&own.name, own.kind.as_ref(), own.sheet.is_some()));
    let products = context.study.products.iter();
    let products = products.map(|own| (&own.name, own.kind.as_ref(), own.sheet.is_some()));
    for (name, kind, sheet) in supplies.chain(products) {
        let unknown = kind.filter(|kind| kind.class.is_none());
        findings.extend(unknown.map(|kind| finding(context, name, kind, sheet)));
    }
}

/// Names of the shelf under which two kinds are sold that must not be taken for one another.
const EITHER: [(&str, &str); 8] = [
    ("patio cleaner", "`an acid cleaner` or `bleach`"),
    ("wheel cleaner", "`an iron remover`, `an acid cleaner`, `a fluoride cleaner` or `an alkaline cleaner`"),
    ("rust remover", "`an oxalic cleaner`, `an acid cleaner` or `an iron remover`"),
    ("drain cleaner", "`an alkaline cleaner`, `an acid cleaner` or `bleach`"),
    ("toilet cleaner", "`an acid cleaner` or `bleach`"),
    ("bathroom cleaner", "`an acid cleaner` or `bleach`"),
    ("disinfectant", "`bleach`, `a peroxide cleaner` or `isopropanol`"),
    ("stain remover", "`bleach`, `a peroxide cleaner` or `an oxalic cleaner`"),
];

/// Words that differ by a letter or two and are another chemistry.
const ANOTHER: [(&str, &str); 4] = [
    ("silane", "silazane"),
    ("siloxane", "silazane"),
    ("silanes", "silazane"),
    ("polysiloxane", "polysilazane"),
];

fn finding(context: &Context<'_>, name: &Located<String>, kind: &KindOf, sheet: bool) -> Finding {
    let words = &kind.words.value;
    let severity = if sheet { Severity::Advice } else { Severity::Warning };
    let message = format!("`{words}` is no kind that the catalog knows");
    let finding = Finding::new(CHECK.page.code, severity, kind.words.span, message)
        .label("its dangers are not known here: name its kind or its sheet")
        .about(&name.value);
    if let Some((_, kinds)) = EITHER.iter().find(|(known, _)| same_name(known, words)) {
        return finding.help(format!("this is sold as two things; read its label and write which: {kinds}"));
    }
    // A silane is no misspelt silazane.
    let near = nearest(words, context.catalog.class_names());
    match near.filter(|near| !ANOTHER.iter().any(|(one, other)| same_name(one, words) && *other == *near)) {
        Some(known) => finding.help(format!("did you mean `{known}`?")),
        None => finding.help("`tapeline explain kinds` lists those that are known; where none fits, leave it and follow the data sheet"),
    }
}
