//! What a rating says in a headline: which products the marks tell apart from bare.

use super::names;
use crate::analysis::{RatingRow, RatingTable, Role, Side};
use crate::speech::{list, say};
use crate::study::{ProductId, Study, Treatment};

/// Adjusted p values below this tell a product apart.
const LEVEL: f64 = 0.05;

/// Whether a row is told apart from bare.
pub(super) fn told(row: &RatingRow) -> bool {
    !row.bound && row.p_holm.is_some_and(|p| p < LEVEL)
}

/// The products that are told apart from bare, and how many were compared.
pub(super) fn products_told(table: &RatingTable) -> (Vec<ProductId>, usize) {
    let compared = table.rows.iter().filter(|row| row.p.is_some());
    let product = |row: &RatingRow| match row.treatment {
        Treatment::Product(id) => Some(id),
        _ => None,
    };
    let all = compared.clone().filter_map(product).count();
    (compared.filter(|row| told(row)).filter_map(product).collect(), all)
}

/// The products that are told apart from bare, each with the way in which it lies: `Alder (better), Birch (worse)`.
pub(super) fn told_with_sides(study: &Study, table: &RatingTable) -> String {
    with_sides(study, &table.rows)
}

/// How the others stand to the one to beat; `None` where there is none, or nothing could be tested.
pub(super) fn to_beat(study: &Study, table: &RatingTable) -> Option<String> {
    let benchmark = names::product(study, study.benchmark?);
    if table.to_benchmark.iter().all(|row| row.p.is_none()) {
        return None;
    }
    let told = with_sides(study, &table.to_benchmark);
    Some(if told.is_empty() {
        say!("By the ranks no other product is told apart from {benchmark}, the one to beat.", benchmark)
    } else {
        let others = table.to_benchmark.iter().filter(|row| row.p.is_some() && !self::told(row));
        let others: Vec<String> = others.map(|row| names::treatment(study, row.treatment)).collect();
        if others.is_empty() {
            say!("By the ranks told apart from {benchmark}, the one to beat: {told}.", benchmark, told)
        } else {
            say!(
                "By the ranks told apart from {benchmark}, the one to beat: {told}. Not told apart from it: {others}.",
                benchmark,
                told,
                others = list(&others, "and")
            )
        }
    })
}

fn with_sides(study: &Study, rows: &[RatingRow]) -> String {
    let named = rows.iter().filter(|row| told(row)).filter_map(|row| match row.treatment {
        Treatment::Product(id) => {
            let name = names::product(study, id);
            Some(match row.side {
                Side::Better => say!("{name} (better)", name),
                Side::Worse => say!("{name} (worse)", name),
                Side::Neither => name,
            })
        }
        _ => None,
    });
    named.collect::<Vec<_>>().join(", ")
}

/// How many of the products told apart lie on one side of bare.
fn on(table: &RatingTable, side: Side) -> usize {
    let products = table.rows.iter().filter(|row| matches!(row.treatment, Treatment::Product(_)));
    products.filter(|row| told(row) && row.side == side).count()
}

/// `2 of 3 products are told apart from bare at month 12 by cracks`, and the like.
pub(super) fn headline(study: &Study, table: &RatingTable, measure: &str) -> String {
    let at = names::round(study, table.round);
    let (told, all) = products_told(table);
    match (told.len(), all) {
        (_, 0) => {
            say!("{measure} at {at}: medians, without a comparison", at, measure = names::capital(measure))
        }
        _ if is_unable(table) => say!(
            "{measure} at {at}: too few sections for marks to tell a product from bare",
            at,
            measure = names::capital(measure)
        ),
        (0, 1) => say!(
            "The one product that could be compared is not told apart from bare at {at} by {measure}",
            at,
            measure
        ),
        (0, _) => say!("No product is told apart from bare at {at} by {measure}", at, measure),
        (n, all) => {
            let who = names::capital(&names::of_products(n, all));
            let head = if n == 1 {
                say!("{who} is told apart from bare at {at} by {measure}", who, at, measure)
            } else {
                say!("{who} are told apart from bare at {at} by {measure}", who, at, measure)
            };
            names::with_sides(&head, on(table, Side::Better), on(table, Side::Worse))
        }
    }
}

/// What so few sections can show at all, over all rows of the table; `None` where some row could be told apart. The rows are what p is
/// adjusted over where the rating decides, and nowhere else.
pub(super) fn unable(table: &RatingTable) -> Option<String> {
    let least = table.least.filter(|least| least.unable)?;
    if table.rows_within {
        return Some(say!(
            "With so few sections the smallest p that marks could reach is {least} where they are ranked within pieces and sites, as is done here since \
             sections stand on these unevenly: so ranked, they cannot tell a product from bare. Over all sections at once p could be smaller, and would \
             take what a piece or a site adds for what a product does.",
            least = super::numbers::probability(if table.role == Role::Deciding {
                least.over_rows
            } else {
                least.p
            })
        ));
    }
    Some(if table.role == Role::Deciding && least.over_rows > least.p {
        say!(
            "With so few sections the smallest p that marks could reach is {least}, and {all} after Holm over the rows of this table: they cannot \
             tell a product from bare here, however far apart.",
            least = super::numbers::probability(least.p),
            all = super::numbers::probability(least.over_rows)
        )
    } else {
        say!(
            "With so few sections the smallest p that marks could reach is {least}: they cannot tell a product from bare here, \
             however far apart.",
            least = super::numbers::probability(least.p)
        )
    })
}

/// Whether no row of a table could be told apart, by its numbers of sections alone.
fn is_unable(table: &RatingTable) -> bool {
    let mut rows = table.rows.iter().filter(|row| row.p.is_some()).peekable();
    rows.peek().is_some() && rows.all(|row| !row.able)
}
