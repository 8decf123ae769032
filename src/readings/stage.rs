//! Readings as one reader finds them: in piles by the cells that they belong to, in the order of the file.

use super::model::{Context, Refused};
use super::recent::mix;
use super::shelf::Packed;
use crate::study::{MeasureId, RoundId, SectionId, Study};
use std::collections::{BTreeMap, HashMap};

/// Up to this many section x round x measure places a plain table finds a cell; 32 MiB, of which only used pages are real.
const TABLE: usize = 1 << 22;

/// How many sections and rounds the study has; ids beyond them stand for what no section carries.
#[derive(Debug, Clone, Copy)]
pub(super) struct Own {
    pub(super) sections: usize,
    pub(super) rounds: usize,
}

impl Own {
    pub(super) fn of(study: &Study) -> Self {
        Self { sections: study.sections.len() + study.loose.len(), rounds: study.rounds.len() }
    }

    /// The id that stands for the tile of a gauge.
    pub(super) fn tile(self) -> usize {
        self.sections
    }

    /// The id that stands for the panel as a whole.
    pub(super) fn panel(self) -> usize {
        self.sections + 1
    }
}

/// What a cell is numbered by, and which shelf it lies on.
#[derive(Debug, Clone, Copy)]
pub(super) struct Shape {
    pub(super) own: Own,
    rounds: usize,
    measures: usize,
    places: usize,
    /// So many neighbouring cells share a shelf.
    shelf: usize,
    pub(super) shelves: usize,
    /// Room for so many readings of a shelf is asked for at once; what is not used of it costs no memory.
    room: usize,
}

impl Shape {
    /// A shelf for about so many bytes of readings; what is on one fits into the cache of a processor.
    const BYTES: usize = 1 << 20;
    /// A row of a readings file has about so many bytes or more.
    const ROW: usize = 32;
    /// No more shelves than this.
    const MOST: usize = 128;

    /// For a study with so many bytes of readings; the number of shelves changes no result.
    pub(super) fn of(study: &Study, bytes: usize) -> Self {
        let own = Own::of(study);
        let rounds = own.rounds + study.prep_readings().count();
        let measures = study.measures.len();
        let places = (own.sections + 2).saturating_mul(rounds).saturating_mul(measures).max(1);
        let shelf = places.div_ceil((bytes / Self::BYTES).clamp(1, Self::MOST));
        let shelves = places.div_ceil(shelf);
        Self { own, rounds, measures, places, shelf, shelves, room: bytes / shelves / Self::ROW }
    }

    /// The same for one of several readers, who has his part of the readings only.
    pub(super) fn among(self, hands: usize) -> Self {
        Self { room: self.room / hands.max(1), ..self }
    }

    fn key(self, section: u32, round: u32, measure: u32) -> usize {
        (section as usize * self.rounds + round as usize) * self.measures + measure as usize
    }

    /// The ids of a cell.
    pub(super) fn ids(self, key: usize) -> (SectionId, RoundId, MeasureId) {
        let (rest, measure) = (key / self.measures.max(1), key % self.measures.max(1));
        let (section, round) = (rest / self.rounds.max(1), rest % self.rounds.max(1));
        (SectionId::new(section), RoundId::new(round), MeasureId::new(measure))
    }
}

/// The spot that a cell had last, plus one, so that fresh memory means "none yet"; and the context of that spot.
#[derive(Debug)]
enum Last {
    Table(Vec<(u32, u32)>),
    Map(HashMap<usize, (u32, u32)>),
}

impl Last {
    fn of(&mut self, key: usize) -> Option<&mut (u32, u32)> {
        match self {
            Self::Table(table) => table.get_mut(key),
            Self::Map(map) => Some(map.entry(key).or_default()),
        }
    }
}

/// A cell and a context that go together, and how many readings they have, as [`Stage::count`] finds.
#[derive(Debug, Clone, Copy)]
pub(super) struct Pair {
    pub(super) key: usize,
    pub(super) context: u32,
    pub(super) rows: u32,
}

/// Readings of one spot that follow one another in a pile, by the place of their end there.
#[derive(Debug, Clone, Copy)]
pub(super) struct Run {
    pub(super) spot: u32,
    pub(super) end: u32,
}

/// The readings of one shelf, as they stand in the file.
#[derive(Debug, Default)]
pub(super) struct Pile {
    pub(super) rows: Vec<Packed>,
    pub(super) runs: Vec<Run>,
    /// The last run may go on; none goes beyond its piece, since others come between two pieces of one reader.
    open: bool,
    /// Runs name them by their place in this list.
    pub(super) spots: Vec<Pair>,
    /// Pieces of the file by number, and where their runs end.
    pub(super) pieces: Vec<(u32, u32)>,
    /// Readings that have a number in the file, by their place, and that number.
    pub(super) numbers: Vec<(u32, u32)>,
}

impl Pile {
    #[inline]
    fn push(&mut self, spot: u32, number: u32, reading: Packed) {
        if number > 0 {
            self.numbers.push((small(self.rows.len()), number));
        }
        self.rows.push(reading);
        let end = small(self.rows.len());
        match self.runs.last_mut() {
            Some(run) if self.open && run.spot == spot => run.end = end,
            _ => {
                self.runs.push(Run { spot, end });
                self.open = true;
            }
        }
    }
}

/// A reading with its cell, its context, and its number, 0 where the file gives none.
#[derive(Debug, Clone, Copy)]
pub(super) struct Pending {
    pub(super) key: usize,
    pub(super) context: u32,
    pub(super) number: u32,
    pub(super) reading: Packed,
}

/// Where a reading goes.
#[derive(Debug, Clone, Copy)]
pub(super) struct Spot {
    shelf: u32,
    at: u32,
}

/// What a word is: names are the same in any capitals, a remark is kept as it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Said {
    Name,
    Note,
}

impl Said {
    /// What is the same for the same word. No name begins with the sign that keeps remarks apart from names.
    pub(super) fn key(self, word: &str) -> String {
        match self {
            Self::Name => word.to_lowercase(),
            Self::Note => format!("\u{1f}{word}"),
        }
    }
}

/// What one reader found.
#[derive(Debug)]
pub(super) struct Stage {
    shape: Shape,
    last: Last,
    pub(super) piles: Vec<Pile>,
    /// Readings that lie in no pile yet.
    pending: Vec<Pending>,
    /// Contexts, and the offset at which each was first met.
    pub(super) contexts: Vec<(Context, usize)>,
    context_ids: HashMap<Context, u32>,
    /// Contexts met lately, by a number made of them; it spares the search in the map.
    recent: Vec<Option<(Context, u32)>>,
    /// Names of gauges and people, and remarks, and the offset at which each was first met.
    pub(super) words: Vec<(String, Said, usize)>,
    word_ids: HashMap<String, u32>,
    pub(super) refused: BTreeMap<Refused, u32>,
}

/// So many readings are put into their piles at once: where rows stand in no order the processor then waits for the memory of
/// many cells at the same time. Measured.
const PENDING: usize = 64;

/// How many contexts are remembered for a quick answer, two for each number made of them.
const RECENT: usize = 1 << 12;

fn context_place(context: &Context) -> usize {
    let day = context.date.map_or(0, |date| {
        let (month, day) = (u64::from(date.month().unsigned_abs()), u64::from(date.day().unsigned_abs()));
        (u64::from(date.year().unsigned_abs()) * 12 + month) * 31 + day
    });
    let word = |id: Option<u32>| u64::from(id.map_or(0, |id| id + 1));
    mix(day << 40 ^ word(context.gauge) << 20 ^ word(context.note) << 10 ^ word(context.by), RECENT)
}

pub(super) fn small(n: usize) -> u32 {
    u32::try_from(n).unwrap_or(u32::MAX)
}

impl Stage {
    /// Nothing yet.
    pub(super) fn new(shape: Shape) -> Self {
        let table = shape.places <= TABLE;
        Self {
            shape,
            last: if table { Last::Table(vec![(0, 0); shape.places]) } else { Last::Map(HashMap::new()) },
            piles: (0..shape.shelves).map(|_| Pile::default()).collect(),
            pending: Vec::with_capacity(PENDING),
            contexts: Vec::new(),
            context_ids: HashMap::new(),
            recent: vec![None; RECENT],
            words: Vec::new(),
            word_ids: HashMap::new(),
            refused: BTreeMap::new(),
        }
    }

    /// The number of a cell.
    pub(super) fn key(&self, section: u32, round: u32, measure: u32) -> usize {
        self.shape.key(section, round, measure)
    }

    /// Where the next readings of a cell and a context go, with [`Stage::push`], up to the first that goes another way.
    pub(super) fn next_spot(&mut self, key: usize, context: u32) -> Spot {
        self.settle();
        self.spot(key, context)
    }

    fn spot(&mut self, key: usize, context: u32) -> Spot {
        let shelf = key / self.shape.shelf;
        let (Some(pile), Some(last)) = (self.piles.get_mut(shelf), self.last.of(key)) else {
            return Spot { shelf: u32::MAX, at: 0 };
        };
        // A look at the spot itself would wait for memory in every row of a file in no order.
        if last.0 == 0 || last.1 != context {
            if pile.spots.is_empty() {
                pile.rows.reserve(self.shape.room);
                pile.runs.reserve(self.shape.room);
            }
            pile.spots.push(Pair { key, context, rows: 0 });
            *last = (small(pile.spots.len()), context);
        }
        Spot { shelf: small(shelf), at: last.0 - 1 }
    }

    /// The number of a context that is met at an offset.
    pub(super) fn context(&mut self, context: Context, at: usize) -> u32 {
        let place = context_place(&context);
        for place in [place, place ^ 1] {
            if let Some(Some((known, id))) = self.recent.get(place)
                && *known == context
            {
                return *id;
            }
        }
        let next = small(self.contexts.len());
        let id = *self.context_ids.entry(context).or_insert(next);
        if id == next {
            self.contexts.push((context, at));
        }
        self.recent.swap(place, place ^ 1);
        if let Some(slot) = self.recent.get_mut(place) {
            *slot = Some((context, id));
        }
        id
    }

    /// The number of a gauge's or a person's name, or of a remark, that is met at an offset. Capitals make no other name; the
    /// first spelling is kept.
    pub(super) fn word(&mut self, word: &str, kind: Said, at: usize) -> u32 {
        let folded = kind.key(word);
        if let Some(&id) = self.word_ids.get(&folded) {
            return id;
        }
        let id = small(self.words.len());
        self.words.push((word.to_owned(), kind, at));
        self.word_ids.insert(folded, id);
        id
    }

    /// Remembers what a row names of which a reading could not be placed.
    pub(super) fn refuse(&mut self, section: Option<u32>, round: Option<u32>, measure: Option<u32>) {
        let refused = Refused {
            section: section.map(|id| SectionId::new(id as usize)),
            round: round.map(|id| RoundId::new(id as usize)),
            measure: measure.map(|id| MeasureId::new(id as usize)),
        };
        *self.refused.entry(refused).or_default() += 1;
    }

    /// Adds a reading to a cell.
    pub(super) fn put(&mut self, pending: Pending) {
        if self.pending.len() == PENDING {
            self.settle();
        }
        self.pending.push(pending);
    }

    /// Puts what is pending into its piles.
    fn settle(&mut self) {
        let mut pending = std::mem::take(&mut self.pending);
        for Pending { key, context, number, reading } in pending.drain(..) {
            let spot = self.spot(key, context);
            self.push(spot, number, reading);
        }
        self.pending = pending;
    }

    /// Adds a reading to a spot.
    #[inline]
    pub(super) fn push(&mut self, spot: Spot, number: u32, reading: Packed) {
        if let Some(pile) = self.piles.get_mut(spot.shelf as usize) {
            pile.push(spot.at, number, reading);
        }
    }

    /// Counts the readings of every spot, once all are there.
    pub(super) fn count(&mut self) {
        for Pile { runs, spots, .. } in &mut self.piles {
            let mut from = 0;
            for &Run { spot, end } in &*runs {
                if let Some(pair) = spots.get_mut(spot as usize) {
                    pair.rows += end - from;
                }
                from = end;
            }
        }
    }

    /// Marks the end of a piece of the file.
    pub(super) fn end_piece(&mut self, piece: u32) {
        self.settle();
        for pile in &mut self.piles {
            pile.open = false;
            let end = small(pile.runs.len());
            if pile.pieces.last().map_or(0, |&(_, end)| end) < end {
                pile.pieces.push((piece, end));
            }
        }
    }
}
