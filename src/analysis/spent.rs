//! Time to spent of every section, judged on section means.

use super::context::Context;
use super::frame::{self, Frame, reference_round};
use super::model::{
    CameBack, Gone, Known, Missing, Moment, RoundState, SectionAt, SectionSeries, SectionSpent, Spent,
    WithGauge, base_of_share,
};
use crate::study::{
    Done, DoneWhat, Limit, Making, MeasureKind, RoundId, SectionId, SpentRule, Study, Treatment,
};
use jiff::civil::{Date, DateTime};

/// A mean that misses the limit by less than this share of it misses it by the rounding of the arithmetic.
const ROUNDING: f64 = 1e-12;

/// A section mean at a round, and how it stands to the limit.
struct Judged {
    moment: Moment,
    failed: bool,
    /// Passed by more than the alike limit, so that a pass after a failure is not noise.
    clear: bool,
    /// The reference that the limit is a share of, or from which a change of colour counts, 0 there by definition. Having passed there says nothing, as every section begins there.
    start: bool,
}

/// Every section in map order; `None` where the measure does not say when a section is spent.
pub(super) fn table(
    context: &Context<'_>,
    frame: &Frame,
    series: &[SectionSeries],
) -> Option<Vec<SectionSpent>> {
    let rule = context.study.measure(frame.measure).spent?;
    let blank =
        matches!(&context.study.measure(frame.measure).kind, MeasureKind::Made(made) if made.against_blank);
    let of = |section: &SectionSeries| {
        let found = of_section(context, frame, section, rule);
        // The blank stands at its own mean by definition, so that no time tells anything of it.
        let fixed = blank && section.treatment == Treatment::Bare;
        if fixed { SectionSpent { limit: found.limit, ..nothing(section, Missing::IsBlank) } } else { found }
    };
    Some(series.iter().map(of).collect())
}

/// A section of which no time is known.
fn nothing(series: &SectionSeries, why: Missing) -> SectionSpent {
    SectionSpent {
        section: series.section,
        treatment: series.treatment,
        limit: Err(why),
        when: Err(why),
        came_back: None,
        within: false,
        gone: None,
        with_gauge: None,
    }
}

fn of_section(context: &Context<'_>, frame: &Frame, series: &SectionSeries, rule: SpentRule) -> SectionSpent {
    let limit = limit(context.study, frame, series, rule);
    let judged = limit.and_then(|limit| judge(context, frame, series, (rule, limit), |_| 0.0));
    let (when, came_back, within) = match judged {
        Err(missing) => (Err(missing), None, false),
        Ok(judged) => {
            let within = judged.last().is_some_and(|last| !last.failed);
            (when(&judged), came_back(&judged), within)
        }
    };
    let gone = when.ok().and_then(|when| gone(context.study, frame, series, when));
    let (section, treatment) = (series.section, series.treatment);
    SectionSpent { section, treatment, limit, when, came_back, within, gone, with_gauge: None }
}

/// When a section was spent if every level may lie up to `off` from what was read, all one way; `None` where that changes nothing.
///
/// What the gauge is off by has one sign over all rounds or, as a drift, moves slowly; all low and all high hold what lies between.
pub(super) fn with_gauge(
    context: &Context<'_>,
    frame: &Frame,
    (series, found): (&SectionSeries, &SectionSpent),
    rule: SpentRule,
    off: impl Fn(RoundId) -> f64,
) -> Option<WithGauge> {
    let (limit, read) = (found.limit.ok()?, found.when.ok()?);
    let moved = |way: f64| {
        let judged = judge(context, frame, series, (rule, limit), |round| way * off(round)).ok()?;
        when(&judged).ok()
    };
    let all = [moved(-1.0)?, read, moved(1.0)?];
    let place = |moment: &Moment| frame.place(moment.round);
    let after = |spent: &Spent| match *spent {
        Spent::Between(after, _) | Spent::AtLeast(after) => Some(after),
        Spent::Before(_) => None,
    };
    let upto = |spent: &Spent| match *spent {
        Spent::Between(_, upto) | Spent::Before(upto) => Some(upto),
        Spent::AtLeast(_) => None,
    };
    // No round at all, on either side, is farther out than any round.
    let first: Option<Vec<Moment>> = all.iter().map(after).collect();
    let first = first.and_then(|all| all.into_iter().min_by_key(place));
    let last: Option<Vec<Moment>> = all.iter().map(upto).collect();
    let last = last.and_then(|all| all.into_iter().max_by_key(place));
    let together = match (first, last) {
        (Some(after), Some(upto)) => Spent::Between(after, upto),
        (Some(after), None) => Spent::AtLeast(after),
        (None, Some(upto)) => Spent::Before(upto),
        (None, None) => return Some(WithGauge::Open),
    };
    (together != read).then_some(WithGauge::When(together))
}

/// Why a section that had not failed was not there at a later round that was read.
fn gone(study: &Study, frame: &Frame, series: &SectionSeries, when: Spent) -> Option<Gone> {
    let Spent::AtLeast(last) = when else { return None };
    let place = frame.place(last.round)?;
    let later = series.at.iter().zip(&frame.rounds).skip(place + 1);
    let mut reasons = later
        .filter(|(_, (_, state))| *state == RoundState::Read)
        .filter_map(|(at, _)| at.numbers.level.err())
        .peekable();
    reasons.peek()?;
    match study.ended(series.section) {
        Some(day) => Some(Gone::Ended(day)),
        None => reasons.any(|why| why == Missing::Stopped).then_some(Gone::Stopped),
    }
}

fn limit(study: &Study, frame: &Frame, series: &SectionSeries, rule: SpentRule) -> Known<f64> {
    match rule.limit {
        Limit::Value(value) => Ok(value),
        Limit::PercentOf(percent, reference) => {
            let place = reference_round(study, reference).and_then(|round| frame.place(round));
            let at = &series.at[place.ok_or(Missing::NoReference)?];
            let level = at.numbers.level.map_err(|_| Missing::NoReference)?;
            let standard = level.uncertainty.map(|uncertainty| uncertainty.standard);
            Ok(percent / 100.0 * base_of_share(level.mean, standard)?)
        }
    }
}

/// The section means from the first round on the coat, with so much more room as `moved` says; the baseline is never judged.
fn judge(
    context: &Context<'_>,
    frame: &Frame,
    series: &SectionSeries,
    (rule, limit): (SpentRule, f64),
    moved: impl Fn(RoundId) -> f64,
) -> Known<Vec<Judged>> {
    let place = |named| reference_round(context.study, named).and_then(|round| frame.place(round));
    let first = frame.first_on_coat(context.study);
    let of_colour = matches!(&context.study.measure(frame.measure).kind, MeasureKind::Made(made) if made.making == Making::ColourChange);
    let reference = match rule.limit {
        Limit::Value(_) => frame.reference.filter(|_| of_colour),
        Limit::PercentOf(_, named) => place(named),
    };
    let alike = context.study.measure(frame.measure).alike.as_ref().map_or(0.0, |alike| alike.value);
    let coated = last_coat(context.study, series.section, series.treatment);
    let judged = series.at.iter().enumerate().skip(first).filter_map(|(place, at)| {
        let room = room(at, rule, limit)? + moved(at.round);
        let failed = room < -ROUNDING * limit.abs() || (rule.at_limit && room <= ROUNDING * limit.abs());
        Some(Judged {
            moment: moment(context, frame, (series.section, at.round), failed, coated),
            failed,
            clear: room > alike,
            start: reference == Some(place),
        })
    });
    let judged: Vec<Judged> = judged.collect();
    let nothing = || series.at.iter().skip(first).find_map(|at| at.numbers.level.err());
    if judged.is_empty() { Err(nothing().unwrap_or(Missing::NotPlanned)) } else { Ok(judged) }
}

/// How far the mean is on the good side of the limit; below it where that is negative.
///
/// Of a section that fell below the gauge only what its mean cannot exceed is known. That judges it where even so it lies
/// on one side of the limit; else it is not judged.
fn room(at: &SectionAt, rule: SpentRule, limit: f64) -> Option<f64> {
    let (mean, bound) = match (at.numbers.level, at.at_most) {
        (Ok(level), _) => (level.mean, false),
        (Err(Missing::BelowGauge), Some(at_most)) => (at_most, true),
        (Err(_), _) => return None,
    };
    let room = if rule.below { mean - limit } else { limit - mean };
    // Spent below: at most so much room. Spent above: at least so much.
    (!bound || (room < 0.0) == rule.below).then_some(room)
}

/// The last failure that was not followed by a clear pass, with the round passed before it.
///
/// After a failure only a pass by more than alike counts as one. Where a section came back and did not fail again,
/// time counts from that failure all the same.
fn when(judged: &[Judged]) -> Known<Spent> {
    let last = judged.last().ok_or(Missing::NotPlanned)?;
    let Some(failure) = last_failure(judged) else {
        return Ok(Spent::AtLeast(last.moment));
    };
    let passed = judged[..failure].iter().rev().find(|one| !one.failed && !one.start);
    let upto = judged[failure].moment;
    Ok(passed.map_or(Spent::Before(upto), |passed| Spent::Between(passed.moment, upto)))
}

/// The first round of the last run of failures.
fn last_failure(judged: &[Judged]) -> Option<usize> {
    let mut run = None;
    let mut failing = false;
    for (index, one) in judged.iter().enumerate() {
        if one.failed && !failing {
            run = Some(index);
        }
        failing = one.failed || (failing && !one.clear);
    }
    run
}

/// The first failure that was followed by a clear pass.
fn came_back(judged: &[Judged]) -> Option<CameBack> {
    let fell = judged.iter().position(|one| one.failed)?;
    let back = judged[fell..].iter().find(|one| one.clear)?;
    Some(CameBack { fell: judged[fell].moment, back: back.moment })
}

/// Where a section was read over several days of a round, a pass is known from the first of them on, a failure by the last.
fn moment(
    context: &Context<'_>,
    frame: &Frame,
    (section, round): (SectionId, RoundId),
    failed: bool,
    coated: Option<Date>,
) -> Moment {
    let days = context.days(frame.measure, round, section);
    let date = days.map(|(first, last)| if failed { last } else { first });
    let days = date.zip(coated).map(|(date, coated)| days_between(coated, date));
    Moment { round, date, days }
}

fn days_between(from: Date, to: Date) -> i64 {
    from.duration_until(to).as_hours() / 24
}

/// The day of the last coat on a section, as recorded, else the day that is planned for it.
pub(super) fn last_coat(study: &Study, section: SectionId, treatment: Treatment) -> Option<Date> {
    let own = |done: &&Done| match (&done.what, treatment) {
        (DoneWhat::Coat(_, product), Treatment::Product(carried)) => {
            product.value == carried && done.is_on(section)
        }
        _ => false,
    };
    let recorded = study.done.iter().filter(own).map(|done| done.date.value).max();
    let planned = || match treatment {
        Treatment::Product(carried) => study.last_coat(carried).map(DateTime::date),
        _ => frame::applied(study),
    };
    recorded.or_else(planned)
}
