//! When sections were spent, as one sentence of the answer: those that may lead, bare, and whoever held as well.

use super::comparison::lasted;
use super::material::Material;
use super::names;
use super::put_out;
use super::site_times::{self, SiteTimes};
use crate::analysis::{Answer, Missing, Moment, SectionSpent, Spent, SpentTally, Standing};
use crate::speech::{count, list, say};
use crate::study::{MeasureId, ProductId, SectionId, Treatment, Unit};

/// More products than this are not told one by one.
const MOST: usize = 4;

/// More stretches of time than this are told as one, from the first of them to the last, with the half.
const MOST_STRETCHES: usize = 3;

/// More sites, or more products at each, are left to the table.
const MOST_SITES: usize = 3;

/// When sections were spent, as the answer tells it.
pub(super) struct Lasted {
    /// Who how long.
    pub sentence: String,
    /// What else is in these times, for what the answer rests on.
    pub footing: Option<String>,
}

impl Lasted {
    fn alone(sentence: String) -> Self {
        Self { sentence, footing: None }
    }
}

/// The times; `None` where the measure has no limit, or no time of these is known.
///
/// Without leaders they are told of all products that are compared.
pub(super) fn times(material: &Material<'_>, measure: MeasureId, leaders: &[ProductId]) -> Option<Lasted> {
    let study = material.study;
    let rows = material.analysis.measure(measure)?.spent.as_ref()?;
    let tally = |wanted: Treatment| SpentTally::of(rows.iter().filter(|row| row.treatment == wanted));
    let lead = material.analysis.deciding().and_then(|(_, round)| round.lead.as_ref().ok());
    let on = |id: ProductId| rows.iter().any(|row| row.treatment == Treatment::Product(id));
    let read = study.products_with_ids().map(|(id, _)| id).filter(|&id| on(id));
    let read: Vec<ProductId> = match lead {
        Some(table) => read.filter(|id| table.rows.iter().any(|row| row.product == *id)).collect(),
        None => read.collect(),
    };
    let named: Vec<ProductId> = if leaders.is_empty() { read.clone() } else { leaders.to_vec() };
    let all = if leaders.is_empty() { say!("products") } else { say!("those that may lead") };
    let sites = site_times::of(material, material.analysis.measure(measure)?);
    if sites.iter().any(|site| site.early.is_some()) {
        return each_site(material, measure, &sites, &named).map(Lasted::alone);
    }
    let mut told = of_products(material, &named, all, &tally);
    if told.is_empty() {
        return None;
    }
    let blank = rows.iter().any(|row| row.when == Err(Missing::IsBlank));
    if !blank {
        told.extend(words(material, &names::treatment(study, Treatment::Bare), &tally(Treatment::Bare)));
    }
    let others: Vec<ProductId> = read.into_iter().filter(|id| !named.contains(id)).collect();
    let held: Vec<ProductId> =
        others.iter().copied().filter(|&id| tally(Treatment::Product(id)).whole()).collect();
    match held.len() {
        0 => {}
        1..MOST => told
            .push(say!("none spent of {products}", products = list(&names::products(study, &held), "and"))),
        n => told.push(say!("none spent of {n} other products", n)),
    }
    let rest: Vec<ProductId> = others.into_iter().filter(|id| !held.contains(id)).collect();
    if !blank {
        told.extend(beside_bare(material, &rest, &tally));
    }
    let mut sentence = say!(
        "Time until spent by {measure}: {told}.",
        measure = names::measure(study, measure),
        told = told.join("; ")
    );
    let indoors = put_out::behind_the_coats(material).filter(|_| study.cycle.is_none());
    let mut footing: Vec<String> = indoors
        .map(|indoors| say!("Times until spent run from the last coat, {indoors}.", indoors))
        .into_iter()
        .collect();
    if let Some(by_site) = by_site(material, measure, &named) {
        sentence += " ";
        sentence += &by_site;
    } else if matches!(study.unit(measure), Unit::Within(_) | Unit::Linked(_)) {
        let pieces = names::pieces(study, measure);
        footing.push(say!("What {pieces} add is in the times until spent.", pieces));
    }
    let alike = matches!(material.analysis.answer, Answer::Read { standing: Standing::AllAlike, .. });
    let of_products = || named.iter().map(|&id| tally(Treatment::Product(id)));
    let spent = of_products().map(|one| one.spent.len()).sum::<usize>();
    if alike && spent > 0 && of_products().any(|one| !one.held.is_empty()) {
        sentence += " ";
        sentence += say!(
            "Products that are alike differ in these times only as far as their readings scatter around the limit."
        );
    }
    Some(Lasted { sentence, footing: (!footing.is_empty()).then(|| footing.join(" ")) })
}

/// The other products of which a section was spent, so that every product has its place: later than the last of the bare ones, or in
/// part, and those of which every section was spent by that round, since nothing shows that they hold longer than nothing does.
fn beside_bare(
    material: &Material<'_>,
    others: &[ProductId],
    tally: &impl Fn(Treatment) -> SpentTally,
) -> Vec<String> {
    let end = |tally: &SpentTally| {
        let ends = tally.spent.iter().map(|&when| match when {
            Spent::Between(_, to) | Spent::Before(to) | Spent::AtLeast(to) => to.days,
        });
        let all = tally.held.is_empty() && tally.left == 0 && tally.back == 0;
        ends.max().flatten().filter(|_| all)
    };
    let bare = end(&tally(Treatment::Bare));
    let (mut later, mut part, mut gone, mut no_longer) = (Vec::new(), Vec::new(), Vec::new(), Vec::new());
    for &id in others {
        let of = tally(Treatment::Product(id));
        match (end(&of), bare) {
            (Some(end), Some(bare)) if end <= bare => no_longer.push(id),
            (Some(_), Some(_)) => later.push(id),
            _ if !of.spent.is_empty() && !of.held.is_empty() => part.push(id),
            _ if of.spent.is_empty() && of.left > 0 => gone.push(id),
            _ => {}
        }
    }
    let who = |ids: &[ProductId]| match ids {
        [] => None,
        [one] => Some(names::product(material.study, *one)),
        several => Some(count(several.len(), "product")),
    };
    let later = who(&later).map(|products| say!("spent later than bare: {products}", products));
    let part = who(&part).map(|products| say!("spent on some sections: {products}", products));
    let gone = who(&gone).map(|products| say!("stopped or ended before spent: {products}", products));
    let no_longer =
        who(&no_longer).map(|products| say!("not shown to last longer than bare: {products}", products));
    [later, part, gone, no_longer].into_iter().flatten().collect()
}

/// Site by site, where one was not read as long as another, so that no time holds for both.
fn each_site(
    material: &Material<'_>,
    measure: MeasureId,
    sites: &[SiteTimes<'_>],
    named: &[ProductId],
) -> Option<String> {
    let study = material.study;
    if sites.len() > MOST_SITES || named.len() > MOST_SITES {
        return site_times::open(material, sites).map(|open| {
            let measure = names::measure(study, measure);
            say!(
                "Time until spent by {measure} stands in the table section by section. {open}",
                measure,
                open
            )
        });
    }
    let rows = material.analysis.measure(measure)?.spent.as_ref()?;
    let at = |site: &SiteTimes<'_>| {
        let of = |treatment: Treatment| {
            let own =
                |row: &&SectionSpent| row.treatment == treatment && site.sections.contains(&row.section);
            words(material, &names::treatment(study, treatment), &SpentTally::of(rows.iter().filter(own)))
        };
        let products = named.iter().map(|&id| Treatment::Product(id));
        let told: Vec<String> = products.chain([Treatment::Bare]).filter_map(of).collect();
        (!told.is_empty()).then(|| format!("{}: {}", site.named(material), told.join(", ")))
    };
    let told: Vec<String> = sites.iter().filter_map(at).collect();
    (!told.is_empty()).then(|| {
        say!(
            "Time until spent by {measure}, site by site: {told}.",
            measure = names::measure(study, measure),
            told = told.join("; ")
        )
    })
}

/// How many were spent at each site, where that is not the same share at all of them; `None` where the sites are too many to tell.
fn by_site(material: &Material<'_>, measure: MeasureId, named: &[ProductId]) -> Option<String> {
    let study = material.study;
    let sites = study.by_site.as_ref().filter(|_| study.measure(measure).home.is_none())?.pieces();
    let rows = material.analysis.measure(measure)?.spent.as_ref()?;
    if sites.len() > MOST_SITES || named.len() > MOST_SITES {
        return None;
    }
    let products = named.iter().map(|&id| Treatment::Product(id));
    let blank = rows.iter().any(|row| row.when == Err(Missing::IsBlank));
    let who: Vec<Treatment> = products.chain((!blank).then_some(Treatment::Bare)).collect();
    // Spent, and of how many.
    let counted = |(treatment, sections): (Treatment, &[SectionId])| {
        let own = rows.iter().filter(|row| row.treatment == treatment && sections.contains(&row.section));
        let tally = SpentTally::of(own);
        (tally.spent.len(), tally.spent.len() + tally.held.len() + tally.left)
    };
    let differs = |&treatment: &Treatment| {
        let at = sites.iter().map(|(_, sections)| counted((treatment, sections))).filter(|(_, of)| *of > 0);
        let at: Vec<(usize, usize)> = at.collect();
        at.iter().any(|one| one.0 * at[0].1 != at[0].0 * one.1)
    };
    if !who.iter().any(differs) {
        return None;
    }
    let at = |(site, sections): &(&str, Vec<SectionId>)| {
        let of = |&treatment: &Treatment| match counted((treatment, sections)) {
            (_, 0) => None,
            (spent, of) => {
                Some(say!("{name} {spent} of {of}", name = names::treatment(study, treatment), spent, of))
            }
        };
        format!("{site} {}", who.iter().filter_map(of).collect::<Vec<_>>().join(", "))
    };
    let sites: Vec<String> = sites.iter().map(at).collect();
    Some(say!("Spent by site: {sites}.", sites = sites.join("; ")))
}

/// Together where none was spent, else one by one; of many only how many sections were.
fn of_products(
    material: &Material<'_>,
    ids: &[ProductId],
    all: &str,
    tally: &impl Fn(Treatment) -> SpentTally,
) -> Vec<String> {
    let each = || ids.iter().map(|&id| (names::product(material.study, id), tally(Treatment::Product(id))));
    let together = || each().map(|(_, tally)| tally).reduce(SpentTally::with);
    let several = ids.len() > 1;
    if several && each().all(|(_, tally)| tally.whole()) {
        let all = say!("{all} lasted", all);
        return together().and_then(|tally| words(material, &all, &tally)).into_iter().collect();
    }
    if ids.len() <= MOST {
        return each().filter_map(|(name, tally)| words(material, &name, &tally)).collect();
    }
    let counted = together().map(|tally| {
        let sections = tally.held.len() + tally.spent.len() + tally.left;
        say!(
            "{spent} of {sections} of {all} spent",
            all,
            spent = tally.spent.len(),
            sections = count(sections, "section")
        )
    });
    counted.into_iter().collect()
}

/// Sections as one: the shortest time that is known of those which held, and when the others were spent.
fn words(material: &Material<'_>, who: &str, tally: &SpentTally) -> Option<String> {
    let study = material.study;
    let number = tally.held.len() + tally.spent.len();
    let sections = count(number, "section");
    if let Some(time) = tally.left_after().and_then(|when| lasted(study, when)) {
        let sections = count(tally.left, "section");
        return Some(say!(
            "{who} {time} ({sections}, none spent before they were stopped or ended)",
            who,
            time,
            sections
        ));
    }
    if number == 0 {
        let left = || say!("{who} not known ({sections})", who, sections = count(tally.left, "section"));
        return (tally.left > 0).then(left);
    }
    let mut more = String::new();
    if tally.back > 0 {
        more += &say!("; {n} fell and came back", n = tally.back);
    }
    if tally.left > 0 {
        more += &say!("; {n} more stopped, ended or not read", n = tally.left);
    }
    if tally.read_earlier() > 0 {
        more += &say!("; {n} last read earlier", n = tally.read_earlier());
    }
    let held = tally.shortest().map(|when| lasted(study, when));
    let failed = stretches(material, tally)?;
    Some(match (held, failed.as_slice()) {
        (None, []) => return None,
        (Some(time), []) if number == 1 => {
            say!("{who} {time} ({sections}, not spent{more})", who, sections, more, time = time?)
        }
        (Some(time), []) => {
            say!("{who} {time} ({sections}, none spent{more})", who, sections, more, time = time?)
        }
        (None, [(time, _)]) if number == 1 => {
            say!("{who} {time} ({sections}, spent{more})", who, sections, more, time)
        }
        (None, [(time, _)]) => say!("{who} {time} ({sections}, all spent{more})", who, sections, more, time),
        (None, [first @ .., (time, n)]) => {
            let with_number = |(time, n): &(String, usize)| {
                say!("{time} ({sections})", time, sections = count(*n, "section"))
            };
            say!(
                "{who} {first} and {time} ({sections}; all spent{more})",
                who,
                first = first.iter().map(with_number).collect::<Vec<_>>().join(", "),
                time,
                sections = count(*n, "section"),
                more
            )
        }
        (Some(held), failed) => {
            let times: Vec<String> = failed
                .iter()
                .map(|(time, n)| say!("{time} ({n} of {sections})", time, n, sections))
                .collect();
            say!(
                "{who} {times} and {held} (the others{more})",
                who,
                more,
                times = times.join(", "),
                held = held?
            )
        }
    })
}

/// Those that were spent between the same two rounds as one, with their number: read on other days at another site, their stretches
/// differ by these days alone, and two of them would read as two times. It reaches from the first of these days to the last.
fn between_the_same_rounds(spent: &[Spent]) -> Vec<(Spent, usize)> {
    let rounds = |when: Spent| match when {
        Spent::Between(from, to) => (Some(from.round), to.round),
        Spent::Before(to) | Spent::AtLeast(to) => (None, to.round),
    };
    let first = |a: Moment, b: Moment| if b.days < a.days { b } else { a };
    let last = |a: Moment, b: Moment| if b.days > a.days { b } else { a };
    let both = |one: Spent, other: Spent| match (one, other) {
        (Spent::Between(from, to), Spent::Between(start, end)) => {
            Spent::Between(first(from, start), last(to, end))
        }
        (Spent::Before(to), Spent::Before(end)) => Spent::Before(last(to, end)),
        _ => one,
    };
    let mut found: Vec<(Spent, usize)> = Vec::new();
    for &when in spent {
        match found.iter_mut().find(|(known, _)| rounds(*known) == rounds(when)) {
            Some((known, n)) => (*known, *n) = (both(*known, when), *n + 1),
            None => found.push((when, 1)),
        }
    }
    found
}

/// When those that were spent were, each stretch with its number of sections: a union would read as one that holds for each of them.
/// Where they are too many for a sentence it is the whole stretch, with the time by which half of them were. `None` where a time is not known.
fn stretches(material: &Material<'_>, tally: &SpentTally) -> Option<Vec<(String, usize)>> {
    let study = material.study;
    let end = |when: &Spent| match *when {
        Spent::Between(_, to) | Spent::Before(to) | Spent::AtLeast(to) => (to.days, to.round),
    };
    let mut spent = tally.spent.clone();
    spent.sort_by_key(end);
    let mut found: Vec<(String, usize)> = Vec::new();
    for (when, sections) in between_the_same_rounds(&spent) {
        let time = lasted(study, when)?;
        match found.iter_mut().find(|(known, _)| *known == time) {
            Some((_, n)) => *n += sections,
            None => found.push((time, sections)),
        }
    }
    if found.len() > MOST_STRETCHES {
        let span = lasted(study, tally.stretch()?)?;
        let (Spent::Between(_, half) | Spent::Before(half) | Spent::AtLeast(half)) =
            *spent.get(spent.len().checked_sub(1)? / 2)?;
        let half = lasted(study, Spent::Before(half))?;
        return Some(vec![(say!("{span}, half of them {half}", span, half), spent.len())]);
    }
    Some(found)
}
