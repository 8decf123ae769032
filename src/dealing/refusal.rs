//! Why sections cannot be dealt out, and what to do.

use crate::diag::{count, list};
use crate::study::Blocks;
use jiff::civil::Date;
use std::fmt;

/// Why nothing was dealt.
#[derive(Debug, Clone, PartialEq)]
pub enum Refusal {
    /// No section of the map is open.
    NothingOpen,
    /// The study has no products.
    NoProducts,
    /// Nobody knows where the sections lie.
    NoPlaces,
    /// The map was dealt out before.
    Placed(Date),
    /// Fewer sections than are needed.
    TooFew {
        /// Sections that are open, at the site or in the block.
        open: usize,
        /// Sections that are needed.
        needed: usize,
        /// Sections for each product, drawn ones among them.
        each: usize,
        /// Whether a bare one is among those that are needed.
        bare: bool,
        /// The site, if the study has several.
        site: Option<String>,
    },
    /// The blocks do not hold what is open.
    OtherNumber {
        /// Sections that are open.
        open: usize,
        /// What the study says.
        blocks: Blocks,
    },
    /// The reading that orders the sections is missing on these.
    NotRead(Vec<String>),
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NothingOpen => f.write_str(
                "no section of the map is left to chance; draw `?` where chance may put any product or bare",
            ),
            Self::NoProducts => f.write_str("the study has no products to deal out"),
            Self::NoPlaces => f.write_str("the map does not say how large its sections are"),
            Self::Placed(date) => write!(
                f,
                "the map was dealt out on {date}; to deal it out anew, take out the line `placed {date} ...` and draw `?` again"
            ),
            Self::TooFew { open, needed, each, bare, site } => {
                let bare = if *bare { " and bare one," } else { "" };
                let site = site.as_ref().map_or_else(String::new, |site| format!(" at {site}"));
                write!(
                    f,
                    "to give every product {}{site}, with those that are drawn already,{bare} needs {}, and {open} {} left to chance; draw \
                     more `?`, or ask for fewer with `--each`",
                    count(*each, "section"),
                    count(*needed, "more section"),
                    if *open == 1 { "is" } else { "are" }
                )
            }
            Self::OtherNumber { open, blocks } => write!(
                f,
                "{} of {} sections hold {}, and {open} are left to chance; correct the numbers of `blocks`, or draw more `?`",
                count(blocks.number, "block"),
                blocks.each,
                blocks.number * blocks.each
            ),
            Self::NotRead(sections) => write!(
                f,
                "{} no number at the round that orders the blocks, which is one before the coats; read {} first, or take the line `blocks` out",
                match sections.as_slice() {
                    [one] => format!("section {one} has"),
                    several => format!("sections {} have", list(several, "and")),
                },
                if sections.len() == 1 { "it" } else { "them" }
            ),
        }
    }
}
