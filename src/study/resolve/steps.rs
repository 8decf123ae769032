//! Steps of preparation, of upkeep and before a round.

use super::{Resolver, same_name};
use crate::diag::Finding;
use crate::study::{Mix, Only, Reach, Step, Treatment, Verb};
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
            "only" => step.only = self.only(clause),
            "mix" => self.step_mix(clause, step),
            _ => {}
        }
    }

    // A bare quantity in a step is a mix, or the time of a step that only waits; a time elsewhere wants `for`.
    fn step_mix(&mut self, clause: &Clause, step: &mut Step) {
        let time = clause.args.iter().find_map(|arg| match &arg.value {
            Value::Quantity(quantity) if is_time(arg) || matches!(step.verb, Verb::Dry | Verb::Wait) => {
                Some(Located::new(quantity, arg.span))
            }
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

    /// The sections that a step names: as an incident does, or by the one word for what they carry.
    fn only(&mut self, clause: &Clause) -> Option<Only> {
        let names = clause.names();
        let first = names.first()?;
        let carried = self.carried(first.value).filter(|_| names.len() == 1);
        let mut sections = match carried {
            Some(treatment) => self.study.sections_of(treatment).map(|(section, _)| section).collect(),
            None => match self.reach(clause)? {
                Reach::All => return None,
                Reach::Sections(sections) => sections,
            },
        };
        sections.sort_unstable();
        sections.dedup();
        if sections.is_empty() {
            if !self.study.map_broken {
                let message = format!("no section of the map carries `{}`", first.value);
                self.tell(
                    Finding::error("undefined-name", first.span, message)
                        .help("name sections, as `only on A1 and A2`, or what some of them carry"),
                );
            }
            return None;
        }
        let because = clause.clause("because").and_then(Args::text).map(|text| text.value.to_owned());
        Some(Only { sections, because, span: clause.span })
    }

    // A section or a site of the same name stands first.
    fn carried(&self, word: &str) -> Option<Treatment> {
        let taken = self.study.sections.iter().any(|section| same_name(&section.code, word))
            || self.study.sites.iter().any(|site| same_name(&site.value, word));
        let known = [Treatment::Bare, Treatment::CarrierOnly, Treatment::Untouched];
        let products = self.study.products_with_ids().map(|(id, _)| Treatment::Product(id));
        let mut all = known.into_iter().chain(products).filter(|_| !taken);
        all.find(|&treatment| same_name(self.study.treatment_name(treatment), word))
    }

    /// Tells of a step that names sections where it is done on every specimen.
    pub(super) fn on_each_alike(&mut self, steps: &mut [Step]) {
        let mut told = Vec::new();
        for step in steps {
            let Some(only) = step.only.take() else { continue };
            step.broken = true;
            // One line of a cycle cleans once with each cleaner.
            if !told.contains(&only.span) {
                told.push(only.span);
                let message = "this step is done on every specimen";
                self.findings.push(Finding::error("step-names-sections", only.span, message).help(
                    "remove `only on`; steps of `prep`, `before each round` and `upkeep` name sections of the map",
                ));
            }
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
        only: None,
        span,
        prose: String::new(),
        broken: false,
    }
}
