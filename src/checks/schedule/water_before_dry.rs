//! Water on a section before the product there may get wet.

use super::water::is_wet;
use super::when::{self, Wait};
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Place, Severity};
use crate::study::{Study, Upkeep};
use jiff::civil::Date;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "water-before-dry",
        severity: Severity::Warning,
        what: "The panel is washed before a round, washed in upkeep, or put out, on a day before a product's \
               `dry` time is over.",
        why: "Water on a coat that has not dried spots it or takes part of it off. The damage is then read as \
              if the product had worn.",
        mend: "Begin upkeep later (`from 2 days after apply`), put the panel out later, or move the round.",
        bad: "exposure \"Test yard\"\n    put out     2026-03-12\nproduct bay \"Bay seal\", a spray sealant\n    \
              bought      20.00 EUR for 500 ml\n    dry         10 days\n    sheet       \"bay-sheet.pdf\"\n",
        good: "exposure \"Test yard\"\n    put out     2026-03-14\nproduct bay \"Bay seal\", a spray sealant\n    \
               bought      20.00 EUR for 500 ml\n    dry         1 day\n    sheet       \"bay-sheet.pdf\"\n",
        source: "common practice, no source; the time is that of the product's own sheet",
    },
    run,
};

/// A day on which the panel gets wet, and what does it.
struct Water {
    day: Date,
    what: String,
    about: Option<String>,
    place: Place,
}

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    let dries = when::dries(study);
    let mut waters: Vec<Water> = Vec::new();
    waters.extend(put_out(study));
    waters.extend(study.upkeep.iter().filter_map(|upkeep| first_upkeep(study, upkeep)));
    waters.extend(first_washed_round(study));
    waters.sort_by_key(|water| water.day);
    findings.extend(told(&waters, &dries));
}

/// The first water that comes too early, with the others as places that belong to it.
fn told(waters: &[Water], dries: &[Wait<'_>]) -> Option<Finding> {
    let mut early = waters.iter().filter(|water| !when::unfinished(dries, water.day).is_empty());
    let first = early.next()?;
    let waits = when::unfinished(dries, first.day);
    let over = waits.iter().map(|wait| wait.over.date()).max()?;
    let message = format!("{} on {}, before {} has dried", first.what, first.day, when::told(&waits));
    let mut finding = Finding::warning(CHECK.page.code, first.place, message)
        .help(format!("keep the panel dry until {over}"));
    finding.about.extend(first.about.clone());
    for water in early {
        finding = finding.related(water.place, format!("{} on {}", water.what, water.day));
        finding.about.extend(water.about.clone());
    }
    if let [only] = waits.as_slice() {
        finding = finding.about(&only.product.name.value);
    }
    Some(finding)
}

fn put_out(study: &Study) -> Option<Water> {
    let day = study.puts_out().min_by_key(|day| day.value)?;
    // A panel that stands outdoors before it is coated is another finding.
    (day.value >= when::coated(study)?.1.date()).then(|| Water {
        day: day.value,
        what: String::from("the panel is put out"),
        about: Some(String::from("exposure")),
        place: day.span.into(),
    })
}

fn first_upkeep(study: &Study, upkeep: &Upkeep) -> Option<Water> {
    let Upkeep::Every { every, step, from, span } = upkeep else { return None };
    let day = when::later(study.first_coat()?, from.unwrap_or(*every))?.date();
    is_wet(step).then(|| Water {
        day,
        what: format!("upkeep begins with a {}", step.verb.word()),
        about: Some(String::from("upkeep")),
        place: (*span).into(),
    })
}

/// The first round after apply, where steps before each round bring water.
fn first_washed_round(study: &Study) -> Option<Water> {
    let step = study.before_each_round.iter().find(|step| is_wet(step))?;
    let rounds = study.rounds.iter().filter(|round| when::before_apply(study, round) == Some(false));
    let (window, round) =
        rounds.filter_map(|round| Some((round.window?, round))).min_by_key(|(window, _)| window.first)?;
    Some(Water {
        day: window.first,
        what: format!("the {} before `{}` may fall", step.verb.word(), round.name.value),
        about: Some(round.name.value.clone()),
        place: step.span.into(),
    })
}
