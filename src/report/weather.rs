//! The climate file in the report: what coats met, and what the weather did between rounds.

use super::blocks::{Part, Table};
use super::checklist::degrees;
use super::material::Material;
use super::names;
use super::numbers::{Figure, amount, day, decimal, fixed};
use crate::analysis::{ClimateStretch, ClimateSum, SiteClimate, StretchEnd, WetBy};
use crate::readings::CoatHour;
use crate::speech::{self, say};
use crate::study::Study;

/// What coats met by their records and by the climate file.
pub(super) fn coats(material: &Material<'_>) -> Option<Part> {
    let study = material.study;
    let hours = material.readings.coat_hours(study);
    if hours.is_empty() || material.analysis.climate.is_empty() {
        return None;
    }
    let told = hours.iter().filter(|hour| hour.in_file.is_some()).count();
    let mut part = Part::below(match told {
        0 => say!("No climate file covers the hour of a coat").to_owned(),
        n if n == hours.len() => say!("What the climate file tells of the hours of the coats").to_owned(),
        n => say!("What the climate file tells of {n} of {hours} hours of coats", n, hours = hours.len()),
    });
    let unit = speech::unit(degrees(study));
    part.say(
        say!("A value of the record counts before that of the file; where both are known the one of the file stands in \
         brackets. The dew point is worked out by the Magnus formula with the constants of Sonntag (1990)."),
    );
    let mut table = Table::new(&[
        say!("When").to_owned(),
        say!("What").to_owned(),
        say!(">Air, {unit}", unit),
        say!(">Humidity, %").to_owned(),
        say!(">Surface, {unit}", unit),
        say!(">Dew point, {unit}", unit),
        say!(">Surface above it, {unit}", unit),
    ]);
    let scale = Scale { fahrenheit: unit == "degF" };
    for hour in &hours {
        table.row(coat(study, hour, scale));
    }
    part.table(table);
    Some(part)
}

fn coat(study: &Study, hour: &CoatHour, scale: Scale) -> Vec<Figure> {
    let (known, file) = (hour.known(), hour.in_file.unwrap_or_default());
    let both = |recorded: Option<f64>, file: Option<f64>, turn: &dyn Fn(f64) -> f64| {
        let tenth = |value: f64| fixed(turn(value), 1);
        match (recorded, file) {
            (Some(own), Some(other)) => {
                Figure { raw: Some(turn(own)), text: format!("{} ({})", tenth(own), tenth(other)) }
            }
            (Some(one), None) | (None, Some(one)) => Figure { raw: Some(turn(one)), text: tenth(one) },
            (None, None) => Figure::none(),
        }
    };
    let one = |value: Option<f64>, turn: &dyn Fn(f64) -> f64| both(value, None, turn);
    let degrees = |value| scale.degrees(value);
    let what = match hour.coat {
        Some((number, product)) => {
            let section = hour.section.map(|section| format!(", {}", names::section(study, section)));
            say!(
                "{title}, coat {number}{section}",
                number,
                title = study.product(product).title(),
                section = section.unwrap_or_default()
            )
        }
        None => say!("planned start; no coat has a record").to_owned(),
    };
    let when = hour.at.map_or_else(
        || Figure::from(say!("no hour recorded")),
        |at| Figure::from(format!("{} {:02}:{:02}", day(at.date()), at.hour(), at.minute())),
    );
    vec![
        when,
        Figure::from(what),
        both(hour.recorded.air_deg_c, file.air_deg_c, &degrees),
        both(hour.recorded.humidity_percent, file.humidity_percent, &|value| value),
        both(hour.recorded.surface_deg_c, file.surface_deg_c, &degrees),
        one(known.dew_point_deg_c(), &degrees),
        one(known.above_dew_point_deg_c(), &|value| scale.step(value)),
    ]
}

/// What the weather did, one part for each climate file.
pub(super) fn between(material: &Material<'_>) -> Vec<Part> {
    let told = material.analysis.climate.iter().filter(|climate| !climate.stretches.is_empty());
    told.map(|climate| of_file(material, climate)).collect()
}

fn of_file(material: &Material<'_>, climate: &SiteClimate) -> Part {
    let study = material.study;
    let mut part = Part::below(heading(study, climate));
    let (unit, scale) = (speech::unit(degrees(study)), Scale { fahrenheit: degrees(study) == "degF" });
    let all = || climate.stretches.iter().chain(&climate.whole);
    let mut head = vec![
        say!("From").to_owned(),
        say!("To").to_owned(),
        say!(">Days").to_owned(),
        say!(">Air, mean and range, {unit}", unit),
    ];
    let any = |of: &dyn Fn(&ClimateStretch) -> bool| all().any(of);
    let columns = [
        (any(&|one| one.humidity_mean_percent.is_some()), say!(">Humidity, mean, %")),
        (any(&|one| one.wet.is_some()), say!(">Wet, h")),
        (any(&|one| one.sun_mj_per_m2.is_some()), say!(">Sun, MJ/m²")),
        (any(&|one| one.sunshine.is_some()), say!(">Sunshine, h")),
    ];
    let [humidity, wet, sun, sunshine] = columns.map(|(there, head)| there.then(|| head.to_owned()));
    head.extend(humidity.clone());
    head.extend(wet.clone());
    head.extend(climate.hours_above.iter().map(|asked| {
        say!(
            ">{what} above {above}, h",
            what = if asked.surface { say!("Surface") } else { say!("Air") },
            above = amount(&asked.above)
        )
    }));
    head.extend(sun.clone().into_iter().chain(sunshine.clone()));
    head.push(say!(">No row, h").to_owned());
    let mut table = Table::new(&head);
    for one in all() {
        let mut row = vec![
            Figure::from(end(study, one.from, one.first)),
            Figure::from(end(study, one.to, one.last)),
            number(one.hours / 24.0, 0),
            air(one, scale),
        ];
        let mean = |value: Option<f64>| value.map_or_else(Figure::none, |value| number(value, 0));
        row.extend(humidity.iter().map(|_| mean(one.humidity_mean_percent)));
        row.extend(wet.iter().map(|_| total(one.wet, one)));
        row.extend(one.above.iter().map(|&sum| total(Some(sum), one)));
        row.extend(sun.iter().map(|_| total(one.sun_mj_per_m2, one)));
        row.extend(sunshine.iter().map(|_| total(one.sunshine, one)));
        row.push(number(one.without_row_h, decimals(one.without_row_h)));
        table.row(row);
    }
    part.table(table);
    part.say(method(material, climate));
    part
}

fn heading(study: &Study, climate: &SiteClimate) -> String {
    let site = climate
        .site
        .map_or_else(String::new, |site| say!(" at {site}", site = study.sites[site.index()].value));
    let whole = climate.whole.as_ref().or(climate.stretches.first());
    let words = whole.map(|whole| {
        let sum = |sum: Option<ClimateSum>, words: &str| {
            let sum = sum?;
            let least = if is_whole(sum) { "" } else { say!("at least ") };
            Some(format!("{least}{} {words}", fixed(sum.value, decimals(sum.value))))
        };
        let wet = if climate.wet_by == Some(WetBy::DewPoint) {
            say!("h of dew, as estimated")
        } else {
            say!("h wet")
        };
        let told = [
            sum(whole.wet, wet),
            sum(whole.sun_mj_per_m2, say!("MJ/m² of sun")),
            sum(whole.sunshine, say!("h of sunshine")),
        ];
        told.into_iter().flatten().collect::<Vec<String>>()
    });
    match words.as_deref() {
        None | Some([]) => say!("The weather between rounds{site}", site),
        Some(words) => say!("Weather{site}: {words}", site, words = crate::speech::list(words, "and")),
    }
}

fn end(study: &Study, end: StretchEnd, date: jiff::civil::Date) -> String {
    let day = day(date);
    match end {
        StretchEnd::PutOut => say!("put out, {day}", day),
        StretchEnd::Apply => say!("application, {day}", day),
        StretchEnd::BroughtIn => say!("brought in, {day}", day),
        StretchEnd::Round(round) => format!("{}, {day}", names::round(study, round)),
    }
}

fn air(stretch: &ClimateStretch, scale: Scale) -> Figure {
    let (Some(mean), Some((low, high))) = (stretch.air_mean_deg_c, stretch.air_range_deg_c) else {
        return Figure::none();
    };
    let tenth = |value: f64| fixed(scale.degrees(value), 1);
    Figure {
        raw: Some(scale.degrees(mean)),
        text: say!("{mean} ({low} to {high})", mean = tenth(mean), low = tenth(low), high = tenth(high)),
    }
}

/// A sum; beside hours of which nothing is known it is "at least".
fn total(sum: Option<ClimateSum>, stretch: &ClimateStretch) -> Figure {
    let Some(sum) = sum else { return Figure::none() };
    let mut text = fixed(sum.value, decimals(sum.value));
    if !is_whole(sum) {
        text = say!("at least {text}", text);
    }
    // Fields that are blank in rows that are there show nowhere else.
    let blank = sum.missing_h - stretch.without_row_h;
    if blank > LEAST_GAP_H {
        text = say!("{text} ({blank} h blank)", text, blank = fixed(blank, decimals(blank)));
    }
    Figure { raw: Some(sum.value), text }
}

/// Less than this is no gap, h: half of a minute.
const LEAST_GAP_H: f64 = 0.5 / 60.0;

fn is_whole(sum: ClimateSum) -> bool {
    sum.missing_h <= LEAST_GAP_H
}

fn number(value: f64, decimals: usize) -> Figure {
    Figure { raw: Some(value), text: fixed(value, decimals) }
}

/// Small sums are printed to a tenth.
fn decimals(value: f64) -> usize {
    usize::from(value.abs() < 100.0 && value.abs() > 1e-9)
}

fn method(material: &Material<'_>, climate: &SiteClimate) -> String {
    let file = &material.study.climate[climate.file].name.value;
    let mut words = say!(
        "From {file}. A row stands for the time up to the next one, {step} as a rule; where the next comes \
         later than one and a half times that, the rest is a gap. Gaps and blank fields are never filled, and a sum beside them is \"at least\". Days run \
         from midnight to midnight by the clock of the file; the day of a round is the first of the stretch after it.",
        file,
        step = step(climate.step_s)
    );
    let stretches = &climate.stretches;
    if climate.wet_by == Some(WetBy::DewPoint) {
        words.push_str(
            say!(" Hours wet are estimated: those in which the surface is at or below the dew point of the air (Magnus formula, \
             constants of Sonntag 1990). Rain that falls on a warmer surface is not among them."),
        );
    }
    if stretches.iter().any(|one| one.sun_mj_per_m2.is_some()) {
        words.push_str(say!(" The sun is what falls on the sensor of the file, in its own plane, which need not be that of the panel."));
    }
    words
}

fn step(seconds: f64) -> String {
    match seconds {
        s if s >= 86_400.0 => say!("{days} days", days = decimal(s / 86_400.0)),
        s if s >= 3600.0 => format!("{} h", decimal(s / 3600.0)),
        s if s >= 60.0 => format!("{} min", decimal(s / 60.0)),
        s => format!("{} s", decimal(s)),
    }
}

/// The degrees of the study.
#[derive(Debug, Clone, Copy)]
struct Scale {
    fahrenheit: bool,
}

impl Scale {
    fn degrees(self, deg_c: f64) -> f64 {
        if self.fahrenheit { deg_c * 1.8 + 32.0 } else { deg_c }
    }

    /// A difference: 1 degC of it is 1.8 degF.
    fn step(self, deg_c: f64) -> f64 {
        if self.fahrenheit { deg_c * 1.8 } else { deg_c }
    }
}
