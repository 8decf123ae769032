//! Which words open a block, which words may stand under it, and by which rule of the grammar a line is read.

use super::parser::Rule;
use super::tree::BlockKind;

/// The words and rules of one block.
pub(super) struct BlockRule {
    /// Its head word.
    pub(super) word: &'static str,
    /// What it is.
    pub(super) kind: BlockKind,
    /// The rule of the head.
    pub(super) head: Rule,
    /// First words of the lines under it, with their rules.
    pub(super) children: &'static [(&'static str, Rule)],
    /// The rule of a line whose first word is none of these; rounds have names of their own.
    pub(super) otherwise: Option<Rule>,
    /// Words that later versions will know here.
    pub(super) planned: &'static [&'static str],
}

/// The verb of a line that begins with a number.
pub const DIGIT: &str = "0";

/// First words of the lines of `prep`.
pub(super) const STEPS: &[(&str, Rule)] = &[
    ("wash", Rule::s_step),
    ("rinse", Rule::s_step),
    ("decontaminate", Rule::s_step),
    ("dry", Rule::s_step),
    ("clay", Rule::s_step),
    ("compound", Rule::s_step),
    ("polish", Rule::s_step),
    ("wipe", Rule::s_step),
    ("tape", Rule::s_step),
    ("label", Rule::s_step),
    ("read", Rule::s_read),
    ("sand", Rule::s_step),
    ("dust", Rule::s_step),
    ("brush", Rule::s_step),
    ("seal", Rule::s_step),
    ("wait", Rule::s_step),
    ("surface", Rule::s_surface),
    ("shade", Rule::s_bare),
];

/// First words of the lines of `cycle`.
const CYCLE: &[(&str, Rule)] = &[
    ("mark", Rule::s_marking),
    ("clean", Rule::s_cleaning),
    ("wash", Rule::s_step),
    ("rinse", Rule::s_step),
    ("dry", Rule::s_step),
    ("wipe", Rule::s_step),
    ("wait", Rule::s_step),
    ("read", Rule::s_cycle_read),
    ("stop", Rule::s_stop),
];

const fn alone(word: &'static str, kind: BlockKind, head: Rule) -> BlockRule {
    BlockRule { word, kind, head, children: &[], otherwise: None, planned: &[] }
}

/// Every block, in the order in which a study usually has them.
pub(super) static BLOCKS: &[BlockRule] = &[
    alone("language", BlockKind::Language, Rule::s_language),
    BlockRule {
        word: "study",
        kind: BlockKind::Study,
        head: Rule::s_titled,
        children: &[
            ("author", Rule::s_titled),
            ("begins", Rule::s_begins),
            ("question", Rule::s_titled),
            ("language", Rule::s_named),
            ("decide", Rule::s_decide),
            ("bought", Rule::s_unless),
            ("spreads", Rule::s_differ),
        ],
        otherwise: None,
        planned: &["codes", "blind"],
    },
    BlockRule {
        word: "surface",
        kind: BlockKind::Surface,
        head: Rule::s_named,
        children: &[
            ("material", Rule::s_free),
            ("size", Rule::s_size),
            ("corners", Rule::s_corners),
            ("each", Rule::s_each),
            ("origin", Rule::s_free),
            ("film", Rule::s_qty),
            ("leave", Rule::s_leave),
            ("avoid", Rule::s_area),
            ("curved", Rule::s_area),
        ],
        otherwise: None,
        planned: &["bends", "moisture", "number"],
    },
    BlockRule {
        word: "specimens",
        kind: BlockKind::Specimens,
        head: Rule::s_named,
        children: &[
            ("material", Rule::s_free),
            ("each", Rule::s_each),
            ("one", Rule::s_for_each),
            (DIGIT, Rule::s_for_each),
            ("spare", Rule::s_number),
        ],
        otherwise: None,
        planned: &[],
    },
    BlockRule {
        word: "gauge",
        kind: BlockKind::Gauge,
        head: Rule::s_labelled,
        children: &[
            ("reads", Rule::s_reads),
            ("spot", Rule::s_spot),
            ("foot", Rule::s_spot),
            ("two", Rule::s_two),
            ("spread", Rule::s_qty),
            ("tile", Rule::s_tile),
            ("certified", Rule::s_certified),
            ("destroys", Rule::s_destroys),
            ("marks", Rule::s_spots),
        ],
        otherwise: None,
        planned: &["light", "lamp", "drop"],
    },
    BlockRule {
        word: "measure",
        kind: BlockKind::Measure,
        head: Rule::s_measure,
        children: &[
            ("higher", Rule::s_better),
            ("lower", Rule::s_better),
            ("neither", Rule::s_better),
            ("alike", Rule::s_alike),
            ("seen", Rule::s_seen),
            ("spent", Rule::s_spent),
            ("change", Rule::s_change),
            ("adjust", Rule::s_adjust),
            ("read", Rule::s_parts),
            ("is", Rule::s_made),
            ("against", Rule::s_against),
            (DIGIT, Rule::s_mark),
            ("half", Rule::s_half),
            ("rated", Rule::s_rated),
        ],
        otherwise: None,
        planned: &[],
    },
    BlockRule {
        word: "supply",
        kind: BlockKind::Supply,
        head: Rule::s_supply,
        children: &[
            ("mix", Rule::s_mix),
            ("dwell", Rule::s_qty),
            ("strength", Rule::s_qty),
            ("keeps", Rule::s_qty),
            ("pot", Rule::s_life),
            ("bought", Rule::s_bought),
            ("uses", Rule::s_qty),
            ("density", Rule::s_qty),
            ("sheet", Rule::s_sheet),
            ("hazards", Rule::s_hazards),
            ("batch", Rule::s_batch),
            ("packed", Rule::s_packed),
            ("leaves", Rule::s_leaves),
        ],
        otherwise: None,
        planned: &["contains"],
    },
    BlockRule {
        word: "marker",
        kind: BlockKind::Marker,
        head: Rule::s_supply,
        children: &[
            ("leave", Rule::s_qty),
            ("amount", Rule::s_free),
            ("uses", Rule::s_qty),
            ("bought", Rule::s_bought),
            ("packed", Rule::s_packed),
            ("sheet", Rule::s_sheet),
            ("hazards", Rule::s_hazards),
            ("batch", Rule::s_batch),
        ],
        otherwise: None,
        planned: &[],
    },
    BlockRule {
        word: "product",
        kind: BlockKind::Product,
        head: Rule::s_supply,
        children: &[
            ("bought", Rule::s_bought),
            ("given", Rule::s_given),
            ("paid", Rule::s_paid),
            ("batch", Rule::s_batch),
            ("uses", Rule::s_qty),
            ("density", Rule::s_qty),
            ("coats", Rule::s_coats),
            ("coat", Rule::s_coat),
            ("between", Rule::s_between),
            ("flash", Rule::s_flash),
            ("dry", Rule::s_qty),
            ("cure", Rule::s_qty),
            ("like", Rule::s_named),
            ("mix", Rule::s_mix),
            ("keeps", Rule::s_qty),
            ("pot", Rule::s_life),
            ("sheet", Rule::s_sheet),
            ("hazards", Rule::s_hazards),
            ("packed", Rule::s_packed),
            ("tool", Rule::s_tool),
            ("air", Rule::s_air),
            ("surface", Rule::s_surface),
            ("category", Rule::s_free),
        ],
        otherwise: None,
        planned: &["again", "limits"],
    },
    BlockRule {
        word: "products",
        kind: BlockKind::Products,
        head: Rule::s_products,
        // Rows of the table are taken apart by `products`, not by the grammar.
        children: &[("|", Rule::s_row)],
        otherwise: None,
        planned: &[],
    },
    alone("benchmark", BlockKind::Benchmark, Rule::s_named),
    BlockRule {
        word: "prep",
        kind: BlockKind::Prep,
        head: Rule::s_prep,
        children: STEPS,
        otherwise: None,
        planned: &["cycle"],
    },
    BlockRule {
        word: "map",
        kind: BlockKind::Map,
        head: Rule::s_map,
        children: &[
            ("|", Rule::s_row),
            ("section", Rule::s_section),
            ("blocks", Rule::s_blocks),
            ("placed", Rule::s_placed),
        ],
        otherwise: None,
        planned: &[],
    },
    BlockRule {
        word: "group",
        kind: BlockKind::Group,
        head: Rule::s_group,
        children: &[("|", Rule::s_row)],
        otherwise: None,
        planned: &[],
    },
    BlockRule {
        word: "patches",
        kind: BlockKind::Patches,
        head: Rule::s_patches,
        children: &[("|", Rule::s_patch_row), ("never", Rule::s_never)],
        otherwise: None,
        planned: &["shuffle"],
    },
    BlockRule {
        word: "cycle",
        kind: BlockKind::Cycle,
        head: Rule::s_cycle,
        children: CYCLE,
        otherwise: None,
        planned: &["after"],
    },
    BlockRule {
        word: "apply",
        kind: BlockKind::Apply,
        head: Rule::s_bare,
        children: &[
            ("on", Rule::s_on),
            ("air", Rule::s_air),
            ("surface", Rule::s_surface),
            ("tape", Rule::s_off),
            ("pace", Rule::s_pace),
            ("by", Rule::s_titled),
        ],
        otherwise: None,
        planned: &["treat"],
    },
    BlockRule {
        word: "rounds",
        kind: BlockKind::Rounds,
        head: Rule::s_bare,
        children: &[("every", Rule::s_every_round), ("before", Rule::s_before_each)],
        otherwise: Some(Rule::s_round),
        planned: &[],
    },
    BlockRule {
        word: "upkeep",
        kind: BlockKind::Upkeep,
        head: Rule::s_bare,
        children: &[("every", Rule::s_every), ("none", Rule::s_none)],
        otherwise: None,
        planned: &[],
    },
    BlockRule {
        word: "exposure",
        kind: BlockKind::Exposure,
        head: Rule::s_exposure,
        children: &[
            ("faces", Rule::s_faces),
            ("flat", Rule::s_bare),
            ("upright", Rule::s_bare),
            ("put", Rule::s_put),
            ("brought", Rule::s_put),
        ],
        otherwise: None,
        planned: &[],
    },
    BlockRule {
        word: "readings",
        kind: BlockKind::Readings,
        head: Rule::s_readings,
        children: &[("leave", Rule::s_leave_out), ("column", Rule::s_column)],
        otherwise: None,
        planned: &[],
    },
    alone("photos", BlockKind::Photos, Rule::s_titled),
    alone("pages", BlockKind::Pages, Rule::s_titled),
    BlockRule {
        word: "climate",
        kind: BlockKind::Climate,
        head: Rule::s_readings,
        children: &[("column", Rule::s_climate_column), ("each", Rule::s_each_row), ("hours", Rule::s_hours)],
        otherwise: None,
        planned: &[],
    },
    BlockRule {
        word: "record",
        kind: BlockKind::Record,
        head: Rule::s_titled,
        children: &[("column", Rule::s_climate_column)],
        otherwise: None,
        planned: &[],
    },
    alone("done", BlockKind::Done, Rule::s_done),
    alone("log", BlockKind::Log, Rule::s_log),
    alone("allow", BlockKind::Allow, Rule::s_allow),
];

/// Heads that later versions will know.
pub(super) static PLANNED: &[&str] = &["blocks", "treat", "compare", "codes", "operators"];

/// Words of other trades and older sheets, and what is written here instead.
pub(super) static SYNONYMS: &[(&str, &str)] = &[
    ("control", "bare"),
    ("untreated", "bare"),
    ("blank", "bare"),
    ("chemical", "supply"),
    ("chemicals", "supply"),
    ("instrument", "gauge"),
    ("meter", "gauge"),
    ("event", "rounds"),
    ("events", "rounds"),
    ("schedule", "rounds"),
    ("operator", "by"),
    ("mask", "tape"),
    ("masking", "tape"),
    ("degrease", "wipe"),
    ("buff", "polish"),
    ("shampoo", "wash"),
    ("rinsing", "rinse"),
    ("temp", "air"),
    ("temperature", "air"),
    ("panel", "surface"),
    ("layout", "map"),
    ("rack", "map"),
    ("markers", "marker"),
    ("cycles", "cycle"),
    ("weather", "climate"),
    ("records", "record"),
    ("logbook", "record"),
    ("sections", "map"),
    ("dimensions", "size"),
    ("price", "bought"),
    ("cost", "bought"),
    ("curing", "cure"),
    ("title", "study"),
    ("repeats", "two readings agree within"),
    ("better", "higher is better"),
    ("visible", "seen"),
    ("keep", "leave at least"),
    ("starts", "begins"),
    ("start", "begins"),
    ("calibrated", "certified"),
    ("calibration", "certified"),
    ("repeatability", "two readings agree within"),
    ("aperture", "spot"),
    ("more", "higher is better"),
    ("high", "higher is better"),
    ("less", "lower is better"),
    ("low", "lower is better"),
    ("fails", "spent"),
    ("limit", "spent"),
    ("dilution", "mix"),
    ("dilute", "mix"),
    ("ratio", "mix"),
    ("sds", "sheet"),
    ("msds", "sheet"),
    ("datasheet", "sheet"),
    ("lot", "batch"),
    ("consumption", "uses"),
    ("coverage", "uses"),
    ("layers", "coats"),
    ("drying", "dry"),
    ("costs", "bought"),
    ("clean", "wash"),
    ("cleaning", "wash"),
    ("pressure", "wash"),
    ("hose", "rinse"),
    ("correct", "polish"),
    ("correction", "polish"),
    ("acid", "decontaminate"),
    ("descale", "decontaminate"),
    ("measure", "read"),
    ("measures", "reads"),
    ("measures", "measure"),
    ("maintenance", "upkeep"),
    ("care", "upkeep"),
    ("preparation", "prep"),
    ("application", "apply"),
    ("data", "readings"),
    ("facing", "faces"),
    ("base", "material"),
    ("substrate", "material"),
    ("direction", "faces"),
    ("angle", "tilt"),
    ("maker", "given by"),
    // German words: the language of a study is English, whatever its report speaks.
    ("studie", "study"),
    ("beginn", "begins"),
    ("beginnt", "begins"),
    ("frage", "question"),
    ("sprache", "language"),
    ("autor", "author"),
    ("fläche", "surface"),
    ("oberfläche", "surface"),
    ("größe", "size"),
    ("schichtdicke", "film"),
    ("messgerät", "gauge"),
    ("messgröße", "measure"),
    ("misst", "reads"),
    ("kalibriert", "certified"),
    ("produkt", "product"),
    ("mittel", "supply"),
    ("mischung", "mix"),
    ("verdünnung", "mix"),
    ("preis", "bought"),
    ("gekauft", "bought"),
    ("charge", "batch"),
    ("verbrauch", "uses"),
    ("schichten", "coats"),
    ("trocknen", "dry"),
    ("trocknung", "dry"),
    ("aushärtung", "cure"),
    ("aushärten", "cure"),
    ("härtung", "cure"),
    ("ablüften", "flash"),
    ("vorbereitung", "prep"),
    ("waschen", "wash"),
    ("spülen", "rinse"),
    ("kneten", "clay"),
    ("polieren", "polish"),
    ("wischen", "wipe"),
    ("entfetten", "wipe"),
    ("abkleben", "tape"),
    ("beschriften", "label"),
    ("messen", "read"),
    ("schleifen", "sand"),
    ("warten", "wait"),
    ("entstauben", "dust"),
    ("karte", "map"),
    ("auftrag", "apply"),
    ("luft", "air"),
    ("runden", "rounds"),
    ("pflege", "upkeep"),
    ("auslagerung", "exposure"),
    ("ausgelagert", "put out"),
    ("messwerte", "readings"),
    ("erledigt", "done"),
    ("protokoll", "log"),
];

/// The block that a word opens.
pub(super) fn block(word: &str) -> Option<&'static BlockRule> {
    BLOCKS.iter().find(|block| block.word == word)
}

impl BlockRule {
    /// The rule of a line under this block by its first word.
    pub(super) fn child(&self, word: &str) -> Option<Rule> {
        let word = if word.starts_with(|c: char| c.is_ascii_digit()) { DIGIT } else { word };
        self.children.iter().find(|(known, _)| *known == word).map(|&(_, rule)| rule)
    }

    /// The first words that may stand under this block.
    pub(super) fn words(&self) -> impl Iterator<Item = &'static str> {
        self.children.iter().map(|&(word, _)| word).filter(|&word| word != DIGIT)
    }
}

/// The only block that knows a word, if there is just one.
pub(super) fn sole_owner(word: &str) -> Option<&'static BlockRule> {
    let mut owners = BLOCKS
        .iter()
        .filter(|block| word != "|" && block.child(word).is_some() && !is_step_again(block, word));
    let owner = owners.next()?;
    owners.next().is_none().then_some(owner)
}

/// A cycle repeats steps that are at home in preparation.
fn is_step_again(block: &BlockRule, word: &str) -> bool {
    block.kind == BlockKind::Cycle && STEPS.iter().any(|(step, _)| *step == word)
}
