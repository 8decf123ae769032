//! The study as it was meant: names bound, quantities typed, rounds dated. Nothing here is changed after it is made.

mod climate;
mod coat_gaps;
mod coats;
mod dealing;
mod done;
mod ids;
mod packed;
mod panel;
mod patches;
mod pieces;
mod plan;
mod pores;
mod resolve;
mod things;

pub use climate::{ClimateColumn, ClimateFile, HoursAbove};
pub use coat_gaps::CoatGap;
pub use coats::{Coat, Coats, later};
pub use dealing::{Blocks, Dealing, Placed};
pub use done::{Done, DoneWhat, RecordColumn, RecordFile};
pub use ids::{GaugeId, MeasureId, ProductId, RoundId, SectionId, SiteId, SpecimensId, SupplyId};
pub use packed::{Packed, UNDER_PRESSURE};
pub use panel::{Area, Grid, Grouping, Outline, Point, Section, Specimens, Surface, Treatment};
pub use patches::{Cycle, Patch, Patches, Stop, Treated};
pub use pieces::Unit;
pub use plan::{
    Anchor, Apply, ApplyClimate, Exposure, LeaveOut, LogEntry, Only, Pace, Placing, Reach, ReadPlan,
    ReadingsFile, Round, Step, TapeOff, Upkeep, Verb, Waiver, Window,
};
pub use pores::PORES_DRIED_H;
pub use resolve::{PAGES, RecordInput, count_from_last_coat, resolve, resolve_with};
pub use things::{
    Agreement, Certificate, Cost, Decision, Direction, Disclosure, Footprint, Gauge, KindOf, Limit, Made,
    Making, Measure, MeasureKind, MeasureUnit, Mix, Opening, Price, Product, Reference, Scale, Sheet,
    SpentRule, StatedLabel, Supply, Tile, Tool,
};

use crate::catalog::Catalog;
use crate::speech::Language;
use crate::text::{Located, Span};
use crate::units::{Quantity, Temperature};
use jiff::civil::{Date, DateTime};

/// A whole study. Lists stand in the order of the file; ids index into them.
#[allow(clippy::struct_excessive_bools, reason = "each says that another block was not understood")]
#[derive(Debug, Clone, Default)]
pub struct Study {
    /// Title of the study.
    pub title: Located<String>,
    /// Who publishes it.
    pub author: Option<String>,
    /// First day of work.
    pub begins: Option<Located<Date>>,
    /// When hands have the last coat of all on, where that is on a later day than its windows alone would have it.
    pub last_by_hands: Option<DateTime>,
    /// The question that the study answers.
    pub question: Option<String>,
    /// The language that the pages are written in.
    pub language: Language,
    /// The measure and round that decide, alone at 5 %; unbound where a line that could not be read may say it.
    pub decide: Option<Decision>,
    /// Markdown prose under the study head.
    pub prose: String,
    /// Prose under any other statement, in the order of the file.
    pub notes: Vec<Note>,
    /// The panel.
    pub surface: Surface,
    /// The folder of photos, beside the study.
    pub photos: Option<Located<String>>,
    /// The folder of the blocks of pages that the study changes, beside it.
    pub pages: Option<Located<String>>,
    /// Gauges.
    pub gauges: Vec<Gauge>,
    /// Measures.
    pub measures: Vec<Measure>,
    /// Supplies of preparation and upkeep.
    pub supplies: Vec<Supply>,
    /// Products under test.
    pub products: Vec<Product>,
    /// True where the study says that spreads differ from product to product.
    pub spreads_differ: bool,
    /// The product to beat.
    pub benchmark: Option<ProductId>,
    /// Steps of preparation in order.
    pub prep: Vec<Step>,
    /// True where a line of `prep` could not be read, so that no missing step is reported.
    pub prep_broken: bool,
    /// The panel stays cooler than this while it is prepared.
    pub prep_surface_below: Option<Located<Quantity<Temperature>>>,
    /// True where the study says that it is prepared in the shade.
    pub prep_shade: bool,
    /// Place of the `prep` head.
    pub prep_span: Option<Span>,
    /// Steps that a round counts from and `prep` does not have; a finding says so.
    pub prep_lacks: Vec<Verb>,
    /// Names of the sites, as their maps give them; a map of one site may have none.
    pub sites: Vec<Located<String>>,
    /// The drawn maps: none, one, or one for each site.
    pub grids: Vec<Grid>,
    /// What was cut from what.
    pub groups: Vec<Grouping>,
    /// The specimens by their sites, where there are several; `None` at one site.
    pub by_site: Option<Grouping>,
    /// How sections that are left to chance are dealt out.
    pub dealing: Dealing,
    /// True where a line of `map` could not be read.
    pub map_broken: bool,
    /// Sections of the panel in order of the map: row by row, then the named ones.
    pub sections: Vec<Section>,
    /// Sets of loose specimens beside the panel.
    pub specimens: Vec<Specimens>,
    /// Every specimen, set by set. Its id counts on from the last section of the panel.
    pub loose: Vec<Section>,
    /// Patches in each specimen.
    pub patches: Option<Patches>,
    /// What is done to them again and again.
    pub cycle: Option<Cycle>,
    /// The day of application.
    pub apply: Option<Apply>,
    /// Rounds in order of the file.
    pub rounds: Vec<Round>,
    /// True where a line of `rounds` could not be read.
    pub rounds_broken: bool,
    /// Place of the `rounds` head.
    pub rounds_span: Option<Span>,
    /// Steps before each round.
    pub before_each_round: Vec<Step>,
    /// Upkeep between rounds.
    pub upkeep: Vec<Upkeep>,
    /// Where specimens stand: at most one for each site.
    pub exposures: Vec<Exposure>,
    /// Files of readings.
    pub readings: Vec<ReadingsFile>,
    /// How many `readings` blocks the file has, those whose head could not be read among them.
    pub readings_blocks: usize,
    /// Files of climate.
    pub climate: Vec<ClimateFile>,
    /// Files that record what was done.
    pub records: Vec<RecordFile>,
    /// What was done, as recorded in lines and in record files, in the order of its days.
    pub done: Vec<Done>,
    /// True where a `done` line could not be taken, so that something was done that is in no list.
    pub done_broken: bool,
    /// Incidents.
    pub log: Vec<LogEntry>,
    /// How many records and incidents are of a later day than the one as of which the study is looked
    /// at; they stand in no list.
    pub passed_over: usize,
    /// Waivers.
    pub waivers: Vec<Waiver>,
    /// What was taken by default, one sentence each; the report prints them.
    pub assumed: Vec<String>,
}

/// Prose that explains a statement.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Note {
    /// The statement that it stands under.
    pub about: Span,
    /// Where on the papers of the work it belongs.
    pub on: NoteOn,
    /// Markdown.
    pub prose: String,
}

/// What prose is about, as far as the papers of the work have a place for it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoteOn {
    /// The preparation as a whole.
    Preparation,
    /// Each coat of a product.
    Product(ProductId),
    /// Each step with a supply or a marker.
    Supply(SupplyId),
    /// The application.
    Application,
    /// The cycle.
    Cycle,
    /// The rounds of readings.
    Rounds,
    /// Each reading of a measure.
    Measure(MeasureId),
    /// Nothing that is done by hand: the record alone prints it.
    Elsewhere,
}

impl Default for Located<String> {
    fn default() -> Self {
        Self::new(String::new(), Span::default())
    }
}

impl Study {
    /// The product of an id. Ids are made by this study only, so the index is always inside.
    pub fn product(&self, id: ProductId) -> &Product {
        &self.products[id.index()]
    }

    /// The prose of the study about something, Markdown; empty where there is none.
    pub fn prose_on(&self, on: NoteOn) -> String {
        let notes = self.notes.iter().filter(|note| note.on == on).map(|note| note.prose.trim_end());
        notes.collect::<Vec<_>>().join("\n\n")
    }

    /// What the study says of a measure, Markdown: of one that patches part or that others are made of, what is said of the whole.
    pub fn prose_of_measure(&self, id: MeasureId) -> String {
        let own = self.prose_on(NoteOn::Measure(id));
        let whole = match self.measure(id).kind {
            MeasureKind::Part(whole) => Some(whole),
            _ => self.measure(id).of,
        };
        let whole = whole.map(|whole| self.prose_on(NoteOn::Measure(whole))).unwrap_or_default();
        if own.is_empty() { whole } else { own }
    }

    /// The climate that is asked for while a product goes on: its own, and where it is silent that of `apply`.
    pub fn climate_for(&self, product: ProductId) -> ApplyClimate {
        let of_all = self.apply.as_ref().map(|apply| apply.climate.clone()).unwrap_or_default();
        self.product(product).climate.or(&of_all)
    }

    /// The measure of an id.
    pub fn measure(&self, id: MeasureId) -> &Measure {
        &self.measures[id.index()]
    }

    /// The round of an id.
    pub fn round(&self, id: RoundId) -> &Round {
        &self.rounds[id.index()]
    }

    /// The section or specimen of an id.
    pub fn section(&self, id: SectionId) -> &Section {
        let index = id.index();
        if index < self.sections.len() {
            &self.sections[index]
        } else {
            &self.loose[index - self.sections.len()]
        }
    }

    /// Every section of the panel and every specimen, in the order of their ids.
    pub fn places(&self) -> impl Iterator<Item = (SectionId, &Section)> {
        let all = self.sections.iter().chain(&self.loose).enumerate();
        all.map(|(index, section)| (SectionId::new(index), section))
    }

    /// What a measure is read on: the sections of the panel, or the specimens that it names.
    pub fn places_of(&self, measure: MeasureId) -> impl Iterator<Item = (SectionId, &Section)> {
        let home = self.measure(measure).home;
        self.places().filter(move |(_, section)| section.specimen == home)
    }

    /// The supply of an id.
    pub fn supply(&self, id: SupplyId) -> &Supply {
        &self.supplies[id.index()]
    }

    /// Rounds with their ids.
    pub fn rounds_with_ids(&self) -> impl Iterator<Item = (RoundId, &Round)> {
        self.rounds.iter().enumerate().map(|(index, round)| (RoundId::new(index), round))
    }

    /// Measures with their ids.
    pub fn measures_with_ids(&self) -> impl Iterator<Item = (MeasureId, &Measure)> {
        self.measures.iter().enumerate().map(|(index, measure)| (MeasureId::new(index), measure))
    }

    /// Measures that something may be judged by: all but those that are read only as parts of another.
    pub fn judged_measures(&self) -> impl Iterator<Item = (MeasureId, &Measure)> {
        self.measures_with_ids().filter(|(_, measure)| !matches!(measure.kind, MeasureKind::Part(_)))
    }

    /// Sections of the panel with their ids.
    pub fn sections_with_ids(&self) -> impl Iterator<Item = (SectionId, &Section)> {
        self.sections.iter().enumerate().map(|(index, section)| (SectionId::new(index), section))
    }

    /// Products with their ids.
    pub fn products_with_ids(&self) -> impl Iterator<Item = (ProductId, &Product)> {
        self.products.iter().enumerate().map(|(index, product)| (ProductId::new(index), product))
    }

    /// The sections of the panel that carry a treatment, in map order.
    pub fn sections_of(&self, treatment: Treatment) -> impl Iterator<Item = (SectionId, &Section)> {
        self.sections_with_ids().filter(move |(_, section)| section.treatment == treatment)
    }

    /// The word for a treatment: the product's name, `bare`, `carrier-only`, `untouched`, or `?` where chance has yet to deal it.
    pub fn treatment_name(&self, treatment: Treatment) -> &str {
        match treatment {
            Treatment::Product(id) => &self.product(id).name.value,
            Treatment::Bare => "bare",
            Treatment::CarrierOnly => "carrier-only",
            Treatment::Untouched => "untouched",
            Treatment::Open => "?",
            Treatment::Unknown => "-",
        }
    }

    /// The first round with this role or name, as `baseline` or `fresh`.
    pub fn round_named(&self, name: &str) -> Option<RoundId> {
        self.rounds.iter().position(|round| round.name.value == name).map(RoundId::new)
    }

    /// The sections of the panel that are prepared at all: every one but those that are `untouched`.
    pub fn prepared(&self) -> impl Iterator<Item = (SectionId, &Section)> {
        self.sections_with_ids().filter(|(_, section)| section.treatment != Treatment::Untouched)
    }

    /// Where a step is done, if it leaves out a section that is prepared.
    pub fn done_on<'s>(&self, step: &'s Step) -> Option<&'s Only> {
        let only = step.only.as_ref()?;
        self.prepared().any(|(id, _)| !only.sections.contains(&id)).then_some(only)
    }

    /// What the `read` steps of the preparation read, in their order; a file of readings calls them `prep 1`, `prep 2`
    /// and on.
    pub fn prep_readings(&self) -> impl Iterator<Item = MeasureId> {
        self.prep.iter().filter_map(|step| Some(step.measure.as_ref()?.value))
    }

    /// The measure of how thick the film of the surface is: the one that a film gauge reads.
    pub fn film(&self) -> Option<MeasureId> {
        let known = |name: &str| Catalog::built_in().measure(name);
        let is_film = |name: &str| known(name).is_some_and(|known| known.gauge == "film-gauge");
        self.measures_with_ids().find(|(_, measure)| is_film(&measure.name.value)).map(|(id, _)| id)
    }

    /// The gauges that read a measure.
    pub fn gauges_of(&self, measure: MeasureId) -> impl Iterator<Item = &Gauge> {
        self.gauges.iter().filter(move |gauge| gauge.reads.iter().any(|read| read.value == measure))
    }

    /// The spread of single readings that the gauges of a measure declare, one standard deviation in its
    /// unit. Which of several gauges took a reading is not known, so the coarsest one speaks for all.
    pub fn gauge_spread(&self, id: MeasureId) -> Option<f64> {
        let unit = &self.measure(id).unit;
        self.gauges_of(id).filter_map(|gauge| gauge.spread_in(unit)).reduce(f64::max)
    }

    /// The limit for two readings that the gauges of a measure declare, in its unit: of several the widest,
    /// which none of them breaks by itself.
    pub fn gauge_limit(&self, id: MeasureId) -> Option<f64> {
        let unit = &self.measure(id).unit;
        self.gauges_of(id).filter_map(|gauge| gauge.limit_in(unit)).reduce(f64::max)
    }

    /// The first day from which a section is not read any more, because an incident of the log ended it.
    pub fn ended(&self, section: SectionId) -> Option<Date> {
        let ends = self.log.iter().filter(|entry| entry.ends && entry.reach.includes(section));
        ends.map(|entry| entry.date.value).min()
    }

    /// Whether a section is the last of a row that has more places than the others: one of them is one too
    /// many, so that nothing is asked of it.
    pub fn is_one_too_many(&self, section: &Section) -> bool {
        let grid = self.grids.iter().find(|grid| grid.site == section.site);
        grid.zip(section.column).is_some_and(|(grid, column)| column >= grid.usual_places())
    }

    /// The names of all files that the study reads, relative to it: readings, then climate, then records.
    pub fn files(&self) -> impl Iterator<Item = &Located<String>> {
        let readings = self.readings.iter().map(|file| &file.name);
        let climate = self.climate.iter().map(|file| &file.name);
        readings.chain(climate).chain(self.records.iter().map(|file| &file.name))
    }

    /// The first drawn map.
    pub fn grid(&self) -> Option<&Grid> {
        self.grids.first()
    }

    /// Whether every section is a specimen by itself.
    pub fn is_on_racks(&self) -> bool {
        self.grids.iter().any(|grid| grid.rack)
    }

    /// The days on which specimens are put out, in order of the file.
    pub fn puts_out(&self) -> impl Iterator<Item = &Located<Date>> {
        self.exposures.iter().filter_map(|exposure| exposure.put_out.as_ref())
    }

    /// The last readings round by date, if rounds are dated.
    pub fn last_round(&self) -> Option<RoundId> {
        let dated = self.rounds_with_ids().filter_map(|(id, round)| Some((round.date()?, id)));
        dated.max_by_key(|&(date, id)| (date, id)).map(|(_, id)| id)
    }

    /// How many readings a cell should have, 0 where the round does not read the measure. A measure that is made of
    /// others is read as often as the one of them that is read least.
    pub fn planned_readings(&self, round: RoundId, measure: MeasureId) -> u32 {
        if let MeasureKind::Made(made) = &self.measure(measure).kind {
            let parts = made.parts.iter().map(|&part| self.planned_readings(round, part));
            return parts.min().unwrap_or(0);
        }
        let plans = self.round(round).reads.iter();
        plans.filter(|plan| plan.measure.value == measure).map(|plan| plan.times).max().unwrap_or(0)
    }
}
