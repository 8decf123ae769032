//! Time to spent: an interval or "at least" for every section, never a point.

use super::super::blocks::{Drawing, Part, Picture, Table};
use super::super::charts::{SpentChart, SpentRow};
use super::super::material::Material;
use super::super::names;
use super::super::numbers::{self, Figure, Style};
use super::bias;
use super::ranking::Ranking;
use crate::analysis::{GroupSpent, Half, MeasureAnalysis, Moment, RoundState, SectionSpent, Spent};
use crate::diag::count;
use crate::study::{Limit, Measure, RoundId, SpentRule, Study};

pub(in crate::report) fn parts(material: &Material<'_>, ranking: &Ranking) -> Vec<Part> {
    let measures = material.analysis.measures.iter();
    measures.filter_map(|measure| Some(part(material, ranking, measure, measure.spent.as_ref()?))).collect()
}

fn part(
    material: &Material<'_>,
    ranking: &Ranking,
    measure: &MeasureAnalysis,
    spent: &[SectionSpent],
) -> Part {
    let study = material.study;
    let known = study.measure(measure.measure);
    let style = Style::of(study, known);
    let mut rows: Vec<&SectionSpent> = spent.iter().collect();
    rows.sort_by_key(|row| (ranking.place(row.treatment), row.section));
    let mut part = Part::new(heading(known, spent));
    part.say(format!(
        "A section is spent by {} when its {} is {}. The time runs from its last coat (bare sections: from the \
         application); it lies after the last round passed and up to the first round failed. Sections are listed \
         singly, since two or three of them carry no figure for a product.",
        known.name.value,
        names::middle(known),
        known.spent.map_or_else(String::new, |rule| rule_words(rule, style))
    ));
    if let Some(chart) = chart(material, ranking, measure, &rows) {
        part.picture(Picture {
            address: format!("report.html#picture-spent-{}", measure.measure.index() + 1),
            title: format!("How long each section stayed within the limit of {}", known.name.value),
            note: "A full line: within the limit at every round read. A hatched box: spent at some time in it. An arrow: \
                   still within the limit at the last round read."
                .to_owned(),
            drawing: Drawing::Spent(chart),
        });
    }
    part.table(table(material, &rows, style));
    part.rests_on(measure, measure.rounds.iter().map(|round| round.round));
    if let Some(bias) = bias::of_levels(material, measure.measure) {
        part.say(bias);
    }
    let together = measure.spent_together.iter();
    part.list(together.map(|group| together_words(material, group)).collect());
    part
}

/// A treatment whose sections are enough for one figure.
fn together_words(material: &Material<'_>, group: &GroupSpent) -> String {
    let when = match group.half {
        Half::Between(from, to) => format!("after {}", numbers::days_between(from, to)),
        Half::Before(first) => format!("before {}", names::until(first)),
        Half::AtLeast(last) => {
            format!("after more than {}; fewer than half were spent when last read", numbers::days(last))
        }
    };
    format!(
        "{}: half of {} were spent {when} (interval-censored estimate).",
        names::treatment(material.study, group.treatment),
        count(group.sections, "section")
    )
}

fn heading(measure: &Measure, spent: &[SectionSpent]) -> String {
    let held = spent.iter().filter(|row| matches!(row.when, Ok(Spent::AtLeast(_)))).count();
    let known = spent.iter().filter(|row| row.when.is_ok()).count();
    if known == 0 {
        format!("Time to spent by {}: not known yet", measure.name.value)
    } else {
        let who = match (held, known) {
            (1, 1) => "the one section".to_owned(),
            (0, known) => format!("none of {}", count(known, "section")),
            (held, known) if held == known => format!("all {}", count(known, "section")),
            (1, known) => format!("one of {}", count(known, "section")),
            (held, known) => format!("{held} of {}", count(known, "section")),
        };
        format!("{} within its limit when last read: {who}", names::capital(&measure.name.value))
    }
}

pub(in crate::report) fn rule_words(rule: SpentRule, style: Style<'_>) -> String {
    let side = if rule.below { "below" } else { "above" };
    match rule.limit {
        Limit::Value(mark) if rule.at_limit => format!("{} or worse", crate::units::decimal(mark)),
        Limit::Value(value) => format!("{side} {}", style.value(value).text),
        Limit::PercentOf(percent, reference) => {
            format!(
                "{side} {} % of its own mean at {}",
                crate::units::decimal(percent),
                names::reference(reference)
            )
        }
    }
}

fn on_day(material: &Material<'_>, round: RoundId) -> String {
    let name = names::round(material.study, round);
    let day = names::round_day(material.study, material.readings, round);
    day.map_or_else(|| name.to_owned(), |day| format!("{name}, {day}"))
}

fn table(material: &Material<'_>, rows: &[&SectionSpent], style: Style<'_>) -> Table {
    let limit = format!(">Limit, {}", style.unit);
    let mut table =
        Table::new(&["Product", "Section", &limit, "Spent after the last coat", "Between the rounds"]);
    for row in rows {
        let (time, rounds) = match row.when {
            Ok(when) => (cycles(material.study, when).unwrap_or_else(|| time(when)), between(material, when)),
            Err(why) => (format!("{} ({})", numbers::DASH, names::missing(why)), String::new()),
        };
        let back = row.came_back.map_or_else(String::new, |back| {
            format!(
                "; fell at {} and came back at {}, counted from the last failure",
                on_day(material, back.fell.round),
                on_day(material, back.back.round)
            )
        });
        table.row(vec![
            Figure::from(names::treatment(material.study, row.treatment)),
            Figure::from(names::section(material.study, row.section)),
            row.limit.map_or_else(|_| Figure::none(), |limit| style.cell(limit)),
            Figure::from(time),
            Figure::from(format!("{rounds}{back}")),
        ]);
    }
    table
}

/// `after 6 to 7 cycles`, where time is counted in cycles.
fn cycles(study: &Study, when: Spent) -> Option<String> {
    let number = |moment: Moment| study.cycle_of(moment.round);
    Some(match when {
        Spent::Between(from, to) => {
            let to = number(to)?;
            match number(from) {
                Some(from) => format!("after {from} to {to} cycles"),
                None if to == 1 => "in the first cycle".to_owned(),
                None => format!("after at most {to} cycles"),
            }
        }
        Spent::Before(first) if number(first)? == 1 => "in the first cycle".to_owned(),
        Spent::Before(first) => format!("after at most {} cycles", number(first)?),
        Spent::AtLeast(last) => format!("at least {}", count(number(last)?, "cycle")),
    })
}

fn time(when: Spent) -> String {
    let at = |moment: Moment, words: fn(i64) -> String| {
        moment.days.map_or_else(|| numbers::DASH.to_owned(), words)
    };
    match when {
        Spent::Between(from, to) => match (from.days, to.days) {
            (Some(from), Some(to)) => numbers::days_between(from, to),
            _ => format!("{} to {}", at(from, numbers::days), at(to, names::until)),
        },
        Spent::Before(first) => format!("before {}", at(first, names::until)),
        Spent::AtLeast(last) => format!("at least {}", at(last, numbers::days)),
    }
}

fn between(material: &Material<'_>, when: Spent) -> String {
    let round = |moment: Moment| {
        let day = moment.date.map_or_else(String::new, |date| format!(", {date}"));
        format!("{}{day}", names::round(material.study, moment.round))
    };
    match when {
        Spent::Between(from, to) => format!("{} to {}", round(from), round(to)),
        Spent::Before(first) => format!("failed at {}", round(first)),
        Spent::AtLeast(last) => format!("passed at {}", round(last)),
    }
}

fn chart(
    material: &Material<'_>,
    ranking: &Ranking,
    measure: &MeasureAnalysis,
    rows: &[&SectionSpent],
) -> Option<SpentChart> {
    let study = material.study;
    let read = measure.rounds.iter().filter(|round| round.state == RoundState::Read);
    let rounds: Vec<(f64, String)> = read
        .filter_map(|round| {
            let days = names::round_days(study, material.readings, material.analysis, round.round)?;
            (days >= 0).then(|| (days as f64, names::round(study, round.round).to_owned()))
        })
        .collect();
    let mut drawn: Vec<SpentRow> = Vec::new();
    for row in rows {
        let Ok(when) = row.when else { continue };
        let day = |moment: Moment| moment.days.map(|days| days as f64);
        let (held, spent) = match when {
            Spent::Between(from, to) => (day(from)?, Some(day(to)?)),
            Spent::Before(first) => (0.0, Some(day(first)?)),
            Spent::AtLeast(last) => (day(last)?, None),
        };
        let name = names::treatment(study, row.treatment);
        let first = drawn.last().is_none_or(|above| above.name != name);
        let mark = ranking.mark(row.treatment);
        drawn.push(SpentRow {
            name,
            first,
            code: names::section(study, row.section).to_owned(),
            mark,
            held,
            spent,
        });
    }
    let last = rounds.last().map(|(day, _)| *day)?;
    // A picture with a line for each of hundreds of sections would be longer than the table below it.
    (!drawn.is_empty() && drawn.len() <= 120).then_some(SpentChart { last, rounds, rows: drawn })
}
