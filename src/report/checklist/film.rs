//! The film on paper: what is left of it, what a cut takes, and where to stop; and how warm and sunny the panel may be.

use super::super::numbers::{amount, decimal, fixed};
use super::super::safety::Entry;
use super::lines::{LINES, UNNAMED};
use crate::catalog::{Catalog, Cut, Ground};
use crate::speech::{self, list, said, say};
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
    let kept = match (study.surface.leave, ground(study, catalog)) {
        (Some(leave), _) => Some(say!("Leave at least {leave} of film everywhere.", leave = amount(&leave))),
        (None, Some((ground, most))) if cuts => Some(say!(
            "The study sets no film to leave. On {ground} trade practice takes {most} µm off at most ({source}).",
            ground = said(ground.id),
            most = decimal(most),
            source = said(ground.source.as_str())
        )),
        _ => None,
    };
    let rule = kept.is_some().then(|| rule(study, catalog)).flatten();
    match (lines.last_mut(), kept) {
        (Some(line), Some(kept)) => {
            line.push(' ');
            line.push_str(&kept);
        }
        (_, kept) => lines.extend(kept),
    }
    lines.extend(rule);
    lines
}

/// Where the film is read before a cut, the same for all of them: at the places of the step that reads it, else on each section.
fn rule(study: &Study, catalog: &Catalog) -> Option<String> {
    let first = study.prep.iter().position(|step| cut(study, catalog, step).is_some())?;
    Some(match study.prep[..first].iter().rposition(|step| is_read(study, step)) {
        Some(at) => say!(
            "The film is read before each cut, at the places of step {step}; of several readings the lowest counts. Where one reads less than \
             the step of the cut asks for, nothing nearer to it than to any other is cut; that is coated and read all the same, and noted on \
             the baseline sheet.",
            step = at + 1
        ),
        None => say!(
            "Read the film before each cut, on each section at its thinnest place, and stop where the next cut may go below."
        )
        .to_owned(),
    })
}

/// Whether a step reads the film.
fn is_read(study: &Study, step: &Step) -> bool {
    step.measure.as_ref().is_some_and(|measure| study.film() == Some(measure.value))
}

/// The step that reads the film before another one, and whether something was cut since.
fn read_before(study: &Study, catalog: &Catalog, step: &Step) -> Option<(usize, bool)> {
    let at = study.prep.iter().position(|own| std::ptr::eq(own, step))?;
    let read = study.prep[..at].iter().rposition(|own| is_read(study, own))?;
    Some((read, study.prep[read + 1..at].iter().any(|own| cut(study, catalog, own).is_some())))
}

/// More sections than this have no line each for what is read before a cut.
const SECTIONS: usize = 12;

/// What is read before a cut, and the lines for it; `None` where nothing was cut since the film was read, whose readings count then.
pub(super) fn before(study: &Study, catalog: &Catalog, step: &Step) -> Option<(Entry, Vec<Vec<String>>)> {
    study.prep.iter().find(|own| std::ptr::eq(*own, step))?;
    of_step(study, catalog, step)?;
    let unit = speech::unit(&study.measure(study.film()?).unit.symbol);
    let few = |words: &str| vec![say!("lowest, {unit}", unit), words.to_owned()];
    let (text, fields) = match read_before(study, catalog, step) {
        Some((_, false)) => return None,
        Some((read, true)) => {
            let places = study.prep[read].places.unwrap_or(UNNAMED);
            let each = (1..=places.min(LINES)).map(|n| say!("place {n}, {unit}", n, unit));
            let fields = if places > LINES { few(say!("at place")) } else { each.collect() };
            let text =
                say!("once more, at each of the places of step {step}: write it below", step = read + 1);
            (text, fields)
        }
        None => {
            let codes: Vec<&str> = study.prepared().map(|(_, section)| section.code.as_str()).collect();
            let each = codes.iter().map(|code| format!("{code}, {unit}"));
            let fields = if codes.len() > SECTIONS { few(say!("on section")) } else { each.collect() };
            (say!("on each section at its thinnest place: write it below").to_owned(), fields)
        }
    };
    Some((Entry::new(say!("Read film"), text), one_by_one(fields)))
}

fn one_by_one(fields: Vec<String>) -> Vec<Vec<String>> {
    fields.into_iter().map(|field| vec![field]).collect()
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
    let read = read_before(study, catalog, step).filter(|(_, is_cut)| !is_cut);
    let begin = leave.map_or_else(String::new, |leave| {
        let film = fixed((leave + most).ceil(), 0);
        match read {
            Some((read, _)) => {
                say!("; begin only where step {step} read {film} µm or more", step = read + 1, film)
            }
            None => say!("; begin only where it reads {film} µm or more", film),
        }
    });
    // Without a film that is stated or usual there is nothing to read it against.
    if leave.is_none() && stated.is_none() && ground.is_none() {
        return None;
    }
    let (least, most) = (decimal(cut.least_um), decimal(cut.most_um));
    Some(Entry::new(
        say!("Film"),
        say!(
            "usually {least} to {most} µm come off each time, all its passes together ({source}){begin}",
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
