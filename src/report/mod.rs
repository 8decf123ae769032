//! Views: what each page says, in which order and in which words, with rounded text beside the raw value.

mod answer;
mod appendix;
mod as_recorded;
mod asked;
mod axis;
mod blocks;
mod by_piece;
mod calendar;
mod cautions;
mod charts;
mod checklist;
mod claim;
mod comparison;
mod departures;
mod due;
mod elsewhere;
mod empty_record;
mod far_off;
mod footing;
mod gauges;
mod glossary;
mod index;
mod labels;
mod lasted;
mod leaders;
mod left_out;
mod limits;
mod links;
mod map;
mod map_picture;
mod material;
mod method;
mod names;
mod numbers;
mod package;
mod panel;
mod paper;
mod patches;
mod photos;
mod plan;
mod prepared;
mod productless;
mod put_out;
mod rated;
mod raw;
mod record;
mod run_sheet;
mod safety;
mod sheet;
mod site_times;
mod spread;
mod stopped;
mod table;
mod told;
mod unit_of_tests;
mod unjudged;
mod weather;
mod without;

pub use answer::{AnswerView, answer};
pub use appendix::readings_heading;
pub use blocks::{Block, Drawing, Link, Part, Picture, Table, TermItem};
pub use calendar::{CalendarEvent, CalendarView, calendar};
pub use charts::{
    ChangeChart, ChangePanel, IntervalChart, IntervalRow, Mark, PanelChart, PanelPlace, PanelRound,
    RemovedChart, RemovedRow, Series, SpentChart, SpentRow, SpreadChart, SpreadRow, TrendChart, TrendWay,
    Until,
};
pub use checklist::{
    BottleLabel, Bought, ChecklistView, ClimateView, Coldest, Group, Mixing, Shopping, StepView, Thing,
    checklist,
};
pub use claim::{Bit, Claim};
pub use due::{SheetOf, sheets_asked};
pub use empty_record::{EmptyRecord, empty_record};
pub use index::{IndexView, index};
pub use labels::{LabelGroup, LabelsView, labels};
pub use map::{AreaView, Kind, MapView, SectionView, Shape, map, round_length};
pub use material::{Input, Material, PageBlock};
pub use numbers::{Figure, fixed as fixed_number};
pub use package::{COLUMNS, Column, PackageView, Term, package};
pub use paper::{ReportView, report};
pub use photos::{PhotoCell, PhotoRow, PhotosView, Shot, photos};
pub use plan::{Assumed, PlanView, plan};
pub use run_sheet::{RunDay, RunRow, RunSheetView, run_sheet};
pub use safety::{Card, Carded, Coded, Entry, Meeting, SafetyView, Sourced, safety};
pub use sheet::{SheetMeasure, SheetView, sheet};
pub use table::{CellRows, ReadingRow, reading_cells};
