//! Puts readings in the order of their cells, numbers them and gives each cell its numbers.

use super::hands::{hands, in_order};
use super::model::{Apart, ApartCell, Cell, Context, Readings, Refused, Summary};
use super::shelf::{Kind, Packed, Part, Shelf, Stretch};
use super::stage::{Own, Pile, Said, Shape, Stage, small};
use std::collections::BTreeMap;
use std::ops::Range;
use std::sync::Mutex;

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
        let hands = hands(rows / SHARED);
        let counts = in_order(hands, shelves.len(), |at| counts(&shelves[at]));
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
        let filled = in_order(hands, jobs.len(), |at| {
            let job = jobs[at].lock().unwrap_or_else(std::sync::PoisonError::into_inner).take();
            job.map(|job| job.filled(shape, small(at), &contexts)).unwrap_or_default()
        });
        drop(jobs);
        // Cells that no section carries have the highest keys.
        let sections = cells.partition_point(|cell| apart(shape.own, cell).is_none());
        let apart_cells = cells.split_off(sections);
        let apart_cells =
            apart_cells.into_iter().filter_map(|cell| Some(ApartCell { at: apart(shape.own, &cell)?, cell }));
        let mut readings = Readings {
            apart: apart_cells.collect(),
            cells,
            shelves: filled,
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

/// Readings of one pile that share a cell and a context, side by side.
struct CellRun {
    cell: usize,
    context: u32,
    list: usize,
    rows: Range<usize>,
}

/// The piles of a shelf, and the cell of each of their spots.
struct Piles {
    piles: Vec<(u32, Pile)>,
    cell_of: Vec<Vec<usize>>,
}

impl Piles {
    fn new(piles: Vec<(u32, Pile)>, counts: &[(usize, u32)]) -> Self {
        let place = |key| counts.binary_search_by_key(&key, |&(key, _)| key).unwrap_or_default();
        let cell_of = |pile: &Pile| pile.spots.iter().map(|pair| place(pair.key)).collect();
        Self { cell_of: piles.iter().map(|(_, pile)| cell_of(pile)).collect(), piles }
    }

    /// The runs of the shelf, pieces in the order of the files, whichever reader had them.
    fn runs(&self) -> impl Iterator<Item = CellRun> {
        let mut pieces: Vec<(u32, u32, usize, Range<usize>)> = Vec::new();
        for (list, (file, pile)) in self.piles.iter().enumerate() {
            let mut from = 0;
            for &(piece, end) in &pile.pieces {
                pieces.push((*file, piece, list, from..end as usize));
                from = end as usize;
            }
        }
        pieces.sort_unstable_by_key(|&(file, piece, list, _)| (file, piece, list));
        pieces.into_iter().flat_map(move |(_, _, list, runs)| {
            let (pile, cell_of) = (&self.piles[list].1, &self.cell_of[list]);
            let mut from = runs.start.checked_sub(1).map_or(0, |last| pile.runs[last].end);
            pile.runs[runs].iter().map(move |run| {
                let (spot, rows) = (run.spot as usize, from as usize..run.end as usize);
                from = run.end;
                CellRun { cell: cell_of[spot], context: pile.spots[spot].context, list, rows }
            })
        })
    }

    /// The numbers in the file of the readings of a run, by their places on the shelf; the first goes to `before`.
    fn numbers(&self, run: &CellRun, before: u32) -> impl Iterator<Item = (u32, u32)> {
        let (numbers, from, end) = (&self.piles[run.list].1.numbers, small(run.rows.start), run.rows.end);
        let first = numbers.partition_point(|&(at, _)| at < from);
        let own = numbers[first..].iter().take_while(move |&&(at, _)| (at as usize) < end);
        own.map(move |&(at, number)| (before + (at - from), number))
    }

    /// The shelf of these piles; `next` is where each cell begins.
    fn shelf(self, next: Vec<u32>, len: u32) -> Shelf {
        let runs: usize = self.piles.iter().map(|(_, pile)| pile.runs.len()).sum();
        // Where cells mostly change from reading to reading, those of each are brought together.
        let mut shelf = if runs * 2 > len as usize { self.gathered(next, len) } else { self.kept(next, len) };
        // A stretch goes on in the next where that lies behind it.
        shelf.stretches.dedup_by(|next, last| {
            (next.list, next.context) == (last.list, last.context)
                && next.from.checked_sub(last.from) == Some(next.before - last.before)
        });
        shelf.stretches.shrink_to_fit();
        shelf.numbers.sort_unstable();
        shelf
    }

    /// The readings in one list in their order.
    fn gathered(self, mut next: Vec<u32>, len: u32) -> Shelf {
        const BLANK: Packed = Packed { value: 0.0, at: 0, length: 0, kind: Kind::NotTaken, marks: 0 };
        let mut rows = vec![BLANK; len as usize];
        let mut contexts = vec![0; len as usize];
        let mut numbers = Vec::new();
        for run in self.runs() {
            let before = next[run.cell];
            numbers.extend(self.numbers(&run, before));
            next[run.cell] += small(run.rows.len());
            let places = before as usize..next[run.cell] as usize;
            contexts[places.clone()].fill(run.context);
            rows[places].copy_from_slice(&self.piles[run.list].1.rows[run.rows]);
        }
        let mut before = 0;
        let stretches = contexts.chunk_by(|one, next| one == next).map(|own| {
            let stretch = Stretch { before, list: 0, from: before, context: own[0] };
            before += small(own.len());
            stretch
        });
        Shelf { stretches: stretches.collect(), lists: vec![rows], numbers, len }
    }

    /// The readings where they are.
    fn kept(self, mut next: Vec<u32>, len: u32) -> Shelf {
        let (mut stretches, mut numbers) = (Vec::with_capacity(next.len()), Vec::new());
        for run in self.runs() {
            let before = next[run.cell];
            numbers.extend(self.numbers(&run, before));
            next[run.cell] += small(run.rows.len());
            let CellRun { context, list, rows, .. } = run;
            stretches.push(Stretch { before, list: small(list), from: small(rows.start), context });
        }
        stretches.sort_unstable_by_key(|one| one.before);
        let lists = self.piles.into_iter().map(|(_, pile)| pile.rows).collect();
        Shelf { lists, stretches, numbers, len }
    }
}

impl Job<'_> {
    /// Gives the readings of the shelf in the order of its cells, and the cells their numbers.
    fn filled(self, shape: Shape, number: u32, contexts: &[Context]) -> Shelf {
        let Self { piles, counts, cells } = self;
        let piles = Piles::new(piles, &counts);
        let mut starts = Vec::with_capacity(counts.len());
        let mut start = 0;
        for (cell, &(key, len)) in cells.iter_mut().zip(&counts) {
            starts.push(start);
            *cell = Cell::empty(shape.ids(key), (number, start, len));
            start += len;
        }
        let shelf = piles.shelf(starts, start);
        let mut values = Vec::new();
        for cell in cells {
            summarise(cell, &shelf, contexts, &mut values);
        }
        shelf
    }
}

/// For so many readings a thread more is worth it. Measured.
const SHARED: usize = 1 << 15;

/// Gives the cells of which readings are left out their numbers once more.
pub(super) fn leave_out(readings: &mut Readings) {
    let Readings { cells, shelves, contexts, left_out, .. } = readings;
    let mut values = Vec::new();
    for cell in cells {
        let own = cell.place(0)..cell.place(cell.rows());
        let first = left_out.partition_point(|&(place, _)| place < own.start);
        if left_out.get(first).is_some_and(|&(place, _)| place < own.end)
            && let Some(shelf) = shelves.get(cell.shelf as usize)
        {
            summarise(cell, shelf, contexts, &mut values);
        }
    }
}

/// Gives a cell its numbers.
fn summarise(cell: &mut Cell, shelf: &Shelf, contexts: &[Context], values: &mut Vec<f64>) {
    (cell.left_out, cell.below_gauge, cell.not_taken, cell.blank) = (0, 0, 0, 0);
    (cell.dates, cell.numbered) = (None, false);
    values.clear();
    for Part { context, rows, .. } in shelf.parts(cell.range()) {
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
        }
        if let Some(date) = contexts.get(context as usize).and_then(|context| context.date) {
            let (from, to) = cell.dates.unwrap_or((date, date));
            cell.dates = Some((from.min(date), to.max(date)));
        }
    }
    cell.taken = small(values.len());
    if cell.left_out > 0 {
        values.clear();
        let rows = shelf.parts(cell.range()).flat_map(|part| part.rows);
        let kept = rows.filter(|one| one.is_kept_number());
        values.extend(kept.map(|one| one.value));
    }
    cell.kept = Summary::of(values);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalog::Catalog;
    use crate::readings::stage::Pending;
    use crate::stats::random::Generator;

    const STUDY: &str = "study \"Shelf\"
    begins 2026-03-02
surface lid
    size 900 x 700 mm
product ash
map sections 200 x 200 mm gap 10 mm
    | ash bare |
    | bare ash |
rounds
    baseline on 2026-03-02  gloss-20 3 times
    month 1 on 2026-04-02  gloss-20 3 times
";

    /// A remark, a value and a number.
    type Told = (u32, f64, u32);
    type Keyed = (usize, Told);
    type Way = fn(Piles, Vec<u32>, u32) -> Shelf;

    /// The piles of two readers who share the pieces of a file, and its readings in order, each with its cell.
    fn piles(seed: u64, longest: usize) -> (Vec<(u32, Pile)>, Vec<Keyed>) {
        let (tree, _) = crate::syntax::parse(STUDY);
        let (study, _) = crate::study::resolve(&tree, Catalog::built_in(), None);
        let shape = Shape::of(&study, 0);
        let mut generator = Generator::new(seed);
        let mut stages = [Stage::new(shape), Stage::new(shape)];
        let mut all = Vec::new();
        for piece in 0..40 {
            let stage = &mut stages[generator.below(2)];
            for _ in 0..generator.below(9) {
                let (section, round, note) = (generator.below(4), generator.below(2), generator.below(3));
                let key = stage.key(small(section), small(round), 0);
                let by = Some(small(note));
                let context = Context { file: 0, date: None, gauge: None, by, note: None };
                let context = stage.context(context, all.len());
                for _ in 0..=generator.below(longest) {
                    let (value, number) = (all.len() as f64, small(generator.below(4) * generator.below(3)));
                    let marks = if number > 0 { Packed::NUMBERED } else { 0 };
                    let reading = Packed { value, at: small(all.len()), length: 1, kind: Kind::Taken, marks };
                    stage.put(Pending { key, context, number, reading });
                    all.push((key, (small(note), value, number)));
                }
            }
            stage.end_piece(piece);
        }
        for stage in &mut stages {
            for name in ["one", "two", "three"] {
                stage.word(name, Said::Name, 0);
            }
            stage.count();
        }
        let mut builder = Builder::new(shape);
        builder.absorb(stages.into(), 0);
        let by = |context: u32| builder.contexts[context as usize].by.unwrap();
        let mut piles = builder.shelves.remove(0);
        for pair in piles.iter_mut().flat_map(|(_, pile)| &mut pile.spots) {
            pair.context = by(pair.context);
        }
        all.sort_by_key(|&(key, _)| key);
        (piles, all)
    }

    fn told(shelf: &Shelf) -> Vec<Told> {
        let rows = shelf.parts(0..shelf.len).flat_map(|part| {
            part.rows
                .iter()
                .zip(part.at..)
                .map(move |(row, at)| (part.context, row.value, shelf.number(at).unwrap_or(0)))
        });
        rows.collect()
    }

    #[test]
    fn readings_come_in_the_order_of_their_cells_whether_they_stay_or_are_gathered() {
        for seed in 0..60 {
            for longest in [1, 3, 30] {
                let starts = |piles: &[(u32, Pile)]| {
                    let counts = counts(piles);
                    let starts = counts.iter().scan(0, |start, &(_, len)| {
                        let own = *start;
                        *start += len;
                        Some(own)
                    });
                    (starts.collect::<Vec<u32>>(), counts)
                };
                let (_, wanted) = piles(seed, longest);
                let wanted: Vec<Told> = wanted.into_iter().map(|(_, told)| told).collect();
                let len = small(wanted.len());
                let ways: [Way; 3] = [Piles::shelf, Piles::gathered, Piles::kept];
                for way in ways {
                    let (all, _) = piles(seed, longest);
                    let (starts, counts) = starts(&all);
                    let mut shelf = way(Piles::new(all, &counts), starts, len);
                    shelf.numbers.sort_unstable();
                    assert_eq!(told(&shelf), wanted, "{seed} {longest}");
                }
            }
        }
    }
}
