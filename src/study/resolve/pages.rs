//! Pages of the findings that binding a study can give.

use super::page::page;
use super::patch_pages;
use super::record_pages;
use crate::diag::{Page, Severity};

const TWO_WAYS: &str =
    "Guessing would put a wrong figure into the study without a word; so it is asked about.";
const NOT_UNDERSTOOD: &str = "The value is not taken, so whatever depends on it cannot be checked.";

/// Every code of this phase.
pub static PAGES: &[Page] = &[
    page(
        "block-missing",
        [
            "A part without which there is nothing to compare is not in the study.",
            "There must be a surface, a map and rounds before sections can be read and compared.",
            "Write the block that is named.",
        ],
        [
            "whole\nstudy \"Three mists\"\nsurface door\n    size 880 x 580 mm\nproduct sage\nmap sections 175 x 135 mm gap 24 mm\n    | sage bare |\n",
            "study \"Three mists\"\n",
        ],
    ),
    page(
        "block-twice",
        [
            "A block that can stand once stands twice.",
            "Only the first is read; what the second says would be lost without a word.",
            "Keep one of them, or move its lines under the first.",
        ],
        [
            "apply\n    on 2026-03-03\napply\n    by \"K. M.\"\n",
            "apply\n    on 2026-03-03\n    by \"K. M.\"\n",
        ],
    ),
    page(
        "coat-beyond-coats",
        [
            "A coat is described that the product does not get: its number is beyond that of `coats`.",
            "A third coat that is handed down by `like` to a product of two coats is forgotten easily. Whoever lays \
             the coats would find two plans.",
            "Write the number of coats that is meant, or take the coat out: `coat 3 none`.",
        ],
        [
            "product rue, a drying oil\n    coat 1  90 ml per m2\n    coat 2  60 ml per m2, after 24 to 48 h\n    coat 3  40 ml per m2, after 24 to 48 h\n\
             product fig\n    like    rue\n    coats   2\n",
            "product rue, a drying oil\n    coat 1  90 ml per m2\n    coat 2  60 ml per m2, after 24 to 48 h\n    coat 3  40 ml per m2, after 24 to 48 h\n\
             product fig\n    like    rue\n    coats   2\n    coat 3  none\n",
        ],
    ),
    page(
        "coat-missing",
        [
            "Coats are described one by one, nothing says how many there are, and one of them is left out.",
            NOT_UNDERSTOOD,
            "Describe every coat, or write `coats 3`: what no coat says of itself is then what the product says of all.",
        ],
        [
            "product rue, a drying oil\n    coat 1  90 ml per m2\n    coat 3  40 ml per m2, after 24 to 48 h\n",
            "product rue, a drying oil\n    coat 1  90 ml per m2\n    coat 2  40 ml per m2, after 24 to 48 h\n",
        ],
    ),
    page(
        "coats-of-two-kinds",
        [
            "One coat of a product is measured by volume, another by mass.",
            "They cannot be added up, so nobody can tell how much is to be bought and what it costs.",
            "Write all coats in ml per m2, or all in g per m2.",
        ],
        [
            "product rue, a drying oil\n    coat 1  90 ml per m2\n    coat 2  60 g per m2, after 24 to 48 h\n",
            "product rue, a drying oil\n    coat 1  90 ml per m2\n    coat 2  65 ml per m2, after 24 to 48 h\n",
        ],
    ),
    page(
        "first-coat-waits",
        [
            "The first coat is to wait for a coat before it.",
            NOT_UNDERSTOOD,
            "The wait belongs to the coat that follows: `coat 2 after 24 to 48 h`.",
        ],
        [
            "product rue, a drying oil\n    coat 1  90 ml per m2, after 24 to 48 h\n    coat 2  60 ml per m2\n",
            "product rue, a drying oil\n    coat 1  90 ml per m2\n    coat 2  60 ml per m2, after 24 to 48 h\n",
        ],
    ),
    page(
        "each-without-rack",
        [
            "The surface is many specimens, as `each` says, and the map divides one panel into sections.",
            "It would not be known whether a section is a specimen or a part of one.",
            "Draw the specimens on a rack, `map rack 4 rows of 7`, or give the surface a `size`.",
        ],
        [
            "surface boards\n    each 300 x 90 mm\n",
            "surface boards\n    each 300 x 90 mm\nmap rack 1 row of 4\n    | bay  clove  cumin  bare |\n",
        ],
    ),
    page(
        "group-unlike-map",
        [
            "The drawing of what was cut from what has other rows or places than the map, or names a piece where the map has no section.",
            "Place by place it says which specimen came from which piece; one place too few moves all that follow.",
            "Draw it over the map, with as many rows and places, and `.` where the map has `.`.",
        ],
        [
            "surface boards\n    each 300 x 90 mm\nmap rack 1 row of 4\n    | bay  clove  cumin  bare |\ngroup plank\n    | p1  p2  p3 |\n",
            "surface boards\n    each 300 x 90 mm\nmap rack 1 row of 4\n    | bay  clove  cumin  bare |\ngroup plank\n    | p1  p2  p3  p1 |\n",
        ],
    ),
    page(
        "rack-unlike-drawing",
        [
            "A rack is said to have some rows and places, and others are drawn.",
            "A row that was forgotten, or a place too many, is found in this way before the specimens are hung.",
            "Draw every place, `.` where it is empty, or correct the numbers.",
        ],
        [
            "surface boards\n    each 300 x 90 mm\nmap rack 2 rows of 4\n    | bay  clove  cumin  bare |\n",
            "surface boards\n    each 300 x 90 mm\nmap rack 1 row of 4\n    | bay  clove  cumin  bare |\n",
        ],
    ),
    page(
        "site-not-said",
        [
            "The study has several sites, and a line does not say of which it speaks.",
            TWO_WAYS,
            "Write the name of the site, as its map gives it.",
        ],
        [
            "surface boards\n    each 300 x 90 mm\nmap coast rack 1 row of 4\n    | bay  clove  cumin  bare |\nmap inland rack 1 row of 4\n    | bare  cumin  bay  clove |\nexposure \"Pier\"\n",
            "surface boards\n    each 300 x 90 mm\nmap coast rack 1 row of 4\n    | bay  clove  cumin  bare |\nmap inland rack 1 row of 4\n    | bare  cumin  bay  clove |\nexposure coast \"Pier\"\n",
        ],
    ),
    record_pages::INCOMPLETE,
    record_pages::UNCLEAR,
    record_pages::BACKWARDS,
    patch_pages::CYCLE_WITHOUT_PATCHES,
    patch_pages::NOT_A_MARKER,
    patch_pages::PATCH_NOT_SAID,
    patch_pages::PATCHES_OFF_THE_SPECIMEN,
    patch_pages::PATCHES_WITHOUT_SPECIMENS,
    page(
        "language-not-known",
        [
            "The file asks for a version of the language of studies, or under `study` for a language of its pages, that this program does not know.",
            "Words may mean something else in another version, and pages in another language than the one asked for are of no use.",
            "Write `language 1` at the margin, or use a newer version of the program; under `study` write `language english` or `language german`.",
        ],
        ["language 2\n", "language 1\n"],
    ),
    page(
        "clause-twice",
        [
            "One step says the same thing twice, or one thing has two lines that begin alike.",
            "The second would replace the first without a word.",
            "Keep one of them; what is done twice has two steps.",
        ],
        [
            "prep\n    wash with soap, rinse\n    decontaminate with iron-off for 5 min, for 6 min, rinse\n    dry\n",
            "prep\n    wash with soap, rinse\n    decontaminate with iron-off for 5 min, rinse\n    dry\n",
        ],
    ),
    page(
        "duplicate-name",
        [
            "Two things have the same name, or a product is called by a word that says what a section is left as.",
            "A name that means two things would put one product's readings on the other.",
            "Give one of them another name.",
        ],
        [
            "product rue \"Rue wax\", a wax\nproduct rue \"Rue gel\", a wax\n",
            "product rue \"Rue wax\", a wax\nproduct fig \"Fig gel\", a wax\n",
        ],
    ),
    page(
        "undefined-name",
        [
            "A name is used that nothing in the study defines.",
            "What it stands for is not known, so the line cannot be bound.",
            "Write the name that is offered, or define it.",
        ],
        ["benchmark baay\n", "benchmark bay\n"],
    ),
    page(
        "comma-in-number",
        [
            "A number has a comma, which parts decimals in one country and thousands in another.",
            TWO_WAYS,
            "Write a point for decimals, and nothing between thousands.",
        ],
        [
            "measure gloss-20 in GU\n    higher is better\n    alike within 2,5 GU\n    seen from 5 GU\n",
            "measure gloss-20 in GU\n    higher is better\n    alike within 2.5 GU\n    seen from 5 GU\n",
        ],
    ),
    page(
        "unknown-unit",
        [
            "A number has a unit that is not known.",
            NOT_UNDERSTOOD,
            "Write the unit that is offered. Units are case-sensitive: `m` is a metre.",
        ],
        [
            "product bay \"Bay seal\", a spray sealant\n    dry 12 hous\n",
            "product bay \"Bay seal\", a spray sealant\n    dry 12 hours\n",
        ],
    ),
    page(
        "wrong-dimension",
        [
            "A quantity is of the wrong kind: a time where a length belongs, a mass where a price belongs.",
            NOT_UNDERSTOOD,
            "Write a quantity of the kind that is named.",
        ],
        [
            "product bay \"Bay seal\", a spray sealant\n    dry 12 mm\n",
            "product bay \"Bay seal\", a spray sealant\n    dry 12 h\n",
        ],
    ),
    page(
        "percent-of-what",
        [
            "A percentage does not say of what.",
            TWO_WAYS,
            "Write `35 % by volume`, `52 % humidity`, `80 % of fresh` or `12 % moisture`.",
        ],
        [
            "supply spirit, isopropanol\n    strength 99 %\n    sheet \"spirit.pdf\"\n",
            "supply spirit, isopropanol\n    strength 99 % by volume\n    sheet \"spirit.pdf\"\n",
        ],
    ),
    page(
        "range-backwards",
        [
            "A range runs from the higher to the lower value.",
            "One of the two is a slip, and nothing tells which.",
            "Write the lower value first.",
        ],
        [
            "product bay \"Bay seal\", a spray sealant\n    flash 4 to 2 min\n",
            "product bay \"Bay seal\", a spray sealant\n    flash 2 to 4 min\n",
        ],
    ),
    page(
        "one-value-wanted",
        [
            "A range stands where one value is wanted.",
            "A check against a limit needs one limit.",
            "Write one number; for a time to cure the longer one.",
        ],
        [
            "product bay \"Bay seal\", a spray sealant\n    cure 5 to 7 days\n",
            "product bay \"Bay seal\", a spray sealant\n    cure 7 days\n",
        ],
    ),
    page(
        "day-or-month-first",
        [
            "A date can be read with the day or the month first.",
            TWO_WAYS,
            "Write year, month, day, as `2026-04-13`.",
        ],
        ["apply\n    on 03/04/2026\n", "apply\n    on 2026-03-04\n"],
    ),
    page(
        "date-spelling",
        [
            "A date is not spelled year, month, day with two figures each.",
            "One spelling keeps dates in order wherever they are listed.",
            "Write the date that is offered.",
        ],
        ["apply\n    on 2026-3-4\n", "apply\n    on 2026-03-04\n"],
    ),
    page(
        "no-such-day",
        ["The calendar has no such day.", NOT_UNDERSTOOD, "Write a day of the calendar."],
        ["exposure \"Yard\"\n    put out 2026-02-30\n", "exposure \"Yard\"\n    put out 2026-03-12\n"],
    ),
    page(
        "no-such-time",
        [
            "There is no such time of day.",
            NOT_UNDERSTOOD,
            "Write hours from 00 to 23 and minutes from 00 to 59, as `09:00`.",
        ],
        ["apply\n    on 2026-03-03 from 25:00\n", "apply\n    on 2026-03-03 from 09:00\n"],
    ),
    Page {
        severity: Severity::Warning,
        ..page(
            "facing-not-known",
            [
                "The direction that the panel faces is none of the compass.",
                "Sun and rain come from one side; readers compare the site by this word.",
                "Write `south`, `north-east` and so on; a panel that lies level has `flat` in place of `faces`.",
            ],
            [
                "exposure \"Test yard\"\n    faces up\n    put out 2026-03-12\n",
                "exposure \"Test yard\"\n    flat\n    put out 2026-03-12\n",
            ],
        )
    },
    page(
        "mix-two-ways",
        [
            "A mix does not say which part is the water.",
            "One part to four and four parts to one differ sixteen-fold, on the paint and on the skin.",
            "Write `1 part to 4 water`.",
        ],
        ["supply soap, a shampoo\n    mix 3:1\n", "supply soap, a shampoo\n    mix 1 part to 3 water\n"],
    ),
    page(
        "time-of-what",
        [
            "A step has a time that does not say whether the chemical acts or the hands wait.",
            "A dwell is checked against the product's limits, a pause is not.",
            "Write `for 5 min` for the time that it acts, or `wait 5 min` for a pause after it.",
        ],
        [
            "prep\n    wash with soap, rinse\n    decontaminate with iron-off 5 min, rinse\n    dry\n",
            "prep\n    wash with soap, rinse\n    decontaminate with iron-off for 5 min, rinse\n    dry\n",
        ],
    ),
    page(
        "measure-of-another-kind",
        [
            "A line stands under a measure of a kind that does not have it.",
            "The tool would have to guess whether the measure is a rating, is made of others, or is read as one number.",
            "Write `a rating 0 to 5` in its first line, or `read open, then under in mW/cm2` under it.",
        ],
        [
            "measure swirl in GU\n    lower is better\n    half marks\n",
            "measure swirl, a rating 0 to 5\n    lower is better\n    half marks\n",
        ],
    ),
    page(
        "mark-off-the-scale",
        [
            "A mark is not on the scale of its rating, or the scale runs backwards.",
            "Whoever rates next year has only these words to rate by.",
            "Write the scale from its lower mark to its higher, and words for marks that it has.",
        ],
        [
            "measure swirl, a rating 0 to 5\n    lower is better\n    6 \"deep\"\n",
            "measure swirl, a rating 0 to 5\n    lower is better\n    5 \"deep\"\n",
        ],
    ),
    page(
        "made-how",
        [
            "A measure is made of readings, and the file does not say how, or names too few or too many.",
            "Two readings can be a share, a difference or a ratio, and each answers another question.",
            "Write `is the share stopped`, `is the difference`, `is the gain`, `is the ratio` or `is the colour change` under what is read.",
        ],
        [
            "measure haze in %\n    lower is better\n    read open, then under in mW/cm2\n",
            "measure haze in %\n    lower is better\n    read open, then under in mW/cm2\n    is the share stopped\n",
        ],
    ),
    page(
        "specimens-without-number",
        [
            "Nothing says how many loose specimens there are.",
            "Every product needs one, and so does bare, or there is nothing to compare with.",
            "Write `one for each product and bare` under them.",
        ],
        [
            "specimens slips\n    each 60 x 60 mm\n",
            "specimens slips\n    each 60 x 60 mm\n    one for each product and bare\n",
        ],
    ),
    page(
        "measure-without-unit",
        [
            "A measure that the trade does not know has no unit.",
            "Readings without a unit cannot be compared with limits.",
            "Write `measure slip in mm`, or whatever its unit is.",
        ],
        ["measure slip\n    higher is better\n", "measure slip in mm\n    higher is better\n"],
    ),
    Page {
        severity: Severity::Warning,
        ..page(
            "direction-not-said",
            [
                "Nothing says which way a measure is better.",
                "Without it no product can lead and no limit can be passed the wrong way.",
                "Write `higher is better`, `lower is better` or `neither is better` under the measure.",
            ],
            [
                "measure slip in mm\n    alike within 1 mm\n",
                "measure slip in mm\n    lower is better\n    alike within 1 mm\n",
            ],
        )
    },
    page(
        "step-names-sections",
        [
            "A step of loose specimens, or of a cycle, says that it is done on some only.",
            "Such a step is done on each of them alike, and the program would not know which of them had it.",
            "Remove `only on`. Steps of `prep`, of `before each round` and of `upkeep` may name sections of the map.",
        ],
        [
            "specimens slips\n    material clear acrylic\n    each 50 x 50 mm\n    one for each product and 2 for bare\nprep slips\n    wipe with spirit 35 % by volume  only on bay\n",
            "specimens slips\n    material clear acrylic\n    each 50 x 50 mm\n    one for each product and 2 for bare\nprep slips\n    wipe with spirit 35 % by volume\n",
        ],
    ),
    page(
        "surface-without-size",
        [
            "The surface has no size.",
            "Sections cannot be placed on a panel of unknown size.",
            "Write `size 880 x 580 mm`, or `corners 0 x 0, 880 x 0, 700 x 580 mm`.",
        ],
        [
            "surface panel\n    material clearcoat on steel\n",
            "surface panel\n    material clearcoat on steel\n    size 880 x 580 mm\n",
        ],
    ),
    page(
        "shape-incomplete",
        [
            "An area or a section has a shape that is not complete.",
            "Nothing can be checked against it.",
            "Give a place and a size, a centre and a width across, or three corners or more.",
        ],
        [
            "surface panel\n    size 880 x 580 mm\n    avoid dent from left 10 mm, top 10 mm\n",
            "surface panel\n    size 880 x 580 mm\n    avoid dent from left 10 mm, top 10 mm size 20 x 10 mm because \"dent\"\n",
        ],
    ),
    page(
        "place-incomplete",
        [
            "A place does not have one distance from left or right and one from top or bottom.",
            "A place on a panel needs both.",
            "Write `from left 44 mm, top 44 mm`.",
        ],
        [
            "surface panel\n    size 880 x 580 mm\n    avoid dent from left 10 mm, left 10 mm size 20 x 10 mm\n",
            "surface panel\n    size 880 x 580 mm\n    avoid dent from left 10 mm, top 10 mm size 20 x 10 mm\n",
        ],
    ),
    page(
        "map-without-size",
        [
            "The map does not say how large a section is.",
            "Without it no section can be placed, taped or checked against the gauge.",
            "Write `map sections 166 x 116 mm gap 18 mm from left 44 mm, top 44 mm`.",
        ],
        [
            "map\n    | bay clove bare |\n    | bare cumin bay |\n",
            "map sections 166 x 116 mm gap 18 mm\n    | bay clove bare |\n    | bare cumin bay |\n",
        ],
    ),
    page(
        "map-empty",
        [
            "The map has no sections.",
            "There is nothing to read.",
            "Draw rows under it, as `| thyme  bare  clove |`.",
        ],
        [
            "map sections 166 x 116 mm gap 18 mm\n",
            "map sections 166 x 116 mm gap 18 mm\n    | bay clove bare |\n    | bare cumin bay |\n",
        ],
    ),
    page(
        "rounds-empty",
        [
            "There are no rounds.",
            "A comparison needs a reading before and at least one after.",
            "Write `baseline before apply` and a later round.",
        ],
        [
            "rounds\n    every round gloss-20 5 times\n",
            "rounds\n    baseline before apply gloss-20 5 times\n    month 3 within 3 days gloss-20 5 times\n",
        ],
    ),
    page(
        "round-unplaced",
        [
            "Nothing says when a round is read.",
            "Without a day it cannot be told whether a reading is early, late or missed.",
            "Write `8 days after apply`, or `on` and a date; `week 4` and `month 6` say it by their names.",
        ],
        [
            "rounds\n    baseline before apply gloss-20 5 times\n    autumn gloss-20 5 times\n",
            "rounds\n    baseline before apply gloss-20 5 times\n    autumn on 2026-10-01 gloss-20 5 times\n",
        ],
    ),
    page(
        "left-out-unnamed",
        [
            "A reading is left out, but nothing says which.",
            "A reading that is left out must be known to whoever picks at the report.",
            "Name its number or its value, as `reading 2, 58.7 GU`.",
        ],
        [
            "readings \"readings.csv\"\n    leave out gloss-20 of A1 at baseline because \"slipped\"\n",
            "readings \"readings.csv\"\n",
        ],
    ),
    page(
        "left-out-without-reason",
        [
            "A reading is left out without a reason.",
            "A critic will ask; the report prints the reason beside both results.",
            "End the line with `because \"...\"`.",
        ],
        [
            "readings \"readings.csv\"\n    leave out gloss-20 of A1 at baseline, reading 4\n",
            "readings \"readings.csv\"\n",
        ],
    ),
    page(
        "hazard-not-known",
        [
            "A hazard statement of a label is not one of the regulation's.",
            "A slip in a code can hide a grave hazard from whoever reads the card.",
            "Copy the codes from section 2 of the data sheet.",
        ],
        [
            "supply spirit, isopropanol\n    strength 99 % by volume\n    sheet \"spirit.pdf\"\n    hazards H255, H319\n",
            "supply spirit, isopropanol\n    strength 99 % by volume\n    sheet \"spirit.pdf\"\n    hazards H225, H319\n",
        ],
    ),
    page(
        "surface-line-misplaced",
        [
            "The margin to the dew point stands under `prep`.",
            "It is asked for where products go on; while the panel is prepared it is wet anyway.",
            "Write `surface below 30 degC` under `prep`, and the margin under `apply`.",
        ],
        [
            "prep\n    surface at least 3 degC above dew point\n    wash with soap, 1 part to 200 water, rinse\n",
            "prep\n    surface below 30 degC\n    wash with soap, 1 part to 200 water, rinse\n",
        ],
    ),
    page(
        "hours-of-what",
        [
            "Hours above a temperature are asked for, and nothing says of what.",
            "A panel in the sun is far warmer than the air; which of the two is counted must be said.",
            "Write `hours air above 30 degC` or `hours surface above 40 degC`.",
        ],
        [
            "climate \"climate.csv\"\n    hours panel above 30 degC\n",
            "climate \"climate.csv\"\n    hours surface above 30 degC\n",
        ],
    ),
    page(
        "tile-of-no-gloss",
        [
            "A tile is declared by its index of refraction, and its gauge reads no gloss at 20, 60 or 85 deg.",
            "The gloss of smooth glass follows from its index at the angle of the gauge; of another measure it says nothing.",
            "Write what a true gauge reads on the tile, as `tile 94.6 GU`.",
        ],
        [
            "gauge film-pen\n    reads film\n    spot  12 mm across\n    tile  n 1.567\n",
            "gauge glossy\n    reads gloss-20\n    spot  10 x 10 mm\n    tile  n 1.567\n",
        ],
    ),
    page(
        "tape-off-after-what",
        [
            "The tape comes off after something that is no coat.",
            NOT_UNDERSTOOD,
            "Write `tape off 1 h after last coat`, or `first coat`.",
        ],
        [
            "apply\n    on 2026-03-03 from 09:00\n    tape off 1 h after wipe\n",
            "apply\n    on 2026-03-03 from 09:00\n    tape off 1 h after last coat\n",
        ],
    ),
];
