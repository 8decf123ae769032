//! The climate at the application: its limits, places to write what was met, and the coldest surface allowed.

use super::super::numbers::{amount, day, decimal, fixed, with_unit};
use super::super::safety::Entry;
use super::lines::heads;
use super::view::{ClimateView, Coldest};
use crate::catalog::{Catalog, dew_point};
use crate::speech::{self, said, say};
use crate::study::{ApplyClimate, ProductId, Study};
use crate::units::{Humidity, Quantity, Range, Temperature, TemperatureStep};
use jiff::civil::Date;

/// The limits with the lines to write on.
pub(super) fn view(study: &Study, catalog: &Catalog, days: Vec<Date>) -> ClimateView {
    let asked = asked(study);
    let rule = catalog.climate();
    let margin = margin(&asked, catalog);
    let mut surface = vec![say!("at least {margin} above the dew point", margin)];
    surface.extend(asked.surface_below.map(|limit| say!("below {limit}", limit = amount(&limit))));
    let degrees = speech::unit(degrees(study));
    ClimateView {
        limits: vec![
            Entry::new(say!("Air, {degrees}", degrees), air(&asked)),
            Entry::new(say!("Humidity, %"), humidity(&asked, catalog)),
            Entry::new(
                say!("Dew point, {degrees}", degrees),
                say!("from a meter, or what the table below says less {margin}", margin),
            ),
            Entry::new(say!("Surface, {degrees}", degrees), surface.join(", ")),
            Entry::new(
                say!("Surface less dew point, {degrees}", degrees),
                say!("work it out before the first coat; below {margin} stop", margin),
            ),
        ],
        days: if days.len() > 1 { days.into_iter().map(day).collect() } else { Vec::new() },
        times: heads(&[say!("at the start"), say!("midway"), say!("at the end")]),
        coldest: coldest(&asked, catalog),
        notes: rule.map_or_else(Vec::new, |rule| {
            // A study that names its humidity is not told the looser one of the rule beside it.
            let humidity = asked.humidity.is_none().then_some(rule.humidity_text);
            let between = say!("Between two values of the table, the warmer and damper counts.").to_owned();
            let told = std::iter::once(rule.margin_text).chain(humidity).map(|text| said(text).to_owned());
            std::iter::once(between).chain(told).collect()
        }),
        source: rule.map_or_else(String::new, |rule| said(rule.source.as_str()).to_owned()),
    }
}

/// The degrees of the study, as it writes them: those of its air, else degC.
pub(in super::super) fn degrees(study: &Study) -> &'static str {
    if in_fahrenheit(&asked(study)) { "degF" } else { "degC" }
}

/// The limits of a product in one line, for the step itself.
pub(super) fn in_short(study: &Study, catalog: &Catalog, product: ProductId) -> String {
    let asked = study.climate_for(product);
    let surface = say!("surface {margin} above the dew point or more", margin = margin(&asked, catalog));
    let below = asked.surface_below.map(|limit| say!("surface below {limit}", limit = amount(&limit)));
    let air = asked.air.map(|air| say!("air {air}", air = amount(&air)));
    let words = [air, Some(humidity(&asked, catalog)), Some(surface), below];
    words.into_iter().flatten().collect::<Vec<String>>().join(", ")
}

fn asked(study: &Study) -> ApplyClimate {
    study.apply.as_ref().map(|apply| apply.climate.clone()).unwrap_or_default()
}

fn air(asked: &ApplyClimate) -> String {
    let none = || say!("as the data sheets say; the study gives none").to_owned();
    asked.air.map_or_else(none, |air| amount(&air))
}

fn humidity(asked: &ApplyClimate, catalog: &Catalog) -> String {
    match (asked.humidity, catalog.climate()) {
        (Some(asked), _) => amount(&asked),
        (None, Some(rule)) => say!("not above {n} % humidity", n = decimal(rule.humidity_max_percent)),
        (None, None) => say!("as the data sheets say").to_owned(),
    }
}

fn margin(asked: &ApplyClimate, catalog: &Catalog) -> String {
    let rule =
        catalog.climate().map_or_else(String::new, |rule| with_unit(&decimal(rule.margin_deg_c), "degC"));
    asked.above_dew_point.map_or(rule, |step| amount(&step))
}

fn margin_kelvin(asked: &ApplyClimate, catalog: &Catalog) -> f64 {
    let rule = catalog.climate().map_or(0.0, |rule| rule.margin_deg_c);
    asked.above_dew_point.map_or(rule, Quantity::<TemperatureStep>::kelvin)
}

fn in_fahrenheit(asked: &ApplyClimate) -> bool {
    asked.air.is_some_and(|air| symbol(&air) == "degF")
}

fn symbol(air: &Range<Temperature>) -> &'static str {
    air.low.any().unit.symbol
}

// The table spans the climate that is asked for, so that whatever may be coated in can be looked up.
fn coldest(asked: &ApplyClimate, catalog: &Catalog) -> Coldest {
    let fahrenheit = in_fahrenheit(asked);
    let (low, high) = asked.air.map_or((10.0, 30.0), |air| (air.low.any().value, air.high.any().value));
    let air = spread(low, high, 4.0);
    let percent = |value: Quantity<Humidity>| value.any().base();
    let (low, high) = asked.humidity.map_or((45.0, 85.0), |range| (percent(range.low), percent(range.high)));
    let margin = margin_kelvin(asked, catalog);
    let row = |humidity: f64| {
        let cells = air.iter().map(|&air| cell(air, humidity, margin, fahrenheit)).collect();
        (format!("{} %", decimal(humidity)), cells)
    };
    let unit = speech::unit(if fahrenheit { "degF" } else { "degC" });
    Coldest {
        title: say!(
            "Coldest surface that may be coated, {unit}: dew point and {margin}",
            unit,
            margin = self::margin(asked, catalog)
        ),
        air: air.iter().map(|&air| format!("{} {unit}", decimal(air))).collect(),
        rows: spread(low, high, 20.0).into_iter().filter(|&humidity| humidity > 0.0).map(row).collect(),
    }
}

// Round values that people read off a gauge, with both ends; around a single value they reach as far as `single`.
fn spread(low: f64, high: f64, single: f64) -> Vec<f64> {
    let (low, high) = if high > low { (low, high) } else { (low - single / 2.0, low + single / 2.0) };
    let step =
        [1.0, 2.0, 5.0, 10.0, 20.0].into_iter().find(|step| (high - low) / step <= 5.0).unwrap_or(50.0);
    let between = (1..=8).map(|at| ((low / step).floor() + f64::from(at)) * step);
    // A value right beside an end would be the same row twice.
    let between = between.filter(|value| *value > low + step / 4.0 && *value < high - step / 4.0);
    std::iter::once(low)
        .chain(between)
        .chain(std::iter::once(high))
        .map(|value| (value * 10.0).round() / 10.0)
        .collect()
}

// Rounded up, so that the table never allows what the formula does not.
fn cell(air: f64, humidity: f64, margin: f64, fahrenheit: bool) -> String {
    let celsius = if fahrenheit { (air - 32.0) / 1.8 } else { air };
    let Some(coldest) = dew_point(celsius, humidity).map(|dew| dew + margin) else { return "–".to_owned() };
    let printed = if fahrenheit { coldest * 1.8 + 32.0 } else { coldest };
    fixed((printed * 10.0 - 1e-9).ceil() / 10.0, 1)
}

#[cfg(test)]
mod tests {
    use super::spread;

    #[test]
    fn steps_are_round_and_both_ends_are_there() {
        assert_eq!(spread(15.0, 25.0, 4.0), [15.0, 16.0, 18.0, 20.0, 22.0, 24.0, 25.0]);
        assert_eq!(spread(35.0, 70.0, 20.0), [35.0, 40.0, 50.0, 60.0, 70.0]);
        assert_eq!(spread(45.0, 85.0, 20.0), [45.0, 50.0, 60.0, 70.0, 80.0, 85.0]);
        assert_eq!(spread(20.0, 20.0, 4.0), [18.0, 19.0, 20.0, 21.0, 22.0]);
    }
}
