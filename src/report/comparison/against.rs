//! Differences to a control with their intervals: to bare, and to the product that is to be beaten.

use super::super::blocks::{Drawing, Part, Picture, Table, Topic};
use super::super::charts::{IntervalChart, IntervalRow};
use super::super::footing::{ended, own_spread};
use super::super::material::Material;
use super::super::names;
use super::super::numbers::{self, Figure, Style};
use super::super::stopped;
use super::super::told::{self, Control};
use super::ranking::{Ranking, named};
use crate::analysis::{
    Compared, ControlRow, ControlTable, Interval, MeasureAnalysis, NoTable, Productless, Role, RoundAnalysis,
    ScatterOf, Side, Strength, Word,
};
use crate::speech::{count, list, say};
use crate::study::{Direction, Study};
use std::borrow::Cow;

/// What every block of a part is made from.
struct Comparison<'a> {
    material: &'a Material<'a>,
    measure: &'a MeasureAnalysis,
    round: &'a RoundAnalysis,
    table: &'a ControlTable,
    control: Control,
    style: Style<'a>,
}

/// The differences to bare at the round that is shown.
pub(in crate::report) fn to_bare(material: &Material<'_>, ranking: &Ranking) -> Option<Part> {
    let (measure, round) = material.analysis.shown()?;
    let table = match &round.to_bare {
        Ok(table) => table,
        // The part on its ranks says how it stands.
        Err(NoTable::Rating) => return None,
        Err(reason) => {
            let at = names::round(material.study, round.round);
            let mut part = Part::new(say!("No comparison with bare sections at {at}", at));
            part.say(names::no_table(*reason));
            return Some(part);
        }
    };
    Some(Comparison::new(material, (measure, round), table, Control::Bare).part(ranking))
}

/// The differences to the benchmark at the round that is shown; `None` where there is none, which the answer says.
pub(in crate::report) fn to_benchmark(material: &Material<'_>, ranking: &Ranking) -> Option<Part> {
    let shown = material.analysis.shown()?;
    let table = material.analysis.to_benchmark.as_ref()?.as_ref().ok()?;
    let control = Control::Benchmark(material.study.benchmark?);
    Some(Comparison::new(material, shown, table, control).part(ranking))
}

/// The differences to the carrier alone and to untouched sections at the round that is shown.
pub(in crate::report) fn to_productless(material: &Material<'_>, ranking: &Ranking) -> Vec<Part> {
    let Some(shown) = material.analysis.shown() else { return Vec::new() };
    let part = |one: &Productless| {
        let control = Control::Productless(one.treatment);
        let part = Comparison::new(material, shown, &one.table, control).part(ranking);
        Part { level: 3, ..part }.about(Topic::Productless(one.treatment))
    };
    material.analysis.to_productless.iter().map(part).collect()
}

impl<'a> Comparison<'a> {
    fn new(
        material: &'a Material<'a>,
        (measure, round): (&'a MeasureAnalysis, &'a RoundAnalysis),
        table: &'a ControlTable,
        control: Control,
    ) -> Self {
        let style = Style::at(material, measure.measure, round);
        Self { material, measure, round, table, control, style }
    }

    fn study(&self) -> &'a Study {
        self.material.study
    }

    fn at(&self) -> Cow<'a, str> {
        names::round(self.study(), self.round.round)
    }

    fn compared(&self) -> String {
        names::compared(self.study(), self.measure.measure, &self.at(), self.measure.compared)
    }

    /// What is counted: sections, or pieces.
    fn unit(&self) -> &'a str {
        names::unit(self.study(), self.measure.measure)
    }

    fn part(&self, ranking: &Ranking) -> Part {
        let control = self.table.control;
        let sections = match self.control {
            Control::Bare => names::bare_units(control.n, self.unit()),
            _ => format!("{} ({})", self.control.short(self.study()), count(control.n, self.unit())),
        };
        let mut part = Part::new(self.heading());
        part.say(say!(
            "Difference of {compared} to that of {sections}, {mean} {unit}. {words}",
            sections,
            compared = self.compared(),
            mean = stopped::bound(
                self.style.compared(control.mean, self.measure.compared),
                self.study().measure(self.measure.measure).direction,
                &control
            )
            .text,
            unit = self.style.unit,
            words = self.interval_words()
        ));
        let mut rows: Vec<&ControlRow> = self.table.rows.iter().collect();
        rows.sort_by_key(|row| ranking.place(row.treatment));
        let picture = match self.control {
            Control::Bare => Some(("bare", say!("the bare sections").to_owned())),
            Control::Benchmark(_) => Some(("benchmark", self.control.short(self.study()))),
            Control::Productless(_) => None,
        };
        part.pictures(picture.map(|(place, to)| Picture {
            address: format!("report.html#picture-against-{place}"),
            title: say!("Difference to {to} in {compared}", to, compared = self.compared()),
            note: self.note(),
            drawing: Drawing::Intervals(self.chart(ranking, &rows)),
        }));
        part.table(self.rows(&rows));
        part.rests_on(self.measure, [self.round.round]);
        for text in told::unsaid(&rows, self.study(), &self.control.short(self.study())) {
            part.say(text);
        }
        for text in told::of_stopped(self.study(), self.control, std::iter::once(self.table)) {
            part.say(text);
        }
        if let Control::Benchmark(_) = self.control
            && let Some(text) = own_spread(self.style, &self.table.basis, self.round)
        {
            part.say(say!("These intervals rest on the spread of the products. {own}", own = text));
        }
        if let Some(text) = self.two_fits() {
            part.say(text);
        }
        let both: Vec<String> = rows
            .iter()
            .filter(|row| {
                row.counted() == Ok(Word::Alike) && row.interval.is_some_and(Interval::leaves_out_zero)
            })
            .map(|row| names::treatment(self.study(), row.treatment))
            .collect();
        if !both.is_empty() {
            let names = list(&both, "and");
            part.say(if both.len() == 1 {
                say!(
                    "{names} is alike by an interval that leaves out zero: the difference can be measured, and is within \
                     what does not matter.",
                    names
                )
            } else {
                say!(
                    "{names} are alike by an interval that leaves out zero: the difference can be measured, and is within \
                     what does not matter.",
                    names
                )
            });
        }
        part
    }

    /// Where pieces link the treatments, a mean over all pieces depends on which treatments are compared.
    fn two_fits(&self) -> Option<String> {
        let lead = self.round.lead.as_ref().ok()?;
        let two = self.control == Control::Bare
            && self.table.basis.linked()
            && lead.basis.scatter_of == ScatterOf::Products;
        two.then(|| {
            say!(
                "The numbers of this table are means over all {pieces} alike, from one fit with bare in it. Who may lead and how products stand \
                 to each other comes from a fit in which bare has a mean of its own at each site, so that the same product may stand there with another number; \
                 a difference is to be taken from one table and never between two.",
                pieces = names::pieces(self.study(), self.measure.measure)
            )
        })
    }

    fn heading(&self) -> String {
        let (study, at, table) = (self.study(), self.at(), self.table);
        let all = told::products(table).count();
        let to = self.control.short(study);
        if told::products(table).all(|row| row.word.is_err()) {
            return say!("Differences to {to} at {at}, without a judgement", to, at);
        }
        let told =
            || told::products(table).filter(|row| matches!(row.counted(), Ok(Word::Seen | Word::Measurable)));
        let alike = told::with(table, Word::Alike);
        let sole = told::products(table).next().filter(|_| all == 1);
        let sole = sole.map(|row| names::treatment(study, row.treatment));
        let who = |n: usize| {
            sole.clone()
                .unwrap_or_else(|| names::capital(&self.control.of(n, all, told::lacks_products(self.table))))
        };
        let full = || self.control.full(study);
        let direction = study.measure(self.measure.measure).direction;
        let on = |side: Side| told().filter(|row| row.side == side).count();
        let ahead = on(Side::Better);
        let with_sides = |head: &str| names::with_sides(head, ahead, on(Side::Worse));
        match (told().count(), self.control) {
            (0, _) if alike == all && all == 1 => {
                say!("{who} is alike to {to} at {at}", to, at, who = who(all))
            }
            (0, _) if alike == all => say!("{who} are alike to {to} at {at}", to, at, who = who(all)),
            (0, _) if sole.is_some() => {
                say!("{who} is not told apart from {to} at {at}", to, at, who = who(0))
            }
            (0, _) => say!("{who} is told apart from {to} at {at}", to, at, who = who(0)),
            (_, Control::Benchmark(_)) if ahead == 1 => {
                say!("{who} is measurably ahead of {full}, at {at}", at, who = who(1), full = full())
            }
            (_, Control::Benchmark(_)) if ahead > 0 => {
                say!("{who} are measurably ahead of {full}, at {at}", at, who = who(ahead), full = full())
            }
            (_, Control::Benchmark(_)) if direction != Direction::Neither => {
                say!("No product is measurably ahead of {full}, at {at}", at, full = full())
            }
            (1, Control::Bare | Control::Productless(_)) if sole.is_some() && ahead == 1 => {
                say!("{who} did better than {to} at {at}", to, at, who = who(1))
            }
            (1, Control::Bare | Control::Productless(_))
                if sole.is_some() && direction != Direction::Neither =>
            {
                say!("{who} did worse than {to} at {at}", to, at, who = who(1))
            }
            (1, Control::Bare | Control::Productless(_)) => {
                with_sides(&say!("{who} differs from {to} at {at}", to, at, who = who(1)))
            }
            (n, Control::Bare | Control::Productless(_)) => {
                with_sides(&say!("{who} differ from {to} at {at}", to, at, who = who(n)))
            }
            (1, _) => say!("{who} differs from {full}, at {at}", at, who = who(1), full = full()),
            (n, _) => say!("{who} differ from {full}, at {at}", at, who = who(n), full = full()),
        }
    }

    fn interval_words(&self) -> String {
        let strength = match self.table.rows.first().map(|row| row.word) {
            Some(Err(Strength::Flat)) if self.table.rows.iter().all(|row| row.interval.is_none()) => {
                Strength::Flat
            }
            _ => self.table.basis.strength,
        };
        if strength != Strength::Full {
            return format!("{}.", names::capital(&names::strength(strength, self.unit())));
        }
        let known = self.study().measure(self.measure.measure);
        let limit = |value: f64| numbers::with_unit(&numbers::decimal(value), self.style.unit);
        let alike = known.alike.as_ref().map(|alike| {
            say!("alike: the whole interval lies within {value} of zero", value = limit(alike.value))
        });
        let seen = known
            .seen
            .as_ref()
            .map(|seen| say!("seen: all of it lies beyond {value} on one side", value = limit(seen.value)));
        let words: Vec<String> = alike.into_iter().chain(seen).collect();
        let words = if words.is_empty() { String::new() } else { format!("{}; ", words.join("; ")) };
        let words = names::capital(&say!(
            "{words}measurable: it leaves out zero; not settled: none of these.",
            words
        ));
        let looks = if self.round.role == Role::Deciding {
            String::new()
        } else {
            say!(
                " This round does not decide by itself. What counts is the word that still holds with all {looks} comparisons \
                 of the study counted.",
                looks = self.material.analysis.further_looks
            )
        };
        say!("Intervals hold together at 95 %. {words}{looks}", words, looks)
    }

    fn note(&self) -> String {
        let table = self.table;
        let n: usize = table.rows.iter().map(|row| row.n).sum();
        let with_readings = |units: String, n: u32| {
            say!("{units} ({readings})", units, readings = count(n as usize, "reading"))
        };
        let read: u32 = table.rows.iter().map(|row| row.readings).sum();
        let day = names::days_read(self.material.readings, self.round.round);
        let day = day.map_or_else(String::new, |day| say!(", read {day}", day));
        let spread = table
            .basis
            .spread
            .map_or_else(String::new, |spread| format!(", {}", numbers::degrees(spread.df)));
        // Where each treatment has its own spread, no number of degrees holds for the table.
        let spread = if table.basis.own_spreads { String::new() } else { spread };
        let control = match self.control {
            Control::Bare => names::bare_units(table.control.n, self.unit()),
            _ => say!("{n} of {product}", n = table.control.n, product = self.control.short(self.study())),
        };
        let control = with_readings(control, table.control.readings);
        let by = match (table.basis.own_spreads, self.control) {
            (true, _) => say!("Games-Howell, each with its own spread").to_owned(),
            (false, _) if table.basis.linked() && table.basis.over_sites => {
                say!("Tukey-Kramer, over all pairs, averages over sites").to_owned()
            }
            (false, _) if table.basis.linked() => say!(
                "Tukey-Kramer, over all pairs, within {pieces}",
                pieces = names::pieces(self.study(), self.measure.measure)
            ),
            (false, Control::Bare | Control::Productless(_)) => names::together(table.of_ratios).to_owned(),
            (false, Control::Benchmark(_)) => say!("Tukey-Kramer, over all pairs of products").to_owned(),
        };
        let lines = if table.rows.iter().any(|row| row.interval.is_some()) {
            say!("Points are means, lines simultaneous 95 % intervals ({by})", by)
        } else {
            say!("Points are means").to_owned()
        };
        let shown = say!(
            "{lines}. {units} against {control}{spread}{day}.",
            lines,
            control,
            spread,
            day,
            units = with_readings(count(n, self.unit()), read)
        );
        let ended = ended(self.study(), self.measure, self.round.round);
        [Some(shown), ended].into_iter().flatten().collect::<Vec<_>>().join(" ")
    }

    fn chart(&self, ranking: &Ranking, rows: &[&ControlRow]) -> IntervalChart {
        let known = self.study().measure(self.measure.measure);
        let to = self.control.short(self.study());
        let (worse, better) = (|| say!("worse than {to}", to), || say!("better than {to}", to));
        let (behind, ahead) = (|| say!("behind {to}", to), || say!("ahead of {to}", to));
        let sides = match (known.direction, self.control) {
            (Direction::Higher, Control::Bare) => (worse(), better()),
            (Direction::Lower, Control::Bare) => (better(), worse()),
            (Direction::Higher, _) => (behind(), ahead()),
            (Direction::Lower, _) => (ahead(), behind()),
            (Direction::Neither, _) => (say!("below {to}", to), say!("above {to}", to)),
        };
        IntervalChart {
            axis: say!("difference to {to}, {unit}", to, unit = self.style.difference_unit()),
            decimals: self.style.decimals,
            alike: known.alike.as_ref().map(|alike| alike.value),
            seen: known.seen.as_ref().map(|seen| seen.value),
            sides,
            rows: rows
                .iter()
                .map(|row| IntervalRow {
                    name: names::treatment(self.study(), row.treatment),
                    mark: ranking.mark(row.treatment),
                    value: row.difference,
                    interval: row.interval.filter(|one| !one.is_open()).map(|one| (one.low, one.high)),
                    word: row.word.map_or("", names::word).to_owned(),
                })
                .collect(),
        }
    }

    /// The mean of a row; where sections of it were stopped it is a bound.
    fn number(&self, row: &ControlRow) -> Figure {
        let figure = self.style.compared(row.change, self.measure.compared);
        let here = self.measure.group(row.treatment).and_then(|group| {
            let at = group.at.iter().find(|at| at.round == self.round.round)?;
            if self.measure.compared == Compared::Change { at.change } else { at.level }
        });
        let direction = self.study().measure(self.measure.measure).direction;
        match here {
            Some(value) => stopped::bound(figure, direction, &value),
            None => figure,
        }
    }

    fn rows(&self, rows: &[&ControlRow]) -> Table {
        let (style, alone) = (self.style, self.round.role == Role::Deciding);
        let unit = style.unit;
        let mut heads = vec![
            say!("Product").to_owned(),
            names::units_head(self.study(), self.measure.measure),
            names::compared_head(self.measure.compared, unit),
            say!(">Difference, {unit}", unit = style.difference_unit()),
            say!(">95 % interval").to_owned(),
        ];
        let words: &[&str] = if alone {
            &[say!("Word"), ">p"]
        } else {
            &[say!("Word here"), say!("Over all looks"), say!(">p (Holm)")]
        };
        heads.extend(words.iter().map(|&word| word.to_owned()));
        let mut table = Table::new(&heads);
        for row in rows {
            let mut cells = vec![
                Figure::from(named(self.study(), row.treatment)),
                Figure::from(row.n.to_string()),
                self.number(row),
                stopped::difference(style, row.difference, row.farther),
                row.interval.map_or_else(Figure::none, |i| Figure::from(style.span(i.low, i.high))),
                Figure::from(told::word(self.study(), self.control, self.table, row)),
            ];
            if !alone {
                cells.push(Figure::from(row.counted().map_or(numbers::DASH, names::word)));
            }
            let p = if alone { row.p } else { row.p_holm };
            cells.push(stopped::p((p, !alone), (row.farther, row.word), numbers::probability));
            table.row(cells);
        }
        table.behind(2).behind(1)
    }
}
