//! Water on a section before the product there may get wet.

use super::water::is_wet;
use super::when::{self, Wait, minute};
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Place, Severity};
use crate::study::{Study, Upkeep};
use jiff::civil::{Date, DateTime};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "water-before-dry",
        severity: Severity::Warning,
        what: "The panel is washed before a round, washed in upkeep, or put out, on a day before a product's \
               `dry` time is over, or at an hour before it where `from 2 h after apply` and the hour of the coat \
               say so. As advice: water on the day of the coat itself, with no hour.",
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
    /// The hour, where the plan says it: some hours after a coat whose hour is known.
    at: Option<DateTime>,
    what: String,
    about: Option<String>,
    place: Place,
}

impl Water {
    /// What it meets that has not dried. Without an hour the whole day may pass before.
    fn meets<'w>(&self, dries: &[Wait<'w>]) -> Vec<Wait<'w>> {
        match self.at {
            Some(at) => dries.iter().copied().filter(|wait| at < wait.over).collect(),
            None => when::unfinished(dries, self.day),
        }
    }

    /// What dries on the day on which it was coated and this falls, so that the hour decides.
    fn may_meet<'w>(&self, dries: &[Wait<'w>]) -> Vec<Wait<'w>> {
        let is_day_of = |wait: &Wait<'_>| {
            let days = [wait.coated.date(), wait.over.date()];
            days == [self.day; 2] && wait.coated < wait.over && when::has_hour(wait.coated)
        };
        dries.iter().copied().filter(|wait| self.at.is_none() && is_day_of(wait)).collect()
    }
}

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    let dries = when::dries(study);
    let mut waters: Vec<Water> = Vec::new();
    waters.extend(put_out(study));
    waters.extend(study.upkeep.iter().filter_map(|upkeep| first_upkeep(study, upkeep)));
    waters.extend(first_washed_round(study));
    waters.sort_by_key(|water| water.day);
    findings.extend(told(&waters, &dries).or_else(|| on_the_day(&waters, &dries)));
}

/// The first water that comes too early, with the others as places that belong to it.
fn told(waters: &[Water], dries: &[Wait<'_>]) -> Option<Finding> {
    let mut early = waters.iter().filter(|water| !water.meets(dries).is_empty());
    let first = early.next()?;
    let waits = first.meets(dries);
    let over = waits.iter().map(|wait| wait.over).max()?;
    let (at, whom, until) = match first.at {
        Some(at) => (minute(at), when::told_by_hour(&waits), minute(over)),
        None => (first.day.to_string(), when::told(&waits), over.date().to_string()),
    };
    let message = format!("{} on {at}, before {whom} has dried", first.what);
    let mut finding = Finding::warning(CHECK.page.code, first.place, message)
        .help(format!("keep the panel dry until {until}"));
    finding.about.extend(first.about.clone());
    for water in early {
        finding = finding.related(water.place, format!("{} on {}", water.what, water.day));
        finding.about.extend(water.about.clone());
    }
    Some(alone(finding, &waits))
}

/// Water on the day of the coat, of which nobody knows whether it comes before or after the coat has dried.
fn on_the_day(waters: &[Water], dries: &[Wait<'_>]) -> Option<Finding> {
    let first = waters.iter().find(|water| !water.may_meet(dries).is_empty())?;
    let waits = first.may_meet(dries);
    let over = waits.iter().map(|wait| wait.over).max()?;
    let message = format!("{} on {}, the day of {}", first.what, first.day, when::told_by_hour(&waits));
    let mut finding = Finding::advice(CHECK.page.code, first.place, message)
        .help(format!("keep the panel dry until {}", minute(over)));
    finding.about.extend(first.about.clone());
    Some(alone(finding, &waits))
}

/// A finding about one product only is about that product.
fn alone(finding: Finding, waits: &[Wait<'_>]) -> Finding {
    match waits {
        [only] => finding.about(&only.product.name.value),
        _ => finding,
    }
}

fn put_out(study: &Study) -> Option<Water> {
    let day = study.puts_out().min_by_key(|day| day.value)?;
    // A panel that stands outdoors before it is coated is another finding.
    (day.value >= when::coated(study)?.1.date()).then(|| Water {
        day: day.value,
        at: None,
        what: String::from("the panel is put out"),
        about: Some(String::from("exposure")),
        place: day.span.into(),
    })
}

fn first_upkeep(study: &Study, upkeep: &Upkeep) -> Option<Water> {
    let Upkeep::Every { every, step, from, span } = upkeep else { return None };
    let (coated, wait) = (study.last_of_all_coats()?, from.unwrap_or(*every));
    let at = study.upkeep_begins(upkeep)?;
    // Whoever counts in days says which day, and not which hour of it.
    let by_hour = ["h", "min", "s"].contains(&wait.any().unit.symbol) && when::has_hour(coated);
    is_wet(step).then(|| Water {
        day: at.date(),
        at: by_hour.then_some(at),
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
        at: None,
        what: format!("the {} before `{}` may fall", step.verb.word(), round.name.value),
        about: Some(round.name.value.clone()),
        place: step.span.into(),
    })
}
