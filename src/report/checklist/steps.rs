//! Steps of preparation, before each round, of a cycle and of upkeep.

use super::super::numbers;
use super::super::patches;
use super::super::safety::{self, Card, Entry};
use super::amounts;
use super::cycles;
use super::edges;
use super::facts::{facts, mix, supply, title};
use super::film;
use super::lines::{BOXED, LINES, MOST_LINES, UNNAMED, heads, texts};
use super::places::{at_place, at_rounds, two_there};
use super::read::{cycle_reading, how, stop_words};
use super::view::{Group, StepView};
use super::work::wiped_again;
use super::zones;
use crate::catalog::{Catalog, Class};
use crate::hands;
use crate::speech::{self, list, plural, round_name, said, say};
use crate::study::{Mix, NoteOn, Round, Section, SiteId, Step, Study, Supply, Verb, Window};

pub(super) fn preparation(study: &Study, catalog: &Catalog) -> Group {
    let steps = sequence(study, catalog, &study.prep).collect();
    let lines = night(study).into_iter().chain(film::lines(study, catalog)).collect();
    let prose = study.prose_on(NoteOn::Preparation);
    Group { title: say!("Preparation").into(), lines, prose, steps, ..Group::default() }
}

/// Steps that follow one another, with what one of them leaves in the pores for a later one.
fn sequence<'a>(
    study: &'a Study,
    catalog: &'a Catalog,
    steps: &'a [Step],
) -> impl Iterator<Item = StepView> + 'a {
    steps.iter().enumerate().map(move |(at, step)| {
        let before: Vec<&Step> = steps[..at].iter().collect();
        let mut view = step_view(study, catalog, (at + 1, step));
        // First, since whoever does not read it may die of it.
        view.cautions.splice(0..0, safety::kept_in_pores(catalog, study, &before, step));
        view
    })
}

fn night(study: &Study) -> Option<String> {
    wiped_again(study)?;
    let (begins, coats) = (study.begins.as_ref()?.value, study.first_coat()?.date());
    Some(say!(
        "The work begins on {begins}, the first coat on {coats}. Where a night lies between the wipe and that coat, cover what was \
         wiped, and wipe it once more before the coat.",
        begins = numbers::day(begins),
        coats = numbers::day(coats)
    ))
}

/// The preparation of loose specimens, a group for each set.
pub(super) fn of_specimens(study: &Study, catalog: &Catalog) -> Vec<Group> {
    let sets = study.specimens.iter().filter(|set| !set.patch);
    sets.map(|set| {
        let every = say!("every specimen of {set}, the spare ones too", set = set.name.value);
        let steps = set.prep.iter().enumerate().map(|(at, step)| {
            let mut view = step_view(study, catalog, (at + 1, step));
            for fact in view.facts.iter_mut().filter(|fact| fact.label == say!("Where")) {
                fact.text.clone_from(&every);
            }
            view
        });
        let title = say!("Preparation of {set}", set = set.name.value);
        Group { title, steps: steps.collect(), ..Group::default() }
    })
    .collect()
}

pub(super) fn step_view(study: &Study, catalog: &Catalog, (number, step): (usize, &Step)) -> StepView {
    let known = catalog.step(step.verb.word());
    let stated: Vec<Entry> = facts(study, step).into_iter().map(Entry::from).collect();
    let mut facts = with_amount(stated, measured(study, catalog, step));
    facts.extend(step.measure.iter().flat_map(|measure| how(study, measure.value)));
    let each = of_each(study, step);
    // Whoever says where in words of his own has named the places.
    if step.measure.is_some() && step.places.is_none() && step.prose.trim().is_empty() {
        facts.push(Entry::new(
            say!("Places"),
            if each.is_empty() {
                say!("the study names none: read where it counts, and write down where")
            } else {
                say!("the study names none: read each where it counts, and write down where")
            },
        ));
    }
    if step.times > 1 {
        for fact in facts.iter_mut().filter(|fact| fact.label == say!("Wait")) {
            fact.text.push_str(say!(", after the last time"));
        }
        let mixed = mix(study, step).is_some_and(|mix| *mix != Mix::Neat);
        for fact in facts.iter_mut().filter(|fact| mixed && fact.label == say!("Times")) {
            fact.text.push_str(say!(", with one batch for all of them"));
        }
    }
    facts.extend(map_fact(study, step));
    if let Some(at) = map_before(study).filter(|_| !study.is_on_racks()) {
        for fact in facts.iter_mut().filter(|fact| fact.label == say!("Places")) {
            fact.text.push_str(&say!("; the map stands before step {step}", step = at + 1));
        }
    }
    if step.verb == Verb::Tape {
        facts.extend(edges::edges(study));
        facts.extend(edges::side(study));
        facts.extend(edges::taped(study));
    }
    facts.extend(film::of_step(study, catalog, step));
    let (first, fields) = film::before(study, catalog, step).unzip();
    facts.extend(first);
    facts.extend(dried_first(study, step));
    facts.extend(supply(study, step).map(|supply| Entry::new(say!("Amount"), taken(study, step, supply))));
    facts.extend(work_facts(study, step));
    let work = class(study, step).filter(|_| OF_CLASS.contains(&step.verb)).map(|class| &class.work);
    // Water that leaves by itself is taken off with nothing.
    let left_alone = is_left_to_dry(step);
    let change = work.and_then(|work| work.change).or_else(|| known.map(|known| known.change));
    let change = change.filter(|change| !change.is_empty() && !left_alone);
    let neat = mix(study, step) == Some(&Mix::Neat);
    let grey = work.and_then(|work| work.change_mix).filter(|_| !neat);
    let change = [change, grey].into_iter().flatten().map(said).collect::<Vec<_>>().join("; ");
    facts.extend((!change.is_empty()).then(|| Entry::new(say!("Change"), change)));
    rinsed(&mut facts, study, step);
    facts.extend(raised_waste(catalog, step));
    let (blanks, writing) = written(study, step);
    let cards = boxes(study, catalog, step);
    // The box beside it names it with its kind.
    if !cards.is_empty() {
        facts.retain(|fact| fact.label != say!("Supply"));
    }
    StepView {
        number,
        title: title(study, step),
        why: own_purpose(study, step)
            .or(work.and_then(|work| work.purpose).map(said))
            .or(known.map(|known| said(known.what)))
            .unwrap_or_default()
            .to_owned(),
        facts,
        cautions: texts(&safety::of_work(catalog, study, step)),
        prose: prose(study, step),
        signed: !each.is_empty(),
        boxes: each,
        fields: fields.unwrap_or_default(),
        blanks,
        writing,
        rows: Vec::new(),
        cards,
    }
}

/// Specimens of a rack that are read once each before they are coated, each with a line for its value; empty for any other step.
fn of_each(study: &Study, step: &Step) -> Vec<String> {
    let reads = step.measure.is_some() && step.places.is_none() && step.times == 1;
    if !reads || !study.is_on_racks() || study.sections.len() > BOXED {
        return Vec::new();
    }
    study.sections.iter().map(|section| section.code.clone()).collect()
}

/// What the study says of a step, and of what it is done with.
fn prose(study: &Study, step: &Step) -> String {
    let supply = step.with.as_ref().map(|with| study.prose_on(NoteOn::Supply(with.value)));
    let all = [step.prose.trim_end().to_owned(), supply.unwrap_or_default()];
    all.into_iter().filter(|words| !words.is_empty()).collect::<Vec<_>>().join("\n\n")
}

/// The step before which the map stands.
fn map_before(study: &Study) -> Option<usize> {
    let at = |verb: Verb| study.prep.iter().position(|own| own.verb == verb);
    at(Verb::Tape).or_else(|| at(Verb::Label))
}

/// Where the map stands that a step is done by: before the first step that tapes, else before the first that labels.
fn map_fact(study: &Study, step: &Step) -> Option<Entry> {
    let stands = map_before(study);
    if !matches!(step.verb, Verb::Tape | Verb::Label) {
        return None;
    }
    let own = stands.filter(|&at| study.prep.get(at).is_some_and(|own| own.span != step.span));
    let racks = study.is_on_racks();
    let map = match own {
        None if racks => {
            say!("before this step: it has each specimen with its code and its place").to_owned()
        }
        None => say!("before this step: it has each section with its code and its place").to_owned(),
        Some(at) if racks => {
            say!("before step {step}: it has each specimen with its code and its place", step = at + 1)
        }
        Some(at) => {
            say!("before step {step}: it has each section with its code and its place", step = at + 1)
        }
    };
    Some(Entry::new(say!("Map"), map))
}

/// Whether a solvent is laid on what water was just rinsed off, so that it is dried first.
pub(super) fn needs_drying(study: &Study, step: &Step) -> bool {
    let Some(at) = study.prep.iter().position(|own| own.span == step.span) else { return false };
    let wet = |own: &Step| own.rinse || matches!(own.verb, Verb::Wash | Verb::Rinse | Verb::Clay);
    let dry = |own: &Step| own.verb == Verb::Dry || own.verb == Verb::Wait;
    let last = study.prep[..at].iter().rev().find(|own| wet(own) || dry(own));
    let solvent = class(study, step).is_some_and(|class| SOLVENTS.contains(&class.id));
    solvent && last.is_some_and(|own| !dry(own))
}

/// Solvents that are used neat and do not mix with water, so that it keeps them from what they are to take off. Common practice, no
/// source.
const SOLVENTS: [&str; 4] = ["tar-remover", "solvent-wipe", "mineral-spirits", "thinner"];

fn dried_first(study: &Study, step: &Step) -> Option<Entry> {
    needs_drying(study, step).then(|| {
        Entry::new(
            say!("Before it"),
            say!("dry the panel: on a wet one the water keeps it from what it is to take off"),
        )
    })
}

/// The box of what a step is done with, and that of its dust.
fn boxes(study: &Study, catalog: &Catalog, step: &Step) -> Vec<Card> {
    let dust = safety::dust_of_step(catalog, step).map(|dust| safety::of_dust(catalog, study, dust));
    safety::of_step(catalog, study, step).into_iter().chain(dust).collect()
}

/// Whoever dries with a towel needs no such time. Common practice, no source.
pub(super) const LEFT_TO_DRY_S: f64 = 6.0 * 3600.0;

/// Whether water is left to go by itself.
fn is_left_to_dry(step: &Step) -> bool {
    step.verb == Verb::Dry && step.wait.is_some_and(|wait| wait.seconds() >= LEFT_TO_DRY_S)
}

/// What a step is for where that of its verb does not fit.
fn own_purpose(study: &Study, step: &Step) -> Option<&'static str> {
    if is_left_to_dry(step) {
        return Some(say!("Lets the water leave by itself, where air moves and no rain or sun falls on it."));
    }
    if step.verb == Verb::Rinse && !follows_a_supply(study, step) {
        return Some(say!(
            "Takes loose dirt off with plain water alone; catch what must not reach the ground."
        ));
    }
    if step.verb == Verb::Label && !study.is_on_racks() {
        return Some(say!(
            "Names each section where the page of labels says: beside it, never on what is coated or read."
        ));
    }
    (step.verb == Verb::Label).then(|| say!("Names each specimen on its back or an edge, its writing upright when the face is, so that it tells which edge is up; never on what is read."))
}

/// Whether something that a rinse takes off stands before a step in its sequence.
fn follows_a_supply(study: &Study, step: &Step) -> bool {
    let sequences = [&study.prep, &study.before_each_round]
        .into_iter()
        .chain(study.specimens.iter().map(|set| &set.prep));
    let before =
        sequences.filter_map(|steps| Some(&steps[..steps.iter().position(|own| own.span == step.span)?]));
    before.flatten().any(|own| own.with.is_some())
}

/// Steps whose purpose and tools are those of what they are done with.
const OF_CLASS: [Verb; 3] = [Verb::Wash, Verb::Decontaminate, Verb::Wipe];

fn class(study: &Study, step: &Step) -> Option<&'static Class> {
    supply(study, step)?.kind.as_ref()?.class
}

/// What comes before a rinse, and where its water goes: what is wiped up first is not in the water.
fn rinsed(facts: &mut [Entry], study: &Study, step: &Step) {
    let rinse = facts.iter_mut().find(|fact| fact.label == say!("Rinse"));
    let Some((rinse, water)) = rinse.zip(rinse_water(study, step)) else { return };
    let solvent = class(study, step).is_some_and(|class| !class.is_in("fluoride"));
    if solvent && water.starts_with("caught") {
        rinse.text = say!("wiped up with a cloth first, then {rinse}", rinse = rinse.text);
    }
    rinse.text = say!("{rinse}; its water {water}", rinse = rinse.text, water = said(water));
}

fn rinse_water(study: &Study, step: &Step) -> Option<&'static str> {
    class(study, step)?.handling.rinse_water
}

// What is bought has its waste on its card; what arises in the work has none on the checklist.
fn raised_waste(catalog: &Catalog, step: &Step) -> Option<Entry> {
    let known = catalog.step(step.verb.word())?;
    let arises = |class: &&Class| known.raises.contains(&class.id);
    catalog
        .classes()
        .iter()
        .find(arises)
        .map(|class| Entry::new(say!("Its dust"), said(class.handling.waste)))
}

fn taken(study: &Study, step: &Step, supply: &Supply) -> String {
    let stated = amounts::on_panel(study, step, supply);
    let place = match step.verb {
        Verb::Mark | Verb::Clean => "patch",
        _ if study.is_on_racks() => "specimen",
        _ => "section",
    };
    let place = plural(1, place);
    // A can has no marks, so that what was sprayed is known by its weight only.
    let stated = stated.map(|amount| {
        if supply.is_aerosol() { say!("{amount}; weigh the can before and after", amount) } else { amount }
    });
    stated.unwrap_or_else(|| {
        if supply.is_aerosol() {
            say!(
                "as its label says, the same on every {place}; write down what was used: weigh the can before and after",
                place
            )
        } else {
            say!("as its label says, the same on every {place}; write down what was used", place)
        }
    })
}

// The heads of a line to write on, and how many lines. A reading spread over the panel has a line for each place.
fn written(study: &Study, step: &Step) -> (Vec<String>, usize) {
    let places = step.places.unwrap_or(UNNAMED);
    let places = Some(places).filter(|places| *places <= LINES && step.times <= 5);
    match (step.measure.as_ref().zip(places), &step.dwell) {
        (Some(_), _) if !of_each(study, step).is_empty() => {
            (heads(&[say!("date"), say!("time"), say!("initials")]), 1)
        }
        (Some((measure, places)), _) => {
            let unit = &study.measure(measure.value).unit.symbol;
            let mut blanks = if study.is_on_racks() {
                heads(&[say!("date, time"), say!("specimen")])
            } else {
                heads(&[say!("date, time"), say!("place")])
            };
            blanks.extend((1..=step.times).map(|at| format!("{at}, {}", speech::unit(unit))));
            blanks.push(say!("initials").into());
            (blanks, places as usize)
        }
        (None, dwell) => {
            let mut blanks = match dwell {
                Some(_) => heads(&[say!("date"), say!("laid on at"), say!("taken off at")]),
                None => heads(&[say!("date"), say!("time")]),
            };
            blanks.extend(unstated(study, step));
            blanks.push(say!("initials").into());
            (blanks, 1)
        }
    }
}

/// What the study leaves to the hand is written down, or nobody knows afterwards what was done.
fn unstated(study: &Study, step: &Step) -> Vec<String> {
    let amount = supply(study, step)
        .is_some_and(|supply| supply.is_aerosol() || amounts::on_panel(study, step, supply).is_none());
    let rubs = matches!(step.verb, Verb::Sand | Verb::Compound | Verb::Polish);
    let can = supply(study, step).is_some_and(Supply::is_aerosol);
    let used = if can { say!("used, {unit}", unit = "g") } else { say!("used").to_owned() };
    let blanks = [(amount, used), (rubs, say!("note: passes").to_owned())];
    blanks.into_iter().filter(|(asked, _)| *asked).map(|(_, head)| head).collect()
}

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
        class.filter(|class| class.work.must_not_dry_on).map(|_| say!("drying on")),
        class.filter(|class| class.work.leaves_residue).map(|class| left_behind(step, class)),
    ];
    let spoils: Vec<&str> = spoils.into_iter().flatten().collect();
    let spoils = (!spoils.is_empty()).then(|| Entry::new(say!("Spoils it"), spoils.join("; ")));
    let everywhere = || {
        let alike = match (step.verb, study.is_on_racks()) {
            (Verb::Seal, true) => say!(
                "the four narrow sides of every specimen alike, end grain and long edges; neither face nor back"
            ),
            (Verb::Seal, false) => {
                say!("the narrow sides all round, end grain and cut edges; neither face nor back")
            }
            (Verb::Sand | Verb::Compound | Verb::Polish, true) => {
                say!("the face of every specimen alike, the whole of it")
            }
            (_, true) => say!("every specimen alike, the whole of it"),
            (_, false) => say!("the whole panel, every section alike"),
        };
        alike.to_owned()
    };
    let place = only_on(study, step).or_else(|| zones::place(study, step)).unwrap_or_else(everywhere);
    let place = Entry::new(say!("Where"), place);
    spoils.into_iter().chain((step.verb != Verb::Read || step.only.is_some()).then_some(place)).collect()
}

/// What a step leaves, and how that is taken off.
fn left_behind(step: &Step, class: &Class) -> &'static str {
    // On a coat that has cured nothing is put any more.
    if step.verb == Verb::Clean {
        return say!("what it leaves: rinse it off before the patch dries, or it is read with it");
    }
    if class.is_in("hypochlorite") {
        return say!(
            "the salts that it leaves: rinse until the water runs clear, let it dry, brush off what blooms"
        );
    }
    say!("what it leaves: a wipe must follow before the baseline and the products")
}

fn measured(study: &Study, catalog: &Catalog, step: &Step) -> Option<String> {
    let supply = supply(study, step)?;
    let batch = amounts::batch(catalog, study, step, supply, mix(study, step)?)?;
    Some(batch.map_or_else(|why| why, |batch| amounts::batch_words(catalog, supply, &batch)))
}

// The amounts stand under the mix that they are of.
fn with_amount(mut facts: Vec<Entry>, amount: Option<String>) -> Vec<Entry> {
    let below = facts.iter().position(|fact| fact.label == say!("Mix")).map_or(facts.len(), |at| at + 1);
    if let Some(amount) = amount {
        facts.insert(below, Entry::new(say!("Measure out"), amount));
    }
    facts
}

/// `A1 and C4`, cut after two dozen.
pub(in crate::report) fn section_list(codes: &[&str]) -> String {
    if codes.len() <= 24 {
        list(codes, "and")
    } else {
        say!("{sections} and {n} more", sections = codes[..24].join(", "), n = codes.len() - 24)
    }
}

/// `month 3, 2 July 2025`; of a round that each site reads on days of its own, one with each site.
fn days_of(study: &Study, round: &Round) -> Vec<String> {
    let name = round_name(&round.name.value);
    if round.at_sites.is_empty() {
        return vec![match round.date() {
            Some(date) => format!("{name}, {}", numbers::day(date)),
            None => name.into_owned(),
        }];
    }
    let at_site = |(site, window): &(SiteId, Window)| {
        format!("{name}, {}, {}", study.sites[site.index()].value, numbers::day(window.date))
    };
    round.at_sites.iter().map(at_site).collect()
}

pub(super) fn before_rounds(study: &Study, catalog: &Catalog) -> Group {
    let washed: Vec<&Round> = study.rounds.iter().filter(|round| round.is_cared_for()).collect();
    let rounds: Vec<String> = washed.iter().flat_map(|round| days_of(study, round)).collect();
    let steps: Vec<StepView> = sequence(study, catalog, &study.before_each_round)
        .map(|mut view| {
            let true_day = say!("tick each round, and write the true day and initials behind it");
            view.facts.push(Entry::new(say!("Days"), true_day));
            StepView { boxes: rounds.clone(), signed: true, writing: 0, ..view }
        })
        .collect();
    let mut lines = if steps.is_empty() { Vec::new() } else { at_rounds(study, catalog, &washed) };
    if !lines.is_empty() {
        lines.extend(two_there(study, catalog).map(str::to_owned));
    }
    Group { title: say!("Before each round").into(), lines, steps, ..Group::default() }
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
            (patches(step), view.facts.iter_mut().find(|fact| fact.label == say!("Where")))
        {
            fact.text = place;
        }
        let with = step.with.as_ref().map(|with| study.supply(with.value));
        if let Some((supply, amount)) = with.and_then(|supply| Some((supply, supply.amount.as_ref()?))) {
            view.facts.retain(|fact| fact.label != say!("Amount"));
            let stated = amounts::on_panel(study, step, supply);
            let stated = stated.map_or_else(String::new, |stated| {
                say!("; that is what counts, for buying {stated}", stated)
            });
            view.facts.push(Entry::new(say!("Amount"), format!("{}{stated}", numbers::amount(amount))));
        }
        if step.verb == Verb::Clean
            && study.cycle_steps().any(|own| own.verb == Verb::Mark && own.wait.is_some())
        {
            let when = say!("on each patch when its mark has been on for its time");
            view.facts.insert(0, Entry::new(say!("When"), when));
        }
        let patched = matches!(step.verb, Verb::Mark | Verb::Clean);
        cycles::cleaned(study, step, &mut view);
        let mut blanks = vec![say!("cycle").to_owned()];
        if patched {
            blanks.extend(heads(&[say!("date"), say!("first at"), say!("last at")]));
            blanks.extend(unstated(study, step));
            blanks.push(say!("initials").into());
        } else {
            blanks.append(&mut view.blanks);
        }
        StepView { writing: cycle.most.min(MOST_LINES) as usize, blanks, ..view }
    });
    let mut steps: Vec<StepView> = steps.collect();
    steps.extend(cycle_reading(study, cycle, steps.len() + 1));
    let mut lines = vec![say!(
        "Up to {n} cycles, each a round of readings, until every patch is stopped, with the same time between them.",
        n = cycle.most
    )];
    if let Some(days) = hands::cycles(study) {
        lines.push(cycles::begins(&days));
        lines.extend(cycles::ends(&days));
    }
    lines.extend(stop_words(study, cycle));
    if cycle.steps.iter().any(|step| matches!(step.verb, Verb::Mark | Verb::Clean)) {
        let one_by_one = say!(
            "Each patch has its own time: begin only as many as are taken off in time. Its times go on the sheet of the cycle."
        );
        lines.push(one_by_one.to_owned());
    }
    lines.extend(at_place(study, catalog));
    let marked = patches::at_baseline(study);
    lines.extend(patches::places(study).filter(|_| !marked));
    lines.extend(study.patches.iter().flat_map(|patches| patches.never.clone()));
    let picture = patches::picture(study).filter(|_| !marked);
    let prose = study.prose_on(NoteOn::Cycle);
    Group { title: say!("Each cycle").into(), lines, prose, picture, steps, ..Group::default() }
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
        let but = if of[0].is_empty() {
            String::new()
        } else {
            say!(", but never of {ids}", ids = section_list(&of[0]))
        };
        return say!("{patches} of each specimen{but}", patches = list(codes, "and"), but);
    }
    let one = |(code, without): (&&str, &Vec<&str>)| match without.as_slice() {
        [] => (*code).to_owned(),
        without => say!("{code} (never of {ids})", code, ids = section_list(without)),
    };
    let codes: Vec<String> = codes.iter().zip(&of).map(one).collect();
    say!("{patches} of each specimen{but}", patches = list(&codes, "and"), but = "")
}
