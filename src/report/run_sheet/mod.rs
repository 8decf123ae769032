//! The run sheet: the application by the clock, for one pair of hands.

mod hazards;

use super::checklist;
use super::material::Material;
use super::numbers;
use super::safety::{self, Meeting};
use crate::hands::{Act, HOURS, MORNING, Pace, Run, Work, run};
use crate::speech::{list, say, speak};
use crate::study::{DoneWhat, Product, SectionId, Study, Treatment, Verb};
use jiff::SignedDuration;
use jiff::civil::DateTime;
use serde::Serialize;

/// The whole sheet.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RunSheetView {
    /// Title of the study.
    pub study: String,
    /// The day of the page.
    pub as_of: String,
    /// Version of the tool.
    pub version: String,
    /// When it ends, with what pace it is counted, and what has to be kept in mind.
    pub lines: Vec<String>,
    /// What is looked at before the first coat.
    pub before: Vec<String>,
    /// Windows that one pair of hands cannot keep.
    pub missed: Vec<String>,
    /// Things that must never meet.
    pub meetings: Vec<Meeting>,
    /// Where cloths and applicators go, by what is on them.
    pub cloths: Vec<String>,
    /// Whether tape is pulled, which goes there too.
    pub is_taped: bool,
    /// What is breathed through, where products ask for different filters.
    pub masks: Vec<String>,
    /// The acts of each day.
    pub days: Vec<RunDay>,
}

/// One day of the application.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RunDay {
    /// The day.
    pub title: String,
    /// What is done, in order.
    pub rows: Vec<RunRow>,
}

/// One act.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RunRow {
    /// When it begins, as `09:12`.
    pub at: String,
    /// What is done.
    pub work: String,
    /// The codes of its sections.
    pub sections: String,
    /// How much goes on each section, as `0.7 ml`, or on which how much; empty where nothing goes on or it is not stated.
    pub each: Vec<String>,
    /// With which product.
    pub product: String,
    /// When it may begin, by the clock; blank for any time.
    pub window: String,
    /// True where little of the window is left.
    pub tight: bool,
    /// True where the product is another one than in the row before.
    pub change: bool,
    /// True where the next row is the other half of this one, so that both stand on one sheet.
    pub pair: bool,
}

/// Seconds of a day.
const DAY: i64 = 24 * 3600;

/// Makes the sheet.
pub fn run_sheet(material: &Material<'_>) -> RunSheetView {
    let _speech = speak(material.study.language);
    let study = material.study;
    let run = run(study);
    let clock = Clock::of(study);
    let lines = match &run {
        Some(run) => {
            let mut lines = lines(study, run, &clock);
            lines.extend(hazards::rubbing(study, material.catalog));
            lines
        }
        None => vec![say!("No product goes on a section.").to_owned()],
    };
    RunSheetView {
        study: study.title.value.clone(),
        as_of: material.as_of(),
        version: material.version.to_owned(),
        lines,
        before: run.iter().flat_map(|_| before(study)).collect(),
        missed: run.iter().flat_map(|run| missed(study, run)).collect(),
        meetings: safety::meetings(material.catalog, study),
        is_taped: study.prep.iter().any(|step| step.verb == Verb::Tape),
        cloths: run.iter().flat_map(|_| hazards::cloths(study, material.catalog)).collect(),
        masks: run.iter().flat_map(|_| hazards::masks(study, material.catalog)).collect(),
        days: run.iter().flat_map(|run| days(study, run, &clock)).collect(),
    }
}

/// Seconds from the start of the application, as a moment.
struct Clock {
    start: DateTime,
    /// The day is stated.
    dated: bool,
    /// The hour is stated.
    timed: bool,
}

impl Clock {
    fn of(study: &Study) -> Self {
        let apply = study.apply.as_ref();
        let on = apply.and_then(|apply| apply.on.as_ref()).map(|on| on.value);
        let from = apply.and_then(|apply| apply.from);
        let day = on.unwrap_or(jiff::civil::date(2001, 1, 1));
        Self { start: day.to_datetime(from.unwrap_or(MORNING)), dated: on.is_some(), timed: from.is_some() }
    }

    fn at(&self, seconds: i64) -> DateTime {
        self.start.saturating_add(SignedDuration::from_secs(seconds))
    }

    /// `9 April 2025`, or `day 2`.
    fn day(&self, seconds: i64) -> String {
        let at = self.at(seconds);
        if self.dated {
            return numbers::day(at.date());
        }
        let n = self.start.date().until(at.date()).map_or(0, |span| span.get_days()) + 1;
        say!("day {n}", n)
    }

    fn hour(&self, seconds: i64) -> String {
        self.at(seconds).strftime("%H:%M").to_string()
    }

    /// The hour, with its day where that is another one.
    fn moment(&self, seconds: i64, beside: i64) -> String {
        if self.at(seconds).date() == self.at(beside).date() {
            self.hour(seconds)
        } else {
            say!("{time} on {day}", time = self.hour(seconds), day = self.day(seconds))
        }
    }
}

fn lines(study: &Study, run: &Run, clock: &Clock) -> Vec<String> {
    let (from, ends) = (clock.hour(0), clock.moment(ends(study, run), 0));
    // The tape of bare sections has its row too, so that the time at work and the end count it alike.
    let bare = bare_pulling(study, run);
    let busy = length(run.busy + bare);
    let mut lines = Vec::new();
    lines.extend(on_record(study, run, clock));
    lines.push(if run.in_turn > run.ends {
        let turn = clock.moment(run.in_turn + bare, 0);
        say!(
            "One pair of hands from {from} is done at {ends}, {busy} of it at work. With each product finished before the next is \
             begun it would be {turn}.",
            from,
            ends,
            busy,
            turn
        )
    } else {
        say!("One pair of hands from {from} is done at {ends}, {busy} of it at work.", from, ends, busy)
    });
    lines.extend(
        study
            .products_with_ids()
            .filter(|(id, _)| run.acts.iter().any(|act| act.product == Some(*id)))
            .flat_map(|(_, product)| unsaid(product)),
    );
    lines.extend(of_carrier(study));
    if !clock.timed {
        let hour = clock.hour(0);
        lines.push(say!(
            "No hour is stated, so {hour} is taken: “on 2026-03-03 from 09:00” under “apply” states it.",
            hour
        ));
    }
    lines.push(of_pace(&run.pace, run.acts.iter().any(|act| act.work == Work::PullTape)));
    if run.acts.iter().any(|act| act.work == Work::Between) {
        let between = length(run.pace.between);
        lines.push(say!(
            "What is done between coats is counted with {between} a section; its dust is handled as its step on the checklist says.",
            between
        ));
    }
    lines.extend(checklist::stays_bare(study));
    let taped = study.prep.iter().any(|step| step.verb == Verb::Tape);
    if taped && !run.acts.iter().any(|act| act.work == Work::PullTape) {
        let when = say!(
            "The study does not say when the tape comes off: as the data sheets say, while the coat is soft."
        );
        lines.push(when.to_owned());
    }
    if run.ends > DAY {
        lines.push(say!("A day of work has {hours} h from its first minute.", hours = HOURS / 3600));
    }
    if run.pace.assumed {
        lines.push(
            say!(
                "These times are common practice, no source. Time yourself on a spare section and write \
                 “pace lay on 2 min, wipe off 1 min, between 2 min, pull tape 1 min, change 3 min” under “apply”."
            )
            .into(),
        );
    }
    lines.extend(hazards::of_every_run());
    lines
}

/// What is done already, and what of it was done on another day than the plan has.
fn on_record(study: &Study, run: &Run, clock: &Clock) -> Option<String> {
    let done =
        |what: &DoneWhat| if let DoneWhat::Coat(coat, id) = what { Some((*coat, id.value)) } else { None };
    let coats: Vec<_> =
        study.done.iter().filter_map(|own| Some((done(&own.what)?, own.date.value))).collect();
    if coats.is_empty() {
        return None;
    }
    let planned = |coat: u32, id| {
        let acts = run.acts.iter().filter(move |act| act.product == Some(id) && act.coat == coat);
        acts.filter(|act| act.work.is_laying()).map(|act| clock.at(act.begins).date()).collect::<Vec<_>>()
    };
    let mut other: Vec<String> = Vec::new();
    for ((coat, id), day) in coats {
        if clock.dated && !planned(coat, id).contains(&day) {
            let product = study.product(id);
            let what = if product.coats_number() > 1 {
                say!("coat {coat} of {product}", coat, product = product.title())
            } else {
                product.title().to_owned()
            };
            let told = say!("{what} on {day}", what, day = numbers::day(day));
            if !other.contains(&told) {
                other.push(told);
            }
        }
    }
    let plan = say!(
        "Coats are on record already: this sheet is the plan, counted from its start, and not what the record has."
    );
    Some(if other.is_empty() {
        plan.to_owned()
    } else {
        let coats = list(&other, "and");
        say!("{plan} By the record other than here: {coats}.", plan, coats)
    })
}

/// What the study leaves open, or what hands have to keep in mind, of one product.
fn unsaid(product: &Product) -> Vec<String> {
    let name = product.title();
    let off = product.each_coat().any(|coat| coat.off.is_none()) && !product.unwiped;
    let after = product.each_coat().any(|coat| coat.number > 1 && coat.after.is_none());
    let keeps = product.keeps.as_ref().map(|keeps| numbers::amount(&keeps.value));
    [
        off.then(|| say!("{name}: no flash time is stated, so how long it lies is not in these times; as its label says.", name)),
        after.then(|| say!("{name}: no wait between its coats is stated; its label says when the next may go on.", name)),
        keeps.map(|time| say!("{name}: mixed afresh each time it is laid on, and used up within {time} of mixing.", name, time)),
    ]
    .into_iter()
    .flatten()
    .collect()
}

/// What goes on where the carrier alone does.
fn of_carrier(study: &Study) -> Option<String> {
    let codes: Vec<String> =
        study.carrier_to_lay_on().into_iter().map(|id| study.section(id).code.clone()).collect();
    let sections = list(&codes, "and");
    if codes.is_empty() {
        return None;
    }
    Some(match study.carrier_of().map(|id| study.product(id).title()) {
        Some(product) => say!(
            "{sections}: the carrier of {product} alone, as often, as much and with the same tool as that product, and wiped off as \
             that is. Which liquid it is the study does not say; its data sheet is read first.",
            sections,
            product
        ),
        None => say!(
            "{sections}: the carrier alone, as often, as much and with the same tool as the product that it is the carrier of, and \
             wiped off as that is. It stands here as often as the product with the most coats: what its own product does not get is left out. Which liquid it is the study does not say; its data sheet is read first.",
            sections
        ),
    })
}

fn of_pace(pace: &Pace, is_taped: bool) -> String {
    let (lay, wipe) = (length(pace.lay_on), length(pace.wipe_off));
    if !is_taped {
        return say!(
            "Counted with {lay} to lay a coat on one section, {wipe} to level or wipe it off, and {change} to change to another product.",
            lay,
            wipe,
            change = length(pace.change)
        );
    }
    let (pull, change) = (length(pace.pull), length(pace.change));
    say!(
        "Counted with {lay} to lay a coat on one section, {wipe} to level or wipe it off, {pull} to pull its tape, and {change} to \
         change to another product.",
        lay,
        wipe,
        pull,
        change
    )
}

/// `2 h 10 min`, `45 s`.
fn length(seconds: i64) -> String {
    let (hours, minutes, rest) = (seconds / 3600, seconds / 60 % 60, seconds % 60);
    let part = |n: i64, unit: &str| (n > 0).then(|| format!("{n} {unit}"));
    let parts = [part(hours, "h"), part(minutes, "min"), part(rest, "s")];
    parts.into_iter().flatten().collect::<Vec<_>>().join(" ")
}

fn codes(study: &Study, act: &Act) -> Vec<String> {
    act.sections.iter().map(|&id| study.section(id).code.clone()).collect()
}

/// `A1, C4`, or `roof A1, B3; lake A4`: a site is named once before its codes, and a few codes of a site stay on one line.
fn placed(study: &Study, act: &Act) -> String {
    at_sites(study, &act.sections)
}

fn at_sites(study: &Study, sections: &[SectionId]) -> String {
    const FEW: usize = 4;
    let mut sites: Vec<(&str, Vec<&str>)> = Vec::new();
    for section in sections.iter().map(|&id| study.section(id)) {
        let whole = ("", section.code.as_str());
        let parts = section.site.and_then(|_| section.code.rsplit_once(' '));
        let (site, code) = parts.unwrap_or(whole);
        match sites.last_mut().filter(|(last, _)| *last == site) {
            Some((_, codes)) => codes.push(code),
            None => sites.push((site, vec![code])),
        }
    }
    let held = |text: &str| text.replace(' ', "\u{a0}");
    let told = sites.iter().map(|(site, codes)| {
        let codes: Vec<String> = codes.iter().map(|code| held(code)).collect();
        match codes.as_slice() {
            codes if site.is_empty() => codes.join(", "),
            codes if codes.len() <= FEW => held(&format!("{site} {}", codes.join(", "))),
            codes => format!("{}\u{a0}{}", held(site), codes.join(", ")),
        }
    });
    told.collect::<Vec<_>>().join("; ")
}

fn missed(study: &Study, run: &Run) -> Vec<String> {
    let all = run.acts.iter().filter(|act| !act.kept);
    all.map(|act| {
        let (work, product) = (work(study, act), goes_on(study, act));
        let sections = list(&codes(study, act), "and");
        let in_window = act.window.is_none_or(|(_, last)| last.is_none_or(|last| act.begins <= last));
        if act.work == Work::LayAndWipe && in_window {
            say!(
                "{product} on {sections}: its time is over before a section is laid on at this pace. Lay on and wipe off a part of \
                 it at a time.",
                product,
                sections
            )
        } else {
            say!(
                "{product} on {sections}, {work}: one pair of hands cannot keep its window in days of {hours} h. Have help, or \
                 longer days.",
                product,
                sections,
                work,
                hours = HOURS / 3600
            )
        }
    })
    .collect()
}

/// What goes on in an act.
fn goes_on<'s>(study: &'s Study, act: &Act) -> &'s str {
    act.product.map_or_else(|| say!("the carrier alone"), |id| study.product(id).title())
}

/// What is done, with the coat where there are several.
fn work(study: &Study, act: &Act) -> String {
    let Some(id) = act.product else {
        let laid = study.products_with_ids().filter(|(id, _)| study.is_laid_on(*id));
        let several = laid.into_iter().any(|(_, product)| product.coats_number() > 1);
        return match act.work {
            Work::PullTape => say!("pull the tape").to_owned(),
            _ if several => say!("lay on coat {coat}, wipe off", coat = act.coat),
            _ => say!("lay on, wipe off").to_owned(),
        };
    };
    let product = study.product(id);
    let coat = act.coat;
    let laid =
        if product.coats_number() > 1 { say!("lay on coat {coat}", coat) } else { say!("lay on").to_owned() };
    let own = product.coat(coat);
    let off = if product.is_levelled(&own) { say!("level or buff") } else { say!("wipe off") };
    match act.work {
        Work::LayOn if act.resumed => say!("{laid}, with a fresh applicator and cloth", laid),
        Work::LayOn => laid,
        Work::Between => {
            let between = product.coats.as_ref().and_then(|coats| coats.between.clone());
            say!("before coat {coat}: {between}", coat, between = between.unwrap_or_default())
        }
        Work::WipeOff => off.to_owned(),
        Work::LayAndWipe => match own.off.map(|time| numbers::amount(&time)) {
            Some(time) => say!("{laid}, stay, {off} after {time}", laid, off, time),
            None => {
                say!("{laid}, stay, level or buff as its label says, at once where it names no time", laid)
            }
        },
        Work::PullTape => say!("pull the tape").into(),
    }
}

/// What one section takes of a coat that is laid on.
fn each(study: &Study, act: &Act) -> Vec<String> {
    let Some(id) = act.product.filter(|_| act.work.is_laying()) else { return Vec::new() };
    let coat = study.product(id).coat(act.coat);
    let need = checklist::need(study, id, std::iter::once(coat));
    need.map_or_else(Vec::new, |need| need.amounts(study, &act.sections))
}

/// What is looked at before the first coat: the climate, what was wiped on another day, the cards.
fn before(study: &Study) -> Vec<String> {
    let mut lines: Vec<String> = baseline_read(study).into_iter().collect();
    lines.push(
        say!("The climate is filled in on the checklist, and it is within its limits; outside of them nothing goes on.").to_owned(),
    );
    lines.extend(wiped_again(study));
    lines.push(say!("The safety box of each product on the checklist is read.").to_owned());
    let map = if study.is_on_racks() {
        say!("The map of the checklist lies at hand: it has each specimen with its code and its place.")
    } else {
        say!("The map of the checklist lies at hand: it has each section with its code and its place.")
    };
    lines.push(map.to_owned());
    lines
}

/// What cannot be read afterwards has its place before the second wipe: gauge and hands touch the surface, and the wipe takes that
/// off again.
fn baseline_read(study: &Study) -> Option<String> {
    let round = study.round(study.round_named("baseline")?);
    let mut read: Vec<&str> = Vec::new();
    for plan in &round.reads {
        // A measure of the patches once, and not for each marker and cleaner.
        let id = study.measure(plan.measure.value).of.unwrap_or(plan.measure.value);
        let name = study.measure(id).name.value.as_str();
        if !read.contains(&name) {
            read.push(name);
        }
    }
    let measures = list(&read, "and");
    (!read.is_empty()).then(|| {
        if wiped_again(study).is_some() {
            say!(
                "The baseline is read ({measures}): it cannot be read afterwards. It is read before the wipe is done once more.",
                measures
            )
        } else {
            say!("The baseline is read ({measures}): it cannot be read afterwards.", measures)
        }
    })
}

/// The wipe before the coats once more, where a night lies between; the checklist asks for it too.
fn wiped_again(study: &Study) -> Option<String> {
    let at = study.prep.iter().rposition(|step| step.verb == Verb::Wipe)?;
    let recorded = study.done.iter().filter(|done| done.what == DoneWhat::Prep(Verb::Wipe));
    let wiped = recorded.map(|done| done.date.value).max().or(study.begins.as_ref().map(|day| day.value))?;
    let coats = study.first_coat()?.date();
    (wiped < coats).then(|| {
        say!(
            "Where a night lies since the wipe, every section is wiped once more as in step {step} of the preparation, with its wait and \
             its safety box, early enough for the first coat.",
            step = at + 1
        )
    })
}

fn days(study: &Study, run: &Run, clock: &Clock) -> Vec<RunDay> {
    let mut days: Vec<RunDay> = Vec::new();
    let mut before = None;
    for (at, act) in run.acts.iter().enumerate() {
        let title = clock.day(act.begins);
        let change = before != Some(act.product);
        before = Some(act.product);
        let row = RunRow {
            at: clock.hour(act.begins),
            work: held(&work(study, act)),
            sections: placed(study, act),
            each: each(study, act),
            product: goes_on(study, act).to_owned(),
            window: window(act, clock),
            tight: act.is_tight(),
            change,
            pair: is_followed(act, run.acts.get(at + 1)),
        };
        match days.last_mut().filter(|day| day.title == title) {
            Some(day) => day.rows.push(row),
            None => days.push(RunDay { title, rows: vec![row] }),
        }
    }
    if let (Some(day), Some(row)) = (days.last_mut(), bare_tape(study, run, clock)) {
        day.rows.push(row);
    }
    days
}

/// A coat keeps its number on its line.
fn held(work: &str) -> String {
    let digit = |at: usize| work[at + 1..].starts_with(|c: char| c.is_ascii_digit());
    work.char_indices().map(|(at, c)| if c == ' ' && digit(at) { '\u{a0}' } else { c }).collect()
}

/// Whether the next act is the other half of this one, which is timed by it.
fn is_followed(act: &Act, next: Option<&Act>) -> bool {
    let off = next
        .filter(|next| next.work == Work::WipeOff && next.product == act.product && next.coat == act.coat);
    act.work == Work::LayOn && off.is_some_and(|next| next.sections == act.sections)
}

/// The bare sections whose tape comes off behind that of the last coated ones.
fn bare_taped(study: &Study, run: &Run) -> Vec<SectionId> {
    let pulled = run.acts.iter().any(|act| act.work == Work::PullTape);
    let bare = study.sections_of(Treatment::Bare).map(|(id, _)| id);
    bare.filter(|_| pulled && checklist::bare_tape(study).is_some()).collect()
}

/// When everything is off, the tape of bare sections too.
fn ends(study: &Study, run: &Run) -> i64 {
    let pulled = run.acts.iter().filter(|act| act.work == Work::PullTape).map(|act| act.ends).max();
    pulled.map_or(run.ends, |pulled| run.ends.max(pulled + bare_pulling(study, run)))
}

/// How long it takes to pull the tape of bare sections.
fn bare_pulling(study: &Study, run: &Run) -> i64 {
    i64::try_from(bare_taped(study, run).len()).unwrap_or(0) * run.pace.pull
}

/// The row of the tape of bare sections, behind the last of the coated ones.
fn bare_tape(study: &Study, run: &Run, clock: &Clock) -> Option<RunRow> {
    let sections = bare_taped(study, run);
    let begins = run.acts.iter().filter(|act| act.work == Work::PullTape).map(|act| act.ends).max()?;
    (!sections.is_empty()).then(|| RunRow {
        at: clock.hour(begins),
        work: say!("pull the tape").to_owned(),
        sections: at_sites(study, &sections),
        each: Vec::new(),
        product: say!("none: they are bare").to_owned(),
        window: String::new(),
        tight: false,
        change: true,
        pair: false,
    })
}

fn window(act: &Act, clock: &Clock) -> String {
    match act.window {
        None | Some((0, None)) => String::new(),
        Some((first, None)) => say!("from {time}", time = clock.moment(first, act.begins)),
        Some((first, Some(last))) => {
            let (first, last) = (clock.moment(first, act.begins), clock.moment(last, act.begins));
            if first == last { first } else { say!("{first} to {last}", first, last) }
        }
    }
}
