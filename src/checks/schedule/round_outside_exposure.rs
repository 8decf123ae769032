//! Rounds after the application that are read before the panel goes out, or long after it came in.

use super::when;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity, list, plural};
use crate::study::{Anchor, Exposure, Placing, Round, RoundId, Study, Window};
use jiff::ToSpan;
use jiff::civil::Date;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "round-outside-exposure",
        severity: Severity::Warning,
        what: "A round after the application, other than `fresh`, is over before the panel is put out, or begins more than two weeks \
               after it is brought in. Each site is held against its own days. As advice where neither is the round that decides.",
        why: "What is read then shows storage and no weather. A study that is decided by such a round says nothing on how products \
              last outdoors.",
        mend: "Count the rounds from `put out`, as `month 6  6 months after put out`, or correct the days under `exposure`.",
        bad: "exposure \"Test yard\"\n    put out     2026-07-12\n",
        good: "exposure \"Test yard\"\n    put out     2026-03-12\n",
        source: "common practice, no source",
    },
    run,
};

/// A last reading within this many days after the panel came in belongs to its exposure.
const BROUGHT_IN_DAYS: i64 = 14;

/// On which side of the exposure a round lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Side {
    Before,
    After,
}

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    for exposure in &study.exposures {
        for side in [Side::Before, Side::After] {
            findings.extend(outside(study, exposure, side));
        }
        findings.extend(read_before(context, exposure));
    }
}

fn outside(study: &Study, exposure: &Exposure, side: Side) -> Option<Finding> {
    let day = match side {
        Side::Before => exposure.put_out.as_ref()?,
        Side::After => exposure.brought_in.as_ref()?,
    };
    let lies = |window: Window| match side {
        Side::Before => window.last < day.value,
        Side::After => day.value.checked_add(BROUGHT_IN_DAYS.days()).is_ok_and(|late| window.first > late),
    };
    let rounds: Vec<(RoundId, &Round)> =
        worn(study).filter(|(_, round)| round.window.is_some_and(lies)).collect();
    let decides = study.decide.as_ref().and_then(|decide| decide.round);
    let first = rounds.first()?.1;
    let what = match side {
        Side::Before => format!("before the panel is put out{} on {}", at(study, exposure), day.value),
        Side::After => format!("after it was brought in{} on {}", at(study, exposure), day.value),
    };
    let deciding = rounds.iter().find(|(id, _)| decides == Some(*id)).map(|(_, round)| *round);
    let tell = |round: &Round| Some(format!("`{}` ({})", round.name.value, round.date()?));
    let told: Vec<String> = rounds.iter().filter_map(|(_, round)| tell(round)).collect();
    let help = match side {
        Side::Before => {
            let name = deciding.map_or(&first.name.value, |round| &round.name.value);
            format!(
                "count from there, as `{name}  {} after put out`, or correct one of the days",
                after(name)
            )
        }
        Side::After => {
            "read these rounds while it stands out, take them out, or correct one of the days".to_owned()
        }
    };
    let finding = match deciding {
        Some(round) => {
            let (name, date) = (&round.name.value, round.date()?);
            let message = format!(
                "the study is decided at `{name}`, on {date}, {what}: what decides is no wear outdoors"
            );
            Finding::warning(CHECK.page.code, round.name.span, message)
        }
        None => {
            let (round, lie) = (plural(told.len(), "round"), if told.len() == 1 { "lies" } else { "lie" });
            let message = format!("the {round} {} {lie} {what}", list(&told, "and"));
            Finding::advice(CHECK.page.code, first.name.span, message)
        }
    };
    let label = match side {
        Side::Before => "it goes out",
        Side::After => "it comes in",
    };
    let finding = finding.related(day.span, label).help(help).about("exposure").about("rounds");
    Some(rounds.iter().fold(finding, |finding, (_, round)| finding.about(&round.name.value)))
}

/// Rounds that are meant to show wear: after the application, with a day, and not the first state of the films.
fn worn(study: &Study) -> impl Iterator<Item = (RoundId, &Round)> {
    let is_fresh = |round: &Round| round.name.value == "fresh" || matches!(round.placing, Placing::Cycle(_));
    study
        .rounds_with_ids()
        .filter(move |(_, round)| !is_fresh(round) && when::before_apply(study, round) == Some(false))
}

/// A round that counts from `put out` has one window for all sites, so only its readings tell one that was read too early.
fn read_before(context: &Context<'_>, exposure: &Exposure) -> Option<Finding> {
    let (study, out) = (context.study, exposure.put_out.as_ref()?);
    let site = exposure.of.filter(|_| study.grids.len() > 1)?;
    let counted = |round: &Round| {
        matches!(round.placing, Placing::At(Anchor::PutOut) | Placing::After(_, Anchor::PutOut))
    };
    let early = |id: RoundId| -> Option<Date> {
        let cells = context.readings.cells().iter().filter(|cell| cell.round == id);
        let own = cells.filter(|cell| study.section(cell.section).site == Some(site));
        own.filter_map(|cell| Some(cell.dates?.0)).min().filter(|day| *day < out.value)
    };
    let (round, day) =
        worn(study).filter(|(_, round)| counted(round)).find_map(|(id, round)| Some((round, early(id)?)))?;
    let name = &round.name.value;
    let message = format!(
        "`{name}` was read{} on {day}, before it was put out there on {}",
        at(study, exposure),
        out.value
    );
    let finding =
        Finding::warning(CHECK.page.code, round.name.span, message).related(out.span, "it goes out").help(
            "correct the dates of the readings or the day of `put out`, or give each site rounds of its own",
        );
    Some(finding.about("exposure").about("rounds").about(name))
}

/// ` at shore`, where the study has several sites.
fn at(study: &Study, exposure: &Exposure) -> String {
    let site = exposure.of.filter(|_| study.grids.len() > 1);
    site.map_or_else(String::new, |site| format!(" at `{}`", study.sites[site.index()].value))
}

/// The time that a round is named by, else a month.
fn after(name: &str) -> String {
    let mut words = name.split_whitespace();
    match (words.next(), words.next()) {
        (Some(unit), Some(number)) => {
            format!("{number} {}", if number == "1" { unit.to_owned() } else { format!("{unit}s") })
        }
        _ => "1 month".to_owned(),
    }
}
