//! The things that a study names: gauges, measures, supplies and products.

use super::{ApplyClimate, Coats, MeasureId, Packed, RoundId, SpecimensId};
use crate::catalog::{Catalog, Class, burns, gloss_of_index};
use crate::text::{Located, Span};
use crate::units::{AnyQuantity, Length, Money, Quantity, Range, Time, UnitRef, decimal};
use jiff::civil::Date;
use std::fmt;

pub use crate::catalog::{Direction, Reference};

/// The measure and the round that decide the study.
#[derive(Debug, Clone, PartialEq)]
pub struct Decision {
    /// The measure, bound.
    pub measure: Option<MeasureId>,
    /// The round, bound.
    pub round: Option<RoundId>,
    /// Place of the statement.
    pub span: Span,
}

/// How well a gauge repeats.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Agreement {
    /// Two readings agree within this at 95 %.
    TwoReadings(AnyQuantity),
    /// One standard deviation.
    Spread(AnyQuantity),
}

impl Agreement {
    /// How many spreads two readings of one spot differ by at most, 95 times of 100: 1.96 times the square
    /// root of 2 (ISO 5725-6, clause 4.1, which rounds it to 2.8).
    pub const TWO_READINGS: f64 = 2.8;

    /// One standard deviation of repeated readings, in the unit as written.
    pub fn spread(self) -> AnyQuantity {
        match self {
            Self::Spread(spread) => spread,
            Self::TwoReadings(limit) => {
                AnyQuantity { value: limit.value / Self::TWO_READINGS, unit: limit.unit }
            }
        }
    }

    /// The limit for two readings at 95 %, in the unit as written.
    pub fn limit(self) -> AnyQuantity {
        match self {
            Self::Spread(spread) => {
                AnyQuantity { value: spread.value * Self::TWO_READINGS, unit: spread.unit }
            }
            Self::TwoReadings(limit) => limit,
        }
    }
}

/// What a gauge covers of a panel.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Footprint {
    /// Round: its diameter.
    Across(Quantity<Length>),
    /// Width and height.
    Size(Quantity<Length>, Quantity<Length>),
}

impl Footprint {
    /// Width and height, mm.
    pub fn mm(self) -> (f64, f64) {
        match self {
            Self::Across(across) => (across.mm(), across.mm()),
            Self::Size(width, height) => (width.mm(), height.mm()),
        }
    }
}

impl fmt::Display for Footprint {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Across(across) => write!(f, "{across} across"),
            Self::Size(width, height) if width.any().unit == height.any().unit => {
                write!(f, "{} x {height}", decimal(width.any().value))
            }
            Self::Size(width, height) => write!(f, "{width} x {height}"),
        }
    }
}

/// A certificate, valid from its day to the same day some months later, that day excluded.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Certificate {
    /// Day of the certificate.
    pub from: Date,
    /// First day on which it is no longer valid.
    pub until: Date,
    /// The uncertainty that it states, at about 95 %: two standard uncertainties.
    pub within: Option<AnyQuantity>,
    /// Place of the statement.
    pub span: Span,
}

/// A gauge.
#[derive(Debug, Clone, PartialEq)]
pub struct Gauge {
    /// Its name.
    pub name: Located<String>,
    /// Its name for print, where it has another.
    pub label: Option<String>,
    /// What it reads.
    pub reads: Vec<Located<MeasureId>>,
    /// Measuring spot: what one reading sees.
    pub spot: Option<Located<Footprint>>,
    /// Foot of the housing, which must lie flat.
    pub foot: Option<Located<Footprint>>,
    /// How well it repeats.
    pub agreement: Option<Located<Agreement>>,
    /// What its tile is declared to be.
    pub tile: Option<Tile>,
    /// Certificates in order of the file.
    pub certificates: Vec<Certificate>,
    /// The reason why there is no certificate, where the study says so.
    pub never_certified: Option<String>,
    /// What a reading costs its place.
    pub cost: Option<Cost>,
    /// True where a line of it could not be read.
    pub broken: bool,
}

/// What a reference tile is declared to be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Tile {
    /// What a true gauge reads on it.
    Reads(AnyQuantity),
    /// The index of refraction of a gloss tile, from which its gloss follows at each angle.
    Index(f64),
}

impl Tile {
    /// What a true gauge reads on it, in the unit of a measure; `None` where that is not known for the measure.
    pub fn value_for(self, measure: &Measure) -> Option<f64> {
        match self {
            Self::Reads(value) => measure.unit.value_of(value),
            Self::Index(n) => {
                let known = Catalog::built_in().measure(&measure.name.value)?;
                let angle = known.angle_deg.filter(|_| measure.unit.symbol == known.unit)?;
                Some(gloss_of_index(n, angle))
            }
        }
    }
}

/// What a reading does to its place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Cost {
    /// Nothing can be read there again.
    Destroys,
    /// The spot is marked, so that the next reading is taken so far away.
    Marks(Quantity<Length>),
}

impl Gauge {
    /// The name for print.
    pub fn title(&self) -> &str {
        self.label.as_deref().unwrap_or(&self.name.value)
    }

    /// One standard deviation of its repeated readings in the unit of a measure; `None` where it was not
    /// declared, is not above 0, or is of another kind than the measure.
    pub fn spread_in(&self, unit: &MeasureUnit) -> Option<f64> {
        in_unit(self.agreement.as_ref()?.value.spread(), unit)
    }

    /// The limit for two of its readings at 95 % in the unit of a measure; `None` as for the spread.
    pub fn limit_in(&self, unit: &MeasureUnit) -> Option<f64> {
        in_unit(self.agreement.as_ref()?.value.limit(), unit)
    }
}

impl MeasureUnit {
    /// The unit behind a number, with the blank before it; nothing for a measure without one.
    pub fn behind(&self) -> String {
        if self.symbol.is_empty() { String::new() } else { format!(" {}", self.symbol) }
    }

    /// A value above 0 in this unit; `None` where it is of another kind.
    pub fn value_of(&self, quantity: AnyQuantity) -> Option<f64> {
        in_unit(quantity, self)
    }
}

/// A difference in the unit of a measure. A step of temperature has no zero point, so only the factor counts.
fn in_unit(difference: AnyQuantity, unit: &MeasureUnit) -> Option<f64> {
    let own = unit.known.filter(|own| own.dimension == difference.unit.dimension)?;
    let value = if own == difference.unit {
        difference.value
    } else {
        difference.value * difference.unit.factor / own.factor
    };
    (value.is_finite() && value > 0.0).then_some(value)
}

/// The unit of a measure: one of the table, or the user's own word.
#[derive(Debug, Clone, PartialEq)]
pub struct MeasureUnit {
    /// How it is written and printed.
    pub symbol: String,
    /// The unit of the table, if it is one.
    pub known: Option<UnitRef>,
}

/// When a section counts as spent.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SpentRule {
    /// True for `spent below`, false for `spent above`.
    pub below: bool,
    /// The limit itself is spent too, as in `spent at 3 or worse`.
    pub at_limit: bool,
    /// The limit.
    pub limit: Limit,
    /// Place of the statement.
    pub span: Span,
}

/// A limit in the measure's unit, or a share of the section's own reference.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Limit {
    /// In the measure's own unit.
    Value(f64),
    /// Percent of the section's mean at a round.
    PercentOf(f64, Reference),
}

/// How a measure comes by its values.
#[derive(Debug, Clone, PartialEq)]
pub enum MeasureKind {
    /// One number a reading.
    Read,
    /// A mark given by eye.
    Rating(Scale),
    /// Made of other measures of the same section and round.
    Made(Made),
    /// Read only as a part of the measure that is made of it; nothing is judged by it alone.
    Part(MeasureId),
}

/// A scale of marks.
#[derive(Debug, Clone, PartialEq)]
pub struct Scale {
    /// The first mark.
    pub from: f64,
    /// The last mark.
    pub to: f64,
    /// The words of the marks, in the order of the file.
    pub words: Vec<(f64, String)>,
    /// Halves are given too.
    pub half: bool,
    /// How many people rate; `None` where it was not said.
    pub raters: Option<u32>,
    /// Each rates without knowing the others' marks.
    pub each_alone: bool,
}

impl Scale {
    /// Whether a value is a mark of the scale.
    pub fn has(&self, mark: f64) -> bool {
        let step = if self.half { mark * 2.0 } else { mark };
        (self.from..=self.to).contains(&mark) && step.fract() == 0.0
    }
}

/// What a made measure is made of.
#[derive(Debug, Clone, PartialEq)]
pub struct Made {
    /// How.
    pub making: Making,
    /// The measures that are read, in the order that the making asks for.
    pub parts: Vec<MeasureId>,
    /// Taken against the bare sections or slips of the same round.
    pub against_blank: bool,
}

impl Made {
    /// Whether its number is a share of the blank, which stands below the line and is uncertain itself.
    pub fn is_share_of_blank(&self) -> bool {
        let share = matches!(
            self.making,
            Making::ShareStopped | Making::PercentGained | Making::Ratio | Making::PercentOf
        );
        share && self.against_blank
    }

    /// Whether its levels say what a coat does: they are held against nothing, or against the blank.
    pub fn is_effect(&self) -> bool {
        self.against_blank || self.making == Making::ShareStopped
    }

    /// Whether each round tests the coat anew, as uptake of water does, so that the coat itself changes it. A change from the fresh
    /// coat leaves out what the coat does.
    pub fn is_tested_anew(&self) -> bool {
        self.making != Making::ColourChange
    }
}

/// The ways in which a measure is made of others.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Making {
    /// 100 x (1 - second / first), in percent.
    ShareStopped,
    /// First less second.
    Difference,
    /// Second less first.
    Gain,
    /// 100 x (second / first - 1), in percent of the first.
    PercentGained,
    /// First over second.
    Ratio,
    /// 100 x first / second, in percent.
    PercentOf,
    /// CIEDE2000 from the section's own L*, a* and b* at its reference.
    ColourChange,
}

/// A measure.
#[derive(Debug, Clone, PartialEq)]
pub struct Measure {
    /// Its name.
    pub name: Located<String>,
    /// How it comes by its values.
    pub kind: MeasureKind,
    /// The specimens that it is read on; `None` for the panel.
    pub home: Option<SpecimensId>,
    /// The measure as the study names it, where this is that measure on some patches only.
    pub of: Option<MeasureId>,
    /// Its unit.
    pub unit: MeasureUnit,
    /// Which way is good.
    pub direction: Direction,
    /// Differences within this are alike, in the measure's unit.
    pub alike: Option<Located<f64>>,
    /// Differences from this on are seen by eye, in the measure's unit.
    pub seen: Option<Located<f64>>,
    /// When a section is spent.
    pub spent: Option<SpentRule>,
    /// The round from which a change counts.
    pub change_from: Reference,
    /// True where the study itself says from which.
    pub change_stated: bool,
    /// Comparisons are shown once more as if all sections had begun alike.
    pub adjust_for_baseline: bool,
    /// Lowest and highest value that can be, in the measure's unit.
    pub possible: Option<(f64, f64)>,
    /// True where a line of it could not be read.
    pub broken: bool,
}

/// How a thing is mixed.
#[derive(Debug, Clone, PartialEq)]
pub enum Mix {
    /// As it comes.
    Neat,
    /// Parts of the thing to parts of a liquid, as `1 part to 200 water`.
    Parts {
        /// Parts of the thing.
        of: f64,
        /// Parts of the liquid.
        to: f64,
        /// The liquid, usually `water`.
        liquid: String,
    },
    /// A percentage, of volume or mass as its unit says.
    Percent(AnyQuantity),
}

/// A kind as it was spoken, and the class of the catalog that it names.
#[derive(Debug, Clone)]
pub struct KindOf {
    /// The words after `a` or `an`.
    pub words: Located<String>,
    /// The class, if the catalog knows it.
    pub class: Option<&'static Class>,
}

impl PartialEq for KindOf {
    fn eq(&self, other: &Self) -> bool {
        self.words == other.words
    }
}

/// A data sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct Sheet {
    /// File or title.
    pub name: String,
    /// Its date.
    pub dated: Option<Date>,
}

/// The label that the data sheet of a product states; both lists empty where it states that there is none.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StatedLabel {
    /// Codes of hazard statements in capitals, as `H225`.
    pub hazards: Vec<String>,
    /// Codes of precautionary statements in capitals, as `P305+P351+P338`; empty where none was given.
    pub precautions: Vec<String>,
    /// Place of the statement.
    pub span: Span,
}

impl StatedLabel {
    /// Whether it says that the thing burns.
    pub fn burns(&self) -> bool {
        self.hazards.iter().any(|code| burns(code))
    }
}

/// A batch and the day it was opened.
#[derive(Debug, Clone, PartialEq)]
pub struct Opening {
    /// Batch number.
    pub batch: String,
    /// Day.
    pub opened: Option<Date>,
}

/// A supply of preparation or upkeep.
#[derive(Debug, Clone, PartialEq)]
pub struct Supply {
    /// Its name.
    pub name: Located<String>,
    /// What it is.
    pub kind: Option<KindOf>,
    /// What it protects or helps with, where it is no chemical: the entry of the catalog.
    pub gear: Option<&'static str>,
    /// How it is mixed unless a step says otherwise.
    pub mix: Option<Located<Mix>>,
    /// Allowed dwell.
    pub dwell: Option<Located<Range<Time>>>,
    /// Strength as bought.
    pub strength: Option<AnyQuantity>,
    /// How long a mix of it may be used once it is made; the pot life of a two-pack mix.
    pub keeps: Option<Located<Quantity<Time>>>,
    /// Price.
    pub price: Option<Price>,
    /// Amount on an area, of what is put on the surface.
    pub uses: Option<AnyQuantity>,
    /// Mass of a volume as bought.
    pub density: Option<AnyQuantity>,
    /// Data sheet.
    pub sheet: Option<Sheet>,
    /// Hazards of the data sheet, in place of those of the class.
    pub stated: Option<StatedLabel>,
    /// How it is packed, where the study says so.
    pub packed: Option<Packed>,
    /// Batch.
    pub batch: Option<Opening>,
    /// True where the file says that it leaves oils.
    pub leaves_oils: bool,
    /// True for a marker, which soils on purpose.
    pub marks: bool,
    /// The name for print.
    pub label: Option<String>,
    /// How a marker is laid on, in the user's words.
    pub amount: Option<String>,
    /// How long a marker is left on.
    pub leave: Option<Range<Time>>,
    /// First words of its lines whose values could not be taken; what they say is not known.
    pub unread: Vec<String>,
    /// True where a line of it could not be read.
    pub broken: bool,
}

impl Supply {
    /// The name for print.
    pub fn title(&self) -> &str {
        self.label.as_deref().unwrap_or(&self.name.value)
    }

    /// Whether the file has a line of this first word whose value could not be taken.
    pub fn is_unread(&self, word: &str) -> bool {
        self.unread.iter().any(|unread| unread == word)
    }
}

/// What was paid for how much.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Price {
    /// The money.
    pub money: Quantity<Money>,
    /// The amount, a volume or a mass.
    pub amount: AnyQuantity,
}

/// How a product came to the study.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Disclosure {
    /// Bought.
    Bought,
    /// Given by its maker.
    Given,
    /// The maker paid for the test.
    PaidFor,
}

/// A product under test.
#[derive(Debug, Clone, PartialEq)]
pub struct Product {
    /// Its name.
    pub name: Located<String>,
    /// The name for print.
    pub label: Option<String>,
    /// What it is.
    pub kind: Option<KindOf>,
    /// Price.
    pub price: Option<Price>,
    /// How it came to the study; `None` where that was not said.
    pub disclosure: Option<Disclosure>,
    /// Batch.
    pub batch: Option<Opening>,
    /// Amount on an area.
    pub uses: Option<AnyQuantity>,
    /// Mass of a volume as bought.
    pub density: Option<AnyQuantity>,
    /// Coats.
    pub coats: Option<Coats>,
    /// Time before it is levelled or buffed.
    pub flash: Option<Located<Range<Time>>>,
    /// True where the study says `flash none`: it is not wiped off.
    pub unwiped: bool,
    /// Time before it may get wet.
    pub dry: Option<Located<Quantity<Time>>>,
    /// Time before it is at its full strength.
    pub cure: Option<Located<Quantity<Time>>>,
    /// Mix.
    pub mix: Option<Located<Mix>>,
    /// How long a mix of it may be used once it is made; the pot life of a two-pack mix.
    pub keeps: Option<Located<Quantity<Time>>>,
    /// Data sheet.
    pub sheet: Option<Sheet>,
    /// Hazards of the data sheet, in place of those of the class.
    pub stated: Option<StatedLabel>,
    /// How it is packed, where the study says so.
    pub packed: Option<Packed>,
    /// How it is laid on, where the study says so.
    pub tool: Option<Tool>,
    /// The user's own category; ranking stays inside one.
    pub category: Option<String>,
    /// Air and surface while it goes on; what is not said here `apply` says of all.
    pub climate: ApplyClimate,
    /// First words of its lines whose values could not be taken; what they say is not known.
    pub unread: Vec<String>,
    /// True where a line of it could not be read.
    pub broken: bool,
}

/// How a product is laid on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Tool {
    /// Applicator, cloth, brush or gun, in the user's words.
    pub how: String,
    /// Why so, where others are laid on otherwise.
    pub because: Option<String>,
    /// Place of the statement.
    pub span: Span,
}

impl Product {
    /// Whether the file has a line of this first word whose value could not be taken.
    pub fn is_unread(&self, word: &str) -> bool {
        self.unread.iter().any(|unread| unread == word)
    }

    /// The name for print.
    pub fn title(&self) -> &str {
        self.label.as_deref().unwrap_or(&self.name.value)
    }
}
