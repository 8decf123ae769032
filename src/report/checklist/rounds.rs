//! The calendar of rounds: when each is read and what.

use super::super::numbers::day;
use super::facts::title;
use super::pulls;
use super::view::Group;
use crate::catalog::Catalog;
use crate::speech::{list, round_name, say};
use crate::study::{
    Anchor, Measure, MeasureId, MeasureKind, NoteOn, Placing, Round, SiteId, Step, Study, Verb, Window,
};

/// A line for each round, the cycles as one.
pub(super) fn rounds(study: &Study, catalog: &Catalog) -> Group {
    let read = study.rounds.iter().filter(|round| !round.reads.is_empty());
    let mut lines: Vec<String> = read.filter_map(|round| line(study, round)).collect();
    if !lines.is_empty() {
        lines.push(
            say!("Each has a reading sheet of its own, which “tapeline print” makes beside this checklist.")
                .to_owned(),
        );
        lines.extend(blind(study));
    }
    lines.extend(pulls::lines(study));
    let steps = pulls::steps(study, catalog);
    Group { title: say!("Rounds of readings").into(), lines, prose: prose(study), steps, ..Group::default() }
}

/// What the study says of its rounds, then of its measures, each with its name.
fn prose(study: &Study) -> String {
    let of_measure = |(id, measure): (MeasureId, &Measure)| {
        let words = study.prose_on(NoteOn::Measure(id));
        (!words.is_empty()).then(|| format!("**{}:** {words}", measure.name.value))
    };
    let rounds = Some(study.prose_on(NoteOn::Rounds)).filter(|words| !words.is_empty());
    rounds
        .into_iter()
        .chain(study.measures_with_ids().filter_map(of_measure))
        .collect::<Vec<_>>()
        .join("\n\n")
}

/// Who gives marks must not know what is on a place, and the checklist says it.
fn blind(study: &Study) -> Option<String> {
    let rated = study.measures.iter().any(|measure| matches!(measure.kind, MeasureKind::Rating(_)));
    rated.then(|| {
        say!(
            "Whoever gives marks gets the reading sheets and no other paper: checklist, run sheet and map say what lies where."
        )
        .to_owned()
    })
}

fn line(study: &Study, round: &Round) -> Option<String> {
    let reads = round.reads.iter().map(|plan| {
        let name = &study.measure(plan.measure.value).name.value;
        let raters = match &study.measure(plan.measure.value).kind {
            MeasureKind::Rating(scale) => scale.raters.unwrap_or(1),
            _ => 1,
        };
        let often = match plan.times {
            1 => say!("once").to_owned(),
            n if raters > 1 && n == raters => say!("once by each of {n} people", n),
            n => say!("{n} times", n),
        };
        match pulls::on_patch(study, plan.measure.value) {
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
