//! What bare sections buy: beyond how many little is gained, and whether the declared limits are reached by then.

use super::super::blocks::Part;
use super::super::names;
use super::super::numbers;
use super::{BESIDE, Basis, EACH, Procedure};
use crate::planning::Room;
use crate::speech::{count, say};

/// The numbers of bare sections that the table shows.
const BARE: [usize; 8] = [2, 3, 4, 5, 6, 8, 10, 12];
/// Two more bare sections that buy less than this share are not worth their place.
const LITTLE: f64 = 0.05;
/// So many bare sections are looked at.
const MOST_BARE: usize = 24;

pub(super) fn bare_sections(basis: &Basis<'_>) -> Part {
    let mut numbers = BARE.to_vec();
    numbers.push(basis.room.bare);
    numbers.sort_unstable();
    numbers.dedup();
    let numbers: Vec<usize> = numbers.into_iter().filter(|&n| n >= 1).collect();
    let with = |bare: usize| {
        let df = basis.room.df - basis.room.bare.saturating_sub(1) + bare - 1;
        Room { bare, df, ..basis.room.clone() }
    };
    let figures: Vec<Option<f64>> = (1..=MOST_BARE + 2).map(|bare| basis.spreads(&with(bare))).collect();
    let enough = little_from(&figures);
    let mut part = Part::new(match enough {
        Some(enough) if enough < MOST_BARE => {
            say!("Beyond {bare} little is gained", bare = names::bare_units(enough, &basis.noun))
        }
        _ => say!("More bare {units} help", units = basis.units()),
    });
    part.say(say!(
        "Little: two more lower no figure from there on by {percent} % or more. Products, their {units} and the readings stay as they \
         are planned.",
        units = basis.units(),
        percent = numbers::fixed(LITTLE * 100.0, 0)
    ));
    let spread = basis.scatter.of_section(basis.readings);
    part.list(enough.into_iter().flat_map(|enough| reached(basis, &figures, enough, spread)).collect());
    let mut table = basis.table(&[say!(">bare {units}", units = basis.units())]);
    for &bare in &numbers {
        let mark = if bare == basis.room.bare { say!("this plan") } else { "" };
        basis.row(&mut table, vec![bare.to_string().into()], (&with(bare), basis.readings), mark);
    }
    part.table(table);
    if numbers.iter().any(|&bare| figures.get(bare - 1).is_some_and(Option::is_none)) {
        part.say(say!("A dash: however far apart, nothing can be told with so few."));
    }
    if basis.by == Procedure::Means && basis.room.differ {
        part.say(say!(
            "From 4 of everything on each treatment is judged by a spread of its own, which asks for more: the figure may rise there."
        ));
    }
    part
}

/// The first number of bare sections from which on two more lower no figure by [`LITTLE`]; `figures` begin at one.
///
/// Figures by ranks fall in steps, so that one small step is no end.
fn little_from(figures: &[Option<f64>]) -> Option<usize> {
    let falls = |at: usize| match (figures[at], figures[at + 2]) {
        (Some(now), Some(more)) => more <= now * (1.0 - LITTLE),
        (None, more) => more.is_some(),
        (Some(_), None) => false,
    };
    let steps = figures.len().checked_sub(2)?;
    figures[steps - 1]?;
    let last = (0..steps).rev().find(|&at| falls(at));
    Some(last.map_or(1, |at| at + 2).max(2))
}

/// Whether the declared limits are reached with so many bare sections, and where not, what reaches them.
fn reached(basis: &Basis<'_>, figures: &[Option<f64>], enough: usize, spread: f64) -> Vec<String> {
    if basis.unit != basis.style.difference_unit() {
        return Vec::new();
    }
    let text = |limit: f64| basis.style.value(limit).text;
    let alike = basis.measure.alike.as_ref().map(|limit| limit.value);
    let alike = alike.map(|limit| (say!("What matters, more than {value}", value = text(limit)), limit));
    let seen = basis.measure.seen.as_ref().map(|limit| limit.value);
    let seen = seen.map(|limit| (say!("What is seen, from {value}", value = text(limit)), limit));
    let reaches = |figure: Option<f64>, limit: f64| figure.is_some_and(|figure| figure * spread <= limit);
    let said = alike.into_iter().chain(seen).filter_map(|(what, limit)| {
        let fewest = (2..=enough).find(|bare| reaches(figures[bare - 1], limit));
        if let Some(fewest) = fewest {
            let bare = names::bare_units(fewest, &basis.noun);
            // By readings alone only what is out of reach is sure.
            return (!basis.readings_alone).then(|| say!("{what}, is told apart with {bare}.", what, bare));
        }
        Some(match sections_for(basis, limit) {
            Some((each, bare)) => say!(
                "{what}, is not told apart with {bare}; it is with {sections} each beside {others}.",
                what,
                bare = names::bare_units(enough, &basis.noun),
                sections = count(each, &basis.noun),
                others = names::bare_units(bare, &basis.noun)
            ),
            None => say!(
                "{what}, is told apart neither with {bare} nor by any line on {units} below.",
                units = basis.units(),
                what,
                bare = names::bare_units(enough, &basis.noun)
            ),
        })
    });
    said.collect()
}

/// The line of the table of sections with the fewest of them that tells a difference apart: sections each, and bare ones.
fn sections_for(basis: &Basis<'_>, limit: f64) -> Option<(usize, usize)> {
    let products = basis.room.products.len();
    let lines = EACH.flat_map(|each| BESIDE.map(|bare| (each, bare)));
    let told = |&(each, bare): &(usize, usize)| {
        basis.figure(&basis.even(products, each, bare), basis.readings).is_some_and(|figure| figure <= limit)
    };
    lines.filter(told).min_by_key(|&(each, bare)| each * products + bare)
}

#[cfg(test)]
mod tests {
    use super::little_from;

    #[test]
    fn one_small_step_is_no_end() {
        // From 2.29 to 2.19 two more buy 4 %, and from 2.19 to 1.95 they buy 11 %.
        let mut figures = vec![
            None,
            Some(4.0),
            Some(3.0),
            Some(2.3),
            Some(2.29),
            Some(2.2),
            Some(2.19),
            Some(2.0),
            Some(1.95),
        ];
        figures.extend([Some(1.95); 8]);
        assert_eq!(little_from(&figures), Some(8));
        assert_eq!(little_from(&[Some(1.0); 6]), Some(2));
        assert_eq!(little_from(&[None; 6]), None);
    }
}
