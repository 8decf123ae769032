//! The words of a row of a record file: which step or coat it names, and which sections.

use super::record_file::{Row, is_upkeep};
use super::{Resolver, same_name};
use crate::diag::{Finding, list, nearest};
use crate::speech::{Language, spoken};
use crate::study::{RecordColumn, SpecimensId, Step, Study, Supply, Upkeep, Verb};
use crate::syntax::{Clause, Value};
use crate::table::shown;
use crate::text::{Located, Span};
use std::borrow::Cow;

impl Resolver<'_> {
    /// What was done, by its words, by the number of its step, or by both where they agree.
    pub(super) fn what(&mut self, row: &Row<'_>) -> Option<(Clause, Option<usize>)> {
        let set = row.get(RecordColumn::Section).and_then(|place| self.set_named(place.value.trim()));
        let numbered = match row.get(RecordColumn::Step) {
            Some(number) => Some(self.numbered(set, &number)?),
            None => None,
        };
        let Some(what) = row.get(RecordColumn::What) else {
            let Some(at) = numbered else {
                let finding =
                    Finding::error("record-row-incomplete", row.span, "this row does not say what was done");
                self.tell(finding.help("write `wash`, or `coat 1 of` and the product, in the column `what`"));
                return None;
            };
            return Some((did(self.study.prep_of(set)[at].verb, row.span), numbered));
        };
        let text = self.in_english(what.value.trim());
        let words: Vec<&str> = text.split_whitespace().collect();
        if words.first().is_some_and(|word| word.eq_ignore_ascii_case("coat")) {
            return Some((self.coat_of_row(&words, &what)?, None));
        }
        if let ([_], true) = (words.as_slice(), is_upkeep(&text)) {
            return self.upkeep_of_row(&what).map(|clause| (clause, None));
        }
        let verb = words.first().and_then(|word| Verb::of(&word.to_lowercase()));
        let verb = verb.filter(|verb| !matches!(verb, Verb::Read | Verb::Mark | Verb::Clean));
        let Some(verb) = verb else {
            self.not_known(&what);
            return None;
        };
        let is_care = row.get(RecordColumn::Round).is_some();
        let titled = self.titled(verb, &words, self.study.prep_of(set));
        if let Some(at) = numbered {
            let planned = self.study.prep_of(set)[at].verb;
            if planned != verb {
                let message = format!(
                    "step {} of the preparation is `{}`, not `{}`",
                    at + 1,
                    planned.word(),
                    verb.word()
                );
                self.tell(
                    Finding::error("record-row-unclear", what.span, message)
                        .help("correct the number or the word; the number is that of the checklist"),
                );
                return None;
            }
        }
        // What comes before a round is not known yet, so that there any supply of the study may be meant.
        let is_titled =
            !titled.is_empty() || is_care && self.study.supplies.iter().any(|own| is_with(&words, own));
        if words.len() > 1 && !is_titled {
            self.not_known(&what);
            return None;
        }
        // `wash with soap` names one step where only one step is that.
        let only = titled.first().copied().filter(|_| titled.len() == 1 && words.len() > 1 && !is_care);
        Some((did(verb, what.span), numbered.or(only)))
    }

    /// What the checklist and the printed record call a step or a coat in the language of the study, as the study has it.
    fn in_english<'w>(&self, text: &'w str) -> Cow<'w, str> {
        if spoken() == Language::English {
            return Cow::Borrowed(text);
        }
        for verb in Verb::ALL {
            if same_name(verb.heading(), text) {
                return Cow::Borrowed(verb.word());
            }
            let is_with = |name: &str| same_name(&Study::step_words(verb, name), text);
            let with =
                self.study.supplies.iter().find(|own| is_with(own.title()) || is_with(&own.name.value));
            if let Some(with) = with {
                return Cow::Owned(format!("{} with {}", verb.word(), with.name.value));
            }
        }
        let figures = text.split(|c: char| !c.is_ascii_digit()).find(|figures| !figures.is_empty());
        if let Some(number) = figures.and_then(|figures| figures.parse::<u32>().ok()) {
            let is_of = |name: &str| same_name(&Study::coat_words(number, name), text);
            let product = self.study.products.iter().find(|own| is_of(own.title()) || is_of(&own.name.value));
            if let Some(product) = product {
                return Cow::Owned(format!("coat {number} of {}", product.name.value));
            }
        }
        Cow::Borrowed(text)
    }

    /// The steps that a title of the checklist is that of; every step of the verb where it is the verb alone.
    fn titled(&self, verb: Verb, words: &[&str], steps: &[Step]) -> Vec<usize> {
        let of = |(at, step): (usize, &Step)| {
            let with =
                || step.with.as_ref().is_some_and(|with| is_with(words, self.study.supply(with.value)));
            (step.verb == verb && (words.len() == 1 || with())).then_some(at)
        };
        steps.iter().enumerate().filter_map(of).collect()
    }

    /// The number of a step as the checklist prints it: of the panel, or of a set of specimens.
    fn numbered(&mut self, set: Option<SpecimensId>, number: &Located<Cow<'_, str>>) -> Option<usize> {
        let steps = self.study.prep_of(set).len();
        let written = number.value.trim_end_matches('.').parse::<usize>().ok();
        let at = written.and_then(|number| number.checked_sub(1)).filter(|at| *at < steps);
        if at.is_none() && !self.study.prep_broken {
            let message = format!("the preparation has no step `{}`", shown(&number.value));
            let help = match steps {
                0 => "the study states no preparation".to_owned(),
                _ => format!(
                    "its steps are numbered from 1 to {steps}, as on the checklist; a coat needs no number"
                ),
            };
            self.tell(Finding::error("record-row-unclear", number.span, message).help(help));
        }
        at
    }

    /// `coat 1 of bay`, also with the name that is printed on the checklist.
    fn coat_of_row(&mut self, words: &[&str], what: &Located<Cow<'_, str>>) -> Option<Clause> {
        let rest = match words {
            [_, _, of, rest @ ..] if of.eq_ignore_ascii_case("of") => rest,
            [_, _, rest @ ..] => rest,
            _ => &[],
        };
        let number = words.get(1).filter(|word| word.bytes().all(|byte| byte.is_ascii_digit()));
        let (Some(number), false) = (number, rest.is_empty()) else {
            self.not_known(what);
            return None;
        };
        let name = rest.join(" ");
        let label = self.study.products.iter().find(|product| same_name(product.title(), &name));
        let name = match label.filter(|_| self.product_id(&name).is_none()) {
            Some(product) => product.name.value.clone(),
            None => name,
        };
        let args = vec![
            Located::new(Value::Number((*number).to_owned()), what.span),
            Located::new(Value::Name(name), what.span),
        ];
        Some(Clause { name: "coat", args, clauses: Vec::new(), span: what.span })
    }

    /// The verb of the one step of upkeep that the study has.
    fn upkeep_of_row(&mut self, what: &Located<Cow<'_, str>>) -> Option<Clause> {
        let mut steps = self.study.upkeep.iter().filter_map(|upkeep| match upkeep {
            Upkeep::Every { step, .. } => Some(step.verb),
            Upkeep::None(_) => None,
        });
        let (first, second) = (steps.next(), steps.next());
        if let (Some(verb), None) = (first, second) {
            return Some(did(verb, what.span));
        }
        let message = if first.is_some() {
            "the study has several steps of upkeep, and this does not say which"
        } else {
            "the study has no step of upkeep"
        };
        let help = "write what was done, as `wash`, and `upkeep` in the column `before round`";
        self.tell(Finding::error("record-row-unclear", what.span, message).help(help));
        None
    }

    fn not_known(&mut self, what: &Located<Cow<'_, str>>) {
        let text = shown(&what.value);
        let finding =
            Finding::error("record-row-unclear", what.span, format!("`{text}` is no step and no coat"));
        let first = what.value.split_whitespace().next().unwrap_or("").to_lowercase();
        if first == "read" {
            self.tell(finding.help("readings stand in the file of readings; take this row out"));
            return;
        }
        let near =
            nearest(&first, Verb::ALL.into_iter().map(Verb::word)).filter(|_| Verb::of(&first).is_none());
        let steps: Vec<String> =
            self.study.prep.iter().map(|step| format!("`{}`", step.verb.word())).collect();
        let mut steps: Vec<String> = steps;
        steps.dedup();
        self.tell(match near {
            Some(near) => finding.help(format!("write `{near}`")),
            None if steps.is_empty() => finding.help("write `coat 1 of` and the product"),
            None => finding.help(format!(
                "write a step as the study has it, as {}, or `coat 1 of` and the product",
                list(&steps, "or")
            )),
        });
    }

    /// The names in a field of sections: parted by commas, `and`, or blanks; of two sites a name has two words.
    pub(super) fn sections_named(&self, text: &str) -> Vec<String> {
        let known = |name: &str| self.study.places().any(|(_, section)| same_name(&section.code, name));
        let pieces = text.split([',', ';', '+', '&']).map(str::trim).filter(|piece| !piece.is_empty());
        let mut names = Vec::new();
        for piece in pieces {
            if known(piece) {
                names.push(piece.to_owned());
                continue;
            }
            let words: Vec<&str> =
                piece.split_whitespace().filter(|word| !word.eq_ignore_ascii_case("and")).collect();
            let mut at = 0;
            while at < words.len() {
                let pair = words.get(at..at + 2).map(|pair| pair.join(" ")).filter(|pair| known(pair));
                at += if pair.is_some() { 2 } else { 1 };
                names.push(pair.unwrap_or_else(|| words[at - 1].to_owned()));
            }
        }
        names
    }
}

/// Whether words are those of a step with a supply: `wash with soap`.
fn is_with(words: &[&str], supply: &Supply) -> bool {
    let [_, with, rest @ ..] = words else { return false };
    let rest = rest.join(" ");
    let names = [supply.name.value.as_str(), supply.title()];
    with.eq_ignore_ascii_case("with") && names.iter().any(|name| same_name(name, &rest))
}

fn did(verb: Verb, span: Span) -> Clause {
    let word = Located::new(Value::Word(Cow::Borrowed(verb.word())), span);
    Clause { name: "did", args: vec![word], clauses: Vec::new(), span }
}
