//! The order and the marks of the products, the same in every picture and table.

use super::super::charts::Mark;
use super::super::material::Material;
use super::super::names;
use crate::analysis::{Compared, GroupSeries, MeasureAnalysis, RoundAnalysis};
use crate::speech::say;
use crate::study::{Direction, ProductId, Study, Treatment};

/// The order and the marks of the products, decided once for all pictures and tables.
#[derive(Debug, Clone, Default)]
pub(in crate::report) struct Ranking {
    order: Vec<ProductId>,
    pub(super) marked: Vec<ProductId>,
}

impl Ranking {
    /// Products by the number that decides, the better first; those without one in order of the study.
    /// Marked are the products that may lead, five at most.
    pub(in crate::report) fn of(material: &Material<'_>) -> Self {
        let mut order: Vec<ProductId> = material.study.products_with_ids().map(|(id, _)| id).collect();
        let Some((measure, round)) = material.analysis.shown() else {
            return Self { order, marked: Vec::new() };
        };
        let better = match material.study.measure(measure.measure).direction {
            Direction::Lower => -1.0,
            Direction::Higher | Direction::Neither => 1.0,
        };
        let change = |id: &ProductId| {
            compared_at(measure, Treatment::Product(*id), round).map_or(f64::NEG_INFINITY, |c| better * c)
        };
        order.sort_by(|a, b| change(b).total_cmp(&change(a)));
        let may_lead = round.lead.as_ref().ok().and_then(|table| table.may_lead.as_ref().ok());
        let marked = may_lead.map_or_else(Vec::new, |ids| {
            order.iter().copied().filter(|id| ids.contains(id)).take(5).collect()
        });
        Self { order, marked }
    }

    pub(in crate::report) fn mark(&self, treatment: Treatment) -> Mark {
        let Treatment::Product(id) = treatment else { return 0 };
        self.marked
            .iter()
            .position(|&marked| marked == id)
            .and_then(|at| Mark::try_from(at + 1).ok())
            .unwrap_or(0)
    }

    /// Place of a treatment: products in their order, then what is not a product.
    pub(in crate::report) fn place(&self, treatment: Treatment) -> usize {
        match treatment {
            Treatment::Product(id) => {
                self.order.iter().position(|&known| known == id).unwrap_or(self.order.len())
            }
            Treatment::CarrierOnly => self.order.len() + 1,
            Treatment::Bare => self.order.len() + 2,
            Treatment::Untouched => self.order.len() + 3,
            Treatment::Open | Treatment::Unknown => self.order.len() + 4,
        }
    }

    pub(in crate::report) fn groups<'a>(&self, measure: &'a MeasureAnalysis) -> Vec<&'a GroupSeries> {
        let mut groups: Vec<&GroupSeries> = measure.groups.iter().collect();
        groups.sort_by_key(|group| self.place(group.treatment));
        groups
    }
}

fn compared_at(measure: &MeasureAnalysis, treatment: Treatment, round: &RoundAnalysis) -> Option<f64> {
    let group = measure.group(treatment)?;
    let at = group.at.iter().find(|at| at.round == round.round)?;
    let value = match measure.compared {
        Compared::Change => at.change,
        Compared::Level => at.level,
    };
    value.map(|value| value.mean)
}

/// A treatment in a table; the benchmark is marked.
pub(super) fn named(study: &Study, treatment: Treatment) -> String {
    let name = names::treatment(study, treatment);
    let beat = matches!(treatment, Treatment::Product(id) if study.benchmark == Some(id));
    if beat { say!("{name} (to beat)", name) } else { name }
}
