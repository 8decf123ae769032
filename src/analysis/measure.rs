//! Everything about one measure: sections, treatments, and the tables of every round.

use super::alone::Alone;
use super::basis::{DEGREES_FOR_WORDS, basis};
use super::context::Context;
use super::frame::Frame;
use super::groups::{self, Pick};
use super::model::{
    AdjustedTable, Basis, ByPiece, ChanceTable, Compared, ControlTable, ExchangeLine, GroupValue, LeadTable,
    MeasureAnalysis, NoExchange, NoTable, NotAdjusted, PairTable, Productless, Question, Role, RoundAnalysis,
    RoundState, ScatterOf, SectionSeries, Strength,
};
use super::sample::Sample;
use super::{
    adjusted, against_control, bounds, by_piece, chances, ends, exchange, fineness, lead, over_time, pairs,
    pieces, ratings, runs, sections, spent, spent_together,
};
use crate::stats::solved::Solved;
use crate::study::{MeasureKind, Treatment, Unit};

/// The two tables of a round.
pub(super) type Tables = (Result<ControlTable, NoTable>, Result<LeadTable, NoTable>);

/// What stands beside the comparisons and decides nothing.
pub(super) type Beside =
    (Option<Result<AdjustedTable, NotAdjusted>>, Option<Result<ExchangeLine, NoExchange>>);

/// The analysis of a measure.
pub(super) fn analyse(
    context: &Context<'_>,
    frame: &Frame,
    question: Option<Question>,
    solved: &mut Solved,
) -> MeasureAnalysis {
    let series = sections::series(context, frame);
    let rounds = (0..frame.rounds.len())
        .map(|place| round(context, frame, &series, question, place, solved))
        .collect();
    let spent = spent::table(context, frame, &series);
    // A piece has no time of its own, and its sections are not independent of each other.
    let by_sections = !matches!(context.study.unit(frame.measure), Unit::Piece(_));
    let counted = spent.as_deref().filter(|_| by_sections);
    let mut analysed = MeasureAnalysis {
        measure: frame.measure,
        reference: frame.reference.map(|place| frame.rounds[place].0),
        compared: frame.compared(),
        groups: runs::series(context.study, frame, &series),
        rounds,
        over_time: over_time::over_time(context, frame, &series),
        spent_together: counted.map_or_else(Vec::new, spent_together::groups),
        spent_by_site: counted
            .map_or_else(Vec::new, |spent| spent_together::by_site(context.study, frame.measure, spent)),
        spent,
        within_cells: frame.within,
        fineness: None,
        rating: None,
        sections: series,
    };
    ratings::add(context, frame, &mut analysed);
    analysed.fineness = fineness::fineness(context, frame, &analysed.rounds, &analysed.groups);
    analysed
}

fn round(
    context: &Context<'_>,
    frame: &Frame,
    series: &[SectionSeries],
    question: Option<Question>,
    place: usize,
    solved: &mut Solved,
) -> RoundAnalysis {
    let (round, state) = frame.rounds[place];
    let treatments = groups::treatments(context.study, frame.measure);
    let of = |pick: Pick| groups::samples(&treatments, series, place, pick);
    let (levels, changes, retentions) = (of(groups::level), of(groups::change), of(groups::retention));
    let deciding = question.is_some_and(|question| {
        question.declared && (question.measure, question.round) == (frame.measure, round)
    });
    let role = match frame.compares(context.study, place) {
        false => Role::UpToReference,
        true if deciding => Role::Deciding,
        true => Role::FurtherLook,
    };
    let pick = groups::compared(frame.compared());
    let (level_alone, retention_alone) = (Alone::of(&levels, false), Alone::of(&retentions, false));
    let (to_bare, lead) = tables(context, frame, series, place, (frame.compared(), pick), solved);
    let further = role == Role::FurtherLook && shows_pairs(frame, question, place);
    RoundAnalysis {
        round,
        state,
        role,
        at_end: ends::crowded((context.study.measure(frame.measure), series, place, pick)),
        level_spread: level_alone.shared,
        retention_spread: retention_alone.shared,
        alone_over_sites: (level_alone.over_sites, retention_alone.over_sites),
        bare_level: bare(&levels, context.study.spreads_differ),
        bare_change: bare(&changes, context.study.spreads_differ),
        to_bare,
        lead,
        pairs: further.then(|| between(context, frame, series, place).ok()).flatten(),
    }
}

/// Whether a round of levels has pairs among the further looks: the report shows them at the last round read, unless that is the
/// round of the question, which has a table of pairs of its own. What is not shown is no look, and costs the others nothing.
fn shows_pairs(frame: &Frame, question: Option<Question>, place: usize) -> bool {
    let read = |at: usize| frame.rounds[at].1 == RoundState::Read;
    let last = (0..frame.rounds.len()).rev().find(|&at| read(at)) == Some(place);
    // A question whose round was not read is shown by the last one that was.
    let of_question = question.filter(|question| question.measure == frame.measure).is_some_and(|question| {
        let asked = frame.place(question.round);
        asked == Some(place) || !asked.is_some_and(read)
    });
    frame.compared() == Compared::Level && last && !of_question
}

fn bare(samples: &[Sample], differ: bool) -> Option<GroupValue> {
    let bare = samples.iter().find(|sample| sample.treatment == Treatment::Bare)?;
    Alone::of(samples, differ).value(bare)
}

/// The tables of the round at `place`, made of the numbers that `pick` takes, which are changes or levels.
pub(super) fn tables(
    context: &Context<'_>,
    frame: &Frame,
    series: &[SectionSeries],
    place: usize,
    (by, pick): (Compared, Pick),
    solved: &mut Solved,
) -> Tables {
    let samples = groups::samples(&groups::treatments(context.study, frame.measure), series, place, pick);
    if let Some(none) = no_table(context, frame, place, &samples) {
        return (Err(none), Err(none));
    }
    let measure = context.study.measure(frame.measure);
    let (products, among) = judged_among(context, &samples, series, place);
    let (samples, basis) = judged_by(context, samples, series, place);
    let basis = ends::judged(&basis, (measure, series, place, pick), |_| true);
    let mut to_bare = against_control::to_bare(&samples, &basis, (measure, by), solved);
    let among = ends::judged(&among, (measure, series, place, pick), is_product);
    let mut lead = lead::table(&products, &among, measure, solved);
    if basis.by_pairs()
        && let Ok(table) = &mut to_bare
    {
        pairs::with_pairs(table, (&samples, Treatment::Bare), measure);
    }
    if among.by_pairs()
        && let (Ok(table), Ok(pairs)) = (&mut lead, pairs::table(&products, &among, measure))
    {
        pairs::unbeaten(table, &pairs, measure);
    }
    if let Ok(table) = &mut lead {
        pairs::all_alike(table, &products, measure);
    }
    let at = (measure, series, place, pick);
    if let Ok(table) = &mut to_bare {
        bounds::of_control(table, at, Treatment::Bare);
    }
    if let Ok(table) = &mut lead {
        bounds::of_lead(table, at);
    }
    (to_bare, lead)
}

fn is_product(treatment: Treatment) -> bool {
    matches!(treatment, Treatment::Product(_))
}

/// The samples as they are compared, and the spread that a round is judged by. Where pieces carry the treatments unevenly, means are
/// those over all pieces alike.
fn judged_by(
    context: &Context<'_>,
    samples: Vec<Sample>,
    series: &[SectionSeries],
    place: usize,
) -> (Vec<Sample>, Basis) {
    let basis = basis_of(context, &samples, series, place);
    (over_all_pieces(samples, &basis), basis)
}

fn over_all_pieces(samples: Vec<Sample>, basis: &Basis) -> Vec<Sample> {
    match pieces::linked(&samples).filter(|_| basis.linked()) {
        Some(found) => pieces::levelled(samples, &found),
        None => samples,
    }
}

/// The same for products among themselves, which what bare does otherwise on one piece than on another does not concern.
fn judged_among(
    context: &Context<'_>,
    samples: &[Sample],
    series: &[SectionSeries],
    place: usize,
) -> (Vec<Sample>, Basis) {
    let basis = basis_of(context, samples, series, place);
    let (samples, basis) = among(samples, basis, level(series, place));
    (over_all_pieces(samples, &basis), basis)
}

fn among(samples: &[Sample], basis: Basis, level: f64) -> (Vec<Sample>, Basis) {
    let apart = by_piece::among_products(samples, DEGREES_FOR_WORDS)
        .filter(|_| basis.within_pieces() && !basis.over_sites);
    match apart {
        Some((apart, spread)) => (apart, basis.among_products(spread, level)),
        None => (samples.to_vec(), basis),
    }
}

/// The spread that a round is judged by. The choice follows the design and what the study says of it, never the data.
fn basis_of(context: &Context<'_>, samples: &[Sample], series: &[SectionSeries], place: usize) -> Basis {
    let level = level(series, place);
    let basis = basis(samples, level);
    let own = context.study.spreads_differ && !basis.within_pieces() && pairs::may_have_own_spreads(samples);
    match basis.strength {
        Strength::Full if own => {
            let flat = samples.iter().filter(|sample| groups::is_without_scatter(sample, level));
            Basis { own_spreads: true, flat: flat.map(|sample| sample.treatment).collect(), ..basis }
        }
        _ => basis,
    }
}

/// The differences between products at the round at `place`.
pub(super) fn between(
    context: &Context<'_>,
    frame: &Frame,
    series: &[SectionSeries],
    place: usize,
) -> Result<PairTable, NoTable> {
    let treatments = groups::treatments(context.study, frame.measure);
    let pick = groups::compared(frame.compared());
    let samples = groups::samples(&treatments, series, place, pick);
    if let Some(none) = no_table(context, frame, place, &samples) {
        return Err(none);
    }
    let measure = context.study.measure(frame.measure);
    let (samples, basis) = judged_among(context, &samples, series, place);
    let at = (measure, series, place, pick);
    let mut pairs = pairs::table(&samples, &ends::judged(&basis, at, is_product), measure);
    if let Ok(table) = &mut pairs {
        bounds::of_pairs(table, at);
    }
    pairs
}

/// How often each product comes first at the round at `place`; `None` where nothing is said there on who may lead.
pub(super) fn chances(
    context: &Context<'_>,
    frame: &Frame,
    analysed: &MeasureAnalysis,
    place: usize,
    solved: &mut Solved,
) -> Option<Result<ChanceTable, Strength>> {
    let lead = analysed.rounds.get(place)?.lead.as_ref().ok()?;
    let treatments = groups::treatments(context.study, frame.measure);
    let pick = groups::compared(frame.compared());
    let samples = groups::samples(&treatments, &analysed.sections, place, pick);
    let measure = context.study.measure(frame.measure);
    // Where pieces link the products, their means come with those of everything else piece by piece.
    let apart = by_piece::among_products(&samples, DEGREES_FOR_WORDS);
    let apart = apart.filter(|_| lead.basis.scatter_of == ScatterOf::Products && lead.basis.linked());
    let samples = apart.map_or(samples, |(apart, _)| apart);
    Some(chances::table(lead, &samples, measure, solved))
}

/// What stands beside the comparisons at the round at `place`: the adjusted table where the study asks for it, and the
/// test by exchange where there is a comparison.
pub(super) fn beside(
    context: &Context<'_>,
    frame: &Frame,
    analysed: &MeasureAnalysis,
    place: usize,
) -> Beside {
    let (study, series) = (context.study, analysed.sections.as_slice());
    let Some(round) = analysed.rounds.get(place) else { return (None, None) };
    let basis = match (&round.to_bare, &round.lead) {
        (Ok(table), _) => &table.basis,
        (Err(_), Ok(table)) => &table.basis,
        (Err(_), Err(_)) => return (None, None),
    };
    let asked = study.measure(frame.measure).adjust_for_baseline;
    let adjusted = asked.then(|| adjusted::table(study, frame, series, place));
    (adjusted, Some(exchange::line(study, (series, place), groups::compared(frame.compared()), basis)))
}

/// The table against the benchmark at the round at `place`; `None` where the study names no benchmark.
///
/// Its rows are the pairs that the benchmark is one of, so that two products never have two words.
pub(super) fn to_benchmark(
    context: &Context<'_>,
    frame: &Frame,
    series: &[SectionSeries],
    place: usize,
) -> Option<Result<ControlTable, NoTable>> {
    let benchmark = context.study.benchmark?;
    let treatments = groups::treatments(context.study, frame.measure);
    let pick = groups::compared(frame.compared());
    let samples = groups::samples(&treatments, series, place, pick);
    if let Some(none) = no_table(context, frame, place, &samples) {
        return Some(Err(none));
    }
    let measure = context.study.measure(frame.measure);
    let (samples, basis) = judged_among(context, &samples, series, place);
    let at = (measure, series, place, pick);
    let basis = ends::judged(&basis, at, is_product);
    let mut pairs = pairs::table(&samples, &basis, measure);
    if let Ok(table) = &mut pairs {
        bounds::of_pairs(table, at);
    }
    Some(pairs::to_benchmark(&samples, benchmark, &basis, pairs))
}

/// Treatments by piece or site at the round at `place`, where it is compared within pieces.
pub(super) fn by_piece(
    context: &Context<'_>,
    frame: &Frame,
    series: &[SectionSeries],
    place: usize,
    solved: &mut Solved,
) -> Option<ByPiece> {
    let pick = groups::compared(frame.compared());
    let samples = groups::samples(&groups::treatments(context.study, frame.measure), series, place, pick);
    if no_table(context, frame, place, &samples).is_some() {
        return None;
    }
    let within = basis_of(context, &samples, series, place).within_pieces();
    within.then(|| by_piece::by_piece(&samples, level(series, place), solved)).flatten()
}

/// Levels against bare at the round at `place`; `None` where they are compared anyway, or nothing is.
pub(super) fn levels_to_bare(
    context: &Context<'_>,
    frame: &Frame,
    series: &[SectionSeries],
    place: usize,
    solved: &mut Solved,
) -> Option<ControlTable> {
    let changes = frame.compared() == Compared::Change;
    let levels = (Compared::Level, groups::level as Pick);
    changes.then(|| tables(context, frame, series, place, levels, solved).0.ok()).flatten()
}

/// The products against the carrier alone and against untouched sections at the round at `place`, by the procedure that is used
/// against bare.
pub(super) fn to_productless(
    context: &Context<'_>,
    frame: &Frame,
    series: &[SectionSeries],
    place: usize,
    solved: &mut Solved,
) -> Vec<Productless> {
    let pick = groups::compared(frame.compared());
    let samples = groups::samples(&groups::treatments(context.study, frame.measure), series, place, pick);
    if no_table(context, frame, place, &samples).is_some() {
        return Vec::new();
    }
    let measure = context.study.measure(frame.measure);
    let (samples, basis) = judged_by(context, samples, series, place);
    let at = (measure, series, place, pick);
    let basis = ends::judged(&basis, at, |_| true);
    let of = |treatment: Treatment| {
        let mut table = against_control::to_productless((&samples, treatment), &basis, measure, solved)?;
        if basis.by_pairs() {
            pairs::with_pairs(&mut table, (&samples, treatment), measure);
        }
        bounds::of_control(&mut table, at, treatment);
        Some(Productless { treatment, table })
    };
    [Treatment::CarrierOnly, Treatment::Untouched].into_iter().filter_map(of).collect()
}

fn no_table(context: &Context<'_>, frame: &Frame, place: usize, samples: &[Sample]) -> Option<NoTable> {
    match frame.rounds[place].1 {
        _ if !frame.compares(context.study, place) => Some(NoTable::UpToReference),
        RoundState::ToCome => Some(NoTable::ToCome),
        RoundState::Missed => Some(NoTable::RoundMissed),
        RoundState::Read if samples.iter().all(|sample| sample.values.is_empty()) => Some(NoTable::NoChange),
        RoundState::Read => match context.study.measure(frame.measure).kind {
            MeasureKind::Part(_) => Some(NoTable::Part),
            MeasureKind::Rating(_) => Some(NoTable::Rating),
            MeasureKind::Read | MeasureKind::Made(_) => None,
        },
    }
}

/// The largest section mean at a round, without its sign.
fn level(series: &[SectionSeries], place: usize) -> f64 {
    let levels = series.iter().filter_map(|section| section.at[place].numbers.level.ok());
    levels.map(|level| level.mean.abs()).fold(0.0, f64::max)
}
