//! Whether the place of a section acts on the number that is compared, whatever the section carries.

use super::super::blocks::{Part, Table, Topic};
use super::super::claim::Claim;
use super::super::material::Material;
use super::super::names;
use super::super::numbers::{self, Figure, Style};
use super::reason;
use crate::analysis::{MeasureAnalysis, MovedByPlace, PlaceAt, Rise, RoundAnalysis};
use crate::speech::{count, list, say};
use crate::study::{ProductId, Treatment};
use std::borrow::Cow;

/// More products than these are counted.
const NAMED: usize = 5;

/// A plane whose test has a p value below this is told apart from a level one.
const LEVEL: f64 = 0.05;

/// What is shown, and the numbers of it.
type Shown<'m> = (&'m MeasureAnalysis, &'m RoundAnalysis, &'m MovedByPlace);

fn shown<'m>(material: &Material<'m>) -> Option<Shown<'m>> {
    let (measure, round) = material.analysis.shown()?;
    let moved = material.analysis.panel.moved.as_ref()?;
    (moved.measure == measure.measure).then_some((measure, round, moved))
}

fn style<'m>(material: &Material<'m>, (measure, round, _): Shown<'m>) -> Style<'m> {
    Style::at(material, measure.measure, round)
}

/// `the change of gloss up to month 18`.
fn compared(material: &Material<'_>, (measure, round, _): Shown<'_>) -> String {
    let at = names::round(material.study, round.round);
    names::compared(material.study, measure.measure, &at, measure.compared)
}

pub(super) fn part(material: &Material<'_>) -> Option<Part> {
    let study = material.study;
    let all @ (measure, _, moved) = shown(material)?;
    let compared = compared(material, all);
    let at = match &moved.shown {
        Ok(at) => at,
        Err(why) => {
            let mut part = Part::below(say!("Whether the place acts on {compared}", compared));
            part.say(format!("{}.", names::capital(&reason(*why))));
            return Some(part);
        }
    };
    let told = at.p < LEVEL;
    let mut part = Part::below(if told {
        say!("The place on the panel acts on {compared}", compared)
    } else {
        say!("No effect of the place on {compared} is shown", compared)
    })
    .about(Topic::Place);
    let one_rack = study.is_on_racks() || study.sites.len() > 1;
    part.say(if one_rack {
        say!("A plane over the racks, one for all with a mean for each, with the mean of every treatment taken out: how much what is compared rises from the \
             outermost sections on one side to those on the other, whatever they carry, with intervals that hold for both directions together at 95 %.")
    } else {
        say!("A plane over the map, with the mean of every treatment taken out: how much what is compared rises from the outermost sections on one side to \
             those on the other, whatever they carry, with intervals that hold for both directions together at 95 %.")
    });
    part.table(table(material, all, at));
    part.say(over(material, all, at));
    let scatter = |sd: f64| {
        let style = style(material, all);
        numbers::with_unit(&numbers::fixed(sd, style.decimals + 1), style.difference_unit())
    };
    part.say(if told {
        say!(
            "With the place taken out, sections treated alike would scatter by {with} and not by {without}. {adds} The study did not name this \
             before it was read: it is told here, and no order rests on it.",
            with = scatter(at.with.sd),
            without = scatter(at.without.sd),
            adds = adds(material, all, at)
        )
    } else {
        say!("That does not prove that the place has no effect: sections treated alike are few.").to_owned()
    });
    if let Some((_, text)) = leaders(material, all, at) {
        part.say(text);
    }
    let rounds = moved.others.iter().map(|at| at.round).chain([at.round]);
    part.rests_on(measure, rounds.collect::<Vec<_>>());
    Some(part)
}

/// A line for every round, by date; the one that is shown in full has no p after Holm.
fn table(material: &Material<'_>, all: Shown<'_>, shown: &PlaceAt) -> Table {
    let (measure, _, moved) = all;
    let style = style(material, all);
    let mut table = Table::new(&[
        say!("Round"),
        &say!(">Left to right, {unit}", unit = style.difference_unit()),
        say!(">95 % interval"),
        &say!(">Top to bottom, {unit}", unit = style.difference_unit()),
        say!(">95 % interval"),
        say!(">F (degrees of freedom)"),
        ">p",
        say!(">p after Holm"),
    ]);
    let at = |round| moved.others.iter().chain([shown]).find(move |at| at.round == round);
    for at in measure.rounds.iter().filter_map(|round| at(round.round)) {
        let mut row = vec![Figure::from(names::round(material.study, at.round))];
        for Rise { by, interval } in [at.across, at.down] {
            row.push(Figure { raw: Some(by), text: style.signed(by) });
            row.push(Figure::from(style.span(interval.low, interval.high)));
        }
        let f = numbers::fixed(at.f, 1);
        row.push(Figure { raw: Some(at.f), text: format!("{f} (2, {})", numbers::fixed(at.with.df, 0)) });
        let p = |p: f64| Figure { raw: Some(p), text: numbers::probability(p) };
        row.push(p(at.p));
        row.push(at.p_holm.map_or_else(Figure::none, p));
        table.row(row);
    }
    table
}

/// Sections and readings, with the rounds that have so many.
type Numbers<'n> = Vec<((usize, usize), Vec<Cow<'n, str>>)>;

/// Over how many sections and readings each round tells it, those alike together.
fn over(material: &Material<'_>, (measure, _, moved): Shown<'_>, shown: &PlaceAt) -> String {
    let mut numbers: Numbers<'_> = Vec::new();
    let at = |round| moved.others.iter().chain([shown]).find(move |at| at.round == round);
    for at in measure.rounds.iter().filter_map(|round| at(round.round)) {
        let (own, name) = ((at.sections, at.readings), names::round(material.study, at.round));
        match numbers.iter_mut().find(|(known, _)| *known == own) {
            Some((_, rounds)) => rounds.push(name),
            None => numbers.push((own, vec![name])),
        }
    }
    let each = numbers.iter().map(|((sections, readings), rounds)| {
        say!(
            "{sections} ({readings}) at {rounds}",
            sections = count(*sections, "section"),
            readings = count(*readings, "reading"),
            rounds = list(rounds, "and")
        )
    });
    say!("Over {each}.", each = each.collect::<Vec<_>>().join("; "))
}

/// Who may lead with the plane taken out, and whether these are others than those of the table; `None` where that was not asked.
fn leaders(material: &Material<'_>, (_, round, _): Shown<'_>, at: &PlaceAt) -> Option<(bool, String)> {
    let study = material.study;
    let without = at.may_lead.as_ref()?;
    let own = round.lead.as_ref().ok()?.may_lead.as_ref().ok()?;
    let others = own.len() != without.products.len() || own.iter().any(|id| !without.products.contains(id));
    let who = |ids: &[ProductId]| match ids.len() {
        n if n == without.of => say!("all {products}", products = count(n, "product")),
        n if n > NAMED => count(n, "product"),
        _ => list(&names::products(study, ids), "and"),
    };
    let (degrees, sections) = (numbers::degrees(without.spread.df), count(without.sections, "section"));
    Some((
        others,
        if others {
            say!(
                "With that plane taken out, the list of who may lead is another by the same rule (Hsu; {sections}, {degrees}): {without}, in place of {own}.",
                sections,
                degrees,
                without = who(&without.products),
                own = who(own)
            )
        } else {
            say!(
                "With that plane taken out, the same may lead by the same rule (Hsu; {sections}, {degrees}): {own}.",
                sections,
                degrees,
                own = who(own)
            )
        },
    ))
}

/// The treatments to whose means the plane adds least and most.
fn adds(material: &Material<'_>, all: Shown<'_>, at: &PlaceAt) -> String {
    let style = style(material, all);
    let by = |(treatment, by): &(Treatment, f64)| {
        let by = numbers::with_unit(&style.signed(*by), style.difference_unit());
        format!("{by} ({})", names::treatment(material.study, *treatment))
    };
    let least = at.adds.iter().min_by(|a, b| a.1.total_cmp(&b.1));
    let most = at.adds.iter().max_by(|a, b| a.1.total_cmp(&b.1));
    match (least, most) {
        (Some(least), Some(most)) if least.0 != most.0 => {
            say!(
                "To the mean of a treatment it adds from {least} to {most}.",
                least = by(least),
                most = by(most)
            )
        }
        _ => String::new(),
    }
}

/// What stands in the answer where the place acts: how much from side to side, and what that adds.
pub(in crate::report) fn claim(material: &Material<'_>) -> Option<Claim> {
    material.analysis.deciding()?;
    let all @ (measure, _, moved) = shown(material)?;
    let at = moved.shown.as_ref().ok().filter(|at| at.p < LEVEL)?;
    let style = style(material, all);
    let rises = [(at.across, say!("from left to right")), (at.down, say!("from top to bottom"))];
    let seen = |rise: &Rise| rise.interval.leaves_out_zero();
    let any = rises.iter().any(|(rise, _)| seen(rise));
    let told: Vec<String> = rises
        .iter()
        .filter(|(rise, _)| !any || seen(rise))
        .map(|(rise, way)| {
            format!("{} {way}", numbers::with_unit(&style.signed(rise.by), style.difference_unit()))
        })
        .collect();
    let text = say!(
        "Where a section lies acts on its {measure} as well: {rises} over the panel (p {p}). {adds} No difference is corrected for it.",
        measure = names::measure(material.study, measure.measure),
        rises = list(&told, "and"),
        p = numbers::probability(at.p),
        adds = adds(material, all, at)
    );
    let others =
        at.may_lead.as_ref().filter(|_| leaders(material, all, at).is_some_and(|(others, _)| others));
    let others = others.map(|without| {
        say!(
            " With it taken out, the same rule leaves {without} to lead.",
            without = list(&names::products(material.study, &without.products), "and")
        )
    });
    Some(Claim::new(format!("{text}{}", others.unwrap_or_default()), Topic::Place))
}

/// How it is done.
pub(super) fn method(material: &Material<'_>) -> Option<String> {
    let moved = material.analysis.panel.moved.as_ref()?;
    moved.shown.is_ok().then(|| {
        say!(
            "Place and change: both slopes of a plane through the numbers that are compared, beside the treatments and what else the comparison takes out, \
             by the extra sum of squares (F test; Draper and Smith 1998; Frisch and Waugh 1933). A section counts where another is treated alike. The round \
             that is shown in full stands alone at 5 %; the others are adjusted after Holm. Who may lead without the place: Hsu's intervals of the means less \
             that plane, with the error of its slopes in every difference (Snedecor and Cochran 1989)."
        )
        .to_owned()
    })
}
