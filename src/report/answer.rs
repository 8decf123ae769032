//! The answer in plain words: a headline and sentences, built for each case that an analysis can come to.

use super::asked::Place;
use super::blocks::Topic;
use super::claim::Claim;
use super::footing::{below_gauge, ended, lacking, put_back, rests_on, stopped};
use super::leaders::Stands;
use super::material::Material;
use super::numbers::{self, day};
use super::told::{self, Control};
use super::unjudged::not_judged;
use super::{
    as_recorded, by_piece, cautions, comparison, departures, elsewhere, far_off, lasted, leaders, names,
    panel, productless, rated, without,
};
use crate::analysis::{
    Against, Answer, Basis, Compared, ControlTable, GroupValue, LeadTable, RoundAnalysis, Standing,
};
use crate::speech::{count, list, plural, say};
use crate::study::{ProductId, RoundId, Treatment, Unit};
use serde::Serialize;

/// The answer.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct AnswerView {
    /// What was found, as a heading.
    pub headline: String,
    /// The answer, a paragraph each: who may lead, how the products stand against bare, and against the one to beat.
    pub paragraphs: Vec<Claim>,
    /// What it rests on.
    pub footing: Vec<Claim>,
}

/// Makes the answer.
pub fn answer(material: &Material<'_>) -> AnswerView {
    let analysis = material.analysis;
    let at = Place::of(material.study, analysis);
    match (&analysis.answer, at) {
        (Answer::NoProducts, _) => {
            plain(say!("No product is on the panel yet"), say!("The study has no product on any section."))
        }
        (Answer::NoQuestion, _) | (_, None) => plain(
            say!("Nothing to compare yet"),
            say!(
                "No measure is read at a round after its reference or on the coat, so that nothing can be compared."
            ),
        ),
        (Answer::NoChange, Some(at)) => no_change(material, at),
        (Answer::Rated, Some(at)) => rating(material, at),
        (Answer::Unfinished { latest }, Some(at)) => unfinished(material, at, *latest),
        (Answer::Missed { latest }, Some(at)) => missed(material, at, *latest),
        (Answer::Read { standing, against_bare, against_benchmark }, Some(at)) => {
            read(material, at, standing, (against_bare, against_benchmark.as_ref()))
        }
    }
}

/// A round that was read and gives no number to compare: why, and what can be said of it all the same.
fn no_change(material: &Material<'_>, at: Place<'_>) -> AnswerView {
    let (round, why) = (names::capital(&at.round()), without::reasons(material, at, |_| true));
    let (headline, sentence) = match at.compared {
        Compared::Level => (
            say!("Nothing can be compared at {round}", round = at.round()),
            say!("{round} was read, but no section has a number there: {why}.", round, why),
        ),
        Compared::Change => (
            say!("No change can be made from {round}", round = at.round()),
            say!("{round} was read, but no section has a change there: {why}.", round, why),
        ),
    };
    let mut view = plain(&headline, &sentence);
    view.paragraphs.extend(without::levels(material, at).map(|text| Claim::new(text, Topic::Change)));
    view
}

fn plain(headline: &str, sentence: &str) -> AnswerView {
    let paragraphs = vec![Claim::new(sentence, Topic::Change)];
    AnswerView { headline: headline.to_owned(), paragraphs, footing: Vec::new() }
}

/// The answer of a measure whose marks are ranked: told apart from bare or not, and nobody leads.
fn rating(material: &Material<'_>, at: Place<'_>) -> AnswerView {
    let about = Topic::Rating(at.question.measure);
    let mut footing = footed(material, at, Some(at.question.round));
    let round = material.analysis.deciding().map(|(_, round)| round);
    footing.extend(claims([(round.and_then(|round| stopped(at, material.analysis, round)), about)]));
    let of_measure = material.analysis.measure(at.question.measure);
    let table = of_measure.and_then(|measure| measure.rating.as_ref());
    let Some(table) = table.filter(|table| table.round == at.question.round) else {
        return plain(say!("Nothing to compare yet"), say!("No section has a mark at this round."));
    };
    let told = rated::told_with_sides(at.study, table);
    let told = if told.is_empty() { String::new() } else { say!("Told apart from bare: {told}. ", told) };
    let sentence = say!(
        "{told}{measure} is a rating: its marks are compared by rank, and no mean is made of them. Products are held against bare, and none is said to lead. \"Not told apart\" does not say that marks are alike.",
        told,
        measure = names::capital(at.measure())
    );
    let (lasted, beside) = split(lasted::times(material, at.question.measure, &[]));
    footing.extend(claims([(beside, Topic::Spent(at.question.measure))]));
    AnswerView {
        headline: rated::headline(at.study, table, at.measure()),
        paragraphs: std::iter::once(sentence)
            .chain(rated::to_beat(at.study, table))
            .chain(rated::unable(table))
            .map(|text| Claim::new(text, about))
            .chain(cautions::goes_with(material, at, None))
            .chain(lasted.map(|text| Claim::new(text, Topic::Spent(at.question.measure))))
            .collect(),
        footing,
    }
}

fn unfinished(material: &Material<'_>, at: Place<'_>, latest: Option<RoundId>) -> AnswerView {
    let planned = at.study.round(at.question.round).date();
    let when = planned.map_or_else(String::new, |date| say!(", planned for {date}", date = day(date)));
    let nothing = material.readings.last_date().is_none();
    let mut sentences = vec![match (nothing, at.question.declared) {
        (true, _) => {
            say!("Nothing has been read yet. The answer waits for {round}{when}.", when, round = at.round())
        }
        (false, true) => {
            say!("The round that decides, {round}{when}, is still to come.", when, round = at.round())
        }
        (false, false) => say!("The answer waits for {round}{when}.", when, round = at.round()),
    }];
    sentences.extend(so_far(material, at, latest).filter(|_| !nothing));
    AnswerView {
        headline: if nothing {
            say!("No readings yet: {round} is still to come", round = at.round())
        } else {
            say!("Not finished: {round} is still to come", round = at.round())
        },
        paragraphs: vec![Claim::new(sentences.join(" "), Topic::Lead)],
        footing: footed(material, at, latest),
    }
}

fn missed(material: &Material<'_>, at: Place<'_>, latest: Option<RoundId>) -> AnswerView {
    let mut sentences = vec![say!(
        "{which}, {round}, was not read, so that the question stays open.",
        which = at.which(),
        round = at.round()
    )];
    sentences.extend(so_far(material, at, latest));
    AnswerView {
        headline: say!("No answer: {round}, the deciding round, was missed", round = at.round()),
        paragraphs: vec![Claim::new(sentences.join(" "), Topic::Lead)],
        footing: footed(material, at, latest),
    }
}

/// What decides, and what was ended before the last round that was read.
fn footed(material: &Material<'_>, at: Place<'_>, round: Option<RoundId>) -> Vec<Claim> {
    claims([
        (Some(at.decided(material.analysis)), Topic::Method),
        (ended_before(material, at, round), Topic::Change),
    ])
}

fn ended_before(material: &Material<'_>, at: Place<'_>, round: Option<RoundId>) -> Option<String> {
    ended(at.study, material.analysis.measure(at.question.measure)?, round?)
}

/// Products without a number at the round stand in no comparison, and the reader is told so at once, with the reason.
fn absent(material: &Material<'_>, at: Place<'_>, round: &RoundAnalysis) -> Option<String> {
    let absent = &round.lead.as_ref().ok()?.absent;
    if absent.is_empty() {
        return None;
    }
    let (products, round) = (without::of_these(material, at, absent), at.round());
    Some(if absent.len() == 1 {
        say!("In no comparison at {round} is {products}.", products, round)
    } else {
        say!("In no comparison at {round} are {products}.", products, round)
    })
}

fn so_far(material: &Material<'_>, at: Place<'_>, latest: Option<RoundId>) -> Option<String> {
    let Some(latest) = latest else {
        return Some(say!(
            "No round after the reference has readings of {measure} yet.",
            measure = at.measure()
        ));
    };
    let round = names::round(at.study, latest);
    let analysed = material.analysis.measure(at.question.measure)?.round(latest)?;
    let table = analysed.lead.as_ref().ok();
    let lead = table.and_then(|table| table.may_lead.as_ref().ok().map(|ids| (ids, table.rows.len())));
    let absent = table.is_some_and(|table| !table.absent.is_empty());
    let tied = lead.map(|(ids, _)| cautions::tied_to(material, at, analysed, ids).sentences);
    let standing = match lead {
        Some((ids, all)) if ids.len() == all => {
            say!("{of_products} may lead", of_products = names::of_compared(all, all, absent))
        }
        Some((ids, _)) => say!("{ids} may lead", ids = list(&names::products(at.study, ids), "and")),
        None => say!("no order can be given").to_owned(),
    };
    let so_far = say!(
        "By {measure} at {round}, the last round read, {standing}; this is no answer yet.",
        round,
        standing,
        measure = at.measure()
    );
    Some(std::iter::once(so_far).chain(tied.into_iter().flatten()).collect::<Vec<_>>().join(" "))
}

fn read(
    material: &Material<'_>,
    at: Place<'_>,
    standing: &Standing,
    (bare, benchmark): (&Against, Option<&Against>),
) -> AnswerView {
    let measure = at.question.measure;
    let (bare_standing, stands) = (bare, stands(material, at, standing, bare));
    let deciding = material.analysis.deciding().map(|(_, round)| round);
    // One reason is said once, and the headline has said it already.
    let unjudged = |against: &Against| match (standing, against) {
        (Standing::NotJudged(one), Against::NotJudged(other)) => one == other,
        (Standing::OneProduct, Against::NotJudged(_)) => names::sole_product(material.study).is_some(),
        _ => false,
    };
    let to_bare = deciding.and_then(|round| round.to_bare.as_ref().ok());
    let asked = (at.study, at.question.measure);
    let bare = Some(bare).filter(|bare| !unjudged(bare));
    let bare = bare.map(|bare| told::sentence(asked, Control::Bare, to_bare, bare, None));
    let bare = bare.map(|bare| match by_piece::against_bare(material, at) {
        Some(by_piece) if !bare.is_empty() => format!("{bare} {by_piece}"),
        _ => bare,
    });
    let beaten_table = material.analysis.to_benchmark.as_ref().and_then(|table| table.as_ref().ok());
    let to_beat = benchmark.filter(|against| !unjudged(against));
    let to_beat = to_beat.zip(at.study.benchmark);
    let to_beat = to_beat.map(|(against, id)| {
        told::sentence(asked, Control::Benchmark(id), beaten_table, against, bare.as_deref())
    });
    let differences = |control, table: Option<&ControlTable>| {
        table.and_then(|table| told::differences((at.study, at.question.measure), at.finest, control, table))
    };
    let beaten = at.study.benchmark.and_then(|id| differences(Control::Benchmark(id), beaten_table));
    let lead = deciding.and_then(|round| round.lead.as_ref().ok());
    let leaders = &*match standing {
        Standing::OneLeader(id) => vec![*id],
        Standing::SeveralMayLead(ids) => leaders::in_order(lead, ids),
        _ => Vec::new(),
    };
    let tied = deciding.map(|round| cautions::tied(material, at, round, (leaders, stands.of_shared)));
    let (headline, first) = first(material, at, stands, (bare_standing, leaders, tied.as_ref()));
    let absent = deciding.and_then(|round| absent(material, at, round));
    let far_off = far_off::without(material, at);
    let without = |turns: bool| far_off.clone().filter(|one| one.1 == turns).map(|one| one.0);
    let (lasted, beside) = split(lasted::times(material, measure, &with_stopped(deciding, leaders)));
    let mut paragraphs = first;
    paragraphs.extend(claims([(without(true), Topic::Findings), (bare, Topic::Bare)]));
    paragraphs.extend(cautions::at_fewer_sites(material, at));
    paragraphs.extend(cautions::goes_with(material, at, tied.as_ref()));
    paragraphs.extend(cautions::worse_elsewhere(material, leaders));
    paragraphs.extend(comparison::turned(material));
    paragraphs.extend(by_piece::claim(material, at));
    paragraphs.extend(productless::claims(material, at, bare_standing));
    paragraphs.extend(claims([
        (comparison::by_level(material), Topic::Readings(measure, at.question.round)),
        (
            comparison::other_order(material).or_else(|| comparison::as_much_as_bare(material)),
            Topic::Held(measure),
        ),
        (lasted, Topic::Spent(measure)),
        (to_beat, Topic::Benchmark),
        (absent, Topic::Change),
        (elsewhere::not_read_on(at), Topic::Method),
    ]));
    let restored = material.analysis.with_left_out.as_ref();
    let compared = if to_bare.is_some() { Topic::Bare } else { Topic::Lead };
    let footing = [
        (Some(at.decided(material.analysis)), Topic::Method),
        (deciding.and_then(|round| rests_on(material, at, round)), compared),
        (stands_by_itself(to_bare, deciding, leaders).then(|| by_itself(material, at, leaders)), Topic::Lead),
        (differences(Control::Bare, to_bare), Topic::Bare),
        (to_bare.and_then(|table| one_bare(at, table)), Topic::Bare),
        (beaten, Topic::Benchmark),
        (beside, Topic::Spent(measure)),
        (elsewhere::why_not(at), Topic::Method),
        (ended_before(material, at, Some(at.question.round)), Topic::Change),
        (deciding.and_then(|round| stopped(at, material.analysis, round)), Topic::Cycle),
        (deciding.map(|round| lacking(at, material, round)), Topic::Change),
        (deciding.and_then(|round| below_gauge(at, material.analysis, round)), Topic::Change),
        (without(false), Topic::Findings),
        (restored.map(|restored| put_back(at, material.analysis, restored)), Topic::LeftOut),
        (as_recorded::beside_answer(material), Topic::Applied),
    ];
    let mut footing = claims(footing);
    footing.extend(panel::moved_by_place(material));
    footing.extend(departures::all(material, measure, leaders));
    AnswerView { headline, paragraphs, footing }
}

/// What the answer tells of times, and what it rests on.
fn split(times: Option<lasted::Lasted>) -> (Option<String>, Option<String>) {
    times.map_or((None, None), |times| (Some(times.sentence), times.footing))
}

/// A single bare section is in every difference to bare.
fn one_bare(at: Place<'_>, table: &ControlTable) -> Option<String> {
    let unit = plural(1, names::unit(at.study, at.question.measure));
    (table.control.n == 1).then(|| {
        say!("All these differences rest on one bare {unit}, whose own lot is in each of them.", unit)
    })
}

/// The headline, and the paragraphs that say the same at length: of the round that the headline is of, and then of the other.
fn first(
    material: &Material<'_>,
    at: Place<'_>,
    Stands { mut headline, mut lead, shared, of_shared }: Stands,
    (bare, leaders, tied): (&Against, &[ProductId], Option<&cautions::TiedWords>),
) -> (String, Vec<Claim>) {
    let sites = cautions::sites_asked(material);
    if !of_shared {
        headline = leaders::with_bare(material, headline, leaders);
    }
    headline = passed_on(headline, at, (bare, leaders), sites.as_ref());
    headline = tied.iter().fold(headline, |headline, tied| tied.headline(headline));
    lead.extend(sites.map(|sites| sites.sentence(&at.round())));
    let mut shared: Vec<String> = shared.into_iter().collect();
    let own = if of_shared { &mut shared } else { &mut lead };
    let behind = own.len().min(1);
    own.splice(behind..behind, tied.iter().flat_map(|tied| tied.sentences.iter().cloned()));
    let (shared, lead) = ((Some(shared.join(" ")), Topic::Shared), (Some(lead.join(" ")), Topic::Lead));
    (headline, claims(if of_shared { [shared, lead] } else { [lead, shared] }))
}

/// The headline as it is passed on by itself: leading among what harms is no success, and what one site says is no word on another.
fn passed_on(
    headline: String,
    at: Place<'_>,
    (bare, leaders): (&Against, &[ProductId]),
    sites: Option<&cautions::Sites<'_>>,
) -> String {
    let headline = match bare {
        Against::Told { better, worse, .. }
            if better.is_empty() && !leaders.is_empty() && leaders.iter().all(|id| worse.contains(id)) =>
        {
            say!("No product did better than bare at {round}", round = at.round())
        }
        _ => headline,
    };
    sites.map_or_else(|| headline.clone(), |sites| sites.headline(&headline))
}

/// Those that may lead, and those of which patches were stopped: nobody that was left out for that is left out unsaid.
fn with_stopped(round: Option<&RoundAnalysis>, leaders: &[ProductId]) -> Vec<ProductId> {
    let bound =
        round.and_then(|round| round.lead.as_ref().ok()).map_or(&[][..], |table| table.bound.as_slice());
    let bound = if leaders.is_empty() { &[] } else { bound };
    leaders.iter().chain(bound).copied().collect()
}

fn claims<const N: usize>(texts: [(Option<String>, Topic); N]) -> Vec<Claim> {
    let told =
        texts.into_iter().filter_map(|(text, topic)| Some((text.filter(|text| !text.is_empty())?, topic)));
    told.map(|(text, topic)| Claim::new(text, topic)).collect()
}

fn stands(material: &Material<'_>, at: Place<'_>, standing: &Standing, bare: &Against) -> Stands {
    let table = material.analysis.deciding().and_then(|(_, round)| round.lead.as_ref().ok());
    let (measure, round) = (at.measure(), at.round());
    let told = match standing {
        Standing::OneLeader(id) => return leaders::one(material, at, table, *id),
        Standing::SeveralMayLead(ids) => return leaders::several(material, at, table, ids),
        Standing::NotJudged(reason) => {
            let (headline, sentences) = not_judged(at, *reason);
            let shared = table.and_then(|table| leaders::Shared::of(material, at, table));
            return Stands::of(headline, sentences, shared.as_ref());
        }
        Standing::AllAlike => {
            let n = table.map_or(0, |table| table.rows.len());
            let all = match table {
                Some(table) if !table.absent.is_empty() => {
                    say!("the {products} that can be compared", products = count(n, "product"))
                }
                _ => names::of_products(n, n),
            };
            let limit = at.study.measure(at.question.measure).alike.as_ref();
            let limit = limit.map_or_else(String::new, |limit| {
                let value = numbers::decimal(limit.value);
                say!(" of {value}", value = numbers::with_unit(&value, at.style().unit))
            });
            (
                say!("{all} are alike at {round}", round, all = names::capital(&all)),
                vec![say!(
                    "By {measure} at {round}, every product lies within the alike limit{limit} of every other.",
                    measure,
                    round,
                    limit
                )],
            )
        }
        Standing::NoneSeparable => {
            let n = table.map_or(0, |table| table.rows.len());
            (
                by_piece::headline(material, at).unwrap_or_else(|| {
                    let products = count(n, "product");
                    if table.is_some_and(|table| !table.absent.is_empty()) {
                        say!("This study does not tell the {products} that can be compared apart", products)
                    } else {
                        say!("This study does not tell its {products} apart", products)
                    }
                }),
                vec![by_piece::none_separable(material, at).unwrap_or_else(|| none_separable(at, table))],
            )
        }
        Standing::OneProduct => match names::sole_product(at.study) {
            Some(id) => alone(material, at, bare, id),
            None => (
                say!("Only one product can be compared at {round}", round),
                vec![say!(
                    "No other product has a number by {measure} at {round}, so that none leads: {why}.",
                    measure,
                    round,
                    why = without::of_products(material, at)
                )],
            ),
        },
        Standing::NoProductRead => (
            say!("No product can be compared at {round}", round),
            vec![say!(
                "No product has a number by {measure} there: {why}.",
                measure,
                why = without::of_products(material, at)
            )],
        ),
        Standing::NoDirection => (
            say!("No product leads: {measure} has no better direction", measure),
            vec![say!(
                "The study says of {measure} that neither way is better. Products are shown against bare only.",
                measure
            )],
        ),
    };
    told.into()
}

/// Why no product is told from another; what sections treated alike show is said only where nothing is taken out of it.
fn none_separable(at: Place<'_>, table: Option<&LeadTable>) -> String {
    let (measure, round, id) = (at.measure(), at.round(), at.question.measure);
    let shared = table.map(|table| &table.basis).filter(|basis| !basis.own_spreads);
    let wide = shared.and_then(|basis| basis.odd).filter(|odd| odd.own.sd > odd.others.sd);
    if let Some(odd) = wide {
        return say!(
            "By {measure} at {round}, every product may lead by the spread that all share. Most of it comes from {who}, so that \
             products may differ more than this can show. That is not the same as alike.",
            measure,
            round,
            who = names::treatment(at.study, odd.treatment)
        );
    }
    if matches!(at.study.unit(id), Unit::Within(_) | Unit::Linked(_)) {
        let pieces = names::pieces(at.study, id);
        return say!(
            "By {measure} at {round}, every product may lead: the differences among them are no larger than what is left within \
             {pieces} can show. That is not the same as alike.",
            measure,
            round,
            pieces
        );
    }
    say!(
        "By {measure} at {round}, every product may lead: the differences among them are no larger than {units} treated alike \
         can show. That is not the same as alike.",
        measure,
        round,
        units = plural(2, names::unit(at.study, id))
    )
}

/// A study of one product asks whether it did better than nothing.
fn alone(material: &Material<'_>, at: Place<'_>, bare: &Against, id: ProductId) -> (String, Vec<String>) {
    let (name, round) = (names::product(at.study, id), at.round());
    let headline = match bare {
        Against::NotJudged(reason) => return not_judged(at, *reason),
        Against::Told { better, .. } if better.contains(&id) => {
            say!("{name} did better than the bare sections up to {round}", name, round)
        }
        Against::Told { worse, .. } if worse.contains(&id) => {
            say!("{name} did worse than the bare sections up to {round}", name, round)
        }
        Against::Told { .. } => say!("{name} differs from the bare sections at {round}", name, round),
        Against::AllAlike => say!("{name} is alike to the bare sections at {round}", name, round),
        Against::NoneToldApart => {
            say!("{name} is not told apart from the bare sections at {round}", name, round)
        }
        Against::NoControl => say!("{name} stands alone: there is no bare section beside it", name),
        Against::ControlNotRead | Against::NoProductRead => {
            say!("{name} cannot be compared with bare at {round}", name, round)
        }
    };
    let change = leaders::value_of(material, at, id);
    let change = change.map(|change| {
        let (measure, value) = (at.measure(), value_words(at, change));
        match at.compared {
            Compared::Change => say!(
                "By {measure} at {round}, {name} changed by {value}. It is the only product of the study, so that none \
                 leads.",
                measure,
                round,
                name,
                value
            ),
            Compared::Level => say!(
                "By {measure} at {round}, {name} stands at {value}. It is the only product of the study, so that none \
                 leads.",
                measure,
                round,
                name,
                value
            ),
        }
    });
    let lacks = without::reasons(material, at, |treatment| {
        treatment == Treatment::Bare || treatment == Treatment::Product(id)
    });
    let lacks = (!lacks.is_empty()).then(|| say!("Without a number there: {lacks}.", lacks));
    (headline, change.into_iter().chain(lacks).collect())
}

/// `−1.0 GU (95 % interval −1.6 to −0.4; 2 sections, 6 readings)`.
fn value_words(at: Place<'_>, value: GroupValue) -> String {
    let (style, compared) = (at.style(), |value| at.style().compared(value, at.compared).text);
    let interval = value.interval.map_or_else(String::new, |interval| {
        say!("95 % interval {low} to {high}; ", low = compared(interval.low), high = compared(interval.high))
    });
    format!(
        "{} ({interval}{}, {})",
        numbers::with_unit(&compared(value.mean), style.unit),
        names::units(at.study, at.question.measure, value.n),
        count(value.readings as usize, "reading")
    )
}

/// Whether those that may lead are told by themselves: where they are compared within pieces, a mean with what the pieces add in it
/// and in its interval would stand beside a comparison without that.
fn stands_by_itself(
    to_bare: Option<&ControlTable>,
    round: Option<&RoundAnalysis>,
    leaders: &[ProductId],
) -> bool {
    let lead = round.and_then(|round| round.lead.as_ref().ok()).map(|table| &table.basis);
    let basis = to_bare.map(|table| &table.basis).or(lead);
    !leaders.is_empty() && !basis.is_some_and(Basis::within_pieces)
}

/// The numbers of those that may lead with their intervals, which are not those of their differences.
fn by_itself(material: &Material<'_>, at: Place<'_>, leaders: &[ProductId]) -> String {
    let values = leaders.iter().filter_map(|&id| {
        let (name, value) =
            (names::product(at.study, id), value_words(at, leaders::value_of(material, at, id)?));
        Some(say!("{name} {value}", name, value))
    });
    let values = list(&values.collect::<Vec<_>>(), "and");
    let interval =
        |&id: &ProductId| leaders::value_of(material, at, id).is_some_and(|value| value.interval.is_some());
    if !leaders.iter().any(interval) {
        return say!("By itself: {values}.", values);
    }
    if leaders.len() == 1 {
        return say!(
            "By itself: {values}. This interval holds for that product ({how}), and for no difference.",
            values,
            how = how_by_itself(at)
        );
    }
    say!(
        "By itself: {values}. Each of these intervals holds for one product ({how}), and none for a difference.",
        values,
        how = how_by_itself(at)
    )
}

/// How the interval of one product by itself is made.
fn how_by_itself(at: Place<'_>) -> String {
    let units = plural(2, names::unit(at.study, at.question.measure));
    match at.compared {
        Compared::Level if names::is_share_of_blank(at.study, at.question.measure) => {
            say!("Fieller, with the scatter of the blank as well").to_owned()
        }
        Compared::Change if names::is_share_of_blank(at.study, at.question.measure) => {
            say!("Student's t, with the scatter of the blanks of both rounds as well").to_owned()
        }
        _ if at.study.spreads_differ => say!("Student's t, on the spread between its own {units}", units),
        _ => say!("Student's t, on the spread between all {units} treated alike", units),
    }
}
