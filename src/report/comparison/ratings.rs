//! Ratings: medians of marks, tests on ranks against bare, and how far the raters agree.

use super::super::blocks::{Part, Table, Topic};
use super::super::footing::carried_marks;
use super::super::material::Material;
use super::super::numbers::{self, Figure};
use super::super::{names, rated, stopped};
use super::ranking::Ranking;
use crate::analysis::{Agreeing, MeasureAnalysis, RatingRow, RatingTable, Role, Side};
use crate::speech::{count, list, plural, say};
use crate::study::{MeasureId, MeasureKind, Study, Treatment, Unit};
use std::collections::BTreeSet;

pub(in crate::report) fn parts(material: &Material<'_>, ranking: &Ranking) -> Vec<Part> {
    let tables = material.analysis.measures.iter();
    let tables = tables.filter_map(|measure| Some((measure, measure.rating.as_ref()?)));
    tables.map(|(measure, table)| part(material, ranking, measure, table)).collect()
}

fn part(material: &Material<'_>, ranking: &Ranking, analysed: &MeasureAnalysis, table: &RatingTable) -> Part {
    let measure = analysed.measure;
    let study = material.study;
    let name = names::measure(study, measure);
    let mut part = Part::new(rated::headline(study, table, name)).about(Topic::Rating(measure));
    part.say(say!("Marks of {name} at {round}, {direction}; {units}, {marks}. Each section stands with the median of its marks, each product with the \
         median of its sections. Marks are ranked and never averaged.", name, round = names::round(study, table.round), direction = names::direction(study.measure(measure).direction), units = names::units(study, measure, table.sections), marks = marks_given(table)));
    part.say(tests(study, (measure, table), material.analysis.further_looks));
    part.table(rows(material, ranking, (measure, table)));
    if let Some(text) = rated::to_beat(study, table) {
        part.say(text);
        part.table(to_benchmark(material, ranking, table));
    }
    if let Some(marks) = carried_marks(study, analysed, table.round) {
        part.say(marks);
    }
    part.rests_on_levels(measure, [table.round]);
    if let Some(text) = fewer_raters(material, measure) {
        part.say(text);
    }
    if !table.raters.is_empty() {
        part.say(
            say!("How far two raters agree, over the rounds after the reference and after fresh: the share of the same marks, by how much the second \
             marks higher on average, and kappa weighted by the distance of \
             the marks, linearly (1: full agreement, 0: as chance would have it). Marks of one section over time resemble each other, \
             so no p is given."),
        );
        part.table(agreement(&table.raters));
    }
    part
}

/// Where the study says that several people rate and its file names fewer, nobody can say how far they agree.
fn fewer_raters(material: &Material<'_>, measure: MeasureId) -> Option<String> {
    let MeasureKind::Rating(scale) = &material.study.measure(measure).kind else { return None };
    let planned = scale.raters.filter(|&planned| planned > 1)? as usize;
    let readings = material.readings;
    let cells = || readings.cells().iter().filter(|cell| cell.measure == measure);
    let named: BTreeSet<&str> = cells().flat_map(|cell| readings.read_by(cell)).collect();
    let named: Vec<&str> = named.into_iter().collect();
    if named.len() >= planned {
        return None;
    }
    let planned = planned.to_string();
    Some(match named.as_slice() {
        [] => say!(
            "The study plans marks of {planned} people, and its files name nobody: how far raters agree is not known, and several marks of a section may \
             be those of one.",
            planned
        ),
        named => say!(
            "The study plans marks of {planned} people, and its files name only {names}: how far raters agree is not known, and several marks of a \
             section may be those of one.",
            planned,
            names = list(named, "and")
        ),
    })
}

/// How raters are compared, where some marked the same.
pub(in crate::report) fn raters(material: &Material<'_>) -> Option<String> {
    let mut tables = material.analysis.measures.iter().filter_map(|measure| measure.rating.as_ref());
    tables.any(|table| !table.raters.is_empty()).then(|| {
        say!(
            "Raters: the share of equal marks, how much higher one marks, and kappa weighted linearly by the distance of the marks (Cohen 1968); they are \
             told and change no test."
        )
        .to_owned()
    })
}

/// `12 marks`; where patches were stopped before, how many of those that count are of an earlier round.
fn marks_given(table: &RatingTable) -> String {
    let here = table.readings as usize;
    let all: usize = table.marks.iter().flatten().map(|&(_, times)| times).sum();
    let marks = count(all.max(here), "mark");
    match all.saturating_sub(here) {
        0 => marks,
        earlier => say!(
            "{marks}, {earlier} of them given at an earlier round, at which a patch was stopped",
            marks,
            earlier
        ),
    }
}

fn tests(study: &Study, (measure, table): (MeasureId, &RatingTable), looks: usize) -> String {
    let mut sentences = Vec::new();
    let piece = match (study.unit(measure), study.by_site.as_ref()) {
        (_, Some(sites)) if table.by_site => sites.name.value.as_str(),
        (Unit::Within(grouping) | Unit::Linked(grouping), _) if table.within => grouping.name.value.as_str(),
        _ => "",
    };
    if let Some(all) = table.all.filter(|_| table.within) {
        sentences.push(say!(
            "All treatments together, with marks ranked within each {piece}, so that what a {piece} adds decides nothing: {h} on \
             {degrees}, p {p} by exchange of the ranks within each {piece}, drawn by chance (Skillings and Mack 1981; with every \
             treatment once on every {piece} that is Friedman 1937).",
            piece,
            h = numbers::fixed(all.h, 2),
            degrees = numbers::degrees(all.df),
            p = numbers::probability(all.p.p)
        ));
    } else if let Some(all) = table.all {
        let how = if all.p.exact {
            say!("every way to deal out the ranks counted").to_owned()
        } else {
            say!("by exchange of the ranks, drawn by chance from all ways to deal them out").to_owned()
        };
        sentences.push(say!(
            "All treatments together: H = {h} on {degrees}, p {p} (Kruskal and Wallis, {how}).",
            how,
            h = numbers::fixed(all.h, 2),
            degrees = numbers::degrees(all.df),
            p = numbers::probability(all.p.p)
        ));
    }
    if table.rows.iter().any(|row| row.p.is_some()) {
        let covered = match table.role {
            Role::Deciding => say!("for the rows of this table").to_owned(),
            _ => say!("for all {looks} further looks", looks),
        };
        sentences.push(if table.rows_within {
            say!("Each row against bare by the ranks of the two within each {piece} (van Elteren 1960), p adjusted after Holm {covered}; \
             told apart where it is below 0.05.", covered, piece)
        } else if table.within && !table.by_site {
            say!("Each row against bare by the ranks of the two (Wilcoxon, Mann and Whitney), with what each {piece} adds left in them, since so few could \
             show nothing by themselves; p adjusted after Holm {covered}; told apart where it is below 0.05.", covered, piece)
        } else {
            say!("Each row against bare by the ranks of the two (Wilcoxon, Mann and Whitney), p adjusted after Holm {covered}; \
             told apart where it is below 0.05.", covered)
        });
    } else if table.rows.iter().any(|row| row.treatment == Treatment::Bare) {
        sentences.push(
            say!("Bare and what else has marks stand on no common piece, so that nothing is compared.")
                .to_owned(),
        );
    } else {
        sentences.push(say!("There are no bare sections with marks to compare with.").to_owned());
    }
    sentences.extend(rated::unable(table));
    sentences.join(" ")
}

fn rows(material: &Material<'_>, ranking: &Ranking, (measure, table): (MeasureId, &RatingTable)) -> Table {
    let study = material.study;
    let mut rows: Vec<_> = table.rows.iter().zip(&table.marks).zip(&table.at_sites).collect();
    rows.sort_by_key(|((row, _), _)| ranking.place(row.treatment));
    let sites = study.by_site.as_ref().map(|sites| sites.pieces()).unwrap_or_default();
    let sites = if table.at_sites.iter().all(Vec::is_empty) { Vec::new() } else { sites };
    let mut heads =
        vec![say!("Product").to_owned(), names::units_head(study, measure), say!(">Median mark").to_owned()];
    heads.extend(sites.iter().map(|(site, _)| say!(">Median at {site} (sections)", site)));
    heads.extend([
        say!(">Lowest to highest {unit}", unit = plural(1, names::unit(study, measure))),
        say!("Marks given").to_owned(),
        say!("Against bare").to_owned(),
        say!(">p (Holm)").to_owned(),
    ]);
    let mut out = Table::new(&heads);
    let mark = |value: f64| numbers::decimal(value);
    for ((row, marks), medians) in rows {
        let marks = marks.iter().map(|&(value, times)| format!("{}\u{a0}×{times}", mark(value)));
        let word = if row.treatment == Treatment::Bare { numbers::DASH } else { word(row) };
        let mut cells = vec![
            Figure::from(names::treatment(material.study, row.treatment)),
            Figure::from(row.n.to_string()),
            Figure { raw: Some(row.median), text: mark(row.median) },
        ];
        cells.extend(medians.iter().map(|median| match median {
            Some((median, n)) => Figure { raw: Some(*median), text: format!("{} ({n})", mark(*median)) },
            None => Figure::none(),
        }));
        cells.extend([
            Figure::from(say!(
                "{lowest} to {highest}",
                lowest = mark(row.lowest),
                highest = mark(row.highest)
            )),
            Figure::from(marks.collect::<Vec<_>>().join(", ")),
            Figure::from(word),
            p_of(row),
        ]);
        out.row(cells);
    }
    out.behind(1)
}

fn to_benchmark(material: &Material<'_>, ranking: &Ranking, table: &RatingTable) -> Table {
    let mut rows: Vec<&RatingRow> = table.to_benchmark.iter().collect();
    rows.sort_by_key(|row| ranking.place(row.treatment));
    let mut out = Table::new(&[say!("Product"), say!("Against the one to beat"), say!(">p (Holm)")]);
    for row in rows {
        out.row(vec![
            Figure::from(names::treatment(material.study, row.treatment)),
            Figure::from(word(row)),
            p_of(row),
        ]);
    }
    out
}

/// What a row that was tested says.
fn word(row: &RatingRow) -> &'static str {
    match row.p {
        None => say!("not tested"),
        Some(_) if !row.able && row.p_holm.is_none() => say!("too few sections"),
        Some(_) if row.bound => say!("a bound, no word"),
        Some(_) if rated::told(row) => match row.side {
            Side::Better => say!("told apart, better"),
            Side::Worse => say!("told apart, worse"),
            Side::Neither => say!("told apart"),
        },
        Some(_) => say!("not told apart"),
    }
}

/// From all ways to deal the ranks out, else marked as one from the normal curve.
fn p_of(row: &RatingRow) -> Figure {
    let exact = row.p.is_none_or(|p| p.exact);
    let text = |p: f64| {
        let p = numbers::probability(p);
        if exact { p } else { say!("{p} (normal)", p) }
    };
    if row.bound && row.p_holm.is_some() {
        return Figure::from(stopped::counted());
    }
    row.p_holm.map_or_else(Figure::none, |p| Figure { raw: Some(p), text: text(p) })
}

fn agreement(raters: &[Agreeing]) -> Table {
    let mut out = Table::new(&[
        say!("Rater"),
        say!("and"),
        say!(">Sections"),
        say!(">Marks of both"),
        say!(">The same mark"),
        say!(">Second less first"),
        say!(">Weighted kappa"),
    ]);
    for pair in raters {
        out.row(vec![
            Figure::from(pair.one.as_str()),
            Figure::from(pair.other.as_str()),
            Figure::from(pair.sections.to_string()),
            Figure::from(pair.pairs.to_string()),
            Figure { raw: Some(pair.same), text: format!("{} %", numbers::fixed(100.0 * pair.same, 0)) },
            Figure { raw: Some(pair.apart), text: numbers::signed(pair.apart, 2) },
            pair.kappa.map_or_else(
                || Figure::absent(say!("both gave one mark only")),
                |kappa| Figure { raw: Some(kappa), text: numbers::fixed(kappa, 2) },
            ),
        ]);
    }
    out
}
