//! Labels to cut out, one for each section and specimen; like the sheets for readings they do not say what is on it.

use super::material::Material;
use super::names;
use super::numbers;
use crate::speech::{count, say, speak};
use crate::study::{Grid, Section, SectionId, Study, Treatment};
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
    /// Where they go, and why they are as large as they are.
    pub line: String,
    /// Width and height of each, whole mm.
    pub size: (u32, u32),
    /// True where the code alone has room.
    pub brief: bool,
    /// Each, in the order of the map.
    pub labels: Vec<Label>,
}

/// A label.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Label {
    /// The code of the section.
    pub code: String,
    /// Height of its letters, tenths of a mm.
    pub letters: u32,
    /// Where it stands; empty where the study names no place.
    pub place: String,
}

/// As large as a label is where nothing bounds it: three in a row on A4 and on letter. Whole mm.
const FULL: (u32, u32) = (60, 34);

/// What is smaller has no label on it: a code is not read from it. A choice of this program.
const LEAST: (u32, u32) = (14, 9);

/// The title of the study has room beside or below the code from here on.
const TOLD: (u32, u32) = (44, 14);

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
        count: count(groups.iter().map(|group| group.labels.len()).sum(), "label"),
        lines: lines(study),
        applied: applied
            .map_or_else(String::new, |on| say!("Coats from {day}", day = numbers::day(on.value))),
        groups,
    }
}

fn groups(study: &Study) -> Vec<LabelGroup> {
    let known = |section: &Section| section.treatment != Treatment::Unknown;
    let those = |is_of: &dyn Fn(&Section) -> bool| -> Vec<(SectionId, &Section)> {
        study.places().filter(|(_, section)| known(section) && is_of(section)).collect()
    };
    let drawn = those(&|section| section.specimen.is_none());
    let on_map = if study.is_on_racks() {
        let size = study.surface.each.as_ref().map(|(width, height)| (width.mm(), height.mm()));
        group(study, say!("Specimens on the rack"), of_specimen(size), &drawn)
    } else {
        group(study, say!("Sections of the panel"), of_section(study), &drawn)
    };
    // Patches are places of a specimen that has its label.
    let sets = study.specimens.iter().enumerate().filter(|(_, set)| !set.patch);
    let loose = sets.map(|(at, set)| {
        let own = those(&|section| section.specimen.is_some_and(|id| id.index() == at));
        let size = set.size.as_ref().map(|(width, height)| (width.mm(), height.mm()));
        group(study, &say!("Specimens “{set}”", set = set.name.value), of_specimen(size), &own)
    });
    std::iter::once(on_map).chain(loose).filter(|group| !group.labels.is_empty()).collect()
}

fn group(
    study: &Study,
    title: &str,
    (size, line): ((u32, u32), String),
    of: &[(SectionId, &Section)],
) -> LabelGroup {
    let brief = size.0 < TOLD.0 || size.1 < TOLD.1;
    let label = |(id, section): &(SectionId, &Section)| {
        let code = names::section(study, *id).to_owned();
        Label { letters: letters(&code, size, brief), place: place(study, section), code }
    };
    LabelGroup { title: title.to_owned(), line, size, brief, labels: of.iter().map(label).collect() }
}

/// Where a section stands, as the study calls it.
fn place(study: &Study, section: &Section) -> String {
    let own = study.exposures.iter().find(|place| place.of.is_some() && place.of == section.site);
    let only = study.exposures.first().filter(|_| study.exposures.len() == 1);
    own.or(only).map_or_else(String::new, |place| place.site.clone())
}

/// Letters that leave room for the rest of the label, in tenths of a mm; a letter is about two thirds as wide as it is high.
fn letters(code: &str, (width, height): (u32, u32), brief: bool) -> u32 {
    let count = u32::try_from(code.chars().count()).unwrap_or(u32::MAX).max(1);
    // In a low label the title stands beside the code, in a high one below it.
    let room = if brief || height >= FULL.1 { width.saturating_sub(8) } else { width / 2 - 4 };
    let wide = (room * 15).checked_div(count).unwrap_or(0);
    let high = if brief { height * 10 / 2 } else { (height * 10 / 2).min(150) };
    wide.min(high).clamp(25, 150)
}

/// A label on a specimen is no larger than that.
fn of_specimen(size: Option<(f64, f64)>) -> ((u32, u32), String) {
    let back = say!(
        "A label goes on the back of its specimen, where it is neither coated nor read, its writing upright when the face is: so it tells which edge is up."
    );
    let Some(size) = size.map(|(width, height)| (whole(width), whole(height))) else {
        return (FULL, back.to_owned());
    };
    let (width, height) = size;
    if width < LEAST.0 || height < LEAST.1 {
        let line = say!(
            "A specimen of {width} x {height} mm is too small for a label: it goes on its bag or holder, never two in one.",
            width,
            height
        );
        return (FULL, line);
    }
    ((width.min(FULL.0), height.min(FULL.1)), back.to_owned())
}

/// A label of a section lies in the bare line below it, where that is wide enough; else outside of all sections.
fn of_section(study: &Study) -> ((u32, u32), String) {
    let room = |grid: &Grid| Some((whole(grid.width.mm()), whole(grid.gap?.mm())));
    let named = study.sections.iter().any(|section| section.row.is_none());
    let rooms: Option<Vec<(u32, u32)>> = study.grids.iter().filter(|_| !named).map(room).collect();
    let least = rooms.and_then(|rooms| rooms.into_iter().reduce(|a, b| (a.0.min(b.0), a.1.min(b.1))));
    match least {
        Some((width, gap)) if width >= LEAST.0 && gap >= LEAST.1 => (
            (width.min(FULL.0), gap.min(FULL.1)),
            say!(
                "A label goes below its section, in the bare line of {gap} mm, where it is neither coated nor read.",
                gap
            ),
        ),
        Some((_, gap)) => (
            FULL,
            say!(
                "The bare line of {gap} mm is too narrow for a label: it goes outside of all sections, at the end of its row, with an \
                 arrow to its section.",
                gap
            ),
        ),
        None => (
            FULL,
            say!("A label goes beside its section, outside of all others, with an arrow to its own.")
                .to_owned(),
        ),
    }
}

/// Whole mm that are there for certain.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped")]
fn whole(mm: f64) -> u32 {
    mm.clamp(0.0, 1e6).floor() as u32
}

fn lines(study: &Study) -> Vec<String> {
    let cut = say!("Cut them out along the dashed lines. Put them under clear tape where rain reaches them.");
    let blind = say!(
        "As on the sheets for readings no product is named, so that whoever reads does not see what is on which. What goes where is on the map and on the checklist."
    );
    let spare =
        say!("Print this page once more for spare ones: a label that is torn is replaced before it is lost.");
    let loose = study.specimens.iter().any(|set| !set.patch);
    let named = loose.then(|| say!("Loose specimens are called by what they carry, so theirs tell it."));
    [cut, spare, blind].into_iter().chain(named).map(str::to_owned).collect()
}
