//! Pages of the findings about `done` lines and the rows of record files.

use super::page::page;
use crate::diag::Page;

/// The page of `record-row-incomplete`.
pub(super) const INCOMPLETE: Page = page(
    "record-row-incomplete",
    [
        "A row of a record file does not say what was done, or on which day.",
        "A day that is carried down from the row above would be a guess, and the rounds count from it.",
        "Fill in the day or the words on every row. A row in which nothing was written on the day is one that waits.",
    ],
    [
        "record \"log.csv\"\n--- log.csv\nwhat,date,time,initials\nwash,,09:10,KM\n",
        "record \"log.csv\"\n--- log.csv\nwhat,date,time,initials\nwash,2026-03-02,09:10,KM\ndry,,,\n",
    ],
);

/// The page of `record-row-unclear`.
pub(super) const UNCLEAR: Page = page(
    "record-row-unclear",
    [
        "A field of a record file can be taken for nothing that the study has: no step and no coat, a step of another number, or a value without a unit.",
        "What was done belongs to a step or a coat; a row that belongs nowhere would be left out of the report.",
        "Write the step as the study has it, as `wash`, or `coat 1 of bay`; give the heading its unit, as `air degC`.",
    ],
    [
        "record \"log.csv\"\n--- log.csv\nwhat,date,time,initials\nwahs,2026-03-02,09:10,KM\n",
        "record \"log.csv\"\n--- log.csv\nwhat,date,time,initials\nwash,2026-03-02,09:10,KM\n",
    ],
);

/// The page of `ends-before-it-begins`.
pub(super) const BACKWARDS: Page = page(
    "ends-before-it-begins",
    [
        "A record says that something ended at an earlier time of day than it began.",
        "One of the two times is a slip, and how long a chemical stood on the surface follows from both.",
        "Correct the times. What goes on past midnight is two records, one for each day.",
    ],
    ["done 2026-03-02 09:40 to 09:10  wash\n", "done 2026-03-02 09:10 to 09:40  wash\n"],
);
