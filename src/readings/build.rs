//! Puts readings in the order of their cells, numbers them and gives each cell its numbers.

use super::hands::{hands, together};
use super::model::{Apart, ApartCell, Cell, Context, Kind, Packed, Readings, Refused, Summary};
use super::stage::{Own, Pile, Shape, Stage, small};
use crate::stats::summary;
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
    context_ids: BTreeMap<Context, u32>,
    words: Vec<String>,
    word_ids: BTreeMap<String, u32>,
    refused: BTreeMap<Refused, u32>,
}

/// The readings of neighbouring cells, and these cells.
#[derive(Debug, Default)]
struct Shelf {
    cells: Vec<Cell>,
    rows: Vec<Packed>,
}

impl Builder {
    /// Without readings.
    pub(super) fn new(shape: Shape) -> Self {
        Self {
            shape,
            shelves: (0..shape.shelves).map(|_| Vec::new()).collect(),
            rows: 0,
            contexts: Vec::new(),
            context_ids: BTreeMap::new(),
            words: Vec::new(),
            word_ids: BTreeMap::new(),
            refused: BTreeMap::new(),
        }
    }

    fn word(&mut self, word: String) -> u32 {
        let next = small(self.words.len());
        let id = *self.word_ids.entry(word.to_lowercase()).or_insert(next);
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
        }
        id
    }

    /// Adds what readers found in the next file. Names and contexts are numbered in the order of the file, whichever
    /// reader met them.
    pub(super) fn absorb(&mut self, mut stages: Vec<Stage>, file: u32) {
        let mut words: Vec<(usize, usize, usize, String)> = Vec::new();
        for (at, stage) in stages.iter_mut().enumerate() {
            let own = std::mem::take(&mut stage.words).into_iter().enumerate();
            words.extend(own.map(|(id, (word, first))| (first, at, id, word)));
        }
        let mut word_of: Vec<Vec<u32>> = vec![Vec::new(); stages.len()];
        // Of one row the gauge is met first, as its number within its reader says.
        words.sort_by_key(|&(first, _, id, _)| (first, id));
        for (_, at, id, word) in words {
            let own = &mut word_of[at];
            own.resize(own.len().max(id + 1), 0);
            own[id] = self.word(word);
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
            let whole = Context { file, gauge: word(context.gauge), by: word(context.by), ..context };
            let own = &mut context_of[at];
            own.resize(own.len().max(id + 1), 0);
            own[id] = self.context(whole);
        }
        for (stage, context_of) in stages.into_iter().zip(context_of) {
            for (shelf, mut pile) in self.shelves.iter_mut().zip(stage.piles) {
                if !pile.rows.is_empty() {
                    pile.spots.iter_mut().for_each(|(_, context)| *context = context_of[*context as usize]);
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
        let Self { shape, shelves, rows, contexts, words, refused, .. } = self;
        let jobs: Vec<Mutex<Vec<(u32, Pile)>>> = shelves.into_iter().map(Mutex::new).collect();
        let next = AtomicUsize::new(0);
        let built = together(hands(rows / SHARED), || {
            let mut own: Vec<(usize, Shelf)> = Vec::new();
            loop {
                let at = next.fetch_add(1, Ordering::Relaxed);
                let Some(job) = jobs.get(at) else { return own };
                let piles =
                    std::mem::take(&mut *job.lock().unwrap_or_else(std::sync::PoisonError::into_inner));
                own.push((at, Shelf::of(shape, small(at), &piles, &contexts)));
            }
        });
        let mut built: Vec<(usize, Shelf)> = built.into_iter().flatten().collect();
        built.sort_by_key(|&(at, _)| at);
        let mut cells = Vec::with_capacity(built.iter().map(|(_, shelf)| shelf.cells.len()).sum());
        let mut shelves = Vec::with_capacity(built.len());
        for (_, shelf) in built {
            cells.extend(shelf.cells);
            shelves.push(shelf.rows);
        }
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

impl Shelf {
    fn of(shape: Shape, number: u32, piles: &[(u32, Pile)], contexts: &[Context]) -> Self {
        let mut keys: Vec<usize> =
            piles.iter().flat_map(|(_, pile)| pile.spots.iter().map(|&(key, _)| key)).collect();
        keys.sort_unstable();
        keys.dedup();
        let cell_of = |pile: &Pile| -> Vec<usize> {
            pile.spots.iter().map(|(key, _)| keys.binary_search(key).unwrap_or_default()).collect()
        };
        let cell_of: Vec<Vec<usize>> = piles.iter().map(|(_, pile)| cell_of(pile)).collect();
        let mut lengths = vec![0_u32; keys.len()];
        for ((_, pile), cell_of) in piles.iter().zip(&cell_of) {
            for row in &pile.rows {
                lengths[cell_of[row.context as usize]] += 1;
            }
        }
        let mut next = Vec::with_capacity(keys.len());
        let mut cells = Vec::with_capacity(keys.len());
        let mut start = 0;
        for (&key, &len) in keys.iter().zip(&lengths) {
            next.push(start as usize);
            if len > 0 {
                cells.push(Cell::empty(shape.ids(key), (number, start, len)));
            }
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
            for row in pile.rows.get(from..end).unwrap_or_default() {
                let (spot, place) = (row.context as usize, &mut next[cell_of[row.context as usize]]);
                rows[*place] = Packed { context: pile.spots[spot].1, ..*row };
                *place += 1;
            }
        }
        let mut values = Vec::new();
        for cell in &mut cells {
            let own = rows.get_mut(cell.range()).unwrap_or_default();
            number_rows(own, contexts);
            summarise(cell, own, contexts, &mut values);
        }
        Self { cells, rows }
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
    for reading in rows {
        let out = reading.is(Packed::LEFT_OUT);
        cell.left_out += u32::from(out);
        cell.numbered |= reading.is(Packed::NUMBERED);
        match reading.kind {
            Kind::Taken | Kind::Blank => {}
            Kind::BelowGauge => cell.below_gauge += u32::from(!out),
            Kind::NotTaken => cell.not_taken += u32::from(!out),
        }
        cell.blank += u32::from(reading.kind == Kind::Blank);
        if reading.context != last {
            last = reading.context;
            if let Some(date) = contexts.get(last as usize).and_then(|context| context.date) {
                let (from, to) = cell.dates.unwrap_or((date, date));
                cell.dates = Some((from.min(date), to.max(date)));
            }
        }
    }
    let taken = rows.iter().filter(|one| one.kind == Kind::Taken);
    cell.all = summary_of(taken.clone().map(|one| one.value), values);
    cell.kept = if cell.left_out == 0 {
        cell.all
    } else {
        summary_of(taken.filter(|one| !one.is(Packed::LEFT_OUT)).map(|one| one.value), values)
    };
}

pub(super) fn summary_of(list: impl Iterator<Item = f64>, values: &mut Vec<f64>) -> Summary {
    values.clear();
    values.extend(list);
    values.sort_unstable_by(f64::total_cmp);
    let (mean, sd) = summary::of_sorted(values);
    Summary {
        n: small(values.len()),
        mean,
        sd,
        min: values.first().copied().unwrap_or_default(),
        max: values.last().copied().unwrap_or_default(),
    }
}
