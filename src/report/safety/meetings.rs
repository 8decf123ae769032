//! Things of the study that must never meet.

use super::cautions::has_pores;
use crate::catalog::{Catalog, Class, Danger, Pair, Reach};
use crate::speech::{list, said, say};
use crate::study::{PORES_DRIED_H, Study};
use serde::Serialize;

/// Two things of the study that must not meet.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Meeting {
    /// The two things with their classes.
    pub things: String,
    /// What happens.
    pub result: String,
    /// Where it counts.
    pub place: String,
    /// True where it counts on a section too, not in one vessel alone.
    pub on_sections: bool,
    /// Sources of the pair.
    pub source: String,
}

/// The supplies and products of the study whose class is known, in their order.
pub(super) fn things(study: &Study) -> Vec<(&str, &Class)> {
    let supplies = study.supplies.iter().map(|s| (s.title(), s.kind.as_ref().and_then(|kind| kind.class)));
    let products = study.products.iter().map(|p| (p.title(), p.kind.as_ref().and_then(|kind| kind.class)));
    supplies.chain(products).filter_map(|(name, class)| Some((name, class?))).collect()
}

/// Every pair of things in the study that makes toxic gas, fire or burns where they meet: in the order of the catalog, which
/// has what says more first, and then by name, so that the same things stand in the same order however the study lists them.
pub(in crate::report) fn meetings(catalog: &Catalog, study: &Study) -> Vec<Meeting> {
    // Products of one class would fill the box with the same sentence, so classes are listed once.
    let mut classes: Vec<(&Class, Vec<&str>)> = Vec::new();
    for (name, class) in things(study) {
        match classes.iter_mut().find(|(known, _)| known.id == class.id) {
            Some((_, names)) => names.push(name),
            None => classes.push((class, vec![name])),
        }
    }
    // Water is on no list of supplies, and is in every mix, glove and mitt.
    let water = catalog.classes().iter().find(|class| class.id == "water");
    let met = |water: &Class| {
        let forbids = |(class, _): &(&Class, Vec<&str>)| {
            catalog.meet(class, water).is_some_and(|pair| pair.severity == Danger::Forbid)
        };
        classes.iter().any(forbids) && classes.iter().all(|(class, _)| class.id != water.id)
    };
    classes.extend(
        water
            .filter(|water| met(water))
            .map(|water| (water, vec![say!("what is wet: gloves, cloths, mixes")])),
    );
    classes.sort_by_key(|(class, _)| class.name);
    let pairs = classes
        .iter()
        .enumerate()
        .flat_map(|(at, one)| classes[at + 1..].iter().map(move |other| (one, other)));
    let mut met: Vec<(usize, Meeting)> =
        pairs.flat_map(|(one, other)| meeting(catalog, one, other)).collect();
    // Stable, so that meetings of one pair keep the order of their names.
    met.sort_by_key(|(rank, _)| *rank);
    let mut once: Vec<Meeting> = Vec::new();
    for (_, meeting) in met {
        match once.iter_mut().find(|known| known.things == meeting.things) {
            Some(known) => known.join(meeting),
            None => once.push(meeting),
        }
    }
    let pores = has_pores(catalog, study).then(|| {
        say!(
            "A rinse does not empty pores, grain and joints: there {hours} h of drying between the two as well, or leave one out.",
            hours = PORES_DRIED_H
        )
    });
    for meeting in once.iter_mut().filter(|meeting| meeting.on_sections) {
        meeting.place.extend(pores.iter().map(|pores| format!(" {pores}")));
    }
    once
}

impl Meeting {
    /// What else happens where the same two meet: each harm and each source once, and the wider of the two places.
    fn join(&mut self, other: Self) {
        for (own, more) in [(&mut self.result, &other.result), (&mut self.source, &other.source)] {
            if !own.contains(more.as_str()) {
                let between = if own.ends_with(['.', '!']) { " " } else { "; " };
                *own = format!("{own}{between}{more}");
            }
        }
        if other.on_sections && !self.on_sections {
            self.place = other.place;
            self.on_sections = true;
        }
    }
}

/// The meetings of two classes, each with the place of its pair in the catalog.
fn meeting(
    catalog: &Catalog,
    one: &(&Class, Vec<&str>),
    other: &(&Class, Vec<&str>),
) -> Vec<(usize, Meeting)> {
    let named = |thing: &(&Class, Vec<&str>)| format!("{} ({})", list(&thing.1, "or"), said(thing.0.name));
    let all = catalog.meetings(one.0, other.0).into_iter().filter(|pair| pair.severity == Danger::Forbid);
    let rank = |pair: &Pair| {
        catalog.pairs().iter().position(|known| known.a == pair.a && known.b == pair.b).unwrap_or(usize::MAX)
    };
    let told = |pair: &Pair| Meeting {
        things: say!("{one} with {other}", one = named(one), other = named(other)),
        result: said(pair.result).to_owned(),
        place: match pair.reach {
            Reach::Any => {
                say!("On a section, tool, bucket, drain or in the waste: a full rinse between, always.")
            }
            Reach::Vessel => say!("Never in one bucket, bottle, cloth or bin."),
        }
        .to_owned(),
        on_sections: pair.reach == Reach::Any,
        source: said(pair.source.as_str()).to_owned(),
    };
    all.map(|pair| (rank(pair), told(pair))).collect()
}
