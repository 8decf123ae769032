//! Where the patches of a specimen lie, drawn like a panel of its own.

use super::blocks::{Drawing, Picture};
use super::map::{Kind, MapView, SectionView, Shape};
use super::numbers;
use crate::speech::{count, say};
use crate::study::{Patch, Study};

/// Where each patch lies in mm, as one draws it on a specimen; `None` where specimens have no patches.
pub(super) fn places(study: &Study) -> Option<String> {
    let patches = study.patches.as_ref()?;
    let mm = numbers::mm;
    let place = |patch: &Patch| {
        let (left, top, right, bottom) = patch.outline.bounds();
        let (left, right, top, bottom) = (mm(left), mm(right), mm(top), mm(bottom));
        let (code, what) = (&patch.code, &patch.word);
        say!(
            "{code} ({what}) from left {left} to {right}, from top {top} to {bottom}",
            code,
            what,
            left,
            right,
            top,
            bottom
        )
    };
    let places: Vec<String> = patches.drawn.iter().map(place).collect();
    Some(say!(
        "Mark the patches out on each specimen before the first reading on them, with a template laid to the top left corner of its \
         face or with ticks on its edges; nothing is drawn on the face. In mm from that corner: {places}.",
        places = places.join("; ")
    ))
}

/// Whether they are read at the baseline, so that they are marked out before it.
pub(super) fn at_baseline(study: &Study) -> bool {
    let Some(baseline) = study.round_named("baseline") else { return false };
    let mut homes =
        study.round(baseline).reads.iter().filter_map(|plan| study.measure(plan.measure.value).home);
    homes.any(|set| study.specimens[set.index()].patch)
}

/// The picture; `None` where specimens have no patches.
pub(super) fn picture(study: &Study) -> Option<Picture> {
    let patches = study.patches.as_ref()?;
    let (width, height) = study.surface.each?;
    let (right, bottom) = (width.mm(), height.mm());
    let number = numbers::decimal;
    let specimen = format!("{} x {}", number(width.any().value), numbers::amount(&height));
    let sections = patches.drawn.iter().map(|patch| SectionView {
        code: patch.code.clone(),
        whole: patch.code.clone(),
        label: patch.word.clone(),
        kind: Kind::Product,
        outline: Shape::from(&patch.outline),
    });
    let title = say!(
        "{patches} in each specimen of {specimen}",
        specimen,
        patches = count(patches.drawn.len(), "patch")
    );
    let (wide, high) = patches.size;
    let size = say!(
        "A patch is {wide} x {high}; positions are in mm from the top left corner.",
        high = numbers::amount(&high),
        wide = number(wide.any().value)
    );
    let view = MapView {
        // A specimen is drawn by itself, as it is seen.
        flat: false,
        title: title.clone(),
        panel: Some(Shape::Rectangle { x: 0.0, y: 0.0, width: right, height: bottom }),
        bounds: (0.0, 0.0, right, bottom),
        rack: false,
        racks: Vec::new(),
        areas: Vec::new(),
        sections: sections.collect(),
        notes: vec![size],
    };
    let address = "report.html#patches".to_owned();
    Some(Picture {
        address,
        title: format!("{title}."),
        note: say!("To scale.").to_owned(),
        drawing: Drawing::Map(Box::new(view)),
    })
}
