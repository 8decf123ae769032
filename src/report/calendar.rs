//! The calendar: every day of the plan on which somebody has to do something.

use super::checklist::{bring_in_title, cycle_begins, cycles_end, put_out_title, title};
use super::due::SheetOf;
use super::material::Material;
use super::names;
use super::prepared::facts_line;
use super::sheet::sheet;
use crate::hands::{self, planned};
use crate::speech::{day, say, speak};
use crate::study::{Certificate, DoneWhat, Gauge, Placing, RoundId, SpecimensId, Study, Upkeep, Verb};
use crate::text::sha256;
use jiff::civil::Date;

/// The whole calendar.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CalendarView {
    /// The day on which the entries were last revised, by what is on record; `None` before anything is.
    pub stamp: Option<Date>,
    /// Version of the tool.
    pub version: String,
    /// What is planned, by its first day.
    pub events: Vec<CalendarEvent>,
    /// What has no day, with what would give it one; empty where all is known.
    pub undated: Vec<String>,
    /// The one line above it.
    pub undated_title: String,
    /// The name of that entry, as of an event.
    pub undated_uid: String,
}

/// A day or a run of days.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CalendarEvent {
    /// The same whenever the same thing of the same study is written again, on whatever day, and different for all others.
    pub uid: String,
    /// First day.
    pub first: Date,
    /// Last day, included.
    pub last: Date,
    /// After how many days it comes again, and how often it comes in all.
    pub again: Option<(i32, usize)>,
    /// One line: what is done, and in which study.
    pub summary: String,
    /// What to have at hand and which paper tells more.
    pub lines: Vec<String>,
}

/// Makes the calendar.
pub fn calendar(material: &Material<'_>) -> CalendarView {
    let _speech = speak(material.study.language);
    let study = material.study;
    let mut events = preparations(study);
    // Before the application: what is read on its day is read on what was just prepared.
    events.extend(study.rounds_with_ids().flat_map(|(id, _)| round(material, id)));
    events.extend(application(study));
    events.extend(cycles(study));
    events.extend(places(study));
    events.extend(study.upkeep.iter().flat_map(|upkeep| kept_up(study, upkeep)));
    events.extend(study.gauges.iter().flat_map(|gauge| lapses(study, gauge)));
    name(study, &mut events);
    events.sort_by_key(|event| (event.first, event.last));
    CalendarView {
        stamp: stamp(material),
        version: material.version.to_owned(),
        undated: undated(study, &events),
        events,
        undated_title: say!("Without a day in this calendar · {study}", study = study.title.value),
        undated_uid: uid(study, "undated"),
    }
}

/// The day on which the entries were last revised, as far as the study itself knows: the last one of its record, its log and its
/// readings. It only rises as these grow; a planned day may move back, and would make a newer calendar look like an older one.
fn stamp(material: &Material<'_>) -> Option<Date> {
    let study = material.study;
    let done = study.done.iter().map(|done| done.date.value);
    let log = study.log.iter().map(|entry| entry.date.value);
    done.chain(log).chain(material.date).max()
}

/// Gives each event its name: by what it is of, so that no other day, nor a statement more, changes it. Of two that are alike the
/// later one in the file has a number.
fn name(study: &Study, events: &mut [CalendarEvent]) {
    let mut taken: Vec<String> = Vec::new();
    for event in events {
        let mut of = event.uid.clone();
        let mut n = 2;
        while taken.contains(&of) {
            of = format!("{} no {n}", event.uid);
            n += 1;
        }
        event.uid = uid(study, &of);
        taken.push(of);
    }
}

/// What has no day yet, and what would give it one.
fn undated(study: &Study, events: &[CalendarEvent]) -> Vec<String> {
    let mut lines = Vec::new();
    let is_prepared = study.preparations().any(|set| !study.prep_of(set).is_empty());
    if is_prepared && study.preparations().all(|set| prepared_on(study, set).is_none()) {
        lines.push(
            say!("The preparation: “begins 2026-03-02” below the title of the study states its day.")
                .to_owned(),
        );
    }
    let coated = study.products_with_ids().any(|(id, _)| study.is_laid_on(id));
    if coated && study.last_of_all_coats().is_none() {
        lines.push(
            say!("The application, and what counts from it: “on 2026-03-03 from 09:00” under “apply” states its day.").to_owned(),
        );
    }
    let open = study.rounds_with_ids().filter(|(_, round)| {
        round.window.is_none() && !round.reads.is_empty() && !matches!(round.placing, Placing::Cycle(_))
    });
    let open: Vec<String> = open.map(|(id, _)| names::round(study, id).into_owned()).collect();
    if !open.is_empty() {
        lines.push(say!("Rounds: {rounds}.", rounds = open.join(", ")));
    }
    if study.exposures.iter().any(|place| place.put_out.is_none()) {
        lines.push(say!("Putting out: “put out 2026-04-02” under “exposure” states its day.").to_owned());
    }
    let every = |upkeep: &&Upkeep| matches!(upkeep, Upkeep::Every { .. });
    if study.upkeep.iter().filter(every).any(|upkeep| study.upkeep_days(upkeep).is_empty()) {
        lines.push(say!("Upkeep: its days count from the last coat to the last round.").to_owned());
    }
    if lines.is_empty() && events.is_empty() {
        lines.push(say!("This study plans nothing that has a day.").to_owned());
    }
    lines
}

/// A name-based UUID of version 8, as RFC 9562, appendix B.2, makes one from SHA-256; the title of the study and what the event is
/// of are its name.
fn uid(study: &Study, of: &str) -> String {
    let digest = sha256(&[study.title.value.as_bytes(), b"\n", of.as_bytes()]);
    // The two bits of the variant leave four letters for the first digit of its group.
    let variant = match digest.as_bytes()[16] {
        b'0' | b'4' | b'8' | b'c' => '8',
        b'1' | b'5' | b'9' | b'd' => '9',
        b'2' | b'6' | b'a' | b'e' => 'a',
        _ => 'b',
    };
    format!(
        "{}-{}-8{}-{variant}{}-{}",
        &digest[..8],
        &digest[8..12],
        &digest[13..16],
        &digest[17..20],
        &digest[20..32]
    )
}

fn event(study: &Study, of: &str, days: (Date, Date), what: &str, lines: Vec<String>) -> CalendarEvent {
    let (first, last) = days;
    CalendarEvent {
        uid: of.to_owned(),
        first,
        last,
        again: None,
        summary: format!("{what} · {}", study.title.value),
        lines,
    }
}

/// The first and the last day of a preparation: by the record as far as it goes, else the day on which the study begins.
fn prepared_on(study: &Study, set: Option<SpecimensId>) -> Option<(Date, Date)> {
    let own = study
        .done
        .iter()
        .filter(|done| matches!(done.what, DoneWhat::Prep(_)) && !done.is_care() && done.set == set);
    let days = || own.clone().map(|done| done.date.value);
    let begins = study.begins.as_ref().map(|day| day.value);
    days().min().zip(days().max()).or(begins.map(|day| (day, day)))
}

/// The preparation of the panel and of each set of specimens.
fn preparations(study: &Study) -> Vec<CalendarEvent> {
    let each = study.preparations().filter_map(|set| {
        let days = prepared_on(study, set).filter(|_| !study.prep_of(set).is_empty())?;
        let steps = study.prep_of(set).iter().enumerate();
        let steps = steps.map(|(at, step)| format!("{}. {}", at + 1, title(study, step)));
        let lines =
            steps.chain([say!("Each step with its safety box: checklist.html.").to_owned()]).collect();
        let name = set.map(|set| study.specimens[set.index()].name.value.as_str());
        let what = match name {
            None => say!("Preparation begins").to_owned(),
            Some(name) => say!("Preparation of {name} begins", name),
        };
        let of = name.map_or_else(|| "preparation".to_owned(), |name| format!("preparation-{name}"));
        Some(event(study, &of, days, &what, lines))
    });
    each.collect()
}

/// A day for each on which a coat goes on, by the record as far as it goes, then by the run sheet.
fn application(study: &Study) -> Vec<CalendarEvent> {
    let placed = study.products_with_ids().filter(|(id, _)| study.is_laid_on(*id));
    let planned = planned(study);
    let mut coats: Vec<(Date, String, String)> = Vec::new();
    for (id, product) in placed {
        let several = product.coats_number() > 1;
        for coat in 1..=product.coats_number() {
            let of = format!("application-{coat}-{}", product.name.value);
            let product = product.title();
            let what =
                if several { say!("coat {coat} of {product}", coat, product) } else { product.to_owned() };
            let days = planned.coat_days(id, coat);
            coats.extend(days.into_iter().map(|day| (day, what.clone(), of.clone())));
        }
    }
    // Stable, so that coats of one day keep the order of the products.
    coats.sort_by_key(|(day, ..)| *day);
    let days = coats.chunk_by(|one, next| one.0 == next.0);
    days.map(|coats| {
        let (day, of) = (coats[0].0, &coats[0].2);
        let all = coats.iter().map(|(_, what, _)| names::capital(what));
        let papers = say!("By the clock: run-sheet.html. Each with its safety box: checklist.html.");
        let lines = all.chain([papers.to_owned()]).collect();
        event(study, of, (day, day), say!("Application"), lines)
    })
    .collect()
}

/// The first day of the cycles, which have no days of their own.
fn cycles(study: &Study) -> Option<CalendarEvent> {
    let days = hands::cycles(study)?;
    let day = days.first?;
    let lines = std::iter::once(cycle_begins(&days)).chain(cycles_end(&days)).collect();
    Some(event(study, "cycles", (day, day), say!("Cycle 1 may begin"), lines))
}

/// Putting out and bringing in.
fn places(study: &Study) -> Vec<CalendarEvent> {
    let each = study.exposures.iter().flat_map(|place| {
        let out = place.put_out.as_ref().map(|day| {
            let when = say!("Not before every coat has cured, unless its data sheet allows it.");
            (format!("out-{}", place.site), day.value, put_out_title(study, place), when)
        });
        let home = place.brought_in.as_ref().map(|day| {
            let when =
                say!("What is read at the place is read before; each label is checked against the map.");
            (format!("in-{}", place.site), day.value, bring_in_title(study, place), when)
        });
        [out, home]
    });
    each.flatten()
        .map(|(of, day, what, when)| event(study, &of, (day, day), &what, vec![when.to_owned()]))
        .collect()
}

/// A round with its window, and what its sheet says of it; one at each site where these have days of their own. A cycle has no day
/// of its own.
fn round(material: &Material<'_>, id: RoundId) -> Vec<CalendarEvent> {
    let study = material.study;
    let round = study.round(id);
    let Some(window) = round.window.filter(|_| !round.reads.is_empty()) else { return Vec::new() };
    let (of, what, lines) = told(material, id);
    if round.at_sites.is_empty() {
        return vec![event(study, &of, (window.first, window.last), &what, lines)];
    }
    let each = round.at_sites.iter().map(|(site, window)| {
        let name = &study.sites[site.index()].value;
        let here = say!("{what}, at {site}", what, site = name);
        let planned = say!("{site}: planned for {day}.", site = name, day = day(window.date));
        let lines = std::iter::once(planned).chain(lines.iter().skip(1).cloned()).collect();
        event(study, &format!("{of}-{name}"), (window.first, window.last), &here, lines)
    });
    each.collect()
}

/// What an entry of a round is of, its line, and what its sheet says.
fn told(material: &Material<'_>, id: RoundId) -> (String, String, Vec<String>) {
    let (study, round) = (material.study, material.study.round(id));
    let sheet = sheet(material, SheetOf::Round(id));
    let name = names::capital(&sheet.round_said);
    let mut measures: Vec<&str> = Vec::new();
    for plan in &round.reads {
        // A measure of the patches once, and not for each marker and cleaner.
        let id = study.measure(plan.measure.value).of.unwrap_or(plan.measure.value);
        let own = names::measure(study, id);
        if !measures.contains(&own) {
            measures.push(own);
        }
    }
    let what = say!("{round}: read {measures}", round = name, measures = measures.join(", "));
    let mut lines = vec![sheet.when];
    if study.decide.as_ref().is_some_and(|decision| decision.round == Some(id)) {
        lines.push(say!("This round decides the study.").to_owned());
    }
    lines.extend(sheet.before.iter().map(|step| say!("Before reading: {step}.", step)));
    lines.extend(sheet.measures.iter().map(|measure| format!("{}: {}", measure.name, measure.what)));
    let (stem, written) = (&sheet.stem, &sheet.round);
    lines.push(say!("Sheet: {stem}.html, printed by “tapeline print --sheet \"{written}\"”.", stem, written));
    (format!("round-{written}"), what, lines)
}

/// The days of upkeep: those on record, then those of the plan after them. Where two kinds are done with one verb the record does
/// not tell them apart.
fn kept_days(study: &Study, upkeep: &Upkeep, verb: Verb) -> Vec<Date> {
    let mut days = study.upkeep_days(upkeep);
    let is_of = |one: &&Upkeep| matches!(one, Upkeep::Every { step, .. } if step.verb == verb);
    if study.upkeep.iter().filter(is_of).count() == 1 {
        let own = study.done.iter().filter(|done| done.upkeep && done.what == DoneWhat::Prep(verb));
        let mut recorded: Vec<Date> = own.map(|done| done.date.value).collect();
        recorded.sort_unstable();
        // What was done stands for as many of the planned days.
        let open = days.split_off(recorded.len().min(days.len()));
        let last = recorded.last().copied();
        days = recorded;
        days.extend(open.into_iter().filter(|day| last.is_none_or(|last| *day > last)));
    }
    days.dedup();
    days
}

/// One event that comes again where its days lie evenly, as those of weeks do; else one for each day.
fn kept_up(study: &Study, upkeep: &Upkeep) -> Vec<CalendarEvent> {
    let Upkeep::Every { step, .. } = upkeep else { return Vec::new() };
    let days = kept_days(study, upkeep, step.verb);
    let with = step.with.as_ref().map_or("", |with| study.supply(with.value).name.value.as_str());
    let of = format!("upkeep-{} {with}", step.verb.word());
    let step_title = title(study, step);
    let what = say!("Upkeep: {step}", step = step_title);
    let facts = names::capital(&facts_line(study, step));
    let told = (!facts.is_empty() && facts != step_title).then_some(facts);
    let papers = say!("Each step with its safety box: checklist.html.").to_owned();
    let lines: Vec<String> = told.into_iter().chain([papers]).collect();
    let one = |of: &str, day: Date| event(study, of, (day, day), &what, lines.clone());
    let apart: Vec<i32> = days.windows(2).map(|pair| (pair[1] - pair[0]).get_days()).collect();
    match (days.first(), apart.first()) {
        (Some(first), Some(every)) if apart.iter().all(|days| days == every) => {
            let again = Some((*every, days.len()));
            vec![CalendarEvent { again, ..one(&format!("{of}-1"), *first) }]
        }
        _ => {
            let each = days.iter().enumerate();
            each.map(|(n, day)| one(&format!("{of}-{}", n + 1), *day)).collect()
        }
    }
}

/// The last day of each certificate that no other one follows, while the gauge is still to read.
fn lapses(study: &Study, gauge: &Gauge) -> Vec<CalendarEvent> {
    let holds = |day: Date| gauge.certificates.iter().any(|one| one.from <= day && day < one.until);
    let next = |certificate: &Certificate| {
        let reads = |id: RoundId| {
            let plans = study.round(id).reads.iter();
            plans.clone().any(|plan| gauge.reads.iter().any(|read| read.value == plan.measure.value))
        };
        let later = study.rounds_with_ids().filter_map(|(id, round)| {
            let last = round.window?.last;
            (reads(id) && last >= certificate.until).then_some((last, id))
        });
        later.min().map(|(_, id)| names::round(study, id))
    };
    let name = &gauge.name.value;
    let certificates = gauge.certificates.iter().enumerate().filter(|(_, one)| !holds(one.until));
    let told = certificates.filter_map(|(at, certificate)| {
        let day = certificate.until.yesterday().ok()?;
        let round = next(certificate)?;
        let what = say!("Last day of the certificate of {gauge}", gauge = name);
        let line = say!("It has to be certified anew before {round}.", round);
        Some(event(study, &format!("certificate-{name}-{}", at + 1), (day, day), &what, vec![line]))
    });
    told.collect()
}
