//! Chemicals that meet on the panel or on a tool with no full rinse between them.

use super::contact::{Contact, contacts};
use crate::catalog::{Danger, Pair};
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity, list};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "chemicals-in-contact",
        severity: Severity::Error,
        what: "Two chemicals that must not meet are used on the same surface, or with the same tool, with no full rinse between them, however many steps lie between.",
        why: "Some pairs make toxic gas, fire or burns. Those stay errors in spite of a waiver and stay on the papers.",
        mend: "Put a `rinse` between the two steps, use a tool for each, or leave one of the chemicals out.",
        bad: "supply lime-off, an acid cleaner
    mix         neat
    sheet       \"lime-off-sheet.pdf\" dated 2025-10-01
prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min
    dry
    decontaminate with lime-off  for 1 min,  rinse
    clay        with slick,  rinse
    dry
    polish      with smooth-out  tool \"foam pad\"
    wipe        with spirit 35 % by volume  twice, fresh cloth,  wait 5 min
    tape        lines 6 mm wide
    label
",
        good: "supply lime-off, an acid cleaner
    mix         neat
    sheet       \"lime-off-sheet.pdf\" dated 2025-10-01
prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    dry
    decontaminate with lime-off  for 1 min,  rinse
    clay        with slick,  rinse
    dry
    polish      with smooth-out  tool \"foam pad\"
    wipe        with spirit 35 % by volume  twice, fresh cloth,  wait 5 min
    tape        lines 6 mm wide
    label
",
        source: "CLP Regulation (EC) 1272/2008, Annex II, EUH031 and EUH206",
    },
    run,
};

/// How many products a finding names.
const NAMED: usize = 6;

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let contacts = contacts(context);
    findings.extend(contacts.iter().filter(|contact| !contact.later.is_coat).map(finding));
    // One step that is not rinsed meets every product that goes on after it.
    let coats: Vec<&Contact<'_>> = contacts.iter().filter(|contact| contact.later.is_coat).collect();
    findings
        .extend(coats.chunk_by(|one, next| one.earlier.span == next.earlier.span).filter_map(below_coats));
}

fn finding(contact: &Contact<'_>) -> Finding {
    let Contact { earlier, later, pair, .. } = contact;
    let (how, help) = if contact.is_on_tool() {
        ("on the same tool", "use a tool of its own for each, and a full `rinse` of the panel between them")
    } else {
        ("with no full rinse between", "put a `rinse` between the two, or leave one of them out")
    };
    let message = format!("`{}` meets `{}` {how}", later.name, earlier.name);
    let finding = match pair.severity {
        Danger::Forbid => Finding::error(CHECK.page.code, later.span, message).binding(),
        Danger::Spoil => Finding::warning(CHECK.page.code, later.span, message),
    };
    finding
        .label(result(pair))
        .related(earlier.span, format!("`{}` is used here", earlier.name))
        .help(help)
        .about(later.name)
        .about(earlier.name)
}

/// The finding of a step whose chemical still lies there when the products go on.
fn below_coats(contacts: &[&Contact<'_>]) -> Option<Finding> {
    let earlier = contacts.first()?.earlier;
    let mut names: Vec<String> =
        contacts.iter().take(NAMED).map(|contact| format!("`{}`", contact.later.name)).collect();
    if contacts.len() > NAMED {
        names.push(format!("{} more", contacts.len() - NAMED));
    }
    let meet = if contacts.len() == 1 { "meets" } else { "meet" };
    let message = format!("{} {meet} `{}` with no full rinse between", list(&names, "and"), earlier.name);
    let mut results: Vec<&str> = Vec::new();
    for contact in contacts {
        if !results.contains(&result(contact.pair)) {
            results.push(result(contact.pair));
        }
    }
    let hurts = contacts.iter().any(|contact| contact.pair.severity == Danger::Forbid);
    let finding = if hurts {
        Finding::error(CHECK.page.code, earlier.span, message).binding()
    } else {
        Finding::warning(CHECK.page.code, earlier.span, message)
    };
    let help = "put a full `rinse` behind this step, or leave one of them out";
    let finding = finding.label(results.join("; ")).help(help);
    let finding = contacts
        .iter()
        .take(NAMED)
        .fold(finding, |finding, contact| finding.related(contact.later.span, "this product goes on it"));
    let finding = contacts.iter().fold(finding, |finding, contact| finding.about(contact.later.name));
    Some(finding.about(earlier.name))
}

fn result(pair: &Pair) -> &'static str {
    pair.result.trim_end_matches('.')
}
