//! Preparation, application, rounds, upkeep and the question that decides.

use super::{Resolver, dates, is_of_specimens, same_name};
use crate::diag::Finding;
use crate::speech::{day, quantity, round_name, say};
use crate::study::{
    Anchor, Apply, ApplyClimate, Decision, DoneWhat, MeasureId, MeasureKind, Pace, Placing, ReadPlan,
    Reference, Round, SiteId, Step, Upkeep, Verb, Window,
};
use crate::syntax::{Args, BlockKind, Clause, Clauses, Statement};
use crate::text::{Located, Span};
use crate::units::{AnyQuantity, Quantity, Time, unit};
use jiff::civil::{Date, DateTime};

impl Resolver<'_> {
    pub(super) fn plan(&mut self) {
        self.prep();
        self.apply();
        self.exposures();
        self.upkeep();
        self.done();
        self.rounds();
        self.bind_parked();
        self.cycle();
        self.spread_over_patches();
        self.references();
        self.decide();
        self.dealing();
    }

    fn prep(&mut self) {
        self.prep_of_specimens();
        let Some(block) = self.blocks(BlockKind::Prep).find(|block| !is_of_specimens(block)) else { return };
        self.study.prep_broken = block.broken || self.twice.contains(&BlockKind::Prep);
        self.study.prep_span = Some(block.span);
        let steps: Vec<Step> = block.children.iter().filter_map(|line| self.prep_line(line)).collect();
        self.study.prep = steps;
    }

    fn prep_of_specimens(&mut self) {
        for block in self.blocks(BlockKind::Prep).filter(|block| is_of_specimens(block)) {
            let Some(id) = block.head.as_ref().and_then(Args::name).and_then(|name| self.specimens_id(name))
            else {
                continue;
            };
            let mut steps: Vec<Step> =
                block.children.iter().filter_map(|line| self.prep_line(line)).collect();
            self.on_each_alike(&mut steps);
            let set = &mut self.study.specimens[id.index()];
            set.broken |= block.broken;
            set.prep.extend(steps);
        }
    }

    fn apply(&mut self) {
        let Some(block) = self.block(BlockKind::Apply) else { return self.apply_as_begun() };
        let before = self.mark();
        let mut apply = empty_apply(block.span);
        apply.broken = block.broken || self.twice.contains(&BlockKind::Apply);
        for line in &block.children {
            match line.verb.as_str() {
                "on" => {
                    apply.on = self.date(line);
                    let clock = line.clause("clock").and_then(Args::time);
                    apply.from = clock.and_then(|clock| self.clock(clock));
                }
                "air" => self.air(line, &mut apply.climate),
                "surface" => self.surface_climate(line, &mut apply.climate),
                "tape" => apply.tape_off = self.tape_off(line),
                "pace" => apply.pace = self.pace(line),
                "by" => apply.by = line.text().map(|by| by.value.to_owned()),
                _ => {}
            }
        }
        apply.broken |= self.failed_since(before);
        self.study.apply = Some(apply);
    }

    /// A study without `apply` is a small one: its products go on the day it begins, and the report says so.
    fn apply_as_begun(&mut self) {
        let Some(block) = self.block(BlockKind::Study) else { return };
        let mut apply = Apply { stated: false, ..empty_apply(block.span) };
        match self.study.begins {
            Some(begins) => {
                apply.on = Some(begins);
                self.assume(say!(
                    "The products go on the day on which the study begins, {day}: no `apply` was given.",
                    day = day(begins.value)
                ));
            }
            // The day is there and could not be taken, which is the one finding about it.
            None if block.broken || block.children.iter().any(|line| line.verb == "begins") => {
                apply.broken = true;
            }
            None => return,
        }
        self.study.apply = Some(apply);
    }

    /// A change that counts from `fresh` by habit counts from `baseline` where no fresh round reads its measure, and where the
    /// coat itself changes what each round tests anew.
    fn references(&mut self) {
        let baseline = self.study.round_named("baseline");
        let Some(baseline) = baseline.filter(|_| !self.study.rounds_broken) else { return };
        let fresh = self.study.round_named("fresh");
        for at in 0..self.study.measures.len() {
            let (id, measure) = (MeasureId::new(at), &self.study.measures[at]);
            let name = measure.name.value.clone();
            if measure.change_from != Reference::Fresh || measure.change_stated {
                continue;
            }
            let reads = |round| self.study.planned_readings(round, id) > 0;
            let of_coat = matches!(&measure.kind, MeasureKind::Made(made) if made.is_tested_anew() && !made.is_effect());
            let why = match fresh {
                Some(fresh) if of_coat && reads(fresh) && reads(baseline) => {
                    say!("the coat itself changes what is tested")
                }
                Some(fresh) if reads(fresh) || !reads(baseline) => {
                    if self.catalog.measure(&name).is_none() && reads(fresh) {
                        self.assume(say!("{name}: change counts from fresh.", name));
                    }
                    continue;
                }
                Some(_) => say!("the fresh round does not read it"),
                None => say!("the study has no fresh round"),
            };
            self.study.measures[at].change_from = Reference::Baseline;
            self.assume(say!("{name}: change counts from baseline, since {why}.", name, why));
        }
    }

    /// The day that `after apply` counts from: that of the last coat of all, by the record as far as it goes, then by the plan.
    fn last_coat(&self) -> Option<Date> {
        self.study.last_of_all_coats().map(DateTime::date)
    }

    /// True where the day of apply is in the file and could not be taken.
    fn apply_day_lost(&self) -> bool {
        self.study.apply.as_ref().is_some_and(|apply| apply.on.is_none() && apply.broken)
    }

    fn apply_day(&self) -> Option<Date> {
        self.study.apply.as_ref().and_then(|apply| apply.on.as_ref()).map(|on| on.value)
    }

    fn anchor_day(&self, anchor: Anchor) -> Option<Date> {
        // Where the day of apply is not known for a slip, the day of the study would be a wrong guess for it.
        let begins = self.study.begins.as_ref().filter(|_| !self.apply_day_lost());
        let begins = begins.map(|begins| begins.value);
        match anchor {
            Anchor::LastCoat => self.last_coat(),
            Anchor::FirstCoat => self.apply_day(),
            Anchor::PutOut => self.study.puts_out().map(|out| out.value).min(),
            Anchor::Step(at) => {
                let verb = self.study.prep.get(at).map(|step| step.verb);
                // What was done before a round is parked until the rounds are known, so it moves none of them.
                let done = self.study.done.iter().filter(|done| {
                    done.is_of_work()
                        && verb.is_some_and(|verb| done.what == DoneWhat::Prep(verb))
                        && done.step.is_none_or(|step| step == at)
                });
                done.map(|done| done.date.value).max().or_else(|| self.apply_day()).or(begins)
            }
            Anchor::BeforeApply => self.apply_day().or(begins),
        }
    }

    fn rounds(&mut self) {
        let Some(block) = self.block(BlockKind::Rounds) else { return };
        let before = self.mark();
        self.round_names_lost = block.broken || self.twice.contains(&BlockKind::Rounds);
        self.study.rounds_span = Some(block.span);
        let mut every: Vec<ReadPlan> = Vec::new();
        for line in Self::children(block, "every") {
            let reads = self.reads(line);
            every.extend(reads);
        }
        for line in Self::children(block, "before") {
            let steps: Vec<Step> = line.all("step").filter_map(|clause| self.inner_step(clause)).collect();
            self.study.before_each_round.extend(steps);
        }
        for line in Self::children(block, "round") {
            if let Some(round) = self.round(line, &every) {
                self.study.rounds.push(round);
            }
        }
        self.study.rounds_broken = self.round_names_lost || self.failed_since(before);
        if self.study.rounds.is_empty() && !self.study.rounds_broken {
            self.findings.push(
                Finding::error("rounds-empty", block.span, "there are no rounds")
                    .help("write `baseline before apply` and a later one, as `month 6 within 1 week`"),
            );
        }
    }

    fn round(&mut self, line: &Statement, every: &[ReadPlan]) -> Option<Round> {
        let name = line.name()?;
        let name = Located::new(name.value.to_owned(), name.span);
        let lower = name.value.to_lowercase();
        let name = if ["baseline", "fresh"].contains(&lower.as_str()) {
            Located::new(lower, name.span)
        } else {
            name
        };
        if let Some(first) = self.study.rounds.iter().find(|round| same_name(&round.name.value, &name.value))
        {
            let first = first.span;
            let finding =
                Finding::error("duplicate-name", name.span, format!("round `{}` stands twice", name.value))
                    .related(first, "first here");
            self.findings.push(finding.help(self.other_round(&name.value)));
            self.round_names_lost = true;
            return None;
        }
        let mut reads = self.reads(line);
        // A round's own line replaces what every round reads of the same measure; it never adds.
        for plan in every {
            if reads.iter().all(|own| own.measure.value != plan.measure.value) {
                reads.push(plan.clone());
            }
        }
        reads.sort_by_key(|plan| plan.measure.value);
        let within = line.clause("within").and_then(|clause| clause.quantities().into_iter().next());
        let within = within.and_then(|within| self.one::<Time>(within));
        let (placing, window) = self.placing(line, &name, within);
        let at_sites = self.at_sites(placing, within.map(Quantity::any));
        Some(Round { name, placing, window, at_sites, within, reads, span: line.span })
    }

    /// What the second of two rounds of one name is probably called.
    fn other_round(&self, name: &str) -> String {
        let Some((word, number)) = name.split_once(' ').filter(|_| named_time(name).is_some()) else {
            return "give one of them another name".to_owned();
        };
        let taken = |name: &str| self.study.rounds.iter().any(|round| same_name(&round.name.value, name));
        let next = (number.parse().unwrap_or(0_u32)..).map(|next| format!("{word} {next}"));
        let next = next.take(1000).find(|next| !taken(next)).unwrap_or_default();
        format!("one of them is another {word}, perhaps `{next}`; write which")
    }

    fn reads(&mut self, line: &Statement) -> Vec<ReadPlan> {
        let mut plans = Vec::new();
        for clause in line.all("reads") {
            let Some(name) = clause.name() else { continue };
            let written = clause.clause("times");
            let times = written.and_then(|times| self.times(times));
            // A number that could not be taken is not one reading.
            if written.is_some() && times.is_none() {
                continue;
            }
            let times = times.unwrap_or(1);
            let Some(id) = self.measure_id(name) else { continue };
            // What is made of others is read part by part.
            let read = match &self.study.measure(id).kind {
                MeasureKind::Made(made) => made.parts.clone(),
                _ => vec![id],
            };
            plans.extend(read.into_iter().map(|id| ReadPlan { measure: Located::new(id, name.span), times }));
        }
        plans
    }

    fn placing(
        &mut self,
        line: &Statement,
        name: &Located<String>,
        within: Option<Quantity<Time>>,
    ) -> (Placing, Option<Window>) {
        if let Some(on) = line.clause("on") {
            let window = self.date(on).map(|date| dates::window(date.value, within.map(Quantity::any)));
            return (Placing::On, window);
        }
        if let Some(later) = line.clause("later") {
            let time = later.quantities().into_iter().next().and_then(|time| self.one::<Time>(time));
            let (Some(time), Some(anchor)) = (time, self.anchor(later)) else {
                return (Placing::Unplaced, None);
            };
            return self.after(time.any(), anchor, within, name);
        }
        if let Some(anchor) = line.clause("anchor").map(|clause| self.anchor(clause)) {
            return anchor.map_or((Placing::Unplaced, None), |anchor| self.directly(anchor));
        }
        if line.clause("before").is_some() || name.value == "baseline" {
            return self.directly(Anchor::BeforeApply);
        }
        if let Some(time) = named_time(&name.value) {
            if time.value < 1.0 {
                let message = format!("`{}` is the day on which the products go on", name.value);
                self.findings.push(Finding::error("value-out-of-range", name.span, message).help(
                    "count from 1; what is read before the products is `baseline`, what is read after they have \
                     cured is `fresh`",
                ));
                return (Placing::Unplaced, None);
            }
            if self.is_too_much(name.span, time) {
                return (Placing::Unplaced, None);
            }
            return self.after(time, Anchor::LastCoat, within, name);
        }
        if name.value == "fresh"
            && let Some(cure) = self.longest_cure()
        {
            self.assume(say!(
                "The fresh round lies one day after the longest cure, {cure}.",
                cure = quantity(&cure.to_string())
            ));
            let days =
                unit("days").map(|unit| AnyQuantity { value: (cure.base() / 86_400.0).ceil() + 1.0, unit });
            return self.after(days.unwrap_or(cure), Anchor::LastCoat, within, name);
        }
        // A time to cure that could not be taken is what has to be mended first.
        if name.value == "fresh" && self.study.products.iter().any(|product| product.is_unread("cure")) {
            return (Placing::Unplaced, None);
        }
        let message = format!("nothing says when round `{}` is read", name.value);
        let finding = Finding::error("round-unplaced", name.span, message).about(&name.value);
        self.findings.push(if let Some(parted) = parted_time(&name.value) {
            // Whoever names it elsewhere as it is meant has made no second mistake.
            self.round_names_lost = true;
            finding.help(format!("write `{parted}`, with a blank"))
        } else {
            finding
                .help(format!("write `{} 8 days after apply`, or `{} on 2026-10-30`", name.value, name.value))
        });
        (Placing::Unplaced, None)
    }

    fn longest_cure(&self) -> Option<AnyQuantity> {
        let cures = self
            .study
            .products
            .iter()
            .filter_map(|product| product.cure.as_ref())
            .map(|cure| cure.value.any());
        cures.max_by(|a, b| a.base().total_cmp(&b.base()))
    }

    fn after(
        &mut self,
        time: AnyQuantity,
        anchor: Anchor,
        within: Option<Quantity<Time>>,
        name: &Located<String>,
    ) -> (Placing, Option<Window>) {
        let within = within.map(Quantity::any).or_else(|| self.usual_within(time, name));
        let date = self.anchor_day(anchor).and_then(|day| dates::later(day, time));
        let window = date.map(|date| dates::window(date, within));
        (
            Placing::After(time, anchor),
            window.map(|window| self.of_all_sites(window, (time, anchor), within, name)),
        )
    }

    /// Where sites are put out on different days, a round that counts from there is read at each in its turn.
    fn of_all_sites(
        &mut self,
        window: Window,
        (time, anchor): (AnyQuantity, Anchor),
        within: Option<AnyQuantity>,
        name: &Located<String>,
    ) -> Window {
        let last = self.study.puts_out().map(|out| out.value).max();
        let date = last.filter(|_| anchor == Anchor::PutOut).and_then(|day| dates::later(day, time));
        let Some(date) = date.filter(|date| *date != window.date) else { return window };
        self.assume(say!(
            "Round {round} is read on {first} at the site that was put out first, and on {last} at the last.",
            round = round_name(&name.value),
            first = day(window.date),
            last = day(date)
        ));
        Window { last: dates::window(date, within).last, ..window }
    }

    /// The window of a round at each site, where they are put out on different days and the round counts from there.
    fn at_sites(&self, placing: Placing, within: Option<AnyQuantity>) -> Vec<(SiteId, Window)> {
        let Placing::After(time, Anchor::PutOut) = placing else { return Vec::new() };
        let within = within.or_else(|| dates::tenth(time));
        let windows = self.study.exposures.iter().filter_map(|place| {
            let date = dates::later(place.put_out.as_ref()?.value, time)?;
            Some((place.of?, dates::window(date, within)))
        });
        let all: Vec<(SiteId, Window)> = windows.collect();
        if all.windows(2).any(|pair| pair[0].1 != pair[1].1) { all } else { Vec::new() }
    }

    /// Rounds without `within` may be read a little early or late.
    fn usual_within(&mut self, time: AnyQuantity, name: &Located<String>) -> Option<AnyQuantity> {
        let within = dates::tenth(time)?;
        self.assume(say!(
            "Round {round} may be read {time} early or late: the study gives it no window.",
            round = round_name(&name.value),
            time = quantity(&within.to_string())
        ));
        Some(within)
    }

    fn directly(&mut self, anchor: Anchor) -> (Placing, Option<Window>) {
        let Some(date) = self.anchor_day(anchor) else { return (Placing::At(anchor), None) };
        let begins = self.study.begins.as_ref().map_or(date, |begins| begins.value);
        let prepared = self.prepared_from(begins, anchor).unwrap_or(begins).min(date);
        let last = match anchor {
            Anchor::Step(_) | Anchor::BeforeApply => self.apply_day().unwrap_or(date).max(date),
            _ => date,
        };
        let first = if matches!(anchor, Anchor::Step(_) | Anchor::BeforeApply) { prepared } else { date };
        (Placing::At(anchor), Some(Window { date, first, last }))
    }

    /// The first day on which the preparation can be done as far as a round asks: the waits of its steps are counted from the day
    /// on which the study begins, and before the first coat those of the steps before each round too.
    fn prepared_from(&self, begins: Date, anchor: Anchor) -> Option<Date> {
        let (steps, care) = match anchor {
            Anchor::Step(at) => (self.study.prep.get(..=at)?, &[][..]),
            _ => (&self.study.prep[..], &self.study.before_each_round[..]),
        };
        let waits = steps.iter().chain(care).filter_map(|step| step.wait).map(Quantity::seconds);
        let begun = begins.to_datetime(jiff::civil::Time::midnight());
        Some(begun.checked_add(jiff::SignedDuration::try_from_secs_f64(waits.sum()).ok()?).ok()?.date())
    }

    fn anchor(&mut self, clause: &Clause) -> Option<Anchor> {
        let written = clause.text()?;
        let words: Vec<&str> = written.value.split_whitespace().collect();
        match words.join(" ").to_lowercase().as_str() {
            "apply" | "last coat" => return Some(Anchor::LastCoat),
            "first coat" => return Some(Anchor::FirstCoat),
            "put out" => return Some(Anchor::PutOut),
            word => {
                let verb = Verb::of(word);
                let step = self.study.prep.iter().rposition(|step| Some(step.verb) == verb);
                if let Some(step) = step {
                    return Some(Anchor::Step(step));
                }
                if let Some(verb) = verb {
                    self.without_step(verb, written.span);
                    return None;
                }
            }
        }
        self.findings.push(
            Finding::error(
                "undefined-name",
                written.span,
                format!("a round cannot count from `{}`", written.value),
            )
            .help(
                "count from `apply`, `first coat`, `put out` or a step of `prep`, or write `on` and a date",
            ),
        );
        None
    }

    /// A round counts from a step that preparation does not have.
    fn without_step(&mut self, verb: Verb, span: Span) {
        // A line that could not be read may be that step.
        if self.study.prep_broken {
            return;
        }
        let word = verb.word();
        let (message, first) = if self.study.prep.is_empty() {
            (
                format!("the study has no `prep`, and a round counts from `{word}`"),
                "write `prep` with its steps",
            )
        } else {
            (format!("`prep` has no `{word}`, and a round counts from it"), "write the step under `prep`")
        };
        let help =
            format!("{first}, or count from `apply`, `first coat` or `put out`, or write `on` and a date");
        self.tell(Finding::error("undefined-name", span, message).help(help));
        self.study.prep_lacks.push(verb);
    }

    fn upkeep(&mut self) {
        let mut upkeep = Vec::new();
        for block in self.blocks(BlockKind::Upkeep) {
            for line in &block.children {
                if line.verb == "none" {
                    let because =
                        line.clause("because").and_then(Args::text).map(|text| text.value.to_owned());
                    upkeep.push(Upkeep::None(because.unwrap_or_default()));
                    continue;
                }
                let every = line.quantities().into_iter().next().and_then(|every| self.one::<Time>(every));
                let step = line.clause("step").and_then(|step| self.inner_step(step));
                let first = line.clause("first").and_then(|first| first.quantities().into_iter().next());
                let from = first.and_then(|first| self.one::<Time>(first));
                if let (Some(every), Some(step)) = (every, step) {
                    upkeep.push(Upkeep::Every { every, step: Box::new(step), from, span: line.span });
                }
            }
        }
        self.study.upkeep = upkeep;
    }

    fn decide(&mut self) {
        let Some(block) = self.block(BlockKind::Study) else { return };
        let Some(line) = Self::children(block, "decide").next() else {
            if block.broken {
                self.study.decide = Some(Decision { measure: None, round: None, span: block.span });
            }
            return;
        };
        let names = line.names();
        let &[measure, round] = names.as_slice() else { return };
        let (measure, round) = (self.measure_id(measure), self.round_id(round));
        let on = line.clause("patch").and_then(Args::name);
        let measure = measure.and_then(|measure| self.decided_on(measure, on, line.span));
        self.study.decide = Some(Decision { measure, round, span: line.span });
    }
}

fn empty_apply(span: Span) -> Apply {
    let climate = ApplyClimate::default();
    Apply {
        on: None,
        from: None,
        climate,
        tape_off: None,
        pace: Pace::default(),
        by: None,
        span,
        broken: false,
        stated: true,
    }
}

/// `month 6` means six months; names of one's own mean nothing by themselves.
fn named_time(name: &str) -> Option<AnyQuantity> {
    let (word, number) = name.split_once(' ')?;
    Some(AnyQuantity { value: number.parse().ok()?, unit: unit(word)? })
}

/// `month6` is `month 6` without its blank.
fn parted_time(name: &str) -> Option<String> {
    let figures = name.find(|c: char| c.is_ascii_digit())?;
    let parted = format!("{} {}", name[..figures].to_lowercase(), &name[figures..]);
    let word = ["day", "week", "month", "year"].contains(&parted.split(' ').next()?);
    (word && named_time(&parted).is_some()).then_some(parted)
}
