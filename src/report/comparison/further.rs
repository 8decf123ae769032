//! Further looks: differences to bare at the rounds and by the measures that do not decide.

use super::super::blocks::{Part, Table};
use super::super::material::Material;
use super::super::names;
use super::super::numbers::{Figure, Style};
use super::ranking::Ranking;
use crate::analysis::{Compared, ControlRow, ControlTable, MeasureAnalysis, Role, RoundAnalysis, RoundState};
use crate::speech::say;
use crate::study::{Study, Treatment};

/// One table a measure: product by round, the difference to bare and its word. The round that is shown in full is not
/// among them.
pub(in crate::report) fn part(material: &Material<'_>, ranking: &Ranking) -> Option<Part> {
    let study = material.study;
    let shown = material.analysis.shown().map(|(measure, round)| (measure.measure, round.round));
    let mut part = Part::new(say!("Further looks at other rounds and measures"));
    part.say(words(material));
    let before = part.blocks.len();
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
        let style = Style::of(study, study.measure(measure.measure));
        part.say(say!(
            "{measure}, difference to bare in {unit}:",
            measure = names::capital(names::measure(study, measure.measure)),
            unit = style.unit
        ));
        part.table(further_rows(study, ranking, &rounds, style));
        part.rests_on(measure, rounds.iter().map(|(round, _)| round.round));
    }
    (part.blocks.len() > before).then_some(part)
}

/// Whether a round stands with the levels of its measure, in a part of its own.
fn beside_levels(measure: &MeasureAnalysis, round: &RoundAnalysis) -> bool {
    let last = measure.rounds.iter().rev().find(|round| round.state == RoundState::Read);
    measure.compared == Compared::Level && last.is_some_and(|last| last.round == round.round)
}

fn words(material: &Material<'_>) -> String {
    let shown = material.analysis.shown().filter(|(_, round)| round.role == Role::FurtherLook);
    let looks = material.analysis.further_looks;
    let whose = match shown {
        None => say!("Their p values, {looks} in all,", looks),
        Some((_, round)) => {
            let at = names::round(material.study, round.round);
            say!("Their p values and those of {at} above, {looks} in all,", at, looks)
        }
    };
    say!(
        "Differences to bare at the other rounds and by the other measures. {whose} are adjusted together after Holm; an \
         asterisk marks an adjusted p below 0.05. The word stands for the interval of that one round.",
        whose
    )
}

fn further_rows(
    study: &Study,
    ranking: &Ranking,
    rounds: &[(&RoundAnalysis, &ControlTable)],
    style: Style<'_>,
) -> Table {
    // A number with its word may break into two lines, which a column of numbers never does.
    let heads = rounds.iter().map(|(round, _)| names::round(study, round.round).to_owned());
    let heads: Vec<String> = std::iter::once(say!("Product").to_owned()).chain(heads).collect();
    let mut treatments: Vec<Treatment> =
        rounds.iter().flat_map(|(_, table)| table.rows.iter().map(|row| row.treatment)).collect();
    treatments.sort_by_key(|&treatment| ranking.place(treatment));
    treatments.dedup();
    let mut table = Table::new(&heads);
    for treatment in treatments {
        let mut cells = vec![Figure::from(names::treatment(study, treatment))];
        cells.extend(rounds.iter().map(|(_, at)| {
            at.rows
                .iter()
                .find(|row| row.treatment == treatment)
                .map_or_else(Figure::none, |row| look(row, style))
        }));
        table.row(cells);
    }
    table
}

fn look(row: &ControlRow, style: Style<'_>) -> Figure {
    let star = if row.p_holm.is_some_and(|p| p < 0.05) { " *" } else { "" };
    let word = row.word.map_or(String::new(), |word| format!(" {}", names::word(word)));
    Figure { raw: Some(row.difference), text: format!("{}{word}{star}", style.signed(row.difference)) }
}
