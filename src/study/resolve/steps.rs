//! Steps of preparation, of upkeep and before a round.

use super::Resolver;
use crate::diag::Finding;
use crate::study::{Mix, Step, Verb};
use crate::syntax::{Arg, Args, Clause, Clauses, Statement, Value};
use crate::text::{Located, Span};
use crate::units::{Dimension, Length, Time};

impl Resolver<'_> {
    pub(super) fn step(&mut self, line: &Statement) -> Option<Step> {
        let verb = Verb::of(&line.verb)?;
        let measure =
            if verb == Verb::Read { line.name().and_then(|name| self.bound_measure(name)) } else { None };
        let mut step = self.step_of(verb, line, line.span);
        step.measure = measure;
        line.prose.clone_into(&mut step.prose);
        Some(step)
    }

    /// A step inside a statement, as in `before each round wash with soap, rinse`.
    pub(super) fn inner_step(&mut self, clause: &Clause) -> Option<Step> {
        let verb = Verb::of(clause.word()?)?;
        Some(self.step_of(verb, clause, clause.span))
    }

    fn bound_measure(&mut self, name: Located<&str>) -> Option<Located<crate::study::MeasureId>> {
        self.measure_id(name).map(|id| Located::new(id, name.span))
    }

    pub(super) fn step_of(&mut self, verb: Verb, of: &impl Clauses, span: Span) -> Step {
        let before = self.mark();
        // A time alone is no second mix; it is asked about.
        let is_time_alone = |span: Span| {
            of.clauses()
                .iter()
                .any(|clause| clause.name == "mix" && clause.span == span && clause.args.iter().any(is_time))
        };
        let twice = of.repeated().filter(|&(again, first)| !is_time_alone(again) && !is_time_alone(first));
        if let Some((again, first)) = twice {
            self.findings.push(
                Finding::error("clause-twice", again, "this is said twice in one step")
                    .related(first, "first here")
                    .help("keep one of them, or write two steps"),
            );
        }
        let mut step = empty_step(verb, span);
        for clause in of.clauses() {
            self.step_clause(clause, &mut step);
        }
        step.broken = self.failed_since(before);
        step
    }

    fn step_clause(&mut self, clause: &Clause, step: &mut Step) {
        let quantity = clause.quantities().into_iter().next();
        match clause.name {
            "with" => {
                let Some(name) = clause.name() else { return };
                step.with = self.supply_id(name).map(|id| Located::new(id, name.span));
            }
            "dwell" => {
                let range = quantity.and_then(|quantity| self.range::<Time>(quantity));
                let located = range.map(|range| Located::new(range, clause.span));
                // `dry for 2 h` waits; it is no dwell of a chemical.
                if matches!(step.verb, Verb::Dry | Verb::Wait) {
                    step.wait = located.map(|range| range.value.high);
                } else {
                    step.dwell = located;
                }
            }
            "rinse" => step.rinse = true,
            "tool" => step.tool = clause.text().map(|tool| tool.value.to_owned()),
            "grit" => {
                let number = clause.number();
                let grit =
                    number.and_then(|number| self.whole(number, 1).map(|n| Located::new(n, number.span)));
                step.grit = grit;
            }
            "wait" => step.wait = quantity.and_then(|quantity| self.one::<Time>(quantity)),
            "cloth" => step.fresh_cloth = true,
            "places" => step.places = clause.number().and_then(|number| self.whole(number, 1)),
            "lines" => {
                let width = quantity.and_then(|quantity| self.one::<Length>(quantity));
                step.line_width = width.map(|width| Located::new(width, clause.span));
            }
            "times" => step.times = self.times(clause).unwrap_or(1),
            "mix" => self.step_mix(clause, step),
            _ => {}
        }
    }

    // A bare quantity in a step is a mix, or the time of a step that only waits; a time elsewhere wants `for`.
    fn step_mix(&mut self, clause: &Clause, step: &mut Step) {
        let time = clause.args.iter().find_map(|arg| match &arg.value {
            Value::Quantity(quantity) if is_time(arg) => Some(Located::new(quantity, arg.span)),
            _ => None,
        });
        match time {
            Some(quantity) if matches!(step.verb, Verb::Dry | Verb::Wait) => {
                step.wait = self.one::<Time>(quantity);
            }
            Some(quantity) => {
                let message = "a time alone does not say whether it acts or waits";
                self.findings.push(Finding::error("time-of-what", quantity.span, message).help(
                    "write `for 5 min` for the time that it acts, or `wait 5 min` for a pause after it",
                ));
            }
            None => step.mix = self.mix(&clause.args),
        }
    }

    /// `twice`, `once`, `5 times`.
    pub(super) fn times(&mut self, clause: &Clause) -> Option<u32> {
        match clause.word() {
            Some("twice") => Some(2),
            Some("once") => Some(1),
            _ => clause.number().and_then(|number| self.whole(number, 1)),
        }
    }
}

fn is_time(arg: &Arg) -> bool {
    let Value::Quantity(quantity) = &arg.value else { return false };
    let unit = quantity.unit.as_ref().and_then(|unit| crate::units::unit(&unit.value));
    unit.is_some_and(|unit| unit.dimension == Dimension::Time)
}

pub(super) fn empty_step(verb: Verb, span: Span) -> Step {
    Step {
        verb,
        with: None,
        measure: None,
        mix: None::<Located<Mix>>,
        dwell: None,
        rinse: verb == Verb::Rinse,
        tool: None,
        grit: None,
        times: 1,
        fresh_cloth: false,
        wait: None,
        places: None,
        line_width: None,
        span,
        prose: String::new(),
        broken: false,
    }
}
