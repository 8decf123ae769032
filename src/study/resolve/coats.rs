//! Coats of a product: one line for all of them, a line for each that differs, and what `like` hands down.

use super::Resolver;
use crate::diag::{Finding, count};
use crate::study::{Coat, Coats, Product};
use crate::syntax::{Args, Block, Clauses, Statement};
use crate::text::{Located, Span};
use crate::units::{AnyQuantity, Dimension, Time};

/// The kinds of amount that a coat may take.
const RATES: [Dimension; 2] = [Dimension::VolumePerArea, Dimension::MassPerArea];

impl Resolver<'_> {
    /// The coats of a product whose other lines were read; it still has those that it inherits.
    pub(super) fn coats_of(&mut self, block: &Block, product: &mut Product) {
        let before = self.mark();
        let inherited = product.coats.take();
        let line = |verb: &str| block.children.iter().rfind(|line| line.verb == verb);
        let said = line("coats").and_then(|line| self.coats(line, inherited.as_ref()));
        let (own, gone) = self.own_coats(block);
        let between = line("between").and_then(Args::text).map(|text| text.value.to_owned());
        let model = line("like").and_then(Args::name).map(|name| name.value.to_owned());
        let mut coats = match (said, inherited) {
            (Some(said), _) => Some(said),
            (None, inherited @ Some(_)) => inherited,
            // A `coats` line that could not be read says more than these lines do.
            (None, None) if own.is_empty() || line("coats").is_some() => None,
            (None, None) => Some(self.counted(&product.name.value, &own)),
        };
        if let Some(coats) = &mut coats {
            let handed = std::mem::take(&mut coats.own);
            let kept =
                |coat: &Coat| !gone.contains(&coat.number) && own.iter().all(|own| own.number != coat.number);
            self.within(&product.name.value, coats, &own, None);
            let handed: Vec<Coat> = handed.into_iter().filter(kept).collect();
            self.within(&product.name.value, coats, &handed, model.as_deref());
            coats.own = handed.into_iter().chain(own).collect();
            coats.own.retain(|coat| coat.number <= coats.number);
            coats.own.sort_by_key(|coat| coat.number);
            coats.between = between.or(coats.between.take());
        }
        product.coats = coats;
        self.of_one_kind(product);
        if self.failed_since(before) {
            product.unread.push("coats".to_owned());
        }
    }

    fn coats(&mut self, line: &Statement, inherited: Option<&Coats>) -> Option<Coats> {
        let number = self.coat_number(line.number()?)?;
        let written = line.clause("next").and_then(|clause| clause.quantities().into_iter().next());
        let after = match written {
            Some(quantity) => self.range::<Time>(quantity),
            None => inherited.and_then(|coats| coats.after),
        };
        let own = inherited.map(|coats| coats.own.clone()).unwrap_or_default();
        let between = inherited.and_then(|coats| coats.between.clone());
        Some(Coats { number, after, own, between, span: line.span })
    }

    fn coat_number(&mut self, number: Located<&str>) -> Option<u32> {
        let value = self.whole(number, 1)?;
        if value > Coats::MOST {
            self.findings.push(
                Finding::error("value-out-of-range", number.span, format!("nothing gets {value} coats"))
                    .help(format!("write a number from 1 to {}", Coats::MOST)),
            );
            return None;
        }
        Some(value)
    }

    /// The coats that have lines of their own, and the numbers of those that are taken out.
    fn own_coats(&mut self, block: &Block) -> (Vec<Coat>, Vec<u32>) {
        let (mut own, mut gone): (Vec<Coat>, Vec<u32>) = (Vec::new(), Vec::new());
        for line in block.children.iter().filter(|line| line.verb == "coat") {
            let Some(number) = line.number().and_then(|number| self.coat_number(number)) else { continue };
            if let Some(first) = own.iter().find(|coat| coat.number == number) {
                let message = format!("coat {number} stands twice");
                self.findings.push(
                    Finding::error("duplicate-name", line.span, message)
                        .related(first.span, "first here")
                        .help("keep one of them, or give one another number"),
                );
                continue;
            }
            if line.has("none") {
                gone.push(number);
                continue;
            }
            let coat = self.coat(line, number);
            own.push(coat);
        }
        (own, gone)
    }

    fn coat(&mut self, line: &Statement, number: u32) -> Coat {
        if let Some((again, first)) = line.repeated() {
            self.findings.push(
                Finding::error("clause-twice", again, "this is said twice of one coat")
                    .related(first, "first here")
                    .help("keep one of them, or write a line for another coat"),
            );
        }
        let quantity =
            |name: &str| line.clause(name).and_then(|clause| clause.quantities().into_iter().next());
        if number == 1
            && let Some(next) = line.clause("next")
        {
            self.findings.push(
                Finding::error("first-coat-waits", next.span, "no coat lies before the first one")
                    .help("put this wait in the line of the next coat, as `coat 2 after 24 to 48 h`"),
            );
        }
        Coat {
            number,
            uses: quantity("rate").and_then(|rate| self.any_of(rate, &RATES)),
            off: quantity("off").and_then(|off| self.range::<Time>(off)),
            after: quantity("next").and_then(|next| self.range::<Time>(next)),
            mix: line.clause("thinned").and_then(|mix| self.mix(&mix.args)).map(|mix| mix.value),
            span: line.span,
        }
    }

    /// As many coats as the lines describe, where no line says how many there are.
    fn counted(&mut self, name: &str, own: &[Coat]) -> Coats {
        let number = own.iter().map(|coat| coat.number).max().unwrap_or(1);
        let last = own.iter().find(|coat| coat.number == number).map_or(Span::default(), |coat| coat.span);
        let missing = (1..number).find(|wanted| own.iter().all(|coat| coat.number != *wanted));
        if let Some(missing) = missing {
            let message = format!("`{name}` has a coat {number} and no coat {missing}");
            self.findings.push(
                Finding::error("coat-missing", last, message).help(format!(
                    "describe coat {missing} too, or say how many there are: `coats {number}`"
                )),
            );
        }
        Coats { number, after: None, own: Vec::new(), between: None, span: last }
    }

    /// Tells of coats beyond the number that the product gets; `model` is the product that hands them down.
    fn within(&mut self, name: &str, coats: &Coats, own: &[Coat], model: Option<&str>) {
        for coat in own.iter().filter(|coat| coat.number > coats.number) {
            let (number, gets) = (coat.number, count(coats.number as usize, "coat"));
            let finding = match model {
                Some(model) => Finding::error(
                    "coat-beyond-coats",
                    coats.span,
                    format!("`{name}` gets {gets}, and has a coat {number} as `{model}` does"),
                )
                .related(coat.span, "described here")
                .help(format!("write `coats {number}`, or take it out with `coat {number} none`")),
                None => Finding::error(
                    "coat-beyond-coats",
                    coat.span,
                    format!("`{name}` gets {gets}, and this is coat {number}"),
                )
                .related(coats.span, "their number is said here")
                .help(format!("write `coats {number}`, or take this line out")),
            };
            self.findings.push(finding);
        }
    }

    /// Amounts by volume and by mass cannot be added up.
    fn of_one_kind(&mut self, product: &Product) {
        let Some(coats) = product.coats.as_ref().filter(|coats| !coats.own.is_empty()) else { return };
        let kind = |uses: AnyQuantity| uses.unit.dimension;
        let first = product.uses.or_else(|| coats.own.iter().find_map(|coat| coat.uses)).map(kind);
        let other = coats.own.iter().find(|coat| coat.uses.map(kind).is_some_and(|own| Some(own) != first));
        if let Some(coat) = other {
            let message = format!("coat {} is measured in another way than the other coats", coat.number);
            self.findings.push(
                Finding::error("coats-of-two-kinds", coat.span, message)
                    .help("write all coats in ml per m2, or all in g per m2"),
            );
        }
    }
}
