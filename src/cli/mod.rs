//! The command line: arguments, disk, clock, and the drawing of findings.

mod args;
mod arrange;
mod disk;
mod draw;
mod explain;
mod pages;
mod print;
mod run;
mod spare;
mod starter;
mod trouble;

pub use run::main;
