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
    /// The rest again in bits, of which a word that the page explains is one by itself.
    pub bits: Vec<Bit>,
    /// What its table is about.
    #[serde(skip)]
    pub(super) topic: Option<Topic>,
}

/// A bit of the rest of a claim.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Bit {
    /// Its words.
    pub words: String,
    /// Whether a blank parts it from what stands before it.
    pub apart: bool,
    /// Place of what explains them; empty where nothing has to.
    pub place: String,
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
        let bits = vec![Bit { words: rest.clone(), apart: false, place: String::new() }];
        Self { clause, apart, rest, place: String::new(), bits, topic: Some(topic) }
    }

    /// Ties the first of a word in its rest to what explains it; whether it has the word.
    pub(super) fn explain(&mut self, find: impl Fn(&str) -> Option<(usize, usize)>, place: &str) -> bool {
        let free = |bit: &Bit| find(&bit.words).filter(|_| bit.place.is_empty());
        let Some((at, (from, to))) =
            self.bits.iter().enumerate().find_map(|(at, bit)| Some((at, free(bit)?)))
        else {
            return false;
        };
        let Bit { words, apart, .. } = self.bits[at].clone();
        let bit = |words: &str, before: bool, place: &str| Bit {
            words: words.trim().to_owned(),
            apart: before || words.starts_with(' '),
            place: place.to_owned(),
        };
        let parts = [
            bit(&words[..from], apart, ""),
            bit(&words[from..to], if from == 0 { apart } else { words[..from].ends_with(' ') }, place),
            bit(&words[to..], false, ""),
        ];
        self.bits.splice(at..=at, parts.into_iter().filter(|bit| !bit.words.is_empty()));
        true
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

    #[test]
    fn a_word_is_explained_once_and_nothing_is_lost() {
        let mut claim = Claim::new("Loss: 2 GU of bare, 1 GU of sage, seen.", Topic::Bare);
        let find = |word: &'static str| move |text: &str| text.find(word).map(|at| (at, at + word.len()));
        assert!(claim.explain(find("GU"), "words") && claim.explain(find("seen"), "words"));
        assert!(!claim.explain(find("alike"), "words"));
        let bits = claim.bits.iter().map(|bit| (bit.apart, bit.words.as_str(), bit.place.as_str()));
        assert_eq!(
            bits.collect::<Vec<_>>(),
            [
                (false, ": 2", ""),
                (true, "GU", "words"),
                (true, "of bare, 1 GU of sage,", ""),
                (true, "seen", "words"),
                (false, ".", "")
            ]
        );
    }
}
