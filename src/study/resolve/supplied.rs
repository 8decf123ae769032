//! What a step is done with: a supply by its name, or a kind of the catalog, of one word or of several.

use super::{Resolver, same_name};
use crate::catalog;
use crate::diag::{Finding, nearest};
use crate::study::SupplyId;
use crate::text::{Located, Span};

/// Words that may follow a supply in its step, for whoever mistypes one of them.
const FOLLOWING: &[&str] =
    &["rinse", "for", "wait", "tool", "twice", "once", "times", "neat", "mix", "fresh cloth", "lines", "at"];

impl Resolver<'_> {
    pub(super) fn supply_id(&mut self, name: Located<&str>) -> Option<SupplyId> {
        if let Some(id) = self.defined_supply(name.value) {
            return Some(id);
        }
        let written = name.value.split_whitespace().collect::<Vec<_>>().join(" ");
        if let Some(class) = self.catalog.class(&written) {
            self.define_supply_of_class(Located::new(written.as_str(), name.span), class);
            return Some(SupplyId::new(self.study.supplies.len() - 1));
        }
        if let Some(finding) = self.of_several_words(name, &written) {
            self.tell(finding);
            return None;
        }
        let known: Vec<String> = self.study.supplies.iter().map(|supply| supply.name.value.clone()).collect();
        self.undefined("supply", Located::new(written.as_str(), name.span), &known);
        None
    }

    /// A supply of exactly this name, else of one that differs in blanks and hyphens only.
    fn defined_supply(&self, name: &str) -> Option<SupplyId> {
        let at = |same: fn(&str, &str) -> bool| {
            self.study.supplies.iter().position(|supply| same(&supply.name.value, name))
        };
        at(same_name).or_else(|| at(catalog::same_name)).map(SupplyId::new)
    }

    /// Several words that are no kind: a kind that is mistyped, or one word and then something that is no clause.
    fn of_several_words(&self, name: Located<&str>, written: &str) -> Option<Finding> {
        let (first, _) = written.split_once(' ')?;
        if let Some(near) = nearest(written, self.catalog.class_names().filter(|kind| kind.contains(' '))) {
            let message = format!("no supply is called `{written}`");
            return Some(
                Finding::error("undefined-name", name.span, message).help(format!("did you mean `{near}`?")),
            );
        }
        if self.defined_supply(first).is_none() && self.catalog.class(first).is_none() {
            return None;
        }
        let rest = name.value[first.len()..].trim_start();
        let word = rest.split_whitespace().next().unwrap_or(rest);
        let start = name.span.range().start + name.value.len() - rest.len();
        let finding = Finding::error(
            "unreadable-line",
            Span::new(start, start + word.len()),
            format!("`{word}` does not fit here"),
        );
        Some(match nearest(word, FOLLOWING.iter().copied()) {
            Some(near) => finding.help(format!("did you mean `{near}`?")),
            None => finding.help(format!(
                "a step is done with one supply, as `with {first}`; put `tool` and a text in quotes for how"
            )),
        })
    }
}
