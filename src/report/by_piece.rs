//! Where products do otherwise on one piece, or at one site, than on another: what the answer says of it, and the means piece by piece.

use super::asked::Place;
use super::blocks::{Part, Table, Topic};
use super::claim::Claim;
use super::comparison::Ranking;
use super::material::Material;
use super::names;
use super::numbers::{self, Figure, Style, with_unit};
use crate::analysis::{Basis, ByPiece, Interval, PieceBare, PiecePair, RoundAnalysis, ScatterOf};
use crate::speech::{count, list, plural, say};
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
    // At several sites the test is by site, also where products are compared within planks.
    Some((by, material.study.by_site.as_ref().unwrap_or(grouping)))
}

/// Whether differences at the round that is shown are averages over the sites, so that nothing of that is in their scatter.
pub(super) fn over_sites(material: &Material<'_>) -> bool {
    material.analysis.shown().and_then(|(_, round)| basis(round)).is_some_and(|basis| basis.over_sites)
}

fn basis(round: &RoundAnalysis) -> Option<&Basis> {
    let bare = round.to_bare.as_ref().ok().map(|table| &table.basis);
    bare.or(round.lead.as_ref().ok().map(|table| &table.basis))
}

/// How many sections the test is of.
fn sections(by: &ByPiece) -> usize {
    by.rows.iter().flat_map(|(_, means)| means).flatten().map(|mean| mean.n).sum()
}

/// Whether it stands out; then whether it does among products.
pub(super) fn stands_out(material: &Material<'_>) -> Option<bool> {
    found(material).map(|(by, _)| by.products_differ())
}

/// How large it is in this study, whether it stands out or not: the test, and how far products lie from bare at each site in the mean.
pub(super) fn how_large(material: &Material<'_>) -> Option<String> {
    let study = material.study;
    let (measure, round) = material.analysis.shown()?;
    let by = material.analysis.by_piece.as_ref()?;
    let grouping = study.by_site.as_ref()?;
    let style = Style::at(material, measure.measure, round);
    let sites = pieces(by, grouping);
    let whole = by.less_bare.iter().flatten().all(|less| less.interval.is_some());
    let each = sites.iter().zip(&by.less_bare).filter_map(|(site, less)| {
        let less = (*less)?;
        let difference = with_unit(&style.signed(less.difference), style.difference_unit());
        Some(match less.interval.filter(|_| whole) {
            Some(own) => say!(
                "{site} {difference} (from {low} to {high})",
                site,
                difference,
                low = style.end(own.low),
                high = style.end(own.high)
            ),
            None => format!("{site} {difference}"),
        })
    });
    let each: Vec<String> = each.collect();
    let test = say!(
        "Treatments by {sites}: F {f} on {df} and {degrees}, p {p} ({sections}).",
        sites = plural(2, &grouping.name.value),
        f = numbers::fixed(by.all.f, 1),
        df = numbers::fixed(by.all.df, 0),
        degrees = numbers::degrees(by.alike.df),
        p = numbers::probability(by.all.p),
        sections = count(sections(by), "section")
    );
    if each.len() < 2 {
        return Some(test);
    }
    let each = list(&each, "and");
    let blocks = match study.unit(measure.measure) {
        Unit::Within(own) | Unit::Linked(own) if own.name.value != grouping.name.value => Some(own),
        _ => None,
    };
    let sites = plural(2, &grouping.name.value);
    let less = match blocks.map(|blocks| plural(2, &blocks.name.value)) {
        _ if !whole => say!(
            "Products less bare, in the mean: {each}; no interval is given, since what lies at one of these {sites} stands on pieces that do not link it.",
            each,
            sites
        ),
        Some(blocks) => say!(
            "Products less bare, in the mean, with what {blocks} add taken out: {each}; the intervals hold together at 95 % (Bonferroni), on the scatter \
             that this test rests on.",
            each,
            blocks
        ),
        None => say!(
            "Products less bare, in the mean: {each}; the intervals hold together at 95 % (Bonferroni), on the scatter that this test rests on.",
            each
        ),
    };
    let single = if by.stands_out() {
        String::new()
    } else {
        say!(
            " Product by product no difference at one of these {sites} is given: the test gives no ground to look for one.",
            sites
        )
    };
    Some(format!("{test} {less}{single}"))
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
    let head = if order_differs(material, at) {
        say!(
            "Which product comes first differs by {piece} (told apart within each {piece}, at 5 % over all)",
            piece
        )
    } else {
        let told = by.products.filter(|products| products.stands_out()).unwrap_or(by.all);
        say!("How far treatments stand apart differs by {piece} ({test})", piece, test = test(told.p))
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

/// What stands behind the sentence on bare where a product does not stand to it at every site, or on every piece, as it does over all.
pub(super) fn against_bare(material: &Material<'_>, at: Place<'_>) -> Option<String> {
    let (by, grouping) = found(material)?;
    let lower = at.study.measure(at.question.measure).direction == Direction::Lower;
    let neither = at.study.measure(at.question.measure).direction == Direction::Neither;
    let (pieces, name) = (pieces(by, grouping), &grouping.name.value);
    let standing = |row: &PieceBare| row.told.then_some((row.difference > 0.0) != lower);
    let of = |place: usize| by.against_bare.iter().filter(move |row| row.place == place);
    let first: Vec<_> = of(0).map(|row| (row.treatment, standing(row))).collect();
    let differs = |place: &usize| {
        of(*place).any(|row| first.iter().any(|own| own.0 == row.treatment && own.1 != standing(row)))
    };
    if neither || !(1..pieces.len()).any(|place| differs(&place)) {
        return None;
    }
    if first.len() * pieces.len() > FEW {
        return Some(say!(
            "That holds over all {pieces} together, and not on each {name}.",
            name,
            pieces = plural(2, name)
        ));
    }
    let at = |(place, site): (usize, &&str)| {
        let among = |wanted: Option<bool>| {
            let own = of(place).filter(|row| standing(row) == wanted);
            list(&own.map(|row| names::treatment(at.study, row.treatment)).collect::<Vec<_>>(), "and")
        };
        let kinds = [
            (among(Some(true)), say!("better")),
            (among(Some(false)), say!("worse")),
            (among(None), say!("not told apart")),
        ];
        let told = kinds.iter().filter(|(who, _)| !who.is_empty()).map(|(who, how)| format!("{who} {how}"));
        format!("{site} {}", told.collect::<Vec<_>>().join(", "))
    };
    Some(say!(
        "That holds over all {pieces} together; against bare by {name}: {told}.",
        name,
        pieces = plural(2, name),
        told = pieces.iter().enumerate().map(at).collect::<Vec<_>>().join("; ")
    ))
}

/// `coast: Alder −1.6, Birch −14.9, bare −30.0 GU; yard: ...`, the foremost first.
fn means(at: Place<'_>, by: &ByPiece, grouping: &Grouping) -> Option<String> {
    let told = |treatment: &Treatment| matches!(treatment, Treatment::Product(_) | Treatment::Bare);
    let rows: Vec<_> = by.rows.iter().filter(|(treatment, _)| told(treatment)).collect();
    let products = rows.iter().filter(|(treatment, _)| matches!(treatment, Treatment::Product(_))).count();
    if products * by.pieces.len() > FEW {
        return None;
    }
    let style = at.style();
    let lower = at.study.measure(at.question.measure).direction == Direction::Lower;
    let of = |(place, name): (usize, &str)| {
        let mut read: Vec<(f64, String)> = rows
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

/// What is in the scatter beside pieces, behind the sentence that tells it; then what is left of it among products.
pub(super) fn in_the_scatter(material: &Material<'_>, style: Style<'_>) -> Option<String> {
    let (by, grouping) = found(material).filter(|_| !over_sites(material))?;
    let holds = say!(
        "That holds what treatments do otherwise on one {piece} than on another; sections that carry the same on the same {piece} scatter \
         by {sd} ({degrees}).",
        piece = grouping.name.value,
        sd = with_unit(&numbers::fixed(by.alike.sd, style.decimals + 1), style.unit),
        degrees = numbers::degrees(by.alike.df)
    );
    Some(match among_products(material, style) {
        Some(among) => format!("{holds} {among}"),
        None => holds,
    })
}

fn among_products(material: &Material<'_>, style: Style<'_>) -> Option<String> {
    let lead = material.analysis.shown()?.1.lead.as_ref().ok();
    let spread = lead.filter(|table| table.basis.scatter_of == ScatterOf::Products)?.basis.spread?;
    Some(say!(
        "Products are held against each other by {sd} ({degrees}), without what bare does otherwise.",
        sd = with_unit(&numbers::fixed(spread.sd, style.decimals + 1), style.unit),
        degrees = numbers::degrees(spread.df)
    ))
}

/// The means piece by piece.
pub(super) fn part(material: &Material<'_>, ranking: &Ranking) -> Option<Part> {
    let (by, grouping) = found(material)?;
    let (measure, round) = material.analysis.shown()?;
    let study: &Study = material.study;
    let style = Style::at(material, measure.measure, round);
    let (at, piece) = (names::round(study, round.round), &grouping.name.value);
    let compared = names::compared(study, measure.measure, &at, measure.compared);
    let heading = if by.products_differ() {
        say!("What products did differs by {piece} at {at}", piece, at)
    } else {
        say!("How far treatments stand apart differs by {piece} at {at}", piece, at)
    };
    let mut part = Part::below(heading).about(Topic::ByPiece);
    part.say(say!(
        "Mean of {compared} on each {piece}, in {unit}, with the number of sections. Treatments by {pieces}: F {f} on {df} and {degrees}, \
         p {p}. {hold}",
        compared,
        piece,
        unit = style.unit,
        hold = if over_sites(material) {
            say!(
                "The differences of the tables are averages over these {pieces}, each counting alike, and so are their intervals, which have \
                 nothing of this in their scatter: at one {piece} a difference may be another, and of another {piece} they say nothing.",
                pieces = plural(2, piece),
                piece
            )
        } else {
            say!(
                "The intervals of the tables have that in their scatter, as if it were chance alone; on one {piece} a difference may be \
                 another.",
                piece
            )
        },
        pieces = plural(2, piece),
        f = numbers::fixed(by.all.f, 1),
        df = numbers::fixed(by.all.df, 0),
        degrees = numbers::degrees(by.alike.df),
        p = numbers::probability(by.all.p)
    ));
    if let Some(products) = by.products {
        let among = basis(round).is_some_and(|basis| !basis.over_sites);
        part.say(say!(
            "Products alone by {pieces}: F {f} on {df} and {degrees}, p {p}.{among}",
            among = if among {
                say!(
                    " Their differences from each other, and who may lead, have nothing in their scatter of what bare does otherwise."
                )
            } else {
                ""
            },
            pieces = plural(2, piece),
            f = numbers::fixed(products.f, 1),
            df = numbers::fixed(products.df, 0),
            degrees = numbers::degrees(by.alike.df),
            p = numbers::probability(products.p)
        ));
    }
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
    for (words, table) in verdicts((study, grouping), by, (ranking, style)) {
        part.say(words);
        part.table(table);
    }
    part.rests_on(measure, [round.round]);
    Some(part)
}

/// Up to so many pairs all stand in the table; beyond, those that are told apart do.
const FEW_PAIRS: usize = 15;

/// What is told piece by piece, with the differences and intervals that it rests on: against bare, and of every two products.
fn verdicts(
    (study, grouping): (&Study, &Grouping),
    by: &ByPiece,
    (ranking, style): (&Ranking, Style<'_>),
) -> Vec<(String, Table)> {
    let (pieces, name) = (pieces(by, grouping), &grouping.name.value);
    let holds = || {
        say!(
            "on the scatter of sections that carry the same on the same {name}, {sd} ({degrees}). Intervals are simultaneous at {level} % on each {name}, \
             so that those of {n} hold together at 95 %, and p is multiplied by as many (Bonferroni)",
            name,
            sd = with_unit(&numbers::fixed(by.alike.sd, style.decimals + 1), style.difference_unit()),
            degrees = numbers::degrees(by.alike.df),
            level = numbers::fixed(100.0 - 5.0 / pieces.len().max(1) as f64, 1),
            n = count(pieces.len(), name)
        )
    };
    let row = |place: usize, names: &[String], difference: f64, (interval, p): (Interval, f64)| {
        let mut cells = vec![Figure::from(pieces.get(place).copied().unwrap_or_default())];
        cells.extend(names.iter().map(|name| Figure::from(name.clone())));
        cells.push(Figure { raw: Some(difference), text: style.signed(difference) });
        cells.push(Figure::from(style.span(interval.low, interval.high)));
        cells.push(Figure { raw: Some(p), text: numbers::probability(p) });
        cells.push(Figure::from(if interval.leaves_out_zero() {
            say!("told apart")
        } else {
            say!("not told apart")
        }));
        cells
    };
    let heads = |products: &[&str]| {
        let mut heads = vec![names::capital(name)];
        heads.extend(products.iter().map(|&head| head.to_owned()));
        heads.push(say!(">Difference, {unit}", unit = style.difference_unit()));
        heads.extend([say!(">95 % interval").to_owned(), ">p".to_owned(), String::new()]);
        Table::new(&heads)
    };
    let mut told = Vec::new();
    if !by.against_bare.is_empty() {
        let mut table = heads(&[say!("Product")]);
        let mut rows: Vec<&PieceBare> = by.against_bare.iter().collect();
        rows.sort_by_key(|row| (row.place, ranking.place(row.treatment)));
        for one in rows {
            let who = [names::treatment(study, one.treatment)];
            table.row(row(one.place, &who, one.difference, (one.interval, one.p)));
        }
        told.push((say!("Against bare on each {name} (Dunnett), {holds}.", name, holds = holds()), table));
    }
    if !by.pairs.is_empty() {
        let all = by.pairs.len();
        let mut rows: Vec<&PiecePair> = by.pairs.iter().collect();
        let few = all <= FEW_PAIRS;
        rows.retain(|pair| few || pair.interval.leaves_out_zero());
        rows.sort_by_key(|pair| (pair.place, ranking.place(pair.one), ranking.place(pair.other)));
        let mut table = heads(&[say!("Product"), say!("against")]);
        for pair in &rows {
            let who = [names::treatment(study, pair.one), names::treatment(study, pair.other)];
            table.row(row(pair.place, &who, pair.difference, (pair.interval, pair.p)));
        }
        let head = say!(
            "Products against each other on each {name} (Tukey-Kramer), {holds}.",
            name,
            holds = holds()
        );
        let kept =
            say!(" Of {all} such pairs the table has the {n} that are told apart.", all, n = rows.len());
        told.push((if few { head } else { head + &kept }, table));
    }
    if told.is_empty() {
        let text = say!(
            "No difference at one {piece} is given with an interval: what lies there stands on unlike pieces, so that it holds what these add.",
            piece = name
        );
        told.push((text, heads(&[])));
    }
    told
}

/// What the answer says instead of "no larger than sections treated alike can show".
pub(super) fn none_separable(material: &Material<'_>, at: Place<'_>) -> Option<String> {
    let (_, grouping) = found(material).filter(|(by, _)| by.products_differ())?;
    let pieces = plural(2, &grouping.name.value);
    if over_sites(material) {
        return Some(say!(
            "By {measure} at {round}, every product may lead on the average over these {pieces}: there the differences among them are no larger \
             than sections that carry the same at the same {piece} can show. That is not the same as alike.",
            measure = at.measure(),
            round = at.round(),
            pieces,
            piece = grouping.name.value
        ));
    }
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
        "Which product comes first differs by {piece} at {round}",
        piece = grouping.name.value,
        round = at.round()
    ))
}
