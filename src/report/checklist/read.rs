//! Readings on the checklist: the baseline, which has no later chance, and those that end a cycle.

use super::super::numbers;
use super::super::patches;
use super::super::safety::{self, Entry};
use super::edges;
use super::facts::{title, verb};
use super::lines::{BOXED, MOST_LINES, heads, texts};
use super::rounds::after_prep;
use super::view::{Group, StepView};
use super::work::wiped_again;
use crate::catalog::Catalog;
use crate::speech::{list, plural, say};
use crate::study::{Cycle, Gauge, Limit, MeasureId, MeasureKind, Round, Step, Study, Verb};

// The one round that can never be read afterwards; the later ones have sheets of their own.
pub(super) fn baseline(study: &Study, catalog: &Catalog) -> Group {
    let round = study.round_named("baseline").map(|id| study.round(id));
    let boxes = |measure: MeasureId| -> Vec<String> {
        let codes: Vec<String> = study.places_of(measure).map(|(_, place)| place.code.clone()).collect();
        if codes.len() > BOXED { Vec::new() } else { codes }
    };
    let first = round.iter().filter_map(|round| after_prep(study, round));
    let before = round.and_then(|round| cared_for(study, round));
    let again = wiped_again(study).filter(|_| round.is_some()).map(|at| {
        say!(
            "The order of the days: the preparation, this baseline, step {step} once more where a night lies before the coats, its wait, the \
             first coat.",
            step = at + 1
        )
    });
    let marked = patches::at_baseline(study);
    let lines: Vec<String> = edges::untaped(study)
        .into_iter()
        .chain(first)
        .chain(before)
        .chain(again)
        .chain(patches::places(study).filter(|_| marked))
        .collect();
    let picture = patches::picture(study).filter(|_| marked);
    let plans = round.iter().flat_map(|round| &round.reads).enumerate();
    let steps: Vec<StepView> = plans
        .map(|(at, plan)| StepView {
            number: at + 1,
            title: reading_of(&study.measure(plan.measure.value).name.value),
            why: say!(
                "Before the first coat, on every {place}: it cannot be read afterwards.",
                place = kind_of_place(study, plan.measure.value)
            ),
            facts: reading_facts(study, plan.measure.value, plan.times)
                .into_iter()
                .chain([Entry::new(
                    say!("Write"),
                    say!("the readings on the reading sheet of the baseline, which “tapeline print” makes beside this checklist"),
                )])
                .collect(),
            cautions: texts(&safety::of_reading(catalog, study, plan.measure.value)),
            prose: String::new(),
            boxes: boxes(plan.measure.value),
            signed: false,
            fields: Vec::new(),
            blanks: heads(&[say!("date"), say!("time"), say!("initials")]),
            writing: 1,
            rows: Vec::new(),
            cards: Vec::new(),
        })
        .collect();
    let lines = if steps.is_empty() { Vec::new() } else { lines };
    Group { title: say!("Baseline readings").into(), lines, picture, steps, ..Group::default() }
}

/// What is done before each round holds of this one too, though its steps stand further on, with their boxes.
fn cared_for(study: &Study, round: &Round) -> Option<String> {
    let steps: Vec<String> = study.before_each_round.iter().map(|step| cared(study, step)).collect();
    let stands = round.is_cared_for() && !round.reads.is_empty() && !steps.is_empty();
    stands.then(|| {
        say!(
            "Before it, as before each round: {steps}. The steps stand under “{title}”, each with a box for this round.",
            steps = list(&steps, "and"),
            title = say!("Before each round")
        )
    })
}

/// `Wait (24 h)`, `Wash with soap`.
fn cared(study: &Study, step: &Step) -> String {
    match step.wait.filter(|_| step.verb == Verb::Wait) {
        Some(wait) => format!("{} ({})", title(study, step), numbers::amount(&wait)),
        None => title(study, step),
    }
}

/// `Read gloss-20`.
fn reading_of(measures: &str) -> String {
    say!("{verb} {measure}", verb = verb(Verb::Read), measure = measures)
}

/// What a measure is read on: a section, a patch, or a specimen, of a set of its own or on a rack.
pub(in crate::report) fn kind_of_place(study: &Study, id: MeasureId) -> String {
    let home = study.measure(id).home.map(|set| study.specimens[set.index()].patch);
    plural(
        1,
        match home {
            Some(true) => "patch",
            Some(false) => "specimen",
            None if study.is_on_racks() => "specimen",
            None => "section",
        },
    )
}

/// How often, with what, and by which marks a measure is read: whoever reads has this paper and no other.
fn reading_facts(study: &Study, id: MeasureId, times: u32) -> Vec<Entry> {
    let place = kind_of_place(study, id);
    let mut facts = vec![Entry::new(say!("Readings"), say!("{times} on each {place}", times, place))];
    facts.extend(how(study, id));
    facts
}

/// The gauge and the marks of a measure, and who gives them.
pub(super) fn how(study: &Study, id: MeasureId) -> Vec<Entry> {
    let gauges: Vec<&str> = study.gauges_of(id).map(Gauge::title).collect();
    let gauge = (!gauges.is_empty()).then(|| Entry::new(say!("Gauge"), list(&gauges, "or")));
    let mut facts: Vec<Entry> = gauge.into_iter().collect();
    let MeasureKind::Rating(scale) = &study.measure(id).kind else { return facts };
    let marks: Vec<String> =
        scale.words.iter().map(|(mark, word)| format!("{} {word}", numbers::decimal(*mark))).collect();
    let halves = if scale.half { say!(", halves too") } else { "" };
    let words = if marks.is_empty() { String::new() } else { format!(": {}", marks.join("; ")) };
    let (from, to) = (numbers::decimal(scale.from), numbers::decimal(scale.to));
    facts.push(Entry::new(say!("Marks"), say!("{from} to {to}", from, to) + halves + &words));
    facts.extend(scale.raters.filter(|raters| *raters > 1).map(|raters| {
        let alone = if scale.each_alone { say!(", each without knowing the others' marks") } else { "" };
        Entry::new(say!("By"), say!("{raters} people{alone}", raters, alone))
    }));
    facts
}

/// The readings that end a cycle: each measure once, on every patch that was not stopped.
pub(super) fn cycle_reading(study: &Study, cycle: &Cycle, number: usize) -> Option<StepView> {
    let mut plans: Vec<(MeasureId, u32)> = Vec::new();
    let mut hows: Vec<Entry> = Vec::new();
    let reads = &study.round(*cycle.rounds.first()?).reads;
    for plan in reads {
        let of = study.measure(plan.measure.value).of.unwrap_or(plan.measure.value);
        if !plans.contains(&(of, plan.times)) {
            plans.push((of, plan.times));
        }
        for fact in how(study, plan.measure.value) {
            let name = study.measure(of).name.value.as_str();
            let fact = Entry::new(fact.label, format!("{name}: {}", fact.text));
            if !hows.contains(&fact) {
                hows.push(fact);
            }
        }
    }
    let name = |id: MeasureId| study.measure(id).name.value.as_str();
    let names: Vec<&str> = plans.iter().map(|&(id, _)| name(id)).collect();
    let times: Vec<String> = plans
        .iter()
        .map(|&(id, times)| {
            let often = if times == 1 { say!("once").to_owned() } else { say!("{n} times", n = times) };
            format!("{} {often}", name(id))
        })
        .collect();
    let times = say!("{readings} on each patch", readings = list(&times, "and"));
    let mut facts = vec![Entry::new(say!("Readings"), times)];
    facts.extend(hows);
    facts.extend([
        Entry::new(say!("Where"), say!("every patch that was not stopped in an earlier cycle")),
        Entry::new(
            say!("Sheet"),
            say!("the reading sheet of the cycle, which “tapeline print” makes beside this checklist"),
        ),
    ]);
    (!names.is_empty()).then(|| StepView {
        number,
        title: reading_of(&list(&names, "and")),
        why: say!("Ends the cycle; then it is decided which patches are stopped.").into(),
        facts,
        cautions: Vec::new(),
        prose: String::new(),
        boxes: Vec::new(),
        signed: false,
        fields: Vec::new(),
        blanks: heads(&[say!("cycle"), say!("date"), say!("initials"), say!("stopped")]),
        writing: cycle.most.min(MOST_LINES) as usize,
        rows: Vec::new(),
        cards: Vec::new(),
    })
}

/// When a patch is marked and read no more.
pub(in crate::report) fn stop_words(study: &Study, cycle: &Cycle) -> Option<String> {
    let stop = cycle.stop?;
    let name = &study.measure(stop.measure).name.value;
    let Limit::Value(limit) = stop.rule.limit else { return None };
    // Nothing is worse than the end of a scale.
    let is_end = study.stop_scale(stop).is_some_and(|scale| [scale.from, scale.to].contains(&limit));
    let limit = numbers::decimal(limit);
    let limit = match (stop.rule.at_limit, stop.rule.below) {
        (true, _) if is_end => limit,
        (true, _) => say!("{mark} or worse", mark = limit),
        (false, true) => say!("below {limit}", limit),
        (false, false) => say!("above {limit}", limit),
    };
    // Where several people mark a patch, the middle of their marks decides.
    let raters = study.stop_scale(stop).and_then(|scale| scale.raters).unwrap_or(1);
    let middle = if raters > 1 { say!(" by the middle of its marks") } else { "" };
    Some(say!(
        "A patch is stopped when its {name} is {limit}{middle}: it is neither marked nor read again.",
        name,
        limit,
        middle
    ))
}
