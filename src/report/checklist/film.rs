//! The film on paper: what is left of it, what a cut takes, and where to stop; and how warm and sunny the panel may be.

use super::super::numbers::{amount, decimal, fixed};
use super::super::safety::Entry;
use crate::catalog::{Catalog, Cut, Ground};
use crate::speech::{list, said, say};
use crate::study::{Step, Study};

/// Sentences at the head of preparation.
pub(super) fn lines(study: &Study, catalog: &Catalog) -> Vec<String> {
    let mut lines = Vec::new();
    let below = study.prep_surface_below.as_ref();
    let below = below.map(|below| say!("cooler than {limit}", limit = amount(&below.value)));
    let shade = study.prep_shade.then(|| say!("in the shade").to_owned());
    let place: Vec<String> = below.into_iter().chain(shade).collect();
    if !place.is_empty() {
        lines.push(say!(
            "At every step the panel is {place}. Read it with a surface thermometer before each.",
            place = list(&place, "and")
        ));
    }
    let cuts = study.prep.iter().any(|step| cut(study, catalog, step).is_some());
    match (study.surface.leave, ground(study, catalog)) {
        (Some(leave), _) => lines.push(say!(
            "Leave at least {leave} of film everywhere. Read it before each cut, on each section at its thinnest place, and stop where the next cut may go below.",
            leave = amount(&leave)
        )),
        (None, Some((ground, most))) if cuts => lines.push(say!(
            "The study sets no film to leave. On {ground} trade practice takes {most} µm off at most ({source}). Read the film \
             before each cut.",
            ground = said(ground.id),
            most = decimal(most),
            source = said(ground.source.as_str())
        )),
        _ => {}
    }
    lines
}

/// What a cut takes and where it may begin.
pub(super) fn of_step(study: &Study, catalog: &Catalog, step: &Step) -> Option<Entry> {
    let cut = cut(study, catalog, step).filter(|_| !is_bare(study, catalog))?;
    let ground = ground(study, catalog);
    let takes = |step: &Step, cut: &Cut| cut.most_um * f64::from(step.times);
    // What the first cut leaves has to do for those after it, else a section stays behind the others.
    let from_here = study.prep.iter().skip_while(|own| !std::ptr::eq(*own, step));
    let cuts = from_here.filter_map(|own| Some(takes(own, self::cut(study, catalog, own)?)));
    let most = cuts.sum::<f64>().max(takes(step, cut));
    let stated = study.surface.film.as_ref().map(|film| film.low.mm() * 1000.0);
    let habit = stated.zip(ground).map(|(film, (_, take))| film - take);
    let leave = study.surface.leave.map(|leave| leave.mm() * 1000.0).or(habit);
    let begin = leave.map_or_else(String::new, |leave| {
        say!("; begin only where it reads {film} µm or more", film = fixed((leave + most).ceil(), 0))
    });
    // Without a film that is stated or usual there is nothing to read it against.
    if leave.is_none() && stated.is_none() && ground.is_none() {
        return None;
    }
    let (least, most) = (decimal(cut.least_um), decimal(cut.most_um));
    Some(Entry::new(
        say!("Film"),
        say!(
            "usually {least} to {most} µm come off each time ({source}){begin}",
            least,
            most,
            source = said(cut.source.as_str()),
            begin
        ),
    ))
}

/// Whether the work touches bare wood, stone or fabric, on which no film lies.
fn is_bare(study: &Study, catalog: &Catalog) -> bool {
    let material = study.surface.material.as_ref();
    material.and_then(|material| catalog.ground(&material.value)).is_some_and(|ground| ground.porous)
}

fn cut<'a>(study: &Study, catalog: &'a Catalog, step: &Step) -> Option<&'a Cut> {
    let supply = step.with.as_ref().map(|with| study.supply(with.value));
    let class = supply.and_then(|supply| supply.kind.as_ref()).and_then(|kind| kind.class);
    catalog.cut(step.verb.word(), class, step.grit.as_ref().map(|grit| grit.value))
}

// What the work touches, and how much of its film trade practice takes at most, um.
fn ground<'a>(study: &Study, catalog: &'a Catalog) -> Option<(&'a Ground, f64)> {
    let ground = catalog.ground(&study.surface.material.as_ref()?.value)?;
    Some((ground, ground.take_max_um?))
}
