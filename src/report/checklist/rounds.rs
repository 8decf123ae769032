//! The calendar of rounds: when each is read and what, and how a dolly is pulled.

use super::super::numbers::day;
use super::facts::title;
use super::view::Group;
use crate::speech::{list, round_name, say};
use crate::study::{Anchor, Cost, MeasureId, Placing, Round, SiteId, Step, Study, Verb, Window};
use crate::units::Dimension;

/// A line for each round, the cycles as one.
pub(super) fn rounds(study: &Study) -> Group {
    let read = study.rounds.iter().filter(|round| !round.reads.is_empty());
    let mut lines: Vec<String> = read.filter_map(|round| line(study, round)).collect();
    if !lines.is_empty() {
        lines.push(
            say!("Each has a reading sheet of its own, which “tapeline print” makes beside this checklist.")
                .to_owned(),
        );
    }
    lines.extend(study.measures_with_ids().filter(|(id, _)| is_pulled(study, *id)).map(|(_, measure)| {
        say!(
            "{measure}, a pull-off (ISO 4624): the dolly is cleaned and roughened, glued on, and the glue cures as its data sheet \
             says; then the coat is cut round it down to the ground and it is pulled. Write down where it broke. Gloves for the glue and \
             the edge, glasses: a dolly flies. The place is destroyed, so this reading comes last there.",
            measure = measure.name.value
        )
    }));
    Group { title: say!("Rounds of readings").into(), lines, ..Group::default() }
}

/// Whether a measure pulls at a dolly: its gauge destroys the place, and its unit is that of a stress (ISO 4624).
pub(in crate::report) fn is_pulled(study: &Study, id: MeasureId) -> bool {
    let stress = study.measure(id).unit.known.is_some_and(|unit| unit.dimension == Dimension::Pressure);
    stress && study.gauges_of(id).any(|gauge| gauge.cost == Some(Cost::Destroys))
}

fn line(study: &Study, round: &Round) -> Option<String> {
    let reads = round.reads.iter().map(|plan| {
        let name = &study.measure(plan.measure.value).name.value;
        let often = match plan.times {
            1 => say!("once").to_owned(),
            n => say!("{n} times", n),
        };
        match on_patch(study, plan.measure.value) {
            Some(patches) => say!("{name} {often} on {patches} of each specimen", name, often, patches),
            None => format!("{name} {often}"),
        }
    });
    let reads = list(&reads.collect::<Vec<_>>(), "and");
    let round_said = round_name(&round.name.value);
    Some(match (round.placing, round.window) {
        (Placing::Cycle(1), _) => {
            let most = study.cycle.as_ref()?.most;
            say!("cycles 1 to {most}, each on its own day: {reads}.", most, reads)
        }
        (Placing::Cycle(_), _) => return None,
        (_, Some(_)) if !round.at_sites.is_empty() => {
            say!(
                "{round}, {sites}: {reads}.",
                round = round_said,
                sites = list(&at_sites(study, round), "and"),
                reads
            )
        }
        (_, Some(window)) if window.first == window.last => {
            say!("{round}, {day}: {reads}.", round = round_said, day = day(window.date), reads)
        }
        (_, Some(window)) => say!(
            "{round}, {day}, any day from {first} to {last}: {reads}.",
            round = round_said,
            day = day(window.date),
            first = day(window.first),
            last = day(window.last),
            reads
        ),
        (_, None) => say!("{round}, no day yet: {reads}.", round = round_said, reads),
    })
}

/// The patches that a measure is read on, where its name does not say so.
fn on_patch(study: &Study, id: MeasureId) -> Option<String> {
    let measure = study.measure(id);
    let set = measure.home.filter(|set| measure.of.is_none() && study.specimens[set.index()].patch)?;
    let name = study.specimens[set.index()].name.value.as_str();
    let drawn = study.patches.as_ref()?.drawn.iter().filter(|patch| patch.word == name);
    let codes: Vec<String> = drawn.map(|patch| format!("{} ({name})", patch.code)).collect();
    (!codes.is_empty()).then(|| list(&codes, "and"))
}

/// What of the preparation is done before a round that is read on what was just prepared; `None` for any other.
pub(in crate::report) fn after_prep(study: &Study, round: &Round) -> Option<String> {
    let last = study.prep.len().checked_sub(1)?;
    let at = match round.placing {
        Placing::At(Anchor::Step(at)) => at.min(last),
        Placing::At(Anchor::BeforeApply) => last,
        Placing::On if round.name.value == "baseline" => last,
        _ => return None,
    };
    // Labels and tape change nothing of what is read, and a rule that stops before them reads as if they came after.
    let marks = |step: &Step| matches!(step.verb, Verb::Label | Verb::Tape);
    let at = if study.prep[at + 1..].iter().all(marks) { last } else { at };
    let (step, number) = (title(study, &study.prep[at]), at + 1);
    Some(if at == last {
        say!("Not before the preparation is done to its last step, {number} ({step}).", number, step)
    } else {
        say!("Not before step {number} of the preparation ({step}) is done.", number, step)
    })
}

/// When a round is read at each of the sites that have days of their own, as `roof 2025-07-02 (any day from 2025-06-25 to 2025-07-09)`.
pub(in crate::report) fn at_sites(study: &Study, round: &Round) -> Vec<String> {
    let at_site = |(site, window): &(SiteId, Window)| {
        let (site, planned) = (&study.sites[site.index()].value, day(window.date));
        if window.first == window.last {
            return say!("{site} {day}", site, day = planned);
        }
        let (first, last) = (day(window.first), day(window.last));
        say!("{site} {day} (any day from {first} to {last})", site, day = planned, first, last)
    };
    round.at_sites.iter().map(at_site).collect()
}
