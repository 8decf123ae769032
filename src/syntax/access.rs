//! Short ways to the arguments of a statement or clause.

use super::tree::{Arg, Clause, Quantity, Statement, Value};
use crate::text::{Located, Span};

/// Something that has arguments.
pub trait Args {
    /// The arguments.
    fn args(&self) -> &[Arg];

    /// The names among them, in order.
    fn names(&self) -> Vec<Located<&str>> {
        pick(self.args(), |value| if let Value::Name(name) = value { Some(name.as_str()) } else { None })
    }

    /// The first name.
    fn name(&self) -> Option<Located<&str>> {
        self.names().into_iter().next()
    }

    /// The first text, quoted or free.
    fn text(&self) -> Option<Located<&str>> {
        let texts = pick(self.args(), |value| match value {
            Value::Text(text) | Value::Free(text) => Some(text.as_str()),
            _ => None,
        });
        texts.into_iter().next()
    }

    /// The quantities, in order.
    fn quantities(&self) -> Vec<Located<&Quantity>> {
        pick(self.args(), |value| if let Value::Quantity(quantity) = value { Some(quantity) } else { None })
    }

    /// The bare numbers, in order.
    fn numbers(&self) -> Vec<Located<&str>> {
        pick(
            self.args(),
            |value| if let Value::Number(number) = value { Some(number.as_str()) } else { None },
        )
    }

    /// The first bare number.
    fn number(&self) -> Option<Located<&str>> {
        self.numbers().into_iter().next()
    }

    /// The first date.
    fn date(&self) -> Option<Located<&str>> {
        let dates =
            pick(self.args(), |value| if let Value::Date(date) = value { Some(date.as_str()) } else { None });
        dates.into_iter().next()
    }

    /// The first clock time.
    fn time(&self) -> Option<Located<&str>> {
        self.times().into_iter().next()
    }

    /// The clock times, in order.
    fn times(&self) -> Vec<Located<&str>> {
        pick(self.args(), |value| if let Value::Time(time) = value { Some(time.as_str()) } else { None })
    }

    /// The first keyword.
    fn word(&self) -> Option<&str> {
        self.words().into_iter().next()
    }

    /// The keywords, in order.
    fn words(&self) -> Vec<&str> {
        let words =
            pick(self.args(), |value| if let Value::Word(word) = value { Some(word.as_ref()) } else { None });
        words.into_iter().map(|word| word.value).collect()
    }

    /// Whether a keyword is among them.
    fn has(&self, word: &str) -> bool {
        self.words().contains(&word)
    }
}

impl Args for Statement {
    fn args(&self) -> &[Arg] {
        &self.args
    }
}

impl Args for Clause {
    fn args(&self) -> &[Arg] {
        &self.args
    }
}

/// Something that has clauses.
pub trait Clauses {
    /// The clauses.
    fn clauses(&self) -> &[Clause];

    /// The first clause of a name.
    fn clause(&self, name: &str) -> Option<&Clause> {
        self.clauses().iter().find(|clause| clause.name == name)
    }

    /// All clauses of a name.
    fn all<'a>(&'a self, name: &'a str) -> impl Iterator<Item = &'a Clause> {
        self.clauses().iter().filter(move |clause| clause.name == name)
    }

    /// The place of a clause that stands a second time, and of the first.
    fn repeated(&self) -> Option<(Span, Span)> {
        let clauses = self.clauses();
        clauses.iter().enumerate().find_map(|(at, clause)| {
            let first = clauses[..at].iter().find(|earlier| earlier.name == clause.name)?;
            Some((clause.span, first.span))
        })
    }
}

impl Clauses for Statement {
    fn clauses(&self) -> &[Clause] {
        &self.clauses
    }
}

impl Clauses for Clause {
    fn clauses(&self) -> &[Clause] {
        &self.clauses
    }
}

fn pick<'a, T>(args: &'a [Arg], of: impl Fn(&'a Value) -> Option<T>) -> Vec<Located<T>> {
    args.iter().filter_map(|arg| Some(Located::new(of(&arg.value)?, arg.span))).collect()
}
