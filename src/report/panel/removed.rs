//! What preparation took off the panel, against what the gauge can tell and what must be left.

use super::super::blocks::{Drawing, Part, Picture};
use super::super::charts::{RemovedChart, RemovedRow};
use super::super::material::Material;
use super::super::names;
use super::super::numbers::{self, Style};
use crate::analysis::{Removed, Twice};
use crate::speech::{count, say};

pub(super) fn parts(material: &Material<'_>) -> Vec<Part> {
    material.analysis.panel.removed.iter().map(|removed| part(material, removed)).collect()
}

fn part(material: &Material<'_>, removed: &Removed) -> Part {
    let study = material.study;
    let style = Style::of(material, removed.measure);
    let name = names::measure(study, removed.measure);
    let mut part = Part::below(say!("{name} before and after preparation", name = names::capital(name)));
    let interval = removed.interval.map_or_else(
        || say!("no interval, since the places do not scatter or there is one only").to_owned(),
        |i| {
            say!(
                "95 % interval of the loss from {low} to {high}",
                low = style.signed(i.low),
                high = style.signed(i.high)
            )
        },
    );
    let left_out = if removed.unpaired > 0 { unpaired(removed.unpaired) } else { String::new() };
    part.say(say!("Read on {places} of the panel at prep {first} and again at prep {second}: {went} ({interval}), place by place.{left_out}", interval, left_out, places = count(removed.places.len(), "place"), first = removed.steps.0 + 1, second = removed.steps.1 + 1, went = went(removed.mean, style)));
    part.picture(picture(material, removed, style));
    let told = std::iter::once(told(removed, style)).chain(too_even(removed, style));
    part.list(told.chain(left(material, removed, style)).collect());
    part
}

/// Every place before and after, and their mean with the interval of the loss.
fn picture(material: &Material<'_>, removed: &Removed, style: Style<'_>) -> Picture {
    let name = names::measure(material.study, removed.measure);
    let steps = [removed.steps.0, removed.steps.1].map(|step| say!("prep {step}", step = step + 1));
    let place = |twice: &Twice| RemovedRow {
        name: say!("place {place}", place = twice.place),
        before: twice.before,
        after: twice.after,
        interval: None,
    };
    let (before, after) = removed.means;
    let mean = RemovedRow {
        name: say!("mean").to_owned(),
        before,
        after,
        interval: removed.interval.map(|loss| (before - loss.high, before - loss.low)),
    };
    let lowest = style.value(removed.lowest).text;
    Picture {
        address: format!("report.html#picture-removed-{}", removed.measure.index() + 1),
        title: match removed.lowest_on {
            None => say!(
                "{name} before and after preparation: the lowest place has {lowest} left",
                lowest,
                name = names::capital(name)
            ),
            Some(_) => say!(
                "{name} before and after preparation: {went} on {places}",
                went = went(removed.mean, style),
                places = count(removed.places.len(), "place"),
                name = names::capital(name)
            ),
        },
        note: say!(
            "Open: {before}; full: {after}. The line at the mean is the 95 % interval of the loss, from the mean before. {places}; {one} at {before} and {other} \
             at {after}.",
            before = steps[0],
            after = steps[1],
            places = count(removed.places.len(), "place"),
            one = count(removed.readings.0, "reading"),
            other = removed.readings.1
        ),
        drawing: Drawing::Removed(RemovedChart {
            axis: numbers::with_unit(name, style.unit),
            leave: removed.leave.map(|leave| (leave, say!("at least {leave}", leave = style.bare(leave)))),
            rows: removed.places.iter().map(place).chain([mean]).collect(),
        }),
    }
}

fn went(down: f64, style: Style<'_>) -> String {
    let by = style.value(down.abs()).text;
    if down < 0.0 { say!("it went up by {by}", by) } else { say!("it went down by {by}", by) }
}

fn unpaired(places: usize) -> String {
    if places == 1 {
        say!(" One place was read at one of the two only and left out.").to_owned()
    } else {
        say!(" {places} were read at one of the two only and left out.", places = count(places, "place"))
    }
}

/// Whether the loss is more than the gauge gives by itself.
fn told(removed: &Removed, style: Style<'_>) -> String {
    let Some(gauge) = removed.gauge else {
        return say!("The gauge does not state how it repeats, so its own part in this cannot be said.")
            .to_owned();
    };
    let within = removed.mean.abs() <= 2.0 * gauge;
    say!(
        "The gauge alone gives a mean loss over {places} a scatter of ± {scatter} (two standard uncertainties){within}.",
        places = count(removed.places.len(), "place"),
        scatter = style.value(2.0 * gauge).text,
        within = if within { say!(", and nothing is told apart from it") } else { "" }
    )
}

/// Losses that scatter less than honest readings of such a gauge can.
fn too_even(removed: &Removed, style: Style<'_>) -> Option<String> {
    let (found, sd) = (removed.too_even?, removed.sd?);
    let spread = |sd: f64| numbers::with_unit(&numbers::fixed(sd, style.decimals + 1), style.unit);
    Some(say!(
        "From place to place the loss scatters by {sd} only, where the gauge alone, as it is stated, would give {by_gauge} (chi-square on {degrees}, p {p} for \
         so little). Either the gauge repeats better than stated, or the second reading was not taken without knowing the first; the interval above rests on that scatter.",
        sd = spread(sd),
        by_gauge = spread(found.by_gauge),
        degrees = numbers::degrees(found.df),
        p = numbers::probability(found.p)
    ))
}

/// The lowest place, or section, against what must be left.
fn left(material: &Material<'_>, removed: &Removed, style: Style<'_>) -> Option<String> {
    let leave = removed.leave?;
    let (lowest, limit) = (style.value(removed.lowest).text, style.value(leave).text);
    if let Some(section) = removed.lowest_on {
        let section = names::section(material.study, section);
        return Some(if removed.lowest < leave {
            say!(
                "The lowest section at baseline, before the products, is {section} with {lowest}, below the {limit} that the study says must be left.",
                lowest,
                section,
                limit
            )
        } else {
            say!(
                "The lowest section at baseline, before the products, is {section} with {lowest}; the study says that at least {limit} must be left.",
                lowest,
                section,
                limit
            )
        });
    }
    Some(if removed.lowest < leave {
        say!(
            "The lowest place has {lowest} left, below the {limit} that the study says must be left.",
            lowest,
            limit
        )
    } else {
        say!(
            "The lowest place read has {lowest} left; the study says that at least {limit} must be left.",
            lowest,
            limit
        )
    })
}
