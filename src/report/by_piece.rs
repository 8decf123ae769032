//! Where products do otherwise on one piece, or at one site, than on another: what the answer says of it, and the means piece by piece.

use super::asked::Place;
use super::blocks::{Part, Table, Topic};
use super::claim::Claim;
use super::comparison::Ranking;
use super::material::Material;
use super::names;
use super::numbers::{self, Figure, Style, with_unit};
use crate::analysis::ByPiece;
use crate::speech::{plural, say};
use crate::study::{Direction, Grouping, Study, Treatment, Unit};

/// More means than this are left to the table.
const FEW: usize = 8;

/// The test at the round that is shown, where it stands out, with the grouping of its pieces.
fn found<'m>(material: &'m Material<'_>) -> Option<(&'m ByPiece, &'m Grouping)> {
    let (measure, _) = material.analysis.shown()?;
    let (Unit::Within(grouping) | Unit::Linked(grouping)) = material.study.unit(measure.measure) else {
        return None;
    };
    let by = material.analysis.by_piece.as_ref().filter(|by| by.stands_out())?;
    Some((by, grouping))
}

/// Whether it stands out.
pub(super) fn stands_out(material: &Material<'_>) -> bool {
    found(material).is_some()
}

/// Whether another product comes first on one piece than on another.
pub(super) fn order_differs(material: &Material<'_>, at: Place<'_>) -> bool {
    let direction = at.study.measure(at.question.measure).direction;
    direction != Direction::Neither
        && found(material).is_some_and(|(by, _)| by.order_differs(direction == Direction::Higher))
}

/// The claim of the answer.
pub(super) fn claim(material: &Material<'_>, at: Place<'_>) -> Option<Claim> {
    let (by, grouping) = found(material)?;
    let piece = &grouping.name.value;
    let head = match by.products.filter(|_| order_differs(material, at)) {
        Some(products) => {
            say!("Which product comes first differs by {piece} ({test})", piece, test = test(products.p))
        }
        None => {
            say!("How far treatments stand apart differs by {piece} ({test})", piece, test = test(by.all.p))
        }
    };
    let text = match means(at, by, grouping) {
        Some(means) => say!("{head}: {means}.", head, means),
        None => say!("{head}: the means of each {piece} stand in the table.", head, piece),
    };
    Some(Claim::new(text, Topic::ByPiece))
}

fn test(p: f64) -> String {
    say!("F test: p {p}", p = numbers::probability(p))
}

/// `coast: Alder −1.6, Birch −14.9 GU; yard: ...`, the foremost first.
fn means(at: Place<'_>, by: &ByPiece, grouping: &Grouping) -> Option<String> {
    let products: Vec<_> =
        by.rows.iter().filter(|(treatment, _)| matches!(treatment, Treatment::Product(_))).collect();
    if products.len() * by.pieces.len() > FEW {
        return None;
    }
    let style = at.style();
    let lower = at.study.measure(at.question.measure).direction == Direction::Lower;
    let of = |(place, name): (usize, &str)| {
        let mut read: Vec<(f64, String)> = products
            .iter()
            .filter_map(|(treatment, means)| {
                let mean = means[place].as_ref()?.mean;
                let value = style.compared(mean, at.compared).text;
                Some((mean, format!("{} {value}", names::treatment(at.study, *treatment))))
            })
            .collect();
        read.sort_by(|a, b| if lower { a.0.total_cmp(&b.0) } else { b.0.total_cmp(&a.0) });
        let read: Vec<String> = read.into_iter().map(|(_, words)| words).collect();
        format!("{name} {}", with_unit(&read.join(", "), style.unit))
    };
    let pieces = pieces(by, grouping);
    Some(pieces.iter().copied().enumerate().map(of).collect::<Vec<_>>().join("; "))
}

fn pieces<'g>(by: &ByPiece, grouping: &'g Grouping) -> Vec<&'g str> {
    let all = grouping.pieces();
    by.pieces.iter().filter_map(|&piece| Some(all.get(piece)?.0)).collect()
}

/// What is in the scatter beside pieces, behind the sentence that tells it.
pub(super) fn in_the_scatter(material: &Material<'_>, style: Style<'_>) -> Option<String> {
    let (by, grouping) = found(material)?;
    Some(say!(
        "That holds what treatments do otherwise on one {piece} than on another; sections that carry the same on the same {piece} scatter \
         by {sd} ({degrees}).",
        piece = grouping.name.value,
        sd = with_unit(&numbers::fixed(by.alike.sd, style.decimals + 1), style.unit),
        degrees = numbers::degrees(by.alike.df)
    ))
}

/// The means piece by piece.
pub(super) fn part(material: &Material<'_>, ranking: &Ranking) -> Option<Part> {
    let (by, grouping) = found(material)?;
    let (measure, round) = material.analysis.shown()?;
    let study: &Study = material.study;
    let style = Style::of(study, study.measure(measure.measure));
    let (at, piece) = (names::round(study, round.round), &grouping.name.value);
    let compared = names::compared(study, measure.measure, &at, measure.compared);
    let mut part =
        Part::below(say!("What products did differs by {piece} at {at}", piece, at)).about(Topic::ByPiece);
    part.say(say!(
        "Mean of {compared} on each {piece}, in {unit}, with the number of sections. Treatments by {pieces}: F {f} on {df} and {degrees}, \
         p {p}. Differences over all {pieces} together hold for their average; on one {piece} they may be others, and the intervals of \
         the tables have that in their scatter.",
        compared,
        piece,
        unit = style.unit,
        pieces = plural(2, piece),
        f = numbers::fixed(by.all.f, 1),
        df = numbers::fixed(by.all.df, 0),
        degrees = numbers::degrees(by.alike.df),
        p = numbers::probability(by.all.p)
    ));
    let mut heads = vec![say!("Product").to_owned()];
    heads.extend(pieces(by, grouping).iter().map(|name| format!(">{name}")));
    let mut table = Table::new(&heads);
    let mut rows: Vec<_> = by.rows.iter().collect();
    rows.sort_by_key(|(treatment, _)| ranking.place(*treatment));
    for (treatment, means) in rows {
        let mut cells = vec![Figure::from(names::treatment(study, *treatment))];
        cells.extend(means.iter().map(|mean| match mean {
            Some(mean) => {
                let text = style.compared(mean.mean, measure.compared).text;
                Figure { raw: Some(mean.mean), text: format!("{text} ({})", mean.n) }
            }
            None => Figure::none(),
        }));
        table.row(cells);
    }
    part.table(table);
    part.rests_on(measure, [round.round]);
    Some(part)
}

/// What the answer says instead of "no larger than sections treated alike can show".
pub(super) fn none_separable(material: &Material<'_>, at: Place<'_>) -> Option<String> {
    let (_, grouping) = found(material)?;
    let pieces = plural(2, &grouping.name.value);
    Some(say!(
        "By {measure} at {round}, every product may lead over all {pieces} together, since what products do otherwise on one of them than on \
         another is in the scatter. That is not the same as alike.",
        measure = at.measure(),
        round = at.round(),
        pieces
    ))
}

/// The headline where no product leads over all pieces, and another one comes first on one of them than on another.
pub(super) fn headline(material: &Material<'_>, at: Place<'_>) -> Option<String> {
    let (_, grouping) = found(material).filter(|_| order_differs(material, at))?;
    Some(say!(
        "Which product comes first differs by {piece} after {round}",
        piece = grouping.name.value,
        round = at.round()
    ))
}
