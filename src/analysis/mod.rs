//! Numbers from a study and its readings; the one place where numbers are made.
//!
//! Every section is reduced to one number for each question, and products are compared by those
//! numbers with the section as the unit: readings on one section are not independent of each other.

mod model;

pub use model::{
    AgainstBare, Analysis, Answer, BareRow, BareTable, Basis, CameBack, GroupAt, GroupSeries, GroupValue,
    Interval, Known, LeadRow, LeadTable, Mark, Marks, MeasureAnalysis, Missing, Moment, MonthlyCost, NoCost,
    NoTable, ProductCost, Question, Restored, Role, RoundAnalysis, RoundState, ScatterFrom, SectionAt,
    SectionCost, SectionMean, SectionNumbers, SectionSeries, SectionSpent, Side, Spent, Standing, Strength,
    Uncertain, Uncertainty, Word,
};
