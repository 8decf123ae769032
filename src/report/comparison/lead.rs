//! Who may lead: each product against the best of the others.

use super::super::blocks::{Part, Table, Topic};
use super::super::leaders::shared_round;
use super::super::material::Material;
use super::super::numbers::{self, Figure, Style};
use super::super::{far_off, footing, names, stopped};
use super::ranking::{Ranking, named};
use crate::analysis::{Basis, Farther, LeadTable, MeasureAnalysis, NoTable, RoundAnalysis};
use crate::speech::{count, say};
use crate::study::Treatment;

/// Who may lead at the round that is shown; a study of one product has nobody to lead.
pub(in crate::report) fn part(material: &Material<'_>, ranking: &Ranking) -> Option<Part> {
    let study = material.study;
    let (measure, round) = material.analysis.shown()?;
    if names::sole_product(study).is_some() {
        return None;
    }
    let at = names::round(study, round.round);
    let table = match &round.lead {
        Ok(table) => table,
        Err(NoTable::Rating) => return None,
        Err(reason) => {
            let mut part = Part::new(say!("No product leads at {at}", at));
            part.say(names::no_table(*reason));
            return Some(part);
        }
    };
    let heading = lead_heading(table, &at);
    // A reading that lies far off widens the spread of all, so that the count of those that may lead is its own.
    let far = far_off::hangs(material);
    let mut part =
        Part::new(if far.is_some() { say!("{heading}, with what lies far off", heading) } else { heading });
    if let Some(far) = far {
        part.say(far);
    }
    match &table.may_lead {
        Ok(_) if table.basis.own_spreads => part.say(
            say!("Lead of each product over the best mean among the others. The study says that spreads differ, and Hsu's \
             intervals need one spread for all: here a product may lead where no other is ahead of it by an interval \
             without zero in the table of all pairs (Games-Howell). \"Not ahead\" is then less well than at least one other."),
        ),
        Ok(_) if table.basis.linked() && table.basis.over_sites => part.say(
            say!("Lead of each product over the best mean among the others, on the average over the sites, each counting alike. Sections \
             stand at the sites unevenly, so that means are not as sure as their numbers of sections say, as Hsu's intervals take them: here a \
             product may lead where no other is ahead of it by an interval without zero in the table of all pairs. \"Not ahead\" is then \
             less well than at least one other."),
        ),
        Ok(_) if table.basis.linked() => part.say(
            say!("Lead of each product over the best mean among the others, over all {pieces} alike. Each difference of means that {pieces} link \
             has an error of its own, which Hsu's intervals do not take up in this table: here a product may lead where no other is ahead of it by an interval \
             without zero in the table of all pairs. \"Not ahead\" is then less well than at least one other.", pieces = names::pieces(study, measure.measure)),
        ),
        Ok(_) => part.say(
            say!("Lead of each product over the best mean among the others. A product may lead where the upper end of its \
             interval lies above zero (Hsu). \"Not ahead\" means: not ahead of the best of the others; that is less \
             than saying that it is worse."),
        ),
        Err(reason) => part.say(say!("No statement on who may lead: {strength}.", strength = names::strength(*reason, names::unit(study, measure.measure)))),
    }
    if let Some(own) = spread_among(material, measure, round, &table.basis) {
        part.say(own);
    }
    if let Some(bound) = footing::bound(study, table, &at) {
        part.say(bound);
    }
    part.table(lead_rows((material, measure, round), ranking, table));
    part.rests_on(measure, [round.round]);
    Some(part)
}

/// The spread of who may lead, where it is another than that against bare.
fn spread_among(
    material: &Material<'_>,
    measure: &MeasureAnalysis,
    round: &RoundAnalysis,
    basis: &Basis,
) -> Option<String> {
    let own = footing::own_spread(Style::at(material, measure.measure, round), basis, round)?;
    Some(say!("These intervals rest on the spread of the products. {own}", own))
}

/// Who may lead at the last round that all products share, where patches were stopped before the one that is shown.
pub(in crate::report) fn shared(material: &Material<'_>, ranking: &Ranking) -> Option<Part> {
    let (measure, shown) = material.analysis.shown()?;
    let (round, table) = shared_round(measure, shown)?;
    let at = names::round(material.study, round.round);
    let heading = say!("{heading}, the last that all products share", heading = lead_heading(table, &at));
    let mut part = Part::new(heading).about(Topic::Shared);
    part.say(say!(
        "As the table of {later} tells it, at the last round before any patch of a product was stopped: here each number is what was read.",
        later = names::round(material.study, shown.round)
    ));
    part.table(lead_rows((material, measure, round), ranking, table));
    part.rests_on(measure, [round.round]);
    Some(part)
}

fn lead_heading(table: &LeadTable, at: &str) -> String {
    match &table.may_lead {
        Ok(ids) if ids.len() == 1 && table.absent.is_empty() => {
            say!("One of {products} may lead at {at}", at, products = count(table.rows.len(), "product"))
        }
        Ok(ids) => {
            say!(
                "{who} may lead at {at}",
                at,
                who = names::capital(&names::of_compared(
                    ids.len(),
                    table.rows.len(),
                    !table.absent.is_empty()
                ))
            )
        }
        Err(_) => say!("Who leads at {at} cannot be told", at),
    }
}

fn lead_rows(
    (material, measure, round): (&Material<'_>, &MeasureAnalysis, &RoundAnalysis),
    ranking: &Ranking,
    table: &LeadTable,
) -> Table {
    let (study, style) = (material.study, Style::at(material, measure.measure, round));
    let mut rows = table.rows.clone();
    rows.sort_by_key(|row| ranking.place(Treatment::Product(row.product)));
    let heads = [
        say!("Product"),
        &names::units_head(study, measure.measure),
        &names::compared_head(measure.compared, style.unit),
        &say!(">Lead over the best other, {unit}", unit = style.difference_unit()),
        say!(">95 % interval"),
        say!("May lead"),
    ];
    let mut out = Table::new(&heads);
    let direction = study.measure(measure.measure).direction;
    for row in rows {
        let may = match &table.may_lead {
            Ok(ids) if ids.contains(&row.product) => say!("may lead"),
            Ok(_) if table.bound.contains(&row.product) => say!("a bound, no word"),
            Ok(_) => say!("not ahead"),
            Err(_) => numbers::DASH,
        };
        // What was stopped stands no better than it says, so that its lead is no larger, and that of others over it no smaller.
        let is_bound = table.bound.contains(&row.product);
        let rivals = || table.rows.iter().filter(|other| other.product != row.product);
        let over_bounds = rivals().all(|other| table.bound.contains(&other.product));
        let farther = match (is_bound, over_bounds) {
            (false, false) => Farther::No,
            (false, true) => Farther::Up,
            (true, false) => Farther::Down,
            (true, true) => Farther::Either,
        };
        let change = style.compared(row.change, measure.compared);
        out.row(vec![
            Figure::from(named(study, Treatment::Product(row.product))),
            Figure::from(row.n.to_string()),
            if is_bound { stopped::as_bound(change, direction) } else { change },
            stopped::difference(style, row.lead, farther),
            row.interval.map_or_else(Figure::none, |i| Figure::from(style.span(i.low, i.high))),
            Figure::from(may),
        ]);
    }
    out.behind(2).behind(1)
}
