//! What each product costs for the area and for the time that it held.

use super::super::blocks::{Part, Table};
use super::super::material::Material;
use super::super::names;
use super::super::numbers::{self, Figure};
use super::ranking::Ranking;
use crate::analysis::{Gone, MonthlyCost, NoCost, ProductCost, SectionCost};
use crate::speech::say;
use crate::study::Treatment;

pub(in crate::report) fn part(material: &Material<'_>, ranking: &Ranking) -> Option<Part> {
    let study = material.study;
    let mut costs: Vec<&ProductCost> = material.analysis.costs.iter().collect();
    if costs.iter().all(|cost| cost.sections.is_err()) {
        return None;
    }
    costs.sort_by_key(|cost| ranking.place(Treatment::Product(cost.product)));
    let mut part = Part::new(say!("What each product costs for its time"));
    let by = material.analysis.months_by.map(|id| names::measure(study, id));
    part.say(match by {
        Some(by) => say!("Price of the product for all coats, at the amount that the study states. A month counts while {by} stayed \
             within its limit; one that still held costs at most what is shown. Labour, preparation and upkeep are not \
             in it.", by),
        None => say!("Price of the product for all coats, at the amount that the study states. Labour is not in it.").to_owned(),
    });
    let bare = costs.iter().any(|cost| sections(cost).iter().any(|section| section.bare_as_long.is_some()));
    let as_long = |section: &SectionCost| section.bare_as_long.is_some_and(|(n, of)| n == of);
    if costs.iter().any(|cost| sections(cost).iter().any(as_long)) {
        part.say(
            say!("The last column counts the bare sections that passed the same rounds as the product did, or more. Where all of them did, the \
             product is not shown to add any time, and a month of it is no price of protection."),
        );
    }
    let mut heads =
        vec![say!("Product"), say!("Section"), say!(">A square metre"), say!(">A square metre and month")];
    heads.extend(bare.then_some(say!(">Bare that passed as much")));
    let mut table = Table::new(&heads);
    for cost in costs {
        let name = names::product(study, cost.product);
        match &cost.sections {
            Ok(sections) => {
                for (at, section) in sections.iter().enumerate() {
                    table.row(row(
                        if at == 0 { &name } else { "" },
                        names::section(study, section.section),
                        section,
                        bare,
                    ));
                }
            }
            Err(why) => {
                let why = Figure::absent(no_cost(*why));
                let mut cells = vec![Figure::from(name), Figure::none(), why, Figure::none()];
                cells.extend(bare.then(Figure::none));
                table.row(cells);
            }
        }
    }
    part.table(table);
    Some(part)
}

fn sections(cost: &ProductCost) -> &[SectionCost] {
    cost.sections.as_deref().unwrap_or(&[])
}

/// A bound stays one when it is rounded: to the cent above.
fn up(value: f64) -> f64 {
    (value * 100.0 - 1e-9).ceil() / 100.0
}

/// To the cent below.
fn down(value: f64) -> f64 {
    (value * 100.0 + 1e-9).floor() / 100.0
}

fn row(name: &str, code: &str, cost: &SectionCost, bare: bool) -> Vec<Figure> {
    let unit = cost.unit.symbol;
    let month = match cost.per_m2_month {
        None => match cost.gone {
            None => Figure::none(),
            Some(Gone::Ended(day)) => {
                Figure::absent(&say!("ended on {day}, not counted", day = numbers::day(day)))
            }
            Some(Gone::Stopped) => Figure::absent(say!("stopped, not counted")),
        },
        Some(MonthlyCost::Between(low, high)) => Figure::from(say!(
            "{low} to {high}",
            low = numbers::fixed(down(low), 2),
            high = numbers::money(up(high), unit)
        )),
        Some(MonthlyCost::AtMost(most)) => {
            Figure { raw: Some(most), text: say!("at most {most}", most = numbers::money(up(most), unit)) }
        }
        Some(MonthlyCost::AtLeast(least)) => Figure {
            raw: Some(least),
            text: say!("at least {least}", least = numbers::money(down(least), unit)),
        },
    };
    let area = Figure { raw: Some(cost.per_m2), text: numbers::money(cost.per_m2, unit) };
    let mut cells = vec![Figure::from(name), Figure::from(code), area, month];
    cells.extend(bare.then(|| {
        cost.bare_as_long.map_or_else(Figure::none, |(n, of)| Figure::from(say!("{n} of {of}", n, of)))
    }));
    cells
}

fn no_cost(why: NoCost) -> &'static str {
    match why {
        NoCost::NoPrice => say!("no price"),
        NoCost::NoAmount => say!("no amount on an area"),
        NoCost::DifferentKinds => say!("price for a volume, amount by mass or the other way round"),
        NoCost::Mixed => say!("mixed before use, and the amount does not say how much of it is product"),
        NoCost::NoArea => say!("a section without a shape"),
    }
}
