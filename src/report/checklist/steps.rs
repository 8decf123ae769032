//! The steps of the checklist: preparation, application, before each round, upkeep.

use super::super::numbers;
use super::super::safety::{self, Entry};
use super::view::{Group, StepView};
use crate::catalog::Catalog;
use crate::diag::{count, list};
use crate::study::{Anchor, Mix, Placing, Product, ProductId, Step, Study, Treatment, Upkeep, Verb};
use crate::units::decimal;

pub(super) fn groups(study: &Study, catalog: &Catalog) -> Vec<Group> {
    let all = [
        preparation(study, catalog),
        baseline(study),
        application(study, catalog),
        before_rounds(study, catalog),
        upkeep(study, catalog),
    ];
    all.into_iter().filter(|group| !group.steps.is_empty() || !group.lines.is_empty()).collect()
}

fn preparation(study: &Study, catalog: &Catalog) -> Group {
    let steps =
        study.prep.iter().enumerate().map(|(at, step)| step_view(study, catalog, step, at + 1)).collect();
    let leave = study.surface.leave.map(|leave| format!("Leave at least {leave} of film everywhere."));
    Group { title: "Preparation".into(), lines: leave.into_iter().collect(), blanks: Vec::new(), steps }
}

/// More sections than this have no box each, since their list would be longer than the work.
const BOXED: usize = 60;

// The one round that can never be read afterwards; the later ones have sheets of their own.
fn baseline(study: &Study) -> Group {
    let round = study.round_named("baseline").map(|id| study.round(id));
    let codes = || study.sections.iter().map(|section| section.code.clone());
    let boxes: Vec<String> = if study.sections.len() > BOXED { Vec::new() } else { codes().collect() };
    let plans = round.iter().flat_map(|round| &round.reads).enumerate();
    let steps: Vec<StepView> = plans
        .map(|(at, plan)| StepView {
            number: at + 1,
            title: format!("Read {}", study.measure(plan.measure.value).name.value),
            why: "Before the first coat, on every section: it cannot be read afterwards.".into(),
            facts: vec![Entry::new("Readings", format!("{} on each section", plan.times))],
            prose: String::new(),
            boxes: boxes.clone(),
            writing: 1,
            card: None,
        })
        .collect();
    Group { title: "Baseline readings".into(), lines: Vec::new(), blanks: Vec::new(), steps }
}

fn step_view(study: &Study, catalog: &Catalog, step: &Step, number: usize) -> StepView {
    StepView {
        number,
        title: title(study, step),
        why: catalog.step(step.verb.word()).map_or_else(String::new, |known| known.what.to_owned()),
        facts: facts(study, step),
        prose: step.prose.clone(),
        boxes: Vec::new(),
        writing: 1,
        card: safety::of_step(catalog, study, step),
    }
}

/// `Wash with panel-soap`, `Read film`.
pub(in crate::report) fn title(study: &Study, step: &Step) -> String {
    let verb = step.verb.word();
    let first: String =
        verb.chars().take(1).flat_map(char::to_uppercase).chain(verb.chars().skip(1)).collect();
    match (&step.with, &step.measure) {
        (Some(with), _) => format!("{first} with {}", study.supply(with.value).name.value),
        (None, Some(measure)) => format!("{first} {}", study.measure(measure.value).name.value),
        (None, None) => first,
    }
}

/// Mix, dwell, times, rinse, tool and wait of a step, as far as they are stated.
pub(in crate::report) fn facts(study: &Study, step: &Step) -> Vec<Entry> {
    let supply = step.with.as_ref().map(|with| study.supply(with.value));
    let mix = step.mix.as_ref().or_else(|| supply.and_then(|supply| supply.mix.as_ref()));
    let mut facts = Vec::new();
    let mut add = |label: &str, text: String| facts.push(Entry::new(label, text));
    if let Some(kind) = supply.and_then(|supply| supply.kind.as_ref()) {
        let name = supply.map_or("", |supply| supply.name.value.as_str());
        let both = format!("{name}, {}", kind.words.value);
        add("Supply", if name == kind.words.value { name.to_owned() } else { both });
    }
    if let Some(mix) = mix {
        add("Mix", mix_text(&mix.value));
    }
    if let Some(text) = dwell(step, supply) {
        add("Dwell", text);
    }
    if step.times > 1 {
        add("Times", step.times.to_string());
    }
    if step.fresh_cloth {
        add("Cloth", "a fresh one each time".to_owned());
    }
    if let Some(tool) = &step.tool {
        add("Tool", tool.clone());
    }
    if let Some(places) = step.places {
        add("Places", places.to_string());
    }
    if let Some(width) = &step.line_width {
        add("Lines", format!("{} wide", width.value));
    }
    if step.rinse {
        add("Rinse", "in full, until it runs clear".to_owned());
    }
    if let Some(wait) = step.wait {
        add(if matches!(step.verb, Verb::Wait | Verb::Dry) { "Time" } else { "Wait" }, wait.to_string());
    }
    facts
}

fn dwell(step: &Step, supply: Option<&crate::study::Supply>) -> Option<String> {
    let allowed = supply.and_then(|supply| supply.dwell.as_ref());
    match (&step.dwell, allowed) {
        (Some(dwell), Some(allowed)) if dwell.value != allowed.value => {
            Some(format!("{} (allowed {})", dwell.value, allowed.value))
        }
        (Some(dwell), _) => Some(dwell.value.to_string()),
        (None, Some(allowed)) => Some(format!("{} allowed, none stated", allowed.value)),
        (None, None) => None,
    }
}

/// A mix in words.
pub(in crate::report) fn mix_text(mix: &Mix) -> String {
    match mix {
        Mix::Neat => "neat, as it comes".to_owned(),
        Mix::Parts { of, to, liquid } => {
            let part = if (of - 1.0).abs() < 1e-12 { "part" } else { "parts" };
            format!("{} {part} to {} {liquid}", decimal(*of), decimal(*to))
        }
        Mix::Percent(any) => any.to_string(),
    }
}

fn application(study: &Study, catalog: &Catalog) -> Group {
    let placed =
        study.products_with_ids().filter(|(id, _)| study.sections_of(Treatment::Product(*id)).count() > 0);
    let steps: Vec<StepView> = placed
        .enumerate()
        .map(|(at, (id, product))| apply_view(study, catalog, (id, product), at + 1))
        .collect();
    let blanks = ["Air, degC", "Humidity, %", "Surface, degC", "Dew point, degC"].map(str::to_owned).to_vec();
    Group { title: "Application".into(), lines: climate(study, catalog), blanks, steps }
}

fn climate(study: &Study, catalog: &Catalog) -> Vec<String> {
    let mut lines = Vec::new();
    if let Some(apply) = &study.apply {
        let on = apply.on.as_ref().map(|on| format!("On {}", on.value));
        let from = apply.from.map(|from| format!("from {:02}:{:02}", from.hour(), from.minute()));
        let by = apply.by.as_ref().map(|by| format!("by {by}"));
        let when: Vec<String> = [on, from, by].into_iter().flatten().collect();
        if !when.is_empty() {
            lines.push(format!("{}.", when.join(" ").trim_end_matches('.')));
        }
        let climate = &apply.climate;
        let air = climate.air.map(|air| format!("air {air}"));
        let humidity = climate.humidity.map(|humidity| humidity.to_string());
        let dew = climate.above_dew_point.map(|step| format!("surface at least {step} above the dew point"));
        let below = climate.surface_below.map(|limit| format!("surface below {limit}"));
        let limits: Vec<String> = [air, humidity, dew, below].into_iter().flatten().collect();
        if !limits.is_empty() {
            lines.push(format!("Only in this climate: {}.", limits.join(", ")));
        }
    }
    lines.extend(catalog.climate().map(|rule| rule.margin_text.to_owned()));
    lines
}

fn apply_view(study: &Study, catalog: &Catalog, product: (ProductId, &Product), number: usize) -> StepView {
    let (id, product) = product;
    let codes: Vec<&str> = study.sections_of(Treatment::Product(id)).map(|(_, s)| s.code.as_str()).collect();
    let coats = product.coats.as_ref().map_or(1, |coats| coats.number);
    let coated =
        |coat: u32, code: &str| if coats == 1 { code.to_owned() } else { format!("{code}, coat {coat}") };
    // A page holds few boxes; where a product lies on many sections the list of codes stands for them.
    let boxes = if codes.len() * coats as usize <= 12 {
        (1..=coats).flat_map(|coat| codes.iter().map(move |code| coated(coat, code))).collect()
    } else {
        Vec::new()
    };
    StepView {
        number,
        title: format!("Apply {} on {}", product.title(), section_list(&codes)),
        why: String::new(),
        facts: product_facts(product, coats),
        prose: String::new(),
        boxes,
        writing: coats.min(4) as usize,
        card: Some(safety::of_product(catalog, product)),
    }
}

/// `A1 and C4`, cut after two dozen.
pub(in crate::report) fn section_list(codes: &[&str]) -> String {
    if codes.len() <= 24 {
        list(codes, "and")
    } else {
        format!("{} and {} more", codes[..24].join(", "), codes.len() - 24)
    }
}

fn product_facts(product: &Product, coats: u32) -> Vec<Entry> {
    let mut facts = Vec::new();
    let mut add = |label: &str, text: Option<String>| {
        facts.extend(text.map(|text| Entry::new(label, text)));
    };
    add("Kind", product.kind.as_ref().map(|kind| kind.words.value.clone()));
    add("Mix", product.mix.as_ref().map(|mix| mix_text(&mix.value)));
    add("Uses", product.uses.map(|uses| uses.to_string()));
    let after = product.coats.as_ref().and_then(|coats| coats.after);
    let next =
        after.map_or_else(String::new, |after| format!(", the next after {}", numbers::amount(&after)));
    add("Coats", Some(format!("{}{next}", count(coats as usize, "coat"))));
    add(
        "Flash",
        product.flash.as_ref().map(|flash| format!("{}, then level or buff", numbers::amount(&flash.value))),
    );
    add("Dry", product.dry.as_ref().map(|dry| format!("no water for {}", numbers::amount(&dry.value))));
    add("Cure", product.cure.as_ref().map(|cure| numbers::amount(&cure.value)));
    facts
}

fn before_rounds(study: &Study, catalog: &Catalog) -> Group {
    // A round directly after a step of preparation is read on a surface that was just prepared.
    let washed = study.rounds.iter().filter(|round| !matches!(round.placing, Placing::At(Anchor::Step(_))));
    let rounds: Vec<String> = washed
        .map(|round| match round.date() {
            Some(date) => format!("{}, {date}", round.name.value),
            None => round.name.value.clone(),
        })
        .collect();
    let steps = study.before_each_round.iter().enumerate();
    let steps: Vec<StepView> = steps
        .map(|(at, step)| StepView {
            boxes: rounds.clone(),
            writing: 0,
            ..step_view(study, catalog, step, at + 1)
        })
        .collect();
    Group { title: "Before each round".into(), lines: Vec::new(), blanks: Vec::new(), steps }
}

fn upkeep(study: &Study, catalog: &Catalog) -> Group {
    let mut group =
        Group { title: "Upkeep".into(), lines: Vec::new(), blanks: Vec::new(), steps: Vec::new() };
    for (at, upkeep) in study.upkeep.iter().enumerate() {
        match upkeep {
            Upkeep::None(why) => group.lines.push(format!("None, on purpose: {why}.")),
            Upkeep::Every { every, step, from, .. } => {
                let mut view = step_view(study, catalog, step, at + 1);
                view.title = format!("Every {}: {}", numbers::amount(every), view.title);
                view.facts.extend(from.map(|from| {
                    Entry::new("From", format!("{} after the last coat", numbers::amount(&from)))
                }));
                view.writing = 4;
                group.steps.push(view);
            }
        }
    }
    group
}
