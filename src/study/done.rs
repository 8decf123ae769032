//! What was done: records of steps and coats, and the files that hold them.

use super::{ClimateColumn, ProductId, RoundId, SectionId, SpecimensId, Step, Study, Treatment, Verb};
use crate::catalog::dew_point;
use crate::diag::Place;
use crate::speech::{plural, say};
use crate::text::{FileId, Located};
use crate::units::{AnyQuantity, Humidity, Quantity, Temperature};
use jiff::SignedDuration;
use jiff::civil::{Date, DateTime, Time as ClockTime};

/// What a record says was done.
#[derive(Debug, Clone, PartialEq)]
pub enum DoneWhat {
    /// A coat of a product, by its number from 1.
    Coat(u32, Located<ProductId>),
    /// A step of preparation, by its verb.
    Prep(Verb),
}

/// A record of something done.
#[derive(Debug, Clone, PartialEq)]
pub struct Done {
    /// Day.
    pub date: Located<Date>,
    /// Hour at which it began.
    pub time: Option<ClockTime>,
    /// Hour at which it ended.
    pub until: Option<ClockTime>,
    /// What.
    pub what: DoneWhat,
    /// The step of the preparation, by its place in the list of steps, where the record says which.
    pub step: Option<usize>,
    /// The round before which it was done; `None` for preparation and coats.
    pub ahead: Option<RoundId>,
    /// The loose specimens whose preparation the step is of; `None` for the panel, and for coats.
    pub set: Option<SpecimensId>,
    /// True where it was upkeep between rounds, no step of the preparation.
    pub upkeep: bool,
    /// The sections, where it was done on some only.
    pub sections: Vec<SectionId>,
    /// Amount used.
    pub used: Option<AnyQuantity>,
    /// Air temperature.
    pub at: Option<Quantity<Temperature>>,
    /// Humidity.
    pub humidity: Option<Quantity<Humidity>>,
    /// Temperature of the surface.
    pub surface: Option<Quantity<Temperature>>,
    /// By whom.
    pub by: Option<String>,
    /// Remark.
    pub because: Option<String>,
    /// Place of the statement, or of the row of a record file.
    pub place: Place,
}

impl Done {
    /// Whether it was done on a section, as far as the record says where.
    pub fn is_on(&self, section: SectionId) -> bool {
        self.sections.is_empty() || self.sections.contains(&section)
    }

    /// Whether it belongs to the preparation of the panel or to the application: neither to the preparation of specimens, nor
    /// before a round, nor upkeep between them.
    pub fn is_of_work(&self) -> bool {
        self.set.is_none() && !self.is_care()
    }

    /// Whether it was done before a round, or as upkeep between them.
    pub fn is_care(&self) -> bool {
        self.ahead.is_some() || self.upkeep
    }

    /// Whether both were done on a section that they share, as far as the records say where.
    pub fn meets(&self, other: &Self) -> bool {
        other.sections.is_empty()
            || self.sections.is_empty()
            || other.sections.iter().any(|&one| self.is_on(one))
    }

    /// The earliest moment at which it may have begun: midnight where its hour is not recorded.
    pub fn earliest(&self) -> DateTime {
        self.date.value.to_datetime(self.time.unwrap_or(ClockTime::MIN))
    }

    /// The latest moment at which it may have begun: the end of the day where its hour is not recorded.
    pub fn latest(&self) -> DateTime {
        self.date.value.to_datetime(self.time.or(self.until).unwrap_or(ClockTime::MAX))
    }

    /// When it began, for a message.
    pub fn moment(&self) -> String {
        let day = self.date.value;
        let hour = |time: ClockTime| format!("{day} {:02}:{:02}", time.hour(), time.minute());
        self.time.map_or_else(|| day.to_string(), hour)
    }

    /// How long it took; `None` unless both its hours are recorded, the first one first.
    pub fn lasted(&self) -> Option<SignedDuration> {
        let lasted = self.time?.duration_until(self.until?);
        (!lasted.is_negative()).then_some(lasted)
    }

    /// Where its day stands.
    pub fn date_place(&self) -> Place {
        Place { span: self.date.span, ..self.place }
    }

    /// How far the surface lay above the dew point of the air, degC of difference; `None` unless air, humidity and
    /// surface were all recorded.
    pub fn above_dew_point_deg_c(&self) -> Option<f64> {
        let dew = dew_point(self.at?.deg_c(), self.humidity?.any().base())?;
        Some(self.surface?.deg_c() - dew)
    }
}

/// What a column of a record file holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RecordColumn {
    /// The number of the step on the checklist.
    Step,
    /// What was done.
    What,
    /// The sections.
    Section,
    /// The round that it was done before.
    Round,
    /// The day.
    Date,
    /// When it began.
    Time,
    /// When it ended.
    Until,
    /// How much was used.
    Used,
    /// Temperature of the air.
    Air,
    /// Humidity of the air.
    Humidity,
    /// Temperature of the surface.
    Surface,
    /// By whom.
    By,
    /// Remark.
    Note,
}

impl RecordColumn {
    /// Every column, in the order of the printed record.
    pub const ALL: [Self; 13] = [
        Self::Step,
        Self::What,
        Self::Section,
        Self::Round,
        Self::Date,
        Self::Time,
        Self::Until,
        Self::Used,
        Self::Air,
        Self::Humidity,
        Self::Surface,
        Self::By,
        Self::Note,
    ];

    /// Its heading in the language that is spoken, without a unit.
    pub fn heading(self) -> String {
        match self {
            Self::Step => return plural(1, "step"),
            Self::Section => return plural(1, "section"),
            Self::What => say!("what"),
            Self::Round => say!("before round"),
            Self::Date => say!("date"),
            Self::Time => say!("time"),
            Self::Until => say!("taken off at"),
            Self::Used => say!("used"),
            Self::Air => say!("air"),
            Self::Humidity => say!("humidity"),
            Self::Surface => say!("surface"),
            Self::By => say!("initials"),
            Self::Note => say!("note"),
        }
        .to_owned()
    }
}

/// A file with a row for each thing that was done.
#[derive(Debug, Clone, PartialEq)]
pub struct RecordFile {
    /// Its name as written, relative to the study.
    pub name: Located<String>,
    /// Columns that the file calls otherwise.
    pub columns: Vec<ClimateColumn>,
    /// Its place among the inputs; `None` where it is not there.
    pub file: Option<FileId>,
    /// True where a row could not be taken, so that something was done that is in no list.
    pub broken: bool,
}

impl Study {
    /// A coat as a record has it, in the language that is spoken.
    pub fn coat_words(number: u32, product: &str) -> String {
        say!("coat {number} of {product}", number, product)
    }

    /// A step with what it is done with as the checklist has it, in the language that is spoken.
    pub fn step_words(verb: Verb, supply: &str) -> String {
        say!("{verb} with {supply}", verb = verb.heading(), supply)
    }

    /// The records of each step of the preparation: those that name the step, then those of its verb, each at the first
    /// such step that has none yet on its sections.
    pub fn recorded_steps(&self) -> Vec<Vec<&Done>> {
        self.recorded(None)
    }

    /// The steps of a preparation, and the records of each: of the panel, or of a set of specimens.
    pub fn recorded(&self, set: Option<SpecimensId>) -> Vec<Vec<&Done>> {
        let steps = self.prep_of(set);
        let of_prep = || self.done.iter().filter(|done| done.set == set && !done.is_care());
        let named = |at| of_prep().filter(|done| done.step == Some(at)).collect();
        let mut records: Vec<Vec<&Done>> = (0..steps.len()).map(named).collect();
        for done in of_prep().filter(|done| done.step.is_none()) {
            let DoneWhat::Prep(verb) = done.what else { continue };
            let free = steps.iter().zip(&mut records).find(|(step, records)| {
                step.verb == verb && !records.iter().any(|record| record.meets(done))
            });
            if let Some((_, records)) = free {
                records.push(done);
            }
        }
        records
    }

    /// What is prepared: the panel, then each set of specimens.
    pub fn preparations(&self) -> impl Iterator<Item = Option<SpecimensId>> + use<> {
        std::iter::once(None).chain((0..self.specimens.len()).map(|at| Some(SpecimensId::new(at))))
    }

    /// The steps of the preparation of the panel, or of a set of specimens.
    pub fn prep_of(&self, set: Option<SpecimensId>) -> &[Step] {
        set.map_or(&self.prep, |set| &self.specimens[set.index()].prep)
    }

    /// Where a record says that something was done: its own sections, else those of its product, else those of a step that
    /// is done on some only, else every one that is prepared.
    pub fn reach_of(&self, done: &Done, step: Option<&Step>) -> Vec<SectionId> {
        if !done.sections.is_empty() {
            return done.sections.clone();
        }
        match (&done.what, step.and_then(|step| step.only.as_ref())) {
            (DoneWhat::Coat(_, product), _) => {
                self.carriers_of(Treatment::Product(product.value)).map(|(id, _)| id).collect()
            }
            (DoneWhat::Prep(_), _) if done.set.is_some() => {
                done.set.into_iter().flat_map(|set| self.specimens_in(set)).map(|(id, _)| id).collect()
            }
            (DoneWhat::Prep(_), Some(only)) => only.sections.clone(),
            (DoneWhat::Prep(_), None) => self.prepared().map(|(id, _)| id).collect(),
        }
    }
}
