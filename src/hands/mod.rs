//! One pair of hands on the day of the application: what is done at which minute, so that no window of a product is missed.
//!
//! Sections of one product are coated in a group: laid on one after the other, then wiped off in the same order, so that each lies
//! as long as the others. While a group waits, hands go on with another product, after a change of gloves, applicator and cloth.
//! Groups are placed one by one where all of their windows are kept, in several orders; the day that ends first is taken.

mod cycles;
mod day;
mod group;
mod planned;

use crate::stats::random::Generator;
use crate::study::{ProductId, SectionId, Study};
use crate::units::{Quantity, Time};
use day::Day;
use group::Group;

pub use cycles::{Cycles, Over, cycles};
pub use planned::{MORNING, Planned, later_last_coat, planned};

/// Orders of the products that are tried beside their own; more gained under a minute on twelve products.
const SHUFFLES: usize = 24;
/// With more groups than this only two orders are tried, since each takes longer and gains less.
const MOST_SHUFFLED: usize = 80;
/// The seed of these orders, so that the same study has the same day everywhere.
const SEED: u64 = 20_260_302;

/// What hands do in one go.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Work {
    /// A coat goes on its sections, one after the other.
    LayOn,
    /// What the product asks for between two coats, before the second.
    Between,
    /// It is wiped off, levelled or buffed in the same order.
    WipeOff,
    /// On and off again on one section, where its time is too short to turn away.
    LayAndWipe,
    /// The tape of the sections is pulled.
    PullTape,
}

impl Work {
    /// Whether a coat goes on.
    pub fn is_laying(self) -> bool {
        matches!(self, Self::LayOn | Self::LayAndWipe)
    }
}

/// How long hands take, in seconds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Pace {
    /// To lay a coat on one section.
    pub lay_on: i64,
    /// To wipe it off one section.
    pub wipe_off: i64,
    /// To pull the tape of one section.
    pub pull: i64,
    /// To do to one section what is done between coats.
    pub between: i64,
    /// To change from one product to another.
    pub change: i64,
    /// True if the study states none of these.
    pub assumed: bool,
}

/// One act of the day. Times are seconds from its start.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Act {
    /// What is done.
    pub work: Work,
    /// Which coat; for the tape the coat that it waits for.
    pub coat: u32,
    /// Of which product; `None` for the carrier alone.
    pub product: Option<ProductId>,
    /// On which sections, in this order.
    pub sections: Vec<SectionId>,
    /// When it begins.
    pub begins: i64,
    /// When it ends.
    pub ends: i64,
    /// When it may begin at the earliest and at the latest, by what was done before; `None` for no end.
    pub window: Option<(i64, Option<i64>)>,
    /// False where a window cannot be kept at this pace.
    pub kept: bool,
    /// True where a coat is taken up again after another product, so that what laid it on has set.
    pub resumed: bool,
}

impl Act {
    /// Whether little of its window is left when it begins: less than a third of it, and less than a quarter of an hour.
    pub fn is_tight(&self) -> bool {
        self.window.is_some_and(|(first, last)| {
            last.is_some_and(|last| last - self.begins < ((last - first) / 3).min(SPARE))
        })
    }
}

/// The day, or the days.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Run {
    /// What is done, in order.
    pub acts: Vec<Act>,
    /// The pace that is counted with.
    pub pace: Pace,
    /// When the last act ends, in seconds from the start.
    pub ends: i64,
    /// How long hands are at work, without changes and waits.
    pub busy: i64,
    /// When the last act would end if each product were finished before the next is begun.
    pub in_turn: i64,
}

/// Enough to spare in any window, in seconds. A choice of this program.
const SPARE: i64 = 900;

/// One pair of hands works so long a day, from the hour at which the application begins. Common practice, no source.
pub const HOURS: i64 = 10 * 3600;

/// Takes a minute for a section, two for what is done between coats and two for a change where the study states no pace. Common
/// practice, no source.
fn pace(study: &Study) -> Pace {
    let stated = study.apply.as_ref().map(|apply| apply.pace).unwrap_or_default();
    let seconds = |time: Option<Quantity<Time>>, usual: i64| time.map_or(usual, whole_seconds);
    Pace {
        lay_on: seconds(stated.lay_on, 60),
        wipe_off: seconds(stated.wipe_off, 60),
        pull: seconds(stated.pull_tape, 60),
        between: seconds(stated.between, 120),
        change: seconds(stated.change, 120),
        assumed: stated == crate::study::Pace::default(),
    }
}

/// Whole seconds of a time, at least one; a time beyond any study counts as the longest.
#[expect(clippy::cast_possible_truncation, reason = "between 1 second and 1000 years")]
fn whole_seconds(time: Quantity<Time>) -> i64 {
    time.seconds().clamp(1.0, 3.2e10).round() as i64
}

/// The day of a study, or `None` where no product goes on a section.
pub fn run(study: &Study) -> Option<Run> {
    let pace = pace(study);
    let products = products(study, &pace)?;
    let days = orders(&products).into_iter().map(|order| in_order(&products, &order, &pace));
    let turn = in_turn(&products, &pace);
    let in_turn = turn.ends();
    let mut best = days.chain([turn]).min_by_key(Day::cost)?;
    if best.dusted() > 0 {
        let soon = |day: &Day| day.last_day() <= best.last_day() && day.missed() <= best.missed();
        let days = rubbed_first(&products, &pace).filter(soon);
        let cleanest = days.min_by_key(|day| (day.dusted(), day.cost()));
        best = cleanest.filter(|day| day.dusted() < best.dusted()).unwrap_or(best);
    }
    let (ends, busy) = (best.ends(), best.busy());
    Some(Run { acts: best.acts(), pace, ends, busy, in_turn })
}

/// When everything is done with each product finished before the next is begun, which no chosen order exceeds; in seconds from the
/// start. `None` where nothing goes on.
fn ends_in_turn(study: &Study) -> Option<i64> {
    let pace = pace(study);
    Some(in_turn(&products(study, &pace)?, &pace).ends())
}

/// The acts whose window no order of the products keeps; none as soon as one order keeps all.
pub fn missed(study: &Study) -> Vec<Act> {
    missed_at(study, &pace(study))
}

/// The same at another pace.
fn missed_at(study: &Study, pace: &Pace) -> Vec<Act> {
    let Some(products) = products(study, pace) else { return Vec::new() };
    let days = orders(&products).into_iter().map(|order| in_order(&products, &order, pace));
    let mut fewest: Option<Vec<Act>> = None;
    for day in days.chain([in_turn(&products, pace)]) {
        let missed: Vec<Act> = day.acts().into_iter().filter(|act| !act.kept).collect();
        if missed.is_empty() {
            return missed;
        }
        if fewest.as_ref().is_none_or(|fewest| missed.len() < fewest.len()) {
            fewest = Some(missed);
        }
    }
    fewest.unwrap_or_default()
}

/// No pace is looked for where more sections than this are coated, since each takes a whole day to count.
const MOST_SOUGHT: usize = 60;

/// The slowest of some paces at which every window is kept, each part no slower than the one that is counted with; `None` where none
/// of them keeps all. Common practice, no source: nobody lays a coat on in less than 10 s.
pub fn faster(study: &Study) -> Option<Pace> {
    let own = pace(study);
    if study.places().count() > MOST_SOUGHT {
        return None;
    }
    // Hands that lay on and wipe off alike keep even a single time.
    let like = own.lay_on.min(own.wipe_off);
    let tries = [1.0, 0.75, 0.5, 0.33, 0.25, 0.17].into_iter().flat_map(|part| {
        [(own.lay_on, own.wipe_off), (like, like)].map(|(lay, wipe)| {
            let faster = |seconds: i64| quicker(seconds, part);
            Pace {
                lay_on: faster(lay),
                wipe_off: faster(wipe),
                pull: faster(own.pull),
                between: faster(own.between),
                ..own
            }
        })
    });
    tries.filter(|pace| *pace != own).find(|pace| missed_at(study, pace).is_empty())
}

/// A part of a time in steps of 5 s, no less than 10 s where it was more.
#[expect(clippy::cast_possible_truncation, clippy::cast_precision_loss, reason = "seconds of one section")]
fn quicker(seconds: i64, part: f64) -> i64 {
    let some = (seconds as f64 * part / 5.0).floor() as i64 * 5;
    if part < 1.0 { some.max(10).min(seconds) } else { seconds }
}

/// The groups of each product that goes on anything, then those of the carrier alone; `None` where nothing goes on.
fn products(study: &Study, pace: &Pace) -> Option<Vec<Vec<Group>>> {
    let groups = study.products_with_ids().map(|(id, _)| group::groups(study, id, pace));
    let carrier = std::iter::once(group::carrier(study, pace).into_iter().collect());
    let products: Vec<Vec<Group>> = groups.chain(carrier).filter(|groups| !groups.is_empty()).collect();
    (!products.is_empty()).then_some(products)
}

/// Days on which coats are put off until the others are rubbed: by once and twice what all rubbing takes, since what was laid on last
/// may be rubbed last.
fn rubbed_first<'a>(products: &'a [Vec<Group>], pace: &'a Pace) -> impl Iterator<Item = Day> + 'a {
    let rubbing = products.iter().flatten().map(Group::rubbing).filter(|seconds| *seconds > 0);
    let all: i64 = rubbing.map(|seconds| seconds + pace.change).sum();
    [all, 2 * all].into_iter().flat_map(move |seconds| {
        let held = |groups: &Vec<Group>| groups.iter().map(|group| group.held_back(seconds)).collect();
        let held: Vec<Vec<Group>> = products.iter().map(held).collect();
        orders(&held).into_iter().map(move |order| in_order(&held, &order, pace))
    })
}

/// A day on which products are taken up in an order, each where hands are free.
fn in_order(products: &[Vec<Group>], order: &[usize], pace: &Pace) -> Day {
    let mut day = Day::new(pace.change);
    for group in order.iter().flat_map(|&at| &products[at]) {
        day.place(group, 0);
    }
    day.mark_resumed();
    day
}

/// A day on which each product is finished before the next is begun.
fn in_turn(products: &[Vec<Group>], pace: &Pace) -> Day {
    let mut turn = Day::new(pace.change);
    for groups in products {
        let begins = turn.ends();
        for group in groups {
            turn.place(group, begins);
        }
    }
    turn.mark_resumed();
    turn
}

/// The order of the study, the longest first, and some by chance.
fn orders(products: &[Vec<Group>]) -> Vec<Vec<usize>> {
    let own: Vec<usize> = (0..products.len()).collect();
    let mut longest = own.clone();
    longest.sort_by_key(|&at| std::cmp::Reverse(products[at].iter().map(Group::least_span).max()));
    let mut all = vec![own.clone(), longest];
    if own.len() > 2 && products.iter().map(Vec::len).sum::<usize>() <= MOST_SHUFFLED {
        let mut generator = Generator::new(SEED);
        for _ in 0..SHUFFLES {
            let mut order = own.clone();
            generator.shuffle(&mut order);
            all.push(order);
        }
    }
    all
}
