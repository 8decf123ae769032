//! Gauges, measures, supplies and products: first every name, then what stands under each.

use super::labels::packed;
use super::{Resolver, TREATMENTS};
use crate::catalog::{Class, Measure as KnownMeasure};
use crate::diag::{Finding, nearest};
use crate::speech::{self, quantity, say};
use crate::study::{
    ApplyClimate, Direction, Disclosure, KindOf, Limit, Measure, MeasureId, MeasureKind, MeasureUnit,
    Opening, Price, Product, Reference, Sheet, SpentRule, Supply, Tool,
};
use crate::syntax::{Args, Block, BlockKind, Clauses, DIGIT, Statement};
use crate::text::{Located, Span};
use crate::units::{self, Dimension, Money, Time};
use std::collections::BTreeMap;

/// The unit of ratings.
const MARKS: &str = "marks";

impl<'t> Resolver<'t> {
    /// Names first, so that the order of the blocks does not matter.
    pub(super) fn things(&mut self) {
        self.specimen_sets();
        let measures = self.named(BlockKind::Measure, "measure");
        for &(block, ref name) in &measures {
            let unit = self.measure_unit(block, name);
            self.define_measure(name.clone(), unit);
        }
        for (whole, &(block, _)) in measures.iter().enumerate() {
            self.parts_of(block, MeasureId::new(whole));
        }
        for (block, name) in self.named(BlockKind::Supply, "supply") {
            let supply = self.supply(block, name);
            self.study.supplies.push(supply);
        }
        for (block, name) in self.named(BlockKind::Marker, "marker") {
            let marker = self.supply(block, name);
            self.study.supplies.push(Supply { marks: true, ..marker });
        }
        self.products();
        for (block, name) in measures {
            if let Some(id) = self.known_measure(&name.value) {
                self.measure(block, id);
            }
        }
        for (block, name) in self.named(BlockKind::Gauge, "gauge") {
            let gauge = self.gauge(block, name);
            self.study.gauges.push(gauge);
        }
    }

    /// Blocks of a kind with their names, read or saved; a name that stands twice is a finding.
    pub(super) fn named(&mut self, kind: BlockKind, word: &str) -> Vec<(&'t Block, Located<String>)> {
        let mut named: Vec<(&'t Block, Located<String>)> = Vec::new();
        let mut again: BTreeMap<Span, Vec<Located<String>>> = BTreeMap::new();
        let mut seen = BTreeMap::new();
        for block in self.blocks(kind) {
            let read = block.head.as_ref().and_then(Args::name).map(|name| name.map(str::to_owned));
            let Some(name) = read.or_else(|| block.salvaged.clone()) else { continue };
            if let Some(&first) = seen.get(&name.value.to_lowercase()) {
                again.entry(first).or_default().push(name);
                continue;
            }
            seen.insert(name.value.to_lowercase(), name.span);
            named.push((block, name));
        }
        self.findings.extend(again.iter().filter_map(|(&first, again)| duplicate(word, first, again)));
        named
    }

    fn measure_unit(&mut self, block: &Block, name: &Located<String>) -> MeasureUnit {
        let written = block.head.as_ref().and_then(|head| head.clause("in")).and_then(Args::text);
        let known = self.catalog.measure(&name.value);
        let rated = block.head.as_ref().is_some_and(|head| head.clause("rating").is_some());
        let symbol = match (written, known) {
            (Some(written), _) => written.value.to_owned(),
            (None, Some(known)) => known.unit.to_owned(),
            (None, None) if rated => MARKS.to_owned(),
            (None, None) => {
                if block.head.is_some() && !block.broken {
                    let message = format!("measure `{}` has no unit", name.value);
                    self.findings.push(Finding::error("measure-without-unit", name.span, message).help(
                        format!(
                            "write `measure {} in mm`, or whatever its unit is, as `in times` for a ratio",
                            name.value
                        ),
                    ));
                }
                String::new()
            }
        };
        let unit = units::unit(&symbol);
        MeasureUnit { symbol: unit.map_or(symbol, |unit| unit.symbol.to_owned()), known: unit }
    }

    /// Defines a measure with what the trade knows of it.
    pub(super) fn define_measure(&mut self, name: Located<String>, unit: MeasureUnit) {
        let known = self.catalog.measure(&name.value).filter(|known| known.unit == unit.symbol);
        let limit = |value: Option<f64>| value.map(|value| Located::new(value, name.span));
        let measure = Measure {
            direction: known.map_or(Direction::Neither, |known| known.direction),
            alike: limit(known.and_then(|known| known.alike)),
            seen: limit(known.and_then(|known| known.seen)),
            spent: None,
            change_from: known.map_or(Reference::Fresh, |known| known.reference),
            change_stated: false,
            adjust_for_baseline: false,
            possible: known.map(|known| (known.possible_min, known.possible_max)),
            kind: MeasureKind::Read,
            home: None,
            of: None,
            broken: false,
            name,
            unit,
        };
        self.study.measures.push(measure);
    }

    fn measure(&mut self, block: &Block, id: MeasureId) {
        let mut measure = self.study.measure(id).clone();
        // A measure without a unit has a finding of its own.
        measure.broken = block.broken || measure.unit.symbol.is_empty();
        let before = self.mark();
        let known =
            self.catalog.measure(&measure.name.value).filter(|known| known.unit == measure.unit.symbol);
        if let Some(scale) = self.scale(block) {
            measure.possible = Some((scale.from, scale.to));
            measure.kind = MeasureKind::Rating(scale);
        }
        let home = block.head.as_ref().and_then(|head| head.clause("home")).and_then(Args::name);
        measure.home = home.and_then(|name| self.specimens_id(name));
        let mut said = Vec::new();
        for line in &block.children {
            said.push(line.verb.as_str());
            self.measure_line(line, &mut measure, block.head.is_none());
        }
        self.spent_on_the_scale(&mut measure);
        // Which way is worse is known only after every line was read.
        if let Some(rule) = measure.spent.as_mut().filter(|rule| rule.at_limit) {
            rule.below = measure.direction == Direction::Higher;
        }
        measure.broken |= self.failed_since(before);
        self.measure_defaults(&measure, &said, known);
        self.made_well(&measure, &said);
        if let MeasureKind::Made(made) = &measure.kind {
            for part in made.parts.clone() {
                self.study.measures[part.index()].home = measure.home;
            }
        }
        self.study.measures[id.index()] = measure;
    }

    fn measure_line(&mut self, line: &Statement, measure: &mut Measure, headless: bool) {
        let quantity = line.quantities().into_iter().next();
        match line.verb.as_str() {
            "higher" => measure.direction = Direction::Higher,
            "lower" => measure.direction = Direction::Lower,
            "neither" => measure.direction = Direction::Neither,
            "alike" | "seen" => {
                let Some(quantity) = quantity else { return };
                let example = format!(
                    "{} {} 2 {}",
                    line.verb,
                    if line.verb == "alike" { "within" } else { "from" },
                    measure.unit.symbol
                );
                let value = self.in_measure(quantity, &measure.unit);
                let value = value.filter(|&value| self.above_zero(value, quantity.span, &example));
                let value = value.map(|value| Located::new(value, quantity.span));
                if line.verb == "alike" { measure.alike = value } else { measure.seen = value }
            }
            "change" => self.change(line, measure),
            "adjust" => self.adjust(line, measure),
            "spent" => measure.spent = self.spent(line, &measure.unit),
            "read" => {}
            // A head that could not be read may have said of which kind the measure is.
            "is" | "against" | "half" | "rated" | DIGIT if headless => {}
            "is" | "against" | "half" | "rated" | DIGIT => self.kind_line(line, measure),
            _ => {}
        }
    }

    fn change(&mut self, line: &Statement, measure: &mut Measure) {
        measure.change_stated = true;
        match line.name().map(|name| (name.value.to_lowercase(), name.span)) {
            Some((word, _)) if word == "baseline" => measure.change_from = Reference::Baseline,
            Some((word, _)) if word == "fresh" => measure.change_from = Reference::Fresh,
            Some((word, span)) => self.findings.push(
                Finding::error("undefined-name", span, format!("a change does not count from `{word}`"))
                    .help("write `change from baseline` or `change from fresh`"),
            ),
            None => {}
        }
    }

    fn adjust(&mut self, line: &Statement, measure: &mut Measure) {
        let Some(name) = line.name() else { return };
        if matches!(measure.kind, MeasureKind::Rating(_)) {
            self.findings.push(
                Finding::error(
                    "measure-of-another-kind",
                    line.span,
                    "marks of a rating are ranked, not adjusted",
                )
                .help("take this line out"),
            );
        } else if name.value.eq_ignore_ascii_case("baseline") {
            measure.adjust_for_baseline = true;
        } else {
            self.findings.push(
                Finding::error(
                    "undefined-name",
                    name.span,
                    format!("nothing is adjusted for `{}`", name.value),
                )
                .help("write `adjust for baseline`"),
            );
        }
    }

    fn spent(&mut self, line: &Statement, unit: &MeasureUnit) -> Option<SpentRule> {
        if let Some(mark) = line.number() {
            let limit = Limit::Value(mark.value.parse().ok()?);
            return Some(SpentRule { below: true, at_limit: true, limit, span: line.span });
        }
        let quantity = line.quantities().into_iter().next()?;
        let below = line.has("below");
        let written = quantity.value.unit.as_ref().map_or("", |unit| unit.value.as_str());
        let limit = if written.starts_with('%') && unit.known.is_none_or(|unit| !unit.symbol.starts_with('%'))
        {
            let share = self.any_of(quantity, &[Dimension::PercentOfReference])?;
            let from =
                if share.unit.symbol.ends_with("baseline") { Reference::Baseline } else { Reference::Fresh };
            Limit::PercentOf(share.value, from)
        } else {
            Limit::Value(self.in_measure(quantity, unit)?)
        };
        Some(SpentRule { below, at_limit: false, limit, span: line.span })
    }

    fn measure_defaults(&mut self, measure: &Measure, said: &[&str], known: Option<&KnownMeasure>) {
        let directed = ["higher", "lower", "neither"].iter().any(|word| said.contains(word));
        match known {
            Some(known) if !measure.broken => {
                let unit = &measure.unit.symbol;
                let (name, source) = (&measure.name.value, speech::said(known.limits_source.as_str()));
                let limit = |value: f64| quantity(&format!("{value} {unit}"));
                if let (false, Some(alike)) = (said.contains(&"alike"), known.alike) {
                    self.assume(say!(
                        "{name}: alike within {limit} ({source}).",
                        name,
                        source,
                        limit = limit(alike)
                    ));
                }
                if let (false, Some(seen)) = (said.contains(&"seen"), known.seen) {
                    let note =
                        known.seen_note.map_or_else(String::new, |note| format!("; {}", speech::said(note)));
                    self.assume(say!(
                        "{name}: seen from {limit} ({source}{note}).",
                        name,
                        source,
                        note,
                        limit = limit(seen)
                    ));
                }
            }
            None if !directed && !measure.broken => self.findings.push(
                Finding::warning(
                    "direction-not-said",
                    measure.name.span,
                    format!("nothing says which way `{}` is better", measure.name.value),
                )
                .help("write `higher is better`, `lower is better` or `neither is better` under it")
                .about(&measure.name.value),
            ),
            _ => {}
        }
    }

    fn kind(&mut self, head: Option<&Statement>) -> Option<KindOf> {
        let head = head?;
        let clause = head.clause("kind").or_else(|| head.clause("kind_with_article"))?;
        let words = clause.text()?.map(str::to_owned);
        if words.value.contains('"') {
            let message = "a text in quotes stands in the kind";
            self.findings.push(Finding::error("unreadable-line", words.span, message).help(
                "define one thing on a line: its name, its name for print in quotes, its kind, as `product bay \"Bay seal\", a wax`",
            ));
            return None;
        }
        let catalog = self.catalog;
        // A table of products names one kind many times.
        let class = *self.classes.entry(words.value.clone()).or_insert_with(|| catalog.class(&words.value));
        Some(KindOf { words, class })
    }

    fn supply(&mut self, block: &Block, name: Located<String>) -> Supply {
        let kind = self.kind(block.head.as_ref());
        let label = label(block);
        let mut supply = Supply { broken: block.broken, kind, label, ..empty_supply(name) };
        let text =
            format!("{} {}", supply.name.value, supply.kind.as_ref().map_or("", |kind| &kind.words.value));
        let chemical = supply.kind.as_ref().is_some_and(|kind| kind.class.is_some());
        let catalog = self.catalog;
        supply.gear = catalog.gear_named(&text).filter(|_| !chemical).map(|gear| gear.id);
        for line in &block.children {
            let before = self.mark();
            self.supply_line(line, &mut supply);
            if self.failed_since(before) {
                supply.unread.push(line.verb.clone());
            }
        }
        supply
    }

    fn supply_line(&mut self, line: &Statement, supply: &mut Supply) {
        match line.verb.as_str() {
            "mix" => supply.mix = self.mix(&line.args),
            "dwell" => supply.dwell = self.range_of::<Time>(line),
            "strength" => {
                let percent = [Dimension::PercentVolume, Dimension::PercentMass];
                supply.strength =
                    line.quantities().first().and_then(|&quantity| self.any_of(quantity, &percent));
            }
            "keeps" | "pot" => supply.keeps = self.life(line),
            "bought" => supply.price = self.price(line),
            "uses" => supply.uses = self.use_of(line),
            "density" => supply.density = self.density(line),
            "sheet" => supply.sheet = self.sheet(line),
            "hazards" => supply.stated = self.label(line),
            "packed" => supply.packed = packed(line),
            "batch" => supply.batch = self.opening(line),
            "leaves" => supply.leaves_oils = line.has("oils"),
            "leave" => supply.leave = self.range_of::<Time>(line).map(|leave| leave.value),
            "amount" => supply.amount = line.text().map(|amount| amount.value.to_owned()),
            _ => {}
        }
    }

    /// A supply that a step names by its kind: the trade's word is enough for a beginner.
    pub(super) fn define_supply_of_class(&mut self, name: Located<&str>, class: &'static Class) {
        self.assume(say!(
            "`{name}` stands for {class} of no particular make; the study describes it no further.",
            name = name.value,
            class = speech::said(class.name)
        ));
        let words = Located::new(class.name.to_owned(), name.span);
        let kind = KindOf { words, class: Some(class) };
        self.study.supplies.push(Supply { kind: Some(kind), ..empty_supply(name.map(str::to_owned)) });
    }

    pub(super) fn range_of<K: units::Kind>(&mut self, line: &Statement) -> Option<Located<units::Range<K>>> {
        let quantity = line.quantities().into_iter().next()?;
        self.range::<K>(quantity).map(|range| Located::new(range, quantity.span))
    }

    fn sheet(&mut self, line: &Statement) -> Option<Sheet> {
        let dated = line.clause("dated").and_then(|clause| self.date(clause)).map(|date| date.value);
        Some(Sheet { name: line.text()?.value.to_owned(), dated })
    }

    fn opening(&mut self, line: &Statement) -> Option<Opening> {
        let opened = line.clause("opened").and_then(|clause| self.date(clause)).map(|date| date.value);
        Some(Opening { batch: line.text()?.value.to_owned(), opened })
    }

    fn products(&mut self) {
        let bought = self
            .block(BlockKind::Study)
            .is_some_and(|block| block.children.iter().any(|line| line.verb == "bought"));
        for (block, name) in self.named(BlockKind::Product, "product") {
            if TREATMENTS.contains(&name.value.to_lowercase().as_str()) {
                let message = format!(
                    "`{}` says what a section is left as, so no product can be called that",
                    name.value
                );
                self.findings.push(
                    Finding::error("duplicate-name", name.span, message)
                        .help("give the product another name"),
                );
            }
            let product = self.product(block, name, bought);
            self.study.products.push(product);
        }
    }

    fn product(&mut self, block: &Block, name: Located<String>, bought: bool) -> Product {
        let label = label(block);
        let kind = self.kind(block.head.as_ref());
        let mut product = self.like(block, &name).unwrap_or_else(|| empty_product(name.clone()));
        product.name = name;
        product.label = label;
        product.kind = kind.or(product.kind);
        product.broken |= block.broken;
        for line in &block.children {
            let before = self.mark();
            self.product_line(line, &mut product);
            if self.failed_since(before) {
                product.unread.push(line.verb.clone());
            }
        }
        self.coats_of(block, &mut product);
        if product.disclosure.is_none() && bought {
            product.disclosure = Some(Disclosure::Bought);
        }
        product
    }

    fn like(&mut self, block: &Block, name: &Located<String>) -> Option<Product> {
        let line = block.children.iter().find(|line| line.verb == "like")?;
        let model = line.name()?;
        if let Some(id) = self.product_id(model.value) {
            return Some(self.study.product(id).clone());
        }
        let known: Vec<String> =
            self.study.products.iter().map(|product| product.name.value.clone()).collect();
        let near = nearest(model.value, known.iter().map(String::as_str));
        let help = near.map_or_else(
            || "define it above this product".to_owned(),
            |near| format!("did you mean `{near}`?"),
        );
        let message = format!("no product above `{}` is called `{}`", name.value, model.value);
        self.findings.push(Finding::error("undefined-name", model.span, message).help(help));
        Some(Product { broken: true, ..empty_product(name.clone()) })
    }

    fn product_line(&mut self, line: &Statement, product: &mut Product) {
        let quantity = line.quantities().into_iter().next();
        match line.verb.as_str() {
            "bought" => {
                product.disclosure = Some(Disclosure::Bought);
                product.price = self.price(line).or(product.price);
            }
            "given" => product.disclosure = Some(Disclosure::Given),
            "paid" => product.disclosure = Some(Disclosure::PaidFor),
            "batch" => product.batch = self.opening(line),
            "uses" => product.uses = self.use_of(line),
            "flash" => {
                product.unwiped = line.has("none");
                product.flash = self.range_of::<Time>(line);
            }
            "dry" | "cure" => {
                let value = quantity.and_then(|q| self.one::<Time>(q).map(|time| Located::new(time, q.span)));
                if line.verb == "dry" { product.dry = value } else { product.cure = value }
            }
            "mix" => product.mix = self.mix(&line.args),
            "keeps" | "pot" => product.keeps = self.life(line),
            "sheet" => product.sheet = self.sheet(line),
            "hazards" => product.stated = self.label(line),
            "packed" => product.packed = packed(line),
            "tool" => product.tool = tool(line),
            "density" => product.density = self.density(line),
            "air" => self.air(line, &mut product.climate),
            "surface" => self.surface_climate(line, &mut product.climate),
            "category" => product.category = line.text().map(|text| text.value.to_owned()),
            _ => {}
        }
    }

    fn price(&mut self, line: &Statement) -> Option<Price> {
        let paid = line.quantities().into_iter().next()?;
        let money = self.one::<Money>(paid)?;
        let bought = line.clause("amount")?.quantities().into_iter().next()?;
        let amount = self.any_of(bought, &[Dimension::Volume, Dimension::Mass])?;
        let (span, help) = if amount.value <= 0.0 {
            (bought.span, "write the amount that was bought, as `20.00 EUR for 500 ml`")
        } else if money.any().value <= 0.0 {
            (paid.span, "write what was paid, or `given by` and who gave it")
        } else {
            return Some(Price { money, amount });
        };
        let message = "nothing is bought for nothing";
        self.findings.push(Finding::error("value-out-of-range", span, message).help(help));
        None
    }
}

fn tool(line: &Statement) -> Option<Tool> {
    let because = line.clause("because").and_then(Args::text).map(|text| text.value.to_owned());
    Some(Tool { how: line.text()?.value.to_owned(), because, span: line.span })
}

/// A name that stands several times is one finding, at the second place.
fn duplicate(word: &str, first: Span, again: &[Located<String>]) -> Option<Finding> {
    let (second, more) = again.split_first()?;
    let times = if more.is_empty() { String::from("twice") } else { format!("{} times", more.len() + 2) };
    let message = format!("{word} `{}` stands {times}", second.value);
    let finding = Finding::error("duplicate-name", second.span, message)
        .related(first, "first here")
        .help("give one of them another name, or take one out where they are the same");
    Some(more.iter().fold(finding, |finding, name| finding.related(name.span, "here as well")))
}

/// The name for print in the head of a block.
pub(super) fn label(block: &Block) -> Option<String> {
    block.head.as_ref()?.args.iter().find_map(|arg| match &arg.value {
        crate::syntax::Value::Text(text) => Some(text.clone()),
        _ => None,
    })
}

fn empty_supply(name: Located<String>) -> Supply {
    Supply {
        name,
        kind: None,
        gear: None,
        mix: None,
        dwell: None,
        strength: None,
        sheet: None,
        batch: None,
        keeps: None,
        price: None,
        uses: None,
        density: None,
        stated: None,
        packed: None,
        leaves_oils: false,
        marks: false,
        label: None,
        amount: None,
        leave: None,
        unread: Vec::new(),
        broken: false,
    }
}

fn empty_product(name: Located<String>) -> Product {
    Product {
        name,
        label: None,
        kind: None,
        price: None,
        disclosure: None,
        batch: None,
        uses: None,
        density: None,
        coats: None,
        flash: None,
        unwiped: false,
        dry: None,
        cure: None,
        mix: None,
        keeps: None,
        sheet: None,
        stated: None,
        packed: None,
        tool: None,
        category: None,
        climate: ApplyClimate::default(),
        unread: Vec::new(),
        broken: false,
    }
}
