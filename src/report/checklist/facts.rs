//! What a step states of itself: what is done, its supply and mix, how long, how often, with what.

use super::super::names;
use super::super::numbers;
use super::super::safety::Entry;
use super::amounts::mix_text;
use crate::speech::say;
use crate::study::{Mix, Step, Study, Supply, Verb};

/// What a fact is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::report) enum About {
    Supply,
    Mix,
    Dwell,
    Grit,
    Readings,
    Times,
    Cloth,
    Tool,
    Places,
    Lines,
    Rinse,
    Time,
    Wait,
    /// How long a mark stays on.
    StaysOn,
}

impl About {
    /// The word before the fact.
    fn label(self) -> &'static str {
        match self {
            Self::Supply => say!("Supply"),
            Self::Mix => say!("Mix"),
            Self::Dwell => say!("Dwell"),
            Self::Grit => say!("Grit"),
            Self::Readings => say!("Readings"),
            Self::Times => say!("Times"),
            Self::Cloth => say!("Cloth"),
            Self::Tool => say!("Tool"),
            Self::Places => say!("Places"),
            Self::Lines => say!("Lines"),
            Self::Rinse => say!("Rinse"),
            Self::Time => say!("Time"),
            Self::Wait => say!("Wait"),
            Self::StaysOn => say!("Stays on"),
        }
    }
}

/// One fact of a step.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(in crate::report) struct Fact {
    /// What it is about.
    pub about: About,
    /// What the step states.
    pub text: String,
}

impl From<Fact> for Entry {
    fn from(fact: Fact) -> Self {
        Self::new(fact.about.label(), fact.text)
    }
}

/// Mix, dwell, times, rinse, tool and wait of a step, as far as they are stated.
pub(in crate::report) fn facts(study: &Study, step: &Step) -> Vec<Fact> {
    let supply = supply(study, step);
    let mut facts = Vec::new();
    let mut add = |about: About, text: String| facts.push(Fact { about, text });
    if let Some(kind) = supply.and_then(|supply| supply.kind.as_ref()) {
        let name = supply.map_or("", Supply::title);
        let both = format!("{name}, {}", names::kind(kind));
        add(About::Supply, if name == kind.words.value { name.to_owned() } else { both });
    }
    if let Some(mix) = mix(study, step) {
        add(About::Mix, mix_text(mix));
    }
    if let Some(text) = dwell(step, supply) {
        add(About::Dwell, text);
    }
    if let Some(grit) = &step.grit {
        add(About::Grit, grit.value.to_string());
    }
    if step.times > 1 && step.verb == Verb::Read {
        add(About::Readings, say!("{n} at each place", n = step.times));
    } else if step.times > 1 {
        add(About::Times, step.times.to_string());
    }
    if step.fresh_cloth {
        add(About::Cloth, fresh_cloth(study, step).to_owned());
    }
    if let Some(tool) = &step.tool {
        add(About::Tool, tool.clone());
    }
    if let Some(places) = step.places {
        add(
            About::Places,
            say!(
                "{places} places, spread evenly: mark them on the map yourself, in mm from its left and top edge, and take the same ones every time",
                places
            ),
        );
    }
    if let Some(width) = &step.line_width {
        add(About::Lines, say!("{width} wide", width = numbers::amount(&width.value)));
    }
    if step.rinse {
        add(About::Rinse, say!("in full, until it runs clear").to_owned());
    }
    if let Some(wait) = step.wait {
        let time = numbers::amount(&wait);
        match step.verb {
            Verb::Wait => add(About::Time, time),
            Verb::Dry => add(About::Wait, say!("{time} before what comes next", time)),
            Verb::Mark => add(About::StaysOn, stays_on(study, &time)),
            _ => add(About::Wait, time),
        }
    }
    facts
}

/// What has a cloth of its own.
fn fresh_cloth(study: &Study, step: &Step) -> &'static str {
    match step.verb {
        Verb::Clean => say!("a fresh one for each patch, each time: it lays on and wipes up"),
        Verb::Mark => say!("a fresh one for each patch, each time"),
        _ if study.is_on_racks() => say!("a fresh one for each specimen, each time"),
        _ => say!("a fresh one for each section, each time"),
    }
}

/// Marks lie on at the same time, each on its own patches: whoever waited for one after the other would leave the first too long.
fn stays_on(study: &Study, time: &str) -> String {
    match study.cycle_steps().filter(|step| step.verb == Verb::Mark).count() {
        0 | 1 => say!("{time}, until it is cleaned; as near to it as can be, and alike on every patch", time),
        2 => say!(
            "{time}, until it is cleaned; as near to it as can be, and alike on every patch; mark with the other one meanwhile",
            time
        ),
        _ => say!(
            "{time}, until it is cleaned; as near to it as can be, and alike on every patch; mark with the others meanwhile",
            time
        ),
    }
}

fn dwell(step: &Step, supply: Option<&Supply>) -> Option<String> {
    let allowed = supply.and_then(|supply| supply.dwell.as_ref());
    let allowed = allowed.map(|allowed| allowed.value);
    match (step.dwell.as_ref().map(|dwell| dwell.value), allowed) {
        (Some(dwell), Some(allowed)) if dwell != allowed => {
            let (dwell, allowed) = (numbers::amount(&dwell), numbers::amount(&allowed));
            Some(say!("{dwell} (allowed {allowed})", dwell, allowed))
        }
        (Some(dwell), _) => Some(numbers::amount(&dwell)),
        (None, Some(allowed)) => {
            Some(say!("{allowed} allowed, none stated", allowed = numbers::amount(&allowed)))
        }
        (None, None) => None,
    }
}

pub(super) fn supply<'a>(study: &'a Study, step: &Step) -> Option<&'a Supply> {
    step.with.as_ref().map(|with| study.supply(with.value))
}

/// The mix that a step works with: its own, else that of its supply.
pub(super) fn mix<'a>(study: &'a Study, step: &'a Step) -> Option<&'a Mix> {
    let of_supply = || supply(study, step).and_then(|supply| supply.mix.as_ref());
    step.mix.as_ref().or_else(of_supply).map(|mix| &mix.value)
}

/// `Wash with panel-soap`, `Read film`.
pub(in crate::report) fn title(study: &Study, step: &Step) -> String {
    let verb = verb(step.verb);
    match (&step.with, &step.measure) {
        (Some(with), _) => Study::step_words(step.verb, study.supply(with.value).title()),
        (None, Some(measure)) => {
            say!("{verb} {measure}", verb, measure = study.measure(measure.value).name.value)
        }
        (None, None) => verb.to_owned(),
    }
}

/// The verb of a step as a heading has it.
pub(in crate::report) fn verb(verb: Verb) -> &'static str {
    verb.heading()
}
