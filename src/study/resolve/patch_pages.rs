//! Pages of the findings about patches and their cycles.

use super::page::page;
use crate::diag::Page;

/// The page of `cycle-without-patches`.
pub(super) const CYCLE_WITHOUT_PATCHES: Page = page(
    "cycle-without-patches",
    [
        "A cycle marks and cleans patches, and no patch has a marker and a cleaner.",
        "There would be nothing to mark and nothing to read.",
        "Draw the patches, as `patches in each panel ...` with rows such as `| spray+gel  pen+gel |`.",
    ],
    [
        "surface panels\n    each 500 x 300 mm\nmap rack 1 row of 4\n    | bay  clove  cumin  bare |\nmarker spray \"Red spray\"\n    leave 24 h\nsupply gel, a solvent wipe\n    sheet \"gel.pdf\"\nmeasure ghost, a rating 0 to 4\n    lower is better\ncycle, up to 5 times\n    mark   with its marker\n    clean  with its cleaner, rinse\n    read   ghost\n",
        "surface panels\n    each 500 x 300 mm\nmap rack 1 row of 4\n    | bay  clove  cumin  bare |\nmarker spray \"Red spray\"\n    leave 24 h\nsupply gel, a solvent wipe\n    sheet \"gel.pdf\"\nmeasure ghost, a rating 0 to 4\n    lower is better\npatches in each panel  size 90 x 90 mm  gap 20 mm  from left 20 mm, top 20 mm\n    | spray+gel  spare |\ncycle, up to 5 times\n    mark   with its marker\n    clean  with its cleaner, rinse\n    read   ghost\n",
    ],
);

/// The page of `not-a-marker`.
pub(super) const NOT_A_MARKER: Page = page(
    "not-a-marker",
    [
        "What stands before the `+` of a patch is no marker.",
        "A patch is named by what soils it, then by what cleans it; the other way round both would be done in the wrong order.",
        "Write the marker first, as `spray+gel`, and define it: `marker spray`.",
    ],
    [
        "surface panels\n    each 500 x 300 mm\nmap rack 1 row of 4\n    | bay  clove  cumin  bare |\nmarker spray \"Red spray\"\n    leave 24 h\nsupply gel, a solvent wipe\n    sheet \"gel.pdf\"\nmeasure ghost, a rating 0 to 4\n    lower is better\npatches in each panel  size 90 x 90 mm  gap 20 mm  from left 20 mm, top 20 mm\n    | gel+spray  spare |\ncycle, up to 5 times\n    mark   with its marker\n    clean  with its cleaner, rinse\n    read   ghost\n",
        "surface panels\n    each 500 x 300 mm\nmap rack 1 row of 4\n    | bay  clove  cumin  bare |\nmarker spray \"Red spray\"\n    leave 24 h\nsupply gel, a solvent wipe\n    sheet \"gel.pdf\"\nmeasure ghost, a rating 0 to 4\n    lower is better\npatches in each panel  size 90 x 90 mm  gap 20 mm  from left 20 mm, top 20 mm\n    | spray+gel  spare |\ncycle, up to 5 times\n    mark   with its marker\n    clean  with its cleaner, rinse\n    read   ghost\n",
    ],
);

/// The page of `patch-not-said`.
pub(super) const PATCH_NOT_SAID: Page = page(
    "patch-not-said",
    [
        "A measure is read on patches of several kinds, and a line does not say on which of them it decides.",
        "There is no one mean over patches that were marked and cleaned differently.",
        "Name the patch: `decide by ghost on spray+gel at cycle 5`.",
    ],
    [
        "surface panels\n    each 500 x 300 mm\nmap rack 1 row of 4\n    | bay  clove  cumin  bare |\nmarker spray \"Red spray\"\n    leave 24 h\nsupply gel, a solvent wipe\n    sheet \"gel.pdf\"\nmeasure ghost, a rating 0 to 4\n    lower is better\npatches in each panel  size 90 x 90 mm  gap 20 mm  from left 20 mm, top 20 mm\n    | spray+gel  spare |\ncycle, up to 5 times\n    mark   with its marker\n    clean  with its cleaner, rinse\n    read   ghost\nstudy \"Three sealers\"\n    begins 2026-03-02\n    decide by ghost at cycle 5\n",
        "surface panels\n    each 500 x 300 mm\nmap rack 1 row of 4\n    | bay  clove  cumin  bare |\nmarker spray \"Red spray\"\n    leave 24 h\nsupply gel, a solvent wipe\n    sheet \"gel.pdf\"\nmeasure ghost, a rating 0 to 4\n    lower is better\npatches in each panel  size 90 x 90 mm  gap 20 mm  from left 20 mm, top 20 mm\n    | spray+gel  spare |\ncycle, up to 5 times\n    mark   with its marker\n    clean  with its cleaner, rinse\n    read   ghost\nstudy \"Three sealers\"\n    begins 2026-03-02\n    decide by ghost on spray+gel at cycle 5\n",
    ],
);

/// The page of `patches-off-the-specimen`.
pub(super) const PATCHES_OFF_THE_SPECIMEN: Page = page(
    "patches-off-the-specimen",
    [
        "The drawn patches reach past the edge of a specimen.",
        "They cannot be laid out as drawn.",
        "Make patches or gap smaller, or begin nearer to the corner.",
    ],
    [
        "surface panels\n    each 500 x 300 mm\nmap rack 1 row of 4\n    | bay  clove  cumin  bare |\nmarker spray \"Red spray\"\n    leave 24 h\nsupply gel, a solvent wipe\n    sheet \"gel.pdf\"\nmeasure ghost, a rating 0 to 4\n    lower is better\npatches in each panel  size 90 x 90 mm  gap 20 mm  from left 420 mm, top 20 mm\n    | spray+gel  spare |\n",
        "surface panels\n    each 500 x 300 mm\nmap rack 1 row of 4\n    | bay  clove  cumin  bare |\nmarker spray \"Red spray\"\n    leave 24 h\nsupply gel, a solvent wipe\n    sheet \"gel.pdf\"\nmeasure ghost, a rating 0 to 4\n    lower is better\npatches in each panel  size 90 x 90 mm  gap 20 mm  from left 20 mm, top 20 mm\n    | spray+gel  spare |\n",
    ],
);

/// The page of `patches-without-specimens`.
pub(super) const PATCHES_WITHOUT_SPECIMENS: Page = page(
    "patches-without-specimens",
    [
        "Patches are drawn in each specimen, and the surface is one panel.",
        "It is not known what a patch lies in.",
        "Write `each` under `surface` and draw a rack.",
    ],
    [
        "marker spray\nsupply gel, a solvent wipe\n    sheet \"gel.pdf\"\npatches in each panel  size 90 x 90 mm  gap 20 mm  from left 20 mm, top 20 mm\n    | spray+gel  spare |\n",
        "surface panels\n    each 500 x 300 mm\nmap rack 1 row of 4\n    | bay  clove  cumin  bare |\nmarker spray \"Red spray\"\n    leave 24 h\nsupply gel, a solvent wipe\n    sheet \"gel.pdf\"\nmeasure ghost, a rating 0 to 4\n    lower is better\npatches in each panel  size 90 x 90 mm  gap 20 mm  from left 20 mm, top 20 mm\n    | spray+gel  spare |\n",
    ],
);
