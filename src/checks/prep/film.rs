//! The film of a panel: where it is read, what the planned cuts take off it, and what is to be left.

use super::steps::{class, ground, is_abrasive, porous, prep, supply};
use crate::checks::Context;
use crate::diag::{count, list};
use crate::readings::Readings;
use crate::study::{Anchor, MeasureId, Placing, RoundId, SectionId, Step, Verb};
use crate::units::decimal;

/// The measure of moisture.
pub(super) const MOISTURE: &str = "moisture";

/// The measure of film thickness.
pub(in crate::checks) const FILM: &str = "film";

/// Whether a measure sees a depth, which a trace of oil does not change.
pub(super) fn is_depth(measure: &str) -> bool {
    measure == FILM || measure == MOISTURE
}

/// Whether a step reads film.
pub(super) fn is_film(context: &Context<'_>, step: &Step) -> bool {
    let measure = step.measure.as_ref().map(|measure| context.study.measure(measure.value));
    measure.is_some_and(|measure| measure.name.value == FILM)
}

/// `4 um`, to a tenth.
pub(super) fn um(value: f64) -> String {
    format!("{} um", decimal((value * 10.0).round() / 10.0))
}

/// The first step that cuts: a compound or a sheet. A polish alone takes less than a gauge tells.
pub(super) fn first_cut(steps: &[Step]) -> Option<usize> {
    steps.iter().position(|step| matches!(step.verb, Verb::Compound | Verb::Sand))
}

/// The last step that takes film off.
pub(super) fn last_cut(steps: &[Step]) -> Option<usize> {
    steps.iter().rposition(is_abrasive)
}

/// The film of a study that reads it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Film {
    measure: MeasureId,
}

impl Film {
    /// The measure of film, where the study has it in um and the panel has a film to lose.
    pub(super) fn of(context: &Context<'_>) -> Option<Self> {
        if porous(context).is_some() {
            return None;
        }
        let mut measures = context.study.measures_with_ids();
        let film = measures.find(|(_, measure)| measure.name.value == FILM && measure.unit.symbol == "um");
        film.map(|(measure, _)| Self { measure })
    }

    /// The measure.
    pub(super) fn measure(self) -> MeasureId {
        self.measure
    }

    /// Whether a round reads film directly after a step that stands before another one.
    pub(super) fn round_before(self, context: &Context<'_>, before: usize) -> bool {
        self.rounds(context).any(|(_, at)| at.is_some_and(|at| at < before))
    }

    /// Whether a round before the products reads film after a step.
    pub(super) fn round_after(self, context: &Context<'_>, after: usize) -> bool {
        self.rounds(context).any(|(_, at)| at.is_none_or(|at| at >= after))
    }

    // Rounds that read film before the products: the step that each follows, `None` where all are done.
    fn rounds<'a>(self, context: &Context<'a>) -> impl Iterator<Item = (RoundId, Option<usize>)> + use<'a> {
        let study = context.study;
        study.rounds_with_ids().filter_map(move |(id, round)| {
            let read = round.reads.iter().any(|read| read.measure.value == self.measure);
            match round.placing {
                Placing::At(Anchor::Step(at)) if read => Some((id, Some(at))),
                Placing::At(Anchor::BeforeApply) if read => Some((id, None)),
                _ => None,
            }
        })
    }

    /// The mean film of each section at a round, um.
    pub(super) fn means_um(self, context: &Context<'_>, round: RoundId) -> Vec<(SectionId, f64)> {
        let sections = context.study.sections_with_ids();
        sections.filter_map(|(id, _)| Some((id, mean(context.readings, id, round, self.measure)?))).collect()
    }
}

fn mean(readings: &Readings, section: SectionId, round: RoundId, measure: MeasureId) -> Option<f64> {
    let values = readings.values(readings.cell(section, round, measure)?);
    let n = f64::from(u32::try_from(values.len()).ok()?);
    (n > 0.0).then(|| values.iter().sum::<f64>() / n)
}

/// A planned cut and what it usually takes off, um.
#[derive(Debug, Clone, Copy)]
pub(super) struct PlannedCut {
    /// Its place among the steps.
    pub(super) step: usize,
    least_um: f64,
    most_um: f64,
}

/// Film to begin with, cuts still to come, and film to leave.
#[derive(Debug, Clone)]
pub(super) struct Budget {
    from_um: f64,
    measured_at: Option<String>,
    /// The cuts that are still to come.
    pub(super) cuts: Vec<PlannedCut>,
    /// The least film to leave, um.
    pub(super) leave_um: f64,
    /// True where the study sets no limit and that of trade practice is taken.
    pub(super) leave_is_habit: bool,
    /// What trade practice takes off at most, um.
    pub(super) habit_um: f64,
    /// The sections concerned, in words.
    pub(super) concerned: String,
}

impl Budget {
    /// The budget of the cuts that were not yet made when the film was last read before one of them.
    pub(super) fn of(context: &Context<'_>) -> Option<Self> {
        let study = context.study;
        let stated_um = study.surface.film.as_ref().map(|film| film.low.mm() * 1000.0)?;
        let read = Film::of(context).and_then(|film| last_read(context, film));
        let after = read.as_ref().map(|read| read.after);
        let cuts = cuts(context, after);
        let habit_um = ground(context).and_then(|ground| ground.take_max_um);
        let leave = study.surface.leave.map(|leave| leave.mm() * 1000.0);
        let leave_um = leave.or_else(|| habit_um.map(|most| stated_um - most))?;
        let sections = study.sections.len();
        let (from_um, measured_at, concerned) = match read {
            Some(read) => (read.least_um, Some(read.round), format!("thinnest on {}", read.sections)),
            None => (stated_um, None, format!("on all of {}", count(sections, "section"))),
        };
        let (leave_is_habit, habit_um) = (leave.is_none(), habit_um.unwrap_or(0.0));
        (!cuts.is_empty()).then_some(Self {
            from_um,
            measured_at,
            cuts,
            leave_um,
            leave_is_habit,
            habit_um,
            concerned,
        })
    }

    /// Film left where each cut takes what it usually takes at most, um.
    pub(super) fn left_at_worst(&self) -> f64 {
        self.from_um - self.cuts.iter().map(|cut| cut.most_um).sum::<f64>()
    }

    /// Film left where each cut takes what it usually takes at least, um.
    pub(super) fn left_at_least_cut(&self) -> f64 {
        self.from_um - self.cuts.iter().map(|cut| cut.least_um).sum::<f64>()
    }

    /// Whether there is less film than is to be left before anything is cut.
    pub(super) fn is_overdrawn(&self) -> bool {
        self.measured_at.is_none() && self.from_um < self.leave_um - 1e-9
    }

    /// `2.2 to 6 um in 2 cuts`.
    pub(super) fn taken(&self) -> String {
        let sum = |of: fn(&PlannedCut) -> f64| self.cuts.iter().map(of).sum::<f64>();
        let (least, most) = (sum(|cut| cut.least_um), sum(|cut| cut.most_um));
        let least = decimal((least * 10.0).round() / 10.0);
        format!("{least} to {} in {}", um(most), count(self.cuts.len(), "cut"))
    }

    /// `94 um`, and at which round it was read.
    pub(super) fn begun_words(&self) -> String {
        match &self.measured_at {
            Some(round) => format!("{} at `{round}`", um(self.from_um)),
            None => um(self.from_um),
        }
    }
}

// Each time of a step is a cut of its own.
fn cuts(context: &Context<'_>, after: Option<usize>) -> Vec<PlannedCut> {
    let mut cuts = Vec::new();
    for (at, step) in prep(context).iter().enumerate().filter(|(at, _)| after.is_none_or(|after| *at > after))
    {
        let class = supply(context.study, step).and_then(class);
        let grit = step.grit.as_ref().map(|grit| grit.value);
        let Some(cut) = context.catalog.cut(step.verb.word(), class, grit) else { continue };
        for _ in 0..step.times.min(20) {
            cuts.push(PlannedCut { step: at, least_um: cut.least_um, most_um: cut.most_um });
        }
    }
    cuts
}

/// The thinnest film of the last round that was read between steps.
struct LastRead {
    round: String,
    after: usize,
    least_um: f64,
    sections: String,
}

fn last_read(context: &Context<'_>, film: Film) -> Option<LastRead> {
    let between = film.rounds(context).filter_map(|(id, at)| Some((id, at?)));
    let mut read: Vec<_> = between
        .map(|(id, at)| (id, at, film.means_um(context, id)))
        .filter(|(_, _, means)| !means.is_empty())
        .collect();
    read.sort_by_key(|(_, at, _)| *at);
    let (round, after, means) = read.pop()?;
    let least_um = means.iter().map(|(_, mean)| *mean).reduce(f64::min)?;
    let thinnest = means.iter().filter(|(_, mean)| *mean <= least_um + 1e-9);
    let codes: Vec<&str> = thinnest.map(|(id, _)| context.study.section(*id).code.as_str()).collect();
    Some(LastRead {
        round: context.study.round(round).name.value.clone(),
        after,
        least_um,
        sections: list(&codes, "and"),
    })
}
