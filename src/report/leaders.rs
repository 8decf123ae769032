//! The sentences on those that may lead: one product, or several.

use super::asked::Place;
use super::footing::bound;
use super::material::Material;
use super::{names, numbers};
use crate::analysis::{Compared, GroupValue, LeadRow, LeadTable};
use crate::speech::{count, list, say};
use crate::study::{ProductId, Treatment};

/// The number of a product at the round.
pub(super) fn value_of(material: &Material<'_>, at: Place<'_>, id: ProductId) -> Option<GroupValue> {
    let (measure, round) = material.analysis.deciding()?;
    let group = measure.group(Treatment::Product(id))?;
    let here = group.at.iter().find(|at| at.round == round.round)?;
    if at.compared == Compared::Change { here.change } else { here.level }
}

/// A product with its number and how many sections it is from.
fn with_value(material: &Material<'_>, at: Place<'_>, id: ProductId) -> String {
    let name = names::product(at.study, id);
    value_of(material, at, id).map_or_else(
        || name.clone(),
        |value| {
            // Where pieces link the products, what is compared is the mean over all pieces alike.
            let linked = material.analysis.deciding().and_then(|(_, round)| round.lead.as_ref().ok());
            let linked = linked
                .filter(|table| table.basis.linked())
                .and_then(|table| table.rows.iter().find(|row| row.product == id));
            let number = at.style().compared(linked.map_or(value.mean, |row| row.change), at.compared).text;
            say!(
                "{name} ({number}, {units})",
                name,
                number = numbers::with_unit(&number, at.style().unit),
                units = names::units(at.study, at.question.measure, value.n)
            )
        },
    )
}

pub(super) fn one(
    material: &Material<'_>,
    at: Place<'_>,
    table: Option<&LeadTable>,
    id: ProductId,
) -> (String, Vec<String>) {
    let name = names::product(at.study, id);
    let others_n = table.map_or(0, |table| table.rows.len().saturating_sub(1 + table.bound.len()));
    let product = with_value(material, at, id);
    let others = if others_n == 1 {
        say!("The other product is").to_owned()
    } else {
        say!("The other {others} products are", others = others_n)
    };
    let round = at.round();
    let shared = table.and_then(|table| Shared::of(material, at, table));
    let headline = if let Some(headline) = shared.as_ref().and_then(Shared::headline) {
        headline
    } else if table.is_some_and(|table| !table.bound.is_empty()) {
        say!("{name} is the one product with no patch stopped that may lead after {round}", name, round)
    } else if table.is_some_and(|table| !table.absent.is_empty()) {
        let read = count(others_n + 1, "product");
        say!("{name} is the one of the {read} compared that may lead after {round}", name, read, round)
    } else {
        say!("{name} is the one product that may lead after {round}", name, round)
    };
    let alone = table.is_some_and(|table| {
        let n = |row: &LeadRow| row.n;
        table.rows.iter().any(|row| row.product == id && row.n == 1)
            && table.rows.iter().map(n).any(|n| n > 1)
    });
    (
        if alone {
            say!("{headline}, by one {unit}", headline, unit = names::unit(at.study, at.question.measure))
        } else {
            headline
        },
        vec![if others_n == 0 {
            say!("By {compared}, {product} may lead.", product, compared = at.compared())
        } else {
            say!(
                "By {compared}, {product} may lead. {others} not ahead of the best of the others.",
                others,
                product,
                compared = at.compared()
            )
        }]
        .into_iter()
        .chain(table.and_then(|table| bound(at.study, table, &round)))
        .chain(shared.map(|shared| shared.sentence()))
        .collect(),
    )
}

/// The last round that all products share of which patches were stopped later.
pub(super) struct Shared<'m> {
    at: Place<'m>,
    round: String,
    table: &'m LeadTable,
    leaders: &'m [ProductId],
    /// Whether a product that may lead there was stopped later.
    lost: bool,
}

impl<'m> Shared<'m> {
    pub(super) fn of(material: &Material<'m>, at: Place<'m>, now: &LeadTable) -> Option<Self> {
        if now.bound.is_empty() {
            return None;
        }
        let (measure, deciding) = material.analysis.deciding()?;
        let before = measure.rounds.iter().take_while(|round| round.round != deciding.round);
        let read = |id: &ProductId, table: &LeadTable| table.rows.iter().any(|row| row.product == *id);
        let shared = before.filter_map(|round| {
            let table = round.lead.as_ref().ok().filter(|table| table.bound.is_empty())?;
            let whole = now.rows.iter().all(|row| read(&row.product, table));
            Some((round.round, table)).filter(|_| whole)
        });
        let (round, table) = shared.last()?;
        let leaders = table.may_lead.as_deref().ok()?;
        let lost = leaders.iter().any(|id| now.bound.contains(id));
        Some(Self { at, round: names::round(at.study, round).into_owned(), table, leaders, lost })
    }

    /// The headline where a product that may lead there was stopped later, so that who is left leads nobody.
    fn headline(&self) -> Option<String> {
        self.lost.then(|| {
            say!(
                "Up to {round}, the last that all products share, {leaders} may lead",
                round = self.round,
                leaders = if self.leaders.len() == self.table.rows.len() {
                    names::of_products(self.leaders.len(), self.table.rows.len())
                } else {
                    list(&names::products(self.at.study, self.leaders), "and")
                }
            )
        })
    }

    /// How all stand there.
    pub(super) fn sentence(&self) -> String {
        let style = self.at.style();
        let told = |leads: bool| {
            let own = self.table.rows.iter().filter(|row| self.leaders.contains(&row.product) == leads);
            let with_value = |row: &LeadRow| {
                format!(
                    "{} {}",
                    names::product(self.at.study, row.product),
                    style.compared(row.change, self.at.compared).text
                )
            };
            list(&own.map(with_value).collect::<Vec<_>>(), "and")
        };
        let (leaders, others) = (told(true), told(false));
        let leaders = numbers::with_unit(&leaders, style.unit);
        if others.is_empty() {
            return say!(
                "At {round}, the last that all products share, every product may lead: {leaders}.",
                round = self.round,
                leaders
            );
        }
        say!(
            "At {round}, the last that all products share, {leaders} may lead; not ahead {others}.",
            round = self.round,
            leaders,
            others = numbers::with_unit(&others, style.unit)
        )
    }
}

pub(super) fn several(
    material: &Material<'_>,
    at: Place<'_>,
    table: Option<&LeadTable>,
    ids: &[ProductId],
) -> (String, Vec<String>) {
    let all = table.map_or(ids.len(), |table| table.rows.len());
    let mut ordered = ids.to_vec();
    if let Some(table) = table {
        let lead =
            |id: &ProductId| table.rows.iter().find(|row| row.product == *id).map_or(0.0, |row| row.lead);
        ordered.sort_by(|a, b| lead(b).total_cmp(&lead(a)));
    }
    let (apart, ordered): (Vec<ProductId>, Vec<ProductId>) =
        ordered.into_iter().partition(|&id| table.is_some_and(|table| only_by_few(at, table, ids, id)));
    let named: Vec<String> = ordered.iter().map(|&id| with_value(material, at, id)).collect();
    let shared = table.and_then(|table| Shared::of(material, at, table));
    let rest_n = all - ids.len() - table.map_or(0, |table| table.bound.len());
    let rest = rest_n;
    let rest =
        if rest == 1 { say!("The other product is").to_owned() } else { say!("The other {rest} are", rest) };
    let headline = shared.as_ref().and_then(Shared::headline).unwrap_or_else(|| {
        say!(
            "{all} may lead after {round}",
            all = names::capital(&names::of_products(ids.len(), all)),
            round = at.round()
        )
    });
    (
        headline,
        std::iter::once(if named.len() == 1 {
            say!("By {compared}, {product} may lead.", compared = at.compared(), product = named[0])
        } else {
            say!(
                "By {compared}, these may lead and are not told apart from the leader: {named}.",
                compared = at.compared(),
                named = list(&named, "and")
            )
        })
        .chain((!apart.is_empty()).then(|| by_few(material, at, &apart)))
        .chain((rest_n > 0).then(|| say!("{rest} not ahead of the best of the others.", rest)))
        .chain(table.and_then(|table| bound(at.study, table, &at.round())))
        .chain(shared.map(|shared| shared.sentence()))
        .collect(),
    )
}

/// Whether a product is among those that may lead only since it lies on fewer sections: its mean is no better, as it is printed, than that
/// of one that is out.
fn only_by_few(at: Place<'_>, table: &LeadTable, leaders: &[ProductId], id: ProductId) -> bool {
    let Some(own) = table.rows.iter().find(|row| row.product == id) else { return false };
    let printed = |row: &LeadRow| at.style().compared(row.change, at.compared).text;
    let out = table
        .rows
        .iter()
        .filter(|row| !leaders.contains(&row.product) && !table.bound.contains(&row.product));
    let mut ahead = out.filter(|row| row.n > own.n);
    ahead.any(|row| row.lead >= own.lead || printed(row) == printed(own))
}

/// The sentence on these.
fn by_few(material: &Material<'_>, at: Place<'_>, ids: &[ProductId]) -> String {
    let named: Vec<String> = ids.iter().map(|&id| with_value(material, at, id)).collect();
    say!(
        "Not excluded only because so few sections exclude little: {named}, no better in the mean than a product that is not ahead.",
        named = list(&named, "and")
    )
}
