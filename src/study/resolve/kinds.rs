//! Measures of other kinds than one number a reading: ratings, and measures that are made of others.

use super::Resolver;
use crate::catalog::Making as KnownMaking;
use crate::diag::{Finding, count};
use crate::speech::say;
use crate::study::{Limit, Made, Making, Measure, MeasureId, MeasureKind, MeasureUnit, Scale};
use crate::syntax::{Args, Block, Clauses, DIGIT, Statement};
use crate::text::{Located, Span};
use crate::units;

/// A ratio in this unit is a hundred times as large.
const PERCENT: &str = "%";

impl Resolver<'_> {
    /// Parts of made measures, by name, so that gauges and rounds can name them.
    pub(super) fn parts_of(&mut self, block: &Block, whole: MeasureId) {
        let read = block.children.iter().find(|line| line.verb == "read");
        let Some(read) = read else { return self.known_parts(whole) };
        let unit = read.clause("in").and_then(Args::text).map_or("", |text| text.value).to_owned();
        let names: Vec<Located<String>> =
            read.names().into_iter().map(|name| name.map(str::to_owned)).collect();
        let parts = names.into_iter().map(|name| self.part(name, &unit, whole)).collect();
        self.study.measures[whole.index()].kind =
            MeasureKind::Made(Made { making: Making::Difference, parts, against_blank: false });
    }

    /// The parts that the trade's own measure has, such as L*, a* and b* of a colour.
    pub(super) fn known_parts(&mut self, whole: MeasureId) {
        let measure = self.study.measure(whole);
        let (name, symbol) = (measure.name.clone(), measure.unit.symbol.clone());
        let known = self.catalog.measure(&name.value).filter(|known| known.unit == symbol);
        let Some(made) = known.and_then(|known| known.made.as_ref()) else { return };
        let parts = made
            .parts
            .iter()
            .map(|part| self.part(Located::new((*part).to_owned(), name.span), made.part_unit, whole))
            .collect();
        let making = match made.making {
            KnownMaking::ShareStopped => Making::ShareStopped,
            KnownMaking::ColourChange => Making::ColourChange,
        };
        let kind = MeasureKind::Made(Made { making, parts, against_blank: made.against_blank });
        self.study.measures[whole.index()].kind = kind;
        self.assume(say!(
            "{measure} is made of {parts}.",
            measure = name.value,
            parts = made.parts.join(", ")
        ));
    }

    fn part(&mut self, name: Located<String>, unit: &str, whole: MeasureId) -> MeasureId {
        if let Some(id) = self.known_measure(&name.value) {
            return id;
        }
        let known = units::unit(unit);
        let symbol = known.map_or(unit, |unit| unit.symbol).to_owned();
        self.define_measure(name, MeasureUnit { symbol, known });
        let id = MeasureId::new(self.study.measures.len() - 1);
        self.study.measures[id.index()].kind = MeasureKind::Part(whole);
        id
    }

    /// A line that says how a measure comes by its values.
    pub(super) fn kind_line(&mut self, line: &Statement, measure: &mut Measure) {
        match (line.verb.as_str(), &mut measure.kind) {
            ("is", MeasureKind::Made(made)) => {
                made.making = match line.words().iter().find(|word| **word != "the").copied() {
                    Some("share") => Making::ShareStopped,
                    Some("ratio") if measure.unit.symbol == PERCENT => Making::PercentOf,
                    Some("ratio") => Making::Ratio,
                    Some("gain") if line.words().contains(&"percent") => Making::PercentGained,
                    Some("gain") => Making::Gain,
                    Some("colour") => Making::ColourChange,
                    _ => Making::Difference,
                };
            }
            ("against", MeasureKind::Made(made)) => made.against_blank = true,
            ("half", MeasureKind::Rating(scale)) => scale.half = true,
            ("rated", MeasureKind::Rating(scale)) => {
                scale.raters = line.number().and_then(|number| self.whole(number, 1));
                scale.each_alone = line.clause("alone").is_some();
            }
            (DIGIT, MeasureKind::Rating(_)) => self.mark_of_scale(line, measure),
            ("is" | "against", _) => self.misplaced(
                line.span,
                "this belongs to a measure that is made of others",
                "write first what is read, as `read open, then under in mW/cm2`",
            ),
            _ => self.misplaced(
                line.span,
                "this belongs to a rating",
                &format!("write `measure {}, a rating 0 to 5`", measure.name.value),
            ),
        }
    }

    fn misplaced(&mut self, span: Span, message: &str, help: &str) {
        self.findings.push(Finding::error("measure-of-another-kind", span, message).help(help));
    }

    /// The mark at which a section is spent, where the scale has it.
    pub(super) fn spent_on_the_scale(&mut self, measure: &mut Measure) {
        let (MeasureKind::Rating(scale), Some(rule)) = (&measure.kind, &measure.spent) else { return };
        let Limit::Value(mark) = rule.limit else { return };
        let known = if rule.at_limit { scale.has(mark) } else { (scale.from..=scale.to).contains(&mark) };
        if known {
            return;
        }
        let message = format!("`{mark}` is no mark of this scale");
        let help = format!("the scale goes from {} to {}", scale.from, scale.to);
        self.findings.push(Finding::error("mark-off-the-scale", rule.span, message).help(help));
        measure.spent = None;
    }

    fn mark_of_scale(&mut self, line: &Statement, measure: &mut Measure) {
        let MeasureKind::Rating(scale) = &mut measure.kind else { return };
        let (Some(number), Some(words)) = (line.number(), line.text()) else { return };
        if let Some(mark) = number.value.parse::<f64>().ok().filter(|&mark| scale.has(mark)) {
            scale.words.push((mark, words.value.to_owned()));
            return;
        }
        let message = format!("`{}` is no mark of this scale", number.value);
        let help = format!("the scale goes from {} to {}", scale.from, scale.to);
        self.findings.push(Finding::error("mark-off-the-scale", number.span, message).help(help));
    }

    /// The scale of `a rating 0 to 5`.
    pub(super) fn scale(&mut self, block: &Block) -> Option<Scale> {
        let clause = block.head.as_ref()?.clause("rating")?;
        let ends: Vec<f64> = clause
            .args
            .iter()
            .filter_map(|arg| match &arg.value {
                crate::syntax::Value::Number(number) => number.parse().ok(),
                _ => None,
            })
            .collect();
        let &[from, to] = ends.as_slice() else { return None };
        if from >= to {
            self.findings.push(
                Finding::error(
                    "mark-off-the-scale",
                    clause.span,
                    "a scale goes from its lower mark to its higher",
                )
                .help(format!("write `a rating {to} to {from}`")),
            );
        }
        Some(Scale {
            from: from.min(to),
            to: from.max(to),
            words: Vec::new(),
            half: false,
            raters: None,
            each_alone: false,
        })
    }

    /// What a made measure lacks.
    pub(super) fn made_well(&mut self, measure: &Measure, said: &[&str]) {
        let MeasureKind::Made(made) = &measure.kind else { return };
        if measure.broken || !said.contains(&"read") {
            return;
        }
        let name = &measure.name;
        if !said.contains(&"is") {
            self.findings.push(
                Finding::error(
                    "made-how",
                    name.span,
                    format!("nothing says how `{}` is made of what is read", name.value),
                )
                .help(
                    "write `is the share stopped`, `is the difference`, `is the gain`, `is the ratio` or `is the colour change`",
                ),
            );
            return;
        }
        let needs = if made.making == Making::ColourChange { 3 } else { 2 };
        if made.parts.len() != needs {
            let what = if needs == 3 {
                "L*, a* and b*, in this order"
            } else {
                "two things, in the order in which they are read"
            };
            let message = format!(
                "`{}` is made of {} and not of {}",
                name.value,
                needs,
                count(made.parts.len(), "part")
            );
            self.findings.push(Finding::error("made-how", name.span, message).help(format!("name {what}")));
        }
    }
}
