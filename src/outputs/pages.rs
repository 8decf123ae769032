//! The page behind each code that changed blocks of pages may raise.

use crate::diag::{Page, Severity};

const SOURCE: &str = "a rule of the pages";

/// Every code of this phase.
pub static PAGES: &[Page] = &[
    Page {
        code: "pages-absent",
        severity: Severity::Error,
        what: "The folder of changed blocks that the study names is not there, or has no file.",
        why: "The pages would come out as those of the tool although the study says otherwise.",
        mend: "Correct the name, or put the blocks into a folder of that name beside the study. `tapeline pages` lists the blocks.",
        bad: "pages \"house\"\n",
        good: "pages \"house\"\n--- house/report-end.md\nPrinted on our own paper.\n",
        source: SOURCE,
    },
    Page {
        code: "page-block-unknown",
        severity: Severity::Warning,
        what: "A file in the folder of changed blocks has the name of no block, or a style names a colour that no page uses.",
        why: "It changes nothing, and a page would look as if it did.",
        mend: "Use a name that `tapeline pages` lists, or take the file out of the folder.",
        bad: "pages \"house\"\n--- house/report-ent.md\nPrinted on our own paper.\n",
        good: "pages \"house\"\n--- house/report-end.md\nPrinted on our own paper.\n",
        source: SOURCE,
    },
    Page {
        code: "page-colours-too-near",
        severity: Severity::Warning,
        what: "A colour that the study gives its pages does not stand out from the ground below it, on a light screen, a dark one or paper.",
        why: "Some readers could not read it, and nobody could in the sun.",
        mend: "Take a colour that is darker on a light ground, or lighter on a dark one. Text needs a contrast of 4.5:1, a mark 3:1. A rule outside of `@media` holds for dark screens and paper too.",
        bad: "pages \"house\"\n--- house/frame-style.css\n:root { --soft: #bbbbbb; }\n",
        good: "pages \"house\"\n--- house/frame-style.css\n@media print { :root { --soft: #222222; } }\n",
        source: "WCAG 2.2, success criteria 1.4.3 and 1.4.11",
    },
    Page {
        code: "page-block-broken",
        severity: Severity::Error,
        what: "A changed block is no sound template, names something that its page does not have, leaves an element of HTML open, or is no text.",
        why: "The page cannot be printed with it, and one with a gap in it would not show what is missing; an element that is left open would hold, and could hide, all that follows.",
        mend: "Correct the marked place. `tapeline pages NAME` prints the block as it is built in, with every name that it uses.",
        bad: "pages \"house\"\n--- house/report-end.md\nMade for {{ view.titel }}.\n",
        good: "pages \"house\"\n--- house/report-end.md\nMade for {{ view.title }}.\n",
        source: SOURCE,
    },
    Page {
        code: "page-block-reaches-out",
        severity: Severity::Error,
        what: "A changed block has a script, or would load something from another file or address.",
        why: "A page is whole by itself: it works from a mail or a stick, in any year, and tells nobody who reads it. The browser is told to refuse the rest.",
        mend: "Leave it out, or make it a link that the reader may follow. A picture may stand in the block as SVG; colours and type are changed in `frame-style.css`.",
        bad: "pages \"house\"\n--- house/frame-top.html\n<img src=\"https://a.example/mark.png\">\n",
        good: "pages \"house\"\n--- house/frame-top.html\n<p><a href=\"https://a.example/\">The workshop</a></p>\n",
        source: "Content Security Policy Level 3 for what a page may load",
    },
];
