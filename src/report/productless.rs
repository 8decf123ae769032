//! What sections without a product show beside the bare ones: where the carrier alone, or leaving a section untouched, did as well as
//! the products, the answer says so.

use super::asked::Place;
use super::blocks::Topic;
use super::claim::Claim;
use super::material::Material;
use super::names;
use super::numbers::with_unit;
use super::stopped;
use crate::analysis::{Against, ControlRow, Productless, Side, Word};
use crate::speech::{list, say};
use crate::study::{ProductId, Treatment};

/// More differences than this are told by the highest and the lowest.
const FEW: usize = 3;

/// A claim for each such kind of sections that a product did better than bare, but is not shown to have done better than.
pub(super) fn claims(material: &Material<'_>, at: Place<'_>, against_bare: &Against) -> Vec<Claim> {
    if *against_bare == Against::NoControl {
        let ahead = |one: &Productless| Claim::new(ahead(at, one), Topic::Productless(one.treatment));
        return material.analysis.to_productless.iter().map(ahead).collect();
    }
    let Against::Told { better, .. } = against_bare else { return Vec::new() };
    let claim =
        |one: &Productless| Some(Claim::new(sentence(at, better, one)?, Topic::Productless(one.treatment)));
    material.analysis.to_productless.iter().filter_map(claim).collect()
}

/// How the products stand to sections without one where nothing is bare, so that these are all that they can be held against.
fn ahead(at: Place<'_>, one: &Productless) -> String {
    let told = |side: Side| {
        let mut rows: Vec<&ControlRow> = one.table.rows.iter().collect();
        rows.retain(|row| row.side == side && matches!(row.counted(), Ok(Word::Seen | Word::Measurable)));
        rows.sort_by(|a, b| b.difference.total_cmp(&a.difference));
        rows
    };
    let control = control(at, one);
    let who = |rows: &[&ControlRow]| {
        let all = one.table.rows.len();
        if rows.len() == all && all > 1 || rows.len() > FEW {
            names::capital(&names::of_products(rows.len(), all))
        } else {
            list(&rows.iter().map(|row| names::treatment(at.study, row.treatment)).collect::<Vec<_>>(), "and")
        }
    };
    let (better, worse) = (told(Side::Better), told(Side::Worse));
    let mut said = Vec::new();
    if !better.is_empty() {
        let (who, differences) = (who(&better), differences(at, &better));
        said.push(say!(
            "{who} did better than {control}: {differences}.",
            who,
            control = control,
            differences
        ));
    }
    if !worse.is_empty() {
        let (who, differences) = (who(&worse), differences(at, &worse));
        said.push(say!(
            "{who} did worse than {control}: {differences}.",
            who,
            control = control,
            differences
        ));
    }
    if said.is_empty() {
        said.push(say!("No product is told apart from {control}.", control));
    }
    said.join(" ")
}

fn control(at: Place<'_>, one: &Productless) -> String {
    let units = names::units(at.study, at.question.measure, one.table.control.n);
    if one.treatment == Treatment::CarrierOnly {
        say!("the carrier alone ({units})", units)
    } else {
        say!("what is untouched ({units})", units)
    }
}

fn sentence(at: Place<'_>, better: &[ProductId], one: &Productless) -> Option<String> {
    let told = |row: &ControlRow, side: Side| {
        row.side == side && matches!(row.counted(), Ok(Word::Seen | Word::Measurable))
    };
    let product = |row: &ControlRow| match row.treatment {
        Treatment::Product(id) if better.contains(&id) && !told(row, Side::Better) => Some(id),
        _ => None,
    };
    let mut rows: Vec<&ControlRow> = one.table.rows.iter().filter(|row| product(row).is_some()).collect();
    rows.sort_by(|a, b| b.difference.total_cmp(&a.difference));
    let ids: Vec<ProductId> = rows.iter().filter_map(|row| product(row)).collect();
    let all = one.table.rows.len();
    let who = match ids.len() {
        0 => return None,
        n if n == all && n > 1 || n > FEW => names::capital(&names::of_products(n, all)),
        _ => list(&names::products(at.study, &ids), "and"),
    };
    let control = control(at, one);
    let differences = differences(at, &rows);
    let worse: Vec<ProductId> =
        rows.iter().filter(|row| told(row, Side::Worse)).filter_map(|row| product(row)).collect();
    let head = if worse.len() == rows.len() {
        say!("{who} did worse than {control}: {differences}.", who, control, differences)
    } else if !worse.is_empty() {
        say!(
            "{who} are not shown to do better than {control}, and {worse} did worse: {differences}.",
            who,
            control,
            worse = list(&names::products(at.study, &worse), "and"),
            differences
        )
    } else if ids.len() == 1 {
        say!("{who} is not shown to do better than {control}: {differences}.", who, control, differences)
    } else {
        say!("{who} are not shown to do better than {control}: {differences}.", who, control, differences)
    };
    Some(if one.treatment == Treatment::CarrierOnly {
        say!("{head} What is seen against bare cannot be put down to what is in the product.", head)
    } else {
        say!("{head} That preparing and coating does more than leaving the surface alone is not shown.", head)
    })
}

/// The differences with their intervals, the highest first; of many the first and the last.
fn differences(at: Place<'_>, rows: &[&ControlRow]) -> String {
    let style = at.style();
    let one = |row: &&ControlRow| {
        let (name, difference) = (
            names::treatment(at.study, row.treatment),
            with_unit(&stopped::difference(style, row.difference, row.farther).text, style.difference_unit()),
        );
        match row.interval {
            Some(open) if open.is_open() => {
                say!(
                    "{name} {difference} ({bound})",
                    name,
                    difference,
                    bound = style.span(open.low, open.high)
                )
            }
            Some(interval) => say!(
                "{name} {difference} (from {low} to {high})",
                name,
                difference,
                low = style.end(interval.low),
                high = style.end(interval.high)
            ),
            None => say!("{name} {difference}", name, difference),
        }
    };
    match rows {
        [most, .., least] if rows.len() > FEW => {
            say!("from {most} down to {least}", most = one(most), least = one(least))
        }
        few => few.iter().map(one).collect::<Vec<_>>().join(", "),
    }
}
