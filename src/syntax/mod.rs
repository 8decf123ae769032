//! From text to tree: what was written, line by line. The only module that names the parser crate.
//!
//! Lines are cut in Rust, the open block picks the rule, and the grammar parses one line. So a broken
//! line breaks itself only, and whatever else the file says is still understood.

mod access;
mod astray;
mod blocks;
mod build;
mod characters;
mod firsts;
mod incidents;
mod letters;
mod lines;
mod mending;
mod pages;
mod parser;
mod products;
mod slips;
mod tree;
mod words;

pub use access::{Args, Clauses};
pub use blocks::DIGIT;
pub use build::parse;
pub use pages::PAGES;
pub use tree::{Arg, Block, BlockKind, Clause, Num, Quantity, Statement, Tree, Value};
