//! Pairs of reactivity groups that must not meet, and how they are found for two classes.

use serde::Deserialize;

use super::class::Class;
use super::source::Source;

/// What a meeting does; the later one is the worse.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Danger {
    /// Ruins the test.
    Spoil,
    /// Toxic gas, fire or burns: an error in spite of a waiver.
    Forbid,
}

/// Where a meeting counts; the later one reaches farther.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Reach {
    /// Only where both are put into one container: a mix, a bucket, a cloth, a waste bin.
    Vessel,
    /// On a section, tool, bucket, drain or waste with no full rinse between.
    Any,
}

/// A set of chemicals that react alike.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Group {
    /// Kebab-case identifier.
    pub id: &'static str,
    /// What belongs to it.
    pub meaning: &'static str,
}

/// Two reactivity groups that must not meet.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Pair {
    /// One group.
    pub a: &'static str,
    /// The other group.
    pub b: &'static str,
    /// What happens, in plain words.
    pub result: &'static str,
    /// Whether it hurts or only spoils.
    pub severity: Danger,
    /// Where it counts.
    pub reach: Reach,
    /// Source of the pair.
    pub source: Source,
}

impl Pair {
    /// Whether one class has one group and the other class the other group.
    pub fn joins(&self, one: &Class, other: &Class) -> bool {
        (one.is_in(self.a) && other.is_in(self.b)) || (one.is_in(self.b) && other.is_in(self.a))
    }
}

/// The worst pair that two classes make at a place, the same whichever comes first.
///
/// Severity counts before reach, and the order of the file decides between equals. A class does
/// not meet itself: groups that live in one bottle are compatible there.
pub(super) fn worst<'a>(pairs: &'a [Pair], place: Reach, one: &Class, other: &Class) -> Option<&'a Pair> {
    if one.id == other.id {
        return None;
    }
    meetings(pairs, one, other)
        .filter(|pair| pair.reach >= place)
        .rev() // `max_by_key` keeps the last of equals; the file lists the gravest first.
        .max_by_key(|pair| (pair.severity, pair.reach))
}

/// Every pair that two classes make, in the order of the file.
pub(super) fn meetings<'a>(
    pairs: &'a [Pair],
    one: &Class,
    other: &Class,
) -> impl DoubleEndedIterator<Item = &'a Pair> {
    pairs.iter().filter(move |pair| pair.joins(one, other))
}

/// The file of groups and pairs.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, bound(deserialize = "'de: 'static"))]
pub(super) struct PairFile {
    #[serde(rename = "group")]
    pub(super) groups: Vec<Group>,
    #[serde(rename = "pair")]
    pub(super) pairs: Vec<Pair>,
}
