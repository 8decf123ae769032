//! The tree: blocks, statements, clauses and arguments, each with the place where it was written.

use crate::text::{Located, Span};

/// What was understood of a study file.
#[derive(Debug, Clone, Default)]
pub struct Tree {
    /// Blocks in the order of the file; statements without children are blocks too.
    pub blocks: Vec<Block>,
}

/// The kinds of block.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[allow(missing_docs, reason = "each kind is the word of its head")]
pub enum BlockKind {
    Language,
    Study,
    Surface,
    Specimens,
    Gauge,
    Measure,
    Supply,
    Product,
    Products,
    Benchmark,
    Prep,
    Map,
    Group,
    Marker,
    Patches,
    Cycle,
    Apply,
    Rounds,
    Upkeep,
    Exposure,
    Readings,
    Photos,
    Pages,
    Climate,
    Record,
    Done,
    Log,
    Allow,
}

/// A head and the statements under it.
#[derive(Debug, Clone)]
pub struct Block {
    /// What it is.
    pub kind: BlockKind,
    /// Its head; `None` where the head could not be read.
    pub head: Option<Statement>,
    /// The name that was saved from a head that could not be read, so that nothing else complains of it.
    pub salvaged: Option<Located<String>>,
    /// Statements under the head that could be read.
    pub children: Vec<Statement>,
    /// True where the head or a line under it could not be read.
    pub broken: bool,
    /// True where the word of the head is missing or misspelt, so that what block it is was guessed, and a finding says so.
    pub guessed: bool,
    /// Place of the head.
    pub span: Span,
}

impl Block {
    /// Prose under the head.
    pub fn prose(&self) -> &str {
        self.head.as_ref().map_or("", |head| head.prose.as_str())
    }
}

/// One statement.
#[derive(Debug, Clone, PartialEq)]
pub struct Statement {
    /// Its first word, in small letters, `|` for a row, or `0` for a line that begins with a number.
    pub verb: String,
    /// What follows the verb before any clause.
    pub args: Vec<Arg>,
    /// Its clauses in the order of the line.
    pub clauses: Vec<Clause>,
    /// The whole line without comment.
    pub span: Span,
    /// Markdown lines below it.
    pub prose: String,
}

/// A clause of a statement.
#[derive(Debug, Clone, PartialEq)]
pub struct Clause {
    /// Its name in the grammar without the prefix: `with`, `dwell`, `place`.
    pub name: &'static str,
    /// Its arguments.
    pub args: Vec<Arg>,
    /// Clauses inside it, for steps inside a statement.
    pub clauses: Vec<Clause>,
    /// Its place.
    pub span: Span,
}

/// An argument and its place.
pub type Arg = Located<Value>;

/// A number as written; read later, so that its fault is found at its place.
pub type Num = Located<String>;

/// One value or a range with its unit, as written.
#[derive(Debug, Clone, PartialEq)]
pub struct Quantity {
    /// First number.
    pub low: Num,
    /// Second number of a range.
    pub high: Option<Num>,
    /// Unit of the last number, or none where the heading of a table gives it.
    pub unit: Option<Num>,
    /// Unit after the first number of a range, where it was written twice.
    pub low_unit: Option<Num>,
}

/// The values that an argument can be.
#[derive(Debug, Clone, PartialEq)]
pub enum Value {
    /// A keyword of the grammar, in small letters.
    Word(std::borrow::Cow<'static, str>),
    /// A name.
    Name(String),
    /// A quoted text, without its quotes.
    Text(String),
    /// Unquoted words up to the end of the line.
    Free(String),
    /// A bare number.
    Number(String),
    /// A date as written.
    Date(String),
    /// A clock time as written.
    Time(String),
    /// `3:1`, which could be read two ways.
    Ratio(String),
    /// A quantity or range.
    Quantity(Quantity),
    /// Width and height; the second quantity carries the unit.
    Size(Num, Num, Vec<Num>),
    /// Corners and their unit.
    Points(Vec<(Num, Num)>, Num),
    /// Parts of a thing to parts of a liquid; the liquid may be missing.
    Parts(Num, Num, Option<Num>),
}
