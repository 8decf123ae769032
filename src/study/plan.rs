//! What is planned and what was done: steps, rounds, upkeep, exposure, records and waivers.

use super::{MeasureId, Mix, RoundId, SectionId, SiteId, SpecimensId, Study, SupplyId, later};
use crate::speech::say;
use crate::text::{Located, Span};
use crate::units::{AnyQuantity, Humidity, Length, Quantity, Range, Temperature, TemperatureStep, Time};
use jiff::civil::{Date, DateTime, Time as ClockTime};

/// The verbs of preparation.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Verb {
    /// Wash.
    Wash,
    /// Rinse.
    Rinse,
    /// Dissolve what a wash leaves: iron, tar, scale.
    Decontaminate,
    /// Dry.
    Dry,
    /// Clay.
    Clay,
    /// Compound.
    Compound,
    /// Polish.
    Polish,
    /// Wipe with a solvent.
    Wipe,
    /// Tape the sections.
    Tape,
    /// Label the sections.
    Label,
    /// Sand with an abrasive of a grit.
    Sand,
    /// Take dust off, dry.
    Dust,
    /// Brush, dry.
    Brush,
    /// Close what would draw or let through, as end grain.
    Seal,
    /// Read a measure.
    Read,
    /// Wait.
    Wait,
    /// Soil with a marker, on purpose.
    Mark,
    /// Take a mark off.
    Clean,
}

impl Verb {
    /// Every verb, in the order of a usual day.
    pub const ALL: [Self; 18] = [
        Self::Wash,
        Self::Rinse,
        Self::Decontaminate,
        Self::Dry,
        Self::Clay,
        Self::Compound,
        Self::Polish,
        Self::Wipe,
        Self::Tape,
        Self::Label,
        Self::Sand,
        Self::Dust,
        Self::Brush,
        Self::Seal,
        Self::Read,
        Self::Wait,
        Self::Mark,
        Self::Clean,
    ];

    /// The word in a study and in the catalog of steps.
    pub fn word(self) -> &'static str {
        match self {
            Self::Wash => "wash",
            Self::Rinse => "rinse",
            Self::Decontaminate => "decontaminate",
            Self::Dry => "dry",
            Self::Clay => "clay",
            Self::Compound => "compound",
            Self::Polish => "polish",
            Self::Wipe => "wipe",
            Self::Tape => "tape",
            Self::Label => "label",
            Self::Sand => "sand",
            Self::Dust => "dust",
            Self::Brush => "brush",
            Self::Seal => "seal",
            Self::Read => "read",
            Self::Wait => "wait",
            Self::Mark => "mark",
            Self::Clean => "clean",
        }
    }

    /// The verb as a heading has it, in the language that is spoken.
    pub fn heading(self) -> &'static str {
        match self {
            Self::Wash => say!("Wash"),
            Self::Rinse => say!("Rinse"),
            Self::Decontaminate => say!("Decontaminate"),
            Self::Dry => say!("Dry"),
            Self::Clay => say!("Clay"),
            Self::Compound => say!("Compound"),
            Self::Polish => say!("Polish"),
            Self::Wipe => say!("Wipe"),
            Self::Tape => say!("Tape"),
            Self::Label => say!("Label"),
            Self::Sand => say!("Sand"),
            Self::Dust => say!("Dust"),
            Self::Brush => say!("Brush"),
            Self::Seal => say!("Seal"),
            Self::Read => say!("Read"),
            Self::Wait => say!("Wait"),
            Self::Mark => say!("Mark"),
            Self::Clean => say!("Clean"),
        }
    }

    /// The verb of a word.
    pub fn of(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|verb| verb.word() == word)
    }
}

/// One step of preparation, upkeep or before a round.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// What is done.
    pub verb: Verb,
    /// With which supply.
    pub with: Option<Located<SupplyId>>,
    /// The measure that a `read` step reads.
    pub measure: Option<Located<MeasureId>>,
    /// The mix said in the step.
    pub mix: Option<Located<Mix>>,
    /// `for 5 min`: how long it acts.
    pub dwell: Option<Located<Range<Time>>>,
    /// `rinse` at the end of the step.
    pub rinse: bool,
    /// Tool.
    pub tool: Option<String>,
    /// `grit 120`: that of the abrasive.
    pub grit: Option<Located<u32>>,
    /// How often, 1 unless said.
    pub times: u32,
    /// `fresh cloth`.
    pub fresh_cloth: bool,
    /// `wait 5 min` at the end of the step, or the time of a `wait` or `dry` step.
    pub wait: Option<Quantity<Time>>,
    /// `at 9 places`.
    pub places: Option<u32>,
    /// `lines 6 mm wide`.
    pub line_width: Option<Located<Quantity<Length>>>,
    /// `only on A1 and A2`: the sections that it is done on, where it says so.
    pub only: Option<Only>,
    /// Place of the step.
    pub span: Span,
    /// Markdown prose below the step.
    pub prose: String,
    /// True where a value of it could not be taken or a name not be bound; a finding says so.
    pub broken: bool,
}

/// The sections that a step is done on.
#[derive(Debug, Clone, PartialEq)]
pub struct Only {
    /// Each once, in the order of the map.
    pub sections: Vec<SectionId>,
    /// Why, in the user's words.
    pub because: Option<String>,
    /// Place of the clause.
    pub span: Span,
}

/// The climate demanded on the day of application.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct ApplyClimate {
    /// Air temperature.
    pub air: Option<Range<Temperature>>,
    /// Relative humidity.
    pub humidity: Option<Range<Humidity>>,
    /// Least distance of the surface from the dew point.
    pub above_dew_point: Option<Quantity<TemperatureStep>>,
    /// The surface stays below this.
    pub surface_below: Option<Quantity<Temperature>>,
}

impl ApplyClimate {
    /// These demands, and where there is none that of others.
    #[must_use]
    pub fn or(&self, others: &Self) -> Self {
        Self {
            air: self.air.or(others.air),
            humidity: self.humidity.or(others.humidity),
            above_dew_point: self.above_dew_point.or(others.above_dew_point),
            surface_below: self.surface_below.or(others.surface_below),
        }
    }
}

/// The application.
#[derive(Debug, Clone, PartialEq)]
pub struct Apply {
    /// Its day.
    pub on: Option<Located<Date>>,
    /// Its hour.
    pub from: Option<ClockTime>,
    /// Its climate.
    pub climate: ApplyClimate,
    /// When the tape of the sections comes off.
    pub tape_off: Option<TapeOff>,
    /// How fast one pair of hands is.
    pub pace: Pace,
    /// By whom.
    pub by: Option<String>,
    /// Place of the head.
    pub span: Span,
    /// True where a line of it, or a value of it, could not be taken.
    pub broken: bool,
    /// False where the study has no such block and its day is that on which the study begins.
    pub stated: bool,
}

/// How long one pair of hands takes, where the study says so.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Pace {
    /// To lay a coat on one section.
    pub lay_on: Option<Quantity<Time>>,
    /// To wipe it off one section.
    pub wipe_off: Option<Quantity<Time>>,
    /// To pull the tape of one section.
    pub pull_tape: Option<Quantity<Time>>,
    /// To change from one product to another.
    pub change: Option<Quantity<Time>>,
    /// To do to one section what is done between its coats.
    pub between: Option<Quantity<Time>>,
}

/// When the tape of the sections comes off.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TapeOff {
    /// So long after the coat.
    pub after: Range<Time>,
    /// True for the first coat, false for the last one.
    pub first_coat: bool,
    /// Place of the statement.
    pub span: Span,
}

/// What a round counts its time from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Anchor {
    /// The last coat, which is what `after apply` means.
    LastCoat,
    /// The first coat.
    FirstCoat,
    /// The day on which the panel was put out.
    PutOut,
    /// A step of preparation, by its place in the list of steps.
    Step(usize),
    /// Before the first coat.
    BeforeApply,
}

/// How a round got its date.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Placing {
    /// On a day that the file gives.
    On,
    /// Some time after an anchor.
    After(AnyQuantity, Anchor),
    /// Directly after or before an anchor.
    At(Anchor),
    /// In a cycle, by its number from 1: it has no day of its own.
    Cycle(u32),
    /// It could not be placed; a finding says so, or its base is not yet known.
    Unplaced,
}

/// The days on which a round may be read, both included.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Window {
    /// The planned day.
    pub date: Date,
    /// First day.
    pub first: Date,
    /// Last day.
    pub last: Date,
}

/// A measure that a round reads, and how many readings a section gets.
#[derive(Debug, Clone, PartialEq)]
pub struct ReadPlan {
    /// The measure.
    pub measure: Located<MeasureId>,
    /// Readings on each section.
    pub times: u32,
}

/// A round of readings.
#[derive(Debug, Clone, PartialEq)]
pub struct Round {
    /// Its name in one spelling: `baseline`, `fresh`, `month 6`.
    pub name: Located<String>,
    /// How it was placed.
    pub placing: Placing,
    /// Its window; `None` where it is unplaced.
    pub window: Option<Window>,
    /// That at each site, where they are put out on different days and the round counts from there; else empty.
    pub at_sites: Vec<(SiteId, Window)>,
    /// `within 1 week`, as written.
    pub within: Option<Quantity<Time>>,
    /// What it reads.
    pub reads: Vec<ReadPlan>,
    /// Place of the statement.
    pub span: Span,
}

impl Round {
    /// The planned day.
    pub fn date(&self) -> Option<Date> {
        self.window.map(|window| window.date)
    }

    /// Its window at a site.
    pub fn window_at(&self, site: Option<SiteId>) -> Option<Window> {
        let own = self.at_sites.iter().find(|(at, _)| Some(*at) == site);
        own.map(|(_, window)| *window).or(self.window)
    }

    /// Whether the steps before each round come before it: a round directly after a step of the preparation is read on a surface
    /// that was just prepared, and a cycle has steps of its own.
    pub fn is_cared_for(&self) -> bool {
        !matches!(self.placing, Placing::At(Anchor::Step(_)) | Placing::Cycle(_))
    }
}

/// Upkeep.
#[derive(Debug, Clone, PartialEq)]
pub enum Upkeep {
    /// A step at regular times.
    Every {
        /// How often.
        every: Quantity<Time>,
        /// What.
        step: Box<Step>,
        /// First time: so long after apply.
        from: Option<Quantity<Time>>,
        /// Place of the statement.
        span: Span,
    },
    /// None, on purpose, and why.
    None(String),
}

/// Where the panel stands.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Exposure {
    /// The site that it is of, where the study has several.
    pub of: Option<SiteId>,
    /// The site for print.
    pub site: String,
    /// Compass direction, in the user's word.
    pub faces: Option<String>,
    /// Tilt from level, degrees.
    pub tilt_deg: Option<f64>,
    /// Day it was put out.
    pub put_out: Option<Located<Date>>,
    /// Day it was brought in.
    pub brought_in: Option<Located<Date>>,
    /// Place of the head.
    pub span: Span,
    /// Markdown prose.
    pub prose: String,
    /// True where a line of it, or a value of it, could not be taken.
    pub broken: bool,
}

/// The tilt from which on water runs off, as common practice has it; no source.
const RUNS_FROM_DEG: f64 = 5.0;

impl Exposure {
    /// Whether it lies so flat that water stands on it; false where no tilt is stated.
    pub fn lies_flat(&self) -> bool {
        self.tilt_deg.is_some_and(|deg| deg < RUNS_FROM_DEG)
    }
}

impl super::Study {
    /// Whether the panel lies flat at every site: then nothing on it is up.
    pub fn lies_flat(&self) -> bool {
        !self.exposures.is_empty() && self.exposures.iter().all(Exposure::lies_flat)
    }
}

/// A reading that the file leaves out, with its reason.
#[derive(Debug, Clone, PartialEq)]
pub struct LeaveOut {
    /// The measure.
    pub measure: MeasureId,
    /// The section.
    pub section: SectionId,
    /// The round.
    pub round: RoundId,
    /// Number of the reading from 1, if it was given.
    pub reading: Option<u32>,
    /// Its value in the measure's unit, if it was given.
    pub value: Option<f64>,
    /// Why.
    pub because: String,
    /// Place of the statement.
    pub span: Span,
}

/// A file of readings.
#[derive(Debug, Clone, PartialEq)]
pub struct ReadingsFile {
    /// Its name as written, relative to the study.
    pub name: Located<String>,
    /// The specimens that the file belongs to; `None` for the panel or for both.
    pub home: Option<SpecimensId>,
    /// The site that its sections stand at, so that they need not be named with it.
    pub site: Option<SiteId>,
    /// Columns that the file calls otherwise: its heading, then the word that the tool knows.
    pub columns: Vec<(Located<String>, String)>,
    /// Readings left out.
    pub leave_out: Vec<LeaveOut>,
    /// True where a line of it could not be taken, so that a reading may be left out that is not listed.
    pub broken: bool,
}

/// What an incident reached.
#[derive(Debug, Clone, PartialEq)]
pub enum Reach {
    /// The whole panel.
    All,
    /// Some sections.
    Sections(Vec<SectionId>),
}

impl Reach {
    /// Whether a section was reached.
    pub fn includes(&self, section: SectionId) -> bool {
        match self {
            Self::All => true,
            Self::Sections(sections) => sections.contains(&section),
        }
    }
}

/// An incident.
#[derive(Debug, Clone, PartialEq)]
pub struct LogEntry {
    /// Day.
    pub date: Located<Date>,
    /// What it reached.
    pub reach: Reach,
    /// What happened.
    pub text: String,
    /// True where the sections are not read any more.
    pub ends: bool,
    /// Place of the statement.
    pub span: Span,
}

/// A waiver: this finding, at this place, for this reason.
#[derive(Debug, Clone, PartialEq)]
pub struct Waiver {
    /// Code of the finding.
    pub code: Located<String>,
    /// Its places: names of products, sections, rounds, or `map`, `prep`, `rounds`, `study`.
    pub places: Vec<Located<String>>,
    /// Why.
    pub because: Option<String>,
    /// Place of the statement.
    pub span: Span,
}

impl Study {
    /// The days on which upkeep is due by the plan, from its first time to the last round; none where the days of that are
    /// not known.
    pub fn upkeep_days(&self, upkeep: &Upkeep) -> Vec<Date> {
        let Upkeep::Every { every, .. } = upkeep else { return Vec::new() };
        let last = self.last_round().and_then(|id| self.round(id).date());
        let Some((begins, last)) = self.upkeep_begins(upkeep).zip(last) else { return Vec::new() };
        if every.seconds() < HOUR_S {
            return Vec::new();
        }
        let days = std::iter::successors(Some(begins), |at| later(*at, *every)).map(DateTime::date);
        days.take_while(|day| *day <= last).take(MOST_UPKEEP).collect()
    }

    /// When upkeep is due for the first time, counted from the last coat of all.
    pub fn upkeep_begins(&self, upkeep: &Upkeep) -> Option<DateTime> {
        let Upkeep::Every { every, from, .. } = upkeep else { return None };
        later(self.last_of_all_coats()?, from.unwrap_or(*every))
    }
}

/// Nothing is kept up more often than this.
const HOUR_S: f64 = 3600.0;

/// Daily work for a quarter of a century; more is a slip.
const MOST_UPKEEP: usize = 10_000;
