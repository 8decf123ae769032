//! Steps of preparation, before each round, of a cycle and of upkeep.

use super::super::numbers;
use super::super::patches;
use super::super::safety::{self, Entry};
use super::amounts::{self, mix_text};
use super::film;
use super::lines::{BOXED, MOST_LINES, UNNAMED, heads, texts};
use super::read::{cycle_reading, how, stop_words};
use super::view::{Group, StepView};
use crate::catalog::{Catalog, Class};
use crate::diag::count;
use crate::speech::{list, say};
use crate::study::{Anchor, Mix, Placing, Section, Step, Study, Supply, Upkeep, Verb};
use jiff::civil::Date;

pub(super) fn preparation(study: &Study, catalog: &Catalog) -> Group {
    let steps =
        study.prep.iter().enumerate().map(|(at, step)| step_view(study, catalog, (at + 1, step))).collect();
    Group { title: "Preparation".into(), lines: film::lines(study, catalog), steps, ..Group::default() }
}

/// The preparation of loose specimens, a group for each set.
pub(super) fn of_specimens(study: &Study, catalog: &Catalog) -> Vec<Group> {
    let sets = study.specimens.iter().filter(|set| !set.patch);
    sets.map(|set| {
        let every = format!("every specimen of {}, the spare ones too", set.name.value);
        let steps = set.prep.iter().enumerate().map(|(at, step)| {
            let mut view = step_view(study, catalog, (at + 1, step));
            for fact in view.facts.iter_mut().filter(|fact| fact.label == "Where") {
                fact.text.clone_from(&every);
            }
            view
        });
        let title = format!("Preparation of {}", set.name.value);
        Group { title, steps: steps.collect(), ..Group::default() }
    })
    .collect()
}

fn step_view(study: &Study, catalog: &Catalog, (number, step): (usize, &Step)) -> StepView {
    let known = catalog.step(step.verb.word());
    let mut facts = with_amount(facts(study, step), measured(study, catalog, step));
    facts.extend(step.measure.iter().flat_map(|measure| how(study, measure.value)));
    if step.measure.is_some() && step.places.is_none() {
        facts.push(Entry::new("Places", "the study names none: read where it counts, and write down where"));
    }
    if step.times > 1 {
        for fact in facts.iter_mut().filter(|fact| fact.label == "Wait") {
            fact.text.push_str(", after the last time");
        }
    }
    if matches!(step.verb, Verb::Tape | Verb::Label) {
        facts.push(Entry::new("Map", "map.svg has each section with its code and its place"));
    }
    facts.extend(film::of_step(study, catalog, step));
    facts.extend(supply(study, step).map(|supply| Entry::new("Amount", taken(study, step, supply))));
    facts.extend(work_facts(study, step));
    let work = class(study, step).filter(|_| OF_CLASS.contains(&step.verb)).map(|class| &class.work);
    let change = work.and_then(|work| work.change).or_else(|| known.map(|known| known.change));
    let change = change.filter(|change| !change.is_empty());
    facts.extend(change.map(|change| Entry::new("Change", change)));
    if let Some((rinse, water)) =
        facts.iter_mut().find(|fact| fact.label == "Rinse").zip(rinse_water(study, step))
    {
        rinse.text = format!("{}; its water {water}", rinse.text);
    }
    facts.extend(raised_waste(catalog, step));
    let (blanks, writing) = written(study, step);
    StepView {
        number,
        title: title(study, step),
        why: work
            .and_then(|work| work.purpose)
            .or(known.map(|known| known.what))
            .unwrap_or_default()
            .to_owned(),
        facts,
        cautions: texts(&safety::of_work(catalog, study, step)),
        prose: step.prose.clone(),
        boxes: Vec::new(),
        blanks,
        writing,
        card: safety::of_step(catalog, study, step),
    }
}

/// Steps whose purpose and tools are those of what they are done with.
const OF_CLASS: [Verb; 3] = [Verb::Wash, Verb::Decontaminate, Verb::Wipe];

fn class(study: &Study, step: &Step) -> Option<&'static Class> {
    supply(study, step)?.kind.as_ref()?.class
}

fn rinse_water(study: &Study, step: &Step) -> Option<&'static str> {
    class(study, step)?.handling.rinse_water
}

// What is bought has its waste on its card; what arises in the work has none on the checklist.
fn raised_waste(catalog: &Catalog, step: &Step) -> Option<Entry> {
    let known = catalog.step(step.verb.word())?;
    let arises = |class: &&Class| known.raises.contains(&class.id);
    catalog.classes().iter().find(arises).map(|class| Entry::new("Its dust", class.handling.waste))
}

fn taken(study: &Study, step: &Step, supply: &Supply) -> String {
    let stated = amounts::on_panel(study, step, supply);
    stated.unwrap_or_else(|| {
        let how = if supply.is_aerosol() { ": weigh the can before and after" } else { "" };
        format!("as its label says, the same on every section; write down what was used{how}")
    })
}

// The heads of a line to write on, and how many lines. A reading spread over the panel has a line for each place.
fn written(study: &Study, step: &Step) -> (Vec<String>, usize) {
    let places = step.places.unwrap_or(UNNAMED);
    let places = Some(places).filter(|places| *places <= LINES && step.times <= 5);
    match (step.measure.as_ref().zip(places), &step.dwell) {
        (Some((measure, places)), _) => {
            let unit = &study.measure(measure.value).unit.symbol;
            let mut blanks = heads(&["date, time", "place"]);
            blanks.extend((1..=step.times).map(|at| format!("{at}, {unit}")));
            blanks.push("initials".into());
            (blanks, places as usize)
        }
        (None, Some(_)) => (heads(&["date", "on at", "off at", "initials"]), 1),
        (None, None) => (heads(&["date", "time", "initials"]), 1),
    }
}

/// More places than this have no line each on the checklist.
const LINES: u32 = 15;

/// `only on A1 and C4, not on the others (scratches)`; `None` for a step that every prepared section gets.
pub(in crate::report) fn only_on(study: &Study, step: &Step) -> Option<String> {
    let only = study.done_on(step)?;
    let codes: Vec<&str> = only.sections.iter().map(|&id| study.section(id).code.as_str()).collect();
    let because = only.because.as_ref().map_or_else(String::new, |because| format!(" ({because})"));
    Some(say!("only on {sections}, not on the others{because}", because, sections = list(&codes, "and")))
}

// What spoils a step, and where it is done: a step that some sections do not get would be a treatment of its own.
fn work_facts(study: &Study, step: &Step) -> Vec<Entry> {
    // What seals an edge is there to stay.
    // So is a mark until it is cleaned off.
    let class = class(study, step).filter(|_| !matches!(step.verb, Verb::Seal | Verb::Mark));
    let spoils = [
        class.filter(|class| class.work.must_not_dry_on).map(|_| "drying on"),
        class
            .filter(|class| class.work.leaves_residue)
            .map(|_| "what it leaves: a wipe must follow before the baseline and the products"),
    ];
    let spoils: Vec<&str> = spoils.into_iter().flatten().collect();
    let spoils = (!spoils.is_empty()).then(|| Entry::new("Spoils it", spoils.join("; ")));
    let everywhere = || {
        let alike = match (step.verb, study.is_on_racks()) {
            (Verb::Seal, true) => "the end grain and cut edges of every specimen alike, not its face",
            (Verb::Seal, false) => "the end grain and cut edges all round, not the face",
            (_, true) => "every specimen alike, the whole of it",
            (_, false) => "the whole panel, every section alike",
        };
        alike.to_owned()
    };
    let place = Entry::new("Where", only_on(study, step).unwrap_or_else(everywhere));
    spoils.into_iter().chain((step.verb != Verb::Read || step.only.is_some()).then_some(place)).collect()
}

fn measured(study: &Study, catalog: &Catalog, step: &Step) -> Option<String> {
    let supply = supply(study, step)?;
    let batch = amounts::batch(catalog, study, step, supply, mix(study, step)?)?;
    Some(batch.map_or_else(|why| why, |batch| amounts::batch_words(catalog, supply, &batch)))
}

// The amounts stand under the mix that they are of.
fn with_amount(mut facts: Vec<Entry>, amount: Option<String>) -> Vec<Entry> {
    let below = facts.iter().position(|fact| fact.label == "Mix").map_or(facts.len(), |at| at + 1);
    if let Some(amount) = amount {
        facts.insert(below, Entry::new("Measure", amount));
    }
    facts
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
        (Some(with), _) => say!("{verb} with {supply}", verb, supply = study.supply(with.value).name.value),
        (None, Some(measure)) => format!("{verb} {}", study.measure(measure.value).name.value),
        (None, None) => verb.to_owned(),
    }
}

/// The verb of a step as a heading has it.
pub(in crate::report) fn verb(verb: Verb) -> &'static str {
    match verb {
        Verb::Wash => say!("Wash"),
        Verb::Rinse => say!("Rinse"),
        Verb::Decontaminate => say!("Decontaminate"),
        Verb::Dry => say!("Dry"),
        Verb::Clay => say!("Clay"),
        Verb::Compound => say!("Compound"),
        Verb::Polish => say!("Polish"),
        Verb::Wipe => say!("Wipe"),
        Verb::Tape => say!("Tape"),
        Verb::Label => say!("Label"),
        Verb::Sand => say!("Sand"),
        Verb::Dust => say!("Dust"),
        Verb::Brush => say!("Brush"),
        Verb::Seal => say!("Seal"),
        Verb::Read => say!("Read"),
        Verb::Wait => say!("Wait"),
        Verb::Mark => say!("Mark"),
        Verb::Clean => say!("Clean"),
    }
}

/// Mix, dwell, times, rinse, tool and wait of a step, as far as they are stated.
pub(in crate::report) fn facts(study: &Study, step: &Step) -> Vec<Entry> {
    let supply = supply(study, step);
    let mut facts = Vec::new();
    let mut add = |label: &str, text: String| facts.push(Entry::new(label, text));
    if let Some(kind) = supply.and_then(|supply| supply.kind.as_ref()) {
        let name = supply.map_or("", |supply| supply.name.value.as_str());
        let both = format!("{name}, {}", kind.words.value);
        add("Supply", if name == kind.words.value { name.to_owned() } else { both });
    }
    if let Some(mix) = mix(study, step) {
        add("Mix", mix_text(mix));
    }
    if let Some(text) = dwell(step, supply) {
        add("Dwell", text);
    }
    if let Some(grit) = &step.grit {
        add("Grit", grit.value.to_string());
    }
    if step.times > 1 && step.verb == Verb::Read {
        add("Readings", say!("{n} at each place", n = step.times));
    } else if step.times > 1 {
        add("Times", step.times.to_string());
    }
    if step.fresh_cloth {
        add("Cloth", say!("a fresh one each time").to_owned());
    }
    if let Some(tool) = &step.tool {
        add("Tool", tool.clone());
    }
    if let Some(places) = step.places {
        add(
            "Places",
            say!(
                "{places} places, spread evenly: mark them on the map yourself, in mm from its left and top edge, and take the same ones every time",
                places
            ),
        );
    }
    if let Some(width) = &step.line_width {
        add("Lines", say!("{width} wide", width = numbers::amount(&width.value)));
    }
    if step.rinse {
        add("Rinse", say!("in full, until it runs clear").to_owned());
    }
    if let Some(wait) = step.wait {
        add(
            if matches!(step.verb, Verb::Wait | Verb::Dry) { "Time" } else { "Wait" },
            numbers::amount(&wait),
        );
    }
    facts
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

/// `A1 and C4`, cut after two dozen.
pub(in crate::report) fn section_list(codes: &[&str]) -> String {
    if codes.len() <= 24 {
        list(codes, "and")
    } else {
        say!("{sections} and {n} more", sections = codes[..24].join(", "), n = codes.len() - 24)
    }
}

pub(super) fn before_rounds(study: &Study, catalog: &Catalog) -> Group {
    // A round directly after a step of preparation is read on a surface that was just prepared.
    let own = |placing| matches!(placing, Placing::At(Anchor::Step(_)) | Placing::Cycle(_));
    let washed = study.rounds.iter().filter(|round| !own(round.placing));
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
            ..step_view(study, catalog, (at + 1, step))
        })
        .collect();
    let lines = if steps.is_empty() { Vec::new() } else { at_place(study, catalog) };
    Group { title: "Before each round".into(), lines, steps, ..Group::default() }
}

/// What to mind at the place, once for all that is done there.
fn at_place(study: &Study, catalog: &Catalog) -> Vec<String> {
    texts(&safety::of_place(catalog, study, &safety::place(study)))
}

pub(super) fn upkeep(study: &Study, catalog: &Catalog) -> Group {
    let mut group = Group { title: "Upkeep".into(), ..Group::default() };
    if study.upkeep.iter().any(|upkeep| matches!(upkeep, Upkeep::Every { .. })) {
        group.lines = at_place(study, catalog);
    }
    for (at, upkeep) in study.upkeep.iter().enumerate() {
        match upkeep {
            Upkeep::None(why) => group.lines.push(format!("None, on purpose: {why}.")),
            Upkeep::Every { every, step, from, .. } => {
                let mut view = step_view(study, catalog, (at + 1, step));
                view.title = format!("Every {}: {}", numbers::amount(every), view.title);
                view.facts.extend(from.map(|from| {
                    Entry::new("From", format!("{} after the last coat", numbers::amount(&from)))
                }));
                let dates = study.upkeep_days(upkeep);
                if let (Some(first), Some(last)) = (dates.first(), dates.last()) {
                    let times = count(dates.len(), "time");
                    view.facts.push(Entry::new(
                        "Days",
                        format!("{times}, planned from {first} to {last}; tick each with its day"),
                    ));
                }
                // A box for each day says once what four lines said four times.
                view.writing = usize::from(dates.is_empty() || dates.len() > BOXED) * 4;
                view.boxes = if dates.len() > BOXED {
                    Vec::new()
                } else {
                    dates.iter().map(Date::to_string).collect()
                };
                group.steps.push(view);
            }
        }
    }
    group
}

/// The steps of one cycle, and the patches that each of them is for.
pub(super) fn cycle(study: &Study, catalog: &Catalog) -> Group {
    let Some(cycle) = &study.cycle else { return Group::default() };
    let patches = |step: &Step| {
        let with = step.with.as_ref()?.value;
        let own = study.specimens.iter().filter(|set| {
            set.treated.is_some_and(|treated| treated.marker == with || treated.cleaner == with)
        });
        let drawn = study.patches.as_ref().map_or(&[][..], |patches| patches.drawn.as_slice());
        let own = own.flat_map(|set| drawn.iter().filter(|patch| patch.word == set.name.value));
        let codes: Vec<&str> = own.map(|patch| patch.code.as_str()).collect();
        (!codes.is_empty()).then(|| where_patches(study, &codes))
    };
    let steps = cycle.steps.iter().enumerate().map(|(at, step)| {
        let mut view = step_view(study, catalog, (at + 1, step));
        if let (Some(place), Some(fact)) =
            (patches(step), view.facts.iter_mut().find(|fact| fact.label == "Where"))
        {
            fact.text = place;
        }
        let with = step.with.as_ref().map(|with| study.supply(with.value));
        if let Some((supply, amount)) = with.and_then(|supply| Some((supply, supply.amount.as_ref()?))) {
            view.facts.retain(|fact| fact.label != "Amount");
            let stated = amounts::on_panel(study, step, supply);
            let stated = stated.map_or_else(String::new, |stated| format!("; {stated}"));
            view.facts.push(Entry::new("Amount", format!("{amount}{stated}")));
        }
        let mut blanks = vec!["cycle".to_owned()];
        blanks.append(&mut view.blanks);
        StepView { writing: cycle.most.min(MOST_LINES) as usize, blanks, ..view }
    });
    let mut steps: Vec<StepView> = steps.collect();
    steps.extend(cycle_reading(study, cycle, steps.len() + 1));
    let mut lines = vec![format!("Up to {} cycles; each is a round of readings.", cycle.most)];
    lines.extend(stop_words(study, cycle));
    lines.extend(at_place(study, catalog));
    lines.extend(study.patches.iter().flat_map(|patches| patches.never.clone()));
    let picture = patches::picture(study);
    Group { title: "Each cycle".into(), lines, picture, steps, ..Group::default() }
}

/// The patches by code, and the specimens on which one of them is not used.
fn where_patches(study: &Study, codes: &[&str]) -> String {
    let without = |code: &str| -> Vec<&str> {
        let drawn = |section: &Section| {
            let name = format!("{} / {code}", section.code);
            study.loose.iter().any(|place| place.code == name)
        };
        study.sections.iter().filter(|section| !drawn(section)).map(|section| section.code.as_str()).collect()
    };
    let of: Vec<Vec<&str>> = codes.iter().map(|code| without(code)).collect();
    if of.iter().all(|one| *one == of[0]) {
        let but =
            if of[0].is_empty() { String::new() } else { format!(", but never of {}", section_list(&of[0])) };
        return format!("{} of each specimen{but}", list(codes, "and"));
    }
    let one = |(code, without): (&&str, &Vec<&str>)| match without.as_slice() {
        [] => (*code).to_owned(),
        without => format!("{code} (never of {})", section_list(without)),
    };
    format!("{} of each specimen", list(&codes.iter().zip(&of).map(one).collect::<Vec<_>>(), "and"))
}
