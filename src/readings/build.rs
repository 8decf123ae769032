//! Puts readings in the order of their cells, numbers them and gives each cell its numbers.

use super::hands::{hands, together};
use super::model::{Apart, ApartCell, Cell, Context, Kind, Packed, Readings, Refused, Summary};
use super::stage::{Own, Pile, Said, Shape, Stage, small};
use std::collections::BTreeMap;
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};

/// Readings in the order of the files, until [`Builder::finish`].
#[derive(Debug)]
pub(super) struct Builder {
    shape: Shape,
    /// For each shelf the piles of its readings, each with the place of its file in the study's list.
    shelves: Vec<Vec<(u32, Pile)>>,
    rows: usize,
    contexts: Vec<Context>,
    context_rows: Vec<usize>,
    context_ids: BTreeMap<Context, u32>,
    words: Vec<String>,
    word_ids: BTreeMap<String, u32>,
    refused: BTreeMap<Refused, u32>,
}

/// What one shelf is filled from: its piles, its cells in order with the count of their readings, and where they go.
struct Job<'c> {
    piles: Vec<(u32, Pile)>,
    counts: Vec<(usize, u32)>,
    cells: &'c mut [Cell],
}

impl Builder {
    /// Without readings.
    pub(super) fn new(shape: Shape) -> Self {
        Self {
            shape,
            shelves: (0..shape.shelves).map(|_| Vec::new()).collect(),
            rows: 0,
            contexts: Vec::new(),
            context_rows: Vec::new(),
            context_ids: BTreeMap::new(),
            words: Vec::new(),
            word_ids: BTreeMap::new(),
            refused: BTreeMap::new(),
        }
    }

    fn word(&mut self, word: String, kind: Said) -> u32 {
        let next = small(self.words.len());
        let id = *self.word_ids.entry(kind.key(&word)).or_insert(next);
        if id == next {
            self.words.push(word);
        }
        id
    }

    fn context(&mut self, context: Context) -> u32 {
        let next = small(self.contexts.len());
        let id = *self.context_ids.entry(context).or_insert(next);
        if id == next {
            self.contexts.push(context);
            self.context_rows.push(0);
        }
        id
    }

    /// Adds what readers found in the next file. Names and contexts are numbered in the order of the file, whichever
    /// reader met them.
    pub(super) fn absorb(&mut self, mut stages: Vec<Stage>, file: u32) {
        let mut words: Vec<(usize, usize, usize, (String, Said))> = Vec::new();
        for (at, stage) in stages.iter_mut().enumerate() {
            let own = std::mem::take(&mut stage.words).into_iter().enumerate();
            words.extend(own.map(|(id, (word, kind, first))| (first, at, id, (word, kind))));
        }
        let mut word_of: Vec<Vec<u32>> = vec![Vec::new(); stages.len()];
        // Of one row the gauge is met first, as its number within its reader says.
        words.sort_by_key(|&(first, _, id, _)| (first, id));
        for (_, at, id, (word, kind)) in words {
            let own = &mut word_of[at];
            own.resize(own.len().max(id + 1), 0);
            own[id] = self.word(word, kind);
        }
        let mut contexts: Vec<(usize, usize, usize, Context)> = Vec::new();
        for (at, stage) in stages.iter().enumerate() {
            let own = stage.contexts.iter().enumerate();
            contexts.extend(own.map(|(id, &(context, first))| (first, at, id, context)));
        }
        let mut context_of: Vec<Vec<u32>> = vec![Vec::new(); stages.len()];
        contexts.sort_by_key(|&(first, ..)| first);
        for (_, at, id, context) in contexts {
            let word = |word: Option<u32>| word.map(|word| word_of[at][word as usize]);
            let (gauge, by, note) = (word(context.gauge), word(context.by), word(context.note));
            let whole = Context { file, gauge, by, note, ..context };
            let own = &mut context_of[at];
            own.resize(own.len().max(id + 1), 0);
            own[id] = self.context(whole);
        }
        for (stage, context_of) in stages.into_iter().zip(context_of) {
            for (shelf, mut pile) in self.shelves.iter_mut().zip(stage.piles) {
                if !pile.rows.is_empty() {
                    for pair in &mut pile.spots {
                        pair.context = context_of[pair.context as usize];
                        self.context_rows[pair.context as usize] += pair.rows as usize;
                    }
                    self.rows += pile.rows.len();
                    shelf.push((file, pile));
                }
            }
            for (refused, rows) in stage.refused {
                *self.refused.entry(refused).or_default() += rows;
            }
        }
    }

    /// Sorts the cells by section, round and measure and the readings by cell, and gives both their numbers.
    pub(super) fn finish(self) -> Readings {
        let Self { shape, shelves, rows, contexts, context_rows, words, refused, .. } = self;
        let counts: Vec<Vec<(usize, u32)>> = shelves.iter().map(|piles| counts(piles)).collect();
        // Every cell is made where it stays: made shelf by shelf and then joined, all would be there twice for a while.
        let empty = Cell::empty(shape.ids(0), (0, 0, 0));
        let mut cells = vec![empty; counts.iter().map(Vec::len).sum()];
        let mut rest = cells.as_mut_slice();
        let jobs = shelves.into_iter().zip(counts).map(|(piles, counts)| {
            let (own, others) = std::mem::take(&mut rest).split_at_mut(counts.len());
            rest = others;
            Mutex::new(Some(Job { piles, counts, cells: own }))
        });
        let jobs: Vec<Mutex<Option<Job<'_>>>> = jobs.collect();
        let next = AtomicUsize::new(0);
        let built = together(hands(rows / SHARED), || {
            let mut own: Vec<(usize, Vec<Packed>)> = Vec::new();
            loop {
                let at = next.fetch_add(1, Ordering::Relaxed);
                let Some(job) = jobs.get(at) else { return own };
                let job = job.lock().unwrap_or_else(std::sync::PoisonError::into_inner).take();
                own.extend(job.map(|job| (at, job.filled(shape, small(at), &contexts))));
            }
        });
        drop(jobs);
        let mut built: Vec<(usize, Vec<Packed>)> = built.into_iter().flatten().collect();
        built.sort_by_key(|&(at, _)| at);
        let shelves = built.into_iter().map(|(_, rows)| rows).collect();
        // Cells that no section carries have the highest keys.
        let sections = cells.partition_point(|cell| apart(shape.own, cell).is_none());
        let apart_cells = cells.split_off(sections);
        let apart_cells =
            apart_cells.into_iter().filter_map(|cell| Some(ApartCell { at: apart(shape.own, &cell)?, cell }));
        let mut readings = Readings {
            apart: apart_cells.collect(),
            cells,
            shelves,
            contexts,
            context_rows,
            words,
            refused,
            ..Readings::default()
        };
        readings.index();
        readings
    }
}

/// What a cell belongs to, if no section carries it.
fn apart(own: Own, cell: &Cell) -> Option<Apart> {
    match cell.section.index() {
        section if section == own.tile() => Some(Apart::Tile(cell.round)),
        section if section == own.panel() => Some(Apart::Prep(cell.round.index() - own.rounds)),
        _ => None,
    }
}

/// The cells that piles have readings of, in order, and how many.
fn counts(piles: &[(u32, Pile)]) -> Vec<(usize, u32)> {
    let pairs = piles.iter().flat_map(|(_, pile)| &pile.spots);
    let mut all: Vec<(usize, u32)> =
        pairs.filter(|pair| pair.rows > 0).map(|pair| (pair.key, pair.rows)).collect();
    all.sort_unstable_by_key(|&(key, _)| key);
    all.dedup_by(|later, first| {
        let same = later.0 == first.0;
        first.1 += if same { later.1 } else { 0 };
        same
    });
    all.shrink_to_fit();
    all
}

impl Job<'_> {
    /// Gives the readings of the shelf in the order of its cells, and the cells their numbers.
    fn filled(self, shape: Shape, number: u32, contexts: &[Context]) -> Vec<Packed> {
        let Self { piles, counts, cells } = self;
        let cell_of = |pile: &Pile| -> Vec<usize> {
            let place = |key| counts.binary_search_by_key(&key, |&(key, _)| key).unwrap_or_default();
            pile.spots.iter().map(|pair| place(pair.key)).collect()
        };
        let cell_of: Vec<Vec<usize>> = piles.iter().map(|(_, pile)| cell_of(pile)).collect();
        let mut next = Vec::with_capacity(counts.len());
        let mut start = 0;
        for (cell, &(key, len)) in cells.iter_mut().zip(&counts) {
            next.push(start as usize);
            *cell = Cell::empty(shape.ids(key), (number, start, len));
            start += len;
        }
        let blank =
            Packed { value: 0.0, at: 0, number: 0, context: 0, length: 0, kind: Kind::NotTaken, marks: 0 };
        let mut rows = vec![blank; start as usize];
        // Pieces in the order of the files, whichever reader had them.
        let mut pieces: Vec<(u32, u32, usize, usize, usize)> = Vec::new();
        for (at, (file, pile)) in piles.iter().enumerate() {
            let mut from = 0;
            for &(piece, end) in &pile.pieces {
                pieces.push((*file, piece, at, from, end as usize));
                from = end as usize;
            }
        }
        pieces.sort_unstable();
        for (_, _, at, from, end) in pieces {
            let (pile, cell_of) = (&piles[at].1, &cell_of[at]);
            let own = pile.rows.get(from..end).unwrap_or_default();
            for run in own.chunk_by(|row, next| row.context == next.context) {
                let spot = run[0].context as usize;
                let (context, place) = (pile.spots[spot].context, &mut next[cell_of[spot]]);
                for (to, row) in rows[*place..].iter_mut().zip(run) {
                    *to = Packed { context, ..*row };
                }
                *place += run.len();
            }
        }
        let mut values = Vec::new();
        for cell in cells {
            let own = rows.get_mut(cell.range()).unwrap_or_default();
            number_rows(own, contexts);
            summarise(cell, own, contexts, &mut values);
        }
        rows
    }
}

/// For so many readings a thread more is worth it. Measured.
const SHARED: usize = 1 << 15;

/// Numbers the readings that the file does not number: their order in the cell, file by file.
fn number_rows(rows: &mut [Packed], contexts: &[Context]) {
    let (mut last, mut file, mut number) = (u32::MAX, None, 0);
    for reading in rows {
        if reading.context != last {
            last = reading.context;
            let own = contexts.get(last as usize).map(|context| context.file);
            number = if own == file { number } else { 0 };
            file = own;
        }
        number += 1;
        if !reading.is(Packed::NUMBERED) {
            reading.number = number;
        }
    }
}

/// Gives the cells of which readings are left out their numbers once more.
pub(super) fn leave_out(readings: &mut Readings) {
    let Readings { cells, shelves, contexts, left_out, .. } = readings;
    let mut values = Vec::new();
    for cell in cells {
        let own = cell.place(0)..cell.place(cell.rows());
        let first = left_out.partition_point(|&(place, _)| place < own.start);
        if left_out.get(first).is_some_and(|&(place, _)| place < own.end)
            && let Some(rows) = shelves.get(cell.shelf as usize).and_then(|rows| rows.get(cell.range()))
        {
            summarise(cell, rows, contexts, &mut values);
        }
    }
}

/// Gives a cell its numbers.
fn summarise(cell: &mut Cell, rows: &[Packed], contexts: &[Context], values: &mut Vec<f64>) {
    (cell.left_out, cell.below_gauge, cell.not_taken, cell.blank) = (0, 0, 0, 0);
    (cell.dates, cell.numbered) = (None, false);
    // Neighbours mostly share their context, so its date is looked up once.
    let mut last = u32::MAX;
    values.clear();
    for reading in rows {
        let out = reading.is(Packed::LEFT_OUT);
        cell.left_out += u32::from(out);
        cell.numbered |= reading.is(Packed::NUMBERED);
        match reading.kind {
            Kind::Taken => values.push(reading.value),
            Kind::Blank => cell.blank += 1,
            Kind::BelowGauge => cell.below_gauge += u32::from(!out),
            Kind::NotTaken => cell.not_taken += u32::from(!out),
        }
        if reading.context != last {
            last = reading.context;
            if let Some(date) = contexts.get(last as usize).and_then(|context| context.date) {
                let (from, to) = cell.dates.unwrap_or((date, date));
                cell.dates = Some((from.min(date), to.max(date)));
            }
        }
    }
    cell.all = Summary::of(values);
    cell.kept = cell.all;
    if cell.left_out > 0 {
        values.clear();
        values.extend(rows.iter().filter(|one| one.is_kept_number()).map(|one| one.value));
        cell.kept = Summary::of(values);
    }
}
