//! Labels to cut out, one for each section and specimen; like the sheets for readings they do not say what is on it.

use super::material::Material;
use super::names;
use super::numbers;
use crate::speech::{count, say, speak};
use crate::study::{Section, SectionId, Study, Treatment};
use serde::Serialize;

/// All labels.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct LabelsView {
    /// Title of the study.
    pub study: String,
    /// The day of the page.
    pub as_of: String,
    /// Version of the tool.
    pub version: String,
    /// How many there are, as `12 labels`.
    pub count: String,
    /// Where they go, and what is not on them.
    pub lines: Vec<String>,
    /// The day of the application; empty where none is stated.
    pub applied: String,
    /// The labels of the panel, then those of each set of specimens.
    pub groups: Vec<LabelGroup>,
}

/// Labels that are cut out together.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct LabelGroup {
    /// What they are for.
    pub title: String,
    /// Their codes, in the order of the map.
    pub codes: Vec<String>,
}

/// Makes the labels.
pub fn labels(material: &Material<'_>) -> LabelsView {
    let _speech = speak(material.study.language);
    let study = material.study;
    let groups = groups(study);
    let applied = study.apply.as_ref().and_then(|apply| apply.on.as_ref());
    LabelsView {
        study: study.title.value.clone(),
        as_of: material.as_of(),
        version: material.version.to_owned(),
        count: count(groups.iter().map(|group| group.codes.len()).sum(), "label"),
        lines: lines(study),
        applied: applied
            .map_or_else(String::new, |on| say!("Application {day}", day = numbers::day(on.value))),
        groups,
    }
}

fn groups(study: &Study) -> Vec<LabelGroup> {
    let known = |section: &Section| section.treatment != Treatment::Unknown;
    let codes = |is_of: &dyn Fn(&Section) -> bool| -> Vec<String> {
        let all = study.places().filter(|(_, section)| known(section) && is_of(section));
        all.map(|(id, _): (SectionId, _)| names::section(study, id).to_owned()).collect()
    };
    let on_map = LabelGroup {
        title: if study.is_on_racks() {
            say!("Specimens on the rack")
        } else {
            say!("Sections of the panel")
        }
        .into(),
        codes: codes(&|section| section.specimen.is_none()),
    };
    // Patches are places of a specimen that has its label.
    let sets = study.specimens.iter().enumerate().filter(|(_, set)| !set.patch);
    let loose = sets.map(|(at, set)| LabelGroup {
        title: say!("Specimens “{set}”", set = set.name.value),
        codes: codes(&|section| section.specimen.is_some_and(|id| id.index() == at)),
    });
    std::iter::once(on_map).chain(loose).filter(|group| !group.codes.is_empty()).collect()
}

fn lines(study: &Study) -> Vec<String> {
    let place = if study.is_on_racks() {
        say!(
            "Cut them out along the dashed lines. A label goes on the back of its specimen, where it is neither coated nor read; under clear tape where rain reaches it."
        )
    } else {
        say!(
            "Cut them out along the dashed lines. A label goes beside its section, in the bare line between sections, where it is neither coated nor read; under clear tape where rain reaches it."
        )
    };
    let blind = say!(
        "As on the sheets for readings no product is named, so that whoever reads does not see what is on which. What goes where is on the map and on the checklist."
    );
    let loose = study.specimens.iter().any(|set| !set.patch);
    let named = loose.then(|| say!("Loose specimens are called by what they carry, so theirs tell it."));
    [place, blind].into_iter().chain(named).map(str::to_owned).collect()
}
