//! Time until spent: an interval or "at least" for every section, never a point.

use super::super::axis::Axis;
use super::super::blocks::{Drawing, Part, Picture, Table, Topic};
use super::super::charts::{SpentChart, SpentRow, Until};
use super::super::footing::not_counted;
use super::super::material::Material;
use super::super::names;
use super::super::numbers::{self, Figure, Style};
use super::super::put_out;
use super::super::site_times::{self, SiteTimes};
use super::bias;
use super::ranking::Ranking;
use crate::analysis::{
    Gone, GroupSpent, Half, MeasureAnalysis, Moment, RoundState, SectionSpent, Spent, WithGauge,
};
use crate::speech::{count, list, say};
use crate::study::{Limit, Measure, MeasureId, SpentRule, Study};

pub(in crate::report) fn parts(material: &Material<'_>, ranking: &Ranking) -> Vec<Part> {
    let measures = material.analysis.measures.iter();
    let told = measures.filter_map(|measure| Some((measure, measure.spent.as_ref()?)));
    let told: Vec<(&MeasureAnalysis, &Vec<SectionSpent>)> = told.collect();
    let first = told.first().map(|(measure, _)| measure.measure);
    told.iter()
        .map(|(measure, spent)| {
            let before = first.filter(|&first| first != measure.measure);
            part(material, ranking, measure, (spent, before))
        })
        .collect()
}

/// How times are counted is said once, at the first of the measures.
fn rule(material: &Material<'_>, measure: &MeasureAnalysis, before: Option<MeasureId>) -> String {
    let study = material.study;
    let known = study.measure(measure.measure);
    let style = Style::of(material, measure.measure);
    let (name, middle) = (&known.name.value, names::middle(known));
    let rule = known.spent.map_or_else(String::new, |rule| rule_words(rule, style));
    if let Some(before) = before {
        return say!(
            "A section is spent by {measure} when its {middle} is {rule}; times are counted and listed as for {before}.",
            measure = name,
            middle,
            rule,
            before = names::measure(study, before)
        );
    }
    let in_cycles =
        study.cycle.is_some() && measure.rounds.iter().any(|at| study.cycle_of(at.round).is_some());
    let runs = if in_cycles {
        say!("The time counts cycles, from the first one on")
    } else {
        say!("The time runs from its last coat (bare sections: from the application)")
    };
    let indoors = put_out::behind_the_coats(material).filter(|_| !in_cycles);
    let runs = indoors.map_or_else(|| runs.to_owned(), |indoors| format!("{runs}, {indoors}"));
    let weeks = if in_cycles {
        ""
    } else {
        say!(" From 8 weeks on times are rounded to the nearest week; the dates stand beside them.")
    };
    let own = |treatment| measure.spent.iter().flatten().filter(|one| one.treatment == treatment).count();
    let singly = if measure.spent.iter().flatten().any(|one| (2..6).contains(&own(one.treatment))) {
        say!(" Sections are listed singly, since so few of them carry no figure for a product.")
    } else {
        ""
    };
    say!(
        "A section is spent by {measure} when its {middle} is {rule}. {runs}; it lies after the last round passed and up to the \
         round failed from which it counts.{singly}{weeks}",
        measure = name,
        middle,
        rule,
        runs,
        weeks
    )
}

fn part(
    material: &Material<'_>,
    ranking: &Ranking,
    measure: &MeasureAnalysis,
    (spent, before): (&[SectionSpent], Option<MeasureId>),
) -> Part {
    let study = material.study;
    let known = study.measure(measure.measure);
    let style = Style::of(material, measure.measure);
    let mut rows: Vec<&SectionSpent> = spent.iter().collect();
    rows.sort_by_key(|row| (ranking.place(row.treatment), row.section));
    let sites = site_times::of(material, measure);
    let early: Vec<String> =
        sites.iter().filter(|site| site.early.is_some()).map(|site| site.named(material)).collect();
    let heading = match list(&early, "and") {
        none if none.is_empty() => heading(known, spent),
        early => format!("{} ({early})", heading(known, spent)),
    };
    let mut part = Part::new(heading).about(Topic::Spent(measure.measure));
    part.say(rule(material, measure, before));
    let gone = gone(study, &rows);
    if let Some(chart) = chart(material, ranking, measure, &rows) {
        part.picture(Picture {
            address: format!("report.html#picture-spent-{}", measure.measure.index() + 1),
            title: say!(
                "How long each section stayed within the limit of {measure}",
                measure = known.name.value
            ),
            note: format!("{} {}", note(&chart, &gone), read(material, measure, &chart)),
            drawing: Drawing::Spent(chart),
        });
    } else {
        part.list(gone);
    }
    part.table(table(material, &rows, style));
    part.rests_on(measure, measure.rounds.iter().map(|round| round.round));
    if let Some(bias) = bias::of_levels(material, measure.measure, spent) {
        part.say(bias);
    }
    if let Some(open) = site_times::open(material, &sites) {
        part.say(open);
    }
    let (halves, closer) = halves(material, measure, &sites);
    part.list(halves);
    if closer {
        part.say(say!(
            "The time that is told is bounded by the days on which each section was read. Where these differ, an interval-censored \
             estimate would sit where the intervals of a few sections happen to meet, and say more than the looks do: it is not given."
        ));
    }
    part
}

/// Which failure a time counts from, where a section passed again, and what is no round passed.
pub(in crate::report) fn rule_of_time() -> &'static str {
    say!(
        "a failure stands unless a later round passes again by more than the alike limit of the measure (by anything where the study states none). Such a \
         section fell and came back, and its time counts from its last failure; a pass by less, as one more reading may show it, undoes nothing. \
         A reference that sets the limit of its own section passes by definition and is no round passed, so that a section that fails at the next \
         round is spent before it."
    )
}

fn note(chart: &SpentChart, gone: &[String]) -> String {
    let mut note = say!(
        "A full line: within the limit at every round read. A hatched box: spent at some time in it. An arrow: still within \
         the limit at the last round read."
    )
    .to_owned();
    if chart.rows.iter().any(|row| row.until == Until::Gone) {
        let cross = say!("A cross: no longer there, and not known beyond it.");
        note = [note.as_str(), cross]
            .into_iter()
            .chain(gone.iter().map(String::as_str))
            .collect::<Vec<_>>()
            .join(" ");
    }
    note
}

/// Over how many sections, and when they were last read.
fn read(material: &Material<'_>, measure: &MeasureAnalysis, chart: &SpentChart) -> String {
    let last = measure.rounds.iter().rfind(|round| round.state == RoundState::Read);
    let day = last.and_then(|round| names::days_read(material.readings, round.round));
    let day = day.map_or_else(String::new, |day| say!(", last read {day}", day));
    say!(
        "{sections}, {readings}{day}.",
        day,
        sections = count(chart.rows.len(), "section"),
        readings = count(names::read_in_all(measure), "reading")
    )
}

/// Sections that had not failed when they left the study: nobody knows how long they would have lasted.
fn gone(study: &Study, rows: &[&SectionSpent]) -> Vec<String> {
    let ended = rows.iter().filter_map(|row| match row.gone {
        Some(Gone::Ended(day)) => Some((row.section, day)),
        _ => None,
    });
    let stopped = rows.iter().filter(|row| matches!(row.gone, Some(Gone::Stopped)));
    let stopped: Vec<&str> = stopped.map(|row| names::section(study, row.section)).collect();
    let stopped = (!stopped.is_empty()).then(|| {
        say!(
            "Stopped by the rule of the cycle within this limit, and not counted: {sections}.",
            sections = list(&stopped, "and")
        )
    });
    not_counted(study, ended).into_iter().chain(stopped).collect()
}

/// When half of the sections of a treatment were spent: over all sites only where all were read as long, and at each site that has sections
/// enough; then whether an estimate says more than the days of reading do.
fn halves(
    material: &Material<'_>,
    measure: &MeasureAnalysis,
    sites: &[SiteTimes<'_>],
) -> (Vec<String>, bool) {
    let early = sites.iter().any(|site| site.early.is_some());
    let together = if early { &[][..] } else { measure.spent_together.as_slice() };
    let mut told: Vec<String> = together.iter().map(|group| together_words(material, group)).collect();
    let mut closer = together.iter().any(is_closer);
    if early && !measure.spent_together.is_empty() {
        told.push(
            say!("No time of half of the sections is told over all sites, since they were not read equally long.")
                .to_owned(),
        );
    }
    for site in sites {
        let pieces = material.study.by_site.as_ref().map(|sites| sites.pieces()).unwrap_or_default();
        let place = pieces.iter().position(|(name, _)| *name == site.site);
        let groups = place.and_then(|place| measure.spent_by_site.get(place)).map_or(&[][..], Vec::as_slice);
        closer |= groups.iter().any(is_closer);
        let words = |group| {
            say!("At {site}, {told}", site = site.named(material), told = together_words(material, group))
        };
        told.extend(groups.iter().map(words));
    }
    (told, closer)
}

/// A treatment whose sections are enough for one figure.
fn together_words(material: &Material<'_>, group: &GroupSpent) -> String {
    let told = half_told(material, group);
    match group.with_gauge {
        // Nothing is left of a time that may lie before the first round and beyond the last.
        Some(Half::AtLeast(0)) => {
            say!("{told} With what the gauge may be off by, that time is not known.", told)
        }
        Some(half) => {
            say!("{told} With what the gauge may be off by, {when}.", told, when = half_words(half))
        }
        None => told,
    }
}

fn half_told(material: &Material<'_>, group: &GroupSpent) -> String {
    let (treatment, sections) =
        (names::treatment(material.study, group.treatment), count(group.sections, "section"));
    // Where the end is open, fewer than half have one.
    if let Half::AtLeast(last) = group.certain {
        return say!(
            "{treatment}: fewer than half of {sections} were spent when last read, so that the time of half of them lies beyond \
             {time}.",
            treatment,
            sections,
            time = numbers::days(last)
        );
    }
    let when = half_words(group.certain);
    if is_closer(group) {
        return say!("{treatment}: half of {sections} were spent {when}.", treatment, sections, when);
    }
    say!(
        "{treatment}: half of {sections} were spent {when} (interval-censored estimate).",
        treatment,
        sections,
        when
    )
}

/// Whether the estimate says more than the days on which sections were read.
fn is_closer(group: &GroupSpent) -> bool {
    !matches!(group.certain, Half::AtLeast(_)) && half_words(group.half) != half_words(group.certain)
}

fn half_words(half: Half) -> String {
    match half {
        Half::Between(from, to) => say!("after {time}", time = numbers::days_between(from, to)),
        Half::Before(first) => say!("before {time}", time = numbers::days(first)),
        Half::AtLeast(last) => say!("after more than {time}", time = numbers::days(last)),
    }
}

fn heading(measure: &Measure, spent: &[SectionSpent]) -> String {
    let counted = || spent.iter().filter(|row| row.gone.is_none());
    let held = counted().filter(|row| row.when.is_ok() && row.within).count();
    let known = counted().filter(|row| row.when.is_ok()).count();
    if known == 0 {
        say!("Time until spent by {measure}: not known yet", measure = measure.name.value)
    } else {
        let who = match (held, known) {
            (1, 1) => say!("the one section").to_owned(),
            (0, known) => say!("none of {sections}", sections = count(known, "section")),
            (held, known) if held == known => say!("all {sections}", sections = count(known, "section")),
            (1, known) => say!("one of {sections}", sections = count(known, "section")),
            (held, known) => say!("{held} of {sections}", held, sections = count(known, "section")),
        };
        let some_gone = spent.iter().any(|row| row.gone.is_some());
        let who = if some_gone { say!("{who} still there", who) } else { who };
        let back = counted().filter(|row| row.within && !matches!(row.when, Ok(Spent::AtLeast(_)))).count();
        let who = match back {
            0 => who,
            1 => say!("{who}, one of which had failed before", who),
            back => say!("{who}, {back} of which had failed before", who, back),
        };
        say!("Within the limit of {measure} when last read: {who}", who, measure = measure.name.value)
    }
}

pub(in crate::report) fn rule_words(rule: SpentRule, style: Style<'_>) -> String {
    let side = if rule.below { say!("below") } else { say!("above") };
    match rule.limit {
        Limit::Value(mark) if rule.at_limit => say!("{mark} or worse", mark = numbers::decimal(mark)),
        Limit::Value(value) => say!("{side} {value}", side, value = style.value(value).text),
        Limit::PercentOf(percent, reference) => {
            say!(
                "{side} {percent} % of its own mean at {reference}",
                side,
                percent = numbers::decimal(percent),
                reference = names::reference(reference)
            )
        }
    }
}

/// A round with the day on which the section was read there.
fn on_day(material: &Material<'_>, moment: Moment) -> String {
    let name = names::round(material.study, moment.round);
    moment.date.map_or_else(|| name.to_string(), |date| format!("{name}, {}", numbers::day(date)))
}

fn table(material: &Material<'_>, rows: &[&SectionSpent], style: Style<'_>) -> Table {
    let limit = say!(">Limit, {unit}", unit = style.unit);
    let gauge = rows.iter().any(|row| row.with_gauge.is_some());
    let mut heads = vec![
        say!("Product"),
        say!("Section"),
        &limit,
        say!("Time within its limit"),
        say!("Between the rounds"),
    ];
    heads.extend(gauge.then(|| say!("With the gauge's own error")));
    let mut table = Table::new(&heads);
    let words = |when: Spent| lasted(material.study, when).unwrap_or_else(|| time(when));
    for row in rows {
        let (time, rounds) = match row.when {
            Ok(when) => (words(when), between(material, when)),
            Err(why) => (format!("{} ({})", numbers::DASH, names::missing(why)), String::new()),
        };
        let back = row.came_back.map_or_else(String::new, |back| {
            say!(
                "; fell at {fell} and came back at {back}, counted from the last failure",
                fell = on_day(material, back.fell),
                back = on_day(material, back.back)
            )
        });
        let mut cells = vec![
            Figure::from(names::treatment(material.study, row.treatment)),
            Figure::from(names::section(material.study, row.section)),
            row.limit.map_or_else(|_| Figure::none(), |limit| style.cell(limit)),
            Figure::from(time.as_str()),
            Figure::from(format!("{rounds}{back}{}", left(row))),
        ];
        cells.extend(gauge.then(|| {
            Figure::from(match row.with_gauge {
                Some(WithGauge::When(when)) => words(when),
                Some(WithGauge::Open) => say!("at any time, or not yet").to_owned(),
                None => time,
            })
        }));
        table.row(cells);
    }
    table
}

fn left(row: &SectionSpent) -> String {
    match row.gone {
        None => String::new(),
        Some(Gone::Ended(day)) => say!("; ended on {day}, not counted", day = numbers::day(day)),
        Some(Gone::Stopped) => say!("; then stopped, not counted").to_owned(),
    }
}

/// `after 6 to 7 cycles`, where time is counted in cycles.
fn cycles(study: &Study, when: Spent) -> Option<String> {
    let number = |moment: Moment| study.cycle_of(moment.round);
    Some(match when {
        Spent::Between(from, to) => {
            let to = number(to)?;
            match number(from) {
                Some(from) => say!("after {from} to {to} cycles", from, to),
                None if to == 1 => say!("in the first cycle").to_owned(),
                None => say!("after at most {to} cycles", to),
            }
        }
        Spent::Before(first) if number(first)? == 1 => say!("in the first cycle").to_owned(),
        Spent::Before(first) => say!("after at most {first} cycles", first = number(first)?),
        Spent::AtLeast(last) => say!("at least {cycles}", cycles = count(number(last)?, "cycle")),
    })
}

/// The same as a length; `None` where it is not known.
pub(in crate::report) fn lasted(study: &Study, when: Spent) -> Option<String> {
    let number = |moment: Moment| study.cycle_of(moment.round);
    let known = |moment: Moment| moment.days.is_some();
    match when {
        Spent::Between(from, to) => match (number(from), number(to)) {
            (Some(from), Some(to)) => Some(say!("{from} to {to} cycles", from, to)),
            (None, Some(_)) => cycles(study, when),
            _ => (known(from) && known(to)).then(|| time(when)),
        },
        Spent::Before(at) | Spent::AtLeast(at) => {
            cycles(study, when).or_else(|| known(at).then(|| time(when)))
        }
    }
}

fn time(when: Spent) -> String {
    let at = |moment: Moment, words: fn(i64) -> String| {
        moment.days.map_or_else(|| numbers::DASH.to_owned(), words)
    };
    match when {
        Spent::Between(from, to) => match (from.days, to.days) {
            (Some(from), Some(to)) => numbers::days_between(from, to),
            _ => say!("{from} to {to}", from = at(from, numbers::days), to = at(to, numbers::days)),
        },
        Spent::Before(first) => say!("before {time}", time = at(first, numbers::days)),
        Spent::AtLeast(last) => say!("at least {days}", days = at(last, numbers::days)),
    }
}

fn between(material: &Material<'_>, when: Spent) -> String {
    let round = |moment: Moment| on_day(material, moment);
    match when {
        Spent::Between(from, to) => say!("{from} to {to}", from = round(from), to = round(to)),
        Spent::Before(first) => say!("failed at {first}", first = round(first)),
        Spent::AtLeast(last) => say!("passed at {last}", last = round(last)),
    }
}

fn chart(
    material: &Material<'_>,
    ranking: &Ranking,
    measure: &MeasureAnalysis,
    rows: &[&SectionSpent],
) -> Option<SpentChart> {
    let study = material.study;
    let read = || measure.rounds.iter().filter(|round| round.state == RoundState::Read);
    let axis = Axis::of(study, read().map(|round| round.round));
    let mut rounds: Vec<(f64, String)> = read()
        .filter_map(|round| {
            let place = axis.round(material, round.round).filter(|&place| place >= 0.0)?;
            Some((place, names::round(study, round.round).into_owned()))
        })
        .collect();
    if axis == Axis::Cycles {
        // Of the rounds before the first cycle the last one stands at its start.
        let before = rounds.iter().filter(|(place, _)| *place <= 0.0).count();
        rounds.drain(..before.saturating_sub(1));
    }
    let mut drawn: Vec<SpentRow> = Vec::new();
    for row in rows {
        let Ok(when) = row.when else { continue };
        let day = |moment: Moment| axis.moment(study, moment);
        let (held, until) = match when {
            Spent::Between(from, to) => (day(from)?, Until::Spent(day(to)?)),
            Spent::Before(first) => (0.0, Until::Spent(day(first)?)),
            Spent::AtLeast(last) if row.gone.is_some() => (day(last)?, Until::Gone),
            Spent::AtLeast(last) => (day(last)?, Until::Open),
        };
        let name = names::treatment(study, row.treatment);
        let first = drawn.last().is_none_or(|above| above.name != name);
        let mark = ranking.mark(row.treatment);
        drawn.push(SpentRow {
            name,
            first,
            code: names::section(study, row.section).to_owned(),
            mark,
            held,
            until,
        });
    }
    // Sections of other places may have been read later than the day by which the round is marked.
    let ends = drawn.iter().map(|row| if let Until::Spent(day) = row.until { day } else { row.held });
    let last = ends.chain(rounds.last().map(|(day, _)| *day)).reduce(f64::max)?;
    // A picture with a line for each of hundreds of sections would be longer than the table below it.
    (!drawn.is_empty() && drawn.len() <= 120).then_some(SpentChart { last, rounds, rows: drawn })
}
