//! Puts readings in the order of their cells, numbers them and gives each cell its numbers.

use super::model::{Apart, ApartCell, Cell, Context, Kind, Packed, Readings, Refused, Summary};
use super::recent::mix;
use crate::stats::summary;
use crate::study::{MeasureId, RoundId, SectionId, Study};
use std::collections::{BTreeMap, HashMap};
use std::thread;

/// Up to this many section x round x measure places a plain table finds a cell; 16 MiB, of which only used pages are real.
const TABLE: usize = 1 << 22;

/// Finds the cell that a row belongs to.
#[derive(Debug)]
enum Slots {
    Table(Vec<u32>),
    Map(HashMap<usize, u32>),
}

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

    /// What a cell belongs to, if no section carries it.
    fn apart(self, cell: &Cell) -> Option<Apart> {
        match cell.section.index() {
            section if section == self.tile() => Some(Apart::Tile(cell.round)),
            section if section == self.panel() => Some(Apart::Prep(cell.round.index() - self.rounds)),
            _ => None,
        }
    }
}

/// Readings in the order of the files, until [`Builder::finish`].
#[derive(Debug)]
pub(super) struct Builder {
    own: Own,
    rounds: usize,
    measures: usize,
    slots: Slots,
    /// The key of each cell, in order of its first row.
    keys: Vec<usize>,
    packed: Vec<Packed>,
    cell_of: Vec<u32>,
    contexts: Vec<Context>,
    context_ids: HashMap<Context, u32>,
    /// Contexts met lately, by a number made of them; it spares the search in the map.
    recent: Vec<Option<(Context, u32)>>,
    words: Vec<String>,
    word_ids: HashMap<String, u32>,
    refused: BTreeMap<Refused, u32>,
}

/// How many contexts are remembered for a quick answer.
const RECENT: usize = 1 << 12;

fn context_place(context: &Context) -> usize {
    let day = context.date.map_or(0, |date| {
        let (month, day) = (u64::from(date.month().unsigned_abs()), u64::from(date.day().unsigned_abs()));
        (u64::from(date.year().unsigned_abs()) * 12 + month) * 31 + day
    });
    let word = |id: Option<u32>| u64::from(id.map_or(0, |id| id + 1));
    mix(day << 40 ^ word(context.gauge) << 20 ^ word(context.by), RECENT)
}

fn small(n: usize) -> u32 {
    u32::try_from(n).unwrap_or(u32::MAX)
}

impl Builder {
    /// For the sections, rounds and measures of a study.
    pub(super) fn new(study: &Study) -> Self {
        let own = Own::of(study);
        let (sections, rounds) = (own.sections + 2, own.rounds + study.prep_readings().count());
        let measures = study.measures.len();
        let places = sections.saturating_mul(rounds).saturating_mul(measures);
        Self {
            own,
            rounds,
            measures,
            slots: if places <= TABLE { Slots::Table(vec![0; places]) } else { Slots::Map(HashMap::new()) },
            keys: Vec::new(),
            packed: Vec::new(),
            cell_of: Vec::new(),
            contexts: Vec::new(),
            context_ids: HashMap::new(),
            recent: vec![None; RECENT],
            words: Vec::new(),
            word_ids: HashMap::new(),
            refused: BTreeMap::new(),
        }
    }

    /// Makes room for so many readings more.
    pub(super) fn reserve(&mut self, readings: usize) {
        self.packed.reserve(readings);
        self.cell_of.reserve(readings);
    }

    /// The number of a cell, made at its first row.
    pub(super) fn cell(&mut self, section: u32, round: u32, measure: u32) -> u32 {
        self.slot((section as usize * self.rounds + round as usize) * self.measures + measure as usize)
    }

    fn slot(&mut self, key: usize) -> u32 {
        let next = small(self.keys.len());
        match &mut self.slots {
            // The table holds the number plus one, so that fresh memory means "none yet".
            Slots::Table(table) => {
                let Some(slot) = table.get_mut(key) else { return next };
                if *slot == 0 {
                    *slot = next + 1;
                    self.keys.push(key);
                }
                *slot - 1
            }
            Slots::Map(map) => {
                let id = *map.entry(key).or_insert(next);
                if id == next {
                    self.keys.push(key);
                }
                id
            }
        }
    }

    /// The number of a context.
    pub(super) fn context(&mut self, context: Context) -> u32 {
        let place = context_place(&context);
        if let Some(Some((known, id))) = self.recent.get(place)
            && *known == context
        {
            return *id;
        }
        let next = small(self.contexts.len());
        let id = *self.context_ids.entry(context).or_insert(next);
        if id == next {
            self.contexts.push(context);
        }
        if let Some(slot) = self.recent.get_mut(place) {
            *slot = Some((context, id));
        }
        id
    }

    /// The number of a gauge's or a person's name. Capitals make no other name; the first spelling is kept.
    pub(super) fn word(&mut self, word: &str) -> u32 {
        let folded = word.to_lowercase();
        if let Some(&id) = self.word_ids.get(&folded) {
            return id;
        }
        let id = small(self.words.len());
        self.words.push(word.to_owned());
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
    pub(super) fn push(&mut self, cell: u32, reading: Packed) {
        self.packed.push(reading);
        self.cell_of.push(cell);
    }

    /// Adds what was read from the next part, or from the next file.
    pub(super) fn absorb(&mut self, next: Self) {
        if self.contexts.is_empty() && self.refused.is_empty() {
            *self = next;
            return;
        }
        let words: Vec<u32> = next.words.iter().map(|word| self.word(word)).collect();
        let own = |word: Option<u32>| word.map(|word| words[word as usize]);
        let of = |context: &Context| Context { gauge: own(context.gauge), by: own(context.by), ..*context };
        let contexts: Vec<u32> = next.contexts.iter().map(|context| self.context(of(context))).collect();
        let cells: Vec<u32> = next.keys.iter().map(|&key| self.slot(key)).collect();
        self.packed
            .extend(next.packed.iter().map(|one| Packed { context: contexts[one.context as usize], ..*one }));
        self.cell_of.extend(next.cell_of.iter().map(|&cell| cells[cell as usize]));
        for (refused, rows) in next.refused {
            *self.refused.entry(refused).or_default() += rows;
        }
    }

    /// How many readings were added so far.
    pub(super) fn len(&self) -> usize {
        self.packed.len()
    }

    /// The readings that have no date, as how many and the first.
    pub(super) fn undated(&self) -> Option<(usize, Packed)> {
        if self.contexts.iter().all(|context| context.date.is_some()) {
            return None;
        }
        let undated = |one: &&Packed| {
            !matches!(one.kind, Kind::NotTaken | Kind::Blank)
                && self.contexts.get(one.context as usize).is_some_and(|context| context.date.is_none())
        };
        let mut list = self.packed.iter().filter(undated);
        let one = *list.next()?;
        Some((1 + list.count(), one))
    }

    /// Sorts the cells by section, round and measure and the readings by cell. Numbers of cells are not made yet.
    pub(super) fn finish(self) -> Readings {
        let mut order: Vec<u32> = (0..small(self.keys.len())).collect();
        order.sort_unstable_by_key(|&id| self.keys[id as usize]);
        let mut lengths = vec![0_u32; self.keys.len()];
        for &cell in &self.cell_of {
            lengths[cell as usize] += 1;
        }
        let mut next = vec![0_u32; self.keys.len()];
        let mut cells = Vec::with_capacity(order.len());
        let mut start = 0;
        for &id in &order {
            let (key, len) = (self.keys[id as usize], lengths[id as usize]);
            next[id as usize] = start;
            if len > 0 {
                cells.push(self.empty_cell(key, start, len));
            }
            start += len;
        }
        let blank =
            Packed { value: 0.0, at: 0, number: 0, context: 0, length: 0, kind: Kind::NotTaken, marks: 0 };
        let mut packed = vec![blank; self.packed.len()];
        for (reading, &cell) in self.packed.iter().zip(&self.cell_of) {
            let at = &mut next[cell as usize];
            packed[*at as usize] = *reading;
            *at += 1;
        }
        // Cells that no section carries have the highest keys.
        let sections = cells.iter().take_while(|cell| self.own.apart(cell).is_none()).count();
        let apart = cells.split_off(sections);
        let apart = apart.into_iter().filter_map(|cell| Some(ApartCell { at: self.own.apart(&cell)?, cell }));
        Readings {
            apart: apart.collect(),
            cells,
            packed,
            contexts: self.contexts,
            words: self.words,
            refused: self.refused,
            ..Readings::default()
        }
    }

    fn empty_cell(&self, key: usize, start: u32, len: u32) -> Cell {
        let (rest, measure) = (key / self.measures.max(1), key % self.measures.max(1));
        Cell {
            section: SectionId::new(rest / self.rounds.max(1)),
            round: RoundId::new(rest % self.rounds.max(1)),
            measure: MeasureId::new(measure),
            kept: Summary::default(),
            all: Summary::default(),
            below_gauge: 0,
            not_taken: 0,
            blank: 0,
            left_out: 0,
            doubled: 0,
            dates: None,
            start,
            len,
        }
    }
}

/// Fewer readings than this are not worth a thread. Measured.
const SHARED: usize = 1 << 16;
/// So many threads share the others; the result does not depend on their number.
const SHARES: usize = 4;

/// Does some work on every cell and its readings, with the contexts of all.
fn for_each(readings: &mut Readings, work: impl Fn(&mut Cell, &mut [Packed], &[Context]) + Sync) {
    let Readings { cells, apart, packed, contexts, .. } = readings;
    let shares = if packed.len() < SHARED { 1 } else { SHARES };
    let share = cells.len().div_ceil(shares).max(1);
    let work = &work;
    let contexts: &[Context] = contexts;
    let (mut rest, mut start) = (packed.as_mut_slice(), 0);
    let mut parts: Vec<(&mut [Cell], &mut [Packed], usize)> = Vec::new();
    for part in cells.chunks_mut(share) {
        let end = part.last().map_or(start, |cell| cell.range().end);
        let (own, after) = rest.split_at_mut(end - start);
        parts.push((part, own, start));
        (rest, start) = (after, end);
    }
    let one = move |(cells, packed, start): (&mut [Cell], &mut [Packed], usize)| {
        for cell in cells {
            let range = cell.range();
            work(cell, packed.get_mut(range.start - start..range.end - start).unwrap_or_default(), contexts);
        }
    };
    thread::scope(|scope| {
        let last = parts.pop();
        for part in parts {
            scope.spawn(move || one(part));
        }
        last.into_iter().for_each(one);
    });
    for ApartCell { cell, .. } in apart {
        let range = cell.range();
        work(cell, rest.get_mut(range.start - start..range.end - start).unwrap_or_default(), contexts);
    }
}

/// Numbers the readings that the file does not number: their order in the cell, file by file.
pub(super) fn number(readings: &mut Readings) {
    for_each(readings, |_, packed, contexts| {
        let (mut file, mut number) = (None, 0);
        for reading in packed {
            let own = contexts.get(reading.context as usize).map(|context| context.file);
            number = if own == file { number + 1 } else { 1 };
            file = own;
            if !reading.is(Packed::NUMBERED) {
                reading.number = number;
            }
        }
    });
}

/// Gives every cell its numbers.
pub(super) fn summarise(readings: &mut Readings) {
    for_each(readings, |cell, packed, contexts| {
        let mut values = Vec::with_capacity(packed.len());
        let packed: &[Packed] = packed;
        let of = |packed: &Packed| contexts.get(packed.context as usize)?.date;
        // Neighbours mostly share their context, so its date is looked up once.
        let mut last = u32::MAX;
        for reading in packed {
            let out = reading.is(Packed::LEFT_OUT);
            cell.left_out += u32::from(out);
            match reading.kind {
                Kind::Taken | Kind::Blank => {}
                Kind::BelowGauge => cell.below_gauge += u32::from(!out),
                Kind::NotTaken => cell.not_taken += u32::from(!out),
            }
            cell.blank += u32::from(reading.kind == Kind::Blank);
            if reading.context != last {
                last = reading.context;
                if let Some(date) = of(reading) {
                    let (from, to) = cell.dates.unwrap_or((date, date));
                    cell.dates = Some((from.min(date), to.max(date)));
                }
            }
        }
        let taken = packed.iter().filter(|one| one.kind == Kind::Taken);
        cell.all = summary_of(taken.clone().map(|one| one.value), &mut values);
        cell.kept = if cell.left_out == 0 {
            cell.all
        } else {
            summary_of(taken.filter(|one| !one.is(Packed::LEFT_OUT)).map(|one| one.value), &mut values)
        };
    });
}

pub(super) fn summary_of(list: impl Iterator<Item = f64>, values: &mut Vec<f64>) -> Summary {
    values.clear();
    values.extend(list);
    values.sort_unstable_by(f64::total_cmp);
    Summary {
        n: small(values.len()),
        mean: summary::mean(values),
        sd: summary::sd(values),
        min: values.first().copied().unwrap_or_default(),
        max: values.last().copied().unwrap_or_default(),
    }
}
