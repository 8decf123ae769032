//! How products stand against a control, in sentences: against bare, or the others against the benchmark.

use super::names;
use super::numbers::{Style, with_unit};
use crate::analysis::{Against, ControlRow, ControlTable, Word};
use crate::diag::{count, list};
use crate::study::{Direction, MeasureId, ProductId, Study, Treatment};

/// What products are held against.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Control {
    /// The bare sections.
    Bare,
    /// The product to beat.
    Benchmark(ProductId),
}

impl Control {
    /// `the bare sections`, `Sage Wax, the one to beat`.
    pub(super) fn full(self, study: &Study) -> String {
        match self {
            Self::Bare => "the bare sections".to_owned(),
            Self::Benchmark(id) => format!("{}, the one to beat", names::product(study, id)),
        }
    }

    /// `bare`, `Sage Wax`.
    pub(super) fn short(self, study: &Study) -> String {
        match self {
            Self::Bare => "bare".to_owned(),
            Self::Benchmark(id) => names::product(study, id),
        }
    }

    /// `7 of 12 products`, `7 of the other 11 products`.
    pub(super) fn of(self, n: usize, all: usize) -> String {
        match (self, n, all) {
            (Self::Bare, ..) => names::of_products(n, all),
            (_, 1, 1) => "the other product".to_owned(),
            (_, 2, 2) => "both other products".to_owned(),
            (_, n, all) if n == all => format!("all {all} other products"),
            (_, 0, all) => format!("none of the other {}", count(all, "product")),
            (_, n, all) => format!("{} of the other {}", names::some(n), count(all, "product")),
        }
    }

    fn again(self, study: &Study) -> String {
        if self == Self::Bare { self.full(study) } else { "it".to_owned() }
    }
}

/// The products of a table with a word that counts.
pub(super) fn with(table: &ControlTable, word: Word) -> usize {
    products(table).filter(|row| row.counted() == Ok(word)).count()
}

/// The rows of a table that are products.
pub(super) fn products(table: &ControlTable) -> impl Iterator<Item = &ControlRow> {
    table.rows.iter().filter(|row| matches!(row.treatment, Treatment::Product(_)))
}

/// The sentence, empty where there is nothing to say.
pub(super) fn sentence(
    study: &Study,
    measure: MeasureId,
    control: Control,
    table: Option<&ControlTable>,
    against: &Against,
) -> String {
    let (full, all) = (control.full(study), table.map_or(0, |table| products(table).count()));
    let sole =
        table.filter(|_| all == 1 && control == Control::Bare).and_then(|table| products(table).next());
    let sole = sole.map(|row| names::treatment(study, row.treatment));
    match (against, control) {
        (Against::NoControl, Control::Bare) => {
            "The study has no bare section, so that it says nothing about what a product adds.".to_owned()
        }
        (Against::NoControl, _) => format!("{full}, lies on no section."),
        (Against::ControlNotRead, Control::Bare) => {
            "No bare section has a number to compare at this round, so that nothing is said against bare."
                .to_owned()
        }
        (Against::ControlNotRead, _) => format!("{full}, has no number at this round."),
        (Against::NoProductRead, _) => String::new(),
        (Against::NotJudged(reason), _) => {
            format!(
                "Against {} no word is given: {}.",
                control.short(study),
                names::strength(*reason, names::unit(study, measure))
            )
        }
        (Against::AllAlike, _) => match sole {
            Some(name) => format!("{name} is alike to {full}."),
            None => format!("{} is alike to {full}.", every(control)),
        },
        (Against::NoneToldApart, _) => match sole {
            Some(name) => format!("{name} is not told apart from {full}, which does not make it alike."),
            None => format!("{} is told apart from {full}, which does not make them alike.", no(control)),
        },
        (Against::Told { better, worse, different }, _) => table.map_or_else(String::new, |table| {
            let told = Told { study, control, table, all };
            let plain = if study.measure(measure).direction == Direction::Neither {
                "differ from"
            } else {
                "did better than"
            };
            told.sentence(&[(better, plain), (worse, "did worse than"), (different, "differ from")])
        }),
    }
}

fn every(control: Control) -> &'static str {
    if control == Control::Bare { "Every product" } else { "Every other product" }
}

fn no(control: Control) -> &'static str {
    if control == Control::Bare { "No product" } else { "No other product" }
}

/// The differences themselves, each with its simultaneous interval and its numbers; of many the lowest and the highest.
pub(super) fn differences(
    study: &Study,
    measure: MeasureId,
    control: Control,
    table: &ControlTable,
) -> Option<String> {
    const FEW: usize = 3;
    let style = Style::of(study, study.measure(measure));
    let one = |row: &ControlRow| {
        Some(format!(
            "{} {} (from {} to {}; {}, {})",
            names::treatment(study, row.treatment),
            with_unit(&style.signed(row.difference), style.unit),
            style.end(row.interval?.low),
            style.end(row.interval?.high),
            names::units(study, measure, row.n),
            count(row.readings as usize, "reading"),
        ))
    };
    let told = |row: &&ControlRow| matches!(row.counted(), Ok(Word::Seen | Word::Measurable));
    let mut rows: Vec<&ControlRow> = products(table).filter(told).collect();
    rows.sort_by(|a, b| b.difference.total_cmp(&a.difference));
    let control = format!(
        "{} ({}, {}; intervals hold together at 95 %)",
        control.short(study),
        names::units(study, measure, table.control.n),
        count(table.control.readings as usize, "reading")
    );
    match rows.as_slice() {
        [] => None,
        few if few.len() <= FEW => {
            let few: Option<Vec<String>> = few.iter().map(|row| one(row)).collect();
            Some(format!("By difference to {control}: {}.", few?.join(", ")))
        }
        [most, .., least] => {
            Some(format!("By difference to {control}: from {} down to {}.", one(most)?, one(least)?))
        }
        [_] => None,
    }
}

struct Told<'a> {
    study: &'a Study,
    control: Control,
    table: &'a ControlTable,
    all: usize,
}

impl Told<'_> {
    fn sentence(&self, groups: &[(&Vec<ProductId>, &str)]) -> String {
        let mut parts: Vec<String> = Vec::new();
        for (ids, verb) in groups.iter().filter(|(ids, _)| !ids.is_empty()) {
            let than =
                if parts.is_empty() { self.control.full(self.study) } else { self.control.again(self.study) };
            // A name of two parts is closed before the sentence goes on.
            let seen = self.seen(ids);
            let joint = if seen.is_empty() { "" } else { ", " };
            parts.push(format!("{} {verb} {than}{joint}{seen}", self.named(ids, parts.is_empty())));
        }
        let is = |n: usize| if n == 1 { "is" } else { "are" };
        let to = if self.control == Control::Bare { "them" } else { "it" };
        let (alike, open) = (with(self.table, Word::Alike), with(self.table, Word::NotSettled));
        if alike > 0 {
            parts.push(format!("{} {} alike to {to}", names::some(alike), is(alike)));
        }
        if open > 0 {
            parts.push(format!("{} {} not settled", names::some(open), is(open)));
        }
        format!("{}.", names::capital(&parts.join("; ")))
    }

    // Of how many is said once a sentence.
    fn named(&self, ids: &[ProductId], first: bool) -> String {
        if ids.len() <= 3 && (ids.len() < self.all || self.all == 1) {
            list(&names::products(self.study, ids), "and")
        } else if first {
            self.control.of(ids.len(), self.all)
        } else {
            names::some(ids.len())
        }
    }

    fn seen(&self, ids: &[ProductId]) -> String {
        let rows = products(self.table).filter(|row| row.counted() == Ok(Word::Seen));
        let seen = rows.filter(|row| ids.iter().any(|&id| row.treatment == Treatment::Product(id))).count();
        match (seen, ids.len()) {
            (0, _) => String::new(),
            (1, 1) => "by a difference that is seen".to_owned(),
            (n, all) if n == all => "all by a difference that is seen".to_owned(),
            (n, _) => format!("{} of them by a difference that is seen", names::some(n)),
        }
    }
}
