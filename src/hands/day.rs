//! The day as it fills: groups are placed where hands are free and every window is kept.

use super::group::{Group, up};
use super::{Act, HOURS, SPARE, Work};
use crate::study::ProductId;

/// So many places are tried for a group before one is taken that misses a window.
const TRIES: u32 = 400;
/// An act with little of its window to spare speaks against a day as much as an end that is so much later. A choice of this program.
const TIGHT: i64 = 900;
/// So does a coat that is taken up again after another product: what laid it on before has set. A choice of this program.
const RESUMED: i64 = 300;
const DAY: i64 = 24 * 3600;

/// How much is asked of a place for a group.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Care {
    /// A part of each window is left when an act begins.
    Spare,
    /// Each act begins within its window.
    Window,
    /// Nothing.
    None,
}

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

    /// How often something is rubbed after another product was laid on on the same day: dust falls on what is wet.
    pub(super) fn dusted(&self) -> usize {
        let rubbed = self.acts.iter().filter(|act| act.work == Work::Between);
        let before = |rub: &Act| {
            let same_day = |act: &Act| act.begins.div_euclid(DAY) == rub.begins.div_euclid(DAY);
            self.acts.iter().any(|act| {
                act.work.is_laying() && act.product != rub.product && act.begins < rub.begins && same_day(act)
            })
        };
        rubbed.filter(|rub| before(rub)).count()
    }

    /// How many windows are missed.
    pub(super) fn missed(&self) -> usize {
        self.acts.iter().filter(|act| !act.kept).count()
    }

    /// The day on which the last act ends, counted from the first.
    pub(super) fn last_day(&self) -> i64 {
        self.ends().div_euclid(DAY)
    }

    /// What speaks against a day, the worst first: windows missed; its end, later for each act that has little to spare and each coat
    /// that is taken up again; changes of product; late begins.
    pub(super) fn cost(&self) -> (usize, i64, usize, i64) {
        let times = |count: usize, seconds: i64| seconds * i64::try_from(count).unwrap_or(0);
        let tight = times(self.acts.iter().filter(|act| act.is_tight()).count(), TIGHT);
        let again = times(self.acts.iter().filter(|act| act.resumed).count(), RESUMED);
        let changes = self.acts.windows(2).filter(|pair| pair[0].product != pair[1].product).count();
        (self.missed(), self.ends() + tight + again, changes, self.acts.iter().map(|act| act.begins).sum())
    }

    /// Marks the coats that are taken up again after another product.
    pub(super) fn mark_resumed(&mut self) {
        for at in 0..self.acts.len() {
            let (before, rest) = self.acts.split_at_mut(at);
            let Some(act) = rest.first_mut().filter(|act| act.work.is_laying()) else { continue };
            let own = |one: &Act| one.product == act.product && one.coat == act.coat && one.work.is_laying();
            let since = before.iter().rposition(own);
            act.resumed =
                since.is_some_and(|since| before[since..].iter().any(|one| one.product != act.product));
        }
    }

    /// Places a group, no earlier than a moment: where hands are free, else behind everything, else on the next morning, with a part of
    /// each window to spare where that can be had; where it keeps its windows nowhere, each act follows as soon as hands are free.
    pub(super) fn place(&mut self, group: &Group, not_before: i64) {
        let behind = not_before.max(self.ends() + self.change);
        let morning = (behind.div_euclid(DAY) + 1) * DAY;
        let places = [
            (not_before, Care::Spare),
            (behind, Care::Spare),
            (not_before, Care::Window),
            (behind, Care::Window),
            (morning, Care::Spare),
            (morning, Care::Window),
            (not_before, Care::None),
        ];
        for (from, care) in places {
            if self.fit(group, from, &mut Vec::new(), &mut TRIES.clone(), care) {
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
        care: Care,
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
        let earliest = from.map_or(free, |from| free.max(from + step.least + step.held));
        let spare = if care == Care::Spare { step.spare.min(SPARE) } else { 0 };
        let latest = from.and_then(|from| Some(from + step.most? - spare));
        let latest = latest.filter(|_| care != Care::None && step.possible);
        let mut next = earliest;
        loop {
            let begin = self.free_from(next, step.seconds, group.product);
            if latest.is_some_and(|latest| begin > latest) || *tries == 0 {
                return false;
            }
            *tries -= 1;
            self.insert(group, at, begin, from);
            begins.push(begin);
            if self.fit(group, not_before, begins, tries, care) {
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
            sections: if step.work == Work::PullTape { &group.taped } else { &group.sections }.clone(),
            begins: begin,
            ends: begin + step.seconds,
            window,
            kept: step.possible && !late,
            resumed: false,
        };
        let place = self.acts.partition_point(|act| act.begins < begin);
        self.acts.insert(place, act);
    }

    fn remove(&mut self, begin: i64) {
        let place = self.acts.partition_point(|act| act.begins < begin);
        self.acts.remove(place);
    }

    /// The first full minute from a moment on at which hands are free for so long, with a change where the product is another one.
    fn free_from(&self, from: i64, seconds: i64, product: Option<ProductId>) -> i64 {
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
