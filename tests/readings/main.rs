//! Readings files: every row is placed or reported, and the order of rows changes nothing.

mod speed;
mod study;
