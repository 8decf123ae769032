//! The day as it fills: groups are placed where hands are free and every window is kept.

use super::group::{Group, up};
use super::{Act, HOURS};
use crate::study::ProductId;

/// So many places are tried for a group before one is taken that misses a window.
const TRIES: u32 = 400;
/// An act in the last minute of its window speaks against a day as much as an end that is so much later. A choice of this program.
const TIGHT: i64 = 900;
const DAY: i64 = 24 * 3600;

#[derive(Debug)]
pub(super) struct Day {
    change: i64,
    /// In the order of their begin; no two at the same time.
    acts: Vec<Act>,
}

impl Day {
    pub(super) fn new(change: i64) -> Self {
        Self { change, acts: Vec::new() }
    }

    pub(super) fn ends(&self) -> i64 {
        self.acts.last().map_or(0, |act| act.ends)
    }

    pub(super) fn busy(&self) -> i64 {
        self.acts.iter().map(|act| act.ends - act.begins).sum()
    }

    pub(super) fn acts(self) -> Vec<Act> {
        self.acts
    }

    /// What speaks against a day, the worst first: windows missed; its end, later for each act that has no minute to spare; changes
    /// of product; late begins.
    pub(super) fn cost(&self) -> (usize, i64, usize, i64) {
        let missed = self.acts.iter().filter(|act| !act.kept).count();
        let tight = self.acts.iter().filter(|act| act.is_last_minute()).count();
        let changes = self.acts.windows(2).filter(|pair| pair[0].product != pair[1].product).count();
        (
            missed,
            self.ends() + TIGHT * i64::try_from(tight).unwrap_or(0),
            changes,
            self.acts.iter().map(|act| act.begins).sum(),
        )
    }

    /// Places a group, no earlier than a moment: where hands are free, else behind everything, else on the next morning; where it
    /// keeps its windows nowhere, each act follows as soon as hands are free.
    pub(super) fn place(&mut self, group: &Group, not_before: i64) {
        let behind = not_before.max(self.ends() + self.change);
        let morning = (behind.div_euclid(DAY) + 1) * DAY;
        let strict = [not_before, behind, morning].map(|from| (from, true));
        for (from, strict) in strict.into_iter().chain([(not_before, false)]) {
            if self.fit(group, from, &mut Vec::new(), &mut TRIES.clone(), strict) {
                return;
            }
        }
    }

    /// Places the steps of a group from the next one on; takes them back where one does not fit.
    fn fit(
        &mut self,
        group: &Group,
        not_before: i64,
        begins: &mut Vec<i64>,
        tries: &mut u32,
        strict: bool,
    ) -> bool {
        let at = begins.len();
        let Some(step) = group.steps.get(at) else { return true };
        let from = begins.get(step.from).copied();
        let free = match at
            .checked_sub(1)
            .and_then(|before| Some((begins.get(before)?, group.steps.get(before)?)))
        {
            Some((begun, before)) => begun + before.seconds,
            None => not_before,
        };
        let earliest = from.map_or(free, |from| free.max(from + step.least));
        let latest = from.and_then(|from| Some(from + step.most?)).filter(|_| strict && step.possible);
        let mut next = earliest;
        loop {
            let begin = self.free_from(next, step.seconds, group.product);
            if latest.is_some_and(|latest| begin > latest) || *tries == 0 {
                return false;
            }
            *tries -= 1;
            self.insert(group, at, begin, from);
            begins.push(begin);
            if self.fit(group, not_before, begins, tries, strict) {
                return true;
            }
            begins.pop();
            self.remove(begin);
            next = begin + 60;
        }
    }

    fn insert(&mut self, group: &Group, at: usize, begin: i64, from: Option<i64>) {
        let Some(step) = group.steps.get(at) else { return };
        let bound = step.least > 0 || step.most.is_some();
        let window =
            from.filter(|_| bound).map(|from| (from + step.least, step.most.map(|most| from + most)));
        let late = window.and_then(|(_, latest)| latest).is_some_and(|latest| begin > latest);
        let act = Act {
            work: step.work,
            coat: step.coat,
            product: group.product,
            sections: group.sections.clone(),
            begins: begin,
            ends: begin + step.seconds,
            window,
            kept: step.possible && !late,
        };
        let place = self.acts.partition_point(|act| act.begins < begin);
        self.acts.insert(place, act);
    }

    fn remove(&mut self, begin: i64) {
        let place = self.acts.partition_point(|act| act.begins < begin);
        self.acts.remove(place);
    }

    /// The first full minute from a moment on at which hands are free for so long, with a change where the product is another one.
    fn free_from(&self, from: i64, seconds: i64, product: ProductId) -> i64 {
        let mut begin = within_hours(up(from), seconds);
        let mut place = self.acts.partition_point(|act| act.ends + self.change <= begin);
        while let Some(act) = self.acts.get(place) {
            let change = if act.product == product { 0 } else { self.change };
            if begin + seconds + change <= act.begins {
                break;
            }
            if act.ends + change > begin {
                begin = within_hours(up(act.ends + change), seconds);
            }
            place += 1;
        }
        begin
    }
}

/// Work begins on the next day where it would not end within the hours of this one.
fn within_hours(begin: i64, seconds: i64) -> i64 {
    let over = begin.rem_euclid(DAY) + seconds > HOURS && begin.rem_euclid(DAY) > 0;
    if over { (begin.div_euclid(DAY) + 1) * DAY } else { begin }
}
