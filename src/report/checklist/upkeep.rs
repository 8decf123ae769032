//! Upkeep between the rounds: what is done, on which days, and what becomes of a day that the weather forbids.

use super::super::numbers;
use super::super::safety::Entry;
use super::lines::BOXED;
use super::places::{at_place, two_there};
use super::steps::step_view;
use super::view::Group;
use crate::catalog::Catalog;
use crate::speech::{count, say};
use crate::study::{Study, Upkeep};

/// What holds of all planned days of upkeep. Common practice, no source.
fn upkeep_days(study: &Study) -> Option<String> {
    let days: Vec<Vec<_>> = study.upkeep.iter().map(|upkeep| study.upkeep_days(upkeep)).collect();
    let meet =
        days.iter().enumerate().any(|(at, own)| days[..at].iter().flatten().any(|day| own.contains(day)));
    let weather = say!(
        "Where weather forbids a day, the next one that allows it; what is still undone when the next is due is left out, and written down so."
    );
    let once = if meet {
        say!(" Where two fall on one day, a wash with its rinse stands for the rinse.")
    } else {
        ""
    };
    days.iter().any(|own| !own.is_empty()).then(|| format!("{weather}{once}"))
}

pub(super) fn upkeep(study: &Study, catalog: &Catalog) -> Group {
    let mut group = Group { title: say!("Upkeep").into(), ..Group::default() };
    if study.upkeep.iter().any(|upkeep| matches!(upkeep, Upkeep::Every { .. })) {
        group.lines = at_place(study, catalog);
        group.lines.extend(two_there(study, catalog).map(str::to_owned));
    }
    group.lines.extend(upkeep_days(study));
    for (at, upkeep) in study.upkeep.iter().enumerate() {
        match upkeep {
            Upkeep::None(why) => group.lines.push(say!("None, on purpose: {why}.", why)),
            Upkeep::Every { every, step, from, .. } => {
                let mut view = step_view(study, catalog, (at + 1, step));
                view.title = say!(
                    "Every {every}{from}: {step}",
                    every = numbers::amount(every),
                    from = "",
                    step = view.title
                );
                let from = from.map(|from| numbers::amount(&from));
                let from = from.map(|time| say!("{time} after the last coat", time));
                view.facts.extend(from.map(|from| Entry::new(say!("From"), from)));
                let dates = study.upkeep_days(upkeep);
                if let (Some(first), Some(last)) = (dates.first(), dates.last()) {
                    let times = count(dates.len(), "time");
                    let (first, last) = (numbers::day(*first), numbers::day(*last));
                    let days = if dates.len() > BOXED {
                        say!(
                            "{times}, planned from {first} to {last}; keep a list of the true days with initials",
                            times,
                            first,
                            last
                        )
                    } else {
                        say!(
                            "{times}, planned from {first} to {last}; tick each, and write the true day and initials behind it",
                            times,
                            first,
                            last
                        )
                    };
                    view.facts.push(Entry::new(say!("Days"), days));
                }
                // A box for each day says once what four lines said four times.
                view.writing = usize::from(dates.is_empty() || dates.len() > BOXED) * 4;
                view.boxes = if dates.len() > BOXED {
                    Vec::new()
                } else {
                    dates.into_iter().map(numbers::day).collect()
                };
                view.signed = !view.boxes.is_empty();
                group.steps.push(view);
            }
        }
    }
    group
}
