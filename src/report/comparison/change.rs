//! Change over time: one part a measure, with a picture against the band of bare sections and a table.

use super::super::axis::Axis;
use super::super::blocks::{Drawing, Part, Picture, Table};
use super::super::cautions;
use super::super::charts::{ChangeChart, ChangePanel, Series};
use super::super::footing::bounds;
use super::super::material::Material;
use super::super::names;
use super::super::numbers::{self, Figure, Style};
use super::super::raw;
use super::super::stopped;
use super::change_note::{changes, is_rated, note};
use super::levels;
use super::ranking::Ranking;
use crate::analysis::{
    Compared, GroupAt, GroupSeries, GroupValue, MeasureAnalysis, Missing, Role, RoundAnalysis, RoundState,
    SectionSeries, Word,
};
use crate::speech::{count, list, plural, say};
use crate::study::{MeasureKind, RoundId, Treatment};
use std::borrow::Cow;

pub(in crate::report) fn parts(material: &Material<'_>, ranking: &Ranking) -> Vec<Part> {
    let first = material.analysis.question.map(|question| question.measure);
    let mut measures: Vec<&MeasureAnalysis> = material
        .analysis
        .measures
        .iter()
        .filter(|measure| !matches!(material.study.measure(measure.measure).kind, MeasureKind::Part(_)))
        // Marks without a reference have no change, and their medians stand with the tests on ranks.
        .filter(|measure| measure.compared == Compared::Change || measure.rating.is_none())
        .collect();
    measures.sort_by_key(|measure| Some(measure.measure) != first);
    let whole = measures.len();
    let told = |measure: &&&MeasureAnalysis| {
        whole == 1 || Some(measure.measure) == first || !is_without_numbers(material, measure)
    };
    measures.iter().filter(told).map(|measure| part(material, ranking, measure)).collect()
}

/// Measures beside that of the question of which neither a change nor a level can be shown: a sentence each, and no part.
pub(in crate::report) fn unshown(material: &Material<'_>) -> Vec<String> {
    let first = material.analysis.question.map(|question| question.measure);
    let kind = |measure: &MeasureAnalysis| &material.study.measure(measure.measure).kind;
    let others = material.analysis.measures.iter().filter(|measure| Some(measure.measure) != first);
    let others = others.filter(|measure| !matches!(kind(measure), MeasureKind::Part(_)));
    let others = others.filter(|measure| measure.compared == Compared::Change || measure.rating.is_none());
    let silent: Vec<&MeasureAnalysis> =
        others.filter(|measure| is_without_numbers(material, measure)).collect();
    // A study of one measure tells it in its part.
    let told = silent.iter().filter(|_| material.analysis.measures.len() > 1);
    let told = told.map(|measure| {
        say!(
            "{name}: no change can be shown. {why}",
            name = names::capital(names::measure(material.study, measure.measure)),
            why = why_nothing(material, measure)
        )
    });
    told.collect()
}

fn is_without_numbers(material: &Material<'_>, measure: &MeasureAnalysis) -> bool {
    let rounds = read_rounds(measure);
    let after = rounds.iter().any(|(_, round)| round.role != Role::UpToReference);
    let rated = matches!(material.study.measure(measure.measure).kind, MeasureKind::Rating(_));
    let levels = measure.compared == Compared::Level && !rated && !rounds.is_empty();
    (measure.reference.is_none() || !after) && !levels
}

fn part(material: &Material<'_>, ranking: &Ranking, measure: &MeasureAnalysis) -> Part {
    let study = material.study;
    let known = study.measure(measure.measure);
    let style = Style::of(material, measure.measure);
    let rounds = read_rounds(measure);
    let after = rounds.iter().filter(|(_, round)| round.role != Role::UpToReference).count();
    let name = known.name.value.as_str();
    let (Some(reference), true) = (measure.reference, after > 0) else {
        let levels = measure.compared == Compared::Level && !matches!(known.kind, MeasureKind::Rating(_));
        if let Some((place, _)) = rounds.last().copied().filter(|_| levels) {
            return levels::part(material, ranking, measure, place);
        }
        let mut part = Part::new(say!("{name}: no change can be shown", name = names::capital(name)));
        part.say(why_nothing(material, measure));
        return part;
    };
    let from = names::round(study, reference);
    let mut part = Part::new(heading(material, measure, &style));
    let units = plural(2, names::unit(study, measure.measure));
    let (unit, direction) = (style.difference_unit(), names::direction(known.direction));
    part.say(if is_rated(material, measure) {
        say!(
            "Change of {name} from {from}, in {unit}; {direction}. Each number is the median of the changes that the {units} of a product have by \
             themselves, each between the medians of its marks, and no difference of two medians of products; where a round lacks some of them, it says over how many. \
             Marks have an order and no equal steps, so that no mean is made of them.",
            name,
            from,
            units,
            unit,
            direction
        )
    } else {
        say!(
            "Change of {name} from {from}, in {unit}; {direction}. Each number is the mean over the {units} of a \
             product; where a round lacks some of them, it says over how many.",
            name,
            from,
            units,
            unit,
            direction
        )
    });
    if let Some(averaged) = names::averaged(study, measure.measure) {
        part.say(averaged);
    }
    if measure.compared == Compared::Level {
        part.say(say!(
            "Compared are the levels of {name} and not these changes: it is itself what the coat does, held against nothing or the blank, \
             and a change from {from} would call worse than bare what still does more than bare.",
            name,
            from
        ));
    }
    if let Some(raw) = rounds.last().and_then(|(_, last)| raw::beside_means(study, measure, last)) {
        part.say(raw);
    }
    part.pictures(picture(material, ranking, measure));
    part.table(table(material, ranking, measure, style));
    part.rests_on(measure, after_rounds(&rounds));
    part.list(lacking(material, measure));
    part
}

/// What is told of a treatment: the mean over its sections, of marks their median.
fn middle(material: &Material<'_>, measure: &MeasureAnalysis, value: &GroupValue) -> f64 {
    if is_rated(material, measure) { value.median } else { value.mean }
}

fn after_rounds(rounds: &[(usize, &RoundAnalysis)]) -> Vec<RoundId> {
    let after = rounds.iter().filter(|(_, round)| round.role != Role::UpToReference);
    after.map(|(_, round)| round.round).collect()
}

fn why_nothing(material: &Material<'_>, measure: &MeasureAnalysis) -> String {
    match measure.reference {
        None if material.study.prep_readings().any(|read| read == measure.measure) => {
            say!("It is read in the preparation only, and told there.").to_owned()
        }
        None => {
            say!("The study has no round from which a change could count that reads this measure.").to_owned()
        }
        Some(_) if material.readings.last_date().is_none() => say!("Nothing has been read yet.").to_owned(),
        Some(reference) => say!(
            "No round after {round}, from which the change counts, has readings.",
            round = names::round(material.study, reference)
        ),
    }
}

/// Rounds with readings and their place in the series.
fn read_rounds(measure: &MeasureAnalysis) -> Vec<(usize, &RoundAnalysis)> {
    let rounds = measure.rounds.iter().enumerate();
    rounds.filter(|(_, round)| round.state == RoundState::Read).collect()
}

// The round that decides, of the measure that does, as its picture tells it; else the last round read. How far bare sections and products came by then.
fn heading(material: &Material<'_>, measure: &MeasureAnalysis, style: &Style<'_>) -> String {
    let name = names::capital(names::measure(material.study, measure.measure));
    let rounds = read_rounds(measure);
    let shown = material.analysis.shown().filter(|(shown, _)| shown.measure == measure.measure);
    let shown = shown.and_then(|(_, shown)| rounds.iter().find(|(_, round)| round.round == shown.round));
    let Some((place, last)) = shown.or(rounds.last()).copied() else { return name };
    let style = &style.as_sure_as(last.standard_error());
    let round = names::round(material.study, last.round);
    if let Some(none) = none_told((last, measure.compared == Compared::Level), &name, &round, style) {
        return none;
    }
    let all: Vec<(Treatment, GroupValue)> = changes(measure, place);
    let number = |value: &GroupValue| style.signed(middle(material, measure, value));
    let means = products_of(&all).map(|(treatment, value)| (treatment, middle(material, measure, value)));
    let bare = last.bare_change.filter(stopped::is_whole);
    let bare = bare.map(|bare| say!("bare sections by {mean}", mean = number(&bare)));
    let coated = moved(material, &means.collect::<Vec<_>>(), style);
    let parts: Vec<String> = coated.into_iter().chain(bare).collect();
    let stopped = if parts.is_empty() {
        stopped_words(material, (measure, place), &all, style)
    } else {
        stopped::who(material.study, all.iter().map(|(treatment, value)| (*treatment, value)))
    };
    let unit = style.difference_unit();
    let heading = match (parts.is_empty(), stopped) {
        (true, None) => return say!("{name}: no change can be shown at {round}", name, round),
        (true, Some(stopped)) => say!("{name} up to {round}: {stopped}", name, round, stopped),
        (false, None) => {
            say!(
                "{name} changed up to {round}: {changes} {unit}",
                name,
                round,
                unit,
                changes = parts.join(", ")
            )
        }
        (false, Some(stopped)) => say!(
            "{name} changed up to {round}: {changes} {unit}; {stopped}",
            name,
            round,
            unit,
            stopped,
            changes = parts.join(", ")
        ),
    };
    raw::heading(material.study, measure, last, heading)
}

/// The products among them of which nothing was stopped: only these stand beside each other as of one round.
fn products_of(all: &[(Treatment, GroupValue)]) -> impl Iterator<Item = (Treatment, &GroupValue)> {
    let products = all.iter().filter(|(treatment, _)| matches!(treatment, Treatment::Product(_)));
    products.filter(|(_, value)| stopped::is_whole(value)).map(|(treatment, value)| (*treatment, value))
}

fn stopped_words(
    material: &Material<'_>,
    at: (&MeasureAnalysis, usize),
    all: &[(Treatment, GroupValue)],
    style: &Style<'_>,
) -> Option<String> {
    let each = all.iter().map(|(treatment, value)| (*treatment, value));
    stopped::words(material.study, at, each, |value| style.signed(middle(material, at.0, value)))
}

/// The heading where no product differs from bare, so that it shows no scatter as a change.
fn none_told(
    (last, by_level): (&RoundAnalysis, bool),
    name: &str,
    round: &str,
    style: &Style<'_>,
) -> Option<String> {
    let table = last.to_bare.as_ref().ok()?;
    let mut products = table.rows.iter().filter(|row| matches!(row.treatment, Treatment::Product(_)));
    let alike = |word| matches!(word, Ok(Word::Alike | Word::NotSettled));
    let none = products.clone().next().is_some() && products.all(|row| alike(row.word));
    let bare = last.bare_change.filter(|bare| none && !by_level && stopped::is_whole(bare))?;
    Some(say!(
        "{name} up to {round}: no product is told apart from bare; bare sections changed by {change} {unit}",
        name,
        round,
        change = style.signed(bare.mean),
        unit = style.difference_unit()
    ))
}

/// `Sage Wax by −6.2`, `products by −9.0 to −2.0`; nothing where no product was read.
fn moved(material: &Material<'_>, means: &[(Treatment, f64)], style: &Style<'_>) -> Option<String> {
    let low = means.iter().map(|mean| mean.1).reduce(f64::min)?;
    let high = means.iter().map(|mean| mean.1).reduce(f64::max)?;
    let who = match means {
        [(treatment, _)] => names::treatment(material.study, *treatment),
        _ => say!("products").to_owned(),
    };
    let same = style.signed(low) == style.signed(high);
    let by = if same { style.signed(low) } else { style.span(low, high) };
    Some(say!("{who} by {by}", who, by))
}

/// The rounds of a picture: place in the series, place on the axis, and the round.
type Dated<'a> = Vec<(usize, f64, &'a RoundAnalysis)>;

fn dated<'a>(material: &Material<'_>, measure: &'a MeasureAnalysis) -> Dated<'a> {
    let shown =
        |round: &RoundAnalysis| round.role != Role::UpToReference || Some(round.round) == measure.reference;
    let rounds = || read_rounds(measure).into_iter().filter(|(_, round)| shown(round));
    let axis = Axis::of(material.study, rounds().map(|(_, round)| round.round));
    rounds().filter_map(|(place, round)| Some((place, axis.round(material, round.round)?, round))).collect()
}

fn picture(material: &Material<'_>, ranking: &Ranking, measure: &MeasureAnalysis) -> Option<Picture> {
    let study = material.study;
    let dated = dated(material, measure);
    if dated.len() < 2 {
        return None;
    }
    // What is told below a name is the round that decides, where this is the measure that does.
    let shown = material.analysis.shown().filter(|(shown, _)| shown.measure == measure.measure);
    let told = shown.and_then(|(_, shown)| dated.iter().position(|(.., one)| one.round == shown.round));
    let panels = Panels { material, ranking, measure, told: told.unwrap_or(dated.len() - 1), dated };
    Some(Picture {
        address: format!("report.html#picture-change-{}", measure.measure.index() + 1),
        title: panels.title(),
        note: note(material, ranking, measure, (&panels.dated, &panels.round())),
        drawing: Drawing::Change(ChangeChart {
            least: study.measure(measure.measure).alike.as_ref().map_or(0.0, |alike| alike.value),
            rounds: panels
                .dated
                .iter()
                .map(|&(_, x, round)| (x, names::round(study, round.round).into_owned()))
                .collect(),
            band: panels
                .dated
                .iter()
                .filter_map(|&(_, x, round)| {
                    let bare = round.bare_change.filter(stopped::is_whole)?;
                    Some((x, bare.min, bare.max, middle(material, measure, &bare)))
                })
                .collect(),
            panels: ranking.groups(measure).into_iter().map(|group| panels.of(group)).collect(),
        }),
    })
}

struct Panels<'a> {
    material: &'a Material<'a>,
    ranking: &'a Ranking,
    measure: &'a MeasureAnalysis,
    dated: Dated<'a>,
    told: usize,
}

impl Panels<'_> {
    fn style(&self) -> Style<'_> {
        Style::at(self.material, self.measure.measure, self.dated[self.told].2)
    }

    /// Name of the round that is told.
    fn round(&self) -> Cow<'_, str> {
        names::round(self.material.study, self.dated[self.told].2.round)
    }

    fn change(&self, group: &GroupSeries, at: usize) -> Option<GroupValue> {
        group.at.get(self.dated[at].0)?.change
    }

    /// The finding: which product changed least upwards, which most.
    fn title(&self) -> String {
        let (study, style) = (self.material.study, self.style());
        let name = names::measure(study, self.measure.measure);
        let from = self.measure.reference.map_or_else(Cow::default, |id| names::round(study, id));
        let all = changes(self.measure, self.dated[self.told].0);
        let number = |value: &GroupValue| middle(self.material, self.measure, value);
        let means: Vec<(f64, Treatment)> =
            products_of(&all).map(|(treatment, value)| (number(value), treatment)).collect();
        let low = means.iter().copied().min_by(|a, b| a.0.total_cmp(&b.0));
        let high = means.iter().copied().max_by(|a, b| a.0.total_cmp(&b.0));
        let words = |(mean, treatment): (f64, Treatment)| {
            format!("{} ({})", style.signed(mean), names::treatment(study, treatment))
        };
        let products = match (low, high) {
            (Some(low), Some(high)) if low.1 != high.1 && style.signed(low.0) == style.signed(high.0) => {
                Some(say!("all products {mean}", mean = style.signed(low.0)))
            }
            (Some(low), Some(high)) if low.1 != high.1 => {
                Some(say!("products from {low} to {high}", low = words(low), high = words(high)))
            }
            (Some(one), _) => Some(format!("{} {}", names::treatment(study, one.1), style.signed(one.0))),
            _ => None,
        };
        let bare = self.dated[self.told].2.bare_change.filter(stopped::is_whole);
        let bare = bare.map(|bare| say!("bare sections {mean}", mean = style.signed(number(&bare))));
        let mut found: Vec<String> = products.into_iter().chain(bare).collect();
        found.extend(if found.is_empty() {
            stopped_words(self.material, (self.measure, self.dated[self.told].0), &all, &style)
        } else {
            stopped::who(study, all.iter().map(|(treatment, value)| (*treatment, value)))
        });
        if found.is_empty() {
            found.push(say!("no change").to_owned());
        }
        let unit = style.difference_unit();
        let unit = if unit.is_empty() { String::new() } else { say!(" in {unit}", unit) };
        let title = say!(
            "Change of {name} from {from}{unit}; at {round}: {found}",
            name,
            from,
            unit,
            round = self.round(),
            found = found.join(", ")
        );
        raw::heading(study, self.measure, self.dated[self.told].2, title)
    }

    fn of(&self, group: &GroupSeries) -> ChangePanel {
        let bare = group.treatment == Treatment::Bare;
        let change = self.change(group, self.told);
        // A line of the mean goes as far as all of its sections do.
        let whole = |at: usize| self.change(group, at).filter(stopped::is_whole);
        let point = |at: usize| Some((self.dated[at].1, middle(self.material, self.measure, &whole(at)?)));
        ChangePanel {
            name: names::treatment(self.material.study, group.treatment),
            mark: (!bare).then(|| self.ranking.mark(group.treatment)),
            told: self.told(group, change),
            alternative: self.alternative(group, change),
            mean: (0..self.dated.len()).map(point).collect(),
            at: self.told,
            sections: self.sections(group),
        }
    }

    fn sections(&self, group: &GroupSeries) -> Vec<Series> {
        let own = self.measure.sections.iter().filter(|series| series.treatment == group.treatment);
        let line = |series: &SectionSeries| Series {
            code: names::section(self.material.study, series.section).to_owned(),
            points: self
                .dated
                .iter()
                .map(|&(place, x, _)| Some((x, series.at[place].numbers.change.ok()?.value)))
                .collect(),
        };
        own.map(line).collect()
    }

    fn told(&self, group: &GroupSeries, change: Option<GroupValue>) -> String {
        let all = names::units_of(self.material.study, self.measure.measure, group);
        match change {
            Some(change) if change.n < all => {
                say!("{mean} · on {n} of {all}", all, mean = self.number(&change), n = change.n)
            }
            Some(change) => {
                let units = names::units(self.material.study, self.measure.measure, all);
                match self.stop(group) {
                    at if at.is_empty() => format!("{} · {units}", self.number(&change)),
                    at => format!("{} ({at}) · {units}", self.number(&change)),
                }
            }
            None => say!("no value · {sections}", sections = count(all, "section")),
        }
    }

    /// The rounds at which it was stopped, before the one that is told.
    fn stop(&self, group: &GroupSeries) -> String {
        stopped::at(self.material.study, self.measure, group.treatment, self.dated[self.told].0)
    }

    /// What is told of it; of what was stopped, a bound.
    fn number(&self, value: &GroupValue) -> String {
        let number = self.style().signed(middle(self.material, self.measure, value));
        let direction = self.material.study.measure(self.measure.measure).direction;
        stopped::bound(Figure::from(number), direction, value).text
    }

    fn alternative(&self, group: &GroupSeries, change: Option<GroupValue>) -> String {
        let (study, style) = (self.material.study, self.style());
        let (name, round) = (names::treatment(study, group.treatment), self.round());
        let Some(change) = change else { return say!("{name}: no change at {round}", name, round) };
        let bare = self.dated[self.told].2.bare_change.filter(|_| group.treatment != Treatment::Bare);
        let middle = middle(self.material, self.measure, &change);
        let lies = match bare.filter(stopped::is_whole).filter(|_| stopped::is_whole(&change)) {
            Some(bare) if middle > bare.max => say!(", above all bare sections"),
            Some(bare) if middle < bare.min => say!(", below all bare sections"),
            Some(_) => say!(", within the bare sections"),
            None => "",
        };
        let mean = numbers::with_unit(&self.number(&change), style.difference_unit());
        let mean = match self.stop(group) {
            at if at.is_empty() => mean,
            at => format!("{mean} ({at})"),
        };
        let sections = count(change.n, "section");
        if change.n < 2 {
            return say!("{name}: {mean} at {round} on {sections}{lies}", name, mean, round, sections, lies);
        }
        say!(
            "{name}: {mean} at {round}, {sections} from {span}{lies}",
            name,
            mean,
            round,
            sections,
            lies,
            span = style.span(change.min, change.max)
        )
    }
}

fn table(material: &Material<'_>, ranking: &Ranking, measure: &MeasureAnalysis, style: Style<'_>) -> Table {
    let after: Vec<(usize, &RoundAnalysis)> =
        measure.rounds.iter().enumerate().filter(|(_, round)| round.role != Role::UpToReference).collect();
    let heads = after.iter().map(|(_, round)| format!(">{}", names::round(material.study, round.round)));
    let first = [say!("Product").to_owned(), names::units_head(material.study, measure.measure)];
    // Bounds of what was stopped at different rounds stand beside each other, each with its own.
    let last = read_rounds(measure).last().map(|&(place, _)| place);
    let stop = |treatment| last.map(|place| stopped::at(material.study, measure, treatment, place));
    let any = measure.groups.iter().any(|group| stop(group.treatment).is_some_and(|at| !at.is_empty()));
    let heads: Vec<String> =
        first.into_iter().chain(heads).chain(any.then(|| say!("Stopped at").to_owned())).collect();
    let mut table = Table::new(&heads);
    for group in ranking.groups(measure) {
        let all = names::units_of(material.study, measure.measure, group);
        let mut cells = vec![
            Figure::from(names::treatment(material.study, group.treatment)),
            Figure::from(all.to_string()),
        ];
        let cell = |&(place, round): &(usize, &RoundAnalysis)| {
            let at = group.at.get(place);
            let style = style.as_sure_as(round.standard_error());
            cell((at, round), all, |value| {
                let middle = middle(material, measure, value);
                let figure = Figure { raw: Some(middle), text: style.signed(middle) };
                stopped::bound(figure, material.study.measure(measure.measure).direction, value)
            })
        };
        cells.extend(after.iter().map(cell));
        let at = stop(group.treatment).filter(|at| !at.is_empty());
        cells.extend(any.then(|| at.map_or_else(Figure::none, Figure::from)));
        table.row(cells);
    }
    table.behind(1)
}

// A mean over fewer sections than the product has on the panel says over how many.
fn cell(
    (at, round): (Option<&GroupAt>, &RoundAnalysis),
    all: usize,
    number: impl Fn(&GroupValue) -> Figure,
) -> Figure {
    match (at.and_then(|at| at.change), round.state) {
        (Some(change), _) if change.n < all => {
            let mean = number(&change);
            let text =
                say!("on {n} of {all}: {mean}", all, n = change.n, mean = mean.text).replace(' ', "\u{a0}");
            Figure { text, ..mean }
        }
        (Some(change), _) => number(&change),
        (None, RoundState::ToCome) => Figure::from(say!("to come")),
        (None, RoundState::Missed) => Figure::from(say!("missed")),
        (None, RoundState::Read) => Figure::none(),
    }
}

// Sections that lack a round which others have; a mean over fewer sections says so.
fn lacking(material: &Material<'_>, measure: &MeasureAnalysis) -> Vec<String> {
    let study = material.study;
    let last = read_rounds(measure).last().and_then(|(_, round)| bounds(study, measure, round.round));
    let mut items: Vec<String> = last.into_iter().collect();
    for (place, round) in read_rounds(measure) {
        let at = measure.groups.iter().filter_map(|group| group.at.get(place));
        let lacking = at.flat_map(|at| at.lacking.iter().chain(&at.lacking_change)).filter(|(_, why)| {
            !matches!(why, Missing::NotPlanned | Missing::Stopped | Missing::BeforeReference)
        });
        let unread = cautions::sites(material, measure, round);
        let lacking =
            lacking.filter(|(section, _)| unread.as_ref().is_none_or(|unread| !unread.lacks(*section)));
        if let Some(unread) = &unread {
            items.push(unread.nothing(&names::round(study, round.round)));
        }
        // Each reason once, in the order in which it is first met.
        let mut reasons: Vec<(&str, Vec<&str>)> = Vec::new();
        for &(section, why) in lacking {
            let (name, why) = (names::section(study, section), names::missing(why));
            match reasons.iter_mut().find(|(known, _)| *known == why) {
                Some((_, sections)) => sections.push(name),
                None => reasons.push((why, vec![name])),
            }
        }
        if !reasons.is_empty() {
            let one = |(why, sections): &(&str, Vec<&str>)| format!("{} ({why})", list(sections, "and"));
            let lacking = reasons.iter().map(one).collect::<Vec<_>>().join("; ");
            items.push(say!(
                "At {round} without a value: {lacking}.",
                lacking,
                round = names::round(study, round.round)
            ));
        }
    }
    items
}
