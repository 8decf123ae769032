//! What hands do for the sections of one product that are coated together, each act with its window; and for those of the carrier alone.

use super::{Pace, Work, whole_seconds};
use crate::study::{Coat, Product, ProductId, SectionId, Study, TapeOff, Treatment};
use crate::units::{Range, Time};

/// One act of a group. Times are seconds.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Step {
    pub(super) work: Work,
    pub(super) coat: u32,
    pub(super) seconds: i64,
    /// The step of the group that its window counts from, by its place; its own for the first.
    pub(super) from: usize,
    /// It may begin so long after that step began.
    pub(super) least: i64,
    /// And is put off by so much more, so that others are rubbed before it.
    pub(super) held: i64,
    /// And no later than this.
    pub(super) most: Option<i64>,
    /// So much of its window is to be left when it begins, or hands would have to hurry: a third of what the product allows.
    pub(super) spare: i64,
    /// False where its time is over before hands are free, whenever it begins.
    pub(super) possible: bool,
}

/// Sections of one product, coated together.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Group {
    /// `None` for the carrier alone.
    pub(super) product: Option<ProductId>,
    pub(super) sections: Vec<SectionId>,
    /// Those of the panel, which are taped; loose specimens are not.
    pub(super) taped: Vec<SectionId>,
    pub(super) steps: Vec<Step>,
}

impl Group {
    /// How long it takes at the least, waits included.
    pub(super) fn least_span(&self) -> i64 {
        span(&self.steps)
    }

    /// How long it is rubbed between two coats; 0 where it is not.
    pub(super) fn rubbing(&self) -> i64 {
        self.steps
            .iter()
            .filter(|step| step.work == Work::Between)
            .map(|step| step.seconds)
            .max()
            .unwrap_or(0)
    }

    /// The same with every coat that follows a rubbing put off, as far as its window and what it has to spare allow.
    pub(super) fn held_back(&self, seconds: i64) -> Self {
        let mut held = self.clone();
        for at in 1..held.steps.len() {
            if held.steps[at - 1].work == Work::Between {
                let step = &mut held.steps[at];
                let room = step.most.map_or(seconds, |most| (most - step.least - step.spare).max(0));
                step.held = seconds.min(room);
            }
        }
        held
    }
}

/// When each step begins at the earliest, at full minutes, with nothing else to do.
fn earliest(steps: &[Step]) -> Vec<i64> {
    let mut begins: Vec<i64> = Vec::new();
    let mut free = 0;
    for step in steps {
        let from = begins.get(step.from).copied().unwrap_or(0);
        let at = up(free.max(from + step.least));
        begins.push(at);
        free = at + step.seconds;
    }
    begins
}

/// The groups of a product: as few as keep every window, and of like size.
pub(super) fn groups(study: &Study, id: ProductId, pace: &Pace) -> Vec<Group> {
    let sections: Vec<SectionId> = study.carriers_of(Treatment::Product(id)).map(|(id, _)| id).collect();
    // What is mixed is laid on before it thickens.
    let keeps = study.product(id).keeps.as_ref().map(|keeps| whole_seconds(keeps.value));
    let fits = |size: usize| {
        keeps.is_none_or(|keeps| count(size) * pace.lay_on <= keeps)
            && fit(&steps(study, id, (size, size), pace))
    };
    let size = (1..=sections.len()).rev().find(|&size| fits(size)).unwrap_or(1);
    let count = sections.len().div_ceil(size);
    let even = sections.len().div_ceil(count.max(1)).max(1);
    let group = |part: &[SectionId]| {
        let taped = taped(study, part);
        let steps = steps(study, id, (part.len(), taped.len()), pace);
        Group { product: Some(id), sections: part.to_vec(), taped, steps }
    };
    sections.chunks(even).map(group).collect()
}

/// Those of the panel among some sections.
fn taped(study: &Study, part: &[SectionId]) -> Vec<SectionId> {
    part.iter().filter(|id| study.section(**id).specimen.is_none()).copied().collect()
}

/// The sections of the carrier alone, one after the other: it has no window, since nothing of it stays; `None` where a step of the
/// preparation puts it on, or nothing carries it.
pub(super) fn carrier(study: &Study, pace: &Pace) -> Option<Group> {
    let sections = study.carrier_to_lay_on();
    let taped = taped(study, &sections);
    // Of several products the study does not say which one's carrier it is, so it goes on as often as the one with the most coats.
    let laid = study.products_with_ids().filter(|(id, _)| study.is_laid_on(*id)).map(|(_, product)| product);
    let with = laid.reduce(|one, next| if next.coats_number() > one.coats_number() { next } else { one });
    let coats = with.map_or(1, Product::coats_number);
    let waits = |number: u32| {
        let with = with.filter(|_| number > 1)?;
        let dry = || with.dry.as_ref().map(|dry| whole_seconds(dry.value));
        with.coat(number).after.as_ref().map(|after| wait(after).0).or_else(dry)
    };
    let on = (1..=coats).zip(0..).map(|(number, at): (u32, usize)| Step {
        work: Work::LayAndWipe,
        coat: number,
        seconds: count(sections.len()) * (pace.lay_on + pace.wipe_off),
        from: at.saturating_sub(1),
        least: waits(number).unwrap_or(0),
        held: 0,
        most: None,
        spare: 0,
        possible: true,
    });
    let on: Vec<Step> = on.collect();
    let tape = tape_off(study).filter(|_| !taped.is_empty());
    let pull = tape.map(|off| {
        // Laid on and wiped off in one go, so that the pace of both parts the sections.
        let slow = Pace { lay_on: pace.lay_on + pace.wipe_off, ..*pace };
        let last = if off.first_coat { 1 } else { coats };
        of_tape(off, last, taped.len(), &slow, last as usize - 1)
    });
    let steps = pull.map_or_else(|| on.clone(), |pull| with_tape(&on, &pull));
    (!sections.is_empty()).then_some(Group { product: None, sections, taped, steps })
}

fn tape_off(study: &Study) -> Option<&TapeOff> {
    study.apply.as_ref()?.tape_off.as_ref()
}

/// Whether each step may begin when the ones before are done, with a part of its window to spare.
fn fit(steps: &[Step]) -> bool {
    steps.iter().all(|step| step.possible) && misses(steps).1 == 0
}

/// Every coat on so many sections, and the tape of so many of them.
fn steps(study: &Study, id: ProductId, (size, taped): (usize, usize), pace: &Pace) -> Vec<Step> {
    let product = study.product(id);
    let tape = tape_off(study).filter(|_| taped > 0);
    let mut steps: Vec<Step> = Vec::new();
    let mut laid: Option<usize> = None;
    let mut pull: Option<Step> = None;
    for coat in product.each_coat() {
        let number = coat.number;
        let between = laid.is_some() && product.coats.as_ref().is_some_and(|coats| coats.between.is_some());
        let at = steps.len() + usize::from(between);
        // Where no wait is stated, a coat waits until the one before is dry, as far as that is known.
        let dry = product.dry.as_ref().filter(|_| number > 1).map_or(0, |dry| whole_seconds(dry.value));
        let coats = of_coat(&coat, (size, pace), at, laid, (dry, product.unwiped));
        // What is done between two coats is done within the window of the second, before it.
        if let Some(on) = coats.first().filter(|_| between) {
            let seconds = count(size) * pace.between;
            steps.push(Step { work: Work::Between, seconds, possible: true, ..on.clone() });
        }
        steps.extend(coats);
        laid = Some(at);
        let last = number == product.coats_number();
        if let Some(off) = tape.filter(|off| if off.first_coat { number == 1 } else { last }) {
            pull = Some(of_tape(off, number, taped, pace, at));
        }
    }
    match pull {
        Some(pull) => with_tape(&steps, &pull),
        None => steps,
    }
}

/// The steps with the pulling of the tape among them: where every window is kept, rather between two coats than within one, and
/// where the group is done the soonest.
fn with_tape(steps: &[Step], pull: &Step) -> Vec<Step> {
    let at = |place: usize| {
        let mut all = steps.to_vec();
        for step in all.iter_mut().skip(place).filter(|step| step.from >= place) {
            step.from += 1;
        }
        all.insert(place, pull.clone());
        all
    };
    let is = |place: Option<usize>, work: Work| {
        place.and_then(|place| steps.get(place)).is_some_and(|step| step.work == work)
    };
    let within = |place: usize| is(Some(place), Work::WipeOff) || is(place.checked_sub(1), Work::Between);
    let cost = |(place, all): &(usize, Vec<Step>)| (misses(all), within(*place), span(all), *place);
    let all = (pull.from + 1..=steps.len()).map(|place| (place, at(place)));
    all.min_by_key(cost).map_or_else(|| steps.to_vec(), |(_, all)| all)
}

/// How many steps begin too late at the earliest, then how many with too little to spare.
fn misses(steps: &[Step]) -> (usize, usize) {
    let begins = earliest(steps);
    let late = |spare: bool| {
        let is_late = |(step, at): &(&Step, &i64)| {
            let from = begins.get(step.from).copied().unwrap_or(0);
            let spare = if spare { step.spare } else { 0 };
            step.most.is_some_and(|most| **at + spare > from + most)
        };
        steps.iter().zip(&begins).filter(is_late).count()
    };
    (late(false), late(true))
}

fn span(steps: &[Step]) -> i64 {
    earliest(steps).last().zip(steps.last()).map_or(0, |(begin, step)| begin + step.seconds)
}

fn count(size: usize) -> i64 {
    i64::try_from(size).unwrap_or(i64::MAX)
}

/// Laying on and wiping off. A section may be wiped where the one laid on first has not lain too long and the last one long enough.
fn of_coat(
    coat: &Coat,
    (size, pace): (usize, &Pace),
    at: usize,
    before: Option<usize>,
    (dry, unwiped): (i64, bool),
) -> Vec<Step> {
    let (least, most) = coat.after.as_ref().map_or((dry, None), wait);
    let (lay, wipe, n) = (pace.lay_on, pace.wipe_off, count(size));
    let from = before.unwrap_or(at);
    let spare = most.map_or(0, |most| (most - least) / 3);
    let on = Step {
        work: Work::LayOn,
        coat: coat.number,
        seconds: n * lay,
        from,
        least,
        held: 0,
        most,
        spare,
        possible: true,
    };
    let Some(off) = &coat.off else {
        // Nobody can turn away from a coat whose time is not known.
        let at_once = Step { work: Work::LayAndWipe, seconds: n * (lay + wipe), possible: size == 1, ..on };
        return vec![if unwiped { on } else { at_once }];
    };
    let (low, high) = (whole_seconds(off.low), whole_seconds(off.high));
    // From the first section to the last.
    let slower = (n - 1) * (lay - wipe);
    let window = (low.max(low + slower).max(n * lay), high.min(high + slower));
    // Acts begin at full minutes; what has no full minute in its window is done in one go.
    if up(window.0) <= window.1 {
        let step = Step {
            work: Work::WipeOff,
            seconds: n * wipe,
            from: at,
            least: window.0,
            most: Some(window.1),
            spare: (high - low) / 3,
            ..on
        };
        return vec![on, step];
    }
    let possible = size == 1 && window.0 <= window.1;
    vec![Step { work: Work::LayAndWipe, seconds: n * (lay.max(low) + wipe), possible, ..on }]
}

fn of_tape(off: &TapeOff, coat: u32, size: usize, pace: &Pace, laid: usize) -> Step {
    let (low, high) = wait(&off.after);
    let slower = (count(size) - 1) * (pace.lay_on - pace.pull);
    let (least, most) = (low.max(low + slower), high.map(|high| high.min(high + slower)));
    Step {
        work: Work::PullTape,
        coat,
        seconds: count(size) * pace.pull,
        from: laid,
        least,
        held: 0,
        most,
        spare: high.map_or(0, |high| (high - low) / 3),
        possible: most.is_none_or(|most| up(least) <= most),
    }
}

/// A wait in seconds; one time alone is the shortest and has no end.
fn wait(range: &Range<Time>) -> (i64, Option<i64>) {
    let (low, high) = (whole_seconds(range.low), whole_seconds(range.high));
    (low, (high > low).then_some(high))
}

/// The next full minute.
pub(super) fn up(seconds: i64) -> i64 {
    seconds.div_euclid(60) * 60 + if seconds.rem_euclid(60) > 0 { 60 } else { 0 }
}
