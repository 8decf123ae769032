//! `tapeline` compiles a plain-text study of surface-protection products.
//!
//! ```text
//! study file ─ syntax ─▶ Tree ─ study ─▶ Study ─┬─ checks ─▶ findings
//!                                  catalog ─┘   │
//! readings files ───── readings ─▶ Readings ────┼─ analysis ─▶ Analysis ─ report ─▶ View ─ outputs ─▶ artifacts
//! ```
//!
//! Every phase is a pure function from one noun to the next and returns its value together with
//! findings. Disk, clock and environment exist at the command line only.

pub mod markup;
pub mod stats;
pub mod text;
pub mod units;

pub mod diag;

pub mod catalog;
pub mod speech;
pub mod syntax;
pub mod table;

pub mod study;

pub mod hands;
pub mod layout;
pub mod photos;
pub mod planning;
pub mod readings;

pub mod analysis;
pub mod checks;
pub mod dealing;

pub mod report;

pub mod outputs;

pub mod pipeline;

pub mod cli;
