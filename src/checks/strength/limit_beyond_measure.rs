//! A limit that every value of the measure meets, or none.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::{Direction, Limit, Measure};
use crate::text::Located;
use crate::units::decimal;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "limit-beyond-measure",
        severity: Severity::Warning,
        what: "A limit lies where no value of the measure can be, or where every section is from the start: `spent below` at \
               more than 100 % of the reference, or beyond the values that the measure can have; `alike` or `seen` as wide \
               as all of them.",
        why: "Every section would be spent on its first day, or none ever; and all products would be alike whatever was read.",
        mend: "Write the limit that you meant, as `spent below 80 % of fresh`.",
        bad: "measure gloss-20 in GU\n    higher is better\n    alike       within 2 GU\n    seen        from 5 GU\n    \
              spent       below 120 % of fresh\n",
        good: "measure gloss-20 in GU\n    higher is better\n    alike       within 2 GU\n    seen        from 5 GU\n    \
               spent       below 80 % of fresh\n",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    for measure in context.study.measures.iter().filter(|measure| !measure.broken) {
        findings.extend(spent(measure));
        findings.extend(wide(measure, "alike", measure.alike));
        findings.extend(wide(measure, "seen", measure.seen));
    }
}

/// A limit for spent that is met from the start, or never.
fn spent(measure: &Measure) -> Option<Finding> {
    let rule = measure.spent?;
    // A limit on the wrong side has a finding of its own.
    match (measure.direction, rule.below) {
        (Direction::Higher, false) | (Direction::Lower, true) => return None,
        _ => {}
    }
    let (from_the_start, never) = match rule.limit {
        // Whatever was not lost yet is spent where the reference itself counts.
        Limit::PercentOf(100.0, _) if rule.at_limit => (true, false),
        Limit::PercentOf(share, _) if rule.below => (share > 100.0, share <= 0.0),
        Limit::PercentOf(share, _) => (share < 100.0, false),
        Limit::Value(limit) => {
            let (low, high) = measure.possible?;
            let meets_low = rule.at_limit && limit >= low;
            let meets_high = rule.at_limit && limit <= high;
            if rule.below {
                (limit > high || (rule.at_limit && limit >= high), limit <= low && !meets_low)
            } else {
                (limit < low || (rule.at_limit && limit <= low), limit >= high && !meets_high)
            }
        }
    };
    let name = &measure.name.value;
    let message = match (from_the_start, never) {
        (true, _) => format!("every section is spent by `{name}` from the start"),
        (_, true) => format!("no section is ever spent by `{name}`"),
        _ => return None,
    };
    let unit = &measure.unit.symbol;
    let help = match (rule.limit, measure.possible) {
        (Limit::Value(_), Some((low, high))) => {
            let (low, high) = (decimal(low), decimal(high));
            let words = match (rule.below, rule.at_limit) {
                (true, true) | (false, false) => format!("of {low} or more, below {high} {unit}"),
                (true, false) | (false, true) => format!("above {low}, and at most {high} {unit}"),
            };
            format!("write a limit {}", words.trim_end())
        }
        _ if rule.below => "write the share that is still held, below 100 %".to_owned(),
        _ => "write the share that is too much, above 100 %".to_owned(),
    };
    Some(Finding::warning(CHECK.page.code, rule.span, message).help(help).about(name))
}

/// A difference as wide as all values that the measure can have.
fn wide(measure: &Measure, word: &str, limit: Option<Located<f64>>) -> Option<Finding> {
    let ((low, high), limit) = measure.possible.zip(limit)?;
    if limit.value < high - low {
        return None;
    }
    let (name, unit) = (&measure.name.value, &measure.unit.symbol);
    let all = format!("{} to {} {unit}", decimal(low), decimal(high));
    let message = format!("`{word}` spans all values that `{name}` can have, {}", all.trim_end());
    // An example only: a power of ten, small beside all values.
    let some = 10f64.powf(((high - low) / 20.0).log10().floor());
    let example = match word {
        "alike" => format!("alike within {} {unit}", decimal(some)),
        _ => format!("seen from {} {unit}", decimal(3.0 * some)),
    };
    let help = format!("write the difference that you mean, as `{}`", example.trim_end());
    Some(Finding::warning(CHECK.page.code, limit.span, message).help(help).about(name))
}
