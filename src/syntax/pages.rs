//! Pages of the findings that reading a study file can give.

use crate::diag::{Page, Severity};

const fn page(
    code: &'static str,
    what: &'static str,
    why: &'static str,
    mend: &'static str,
    bad: &'static str,
    good: &'static str,
) -> Page {
    Page {
        code,
        severity: Severity::Error,
        what,
        why,
        mend,
        bad,
        good,
        source: "a rule of the study language",
    }
}

/// Every code of this phase.
pub static PAGES: &[Page] = &[
    page(
        "unreadable-line",
        "A line begins as it should, and then has a word or number that does not fit there.",
        "The rest of the line is not understood. Every other line is still checked.",
        "The caret stands under the first word that does not fit; what would fit is named beside it.",
        "prep\n    wash with soap, rince\n    dry\n",
        "prep\n    wash with soap, rinse\n    dry\n    wipe with spirit 35 % by volume\n",
    ),
    page(
        "unknown-word",
        "A line begins with a word that the language does not have at this place.",
        "The line is not understood. Every other line is still checked.",
        "Write the word that is offered, or look up the words of the block in the language reference.",
        "prep\n    wsh with soap, rinse\n    dry\n",
        "prep\n    wash with soap, rinse\n    dry\n",
    ),
    page(
        "odd-character",
        "A line has a character that cannot be seen, looks like another one, or opens a quote that is never closed.",
        "Such characters come from word processors and web pages; a line that looks right is then not what it seems.",
        "Delete the character and type it again in a plain text editor.",
        "apply\n    on 2026-03-03\n    by \"K. M.\n",
        "apply\n    on 2026-03-03\n    by \"K. M.\"\n",
    ),
    page(
        "empty-text",
        "A name, a data sheet, a reason or another text has nothing between its quotes.",
        "It would count as said: a data sheet that is named nowhere, a reading left out for no reason, a row without a name.",
        "Write the text, or take out the word that it belongs to.",
        "apply\n    on 2026-03-03\n    by \"\"\n",
        "apply\n    on 2026-03-03\n    by \"K. M.\"\n",
    ),
    page(
        "not-indented",
        "A line that belongs under a head stands at the left margin.",
        "Only heads stand at the margin, so that a reader sees where a block begins.",
        "Put blanks before the line.",
        "prep\n    wash with soap, rinse\ndry\n",
        "prep\n    wash with soap, rinse\n    dry\n",
    ),
    page(
        "not-at-margin",
        "A head has blanks before it.",
        "An indented line belongs to the block above, so the new block would be lost.",
        "Take the blanks before it away.",
        "apply\n    on 2026-03-03\n  benchmark bay\n",
        "apply\n    on 2026-03-03\nbenchmark bay\n",
    ),
    page(
        "head-missing",
        "Lines of a block stand there without the head of that block.",
        "Under the wrong head the same words could mean something else.",
        "Write the head that is named above the first of these lines.",
        "apply\n    on 2026-03-03\n    wash with soap, rinse\n    dry\n    wipe with spirit 35 % by volume\n",
        "apply\n    on 2026-03-03\nprep\n    wash with soap, rinse\n    dry\n    wipe with spirit 35 % by volume\n",
    ),
    page(
        "prose-without-statement",
        "A line that begins with `>` stands before any statement.",
        "Prose is printed with the statement above it, and there is none.",
        "Move it below the line that it explains.",
        "whole\n> Two coats each.\nstudy \"Frame\"\n",
        "study \"Frame\"\n    > Two coats each.\n    begins 2026-03-02\n",
    ),
    page(
        "not-yet",
        "The study uses a construct that is planned and not yet built.",
        "It is refused rather than half understood.",
        "Put `#` before the lines until a later version knows them.",
        "treat each patch\n",
        "# treat each patch\n",
    ),
    page(
        "table-empty",
        "A table of products has no rows.",
        "Without a row of headings nothing says what its places mean.",
        "Write a row of headings, then a row for each product.",
        "products, a wax\n",
        "products, a wax\n    | name | label |\n    | rue  | \"Rue wax\" |\n",
    ),
    page(
        "heading-unknown",
        "A column of the table of products has a heading that is no statement of a product, or no column is called `name`.",
        "The places below it could not be understood.",
        "Use the words that stand under `product`, and `name`, `label` and `kind`.",
        "products, a wax\n    | name | lable |\n    | rue  | \"Rue wax\" |\n",
        "products, a wax\n    | name | label |\n    | rue  | \"Rue wax\" |\n",
    ),
    page(
        "ragged-table",
        "A row of the table of products has more or fewer places than the headings.",
        "A value under the wrong heading would be taken for something else.",
        "Write `-` in a place that stays empty, and close the row with `|`.",
        "products, a wax\n    | name | label |\n    | rue  |\n",
        "products, a wax\n    | name | label |\n    | rue  | - |\n",
    ),
];
