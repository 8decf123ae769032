//! The search: arrangements drawn by chance, each bettered by exchanges of two sections until none helps.

use super::ground::Ground;
use super::score::{penalty, uncovered};
use crate::stats::random::Generator;
use crate::study::{SectionId, Treatment};
use std::collections::BTreeMap;

/// Arrangements that are looked at, first ones and exchanges together, before the best is taken. The first is always
/// bettered to its end.
const MOST: usize = 400_000;
/// First arrangements that are drawn at most.
const STARTS: usize = 300;
/// An exchange helps if it lessens the penalty by more than noise in the last digits.
const GAIN: f64 = 1e-9;

/// The best arrangement, one treatment for each section of the map, and how many were looked at.
pub(super) struct Found {
    pub(super) carried: Vec<Treatment>,
    pub(super) tried: usize,
}

/// Deals each hand among its part, and takes the best of many.
pub(super) fn search(
    ground: &Ground,
    parts: &[Vec<SectionId>],
    hands: &[Vec<Treatment>],
    seed: u64,
) -> Found {
    let mut chance = Generator::new(seed);
    let mut tried = 0;
    let mut best: Option<(f64, Vec<Treatment>)> = None;
    for _ in 0..STARTS {
        let mut layout = Layout::drawn(ground, parts, hands, &mut chance);
        tried += 1 + layout.better(parts, &mut chance);
        let total = layout.total();
        if best.as_ref().is_none_or(|(least, _)| total < least - GAIN) {
            best = Some((total, layout.carried));
        }
        if tried >= MOST {
            break;
        }
    }
    let carried = best.map_or_else(|| ground.drawn.clone(), |(_, carried)| carried);
    Found { carried, tried }
}

struct Layout<'g> {
    ground: &'g Ground,
    carried: Vec<Treatment>,
    /// The sections of each treatment.
    of: BTreeMap<Treatment, Vec<usize>>,
    /// The penalty of each treatment.
    costs: BTreeMap<Treatment, f64>,
    /// The penalty of how bare is spread.
    spread: f64,
}

impl<'g> Layout<'g> {
    fn drawn(
        ground: &'g Ground,
        parts: &[Vec<SectionId>],
        hands: &[Vec<Treatment>],
        chance: &mut Generator,
    ) -> Self {
        let mut carried = ground.drawn.clone();
        for (part, hand) in parts.iter().zip(hands) {
            let mut hand = hand.clone();
            chance.shuffle(&mut hand);
            for (id, treatment) in part.iter().zip(hand) {
                carried[id.index()] = treatment;
            }
        }
        let mut of: BTreeMap<Treatment, Vec<usize>> = BTreeMap::new();
        for (at, &treatment) in carried.iter().enumerate() {
            of.entry(treatment).or_default().push(at);
        }
        let costs = of.iter().map(|(&treatment, own)| (treatment, penalty(ground, own))).collect();
        let spread = uncovered(ground, of.get(&Treatment::Bare).map_or(&[], Vec::as_slice));
        Self { ground, carried, of, costs, spread }
    }

    fn total(&self) -> f64 {
        self.costs.values().sum::<f64>() + self.spread
    }

    /// Exchanges two sections of one part wherever that helps, in an order drawn by chance, until nothing does. Returns
    /// how many exchanges were looked at.
    fn better(&mut self, parts: &[Vec<SectionId>], chance: &mut Generator) -> usize {
        let mut pairs: Vec<(usize, usize)> = parts
            .iter()
            .flat_map(|part| {
                part.iter()
                    .enumerate()
                    .flat_map(|(at, one)| part[at + 1..].iter().map(|other| (one.index(), other.index())))
            })
            .collect();
        let mut looked = 0;
        loop {
            chance.shuffle(&mut pairs);
            let mut helped = false;
            for &(one, other) in &pairs {
                if self.carried[one] != self.carried[other] {
                    looked += 1;
                    helped |= self.exchange(one, other);
                }
            }
            if !helped || looked >= MOST {
                return looked;
            }
        }
    }

    fn exchange(&mut self, one: usize, other: usize) -> bool {
        let (a, b) = (self.carried[one], self.carried[other]);
        let swapped = |own: &[usize], out: usize, into: usize| -> Vec<usize> {
            own.iter().map(|&at| if at == out { into } else { at }).collect()
        };
        let (of_a, of_b) = (swapped(&self.of[&a], one, other), swapped(&self.of[&b], other, one));
        let (cost_a, cost_b) = (penalty(self.ground, &of_a), penalty(self.ground, &of_b));
        let mut gain = self.costs[&a] + self.costs[&b] - cost_a - cost_b;
        let bare = [(a, &of_a), (b, &of_b)].into_iter().find(|(treatment, _)| *treatment == Treatment::Bare);
        let spread = bare.map_or(self.spread, |(_, own)| uncovered(self.ground, own));
        gain += self.spread - spread;
        if gain <= GAIN {
            return false;
        }
        self.carried.swap(one, other);
        self.of.extend([(a, of_a), (b, of_b)]);
        self.costs.extend([(a, cost_a), (b, cost_b)]);
        self.spread = spread;
        true
    }
}
