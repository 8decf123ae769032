//! Numbers from a study and its readings; the one place where numbers are made.

mod model;

pub use model::{
    AgainstBare, Analysis, Answer, BareRow, BareTable, Basis, CameBack, GroupAt, GroupSeries, GroupValue,
    Interval, Known, LeadRow, LeadTable, MeasureAnalysis, Missing, Moment, MonthlyCost, NoCost, NoTable,
    ProductCost, Question, Restored, Role, RoundAnalysis, RoundState, ScatterFrom, SectionAt, SectionCost,
    SectionMean, SectionNumbers, SectionSeries, SectionSpent, Side, Spent, SpreadOf, Standing, Strength,
    Uncertain, Uncertainty, Word,
};
