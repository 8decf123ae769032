//! A claim of the answer: its words, and the part of the page that shows it.

use super::blocks::Topic;
use serde::Serialize;

/// A claim. Its first clause is the link to its table.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Claim {
    /// The first clause, up to the sign behind it.
    pub clause: String,
    /// Whether a blank parts the two.
    pub apart: bool,
    /// The rest, from that sign on.
    pub rest: String,
    /// Place of its table on the page of the report; empty where there is none.
    pub place: String,
    /// What its table is about.
    #[serde(skip)]
    pub(super) topic: Option<Topic>,
}

impl Claim {
    /// A claim that a part about this topic shows.
    pub(super) fn new(text: impl Into<String>, topic: Topic) -> Self {
        let text: String = text.into();
        let ends = text.match_indices([',', ';', ':', '.', '(']);
        let mut ends = ends.filter(|(at, sign)| {
            *sign == "(" || text[at + 1..].is_empty() || text[at + 1..].starts_with(' ')
        });
        let end = ends.find(|(at, _)| *at > 0).map_or(text.len(), |(at, _)| at);
        let clause = text[..end].trim_end().to_owned();
        let rest = text[clause.len()..].trim_start().to_owned();
        let apart = text[clause.len()..].starts_with(' ');
        Self { clause, apart, rest, place: String::new(), topic: Some(topic) }
    }

    /// All of it.
    pub fn text(&self) -> String {
        format!("{}{}{}", self.clause, if self.apart { " " } else { "" }, self.rest)
    }
}

#[cfg(test)]
mod tests {
    use super::{Claim, Topic};

    #[test]
    fn the_first_clause_is_the_link_and_nothing_is_lost() {
        let texts = [
            ("9 of 12 products did better, 8 of them by much; one is alike.", "9 of 12 products did better"),
            ("The unit is the section. They scatter by 0.67 GU (one SD).", "The unit is the section"),
            ("Scatter is 0.67 GU (one SD).", "Scatter is 0.67 GU"),
            ("No sign", "No sign"),
            ("", ""),
        ];
        for (text, clause) in texts {
            let claim = Claim::new(text, Topic::Bare);
            assert_eq!((claim.text().as_str(), claim.clause.as_str()), (text, clause));
        }
    }
}
