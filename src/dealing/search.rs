//! The search: arrangements drawn by chance, each bettered by exchanges of two sections until none helps.

use super::ground::Ground;
use super::score::{Cover, Parts, share_beside};
use crate::stats::random::Generator;
use crate::study::{SectionId, Treatment};
use std::collections::BTreeMap;

/// Arrangements that are looked at, first ones and exchanges together, before the best is taken. The first is always
/// bettered to its end.
const MOST: usize = 400_000;
/// First arrangements that are drawn at most.
const STARTS: usize = 300;
/// Sections that are looked at, over all exchanges, before the best is taken.
const WORK: usize = 40_000_000;
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
        if tried >= MOST || tried * ground.spots.len() >= WORK {
            break;
        }
    }
    let carried = best.map_or_else(|| ground.drawn.clone(), |(_, carried)| carried);
    Found { carried, tried }
}

struct Layout<'g> {
    ground: &'g Ground,
    share: f64,
    carried: Vec<Treatment>,
    /// The sections of each treatment, with what their penalty is made of.
    of: BTreeMap<Treatment, (Vec<usize>, Parts)>,
    cover: Cover,
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
        let mut own: BTreeMap<Treatment, Vec<usize>> = BTreeMap::new();
        for (at, &treatment) in carried.iter().enumerate() {
            own.entry(treatment).or_default().push(at);
        }
        let cover = Cover::of(ground, own.get(&Treatment::Bare).map_or(&[], Vec::as_slice));
        let with_parts = |(treatment, own): (Treatment, Vec<usize>)| {
            let parts = Parts::of(ground, &own);
            (treatment, (own, parts))
        };
        let of = own.into_iter().map(with_parts).collect();
        Self { ground, share: share_beside(ground), carried, of, cover }
    }

    fn total(&self) -> f64 {
        self.of.values().map(|(_, parts)| parts.penalty(self.share)).sum::<f64>() + self.cover.penalty()
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
        let (of_a, of_b) = (&self.of[&a], &self.of[&b]);
        let new_a = of_a.1.exchanged(self.ground, &of_a.0, (one, other));
        let new_b = of_b.1.exchanged(self.ground, &of_b.0, (other, one));
        let cost = |parts: Parts| parts.penalty(self.share);
        let mut gain = cost(of_a.1) + cost(of_b.1) - cost(new_a) - cost(new_b);
        let moved = match (a, b) {
            (Treatment::Bare, _) => Some((one, other)),
            (_, Treatment::Bare) => Some((other, one)),
            _ => None,
        };
        gain += moved.map_or(0.0, |moved| self.cover.penalty() - self.cover.exchanged(self.ground, moved));
        if gain <= GAIN {
            return false;
        }
        self.carried.swap(one, other);
        for (treatment, parts, out, into) in [(a, new_a, one, other), (b, new_b, other, one)] {
            if let Some((own, known)) = self.of.get_mut(&treatment) {
                own.iter_mut().filter(|at| **at == out).for_each(|at| *at = into);
                *known = parts;
            }
        }
        if moved.is_some() {
            self.cover = Cover::of(self.ground, &self.of[&Treatment::Bare].0);
        }
        true
    }
}
