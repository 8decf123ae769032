//! What preparation took off the panel, against what the gauge can tell and what must be left.

use super::super::blocks::{Drawing, Part, Picture};
use super::super::charts::{RemovedChart, RemovedRow};
use super::super::material::Material;
use super::super::names;
use super::super::numbers::{self, Style};
use crate::analysis::{Removed, Twice};
use crate::diag::count;

pub(super) fn parts(material: &Material<'_>) -> Vec<Part> {
    material.analysis.panel.removed.iter().map(|removed| part(material, removed)).collect()
}

fn part(material: &Material<'_>, removed: &Removed) -> Part {
    let study = material.study;
    let style = Style::of(study, study.measure(removed.measure));
    let name = names::measure(study, removed.measure);
    let mut part = Part::below(format!("{name} before and after preparation"));
    let interval = removed.interval.map_or_else(
        || "no interval, since the places do not scatter or there is one only".to_owned(),
        |i| format!("95 % interval of the loss from {} to {}", style.signed(i.low), style.signed(i.high)),
    );
    let unpaired = if removed.unpaired > 0 {
        format!(" {} read at one of the two only and left out.", count_were(removed.unpaired))
    } else {
        String::new()
    };
    part.say(format!(
        "Read on {} of the panel at prep {} and again at prep {}: {} ({interval}), place by place.{unpaired}",
        count(removed.places.len(), "place"),
        removed.steps.0 + 1,
        removed.steps.1 + 1,
        went(removed.mean, style)
    ));
    part.picture(picture(material, removed, style));
    part.list(std::iter::once(told(removed, style)).chain(left(removed, style)).collect());
    part
}

/// Every place before and after, and their mean with the interval of the loss.
fn picture(material: &Material<'_>, removed: &Removed, style: Style<'_>) -> Picture {
    let name = names::measure(material.study, removed.measure);
    let steps = [removed.steps.0, removed.steps.1].map(|step| format!("prep {}", step + 1));
    let place = |twice: &Twice| RemovedRow {
        name: format!("place {}", twice.place),
        before: twice.before,
        after: twice.after,
        interval: None,
    };
    let (before, after) = removed.means;
    let mean = RemovedRow {
        name: "mean".to_owned(),
        before,
        after,
        interval: removed.interval.map(|loss| (before - loss.high, before - loss.low)),
    };
    let lowest = style.value(removed.lowest).text;
    Picture {
        address: format!("report.html#picture-removed-{}", removed.measure.index() + 1),
        title: format!(
            "{} before and after preparation: the lowest place has {lowest} left",
            names::capital(name)
        ),
        note: format!(
            "Open: {}; full: {}. The line at the mean is the 95 % interval of the loss, from the mean before. {}.",
            steps[0],
            steps[1],
            count(removed.places.len(), "place")
        ),
        drawing: Drawing::Removed(RemovedChart {
            axis: numbers::with_unit(name, style.unit),
            leave: removed.leave.map(|leave| (leave, format!("at least {}", style.bare(leave)))),
            rows: removed.places.iter().map(place).chain([mean]).collect(),
        }),
    }
}

fn went(down: f64, style: Style<'_>) -> String {
    let way = if down < 0.0 { "up" } else { "down" };
    format!("it went {way} by {}", style.value(down.abs()).text)
}

fn count_were(places: usize) -> String {
    if places == 1 { "One place was".to_owned() } else { format!("{} were", count(places, "place")) }
}

/// Whether the loss is more than the gauge gives by itself.
fn told(removed: &Removed, style: Style<'_>) -> String {
    let Some(gauge) = removed.gauge else {
        return "The gauge does not state how it repeats, so its own part in this cannot be said.".to_owned();
    };
    let within = removed.mean.abs() <= 2.0 * gauge;
    format!(
        "The gauge alone gives a mean of {} a scatter of ± {} (two standard uncertainties){}.",
        count(removed.places.len(), "place"),
        style.value(2.0 * gauge).text,
        if within { ", and nothing is told apart from it" } else { "" }
    )
}

/// The lowest place against what must be left.
fn left(removed: &Removed, style: Style<'_>) -> Option<String> {
    let leave = removed.leave?;
    let (lowest, limit) = (style.value(removed.lowest).text, style.value(leave).text);
    Some(if removed.lowest < leave {
        format!("The lowest place has {lowest} left, below the {limit} that the study says must be left.")
    } else {
        format!("The lowest place read has {lowest} left; the study says that at least {limit} must be left.")
    })
}
