//! The page behind each code that the folder of photos may raise.

use crate::diag::{Page, Severity};

const SOURCE: &str = "common practice, no source";

/// Every code of this phase.
pub static PAGES: &[Page] = &[
    Page {
        code: "photos-absent",
        severity: Severity::Warning,
        what: "The folder of photos that the study names is not there, or has no file.",
        why: "The contact sheet would be empty although photos may have been taken.",
        mend: "Correct the name, or put photos into a folder of that name beside the study.",
        bad: "photos \"photos\"\n",
        good: "photos \"photos\"\n--- photos/b3 month 3.jpg\n",
        source: SOURCE,
    },
    Page {
        code: "photo-not-placed",
        severity: Severity::Warning,
        what: "The name of a file in the folder of photos is not that of one section and one round.",
        why: "A photo that belongs nowhere is not shown, and the shot that it is would be listed as missing.",
        mend: "Name it by section and round, in any case and with anything between them: `B3 month-3.JPG`. A number behind it counts further shots: `B3 month-3 (2).jpg`.",
        bad: "photos \"photos\"\n--- photos/IMG_0412.JPG\n",
        good: "photos \"photos\"\n--- photos/b3_Month 3.JPG\n",
        source: SOURCE,
    },
    Page {
        code: "photo-broken",
        severity: Severity::Warning,
        what: "A file in the folder of photos is no whole JPEG or PNG.",
        why: "It is cut short, damaged, or written in a way that not every reader can show; it would leave a gap that looks like a missing shot.",
        mend: "Copy it from the camera again, or save it as JPEG.",
        bad: "photos \"photos\"\n--- photos/B3 month 3.jpg\nno picture\n",
        good: "photos \"photos\"\n",
        source: "ISO/IEC 10918-1 for JPEG, ISO/IEC 15948 for PNG",
    },
];
