//! How products stand against a control, in sentences: against bare, or the others against the benchmark.

use super::names;
use super::numbers::{self, Style, with_unit};
use super::stopped;
use crate::analysis::{Against, ControlRow, ControlTable, Farther, Strength, Word};
use crate::speech::{count, list, say};
use crate::study::{Direction, MeasureId, ProductId, Study, Treatment};

/// What products are held against.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Control {
    /// The bare sections.
    Bare,
    /// The product to beat.
    Benchmark(ProductId),
    /// Sections without a product that are not bare: the carrier alone, or untouched.
    Productless(Treatment),
}

impl Control {
    /// `the bare sections`, `Sage Wax, the one to beat`.
    pub(super) fn full(self, study: &Study) -> String {
        match self {
            Self::Bare => say!("the bare sections").to_owned(),
            Self::Benchmark(id) => say!("{product}, the one to beat", product = names::product(study, id)),
            Self::Productless(_) => self.short(study),
        }
    }

    /// `bare`, `Sage Wax`.
    pub(super) fn short(self, study: &Study) -> String {
        match self {
            Self::Bare => say!("bare").to_owned(),
            Self::Benchmark(id) => names::product(study, id),
            Self::Productless(Treatment::CarrierOnly) => say!("the carrier alone").to_owned(),
            Self::Productless(_) => say!("what is untouched").to_owned(),
        }
    }

    /// `7 of 12 products`, `7 of the other 11 products`.
    pub(super) fn of(self, n: usize, all: usize, absent: bool) -> String {
        match (self, n, all) {
            (Self::Bare | Self::Productless(_), ..) => names::of_compared(n, all, absent),
            (_, 1, 1) => say!("the other product").to_owned(),
            (_, 2, 2) => say!("both other products").to_owned(),
            (_, n, all) if n == all => say!("all {all} other products", all),
            (_, 0, all) => say!("none of the other {products}", products = count(all, "product")),
            (_, n, all) => {
                say!("{n} of the other {products}", n = names::some(n), products = count(all, "product"))
            }
        }
    }

    fn again(self, study: &Study) -> String {
        if self == Self::Bare { self.full(study) } else { say!("it").to_owned() }
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

/// The sentence, empty where there is nothing to say; where one before it has told the limit of what is seen, that is not told again.
pub(super) fn sentence(
    (study, measure): (&Study, MeasureId),
    control: Control,
    table: Option<&ControlTable>,
    against: &Against,
    before: Option<&str>,
) -> String {
    let (full, all) = (control.full(study), table.map_or(0, |table| products(table).count()));
    let sole =
        table.filter(|_| all == 1 && control == Control::Bare).and_then(|table| products(table).next());
    let sole = sole.map(|row| names::treatment(study, row.treatment));
    match (against, control) {
        (Against::NoControl, Control::Bare) => say!(
            "The study has no bare section, so that it says nothing about what a product adds to a bare one."
        )
        .to_owned(),
        (Against::NoControl, _) => say!("{full}, lies on no section.", full),
        (Against::ControlNotRead, Control::Bare) => say!(
            "No bare section has a number to compare at this round, so that nothing is said against bare."
        )
        .to_owned(),
        (Against::ControlNotRead, _) => say!("{full}, has no number at this round.", full),
        (Against::NoProductRead, _) => String::new(),
        (Against::NotJudged(Strength::Bound), _)
            if table.is_some_and(|table| table.control_until.is_some()) =>
        {
            table.map_or_else(String::new, |table| stopped(study, measure, control, table))
        }
        (Against::NotJudged(reason), _) => {
            say!(
                "Against {short} no word is given: {strength}.",
                short = control.short(study),
                strength = names::strength(*reason, names::unit(study, measure))
            )
        }
        (Against::AllAlike, _) => match sole {
            Some(name) => say!("{name} is alike to {full}.", name, full),
            None => say!("{control} is alike to {full}.", full, control = every(control, table)),
        },
        (Against::NoneToldApart, _) => match sole {
            Some(name) => {
                say!("{name} is not told apart from {full}, which does not make it alike.", name, full)
            }
            None => say!(
                "{control} is told apart from {full}, which does not make them alike.",
                full,
                control = no(control, table)
            ),
        },
        (Against::Told { better, worse, different }, _) => table.map_or_else(String::new, |table| {
            let told = Told { study, measure, control, table, all };
            let plain: Verb =
                if study.measure(measure).direction == Direction::Neither { differ } else { did_better };
            let limit = before.is_some_and(|before| before.contains(say!("\"seen\"")));
            told.sentence(&[(better, plain), (worse, did_worse), (different, differ)], limit)
        }),
    }
}

/// Against sections that were stopped: when they were last read.
fn stopped(study: &Study, measure: MeasureId, control: Control, table: &ControlTable) -> String {
    let round = table.control_until.map_or_else(Default::default, |round| names::round(study, round));
    say!(
        "Against {short} no word is given: sections of it were stopped, and all were last read at {round}. By {measure} at {round} the \
         comparison with them stands in the table of further looks.",
        short = control.short(study),
        round,
        measure = names::measure(study, measure)
    )
}

/// The word of a row, or when the control was last read, where that is why there is none.
pub(super) fn word(study: &Study, control: Control, table: &ControlTable, row: &ControlRow) -> String {
    match (row.word, table.control_until, table.control_last) {
        (Err(Strength::Bound), Some(_), Some(round)) => {
            let round = names::round(study, round);
            say!("{short} last at {round}", short = control.short(study), round)
        }
        (Err(Strength::Bound), Some(_), None) => {
            say!("{short} stopped in part", short = control.short(study))
        }
        (word, ..) => word.map_or(numbers::DASH, names::word).to_owned(),
    }
}

/// What rows mean in which sections stand as they were when they were stopped.
pub(super) fn of_stopped<'t>(
    study: &Study,
    control: Control,
    tables: impl Iterator<Item = &'t ControlTable>,
) -> Vec<String> {
    let (mut open, mut last, mut part) = (false, false, false);
    for table in tables {
        let bound =
            table.control_until.is_some() && table.rows.iter().any(|row| row.word == Err(Strength::Bound));
        open |= table.rows.iter().any(|row| row.farther != Farther::No);
        last |= bound && table.control_last.is_some();
        part |= bound && table.control_last.is_none();
    }
    let short = control.short(study);
    let open = open.then(|| {
        say!("≥, ≤, or no interval: sections on a side of the difference were stopped and count as they stood then. They could only \
             have gone on as bad or worse, so that the difference has no end on that side, and no p; among further looks it counts with p = 1.").to_owned()
    });
    let last = last.then(|| {
        say!("Where {short} stands with a round in place of a word, that is the last at which any section of {short} was read.", short)
    });
    let part = part.then(|| {
        say!("Stopped in part: some sections of {short} were no longer read at that round, and count as they stood at the stop.", short)
    });
    open.into_iter().chain(last).chain(part).collect()
}

/// Why single rows of a table that has words have none.
pub(super) fn unsaid(rows: &[&ControlRow], study: &Study, to: &str) -> Vec<String> {
    if rows.iter().all(|row| row.word.is_err())
        && !rows.iter().any(|row| matches!(row.word, Err(Strength::Bound | Strength::Flat)))
    {
        return Vec::new();
    }
    let of = |why: Strength| {
        let rows = rows.iter().filter(|row| row.word == Err(why));
        let names: Vec<String> = rows.map(|row| names::treatment(study, row.treatment)).collect();
        (!names.is_empty()).then(|| list(&names, "and"))
    };
    let at_end = of(Strength::AtEnd).map(|names| {
        say!(
            "No word for {names}: there and on {to} every section sits at the same end of the scale, and differences beyond it \
             cannot be told.",
            names,
            to
        )
    });
    let bound = of(Strength::Bound).map(|names| {
        say!(
            "No word for {names}: a side of the difference is a bound and no value, since sections on it were stopped and count \
             with their last value, or fell below the gauge. A word is given only where what is missing would widen the difference.",
            names
        )
    });
    let flat = of(Strength::Flat).map(|names| {
        say!(
            "No word for {names}: there or on {to} all sections read the same, so that a side has no spread of its own and the difference \
             no interval.",
            names,
            to
        )
    });
    at_end.into_iter().chain(bound).chain(flat).collect()
}

/// Whether a product could not be compared in a table.
pub(super) fn lacks_products(table: &ControlTable) -> bool {
    table.absent.iter().any(|treatment| matches!(treatment, Treatment::Product(_)))
}

fn every(control: Control, table: Option<&ControlTable>) -> &'static str {
    match control {
        Control::Bare if table.is_some_and(lacks_products) => say!("Every product that can be compared"),
        Control::Bare => say!("Every product"),
        _ => say!("Every other product"),
    }
}

fn no(control: Control, table: Option<&ControlTable>) -> &'static str {
    match control {
        Control::Bare if table.is_some_and(lacks_products) => say!("No product that can be compared"),
        Control::Bare => say!("No product"),
        _ => say!("No other product"),
    }
}

/// Who stands how to what, and how much of it is seen.
type Verb = fn(&str, &str, &str) -> String;

fn did_better(who: &str, than: &str, seen: &str) -> String {
    say!("{who} did better than {than}{seen}", who, than, seen)
}

fn did_worse(who: &str, than: &str, seen: &str) -> String {
    say!("{who} did worse than {than}{seen}", who, than, seen)
}

fn differ(who: &str, than: &str, seen: &str) -> String {
    say!("{who} differ from {than}{seen}", who, than, seen)
}

/// The differences themselves, each with its simultaneous interval and its numbers; of many the lowest and the highest.
pub(super) fn differences(
    (study, measure): (&Study, MeasureId),
    style: Style<'_>,
    control: Control,
    table: &ControlTable,
) -> Option<String> {
    const FEW: usize = 3;
    let style = style.as_sure_as(table.standard_error());
    let one = |row: &ControlRow| {
        if let Some(open) = row.interval.filter(|interval| interval.is_open()) {
            return Some(say!(
                "{treatment} {difference} ({bound}; {units}, {readings})",
                treatment = names::treatment(study, row.treatment),
                difference = with_unit(
                    &stopped::difference(style, row.difference, row.farther).text,
                    style.difference_unit()
                ),
                bound = style.span(open.low, open.high),
                units = names::units(study, measure, row.n),
                readings = count(row.readings as usize, "reading")
            ));
        }
        Some(say!(
            "{treatment} {difference} (from {low} to {high}; {units}, {readings})",
            treatment = names::treatment(study, row.treatment),
            difference = with_unit(&style.signed(row.difference), style.difference_unit()),
            low = style.end(row.interval?.low),
            high = style.end(row.interval?.high),
            units = names::units(study, measure, row.n),
            readings = count(row.readings as usize, "reading")
        ))
    };
    let told = |row: &&ControlRow| matches!(row.counted(), Ok(Word::Seen | Word::Measurable));
    let mut rows: Vec<&ControlRow> = products(table).filter(told).collect();
    rows.sort_by(|a, b| b.difference.total_cmp(&a.difference));
    let control = say!(
        "{control} ({units}, {readings}; intervals hold together at 95 %)",
        control = control.short(study),
        units = names::units(study, measure, table.control.n),
        readings = count(table.control.readings as usize, "reading")
    );
    match rows.as_slice() {
        [] => None,
        few if few.len() <= FEW => {
            let few: Option<Vec<String>> = few.iter().map(|row| one(row)).collect();
            Some(say!("By difference to {control}: {differences}.", control, differences = few?.join(", ")))
        }
        [most, .., least] => Some(say!(
            "By difference to {control}: from {most} down to {least}.",
            control,
            most = one(most)?,
            least = one(least)?
        )),
        [_] => None,
    }
}

/// Some few by name, more by their number.
fn few(names: &[String]) -> String {
    if names.len() <= 2 { list(names, "and") } else { names::some(names.len()) }
}

struct Told<'a> {
    study: &'a Study,
    measure: MeasureId,
    control: Control,
    table: &'a ControlTable,
    all: usize,
}

impl Told<'_> {
    fn sentence(&self, groups: &[(&Vec<ProductId>, Verb)], limit: bool) -> String {
        let (mut parts, mut told): (Vec<String>, bool) = (Vec::new(), limit);
        for (ids, verb) in groups.iter().filter(|(ids, _)| !ids.is_empty()) {
            let than =
                if parts.is_empty() { self.control.full(self.study) } else { self.control.again(self.study) };
            // A name of two parts is closed before the sentence goes on.
            let seen = self.seen(ids, told);
            let seen = if seen.is_empty() { seen } else { format!(", {seen}") };
            told |= !seen.is_empty();
            parts.push(verb(&self.named(ids, parts.is_empty()), &than, &seen));
        }
        let to = if self.control == Control::Bare { say!("to them") } else { say!("to it") };
        let alike = self.names(|row| row.counted() == Ok(Word::Alike));
        let open = self.names(|row| row.counted() == Ok(Word::NotSettled));
        if !alike.is_empty() {
            let n = few(&alike);
            parts.push(if alike.len() == 1 {
                say!("{n} is alike {to}", n, to)
            } else {
                say!("{n} are alike {to}", n, to)
            });
        }
        let unsaid = self.names(|row| row.word.is_err());
        if !unsaid.is_empty() {
            let n = few(&unsaid);
            parts.push(if unsaid.len() == 1 {
                say!("{n} has no word", n)
            } else {
                say!("{n} have no word", n)
            });
        }
        if !open.is_empty() {
            let n = few(&open);
            parts.push(if open.len() == 1 {
                say!("{n} is not settled", n)
            } else {
                say!("{n} are not settled", n)
            });
        }
        format!("{}.", names::capital(&parts.join("; ")))
    }

    fn names(&self, of: impl Fn(&ControlRow) -> bool) -> Vec<String> {
        let rows = products(self.table).filter(|row| of(row));
        rows.map(|row| names::treatment(self.study, row.treatment)).collect()
    }

    // "Seen" is a limit of the study, which nobody's eye has looked at.
    fn beyond(&self, again: bool) -> String {
        if again {
            return say!("\"seen\"").to_owned();
        }
        let measure = self.study.measure(self.measure);
        let limit = measure.seen.as_ref().map_or_else(String::new, |limit| {
            with_unit(
                &numbers::decimal(limit.value),
                numbers::difference_unit(crate::speech::unit(&measure.unit.symbol)),
            )
        });
        say!("by more than {limit} (\"seen\")", limit)
    }

    // Of how many is said once a sentence.
    fn named(&self, ids: &[ProductId], first: bool) -> String {
        if ids.len() <= 3 && (ids.len() < self.all || self.all == 1) {
            list(&names::products(self.study, ids), "and")
        } else if first {
            self.control.of(ids.len(), self.all, lacks_products(self.table))
        } else {
            names::some(ids.len())
        }
    }

    // The limit is told once in a sentence.
    fn seen(&self, ids: &[ProductId], again: bool) -> String {
        let rows = products(self.table).filter(|row| row.counted() == Ok(Word::Seen));
        let seen = rows.filter(|row| ids.iter().any(|&id| row.treatment == Treatment::Product(id))).count();
        match (seen, ids.len()) {
            (0, _) => String::new(),
            (1, 1) => self.beyond(again),
            (n, all) if n == all => say!("all of them {beyond}", beyond = self.beyond(again)),
            (n, _) => say!("{n} of them {beyond}", n = names::some(n), beyond = self.beyond(again)),
        }
    }
}
