//! Built-in reference data with a source on every entry: classes, pairs, statements, steps,
//! measures, surfaces, safety lines, exposure limits, cautions of the work.
//!
//! Each table is a TOML file, which the build script turns into JSON. It is read when it is first asked
//! for, so that a command pays only for what it uses. A broken table is empty instead of a panic, and [`Catalog::faults`] names it;
//! a test proves that there are none.

mod caution;
mod class;
mod exposure;
mod gear;
mod gloss;
mod ground;
mod isopropanol;
mod listing;
mod measure;
mod name;
mod packing;
mod pair;
mod precaution;
mod safety;
mod source;
mod statement;
mod step;
mod surface;
mod table;
mod words;

pub use caution::{Caution, Work as CautionWork};
pub use class::{
    Class, Family, Fire, Handling, Hazards, LOW_BOILER_FILTER, Nature, SheetSeverity, Signal, Stronger, Work,
    burns,
};
pub use exposure::Limit;
pub use gear::Gear;
pub use gloss::gloss_of_index;
pub use ground::{Cut, Ground};
pub use isopropanol::{
    Band, Borders, FlashPoint, FlashTable, Isopropanol, IsopropanolTable, MassRule, Share,
};
pub(crate) use listing::words_of;
pub use measure::{Direction, KnownParts, Making, Measure, Reference};
pub use name::same_name;
pub use packing::Packing;
pub use pair::{Danger, Group, Pair, Reach};
pub use precaution::on_label;
pub use safety::{Climate, Line, dew_point};
pub use source::{Source, Support};
pub use statement::{Hazard, Pictogram, Precaution};
pub use step::{Need, Order, Step};
pub use surface::{FilmGauge, Harm, Surface};
pub use table::Fault;
pub use words::Words;

use caution::CautionFile;
use class::ClassFile;
use exposure::ExposureFile;
use gear::GearFile;
use ground::GroundFile;
use measure::MeasureFile;
use name::is_called;
use packing::PackingFile;
use pair::PairFile;
use safety::SafetyFile;
use statement::StatementFile;
use step::StepFile;
use surface::SurfaceFile;
use table::Table;

/// A table as the build script left it.
macro_rules! table {
    ($name:literal) => {
        Table::new(concat!($name, ".toml"), include_str!(concat!(env!("OUT_DIR"), "/", $name, ".json")))
    };
}

static BUILT_IN: Catalog = Catalog {
    classes: table!("chemicals"),
    pairs: table!("pairs"),
    statements: table!("statements"),
    steps: table!("steps"),
    measures: table!("measures"),
    surfaces: table!("surfaces"),
    safety: table!("safety"),
    isopropanol: table!("isopropanol"),
    exposure: table!("exposure"),
    cautions: table!("cautions"),
    grounds: table!("grounds"),
    packings: table!("packings"),
    gear: table!("gear"),
};

/// The built-in reference data.
#[derive(Debug)]
pub struct Catalog {
    classes: Table<ClassFile>,
    pairs: Table<PairFile>,
    statements: Table<StatementFile>,
    steps: Table<StepFile>,
    measures: Table<MeasureFile>,
    surfaces: Table<SurfaceFile>,
    safety: Table<SafetyFile>,
    isopropanol: Table<IsopropanolTable>,
    exposure: Table<ExposureFile>,
    cautions: Table<CautionFile>,
    grounds: Table<GroundFile>,
    packings: Table<PackingFile>,
    gear: Table<GearFile>,
}

impl Catalog {
    /// The one catalog; nothing is read before it is asked for.
    pub fn built_in() -> &'static Self {
        &BUILT_IN
    }

    /// The tables that do not load; reads all of them. Empty in every released program.
    pub fn faults(&self) -> Vec<Fault> {
        [
            self.classes.fault(),
            self.pairs.fault(),
            self.statements.fault(),
            self.steps.fault(),
            self.measures.fault(),
            self.surfaces.fault(),
            self.safety.fault(),
            self.isopropanol.fault(),
            self.exposure.fault(),
            self.cautions.fault(),
            self.grounds.fault(),
            self.packings.fault(),
            self.gear.fault(),
        ]
        .into_iter()
        .flatten()
        .collect()
    }
}

/// Chemicals.
impl Catalog {
    /// Every chemical class, in the order of the file.
    pub fn classes(&self) -> &[Class] {
        self.classes.get().map_or(&[], |file| &file.classes)
    }

    /// The class of that id, spoken name or alias; capitals, blanks and hyphens do not count.
    pub fn class(&self, name: &str) -> Option<&Class> {
        self.classes().iter().find(|class| class.names().any(|known| same_name(name, known)))
    }

    /// Every spoken name and alias, for suggestions.
    pub fn class_names(&self) -> impl Iterator<Item = &'static str> + '_ {
        self.classes().iter().flat_map(Class::names)
    }

    /// Every reactivity group.
    pub fn groups(&self) -> &[Group] {
        self.pairs.get().map_or(&[], |file| &file.groups)
    }

    /// Every pair of groups that must not meet.
    pub fn pairs(&self) -> &[Pair] {
        self.pairs.get().map_or(&[], |file| &file.pairs)
    }

    /// The pair of two groups, whichever comes first.
    pub fn pair(&self, one: &str, other: &str) -> Option<&Pair> {
        let joins = |pair: &&Pair| (pair.a, pair.b) == (one, other) || (pair.b, pair.a) == (one, other);
        self.pairs().iter().find(joins)
    }

    /// The worst that happens where two classes meet, in a vessel or elsewhere; the same whichever
    /// comes first.
    pub fn meet(&self, one: &Class, other: &Class) -> Option<&Pair> {
        self.meet_in(Reach::Vessel, one, other)
    }

    /// The worst that happens where two classes meet at a place.
    ///
    /// [`Reach::Vessel`] asks for one container and sees every pair; [`Reach::Any`] asks for a
    /// section, a tool or a drain and leaves out the pairs that count in a container only.
    pub fn meet_in(&self, place: Reach, one: &Class, other: &Class) -> Option<&Pair> {
        pair::worst(self.pairs(), place, one, other)
    }

    /// Everything that happens where two classes meet, in the order of the file.
    pub fn meetings(&self, one: &Class, other: &Class) -> Vec<&Pair> {
        pair::meetings(self.pairs(), one, other).collect()
    }

    /// What isopropanol in water asks for at a strength in percent by volume.
    pub fn isopropanol_at(&self, percent_by_volume: f64) -> Option<Isopropanol> {
        self.isopropanol()?.at(percent_by_volume)
    }

    /// The table behind [`Catalog::isopropanol_at`].
    pub fn isopropanol(&self) -> Option<&IsopropanolTable> {
        self.isopropanol.get()
    }
}

/// Labels and papers.
impl Catalog {
    /// Every hazard statement that a class names or a data sheet may.
    pub fn hazards(&self) -> &[Hazard] {
        self.statements.get().map_or(&[], |file| &file.hazards)
    }

    /// The hazard statement of a code, `H225` or `EUH031`. Letters that narrow a code down, as in `H360FD`, are
    /// passed over where the code with them is not known.
    pub fn hazard(&self, code: &str) -> Option<&Hazard> {
        let find = |code: &str| self.hazards().iter().find(|hazard| hazard.code == code);
        find(code).or_else(|| find(code.trim_end_matches(|c: char| c.is_ascii_alphabetic())))
    }

    /// Every precautionary statement that a class names.
    pub fn precautions(&self) -> &[Precaution] {
        self.statements.get().map_or(&[], |file| &file.precautions)
    }

    /// The precautionary statement of a code, `P210` or `P305+P351+P338`.
    pub fn precaution(&self, code: &str) -> Option<&Precaution> {
        self.precautions().iter().find(|precaution| precaution.code == code)
    }

    /// The words of a precaution that a bottle or a data sheet names, in the parts that are known: one for most codes, several
    /// for a combination of older statements; none where a part is not known.
    pub fn words_of_precaution(&self, code: &str) -> Vec<&'static str> {
        let former = || self.statements.get().map_or(&[][..], |file| &file.former);
        let known = |code: &str| {
            let own = self.precaution(code).or_else(|| former().iter().find(|own| own.code == code));
            own.map(Precaution::printed)
        };
        let parts: Vec<&str> = code.split('+').collect();
        let (mut words, mut at) = (Vec::new(), 0);
        while at < parts.len() {
            // The longest run of parts that is a statement of its own.
            let run =
                (at + 1..=parts.len()).rev().find_map(|to| Some((to, known(&parts[at..to].join("+"))?)));
            let Some((to, text)) = run else { return Vec::new() };
            words.push(text);
            at = to;
        }
        words
    }

    /// The precautions that hazard statements call for, in order of their codes; `specific` says that first aid has a treatment
    /// of its own.
    pub fn precautions_of(&self, statements: &[&str], specific: bool) -> Vec<&'static str> {
        precaution::of(statements.iter().filter_map(|code| self.hazard(code)), specific)
    }

    /// The precautions of the usual label of a class.
    pub fn precautions_of_class(&self, class: &Class) -> Vec<&'static str> {
        self.precautions_of(&class.hazards.statements, class.has_own_treatment())
    }

    /// Every pictogram.
    pub fn pictograms(&self) -> &[Pictogram] {
        self.statements.get().map_or(&[], |file| &file.pictograms)
    }

    /// The pictogram of a code, `GHS02`.
    pub fn pictogram(&self, code: &str) -> Option<&Pictogram> {
        self.pictograms().iter().find(|pictogram| pictogram.code == code)
    }

    /// Every pack that has a label of its own.
    pub fn packings(&self) -> &[Packing] {
        self.packings.get().map_or(&[], |file| &file.packings)
    }

    /// The pack of a spray can.
    pub fn aerosol(&self) -> Option<&Packing> {
        self.packings().iter().find(|packing| packing.id == "aerosol")
    }

    /// Everything that protects or helps whoever does the work.
    pub fn gear(&self) -> &[Gear] {
        self.gear.get().map_or(&[], |file| &file.gear)
    }

    /// The gear that the name and the kind of a supply tell of; none where they tell of a liquid or a powder.
    pub fn gear_named(&self, text: &str) -> Option<&Gear> {
        self.gear.get()?.named(text)
    }

    /// Every exposure limit.
    pub fn limits(&self) -> &[Limit] {
        self.exposure.get().map_or(&[], |file| &file.limits)
    }

    /// The exposure limits of what a class gives off, in the order that it names.
    pub fn limits_of(&self, class: &Class) -> Vec<&Limit> {
        let named = class.handling.limits.iter();
        named.filter_map(|id| self.limits().iter().find(|limit| limit.id == *id)).collect()
    }

    /// Every caution of the work.
    pub fn cautions(&self) -> &[Caution] {
        self.cautions.get().map_or(&[], |file| &file.cautions)
    }

    /// Whether whoever works with a tool of these words makes a mist.
    pub fn makes_mist(&self, tool: &str) -> bool {
        self.speaks_of("mist", tool)
    }

    /// Whether a text speaks of what the caution of that id is about.
    pub fn speaks_of(&self, id: &str, text: &str) -> bool {
        self.cautions().iter().any(|caution| caution.id == id && caution.speaks_of(text))
    }

    /// The climate rule at application.
    pub fn climate(&self) -> Option<&Climate> {
        self.safety.get().map(|file| &file.climate)
    }

    /// Every line for the papers.
    pub fn lines(&self) -> &[Line] {
        self.safety.get().map_or(&[], |file| &file.lines)
    }

    /// The line of an id, `poison-centre` or `oily-rags`.
    pub fn line(&self, id: &str) -> Option<&Line> {
        self.lines().iter().find(|line| line.id == id)
    }

    /// The line that a hazard statement calls for, `H350`; letters that narrow the code down are passed over.
    pub fn line_of_statement(&self, code: &str) -> Option<&Line> {
        let plain = code.trim_end_matches(|c: char| c.is_ascii_alphabetic());
        self.lines().iter().find(|line| line.when == plain)
    }

    /// The lines that a class calls for, in the order of the file.
    pub fn lines_for(&self, class: &Class) -> Vec<&Line> {
        // What burns by its statements alone, as a spray with alcohol, has cloths that burn as well.
        let is_in = |group: &str| class.is_in(group) || (group == "flammable" && class.burns());
        let called = |line: &&Line| is_in(line.when) && !line.unless.iter().any(|more| class.is_in(more));
        self.lines().iter().filter(called).collect()
    }
}

/// Work and readings.
impl Catalog {
    /// Every kind of step.
    pub fn steps(&self) -> &[Step] {
        self.steps.get().map_or(&[], |file| &file.steps)
    }

    /// The step of that verb or alias.
    pub fn step(&self, name: &str) -> Option<&Step> {
        self.steps().iter().find(|step| is_called(name, step.id, &step.aliases))
    }

    /// Every rule of order.
    pub fn orders(&self) -> &[Order] {
        self.steps.get().map_or(&[], |file| &file.orders)
    }

    /// Why `first` must come before `then`, where there is such a rule.
    pub fn order(&self, first: &str, then: &str) -> Option<&Order> {
        self.orders().iter().find(|order| (order.first, order.then) == (first, then))
    }

    /// Every measure.
    pub fn measures(&self) -> &[Measure] {
        self.measures.get().map_or(&[], |file| &file.measures)
    }

    /// The measure of that name or alias.
    pub fn measure(&self, name: &str) -> Option<&Measure> {
        self.measures().iter().find(|measure| is_called(name, measure.id, &measure.aliases))
    }

    /// Every ground, in the order in which they are looked for.
    pub fn grounds(&self) -> &[Ground] {
        self.grounds.get().map_or(&[], |file| &file.grounds)
    }

    /// What the work touches of a free description such as `clearcoat on steel, white`.
    pub fn ground(&self, description: &str) -> Option<&Ground> {
        self.grounds.get()?.touched(description)
    }

    /// The mask against dust of a ground that is not known.
    pub fn unknown_dust_mask(&self) -> Option<&'static str> {
        self.grounds.get().map(|file| file.unknown_dust_mask)
    }

    /// What one time of a step usually takes off a film; `None` where the step takes nothing that is known.
    pub fn cut(&self, verb: &str, class: Option<&Class>, grit: Option<u32>) -> Option<&Cut> {
        let cuts = self.grounds.get().map_or(&[][..], |file| &file.cuts);
        let of_class = |cut: &&Cut| cut.class.is_some() && cut.class == class.map(|class| class.id);
        let of_grit = |cut: &&Cut| cut.grit.zip(grit).is_some_and(|(from, grit)| grit >= from);
        cuts.iter().filter(|cut| cut.verb == verb).find(|cut| of_class(cut) || of_grit(cut))
    }

    /// Every material.
    pub fn surfaces(&self) -> &[Surface] {
        self.surfaces.get().map_or(&[], |file| &file.surfaces)
    }

    /// The material of that name or alias.
    pub fn surface(&self, name: &str) -> Option<&Surface> {
        surface::find(self.surfaces(), name)
    }

    /// The material in a free description such as `clearcoat on steel, white`.
    pub fn surface_in(&self, description: &str) -> Option<&Surface> {
        let of_ground = || self.surface(self.ground(description)?.surface?);
        surface::in_description(self.surfaces(), description).or_else(of_ground)
    }
}
