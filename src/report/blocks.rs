//! What a part of the report is made of: paragraphs, lists, tables, quotes and pictures.

use super::charts::{
    ChangeChart, IntervalChart, PanelChart, RemovedChart, SpentChart, SpreadChart, TrendChart,
};
use super::map::MapView;
use super::numbers::Figure;
use crate::analysis::MeasureAnalysis;
use crate::study::{MeasureId, RoundId, Treatment};
use serde::Serialize;

/// A part under one heading.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Part {
    /// Heading, which states the finding where there is one.
    pub heading: String,
    /// 2 for a part, 3 for a part of a part.
    pub level: u8,
    /// What it says.
    pub blocks: Vec<Block>,
    /// Where it stands on the page; empty until the page is put together.
    pub place: String,
    /// The readings that its tables are made from, as links; empty until the page is put together.
    pub readings: Vec<Link>,
    /// What it is about, for whoever points to it.
    #[serde(skip)]
    pub(super) topic: Option<Topic>,
    /// What its tables are made from.
    #[serde(skip)]
    pub(super) from: Vec<(MeasureId, RoundId)>,
}

/// What a part is about, where a claim or a table may point to it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Topic {
    /// How a measure changed: that of the answer.
    Change,
    /// Differences to bare.
    Bare,
    /// Who may lead.
    Lead,
    /// Who may lead at the last round that all products share, where patches were stopped later.
    Shared,
    /// Differences to the product to beat.
    Benchmark,
    /// Differences to sections without a product that are not bare.
    Productless(Treatment),
    /// Pairs of products that stood the other way at other rounds.
    Turned,
    /// Whether the place of a section acts on what is compared.
    Place,
    /// Means on each piece, or at each site.
    ByPiece,
    /// Marks of a measure.
    Rating(MeasureId),
    /// The shares that were held of a measure.
    Held(MeasureId),
    /// When sections were spent by a measure.
    Spent(MeasureId),
    /// Further looks.
    Looks,
    /// Readings that were left out.
    LeftOut,
    /// Findings that were waived.
    Waived,
    /// Findings that are left.
    Findings,
    /// Rounds, planned and read.
    Rounds,
    /// How the products went on.
    Applied,
    /// What the products are, and how they came.
    Products,
    /// What befell sections.
    Incidents,
    /// What a cycle is.
    Cycle,
    /// The method.
    Method,
    /// Readings of a measure at a round.
    Readings(MeasureId, RoundId),
}

/// A link.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Link {
    /// Its words.
    pub words: String,
    /// A place on the page; empty where it is in a file.
    pub place: String,
    /// A place in a file beside the page; empty where it is on the page.
    pub file: String,
}

impl Part {
    /// A part of the report.
    pub fn new(heading: impl Into<String>) -> Self {
        Self {
            heading: heading.into(),
            level: 2,
            blocks: Vec::new(),
            place: String::new(),
            readings: Vec::new(),
            topic: None,
            from: Vec::new(),
        }
    }

    /// A part of a part.
    pub fn below(heading: impl Into<String>) -> Self {
        Self { level: 3, ..Self::new(heading) }
    }

    /// The same part, known by what it is about.
    pub(super) fn about(self, topic: Topic) -> Self {
        Self { topic: Some(topic), ..self }
    }

    /// Says that its tables are made from the readings of a measure at these rounds, and at the one that its change
    /// counts from.
    pub(super) fn rests_on(&mut self, measure: &MeasureAnalysis, rounds: impl IntoIterator<Item = RoundId>) {
        self.from.extend(measure.reference.into_iter().chain(rounds).map(|round| (measure.measure, round)));
    }

    /// Says that its tables are made from the readings of a measure at a round.
    pub(super) fn rests_on_levels(&mut self, measure: MeasureId, rounds: impl IntoIterator<Item = RoundId>) {
        self.from.extend(rounds.into_iter().map(|round| (measure, round)));
    }

    /// Adds a paragraph.
    pub fn say(&mut self, text: impl Into<String>) {
        self.blocks.push(Block::Paragraph { text: text.into() });
    }

    /// Adds a list, if there is anything in it.
    pub fn list(&mut self, items: Vec<String>) {
        if !items.is_empty() {
            self.blocks.push(Block::List { items });
        }
    }

    /// Adds a list whose items begin with what they tell of, up to a colon, where they do.
    pub(super) fn terms(&mut self, items: Vec<String>) {
        if !items.is_empty() {
            self.blocks.push(Block::Terms { items: items.into_iter().map(TermItem::of).collect() });
        }
    }

    /// Adds a table, if it has rows.
    pub fn table(&mut self, table: Table) {
        if !table.rows.is_empty() {
            self.blocks.push(Block::Table(table));
        }
    }

    /// Adds a picture.
    pub fn picture(&mut self, picture: Picture) {
        self.blocks.push(Block::Picture(picture));
    }

    /// Adds pictures, or a picture if there is one.
    pub fn pictures(&mut self, pictures: impl IntoIterator<Item = Picture>) {
        self.blocks.extend(pictures.into_iter().map(Block::Picture));
    }

    /// Adds prose of the study, if there is any.
    pub fn quote(&mut self, markdown: &str) {
        if !markdown.trim().is_empty() {
            self.blocks.push(Block::Quote { markdown: markdown.to_owned() });
        }
    }
}

/// A block.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(tag = "kind", rename_all = "lowercase")]
pub enum Block {
    /// A paragraph of plain text.
    Paragraph {
        /// The text.
        text: String,
    },
    /// A list of plain texts.
    List {
        /// The items.
        items: Vec<String>,
    },
    /// A list of plain texts, each with what it tells of.
    Terms {
        /// The items.
        items: Vec<TermItem>,
    },
    /// A table.
    Table(Table),
    /// A picture.
    Picture(Picture),
    /// Prose of the study.
    Quote {
        /// Markdown of the user.
        markdown: String,
    },
}

/// An item of a list that is looked up.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct TermItem {
    /// What it tells of, with its colon; `None` where it begins without.
    pub of: Option<String>,
    /// The rest.
    pub text: String,
}

impl TermItem {
    /// Longest head in characters; a longer one is a sentence that has a colon in it.
    const LONGEST: usize = 48;

    fn of(item: String) -> Self {
        match item.split_once(": ") {
            Some((of, text)) if of.chars().count() <= Self::LONGEST && !of.contains(['.', ',', ';']) => {
                Self { of: Some(format!("{of}:")), text: text.to_owned() }
            }
            _ => Self { of: None, text: item },
        }
    }
}

/// A table.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
pub struct Table {
    /// Heads of the columns.
    pub head: Vec<Column>,
    /// Rows of as many cells.
    pub rows: Vec<Vec<Figure>>,
}

/// A column.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Column {
    /// Its head.
    pub text: String,
    /// True for numbers, which stand right.
    pub right: bool,
}

impl Table {
    /// A table with these heads; a head that begins with `>` is that of a column of numbers.
    pub fn new<S: AsRef<str>>(heads: &[S]) -> Self {
        // A measure without a unit leaves nothing behind the comma.
        let column = |head: &S| {
            let head = head.as_ref().trim_end_matches(", ");
            match head.strip_prefix('>') {
                Some(text) => Column { text: text.to_owned(), right: true },
                None => Column { text: head.to_owned(), right: false },
            }
        };
        Self { head: heads.iter().map(column).collect(), rows: Vec::new() }
    }

    /// Adds a row.
    pub fn row(&mut self, cells: Vec<Figure>) {
        self.rows.push(cells);
    }

    /// The same table with a column moved to the end: how much a row rests on stands behind what it says, so that a narrow
    /// screen shows what decides.
    #[must_use]
    pub fn behind(mut self, column: usize) -> Self {
        self.head[column..].rotate_left(1);
        self.rows.iter_mut().for_each(|row| row[column..].rotate_left(1));
        self
    }
}

/// A picture, where it is found, and the words around it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Picture {
    /// A file of this folder, or a place on the page `report.html`.
    pub address: String,
    /// One sentence that says what it shows.
    pub title: String,
    /// Number of sections, date, how to read it.
    pub note: String,
    /// What is drawn.
    pub drawing: Drawing,
}

/// What a picture draws.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(tag = "drawing", rename_all = "lowercase")]
pub enum Drawing {
    /// The map.
    Map(Box<MapView>),
    /// Change over time.
    Change(ChangeChart),
    /// Points and intervals.
    Intervals(IntervalChart),
    /// Time until spent.
    Spent(SpentChart),
    /// Single readings around the mean of their section.
    Spread(SpreadChart),
    /// Places before and after preparation.
    Removed(RemovedChart),
    /// Levels along the panel.
    Trend(Box<TrendChart>),
    /// The panel round by round.
    Panel(Box<PanelChart>),
}
