//! Numbers from a study and its readings; the one place where numbers are made.
//!
//! Every section is reduced to one number for each question, and products are compared by those
//! numbers with the section as the unit: readings on one section are not independent of each other.

mod adjusted;
mod against_blank;
mod against_control;
mod alone;
mod answer;
mod basis;
mod bounds;
mod by_model;
mod by_piece;
mod chances;
mod climate;
mod context;
mod cost;
mod ends;
mod exchange;
mod far_off;
mod fineness;
mod frame;
mod further;
mod groups;
mod lead;
mod level;
mod measure;
mod model;
mod on_coat;
mod over_sites;
mod over_time;
mod pairs;
mod panel;
mod pieces;
mod ratings;
mod runs;
mod sample;
mod sections;
mod spent;
mod spent_tally;
mod spent_together;
mod turned;
mod within;
mod word;

pub use model::{
    AdjustedRow, AdjustedTable, Against, Agreeing, Agreement, AllRanks, Analysis, Answer, AtEnd, Basis,
    Beside, BiasAt, Biases, ByPiece, CameBack, ChanceRow, ChanceTable, ChangeScatter, ClimateStretch,
    ClimateSum, Compared, ControlRow, ControlTable, CostWithGauge, DecayOver, DrawnFrom, Drift, End,
    ExchangeLine, Fall, Farther, Fineness, GaugeStudy, Gone, GroupAt, GroupOverTime, GroupSeries, GroupSpent,
    GroupValue, Half, Interaction, Interval, Known, LeadRow, LeadTable, Least, LessBare, Likeness,
    MeasureAnalysis, Missing, ModelRate, Moment, MonthlyCost, MovedByPlace, NoCost, NoExchange, NoGaugeStudy,
    NoTable, NoTrend, NotAdjusted, OddSpread, OnPiece, OverTime, Pace, PairRow, PairTable, PanelAnalysis,
    PanelMeasure, PanelTrend, People, Piece, PieceBare, PieceOrder, PiecePair, PlaceAt, PlaceLevel,
    ProductCost, Productless, Question, RatingRow, RatingTable, Removed, Restored, Rise, Role, RoundAnalysis,
    RoundState, ScatterFrom, ScatterOf, SectionAt, SectionCost, SectionMean, SectionNumbers, SectionOverTime,
    SectionSeries, SectionSpent, Side, SiteClimate, Spent, Split, Standing, Strength, StretchEnd, TileAt,
    TooEven, Trend, Turned, TurnedRow, Twice, Uncertain, Uncertainty, Unsaid, Way, WetBy, WithGauge,
    WithinPieces, WithinRounds, WithoutFarOff, WithoutPlace, Word,
};

pub use crate::stats::Spread;
pub use crate::stats::false_words::FalseWords;
pub use crate::stats::fit::decay::NoDecay;
pub use spent_tally::SpentTally;
pub use within::within_rounds;

use crate::readings::{self, Readings};
use crate::stats::solved::Solved;
use crate::study::{MeasureId, Study, Treatment};
use context::Context;
use frame::Frame;
use jiff::civil::Date;
use std::panic::resume_unwind;
use std::thread;

/// Computes every number of a study from its readings, as of a day.
///
/// The day decides only which rounds without readings are missed and which are to come; without one none is overdue.
pub fn analyse(study: &Study, readings: &Readings, as_of: Option<Date>) -> Analysis {
    let context = Context::new(study, readings, as_of);
    let frames: Vec<Frame> = study
        .measures_with_ids()
        .map(|(id, _)| level::with_blanks(&context, Frame::new(&context, id)))
        .collect();
    let question = answer::question(study, &frames);
    let (mut measures, mut solved) = each_measure(&context, &frames, question);
    let shown = shown(question, &measures);
    let at = shown.map(|shown| (&frames[shown.measure], &measures[shown.measure].sections, shown.place));
    let mut to_benchmark =
        at.and_then(|(frame, series, place)| measure::to_benchmark(&context, frame, series, place));
    let by_piece =
        at.and_then(|(frame, series, place)| measure::by_piece(&context, frame, series, place, &mut solved));
    let by_level = at.and_then(|(frame, series, place)| {
        measure::levels_to_bare(&context, frame, series, place, &mut solved)
    });
    let mut to_productless = at.map_or_else(Vec::new, |(frame, series, place)| {
        measure::to_productless(&context, frame, series, place, &mut solved)
    });
    let Further { between, chances, adjusted, exchange } = shown
        .map_or_else(Further::default, |shown| further(&context, &frames, &measures, shown, &mut solved));
    let turned =
        shown.filter(|shown| shown.role == Role::Deciding || question.is_some_and(|one| !one.declared));
    let turned = turned.and_then(|at| {
        turned::turned(&context, &frames[at.measure], &measures[at.measure], (at.place, between.as_ref()))
    });
    let benchmark = to_benchmark.iter_mut().filter_map(|table| table.as_mut().ok());
    let benchmark = benchmark.zip(study.benchmark.map(Treatment::Product));
    let productless = to_productless.iter_mut().map(|one| (&mut one.table, one.treatment));
    let beside = benchmark.chain(productless).collect();
    let further_looks = adjust(study, &mut measures, shown, beside, &mut solved);
    let months_by = months_by(study, question, &measures);
    let outliers = readings::outliers(study, readings);
    let at_round = shown.map(|shown| (shown.measure, shown.place));
    let panel = panel::panel(&context, &frames, &measures, at_round, &mut solved);
    panel::fold(&context, &frames, &mut measures, &panel.biases);
    Analysis {
        as_of,
        applied: frame::applied(study),
        question,
        answer: answer::answer(&context, question, &measures, to_benchmark.as_ref()),
        to_benchmark,
        to_productless,
        by_piece,
        by_level,
        between,
        turned,
        chances,
        adjusted,
        exchange,
        costs: cost::costs(study, months_by.and_then(|id| measures.get(id.index()))),
        months_by,
        with_left_out: restored(&context, &frames, question, &measures, &mut solved),
        without_far_off: question.and_then(|question| {
            let frame = frames.get(question.measure.index())?;
            far_off::without((study, readings, as_of), frame, question, &outliers, &mut solved)
        }),
        outliers,
        further_looks,
        climate: climate::climates(study, readings),
        panel,
        measures,
    }
}

/// Every measure on a thread of its own: none asks another, so the order in which they end decides nothing.
fn each_measure(
    context: &Context<'_>,
    frames: &[Frame],
    question: Option<Question>,
) -> (Vec<MeasureAnalysis>, Solved) {
    let one = |frame| {
        let mut solved = Solved::default();
        (measure::analyse(context, frame, question, &mut solved), solved)
    };
    let done: Vec<(MeasureAnalysis, Solved)> = thread::scope(|scope| {
        let others: Vec<_> = frames.iter().skip(1).map(|frame| scope.spawn(move || one(frame))).collect();
        let first = frames.first().map(one);
        let others =
            others.into_iter().map(|other| other.join().unwrap_or_else(|panic| resume_unwind(panic)));
        first.into_iter().chain(others).collect()
    });
    let mut solved = Solved::default();
    let measures = done.into_iter().map(|(measure, met)| {
        solved.add(met);
        measure
    });
    (measures.collect(), solved)
}

/// What is told of the round shown in full beside its comparisons with bare and the set that may lead.
#[derive(Default)]
struct Further {
    between: Option<Result<PairTable, NoTable>>,
    chances: Option<Result<ChanceTable, Strength>>,
    adjusted: Option<Result<AdjustedTable, NotAdjusted>>,
    exchange: Option<Result<ExchangeLine, NoExchange>>,
}

/// The three that take longest, each on a thread of its own: none asks another.
fn further(
    context: &Context<'_>,
    frames: &[Frame],
    measures: &[MeasureAnalysis],
    shown: Shown,
    solved: &mut Solved,
) -> Further {
    let (frame, measure, place) = (&frames[shown.measure], &measures[shown.measure], shown.place);
    let (between, (adjusted, exchange), chances) = thread::scope(|scope| {
        let between = scope.spawn(move || measure::between(context, frame, &measure.sections, place));
        let beside = scope.spawn(move || measure::beside(context, frame, measure, place));
        let chances = measure::chances(context, frame, measure, place, solved);
        let between = between.join().unwrap_or_else(|panic| resume_unwind(panic));
        (between, beside.join().unwrap_or_else(|panic| resume_unwind(panic)), chances)
    });
    Further { between: Some(between), chances, adjusted, exchange }
}

/// Where the round lies whose comparisons are shown in full.
#[derive(Clone, Copy)]
struct Shown {
    measure: usize,
    place: usize,
    role: Role,
}

fn shown(question: Option<Question>, measures: &[MeasureAnalysis]) -> Option<Shown> {
    let (measure, round) = question?.shown(measures)?;
    let place = measure.rounds.iter().position(|other| other.round == round.round)?;
    Some(Shown { measure: measure.measure.index(), place, role: round.role })
}

/// Adjusts the p values of all further looks, and the words of the tables that are shown where they are such a look.
fn adjust(
    study: &Study,
    measures: &mut [MeasureAnalysis],
    shown: Option<Shown>,
    mut beside: Vec<(&mut ControlTable, Treatment)>,
    solved: &mut Solved,
) -> usize {
    let Some(shown) = shown.filter(|shown| shown.role == Role::FurtherLook) else {
        return further::adjust(measures, &mut []);
    };
    let looks = further::adjust(measures, &mut beside);
    let analysed = &mut measures[shown.measure];
    let treatments = groups::treatments(study, analysed.measure);
    let pick = groups::compared(analysed.compared);
    let samples = groups::samples(&treatments, &analysed.sections, shown.place, pick);
    let measure = study.measure(analysed.measure);
    let bare = analysed.rounds[shown.place].to_bare.as_mut().ok();
    let bare = bare.into_iter().map(|table| (table, Treatment::Bare));
    for (table, control) in bare.chain(beside) {
        further::count_looks(table, (&samples, control), (measure, looks), solved);
    }
    looks
}

/// The measure whose time to spent counts as months held: one that is read where the products of the price lie.
fn months_by(study: &Study, question: Option<Question>, measures: &[MeasureAnalysis]) -> Option<MeasureId> {
    let asked = question.and_then(|question| measures.get(question.measure.index()));
    let on_panel = |id: MeasureId| study.measure(id).home.is_none();
    let limited = |measure: &&MeasureAnalysis| measure.spent.is_some() && on_panel(measure.measure);
    asked.filter(limited).or(measures.iter().find(limited)).map(|measure| measure.measure)
}

/// The tables of the headline with all left-out readings put back, so that nobody need trust the leaving out.
fn restored(
    context: &Context<'_>,
    frames: &[Frame],
    question: Option<Question>,
    measures: &[MeasureAnalysis],
    solved: &mut Solved,
) -> Option<Restored> {
    let left_out = context.left_out();
    let question = question.filter(|_| left_out > 0)?;
    let frame = frames.get(question.measure.index())?;
    let place = frame.place(question.round)?;
    let series = &measures.get(question.measure.index())?.sections;
    let by = frame.compared();
    let (to_bare, lead) =
        measure::tables(context, frame, series, place, (by, groups::with_left_out(by)), solved);
    Some(Restored { left_out, to_bare, lead })
}
