//! The gauge: its drift by tile readings, and how it reads in several hands.

use super::super::blocks::{Part, Table};
use super::super::material::Material;
use super::super::names;
use super::super::numbers::{self, Figure, Style};
use crate::analysis::{Drift, GaugeStudy, NoGaugeStudy, People, TileAt};
use crate::speech::{count, list, say};
use crate::study::{Direction, RoundId};

pub(super) fn parts(material: &Material<'_>) -> Vec<Part> {
    let panel = &material.analysis.panel;
    let drifts = panel.drifts.iter().map(|drift| of_tile(material, drift));
    drifts.chain(panel.people.iter().map(|people| of_people(material, people))).collect()
}

fn of_tile(material: &Material<'_>, drift: &Drift) -> Part {
    let study = material.study;
    let name = names::measure(study, drift.measure);
    let style = Style::of(material, drift.measure);
    let mut part = Part::below(say!("Drift of the gauge of {name}", name));
    let declared = drift.declared.map_or_else(
        || say!("The study does not say what the tile is").to_owned(),
        |declared| say!("The tile is declared as {declared}", declared = style.value(declared).text),
    );
    part.say(say!("{declared}. A drift of the gauge enters levels, changes and shares held of a round; in a difference between products, or to bare, of the \
         same round it cancels.", declared));
    let mut table = Table::new(&[
        say!("Round"),
        say!(">Readings"),
        &say!(">Mean, {unit}", unit = style.unit),
        say!(">Off the tile"),
        say!(">Since the first"),
        ">±",
    ]);
    for at in &drift.at {
        let signed = |value: f64| Figure { raw: Some(value), text: style.signed(value) };
        let standard = at.since.and_then(|since| since.standard);
        table.row(vec![
            Figure::from(names::round(study, at.round)),
            Figure::from(at.n.to_string()),
            style.cell(at.mean),
            at.off.map_or_else(Figure::none, signed),
            at.since.map_or_else(Figure::none, |since| signed(since.value)),
            standard
                .map_or_else(Figure::none, |sd| Figure { raw: Some(2.0 * sd), text: style.bare(2.0 * sd) }),
        ]);
    }
    part.table(table);
    part.say(drift_words(material, drift, style));
    if let Some(side) = drift_side(material, drift) {
        part.say(side);
    }
    part
}

/// The round whose changes a drift moves, with how much the tile rose since the reference of the measure: that of the question, else the
/// last one. `None` where that is no more than the gauge scatters, or the tile was not read at both rounds.
fn moved(material: &Material<'_>, drift: &Drift) -> Option<(RoundId, RoundId, f64)> {
    let analysed = material.analysis.measure(drift.measure)?;
    let reference = analysed.reference?;
    let place = |round: RoundId| analysed.rounds.iter().position(|at| at.round == round);
    let at = |round: RoundId| drift.at.iter().find(|at| at.round == round);
    let first = at(reference)?;
    let mut later = drift.at.iter().filter(|at| place(at.round) > place(reference));
    let shown = material.analysis.shown().filter(|(measure, _)| measure.measure == drift.measure);
    let now = shown.and_then(|(_, round)| at(round.round)).filter(|at| place(at.round) > place(reference));
    let now = now.or_else(|| later.next_back())?;
    let rise = now.mean - first.mean;
    let standard = [now, first].iter().filter_map(|at| at.since?.standard).reduce(f64::max)?;
    (rise.abs() > 2.0 * standard).then_some((reference, now.round, rise))
}

/// Which way a drift moves changes.
pub(in crate::report) fn drift_side(material: &Material<'_>, drift: &Drift) -> Option<String> {
    let (study, (reference, round, rise)) = (material.study, moved(material, drift)?);
    let measure = study.measure(drift.measure);
    let style = Style::of(material, drift.measure);
    let (from, at) = (names::round(study, reference), names::round(study, round));
    let (name, size) = (&measure.name.value, style.value(rise.abs()).text);
    let head = if rise > 0.0 {
        say!(
            "From {from} to {at} the gauge of {name} rose by {size} on its tile: levels at {at} are read that much too high",
            from,
            at,
            name,
            size
        )
    } else {
        say!(
            "From {from} to {at} the gauge of {name} fell by {size} on its tile: levels at {at} are read that much too low",
            from,
            at,
            name,
            size
        )
    };
    let way = match (measure.direction, rise > 0.0) {
        (Direction::Higher, true) => {
            say!("a loss looks smaller than it was, and a share held larger")
        }
        (Direction::Higher, false) => {
            say!("a loss looks larger than it was, and a share held smaller")
        }
        (Direction::Lower, true) => say!("a rise looks larger than it was"),
        (Direction::Lower, false) => say!("a rise looks smaller than it was"),
        (Direction::Neither, true) => say!("changes lie too high"),
        (Direction::Neither, false) => say!("changes lie too low"),
    };
    Some(say!("{head}, so that {way}. Nothing is corrected by it.", head, way))
}

/// The largest drift against what readings of one tile give by themselves.
fn drift_words(material: &Material<'_>, drift: &Drift, style: Style<'_>) -> String {
    let since = |at: &TileAt| Some((at.round, at.since?));
    let largest = drift
        .at
        .iter()
        .filter_map(since)
        .max_by(|(_, one), (_, other)| one.value.abs().total_cmp(&other.value.abs()));
    let Some((round, since)) = largest else {
        return say!("A drift cannot be said, since the tile was read at one round only.").to_owned();
    };
    let at = names::round(material.study, round);
    let size = style.value(since.value.abs()).text;
    match since.standard {
        Some(sd) if since.value.abs() > 2.0 * sd => say!(
            "The gauge drifted most at {at}, by {size}, which is more than its own scatter gives (± is two standard \
             uncertainties).",
            at,
            size
        ),
        Some(_) => say!(
            "No drift is told apart from the gauge's own scatter (± is two standard uncertainties); the largest is {size}, at \
             {at}.",
            size,
            at
        ),
        None => say!(
            "The largest drift is {size}, at {at}; the gauge's scatter is not known, so it cannot be judged.",
            size,
            at
        ),
    }
}

fn of_people(material: &Material<'_>, people: &People) -> Part {
    let study = material.study;
    let name = names::measure(study, people.measure);
    let style = Style::of(material, people.measure);
    let mut part = Part::below(say!("{name} in several hands", name));
    let who = list(&people.names, "and");
    let at = names::round(study, people.round);
    match people.found {
        Err(NoGaugeStudy::FewSections(sections)) => part.say(say!("{who} read the same sections at {at}. How much hands differ cannot be said from {sections} that all of them read as \
             often; two are needed.", who, at, sections = count(sections, "section"))),
        Err(NoGaugeStudy::NoScatter) => {
            part.say(say!("{who} read the same sections at {at}, and all readings are equal.", who, at));
        }
        Ok(found) => {
            part.say(say!("{who} read the same {sections} at {at}, {readings} each.", who, at, sections = count(found.sections, "section"), readings = count(found.each, "reading")));
            part.table(table(&found, people.names.len(), style));
            part.say(words(&found));
        }
    }
    part
}

fn table(found: &GaugeStudy, people: usize, style: Style<'_>) -> Table {
    let head = say!(">One standard deviation, {unit}", unit = style.unit);
    let mut table = Table::new(&[say!("Scatter of a reading"), &head]);
    // So few people say little of what any other would add, however many readings they took.
    let between = say!(
        "Between operators ({people} people, {degrees})",
        people,
        degrees = numbers::degrees(people.saturating_sub(1) as f64)
    );
    let rows = [
        (say!("The same person again (repeatability)"), found.repeatability),
        (&*between, found.between_people),
        (say!("Any person (reproducibility, both together)"), found.gauge),
        (say!("Between the sections"), found.sections_spread),
    ];
    for (what, sd) in rows {
        let text = numbers::fixed(sd, style.decimals + 1);
        table.row(vec![Figure::from(what), Figure { raw: Some(sd), text }]);
    }
    table
}

fn words(found: &GaugeStudy) -> String {
    let people = match found.p_people {
        Some(p) if p < 0.05 => say!("People differ (p {p}).", p = numbers::probability(p)),
        Some(p) => say!("People are not told apart (p {p}).", p = numbers::probability(p)),
        None => say!("Whether people differ cannot be judged, since they differ alike on all sections.")
            .to_owned(),
    };
    let between = match found.p_interaction {
        Some(p) if p < 0.05 => {
            say!(" How they differ changes from section to section (p {p}).", p = numbers::probability(p))
        }
        Some(_) => String::new(),
        None => say!(" With one reading each, a person's scatter on a section and a difference that changes from section to \
                  section cannot be told apart; both are called repeatability here.")
            .to_owned(),
    };
    format!("{people}{between}")
}
