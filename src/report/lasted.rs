//! When sections were spent, as one sentence of the answer: those that may lead, bare, and whoever held as well.

use super::comparison::lasted;
use super::material::Material;
use super::names;
use crate::analysis::{Moment, SectionSpent, Spent};
use crate::speech::{count, list, say};
use crate::study::{MeasureId, ProductId, Treatment, Unit};

/// More products than this are not told one by one.
const MOST: usize = 4;

/// The sections of a treatment, each counted once.
struct Tally {
    /// The last round read, of those that were not spent.
    held: Vec<Moment>,
    /// When the others were.
    spent: Vec<Spent>,
    /// How many of them fell below the limit and came back.
    back: usize,
    /// How many left the study before they were spent, or have no time.
    left: usize,
}

impl Tally {
    fn of<'s>(rows: impl Iterator<Item = &'s SectionSpent>) -> Self {
        let mut tally = Self { held: Vec::new(), spent: Vec::new(), back: 0, left: 0 };
        for row in rows {
            match row.when {
                Ok(_) if row.gone.is_some() => tally.left += 1,
                Ok(Spent::AtLeast(last)) => tally.held.push(last),
                Ok(when) => tally.spent.push(when),
                Err(_) => tally.left += 1,
            }
            tally.back += usize::from(row.came_back.is_some());
        }
        tally
    }

    /// Whether every section went on to the last round, and none was ever below the limit.
    fn whole(&self) -> bool {
        !self.held.is_empty() && self.spent.is_empty() && self.back == 0 && self.left == 0
    }

    fn add(mut self, other: Self) -> Self {
        self.held.extend(other.held);
        self.spent.extend(other.spent);
        Self { back: self.back + other.back, left: self.left + other.left, ..self }
    }
}

/// The sentence; `None` where the measure has no limit, or no time of these is known.
///
/// Without leaders it is told of all products that are compared.
pub(super) fn sentence(material: &Material<'_>, measure: MeasureId, leaders: &[ProductId]) -> Option<String> {
    let study = material.study;
    let rows = material.analysis.measure(measure)?.spent.as_ref()?;
    let tally = |wanted: Treatment| Tally::of(rows.iter().filter(|row| row.treatment == wanted));
    let lead = material.analysis.deciding().and_then(|(_, round)| round.lead.as_ref().ok());
    let on = |id: ProductId| rows.iter().any(|row| row.treatment == Treatment::Product(id));
    let read = study.products_with_ids().map(|(id, _)| id).filter(|&id| on(id));
    let read: Vec<ProductId> = match lead {
        Some(table) => read.filter(|id| table.rows.iter().any(|row| row.product == *id)).collect(),
        None => read.collect(),
    };
    let named: Vec<ProductId> = if leaders.is_empty() { read.clone() } else { leaders.to_vec() };
    let all = if leaders.is_empty() { say!("products") } else { say!("those that may lead") };
    let mut told = of_products(material, &named, all, &tally);
    if told.is_empty() {
        return None;
    }
    let bare = tally(Treatment::Bare);
    told.extend(words(material, &names::treatment(study, Treatment::Bare), &bare));
    let others: Vec<ProductId> = read.into_iter().filter(|id| !named.contains(id)).collect();
    let held: Vec<ProductId> =
        others.into_iter().filter(|&id| tally(Treatment::Product(id)).whole()).collect();
    match held.len() {
        0 => {}
        1..MOST => told
            .push(say!("none spent of {products}", products = list(&names::products(study, &held), "and"))),
        n => told.push(say!("none spent of {n} other products", n)),
    }
    let mut sentence = say!(
        "Time to spent by {measure}: {told}.",
        measure = names::measure(study, measure),
        told = told.join("; ")
    );
    if matches!(study.unit(measure), Unit::Within(_) | Unit::Linked(_)) {
        sentence += " ";
        sentence += &say!("What {pieces} add is in these times.", pieces = names::pieces(study, measure));
    }
    Some(sentence)
}

/// Together where none was spent, else one by one; of many only how many sections were.
fn of_products(
    material: &Material<'_>,
    ids: &[ProductId],
    all: &str,
    tally: &impl Fn(Treatment) -> Tally,
) -> Vec<String> {
    let each = || ids.iter().map(|&id| (names::product(material.study, id), tally(Treatment::Product(id))));
    let together = || each().map(|(_, tally)| tally).reduce(Tally::add);
    let several = ids.len() > 1;
    if several && each().all(|(_, tally)| tally.whole()) {
        return together().and_then(|tally| words(material, all, &tally)).into_iter().collect();
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

/// Sections as one: the shortest time that is known of those which held, and the whole stretch in which the others were spent.
fn words(material: &Material<'_>, who: &str, tally: &Tally) -> Option<String> {
    let study = material.study;
    let number = tally.held.len() + tally.spent.len();
    let sections = count(number, "section");
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
    let shortest = tally.held.iter().copied().min_by_key(|moment| (moment.days, moment.round));
    let held = shortest.map(|last| lasted(study, Spent::AtLeast(last)));
    let failed = stretch(&tally.spent).map(|when| lasted(study, when));
    Some(match (held, failed) {
        (None, None) => return None,
        (Some(time), None) => {
            say!("{who} {time} ({sections}, none spent{more})", who, sections, more, time = time?)
        }
        (None, Some(time)) => {
            say!("{who} {time} ({sections}, all spent{more})", who, sections, more, time = time?)
        }
        (Some(held), Some(time)) => say!(
            "{who} {time} ({spent} of {sections}) and {held} (the others{more})",
            who,
            sections,
            more,
            held = held?,
            time = time?,
            spent = tally.spent.len()
        ),
    })
}

/// From the first round that any of them is known to have passed, up to the last at which one failed first.
fn stretch(spent: &[Spent]) -> Option<Spent> {
    let ends = spent.iter().filter_map(|&when| match when {
        Spent::Between(_, to) | Spent::Before(to) => Some(to),
        Spent::AtLeast(_) => None,
    });
    let end = ends.max_by_key(|moment| (moment.days, moment.round))?;
    let starts = spent.iter().map(|&when| if let Spent::Between(from, _) = when { Some(from) } else { None });
    let starts: Option<Vec<Moment>> = starts.collect();
    let start = starts.and_then(|starts| starts.into_iter().min_by_key(|moment| (moment.days, moment.round)));
    Some(start.map_or(Spent::Before(end), |start| Spent::Between(start, end)))
}
