//! Several coats, and no word on when the next one goes on.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity, count};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "coats-without-window",
        severity: Severity::Advice,
        what: "A product gets two coats or more, and `coats` does not say after which time the next one goes on.",
        why: "Without the window the day of application cannot be planned, the last coat has no time from which \
              cure counts, and a critic cannot repeat the work.",
        mend: "Take the window from the product's sheet: `coats 2  after 1 to 3 h`.",
        bad: "product bay \"Bay seal\", a spray sealant\n    bought      20.00 EUR for 500 ml\n    coats       2\n    \
              sheet       \"bay-sheet.pdf\"\n",
        good: "product bay \"Bay seal\", a spray sealant\n    bought      20.00 EUR for 500 ml\n    \
               coats       2   after 1 to 3 h\n    sheet       \"bay-sheet.pdf\"\n",
        source: "common practice, no source; the window is that of the product's own sheet",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    for product in context.study.products.iter().filter(|one| !one.broken && !one.is_unread("coats")) {
        let Some(coat) = product.each_coat().skip(1).find(|coat| coat.after.is_none()) else { continue };
        let (name, number) = (&product.name.value, product.coats_number());
        let (message, help) = if product.coats_differ() {
            let message =
                format!("nothing says how long coat {} of `{name}` waits for the one before", coat.number);
            (message, format!("add the time from its sheet, as `coat {}  after 1 to 3 h`", coat.number))
        } else {
            let message =
                format!("`{name}` gets {} without a time between them", count(number as usize, "coat"));
            (message, format!("add the time from its sheet, as `coats {number}  after 1 to 3 h`"))
        };
        let finding = Finding::advice(CHECK.page.code, coat.span, message);
        findings.push(finding.help(help).about(name));
    }
}
