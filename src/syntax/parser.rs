//! The grammar at work on one line: from the parser crate's pairs to statements, from its error to a place and what fits there.

use super::tree::{Arg, Clause, Num, Quantity, Statement, Value};
use crate::text::{Located, Span};
use pest::Parser;
use pest::error::{ErrorVariant, InputLocation};
use pest::iterators::{Pair, Pairs};
use std::borrow::Cow;
use std::sync::OnceLock;

mod generated {
    //! What the parser crate makes of the grammar files.
    #![allow(missing_docs, clippy::pedantic, reason = "generated")]

    #[derive(pest_derive::Parser)]
    #[grammar = "grammar/lexicon.pest"]
    #[grammar = "grammar/things.pest"]
    #[grammar = "grammar/work.pest"]
    pub(super) struct Grammar;
}

pub(super) use generated::Rule;

/// Why a line does not fit its rule.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Misfit {
    /// Byte offset in the line where reading stopped.
    pub(super) at: usize,
    /// The rule that the line was read by.
    pub(super) rule: Rule,
    /// Names of the grammar rules that would fit there.
    pub(super) expected: Vec<&'static str>,
}

/// Parses one line; `offset` is where the line begins in the file.
pub(super) fn parse_line(rule: Rule, line: &str, offset: usize) -> Result<Statement, Misfit> {
    match generated::Grammar::parse(rule, line) {
        Ok(mut pairs) => {
            let pair = pairs.next().ok_or(Misfit { at: 0, rule, expected: Vec::new() })?;
            Ok(Reader { offset }.statement(pair, line))
        }
        Err(error) => {
            let at = match error.location {
                InputLocation::Pos(at) | InputLocation::Span((at, _)) => at,
            };
            let expected = match error.variant {
                ErrorVariant::ParsingError { positives, .. } => positives.into_iter().map(name_of).collect(),
                ErrorVariant::CustomError { .. } => Vec::new(),
            };
            Err(Misfit { at, rule, expected })
        }
    }
}

/// Whether a word begins a clause and so cannot be a name.
pub(super) fn is_reserved(word: &str) -> bool {
    !word.is_empty()
        && word.starts_with(char::is_alphabetic)
        && word.chars().all(|c| c.is_alphanumeric() || matches!(c, '-' | '_'))
        && parse_line(Rule::s_named, &format!("name {word}"), 0).is_err()
}

/// Every rule name of the grammar, for the test that each has a word for the user.
#[cfg(test)]
pub(super) fn rule_names() -> impl Iterator<Item = &'static str> {
    (0..Rule::all_rules().len()).map(name_at)
}

// The name of the rule that stands there in the grammar. A name is made when it is first asked for: a study uses few of them.
fn name_at(at: usize) -> &'static str {
    static NAMES: OnceLock<Vec<OnceLock<String>>> = OnceLock::new();
    let rules = Rule::all_rules();
    let names = NAMES.get_or_init(|| rules.iter().map(|_| OnceLock::new()).collect());
    // `all_rules` leaves out the end of input, which has a word of its own.
    match (names.get(at), rules.get(at)) {
        (Some(name), Some(rule)) => name.get_or_init(|| format!("{rule:?}")),
        _ => "EOI",
    }
}

fn name_of(rule: Rule) -> &'static str {
    Rule::all_rules().iter().position(|known| *known == rule).map_or("EOI", name_at)
}

fn short_name(rule: Rule) -> &'static str {
    let name = name_of_indexed(rule);
    name.get(2..).unwrap_or(name)
}

// Rules are numbered in the order of the grammar, and the list of all rules has the same order.
fn name_of_indexed(rule: Rule) -> &'static str {
    let first = Rule::all_rules().first().map_or(0, |first| *first as usize);
    (rule as usize).checked_sub(first).map_or("EOI", name_at)
}

/// Turns pairs into the tree, with places counted from the start of the file.
#[derive(Clone, Copy)]
struct Reader {
    offset: usize,
}

type P<'i> = Pair<'i, Rule>;

impl Reader {
    fn span(self, pair: &P<'_>) -> Span {
        let text = pair.as_str();
        let start = self.offset + pair.as_span().start();
        Span::new(start, start + text.trim_end().len())
    }

    fn statement(self, pair: P<'_>, line: &str) -> Statement {
        let (mut verb, mut args, mut clauses) = (String::new(), Vec::new(), Vec::new());
        let end = pair.as_str().trim_end_matches([' ', '\t', ',']).len();
        for inner in pair.into_inner() {
            match inner.as_rule() {
                Rule::v_verb | Rule::v_bar if verb.is_empty() => verb = inner.as_str().to_lowercase(),
                _ => self.place(inner, &mut args, &mut clauses),
            }
        }
        let span = Span::new(self.offset, self.offset + end.max(1).min(line.len()));
        Statement { verb, args, clauses, span, prose: String::new() }
    }

    fn place(self, pair: P<'_>, args: &mut Vec<Arg>, clauses: &mut Vec<Clause>) {
        if matches!(pair.as_rule(), Rule::end | Rule::v_bar) {
            return;
        }
        if name_of_indexed(pair.as_rule()).starts_with("c_") {
            clauses.push(self.clause(pair));
        } else {
            let span = self.span(&pair);
            args.push(Located::new(self.value(pair), span));
        }
    }

    fn clause(self, pair: P<'_>) -> Clause {
        let (name, span) = (short_name(pair.as_rule()), self.span(&pair));
        let (mut args, mut clauses) = (Vec::new(), Vec::new());
        for inner in pair.into_inner() {
            self.place(inner, &mut args, &mut clauses);
        }
        Clause { name, args, clauses, span }
    }

    fn value(self, pair: P<'_>) -> Value {
        let text = pair.as_str();
        match pair.as_rule() {
            Rule::v_text => Value::Text(unquoted(text)),
            Rule::v_free | Rule::v_paper | Rule::v_symbol | Rule::v_kind | Rule::v_code | Rule::v_anchor => {
                Value::Free(text.trim_end().to_owned())
            }
            Rule::v_section => Value::Name(place_name(text)),
            Rule::v_round | Rule::v_place => Value::Name(one_blank(text)),
            Rule::v_number => Value::Number(text.to_owned()),
            Rule::v_date => Value::Date(text.to_owned()),
            Rule::v_time => Value::Time(text.to_owned()),
            Rule::v_ratio => Value::Ratio(text.to_owned()),
            Rule::v_edge | Rule::v_step => Value::Word(Cow::Owned(text.to_lowercase())),
            Rule::q_qty | Rule::q_plain => Value::Quantity(self.quantity(pair.into_inner())),
            Rule::q_size => self.size(pair.into_inner()),
            Rule::q_points => self.points(pair.into_inner()),
            Rule::q_parts | Rule::q_bare_ratio => self.parts(pair.into_inner()),
            rule if name_of_indexed(rule).starts_with("k_") => Value::Word(Cow::Borrowed(short_name(rule))),
            _ => Value::Name(text.to_owned()),
        }
    }

    fn num(self, pair: &P<'_>) -> Num {
        Located::new(pair.as_str().to_owned(), self.span(pair))
    }

    fn quantity(self, pairs: Pairs<'_, Rule>) -> Quantity {
        let (mut numbers, mut units) = (Vec::new(), Vec::new());
        let mut unit_after_first = false;
        for pair in pairs {
            match pair.as_rule() {
                Rule::v_number => numbers.push(self.num(&pair)),
                Rule::v_unit => {
                    unit_after_first |= numbers.len() == 1;
                    units.push(self.num(&pair));
                }
                _ => {}
            }
        }
        let mut numbers = numbers.into_iter();
        let low = numbers.next().unwrap_or_default();
        let high = numbers.next();
        let unit = units.pop();
        let low_unit = if high.is_some() && unit_after_first { units.pop() } else { None };
        Quantity { low, high, unit, low_unit }
    }

    fn size(self, pairs: Pairs<'_, Rule>) -> Value {
        let (numbers, units) = self.numbers_and_units(pairs);
        let mut numbers = numbers.into_iter();
        Value::Size(numbers.next().unwrap_or_default(), numbers.next().unwrap_or_default(), units)
    }

    fn points(self, pairs: Pairs<'_, Rule>) -> Value {
        let (mut corners, mut unit) = (Vec::new(), Num::default());
        for pair in pairs {
            match pair.as_rule() {
                Rule::q_point => {
                    let (numbers, _) = self.numbers_and_units(pair.into_inner());
                    let mut numbers = numbers.into_iter();
                    corners.push((numbers.next().unwrap_or_default(), numbers.next().unwrap_or_default()));
                }
                Rule::v_unit => unit = self.num(&pair),
                _ => {}
            }
        }
        Value::Points(corners, unit)
    }

    fn parts(self, pairs: Pairs<'_, Rule>) -> Value {
        let (mut numbers, mut liquid) = (Vec::new(), None);
        for pair in pairs {
            match pair.as_rule() {
                Rule::v_number => numbers.push(self.num(&pair)),
                Rule::v_name => liquid = Some(self.num(&pair)),
                _ => {}
            }
        }
        let mut numbers = numbers.into_iter();
        Value::Parts(numbers.next().unwrap_or_default(), numbers.next().unwrap_or_default(), liquid)
    }

    fn numbers_and_units(self, pairs: Pairs<'_, Rule>) -> (Vec<Num>, Vec<Num>) {
        let (mut numbers, mut units) = (Vec::new(), Vec::new());
        for pair in pairs {
            match pair.as_rule() {
                Rule::v_number => numbers.push(self.num(&pair)),
                Rule::v_unit => units.push(self.num(&pair)),
                _ => {}
            }
        }
        (numbers, units)
    }
}

fn unquoted(text: &str) -> String {
    let mut chars = text.chars();
    chars.next();
    chars.next_back();
    chars.as_str().to_owned()
}

/// `month   6` is `month 6`, in small letters where it is a time and a number.
pub(super) fn one_blank(text: &str) -> String {
    let words: Vec<&str> = text.split_whitespace().collect();
    match words.as_slice() {
        [unit, number] if number.starts_with(|c: char| c.is_ascii_digit()) => {
            let figures = number.trim_start_matches('0');
            format!("{} {}", unit.to_lowercase(), if figures.is_empty() { "0" } else { figures })
        }
        _ => words.join(" "),
    }
}

/// `coast  A3/b2` is `coast A3 / b2`.
fn place_name(text: &str) -> String {
    text.replace('/', " / ").split_whitespace().collect::<Vec<_>>().join(" ")
}
