//! Further looks: differences to bare at the rounds and by the measures that do not decide.

use super::super::blocks::{Part, Topic};
use super::super::material::Material;
use super::super::told::{self, Control};
use super::super::{names, stopped};
use super::looks;
use super::ranking::Ranking;
use crate::analysis::{
    Compared, ControlTable, MeasureAnalysis, Role, RoundAnalysis, RoundState, Strength, Word,
};
use crate::speech::{plural, say};
use crate::study::Study;

/// One table a measure: round by product, the difference to bare with its interval and its word. The round that is shown in full is not
/// among them.
pub(in crate::report) fn part(material: &Material<'_>, ranking: &Ranking) -> Option<Part> {
    let study = material.study;
    let shown = material.analysis.shown().map(|(measure, round)| (measure.measure, round.round));
    let mut part = Part::new(say!("Further looks at other rounds and measures")).about(Topic::Looks);
    part.say(words(material));
    let (before, mut tables) = (part.blocks.len(), Vec::new());
    for measure in &material.analysis.measures {
        let rounds: Vec<(&RoundAnalysis, &ControlTable)> = measure
            .rounds
            .iter()
            .filter(|round| round.role == Role::FurtherLook && Some((measure.measure, round.round)) != shown)
            .filter(|round| !beside_levels(measure, round))
            .filter_map(|round| Some((round, round.to_bare.as_ref().ok()?)))
            .collect();
        if rounds.is_empty() {
            continue;
        }
        part.say(said(study, measure, &rounds));
        part.table(looks::table(material, ranking, measure.measure, &rounds));
        part.list(unjudged(study, measure, &rounds));
        tables.extend(rounds.iter().map(|(_, table)| *table));
        part.rests_on(measure, rounds.iter().map(|(round, _)| round.round));
    }
    // What signs of a stop mean is said once, below all tables.
    if tables.iter().any(|table| !table.basis.stopped.is_empty()) {
        part.say(stopped::method());
    }
    part.list(told::of_stopped(study, Control::Bare, tables.into_iter()));
    (part.blocks.len() > before).then_some(part)
}

/// Why rounds have no word and no p, where none of their rows has.
fn unjudged(
    study: &Study,
    measure: &MeasureAnalysis,
    rounds: &[(&RoundAnalysis, &ControlTable)],
) -> Vec<String> {
    let why = |(round, table): &(&RoundAnalysis, &ControlTable)| {
        let reason = table.basis.strength;
        (reason != Strength::Full && table.rows.iter().all(|row| row.word.is_err())).then(|| {
            say!(
                "{round} without a word and a p: {strength}.",
                round = names::capital(&names::round(study, round.round)),
                strength = names::strength(reason, names::unit(study, measure.measure))
            )
        })
    };
    rounds.iter().filter_map(why).collect()
}

/// Whether a round stands with the levels of its measure, in a part of its own.
fn beside_levels(measure: &MeasureAnalysis, round: &RoundAnalysis) -> bool {
    let last = measure.rounds.iter().rev().find(|round| round.state == RoundState::Read);
    measure.compared == Compared::Level && last.is_some_and(|last| last.round == round.round)
}

/// Whether a row is alike and yet told from zero, which looks like a contradiction.
fn is_alike_and_there(material: &Material<'_>) -> bool {
    let rounds = material.analysis.measures.iter().flat_map(|measure| &measure.rounds);
    let looks = rounds.filter(|round| round.role == Role::FurtherLook);
    let mut rows = looks.filter_map(|round| round.to_bare.as_ref().ok()).flat_map(|table| &table.rows);
    rows.any(|row| row.word == Ok(Word::Alike) && row.p_holm.is_some_and(|p| p < 0.05))
}

fn words(material: &Material<'_>) -> String {
    let shown = material.analysis.shown().filter(|(_, round)| round.role == Role::FurtherLook);
    let looks = material.analysis.further_looks;
    let above = shown.map_or_else(String::new, |(_, round)| {
        say!(", those of {round} above among them,", round = names::round(material.study, round.round))
    });
    if looks == 0 {
        return say!(
            "Differences to bare at the other rounds and by the other measures, each with its simultaneous 95 % interval over \
             all treatments of that one round; the word stands for that interval. None of them has a p value."
        )
        .to_owned();
    }
    say!(
        "Differences to bare at the other rounds and by the other measures, each with its simultaneous 95 % interval over \
         all treatments of that one round; the word stands for that interval. The p values of all {looks} further looks of this \
         report{above} are adjusted together after Holm; \
         an asterisk marks an adjusted p below 0.05. Where a row has none, its word holds for that one round, and not among all these looks.{small}",
        looks,
        above,
        small = if is_alike_and_there(material) {
            say!(" Alike with a small p is no slip: the difference is there, and is too small to matter.")
        } else {
            ""
        }
    )
}

/// Of what, against what, and by which intervals.
fn said(study: &Study, measure: &MeasureAnalysis, rounds: &[(&RoundAnalysis, &ControlTable)]) -> String {
    let numbers = rounds.iter().map(|(_, table)| table.control.n);
    let (few, many) = (numbers.clone().min().unwrap_or(0), numbers.max().unwrap_or(0));
    let bare = if few == many {
        names::bare_units(many, names::unit(study, measure.measure))
    } else {
        say!(
            "{few} to {many} bare {units}, as read",
            few,
            many,
            units = plural(2, names::unit(study, measure.measure))
        )
    };
    let own = rounds.iter().filter(|(_, table)| table.basis.own_spreads).count();
    let linked = rounds.iter().filter(|(_, table)| table.basis.linked()).count();
    let together = names::together(rounds.iter().any(|(_, table)| table.of_ratios));
    let by = match own {
        0 if linked == rounds.len() => "Tukey-Kramer",
        0 if linked > 0 => say!("Dunnett, or Tukey-Kramer where a section is missing"),
        0 => together,
        n if n == rounds.len() => "Games-Howell",
        _ => &say!("{together}, or Games-Howell where every group has sections enough", together),
    };
    let name = names::capital(names::measure(study, measure.measure));
    match measure.compared {
        Compared::Change => say!("{name}, difference of the change to {bare} ({by}):", name, bare, by),
        Compared::Level => say!("{name}, difference of the level to {bare} ({by}):", name, bare, by),
    }
}
