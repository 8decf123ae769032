//! The gauges of a study as the report lists them: what they read, how they repeat, and their certificates.

use super::blocks::{Part, Table};
use super::names;
use super::numbers::{self, Figure};
use crate::speech::{list, say};
use crate::study::{Agreement, Footprint, Gauge, Study};
use crate::text::Located;

pub(super) fn gauges(study: &Study) -> Part {
    let mut part = Part::below(say!("Gauges"));
    let mut table = Table::new(&[
        say!("Gauge"),
        say!("Reads"),
        say!("Spot"),
        say!("Foot"),
        say!("Repeats to"),
        say!("Tile"),
        say!("Certificates"),
    ]);
    for gauge in &study.gauges {
        let reads: Vec<&str> = gauge.reads.iter().map(|read| names::measure(study, read.value)).collect();
        let size = |covered: &Option<Located<Footprint>>| {
            covered.as_ref().map_or_else(Figure::none, |covered| Figure::from(covered_words(&covered.value)))
        };
        table.row(vec![
            Figure::from(gauge.title()),
            Figure::from(list(&reads, "and")),
            size(&gauge.spot),
            size(&gauge.foot),
            gauge.agreement.as_ref().map_or_else(Figure::none, |known| Figure::from(agreement(known.value))),
            gauge.tile.map_or_else(Figure::none, |tile| Figure::from(names::tile(study, gauge, tile))),
            Figure::from(certificates(gauge)),
        ]);
    }
    part.table(table);
    part
}

fn covered_words(covered: &Footprint) -> String {
    match covered {
        Footprint::Across(across) => say!("{width} across", width = numbers::amount(across)),
        size @ Footprint::Size(..) => numbers::amount(size),
    }
}

fn agreement(agreement: Agreement) -> String {
    match agreement {
        Agreement::TwoReadings(limit) => {
            say!("two readings within {limit} at 95 %", limit = numbers::amount(&limit))
        }
        Agreement::Spread(spread) => {
            say!("one standard deviation {spread}", spread = numbers::amount(&spread))
        }
    }
}

fn certificates(gauge: &Gauge) -> String {
    if let Some(why) = &gauge.never_certified {
        return say!("none: {why}", why);
    }
    let all = gauge.certificates.iter().map(|one| {
        // It ends with the day before the one from which it is no longer valid.
        let last = one.until.yesterday().unwrap_or(one.until);
        let (from, until) = (numbers::day(one.from), numbers::day(last));
        match one.within {
            Some(within) => {
                let within = numbers::amount(&within);
                say!("{from} to {until}, within {within}", from, until, within)
            }
            None => say!("{from} to {until}", from, until),
        }
    });
    let all: Vec<String> = all.collect();
    if all.is_empty() { numbers::DASH.to_owned() } else { all.join("; ") }
}
