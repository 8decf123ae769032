//! Differences to bare with their intervals, who may lead, and the further looks.

use super::super::blocks::{Drawing, Part, Picture, Table};
use super::super::charts::{IntervalChart, IntervalRow};
use super::super::material::Material;
use super::super::names;
use super::super::numbers::{self, Figure, Style};
use super::ranking::Ranking;
use crate::analysis::{BareRow, BareTable, LeadTable, MeasureAnalysis, Role, RoundAnalysis, Strength, Word};
use crate::diag::count;
use crate::study::{Direction, Study, Treatment};

pub(in crate::report) fn parts(material: &Material<'_>, ranking: &Ranking) -> Vec<Part> {
    let Some((measure, round)) = material.analysis.shown() else { return Vec::new() };
    let mut parts =
        vec![against_bare(material, ranking, measure, round), lead(material, ranking, measure, round)];
    parts.extend(further(material, ranking));
    parts
}

fn against_bare(
    material: &Material<'_>,
    ranking: &Ranking,
    measure: &MeasureAnalysis,
    round: &RoundAnalysis,
) -> Part {
    let study = material.study;
    let (name, at) = (names::measure(study, measure.measure), names::round(study, round.round));
    let table = match &round.to_bare {
        Ok(table) => table,
        Err(reason) => {
            let mut part = Part::new(format!("No comparison with bare sections at {at}"));
            part.say(names::no_table(*reason));
            return part;
        }
    };
    let style = Style::of(study, study.measure(measure.measure));
    let mut part = Part::new(bare_heading(table, at));
    part.say(format!(
        "Difference of the change of {name} to that of {}, {} {}, at {at}. {}",
        count(table.bare.n, "bare section"),
        style.signed(table.bare.mean),
        style.unit,
        interval_words(study, measure, table, style)
    ));
    let mut rows: Vec<&BareRow> = table.rows.iter().collect();
    rows.sort_by_key(|row| ranking.place(row.treatment));
    part.picture(Picture {
        address: "report.html#picture-against-bare".to_owned(),
        title: format!("Difference to the bare sections in the change of {name} at {at}"),
        note: bare_note(material, table, round),
        drawing: Drawing::Intervals(chart(study, ranking, measure, &rows, style)),
    });
    part.table(bare_rows(study, &rows, style, round.role));
    part
}

fn bare_heading(table: &BareTable, at: &str) -> String {
    let products = || table.rows.iter().filter(|row| matches!(row.treatment, Treatment::Product(_)));
    let told = products().filter(|row| matches!(row.word, Ok(Word::Seen | Word::Measurable))).count();
    let judged = products().filter(|row| row.word.is_ok()).count();
    let all = products().count();
    if judged == 0 {
        format!("Differences to bare at {at}, without a judgement")
    } else if told == 1 {
        format!("One of {} differs from bare at {at}", count(all, "product"))
    } else {
        format!("{} differ from bare at {at}", names::capital(&names::of_products(told, all)))
    }
}

fn interval_words(study: &Study, measure: &MeasureAnalysis, table: &BareTable, style: Style<'_>) -> String {
    if table.basis.strength != Strength::Full {
        return format!("{}.", names::capital(names::strength(table.basis.strength)));
    }
    let known = study.measure(measure.measure);
    let limit = |value: f64| style.value(value).text;
    let alike = known
        .alike
        .as_ref()
        .map(|alike| format!("alike: the whole interval lies within {} of zero", limit(alike.value)));
    let seen = known
        .seen
        .as_ref()
        .map(|seen| format!("seen: all of it lies beyond {} on one side", limit(seen.value)));
    let words: Vec<String> = alike.into_iter().chain(seen).collect();
    let words =
        if words.is_empty() { String::new() } else { format!("{}; ", names::capital(&words.join("; "))) };
    let words = format!("{words}measurable: it leaves out zero; not settled: none of these.");
    format!("Intervals hold together at 95 %. {}", names::capital(&words))
}

fn bare_note(material: &Material<'_>, table: &BareTable, round: &RoundAnalysis) -> String {
    let n: usize = table.rows.iter().map(|row| row.n).sum();
    let day = names::round_day(material.study, material.readings, round.round);
    let day = day.map_or_else(String::new, |day| format!(", read {day}"));
    let spread = table
        .basis
        .spread
        .map_or_else(String::new, |spread| format!(", {} degrees of freedom", numbers::degrees(spread.df)));
    format!(
        "Points are means, lines simultaneous 95 % intervals (Dunnett). {} against {}{spread}{day}.",
        count(n, "section"),
        count(table.bare.n, "bare section")
    )
}

fn chart(
    study: &Study,
    ranking: &Ranking,
    measure: &MeasureAnalysis,
    rows: &[&BareRow],
    style: Style<'_>,
) -> IntervalChart {
    let known = study.measure(measure.measure);
    let sides = match known.direction {
        Direction::Higher => ("worse than bare", "better than bare"),
        Direction::Lower => ("better than bare", "worse than bare"),
        Direction::Neither => ("below bare", "above bare"),
    };
    IntervalChart {
        axis: format!("difference to bare, {}", style.unit),
        decimals: style.decimals,
        alike: known.alike.as_ref().map(|alike| alike.value),
        seen: known.seen.as_ref().map(|seen| seen.value),
        sides: (sides.0.to_owned(), sides.1.to_owned()),
        rows: rows
            .iter()
            .map(|row| IntervalRow {
                name: names::treatment(study, row.treatment),
                mark: ranking.mark(row.treatment),
                value: row.difference,
                interval: row.interval.map(|interval| (interval.low, interval.high)),
                word: row.word.map_or("", names::word).to_owned(),
            })
            .collect(),
    }
}

fn bare_rows(study: &Study, rows: &[&BareRow], style: Style<'_>, role: Role) -> Table {
    let p = if role == Role::Deciding { ">p" } else { ">p (Holm)" };
    let unit = format!(">Difference, {}", style.unit);
    let mut table = Table::new(&[
        "Product",
        ">Sections",
        &format!(">Change, {}", style.unit),
        &unit,
        ">95 % interval",
        "Word",
        p,
    ]);
    for row in rows {
        let probability = if role == Role::Deciding { row.p } else { row.p_holm };
        table.row(vec![
            Figure::from(named(study, row.treatment)),
            Figure::from(row.n.to_string()),
            Figure { raw: Some(row.change), text: style.signed(row.change) },
            Figure { raw: Some(row.difference), text: style.signed(row.difference) },
            row.interval.map_or_else(Figure::none, |i| Figure::from(style.span(i.low, i.high))),
            Figure::from(row.word.map_or(numbers::DASH, names::word)),
            probability.map_or_else(Figure::none, |p| Figure { raw: Some(p), text: numbers::probability(p) }),
        ]);
    }
    table
}

fn named(study: &Study, treatment: Treatment) -> String {
    let name = names::treatment(study, treatment);
    let beat = matches!(treatment, Treatment::Product(id) if study.benchmark == Some(id));
    if beat { format!("{name} (to beat)") } else { name }
}

fn lead(
    material: &Material<'_>,
    ranking: &Ranking,
    measure: &MeasureAnalysis,
    round: &RoundAnalysis,
) -> Part {
    let study = material.study;
    let at = names::round(study, round.round);
    let table = match &round.lead {
        Ok(table) => table,
        Err(reason) => {
            let mut part = Part::new(format!("No product leads at {at}"));
            part.say(names::no_table(*reason));
            return part;
        }
    };
    let mut part = Part::new(lead_heading(table, at));
    match &table.may_lead {
        Ok(_) => part.say(
            "Lead of each product over the best mean among the others. A product may lead where the upper end of its \
             interval lies above zero (Hsu). \"Not ahead\" means: not ahead of the best of the others; that is less \
             than saying that it is worse.",
        ),
        Err(reason) => part.say(format!("No statement on who may lead: {}.", names::strength(*reason))),
    }
    part.table(lead_rows(study, ranking, table, Style::of(study, study.measure(measure.measure))));
    part
}

fn lead_heading(table: &LeadTable, at: &str) -> String {
    match &table.may_lead {
        Ok(ids) if ids.len() == 1 => {
            format!("One of {} may lead at {at}", count(table.rows.len(), "product"))
        }
        Ok(ids) => {
            format!("{} may lead at {at}", names::capital(&names::of_products(ids.len(), table.rows.len())))
        }
        Err(_) => format!("Who leads at {at} cannot be told"),
    }
}

fn lead_rows(study: &Study, ranking: &Ranking, table: &LeadTable, style: Style<'_>) -> Table {
    let mut rows = table.rows.clone();
    rows.sort_by_key(|row| ranking.place(Treatment::Product(row.product)));
    let heads = [
        "Product",
        ">Sections",
        &format!(">Change, {}", style.unit),
        &format!(">Lead over the best other, {}", style.unit),
        ">95 % interval",
        "May lead",
    ];
    let mut out = Table::new(&heads);
    for row in rows {
        let may = match &table.may_lead {
            Ok(ids) if ids.contains(&row.product) => "may lead",
            Ok(_) => "not ahead",
            Err(_) => numbers::DASH,
        };
        out.row(vec![
            Figure::from(named(study, Treatment::Product(row.product))),
            Figure::from(row.n.to_string()),
            Figure { raw: Some(row.change), text: style.signed(row.change) },
            Figure { raw: Some(row.lead), text: style.signed(row.lead) },
            row.interval.map_or_else(Figure::none, |i| Figure::from(style.span(i.low, i.high))),
            Figure::from(may),
        ]);
    }
    out
}

// One table a measure: product by round, the difference to bare and its word.
fn further(material: &Material<'_>, ranking: &Ranking) -> Option<Part> {
    let study = material.study;
    let mut part = Part::new("Further looks at other rounds and measures");
    part.say(format!(
        "Differences to bare at every other round. Their p values, {} in all, are adjusted together after Holm; an asterisk marks an \
         adjusted p below 0.05. The word stands for the interval of that one round.",
        material.analysis.further_looks
    ));
    let before = part.blocks.len();
    for measure in &material.analysis.measures {
        let rounds: Vec<(&RoundAnalysis, &BareTable)> = measure
            .rounds
            .iter()
            .filter(|round| round.role == Role::FurtherLook)
            .filter_map(|round| Some((round, round.to_bare.as_ref().ok()?)))
            .collect();
        if rounds.is_empty() {
            continue;
        }
        let style = Style::of(study, study.measure(measure.measure));
        part.say(format!(
            "{}, difference to bare in {}:",
            names::measure(study, measure.measure),
            style.unit
        ));
        part.table(further_rows(study, ranking, &rounds, style));
    }
    (part.blocks.len() > before).then_some(part)
}

fn further_rows(
    study: &Study,
    ranking: &Ranking,
    rounds: &[(&RoundAnalysis, &BareTable)],
    style: Style<'_>,
) -> Table {
    let heads = rounds.iter().map(|(round, _)| format!(">{}", names::round(study, round.round)));
    let heads: Vec<String> = std::iter::once("Product".to_owned()).chain(heads).collect();
    let mut treatments: Vec<Treatment> =
        rounds.iter().flat_map(|(_, table)| table.rows.iter().map(|row| row.treatment)).collect();
    treatments.sort_by_key(|&treatment| ranking.place(treatment));
    treatments.dedup();
    let mut table = Table::new(&heads);
    for treatment in treatments {
        let mut cells = vec![Figure::from(names::treatment(study, treatment))];
        cells.extend(rounds.iter().map(|(_, at)| {
            at.rows
                .iter()
                .find(|row| row.treatment == treatment)
                .map_or_else(Figure::none, |row| look(row, style))
        }));
        table.row(cells);
    }
    table
}

fn look(row: &BareRow, style: Style<'_>) -> Figure {
    let star = if row.p_holm.is_some_and(|p| p < 0.05) { " *" } else { "" };
    let word = row.word.map_or(String::new(), |word| format!(" {}", names::word(word)));
    Figure { raw: Some(row.difference), text: format!("{}{word}{star}", style.signed(row.difference)) }
}
