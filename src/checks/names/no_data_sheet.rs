//! Supplies and products without a data sheet.

use crate::catalog::{Class, SheetSeverity, same_name};
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::{Sheet, StatedLabel};
use crate::text::Located;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "no-data-sheet",
        severity: Severity::Advice,
        what: "A supply or product names no data sheet. It is an error for corrosive, toxic, fluoride, isocyanate, hypochlorite and peroxide classes, and stays one in spite of `allow`.",
        why: "The built-in cards give the usual case of a class. Only the data sheet of the product knows its strength, its dwell and its first aid.",
        mend: "Name the sheet and its date: `sheet \"iron-off-sheet.pdf\" dated 2025-10-01`.",
        bad: "supply iron-off, an iron remover
    mix         neat
    dwell       2 to 6 min
",
        good: "supply iron-off, an iron remover
    mix         neat
    dwell       2 to 6 min
    sheet       \"iron-off-sheet.pdf\" dated 2025-10-01
",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    let supplies = study.supplies.iter().filter(|supply| !supply.broken && supply.gear.is_none());
    let supplies = supplies.map(|supply| Thing {
        name: &supply.name,
        class: supply.kind.as_ref().and_then(|kind| kind.class),
        sheet: supply.sheet.as_ref(),
        stated: supply.stated.as_ref(),
    });
    let products = study.products.iter().filter(|product| !product.broken);
    let products = products.map(|product| Thing {
        name: &product.name,
        class: product.kind.as_ref().and_then(|kind| kind.class),
        sheet: product.sheet.as_ref(),
        stated: product.stated.as_ref(),
    });
    findings.extend(supplies.chain(products).filter_map(|thing| finding(&thing)));
}

struct Thing<'a> {
    name: &'a Located<String>,
    class: Option<&'a Class>,
    sheet: Option<&'a Sheet>,
    stated: Option<&'a StatedLabel>,
}

/// Statements of what burns or poisons; they make a missing sheet an error, whatever the class.
const GRAVE: [&str; 8] = ["H300", "H301", "H310", "H311", "H314", "H318", "H330", "H331"];

impl Thing<'_> {
    /// Why a missing sheet is an error.
    fn grave(&self) -> Option<String> {
        let of_class = self.class.filter(|class| class.sheet_severity == SheetSeverity::Error);
        let code = self.stated.and_then(|own| own.hazards.iter().find(|code| GRAVE.contains(&code.as_str())));
        of_class.map(|class| class.name.to_owned()).or_else(|| Some(format!("what carries {}", code?)))
    }
}

/// A supply that is called by its class may have no block of its own to write under.
fn help(thing: &Thing<'_>) -> String {
    let name = thing.name.value.as_str();
    let by_class = thing.class.is_some_and(|class| class.names().any(|known| same_name(known, name)));
    let under = if by_class { format!("a block `supply {name}`") } else { "it".to_owned() };
    format!("write `sheet`, the name of the file and `dated` with its date under {under}")
}

fn finding(thing: &Thing<'_>) -> Option<Finding> {
    if thing.sheet.is_some() || thing.class.is_some_and(|class| class.id == "water") {
        return None;
    }
    let name = thing.name;
    let must = thing.grave();
    let severity = if must.is_some() { Severity::Error } else { Severity::Advice };
    let finding =
        Finding::new(CHECK.page.code, severity, name.span, format!("`{}` names no data sheet", name.value))
            .help(help(thing))
            .about(&name.value);
    Some(match must {
        Some(what) => finding.label(format!("{what} can hurt; do not start without it")).binding(),
        None => finding,
    })
}
