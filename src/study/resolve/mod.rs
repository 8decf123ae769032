//! From tree to study: names bound, units converted, rounds dated. What was broken stays marked, so that one mistake is one finding.

mod climate;
mod coats;
mod dates;
mod dealing;
mod exposure;
mod gauges;
mod kinds;
mod labels;
mod map;
mod no_section;
mod page;
mod pages;
mod panel;
mod patch_pages;
mod patches;
mod plan;
mod record_file;
mod record_pages;
mod record_words;
mod records;
mod said_once;
mod specimens;
mod steps;
mod supplied;
mod things;
mod values;

pub use dates::count_from_last_coat;
pub use pages::PAGES;
pub use record_file::RecordInput;

use super::{Done, MeasureId, MeasureUnit, Note, NoteOn, ProductId, RoundId, SectionId, Study, SupplyId};
use crate::catalog::{Catalog, Class};
use crate::diag::{Finding, Severity, list, nearest};
use crate::speech::{LANGUAGES, round_name, say, speak};
use crate::syntax::{Args, Block, BlockKind, Statement, Tree};
use crate::text::{FileId, Located, Span};
use crate::units;
use jiff::civil::Date;
use std::collections::BTreeMap;

/// Resolves a tree. There is always a study; what could not be bound is in the findings.
///
/// With `as_of`, what was done and logged on later days is passed over, and rounds are dated without it.
pub fn resolve(tree: &Tree, catalog: &'static Catalog, as_of: Option<Date>) -> (Study, Vec<Finding>) {
    resolve_with(tree, &[], catalog, as_of)
}

/// Resolves a tree with the record files that it names, in their order; one that is not there is `None`. What they say
/// was done dates the rounds as `done` lines do.
pub fn resolve_with(
    tree: &Tree,
    records: &[Option<RecordInput<'_>>],
    catalog: &'static Catalog,
    as_of: Option<Date>,
) -> (Study, Vec<Finding>) {
    let mut resolver = Resolver {
        tree,
        catalog,
        as_of,
        inputs: records,
        file: FileId::STUDY,
        parked: Vec::new(),
        classes: BTreeMap::new(),
        study: Study::default(),
        findings: Vec::new(),
        repeated: 0,
        twice: Vec::new(),
        round_names_lost: false,
    };
    resolver.once_only();
    resolver.said_once();
    resolver.language();
    resolver.head();
    // What is taken by default is said in the language of the pages; findings are always English.
    let _speech = speak(resolver.study.language);
    resolver.things();
    resolver.panel();
    resolver.loose();
    resolver.patches();
    resolver.plan();
    resolver.records();
    resolver.missing_blocks();
    resolver.notes();
    (resolver.study, resolver.findings)
}

struct Resolver<'t> {
    tree: &'t Tree,
    catalog: &'static Catalog,
    as_of: Option<Date>,
    inputs: &'t [Option<RecordInput<'t>>],
    /// The file that is read, for the places of findings.
    file: FileId,
    /// What was done before a round, with its name, until the rounds are known.
    parked: Vec<(Done, Located<String>)>,
    classes: BTreeMap<String, Option<&'static Class>>,
    study: Study,
    findings: Vec<Finding>,
    /// How many findings were added as a further place to one that says the same.
    repeated: usize,
    /// Blocks that may stand once and stand again: what the second says is lost, so nothing of them is missing.
    twice: Vec<BlockKind>,
    /// True where the name of a round may be missing from the list, because its line could not be read.
    round_names_lost: bool,
}

/// How many findings there were, and how many places were added to them.
#[derive(Debug, Clone, Copy)]
struct Mark {
    findings: usize,
    repeated: usize,
}

/// What languages are called in German, beside the word of this one.
const OWN_NAMES: &[(&str, &str)] = &[("deutsch", "german"), ("englisch", "english")];

/// Words for treatments that no product may take.
const TREATMENTS: &[&str] = &["bare", "carrier-only", "untouched"];

impl<'t> Resolver<'t> {
    fn blocks(&self, kind: BlockKind) -> impl Iterator<Item = &'t Block> + use<'t> {
        self.tree.blocks.iter().filter(move |block| block.kind == kind)
    }

    /// The block of a kind that stands once: the first whose head says so, else the first that was guessed.
    fn block(&self, kind: BlockKind) -> Option<&'t Block> {
        self.blocks(kind).find(|block| !block.guessed).or_else(|| self.blocks(kind).next())
    }

    /// The blocks of a kind that may stand once for each site: those whose head says so, else the first that was guessed.
    fn told_apart(&self, kind: BlockKind) -> Vec<&'t Block> {
        let said: Vec<&Block> = self.blocks(kind).filter(|block| !block.guessed).collect();
        if said.is_empty() { self.blocks(kind).take(1).collect() } else { said }
    }

    /// True for a record of a day that lies after the one as of which the study is looked at.
    fn is_later(&mut self, date: Date) -> bool {
        let later = self.as_of.is_some_and(|as_of| date > as_of);
        self.study.passed_over += usize::from(later);
        later
    }

    /// How much was told so far.
    fn mark(&self) -> Mark {
        Mark { findings: self.findings.len(), repeated: self.repeated }
    }

    /// Whether an error was found since a mark: what was read meanwhile is not whole.
    fn failed_since(&self, mark: Mark) -> bool {
        let new = self.findings.get(mark.findings..).unwrap_or(&[]);
        self.repeated > mark.repeated || new.iter().any(|finding| finding.severity == Severity::Error)
    }

    /// Adds a finding, or its place to one that says the same: a name that is wrong in six places is one slip.
    fn tell(&mut self, mut finding: Finding) {
        const PLACES: usize = 5;
        if self.file != FileId::STUDY {
            finding.place.file = self.file;
        }
        let same = |other: &&mut Finding| other.code == finding.code && other.message == finding.message;
        let Some(told) = self.findings.iter_mut().find(same) else { return self.findings.push(finding) };
        self.repeated += 1;
        if told.related.len() < PLACES {
            told.related.push((finding.place, "here as well".to_owned()));
        }
    }

    fn assume(&mut self, sentence: String) {
        if !self.study.assumed.contains(&sentence) {
            self.study.assumed.push(sentence);
        }
    }

    /// Blocks that may stand once only.
    fn once_only(&mut self) {
        let once = [
            (BlockKind::Study, "study"),
            (BlockKind::Surface, "surface"),
            (BlockKind::Prep, "prep"),
            (BlockKind::Patches, "patches"),
            (BlockKind::Cycle, "cycle"),
            (BlockKind::Apply, "apply"),
            (BlockKind::Rounds, "rounds"),
            (BlockKind::Benchmark, "benchmark"),
            (BlockKind::Photos, "photos"),
            (BlockKind::Pages, "pages"),
        ];
        for (kind, word) in once {
            // The preparation of specimens is a block of its own, and says of which. A head that is misspelt is told
            // as that.
            let own = |block: &&Block| !block.guessed && (kind != BlockKind::Prep || !is_of_specimens(block));
            let mut blocks = self.blocks(kind).filter(own);
            let Some(first) = blocks.next() else { continue };
            for again in blocks {
                self.twice.push(kind);
                self.findings.push(
                    Finding::error("block-twice", again.span, format!("`{word}` stands twice"))
                        .related(first.span, "first here")
                        .help("keep one of them; only the first is read"),
                );
            }
        }
    }

    fn language(&mut self) {
        let head = self.block(BlockKind::Language).and_then(|block| block.head.as_ref());
        let Some(number) = head.and_then(Args::number) else { return };
        if number.value != "1" {
            self.findings.push(
                Finding::error(
                    "language-not-known",
                    number.span,
                    format!("language {} is not known here", number.value),
                )
                .help("this version reads `language 1`"),
            );
        }
    }

    fn head(&mut self) {
        let Some(block) = self.block(BlockKind::Study) else { return };
        if let Some(title) = block.head.as_ref().and_then(Args::text) {
            self.study.title = title.map(str::to_owned);
        }
        block.prose().clone_into(&mut self.study.prose);
        for line in &block.children {
            let text = line.text().map(|text| text.value.to_owned());
            match line.verb.as_str() {
                "author" => self.study.author = text,
                "question" => self.study.question = text,
                "language" => self.spoken(line),
                "begins" => self.study.begins = self.date(line),
                "spreads" => self.study.spreads_differ = true,
                _ => {}
            }
        }
    }

    fn spoken(&mut self, line: &Statement) {
        let Some(name) = line.name() else { return };
        if let Some((_, language)) = LANGUAGES.iter().find(|(known, _)| same_name(known, name.value)) {
            self.study.language = *language;
            return;
        }
        let known: Vec<String> = LANGUAGES.iter().map(|(known, _)| format!("`{known}`")).collect();
        let message = format!("no pages are written in `{}` here", name.value);
        let finding = Finding::error("language-not-known", name.span, message);
        let own = OWN_NAMES.iter().find(|(own, _)| same_name(own, name.value));
        self.tell(match own {
            Some((_, word)) => finding.help(format!("did you mean `{word}`?")),
            None => finding.help(format!("write one of {}", list(&known, "and"))),
        });
    }

    /// Prose that no part of the study carries with it; what the user wrote is never lost.
    fn notes(&mut self) {
        let carried = [BlockKind::Study, BlockKind::Surface, BlockKind::Exposure];
        for block in &self.tree.blocks {
            let head = block.head.iter().filter(|_| !carried.contains(&block.kind));
            let steps = block.kind == BlockKind::Prep && !is_of_specimens(block);
            let lines = head.chain(block.children.iter().filter(|_| !steps));
            let notes = lines.filter(|line| !line.prose.trim().is_empty());
            let on = self.note_on(block);
            let notes = notes.map(|line| Note { about: line.span, on, prose: line.prose.clone() });
            self.study.notes.extend(notes);
        }
        self.study.notes.sort_by_key(|note| note.about.start);
    }

    /// What the prose of a block is about.
    fn note_on(&self, block: &Block) -> NoteOn {
        let is_of = |span: Span| block.span.start <= span.start && span.start < block.span.end;
        let (products, supplies) = (&self.study.products, &self.study.supplies);
        match block.kind {
            BlockKind::Apply => NoteOn::Application,
            BlockKind::Cycle => NoteOn::Cycle,
            BlockKind::Rounds => NoteOn::Rounds,
            BlockKind::Prep if !is_of_specimens(block) => NoteOn::Preparation,
            BlockKind::Measure => {
                let own = self.study.measures.iter().position(|own| is_of(own.name.span));
                own.map_or(NoteOn::Elsewhere, |at| NoteOn::Measure(MeasureId::new(at)))
            }
            BlockKind::Product => {
                let own = products.iter().position(|own| is_of(own.name.span));
                own.map_or(NoteOn::Elsewhere, |at| NoteOn::Product(ProductId::new(at)))
            }
            BlockKind::Supply | BlockKind::Marker => {
                let own = supplies.iter().position(|own| is_of(own.name.span));
                own.map_or(NoteOn::Elsewhere, |at| NoteOn::Supply(SupplyId::new(at)))
            }
            _ => NoteOn::Elsewhere,
        }
    }

    /// Parts without which there is nothing to compare. A part that was broken is not missing.
    fn missing_blocks(&mut self) {
        let needed = [
            (BlockKind::Study, "study", "`study \"What is compared\"`"),
            (BlockKind::Surface, "surface", "`surface door` with `size 880 x 580 mm`"),
            (BlockKind::Map, "map", "`map sections 166 x 116 mm gap 18 mm` and the drawn rows"),
            (BlockKind::Rounds, "rounds", "`rounds` with `baseline` and at least one later round"),
        ];
        for (kind, word, help) in needed {
            if self.block(kind).is_none() {
                self.findings.push(
                    Finding::error("block-missing", Span::new(0, 0), format!("the study has no `{word}`"))
                        .help(format!("write {help}")),
                );
            }
        }
    }

    fn undefined(&mut self, what: &str, name: Located<&str>, known: &[String]) {
        let message = format!("no {what} is called `{}`", name.value);
        let mut finding = Finding::error("undefined-name", name.span, message);
        let near = self.printed_as(what, name.value).or_else(|| begins(name.value, known));
        let near = near.or_else(|| nearest(name.value, known.iter().map(String::as_str)).map(str::to_owned));
        finding = match near {
            Some(near) => finding.help(format!("did you mean `{near}`?")),
            None if known.is_empty() => {
                let block = if what == "set of specimens" { "specimens" } else { what };
                finding.help(format!("define it: `{block} {}`", name.value))
            }
            None if known.len() > 12 => {
                finding.help(format!("define it, or use one of the {} that there are", known.len()))
            }
            None => finding.help(format!("define it, or use one of {}", list(known, "and"))),
        };
        self.tell(finding);
    }

    /// The name of a product or supply by the one that papers print.
    fn printed_as(&self, what: &str, written: &str) -> Option<String> {
        let is = |label: Option<&String>| label.is_some_and(|label| same_words(label, written));
        let product =
            || self.study.products.iter().find(|own| is(own.label.as_ref())).map(|own| &own.name.value);
        let supply =
            || self.study.supplies.iter().find(|own| is(own.label.as_ref())).map(|own| &own.name.value);
        match what {
            "product" => product(),
            "supply" => supply().or_else(product),
            _ => None,
        }
        .cloned()
    }

    fn product_id(&self, name: &str) -> Option<ProductId> {
        let products = &self.study.products;
        products.iter().position(|product| same_name(&product.name.value, name)).map(ProductId::new)
    }

    fn bound_product(&mut self, name: Located<&str>) -> Option<ProductId> {
        let id = self.product_id(name.value);
        if id.is_none() {
            let known: Vec<String> =
                self.study.products.iter().map(|product| product.name.value.clone()).collect();
            self.undefined("product", name, &known);
        }
        id
    }

    fn known_measure(&self, name: &str) -> Option<MeasureId> {
        let measures = &self.study.measures;
        measures.iter().position(|measure| same_name(&measure.name.value, name)).map(MeasureId::new)
    }

    /// A measure of the study, or one that the trade knows and that is defined by its first use.
    fn measure_id(&mut self, name: Located<&str>) -> Option<MeasureId> {
        if let Some(id) = self.known_measure(name.value) {
            return Some(id);
        }
        let in_catalog = self.catalog.measure(name.value);
        if let Some(known) = in_catalog {
            let unit = MeasureUnit { symbol: known.unit.to_owned(), known: units::unit(known.unit) };
            self.assume(say!(
                "{measure} is read in {unit}, as the trade does.",
                measure = known.label,
                unit = crate::speech::unit(known.unit)
            ));
            self.define_measure(name.map(str::to_owned), unit);
            let id = self.known_measure(name.value)?;
            self.known_parts(id);
            return Some(id);
        }
        let mut known: Vec<String> =
            self.study.measures.iter().map(|measure| measure.name.value.clone()).collect();
        known.extend(self.catalog.measures().iter().map(|measure| measure.id.to_owned()));
        known.sort();
        known.dedup();
        self.undefined("measure", name, &known);
        None
    }

    fn round_id(&mut self, name: Located<&str>) -> Option<RoundId> {
        let is_said = |own: &str| same_name(own, name.value) || same_name(&round_name(own), name.value);
        let found = self.study.rounds.iter().position(|round| is_said(&round.name.value));
        if found.is_none() && !self.round_names_lost {
            let known: Vec<String> = self.study.rounds.iter().map(|round| round.name.value.clone()).collect();
            self.undefined("round", name, &known);
        }
        found.map(RoundId::new)
    }

    fn section_id(&mut self, name: Located<&str>) -> Option<SectionId> {
        let found = self.study.places().position(|(_, section)| same_name(&section.code, name.value));
        if found.is_none() && !self.study.map_broken {
            let help = no_section::instead(&self.study, name.value);
            let message = format!("no section is called `{}`", name.value);
            self.tell(Finding::error("undefined-name", name.span, message).help(help));
        }
        found.map(SectionId::new)
    }

    fn children(block: &'t Block, verb: &'static str) -> impl Iterator<Item = &'t Statement> {
        block.children.iter().filter(move |line| line.verb == verb)
    }
}

/// Whether a `prep` block names specimens.
fn is_of_specimens(block: &Block) -> bool {
    block.head.as_ref().is_some_and(|head| head.name().is_some())
}

/// Names that differ in capitals only are the same name, in every alphabet.
fn same_name(known: &str, written: &str) -> bool {
    known.eq_ignore_ascii_case(written)
        || (!known.is_ascii() && known.to_lowercase() == written.to_lowercase())
}

/// The only known name that begins with what was written, or the other way round, as `gloss` of `gloss-60`.
fn begins(written: &str, known: &[String]) -> Option<String> {
    let written = written.to_lowercase();
    let of = |name: &&String| {
        let name = name.to_lowercase();
        written.len() > 3 && (name.starts_with(&written) || (name.len() > 3 && written.starts_with(&name)))
    };
    let mut found = known.iter().filter(of);
    let first = found.next()?;
    found.next().is_none().then(|| first.clone())
}

/// Whether two names are the same but for capitals and what parts their words.
fn same_words(one: &str, other: &str) -> bool {
    let plain = |text: &str| -> String {
        text.chars().filter(|c| c.is_alphanumeric()).flat_map(char::to_lowercase).collect()
    };
    plain(one) == plain(other)
}

#[cfg(test)]
mod tests;
