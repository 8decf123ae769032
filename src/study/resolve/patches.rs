//! Patches and cycles: a drawing in each specimen becomes places of their own, a cycle becomes rounds without a date.

use super::{Resolver, same_name};
use crate::diag::Finding;
use crate::speech::say;
use crate::study::{
    Cycle, Limit, MeasureId, MeasureKind, Outline, Patch, Patches, Placing, Point, ReadPlan, Round, RoundId,
    Section, Specimens, SpecimensId, SpentRule, Step, Stop, SupplyId, Treated, Treatment, Verb,
};
use crate::syntax::{Args, Block, BlockKind, Clauses, Statement};
use crate::text::{Located, Span};
use crate::units::{Length, Quantity, Range, Time};

/// How many cycles there can be; a larger number is a slip. A bound of this program, no rule of the trade.
const MOST_CYCLES: u32 = 200;

impl Resolver<'_> {
    /// A set for each word that is drawn, so that measures can be read on it.
    pub(super) fn patch_sets(&mut self) {
        let Some(block) = self.block(BlockKind::Patches) else { return };
        for word in drawn(block) {
            let known = self.study.specimens.iter().any(|set| same_name(&set.name.value, word.2.value));
            if known || word.2.value == "." {
                continue;
            }
            self.study.specimens.push(Specimens {
                name: word.2.map(str::to_owned),
                material: None,
                size: None,
                spare: None,
                prep: Vec::new(),
                patch: true,
                treated: None,
                broken: block.broken,
            });
        }
    }

    /// The patches of every specimen of the map, once products, supplies and map are known.
    pub(super) fn patches(&mut self) {
        let Some(block) = self.block(BlockKind::Patches) else { return };
        let Some(head) = block.head.as_ref() else { return };
        let before = self.mark();
        let size = head.clause("size").and_then(|clause| self.size(&clause.args));
        let Some((width, height)) = size else {
            if !self.failed_since(before) {
                self.findings.push(
                    Finding::error("map-without-size", head.span, "nothing says how large a patch is")
                        .help("write `patches in each panel  size 90 x 90 mm  gap 20 mm  from left 30 mm, top 30 mm`"),
                );
            }
            return;
        };
        let length = |resolver: &mut Self, name: &str| {
            let written = head.clause(name)?.quantities().into_iter().next()?;
            resolver.one::<Length>(written)
        };
        let gap = length(self, "gap").map_or(0.0, Quantity::mm);
        let corner = head.clause("place").map(Args::quantities).unwrap_or_default();
        let corner: Vec<f64> =
            corner.into_iter().filter_map(|edge| self.one(edge)).map(Quantity::mm).collect();
        let corner =
            Point { x: corner.first().copied().unwrap_or(0.0), y: corner.get(1).copied().unwrap_or(0.0) };
        let drawn = drawn(block);
        // Where a patch lies when its specimen has that top left corner.
        let place = |row: usize, column: usize, (left, top): (f64, f64)| {
            let step = |n: usize, own: f64| n as f64 * (own + gap);
            let x = left + corner.x + step(column, width.mm());
            let y = top + corner.y + step(row, height.mm());
            let at = Point { x, y };
            Outline::Rectangle { at, width: width.mm(), height: height.mm() }
        };
        for set in 0..self.study.specimens.len() {
            self.treated(SpecimensId::new(set));
        }
        let never = self.never(block);
        self.fits(head, corner, (width, height, gap), &drawn);
        for section in self.study.sections.clone() {
            for &(row, column, word) in &drawn {
                let set = self.study.specimens.iter().position(|set| same_name(&set.name.value, word.value));
                let Some(set) = set.map(SpecimensId::new) else { continue };
                let treated = self.study.specimens[set.index()].treated;
                if never.iter().any(|never| never.leaves_out(treated, section.treatment)) {
                    continue;
                }
                let at = section.outline.as_ref().map(|outline| {
                    let (left, top, ..) = outline.bounds();
                    place(row, column, (left, top))
                });
                self.study.loose.push(Section {
                    code: format!("{} / {}", section.code, patch_code(row, column)),
                    treatment: section.treatment,
                    specimen: Some(set),
                    site: section.site,
                    row: None,
                    column: None,
                    outline: at,
                    span: word.span,
                });
            }
        }
        let places = drawn.iter().filter(|(.., word)| word.value != ".");
        let drawn = places.map(|&(row, column, word)| Patch {
            code: patch_code(row, column),
            word: word.value.to_owned(),
            outline: place(row, column, (0.0, 0.0)),
        });
        let drawn = drawn.collect();
        let never = never.into_iter().map(|never| never.sentence).collect();
        self.study.patches = Some(Patches { size: (width, height), drawn, never, span: head.span });
    }

    /// Binds the marker and the cleaner of a patch, as `spray+gel` names them.
    fn treated(&mut self, id: SpecimensId) {
        let set = &self.study.specimens[id.index()];
        let (name, patch) = (set.name.clone(), set.patch);
        let Some((marker, cleaner)) = name.value.split_once('+').filter(|_| patch) else { return };
        let marker = self.supply_id(Located::new(marker, name.span));
        let cleaner = self.supply_id(Located::new(cleaner, name.span));
        let (Some(marker), Some(cleaner)) = (marker, cleaner) else { return };
        if !self.study.supply(marker).marks {
            let message = format!("`{}` is no marker", self.study.supply(marker).name.value);
            self.findings.push(
                Finding::error("not-a-marker", name.span, message)
                    .help("write the marker before the `+` and what cleans it after it, as `spray+gel`"),
            );
        }
        self.study.specimens[id.index()].treated = Some(Treated { marker, cleaner });
    }

    /// A drawing that is larger than the specimen.
    fn fits(
        &mut self,
        head: &Statement,
        corner: Point,
        (width, height, gap): (Quantity<Length>, Quantity<Length>, f64),
        drawn: &[(usize, usize, Located<&str>)],
    ) {
        let Some((wide, high)) = self.study.surface.each else {
            if !self.study.surface.broken {
                self.findings.push(
                    Finding::error(
                        "patches-without-specimens",
                        head.span,
                        "patches lie in specimens, and this study has none",
                    )
                    .help("write `each 600 x 400 mm` under `surface`, and draw a rack in `map`"),
                );
            }
            return;
        };
        let columns = drawn.iter().map(|(_, column, _)| column + 1).max().unwrap_or(0);
        let rows = drawn.iter().map(|(row, ..)| row + 1).max().unwrap_or(0);
        let across = |count: usize, own: f64| count as f64 * own + count.saturating_sub(1) as f64 * gap;
        let right = corner.x + across(columns, width.mm());
        let bottom = corner.y + across(rows, height.mm());
        if right > wide.mm() + 1e-6 || bottom > high.mm() + 1e-6 {
            let decimal = crate::units::decimal;
            let message = format!(
                "the patches reach to {} x {} mm, and a specimen is {} x {} mm",
                decimal(right),
                decimal(bottom),
                decimal(wide.mm()),
                decimal(high.mm())
            );
            self.findings.push(
                Finding::error("patches-off-the-specimen", head.span, message)
                    .help("make patches or gap smaller, or begin nearer to the corner"),
            );
        }
    }

    fn never(&mut self, block: &Block) -> Vec<Never> {
        let mut all = Vec::new();
        for line in block.children.iter().filter(|line| line.verb == "never") {
            let names = line.names();
            let &[supply, product] = names.as_slice() else { continue };
            let (of, on) = (self.supply_id(supply), self.bound_product(product));
            let because = line.clause("because").and_then(Args::text);
            let (Some(of), Some(on)) = (of, on) else { continue };
            let reason = because.map_or_else(String::new, |because| format!(": {}", because.value));
            let sentence = say!(
                "{supply} is never used on {product}{reason}.",
                reason,
                supply = self.study.supply(of).title(),
                product = self.study.product(on).title()
            );
            all.push(Never { of, on: Treatment::Product(on), sentence });
        }
        all
    }

    /// The cycle, its rounds, and the measures that it reads, each on the patches of one marker and cleaner.
    pub(super) fn cycle(&mut self) {
        let Some(block) = self.block(BlockKind::Cycle) else { return };
        let before = self.mark();
        let most = block.head.as_ref().and_then(Args::number).and_then(|number| {
            let most = self.whole(number, 1)?;
            if most > MOST_CYCLES {
                let message = format!("nothing goes through {most} cycles");
                self.findings.push(
                    Finding::error("value-out-of-range", number.span, message)
                        .help(format!("write a number from 1 to {MOST_CYCLES}")),
                );
                return None;
            }
            Some(most)
        });
        // Nobody knows then which cycles there are, and a round that names one is no second mistake.
        self.round_names_lost |= most.is_none();
        let mut cycle = Cycle {
            most: most.unwrap_or(0),
            steps: Vec::new(),
            stop: None,
            rounds: Vec::new(),
            span: block.span,
            broken: block.broken,
        };
        let mut reads: Vec<ReadPlan> = Vec::new();
        for line in &block.children {
            match line.verb.as_str() {
                "mark" => cycle.steps.extend(self.marking(line)),
                "clean" => cycle.steps.extend(self.cleaning(line)),
                "read" => reads.extend(self.cycle_reads(line)),
                "stop" => cycle.stop = self.stop(line),
                _ => cycle.steps.extend(self.step(line)),
            }
        }
        self.on_each_alike(&mut cycle.steps);
        if self.study.specimens.iter().all(|set| set.treated.is_none()) && !self.failed_since(before) {
            self.findings.push(
                Finding::error(
                    "cycle-without-patches",
                    block.span,
                    "a cycle marks and cleans patches, and none is drawn for it",
                )
                .help("draw them: `patches in each panel ...` with rows such as `| spray+gel  pen+gel |`"),
            );
        }
        for number in 1..=most.unwrap_or(0) {
            let name = Located::new(format!("cycle {number}"), block.span);
            cycle.rounds.push(RoundId::new(self.study.rounds.len()));
            let placing = Placing::Cycle(number);
            self.study.rounds.push(Round {
                name,
                placing,
                window: None,
                at_sites: Vec::new(),
                within: None,
                reads: reads.clone(),
                span: block.span,
            });
        }
        cycle.broken |= self.failed_since(before);
        self.study.cycle = Some(cycle);
    }

    /// Marking, once for each marker that a patch has; it is left on as long as the marker says.
    fn marking(&mut self, line: &Statement) -> Vec<Step> {
        let said = line.clause("wait").and_then(|wait| wait.quantities().into_iter().next());
        let said = said.and_then(|said| self.one::<Time>(said));
        let step = |id: SupplyId, study: &crate::study::Study| {
            let mut step = super::steps::empty_step(Verb::Mark, line.span);
            step.with = Some(Located::new(id, line.span));
            step.wait = said.or(study.supply(id).leave.map(|leave: Range<Time>| leave.high));
            line.prose.clone_into(&mut step.prose);
            step
        };
        self.used(|treated| treated.marker).into_iter().map(|id| step(id, &self.study)).collect()
    }

    /// Cleaning, once for each cleaner; what the line says of the time and the rinse holds for all.
    fn cleaning(&mut self, line: &Statement) -> Vec<Step> {
        let model = self.step_of(Verb::Clean, line, line.span);
        let cleaners = self.used(|treated| treated.cleaner);
        let mut steps = Vec::new();
        for id in cleaners {
            let mut step = model.clone();
            step.with = Some(Located::new(id, line.span));
            if step.dwell.is_none() {
                step.dwell.clone_from(&self.study.supply(id).dwell);
            }
            line.prose.clone_into(&mut step.prose);
            steps.push(step);
        }
        steps
    }

    fn used(&self, which: impl Fn(&Treated) -> SupplyId) -> Vec<SupplyId> {
        let mut used = Vec::new();
        for id in self.study.specimens.iter().filter_map(|set| set.treated.as_ref()).map(which) {
            if !used.contains(&id) {
                used.push(id);
            }
        }
        used
    }

    fn cycle_reads(&mut self, line: &Statement) -> Vec<ReadPlan> {
        let mut plans = Vec::new();
        for clause in line.all("read") {
            let Some(name) = clause.name() else { continue };
            let times = clause.clause("times").and_then(|times| self.times(times)).unwrap_or(1);
            let Some(id) = self.measure_id(name) else { continue };
            let on = self.on_patches(id, name);
            plans.extend(on.into_iter().map(|id| ReadPlan { measure: Located::new(id, name.span), times }));
        }
        plans
    }

    /// The measure on the patches of each marker and cleaner; they are made when a cycle first reads it.
    fn on_patches(&mut self, id: MeasureId, name: Located<&str>) -> Vec<MeasureId> {
        if !matches!(self.study.measure(id).kind, MeasureKind::Read | MeasureKind::Rating(_)) {
            let message = format!(
                "`{}` is made of others; to read it in a cycle is planned and not yet built",
                name.value
            );
            self.findings.push(
                Finding::error("not-yet", name.span, message)
                    .help("read a measure of one number, or a rating"),
            );
            return Vec::new();
        }
        let sets: Vec<SpecimensId> = (0..self.study.specimens.len()).map(SpecimensId::new).collect();
        let sets = sets.into_iter().filter(|set| self.study.specimens[set.index()].treated.is_some());
        let mut own = Vec::new();
        for set in sets.collect::<Vec<_>>() {
            let mut measure = self.study.measure(id).clone();
            let on = &self.study.specimens[set.index()].name.value;
            measure.name = Located::new(format!("{} on {on}", measure.name.value), measure.name.span);
            (measure.home, measure.of) = (Some(set), Some(id));
            let copy = MeasureId::new(self.study.measures.len());
            self.study.measures.push(measure);
            for gauge in &mut self.study.gauges {
                let reads = gauge.reads.iter().find(|read| read.value == id).map(|read| read.span);
                gauge.reads.extend(reads.map(|span| Located::new(copy, span)));
            }
            own.push(copy);
        }
        // By itself it is only what the file calls them all.
        if let Some(first) = own.first() {
            let named = &mut self.study.measures[id.index()];
            (named.kind, named.spent) = (MeasureKind::Part(*first), None);
        }
        own
    }

    /// A round that names a measure of the cycle reads it on the patches of each marker and cleaner.
    pub(super) fn spread_over_patches(&mut self) {
        for round in 0..self.study.rounds.len() {
            let reads = std::mem::take(&mut self.study.rounds[round].reads);
            for plan in reads {
                let copies = self.copies(plan.measure.value);
                let span = plan.measure.span;
                let on =
                    copies.iter().map(|&id| ReadPlan { measure: Located::new(id, span), times: plan.times });
                let on: Vec<ReadPlan> = on.collect();
                self.study.rounds[round].reads.extend(if on.is_empty() { vec![plan] } else { on });
            }
        }
    }

    /// A measure of the cycle, on the patches of each marker and cleaner.
    fn copies(&self, id: MeasureId) -> Vec<MeasureId> {
        let own = self.study.measures_with_ids().filter(|(_, measure)| measure.of == Some(id));
        own.map(|(id, _)| id).collect()
    }

    fn stop(&mut self, line: &Statement) -> Option<Stop> {
        let measure = self.measure_id(line.name()?)?;
        let unit = self.study.measure(measure).unit.clone();
        let worse_below = self.study.measure(measure).direction == crate::study::Direction::Higher;
        let (value, below, at_limit) = if let Some(mark) = line.number() {
            (self.number(&mark.map(str::to_owned))?, worse_below, true)
        } else {
            let value = self.in_measure(line.quantities().into_iter().next()?, &unit)?;
            (value, line.has("below"), false)
        };
        let rule = SpentRule { below, at_limit, limit: Limit::Value(value), span: line.span };
        Some(Stop { measure, rule })
    }

    /// `decide by ghost on spray+gel`: the measure on the patches of that marker and cleaner.
    pub(super) fn decided_on(
        &mut self,
        measure: MeasureId,
        on: Option<Located<&str>>,
        span: Span,
    ) -> Option<MeasureId> {
        let copies = self.copies(measure);
        let Some(on) = on else {
            if copies.is_empty() {
                return Some(measure);
            }
            let name = &self.study.measure(copies[0]).name.value;
            self.findings.push(
                Finding::error(
                    "patch-not-said",
                    span,
                    format!("this measure is read on {} kinds of patch", copies.len()),
                )
                .help(format!("say by which the study is decided, as `decide by {name} at cycle 5`")),
            );
            return None;
        };
        let set = self.specimens_id(on)?;
        copies.into_iter().find(|&id| self.study.measure(id).home == Some(set))
    }
}

/// What is never used on what.
struct Never {
    of: SupplyId,
    on: Treatment,
    sentence: String,
}

impl Never {
    fn leaves_out(&self, treated: Option<Treated>, treatment: Treatment) -> bool {
        treatment == self.on
            && treated.is_some_and(|treated| treated.marker == self.of || treated.cleaner == self.of)
    }
}

/// The words of the drawing with their rows and places.
fn drawn(block: &Block) -> Vec<(usize, usize, Located<&str>)> {
    let rows = block.children.iter().filter(|line| line.verb == "|");
    let mut words = Vec::new();
    for (row, line) in rows.enumerate() {
        words.extend(line.names().into_iter().enumerate().map(|(column, word)| (row, column, word)));
    }
    words
}

/// `b2`: rows by small letters, as sections have large ones.
fn patch_code(row: usize, column: usize) -> String {
    format!("{}{}", super::map::row_letters(row).to_lowercase(), column + 1)
}
