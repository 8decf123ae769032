//! Which sections lie beside each other on the panel.

use crate::layout::near_pairs;
use crate::study::{Outline, SectionId, Study};

/// The neighbours of every section of the panel, by the place of the section.
pub(super) struct Neighbours {
    above: Vec<Vec<SectionId>>,
    below: Vec<Vec<SectionId>>,
    sides: Vec<Vec<SectionId>>,
}

impl Neighbours {
    /// Two sections are neighbours where they share more than half of the shorter side, and the gap between them is
    /// smaller than a section. The maps of several sites are one drawing; what stands at two of them is nowhere near.
    pub(super) fn of(study: &Study) -> Self {
        let empty = vec![Vec::new(); study.sections.len()];
        let mut found = Self { above: empty.clone(), below: empty.clone(), sides: empty };
        let outlines: Vec<Option<&Outline>> =
            study.sections.iter().map(|section| section.outline.as_ref()).collect();
        let smallest = outlines.iter().flatten().map(|outline| {
            let (left, top, right, bottom) = outline.bounds();
            (right - left).min(bottom - top)
        });
        let Some(reach) = smallest.reduce(f64::min).filter(|reach| *reach > 0.0) else { return found };
        for (one, other) in near_pairs(&outlines, reach) {
            if study.sections[one].site != study.sections[other].site {
                continue;
            }
            if let (Some(a), Some(b)) = (outlines[one], outlines[other]) {
                found.add((one, a.bounds()), (other, b.bounds()));
            }
        }
        found
    }

    fn add(&mut self, (one, a): (usize, Bounds), (other, b): (usize, Bounds)) {
        let (one_id, other_id) = (SectionId::new(one), SectionId::new(other));
        let shares = |from: (f64, f64), to: (f64, f64)| {
            let shared = from.1.min(to.1) - from.0.max(to.0);
            shared > 0.5 * (from.1 - from.0).min(to.1 - to.0)
        };
        let (beside, stacked) = (shares((a.1, a.3), (b.1, b.3)), shares((a.0, a.2), (b.0, b.2)));
        match (beside, stacked) {
            (true, false) => {
                self.sides[one].push(other_id);
                self.sides[other].push(one_id);
            }
            (false, true) => {
                let (upper, lower) = if a.1 < b.1 { (one, other) } else { (other, one) };
                self.below[upper].push(SectionId::new(lower));
                self.above[lower].push(SectionId::new(upper));
            }
            // Sections that overlap, or that touch at a corner only.
            _ => {}
        }
    }

    /// Those above a section, nearer the top edge.
    pub(super) fn above(&self, section: SectionId) -> &[SectionId] {
        self.above.get(section.index()).map_or(&[], Vec::as_slice)
    }

    /// Those left and right of it.
    pub(super) fn sides(&self, section: SectionId) -> &[SectionId] {
        self.sides.get(section.index()).map_or(&[], Vec::as_slice)
    }

    /// All of them.
    pub(super) fn all(&self, section: SectionId) -> impl Iterator<Item = SectionId> {
        let below = self.below.get(section.index()).map_or(&[][..], Vec::as_slice);
        self.above(section).iter().chain(self.sides(section)).chain(below).copied()
    }
}

/// Left, top, right, bottom in mm.
type Bounds = (f64, f64, f64, f64);
