//! The files of the output folder: their names, which never change, and what each is.

/// A file of the output folder.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct File {
    /// Its name.
    pub name: &'static str,
    /// What it is, one sentence, for the index.
    pub what: &'static str,
}

pub(super) const INDEX: File = File { name: "index.html", what: "This page." };
pub(super) const REPORT_HTML: File = File {
    name: "report.html",
    what: "The comparison: answer, pictures, tables, record, method and every reading, in one page.",
};
pub(super) const REPORT_MD: File =
    File { name: "report.md", what: "The same comparison as text, for pasting elsewhere." };
pub(super) const MAP: File = File { name: "map.svg", what: "Where each section lies, drawn." };
pub(super) const CHECKLIST: File = File {
    name: "checklist.html",
    what: "Every step to tick at the panel, with its safety box; made for paper.",
};
pub(super) const RUN_SHEET: File = File {
    name: "run-sheet.html",
    what: "The application by the clock: what one pair of hands does when, within each window; made for paper.",
};
pub(super) const SAFETY_CARDS: File = File {
    name: "safety-cards.html",
    what: "A card for each chemical: label, protection, limits, what never to mix, first aid; made for paper.",
};
pub(super) const LABELS: File = File {
    name: "labels.html",
    what: "A label to cut out for each section and specimen, with its code in large letters; made for paper.",
};
pub(super) const CALENDAR: File = File {
    name: "calendar.ics",
    what: "The days of the study for any calendar: preparation, application, each round with its window, upkeep, certificates.",
};
pub(super) const READINGS: File =
    File { name: "readings.csv", what: "Every reading as it was placed, one a row." };
pub(super) const FINDINGS: File =
    File { name: "findings.json", what: "What the checks have left to say, for machines." };

/// The contact sheet, which only a study with photos has.
pub(super) const PHOTOS: File = File {
    name: "photos.html",
    what: "Every section at every round, photo beside photo, and what is missing.",
};

/// Every file, in the order of the index.
pub static FILES: &[File] = &[
    INDEX,
    REPORT_HTML,
    REPORT_MD,
    MAP,
    CHECKLIST,
    RUN_SHEET,
    SAFETY_CARDS,
    LABELS,
    CALENDAR,
    READINGS,
    FINDINGS,
];
