//! What each product costs for the area and for the time that it held.

use super::super::blocks::{Part, Table};
use super::super::checklist::section_list;
use super::super::material::Material;
use super::super::names;
use super::super::numbers::{self, Figure};
use super::super::site_times;
use super::ranking::Ranking;
use crate::analysis::{CostWithGauge, Gone, MonthlyCost, NoCost, ProductCost, SectionCost};
use crate::speech::say;
use crate::study::{Study, Treatment};

pub(in crate::report) fn part(material: &Material<'_>, ranking: &Ranking) -> Option<Part> {
    let study = material.study;
    let mut costs: Vec<&ProductCost> = material.analysis.costs.iter().collect();
    if costs.iter().all(|cost| cost.sections.is_err()) {
        return None;
    }
    costs.sort_by_key(|cost| ranking.place(Treatment::Product(cost.product)));
    let none = costs.iter().all(|cost| sections(cost).iter().all(|one| one.per_m2_month.is_none()));
    let mut part = Part::new(if none {
        say!("What each product costs")
    } else {
        say!("What each product costs for its time")
    });
    let by = material.analysis.months_by.map(|id| names::measure(study, id));
    part.say(match by {
        Some(by) => say!("Price of the product for all coats, at the amount that the study states. A month counts while {by} stayed \
             within its limit; one that still held costs at most what is shown; bounds are rounded outwards. Labour, preparation and upkeep are not \
             in it.", by),
        None => say!("Price of the product for all coats, at the amount that the study states. Labour is not in it.").to_owned(),
    });
    if none {
        part.say(if study.cycle.is_some() {
            say!("No price of a month is given: time is counted here in cycles, and not in days.")
        } else {
            say!(
                "No price of a month is given: nothing says how long a product held where it was put on, in days and by a limit of the study."
            )
        });
    }
    let held = material.analysis.months_by.and_then(|id| material.analysis.measure(id));
    let sites = held.map_or_else(Vec::new, |measure| site_times::of(material, measure));
    if let Some(open) = site_times::open(material, &sites) {
        part.say(open);
    }
    let bare = costs.iter().any(|cost| sections(cost).iter().any(|section| section.bare_as_long.is_some()));
    let as_long = |section: &SectionCost| section.bare_as_long.is_some_and(|(n, of)| n == of);
    if costs.iter().any(|cost| sections(cost).iter().any(as_long)) {
        part.say(
            say!("The last column counts the bare sections that were still within the limit at the last round that the section passed; where it passed none, all of them. Where all did, the \
             product is not shown to add any time, and a month of it is no price of protection."),
        );
        if sites.len() > 1 {
            part.say(say!("A section is held against the bare sections of its own site."));
        }
    }
    let mut heads = vec![say!("Product"), say!("Section"), say!(">A square metre")];
    heads.extend((!none).then_some(say!(">A square metre and month")));
    heads.extend(bare.then_some(say!(">Bare that passed as much")));
    let gauge =
        costs.iter().any(|cost| sections(cost).iter().any(|section| section.month_with_gauge.is_some()));
    heads.extend(gauge.then_some(say!(">with the gauge's own error")));
    let mut table = Table::new(&heads);
    let shown = (!none, bare, gauge);
    for cost in costs {
        rows(&mut table, study, cost, shown);
    }
    part.table(table);
    Some(part)
}

/// The rows of a product; `shown` says which of the last three columns the table has. Its name stands in every row, or a page that
/// begins among them would not say whose they are.
fn rows(table: &mut Table, study: &Study, cost: &ProductCost, shown: (bool, bool, bool)) {
    let name = names::product(study, cost.product);
    let sections = match &cost.sections {
        Ok(sections) => sections,
        Err(why) => {
            let why = Figure::absent(no_cost(*why));
            let mut cells = vec![Figure::from(name), Figure::none(), why];
            let (month, bare, gauge) = shown;
            cells.extend([month, bare, gauge].into_iter().filter(|shown| *shown).map(|_| Figure::none()));
            table.row(cells);
            return;
        }
    };
    let mut own: Vec<(Vec<&str>, Vec<Figure>)> = Vec::new();
    for section in sections {
        let (code, cells) = (names::section(study, section.section), row(section, shown));
        match own.iter_mut().find(|(_, known)| *known == cells) {
            Some((codes, _)) => codes.push(code),
            None => own.push((vec![code], cells)),
        }
    }
    for (codes, cells) in own {
        let head = [Figure::from(name.as_str()), Figure::from(section_list(&codes))];
        table.row(head.into_iter().chain(cells).collect());
    }
}

fn sections(cost: &ProductCost) -> &[SectionCost] {
    cost.sections.as_deref().unwrap_or(&[])
}

/// The cent, and of less than ten cents two figures that count: of a few cents the cent alone would be off by a tenth and more.
fn decimals(value: f64) -> usize {
    (2..6)
        .find(|&places| value * 10f64.powi(places) >= 10.0)
        .map_or(6, |places| places.unsigned_abs() as usize)
}

/// A bound stays one when it is rounded: upwards.
fn up(value: f64) -> String {
    rounded(value, |tens| (value * tens - 1e-9).ceil())
}

/// Downwards.
fn down(value: f64) -> String {
    rounded(value, |tens| (value * tens + 1e-9).floor())
}

fn rounded(value: f64, to: impl Fn(f64) -> f64) -> String {
    let places = decimals(value);
    let tens: f64 = (0..places).map(|_| 10.0).product();
    numbers::fixed(to(tens) / tens, places)
}

/// The money of a month as bounds.
fn month(of: MonthlyCost, unit: &str) -> Figure {
    match of {
        MonthlyCost::Between(low, high) => {
            Figure::from(say!("{low} to {high}", low = down(low), high = numbers::with_unit(&up(high), unit)))
        }
        MonthlyCost::AtMost(most) => Figure {
            raw: Some(most),
            text: say!("at most {most}", most = numbers::with_unit(&up(most), unit)),
        },
        MonthlyCost::AtLeast(least) => Figure {
            raw: Some(least),
            text: say!("at least {least}", least = numbers::with_unit(&down(least), unit)),
        },
    }
}

fn row(cost: &SectionCost, (month_too, bare, gauge): (bool, bool, bool)) -> Vec<Figure> {
    let unit = cost.unit.symbol;
    let of_month = match cost.per_m2_month {
        Some(of) => month(of, unit),
        None => match cost.gone {
            None => Figure::none(),
            Some(Gone::Ended(day)) => {
                Figure::absent(&say!("ended on {day}, not counted", day = numbers::day(day)))
            }
            Some(Gone::Stopped) => Figure::absent(say!("stopped, not counted")),
        },
    };
    let money = numbers::fixed(cost.per_m2, decimals(cost.per_m2));
    let area = Figure { raw: Some(cost.per_m2), text: numbers::with_unit(&money, unit) };
    let mut cells = vec![area];
    cells.extend(month_too.then_some(of_month));
    cells.extend(bare.then(|| {
        cost.bare_as_long.map_or_else(Figure::none, |(n, of)| Figure::from(say!("{n} of {of}", n, of)))
    }));
    cells.extend(gauge.then(|| match cost.month_with_gauge {
        None => Figure::none(),
        Some(CostWithGauge::Bounds(of)) => month(of, unit),
        Some(CostWithGauge::Open) => Figure::absent(say!("not known")),
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

#[cfg(test)]
mod tests {
    use super::{down, up};

    /// Prices that differ by a twentieth stay apart, and a bound stays one.
    #[test]
    fn a_price_has_two_figures_that_count_and_is_rounded_to_the_side_of_its_bound() {
        let prices = [0.066_71, 0.070_04, 0.264_2, 2.714, 31.0, 0.000_000_4];
        assert_eq!(prices.map(up), ["0.067", "0.071", "0.27", "2.72", "31.00", "0.000001"]);
        assert_eq!(prices.map(down), ["0.066", "0.070", "0.26", "2.71", "31.00", "0.000000"]);
        assert_eq!([up(0.07), down(0.07)], ["0.070", "0.070"]);
    }
}
