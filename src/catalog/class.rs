//! A chemical class: what a cleaner, an abrasive or a coating of this kind usually is and asks for.

use serde::Deserialize;

use super::source::Source;

/// Where a class stands in a study.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Family {
    /// Compared on sections.
    Product,
    /// Used to prepare or to keep up.
    Supply,
    /// Found as either.
    Both,
    /// Bought by nobody: it arises in the work, as dust does.
    Arises,
}

/// The signal word of a label (UN GHS).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Signal {
    /// No signal word.
    None,
    /// "Warning".
    Warning,
    /// "Danger".
    Danger,
}

impl Signal {
    /// The word as a label prints it; empty where there is none.
    pub fn word(self) -> &'static str {
        match self {
            Self::None => "",
            Self::Warning => "Warning",
            Self::Danger => "Danger",
        }
    }
}

/// How hard it weighs that a study names no data sheet for this class.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum SheetSeverity {
    /// Corrosive, toxic, fluoride, isocyanate, hypochlorite and peroxide classes.
    Error,
    /// Every other class.
    Advice,
}

/// One chemical class with the facts that the papers and the checks use.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Class {
    /// Kebab-case identifier.
    pub id: &'static str,
    /// The spoken name that follows `a` or `an` in a study.
    pub name: &'static str,
    /// Other spoken names.
    #[serde(borrow)]
    pub aliases: Vec<&'static str>,
    /// What a part of it that is bought by itself is called, as `isocyanate hardener`; empty where there is none.
    #[serde(default)]
    pub part: &'static str,
    /// Product, supply or both.
    pub family: Family,
    /// How hard a missing data sheet weighs.
    pub sheet_severity: SheetSeverity,
    /// What it is made of.
    pub nature: Nature,
    /// What its label says.
    pub hazards: Hazards,
    /// What whoever handles it needs.
    pub handling: Handling,
    /// At what temperature its vapour can be lit; absent where it has no flash point in the usual case.
    pub fire: Option<Fire>,
    /// What it does on the panel.
    pub work: Work,
}

/// Acidity and reactivity of a class.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Nature {
    /// Usual lowest pH, without unit; absent where there is no water.
    pub ph_min: Option<f64>,
    /// Usual highest pH, without unit; absent where there is no water.
    pub ph_max: Option<f64>,
    /// Reactivity groups, as the pairs name them.
    #[serde(borrow)]
    pub groups: Vec<&'static str>,
    /// Source of this group of facts.
    pub source: Source,
}

/// The usual label of a class.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Hazards {
    /// Codes of hazard statements, `H225` or `EUH031`.
    #[serde(borrow)]
    pub statements: Vec<&'static str>,
    /// Signal word.
    pub signal: Signal,
    /// Codes of pictograms, `GHS02`.
    #[serde(borrow)]
    pub pictograms: Vec<&'static str>,
    /// What shifts the label; by strength or make-up.
    pub note: &'static str,
    /// Labels of stronger stocks, in rising strength.
    #[serde(default)]
    pub stronger: Vec<Stronger>,
    /// Source of this group of facts.
    pub source: Source,
}

/// The label of a class from a strength on.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Stronger {
    /// It holds from this strength on, percent.
    pub from_percent: f64,
    /// Codes of hazard statements.
    #[serde(borrow)]
    pub statements: Vec<&'static str>,
    /// Signal word.
    pub signal: Signal,
    /// Codes of pictograms.
    #[serde(borrow)]
    pub pictograms: Vec<&'static str>,
}

/// The flash point of a class, closed cup.
#[derive(Debug, Clone, Copy, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Fire {
    /// Usual lowest, degC.
    pub flash_min_deg_c: f64,
    /// Usual highest, degC.
    pub flash_max_deg_c: f64,
    /// What shifts it; may be empty.
    pub note: &'static str,
    /// Source of this group of facts.
    pub source: Source,
}

/// The filter type for organic vapours that boil at 65 degC or lower (EN 14387).
pub const LOW_BOILER_FILTER: &str = "AX";

/// Protection, first aid, waste, storage and cautions of a class.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Handling {
    /// Gloves; absent where the catalog names none.
    pub gloves: Option<&'static str>,
    /// Eye and face protection; absent as for gloves.
    pub eyes: Option<&'static str>,
    /// Breathing protection; absent as for gloves.
    pub breathing: Option<&'static str>,
    /// The types and classes of the filter that it asks for (EN 14387), as `A2` and `P2`; empty where none is named, and where a filter
    /// does not do.
    #[serde(borrow, default)]
    pub filter: Vec<&'static str>,
    /// Ventilation; absent as for gloves.
    pub ventilation: Option<&'static str>,
    /// First aid, the gist.
    pub first_aid: &'static str,
    /// Waste.
    pub waste: &'static str,
    /// Where the water goes that rinses it off; absent where it is not rinsed off.
    pub rinse_water: Option<&'static str>,
    /// Storage.
    pub storage: &'static str,
    /// Ids of the exposure limits of what it gives off.
    #[serde(borrow)]
    pub limits: Vec<&'static str>,
    /// Two to four short sentences for the checklist.
    #[serde(borrow)]
    pub cautions: Vec<&'static str>,
    /// What holds besides where it is wiped or buffed, which a product may say that it is not.
    #[serde(borrow, default)]
    pub buffing: Vec<&'static str>,
    /// What holds besides where it is opened, poured and mixed, which a spray can is not.
    #[serde(borrow, default)]
    pub pouring: Vec<&'static str>,
    /// What holds besides where it is mixed with water, which a spray can is not, nor what is used neat.
    #[serde(borrow, default)]
    pub diluting: Vec<&'static str>,
    /// What holds besides where the study reads the film that it takes off.
    #[serde(borrow, default)]
    pub film: Vec<&'static str>,
    /// Source of this group of facts.
    pub source: Source,
}

/// What a class does on the panel.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
#[allow(clippy::struct_excessive_bools, reason = "five facts that any class mixes freely")]
pub struct Work {
    /// What it does where it washes, decontaminates or wipes; absent where the step says that of all.
    pub purpose: Option<&'static str>,
    /// What it is put on with in these steps and when that is changed; absent where the step says that of all.
    pub change: Option<&'static str>,
    /// When its mix is changed; absent where it is no matter.
    pub change_mix: Option<&'static str>,
    /// Usual shortest dwell, seconds.
    pub dwell_min_s: Option<f64>,
    /// Usual longest dwell, seconds.
    pub dwell_max_s: Option<f64>,
    /// A mix of it works no longer than this, seconds; absent where it keeps.
    pub mix_keeps_s: Option<f64>,
    /// The panel is cooler than this while it acts, degC; absent where that is no matter.
    pub surface_max_deg_c: Option<f64>,
    /// How its mix is written where it comes as a concentrate, or where its strength decides what it does, as
    /// `1 part to 10 water`; absent for all others.
    pub mixed_as: Option<&'static str>,
    /// A wash takes buckets of its mix; of what is stronger nobody makes more than the work asks for.
    #[serde(default)]
    pub for_buckets: bool,
    /// It must be taken off wet.
    pub must_not_dry_on: bool,
    /// A rinse with water must follow.
    pub rinse_required: bool,
    /// A step with it needs a stated dwell.
    pub needs_dwell: bool,
    /// It leaves oil, lubricant, wax or salt that a wipe must take off before apply.
    pub leaves_residue: bool,
    /// Source of this group of facts.
    pub source: Source,
}

/// Statements of what burns, by itself or as a mist (UN GHS, chapters 2.2, 2.3, 2.6 and 2.7).
const BURNS: [&str; 8] = ["H220", "H221", "H222", "H223", "H224", "H225", "H226", "H228"];

/// Whether a hazard statement says that what carries it burns: the one place where that is told.
pub fn burns(code: &str) -> bool {
    BURNS.contains(&code)
}

impl Class {
    /// What a part of it is called, where words of a study name the part and not the whole: both end with one word.
    pub fn part_called(&self, words: &str) -> Option<&'static str> {
        let last = |text: &str| text.split_whitespace().next_back().map(str::to_lowercase);
        (!self.part.is_empty() && last(self.part) == last(words)).then_some(self.part)
    }

    /// Whether the class belongs to a reactivity group.
    pub fn is_in(&self, group: &str) -> bool {
        self.nature.groups.contains(&group)
    }

    /// Whether its usual label says that it burns.
    pub fn burns(&self) -> bool {
        self.hazards.statements.iter().any(|code| burns(code))
    }

    /// Whether it is put on to stay: a product, or what is used as one.
    pub fn is_coat(&self) -> bool {
        matches!(self.family, Family::Product | Family::Both)
    }

    /// Whether first aid has a treatment of its own, as the gel against fluoride.
    pub fn has_own_treatment(&self) -> bool {
        self.is_in("fluoride")
    }

    /// Every name that a study may use for it, the spoken name first.
    pub fn names(&self) -> impl Iterator<Item = &'static str> + '_ {
        [self.name, self.id].into_iter().chain(self.aliases.iter().copied())
    }

    /// The sources of its groups of facts.
    pub fn sources(&self) -> impl Iterator<Item = Source> {
        let always = [self.nature.source, self.hazards.source, self.handling.source, self.work.source];
        always.into_iter().chain(self.fire.map(|fire| fire.source))
    }

    /// The label from this strength on, where it is graver than the usual one; percent, by volume or by mass alike.
    pub fn stronger(&self, percent: f64) -> Option<&Stronger> {
        self.hazards.stronger.iter().rev().find(|label| percent >= label.from_percent)
    }
}

/// The file of classes.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, bound(deserialize = "'de: 'static"))]
pub(super) struct ClassFile {
    #[serde(rename = "class")]
    pub(super) classes: Vec<Class>,
}
