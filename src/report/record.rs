//! The record: application as planned and as done, rounds, upkeep, products, incidents, what was left out.

use super::appendix::as_worded;
use super::blocks::{Part, Table, Topic};
use super::checklist::{at_sites, mix_text, section_list, stop_words, title};
use super::comparison::Ranking;
use super::left_out;
use super::material::Material;
use super::names;
use super::numbers::{self, Figure};
use super::prepared::{self, care_records, done_words, facts_line};
use super::weather;
use crate::analysis::RoundState;
use crate::speech::{count, list, plural, said, say};
use crate::study::{
    ApplyClimate, Coat, Disclosure, DoneWhat, Product, ProductId, Reach, RoundId, Step, Study, Treatment,
    Unit, Upkeep,
};
use crate::text::FileId;
use std::collections::BTreeSet;

pub(super) fn parts(material: &Material<'_>, ranking: &Ranking) -> Vec<Part> {
    let study = material.study;
    let until_now = [
        cut_from(study),
        Some(prepared::part(material)),
        Some(application(study)),
        weather::coats(material),
        cycles(study),
        Some(rounds(material)),
        Some(between(study)),
    ];
    let further = [
        Some(products(study)),
        incidents(study),
        left_out::excluded(material, ranking),
        waivers(material),
        notes(material),
    ];
    let weather = weather::between(material).into_iter().map(Some);
    let all = until_now.into_iter().chain(weather).chain(further);
    all.flatten().filter(|part| !part.blocks.is_empty()).collect()
}

/// What was cut from what: specimens of one piece are alike before anything is put on them.
fn cut_from(study: &Study) -> Option<Part> {
    let group = study.groups.first()?;
    let mut part = Part::new(say!("What was cut from which {group}", group = group.name.value));
    for group in &study.groups {
        let name = &group.name.value;
        let mut table = Table::new(&[&names::capital(name), say!("Specimens"), say!("What they carry")]);
        for (piece, sections) in group.pieces() {
            let codes: Vec<&str> = sections.iter().map(|id| study.section(*id).code.as_str()).collect();
            let carried: BTreeSet<&str> =
                sections.iter().map(|id| carried(study, study.section(*id).treatment)).collect();
            let carried: Vec<&str> = carried.into_iter().collect();
            table.row(vec![
                Figure::from(piece),
                Figure::from(section_list(&codes)),
                Figure::from(list(&carried, "and")),
            ]);
        }
        part.table(table);
        part.say(match study.unit_on_panel() {
            Unit::Piece(_) => say!("Specimens of one {name} are more alike than others, and every {name} carries one product only. The \
                 comparisons take the {name} as their unit, by the mean of its specimens.", name),
            Unit::Within(_) => say!("Specimens of one {name} are more alike than others, and every {name} carries the same products, each as often as on any other. \
                 The comparisons are made within each {name}.", name),
            Unit::Linked(_) => say!("Specimens of one {name} are more alike than others, and {names} carry the products unevenly. \
                 The comparisons are made within each {name}, by least squares.", name, names = plural(2, name)),
            Unit::Section => say!("Specimens of one {name} are more alike than others. The comparisons take them as they take any: what \
                 one {name} does differently from the next is in the scatter, or, where a product has more of one, in \
                 its mean.", name),
        });
    }
    Some(part)
}

/// A product by its name in the study, else what a section is.
fn carried(study: &Study, treatment: Treatment) -> &str {
    let name = study.treatment_name(treatment);
    if matches!(treatment, Treatment::Product(_)) { name } else { said(name) }
}

fn application(study: &Study) -> Part {
    let mut part = Part::new(say!("How the products went on")).about(Topic::Applied);
    if let Some(apply) = &study.apply {
        let on = apply.on.as_ref().map(|on| say!("on {day}", day = numbers::day(on.value)));
        let from = apply
            .from
            .map(|from| say!("from {time}", time = format!("{:02}:{:02}", from.hour(), from.minute())));
        let by = apply.by.as_ref().map(|by| say!("by {by}", by));
        let words: Vec<String> =
            [on, from, by].into_iter().flatten().chain(climate_words(&apply.climate)).collect();
        if !words.is_empty() {
            part.say(say!("Planned {how}.", how = words.join(", ")));
        }
    }
    let mut table = Table::new(&[say!("Product"), say!("Sections"), say!("As planned"), say!("As done")]);
    for (id, product) in study.products_with_ids() {
        let codes: Vec<&str> =
            study.carriers_of(Treatment::Product(id)).map(|(_, s)| s.code.as_str()).collect();
        if codes.is_empty() {
            continue;
        }
        table.row(vec![
            Figure::from(product.title()),
            Figure::from(section_list(&codes)),
            Figure::from(plan_words(product)),
            Figure::from(coats_done(study, id)),
        ]);
    }
    part.table(table);
    part
}

fn plan_words(product: &Product) -> String {
    let mut words = vec![count(product.coats_number() as usize, "coat")];
    if product.coats_differ() {
        words.extend(product.each_coat().map(|coat| coat_words(&coat)));
    } else {
        let several = product.coats.as_ref().filter(|coats| coats.number > 1);
        let after = several.and_then(|coats| coats.after);
        words.extend(after.map(|after| say!("the next after {after}", after = numbers::amount(&after))));
        words.extend(product.uses.map(|uses| numbers::amount(&uses)));
    }
    words.extend(product.tool.as_ref().map(|tool| match &tool.because {
        Some(because) => say!("laid on with {tool} ({because})", because, tool = tool.how),
        None => say!("laid on with {tool}", tool = tool.how),
    }));
    let between = product.coats.as_ref().and_then(|coats| coats.between.as_ref());
    words.extend(between.map(|between| say!("between coats: {between}", between)));
    words.extend(
        product.flash.as_ref().map(|flash| say!("flash {flash}", flash = numbers::amount(&flash.value))),
    );
    words.extend(product.dry.as_ref().map(|dry| say!("dry {dry}", dry = numbers::amount(&dry.value))));
    words.extend(product.cure.as_ref().map(|cure| say!("cure {cure}", cure = numbers::amount(&cure.value))));
    words.extend(product.mix.as_ref().map(|mix| mix_text(&mix.value)));
    words.extend(climate_words(&product.climate));
    words.join("; ")
}

/// What is asked of air and surface, as far as it is.
fn climate_words(climate: &ApplyClimate) -> Vec<String> {
    let air = climate.air.map(|air| say!("air {air}", air = numbers::amount(&air)));
    let humidity = climate.humidity.map(|humidity| numbers::amount(&humidity));
    let dew = climate
        .above_dew_point
        .map(|step| say!("surface at least {step} above the dew point", step = numbers::amount(&step)));
    [air, humidity, dew].into_iter().flatten().collect()
}

fn coat_words(coat: &Coat) -> String {
    let words = [
        coat.uses.map(|uses| numbers::amount(&uses)),
        coat.mix.as_ref().map(mix_text),
        coat.after.map(|after| say!("after {after}", after = numbers::amount(&after))),
        coat.off.map(|off| say!("wipe off after {off}", off = numbers::amount(&off))),
    ];
    let words: Vec<String> = words.into_iter().flatten().collect();
    say!(
        "coat {number}: {done}",
        number = coat.number,
        done = if words.is_empty() { say!("no more is stated").to_owned() } else { words.join(", ") }
    )
}

fn coats_done(study: &Study, id: ProductId) -> String {
    let coats = study.done.iter().filter_map(|done| match &done.what {
        DoneWhat::Coat(number, product) if product.value == id => {
            Some(say!("coat {number}: {done}", number, done = done_words(study, done)))
        }
        _ => None,
    });
    let coats: Vec<String> = coats.collect();
    if coats.is_empty() { say!("no record").to_owned() } else { coats.join("; ") }
}

/// What is done in each cycle, and to which patches.
fn cycles(study: &Study) -> Option<Part> {
    let cycle = study.cycle.as_ref()?;
    let mut part =
        Part::new(say!("What a cycle is: up to {most} of them", most = cycle.most)).about(Topic::Cycle);
    let mut table = Table::new(&[">", say!("Step"), say!("As planned")]);
    for (at, step) in cycle.steps.iter().enumerate() {
        table.row(vec![
            Figure::from((at + 1).to_string()),
            Figure::from(title(study, step)),
            Figure::from(facts_line(study, step)),
        ]);
    }
    part.table(table);
    if let Some(patches) = &study.patches {
        if let Some(picture) = super::patches::picture(study) {
            part.picture(picture);
        }
        part.list(patches.never.clone());
    }
    if let Some(stop) = stop_words(study, cycle) {
        part.say(say!("{stop} At a later cycle it counts with the value at which it was stopped; it is taken that going on would have left it as \
             bad or worse.", stop));
    }
    Some(part)
}

fn rounds(material: &Material<'_>) -> Part {
    let study = material.study;
    let states: Vec<Option<RoundState>> =
        study.rounds_with_ids().map(|(id, _)| state(material, id)).collect();
    let read = states.iter().filter(|state| **state == Some(RoundState::Read)).count();
    let mut part =
        Part::new(say!("{read} of {rounds} read", read, rounds = count(study.rounds.len(), "round")))
            .about(Topic::Rounds);
    let mut table =
        Table::new(&[say!("Round"), say!("Planned"), say!("Window"), say!("As read"), say!("Measures")]);
    let mut before: Option<Vec<String>> = None;
    for (id, state) in by_day(material, states) {
        let round = study.round(id);
        let window = round.window.filter(|window| window.first != window.last);
        let reads: Vec<String> = round
            .reads
            .iter()
            .map(|plan| format!("{} {}", names::measure(study, plan.measure.value), times(plan.times)))
            .collect();
        table.row(vec![
            Figure::from(names::round(study, id).into_owned()),
            round.date().map_or_else(Figure::none, |date| Figure::from(numbers::day(date))),
            window.map_or_else(Figure::none, |window| {
                if !round.at_sites.is_empty() {
                    return Figure::from(at_sites(study, round).join("; "));
                }
                Figure::from(say!(
                    "{first} to {last}",
                    first = numbers::day(window.first),
                    last = numbers::day(window.last)
                ))
            }),
            Figure::from(read_words(material, id, state)),
            Figure::from(if reads.len() > 1 && before.as_ref() == Some(&reads) {
                say!("the same").to_owned()
            } else {
                list(&reads, "and")
            }),
        ]);
        before = Some(reads);
    }
    part.table(table);
    part
}

/// The rounds by the day on which they were read, else were to be; those without a day stand behind all that were read.
fn by_day(material: &Material<'_>, states: Vec<Option<RoundState>>) -> Vec<(RoundId, Option<RoundState>)> {
    let study = material.study;
    let read = |id| material.readings.dates(id).map(|(first, _)| first);
    let last = study.rounds_with_ids().filter_map(|(id, _)| read(id)).max();
    let day = |id| read(id).or_else(|| study.round(id).date()).or(last);
    let mut rounds: Vec<_> = study.rounds_with_ids().map(|(id, _)| id).zip(states).collect();
    if last.is_some() {
        rounds.sort_by_key(|&(id, _)| day(id));
    }
    rounds
}

fn times(n: u32) -> String {
    if n == 1 { say!("once").to_owned() } else { say!("{n} times", n) }
}

// A round was read if any measure was; it was missed if one was missed and none read.
fn state(material: &Material<'_>, id: RoundId) -> Option<RoundState> {
    let states: Vec<RoundState> =
        material.analysis.measures.iter().filter_map(|measure| Some(measure.round(id)?.state)).collect();
    [RoundState::Read, RoundState::Missed, RoundState::ToCome]
        .into_iter()
        .find(|state| states.contains(state))
}

fn read_words(material: &Material<'_>, id: RoundId, state: Option<RoundState>) -> String {
    match (state, material.readings.dates(id)) {
        (Some(RoundState::Read), Some((first, last))) if first != last => {
            say!("{first} to {last}", first = numbers::day(first), last = numbers::day(last))
        }
        (Some(RoundState::Read), Some((first, _))) => numbers::day(first),
        (Some(RoundState::Read), None) => say!("read, no date in the file").to_owned(),
        (Some(RoundState::Missed), _) => say!("missed").to_owned(),
        (Some(RoundState::ToCome), _) => say!("to come").to_owned(),
        (None, _) => numbers::DASH.to_owned(),
    }
}

fn between(study: &Study) -> Part {
    let mut part = Part::new(say!("What happened to the panel between rounds"));
    for exposure in &study.exposures {
        let mut words =
            vec![if exposure.site.is_empty() { say!("outdoors").to_owned() } else { exposure.site.clone() }];
        words.extend(
            exposure.faces.as_ref().map(|faces| say!("faces {faces}", faces = names::compass(faces))),
        );
        words.extend(exposure.tilt_deg.map(|tilt| say!("tilt {tilt}°", tilt = numbers::decimal(tilt))));
        words.extend(
            exposure.put_out.as_ref().map(|day| say!("put out {day}", day = numbers::day(day.value))),
        );
        words.extend(
            exposure.brought_in.as_ref().map(|day| say!("brought in {day}", day = numbers::day(day.value))),
        );
        let site = exposure
            .of
            .map_or_else(String::new, |site| say!(" at {site}", site = study.sites[site.index()].value));
        part.say(say!("Exposure{site}: {how}.", site, how = words.join(", ")));
        part.quote(&exposure.prose);
    }
    let step = |step: &Step| {
        let facts = facts_line(study, step);
        if facts.is_empty() { title(study, step) } else { format!("{} ({facts})", title(study, step)) }
    };
    let mut items: Vec<String> = study
        .before_each_round
        .iter()
        .map(|known| say!("Before each round: {step}", step = step(known)))
        .collect();
    items.extend(study.upkeep.iter().map(|upkeep| match upkeep {
        Upkeep::Every { every, step: known, from, .. } => {
            let from =
                from.map(|from| say!(", from {from} after the last coat", from = numbers::amount(&from)));
            say!(
                "Every {every}{from}: {step}",
                every = numbers::amount(every),
                from = from.unwrap_or_default(),
                step = step(known)
            )
        }
        Upkeep::None(why) => say!("No upkeep, on purpose: {why}", why),
    }));
    items.extend(care_records(study));
    part.list(items);
    part
}

fn products(study: &Study) -> Part {
    let mut part = Part::new(bought_heading(study)).about(Topic::Products);
    let mut table = Table::new(&[
        say!("Product"),
        say!("Name in the study"),
        say!("What it is"),
        say!("Batch"),
        say!("How it was obtained"),
        say!("Price"),
        say!("Data sheet"),
    ]);
    for product in &study.products {
        let batch = product.batch.as_ref().map(|opening| match opening.opened {
            Some(date) => say!("{batch}, opened {day}", day = numbers::day(date), batch = opening.batch),
            None => opening.batch.clone(),
        });
        let sheet = product.sheet.as_ref().map(|sheet| match sheet.dated {
            Some(date) => format!("{}, {}", sheet.name, numbers::day(date)),
            None => sheet.name.clone(),
        });
        let price = product.price.map(|price| {
            let any = price.money.any();
            say!(
                "{price} for {amount}",
                price = numbers::money(any.value, any.unit.symbol),
                amount = numbers::amount(&price.amount)
            )
        });
        // The category is the user's own word for grouping; what a thing is, its kind says.
        let kind = product.kind.as_ref().map(names::kind);
        let kind = match (kind, &product.category) {
            (Some(kind), Some(category)) => Some(format!("{kind} ({category})")),
            (kind, category) => kind.or_else(|| category.clone()),
        };
        table.row(vec![
            Figure::from(product.title()),
            Figure::from(product.name.value.as_str()),
            or_dash(kind),
            or_dash(batch),
            Figure::from(disclosed(product.disclosure)),
            or_dash(price),
            or_dash(sheet),
        ]);
    }
    part.table(table);
    part
}

fn bought_heading(study: &Study) -> String {
    let of = |wanted: Option<Disclosure>| {
        study.products.iter().filter(|product| product.disclosure == wanted).count()
    };
    let (bought, silent, all) = (of(Some(Disclosure::Bought)), of(None), study.products.len());
    if silent == all {
        return say!("The study does not say how the products were obtained").to_owned();
    }
    let silent = if silent == 0 { String::new() } else { say!("; of {n} it is not said", n = silent) };
    let who = names::capital(&names::of_products(bought, all));
    if bought == 1 {
        say!("{who} was bought{silent}", who, silent)
    } else {
        say!("{who} were bought{silent}", who, silent)
    }
}

fn or_dash(text: Option<String>) -> Figure {
    text.map_or_else(Figure::none, Figure::from)
}

fn disclosed(disclosure: Option<Disclosure>) -> &'static str {
    match disclosure {
        Some(Disclosure::Bought) => say!("bought"),
        Some(Disclosure::Given) => say!("given by its maker"),
        Some(Disclosure::PaidFor) => say!("its maker paid for the test"),
        None => say!("not said"),
    }
}

fn incidents(study: &Study) -> Option<Part> {
    let n = study.log.len();
    if n == 0 {
        return None;
    }
    let mut part =
        Part::new(say!("{incidents} on the panel", incidents = count(n, "incident"))).about(Topic::Incidents);
    let mut table = Table::new(&[say!("Date"), say!("Where"), say!("What")]);
    let mut entries: Vec<_> = study.log.iter().collect();
    entries.sort_by_key(|entry| entry.date.value);
    for entry in entries {
        let reach = match &entry.reach {
            Reach::All => say!("all sections").to_owned(),
            Reach::Sections(ids) => {
                let codes: Vec<&str> = ids.iter().map(|&id| names::section(study, id)).collect();
                section_list(&codes)
            }
        };
        let ends = if entry.ends { say!("; not read any more") } else { "" };
        table.row(vec![
            Figure::from(numbers::day(entry.date.value)),
            Figure::from(reach),
            Figure::from(format!("{}{ends}", entry.text)),
        ]);
    }
    part.table(table);
    Some(part)
}

/// What the author wrote below the lines of the study, where no other part prints it.
fn notes(material: &Material<'_>) -> Option<Part> {
    let study = material.study;
    let file = material.sources.get(FileId::STUDY)?;
    if study.notes.is_empty() {
        return None;
    }
    let mut part = Part::new(say!("Notes in the study"));
    for note in &study.notes {
        let words: Vec<&str> = file.slice(note.about).split_whitespace().collect();
        part.say(say!(
            "Below “{words}”, line {line}:",
            words = words.join(" "),
            line = file.line_column(note.about.start).0
        ));
        part.quote(&note.prose);
    }
    Some(part)
}

// What a waiver silences is said as the check would have said it; a waiver that silences nothing is a finding.
fn waivers(material: &Material<'_>) -> Option<Part> {
    let n = material.waived.len();
    if n == 0 {
        return None;
    }
    let findings = count(n, "finding");
    let mut part = Part::new(if n == 1 {
        say!("{findings} of the study is waived", findings)
    } else {
        say!("{findings} of the study are waived", findings)
    })
    .about(Topic::Waived);
    part.list(as_worded());
    let mut table = Table::new(&[say!("Finding"), say!("What it says"), say!("Why it is waived")]);
    for waived in material.waived {
        table.row(vec![
            Figure::from(waived.finding.code),
            Figure::from(names::finding(&waived.finding.message)),
            Figure::from(waived.because.as_str()),
        ]);
    }
    part.table(table);
    Some(part)
}
