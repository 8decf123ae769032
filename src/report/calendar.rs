//! The calendar: every day of the plan on which somebody has to do something.

use super::checklist::{bring_in_title, put_out_title, title};
use super::due::SheetOf;
use super::material::Material;
use super::names;
use super::prepared::facts_line;
use super::sheet::sheet;
use crate::speech::{say, speak};
use crate::study::{Certificate, Gauge, RoundId, Study, Upkeep};
use crate::text::sha256;
use jiff::civil::Date;

/// The whole calendar.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CalendarView {
    /// The day that all entries were made on: that of the pages, else the first of the plan; `None` without any.
    pub stamp: Option<Date>,
    /// Version of the tool.
    pub version: String,
    /// What is planned, by its first day.
    pub events: Vec<CalendarEvent>,
    /// What is to be done first where no day is known; else empty.
    pub undated: String,
    /// The name of that entry, as of an event.
    pub undated_uid: String,
}

/// A day or a run of days.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CalendarEvent {
    /// The same whenever the same thing of the same study is written again, and different for all others.
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
    let mut events: Vec<CalendarEvent> = preparation(study).into_iter().collect();
    // Before the application: what is read on its day is read on what was just prepared.
    events.extend(study.rounds_with_ids().filter_map(|(id, _)| round(material, id)));
    events.extend(application(study));
    events.extend(places(study));
    events.extend(study.upkeep.iter().enumerate().flat_map(|(at, upkeep)| kept_up(study, at, upkeep)));
    events.extend(study.gauges.iter().flat_map(|gauge| lapses(study, gauge)));
    events.sort_by_key(|event| (event.first, event.last));
    let undated = if events.is_empty() {
        say!("State the day of the application: until then no day of this study is known.")
    } else {
        ""
    };
    CalendarView {
        stamp: material.date.or_else(|| events.first().map(|event| event.first)),
        version: material.version.to_owned(),
        events,
        undated: undated.to_owned(),
        undated_uid: uid(study, "undated"),
    }
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
        uid: uid(study, of),
        first,
        last,
        again: None,
        summary: format!("{what} · {}", study.title.value),
        lines,
    }
}

fn preparation(study: &Study) -> Option<CalendarEvent> {
    let day = study.begins.as_ref()?.value;
    if study.prep.is_empty() {
        return None;
    }
    let steps = study.prep.iter().enumerate();
    let steps = steps.map(|(at, step)| format!("{}. {}", at + 1, title(study, step)));
    let lines = steps.chain([say!("Each step with its safety box: checklist.html.").to_owned()]).collect();
    Some(event(study, "preparation", (day, day), say!("Preparation begins"), lines))
}

/// A day for each on which a coat goes on, by the record as far as it goes, then by the plan.
fn application(study: &Study) -> Vec<CalendarEvent> {
    let placed = study.products_with_ids().filter(|(id, _)| study.is_laid_on(*id));
    let mut coats: Vec<(Date, String)> = Vec::new();
    for (id, product) in placed {
        let several = product.coats_number() > 1;
        for coat in 1..=product.coats_number() {
            let product = product.title();
            let what =
                if several { say!("coat {coat} of {product}", coat, product) } else { product.to_owned() };
            coats.extend(study.coat_at(id, coat).map(|at| (at.date(), what)));
        }
    }
    // Stable, so that coats of one day keep the order of the products.
    coats.sort_by_key(|(day, _)| *day);
    let days = coats.chunk_by(|one, next| one.0 == next.0).enumerate();
    days.map(|(at, coats)| {
        let day = coats[0].0;
        let all = coats.iter().map(|(_, what)| names::capital(what));
        let papers = say!("By the clock: run-sheet.html. Each with its safety box: checklist.html.");
        let lines = all.chain([papers.to_owned()]).collect();
        event(study, &format!("application-{}", at + 1), (day, day), say!("Application"), lines)
    })
    .collect()
}

/// Putting out and bringing in.
fn places(study: &Study) -> Vec<CalendarEvent> {
    let each = study.exposures.iter().enumerate().flat_map(|(at, place)| {
        let out = place.put_out.as_ref().map(|day| {
            let when = say!("Not before every coat has cured, unless its data sheet allows it.");
            (format!("out-{}", at + 1), day.value, put_out_title(study, place), when)
        });
        let home = place.brought_in.as_ref().map(|day| {
            let when =
                say!("What is read at the place is read before; each label is checked against the map.");
            (format!("in-{}", at + 1), day.value, bring_in_title(study, place), when)
        });
        [out, home]
    });
    each.flatten()
        .map(|(of, day, what, when)| event(study, &of, (day, day), &what, vec![when.to_owned()]))
        .collect()
}

/// A round with its window, and what its sheet says of it. A cycle has no day of its own.
fn round(material: &Material<'_>, id: RoundId) -> Option<CalendarEvent> {
    let study = material.study;
    let (round, window) = (study.round(id), study.round(id).window?);
    if round.reads.is_empty() {
        return None;
    }
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
    Some(event(study, &format!("round-{written}"), (window.first, window.last), &what, lines))
}

/// One event that comes again where its days lie evenly, as those of weeks do; else one for each day.
fn kept_up(study: &Study, at: usize, upkeep: &Upkeep) -> Vec<CalendarEvent> {
    let Upkeep::Every { step, .. } = upkeep else { return Vec::new() };
    let mut days = study.upkeep_days(upkeep);
    days.dedup();
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
            vec![CalendarEvent { again, ..one(&format!("upkeep-{}", at + 1), *first) }]
        }
        _ => {
            let each = days.iter().enumerate();
            each.map(|(n, day)| one(&format!("upkeep-{}-{}", at + 1, n + 1), *day)).collect()
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
    let certificates = gauge.certificates.iter().filter(|one| !holds(one.until));
    let told = certificates.filter_map(|certificate| {
        let day = certificate.until.yesterday().ok()?;
        let round = next(certificate)?;
        let what = say!("Last day of the certificate of {gauge}", gauge = name);
        let line = say!("It has to be certified anew before {round}.", round);
        Some(event(study, &format!("certificate-{name}-{}", certificate.from), (day, day), &what, vec![line]))
    });
    told.collect()
}
